"""Whatever fails while a file is written: the original or the complete result is there."""

from __future__ import annotations

import contextlib
import json
import os
import random
import shutil
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from gasfuncs.cli import main
from gasfuncs.files import swapped_in
from gasfuncs.hosts import calc
from gasfuncs.hosts.headless import WorkbookError, recalculate
from gasfuncs.hosts.headless.errors import WorkbookInUseError, WorkbookNotSavedError
from gasfuncs.properties import gas, tables
from tests.headless.fakes import build, functions, values
from tests.hostile.counts import tried
from tests.thorough import tries

KIND = "faults"
HOUSE = Path(__file__).parents[2]

posix = pytest.mark.skipif(os.name != "posix", reason="needs signals and limits of POSIX")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return build(tmp_path / "book.xlsx", {"A1": 2, "B1": "=GAS_TWICE(A1)"})


def run(path: Path, **options: object) -> None:
    recalculate(path, functions=functions(), **options)  # type: ignore[arg-type]


def alone(path: Path, code: str) -> list[str]:
    """A command that does something with a file in a process of its own.

    It starts soon, without the library's own functions.
    """
    given = (
        "import sys; path = sys.argv[1]; from tests.headless.fakes import functions; "
        "from gasfuncs.hosts.headless import recalculate, WorkbookError"
    )
    return [sys.executable, "-c", f"{given}\n{code}", str(path)]


