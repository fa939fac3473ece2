"""The balance of a tank: gas that no use explains, its band, and whether it is a loss."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.combining import GUM, GUM_TRIALS
from gasfuncs.calculations.propagation import Reading, propagated
from gasfuncs.definition import (
    Column,
    Columns,
    Quantity,
    Symbol,
    refuse,
    step,
    worksheet_function,
)
from gasfuncs.definition.tolerances import Parts, Tolerance
from gasfuncs.definition.vocabulary import (
    Amount,
    AmountDifference,
    Days,
    LeakRate,
    Numbers,
    Temperature,
)
from gasfuncs.units import LEAK_TEMPERATURE, R, kinds

BOOK_STOCK = "Book stock against measured stock (US EPA 510-B-93-004, inventory control)"
CAUTIONS = (
    "What is unaccounted holds evaporation, venting, gauge error and every use that nobody "
    "calculated, besides leaks.",
    "Unaccounted inert gas went somewhere: look for where it can displace the air of a room.",
)

Opening = Annotated[Amount, "Stock at the start", Symbol("n_o")]
Delivered = Annotated[Amount, "Deliveries in between", Symbol("n_d")]
Closing = Annotated[Amount, "Stock at the end", Symbol("n_c")]
Explained = Annotated[Amount, "Use that calculations or meters explain", Symbol("n_u")]


def _unexplained(
    opening: Numbers, delivered: Numbers, closing: Numbers, calculated_use: Numbers
) -> Numbers:
    book = opening + delivered - calculated_use
    step("stock that should be there", "n_o + n_d - n_u", book, "mol")
    return book - closing


@worksheet_function(
    equation="Δn = n_o + n_d - n_c - n_u",
    sources=(BOOK_STOCK,),
    example=("GAS_UNACCOUNTED(8200, 15400, 6900, 15150, 31)", "1550 Nm3"),
    cautions=CAUTIONS,
)
def unaccounted(
    opening: Opening,
    delivered: Delivered,
    closing: Closing,
    calculated_use: Explained,
    days: Annotated[
        Days | None, "Days in between; with them GAS_WORKING shows the gas lost as a leak rate"
    ] = None,
) -> Annotated[AmountDifference, "Gas that no use explains; negative where more is there"]:
    """Gas that no calculated use explains; GAS_UNACCOUNTED_LEAK tells it as a leak rate.

    Takes mol and s, scalars or arrays; gives mol. Raises OutOfRangeError for no days at all.
    """
    missing = _unexplained(opening, delivered, closing, calculated_use)
    if days is not None:
        rate = _as_leak(missing, days, LEAK_TEMPERATURE)
        step("as a leak rate at 20 °C", "q_L", rate, "Pa·m³/s")
    return missing


def _as_leak(missing: Numbers, days: Numbers, temperature: Numbers) -> Numbers:
    refuse(np.less_equal(days, 0), "days", "must be above 0")
    step("gas lost a second", "Δn / t", missing / days, "mol/s")
    return missing / days * R * temperature


@worksheet_function(
    equation="q_L = (n_o + n_d - n_c - n_u) / t · R · T",
    sources=(
        BOOK_STOCK,
        "Ideal gas: throughput q = ṅ R T (ISO 20484, leak rate)",
    ),
    example=("GAS_UNACCOUNTED_LEAK(8200, 15400, 6900, 15150, 31)", "629.3 mbar L/s"),
    cautions=(
        "It is the rate that one leak would need to lose all of it; evaporation, venting, gauge "
        "error and uses that nobody calculated are in it.",
        "Unaccounted inert gas went somewhere: look for where it can displace the air of a room.",
    ),
)
def unaccounted_leak(
    opening: Opening,
    delivered: Delivered,
    closing: Closing,
    calculated_use: Explained,
    days: Annotated[Days, "Days in between"],
    temperature: Annotated[Temperature, "Temperature that the leak rate is stated at"] = (
        LEAK_TEMPERATURE
    ),
) -> Annotated[LeakRate, "Leak rate that would explain the gas; negative where more is there"]:
    """Leak rate that would explain the gas that no calculated use does.

    Takes mol, s and K, scalars or arrays; gives Pa·m³/s. Raises OutOfRangeError for no days.
    """
    missing = _unexplained(opening, delivered, closing, calculated_use)
    step("gas that no use explains", "Δn", missing, "mol")
    return _as_leak(missing, days, temperature)


AMOUNT = Quantity("n", "Amount of gas", kind=kinds.AMOUNT, unit="Nm3")
LOSS = Quantity("Δn", "Gas that no use explains", kind=kinds.AMOUNT, unit="Nm3")
RATE = Quantity("q_L", "Leak rate", kind=kinds.LEAK, unit="mbar L/s")

GAUGE, TICKETS, USES = (Tolerance("δ", what, of=AMOUNT) for what in (
    'Tolerance of each stock, such as "±1 % of 7000 Nm3"; a name behind it: one error of both',
    'Tolerance of the deliveries, such as "±2.5 %"',
    'Tolerance of the use, such as "±3 % volume"',
))  # fmt: skip

LOST, GAINED, CANNOT_TELL = "loss", "gain", "cannot tell"
LEAST = 3.29
"""Standard errors: with so many a loss is seen, errors of 5 % of both kinds."""

NO_TOLERANCE = (
    "nothing says how good stocks, deliveries and use are known; give at least stock_tolerance "
    "and use_tolerance"
)
WITHIN = "what is missing is within what the tolerances explain; less than the least cannot be seen"
MISSING = "more is missing than the tolerances explain"
TOO_MUCH = (
    "more gas is there than the tolerances explain; look for a delivery not entered, a use counted "
    "twice and the gauge"
)


@worksheet_function(
    equation="Δn = n_o + n_d - n_c - n_u; loss: its 95 % band above 0; gain: below 0",
    sources=(BOOK_STOCK, GUM, GUM_TRIALS),
    example=(
        "GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, "
        '"±1 % of 20000 Nm3", "±2.5 %", "±3 % volume")',
        "1550 Nm3, between 710 and 2390 Nm3: loss",
    ),
    cautions=CAUTIONS,
)
def unaccounted_verdict(
    opening: Opening,
    delivered: Delivered,
    closing: Closing,
    calculated_use: Explained,
    days: Annotated[Days, "Days in between"],
    stock_tolerance: Annotated[Parts, Symbol("δ_stock"), GAUGE] = (),
    delivery_tolerance: Annotated[Parts, Symbol("δ_delivery"), TICKETS] = (),
    use_tolerance: Annotated[Parts, Symbol("δ_use"), USES] = (),
) -> Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Unaccounted", LOSS),
            Column("Low", LOSS),
            Column("High", LOSS),
            Column("As a leak", RATE),
            Column("Low", RATE),
            Column("High", RATE),
            Column("Least detectable", LOSS),
            Column("Verdict"),
            Column("Why"),
        ),
        "Gas that no use explains with its 95 % band, as an amount and as a leak rate at 20 °C, "
        "and whether it differs from nothing",
    ),
]:
    """Whether gas that no use explains differs from nothing: loss, gain or cannot tell.

    Takes mol and s and the tolerances of stocks, deliveries and use; gives a row of mol and
    Pa·m³/s. Raises OutOfRangeError for no days.
    """
    readings = [
        Reading(float(opening), stock_tolerance), Reading(float(delivered), delivery_tolerance),
        Reading(float(closing), stock_tolerance), Reading(float(calculated_use), use_tolerance),
    ]  # fmt: skip
    missing = float(_unexplained(opening, delivered, closing, calculated_use))
    leak = float(_as_leak(1.0, days, LEAK_TEMPERATURE))
    if not stock_tolerance or not use_tolerance:
        blanks = [None] * 2
        return [[missing, *blanks, missing * leak, *blanks, None, CANNOT_TELL, NO_TOLERANCE]]
    band = propagated(_missing, readings).given
    amounts = [missing, band.low, band.high]
    least = LEAST * (band.uncertainty or 0.0)
    return [[*amounts, *(each * leak for each in amounts), least, *_verdict(band.low, band.high)]]


def _missing(trial: NDArray[np.float64]) -> NDArray[np.float64]:
    opening, delivered, closing, used = trial
    return np.asarray(opening + delivered - closing - used)


def _verdict(low: float, high: float) -> tuple[str, str]:
    if low > 0:
        return LOST, MISSING
    if high < 0:
        return GAINED, TOO_MUCH
    return CANNOT_TELL, WITHIN
