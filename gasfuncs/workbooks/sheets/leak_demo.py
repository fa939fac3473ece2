"""The plant's leak tests and dew points, as the log asks for them."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given

REPORT = plant.NEXT_MONTH - dt.timedelta(days=1)
MAIN, ARGON_MAIN = "N2 main", "Ar main"
WARM = 273.15

VESSELS: tuple[tuple[Any, ...], ...] = (
    ("VF1", None, "rise", "nitrogen", 4.2, 13, "micron/h", 6, None, 35),
    ("VF2", None, "rise", "nitrogen", 7.5, 0.03, "mbar L/s", 10, None, 35),
    ("VF3", None, "rise", "argon", 2.4, None, None, 2, 1, 35),
    (MAIN, None, "decay", "nitrogen", 0.35, 20, "mbar L/s", None, None, 31),
    (ARGON_MAIN, None, "decay", "argon", 0.12, 2, "mbar L/s", None, None, 91),
    ("VF2 reservoir", None, "decay", "nitrogen", 40.0, 6, "mbar L/s", None, None, 182),
    ("VF3 reservoir", None, "decay", "argon", 5.0, 2, "mbar L/s", None, None, 365),
)
"""Name, version, way, gas, m³, limit and its unit, Nm³/h, ppm, days."""

_LEAKS = {
    "VF1": (0.0092, 0.0086, 0.0094, 0.009, 0.0084, 0.0092),
    "VF2": (0.0093, 0.0117, 0.0141, 0.0174, 0.0201, 0.0213),
    "VF3": (0.00096, 0.00104, 0.00099, 0.0009, 0.00101, 0.00096),
}
"""mbar·L/s that each month's test shows; VF2's door seal wears."""
_TUESDAYS = tuple(dt.date(2026, *day) for day in ((5, 5), (6, 9), (7, 7), (8, 4), (9, 8), (10, 6)))
LONG_DAY = dt.date(2026, 10, 8)
_NOISE = (1, -1, 0, 2, -1, 1, -2, 0, 1, -1, 1, 0, -1)
_HOURS = (0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6)


def _risen(hours: float, noise: int) -> float:
    """mbar in VF2 on LONG_DAY: a leak of 0.0213 mbar·L/s, and outgassing that dies away."""
    return round(0.012 + 0.0102 * hours + 0.008 * (1 - math.exp(-hours / 0.8)) + noise * 5e-5, 5)


def _rises() -> list[tuple[Any, ...]]:
    """Start and end after two hours; of VF2 in October twelve readings."""
    volumes = {row[0]: row[4] for row in VESSELS}
    rows: list[tuple[Any, ...]] = []
    for later, (vessel, leaks) in enumerate(_LEAKS.items()):
        for day, leak in zip(_TUESDAYS, leaks, strict=True):
            start = 0.008 + 0.002 * later
            end = round(start + 2 * leak * 3.6 / volumes[vessel], 4)
            rows.append((day + dt.timedelta(days=later), vessel, 2, start, end, *[None] * 10))
    many = [_risen(0.5 * at, noise) for at, noise in enumerate(_NOISE[:12])]
    rows = [row for row in rows if (row[0], row[1]) != (_TUESDAYS[-1] + dt.timedelta(1), "VF2")]
    return sorted([*rows, (LONG_DAY, "VF2", 0.5, *many)], key=lambda row: (row[0], row[1]))


def _decay(day: dt.date, vessel: str, leak: float, hours: float, ends: Any) -> tuple[Any, ...]:
    """A test that shows a leak in mbar·L/s; the gas at the ends in °C. Ideal gas is near enough."""
    litres = next(row[4] for row in VESSELS if row[0] == vessel) * 1000
    first, last = (each + WARM for each in ends)
    start = plant.PRESSURE + plant.SITE
    end = (start - leak * hours * 3.6 / litres) * last / first - plant.SITE
    return day, vessel, plant.PRESSURE, ends[0], round(end, 3), ends[1], hours


def _main_leaks(gas: str) -> list[float]:
    """mbar·L/s of each month's loss of the plant."""
    lost = worksheet_function_named("GAS_LEAK_LOSS")("1 mbar L/s", "30 d")
    return [each / float(lost) for each in plant.LEAK[gas]]


