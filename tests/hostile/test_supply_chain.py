"""What is shipped and what it needs: contents, metadata, locked versions, licences, installing."""

from __future__ import annotations

import base64
import csv
import email
import hashlib
import os
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

import gasfuncs
from gasfuncs.workbooks.building import titles
from tests.conftest import IN_CI
from tests.hostile import licences
from tests.hostile.counts import tried
from tests.thorough import part

KIND = "supply chain"
HOUSE = Path(__file__).parents[2]
LOCK = HOUSE / ".ci" / "lock.txt"
SUPPORTED = ("3.11", "3.12", "3.13", "3.14")


def locked() -> dict[str, Version]:
    lines = [line for line in LOCK.read_text().splitlines() if line]
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+==[A-Za-z0-9.!+]+", line) for line in lines)
    pairs = (line.split("==") for line in lines)
    return {canonicalize_name(name): Version(version) for name, version in pairs}


# What it needs.


def test_every_dependency_has_a_lower_bound() -> None:
    for extra, texts in licences.project().items():
        for requirement in map(Requirement, texts):
            if requirement.name != "gasfuncs":
                assert any(s.operator == ">=" for s in requirement.specifier), (extra, requirement)
                tried(KIND, "dependencies with a lower bound")


def test_the_lock_holds_all_that_is_needed() -> None:
    pins, ours = locked(), licences.project()
    for texts in ours.values():
        for requirement in map(Requirement, texts):
            name = canonicalize_name(requirement.name)
            if name != "gasfuncs":
                assert name in pins, f"run .ci/lock: {requirement}"
                assert pins[name] in requirement.specifier, f"run .ci/lock: {requirement}"
    extras = ",".join(filter(None, ours))
    needed = licences.needed([*ours[""], f"gasfuncs[{extras}]"], ours)
    assert needed <= set(pins), "run .ci/lock"
    tried(KIND, "locked versions", len(pins))


def test_licences_are_told_and_fit() -> None:
    shown = licences.PAGE.read_text(encoding="utf-8")
    use, _, develop = shown.partition("## To develop")
    row = re.compile(r"^\| (?!package)([a-z0-9-]+) \| (.+) \|$", re.M)
    rows = row.findall(use)
    for name, licence in rows:
        assert licences.is_compatible(licence), f"{name}: {licence}"
    ours = licences.project()
    users = [extra for extra in ours if extra not in ("", *licences.FOR_DEVELOPERS)]
    run = licences.needed([*ours[""], f"gasfuncs[{','.join(users)}]"], ours)
    everything = licences.needed([f"gasfuncs[{','.join(filter(None, ours))}]"], ours) | run
    told = {**dict(rows), **dict(row.findall(develop))}
    assert run <= set(dict(rows)), "run python -m tests.hostile.licences"
    assert everything <= set(told), "run python -m tests.hostile.licences"
    pins = locked()
    for name in everything:
        try:
            package = metadata.distribution(name)
        except metadata.PackageNotFoundError:
            continue
        if Version(package.version) == pins.get(name):  # another version may word it otherwise
            assert told[name] == licences.licence(package), "run python -m tests.hostile.licences"
    tried(KIND, "licences of packages told", len(told))


def test_unfit_licences_are_found() -> None:
    assert licences.is_compatible("(MIT OR GPL-3.0) AND BSD") is False
    assert not licences.is_compatible("GPL-3.0")
    assert not licences.is_compatible("MIT AND LGPL-3.0")
    assert not licences.is_compatible("")
    assert licences.is_compatible("Apache-2.0 WITH LLVM-exception OR GPL-2.0")


