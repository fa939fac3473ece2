"""Checks of the topic tightness."""

from math import exp

from tests.checks.kinds import LIBRARY, MEMORY, Invariant, Published, Refusal
from tests.checks.rise_verdicts import REFUSED, VERDICTS, WORDS

CFR = (
    "US 40 CFR 1065.644, vacuum-decay leak, example: 2.0000 L, 25.300 to 50.600 kPa, 293.15 K, "
    "70 s: 0.00030 mol/s (answer from memory)"
)
NORRIS_X = (
    "{0.02;33.74;11.82;88.46;1.01;22.65;66.63;99.63;44.86;77.7;55.82;0.04;0.06;77.55;66.69;33.8;44.75;1.16;"
    "55.6;22.81;99.58;88.76;12.02;0.03;0.03;55.68;33.91;88.72;99.9;77.9;1.11;11.83;22.92;66.91;44.89;0.05}"
)
"""A tenth of the printed ones, as hours: a test may last 30 days."""

NORRIS_Y = (
    "{0.1;338.8;118.1;888;9.2;228.1;668.5;998.5;449.1;778.9;559.2;0.3;0.1;778.1;668.8;"
    "339.3;448.9;10.8;557.7;228.3;998;888.8;119.6;0.3;0.6;557.6;339.3;888;998.5;"
    "778.9;10.2;117.6;228.9;668.4;449.2;0.2}"
)
NORRIS = f'GAS_RISE_FIT({NORRIS_X}, {NORRIS_Y}, "0.36 m3")'
CERTIFICATE = (
    "NIST Statistical Reference Datasets, Norris (straight line), in the tests of `scipy`; "
    "certified: "
)


def record(leak: float, outgassing: float, tau: float, hours: list[float]) -> tuple[str, str]:
    """Times in h and pressures in Pa of a rise without scatter, as array constants."""
    pascals = [10 + leak * t + outgassing * tau * (1 - exp(-t / tau)) for t in hours]
    times = ";".join(f"{t:g}" for t in hours)
    return f"{{{times}}}", "{" + ";".join(f'"{p:.12f} Pa"' for p in pascals) + "}"


HOURS = [0.25 * step for step in range(21)]
FELL = (
    "{0;0.5;1;2;3;4;6;8}, "
    '{"0.045 mbar";"0.060 mbar";"0.075 mbar";"0.095 mbar";"0.105 mbar";"0.110 mbar";"0.108 mbar";'
    '"0.104 mbar"}'
)
"""Rises and then falls: no leak and no outgassing does that."""

LONG = ", ".join(record(3.6, 7.2, 1.0, HOURS))
STRAIGHT = ", ".join(record(3.6, 0.0, 1.0, HOURS))
SHORT = ", ".join(record(3.6, 7.2, 100.0, HOURS))

PUBLISHED = [
    Published(
        'GAS_RISE_LEAK("2 L", "25.3 kPa", "50.6 kPa", "70 s", "mol/s")',
        0.0003,
        0.017,
        CFR,
        MEMORY,
        "two digits",
    ),
    Published(
        'GAS_DECAY_LEAK("2 L", "50.6 kPa", 20, "25.3 kPa", 20, "70 s", , "mol/s")',
        0.0003,
        0.017,
        CFR,
        MEMORY,
        "two digits; start and end exchanged, since the pressure falls",
    ),
    Published(
        'GAS_RISE_VERDICT({"0 s";"70 s"}, {"25.3 kPa";"50.6 kPa"}, "2 L", 10, "±0.1 kPa")',
        0.00030 * 8.314462618 * 293.15 * 10,
        0.017,
        CFR + " as mbar·L/s at 293.15 K",
        MEMORY,
        "two digits",
        row=1,
        column=0,
        reckoned=True,
    ),
    Published(
        'GAS_DECAY_VERDICT("2 L", "50.6 kPa", 20, "25.3 kPa", 20, "70 s", 9, , "u 1 Pa", "u 1 K")',
        0.00030 * 8.314462618 * 293.15 * 10,
        0.017,
        CFR + " as mbar·L/s at 293.15 K; start and end exchanged",
        MEMORY,
        "two digits",
        row=1,
        column=0,
        reckoned=True,
    ),
    Published(
        'GAS_RISE_RATE("0.00030 mol/s", "2 L", "Pa/s")',
        25300 / 70,
        0.017,
        CFR,
        MEMORY,
        "the answer has two digits",
        reckoned=True,
    ),
    Published(
        NORRIS,
        1.00211681802045 * 1000,
        1e-09,
        CERTIFICATE
        + "slope 1.00211681802045 (bar/h in 3.6 m3 are 1000 mbar·L/s; times and volume a tenth)",
        LIBRARY,
        "certified to 15 digits",
        row=1,
        column=1,
        reckoned=True,
    ),
    Published(
        NORRIS,
        0.429796848199937,
        1e-08,
        CERTIFICATE + "standard deviation of the slope 0.429796848199937e-3",
        LIBRARY,
        "certified to 15 digits",
        row=1,
        column=2,
    ),
    Published(
        f"GAS_RISE_CURVE({NORRIS_X}, {NORRIS_Y})",
        1.00211681802045 * (999.0 - 0.2) * 1000,
        1e-09,
        CERTIFICATE + "slope 1.00211681802045",
        LIBRARY,
        "the straight part from the first time to the last",
        row=36,
        column=3,
        reckoned=True,
    ),
    Published(
        f"GAS_RISE_CURVE({NORRIS_X}, {NORRIS_Y})",
        (-0.262323073774029 + 1.00211681802045 * 0.2) * 1000,
        1e-08,
        CERTIFICATE + "intercept -0.262323073774029, slope 1.00211681802045",
        LIBRARY,
        "the line at the first time; certified to 15 digits",
        row=1,
        column=2,
        reckoned=True,
    ),
]

