"""Argon or nitrogen: the same load with either gas, offer by offer, and the band of each cost."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.cost_prices import GASES
from gasfuncs.workbooks.sheets.parts import Chart, Column, Series, Table, helper, made
from gasfuncs.workbooks.sheets.standard import NORMAL

OFFERS_FIT = 8
USES = ("Backfills", "Hold", "Flow")

BACKFILLED = (
    "Backfills*GAS_BACKFILL({Gas},{Volume as m3},{From as bar(a)},{To as bar(a)},"
    '{Settled as degC},"","","",{unit amount})'
)
HELD = (
    "IF(Hold_hours*Hold_at=0,0,1*GAS_HOLD_USE({Gas},{Hold_at as bar(a)},{Pumping as m3/h},"
    'Hold_hours,"",{unit amount}))'
)
FLOWED = (
    'IF(COUNT(Flow_rate,Flow_hours)<2,NA(),1*GAS_FLOW_USE({Flow_rate as Nm3/h},Flow_hours,"Nm3"))'
)


def _off(percent: str, name: str) -> str:
    """A tolerance as GAS_COMBINE reads it, with the name of its error."""
    return f'"±"&ROUND({percent},4)&" % 95% {name}"'


def _all(*tolerances: str) -> str:
    """Several tolerances of one value."""
    return '&"; "&'.join(tolerances)


USED = Table(
    "Used",
    (
        made("Gas", "text", 'CHOOSE({row},"nitrogen","argon")', width=12),
        made("Backfills", "amount", BACKFILLED, number="two"),
        made("Hold", "amount", HELD, number="two"),
        made(
            "Flow",
            "amount",
            FLOWED,
            answers="Nm3",
            number="two",
        ),
        made("Used", "amount", "{Backfills}+{Hold}+{Flow}", number="two"),
        made("Lost", "share", "CHOOSE({row},Nitrogen_loss,Argon_loss)"),
        made("Bought", "amount", "{Used}/(1-{Lost}/100)", number="two", width=12),
        made("Tank, a month", "amount", "CHOOSE({row},Nitrogen_month,Argon_month)", width=14),
    ),
    heading="Gas of one load with either gas",
    rows=len(GASES),
)


TIED = Table(
    "Tied",
    (
        made("Gas", "text", "INDEX({Used.Gas},{row})", width=12),
        made(
            "Loss off",
            "share",
            "CHOOSE({row},Nitrogen_loss_off,Argon_loss_off)/(100-INDEX({Used.Lost},{row}))*100",
        ),
        made("Of loss", "text", _off("{Loss off}", "") + '&{Gas}&" loss"', width=30),
        made(
            "Backfills off",
            "text",
            _all(
                _off("Volume_off", "free volume"),
                _off("To_off", "backfill pressure"),
                _off("100*{Settled_off as K}/({Settled as degC}+273.15)", "gas temperature"),
                "{Of loss}",
            ),
            width=60,
        ),
        made("Hold off", "text", _all(_off("Pumping_off", "pumping speed"), "{Of loss}"), width=40),
        made("Flow off", "text", _all(_off("Flow_off", "flow meter"), "{Of loss}"), width=40),
    ),
    heading="How far each use may be off, with the errors that others share",
    rows=len(GASES),
)


def _of_price(column: str) -> str:
    return f"INDEX({{Prices.{column}}},{{Number}})"


def _of_gas(column: str) -> str:
    return f"INDEX({{Used.{column}}},{{Gas row}})"


def _off_gas(part: str) -> str:
    return f"INDEX({{Tied.{part} off}},{{Gas row}})"


def _if(formula: str) -> str:
    return f'IF({{Number}}="","",{formula})'


def _cost(name: str, formula: str) -> Column:
    return made(name, "money", _if(formula))


COMPARE = Table(
    "Compare",
    (
        made("Offer", "text", _if('{Gas}&", "&' + _of_price("Offer")), width=26),
        made("Price", "price", _if(_of_price("Price as used"))),
        _cost("Gas used", _of_gas("Used") + "*{Price}"),
        _cost("Gas lost", f"({_of_gas('Bought')}-{_of_gas('Used')})*{{Price}}"),
        _cost("Delivery", _of_gas("Bought") + "*{Carriage}"),
        _cost("Rental", "{Rent}/{Sharers}"),
        _cost(
            "Load",
            f"1*GAS_LOAD_COST({_of_gas('Used')},{{Per unit}},{_of_gas('Lost')}/100,{{Rent}},"
            "{Sharers})",
        ),
        _cost(
            "Load band",
            f"{NORMAL}*INDEX(GAS_COMBINE({{Backfills cost:Flow cost}},"
            "{Backfills tied:Flow tied}),2,4)",
        ),
        made("Month", "money", _if("{Load}*Loads"), number="whole"),
        made("Year", "money", _if("12*{Month}"), number="whole"),
        made(
            "Year band",
            "money",
            _if("12*Loads*SQRT({Load band}^2+({Load}*Loads_off/100)^2)"),
            number="whole",
        ),
        helper("Number", 'IFERROR(SMALL({Prices.Holds},{row}),"")', number="whole"),
        helper("Gas", _if(_of_price("Gas")), "text"),
        helper("Label", _if('IF({Gas}="argon","Ar, ","N2, ")&' + _of_price("Offer")), "text"),
        helper("Gas row", _if("MATCH({Gas},{Used.Gas},0)"), number="whole"),
        helper("Carriage", _if(_of_price("Delivery as used")), "price"),
        helper("Own band", _if(_of_price("Band as used")), "price"),
        helper("Per unit", _if("{Price}+{Carriage}"), "price"),
        helper("Rent", _if(f"N({_of_price('Rent')})"), "money"),
        helper("Sharers", _if(f"{_of_gas('Tank, a month')}/{_of_gas('Bought')}")),
        helper("Rent unit", _if(f"{{Rent}}/{_of_gas('Tank, a month')}"), "price"),
        helper("All in", _if("{Per unit}+{Rent unit}"), "price"),
        helper("Nitrogen load", _if('IF(AND({Gas row}=1,ISNUMBER({Load})),{Load},"")'), "money"),
        helper("Argon load", _if('IF(AND({Gas row}=2,ISNUMBER({Load})),{Load},"")'), "money"),
        helper("Price off", _if("100*N({Own band})/MAX({All in},1E-12)")),
        helper("Tank off", _if("Loads_off*{Rent unit}/MAX({All in},1E-12)")),
        helper(
            "Of price",
            _if(
                _all(
                    _off("{Price off}", "") + '&{Gas}&" price"',
                    _off("{Tank off}", "") + '&{Gas}&" bought a month"',
                )
            ),
            "text",
        ),
        *(
            helper(
                f"{use} cost",
                _if(f"{_of_gas(use)}/(1-{_of_gas('Lost')}/100)*{{All in}}"),
                "money",
            )
            for use in USES
        ),
        *(helper(f"{use} tied", _if(_all(_off_gas(use), "{Of price}")), "text") for use in USES),
    ),
    heading="What a load costs by each offer that holds on the day of the comparison",
    rows=OFFERS_FIT,
)

COST_CHART = Chart(
    "column",
    "Cost of a load by part",
    "Offer",
    "Cost of a load",
    "Cost of the same load by each offer of nitrogen and argon, stacked by gas used, gas lost, "
    "delivery and rental.",
    tuple(
        Series(part.lower(), f"Compare.{part}", "Compare.Label")
        for part in ("Gas used", "Gas lost", "Delivery", "Rental")
    ),
    subtype="stacked",
    y={"num_format": "#,##0.0", "min": 0},
)


def _even(gas: str) -> tuple[Column, ...]:
    """A gas's terms at the price of equal cost, whose own error is then none."""
    return (
        helper(
            f"{gas} even", f"N({gas}_parity)+{gas}_carriage+{gas}_rent/{gas}_month_gas", "price"
        ),
        helper(
            f"{gas} untied",
            _all(
                "INDEX({Tied.Backfills off:Flow off},{Gas row},{Place})",
                _off(
                    f"Loads_off*{gas}_rent/{gas}_month_gas/{{{gas} even}}",
                    f"{gas} bought a month",
                ),
            ),
            "text",
        ),
    )


