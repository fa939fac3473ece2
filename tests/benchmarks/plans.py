"""Integrations, searches and plans against the same work written plainly."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations import fill
from gasfuncs.calculations.line import STEEL
from gasfuncs.registry import worksheet_functions
from tests.benchmarks import plain
from tests.benchmarks.measuring import Result, compared, timed

TEN_YEARS = 3652
ROWS = 1_000_000
FILLS = 1_000
COMPARED = 20
"""Fills that are asked for one by one in a turn."""

METHODS = {"isothermal": "LSODA", "adiabatic": "LSODA", "wall": "BDF"}
"""SciPy's methods: walls make it stiff, where LSODA gives up."""

NITROGEN = ("nitrogen", 10.0, 16.0, 2.5, 1e-5, 6.0)
"""Gas, m³ and bar(a) of the reservoir, m³ of the vessel, bar(a) before and after."""


def integrations() -> Iterator[Result]:
    """The time of a backfill, the bore for a time, and a column of times."""
    functions = worksheet_functions()
    for process, method in METHODS.items():
        filling = fill.columns(
            properties.gas("nitrogen"), 10.0, 16e5, 2.5, 1.0, 6e5, 0.025, 6.0, 8.0, 0.0, 293.15,
            process, process, None, None, None, None, None, STEEL, None, 0.7,
        ).filling  # fmt: skip
        further = (6, 8, 0, 20, process, process)
        time = functions["GAS_BACKFILL_TIME"](*NITROGEN, 25, *further)
        once = timed(lambda f=filling, m=method: plain.backfill_time(f, m))  # type: ignore[misc]
        assert abs(time / plain.backfill_time(filling, method) - 1) < 1e-5
        for function, given, goal in (
            ("GAS_BACKFILL_TIME", 25.0, 1.5),
            ("GAS_LINE_BORE", time * 1.1, 15.0),
        ):
            call = timed(
                lambda f=function, x=given, r=further: functions[f](*NITROGEN, x, *r)  # type: ignore[misc]
            )
            yield compared(
                f"{function}, {process}", call, "one solve_ivp, same right-hand side", once,
                goal=goal, rounds=7,
            )  # fmt: skip
    yield _again()
    yield _column()


def _again() -> Result:
    """A cell whose arguments did not change since the book was calculated last."""
    function, call = worksheet_functions()["GAS_BACKFILL_TIME"], (*NITROGEN, 25, 6, 8)
    assert abs(function.cells(*call) / function(*call) - 1) < 1e-12
    return compared(
        "GAS_BACKFILL_TIME, calculated again", timed(lambda: function.cells(*call)),
        "calculated anew", timed(lambda: function(*call)), goal=0.01, rounds=7,
    )  # fmt: skip


def _column() -> Result:
    """A column of different fills, against its rows one by one."""
    function = worksheet_functions()["GAS_BACKFILL_TIME"]
    random = np.random.default_rng(12)
    bores, lengths = random.uniform(15, 100, FILLS), random.uniform(2, 60, FILLS)
    few = list(zip(bores[:COMPARED].tolist(), lengths[:COMPARED].tolist(), strict=True))
    together = function(*NITROGEN, bores, lengths, 8)
    alone = [function(*NITROGEN, *one, 8) for one in few]
    np.testing.assert_allclose(together[:COMPARED], alone, rtol=1e-5)
    return compared(
        f"GAS_BACKFILL_TIME, a column of {FILLS:,}",
        timed(lambda: function(*NITROGEN, bores, lengths, 8), per=FILLS),
        "row by row", timed(lambda: [function(*NITROGEN, *one, 8) for one in few], per=COMPARED),
        goal=10, rounds=3, faster=True,
    )  # fmt: skip


def plans() -> Iterator[Result]:
    """Ten years of a tank, and a million chances of running short."""
    functions = worksheet_functions()
    random = np.random.default_rng(11)
    uses = random.uniform(500.0, 1500.0, TEN_YEARS)
    plan = functions["GAS_TANK_PLAN"]
    rows = plan("2026-03-02", 9800, uses, 9258, 3, 12000, 20000, 60)
    expected = plain.tank_plan(uses, 9800.0, 9258.0, 3, 12000.0, 19000.0, 60.0)
    np.testing.assert_allclose([row[5] for row in rows[1:]], expected[:, 2], atol=1e-6)
    yield compared(
        "GAS_TANK_PLAN over ten years",
        timed(lambda: plan("2026-03-02", 9800, uses, 9258, 3, 12000, 20000, 60)),
        "plain NumPy, day by day",
        timed(lambda: plain.tank_plan(uses, 9800.0, 9258.0, 3, 12000.0, 19000.0, 60.0)),
        goal=2, rounds=21,
    )  # fmt: skip
    contents = random.uniform(4000.0, 15000.0, ROWS)
    risk = functions["GAS_RUNOUT_RISK"]
    np.testing.assert_allclose(
        risk(contents, 1150, 240, 3, 1, 3000),
        plain.runout_risk(contents, 1150.0, 240.0, 3.0, 1.0, 3000.0),
        rtol=1e-12,
    )
    yield compared(
        f"GAS_RUNOUT_RISK, {ROWS:,} rows",
        timed(lambda: risk(contents, 1150, 240, 3, 1, 3000)),
        "plain NumPy and SciPy",
        timed(lambda: plain.runout_risk(contents, 1150.0, 240.0, 3.0, 1.0, 3000.0)),
        goal=2, rounds=21,
    )  # fmt: skip
