"""`gasfuncs evaluate`, `functions` and `show`: what the functions answer, and what there is."""

from __future__ import annotations

from typing import Any

import click

from gasfuncs.cli.printing import print_answer, print_definition, print_table
from gasfuncs.definition import Definition
from gasfuncs.errors import GasFuncsError
from gasfuncs.explain.working import working_rows
from gasfuncs.hosts import formula as host
from gasfuncs.hosts.typed import comma_hint, meant
from gasfuncs.registry import PREFIX, topics, worksheet_function_named, worksheet_functions

_QUOTES = str.maketrans("", "", "\"'“”„‟ ")

HEADINGS = ["Part", "What", "Symbol", "Given", "Value", "Unit"]


def run_evaluate(typed: str, *, working: bool) -> None:
    """Answer a formula; one with semicolons is said again as it was read."""
    text = meant(typed)
    calls: list[tuple[Definition, list[Any]]] = []

    def keep(function: Definition, arguments: list[Any]) -> Any:
        calls.append((function, arguments))
        return function(*arguments)

    try:
        answer = host.read_call(text, keep)
    except GasFuncsError as error:
        raise click.ClickException(f"{error}{comma_hint(text)}") from error
    if text.translate(_QUOTES) != typed.translate(_QUOTES):
        click.echo(f"read as {text}", err=True)
    if working and calls:
        print_table([HEADINGS, *working_rows(*calls[-1])])
    print_answer(answer)


def run_functions(topic: str) -> None:
    """List the functions of a topic, or those with a word in their name, topic or summary."""
    wanted = topic.lower()
    known = worksheet_functions().values()
    found = [d for d in known if d.topic == wanted] or [
        d for d in known if wanted in f"{d.topic} {d.name} {d.summary}".lower()
    ]
    if not found:
        raise click.ClickException(
            f'no function has "{topic}" in its name, topic or summary; '
            f"the topics are {', '.join(topics())}"
        )
    rows = [[d.topic, d.name, d.summary] for d in found]
    print_table([["Topic", "Function", "What it answers"], *rows])


def run_show(name: str) -> None:
    """Show a function, named with or without its prefix."""
    prefixed = name if name.upper().startswith(PREFIX) else f"{PREFIX}{name}"
    print_definition(worksheet_function_named(prefixed))
