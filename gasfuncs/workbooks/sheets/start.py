"""The Start sheet: verdict, chart, four numbers, next steps; one screen, one printed page."""

from __future__ import annotations

from math import ceil

from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.charts import insert_chart
from gasfuncs.workbooks.sheets.formulas import to_band
from gasfuncs.workbooks.sheets.kinds import kind_named
from gasfuncs.workbooks.sheets.layout import Cells, Plan
from gasfuncs.workbooks.sheets.paper import File, Paper
from gasfuncs.workbooks.sheets.parts import READ_HERE, Number
from gasfuncs.workbooks.sheets.words import SHOWN_STEPS, STEPS

WIDTHS = [2, *[9.4] * 6, 2, *[10.6] * 5, 2, 17, 17]
HEIGHTS = {0: 8, 1: 24, 2: 6, 3: 58, 4: 10, 5: 20}
LEFT, MIDDLE, RIGHT, SHEETS = 1, 8, 12, 14
"""The first column of the numbers, of the chart, the last that is printed, the first of links."""
ANSWER = (4, 4)
"""Row and column, from 1, of the sentence that answers."""
NUMBERS_TOP = 6
CHART_SIZE = (396, 228)
CAUTION = (
    "Argon and nitrogen asphyxiate without warning. Estimates to plan with; local codes and "
    "licensed practice decide. Cautions and sources: last sheet."
)


def start_sheet(file: File, plan: Plan, size: int, version: str) -> None:
    """Write the page to hand to a colleague."""
    paper = Paper(file, "Start", READ_HERE, WIDTHS, size)
    paper.ws.set_tab_color(look.HEAD)
    for row, height in HEIGHTS.items():
        paper.ws.set_row(row, height)
    _top(paper, plan, version)
    _verdict(paper, plan)
    _heading(paper, 5, LEFT, MIDDLE - 2, "In numbers")
    _heading(paper, 5, MIDDLE, RIGHT, plan.scope.fixed(plan.book.chart.title))
    for number, each in enumerate(plan.book.numbers):
        _number(paper, plan, each, NUMBERS_TOP + 2 * number)
    insert_chart(paper, plan, plan.book.chart, NUMBERS_TOP, MIDDLE, CHART_SIZE, titled=False)
    row = NUMBERS_TOP + 2 * len(plan.book.numbers) + 1
    paper.ws.set_row(row - 1, 84 - 17 * len(plan.book.numbers))
    _next(paper, row)
    _checks(paper, row)
    row += SHOWN_STEPS + 2
    target = "internal:'Sources'!A1"
    paper.merged(paper.at(row, LEFT, row, RIGHT), CAUTION, "foot")
    paper.ws.write_url(row, LEFT, target, file.style("foot"), CAUTION)
    _sheets(paper, plan)
    paper.ws.print_area(0, 0, row, RIGHT + 1)
    paper.ws.fit_to_pages(1, 1)
    paper.ws.center_horizontally()


def _top(paper: Paper, plan: Plan, version: str) -> None:
    title = f'="{plan.book.title}"&IF(Plant="","","  ·  "&Plant)'
    paper.merged(paper.at(1, LEFT, 1, MIDDLE - 1), title, "title")
    period = f'IF(Inputs_wrong>0,"",{plan.scope.text(plan.book.period)}&"  ·  ")'
    told = f'={period}&"gasfuncs {version}  ·  prepared by "&IF(Prepared_by="","____",'
    paper.merged(paper.at(1, MIDDLE, 1, RIGHT), f"{told}Prepared_by)", "top")


def _verdict(paper: Paper, plan: Plan) -> None:
    name = plan.book.verdict.name
    level = paper.at(3, LEFT, 3, LEFT + 1)
    paper.merged(level, f"=UPPER({name}_level)", "level")
    for word, colour in look.LEVELS.items():
        paper.when(level, f'{name}_level="{word}"', bg_color=colour)
    paper.merged(paper.at(3, LEFT + 2, 3, RIGHT), f"={name}", "verdict")


