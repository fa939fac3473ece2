"""`gasfuncs carry`: what was carried, and the cells that need the add-in."""

from __future__ import annotations

from pathlib import Path

import click

from gasfuncs.hosts.carried import carry, undo

MOST_CELLS = 20
"""Cells that are named one by one."""


def run_carry(book: Path, output: Path) -> None:
    """Carry a workbook's functions and say what was done."""
    done = carry(book, output)
    click.echo(
        f"{output} carries {_counted(len(done.carried), 'function')}: {', '.join(done.carried)}"
    )
    if not done.left:
        return
    click.echo(f"{_counted(len(done.left), 'call')} left to the add-in, as before:")
    for sheet, cell, name, reason in done.left[:MOST_CELLS]:
        click.echo(f"  {sheet + '!' if sheet else ''}{cell}: {name}, since {reason}")
    if len(done.left) > MOST_CELLS:
        click.echo(f"  and {len(done.left) - MOST_CELLS} more")


def _counted(count: int, what: str) -> str:
    return f"1 {what}" if count == 1 else f"{count} {what}s"


def run_undo(book: Path, output: Path) -> None:
    """Take the functions out again and say so."""
    undo(book, output)
    click.echo(f"{output} is as before its functions were put into it")
