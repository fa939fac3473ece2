"""Puts the functions that a workbook calls into it as defined names, and takes them out again."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from gasfuncs import __version__
from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts.carried.carriable import carried_functions, why_not
from gasfuncs.hosts.carried.names import LONGEST, Carried
from gasfuncs.hosts.carried.sheet import NAME
from gasfuncs.hosts.headless.errors import WorkbookError
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.saving import check_not_in_use, save
from gasfuncs.hosts.headless.sheetxml import SheetText
from gasfuncs.properties import gas
from gasfuncs.registry import worksheet_functions

PART = "xl/worksheets/gasfuncs.xml"
RELATION = "rIdGasfuncs"
CONTENT_TYPES = "[Content_Types].xml"
OVERRIDE = (
    f'<Override PartName="/{PART}" ContentType="application/vnd.openxmlformats-officedocument'
    '.spreadsheetml.worksheet+xml"/>'
)
LINK = (
    f'<Relationship Id="{RELATION}" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
    f'relationships/worksheet" Target="/{PART}"/>'
)
CALL = re.compile(r"\bGAS_\w+(?=\()")
TEXT = re.compile(r'"(?:[^"]|"")*"')
OURS = re.compile(r'<definedName name="(?:GAS|GF)_\w+"[^>]*>[^<]*</definedName>')
NO_NAMES = "<definedNames></definedNames>"


class CarryError(WorkbookError):
    """A workbook that functions cannot be put into."""


@dataclass
class Done:
    """What was carried, and the cells whose functions no formula carries, with the reason."""

    carried: list[str] = field(default_factory=list)
    left: list[tuple[str, str, str, str]] = field(default_factory=list)


def carry(path: str | os.PathLike[str], output: str | os.PathLike[str]) -> Done:
    """Write a workbook with the functions that it calls as native formulas.

    Raises a WorkbookError where the book cannot take them; nothing is written then.
    """
    source, target = Path(path), Path(output)
    if {source.suffix.lower(), target.suffix.lower()} != {".xlsx"}:
        raise CarryError(f"{source.name}: only .xlsx files carry functions")
    with Package(source) as package:
        _check(package)
        done, wanted = _wanted(package)
        if not wanted:
            raise CarryError(f"{source.name} calls no function that a formula carries")
        carried = Carried([worksheet_functions()[name] for name in wanted])
        names = carried.lambdas()
        _check_names(package, names)
        check_not_in_use(target)
        save(package, target, _with(package, names), _sheet(carried))
    done.carried = wanted
    return done


def undo(path: str | os.PathLike[str], output: str | os.PathLike[str]) -> None:
    """Write a workbook as it was before functions were put into it."""
    source, target = Path(path), Path(output)
    with Package(source) as package:
        if not package.has(PART):
            raise CarryError(f"{source.name} carries no functions")
        check_not_in_use(target)
        save(package, target, _without(package), left_out=[PART])


def _check(package: Package) -> None:
    name = package.path.name
    if package.has(PART):
        raise CarryError(
            f"{name} carries its functions already; take them out first: gasfuncs carry --undo"
        )
    if package.signed:
        raise CarryError(f"{name} is signed, and any change makes the signature void")
    if "workbookProtection" in package.text(package.workbook_part):
        raise CarryError(
            f"{name} is protected against changes to its sheets; take the protection of the "
            "workbook off in the spreadsheet program, then try again"
        )


def _check_names(package: Package, names: dict[str, str]) -> None:
    ours = {name.lower() for name in names}
    for each in package.names:
        if each.name.lower() in ours:
            raise CarryError(
                f"{package.path.name} has a defined name {each.name} of its own, which would "
                "hide the function; rename it in the spreadsheet program"
            )
    if NAME.lower() in (sheet.name.lower() for sheet in package.sheets):
        raise CarryError(f"{package.path.name} has a sheet {NAME} of its own; rename it")
    too_long = [name for name, text in names.items() if len(text) > LONGEST]
    if too_long:
        raise CarryError(f"the formula of {too_long[0]} is longer than spreadsheets take")


def calls(text: str) -> list[str]:
    """The functions of ours that a formula calls."""
    return CALL.findall(TEXT.sub('""', text.replace("_xldudf_", "")))


def _formulas(package: Package) -> Iterator[tuple[str, str, str]]:
    """Every formula with its sheet and cell."""
    for sheet in package.sheets:
        for cell in SheetText(package, sheet).formula_cells():
            yield sheet.name, cell.name, cell.formula
    for name in package.names:
        yield "", name.name, name.formula


def _wanted(package: Package) -> tuple[Done, list[str]]:
    """The functions to carry, and the cells that call others."""
    done, found = Done(), set()
    for sheet, cell, formula in _formulas(package):
        for name in calls(formula):
            found.add(name)
            reason = why_not(name)
            if reason:
                done.left.append((sheet, cell, name, reason))
        _refuse_mixtures(package, sheet, cell, formula)
    return done, [name for name in carried_functions() if name in found]


def _refuse_mixtures(package: Package, sheet: str, cell: str, formula: str) -> None:
    if not calls(formula):
        return
    for text in TEXT.findall(formula):
        try:
            mixed = "%" in text and gas(text[1:-1]).is_mixture
        except GasFuncsError:
            mixed = False
        if mixed:
            raise CarryError(
                f"{package.path.name}: {cell} of {sheet} calculates with {text}; mixtures are not "
                "carried, only the pure gases and air"
            )


def _sheet(carried: Carried) -> dict[str, bytes]:
    carried.tables.sheet.block("gasfuncs", [[__version__]])
    return {PART: carried.tables.sheet.xml().encode()}


def _relations(package: Package) -> str:
    folder, _, name = package.workbook_part.rpartition("/")
    return f"{folder}/_rels/{name}.rels".lstrip("/")


def _with(package: Package, names: dict[str, str]) -> dict[str, list[bytes]]:
    links = _relations(package)
    return {
        CONTENT_TYPES: [_before(package, CONTENT_TYPES, "</Types>", OVERRIDE)],
        links: [_before(package, links, "</Relationships>", LINK)],
        package.workbook_part: [_workbook(package, names).encode()],
    }


def _before(package: Package, part: str, end: str, text: str) -> bytes:
    head, found, tail = package.text(part).rpartition(end)
    if not found:
        raise CarryError(f"{package.path.name} is written in a way that is not supported")
    return f"{head}{text}{found}{tail}".encode()


def _workbook(package: Package, names: dict[str, str]) -> str:
    text = package.text(package.workbook_part)
    if "</sheets>" not in text or "xmlns:r=" not in text:
        raise CarryError(f"{package.path.name} is written in a way that is not supported")
    number = 1 + max(map(int, re.findall(r'\bsheetId="(\d+)"', text)))
    sheet = f'<sheet name="{NAME}" sheetId="{number}" state="veryHidden" r:id="{RELATION}"/>'
    text = text.replace("</sheets>", f"{sheet}</sheets>", 1)
    if "</definedNames>" not in text:
        after = "</externalReferences>" if "</externalReferences>" in text else "</sheets>"
        text = text.replace(after, after + NO_NAMES, 1)
    ours = "".join(_defined(name, formula) for name, formula in names.items())
    return text.replace("</definedNames>", f"{ours}</definedNames>", 1)


def _defined(name: str, formula: str) -> str:
    definition = worksheet_functions().get(name)
    about = f" comment={quoteattr(definition.summary)}" if definition else ' hidden="1"'
    return f'<definedName name="{name}"{about}>{escape(formula)}</definedName>'


def _without(package: Package) -> dict[str, list[bytes]]:
    links = _relations(package)
    text = OURS.sub("", package.text(package.workbook_part)).replace(NO_NAMES, "", 1)
    text = re.sub(rf'<sheet name="{NAME}"[^>]*r:id="{RELATION}"/>', "", text)
    return {
        CONTENT_TYPES: [package.text(CONTENT_TYPES).replace(OVERRIDE, "", 1).encode()],
        links: [package.text(links).replace(LINK, "", 1).encode()],
        package.workbook_part: [text.encode()],
    }
