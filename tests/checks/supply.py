"""Checks of the topic supply."""

from tests.checks.kinds import MEMORY, READ, Invariant, Published, Refusal

SAND = "Stevenson, Operations Management 14e, Example 8: lead-time demand 50, sd 5, risk 3 %"
CARPET = "Russell and Taylor, Operations Management: 30 a day, sd 5, 10 days, 95 %"
BOTH_VARY = "Operations management exercise: 30 gal a day, sd 3, 7 days, sd 4, 90 %"
OIL = (
    "Anderson, Sweeney, Williams, Statistics for Business and Economics: demand 15, sd 6, level 20"
)
PHONES = (
    "Heizer and Render, Operations Management, Example 12.7: 32 a day, 3 working days; an order "
    "is placed when the stock drops to 96"
)
Z_ROUNDED = "the book rounds z to two decimals"
DEWAR = "Cryogenic vessel maker's article: 30 L losing 0.5 L a day lasts 60 days"
DIPS = "Province of Alberta, fuel inventory control: 1710 L + 500 L - 162 L against a dip of 2054 L"
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

PUBLISHED = [
    Published("GAS_DAYS_LEFT(30, 0, 0.5)", 60, 1e-9, DEWAR, READ, EXACT),
    Published("GAS_DAYS_LEFT(10, 8.8)", 1.1, 0.05,
              "Cryogenic vessel maker's article: 10 L at 8.8 L a day last 1.1 days", READ,
              "two digits printed"),
    Published('GAS_DAYS_LEFT(100, 1080, , , "min")', 133, 0.005,
              "Trade magazine, Shielding gas consumption efficiency: 100 ft3 at 45 ft3/h last 2 h "
              "13 min", READ, "printed in whole minutes"),
    Published("GAS_REORDER_LEVEL(50, 5, 1, , 0.97)", 59.40, 5e-4, SAND, READ, Z_ROUNDED),
    Published("GAS_REORDER_LEVEL(30, 5, 10)", 326.1, 1e-3, CARPET, MEMORY,
              "z rounded to 1.65; inputs read, answer by the book's expression"),
    Published('GAS_REORDER_LEVEL(30, 3, 7, 4, "90 %")', 363.94, 1e-3, BOTH_VARY, READ, Z_ROUNDED),
    Published("GAS_REORDER_LEVEL(32, 0, 3)", 96, 1e-9, PHONES, READ, EXACT),
    Published("GAS_REORDER_LEVEL(32, 0, 3, 0, 0.95, 32)", 128, 1e-9,
              PHONES + "; 128 with a day's safety stock", READ, EXACT),
    Published("GAS_REORDER_DATE(46083, 30, 0, 0, 0.5)", 46143, 1e-12, DEWAR, READ, EXACT),
    Published("GAS_REORDER_DATE(46083, 160, 32, 96)", 46085, 1e-12,
              PHONES + ": from 160 two days later", READ, EXACT),
    Published("GAS_RUNOUT_RISK(20, 15, 6, 1)", 0.2033, 0.0015, OIL, READ,
              "the book rounds z to 0.83", absolute=True),
    Published("GAS_RUNOUT_RISK(24.87, 15, 6, 1)", 0.05, 5e-4, OIL + "; 24.87 for 5 %", MEMORY,
              "z rounded to 1.645", absolute=True),
    Published("GAS_RUNOUT_RISK(59.40, 50, 5, 1)", 0.03, 5e-4, SAND, READ, Z_ROUNDED,
              absolute=True),
    Published("GAS_RUNOUT_RISK(363.94, 30, 3, 7, 4)", 0.10, 1e-3, BOTH_VARY, READ, Z_ROUNDED,
              absolute=True),
    Published("GAS_ORDER_SIZE(10000, 4700, 0, 0, 0.9)", 4300, 1e-9, ROOM, READ, EXACT),
    Published("GAS_ORDER_SIZE(10000, 2000, 0, 0, 0.9)", 7000, 1e-9, BELOW_90, READ, EXACT),
    Published(PHONE_PLAN, 96, 1e-12, PHONES + "; the stock on the morning of the order", READ,
              EXACT, row=3, column=1),
    Published(PHONE_PLAN, 200, 1e-12, PHONES + "; ordered on that day", READ, EXACT, row=3,
              column=6),
    Published(PHONE_PLAN, 0, 1e-12, PHONES + "; used up just as the order comes (older edition)",
              MEMORY, EXACT, absolute=True, row=6, column=1),
    Published("GAS_UNACCOUNTED(1710, 500, 2054, 162)", -6, 1e-9, DIPS + ", 6 L over", READ, EXACT),
    Published('GAS_UNACCOUNTED_LEAK("1 mol", 0, 0, 0, "1 s", 20, "std cc/s")', 22413.96954, 1e-9,
              "CODATA: molar volume of ideal gas at 273.15 K, 101.325 kPa, 22.413 969 54 L/mol",
              MEMORY, "ten digits"),
    Published('GAS_UNACCOUNTED_LEAK("0.00030 mol", 0, 0, 0, "1 s", "293.15 K", "Pa m3/s")',
              2.0e-3 * (50_600 - 25_300) / 70, 0.02,
              "US 40 CFR 1065.644: 2.0000 L rising from 25.300 to 50.600 kPa in 70 s at 293.15 K "
              "leaks 0.00030 mol/s (inputs read, answer from memory)", MEMORY,
              "two digits printed"),
]  # fmt: skip

