"""Every way to write a unit, as the units sheet lists them; the library says what it takes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from gasfuncs.units import Kind, Unit
from gasfuncs.units.kinds import fold
from gasfuncs.units.labels import SAME_AS, SHORT_RATES

SUFFIXES = {
    "(a)": ("abs", "(abs)", "absolute", "(absolute)"),
    "(g)": ("gauge", "(gauge)", "gage", "(gage)"),
    "(vac)": ("vac", "vacuum", "(vacuum)"),
    "(liq)": ("liq", "liquid", "(liquid)"),
}
WITH_ONE_LETTER = re.compile(r"(bar|psi|hpa|kpa|mpa|cm2|mhg|nhg)$")

ANY_CASE, SMALL_M, OTHER_THAN_M = 0, 1, 2
NO_CAPITALS, NO_SMALL = 4, 8
"""What is added where all letters may not be capitals, or small."""


class Spelling(NamedTuple):
    """A way to write a unit, in lower case, and which case its letters must have."""

    key: str
    case: int
    unit: Unit


@cache
def spellings(kind: Kind) -> list[Spelling]:
    """All ways to write the units of a kind, without marks and spaces."""
    found = []
    for key in dict.fromkeys(each.lower() for base in _bases(kind) for each in _variants(base)):
        if kind.has(key):
            found.append(Spelling(key, _letters(kind, key), kind.unit(key)))
        elif kind.has(key.upper()):
            found.append(Spelling(key, OTHER_THAN_M + NO_SMALL, kind.unit(key.upper())))
    return found


def _bases(kind: Kind) -> Iterator[str]:
    labels = [fold(label) for label in kind.labels()]
    yield from labels
    yield from SAME_AS
    yield from SHORT_RATES
    alias: dict[str, list[str]] = {}
    for other, label in SAME_AS.items():
        alias.setdefault(fold(label), []).append(other)
    for label in labels:
        head, slash, tail = label.rpartition("/")
        if slash:
            for first in (head, *alias.get(head, ())):
                for last in (tail, *alias.get(tail, ())):
                    yield f"{first}/{last}"


def _variants(label: str) -> Iterator[str]:
    yield label
    head, slash, tail = label.rpartition("/")
    stem, rest = (head, "/" + tail) if slash and head.endswith("(liq)") else (label, "")
    for suffix, others in SUFFIXES.items():
        if stem.endswith(suffix):
            bare = stem.removesuffix(suffix)
            yield from (bare + other + rest for other in others)
            if suffix in ("(a)", "(g)") and WITH_ONE_LETTER.search(bare.lower()):
                yield bare + suffix[1]


def _letters(kind: Kind, key: str) -> int:
    """How the letters may be: the case of the first, and what is refused."""
    refused = NO_CAPITALS * (not kind.has(key.upper())) + NO_SMALL * (not kind.has(key))
    return _case(kind, key) + refused


def _case(kind: Kind, key: str) -> int:
    """Whether the first letter may be small and large among letters of both."""
    small = kind.has(key[:1] + _mixed(key[1:]))
    large = kind.has(key[:1].upper() + _mixed(key[1:]))
    if small and large:
        return ANY_CASE
    return SMALL_M if small else OTHER_THAN_M


def _mixed(text: str) -> str:
    """Letters of which one is small and the next large."""
    out, large = "", True
    for letter in text:
        out += letter.upper() if large else letter.lower()
        large = large != letter.isalpha()
    return out
