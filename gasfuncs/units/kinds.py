"""What a value is: absolute or gauge pressure, gas amount, liquid volume and so on.

A kind owns the units it can be written in. Values of different kinds never mix silently.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache, lru_cache

from gasfuncs.errors import UnitError
from gasfuncs.units import labels
from gasfuncs.units.factors import Factors, factor, worked_out
from gasfuncs.units.numbers import refuse_long, shown
from gasfuncs.units.reference import ATMOSPHERE, NORMAL, R, Reference

LEAK_TEMPERATURE = 293.15
"""K at which a leak told as an amount (std cc/s, mol/s) is read as pressure times volume."""


@dataclass(frozen=True, slots=True)
class Unit:
    """SI value = scale · number + zero; a gas volume is further times its molar density.

    A mass of water is in kg for a m³ (with a reference) or a kg of the gas that holds it.
    """

    label: str
    scale: float
    zero: float
    reference: Reference | None
    water_mass: bool


@dataclass(frozen=True, slots=True)
class _Recipe:
    """How a unit's scale is found, worked out only when the unit is first used."""

    expression: str
    zero: float = 0.0
    reference: Reference | None = None
    times: float = 1.0
    water_mass: bool = False

    def in_si(self, si: str) -> tuple[str, str]:
        """What it is, and the SI unit that its scale is told in, both in pint's notation."""
        if self.reference:
            si = "kg/m**3" if self.water_mass else si.replace("mol", "m**3")
        return self.expression, si


@dataclass(frozen=True, eq=False)
class Kind:
    """A kind of quantity: its name, its SI unit and the units it may be written in."""

    name: str
    si: str
    recipes: Mapping[str, _Recipe] = field(repr=False)
    shown_si: str = ""
    examples: tuple[str, ...] = ()

    @property
    def si_label(self) -> str:
        return self.shown_si or self.si

    def labels(self) -> tuple[str, ...]:
        return tuple(self.recipes)

    def unit(self, text: str) -> Unit:
        """The unit that `text` names, or an error that says what is allowed."""
        return _unit(self, text)

    def has(self, text: str) -> bool:
        """Whether `text` names a unit of this kind."""
        return bool(text) and _find(self, text) is not None


@lru_cache(maxsize=4096)
def _unit(kind: Kind, text: str) -> Unit:
    refuse_long(text, "a unit")
    label = _find(kind, text)
    if label is None:
        raise UnitError(_refusal(kind, text))
    recipe = kind.recipes[label]
    scale = recipe.times * factor(*recipe.in_si(kind.si))
    return Unit(label, scale, recipe.zero, recipe.reference, recipe.water_mass)


@lru_cache(maxsize=256)
def fold(text: str) -> str:
    """A label without the marks that people write differently."""
    for mark, plain in _MARKS.items():
        text = text.replace(mark, plain)
    text = re.sub(r"\s+", "", text)
    text = re.sub(r"\(?(absolute|abs\.?)\)?$", "(a)", text, flags=re.IGNORECASE)
    text = re.sub(r"\(?(gauge|gage)\)?$", "(g)", text, flags=re.IGNORECASE)
    text = re.sub(r"\(?(vacuum|vac)\)?$", "(vac)", text, flags=re.IGNORECASE)
    text = re.sub(r"\(?(liquid|liq)\)?(?=$|/)", "(liq)", text, flags=re.IGNORECASE)
    return re.sub(
        r"(?<=bar|psi|hPa|kPa|MPa|cm2|mHg|nHg)([ag])$", r"(\1)", text, flags=re.IGNORECASE
    )


_MARKS = {
    "·": "",
    "*": "",
    ".": "",
    "³": "3",
    "²": "2",
    "^": "",
    "°": "deg",
    "µ": "u",
    "μ": "u",
    "₂": "2",
}


