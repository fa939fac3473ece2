"""Ranges, tables and texts of a kind of their own in carried books, right and wrong ones."""

from __future__ import annotations

import re
from pathlib import Path

import xlsxwriter

from gasfuncs.hosts.carried import carry
from tests.carried.engines import by_names, computed
from tests.carried.proof import agree, apart, library
from tests.carried.test_carried import written
from tests.carried.texts import tolerances


def test_tolerances(tmp_path: Path) -> None:
    """Those with a name, degrees of freedom or several errors are refused, no other is."""
    formulas = list(tolerances())
    answers = by_names(formulas, tmp_path)
    assert not apart(formulas, answers)
    more = re.compile(r"[;=]|(sensor|dial|gauge|reading|of)\"")
    for formula, answer in zip(formulas, answers, strict=True):
        if not agree(library(formula), answer):
            assert more.search(formula), formula


WHOLE = (
    'GAS_ZONE_CONTENTS("argon","2 bar(a)",{1.5,1},{900,200})',
    'GAS_ZONE_CONTENTS("argon",{1;2},{1.5;"100 L"},{900;"200 K"})',
    'GAS_ZONE_CONTENTS("argon",2,{1.5;1},{900;"x"})', 'GAS_ZONE_CONTENTS("argon",2,{1.5;1},900)',
    'GAS_ZONE_CONTENTS("argon",2,{1.5,1;2,3},{900,1;200,2})',
    'GAS_ZONE_CONTENTS("argon",2,{1.5;1},{900;""})', 'GAS_GAS_LOAD({1;2},{1;-1},{1;1})',
    "GAS_INDEXED_PRICE(100,0.4,{0.3;0.3},{100;90},{130;99})",
    "GAS_INDEXED_PRICE(100,0.4,{0.3;0.2},{100;90},{130;99})",
)  # fmt: skip


FILL = '"backfill","0.01 mbar","0.8 bar(a)",20,"","",1'
CYCLES = (
    FILL, f'"kind","from","to","temperature","rate","duration","repeats";{FILL}',
    f'"","","","","","","";{FILL};"","","","","","",""', f'{FILL};"flow","","","","9 Nm3/h",1,""',
    '"Kind","from"', '"","",""', '"flow","","","x","10 Nm3/h","1 h",1', '"flow","","","","",1',
    '"flow","","","","10 Nm3/h","1 h",2.5', '"flow","",1,"","10 Nm3/h","1 h",1',
    '"flow",1,1,"","10 Nm3/h","1 h",1', '"hold","5 mbar","",20,"800 m3/h","90 min",1,"topped up"',
    '"hold","5 mbar","5 mbar",20,"800 m3/h","90 min"', '"hold","5 mbar","",20,"800 m3/h",1,1,0',
    '"hold","","",20,"800 m3/h","90 min"', '"backfill",2,1,20', '"backfill",1,2,20,"10 Nm3/h"',
    '"backfill",1,2,20,0,0,1', '"backfill",1,2', '"backfill",1,2,"","","","","x"', '"BACKFILL",1,2',
    '"soak",1,2', '"",1,2', '"backfill",1,2,20,"","",1,"","more"', '"backfill"',
    '"backfill",1,2;"backfill",1,"y"', '"backfill",1,2,"","","","","one shot"',
)  # fmt: skip
"""Steps as people write them, and as nobody should."""


STEPS = (
    CYCLES[1], CYCLES[2], CYCLES[-1], f'{FILL};"hold","5 mbar","",20,"800 m3/h","90 min",3;{FILL}',
    '"flow","","","","10 Nm3/h",0', '"backfill",1,2;"backfill",1,"y"', '"soak",1,2',
)  # fmt: skip


TABLES = (
    *(f'GAS_POINT_OF_USE(1,10,{{"hose","0.003 mbar L/s",1;"leak",0.001,0.2095}}{more})'
      for more in ("", ",8", ',8,"water"', ',8,"ice","argon"', ',"x"')),
    'GAS_VENT_FILL_TABLE("nitrogen",2,1,3,"10 ppm","20 ppm")',
    'GAS_VENT_FILL_TABLE("nitrogen",2,1,3,"20.9 %","20 ppm",2,0.8)',
    'GAS_VENT_FILL_TABLE("nitrogen",2,0,3,"20.9 %","20 ppm",,,150,0.01)',
    'GAS_VENT_FILL_TABLE("nitrogen",{1;2},1,3,"20.9 %","2 ppm")',
    'GAS_POINT_OF_USE(1,10,{"",1;5,2})', 'GAS_POINT_OF_USE(1,10,{"a","x"})',
    'GAS_POINT_OF_USE(1,10,{"a",1,"x"})', 'GAS_POINT_OF_USE(1,10,{"","";"b",0.1})',
    'GAS_POINT_OF_USE(1,10,{"a"})', 'GAS_POINT_OF_USE(1,10,{"a",1,0,0})',
    'GAS_POINT_OF_USE(1,10,{"",""})', 'GAS_POINT_OF_USE(0,10,{"a",0})',
    *(f'GAS_ODH_CLASS({{1E-4;1E-3}},{more})' for more in (
      '{"12 %";"18 %"}', '{"12 %";"18 %"},{2;""}', '{"9 %";"18 %"},{2;3},0.84', '"12 %"',
      '{"12 %";"x"}', '{"12 %";"18 %"},2', '{"12 %";"18 %"},{2;2.5}', '{"12 %","18 %";1,2}')),
)  # fmt: skip
"""Tables with a row for each of their ranges', and ranges that make none."""


