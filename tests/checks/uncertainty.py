"""Checks of the topic uncertainty: printed bands through functions that add and multiply."""

from math import sqrt

from tests.checks.kinds import MEMORY, READ, Invariant, Published, Refusal
from tests.checks.sources import EPA, GUM

JCGM_101 = "JCGM 101:2008, additive model, "
STUDENT = "Student's t, two-sided 95 %: "
SCATTER = "printed digit, and the scatter of 100,000 trials"
ROOT = repr(sqrt(3))


def balance(*tolerances: str, values: str = "500, 100, 100, 500") -> str:
    """A stock's balance, which adds its four arguments; at nothing missing it answers 0."""
    told = ",".join(f'"{each}"' for each in tolerances)
    return f'GAS_UNCERTAINTY("GAS_UNACCOUNTED", {{{told}}}, {values})'


FOUR = balance(*[f"±{ROOT} Nm3"] * 4)
ONE_WIDE = balance(*[f"±{ROOT} Nm3"] * 3, f"±{10 * sqrt(3)!r} Nm3")
GAUGE_BLOCK = balance("u 25 Nm3 df=18", "u 9.7 Nm3 df=25.6", "u 2.9 Nm3 df=50", "u 16.6 Nm3 df=2")
LOSS = 'GAS_UNCERTAINTY("GAS_LEAK_LOSS", {"u 3 %","u 4 %"}, "0.5 mbar L/s", "365 d")'
DECAY = '2.5, "7.00 bar(g)", 21.5, "6.93 bar(g)", 20.1, 12'
FILL = '"argon", 2.5, "0.01 mbar", "2 bar(a)", 20'
TUBE = '"argon", 10, 16, 2.5, "0.01 mbar", 6, 25, 6, 8'

