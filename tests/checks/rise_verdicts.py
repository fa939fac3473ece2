"""Checks of the topic tightness: what a test says of itself, word for word, and at its limits."""

from math import exp, log1p

from tests.checks.kinds import Invariant, Refusal


def array(hours: list[float]) -> str:
    return "{" + ";".join(f"{t:.10g}" for t in hours) + "}"


def pascals(values: list[float]) -> str:
    return "{" + ";".join(f'"{p:.12f} Pa"' for p in values) + "}"


def rise(leak: float, outgassing: float, hours: list[float]) -> str:
    """Times and pressures of a rise without scatter; the outgassing has a time constant of 1 h."""
    return f"{array(hours)}, " + pascals(
        [10 + leak * t + outgassing * (1 - exp(-t)) for t in hours]
    )


HOURS = [0.25 * step for step in range(21)]
EIGHT = [5 * step / 7 for step in range(8)]
TEN = [5 * step / 9 for step in range(10)]

TOLD = rise(3.6, 7.2, HOURS)
STRAIGHT = rise(3.6, 0.0, HOURS)
TIGHT = rise(0.0, 7.2, HOURS)
QUICKER = f"{array(HOURS)}, {pascals([10 + t**2 for t in HOURS])}"
POWER = f"{array(HOURS)}, {pascals([10 + 3.6 * t + 2 * log1p(t / 0.5) for t in HOURS])}"
FELL = f"{array(HOURS)}, {pascals([10 - t for t in HOURS])}"

AT_THE_END = (3.6 + 7.2 * exp(-5)) / 360
"""mbar·L/s: leak and what is left of the outgassing."""

FALLS = "as neither leak nor outgassing makes it; look at the gauge, the temperature and the pump's"
OF_FEW = (
    "so few readings give only an upper bound, leak and outgassing together, and it is above the "
    "limit; pump longer first, or read 10 times or more"
)
TOGETHER = (
    "the upper bound of the leak is above the limit, and how much of it is outgassing this record "
    "cannot tell; pump longer first, or read for longer"
)
OVER = "the band reaches over the limit; "
DECAY = 'GAS_DECAY_VERDICT(40, 13.5, 20, 13.4, 20, {hours}, {limit:.6g}, , "u 10 mbar", "u 1e-9 K")'


def decay(hours: float, longer: float) -> str:
    """A decay test that would have told its leak from the limit in a longer one: its band is as
    much too wide as it is too short."""
    leak = 40e3 * 100 / (hours * 3600)
    half = 1.959964 * 10 * 2**0.5 / 100 * leak
    return DECAY.format(hours=hours, limit=leak - half * hours / longer)


WORDS = [
    Invariant(
        f"GAS_RISE_FIT({TOLD}, 1)",
        "told apart from outgassing",
        "a leak that is proved",
        row=1,
        column=5,
    ),
    Invariant(
        f"GAS_RISE_FIT({TIGHT}, 1)",
        "told apart from outgassing; no leak is proved: its band reaches down to zero",
        "outgassing alone",
        row=1,
        column=5,
    ),
    Invariant(f"GAS_RISE_FIT({TIGHT}, 1)", 0, "no leak is below nothing", row=1, column=6),
    Invariant(
        f"GAS_RISE_FIT({rise(3.6, 7.2, TEN)}, 1)",
        "told apart from outgassing",
        "ten readings are enough",
        row=1,
        column=5,
    ),
    Invariant(
        f"GAS_RISE_FIT({rise(3.6, 7.2, EIGHT)}, 1)",
        "at most: under 10 readings cannot tell leak and outgassing apart; this is their sum at "
        "the end",
        "eight readings are too few",
        row=1,
        column=5,
    ),
    Invariant(
        f"GAS_RISE_FIT({rise(3.6, 7.2, EIGHT)}, 1)",
        AT_THE_END,
        "what goes on at the end of eight readings",
        within=1e-6,
        row=1,
        column=1,
    ),
    Invariant(f"GAS_RISE_FIT({STRAIGHT}, 1)", 0, "all may be outgassing", row=1, column=6),
    Invariant(
        f"GAS_RISE_FIT({STRAIGHT}, 1)",
        "cannot be told from this record",
        "a straight rise shows no outgassing apart",
        row=2,
        column=5,
    ),
    Invariant(
        f"GAS_RISE_FIT({POWER}, 1)",
        "fits: chance of its misfit 1, exponent 1",
        "a record made by a power law of exponent 1",
        row=6,
        column=5,
    ),
    Invariant(
        f"GAS_RISE_FIT({POWER}, 1)",
        "by the model: power law",
        "the third of the models",
        row=6,
        column=0,
    ),
    Invariant(
        f"GAS_RISE_FIT({QUICKER}, 1)",
        "cannot be told: the pressure rises faster and faster, as neither leak nor outgassing "
        "makes it; look for warming. This is the mean",
        "a rise that quickens",
        row=1,
        column=5,
    ),
    Invariant(
        f"GAS_RISE_FIT({QUICKER}, 1)",
        5 / 360,
        "25 Pa in 5 h in 1 m³: the straight line of a parabola has the slope of its ends",
        within=1e-9,
        row=1,
        column=1,
    ),
]

