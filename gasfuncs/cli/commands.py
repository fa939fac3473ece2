"""`gasfuncs`: the commands. What is slow to import is imported by the command that needs it."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from typing import Any

import click

from gasfuncs import __version__
from gasfuncs.errors import GasFuncsError


class Sentences(click.Group):
    """A group whose errors are the library's sentences, without a traceback."""

    def invoke(self, ctx: click.Context) -> Any:
        _show_any_letter()
        try:
            return super().invoke(ctx)
        except GasFuncsError as error:
            raise click.ClickException(str(error)) from error
        except BrokenPipeError:  # whoever reads has read enough
            raise
        except OSError as error:
            raise click.ClickException(_sentence(error)) from error


def _show_any_letter() -> None:
    """A code page that lacks a letter shows a question mark instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _sentence(error: OSError) -> str:
    """What the system refused, and a folder that is missing by its name."""
    if not error.filename:
        return error.strerror or str(error)
    folder = Path(error.filename).parent
    if isinstance(error, FileNotFoundError) and not folder.exists():
        return f"there is no folder {folder}; make it first"
    return f"{error.filename}: {error.strerror or error}"


def _ending(path: Path, *endings: str) -> Path:
    """A file to be written, if its name ends as programs know it."""
    if path.suffix.lower() not in endings:
        known = " or ".join(endings)
        raise click.ClickException(f"{path} would be no file that opens: its name ends in {known}")
    return path


UNITS = click.option(
    "--units", type=click.Choice(["metric", "US"], case_sensitive=False),
    default="metric", show_default=True, help="Units of the workbook.",
)  # fmt: skip


@click.group(cls=Sentences, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="gasfuncs")
def main() -> None:
    """Industrial-gas calculations as worksheet functions, and workbooks that use them."""


@main.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), default="gasfuncs-demo")
@UNITS
@click.option("--force", is_flag=True, help="Replace what is there even if it was changed.")
@click.option("--files", is_flag=True, help="The month as files to import, and the book before it.")
def demo(folder: Path, units: str, force: bool, files: bool) -> None:
    """Write the demo plant's month in FOLDER and print its answer."""
    from gasfuncs.cli import sample
    from gasfuncs.cli.month import print_month

    if files:
        for path in sample.write_sample(folder, units, force=force):
            click.echo(path)
        return
    path = sample.write_demo(folder, units, force=force)
    print_month(path, units)
    click.echo(f"\nThe workbook: {path}")


@main.command()
@click.argument("formula", nargs=-1, required=True)
@click.option("--working", is_flag=True, help="Show the equation, each step and the sources.")
def evaluate(formula: tuple[str, ...], working: bool) -> None:
    """Answer a FORMULA such as "GAS_EXPANSION('argon')".

    In double quotes, its texts in single ones, it is the same on every command line. Semicolons
    between arguments do too: "GAS_DENSITY('argon'; 1,5; 20)".
    """
    from gasfuncs.cli.asking import run_evaluate

    run_evaluate(" ".join(formula), working=working)


@main.command()
@click.argument("topic", default="")
def functions(topic: str) -> None:
    """List the functions, all or those of a TOPIC or word."""
    from gasfuncs.cli.asking import run_functions

    run_functions(topic)


@main.command()
@click.argument("name")
def show(name: str) -> None:
    """Show a function: units, equation, what to watch for."""
    from gasfuncs.cli.asking import run_show

    run_show(name)


@main.command()
def workbooks() -> None:
    """List the workbooks."""
    from gasfuncs.cli.printing import print_table
    from gasfuncs.workbooks.building import titles

    rows = [[name, title, question] for name, (title, question) in titles().items()]
    print_table([["Name", "Workbook", "What it answers"], *rows])


