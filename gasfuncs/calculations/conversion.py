"""Conversion between units of one kind, and of one gas as amount, mass and liquid."""

from __future__ import annotations

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.liquid_state import liquid_of
from gasfuncs.definition import refuse, step
from gasfuncs.definition.terms import from_si, to_si
from gasfuncs.definition.vocabulary import Numbers
from gasfuncs.errors import GasFuncsError, UnitError, UnreadableError
from gasfuncs.properties import Gas, LiquidState
from gasfuncs.units import Kind, Unit, kinds, shown

HOLDINGS = (
    (kinds.AMOUNT, kinds.MASS, kinds.LIQUID),
    (kinds.FLOW, kinds.MASS_FLOW, kinds.LIQUID_FLOW),
)
"""Kinds that tell the same gas in different ways, and those of its flow."""

PLAIN_VOLUMES = (kinds.VOLUME, kinds.VOLUME_FLOW)

LOWEST = {kinds.PRESSURE: "a perfect vacuum", kinds.TEMPERATURE: "absolute zero"}
"""What a reading of a kind cannot be below."""

ROUNDING = 1e-6
"""Pa or K that a reading may be below its lowest, from rounding alone."""


def converted(
    value: Numbers,
    from_unit: str,
    to_unit: str,
    gas: Gas | None,
    liquid: tuple[Numbers, LiquidState | None],
    names: tuple[str, str] = ("from_unit", "to_unit"),
) -> Numbers:
    """A value in another unit; `names` are the arguments that an error names.

    Takes numbers in `from_unit`, and of liquid the tank's pressure in Pa and its state. Raises
    UnitError where the units do not go together, UnreadableError where the gas is missing.
    """
    kind, other = _kinds(from_unit, to_unit, names)
    source, target = kind.unit(from_unit), other.unit(to_unit)
    si = to_si(value, source, gas)
    step("value in SI", "x", si, kind.si_label)
    if kind in LOWEST:
        refuse(np.less(si, -ROUNDING), "value", f"is below {LOWEST[kind]}")
    if kind is not other:
        if gas is None:
            raise UnreadableError(
                f'is blank; name the gas to turn "{shown(from_unit)}" ({kind.name}) '
                f'into "{shown(to_unit)}" ({other.name})',
                "gas",
            )
        si = si * _moles(kind, gas, *liquid) / _moles(other, gas, *liquid)
    for unit in dict.fromkeys((source, target)):
        _show_reference(unit, gas)
    answer: Numbers = from_si(si, target, gas)
    return answer


def known_kinds(unit: str, argument: str) -> tuple[Kind, ...]:
    """The kinds that a unit can be of, the usual one first; an error names the argument."""
    try:
        return kinds.kinds_of(unit)
    except UnitError as error:
        raise error.about(argument) from None


def _moles(kind: Kind, gas: Gas, tank_pressure: Numbers, liquid_at: LiquidState | None) -> Numbers:
    """How many mol one SI unit of a kind holds."""
    if kind in (kinds.MASS, kinds.MASS_FLOW):
        step("molar mass", "M", properties.molar_mass(gas), "kg/mol")
        return 1 / properties.molar_mass(gas)
    if kind in (kinds.LIQUID, kinds.LIQUID_FLOW):
        return liquid_of(gas, tank_pressure, liquid_at).density
    return 1.0


def _show_reference(unit: Unit, gas: Gas | None) -> None:
    if unit.reference:
        molar = properties.reference_molar_density(gas, unit.reference)
        step(f"molar density at {unit.reference.label}", "ρ_n", molar, "mol/m³")


def _kinds(from_unit: str, to_unit: str, names: tuple[str, str]) -> tuple[Kind, Kind]:
    """The kinds that two units are to be read as: one, or two ways to tell the same gas."""
    first, second = known_kinds(from_unit, names[0]), known_kinds(to_unit, names[1])
    common = next((kind for kind in first if kind in second), None)
    if common and not _differ_in_meaning(common, first[0], second[0]):
        return common, common
    for holding in HOLDINGS:
        if first[0] in holding and second[0] in holding:
            return first[0], second[0]
    raise _refusal(from_unit, to_unit, first[0], second[0], names)


def _differ_in_meaning(common: Kind, first: Kind, second: Kind) -> bool:
    """Whether two units of a kind stand for two things: a leak or a flow, gas or liquid."""
    return first is not second and common in (kinds.LEAK, kinds.LIQUID)


def _refusal(
    from_unit: str, to_unit: str, kind: Kind, other: Kind, names: tuple[str, str]
) -> GasFuncsError:
    """Why two units do not go together, and what to write instead."""
    plain = [
        (unit, name)
        for unit, of, name in ((from_unit, kind, names[0]), (to_unit, other, names[1]))
        if of in PLAIN_VOLUMES
    ]
    holdings = {each for holding in HOLDINGS for each in holding}
    if plain and {kind, other} & holdings:
        unit = shown(plain[0][0])
        return UnitError(
            f'"{unit}" does not tell how much gas it holds: scf or Nm3? Write the one that is '
            "meant, Nm3, Sm3 or scf; for liquid write L(liq) or gal(liq)",
            plain[0][1],
        )
    if kinds.LEAK in (kind, other) and {kind, other} & holdings:
        return UnitError(
            f'"{shown(from_unit)}" into "{shown(to_unit)}" needs a temperature; '
            "GAS_LEAK_CONVERT takes it",
            names[1],
        )
    backwards = kind is kinds.PRESSURE_DIFFERENCE
    asked, unit, name = (other, from_unit, names[0]) if backwards else (kind, to_unit, names[1])
    try:
        asked.unit(unit)
    except UnitError as error:
        return error.about(name)
    return UnitError(f'"{shown(unit)}" is not a unit of {asked.name}', name)
