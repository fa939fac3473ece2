"""The wrappers and texts that xlwings writes into a workbook, and which host asks for them."""

from __future__ import annotations

import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

import gasfuncs
from gasfuncs.definition.names import is_cell_address
from gasfuncs.registry import worksheet_functions
from tests.excel import door
from tests.excel.renew import SNAPSHOT

# Limits of Visual Basic and Excel, from memory of Microsoft's documentation.
LONGEST_LINE = 1023
MOST_CONTINUATIONS = 24
MOST_ARGUMENTS = 60
LONGEST_TEXT = 255

USED_BY_THE_WRAPPERS = {
    "app", "application", "argsarray", "array", "calludf", "caller", "description", "err",
    "failed", "k", "lbound", "range", "thisworkbook", "typeof", "ubound", "xlpy",
}  # fmt: skip


@cache
def imported() -> door.Imported:
    return door.through(door.imported)  # type: ignore[no-any-return]


def signatures() -> dict[str, list[str]]:
    """The functions with their arguments, as the wrappers declare them."""
    plain = imported().wrappers.replace(" _\n", "")
    found = re.findall(r"^Function (\w+)\((.*)\)$", plain, re.MULTILINE)
    return {name: arguments.split(", ") if arguments else [] for name, arguments in found}


def test_the_wrappers_are_those_of_the_snapshot() -> None:
    """Renew it with `python -m tests.excel.renew` and read the difference."""
    assert imported().wrappers == SNAPSHOT.read_text()


def test_every_function_has_a_wrapper_with_its_arguments() -> None:
    found = signatures()
    assert found.keys() == worksheet_functions().keys()
    for name, definition in worksheet_functions().items():
        declared = found[name]
        for parameter, argument in zip(definition.parameters, declared, strict=False):
            if parameter.variadic:
                assert argument == f"Optional {parameter.name}1"
            else:
                assert argument == f"{'' if parameter.required else 'Optional '}{parameter.name}"


def test_a_function_that_explains_takes_as_many_arguments_as_any_other_has() -> None:
    longest = max(len(definition.parameters) for definition in worksheet_functions().values())
    for name in ("GAS_WORKING", "GAS_CHECK"):
        assert len(signatures()[name]) == 1 + longest
    assert "ParamArray" not in imported().wrappers


def test_names_are_legal_and_hide_nothing_that_the_wrappers_use() -> None:
    for name, declared in signatures().items():
        arguments = [argument.removeprefix("Optional ").lower() for argument in declared]
        assert not is_cell_address(name)
        assert len(set(arguments)) == len(arguments) <= MOST_ARGUMENTS
        assert not USED_BY_THE_WRAPPERS & {name.lower(), *arguments}
        for word in (name, *arguments):
            assert re.fullmatch("[A-Za-z][A-Za-z0-9_]{0,254}", word)


def test_lines_are_within_the_limits_of_visual_basic() -> None:
    text = imported().wrappers
    assert max(map(len, text.splitlines())) <= LONGEST_LINE
    assert not re.search(rf"(.* _\n){{{MOST_CONTINUATIONS + 1}}}", text)
    assert text.isascii()


def test_the_function_dialog_shows_the_texts_of_the_registry() -> None:
    dialog = imported().dialog
    assert dialog.keys() == worksheet_functions().keys()
    for name, definition in worksheet_functions().items():
        texts = dialog[name]
        assert texts["Category"] == "Gas"
        assert texts["Description"] == definition.summary
        told = texts["ArgumentDescriptions"] or []
        assert len(told) == len(signatures()[name])
        for parameter, text in zip(definition.parameters, told, strict=False):
            assert text == parameter.description
        for text in (texts["Description"], *told):
            assert 1 <= len(text) <= LONGEST_TEXT


def test_only_this_host_imports_xlwings() -> None:
    house = Path(gasfuncs.__file__).parent
    importing = [
        path.relative_to(house).as_posix()
        for path in house.rglob("*.py")
        if re.search(r"^\s*(import|from) xlwings\b", path.read_text(), re.MULTILINE)
    ]
    assert importing == ["hosts/excel/functions.py"]


def test_the_package_loads_without_xlwings() -> None:
    code = (
        "import sys; sys.modules['xlwings'] = None; from gasfuncs.hosts import excel; "
        "assert 'GAS_DENSITY' in dir(excel); excel.install(dry_run=True); excel.status()"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_an_unknown_name_is_no_attribute() -> None:
    from gasfuncs.hosts import excel

    with pytest.raises(AttributeError, match="GAS_NOTHING"):
        excel.GAS_NOTHING  # noqa: B018
