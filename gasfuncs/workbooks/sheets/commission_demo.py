"""The plant's new argon reservoir of VF3, as its commissioning asks for it."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given

DAY = dt.date(2026, 11, 12)
PUMPED, TESTED, FILLED = (dt.date(2026, 11, day) for day in (10, 11, 12))
FITTER, LICENSED = "A. Fenn", "R. Kell"

PUMP = ((0.002, 0), (0.01, 150), (0.1, 225), (1, 250), (100, 250), (1013, 235))
"""mbar and m³/h of the furnace's pump."""

SURFACES = (
    ("Shell, mild steel", 18, 7.2e-7, 1, "Elsey 1975; within a factor of 5"),
    ("Line, stainless steel", 3.9, 1.3e-8, 1, "Invented; take your own"),
)
"""Part, m², mbar·L/(s cm²) after an hour, exponent, source."""

READS = (
    (0, 988), (1, 540), (2, 285), (3, 151), (5, 44), (7, 15), (10, 4.9), (15, 2.1), (20, 1.3),
    (30, 0.73), (50, 0.39), (80, 0.23), (140, 0.128), (200, 0.094), (300, 0.068), (400, 0.054),
    (480, 0.0462),
)  # fmt: skip
"""Minutes and mbar while pumping."""

HOURS = (0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8)
NOISE = (0, 1, -1, 0, 1, -1, 0, 1, 0, -1, 1, 0)
LEAK, GASSES, DIES = 0.0014, 0.012, 2.0
"""mbar/h, mbar and h."""

HELIUM = (
    ("Supply valve, stem", 4e-7, "mbar L/s"),
    ("Flange, reservoir inlet", 2e-5, "mbar L/s"),
    ("Relief device, inlet thread", 6e-6, "mbar L/s"),
    ("Line, joint J1", 1e-6, "mbar L/s"),
    ("Line, joint J2", 8e-5, "mbar L/s"),
    ("Backfill valve, furnace", 3e-6, "mbar L/s"),
)

SIGNED: dict[str, tuple[str, dt.date]] = {
    "Isolated": (FITTER, PUMPED),
    "Area_safe": (FITTER, PUMPED),
    "Vacuum_proof": (LICENSED, PUMPED),
    "Set_found": (LICENSED, PUMPED),
    "Work_found": (LICENSED, PUMPED),
    "Due_found": (LICENSED, PUMPED),
    "Relief_confirmed": (LICENSED, PUMPED),
    "Vacuum_found": (FITTER, PUMPED),
    "Rise_found": (FITTER, TESTED),
    "Helium_found": (FITTER, TESTED),
    "Left_found": (FITTER, TESTED),
    "Air_filled": (FITTER, TESTED),
    "Filled": (FITTER, FILLED),
    "Filled_found": (FITTER, FILLED),
    "Oxygen_read": (FITTER, FILLED),
}
"""By whom and when; the dew point is not yet reached."""

RESERVOIR = {
    **plant.ABOUT,
    "Report_day": DAY,
    "Reservoir": "VF3 reservoir",
    "Serial": "R-0317",
    "Line": "backfill line to VF3",
    "Gas": "argon",
    "Reservoir_volume": 5.0,
    "Bore": 40.9,
    "Length": 30,
    "Temperature": 20,
    "Work": 12.0,
    "Allowed": 16.0,
    "Relief_set": 15.0,
    "Relief_margin": 10,
    "Relief_due": dt.date(2027, 6, 30),
}
WANTED = {
    "Vacuum": 0.05,
    "Follow": 12,
    "Expected_within": 3,
    "Vacuum_share": 5,
    "Vacuum_step": 0.0003,
    "Hold": 9,
    "Target": 15,
    "Supply": 3,
    "Leak_adds": 2,
    "Flow": 10,
    "Helium_within": 50,
    "Low": 5,
    "High": 0.2,
    "Cycles_done": 0,
    "Fill_flow": 20,
    "Supply_pressure": plant.PRESSURE,
    "Price": 0.95,
    "Per": "Nm3",
    "Hour_cost": 35,
    "Oxygen_limit": 4,
    "Oxygen_step": 0.3,
    "Oxygen_supply": 0.8,
    "Dew_limit": -60,
    "Dew_step": 2,
    "Gauge_step": 100,
}
FOUND = {
    **dict.fromkeys(("Isolated", "Area_safe", "Vacuum_proof", "Relief_confirmed"), "yes"),
    "Air_filled": "yes",
    "Filled": 11.9,
    "Oxygen_read": 2.8,
    "Dew_read": -57.5,
}


def _risen(hours: float, noise: int) -> float:
    """mbar: a leak, and outgassing that dies away."""
    return round(0.0462 + LEAK * hours + GASSES * (1 - math.exp(-hours / DIES)) + noise * 2e-5, 5)


def demo() -> Given:
    """What the plant has typed."""
    signed: dict[str, Any] = {}
    for point, (name, day) in SIGNED.items():
        signed |= {f"{point}_by": name, f"{point}_on": day}
    return Given(
        inputs={**RESERVOIR, **WANTED, **FOUND, **signed},
        tables={
            "Pump": list(PUMP),
            "Surfaces": list(SURFACES),
            "Reads": list(READS),
            "Rise": [(h, _risen(h, n)) for h, n in zip(HOURS, NOISE, strict=True)],
            "Helium": list(HELIUM),
        },
    )
