"""`gasfuncs carry`: what was carried, and the cells that need the add-in."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path

import click

from gasfuncs.hosts.carried import Done, carry, undo
from gasfuncs.hosts.carried.gases import warm
from gasfuncs.hosts.carried.reasons import PARTLY

MOST_CELLS = 20
"""Calls that are named one by one."""

WARM = 273.15
"""K; of a gas whose series begin above it a furnace shop may well ask a colder state."""


def run_carry(book: Path, output: Path) -> None:
    """Carry a workbook's functions and say what was done."""
    done = carry(book, output)
    click.echo(
        f"{output} carries {_counted(len(done.carried), 'function')}: {', '.join(done.carried)}"
    )
    _tell_gases(done)
    for name in done.carried:
        if name in PARTLY:
            click.echo(f"{name} shows #N/A in some calls, never another number: {PARTLY[name]}")
    if not done.left:
        return
    click.echo(f"{_counted(len(done.left), 'call')} left to the add-in, as before:")
    for call in done.left[:MOST_CELLS]:
        click.echo(f"  {call.name} in {call.place}, since {call.left}")
    if len(done.left) > MOST_CELLS:
        click.echo(f"  and {len(done.left) - MOST_CELLS} more")


def run_carried(write: Callable[[Path], object], target: Path) -> None:
    """Carry the functions of a workbook that is written first, out of sight until it is done."""
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / target.name
        write(book)
        run_carry(book, target)


def _tell_gases(done: Done) -> None:
    """Say which gases the book can calculate with, and from which temperature on."""
    names, typed = done.gases
    if not names:
        return
    why = f", since {typed.name} in {typed.place} takes its gas from a cell" if typed else ""
    click.echo(f"with {_counted(len(names), 'gas')}: {', '.join(names)}{why}")
    cold = [f"{name} {warm(name) - 273.15:.0f} °C" for name in names if warm(name) > WARM]
    if cold:
        click.echo(f"as a gas only from some temperature on, else #NUM!: {', '.join(cold)}")


def _counted(count: int, what: str) -> str:
    return f"1 {what}" if count == 1 else f"{count} {what}{'es' if what[-1] == 's' else 's'}"


def run_undo(book: Path, output: Path) -> None:
    """Take the functions out again and say so."""
    undo(book, output)
    click.echo(f"{output} is as before its functions were put into it")
