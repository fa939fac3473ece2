"""The gases by name or symbol, and mixtures written as "95% argon + 5% hydrogen"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from gasfuncs.errors import GasFuncsError, GasNameError
from gasfuncs.units import read_number, refuse_long, shown


@dataclass(frozen=True, slots=True)
class Substance:
    """All that is to be told of a gas: names, equations, and what else is known of it here."""

    name: str
    fluid: str
    """CoolProp's name of it."""
    equation: str
    """Authors and year of its equation of state."""
    viscosity: str = ""
    """Authors and year of its equations of viscosity and conductivity; "" where none is known."""
    symbol: str = ""
    moist_as_air: bool = False
    """Whether the enhancement factor of air is a guide for water in it under pressure."""
    place_in_books: int = 0
    """Where it stands in the lists of the workbooks; 0: it is not offered."""


LEMMON = "Lemmon, Jacobsen 2004"
SUBSTANCES = (
    Substance("argon", "Argon", "Tegeler, Span, Wagner 1999", LEMMON, "Ar", True, 2),
    Substance("nitrogen", "Nitrogen", "Span et al. 2000", LEMMON, "N2", True, 1),
    Substance(
        "helium", "Helium", "Ortiz Vega et al.",
        "Arp, McCarty, Friend 1998; Hands, Arp 1981", "He", place_in_books=3,
    ),
    Substance(
        "hydrogen", "Hydrogen", "Leachman et al. 2009",
        "Muzny, Huber, Kazakov 2013; Assael et al. 2011", "H2", place_in_books=4,
    ),
    Substance("oxygen", "Oxygen", "Schmidt, Wagner 1985", LEMMON, "O2", True),
    Substance("air", "Air", "Lemmon et al. 2000", LEMMON, moist_as_air=True),
    Substance(
        "carbon dioxide", "CarbonDioxide", "Span, Wagner 1996",
        "Laesecke, Muzny 2017; Huber et al. 2016", "CO2",
    ),
)  # fmt: skip
"""The one list of gases: names, help, sources, docs and workbooks follow it."""

FLUIDS = {each.name: each.fluid for each in SUBSTANCES}
"""Our name of a gas, and CoolProp's."""

SYMBOLS = {each.symbol.lower(): each.name for each in SUBSTANCES if each.symbol} | {
    each.name.replace(" ", ""): each.name for each in SUBSTANCES if " " in each.name
}
"""Other spellings of the names, folded to lower case."""

IN_BOOKS = tuple(
    each.name
    for each in sorted(SUBSTANCES, key=lambda each: each.place_in_books)
    if each.place_in_books
)
"""Gases that the workbooks offer."""

MOIST_AS_AIR = frozenset(each.name for each in SUBSTANCES if each.moist_as_air)
WITHOUT_VISCOSITY = frozenset(each.name for each in SUBSTANCES if not each.viscosity)

DRY_AIR = {"nitrogen": 0.7812, "oxygen": 0.2096, "argon": 0.0092}
"""Air as a part of a mixture: the composition of the equation of state used for air alone
(Lemmon, Jacobsen, Penoncello, Friend, J. Phys. Chem. Ref. Data 29, 2000)."""

_PART = re.compile(r"(?P<share>[\d.,]+)\s*%\s*(?P<name>.+)")
SHARES_ADD_UP_WITHIN = 1e-6


@dataclass(frozen=True, slots=True)
class Gas:
    """A pure gas, or a mixture by mole fractions."""

    name: str
    parts: tuple[tuple[str, float], ...]

    @property
    def is_mixture(self) -> bool:
        return len(self.parts) > 1

    def __str__(self) -> str:
        return self.name


@lru_cache(maxsize=1024)
def gas(text: str) -> Gas:
    """The gas that a text names."""
    refuse_long(text, "the name of a gas")
    if "%" in text or "+" in text:
        return _mixture(text)
    name = _name(text)
    return Gas(name, ((name, 1.0),))


def _name(text: str) -> str:
    plain = " ".join(text.lower().split())
    plain = SYMBOLS.get(plain.translate(_SUBSCRIPTS), plain)
    if plain not in FLUIDS:
        raise GasNameError(
            f'"{shown(text)}" is not a known gas; use {", ".join(FLUIDS)}, '
            'or a mixture such as "95% argon + 5% hydrogen"'
        )
    return plain


_SUBSCRIPTS = str.maketrans("₂", "2")


def _mixture(text: str) -> Gas:
    shares: dict[str, float] = {}
    for part in text.split("+"):
        match = _PART.fullmatch(part.strip())
        if not match:
            raise GasNameError(
                f'"{shown(part.strip())}" is not a part of a mixture; '
                'write every part with its share by volume, as "95% argon + 5% hydrogen"'
            )
        try:
            share = read_number(match["share"]) / 100
        except GasFuncsError as error:
            raise GasNameError(error.sentence) from None
        name = _name(match["name"])
        for component, fraction in (DRY_AIR if name == "air" else {name: 1.0}).items():
            shares[component] = shares.get(component, 0.0) + share * fraction
    total = sum(shares.values())
    if abs(total - 1) > SHARES_ADD_UP_WITHIN:
        raise GasNameError(f'the shares in "{shown(text)}" add up to {100 * total:g} %, not 100 %')
    parts = tuple((name, share / total) for name, share in shares.items() if share > 0)
    label = " + ".join(f"{100 * share:g}% {name}" for name, share in parts)
    return Gas(parts[0][0] if len(parts) == 1 else label, parts)
