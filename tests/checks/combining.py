"""Checks of the topic combining."""

from math import sqrt

from tests.checks.kinds import LIBRARY, MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import EPA, GUM

JCGM_101 = "JCGM 101:2008, additive model, "
STUDENT = "Student's t, two-sided 95 %: "
CURRIE = "Counting statistics after Currie, background of 100 counts, paired: "
SCATTER = "printed digit, and 0.02 for the scatter of 100,000 trials"
ROOT = repr(sqrt(3))

FOUR = f'GAS_COMBINE({{0;0;0;0}}, "±{ROOT}")'
ONE_WIDE = f'GAS_COMBINE({{0;0;0;0}}, {{"±{ROOT}";"±{ROOT}";"±{ROOT}";"±{10 * sqrt(3)!r}"}})'
GAUGE_BLOCK = 'GAS_COMBINE({0;0;0;0}, {"u 25 df=18";"u 9.7 df=25.6";"u 2.9 df=50";"u 16.6 df=2"})'

VDI_2048 = "example of VDI 2048 in the regression test of the library `dvrlib`: "
FLOWS = [46.241, 45.668, 44.575, 44.319, 0.525, 69.978, 10.364, 3.744, 4.391, 18.498]
BANDS = [0.8, 0.79, 0.535, 0.532, 0.105, 0.854, 0.168, 0.058, 0.058, 0.205]
SHARED = {0: (0.2, "feed"), 1: (0.2, "feed"), 2: (0.4, "spray"), 3: (0.4, "spray")}
"""Coefficient of correlation of two flows, told as an error that they share."""
STEAM_BALANCES = "{1,1,-1,-1,0.4,0,0,0,0,0;0,0,1,1,-1,-1,-1,-1,-1,0;0,0,0,0,0,0,1,1,1,-1}"
RECONCILED = [
    44.964489, 44.417972, 44.925904, 44.667096, 0.526348, 70.553061, 10.375783, 3.745404,
    4.392404, 18.513592,
]  # fmt: skip


def steam_plant() -> str:
    tolerances = []
    for place, band in enumerate(BANDS):
        share, name = SHARED.get(place, (0.0, ""))
        shared = f"±{band * sqrt(share)!r} 95% {name}; " if share else ""
        tolerances.append(f'"{shared}±{band * sqrt(1 - share)!r} 95%"')
    values = ";".join(map(str, FLOWS))
    return f"GAS_RECONCILE({{{values}}}, {{{';'.join(tolerances)}}}, {STEAM_BALANCES})"


STEAM = steam_plant()
SPLIT = '{100;62;36}, {"±2 95%";"±1 95%";"±1 95%"}'

