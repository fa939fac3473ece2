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
from gasfuncs.workbooks.sheets.cost_inputs import DAY, LOAD, WHAT, supply
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
    Number,
    Row,
    Sentence,
    Sheet,
    Step,
    Test,
    Text,
)
from gasfuncs.workbooks.sheets.standard import about

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
            "A metallurgist's word counts with name and day: type who allows nitrogen for "
            "{Material}, and when.",
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
            "A load costs {Currency} {Argon_told} in {Argon_name}, and {Nitrogen_told} in "
            "{Nitrogen_name}.",
        ),
    ),
)

TURN_WORDS = Sentence(
    "Turn_words",
    (
        Case(
            "NOT(ISNUMBER({Argon_parity}))",
            "Even free argon would cost more, by its rent and deliveries. They cost the same "
            "with nitrogen at {Currency} {Nitrogen_parity_told} a {unit amount}; it is "
            "{Nitrogen_price_told} now.",
        ),
        Case(
            "",
            "They cost the same with argon at {Currency} {Argon_parity_told} a {unit amount}; "
            "it is {Argon_price_told} now.",
        ),
    ),
)

SAVED = "{Currency} {Saved ± Year_band} a year"
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
        Case(f'{{Word}}="{ARGON_ONLY}"', "{Material_words} {Load_words}", FINE),
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

APART = 5
"""More than that no price of a gas should be of another, in whatever years."""


def _alike(gas: str) -> Test:
    of = f'({{Prices.Price as used}},{{Prices.Gas}},"{gas}",{{Prices.Check}},"ok")'
    return Test(
        f"Prices of {gas} are alike",
        f"MAXIFS{of}>{APART}*MINIFS{of}",
        f"one price of {gas} is over {APART} times another: is its point or its unit right?",
        "Prices",
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
    groups=(about(DAY), WHAT, LOAD, *(supply(gas) for gas in GASES)),
    sheets=(
        *READ,
        Sheet(
            "Prices",
            "Prices as quoted, or from Supply offers; two offers of one day are two rows.",
            TYPE_HERE,
            (PRICES,),
        ),
        *BEHIND,
    ),
    verdict=VERDICT,
    sentences=(MATERIAL_WORDS, LOAD_WORDS, TURN_WORDS),
    numbers=(
        Number("A load: {Argon_name}", "Argon_cost", "Argon_band", "money", "used"),
        Number("A load: {Nitrogen_name}", "Nitrogen_cost", "Nitrogen_band", "money", "used"),
        Number("Argon less nitrogen, a year", "Year_difference", "Year_band", "money", "whole"),
        Number(
            "{Turn_gas} for a {unit amount}, same cost",
            "Turn_price",
            "Turn_band",
            "money",
            "used",
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
        _alike("argon"),
        _alike("nitrogen"),
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