def _decays() -> list[tuple[Any, ...]]:
    nitrogen, argon = _main_leaks("nitrogen"), _main_leaks("argon")
    mains = [
        _decay(dt.date(2026, month, 12), MAIN, leak, 1, (21.0 + month / 10, 20.9 + month / 10))
        for month, leak in enumerate(nitrogen, 5)
    ]
    return sorted(
        [
            *mains,
            _decay(dt.date(2025, 9, 10), "VF3 reservoir", 0.6, 48, (20.2, 20.0)),
            _decay(dt.date(2026, 5, 13), ARGON_MAIN, argon[0], 12, (20.4, 20.6)),
            _decay(dt.date(2026, 5, 16), "VF2 reservoir", 4, 48, (19.8, 19.7)),
            _decay(dt.date(2026, 8, 12), ARGON_MAIN, argon[3], 12, (24.0, 23.7)),
        ]
    )


HELIUM = (
    (dt.date(2026, 10, 9), "VF2", "Door seal, lower left", 1.6e-2, "mbar L/s"),
    (dt.date(2026, 10, 9), "VF2", "Thermocouple gland", 8e-4, "mbar L/s"),
    (dt.date(2026, 10, 9), "VF2", "Backfill valve stem", 3e-5, "mbar L/s"),
    (dt.date(2026, 10, 9), "VF3", "Door seal", 2e-6, "std cc/s"),
)

PLACES = (
    ("N2 main, far end", None, plant.PRESSURE, -50),
    ("Ar main, at VF3", None, plant.PRESSURE, -50),
    ("VF2 vent", None, 0.1, -45),
)

DEWS = (
    (dt.date(2026, 9, 3), "N2 main, far end", -45, 7.0),
    (dt.date(2026, 9, 3), "Ar main, at VF3", -46, 7.0),
    (dt.date(2026, 10, 8), "N2 main, far end", -46, 7.0),
    (dt.date(2026, 10, 8), "Ar main, at VF3", -45, 7.0),
    (dt.date(2026, 10, 8), "VF2 vent", -54, 0.02),
)
"""Day, place, °C of the dew point, bar(g) in the meter's cell."""

MATERIALS = (
    ("Shell, cold wall, mild steel", 25, 7.2e-7, 1, "Elsey 1975; within a factor of 5"),
    ("Door seal, fluoroelastomer", 0.05, 1.5e-6, 0.8, "Elsey 1975; within a factor of 3"),
)
"""What gives off gas in VF2: m², mbar·L/(s cm²) after an hour, exponent."""


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs={
            **plant.ABOUT,
            "Report_day": REPORT,
            "Vacuum_share": 5,
            "Vacuum_step": 0.0003,
            "Gauge_step": 10,
            "Thermometer_step": 0.2,
            "Dew_step": 2,
            "Shown_as": "air",
            "Shown_vessel": "VF2",
            "Long_vessel": "VF2",
            "Long_day": LONG_DAY,
            "Pumped_hours": 8,
            "Pumped_to": 0.012,
            "Pump_speed": 250,
            "Pump_base": 0.01,
            "Pump_within": 30,
            "Rates_within": 3,
        },
        tables={
            "Vessels": list(VESSELS),
            "Places": list(PLACES),
            "Rises": _rises(),
            "Decays": _decays(),
            "Helium": list(HELIUM),
            "Dews": list(DEWS),
            "Curve": [(h, _risen(h, n)) for h, n in zip(_HOURS, _NOISE, strict=True)],
            "Materials": list(MATERIALS),
        },
    )
