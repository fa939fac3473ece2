"""Edge-case calls of native functions, to hold the engine against LibreOffice.

DATA are the cells of one sheet; `calls()` gives the calls by function, to be written into a column
beside them. `stored(text)` gives a formula as it stands in a file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import product
from typing import Any

# A numbers with a blank in A4; B texts; C of every kind; D dates; E, F, G in order; Z blank.
DATA: dict[str, Any] = {
    "A1": 3, "A2": -2.5, "A3": 7, "A5": 0.125, "B1": "argon", "B2": "12", "B3": "Nitro gen",
    "B5": " x ", "C1": 5, "C2": "t", "C3": True, "C5": "7", "D1": 45000, "D2": 45351.75,
    "D3": 44562, "D4": 60, "E1": 10, "E2": 20, "E3": 30, "E4": 40, "F1": "a", "F2": "b", "F3": "c",
    "F4": "d", "G1": 1.5, "G2": 2.5, "G3": 4, "G4": 3,
}  # fmt: skip

_NUMBERS = ["A1", "A2", "A4", "B1", "B2", "C3", "0", "1", "-1", "2.5", "1000", '"3"', "TRUE", '""',
            "NA()", "65", "255", "10"]  # fmt: skip
_FEW = ["A1", "A2", "A4", "B2", "C3", "0.5", "100", "-7", "8", "2"]
_DATES = ["D1", "D2", "D3", "D4", "A4", "A1", "DATE(2024,2,29)", "DATE(2023,12,31)",
          "DATE(1900,3,1)", "DATE(2100,2,28)", '"2024-05-06"', "D1+0.99999"]  # fmt: skip
_RANGES = ["A1:A5", "A1:A3", "C1:C5", "B1:B5", "D1:D3", "A1:C5", "Z1:Z5", "A4:A4"]
_TEXTS = ["B1", "B3", "B5", "A1", "A2", "A4", "C3", '""', '"abc"', '"AbC dEf"', "1/3", '"a b  c"',
          "123456789012", "0.1+0.2", "1E20", "TRUE"]  # fmt: skip
_CRITERIA = ['">2"', '"<>2"', '"=2"', "2", '"a*"', '"<>argon"', '"argon"', '"<>"', '""', '"="',
             '"t"', "TRUE", '"TRUE"', "A4", '">=0"', '"?"', '"*"', '"<>t"', '"7"', "7", '"<t"',
             '">"&A1', '"<>TRUE"']  # fmt: skip
_ROUNDED = ["A1", "A2", "A4", "1.005", "2.675", "-2.5", "1234.5678", "0.5", "1E15+0.3", '"3.7"',
            "-0.05", "2.5", "1.15", "5.055", "1.45"]  # fmt: skip
_NUMBER_FORMATS = ["0", "0.0", "0.00", "#,##0", "#,##0.00", "0%", "0.0%", "0.00%", "00", "000.0",
                   "@", "0.000"]  # fmt: skip
_DATE_FORMATS = ["yyyy-mm-dd", "dd/mm/yyyy", "d mmm yyyy", "mmmm yyyy", "yy-m-d", "dddd", "ddd d",
                 "hh:mm", "h:mm", "hh:mm:ss", "yyyy-mm-dd hh:mm", "mm", "d.m.yyyy", "mmm", "m/d/yy",
                 "h", "ss", "mm:ss", "m", "ddd, d mmm", "hh.mm"]  # fmt: skip


def _words(text: str) -> list[str]:
    return text.split()


def _filled(pattern: str, *lists: Iterable[str]) -> list[str]:
    """The pattern with every combination of the lists' members."""
    return [pattern.format(*members) for members in product(*lists)]


def _each(names: str, pattern: str, *lists: Iterable[str]) -> Iterator[tuple[str, list[str]]]:
    for name in names.split():
        yield name, _filled(f"{name}({pattern})", *lists)


