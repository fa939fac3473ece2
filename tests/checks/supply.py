"""Checks of the topic supply."""

from tests.checks.kinds import LIBRARY, MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import STEVENSON

SAND = STEVENSON.says("lead-time demand 50, sd 5, risk 3 %")
CARPET = "Russell and Taylor, Operations Management: 30 a day, sd 5, 10 days, 95 %"
BOTH_VARY = "Operations management exercise: 30 gal a day, sd 3, 7 days, sd 4, 90 %"
OIL = (
    "Anderson, Sweeney, Williams, Statistics for Business and Economics: demand 15, sd 6, level 20"
)
PHONES = (
    "Heizer and Render, Operations Management, Example 12.7: 32 a day, 3 working days; an order "
    "is placed when the stock drops to 96"
)
BASE_STOCK = (
    "stockpyl 1.0.2, base stock at cost 0.18 of holding and 0.70 of lacking: demand 50, sd 8, "
    "reviewed every period"
)
STOCKED = "0.7954545454545454"
"""0.70 / (0.70 + 0.18)."""
DAILY_REVIEW = (
    "Exercise on periodic review: 100 a day, sd 30, review 1 day, lead 5 days, 90 %: safety 94.15"
)
FEEDERS = (
    "Krajewski and Ritzman, Operations Management, bird feeders: 18 a week, sd 5, lead 2, review 4 "
    "weeks, 90 %: target 123.68"
)
ADHESION = (
    "Montgomery and Runger, Applied Statistics and Probability for Engineers, example 8-8: mean "
    "13.71, s 3.55, n 22; the next lies below 21.26 with 97.5 %"
)
Z_ROUNDED = "the book rounds z to two decimals"
DEWAR = "Cryogenic vessel maker's article: 30 L losing 0.5 L a day lasts 60 days"
ROOM = (
    "State training for tank operators: 10 000 gal tank at 90 % at most, 4700 gal in it, so that "
    "4300 gal may be delivered"
)
BELOW_90 = "Fuel delivery checklist: 10 000 gal x 0.9 - 2000 gal = 7000 gal at most"
EXACT = "exact"

PHONE_PLAN = "GAS_TANK_PLAN(46083, 160, {32;32;32;32;32;32;32}, 96, 3, 200, 1000)"
WEEKEND = (
    'GAS_TANK_PLAN("2026-03-02", 9800, {1150;1150;1150;1150;1150;0;0;1150}, 9258, 2, 12000, '
    "20000, 60)"
)
DRY = "GAS_TANK_PLAN(46083, 100, {40;40;40;40}, 10, 2, 50, 500, 5)"

CLOSED = (
    'GAS_TANK_PLAN("2026-12-14", 14000, {1150;1150;1150;1150;1150;0;0;1150;1150;1150;0;0;0;0;1150}'
    ', 5000, 1, 12000, 20000, 60, , "Mon-Fri", "Mon-Fri", {"2026-12-24";"2026-12-25"})'
)
LEAST = (
    'GAS_TANK_PLAN("2026-03-02", 9800, {1150;1150;1150}, 9258, 1, 12000, 20000, 60, , , , , 12000)'
)

