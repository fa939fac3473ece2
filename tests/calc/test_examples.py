"""Every function's example through Calc, by way of both file formats."""

from __future__ import annotations

import math
import re
import zipfile
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from gasfuncs.registry import worksheet_functions
from tests.calc import office
from tests.calc.book import Place, as_rows, expected, write_book

pytestmark = office.needs_office

EXAMPLES = [definition.example.formula for definition in worksheet_functions().values()]
WITHIN = 1e-9


@cache
def books() -> tuple[dict[str, Place], dict[str, Path]]:
    """The examples in an .xlsx file, and as Calc saved it: as .xlsx, and as .ods once more."""
    original = office.folder() / "examples.xlsx"
    places = write_book(original, EXAMPLES)
    [xlsx] = office.saved_by_calc([original], "xlsx", "as_xlsx")
    [ods] = office.saved_by_calc([original], "ods", "as_ods")
    blanked = without_values(ods)
    [from_ods] = office.saved_by_calc([blanked], "xlsx", "from_ods")
    return places, {"xlsx": xlsx, "ods": from_ods}


def without_values(ods: Path) -> Path:
    """A copy whose stored numbers are all 0, so that only calculating brings them back."""
    copy = ods.with_name("blanked.ods")
    with zipfile.ZipFile(ods) as source, zipfile.ZipFile(copy, "w") as target:
        for item in source.infolist():
            data = source.read(item)
            if item.filename == "content.xml":
                data, replaced = re.subn(rb'office:value="[^"]*"', b'office:value="0"', data)
                assert replaced >= len(EXAMPLES) / 2
            target.writestr(item, data)
    return copy


def same(computed: Any, wanted: Any) -> bool:
    """Equal to 1e-9; a blank in a table may come back as an empty text."""
    if isinstance(computed, int | float) and isinstance(wanted, int | float):
        return math.isclose(computed, wanted, rel_tol=WITHIN, abs_tol=1e-12)
    return (computed or None) == (wanted or None)


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
@pytest.mark.parametrize("formula", EXAMPLES)
def test_example_gives_the_value_of_python(kind: str, formula: str) -> None:
    places, files = books()
    computed = as_rows(places[formula].answer_in(office.values(files[kind])))
    wanted = as_rows(expected(formula))
    assert len(computed) == len(wanted)
    for computed_row, wanted_row in zip(computed, wanted, strict=True):
        for one, other in zip(computed_row, wanted_row, strict=True):
            assert same(one, other), f"{one!r} is not {other!r}"


def test_a_file_saved_by_calc_calls_the_functions_by_their_own_names() -> None:
    places, files = books()
    for kind, file in files.items():
        sheet = openpyxl.load_workbook(file).worksheets[0]
        for formula, place in places.items():
            stored = sheet.cell(place.row + 1, 1).value
            text = getattr(stored, "text", stored)
            saved, wanted = as_rows(expected(text)), as_rows(expected(formula))
            assert saved == wanted, f"{kind}: {text}"


def test_an_ods_file_stores_service_and_function() -> None:
    books()
    with zipfile.ZipFile(office.folder() / "as_ods/examples.ods") as file:
        content = file.read("content.xml").decode()
    for name in worksheet_functions():
        assert f"GASFUNCS.{name}(" in content
