"""A formula as people type it outside a spreadsheet, made the one that `formula` reads.

Semicolons between arguments, as where the comma is the decimal mark, and quotes of other kinds than
the formula's own: single, which every command line takes inside double ones, and those of a letter.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from gasfuncs.errors import UnreadableError
from gasfuncs.units import shown

_OF_LETTERS = str.maketrans("“”„‟", '""""')
_PIECE = re.compile(r""""(?:[^"]|"")*"?|'(?:[^']|'')*'|[{}']|[^"'{}]+""")
_DECIMAL = re.compile(r"\d+,\d+")
_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)")

TEXT, ARRAY, PLAIN = "text", "array", "plain"


def meant(text: str) -> str:
    """The formula with commas between arguments, points in numbers and its own quotes."""
    inside = text.strip()
    if len(inside) > 1 and inside[0] == inside[-1] == "'":  # a command line that left them there
        inside = inside[1:-1]
    pieces = list(_pieces(inside.translate(_OF_LETTERS)))
    if any(kind == PLAIN and ";" in piece for kind, piece in pieces):
        pieces = [(kind, _with_commas(kind, piece, text)) for kind, piece in pieces]
    if any(kind == ARRAY and "|" in piece for kind, piece in pieces):
        pieces = [(kind, _with_rows(kind, piece)) for kind, piece in pieces]
    return "".join(piece for _, piece in pieces)


def comma_hint(text: str) -> str:
    """What to try after a refusal where a comma between digits may be a decimal mark; or ""."""
    found = (_DECIMAL.search(piece) for kind, piece in _pieces(text) if kind == PLAIN)
    number = next((each[0] for each in found if each), "")
    if not number:
        return ""
    point = number.replace(",", ".")
    return f'; is "{number}" one number? Write {point}, or semicolons between arguments'


def _pieces(text: str) -> Iterator[tuple[str, str]]:
    """Texts, what stands in braces, and the rest."""
    kind = PLAIN
    for piece in _PIECE.findall(text):
        if piece[0] == '"':
            yield TEXT, piece
        elif piece[0] == "'" and len(piece) > 1:
            yield TEXT, '"{}"'.format(piece[1:-1].replace('"', '""').replace("''", "'"))
        else:
            kind = {"{": ARRAY, "}": PLAIN}.get(piece, kind)
            yield kind, piece


def _with_commas(kind: str, piece: str, text: str) -> str:
    if kind == PLAIN:
        piece = _DECIMAL_COMMA.sub(".", piece)
    if kind != TEXT and "," in piece:
        raise UnreadableError(
            f'"{shown(text)}" has semicolons and commas; write commas between arguments and '
            'points in numbers: GAS_DENSITY("argon", 1.5, 20)'
        )
    return piece.replace(";", ",") if kind == PLAIN else piece


def _with_rows(kind: str, piece: str) -> str:
    """Columns and rows of a range as LibreOffice writes them: {1;2|3;4}."""
    return piece.replace(";", ",").replace("|", ";") if kind == ARRAY else piece
