"""Checks of the topic moisture."""

from tests.checks.kinds import LIBRARY, MEMORY, READ, Invariant, Published, Refusal

TABLE = "dew point and ppm by volume at 1 atm, table of a humidity-instrument maker (zonglen.com)"
TABLE_WHY = "three or four digits; an older vapour-pressure equation on a base of 101.3 kPa"
SHIFT = (
    "pressure dew-point table (Sonntag), humidity-instrument maker "
    "(processsensing.com, pressure dew point conversion tables)"
)
SHIFT_WHY = "printed to 0.01 °C, another vapour-pressure equation, no enhancement factor"
PSYCHROLIB = "psychrolib, GetSatVapPres (ASHRAE Handbook Fundamentals 2017): "

PUBLISHED = [
    Published(
        f"GAS_DEW_PPM({dew_point})", ppm, 0.0015, TABLE, READ, TABLE_WHY
    )
    for dew_point, ppm in (
        (-20, 1019), (-30, 375.3), (-40, 126.8), (-42, 100.9), (-50, 38.89), (-60, 10.68),
        (-70, 2.584), (-80, 0.5410),
    )
] + [
    Published(
        'GAS_DEW_PPM("230 K", "100 kPa")', 89.4735, 1e-6,
        "IAPWS R14-08(2011), check value of the sublimation pressure at 230 K: 8.94735 Pa "
        "(the same from `iapws`, _Sublimation_Pressure)",
        MEMORY, "six digits printed",
    ),
    Published(
        'GAS_DEW_PPM("300 K", "100 kPa")', 35365.8941, 0.0001,
        "IAPWS R7-97(2012), check value of the saturation pressure at 300 K, another equation: "
        "0.353658941e-2 MPa",
        MEMORY, "the two equations agree within 0.0025 % from 0 to 100 °C",
    ),
    Published(
        'GAS_DEW_PPM(-40, "100 kPa")', 128.452, 0.0005, PSYCHROLIB + "12.8452 Pa at -40 °C",
        LIBRARY, "another equation; the two differ by up to 0.04 %",
    ),
    Published(
        'GAS_DEW_PPM(20, "100 kPa")', 23388, 0.0005, PSYCHROLIB + "2338.8 Pa at 20 °C",
        LIBRARY, "another equation; the two differ by up to 0.04 %",
    ),
    Published(
        "GAS_PPM_DEW(7)", -63.3, 0.3, "MIL-PRF-27210J: 7 ppm is a dew point of -63.3 °C",
        READ, "an older conversion; 0.23 °C is 3 % of the moisture", absolute=True,
    ),
] + [
    Published(
        f"GAS_PPM_DEW({ppm})", dew_point, 0.02, TABLE, READ, TABLE_WHY, absolute=True
    )
    for dew_point, ppm in ((-20, 1019), (-40, 126.8), (-60, 10.68), (-80, 0.5410))
] + [
    Published(
        f'GAS_DEW_SHIFT({dew_point}, "1 atm", "{gauge} bar(g)")', printed, 0.02,
        SHIFT, READ, SHIFT_WHY, absolute=True,
    )
    for dew_point, gauge, printed in (
        (-80, 10, -64.33), (-70, 10, -52.60), (-60, 1, -54.80), (-60, 5, -45.98),
        (-40, 1, -33.77), (-40, 7, -20.17), (-40, 10, -16.82), (-20, 5, 0.03), (-10, 1, -2.03),
    )
]  # fmt: skip

INVARIANTS = [
    Invariant(
        f"GAS_PPM_DEW(GAS_DEW_PPM({dew_point}, {pressure}), {pressure})", dew_point,
        "dew point to moisture and back",
    )
    for dew_point in (-100, -63.3, -40, -0.3, 0.005, 0.02, 15, 40)
    for pressure in (0.1, 1.01325, 8, 300)
] + [
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
        "GAS_DEW_PPM(0.010009, 10)", "GAS_DEW_PPM(0.010011, 10)",
        "no step where ice melts: 0.000002 °C changes the vapour pressure by 1.6e-7", 2e-7,
    ),
    Invariant(
        "GAS_DEW_PPM(0.01, 10)", 611.657, "pressure of the triple point of water, 611.657 Pa", 1e-6
    ),
    Invariant(
        'GAS_DEW_PPM("99.974 degC", "1 atm")', 1e6,
        "water boils at 1 atm at 99.974 °C, where the vapour is the whole gas (0.0005 °C: 1.8e-5)",
        2e-5,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_DEW_PPM(20, "10 mbar")', "#NUM!", "23.39 mbar that water alone has"),
    Refusal("GAS_DEW_PPM(-200)", "#NUM!", "dew_point"),
    Refusal('GAS_DEW_PPM(-40, "8 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal("GAS_PPM_DEW(0)", "#NUM!", "must be above 0 ppm"),
    Refusal("GAS_PPM_DEW(1E-9)", "#NUM!", "below -150 °C"),
    Refusal("GAS_PPM_DEW(500000, 100)", "#NUM!", "above 100 °C"),
    Refusal('GAS_DEW_SHIFT(30, "10 mbar", 1)', "#NUM!", "pressure_from"),
    Refusal("GAS_DEW_SHIFT(40, 0.1, 300)", "#NUM!", "above 100 °C"),
    Refusal("GAS_DEW_SHIFT(-40, 1, 400)", "#NUM!", "is above 300 bar(a)"),
]
