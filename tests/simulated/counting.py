"""How often bands hold the truth, tight vessels are called leaking, and real leaks are found."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from gasfuncs.registry import worksheet_function_named
from tests.simulated import decays, months, rises
from tests.simulated.rises import Random, Rise

MBAR_LITRES = 10.0
"""mbar·L/s in a Pa·m³/s."""

TIMES_DETECTABLE = 3.0

LIMITS = (0.2, 5.0)
"""Of the true leak."""


@dataclass(frozen=True)
class Judged:
    """A row of a verdict, in mbar·L/s or Nm³."""

    low: float
    high: float
    detectable: float | None
    verdict: str

    def holds(self, truth: float) -> bool:
        """Whether the band holds the truth, to a rounding error."""
        room = 1e-9 * max(abs(self.low), abs(self.high))
        return self.low - room <= truth <= self.high + room


@dataclass
class Counts:
    """What happened in a class of tests."""

    what: str
    tight: int = 0
    tight_held: int = 0
    claimed: int = 0
    leaking: int = 0
    leaking_held: int = 0
    detectable: int = 0
    found: int = 0
    repeats: int = 0
    signed: int = 0
    """Tight or leaking, against a limit of a fifth to five times the true leak."""
    wrongly: int = 0

    @property
    def held(self) -> float:
        """Share of all bands that hold the truth."""
        return (self.tight_held + self.leaking_held) / (self.tight + self.leaking)

    @property
    def claims(self) -> float:
        """Share of the tight ones that are called leaking."""
        return self.claimed / self.tight

    @property
    def finds(self) -> float | None:
        """Share of leaks of three times the least detectable that are found."""
        return self.found / self.detectable if self.detectable else None


def judged_rise(record: Rise, limit: float = 0.0) -> Judged:
    """A rise in 1 m³ as GAS_RISE_VERDICT judges it."""
    times = [f"{t!r} s" for t in record.times.tolist()]
    pressures = [f"{p!r} Pa" for p in record.pressures.tolist()]
    verdict = worksheet_function_named("GAS_RISE_VERDICT")
    _, (_, low, high, detectable, word, _) = verdict(times, pressures, 1, limit)
    return Judged(low, high, detectable, word)


def judged_decay(test: decays.Decay, limit: float = 0.0) -> Judged:
    """A decay test as GAS_DECAY_VERDICT judges it."""
    p_start, t_start, p_end, t_end = test.read()
    pascals, kelvins = test.tolerances
    verdict = worksheet_function_named("GAS_DECAY_VERDICT")
    _, (_, low, high, detectable, word, _) = verdict(
        test.volume, f"{p_start!r} Pa", f"{t_start!r} K", f"{p_end!r} Pa", f"{t_end!r} K",
        f"{test.duration!r} s", limit, test.gas, f"±{pascals!r} Pa", f"±{kelvins!r} K",
    )  # fmt: skip
    return Judged(low, high, detectable, word)


def judged_month(book: months.Month) -> Judged:
    """A month as GAS_UNACCOUNTED_VERDICT judges it."""
    verdict = worksheet_function_named("GAS_UNACCOUNTED_VERDICT")
    _, (_, low, high, _, _, _, least, word, _) = verdict(
        book.opening, book.delivered, book.closing, book.use, 31,
        book.stock_tolerance, book.delivery_tolerance, book.use_tolerance,
    )  # fmt: skip
    return Judged(low, high, least, word)


def rise_counts(kind: str, count: int, seed: int, *, least: int = 10, most: int = 50) -> Counts:
    """Rise tests with one kind of outgassing, as many tight as leaking."""
    random = np.random.default_rng(seed)
    found = Counts(f"rise, {kind}")
    for _ in range(count):
        record = _rise(random, kind, leaks=False, least=least, most=most)
        answer = judged_rise(record)
        _count_tight(found, answer, "leaks")
        if answer.detectable is not None:
            rate = TIMES_DETECTABLE * answer.detectable / MBAR_LITRES
            found.detectable += 1
            found.found += judged_rise(record.with_leak(rate)).verdict == "leaks"
        record = _rise(random, kind, leaks=True, least=least, most=most)
        leak = record.leak * MBAR_LITRES
        limit = leak * rises.between(random, *LIMITS)
        _count_leaking(found, judged_rise(record, limit), leak, limit)
    return found


def _rise(random: Random, kind: str, *, leaks: bool, least: int, most: int) -> Rise:
    return rises.rise(random, rises.OUTGASSING[kind], leaks=leaks, least=least, most=most)


def decay_counts(count: int, seed: int) -> Counts:
    """Decay tests, as many tight as leaking."""
    random = np.random.default_rng(seed)
    found = Counts("decay")
    for _ in range(count):
        test = decays.decay(random)
        answer = judged_decay(test)
        _count_tight(found, answer, "leaks")
        assert answer.detectable is not None
        leak = TIMES_DETECTABLE * answer.detectable
        again = decays.again(random, test, leak / MBAR_LITRES)
        found.detectable += 1
        found.found += judged_decay(again).verdict == "leaks"
        limit = leak * rises.between(random, *LIMITS)
        _count_leaking(found, judged_decay(again, limit), leak, limit)
    return found


def month_counts(count: int, seed: int) -> Counts:
    """Months of a plant, as many without a loss as with one."""
    random = np.random.default_rng(seed)
    found = Counts("month")
    for _ in range(count):
        answer = judged_month(months.month(random))
        _count_tight(found, answer, "loss")
        assert answer.detectable is not None
        loss = TIMES_DETECTABLE * answer.detectable
        answer = judged_month(months.month(random, loss))
        found.detectable += 1
        found.found += answer.verdict == "loss"
        _count_leaking(found, answer, loss)
    return found


def _count_tight(found: Counts, answer: Judged, claim: str) -> None:
    found.tight += 1
    found.tight_held += answer.holds(0.0)
    found.claimed += answer.verdict == claim
    found.repeats += answer.verdict == "repeat"


def _count_leaking(found: Counts, answer: Judged, truth: float, limit: float = 0.0) -> None:
    found.leaking += 1
    found.leaking_held += answer.holds(truth)
    if limit:
        wrong = "tight" if truth > limit else "leaks"
        found.signed += answer.verdict in ("tight", "leaks")
        found.wrongly += answer.verdict == wrong


def all_counts(count: int) -> Iterator[Counts]:
    """Every class, so many tight and so many leaking tests of each."""
    for seed, kind in enumerate(rises.TOLD, 101):
        yield rise_counts(kind, count, seed)
    few = Counts("rise, 6 to 9 readings")
    for seed, kind in enumerate(rises.TOLD, 201):
        few = _added(few, rise_counts(kind, -(-count // 3), seed, least=6, most=9))
    yield few
    yield rise_counts(rises.BEYOND, count, 251)
    yield decay_counts(count, 301)
    yield month_counts(count, 401)


def _added(first: Counts, second: Counts) -> Counts:
    numbers = {
        name: value + getattr(second, name)
        for name, value in vars(first).items()
        if isinstance(value, int)
    }
    return replace(first, **numbers)
