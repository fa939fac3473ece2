"""Deliveries: what a ticket stands for, what the tank is like after, whether the level agrees."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any, get_args

import numpy as np
import scipy

from gasfuncs import properties
from gasfuncs.calculations.liquid_state import liquid_of, refuse_air, saturated_of
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import (
    AlsoMass,
    Column,
    Columns,
    Quantity,
    Symbol,
    refuse,
    step,
    unreachable,
    worksheet_function,
)
from gasfuncs.definition.liquid_terms import ToldAsGas
from gasfuncs.definition.vocabulary import (
    Amount,
    Capacity,
    Fraction,
    GasArgument,
    GasOrMass,
    Liquid,
    LiquidAt,
    LiquidTold,
    Numbers,
    Pressure,
    ScfPerGallon,
)
from gasfuncs.errors import StateError
from gasfuncs.properties import Gas, LiquidState, Saturated
from gasfuncs.units import ATMOSPHERE, US_GAS, kinds

BOILING_AT_ONE_ATMOSPHERE = LiquidState(pressure=ATMOSPHERE)
"""What a litre or gallon on a delivery ticket is, unless the contract says otherwise."""

STATE_CAUTION = (
    "Between liquid at its boiling point at 1 atm and saturated at 13 bar(a) a litre of nitrogen "
    "differs by a quarter: ask the supplier which litre the ticket counts."
)


@worksheet_function(
    equation="n = V_L · ρ_L; by contract V_L · f; of a mass m / M",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_DELIVERED("nitrogen", "1500 gal(liq)", , 93.11)', "3670 Nm3"),
    cautions=(STATE_CAUTION,),
)
def delivered(
    gas: GasArgument,
    quantity: Annotated[
        LiquidTold, 'Quantity on the ticket: "5500 L(liq)", "4434 kg", "148000 scf"'
    ],
    liquid_at: LiquidAt = BOILING_AT_ONE_ATMOSPHERE,
    factor: ScfPerGallon | None = None,
) -> Annotated[Amount, AlsoMass(properties.molar_mass), "Gas delivered"]:
    """Gas that a delivery ticket stands for, by its quantity and the basis that it counts on.

    Takes m³ of liquid or a ToldAsGas, a LiquidState and scf per gallon, scalars or arrays; gives
    mol. Mass and gas need neither state nor factor; a liquid's temperature is that at which it
    boils, as the ticket knows no pressure. Raises StateError where the gas has no such liquid.
    """
    return ticket_amount(gas, quantity, liquid_at, factor)


def ticket_amount(
    gas: Gas,
    quantity: Numbers | ToldAsGas,
    liquid_at: LiquidState = BOILING_AT_ONE_ATMOSPHERE,
    factor: Numbers | None = None,
) -> Numbers:
    """mol that a ticket's quantity stands for."""
    if isinstance(quantity, ToldAsGas):
        return quantity.moles(gas)
    if factor is not None:
        standard = properties.reference_molar_density(gas, US_GAS)
        per_volume = factor * kinds.AMOUNT.unit("scf").scale / kinds.LIQUID.unit("gal(liq)").scale
        step("volumes of gas from one of liquid, by contract", "f", per_volume)
        return quantity * per_volume * standard
    return quantity * _ticket_density(gas, liquid_at)


def _ticket_density(gas: Gas, liquid_at: LiquidState) -> Numbers:
    """mol/m³ of the liquid that a ticket counts."""
    state = liquid_at
    try:
        if state.temperature is not None:
            state = properties.saturated_at(gas, state.temperature)
    except StateError as error:
        raise error.about("gas" if gas.is_mixture else "liquid_at") from None
    return liquid_of(gas, ATMOSPHERE, state).density


GAS = Quantity("n", "Gas", kind=kinds.AMOUNT, unit="Nm3")
PRESSURE = get_args(Pressure)[1]
LIQUID = get_args(Liquid)[1]

ONE_TEMPERATURE = "all the tank comes to one temperature"
NOTHING_VENTED = "the vapour is squeezed above the old liquid, and nothing is vented"
ONE_PHASE = "squeezed till no liquid is in balance with it: it has to be vented while filling"

MixTable = Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Case"),
            Column("Pressure", PRESSURE),
            Column("Level", LIQUID),
            Column("Rise", Quantity("ΔV", "Rise", kind=kinds.LIQUID, unit="L(liq)")),
            Column("What it means"),
        ),
        "Pressure and level after the delivery, fully mixed and not mixed at all",
    ),
]


