"""Argon or nitrogen: what is typed once: the material, the load, the two supplies."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.cost_prices import ALLOWED, ARGON_ONLY, GASES, NO_WORD
from gasfuncs.workbooks.sheets.parts import Group, Input

DAY = Input(
    "Compare_on",
    "Day of the comparison",
    "date",
    "The prices that hold on this day are compared, for example 1 Jan 2027",
)


def _off(name: str, of: str, prompt: str, high: float = 50) -> Input:
    """A band that is typed: 19 times in 20 it is so close."""
    return Input(name, of, "share", f"95 % band, half width: {prompt}", 0, high)


WHAT = Group(
    "What is compared",
    (
        Input(
            "Material",
            "Material of the load",
            "text",
            "As on the drawing or order; whether nitrogen goes with it stands on Material",
            choices="Materials.Material",
        ),
        Input(
            "Word",
            "The metallurgist's word on nitrogen",
            "text",
            "Ask, and choose what was answered for this material, temperature and use",
            choices=(NO_WORD, ALLOWED, ARGON_ONLY),
        ),
        Input(
            "Word_by",
            "Word given by, on",
            "text",
            "Name and day, for example J. Reed, 3 Nov",
            required=False,
        ),
        Input(
            "Gas_now",
            "Gas that the load has now",
            "text",
            "What the recipe says today",
            choices=GASES,
        ),
        Input("Loads", "Loads a month of this kind", "count", "From the plan", 1, 10_000),
        _off("Loads_off", "Loads sure within", "how far a year's loads may be from plan"),
    ),
)

LOAD = Group(
    "The load",
    (
        Input(
            "Volume",
            "Free volume of the furnace",
            "volume",
            "Chamber with its lines, less the load; a metered fill tells it",
            0.001,
            1000,
        ),
        _off(
            "Volume_off",
            "Free volume known within",
            "2 if a metered fill told it, 10 from a drawing",
        ),
        Input("From", "Pressure before a backfill", "fine_vacuum", "By the vacuum gauge", 0, 1000),
        Input(
            "To",
            "Backfill pressure",
            "gauge",
            "By the gauge, as in the recipe; below 0 for less than the air's",
            -0.95,
            25,
        ),
        _off("To_off", "Backfill pressure known within", "of the pressure, for example 1"),
        Input("Backfills", "Backfills of a load", "count", "As in the recipe", 1, 20),
        Input(
            "Settled",
            "Temperature of the settled gas",
            "temperature",
            "Quenched load: near the water's; {20 temperature} where not known",
            -20,
            300,
        ),
        Input(
            "Settled_off",
            "Temperature known within",
            "kelvins",
            "95 % band, half width: for example {5 kelvins}",
            0,
            100,
        ),
        Input(
            "Hold_at",
            "Pressure of a partial-pressure hold",
            "fine_vacuum",
            "As in the recipe",
            0,
            1000,
        ),
        Input(
            "Pumping",
            "Pumping speed during the hold",
            "pumping",
            "From the pump's curve at that pressure",
            0.1,
            100_000,
        ),
        _off("Pumping_off", "Pumping speed known within", "10 for a new pump"),
        Input("Hold_hours", "Length of the hold", "hours", "As in the recipe; 0: none", 0, 100),
        Input("Flow_rate", "Steady flow besides", "flow", "By the flow meter", 0, 10_000),
        _off("Flow_off", "Flow known within", "5 for a float meter"),
        Input("Flow_hours", "Length of the flow", "hours", "As in the recipe; 0: none", 0, 100),
    ),
)


def supply(gas: str) -> Group:
    """What is typed of the supply of a gas."""
    name = gas.capitalize()
    return Group(
        f"{name} supply",
        (
            Input(
                f"{name}_offer",
                "Offer to compare",
                "text",
                "Its name on Prices; blank: the one with which a load costs least",
                choices="Prices.Offer",
                required=False,
            ),
            Input(
                f"{name}_month",
                "Gas bought a month for this tank",
                "amount",
                "All that shares its rent, with the loads compared, for example {3600 amount}",
                1,
            ),
            Input(
                f"{name}_loss",
                "Lost of what is bought",
                "share",
                "Evaporation, venting, leaks: Monthly gas use tells it",
                0,
                90,
            ),
            _off(f"{name}_loss_off", "Loss known within, in points", "for example 2", 20),
        ),
    )