PUBLISHED = [
    *(
        Published(STEAM, value, 5e-7, VDI_2048 + f"{value}", LIBRARY, "printed digits",
                  absolute=True, row=4 + place, column=4)
        for place, value in enumerate(RECONCILED)
    ),
    *(
        Published(STEAM, band, 5e-4, VDI_2048 + f"95 % band after it {band}", LIBRARY,
                  "printed digits", absolute=True, row=row, column=5)
        for row, band in ((4, 0.576), (10, 0.133), (13, 0.137))
    ),
    Published(STEAM, 20.31, 0.005, VDI_2048 + "χ² 20.31", LIBRARY, "printed digits", absolute=True,
              row=1, column=2),
    Published(STEAM, 7.81, 0.005, VDI_2048 + "limit 7.81 of three balances", LIBRARY,
              "printed digits", absolute=True, row=2, column=2),
    Published(FOUR, 3.92, 0.005, JCGM_101 + "9.2.3: first order ±3.92", MEMORY, "printed digits",
              absolute=True, row=2, column=5),
    Published(FOUR, 3.88, 0.025, JCGM_101 + "9.2.3: Monte Carlo ±3.88", MEMORY, SCATTER,
              absolute=True, row=3, column=5),
    Published(ONE_WIDE, 10.1, 0.06, JCGM_101 + "9.2.4: u 10.1", MEMORY, "printed digits",
              absolute=True, row=1, column=3),
    Published(ONE_WIDE, 19.9, 0.05, JCGM_101 + "9.2.4: first order ±19.9", MEMORY,
              "printed digits", absolute=True, row=2, column=5),
    Published(ONE_WIDE, 17.0, 0.15, JCGM_101 + "9.2.4: Monte Carlo ±17.0, which is given", MEMORY,
              "printed digit, and the scatter of 100,000 trials", absolute=True, row=1, column=5),
    Published(GAUGE_BLOCK, 31.66, 0.05, GUM.says("gauge block, u 31.66 nm of four parts"), READ,
              "its components are printed to 0.1", absolute=True, row=2, column=3),
    Published(GAUGE_BLOCK, 16.75, 0.05, GUM.says("gauge block, 16.75 degrees of freedom"), READ,
              "printed from components with more digits", absolute=True, row=2, column=6),
    *(
        Published(f'GAS_COMBINE(0, "u 1 df={freedom}")', factor, 0.0005,
                  EPA.says(STUDENT + str(factor)), READ, "printed digits",
                  absolute=True, row=2, column=5)
        for freedom, factor in ((4, 2.776), (9, 2.262), (16, 2.120), (30, 2.042))
    ),
    Published("GAS_DETECTABLE(14.142136)", 49.2 - 2.71, 0.05,
              CURRIE + "49.2, of which 2.71 for counting few", SEEN, "printed digits",
              absolute=True, reckoned=True),
]  # fmt: skip

