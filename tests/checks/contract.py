"""Checks of the topic contract."""

from tests.checks.kinds import SEEN, Invariant, Published, Refusal

LABOUR_STATISTICS = (
    "US Bureau of Labor Statistics, price adjustment by an index: 205.916 against 201.427 is a "
    "change of 2.2286 %"
)
THREE_TIERS = (
    "Guide to pricing models of a billing service: 0.10 to 1,000, 0.05 to 10,000, then 0.01; "
    "15,000 units"
)
GRADUATED = (
    "Guide to graduated pricing of a billing service: 0.01 to 1,000, 0.008 to 10,000, then 0.005; "
    "15,000 units"
)
SLABS = "A bank's guide to charge rules: 1 a unit to 250, 2 to 500, then 3; 1,000 units"
BARRELS = "Glossary of shipping: take or pay of 50 barrels a month at 60, none taken, costs 3,000"
LAPTOPS = "Guide to the three-way match: three laptops ordered and delivered at 800 each, 2,400"
OVERBILLED = (
    "Course book of accounts payable: 100 units ordered at 12.50, received, billed at 15.75: "
    "325 too much"
)
EXACT = "exact"

TIERS = '{1000,10000,0.05;10000,"",0.01}'
YEAR = (
    '{"2026-01-01";"2026-02-01";"2026-03-01";"2026-04-01";"2026-05-01";"2026-06-01";'
    '"2026-07-01";"2026-08-01";"2026-09-01";"2026-10-01";"2026-11-01";"2026-12-01"}'
)
LEVEL = "{1000;1000;1000;1000;1000;1000;1000;1000;1000;1000;1000;1000}"
SEASON = "{3000;0;2000;500;500;500;500;500;500;2000;1500;500}"
OFFER = 'GAS_CONTRACT_COST({"2026-01-31";"2026-02-01"}, {15000;3000}, 0.10, "", "", 250, 5000, 1000'
EXTRAS = '{"energy",0.05,"","","";"fuel","",30,"","";"carbon","","",12,0.001}'

LINES = (
    '{1,1000,2,0,2000,"";1,1000,2,0,2000,"";2,1000,2.2,0,2200,"";3,1000,2,0,2001,"";'
    '4,990,2,0,1980,"";5,1000,2,0,2000,"";6,1100,2,0,2200,1.1;7,1,2,0,2,"";9,10,3,0,30,"";'
    '10,10,2,1,21,""}'
)
TICKETS = (
    '{"ticket","date","quantity";1,46000,1000;2,46001,1000;3,46001,1000;4,46001,1000;'
    "6,46001,1000;7,1,1;8,46001,5;9,46001,10;10,46001,10}"
)
CHECKED = f"GAS_INVOICE_CHECK({LINES}, {TICKETS}, {{40000,2,1;46010,2,1.1}})"

QUARTER = (
    'GAS_CONTRACT_COST({"2026-01-01";"2026-02-01";"2026-03-01"}, {10;20;0}, 60, , , , , , , '
    '150, "quarter")'
)

ONE_LINE = 'GAS_INVOICE_CHECK({"T1",3,800,"",%s}, {"T1",46000,3}, {45000,800})'
FROM_FEBRUARY = QUARTER.replace('"2026-01-01";', "").replace('03-01"', '03-01";"2026-04-01"')

