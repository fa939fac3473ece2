"""One small tree of errors; each knows its argument and the spreadsheet error it stands for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

VALUE = "#VALUE!"
NUM = "#NUM!"


class GasFuncsError(Exception):
    """Root of every error the library raises.

    `argument` names the argument at fault (None where no single one is),
    `code` is the error value a spreadsheet cell shows for it,
    `by_row` holds the sentence of each row of a column, "" where it is good, and may be empty.
    """

    code: ClassVar[str] = VALUE

    def __init__(
        self, sentence: str, argument: str | None = None, by_row: tuple[str, ...] = ()
    ) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.argument = argument
        self.by_row = by_row

    def of_row(self, row: int) -> GasFuncsError | None:
        """The error of one row of a column, None where it is good."""
        sentence = self.by_row[row]
        return type(self)(sentence, self.argument) if sentence else None

    def __str__(self) -> str:
        return f"{self.argument}: {self.sentence}" if self.argument else self.sentence

    def about(self, argument: str) -> GasFuncsError:
        """The same error, naming the argument unless it names one already."""
        if self.argument is None:
            self.argument = argument
        return self


class UnreadableError(GasFuncsError):
    """A value that cannot be read: wrong kind, unknown choice, blank where one is needed."""


class UnitError(UnreadableError):
    """A unit that is unknown, ambiguous or of another kind."""


class GasNameError(UnreadableError):
    """A gas or mixture that is not known."""


class ShapeError(UnreadableError):
    """Ranges that do not fit each other."""


class OutOfRangeError(GasFuncsError):
    """A value outside what the argument allows."""

    code = NUM


class StateError(OutOfRangeError):
    """A state that is not the gas (or liquid) that is meant, or beyond its equation of state."""


class NoSolutionError(OutOfRangeError):
    """A target that cannot be reached, or a problem without an answer."""


class TooLongError(NoSolutionError):
    """A problem far from practice, of which no answer was found in time."""


class DefinitionError(GasFuncsError):
    """A mistake in a function's definition; raised at import, never by a call."""


@dataclass(frozen=True, slots=True)
class CellError:
    """An error as a spreadsheet cell holds it, with the sentence behind it."""

    code: str
    message: str = ""

    @classmethod
    def of(cls, error: GasFuncsError) -> CellError:
        return cls(error.code, str(error))

    def __str__(self) -> str:
        return self.code
