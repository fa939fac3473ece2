"""What there is on this computer for Excel to run the functions."""

from __future__ import annotations

import importlib
import importlib.util
import os
import platform
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Any

from gasfuncs.hosts.excel.settings import INTERPRETER, modules_in, read_settings, settings_file

OFFICE = r"Software\Microsoft\Office"
POLICIES = r"Software\Policies\Microsoft\Office"
SECURITY = r"16.0\Excel\Security"
EXCEL_PROGRAM = r"Software\Microsoft\Windows\CurrentVersion\App Paths\excel.exe"

ONLY_SIGNED_MACROS = 3
"""The policy VBAWarnings from here on keeps unsigned macros from running."""


@dataclass(frozen=True, slots=True)
class Machine:
    """What was found; "" or None where nothing was."""

    windows: bool
    python: str
    python_home: str
    python_version: str
    xlwings: str
    bridge: str
    """The library of xlwings that this Excel loads: its name, of Excel's own 32 or 64 bits."""
    bridge_found: bool
    excel: str
    excel_version: str
    add_in: Path | None
    add_in_current: bool
    settings: Path
    modules: tuple[str, ...]
    interpreter: str
    macros_blocked: bool


def this_machine() -> Machine:
    """Look at everything, change nothing."""
    settings = read_settings(settings_file())
    xlwings, add_in, excel = _xlwings_version(), _add_in(), _excel()
    bridge = f"xlwings{_bits_of(excel)}-{xlwings}.dll"
    return Machine(
        windows=sys.platform == "win32",
        python=sys.executable,
        python_home=sys.base_prefix,
        python_version=platform.python_version(),
        xlwings=xlwings,
        bridge=bridge,
        bridge_found=any((folder / bridge).is_file() for folder in _near_python()),
        excel=excel,
        excel_version=_text("HKEY_LOCAL_MACHINE", rf"{OFFICE}\ClickToRun\Configuration",
                            "VersionToReport"),
        add_in=add_in,
        add_in_current=add_in is not None and add_in.read_bytes() == _own_add_in(),
        settings=settings_file(),
        modules=tuple(modules_in(settings)),
        interpreter=settings.get(INTERPRETER, ""),
        macros_blocked=(_policy("VBAWarnings") or 0) >= ONLY_SIGNED_MACROS,
    )  # fmt: skip


def _near_python() -> Iterator[Path]:
    """The two folders in which Excel looks for xlwings' library."""
    yield from list(Path(sys.executable).parents)[:2]


def _xlwings_version() -> str:
    try:
        return metadata.version("xlwings")
    except metadata.PackageNotFoundError:
        return ""


def _own_add_in() -> bytes | None:
    """The add-in that the installed xlwings brings."""
    spec = importlib.util.find_spec("xlwings")
    if spec is None or spec.origin is None:
        return None
    return Path(spec.origin).with_name("addin").joinpath("xlwings.xlam").read_bytes()


def _add_in() -> Path | None:
    """The xlwings add-in in the folder whose files Excel opens when it starts."""
    roaming = os.environ.get("APPDATA")
    file = Path(roaming, "Microsoft", "Excel", "XLSTART", "xlwings.xlam") if roaming else None
    return file if file and file.is_file() else None


def _excel() -> str:
    for root in ("HKEY_CURRENT_USER", "HKEY_LOCAL_MACHINE"):
        program = _text(root, EXCEL_PROGRAM, "")
        if program:
            return program.strip('"')
    return ""


def _bits_of(excel: str) -> int:
    """32 or 64, as Office says, or else the folder that Excel is in."""
    platform_of_office = _text(
        "HKEY_LOCAL_MACHINE", rf"{OFFICE}\ClickToRun\Configuration", "Platform"
    )
    if not platform_of_office and "(x86)" in excel:
        return 32
    return 32 if platform_of_office == "x86" else 64


def _policy(name: str) -> Any:
    return _registry("HKEY_CURRENT_USER", rf"{POLICIES}\{SECURITY}", name)


def _text(root: str, key: str, name: str) -> str:
    return str(_registry(root, key, name) or "")


def _registry(root: str, key: str, name: str) -> Any:
    """A value in Windows' registry, or None."""
    try:
        winreg = importlib.import_module("winreg")
    except ImportError:  # another system
        return None
    try:
        with winreg.OpenKey(getattr(winreg, root), key) as opened:
            return winreg.QueryValueEx(opened, name)[0]
    except OSError:  # no such key or value
        return None
