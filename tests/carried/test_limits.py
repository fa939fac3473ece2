"""Limits of the format: what every defined name of a carried book must keep to."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from xlsxwriter.worksheet import Worksheet

from gasfuncs.hosts.carried.arrays import NotRecordedError
from gasfuncs.hosts.carried.carriable import carried_functions
from gasfuncs.hosts.carried.names import LONGEST, call_arguments
from gasfuncs.hosts.carried.natives import HELPER
from gasfuncs.hosts.carried.nodes import Node, call, constant, variable
from gasfuncs.hosts.carried.sheet import Sheet
from gasfuncs.hosts.carried.writing import ROOM, written
from tests.carried.engines import defined_names, every_function

DEEPEST = 64
PAIRS, ARGUMENTS, LONGEST_TEXT, DIGITS = 126, 253, 255, 15
"""Of a LET, of a LAMBDA, of a text and of a number in a formula."""

CELL = re.compile(r"[A-Z]{1,3}\d{1,7}|R\d*|C\d*|R\d*C\d*", re.IGNORECASE)
"""Names that spreadsheets take for a cell, in either way to write one."""
STRING = re.compile(r'"(?:[^"]|"")*"')
VARIABLE = re.compile(r"_xl(?:pm|op)\.(\w+)")


@pytest.fixture(scope="module")
def formulas() -> dict[str, str]:
    found = defined_names(every_function())
    assert set(found) >= set(carried_functions())
    return found


def test_length_and_depth(formulas: dict[str, str]) -> None:
    for name, text in formulas.items():
        assert len(text) <= LONGEST, name
        assert depth(text) <= DEEPEST, name


def depth(text: str) -> int:
    deep = most = 0
    for letter in STRING.sub("", text):
        deep += {"(": 1, ")": -1}.get(letter, 0)
        most = max(most, deep)
        assert deep >= 0
    assert not deep
    return most


def test_newer_functions_have_their_prefix(formulas: dict[str, str]) -> None:
    """As XlsxWriter writes them, whose list of newer functions is not ours."""
    sheet = Worksheet()
    for name, text in formulas.items():
        plain = text.replace("_xlfn.", "").replace("_xlws.", "")
        prepared = sheet._prepare_formula(plain.replace("ISOMITTED", "ISBLANK"), True)
        assert prepared == text.replace("_xlfn.ISOMITTED", "ISBLANK"), name


def test_names_are_no_cells(formulas: dict[str, str]) -> None:
    for name, text in formulas.items():
        for each in {name, *VARIABLE.findall(text)}:
            assert not CELL.fullmatch(each), (name, each)
    assert CELL.fullmatch("rc")
    assert CELL.fullmatch("GAS1")


def test_variables_have_their_prefix_and_a_place(formulas: dict[str, str]) -> None:
    for name, text in formulas.items():
        bare = VARIABLE.sub("", STRING.sub("", text))
        assert not re.search(r"(?<![\w.])[a-z]\w*_(?!\w)", bare), name
        used, bound = set(VARIABLE.findall(text)), {n for _, given in lists(text) for n in given}
        assert used == bound, name


def test_variables_stand_where_they_are_bound(formulas: dict[str, str]) -> None:
    for name, text in formulas.items():
        assert not unbound(STRING.sub("", text), frozenset()), name
    assert unbound("_xlfn.LET(_xlpm.a_,1,_xlpm.a_)+_xlpm.a_", frozenset()) == {"a_"}
    assert unbound("_xlfn.LET(_xlpm.a_,_xlpm.b_,_xlpm.b_,2,_xlpm.a_)", frozenset()) == {"b_"}


def unbound(text: str, bound: frozenset[str]) -> set[str]:
    """Variables that stand outside of what binds them."""
    found = re.search(r"_xlfn\.(LET|LAMBDA)\(", text)
    if not found:
        return set(VARIABLE.findall(text)) - bound
    given, end = call_arguments(text, found.end())
    out = unbound(text[: found.start()], bound) | unbound(text[end:], bound)
    step = 2 if found[1] == "LET" else 1
    for place in range(0, len(given) - 1, step):
        if step == 2:
            out |= unbound(given[place + 1], bound)
        bound |= set(VARIABLE.findall(given[place]))
    return out | unbound(given[-1], bound)


def lists(text: str) -> Iterator[tuple[str, list[str]]]:
    """Every LET and LAMBDA of a formula with the names that it binds."""
    for found in re.finditer(r"_xlfn\.(LET|LAMBDA)\(", text):
        given, _ = call_arguments(text, found.end())
        names = given[:-1:2] if found[1] == "LET" else given[:-1]
        yield found[1], [re.sub(r"^_xl[po][mp]\.", "", name) for name in names]


def test_lists_texts_and_numbers(formulas: dict[str, str]) -> None:
    for name, text in formulas.items():
        for kind, names in lists(text):
            assert len(names) <= (PAIRS if kind == "LET" else ARGUMENTS), name
            assert len(set(names)) == len(names), name
        assert all(len(each) <= LONGEST_TEXT for each in STRING.findall(text)), name
        for number in re.findall(r"(?<![\w.$])\d+\.?\d*(?![\w.(])", STRING.sub("", text)):
            assert len(number.replace(".", "").strip("0")) <= DIGITS, (name, number)


def test_every_name_that_is_called_is_there(formulas: dict[str, str]) -> None:
    for name, text in formulas.items():
        assert set(HELPER.findall(text)) <= set(formulas), name


def test_a_long_formula_is_cut_and_one_that_cannot_be_is_refused() -> None:
    total: Node = variable("x")
    for count in range(300):
        step = Node("+", total, call("GF_LOG1P", constant(count)))
        total = Node("*", step, step)
    pieces = written("GF_LONG", ("x_",), total, Sheet())
    assert len(pieces) > 1
    for piece in pieces.values():
        assert len(piece.body) <= ROOM
        assert all(len(names) <= PAIRS for _, names in lists(piece.body))
    for one, other in zip(list(pieces)[:-1], list(pieces)[1:], strict=True):
        assert HELPER.findall(pieces[one].body).count(other) == 1
    wide = call("MAX", *(constant(count + 0.5) for count in range(2_000)))
    with pytest.raises(NotRecordedError, match="longer than spreadsheets take"):
        written("GF_WIDE", (), wide, Sheet())
