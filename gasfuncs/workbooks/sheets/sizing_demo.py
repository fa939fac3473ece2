"""The plant's first furnace with its reservoir and line, as the sizing book asks for them."""

from __future__ import annotations

from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given

FITTINGS = (
    ("Inlet from the reservoir, sharp-edged", 1, 0.5),
    ("Ball valve, full bore", 2, 0.06),
    ("Bend, 90°, long radius", 8, 0.27),
    ("Tee, through the branch", 1, 1.14),
    ("Check valve, swing", 1, 1.9),
)
"""Loss coefficients for 50 mm steel pipe, common practice (values from memory)."""

PIPES = (
    ("DN 32", 35.1),
    ("DN 40", 40.9),
    ("DN 50", 52.5),
    ("DN 65", 62.7),
    ("DN 80", 77.9),
    ("DN 100", 102.3),
    ("DN 125", 128.2),
)
"""Bores of steel pipe, schedule 40, in mm (values from memory)."""

RELIEF = {
    "Relief_allowed": 16,
    "Relief_set": 15.5,
    "Relief_over": 10,
    "Relief_bore": 16,
    "Relief_discharge": 0.7,
    "Relief_inflow": 900,
}

WITHIN = {
    "Free_within": 3,
    "Reservoir_within": 2,
    "Gauge_within": 1,
    "Bore_within": 1,
    "Fittings_within": 20,
    "Valve_within": 10,
    "Walls_within": 50,
    "Heat_within": 2,
    "Method_within": 2,
}


def demo() -> Given:
    """What the plant has typed."""
    furnace = plant.FURNACES[0]
    return Given(
        inputs={
            **plant.ABOUT,
            "Report_day": plant.MONTH,
            "Furnace": furnace.name,
            "Gas": furnace.gas,
            "Vessel_volume": furnace.free_volume,
            "Vessel_allowed": 6,
            "Pressure_from": 0.01,
            "Pressure_to": round(6 - plant.SITE, 3),
            "Time_wanted": 15,
            "Control": "topped up",
            "Fills_needed": 4,
            "Interval": 1.5,
            "Room": 20,
            "Walls": 150,
            "Settled": 20,
            "Reservoir_volume": furnace.reservoir,
            "Reservoir_full": 12,
            "Supply_flow": 12,
            "Process": "wall",
            "Bore": 52.5,
            "Length": 35,
            "Valve": 60,
            "Valve_xt": 0.7,
            "Compare_1": 40.9,
            "Compare_2": 52.5,
            "Compare_3": 62.7,
            **RELIEF,
            **WITHIN,
        },
        tables={"Fittings": list(FITTINGS), "Pipes": list(PIPES)},
    )
