"""The purge book: the purge that is shown, to be printed and signed, and those before it."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Row,
    Sentence,
    Series,
    Table,
    helper,
    made,
)
from gasfuncs.workbooks.sheets.standard import nth_last

CYCLES = 16
"""Cycles on a certificate."""
KEPT = 12
"""Purges in the list of the last ones."""


def _of_shown(name: str, label: str, column: str, kind: str = "text", note: str = "") -> Row:
    return Row(name, label, f"INDEX({{Purges.{column}}},Shown_row)", kind, note)


def _or_blank(name: str, label: str, column: str, kind: str = "text") -> Row:
    cell = f"INDEX({{Purges.{column}}},Shown_row)"
    return Row(name, label, f'IF({cell}="","",{cell})', kind)


SHOWN_PURGE = Block(
    "The purge",
    (
        _of_shown("Shown_number", "Purge", "Purge"),
        _of_shown("Shown_vessel", "Vessel", "Vessel"),
        _of_shown("Shown_day", "Date", "Date", "date"),
        Row(
            "Shown_gas",
            "Gas",
            "INDEX({Vessels.Gas},INDEX({Purges.Vessel row},Shown_row))",
        ),
        _of_shown("Shown_wanted", "Oxygen wanted at most", "Wanted", "ppm"),
        _or_blank("Shown_supply", "Oxygen in the supply", "Supply", "ppm"),
        _of_shown("Shown_analyser", "Analyser", "Analyser"),
        Row(
            "Shown_tolerance",
            "its tolerance",
            "INDEX({Purges.Tolerance},Shown_row)",
        ),
        _or_blank("Shown_reading", "Reading after the last cycle, ppm", "Reading"),
        _or_blank("Shown_by", "Read by", "Read by"),
        _of_shown("Shown_oxygen", "Oxygen", "Oxygen", "ppm"),
        _of_shown("Shown_least", "at least (95 % band of the analyser)", "At least", "ppm"),
        _of_shown("Shown_most", "at most", "At most", "ppm"),
        _of_shown("Shown_cycles", "Cycles logged", "Cycles", "count"),
        _of_shown("Shown_gauges", "Oxygen by the gauges, likely mixing", "By gauges", "ppm"),
        _of_shown("Shown_worst", "or up to, at the worst mixing", "or up to", "ppm"),
    ),
)


def _counted(state: str, name: str) -> tuple[Row, ...]:
    """The vessels whose last purge ended so, and the first of them."""
    at = f'MATCH("{state}",{{Purges.State}},0)'
    return (
        Row(
            name,
            f"Vessels whose last purge: {state}",
            f'COUNTIF({{Purges.State}},"{state}")',
            "count",
        ),
        *(
            Row(
                f"{name}_{what.lower()}",
                f"{what} of the first",
                f'IFERROR(INDEX({{Purges.{what}}},{at}),"")',
            )
            for what in ("Purge", "Vessel", "Reading", "Wanted")
        ),
    )


BEHIND_SHOWN = Block(
    "The purge that is shown, in the background",
    (
        Row(
            "Latest_row",
            "Row of the latest one that was read",
            'IF(COUNT({Purges.At})=0,"",MATCH(MAX({Purges.At}),{Purges.At},0))',
            "count",
        ),
        Row(
            "Shown_row",
            "Row of the one that is shown",
            'IF(Shown_purge="",Latest_row,MATCH(Shown_purge,{Purges.Purge},0))',
            "count",
        ),
        _of_shown("Shown_verdict", "Its verdict", "Verdict"),
        Row("Shown_loud", "in capitals", "UPPER(Shown_verdict)"),
        _of_shown("Shown_why", "why", "Why"),
        _of_shown("Shown_check", "its Check", "Check"),
        Row(
            "Shown_from",
            "started from",
            "INDEX({Vessels.From},INDEX({Purges.Vessel row},Shown_row))",
            "ppm",
        ),
        Row("Shown_remark", "its remark", 'INDEX({Purges.Remark},Shown_row)&""'),
        Row("Shown_half", "Half of its band", "Shown_most-Shown_oxygen", "ppm"),
        Row("Latest_oxygen", "Oxygen of the latest", "INDEX({Purges.Oxygen},Latest_row)", "ppm"),
        Row(
            "Latest_half",
            "its 95 % band, half width",
            "INDEX({Purges.At most},Latest_row)-Latest_oxygen",
            "ppm",
        ),
        Row("Latest_purge", "its number", "INDEX({Purges.Purge},Latest_row)"),
        Row("Latest_vessel", "its vessel", "INDEX({Purges.Vessel},Latest_row)"),
        Row("Latest_wanted", "wanted then", "INDEX({Purges.Wanted},Latest_row)", "ppm"),
        Row("Latest_reading", "read", 'INDEX({Purges.Reading},Latest_row)&""'),
        Row("Purges_read", "Purges read", "COUNT({Purges.At})", "count"),
        *_counted("failed", "Failed"),
        *_counted("repeat", "Repeated"),
        *_counted("cannot tell", "Unsure"),
        Row(
            "Out_of_date", "Analysers past their calibration", "SUM({Purges.Out of date})", "count"
        ),
    ),
)


def _of_last(column: str, kind: str) -> str:
    shown = f"INDEX({{Purges.{column}}},{{Row}})" + ('&""' if kind == "text" else "")
    return f'IF({{Row}}="","",IFERROR({shown},""))'


LAST = Table(
    "Last",
    (
        helper("Row", f'IFERROR({nth_last("Purges", "At", KEPT)},"")'),
        *(
            made(name, kind, _of_last(name, kind), width=width)
            for name, kind, width in (
                ("Date", "date", 12),
                ("Purge", "text", 16),
                ("Vessel", "text", 22),
                ("Wanted", "ppm", 11),
                ("Reading", "text", 11),
                ("At most", "ppm", 11),
                ("By gauges", "ppm", 11),
                ("Verdict", "text", 14),
                ("Remark", "text", 48),
            )
        ),
    ),
    heading="The last purges that were read, each by what was wanted on its day",
    rows=KEPT,
)


def _of_cycle(column: str) -> str:
    value = f"INDEX({{Swings.{column}}},{{Row}})"
    return f'IF({{Row}}="","",IF({value}="","",{value}))'


def _left(decades: str) -> str:
    share = f'10^-SUMIFS({{Swings.{decades}}},{{Swings.Shown at}},"<="&{{Cycle}})'
    left = f"N(Shown_supply)+(Shown_from-N(Shown_supply))*{share}"
    return f'IF({{Cycle}}="","",IFERROR({left},""))'


def _drawn(column: str) -> str:
    """A column for the chart: rows without a cycle repeat the last one."""
    last = f"INDEX({{Certified.{column}}},MAX(1,N(Shown_cycles)))"
    return f'IF({{Cycle}}="",{last},{{{column}}})'


CERTIFIED = Table(
    "Certified",
    (
        helper("Row", 'IFERROR(MATCH(SMALL({Swings.Shown at},{row}),{Swings.Shown at},0),"")'),
        made("Cycle", "count", _of_cycle("Cycle")),
        made("Vented to", "vacuum", _of_cycle("Low")),
        made("Filled to", "gauge", _of_cycle("High")),
        made("By gauges", "ppm", _left("Decades")),
        made("or up to", "ppm", _left("Worst decades")),
        made("Read", "ppm", _of_cycle("Reading")),
        made("Wanted", "ppm", 'IF({Cycle}="","",Shown_wanted)'),
        helper("At", _drawn("Cycle")),
        helper("Likely", _drawn("By gauges"), "ppm"),
        helper("Worst", _drawn("or up to"), "ppm"),
        helper("Limit", _drawn("Wanted"), "ppm"),
        helper("Read at", 'IF({Read}="",N(Shown_cycles),{Cycle})'),
        helper("Read then", 'IF({Read}="",IF(ISNUMBER(Shown_oxygen),Shown_oxygen,NA()),{Read})'),
    ),
    heading="Its cycles",
    rows=CYCLES,
)

CERTIFIED_CHART = Chart(
    "scatter",
    "Oxygen after each cycle, ppm",
    "Cycle",
    "Oxygen, ppm",
    "Oxygen read after the cycles of this purge, on a logarithmic axis, beside what its gauge "
    "readings explain at the likely and at the worst mixing, and what was wanted as a line.",
    (
        Series("Read", "Certified.Read then", "Certified.Read at", joined=False),
        Series("By gauges", "Certified.Likely", "Certified.At", dots=False),
        Series("or up to", "Certified.Worst", "Certified.At", dots=False),
        Series("Wanted", "Certified.Limit", "Certified.At", limit=True),
    ),
    x={"min": 0, "num_format": "0"},
    y={"log_base": 10, "crossing": "min", "num_format": "General"},
    rows=14,
)

CERTIFICATE_SENTENCES = (
    Sentence(
        "Certified_said",
        (
            Case("NOT(ISNUMBER(Shown_row))", "No purge is recorded yet: type it on Purges."),
            Case(
                'Shown_check<>"ok"',
                "{Shown_vessel}, purge {Shown_number}: not judged. {Shown_check}.",
            ),
            Case(
                'Shown_reading=""',
                "{Shown_vessel}, {Shown_gas}, purge {Shown_number} of {Shown_day:date}: not read "
                "yet.",
            ),
            Case(
                "",
                "{Shown_vessel}, {Shown_gas}, purge {Shown_number} of {Shown_day:date}: "
                "{Shown_loud}. {Shown_reading} ppm of oxygen read, {Shown_wanted} allowed; "
                "{Shown_why}.",
            ),
        ),
    ),
)
