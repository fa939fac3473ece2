"""Checks of the topic purge."""

import math

from tests.checks.kinds import MEMORY, SEEN, Invariant, Published, Refusal

BRANAN = "C. R. Branan, Rules of Thumb for Chemical Engineers, purging with inert gas: "
CROWL = "D. A. Crowl, J. F. Louvar, Chemical Process Safety, ch. 7, "
IDEAL = "the print is of an ideal gas"

PUBLISHED = [
    Published(
        'GAS_VENT_FILL_COUNT("1 atm", "5 atm", "21 %", "1 %")',
        2,
        0,
        BRANAN + "1 to 5 atm, 21 % to 1 %: 2 cycles",
        SEEN,
        "a whole number",
    ),
    Published(
        'GAS_VENT_FILL_COUNT("0.5 atm", "1 atm", "21 %", "1 %")',
        5,
        0,
        BRANAN + "vacuum to 0.5 atm, 21 % to 1 %: 4.4, use 5 cycles",
        SEEN,
        "a whole number",
    ),
    Published(
        'GAS_VENT_FILL_COUNT("6 mmHg", "1 atm", "21 %", 5)',
        3,
        0,
        "Worked answer after Branan, 6 mmHg, 21 % to 5 ppm: 2.20, 3 cycles",
        SEEN,
        "a whole number",
    ),
    Published(
        'GAS_VENT_FILL_COUNT("20 mmHg", "760 mmHg", "21 %", 1)',
        4,
        0,
        CROWL + "vacuum purging, 21 % to 1 ppm: 3.37, 4 cycles",
        MEMORY,
        "a whole number",
    ),
    Published(
        'GAS_VENT_FILL_COUNT("14.7 psia", "94.7 psia", "21 %", 1)',
        7,
        0,
        CROWL + "pressure purging to 80 psig, 21 % to 1 ppm: 6.6, 7 cycles",
        MEMORY,
        "a whole number",
    ),
    Published(
        'GAS_VENT_FILL_RESIDUAL(2, "1 atm", "5 atm", "21 %", 0, 1, "%")',
        0.84,
        1e-6,
        BRANAN + "two cycles from 1 to 5 atm leave 0.84 %",
        SEEN,
        "21 / 25 is exact",
    ),
    Published(
        'GAS_VENT_FILL_USE("nitrogen", 1, "1 atm", "5 atm", 2, 0)',
        8,
        0.003,
        BRANAN + "8 volumes of gas for two cycles from 1 to 5 atm",
        SEEN,
        IDEAL + "; nitrogen at 5 atm and 0 °C is 0.2 % denser",
    ),
    Published(
        'GAS_VENT_FILL_USE("nitrogen", 1, "6 mmHg", "1 atm", 3, 0)',
        2.976,
        1.7e-4,
        "Worked answer after Branan: 3 cycles from 6 mmHg take 2.976 volumes",
        SEEN,
        "four digits",
    ),
    Published(
        'GAS_VENT_FILL_USE("nitrogen", "1000 gal", "20 mmHg", "760 mmHg", 4, "75 degF", "lbmol")',
        1.33,
        0.005,
        CROWL + "vacuum purging of 1000 gal at 75 °F, 4 cycles: 1.33 lb-mol",
        MEMORY,
        "three digits",
    ),
    Published(
        'GAS_VENT_FILL_USE("N2", "1000 gal", "14.7 psia", "94.7 psia", 7, "75 degF", "lbmol")',
        13.0,
        0.007,
        CROWL + "pressure purging of 1000 gal to 80 psig, 7 cycles: 13.0 lb-mol",
        MEMORY,
        "three digits, and " + IDEAL,
    ),
    Published(
        'GAS_VENT_FILL_TABLE("nitrogen", 1, "1 atm", "5 atm", "21 %", "1 %", 0, 1, 0)',
        8400,
        1e-6,
        BRANAN + "two cycles from 1 to 5 atm leave 0.84 %",
        SEEN,
        "21 / 25 is exact",
        row=3,
        column=1,
    ),
    Published(
        'GAS_SWEEP_CHANGES("21 %", "1 %")',
        3.1,
        0.03,
        BRANAN + "sweeping from 21 to 1 % takes 3.1 volumes, read from a chart",
        SEEN,
        "read from a chart",
    ),
    Published(
        'GAS_SWEEP_RESIDUAL(2.8276, "21 %", "0.01 %", 1, "%")',
        1.25,
        0.003,
        CROWL + "sweeping 1000 gal (133.68 ft3) with 378 ft3 of nitrogen holding 0.01 % oxygen "
        "leaves 1.25 %",
        MEMORY,
        "the volume has three digits",
    ),
    Published(
        'GAS_SWEEP_USE("nitrogen", "1000 gal", "14.696 psia", "70 degF", '
        'GAS_SWEEP_CHANGES("21 %", "1.25 %", "0.01 %"), "scf")',
        378,
        0.002,
        CROWL + "sweeping 1000 gal from 21 to 1.25 % with nitrogen holding 0.01 %: 378 ft3",
        MEMORY,
        "three digits",
    ),
    Published(
        'GAS_EVACUATE_RESIDUAL("1 atm", "5 atm", GAS_EVACUATE_RESIDUAL("1 atm", "5 atm", "21 %"))',
        8400,
        1e-6,
        BRANAN + "two cycles from 1 to 5 atm leave 0.84 %",
        SEEN,
        "21 / 25 is exact; a cycle and an evacuation are one calculation",
    ),
    Published(
        'GAS_PURGE_METHODS("nitrogen", 1, "21 %", "1 %", "0.5 atm", "1 atm", "0.1 atm", 100, 10)',
        5,
        0,
        BRANAN + "vacuum to 0.5 atm, 21 % to 1 %: 5 cycles",
        SEEN,
        "a whole number",
        row=1,
        column=1,
    ),
    Published(
        'GAS_PURGE_METHODS("nitrogen", 1, "21 %", "1 %", "1 atm", "5 atm", "0.1 atm", 100, 10)',
        3.1,
        0.03,
        BRANAN + "sweeping from 21 to 1 % takes 3.1 volumes, read from a chart",
        SEEN,
        "read from a chart",
        row=3,
        column=1,
    ),
]

