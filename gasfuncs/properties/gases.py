"""The gases by name or symbol, and mixtures written as "95% argon + 5% hydrogen"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from gasfuncs.errors import GasFuncsError, GasNameError
from gasfuncs.units import read_number, refuse_long, shown

FLUIDS = {
    "argon": "Argon",
    "nitrogen": "Nitrogen",
    "helium": "Helium",
    "hydrogen": "Hydrogen",
    "oxygen": "Oxygen",
    "air": "Air",
    "carbon dioxide": "CarbonDioxide",
}
"""Our name of a gas, and CoolProp's."""

SYMBOLS = {
    "ar": "argon", "n2": "nitrogen", "he": "helium", "h2": "hydrogen", "o2": "oxygen",
    "co2": "carbon dioxide", "carbondioxide": "carbon dioxide",
}  # fmt: skip

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
