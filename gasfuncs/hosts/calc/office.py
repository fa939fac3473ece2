"""Finds LibreOffice, and adds the add-in to it or takes it away."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import gasfuncs
from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts.calc.extension import CONTENT, IDENTIFIER, RUNS_IN, TIME_LIMIT, build, content
from gasfuncs.hosts.calc.refusals import latest, log_file
from gasfuncs.hosts.status import DRY_RUN, Status

OLDEST = (25, 2)
"""The oldest LibreOffice that finds an add-in's functions by name in an .xlsx file."""

PATIENCE = 180
"""Seconds that LibreOffice's own programs may take."""

ITS_FOLDER = (
    "It keeps extensions in the folder of your LibreOffice settings: see that you may write there; "
    "if that folder is damaged, Help, Restart in Safe Mode in LibreOffice mends it"
)

GET_IT = "install LibreOffice 25.2 or newer, or add its program folder to PATH"


class OfficeError(GasFuncsError):
    """LibreOffice is missing, or refused what was asked of it."""


def install(
    python: str = sys.executable, profile: Path | None = None, time_limit: float = TIME_LIMIT,
    dry_run: bool = False,
) -> list[str]:  # fmt: skip
    """Build the add-in for this Python and add it to the user's LibreOffice.

    Returns what it found and did, a sentence each; raises OfficeError. `profile` is another
    LibreOffice user profile than the usual one, `time_limit` the seconds a call may take.
    """
    office = _the_office()
    with tempfile.TemporaryDirectory() as folder:
        file = build(Path(folder) / "gasfuncs.oxt", python, time_limit)
        if not dry_run:
            extension_manager(office, ["add", "--force", "--suppress-license", str(file)], profile)
    return [
        *([DRY_RUN] if dry_run else []),
        *_version_sentences(office),
        f"Added the add-in; its functions run in {python}.",
        "Close LibreOffice and open it again if it was running.",
    ]


def uninstall(profile: Path | None = None, dry_run: bool = False) -> list[str]:
    """Take the add-in out of the user's LibreOffice; returns what it did, a sentence each."""
    office = _the_office()
    if not _listing(office, profile):
        return [f"The add-in was not in LibreOffice at {office}."]
    if not dry_run:
        extension_manager(office, ["remove", IDENTIFIER], profile)
    return [*([DRY_RUN] if dry_run else []), f"Took the add-in out of LibreOffice at {office}."]


def status(profile: Path | None = None) -> Status:
    """Whether LibreOffice is there and new enough, and the add-in installed and sound."""
    office = find_office()
    if office is None:
        return Status(False, (f"LibreOffice was not found; {GET_IT}.",))
    version = office_version(office)
    sentences = _version_sentences(office)
    try:
        listing = _listing(office, profile)
    except OfficeError as error:
        return Status(False, (*sentences, f"{error}."))
    problem = _add_in_problem(listing)
    if problem:
        sentences.append(f'{problem}: run "gasfuncs install calc".')
    else:
        sentences.append(f"The add-in is installed; its functions run in {_python_in(listing)}.")
    told = [] if problem else latest(3)
    if told:
        sentences += [f"Why cells were refused is told in {log_file()}; the latest:", *told]
    return Status(not problem and version is not None and version >= OLDEST, tuple(sentences))


def find_office() -> Path | None:
    """LibreOffice's program, wherever this operating system keeps it."""
    for candidate in _candidates():
        program = candidate.resolve()
        if program.is_file() and _package_manager(program).is_file():
            return program
    return None


def _candidates() -> Iterator[Path]:
    if sys.platform == "win32":
        for variable in ("ProgramFiles", "ProgramW6432", "ProgramFiles(x86)"):
            if variable in os.environ:
                yield Path(os.environ[variable], "LibreOffice", "program", "soffice.com")
    for name in ("soffice", "libreoffice"):
        found = shutil.which(name)
        if found:
            yield Path(found)
    if sys.platform == "darwin":
        for folder in (Path("/Applications"), Path.home() / "Applications"):
            yield folder / "LibreOffice.app/Contents/MacOS/soffice"
    for pattern in ("usr/lib*/libreoffice", "opt/libreoffice*"):
        for folder in sorted(Path("/").glob(pattern), reverse=True):
            yield folder / "program" / "soffice"