METHODS = 'GAS_PURGE_METHODS("argon", 2.5, "21 %", 100, "50 mbar", 1.05, "0.1 mbar", 250, 60, 1, 4)'

INVARIANTS = [
    Invariant(
        "GAS_VENT_FILL_COUNT(1, 2, 850, 150, 50)", 3, "50 + 800/2³ is hit with an impure supply"
    ),
    Invariant(
        METHODS.replace(" 60,", ' "1E6 Nm3/h",'),
        0.01 * (math.log(1.01325 / 0.05) + 2 * math.log(1.05 / 0.05)),
        "filled at once: emptied from atmosphere, then twice from 1.05 bar, V/S ln(p₁/p₂) each",
        1e-4,
        row=1,
        column=4,
    ),
    Invariant(
        METHODS.replace(" 250,", ' "1E9 m3/h",'),
        f'GAS_VENT_FILL_USE("argon", {2.5 / 60!r}, "50 mbar", 1.05, 3, 20)',
        "emptied at once: the gas over the flow of 60 Nm3/h",
        1e-6,
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_VENT_FILL_TABLE("argon", 2.5, 1, 3, 900, 100, 2, 0.8, 60)',
        "GAS_VENT_FILL_RESIDUAL(3, 1, 3, 900, 2, 0.8)",
        "the last row's residual with an impure supply that mixes badly",
        row=4,
        column=1,
    ),
    Invariant(
        'GAS_VENT_FILL_TABLE("argon", 2.5, 1, 3, 900, 100, 2, 0.8, 60)',
        'GAS_VENT_FILL_USE("argon", 2.5, 1, 3, 3, 60)',
        "and its gas, at 60 °C",
        row=4,
        column=2,
    ),
    Invariant(
        'GAS_VENT_FILL_TABLE("argon", 2.5, 1, 3, 900, 10, 0, 1, 20, 0.3)',
        'GAS_DRAWN("argon", 2.5, 3, 0.3, 20)',
        "started at 0.3 bar the first fill takes what is missing to 3 bar",
        row=2,
        column=2,
    ),
    Invariant(
        'GAS_VENT_FILL_TABLE("argon", 2.5, 1, 3, 900, 10, 0, 1, 20, 0.3)',
        30,
        "and dilutes ten times, the next one three times",
        row=3,
        column=1,
    ),
    Invariant(
        METHODS,
        'GAS_VENT_FILL_USE("argon", 10, "50 mbar", 1.05, 3, 20)',
        "at 4 a normal cubic metre the cost is the gas of four such vessels",
        row=1,
        column=5,
    ),
    Invariant('GAS_VENT_FILL_COUNT("0.1 bar(a)", 1, 1000, 1)', 3, "1000 ppm / 10³ is hit exactly"),
    Invariant(
        'GAS_VENT_FILL_COUNT("0.1 bar(a)", "1 bar(a)", "10 %", 0.01)',
        7,
        "10 % / 10⁷ is hit exactly, though 0.1 is not exact in binary",
    ),
    Invariant("GAS_VENT_FILL_COUNT(1, 3, 900, 100)", 2, "900 ppm / 3² is hit exactly"),
    Invariant("GAS_VENT_FILL_COUNT(1, 3, 900, 99.999)", 3, "just missed takes one cycle more"),
    Invariant("GAS_VENT_FILL_COUNT(1, 2, 801, 101, 1)", 3, "1 + 800/2³ is hit with a supply floor"),
    Invariant("GAS_VENT_FILL_COUNT(1, 2, 50, 100)", 0, "clean enough at the start"),
    Invariant(
        'GAS_VENT_FILL_COUNT(0, 1, "21 %", 1)', 1, "from a perfect vacuum one fill is enough"
    ),
    Invariant(
        'GAS_VENT_FILL_COUNT(1, 5, "21 %", "1 %", 0, 1, 7)',
        'GAS_VENT_FILL_COUNT(1, 5, "21 %", "1 %")',
        "starting above the vent pressure changes nothing: the vessel vents first",
    ),
    Invariant(
        'GAS_VENT_FILL_COUNT(1, 5, "21 %", "1 %", 0, 1, 0.1)',
        1,
        "starting at 0.1 bar the first fill dilutes 50 times",
    ),
    Invariant(
        "GAS_VENT_FILL_RESIDUAL(GAS_VENT_FILL_COUNT(0.1, 1, 1000, 1), 0.1, 1, 1000)",
        1.0,
        "the count's residual is the target that is hit exactly",
    ),
    Invariant(
        'GAS_VENT_FILL_RESIDUAL(3, "0.2 bar(a)", 1, 1000, 2, 0.5)',
        "GAS_VENT_FILL_RESIDUAL(3, 0.6, 1, 1000, 2)",
        "half mixing with r = 0.2 is r = 1 - 0.5 · 0.8 = 0.6",
    ),
    Invariant(
        'GAS_VENT_FILL_RESIDUAL(10000, 1, 2, "21 %", 3)',
        3.0,
        "in the end the supply's own impurity",
    ),
    Invariant('GAS_VENT_FILL_RESIDUAL(0, 1, 2, "21 %", 3)', 210000.0, "no cycle changes nothing"),
    Invariant(
        'GAS_VENT_FILL_USE("argon", 2.5, "0.001 Pa", 2, 1)',
        'GAS_CONTENTS("argon", 2.5, 2, 20)',
        "a fill from deep vacuum is the contents",
        within=1e-7,
    ),
    Invariant(
        'GAS_VENT_FILL_TABLE("argon", 2.5, 1, 3, 900, 100)',
        'GAS_VENT_FILL_USE("argon", 2.5, 1, 3, 2)',
        "the last row's gas is that of the cycles",
        row=3,
        column=2,
    ),
    Invariant(
        'GAS_SWEEP_RESIDUAL(GAS_SWEEP_CHANGES("21 %", 50, 2, 0.8), "21 %", 2, 0.8)',
        50.0,
        "changes and residual undo each other",
    ),
    Invariant("GAS_SWEEP_CHANGES(50, 100)", 0, "clean enough at the start"),
    Invariant(
        'GAS_SWEEP_USE("argon", 2.5, 1.05, 20, 1)',
        'GAS_CONTENTS("argon", 2.5, 1.05, 20)',
        "one volume change is the contents",
    ),
    Invariant(
        'GAS_EVACUATE_RESIDUAL("1 mbar", 1, "21 %", 5)',
        'GAS_VENT_FILL_RESIDUAL(1, "1 mbar", 1, "21 %", 5)',
        "without a leak it is one cycle",
    ),
    Invariant(
        'GAS_EVACUATE_RESIDUAL(0, 1, 0, 0, "1 mbar L/s", 1, "100 s")',
        100.0,
        "1 mbar·L/s into 1 m³ for 100 s is 0.1 mbar of air in 1 bar",
    ),
    Invariant(
        'GAS_EVACUATE_RESIDUAL(0, 1, 0, 0, "1 mbar L/s", 1, "100 s", 0.2095)',
        20.95,
        "of 100 ppm of air the oxygen",
    ),
    Invariant(
        METHODS, 'GAS_VENT_FILL_COUNT("50 mbar", 1.05, "21 %", 100, 1)', "cycles", row=1, column=1
    ),
    Invariant(
        METHODS,
        'GAS_EVACUATE_RESIDUAL("0.1 mbar", 1.05, "21 %", 1)',
        "one deep evacuation",
        row=2,
        column=2,
    ),
    Invariant(
        METHODS,
        'GAS_SWEEP_USE("argon", 2.5, "1 atm", 20, GAS_SWEEP_CHANGES("21 %", 100, 1))',
        "sweeping at atmospheric pressure",
        row=3,
        column=3,
    ),
    Invariant(
        'GAS_PURGE_METHODS("nitrogen", 1, "21 %", "5 %", "0.1 atm", "1 atm", "0.1 atm", 100, 10)',
        math.log(10) / 100 + 0.9 * 273.15 / 293.15 / 10,
        "one cycle is pumped down and filled once: ln 10 of a volume at 100 m3/h, ideal gas at "
        "10 Nm3/h",
        5e-4,
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_PURGE_METHODS("nitrogen", 1, "1 %", "2 %", "0.1 atm", "1 atm", "0.1 atm", 100, 10)',
        0,
        "a target that is met takes no time",
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_VENT_FILL_TABLE("argon", 2.5, 1, 3, 900, 100)',
        0,
        "no gas before the first cycle",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_EVACUATE_RESIDUAL(0, 1, 0, 0, "1 mbar L/s", 2, "200 s")',
        100,
        "twice the volume takes twice the time to the same rise",
    ),
    Invariant(
        'GAS_EVACUATE_RESIDUAL(0, 1, 0, 1000, "100 mbar L/s", 1, "1000 s")',
        1e5 + 900,
        "0.1 bar of air leaks in, and the gas for the other 0.9 bar brings its own 1,000 ppm",
    ),
    Invariant('GAS_EVACUATE_RESIDUAL(0, "0.5 Pa", 0, 5)', 5, "filled at half a pascal"),
    Invariant(
        METHODS,
        f'GAS_SWEEP_USE("argon", {2.5 / 60!r}, "1 atm", 20, GAS_SWEEP_CHANGES("21 %", 100, 1))',
        "sweeping lasts as long as its gas flows",
        row=3,
        column=4,
    ),
    Invariant(METHODS, 1, "one evacuation", row=2, column=1),
    *(
        Invariant(
            METHODS.replace("0.1 mbar", base),
            met,
            f"21 % by {base} of 1.05 bar: {left}",
            row=2,
            column=6,
        )
        for base, met, left in (("0.4 mbar", "yes", "81 ppm"), ("0.75 mbar", "no", "151 ppm"))
    ),
    Invariant(
        'GAS_PURGE_METHODS("argon", 1, 1000, 1, 0.1, 1, "0.1 mbar", 250, 60)',
        "yes",
        "1000 ppm / 10³ is the target, hit exactly",
        row=1,
        column=6,
    ),
]

