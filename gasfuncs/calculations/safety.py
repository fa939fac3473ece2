"""Flow through a relief device."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE, REFERENCE_CONDITIONS
from gasfuncs.definition import AlsoMass, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.vocabulary import (
    Discharge,
    Flow,
    GasArgument,
    Orifice,
    Pressure,
    Temperature,
)
from gasfuncs.errors import StateError
from gasfuncs.properties import Gas
from gasfuncs.units import ATMOSPHERE

THINNEST = 0.45
"""Of the density before the nozzle: gas chokes near 0.63, before it is that thin."""


@worksheet_function(
    equation=(
        "Q_n = K_d · A · max(ρ_m · w) along the isentrope to p ≥ p_b, w = √(2 · (h₀ - h) / M)"
    ),
    sources=(
        "Largest flow of the real gas through an isentropic nozzle (direct integration, API "
        "Standard 520 part 1, annex B); where gas is ideal it is ISO 4126-1:2013, critical and "
        "subcritical flow",
        EQUATION_OF_STATE,
        REFERENCE_CONDITIONS,
    ),
    example=('GAS_RELIEF_FLOW("argon", "12 mm", "16 bar(g)")', "1038 Nm3/h"),
    cautions=(
        "An estimate. A relief device is chosen, sized and set by a licensed designer under the "
        "local pressure-equipment code, with the certified coefficient of its maker.",
        "Pressure loss in the lines before and after the device takes capacity and is not in here.",
        "The discharge is inert gas at full flow: lead it outdoors, away from people and intakes.",
        "A liquid that can be shut in between two valves needs a relief device of its own.",
        "Carbon dioxide can turn to dry ice in the device and block it.",
    ),
    scalar=True,
)
def relief_flow(
    gas: GasArgument,
    orifice: Orifice,
    relieving_pressure: Annotated[
        Pressure,
        "Pressure at which it relieves: set pressure and overpressure, absolute",
        Symbol("p₀"),
    ],
    temperature: Annotated[Temperature, "Temperature of the gas before the device"] = 293.15,
    discharge: Discharge = 0.9,
    back_pressure: Annotated[Pressure, "Pressure behind the device", Symbol("p_b")] = ATMOSPHERE,
) -> Annotated[Flow, AlsoMass(properties.molar_mass), "Flow that the device lets out"]:
    """Gas flow through a safety valve, bursting disc or orifice that is fully open.

    Takes m (diameter), Pa and K, one value each; gives mol/s, and kg/h or lb/h where asked.
    Raises OutOfRangeError where the pressure behind is not below the relieving pressure,
    StateError where the gas is not gas, before the device or in it.
    """
    refuse(
        np.asarray(back_pressure) >= relieving_pressure,
        "back_pressure",
        "is not below relieving_pressure, so nothing flows out: are the two swapped?",
    )
    nozzle = Nozzle(gas, float(relieving_pressure), float(temperature))
    choked = nozzle.choked()
    critical, _ = nozzle.state(choked)
    throat = choked if critical >= back_pressure else nozzle.at(float(back_pressure), choked)
    area = np.pi / 4 * np.square(orifice)
    pressure, cold = nozzle.state(throat)
    step("flow area", "A", area, "m²")
    step("critical pressure ratio", "(p/p₀)_c", critical / relieving_pressure)
    step("pressure in the narrowest place", "p", pressure, "Pa")
    step("temperature there", "T", cold, "K")
    step("molar density there", "ρ_m", throat, "mol/m³")
    step("speed there", "w", nozzle.flux(throat) / throat, "m/s")
    return discharge * area * nozzle.flux(throat)


@dataclass(frozen=True)
class Nozzle:
    """Gas that expands without loss or heat from a pressure (Pa) and temperature (K)."""

    gas: Gas
    pressure: float
    temperature: float

    @property
    def density(self) -> float:
        """mol/m³ before the nozzle."""
        return float(properties.molar_density(self.gas, self.pressure, self.temperature))

    def state(self, density: float) -> tuple[float, float]:
        """Pa and K where the gas has a density (mol/m³)."""
        try:
            p, t = properties.expanded(self.gas, self.pressure, self.temperature, density)
        except StateError as error:
            raise StateError(
                f"the gas would turn liquid in the device, in part ({error.sentence}); "
                "its flow is then not that of a gas"
            ) from None
        return float(p), float(t)

    def flux(self, density: float) -> float:
        """mol/(s m²) where the gas has a density (mol/m³)."""
        before = properties.enthalpy(self.gas, self.pressure, self.temperature)
        fall = float(before - properties.enthalpy(self.gas, *self.state(density)))
        return density * float(np.sqrt(2 * max(fall, 0.0) / properties.molar_mass(self.gas)))

    def choked(self) -> float:
        """mol/m³ where the flux is largest."""
        from scipy.optimize import minimize_scalar

        dense = self.density
        found = minimize_scalar(
            lambda density: -self.flux(density),
            bounds=(THINNEST * dense, dense),
            method="bounded",
            options={"xatol": 1e-7 * dense},
        )
        return float(found.x)

    def at(self, pressure: float, choked: float) -> float:
        """mol/m³ at a pressure (Pa) above that of the choked flow."""
        from scipy.optimize import brentq

        return float(
            brentq(lambda density: self.state(density)[0] - pressure, choked, self.density)
        )