PUBLISHED = [
    Published("GAS_INDEXED_PRICE(100, 0, 1, 201.427, 205.916)", 102.2286, 5e-7, LABOUR_STATISTICS,
              SEEN, "seven digits printed"),
    Published(f'GAS_CONTRACT_COST("2026-01-01", 15000, 0.10, {TIERS})', 600, 1e-12, THREE_TIERS,
              SEEN, EXACT, row=1, column=7),
    Published(f'GAS_CONTRACT_COST("2026-01-01", 15000, 0.10, {TIERS}, "whole", , , , , , "month")',
              150, 1e-12, THREE_TIERS + ", all at the tier reached", SEEN, EXACT, row=1, column=7),
    Published('GAS_CONTRACT_COST("2026-01-01", 15000, 0.01, {1000,10000,0.008;10000,"",0.005})',
              107, 1e-12, GRADUATED, SEEN, EXACT, row=1, column=7),
    Published('GAS_CONTRACT_COST("2026-01-01", 1000, 0, {0,250,1;250,500,2;500,"",3})', 2250,
              1e-12, SLABS, SEEN, EXACT, row=1, column=2),
    Published('GAS_CONTRACT_COST("2026-01-01", 1000, 0, {0,250,1;250,500,2;500,"",3}, "whole", , '
              ', , , , "month")', 3000, 1e-12, SLABS, SEEN, EXACT, row=1, column=2),
    Published('GAS_CONTRACT_COST("2026-01-01", 0, 60, , , , , , , 50, "month")', 3000, 1e-12,
              BARRELS, SEEN, EXACT, row=1, column=7),
    Published('GAS_INVOICE_CHECK({"L",3,800,0,2400}, {"L",46000,3}, {45000,800})', 2400, 1e-12,
              LAPTOPS, SEEN, EXACT, row=1, column=1),
    Published('GAS_INVOICE_CHECK({"U",100,15.75,0,1575}, {"U",46000,100}, {45000,12.5})', 325,
              1e-12, OVERBILLED, SEEN, EXACT, row=1, column=3),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_INVOICE_CHECK({"T1",3,800,0,2400.5}, {"T1",46000,3}, {45000,800}, 1)', "agrees",
        "half a unit of money is less than the one that rounding may change", row=1, column=4,
    ),
    Invariant("GAS_INDEXED_PRICE(100, 0.4, 0.6, 100, 130)", 118, "by hand: 100 (0.4 + 0.6 1.3)"),
    Invariant("GAS_INDEXED_PRICE(7, 0.2, {0.5,0.3}, {110;95}, {110;95})", 7, "indices unmoved"),
    Invariant("GAS_INDEXED_PRICE(100, 0, {0.5,0.5}, {100,200}, {120,180})", 105, "up and down"),
    Invariant("GAS_INDEXED_PRICE(100, 0.4, 0.6, 100, 130, 110)", 110, "the cap holds"),
    Invariant("GAS_INDEXED_PRICE(100, 0.4, 0.6, 100, 50, 110, 95)", 95, "the floor holds"),
    Invariant(
        "GAS_INDEXED_PRICE(0.16, 0.4, 0.6, 100, 130)",
        0.16 * 1.18,
        "the factor is the same for every price",
    ),
    Invariant('GAS_CONTRACT_COST("2026-01-01", 8000, 0.16, , , , , , , 10000, "month")', 320,
              "by hand: 2,000 not taken at 0.16", row=1, column=6),
    Invariant('GAS_CONTRACT_COST("2026-01-01", 8000, 0.16, , , , , , , 10000, "month")', 0.2,
              "by hand: 1,600 over 8,000", row=1, column=8),
    Invariant(
        f"GAS_CONTRACT_COST({YEAR}, {SEASON}, 0.10, {TIERS})",
        1000 * 0.10 + 9000 * 0.05 + 2000 * 0.01,
        "the tiers of a year do not care in which month it was taken",
        row=1, column=2,
    ),
    Invariant(
        f"GAS_CONTRACT_COST({YEAR}, {LEVEL}, 0.10, {TIERS})",
        50,
        "the second month pays the second tier",
        row=3, column=2,
    ),
    Invariant(
        f'GAS_CONTRACT_COST({YEAR}, {SEASON}, 2, , , , , , , 1500, "quarter", 0.5)',
        0,
        "the third quarter takes its 1,500",
        row=10, column=6,
    ),
    Invariant(
        f'GAS_CONTRACT_COST({YEAR}, {SEASON}, 2, , , , , , , 2000, "quarter", 0.5)',
        0.5 * (500 + 500),
        "the second and the third quarter lack 500 each, charged at the rate of its own",
        row=1, column=6,
    ),
    Invariant(OFFER + f", {EXTRAS})", 250 * 18000 / 5000, "a charge a delivery", row=1, column=3),
    Invariant(OFFER + f", {EXTRAS})", 2000, "rent of two months", row=1, column=4),
    Invariant(
        OFFER + f", {EXTRAS})",
        0.05 * 1800 + 30 * 3.6 + 2 * 12 + 0.001 * 18000,
        "surcharges on goods, deliveries, months and amount",
        row=1, column=5,
    ),
    Invariant(OFFER + f", {EXTRAS}, , , , {{1,1.1}})", 330, "the second month is indexed", row=3,
              column=2),
    *(
        Invariant(CHECKED, reason, "by hand, line by line", row=row, column=4)
        for row, reason in enumerate(
            ("agrees", "twice", "index", "sum", "quantity", "no ticket", "factor",
             "before the contract", "rate", "surcharge", "not billed"), 1
        )
    ),
    Invariant(CHECKED, 2000, "what is billed again is too much", row=2, column=3),
    Invariant(CHECKED, -10, "a ticket that nobody billed", row=11, column=3),
    Invariant(
        'GAS_INVOICE_CHECK({"T1",150000,0.004,30,630}, {"T1","2026-01-09",1611}, '
        '{"2026-01-01",0.004,1,93.11,0.05})',
        1611 * 93.11 * 0.004 * 1.05,
        "gallons by the contract's factor, with the surcharge",
        row=1, column=1,
    ),
    Invariant(CHECKED, 0, "a ticket billed twice is expected once", row=2, column=1),
    Invariant(
        QUARTER, 60 * (150 - 30), "120 units short in the quarter, due in its last month",
        row=4, column=6,
    ),
    Invariant(
        QUARTER, 0, "and not before", row=3, column=6,
    ),
    Invariant(
        FROM_FEBRUARY, 7200, "a quarter from February is due in April", row=4, column=6
    ),
    Invariant("GAS_INDEXED_PRICE(100, 0.4, 0.6, 0.5, 0.65)",
              "GAS_INDEXED_PRICE(100, 0.4, 0.6, 100, 130)", "an index of any base tells the same"),
    Invariant('GAS_CONTRACT_COST({"2026-01-01";"";"2026-02-01"}, {10;"";20}, 2)', 60,
              "a blank row is left out", row=1, column=2),
    Invariant('GAS_CONTRACT_COST("2026-01-01", 5, 1, {10,"",0.5}, "whole", , , , , 12, "month")',
              12 * 0.5 - 5, "twelve at the tier's price less five at the price", row=1, column=6),
    Invariant(
        'GAS_CONTRACT_COST("2026-01-01", 10, 2, , , , , , {"energy",0.05,"","",""})', 1,
        "a share of the goods needs no drop", row=1, column=5,
    ),
    Invariant('GAS_INVOICE_CHECK({"T1",0.5,800,"",400}, {"T1",46000,0.5}, {45000,800})', "agrees",
              "half a unit; nothing is added where no surcharge is written", row=1, column=4),
    Invariant('GAS_INVOICE_CHECK({"T1",2,0.001,"",0.002}, {"T1",46000,1}, {45000,0.001})', "agrees",
              "a kilogram too much of what is nearly free is within the rounding", row=1, column=4),
    Invariant(
        'GAS_INVOICE_CHECK({"T1",1.1,0.001,"",0.0011,1.1}, {"T1",46000,1}, {45000,0.001})',
        "agrees", "another factor on what is nearly free is within the rounding", row=1, column=4,
    ),
    Invariant('GAS_INVOICE_CHECK({"T1",3,1,"",3}, {"T1",46000,3}, {45000,0})', "rate",
              "no index makes a price of nothing", row=1, column=4),
    Invariant(
        'GAS_INVOICE_CHECK({"T1",3,0.75,"",2.25}, {"T1",46000,3}, {45000,0.5,1.2;47000,0.7,1.5})',
        "index", "0.5 times the later version's index", row=1, column=4,
    ),
    Invariant(
        'GAS_INVOICE_CHECK({"T1",3,800,"",2400}, {"T1",46000,3}, {50000,900;1,800})', "agrees",
        "the version from the first day on, though it stands last", row=1, column=4,
    ),
    Invariant(ONE_LINE.replace("})", "}, 0.5)") % 2400.5, "agrees",
              "half a unit of money is what rounding may change", row=1, column=4),
    Invariant(ONE_LINE.replace('{"T1",3', '{"T9",3') % 2400, 0,
              "nothing is expected without a ticket", row=1, column=1),
    Invariant('GAS_INVOICE_CHECK({"T1",3,2,"",6}, {"T1",46000,3}, {45000,2,1.2;47000,3,1.2})',
              "index", "the price without its index", row=1, column=4),
    Invariant('GAS_INVOICE_CHECK({"T1",3,0,"",0}, {"T1",46000,3}, {40000,0;45000,5})', "index",
              "the price of the free version before", row=1, column=4),
    Invariant('GAS_CONTRACT_COST("2026-01-01", 0.7, 9, {0,0.5,2;0.5,"",1})', 0.5 * 2 + 0.2,
              "a tier of half a unit", row=1, column=2),
]  # fmt: skip

