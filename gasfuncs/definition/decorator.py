"""Makes a definition of a calculation: reads the signature, refuses gaps."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from dataclasses import replace
from types import UnionType
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin, get_type_hints

from gasfuncs.definition.altitude import altitude_cautions
from gasfuncs.definition.function import Definition
from gasfuncs.definition.names import name_problems, text_problems
from gasfuncs.definition.record import (
    REQUIRED,
    Columns,
    Example,
    Parameter,
    Source,
    unit_parameter,
)
from gasfuncs.definition.terms import AlsoMass, Number, Of, Symbol, Term
from gasfuncs.errors import DefinitionError

PREFIX = "GAS_"
ATTRIBUTE = "definition"


F = TypeVar("F", bound=Callable[..., Any])


def worksheet_function(
    *,
    equation: str,
    sources: tuple[str, ...],
    example: tuple[str, str],
    cautions: tuple[str, ...] = (),
    scalar: bool = False,
    integrates: bool = False,
) -> Callable[[F], F]:
    """Attach a definition to a calculation, which stays an ordinary function in SI.

    Names, order and defaults come from the signature, everything about an argument or the
    result from its annotation, the summary from the docstring's first line. `scalar` marks a
    calculation that takes one value at a time, `integrates` one that is slow; what cells ask of
    either is kept. Raises DefinitionError on any gap.
    """

    def attach(calculation: F) -> F:
        definition = _define(
            calculation, equation, tuple(Source(s) for s in sources), Example(*example),
            cautions, scalar, integrates,
        )  # fmt: skip
        problems = list(_problems(definition))
        if problems:
            raise DefinitionError(f"{definition.name}: {'; '.join(problems)}")
        setattr(calculation, ATTRIBUTE, definition)
        return calculation

    return attach


def _define(
    calculation: Callable[..., Any],
    equation: str,
    sources: tuple[Source, ...],
    example: Example,
    cautions: tuple[str, ...],
    scalar: bool,
    integrates: bool,
) -> Definition:
    hints = get_type_hints(calculation, include_extras=True)
    where = f"{calculation.__name__}, "
    result = _term_of(hints.pop("return", None), (Term, Columns), where + "result")
    parameters = tuple(
        Parameter(
            name,
            _term_of(hints.get(name), (Term,), where + name),
            REQUIRED if parameter.default is inspect.Parameter.empty else parameter.default,
            variadic=parameter.kind is inspect.Parameter.VAR_POSITIONAL,
        )
        for name, parameter in inspect.signature(calculation).parameters.items()
    )
    return Definition(
        name=PREFIX + calculation.__name__.strip("_").upper(),
        topic=calculation.__module__.rpartition(".")[2],
        summary=(inspect.getdoc(calculation) or "").partition("\n")[0].strip().rstrip("."),
        parameters=parameters + unit_parameter(result),
        result=result,
        equation=equation,
        sources=sources,
        example=example,
        cautions=(*cautions, *altitude_cautions(parameters)),
        scalar=scalar or isinstance(result, Columns),
        integrates=integrates,
        calculation=calculation,
    )


def _term_of(annotation: Any, kinds: tuple[type, ...], where: str) -> Any:
    """The last term in an annotation, as the notes beside it say: help, symbol, gas."""
    notes = _notes(annotation)
    terms: list[Any] = [note for note in notes if isinstance(note, kinds)]
    if not terms:
        raise DefinitionError(f"{where}: the annotation has no term")
    said: dict[str, Any] = {}
    for note in notes:
        match note:
            case str():
                said["help"] = note
            case Symbol(text=symbol):
                said["symbol"] = symbol
            case Of(argument=gas):
                said["of"] = gas
            case AlsoMass():
                said["also_mass"] = note
    return replace(terms[-1], **said)


def _notes(annotation: Any) -> list[Any]:
    """What stands in the Annotated parts of an annotation, from the inside out."""
    if get_origin(annotation) is Annotated:
        inner, *notes = get_args(annotation)
        return _notes(inner) + notes
    if get_origin(annotation) in (Union, UnionType):
        return [note for part in get_args(annotation) for note in _notes(part)]
    return []


def _problems(definition: Definition) -> Iterator[str]:
    yield from name_problems(definition.name, [p.name for p in definition.parameters])
    yield from text_problems("the summary", definition.summary)
    yield from text_problems("the help of the result", definition.result.help)
    for parameter in definition.parameters:
        yield from text_problems(f"the help of {parameter.name}", parameter.description)
        yield from _default_problems(parameter)
    yield from _symbol_problems(definition)
    if not definition.equation.strip():
        yield "no equation"
    if not definition.sources:
        yield "no source"
    if not definition.example.formula.startswith(definition.name + "("):
        yield "the example does not call the function"
    if not definition.example.answer.strip():
        yield "the example has no answer"


def _symbol_problems(definition: Definition) -> Iterator[str]:
    """Two arguments with one symbol cannot be told apart in the equation and the working."""
    named: dict[str, str] = {}
    for parameter in definition.parameters:
        symbol = parameter.term.symbol
        if symbol and symbol in named:
            yield (
                f"{named[symbol]} and {parameter.name} are both {symbol!r}; "
                'give one Annotated[..., Symbol("...")]'
            )
        named.setdefault(symbol, parameter.name)


def _default_problems(parameter: Parameter) -> Iterator[str]:
    default = parameter.default
    if default is None or not isinstance(parameter.term, Number) or parameter.variadic:
        return
    if default is not REQUIRED and not isinstance(default, int | float):
        yield f"the default of {parameter.name} is not a number in SI"
