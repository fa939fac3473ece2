"""Argon or nitrogen: what is typed of prices, and which materials take nitrogen."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Column, Rule, Table, helper, made
from gasfuncs.workbooks.sheets.standard import valid_from

GASES = ("nitrogen", "argon")
GOODS, ALL_IN = "goods", "all charges in"

TYPED = (
    Column("Gas", choices=GASES, prompt="What is offered; as on Supply offers, For other books"),
    Column("Offer", prompt="A short name of its own, for example A 3 years", width=18),
    Column(
        "Valid from",
        "date",
        "The day from which the price holds. When it changes, add a row and leave this one.",
    ),
    Column("Price", "price", "As it was quoted, or the price in effect of Supply offers", low=0),
    Column("Per", prompt="The unit of that price, for example Nm3, 100 scf, kg, L(liq)", width=9),
    Column(
        "Price band",
        "price",
        "The 95 % band of the price, half width, as Supply offers tells it; blank: fixed",
        low=0,
        required=False,
    ),
    Column(
        "Price is",
        choices=(GOODS, ALL_IN),
        prompt=f"{GOODS}: rent and deliveries come on top; {ALL_IN}: as Supply offers tells it",
        width=14,
    ),
    Column(
        "Liquid at",
        prompt="What liquid by volume counts: blank for liquid at its boiling point at 1 atm, "
        '"{3 absolute} {unit absolute}" for liquid saturated there',
        required=False,
        width=10,
    ),
    Column("Rent", "money", "Of tank and equipment, a month", low=0, required=False),
    Column(
        "Delivery charge", "money", "Money for each delivery; blank for none", low=0, required=False
    ),
    Column(
        "Drop",
        prompt="What a delivery brings, with its unit, for example 5500 L(liq) or 1100 kg",
        required=False,
    ),
    Column(
        "Valid until",
        "date",
        "The last day on which it holds, for example 31 Dec 2027; blank: until another row follows",
        required=False,
    ),
    Column("Where from", prompt="Quote, contract or book with its date", width=34),
)


def _latest() -> str:
    known = '{Prices.Since},{Prices.Key},{Key},{Prices.Since},"<="&Compare_on'
    return f"{{Since}}=MAXIFS({known})"


PRICES = Table(
    "Prices",
    (
        *TYPED,
        helper("State", '{Liquid at}&""', "text"),
        helper("Of unit", 'GAS_PRICE(1,{Per},{unit amount},{Gas},"",{State})', "price"),
        made("Price as used", "price", "{Price}*{Of unit}", result=True),
        made(
            "Delivery as used",
            "price",
            'IF(N({Delivery charge})=0,0,{Delivery charge}/GAS_DELIVERED({Gas},{Drop},{State},"",'
            "{unit amount}))",
            result=True,
        ),
        helper("Band as used", "N({Price band})*{Of unit}", "price"),
        *valid_from("Gas", "Offer"),
        helper("Goes on", 'IF({Valid until}="",TRUE,{Valid until}>=Compare_on)'),
        helper("Latest", _latest()),
        helper("Holds", 'IF(AND({Check}="ok",{Latest},{Goes on}),{row},"")', number="whole"),
    ),
    heading="Prices and offers",
    unique=("Gas", "Offer", "Valid from"),
    rules=(
        Rule(
            f'AND({{Price is}}="{ALL_IN}",N({{Rent}})+N({{Delivery charge}})>0)',
            "rent and deliveries are in this price: leave them blank",
        ),
        Rule(
            'AND(N({Delivery charge})>0,{Drop}="")', "deliveries are charged: type what one brings"
        ),
        Rule(
            'AND({Valid until}<>"",{Valid until}<{Valid from})', "Valid until is before Valid from"
        ),
    ),
)

NO_WORD, ALLOWED, ARGON_ONLY = "not asked", "nitrogen is allowed", "argon only"
"""What a metallurgist has said."""
USUAL, ASK, NO = "usual", "ask", "not an option"
MATERIALS = (
    ("carbon or low-alloy steel", USUAL, "Takes up little nitrogen in the times of a quench."),
    ("tool or high-speed steel", USUAL, "Nitrogen is the usual quench gas."),
    (
        "martensitic stainless steel",
        ASK,
        "Often quenched in nitrogen; hot and long holds may take it up.",
    ),
    (
        "austenitic stainless steel",
        ASK,
        "Takes up nitrogen at high temperature; chromium nitrides cost corrosion resistance.",
    ),
    (
        "stabilized stainless steel",
        NO,
        "Titanium and niobium bind nitrogen: the stabilizing is lost, brazing suffers.",
    ),
    ("superalloy without Ti or Al", ASK, "Chromium may form nitrides."),
    (
        "superalloy with Ti or Al",
        NO,
        "Forms nitrides: hardening suffers, filler metal does not wet.",
    ),
    ("titanium alloy", NO, "Forms a hard, brittle nitride case."),
    ("zirconium or niobium", NO, "Take up nitrogen and turn brittle."),
    ("another material", ASK, "Not listed here."),
)
"""Material, whether nitrogen goes with it, why. Common practice (memory), no standard."""

PIECE = 3
"""Texts that fit into a formula that reads in one breath."""


def _listed(name: str, texts: tuple[str, ...], width: float) -> tuple[Column, ...]:
    """A column of texts, from hidden columns with a few of them each."""
    firsts = range(0, len(texts), PIECE)
    hidden = []
    for first in firsts:
        some = ",".join(f'"{text}"' for text in texts[first : first + PIECE])
        here = f"AND({{Number}}>{first},{{Number}}<={min(first + PIECE, len(texts))})"
        formula = f'IF({here},CHOOSE({{Number}}-{first},{some}),"")'
        hidden.append(helper(f"{name} {first + 1}", formula, "text"))
    joined = "&".join(f"{{{name} {first + 1}}}" for first in firsts)
    return made(name, "text", joined, width=width), *hidden


MATERIAL_LIST = Table(
    "Materials",
    (
        *_listed("Material", tuple(each[0] for each in MATERIALS), 30),
        *_listed("Nitrogen", tuple(each[1] for each in MATERIALS), 16),
        *_listed("Why", tuple(each[2] for each in MATERIALS), 78),
        helper("Number", "{row}", number="whole"),
    ),
    heading="Whether nitrogen goes with a material: common practice, no standard",
    rows=len(MATERIALS),
)
