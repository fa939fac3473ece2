"""What a heading says: the words of a role, and a unit."""

from __future__ import annotations

import re

from gasfuncs.errors import UnitError
from gasfuncs.importing.roles import ELAPSED, MOMENT, NAME, Role
from gasfuncs.units.kinds import kinds_of

_BRACKETED = re.compile(r"[\[(](?P<unit>[^\[\]]+?)[\])]\s*$")


def words(text: str) -> str:
    """Its words in small letters, without a unit in brackets."""
    without_unit = _BRACKETED.sub("", text)
    return " ".join(re.findall(r"[a-z0-9]+", without_unit.lower()))


def best(headings: list[str], role: Role) -> str | None:
    """The heading that says a role's earliest word, whole rather than in part."""
    ranked = []
    for heading in headings:
        said = words(heading)
        for place, word in enumerate(role.words):
            if said == word:
                ranked.append((0, place, heading))
            elif re.search(rf"\b{word}\b", said) and not _is_measured(heading, role):
                ranked.append((1, place, heading))
    return min(ranked)[2] if ranked else None


def _is_measured(heading: str, role: Role) -> bool:
    """Whether a heading has a unit that its role, a name or a moment, cannot have."""
    unit = unit_in(heading)
    if role.holds == MOMENT:
        return unit is not None and _is_unit(unit) and not is_elapsed(unit)
    return role.holds == NAME and bool(unit)


def unit_in(heading: str) -> str | None:
    """The last word of a heading, such as bar(a), if it is a unit, else what is in its brackets."""
    bracketed = _BRACKETED.search(heading.strip())
    candidates = re.split(r"[\s_,]+", heading.strip())[-1:]
    candidates += [bracketed["unit"]] if bracketed else []
    for text in candidates:
        if _is_unit(text):
            return text
    return bracketed["unit"] if bracketed else None


def _is_unit(text: str) -> bool:
    try:
        return bool(kinds_of(text))
    except UnitError:
        return text in ("bar", "psi", "%")


def is_elapsed(unit: str) -> bool:
    """Whether a unit is one of time."""
    try:
        return ELAPSED[0].unit(unit) is not None
    except UnitError:
        return False
