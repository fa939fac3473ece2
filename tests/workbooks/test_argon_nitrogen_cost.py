"""The argon or nitrogen book against costs worked out here, by scenario.

Densities are CoolProp's own; costs, bands and prices of equal cost are worked out by hand: bands to
first order from the tolerances that are typed, an error that both gases share counted once.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import chain
from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs.definition.terms import serial
from gasfuncs.hosts.headless import read_values
from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.building import BOOKS, build
from gasfuncs.workbooks.sheets.kinds import US
from tests.workbooks.editing import Computed, Declared, computed, start
from tests.workbooks.test_templates import TEMPLATES

BOOK = BOOKS["argon_nitrogen_cost"]
NAME = BOOK.name
GIVEN, ROWS = BOOK.demo(), 40
SHEETS = Declared(BOOK)
GASES = ("nitrogen", "argon")
COLUMNS = [column.name for column in SHEETS.plan.tables["Prices"].typed]
BASE = plant.SITE
COVERAGE = 1.96

R = 8.314462618
NORMAL = {gas: float(PropsSI("Dmolar", "T", 273.15, "P", 101325, gas)) for gas in GASES}
LIQUID = {gas: float(PropsSI("Dmolar", "P", 101325, "Q", 0, gas)) / 1000 for gas in GASES}
MASS = {gas: float(PropsSI("M", gas)) for gas in GASES}


def in_nm3(gas: str, unit: str) -> float:
    """Nm³ of one of a unit; a litre is liquid at its boiling point at 1 atm."""
    mol = {"Nm3": NORMAL[gas], "L(liq)": LIQUID[gas], "kg": 1 / MASS[gas]}
    return mol[unit] / NORMAL[gas]


@dataclass(frozen=True)
class Scenario:
    """What is typed in place of the demo: inputs, and cells of Prices by row and column."""

    inputs: Mapping[str, Any]
    prices: Mapping[tuple[int, str], Any]

    @property
    def changes(self) -> dict[str, Any]:
        cells = {SHEETS.place(f"Prices.{column}", row): v for (row, column), v in
                 self.prices.items()}  # fmt: skip
        typed = {**self.inputs, **cells}
        return {k: serial(v) if isinstance(v, dt.date) else v for k, v in typed.items()}


def scenario(prices: Mapping[tuple[int, str], Any] | None = None, **inputs: Any) -> Scenario:
    return Scenario(inputs, prices or {})


FREE = {(row, column): None for row in (5, 6) for column in ("Rent", "Delivery charge", "Drop")}
ANOTHER = {
    "another load": scenario(
        Volume=10,
        To=2 - BASE,
        Backfills=3,
        Hold_hours=0,
        Flow_hours=0,
        Loads=60,
        Argon_loss=0,
        Nitrogen_month=9000,
        Argon_month=8000,
    ),
    "argon is the cheaper": scenario({(row, "Price"): 3.2 for row in (2, 3, 4)}),
    "a parity of argon": scenario(FREE, Nitrogen_offer="A now", Argon_offer="B now"),
    "an older day": scenario(Compare_on=dt.date(2026, 3, 1)),
    "titanium": scenario(Material="titanium alloy"),
    "nearly alike": scenario({(3, "Price"): 1.21}, Nitrogen_offer="A 3 years"),
}
SCENARIOS = {name: each.changes for name, each in ANOTHER.items()}


@dataclass(frozen=True)
class Offer:
    """An offer in Nm³ and money."""

    name: str
    gas: str
    price: float
    band: float
    carriage: float
    rent: float


def offers(given: Scenario) -> list[Offer]:
    """The newest row of each offer up to the day of the comparison."""
    rows = [dict(zip(COLUMNS, row, strict=True)) for row in GIVEN.tables["Prices"]]
    for (number, column), value in given.prices.items():
        rows[number - 1][column] = value
    day = given.inputs.get("Compare_on", GIVEN.inputs["Compare_on"])
    newest: dict[tuple[str, str], dict[str, Any]] = {}
    for row in sorted(rows, key=lambda row: row["Valid from"]):
        if row["Valid from"] <= day:
            newest[row["Gas"], row["Offer"]] = row
    return [offer(row) for row in newest.values()]


def offer(row: Mapping[str, Any]) -> Offer:
    gas, of = row["Gas"], in_nm3(row["Gas"], row["Per"])
    carriage = 0.0
    if row["Delivery charge"]:
        drop, unit = row["Drop"].split()
        carriage = row["Delivery charge"] / (float(drop) * in_nm3(gas, unit))
    price, band = row["Price"] / of, (row["Price band"] or 0) / of
    return Offer(f"{gas}, {row['Offer']}", gas, price, band, carriage, row["Rent"] or 0)


def uses(gas: str, c: Mapping[str, Any]) -> list[float]:
    """Nm³ of backfills, hold and flow."""
    kelvin = c["Settled"] + 273.15

    def density(bar: float) -> float:
        return float(PropsSI("Dmolar", "T", kelvin, "P", bar * 1e5, gas))

    filled = c["Volume"] * (density(c["To"] + SITE) - density(c["From"] / 1000))
    held = c["Pumping"] * c["Hold_hours"] * c["Hold_at"] * 100 / (R * 293.15)
    of = NORMAL[gas]
    return [c["Backfills"] * filled / of, held / of, c["Flow_rate"] * c["Flow_hours"]]


SITE = 1.01325 * (1 - 0.0065 * 210 / 288.15) ** 5.25588
"""bar(a) at 210 m, ICAO standard atmosphere (memory)."""

Errors = dict[str, float]


def errors(use: int, gas: str, c: Mapping[str, Any]) -> Errors:
    """What a use may be off, in per cent, by what makes it so."""
    own: tuple[Errors, ...] = (
        {
            "volume": c["Volume_off"],
            "pressure": c["To_off"],
            "temperature": 100 * c["Settled_off"] / (c["Settled"] + 273.15),
        },
        {"pump": c["Pumping_off"]},
        {"flow": c["Flow_off"]},
    )
    loss = c[f"{gas.capitalize()}_loss"]
    off = 100 * c[f"{gas.capitalize()}_loss_off"] / (100 - loss)
    return {**own[use], f"loss of {gas}": off}


@dataclass(frozen=True)
class Load:
    """A load by one offer: what is bought by use, and what a Nm³ of it costs."""

    offer: Offer
    bought: list[float]
    month: float
    inputs: Mapping[str, Any]

    @property
    def all_in(self) -> float:
        return self.offer.price + self.offer.carriage + self.offer.rent / self.month

    @property
    def cost(self) -> float:
        return sum(self.bought) * self.all_in

    def moves(self, sign: float = 1, priced: bool = True) -> Errors:
        """Money by which each error moves the cost."""
        found: Errors = {}
        gas = self.offer.gas
        for use, amount in enumerate(self.bought):
            each = errors(use, gas, self.inputs)
            for name, percent in each.items():
                found[name] = found.get(name, 0) + sign * amount * self.all_in * percent / 100
        rent = self.offer.rent / self.month * self.inputs["Loads_off"] / 100
        found[f"tank of {gas}"] = sign * sum(self.bought) * rent
        if priced:
            found[f"price of {gas}"] = sign * sum(self.bought) * self.offer.band
        return found


def together(*moves: Errors) -> float:
    """Half the width of the band: errors of one name add up, others in quadrature."""
    names = set(chain.from_iterable(moves))
    return sqrt(sum(sum(each.get(name, 0) for each in moves) ** 2 for name in names))


def loads(given: Scenario) -> dict[str, Load]:
    c = {**GIVEN.inputs, **given.inputs}
    found = {}
    for each in offers(given):
        loss = c[f"{each.gas.capitalize()}_loss"] / 100
        bought = [amount / (1 - loss) for amount in uses(each.gas, c)]
        found[each.name] = Load(each, bought, c[f"{each.gas.capitalize()}_month"], c)
    return found


def compared(given: Scenario) -> dict[str, Load]:
    """The load by gas: by the offer chosen, or else the cheapest."""
    by_gas = {}
    for gas in GASES:
        own = {n: each for n, each in loads(given).items() if each.offer.gas == gas}
        chosen = given.inputs.get(f"{gas.capitalize()}_offer")
        cheapest = min(own, key=lambda name, own=own: own[name].cost)  # type: ignore[misc]
        by_gas[gas] = own[f"{gas}, {chosen}" if chosen else cheapest]
    return by_gas


def expected(given: Scenario) -> dict[str, float]:
    load = compared(given)
    c = load["argon"].inputs
    a, n = load["argon"], load["nitrogen"]
    more = a.cost - n.cost
    band = together(a.moves(), n.moves(-1))
    year = 12 * c["Loads"] * more
    found = {
        "Argon_cost": a.cost,
        "Argon_band": together(a.moves()),
        "Nitrogen_cost": n.cost,
        "Nitrogen_band": together(n.moves()),
        "Difference": more,
        "Difference_band": band,
        "Year_difference": year,
        "Year_band": sqrt((12 * c["Loads"] * band) ** 2 + (year * c["Loads_off"] / 100) ** 2),
    }
    for gas, own, other in (("Argon", a, n), ("Nitrogen", n, a)):
        price = own.offer.price + (other.cost - own.cost) / sum(own.bought)
        if price > 0:
            even = replace(own, offer=replace(own.offer, price=price))
            moved = together(even.moves(priced=False), other.moves(-1))
            found[f"{gas}_parity"] = price
            found[f"{gas}_parity_band"] = moved / sum(own.bought)
    return found


def agree(found: Computed, wanted: Mapping[str, float]) -> None:
    for name, value in wanted.items():
        assert found[name] == pytest.approx(value, rel=3e-4, abs=1e-6), name


@pytest.fixture(scope="module")
def book() -> Path:
    return start(BOOK, GIVEN, ROWS)


Edited = Callable[..., Computed]


@pytest.fixture(scope="module")
def edited(book: Path, tmp_path_factory: pytest.TempPathFactory) -> Edited:
    def change(changes: Mapping[str, Any] | None = None, **inputs: Any) -> Computed:
        return computed(
            book, tmp_path_factory.mktemp("x") / "b.xlsx", {**(changes or {}), **inputs}
        )

    return change


def said(found: Computed) -> tuple[str, str]:
    return found["Answer_level"], found["Answer"]


def test_demo_by_hand(book: Path) -> None:
    found = Computed(book)
    agree(found, expected(scenario()))
    level, sentence = said(found)
    assert level == "in order"
    assert sentence.startswith("Stay with nitrogen: it is the cheaper by EUR 7,580 ± 870 a year.")
    assert found["Argon_parity"] == "none"


def test_each_offer_stays_itself(book: Path) -> None:
    """Two offers of one gas from one day are two rows, never their mean."""
    found = Computed(book)
    wanted = loads(scenario())
    names = [name for name in SHEETS.column(found, "Compare.Offer") if name]
    assert sorted(names) == sorted(wanted)
    costs = SHEETS.column(found, "Compare.Load")
    bands = SHEETS.column(found, "Compare.Load band")
    for row, name in enumerate(names):
        assert costs[row] == pytest.approx(wanted[name].cost, rel=3e-4)
        assert bands[row] == pytest.approx(together(wanted[name].moves()), rel=3e-4)
    assert {"nitrogen, A 3 years", "nitrogen, A 1 year"} <= set(names)


@pytest.mark.parametrize("name", list(ANOTHER))
def test_scenario(name: str, edited: Edited) -> None:
    found = edited(SCENARIOS[name])
    agree(found, expected(ANOTHER[name]))
    level, sentence = said(found)
    levels = {
        "argon is the cheaper": ("act", "Change to argon: it costs less than nitrogen by EUR "),
        "titanium": ("act", "Stop: Nitrogen is not an option for titanium alloy: nitrides form."),
        "nearly alike": ("cannot tell", "Cannot tell which gas is the cheaper."),
    }
    wanted = levels.get(name, ("in order", "Stay with nitrogen"))
    assert (level, sentence[: len(wanted[1])]) == wanted
    if name == "nearly alike":
        assert "What would tell most: argon loss, " in sentence


def test_an_older_day_keeps_its_price(edited: Edited) -> None:
    """A newer row does not change what an older day is judged by."""
    found = edited(SCENARIOS["an older day"])
    assert found["Nitrogen_price"] == pytest.approx(0.152)
    assert found["Nitrogen_name"] == "nitrogen, A now"
    assert found["Argon_name"] == "argon, B now"
    level, sentence = said(edited(Compare_on=45000))
    assert level == "cannot tell"
    assert sentence.startswith("No price of nitrogen can be used on 15 Mar 2023")


def test_a_price_that_ended_is_not_compared(edited: Edited) -> None:
    until = serial(dt.date(2026, 12, 31))
    found = edited(SHEETS.typed("Prices", 3, Valid_until=until))
    assert found["Nitrogen_name"] == "nitrogen, A 1 year"


def test_price_of_equal_cost_leaves_no_difference(edited: Edited) -> None:
    given = ANOTHER["a parity of argon"]
    turn = expected(given)["Argon_parity"]
    found = edited({**given.changes, **SHEETS.typed("Prices", 5, Price=turn)})
    assert found["Difference"] == pytest.approx(0, abs=2e-3)
    assert found["Cheaper"] == "cannot tell"


def test_prices_are_those_of_supply_offers() -> None:
    """What its block for other books tells stands here, digit by digit as far as it is typed."""
    block = read_values(TEMPLATES / "supply_offers.xlsx")["For other books"]
    told: dict[Any, Any] = {
        block[row, 2]: block[row, 3] for row in range(5, 20) if (row, 2) in block
    }
    row = dict(zip(COLUMNS, GIVEN.tables["Prices"][2], strict=True))
    assert (row["Gas"], row["Offer"]) == (told["Gas"], told["The cheapest offer"])
    assert serial(row["Valid from"]) == told["From"]
    assert row["Price"] == round(told["Price in effect by it, all charges in it"], 4)
    assert (row["Per"], row["Price band"]) == (told["for a"], round(told["its 95 % band"], 4))
    assert row["Where from"].startswith("Supply offers, ")


def test_rent_stands_in_a_price_with_all_charges(edited: Edited) -> None:
    found = edited(SHEETS.typed("Prices", 3, Rent=180))
    assert found[SHEETS.place("Prices.Check", 3)].startswith("rent and deliveries are in this")
    assert found["Nitrogen_name"] == "nitrogen, A 1 year"
    assert found["Checks_wrong"] == 1


def test_a_charge_without_a_drop_is_told(edited: Edited) -> None:
    found = edited(SHEETS.typed("Prices", 4, Drop=None))
    assert "type what one brings" in found[SHEETS.place("Prices.Check", 4)]


def test_more_offers_than_there_is_room_are_told(edited: Edited) -> None:
    day = serial(GIVEN.inputs["Compare_on"])
    more: dict[str, Any] = {}
    for row in range(7, 12):
        more |= SHEETS.typed(
            "Prices", row, Gas="argon", Offer=f"F {row}", Valid_from=day, Price=1, Per="Nm3",
            Price_is="goods", Where_from="quote",
        )  # fmt: skip
    found = edited(more)
    told = [value for value in found.values["Checks"].values() if isinstance(value, str)]
    assert any(each.startswith("10 offers hold on the day") for each in told)


@pytest.mark.parametrize(
    ("material", "word", "by", "level", "begins"),
    [
        ("titanium alloy", "not asked", None, "act", "Stop: Nitrogen is not an option for titani"),
        ("austenitic stainless steel", "not asked", None, "watch", "Ask a metallurgist before"),
        ("titanium alloy", "nitrogen is allowed", "J. Reed, 3 Nov", "in order", "Stay with nitrog"),
        (
            "titanium alloy",
            "nitrogen is allowed",
            None,
            "act",
            "Stop: A metallurgist's word counts",
        ),
        (
            "tool or high-speed steel",
            "argon only",
            "J. Reed",
            "act",
            "Stop: The metallurgist wants",
        ),
    ],
)
def test_material(
    material: str, word: str, by: str | None, level: str, begins: str, edited: Edited
) -> None:
    found = edited(Material=material, Word=word, Word_by=by)
    assert found["Answer_level"] == level
    assert found["Answer"].startswith(begins)
    assert "metallurgist" in found["Material_words"]
    assert found["Checks_wrong"] == (1 if word == "nitrogen is allowed" and not by else 0)


def test_argon_for_who_wants_argon_is_in_order(edited: Edited) -> None:
    found = edited(Word="argon only", Word_by="J. Reed", Gas_now="argon")
    assert found["Answer_level"] == "in order"


def test_argon_today_and_not_an_option_is_no_alarm(edited: Edited) -> None:
    found = edited(Material="titanium alloy", Gas_now="argon")
    assert found["Answer_level"] == "watch"
    assert found["Answer"].startswith("Nitrogen is not an option for titanium alloy")


def test_sensitivity_meets_the_cost(book: Path) -> None:
    """At 100 % each table tells the cost; at twice the price, pressure or loads, that of theirs."""
    found = Computed(book)
    now, twice = 4, 8
    wanted = expected(scenario())
    for table in ("ByPrice", "ByLoads", "ByPressure"):
        for gas in ("Argon", "Nitrogen"):
            place = SHEETS.place(f"{table}.{gas}", now)
            assert found[place] == pytest.approx(found[f"{gas}_cost"])
        place = SHEETS.place(f"{table}.Argon less nitrogen, a year", now)
        assert found[place] == pytest.approx(wanted["Year_difference"], rel=3e-4)
    load = compared(scenario())["argon"]
    dear = replace(load.offer, price=2 * load.offer.price)
    assert found[SHEETS.place("ByPrice.Argon", twice)] == pytest.approx(
        replace(load, offer=dear).cost, rel=3e-4
    )
    count = GIVEN.inputs["Loads"]
    often = replace(load, month=load.month + count * sum(load.bought))
    assert found[SHEETS.place("ByLoads.Argon", twice)] == pytest.approx(often.cost, rel=3e-4)
    high = scenario(To=2 * (GIVEN.inputs["To"] + SITE) - SITE)
    fuller = compared(high)["argon"]
    fuller = replace(fuller, month=load.month + count * (sum(fuller.bought) - sum(load.bought)))
    assert found[SHEETS.place("ByPressure.Argon", twice)] == pytest.approx(fuller.cost, rel=3e-4)


def test_parity_line_passes_through_equal_costs(book: Path) -> None:
    found = Computed(book)
    a, n = (compared(scenario())[gas] for gas in ("argon", "nitrogen"))
    prices = SHEETS.column(found, "Parity.Nitrogen price")
    even = SHEETS.column(found, "Parity.Argon price, same cost")
    for price, other in list(zip(prices, even, strict=True))[4:]:
        cost = replace(n, offer=replace(n.offer, price=price)).cost
        assert replace(a, offer=replace(a.offer, price=other)).cost == pytest.approx(cost, rel=3e-4)


def test_inputs_that_do_not_go_together_are_told(edited: Edited) -> None:
    found = edited(To=-0.9, From=200)
    assert "not above the pressure before" in str(found.values["Checks"])
    assert found["Answer_level"] == "cannot tell"
    found = edited(Argon_month=100)
    assert "more gas than is bought for the tank" in str(found.values["Checks"])


def test_a_price_with_its_point_misplaced_is_asked_about(edited: Edited) -> None:
    told = "one price of nitrogen is over 5 times another"
    assert told not in str(edited().values["Checks"])
    assert told in str(edited(SHEETS.typed("Prices", 2, Price=16)).values["Checks"])


def test_us_units_tell_the_same(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(BOOK, path, US, GIVEN)
    metric, us = Computed(book), Computed(path)
    for name in ("Argon_cost", "Nitrogen_cost", "Year_difference", "Year_band"):
        assert us[name] == pytest.approx(metric[name], rel=2e-3), name
    # A scf (70 °F, 14.696 psia) is 0.026284 Nm³ of ideal gas.
    assert us["Nitrogen_parity"] == pytest.approx(metric["Nitrogen_parity"] * 0.026284, rel=3e-3)
