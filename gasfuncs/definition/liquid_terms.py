"""Terms of liquid and of what it holds: its state, and amounts told as volume, mass or gas."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from gasfuncs.definition.terms import Cell, Number, Quantity, Term, from_si, number_and_unit, to_si
from gasfuncs.errors import GasFuncsError, OutOfRangeError, UnitError, UnreadableError
from gasfuncs.properties import Gas, LiquidState, molar_mass
from gasfuncs.units import kinds, shown, split_goods, split_quantity

PRESSURE = Quantity("p", "Pressure", kind=kinds.PRESSURE, unit="bar(a)", above=0, high=20_000)
TEMPERATURE = Quantity("T", "Temperature", kind=kinds.TEMPERATURE, unit="degC", above=-273.15)
STATE_WORDS = (
    'a pressure that it is saturated at, in bar(a) or as text, "1 atm" as delivery tickets count; '
    'or the temperature of colder liquid as text, "-190 degC"; blank: saturated at the pressure '
    "in the tank"
)


@dataclass(frozen=True)
class StateOfLiquid(Term):
    """What a liquid's density goes by: the pressure it is saturated at, or its temperature."""

    def read(self, value: Cell, gas: Gas | None = None) -> LiquidState:
        if isinstance(value, str) and not re.search(r"\d", value):
            raise UnreadableError(f'"{shown(value)}" is no state of a liquid; write {STATE_WORDS}')
        number, unit = number_and_unit(value)
        if unit and kinds.TEMPERATURE.has(unit):
            return LiquidState(temperature=TEMPERATURE.read(value))
        if unit and not kinds.PRESSURE.has(unit) and not kinds.PRESSURE_DIFFERENCE.has(unit):
            raise UnitError(
                f'"{shown(unit)}" is no unit of pressure or temperature; write {STATE_WORDS}'
            )
        if not unit and number < 0:
            raise OutOfRangeError(
                f"{number:g} is below a perfect vacuum, and a bare number is a pressure in bar(a); "
                f'a temperature is written with its unit, "{number:g} degC"'
            )
        return LiquidState(pressure=PRESSURE.read(value))

    def allowed(self) -> str:
        return STATE_WORDS


@dataclass(frozen=True, slots=True)
class ToldAsGas:
    """A liquid that is told as its mass or the gas that it becomes, as on a ticket."""

    number: float
    unit: str

    def moles(self, gas: Gas) -> float:
        """How many mol of a gas that is."""
        if kinds.MASS.has(self.unit):
            return float(to_si(self.number, kinds.MASS.unit(self.unit), None)) / molar_mass(gas)
        return float(to_si(self.number, kinds.AMOUNT.unit(self.unit), gas))

    def __str__(self) -> str:
        return f"{self.number:.6g} {self.unit}"


@dataclass(frozen=True)
class AmountOrMass(Quantity):
    """An amount of gas, also as text with its mass."""

    def read(self, value: Cell, gas: Gas | None = None) -> float:
        if not kinds.MASS.has(_unit_of(value)):
            return super().read(value, gas)
        if gas is None:
            raise UnreadableError(f'"{shown(value)}" is a mass, and no gas is named that it is of')
        moles = ToldAsGas(*split_goods(value)).moles(gas)
        self.checked(from_si(moles, self.default, gas), f'"{shown(value)}"')
        return moles

    def allowed(self) -> str:
        return f"{super().allowed()}; or its mass in {', '.join(kinds.MASS.examples)}"


@dataclass(frozen=True)
class LiquidOrGas(Quantity):
    """A volume of liquid; text also with its mass or the gas that it becomes."""

    mixed = True

    def tells(self, value: Cell) -> bool:
        return super().tells(value) or _is_gas(value)

    def read(self, value: Cell, gas: Gas | None = None) -> Any:
        if not _is_gas(value):
            return super().read(value, gas)
        number, unit = split_goods(value)
        Number("x", "Number", low=0, high=1e12).checked(number, f'"{shown(value)}"')
        return ToldAsGas(number, unit)

    def allowed(self) -> str:
        return f"{super().allowed()}; or its mass (kg, lb), or its gas (Nm3, scf)"


def _is_gas(value: Cell) -> bool:
    """Whether a text tells a mass or an amount of gas."""
    unit = _unit_of(value)
    return bool(unit) and (kinds.MASS.has(unit) or kinds.AMOUNT.has(unit))


def _unit_of(value: Cell) -> str:
    if not isinstance(value, str):
        return ""
    try:
        return split_quantity(value)[1]
    except GasFuncsError:
        return ""
