"""Functions that stand in for the library's, and workbooks to use them in."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import xlsxwriter

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values, recalculate


@dataclass(frozen=True)
class Parameter:
    name: str
    required: bool = True
    whole: bool = False
    variadic: bool = False


@dataclass
class Function:
    name: str
    parameters: tuple[Parameter, ...]
    compute: Callable[..., Any]
    spills: bool = False
    asked: list[tuple[Any, ...]] = field(default_factory=list)

    def cells(self, *arguments: Any) -> Any:
        self.asked.append(arguments)
        return self.compute(*arguments)


def each(function: Callable[..., Any]) -> Callable[..., Any]:
    """Element by element over ranges; an error argument is the answer."""

    def one(*values: Any) -> Any:
        errors = [value for value in values if isinstance(value, CellError)]
        return errors[0] if errors else function(*values)

    def many(*arguments: Any) -> Any:
        tables = [argument for argument in arguments if isinstance(argument, list)]
        if not tables:
            return one(*arguments)
        rows, columns = max(map(len, tables)), max(len(table[0]) for table in tables)

        def pick(argument: Any, i: int, j: int) -> Any:
            if not isinstance(argument, list):
                return argument
            row = argument[i if len(argument) > 1 else 0]
            return row[j if len(row) > 1 else 0]

        return [
            [one(*(pick(argument, i, j) for argument in arguments)) for j in range(columns)]
            for i in range(rows)
        ]

    return many


def is_number(value: Any) -> bool:
    return isinstance(value, float) and not isinstance(value, bool)


def _twice(value: Any) -> Any:
    return 2 * value if is_number(value) else CellError("#VALUE!", f"value: {value!r} is no number")


def _total(table: Any) -> Any:
    rows = table if isinstance(table, list) else [[table]]
    return sum(value for row in rows for value in row if is_number(value))


def _steps(count: Any) -> Any:
    if not is_number(count) or count < 1:
        return CellError("#NUM!", "count: must be 1 or more")
    return [[float(step), f"step {step}"] for step in range(1, int(count) + 1)]


def functions() -> dict[str, Function]:
    value = Parameter("value")
    made = [
        Function("GAS_TWICE", (value,), each(_twice)),
        Function(
            "GAS_ADD",
            (value, Parameter("other", required=False)),
            each(lambda one, other=None: (one or 0) + (other or 0)),
        ),
        Function("GAS_TOTAL", (Parameter("table", whole=True),), _total),
        Function("GAS_STEPS", (Parameter("count"),), _steps, spills=True),
        Function("GAS_SEEN", (value,), each(lambda seen: f"{type(seen).__name__} {seen}")),
        Function("GAS_NOTHING", (), lambda: None),
        Function("GAS_ENDLESS", (), lambda: float("inf")),
    ]
    return {function.name: function for function in made}


def build(path: Path, formulas: Mapping[str, Any], sheet: str = "Main") -> Path:
    """A workbook of one sheet: cell -> value, formula, or array formula in braces."""
    workbook = xlsxwriter.Workbook(path)
    worksheet = workbook.add_worksheet(sheet)
    for cell, content in formulas.items():
        if isinstance(content, str) and content.startswith("{"):
            worksheet.write_dynamic_array_formula(f"{cell}:{cell}", content.strip("{}"))
        else:
            worksheet.write(cell, content)
    workbook.close()
    return path


def computed(path: Path, formulas: Mapping[str, Any], **options: Any) -> dict[str, Any]:
    """The values of a workbook after recalculation: cell name -> value, errors as their codes."""
    build(path, formulas)
    report = recalculate(path, functions=options.get("functions", functions()))
    assert not [*report.problems, *report.kept], report
    return values(path)


def values(path: Path, sheet: str = "Main") -> dict[str, Any]:
    from gasfuncs.hosts.headless.addresses import cell_name

    found = read_values(path)[sheet]
    return {
        cell_name(*place): value.code if isinstance(value, CellError) else value
        for place, value in found.items()
    }


def problems(path: Path, formulas: Mapping[str, Any]) -> dict[str, str]:
    """Cell name -> why, of the cells that must be refused and keep what is stored."""
    build(path, formulas)
    before, stored = path.read_bytes(), values(path)
    report = recalculate(path, functions=functions())
    assert not report.problems or (path.read_bytes() == before and not report.written)
    told = {problem.cell: problem.why for problem in [*report.problems, *report.kept]}
    assert {cell: stored.get(cell) for cell in told} == {c: values(path).get(c) for c in told}
    return told


def called(formula: str) -> set[str]:
    """The functions that a formula calls."""
    return set(re.findall(r"(?<![\w.])([A-Z][A-Z0-9.]*)\(", formula))
