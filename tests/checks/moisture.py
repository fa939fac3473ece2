"""Checks of the topic moisture."""

from tests.checks.kinds import LIBRARY, MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import MIL_OXYGEN

TABLE = "dew point and ppm by volume at 1 atm, table of a humidity-instrument maker (zonglen.com)"
TABLE_WHY = (
    "three or four digits by Dalton's law alone; the enhancement factor of air adds 0.4 % at -20 "
    "and 0.95 % at -80 °C, and the table's base is 101.3 kPa"
)
SHIFT = (
    "pressure dew-point table (Sonntag), humidity-instrument maker "
    "(processsensing.com, pressure dew point conversion tables)"
)
SHIFT_WHY = (
    "by Dalton's law alone; at 1 bar gauge the enhancement factor takes 0.06 °C off, at 0.08 °C "
    "for 1 % of water"
)
PSYCHROLIB = "psychrolib, GetSatVapPres (ASHRAE Handbook Fundamentals 2017): "
COOLPROP = "CoolProp, humid air (ASHRAE RP-1485), HAProps_Aux f and p_ws: "
COOLPROP_WHY = "its vapour pressure and its dissolved air are its own: 0.15 % at 100 bar"
ASHRAE = "ASHRAE Handbook Fundamentals, moist air at 101.325 kPa, humidity ratio at saturation "
HARDY = "B. Hardy, ITS-90 formulations (1998), enhancement factor after Greenspan, "


def of_ratio(ratio: float) -> float:
    """ppm by volume of a mass of water to a mass of dry air; their molar masses are 0.62198."""
    return 1e6 * ratio / (ratio + 0.62198)


