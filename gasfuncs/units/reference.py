"""The reference conditions that a "normal" or "standard" gas volume is stated at."""

from __future__ import annotations

from dataclasses import dataclass

R = 8.314462618
"""Molar gas constant, J/(mol K): CODATA 2018, exact."""

ATMOSPHERE = 101_325.0
"""Standard atmosphere, Pa: what a gauge reading is taken over."""

ZERO_CELSIUS = 273.15

PSI = 6894.757293168361
"""Pound-force per square inch, Pa: from the exact pound, inch and standard gravity."""


@dataclass(frozen=True, slots=True)
class Reference:
    """A temperature (K) and pressure (Pa) at which a gas volume is stated."""

    label: str
    temperature: float
    pressure: float
    source: str

    def ideal_molar_density(self) -> float:
        """mol/m³ of an ideal gas here."""
        return self.pressure / (R * self.temperature)


NORMAL = Reference("0 °C, 101.325 kPa", ZERO_CELSIUS, ATMOSPHERE, "DIN 1343")
STANDARD = Reference("15 °C, 101.325 kPa", 288.15, ATMOSPHERE, "ISO 13443")
ONE_BAR = Reference("15 °C, 1 bar", 288.15, 100_000.0, "European bulk and cylinder gas practice")
US_GAS = Reference("70 °F, 14.696 psia", 294.2611111111111, 14.696 * PSI, "US industrial-gas base")
US_OIL = Reference("60 °F, 14.696 psia", 288.7055555555556, 14.696 * PSI, "US oil and gas base")