INVARIANTS = [
    Invariant('GAS_COMBINE({3;4}, {"u 3";"u 4"})', 5.0, "independent errors add in squares",
              row=1, column=3),
    Invariant('GAS_COMBINE({3;4}, {"u 3 a";"u 4 a"})', 7.0, "one error adds as it is",
              row=1, column=3),
    Invariant('GAS_COMBINE({3;4}, {"u 3";"u 4"}, {"a";"A "})', 7.0,
              "a name may stand in a column of its own, in any case", row=1, column=3),
    Invariant('GAS_COMBINE({500;-500}, "±2 % volume")', 0.0,
              "an error that both sides of a difference share falls out", within=1e-9, row=1,
              column=3),
    Invariant('GAS_COMBINE({500;-400}, "u 3 gauge")', 0.0,
              "a gauge that reads too much does so on both sides", row=1, column=3),
    Invariant('GAS_COMBINE({100;100;100;100}, "±3 % volume")',
              'GAS_COMBINE(400, "±3 %")', "one volume's error is not divided by the root of n",
              row=2, column=3),
    Invariant('GAS_COMBINE({10;20}, {"u 1 % of 300";"u 4"})', 5.0, "a share of a span",
              row=1, column=3),
    Invariant('GAS_COMBINE({10;20}, "u 1 gauge; u 3")', sqrt(4 + 18),
              "a shared error and one of its own on each value", row=1, column=3),
    Invariant(ONE_WIDE, "Monte Carlo, 100,000 trials: the first order differs from it",
              "which band is given is said", row=1, column=8),
    Invariant(FOUR, "first order; Monte Carlo, 100,000 trials, agrees", "and so where they agree",
              row=1, column=8),
    Invariant("GAS_CONFORMS(-5.47, 0.05, -5.40, , 0.085)", "yes",
              "JCGM 106 (from memory): this value conforms with a probability of 0.92"),
    Invariant("GAS_CONFORMS(-5.47, 0.05, -5.40, , 0.075)", "cannot tell",
              "JCGM 106 (from memory): this value conforms with a probability of 0.92"),
    Invariant("GAS_CONFORMS(5.47, 0.05, 5.40, \"at least\", 0.085)", "yes",
              "the same from the other side"),
    Invariant("GAS_CONFORMS(164, 51, 100)", "cannot tell", "1.25 u above the limit, 1.645 needed"),
    Invariant("GAS_CONFORMS(185, 51, 100)", "no", "1.67 u above the limit"),
    Invariant("GAS_CONFORMS(185, 51, 100, , , 3)", "cannot tell",
              "with 3 degrees of freedom 2.353 u are needed"),
    Invariant("GAS_CONFORMS(100, 0, 100)", "yes", "what equals the limit keeps it"),
    Invariant("GAS_CONFORMS(0.30000000000000004, 0, 0.3)", "yes", "0.1 + 0.2, in binary"),
    Invariant("GAS_CONFORMS(0.300001, 0, 0.3)", "no", "a millionth above is above"),
    Invariant(STEAM, "fails: a value, a tolerance or a balance is wrong",
              "the example fails the test of the whole, and has to", row=1, column=7),
    Invariant(STEAM, "value 1 or value 2", "the two feed flows move most for what they may",
              row=3, column=1),
    Invariant(f"GAS_RECONCILE({SPLIT}, {{1,-1,-1}})", 100 - 2 * 4 / 6,
              "the gap of 2 is shared out by the squares of the bands", row=4, column=4),
    Invariant(f"GAS_RECONCILE({SPLIT}, {{1;-1;-1}})", f"GAS_RECONCILE({SPLIT}, {{1,-1,-1}})",
              "a balance may stand in a row or beside the values", row=5, column=4),
    Invariant(f"GAS_RECONCILE({SPLIT}, {{1,-1,-1}})", "passes", "2 is within its band of 2.45",
              row=1, column=7),
    Invariant('GAS_RECONCILE({100;60}, {"";"±1 95%"}, {1,-1})', 100.0,
              "what is exact stays and the other follows", row=5, column=4),
    Invariant("GAS_DETECTABLE(1)", 3.289707, "3.29 u, twice 1.645", within=1e-6),
    Invariant("GAS_DETECTABLE(1, 0.01)", 4.652696, "twice 2.326 at a risk of 1 %", within=1e-6),
    Invariant(FOUR, 2.0, "four errors of 1 that nothing shares add as squares", row=4, column=3),
    Invariant(FOUR, 1.0, "they are all of the variance", row=4, column=7),
    Invariant(
        'GAS_RECONCILE({100;62;36;5}, {"±2 95%";"±1 95%";"±1 95%";"±1 95%"}, {1,-1,-1,""})',
        'GAS_RECONCILE({100;62;36;5}, {"±2 95%";"±1 95%";"±1 95%";"±1 95%"}, {1,-1,-1,0})',
        "a blank coefficient is none", row=4, column=4,
    ),
    Invariant('GAS_COMBINE({0;5}, "u 1 gauge")', 2.0,
              "a gauge that reads too much does so at nothing too", row=1, column=3),
    Invariant('GAS_COMBINE({0.5;5}, "u 1 gauge")', 2.0, "and below 1", row=1, column=3),
    Invariant(FOUR, "own errors of 4 values", "each value has one of its own", row=4, column=1),
    Invariant('GAS_COMBINE({10;20}, "u 1 gauge; u 3")', "own errors of 2 values",
              "each has one beside the shared one", row=5, column=1),
    Invariant('GAS_COMBINE({10;20}, "u 1 gauge; u 3")', sqrt(18), "two of 3 add as squares",
              row=5, column=3),
    Invariant("GAS_CONFORMS(1, 1, 2, , 0.5)", "yes", "at a risk of one half the value decides"),
    Invariant("GAS_CONFORMS(0, 0, 0)", "yes", "nothing keeps a limit of nothing"),
    Invariant("GAS_CONFORMS(3000000000001, 0, 3000000000000)", "yes",
              "a part of three in ten million million is lost in rounding"),
    Invariant("GAS_CONFORMS(1, 1e15, 2)", "cannot tell", "the largest uncertainty"),
    Invariant(
        'GAS_RECONCILE({1000000;400000;600000;0.001;0.0004;0.0006}, "u 1 %", '
        "{1,-1,-1,0,0,0;0,0,0,1,-1,-1})", 0.001, "balances of quite other sizes are independent",
        row=7, column=4,
    ),
    Invariant(STEAM, "suspect", "the first feed flow", row=4, column=7),
    Invariant(STEAM, "", "the steam is none", row=6, column=7),
    Invariant(STEAM, "measure it again", "what to do with a suspect", row=3, column=7),
    Invariant(
        'GAS_COMBINE({0;0}, "u 2 gauge")', 4, "an error that both share adds as it stands", row=4,
        column=3,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal("GAS_COMBINE({1;2}, 0.03)", "#VALUE!", 'write the tolerance as text: "±3 %"'),
    Refusal('GAS_COMBINE({1;2}, "±3 bar")', "#VALUE!", "a unit cannot stand where"),
    Refusal('GAS_COMBINE({1;2}, "-3 %")', "#NUM!", "below zero"),
    Refusal('GAS_COMBINE({1;2}, "about 3")', "#VALUE!", "is not a tolerance"),
    Refusal('GAS_COMBINE({1;2}, {"±1";"±1";"±1"})', "#VALUE!", "holds 3 cells for 2 values"),
    Refusal('GAS_COMBINE({1;2}, {"±1 a";"u 1 a"})', "#VALUE!", "told in two ways"),
    Refusal('GAS_COMBINE({1;2}, "±1", {"a";5})', "#VALUE!", "is not a name"),
    Refusal('GAS_COMBINE(1, "u 1 df=0.5")', "#NUM!", "degrees of freedom are too few"),
    Refusal('GAS_COMBINE({"";""}, "±1")', "#NUM!", "holds no value"),
    Refusal("GAS_CONFORMS(1, -1, 2)", "#NUM!", "uncertainty"),
    Refusal("GAS_CONFORMS(1, 1.05e15, 2)", "#NUM!", "uncertainty"),
    Refusal("GAS_CONFORMS(1, 1, 2, , 0.51)", "#NUM!", "above 50 %"),
    Refusal("GAS_DETECTABLE(1, 0.51)", "#NUM!", "above 50 %"),
    Refusal("GAS_DETECTABLE(1, 0)", "#NUM!", "must be above 0"),
    Refusal('GAS_RECONCILE({1;2;3}, "±1", {1050000000,1,-2})', "#NUM!", "balances"),
    Refusal('GAS_RECONCILE({1;2;3}, "±1", {-1050000000,1,-2})', "#NUM!", "balances"),
    Refusal('GAS_RECONCILE({1;2}, "±1", {1,-1;1,1})', "#NUM!", "2 values bear fewer"),
    Refusal('GAS_CONFORMS(1, 1, 2, "below")', "#VALUE!", "at most, at least"),
    Refusal("GAS_CONFORMS(1, 1, 2, , 0)", "#NUM!", "must be above 0"),
    Refusal('GAS_RECONCILE({1;2;3}, "±1", {1,1})', "#VALUE!", "each balance needs 3 numbers"),
    Refusal('GAS_RECONCILE({1;2;3}, "±1", {1,1,-2;2,2,-4})', "#NUM!", "not independent"),
    Refusal('GAS_RECONCILE({1;2;3}, {"";"";"±1"}, {1,-1,0})', "#NUM!", "not independent"),
    Refusal('GAS_RECONCILE({1;2;3}, {"";"";"±1"}, {1,-1,0;1,1,-1})', "#NUM!", "not independent"),
    Refusal('GAS_RECONCILE({1;2;3}, "±1", {1,"x",-2})', "#VALUE!", "balances"),
    Refusal('GAS_RECONCILE({1;2;3}, "±1 kg", {1,1,-2})', "#VALUE!", "tolerances"),
    Refusal("GAS_DETECTABLE(1, 0.6)", "#NUM!", "above 50 %"),
    Refusal('GAS_DETECTABLE("5 bar")', "#VALUE!", "a plain number is meant"),
    Refusal('GAS_COMBINE({1;2}, {"±1";"about"})', "#VALUE!", "(item 2)"),
]
