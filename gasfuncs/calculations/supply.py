"""Stock of a bulk tank: days left, reorder level, order size, delivery plan.

Stocks, uses and evaporation are plain numbers in the user's own unit, the same throughout.
"""

from __future__ import annotations

import math
from typing import Annotated, Any

import numpy as np
import scipy

from gasfuncs.calculations.calendar import (
    DeliveryDays,
    Holidays,
    OrderDays,
    dates,
    last_open,
    next_open,
    open_days,
    serials,
)
from gasfuncs.calculations.tank_plan import Calendars, Tank, plan
from gasfuncs.definition import (
    Column,
    Columns,
    Symbol,
    refuse,
    step,
    unreachable,
    worksheet_function,
)
from gasfuncs.definition.terms import Date
from gasfuncs.definition.vocabulary import (
    DailyBoilOff,
    DailySpread,
    DailyUse,
    Day,
    Days,
    FillLimit,
    Fraction,
    LeadSpread,
    LeadTime,
    LeastLoad,
    Numbers,
    ReviewInterval,
    SampleSize,
    ServiceLevel,
    Stock,
    UseOfEachDay,
)

DAY = 86_400.0
LAST_DATE = 2_958_465
"""31 December 9999, the last day that spreadsheets know."""

ROUNDING = 1e-9
"""Days by which a moment may miss its day, from rounding alone."""

LONGEST_LEAD = 366 * DAY
"""s."""

LONGEST_PLAN = 3_660
"""Days."""

MOST_FILL = 0.95
"""Common practice for cryogenic tanks: room is left for the liquid to warm and swell."""

STOCK_BALANCE = "Stock balance: what was there and what came, less what is there"
INVENTORY = (
    "Reorder level with variable demand and lead time, both normal (Stevenson, Operations "
    "Management, 14th edition, chapter 13: ROP = d L + z √(L s_d² + d² s_L²))"
)
REVIEW = "Fixed-interval model: the review interval adds to the lead time (Stevenson, chapter 13)"
PREDICTION = (
    "Student's t for a future value of a normal sample: s √(1 + 1/n) (Montgomery and Runger, "
    "Applied Statistics and Probability for Engineers, section 8-6)"
)
REVIEWED = (
    "With review_days the whole interval counts, as for a level crossed just after a reading; "
    "over all deliveries the chance of running short is lower. GAS_DELIVERY_SIM counts it out."
)
FILL_PRACTICE = "Cryogenic tanks are filled to 95 % at most (common practice)"
OWN_UNIT = "Stock, use and evaporation are in one unit of your own, the same throughout."
NEVER_FILL_HIGHER = (
    "Never fill a tank above the level that its maker allows: liquid that warms in a full tank "
    "lifts the relief valves or worse."
)


def _drain(daily_use: Numbers, daily_boil_off: Numbers) -> Numbers:
    """What leaves the tank a day."""
    drain = daily_use + daily_boil_off
    refuse(np.less_equal(drain, 0), "daily_use", "is 0 without evaporation: the stock never ends")
    step("use and evaporation a day", "u + b", drain)
    return drain


@worksheet_function(
    equation="t = (S - reserve) / (u + b)",
    sources=(STOCK_BALANCE,),
    example=("GAS_DAYS_LEFT(14200, 1150, 60, 3000)", "9.256 d"),
    cautions=(OWN_UNIT, "At the mean use: GAS_RUNOUT_RISK tells the chance of running short."),
)
def days_left(
    contents: Annotated[Stock, "What is in the tank now"],
    daily_use: DailyUse,
    daily_boil_off: DailyBoilOff = 0.0,
    reserve: Annotated[Stock, Symbol("reserve"), "What must be left"] = 0.0,
) -> Annotated[Days, "Time until the reserve is reached; 0 where it is reached already"]:
    """Time until the stock is down to the reserve, evaporation counted.

    Takes one unit of stock throughout, scalars or arrays; gives s. Raises OutOfRangeError where
    nothing leaves the tank.
    """
    return DAY * np.maximum(contents - reserve, 0.0) / _drain(daily_use, daily_boil_off)


