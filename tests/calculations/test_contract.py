"""What a contract costs, held against a plain reckoning and against what must be true of it."""

from __future__ import annotations

import datetime
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import gasfuncs
from gasfuncs.definition import recorded
from gasfuncs.errors import GasFuncsError

MONTHS = [f"{2025 + month // 12}-{month % 12 + 1:02d}-01" for month in range(24)]
TIERS = [[100, 300, 0.8], [300, None, 0.5]]
amounts = st.lists(st.integers(0, 300_000).map(lambda n: n / 1000), min_size=24, max_size=24)


def total(amounts: list[float], **named: Any) -> float:
    rows = gasfuncs.GAS_CONTRACT_COST(MONTHS, amounts, 1.0, **named)
    return float(rows[1][7])


def plain_marginal(amount: float) -> float:
    """Unit by unit of the tiers, as a person adds it up."""
    if amount <= 100:
        return amount
    return 100 + 0.8 * (amount - 100) if amount <= 300 else 260 + 0.5 * (amount - 300)


@settings(max_examples=60, deadline=None)
@given(amounts)
def test_marginal_tiers_by_year(taken: list[float]) -> None:
    expected = plain_marginal(sum(taken[:12])) + plain_marginal(sum(taken[12:]))
    assert total(taken, tiers=TIERS) == pytest.approx(expected, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(amounts, st.integers(0, 23), st.floats(0, 200))
def test_cost_never_falls_with_the_amount(taken: list[float], month: int, more: float) -> None:
    offer = {
        "tiers": TIERS, "delivery_charge": 20, "drop": 50, "rent": 30, "least_take": 900,
        "surcharges": [["energy", 0.05, None, None, 0.01]],
    }  # fmt: skip
    raised = [*taken]
    raised[month] += more
    assert total(raised, **offer) >= total(taken, **offer) * (1 - 1e-12)


def test_whole_amount_tiers_may_make_more_cheaper() -> None:
    below, above = [24.0] * 12 + [0.0] * 12, [25.5] * 12 + [0.0] * 12
    assert total(above, tiers=TIERS, tier_kind="whole") < total(
        below, tiers=TIERS, tier_kind="whole"
    )


@settings(max_examples=40, deadline=None)
@given(amounts)
def test_the_months_add_up_to_the_first_row(taken: list[float]) -> None:
    index = np.linspace(1, 1.2, 24).tolist()
    rows = gasfuncs.GAS_CONTRACT_COST(
        MONTHS, taken, 1.0, tiers=TIERS, rent=5, least_take=700, price_index=index
    )
    columns = np.array([row[1:8] for row in rows[2:]], dtype=float)
    assert np.allclose(columns.sum(axis=0), rows[1][1:8], rtol=1e-12)
    assert np.allclose(columns[:, 1:6].sum(axis=1), columns[:, 6], rtol=1e-12)


def test_order_of_the_months_does_not_matter() -> None:
    taken = [float(10 * month) for month in range(24)]
    rows = gasfuncs.GAS_CONTRACT_COST(MONTHS, taken, 1.0, tiers=TIERS)
    back = gasfuncs.GAS_CONTRACT_COST(MONTHS[::-1], taken[::-1], 1.0, tiers=TIERS)
    assert rows == back


def test_differences_of_an_invoice_are_billed_less_expected() -> None:
    rng = np.random.default_rng(20260305)
    tickets = [[n, 46000 + n, float(q)] for n, q in enumerate(rng.uniform(1, 9, 40))]
    lines = [[n, q * 1.1, 2.0, 3.0, q * 2.2 + 3 + rng.uniform(0, 0.004)] for n, _, q in tickets]
    contract = [[40000, 2.0, None, 1.1, None, 3.0]]
    rows = gasfuncs.GAS_INVOICE_CHECK(lines, tickets, contract)[1:]
    assert {row[4] for row in rows} == {"agrees"}
    assert sum(row[3] for row in rows) == pytest.approx(
        sum(line[4] for line in lines) - sum(2.2 * q + 3 for *_, q in tickets)
    )


def test_all_parts_and_the_working_of_surcharges_add_up() -> None:
    extras = [["energy", 0.05, None, None, None], ["fuel", None, 3, 2, 0.01]]
    given = (MONTHS[:12], [10.0] * 12, 2.0)
    named: dict[str, Any] = {
        "delivery_charge": 7,
        "drop": 5,
        "rent": 4,
        "surcharges": extras,
        "least_take": 150,
    }
    with recorded() as shown:
        total, first, *_ = gasfuncs.GAS_CONTRACT_COST(*given, **named)[1:]
    energy, fuel = 0.05 * 240, 3 * 24 + 2 * 12 + 0.01 * 120
    assert total[2:8] == pytest.approx([240, 168, 48, energy + fuel, 60, 516 + energy + fuel])
    assert first[2:8] == pytest.approx([20, 14, 4, 8.1 + 1, 0, 47.1])
    steps = {each.what: each.value for each in shown}
    assert steps["surcharge energy"] == pytest.approx(energy)
    assert steps["surcharge fuel"] == pytest.approx(fuel)


def test_without_a_drop_no_delivery_is_counted() -> None:
    with recorded() as shown:
        gasfuncs.GAS_CONTRACT_COST(MONTHS[:1], [10.0], 2.0)
    assert [each.value for each in shown if each.what == "deliveries"] == [0.0]


def test_the_first_month_of_spreadsheets_begins_with_their_second_day() -> None:
    rows = gasfuncs.GAS_CONTRACT_COST(2, 10, 2)
    assert rows[2][0] == datetime.date(1900, 1, 1)


def test_a_tier_begins_with_its_first_unit_and_ends_with_its_last() -> None:
    month = MONTHS[:1]
    for amount, price in ((99.0, 1.0), (100.0, 0.8), (300.0, 0.8)):
        rows = gasfuncs.GAS_CONTRACT_COST(
            month, [amount], 1.0, [[100, 300, 0.8]], "whole", period="month"
        )
        assert rows[1][2] == pytest.approx(amount * price)
    with pytest.raises(GasFuncsError, match="a period takes 301"):
        gasfuncs.GAS_CONTRACT_COST(month, [301.0], 1.0, [[100, 300, 0.8]])


def test_a_least_take_beyond_the_tiers_has_no_price() -> None:
    with pytest.raises(GasFuncsError, match="a period takes 400"):
        gasfuncs.GAS_CONTRACT_COST(
            MONTHS[:1], [50.0], 1.0, [[100, 300, 0.8]], least_take=400, period="month"
        )


def test_a_version_holds_from_its_own_day_and_its_index_is_in_its_price() -> None:
    contract = [[40000, 2.0, 1.5, 1.1, 0.1, 5.0], [46000, 3.0, 1.2, None, None, None]]
    tickets = [["a", 45999, 10.0], ["b", 46000, 10.0], ["c", 45000, 10.0]]
    lines = [["a", 11.0, 3.0, 8.3, 41.3], ["b", 10.0, 3.6, 0.0, 36.0]]
    rows = gasfuncs.GAS_INVOICE_CHECK(lines, tickets, contract)[1:]
    assert [row[1] for row in rows] == pytest.approx([41.3, 36.0, 41.3])
    assert [row[4] for row in rows] == ["agrees", "agrees", "not billed"]
    assert rows[2][2:4] == [0.0, pytest.approx(-41.3)]