def _spelling(text: str) -> str:
    """Other spellings and short rates, told as the label of the tables."""
    lower = text.lower()
    if lower in labels.SHORT_RATES:
        return labels.SHORT_RATES[lower]
    if lower in labels.SAME_AS:
        return labels.SAME_AS[lower]
    head, slash, tail = lower.rpartition("/")
    if slash and (head in labels.SAME_AS or tail in labels.SAME_AS):
        as_typed, _, tail_typed = text.rpartition("/")
        return f"{labels.SAME_AS.get(head, as_typed)}/{labels.SAME_AS.get(tail, tail_typed)}"
    return text


@cache
def _index(kind: Kind) -> tuple[dict[str, str], dict[str, list[str]]]:
    """Labels by exact folded spelling, and by spelling in lower case."""
    exact = {fold(label): label for label in kind.recipes}
    lower: dict[str, list[str]] = {}
    for folded, label in exact.items():
        lower.setdefault(folded.lower(), []).append(label)
    return exact, lower


def _find(kind: Kind, text: str) -> str | None:
    exact, lower = _index(kind)
    folded = fold(text)
    for spelling in (folded, fold(_spelling(folded))):
        if spelling in exact:
            return exact[spelling]
        candidates = [c for c in lower.get(spelling.lower(), []) if _same_prefix(spelling, c)]
        if candidates:
            return candidates[0]
    return None


def _same_prefix(typed: str, label: str) -> bool:
    """Whether the case of the letters can be let go: never "mPa" for "MPa"."""
    return typed in (typed.upper(), typed.lower()) or (typed[:1] == "m") == (label[:1] == "m")


def _refusal(kind: Kind, text: str) -> str:
    typed = shown(text)
    bare = _find(PRESSURE_DIFFERENCE, text)
    if kind in (PRESSURE, GAUGE_PRESSURE) and bare and fold(text) not in labels.SAY_DIFFERENCE:
        short = {"bar": "bar(a) or bar(g)", "psi": "psia or psig"}
        return (
            f'"{typed}" must say what it is measured from; '
            f"write {short.get(bare, f'{bare}(a) or {bare}(g)')}"
        )
    others = [k.name for k in all_kinds() if k is not kind and _find(k, text)]
    allowed = ", ".join(kind.examples or kind.labels())
    if others:
        return f'"{typed}" is a unit of {others[0]}, not of {kind.name}; use {allowed}'
    close = difflib.get_close_matches(typed, kind.labels(), n=1, cutoff=0.75)
    hint = f' (did you mean "{close[0]}"?)' if close else ""
    return f'"{typed}" is not a known unit of {kind.name}{hint}; use {allowed}'


def _plain(table: Mapping[str, str], suffix: str = "") -> dict[str, _Recipe]:
    return {label + suffix: _Recipe(expression) for label, expression in table.items()}


def _per_time(table: Mapping[str, _Recipe]) -> dict[str, _Recipe]:
    return {
        f"{label}/{time}": _Recipe(
            f"({recipe.expression})/({each})", 0.0, recipe.reference, recipe.times
        )
        for label, recipe in table.items()
        for time, each in labels.TIMES.items()
    }


def _pressures() -> dict[str, _Recipe]:
    out = {
        label: _Recipe(expression)
        for label, expression in labels.PRESSURES.items()
        if label in labels.ABSOLUTE_WHEN_BARE
    }
    out |= {f"{label}(a)": _Recipe(e) for label, e in labels.PRESSURES.items()}
    return out | _gauges(ATMOSPHERE)


def _gauges(atmosphere: float) -> dict[str, _Recipe]:
    out = {f"{label}(g)": _Recipe(e, atmosphere) for label, e in labels.PRESSURES.items()}
    for label, expression in labels.PRESSURES.items():
        out[f"{label}(vac)"] = _Recipe(expression, atmosphere, times=-1.0)
    return out


def _amounts() -> dict[str, _Recipe]:
    volumes = {
        label: _Recipe(expression, reference=reference)
        for label, (expression, reference) in labels.GAS_VOLUMES.items()
    }
    return volumes | _plain(labels.MOLES)


