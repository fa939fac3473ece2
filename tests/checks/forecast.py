"""Checks of the topic forecast."""

from tests.checks.kinds import MEMORY, READ, Invariant, Published, Refusal

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

PUBLISHED = [
    Published(PHONED, 0, 1e-9,
              PHONES + "; used up just as the order comes (older edition)", MEMORY,
              EXACT, absolute=True, row=3, column=1),
    Published(PHONED, 200, 1e-9, PHONES + ", 200 at a time", READ,
              EXACT, row=8, column=1),
    Published(FIVE, 5, 0.02, ORDERS, MEMORY,
              "ten years have whole deliveries, and a year here is 365.25 days", row=6, column=1),
]  # fmt: skip

INVARIANTS = [
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
]  # fmt: skip

REFUSALS = [
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
]  # fmt: skip
