"""The argon or nitrogen book against costs worked out here, by scenario."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from gasfuncs.workbooks.argon_nitrogen_cost import NAME
from gasfuncs.workbooks.building import build
from tests.workbooks.editing import answers, cell_value, changed, typed_inputs

R = 8.314462618
# Second virial coefficients at 20 °C in cm³/mol, between the values of Dymond and Smith's
# compilation for 300 K and 273 K, from memory: nitrogen -5.8, argon -16.9.
VIRIAL = {"Nitrogen": -5.8e-6, "Argon": -16.9e-6}
NORMAL_MOL = 101_325 / (R * 273.15)
"""mol in a Nm³ of ideal gas; the real gases differ by less than 0.1 %."""

DEMO: dict[str, Any] = {
    "volume": 4.2, "low": 1e-5, "high": 6.0, "times": 1, "loads": 24,
    "hold": 0.001 * 250 * 1.5, "flow": 2 * 0.5,
    "Nitrogen": {"price": 0.16, "loss": 0.06, "rental": 420, "charge": 95, "sharers": 114,
                 "delivered": 5500 * 636.77 / 1000 / 1.2504},
    "Argon": {"price": 0.95, "loss": 0.09, "rental": 180, "charge": 55, "sharers": 75,
              "delivered": 800 * 1151.8 / 1000 / 1.7840},
}  # fmt: skip
"""Deliveries in Nm³: L at 13 bar(a) times liquid density over normal density (CoolProp 8)."""

SCENARIOS: dict[str, dict[str, Any]] = {
    "another load, argon by the kilogram": {
        "Volume": 10,
        "To": 2,
        "Backfills": 3,
        "Hold_hours": 0,
        "Flow_hours": 0,
        "Loads": 60,
        "Argon_loss": 0,
        "Prices!D9": 0.70,
        "Prices!E9": "kg",
    },
    "argon is cheaper": {"Prices!D8": 3.0, "Nitrogen_rental": 0, "Nitrogen_charge": 0},
    "a rental that no price makes good": {"Argon_rental": 5000},
    "an older day": {"Compare_on": 45900},
}


def backfill(gas: str, volume: float, low: float, high: float) -> float:
    """Nm³ into a vessel at 20 °C, from bar to bar, with the second virial coefficient."""

    def molar(pressure: float) -> float:
        ideal = pressure * 1e5 / (R * 293.15)
        return ideal / (1 + VIRIAL[gas] * ideal)

    return volume * (molar(high) - molar(low)) / NORMAL_MOL


def expected(**given: Any) -> dict[str, float]:
    """Cost of a load with each gas, their difference, and the prices that make them equal."""
    c = {**DEMO, **given}
    found: dict[str, float] = {}
    bought, besides = {}, {}
    for gas in ("Nitrogen", "Argon"):
        supply = c[gas]
        used = c["times"] * backfill(gas, c["volume"], c["low"], c["high"])
        used += c["hold"] * 273.15 / 293.15 / 1.01325 + c["flow"]
        bought[gas] = used / (1 - supply["loss"])
        besides[gas] = (
            bought[gas] * supply["charge"] / supply["delivered"]
            + supply["rental"] / supply["sharers"]
        )
        found[f"{gas}_used"] = used
        found[f"{gas}_cost"] = bought[gas] * supply["price"] + besides[gas]
    found["Difference"] = found["Argon_cost"] - found["Nitrogen_cost"]
    found["Difference_year"] = 12 * c["loads"] * found["Difference"]
    for gas, other in (("Nitrogen", "Argon"), ("Argon", "Nitrogen")):
        found[f"{gas}_parity"] = (found[f"{other}_cost"] - besides[gas]) / bought[gas]
    return found


def agree(found: dict[str, Any], wanted: dict[str, float]) -> None:
    for name, value in wanted.items():
        assert found[name] == pytest.approx(value, rel=4e-3), name


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("cost") / f"{NAME}.xlsx"
    build(NAME, path)
    return path


def test_demo_by_hand(book: Path) -> None:
    found = answers(book)
    agree(found, expected())
    parts = sum(found[f"Argon_{part}"] for part in
                ("cost_used", "cost_lost", "cost_carried", "cost_fixed"))  # fmt: skip
    assert parts == pytest.approx(found["Argon_cost"])
    sentence = cell_value(book, "Start", "B4")
    assert sentence.startswith("A load costs EUR 30.9")
    assert "with argon at EUR 0.12" in sentence


def test_price_at_the_turn_makes_them_equal(book: Path, tmp_path: Path) -> None:
    """The argon price that the book tells, typed as a newer price, leaves no difference."""
    turn = answers(book)["Argon_parity"]
    row = {("Prices", "B10"): 46300, ("Prices", "C10"): "argon", ("Prices", "D10"): turn,
           ("Prices", "E10"): "Nm3"}  # fmt: skip
    found = changed(book, tmp_path / "b.xlsx", row)
    assert found["Argon_price"] == pytest.approx(turn)
    assert found["Difference"] == pytest.approx(0, abs=1e-6)


def test_other_load_and_prices_in_other_units(book: Path, tmp_path: Path) -> None:
    """Three backfills to 2 bar; argon by the kilogram: 1.784 kg/Nm³."""
    found = changed(book, tmp_path / "b.xlsx", SCENARIOS["another load, argon by the kilogram"])
    agree(found, expected(volume=10, high=2, times=3, hold=0, flow=0, loads=60,
                          Argon={**DEMO["Argon"], "loss": 0, "price": 0.70 * 1.784}))  # fmt: skip


def test_argon_that_is_cheaper(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "b.xlsx"
    found = changed(book, path, SCENARIOS["argon is cheaper"])
    supply = {**DEMO["Nitrogen"], "price": 3.0, "rental": 0, "charge": 0}
    agree(found, expected(Nitrogen=supply))
    assert " less, EUR " in cell_value(path, "Start", "B4")


def test_rental_that_no_price_makes_good(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "b.xlsx"
    found = changed(book, path, SCENARIOS["a rental that no price makes good"])
    assert not isinstance(found["Argon_parity"], float)
    sentence = cell_value(path, "Start", "B4")
    assert "Even free argon would cost more; they cost the same with nitrogen at EUR" in sentence


def test_older_prices_hold_on_an_older_day(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path / "b.xlsx", SCENARIOS["an older day"])
    assert found["Argon_price"] == pytest.approx(0.49 * 1.784, rel=1e-3)
    path = tmp_path / "c.xlsx"
    changed(book, path, {"Compare_on": 45000})
    assert cell_value(path, "Start", "B4").startswith("A price is missing")


def test_inputs_that_do_not_go_together_are_told(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "b.xlsx"
    changed(book, path, {"From": 1000, "To": 0.05})
    assert "not above the pressure before" in cell_value(path, "Start", "B4")
    changed(book, path, {"Argon_sharers": 23})  # fewer loads on the tank than are compared
    assert "out of range" in cell_value(path, "Start", "B4")


def test_sensitivity_meets_compare_in_the_middle(book: Path) -> None:
    """At 100 % each table tells the cost of Compare; at twice the pressure, that of its load."""
    found = answers(book)
    for row in (12, 29, 47):
        assert cell_value(book, "Sensitivity", f"B{row}") == 1
        assert cell_value(book, "Sensitivity", f"D{row}") == pytest.approx(found["Argon_cost"])
        assert cell_value(book, "Sensitivity", f"E{row}") == pytest.approx(found["Nitrogen_cost"])
    twice = expected(high=12.0)
    assert cell_value(book, "Sensitivity", "D51") == pytest.approx(twice["Argon_cost"], rel=4e-3)


@pytest.mark.parametrize(
    ("material", "word", "begins", "verdict"),
    [
        ("titanium alloy", "not asked", "Nitrogen is not an option for titanium alloy",
         "not an option"),
        ("austenitic stainless steel", "not asked", "Ask a metallurgist before", "ask"),
        ("titanium alloy", "nitrogen is allowed", "The metallurgist allows nitrogen", "allowed"),
        ("tool or high-speed steel", "argon only", "The metallurgist wants argon only",
         "not an option"),
    ],
)  # fmt: skip
def test_material(
    book: Path, tmp_path: Path, material: str, word: str, begins: str, verdict: str
) -> None:
    path = tmp_path / "b.xlsx"
    found = changed(book, path, {"Material": material, "Word": word})
    assert cell_value(path, "Start", "B4").startswith(begins)
    assert found["Verdict"] == verdict


def test_us_units_tell_the_same(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(NAME, path, "US")
    metric, us = answers(book), answers(path)
    assert cell_value(path, "Start", "D7") == "USD"
    assert us["Difference"] == pytest.approx(metric["Difference"], rel=2e-3)
    # 100 scf (70 °F, 14.696 psia) are 2.6284 Nm³ of ideal gas.
    assert us["Argon_parity"] == pytest.approx(metric["Argon_parity"] * 2.6284, rel=5e-3)


def test_blank_absurd_and_text(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "b.xlsx"
    inputs = typed_inputs(book)
    for changes in (
        dict.fromkeys(inputs), {"Volume": "big"}, {"To": 900}, {"Nitrogen_loss": 100},
        {"Material": "cheese"},
    ):  # fmt: skip
        changed(book, path, changes)
        assert cell_value(path, "Start", "B4").startswith("Some inputs are missing")
        assert cell_value(path, "Start", "C7") == "-"
    for mistyped in (
        {("Prices", "D7"): "x"},
        {("Prices", "E8"): "barrel"},
        {("Prices", "B9"): None},
    ):
        found = changed(book, path, mistyped)
        assert found["Rows_wrong"] == 1
        assert "cannot be calculated" in cell_value(path, "Start", "B4")


def test_empty_book(tmp_path: Path) -> None:
    path = tmp_path / "empty.xlsx"
    build(NAME, path, filled=False)
    assert cell_value(path, "Start", "B4").startswith("Some inputs are missing")
