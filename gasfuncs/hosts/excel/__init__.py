"""Excel on Windows: the module that xlwings imports, holding every worksheet function.

xlwings lists the module and asks for the functions by name. They are made when it does, so that
importing the package needs neither xlwings nor Windows.
"""

from __future__ import annotations

from typing import Any

from gasfuncs.hosts.excel.setup import ExcelError, install, status, uninstall
from gasfuncs.registry import worksheet_functions

__all__ = ["ExcelError", "install", "status", "uninstall"]


def __dir__() -> list[str]:
    return [*__all__, *worksheet_functions()]


def __getattr__(name: str) -> Any:
    if name not in worksheet_functions():
        raise AttributeError(f"module {__name__} has no attribute {name}")
    from gasfuncs.hosts.excel.functions import excel_function

    return excel_function(name)