def _moistures() -> dict[str, _Recipe]:
    out = _plain(labels.FRACTIONS)
    for label, (expression, reference) in labels.WATER_PER_GAS.items():
        out[label] = _Recipe(expression, reference=reference, water_mass=True)
    for label, expression in labels.WATER_BY_MASS.items():
        out[label] = _Recipe(expression, water_mass=True)
    return out


def _permeabilities() -> dict[str, _Recipe]:
    density = f"{NORMAL.ideal_molar_density()!r}*mol/m**3"
    out = {
        label: _Recipe(f"{density}*{expression}")
        for label, expression in labels.STANDARD_PERMEABILITIES.items()
    }
    return out | _plain(labels.MOLAR_PERMEABILITIES)


def _leaks() -> dict[str, _Recipe]:
    out = _per_time(_plain(labels.LEAK_PRODUCTS))
    out["lusec"] = _Recipe(labels.LUSEC)
    kelvins = R * LEAK_TEMPERATURE
    rates = _per_time({"std cc": _Recipe("cm**3", reference=NORMAL)} | _plain(labels.MOLES))
    for label, recipe in rates.items():
        reference = recipe.reference
        if reference:
            pascals = reference.ideal_molar_density() * kelvins
            out[label] = _Recipe(f"({recipe.expression})*Pa", times=pascals)
        else:
            out[label] = _Recipe(f"({recipe.expression})*Pa*m**3/mol", times=kelvins)
    return out


PRESSURE = Kind(
    "absolute pressure", "Pa", _pressures(), "Pa(a)",
    ("bar(a)", "bar(g)", "psia", "psig", "mbar", "kPa", "torr", "micron", "inHg(vac)"),
)  # fmt: skip
GAUGE_PRESSURE = Kind(
    "gauge pressure", "Pa", _gauges(0.0), "Pa(g)",
    ("bar(g)", "psig", "kPa(g)", "inHg(vac)"),
)  # fmt: skip
PRESSURE_DIFFERENCE = Kind(
    "pressure difference", "Pa", _plain(labels.PRESSURES), "Pa",
    ("bar", "mbar", "kPa", "psi", "inH2O"),
)  # fmt: skip
TEMPERATURE = Kind(
    "temperature", "K",
    {name: _Recipe(step, zero) for name, (step, zero) in labels.TEMPERATURES.items()},
    "K", ("degC", "degF", "K"),
)  # fmt: skip
TEMPERATURE_DIFFERENCE = Kind("temperature difference", "K", _plain(labels.TEMPERATURE_STEPS))
VOLUME = Kind(
    "volume", "m**3", _plain(labels.VOLUMES | labels.HUNDREDS), "m³",
    ("m3", "L", "ft3", "gal"),
)  # fmt: skip
LIQUID = Kind(
    "liquid volume", "m**3",
    _plain(labels.VOLUMES, "(liq)") | _plain(labels.VOLUMES), "m³ liquid",
    ("L(liq)", "gal(liq)", "m3(liq)", "ft3(liq)"),
)  # fmt: skip
AMOUNT = Kind("gas amount", "mol", _amounts(), "mol", ("Nm3", "Sm3", "m3(15C,1bar)", "scf", "mol"))
MASS = Kind("mass", "kg", _plain(labels.MASSES), "kg", ("kg", "lb", "t", "g"))
FLOW = Kind(
    "gas flow", "mol/s", _per_time(_amounts()), "mol/s",
    ("Nm3/h", "Sm3/h", "scfh", "scfm", "slm", "sccm"),
)  # fmt: skip
MASS_FLOW = Kind("mass flow", "kg/s", _per_time(_plain(labels.MASSES)), "kg/s", ("kg/h", "lb/h"))
LIQUID_FLOW = Kind(
    "liquid flow", "m**3/s", _per_time(_plain(labels.VOLUMES, "(liq)")), "m³/s liquid",
    ("L(liq)/h", "gal(liq)/h"),
)  # fmt: skip
VOLUME_FLOW = Kind(
    "volume flow", "m**3/s", _per_time(_plain(labels.VOLUMES)), "m³/s",
    ("m3/h", "L/s", "cfm", "L/min"),
)  # fmt: skip
LEAK = Kind(
    "leak rate", "Pa*m**3/s", _leaks(), "Pa·m³/s",
    ("mbar L/s", "Pa m3/s", "torr L/s", "atm cc/s", "std cc/s", "lusec", "micron ft3/h"),
)  # fmt: skip
OUTGASSING = Kind(
    "outgassing rate", "Pa*m/s", _plain(labels.OUTGASSING), "Pa·m³/(s·m²)",
    ("mbar L/(s cm2)", "torr L/(s cm2)", "Pa m/s", "W/m2"),
)  # fmt: skip
PERMEABILITY = Kind(
    "permeability", "mol/(m*s*Pa)", _permeabilities(), "mol/(m·s·Pa)",
    ("barrer", "cm3 cm/(cm2 s Pa)", "cm3 mm/(m2 d bar)", "mol/(m s Pa)"),
)  # fmt: skip
RISE_RATE = Kind(
    "pressure rise rate", "Pa/s", _per_time(_plain(labels.PRESSURES)), "Pa/s",
    ("mbar/h", "micron/h", "Pa/s", "torr/min"),
)  # fmt: skip
TIME = Kind("time", "s", _plain(labels.TIMES), "s", ("s", "min", "h", "d"))
LENGTH = Kind("length", "m", _plain(labels.LENGTHS), "m", ("m", "mm", "um", "in", "ft"))
AREA = Kind("area", "m**2", _plain(labels.AREAS), "m²", ("m2", "cm2", "mm2", "in2", "ft2"))
POWER = Kind("power", "W", _plain(labels.POWERS), "W", ("kW", "W", "Btu/h"))
HEAT_CONDUCTANCE = Kind(
    "heat conductance", "W/K", _plain(labels.HEAT_CONDUCTANCES), "W/K", ("W/K", "kW/K")
)
DENSITY = Kind("density", "kg/m**3", _plain(labels.DENSITIES), "kg/m³", ("kg/m3", "g/L", "lb/ft3"))
FRACTION = Kind("share", "1", _plain(labels.FRACTIONS), "1", ("%",))
IMPURITY = Kind("impurity", "1", _plain(labels.FRACTIONS), "1", ("ppm", "%", "ppb"))
MOISTURE = Kind(
    "moisture", "1", _moistures(), "1", ("ppm", "%", "mg/Nm3", "g/Nm3", "ppm(mass)", "lb/MMscf")
)
FLOW_COEFFICIENT = Kind(
    "valve flow coefficient", "1", {"Kv": _Recipe("1"), "Cv": _Recipe("1", times=0.865)},
    "Kv", ("Kv", "Cv"),
)  # fmt: skip