def _spread(
    drain: Numbers,
    daily_sd: Numbers,
    days: Numbers,
    days_sd: Numbers,
    sample: Numbers | None,
) -> tuple[Numbers, Numbers]:
    """Mean and standard deviation of what leaves the tank in a time that varies too."""
    mean = drain * days
    variance = days * daily_sd**2 + (drain * days_sd) ** 2
    if sample is not None:
        variance = variance + (days * daily_sd) ** 2 / sample
    spread = np.sqrt(variance)
    step("mean use until the delivery", "u · (L + T)", mean)
    step("standard deviation of that use", "σ", spread)
    return mean, spread


@worksheet_function(
    equation="S_r = u · (L + T) + z(P) · √((L + T) · s² + u² · s_L²) + reserve; with few data t "
    "for z, and (L + T)² · s² / n in the root",
    sources=(INVENTORY, REVIEW, PREDICTION),
    example=("GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.98, 3000)", "9258"),
    cautions=(
        "Put the evaporation of a day into daily_use. " + OWN_UNIT,
        "The reserve is what the tank must keep to hold its pressure and feed the vaporizer.",
        "Uses of different days are taken as independent; a furnace more for weeks is not.",
        REVIEWED,
    ),
)
def reorder_level(
    daily_use: Annotated[
        DailyUse, "Mean use a day, with the evaporation, in the unit of the stock"
    ],
    daily_sd: DailySpread,
    lead_days: Annotated[LeadTime, "Mean time from order to delivery"],
    lead_sd: LeadSpread = 0.0,
    service: ServiceLevel = 0.95,
    reserve: Annotated[Stock, Symbol("reserve"), "What must be left when the truck comes"] = 0.0,
    review_days: ReviewInterval = 0.0,
    sample: SampleSize | None = None,
) -> Annotated[Stock, Symbol("S_r"), "Level to order at, in the unit of the use"]:
    """Level to order at, so that the reserve is kept at a service level while the truck comes.

    Takes one unit of stock throughout and s, scalars or arrays. Raises OutOfRangeError for a
    service of 100 % or below one half.
    """
    refuse(
        np.greater_equal(service, 1),
        "service",
        "is 100 %, which no stock can promise; give 0.99 or 0.999",
    )
    refuse(
        np.less(service, 0.5),
        "service",
        "is below 50 %: the reserve would be reached more often than not; give 0.95 or more",
    )
    days = (lead_days + review_days) / DAY
    mean, spread = _spread(daily_use, daily_sd, days, lead_sd / DAY, sample)
    z: Numbers = scipy.special.ndtri(service)
    if sample is not None:
        z = scipy.special.stdtrit(sample - 1, service)
    step("standard deviations for the service level", "z or t", z)
    step("safety stock", "z σ", z * spread)
    return mean + z * spread + reserve


@worksheet_function(
    equation="date = start + (S - S_r) / (u + b), whole days; the last order day whose truck comes "
    "by date + L",
    sources=(STOCK_BALANCE,),
    example=('GAS_REORDER_DATE("2026-03-02", 14200, 1150, 9258, 60)', "46087 (2026-03-06)"),
    cautions=(OWN_UNIT, "At the mean use; read the level again before that day."),
)
def reorder_date(
    start_date: Annotated[Day, "Day on which the contents were read"],
    contents: Annotated[Stock, "What was in the tank then"],
    daily_use: DailyUse,
    reorder_level: Annotated[Stock, Symbol("S_r"), "Level to order at"],
    daily_boil_off: DailyBoilOff = 0.0,
    order_days: OrderDays | None = None,
    delivery_days: DeliveryDays | None = None,
    holidays: Holidays | None = None,
    lead_days: Annotated[
        LeadTime, "Days from order to delivery; delivery days and least load need them"
    ] = 0.0,
    least_load: LeastLoad = 0.0,
    capacity: Annotated[
        Stock | None, Symbol("capacity"), "What the full tank holds; a least load needs it"
    ] = None,
    max_fill: FillLimit = MOST_FILL,
) -> Annotated[Day, "Day on which to order"]:
    """Day on which to order: the reorder level is reached, or will be before the next chance.

    On closed days nothing is ordered and nothing delivered: the order is then early enough that
    its truck still comes by the day for which the level is meant; with a least load it is not so
    early that the load would not fit. Takes one unit of stock throughout and s, scalars or
    arrays; gives the date's serial number, the first order day from the start on where the level
    is reached already. Raises NoSolutionError after the year 9999.
    """
    refuse(
        capacity is None and np.any(np.greater(least_load, 0)),
        "capacity",
        "is blank; whether a least load fits depends on it",
    )
    drain = _drain(daily_use, daily_boil_off)
    days = np.maximum(contents - reorder_level, 0.0) / drain
    step("days until the reorder level", "(S - S_r) / (u + b)", days, "d")
    date = np.floor(start_date + days + ROUNDING)
    unreachable(date > LAST_DATE, "daily_use", "is so small that no date is left to order on")
    lead = np.ceil(lead_days / DAY - ROUNDING)
    ordering, delivering = open_days(order_days, holidays), open_days(delivery_days, holidays)
    due = serials(last_open(dates(date + lead), delivering))
    step("last delivery day that is early enough", "date + L", due, "d")
    best = serials(last_open(dates(due - lead), ordering))
    first = np.floor(start_date)
    if capacity is not None:
        over = contents + least_load - max_fill * capacity
        fits = np.ceil(start_date + over / drain - ROUNDING)
        step("day on which the least load fits", "(S + q_min - f · capacity) / (u + b)", fits, "d")
        first = np.maximum(first, fits - lead)
    unreachable(first > LAST_DATE, "daily_use", "is so small that no date is left to order on")
    return np.where(best >= first, best, serials(next_open(dates(first), ordering)))