VERDICTS = [
    Invariant(
        f'GAS_RISE_VERDICT({TOLD}, 2, "0.015 mbar L/s")',
        "leaks",
        "in twice the volume the leak is 0.02 mbar·L/s",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({TOLD}, 1, "1.8 Pa/h")',
        "the whole band is above the limit; outgassing or a virtual leak that dies away slower "
        "than the record lasts looks the same",
        "a leak of twice the limit",
        row=1,
        column=5,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({TOLD}, 1, "3.6 Pa/h")',
        OVER.replace("band", "band of the leak")
        + "read for longer, more often, or with a finer gauge",
        "a leak as large as the limit",
        row=1,
        column=5,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({TOLD}, 1, "3.6 Pa/h")',
        "cannot tell",
        "a leak as large as the limit",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({STRAIGHT}, 1, "1.8 Pa/h")', TOGETHER, "a straight rise", row=1, column=5
    ),
    Invariant(
        f'GAS_RISE_VERDICT({rise(3.6, 0, TEN)}, 1, "1.8 Pa/h")',
        TOGETHER,
        "ten readings are not few",
        row=1,
        column=5,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({rise(3.6, 7.2, EIGHT)}, 1, "1.8 Pa/h")',
        OF_FEW,
        "eight readings are few",
        row=1,
        column=5,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({rise(3.6, 0, EIGHT[:6])}, 1, "360 Pa/h")',
        "tight",
        "six readings tell their scatter themselves",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({FELL}, 1, "1 mbar L/s")',
        f"the pressure falls, {FALLS} valve",
        "a pressure that falls is no test",
        row=1,
        column=5,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({QUICKER}, 1, "1 mbar L/s")',
        "the pressure rises faster and faster, as neither leak nor outgassing makes it; look for "
        "warming",
        "a rise that quickens is no test",
        row=1,
        column=5,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({array(HOURS)}, {pascals([p / 1000 for p in range(10, 31)])}, 1000, 1)',
        f'GAS_RISE_VERDICT({array(HOURS)}, {pascals([float(p) for p in range(10, 31)])}, 1, 1)',
        "a thousandth of the pressures in a thousand times the volume",
        within=1e-5,
        row=1,
        column=2,
    ),
    Invariant(
        f'GAS_RISE_VERDICT({TOLD}, 1, 1, "u 0.004 Pa")',
        f"GAS_RISE_VERDICT({TOLD}, 1, 1)",
        "no gauge follows a rise of 25 Pa better than to 0.005 Pa",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, "3 Pa/h", "±0.6 Pa; ±10 %")',
        1 / 360 + 1.96 * (0.12 * 2 + 0.01 / 3) ** 0.5 / 360,
        "the gauge's scale counts for the rise alone",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, "3 Pa/h", "±0.6 Pa")',
        0,
        "all of the rise may be outgassing",
        row=1,
        column=1,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, "3 Pa/h", "±0.6 Pa")',
        "tight",
        "1 Pa/h and up to 0.96 of its error are below 3",
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, "1.5 Pa/h", "±0.6 Pa")',
        OF_FEW,
        "1 Pa/h and 0.96 of its error are above 1.5",
        row=1,
        column=5,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;1}, {"2 Pa";"1 Pa"}, 1, "3 Pa/h", "±0.1 Pa")',
        f"the pressure fell by more than its tolerance, {FALLS} valve",
        "two readings, the second of them lower",
        row=1,
        column=5,
    ),
    Invariant(
        'GAS_RISE_VERDICT({36525;36526}, {"1 Pa";"2 Pa"}, 1, 1, "±0.6 Pa")',
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, 1, "±0.6 Pa")',
        "the last day of 1999 is read as hours",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_RISE_VERDICT({73050;73051}, {"1 Pa";"2 Pa"}, 1, 1, "±0.6 Pa")',
        'GAS_RISE_VERDICT({0;1}, {"1 Pa";"2 Pa"}, 1, 1, "±0.6 Pa")',
        "the first day of 2100 is read as hours",
        row=1,
        column=2,
    ),
    Invariant(
        'GAS_RISE_VERDICT({0;720}, {"1 Pa";"2 Pa"}, 1, 1, "±0.6 Pa")',
        1 / 360 / 720,
        "thirty days are a test",
        row=1,
        column=0,
    ),
    Invariant(
        decay(48, 98), f"{OVER}a test of about 4.1 d would tell, or finer readings", "98 h",
        row=1, column=5,
    ),
    Invariant(
        decay(12, 19), f"{OVER}a test of about 19 h would tell, or finer readings", "19 h",
        row=1, column=5,
    ),
    Invariant(
        decay(48, 60), f"{OVER}a test of about 2.5 d would tell, or finer readings", "60 h",
        row=1, column=5,
    ),
    Invariant(
        decay(48, 29.5 * 24), f"{OVER}a test of about 29.5 d would tell, or finer readings",
        "a month", row=1, column=5,
    ),
    Invariant(
        decay(48, 30.5 * 24),
        f"{OVER}finer readings would tell, or the gas at a steady temperature",
        "more than the thirty days that a test may last",
        row=1,
        column=5,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 20, 13.4, 20, 48, 60, , "±1 mbar")',
        "nothing says how good the readings are; give pressure_tolerance and temperature_tolerance",
        "a thermometer of which nothing is known",
        row=1,
        column=5,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 20, 13.5, 20, 48, "0 mbar L/s", , "±0 mbar", "±0 K")',
        "tight",
        "nothing is lost for certain",
        row=1,
        column=4,
    ),
    Invariant(
        'GAS_DECAY_VERDICT(40, 13.5, 20, 13.4, 20, 48, 1, , "±0 mbar", "±0 K")',
        0,
        "readings without error see any leak",
        row=1,
        column=3,
    ),
    Invariant(
        "GAS_DECAY_LEAK(1, 50, 20, 49, 20, 1)",
        1e6 / 3600,
        "1 bar of 1 m³ in 1 h; up to 50 bar as an ideal gas",
        within=1e-9,
    ),
    Invariant('GAS_RISE_LEAK(1, "5 Pa", "5 Pa", 1)', 0, "no rise, no leak"),
]  # fmt: skip

REFUSED = [
    Refusal("GAS_DECAY_LEAK(1, 50.1, 20, 49, 20, 1)", "#NUM!", "name the gas"),
    Refusal('GAS_RISE_VERDICT({36526;36527}, {1;2}, 1, 1, "±1 Pa")', "#NUM!", "look like dates"),
    Refusal('GAS_RISE_VERDICT({73049;73050}, {1;2}, 1, 1, "±1 Pa")', "#NUM!", "look like dates"),
    Refusal('GAS_RISE_VERDICT({0;721}, {1;2}, 1, 1, "±1 Pa")', "#NUM!", "span 30.04 days"),
]