MONTHS = '{"2026-03-01";"";"2026-01-15";46063},{30;"";10;20},2'
SHUFFLED = '{"from","to","price";50,100,1;"","","";20,50,1.5;100,"",0.5}'
EXTRAS = '{"surcharge","share","","","";"a","10 %","","","";2,"",3,4,5}'
TWO = "{46023.75;46054},{1;2},2"
COSTS = (
    f"{MONTHS},{SHUFFLED}", f'{MONTHS},{SHUFFLED},"whole",5,7,100,{EXTRAS},15,"month"',
    f'{MONTHS},{SHUFFLED},,5,7,100,{EXTRAS},200,"quarter",,{{1.5;"";1;1.2}}',
    f'{MONTHS},{{20,50,1.5;50,60,1}},"whole",,,,,,"quarter"',
    f'{MONTHS},{{20,50,1.5;50,60,1}},,,,,,61,"quarter"', f'{MONTHS},{{20,50,1.5;50,55,1}}',
    f'{TWO},{{"from","to","price"}},"whole"', f'{TWO},,,,,,{{"","","","","",""}}',
    f'{TWO},,,,,,{{"",0.1}}', f'{TWO},,,,,,{{1.5,0.1}}', f'{TWO},,,,,,{{"x","","3 EUR"}}',
    f'{TWO},,,,,,{{"x","",3}}', f"{TWO},{{-1,2,3}}", f'{TWO},,"all"', f"{TWO},,,3,0",
    f'{TWO},,,,,,,,,,{{"";"";""}}', f'{TWO},,,,,,,,,,{{"";1}}', f"{TWO},,,,,,,,,,{{1;1;1}}",
    *(f'{{"{day}";"2026-02-01"}},{{1;2}},2' for day in (
      "2026-03-32", "2026-13-01", "2026-3-1", "March", "1776-03-01", "20260X01", "2026-0,-01")),
    '{"";""},{"";""},2', '"","",2', '{-5;46054},{1;2},2', "{46023,46054;46082,46113},{1;2},2",
    '{46023;46054;46082},{0.1;0.2;0},1,{0.3,"",0.5},"whole",,,,,,"quarter"',
)  # fmt: skip
"""Contracts with rows in any order, gaps, and what cannot be."""


GAPS = '{"";49.6;47.6;"";49.9;51.3;47.8;51.2;52.6;52.4;53.6;52.1;""}'
CHARTS = (
    f'{GAPS},"ewma"', f'{GAPS},"cusum"', f'{GAPS},"ewma",6,,,0.5,2,"yes"',
    f'{GAPS},"cusum",,50,,0.5,2,"yes"', f'{GAPS},,,50,2,,,"yes"', "1,,,2,1", "{1;2;3;4},,,2",
    '{1;-2;3;4;5;6},,,,,,,"yes"', '{1;2;3;4;5;6},,,-3,,,,"yes"', "{1;2;3;4;5;6},,7",
    "{1;2;3;4;5;6},,5.5", "{1;1;1;1;1;6},,5", "{1;1;1;1;1;6},,5,,1", '{"";""}', '""',
    "{1,2;3,4}", '{1;2;3;4;5;6},"bar"', '{1;2;3;4;5;6},"ewma",,,,0', '{1;2;3;4;5;6},,,"x"',
)  # fmt: skip
"""Charts of readings with blanks between them, and of what has none."""


TIMES = "{46000;46100;46200}"
TRENDS = (
    '{46000;"";46100;46200},{1;"";2;4},10', '{46000;"";46100;46200},{1;3;2;4},10',
    '{46000;46050;46100;46200},{1;"";2;4},10', f"{TIMES},{{5;5;5}},10", f"{TIMES},{{1;2;3}},10",
    "{46000;46000;46000},{1;2;3},10", f"{TIMES},{{1;2}},10", f"{TIMES},{{1;2;2.5}},10,1",
    f'{TIMES},{{3E-9;1E-9;2E-9}},2E-9,"90 %"', f'{TIMES},{{1;-2;2.5}},"x"',
    f"{TIMES},{{54321;123456;234567}},2E5,0.5", f"{TIMES},{{9.9996;19.9991;29.999}},50",
)  # fmt: skip
"""Trends with gaps, proved and not, of small and large numbers."""

