"""Checks of the topic line."""

from math import pi

from tests.checks.dense import AT_2400, FIVE_DIGITS, STATES
from tests.checks.kinds import LIBRARY, MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import CRANE, NACA_1135

CRANE_AIR = (
    "Crane TP-410, edition unknown, table of air through schedule 40 pipe at 100 psig and 60 degF, "
    "per 100 ft: "
)
CRANE_WHY = "three digits; the table's friction factors are older"

PUBLISHED = [
    Published(
        'GAS_LINE_DROP("air", GAS_LINE_FLOW("air", 0.5, 0, 20, 0), 0.5, 20, 0)',
        0.5 * (1 - 0.5283),
        0.002,
        "Critical pressure ratio for k = 1.4: 0.5283 (Aeronautical Engineer's Data Book)",
        SEEN,
        "four digits; k of air at 20 °C is 1.4007", reckoned=True,
    ),
    Published(
        'GAS_LINE_DROP("argon", GAS_LINE_FLOW("argon", 0.5, 0, 20, 0), 0.5, 20, 0)',
        0.5 * (1 - 0.4871),
        0.002,
        "Critical pressure ratio for k = 5/3: 0.4871 (gas-dynamics textbooks), value from memory",
        MEMORY,
        "four digits; k of argon at 0.5 bar is 1.6675", reckoned=True,
    ),
    Published(
        'GAS_LINE_DROP("air", GAS_LINE_FLOW("air", 0.5, 0, 20, 0), 0.5, 23.1499, 0)',
        0.5 * (1 - 0.8430),
        0.003,
        NACA_1135.says(
            "k = 1.4, M = 0.5: A/A* = 1.3398, p/p0 = 0.8430; 20 mm choked against 20 √1.3398 mm"
        ),
        READ,
        "four digits of p/p0 are 0.06 % of 1 - p/p0; k of air is 1.4007", reckoned=True,
    ),
    Published(
        'GAS_LINE_DROP("air", GAS_LINE_FLOW("air", 0.5, 0, 20, 0, 0.4908), 0.5, 20, 0)',
        0.5 * (1 - 0.7840),
        0.001,
        "Fanno table, k = 1.4: 4fL*/D = 0.4908 chokes at the end from M = 0.6 (value from "
        "memory), where p/p0 = 0.7840 (isentropic table, read)",
        MEMORY,
        "four digits of p/p0 are 0.02 % of 1 - p/p0; k of air is 1.4007", reckoned=True,
    ),
    Published(
        'GAS_LINE_DROP("air", GAS_LINE_FLOW("air", 0.5, 0, 20, 0, 14.533), 0.5, 20, 0)',
        0.5 * (1 - 0.9725),
        0.003,
        "Fanno table, k = 1.4: 4fL*/D = 14.533 chokes at the end from M = 0.2, where "
        "p/p0 = 0.9725, values from memory",
        MEMORY,
        "0.9725 has four digits, 0.2 % of 1 - p/p0", reckoned=True,
    ),
    Published(
        'GAS_LINE_FLOW("air", "510 kPa", "100 kPa", 20, 0, 21.27, "294 K", , , , "mol/s")',
        0.109 / 0.0289655,
        0.01,
        "Massey, Mechanics of Fluids, edition unknown, Example 11.6: reservoir 510 kPa and 294 K, "
        "20 mm pipe of 4fL/d = 4 · 0.00673 · 15.8/0.02 to 100 kPa: 0.109 kg/s (a worked copy)",
        SEEN,
        "three digits, Mach numbers read from a table", reckoned=True,
    ),
    Published(
        'GAS_LINE_FLOW("nitrogen", "102.77 psia", "84.056 psia", "4.026 in", 0, 4.908, '
        '"524.1 degR", , , , "mol/s")',
        10 * 0.45359237 / 0.0280134,
        0.015,
        "Rennels, Hudson, Pipe Flow, edition unknown, Example 4.5: nitrogen, static 100 psia and "
        "520 degR, 4.026 in, 100 ft, f = 0.016466, to 84.056 psia: 10 lb/s. Gas at rest is at "
        "102.77 psia and 524.1 degR by that flow's own speed",
        SEEN,
        "the book's line is isothermal, ours adiabatic: 0.9 %", reckoned=True,
    ),
    Published(
        'GAS_LINE_FLOW("air", "34 psia", "14.7 psia", "0.546 in", "10 ft", 0, "100 degF", '
        '"0.0018 in", , , "scf(60F)/h")',
        3762,
        0.03,
        CRANE.says(
            "air, 34.0 psia, 100 degF, 10 ft of 1/2 in schedule 80 pipe, f = 0.0275, to the "
            "atmosphere: 3762 scfh"
        ),
        READ,
        "Y read from a chart; Crane's method is approximate when choked",
    ),
    Published(
        'GAS_LINE_DROP("air", "100 scf(60F)/min", "65 psig", "1.049 in", "75 ft", 0, "110 degF", '
        '"0.0018 in", , , , "psi")',
        2.61,
        0.08,
        "Crane TP-410, edition unknown, Example 4-16: air, 65 psig, 110 degF, 75 ft of 1 in "
        "schedule 40 pipe, 100 scfm: 2.61 psi",
        SEEN,
        "Crane reads rounded tables of an older friction factor (0.07 psi) and leaves the speeding "
        "up at the inlet out (0.13 psi)",
    ),
    *(
        Published(
            f'GAS_LINE_DROP("air", "{flow} scf(60F)/min", "100 psig", "{bore} in", "100 ft", 0, '
            '"60 degF", "0.0018 in", , , "in the pipe", "psi")',
            drop,
            0.02,
            CRANE_AIR + f"{flow} cfm of free air through {size}: {drop} psi",
            SEEN,
            CRANE_WHY,
        )
        for flow, bore, size, drop in (
            (20, 0.622, "1/2 in", 1.43), (100, 1.049, "1 in", 2.21), (400, 2.067, "2 in", 1.00),
            (200, 1.610, "1 1/2 in", 0.937), (400, 3.068, "3 in", 0.134),
        )
    ),
    Published(
        'GAS_WORKING("GAS_LINE_FLOW", "air", 0.5, 0.4, 20, 0)',
        50_000 * 0.5283,
        0.001,
        "Critical pressure ratio for k = 1.4: 0.5283 (Aeronautical Engineer's Data Book)",
        SEEN,
        "four digits; k of air at 20 °C is 1.4007", row=25, column=4, reckoned=True,
    ),
    Published(
        'GAS_WORKING("GAS_LINE_FLOW", "air", 0.5, 0, 20, 0, 14.533)',
        0.2,
        0.0005,
        "Fanno table, k = 1.4: 4fL*/D = 14.533 chokes at the end from M = 0.2, from memory",
        MEMORY,
        "five digits of 4fL*/D; k of air is 1.4007", row=21, column=4,
    ),
    Published(
        'GAS_VALVE_LOSS("2.312 Kv", 15)',
        15.153374600399898,
        0.001,
        "fluids.fittings.Kv_to_K(2.312, 0.015), with 1.6e9 rounded",
        LIBRARY,
        "1.6e9 for 1.6004e9",
    ),
    Published(
        'GAS_VALVE_LOSS("20 Cv", "1 in")',
        891 / 400,
        0.003,
        "Crane TP-410: K = 891 d⁴/Cv², d in inches, value from memory",
        MEMORY,
        "three digits; Kv = 0.865 Cv", reckoned=True,
    ),
    Published(
        'GAS_VALVE_FLOW("carbon dioxide", "62.652 Kv", "680 kPa", "310 kPa", "433 K", 0.6, '
        '"mol/s")',
        3800 / 3600 * 101325 / (8.314462618 * 273.15),
        0.028,
        "IEC 60534-2-1, example 3 without its reducers: 3800 Nm3/h (ideal) of carbon dioxide, "
        "680 to 310 kPa, 433 K, Z 0.988, k 1.3, xT 0.6: Kv 62.652 by "
        "fluids.control_valve.size_control_valve_g",
        LIBRARY,
        "the standard takes k as 1.3, the real gas has 1.244: choked flow goes with its root; "
        "N9 has three digits", reckoned=True,
    ),
    Published(
        'GAS_VALVE_FLOW("argon", "26.2133 Kv", 12, 8, 20, 0.7, "mol/s")',
        101325 / (8.314462618 * 273.15),
        0.002,
        "fluids.control_valve.size_control_valve_g, argon of k 1.69 and Z 0.992, 12 to 8 bar(a) "
        "at 293.15 K, xT 0.7: an ideal Nm3/s takes a Kv of 26.2133",
        LIBRARY,
        "N9 has three digits", reckoned=True,
    ),
    Published(
        'GAS_LINE_CONTENTS("nitrogen", "1.049 in", "100 ft", "14.696 psia", "70 degF", "scf")',
        0.600,
        0.001,
        "Crane TP-410, pipe table: 1 in schedule 40 holds 0.00600 ft3 a foot, value from memory",
        MEMORY,
        "three digits",
    ),
    Published(
        f'GAS_LINE_CONTENTS("argon", "{(4000 / pi) ** 0.5} mm", 1000, "2400 psia", "300 K", "mol")',
        AT_2400, 3e-5, STATES, SEEN, FIVE_DIGITS, reckoned=True,
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_LINE_DROP("argon", GAS_LINE_FLOW("argon", 12, 9, 25, 30, 8), 12, 25, 30, 8)',
        3,
        "flow and drop undo each other",
    ),
    Invariant(
        'GAS_LINE_DROP("helium", GAS_LINE_FLOW("helium", 2, 1.999, 4, 50, 0), 2, 4, 50)',
        0.001,
        "and where the flow is laminar or in between",
        1e-8,
    ),
    Invariant('GAS_LINE_FLOW("argon", 5, 5, 25, 6)', 0, "equal pressures move nothing"),
    Invariant('GAS_LINE_DROP("argon", 0, 5, 25, 6)', 0, "no flow, no drop"),
    Invariant(
        'GAS_LINE_DROP("argon", 0, 5, 25, 6, 0, 20, , , , "in the pipe")',
        0,
        "nor in the pipe",
    ),
    Invariant(
        'GAS_LINE_FLOW("argon", 12, 2, 100, 0, 0, 20, 0, 2, 0.4)',
        'GAS_VALVE_FLOW("argon", 2, 12, 2, 20, 0.4)',
        "a wide line is its valve",
        1e-4,
    ),
    Invariant(
        'GAS_LINE_DROP("argon", GAS_LINE_FLOW("argon", 12, 9, 25, 30, 8, 20, , 15, 0.3), 12, 25, '
        "30, 8, 20, , 15, 0.3)",
        3,
        "flow and drop undo each other with a valve too",
    ),
    Invariant(
        'GAS_LINE_FLOW("argon", 12, 0, 25, 6, 8)',
        'GAS_LINE_FLOW("argon", 12, 1, 25, 6, 8)',
        "a choked line does not feel what is downstream",
    ),
    Invariant(
        'GAS_LINE_FLOW("nitrogen", {4, 6; 8, 12}, 1, {20; 25}, 6, 8)',
        'GAS_LINE_FLOW("nitrogen", 12, 1, 25, 6, 8)',
        "a column is answered as its cells are",
        row=1,
        column=1,
    ),
    Invariant(
        'GAS_LINE_FLOW("air", 4, 1, 10, 0, 0)',
        'GAS_RELIEF_FLOW("air", 10, 4, 20, 1, 1)',
        "without friction the line is a choked nozzle of its bore",
        0.002,
    ),
    Invariant(
        'GAS_VALVE_LOSS("20 Cv", 25)',
        'GAS_VALVE_LOSS("17.3 Kv", 25)',
        "Kv = 0.865 Cv",
    ),
    Invariant(
        'GAS_VALVE_LOSS("36 Kv", 50)',
        2 * 1e5 * (pi / 4 * 0.05**2) ** 2 / (999.1 * 0.01**2),
        "10 L/s of water at 15 °C, 999.1 kg/m³, lose 1 bar",
        1e-6,
    ),
    Invariant(
        'GAS_VALVE_LOSS("10 Kv", 50)',
        'GAS_VALVE_LOSS("2.5 Kv", 25)',
        "K goes with d⁴/Kv²",
    ),
    Invariant(
        'GAS_VALVE_FLOW("argon", 20, 12, 12)',
        0,
        "equal pressures move nothing",
    ),
    Invariant(
        'GAS_VALVE_FLOW("argon", 20, {12; 6}, {6; 0}, 20, 0.25)',
        'GAS_VALVE_FLOW("argon", 20, 12, 0, 20, 0.25)',
        "a choked valve does not feel what is downstream",
    ),
    Invariant(
        'GAS_VALVE_FLOW("argon", "0.1 Kv", 12, 11.99)',
        'GAS_LINE_FLOW("argon", 12, 11.99, 100, 0, GAS_VALVE_LOSS("0.1 Kv", 100))',
        "with hardly any drop a valve is its loss coefficient",
        0.001,
    ),
    Invariant(
        'GAS_LINE_CONTENTS("argon", 100, 1, 12, 20)',
        'GAS_CONTENTS("argon", "7.853981633974483 L", 12, 20)',
        "the line is a vessel",
    ),
    Invariant(
        'GAS_LINE_FLOW("nitrogen", 6, 0, 20, 3, 0, 20, 0, "30 Kv")',
        'GAS_LINE_FLOW("nitrogen", 6, 0, 20, 3, 0, 20, 0)',
        "the pipe chokes before a valve as wide as that",
    ),
    Invariant(
        'GAS_LINE_FLOW("nitrogen", "600 kPa", "599.998 kPa", 4, 50, 0, 20, 0, "100 Kv")',
        'GAS_LINE_FLOW("nitrogen", "600 kPa", "599.998 kPa", 4, 50, 0, 20, 0)',
        "a valve far too wide for a thin tube takes nothing, of a drop of 2 Pa either",
        1e-6,
    ),
    Invariant(
        'GAS_LINE_FLOW("nitrogen", 6, 5, 20, 3, 0, 20, 0, {"";"20 Kv"})',
        'GAS_LINE_FLOW("nitrogen", 6, 5, 20, 3, 0, 20, 0)',
        "no valve, in a column with one",
    ),
    Invariant(
        'GAS_LINE_FLOW("argon", 6, 1, 20, 6, 0, 20, 1)',
        'GAS_LINE_FLOW("argon", 6, 1, 20, 6, 0, 20, 0.9999)',
        "5 % of the bore is still a roughness that is known",
        1e-4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "argon", 12, 1, 25, 6, 8)',
        1,
        "choked without a valve is Mach 1 at the end",
        row=22,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "argon", 12, 1, 25, 6, 8)',
        "yes",
        "and the working says so",
        row=26,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "argon", 12, 9, 25, 6, 8)',
        "no",
        "a fourth of the pressure chokes no line",
        row=26,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "argon", 12, 9, 25, 6, 8)',
        9e5,
        "gas that is not choked leaves at the pressure that the line ends in",
        row=24,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "helium", 0.5, 0, 50, 1, 0, 20, 0, "0.5 Kv")',
        0.7 * 5 / 3 / 1.4,
        "a valve chokes when it takes k/1.4 xT of the pressure; k of helium is 5/3",
        0.001,
        row=23,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "helium", 0.5, 0, 50, 1, 0, 20, 0, "0.5 Kv")',
        "yes",
        "and so is the line",
        row=26,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "helium", 0.5, 0, 50, 0, 0, 20, 0, "0.5 Kv")',
        50_000 * (1 - 0.7 * 5 / 3 / 1.4),
        "a choked valve in a wide line leaves the rest of the pressure",
        0.005,
        row=24,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_FLOW", "argon", 12, 9, 25, 6, 0, 20, , "9 Kv")',
        9e5,
        "through a valve, too, gas leaves at the pressure that the line ends in",
        row=24,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_DROP", "argon", 400, 12, 25, 6, 8)',
        "no",
        "a flow that passes is not choked",
        row=27,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_LINE_DROP", "argon", GAS_LINE_FLOW("argon", 12, 9, 25, 6), 12, 25, 6)',
        9e5,
        "the working of the drop ends at the pressure that the line ended in",
        row=25,
        column=4,
    ),
]