# What is shipped.


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The wheel, built from the source archive, and the source archive."""
    folder = tmp_path_factory.mktemp("built")
    command = [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(folder), str(HOUSE)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (wheel,), (source,) = folder.glob("*.whl"), folder.glob("*.tar.gz")
    return wheel, source


def test_the_wheel_holds_the_package_and_nothing_else(built: tuple[Path, Path]) -> None:
    about = f"gasfuncs-{gasfuncs.__version__}.dist-info"
    package = Path(gasfuncs.__file__).parent
    expected = {
        f"gasfuncs/{path.relative_to(package).as_posix()}": path.read_bytes()
        for path in package.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    for name in titles():
        file = HOUSE / "workbook_templates" / f"{name}.xlsx"
        expected[f"gasfuncs/workbooks/templates/{name}.xlsx"] = file.read_bytes()
    with zipfile.ZipFile(built[0]) as wheel:
        found = {name: wheel.read(name) for name in wheel.namelist()}
    assert "gasfuncs/py.typed" in found
    assert found.pop(f"{about}/licenses/LICENSE") == (HOUSE / "LICENSE").read_bytes()
    for name in ("METADATA", "RECORD", "WHEEL", "entry_points.txt"):
        found.pop(f"{about}/{name}")
    assert set(found) == set(expected)
    assert found == expected
    assert titles()
    tried(KIND, "files of the wheel, byte for byte those of the source", len(found))


def test_the_wheel_is_what_its_record_says(built: tuple[Path, Path]) -> None:
    with zipfile.ZipFile(built[0]) as wheel:
        (record,) = (name for name in wheel.namelist() if name.endswith("/RECORD"))
        for name, told, size in csv.reader(wheel.read(record).decode().splitlines()):
            if name == record:
                continue
            data = wheel.read(name)
            digest = base64.urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
            assert (told, int(size)) == (f"sha256={digest}", len(data))


def names(requirement: str) -> str:
    return canonicalize_name(Requirement(requirement).name)


def test_metadata(built: tuple[Path, Path]) -> None:
    with zipfile.ZipFile(built[0]) as wheel:
        (name,) = (name for name in wheel.namelist() if name.endswith("/METADATA"))
        about = email.message_from_bytes(wheel.read(name))
        (tags,) = (name for name in wheel.namelist() if name.endswith("/WHEEL"))
        assert "Tag: py3-none-any" in wheel.read(tags).decode()
    assert about["Name"] == "gasfuncs"
    assert about["Version"] == gasfuncs.__version__
    assert about["License-Expression"] == "MIT"
    assert about["Requires-Python"] == f">={SUPPORTED[0]}"
    pythons = [c.rpartition(" ")[2] for c in about.get_all("Classifier", []) if ":: 3." in c]
    assert tuple(pythons) == SUPPORTED
    assert "# gasfuncs" in about.get_payload()
    needs = {names(text) for text in about.get_all("Requires-Dist", [])}
    assert {names(text) for text in licences.project()[""]} <= needs


def test_the_source_archive_holds_what_is_needed(built: tuple[Path, Path]) -> None:
    with tarfile.open(built[1]) as archive:
        found = {name.partition("/")[2] for name in archive.getnames()}
    kept = {f"workbook_templates/{name}.xlsx" for name in titles()}
    kept |= {"pyproject.toml", "LICENSE", "README.md", "CHANGELOG.md", "docs/licences.md"}
    kept |= {"gasfuncs/py.typed", "tests/hostile/test_supply_chain.py"}
    assert kept <= found
    assert not [n for n in found if "__pycache__" in n or n.endswith((".pyc", ".oxt"))]
    series = {n for n in found if n.endswith(".npz")}
    assert series
    assert all(n.startswith("gasfuncs/properties/series/") for n in series)
    tried(KIND, "files of the source archive", len(found))


# Installing it.


def pythons() -> dict[str, str]:
    """The supported Pythons that are here, by version."""
    found = {}
    roots = [Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv")) / "versions"]
    for version in SUPPORTED:
        places = [p for root in roots for p in sorted(root.glob(f"{version}.*/bin/python"))]
        places += [Path(p) for p in [shutil.which(f"python{version}")] if p]
        if f"{sys.version_info.major}.{sys.version_info.minor}" == version:
            places.append(Path(sys.executable))
        works = (p for p in places if run_quietly([str(p), "-c", "import venv, ensurepip"]))
        if (first := next(works, None)) is not None:
            found[version] = str(first)
    return found


def run_quietly(command: list[str]) -> bool:
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


def find_uv() -> str:
    """Installs as pip does, in a tenth of its time."""
    module = pytest.importorskip("uv", reason="needs uv")
    return str(module.find_uv_bin())


@pytest.mark.parametrize("which", part(["oldest", "newest"], 2))
def test_installs_and_answers(built: tuple[Path, Path], which: str, tmp_path: Path) -> None:
    here = pythons()
    wanted = SUPPORTED[0] if which == "oldest" else max(here, key=SUPPORTED.index)
    if wanted not in here or (which == "newest" and wanted == SUPPORTED[0]):
        pytest.skip(f"needs Python {wanted if which == 'oldest' else 'newer than ' + wanted}")
    uv = find_uv()
    subprocess.run([uv, "venv", "-q", "--python", here[wanted], tmp_path / "venv"], check=True)
    programs = tmp_path / "venv" / ("Scripts" if os.name == "nt" else "bin")
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}

    def run(program: Path | str, *rest: str) -> str:
        done = subprocess.run(
            [programs / program, *rest], cwd=tmp_path, env=surroundings, capture_output=True,
            text=True, check=False,
        )  # fmt: skip
        if "Failed to fetch" in done.stderr and not IN_CI:
            pytest.skip("needs a package index")
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout.strip()

    run(uv, "pip", "install", "-q", "--python", "venv", "-c", str(LOCK), str(built[0]))
    assert run("gasfuncs", "--version").endswith(gasfuncs.__version__)
    density = float(run("gasfuncs", "evaluate", 'GAS_DENSITY("argon", "1 atm", 0)'))
    assert density == pytest.approx(1.784, abs=5e-4)  # CRC Handbook, argon at 0 °C and 1 atm
    code = (
        "import gasfuncs, importlib.resources as r; "
        "print(*(p for p in (r.files('gasfuncs') / 'workbooks' / 'templates').iterdir()))"
    )
    templates = run("python", "-c", code).split()
    assert len(templates) == len(titles())
    assert "formulas, " in run("gasfuncs", "recalculate", templates[0], "--output", "book.xlsx")
    run(uv, "pip", "check", "--python", "venv")
    tried(KIND, f"installed and used in Python {wanted}")
