"""Values that each have an error: summed, judged against a limit, and reconciled."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.propagation import Answer, Band, Reading, gathered, summed
from gasfuncs.calculations.reconciling import COVERAGE, Reconciled, reconciled
from gasfuncs.definition import Column, Columns, refuse, worksheet_function
from gasfuncs.definition.ranges import as_array, is_range
from gasfuncs.definition.reading import is_blank, read_cell
from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import Cell, Choice, Number, Read, Symbol
from gasfuncs.definition.tolerances import Parts, Tolerances, error_name, read_tolerance
from gasfuncs.definition.vocabulary import Fraction, Numbers, PlainNumber
from gasfuncs.errors import GasFuncsError, ShapeError

GUM = "JCGM 100 (GUM): law of propagation, section 5; degrees of freedom, annex G.4"
GUM_TRIALS = "JCGM 101: propagation of distributions by Monte Carlo, section 7"
CONFORMITY = "JCGM 106: conformity assessment with a guard band, sections 7 and 8"

LAST_DIGITS = 1e-12
"""Of a limit: what reaches it, but for the rounding of an addition, keeps it."""

PLAIN = Number("x", "A value, in your own unit")

Values = Annotated[
    NDArray[np.float64],
    Series("x", "Values, a row or column; a term taken off is negative; blank rows are left out",
           each=PLAIN, blank=np.nan),
]  # fmt: skip
Uncertainty = Annotated[
    Numbers, Number("u", "Standard uncertainty, in the unit of the value", low=0, high=1e15)
]
Risk = Annotated[Fraction, "Risk of a wrong yes or no that is taken"]

MOST_COMBINED = 5_000

BAND_HEADINGS = (
    "Part", "What", "Value", "Standard uncertainty", "Low, 95 %", "High, 95 %",
    "Degrees of freedom", "Share of the variance", "Note",
)  # fmt: skip


def band_rows(answer: Answer, what: str, note: str = "") -> list[list[Any]]:
    """The band to act on, and the two that it was chosen from."""
    told = f"{answer.note}; {note}" if note else answer.note
    rows = [["result", what, *_band_cells(answer.given), None, told]]
    rows.append(["first order", "", *_band_cells(answer.first), None, ""])
    if answer.trials is None:
        return [*rows, ["Monte Carlo", "", *[None] * 6, "not run"]]
    return [*rows, ["Monte Carlo", "", *_band_cells(answer.trials)[:4], None, None, ""]]


def _band_cells(band: Band) -> list[Any]:
    freedom = band.freedom if np.isfinite(band.freedom) else "unlimited"
    return [band.value, band.uncertainty, band.low, band.high, freedom]


@worksheet_function(
    equation="y = Σ x_i, u² = Σ_j (Σ_i u_ij)²",
    sources=(GUM, GUM_TRIALS),
    example=('GAS_COMBINE({1550;1490;1610}, "±3 % volume; u 20")', "a table"),
    cautions=(
        "An error that all values share, such as that of one volume, does not average out: "
        "name it.",
    ),
)
def combine(
    values: Values,
    tolerances: Annotated[
        tuple[Cell, ...],
        Tolerances(
            "±", 'Tolerance of each value, or one for all: "±3 % volume", "u 20", blank: exact'
        ),
    ],
    names: Annotated[
        tuple[Cell, ...] | None,
        Tolerances("name", "Names of shared errors, one a value, for tolerances without one"),
    ] = None,
) -> Annotated[
    list[list[Any]],
    Columns(
        tuple(Column(heading) for heading in BAND_HEADINGS),
        "The sum and its 95 % band, first order and Monte Carlo, and the share of each error",
    ),
]:
    """Sum or balance of values with its 95 % band; errors of one name are one error.

    Takes numbers, tolerances as text and names; gives rows. Raises UnreadableError for a
    tolerance that is none and ShapeError for ranges that do not fit.
    """
    refuse(len(values) > MOST_COMBINED, "values",
           f"holds {len(values)}, more than {MOST_COMBINED}; sum them in parts")  # fmt: skip
    readings = readings_of(values, tolerances, names)
    answer = summed(readings)
    return [*band_rows(answer, f"sum of {len(readings)} values"), *_error_rows(readings)]


def readings_of(
    values: NDArray[np.float64], tolerances: Sequence[Cell], names: Sequence[Cell] | None = None
) -> list[Reading]:
    """Values with their errors; rows without a value are left out.

    The errors of a value below zero are turned with it, so that an error that a term and one
    taken off share does not count twice.
    """
    count = len(values)
    told = _spread(tolerances, count, "tolerances")
    named = _spread(names or (None,), count, "names")
    out = []
    for row, (value, tolerance, name) in enumerate(zip(values.tolist(), told, named, strict=True)):
        if np.isnan(value):
            continue
        try:
            parts = _named(_about("tolerances", read_tolerance, tolerance, PLAIN), name)
        except GasFuncsError as error:
            error.sentence += f" (item {row + 1})"
            raise
        sign = -1.0 if value < 0 else 1.0
        out.append(Reading(value, tuple(replace(p, fixed=sign * p.fixed) for p in parts)))
    refuse(not out, "values", "holds no value")
    return out


def _about(argument: str, read: Callable[..., Any], *cells: Any) -> Any:
    try:
        return read(*cells)
    except GasFuncsError as error:
        raise error.about(argument) from None


def _spread(cells: Sequence[Cell], count: int, argument: str) -> Sequence[Cell]:
    if len(cells) == 1:
        return list(cells) * count
    if len(cells) != count:
        raise ShapeError(
            f"holds {len(cells)} cells for {count} values; give one for all or one a value",
            argument,
        )
    return cells


def _named(parts: Parts, name: Cell) -> Parts:
    if is_blank(name):
        return parts
    told = _about("names", error_name, name)
    return tuple(part if part.name else replace(part, name=told) for part in parts)


def _error_rows(readings: Sequence[Reading]) -> list[list[Any]]:
    """The share of each error that has a name, and of all others together."""
    sums: dict[str, float] = {}
    own, rows = 0.0, 0
    for reading in readings:
        rows += any(not part.name for part, _ in reading.sizes())
        for part, size in reading.sizes():
            if part.name:
                sums[part.name] = sums.get(part.name, 0.0) + size
            else:
                own += size**2
    squares = {name: size**2 for name, size in sums.items()}
    variance = sum(squares.values()) + own
    found = [(f'shared error "{name}"', square) for name, square in squares.items()]
    if rows:
        found.append((f"own errors of {rows} values", own))
    return [
        ["error", what, None, square**0.5, None, None, None, _share(square, variance), ""]
        for what, square in found
    ]


def _share(square: float, variance: float) -> float | None:
    return square / variance if variance else None


@worksheet_function(
    equation="yes where value + z·u ≤ limit, no where value - z·u > limit, z = t(1 - risk)",
    sources=(CONFORMITY,),
    example=("GAS_CONFORMS(164, 51, 100)", "cannot tell"),
    cautions=("Cannot tell is an answer: measure again, or better, before anybody signs.",),
)
def conforms(
    value: PlainNumber,
    uncertainty: Annotated[Uncertainty, "Standard uncertainty of the value, in its unit"],
    limit: Annotated[PlainNumber, Symbol("limit"), "Limit, in the unit of the value"],
    limit_kind: Annotated[
        str, Choice("kind", "What the limit is", words=("at most", "at least"))
    ] = "at most",
    risk: Annotated[Risk, Symbol("risk")] = 0.05,
    degrees_of_freedom: Annotated[
        Numbers | None,
        Number("ν", "Degrees of freedom of the uncertainty; blank: unlimited", low=1, high=1e9),
    ] = None,
) -> Annotated[str, Choice("verdict", "The verdict", words=("yes", "no", "cannot tell"))]:
    """Whether a value keeps a limit, its uncertainty counted: yes, no or cannot tell.

    Takes numbers of one unit, scalars or arrays; gives text. At no uncertainty the value itself
    decides, and the limit is kept by what equals it.
    """
    from scipy.special import ndtri, stdtrit

    refuse(np.greater(risk, 0.5), "risk", "is above 50 %, more than a toss of a coin has")
    refuse(np.less_equal(risk, 0), "risk", "must be above 0; no measurement excludes all risk")
    freedom = degrees_of_freedom
    factor = ndtri(1 - np.asarray(risk)) if freedom is None else stdtrit(freedom, 1 - risk)
    room = np.subtract(limit, value) if limit_kind == "at most" else np.subtract(value, limit)
    room = room + LAST_DIGITS * np.abs(limit)
    guard = factor * np.asarray(uncertainty)
    verdict = np.where(room >= guard, "yes", np.where(room < -guard, "no", "cannot tell"))
    return verdict if verdict.ndim else verdict.item()  # type: ignore[return-value]


@worksheet_function(
    equation="x = 2 · z · u, z = 1.645 at a risk of 5 %",
    sources=(
        "L. A. Currie, Analytical Chemistry 40 (1968) 586: detection limit, equal risks of both "
        "kinds; ISO 11843",
    ),
    example=("GAS_DETECTABLE(51)", "167.8"),
    cautions=("Anything smaller may be there and pass unseen.",),
)
def detectable(
    uncertainty: Annotated[Uncertainty, "Standard uncertainty where nothing is there"],
    risk: Annotated[Risk, "Risk of a false alarm, and of missing what is there"] = 0.05,
) -> Annotated[Numbers, Number("x", "The least that is seen, in the unit of the uncertainty")]:
    """The least that a measurement of this standard uncertainty sees.

    Takes a number and a fraction, scalars or arrays; gives a number of the same unit.
    """
    from scipy.special import ndtri

    refuse(np.greater(risk, 0.5), "risk", "is above 50 %, more than a toss of a coin has")
    refuse(np.less_equal(risk, 0), "risk", "must be above 0; no measurement excludes all risk")
    return 2 * ndtri(1 - np.asarray(risk)) * uncertainty  # type: ignore[no-any-return]


def _coefficients(cell: Cell) -> NDArray[np.float64]:
    """The coefficients of balances as they stand; a blank one is 0."""
    cells = as_array(cell if is_range(cell) else [cell])
    rows = np.atleast_2d(cells)
    flat = [_coefficient(value) for value in rows.ravel().tolist()]
    if not flat:
        raise ShapeError("is an empty range")
    return np.array(flat).reshape(rows.shape)


def _coefficient(value: Cell) -> float:
    return float(read_cell(COEFFICIENT, value, blank=0.0))


COEFFICIENT = Number("a", "Coefficient", low=-1e9, high=1e9)
MOST_RECONCILED = 500

Balances = Annotated[
    NDArray[np.float64],
    Read(
        "A", "Coefficients: a row for each balance with a number for each value, such as "
        "1, 1, -1; each balance sums to zero",
        reader=_coefficients, words="rows of numbers, one number for each value", whole=True,
    ),
]  # fmt: skip


@worksheet_function(
    equation="x̂ = x - S Aᵀ (A S Aᵀ)⁻¹ A x, χ² = (A x)ᵀ (A S Aᵀ)⁻¹ A x",
    sources=("VDI 2048 part 1: reconciliation of measured values by their balances",),
    example=('GAS_RECONCILE({100;61;35}, {"±2 95%";"±1 95%";"±1 95%"}, {1,-1,-1})', "a table"),
    cautions=(
        "Where the test fails a value, a tolerance or a balance is wrong: find it first. "
        "Reconciled values are then no better than measured ones.",
    ),
)
def reconcile(
    values: Annotated[
        NDArray[np.float64],
        Series("x", "Measured values, a row or column, in one unit or as the balances need them",
               each=PLAIN),
    ],
    tolerances: Annotated[
        tuple[Cell, ...],
        Tolerances("±", 'Tolerance of each value, or one for all: "±2 95%"; blank: exact'),
    ],
    balances: Balances,
) -> Annotated[
    list[list[Any]],
    Columns(
        tuple(
            Column(heading)
            for heading in (
                "Part", "What", "Value", "Band, 95 %", "Reconciled", "Band after, 95 %",
                "Test of the correction", "Verdict",
            )
        ),
        "Test of the whole, the suspect, and each value as it fits the balances",
    ),
]:  # fmt: skip
    """Measured values made to fit their balances, with the test of the whole and the suspect.

    Takes numbers, tolerances as text and coefficients; gives rows. Raises ShapeError where the
    coefficients do not fit the values, OutOfRangeError for balances that are not independent.
    """
    count = len(values)
    refuse(count > MOST_RECONCILED, "values", f"holds {count}, more than {MOST_RECONCILED}")
    rows = balances if balances.shape[1] == count else balances.T
    if rows.shape[1] != count:
        raise ShapeError(
            f"is {' x '.join(map(str, balances.shape))}; each balance needs {count} numbers, "
            "one for each value", "balances",
        )  # fmt: skip
    refuse(len(rows) >= count, "balances", f"are {len(rows)}; {count} values bear fewer")
    covariance = gathered(readings_of(values, tolerances)).covariance(count)
    found = reconciled(values, covariance, rows)
    measured = np.column_stack(
        [values, COVERAGE * np.sqrt(np.diag(covariance)), found.values,
         COVERAGE * found.uncertainties, found.tests]
    ).tolist()  # fmt: skip
    lines = [[f"value {place + 1}", *row] for place, row in enumerate(measured)]
    verdicts = ["suspect" if place in found.suspects else "" for place in range(count)]
    return [
        *_test_rows(found, lines),
        *(["value", *line, said] for line, said in zip(lines, verdicts, strict=True)),
    ]


def _test_rows(found: Reconciled, lines: list[list[Any]]) -> list[list[Any]]:
    """The test of the whole, its limit and the suspect."""
    verdict = "passes" if found.passes else "fails: a value, a tolerance or a balance is wrong"
    names = " or ".join(lines[place][0] for place in found.suspects)
    alone = len(found.suspects) == 1
    suspect = lines[found.suspects[0]] if alone else [names or "none", *[None] * 5]
    return [
        ["test", "χ² of the whole", found.chi2, *[None] * 4, verdict],
        ["test", "χ² that it stays below, 95 %", found.limit, *[None] * 5],
        ["suspect", *suspect, "measure it again" if names else ""],
    ]
