"""The spreadsheet's own functions that the engine was tested for, and what each does to arrays.

Every name here has a conformance test against values from outside. A function that is not here
is refused by name, and so is a use of one with arrays that the engine was found to get wrong:
nothing is computed on trust.
"""

from __future__ import annotations

import re


def _names(text: str) -> frozenset[str]:
    return frozenset(text.split())


# One element at a time, and right for arrays too: an array argument gives an array.
EACH_OF_ARRAY = _names(
    """
    ABS ATAN CHOOSE COLUMN COS DATE DAY DEGREES EXACT EXP FIND IF IFERROR INT ISOWEEKNUM LEFT
    LEN LN LOG10 LOWER MID MONTH POWER PROPER RADIANS REPLACE REPT RIGHT ROW SEARCH SIGN SIN
    SQRT SUBSTITUTE TAN TEXT TRIM UPPER WEEKDAY YEAR
    """
)

# One element at a time, computed for single values only.
EACH = EACH_OF_ARRAY | _names(
    """
    ACOS ADDRESS ASIN ATAN2 CEILING CHAR CODE COMBIN DATEVALUE DAYS EDATE EOMONTH EVEN FACT
    FALSE FLOOR HOUR HYPERLINK IFNA IFS INDIRECT ISBLANK ISERR ISERROR ISEVEN ISLOGICAL ISNA
    ISNONTEXT ISNUMBER ISODD ISTEXT LOG MINUTE MOD MROUND N NA NORM.DIST NORM.INV NORM.S.DIST
    NORM.S.INV NORMSDIST NORMSINV NOT ODD PI PMT POISSON.DIST QUOTIENT ROUND ROUNDDOWN ROUNDUP
    SECOND SINGLE SWITCH T TIME TODAY TRUE TRUNC VALUE WEEKNUM YEARFRAC
    """
)

# Every argument is taken whole: the result is one value.
WHOLE = _names(
    """
    AND AVERAGE COLUMNS CONCAT CONCATENATE CORREL COUNT COUNTA COUNTBLANK INTERCEPT MAX MEDIAN
    MIN OR PRODUCT ROWS RSQ SLOPE STDEV STDEV.P STDEV.S SUBTOTAL SUM SUMPRODUCT SUMSQ TYPE VAR
    VAR.P VAR.S XOR
    """
)

# These arguments are taken whole, the others one element at a time.
SOME: dict[str, tuple[int, ...]] = {
    "SUMIF": (0, 2),
    "AVERAGEIF": (0, 2),
    "COUNTIF": (0,),
    "COUNTIFS": tuple(range(0, 60, 2)),
    "SUMIFS": (0, *range(1, 61, 2)),
    "AVERAGEIFS": (0, *range(1, 61, 2)),
    "MINIFS": (0, *range(1, 61, 2)),
    "MAXIFS": (0, *range(1, 61, 2)),
    "MATCH": (1,),
    "XMATCH": (1,),
    "XLOOKUP": (1, 2),
    "VLOOKUP": (1,),
    "HLOOKUP": (1,),
    "LOOKUP": (1, 2),
    "LARGE": (0,),
    "SMALL": (0,),
    "RANK.EQ": (1,),
    "RANK": (1,),
    "PERCENTILE.INC": (0,),
    "PERCENTILE": (0,),
    "QUARTILE.INC": (0,),
    "FORECAST": (1, 2),
    "FORECAST.LINEAR": (1, 2),
    "WORKDAY": (2,),
    "NETWORKDAYS": (2,),
    "NPV": tuple(range(1, 60)),
    "INDEX": (0,),
    "OFFSET": (0,),
}

# The result is an array.
ARRAY = _names(
    """
    ANCHORARRAY FILTER FREQUENCY LINEST MMULT SEQUENCE SORT SORTBY TRANSPOSE UNIQUE
    """
)

# Functions of functions, and variables.
VARIABLES = frozenset({"LET", "LAMBDA", "MAP", "REDUCE"})

NATIVE = EACH | WHOLE | set(SOME) | ARRAY | VARIABLES

# What is taken whole may be a computed array here, not only a range of cells.
TAKES_COMPUTED = ARRAY | _names(
    """
    AND AVERAGE COLUMNS CORREL COUNTA FORECAST.LINEAR INDEX INTERCEPT LARGE MATCH MAX MEDIAN MIN
    OR PERCENTILE.INC REDUCE MAP ROWS RSQ SLOPE SMALL STDEV.P STDEV.S SUM SUMPRODUCT SUMSQ VAR.P
    VAR.S XMATCH XOR
    """
)

# Here a TRUE or FALSE in a computed array would be counted, which a spreadsheet does not.
COUNTS_LOGICALS = frozenset({"AVERAGE", "MEDIAN"})

# Functions whose arguments the spreadsheet evaluates as arrays even in a plain formula.
ARRAY_ARGUMENTS = (
    ARRAY
    | VARIABLES
    | _names("CORREL FORECAST.LINEAR INDEX INTERCEPT LOOKUP RSQ SLOPE SUMPRODUCT XLOOKUP XMATCH")
)

# Functions that pass over the cells of an area that are not in use, however large it is.
PASSES_OVER_UNUSED = _names(
    """
    AVERAGEIF AVERAGEIFS COLUMNS COUNTIF COUNTIFS INDEX MATCH OFFSET PRODUCT ROWS SUM SUMIF SUMIFS
    SUMSQ VLOOKUP
    """
)

# Functions that answer with text.
TEXTUAL = _names(
    """
    ADDRESS CHAR CONCAT CONCATENATE LEFT LOWER MID PROPER REPLACE REPT RIGHT SUBSTITUTE T TEXT
    TRIM UPPER
    """
)

# Functions that turn these arguments into text.
TAKES_TEXT: dict[str, tuple[int, ...]] = {
    **dict.fromkeys(_names("LEFT RIGHT MID LEN UPPER LOWER PROPER TRIM REPT"), (0,)),
    "REPLACE": (0, 3),
    "SUBSTITUTE": (0, 1, 2),
    "FIND": (0, 1),
    "SEARCH": (0, 1),
    "EXACT": (0, 1),
    "CONCATENATE": tuple(range(255)),
    "CONCAT": tuple(range(255)),
}

# Functions of dates; with the 1904 date system the engine would be wrong.
DATES = _names(
    """
    DATE DATEVALUE DAY DAYS EDATE EOMONTH HOUR ISOWEEKNUM MINUTE MONTH NETWORKDAYS SECOND TEXT
    TIME TODAY WEEKDAY WEEKNUM WORKDAY YEAR YEARFRAC
    """
)

_NUMBER_FORMAT = re.compile(r'(?:#,##0|0+)(?:\.0+)?%?(?:"[^"]*"| )?\Z')
_DECIMALS = re.compile(r"(?:#,##0|0+)(?:\.(0+))?(%?)")
_DATE_FORMAT = re.compile(r"(?:yyyy|yy|mmmm|mmm|mm|m|dddd|ddd|dd|d|hh|h|ss|[-/ .,:])+\Z", re.I)


def decimals_shown(text: str) -> int | None:
    """The decimal places to which TEXT rounds with a number format; None with another format."""
    shown = _DECIMALS.match(text) if _NUMBER_FORMAT.match(text) else None
    return len(shown[1] or "") + 2 * len(shown[2]) if shown else None


def is_tested_format(text: str) -> bool:
    """Whether TEXT was tested with this class of number formats."""
    return bool(_NUMBER_FORMAT.match(text) or _DATE_FORMAT.match(text)) or text == "@"
