"""Checks of the topic leak."""

from math import exp

from tests.checks.kinds import MEMORY, PRACTICE, READ, Invariant, Published, Refusal

TABLE = "Leak-rate conversion table of a leak-testing company, 0 °C, 1013 mbar: "
FACTORS = "Leak tester's operating manual, appendix 10 (the numbers of EN 1779): helium to "
CFR = (
    "US 40 CFR 1065.644, vacuum-decay leak, example: 2.0000 L, 25.300 to 50.600 kPa, 293.15 K, "
    "70 s: 0.00030 mol/s (answer from memory)"
)
DUTY = "Ultrasonic-instrument maker's questions and answers: 0.01 mbar·L/s of air is "
NEWSLETTER = "Vacuum-instrument maker's newsletter, winter 2008: "
ORIFICES = "Discharge of air through an orifice, table (coefficient 1, 14.7 psia, 70 °F): "

NORRIS_X = (
    "{0.2;337.4;118.2;884.6;10.1;226.5;666.3;996.3;448.6;777;558.2;0.4;0.6;775.5;"
    "666.9;338;447.5;11.6;556;228.1;995.8;887.6;120.2;0.3;0.3;556.8;339.1;887.2;999;"
    "779;11.1;118.3;229.2;669.1;448.9;0.5}"
)
NORRIS_Y = (
    "{0.1;338.8;118.1;888;9.2;228.1;668.5;998.5;449.1;778.9;559.2;0.3;0.1;778.1;668.8;"
    "339.3;448.9;10.8;557.7;228.3;998;888.8;119.6;0.3;0.6;557.6;339.3;888;998.5;"
    "778.9;10.2;117.6;228.9;668.4;449.2;0.2}"
)
NORRIS = f'GAS_RISE_FIT({NORRIS_X}, {NORRIS_Y}, "3.6 m3")'
CERTIFICATE = "NIST Statistical Reference Datasets, Norris (straight line), certified: "


def record(leak: float, outgassing: float, tau: float, hours: list[float]) -> tuple[str, str]:
    """Times in h and pressures in Pa of a rise without scatter, as array constants."""
    pascals = [10 + leak * t + outgassing * tau * (1 - exp(-t / tau)) for t in hours]
    times = ";".join(f"{t:g}" for t in hours)
    return f"{{{times}}}", "{" + ";".join(f'"{p:.12f} Pa"' for p in pascals) + "}"


HOURS = [0.25 * step for step in range(21)]
LONG = ", ".join(record(3.6, 7.2, 1.0, HOURS))
STRAIGHT = ", ".join(record(3.6, 0.0, 1.0, HOURS))
SHORT = ", ".join(record(3.6, 7.2, 100.0, HOURS))