@worksheet_function(
    equation="n = n₁ + n_d; mixed U = U₁ + n_d · (h_d + Δp / ρ_d); not mixed S₁ in V_t - V_d",
    sources=(
        MASS_BALANCE,
        "Energy balance of a vessel that is filled: what comes in brings its enthalpy and the "
        "pump's work (Cengel, Boles, Thermodynamics, unsteady-flow processes)",
        EQUATION_OF_STATE,
    ),
    example=(
        'GAS_TANK_MIX("nitrogen", 2789, "13 bar(a)", "6000 L(liq)", "3 bar(a)", 11010)',
        "7.042 bar(a) if mixed",
    ),
    cautions=(
        "Bounds: filled from the top a tank comes near the mixed state, from the bottom near the "
        "other, whose pressure the relief valve may not let come about.",
        "Days later a tank that was not mixed comes near the mixed state: its pressure falls, and "
        "its level rises or falls, though nothing is drawn.",
    ),
)
def tank_mix(
    gas: GasArgument,
    liquid_before: Annotated[Liquid, Symbol("V_1"), "Liquid in the tank before the delivery"],
    pressure_before: Annotated[Pressure, Symbol("p_1"), "Pressure in the tank before"],
    delivered: Annotated[LiquidTold, Symbol("V_d"), "Quantity delivered"],
    delivered_at: Annotated[
        LiquidAt, Symbol("delivered_at"), 'State of the liquid delivered: "3 bar(a)", "-190 degC"'
    ],
    capacity: Capacity,
) -> MixTable:
    """Pressure and level of a tank after a delivery: fully mixed and not mixed at all, as bounds.

    Takes m³, Pa and LiquidStates; gives rows of Pa and m³. Raises OutOfRangeError where the tank
    does not hold the delivery, NoSolutionError where it is full of liquid once it is mixed.
    """
    refuse_air(gas)
    refuse(liquid_before >= capacity, "liquid_before", "leaves no room in the tank")
    pressure = float(pressure_before)
    tank = _held(gas, float(liquid_before), pressure, float(capacity))
    cold = liquid_of(gas, pressure, delivered_at, ("pressure_before", "delivered_at"))
    moles = float(quantity_moles(gas, delivered, cold.density))
    volume = moles / float(cold.density)
    refuse(
        volume + tank.liquid > tank.volume,
        "delivered",
        f"is {1000 * volume:.5g} L of liquid, more than the room in the tank",
    )
    pumped = max(0.0, pressure - (delivered_at.pressure or pressure)) / float(cold.density)
    step("work of the pump", "Δp / ρ_d", pumped, "J/mol")
    mixed, level = _mixed(gas, tank, moles, float(cold.enthalpy) + pumped)
    rows: list[list[Any]] = [["fully mixed", mixed, level, level - tank.liquid, ONE_TEMPERATURE]]
    squeezed = _squeezed(gas, tank, tank.volume - volume)
    if squeezed is None:
        return [*rows, ["not mixed", None, None, None, ONE_PHASE]]
    level = squeezed[1] + volume
    return [*rows, ["not mixed", squeezed[0], level, level - tank.liquid, NOTHING_VENTED]]


def quantity_moles(gas: Gas, quantity: Numbers | ToldAsGas, density: Numbers) -> Numbers:
    """mol of a liquid that is told as volume, mass or gas."""
    return quantity.moles(gas) if isinstance(quantity, ToldAsGas) else quantity * density


@dataclass(frozen=True)
class _Tank:
    """A tank of liquid and vapour in balance: m³, m³, mol, J, J/K, Pa."""

    volume: float
    liquid: float
    moles: float
    energy: float
    entropy: float
    pressure: float


def _held(gas: Gas, liquid: float, pressure: float, volume: float) -> _Tank:
    both = saturated_of(gas, pressure, "pressure_before")
    below, above = liquid * both.liquid_density, (volume - liquid) * both.vapour_density
    return _Tank(
        volume,
        liquid,
        float(below + above),
        float(below * both.liquid_energy + above * both.vapour_energy),
        float(below * both.liquid_entropy + above * both.vapour_entropy),
        pressure,
    )


def _liquid_in(both: Saturated, moles: float, volume: float) -> float:
    """m³ of liquid where so many mol fill a volume as liquid and vapour."""
    spread = both.liquid_density - both.vapour_density
    return float((moles - both.vapour_density * volume) / spread)


