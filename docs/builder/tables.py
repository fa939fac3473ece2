"""HTML of what the generated pages repeat: tables, formulas with their answers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from html import escape


def table(headings: Sequence[str], rows: Iterable[Sequence[str]], kind: str = "") -> str:
    """A table of cells that are HTML already; it scrolls where it is wider than the screen."""
    head = " ".join(f"<th>{escape(heading)}</th>" for heading in headings)
    body = "".join("<tr>" + " ".join(f"<td>{c}</td>" for c in row) + "</tr>\n" for row in rows)
    return (
        f'<div class="scroll {kind}" tabindex="0"><table class="wide">'
        f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def sheet(cells: Mapping[str, str]) -> str:
    """A small sheet: columns by letter, rows by number, formulas as code."""
    columns = sorted({at[0] for at in cells})
    rows = [
        [f"<strong>{row}</strong>", *(_cell(cells.get(f"{column}{row}", "")) for column in columns)]
        for row in range(1, max(int(at[1:]) for at in cells) + 1)
    ]
    return table(["", *columns], rows, "sheet")


def _cell(text: str) -> str:
    written, arrow, answer = text.partition("→")
    shown = code(written.strip()) if text.startswith("=") else escape(text)
    return f"{shown} {arrow} <strong>{escape(answer.strip())}</strong>" if arrow else shown


def code(text: str) -> str:
    """A formula or a name within a line."""
    return f"<code>{escape(text)}</code>"


def formula(text: str, answers: Iterable[str]) -> str:
    """A formula to copy, with what it answers below."""
    told = "".join(f'<p class="answer">{escape(answer)}</p>' for answer in answers)
    return (
        f'<div class="formula"><div class="highlight"><pre><code>{escape(text)}\n</code></pre>'
        f"</div>{told}</div>"
    )
