"""What `gasfuncs import` prints."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

import click

from gasfuncs.cli.printing import print_table
from gasfuncs.cli.progress import progress_bar
from gasfuncs.files import swapped_in

if TYPE_CHECKING:
    from gasfuncs.importing.mapping import Mapping

EXTRA = ("pandas", "pyarrow", "python_calamine", "tomlkit")
MOST_SHOWN = 40


def run_import(
    kind: str, file: Path, book: Path, kept: Path | None, *, replace: bool, dry_run: bool
) -> None:
    """Import a file and say what became of every line."""
    missing = [name for name in EXTRA if find_spec(name) is None]
    if missing:
        raise click.ClickException(
            f'importing needs {", ".join(missing)}: python -m pip install "gasfuncs[import]"'
        )
    from gasfuncs.importing.job import mapping_file, mapping_for, run

    kept = kept or mapping_file(file)
    mapping, questions, is_new = mapping_for(kind, file, kept)
    if is_new:
        _print_mapping(mapping, kept)
    if questions:
        for question in questions:
            click.echo(f"? {question}")
        click.echo(f"Nothing was entered: answer in {kept} and run this again.")
        raise SystemExit(2)
    with progress_bar() as progress:
        outcome = run(file, book, mapping, replace=replace, dry_run=dry_run, progress=progress)
    for note in outcome.notes:
        click.echo(f"note: {note}")
    _print_left_out(outcome.left_out, file)
    entered = outcome.entered
    used = f"{outcome.used} used for these rows, " if outcome.used else ""
    what = ("row" if outcome.parts == 1 else "reading") + ("" if outcome.read == 1 else "s")
    would = "would be " if dry_run else ""
    click.echo(
        f"{outcome.read} {what} read: {len(entered.added)} {would}added to "
        f"{outcome.table}, {len(entered.replaced)} replaced, {len(entered.there)} there already, "
        f"{used}{len(entered.left_out)} left out"
    )


def _print_mapping(mapping: Mapping, kept: Path) -> None:
    rows = [[name, column.heading, column.unit] for name, column in mapping.columns.items()]
    rows += [[sensor.role, name, sensor.unit] for name, sensor in mapping.sensors.items()]
    print_table([["Taken for", "Column", "Unit"], *rows])
    click.echo(f"Kept in {kept}.")


def _print_left_out(left_out: list[tuple[int, str]], file: Path) -> None:
    """Every line with its reason, those of one reason in a row together; many into a file."""
    spans = list(_spans(left_out))
    for first, last, reason in spans[:MOST_SHOWN]:
        lines = f"line {first}" if first == last else f"lines {first} to {last}"
        click.echo(f"{lines}: {reason}")
    if len(spans) > MOST_SHOWN:
        path = file.with_name(f"{file.name}.left-out.csv")
        with swapped_in(path) as aside, aside.open("w", encoding="utf-8", newline="") as whole:
            csv.writer(whole).writerows([("line", "reason"), *left_out])
        click.echo(f"and so on: all {len(left_out)} stand in {path}")


def _spans(left_out: list[tuple[int, str]]) -> Iterator[tuple[int, int, str]]:
    """First and last of the lines that follow each other with one reason."""
    first = last = 0
    why = ""
    for line, reason in left_out:
        if why and (line, reason) == (last + 1, why):
            last = line
            continue
        if why:
            yield first, last, why
        first, last, why = line, line, reason
    if why:
        yield first, last, why
