"""Argon or nitrogen: the answer, the prices at which the gases cost the same, what moves it."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.cost_compare import DIFFERENCE
from gasfuncs.workbooks.sheets.cost_prices import ALLOWED, ARGON_ONLY, NO, USUAL
from gasfuncs.workbooks.sheets.formulas import four_digits, with_band
from gasfuncs.workbooks.sheets.parts import Block, Chart, Column, Row, Series, Table, made
from gasfuncs.workbooks.sheets.standard import NORMAL, conforms

OTHER = {"Argon": "Nitrogen", "Nitrogen": "Argon"}


def _of(gas: str, column: str) -> str:
    return f"INDEX({{Compare.{column}}},{{{gas}_row}})"


def _of_used(gas: str, column: str) -> str:
    return f"INDEX({{Used.{column}}},{1 if gas == 'Nitrogen' else 2})"


def _row_of(gas: str) -> str:
    """The offer that was chosen, or else the cheapest of the gas."""
    chosen = f'MATCH("{gas.lower()}, "&{gas}_offer,{{Compare.Offer}},0)'
    cheapest = f"MATCH(MIN({{Compare.{gas} load}}),{{Compare.{gas} load}},0)"
    return f'IF({gas}_offer="",{cheapest},{chosen})'


def _parity(gas: str) -> str:
    """The price of a gas at which a load costs what it costs with the other."""
    other = OTHER[gas]
    extra = f"{{{gas}_bought}}*{{{gas}_carriage}}+{{{gas}_rental}}"
    call = (
        f"GAS_PRICE_PARITY({{{other}_bought}},{{{other}_cost}}/{{{other}_bought}},{{{gas}_bought}},"
        f"{extra})"
    )
    return f'IFERROR(1*{call},"none")'


def _parity_band(gas: str) -> str:
    terms = f"{{Terms.Even by {gas.lower()}}},{{Terms.{gas} tolerance}}"
    band = f"{NORMAL}*INDEX(GAS_COMBINE({terms}),2,4)/{{{gas}_bought}}"
    return f'IF(ISNUMBER({{{gas}_parity}}),{band},"none")'


def _gas(gas: str) -> tuple[Row, ...]:
    """What is asked of the offer of a gas that is compared."""
    return (
        Row(f"{gas}_row", f"{gas}: the offer compared, its row on Compare", _row_of(gas), "count"),
        Row(f"{gas}_name", "its name", f'{_of(gas, "Offer")}&""'),
        Row(f"{gas}_price", "its price", _of(gas, "Price"), "price"),
        Row(f"{gas}_price_told", "the same to four digits", four_digits(f"{{{gas}_price}}")),
        Row(f"{gas}_carriage", "its deliveries, for a unit", _of(gas, "Carriage"), "price"),
        Row(f"{gas}_rent", "its rent, a month", _of(gas, "Rent"), "money"),
        Row(f"{gas}_rental", "its rent, a load", _of(gas, "Rental"), "money"),
        Row(f"{gas}_used", "Gas of a load", _of_used(gas, "Used"), "amount", number="two"),
        Row(f"{gas}_bought", "bought for it", _of_used(gas, "Bought"), "amount", number="two"),
        Row(f"{gas}_cost", "Cost of a load", _of(gas, "Load"), "money"),
        Row(f"{gas}_band", "its band", _of(gas, "Load band"), "money"),
        Row(
            f"{gas}_month_gas", "Gas of the tank, a month", _of_used(gas, "Tank, a month"), "amount"
        ),
        Row(f"{gas}_told", "with its band", with_band(f"{{{gas}_cost}}", f"{{{gas}_band}}")),
    )


def _parities(gas: str) -> tuple[Row, ...]:
    return (
        Row(
            f"{gas}_parity",
            f"{gas} price at which both cost the same",
            _parity(gas),
            "price",
            "none: even for nothing it would cost more; goods alone, as quoted",
        ),
        Row(f"{gas}_parity_band", "its 95 % band, half width", _parity_band(gas), "price"),
        Row(
            f"{gas}_parity_told",
            "to the digits that its band allows",
            f"IF(ISNUMBER({{{gas}_parity}}),"
            + with_band(f"{{{gas}_parity}}", f"{{{gas}_parity_band}}")
            + ',"")',
        ),
    )


def _turn(what: str) -> str:
    return f"IF(ISNUMBER({{Argon_parity}}),{{Argon_parity{what}}},{{Nitrogen_parity{what}}})"


PARITIES = Block("Both cost the same", (*_parities("Argon"), *_parities("Nitrogen")))

MATERIAL_ROWS = (
    Row(
        "Listed",
        "Nitrogen, by the list",
        "INDEX({Materials.Nitrogen},MATCH(Material,{Materials.Material},0))",
    ),
    Row("Material_why", "why", "INDEX({Materials.Why},MATCH(Material,{Materials.Material},0))"),
    Row(
        "Ruling",
        "With the metallurgist's word",
        f'IF(Word="{ARGON_ONLY}","{NO}",IF(AND(Word="{ALLOWED}",Word_by<>""),"{USUAL}",'
        "{Listed}))",
    ),
)

SUMMARY = Block(
    "For Start",
    (
        *_gas("Nitrogen"),
        *_gas("Argon"),
        Row("Difference", "Argon less nitrogen, a load", "{Argon_cost}-{Nitrogen_cost}", "money"),
        Row("Difference_u", "its standard uncertainty", f"INDEX({DIFFERENCE},2,4)", "money"),
        Row("Difference_band", "its band", f"{NORMAL}*{{Difference_u}}", "money"),
        Row("Month_difference", "a month", "{Difference}*Loads", "money", number="whole"),
        Row("Year_difference", "a year", "12*{Month_difference}", "money", number="whole"),
        Row(
            "Year_band",
            "its band",
            "12*Loads*SQRT({Difference_band}^2+({Difference}*Loads_off/100)^2)",
            "money",
            number="whole",
        ),
        Row(
            "Saved", "whichever is the cheaper, it saves a year", "ABS({Year_difference})", "money"
        ),
        Row(
            "Not_dearer",
            "Argon is not the dearer",
            conforms("{Difference}", "{Difference_u}", "0"),
        ),
        Row(
            "Cheaper",
            "The cheaper gas",
            'IF({Not_dearer}="yes","argon",IF({Not_dearer}="no","nitrogen",'
            'IF({Not_dearer}="cannot tell",{Not_dearer},NA())))',
        ),
        Row(
            "Turn_gas",
            "The gas whose price is told at which both cost the same",
            'IF(ISNUMBER({Argon_parity}),"Argon","Nitrogen")',
        ),
        Row("Turn_price", "that price", _turn(""), "price"),
        Row("Turn_band", "its band", _turn("_band"), "price"),
        Row(
            "Most_row",
            "The error that widens the difference most",
            "MATCH(MAX({Errors.Share}),{Errors.Share},0)",
            "count",
        ),
        Row("Most_error", "its name", 'INDEX({Errors.Error},{Most_row})&""'),
        Row("Most_share", "its share of the variance", "INDEX({Errors.Share},{Most_row})", "share"),
        Row("Offers_used", "Offers that hold on the day", "COUNT({Prices.Holds})", "count"),
        *MATERIAL_ROWS,
    ),
)

SHARES = tuple(range(25, 201, 25))
NOW = SHARES.index(100) + 1
"""The row in which everything is as it is."""
SHARE = made("Share", "share", "25*{row}", number="whole", width=9)


def _cost(gas: str, price: str = "", used: str = "", sharers: str = "") -> str:
    """What a load costs with one thing changed; `sharers` loads like it share the rent."""
    unit = f"{price or f'{gas}_price'}+{gas}_carriage"
    share = sharers or f"{gas}_month_gas/{gas}_bought"
    return f"1*GAS_LOAD_COST({used or f'{gas}_used'},{unit},{gas}_loss/100,{gas}_rent,{share})"


def _costs(argon: str, nitrogen: str, loads: str = "Loads") -> tuple[Column, ...]:
    return (
        made("Argon", "money", argon),
        made("Nitrogen", "money", nitrogen),
        made(
            "Argon less nitrogen, a year",
            "money",
            f"12*{loads}*({{Argon}}-{{Nitrogen}})",
            number="signed",
            width=20,
        ),
    )


BY_PRICE = Table(
    "ByPrice",
    (
        SHARE,
        made("Argon price", "price", "{Share}/100*Argon_price"),
        *_costs(_cost("Argon", price="{Argon price}"), _cost("Nitrogen")),
    ),
    heading="The argon price",
    rows=len(SHARES),
)


def _by_loads(gas: str) -> str:
    more = f"({{Loads a month}}-Loads)*{gas}_bought"
    return _cost(gas, sharers=f"({gas}_month_gas+{more})/{gas}_bought")


BY_LOADS = Table(
    "ByLoads",
    (
        SHARE,
        made("Loads a month", "count", "{Share}/100*Loads", number="one"),
        *_costs(_by_loads("Argon"), _by_loads("Nitrogen"), "{Loads a month}"),
    ),
    heading="The loads of this kind; all others on the tank as they are",
    rows=len(SHARES),
)


def _at_pressure(gas: str) -> tuple[Column, ...]:
    """What a load takes at another pressure, and how many like it would share the rent."""
    backfill = (
        f'Backfills*GAS_BACKFILL("{gas.lower()}",{{Volume as m3}},{{From as bar(a)}},{{Bar}},'
        '{Settled as degC},"","","",{unit amount})'
    )
    bought = f"{{{gas} gas}}/(1-{gas}_loss/100)"
    return (
        made(
            f"{gas} gas",
            "amount",
            f"{backfill}+{_of_used(gas, 'Hold')}+{_of_used(gas, 'Flow')}",
            number="two",
        ),
        made(
            f"{gas} sharers",
            "number",
            f"({gas}_month_gas-Loads*{gas}_bought)/({bought})+Loads",
            number="one",
        ),
    )


AT_PRESSURE = Table(
    "AtPressure",
    (
        made("Bar", "site", "25*{row}/100*{To as bar(a)}"),
        *_at_pressure("Argon"),
        *_at_pressure("Nitrogen"),
    ),
    heading="The load at other backfill pressures",
    rows=len(SHARES),
)


def _by_pressure(gas: str) -> str:
    used, sharers = (f"INDEX({{AtPressure.{gas} {each}}},{{row}})" for each in ("gas", "sharers"))
    return _cost(gas, used=used, sharers=sharers)


BY_PRESSURE = Table(
    "ByPressure",
    (
        SHARE,
        made(
            "Backfill to",
            "absolute",
            "INDEX({AtPressure.Bar},{row})",
            answers="bar(a)",
            number="two",
        ),
        *_costs(_by_pressure("Argon"), _by_pressure("Nitrogen")),
    ),
    heading="The backfill pressure, absolute",
    rows=len(SHARES),
)


def _chart(table: str, across: str, title: str, x_axis: str) -> Chart:
    return Chart(
        "scatter",
        title,
        x_axis,
        "Cost of a load",
        f"{title}: cost of a load in argon and in nitrogen against it.",
        tuple(Series(gas.lower(), f"{table}.{gas}", f"{table}.{across}") for gas in OTHER),
        subtype="straight_with_markers",
        y={"min": 0, "num_format": "#,##0"},
        rows=14,
        beside=True,
    )


SENSITIVITY = (
    BY_PRICE,
    _chart("ByPrice", "Argon price", "What the argon price does", "Price of a {unit amount} argon"),
    BY_LOADS,
    _chart("ByLoads", "Loads a month", "What the number of loads does", "Loads a month"),
    BY_PRESSURE,
    _chart(
        "ByPressure",
        "Backfill to",
        "What the backfill pressure does",
        "Backfill pressure, {unit absolute}",
    ),
)

POINTS = 13
MOST = "MAX(2*Nitrogen_price,1.25*N(Nitrogen_parity))"

EVEN = Table(
    "Even",
    (
        made("Nitrogen price", "price", f"({{row}}-1)/{POINTS - 1}*{MOST}"),
        made("Nitrogen load", "money", _cost("Nitrogen", price="{Nitrogen price}")),
        made("Besides", "money", "Argon_bought*Argon_carriage+Argon_rental"),
        made(
            "Argon price",
            "price",
            'IF({Nitrogen load}<{Besides},"",1*GAS_PRICE_PARITY(Nitrogen_bought,'
            "{Nitrogen load}/Nitrogen_bought,Argon_bought,{Besides}))",
        ),
    ),
    heading="The line of equal cost",
    rows=POINTS,
)

PARITY = Table(
    "Parity",
    (
        made("Nitrogen price", "price", "INDEX({Even.Nitrogen price},{row})", width=14),
        made("Argon price, same cost", "price", "IFERROR(1*INDEX({Even.Argon price},{row}),NA())"),
    ),
    heading="The argon price at which a load costs the same, for each price of nitrogen",
    rows=POINTS,
)

PRICES_NOW = Table(
    "Now",
    (
        made("Nitrogen price", "price", "Nitrogen_price", width=14),
        made("Argon price", "price", "Argon_price", width=14),
    ),
    heading="The prices now",
    rows=1,
)

PARITY_CHART = Chart(
    "scatter",
    "Above the line nitrogen is the cheaper, below it argon",
    "Nitrogen, for a {unit amount}",
    "Argon, for a {unit amount}",
    "The argon price at which a load costs the same, against the nitrogen price, as a line, and "
    "the prices now as a point.",
    (
        Series(
            "both cost the same",
            "Parity.Argon price, same cost",
            "Parity.Nitrogen price",
            dots=False,
        ),
        Series("prices now", "Now.Argon price", "Now.Nitrogen price", joined=False),
    ),
    subtype="straight_with_markers",
    x={"min": 0},
    y={"min": 0},
    rows=24,
    beside=True,
)
