"""Checks of the topic forecast."""

from tests.checks.kinds import LIBRARY, MEMORY, SEEN, Invariant, Published, Refusal

PHONES = (
    "Heizer and Render, Operations Management, Example 12.7: 32 a day, 3 days from order to "
    "delivery, ordered when the stock drops to 96"
)
ORDERS = "Heizer and Render, Operations Management, Example 12.4: 1000 units a year by 200, N = 5"
EXACT = "exact"

PHONED = "GAS_DELIVERY_SIM(160, {32;32;32;32;32;32;32}, 3, 96, 200, 1000, 0, , , , , , 100, 1, , 6)"
FIVE = (
    "GAS_DELIVERY_SIM(200, {2.7397260;2.7397260;2.7397260;2.7397260;2.7397260;2.7397260;2.7397260}"
    ", 0, 2.8, 200, 1000, 0, 1, , , , 1, 100, 1, , 3650)"
)
WEEKS = "{1610;1610;1610;1610;1610;0;0;1800;1500;1700;1400;1600;200;0}"
TANK = f"GAS_DELIVERY_SIM(14000, {WEEKS}, {{2;3;3;5}}, 9258, 12000, 20000, 3000"
OFFICE = f'{TANK}, , "Mon-Fri", "Mon-Fri", "2026-05-01", 1, 500, 7, "2026-03-02", 200, 250, 900)'

SATURATED = (
    "Nitrogen at 10 bar(a): liquid 665.7 kg/m3 (VDI equation in thermo), vapour 41.25 kg/m3 "
    "(Cantera); 1.2504 kg/Nm3"
)
ARGON = (
    "VDI Heat Atlas, argon: liquid at 90 K 1378.6, vapour at 110 K 33.29 kg/m3 (in `chemicals`); "
    "1.784 kg/Nm3"
)
WARM = (
    "Reynolds 1979, as the library `cantera` carries it, nitrogen at 13 bar: liquid 635.40, gas at "
    "20 °C 14.983 kg/m3; 1.2504 kg/Nm3"
)
LEVELS = "{6000;5800;15600;15400;15200}"
HALF_DAYS = "{46083;46083.5;46084;46084.5;46085}"
FILLED = f'GAS_TANK_EVENTS({HALF_DAYS}, {LEVELS}, "nitrogen", 20000, "13 bar(a)")'
SPOILED = (
    'GAS_TANK_EVENTS({46083;46083.5;46083.5;46084;"";46084.5;"x";46085}, '
    '{6000;5800;5800;5600;"";"fault";5;5200}, "nitrogen", 20000, {13,12,13,13,"",14,13,40})'
)
SWELLING = (
    "GAS_TANK_EVENTS({46083;46083.25;46083.5;46083.75;46084}, {8000;8000;8600;8600;8000}, "
    '"nitrogen", 20000, {5;5;15;15;5}, , , 400)'
)