REFUSALS = [
    Refusal('GAS_LINE_FLOW("argon", 0, 0, 20, 25, 6)', "#NUM!", "no gas flows out of a vacuum"),
    Refusal('GAS_LINE_DROP("argon", 100, 0, 20, 25, 6)', "#NUM!", "no gas flows out of a vacuum"),
    Refusal('GAS_LINE_FLOW("argon", 2, 12, 25, 6)', "#NUM!", "are the two swapped?"),
    Refusal('GAS_LINE_FLOW("argon", "6 bar", 1, 25, 6)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_LINE_FLOW("argon", 6, 1, 0.5, 6)', "#NUM!", "more than 5 % of the bore"),
    Refusal('GAS_LINE_FLOW("air", "0.01 mbar", 0, 25, 6)', "#NUM!", "GAS_LINE_CONDUCTANCE"),
    Refusal('GAS_LINE_FLOW("argon", 0, 0, 25, 6)', "#NUM!", "vacuum"),
    Refusal('GAS_LINE_FLOW("argon", 12, 1, 25, 6, -1)', "#NUM!", "below 0"),
    Refusal('GAS_LINE_DROP("argon", 5000, 12, 25, 6)', "#NUM!", "it chokes at"),
    Refusal(
        'GAS_LINE_DROP("argon", 2500, 12, 25, 600, 8, 20, , , , "in the pipe")',
        "#NUM!",
        "more than the line can pass",
    ),
    Refusal(
        'GAS_LINE_DROP("air", 4000, 5, 20, 0, 0, 20, , , , "in the pipe")',
        "#NUM!",
        "more than the line can pass",
    ),
    Refusal(
        'GAS_LINE_DROP("argon", 9, 12, 10, 9000, 0, 20, , , , "in the pipe")',
        "#NUM!",
        "more than the line can pass",
    ),
    Refusal(
        'GAS_LINE_DROP("argon", 400, 12, 25, 1, 0, 20, , "2 Kv", , "in the pipe")',
        "#NUM!",
        "more than the line can pass",
    ),
    Refusal('GAS_LINE_FLOW("argon", 6, 1, 20, 6, 0, 20, 1.01)', "#NUM!", "more than 5 % of the"),
    Refusal('GAS_LINE_DROP("argon", 400, 12, 25, 20, 0, 20, , , , "above")', "#VALUE!", "at rest"),
    Refusal('GAS_LINE_DROP("argon", "400 m3/h", 12, 25, 6)', "#VALUE!", "volume flow"),
    Refusal('GAS_VALVE_LOSS("20 m3/h", 25)', "#VALUE!", "use Kv, Cv"),
    Refusal("GAS_VALVE_LOSS(0, 25)", "#NUM!", "must be above 0"),
    Refusal('GAS_VALVE_FLOW("argon", 20, 2, 12)', "#NUM!", "are the two swapped?"),
    Refusal('GAS_VALVE_FLOW("argon", 20, 0, 0)', "#NUM!", "vacuum"),
    Refusal('GAS_VALVE_FLOW("argon", 20, 12, 2, 20, 70)', "#NUM!", "above 1"),
    Refusal('GAS_VALVE_FLOW("argon", "20 m3/h", 12, 2)', "#VALUE!", "use Kv, Cv"),
    Refusal('GAS_LINE_CONTENTS("argon", 25, 6, 12, "-180 degC")', "#NUM!", "is liquid"),
    Refusal('GAS_LINE_FLOW("air", "65 Pa", 0, 10, 1)', "#NUM!", "molecule by molecule"),
    Refusal('GAS_LINE_DROP("air", 0, "65 Pa", 10, 1)', "#NUM!", "molecule by molecule"),
]