REFUSALS = [
    Refusal(METHODS.replace(" 60,", " 0,"), "#NUM!", "fill_flow: is zero"),
    Refusal("GAS_VENT_FILL_COUNT(2, 1, 900, 1)", "#NUM!", "are the two swapped"),
    Refusal("GAS_VENT_FILL_COUNT(1, 2, 900, 1, 1)", "#NUM!", "purer grade"),
    Refusal("GAS_VENT_FILL_COUNT(1, 2, 900, 0.5, 1)", "#NUM!", "purer grade"),
    Refusal('GAS_VENT_FILL_COUNT("1 bar", 2, 900, 1)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal("GAS_VENT_FILL_COUNT(1, 2, 900, 1, 0, 0)", "#NUM!", "mixing"),
    Refusal("GAS_VENT_FILL_RESIDUAL(2.5, 1, 2, 900)", "#NUM!", "not a whole number"),
    Refusal('GAS_VENT_FILL_USE("argon", 1, 2, 1, 3)', "#NUM!", "are the two swapped"),
    Refusal('GAS_VENT_FILL_TABLE("argon", 1, 1, 2, 900, 1, 1)', "#NUM!", "purer grade"),
    Refusal('GAS_SWEEP_CHANGES("21 %", 1, 1)', "#NUM!", "purer grade"),
    Refusal('GAS_SWEEP_RESIDUAL(-1, "21 %")', "#NUM!", "below 0"),
    Refusal('GAS_SWEEP_USE("argon", 2.5, 1, "-187 degC", 5)', "#NUM!", "liquid"),
    Refusal(
        'GAS_EVACUATE_RESIDUAL("1 mbar", 1, "21 %", 0, "1 mbar L/s", , 1)', "#NUM!", "volume of the"
    ),
    Refusal("GAS_EVACUATE_RESIDUAL(0, 1, 0, 0, 1, 1, 1, 2)", "#NUM!", "200 %"),
    Refusal('GAS_EVACUATE_RESIDUAL(1, "1 mbar", "21 %")', "#NUM!", "are the two swapped?"),
    Refusal(
        'GAS_PURGE_METHODS("argon", 1, "21 %", 1, "1 mbar", 1, "1e-3 mbar", 100, 10, 1)',
        "#NUM!",
        "purer grade",
    ),
    Refusal(
        'GAS_PURGE_METHODS("argon", 1, "21 %", 1, "1 mbar", 1, 2, 100, 10)',
        "#NUM!",
        "base_pressure",
    ),
    Refusal('GAS_VENT_FILL_COUNT(1, 1, "21 %", 1)', "#NUM!", "is not below pressure_high"),
    Refusal("GAS_VENT_FILL_RESIDUAL(3, 2, 1, 900)", "#NUM!", "are the two swapped"),
    Refusal('GAS_EVACUATE_RESIDUAL(0, 1, 0, 0, "1 mbar L/s", , "1 s")', "#NUM!", "volume of the"),
    Refusal('GAS_EVACUATE_RESIDUAL(1, 1, "21 %")', "#NUM!", "are the two swapped?"),
    Refusal(METHODS.replace('"0.1 mbar"', "1.05"), "#NUM!", "base_pressure: is not below"),
    Refusal(METHODS.replace('"0.1 mbar"', "0"), "#NUM!", "base_pressure: is a perfect vacuum"),
    Refusal(METHODS.replace('"50 mbar"', "0"), "#NUM!", "pressure_low: is a perfect vacuum"),
]
