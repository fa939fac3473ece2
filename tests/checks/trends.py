"""Checks of the topic trends."""

from tests.checks.kinds import LIBRARY, MEMORY, READ, Invariant, Published, Refusal
from tests.checks.sources import SEMATECH

FLOW = "{49.6;47.6;49.9;51.3;47.8;51.2;52.6;52.4;53.6;52.1}"
SMOOTHED = (
    "{52;47;53;49.3;50.1;47;51;50.1;51.2;50.5;49.6;47.6;49.9;51.3;47.8;51.2;52.6;52.4;53.6;52.1}"
)
SUMMED = (
    "{324.925;324.675;324.725;324.35;325.35;325.225;324.125;324.525;325.225;324.6;324.625;325.15;"
    "328.325;327.25;327.825;328.5;326.675;327.775;326.875;328.35}"
)
MIRRORED = "{" + ";".join(f"{650 - float(x):.3f}" for x in SUMMED.strip("{}").split(";")) + "}"
INDIVIDUALS = f"GAS_CONTROL_CHART({FLOW})"
EWMA = f'GAS_CONTROL_CHART({SMOOTHED}, "ewma", , 50, 2.0539)'
CUSUM = f'GAS_CONTROL_CHART({SUMMED}, "cusum", , 325, 0.635, , {4.1959 / 0.635!r})'
THERMOMETER = (
    "{21.521;22.012;22.512;23.003;23.507;23.999;24.513;25.002;25.503;26.01;26.511}, "
    "{-0.171;-0.169;-0.166;-0.159;-0.164;-0.165;-0.156;-0.157;-0.159;-0.161;-0.16}"
)
CORRECTION = f"GAS_TREND({THERMOMETER}, 0)"
RISING = '{"2026-01-05";"2026-04-06";"2026-07-06";"2026-10-05";"2027-01-04"}, {21;24;26;30;32}'

EWMA_CHART = SEMATECH.at("section 6.3.2.4")
CUSUM_CHART = "NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.3: "
GUM_H3 = "JCGM 100:2008, example H.3, in a public library of the GUM: "

PUBLISHED = [
    Published(INDIVIDUALS, 50.81, 0.005, SEMATECH.says("centre 50.81"), READ,
              "printed digits; data from memory", absolute=True, row=1, column=2),
    Published(INDIVIDUALS, 55.8041, 5e-5, SEMATECH.says("upper limit 55.8041"), READ,
              "printed digits; data from memory", absolute=True, row=1, column=4),
    Published(INDIVIDUALS, 45.8159, 5e-5, SEMATECH.says("lower limit 45.8159"), READ,
              "printed digits; data from memory", absolute=True, row=1, column=3),
    Published(EWMA, 52.5884, 5e-5, EWMA_CHART.says("upper limit 52.5884"), READ,
              "printed digits", absolute=True, row=1, column=4),
    Published(EWMA, 47.4115, 1e-4, EWMA_CHART.says("lower limit 47.4115"), READ,
              "printed from a rounded root", absolute=True, row=1, column=3),
    Published(EWMA, 51.99, 0.005, EWMA_CHART.says("last value 51.99"), READ,
              "printed digits", absolute=True, row=20, column=1),
    Published(CUSUM, 3.01, 0.005, CUSUM_CHART + "upper sum 3.01 at group 13", MEMORY,
              "printed digits", absolute=True, row=13, column=1),
    Published(CUSUM, 4.94, 0.005, CUSUM_CHART + "upper sum 4.94 at group 14, the signal",
              MEMORY, "printed digits", absolute=True, row=14, column=1),
    Published(CORRECTION, 0.00218, 5e-6, GUM_H3 + "slope 0.00218", LIBRARY, "printed digits",
              absolute=True, row=1, column=1),
    Published(CORRECTION, 0.00067, 5e-6, GUM_H3 + "standard uncertainty of the slope 0.00067",
              LIBRARY, "printed digits", absolute=True, row=2, column=1),
]  # fmt: skip

