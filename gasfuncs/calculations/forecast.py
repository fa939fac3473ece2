"""What a tank's history tells: its deliveries and use, the use to come, the risk of running short.

Stocks, uses and levels are plain numbers in the user's own unit, the same throughout.
"""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.calendar import (
    DeliveryDays,
    Holidays,
    OrderDays,
    always_open,
    next_open,
    open_days,
)
from gasfuncs.calculations.calendar import dates as days_of
from gasfuncs.calculations.delivery_sim import (
    OpenDays,
    Rules,
    Trials,
    mean_band,
    quantile_band,
    run,
    share_band,
)
from gasfuncs.calculations.liquid_state import refuse_air
from gasfuncs.calculations.smoothing import forecast as seasonal_forecast
from gasfuncs.calculations.sources import EQUATION_OF_STATE
from gasfuncs.calculations.supply import (
    DAY,
    MOST_FILL,
    NEVER_FILL_HIGHER,
    OWN_UNIT,
    STOCK_BALANCE,
)
from gasfuncs.calculations.tank_events import (
    Record,
    each_pressure,
    event_rows,
    left_out_rows,
    rises,
    usable,
)
from gasfuncs.calculations.use_history import daily_history, filled_in, special_day
from gasfuncs.definition import Column, Columns, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.series import Kept, KeptSeries, Series
from gasfuncs.definition.terms import Count, Date, Number, Quantity, Share
from gasfuncs.definition.vocabulary import (
    Capacity,
    Day,
    Duration,
    FillLimit,
    GasArgument,
    Liquid,
    LiquidAt,
    Money,
    Stock,
    Temperature,
)
from gasfuncs.errors import UnreadableError
from gasfuncs.units import kinds

Array = NDArray[np.float64]

YEAR = 365.25
"""Days."""

LEAST_RISE = 0.05
"""Of the capacity."""

MOST_DAYS_TRIED = 4_000_000
"""Trials times days."""

RESAMPLING = "Bootstrap of whole weeks and of lead times (Efron and Tibshirani, 1993, chapter 8)"
REVIEWED_STOCK = "Stock reviewed at intervals, orders at a reorder level, orders on the way counted"

SMOOTHING = (
    "Exponential smoothing with an additive season, damped trend (NIST/SEMATECH e-Handbook, 6.4.3; "
    "Hyndman and Athanasopoulos, Forecasting, chapter 8), by statsmodels"
)
ROLLING_ORIGIN = "Error by rolling origin (Hyndman and Athanasopoulos, section 5.10)"

USE_DATES = Series(
    "date", "Days of the history, each once and without gaps, in any order; rows blank in both are "
    "left out",
    each=Date("date", "Day", low=1, high=2_958_465), blank=np.nan,
)  # fmt: skip
USES = Series(
    "u_i", "Use of each day, evaporation included, in your own unit; 0 where nothing was used",
    each=Number("u", "Use of a day", low=0, high=1e15), blank=np.nan,
)  # fmt: skip
SPECIAL_DAYS = Series(
    "special", "Days past and to come that are not as their weekday is, such as shutdowns",
    each=Date("special", "Special day", low=1, high=2_958_465), blank=np.nan,
)  # fmt: skip
FORECAST = Columns(
    (
        Column("Date", Date("date", "Day forecast")),
        Column("Mean", Number("u", "Expected use")),
        Column("Low", Number("u", "Low end of the band")),
        Column("High", Number("u", "High end of the band")),
        Column("Method"),
        Column("Error", Number("MAE", "Mean absolute error of a day, by rolling origin")),
        Column("Error of last week", Number("MAE", "The same of 'same weekday last week'")),
    ),
    "A row for each day; the method and its error beside that of 'same weekday last week'",
)