PUBLISHED = [
    Published(
        f"GAS_DEW_PPM({dew_point})", ppm, 0.0105, TABLE, SEEN, TABLE_WHY
    )
    for dew_point, ppm in (
        (-20, 1019), (-30, 375.3), (-40, 126.8), (-42, 100.9), (-50, 38.89), (-60, 10.68),
        (-70, 2.584), (-80, 0.5410),
    )
] + [
    Published(
        f'GAS_DEW_PPM({celsius}, "{bars} bar(a)")', ppm, 0.002,
        COOLPROP + f"{ppm} ppm at {celsius} °C, {bars} bar", LIBRARY, COOLPROP_WHY,
    )
    for celsius, bars, ppm in (
        (-85, 90, 0.0076353), (-60, 8, 1.4299), (-40, 8, 16.777), (-40, 101, 2.3618),
        (-20, 10, 107.96), (-70, 50, 0.080674), (20, 10, 2412.9), (20, 100, 320.87),
        (40, 50, 1685.5), (60, 1.01325, 1.98e05),
    )
] + [
    Published(
        f"GAS_DEW_PPM({celsius})", of_ratio(ratio), within, ASHRAE + f"{ratio} at {celsius} °C",
        MEMORY, "digits of the humidity ratio, and a vapour pressure of 1983", reckoned=True,
    )
    for celsius, ratio, within in (
        (-40, 0.0000793, 0.001), (-20, 0.0006373, 0.001), (0, 0.0037895, 0.0005),
        (20, 0.014758, 0.0005), (40, 0.049141, 0.0005), (60, 0.15354, 0.001),
    )
] + [
    Published(
        'GAS_DEW_PPM(-20, "10 bar(a)")', 103.26 * 1.04348, 0.003,
        HARDY + "-20 °C, 1 MPa: 1.04348 (from its formula) on 103.26 Pa over ice", LIBRARY,
        "the formula of 1976 has an older air-water coefficient: 0.21 % less at 1 MPa",
        reckoned=True,
    ),
    Published(
        'GAS_DEW_PPM("230 K", "100 Pa")', 1e6 * 8.94735 / 100, 4e-5,
        "IAPWS R14-08(2011), check value of the sublimation pressure at 230 K: 8.94735 Pa "
        "(the same from `iapws`, _Sublimation_Pressure)",
        MEMORY, "six digits; at 100 Pa the enhancement factor is 1.00003", reckoned=True,
    ),
    Published(
        'GAS_DEW_PPM("300 K", "3.6 kPa")', 1e6 * 3536.58941 / 3600, 0.0001,
        "IAPWS R7-97(2012), check value of the saturation pressure at 300 K, another equation: "
        "0.353658941e-2 MPa",
        MEMORY, "the two equations agree within 0.0025 %; so near to boiling the factor is 1.00006",
        reckoned=True,
    ),
    Published(
        'GAS_DEW_PPM(-40, "1 kPa")', 1e6 * 12.8452 / 1000, 0.0005,
        PSYCHROLIB + "12.8452 Pa at -40 °C", LIBRARY,
        "another equation; the two differ by up to 0.04 %", reckoned=True,
    ),
    Published(
        'GAS_DEW_PPM("240 K", "300 Pa", "water")', 1e6 * 37.667 / 300, 0.0001,
        "D. M. Murphy, T. Koop (2005), check table: 37.667 Pa over liquid water at 240 K", MEMORY,
        "five digits; at 300 Pa the enhancement factor is 1.00008", reckoned=True,
    ),
    Published(
        "GAS_PPM_DEW(7)", -63.3, 0.3, MIL_OXYGEN.says("7 ppm is a dew point of -63.3 °C"),
        READ, "an older conversion; 0.23 °C is 3 % of the moisture", absolute=True,
    ),
    Published(
        'GAS_PPM_DEW(2.36, "101 bar(a)")', -40, 0.02,
        "CoolProp, humid air at -40 °C and 101 bar: 2.36 ppm", LIBRARY, "three digits",
        absolute=True,
    ),
] + [
    Published(
        f'GAS_WORKING("GAS_{call}, "1 kPa")', 12.8452, 0.0005, PSYCHROLIB + "12.8452 Pa at -40 °C",
        LIBRARY, "another equation; the two differ by up to 0.04 %", row=8, column=4,
    )
    for call in ('DEW_PPM", -40', 'PPM_DEW", GAS_DEW_PPM(-40, "1 kPa")')
] + [
    Published(
        f"GAS_PPM_DEW({ppm})", dew_point, 0.1, TABLE, SEEN, TABLE_WHY, absolute=True
    )
    for dew_point, ppm in ((-20, 1019), (-40, 126.8), (-60, 10.68), (-80, 0.5410))
] + [
    Published(
        f'GAS_DEW_SHIFT({dew_point}, "1 atm", "{gauge} bar(g)")', printed, 0.09,
        SHIFT, SEEN, SHIFT_WHY, absolute=True,
    )
    for dew_point, gauge, printed in ((-60, 1, -54.80), (-40, 1, -33.77), (-10, 1, -2.03))
] + [
    Published(
        'GAS_DEW_SHIFT(3, "7 bar(g)", "1 atm", "water")', -23, 0.5,
        "data sheets of compressed-air dryers: a pressure dew point of +3 °C at 7 bar is -23 °C at "
        "atmosphere, over water", MEMORY, "a whole number", absolute=True,
    ),
    Published(
        'GAS_ABSOLUTE_HUMIDITY(20, "1 atm", 20, "water", "air", "g/m3")', 17.3, 0.006,
        "handbook tables: saturated air at 20 °C holds 17.3 g/m3", MEMORY,
        "three digits by Dalton's law; the enhancement factor of air adds 0.4 %",
    ),
    Published(
        'GAS_ABSOLUTE_HUMIDITY(-10, "1 atm", -10, "ice", "air", "g/m3")', 2.14, 0.006,
        "handbook tables: saturated air at -10 °C, over ice, holds 2.14 g/m3", MEMORY,
        "three digits by Dalton's law; the enhancement factor of air adds 0.4 %",
    ),
    Published(
        'GAS_ABSOLUTE_HUMIDITY(-40, "1 kPa", 20, "ice", "air", "mg/m3")',
        1e3 * 216.68 * 0.128452 / 293.15, 0.0005,
        "a = k p_w / T with k = 216.68 g K/(m3 hPa), manual of a humidity instrument; psychrolib's "
        "12.8452 Pa at -40 °C", SEEN, "five digits of k; the vapour pressures differ by 0.04 %",
        reckoned=True,
    ),
    Published(
        'GAS_DEW_PPM(-40, "1 atm", "ice", "air", "ppm(mass)")', 79.3, 0.001,
        ASHRAE + "79.3e-6 at -40 °C", MEMORY, "three digits",
    ),
    Published(
        'GAS_DEW_PPM(GAS_PPM_DEW("7 lb/MMscf", "1 kPa"), "1 kPa")', 147, 0.0035,
        "pipeline practice: 7 lb/MMscf is 147 ppm by volume", MEMORY, "three digits",
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        f"GAS_PPM_DEW(GAS_DEW_PPM({dew_point}, {pressure}), {pressure})", dew_point,
        "dew point to moisture and back",
    )
    for dew_point in (-100, -63.3, -40, -0.3, 0.005, 0.02, 15, 40)
    for pressure in (0.1, 1.01325, 8, 40)
] + [
    Invariant(
        "GAS_PPM_DEW(GAS_DEW_PPM(-149.9))", -149.9, "and from the coldest that is told",
    ),
    Invariant(
        "GAS_DEW_PPM(GAS_PPM_DEW(2.5, 11), 11)", 2.5, "moisture to dew point and back"
    ),
    Invariant(
        'GAS_DEW_SHIFT(GAS_DEW_SHIFT(-40, "7 bar(g)", "1 atm"), "1 atm", "7 bar(g)")', -40,
        "to another pressure and back",
    ),
    Invariant(
        "GAS_DEW_PPM(-30, 4)", "GAS_DEW_PPM(GAS_DEW_SHIFT(-30, 4, 1), 1)",
        "the moisture by volume does not change with the pressure",
    ),
    Invariant(
        'GAS_DEW_PPM(0.01, "620 Pa")', 1e6 * 611.657 / 620,
        "pressure of the triple point of water, 611.657 Pa; the factor is 1.000007", 1e-5,
    ),
    Invariant(
        'GAS_DEW_PPM(5, 20, "ice")', 'GAS_DEW_PPM(5, 20, "water")', "no ice above 0 °C"
    ),
    Invariant(
        'GAS_DEW_SHIFT(-40, 1, 1, "water")', -40, "the same pressure, the same dew point"
    ),
    Invariant(
        'GAS_DEW_PPM(GAS_PPM_DEW("10 ppm(mass)", 8, , "argon"), 8, , "argon", "ppm(mass)")', 10,
        "a share by mass to dew point and back",
    ),
    Invariant(
        'GAS_PPM_DEW("0.005 g/Nm3", 5, "water", "nitrogen")',
        'GAS_PPM_DEW("5 mg/Nm3", 5, "water", "nitrogen")', "a gram has a thousand milligrams",
    ),
    Invariant(
        'GAS_ABSOLUTE_HUMIDITY(-40, "1 atm", 0, "ice", "argon", "mg/m3")',
        'GAS_DEW_PPM(-40, "1 atm", "ice", "argon", "mg/Nm3")',
        "at 0 °C and 1 atm a cubic metre is a normal one",
    ),
    Invariant(
        'GAS_DEW_PPM("99.974 degC", "1 atm")', 1e6,
        "water boils at 1 atm at 99.974 °C, where the vapour is the whole gas (0.0005 °C: 1.8e-5)",
        2e-5,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_DEW_SHIFT(-40, 8, 1, , "helium")', "#NUM!", "factor of helium is not known"),
    Refusal('GAS_DEW_PPM(20, "10 mbar")', "#NUM!", "23.39 mbar that water alone has"),
    Refusal("GAS_DEW_PPM(-200)", "#NUM!", "dew_point"),
    Refusal('GAS_DEW_PPM(-40, "8 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal("GAS_PPM_DEW(0)", "#NUM!", "must be above 0 ppm"),
    Refusal("GAS_PPM_DEW(1E-9)", "#NUM!", "below -150 °C"),
    Refusal("GAS_PPM_DEW(500000, 100)", "#NUM!", "above 100 °C"),
    Refusal('GAS_DEW_SHIFT(30, "10 mbar", 1)', "#NUM!", "pressure_from"),
    Refusal("GAS_DEW_SHIFT(40, 0.1, 100)", "#NUM!", "above 100 °C"),
    Refusal("GAS_DEW_SHIFT(-40, 1, 400)", "#NUM!", "is above 105 bar(a)"),
    Refusal("GAS_DEW_PPM(-100, 101)", "#NUM!", "after the gas is let down"),
    Refusal("GAS_DEW_PPM(-90, 90)", "#NUM!", "the enhancement factor is above 3"),
    Refusal('GAS_DEW_PPM(-40, "2.1 bar(a)", , "helium")', "#NUM!", "is above 2 bar(a)"),
    Refusal('GAS_DEW_PPM(-40, 8, "ice", "helium")', "#NUM!", "factor of helium is not known"),
    Refusal('GAS_PPM_DEW(5, 8, "ice", "carbon dioxide")', "#NUM!", "carbon dioxide"),
    Refusal('GAS_DEW_PPM(-40, 8, "steam")', "#VALUE!", "not one of ice, water"),
    Refusal('GAS_DEW_PPM(-40, 8, , , "mg/m3")', "#VALUE!", "not of moisture; use ppm"),
    Refusal("GAS_ABSOLUTE_HUMIDITY(20, 1, 10)", "#NUM!", "below the dew point"),
    Refusal('GAS_ABSOLUTE_HUMIDITY(-40, "8 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_PPM_DEW(198500, "10 bar(a)", "water")', "#NUM!", "above 100 °C"),
]
