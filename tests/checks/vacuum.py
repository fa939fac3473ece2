"""Checks of the topic vacuum."""

import math

from tests.checks.kinds import MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import LEVENSPIEL, UMRATH

KNUDSEN = "Knudsen's formula for air at 20 °C with the constants 135, 12.1, 192 and 237: 4 cm, 1 m"
COLE = (
    "R. J. Cole, Progress in Astronautics 51 (1977) 261: transmission of a tube of this length in "
    "bores; an opening passes 11.6 L/s of air for a cm2 (Fundamentals of Vacuum Technology, 2016)"
)


def knudsen(diameter: float, length: float, pressure: float) -> float:
    """L/s of air at 20 °C by the printed formula: cm and mbar."""
    molecular = 12.1 * (1 + 192 * diameter * pressure) / (1 + 237 * diameter * pressure)
    return (135 * diameter**4 * pressure + molecular * diameter**3) / length


OPENING = 11.2838
"""mm: a bore of 1 cm2."""

PUBLISHED = [
    Published(
        'GAS_LINE_CONDUCTANCE("air", 40, 1, "0.01 Pa", 20, "left out")',
        knudsen(4, 100, 1e-4),
        0.005,
        UMRATH.says(KNUDSEN + ", 0.01 Pa"),
        READ,
        "constants of three digits", reckoned=True,
    ),
    Published(
        'GAS_LINE_CONDUCTANCE("air", 40, 1, "10 Pa", 20, "left out")',
        knudsen(4, 100, 0.1),
        0.005,
        UMRATH.says(KNUDSEN + ", 10 Pa"),
        READ,
        "constants of three digits", reckoned=True,
    ),
    Published(
        'GAS_LINE_CONDUCTANCE("air", 40, 1, "1000 Pa", 20, "left out")',
        knudsen(4, 100, 10),
        0.005,
        UMRATH.says(KNUDSEN + ", 1000 Pa"),
        READ,
        "constants of three digits", reckoned=True,
    ),
    Published(
        'GAS_LINE_CONDUCTANCE("nitrogen", 70, 2.47, 0, 20, "left out")',
        17.123,
        0.002,
        "A vacuum textbook of the trade: 0.07 m x 2.47 m, molecular, mean speed 471 m/s: "
        "0.017123 m3/s",
        SEEN,
        "471 m/s is nitrogen at 20 °C, to three digits",
    ),
    Published(
        'GAS_LINE_CONDUCTANCE("air", 100, 9.8859, 0, 20, "left out")',
        1000 / 81.5,
        0.003,
        LEVENSPIEL.says(
            "a line of 0.1 m in molecular flow resists with 81.5 s/m3 = 121.3 d3/L (L = 9.886 m)"
        ),
        READ,
        "three digits", reckoned=True,
    ),
    Published(
        'GAS_PUMPDOWN_TIME("750 ft3", "405 cfm", "760 torr", "150 torr", 0, , , , "min")',
        3.0,
        0.005,
        "Vacuum-pump maker's technical data, evacuation of a closed vessel: 750 ft3, 405 acfm, "
        "760 to 150 torr: 3 min",
        SEEN,
        "its logarithm is rounded to 1.62",
    ),
    Published(
        'GAS_PUMPDOWN_TIME("50 L", "1.4 L/s", "760 torr", "0.1 torr", 0, , , , "s")',
        320,
        0.005,
        "Electron-microscopy text, worked example: 50 L, 1.4 L/s, 760 to 0.1 torr: about 320 s",
        SEEN,
        "printed as about, two digits",
    ),
] + [
    Published(
        f'GAS_LINE_CONDUCTANCE("air", {OPENING}, {bores * OPENING / 1000}, 0, 20)',
        11.6 * share, 0.005, COLE, MEMORY, "three digits of 11.6; Berman is within 0.15 %",
        reckoned=True,
    )
    for bores, share in (
        (0, 1), (0.5, 0.671984), (1, 0.514231), (2, 0.356572), (5, 0.190941), (10, 0.109304),
        (50, 0.025258),
    )
] + [
    Published(
        f'GAS_PUMPDOWN_TIME("6 ft3", "4 cfm", "30 inHg(a)", "{inches} inHg(a)", 0, , , , "min")',
        minutes, 0.005,
        "a text on process calculations, example 14.6: 6 ft3, 4 cfm, 30 inHg to "
        f"{inches} inHg: {minutes} min", SEEN, "three digits", absolute=True,
    )
    for inches, minutes in ((6, 2.41), (0.5, 6.14))
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_PUMPDOWN_TIME("500 L", 360, "1 atm", "0.1 mbar", "5 mbar L/s", , , , "s")',
        5 * math.log((1013.25 - 0.05) / 0.05),
        "100 L/s with a load of 5 mbar·L/s end at 0.05 mbar: V/S ln((p₁ - p_b)/(p₂ - p_b))",
    ),
    Invariant(
        f'GAS_PUMPDOWN_TIME("{500 * (28.96546 / 4.002602) ** 0.5} L", 1E6, "1E-5 mbar", '
        '"1E-6 mbar", 0, 40, 60, "helium")',
        'GAS_PUMPDOWN_TIME("500 L", 1E6, "1E-5 mbar", "1E-6 mbar", 0, 40, 60, "air")',
        "molecules of helium pass a line faster by the root of the masses",
        1e-3,
    ),
    Invariant(
        'GAS_LINE_CONDUCTANCE("helium", 50, 3, "1e-6 Pa")',
        'GAS_LINE_CONDUCTANCE("helium", 50, 3, 0)',
        "below all intermediate pressures the flow is molecular",
        within=1e-6,
    ),
    Invariant(
        'GAS_LINE_CONDUCTANCE("air", 50, 60, "1 Pa", 20, "left out", "L/min")',
        'GAS_LINE_CONDUCTANCE("air", 50, 1, "1 Pa", 20, "left out", "L/s")',
        "sixty times the length is a sixtieth of the conductance, and a minute has 60 s",
    ),
    Invariant(
        'GAS_PUMPDOWN_TIME(2, 100, 1, "1 mbar", "0.01 mbar L/s", 400, 4)',
        'GAS_PUMPDOWN_TIME(2, 100, 1, "1 mbar", "0.01 mbar L/s")',
        "a wide line costs next to nothing",
        within=2e-3,
    ),
    Invariant(
        'GAS_PUMPDOWN_TIME(120, 100, 1, "1 mbar", 0, 40, 6, , "h")',
        'GAS_PUMPDOWN_TIME(2, 100, 1, "1 mbar", 0, 40, 6, , "min")',
        "the time goes with the volume, and an hour has 60 min",
    ),
    Invariant("GAS_PUMPDOWN_TIME(2, 100, 1, 1)", 0, "nothing to pump"),
    Invariant(
        'GAS_LINE_CONDUCTANCE("air", 100, 60, 0, 20, "left out", "L/min")',
        'GAS_LINE_CONDUCTANCE("air", 100, 1, 0, 20, "left out", "L/s")',
        "ten bores are long enough to leave the ends out",
    ),
    Invariant(
        'GAS_LINE_CONDUCTANCE("argon", 40, 9000, "1 mbar")',
        'GAS_LINE_CONDUCTANCE("argon", 40, 9000, "1 mbar", 20, "left out")',
        "the ends of a very long line do not count: 225,000 bores", 3e-4,
    ),
    Invariant(
        'GAS_LINE_CONDUCTANCE("nitrogen", 50, 0, "1E-6 Pa")',
        'GAS_LINE_CONDUCTANCE("nitrogen", 50, 0.00001, 0)',
        "without length it is an opening", 1e-3,
    ),
    Invariant(
        'GAS_PUMPDOWN_TIME(2, 100, 1, "1 mbar", "0.01 mbar L/s", 200, 0)',
        'GAS_PUMPDOWN_TIME(2, 100, 1, "1 mbar", "0.01 mbar L/s", 200, 0.001)',
        "no step towards a line without length", 1e-4,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_LINE_CONDUCTANCE("air", 100, 0.5, "1 Pa", 20, "short")', "#VALUE!", "counted"),
    Refusal('GAS_LINE_CONDUCTANCE("air", 100, 0.5, "1 Pa", 20, "left out")', "#NUM!", "ten bores"),
    Refusal(
        'GAS_PUMPDOWN_TIME(2, 100, 1, "1e-4 mbar", "1 mbar L/s")', "#NUM!", "the base pressure"
    ),
    Refusal('GAS_PUMPDOWN_TIME(2, 100, 1, "1e-3 mbar", "0.1 mbar L/s", 25, 6)', "#NUM!", "base"),
    Refusal("GAS_PUMPDOWN_TIME(2, 100, 1, 0)", "#NUM!", "never there"),
    Refusal('GAS_PUMPDOWN_TIME(2, 100, "1 mbar", 1)', "#NUM!", "are the two swapped"),
    Refusal('GAS_PUMPDOWN_TIME(2, 100, 1, "1 mbar", 0, 25)', "#NUM!", "a line has a bore"),
    Refusal('GAS_PUMPDOWN_TIME(2, 100, 1, "1 mbar", 0, , 6)', "#NUM!", "a line has a bore"),
]
