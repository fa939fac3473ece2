"""The leak and dew point log: where every vessel stands, and how it came there."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.formulas import to_band
from gasfuncs.workbooks.sheets.leak_tests import RISE
from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Row,
    Series,
    Table,
    helper,
    made,
    words,
)
from gasfuncs.workbooks.sheets.standard import version_of

MOST = 60
"""Vessels."""
KEPT = 12
"""Tests of a vessel that its trend is told from, the last ones."""
WORST = 8
"""Vessels on the chart of Start."""
CONFIDENCE = "0.98"
"""Of a trend: one steady vessel in a hundred is said to grow."""


def _typed(formula: str) -> str:
    return f'IF({{Vessel}}="","",{formula})'


def _tested(formula: str) -> str:
    """Blank where no test of the vessel tells anything."""
    return f'IF(N({{Tests}})=0,"",{formula})'


def _by_way(formula: str) -> str:
    """A formula on the record that the vessel's tests are in; `@` is the record."""
    return f'IF({{By}}="{RISE}",{formula.replace("@", "Rises")},{formula.replace("@", "Decays")})'


def _last(column: str) -> str:
    return _tested(_by_way(f"INDEX({{@.{column}}},{{Last row}})"))


STATE = Table(
    "State",
    (
        made("Vessel", "text", 'IFERROR(INDEX({Vessels.Vessel},SMALL({Vessels.New},{row})),"")'),
        helper("Version", _typed(version_of("Vessels", "{Vessel}", "Report_day"))),
        helper("By", _typed("INDEX({Vessels.Tested by},{Version})"), "text"),
        helper("Every", _typed("INDEX({Vessels.Test every},{Version})")),
        made(
            "Tests",
            "count",
            _typed(_by_way('COUNTIFS({@.Vessel},{Vessel},{@.At},">0")')),
        ),
        helper("Last row", _tested(_by_way('MATCH({Vessel}&"|"&{Tests},{@.Key},0)'))),
        made("Last test", "date", _last("Date")),
        made("Leak", "leak", _last("Leak")),
        made("Low", "leak", _last("Low")),
        made("High", "leak", _last("High")),
        made("Limit", "leak", _last("Limit")),
        made("Of limit", "share", _tested("100*{Leak}/{Limit}")),
        helper("At most", _tested("100*{High}/{Limit}"), "share"),
        made("Verdict", "text", _typed('IF({Tests}=0,"no test",' + _last("Verdict") + ")")),
        helper(
            "Unreadable",
            _typed(_by_way("MAXIFS({@.Again},{@.Vessel},{Vessel})")),
        ),
        helper("Last at", _typed(_by_way("MAXIFS({@.At},{@.Vessel},{Vessel})"))),
        helper("Due", _tested("{Last test}+{Every}")),
        helper("Trend", "IFERROR(INDEX({Series.Trend},{row}),0)"),
        helper("Signal", 'IFERROR(INDEX({Series.Signal},{row})&"","")', "text"),
        words(
            "Course",
            Case("N({Tests})=0", ""),
            Case("{Trend}=1", "grows"),
            Case('{Signal}="above"', "higher than it was"),
            Case("{Tests}<3", "too few tests"),
            Case("", "steady"),
            width=18,
        ),
        made(
            "May reach limit",
            "date",
            'IF({Grows}=1,INDEX({Series.Earliest},{row}),"")',
        ),
        words(
            "At once",
            Case('{Vessel}=""', ""),
            Case("{Tests}=0", "test it"),
            Case('{Verdict}="leaks"', "find the leak"),
            Case("{Unreadable}>{Last at}", "repeat the test"),
            Case('{Verdict}="cannot tell"', "test longer or finer"),
            Case("", ""),
            helper=True,
        ),
        words(
            "To do",
            Case('{Vessel}=""', ""),
            Case('{At once}<>""', "{At once}"),
            Case("{Next test}<Report_day", "test is overdue"),
            Case("{Grows}=1", "look at the seals"),
            Case("", "test when due"),
            width=20,
        ),
        made(
            "Next test",
            "date",
            _typed(
                'IF(OR({Tests}=0,{Verdict}="leaks",{Unreadable}>{Last at}),Report_day,'
                "IF({Grows}=1,MIN({Due},MAX({Last test}+1,{May reach limit})),{Due}))"
            ),
        ),
        helper("Flow", _typed("N(INDEX({Vessels.Purge flow},{Version}))"), "flow"),
        made(
            "Leak adds",
            "ppm",
            'IF(N({Flow})*N({Tests})=0,"",'
            'GAS_LEAK_IMPURITY(MAX(0,{Leak})&" "&{unit leak},{Flow as Nm3/h}))',
        ),
        helper("Grows", _typed('IF(AND({Course}="grows",{Verdict}<>"leaks"),1,0)')),
        helper("Late", _typed("IF(AND({Tests}>0,{Next test}<Report_day),1,0)")),
        helper("Order", _tested("{At most}-{row}/1000000")),
    ),
    heading="Every vessel and line by its last test that tells something, however old",
    rows=MOST,
)