@main.command()
@click.argument("name")
@click.argument("path", type=click.Path(path_type=Path), required=False)
@click.option("--demo", "filled", is_flag=True, help="Fill it with the demo plant.")
@click.option(
    "--from", "source", type=click.Path(dir_okay=False, path_type=Path),
    help="A filled one: take what is typed in it, with more rows or in other units.",
)  # fmt: skip
@click.option(
    "--units", type=click.Choice(["metric", "US"], case_sensitive=False),
    help="Units of the workbook  [default: metric, or those of --from]",
)  # fmt: skip
@click.option("--rows", type=click.IntRange(1, 20_000), help="Rows of its logs  [default: 2000]")
@click.option("--carried", is_flag=True, help="With its functions as native formulas.")
@click.option("--force", is_flag=True, help="Replace a file that is there already.")
def workbook(
    name: str, path: Path | None, filled: bool, source: Path | None, units: str | None,
    rows: int | None, carried: bool, force: bool,
) -> None:  # fmt: skip
    """Write the workbook NAME, empty or with the demo plant.

    With --from it takes what is typed in a filled one. PATH is a file or a folder, NAME.xlsx here
    if it is left out. A file that ends in .xlsm has the functions for Excel in it.
    """
    from gasfuncs.cli.progress import progress_bar
    from gasfuncs.workbooks.building import build, known

    book = known(name)
    if filled and source is not None:
        raise click.ClickException("--demo and --from do not go together; choose one of them")
    target = path or Path(f"{book}.xlsx")
    if target.is_dir():
        target = target / f"{book}.xlsx"
    if _ending(target, ".xlsx", ".xlsm").exists() and not force:
        raise click.ClickException(f"{target} is there already; give another path, or --force")

    def written(place: Path) -> None:
        with progress_bar() as progress:
            build(
                book,
                place,
                units or "",
                filled=filled,
                source=source,
                rows=rows or 0,
                progress=progress,
            )

    if carried:
        from gasfuncs.cli.carrying import run_carried

        run_carried(written, _ending(target, ".xlsx"))
    elif target.suffix.lower() == ".xlsm":
        from gasfuncs.hosts.excel.macros import with_functions

        with_functions(written, target)
    else:
        written(target)
    click.echo(str(target))


@main.command()
@click.argument("book", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--output", type=click.Path(dir_okay=False, path_type=Path), required=True,
    help="The workbook to write.",
)  # fmt: skip
@click.option("--undo", is_flag=True, help="Take the functions out of BOOK again.")
def carry(book: Path, output: Path, undo: bool) -> None:
    """Put the functions that BOOK.xlsx calls into a copy of it.

    They become native formulas, which need no add-in.
    """
    from gasfuncs.cli.carrying import run_carry, run_undo

    (run_undo if undo else run_carry)(book, output)


@main.command()
@click.argument("book", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Leave BOOK as it is and write here.",
)
@click.option(
    "--check", is_flag=True, help="Report and write nothing; exit 1 if anything would change."
)
@click.option(
    "--keep", is_flag=True, help="What cannot be computed, and all that takes it, keeps its value."
)
@click.option("--json", "as_json", is_flag=True, help="Report for machines.")
@click.option(
    "--report",
    "report_file",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write the whole report to this file too (JSON).",
)
def recalculate(
    book: Path, output: Path | None, check: bool, keep: bool, as_json: bool,
    report_file: Path | None,
) -> None:  # fmt: skip
    """Compute every formula of BOOK.xlsx and store the values."""
    from gasfuncs.cli.printing import print_report
    from gasfuncs.cli.progress import progress_bar
    from gasfuncs.hosts.headless import recalculate as run

    with progress_bar() as progress:
        report = run(book, output, check=check, keep=keep, progress=progress)
    told = json.dumps(report.as_dict(), ensure_ascii=False, indent=1)
    if report_file is not None:
        report_file.write_text(told + "\n", encoding="utf-8")
    if as_json:
        click.echo(told)
    else:
        print_report(report, book)
    if report.problems:
        raise SystemExit(2)
    if check and report.changed:
        raise SystemExit(1)


@main.command()
@click.argument("folder", type=click.Path(exists=True, file_okay=False, path_type=Path))
@click.option(
    "--output", type=click.Path(path_type=Path), required=True, help="A new folder to write."
)
@click.option("--unit", default="Nm3", show_default=True, help="Unit of the gas amounts.")
@click.option("--cores", type=click.IntRange(min=1), help="Cores of this machine; else all.")
@click.option("--scheduler", metavar="ADDRESS", help="A Dask cluster to run on instead.")
def ledger(folder: Path, output: Path, unit: str, cores: int | None, scheduler: str | None) -> None:
    """Add gas columns to a FOLDER of cycle logs, sum by month.

    The logs are Parquet files; the ledger that is written has the same.
    """
    from gasfuncs.cli.printing import print_ledger
    from gasfuncs.hosts.ledger import calculate_ledger

    monthly = calculate_ledger(folder, output, unit=unit, cores=cores, scheduler=scheduler)
    print_ledger(monthly, unit)
    click.echo(f"\nThe ledger: {output}")


KINDS_OF_FILES = click.Choice(["cycles", "tank", "tickets", "rise", "dewpoint", "purge"])


@main.command("import")
@click.argument("kind", type=KINDS_OF_FILES, metavar="KIND")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--into", "book", type=click.Path(dir_okay=False, path_type=Path), required=True,
    help="The workbook that takes the rows.",
)  # fmt: skip
@click.option(
    "--map", "kept", type=click.Path(dir_okay=False, path_type=Path),
    help="Which column is what (TOML); read if it is there, else written. Else FILE.toml.",
)  # fmt: skip
@click.option("--replace", is_flag=True, help="Rows that are there with other values are replaced.")
@click.option("--dry-run", is_flag=True, help="Only say what would be done.")
def import_file(
    kind: str, file: Path, book: Path, kept: Path | None, replace: bool, dry_run: bool
) -> None:
    """Enter the rows of FILE into a workbook and compute it.

    FILE is CSV, .xlsx or Parquet; KIND is what it holds: cycles, tank, tickets, rise, dewpoint or
    purge.
    """
    from gasfuncs.cli.importing import run_import

    run_import(kind, file, book, kept, replace=replace, dry_run=dry_run)