@worksheet_function(
    equation="P = Φ(((u + b) · (L + T) + reserve - S) / √((L + T) · s² + (u + b)² · s_L²)); with "
    "few data Student's t, and (L + T)² · s² / n in the root",
    sources=(INVENTORY, REVIEW, PREDICTION),
    example=("GAS_RUNOUT_RISK(9258, 1150, 240, 3, 1, 3000, 60)", "0.01998"),
    cautions=(
        OWN_UNIT,
        "The normal distribution is good while the standard deviations are well below the means.",
        "Uses of different days are taken as independent; a furnace more for weeks is not.",
        REVIEWED,
    ),
)
def runout_risk(
    contents: Annotated[Stock, "What is in the tank now, or the level that is ordered at"],
    daily_use: DailyUse,
    daily_sd: DailySpread,
    days: Annotated[LeadTime, "Mean time until the delivery"],
    days_sd: LeadSpread = 0.0,
    reserve: Annotated[Stock, Symbol("reserve"), "What must be left"] = 0.0,
    daily_boil_off: DailyBoilOff = 0.0,
    review_days: ReviewInterval = 0.0,
    sample: SampleSize | None = None,
) -> Annotated[Fraction, Symbol("P"), "Chance of reaching the reserve before the delivery"]:
    """Chance that the stock comes down to the reserve before the delivery.

    Takes one unit of stock throughout and s, scalars or arrays; gives a fraction.
    """
    drain, wait = daily_use + daily_boil_off, (days + review_days) / DAY
    mean, spread = _spread(drain, daily_sd, wait, days_sd / DAY, sample)
    left = contents - reserve
    step("what may be used", "S - reserve", left)
    varying = np.greater(spread, 0)
    deviates = (mean - left) / np.where(varying, spread, 1.0)
    chance = scipy.special.ndtr(deviates)
    if sample is not None:
        chance = scipy.special.stdtr(sample - 1, deviates)
    certain = np.where(varying, chance, np.greater_equal(mean, left))
    return np.where(np.less_equal(left, 0), 1.0, certain)


@worksheet_function(
    equation="order = f · capacity - max(S - (u + b) · L, 0)",
    sources=(STOCK_BALANCE, FILL_PRACTICE),
    example=("GAS_ORDER_SIZE(20000, 9258, 1150, 3, 0.95, 60)", "13372"),
    cautions=(
        OWN_UNIT,
        NEVER_FILL_HIGHER,
        "At the mean use: on a quiet day less fits, so the driver stops at the allowed level.",
    ),
)
def order_size(
    capacity: Annotated[Stock, Symbol("capacity"), "What the full tank holds"],
    contents: Annotated[Stock, "What is in the tank when the order is placed"],
    daily_use: DailyUse,
    lead_days: LeadTime,
    max_fill: FillLimit = MOST_FILL,
    daily_boil_off: DailyBoilOff = 0.0,
) -> Annotated[Stock, "What fits when the truck comes; 0 where nothing does"]:
    """What fits into the tank when the truck comes.

    Takes one unit of stock throughout and s, scalars or arrays. Raises OutOfRangeError where the
    contents exceed the capacity.
    """
    refuse(np.greater(contents, capacity), "contents", "is more than the tank holds")
    used = (daily_use + daily_boil_off) * (lead_days / DAY)
    left = np.maximum(contents - used, 0.0)
    step("use and evaporation until the truck comes", "(u + b) · L", used)
    step("left when the truck comes", "S_L", left)
    step("highest contents allowed", "f · capacity", max_fill * capacity)
    return np.maximum(max_fill * capacity - left, 0.0)


