"""Collects the definitions: the only list of what there is."""

from __future__ import annotations

import difflib
import importlib
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from gasfuncs.definition import ATTRIBUTE, Definition
from gasfuncs.errors import UnreadableError
from gasfuncs.units import shown

MODULES = (
    *(
        f"gasfuncs.calculations.{topic}"
        for topic in (
            "conditions", "volume",
            "liquid", "tank", "delivery",
            "backfill", "furnace", "reservoir", "line", "fill", "purge", "acceptance",
            "vacuum", "pumpdown", "purity",
            "leak", "tightness",
            "moisture", "cost", "contract", "supply", "balance", "forecast",
            "room", "safety",
            "combining", "trends",
        )
    ),
    "gasfuncs.explain.uncertainty",
    "gasfuncs.explain.explain",
)  # fmt: skip
"""Where definitions are, in the order that people read about them; imported when asked for."""

PREFIX = "GAS_"
"""Every function's name begins with it."""


@cache
def worksheet_functions() -> Mapping[str, Definition]:
    """Every function by its worksheet name, topic by topic."""
    found: dict[str, Definition] = {}
    for name in MODULES:
        for value in vars(importlib.import_module(name)).values():
            definition = getattr(value, ATTRIBUTE, None)
            if isinstance(definition, Definition) and definition.calculation.__module__ == name:
                found[definition.name] = definition
    return MappingProxyType(found)


def topics() -> tuple[str, ...]:
    """The topics, in reading order."""
    return tuple(module.rpartition(".")[2] for module in MODULES)


def worksheet_function_named(name: str) -> Definition:
    """One function by its worksheet name, in any case."""
    found = worksheet_functions().get(name.strip().upper())
    if found is None:
        raise UnreadableError(
            f'"{shown(name)}" is not a function here; {_alike(name)}GAS_LIST() lists them'
        )
    return found


def _alike(name: str) -> str:
    """A question after the function whose name is nearly this one, or nothing."""
    wanted = f"{PREFIX}{name.strip().upper().removeprefix(PREFIX)}"
    near = difflib.get_close_matches(wanted, worksheet_functions(), n=1, cutoff=0.75)
    return f"is {near[0]} meant? " if near else ""
