"""Sets the equations of the definitions, plain text with Unicode signs, as MathML.

Fractions stay on the line; subscripts, superscripts and roots are set. Words stay words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import escape

_LETTER = r"[A-Za-z\u0370-\u03ff\u1e00-\u1eff\u2202µ][\u0300-\u036f]?"
_TOKEN = re.compile(
    r"(?P<whole>GAS_[A-Z_]+|°[CF])|(?P<number>\d+(?:\.\d+)?)"
    rf"|(?P<word>[a-z]{{2,}}-[a-z]{{2,}}|(?:{_LETTER})+)"
    r"|_(?P<sub>[A-Za-zα-ω0-9]+)|(?P<digits>[₀-₉]+)|(?P<power>[⁰¹²³⁴-⁹⁻ⁿ]+)"
    r"|(?P<space>\s+)|(?P<sign>.)"
)
_LOW = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
_HIGH = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻ⁿ", "0123456789−n")
_NAMED = frozenset({"exp", "ln", "max", "min"})
_PREFIXES = "dΔ∂"
_PRODUCTS = frozenset({"RT"})
_MATHEMATICS = re.compile(r"[=≤√Σ∫·^_/]")
_SIGNS = re.compile(r"[^A-Za-z ]")

Token = tuple[str, str]


def equation_html(text: str) -> str:
    """An equation set as mathematics, a line for each part; one in words alone stays text."""
    if not _MATHEMATICS.search(text):
        return f"<p>{escape(text)}</p>"
    lines = "".join(f'<div class="equation">{mathml(part)}</div>' for part in parts(text))
    return f'<div class="equations" tabindex="0">{lines}</div>'


def parts(text: str) -> Iterator[str]:
    """The parts of an equation: what semicolons outside brackets part."""
    depth, start = 0, 0
    for at, sign in enumerate(text):
        depth += (sign == "(") - (sign == ")")
        if sign == ";" and depth == 0:
            yield text[start:at].strip()
            start = at + 1
    yield text[start:].strip()


def mathml(text: str, display: str = "block") -> str:
    """One line of mathematics; the text stands beside it for those who cannot see it."""
    body = _Setter(_tokens(text)).row()
    return f'<math display="{display}" alttext="{escape(text)}"><mrow>{body}</mrow></math>'


def symbol(text: str) -> str:
    """A symbol within a line of text, a word where it is one."""
    return mathml(text, "inline") if len(text) == 1 or _SIGNS.search(text) else escape(text)


def _tokens(text: str) -> list[Token]:
    found = [(str(m.lastgroup), m[m.lastgroup or 0]) for m in _TOKEN.finditer(text)]
    return [
        ("text", word) if kind == "word" and _is_article(found, at) else (kind, word)
        for at, (kind, word) in enumerate(found)
    ]


def _is_article(found: list[Token], at: int) -> bool:
    """Whether a single "a" stands between words."""
    around = found[max(at - 2, 0) : at] + found[at + 1 : at + 3]
    words = [word for kind, word in around if kind == "word" and len(word) > 1]
    return found[at][1] == "a" and len(words) == 2


class _Setter:
    """Walks over the tokens once."""

    def __init__(self, tokens: list[Token]) -> None:
        self.tokens = tokens
        self.at = 0

    def next_is(self, *kinds: str) -> bool:
        return self.at < len(self.tokens) and self.tokens[self.at][0] in kinds

    def next_sign(self, sign: str) -> bool:
        return self.at < len(self.tokens) and self.tokens[self.at] == ("sign", sign)

    def take(self) -> Token:
        self.at += 1
        return self.tokens[self.at - 1]

    def row(self, *, closed: bool = False) -> str:
        """Everything up to the end, or up to a closing bracket."""
        out = []
        while self.at < len(self.tokens) and not (closed and self.next_sign(")")):
            if self.next_is("space"):
                self.take()
                out.append('<mspace width="0.2em"/>')
            else:
                out.append(self.scripted())
        return "".join(out)

    def scripted(self) -> str:
        """An atom with what is written below and above it."""
        before, base = self.atom()
        low = high = ""
        if self.next_is("sub", "digits"):
            low = _name(self.take()[1].translate(_LOW))
        if self.next_is("power"):
            high = f"<mrow>{_letters(self.take()[1].translate(_HIGH))}</mrow>"
        elif self.next_sign("^"):
            self.take()
            high = f"<mrow>{self.unbracketed()}</mrow>"
        if low and high:
            return f"{before}<msubsup>{base}{low}{high}</msubsup>"
        if low:
            return f"{before}<msub>{base}{low}</msub>"
        return f"{before}<msup>{base}{high}</msup>" if high else before + base

    def atom(self) -> tuple[str, str]:
        """What stands before the base of scripts, and the base."""
        kind, text = self.take()
        if kind == "word" and len(text) == 2 and text[0] in _PREFIXES:
            return _name(text[0]), _name(text[1])
        if kind == "word":
            return "", "".join(map(_name, text)) if text in _PRODUCTS else _name(text)
        if kind == "sign":
            return "", self.sign(text)
        return "", f"<mn>{text}</mn>" if kind == "number" else f"<mtext>{text}</mtext>"

    def sign(self, text: str) -> str:
        """A root, a bracket with all it holds, or an operator."""
        if text == "√":
            return f"<msqrt><mrow>{self.unbracketed()}</mrow></msqrt>"
        if text == "(":
            inner = self.row(closed=True)
            self.at += 1
            return f"<mrow><mo>(</mo>{inner}<mo>)</mo></mrow>"
        return f"<mo>{escape('−' if text == '-' else text)}</mo>"

    def unbracketed(self) -> str:
        """The next atom, without the brackets that a root or a power makes needless."""
        if not self.next_sign("("):
            return self.scripted()
        self.take()
        inner = self.row(closed=True)
        self.at += 1
        return inner


def _name(text: str) -> str:
    """A symbol in italics; a longer name, or a word, upright."""
    plain = re.sub(r"[\u0300-\u036f]", "", text)
    if len(plain) == 1 and not text.isdigit():
        return f"<mi>{text}</mi>"
    if text.isdigit():
        return f"<mn>{text}</mn>"
    return f"<mi>{text}</mi>" if text in _NAMED else f"<mtext>{text}</mtext>"


def _letters(text: str) -> str:
    return "".join(f"<mo>{c}</mo>" if c == "−" else _name(c) for c in text)
