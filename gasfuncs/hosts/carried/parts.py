"""Parts of calculations that are recorded once, as names of their own, and called."""

from __future__ import annotations

from types import ModuleType

from gasfuncs.calculations import moisture

PARTS: dict[str, tuple[ModuleType, str]] = {
    "GF_PART_ENHANCEMENT": (moisture, "enhancement"),
    "GF_PART_OVER_ICE": (moisture, "over_ice"),
    "GF_PART_OVER_WATER": (moisture, "over_water"),
}
"""Where the calculations look them up: what is long, and called more than once."""
