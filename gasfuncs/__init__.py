"""Industrial-gas calculations for vacuum heat treating, as worksheet functions and in Python.

`gasfuncs.GAS_DENSITY("argon", "80 psig", "70 degF", "lb/ft3")` takes and returns what a cell
would; the SI functions underneath are in `gasfuncs.calculations`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gasfuncs.errors import CellError as CellError
from gasfuncs.errors import GasFuncsError as GasFuncsError

if TYPE_CHECKING:
    from collections.abc import Callable

__version__ = "0.1.0"


def __getattr__(name: str) -> Callable[..., Any] | list[str]:
    """The worksheet functions, loaded when the first of them is asked for, or all by a star."""
    if name == "__all__":
        return __dir__()
    if name.startswith("GAS_"):
        from gasfuncs.hosts.python import python_function
        from gasfuncs.registry import worksheet_functions

        found = worksheet_functions().get(name)
        if found is not None:
            return python_function(found)
    raise AttributeError(f"module 'gasfuncs' has no attribute '{name}'")


def __dir__() -> list[str]:
    from gasfuncs.registry import worksheet_functions

    return ["CellError", "GasFuncsError", "__version__", *worksheet_functions()]
