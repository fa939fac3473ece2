"""What the site generator runs: pages from the definitions, equations, links to functions."""

from __future__ import annotations

import logging
import posixpath
import re
import sys
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import reference
import verified
from mathematics import equation_html
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from tables import formula, sheet

from gasfuncs.properties import SUBSTANCES
from gasfuncs.registry import topics, worksheet_functions

log = logging.getLogger("mkdocs.hooks.gasfuncs")
ANSWER = "→"
NAME = re.compile(r"(?<!\[)`(GAS_[A-Z_]+)`")


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Put the topics into the navigation, and our fences into the Markdown reader."""
    pages: list[Any] = ["functions/index.md"]
    pages += [{topic.capitalize(): f"functions/{topic}.md"} for topic in topics()]
    for entry in config.nav or []:
        if "Functions" in entry:
            entry["Functions"] = pages
    config.mdx_configs["pymdownx.superfences"] = {
        "custom_fences": [
            {"name": name, "class": name, "format": fence} for name, fence in FENCES.items()
        ]
    }
    return config


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the generated pages."""
    pages = {f"functions/{topic}.md": reference.topic_page(topic) for topic in topics()}
    pages |= {"functions/index.md": reference.index_page(), "verified.md": verified.verified_page()}
    for path, content in pages.items():
        files.append(File.generated(config, path, content=content))
    return files


def on_page_markdown(markdown: str, page: Page, **_: Any) -> str:
    """Make a link of every function's name that stands alone in code; name the gases."""
    markdown = markdown.replace("{{gases}}", ", ".join(each.name for each in SUBSTANCES))
    here = posixpath.dirname(page.file.src_uri)

    def link(match: re.Match[str]) -> str:
        name = match[1]
        if name not in worksheet_functions():
            log.warning("%s names %s, which is no function", page.file.src_uri, name)
            return match[0]
        return f"[`{name}`]({posixpath.relpath(reference.place(name), here or '.')})"

    return NAME.sub(link, markdown)


def _equation(source: str, *_: Any, **__: Any) -> str:
    return equation_html(source.strip())


def _formula(source: str, *_: Any, **__: Any) -> str:
    """Formulas, each followed by its answers on lines that begin with an arrow."""
    out: list[tuple[str, list[str]]] = []
    for line in filter(None, map(str.strip, source.splitlines())):
        if line.startswith(ANSWER):
            out[-1][1].append(line.removeprefix(ANSWER).strip())
        else:
            out.append((line, []))
    return "".join(formula(text, answers) for text, answers in out)


def _cells(source: str, *_: Any, **__: Any) -> str:
    """Lines such as `B2: 2.5`, as a sheet."""
    return sheet(dict(line.split(": ", 1) for line in source.strip().splitlines()))


FENCES = {"cells": _cells, "equation": _equation, "formula": _formula}
