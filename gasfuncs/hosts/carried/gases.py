"""The gases that a workbook calculates with: which series it needs, and what has none."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, NamedTuple

import numpy as np

from gasfuncs import properties
from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts import formula
from gasfuncs.hosts.carried import series
from gasfuncs.hosts.carried.calls import Call, is_told, texts
from gasfuncs.hosts.carried.cells import Cells
from gasfuncs.hosts.carried.errors import CarryError
from gasfuncs.hosts.carried.recording import standing_in
from gasfuncs.hosts.headless.package import Package
from gasfuncs.properties import Gas, tables
from gasfuncs.properties.gases import FLUIDS


class Gases(NamedTuple):
    """The gases that are in use, and a call that takes its gas from a cell, if one does."""

    names: tuple[str, ...]
    typed: Call | None


class _OutsideError(Exception):
    """A state that no series holds."""


def gases(package: Package, calls: Sequence[Call]) -> Gases:
    """The gases of calls: those that are named in them, or all where a cell tells one.

    Raises a CarryError for a mixture, and for a call whose state no series holds.
    """
    cells, used, typed = Cells(package), set(), None
    for call in calls:
        for argument in call.gases():
            found = [*texts(argument), *cells.texts(call.sheet, call.cell, argument)]
            named = [each for each in map(_known, found) if each]
            _refuse_mixtures(package, call, named)
            used |= {each.name for each in named}
            typed = typed or (None if is_told(argument) else call)
    with _series_only():
        for call in calls:
            _refuse_outside(package, call)
    return Gases(tuple(FLUIDS) if typed else tuple(n for n in FLUIDS if n in used), typed)


def _known(name: str) -> Gas | None:
    """A gas by its name, None where there is none."""
    try:
        return properties.gas(name)
    except GasFuncsError:
        return None


def _refuse_mixtures(package: Package, call: Call, found: Iterable[Gas]) -> None:
    for gas in found:
        if gas.is_mixture:
            raise CarryError(
                f"{package.path.name}: {call.place} calculates with {gas}; mixtures are not "
                "carried, only the pure gases and air; leave this book to the add-in"
            )


def _refuse_outside(package: Package, call: Call) -> None:
    """Refuse a call of values that are told in it, which the book would answer with #NUM!."""
    try:
        formula.evaluate(call.text)
    except GasFuncsError:
        return
    except _OutsideError as error:
        raise CarryError(
            f"{package.path.name}: {call.name} in {call.place} asks for {error}; change the cell, "
            "or leave this book to the add-in"
        ) from None


def warm(name: str) -> float:
    """The temperature (K) from which on the gas's series hold."""
    return series.table(name).least_temperature


def _within(gas: Gas, pressure: Any, temperature: Any) -> None:
    if gas.is_mixture:
        return
    table = series.table(gas.name)
    if not np.all(table.holds(np.asarray(pressure, float), np.asarray(temperature, float))):
        raise _OutsideError(
            f"{gas} in a state that its series do not hold: they go from "
            f"{table.least_temperature - 273.15:.0f} to {table.most_temperature - 273.15:.0f} °C "
            f"and to {tables.MOST_PRESSURE / 1e5:.0f} bar"
        )


def _checked(own: Callable[..., Any]) -> Callable[..., Any]:
    def checked(gas: Gas, pressure: Any, temperature: Any) -> Any:
        _within(gas, pressure, temperature)
        return own(gas, pressure, temperature)

    return checked


def _found(own: Callable[..., Any]) -> Callable[..., Any]:
    def found(gas: Gas, molar_density: Any, temperature: Any) -> Any:
        pressure = own(gas, molar_density, temperature)
        _within(gas, pressure, temperature)
        return pressure

    return found


CHECKED = (
    "molar_density", "density", "compressibility", "enthalpy", "viscosity",
    "isentropic_exponent", "heat_capacity_ratio",
)  # fmt: skip
"""Properties of a pressure and a temperature that are series in a carried book."""


@contextmanager
def _series_only() -> Iterator[None]:
    """Calculations are refused the states that no series holds; reference conditions are not."""
    hooks = [(properties, name, _checked(getattr(properties, name))) for name in CHECKED]
    found = (properties, "pressure", _found(properties.pressure))
    with standing_in([*hooks, found], but=f"{properties.__name__}."):
        yield