def _one_value() -> Iterator[tuple[str, list[str]]]:
    yield from _each(
        "ABS INT SIGN SQRT EXP LN LOG10 EVEN ODD FACT SIN COS TAN ASIN ACOS ATAN SINH COSH TANH "
        "ASINH ATANH ACOSH DEGREES RADIANS NOT ISBLANK ISERR ISERROR ISEVEN ISODD ISLOGICAL ISNA "
        "ISNONTEXT ISNUMBER ISTEXT TRUNC CHAR ERROR.TYPE",
        "{}", _NUMBERS,
    )  # fmt: skip
    yield from _each(
        "LEN UPPER LOWER PROPER TRIM VALUE CODE T N TYPE CLEAN", "{}", [*_NUMBERS, *_TEXTS]
    )
    yield from _each("ROUND ROUNDUP ROUNDDOWN", "{},{}", _ROUNDED, _words("0 1 2 -1 -2 3 A4"))
    yield from _each(
        "MOD MROUND CEILING FLOOR QUOTIENT CEILING.MATH FLOOR.MATH", "{},{}",
        ["A1", "A2", "A4", "7.5", "-7.5", "0.3", "1", "10", "-10", "2.5"],
        ["0.1", "2", "-2", "0", "3", "A4", "0.05", "10"],
    )  # fmt: skip
    yield from _each("POWER ATAN2 LOG", "{},{}", _FEW, _words("2 0 0.5 -1 10 A4 3"))
    yield from _each("COMBIN", "{},{}", ["5", "5.9", "0", "-1", "100"], ["0", "2", "5", "6", "2.9"])


def _many_values() -> Iterator[tuple[str, list[str]]]:
    lists = (
        ["A1", "A4", "B2", "C3", "2", '"5"', "TRUE", "A1:A5", "C1:C5"],
        ["3", "A4", "C3", '"x"', "FALSE", "B1:B5"],
    )
    for name in _words(
        "SUM AVERAGE COUNT COUNTA MAX MIN MEDIAN PRODUCT SUMSQ STDEV STDEV.P STDEV.S STDEVP VAR "
        "VAR.P VAR.S VARP AND OR XOR CONCAT"
    ):
        yield name, _filled(f"{name}({{}})", _RANGES) + _filled(f"{name}({{}},{{}})", *lists)
    yield from _each("COUNTBLANK ROWS COLUMNS", "{}", _RANGES)
    yield from _each("CONCATENATE", "{},{}", lists[0][:-2], lists[1][:-1])
    yield from _each("LARGE SMALL", "{},{}", _RANGES, _words("1 2 3 4 0 1.5"))
    yield from _each("PERCENTILE PERCENTILE.INC", "{},{}", _RANGES, _words("0 0.5 0.33 1 1.1 -0.1"))
    yield from _each("QUARTILE QUARTILE.INC", "{},{}", _RANGES, _words("0 1 2 3 4 5 1.7"))
    yield from _each(
        "RANK RANK.EQ", "{},{}{}", ["A1", "A2", "A4", "3", "99"], ["A1:A5", "E1:E4", "C1:C5"],
        ["", ",0", ",1"],
    )  # fmt: skip
    yield from _each("SUBTOTAL", "{},{}", _words("1 2 3 4 5 6 9 101 102 103 104 105 109"), _RANGES)
    yield from _each(
        "AGGREGATE", "{},{},{}", _words("1 2 3 4 5 6 7 8 9 12"), _words("0 2 4 6"), _RANGES
    )
    yield from _each(
        "AGGREGATE", "{},{},{},{}", ["14", "15", "16"], ["4", "6"], _RANGES, ["1", "0.5"]
    )


