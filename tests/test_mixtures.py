"""Mixtures that shops use, against two equations of other authors that were made for mixtures.

GERG-2008 and AGA8 DETAIL as NIST wrote them down, in `pyaga8`. Where those two lie apart, nobody
knows better: docs/scope.md says how far.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pyaga8
import pytest

from gasfuncs.errors import GasNameError, UnreadableError
from gasfuncs.properties import IN_BOOKS, MOIST_AS_AIR, density, gas, molar_mass

NAMES = {"carbon dioxide": "carbon_dioxide"}
PRESSURES = (1.01325e5, 16e5, 50e5, 200e5)
TEMPERATURES = (253.15, 293.15, 423.15, 673.15)


def other_density(
    parts: Mapping[str, float], pressure: float, temperature: float, equation: str = "Gerg2008"
) -> float:
    """kg/m³ by the other equation."""
    shares, state = pyaga8.Composition(), getattr(pyaga8, equation)()
    for name, share in parts.items():
        setattr(shares, NAMES.get(name, name), share)
    state.set_composition(shares)
    state.pressure, state.temperature = pressure / 1e3, temperature
    state.calc_density(*([1] if equation == "Gerg2008" else []))
    state.calc_molar_mass()
    return float(state.d * state.mm)


def furthest(name: str, most_pressure: float, equation: str) -> float:
    """The largest deviation of our density, as a share, over pressures and temperatures."""
    mixture = gas(name)
    return max(
        abs(float(density(mixture, p, t)) / other_density(dict(mixture.parts), p, t, equation) - 1)
        for p in PRESSURES
        if p <= most_pressure
        for t in TEMPERATURES
    )


@pytest.mark.parametrize(
    ("name", "gerg", "detail"),
    [
        ("98% nitrogen + 2% hydrogen", 0.0005, 0.002),
        ("95% nitrogen + 5% hydrogen", 0.0005, 0.002),
        ("90% nitrogen + 10% hydrogen", 0.0005, 0.002),
        ("98% argon + 2% hydrogen", 0.0008, 0.003),
        ("95% argon + 5% hydrogen", 0.0008, 0.003),
        ("90% argon + 10% hydrogen", 0.0008, 0.008),
        ("98% argon + 2% oxygen", 0.0008, 0.005),
        ("50% argon + 50% nitrogen", 0.0008, 0.005),
    ],
)
def test_density_of_a_shop_mixture(name: str, gerg: float, detail: float) -> None:
    """-20 to 400 °C, to 200 bar: the range that docs/scope.md tells."""
    assert furthest(name, 200e5, "Gerg2008") < gerg
    assert furthest(name, 200e5, "Detail") < detail


@pytest.mark.parametrize(
    ("most_pressure", "least", "most"),
    [(1.01325e5, 0.0002, 0.0006), (16e5, 0.004, 0.01), (200e5, 0.04, 0.06)],
)
def test_argon_and_helium_are_known_less(most_pressure: float, least: float, most: float) -> None:
    """The equations lie apart by as much as docs/scope.md says, no less and no more."""
    assert least < furthest("75% argon + 25% helium", most_pressure, "Gerg2008") < most


@pytest.mark.parametrize("other", ["nitrogen", "argon"])
def test_a_mixture_of_nearly_no_hydrogen_is_the_other_gas(other: str) -> None:
    little = gas(f"99.9999% {other} + 0.0001% hydrogen")
    states = np.array(PRESSURES), 293.15
    assert density(little, *states) == pytest.approx(density(gas(other), *states), rel=1e-5)


def test_air_in_a_mixture_is_what_air_is_made_of() -> None:
    """Lemmon and others 2000 (memory). CoolProp's own air (library) has 0.04 % of carbon dioxide
    more, which weighs 0.024 % more."""
    air = dict(gas("100% air").parts)
    assert air == pytest.approx({"nitrogen": 0.7812, "oxygen": 0.2096, "argon": 0.0092}, rel=1e-12)
    assert molar_mass(gas("100% air")) == pytest.approx(molar_mass(gas("air")), rel=3e-4)


def test_shares_that_are_rounded_add_up_to_the_whole() -> None:
    thirds = gas("33.33333% argon + 33.33333% nitrogen + 33.33333% oxygen")
    assert dict(thirds.parts) == pytest.approx(
        dict.fromkeys(("argon", "nitrogen", "oxygen"), 1 / 3), rel=1e-12
    )
    assert gas("100% Ar") == gas("argon")


@pytest.mark.parametrize(
    ("text", "says"),
    [("argon + nitrogen", '"argon" is not a part of a mixture'), ("95% xenon", '"xenon" is not'),
     ("90% argon + 5% oxygen", "add up to 95 %"), ("95% argon", "add up to 95 %"),
     ("99.9998% argon", "add up to 99.9998 %")],
)  # fmt: skip
def test_what_is_no_mixture_is_refused(text: str, says: str) -> None:
    with pytest.raises(GasNameError, match=says):
        gas(text)


def test_air_in_a_mixture_weighs_what_air_does() -> None:
    """28.9586 g/mol: Lemmon and others, J. Phys. Chem. Ref. Data 29 (2000)."""
    parts = gas("100% air")
    assert [name for name, _ in parts.parts] == ["nitrogen", "oxygen", "argon"]
    assert molar_mass(parts) == pytest.approx(0.0289586, rel=1e-5)
    assert molar_mass(gas("50% air + 50% argon")) == pytest.approx(
        (0.0289586 + 0.039948) / 2, rel=1e-5
    )


def test_what_none_is_of_is_no_part() -> None:
    assert gas("100% argon + 0% hydrogen") == gas("argon")


@pytest.mark.parametrize("text", ["CO2", "co₂", "carbon  dioxide", "CarbonDioxide"])
def test_a_gas_is_spelt_in_several_ways(text: str) -> None:
    assert gas(text) == gas("carbon dioxide")


def test_a_text_that_is_no_name_is_not_looked_through() -> None:
    with pytest.raises(UnreadableError, match="2000 characters long"):
        gas("x" * 2000)


def test_gases_of_the_workbooks_and_those_that_are_moist_as_air() -> None:
    """Those of heat-treat shops, the most used first; air and the gases of its molecules' size."""
    assert IN_BOOKS == ("nitrogen", "argon", "helium", "hydrogen")
    assert {"air", "argon", "nitrogen", "oxygen"} == MOIST_AS_AIR
