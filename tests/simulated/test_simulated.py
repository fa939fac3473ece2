"""A few tests of every class; `python -m tests.simulated` counts 300 of each."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.simulated import counting, decays, rises
from tests.simulated.__main__ import HEADINGS
from tests.simulated.counting import Counts

PAGE = Path(__file__).parents[2] / "docs" / "trust.md"
FEW = 12


def close_enough(counts: Counts) -> None:
    """What 12 tight and 12 leaking tests may show where 300 keep the promise."""
    assert counts.held >= 0.87, counts
    assert counts.claimed <= 2, counts
    assert counts.finds is None or counts.finds >= 0.85, counts
    assert counts.wrongly <= 1, counts


@pytest.mark.parametrize("kind", rises.TOLD)
def test_rises(kind: str) -> None:
    close_enough(counting.rise_counts(kind, FEW, 7))


def test_rises_of_few_readings() -> None:
    counts = counting.rise_counts("exponential", FEW, 7, least=6, most=9)
    close_enough(counts)
    assert counts.finds is None
    assert counts.claimed == 0


def test_decays() -> None:
    close_enough(counting.decay_counts(2 * FEW, 7))


def test_months() -> None:
    close_enough(counting.month_counts(FEW, 7))


def test_a_record_has_the_leak_it_was_made_with() -> None:
    random = np.random.default_rng(1)
    record = rises.rise(random, rises.one_over_t, leaks=False)
    more = record.with_leak(2.0)
    np.testing.assert_allclose(more.pressures - record.pressures, 2.0 * record.times)
    assert (record.leak, more.leak) == (0.0, 2.0)


def test_a_decay_read_without_errors_is_judged_as_its_leak() -> None:
    test = decays.decay(np.random.default_rng(2))
    exact = replace(test, errors=(0.0, 0.0, 0.0, 0.0), leak=0.5)
    answer = counting.judged_decay(exact)
    middle = (answer.low + answer.high) / 2
    assert middle == pytest.approx(5.0, abs=1e-3 * (answer.high - answer.low))


def promised() -> list[list[str]]:
    """The rows of the table on the page."""
    lines = [line for line in PAGE.read_text(encoding="utf-8").splitlines() if line[:1] == "|"]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]
    start = rows.index(list(HEADINGS))
    return [row for row in rows[start + 2 :] if len(row) == len(HEADINGS)]


def test_the_page_keeps_the_promise_that_it_prints() -> None:
    rows = {row[0]: row for row in promised()}
    assert len(rows) == 7
    for what, row in rows.items():
        held = float(row[2].removesuffix(" %"))
        claimed, tight = map(int, re.findall(r"\d+", row[3]))
        if rises.BEYOND in what:
            continue
        assert 92 <= held <= (98.5 if "1/t" in what else 98)
        assert claimed <= 0.05 * tight
        found = re.findall(r"\d+", row[4])
        assert not found or int(found[0]) >= 0.95 * int(found[1])
