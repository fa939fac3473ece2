"""Worksheet functions that explain the others."""

from __future__ import annotations

from typing import Annotated, Any

from gasfuncs.definition import Column, Columns, worksheet_function
from gasfuncs.definition.terms import Text
from gasfuncs.definition.vocabulary import AnyArguments, FunctionName
from gasfuncs.errors import CellError, UnreadableError
from gasfuncs.explain.working import explained, working_rows
from gasfuncs.registry import topics, worksheet_function_named, worksheet_functions
from gasfuncs.units import shown

OWN_DEFINITIONS = "The definitions of this library"

WorkingTable = Annotated[
    list[list[Any]],
    Columns(
        tuple(Column(name) for name in ("Part", "What", "Symbol", "Given", "Value", "Unit")),
        "Equation, inputs as read in SI, intermediate values, result, sources, cautions",
    ),
]
ListTable = Annotated[
    list[list[Any]],
    Columns(
        tuple(Column(name) for name in ("Name", "Summary", "Arguments")),
        "One row per function",
    ),
]


@worksheet_function(
    equation="the equation of the function named, its inputs in SI, each intermediate value",
    sources=(OWN_DEFINITIONS,),
    example=('GAS_WORKING("GAS_DENSITY", "argon", "80 psig", 20)', "a table"),
)
def working(function_name: FunctionName, *arguments: AnyArguments) -> WorkingTable:
    """Working of a call: equation, inputs in SI, intermediate values, result, sources, cautions.

    Takes the function's name and its arguments as cells hold them; raises what the call raises.
    """
    return working_rows(worksheet_function_named(function_name), arguments)


@worksheet_function(
    equation="ok, or the sentence that says which argument is wrong and what is allowed",
    sources=(OWN_DEFINITIONS,),
    example=('GAS_CHECK("GAS_DENSITY", "argon", "6 bar", 20)', "pressure: ..."),
)
def check(
    function_name: FunctionName, *arguments: AnyArguments
) -> Annotated[str, Text("", "ok, or what is wrong")]:
    """Says ok, or in one sentence what is wrong with a call.

    Takes the function's name and its arguments as cells hold them.
    """
    answer = explained(worksheet_function_named(function_name)).cells(*arguments)
    rows = answer if isinstance(answer, list) else [[answer]]
    for number, row in enumerate(rows, 1):
        for value in row:
            if isinstance(value, CellError):
                where = f"row {number}: " if len(rows) > 1 else ""
                return where + (value.message or f"an argument is {value.code}")
    return "ok"


@worksheet_function(
    equation="the sources of the function named",
    sources=(OWN_DEFINITIONS,),
    example=('GAS_SOURCE("GAS_CONTENTS")', "Mass balance of a closed vessel; CoolProp ..."),
)
def source(function_name: FunctionName) -> Annotated[str, Text("", "Sources")]:
    """Where a function's method and values come from.

    Takes the function's name. Raises UnreadableError for an unknown one.
    """
    return "; ".join(str(each) for each in worksheet_function_named(function_name).sources)


@worksheet_function(
    equation="name, summary and arguments of each function",
    sources=(OWN_DEFINITIONS,),
    example=('GAS_LIST("volume")', "a table"),
)
def list_(
    topic: Annotated[str, Text("topic", "Topic, such as purge; blank: all of them")] = "",
) -> ListTable:
    """Lists the functions, all or of one topic.

    Raises UnreadableError for an unknown topic.
    """
    wanted = topic.lower()
    if wanted and wanted not in topics():
        raise UnreadableError(
            f'"{shown(topic)}" is not a topic; use {", ".join(topics())}', "topic"
        )
    return [
        [definition.name, definition.summary, definition.usage]
        for definition in worksheet_functions().values()
        if not wanted or definition.topic == wanted
    ]
