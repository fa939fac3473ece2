"""Arrays that take long to make and are kept: those of the pinned CoolProp come with the package.

A file is named by everything that shapes what is in it, so that a changed limit or another CoolProp
finds no old one. `gasfuncs build series` writes those that come with the package.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Generic, TypeVar

import numpy as np
from platformdirs import user_cache_path

from gasfuncs.files import swapped_in
from gasfuncs.properties.gases import FLUIDS, Gas
from gasfuncs.properties.states import Array

SHIPPED = Path(__file__).with_name("series")

Arrays = Mapping[str, Array]
T = TypeVar("T")


@dataclass(frozen=True)
class Keeping(Generic[T]):
    """How one kind of thing is made of a gas, and told as arrays and back."""

    kind: str
    make: Callable[[Gas], T | None]
    pack: Callable[[T], Arrays]
    unpack: Callable[[Arrays], T]
    """Raises whatever it likes on arrays that do not fit."""

    def get(self, gas: Gas, shape: tuple[object, ...]) -> T | None:
        """What is shipped, or kept in the user's cache, or made now and then kept.

        `shape` holds every number that the making depends on besides CoolProp's version.
        """
        name = file_name(gas, self.kind, shape)
        for folder in (SHIPPED, user_folder()):
            found = self.read(folder / name)
            if found is not None:
                return found
        made = self.make(gas)
        if made is not None:
            self.keep(made, user_folder() / name)
        return made

    def write_all(self, folder: Path, shape: tuple[object, ...]) -> Iterator[Path]:
        """Write those of all pure gases into a folder, as they come with the package."""
        for name in FLUIDS:
            gas = Gas(name, ((name, 1.0),))
            made = self.make(gas)
            if made is not None:
                path = folder / file_name(gas, self.kind, shape)
                self.write(made, path)
                yield path

    def keep(self, made: T, path: Path) -> None:
        """Write it where that can be done; without it each process makes its own."""
        with suppress(OSError):
            self.write(made, path)

    def write(self, made: T, path: Path) -> None:
        """Write it beside its place and swap it in. Raises OSError."""
        path.parent.mkdir(parents=True, exist_ok=True)
        with swapped_in(path) as aside, aside.open("wb") as file:
            np.savez(file, **self.pack(made))  # type: ignore[arg-type]

    def read(self, path: Path) -> T | None:
        """What a file keeps, or None where there is none that can be read."""
        try:
            with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
                return self.unpack({name: np.asarray(kept[name], float) for name in kept.files})
        except Exception:  # however it is damaged, it is made anew
            return None


def file_name(gas: Gas, kind: str, shape: tuple[object, ...]) -> str:
    """The name of a kept file: what it is of, and a digest of all that shapes it."""
    shaped_by = repr((version("CoolProp"), FLUIDS[gas.name], kind, shape))
    digest = hashlib.sha256(shaped_by.encode()).hexdigest()[:16]
    return f"{gas.name.replace(' ', '-')}-{kind}-{digest}.npz"


def user_folder() -> Path:
    """The user's cache, which may be emptied at any time."""
    return user_cache_path("gasfuncs")
