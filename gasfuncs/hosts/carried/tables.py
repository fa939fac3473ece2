"""What the hidden sheet holds: units, what arguments allow, gases and their series."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from gasfuncs import properties
from gasfuncs.definition.terms import Count, Number, Quantity
from gasfuncs.hosts.carried import liquids, series
from gasfuncs.hosts.carried.sheet import Rows, Sheet
from gasfuncs.hosts.carried.spellings import spellings
from gasfuncs.properties import WATER, Array, Gas, gas, reference_molar_density, tables
from gasfuncs.properties.gases import FLUIDS, SYMBOLS
from gasfuncs.units import Kind, kinds, reference
from gasfuncs.units.kinds import GOODS
from gasfuncs.units.reference import Reference

GASES = tuple(FLUIDS)
REFERENCES: tuple[Reference, ...] = (
    reference.NORMAL, reference.STANDARD, reference.ONE_BAR, reference.US_GAS, reference.US_OIL,
)  # fmt: skip
KINDS: tuple[Kind, ...] = tuple(kinds.all_kinds())

ANY = 1e300
"""A limit that no number reaches."""


def gas_place(of: Gas | None) -> int:
    """A gas by its place in the table, 0 for none."""
    return 0 if of is None else 1 + GASES.index(of.name)


def kind_place(kind: Kind) -> int:
    """A kind by its place, as the units sheet counts them."""
    return KINDS.index(kind)


class Tables:
    """The hidden sheet as it is filled: what is asked for is put on it."""

    def __init__(self, gases: set[str]) -> None:
        self.used = gases
        self.sheet = Sheet()
        self.kinds: list[Kind] = []
        self.rows: dict[tuple[Kind, str], int] = {}
        self.units: list[list[str | float]] = []
        self.terms: list[Number] = []
        self.lists: dict[tuple[Kind, ...], list[tuple[str, int]]] = {}

    @property
    def gases(self) -> tuple[str, ...]:
        """The gases whose series are on the sheet."""
        return tuple(name for name in GASES if name in self.used)

    def row(self, kind: Kind, label: str) -> int:
        """The row of a unit; all units of its kind are put on the sheet."""
        if kind not in self.kinds:
            self._add(kind)
        return self.rows[kind, kind.unit(label).label]

    def kind(self, kind: Kind) -> int:
        """The number of a kind, of which all units are put on the sheet."""
        self.row(kind, kind.labels()[0])
        return kind_place(kind)

    def _add(self, kind: Kind) -> None:
        self.kinds.append(kind)
        for key, case, unit in spellings(kind):
            told = 1 + REFERENCES.index(unit.reference) if unit.reference else 0
            cells = [case, unit.scale, unit.zero, told, int(unit.water_mass)]
            self.units.append([f"{kind_place(kind)}|{key}", *cells])
            self.rows.setdefault((kind, unit.label), len(self.units))

    def kind_lists(self) -> list[tuple[Kind, ...]]:
        """Every list of kinds that a unit can be of."""
        if not self.lists:
            found: dict[str, list[tuple[Kind, int]]] = {}
            for kind in KINDS:
                for key, case, _ in spellings(kind):
                    found.setdefault(key, []).append((kind, case))
            for key, each in found.items():
                alike = tuple(kind for kind, _ in each)
                self.lists.setdefault(alike, []).append((key, max(case for _, case in each)))
        return list(self.lists)

    def list_rows(self) -> Rows:
        """Ways to write a unit, and which list of kinds it is of."""
        self.kind_lists()
        every = enumerate(self.lists.values(), 1)
        return [[key, case, number] for number, keys in every for key, case in keys]

    def term(self, term: Number) -> int:
        """The row of what an argument allows."""
        if isinstance(term, Quantity):
            self.row(term.kind, term.unit)
        alike = [self._allowed(each) for each in self.terms]
        if self._allowed(term) in alike:
            return 1 + alike.index(self._allowed(term))
        self.terms.append(term)
        return len(self.terms)

    def _allowed(self, term: Number) -> list[float]:
        kind = term.kind if isinstance(term, Quantity) else None
        return [
            kind_place(kind) if kind else -1,
            self.row(kind, term.unit) if kind and isinstance(term, Quantity) else 0,
            -ANY if term.low is None else term.low,
            -ANY if term.above is None else term.above,
            ANY if term.high is None else term.high,
            int(isinstance(term, Count)),
            int(kind in GOODS),
        ]

    def place(self, name: str) -> str:
        """The reference, or the number, that a native's formula has in brackets."""
        table, _, column = name.partition(".")
        if table == "double":
            return self.double(getattr(properties, column))
        if table == "liquid":
            return self.liquid(column)
        if column:
            headings, rows = TABLES[table](self)
            return self.sheet.columns(table, rows)[headings.index(column)]
        return str(SINGLE[table](self))

    def unit_rows(self) -> Rows:
        return self.units or [["", 0, 1, 0, 0, 0]]

    def term_rows(self) -> Rows:
        return [self._allowed(each) for each in self.terms] or [[-1, 0, 0, 0, 0, 0, 0]]

    def series(self) -> str:
        """The references to the series of every gas, a cold and a warm one."""
        return self._references(
            "", lambda name: [each.coefficients for each in series.both(name)], 2
        )

    def double(self, of: Callable[..., Array]) -> str:
        """The references to the series of a property of every gas, cold and warm."""
        return self._references(f"{of.__name__} of ", lambda name: series.double(name, of), 2)

    def liquid(self, column: str) -> str:
        """The references to the series of a property of every gas as cold liquid."""
        return self._references(
            f"liquid {column} of ", lambda name: [getattr(liquids.cold_liquid(name), column)], 1
        )

    def _references(self, title: str, of: Callable[[str], Iterable[Array]], each: int) -> str:
        """References for every gas in turn; a gas that has no series here is never asked for."""
        found = ["#N/A"] * (each * len(GASES))
        for place, name in enumerate(GASES):
            if name in self.used:
                found[each * place : each * (place + 1)] = (
                    self.sheet.block(f"{title}{name}", part.tolist()) for part in of(name)
                )
        return ",".join(found)

    def each(self, row: Callable[[str], Sequence[float]]) -> Rows:
        """A row of numbers for every gas; a gas that has no series here is never asked for."""
        found = {name: row(name) for name in self.gases}
        width = max(map(len, found.values()), default=1)
        return [[*found.get(name, [0.0] * width)] for name in GASES]

    def gas_rows(self) -> Rows:
        found = [series.table(name) for name in GASES]
        return [[t.molar_mass, t.gas_constant, t.cold.low, t.warm.low, t.warm.high] for t in found]

    def saturated_rows(self) -> Rows:
        """Of every gas its limits of saturation, and how many rows of its series lie above."""
        above = {name: 7 * place for place, name in enumerate(self.gases)}
        return self.each(lambda name: [*series.saturation(name)[1:], above[name]])

    def saturation_rows(self) -> Rows:
        rows = [row for name in self.gases for row in series.saturation(name).rows.tolist()]
        return rows or [[0.0]]

    def name_rows(self) -> Rows:
        """Every way to write a gas, and its place, 0 where the sheet does not have it."""
        names = {name: name for name in GASES} | SYMBOLS
        places = {name: 1 + place for place, name in enumerate(GASES) if name in self.used}
        return [[name, places.get(of, 0)] for name, of in names.items()]