def _criteria() -> Iterator[tuple[str, list[str]]]:
    pairs = [("A1:A5", "A1:A5"), ("B1:B5", "A1:A5"), ("C1:C5", "E1:E5"), ("F1:F4", "G1:G4"),
             ("Z1:Z5", "E1:E5")]  # fmt: skip
    for name in ("SUMIF", "AVERAGEIF"):
        yield name, [f"{name}({r},{c},{s})" for r, s in pairs for c in _CRITERIA]
    ranges = ["A1:A5", "B1:B5", "C1:C5", "F1:F4", "Z1:Z5", "D1:D4"]
    yield from _each("COUNTIF", "{},{}", ranges, _CRITERIA)
    for name in _words("SUMIFS AVERAGEIFS MINIFS MAXIFS"):
        chosen = [("A1:A5", "E1:E5"), ("B1:B5", "A1:A5"), ("C1:C5", "E1:E5")]
        yield name, [f"{name}({s},{r},{c})" for r, s in chosen for c in _CRITERIA]
    yield from _each("COUNTIFS", '{},{},A1:A5,"<>99"', ["A1:A5", "B1:B5", "C1:C5"], _CRITERIA)


def _lookups() -> Iterator[tuple[str, list[str]]]:
    yield from _each(
        "MATCH", "{},{},{}",
        ["A1", "20", "25", "5", "99", '"b"', '"B"', '"bb"', '"a*"', "A4", "TRUE", '""', '"?"'],
        ["E1:E4", "F1:F4", "E1:E9", "A1:A5", "C1:C5", "F1:F9"], ["0", "1"],
    )  # fmt: skip
    yield from _each(
        "XMATCH", "{},{},{}", ["20", "25", "5", "99", '"b"', '"bb"', '"a*"', "A4"],
        ["E1:E4", "F1:F4", "E1:E9", "A1:A5"], ["0", "-1", "1", "2"],
    )  # fmt: skip
    yield from _each(
        "VLOOKUP", "{},{},{},{}", ["20", "25", "5", "99", '"b"', "A4"],
        ["E1:G4", "E1:G9", "F1:G4"], ["1", "2", "3", "4", "0"], ["TRUE", "FALSE"],
    )  # fmt: skip
    pairs = ["E1:E4,G1:G4", "E1:E9,G1:G9", "F1:F4,G1:G4", "A1:A5,F1:F5"]
    yield from _each(
        "XLOOKUP", "{},{}{}", ["20", "25", "5", "99", "A4", '"b"', '"B"', '"x*"'], pairs,
        ["", ',"nf"', ",,-1", ",,1", ',"nf",2', ',"nf",0,-1', ',"nf",-1,-1', ',"nf",0,2'],
    )  # fmt: skip
    yield from _each(
        "LOOKUP", "{},{}", ["20", "25", "5", "99", '"b"', "A4"],
        ["E1:E4", "E1:E4,G1:G4", "E1:E9", "E1:E9,G1:G9", "F1:F4,G1:G4"],
    )  # fmt: skip
    places = ["1", "4", "2,2", "1,1", "9", "1.9", "2,9", "-1"]
    calls = _filled("INDEX({},{})", ["A1:A5", "E1:G1"], places)
    yield "INDEX", calls + _filled("INDEX(E1:G4,{})", [p for p in places if "," in p])
    yield "OFFSET", [
        "SUM(OFFSET(A1,1,0,3,1))", "OFFSET(A1,2,0)", "SUM(OFFSET(A1:A2,1,0))", "OFFSET(A1,-1,0)",
        "SUM(OFFSET(A3,0,0,-2,1))", "SUM(OFFSET(A1,0,0,0,1))", "AVERAGE(OFFSET(E1,0,0,A1,1))",
        "OFFSET(A1,1.9,0)", "COUNT(OFFSET(E1,0,0,4))",
    ]  # fmt: skip
    yield "INDIRECT", [
        'INDIRECT("A1")', 'INDIRECT("A"&A1)', 'SUM(INDIRECT("A1:A"&3))', 'INDIRECT("")',
        'SUM(INDIRECT("E1"):E4)', 'ROWS(INDIRECT("A1:A5"))', 'INDIRECT("nothing here")',
        'INDIRECT(ADDRESS(1,5))', 'INDIRECT("S!E2")',
    ]  # fmt: skip


