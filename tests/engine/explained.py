"""The differences from LibreOffice that are its own, by name."""

from __future__ import annotations

import re
from typing import Any

_DATES = r"(YEAR|MONTH|DAY|HOUR|MINUTE|SECOND|ISOWEEKNUM|WEEKNUM|WEEKDAY|YEARFRAC|TEXT|EDATE|" \
         r"EOMONTH|WORKDAY|NETWORKDAYS|DATEDIF|DAYS)"  # fmt: skip
_TOTALS = r"(SUM|AVERAGE|MAX|MIN|MEDIAN|PRODUCT|SUMSQ|STDEV|STDEV\.[PS]|STDEVP|VAR|VAR\.[PS]|VARP)"
_PARTS = "(YEAR|MONTH|DAY|HOUR|MINUTE|SECOND|ISOWEEKNUM)"
_CHOOSING = r"(COUNTIFS?|SUMIFS?|AVERAGEIFS?|MINIFS|MAXIFS|MATCH)"

OWN: dict[str, str] = {
    "dates before March 1900":
        rf"{_DATES}\(.*(\b(D4|A4|A1|60|61)\b|\b1\.5|0\.75|0\.5|DATE\(1900)|"
        r"DATE\(1900,",
    "two-digit years": r"DATE\((24|1899|0),",
    "dates after 9999": rf"DATE\((9999|10000),|{_PARTS}\(2958466",
    "dates before 1900": rf"DATE\(-1,|E(DATE|OMONTH)\(.*,-2000\)|{_PARTS}\(-1\)",
    "text as a number": rf'{_TOTALS}\("5",|NOT\((B2|"3")\)|'
        r"COUNTIFS?\(C1:C5,7",
    "wildcards": rf'{_CHOOSING}\(.*"[?*]"',
    "blanks in XLOOKUP and XMATCH": r"(XLOOKUP|XMATCH)\(.*(A1:A5|E1:E9)|(XLOOKUP|XMATCH)\(A4",
    "other kinds in XLOOKUP and XMATCH":
        r'XMATCH\([0-9]+,F1:F4,1\)|XLOOKUP\([0-9]+,F1:F4,G1:G4,,1\)|'
        r'(XMATCH|XLOOKUP)\("[^"]*",E1:E4,(G1:G4,("nf")?,)?-1',
    "MROUND with a sign": r"MROUND\(",
    "empty text sought": r'(FIND|SEARCH)\("",',
    "powers of zero": r"POWER\(A4,(0|A4)\)|ATAN2\(A4,(0|A4)\)|A4\^(A4|0)",
    "parts of seconds": r"TEXT\(45000\.(0104|524305),",
    "TIME with fractions": r"TIME\(.*\.9",
    "the last week": r"WEEKNUM\(DATE\(2023,12,31\)",
    "parity": r"(ISEVEN|ISODD)\(",
    "large numbers as text":
        r"(LEN|UPPER|LOWER|PROPER|TRIM|CLEAN|LEFT|RIGHT|MID)\(1E20|TEXT\(1E15,\"@",
    "empty texts": r'CODE\((A4|"")|CHAR\((A4|0|255|"")|NUMBERVALUE\(""',
    "one call":
        r'POISSON\.DIST\(0,0|PMT\(-1,|OFFSET\(A3,0,0,-2|LET\(a,1,b|(?<!DATE)VALUE\("6 May',
}  # fmt: skip
LOGICAL = "logical values"
_LOGICAL = re.compile(r"C1:C5|A1:C5|\bC3\b|TRUE|FALSE")


def explained(formula: str) -> str | None:
    """Why LibreOffice may differ in this call."""
    for name, pattern in OWN.items():
        if re.search(rf"(?<![\w.])(?:{pattern})", formula):
            return name
    return LOGICAL if _LOGICAL.search(formula) else None


ELSEWHERE: dict[str, str] = {
    "letters that some languages take for others": r"ß",
    "characters of a Mac": r"\b(CHAR|CODE)\(",
    "formulas that LibreOffice does not know": r"_xlfn\.(ANCHORARRAY|SINGLE|LAMBDA|_xlws)|LAMBDA\(",
    "a new function without its mark": r"(?<![.\w])(CONCAT|TEXTJOIN|IFS|SWITCH|XLOOKUP|MAXIFS)\(",
}


def explained_elsewhere(formula: str, ours: Any, stored: Any) -> str | None:
    """Why a cell of another program's book may come to neither what it stores nor Calc's value."""
    for name, pattern in ELSEWHERE.items():
        if re.search(pattern, formula):
            return name
    if isinstance(ours, float) and isinstance(stored, float) and abs(ours - stored) < 1e-8:
        return "last digits of a difference"
    return None
