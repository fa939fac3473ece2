"""Parts that every book has alike."""

from __future__ import annotations

from gasfuncs.properties import IN_BOOKS
from gasfuncs.workbooks.sheets.parts import Column, Group, Input, Row, helper

GASES = IN_BOOKS

NORMAL = "1.96"
"""Standard uncertainties in half a 95 % band."""
RECTANGULAR = "SQRT(3)"
"""Standard uncertainties in a tolerance within which any error is as likely."""

REPORT = Input("Report_day", "Day of the report", "date", "Today, or the day to look back from")

MOST_RISE = 500.0
"""mbar of a reading while the pressure rises: above half the air's a leak flows less and less."""

VACUUM_GAUGE = (
    Input(
        "Vacuum_share",
        "Vacuum gauge, of its reading",
        "share",
        "Its scale is this close; for example 5 for a heat-loss gauge in nitrogen or air",
        0,
        50,
    ),
    Input(
        "Vacuum_step",
        "Vacuum gauge, each reading",
        "fine_vacuum",
        "What its last digit and its scatter leave open, for example {0.0003 fine_vacuum}",
        0.0000001,
        10,
    ),
)

OUTGASSING = (
    Column(
        "Rate",
        "outgassing",
        'After one hour of pumping; printed ones: =GAS_SOURCE("GAS_GAS_LOAD")',
    ),
    Column("Exponent", "number", "How it falls: near 1 metal, near 0.5 rubber", high=3),
)


SITE = (
    Input(
        "Altitude",
        "Altitude of the site",
        "length",
        "Above sea level, for example {210 length}; gauge pressures are told from it",
        -400,
        5000,
    ),
    Row(
        "Site_bar",
        "Air pressure at the site, for the formulas",
        "IF(ISNUMBER({Altitude}),1*GAS_SITE_PRESSURE({Altitude as m}),NA())",
        "site",
        hidden=True,
    ),
    Row(
        "Site_air",
        "Air pressure at the site",
        "{Site_bar}",
        "absolute",
        "By the standard atmosphere; gauge readings are added to it",
        answers="bar(a)",
        number="air",
    ),
)


def about(*more: Input | Row) -> Group:
    """Whose numbers these are: plant, author, currency, site."""
    return Group(
        "This report",
        (
            Input("Plant", "Plant", "text", "The plant's name as it stands on the report"),
            Input(
                "Prepared_by",
                "Prepared by",
                "text",
                "Your name, for example J. Reed",
                required=False,
            ),
            *more,
            Input("Currency", "Currency", "text", "Shown beside every cost, for example EUR"),
            *SITE,
        ),
    )


def conforms(value: str, uncertainty: str, limit: str, side: str = "at most") -> str:
    """A formula that judges a value: "no" and "yes" are wrong in one of forty cases at most."""
    return f'GAS_CONFORMS({value},{uncertainty},{limit},"{side}",0.025)'


def valid_from(*key: str) -> tuple[Column, ...]:
    """The calculated columns of a master table whose rows are valid from a day, with VALID_FROM."""
    keys = '&", "&'.join(f"{{{each}}}" for each in key)
    return (
        helper("Since", "N({Valid from})"),
        helper("Key", keys, "text"),
        helper("Version", '{Key}&"|"&{Since}', "text"),
    )


def first_of_month(day: str) -> str:
    """A formula for the first day of a day's month, blank where no day is typed."""
    return f'IF(N({day})=0,"",DATE(YEAR({day}),MONTH({day}),1))'


VALID_FROM = Column(
    "Valid from",
    "date",
    "Blank for the first version. When something changes, add a row with the day of the change, "
    "such as 1 Oct 2026, and leave this one as it is: past months keep what they were judged by.",
    required=False,
)


def version_of(master: str, key: str, day: str) -> str:
    """A formula for the number of the master's row that was valid for a key on a day."""
    latest = f'MAXIFS({{{master}.Since}},{{{master}.Key}},{key},{{{master}.Since}},"<="&{day})'
    return f'MATCH({key}&"|"&{latest},{{{master}.Version}},0)'


BY_DATE = "ROUND({Date}+{row}/100000,7)"
"""What orders the rows of a log: day and time, then its row. A criterion ("<="&...) writes a number
with 15 digits; one that has more is not found again."""


def nth_new(table: str, column: str) -> str:
    """A formula for a row's number where it is the first with its word in a column, else ""."""
    first = f"MATCH({{{column}}},{{{table}.{column}}},0)"
    return f'IFERROR(IF({first}={{row}},{{row}},""),"")'


def nth_last(table: str, at: str, shown: int) -> str:
    """A formula for the row of a table that comes n-th among the last ones, oldest first.

    `at` is a column that orders the rows, a number where a row is to be shown.
    """
    column = f"{{{table}.{at}}}"
    return f"MATCH(SMALL({column},MAX(0,COUNT({column})-{shown})+{{row}}),{column},0)"