def energy_at(gas: Gas, pressure: float, moles: float, volume: float) -> float:
    """J of so many mol as liquid and vapour in m³ at a pressure (Pa)."""
    both = properties.saturated(gas, pressure)
    liquid = _liquid_in(both, moles, volume)
    below = liquid * both.liquid_density * both.liquid_energy
    return float(below + (volume - liquid) * both.vapour_density * both.vapour_energy)


def entropy_at(gas: Gas, pressure: float, moles: float, volume: float) -> float:
    """J/K of so many mol as liquid and vapour in m³ at a pressure (Pa)."""
    both = properties.saturated(gas, pressure)
    liquid = _liquid_in(both, moles, volume)
    below = liquid * both.liquid_density * both.liquid_entropy
    return float(below + (volume - liquid) * both.vapour_density * both.vapour_entropy)


def pressure_of_energy(gas: Gas, energy: float, moles: float, volume: float) -> float:
    """Pa at which so many mol in m³ have an energy (J) as liquid and vapour; 0 where at none."""
    return balance_root(gas, lambda pressure: energy_at(gas, pressure, moles, volume) - energy)


def pressure_of_entropy(gas: Gas, entropy: float, moles: float, volume: float) -> float:
    """Pa at which so many mol in m³ have an entropy (J/K) as liquid and vapour; 0 where at none."""
    return balance_root(gas, lambda pressure: entropy_at(gas, pressure, moles, volume) - entropy)


def _mixed(gas: Gas, tank: _Tank, moles: float, enthalpy: float) -> tuple[float, float]:
    """Pa and m³ of liquid after the delivery came to one temperature with the tank."""
    held, energy = tank.moles + moles, tank.energy + moles * enthalpy
    pressure = pressure_of_energy(gas, energy, held, tank.volume)
    unreachable(
        pressure == 0, "delivered", "mixed with it the tank is not liquid and vapour any more"
    )
    liquid = _liquid_in(properties.saturated(gas, pressure), held, tank.volume)
    unreachable(
        not 0 <= liquid <= tank.volume, "delivered", "fills the tank with liquid once it is mixed"
    )
    return pressure, liquid


def _squeezed(gas: Gas, tank: _Tank, volume: float) -> tuple[float, float] | None:
    """Pa and m³ of what the tank held, squeezed without heat; None where one phase is left."""
    pressure = pressure_of_entropy(gas, tank.entropy, tank.moles, volume)
    if pressure == 0:
        return None
    liquid = _liquid_in(properties.saturated(gas, pressure), tank.moles, volume)
    return (pressure, liquid) if 0 <= liquid <= volume else None


def balance_root(gas: Gas, surplus: Any) -> float:
    """The pressure (Pa) at which a rising balance is met; 0 where none is."""
    low, high = properties.saturation_limits(gas)
    low, high = low * 1.001, high * 0.999
    if surplus(low) > 0 or surplus(high) < 0:
        return 0.0
    return float(scipy.optimize.brentq(surplus, low, high, rtol=1e-12))


NORMAL_95 = 1.959964
"""Half-width of the 95 % interval of the normal distribution, in standard deviations."""

LEAST_TOLD = 0.1
"""A difference that large, as a share of the ticket, a check must be able to see."""

CheckTable = Annotated[
    list[list[Any]],
    Columns(
        (Column("Line"), Column("Answer", GAS), Column("Low", GAS), Column("High", GAS),
         Column("Why")),
        "By ticket, by level, their difference, its 95 % band, and the verdict",
    ),
]  # fmt: skip