INVARIANTS = [
    *WORDS,
    *VERDICTS,
    Invariant(
        'GAS_RISE_CURVE({46000;46001;46002;46003;46004;46006}, {1;2;3;4;5;7}, "dates")',
        144,
        "six days are 144 hours",
        row=6,
        column=0,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 19.8, 13.487, 19.7, 48, 6, "N2", "±20 mbar", "±0.5 K")',
        'GAS_DECAY_LEAK(40, 13.5, 19.8, 13.487, 19.7, 48, "N2")',
        "the leak that is judged is that of the gas",
        row=1,
        column=0,
    ),
    Invariant(
        'GAS_DECAY_LEAK(1, 201, 20, 180, 18, "1 s", "argon", "mol/s")',
        'GAS_DRAWN("argon", 1, 201, 180, 20, 18, "mol")',
        "what leaks is what is gone",
    ),
    Invariant(
        'GAS_DECAY_LEAK(2.5, 8, 20, 7.5, 21, 12, "helium")',
        "GAS_DECAY_LEAK(2.5, 8, 20, 7.5, 21, 12)",
        "helium at a few bar is nearly ideal",
        within=0.01,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 20, 13.4, 20, 48, 60, , "±10 mbar", "±1e-9 K")',
        40e3 / 172800 * (100 - 1.959964 * 10 * (2 / 3) ** 0.5),
        "at one temperature: the difference of two rectangular readings, first order",
        within=1e-5,
        row=1,
        column=1,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 20, 13.4, 20, 48, 60, , "±1e-9 mbar", "±0.5 K")',
        40e3 / 172800 * (100 + 1.959964 * 0.5 * ((13500**2 + 13400**2) / 3) ** 0.5 / 293.15),
        "half a kelvin of each temperature is 23 mbar",
        within=1e-5,
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 20, 13.4, 20, 48, 60, , "±1 %", "±1e-9 K")',
        40e3 / 172800 * 100 * 3.29 * 0.01 / 3**0.5,
        "a share of the reading is the gauge's scale and counts for the difference alone",
        within=1e-5,
        row=1,
        column=3,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 19.8, 13.487, 19.7, 48, 6, "N2", "±20 mbar", "±0.5 K")',
        "cannot tell",
        "1.9 of 6 with a band of ±11.6",
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 20, 13.6, 20, 48, 6, , "±20 mbar", "±0.5 K")',
        "repeat",
        "a vessel does not gain gas by leaking",
        row=1,
        column=4,
    ),
    Invariant(
        "GAS_DECAY_VERDICT(40, 13.5, 20, 13.5, 20, 48, 6)",
        "cannot tell",
        "nobody says how good the readings are",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({FELL}, 12, "1 mbar L/s")',
        "repeat",
        "a pressure that falls again is no test, however large the limit",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({LONG}, 1, "0.02 mbar L/s")',
        "tight",
        "a leak of 0.01 told apart, half of the limit",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({LONG}, 1, "18 Pa/h")',
        f'GAS_RISE_VERDICT({LONG}, 1, "0.05 mbar L/s")',
        "18 Pa/h in 1 m³ is 0.05 mbar·L/s",
        row=1,
        column=2,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({LONG}, 1, "1.8 Pa/h")',
        "leaks",
        "a leak of 3.6 Pa/h told apart, twice the limit",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({STRAIGHT}, 1, "0.005 mbar L/s")',
        "cannot tell",
        "a straight rise above the limit may be outgassing alone",
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, "2 Pa/h")',
        "cannot tell",
        "two readings of which nobody says how good they are",
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, "3 Pa/h", "±0.6 Pa")',
        1 / 360 + 1.96 * (0.6 / 3**0.5) * 2**0.5 / 360,
        "the difference of two readings, each rectangular within 0.6 Pa",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, "3 Pa/h", "±0.6 Pa", "±10 K")',
        1 / 360 + 1.96 * (0.12 * 2 + (1.5 * 10 / 293.15) ** 2 / 3) ** 0.5 / 360,
        "a temperature that moved by up to 10 K lifts 1.5 Pa by up to 0.05 Pa",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_RISE_VERDICT({"2026-05-01 12:00";"2026-05-01 18:00"}, {"1 Pa";"2 Pa"}, 1, 1, "±1 Pa")',
        'GAS_RISE_VERDICT({46143.5;46143.75}, {"1 Pa";"2 Pa"}, 1, 1, "±1 Pa", , "dates")',
        "a date told as text or as the spreadsheet's serial number",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_RISE_FIT({46000;46001;46002;46003;46004;46006}, {1;2;3;4;5;7}, 1, "dates")',
        "GAS_RISE_FIT({0;24;48;72;96;144}, {1;2;3;4;5;7}, 1)",
        "dates count in days",
        within=1e-9,
        row=1,
        column=1,
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
        'GAS_DECAY_LEAK(2.5, 8, "300 K", 4, "150 K", 1, , "mbar L/s")',
        0,
        "cooling alone is no leak",
    ),
    Invariant(
        'GAS_DECAY_LEAK(2.5, 8, "300 K", 8, "330 K", 1)',
        505.0505050505055,
        "warming hides a leak: 8 bar at 330 K is 7.27 bar at 300 K",
    ),
    Invariant(
        'GAS_DECAY_VERDICT("2 L", "50.6 kPa", 20, "50.59 kPa", 20, "70 s", 9, , "u 1 Pa", '
        '"u 0.001 K")',
        "tight",
        "a leak of a thousandth of the limit",
        row=1,
        column=4,
    ),
    Invariant(
        f"GAS_RISE_FIT({LONG}, 1)",
        1.0,
        "each model's time constant, of a record made with 1 h",
        1e-3,
        row=5,
        column=3,
    ),
]

