"""Parts of calculations that are recorded once, as names of their own, and called."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from types import ModuleType
from typing import Any

from fluids import geometry

from gasfuncs.calculations import delivery, friction, gas_dynamics, leak, moisture
from gasfuncs.calculations.leak import bore_of
from gasfuncs.calculations.vacuum_line import VacuumLine


@dataclass(frozen=True)
class Part:
    """A function that calculations look up in a module; `numbers` are the arguments that tell it.

    `whole` is the same function of these numbers alone, where it takes other arguments. Of one that
    answers several numbers each part is one, by its `place`.
    """

    module: ModuleType
    function: str
    numbers: Callable[..., tuple[Any, ...]] = lambda *args: args
    whole: Callable[..., Any] | None = None
    place: int | None = None


def _of_hole(hole: VacuumLine, rate: Any) -> tuple[Any, ...]:
    return hole.viscosity, hole.molar_mass, hole.temperature, rate


def _bore(viscosity: Any, molar_mass: Any, temperature: Any, rate: Any) -> Any:
    return bore_of(leak.hole_of(viscosity, molar_mass, temperature), rate)


LYING_SPHERE = geometry.V_horiz_spherical


def _level_of(*sizes: Any) -> tuple[Any, ...]:
    return (sizes[3],)


def _lying_sphere(level: Any) -> Any:
    """A head of a tank of diameter 1, as deep as half of that: else it is integrated."""
    return LYING_SPHERE(1.0, 0.0, 0.5, level, headonly=True)


def _of_pipe(pipe: Any, *at: Any) -> tuple[Any, ...]:
    return (
        pipe.k, pipe.diameters, pipe.fittings, pipe.roughness, pipe.reynolds, pipe.valve,
        pipe.choking, pipe.limit, *at,
    )  # fmt: skip


def _round(
    k: Any, diameters: Any, fittings: Any, roughness: Any, reynolds: Any, valve: Any, choking: Any,
    limit: Any, x: Any, z: Any, lost: Any,
) -> Any:  # fmt: skip
    made: Any = gas_dynamics.Pipe
    ends = (k - 1) / 2, (k + 1) / 2
    pipe = made(k, *ends, diameters, fittings, roughness, reynolds, valve, choking, limit, True)
    return ROUND(pipe, x, z, lost)


ROUND = gas_dynamics.next_round

PARTS: dict[str, Part] = {
    "GF_PART_HELD": Part(moisture, "held"),
    "GF_PART_HOLDING": Part(moisture, "holding"),
    "GF_PART_ENHANCEMENT": Part(moisture, "enhancement"),
    "GF_PART_OVER_ICE": Part(moisture, "over_ice"),
    "GF_PART_OVER_WATER": Part(moisture, "over_water"),
    "GF_PART_UPRIGHT_ELLIPSOID": Part(geometry, "V_vertical_ellipsoidal"),
    "GF_PART_UPRIGHT_SPHERE": Part(geometry, "V_vertical_spherical"),
    "GF_PART_UPRIGHT_TORISPHERE": Part(geometry, "V_vertical_torispherical"),
    "GF_PART_LYING_ELLIPSOID": Part(geometry, "V_horiz_ellipsoidal"),
    "GF_PART_LYING_SPHERE": Part(geometry, "V_horiz_spherical", _level_of, _lying_sphere),
    "GF_PART_FRICTION": Part(friction, "friction", place=0),
    "GF_PART_FRICTION_SLOPE": Part(friction, "friction", place=1),
    "GF_PART_LINE_INLET": Part(gas_dynamics, "next_round", _of_pipe, _round, 0),
    "GF_PART_LINE_END": Part(gas_dynamics, "next_round", _of_pipe, _round, 1),
    "GF_PART_PRESSURE_OF_ENERGY": Part(delivery, "pressure_of_energy"),
    "GF_PART_PRESSURE_OF_ENTROPY": Part(delivery, "pressure_of_entropy"),
    "GF_PART_ENERGY_AT": Part(delivery, "energy_at"),
    "GF_PART_ENTROPY_AT": Part(delivery, "entropy_at"),
    "GF_PART_BORE": Part(leak, "bore_of", _of_hole, _bore),
}
"""What is long, and called more than once or on one way of several."""