PUBLISHED = [
    Published(
        'GAS_LEAK_CONVERT(1, "mbar L/s", "std cc/s", , 0)',
        0.987,
        0.002,
        TABLE + "1 mbar·L/s is 0.987 cm3/s",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "mbar L/s", "sccm", , 0)',
        59.2,
        0.002,
        TABLE + "1 mbar·L/s is 59.2 cm3/min",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "mbar L/s", "Pa L/s")',
        100,
        1e-09,
        TABLE + "1 mbar·L/s is 100 Pa·L/s",
        READ,
        "exact",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "mbar L/s", "torr L/s")',
        0.75,
        0.002,
        TABLE + "1 mbar·L/s is 0.75 torr·L/s",
        READ,
        "two digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "torr L/s", "mbar L/s")',
        1.33,
        0.003,
        TABLE + "1 torr·L/s is 1.33 mbar·L/s",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "torr L/s", "sccm", , 0)',
        79,
        0.005,
        TABLE + "1 torr·L/s is 79 cm3/min",
        READ,
        "two digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "sccm", "mbar L/s", , 0)',
        0.0169,
        0.003,
        TABLE + "1 cm3/min is 0.0169 mbar·L/s",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "lusec", "Pa m3/s")',
        0.0001333,
        0.0005,
        "The lusec, a litre a second at a micron of mercury: 1.333e-4 Pa·m3/s",
        MEMORY,
        "four digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "Pa m3/s", "atm cc/s")',
        9.87,
        0.0005,
        "Leak-rate conversion sheet: 1 Pa·m3/s is 9.87 atm·cc/s",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(1, "atm cc/s", "mbar L/s")',
        1.013,
        0.0005,
        "Leak-rate conversion sheet: 1 atm·cc/s is 1.013 mbar·L/s",
        READ,
        "four digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(0.0001, "Pa m3/s", "std cc/s", , 0)',
        0.001,
        0.02,
        "ASNT Nondestructive Testing Handbook, vol. 1, 1998: 1e-4 Pa·m3/s is about 1e-3 std cc/s",
        READ,
        "printed as about",
    ),
    Published(
        'GAS_LEAK_CONVERT(0.01, "mbar L/s", "g/yr", "air")',
        375,
        0.005,
        DUTY + "3.75e2 g a year (at 20 °C)",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_CONVERT(0.01, "mbar L/s", "kg/h", "air")',
        4.3e-05,
        0.012,
        DUTY + "4.3e-5 kg/h (at 20 °C)",
        READ,
        "two digits",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "argon", "laminar")',
        0.883,
        0.005,
        FACTORS + "argon, viscous: 0.883",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "argon", "molecular")',
        0.316,
        0.012,
        FACTORS + "argon, molecular: 0.316",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "hydrogen", "laminar")',
        2.23,
        0.005,
        FACTORS + "hydrogen, viscous: 2.23",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "hydrogen", "molecular")',
        1.41,
        0.012,
        FACTORS + "hydrogen, molecular: 1.41",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "nitrogen", "laminar")',
        1.12,
        0.005,
        FACTORS + "nitrogen, viscous: 1.12",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "nitrogen", "molecular")',
        0.374,
        0.012,
        FACTORS + "nitrogen, molecular: 0.374",
        READ,
        "nitrogen and air are lumped together in print",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "air", "laminar")',
        1.08,
        0.005,
        FACTORS + "air, viscous: 1.08",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_AS("1 mbar L/s", "helium", "air", "molecular")',
        0.374,
        0.012,
        FACTORS + "air, molecular: 0.374",
        READ,
        "nitrogen and air are lumped together in print",
    ),
    Published(
        'GAS_LEAK_AS("0.004 atm cc/s", "helium", "air", , , "atm cc/s")',
        0.0043,
        0.012,
        FACTORS + "air, example: 0.004 atm·cc/s is 0.0043, a viscous leak by its size",
        READ,
        "two digits",
    ),
    Published(
        'GAS_RISE_LEAK("2 L", "25.3 kPa", "50.6 kPa", "70 s", "mol/s")',
        0.0003,
        0.017,
        CFR,
        MEMORY,
        "two digits",
    ),
    Published(
        'GAS_DECAY_LEAK("2 L", "50.6 kPa", 20, "25.3 kPa", 20, "70 s", "mol/s")',
        0.0003,
        0.017,
        CFR,
        MEMORY,
        "two digits; start and end exchanged, since the pressure falls",
    ),
    Published(
        'GAS_RISE_RATE("0.00030 mol/s", "2 L", "Pa/s")',
        25300 / 70,
        0.017,
        CFR,
        MEMORY,
        "the answer has two digits",
    ),
    Published(
        NORRIS,
        1.00211681802045 * 1000,
        1e-09,
        CERTIFICATE + "slope 1.00211681802045 (bar/h in 3.6 m3 are 1000 mbar·L/s)",
        READ,
        "certified to 15 digits",
        row=1,
        column=1,
    ),
    Published(
        NORRIS,
        0.429796848199937,
        1e-08,
        CERTIFICATE + "standard deviation of the slope 0.429796848199937e-3",
        READ,
        "certified to 15 digits",
        row=1,
        column=2,
    ),
    Published(
        f"GAS_RISE_CURVE({NORRIS_X}, {NORRIS_Y})",
        1.00211681802045 * (999.0 - 0.2) * 1000,
        1e-09,
        CERTIFICATE + "slope 1.00211681802045",
        READ,
        "the straight part from the first time to the last",
        row=36,
        column=3,
    ),
    Published(
        'GAS_LEAK_LOSS("0.01 mbar L/s", "365.25 d")',
        375 / 1293,
        0.005,
        DUTY + "3.75e2 g a year (at 20 °C); 1.293 kg/Nm3",
        READ,
        "three digits",
    ),
    Published(
        'GAS_LEAK_IMPURITY("1.0733e-4 mbar L/s", "300 sccm", 1)',
        20,
        0.015,
        NEWSLETTER + "1e-4 mbar·L/s of air in 300 sccm, taken as 5 mbar·L/s (0 °C), is 20 ppm",
        READ,
        "the print rounds 5.066 to 5; 293.15/273.15 puts the leak at 20 °C",
    ),
    Published(
        'GAS_LEAK_LIMIT(20, "300 sccm", 1)',
        0.00010733,
        0.015,
        NEWSLETTER + "20 ppm in 300 sccm, taken as 5 mbar·L/s (0 °C), is 1e-4 mbar·L/s of air",
        READ,
        "the print rounds 5.066 to 5; 293.15/273.15 puts the leak at 20 °C",
    ),
    Published(
        'GAS_LEAK_BUILDUP("1e-4 mbar L/s", "1 L", "5 mbar", "1 s", 1)',
        20,
        0.0001,
        NEWSLETTER + "1e-4 in 5 mbar·L/s is 20 ppm; here in a second of it, held by a vessel",
        READ,
        "the air itself adds 2e-5 to the gas",
    ),
    Published(
        'GAS_LEAK_HOLE("194.20 mbar L/s", "air", "100 psig", "1 atm", "70 degF", 0)',
        396.9,
        0.005,
        ORIFICES + "1/64 in, 100 psig: 0.406 ft3/min, which are 194.20 mbar·L/s",
        READ,
        "three digits, of a flow that goes with the square",
    ),
    Published(
        'GAS_LEAK_HOLE("774.9 mbar L/s", "air", "100 psig", "1 atm", "70 degF", 0)',
        793.8,
        0.005,
        ORIFICES + "1/32 in, 100 psig: 1.62 ft3/min, which are 774.9 mbar·L/s",
        READ,
        "three digits, of a flow that goes with the square",
    ),
    Published(
        'GAS_LEAK_HOLE("75.57 mbar L/s", "air", "30 psig", "1 atm", "70 degF", 0)',
        396.9,
        0.005,
        ORIFICES + "1/64 in, 30 psig: 0.158 ft3/min, which are 75.57 mbar·L/s",
        READ,
        "three digits, of a flow that goes with the square",
    ),
    Published(
        'GAS_LEAK_HOLE("1 mbar L/s", "air", "2 bar(a)", 1, , 1)',
        100,
        0.5,
        "Leak-testing companies: a hole of 0.1 mm leaks about 1 mbar·L/s at 1 bar",
        PRACTICE,
        "an order of magnitude",
    ),
]