def _kept(number: int) -> tuple[str, str]:
    row = f'MATCH({{Vessel}}&"|"&({{Tests}}-{KEPT - number}),{{@.Key}},0)'
    return f"Row {number}", f'IFERROR({_by_way(row)},"")'


def _of_kept(number: int, column: str) -> str:
    value = _by_way(f"INDEX({{@.{column}}},{{Row {number}}})")
    return f'IF({{Row {number}}}="","",{value})'


ROWS = tuple(_kept(number) for number in range(1, KEPT + 1))
TREND = f"GAS_TREND({{Day 1:Day {KEPT}}},{{Share 1:Share {KEPT}}},100,{CONFIDENCE})"
CHART_CALL = f'GAS_CONTROL_CHART({{Share 1:Share {KEPT}}},"ewma")'

SERIES = Table(
    "Series",
    (
        made("Vessel", "text", "INDEX({State.Vessel},{row})"),
        made("By", "text", "INDEX({State.By},{row})"),
        made("Tests", "count", "N(INDEX({State.Tests},{row}))"),
        *(made(name, "count", formula) for name, formula in ROWS),
        *(made(f"Day {number}", "date", _of_kept(number, "Date")) for number in range(1, KEPT + 1)),
        *(
            made(f"Share {number}", "share", _of_kept(number, "Of limit"))
            for number in range(1, KEPT + 1)
        ),
        made("Slope", "number", f'IF({{Tests}}<3,"",INDEX({TREND},2,2))'),
        made("Note", "text", f'IF({{Tests}}<3,"",INDEX({TREND},5,3))'),
        made("Earliest", "date", f'IF({{Tests}}<3,"",INDEX({TREND},6,2))'),
        made(
            "Trend",
            "count",
            'IF(ISNUMBER({Slope}),IF(AND({Slope}>0,LEFT({Note},7)="a trend",'
            "ISNUMBER({Earliest})),1,0),0)",
        ),
        made("Signal", "text", f'IF({{Tests}}<5,"",INDEX({CHART_CALL},{KEPT + 1},6))'),
    ),
    heading=f"The last {KEPT} tests of each vessel, in % of the limit that each was judged by",
    rows=MOST,
)


def _counted(criterion: str, column: str = "To do") -> str:
    return f"COUNTIF({{State.{column}}},{criterion})"


def _first(criterion: str, column: str = "To do") -> str:
    """The first vessel in a state; "" where there is none."""
    return f'IFERROR(INDEX({{State.Vessel}},MATCH({criterion},{{State.{column}}},0)),"")'


def _of_first(name: str, column: str) -> str:
    return f'IFERROR(INDEX({{State.{column}}},MATCH({{{name}}},{{State.Vessel}},0)),"")'