def _reference_rows() -> Rows:
    every = [None, *map(gas, GASES)]
    return [[reference_molar_density(each, at) for at in REFERENCES] for each in every]


TABLES: dict[str, Callable[[Tables], tuple[list[str], Rows]]] = {
    "units": lambda of: (["key", "case", "scale", "zero", "reference", "water"], of.unit_rows()),
    "terms": lambda of: (
        ["kind", "row", "low", "above", "high", "whole", "goods"], of.term_rows(),
    ),
    "lists": lambda of: (["key", "case", "kinds"], of.list_rows()),
    "names": lambda of: (["name", "gas"], of.name_rows()),
}  # fmt: skip

SINGLE: dict[str, Callable[[Tables], object]] = {
    "water": lambda _: WATER,
    "most": lambda _: f"{tables.MOST_PRESSURE:.0f}",
    "gases": lambda of: of.sheet.block("gases", of.gas_rows()),
    "references": lambda of: of.sheet.block("references", _reference_rows()),
    "saturated": lambda of: of.sheet.block("saturated", of.saturated_rows()),
    "liquids": lambda of: of.sheet.block("liquids", of.each(lambda n: liquids.cold_liquid(n)[2:])),
    "boiling": lambda of: of.sheet.block("boiling", of.each(lambda n: liquids.boiling(n)[1:])),
    "boils": lambda of: of.sheet.block("boils", of.each(lambda n: liquids.boiling(n).row.tolist())),
    "saturation": lambda of: of.sheet.block("saturation", of.saturation_rows()),
    "series": lambda of: of.series(),
}
