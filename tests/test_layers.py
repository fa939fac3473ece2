"""Each layer imports only those before it, and what is slow to import waits until it is needed."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

import gasfuncs

LAYERS = (
    "errors", "files", "units", "properties", "definition", "calculations", "registry", "explain",
    "cleaning", "hosts", "workbooks", "importing", "cli",
)  # fmt: skip
HOUSE = Path(gasfuncs.__file__).parent


def modules() -> list[Path]:
    return sorted(HOUSE.rglob("*.py"))


def layer_of(path: Path) -> str:
    return path.relative_to(HOUSE).parts[0].removesuffix(".py")


def imported_layers(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        for name in names:
            house, _, rest = name.partition(".")
            if house == "gasfuncs":
                yield rest.partition(".")[0]


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(HOUSE)))
def test_a_layer_imports_only_those_before_it(path: Path) -> None:
    layer = layer_of(path)
    if layer not in LAYERS:
        assert layer in ("__init__", "__main__"), f"{layer} is no layer"
        return
    for imported in imported_layers(path):
        if imported in LAYERS:
            assert LAYERS.index(imported) <= LAYERS.index(layer), f"{path} imports {imported}"


def test_definition_has_no_circle() -> None:
    """Modules of the package in an order in which each imports only those before it, types too."""
    folder = HOUSE / "definition"
    imported = {
        path.stem: {
            word
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.ImportFrom)
            for word in within(node)
        }
        for path in folder.glob("*.py")
    }
    assert list(TopologicalSorter(imported).static_order())


def within(node: ast.ImportFrom) -> set[str]:
    """The modules of `definition` that a line imports."""
    package, module = "gasfuncs.definition", node.module or ""
    if module == package:
        return {alias.name for alias in node.names}
    return {module.removeprefix(f"{package}.")} if module.startswith(f"{package}.") else set()


def test_only_properties_imports_coolprop() -> None:
    for path in modules():
        if "import CoolProp" in path.read_text(encoding="utf-8"):
            assert layer_of(path) == "properties", path


@pytest.mark.parametrize(
    "line",
    [
        "import gasfuncs",
        "import gasfuncs.cli",
        "from gasfuncs import registry as r; r.worksheet_functions()",
    ],
)
def test_coolprop_waits_until_a_property_is_asked_for(line: str) -> None:
    code = f"import sys; {line}; sys.exit('CoolProp' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_the_registry_waits_with_what_only_calculations_need() -> None:
    code = (
        "import sys; from gasfuncs.registry import worksheet_functions; worksheet_functions(); "
        "sys.exit(any(name in sys.modules for name in ('fluids', 'pint', 'scipy.optimize')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_help_answers_without_numpy() -> None:
    code = (
        "import sys; from click.testing import CliRunner; from gasfuncs.cli import main; "
        "result = CliRunner().invoke(main, ['--help']); assert 'recalculate' in result.output; "
        "sys.exit('numpy' in sys.modules or 'pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