INVARIANTS = [
    Invariant(
        'GAS_LEAK_CONVERT(GAS_LEAK_CONVERT(3, "lusec", "g/yr", "N2"), "g/yr", "lusec", "N2")',
        3.0,
        "there and back",
    ),
    Invariant(
        'GAS_LEAK_CONVERT(1, "std cc/s", "mol/s", , 100)',
        'GAS_LEAK_CONVERT(1, "std cc/s", "mol/s", , 0)',
        "an amount does not depend on the temperature",
    ),
    Invariant(
        'GAS_LEAK_CONVERT(1, "mbar L/s", "mol/s", , 20)',
        4.102758145827827e-05,
        "q / (R T)",
    ),
    Invariant(
        'GAS_LEAK_CONVERT(1, "mbar L/s", "torr L/s", , 300)',
        'GAS_LEAK_CONVERT(1, "mbar L/s", "torr L/s")',
        "between products of pressure and volume the temperature drops out",
    ),
    Invariant(
        'GAS_LEAK_CONVERT(60, "sccm", "std cc/s")',
        1.0,
        "a minute has 60 s",
    ),
    Invariant(
        'GAS_LEAK_CONVERT(1, "micron ft3/h", "lusec")',
        0.00786579072,
        "1 ft3/h is 28.316846592 L in 3600 s",
    ),
    Invariant(
        'GAS_LEAK_AS("3e-6 mbar L/s", "helium", "argon")',
        'GAS_LEAK_AS("3e-6 mbar L/s", "helium", "argon", "molecular")',
        "auto takes a small leak as molecular",
    ),
    Invariant(
        'GAS_LEAK_AS("3e-4 mbar L/s", "helium", "argon")',
        'GAS_LEAK_AS("3e-4 mbar L/s", "helium", "argon", "laminar")',
        "auto takes a large leak as laminar",
    ),
    Invariant(
        'GAS_LEAK_AS(GAS_LEAK_AS(1, "helium", "argon", "laminar"), "argon", "helium", "laminar")',
        1.0,
        "there and back",
    ),
    Invariant(
        'GAS_LEAK_AS(1, "argon", "argon")',
        1.0,
        "the same gas",
    ),
    Invariant(
        'GAS_RISE_RATE(GAS_RISE_LEAK(2.5, "1 Pa", "3 Pa", 4), 2.5, "Pa/s")',
        0.0001388888888888889,
        "leak and rise rate undo each other",
    ),
    Invariant(
        'GAS_RISE_LEAK(1, "1e-5 Pa", "3e-5 Pa", "1 s")',
        0.0002,
        "deep in vacuum: 2e-5 Pa in 1 m³ and 1 s",
    ),
    Invariant(
        f"GAS_RISE_FIT({LONG}, 1)",
        0.01,
        "a leak of 3.6 Pa/h in 1 m³ is 0.01 mbar·L/s, found again",
        within=1e-06,
        row=1,
        column=1,
    ),
    Invariant(
        f"GAS_RISE_FIT({LONG}, 1)",
        0.02,
        "outgassing of 7.2 Pa/h at the start, found again",
        within=1e-06,
        row=2,
        column=1,
    ),
    Invariant(
        f"GAS_RISE_FIT({LONG}, 1)",
        1.0,
        "its time constant, found again",
        within=1e-06,
        row=2,
        column=3,
    ),
    Invariant(
        f"GAS_RISE_FIT({LONG}, 1)",
        0.00013475893998170934,
        "what is left of it after five time constants",
        within=1e-05,
        row=3,
        column=1,
    ),
    Invariant(
        f"GAS_RISE_FIT({STRAIGHT}, 1)",
        0.01,
        "a straight rise is given whole, as an upper bound",
        within=1e-09,
        row=1,
        column=1,
    ),
    Invariant(
        f"GAS_RISE_CURVE({LONG})",
        0.3515148678160659,
        "without scatter the curve goes through the readings",
        within=1e-09,
        row=21,
        column=2,
    ),
    Invariant(
        f"GAS_RISE_CURVE({LONG})",
        0.18,
        "the straight part after 5 h at 3.6 Pa/h",
        within=1e-06,
        row=21,
        column=3,
    ),
    Invariant(
        "GAS_DECAY_LEAK(2.5, 8, 20, 7.5, 20, 1)",
        "GAS_RISE_LEAK(2.5, 7.5, 8, 1)",
        "at one temperature it is a rise test backwards",
    ),
    Invariant(
        'GAS_DECAY_LEAK(2.5, 8, "300 K", 4, "150 K", 1, "mbar L/s")',
        0,
        "cooling alone is no leak",
    ),
    Invariant(
        'GAS_DECAY_LEAK(2.5, 8, "300 K", 8, "330 K", 1)',
        505.0505050505055,
        "warming hides a leak: 8 bar at 330 K is 7.27 bar at 300 K",
    ),
    Invariant(
        'GAS_LEAK_LOSS("1 mbar L/s", "1 h", 20, "mol")',
        0.14769929324980174,
        "q t / (R T)",
    ),
    Invariant(
        "GAS_LEAK_IMPURITY(GAS_LEAK_LIMIT(7, 12), 12)",
        7.0,
        "limit and impurity undo each other",
    ),
    Invariant(
        'GAS_LEAK_IMPURITY("1e9 mbar L/s", 1, 1, "%")',
        100,
        "an endless leak is all there is",
        within=0.0001,
    ),
    Invariant(
        "GAS_LEAK_LIMIT(0, 12)",
        0,
        "no impurity, no leak",
    ),
    Invariant(
        'GAS_LEAK_BUILDUP(GAS_RISE_LEAK(2, "1 kPa", "1.5 kPa", 3), 2, "1 kPa", 3, 1)',
        333333.3333333333,
        "air that raises 1 kPa to 1.5 kPa is a third of the gas",
    ),
    Invariant(
        'GAS_LEAK_BUILDUP("0.01 mbar L/s", 2, 0, 3)',
        209500,
        "into a perfect vacuum only air comes",
    ),
    Invariant(
        'GAS_LEAK_HOLE("16 mbar L/s", "argon", 3, 0, 20, "1 m")',
        'GAS_LEAK_HOLE("16 mbar L/s", "argon", 6, 0, 20, "4 m")',
        "a capillary passes by the difference of the squares over its length",
    ),
    Invariant(
        'GAS_LEAK_HOLE("1e-3 mbar L/s", "argon", 2, 1, , 1)',
        'GAS_LEAK_HOLE("2.5e-4 mbar L/s", "argon", 2, 1, , 4)',
        "in a capillary flow times length counts",
    ),
    Invariant(
        'GAS_LEAK_HOLE("100 mbar L/s", "argon", 8, 0, , 0)',
        'GAS_LEAK_HOLE("100 mbar L/s", "argon", 8, 3.5, , 0)',
        "choked: the pressure behind the orifice does not count",
    ),
    Invariant(
        'GAS_LEAK_HOLE("0 mbar L/s", "argon", 8, 1)',
        0,
        "no leak, no hole",
    ),
]

