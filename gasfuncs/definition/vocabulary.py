"""The field's terms, each with its unit, symbol, range and help: one name, one meaning.

A calculation annotates its arguments and its result with these. A text beside a term in
`Annotated[Volume, "..."]` says what it is in that function.
"""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.terms import (
    AnyCell,
    Count,
    Date,
    GasName,
    Number,
    Quantity,
    Share,
    Text,
)
from gasfuncs.properties import Gas
from gasfuncs.units import kinds

Numbers = float | NDArray[np.float64]
"""What an SI calculation takes and gives: one number or an array of them."""

GasArgument = Annotated[Gas, GasName("gas", "Gas by name or symbol, or a mixture by volume")]
Pressure = Annotated[
    Numbers, Quantity("p", "Pressure", kind=kinds.PRESSURE, unit="bar(a)", low=0)
]  # fmt: skip
TankPressure = Annotated[
    Numbers,
    Quantity(
        "p_t", "Pressure of the liquid in the tank", kind=kinds.PRESSURE, unit="bar(a)", above=0
    ),
]
GaugePressure = Annotated[
    Numbers, Quantity("p_g", "Gauge pressure", kind=kinds.GAUGE_PRESSURE, unit="bar(g)")
]
PressureDifference = Annotated[
    Numbers,
    Quantity("Δp", "Pressure difference", kind=kinds.PRESSURE_DIFFERENCE, unit="bar", low=0),
]
SitePressure = Annotated[
    Numbers,
    Quantity(
        "p_s", "Air pressure at the site", kind=kinds.PRESSURE, unit="bar(a)", low=0.3, high=1.2
    ),
]
Temperature = Annotated[
    Numbers, Quantity("T", "Temperature", kind=kinds.TEMPERATURE, unit="degC", above=-273.15)
]
Volume = Annotated[
    Numbers, Quantity("V", "Volume of the vessel", kind=kinds.VOLUME, unit="m3", above=0)
]
Amount = Annotated[Numbers, Quantity("n", "Amount of gas", kind=kinds.AMOUNT, unit="Nm3", low=0)]
AmountDifference = Annotated[
    Numbers, Quantity("Δn", "Difference of gas amounts", kind=kinds.AMOUNT, unit="Nm3")
]
Mass = Annotated[Numbers, Quantity("m", "Mass", kind=kinds.MASS, unit="kg", low=0)]
Density = Annotated[Numbers, Quantity("ρ", "Density", kind=kinds.DENSITY, unit="kg/m3", above=0)]
Liquid = Annotated[
    Numbers, Quantity("V_L", "Volume of liquid", kind=kinds.LIQUID, unit="L(liq)", low=0)
]
Flow = Annotated[Numbers, Quantity("Q_n", "Gas flow", kind=kinds.FLOW, unit="Nm3/h", low=0)]
VolumeFlow = Annotated[
    Numbers,
    Quantity("Q", "Flow at its own conditions", kind=kinds.VOLUME_FLOW, unit="m3/h", low=0),
]
PumpingSpeed = Annotated[
    Numbers, Quantity("S", "Pumping speed", kind=kinds.VOLUME_FLOW, unit="m3/h", above=0)
]
Duration = Annotated[Numbers, Quantity("t", "Duration", kind=kinds.TIME, unit="h", low=0)]
Seconds = Annotated[Numbers, Quantity("t", "Duration", kind=kinds.TIME, unit="s", low=0)]
Days = Annotated[Numbers, Quantity("t", "Days", kind=kinds.TIME, unit="d", low=0)]
LeakRate = Annotated[Numbers, Quantity("q_L", "Leak rate", kind=kinds.LEAK, unit="mbar L/s", low=0)]
RiseRate = Annotated[
    Numbers, Quantity("dp/dt", "Pressure rise rate", kind=kinds.RISE_RATE, unit="mbar/h", low=0)
]
Impurity = Annotated[
    Numbers,
    Quantity("c", "Impurity by volume", kind=kinds.IMPURITY, unit="ppm", low=0, high=1e6),
]
Fraction = Annotated[Numbers, Share("x", "Share", kind=kinds.FRACTION, unit="1", low=0, high=1)]
Mixing = Annotated[
    Numbers,
    Share(
        "m", "Mixing: 1 where the fill mixes completely with what is left, less where it does not",
        kind=kinds.FRACTION, unit="1", above=0, high=1,
    ),
]  # fmt: skip
Altitude = Annotated[
    Numbers,
    Quantity("H", "Altitude above sea level", kind=kinds.LENGTH, unit="m", low=-500, high=11_000),
]
Length = Annotated[Numbers, Quantity("L", "Length", kind=kinds.LENGTH, unit="m", low=0)]
Bore = Annotated[Numbers, Quantity("d", "Inner diameter", kind=kinds.LENGTH, unit="mm", above=0)]
Height = Annotated[Numbers, Quantity("h", "Height", kind=kinds.LENGTH, unit="mm", low=0)]
Power = Annotated[Numbers, Quantity("P", "Power", kind=kinds.POWER, unit="kW", low=0)]
Ratio = Annotated[Numbers, Number("r", "Ratio", low=0)]
PlainNumber = Annotated[Numbers, Number("x", "Number")]
Cycles = Annotated[Numbers, Count("n", "Number of cycles", low=0, high=100_000)]
Day = Annotated[Numbers, Date("date", "Date", low=1, high=2_958_465)]
UnitText = Annotated[str, Text("unit", "Unit, as text")]
FunctionName = Annotated[str, Text("name", "Name of a worksheet function")]
AnyArguments = Annotated[Any, AnyCell("arguments", "Its arguments", whole=True)]

__all__ = [name for name in globals() if name[:1].isupper()] + ["kinds"]
