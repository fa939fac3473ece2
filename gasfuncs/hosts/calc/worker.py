"""The library as a process of its own: one question a line in, one answer a line out.

LibreOffice brings its own Python, into which the compiled libraries do not load; so its add-in
starts this module in the Python that the library is installed in.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import time
import traceback
from collections.abc import Sequence
from typing import IO, Any

from gasfuncs.definition import Definition, Term
from gasfuncs.definition.terms import AnyCell, Number
from gasfuncs.errors import CellError
from gasfuncs.hosts.calc.refusals import Refusals
from gasfuncs.registry import worksheet_functions

NOT_AVAILABLE = "#N/A"


REFUSALS = Refusals()


def answer(function: str, arguments: Sequence[Any]) -> Any:
    """The value of a cell: a number, a text, a CellError or rows of these."""
    definition = worksheet_functions().get(function)
    if definition is None:
        return CellError(NOT_AVAILABLE, f"{function} is not in this version of gasfuncs")
    told = blanks_told(definition, list(map(_single, arguments)))
    found = definition.cells(*told)
    for refused in _refused(found):
        REFUSALS.tell(function, told, refused.message)
    return found


def _refused(found: Any) -> list[CellError]:
    """The first error of an answer, if it tells why."""
    cells = [cell for row in found for cell in row] if isinstance(found, list) else [found]
    return [cell for cell in cells if isinstance(cell, CellError) and cell.message][:1]


def blanks_told(definition: Definition, arguments: Sequence[Any]) -> list[Any]:
    """Arguments in which the 0 that Calc hands over for a blank cell is a blank where it can be.

    Calc does not tell a blank cell from 0. Where a text is meant, 0 can only be a blank; where a
    number is meant it stays 0, as in Calc's own functions.
    """
    parameters = definition.parameters
    if parameters and parameters[-1].variadic:
        fixed = len(parameters) - 1
        return [*arguments[:fixed], *_blanks_told_of(arguments[:1], arguments[fixed:])]
    told = [
        None if value == 0 and isinstance(value, float) and _is_text(parameter.term) else value
        for parameter, value in zip(parameters, arguments, strict=False)
    ]
    return told + list(arguments[len(told) :])


def _blanks_told_of(function: Sequence[Any], arguments: Sequence[Any]) -> Sequence[Any]:
    """The same for the arguments of a function that another one explains."""
    definition = worksheet_functions().get(str(*function).strip().upper())
    return blanks_told(definition, arguments) if definition else arguments


def _is_text(term: Term) -> bool:
    return not (isinstance(term, Number | AnyCell) or term.whole)


def _single(argument: Any) -> Any:
    """A range of one cell as the value of that cell."""
    one = isinstance(argument, list) and len(argument) == 1 and len(argument[0]) == 1
    return argument[0][0] if one else argument


def _error_in(_constant: str) -> CellError:
    """An error value inside an array argument, which arrives as not-a-number."""
    return CellError("#VALUE!", "the range holds an error")


def _plain(value: Any) -> Any:
    return {"error": value.code} if isinstance(value, CellError) else value.item()


DECODER = json.JSONDecoder(parse_constant=_error_in)
ENCODER = json.JSONEncoder(default=_plain)


class Worker:
    """Answers until the questions end, which they do when the spreadsheet closes."""

    def __init__(self, questions: IO[bytes], answers: IO[bytes]) -> None:
        self.questions = questions
        self.answers = answers
        self.busy_since = 0.0

    def run(self) -> None:
        """Answer question after question."""
        self._say("null")  # ready
        for line in self.questions:
            self.busy_since = time.monotonic()
            self._say(self._answered(line))
            self.busy_since = 0.0

    def end_when_stuck(self, limit: float) -> None:
        """End the process if one answer takes too long, in case nobody is left to end it."""
        while True:
            time.sleep(1)
            if 0 < self.busy_since < time.monotonic() - limit:
                os._exit(1)

    def _answered(self, line: bytes) -> str:
        try:
            return ENCODER.encode(answer(*DECODER.decode(line.decode())))
        except Exception:  # one bad answer must not take the others with it
            traceback.print_exc()
            return ENCODER.encode(CellError("#VALUE!"))

    def _say(self, text: str) -> None:
        self.answers.write(text.encode() + b"\n")
        self.answers.flush()


def main() -> None:
    """Keep the pipe to ourselves, so that nothing printed gets into it, and answer."""
    questions, answers = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    with open(os.devnull, "rb") as nothing:
        os.dup2(nothing.fileno(), 0)
    os.dup2(2, 1)
    worker = Worker(questions, answers)
    limit = float(sys.argv[1])
    threading.Thread(target=worker.end_when_stuck, args=(limit,), daemon=True).start()
    load()
    worker.run()


def load() -> None:
    """Load what the calls need, so that none of them has to wait for it."""
    worksheet_functions()["GAS_DENSITY"].cells("argon", 1, 20)


if __name__ == "__main__":
    main()