AVERAGES = (
    "NIST/SEMATECH e-Handbook 6.4.2.1: moving averages of three of 9 8 9 12 9 12 11 7 13 9 11 10: "
    "8.667, 9.667, 10.000, 11.000, 10.667, 10.000, 10.333"
)
PRINTED = (8.667, 9.667, 10.000, 11.000, 10.667, 10.000, 10.333)
THREE_WEEKS = "{9;8;9;12;9;12;11;8;9;12;9;12;11;7;9;12;9;12;11;7;13}"
THREE_WEEKS_DATES = "{" + ";".join(str(46083 + day) for day in range(21)) + "}"
AVERAGED = f"GAS_FORECAST({THREE_WEEKS_DATES}, {THREE_WEEKS}, 14)"
TEN_WEEKS_DATES = "{" + ";".join(str(46083 + day) for day in range(70)) + "}"
GROWING = [7 * (day // 7) + (10, 12, 14, 13, 11, 3, 0)[day % 7] + (day * 37 % 11) / 10
           for day in range(70)]  # fmt: skip
SMOOTHED = f"GAS_FORECAST({TEN_WEEKS_DATES}, {{{';'.join(f'{use:.1f}' for use in GROWING)}}}, 7"
FORTNIGHT = "{" + ";".join(str(46083 + day) for day in range(14)) + "}"
FIRST_DAYS = "{1;2;3;4;5;6;7;8;9;10;11;12;13;14}"
USED = "{5;5;5;5;5;0;0;5;5;5;5;5;0;0}"
SHUT = f'GAS_FORECAST({FORTNIGHT}, {USED}, 9, {{46084;46099;46100;""}}'

STEADY = "GAS_DELIVERY_SIM(100, {10;10;10;10;10;10;10}, 2, 45, 200, 250, 20, "
"""Ten a day from a Monday on: below the level on the Sunday, two days later at 20."""
TRIED = ", , , , , , 100, 1, , "
"""A hundred trials of so many days."""
IN_TONS = "{0.01;0.01;0.01;0.01;0.01;0.01;0.01}"
TENS = "{10;10;10;10;10;10;10}"
RIPPLE = "{5;5;5;5;5;0;0;5;6;5;5;5;0;0}"

PUBLISHED = [
    Published('GAS_TANK_EVENTS({46083;46084}, {6000;5000}, "argon", 20000, "665.26 kPa", '
              '"133.51 kPa")', (1378.6 - 33.29) / 1.784, 3e-4, ARGON, LIBRARY,
              "four digits of the normal density", row=1, column=3, reckoned=True),
    Published('GAS_TANK_EVENTS({46083;46084}, {6000;5000}, "nitrogen", 20000, "13 bar(a)", , 20)',
              (635.40 - 14.983) / 1.2504, 0.004, WARM, LIBRARY,
              "another equation of state, within 0.4 % in density", row=1, column=3, reckoned=True),
    *(
        Published(AVERAGED, printed, 5e-4, AVERAGES, MEMORY, "three decimals printed",
                  absolute=True, row=row, column=1)
        for row, printed in enumerate(PRINTED, 1)
    ),
    Published(PHONED, 0, 1e-9,
              PHONES + "; used up just as the order comes (older edition)", MEMORY,
              EXACT, absolute=True, row=3, column=1),
    Published(PHONED, 200, 1e-9, PHONES + ", 200 at a time", SEEN,
              EXACT, row=8, column=1),
    Published('GAS_TANK_EVENTS({46083;46084}, {6000;5000}, "nitrogen", 20000, "10 bar(a)")',
              (665.7 - 41.25) / 1.2504, 1.4e-4, SATURATED, LIBRARY, "four digits printed", row=1,
              column=3, reckoned=True),
    Published('GAS_TANK_EVENTS({46083;46084}, {2000;9000}, "nitrogen", 20000, "10 bar(a)")',
              7 * (665.7 - 41.25) / 1.2504, 1.4e-4, SATURATED, LIBRARY, "four digits printed",
              row=1, column=3, reckoned=True),
    Published(FIVE, 5, 0.02, ORDERS, MEMORY,
              "ten years have whole deliveries, and a year here is 365.25 days", row=6, column=1),
]  # fmt: skip

INVARIANTS = [
    Invariant('GAS_TANK_EVENTS({46083;46083.5;46084}, {6000;5900;5800}, "nitrogen", 20000, '
              '"0.9 bar(a)")', "use", "a tank below the pressure of the air", row=1, column=0),
    Invariant('GAS_TANK_EVENTS({1;1.5;2}, {6000;5900;5800}, "nitrogen", 20000, "13 bar(a)")', 1,
              "the first day of a sheet", row=1, column=1),
    Invariant("GAS_DELIVERY_SIM(250, {0;0;0;0;0;0;0}, 3, 10, 50, 250, 10, 1, , , , , 100)", 0,
              "a tank may be full at first", row=1, column=1),
    Invariant("GAS_DELIVERY_SIM(100, {10;10;10;10;10;10;10}, 2, 45, 200, 250, 40, , , , , , 100, "
              "1, , 100)", 1, "at 45 and ten a day 40 is reached before each truck", row=2,
              column=1),
    Invariant("GAS_DELIVERY_SIM(100, {10;10;10;10;10;10;10}, 2, 45, 150, 250, 20, , , , , , 100, "
              "1, , 100)", 150, "each truck finds room for all that it brings", row=8, column=1),
    Invariant(f"GAS_FORECAST({FIRST_DAYS}, {USED}, 1)", 15, "the first days of a sheet", row=1,
              column=0),
    Invariant(f"GAS_FORECAST({FIRST_DAYS}, {USED}, 1, {{1;15}})", "mean of 1 special days; from "
              "nothing to an ordinary day", "the first day of a sheet was special", row=1,
              column=4),
    Invariant(f"GAS_FORECAST({FORTNIGHT}, {USED}, 7, {{46084.5;46097.5}})",
              f"GAS_FORECAST({FORTNIGHT}, {USED}, 7, {{46084;46097}})",
              "a special day is one at any hour", row=1, column=1),
    Invariant(f"GAS_FORECAST({FORTNIGHT}, {USED}, 7, {{46084.5;46097.5}})",
              "mean of 1 special days; from nothing to an ordinary day",
              "a special day is one at any hour", row=1, column=4),
    Invariant('GAS_TANK_EVENTS({46083;46083.5;46084}, {6000;5800;6850}, "nitrogen", 20000, '
              '"13 bar(a)")', "delivery", "a rise of 5.25 % of the capacity", row=1, column=0),
    Invariant("GAS_DELIVERY_SIM(100, {0;0;0;0;0;0;0}, 366, 10, 50, 500, 10, , , , , , 100)", 0,
              "an order may take a year", row=1, column=1),
    Invariant(
        f"GAS_FORECAST({FORTNIGHT}, {RIPPLE}, 7, , 0.5)", 5 + 0.726687 * 0.15**0.5,
        "by hand: Tuesdays of 5 and 6 give s² = 0.5/5, a new day 3/2 of it; t of 5 at 75 % 0.7267",
        1e-6, row=1, column=3,
    ),
    Invariant(f"{TANK})", "chance of reaching the reserve in 365 d", "a year unless told", row=1,
              column=0),
    Invariant(STEADY + ", , , , , 100, 1, , 14)", 20, "ordered when it should be", row=3, column=1),
    Invariant(STEADY + "0.4, , , , , 100, 1, , 14)", 80, "filled from 20 to 40 % of 250", row=8,
              column=1),
    Invariant(STEADY + ', "Mon", , , , 100, 1, 46083, 14)', 10, "ordered on Monday", row=3,
              column=1),
    Invariant(STEADY + ', , "Thu", , , 100, 1, 46083, 14)', 0, "comes on Thursday", row=3,
              column=1),
    Invariant(STEADY + ", , , {46091}, , 100, 1, 46083, 14)", 10, "Tuesday is a holiday", row=3,
              column=1),
    Invariant(STEADY + ", , , , 4, 100, 1, , 14)", 0, "read on the ninth morning only", row=3,
              column=1),
    Invariant(STEADY + ", , , , , 100, 1, , 14, 250)", 250 * 365.25 / 14, "the delivery alone",
              row=9, column=1),
    Invariant(STEADY + ", , , , , 100, 1, , 14, , 900)", 900 * 365.25 / 14, "the call alone",
              row=9, column=1),
    Invariant(STEADY + ", , , , , 100, 1, , 14, 250, 900)", 1150 * 365.25 / 14,
              "one delivery and one call in 14 days", row=9, column=1),
    Invariant(
        'GAS_TANK_EVENTS({46083;46084;46085;46087;46088}, {6000;5800;5600;5200;5000}, "nitrogen", '
        '20000, "13 bar(a)", , , , "36 h")', "gap", "two days are more than 36 h", row=6, column=0,
    ),
    Invariant(AVERAGED, "weekday means", "nearer than the week before in the third week", row=1,
              column=4),
    Invariant(AVERAGED, 26 / 3, "the second week is as the first", row=8, column=1),
    Invariant(AVERAGED, 32 / 14, "by hand: two weeks forecast from what was before", row=1,
              column=5),
    Invariant(AVERAGED, 37 / 14, "by hand: what a week differs from the week before", row=1,
              column=6),
    Invariant(SMOOTHED + ")", "exponential smoothing with weekday and trend", "a use that grows",
              row=1, column=4),
    Invariant(f"GAS_FORECAST({FORTNIGHT}, {USED}, 7)", 0, "closed on Sundays", row=7, column=3),
    Invariant(f"GAS_FORECAST({FORTNIGHT}, {USED}, 7)", 5, "as it always was", row=1, column=3),
    Invariant(SHUT + ")", 5, "the shut Tuesday does not count as one", row=2, column=1),
    Invariant(SHUT + ")", "mean of 1 special days; from nothing to an ordinary day",
              "and is what a shut day uses", row=3, column=4),
    Invariant(FILLED, "delivery", "a rise of 9,800 L in the level", row=1, column=0),
    Invariant(FILLED, 46083.5, "the last reading before it", row=1, column=1),
    Invariant(
        FILLED,
        'GAS_DELIVERED("nitrogen", "10000 L(liq)", "13 bar(a)")',
        "and 200 L used meanwhile; a litre of liquid takes the place of a litre of vapour",
        within=0.09,
        row=1, column=3,
    ),
    Invariant(SWELLING, "pressure excursion", "the level rose, the gas did not", row=1, column=0),
    Invariant(SWELLING, "the level rose by 600 L with the pressure, the gas did not",
              "8,000 to 8,600 L", row=1, column=4),
    Invariant(SPOILED, "row 3: the same time again", "the second of two", row=2, column=4),
    Invariant(SPOILED, "row 8: no liquid nitrogen at that pressure", "40 bar", row=5, column=4),
    Invariant(PHONED, 1, "a certain use that comes down to just 0", row=1,
              column=1),
    Invariant(
        "GAS_DELIVERY_SIM(161, {32;32;32;32;32;32;32}, 3, 97, 200, 1000, 0, , , , , , 100, 1, , 6)",
        0,
        "one more in stock, and it never comes down to 0",
        row=1, column=1,
    ),
    Invariant(f"{TANK}, , , , , , , 5)", f"{TANK}, , , , , , 2000, 5)", "2,000 trials unless told",
              row=1, column=1),
    Invariant(f'{TANK}, , "every day", "every day")', f"{TANK})", "no day is closed", row=4,
              column=1),
    Invariant(
        f"GAS_DELIVERY_SIM(14000, {WEEKS}, {{2;3;3;5;\"\"}}, 9258, 12000, 20000, 3000)",
        f"{TANK})",
        "a blank lead time is left out",
        row=3, column=1,
    ),
    Invariant(
        "GAS_DELIVERY_SIM(14000, {9;9;1610;1610;1610;1610;1610;0;0}, 3, 9258, 12000, 20000, 3000)",
        "GAS_DELIVERY_SIM(14000, {1610;1610;1610;1610;1610;0;0}, 3, 9258, 12000, 20000, 3000)",
        "the last whole weeks of the history",
        row=3, column=1,
    ),
    Invariant(
        "GAS_DELIVERY_SIM(100, {0;0;0;0;0;0;0}, 3, 10, 50, 500, 10)",
        100,
        "nothing is used",
        row=3, column=1,
    ),
    Invariant(
        'GAS_TANK_EVENTS({46083;46084},{20000;0},"nitrogen",20000,13)',
        'GAS_UNACCOUNTED(GAS_TANK_STOCK("nitrogen",20000,20000,13),0,'
        'GAS_TANK_STOCK("nitrogen",0,20000,13),0)',
        "a full tank used up, but for its vapour", row=1, column=3,
    ),
    Invariant(
        'GAS_TANK_EVENTS({46083;46084},{6000;5000},"nitrogen",20000,{13;10})',
        'GAS_UNACCOUNTED(GAS_TANK_STOCK("nitrogen",6000,20000,13),0,'
        'GAS_TANK_STOCK("nitrogen",5000,20000,10),0)',
        "the use is what the stock falls by, the pressure falling too", row=1, column=3,
    ),
    Invariant(
        'GAS_TANK_EVENTS({46083;46084},{6000;7050},"nitrogen",20000,"10 bar(a)")', "delivery",
        "5.25 % of the capacity is more than the 5 % that a rise has to be", row=1,
    ),
    Invariant(
        'GAS_TANK_EVENTS({46083;46084},{6000;6950},"nitrogen",20000,"10 bar(a)")', "use",
        "4.75 % is not", row=1,
    ),
    Invariant(
        'GAS_TANK_EVENTS({46083;46084},{6000;7050},"nitrogen",20000,"10 bar(a)")',
        "the last reading: it may go on", "a rise that nothing follows", row=1, column=4,
    ),
    Invariant(
        f"GAS_DELIVERY_SIM(0.1, {IN_TONS}, 2, 0.045, 0.25, 0.25, 0.02{TRIED}20)", 0.2375 - 0.02,
        "a truck fills the tank from its reserve to 95 %", row=8, column=1,
    ),
    Invariant(
        f"GAS_DELIVERY_SIM(0.1, {IN_TONS}, 12.5, 0.045, 0.05, 0.25, 0.02{TRIED}20)", 0.05,
        "a truck that comes at noon to a dry tank leaves all it has", row=8, column=1,
    ),
    Invariant(
        f"GAS_DELIVERY_SIM(200, {{0;0;0;0;0;0;0;{TENS[1:]}, 1, 20, 200, 250, 5{TRIED}14)", 130,
        "weeks are drawn whole: of two each takes 70 or nothing", row=3, column=1,
    ),
    *(
        Invariant(
            f"GAS_DELIVERY_SIM(100, {TENS}, 0, 15, {drop}, 250, 20{TRIED}20)", 365.25 / 20,
            f"drops of {drop} do not get the tank above its reserve again: one call", row=7,
            column=1,
        )
        for drop in (5, 10)
    ),
]  # fmt: skip

REFUSALS = [
    Refusal("GAS_DELIVERY_SIM(100, {1;2;3;4;5;6;7}, 3, 10, 0, 250, 10)", "#NUM!",
            "drop: must be above 0"),
    Refusal("GAS_DELIVERY_SIM(50, {1;2;3;4;5;6;7}, 3, 100, 50, 100, 10, 1)", "#NUM!",
            "reorder_level: must be below"),
    Refusal(f"GAS_FORECAST({FIRST_DAYS.replace('{1;', '{0.5;')}, {USED}, 1)", "#NUM!", "dates"),
    Refusal(f"GAS_FORECAST({FORTNIGHT.replace('46096', '2958466')}, {USED}, 1)", "#NUM!",
            "dates"),
    Refusal(f"GAS_FORECAST({FORTNIGHT}, {USED}, 1, 2958466)", "#NUM!", "special_days"),
    Refusal(f"GAS_FORECAST({FORTNIGHT}, {USED.replace('{5;', '{1.05e15;')}, 1)", "#NUM!", "uses"),
    Refusal(f"GAS_FORECAST({FORTNIGHT}, {USED}, 1, {FORTNIGHT})", "#NUM!",
            "leave no ordinary day of the history"),
    Refusal("GAS_DELIVERY_SIM(1, {1.05e15;2;3;4;5;6;7}, 3, 9258, 12000, 20000, 3000)", "#NUM!",
            "use_history"),
    Refusal("GAS_DELIVERY_SIM(1, {1;2;3;4;5;6;7}, 366.5, 9258, 12000, 20000, 3000)", "#NUM!",
            "lead_history"),
    Refusal("GAS_DELIVERY_SIM(251, {1;2;3;4;5;6;7}, 3, 45, 200, 250, 20)", "#NUM!",
            "opening: is more than the tank holds"),
    Refusal("GAS_FORECAST({46083;46083}, {1;2}, 3)", "#NUM!", "2026-03-02 stands twice (items 1 "
            "and 2 of the range)"),
    Refusal("GAS_FORECAST({46083;46085}, {1;2}, 3)", "#NUM!",
            "the day after 2026-03-02 is missing"),
    Refusal("GAS_FORECAST({46083;46084}, {1;2}, 3)", "#NUM!", "hold 2 days; 14 are needed"),
    Refusal('GAS_FORECAST({46083;46084}, {1;""}, 3)', "#VALUE!", "uses: is blank (item 2"),
    Refusal('GAS_FORECAST({46083;46084}, {1;"x"}, 3)', "#VALUE!", "item 2 of"),
    Refusal("GAS_FORECAST({46083;46084}, {1;2;3}, 3)", "#VALUE!", "3 uses for 2 dates"),
    Refusal("GAS_FORECAST({46083;46084}, {1;-2}, 3)", "#NUM!", "item 2 of"),
    Refusal(f"GAS_FORECAST({FORTNIGHT}, {USED}, 0)", "#NUM!", "days: "),
    Refusal(f"GAS_FORECAST({FORTNIGHT}, {USED}, 7, , 95)", "#NUM!", "9500 % as a share"),
    Refusal('GAS_TANK_EVENTS({46083;46084}, {6000;26000}, "nitrogen", 20000, 13)', "#VALUE!",
            "fewer than two readings that can be used: a level above the capacity"),
    Refusal('GAS_TANK_EVENTS({46083;46084}, {6000;5000;4000}, "nitrogen", 20000, 13)', "#VALUE!",
            "levels: holds 3 levels for 2 times"),
    Refusal('GAS_TANK_EVENTS({46083;46084}, {6000;5000}, "nitrogen", 20000, {13;13;13})',
            "#VALUE!", "tank_pressure: holds 3 pressures"),
    Refusal('GAS_TANK_EVENTS({"x";"y"}, {6000;5000}, "nitrogen", 20000, 13)', "#VALUE!",
            "times: "),
    Refusal('GAS_TANK_EVENTS({46083;46084}, {6000;5000}, "nitrogen", 20000, 40)', "#NUM!",
            "tank_pressure: "),
    Refusal('GAS_TANK_EVENTS({46083;46084}, {6000;5000}, "air", 20000, 4)', "#NUM!", "gas: "),
    Refusal('GAS_TANK_EVENTS({46083;46084}, {6000;5000}, "argon", 20000, 4, , , 0)', "#NUM!",
            "least_rise: must be above 0"),
    Refusal("GAS_DELIVERY_SIM(14000, {1;2;3}, 3, 9258, 12000, 20000, 3000)", "#NUM!",
            "use_history: is shorter than a week"),
    Refusal('GAS_DELIVERY_SIM(1, {1;2;3;4;5;6;""}, 3, 9258, 12000, 20000, 3000)', "#VALUE!",
            "is blank (item 7"),
    Refusal("GAS_DELIVERY_SIM(1, {1;2;3;4;5;6;-7}, 3, 9258, 12000, 20000, 3000)", "#NUM!",
            "item 7 of"),
    Refusal('GAS_DELIVERY_SIM(1, {1;2;3;4;5;6;7}, {"",""}, 9258, 12000, 20000, 3000)', "#NUM!",
            "holds no lead time"),
    Refusal("GAS_DELIVERY_SIM(1, {1;2;3;4;5;6;7}, 3, 19258, 12000, 20000, 3000)", "#NUM!",
            "reorder_level: must be below"),
    Refusal(f'{TANK}, , "Mon-Fri")', "#VALUE!", "start_date: is blank"),
    Refusal(f"{TANK}, , , , , , 100000, 1, , 366)", "#NUM!", "trials: times days"),
    Refusal(
        'GAS_TANK_EVENTS({46083;46084},{6000;5000},"95% argon + 5% oxygen",20000,"10 bar(a)")',
        "#NUM!", "gas: is a mixture, which boils over a range",
    ),
]  # fmt: skip