SEVERAL = '{"a",1000,2,0,2000.004;"b",990,2.1,5,2100;"c",1000,3,0,2990;1,3,3.3,1,5}'
TICKETED = '{"a",46000,1000;"b",46000,1000;"c",46000,1000;1,46000,2}'
ONE = '{"a",1000,2,0,2000}'
DAY = '{"2026-01-05",2,1}'
INVOICES = (
    '{"ticket","quantity","price","surcharges","billed","factor";"a ",1000,2,0,2000,"";"A",1000,2,'
    '0,2000,"";"","","","","","";"b",1000,2.2,0,2200,""},{"a",46000,1000;"b",46001,1000},'
    "{40000,2,1;46010,2,1.1}", f'{ONE},{{"a",46000,1000}},{{40000,2,1;40000,3,1;40000,4,1}}',
    f'{ONE},{{"b",46000,1000;"c",46000,100}},{{47000,2,1;46000,3,1}}',
    *(f'{SEVERAL},{TICKETED},{{45000,2,1.5,1,"5 %",7}},{each}' for each in (0.001, 100, -1)),
    f'{{"ticket","quantity","price","surcharges","billed"}},{TICKETED},{DAY}',
    f'"",{TICKETED},{DAY}',
    f'{ONE},{{"a","2026-01-05",1000}},{DAY}', f'{ONE},{{"a","5 Jan",1000}},{DAY}',
    f'{ONE},{{"a",46000,1000;"a",46000,1000}},{DAY}', f"{ONE},{{1.5,46000,1000}},{DAY}",
    f'{{"a",1000,0,0,2000}},{TICKETED},{{"2025-01-05",0,1;46000,5,2}}',
    f'{{"a",1000,10.000001,0,2000}},{TICKETED},{{"2025-01-05",0,1;46000,5,2}}',
)  # fmt: skip
"""Invoices with names in capitals, tickets that are not billed, and versions on one day."""


STOCK = "46083,14200,1150,9258,60"
ORDERS = (
    *(f'{STOCK},"{each}"' for each in (
      "Tue, Thu", "every  day", "Fri-Mon", "MON;wed - fri", "monday.–thu", "su", "daily", "M",
      "Mon-", ",", "Mon,", "Mon--Fri", "tuesdays", "Mon Fri", "|mon")),
    f'{STOCK},5', f'{STOCK},"Mon-Fri","Mon-Fri",{{"";46087;"2026-03-09"}},3',
    f'{STOCK},"Thu","Mon-Sat",46086,2,18000,20000', f'{STOCK},,,{{46083;"x"}}',
    '"2026-02-30",9000,1150,9258', '"",9000,1150,9258', '46083,9000,1150,9258,60,"Sat"',
)  # fmt: skip
"""Days to order on, with weeks as people write them, and as nobody should."""


def test_contracts_and_charts(tmp_path: Path) -> None:
    formulas = [f"GAS_CONTRACT_COST({each})" for each in COSTS]
    formulas += [f"GAS_CONTROL_CHART({each})" for each in CHARTS]
    formulas += [f"GAS_REORDER_DATE({each})" for each in ORDERS]
    formulas += [f"GAS_TREND({each})" for each in TRENDS]
    formulas += [f"GAS_INVOICE_CHECK({each})" for each in INVOICES]
    assert not apart(formulas, by_names(formulas, tmp_path))


def test_ranges_that_are_taken_whole(tmp_path: Path) -> None:
    steps = (f'GAS_CYCLE_STEPS("argon",2.5,{{{each}}})' for each in STEPS)
    formulas = [*WHOLE, *TABLES, *(f'GAS_CYCLE("argon",2.5,{{{each}}})' for each in CYCLES), *steps]
    assert not apart(formulas, by_names(formulas, tmp_path))


def test_a_range_of_cells_with_a_blank(tmp_path: Path) -> None:
    def cells(file: xlsxwriter.Workbook) -> None:
        sheet = file.get_worksheet_by_name("Calls")
        sheet.write_column("B1", [1.5, "100 L", ""])
        sheet.write_column("C1", [900, 200])

    full = tmp_path / "full.xlsx"
    for rows, told in ((2, '{1.5;"100 L"},{900;200}'), (3, '{1.5;"100 L";""},{900;200;""}')):
        formula = f'GAS_ZONE_CONTENTS("argon",2,B1:B{rows},C1:C{rows})'
        carry(written(tmp_path / "book.xlsx", formula, cells), full)
        own = library(f'GAS_ZONE_CONTENTS("argon",2,{told})')
        assert agree(own, computed(full)("Calls", 1, 1))
