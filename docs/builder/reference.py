"""The pages of the function reference, from the definitions."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from html import escape
from typing import Any

import verified
from mathematics import equation_html, symbol
from tables import code, formula, table

from gasfuncs.cli.printing import told
from gasfuncs.definition import Columns, Definition, Parameter
from gasfuncs.definition.terms import Quantity, Term
from gasfuncs.explain.working import working_rows
from gasfuncs.hosts import formula as host
from gasfuncs.registry import topics, worksheet_functions
from tests.checks.kinds import Refusal

MOST_ROWS = 14

ABOUT = {
    "conditions": "Units, site pressure, gauge and absolute, grades of purity.",
    "volume": "What a vessel holds, what a cylinder gave, flows at their own conditions.",
    "tank": "A tank: stock of liquid and vapour, level, evaporation, holding time.",
    "delivery": "What a ticket stands for, whether the level agrees, what the tank is like after.",
    "liquid": "Liquid and gas of one another: expansion, conversion, flash, vaporizer.",
    "backfill": "Gas that a furnace takes: backfills, partial-pressure holds, flows, cycles.",
    "furnace": "Hot and cold zones, the heat of a fast fill, settling, topping up, recovery.",
    "reservoir": "The buffer beside the furnace: size, what is left, time to recharge.",
    "line": "Flow and pressure drop through a line, valves, what a line holds.",
    "fill": "Backfill from a reservoir through a line: time, course, the bore it needs.",
    "purge": "Getting air out: vent and fill, sweeping, evacuation, and the three compared.",
    "vacuum": "Conductance of a line, and the time to pump a vessel down.",
    "pumpdown": "Gas load of a vessel, the pressure a pump holds against it, and the way there.",
    "purity": "What hoses, joints and walls add to the gas on its way, and how old a reading is.",
    "acceptance": "Whether what was read after a purge is good enough.",
    "leak": "Leak rates: conversion, tracer gases, impurity, loss, equivalent hole.",
    "tightness": "Pressure rise and decay tests: the leak, its band, and the verdict.",
    "moisture": "Dew point and water by volume, at any pressure.",
    "cost": "Prices in any unit, the cost of a load, the price at which two gases are equal.",
    "contract": "Index clauses, what a contract costs over its months, invoices held against it.",
    "supply": "Stock, reorder level and date, risk of running short.",
    "balance": "Gas that no use explains: how much, how surely, and as what leak.",
    "forecast": "Out of a tank's history: deliveries and use, the use to come, the risk.",
    "room": "Oxygen in a room while gas escapes, and the class of that hazard.",
    "safety": "Relief capacity.",
    "combining": "Values with their errors: sums, verdicts against a limit, what can be seen.",
    "trends": "Readings over time: control charts, and the day on which a limit is reached.",
    "uncertainty": "The 95 % band of what any other function answers.",
    "explain": "The functions that explain the others.",
}
"""What each topic is for, in a line."""


def place(name: str) -> str:
    """Where a function stands in the site."""
    return f"functions/{worksheet_functions()[name].topic}.md#{name.lower()}"


def index_page() -> str:
    """All functions by topic."""
    count = len(worksheet_functions())
    out = [
        "# Functions",
        f"{count} worksheet functions in {len(topics())} topics. Every page is generated from "
        "the definitions that the functions themselves run on, so it cannot drift from them. "
        "Arguments in square brackets may be left blank. How values and units are written: "
        "[Conventions](../conventions.md).",
    ]
    for topic in topics():
        rows = [
            [f'<a href="{topic}.html#{d.name.lower()}">{code(d.name)}</a>', escape(d.summary)]
            for d in of_topic(topic)
        ]
        out += [f"## {topic.capitalize()}", ABOUT[topic], table(("Function", "Answers"), rows)]
    return "\n\n".join(out) + "\n"


def of_topic(topic: str) -> list[Definition]:
    """The functions of a topic, in reading order."""
    return [d for d in worksheet_functions().values() if d.topic == topic]


def topic_page(topic: str) -> str:
    """The page of one topic."""
    out = [f"# {topic.capitalize()}", ABOUT[topic]]
    for definition in of_topic(topic):
        out += _section(definition)
    return "\n\n".join(out) + "\n"


@cache
def _refusals() -> dict[str, list[Refusal]]:
    found: dict[str, list[Refusal]] = {}
    for name, check in verified.refusals():
        found.setdefault(name, []).append(check)
    return found


def _section(definition: Definition) -> Iterator[str]:
    yield f"## {definition.name}"
    yield f"<p>{escape(definition.summary)}.</p>"
    yield f'<pre class="usage"><code>={escape(definition.usage)}</code></pre>'
    yield _part("Arguments")
    headings = ("Argument", "Symbol", "What it is", "Bare number in", "May be", "Blank means")
    yield table(headings, (_argument(p) for p in definition.parameters), "names")
    yield _part("Answers")
    yield _result(definition.result)
    yield _part("Equation")
    yield equation_html(definition.equation)
    yield _part("Example")
    example = definition.example
    yield formula(f"={example.formula}", [example.answer])
    yield _working(definition)
    if definition.cautions:
        items = "".join(f"<li>{escape(each)}</li>" for each in definition.cautions)
        yield (
            '<div class="admonition warning"><p class="admonition-title">Cautions</p>'
            f"<ul>{items}</ul></div>"
        )
    yield _part("Refuses")
    yield verified.refusal_table(_refusals()[definition.name])
    found = [each for each in verified.comparisons() if each.function == definition.name]
    if found:
        yield _part("Verified against")
        yield verified.comparison_table(found)
    yield _part("Sources")
    yield "<ul>" + "".join(f"<li>{escape(str(s))}</li>" for s in definition.sources) + "</ul>"


def _part(title: str) -> str:
    return f'<p class="part">{title}</p>'


def _argument(parameter: Parameter) -> list[str]:
    blank = "—" if parameter.required else parameter.shown_default or "see the text"
    return [
        code(f"{parameter.name}…" if parameter.variadic else parameter.name),
        symbol(parameter.term.symbol),
        escape(parameter.term.help),
        escape(parameter.term.unit_label),
        escape(parameter.term.allowed()),
        escape(blank),
    ]


def _result(result: Term | Columns) -> str:
    if isinstance(result, Columns):
        columns = ", ".join(code(column.heading) for column in result.columns)
        return f"<p>A table: {escape(result.help)}. Columns: {columns}.</p>"
    unit = f", in {escape(result.unit_label)}" if result.unit_label else ""
    other = "; another unit by the last argument" if isinstance(result, Quantity) else ""
    return f"<p>{escape(result.help)}{unit}{other}.</p>"


def _working(definition: Definition) -> str:
    """The example's working, and the table that it spills if it spills one."""
    calls: list[tuple[Definition, list[Any]]] = []

    def note(function: Definition, arguments: list[Any]) -> Any:
        calls.append((function, arguments))
        return function(*arguments)

    answer = host.read_call(definition.example.formula, note)
    out = []
    if isinstance(answer, list):
        out.append(_opened("What it spills", _spilled(answer)))
    if not any(parameter.variadic for parameter in definition.parameters):
        out.append(_opened("Working, by GAS_WORKING", _steps(working_rows(*calls[-1]))))
    return "".join(out)


def _spilled(rows: list[list[Any]]) -> str:
    shown = [[escape(told(cell)) for cell in row] for row in rows[1 : MOST_ROWS + 1]]
    if len(rows) > MOST_ROWS + 1:
        shown.append(["…"] + [""] * (len(rows[0]) - 1))
    return table([str(heading) for heading in rows[0]], shown)


def _steps(rows: list[list[Any]]) -> str:
    """The working, without what the page says elsewhere."""
    shown = [
        [part, escape(what), symbol(sign or ""), *(escape(told(cell)) for cell in rest)]
        for part, what, sign, *rest in rows
        if part in ("input", "step", "result", "result in SI")
    ]
    return table(["Part", "What", "Symbol", "Given", "Value", "Unit"], shown)


def _opened(title: str, body: str) -> str:
    return f"<details open><summary>{title}</summary>{body}</details>"
