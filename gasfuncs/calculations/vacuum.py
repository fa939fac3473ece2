"""Vacuum lines, and the time to pump a vessel down at a constant speed."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE
from gasfuncs.calculations.vacuum_line import PumpedLine, VacuumLine
from gasfuncs.definition import (
    refuse,
    step,
    unreachable,
    worksheet_function,
)
from gasfuncs.definition.terms import Symbol
from gasfuncs.definition.vocabulary import (
    Bore,
    Conductance,
    Duration,
    GasArgument,
    LeakRate,
    Length,
    LineEnds,
    Numbers,
    Pressure,
    PumpingSpeed,
    Temperature,
    Volume,
)

AIR = properties.gas("air")
"""The gas that is pumped out unless another is named."""

ROOM = 293.15
"""K, where no temperature is asked for."""

PUMPING = (
    "Evacuation at constant pumping speed, throughput Q = S p: J. M. Lafferty, Foundations of "
    "Vacuum Science and Technology"
)
KNUDSEN = "M. Knudsen, Annalen der Physik 333 (1909) 75: round tubes, viscous to molecular flow"
BERMAN = "Molecular flow through a tube of any length: A. S. Berman, J. Appl. Phys. 36 (1965) 3356"
WEISSBERG = "Ends in slow laminar flow: H. L. Weissberg, Phys. Fluids 5 (1962) 1033"
ENDS = (
    "Ends in fast flow: 1.5 velocity heads, a sharp inlet and the outlet (handbooks of hydraulics)"
)
CHURCHILL = "Friction factor: S. W. Churchill, Chemical Engineering 84 (1977) 91, by `fluids`"
WATER_STALLS = "Water on the walls makes the last decades slower than told; a wet vessel may stall."

GasTemperature = Annotated[Temperature, "Temperature of the gas"]
LineBore = Annotated[Bore | None, "Bore of the line to the pump; blank: no line"]
LineLength = Annotated[Length | None, "Length of the line to the pump; blank: no line"]
Pumped = Annotated[GasArgument, "Gas pumped out, at 20 °C"]


@worksheet_function(
    equation="C = π d⁴ p̄ / (128 μ (L + 3πd/16)) + a · d² √(π RT/(32 M)) (1 + s) / (1 + 1.24 s), "
    "s = √(M/RT) · d · p̄ / μ, a: Berman's share of L/d; without ends L for L + 3πd/16, 4d/(3L) "
    "for a",
    sources=(KNUDSEN, BERMAN, WEISSBERG, EQUATION_OF_STATE),
    example=('GAS_LINE_CONDUCTANCE("air", 40, 6, "0.1 mbar")', "6.758 L/s"),
    cautions=("Laminar flow is meant: dense, fast gas passes less (GAS_PUMPDOWN_TIME allows it).",),
)
def line_conductance(
    gas: GasArgument,
    bore: Bore,
    length: Length,
    mean_pressure: Annotated[Pressure, "Mean of the pressures at the two ends"],
    temperature: GasTemperature = ROOM,
    ends: LineEnds = "counted",
) -> Annotated[Conductance, "Vacuum conductance of the line"]:
    """Vacuum conductance of a round line of any length, from viscous to molecular flow.

    Takes m, Pa and K, scalars or arrays; gives m³/s. Raises OutOfRangeError where the ends of a
    line shorter than ten bores are left out.
    """
    refuse(
        (ends != "counted") & (np.asarray(length) < 10 * np.asarray(bore)),
        "length",
        "is less than ten bores; without its ends the line is flattered by a fifth and more: "
        "count them",
    )
    line = _vacuum_line(gas, bore, length, mean_pressure, temperature, ends == "counted")
    step("viscosity", "μ", line.viscosity, "Pa·s")
    step("laminar conductance", "C_v", line.viscous(mean_pressure), "m³/s")
    step("molecular conductance", "C_m", line.molecular(), "m³/s")
    step("factor of intermediate pressures on C_m", "(1+s)/(1+1.24s)", line.slip(mean_pressure))
    return line.conductance(mean_pressure)


def _vacuum_line(
    gas: GasArgument,
    bore: Numbers,
    length: Numbers,
    pressure: Numbers,
    temperature: Numbers,
    ends: bool,
) -> VacuumLine:
    mu = properties.viscosity(gas, pressure, temperature)
    return VacuumLine(bore, length, mu, properties.molar_mass(gas), temperature, ends)


@worksheet_function(
    equation="t = V/S · ln((p₁ - p_b) / (p₂ - p_b)), p_b = Q/S; "
    "with a line t = ∫ V dp / (q(p) - Q), q = S · p_pump = C(p̄) · (p - p_pump)",
    sources=(
        PUMPING,
        KNUDSEN,
        BERMAN,
        ENDS,
        CHURCHILL,
        EQUATION_OF_STATE,
    ),
    example=(
        'GAS_PUMPDOWN_TIME("500 L", 100, "1 atm", "0.1 mbar", "1e-3 mbar L/s", 40, 6)',
        "0.07929 h",
    ),
    cautions=(
        WATER_STALLS,
        "The pumping speed is taken as constant: GAS_PUMPDOWN_CURVE takes the pump's curve.",
    ),
    scalar=True,
)
def pumpdown_time(
    volume: Volume,
    pumping_speed: PumpingSpeed,
    pressure_from: Annotated[Pressure, Symbol("p₁"), "Pressure at the start"],
    pressure_to: Annotated[Pressure, Symbol("p₂"), "Pressure wanted"],
    gas_load: Annotated[LeakRate, "Leaks and outgassing while pumping"] = 0.0,
    bore: LineBore = None,
    length: LineLength = None,
    gas: Pumped = AIR,
) -> Annotated[Duration, "Time to pump down"]:
    """Time to pump a vessel down, directly or through a line whose conductance falls on the way.

    Takes m³, m³/s, Pa, Pa·m³/s and m, one value each; gives s. The line is Knudsen's, with
    turbulence, choking and losses at its ends allowed for. Raises NoSolutionError
    where the wanted pressure is at or below the base pressure.
    """
    refuse(
        pressure_to > pressure_from,
        "pressure_to",
        "is above pressure_from; pumping down lowers the pressure: are the two swapped?",
    )
    line = line_or_none(gas, bore, length)
    pumped = PumpedLine(line, float(pumping_speed))
    p_from, p_to, load = float(pressure_from), float(pressure_to), float(gas_load)
    base = pumped.base_pressure(load)
    step("base pressure, where the pump takes just the gas load", "p_b", base, "Pa")
    unreachable(
        p_to <= base,
        "pressure_to",
        f"is not above {base:.3g} Pa, the base pressure for this gas load and pumping speed; "
        "pumping comes near it but never there",
    )
    if line is not None:
        _show_line(pumped, p_from, p_to)
        step(
            "time without the line",
            "t₀",
            pumped.without_line().time(float(volume), p_from, p_to, load),
            "s",
        )
        step("method", "", "adaptive quadrature over ln(p - p_b), relative tolerance 1e-8")
    return pumped.time(float(volume), p_from, p_to, load)


def line_or_none(
    gas: GasArgument, bore: Numbers | None, length: Numbers | None
) -> VacuumLine | None:
    """The line to the pump, with gas of 20 °C in it, or None where there is none."""
    refuse(bore is None and length is not None, "bore", "is blank; a line has a bore and a length")
    refuse(
        length is None and bore is not None, "length", "is blank; a line has a bore and a length"
    )
    if bore is None or length is None:
        return None
    viscosity = float(properties.viscosity(gas, 0.0, ROOM))
    return VacuumLine(float(bore), float(length), viscosity, properties.molar_mass(gas), ROOM)


def _show_line(pumped: PumpedLine, p_from: float, p_to: float) -> None:
    first, last = pumped.throughput(p_from), pumped.throughput(p_to)
    step("pumping speed at the vessel, at the start", "q/p₁", first / p_from, "m³/s")
    step("pumping speed at the vessel, at the end", "q/p₂", last / p_to, "m³/s")
    assert pumped.line is not None
    step("Reynolds number in the line, at the start", "Re", pumped.line.reynolds(first))