PUBLISHED = [
    Published(FOUR, 2.0, 1e-9, JCGM_101 + "9.2.3: u 2.0", MEMORY, "exact", row=2, column=3),
    Published(FOUR, 3.92, 0.005, JCGM_101 + "9.2.3: first order ±3.92", MEMORY, "printed digits",
              absolute=True, row=2, column=5),
    Published(FOUR, 3.88, 0.025, JCGM_101 + "9.2.3: Monte Carlo ±3.88", MEMORY, SCATTER,
              absolute=True, row=3, column=5),
    Published(ONE_WIDE, 10.1, 0.06, JCGM_101 + "9.2.4: u 10.1", MEMORY, "printed digits",
              absolute=True, row=2, column=3),
    Published(ONE_WIDE, 19.9, 0.05, JCGM_101 + "9.2.4: first order ±19.9", MEMORY,
              "printed digits", absolute=True, row=2, column=5),
    Published(ONE_WIDE, 17.0, 0.15, JCGM_101 + "9.2.4: Monte Carlo ±17.0, which is given", MEMORY,
              SCATTER, absolute=True, row=1, column=5),
    Published(GAUGE_BLOCK, 31.66, 0.05, GUM.says("gauge block, u 31.66 nm of four parts"), READ,
              "its components are printed to 0.1", absolute=True, row=2, column=3),
    Published(GAUGE_BLOCK, 16.75, 0.05, GUM.says("gauge block, 16.75 degrees of freedom"), READ,
              "printed from components with more digits", absolute=True, row=2, column=6),
    *(
        Published(balance(f"u 1 Nm3 df={freedom}"), factor, 0.0005,
                  EPA.says(STUDENT + str(factor)), READ,
                  "printed digits", absolute=True, row=2, column=5)
        for freedom, factor in ((4, 2.776), (9, 2.262), (16, 2.120), (30, 2.042))
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(LOSS,
              'GAS_LEAK_LOSS("0.025 mbar L/s", "365 d")',
              "the shares of a product's factors add in squares: 5 %", within=1e-7, row=2,
              column=3),
    Invariant(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","±3 %"}}, {FILL})', f"GAS_BACKFILL({FILL})",
              "the value is that of the call", row=1, column=2),
    Invariant('GAS_UNCERTAINTY("GAS_CONTENTS", {"","±3 %"}, "argon", 2, 2, 20, "scf")',
              'GAS_CONTENTS("argon", 2, 2, 20, "scf")', "in the unit asked for", row=1, column=2),
    Invariant(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","±3 %"}}, {FILL})', 1.0,
              "one argument brings the whole variance", within=1e-9, row=4, column=7),
    Invariant(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","±2 % of 5 m3"}}, {FILL})',
              f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","±0.1 m3"}}, {FILL})',
              "a share of a span", row=2, column=3),
    Invariant(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","±0.1 m3"}}, {FILL})',
              f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","±3.531466672 ft3"}}, {FILL})',
              "in any unit of the argument", row=2, column=3),
    Invariant('GAS_UNCERTAINTY("GAS_DENSITY", {"","±1 %"}, "argon", "80 psig", 20)',
              'GAS_UNCERTAINTY("GAS_DENSITY", {"","±0.8 psi"}, "argon", "80 psig", 20)',
              "a share of a gauge's reading is of what the gauge reads", row=2, column=3),
    Invariant(balance("u 3 Nm3 gauge", "u 4 Nm3", "u 3 Nm3 gauge"), 4.0,
              "a gauge that reads too much does so at both readings", within=1e-6, row=2,
              column=3),
    Invariant(f'GAS_UNCERTAINTY("GAS_BACKFILL_TIME", {{"","±3 %"}}, {TUBE})', "not run",
              "an integrating function: first order, said", row=3, column=8),
    Invariant('GAS_UNCERTAINTY("GAS_CONTENTS", {"","u 3 % volume"}, "argon", {2;2;2}, 2, 20)',
              'GAS_CONTENTS("argon", 0.18, 2, 20)',
              "one volume's error through three rows is that of their sum", within=1e-4, row=4,
              column=3),
    Invariant('GAS_UNCERTAINTY("GAS_CONTENTS", {"","u 3 %"}, "argon", {2;2;2}, 2, 20)',
              'GAS_CONTENTS("argon", 0.103923048, 2, 20)',
              "own errors of three rows partly average out", within=1e-6, row=4, column=3),
]  # fmt: skip

REFUSALS = [
    Refusal(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"±1 %"}}, {FILL})', "#VALUE!",
            "of gas: is not a number"),
    Refusal(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","±1 K"}}, {FILL})', "#VALUE!", "of volume:"),
    Refusal(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","-1 %"}}, {FILL})', "#NUM!", "below zero"),
    Refusal(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"",0.01}}, {FILL})', "#VALUE!",
            'write the tolerance as text: "±1 %"'),
    Refusal(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"","","","","±1 %"}}, {FILL})', "#VALUE!",
            "where it is counted from"),
    Refusal(f'GAS_UNCERTAINTY("GAS_BACKFILL", {{"",""}}, {FILL})', "#VALUE!", "are all blank"),
    Refusal('GAS_UNCERTAINTY("GAS_DENSITY", {"","","","","±1 %"}, "argon", 2, 20)', "#VALUE!",
            "has 5 cells"),
    Refusal('GAS_UNCERTAINTY("GAS_DENSITY", {"","±1 %"}, "argon", 2, 20, "kg/m3", 1)', "#VALUE!",
            "takes 4 at most"),
    Refusal('GAS_UNCERTAINTY("GAS_DENSITY", {"","±200 %"}, "argon", 2, 20)', "#NUM!",
            "more than 0.1% of the trials are refused"),
    Refusal('GAS_UNCERTAINTY("GAS_DENSITY", {"","±1 %"}, "argon", "6 bar", 20)', "#VALUE!",
            "bar(a) or bar(g)"),
    Refusal('GAS_UNCERTAINTY("GAS_VENT_FILL_TABLE", "±1 %", 1)', "#VALUE!", "answers a table"),
    Refusal('GAS_UNCERTAINTY("GAS_CONFORMS", "±1", 1, 1, 2)', "#VALUE!", "answers a text"),
    Refusal('GAS_UNCERTAINTY("GAS_CHECK", "±1 %", "GAS_DENSITY")', "#VALUE!", "explains other"),
    Refusal('GAS_UNCERTAINTY("GAS_NOTHING", "±1 %", 1)', "#VALUE!", "GAS_LIST"),
    Refusal(f'GAS_UNCERTAINTY("GAS_DECAY_LEAK", {{"","±1 % of 16 bar gauge"}}, {DECAY})',
            "#VALUE!", "could be a part of the unit or a name"),
]  # fmt: skip