WORST_OF = Table(
    "Worst",
    (
        helper("Row", "MATCH(LARGE({State.Order},{row}),{State.Order},0)"),
        made("Vessel", "text", 'IFERROR(INDEX({State.Vessel},{Row}),"")'),
        made("Leak", "share", "IFERROR(INDEX({State.Of limit},{Row}),NA())"),
        made("No more than", "share", "IFERROR(INDEX({State.At most},{Row}),NA())"),
        made("Limit", "share", 'IF({Vessel}="",NA(),100)'),
    ),
    heading=f"The {WORST} vessels that may be nearest to their limits",
    rows=WORST,
)


def told(name: str) -> tuple[Row, ...]:
    """A leak, the ends of its band and its limit, to the digits that the band allows."""
    band = f"({{{name}_high}}-{{{name}_low}})/2"
    return tuple(
        Row(f"{name}_{what}", f"{label}, as it is told", to_band(f"{{{name}_{value}}}", band))
        for what, value, label in (
            ("told", "leak", "the leak"),
            ("least", "low", "at least"),
            ("most", "high", "at most"),
            ("allowed", "limit", "the limit"),
        )
    )


COUNTS = Block(
    "Counts",
    (
        Row("Vessel_count", "Vessels and lines", 'COUNTIF({State.Vessel},"?*")', "count"),
        Row("Over", "that leak more than they may", _counted('"leaks"', "Verdict"), "count"),
        Row("Over_first", "the first of them", _first('"leaks"', "Verdict")),
        Row("Over_leak", "its leak", _of_first("Over_first", "Leak"), "leak"),
        Row("Over_low", "at least", _of_first("Over_first", "Low"), "leak"),
        Row("Over_high", "at most", _of_first("Over_first", "High"), "leak"),
        Row("Over_limit", "its limit", _of_first("Over_first", "Limit"), "leak"),
        *told("Over"),
        Row("Unsure", "whose test cannot tell", _counted('"cannot tell"', "Verdict"), "count"),
        Row("Unsure_first", "the first of them", _first('"cannot tell"', "Verdict")),
        Row("Repeats", "whose last test is to be repeated", _counted('"repeat the test"'), "count"),
        Row("Repeat_first", "the first of them", _first('"repeat the test"')),
        Row("Growing", "that get worse, not yet over it", "SUM({State.Grows})", "count"),
        Row("Growing_first", "the first of them", _first("1", "Grows")),
        Row("Growing_share", "its leak", _of_first("Growing_first", "Of limit"), "share"),
        Row(
            "Growing_reaches",
            "it may reach its limit",
            _of_first("Growing_first", "May reach limit"),
            "date",
        ),
        Row("Higher", "higher than they were", _counted('"higher*"', "Course"), "count"),
        Row("Overdue", "whose test is overdue", "SUM({State.Late})", "count"),
        Row("Overdue_first", "the first of them", _first("1", "Late")),
        Row("Overdue_since", "its last test", _of_first("Overdue_first", "Last test"), "date"),
        Row("Untested", "without a test", _counted('"no test"', "Verdict"), "count"),
        Row("Tight", "that are tight", _counted('"tight"', "Verdict"), "count"),
        Row(
            "Next_day",
            "The next test is due",
            'IF(COUNT({State.Next test})=0,"",MIN({State.Next test}))',
            "date",
        ),
        Row(
            "Next_first",
            "of",
            'IFERROR(INDEX({State.Vessel},MATCH({Next_day},{State.Next test},0)),"")',
        ),
        Row(
            "Highest",
            "Highest share of a limit",
            'IF(COUNT({State.Of limit})=0,"",MAX({State.Of limit}))',
            "share",
        ),
        Row(
            "Highest_at",
            "of the vessel in row",
            'IFERROR(MATCH({Highest},{State.Of limit},0),"")',
            "count",
        ),
        Row(
            "Highest_band",
            "its 95 % band, half width",
            "50*(INDEX({State.High},{Highest_at})-INDEX({State.Low},{Highest_at}))"
            "/INDEX({State.Limit},{Highest_at})",
            "share",
        ),
        Row("Places_now", "Places with a dew point", "SUM({Dews.Last})", "count"),
        Row(
            "Wet",
            "of them wetter than they may be",
            'COUNTIFS({Dews.Last},1,{Dews.Verdict},"wet")',
            "count",
        ),
        Row(
            "Wet_first", "the last of them", 'IFERROR(INDEX({Dews.Place},MATCH(1,{Dews.Wet},0)),"")'
        ),
        Row(
            "Dew_unsure",
            "where the meter cannot tell",
            'COUNTIFS({Dews.Last},1,{Dews.Verdict},"cannot tell")',
            "count",
        ),
    ),
)