PUBLISHED = [
    Published("GAS_DAYS_LEFT(30, 0, 0.5)", 60, 1e-9, DEWAR, SEEN, EXACT),
    Published("GAS_DAYS_LEFT(10, 8.8)", 1.1, 0.05,
              "Cryogenic vessel maker's article: 10 L at 8.8 L a day last 1.1 days", SEEN,
              "two digits printed"),
    Published('GAS_DAYS_LEFT(100, 1080, , , "min")', 133, 0.005,
              "Trade magazine, Shielding gas consumption efficiency: 100 ft3 at 45 ft3/h last 2 h "
              "13 min", SEEN, "printed in whole minutes"),
    Published("GAS_REORDER_LEVEL(50, 5, 1, , 0.97)", 59.40, 5e-4, SAND, READ, Z_ROUNDED),
    Published("GAS_REORDER_LEVEL(30, 5, 10)", 30 * 10 + 1.65 * 5 * 10**0.5, 1e-3, CARPET, MEMORY,
              "z rounded to 1.65; inputs read, answer by the book's expression", reckoned=True),
    Published('GAS_REORDER_LEVEL(30, 3, 7, 4, "90 %")', 363.94, 1e-3, BOTH_VARY, SEEN, Z_ROUNDED),
    Published("GAS_REORDER_LEVEL(32, 0, 3)", 96, 1e-9, PHONES, SEEN, EXACT),
    Published("GAS_REORDER_LEVEL(32, 0, 3, 0, 0.95, 32)", 128, 1e-9,
              PHONES + "; 128 with a day's safety stock", SEEN, EXACT),
    Published(f"GAS_REORDER_LEVEL(50, 8, 0, 0, {STOCKED}, 0, 1)", 56.604, 1e-5, BASE_STOCK, LIBRARY,
              "five digits printed in its documentation (example 4.3)"),
    Published(f"GAS_REORDER_LEVEL(50, 8, 4, 0, {STOCKED}, 0, 1)", 264.766894374, 1e-10,
              BASE_STOCK + ", lead time of 4", LIBRARY, "computed by the library"),
    Published("GAS_REORDER_LEVEL(100, 30, 5, 0, 0.9, 0, 1)", 6 * 100 + 94.15, 1e-4,
              DAILY_REVIEW, SEEN, "the exercise cuts z and √6", reckoned=True),
    Published("GAS_REORDER_LEVEL(18, 5, 2, 0, 0.9, 0, 4)", 123.68, 2e-4, FEEDERS, MEMORY,
              Z_ROUNDED),
    Published("GAS_REORDER_LEVEL(13.71, 3.55, 1, 0, 0.975, 0, 0, 22)", 21.26, 5e-3, ADHESION, SEEN,
              "two decimals printed", absolute=True),
    Published("GAS_RUNOUT_RISK(21.26, 13.71, 3.55, 1, 0, 0, 0, 0, 22)", 0.025, 2e-4, ADHESION, SEEN,
              "the level has two decimals", absolute=True),
    Published("GAS_REORDER_DATE(46083, 30, 0, 0, 0.5)", 46083 + 60, 1e-12, DEWAR, SEEN, EXACT,
              reckoned=True),
    Published("GAS_REORDER_DATE(46083, 160, 32, 96)", 46083 + (160 - 96) / 32, 1e-12,
              PHONES + ": from 160 two days later", SEEN, EXACT, reckoned=True),
    Published("GAS_RUNOUT_RISK(20, 15, 6, 1)", 0.2033, 0.0015, OIL, SEEN,
              "the book rounds z to 0.83", absolute=True),
    Published("GAS_RUNOUT_RISK(24.87, 15, 6, 1)", 0.05, 5e-4, OIL + "; 24.87 for 5 %", MEMORY,
              "z rounded to 1.645", absolute=True),
    Published("GAS_RUNOUT_RISK(59.40, 50, 5, 1)", 0.03, 5e-4, SAND, READ, Z_ROUNDED,
              absolute=True),
    Published("GAS_RUNOUT_RISK(363.94, 30, 3, 7, 4)", 0.10, 1e-3, BOTH_VARY, SEEN, Z_ROUNDED,
              absolute=True),
    Published("GAS_ORDER_SIZE(10000, 4700, 0, 0, 0.9)", 4300, 1e-9, ROOM, SEEN, EXACT),
    Published("GAS_ORDER_SIZE(10000, 2000, 0, 0, 0.9)", 7000, 1e-9, BELOW_90, SEEN, EXACT),
    Published(PHONE_PLAN, 96, 1e-12, PHONES + "; the stock on the morning of the order", SEEN,
              EXACT, row=3, column=1),
    Published(PHONE_PLAN, 200, 1e-12, PHONES + "; ordered on that day", SEEN, EXACT, row=3,
              column=6),
    Published(PHONE_PLAN, 0, 1e-12, PHONES + "; used up just as the order comes (older edition)",
              MEMORY, EXACT, absolute=True, row=6, column=1),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        "GAS_TANK_PLAN(46083, 100, {40}, 200, 3, 1000, 500)",
        0.95 * 500 - 60,
        "what fits in three days, as nothing is used after the plan's end",
        row=1,
        column=6,
    ),
    Invariant(
        "GAS_TANK_PLAN(46083, 100, {40;40;40;40}, 50, 1, 100, 500)",
        100,
        "the second truck in time, once the first is not on its way any more",
        row=4,
        column=6,
    ),
    Invariant(WEEKEND, 46084, "the second day is the next one", row=2, column=0),
    Invariant(
        'GAS_TANK_PLAN("2026-03-05", 120, {40;40;40;40;40}, 50, 2, 100, 500, , , , "Mon-Fri")',
        100,
        "on Thursday, as what Friday orders comes on Monday and not on Sunday",
        row=1,
        column=6,
    ),
    Invariant(
        "GAS_TANK_PLAN(46083, 50, {0;0}, 50, 1, 100, 500)",
        100,
        "at the level is low enough",
        row=1,
        column=6,
    ),
    Invariant(
        "GAS_TANK_PLAN(46083, 100, {40;40}, 50, 1, 100, 500, 15)",
        100,
        "45 would be left tomorrow, of which 15 evaporate",
        row=1,
        column=6,
    ),
    Invariant(
        "GAS_TANK_PLAN(46083, 200, {10;10;10;10;10}, 400, 3, 200, 500)",
        475 - 360,
        "what fits beside the truck of the day before: 170 and 200 less 10",
        row=2,
        column=6,
    ),
    Invariant(DRY, 0, "nothing is lacking on the first day", row=1, column=7),
    Invariant(
        "GAS_REORDER_DATE(46083.75, 14200, 1150, 9258, 60)",
        46087,
        "4.08 days from six in the evening on are still the fifth day",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 9000, 1150, 9258, 60, "Fri-Mon")',
        46083,
        "a week that goes round its end: Friday to Monday",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-03", 9000, 1150, 9258, 60, "Fri-Mon")',
        46087,
        "and not Tuesday",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258, 60, , , , 1, 18000, 20000, 0.94)',
        46094,
        "filled to 94 %, 800 have to be left: 12 days, and ordered the day before",
    ),
    Invariant(
        f"{WEEKEND[:-1]}, 0.8)",
        0.8 * 20000 - 1210,
        "filled to 80 %, then a day's use",
        row=3,
        column=5,
    ),
    Invariant(f'{WEEKEND[:-1]}, , "Thu")', 12000, "ordered on the Thursday", row=4, column=6),
    Invariant(
        "GAS_DAYS_LEFT(13000, 1150, 60, 3000)",
        "GAS_DAYS_LEFT(10000, 1210)",
        "the reserve is not used, evaporation is like use",
    ),
    Invariant("GAS_DAYS_LEFT(2000, 1150, 60, 3000)", 0, "already below the reserve"),
    Invariant(
        "GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.5, 3000)",
        1210 * 3 + 3000,
        "at a service of one half there is no safety stock",
    ),
    Invariant(
        "GAS_RUNOUT_RISK(GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.98, 3000), 1210, 240, 3, 1, 3000)",
        0.02,
        "at the reorder level the risk is what the service leaves",
    ),
    Invariant(
        "GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.98, 3000, 1)",
        "GAS_REORDER_LEVEL(1210, 240, 4, 1, 0.98, 3000)",
        "a day between readings is a day more to wait",
    ),
    Invariant(
        "GAS_RUNOUT_RISK(GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.98, 3000, 2, 12), 1210, 240, 3, 1, "
        "3000, 0, 2, 12)",
        0.02,
        "with a review interval and few data too",
    ),
    Invariant(
        "GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.98, 3000, 0, 1000000)",
        "GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.98, 3000)",
        "of a million days Student's t is the normal deviate",
        within=1e-5,
    ),
    Invariant("GAS_RUNOUT_RISK(3630, 1150, 0, 3, 0, 0, 60)", 1, "certain use that reaches just 0"),
    Invariant("GAS_RUNOUT_RISK(3631, 1150, 0, 3, 0, 0, 60)", 0, "certain use that falls short"),
    Invariant("GAS_RUNOUT_RISK(3000, 0, 0, 3, 0, 3000)", 1, "the reserve is reached now"),
    Invariant(
        'GAS_RUNOUT_RISK(4000, 1150, 240, "3 d", "24 h")',
        'GAS_RUNOUT_RISK(4000, 1150, 240, "72 h", 1)',
        "times in any unit",
    ),
    Invariant("GAS_REORDER_DATE(46083, 9000, 1150, 9258, 60)", 46083, "already below: order today"),
    Invariant("GAS_REORDER_DATE(46083.75, 9000, 1150, 9258, 60)", 46083, "at any time of the day"),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258)',
        "GAS_REORDER_DATE(46083, 14200, 1090, 9258, 60)",
        "dates as text or serial numbers; evaporation is like use",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258, 60, "Mon-Thu")',
        46086,
        "the level is reached on a Friday, orders are taken until Thursday",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258, 60, "Mon-Fri", "Mon-Fri", , 3)',
        46087,
        "ordered on Friday the truck would come on Monday, as it would if ordered on Thursday",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258, 60, "Mon-Fri", "Mon-Fri", '
        '"2026-03-09", 3)',
        46084,
        "the Monday is a holiday: the truck has to come on the Friday before it",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 9000, 1150, 9258, 60, "Thu")',
        46086,
        "below the level already: the next order day",
    ),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258, 60, , , , 1, 18000, 20000)',
        46093,
        "11 days until 1,000 are left and 18,000 fit below 19,000; ordered the day before",
    ),
    Invariant(
        CLOSED,
        12000,
        "ordered on Wednesday the 23rd, since Monday the 28th is the next",
        row=10,
        column=6,
    ),
    Invariant(CLOSED, 12000, "delivered on Monday the 28th", row=15, column=4),
    Invariant(CLOSED, 0, "on Friday the 25th nothing comes", row=12, column=4),
    Invariant(LEAST, 0, "the first day only 10,410 would fit", row=1, column=6),
    Invariant(LEAST, 12000, "on the third 12,000 would", row=3, column=6),
    Invariant(
        "GAS_ORDER_SIZE(20000, 9258, 1150, 3, 0.95, 60)",
        0.95 * 20000 - (9258 - 3 * 1210),
        "what is left when the truck comes and the order fill the tank",
    ),
    Invariant("GAS_ORDER_SIZE(20000, 3000, 1150, 3)", 19000, "an empty tank takes it all"),
    Invariant("GAS_ORDER_SIZE(20000, 19500, 0, 3)", 0, "nothing fits"),
    Invariant(WEEKEND, 11620, "what fits when the truck comes, less than a truck", row=1, column=6),
    Invariant(WEEKEND, 11620, "it comes two days later", row=3, column=4),
    Invariant(WEEKEND, 0.95 * 20000 - 1210, "filled, then a day's use", row=3, column=5),
    Invariant(WEEKEND, 60, "the tank evaporates on a Sunday too", row=7, column=3),
    Invariant(WEEKEND, 0, "and nobody uses gas", row=7, column=2),
    Invariant(DRY, 35, "what the use lacks on the third day: 40 - (10 - 5)", row=3, column=7),
    Invariant(PHONE_PLAN, 0, "what is on its way is not ordered again", row=4, column=6),
    Invariant(PHONE_PLAN, 0, "so that only one delivery comes", row=7, column=4),
    Invariant("GAS_REORDER_DATE(46083, 10, 0.5, 20)", 46083, "below the level: today"),
    Invariant(
        "GAS_REORDER_DATE(46083, 14000, 1300, 9258, 0, , , , 1, 18000, 20000)",
        46083 + 10 - 1,
        "ten days until 1,000 are left; ordered the day before",
    ),
    Invariant(
        "GAS_REORDER_DATE(2958456, 14000, 1300, 9258, 0, , , , 1, 18000, 20000)",
        2958465,
        "the last day there is",
    ),
    Invariant(
        "GAS_RUNOUT_RISK(0.0594, 0.05, 0.005, 1)",
        "GAS_RUNOUT_RISK(59.4, 50, 5, 1)",
        "the unit of the stock does not matter",
    ),
    Invariant(
        "GAS_TANK_PLAN(46083, 500, {40;40}, 10, 2, 50, 500)",
        500,
        "a tank full to the brim",
        row=1,
        column=1,
    ),
    Invariant(
        "GAS_TANK_PLAN(46083, 100, {40;40}, 10, 366, 50, 500)",
        20,
        "a truck in a leap year",
        row=2,
        column=5,
    ),
    Invariant(
        "GAS_TANK_PLAN(46083, 0.16, {0.032;0.032;0.032}, 0.096, 3, 0.2, 1)",
        0.2,
        "the telephones in thousands",
        row=3,
        column=6,
    ),
]