REFUSALS = [
    *REFUSED,
    Refusal("GAS_DECAY_LEAK(1, 201, 20, 200, 19, 12)", "#NUM!", "name the gas"),
    Refusal("GAS_DECAY_VERDICT(1, 201, 20, 200, 19, 12, 1)", "#NUM!", "name the gas"),
    Refusal('GAS_DECAY_VERDICT(1, 8, 20, 7, 20, 1, "1 bar")', "#VALUE!", "a rate of rise"),
    Refusal("GAS_DECAY_VERDICT(1, 8, 20, 7, 20, 1, 1, , 0.1)", "#VALUE!", "is a bare number"),
    Refusal("GAS_RISE_VERDICT({0}, {1}, 1, 1)", "#NUM!", "at least 2 readings"),
    Refusal('GAS_RISE_VERDICT({0;1}, {1;2}, 1, "1 bar")', "#VALUE!", "a rate of rise"),
    Refusal("GAS_RISE_VERDICT({0;1}, {1;2}, 1, 1, 2)", "#VALUE!", "is a bare number"),
    Refusal('GAS_RISE_VERDICT({0;1}, {1;2}, 1, 1, "1 kg")', "#VALUE!", "mass"),
    Refusal('GAS_RISE_VERDICT({0;1}, {1;2}, 1, 1, "-1 Pa")', "#NUM!", "below zero"),
    Refusal('GAS_RISE_VERDICT({0;1}, {1;2}, 1, 1, , "1 %")', "#VALUE!", "counted from"),
    Refusal("GAS_RISE_VERDICT({46000;46001}, {1;2}, 1, 1)", "#NUM!", "look like dates"),
    Refusal("GAS_RISE_VERDICT({0;1000}, {1;2}, 1, 1)", "#NUM!", "span 41.67 days"),
    Refusal('GAS_RISE_VERDICT({"2026-05-01";1}, {1;2}, 1, 1)', "#NUM!", "dates and bare numbers"),
    Refusal('GAS_RISE_LEAK(1, "10 Pa", "1 Pa", 1)', "#NUM!", "are the two swapped"),
    Refusal('GAS_RISE_LEAK(1, "1 Pa", "10 Pa", 0)', "#NUM!", "above 0"),
    Refusal("GAS_RISE_RATE(1, 0)", "#NUM!", "above 0"),
    Refusal('GAS_RISE_RATE("1 mbar", 1)', "#VALUE!", "leak rate"),
    Refusal("GAS_RISE_FIT({0;1;2;3;4}, {1;2;3;4;5}, 1)", "#NUM!", "at least 6 readings"),
    Refusal("GAS_RISE_FIT({0;1;2;3;4;5;6}, {1;2;3;4;5;6}, 1)", "#NUM!", "same size"),
    Refusal('GAS_RISE_FIT({0;1;2;3;4;5;6}, {1;2;"";4;5;6;7}, 1)', "#NUM!", "blank cell"),
    Refusal('GAS_RISE_FIT({0;1;2;3;4;5;6}, {1;2;"3 h";4;5;6;7}, 1)', "#VALUE!", "item 3"),
    Refusal("GAS_RISE_CURVE({0;1;1;1;1;1;1}, {1;2;3;4;5;6;7})", "#NUM!", "different times"),
    Refusal('GAS_DECAY_LEAK(1, "8 bar", 20, 7, 20, 1)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal("GAS_DECAY_LEAK(1, 8, 20, 7, 20, 0)", "#NUM!", "above 0"),
]