@worksheet_function(
    equation="mean of the weekday over 8 weeks; from 8 weeks on also u = level + weekday (+ damped "
    "trend), smoothed exponentially; the one that missed least so far",
    sources=(SMOOTHING, ROLLING_ORIGIN),
    example=(
        "GAS_FORECAST({46083;46084;46085;46086;46087;46088;46089;46090;46091;46092;46093;46094;"
        "46095;46096}, {1610;1580;1640;1600;1620;200;0;1650;1600;1580;1630;1560;240;0}, 7)",
        "7 days by weekday means, the first 1630",
    ),
    cautions=(
        OWN_UNIT,
        "The future is taken as the past went on: a furnace more or an order book is not in it.",
        "The band is of single days; the sum of a week scatters less than the sum of its bands.",
    ),
)
def forecast(
    dates: Annotated[Array, USE_DATES],
    uses: Annotated[Array, USES],
    days: Annotated[int, Count("D", "Days to forecast", low=1, high=366)],
    special_days: Annotated[Array | None, SPECIAL_DAYS] = None,
    level: Annotated[
        float,
        Share(
            "P", "Share of the days that the band is to hold",
            kind=kinds.FRACTION, unit="1", low=0.5, high=0.99,
        ),
    ] = 0.9,
) -> Annotated[list[list[Any]], FORECAST]:  # fmt: skip
    """Use of the days to come, with its band, by the method that was nearest so far.

    Takes serial days and plain numbers. Methods are forecast from earlier days, each a week
    before the next, and what they missed is measured beside "same weekday last week"; bands are
    widened to hold what was missed. Raises OutOfRangeError for fewer than two weeks, a day that is
    missing or stands twice.
    """
    first, history = daily_history(dates, uses)
    days, level = int(days), float(level)
    marked = np.array([]) if special_days is None else np.floor(special_days)
    was_special = np.isin(first + np.arange(len(history)), marked)
    refuse(was_special.all(), "special_days", "leave no ordinary day of the history")
    ordinary = filled_in(history, was_special)
    found = seasonal_forecast(ordinary, 7, days, level)
    step("days of the history", "", len(history))
    step("special days among them", "", int(was_special.sum()))
    rows: list[list[Any]] = []
    for ahead in range(days):
        day = first + len(history) + ahead
        mean, low, high = (float(each[ahead]) for each in (found.mean, found.low, found.high))
        how = found.method
        if day in marked:
            special = special_day(history, was_special, mean, level)
            mean, low, high, how = special.mean, special.low, special.high, special.how
        band = [max(each, 0.0) for each in (mean, low, high)]
        rows.append([day, *band, how, found.error, found.error_of_last])
    return rows


USE_HISTORY = Series(
    "u_i", "Use of each calendar day, evaporation included, without gaps; the last whole weeks "
    "are drawn from",
    each=Number("u", "Use of a day", low=0, high=1e15),
)  # fmt: skip
LEAD_HISTORY = Series(
    "L_i", "Time from order to delivery of each past delivery; blank cells are left out",
    each=Quantity("L", "Lead time", kind=kinds.TIME, unit="d", low=0, high=366), blank=np.nan,
)  # fmt: skip

TRIED = Columns(
    (
        Column("Result"),
        Column("Value", Number("x", "Mean, share or quantile over the trials")),
        Column("Low", Number("x", "Low end of its 95 % band")),
        Column("High", Number("x", "High end of its 95 % band")),
    ),
    "A row for each result; low and high are its 95 % band from the number of trials",
)


