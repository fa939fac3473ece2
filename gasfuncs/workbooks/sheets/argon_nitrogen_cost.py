"""Argon or nitrogen: what the same load costs with either gas, and at what price that turns."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.cost_answer import (
    AT_PRESSURE,
    EVEN,
    PARITIES,
    PARITY,
    PARITY_CHART,
    PRICES_NOW,
    SENSITIVITY,
    SUMMARY,
)
from gasfuncs.workbooks.sheets.cost_compare import (
    COMPARE,
    COST_CHART,
    ERRORS,
    OFFERS_FIT,
    TERMS,
    TIED,
    USED,
)
from gasfuncs.workbooks.sheets.cost_demo import demo
from gasfuncs.workbooks.sheets.cost_prices import (
    ALLOWED,
    ARGON_ONLY,
    ASK,
    GASES,
    MATERIAL_LIST,
    NO,
    NO_WORD,
    PRICES,
)
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    BACKGROUND,
    FINE,
    READ_HERE,
    TYPE_HERE,
    UNKNOWN,
    WATCH,
    Book,
    Case,
    Group,
    Input,
    Number,
    Row,
    Sentence,
    Sheet,
    Step,
    Test,
    Text,
)
from gasfuncs.workbooks.sheets.standard import about

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
            "Quenched load: near the water's; 20 degC where not known",
            -20,
            300,
        ),
        Input(
            "Settled_off",
            "Temperature known within",
            "kelvins",
            "95 % band, half width: for example 5",
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


def _supply(gas: str) -> Group:
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
                "All that shares its rent, with the loads compared, for example 3,600",
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


RULING = Text("{Material_words}", "body", lines=2)

READ = (
    Sheet(
        "Compare",
        "The same load by each offer that holds on the day of the comparison.",
        READ_HERE,
        (RULING, COMPARE, USED),
    ),
    Sheet(
        "Parity",
        "The prices at which both gases cost the same.",
        READ_HERE,
        (RULING, PARITIES, PARITY, PARITY_CHART, PRICES_NOW),
    ),
    Sheet(
        "Sensitivity",
        "What price, loads and backfill pressure do to the cost of a load.",
        READ_HERE,
        (RULING, *SENSITIVITY),
    ),
    Sheet(
        "Material",
        "Where nitrides form, nitrogen is not an option at any price.",
        READ_HERE,
        (RULING, MATERIAL_LIST),
    ),
)

BEHIND = (
    Sheet(
        "Terms",
        "The parts of the difference, their tolerances, other pressures and prices.",
        BACKGROUND,
        (TERMS, ERRORS, TIED, AT_PRESSURE, EVEN),
    ),
    Sheet("Numbers", "Numbers that stand for themselves.", BACKGROUND, (SUMMARY,)),
)

MATERIAL_WORDS = Sentence(
    "Material_words",
    (
        Case("NOT(ISTEXT({Ruling}))", "Choose the material on Inputs."),
        Case(f'{{Word}}="{ARGON_ONLY}"', "The metallurgist wants argon only for {Material}."),
        Case(
            f'AND({{Word}}="{ALLOWED}",{{Word_by}}="")',
            "A metallurgist allows nitrogen for {Material}; who, and when, is not typed.",
        ),
        Case(
            f'{{Word}}="{ALLOWED}"',
            "A metallurgist allows nitrogen for {Material} ({Word_by}).",
        ),
        Case(
            f'{{Ruling}}="{NO}"',
            "Nitrogen is not an option for {Material}: nitrides form. Ask a metallurgist.",
        ),
        Case(f'{{Ruling}}="{ASK}"', "Ask a metallurgist before {Material} meets nitrogen."),
        Case("", "Nitrogen is usual for {Material}."),
    ),
)

LOAD_WORDS = Sentence(
    "Load_words",
    (
        Case(
            "",
            "A load costs {Currency} {Argon_told} in argon ({Argon_name}) and {Nitrogen_told} in "
            "nitrogen ({Nitrogen_name}).",
        ),
    ),
)

TURN_WORDS = Sentence(
    "Turn_words",
    (
        Case(
            "NOT(ISNUMBER({Argon_parity}))",
            "Even free argon would cost more: its rent and deliveries do. They cost the same with "
            "nitrogen at {Currency} {Nitrogen_parity_told} a {unit amount}; it is "
            "{Nitrogen_price:0.0000} now.",
        ),
        Case(
            "",
            "They cost the same with argon at {Currency} {Argon_parity_told} a {unit amount}; "
            "it is {Argon_price:0.0000} now.",
        ),
    ),
)

SAVED = "{Currency} {Saved ± Year_band:#,##0} a year"
ANSWERS = "{Load_words} {Turn_words}"
VERDICT = Sentence(
    "Answer",
    (
        Case(
            "NOT(ISNUMBER({Nitrogen_cost}))",
            "No price of nitrogen can be used on {Compare_on:date}: see Prices, and the offer "
            "chosen on Inputs.",
            UNKNOWN,
        ),
        Case(
            "NOT(ISNUMBER({Argon_cost}))",
            "No price of argon can be used on {Compare_on:date}: see Prices, and the offer chosen "
            "on Inputs.",
            UNKNOWN,
        ),
        Case(
            "NOT(ISNUMBER({Difference_u}))",
            "The load cannot be calculated: see the bands on Inputs and Compare.",
            UNKNOWN,
        ),
        Case(
            f'AND({{Ruling}}="{NO}",{{Gas_now}}="nitrogen")',
            "Stop: {Material_words} {Load_words}",
            ACT,
        ),
        Case(f'{{Ruling}}="{NO}"', "{Material_words} {Load_words}", WATCH),
        Case(f'{{Ruling}}="{ASK}"', "{Material_words} " + ANSWERS, WATCH),
        Case(
            '{Cheaper}="cannot tell"',
            "Cannot tell which gas is the cheaper. {Load_words} What would tell most: "
            "{Most_error}, {Most_share:0} % of the doubt.",
            UNKNOWN,
        ),
        Case(
            "{Cheaper}<>{Gas_now}",
            "Change to {Cheaper}: it costs less than {Gas_now} by " + SAVED + ". " + ANSWERS,
            ACT,
        ),
        Case("", "Stay with {Gas_now}: it is the cheaper by " + SAVED + ". " + ANSWERS, FINE),
    ),
)

BOOK = Book(
    name="argon_nitrogen_cost",
    title="Argon or nitrogen",
    question=(
        "What does a load cost in argon rather than nitrogen, and at what price does that turn?"
    ),
    functions=(
        "GAS_BACKFILL",
        "GAS_HOLD_USE",
        "GAS_FLOW_USE",
        "GAS_PRICE",
        "GAS_DELIVERED",
        "GAS_LOAD_COST",
        "GAS_PRICE_PARITY",
        "GAS_COMBINE",
        "GAS_CONFORMS",
        "GAS_SITE_PRESSURE",
    ),
    groups=(about(DAY), WHAT, LOAD, *(_supply(gas) for gas in GASES)),
    sheets=(
        *READ,
        Sheet(
            "Prices",
            "Prices as they were quoted, and prices in effect from Supply offers.",
            TYPE_HERE,
            (PRICES,),
        ),
        *BEHIND,
    ),
    verdict=VERDICT,
    sentences=(MATERIAL_WORDS, LOAD_WORDS, TURN_WORDS),
    numbers=(
        Number("A load: {Argon_name}", "Argon_cost", "Argon_band", "money"),
        Number("A load: {Nitrogen_name}", "Nitrogen_cost", "Nitrogen_band", "money"),
        Number("Argon less nitrogen, a year", "Year_difference", "Year_band", "money", "whole"),
        Number(
            "{Turn_gas} for a {unit amount}, same cost",
            "Turn_price",
            "Turn_band",
            "money",
            "price",
        ),
    ),
    chart=COST_CHART,
    steps=(
        Step(f'{{Ruling}}="{NO}"', "Read where nitrides form, and ask a metallurgist", "Material"),
        Step(f'{{Ruling}}="{ASK}"', "Ask a metallurgist, and write the answer down", "Inputs"),
        Step('{Cheaper}="cannot tell"', "Know better: {Most_error}", "Inputs"),
        Step("", "See the prices at which that turns", "Parity"),
        Step("", "See what price, loads and pressure do", "Sensitivity"),
        Step("", "See each offer by part", "Compare"),
    ),
    tests=(
        Test(
            "The parts are the cost of a load",
            "ABS(SUM({Compare.Gas used:Rental})-SUM({Compare.Load}))>0.000001*SUM({Compare.Load})",
            "the parts of a load do not add up to its cost",
            "Compare",
        ),
        Test(
            "The terms are the difference",
            "ABS(SUM({Terms.Difference})-{Difference})>0.000001*{Argon_cost}",
            "the parts of the difference do not add up to it",
            "Terms",
        ),
        Test(
            "Every offer that holds is compared",
            f"{{Offers_used}}>{OFFERS_FIT}",
            f"{{Offers_used}} offers hold on the day, there is room for {OFFERS_FIT}: end some "
            "with Valid until",
            "Prices",
        ),
        Test(
            "The gas of the tanks holds that of the loads",
            "OR(Loads*{Nitrogen_bought}>Nitrogen_month,Loads*{Argon_bought}>Argon_month)",
            "the loads compared take more gas than is bought for the tank in a month",
            "Inputs",
        ),
        Test(
            "A backfill goes up",
            "{From as bar(a)}>={To as bar(a)}",
            "the backfill pressure is not above the pressure before it",
            "Inputs",
        ),
        Test(
            "The metallurgist's word has a name",
            f'AND(Word<>"{NO_WORD}",Word_by="")',
            "type who gave the word on nitrogen, and when",
            "Inputs",
        ),
    ),
    others=(
        Row("Other_argon", "A load in argon", "{Argon_cost}", "money", "Monthly gas use"),
        Row("Other_nitrogen", "A load in nitrogen", "{Nitrogen_cost}", "money", "Monthly gas use"),
    ),
    demo=demo,
    period="prices of {Compare_on:date}",
    cautions=(
        "Equal cost does not make the gases equal: nitrogen forms nitrides in titanium, some "
        "stainless steels and superalloys. The list of materials is common practice, no standard; "
        "temperature, time and the part's use decide, and a metallurgist's word stands above it.",
    ),
)
