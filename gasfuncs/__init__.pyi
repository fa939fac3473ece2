# Written by `gasfuncs build stubs`; a test holds it to the functions.
# mypy: disable-error-code="overload-overlap"
"""Industrial-gas calculations for vacuum heat treating, as worksheet functions and in Python."""

import datetime as dt
from collections.abc import Sequence
from typing import Any, Literal, overload

import numpy as np
from numpy.typing import NDArray

from gasfuncs.errors import CellError as CellError
from gasfuncs.errors import GasFuncsError as GasFuncsError

Cell = float | str | bool | dt.date | CellError | None
"""One value, as a cell holds it; None is a blank cell."""
Cells = Cell | Sequence[Any] | NDArray[Any] | Any
"""One value or a range: a list, rows of lists, an array, a pandas Series."""

__version__: str
__all__: list[str]

@overload
def GAS_CONVERT(
    value: Cell,
    from_unit: Cell,
    to_unit: Cell,
    gas: Cell = None,
    tank_pressure: Cell = None,
    liquid_at: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """A number in another unit; of a gas also between amount, mass and liquid, and their flows.

    value: Number to convert
    from_unit: Unit that the number is in
    to_unit: Unit wanted
    gas: Gas, where amount, mass or liquid become one another [optional]
    tank_pressure: Pressure of the liquid in the tank [bar(a); default 1.01325 bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    """
@overload
def GAS_CONVERT(
    value: Cells,
    from_unit: Cells,
    to_unit: Cells,
    gas: Cells = None,
    tank_pressure: Cells = None,
    liquid_at: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_SITE_PRESSURE(
    altitude: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Air pressure at an altitude, in the standard atmosphere.

    altitude: Altitude above sea level [m]
    unit: Unit to answer in, as text [default bar(a)]
    """
@overload
def GAS_SITE_PRESSURE(
    altitude: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_ABSOLUTE(
    gauge_pressure: Cell,
    site_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Absolute pressure from a gauge reading and the air pressure at the site.

    gauge_pressure: Gauge pressure [bar(g)]
    site_pressure: Air pressure at the site [bar(a); default 1.01325 bar(a)]
    unit: Unit to answer in, as text [default bar(a)]
    """
@overload
def GAS_ABSOLUTE(
    gauge_pressure: Cells,
    site_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_GAUGE(
    absolute_pressure: Cell,
    site_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gauge reading of an absolute pressure at the air pressure of the site.

    absolute_pressure: Absolute pressure [bar(a)]
    site_pressure: Air pressure at the site [bar(a); default 1.01325 bar(a)]
    unit: Unit to answer in, as text [default bar(g)]
    """
@overload
def GAS_GAUGE(
    absolute_pressure: Cells,
    site_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_GRADE_IMPURITY(
    grade: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Impurity that a purity grade allows: 5.0 is 99.999 % pure, 4.8 is 99.998 %.

    grade: Grade, as 5.0, "N5.0" or "5N"; or "99.999 %"
    unit: Unit to answer in, as text [default ppm]
    """
@overload
def GAS_GRADE_IMPURITY(
    grade: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_DENSITY(
    gas: Cell,
    pressure: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Density of a gas at a pressure and temperature.

    gas: Gas by name or symbol, or a mixture by volume
    pressure: Pressure [bar(a)]
    temperature: Temperature [°C]
    unit: Unit to answer in, as text [default kg/m3]
    """
@overload
def GAS_DENSITY(
    gas: Cells,
    pressure: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_COMPRESSIBILITY(
    gas: Cell,
    pressure: Cell,
    temperature: Cell,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Compressibility factor of a gas: 1 for an ideal gas.

    gas: Gas by name or symbol, or a mixture by volume
    pressure: Pressure [bar(a)]
    temperature: Temperature [°C]
    """
@overload
def GAS_COMPRESSIBILITY(
    gas: Cells,
    pressure: Cells,
    temperature: Cells,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_CONTENTS(
    gas: Cell,
    volume: Cell,
    pressure: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas held by a closed vessel.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    pressure: Pressure [bar(a)]
    temperature: Temperature [°C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_CONTENTS(
    gas: Cells,
    volume: Cells,
    pressure: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_VOLUME(
    gas: Cell,
    amount: Cell,
    pressure: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Space that an amount of gas takes up.

    gas: Gas by name or symbol, or a mixture by volume
    amount: Amount of gas [Nm3]
    pressure: Pressure [bar(a)]
    temperature: Temperature [°C]
    unit: Unit to answer in, as text [default m3]
    """
@overload
def GAS_VOLUME(
    gas: Cells,
    amount: Cells,
    pressure: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_PRESSURE(
    gas: Cell,
    amount: Cell,
    volume: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Pressure that an amount of gas makes in a closed vessel.

    gas: Gas by name or symbol, or a mixture by volume
    amount: Amount of gas [Nm3]
    volume: Volume of the vessel [m3]
    temperature: Temperature [°C]
    unit: Unit to answer in, as text [default bar(a)]
    """
@overload
def GAS_PRESSURE(
    gas: Cells,
    amount: Cells,
    volume: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_DRAWN(
    gas: Cell,
    volume: Cell,
    pressure_before: Cell,
    pressure_after: Cell,
    temperature_before: Cell,
    temperature_after: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas drawn from a cylinder, bundle or reservoir between two readings.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    pressure_before: Pressure before the draw [bar(a)]
    pressure_after: Pressure after the draw [bar(a)]
    temperature_before: Temperature before the draw [°C]
    temperature_after: Temperature after the draw; blank: as before [°C; optional]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_DRAWN(
    gas: Cells,
    volume: Cells,
    pressure_before: Cells,
    pressure_after: Cells,
    temperature_before: Cells,
    temperature_after: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_ACTUAL_FLOW(
    gas: Cell,
    flow: Cell,
    pressure: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Flow at its own pressure and temperature, from a flow at reference conditions.

    gas: Gas by name or symbol, or a mixture by volume
    flow: Gas flow [Nm3/h]
    pressure: Pressure [bar(a)]
    temperature: Temperature [°C]
    unit: Unit to answer in, as text [default m3/h]
    """
@overload
def GAS_ACTUAL_FLOW(
    gas: Cells,
    flow: Cells,
    pressure: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_STANDARD_FLOW(
    gas: Cell,
    actual_flow: Cell,
    pressure: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Flow at reference conditions, from a flow at its own pressure and temperature.

    gas: Gas by name or symbol, or a mixture by volume
    actual_flow: Flow at its own pressure and temperature [m3/h]
    pressure: Pressure [bar(a)]
    temperature: Temperature [°C]
    unit: Unit to answer in, as text [default Nm3/h]
    """
@overload
def GAS_STANDARD_FLOW(
    gas: Cells,
    actual_flow: Cells,
    pressure: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_FLOAT_METER(
    gas: Cell,
    reading: Cell,
    pressure: Cell,
    temperature: Cell,
    scale_gas: Cell = None,
    scale_pressure: Cell = None,
    scale_temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Flow through a float meter read with another gas, pressure or temperature than its scale.

    gas: Gas by name or symbol, or a mixture by volume
    reading: Flow read from the scale [Nm3/h]
    pressure: Pressure in the meter [bar(a)]
    temperature: Temperature in the meter [°C]
    scale_gas: Gas that the scale is made for [default air]
    scale_pressure: Pressure that the scale is made for [bar(a); default 1.01325 bar(a)]
    scale_temperature: Temperature that the scale is made for [°C; default 20 °C]
    unit: Unit to answer in, as text [default Nm3/h]
    """
@overload
def GAS_FLOAT_METER(
    gas: Cells,
    reading: Cells,
    pressure: Cells,
    temperature: Cells,
    scale_gas: Cells = None,
    scale_pressure: Cells = None,
    scale_temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_EXPANSION(
    gas: Cell,
    tank_pressure: Cell = None,
    reference: Cell = None,
    liquid_at: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Volumes of gas at a reference condition that one volume of liquid becomes.

    gas: Gas by name or symbol, or a mixture by volume
    tank_pressure: Pressure of the liquid in the tank [bar(a); default 1.01325 bar(a)]
    reference: Gas volume at its reference condition: Nm3, Sm3, m3(15C,1bar), scf, scf(60F) [default Nm3]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    """
@overload
def GAS_EXPANSION(
    gas: Cells,
    tank_pressure: Cells = None,
    reference: Cells = None,
    liquid_at: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_FROM_LIQUID(
    gas: Cell,
    liquid: Cell,
    tank_pressure: Cell = None,
    liquid_at: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a liquid becomes.

    gas: Gas by name or symbol, or a mixture by volume
    liquid: Volume of liquid; or its mass or gas as text, "4434 kg", "148000 scf" [L(liq)]
    tank_pressure: Pressure of the liquid in the tank [bar(a); default 1.01325 bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_FROM_LIQUID(
    gas: Cells,
    liquid: Cells,
    tank_pressure: Cells = None,
    liquid_at: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_TO_LIQUID(
    gas: Cell,
    amount: Cell,
    tank_pressure: Cell = None,
    liquid_at: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Volume of liquid that an amount of gas comes from.

    gas: Gas by name or symbol, or a mixture by volume
    amount: Amount of gas; or its mass as text, "4434 kg" [Nm3]
    tank_pressure: Pressure of the liquid in the tank [bar(a); default 1.01325 bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    unit: Unit to answer in, as text [default L(liq)]
    """
@overload
def GAS_TO_LIQUID(
    gas: Cells,
    amount: Cells,
    tank_pressure: Cells = None,
    liquid_at: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_FLASH(
    gas: Cell,
    pressure_before: Cell,
    pressure_after: Cell,
    liquid_at: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Share of a liquid that turns to gas when its pressure falls.

    gas: Gas by name or symbol, or a mixture by volume
    pressure_before: Pressure that the liquid is under [bar(a)]
    pressure_after: Pressure that it is let down to [bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    unit: Unit to answer in, as text [default 1]
    """
@overload
def GAS_FLASH(
    gas: Cells,
    pressure_before: Cells,
    pressure_after: Cells,
    liquid_at: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_VAPORIZER_DUTY(
    gas: Cell,
    flow: Cell,
    tank_pressure: Cell,
    outlet_temperature: Cell,
    liquid_at: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Heat that a vaporizer gives: liquid in, gas at the tank's pressure out.

    gas: Gas by name or symbol, or a mixture by volume
    flow: Gas flow [Nm3/h]
    tank_pressure: Pressure of the liquid in the tank [bar(a)]
    outlet_temperature: Temperature of the gas at the outlet [°C]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    unit: Unit to answer in, as text [default kW]
    """
@overload
def GAS_VAPORIZER_DUTY(
    gas: Cells,
    flow: Cells,
    tank_pressure: Cells,
    outlet_temperature: Cells,
    liquid_at: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_TANK_STOCK(
    gas: Cell,
    liquid: Cell,
    capacity: Cell,
    tank_pressure: Cell,
    liquid_at: Cell = None,
    vapour_temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """All the gas that a tank holds, its liquid and the vapour above it.

    gas: Gas by name or symbol, or a mixture by volume
    liquid: Volume of liquid [L(liq)]
    capacity: Inner volume of the tank [L(liq)]
    tank_pressure: Pressure of the liquid in the tank [bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    vapour_temperature: Temperature of the vapour above the liquid; blank: that at which it boils [°C; optional]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_TANK_STOCK(
    gas: Cells,
    liquid: Cells,
    capacity: Cells,
    tank_pressure: Cells,
    liquid_at: Cells = None,
    vapour_temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LEVEL_CHANGE(
    gas: Cell,
    amount: Cell,
    tank_pressure: Cell,
    liquid_at: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Liquid by which a tank's level falls when an amount of gas is drawn at constant pressure.

    gas: Gas by name or symbol, or a mixture by volume
    amount: Amount of gas; or its mass as text, "4434 kg" [Nm3]
    tank_pressure: Pressure of the liquid in the tank [bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    unit: Unit to answer in, as text [default L(liq)]
    """
@overload
def GAS_LEVEL_CHANGE(
    gas: Cells,
    amount: Cells,
    tank_pressure: Cells,
    liquid_at: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_TANK_LIQUID(
    level: Cell,
    diameter: Cell,
    length: Cell,
    position: Cell = None,
    heads: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Liquid in a cylindrical tank, from its level.

    level: Level above the lowest point inside, m; or text: "62 %" of the inner height, "62 % volume" of what the tank holds
    diameter: Inner diameter of the tank [m]
    length: Length of the cylinder between its heads [m]
    position: How the tank stands [default vertical]
    heads: Shape of the heads: 2:1 ellipsoidal, torispherical, DIN 28011, DIN 28013, hemispherical, flat [default 2:1 ellipsoidal]
    unit: Unit to answer in, as text [default L(liq)]
    """
@overload
def GAS_TANK_LIQUID(
    level: Cells,
    diameter: Cells,
    length: Cells,
    position: Cells = None,
    heads: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_DP_LEVEL(
    gas: Cell,
    differential_pressure: Cell,
    tank_pressure: Cell = None,
    gauge_line_temperature: Cell = None,
    gauge_height: Cell = None,
    liquid_at: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Height of the liquid in a tank, from a differential pressure gauge.

    gas: Gas by name or symbol, or a mixture by volume
    differential_pressure: Reading of the differential gauge [bar]
    tank_pressure: Pressure of the liquid in the tank [bar(a); default 1.01325 bar(a)]
    gauge_line_temperature: Temperature of the gas in the gauge's upper line [°C; optional]
    gauge_height: Height between the gauge's two connections, with a warm line [m; optional]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    unit: Unit to answer in, as text [default mm]
    """
@overload
def GAS_DP_LEVEL(
    gas: Cells,
    differential_pressure: Cells,
    tank_pressure: Cells = None,
    gauge_line_temperature: Cells = None,
    gauge_height: Cells = None,
    liquid_at: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_BOIL_OFF(
    capacity: Cell,
    daily_rate: Cell,
    days: Cell,
    fill: Cell = None,
    gas: Cell = None,
    venting_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Liquid that boils off a standing tank: the full tank's rate all the time, until it is dry.

    capacity: Inner volume of the tank [L(liq)]
    daily_rate: Evaporation a day of the full tank, as a share of its capacity
    days: Days [d]
    fill: Liquid at the start, as a share of the capacity: no more is lost than that [default 1]
    gas: Gas, where the tank vents at another pressure [optional]
    venting_pressure: Pressure that the tank is held at by venting [bar(a); default 1.01325 bar(a)]
    unit: Unit to answer in, as text [default L(liq)]
    """
@overload
def GAS_BOIL_OFF(
    capacity: Cells,
    daily_rate: Cells,
    days: Cells,
    fill: Cells = None,
    gas: Cells = None,
    venting_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_HOLD_TIME(
    gas: Cell,
    capacity: Cell,
    fill: Cell,
    pressure_now: Cell,
    pressure_relief: Cell,
    daily_rate: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Time until a closed tank without draw reaches its relief pressure.

    gas: Gas by name or symbol, or a mixture by volume
    capacity: Inner volume of the tank [L(liq)]
    fill: Liquid in the tank now, as a share of its inner volume
    pressure_now: Pressure in the tank now [bar(a)]
    pressure_relief: Pressure at which the relief valve opens [bar(a)]
    daily_rate: Evaporation a day of the full tank, as a share of its capacity
    unit: Unit to answer in, as text [default h]
    """
@overload
def GAS_HOLD_TIME(
    gas: Cells,
    capacity: Cells,
    fill: Cells,
    pressure_now: Cells,
    pressure_relief: Cells,
    daily_rate: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_DELIVERED(
    gas: Cell,
    quantity: Cell,
    liquid_at: Cell = None,
    factor: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a delivery ticket stands for, by its quantity and the basis that it counts on.

    gas: Gas by name or symbol, or a mixture by volume
    quantity: Quantity on the ticket: "5500 L(liq)", "4434 kg", "148000 scf" [L(liq)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [default saturated at 1.01325 bar(a)]
    factor: Gas that a gallon counts as by contract, in scf per gal(liq), as 93.11 for nitrogen [optional]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_DELIVERED(
    gas: Cells,
    quantity: Cells,
    liquid_at: Cells = None,
    factor: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_TANK_MIX(
    gas: Cells,
    liquid_before: Cells,
    pressure_before: Cells,
    delivered: Cells,
    delivered_at: Cells,
    capacity: Cells,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Pressure and level of a tank after a delivery: fully mixed and not mixed at all, as bounds.

    gas: Gas by name or symbol, or a mixture by volume
    liquid_before: Liquid in the tank before the delivery [L(liq)]
    pressure_before: Pressure in the tank before [bar(a)]
    delivered: Quantity delivered [L(liq)]
    delivered_at: State of the liquid delivered: "3 bar(a)", "-190 degC"
    capacity: Inner volume of the tank [L(liq)]
    """
def GAS_DELIVERY_CHECK(
    gas: Cells,
    ticket: Cells,
    liquid_before: Cells,
    liquid_after: Cells,
    capacity: Cells,
    pressure_before: Cells,
    pressure_after: Cells,
    use_during: Cells = None,
    liquid_at: Cells = None,
    ticket_tolerance: Cells = None,
    level_tolerance: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Whether the level agrees with the ticket of a delivery: agrees, short, over or cannot tell.

    gas: Gas by name or symbol, or a mixture by volume
    ticket: Quantity on the ticket: "5500 L(liq)", "4434 kg" [L(liq)]
    liquid_before: Liquid by the level before [L(liq)]
    liquid_after: Liquid by the level after [L(liq)]
    capacity: Inner volume of the tank [L(liq)]
    pressure_before: Pressure in the tank before [bar(a)]
    pressure_after: Pressure in the tank after [bar(a)]
    use_during: Gas drawn or vented between the two readings [Nm3; default 0 Nm3]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [default saturated at 1.01325 bar(a)]
    ticket_tolerance: Tolerance of the ticket, as a share of it [default 0.025]
    level_tolerance: Tolerance of a level, as a share of the tank's capacity [default 0.01]
    """
@overload
def GAS_FREE_VOLUME(
    chamber_volume: Cell,
    load_mass: Cell,
    load_density: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Volume that a load leaves for gas in a chamber.

    chamber_volume: Volume of the empty chamber [m3]
    load_mass: Mass of the load with its fixtures [kg]
    load_density: Density of the load [kg/m3; default 7850 kg/m3]
    unit: Unit to answer in, as text [default m3]
    """
@overload
def GAS_FREE_VOLUME(
    chamber_volume: Cells,
    load_mass: Cells,
    load_density: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_BACKFILL(
    gas: Cell,
    volume: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    temperature: Cell,
    temperature_before: Cell = None,
    control: Cell = None,
    supply_temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas let into a vessel to raise its pressure.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    pressure_from: Pressure before the backfill [bar(a)]
    pressure_to: Pressure after the backfill [bar(a)]
    temperature: Temperature of the settled gas [°C]
    temperature_before: Temperature of the gas before the backfill; blank: as settled [°C; optional]
    control: How the fill is controlled: topped up (the pressure is held while the gas cools) or one shot (the valve shuts once the pressure is reached, the gas still hot) [default topped up]
    supply_temperature: Temperature of the supply, for one shot [°C; default 20 °C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_BACKFILL(
    gas: Cells,
    volume: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    temperature: Cells,
    temperature_before: Cells = None,
    control: Cells = None,
    supply_temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_HOLD_USE(
    gas: Cell,
    hold_pressure: Cell,
    pumping_speed: Cell,
    duration: Cell,
    temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a partial-pressure hold uses while the pumps draw it off.

    gas: Gas by name or symbol, or a mixture by volume
    hold_pressure: Pressure that is held [bar(a)]
    pumping_speed: Pumping speed at the chamber during the hold [m3/h]
    duration: Duration [h]
    temperature: Temperature at which the pumping speed is told [°C; default 20 °C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_HOLD_USE(
    gas: Cells,
    hold_pressure: Cells,
    pumping_speed: Cells,
    duration: Cells,
    temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_FLOW_USE(
    flow: Cell,
    duration: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a steady flow uses; between different reference conditions as an ideal gas.

    flow: Gas flow [Nm3/h]
    duration: Duration [h]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_FLOW_USE(
    flow: Cells,
    duration: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_CYCLE(
    gas: Cell,
    volume: Cell,
    steps: Cells,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a whole furnace cycle uses, from a range of steps.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    steps: Range of steps, a row each: kind, from, to, temperature, rate, duration, repeats, control; kinds: backfill, hold, flow
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_CYCLE(
    gas: Cells,
    volume: Cells,
    steps: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_CYCLE_STEPS(
    gas: Cells,
    volume: Cells,
    steps: Cells,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Gas that each step of a furnace cycle uses, with the running total and its share.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    steps: Range of steps, a row each: kind, from, to, temperature, rate, duration, repeats, control; kinds: backfill, hold, flow
    """
@overload
def GAS_ZONE_CONTENTS(
    gas: Cell,
    pressure: Cell,
    volumes: Cells,
    temperatures: Cells,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas held by a vessel with hot and cold zones.

    gas: Gas by name or symbol, or a mixture by volume
    pressure: Pressure of the gas, the same in all zones [bar(a)]
    volumes: Volumes of the zones, a range; together the free volume of the vessel [m3]
    temperatures: Temperatures of the gas in the zones, a range as long as the volumes [°C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_ZONE_CONTENTS(
    gas: Cells,
    pressure: Cells,
    volumes: Cells,
    temperatures: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_FILL_TEMPERATURE(
    gas: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    supply_pressure: Cell,
    supply_temperature: Cell,
    temperature_before: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Temperature that a fast fill gives the gas in a vessel without heat to its walls.

    gas: Gas by name or symbol, or a mixture by volume
    pressure_from: Pressure before the fill [bar(a)]
    pressure_to: Pressure right after the fill [bar(a)]
    supply_pressure: Pressure of the supply, steady [bar(a)]
    supply_temperature: Temperature of the supply [°C]
    temperature_before: Temperature of the gas before the fill; blank: that of the supply [°C; optional]
    unit: Unit to answer in, as text [default degC]
    """
@overload
def GAS_FILL_TEMPERATURE(
    gas: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    supply_pressure: Cells,
    supply_temperature: Cells,
    temperature_before: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_SETTLED_PRESSURE(
    gas: Cell,
    pressure: Cell,
    temperature: Cell,
    temperature_after: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Pressure of a shut vessel when its gas has come to another temperature.

    gas: Gas by name or symbol, or a mixture by volume
    pressure: Pressure right after the fill [bar(a)]
    temperature: Temperature of the gas then [°C]
    temperature_after: Temperature of the gas when it has settled [°C]
    unit: Unit to answer in, as text [default bar(a)]
    """
@overload
def GAS_SETTLED_PRESSURE(
    gas: Cells,
    pressure: Cells,
    temperature: Cells,
    temperature_after: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_TOP_UP(
    gas: Cell,
    volume: Cell,
    pressure: Cell,
    temperature: Cell,
    temperature_after: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that holding the pressure takes while the gas of a fast fill cools.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    pressure: Pressure that is held [bar(a)]
    temperature: Temperature of the gas after the fill [°C]
    temperature_after: Temperature of the gas when it has settled [°C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_TOP_UP(
    gas: Cells,
    volume: Cells,
    pressure: Cells,
    temperature: Cells,
    temperature_after: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_RECOVERABLE(
    gas: Cell,
    volume: Cell,
    pressure_high: Cell,
    pressure_low: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a recovery vessel could keep when a furnace is let down.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Free volume of the furnace [m3]
    pressure_high: Pressure before it is let down [bar(a)]
    pressure_low: Pressure at which recovery ends [bar(a)]
    temperature: Temperature of the gas in the furnace [°C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_RECOVERABLE(
    gas: Cells,
    volume: Cells,
    pressure_high: Cells,
    pressure_low: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_RESERVOIR_AFTER(
    gas: Cell,
    reservoir_volume: Cell,
    reservoir_pressure: Cell,
    vessel_volume: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    temperature: Cell = None,
    process: Cell = None,
    time: Cell = None,
    vessel_process: Cell = None,
    vessel_temperature: Cell = None,
    wall_temperature: Cell = None,
    vessel_ha: Cell = None,
    reservoir_ha: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Pressure left in a reservoir after it backfilled a vessel.

    gas: Gas by name or symbol, or a mixture by volume
    reservoir_volume: Volume of the reservoir [m3]
    reservoir_pressure: Pressure of the reservoir before the backfill [bar(a)]
    vessel_volume: Free volume of the vessel that is filled [m3]
    pressure_from: Pressure in the vessel before the backfill [bar(a)]
    pressure_to: Pressure in the vessel at which the backfill ends [bar(a)]
    temperature: Temperature of the reservoir, its gas and its wall; of all else where nothing is given [°C; default 20 °C]
    process: How the reservoir's gas exchanges heat: wall (by natural convection), isothermal, adiabatic [default wall]
    time: Time that it takes; may be blank where neither process is wall [h; optional]
    vessel_process: How the vessel's gas exchanges heat: wall (with walls and load), isothermal, adiabatic [default isothermal]
    vessel_temperature: Temperature of the gas in the vessel before; blank: as the reservoir [°C; optional]
    wall_temperature: Temperature of the vessel's walls and load; blank: of the gas before [°C; optional]
    vessel_ha: Heat conductance h A between the vessel's gas and its walls and load; blank: by the jet [W/K; optional]
    reservoir_ha: Heat conductance h A between the reservoir's gas and its wall; blank: natural convection [W/K; optional]
    unit: Unit to answer in, as text [default bar(a)]
    """
@overload
def GAS_RESERVOIR_AFTER(
    gas: Cells,
    reservoir_volume: Cells,
    reservoir_pressure: Cells,
    vessel_volume: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    temperature: Cells = None,
    process: Cells = None,
    time: Cells = None,
    vessel_process: Cells = None,
    vessel_temperature: Cells = None,
    wall_temperature: Cells = None,
    vessel_ha: Cells = None,
    reservoir_ha: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_RESERVOIR_SIZE(
    gas: Cell,
    amount: Cell,
    pressure_full: Cell,
    pressure_low: Cell,
    temperature: Cell = None,
    process: Cell = None,
    time: Cell = None,
    reservoir_ha: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Volume of a reservoir that gives an amount of gas between two pressures.

    gas: Gas by name or symbol, or a mixture by volume
    amount: Gas to be drawn without recharging [Nm3]
    pressure_full: Pressure of the full reservoir [bar(a)]
    pressure_low: Lowest pressure that still serves [bar(a)]
    temperature: Temperature of the full reservoir and its wall [°C; default 20 °C]
    process: How the reservoir's gas exchanges heat: wall (by natural convection), isothermal, adiabatic [default wall]
    time: Time that it takes; may be blank where neither process is wall [h; optional]
    reservoir_ha: Heat conductance h A between the reservoir's gas and its wall; blank: natural convection [W/K; optional]
    unit: Unit to answer in, as text [default m3]
    """
@overload
def GAS_RESERVOIR_SIZE(
    gas: Cells,
    amount: Cells,
    pressure_full: Cells,
    pressure_low: Cells,
    temperature: Cells = None,
    process: Cells = None,
    time: Cells = None,
    reservoir_ha: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_RECHARGE_TIME(
    gas: Cell,
    reservoir_volume: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    flow: Cell,
    temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Time that a steady flow takes to recharge a reservoir.

    gas: Gas by name or symbol, or a mixture by volume
    reservoir_volume: Volume of the reservoir [m3]
    pressure_from: Pressure in the reservoir before the recharge [bar(a)]
    pressure_to: Pressure in the reservoir after the recharge [bar(a)]
    flow: Flow from the supply, steady [Nm3/h]
    temperature: Temperature [°C; default 20 °C]
    unit: Unit to answer in, as text [default h]
    """
@overload
def GAS_RECHARGE_TIME(
    gas: Cells,
    reservoir_volume: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    flow: Cells,
    temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LINE_FLOW(
    gas: Cell,
    pressure_up: Cell,
    pressure_down: Cell,
    bore: Cell,
    length: Cell,
    fittings_k: Cell = None,
    temperature: Cell = None,
    roughness: Cell = None,
    valve_kv: Cell = None,
    xt: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Flow through a line between two pressures: adiabatic, with friction and choking.

    gas: Gas by name or symbol, or a mixture by volume
    pressure_up: Pressure of the gas at rest upstream of the line [bar(a)]
    pressure_down: Pressure that the line ends in [bar(a)]
    bore: Inner diameter [mm]
    length: Length of the line [m]
    fittings_k: Sum of the loss coefficients of bends, valves and the inlet [default 0]
    temperature: Temperature of the gas upstream [°C; default 20 °C]
    roughness: Roughness of the inner wall: steel pipe 0.045, drawn tube 0.0015 [mm; default 0.045 mm]
    valve_kv: Flow coefficient of a valve at the line's end, in place of its K; blank: none [Kv; optional]
    xt: Pressure drop ratio factor xT of the valve when it chokes: the maker's sheet [default 0.7]
    unit: Unit to answer in, as text [default Nm3/h]
    """
@overload
def GAS_LINE_FLOW(
    gas: Cells,
    pressure_up: Cells,
    pressure_down: Cells,
    bore: Cells,
    length: Cells,
    fittings_k: Cells = None,
    temperature: Cells = None,
    roughness: Cells = None,
    valve_kv: Cells = None,
    xt: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LINE_DROP(
    gas: Cell,
    flow: Cell,
    pressure_up: Cell,
    bore: Cell,
    length: Cell,
    fittings_k: Cell = None,
    temperature: Cell = None,
    roughness: Cell = None,
    valve_kv: Cell = None,
    xt: Cell = None,
    upstream: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Pressure drop of a flow through a line: adiabatic, with friction.

    gas: Gas by name or symbol, or a mixture by volume
    flow: Gas flow [Nm3/h]
    pressure_up: Pressure upstream: of gas at rest, or in the pipe [bar(a)]
    bore: Inner diameter [mm]
    length: Length of the line [m]
    fittings_k: Sum of the loss coefficients of bends, valves and the inlet [default 0]
    temperature: Temperature of the gas upstream [°C; default 20 °C]
    roughness: Roughness of the inner wall: steel pipe 0.045, drawn tube 0.0015 [mm; default 0.045 mm]
    valve_kv: Flow coefficient of a valve at the line's end, in place of its K; blank: none [Kv; optional]
    xt: Pressure drop ratio factor xT of the valve when it chokes: the maker's sheet [default 0.7]
    upstream: Where pressure_up is: of gas at rest before the line's inlet, or in the pipe, flowing already, as drop tables have it [default at rest]
    unit: Unit to answer in, as text [default bar]
    """
@overload
def GAS_LINE_DROP(
    gas: Cells,
    flow: Cells,
    pressure_up: Cells,
    bore: Cells,
    length: Cells,
    fittings_k: Cells = None,
    temperature: Cells = None,
    roughness: Cells = None,
    valve_kv: Cells = None,
    xt: Cells = None,
    upstream: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_VALVE_LOSS(
    flow_coefficient: Cell,
    bore: Cell,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Loss coefficient of a valve from its flow coefficient Kv or Cv.

    flow_coefficient: Flow coefficient of the valve: Kv, or text such as "20 Cv" [Kv]
    bore: Inner diameter of the line that K is for [mm]
    """
@overload
def GAS_VALVE_LOSS(
    flow_coefficient: Cells,
    bore: Cells,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_VALVE_FLOW(
    gas: Cell,
    kv: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    temperature: Cell = None,
    xt: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Flow of gas through a valve between two pressures, choking included.

    gas: Gas by name or symbol, or a mixture by volume
    kv: Flow coefficient of the valve: Kv, or text such as "20 Cv" [Kv]
    pressure_from: Pressure before the valve [bar(a)]
    pressure_to: Pressure after the valve [bar(a)]
    temperature: Temperature of the gas before the valve [°C; default 20 °C]
    xt: Pressure drop ratio factor xT of the valve when it chokes: the maker's sheet [default 0.7]
    unit: Unit to answer in, as text [default Nm3/h]
    """
@overload
def GAS_VALVE_FLOW(
    gas: Cells,
    kv: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    temperature: Cells = None,
    xt: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LINE_CONTENTS(
    gas: Cell,
    bore: Cell,
    length: Cell,
    pressure: Cell,
    temperature: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a line holds.

    gas: Gas by name or symbol, or a mixture by volume
    bore: Inner diameter [mm]
    length: Length of the line [m]
    pressure: Pressure [bar(a)]
    temperature: Temperature [°C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_LINE_CONTENTS(
    gas: Cells,
    bore: Cells,
    length: Cells,
    pressure: Cells,
    temperature: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_BACKFILL_TIME(
    gas: Cell,
    reservoir_volume: Cell,
    reservoir_pressure: Cell,
    vessel_volume: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    bore: Cell,
    length: Cell,
    fittings_k: Cell = None,
    supply_flow: Cell = None,
    temperature: Cell = None,
    process: Cell = None,
    vessel_process: Cell = None,
    vessel_temperature: Cell = None,
    wall_temperature: Cell = None,
    vessel_ha: Cell = None,
    reservoir_ha: Cell = None,
    supply_temperature: Cell = None,
    roughness: Cell = None,
    valve_kv: Cell = None,
    xt: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Time that a reservoir takes to backfill a vessel through a line.

    gas: Gas by name or symbol, or a mixture by volume
    reservoir_volume: Volume of the reservoir [m3]
    reservoir_pressure: Pressure of the reservoir before the backfill [bar(a)]
    vessel_volume: Free volume of the vessel that is filled [m3]
    pressure_from: Pressure in the vessel before the backfill [bar(a)]
    pressure_to: Pressure in the vessel at which the backfill ends [bar(a)]
    bore: Inner diameter [mm]
    length: Length of the line [m]
    fittings_k: Sum of the loss coefficients of bends, valves and the inlet [default 0]
    supply_flow: Flow with which the supply refills the reservoir meanwhile [Nm3/h; default 0 Nm3/h]
    temperature: Temperature of the reservoir, its gas and its wall; of all else where nothing is given [°C; default 20 °C]
    process: How the reservoir's gas exchanges heat: wall (by natural convection), isothermal, adiabatic [default wall]
    vessel_process: How the vessel's gas exchanges heat: wall (with walls and load), isothermal, adiabatic [default wall]
    vessel_temperature: Temperature of the gas in the vessel before; blank: as the reservoir [°C; optional]
    wall_temperature: Temperature of the vessel's walls and load; blank: of the gas before [°C; optional]
    vessel_ha: Heat conductance h A between the vessel's gas and its walls and load; blank: by the jet [W/K; optional]
    reservoir_ha: Heat conductance h A between the reservoir's gas and its wall; blank: natural convection [W/K; optional]
    supply_temperature: Temperature of the supply's gas; blank: as the reservoir [°C; optional]
    roughness: Roughness of the inner wall: steel pipe 0.045, drawn tube 0.0015 [mm; default 0.045 mm]
    valve_kv: Flow coefficient of a valve at the line's end, in place of its K; blank: none [Kv; optional]
    xt: Pressure drop ratio factor xT of the valve when it chokes: the maker's sheet [default 0.7]
    unit: Unit to answer in, as text [default s]
    """
@overload
def GAS_BACKFILL_TIME(
    gas: Cells,
    reservoir_volume: Cells,
    reservoir_pressure: Cells,
    vessel_volume: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    bore: Cells,
    length: Cells,
    fittings_k: Cells = None,
    supply_flow: Cells = None,
    temperature: Cells = None,
    process: Cells = None,
    vessel_process: Cells = None,
    vessel_temperature: Cells = None,
    wall_temperature: Cells = None,
    vessel_ha: Cells = None,
    reservoir_ha: Cells = None,
    supply_temperature: Cells = None,
    roughness: Cells = None,
    valve_kv: Cells = None,
    xt: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_BACKFILL_CURVE(
    gas: Cells,
    reservoir_volume: Cells,
    reservoir_pressure: Cells,
    vessel_volume: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    bore: Cells,
    length: Cells,
    fittings_k: Cells = None,
    supply_flow: Cells = None,
    temperature: Cells = None,
    process: Cells = None,
    vessel_process: Cells = None,
    vessel_temperature: Cells = None,
    wall_temperature: Cells = None,
    vessel_ha: Cells = None,
    reservoir_ha: Cells = None,
    supply_temperature: Cells = None,
    roughness: Cells = None,
    valve_kv: Cells = None,
    xt: Cells = None,
    points: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Course of a backfill from a reservoir through a line, to be charted.

    gas: Gas by name or symbol, or a mixture by volume
    reservoir_volume: Volume of the reservoir [m3]
    reservoir_pressure: Pressure of the reservoir before the backfill [bar(a)]
    vessel_volume: Free volume of the vessel that is filled [m3]
    pressure_from: Pressure in the vessel before the backfill [bar(a)]
    pressure_to: Pressure in the vessel at which the backfill ends [bar(a)]
    bore: Inner diameter [mm]
    length: Length of the line [m]
    fittings_k: Sum of the loss coefficients of bends, valves and the inlet [default 0]
    supply_flow: Flow with which the supply refills the reservoir meanwhile [Nm3/h; default 0 Nm3/h]
    temperature: Temperature of the reservoir, its gas and its wall; of all else where nothing is given [°C; default 20 °C]
    process: How the reservoir's gas exchanges heat: wall (by natural convection), isothermal, adiabatic [default wall]
    vessel_process: How the vessel's gas exchanges heat: wall (with walls and load), isothermal, adiabatic [default wall]
    vessel_temperature: Temperature of the gas in the vessel before; blank: as the reservoir [°C; optional]
    wall_temperature: Temperature of the vessel's walls and load; blank: of the gas before [°C; optional]
    vessel_ha: Heat conductance h A between the vessel's gas and its walls and load; blank: by the jet [W/K; optional]
    reservoir_ha: Heat conductance h A between the reservoir's gas and its wall; blank: natural convection [W/K; optional]
    supply_temperature: Temperature of the supply's gas; blank: as the reservoir [°C; optional]
    roughness: Roughness of the inner wall: steel pipe 0.045, drawn tube 0.0015 [mm; default 0.045 mm]
    valve_kv: Flow coefficient of a valve at the line's end, in place of its K; blank: none [Kv; optional]
    xt: Pressure drop ratio factor xT of the valve when it chokes: the maker's sheet [default 0.7]
    points: Number of points [default 50]
    """
@overload
def GAS_LINE_BORE(
    gas: Cell,
    reservoir_volume: Cell,
    reservoir_pressure: Cell,
    vessel_volume: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    time: Cell,
    length: Cell,
    fittings_k: Cell = None,
    supply_flow: Cell = None,
    temperature: Cell = None,
    process: Cell = None,
    vessel_process: Cell = None,
    vessel_temperature: Cell = None,
    wall_temperature: Cell = None,
    vessel_ha: Cell = None,
    reservoir_ha: Cell = None,
    supply_temperature: Cell = None,
    roughness: Cell = None,
    valve_kv: Cell = None,
    xt: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Smallest bore of a line with which a backfill meets a time.

    gas: Gas by name or symbol, or a mixture by volume
    reservoir_volume: Volume of the reservoir [m3]
    reservoir_pressure: Pressure of the reservoir before the backfill [bar(a)]
    vessel_volume: Free volume of the vessel that is filled [m3]
    pressure_from: Pressure in the vessel before the backfill [bar(a)]
    pressure_to: Pressure in the vessel at which the backfill ends [bar(a)]
    time: Time that the backfill may take [s]
    length: Length of the line [m]
    fittings_k: Sum of the loss coefficients of bends, valves and the inlet [default 0]
    supply_flow: Flow with which the supply refills the reservoir meanwhile [Nm3/h; default 0 Nm3/h]
    temperature: Temperature of the reservoir, its gas and its wall; of all else where nothing is given [°C; default 20 °C]
    process: How the reservoir's gas exchanges heat: wall (by natural convection), isothermal, adiabatic [default wall]
    vessel_process: How the vessel's gas exchanges heat: wall (with walls and load), isothermal, adiabatic [default wall]
    vessel_temperature: Temperature of the gas in the vessel before; blank: as the reservoir [°C; optional]
    wall_temperature: Temperature of the vessel's walls and load; blank: of the gas before [°C; optional]
    vessel_ha: Heat conductance h A between the vessel's gas and its walls and load; blank: by the jet [W/K; optional]
    reservoir_ha: Heat conductance h A between the reservoir's gas and its wall; blank: natural convection [W/K; optional]
    supply_temperature: Temperature of the supply's gas; blank: as the reservoir [°C; optional]
    roughness: Roughness of the inner wall: steel pipe 0.045, drawn tube 0.0015 [mm; default 0.045 mm]
    valve_kv: Flow coefficient of a valve at the line's end, in place of its K; blank: none [Kv; optional]
    xt: Pressure drop ratio factor xT of the valve when it chokes: the maker's sheet [default 0.7]
    unit: Unit to answer in, as text [default mm]
    """
@overload
def GAS_LINE_BORE(
    gas: Cells,
    reservoir_volume: Cells,
    reservoir_pressure: Cells,
    vessel_volume: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    time: Cells,
    length: Cells,
    fittings_k: Cells = None,
    supply_flow: Cells = None,
    temperature: Cells = None,
    process: Cells = None,
    vessel_process: Cells = None,
    vessel_temperature: Cells = None,
    wall_temperature: Cells = None,
    vessel_ha: Cells = None,
    reservoir_ha: Cells = None,
    supply_temperature: Cells = None,
    roughness: Cells = None,
    valve_kv: Cells = None,
    xt: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_VENT_FILL_COUNT(
    pressure_low: Cell,
    pressure_high: Cell,
    start: Cell,
    target: Cell,
    supply: Cell = None,
    mixing: Cell = None,
    pressure_start: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Whole vent-and-fill cycles that bring a vessel down to a target impurity.

    pressure_low: Pressure that the vessel is vented or evacuated to [bar(a)]
    pressure_high: Pressure that the vessel is filled to [bar(a)]
    start: Impurity in the vessel at the start; air has 209,500 ppm of oxygen [ppm]
    target: Impurity wanted at most [ppm]
    supply: Impurity of the purge gas itself [ppm; default 0 ppm]
    mixing: Mixing: 1 where the fill mixes completely with what is left, less where it does not [default 1]
    pressure_start: Pressure in the vessel at the start where below pressure_low: the first fill then dilutes more; blank: pressure_low or above [bar(a); optional]
    """
@overload
def GAS_VENT_FILL_COUNT(
    pressure_low: Cells,
    pressure_high: Cells,
    start: Cells,
    target: Cells,
    supply: Cells = None,
    mixing: Cells = None,
    pressure_start: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_VENT_FILL_RESIDUAL(
    count: Cell,
    pressure_low: Cell,
    pressure_high: Cell,
    start: Cell,
    supply: Cell = None,
    mixing: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Impurity left in a vessel after a number of vent-and-fill cycles.

    count: Number of cycles
    pressure_low: Pressure that the vessel is vented or evacuated to [bar(a)]
    pressure_high: Pressure that the vessel is filled to [bar(a)]
    start: Impurity in the vessel at the start; air has 209,500 ppm of oxygen [ppm]
    supply: Impurity of the purge gas itself [ppm; default 0 ppm]
    mixing: Mixing: 1 where the fill mixes completely with what is left, less where it does not [default 1]
    unit: Unit to answer in, as text [default ppm]
    """
@overload
def GAS_VENT_FILL_RESIDUAL(
    count: Cells,
    pressure_low: Cells,
    pressure_high: Cells,
    start: Cells,
    supply: Cells = None,
    mixing: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_VENT_FILL_USE(
    gas: Cell,
    volume: Cell,
    pressure_low: Cell,
    pressure_high: Cell,
    count: Cell,
    temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a number of vent-and-fill cycles uses.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    pressure_low: Pressure that the vessel is vented or evacuated to [bar(a)]
    pressure_high: Pressure that the vessel is filled to [bar(a)]
    count: Number of cycles
    temperature: Temperature of the gas [°C; default 20 °C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_VENT_FILL_USE(
    gas: Cells,
    volume: Cells,
    pressure_low: Cells,
    pressure_high: Cells,
    count: Cells,
    temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_VENT_FILL_TABLE(
    gas: Cells,
    volume: Cells,
    pressure_low: Cells,
    pressure_high: Cells,
    start: Cells,
    target: Cells,
    supply: Cells = None,
    mixing: Cells = None,
    temperature: Cells = None,
    pressure_start: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Residual impurity and gas used, cycle by cycle, until the target is met.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    pressure_low: Pressure that the vessel is vented or evacuated to [bar(a)]
    pressure_high: Pressure that the vessel is filled to [bar(a)]
    start: Impurity in the vessel at the start; air has 209,500 ppm of oxygen [ppm]
    target: Impurity wanted at most [ppm]
    supply: Impurity of the purge gas itself [ppm; default 0 ppm]
    mixing: Mixing: 1 where the fill mixes completely with what is left, less where it does not [default 1]
    temperature: Temperature of the gas [°C; default 20 °C]
    pressure_start: Pressure in the vessel at the start where below pressure_low: the first fill then dilutes more; blank: pressure_low or above [bar(a); optional]
    """
@overload
def GAS_SWEEP_CHANGES(
    start: Cell,
    target: Cell,
    supply: Cell = None,
    mixing: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Volume changes that sweeping at constant pressure takes to reach a target impurity.

    start: Impurity in the vessel at the start; air has 209,500 ppm of oxygen [ppm]
    target: Impurity wanted at most [ppm]
    supply: Impurity of the purge gas itself [ppm; default 0 ppm]
    mixing: Mixing: 1 where the fill mixes completely with what is left, less where it does not [default 1]
    """
@overload
def GAS_SWEEP_CHANGES(
    start: Cells,
    target: Cells,
    supply: Cells = None,
    mixing: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_SWEEP_RESIDUAL(
    changes: Cell,
    start: Cell,
    supply: Cell = None,
    mixing: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Impurity left after sweeping a vessel with a number of volume changes.

    changes: Volume changes
    start: Impurity in the vessel at the start; air has 209,500 ppm of oxygen [ppm]
    supply: Impurity of the purge gas itself [ppm; default 0 ppm]
    mixing: Mixing: 1 where the fill mixes completely with what is left, less where it does not [default 1]
    unit: Unit to answer in, as text [default ppm]
    """
@overload
def GAS_SWEEP_RESIDUAL(
    changes: Cells,
    start: Cells,
    supply: Cells = None,
    mixing: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_SWEEP_USE(
    gas: Cell,
    volume: Cell,
    pressure: Cell,
    temperature: Cell,
    changes: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that sweeping uses for a number of volume changes.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    pressure: Pressure in the vessel while it is swept [bar(a)]
    temperature: Temperature of the gas [°C]
    changes: Volume changes
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_SWEEP_USE(
    gas: Cells,
    volume: Cells,
    pressure: Cells,
    temperature: Cells,
    changes: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_EVACUATE_RESIDUAL(
    base_pressure: Cell,
    fill_pressure: Cell,
    start: Cell,
    supply: Cell = None,
    leak_rate: Cell = None,
    volume: Cell = None,
    hold: Cell = None,
    fraction: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Impurity left by one deep evacuation and one fill, air leaking in meanwhile counted.

    base_pressure: Pressure that the vessel is evacuated to [bar(a)]
    fill_pressure: Pressure that the vessel is filled to [bar(a)]
    start: Impurity in the vessel at the start; air as a whole is 1,000,000 [ppm]
    supply: Impurity of the purge gas itself [ppm; default 0 ppm]
    leak_rate: Air leaking in during the hold [mbar L/s; default 0 mbar L/s]
    volume: Volume of the vessel; needed with a leak [m3; optional]
    hold: Time from the pump's valve shutting to the fill [h; default 0 h]
    fraction: Share of the leaking air that counts: 0.2095 is its oxygen, 1 all of it [default 1]
    unit: Unit to answer in, as text [default ppm]
    """
@overload
def GAS_EVACUATE_RESIDUAL(
    base_pressure: Cells,
    fill_pressure: Cells,
    start: Cells,
    supply: Cells = None,
    leak_rate: Cells = None,
    volume: Cells = None,
    hold: Cells = None,
    fraction: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_PURGE_METHODS(
    gas: Cells,
    volume: Cells,
    start: Cells,
    target: Cells,
    pressure_low: Cells,
    pressure_high: Cells,
    base_pressure: Cells,
    pumping_speed: Cells,
    fill_flow: Cells,
    supply: Cells = None,
    price: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Vent and fill, one deep evacuation and sweeping side by side: gas, time, cost, target met.

    gas: Gas by name or symbol, or a mixture by volume
    volume: Volume of the vessel [m3]
    start: Impurity in the vessel at the start; air has 209,500 ppm of oxygen [ppm]
    target: Impurity wanted at most [ppm]
    pressure_low: Pressure that the vessel is vented or evacuated to [bar(a)]
    pressure_high: Pressure that the vessel is filled to [bar(a)]
    base_pressure: Pressure of the deep evacuation [bar(a)]
    pumping_speed: Pumping speed [m3/h]
    fill_flow: Flow of purge gas, filling or sweeping [Nm3/h]
    supply: Impurity of the purge gas itself [ppm; default 0 ppm]
    price: Price of 1 Nm3 of the gas; blank: no cost [optional]
    """
def GAS_PURGE_VERDICT(
    reading: Cells,
    target: Cells,
    tolerance: Cells = None,
    supply: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Whether a purge has reached its target: passed, failed, repeat or cannot tell.

    reading: Impurity read after the purge, or "<20" off scale [ppm]
    target: Impurity wanted, at most [ppm]
    tolerance: Tolerance of the analyser: "±2 ppm", "±5 % of reading" [optional]
    supply: Impurity of the supply as read [ppm; optional]
    """
@overload
def GAS_LINE_CONDUCTANCE(
    gas: Cell,
    bore: Cell,
    length: Cell,
    mean_pressure: Cell,
    temperature: Cell = None,
    ends: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Vacuum conductance of a round line of any length, from viscous to molecular flow.

    gas: Gas by name or symbol, or a mixture by volume
    bore: Inner diameter [mm]
    length: Length [m]
    mean_pressure: Mean of the pressures at the two ends [bar(a)]
    temperature: Temperature of the gas [°C; default 20 °C]
    ends: Whether the losses at the line's two ends are counted; left out, it must be long [default counted]
    unit: Unit to answer in, as text [default L/s]
    """
@overload
def GAS_LINE_CONDUCTANCE(
    gas: Cells,
    bore: Cells,
    length: Cells,
    mean_pressure: Cells,
    temperature: Cells = None,
    ends: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_PUMPDOWN_TIME(
    volume: Cell,
    pumping_speed: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    gas_load: Cell = None,
    bore: Cell = None,
    length: Cell = None,
    gas: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Time to pump a vessel down, directly or through a line whose conductance falls on the way.

    volume: Volume of the vessel [m3]
    pumping_speed: Pumping speed [m3/h]
    pressure_from: Pressure at the start [bar(a)]
    pressure_to: Pressure wanted [bar(a)]
    gas_load: Leaks and outgassing while pumping [mbar L/s; default 0 mbar L/s]
    bore: Bore of the line to the pump; blank: no line [mm; optional]
    length: Length of the line to the pump; blank: no line [m; optional]
    gas: Gas pumped out, at 20 °C [default air]
    unit: Unit to answer in, as text [default h]
    """
@overload
def GAS_PUMPDOWN_TIME(
    volume: Cells,
    pumping_speed: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    gas_load: Cells = None,
    bore: Cells = None,
    length: Cells = None,
    gas: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_GAS_LOAD(
    areas: Cells,
    rates: Cells,
    exponents: Cells,
    leak_rate: Cell = None,
    time: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas load of a vessel from its outgassing areas, their rates after 1 h, and its leak.

    areas: Areas that give off gas, a range [m2]
    rates: Outgassing rates of those areas after 1 h of pumping [mbar L/(s cm2)]
    exponents: Exponents by which those rates fall with time: near 1 metal, near 0.5 elastomers
    leak_rate: Leak, which does not fall with time [mbar L/s; default 0 mbar L/s]
    time: Time since pumping began [h; default 1 h]
    unit: Unit to answer in, as text [default mbar L/s]
    """
@overload
def GAS_GAS_LOAD(
    areas: Cells,
    rates: Cells,
    exponents: Cells,
    leak_rate: Cells = None,
    time: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_ULTIMATE_PRESSURE(
    pump_pressures: Cells,
    pump_speeds: Cells,
    gas_load: Cell,
    bore: Cell = None,
    length: Cell = None,
    gas: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Pressure that a pump holds in a vessel against a gas load, through its line if there is one.

    pump_pressures: Inlet pressures of the pump's curve, rising, a range [bar(a)]
    pump_speeds: Pumping speeds at those pressures; 0 at the pump's ultimate pressure [m3/h]
    gas_load: Leaks and outgassing, as of GAS_GAS_LOAD [mbar L/s]
    bore: Bore of the line to the pump; blank: no line [mm; optional]
    length: Length of the line to the pump; blank: no line [m; optional]
    gas: Gas pumped out, at 20 °C [default air]
    unit: Unit to answer in, as text [default bar(a)]
    """
@overload
def GAS_ULTIMATE_PRESSURE(
    pump_pressures: Cells,
    pump_speeds: Cells,
    gas_load: Cells,
    bore: Cells = None,
    length: Cells = None,
    gas: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_PUMPDOWN_CURVE(
    volume: Cells,
    pump_pressures: Cells,
    pump_speeds: Cells,
    pressure_from: Cells,
    duration: Cells,
    areas: Cells = None,
    rates: Cells = None,
    exponents: Cells = None,
    leak_rate: Cells = None,
    bore: Cells = None,
    length: Cells = None,
    gas: Cells = None,
    points: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Pressure of a vessel over time while a pump of a given curve empties it against its gas load.

    volume: Volume of the vessel [m3]
    pump_pressures: Inlet pressures of the pump's curve, rising, a range [bar(a)]
    pump_speeds: Pumping speeds at those pressures; 0 at the pump's ultimate pressure [m3/h]
    pressure_from: Pressure at the start [bar(a)]
    duration: Time to follow the pressure for [h]
    areas: Areas that give off gas, a range [m2; optional]
    rates: Outgassing rates of those areas after 1 h of pumping [mbar L/(s cm2); optional]
    exponents: Exponents by which those rates fall with time: near 1 metal, near 0.5 elastomers [optional]
    leak_rate: Leak, which does not fall with time [mbar L/s; default 0 mbar L/s]
    bore: Bore of the line to the pump; blank: no line [mm; optional]
    length: Length of the line to the pump; blank: no line [m; optional]
    gas: Gas pumped out, at 20 °C [default air]
    points: Number of points [default 25]
    """
@overload
def GAS_PERMEATION(
    permeability: Cell,
    bore: Cell,
    wall: Cell,
    length: Cell,
    outside_pressure: Cell,
    inside_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that permeates through the wall of a hose or tube, such as oxygen or water from the air.

    permeability: Permeability of the wall's material for what comes through [barrer]
    bore: Inner diameter [mm]
    wall: Thickness of the wall [mm]
    length: Length of the line [m]
    outside_pressure: Partial pressure of what comes through, outside: oxygen 0.21 bar(a) [bar(a)]
    inside_pressure: Its partial pressure inside [bar(a); default 0 bar(a)]
    unit: Unit to answer in, as text [default mbar L/s]
    """
@overload
def GAS_PERMEATION(
    permeability: Cells,
    bore: Cells,
    wall: Cells,
    length: Cells,
    outside_pressure: Cells,
    inside_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_SAMPLE_LAG(
    bore: Cell,
    length: Cell,
    flow: Cell,
    pressure: Cell = None,
    temperature: Cell = None,
    dead_volume: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Time that a sample takes through its line: what the analyser shows is that old.

    bore: Inner diameter [mm]
    length: Length of the line [m]
    flow: Flow of sample [Nm3/h]
    pressure: Pressure in the line [bar(a); default 1.01325 bar(a)]
    temperature: Temperature of the line [°C; default 20 °C]
    dead_volume: Volume of filters and valves on the way [L; default 0 L]
    unit: Unit to answer in, as text [default min]
    """
@overload
def GAS_SAMPLE_LAG(
    bore: Cells,
    length: Cells,
    flow: Cells,
    pressure: Cells = None,
    temperature: Cells = None,
    dead_volume: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_POINT_OF_USE(
    supply: Cells,
    flow: Cells,
    sources: Cells,
    dew_pressure: Cells = None,
    surface: Cells = None,
    gas: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Impurity at the point of use by source: the supply's own and what leaks, hoses, walls add.

    supply: Impurity of the supply [ppm]
    flow: Flow of gas to the point of use [Nm3/h]
    sources: A row a source: name, inflow as a leak rate, share of the impurity in it (blank: all)
    dew_pressure: Pressure to tell the dew point at, where the impurity is water; blank: it is not [bar(a); optional]
    surface: What a dew point below 0 °C is told over: ice (frost point) or water (supercooled) [default ice]
    gas: Gas that holds the water [default air]
    """
@overload
def GAS_LEAK_CONVERT(
    value: Cell,
    from_unit: Cell,
    to_unit: Cell,
    gas: Cell = None,
    temperature: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Leak rate in another unit: pressure times volume, amount or mass per time.

    value: Number to convert
    from_unit: Unit it is in, such as "mbar L/s" or "g/yr"
    to_unit: Unit wanted, such as "std cc/s"
    gas: Gas; needed where a unit is a mass [optional]
    temperature: Temperature that pressure times volume is told at [°C; default 20 °C]
    """
@overload
def GAS_LEAK_CONVERT(
    value: Cells,
    from_unit: Cells,
    to_unit: Cells,
    gas: Cells = None,
    temperature: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LEAK_AS(
    leak_rate: Cell,
    from_gas: Cell,
    to_gas: Cell,
    regime: Cell = None,
    temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Leak rate of one gas, such as argon or air, from that of another, such as helium.

    leak_rate: Leak rate [mbar L/s]
    from_gas: Gas that the leak was measured with
    to_gas: Gas that is meant
    regime: auto (by size, through the transition), molecular or laminar [default auto]
    temperature: Temperature of both gases [°C; default 20 °C]
    unit: Unit to answer in, as text [default mbar L/s]
    """
@overload
def GAS_LEAK_AS(
    leak_rate: Cells,
    from_gas: Cells,
    to_gas: Cells,
    regime: Cells = None,
    temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LEAK_LOSS(
    leak_rate: Cell,
    duration: Cell,
    temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that a steady leak loses over a time.

    leak_rate: Leak rate [mbar L/s]
    duration: Duration [h]
    temperature: Temperature that the leak rate is told at [°C; default 20 °C]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_LEAK_LOSS(
    leak_rate: Cells,
    duration: Cells,
    temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LEAK_IMPURITY(
    air_leak: Cell,
    flow: Cell,
    fraction: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Impurity that an inward leak of air adds to flowing gas.

    air_leak: Air leaking in, told at 20 °C [mbar L/s]
    flow: Flow of the purge or process gas [Nm3/h]
    fraction: Share of the leaking air that counts: 0.2095 is its oxygen [default 0.2095]
    unit: Unit to answer in, as text [default ppm]
    """
@overload
def GAS_LEAK_IMPURITY(
    air_leak: Cells,
    flow: Cells,
    fraction: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LEAK_LIMIT(
    impurity: Cell,
    flow: Cell,
    fraction: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Largest inward leak of air that keeps flowing gas within an added impurity.

    impurity: Impurity that the leak may add [ppm]
    flow: Flow of the purge or process gas [Nm3/h]
    fraction: Share of the leaking air that counts: 0.2095 is its oxygen [default 0.2095]
    unit: Unit to answer in, as text [default mbar L/s]
    """
@overload
def GAS_LEAK_LIMIT(
    impurity: Cells,
    flow: Cells,
    fraction: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LEAK_BUILDUP(
    air_leak: Cell,
    volume: Cell,
    pressure: Cell,
    duration: Cell,
    fraction: Cell = None,
    temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Impurity that an inward leak of air builds up in a shut vessel.

    air_leak: Air leaking in, told at 20 °C [mbar L/s]
    volume: Volume of the vessel [m3]
    pressure: Pressure in the vessel when it is shut [bar(a)]
    duration: Time that the vessel stays shut [h]
    fraction: Share of the leaking air that counts: 0.2095 is its oxygen [default 0.2095]
    temperature: Temperature of the gas in the vessel [°C; default 20 °C]
    unit: Unit to answer in, as text [default ppm]
    """
@overload
def GAS_LEAK_BUILDUP(
    air_leak: Cells,
    volume: Cells,
    pressure: Cells,
    duration: Cells,
    fraction: Cells = None,
    temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LEAK_HOLE(
    leak_rate: Cell,
    gas: Cell,
    pressure_up: Cell,
    pressure_down: Cell,
    temperature: Cell = None,
    wall: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Diameter of the round hole that leaks as much: an orifice or a laminar capillary.

    leak_rate: Leak rate [mbar L/s]
    gas: Gas by name or symbol, or a mixture by volume
    pressure_up: Pressure that the gas leaks from [bar(a)]
    pressure_down: Pressure that the gas leaks to [bar(a)]
    temperature: Temperature of the gas [°C; default 20 °C]
    wall: Thickness of the wall [mm; default 1 mm]
    unit: Unit to answer in, as text [default um]
    """
@overload
def GAS_LEAK_HOLE(
    leak_rate: Cells,
    gas: Cells,
    pressure_up: Cells,
    pressure_down: Cells,
    temperature: Cells = None,
    wall: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_RISE_LEAK(
    volume: Cell,
    pressure_start: Cell,
    pressure_end: Cell,
    duration: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Leak rate from a pressure-rise test of a shut, evacuated vessel.

    volume: Volume under test, lines included [m3]
    pressure_start: Pressure at the start of the test [bar(a)]
    pressure_end: Pressure at the end of the test [bar(a)]
    duration: Duration of the test [h]
    unit: Unit to answer in, as text [default mbar L/s]
    """
@overload
def GAS_RISE_LEAK(
    volume: Cells,
    pressure_start: Cells,
    pressure_end: Cells,
    duration: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_RISE_RATE(
    leak_rate: Cell,
    volume: Cell,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Pressure rise rate that a leak makes in a shut vessel.

    leak_rate: Leak rate [mbar L/s]
    volume: Volume under test, lines included [m3]
    unit: Unit to answer in, as text [default mbar/h]
    """
@overload
def GAS_RISE_RATE(
    leak_rate: Cells,
    volume: Cells,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_RISE_FIT(
    times: Cells,
    pressures: Cells,
    volume: Cells,
    times_are: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Real leak and outgassing told apart in a pressure-rise test, by rival models.

    times: Times of the readings, a range: hours, or dates with times; blank rows are left out [h]
    pressures: Pressures read, a range as long as the times [bar(a)]
    volume: Volume under test, lines included [m3]
    times_are: What bare numbers in times are: hours, or dates as the spreadsheet counts [optional]
    """
def GAS_RISE_CURVE(
    times: Cells,
    pressures: Cells,
    times_are: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Readings of a pressure-rise test beside the curve that GAS_RISE_FIT lays through them.

    times: Times of the readings, a range: hours, or dates with times; blank rows are left out [h]
    pressures: Pressures read, a range as long as the times [bar(a)]
    times_are: What bare numbers in times are: hours, or dates as the spreadsheet counts [optional]
    """
def GAS_RISE_VERDICT(
    times: Cells,
    pressures: Cells,
    volume: Cells,
    limit: Cells,
    pressure_tolerance: Cells = None,
    temperature_tolerance: Cells = None,
    times_are: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Whether a pressure-rise test shows a vessel tight: tight, leaks, repeat or cannot tell.

    times: Times of the readings, a range: hours, or dates with times; blank rows are left out [h]
    pressures: Pressures read, a range as long as the times [bar(a)]
    volume: Volume under test, lines included [m3]
    limit: Limit: a leak rate, or a rate of rise such as "10 micron/h" [mbar L/s]
    pressure_tolerance: Tolerance of the gauge: "±2 %" is its scale, "±0.5 micron" every reading by itself [optional]
    temperature_tolerance: How far the vessel's temperature may have moved, such as "±1 K" [optional]
    times_are: What bare numbers in times are: hours, or dates as the spreadsheet counts [optional]
    """
@overload
def GAS_DECAY_LEAK(
    volume: Cell,
    pressure_start: Cell,
    temperature_start: Cell,
    pressure_end: Cell,
    temperature_end: Cell,
    duration: Cell,
    gas: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Leak rate from a pressure-decay test, corrected for temperature.

    volume: Volume under test, lines included [m3]
    pressure_start: Pressure at the start of the test [bar(a)]
    temperature_start: Temperature of the gas at the start [°C]
    pressure_end: Pressure at the end of the test [bar(a)]
    temperature_end: Temperature of the gas at the end [°C]
    duration: Duration of the test [h]
    gas: Gas in the vessel; blank: ideal gas, up to 50 bar [optional]
    unit: Unit to answer in, as text [default mbar L/s]
    """
@overload
def GAS_DECAY_LEAK(
    volume: Cells,
    pressure_start: Cells,
    temperature_start: Cells,
    pressure_end: Cells,
    temperature_end: Cells,
    duration: Cells,
    gas: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_DECAY_VERDICT(
    volume: Cells,
    pressure_start: Cells,
    temperature_start: Cells,
    pressure_end: Cells,
    temperature_end: Cells,
    duration: Cells,
    limit: Cells,
    gas: Cells = None,
    pressure_tolerance: Cells = None,
    temperature_tolerance: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Whether a pressure-decay test shows a vessel tight: tight, leaks, repeat or cannot tell.

    volume: Volume under test, lines included [m3]
    pressure_start: Pressure at the start of the test [bar(a)]
    temperature_start: Temperature of the gas at the start [°C]
    pressure_end: Pressure at the end of the test [bar(a)]
    temperature_end: Temperature of the gas at the end [°C]
    duration: Duration of the test [h]
    limit: Limit: a leak rate, or a rate of fall such as "5 mbar/h" [mbar L/s]
    gas: Gas in the vessel; blank: ideal gas, up to 50 bar [optional]
    pressure_tolerance: Tolerance of the gauge: "±2 %" is its scale, "±0.5 micron" every reading by itself [optional]
    temperature_tolerance: Tolerance of each temperature, such as "±0.5 K" [optional]
    """
@overload
def GAS_DEW_PPM(
    dew_point: Cell,
    pressure: Cell = None,
    surface: Cell = None,
    gas: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Moisture of a gas from its dew point, which below 0 °C is its frost point.

    dew_point: Dew point; below 0 °C the frost point unless the surface is water [°C]
    pressure: Pressure of the moist gas [bar(a); default 1.01325 bar(a)]
    surface: What a dew point below 0 °C is told over: ice (frost point) or water (supercooled) [default ice]
    gas: Gas that holds the water [default air]
    unit: Unit to answer in, as text [default ppm]
    """
@overload
def GAS_DEW_PPM(
    dew_point: Cells,
    pressure: Cells = None,
    surface: Cells = None,
    gas: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_PPM_DEW(
    moisture: Cell,
    pressure: Cell = None,
    surface: Cell = None,
    gas: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Dew point of a gas, below 0 °C its frost point, from its moisture.

    moisture: Water by volume of the whole gas [ppm]
    pressure: Pressure of the moist gas [bar(a); default 1.01325 bar(a)]
    surface: What a dew point below 0 °C is told over: ice (frost point) or water (supercooled) [default ice]
    gas: Gas that holds the water [default air]
    unit: Unit to answer in, as text [default degC]
    """
@overload
def GAS_PPM_DEW(
    moisture: Cells,
    pressure: Cells = None,
    surface: Cells = None,
    gas: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_DEW_SHIFT(
    dew_point: Cell,
    pressure_from: Cell,
    pressure_to: Cell,
    surface: Cell = None,
    gas: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Dew point of the same gas at another pressure.

    dew_point: Dew point; below 0 °C the frost point unless the surface is water [°C]
    pressure_from: Pressure at which the dew point is known [bar(a)]
    pressure_to: Pressure at which the dew point is asked for [bar(a)]
    surface: What a dew point below 0 °C is told over: ice (frost point) or water (supercooled) [default ice]
    gas: Gas that holds the water [default air]
    unit: Unit to answer in, as text [default degC]
    """
@overload
def GAS_DEW_SHIFT(
    dew_point: Cells,
    pressure_from: Cells,
    pressure_to: Cells,
    surface: Cells = None,
    gas: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_ABSOLUTE_HUMIDITY(
    dew_point: Cell,
    pressure: Cell = None,
    temperature: Cell = None,
    surface: Cell = None,
    gas: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Absolute humidity of a gas, mass of water in its actual volume, from its dew point.

    dew_point: Dew point; below 0 °C the frost point unless the surface is water [°C]
    pressure: Pressure of the moist gas [bar(a); default 1.01325 bar(a)]
    temperature: Temperature of the gas [°C; default 20 °C]
    surface: What a dew point below 0 °C is told over: ice (frost point) or water (supercooled) [default ice]
    gas: Gas that holds the water [default air]
    unit: Unit to answer in, as text [default kg/m3]
    """
@overload
def GAS_ABSOLUTE_HUMIDITY(
    dew_point: Cells,
    pressure: Cells = None,
    temperature: Cells = None,
    surface: Cells = None,
    gas: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_PRICE(
    price: Cell,
    per_unit: Cell,
    to_unit: Cell,
    gas: Cell = None,
    tank_pressure: Cell = None,
    liquid_at: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """A price for one unit of gas as the price for another unit.

    price: Price, in your own currency
    per_unit: Unit that the price is for; it may have a number, "100 scf"
    to_unit: Unit wanted; it may have a number, "1000 gal(liq)"
    gas: Gas, where amount, mass or liquid become one another [optional]
    tank_pressure: Pressure of the liquid in the tank [bar(a); default 1.01325 bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    """
@overload
def GAS_PRICE(
    price: Cells,
    per_unit: Cells,
    to_unit: Cells,
    gas: Cells = None,
    tank_pressure: Cells = None,
    liquid_at: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_LOAD_COST(
    amount: Cell,
    price: Cell,
    loss: Cell = None,
    monthly_fixed: Cell = None,
    loads_per_month: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Cost of the gas of one load, with what is lost and its share of the fixed costs.

    amount: Gas that the load uses [Nm3]
    price: Price of 1 Nm3; of the same unit where the amount is a bare number
    loss: Share of the gas bought that is lost before it is used [default 0]
    monthly_fixed: Rental, delivery and other fixed costs a month [default 0]
    loads_per_month: Loads a month that share the fixed costs [default 1]
    """
@overload
def GAS_LOAD_COST(
    amount: Cells,
    price: Cells,
    loss: Cells = None,
    monthly_fixed: Cells = None,
    loads_per_month: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_PRICE_PARITY(
    amount_a: Cell,
    price_a: Cell,
    amount_b: Cell,
    extra_b: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Price of gas b at which a load costs the same as with gas a.

    amount_a: Gas a that a load uses [Nm3]
    price_a: Price of 1 Nm3 of gas a; or of the unit of bare amounts
    amount_b: Gas b that the same load uses [Nm3]
    extra_b: What else the load costs more with gas b [default 0]
    """
@overload
def GAS_PRICE_PARITY(
    amount_a: Cells,
    price_a: Cells,
    amount_b: Cells,
    extra_b: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_INDEXED_PRICE(
    base_price: Cell,
    fixed_share: Cell,
    weights: Cells,
    base_indices: Cells,
    indices: Cells,
    cap: Cell = None,
    floor: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Price that a contract's index clause gives.

    base_price: Price at the base indices, in your own currency
    fixed_share: Share of the price that follows no index
    weights: Weight of each index
    base_indices: The indices that the base price stands for
    indices: The indices now, in the order of the weights
    cap: Highest price that the contract allows [optional]
    floor: Lowest price that it allows [optional]
    """
@overload
def GAS_INDEXED_PRICE(
    base_price: Cells,
    fixed_share: Cells,
    weights: Cells,
    base_indices: Cells,
    indices: Cells,
    cap: Cells = None,
    floor: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_CONTRACT_COST(
    months: Cells,
    amounts: Cells,
    price: Cells,
    tiers: Cells = None,
    tier_kind: Cells = None,
    delivery_charge: Cells = None,
    drop: Cells = None,
    rent: Cells = None,
    surcharges: Cells = None,
    least_take: Cells = None,
    period: Cells = None,
    shortfall_rate: Cells = None,
    price_index: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """What a contract costs over its months: goods, deliveries, rent, surcharges, shortfall.

    months: Months of the contract, a range of any day in each; rows blank in both are left out
    amounts: Amount taken in each month, in the unit that the price is for
    price: Price of a unit of amount, below the tiers
    tiers: Tiers, a row each: from which amount in a period, to which (the last may be blank: any more), and its price; below the first the price itself holds [optional]
    tier_kind: A tier's price holds for its part of the amount (marginal) or for all of it (whole) [default marginal]
    delivery_charge: Charge of a delivery [default 0]
    drop: Mean amount of a delivery [optional]
    rent: Rent of tank and equipment a month [default 0]
    surcharges: Surcharges, a row each: name, share of the goods, per delivery, per month, per unit of amount; what does not apply stays blank [optional]
    least_take: Amount that a period pays for at least [default 0]
    period: Period of tiers and least take [default year]
    shortfall_rate: Price of a unit not taken; blank: the price [optional]
    price_index: Factor of each month on the price and its tiers, as GAS_INDEXED_PRICE of 1 gives it [optional]
    """
def GAS_INVOICE_CHECK(
    lines: Cells,
    tickets: Cells,
    contract: Cells,
    tolerance: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """What each line of an invoice should be by ticket and contract, and why it is not.

    lines: Lines of the invoice, a row each: ticket, quantity, price, surcharges (money), billed, and the factor where one is printed; quantity in the unit of the price
    tickets: Delivery tickets, a row each: ticket, date, quantity in the unit that the ticket counts in
    contract: Versions of the contract, a row each: from (day), price, index factor, units of the price per unit of the ticket, surcharge as a share of the goods, charge per delivery
    tolerance: Money that rounding may change, of each part of a line [default 0.01]
    """
@overload
def GAS_DAYS_LEFT(
    contents: Cell,
    daily_use: Cell,
    daily_boil_off: Cell = None,
    reserve: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Time until the stock is down to the reserve, evaporation counted.

    contents: What is in the tank now
    daily_use: Use a day, in the unit of the stock
    daily_boil_off: Evaporation a day, in the unit of the stock [default 0]
    reserve: What must be left [default 0]
    unit: Unit to answer in, as text [default d]
    """
@overload
def GAS_DAYS_LEFT(
    contents: Cells,
    daily_use: Cells,
    daily_boil_off: Cells = None,
    reserve: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_REORDER_LEVEL(
    daily_use: Cell,
    daily_sd: Cell,
    lead_days: Cell,
    lead_sd: Cell = None,
    service: Cell = None,
    reserve: Cell = None,
    review_days: Cell = None,
    sample: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Level to order at, so that the reserve is kept at a service level while the truck comes.

    daily_use: Mean use a day, with the evaporation, in the unit of the stock
    daily_sd: Standard deviation of the use of a day, in the unit of the stock, without what weekends and holidays of a plan explain
    lead_days: Mean time from order to delivery [d]
    lead_sd: Standard deviation of the time to the delivery [d; default 0 d]
    service: Chance of not reaching the reserve while a delivery is awaited [default 0.95]
    reserve: What must be left when the truck comes [default 0]
    review_days: Time between two readings of the level, when an order can be placed [d; default 0 d]
    sample: Days that mean and standard deviation were found from; blank: many [optional]
    """
@overload
def GAS_REORDER_LEVEL(
    daily_use: Cells,
    daily_sd: Cells,
    lead_days: Cells,
    lead_sd: Cells = None,
    service: Cells = None,
    reserve: Cells = None,
    review_days: Cells = None,
    sample: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_REORDER_DATE(
    start_date: Cell,
    contents: Cell,
    daily_use: Cell,
    reorder_level: Cell,
    daily_boil_off: Cell = None,
    order_days: Cell = None,
    delivery_days: Cell = None,
    holidays: Cells = None,
    lead_days: Cell = None,
    least_load: Cell = None,
    capacity: Cell = None,
    max_fill: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> dt.date:
    """Day on which to order: the reorder level is reached, or will be before the next chance.

    start_date: Day on which the contents were read
    contents: What was in the tank then
    daily_use: Use a day, in the unit of the stock
    reorder_level: Level to order at
    daily_boil_off: Evaporation a day, in the unit of the stock [default 0]
    order_days: Weekdays on which orders are taken, "Mon-Fri"; blank: every day [optional]
    delivery_days: Weekdays on which trucks come, "Mon-Sat"; blank: every day [optional]
    holidays: Days without orders and deliveries, a range of dates [optional]
    lead_days: Days from order to delivery; delivery days and least load need them [d; default 0 d]
    least_load: Least that a truck delivers, in the unit of the stock [default 0]
    capacity: What the full tank holds; a least load needs it [optional]
    max_fill: Highest fill of the tank, as a share of its capacity [default 0.95]
    """
@overload
def GAS_REORDER_DATE(
    start_date: Cells,
    contents: Cells,
    daily_use: Cells,
    reorder_level: Cells,
    daily_boil_off: Cells = None,
    order_days: Cells = None,
    delivery_days: Cells = None,
    holidays: Cells = None,
    lead_days: Cells = None,
    least_load: Cells = None,
    capacity: Cells = None,
    max_fill: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[Any]: ...
@overload
def GAS_RUNOUT_RISK(
    contents: Cell,
    daily_use: Cell,
    daily_sd: Cell,
    days: Cell,
    days_sd: Cell = None,
    reserve: Cell = None,
    daily_boil_off: Cell = None,
    review_days: Cell = None,
    sample: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Chance that the stock comes down to the reserve before the delivery.

    contents: What is in the tank now, or the level that is ordered at
    daily_use: Use a day, in the unit of the stock
    daily_sd: Standard deviation of the use of a day, in the unit of the stock, without what weekends and holidays of a plan explain
    days: Mean time until the delivery [d]
    days_sd: Standard deviation of the time to the delivery [d; default 0 d]
    reserve: What must be left [default 0]
    daily_boil_off: Evaporation a day, in the unit of the stock [default 0]
    review_days: Time between two readings of the level, when an order can be placed [d; default 0 d]
    sample: Days that mean and standard deviation were found from; blank: many [optional]
    unit: Unit to answer in, as text [default 1]
    """
@overload
def GAS_RUNOUT_RISK(
    contents: Cells,
    daily_use: Cells,
    daily_sd: Cells,
    days: Cells,
    days_sd: Cells = None,
    reserve: Cells = None,
    daily_boil_off: Cells = None,
    review_days: Cells = None,
    sample: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_ORDER_SIZE(
    capacity: Cell,
    contents: Cell,
    daily_use: Cell,
    lead_days: Cell,
    max_fill: Cell = None,
    daily_boil_off: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """What fits into the tank when the truck comes.

    capacity: What the full tank holds
    contents: What is in the tank when the order is placed
    daily_use: Use a day, in the unit of the stock
    lead_days: Time from order to delivery [d]
    max_fill: Highest fill of the tank, as a share of its capacity [default 0.95]
    daily_boil_off: Evaporation a day, in the unit of the stock [default 0]
    """
@overload
def GAS_ORDER_SIZE(
    capacity: Cells,
    contents: Cells,
    daily_use: Cells,
    lead_days: Cells,
    max_fill: Cells = None,
    daily_boil_off: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_TANK_PLAN(
    start_date: Cells,
    opening: Cells,
    daily_use: Cells,
    reorder_level: Cells,
    lead_days: Cells,
    order_size: Cells,
    capacity: Cells,
    daily_boil_off: Cells = None,
    max_fill: Cells = None,
    order_days: Cells = None,
    delivery_days: Cells = None,
    holidays: Cells = None,
    least_load: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Plan of a tank's deliveries, day by day from a use for each calendar day.

    start_date: First day of the plan
    opening: What is in the tank on its morning
    daily_use: Use of each calendar day, in the unit of the stock; a blank day uses none
    reorder_level: Level to order at
    lead_days: Days from order to delivery; part of a day counts as one [d]
    order_size: What a truck brings at most
    capacity: What the full tank holds
    daily_boil_off: Evaporation a day, in the unit of the stock [default 0]
    max_fill: Highest fill of the tank, as a share of its capacity [default 0.95]
    order_days: Weekdays on which orders are taken, "Mon-Fri"; blank: every day [optional]
    delivery_days: Weekdays on which trucks come, "Mon-Sat"; blank: every day [optional]
    holidays: Days without orders and deliveries, a range of dates [optional]
    least_load: Least that a truck delivers, in the unit of the stock [default 0]
    """
@overload
def GAS_UNACCOUNTED(
    opening: Cell,
    delivered: Cell,
    closing: Cell,
    calculated_use: Cell,
    days: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas that no calculated use explains; GAS_UNACCOUNTED_LEAK tells it as a leak rate.

    opening: Stock at the start [Nm3]
    delivered: Deliveries in between [Nm3]
    closing: Stock at the end [Nm3]
    calculated_use: Use that calculations or meters explain [Nm3]
    days: Days in between; with them GAS_WORKING shows the gas lost as a leak rate [d; optional]
    unit: Unit to answer in, as text [default Nm3]
    """
@overload
def GAS_UNACCOUNTED(
    opening: Cells,
    delivered: Cells,
    closing: Cells,
    calculated_use: Cells,
    days: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_UNACCOUNTED_LEAK(
    opening: Cell,
    delivered: Cell,
    closing: Cell,
    calculated_use: Cell,
    days: Cell,
    temperature: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Leak rate that would explain the gas that no calculated use does.

    opening: Stock at the start [Nm3]
    delivered: Deliveries in between [Nm3]
    closing: Stock at the end [Nm3]
    calculated_use: Use that calculations or meters explain [Nm3]
    days: Days in between [d]
    temperature: Temperature that the leak rate is stated at [°C; default 20 °C]
    unit: Unit to answer in, as text [default mbar L/s]
    """
@overload
def GAS_UNACCOUNTED_LEAK(
    opening: Cells,
    delivered: Cells,
    closing: Cells,
    calculated_use: Cells,
    days: Cells,
    temperature: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_UNACCOUNTED_VERDICT(
    opening: Cells,
    delivered: Cells,
    closing: Cells,
    calculated_use: Cells,
    days: Cells,
    stock_tolerance: Cells = None,
    delivery_tolerance: Cells = None,
    use_tolerance: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Whether gas that no use explains differs from nothing: loss, gain or cannot tell.

    opening: Stock at the start [Nm3]
    delivered: Deliveries in between [Nm3]
    closing: Stock at the end [Nm3]
    calculated_use: Use that calculations or meters explain [Nm3]
    days: Days in between [d]
    stock_tolerance: Tolerance of each stock, such as "±1 % of 7000 Nm3"; a name behind it: one error of both [optional]
    delivery_tolerance: Tolerance of the deliveries, such as "±2.5 %" [optional]
    use_tolerance: Tolerance of the use, such as "±3 % volume" [optional]
    """
def GAS_FORECAST(
    dates: Cells,
    uses: Cells,
    days: Cells,
    special_days: Cells = None,
    level: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Use of the days to come, with its band, by the method that was nearest so far.

    dates: Days of the history, each once and without gaps, in any order; rows blank in both are left out
    uses: Use of each day, evaporation included, in your own unit; 0 where nothing was used
    days: Days to forecast
    special_days: Days past and to come that are not as their weekday is, such as shutdowns [optional]
    level: Share of the days that the band is to hold [default 0.9]
    """
def GAS_DELIVERY_SIM(
    opening: Cells,
    use_history: Cells,
    lead_history: Cells,
    reorder_level: Cells,
    drop: Cells,
    capacity: Cells,
    reserve: Cells,
    max_fill: Cells = None,
    order_days: Cells = None,
    delivery_days: Cells = None,
    holidays: Cells = None,
    review: Cells = None,
    trials: Cells = None,
    seed: Cells = None,
    start_date: Cells = None,
    days: Cells = None,
    delivery_charge: Cells = None,
    emergency_charge: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Chance of reaching the reserve, lowest levels, deliveries and calls, by trying many years.

    opening: What is in the tank on the first morning
    use_history: Use of each calendar day, evaporation included, without gaps; the last whole weeks are drawn from
    lead_history: Time from order to delivery of each past delivery; blank cells are left out [d]
    reorder_level: Level to order at
    drop: What a truck brings at most
    capacity: What the full tank holds
    reserve: What must be left
    max_fill: Highest fill of the tank, as a share of its capacity [default 0.95]
    order_days: Weekdays on which orders are taken, "Mon-Fri"; blank: every day [optional]
    delivery_days: Weekdays on which trucks come, "Mon-Sat"; blank: every day [optional]
    holidays: Days without orders and deliveries, a range of dates [optional]
    review: Days from one reading of the level to the next [default 1]
    trials: Number of trials [default 2000]
    seed: Start of the random numbers [default 1]
    start_date: First day tried, the day after the history; open days need it [optional]
    days: Days of a trial [default 365]
    delivery_charge: Charge of a delivery [optional]
    emergency_charge: Charge of an emergency call [optional]
    """
def GAS_TANK_EVENTS(
    times: Cells,
    levels: Cells,
    gas: Cells,
    capacity: Cells,
    tank_pressure: Cells,
    liquid_at: Cells = None,
    vapour_temperature: Cells = None,
    least_rise: Cells = None,
    longest_gap: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Deliveries and use of each day out of a tank's level, with what was left out and why.

    times: Times of the readings: dates with time of day, a range in any order
    levels: Liquid in the tank at each time; from a differential pressure GAS_TANK_LIQUID of GAS_DP_LEVEL [L(liq)]
    gas: Gas by name or symbol, or a mixture by volume
    capacity: Inner volume of the tank [L(liq)]
    tank_pressure: Pressure in the tank at each time, or one for all: then a pressure that moves the level cannot be told from a delivery [bar(a)]
    liquid_at: State of the liquid: blank is saturated at the tank's pressure; "1 atm" is saturated at that pressure, as tickets count; "-190 degC" is colder liquid under the tank's pressure [optional]
    vapour_temperature: Temperature of the vapour above the liquid; blank: that at which it boils [°C; optional]
    least_rise: Least rise that is a delivery; blank: 5 % of the capacity [L(liq); optional]
    longest_gap: Longest time between readings that is no gap; blank: four times the usual one [h; optional]
    """
@overload
def GAS_ROOM_OXYGEN(
    room_volume: Cell,
    released: Cell,
    ventilation: Cell = None,
    release_time: Cell = None,
    site_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Oxygen left in a room at the end of a release of inert gas.

    room_volume: Air volume of the room [m3]
    released: Gas that escapes; its volume is taken at 20 °C [Nm3]
    ventilation: Room air that the exhaust fan draws off; fresh air makes up for it [m3/h; default 0 m3/h]
    release_time: Time over which the gas escapes; blank: at once, before a fan can help [h; optional]
    site_pressure: Air pressure at the site [bar(a); default 1.01325 bar(a)]
    unit: Unit to answer in, as text [default 1]
    """
@overload
def GAS_ROOM_OXYGEN(
    room_volume: Cells,
    released: Cells,
    ventilation: Cells = None,
    release_time: Cells = None,
    site_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_ROOM_VENTILATION(
    release_rate: Cell,
    oxygen_limit: Cell = None,
    site_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Ventilation that keeps the oxygen in a room at a limit while gas escapes.

    release_rate: Gas that escapes, steadily; its volume is taken at 20 °C [Nm3/h]
    oxygen_limit: Oxygen that must be kept, by volume [default 0.195]
    site_pressure: Air pressure at the site [bar(a); default 1.01325 bar(a)]
    unit: Unit to answer in, as text [default m3/h]
    """
@overload
def GAS_ROOM_VENTILATION(
    release_rate: Cells,
    oxygen_limit: Cells = None,
    site_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_ROOM_TIME(
    room_volume: Cell,
    release_rate: Cell,
    oxygen: Cell,
    ventilation: Cell = None,
    oxygen_start: Cell = None,
    site_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Time until the oxygen in a room falls to a value while gas escapes, or comes back after it.

    room_volume: Air volume of the room [m3]
    release_rate: Gas that escapes, steadily; its volume is taken at 20 °C [Nm3/h]
    oxygen: Oxygen to be reached, such as 19.5 %, 18 % or 16 %
    ventilation: Room air that the exhaust fan draws off; fresh air makes up for it [m3/h; default 0 m3/h]
    oxygen_start: Oxygen at the start, good air or what a release has left [default 0.2095]
    site_pressure: Air pressure at the site [bar(a); default 1.01325 bar(a)]
    unit: Unit to answer in, as text [default min]
    """
@overload
def GAS_ROOM_TIME(
    room_volume: Cells,
    release_rate: Cells,
    oxygen: Cells,
    ventilation: Cells = None,
    oxygen_start: Cells = None,
    site_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
@overload
def GAS_FATALITY_FACTOR(
    oxygen: Cell,
    site_pressure: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Fatality factor of an oxygen deficiency: the chance that it kills somebody who is there.

    oxygen: Lowest oxygen by volume of the event
    site_pressure: Air pressure at the site [bar(a); default 1.01325 bar(a)]
    """
@overload
def GAS_FATALITY_FACTOR(
    oxygen: Cells,
    site_pressure: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_ODH_CLASS(
    failure_rates: Cells,
    oxygen: Cells,
    counts: Cells = None,
    site_pressure: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Class of an oxygen-deficiency hazard from the failures that can cause it.

    failure_rates: Failures an hour of one component, an event each, a range
    oxygen: Lowest oxygen by volume that each event leaves, a range
    counts: How many such components there are, a range; blank: 1 each [optional]
    site_pressure: Air pressure at the site [bar(a); default 1.01325 bar(a)]
    """
@overload
def GAS_RELIEF_FLOW(
    gas: Cell,
    orifice: Cell,
    relieving_pressure: Cell,
    temperature: Cell = None,
    discharge: Cell = None,
    back_pressure: Cell = None,
    unit: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """Gas flow through a safety valve, bursting disc or orifice that is fully open.

    gas: Gas by name or symbol, or a mixture by volume
    orifice: Diameter of the orifice, or its area [mm]
    relieving_pressure: Pressure at which it relieves: set pressure and overpressure, absolute [bar(a)]
    temperature: Temperature of the gas before the device [°C; default 20 °C]
    discharge: Certified (derated) coefficient of discharge [default 0.9]
    back_pressure: Pressure behind the device [bar(a); default 1.01325 bar(a)]
    unit: Unit to answer in, as text [default Nm3/h]
    """
@overload
def GAS_RELIEF_FLOW(
    gas: Cells,
    orifice: Cells,
    relieving_pressure: Cells,
    temperature: Cells = None,
    discharge: Cells = None,
    back_pressure: Cells = None,
    unit: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_COMBINE(
    values: Cells,
    tolerances: Cells,
    names: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Sum or balance of values with its 95 % band; errors of one name are one error.

    values: Values, a row or column; a term taken off is negative; blank rows are left out
    tolerances: Tolerance of each value, or one for all: "±3 % volume", "u 20", blank: exact
    names: Names of shared errors, one a value, for tolerances without one [optional]
    """
@overload
def GAS_CONFORMS(
    value: Cell,
    uncertainty: Cell,
    limit: Cell,
    limit_kind: Cell = None,
    risk: Cell = None,
    degrees_of_freedom: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> str:
    """Whether a value keeps a limit, its uncertainty counted: yes, no or cannot tell.

    value: Number
    uncertainty: Standard uncertainty of the value, in its unit
    limit: Limit, in the unit of the value
    limit_kind: What the limit is [default at most]
    risk: Risk of a wrong yes or no that is taken [default 0.05]
    degrees_of_freedom: Degrees of freedom of the uncertainty; blank: unlimited [optional]
    """
@overload
def GAS_CONFORMS(
    value: Cells,
    uncertainty: Cells,
    limit: Cells,
    limit_kind: Cells = None,
    risk: Cells = None,
    degrees_of_freedom: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[Any]: ...
@overload
def GAS_DETECTABLE(
    uncertainty: Cell,
    risk: Cell = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> float:
    """The least that a measurement of this standard uncertainty sees.

    uncertainty: Standard uncertainty where nothing is there
    risk: Risk of a false alarm, and of missing what is there [default 0.05]
    """
@overload
def GAS_DETECTABLE(
    uncertainty: Cells,
    risk: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[np.float64]: ...
def GAS_RECONCILE(
    values: Cells,
    tolerances: Cells,
    balances: Cells,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Measured values made to fit their balances, with the test of the whole and the suspect.

    values: Measured values, a row or column, in one unit or as the balances need them
    tolerances: Tolerance of each value, or one for all: "±2 95%"; blank: exact
    balances: Coefficients: a row for each balance with a number for each value, such as 1, 1, -1; each balance sums to zero
    """
def GAS_CONTROL_CHART(
    values: Cells,
    kind: Cells = None,
    baseline_count: Cells = None,
    target: Cells = None,
    sigma: Cells = None,
    smoothing: Cells = None,
    width: Cells = None,
    log: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Control chart of readings: which of them are not as the others were.

    values: Readings in the order of time, a range; one that cannot be read is left out
    kind: Kind of chart [default individuals]
    baseline_count: The first so many readings tell centre and sigma; blank: all do [optional]
    target: Centre; blank: the mean of the baseline [optional]
    sigma: Standard deviation (with log: of the natural logarithm); blank: from the moving ranges of the baseline [optional]
    smoothing: Weight of the newest reading, for ewma [default 0.3]
    width: Distance of the limits in sigmas; blank: 3, for cusum 5 [optional]
    log: yes: on the logarithm, as leaks and ppm scatter [default no]
    """
def GAS_TREND(
    dates: Cells,
    values: Cells,
    limit: Cells,
    confidence: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Straight trend of readings: its slope, and the date on which it reaches a limit.

    dates: Dates of the readings, a range
    values: Readings, a range as long as the dates
    limit: Limit, in the unit of the readings
    confidence: Confidence of the earliest and latest date together [default 0.9]
    """
def GAS_UNCERTAINTY(
    function_name: Cells,
    tolerances: Cells,
    *arguments: Cells,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Standard uncertainty and 95 % band of what any function answers, from its arguments'.

    function_name: Name of a worksheet function
    tolerances: One cell an argument, in their order: "±1 %", "±0.5 K", "u 3 mbar", "±2 % 95%", "±0.5 % of 16 bar"; a name behind ties errors ("±3 % volume"); blank: exact
    arguments: Its arguments
    """
def GAS_WORKING(
    function_name: Cells,
    *arguments: Cells,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Working of a call: equation, inputs in SI, intermediate values, result, sources, cautions.

    function_name: Name of a worksheet function
    arguments: Its arguments
    """
@overload
def GAS_CHECK(
    function_name: Cell,
    *arguments: Cells,
    errors: Literal["raise", "cells"] = "raise",
) -> str:
    """Says ok, or in one sentence what is wrong with a call.

    function_name: Name of a worksheet function
    arguments: Its arguments
    """
@overload
def GAS_CHECK(
    function_name: Cells,
    *arguments: Cells,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[Any]: ...
@overload
def GAS_SOURCE(
    function_name: Cell,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> str:
    """Where a function's method and values come from.

    function_name: Name of a worksheet function
    """
@overload
def GAS_SOURCE(
    function_name: Cells,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> NDArray[Any]: ...
def GAS_LIST(
    topic: Cells = None,
    *,
    errors: Literal["raise", "cells"] = "raise",
) -> list[list[Any]]:
    """Lists the functions, all or of one topic.

    topic: Topic, such as purge; blank: all of them [optional]
    """