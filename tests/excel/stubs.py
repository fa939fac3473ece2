"""Stands in for what only Windows has, so that xlwings' own Windows modules run elsewhere.

Replaced are pywin32 and three names of ctypes; everything of xlwings is the installed code. It
changes the process for good, so it belongs into a process of its own.
"""

from __future__ import annotations

import ctypes
import datetime as dt
import importlib
import sys
from types import ModuleType, SimpleNamespace
from typing import Any
from unittest import mock

ROWS_OF_A_SHEET = 1_048_576

RANGE = "{00020846-0000-0000-C000-000000000046}"
"""Excel's interface Range, by which xlwings knows a reference."""


class ComError(Exception):
    """What Excel's refusals are in Python on Windows."""


class ComTime(dt.datetime):
    """A date as it comes out of Excel."""


def install() -> None:
    """Load xlwings as it is on Windows."""
    import xlwings

    _stand_in("pywintypes", com_error=ComError, error=ComError, TimeType=ComTime, IID=str)
    _stand_in(
        "pythoncom", __file__=None, CoInitialize=lambda: None, com_error=ComError,
        IID_IDispatch="dispatch", IID_IEnumVARIANT="enum", TypeIIDs={"dispatch": ComError},
    )  # fmt: skip
    for name in ("win32api", "win32con", "win32gui", "win32event"):
        _stand_in(name)
    _stand_in("win32process", GetWindowThreadProcessId=lambda _: (1, 1))
    _stand_in("win32timezone", TimeZoneInfo=SimpleNamespace(utc=lambda: dt.UTC))
    _stand_in("win32com")
    _stand_in(
        "win32com.client", CDispatch=type("CDispatch", (), {}), Dispatch=lambda it: it,
        CoClassBaseClass=type("CoClass", (), {}), DispatchBaseClass=type("Base", (), {}),
        DispatchEx=None,
    )  # fmt: skip
    _stand_in("win32com.server")
    _stand_in("win32com.server.util", unwrap=_not_wrapped, wrap=None)
    _stand_in("win32com.server.dispatcher")
    _stand_in("win32com.server.policy")

    silent = mock.MagicMock
    with (
        mock.patch.object(ctypes, "oledll", silent(), create=True),
        mock.patch.object(ctypes, "windll", silent(), create=True),
        mock.patch.object(ctypes, "PyDLL", silent()),
    ):
        windows = importlib.import_module("xlwings._xlwindows")
        udfs = importlib.import_module("xlwings.udfs")
        importlib.import_module("xlwings.com_server")
    # the rest is what xlwings does itself when it finds that it is on Windows
    xlwings.engines.add(xlwings.Engine(impl=windows.engine))
    xlwings.func, xlwings.arg, xlwings.ret = udfs.xlfunc, udfs.xlarg, udfs.xlret


def _stand_in(name: str, **names: Any) -> None:
    module = sys.modules[name] = ModuleType(name)
    vars(module).update(names)
    parent, _, own = name.rpartition(".")
    if parent:
        setattr(sys.modules[parent], own, module)


def _not_wrapped(_: Any) -> Any:
    raise TypeError("not an object of Python's")


class ExcelRange:
    """As much of Excel's Range as xlwings' calls touch."""

    def __init__(
        self, value: Any, value2: Any, *, cells: int = 0, broken: bool = False, used: int = 0
    ) -> None:
        self.Value = value
        self._value2 = value2
        self._broken = broken
        rows = value if isinstance(value, tuple) else ((value,),)
        self.CountLarge = cells or len(rows) * len(rows[0])
        self.Rows = SimpleNamespace(Count=len(rows))
        self.Columns = SimpleNamespace(Count=len(rows[0]))
        self.Row = self.Column = 1
        self.Address = "$A$1"
        application = SimpleNamespace(Name="Microsoft Excel", Hwnd=1)
        book = SimpleNamespace(Name="Book1.xlsm", Parent=application, Application=application)
        self.Worksheet = SimpleNamespace(
            Name="Sheet1", Parent=book, Application=application,
            Rows=SimpleNamespace(Count=ROWS_OF_A_SHEET),
            UsedRange=SimpleNamespace(Row=1, Rows=SimpleNamespace(Count=used or len(rows))),
        )  # fmt: skip
        kind = SimpleNamespace(iid=RANGE)
        self._oleobj_ = SimpleNamespace(
            GetTypeInfo=lambda: SimpleNamespace(GetTypeAttr=lambda: kind)
        )

    def Resize(self, rows: int) -> ExcelRange:  # noqa: N802 (Excel's name)
        return ExcelRange(self.Value[:rows], self._value2[:rows])

    @property
    def Value2(self) -> Any:  # noqa: N802 (Excel's name)
        if self._broken:
            raise ComError("the server threw an exception")
        return self._value2