def _text_calls() -> Iterator[tuple[str, list[str]]]:
    yield from _each("LEFT RIGHT", "{}{}", _TEXTS, ["", ",0", ",2", ",99", ",-1", ",A4"])
    spans = ["1,2", "0,2", "3,0", "2,99", "99,1", "1,-1", "1.9,2"]
    yield from _each("MID", "{},{}", _TEXTS, spans)
    yield from _each(
        "FIND SEARCH", "{},{}{}", ['"a"', '"A"', '""', '"?"', '"b*"', '"zz"', "1", '"~?"'],
        ["B1", '"AbC dEf"', "A1", '""', '"a?b"', "123"], ["", ",2", ",0", ",99"],
    )  # fmt: skip
    yield from _each(
        "SUBSTITUTE", "{},{},{}{}", ["B1", '"aaa"', "A1", '""', '"AbC"', "121"],
        ['"a"', '""', '"A"', "1", '"aa"'], ['"z"', '""', "9"], ["", ",1", ",2", ",9"],
    )  # fmt: skip
    yield from _each(
        "REPLACE", '{},{},{},"#"', ["B1", "A1", '""'], _words("1 3 99 0"), _words("0 2 99 -1")
    )
    yield from _each("REPT", "{},{}", ['"ab"', "A1", '""', "B1"], _words("0 3 2.9 -1 A4"))
    yield from _each("EXACT", "{},{}", _TEXTS, ["B1", '"ABC"', "A1", '""', '"abc"'])
    numbers = ["A1", "A2", "A4", "0.5", "-0.5", "1234567.891", "0.125", "99.995", "1E-7", "1E15",
               "TRUE", "B1", "B2", '""', "0.995", "-0.004", "2.5", "1.5", "1234.5"]  # fmt: skip
    dates = ["D1", "D2", "D3", "45000.5", "45000.99999", "45000.0104", "0.75", "45000.524305",
             "1.5", "A4", "60", "61"]  # fmt: skip
    yield (
        "TEXT",
        _filled('TEXT({},"{}")', numbers, _NUMBER_FORMATS)
        + _filled('TEXT({},"{}")', dates, _DATE_FORMATS),
    )
    yield from _each("FIXED", "{}{}", numbers, ["", ",0", ",3", ",-2", ",1,TRUE", ",12", ",128"])
    yield from _each(
        "TEXTJOIN", "{},{},{}", ['","', '""', "A1"], ["TRUE", "FALSE", "0"],
        ["B1:B5", "C1:C5", "A1:A5", 'A4,"x"', "A1,B1:B3", "Z1:Z3", "1/3,0.1+0.2", "TRUE,A4,5"],
    )  # fmt: skip
    yield from _each(
        "NUMBERVALUE", '"{}","{}","{}"',
        ["1.234,5", "1,234.5", "12", "", "3 5", "4%", "x", "-7,5", "1.2.3"], [",", "."], [".", ","],
    )  # fmt: skip


