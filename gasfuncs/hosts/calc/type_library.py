"""Writes the type library that tells LibreOffice the functions' arguments.

The binary format is described in the README of LibreOffice's module unoidl: little-endian, every
reference an offset into the file. Only what an add-in needs is here: one interface in a module.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass

ANY = "any"
ROWS = "[][]any"

_MODULE = 0
_INTERFACE = 5
_IN = 0
_SEEN = 0x80000000


@dataclass(frozen=True, slots=True)
class Method:
    """A method, its arguments as pairs of name and type, and the type of its answer."""

    name: str
    arguments: tuple[tuple[str, str], ...]
    answer: str = ROWS


def type_library(module: str, interface: str, methods: Sequence[Method]) -> bytes:
    """The library of one interface, such as `module.interface`."""
    writer = _Writer()
    body = writer.interface(methods)
    inside = writer.entry(interface, body)
    listing = writer.module([inside])
    root = writer.entry(module, listing)
    return writer.finished([root])


class _Writer:
    """The file as far as it is written; each method returns where its part begins."""

    def __init__(self) -> None:
        self.out = bytearray(b"UNOIDL\xff\0" + bytes(8))
        self.texts: dict[str, int] = {}

    def number(self, value: int) -> None:
        self.out += struct.pack("<I", value)

    def text(self, text: str) -> None:
        """A text, or a reference to where it stands already."""
        if text in self.texts:
            self.number(self.texts[text] | _SEEN)
            return
        self.texts[text] = len(self.out)
        self.number(len(text))
        self.out += text.encode("ascii")

    def interface(self, methods: Sequence[Method]) -> int:
        start = len(self.out)
        self.out.append(_INTERFACE)
        self.number(1)  # mandatory base
        self.text("com.sun.star.uno.XInterface")
        self.number(0)  # optional bases
        self.number(0)  # attributes
        self.number(len(methods))
        for method in methods:
            self.text(method.name)
            self.text(method.answer)
            self.number(len(method.arguments))
            for name, kind in method.arguments:
                self.out.append(_IN)
                self.text(name)
                self.text(kind)
            self.number(0)  # exceptions
        return start

    def entry(self, name: str, body: int) -> tuple[int, int]:
        start = len(self.out)
        self.out += name.encode("ascii") + b"\0"
        return start, body

    def module(self, entries: Sequence[tuple[int, int]]) -> int:
        start = len(self.out)
        self.out.append(_MODULE)
        self.number(len(entries))
        self.map(entries)
        return start

    def map(self, entries: Sequence[tuple[int, int]]) -> int:
        start = len(self.out)
        for name, body in entries:
            self.number(name)
            self.number(body)
        return start

    def finished(self, roots: Sequence[tuple[int, int]]) -> bytes:
        start = self.map(roots)
        self.out[8:16] = struct.pack("<II", start, len(roots))
        return bytes(self.out)