REFUSALS = [
    Refusal('GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258, 60, "M")', "#VALUE!", "no weekday"),
    Refusal("GAS_DAYS_LEFT(100, 0)", "#NUM!", "the stock never ends"),
    Refusal('GAS_DAYS_LEFT("100 L", 5)', "#VALUE!", "a plain number is meant"),
    Refusal("GAS_REORDER_LEVEL(30, 5, 10, , 95)", "#NUM!", "9500 % as a share"),
    Refusal("GAS_REORDER_LEVEL(30, 5, 10, , 1)", "#NUM!", "which no stock can promise"),
    Refusal("GAS_REORDER_LEVEL(30, 5, 10, , 0.3)", "#NUM!", "service: is below 50 %"),
    Refusal("GAS_REORDER_LEVEL(30, 5, 10, , 0.9, 0, 0, 1)", "#NUM!", "sample: 1 is below 2"),
    Refusal("GAS_RUNOUT_RISK(100, 30, 5, 3, 0, 0, 0, -1)", "#NUM!", "review_days: "),
    Refusal('GAS_REORDER_DATE(46083, 100, 5, 20, 0, "Mo-Fry")', "#VALUE!", '"Fry" is no weekday'),
    Refusal('GAS_REORDER_DATE(46083, 100, 5, 20, 0, "Mon-Fri", 5)', "#VALUE!", "is no text"),
    Refusal('GAS_REORDER_DATE(46083, 100, 5, 20, 0, , , "25 Dec")', "#VALUE!", "holidays: "),
    Refusal("GAS_REORDER_DATE(46083, 100, 5, 20, 0, , , , 3, 50)", "#NUM!", "capacity: is blank"),
    Refusal(
        "GAS_TANK_PLAN(46083, 100, {40;40}, 10, 2, 50, 500, , , , , , 60)", "#NUM!", "least_load: "
    ),
    Refusal("GAS_REORDER_LEVEL(30, -5, 10)", "#NUM!", "daily_sd: "),
    Refusal('GAS_REORDER_DATE("2.3.2026", 100, 5, 20)', "#VALUE!", "write it as 2026-12-08"),
    Refusal("GAS_REORDER_DATE(46083, 1000000000, 0.001, 0)", "#NUM!", "no date is left"),
    Refusal("GAS_REORDER_DATE(46083, 100, 0, 20)", "#NUM!", "the stock never ends"),
    Refusal("GAS_RUNOUT_RISK(-1, 15, 6, 1)", "#NUM!", "below 0"),
    Refusal("GAS_ORDER_SIZE(1000, 2000, 10, 3)", "#NUM!", "more than the tank holds"),
    Refusal("GAS_ORDER_SIZE(1000, 200, 10, 3, 95)", "#NUM!", "95 % is written 0.95"),
    Refusal(
        "GAS_TANK_PLAN(46083, 100, {40,40;40,40}, 10, 2, 50, 500)", "#VALUE!", "one row or one"
    ),
    Refusal('GAS_TANK_PLAN(46083, 100, {40;"x";40}, 10, 2, 50, 500)', "#VALUE!", "item 2 of"),
    Refusal("GAS_TANK_PLAN(46083, 100, {40;-1}, 10, 2, 50, 500)", "#NUM!", "item 2 of"),
    Refusal("GAS_TANK_PLAN(46083, 600, {40;40}, 10, 2, 50, 500)", "#NUM!", "opening: "),
    Refusal("GAS_TANK_PLAN(46083, 100, {40;40}, 480, 2, 50, 500)", "#NUM!", "highest contents"),
    Refusal("GAS_TANK_PLAN(46083, 100, {40;40}, 10, 400, 50, 500)", "#NUM!", "more than a year"),
    Refusal("GAS_TANK_PLAN(46083, 100, {40;40}, 10, 2, 0, 500)", "#NUM!", "order_size"),
    Refusal("GAS_REORDER_DATE(2958465, 10, 1, 9)", "#NUM!", "no date is left"),
    Refusal(
        "GAS_REORDER_DATE(46083, 10000, 0.001, 9999.9999, 0, , , , 1, 18000, 20000)",
        "#NUM!",
        "no date is left",
    ),
    Refusal("GAS_REORDER_DATE(46083, 100, 5, 20, 0, , , , 3, 0.5)", "#NUM!", "capacity: is blank"),
    Refusal("GAS_TANK_PLAN(46083, 100, {40;40}, 475, 2, 50, 500)", "#NUM!", "allowed (475)"),
    Refusal("GAS_TANK_PLAN(46083, 100, {40;40}, 10, 366.5, 50, 500)", "#NUM!", "more than a year"),
]
