"""Single cells and columns of a million rows against CoolProp."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
from CoolProp.CoolProp import PT_INPUTS, AbstractState, PropsSI
from numpy.typing import NDArray

from gasfuncs.registry import worksheet_functions
from tests.benchmarks.measuring import Result, Timed, compared, timed

ROWS = 1_000_000
COMPARED = 20_000
"""Rows that PropsSI is asked in a turn: a turn of a million takes it ten seconds."""

FEW = 100
CELLS = 2_000
MOST_OFF = 1e-6

Column = NDArray[np.float64]


def states(count: int) -> tuple[Column, Column]:
    """Pa and K over the region of the goals: vacuum to 350 bar, 200 to 1,700 K."""
    random = np.random.default_rng(8)
    return 10 ** random.uniform(0, np.log10(350e5), count), random.uniform(200.0, 1700.0, count)


def single_cells() -> Iterator[Result]:
    """One call a cell, each of another state, against one update of a state that is kept."""
    density = worksheet_functions()["GAS_DENSITY"]
    state = AbstractState("HEOS", "Argon")
    cells = list(zip(*(column.tolist() for column in states(CELLS)), strict=True))
    turn = iter(range(1_000_000))

    def updates() -> None:
        for pressure, kelvin in cells:
            state.update(PT_INPUTS, pressure, kelvin)
            state.rhomass()

    def calls(given: list[tuple[Any, Any]]) -> None:
        for pressure, temperature in given:
            density("argon", pressure, temperature)

    def new(write: Callable[[float, float], tuple[Any, Any]]) -> Timed:
        """Every turn has states of its own, so that no answer comes from a cache."""

        def once() -> float:
            grown = 1 + 1e-9 * next(turn)
            given = [write(p / 1e5 * grown, t - 273.15) for p, t in cells]
            return timed(lambda: calls(given), per=CELLS)()

        return once

    against = "one cached CoolProp AbstractState update"
    update = timed(updates, per=CELLS)
    numbers = new(lambda bar, celsius: (bar, celsius))
    texts = new(lambda bar, celsius: (f"{bar} bar(a)", f"{celsius} degC"))
    yield compared("GAS_DENSITY, one cell, numbers", numbers, against, update, goal=3, rounds=15)
    yield compared(
        "GAS_DENSITY, one cell, text with units", texts, against, update, goal=4, rounds=15
    )


def columns() -> Iterator[Result]:
    """A million rows in one call, against PropsSI on the first of them, a row each."""
    p, t = states(ROWS)
    volume = np.random.default_rng(9).uniform(1.0, 10.0, ROWS)
    functions = worksheet_functions()
    bar, celsius = p / 1e5, t - 273.15
    low, low_bar = 1e-3 * p, 1e-3 * bar
    name = f"a column of {ROWS:,} different states"
    few = np.random.default_rng(10).integers(0, FEW, ROWS)
    few_name = f"a column of {ROWS:,} rows, {FEW} different states"

    def against(fluid: str, *pressures: Column) -> tuple[str, Timed]:
        words = "PropsSI" if len(pressures) == 1 else "PropsSI, both states"
        return words, timed(lambda: [_props(fluid, x, t) for x in pressures], per=COMPARED)

    def ours(function: str, *arguments: Any) -> Timed:
        return timed(lambda: functions[function](*arguments), per=ROWS)

    for gas, fluid in (("argon", "Argon"), ("nitrogen", "Nitrogen")):
        off = np.abs(
            functions["GAS_DENSITY"](gas, bar[:COMPARED], celsius[:COMPARED])
            / _props(fluid, p, t) - 1
        ).max()  # fmt: skip
        assert off < MOST_OFF, f"{gas} is off by {off:.1e}"
        note = f"off by {off:.1e} at most"
        yield compared(
            f"GAS_DENSITY, {gas}, {name}", ours("GAS_DENSITY", gas, bar, celsius),
            *against(fluid, p), goal=30, rounds=9, faster=True, note=note,
        )  # fmt: skip
    yield compared(
        f"GAS_CONTENTS, argon, {name}", ours("GAS_CONTENTS", "argon", volume, bar, celsius),
        *against("Argon", p), goal=30, rounds=9, faster=True,
    )  # fmt: skip
    yield compared(
        f"GAS_BACKFILL, argon, {name}",
        ours("GAS_BACKFILL", "argon", volume, low_bar, bar, celsius),
        *against("Argon", p, low), goal=30, rounds=9, faster=True,
    )  # fmt: skip
    for function, more in (("GAS_DENSITY", ()), ("GAS_CONTENTS", (volume,))):
        again = ours(function, "argon", *more, bar[few], celsius[few])
        yield compared(
            f"{function}, argon, {few_name}", again,
            *against("Argon", p[few]), goal=100, rounds=9, faster=True,
        )  # fmt: skip


def _props(fluid: str, pressure: Column, kelvin: Column) -> Any:
    return PropsSI("Dmass", "P", pressure[:COMPARED], "T", kelvin[:COMPARED], fluid)