def office_version(office: Path) -> tuple[int, int] | None:
    """Its version, such as (25, 2); None where it does not say."""
    try:
        said = _output([str(office), "--version"])
    except OfficeError:
        return None
    match = re.search(r"LibreOffice\D* (\d+)\.(\d+)", said)
    return (int(match[1]), int(match[2])) if match else None


def _the_office() -> Path:
    office = find_office()
    if office is None:
        raise OfficeError(f"LibreOffice was not found; {GET_IT}")
    return office


def _version_sentences(office: Path) -> list[str]:
    version = office_version(office)
    if version is None:
        return [f"Found LibreOffice at {office}, which does not tell its version."]
    number = f"{version[0]}.{version[1]}"
    sentences = [f"Found LibreOffice {number} at {office}."]
    if version < OLDEST:
        sentences.append(
            f"LibreOffice {number} does not find the functions in .xlsx files, only in .ods "
            f"files: {GET_IT}."
        )
    if "/snap/" in str(office):
        sentences.append(
            "This LibreOffice is a Snap, which may not start other programs: the functions need "
            "LibreOffice from your distribution or from its own packages."
        )
    return sentences


def _add_in_problem(listing: str) -> str:
    if not listing:
        return "The add-in is not installed"
    if f"Version: {gasfuncs.__version__}\n" not in listing:
        return f"The add-in is of another version than {gasfuncs.__version__}"
    if f"{CONTENT}{content()} " not in listing:
        return "The add-in has other functions than this gasfuncs"
    return _python_problem(_python_in(listing))


def _python_problem(python: str) -> str:
    if not python:
        return "The add-in does not tell which Python it runs in"
    if not Path(python).is_file():
        return f"The add-in runs in {python}, which is gone"
    try:
        _output([python, "-E", "-P", "-c", "import gasfuncs.hosts.calc.worker"])
    except OfficeError:
        return f"The add-in runs in {python}, which lacks gasfuncs or a part of it"
    return ""


def _python_in(listing: str) -> str:
    """The Python that the installed add-in was built for, from its description."""
    path = listing.partition(RUNS_IN)[2].partition("\n")[0].strip()
    return re.sub(r"&#(\d+);", lambda letter: chr(int(letter[1])), path)


def _listing(office: Path, profile: Path | None) -> str:
    """What LibreOffice tells of the installed add-in; "" where there is none."""
    heading = "Identifier: "
    extensions = extension_manager(office, ["list"], profile).split(heading)
    return next((each for each in extensions if each.startswith(f"{IDENTIFIER}\n")), "")


def _package_manager(office: Path) -> Path:
    return office.with_name("unopkg.com" if sys.platform == "win32" else "unopkg")


def extension_manager(office: Path, arguments: list[str], profile: Path | None) -> str:
    """Run LibreOffice's own extension manager."""
    verb, *rest = arguments
    if hasattr(os, "geteuid") and os.geteuid() == 0:  # unopkg refuses root for a user's profile
        rest = ["--bundled", "--deployment-context", "user", *rest]
    if profile is not None:
        rest.insert(0, f"-env:UserInstallation={profile.resolve().as_uri()}")
    return _output([str(_package_manager(office)), verb, *rest], ITS_FOLDER)


def _output(command: list[str], advice: str = "") -> str:
    try:
        done = subprocess.run(
            command, capture_output=True, text=True, timeout=PATIENCE, stdin=subprocess.DEVNULL,
            errors="replace", check=False,
        )  # fmt: skip
    except OSError as error:
        raise OfficeError(f"{command[0]} did not run: {error}") from None
    except subprocess.TimeoutExpired:
        raise OfficeError(
            f"{Path(command[0]).name} did not end within {PATIENCE} s: close LibreOffice in all "
            "its windows and try again"
        ) from None
    if done.returncode:
        printed = done.stderr or done.stdout
        said = " ".join((printed.partition("ERROR: ")[2] or printed).split())
        raise OfficeError(f"{Path(command[0]).name} {command[1]} failed: {said} {advice}".strip())
    return done.stdout
