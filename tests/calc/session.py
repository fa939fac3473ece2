"""Drives a running LibreOffice; runs in the system's Python, which has `uno` (python3-uno).

    python3 scenarios.py SOFFICE PROFILE_URL SCENARIO [ARGUMENT ...]

prints what the scenario found as JSON.
"""

# ruff: noqa: T201

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
import uuid
from collections.abc import Callable, Iterator
from typing import Any

import uno  # type: ignore[import-not-found]
from com.sun.star.beans import PropertyValue  # type: ignore[import-not-found]

PATIENCE = 60


class Office:
    """A LibreOffice of our own, without a window, reached through a pipe."""

    def __init__(self, program: str, profile: str) -> None:
        pipe = f"gasfuncs{uuid.uuid4().hex}"
        self.process = subprocess.Popen(
            [
                program, "--headless", "--norestore", f"-env:UserInstallation={profile}",
                f"--accept=pipe,name={pipe};urp;",
            ],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
        )  # fmt: skip
        try:
            self.context = self._connected(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except BaseException:
            self.kill()
            raise
        self.desktop = self.service("com.sun.star.frame.Desktop")

    def _connected(self, address: str) -> Any:
        resolver = uno.getComponentContext().ServiceManager.createInstance(
            "com.sun.star.bridge.UnoUrlResolver"
        )
        give_up = time.monotonic() + PATIENCE
        while True:
            try:
                return resolver.resolve(address)
            except Exception:
                if time.monotonic() > give_up:
                    raise
                time.sleep(0.2)

    def service(self, name: str) -> Any:
        return self.context.ServiceManager.createInstanceWithContext(name, self.context)

    def new_book(self) -> Any:
        return self._loaded("private:factory/scalc")

    def opened(self, path: str, hidden: bool = True) -> Any:
        return self._loaded(uno.systemPathToFileUrl(path), hidden)

    def _loaded(self, url: str, unseen: bool = True) -> Any:
        hidden = _property("Hidden", unseen)
        return self.desktop.loadComponentFromURL(url, "_blank", 0, (hidden,))

    def save(self, book: Any, path: str, filter_name: str) -> None:
        """Save a copy of a book as another kind of file."""
        kind = _property("FilterName", filter_name)
        book.storeToURL(uno.systemPathToFileUrl(path), (kind,))

    def workers(self) -> list[int]:
        """The processes that run the library for this LibreOffice."""
        return [pid for pid in _processes(b"gasfuncs.hosts.calc.worker") if self._started(pid)]

    def _started(self, pid: int) -> bool:
        try:
            return os.getsid(pid) == self.process.pid
        except ProcessLookupError:
            return False

    def quit(self) -> None:
        """Close LibreOffice as a user does."""
        with contextlib.suppress(Exception):  # it is gone before it can answer
            self.desktop.terminate()
        self.process.wait(PATIENCE)

    def kill(self) -> None:
        os.killpg(self.process.pid, signal.SIGKILL)


def _property(name: str, value: Any) -> Any:
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def _processes(word: bytes) -> Iterator[int]:
    for entry in filter(str.isdigit, os.listdir("/proc")):
        try:
            with open(f"/proc/{entry}/cmdline", "rb") as file:
                if word in file.read():
                    yield int(entry)
        except OSError:  # it has ended
            continue


def shown(cell: Any) -> Any:
    """What a cell shows: a number, a text or an error's code."""
    if cell.getError():
        return f"error {cell.getError()}"
    return cell.getString()


def main(scenarios: dict[str, Callable[..., Any]]) -> None:
    """Run one scenario in a LibreOffice that ends with it."""
    program, profile, name, *arguments = sys.argv[1:]
    office = Office(program, profile)
    try:
        print(json.dumps(scenarios[name](office, *arguments)))
        office.quit()
    finally:
        if office.process.poll() is None:
            office.kill()
