"""Searches of columns at once: the bore that meets a time, the reservoir that lasts one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import log
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from gasfuncs import properties
from gasfuncs.calculations import filling as fills
from gasfuncs.calculations import integration
from gasfuncs.calculations.effort import Effort
from gasfuncs.calculations.filling import Column, Filling, Motion, Space
from gasfuncs.calculations.integration import Course, Ends, Problem, Rows
from gasfuncs.definition import unreachable_rows
from gasfuncs.definition.vocabulary import Numbers
from gasfuncs.errors import NoSolutionError
from gasfuncs.properties import Gas

LARGEST = log(2.0)
"""ln of the largest bore in m that is tried."""

TRIAL = 0.05
"""m: bore whose first flow tells where the search begins."""

DOUBLE = log(2)
"""In ln d. The supply sets the pace once a bore twice as large gains less than what is missing: the
next one gains less still."""

STRIDE = 1.5
"""In the logarithm, the farthest that one round goes."""

FLATTEST = 0.05
CLOSE = 1e-7
"""Of the time, relative: as near as the integration tells it."""

MOST_ROUNDS = 40


class Rounds(NamedTuple):
    """Where a search stands and stood, in ln x, and the values there."""

    at: Column
    value: Column
    last_at: Column
    last_value: Column


def root(
    value: Callable[[Rows, Column], Column],
    start: Column,
    slope: float,
    refuse: Callable[[Rounds], None] | None = None,
) -> Column:
    """ln x at which rising functions of it are 0: by secants, kept between the bounds known so far.

    `refuse` sees every round of all rows and may raise.
    """
    count = len(start)
    at, low, high = start.copy(), np.full(count, -np.inf), np.full(count, np.inf)
    steep = np.full(count, slope)
    now = Rounds(at, *np.full((3, count), np.nan))
    rows = np.arange(count)
    for _ in range(MOST_ROUNDS):
        found = now.value.copy()
        found[rows] = value(rows, at[rows])
        now = Rounds(at, found, now.at, now.value)
        if refuse:
            refuse(now)
        low, high = np.where(found < 0, at, low), np.where(found > 0, at, high)
        with np.errstate(invalid="ignore", divide="ignore"):
            secant = (found - now.last_value) / (at - now.last_at)
        steep = np.where(np.isfinite(secant) & (secant > FLATTEST), secant, steep)
        new = at - np.clip(found / steep, -STRIDE, STRIDE)
        astray = (new < low) | (new > high)
        at = np.where(astray, (low + high) / 2, new)
        rows = np.flatnonzero(np.abs(found) > CLOSE)
        if not len(rows):
            return np.asarray(at)
    raise NoSolutionError("no answer was found; these inputs are far from practice")


def with_bore(filling: Filling, bore: Column) -> Filling:
    """The same backfills through other bores (m)."""
    assert filling.line
    return replace(filling, line=replace(filling.line, bore=bore))


def smallest_bore(filling: Filling, time: Column, narrowest: Column, effort: Effort) -> Column:
    """m of the bores with which backfills take their times (s).

    NoSolutionError where a bore below the narrowest (m) would do, or none at all.
    """

    def quicker(rows: Rows, log_bore: Column) -> Column:
        some = with_bore(fills.taken(filling, rows), np.exp(log_bore))
        ends = fills.run(some, effort, strict=False)
        if not ends.reached.all():
            fills.refuse_unreached(fills.run(filling, effort, strict=False))
        return np.asarray(np.log(time[rows] / ends.time))

    def refuse(now: Rounds) -> None:
        unreachable_rows(
            (now.value > 0) & (now.at <= np.log(narrowest)),
            "time",
            lambda row: (
                f"is so long that a bore of {narrowest[row] * 1e3:.2g} mm meets it; below "
                "that the friction in a pipe so rough is not known"
            ),
        )
        gained = now.value - now.last_value
        wide = (now.at - now.last_at >= DOUBLE) & (gained < -now.value)
        unreachable_rows(
            (now.value < 0) & (wide | (now.at > LARGEST)),
            "time",
            lambda row: (
                f"is too short: through a bore of {np.exp(now.at[row]) * 1e3:.4g} mm the backfill "
                f"still takes {time[row] * np.exp(-now.value[row]):.4g} s; the reservoir and the "
                "supply set the pace"
            ),
        )

    start = np.maximum(_first_bore(filling, time), narrowest)
    return np.exp(root(quicker, np.log(start), 2.0, refuse))


def _first_bore(filling: Filling, time: Column) -> Column:
    """m of the bores whose first flow, if it lasted, would let in the gas in the time."""
    trial = with_bore(filling, np.full_like(time, TRIAL))
    motion = Motion(trial)
    some = motion.of(np.arange(len(time)))
    first = motion.at(some, np.zeros((len(time), 1)), trial.start[:, None]).flow[:, 0]
    wanted = filling.wanted / time
    with np.errstate(divide="ignore"):
        return np.clip(TRIAL * np.sqrt(wanted / first), TRIAL / 50, TRIAL * 20)


def steady_draw(filling: Filling, time: Column, effort: Effort) -> tuple[Filling, Ends]:
    """Fills at the steady draws (mol/s) with which they take their times (s), and their ends."""

    def drawing(rows: Rows, log_draw: Column) -> Filling:
        some: Filling = fills.taken(filling, rows)
        return replace(some, line=None, draw=np.exp(log_draw))

    def sooner(rows: Rows, log_draw: Column) -> Column:
        lasting = fills.run(drawing(rows, log_draw), effort).time
        return np.asarray(np.log(time[rows] / lasting))

    draw = np.log((filling.wanted - filling.held) / time)
    walls = fills.WALL in (filling.vessel.exchange, filling.reservoir.exchange)
    if walls and filling.vessel.exchange != fills.ISOTHERMAL:
        draw = root(sooner, draw, 1.0)
    drawn = drawing(np.arange(len(time)), draw)
    return drawn, fills.run(drawn, effort)


def reservoir_volume(
    gas: Gas,
    amount: Numbers,
    full: Numbers,
    low: Numbers,
    temperature: Numbers,
    exchange: str,
    time: Numbers,
    conductance: Numbers,
) -> Column:
    """m³ of reservoirs that fall from Pa to Pa while mol are drawn in a time (s)."""
    given = np.broadcast_arrays(amount, full, low, temperature, time, conductance)
    mol, high, down, kelvin, lasting, known = (
        np.asarray(x, float).reshape(-1).copy() for x in given
    )
    effort = Effort(len(mol))
    density = properties.molar_density(gas, high, kelvin)
    space = Space(mol / density, high, kelvin, kelvin, known, exchange)

    drawing = np.flatnonzero(mol)

    def longer(asked: Rows, log_volume: Column) -> Column:
        rows = drawing[asked]
        some = replace(fills.taken(space, rows), volume=np.exp(log_volume))
        drawn = drained(gas, some, mol[rows] / lasting[rows], down[rows], effort)
        return np.asarray(np.log(drawn / lasting[rows]))

    found = np.zeros_like(mol)
    if len(drawing):
        start = np.log((space.volume * high / (high - down))[drawing])
        found[drawing] = np.exp(root(longer, start, 1.0))
    return found.reshape(given[0].shape)


def drained(gas: Gas, space: Space, draw: Column, low: Column, effort: Effort) -> Column:
    """s until reservoirs that mol/s are drawn from are at a pressure (Pa)."""
    stored = space.amount(gas)

    def rates(rows: Rows, time: Column, state: Column) -> Column:
        some = fills.spread(space, rows)
        flow = -draw[rows][:, None]
        molar = np.maximum((stored[rows][:, None] + flow * time) / some.volume, fills.TRACE)
        pressure = np.maximum(state[..., 0], properties.LEAST_PRESSURE)
        theta = properties.theta(gas, pressure, molar)
        gas_now = properties.moving(gas, pressure, theta, strict=False)
        heat = fills.heat(some, gas_now, molar * properties.molar_mass(gas), gas, None)
        return fills.pace(some, gas_now, flow, heat)[..., None]

    def remaining(rows: Rows, state: Column) -> Column:
        return np.asarray(state[..., 0] - low[rows])

    def rested(course: Course) -> NDArray[np.bool_]:
        return np.zeros(len(course.rows), bool)

    problem = Problem(rates, remaining, rested, space.pressure[:, None])
    first = fills.FIRST_STEP * stored / draw
    ends = integration.integrate(problem, space.pressure[:, None], first, effort.check)
    unreachable_rows(
        ~ends.reached, "pressure_low",
        "is not reached as a gas: the reservoir is drawn so fast that its gas condenses; take a "
        "longer time or a higher pressure_low",
    )  # fmt: skip
    return ends.time