STATE_CHART = Chart(
    "column",
    "Leak as a share of its limit, %",
    "Vessel or line",
    "%",
    "The vessels that may be nearest to their limits: the leak by the last test, the most that it "
    "may be at 95 %, and the limit as a line at 100 %.",
    (
        Series("Leak", "Worst.Leak", "Worst.Vessel"),
        Series("at most (95 %)", "Worst.No more than", "Worst.Vessel", kind="line", joined=False),
        Series("Limit", "Worst.Limit", "Worst.Vessel", limit=True),
    ),
    y={"num_format": "0", "min": 0},
    x={"num_font": {"rotation": -45, "size": 8}},
)

SHOWN_ROW = "MATCH({Shown_vessel},{Series.Vessel},0)"


def _shown(what: str) -> str:
    return f"INDEX({{Series.{what} 1:{what} {KEPT}}},{SHOWN_ROW},{{row}})"


SHOWN_CALL = 'GAS_CONTROL_CHART({Shown.Share},"individuals")'


def _lined(column: int) -> str:
    """A line of the control chart, a gap where there are too few tests."""
    return f"IF(COUNT({{Shown.Share}})<5,NA(),INDEX({SHOWN_CALL},{{row}}+1,{column}))"


SHOWN = Table(
    "Shown",
    (
        made("Day", "date", f'IFERROR({_shown("Day")},"")'),
        helper("Share", f'IFERROR({_shown("Share")},"")', "share"),
        made("Leak", "share", 'IF({Share}="",NA(),{Share})'),
        made("Mean", "share", 'IF({Share}="",NA(),' + _lined(3) + ")"),
        made("Usual up to", "share", 'IF({Share}="",NA(),' + _lined(5) + ")"),
        made("Limit", "share", 'IF({Share}="",NA(),100)'),
        words(
            "Signal",
            Case('{Share}=""', ""),
            Case("COUNT({Shown.Share})<5", "too few tests"),
            Case("", "{Control}"),
        ),
        helper(
            "Control", 'IF(COUNT({Shown.Share})<5,"",' + f"INDEX({SHOWN_CALL},{{row}}+1,6))", "text"
        ),
    ),
    heading="The last tests of the vessel that is chosen on Inputs, in % of its limit",
    rows=KEPT,
)

SHOWN_CHART = Chart(
    "line",
    "Leak over time, % of the limit",
    "Test",
    "% of the limit",
    "Leak of the chosen vessel by its last tests, with the mean and the upper line of its control "
    "chart and its limit: above the upper line something has changed.",
    (
        Series("Leak", "Shown.Leak", "Shown.Day"),
        Series("Mean", "Shown.Mean", "Shown.Day", joined=True),
        Series("Usual up to", "Shown.Usual up to", "Shown.Day"),
        Series("Limit", "Shown.Limit", "Shown.Day", limit=True),
    ),
    y={"num_format": "0", "min": 0},
    x={"num_format": "d mmm yy", "text_axis": True},
)
