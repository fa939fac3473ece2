"""Units, kinds of quantity and reference conditions: the one boundary between cells and SI."""

from gasfuncs.units.kinds import LEAK_TEMPERATURE, Kind, Unit, all_kinds, fold
from gasfuncs.units.numbers import (
    read_number,
    refuse_long,
    shown,
    split_goods,
    split_quantity,
)
from gasfuncs.units.reference import ATMOSPHERE, NORMAL, PSI, US_GAS, R, Reference

__all__ = [
    "ATMOSPHERE",
    "LEAK_TEMPERATURE",
    "NORMAL",
    "PSI",
    "US_GAS",
    "Kind",
    "R",
    "Reference",
    "Unit",
    "all_kinds",
    "fold",
    "read_number",
    "refuse_long",
    "shown",
    "split_goods",
    "split_quantity",
]  # fmt: skip
