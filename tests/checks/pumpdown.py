"""Checks of the topic pumpdown."""

from math import exp

from tests.checks.kinds import MEMORY, PRACTICE, SEEN, Invariant, Published, Refusal

CUBE = "a vacuum supplier's note: unbaked steel of 2e-8 torr L/(s cm2), a cube of 1 m, 500 L/s: "
OHANLON = (
    "J. F. O'Hanlon, A User's Guide to Vacuum Technology, table of outgassing rates after Elsey: "
)
CURVE = '{"1E-4 mbar";"1E-3 mbar";"1 mbar"}, {0;100;100}'

PUBLISHED = [
    Published(
        'GAS_GAS_LOAD("6 m2", "2E-8 torr L/(s cm2)", 1, 0, 1, "torr L/s")', 2.4e-6 * 500, 1e-6,
        CUBE + "2.4e-6 torr", SEEN, "the note's own product", reckoned=True,
    ),
    Published(
        'GAS_GAS_LOAD("1 m2", "84E-7 W/m2", 1, 0, 10, "Pa m3/s")', 8.0e-7, 0.06,
        OHANLON + "fresh aluminium falls from 84 to 8.0 (1e-7 W/m2) from 1 h to 10 h, exponent 1",
        MEMORY, "one digit of 8; the law alone gives 8.4",
    ),
    Published(
        'GAS_GAS_LOAD("1 cm2", "3E-9 mbar L/(s cm2)", 1, 0, 100)', 3e-11, 1e-9,
        "CERN accelerator school, vacuum: unbaked metal gives off 3e-9 mbar L/(s cm2) / (t / h)",
        MEMORY, "the rule itself",
    ),
    Published(
        'GAS_ULTIMATE_PRESSURE("1E-3 mbar", "500 L/s", "1.2E-3 torr L/s", , , , "torr")', 2.4e-6,
        1e-6, CUBE + "2.4e-6 torr", SEEN, "the note's own quotient",
    ),
    Published(
        'GAS_ULTIMATE_PRESSURE("1E-3 mbar", "1000 L/s", "1E-3 torr L/s", , , , "torr")', 1e-6, 1e-9,
        "vacuum textbooks: a load of 1e-3 torr L/s on 1000 L/s stands at 1e-6 torr", PRACTICE,
        "exact",
    ),
] + [
    Published(
        f'GAS_PUMPDOWN_CURVE("6 ft3", "1 mbar", "4 cfm", "30 inHg(a)", "{minutes} min", , , , , , '
        ', , 3)', inches * 33.86389, 0.004,
        "a text on process calculations, example 14.6: 6 ft3, 4 cfm, 30 inHg to "
        f"{inches} inHg: {minutes} min", SEEN, "three digits of the time", row=3, column=1,
        reckoned=True,
    )
    for inches, minutes in ((6, 2.41), (0.5, 6.14))
] + [
    Published(
        'GAS_PUMPDOWN_CURVE("50 L", "0.1 torr", "1.4 L/s", "760 torr", "320 s", , , , , , , , 2)',
        0.1 * 1.33322, 0.05,
        "Electron-microscopy text, worked example: 50 L, 1.4 L/s, 760 to 0.1 torr: about 320 s",
        SEEN, "two digits of the time: 1 % of it is 9 % of the pressure", row=2, column=1,
        reckoned=True,
    ),
]  # fmt: skip

COURSE = (
    'GAS_PUMPDOWN_CURVE(2.5, "1E-3 mbar", 250, "1 atm", 2, "20 m2", "3E-8 mbar L/(s cm2)", 1, '
    '"1E-4 mbar L/s", 100, 2, "air", 5)'
)