def _heading(paper: Paper, row: int, first: int, last: int, text: str) -> None:
    for at in range(first, last + 1):
        paper.write(row, at, text if at == first else None, "heading")


def _number(paper: Paper, plan: Plan, each: Number, row: int) -> None:
    """A number that is known to more digits than its band allows is told to those only."""
    kind = kind_named(each.kind)
    value, band = each.value, each.band
    paper.ws.set_row(row, 24)
    paper.ws.set_row(row + 1, 16)
    paper.merged(paper.at(row, LEFT, row, LEFT + 2), f"={_label(plan, each.label)}", "label")
    shown = to_band(value, band) if band else value
    number = each.number or kind.number
    known = f'=IF(ISNUMBER({value}),{shown},"-")' if kind.number != "text" else f'={value}&""'
    paper.merged(paper.at(row, LEFT + 3, row, LEFT + 4), known, "big", number)
    unit = '=Currency&""' if each.kind == "money" else kind.unit(plan.system)
    paper.write(row, LEFT + 5, unit, "small")
    if band:
        digits = f"MAX(1-INT(LOG10({band})),-15)"  # Calc takes no fewer
        told = f'=IF(ISNUMBER({band}),IF({band}>0,"± "&FIXED({band},{digits}),""),"")'
        _digits_of(paper, paper.at(row, LEFT + 3, row, LEFT + 4), band)
    else:
        told = None
    paper.merged(paper.at(row + 1, LEFT, row + 1, LEFT + 2), None, "ruled")
    paper.merged(paper.at(row + 1, LEFT + 3, row + 1, LEFT + 4), told, "band")
    paper.write(row + 1, LEFT + 5, None, "ruled")


def _label(plan: Plan, label: str) -> str:
    """An expression for a label; a name in it that is not there yet is three dots."""
    told = plan.scope.text(label)
    for name in plan.scope.texts(label):
        told = told.replace(name, f'IF({name}="","...",{name})')
    return told


def _digits_of(paper: Paper, cells: Cells, band: str) -> None:
    """Show a number with the digits that its band allows, zeros at the end too."""
    for digits, least in ((0, 10), (1, 1), (2, 0.1), (3, 0.01)):
        test = f"IF(ISNUMBER({band}),{band}>={least},FALSE)"
        paper.when(cells, test, num_format=f"#,##0.{'0' * digits}".rstrip("."))


def _next(paper: Paper, row: int) -> None:
    """The first steps that are due, each a link to its sheet."""
    _heading(paper, row, LEFT, MIDDLE - 2, "Next")
    for number in range(1, SHOWN_STEPS + 1):
        paper.ws.set_row(row + number, 20)
        at = f"MATCH({number},{STEPS}_due,0)"
        link = f'HYPERLINK("#\'"&INDEX({STEPS}_sheet,{at})&"\'!A1",INDEX({STEPS}_says,{at}))'
        cells = paper.at(row + number, LEFT, row + number, MIDDLE - 2)
        paper.merged(cells, f'=IFERROR({link},"")', "link")


def _sheets(paper: Paper, plan: Plan) -> None:
    """A link to every sheet, beside what is printed, in two columns."""
    _heading(paper, 5, SHEETS, SHEETS + 1, "Sheets")
    names = plan.sheet_names()
    high = ceil(len(names) / 2)
    for at, name in enumerate(names):
        paper.link(NUMBERS_TOP + at % high, SHEETS + at // high, name, name)


def _checks(paper: Paper, row: int) -> None:
    _heading(paper, row, MIDDLE, RIGHT, "Checks")
    told = (
        '=IF(Checks_wrong=0,"All checks are ok.",Checks_wrong&" of "&ROWS(Checks_results)'
        '&" checks ask for a look: see Checks.")'
    )
    paper.merged(paper.at(row + 1, MIDDLE, row + 1, RIGHT), told, "label")