@worksheet_function(
    equation="closing = opening + delivery - use - boil-off + shortage, day by day",
    sources=(STOCK_BALANCE, "Continuous review of stock and orders on the way", FILL_PRACTICE),
    example=(
        'GAS_TANK_PLAN("2026-03-02", 9800, {1150,1150,1150,0,0}, 9258, 2, 12000, 20000, 60)',
        "a row a day; the first orders 11620, which comes on 2026-03-04",
    ),
    cautions=(
        OWN_UNIT,
        NEVER_FILL_HIGHER,
        "The plan knows no spread of uses and no late truck; GAS_RUNOUT_RISK does.",
    ),
)
def tank_plan(
    start_date: Annotated[Day, "First day of the plan"],
    opening: Annotated[Stock, "What is in the tank on its morning"],
    daily_use: UseOfEachDay,
    reorder_level: Annotated[Stock, Symbol("S_r"), "Level to order at"],
    lead_days: Annotated[LeadTime, "Days from order to delivery; part of a day counts as one"],
    order_size: Annotated[Stock, Symbol("order"), "What a truck brings at most"],
    capacity: Annotated[Stock, Symbol("capacity"), "What the full tank holds"],
    daily_boil_off: DailyBoilOff = 0.0,
    max_fill: FillLimit = MOST_FILL,
    order_days: OrderDays | None = None,
    delivery_days: DeliveryDays | None = None,
    holidays: Holidays | None = None,
    least_load: LeastLoad = 0.0,
) -> Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Date", Date("date", "Day of the plan")),
            Column("Opening"),
            Column("Use"),
            Column("Boil-off"),
            Column("Delivery"),
            Column("Closing"),
            Column("Order placed"),
            Column("Shortage"),
        ),
        "A row for every day",
    ),
]:
    """Plan of a tank's deliveries, day by day from a use for each calendar day.

    An order is placed on the day that brings stock and orders on the way down to the reorder
    level, or on the last order day before it, one a day at most; its truck comes that many days
    later, or on the next delivery day, before the use of its day. Never more is ordered than fits
    then, and nothing while that is less than the least load: the uses of the days between are
    known from the plan, those after its end count as none. Takes one unit of stock throughout,
    the lead time in s, one plan at a time; gives rows of numbers. Raises OutOfRangeError where
    tank and levels do not go together.
    """
    most = float(max_fill * capacity)
    refuse(
        len(daily_use) > LONGEST_PLAN,
        "daily_use",
        f"has {len(daily_use)} days; a plan is for {LONGEST_PLAN} days at most",
    )
    refuse(opening > capacity, "opening", "is more than the tank holds")
    refuse(np.less_equal(order_size, 0), "order_size", "must be above 0")
    refuse(
        reorder_level >= most,
        "reorder_level",
        f"must be below the highest contents allowed ({most:g})",
    )
    refuse(
        least_load > min(float(order_size), most),
        "least_load",
        "is more than a truck brings or than the tank takes",
    )
    refuse(
        lead_days > LONGEST_LEAD,
        "lead_days",
        "is more than a year; a plan is for deliveries by truck",
    )
    lead = math.ceil(lead_days / DAY - ROUNDING)
    step("days from order to delivery", "L", lead, "d")
    step("highest contents allowed", "f · capacity", most)
    tank = Tank(
        float(reorder_level),
        float(order_size),
        float(least_load),
        most,
        float(daily_boil_off),
        lead,
    )
    calendars = Calendars(open_days(order_days, holidays), open_days(delivery_days, holidays))
    return plan(float(start_date), float(opening), daily_use.tolist(), tank, calendars)
