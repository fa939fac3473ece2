"""The field's terms, each with its unit, symbol, range and help: one name, one meaning.

A calculation annotates its arguments and its result with these. A text beside a term in
`Annotated[Volume, "..."]` says what it is in that function.
"""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.limits import Limit, LimitTerm
from gasfuncs.definition.liquid_terms import AmountOrMass, LiquidOrGas, StateOfLiquid, ToldAsGas
from gasfuncs.definition.moments import Moment
from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import (
    AnyCell,
    Choice,
    Count,
    Date,
    GasName,
    Number,
    Opening,
    Quantity,
    Share,
    Text,
)
from gasfuncs.definition.tolerances import Parts, Tolerance
from gasfuncs.properties import Gas, LiquidState
from gasfuncs.units import kinds

Numbers = float | NDArray[np.float64]
"""What an SI calculation takes and gives: one number or an array of them."""

GasArgument = Annotated[Gas, GasName("gas", "Gas by name or symbol, or a mixture by volume")]
Pressure = Annotated[
    Numbers, Quantity("p", "Pressure", kind=kinds.PRESSURE, unit="bar(a)", low=0, high=20_000)
]  # fmt: skip
TankPressure = Annotated[
    Numbers,
    Quantity(
        "p_t",
        "Pressure of the liquid in the tank",
        kind=kinds.PRESSURE,
        unit="bar(a)",
        steady=True,
        above=0,
        high=20_000,
    ),
]
LiquidAt = Annotated[
    LiquidState,
    StateOfLiquid(
        "liquid_at",
        'State of the liquid: blank is saturated at the tank\'s pressure; "1 atm" is saturated at '
        'that pressure, as tickets count; "-190 degC" is colder liquid under the tank\'s pressure',
    ),
]
GaugePressure = Annotated[
    Numbers,
    Quantity("p_g", "Gauge pressure", kind=kinds.GAUGE_PRESSURE, unit="bar(g)", high=20_000),
]
PressureDifference = Annotated[
    Numbers,
    Quantity(
        "Δp",
        "Pressure difference",
        kind=kinds.PRESSURE_DIFFERENCE,
        unit="bar",
        low=0,
        high=20_000,
    ),
]
SitePressure = Annotated[
    Numbers,
    Quantity(
        "p_s", "Air pressure at the site", kind=kinds.PRESSURE, unit="bar(a)", low=0.3, high=1.2
    ),
]
Temperature = Annotated[
    Numbers,
    Quantity("T", "Temperature", kind=kinds.TEMPERATURE, unit="degC", above=-273.15, high=5_000),
]
Volume = Annotated[
    Numbers,
    Quantity(
        "V", "Volume of the vessel", kind=kinds.VOLUME, unit="m3", above=0, low=1e-9, high=1e8
    ),
]
Amount = Annotated[
    Numbers, Quantity("n", "Amount of gas", kind=kinds.AMOUNT, unit="Nm3", low=0, high=1e11)
]
AmountDifference = Annotated[
    Numbers, Quantity("Δn", "Difference of gas amounts", kind=kinds.AMOUNT, unit="Nm3")
]
Mass = Annotated[Numbers, Quantity("m", "Mass", kind=kinds.MASS, unit="kg", low=0, high=1e9)]
Density = Annotated[
    Numbers,
    Quantity("ρ", "Density", kind=kinds.DENSITY, unit="kg/m3", above=0, low=1e-9, high=25_000),
]
Liquid = Annotated[
    Numbers, Quantity("V_L", "Volume of liquid", kind=kinds.LIQUID, unit="L(liq)", low=0, high=1e10)
]
LiquidTold = Annotated[
    Numbers | ToldAsGas,
    LiquidOrGas(
        "V_L", 'Volume of liquid; or its mass or gas as text, "4434 kg", "148000 scf"',
        kind=kinds.LIQUID, unit="L(liq)", low=0, high=1e10,
    ),
]  # fmt: skip
GasOrMass = Annotated[
    Numbers,
    AmountOrMass(
        "n", 'Amount of gas; or its mass as text, "4434 kg"',
        kind=kinds.AMOUNT, unit="Nm3", low=0, high=1e11,
    ),
]  # fmt: skip
ScfPerGallon = Annotated[
    Numbers,
    Number(
        "f", "Gas that a gallon counts as by contract, in scf per gal(liq), as 93.11 for nitrogen",
        low=50, high=150,
    ),
]  # fmt: skip
Capacity = Annotated[
    Numbers,
    Quantity(
        "V_t",
        "Inner volume of the tank",
        kind=kinds.LIQUID,
        unit="L(liq)",
        above=0,
        low=1e-3,
        high=1e10,
    ),
]
EvaporationRate = Annotated[
    Numbers,
    Share(
        "e", "Evaporation a day of the full tank, as a share of its capacity",
        kind=kinds.FRACTION, unit="1", low=0, high=0.1,
    ),
]  # fmt: skip
Flow = Annotated[
    Numbers, Quantity("Q_n", "Gas flow", kind=kinds.FLOW, unit="Nm3/h", low=0, high=1e8)
]
VolumeFlow = Annotated[
    Numbers,
    Quantity(
        "Q", "Flow at its own conditions", kind=kinds.VOLUME_FLOW, unit="m3/h", low=0, high=1e9
    ),
]
PumpingSpeed = Annotated[
    Numbers,
    Quantity(
        "S", "Pumping speed", kind=kinds.VOLUME_FLOW, unit="m3/h", above=0, low=1e-9, high=1e9
    ),
]
Duration = Annotated[Numbers, Quantity("t", "Duration", kind=kinds.TIME, unit="h", low=0, high=1e6)]
Minutes = Annotated[
    Numbers, Quantity("t", "Duration", kind=kinds.TIME, unit="min", low=0, high=1e8)
]
Seconds = Annotated[Numbers, Quantity("t", "Duration", kind=kinds.TIME, unit="s", low=0, high=1e9)]
Days = Annotated[Numbers, Quantity("t", "Days", kind=kinds.TIME, unit="d", low=0, high=100_000)]
Conductance = Annotated[
    Numbers, Quantity("C", "Vacuum conductance", kind=kinds.VOLUME_FLOW, unit="L/s", low=0)
]
LineEnds = Annotated[
    str,
    Choice(
        "ends",
        "Whether the losses at the line's two ends are counted; left out, it must be long",
        words=("counted", "left out"),
    ),
]
CurvePressures = Annotated[
    NDArray[np.float64],
    Series(
        "p_i", "Inlet pressures of the pump's curve, rising, a range",
        each=Quantity(
            "p", "Inlet pressure", kind=kinds.PRESSURE, unit="bar(a)", above=0, high=20
        ),
    ),
]  # fmt: skip
CurveSpeeds = Annotated[
    NDArray[np.float64],
    Series(
        "S_i", "Pumping speeds at those pressures; 0 at the pump's ultimate pressure",
        each=Quantity(
            "S", "Pumping speed", kind=kinds.VOLUME_FLOW, unit="m3/h", low=0, high=1e9
        ),
    ),
]  # fmt: skip
Areas = Annotated[
    NDArray[np.float64],
    Series(
        "A_i", "Areas that give off gas, a range",
        each=Quantity("A", "Area", kind=kinds.AREA, unit="m2", low=0, high=1e9),
    ),
]  # fmt: skip
OutgassingRates = Annotated[
    NDArray[np.float64],
    Series(
        "q_i", "Outgassing rates of those areas after 1 h of pumping",
        each=Quantity(
            "q", "Outgassing rate", kind=kinds.OUTGASSING, unit="mbar L/(s cm2)", low=0, high=1e3
        ),
    ),
]  # fmt: skip
OutgassingExponents = Annotated[
    NDArray[np.float64],
    Series(
        "α_i", "Exponents by which those rates fall with time: near 1 metal, near 0.5 elastomers",
        each=Number("α", "Exponent", low=0, high=3),
    ),
]  # fmt: skip
LeakTestTime = Annotated[
    Numbers,
    Quantity("t", "Duration of the test", kind=kinds.TIME, unit="h", above=0, low=1e-9, high=1e6),
]
ReadingTimes = Annotated[
    NDArray[np.float64],
    Series(
        "t", "Times of the readings, a range: hours, or dates with times; blank rows are left out",
        each=Moment("t", "Time of a reading", kind=kinds.TIME, unit="h", low=-2e5, high=2e5),
        blank=np.nan,
    ),
]  # fmt: skip
TimesAre = Annotated[
    str,
    Choice(
        "times_are", "What bare numbers in times are: hours, or dates as the spreadsheet counts",
        words=("hours", "dates"),
    ),
]  # fmt: skip
ReadingPressures = Annotated[
    NDArray[np.float64],
    Series(
        "p", "Pressures read, a range as long as the times",
        each=Quantity(
            "p", "Pressure read", kind=kinds.PRESSURE, unit="bar(a)", low=0, high=20_000
        ),
        blank=np.nan,
    ),
]  # fmt: skip
LeakRate = Annotated[
    Numbers, Quantity("q_L", "Leak rate", kind=kinds.LEAK, unit="mbar L/s", low=0, high=1e10)
]
LeakRateDifference = Annotated[
    Numbers, Quantity("q_L", "Leak rate, of either sign", kind=kinds.LEAK, unit="mbar L/s")
]
TightLimit = Annotated[
    Limit,
    LimitTerm(
        "q_max", 'Limit: a leak rate, or a rate of rise such as "10 micron/h"',
        leak=Quantity("q_L", "", kind=kinds.LEAK, unit="mbar L/s", low=0, high=1e10),
        rise=Quantity("dp/dt", "", kind=kinds.RISE_RATE, unit="mbar/h", low=0, high=1e10),
    ),
]  # fmt: skip
PressureTolerance = Annotated[
    Parts,
    Tolerance(
        "δp", 'Tolerance of the gauge: "±2 %" is its scale, "±0.5 micron" every reading by itself',
        of=Quantity("p", "Pressure read", kind=kinds.PRESSURE, unit="mbar"),
    ),
]  # fmt: skip
TemperatureTolerance = Annotated[
    Parts,
    Tolerance(
        "δT", 'Tolerance of each temperature, such as "±0.5 K"',
        of=Quantity("T", "Temperature", kind=kinds.TEMPERATURE, unit="degC"),
    ),
]  # fmt: skip
LeakRegime = Annotated[
    str,
    Choice("regime", "How the gas flows through the leak", words=("auto", "molecular", "laminar")),
]
RiseRate = Annotated[
    Numbers, Quantity("dp/dt", "Pressure rise rate", kind=kinds.RISE_RATE, unit="mbar/h", low=0)
]
Impurity = Annotated[
    Numbers,
    Quantity("c", "Impurity by volume", kind=kinds.IMPURITY, unit="ppm", low=0, high=1e6),
]
Moisture = Annotated[
    Numbers,
    Quantity(
        "y", "Water by volume of the whole gas", kind=kinds.MOISTURE, unit="ppm", above=0, high=1e6
    ),
]
DewPoint = Annotated[
    Numbers,
    Quantity(
        "T_d", "Dew point; below 0 °C the frost point unless the surface is water",
        kind=kinds.TEMPERATURE, unit="degC", low=-150, high=100,
    ),
]  # fmt: skip
MoistGasPressure = Annotated[
    Numbers,
    Quantity(
        "p", "Pressure of the moist gas",
        kind=kinds.PRESSURE, unit="bar(a)", above=0, high=105,
    ),
]  # fmt: skip
DewSurface = Annotated[
    str,
    Choice(
        "surface",
        "What a dew point below 0 °C is told over: ice (frost point) or water (supercooled)",
        words=("ice", "water"),
    ),
]
Fraction = Annotated[Numbers, Share("x", "Share", kind=kinds.FRACTION, unit="1", low=0, high=1)]
Mixing = Annotated[
    Numbers,
    Share(
        "m", "Mixing: 1 where the fill mixes completely with what is left, less where it does not",
        kind=kinds.FRACTION, unit="1", above=0, high=1,
    ),
]  # fmt: skip
Exchange = Annotated[
    str,
    Choice(
        "exchange", "How a gas exchanges heat with what is around it",
        words=("wall", "isothermal", "adiabatic"),
    ),
]  # fmt: skip
FillControl = Annotated[
    str,
    Choice(
        "control",
        "How the fill is controlled: topped up (the pressure is held while the gas cools) or one "
        "shot (the valve shuts once the pressure is reached, the gas still hot)",
        words=("topped up", "one shot"),
    ),
]
OxygenShare = Annotated[
    Numbers,
    Share("x_O2", "Oxygen by volume", kind=kinds.FRACTION, unit="1", low=0.1, high=1),
]
OxygenShares = Annotated[
    NDArray[np.float64],
    Series(
        "x_i", "Lowest oxygen by volume that each event leaves, a range",
        each=Share("x", "Oxygen", kind=kinds.FRACTION, unit="1", low=0, high=1),
    ),
]  # fmt: skip
FailureRates = Annotated[
    NDArray[np.float64],
    Series(
        "P_i", "Failures an hour of one component, an event each, a range",
        each=Number("P", "Failures an hour", low=0, high=1e3),
    ),
]  # fmt: skip
Counts = Annotated[
    NDArray[np.float64],
    Series(
        "N_i", "How many such components there are, a range; blank: 1 each",
        each=Count("N", "Number of components", low=0, high=1e6), blank=1.0,
    ),
]  # fmt: skip
Discharge = Annotated[
    Numbers,
    Share(
        "K_d", "Certified (derated) coefficient of discharge",
        kind=kinds.FRACTION, unit="1", above=0, high=1,
    ),
]  # fmt: skip
Orifice = Annotated[
    Numbers,
    Opening(
        "d",
        "Diameter of the orifice, or its area",
        kind=kinds.LENGTH,
        unit="mm",
        above=0,
        low=1e-6,
        high=10_000,
    ),
]
Altitude = Annotated[
    Numbers,
    Quantity("H", "Altitude above sea level", kind=kinds.LENGTH, unit="m", low=-500, high=11_000),
]
Length = Annotated[
    Numbers, Quantity("L", "Length", kind=kinds.LENGTH, unit="m", low=0, high=10_000)
]
Bore = Annotated[
    Numbers,
    Quantity("d", "Inner diameter", kind=kinds.LENGTH, unit="mm", above=0, low=0.001, high=10_000),
]
LineLength = Annotated[
    Numbers, Quantity("L", "Length of the line", kind=kinds.LENGTH, unit="m", low=0, high=10_000)
]
Roughness = Annotated[
    Numbers,
    Quantity(
        "ε", "Roughness of the inner wall: steel pipe 0.045, drawn tube 0.0015",
        kind=kinds.LENGTH, unit="mm", low=0, high=1_000,
    ),
]  # fmt: skip
LossCoefficient = Annotated[
    Numbers,
    Number("K", "Sum of the loss coefficients of bends, valves and the inlet", low=0, high=1e9),
]
FlowCoefficient = Annotated[
    Numbers,
    Quantity(
        "Kv", 'Flow coefficient of the valve: Kv, or text such as "20 Cv"',
        kind=kinds.FLOW_COEFFICIENT, unit="Kv", above=0, low=1e-9, high=1e6,
    ),
]  # fmt: skip
ChokingRatio = Annotated[
    Numbers,
    Number(
        "xT", "Pressure drop ratio factor xT of the valve when it chokes: the maker's sheet",
        low=0.01, high=1,
    ),
]  # fmt: skip
Upstream = Annotated[
    str,
    Choice(
        "upstream",
        "Where pressure_up is: of gas at rest before the line's inlet, or in the pipe, flowing "
        "already, as drop tables have it",
        words=("at rest", "in the pipe"),
    ),
]
TankDiameter = Annotated[
    Numbers,
    Quantity(
        "D", "Inner diameter of the tank", kind=kinds.LENGTH, unit="m", above=0, low=0.01, high=200
    ),
]
TankPosition = Annotated[
    str, Choice("position", "How the tank stands", words=("vertical", "horizontal"))
]
Wall = Annotated[
    Numbers,
    Quantity("L_w", "Thickness of the wall", kind=kinds.LENGTH, unit="mm", low=0, high=10_000),
]
Permeability = Annotated[
    Numbers,
    Quantity(
        "P", "Permeability of the wall's material for what comes through",
        kind=kinds.PERMEABILITY, unit="barrer", low=0, high=1e6,
    ),
]  # fmt: skip
DeadVolume = Annotated[
    Numbers,
    Quantity(
        "V_d", "Volume of filters and valves on the way", kind=kinds.VOLUME, unit="L", low=0,
        high=1e6,
    ),
]  # fmt: skip
HoleDiameter = Annotated[
    Numbers, Quantity("d", "Diameter of a hole", kind=kinds.LENGTH, unit="um", low=0)
]
Height = Annotated[Numbers, Quantity("h", "Height", kind=kinds.LENGTH, unit="mm", low=0)]
Power = Annotated[Numbers, Quantity("P", "Power", kind=kinds.POWER, unit="kW", low=0)]
Ratio = Annotated[Numbers, Number("r", "Ratio", low=0, high=1e9)]
PlainNumber = Annotated[Numbers, Number("x", "Number")]
Cycles = Annotated[Numbers, Count("n", "Number of cycles", low=0, high=100_000)]
Changes = Annotated[Numbers, Number("N", "Volume changes", low=0, high=1e6)]
HeatConductance = Annotated[
    Numbers,
    Quantity("h A", "Heat conductance", kind=kinds.HEAT_CONDUCTANCE, unit="W/K", low=0, high=1e9),
]
Price = Annotated[Numbers, Number("c", "Price, in your own currency", low=0, high=1e12)]
Money = Annotated[Numbers, Number("C", "Cost, in your own currency", low=0, high=1e15)]
Stock = Annotated[Numbers, Number("S", "Stock, in your own unit", low=0, high=1e15)]
DailyUse = Annotated[Numbers, Number("u", "Use a day, in the unit of the stock", low=0, high=1e15)]
DailyBoilOff = Annotated[
    Numbers, Number("b", "Evaporation a day, in the unit of the stock", low=0, high=1e15)
]
DailySpread = Annotated[
    Numbers,
    Number(
        "s",
        "Standard deviation of the use of a day, in the unit of the stock, without what weekends "
        "and holidays of a plan explain",
        low=0,
        high=1e15,
    ),
]
LeadTime = Annotated[
    Numbers,
    Quantity("L", "Time from order to delivery", kind=kinds.TIME, unit="d", low=0, high=10_000),
]
LeadSpread = Annotated[
    Numbers,
    Quantity(
        "s_L",
        "Standard deviation of the time to the delivery",
        kind=kinds.TIME,
        unit="d",
        low=0,
        high=10_000,
    ),
]
ReviewInterval = Annotated[
    Numbers,
    Quantity(
        "T",
        "Time between two readings of the level, when an order can be placed",
        kind=kinds.TIME, unit="d", low=0, high=1_000,
    ),
]  # fmt: skip
SampleSize = Annotated[
    Numbers,
    Count(
        "n", "Days that mean and standard deviation were found from; blank: many",
        low=2, high=1_000_000,
    ),
]  # fmt: skip
LeastLoad = Annotated[
    Numbers,
    Number("q_min", "Least that a truck delivers, in the unit of the stock", low=0, high=1e15),
]
UseOfEachDay = Annotated[
    NDArray[np.float64],
    Series(
        "u_i", "Use of each calendar day, in the unit of the stock; a blank day uses none",
        each=Number("u", "Use of a day", low=0, high=1e15), blank=0.0,
    ),
]  # fmt: skip
FillLimit = Annotated[
    Numbers,
    Share(
        "f", "Highest fill of the tank, as a share of its capacity",
        kind=kinds.FRACTION, unit="1", above=0, high=1,
    ),
]  # fmt: skip
ServiceLevel = Annotated[
    Numbers,
    Share(
        "P", "Chance of not reaching the reserve while a delivery is awaited",
        kind=kinds.FRACTION, unit="1", above=0, high=1,
    ),
]  # fmt: skip
Points = Annotated[int, Count("N", "Number of points", low=2, high=10_000)]
Day = Annotated[Numbers, Date("date", "Date", low=1, high=2_958_465)]
UnitText = Annotated[str, Text("unit", "Unit, as text")]
FunctionName = Annotated[str, Text("name", "Name of a worksheet function")]
AnyArguments = Annotated[Any, AnyCell("arguments", "Its arguments", whole=True)]

__all__ = [name for name in globals() if name[:1].isupper()] + ["kinds"]