INVARIANTS = [
    Invariant(
        'GAS_GAS_LOAD({1;2}, {"3E-9 mbar L/(s cm2)";"3E-9 mbar L/(s cm2)"}, {1;1}, , 7)',
        'GAS_GAS_LOAD(3, "3E-9 mbar L/(s cm2)", 1, 0, 7)', "areas of one material add up",
    ),
    Invariant(
        'GAS_GAS_LOAD(3, "3E-9 mbar L/(s cm2)", 0, "1E-3 mbar L/s", 99)', 3e-9 * 3e4 + 1e-3,
        "an exponent of 0 does not fall; the leak is added",
    ),
    Invariant(
        'GAS_GAS_LOAD(3, "2E-9 torr L/(s cm2)", 0.5, 0, 9, "torr L/s")', 2e-9 * 3e4 / 3,
        "the root of nine hours is three",
    ),
    Invariant(
        f'GAS_ULTIMATE_PRESSURE({CURVE}, 0, , , , "mbar")', 1e-4,
        "without a load the pump's own ultimate pressure", 1e-6,
    ),
    Invariant(
        'GAS_ULTIMATE_PRESSURE("1E-3 mbar", 250, "1E-3 mbar L/s", 400, 0, , "mbar")',
        'GAS_ULTIMATE_PRESSURE("1E-3 mbar", 250, "1E-3 mbar L/s", , , , "mbar")',
        "a wide opening costs little", 0.01,
    ),
    Invariant(
        COURSE, 0.0001 + 3e-8 * 2e5 / 2, "the load after 2 h: half the outgassing, and the leak",
        row=5, column=3,
    ),
    Invariant(
        'GAS_PUMPDOWN_CURVE(2, "1 mbar", 100, 1, 10, "1 m2", "1E-4 mbar L/(s cm2)", 0, 0, 40, 3, '
        '"argon", 3)',
        'GAS_ULTIMATE_PRESSURE("1 mbar", 100, "1 mbar L/s", 40, 3, "argon", "mbar")',
        "with a steady load it ends at the ultimate pressure", 1e-3, row=3, column=1,
    ),
    Invariant(
        'GAS_PUMPDOWN_CURVE(2, "1 mbar", 100, "1E-9 Pa", 10, "1 m2", "1E-4 mbar L/(s cm2)", 0, 0, '
        '40, 3, "argon", 3)',
        'GAS_ULTIMATE_PRESSURE("1 mbar", 100, "1 mbar L/s", 40, 3, "argon", "mbar")',
        "from wherever it began", 1e-3, row=3, column=1,
    ),
    Invariant(
        'GAS_GAS_LOAD(3, "2E-9 torr L/(s cm2)", 0.5, 0, "1 min", "torr L/s")', 2e-9 * 3e4 * 60**0.5,
        "a minute after the start the law holds",
    ),
    Invariant(
        'GAS_ULTIMATE_PRESSURE({"0.1 mbar";"1 mbar";"2 mbar"}, {0;100;50}, "1 mbar L/s")',
        'GAS_ULTIMATE_PRESSURE({"0.1 mbar";"1 mbar"}, {0;100}, "1 mbar L/s")',
        "what the pump does at higher pressures does not matter; it may take the same there",
    ),
    Invariant(
        'GAS_ULTIMATE_PRESSURE({"0.01 mbar";"1 mbar"}, {360;360}, "1.5 mbar L/s", , , , "mbar")',
        0.015, "360 m³/h are 100 L/s, just above where the curve begins too",
    ),
    Invariant(
        f'GAS_PUMPDOWN_CURVE(2, {CURVE}, "1E-5 mbar", 1, , , , "1E-6 mbar L/s", , , , 3)',
        1e-5 + 1e-6 * 3600 / 2000, "below its ultimate pressure a pump takes nothing", 1e-6,
        row=3, column=1,
    ),
    Invariant(
        'GAS_PUMPDOWN_CURVE(1, "1 mbar", 3600, 1, "0.5 s", , , , , , , , 3)', 1000 * exp(-0.5),
        "a volume a second, for half a second", 1e-6, row=3, column=1,
    ),
    Invariant(
        'GAS_PUMPDOWN_CURVE(1, "1 mbar", 3600, 1, "0.5 s", , , , , , , , 3)', 3600,
        "the speed at the vessel without a line is the pump's", row=2, column=2,
    ),
    Invariant(COURSE, 0.12, "times begin at a thousandth of the whole", row=2, column=0),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_GAS_LOAD({1;2}, "3E-9 mbar L/(s cm2)", 1)', "#VALUE!", "areas has 2"),
    Refusal('GAS_GAS_LOAD(1, "3E-9 mbar L/s", 1)', "#VALUE!", "not of outgassing rate"),
    Refusal('GAS_GAS_LOAD(1, "3E-9 mbar L/(s cm2)", 1, 0, "1 s")', "#NUM!", "less than a minute"),
    Refusal(
        'GAS_ULTIMATE_PRESSURE({"1E-2 mbar";"1 mbar"}, {50;100}, "1E-9 mbar L/s")',
        "#NUM!",
        "give the curve down to there",
    ),
    Refusal("GAS_ULTIMATE_PRESSURE({2;1}, {50;100}, 0)", "#NUM!", "must rise"),
    Refusal("GAS_ULTIMATE_PRESSURE({1;2}, {50}, 0)", "#VALUE!", "pump_pressures has 2"),
    Refusal("GAS_ULTIMATE_PRESSURE({1;2}, {500;100}, 0)", "#NUM!", "less gas at a higher pressure"),
    Refusal(f'GAS_ULTIMATE_PRESSURE({CURVE}, "9E9 mbar L/s")', "#NUM!", "more of the curve"),
    Refusal("GAS_PUMPDOWN_CURVE(2, 1, 100, 1, 0)", "#NUM!", "duration"),
    Refusal('GAS_PUMPDOWN_CURVE(2, 1, 100, 1, 1, "1 m2")', "#NUM!", "rates: is blank"),
    Refusal('GAS_GAS_LOAD(1, "3E-9 mbar L/(s cm2)", 1, 0, "59 s")', "#NUM!", "less than a minute"),
    Refusal("GAS_ULTIMATE_PRESSURE({1;1}, {50;100}, 0)", "#NUM!", "must rise"),
    Refusal("GAS_ULTIMATE_PRESSURE({1;2}, {0;0}, 0)", "#NUM!", "the pump would be off"),
    Refusal('GAS_PUMPDOWN_CURVE(2, 1, 100, "9E-10 Pa", 1)', "#NUM!", "lowest pressure that is"),
    Refusal(
        'GAS_PUMPDOWN_CURVE(2, 1, 100, 1, 1, {1;2}, "1E-9 mbar L/(s cm2)", 1)',
        "#VALUE!",
        "areas has 2",
    ),
    Refusal("GAS_PUMPDOWN_CURVE(2, 1, 100, 1, 1, , , , , 40)", "#NUM!", "a line has a bore"),
    Refusal("GAS_PUMPDOWN_CURVE(2, 1, 100, 1, 200)", "#NUM!", "give the leak"),
    Refusal("GAS_PUMPDOWN_CURVE(2, {0.01;1}, {90;100}, 1, 0.2)", "#NUM!", "give the curve down"),
]
