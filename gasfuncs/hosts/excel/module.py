"""The functions as a module of Visual Basic, for a workbook to import (File, Import File).

Each function calls Python through xlwings' public entry. An error comes back as text, as xlwings
knows no other way, and becomes a real error value here: SUM, IFERROR and charts see it. The module
needs no trust in the Visual Basic project, as a person imports it.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from gasfuncs import __version__
from gasfuncs.definition import Definition
from gasfuncs.files import swapped_in
from gasfuncs.hosts.excel.arguments import arguments_of
from gasfuncs.hosts.excel.cells import ERRORS
from gasfuncs.registry import worksheet_functions

NAME = "GasFuncs"
FILE = f"{NAME}.bas"
SERVES = "gasfuncs.hosts.excel"

_LONGEST_LINE = 90

_HEAD = f"""\
Attribute VB_Name = "{NAME}"
' Worksheet functions of gasfuncs {__version__}, written by "gasfuncs install excel".
' They call Python through the xlwings add-in: tick xlwings under Tools, References.
' A cell that fails shows an error value, and GAS_CHECK tells why. Where Python itself cannot be
' called, the macro GasFuncsProblem tells why.

Private Problem

"""

_ANSWER = f"""\
Public Sub GasFuncsProblem()
    If IsEmpty(Problem) Then Problem = "No call of Python has failed."
    MsgBox Problem, , "{NAME}"
End Sub

Private Function Answered(name, arguments)
    Dim shown
    On Error GoTo Failed
    shown = XLPy.CallUDF("{SERVES}", name, arguments, ThisWorkbook, Application.Caller)
    If IsArray(shown) Then
        Answered = CellsOf(shown)
    Else
        Answered = CellOf(shown)
    End If
    Exit Function
Failed:
    Problem = Err.Description
    Answered = CVErr(2015)
End Function

Private Function CellsOf(shown)
    Dim row, column, width
    width = -1
    On Error Resume Next
    width = UBound(shown, 2)
    On Error GoTo 0
    For row = LBound(shown, 1) To UBound(shown, 1)
        If width < 0 Then
            shown(row) = CellOf(shown(row))
        Else
            For column = LBound(shown, 2) To width
                shown(row, column) = CellOf(shown(row, column))
            Next
        End If
    Next
    CellsOf = shown
End Function

Private Function CellOf(shown)
    CellOf = shown
    If VarType(shown) <> vbString Then Exit Function
    If Left(shown, 1) <> "#" Then Exit Function
    Select Case Split(shown & " ", " ")(0)
"""

_END = """\
    End Select
End Function
"""


def module() -> str:
    """The text of the module; lines end as Windows has them."""
    cases = (
        f'        Case "{code}": CellOf = CVErr({number})\n' for number, code in ERRORS.items()
    )
    functions = (line for each in worksheet_functions().values() for line in _function(each))
    text = _HEAD + "".join(functions) + _ANSWER + "".join(cases) + _END
    return text.replace("\n", "\r\n")


def write_module(folder: Path) -> Path:
    """Write the module into a folder; returns the file."""
    path = folder / FILE
    with swapped_in(path) as aside:
        aside.write_text(module(), encoding="ascii", newline="")
    return path


def _function(definition: Definition) -> Iterator[str]:
    names = [parameter.name for parameter, _ in arguments_of(definition)]
    declared = [
        parameter.name if parameter.default is parameter.empty else f"Optional {parameter.name}"
        for parameter, _ in arguments_of(definition)
    ]
    yield _wrapped(f"Public Function {definition.name}(", declared, ")")
    yield f'Attribute {definition.name}.VB_Description = "{_plain(definition.summary)}"\n'
    yield _wrapped(f'    {definition.name} = Answered("{definition.name}", Array(', names, "))")
    yield "End Function\n\n"


def _wrapped(head: str, words: list[str], tail: str) -> str:
    """A line of Visual Basic, continued where it grows long."""
    lines = [head]
    for place, word in enumerate(words, start=1):
        told = word + (tail if place == len(words) else ", ")
        if len(lines[-1]) + len(told) > _LONGEST_LINE:
            lines[-1] = f"{lines[-1].rstrip()} _"
            lines.append("        ")
        lines[-1] += told
    if not words:
        lines[-1] += tail
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    """Text in the letters that every code page has."""
    return text.replace("°", "deg ").encode("ascii", "replace").decode().replace('"', '""')