@worksheet_function(
    equation="d = (n₂ + n_u - n₁) - n_d; u² = Σ a²/3; agrees where |d| ≤ 1.96 u",
    sources=(
        MASS_BALANCE,
        "JCGM 100:2008, 4.3.7 and 5.1.2: a tolerance is rectangular, u = a/√3; independent "
        "components add in squares",
        "Directive 2014/32/EU, Annex VII, Table 2: a system that measures cryogenic liquid is "
        "within 2.5 %",
        EQUATION_OF_STATE,
    ),
    example=(
        'GAS_DELIVERY_CHECK("argon", "5500 L(liq)", 2900, 8830, 11010, "11 bar(a)", "4 bar(a)")',
        '"agrees"',
    ),
    cautions=(
        STATE_CAUTION,
        "One delivery seldom proves a shortage; the mean of many does. Read the level before the "
        "hose is on and after the tank has come to rest.",
    ),
)
def delivery_check(
    gas: GasArgument,
    ticket: Annotated[LiquidTold, 'Quantity on the ticket: "5500 L(liq)", "4434 kg"'],
    liquid_before: Annotated[Liquid, Symbol("V_1"), "Liquid by the level before"],
    liquid_after: Annotated[Liquid, Symbol("V_2"), "Liquid by the level after"],
    capacity: Capacity,
    pressure_before: Annotated[Pressure, Symbol("p_1"), "Pressure in the tank before"],
    pressure_after: Annotated[Pressure, Symbol("p_2"), "Pressure in the tank after"],
    use_during: Annotated[
        GasOrMass, Symbol("n_u"), "Gas drawn or vented between the two readings"
    ] = 0.0,
    liquid_at: LiquidAt = BOILING_AT_ONE_ATMOSPHERE,
    ticket_tolerance: Annotated[
        Fraction, Symbol("a_d"), "Tolerance of the ticket, as a share of it"
    ] = 0.025,
    level_tolerance: Annotated[
        Fraction, Symbol("a_V"), "Tolerance of a level, as a share of the tank's capacity"
    ] = 0.01,
) -> CheckTable:
    """Whether the level agrees with the ticket of a delivery: agrees, short, over or cannot tell.

    Takes m³, Pa, mol and shares; gives rows of mol. How cold the liquid is after the delivery is
    not known: it counts as anything between the state of the ticket and saturated at the pressure
    after. Raises OutOfRangeError where a level is above the tank.
    """
    refuse_air(gas)
    for name, liquid in (("liquid_before", liquid_before), ("liquid_after", liquid_after)):
        refuse(liquid > capacity, name, "is more than the tank's capacity")
    by_ticket = float(ticket_amount(gas, ticket, liquid_at))
    refuse(by_ticket <= 0, "ticket", "is 0: nothing is to be checked")
    before = saturated_of(gas, pressure_before, "pressure_before")
    after = saturated_of(gas, pressure_after, "pressure_after")
    bounds = _by_level(
        before, after, (liquid_before, liquid_after), capacity, _ticket_density(gas, liquid_at)
    )
    by_level = sum(bounds) / 2 + float(use_during)
    a_level = float(level_tolerance * capacity * (after.liquid_density - after.vapour_density))
    u_level = math.hypot(a_level, a_level, (bounds[1] - bounds[0]) / 2) / math.sqrt(3)
    a_ticket = float(ticket_tolerance * by_ticket)
    band = NORMAL_95 * math.hypot(u_level, a_ticket / math.sqrt(3))
    step("standard uncertainty by level", "u_V", u_level, "mol")
    difference, spread = by_level - by_ticket, NORMAL_95 * u_level
    word, why = _verdict(difference, band, by_ticket)
    return [
        ["by ticket", by_ticket, by_ticket - a_ticket, by_ticket + a_ticket, None],
        ["by level", by_level, by_level - spread, by_level + spread, None],
        ["difference", difference, difference - band, difference + band, None],
        ["95 % band", band, None, None, None],
        ["verdict", word, None, None, why],
    ]


def _by_level(
    before: Saturated,
    after: Saturated,
    liquids: tuple[Numbers, Numbers],
    capacity: Numbers,
    told: Numbers,
) -> tuple[float, float]:
    """mol by which two levels differ: fully mixed, and with the new liquid as cold as it came."""
    first, second = liquids
    vapour = (capacity - second) * after.vapour_density - (capacity - first) * before.vapour_density
    mixed = second * after.liquid_density - first * before.liquid_density + vapour
    apart = (second - first) * np.maximum(told, after.liquid_density) + vapour
    step("gas by level, fully mixed", "n_mixed", mixed, "mol")
    step("gas by level, not mixed", "n_apart", apart, "mol")
    return float(mixed), float(apart)


def _verdict(difference: float, band: float, ticket: float) -> tuple[str, str]:
    if abs(difference) > band:
        word, than = ("short", "less") if difference < 0 else ("over", "more")
        return word, f"the level shows {than} than the ticket, beyond what both may be off"
    if band > LEAST_TOLD * ticket:
        return "cannot tell", (
            f"only a difference above {100 * band / ticket:.0f} % of the ticket would be seen; "
            "weigh the truck, or read finer levels when the tank is at rest"
        )
    return "agrees", "the difference is within what both may be off"
