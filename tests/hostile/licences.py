"""The licences of everything the library builds on: `python -m tests.hostile.licences` writes them.

They are read from the packages installed here, and kept in docs/licences.md.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from importlib import metadata
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

HOUSE = Path(__file__).parents[2]
PAGE = HOUSE / "docs" / "licences.md"

NOTHING = {""}

FOR_DEVELOPERS = ("test", "docs", "dev")
"""Extras."""

NAMES = {
    r"mit( license)?": "MIT",
    r"bsd( license)?": "BSD",
    r"(modified |new )?bsd 3-clause.*": "BSD-3-Clause",
    r"(2-clause bsd|bsd 2-clause).*": "BSD-2-Clause",
    r"apache(-2\.0| 2\.0| software license)": "Apache-2.0",
    r"gpl ?v3|gnu general public license v3.*": "GPL-3.0",
    r"mozilla public license 2\.0.*": "MPL-2.0",
    r"python software foundation license": "PSF-2.0",
    r"unknown|": "not told",
}
"""Older packages write their licence in words."""

COMPATIBLE = {
    "0BSD", "Apache-2.0", "BSD", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "HPND", "ISC", "MIT",
    "MPL-2.0", "PSF-2.0", "Unlicense", "Zlib",
}  # fmt: skip
"""What a library under the MIT licence may need, as nothing of it is copied into ours."""


def licence(package: metadata.Distribution) -> str:
    """The licence of a package as its SPDX expression, or as near as its metadata come to it."""
    about = package.metadata
    if "License-Expression" in about:
        return str(about["License-Expression"])
    told = [c.rpartition(" :: ")[2] for c in about.get_all("Classifier") or [] if "License ::" in c]
    words = "".join(about.get_all("License") or []).partition("\n")[0].strip()
    if not told or (words and len(words) < 30):
        told = [words]
    return " OR ".join(sorted({named(each) for each in told}))


def named(words: str) -> str:
    for pattern, name in NAMES.items():
        if re.fullmatch(pattern, words, re.I):
            return name
    return words


def is_compatible(expression: str) -> bool:
    """Whether one of the choices is; with parentheses, all that is named must be."""
    plain = re.sub(r"WITH \S+", "", expression)
    choices = [plain] if "(" in plain else re.split(r"\bOR\b", plain)
    return any(
        {part.strip() for part in re.split(r"\bAND\b|\bOR\b|[()]", choice)} - NOTHING <= COMPATIBLE
        for choice in choices
        if choice.strip()
    )


def project() -> dict[str, list[str]]:
    """The requirements of pyproject.toml: "" for the library itself, else by extra."""
    about = tomllib.loads((HOUSE / "pyproject.toml").read_text())["project"]
    return {"": about["dependencies"], **about["optional-dependencies"]}


def needed(requirements: Iterable[str], ours: dict[str, list[str]]) -> set[str]:
    """What requirements come to with all they need in turn, as far as it is installed here."""
    found: set[str] = set()
    waiting = [(text, frozenset[str]()) for text in requirements]
    seen = set()
    while waiting:
        text, extras = waiting.pop()
        requirement = Requirement(text)
        marker = requirement.marker
        if marker and not any(marker.evaluate({"extra": extra}) for extra in {"", *extras}):
            continue
        name = canonicalize_name(requirement.name)
        wanted = frozenset(requirement.extras)
        if (name, wanted) in seen:
            continue
        seen.add((name, wanted))
        if name == "gasfuncs":
            waiting += [(each, frozenset()) for extra in wanted for each in ours[extra]]
            continue
        found.add(name)
        try:
            further = metadata.requires(name) or []
        except metadata.PackageNotFoundError:
            continue
        waiting += [(each, wanted) for each in further]
    return found


def table(names: Iterable[str]) -> list[str]:
    rows = ["| package | licence |", "|---|---|"]
    for name in sorted(names):
        try:
            package = metadata.distribution(name)
        except metadata.PackageNotFoundError:
            continue
        rows.append(f"| {name} | {licence(package)} |")
    return rows


def page() -> str:
    """The whole page."""
    ours = project()
    for_users = [extra for extra in ours if extra not in ("", *FOR_DEVELOPERS)]
    run = needed([*ours[""], f"gasfuncs[{','.join(for_users)}]"], ours)
    develop = needed([f"gasfuncs[{','.join(filter(None, ours))}]"], ours) - run
    return "\n".join(
        [
            "# Licences", "",
            "gasfuncs is under the MIT licence. It needs other packages, which are installed",
            "beside it and not copied into it; each is under its own licence, as its metadata",
            "tell it.", "",
            "<!-- Written by: python -m tests.hostile.licences -->", "",
            "## To use it", "", *table(run), "",
            "All of these may be used and passed on with a library under the MIT licence.", "",
            "## To develop and test it", "",
            "None of these is needed to use the library, and none is passed on with it.", "",
            *table(develop), "",
        ]
    )  # fmt: skip


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