def _date_calls() -> Iterator[tuple[str, list[str]]]:
    some = [*_DATES, "45000.999999", "0.5", "45000.0104166", "-1", "2958465", "2958466"]
    yield from _each("YEAR MONTH DAY HOUR MINUTE SECOND ISOWEEKNUM", "{}", some)
    yield from _each("WEEKDAY", "{}{}", _DATES, ["", ",1", ",2", ",3", ",11", ",17", ",4", ",0"])
    yield from _each("WEEKNUM", "{}{}", _DATES, ["", ",1", ",2", ",21", ",11", ",16", ",3"])
    yield from _each(
        "DATE", "{},{},{}", _words("2024 24 1899 1900 9999 10000 2024.9 0 -1"),
        _words("1 13 0 -3 2 25.5"), _words("1 0 31 -5 400"),
    )  # fmt: skip
    yield from _each("EDATE EOMONTH", "{},{}", _DATES, _words("0 1 -1 12 1.9 -1.9 -2000"))
    yield from _each("DAYS", "{},{}", _DATES, _DATES[:7])
    yield from _each("YEARFRAC", "{},{},{}", _DATES[:9], _DATES[:9], _words("0 1 2 3 4"))
    units = ["D", "M", "Y", "YM"]
    late = [_DATES[place] for place in (0, 1, 2, 6, 7, 9)]
    yield from _each("DATEDIF", '{},{},"{}"', late, late, units)
    yield from _each("NETWORKDAYS", "{},{}{}", _DATES[:8], _DATES[:8], ["", ",D1:D3"])
    yield from _each("WORKDAY", "{},{}", _DATES[:9], _words("0 1 -1 5 -7 1.9 100"))
    yield from _each("WORKDAY", "{},{},D1:D3", late, _words("0 1 -1 5 -7 100"))
    texts = ["2024-05-06", "2024-5-6", "05/06/2024", "6 May 2024", "2024/05/06", "2024-02-30",
             "May 2024", "12:30", "2024-05-06 12:30", "06.05.2024", "1 May", "24-05-06",
             "2024-05-06T12:30", "12:30 PM", "1,5", "1.5.2", "argon", "-3", "4 %"]  # fmt: skip
    yield from _each("DATEVALUE TIMEVALUE VALUE", '"{}"', texts)
    yield from _each(
        "TIME", "{},{},{}", _words("0 12 25 -1 23.9"), _words("0 70 -5 59.9"),
        _words("0 61 -1 3661"),
    )  # fmt: skip


def _logic() -> Iterator[tuple[str, list[str]]]:
    conditions = ["A1", "A4", "0", "TRUE", "B1", '"TRUE"', "NA()", "C3"]
    branches = ["1,2", ",2", "A4,2", '"x","y"']
    calls = _filled("IF({},{})", conditions, branches) + _filled("IF({},5)", ["TRUE", "FALSE", "0"])
    yield "IF", [*calls, "IF(TRUE,)", "IF(FALSE,1,)", "SUM(IF(A1=3,A1:A5,E1:E5))",
                 "SUM(IF(A1=4,A1:A5,E1:E5))", "SUM(CHOOSE(2,A1:A5,E1:E5))"]  # fmt: skip
    yield "IFS", ["IFS(FALSE,1,TRUE,2)", "IFS(FALSE,1)", "IFS(0,1,A1,3)", "IFS(B1,1,TRUE,2)",
                  "IFS(NA(),1,TRUE,2)", 'IFS("x"=B1,1,TRUE,A4)']  # fmt: skip
    yield "SWITCH", [
        'SWITCH(A1,3,"a","b")', 'SWITCH(A4,0,"zero","none")', 'SWITCH("ARGON",B1,1,2)',
        "SWITCH(9,1,1)", 'SWITCH(TRUE,A1>2,"y","n")', "SWITCH(NA(),1,1,2)",
        'SWITCH(A4,"","e","n")',
    ]  # fmt: skip
    yield from _each("CHOOSE", '{},"p",2,A4', _words('1 2 3 4 0 1.9 TRUE "2" A4'))
    yield from _each(
        "IFERROR IFNA", "{},{}", ["1/0", "NA()", "A4", "B1", "SQRT(-1)", '"x"+1', "1"],
        ["9", "A4", '""', ""],
    )  # fmt: skip
    operands = ["A1", "A4", "B1", "B2", "C3", '"5"', "2", "TRUE", '""']
    others = ["A1", "A4", "B1", "B2", "C3", '"a"', "0", "FALSE"]
    yield "operators", _filled("{1}{0}{2}", _words("+ - * / ^ & = < > <= >= <>"), operands, others)
    yield "last digits", ["0.1+0.2=0.3", "0.1+0.2-0.3", "1.1-1=0.1", "0.3>0.1*3", "1E15+1=1E15",
                          "0.1+0.2>0.3", "INT(0.3/0.1)", "1-0.9-0.1", "4.35*100=435",
                          "TRUNC(4.35*100)", "10^15+0.5=10^15"]  # fmt: skip
    yield "LET", ["LET(x,A1,y,x+1,x*y)", "LET(x,A4,x)", "LET(a,1,b,LET(a,2,a+1),a+b)"]


