"""Whether some check notices a bug: the checks that call its function, then the module's own tests.

Each bug is tried in a fork of a process that has everything imported. A bug inside a function is
put in by its code alone; one outside of all functions, or in one that no check calls, by importing
the package anew.
"""

from __future__ import annotations

import contextlib
import functools
import gc
import importlib
import importlib.abc
import importlib.machinery
import importlib.util
import io
import os
import re
import resource
import sys
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

import pytest

from gasfuncs.hosts.formula import read_call
from gasfuncs.registry import worksheet_functions
from tests.checks import every
from tests.mutations.mutants import Mutant

ROOT = Path(__file__).parents[2]
TESTS = ROOT / "tests"
STUBS = ROOT / "gasfuncs" / "__init__.pyi"
OF_PACKAGE = {
    "units": ["test_units.py"],
    "properties": ["test_states.py", "test_tables.py", "test_motion.py", "test_mixtures.py"],
}
IMPORTED_ANEW = ("gasfuncs", "tests.checks", "tests.capillary", "tests.test_", "tests.calculations")

LEAST_SECONDS, TIMES_LONGER = 20.0, 5.0
"""Of the processor: what takes longer than this and so many times what it takes without a bug
counts as noticed, as the whole suite would not end."""
LONGEST_TESTS = 40.0
"""Seconds of the processor: tests that take longer are not run for each bug that is left."""

NOTHING = "nothing"
"""What noticed a bug that survived."""


def fails(check: every.Check) -> bool:
    """Whether a check fails, or cannot even be asked."""
    try:
        return bool(every.unmet(check, told))
    except Exception:  # whatever a bug leads to
        return True


def told(text: str) -> Any:
    return read_call(text, lambda function, arguments: function.cells(*arguments))


@dataclass(frozen=True)
class Covered:
    """The functions that a check calls, as "file:function", and how long it takes."""

    place: int
    asks: str
    """The worksheet function that its formula names first."""
    functions: frozenset[str]
    seconds: float

    def calls(self, mutant: Mutant) -> bool:
        """Whether it calls the function of a bug, or any of the module where it is outside."""
        start = f"{mutant.path}:"
        if mutant.function:
            return start + mutant.function in self.functions
        return any(name.startswith(start) for name in self.functions)


def covered() -> list[Covered]:
    """Every check with the functions that it calls, caches emptied before each."""
    return [_covered(place, check) for place, check in enumerate(every.everything())]


def _covered(place: int, check: every.Check) -> Covered:
    forget(("gasfuncs.calculations", "gasfuncs.explain"))
    codes: set[CodeType] = set()
    sys.setprofile(lambda frame, event, _: codes.add(frame.f_code) if event == "call" else None)
    began = time.thread_time()
    bad = fails(check)
    seconds = time.thread_time() - began
    sys.setprofile(None)
    if bad:
        raise RuntimeError(f"fails without a bug: {check.formula}")
    asks = check.formula.partition("(")[0]
    return Covered(place, asks, frozenset(filter(None, map(_name_of, codes))), seconds)


def _name_of(code: CodeType) -> str:
    """ "file:function" of the outermost function around code of ours."""
    if "/gasfuncs/" not in code.co_filename:
        return ""
    return f"{code.co_filename}:{code.co_qualname.partition('.<locals>')[0]}"


def forget(modules: tuple[str, ...]) -> None:
    """Empty what functions of some modules, and the tables of all, keep of their answers."""
    for definition in worksheet_functions().values():
        definition.__dict__.pop("kept", None)
    for each in _caches():
        if str(getattr(each, "__module__", "")).startswith(modules):
            each.cache_clear()


@functools.cache
def _caches() -> list[Any]:
    return [each for each in gc.get_objects() if isinstance(each, functools._lru_cache_wrapper)]


@dataclass(frozen=True)
class Tests:
    """Test files of a module, and how long they take."""

    files: tuple[Path, ...]
    seconds: float


class Judge:
    """Tries bugs one after another."""

    def __init__(self, tests: bool) -> None:
        importlib.import_module("CoolProp.CoolProp")  # takes long, and each bug would wait for it
        self.covered = covered()
        self._tests: dict[Path, Tests] = {}
        self._asks_tests = tests

    def verdict(self, mutant: Mutant) -> str:
        """What noticed a bug, NOTHING where nothing did."""
        tests = self.tests(mutant.path)
        return _in_a_fork(lambda: self._noticed(mutant, tests), f"{mutant.path} {mutant.key}")

    def tests(self, path: Path) -> Tests:
        """The tests of a module that are run for each bug that its checks let pass."""
        if path not in self._tests:
            files = tests_of(path) if self._asks_tests else ()
            seconds = float(_in_a_fork(lambda: _seconds_of(files), f"{files}")) if files else 0.0
            self._tests[path] = Tests(files if seconds < LONGEST_TESTS else (), seconds)
        return self._tests[path]

    def _chosen(self, mutant: Mutant) -> list[Covered]:
        """The checks that call the function of a bug; of a bug outside of all functions those of
        the worksheet functions that use the module, as a limit refuses before any is called."""
        calling = [one for one in self.covered if one.calls(mutant)]
        if mutant.function:
            return calling
        asked = {one.asks for one in calling}
        return [one for one in self.covered if one.asks in asked]

    def _noticed(self, mutant: Mutant, tests: Tests) -> str:
        chosen = self._chosen(mutant)
        work = sum(one.seconds for one in chosen or self.covered)
        _limit(LEAST_SECONDS + TIMES_LONGER * (work + tests.seconds))
        try:
            put_in(mutant, anew=not (mutant.function and chosen))
            checks = every.everything()
        except Exception as error:  # whatever a bug leads to at import
            return f"import: {type(error).__name__}"
        tests_first = not chosen or mutant.path.parent.name in OF_PACKAGE
        if tests_first and not _pass(tests.files):
            return _named(tests)
        for one in sorted(chosen or self.covered, key=lambda one: one.seconds):
            if fails(checks[one.place]):
                return checks[one.place].formula
        if not mutant.function and _stubs() != STUBS.read_text(encoding="utf-8"):
            return "type stubs, which tell defaults"
        _limit(LEAST_SECONDS + TIMES_LONGER * tests.seconds)
        return NOTHING if tests_first or _pass(tests.files) else _named(tests)


