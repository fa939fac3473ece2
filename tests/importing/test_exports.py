"""Six untidy exports of one month: each gives its true use, deliveries and stock in the band."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

from gasfuncs.definition.terms import serial
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.importing.job import Outcome, mapping_file, mapping_for, run
from gasfuncs.properties import saturated
from gasfuncs.registry import worksheet_function_named
from tests.importing.exports import EXPORTS, Export
from tests.importing.plant_month import (
    CAPACITY,
    END,
    LEVEL,
    MONTH,
    PRESSURE,
    RECIPES,
    SITE,
    TICKET,
    VOLUMES,
    book_of_the_plant,
    normal,
    plant_month,
)
from tests.simulated.months import BAR, KELVIN, NITROGEN, normal_in

STOCK = LEVEL * normal(float(saturated(NITROGEN, PRESSURE * BAR).liquid_density) * CAPACITY)
"""How near a stock is told, Nm³."""
NOVEMBER = re.compile(
    r"2026-11: opening ([\d,]+) Nm3, delivered ([\d,]+), used ([\d,]+), closing ([\d,]+)"
)


@pytest.fixture(scope="module", params=EXPORTS, ids=lambda made: made.__name__)
def imported(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Export, dict[str, Outcome], Path]:
    """The book after all three files of an export; each mapping is found, then answered."""
    folder = tmp_path_factory.mktemp(request.param.__name__)
    book, export = book_of_the_plant(folder / "plant.xlsx"), request.param(folder)
    found = {}
    for kind in ("cycles", "tickets", "tank"):
        file = export.files[kind]
        mapping, questions, _ = mapping_for(kind, file, mapping_file(file))
        assert len(questions) <= 1, questions
        found[kind] = run(file, book, replace(mapping, **export.answers[kind]))
    return export, found, book


Imported = tuple[Export, dict[str, Outcome], Path]


def rows_of(book: Path, table: str) -> list[dict[str, Any]]:
    found = contents(book).tables[table]
    return [
        {heading: found.value(row, heading) for heading in found.columns}
        for row in found.rows
        if not found.is_free(row)
    ]


def test_read_is_written_and_left_out(imported: Imported) -> None:
    export, found, book = imported
    for kind, table in (("cycles", "Log"), ("tickets", "Deliveries"), ("tank", "Readings")):
        outcome = found[kind]
        entered = outcome.entered
        assert outcome.read == export.rows[kind]
        assert outcome.read == len(entered.added) + outcome.used + len(outcome.left_out)
        assert len(entered.added) == len(rows_of(book, table)) > 0
        lines = [*entered.added, *(line for line, _ in outcome.left_out)]
        assert len(set(lines)) == len(lines)


def test_the_use_of_all_cycles(imported: Imported) -> None:
    export, _, book = imported
    runs = plant_month().cycles
    if not export.aborted_told:
        runs = runs[runs["status"] == "OK"]
    used = sum(
        row["Measured"] if row["Measured"] is not None else row["Loads"] * nominal(row)
        for row in rows_of(book, "Log")
    )
    # the warmth of each load is known to 5 K, of their mean to 0.1 %; a meter rounds to 1 scf
    assert used == pytest.approx(normal(runs["use"].sum()), rel=0.003)


def nominal(row: dict[str, Any]) -> float:
    """Nm³ of a load by its recipe."""
    return float(VOLUMES[row["Furnace"]] * normal_in(RECIPES[row["Recipe"]], KELVIN))


def test_an_aborted_cycle_is_no_load(imported: Imported) -> None:
    export, found, book = imported
    loads = sum(row["Loads"] for row in rows_of(book, "Log"))
    assert loads == len(plant_month().cycles) - 1
    told = [reason for _, reason in found["cycles"].left_out]
    assert any("was aborted" in reason for reason in told) is not export.aborted_told


def test_deliveries_by_ticket(imported: Imported) -> None:
    _, _, book = imported
    convert = worksheet_function_named("GAS_DELIVERED")
    rows = rows_of(book, "Deliveries")
    told = sum(float(convert("nitrogen", f"{row['Quantity']} {row['Unit']}")) for row in rows)
    assert told == pytest.approx(normal(plant_month().delivered), rel=TICKET)
    assert [row["Ticket"] for row in rows] in (["D701", "D702"], ["D702", "D701"])


def test_stock_at_the_months_ends(imported: Imported) -> None:
    _, _, book = imported
    month, stock = plant_month(), worksheet_function_named("GAS_TANK_STOCK")
    found = {row["Date"]: row for row in rows_of(book, "Readings")}
    for day, truth in ((MONTH, month.opening), (END, month.closing)):
        row = found[serial(day)]
        pressure = f"{row['Pressure'] + SITE} bar(a)"
        told = stock("nitrogen", f"{row['Level']} L(liq)", f"{CAPACITY} m3(liq)", pressure)
        assert float(told) == pytest.approx(normal(truth), abs=1.1 * STOCK)


def test_the_tanks_own_account(imported: Imported) -> None:
    _, found, _ = imported
    month = plant_month()
    (match,) = filter(None, map(NOVEMBER.match, found["tank"].notes))
    opening, delivered, used, closing = (float(text.replace(",", "")) for text in match.groups())
    assert opening == pytest.approx(normal(month.opening), abs=1.1 * STOCK)
    assert closing == pytest.approx(normal(month.closing), abs=1.1 * STOCK)
    # the level tells each of two deliveries and the two ends within its scatter
    assert delivered == pytest.approx(normal(month.delivered), abs=4 * STOCK)
    assert used == pytest.approx(normal(month.used), abs=6 * STOCK)
    assert len([note for note in found["tank"].notes if note.startswith("delivery")]) == 2