def _other() -> Iterator[tuple[str, list[str]]]:
    yield from _each(
        "ADDRESS", "{}{}", ["1,1", "10,27", "3,703", "0,1", "1,16385"],
        ["", ",2", ",3", ",4", ",1,FALSE", ',1,TRUE,"S h"'],
    )  # fmt: skip
    yield "finance", ["NPV(0.1,A1:A5)", "NPV(0.1,A1,A4,A3)", "NPV(0,E1:E4)", "NPV(-1,E1:E4)",
                      "PMT(0.01,12,1000)", "PMT(0,12,1000)", "PMT(0.01,12,1000,50,1)",
                      "PMT(0.01,0,100)"]  # fmt: skip
    yield "distributions", [
        "NORM.DIST(1,0,1,TRUE)", "NORM.DIST(1,0,1,FALSE)", "NORM.DIST(1,0,0,TRUE)",
        "NORM.INV(0.9,10,2)", "NORM.INV(0,0,1)", "NORM.S.DIST(-3,TRUE)", "NORM.S.DIST(-3,FALSE)",
        "NORM.S.INV(0.999999)", "NORMSDIST(1.5)", "NORMSINV(0.1)", "POISSON.DIST(3,2.5,TRUE)",
        "POISSON.DIST(0,0,TRUE)", "POISSON.DIST(-1,2,TRUE)", "POISSON.DIST(3.9,2.5,FALSE)",
        "NORMDIST(1,2,3,TRUE)", "NORMINV(0.3,1,2)", "POISSON(2,3,FALSE)",
    ]  # fmt: skip
    calls = [f"{f}(G1:G4,E1:E4)" for f in _words("SLOPE INTERCEPT CORREL RSQ PEARSON")]
    yield "regression", [
        *calls, "SLOPE(A1:A5,E1:E5)", "CORREL(C1:C5,E1:E5)", "SLOPE(G1:G4,Z1:Z4)",
        "FORECAST(25,G1:G4,E1:E4)", "FORECAST.LINEAR(25,G1:G4,E1:E4)", "CORREL(G1:G1,E1:E1)",
        "INTERCEPT(A1:A5,E1:E5)", "RSQ(C1:C5,A1:A5)", "TREND(G1:G4,E1:E4,25)", "TREND(G1:G4)",
        "TREND(G1:G4,E1:E4,25,FALSE)", "INDEX(LINEST(G1:G4,E1:E4),2)", "SUM(TREND(G1:G4,E1:E4))",
        "INDEX(LINEST(G1:G4,E1:E4,FALSE),1)",
    ]  # fmt: skip
    yield "SUMPRODUCT", [
        "SUMPRODUCT(A1:A5,E1:E5)", "SUMPRODUCT(C1:C5,E1:E5)", "SUMPRODUCT(A1:A5,B1:B5)",
        "SUMPRODUCT(--(A1:A5>0),E1:E5)", 'SUMPRODUCT((B1:B5="argon")*E1:E5)',
        "SUMPRODUCT((C1:C5=TRUE)*1)", "SUMPRODUCT(A1:A5)", 'SUMPRODUCT((A1:A5="")*1)',
        "SUMPRODUCT(C1:C5*1)", 'SUMPRODUCT((A1:A5<>"")/COUNTIF(A1:A5,A1:A5&""))',
        "SUMPRODUCT(A1:A5,E1:E4)", "SUMPRODUCT((MONTH(D1:D3)=2)*1)", "SUMPRODUCT(LEN(B1:B5))",
        "SUMPRODUCT(ISNUMBER(A1:A5)*1)",
    ]  # fmt: skip
    yield "other", [
        'HYPERLINK("http://x","t")', 'HYPERLINK("http://x")', 'HYPERLINK("http://x",A1)', "ROW()",
        "COLUMN()", "ROW(A5)", "COLUMN(C1)", "ROWS(A1:C5)", "COLUMNS(A1:C5)", "PI()",
        "TODAY()-TODAY()", "NOW()>TODAY()", "RAND()<1", "RANDBETWEEN(3,3)", "ISREF(A1)",
        "ISREF(1)", 'INT(NOW())=TODAY()', "SUM(SUBTOTAL(9,A1:A3),A5)",
    ]  # fmt: skip
    yield "found in other people's books", [
        "INDEX(FREQUENCY(E1:E4,C1:C2),1)", "INDEX(FREQUENCY(A1:A5,A1:A3),1)", "PMT(-3,5,100,300)",
        "INDEX(FREQUENCY(A1:A5,A1:A3),3)", "INDEX(FREQUENCY(A1:A5,A1:A3),4)", "PMT(-1,1,-100)",
        "INDEX(LINEST(G1:G4,E1:E4,,TRUE),3,2)", "INDEX(TREND(G1:G4,E1:E4,25,),1)",
        "INDEX(LINEST(A1:A5,E1:E5),1)", 'SEARCH("~d","My dear")', "INDEX(SEQUENCE(,3),1,2)",
        "CEILING.MATH(0.1,0.0999999999999996)", "FLOOR.MATH(2.9,0.1)", "CEILING(0.3,0.1)",
        "CEILING.MATH(2.8,0.0999999999999996)", 'HYPERLINK("http://x",Z1)', "QUARTILE(E1:E4,-0.1)",
        'ROW(INDIRECT("XFE:XFE"))', 'COUNTIF(A1:A5,"<>7")', 'TEXT("x","0.0;-0.0;0;@!")',
        'TEXT("0:59:99","0.00")', 'TEXT(45000,"ddddd")', 'VALUE(" 2024-01-10 ")',
        "OFFSET(A1,1,0,0.9)", "EDATE(A4,1)", "INDEX(SORTBY(E1:G1,{3,1,2}),1,1)",
        "XMATCH(20,E1:E4,3)", "EVEN(10*60*-10*-1.35*-15.1*5)", "ODD(1.1-0.1)",
    ]  # fmt: skip
    units = _words(
        "g kg m km mm mi Nmi in ft yd yr day hr mn sec Pa kPa MPa N kN J kJ Wh W kW l ml m3 ft3 "
        "in3 gal qt pt m2 ft2 in2 yd2 ha C F K psi"
    )
    yield from _each("CONVERT", '2.5,"{}","{}"', units, units)


