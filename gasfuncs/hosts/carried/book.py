"""Puts the functions that a workbook calls into it as defined names, and takes them out again."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from gasfuncs import __version__
from gasfuncs.hosts.carried.arrays import NotRecordedError
from gasfuncs.hosts.carried.calls import Call, calls
from gasfuncs.hosts.carried.carriable import carried_functions
from gasfuncs.hosts.carried.errors import CarryError
from gasfuncs.hosts.carried.gases import Gases, gases
from gasfuncs.hosts.carried.names import LONGEST, Carried
from gasfuncs.hosts.carried.sheet import NAME
from gasfuncs.hosts.headless.package import RELATIONS, Package, Sheet
from gasfuncs.hosts.headless.saving import check_not_in_use, save
from gasfuncs.registry import worksheet_functions

PART = "xl/worksheets/gasfuncs.xml"
RELATION = "rIdGasfuncs"
CONTENT_TYPES = "[Content_Types].xml"
OVERRIDE = (
    f'<Override PartName="/{PART}" ContentType="application/vnd.openxmlformats-officedocument'
    '.spreadsheetml.worksheet+xml"/>'
)
LINK = f'<Relationship Id="{RELATION}" Type="{RELATIONS}/worksheet" Target="/{PART}"/>'
OURS = re.compile(
    r'<definedName\b[^>]*\bname="(?:GF_\w+"[^>]*>_xlfn\.LAMBDA\(|'
    r'GAS_(\w+)"[^>]*>[^<]*\b(?i:GF_ONE_\1)\()[^<]*</definedName>'
)
"""Our names: those of a book itself may begin as ours do."""
PROTECTED = re.compile(r"<workbookProtection\s+\w")
"""Some programs write one that protects nothing."""
NO_NAMES = "<definedNames></definedNames>"
BLANK_NAMES = re.compile(r"<definedNames(\s*)/>")
OPENED_NAMES = re.compile(r"<definedNames(\s*) ></definedNames>")
"""The same, opened and emptied again; the blank tells it from NO_NAMES."""


@dataclass
class Done:
    """What was carried, the calls that no formula carries, and the gases whose series are."""

    carried: list[str]
    left: list[Call]
    gases: Gases


def carry(path: str | os.PathLike[str], output: str | os.PathLike[str]) -> Done:
    """Write a workbook with the functions that it calls as native formulas.

    Raises a WorkbookError where the book cannot take them; nothing is written then.
    """
    source, target = Path(path), Path(output)
    if {source.suffix.lower(), target.suffix.lower()} != {".xlsx"}:
        raise CarryError(
            f"{source.name}: only .xlsx files carry functions; give one to read and one to write, "
            "saved as .xlsx where it is another kind of workbook"
        )
    with Package(source) as package:
        if _hidden(package):
            raise CarryError(
                f"{source.name} carries its functions already; take them out first: "
                "gasfuncs carry --undo"
            )
        _check(package)
        every = list(calls(package))
        left = [call for call in every if call.left]
        if len(left) == len(every):
            raise CarryError(f"{source.name} calls no function that a formula carries{_why(left)}")
        carried, in_use = _recorded(package, [call for call in every if not call.left])
        names = carried.lambdas()
        _check_names(package, names)
        check_not_in_use(target)
        save(package, target, _with(package, names), _sheet(carried))
    return Done(list(carried.whole), left, in_use._replace(names=carried.tables.gases))


def _recorded(package: Package, found: list[Call]) -> tuple[Carried, Gases]:
    names = {call.name for call in found}
    wanted = [worksheet_functions()[name] for name in carried_functions() if name in names]
    try:
        in_use = gases(package, found)
        return Carried(wanted, in_use.names), in_use
    except NotRecordedError as error:
        raise CarryError(f"{package.path.name} cannot carry its functions: {error}") from error


def _why(left: list[Call]) -> str:
    """Why the first call that is left is not carried."""
    return f"; {left[0].name} in {left[0].place} is not, since {left[0].left}" if left else ""


def undo(path: str | os.PathLike[str], output: str | os.PathLike[str]) -> None:
    """Write a workbook as it was before functions were put into it."""
    source, target = Path(path), Path(output)
    with Package(source) as package:
        hidden = _hidden(package)
        if not hidden:
            raise CarryError(f"{source.name} carries no functions")
        _check(package)
        check_not_in_use(target)
        save(package, target, _without(package, hidden.part), left_out=[hidden.part])


def _hidden(package: Package) -> Sheet | None:
    """The hidden sheet of a carried book, wherever the program that saved it last has put it."""
    if not any(each.name.startswith("GF_") for each in package.names):
        return None
    return next((sheet for sheet in package.sheets if sheet.name == NAME), None)


def _check(package: Package) -> None:
    name = package.path.name
    if package.signed:
        raise CarryError(f"{name} is signed, and any change makes the signature void")
    if PROTECTED.search(package.text(package.workbook_part)):
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
    for table in package.tables.values():
        if table.name.lower() in ours:
            raise CarryError(
                f"{package.path.name} has a table {table.name}, and a table and a function cannot "
                "have one name; rename it in the spreadsheet program"
            )
    if NAME.lower() in (sheet.name.lower() for sheet in package.sheets):
        raise CarryError(f"{package.path.name} has a sheet {NAME} of its own; rename it")
    too_long = [name for name, text in names.items() if len(text) > LONGEST]
    if too_long:
        raise CarryError(f"the formula of {too_long[0]} is longer than spreadsheets take")


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
        raise _unsupported(package)
    return f"{head}{text}{found}{tail}".encode()


def _workbook(package: Package, names: dict[str, str]) -> str:
    text = package.text(package.workbook_part)
    if "</sheets>" not in text:
        raise _unsupported(package)
    number = 1 + max(map(int, re.findall(r'\bsheetId="(\d+)"', text)))
    sheet = (
        f'<sheet xmlns:r="{RELATIONS}" name="{NAME}" sheetId="{number}" state="veryHidden" '
        f'r:id="{RELATION}"/>'
    )
    text = text.replace("</sheets>", f"{sheet}</sheets>", 1)
    text = BLANK_NAMES.sub(r"<definedNames\1 ></definedNames>", text)
    if "</definedNames>" not in text:
        after = "</externalReferences>" if "</externalReferences>" in text else "</sheets>"
        text = text.replace(after, after + NO_NAMES, 1)
    ours = "".join(_defined(name, formula) for name, formula in names.items())
    return text.replace("</definedNames>", f"{ours}</definedNames>", 1)


def _defined(name: str, formula: str) -> str:
    definition = worksheet_functions().get(name)
    about = f" comment={quoteattr(definition.summary)}" if definition else ' hidden="1"'
    return f'<definedName name="{name}"{about}>{escape(formula)}</definedName>'


def _without(package: Package, part: str) -> dict[str, list[bytes]]:
    links = _relations(package)
    found = package.relations(package.workbook_part).items()
    relation = next(name for name, (_, target) in found if target == part)
    return {
        CONTENT_TYPES: [_cut(package, CONTENT_TYPES, "Override", "PartName", "/" + part)],
        links: [_cut(package, links, "Relationship", "Id", relation)],
        package.workbook_part: [_as_before(package).encode()],
    }


def _cut(package: Package, part: str, element: str, attribute: str, value: str) -> bytes:
    """A part without one empty element."""
    return "".join(_around(package, part, element, attribute, value)).encode()


def _around(package: Package, part: str, element: str, attribute: str, value: str) -> list[str]:
    """What of a part stands before an empty element, and what after it."""
    one = rf'<{element}\b[^<>]*\b{attribute}="{re.escape(value)}"[^<>]*/>'
    found = re.split(one, package.text(part), maxsplit=1)
    if len(found) == 1:
        raise _unsupported(package)
    return found


def _as_before(package: Package) -> str:
    """The workbook without our names, its sheets counted without the hidden one."""
    head, tail = _around(package, package.workbook_part, "sheet", "name", NAME)
    hidden = len(re.findall(r"<sheet\b", head))
    text = OURS.sub("", head + tail).replace(NO_NAMES, "", 1)
    return re.sub(
        r'\b(localSheetId|activeTab|firstSheet)="(\d+)"',
        lambda match: f'{match[1]}="{int(match[2]) - (int(match[2]) > hidden)}"',
        OPENED_NAMES.sub(r"<definedNames\1/>", text),
    )


def _unsupported(package: Package) -> CarryError:
    return CarryError(
        f"{package.path.name} is written in a way that is not supported; open it in a spreadsheet "
        "program, save it and try again"
    )
