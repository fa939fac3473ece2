"""A progress bar on long work, on a terminal only."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn


@contextmanager
def progress_bar() -> Iterator[Callable[[int, int, str], None]]:
    """Gives a callback of (done, total, what)."""
    console = Console(stderr=True)
    bar = Progress(
        TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(),
        console=console, transient=True, disable=not console.is_terminal,
    )  # fmt: skip
    with bar:
        task = bar.add_task("", total=None)

        def report(done: int, total: int, what: str) -> None:
            bar.update(task, completed=done, total=total, description=what)

        yield report
