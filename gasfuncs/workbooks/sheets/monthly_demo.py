"""The plant's half year as the monthly book asks for it."""

from __future__ import annotations

import datetime as dt
from typing import Any

from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs={
            **plant.ABOUT,
            "Report_day": plant.NEXT_MONTH - dt.timedelta(days=1),
            "Level_tolerance": 1,
            "Ticket_tolerance": 2.5,
            "Volume_tolerance": 3,
            "Reading_age": 3,
            "Act_share": 5,
        },
        tables={
            "Tanks": [
                (tank, None, gas, "level", plant.CAPACITY[gas]) for gas, tank in plant.TANKS.items()
            ],
            "Prices": list(plant.PRICES),
            "Furnaces": [(f.name, None, f.gas, f.free_volume) for f in plant.FURNACES],
            "Steps": [_step(step) for step in plant.STEPS],
            "Log": [(*row, None) for row in plant.log()],
            "Readings": [
                (day, plant.TANKS[gas], level, plant.PRESSURE, None)
                for day, gas, level in plant.readings()
            ],
            "Deliveries": [
                (t.day, plant.TANKS[t.gas], t.number, t.quantity, t.unit, None)
                for t in plant.tickets()
            ],
            "Plan": list(plant.PLAN),
        },
    )


def _step(step: tuple[Any, ...]) -> tuple[Any, ...]:
    """A step with its start in mbar and its end by the gauge, as a shop types it."""
    recipe, kind, start, end, temperature, rate, hours, repeats = step
    return (
        *(recipe, None, kind, start and 1000 * start),
        *(end and round(end - plant.SITE, 3), temperature),
        *((rate, None) if kind == "hold" else (None, rate)),
        *(hours, repeats, None),
    )