@worksheet_function(
    equation="stock of each trial, day by day: use of a week drawn from the history, deliveries a "
    "lead time drawn from the history after an order",
    sources=(RESAMPLING, REVIEWED_STOCK),
    example=(
        "GAS_DELIVERY_SIM(14000, {1610;1610;1610;1610;1610;0;0;1800;1500;1700;1400;1600;200;0}, "
        "{2;3;3;5}, 9258, 12000, 20000, 3000)",
        "chance of reaching the reserve in a year, lowest levels, deliveries and calls a year",
    ),
    cautions=(
        OWN_UNIT,
        NEVER_FILL_HIGHER,
        "The past is drawn from: a furnace more, a new shift or a supplier's change is not in it.",
        "A call for an emergency truck is counted when the reserve is reached; the tank still "
        "waits for its own truck.",
    ),
)
def delivery_sim(
    opening: Annotated[Stock, "What is in the tank on the first morning"],
    use_history: Annotated[Array, USE_HISTORY],
    lead_history: Annotated[Array, LEAD_HISTORY],
    reorder_level: Annotated[Stock, Symbol("S_r"), "Level to order at"],
    drop: Annotated[Stock, Symbol("q"), "What a truck brings at most"],
    capacity: Annotated[Stock, Symbol("capacity"), "What the full tank holds"],
    reserve: Annotated[Stock, Symbol("reserve"), "What must be left"],
    max_fill: FillLimit = MOST_FILL,
    order_days: OrderDays | None = None,
    delivery_days: DeliveryDays | None = None,
    holidays: Holidays | None = None,
    review: Annotated[
        int, Count("T", "Days from one reading of the level to the next", low=1, high=366)
    ] = 1,
    trials: Annotated[int, Count("N", "Number of trials", low=100, high=100_000)] = 2000,
    seed: Annotated[int, Count("seed", "Start of the random numbers", low=0, high=2**31)] = 1,
    start_date: Annotated[
        Day | None, "First day tried, the day after the history; open days need it"
    ] = None,
    days: Annotated[int, Count("D", "Days of a trial", low=1, high=3_660)] = 365,
    delivery_charge: Annotated[Money | None, Symbol("C_d"), "Charge of a delivery"] = None,
    emergency_charge: Annotated[Money | None, Symbol("C_e"), "Charge of an emergency call"] = None,
) -> Annotated[list[list[Any]], TRIED]:
    """Chance of reaching the reserve, lowest levels, deliveries and calls, by trying many years.

    A week of use and a lead time are drawn whole from what was; the level is read on the first
    day and every review days after, and ordered at on the days that take orders. Use runs evenly
    through a day; a lead time of whole days delivers in the morning. A lowest level below 0 is what
    the use would lack. Takes one unit of stock
    throughout and s. Raises OutOfRangeError where tank and levels do not go together, for less
    than a week of use and for more trials than can be tried.
    """
    leads = lead_history[~np.isnan(lead_history)] / DAY
    rules = Rules(
        float(opening), float(reorder_level), float(drop), float(max_fill * capacity),
        float(reserve),
    )  # fmt: skip
    _refuse_rules(rules, float(capacity))
    refuse(len(use_history) < 7, "use_history", "is shorter than a week; give whole weeks")
    refuse(not len(leads), "lead_history", "holds no lead time")
    length, count = int(days), int(trials)
    refuse(
        length * count > MOST_DAYS_TRIED,
        "trials",
        f"times days is {length * count}, more than {MOST_DAYS_TRIED}",
    )
    ordering, delivering = open_days(order_days, holidays), open_days(delivery_days, holidays)
    if start_date is None and not (always_open(ordering) and always_open(delivering)):
        raise UnreadableError("is blank; closed days need the first day tried", "start_date")
    whole = len(use_history) // 7 * 7
    weeks = use_history[-whole:].reshape(-1, 7)
    step("weeks drawn from", "", len(weeks))
    step("lead times drawn from", "", len(leads))
    last = length + int(leads.max()) + 1
    first = 2.0 if start_date is None else float(start_date)
    open_ = _open(first, last, length, int(review), ordering, delivering)
    tried = run(rules, open_, weeks, leads, count, length, int(seed))
    return _results(tried, length, delivery_charge, emergency_charge)


def _refuse_rules(rules: Rules, capacity: float) -> None:
    refuse(rules.opening > capacity, "opening", "is more than the tank holds")
    refuse(rules.drop <= 0, "drop", "must be above 0")
    for argument in ("reorder_level", "reserve"):
        refuse(
            getattr(rules, argument) >= rules.most,
            argument,
            f"must be below the highest contents allowed ({rules.most:g})",
        )


def _open(
    first: float,
    last: int,
    length: int,
    review: int,
    ordering: np.busdaycalendar,
    delivering: np.busdaycalendar,
) -> OpenDays:
    span = days_of(first) + np.arange(last)
    orders = np.is_busday(span[:length], busdaycal=ordering)
    orders &= np.arange(length) % review == 0
    comes = (next_open(span, delivering) - span[0]).astype(np.int64)
    padded = np.append(comes, np.arange(last, comes[-1] + 1))
    return OpenDays(orders.tolist(), padded)


def _results(
    tried: Trials, days: int, delivery_charge: Any, emergency_charge: Any
) -> list[list[Any]]:
    years = days / YEAR
    short, count = int(np.sum(tried.calls > 0)), len(tried.calls)
    late, came = int(tried.too_late.sum()), int(tried.deliveries.sum())
    each = [None] * 3 if not came else [late / came, *share_band(late, came)]
    cost: list[Any] = [None] * 3
    if delivery_charge is not None or emergency_charge is not None:
        charged = tried.deliveries * (delivery_charge or 0.0)
        cost = [*mean_band((charged + tried.calls * (emergency_charge or 0.0)) / years)]
    drops = tried.delivered[tried.deliveries > 0] / tried.deliveries[tried.deliveries > 0]
    return [
        [f"chance of reaching the reserve in {days} d", short / count, *share_band(short, count)],
        ["chance of reaching it before a delivery", *each],
        ["lowest level, half of the trials", *quantile_band(tried.lowest, 0.5)],
        ["lowest level, 1 trial of 20", *quantile_band(tried.lowest, 0.05)],
        ["lowest level, 1 trial of 100", *quantile_band(tried.lowest, 0.01)],
        ["deliveries a year", *mean_band(tried.deliveries / years)],
        ["emergency calls a year", *mean_band(tried.calls / years)],
        ["mean drop", *(mean_band(drops) if len(drops) > 1 else [None] * 3)],
        ["cost of deliveries and calls a year", *cost],
    ]