HOSTS = click.Choice(["calc", "excel"])


@main.command()
@click.argument("host", type=HOSTS, metavar="HOST")
@click.option("--uninstall", is_flag=True, help="Take it out again.")
@click.option("--dry-run", is_flag=True, help="Only say what would be done.")
def install(host: str, uninstall: bool, dry_run: bool) -> None:
    """Make the functions work in HOST, calc or excel.

    That is LibreOffice Calc, or Excel on Windows.
    """
    from gasfuncs.hosts import calc, excel

    setting_up = {"calc": calc, "excel": excel}[host]
    sentences = (setting_up.uninstall if uninstall else setting_up.install)(dry_run=dry_run)
    for sentence in sentences:
        click.echo(sentence)


@main.command(hidden=True)
@click.argument("host", type=HOSTS, metavar="HOST")
@click.pass_context
def uninstall(ctx: click.Context, host: str) -> None:
    """Take the functions out of HOST again, as `install HOST --uninstall` does."""
    ctx.invoke(install, host=host, uninstall=True, dry_run=False)


@main.command()
@click.argument("book", type=click.Path(exists=True, dir_okay=False, path_type=Path))
def mend(book: Path) -> None:
    """Mend a BOOK.ods that shows #NAME? in Calc.

    One that a LibreOffice without the add-in has saved has lost the functions' full names.
    """
    from gasfuncs.hosts import calc

    mended = calc.mend(book)
    if not mended:
        click.echo(f"{book} has nothing to mend.")
        return
    told = ", ".join(f"{name} ({times:,})" for name, times in mended.most_common())
    click.echo(f"Mended {told} in {book}. Open it in a LibreOffice with the add-in.")


@main.command()
def doctor() -> None:
    """Say whether each host is ready, and what to do if not."""
    from gasfuncs.cli.health import library_status
    from gasfuncs.hosts import calc, excel

    reports = {
        "Library and headless engine": library_status(),
        "LibreOffice Calc": calc.status(),
        "Excel on Windows": excel.status(),
    }
    for host, status in reports.items():
        click.echo(f"{'ready    ' if status.ready else 'not ready'}  {host}")
        for sentence in status.sentences:
            click.echo(f"             {sentence}")


@main.group()
def build() -> None:
    """Write the Calc add-in, stubs, factors, series or all workbooks."""


@build.command("calc")
@click.argument("path", type=click.Path(dir_okay=False, path_type=Path))
def build_calc(path: Path) -> None:
    """Write the Calc add-in to PATH (an .oxt file) without installing it."""
    from gasfuncs.hosts import calc

    click.echo(str(calc.build(_ending(path, ".oxt"))))


@build.command("stubs")
@click.argument("path", type=click.Path(dir_okay=False, path_type=Path))
def build_stubs(path: Path) -> None:
    """Write the type stubs of the functions to PATH (gasfuncs/__init__.pyi)."""
    from gasfuncs.hosts.stubs import stubs

    _write(path, stubs())


@build.command("factors")
@click.argument("path", type=click.Path(dir_okay=False, path_type=Path))
def build_factors(path: Path) -> None:
    """Write the factors of all units to PATH (gasfuncs/units/factors.json)."""
    import json

    from gasfuncs.units.kinds import worked_out_factors

    _write(path, json.dumps(worked_out_factors(), indent=1) + "\n")


def _write(path: Path, text: str) -> None:
    """Write a text to its place and say where that is."""
    from gasfuncs.files import swapped_in

    with swapped_in(path) as aside:
        aside.write_text(text, encoding="utf-8")
    click.echo(str(path))


@build.command("series")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
def build_series(folder: Path) -> None:
    """Write the series of the installed CoolProp to FOLDER (gasfuncs/properties/series)."""
    from gasfuncs.properties import motion, tables

    for old in folder.glob("*.npz"):
        old.unlink()
    for kind in (tables, motion):
        for path in kind.KEEPING.write_all(folder, kind.shape()):
            click.echo(str(path))


@build.command("workbooks")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
def build_workbooks(folder: Path) -> None:
    """Write every workbook, with the demo plant, into FOLDER; what is there is replaced."""
    from gasfuncs.workbooks.building import build as build_book
    from gasfuncs.workbooks.building import titles

    folder.mkdir(parents=True, exist_ok=True)
    for name in titles():
        build_book(name, folder / f"{name}.xlsx")
        click.echo(str(folder / f"{name}.xlsx"))
