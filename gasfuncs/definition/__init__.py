"""Definitions: one record per function, the vocabulary of terms, and calling with cell values."""

from gasfuncs.definition.decorator import ATTRIBUTE, worksheet_function
from gasfuncs.definition.function import Definition
from gasfuncs.definition.record import REQUIRED, Column, Columns, Example, Parameter, Source
from gasfuncs.definition.refusing import refuse, refuse_rows, unreachable, unreachable_rows
from gasfuncs.definition.terms import AlsoMass, Cell, Of, Quantity, Symbol, Term, serial
from gasfuncs.definition.working import Step, is_recorded, recorded, step

__all__ = [
    "ATTRIBUTE", "REQUIRED", "AlsoMass", "Cell", "Column", "Columns", "Definition", "Example", "Of",
    "Parameter", "Quantity", "Source", "Step", "Symbol", "Term", "is_recorded", "recorded",
    "refuse", "refuse_rows", "serial", "step", "unreachable", "unreachable_rows",
    "worksheet_function",
]  # fmt: skip
