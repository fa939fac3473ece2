"""Liquid in an upright or lying cylindrical tank, by its level."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from gasfuncs.definition.terms import Cell, Quantity, Share
from gasfuncs.units import kinds

HEADS: dict[str, dict[str, Any]] = {
    "2:1 ellipsoidal": {"side": "ellipsoidal", "a": 1 / 4},
    "torispherical": {"side": "torispherical", "f": 1.0, "k": 0.06},
    "DIN 28011": {"side": "torispherical", "f": 1.0, "k": 0.1},
    "DIN 28013": {"side": "torispherical", "f": 0.8, "k": 0.154},
    "hemispherical": {"side": "spherical", "a": 1 / 2},
    "flat": {},
}
"""Heads by name: depth a, dish radius f and knuckle radius k, each over the tank's diameter."""

METRES = Quantity("h", "Level as a height", kind=kinds.LENGTH, unit="m", low=0)
PERCENT = Share("h", "Level as a share", kind=kinds.FRACTION, unit="1", low=0, high=1)
LEVEL_WORDS = (
    'a height from the lowest point inside, in m or with a unit; or a share as text: "62 %" or '
    '"62 % height" of the inner height, "62 % volume" of the full tank'
)
_SHARES = re.compile(r"(?P<share>.*%)\s*(of\s+)?(?P<of>height|vol\.?|volume)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class ShareOfHeight:
    """A level told as a share of the tank's inner height."""

    share: float

    def __str__(self) -> str:
        return f"{100 * self.share:g} %"


@dataclass(frozen=True, slots=True)
class ShareOfVolume:
    """A level told as a share of what the full tank holds, by a gauge made for that tank."""

    share: float

    def __str__(self) -> str:
        return f"{100 * self.share:g} % volume"


def read_level(value: Cell) -> float | ShareOfHeight | ShareOfVolume:
    """A level as a height in m, or where the text is in percent as a share of height or volume."""
    match = _SHARES.fullmatch(value.strip()) if isinstance(value, str) else None
    if not match:
        return METRES.read(value)
    share = PERCENT.read(match["share"])
    by_volume = (match["of"] or "").lower().startswith("vol")
    return ShareOfVolume(share) if by_volume else ShareOfHeight(share)


def shape(diameter: float, length: float, position: str, heads: str) -> Any:
    """The tank's inner shape: `h_max` is its height, `V_from_h` the volume up to a level."""
    from fluids.geometry import TANK

    head = dict(HEADS[heads])
    side = head.pop("side", None)
    sizes = {
        f"side{end}_{letter}": size * diameter if letter == "a" else size
        for end in "AB"
        for letter, size in head.items()
    }
    return TANK(
        D=diameter, L=length, horizontal=position == "horizontal", sideA=side, sideB=side, **sizes
    )