REFUSALS = [
    Refusal("GAS_INDEXED_PRICE(100, 0.4, 0.5, 100, 130)", "#NUM!", "add up to 0.9, not to 1"),
    Refusal("GAS_INDEXED_PRICE(100, 0.4, {0.3,0.3}, 100, 130)", "#VALUE!", "1 indices for 1 base"),
    Refusal("GAS_INDEXED_PRICE(100, 0.4, 0.6, 0, 130)", "#NUM!", "base_indices: "),
    Refusal("GAS_INDEXED_PRICE(100, 0.4, 0.6, 100, 130, 1.1)", "#NUM!", "a cap is a price"),
    Refusal("GAS_INDEXED_PRICE(100, 0.4, 0.6, 100, 130, , 130)", "#NUM!", "floor: "),
    Refusal("GAS_INDEXED_PRICE(100, 40, 0.6, 100, 130)", "#NUM!", "4000 % as a share"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 15000, 0.1, {0,1000,0.1;900,"",0.01})', "#NUM!",
            "row 2: from 900 overlaps"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 15000, 0.1, {0,1000,0.1;1100,"",0.01})', "#NUM!",
            "row 2: nothing has a price from 1000 to 1100"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 15000, 0.1, {500,100,0.1})', "#NUM!",
            "row 1: to 100 is not above from 500"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 15000, 0.1, {0,1000,0.1})', "#NUM!", "takes 15000"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 15000, 0.1, {0,"x",0.1})', "#VALUE!", "row 1, to: "),
    Refusal('GAS_CONTRACT_COST({"2026-01-01";"2026-01-31"}, {1;2}, 0.1)', "#NUM!",
            "2026-01 stands twice (items 1 and 2"),
    Refusal('GAS_CONTRACT_COST({"2026-01-01";"2026-03-01"}, {1;2}, 0.1)', "#NUM!",
            "the month after 2026-01 is missing"),
    Refusal('GAS_CONTRACT_COST({"2026-01-01";"2026-02-01"}, {1;""}, 0.1)', "#VALUE!",
            "amounts: is blank (item 2"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", {1;2}, 0.1)', "#VALUE!", "2 values for 1 months"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 100, 0.1, , , 250)', "#NUM!", "drop: is blank"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 100, 0.1, , , , , , , 5000)', "#NUM!",
            "not whole periods of a year"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", "100 Nm3", 0.1)', "#VALUE!", "a plain number"),
    Refusal('GAS_INVOICE_CHECK({1,1000,2,0,2000;1,"x",2,0,2000}, {1,1,1}, {1,1})', "#VALUE!",
            "lines: row 2, quantity"),
    Refusal('GAS_INVOICE_CHECK({1,1000,"",0,2000}, {1,1,1}, {1,1})', "#VALUE!",
            "row 1, price: is blank"),
    Refusal("GAS_INVOICE_CHECK({1,1000,2,0,-5}, {1,1,1}, {1,1})", "#NUM!", "billed: -5 is below 0"),
    Refusal("GAS_INVOICE_CHECK({1,1000,2,0,5}, {1,1,1;1,1,2}, {1,1})", "#NUM!",
            "row 2: ticket 1 stands in row 1 too"),
    Refusal("GAS_INVOICE_CHECK({1,1000,2,0,5}, , {1,1})", "#VALUE!", "tickets: is blank"),
    Refusal(
        'GAS_CONTRACT_COST({"2026-01-01";"2026-02-01"}, {10;20}, 60, , , , , , , 0.5, "quarter")',
        "#NUM!", "not whole periods",
    ),
    Refusal("GAS_INDEXED_PRICE(100, 0.4, 1.2, 100, 130)", "#NUM!", "1.2 is above 1"),
    Refusal("GAS_INDEXED_PRICE(100, 0.4, 0.6, 1050000000, 130)", "#NUM!", "is above 1e+09"),
    Refusal("GAS_INDEXED_PRICE(100, 0.4, {0.3,0.3}, {100,100}, 130)", "#VALUE!", "1 indices for 2"),
    Refusal("GAS_CONTRACT_COST(2958466, 10, 2)", "#NUM!", "months: 2.95847e+06 is above"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 1.05E+15, 2)', "#NUM!", "is above 1e+15"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, , , , , , , , , , 1050000)', "#NUM!",
            "price_index: 1.05e+06 is above 1e+06"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, , , , , , {"energy",-1.1,"","",""})', "#NUM!",
            "share of goods: -1.1 is below -1"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, , , , , , {"energy",10.5,"","",""})', "#NUM!",
            "above 1000 %"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, , , , , , {"fuel","","",1.05E+12,""})', "#NUM!",
            "per month: 1.05e+12 is above 1e+12"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, , , , , , {"fuel","",0.5,"",""})', "#NUM!",
            "drop: is blank"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, , , 0.5)', "#NUM!", "drop: is blank"),
    Refusal('GAS_CONTRACT_COST({"2026-01-01";"2026-02-01"}, {1;2}, 2, , , , , , , , , , {1;""})',
            "#VALUE!", "price_index: is blank (item 2"),
    Refusal(
        'GAS_CONTRACT_COST({"2026-01-01";"2026-02-01"}, {301;50}, 1, {100,300,0.8}, , , , , , , '
        '"month")', "#NUM!", "a period takes 301",
    ),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, {1.05E+15,"",1})', "#NUM!", "row 1, from: "),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, {0,1.05E+15,1})', "#NUM!", "row 1, to: "),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, {0,"",1.05E+12})', "#NUM!", "row 1, price: "),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, {0,100,1;100,300,1;200,"",1})', "#NUM!",
            "row 3: from 200 overlaps"),
    Refusal('GAS_CONTRACT_COST("2026-01-01", 10, 2, {100,100,1})', "#NUM!",
            "row 1: to 100 is not above from 100"),
    Refusal(ONE_LINE % "1.05E+15", "#NUM!", "billed: 1.05e+15 is above 1e+15"),
    Refusal('GAS_INVOICE_CHECK({1,1.05E+15,2,0,5}, {1,1,1}, {1,1})', "#NUM!", "1, quantity: "),
    Refusal('GAS_INVOICE_CHECK({1,1,1.05E+12,0,5}, {1,1,1}, {1,1})', "#NUM!", "above 1e+12"),
    Refusal('GAS_INVOICE_CHECK({1,1,2,0,5,1.05E+9}, {1,1,1}, {1,1})', "#NUM!", "above 1e+09"),
    Refusal("GAS_INVOICE_CHECK({1,1,2,0,5}, {1,2958466,1}, {1,1})", "#NUM!", "1, date: "),
    Refusal("GAS_INVOICE_CHECK({1,1,2,0,5}, {1,1,1}, {2958466,1})", "#NUM!", "1, from: "),
    Refusal('GAS_INVOICE_CHECK({1,1,2,0,5}, {1,1,1}, {1,1,"","",10.5})', "#NUM!", "above 1000 %"),
    Refusal("GAS_CONTRACT_COST(1, 10, 2)", "#NUM!", "months: 1 is below 2"),
]  # fmt: skip
