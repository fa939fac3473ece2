"""Acceptance: whether a reading shows that a purge has reached its target."""

from __future__ import annotations

from typing import Annotated, Any

from gasfuncs.calculations.combining import CONFORMITY, LAST_DIGITS
from gasfuncs.definition import Column, Columns, Quantity, Symbol, step, worksheet_function
from gasfuncs.definition.censored import Measured, MeasuredTerm
from gasfuncs.definition.tolerances import Parts, Tolerance, quantile, uncertainty
from gasfuncs.definition.vocabulary import Impurity
from gasfuncs.units import kinds

PASSED, FAILED, REPEAT, CANNOT_TELL = "passed", "failed", "repeat", "cannot tell"

LEVEL = 0.975
"""Of the upper end of a 95 % band."""

NEGATIVE = "no gas holds less than nothing of another; zero the analyser and read again"
TOO_CLEAN = (
    "the reading is below what the supply itself brings, more than its tolerance; look for an "
    "analyser off its zero, a sample line with other gas, or a supply that was read wrongly"
)
NO_TOLERANCE = "nothing says how good the analyser is; give tolerance"
OFF_SCALE = "the analyser reads no lower than this, and the target is lower; take a finer one"
BELOW_SCALE = "the lowest reading of the analyser is within the target"
STRADDLES = "the band of the reading reaches over the target; purge on, or take a finer analyser"
WITHIN, ABOVE = "the whole band is within the target", "the whole band is above the target"

PPM = Quantity("c", "Impurity", kind=kinds.IMPURITY, unit="ppm")
READ = Quantity("c_r", "Impurity read", kind=kinds.IMPURITY, unit="ppm", low=-1e6, high=1e6)


@worksheet_function(
    equation="passed: c_r + 1.96 u ≤ c_t; failed: c_r - 1.96 u > c_t; repeat: c_r + 1.96 u < c_s",
    sources=(CONFORMITY, "A fill dilutes towards the supply, never below it (mass balance)"),
    example=(
        'GAS_PURGE_VERDICT(18, 20, "±1 ppm", 5)',
        "18 ppm, between 16.87 and 19.13 ppm: passed",
    ),
    cautions=(
        "The analyser sees the gas at its sample point; dead legs may hold more.",
        "A supply told as at most so much is no reading of it: leave supply blank then.",
    ),
)
def purge_verdict(
    reading: Annotated[
        Measured, MeasuredTerm("c_r", 'Impurity read after the purge, or "<20" off scale', of=READ)
    ],
    target: Annotated[Impurity, "Impurity wanted, at most", Symbol("c_t")],
    tolerance: Annotated[
        Parts,
        Tolerance("δc", 'Tolerance of the analyser: "±2 ppm", "±5 % of reading"', of=PPM),
    ] = (),
    supply: Annotated[Impurity | None, "Impurity of the supply as read", Symbol("c_s")] = None,
) -> Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Impurity", PPM),
            Column("Low", PPM),
            Column("High", PPM),
            Column("Verdict"),
            Column("Why"),
        ),
        "The reading with its 95 % band, the verdict and why",
    ),
]:
    """Whether a purge has reached its target: passed, failed, repeat or cannot tell.

    Takes fractions and the analyser's tolerance; gives a row of fractions, the verdict and its
    reason. A reading below the supply's own impurity, or below nothing, is to be repeated.
    """
    half = quantile(LEVEL) * uncertainty(tolerance, reading.value)
    low = 0.0 if reading.below else max(reading.value - half, 0.0)
    high = reading.value + half
    step("half of the band", "1.96 u", half, "1")
    limit = float(target) * (1 + LAST_DIGITS)
    verdict, why = _verdict(reading, (low, high), limit, tolerance, supply)
    known = bool(tolerance) or reading.below
    return [[reading.value, low if known else None, high if known else None, verdict, why]]


def _verdict(
    reading: Measured,
    band: tuple[float, float],
    target: float,
    tolerance: Parts,
    supply: Any,
) -> tuple[str, str]:
    low, high = band
    if high < 0:
        return REPEAT, NEGATIVE
    if supply is not None and high < supply:
        return REPEAT, TOO_CLEAN
    if reading.below:
        return (PASSED, BELOW_SCALE) if high <= target else (CANNOT_TELL, OFF_SCALE)
    if not tolerance:
        return CANNOT_TELL, NO_TOLERANCE
    if high <= target:
        return PASSED, WITHIN
    return (FAILED, ABOVE) if low > target else (CANNOT_TELL, STRADDLES)