def _at_parity(gas: str, row: int) -> tuple[Column, ...]:
    own = f"{{Gas row}}={row}"
    return (
        made(
            f"Even by {gas.lower()}",
            "money",
            f"IF({own},{{Sign}}*{{Amount}}*{{{gas} even}},{{Difference}})",
        ),
        made(f"{gas} tolerance", "text", f"IF({own},{{{gas} untied}},{{Tolerance}})", width=30),
    )


TERMS = Table(
    "Terms",
    (
        made("Gas", "text", "INDEX({Used.Gas},{Gas row})"),
        made("Use", "text", "CHOOSE({Place}," + ",".join(f'"{use}"' for use in USES) + ")"),
        made(
            "Difference",
            "money",
            "{Sign}*INDEX({Compare.Backfills cost:Flow cost},{At},{Place})",
        ),
        made(
            "Tolerance",
            "text",
            "INDEX({Compare.Backfills tied:Flow tied},{At},{Place})",
            width=60,
        ),
        *_at_parity("Argon", 2),
        *_at_parity("Nitrogen", 1),
        helper("Gas row", f"IF({{row}}<={len(USES)},2,1)", number="whole"),
        helper("Place", f"MOD({{row}}-1,{len(USES)})+1", number="whole"),
        helper("Sign", "IF({Gas row}=2,1,-1)", number="whole"),
        helper("At", "IF({Gas row}=2,Argon_row,Nitrogen_row)", number="whole"),
        helper(
            "Amount",
            "INDEX({Used.Backfills:Flow},{Gas row},{Place})/(1-INDEX({Used.Lost},{Gas row})/100)",
            "amount",
        ),
        *_even("Argon"),
        *_even("Nitrogen"),
    ),
    heading="Argon less nitrogen by use, with the errors that both have in common",
    rows=2 * len(USES),
)

DIFFERENCE = "GAS_COMBINE({Terms.Difference},{Terms.Tolerance})"

ERRORS = Table(
    "Errors",
    (
        made(
            "Error",
            "text",
            f'SUBSTITUTE(MID(INDEX({DIFFERENCE},{{row}}+4,2),15,99),"""","")',
            width=30,
        ),
        made("Share", "share", f"100*INDEX({DIFFERENCE},{{row}}+4,8)"),
    ),
    heading="What widens the band of the difference",
    rows=11,
)
