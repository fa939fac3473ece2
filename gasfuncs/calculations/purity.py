"""Purity at the point of use: what hoses, leaks and walls add to the gas on its way."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from gasfuncs.calculations.impurity_sources import COLUMNS, ImpuritySource, read_sources
from gasfuncs.calculations.moisture import AIR, SOURCES, Carrier, dew_point_of
from gasfuncs.calculations.printed_values import PERMEABILITIES, choices
from gasfuncs.definition import Column, Columns, Quantity, refuse, step, worksheet_function
from gasfuncs.definition.terms import Number, Read, Symbol
from gasfuncs.definition.vocabulary import (
    Bore,
    DeadVolume,
    DewSurface,
    Flow,
    Impurity,
    LeakRate,
    LineLength,
    Minutes,
    MoistGasPressure,
    Permeability,
    Pressure,
    Temperature,
    Wall,
)
from gasfuncs.units import ATMOSPHERE, LEAK_TEMPERATURE, R, kinds

TRACE = 0.1
"""Of the flow: above it what flows in is no trace, and shares do not simply add up."""

BARRER = (
    "1 barrer is 1e-10 cm3(STP) cm/(cm2 s cmHg), 7.5e-14 cm3(STP) cm/(cm2 s Pa); steady "
    "permeation through a tube's wall: J. Crank, The Mathematics of Diffusion, 2nd ed., 5.2.1"
)
MIXED = "Balance of an impurity in a steady flow: c = c_s + Σ q_i / Q_n"
UNWETTED = "Plug flow through the line's volume, ideal gas at its pressure and temperature"


@worksheet_function(
    equation="q = 2π · L · P · (p_o - p_i) / ln((d + 2w) / d) · R · 293.15 K",
    sources=(BARRER, choices(PERMEABILITIES, "permeabilities")),
    example=(
        'GAS_PERMEATION("8 barrer", 6, 1, 10, "0.21 bar(a)", 0, "std cc/min")',
        "0.01651 std cc/min",
    ),
    cautions=(
        "Permeabilities of one polymer differ by a factor of two from print to print, and double "
        "every 15 K or so: the answer is as good as the value that you choose.",
        "The partial pressure of what comes through counts, not the air's: 0.21 bar of oxygen, "
        "10 to 20 mbar of water. It comes in however high the pressure of the gas inside.",
        "Steady state; a hose that was opened gives off its own water for days.",
    ),
)
def permeation(
    permeability: Permeability,
    bore: Bore,
    wall: Annotated[Wall, "Thickness of the wall"],
    length: LineLength,
    outside_pressure: Annotated[
        Pressure,
        Symbol("p_o"),
        "Partial pressure of what comes through, outside: oxygen 0.21 bar(a)",
    ],
    inside_pressure: Annotated[Pressure, Symbol("p_i"), "Its partial pressure inside"] = 0.0,
) -> Annotated[LeakRate, "What comes through the wall"]:
    """Gas that permeates through the wall of a hose or tube, such as oxygen or water from the air.

    Takes mol/(m·s·Pa), m and Pa, scalars or arrays; gives Pa·m³/s. Raises OutOfRangeError where
    the wall has no thickness, or more is inside than outside.
    """
    refuse(np.asarray(wall) <= 0, "wall", "is zero; a hose has a wall")
    refuse(
        np.asarray(inside_pressure) > outside_pressure,
        "inside_pressure",
        "is above outside_pressure: it would leak out: are the two swapped?",
    )
    rings = np.log1p(2 * np.asarray(wall) / bore)
    moles = 2 * np.pi * length * permeability * (outside_pressure - inside_pressure) / rings
    step("flow through the wall", "n", moles, "mol/s")
    return moles * R * LEAK_TEMPERATURE


@worksheet_function(
    equation="t = (π/4 · d² · L + V_d) · p / (R · T · Q_n)",
    sources=(UNWETTED,),
    example=('GAS_SAMPLE_LAG(4, 30, "0.5 NL/min", "1.5 bar(a)")', "1.040 min"),
    cautions=(
        "Moisture clings to walls: its reading lags by hours where oxygen lags by minutes.",
        "The analyser's own response and poorly swept corners come on top.",
    ),
)
def sample_lag(
    bore: Bore,
    length: LineLength,
    flow: Annotated[Flow, "Flow of sample"],
    pressure: Annotated[Pressure, "Pressure in the line"] = ATMOSPHERE,
    temperature: Annotated[Temperature, "Temperature of the line"] = 293.15,
    dead_volume: DeadVolume = 0.0,
) -> Annotated[Minutes, "Time from the tap to the analyser"]:
    """Time that a sample takes through its line: what the analyser shows is that old.

    Takes m, mol/s, Pa, K and m³, scalars or arrays; gives s. Raises OutOfRangeError where
    nothing flows.
    """
    refuse(np.asarray(flow) <= 0, "flow", "is zero; the sample would never arrive")
    volume = np.pi / 4 * np.square(bore) * length + dead_volume
    held = volume * pressure / (R * np.asarray(temperature))
    step("volume of line, filters and valves", "V", volume, "m³")
    step("gas in it", "n", held, "mol")
    return held / flow


BUDGET = Columns(
    (
        Column("Source"),
        Column("Adds", Quantity("c", "Impurity", kind=kinds.IMPURITY, unit="ppm")),
        Column("Share", Number("x", "Share of the total")),
        Column("Dew point", Quantity("T_d", "Dew point", kind=kinds.TEMPERATURE, unit="degC")),
    ),
    "What the supply and each source add, their shares, the total and its dew point",
)


@worksheet_function(
    equation="c = c_s + Σ q_i · x_i / Q_n; dew point with f(T_d, p) · p_w(T_d) = c · p",
    sources=(MIXED, *SOURCES),
    example=(
        'GAS_POINT_OF_USE(1, 10, {"hose","0.003 mbar L/s",1;"leak","0.001 mbar L/s",0.2095})',
        "supply 1, hose 0.9926, leak 0.06931, total 2.062 ppm",
    ),
    cautions=(
        "A steady flow is meant; at standstill impurity gathers: purge before use.",
        "The largest share is the joint or hose to change first; the others stay as they are.",
        "A leak lets in air against the flow's pressure too, wherever the gas flows past fast.",
    ),
)
def point_of_use(
    supply: Annotated[Impurity, "Impurity of the supply"],
    flow: Annotated[Flow, "Flow of gas to the point of use"],
    sources: Annotated[
        list[ImpuritySource],
        Read("q_i", f"A row a source: {COLUMNS}", reader=read_sources, words=COLUMNS, whole=True),
    ],
    dew_pressure: Annotated[
        MoistGasPressure | None,
        "Pressure to tell the dew point at, where the impurity is water; blank: it is not",
    ] = None,
    surface: DewSurface = "ice",
    gas: Carrier = AIR,
) -> Annotated[list[list[Any]], BUDGET]:
    """Impurity at the point of use by source: the supply's own and what leaks, hoses, walls add.

    An inflow is of GAS_PERMEATION, GAS_GAS_LOAD or a leak with the share of the impurity in air
    (oxygen 0.2095, water about 0.01). Takes a fraction, mol/s, Pa·m³/s and Pa; gives rows of
    fraction, share and K. Raises OutOfRangeError where the sources are no traces.
    """
    refuse(np.asarray(flow) <= 0, "flow", "is zero; what flows in would gather without end")
    added = [each.inflow / (R * LEAK_TEMPERATURE) / float(flow) for each in sources]
    refuse(
        sum(added) > TRACE,
        "sources",
        "let in more than a tenth of the flow; that is no trace: check the units",
    )
    shares = [float(supply), *added]
    total = sum(shares)
    called = ["supply", *(each.name for each in sources)]
    dew = None
    if dew_pressure is not None and total > 0:
        names = ("sources", "dew_pressure")
        dew = float(dew_point_of(total, dew_pressure, surface, gas, names))
    rows: list[list[Any]] = [
        [name, c, c / total if total else 0.0, None] for name, c in zip(called, shares, strict=True)
    ]
    return [*rows, ["total", total, 1.0 if total else 0.0, dew]]
