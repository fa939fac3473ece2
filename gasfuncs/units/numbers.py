"""Numbers as people write them in a cell's text, with a decimal point or a decimal comma."""

from __future__ import annotations

import re

from gasfuncs.errors import UnreadableError

LONGEST_TEXT = 200

_QUANTITY = re.compile(
    r"""\s*(?P<number>[+-]?(?:\d[\d.,]*|[.,]\d[\d.,]*)(?:[eE][+-]?\d{1,3})?)\s*(?P<unit>\S.*)?\s*""",
    re.VERBOSE | re.ASCII,
)
_PLAIN = re.compile(r"\d*\.?\d*")
_DECIMAL_COMMA = re.compile(r"\d*,\d+")
_COMMA_GROUPS = re.compile(r"\d{1,3}(,\d{3})+(\.\d*)?")
_POINT_GROUPS = re.compile(r"\d{1,3}(\.\d{3})+(,\d*)?")
_EITHER_MARK = re.compile(r"[1-9]\d{0,2},\d{3}")
_EITHER_POINT = re.compile(r"[+-]?(?P<digits>[1-9]\d{0,2}\.\d{3})(?!\d)\s*(?=[^\d.,eE\s]|$)")


def refuse_long(text: str, meant: str) -> None:
    """Refuse a text that is too long to be what is meant, before anything searches it."""
    if len(text) > LONGEST_TEXT:
        raise UnreadableError(f"the text is {len(text)} characters long; write {meant}")


def split_quantity(text: str) -> tuple[float, str]:
    """Split "80.5 psig" into 80.5 and "psig"; the unit is "" where there is none."""
    refuse_long(text, "a number and a unit")
    tidy = text.replace("\u2212", "-").replace("\u00a0", " ").replace("\u202f", " ")
    match = _QUANTITY.fullmatch(tidy)
    if not match:
        raise UnreadableError(
            f'"{shown(text)}" is not a number with a unit; write it as "80.5 psig"'
        )
    return read_number(match["number"]), (match["unit"] or "").strip()


def split_goods(text: str) -> tuple[float, str]:
    """Split a text that tells an amount of goods, whose point may part off the thousands.

    "1.500 L" is as likely fifteen hundred litres as one and a half, and refused with both.
    """
    split = split_quantity(text)
    either = _EITHER_POINT.match(text.strip())
    if either:
        raise UnreadableError(
            f'the point in "{shown(text)}" could be either mark; write {_both(either["digits"])}'
        )
    return split


def _both(digits: str) -> str:
    """Both readings of digits with one mark before the last three, as they are plain to read."""
    decimal = digits.replace(",", ".")
    plain = f"{decimal}0" if not decimal.endswith("0") else decimal.rstrip("0").rstrip(".")
    return f"{decimal.replace('.', '')} or {plain}"


def read_number(text: str) -> float:
    """Read one number; a comma that could be either mark is refused with both readings."""
    mantissa, mark, exponent = (
        re.split(r"([eE])", text, maxsplit=1) if "e" in text.lower() else (text, "", "")
    )
    sign = mantissa[:1] if mantissa[:1] in "+-" else ""
    digits = mantissa[len(sign) :]
    if _EITHER_MARK.fullmatch(digits):
        raise UnreadableError(f'the comma in "{text}" could be either mark; write {_both(digits)}')
    if _PLAIN.fullmatch(digits):
        plain = digits
    elif _DECIMAL_COMMA.fullmatch(digits):
        plain = digits.replace(",", ".")
    elif _COMMA_GROUPS.fullmatch(digits):
        plain = digits.replace(",", "")
    elif _POINT_GROUPS.fullmatch(digits):
        plain = digits.replace(".", "").replace(",", ".")
    else:
        raise UnreadableError(f'"{text}" is not a number; write it as 1234.5')
    return float(sign + plain + mark + exponent)


def shown(value: object) -> str:
    """A value as an error sentence quotes it: short, and without control characters."""
    if isinstance(value, float):
        return f"{value:.6g}"
    text = _text_of(value)
    short = text[:80]
    if not short.isprintable():
        short = "".join(c if c.isprintable() else " " for c in short)
    return short + "..." if len(text) > 80 else short


def _text_of(value: object) -> str:
    try:
        return str(value)
    except Exception:  # a whole number of thousands of digits, or an object without a text
        return f"a value of type {type(value).__name__}"
