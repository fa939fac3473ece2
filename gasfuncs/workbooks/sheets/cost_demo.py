"""The plant's load of tool steel in VF1, with its offers of nitrogen and argon."""

from __future__ import annotations

import datetime as dt

from gasfuncs.workbooks.sheets import offers_demo, plant
from gasfuncs.workbooks.sheets.cost_prices import ALL_IN, GOODS, NO_WORD
from gasfuncs.workbooks.sheets.parts import Given

DAY = offers_demo.FIRST_MONTH
GAS_A_MONTH = {"nitrogen": 3660, "argon": 890}
"""Nm³ bought for each tank: nitrogen as on Supply offers, argon for VF3 and the loads compared."""
IN_EFFECT, EFFECT_BAND = 0.2061, 0.0061
"""Of the cheapest offer a Nm³ costs, as Supply offers tells other books."""

PRICES = (
    (
        *("nitrogen", "A now", dt.date(2025, 7, 1), 0.152, "Nm3", None, GOODS, None, 180, 60),
        *("5500 L(liq)", None, "contract, Monthly gas use"),
    ),
    (
        *("nitrogen", "A now", plant.NEW_PRICE, 0.16, "Nm3", None, GOODS, None, 180, 60),
        *("5500 L(liq)", None, "contract, letter of June 2026"),
    ),
    (
        *("nitrogen", "A 3 years", DAY, IN_EFFECT, "Nm3", EFFECT_BAND, ALL_IN, None, None, None),
        *(None, None, "Supply offers, 5 Nov 2026"),
    ),
    (
        *("nitrogen", "A 1 year", DAY, 0.151, "Nm3", None, GOODS, None, 180, 60),
        *("3550 Nm3", None, "quote of 2 Nov 2026"),
    ),
    (
        *("argon", "B now", dt.date(2026, 1, 1), 0.95, "Nm3", None, GOODS, None, 140, 55),
        *("800 L(liq)", None, "contract, Monthly gas use"),
    ),
    (
        *("argon", "E per kg", DAY, 0.49, "kg", None, GOODS, None, 165, 70),
        *("1100 kg", None, "quote of 9 Nov 2026"),
    ),
)


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs={
            **plant.ABOUT,
            "Compare_on": DAY,
            "Material": "tool or high-speed steel",
            "Word": NO_WORD,
            "Gas_now": "nitrogen",
            "Loads": 24,
            "Loads_off": 10,
            **_load(),
            "Nitrogen_month": GAS_A_MONTH["nitrogen"],
            "Nitrogen_loss": 6,
            "Nitrogen_loss_off": 2,
            "Argon_month": GAS_A_MONTH["argon"],
            "Argon_loss": 9,
            "Argon_loss_off": 3,
        },
        tables={"Prices": list(PRICES)},
    )


def _load() -> dict[str, float]:
    """Harden 6 bar in VF1, as the recipe of the monthly book has it."""
    return {
        "Volume": plant.FURNACES[0].free_volume,
        "Volume_off": 3,
        "From": 0.01,
        "To": round(6 - plant.SITE, 3),
        "To_off": 1,
        "Backfills": 1,
        "Settled": 20,
        "Settled_off": 5,
        "Hold_at": 1,
        "Pumping": 250,
        "Pumping_off": 10,
        "Hold_hours": 1.5,
        "Flow_rate": 2,
        "Flow_off": 5,
        "Flow_hours": 0.5,
    }