INVARIANTS = [
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
    Invariant("GAS_RUNOUT_RISK(3630, 1150, 0, 3, 0, 0, 60)", 1, "certain use that reaches just 0"),
    Invariant("GAS_RUNOUT_RISK(3631, 1150, 0, 3, 0, 0, 60)", 0, "certain use that falls short"),
    Invariant("GAS_RUNOUT_RISK(3000, 0, 0, 3, 0, 3000)", 1, "the reserve is reached now"),
    Invariant(
        'GAS_RUNOUT_RISK(4000, 1150, 240, "3 d", "24 h")',
        'GAS_RUNOUT_RISK(4000, 1150, 240, "72 h", 1)',
        "times in any unit",
    ),
    Invariant("GAS_REORDER_DATE(46083, 9000, 1150, 9258, 60)", 46083, "already below: order today"),
    Invariant(
        'GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258)',
        "GAS_REORDER_DATE(46083, 14200, 1090, 9258, 60)",
        "dates as text or serial numbers; evaporation is like use",
    ),
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
    Invariant(
        'GAS_UNACCOUNTED("8200 Nm3", 15400, 6900, 0)',
        8200 + 15400 - 6900,
        "without a calculated use all of it is unexplained",
    ),
    Invariant(
        "GAS_UNACCOUNTED(8200, 15400, 6900, 15150, 31)",
        "GAS_UNACCOUNTED(8200, 15400, 6900, 15150)",
        "the days change no amount",
    ),
    Invariant(
        'GAS_UNACCOUNTED_LEAK(20, 0, 0, 0, 1, 20, "std cc/s")',
        20e6 / 86400,
        "20 normal cubic metres a day as cubic centimetres a second",
    ),
]

REFUSALS = [
    Refusal("GAS_DAYS_LEFT(100, 0)", "#NUM!", "the stock never ends"),
    Refusal('GAS_DAYS_LEFT("100 L", 5)', "#VALUE!", "a plain number is meant"),
    Refusal("GAS_REORDER_LEVEL(30, 5, 10, , 95)", "#NUM!", "9500 % as a share"),
    Refusal("GAS_REORDER_LEVEL(30, 5, 10, , 1)", "#NUM!", "which no stock can promise"),
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
    Refusal('GAS_UNACCOUNTED(100, "20 kg", 50, 10)', "#VALUE!", "not of gas amount"),
    Refusal("GAS_UNACCOUNTED(100, 20, 50, 10, 0)", "#NUM!", "days: must be above 0"),
    Refusal("GAS_UNACCOUNTED_LEAK(100, 20, 50, 10)", "#VALUE!", "days: is blank"),
    Refusal("GAS_UNACCOUNTED_LEAK(100, 20, 50, 10, 0)", "#NUM!", "days: must be above 0"),
]
