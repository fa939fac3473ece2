"""Pressure-decay tests of a known leak, read with gauges and thermometers of known tolerances."""

from __future__ import annotations

from dataclasses import dataclass, replace

from gasfuncs import properties
from gasfuncs.units import R
from tests.simulated.rises import HOUR, Random, between

BAR = 1e5


@dataclass(frozen=True)
class Decay:
    """A vessel, how well it is read, and the true leak (Pa·m³/s, at the start)."""

    gas: str
    volume: float
    pressure: float
    temperatures: tuple[float, float]
    duration: float
    tolerances: tuple[float, float]
    """Half widths of every pressure (Pa) and temperature (K) read."""
    errors: tuple[float, float, float, float]
    """Of the four readings, in half widths."""
    leak: float = 0.0

    def read(self) -> tuple[float, float, float, float]:
        """Pressure and temperature read at the start, and at the end (Pa, K)."""
        gas, (first, second) = properties.gas(self.gas), self.temperatures
        held = float(properties.molar_density(gas, self.pressure, first))
        lost = self.leak / (R * first) * self.duration / self.volume
        end = float(properties.pressure(gas, held - lost, second))
        true, widths = (self.pressure, first, end, second), self.tolerances * 2
        off = (width * error for width, error in zip(widths, self.errors, strict=True))
        return tuple(a + b for a, b in zip(true, off, strict=True))  # type: ignore[return-value]


def decay(random: Random) -> Decay:
    """A vessel of 0.1 to 40 m³ at 5 to 200 bar over 4 to 72 h; every error is rectangular."""
    pressure = between(random, 5.0, 200.0) * BAR
    first, second = 293.15 + random.uniform(-5, 5, 2)
    errors = random.uniform(-1, 1, 4)
    return Decay(
        gas=str(random.choice(["nitrogen", "argon"])), volume=between(random, 0.1, 40.0),
        pressure=pressure, temperatures=(float(first), float(second)),
        duration=between(random, 4.0, 72.0) * HOUR,
        tolerances=(pressure * between(random, 1e-4, 3e-3), between(random, 0.1, 1.0)),
        errors=tuple(errors.tolist()),
    )  # fmt: skip


def again(random: Random, test: Decay, leak: float) -> Decay:
    """Another test of the same vessel, as long and read as well, with a leak."""
    other = decay(random)
    return replace(test, temperatures=other.temperatures, errors=other.errors, leak=leak)