GOODS = (VOLUME, LIQUID, AMOUNT, MASS, FLOW, MASS_FLOW, LIQUID_FLOW, VOLUME_FLOW)
"""Kinds whose numbers go into the thousands, so that a point may part those off."""


def all_kinds() -> Iterator[Kind]:
    """Every kind, in the order a unit's text is tried."""
    return (value for value in globals().values() if isinstance(value, Kind))


def worked_out_factors() -> Factors:
    """The factor of every unit, from pint."""
    made: Factors = {}
    for kind in all_kinds():
        for recipe in kind.recipes.values():
            expression, si = recipe.in_si(kind.si)
            made.setdefault(si, {})[expression] = worked_out(expression, si)
    return made


@lru_cache(maxsize=1024)
def kinds_of(text: str) -> tuple[Kind, ...]:
    """The kinds that a unit can be of, the usual one first; UnitError where it is unknown."""
    refuse_long(text, "a unit")
    found = tuple(kind for kind in all_kinds() if _find(kind, text))
    if not found:
        every = sorted({label for kind in all_kinds() for label in kind.labels()})
        close = difflib.get_close_matches(shown(text), every, n=1, cutoff=0.75)
        hint = f' (did you mean "{close[0]}"?)' if close else ""
        raise UnitError(f'"{shown(text)}" is not a known unit{hint}')
    return found