@posix
@pytest.mark.parametrize(
    "job", ["recalculated", "recalculated_elsewhere", "workbook", "extension", "table", "imported"]
)
def test_killed_or_without_room_at_any_moment(job: str, tmp_path: Path) -> None:
    if job == "imported":
        pytest.importorskip("pyarrow", reason="needs the extra: gasfuncs[import]")
    command = [sys.executable, "-m", "tests.hostile.dying", job, str(tmp_path / "folder")]
    done = subprocess.run(
        command, cwd=HOUSE, env={**os.environ, "TMPDIR": str(tmp_path)}, capture_output=True,
        text=True, timeout=200, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    for kind, found in json.loads(done.stdout).items():
        what = f"{job}, {kind}"
        assert not {"half", "failed"} & set(found), (what, found, done.stderr)
        assert not found.get("left behind"), what
        assert found["old"] >= tries(6, 20), (what, found)
        if kind == "no room on the disk":
            assert found["done" if job == "table" else "refused"] == sum_of_states(found)
        else:
            assert found["died"] == sum_of_states(found)
        if kind == "killed at a call to the system":
            assert found["new"] >= 1, "it was never killed after the swap"
        tried(KIND, what.replace("_", " "), sum_of_states(found))


def sum_of_states(found: dict[str, int]) -> int:
    return found["old"] + found.get("new", 0)


@posix
def test_killed_at_random_times(tmp_path: Path) -> None:
    """From outside, as a user or the system does it."""
    path = build(
        tmp_path / "book.xlsx",
        {f"A{n}": f"=GAS_TWICE({n})" for n in range(1, 4000)},
    )
    old = path.read_bytes()
    run(path)
    new = path.read_bytes()
    command = alone(path, "recalculate(path, functions=functions())")
    started = time.monotonic()
    path.write_bytes(old)
    subprocess.run(command, cwd=HOUSE, check=True)
    whole = time.monotonic() - started
    chance = random.Random(20260101)
    for _ in range(tries(4, 12)):
        path.write_bytes(old)
        surroundings = {**os.environ, "TMPDIR": str(tmp_path)}
        with subprocess.Popen(command, cwd=HOUSE, env=surroundings) as process:
            time.sleep(whole * chance.uniform(0.3, 1.05))
            process.kill()
        assert path.read_bytes() in (old, new)
        tried(KIND, "recalculated, killed from outside at random times")


def at(where: str, act: Callable[[], object]) -> Callable[[int, int, str], None]:
    """A progress callback that does something once, at a stage."""
    waiting = [act]

    def progress(_done: int, _total: int, what: str) -> None:
        if what == where and waiting:
            waiting.pop()()

    return progress


def test_changed_by_another_program_meanwhile(book: Path) -> None:
    other = build(book.with_name("other"), {"A1": 5, "B1": "=GAS_TWICE(A1)"}).read_bytes()
    for write in (lambda: book.write_bytes(other), lambda: swap(book, other)):
        build(book, {"A1": 2, "B1": "=GAS_TWICE(A1)"})
        with pytest.raises(WorkbookInUseError, match="changed by another program"):
            run(book, progress=at("computing", write))
        assert book.read_bytes() == other
        assert sorted(p.name for p in book.parent.iterdir()) == ["book.xlsx", "other"]
        tried(KIND, "changed by another program meanwhile")
    run(book)
    assert values(book)["B1"] == 10


def swap(path: Path, data: bytes) -> None:
    with swapped_in(path) as aside:
        aside.write_bytes(data)


@pytest.mark.parametrize("lock", ["~$book.xlsx", ".~lock.book.xlsx#"])
@pytest.mark.parametrize("when", ["before", "meanwhile", "dangling", "beside a link"])
def test_open_in_another_program(book: Path, lock: str, when: str) -> None:
    before = book.read_bytes()
    file, opened, progress = book.with_name(lock), book, None
    if when == "meanwhile":
        progress = at("computing", file.touch)
    elif when == "dangling":
        file.symlink_to("user@computer.1234:5678")
    else:
        file.touch()
    if when == "beside a link":
        opened = book.with_name("link.xlsx")
        opened.symlink_to(book)
    with pytest.raises(WorkbookInUseError, match="open in another program"):
        run(opened, progress=progress)
    assert book.read_bytes() == before
    tried(KIND, "open in another program")


def test_recalculated_by_several_at_once(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {f"A{n}": f"=GAS_TWICE({n})" for n in range(1, 300)})
    old = path.read_bytes()
    run(path)
    new = path.read_bytes()
    command = alone(
        path,
        "try: print(recalculate(path, functions=functions()).ok)\n"
        "except WorkbookError as e: print(e)",
    )
    for _ in range(tries(1, 3)):
        path.write_bytes(old)
        running = [
            subprocess.Popen(command, cwd=HOUSE, stdout=subprocess.PIPE, text=True)
            for _ in range(4)
        ]
        said = [process.communicate(timeout=60)[0] for process in running]
        assert all(line == "True\n" or "changed by another program" in line for line in said)
        assert "True\n" in said
        assert path.read_bytes() == new
        assert [p.name for p in tmp_path.iterdir()] == ["book.xlsx"]
        tried(KIND, "recalculated by four processes at once")


# Places that cannot be written to.


def test_the_folder_goes_away(book: Path) -> None:
    folder = book.parent / "folder"
    folder.mkdir()
    moved = Path(shutil.move(book, folder / "book.xlsx"))
    before = moved.read_bytes()
    with pytest.raises(WorkbookError):
        run(moved, progress=at("computing", lambda: folder.rename(book.parent / "gone")))
    assert (book.parent / "gone/book.xlsx").read_bytes() == before
    assert not folder.exists()
    tried(KIND, "places that cannot be written to")


@pytest.mark.parametrize(
    "target",
    [os.devnull, "folder", "book.xlsx/result.xlsx", "none/result.xlsx", "x" * 300 + ".xlsx"],
)
def test_what_cannot_be_a_target(book: Path, target: str) -> None:
    before = book.read_bytes()
    (book.parent / "folder").mkdir()
    output = book.parent / target
    with pytest.raises(WorkbookNotSavedError):
        run(book, output=output)
    with pytest.raises(OSError, match=r"\["):
        calc.build(output)
    tried(KIND, "places that cannot be written to", 3)
    command = ["workbook", "delivery_check", str(output), "--force", "--rows", "1"]
    result = CliRunner().invoke(main, command)
    if target != "folder":  # a workbook goes into a folder
        assert result.exit_code == 1
        assert result.output.startswith("Error: ")
    assert book.read_bytes() == before
    assert not Path(os.devnull).is_file()


def as_nobody(work: Callable[[], None]) -> int:
    """Run in a fork without root's rights; 0 where nothing was raised."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    code = 9
    try:
        os.setgid(65534)
        os.setuid(65534)
        work()
        code = 0
    finally:
        os._exit(code)


@posix
@pytest.mark.skipif(getattr(os, "geteuid", int)() != 0, reason="needs root, to step down from")
@pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")
def test_without_permission() -> None:
    folder = Path("/var/tmp") / f"gasfuncs-{os.getpid()}"
    folder.mkdir()
    try:
        path = build(folder / "book.xlsx", {"A1": 2, "B1": "=GAS_TWICE(A1)"})
        before = path.read_bytes()
        run(path)
        path.write_bytes(before)

        def refused() -> None:
            with pytest.raises(WorkbookError, match=r"read-only|Permission denied"):
                run(path)

        for mode, folder_mode in ((0o644, 0o777), (0o444, 0o777), (0o666, 0o755), (0o600, 0o777)):
            path.chmod(mode)
            folder.chmod(folder_mode)
            assert as_nobody(refused) == 0, f"{mode:o} in {folder_mode:o}"
            assert path.read_bytes() == before
            tried(KIND, "without permission for the file or the folder")
        path.chmod(0o666)
        folder.chmod(0o777)
        assert as_nobody(lambda: run(path)) == 0
        assert values(path)["B1"] == 4
    finally:
        shutil.rmtree(folder)


@contextlib.contextmanager
def mounted(folder: Path, options: str) -> Iterator[None]:
    """A file system of its own in a folder."""
    folder.mkdir(exist_ok=True)
    command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)]
    if not shutil.which("mount") or subprocess.run(command, capture_output=True).returncode:  # noqa: PLW1510
        pytest.skip("needs the right to mount")
    try:
        yield
    finally:
        subprocess.run(["umount", str(folder)], check=True)


@posix
def test_a_disk_that_is_really_full(book: Path) -> None:
    before = book.read_bytes()
    folder = book.parent / "disk"
    with mounted(folder, "size=32k"):
        shutil.copy(book, folder)
        (folder / "filler").write_bytes(bytes(20_000))
        for output in (None, folder / "result.xlsx"):
            with pytest.raises(WorkbookNotSavedError, match="No space left"):
                run(folder / "book.xlsx", output=output)
            tried(KIND, "a disk that is really full")
        with pytest.raises(OSError, match="No space left"):
            calc.build(folder / "gasfuncs.oxt")
        command = ["workbook", "monthly_gas_usage", str(folder / "new.xlsx")]
        result = CliRunner().invoke(main, command)
        assert result.exit_code == 1
        assert "No space left" in result.output
        tried(KIND, "a disk that is really full", 2)
        assert sorted(p.name for p in folder.iterdir()) == ["book.xlsx", "filler"]
        assert (folder / "book.xlsx").read_bytes() == before


@posix
def test_a_disk_that_is_read_only(book: Path) -> None:
    folder = book.parent / "disk"
    with mounted(folder, "size=1m"):
        shutil.copy(book, folder)
        subprocess.run(["mount", "-o", "remount,ro", str(folder)], check=True)
        with pytest.raises(WorkbookNotSavedError, match=r"Read-only|read-only"):
            run(folder / "book.xlsx")
        tried(KIND, "a disk that is read-only")


# What is handed on to the new file.


@posix
def test_links_owners_permissions_and_times(book: Path) -> None:
    os.utime(book, (1, 1))
    book.chmod(0o640)
    owner = (12345, 23456) if os.geteuid() == 0 else (os.getuid(), os.getgid())
    os.chown(book, *owner)
    with contextlib.suppress(OSError):
        os.setxattr(book, "user.note", b"kept")
    marked = dict.fromkeys(os.listxattr(book))
    first, second = book.with_name("first.xlsx"), book.with_name("second.xlsx")
    first.symlink_to(book.name)
    second.symlink_to(first)
    hard = book.with_name("hard.xlsx")
    hard.hardlink_to(book)
    before = book.read_bytes()
    now = time.time()
    run(second)
    assert second.is_symlink()
    assert first.is_symlink()
    assert values(book)["B1"] == 4
    found = book.stat()
    assert stat.S_IMODE(found.st_mode) == 0o640
    assert (found.st_uid, found.st_gid) == owner
    assert found.st_mtime > now - 5
    assert dict.fromkeys(os.listxattr(book)) == marked
    assert hard.read_bytes() == before
    tried(KIND, "links, owner, permissions, times, marks kept", 6)


@posix
def test_new_files_are_as_private_as_their_source(book: Path) -> None:
    book.chmod(0o600)
    output = book.with_name("output.xlsx")
    run(book, output=output)
    assert stat.S_IMODE(output.stat().st_mode) == 0o600
    old = os.umask(0o027)
    try:
        calc.build(book.with_name("gasfuncs.oxt"))
    finally:
        os.umask(old)
    assert stat.S_IMODE(book.with_name("gasfuncs.oxt").stat().st_mode) == 0o640
    tried(KIND, "links, owner, permissions, times, marks kept", 2)


def test_output_to_a_dangling_link(book: Path) -> None:
    link, there = book.with_name("link.xlsx"), book.with_name("there.xlsx")
    link.symlink_to(there)
    run(book, output=link)
    assert link.is_symlink()
    assert values(there)["B1"] == 4
    tried(KIND, "links, owner, permissions, times, marks kept")


def test_a_circle_of_links(tmp_path: Path) -> None:
    one, two = tmp_path / "one.xlsx", tmp_path / "two.xlsx"
    one.symlink_to(two)
    two.symlink_to(one)
    with pytest.raises(WorkbookError, match="no file"):
        run(one)
    tried(KIND, "links, owner, permissions, times, marks kept")


# The cache of tables.


STATES = np.linspace(0, 300e5, 50), np.linspace(250, 1500, 50)


def test_a_damaged_table_is_never_believed(tmp_path: Path) -> None:
    made = tables.made(gas("helium"))
    assert made is not None
    path = tmp_path / "helium.npz"
    tables.KEEPING.write(made, path)
    whole = path.read_bytes()
    chance = random.Random(20260101)
    for _ in range(tries(300, 1000)):
        damaged = bytearray(whole)
        if chance.random() < 0.2:
            del damaged[chance.randrange(len(damaged)) :]
        else:
            damaged[chance.randrange(len(damaged))] ^= 1 << chance.randrange(8)
        path.write_bytes(damaged)
        found = tables.KEEPING.read(path)
        if found is not None:
            np.testing.assert_array_equal(found.molar_density(*STATES), made.molar_density(*STATES))
        tried(KIND, "damaged tables in the cache")


@pytest.fixture
def interruptible() -> Iterator[None]:
    """As in the foreground; in the background a shell has the signal ignored."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@posix
@pytest.mark.usefixtures("interruptible")
def test_interrupted_by_the_user(book: Path) -> None:
    """Ctrl-C while it is computed."""
    before = book.read_bytes()
    interrupt = at("computing", lambda: signal.raise_signal(signal.SIGINT))
    with pytest.raises(KeyboardInterrupt):
        run(book, progress=interrupt)
    assert book.read_bytes() == before
    assert [p.name for p in book.parent.iterdir()] == ["book.xlsx"]
    tried(KIND, "interrupted by the user")
