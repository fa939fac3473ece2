"""Puts the module of Visual Basic into a book of LibreOffice and has cells call its functions.

    python3 basic.py SOFFICE PROFILE_URL cells MODULE FORMULAS PYTHON ROOT

Runs in the system's Python, which has `uno`. What Excel brings (XLPy, Application, ThisWorkbook) is
stood in for in Basic; XLPy hands each call to a process of the library, as xlwings would.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "calc"))

import unohelper  # type: ignore[import-not-found]
from com.sun.star.beans import PropertyValue  # type: ignore[import-not-found]
from com.sun.star.task import XJob  # type: ignore[import-not-found]
from session import Office, main, shown  # type: ignore[import-not-found]

STUBS = """\
Option VBASupport 1
Global Door

Sub SetDoor(it)
    Door = it
End Sub

Function XLPy
    Set XLPy = New Server
End Function

Function ThisWorkbook
    ThisWorkbook = "this workbook"
End Function
"""

SERVER = """\
Option VBASupport 1
Option ClassModule

Function CallUDF(served, name, arguments, book, caller)
    Dim told(), place
    ReDim told(UBound(arguments))
    For place = 0 To UBound(arguments)
        told(place) = Told1(arguments(place))
    Next
    Dim given(0) As New com.sun.star.beans.NamedValue
    given(0).Name = name
    given(0).Value = told
    CallUDF = Cells(Door.execute(given()))
    If IsEmpty(CallUDF) Then Err.Raise 13
End Function

Private Function Told1(Optional argument)
    If IsMissing(argument) Then
        Told1 = "missing"
    ElseIf IsObject(argument) Then
        Told1 = Array("range", argument.Value)
    Else
        Told1 = Array("value", argument)
    End If
End Function

Private Function Cells(rows)
    Dim row, column, table()
    If Not IsArray(rows) Then
        Cells = rows
        Exit Function
    End If
    ReDim table(UBound(rows), UBound(rows(0)))
    For row = 0 To UBound(rows)
        For column = 0 To UBound(rows(row))
            table(row, column) = rows(row)(column)
        Next
    Next
    Cells = table
End Function
"""


class Door(unohelper.Base, XJob):  # type: ignore[misc]
    """Hands calls out of Basic to the library's process."""

    def __init__(self, python: str, root: str) -> None:
        self.calls = 0
        self.process = subprocess.Popen(
            [python, "-m", "tests.excel.served"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=root,
        )  # fmt: skip

    def execute(self, given: Any) -> Any:
        self.calls += 1
        asked = {"name": given[0].Name, "arguments": [_told(each) for each in given[0].Value]}
        while asked["arguments"] and asked["arguments"][-1] is None:
            asked["arguments"].pop()
        assert self.process.stdin
        assert self.process.stdout
        self.process.stdin.write(json.dumps(asked) + "\n")
        self.process.stdin.flush()
        answer = json.loads(self.process.stdout.readline())
        return tuple(map(tuple, answer)) if isinstance(answer, list) else answer

    def close(self) -> None:
        assert self.process.stdin
        self.process.stdin.close()
        self.process.wait(60)


def _told(each: Any) -> Any:
    if each == "missing":
        return None
    kind, value = each
    if kind == "range":
        rows = value if isinstance(value, tuple) else ((value,),)
        return {"range": [list(row) if isinstance(row, tuple) else [row] for row in rows]}
    return [list(row) for row in value] if isinstance(value, tuple) else value


def cells(office: Office, module: str, formulas: str, python: str, root: str) -> dict[str, Any]:
    """What cells show that call the functions."""
    hidden, macros = PropertyValue(), PropertyValue()
    hidden.Name, hidden.Value = "Hidden", True
    macros.Name, macros.Value = "MacroExecutionMode", 4
    book = office.desktop.loadComponentFromURL(
        "private:factory/scalc", "_blank", 0, (hidden, macros)
    )
    libraries = book.BasicLibraries
    libraries.VBACompatibilityMode = True
    standard = libraries.getByName("Standard")
    text = Path(module).read_text(encoding="ascii")
    lines = [line for line in text.splitlines() if not line.startswith("Attribute ")]
    standard.insertByName("Server", SERVER)
    standard.insertByName("Stubs", STUBS)
    standard.insertByName("GasFuncs", "\n".join(["Option VBASupport 1", *lines]))
    door = Door(python, root)
    provider = book.getScriptProvider()
    script = "vnd.sun.star.script:Standard.Stubs.SetDoor?language=Basic&location=document"
    provider.getScript(script).invoke((door,), (), ())
    sheet = book.Sheets.getByIndex(0)
    found = {}
    for row, formula in enumerate(json.loads(Path(formulas).read_text())):
        cell = sheet.getCellByPosition(9, row)
        if formula.startswith("{"):
            area = sheet.getCellRangeByPosition(9, row, 12, row + 1)
            area.setArrayFormula(formula[1:-1])
        else:
            cell.setFormula(formula)
        found[formula] = shown(cell) if cell.getError() or cell.getString() else ""
        if not cell.getError() and cell.FormulaResultType2 == 1:
            found[formula] = cell.getValue()
    door.close()
    book.close(True)
    return {"cells": found, "calls": door.calls}


if __name__ == "__main__":
    main({"cells": cells})
