"""What the hosts allow in names and texts, checked when a definition is made.

Excel on Windows runs our functions as Visual Basic functions, so the names of functions and
arguments are identifiers of that language and no cell addresses; every text in its function
dialog holds 1 to 255 characters. LibreOffice Calc and the headless engine allow more.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

LONGEST_DESCRIPTION = 255
LONGEST_NAME = 64
MOST_COLUMNS = 16_384
MOST_ROWS = 1_048_576

_IDENTIFIER = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
_A1 = re.compile(r"([A-Za-z]{1,3})([0-9]{1,7})")
_R1C1 = re.compile(r"R[0-9]*(C[0-9]*)?|C[0-9]*", re.IGNORECASE)
_TAKEN_BY_XLWINGS = frozenset({"caller", "k", "argsarray", "failed"})
_RESERVED_WORDS = """
    abs addressof and any array as attribute boolean byref byte byval call case cbool cbyte ccur
    cdate cdbl cdec cint circle clng clnglng clngptr close const csng cstr currency cvar cverr
    date debug decimal declare defbool defbyte defcur defdate defdbl defint deflng defobj defsng
    defstr defvar dim do doevents double each else elseif empty end endif enum eqv erase event
    exit false fix for friend function get global gosub goto if imp implements in input inputb int
    integer is lbound len lenb let like lineinput lock long longlong longptr loop lset me mid midb
    mod new next not nothing null on open option optional or paramarray preserve print private
    pset public put raiseevent redim rem resume return rset scale select set sgn shared single spc
    static stop string sub tab then to true type typeof ubound unlock until variant wend while
    with withevents write xor
"""
_RESERVED = frozenset(_RESERVED_WORDS.split())


def name_problems(name: str, arguments: Iterable[str]) -> Iterator[str]:
    """What a host would refuse in a function's name and the names of its arguments."""
    seen: set[str] = {name.lower()}
    yield from _identifier_problems(name)
    if is_cell_address(name):
        yield f"{name} reads as a cell address"
    for argument in arguments:
        yield from _identifier_problems(argument)
        if argument.lower() in _TAKEN_BY_XLWINGS:
            yield f"{argument} is a name that the Excel host uses itself"
        if argument.lower() in seen:
            yield f"{argument} differs from another name by case only"
        seen.add(argument.lower())


def _identifier_problems(name: str) -> Iterator[str]:
    if not _IDENTIFIER.fullmatch(name) or len(name) > LONGEST_NAME:
        yield f"{name} is not a letter followed by letters, digits and underscores"
    if name.lower() in _RESERVED:
        yield f"{name} is a reserved word of Visual Basic"


def is_cell_address(name: str) -> bool:
    """Whether a spreadsheet would read the name as a cell, such as GAS1, LN2 or RC10."""
    match = _A1.fullmatch(name)
    if match:
        column = 0
        for letter in match[1].upper():
            column = 26 * column + ord(letter) - ord("A") + 1
        return column <= MOST_COLUMNS and 1 <= int(match[2]) <= MOST_ROWS
    return bool(_R1C1.fullmatch(name))


def text_problems(what: str, text: str) -> Iterator[str]:
    """What a host would refuse in a description."""
    if not text.strip():
        yield f"{what} has no text"
    if len(text) > LONGEST_DESCRIPTION:
        yield f"{what} has {len(text)} characters, more than {LONGEST_DESCRIPTION}"
    if "\n" in text or "\r" in text:
        yield f"{what} has a line break"