TIMES = KeptSeries(
    "t", "Times of the readings: dates with time of day, a range in any order",
    each=Date("t", "Time of a reading", low=1, high=2_958_466), blank=np.nan,
)  # fmt: skip
LEVELS = KeptSeries(
    "V_L", "Liquid in the tank at each time; from a differential pressure GAS_TANK_LIQUID of "
    "GAS_DP_LEVEL",
    each=Quantity("V_L", "Liquid", kind=kinds.LIQUID, unit="L(liq)"), blank=np.nan,
)  # fmt: skip
PRESSURES = KeptSeries(
    "p_t", "Pressure in the tank at each time, or one for all: then a pressure that moves the "
    "level cannot be told from a delivery",
    each=Quantity(
        "p_t", "Pressure in the tank", kind=kinds.PRESSURE, unit="bar(a)", above=0, high=20_000
    ),
    blank=np.nan,
)  # fmt: skip
EVENTS = Columns(
    (
        Column("What"),
        Column("Start", Date("t", "Its first reading, or the day")),
        Column("End", Date("t", "Its last reading, or the day after")),
        Column("Amount", Quantity("n", "Gas", kind=kinds.AMOUNT, unit="Nm3")),
        Column("Note"),
    ),
    "Deliveries, pressure excursions, the use of each whole day, gaps, readings left out and why",
)


@worksheet_function(
    equation="n = V_L · ρ_L + (V_t - V_L) · ρ_V at each reading; a delivery is a rise of V_L and "
    "of n, its amount Δn + use meanwhile; use of a day = fall of n + deliveries",
    sources=(STOCK_BALANCE, EQUATION_OF_STATE),
    example=(
        "GAS_TANK_EVENTS({46083;46083.5;46084;46084.5;46085}, {6000;5800;15600;15400;15200}, "
        '"nitrogen", 20000, "13 bar(a)")',
        "a delivery between 46083.5 and 46084, and the use of two days",
    ),
    cautions=(
        "A rise below least_rise is no delivery; it shows as a use below 0.",
        "The liquid is taken as saturated at the tank's pressure unless liquid_at is given: after "
        "a delivery of colder liquid the amount is low by some per cent until it has warmed.",
    ),
)
def tank_events(
    times: Annotated[Kept, TIMES],
    levels: Annotated[Kept, LEVELS],
    gas: GasArgument,
    capacity: Capacity,
    tank_pressure: Annotated[Kept, PRESSURES],
    liquid_at: LiquidAt | None = None,
    vapour_temperature: Annotated[
        Temperature | None,
        Symbol("T_V"),
        "Temperature of the vapour above the liquid; blank: that at which it boils",
    ] = None,
    least_rise: Annotated[
        Liquid | None, Symbol("ΔV_L"), "Least rise that is a delivery; blank: 5 % of the capacity"
    ] = None,
    longest_gap: Annotated[
        Duration | None,
        Symbol("Δt"),
        "Longest time between readings that is no gap; blank: four times the usual one",
    ] = None,
) -> Annotated[list[list[Any]], EVENTS]:
    """Deliveries and use of each day out of a tank's level, with what was left out and why.

    Takes serial days, m³, Pa, a LiquidState, K and s; gives rows with mol. Readings are put in
    the order of time; left out are those without time, level or pressure, a time that stands
    twice, a level above the capacity, a pressure without liquid, a single spike. Raises
    UnreadableError where fewer than two readings are left.
    """
    if gas.is_mixture:
        refuse(True, "gas", "is a mixture, which boils over a range; name a pure gas")
    refuse_air(gas)
    least = LEAST_RISE * float(capacity) if least_rise is None else float(least_rise)
    refuse(least <= 0, "least_rise", "must be above 0")
    order, why = usable(times, levels, tank_pressure, gas, float(capacity), least)
    record = Record.of(
        times.values[order], levels.values[order], each_pressure(tank_pressure, times)[order],
        gas, float(capacity), liquid_at, vapour_temperature,
    )  # fmt: skip
    step("readings used", "", len(order))
    step("readings left out", "", len(why))
    gap = None if longest_gap is None else float(longest_gap) / DAY
    return event_rows(record, rises(record, least), gap) + left_out_rows(times.values, why)
