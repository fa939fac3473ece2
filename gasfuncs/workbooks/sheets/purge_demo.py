"""The plant's purges, as the purge book asks for them."""

from __future__ import annotations

import datetime as dt
from typing import Any

from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given

REPORT = plant.NEXT_MONTH - dt.timedelta(days=1)
AIR = 209_500
ANALYSER, PORTABLE = "O2-1", "portable"

VESSELS = tuple(
    (each.name, None, each.gas, each.free_volume, AIR, 0.9, 1) for each in plant.FURNACES
)

ANALYSERS = (
    (ANALYSER, None, 0.3, 5, dt.date(2027, 3, 1)),
    (PORTABLE, None, 5, 10, dt.date(2026, 9, 30)),
)

PURGES = (
    (dt.date(2026, 8, 11), "P-010", "VF3", 20, 1, ANALYSER, 14, "MK"),
    (dt.date(2026, 9, 3), "P-011", "VF2", 10, 2, PORTABLE, "<20", "JB"),
    (dt.date(2026, 9, 4), "P-012", "VF2", 10, 2, ANALYSER, 3.6, "JB"),
    (dt.date(2026, 9, 22), "P-013", "VF3", 10, 1, ANALYSER, 0.4, "JB"),
    (dt.date(2026, 10, 12), "P-014", "VF3", 10, 1, ANALYSER, 78, "MK"),
    (dt.date(2026, 10, 13), "P-015", "VF3", 10, 1, ANALYSER, 4.2, "MK"),
)
"""From September on 10 ppm are wanted, before 20; O2-1 was off its zero on the 22nd."""

_STUCK = (
    (1, 250, 0.11, None),
    (2, 240, 0.12, None),
    (3, 260, 0.11, None),
    (4, 220, 0.11, 990),
    (5, 250, 0.1, 280),
    (6, 240, 0.11, 78),
)
"""A vacuum valve that stuck half shut: cycle, mbar, bar(g), ppm read."""
_GOOD = (
    (1, 100, 0.11, None),
    (2, 110, 0.11, None),
    (3, 100, 0.12, 520),
    (4, 100, 0.11, 72),
    (5, 90, 0.11, 11.5),
    (6, 100, 0.11, 4.2),
)


def _swings() -> list[tuple[Any, ...]]:
    usual = [(cycle, 100, 0.11, None) for cycle in range(1, 7)]
    rows = {"P-010": usual, "P-012": usual, "P-013": usual, "P-014": _STUCK, "P-015": _GOOD}
    return [(purge, *cycle) for purge, cycles in rows.items() for cycle in cycles]


PRINTED = "Robb 1968"
HOSES = (
    ("Rubber hose at VF3", 8, 3, 1.5, 600, 36_000, 2, f"Silicone: {PRINTED}; water from memory"),
    ("Tube at the panel", 6, 1, 2, 8, 90, 2, f"Polyethylene: {PRINTED}; water from memory"),
)
JOINTS = (
    ("VF3 chamber and door", 0.00096, 1.3, "Rise test of October, Leak and dew point log"),
    ("Coupling at the hose", 0.0003, 2, "Helium detector, told as air"),
)
SURFACES = (
    (
        "Shell of VF3, mild steel",
        9,
        7.2e-7,
        1,
        90,
        5,
        "Elsey 1975; from memory",
    ),
)


INPUTS = {
    **plant.ABOUT,
    "Report_day": REPORT,
    "Shown_purge": "P-015",
    "Plan_vessel": "VF3",
    "Wanted": 10,
    "Planned": 6,
    "Plan_low": 100,
    "Plan_high": 0.11,
    "Kept_within": 5,
    "Temperature": 20,
    "Supply_told": "certificate",
    "Grade": 5.0,
    "Certificate": 1,
    "Emptied_by": "pump",
    "Pumping": 120,
    "Venting": 6,
    "Fill_flow": 60,
    "Handling": 3,
    "Price": 0.95,
    "Price_per": "Nm3",
    "Deep": 0.05,
    "Hold": 10,
    "Sweep_pressure": 0.06,
    "Leak": 0.00096,
    "Leak_most": 0.0012,
    "Flow": 2,
    "Shut": 8,
    "Dew_supply": -45,
    "Dew_pressure": 7,
    "Dew_wanted": -50,
    "Use_wanted": 2,
    "Room_dew": 10,
    "Use_hours": 24,
}


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs=INPUTS,
        tables={
            "Vessels": list(VESSELS),
            "Analysers": list(ANALYSERS),
            "Purges": list(PURGES),
            "Swings": _swings(),
            "Hoses": list(HOSES),
            "Joints": list(JOINTS),
            "Surfaces": list(SURFACES),
        },
    )