def calls() -> dict[str, list[str]]:
    """The calls by function or kind."""
    found: dict[str, list[str]] = {}
    for part in (
        _one_value, _many_values, _criteria, _lookups, _text_calls, _date_calls, _logic, _other,
    ):  # fmt: skip
        for name, formulas in part():
            found.setdefault(name, []).extend(formulas)
    return found


_PREFIXED = frozenset(
    _words(
        "STDEV.P STDEV.S VAR.P VAR.S PERCENTILE.INC QUARTILE.INC RANK.EQ NORM.DIST NORM.INV "
        "NORM.S.DIST NORM.S.INV POISSON.DIST XOR CONCAT MINIFS MAXIFS XMATCH XLOOKUP ISOWEEKNUM "
        "DAYS AGGREGATE IFS SWITCH IFNA SEQUENCE SORTBY TEXTJOIN FORECAST.LINEAR LET NUMBERVALUE "
        "CEILING.MATH FLOOR.MATH"
    )
)


def stored(formula: str) -> str:
    """The formula as the file format has it."""
    text = re.sub(
        r"(?<![\w.])([A-Z][A-Z.]*[A-Z])\(",
        lambda match: ("_xlfn." if match[1] in _PREFIXED else "") + match[1] + "(",
        formula,
    )
    if "_xlfn.LET(" in text:
        text = re.sub(r"(?<![\w.])([xyab])(?![\w(])", r"_xlpm.\1", text)
    return text