def _stubs() -> str:
    """The type stubs of the functions as a bug may have made them."""
    return str(importlib.import_module("gasfuncs.hosts.stubs").stubs())


def _named(tests: Tests) -> str:
    return f"tests: {[file.name for file in tests.files]}"


def _seconds_of(files: tuple[Path, ...]) -> str:
    began = time.process_time()
    if not _pass(files):
        raise RuntimeError(f"fail without a bug: {files}")
    return str(time.process_time() - began)


def _pass(files: tuple[Path, ...]) -> bool:
    """Whether test files pass, in this process."""
    if not files:
        return True
    ended = pytest.main(["-x", "-q", "-p", "no:cacheprovider", *map(str, files)])
    if ended not in (pytest.ExitCode.OK, pytest.ExitCode.TESTS_FAILED, pytest.ExitCode.INTERRUPTED):
        raise RuntimeError(f"pytest ended with {ended}")
    return ended == pytest.ExitCode.OK


def _in_a_fork(work: Callable[[], str], name: str) -> str:
    """What some work says, done in a process of its own, whatever becomes of that."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        _work(work, writing)
    os.close(writing)
    with os.fdopen(reading) as pipe:
        said = pipe.read()
    _, status = os.waitpid(child, 0)
    if said:
        return said
    if os.WIFSIGNALED(status):
        return f"signal {os.WTERMSIG(status)}: it does not end, or dies"
    raise RuntimeError(f"{name} could not be tried")


def _work(work: Callable[[], str], writing: int) -> None:
    """Never returns."""
    try:
        quiet = io.StringIO()
        with contextlib.redirect_stdout(quiet), contextlib.redirect_stderr(quiet):
            said = work()
        os.write(writing, said.encode()[:1000])
    except BaseException:  # of this module, not of the bug
        traceback.print_exc(file=sys.__stderr__)
    finally:
        os._exit(0)


def _limit(seconds: float) -> None:
    """Of the processor, from now on."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    soft = int(used.ru_utime + used.ru_stime + seconds)
    resource.setrlimit(resource.RLIMIT_CPU, (soft, resource.RLIM_INFINITY))


def tests_of(path: Path) -> tuple[Path, ...]:
    """The test files of a module: of its name or that import it, else those of the modules that
    import it, or import these."""
    if path.parent.name in OF_PACKAGE:
        return tuple(TESTS / name for name in OF_PACKAGE[path.parent.name])
    asked, modules = set[Path](), {path}
    while modules:
        files = {file for module in modules for file in _own_tests(module)}
        if files:
            return tuple(sorted(files))
        asked |= modules
        users = {user for module in modules for user in _importing(module, path.parent)}
        modules = users - asked
    return ()


def _own_tests(module: Path) -> set[Path]:
    folder = TESTS / "calculations"
    named = folder / f"test_{module.stem}.py"
    return _importing(module, folder) | ({named} if named.exists() else set())


def _importing(module: Path, folder: Path) -> set[Path]:
    """The files of a folder that import a module of calculations."""
    name = module.stem
    importing = rf"from gasfuncs\.calculations(\.{name} import| import [^)]*?\b{name}\b)"
    return _with(importing, folder.glob("*.py"))


def _with(pattern: str, files: Iterator[Path]) -> set[Path]:
    return {file for file in files if re.search(pattern, file.read_text(encoding="utf-8"))}


def put_in(mutant: Mutant, anew: bool) -> None:
    """Put a bug into this process; `anew` where its function may have run at import alone."""
    if not anew and mutant.path.parent.name != "units":
        swap(mutant)
        everything = mutant.path.parent.name == "properties"
        forget(("gasfuncs",) if everything else ("gasfuncs.calculations", "gasfuncs.explain"))
        return
    for name in [name for name in sys.modules if name.startswith(IMPORTED_ANEW)]:
        del sys.modules[name]
    sys.meta_path.insert(0, _Finder(mutant))
    importlib.reload(sys.modules[__name__])


def swap(mutant: Mutant) -> None:
    """Give a function, wherever it is kept, its code with the bug."""
    codes = {(code.co_qualname, code.co_firstlineno): code for code in codes_in(mutant.code())}
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and each.__code__.co_filename == str(mutant.path):
            key = each.__code__.co_qualname, each.__code__.co_firstlineno
            each.__code__ = codes.get(key, each.__code__)


def codes_in(code: Any) -> Iterator[CodeType]:
    """The code of every function inside other code."""
    for each in code.co_consts:
        if isinstance(each, CodeType):
            yield each
            yield from codes_in(each)


class _Finder(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Imports one module from code with a bug in it."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant
        parts = mutant.path.relative_to(ROOT).with_suffix("").parts
        self.name = ".".join(parts).removesuffix(".__init__")

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self.name:
            return None
        return importlib.util.spec_from_file_location(fullname, self.mutant.path, loader=self)

    def create_module(self, spec: importlib.machinery.ModuleSpec) -> ModuleType | None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        exec(self.mutant.code(), module.__dict__)