REFUSALS = [
    Refusal('GAS_LEAK_CONVERT(1, "g/yr", "mbar L/s")', "#VALUE!", "name the gas"),
    Refusal('GAS_LEAK_CONVERT(1, "mbar L/s", "m3/h")', "#VALUE!", "volume flow"),
    Refusal('GAS_LEAK_CONVERT(1, "mbar", "Pa m3/s")', "#VALUE!", "from_unit"),
    Refusal('GAS_LEAK_AS(1, "helium", "argon", "turbulent")', "#VALUE!", "molecular"),
    Refusal('GAS_LEAK_AS(-1, "helium", "argon")', "#NUM!", "below 0"),
    Refusal('GAS_RISE_LEAK(1, "10 Pa", "1 Pa", 1)', "#NUM!", "are the two swapped"),
    Refusal('GAS_RISE_LEAK(1, "1 Pa", "10 Pa", 0)', "#NUM!", "above 0"),
    Refusal("GAS_RISE_RATE(1, 0)", "#NUM!", "above 0"),
    Refusal('GAS_RISE_RATE("1 mbar", 1)', "#VALUE!", "leak rate"),
    Refusal("GAS_RISE_FIT({0;1;2;3;4}, {1;2;3;4;5}, 1)", "#NUM!", "6 readings or more"),
    Refusal("GAS_RISE_FIT({0;1;2;3;4;5;6}, {1;2;3;4;5;6}, 1)", "#NUM!", "same size"),
    Refusal('GAS_RISE_FIT({0;1;2;3;4;5;6}, {1;2;"";4;5;6;7}, 1)', "#NUM!", "blank cell"),
    Refusal('GAS_RISE_FIT({0;1;2;3;4;5;6}, {1;2;"3 h";4;5;6;7}, 1)', "#VALUE!", "item 3"),
    Refusal("GAS_RISE_CURVE({0;1;1;1;1;1;1}, {1;2;3;4;5;6;7})", "#NUM!", "different times"),
    Refusal('GAS_DECAY_LEAK(1, "8 bar", 20, 7, 20, 1)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal("GAS_DECAY_LEAK(1, 8, 20, 7, 20, 0)", "#NUM!", "above 0"),
    Refusal("GAS_LEAK_LOSS(-1, 1)", "#NUM!", "below 0"),
    Refusal("GAS_LEAK_IMPURITY(1, 0)", "#NUM!", "GAS_LEAK_BUILDUP"),
    Refusal("GAS_LEAK_IMPURITY(1, 10, 20.95)", "#NUM!", "as a share"),
    Refusal('GAS_LEAK_LIMIT("21 %", 10)', "#NUM!", "is the unit right"),
    Refusal("GAS_LEAK_BUILDUP(0, 1, 0, 1)", "#NUM!", "no gas to be impure"),
    Refusal('GAS_LEAK_HOLE(1, "argon", 1, 8)', "#NUM!", "are the two swapped"),
    Refusal('GAS_LEAK_HOLE("1e-10 mbar L/s", "helium", 1, 0)', "#NUM!", "one by one"),
    Refusal('GAS_LEAK_HOLE(1, "carbon dioxide", 80, 1)', "#NUM!", "liquid"),
]