INVARIANTS = [
    Invariant(CUSUM.replace(SUMMED, MIRRORED), "below", "the same shift downwards", row=14,
              column=5),
    Invariant("GAS_TREND({1;2;3;4}, {30;27.9;26.1;24}, 20, 0.5)",
              "GAS_TREND({1;2;3;4}, {10;12.1;13.9;16}, 20, 0.5)",
              "falling to the limit as the other rises to it", row=6, column=1),
    Invariant("GAS_TREND({1;2;3;4}, {10;12.1;13.9;16}, 20)",
              "GAS_TREND({1;2;3;4}, {10;12.1;13.9;16}, 20, 0.9)", "90 % unless told", row=5,
              column=1),
    Invariant(
        "GAS_TREND({1;2;3;4}, {10;12.1;13.9;16}, 20, 0.5)",
        2.5 + (27.72 - (27.72**2 - 4 * 3.9192 * 48.9985) ** 0.5) / (2 * 3.9192),
        "by hand: x = 13 + 1.98 u, s² = 0.009, t² of 2 at 75 % is 2/3: "
        "(1.98 u - 7)² = 0.006 (1/4 + u²/5)",
        row=5, column=1,
    ),
    Invariant(CUSUM, "within", "group 13 is within", row=13, column=5),
    Invariant(CUSUM, "above", "group 14 is the first above", row=14, column=5),
    Invariant(f'GAS_CONTROL_CHART({FLOW}, "ewma", , , , 1)', INDIVIDUALS,
              "with all weight on the newest reading the smoothed chart is that of individuals",
              row=3, column=4),
    Invariant("GAS_CONTROL_CHART({1;10;1;10;1;10}, , , , , , , \"yes\")", 10**0.5,
              "on the logarithm the centre is the geometric mean", row=1, column=2),
    Invariant("GAS_CONTROL_CHART({2;3;2;3;2;9}, , 5)", "above",
              "the baseline alone tells what is usual", row=6, column=5),
    Invariant("GAS_CONTROL_CHART({2;3;2;3;2;9})", "within",
              "without a baseline the odd one widens the limits", row=6, column=5),
    Invariant("GAS_CONTROL_CHART({1;-9}, , , 0, 3, , 2)", "below", "a width of its own",
              row=2, column=5),
    Invariant('GAS_CONTROL_CHART({1;"<4";2}, , , 1, 1)', "within",
              "what cannot be read is left out and the others stand", row=3, column=5),
    Invariant("GAS_TREND({1;2;3;4}, {10;12;14;16}, 20)", 6, "an exact line", row=5, column=1),
    Invariant(f"GAS_TREND({RISING}, 50)", f"GAS_TREND({RISING}, 50, 0.5)",
              "the best date does not depend on the confidence", row=4, column=1),
    Invariant("GAS_TREND({1;2;3;4}, {5;4.9;5;5.1}, 9)", "never", "no trend is proved",
              row=6, column=1),
    Invariant("GAS_TREND({1;2;3;4}, {5;4.9;5;5.1}, 5)", "any day", "it may be reached already",
              row=5, column=1),
    Invariant(f'GAS_CONTROL_CHART({SUMMED}, "cusum", , 325, 0.635)', 5 * 0.635,
              "the sums' limit is five standard deviations unless told", row=1, column=4),
    Invariant('GAS_CONTROL_CHART({1;10;1;10;1;10}, , , 10, , , , "yes")', 10,
              "on the logarithm a target is told as it is", row=1, column=2),
    Invariant('GAS_CONTROL_CHART({1;10;1;10;1;10}, , , 0.5, , , , "yes")', 0.5,
              "and may be below 1", row=1, column=2),
    Invariant("GAS_CONTROL_CHART({3}, , , 0, 1)", "within", "what equals its limit is within",
              row=1, column=5),
    Invariant("GAS_CONTROL_CHART({-3}, , , 0, 1)", "within", "and below", row=1, column=5),
    Invariant("GAS_TREND({1;2;3}, {10;12;14}, 20)", 6, "three readings are a trend", row=4,
              column=1),
    Invariant("GAS_TREND({1;2;3;4}, {10;12;14;16}, 20)", 0, "an exact line is no chance", row=3,
              column=1),
    Invariant("GAS_TREND({1;2;3;4}, {10;12;14;16}, 20)",
              "a trend is proved with this confidence", "the limit is ahead", row=4, column=2),
    Invariant("GAS_TREND({1;2;3;4}, {10;12;14;16}, 16)",
              "a trend is proved with this confidence; the line met the limit before the last "
              "reading: it is passed, or moved away from", "the last reading is at the limit",
              row=4, column=2),
    Invariant("GAS_TREND({1;2;3;4}, {5;5;5;5}, 9)", 1, "no slope is sure to be chance", row=3,
              column=1),
    Invariant("GAS_TREND({1;2;3;4}, {5;5;5;5}, 9)", "the readings do not change",
              "nothing will reach the limit", row=4, column=2),
    Invariant("GAS_TREND({1;2;3;4}, {5;5;5;5}, 9)", "never", "nothing will reach the limit",
              row=4, column=1),
    Invariant("GAS_TREND({2;3;4;5}, {2;3;4;5}, 2958465)", 2958465, "the last day of a sheet",
              row=4, column=1),
    Invariant("GAS_TREND({2;3;4;5}, {2;3;4;5}, 2958466)", "never", "a day later", row=4, column=1),
    Invariant("GAS_TREND({2;3;4;5}, {2;3;4;5}, 1)", 1, "the first day of a sheet", row=4,
              column=1),
    Invariant("GAS_TREND({2;3;4;5}, {2;3;4;5}, 0.5)", "before 1900", "half a day before", row=4,
              column=1),
    Invariant("GAS_TREND({2958464;2958465;2958463}, {3;4;2}, 4)", 2958465,
              "readings to the last day of a sheet", row=4, column=1),
    Invariant(CUSUM, 0, "both sums begin at nothing", row=1, column=1),
    Invariant(
        "GAS_TREND({1;1;3;3}, {2;4;6;8}, 20)", 2,
        "two dates: the means are 3 and 7, two days apart", row=1, column=1,
    ),
    Invariant(
        "GAS_TREND({1;1;3;3}, {2;4;6;8}, 20)", 9.5, "from 5 at day 2 it takes 7.5 days to 20",
        row=4, column=1,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal(
        'GAS_CONTROL_CHART({1;10;1;10;1;10}, , , 0, , , , "yes")',
        "#NUM!",
        "target: must be above 0",
    ),
    Refusal('GAS_CONTROL_CHART({"";""}, , , 2, 1)', "#NUM!", "holds no reading"),
    Refusal("GAS_TREND({1;2;2958466}, {1;2;3}, 4)", "#NUM!", "dates"),
    Refusal("GAS_CONTROL_CHART({1;2;3}, , , 2)", "#NUM!", "or give both"),
    Refusal("GAS_CONTROL_CHART({1;2;3})", "#NUM!", "holds 3 readings"),
    Refusal("GAS_CONTROL_CHART({2;2;2;2;2})", "#NUM!", "do not differ at all"),
    Refusal('GAS_CONTROL_CHART({1;0;2;3;4;5}, , , , , , , "yes")', "#NUM!", "must be above 0"),
    Refusal('GAS_CONTROL_CHART("<4")', "#VALUE!", "is not a number"),
    Refusal('GAS_CONTROL_CHART({1;2;3;4;5;6}, "shewhart")', "#VALUE!", "individuals, ewma, cusum"),
    Refusal("GAS_CONTROL_CHART({1;2;3;4;5;6}, , 3)", "#NUM!", "is below 5"),
    Refusal("GAS_TREND({1;2}, {1;2}, 3)", "#NUM!", "a trend needs 3 readings"),
    Refusal("GAS_TREND({1;1;1}, {1;2;3}, 3)", "#NUM!", "not all on one date"),
    Refusal("GAS_TREND({1;2;3}, {1;2}, 3)", "#NUM!", "give ranges of the same size"),
    Refusal('GAS_TREND({1;"";3;4}, {1;2;3;4}, 3)', "#NUM!", "blank beside a reading"),
    Refusal("GAS_TREND({1;2;3}, {1;2;3}, 3, 1)", "#NUM!", "between 0 and 1"),
]
