"""The series of moving gas against the equation of state, and how they are kept."""

from __future__ import annotations

from importlib.metadata import version
from pathlib import Path

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs import properties
from gasfuncs.errors import StateError
from gasfuncs.properties import gases, kept, motion, states
from tests.test_tables import pinned

PURE = [properties.gas(name) for name in gases.FLUIDS]
ARGON, NITROGEN = properties.gas("argon"), properties.gas("nitrogen")


def name_of(gas: properties.Gas) -> str:
    return kept.file_name(gas, "motion", motion.shape())


def random_states(
    gas: properties.Gas, count: int = 300
) -> tuple[properties.Array, properties.Array]:
    """Pa and K of θ over all levels of a gas."""
    random = np.random.default_rng(3)
    found = []
    for level in motion.levels(gas):
        pressure = 10 ** random.uniform(0, np.log10(level.most_pressure), count)
        found.append((pressure, random.uniform(level.low, level.high, count)))
    pressure, theta = (np.concatenate(part) for part in zip(*found, strict=True))
    return pressure, theta


@pytest.mark.parametrize("gas", PURE, ids=str)
def test_the_series_are_the_equation_of_state(
    gas: properties.Gas, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert len(motion.levels(gas)) == 2
    pressure, theta = random_states(gas)
    ours = motion.moving(gas, pressure, theta)
    monkeypatch.setattr(motion, "levels", lambda _: ())
    exact = motion.moving(gas, pressure, theta)
    for name, within in (
        ("temperature", 1e-8), ("enthalpy", 1e-8), ("stiffness", 1e-7), ("pressure_rise", 1e-7),
        ("heat_capacity", 1e-7), ("viscosity", 5e-3), ("conductivity", 2e-2),
    ):  # fmt: skip
        np.testing.assert_allclose(getattr(ours, name), getattr(exact, name), rtol=within)


def test_what_the_series_hold_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not even where a column takes both of them; else it would take a thousand times as long."""

    def asked(*_: object) -> None:
        raise AssertionError("the equation of state was asked")

    low, high = motion.levels(ARGON)
    pressure = np.array([low.most_pressure, high.most_pressure, 1e5])
    theta = np.array([300.0, high.high, low.low])
    monkeypatch.setattr(motion, "_asked", asked)
    assert np.isfinite(motion.moving(ARGON, pressure, theta)).all()
    assert np.isfinite(motion.moving(ARGON, pressure[:1], theta[:1])).all()


def test_a_state_is_told_by_pressure_and_density() -> None:
    """Temperature, exponent and c_p against what CoolProp gives of the pressure and temperature."""
    for pressure, kelvin in ((1e3, 293.15), (16e5, 230.0), (16e5, 500.0), (200e5, 300.0)):
        molar = properties.molar_density(ARGON, pressure, kelvin)
        theta = properties.theta(ARGON, pressure, molar)
        now = properties.moving(ARGON, pressure, theta)
        assert float(now.temperature) == pytest.approx(kelvin, rel=1e-8)
        exponent = (now.stiffness + now.isothermal_share) * molar / pressure
        judge = states.isentropic_exponent(ARGON, pressure, kelvin)
        assert float(exponent) == pytest.approx(float(judge), rel=1e-7)
        ratio = now.heat_capacity_at_pressure / now.heat_capacity
        judge = states.heat_capacity_ratio(ARGON, pressure, kelvin)
        assert float(ratio) == pytest.approx(float(judge), rel=1e-7)


def test_a_mixture_has_its_parts() -> None:
    mixed = properties.gas("95% argon + 5% hydrogen")
    molar = properties.molar_density(mixed, 6e5, 300.0)
    now = properties.moving(mixed, 6e5, properties.theta(mixed, 6e5, molar))
    assert float(now.temperature) == pytest.approx(300.0, rel=1e-9)
    parts = [properties.moving(properties.gas(n), 6e5, 300.0) for n in ("argon", "hydrogen")]
    low, high = sorted(float(part.conductivity) for part in parts)
    assert low < float(now.conductivity) < 0.3 * high


def test_what_is_no_gas_is_refused_or_not_a_number() -> None:
    liquid = properties.theta(ARGON, 20e5, 30_000.0)
    with pytest.raises(StateError):
        properties.moving(ARGON, 20e5, liquid)
    found = properties.moving(ARGON, np.array([20e5, 20e5]), np.array([float(liquid), 300.0]),
                              strict=False)  # fmt: skip
    assert np.isnan(found.temperature[0])
    assert np.isfinite(found.temperature[1])


@pytest.mark.parametrize("constant", ["LEVELS", "LENGTHS", "WITHIN", "COLDEST", "SEED"])
def test_the_constants_shape_the_key(constant: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before = name_of(ARGON)
    value = getattr(motion, constant)
    monkeypatch.setattr(motion, constant, value[:-1] if isinstance(value, tuple) else value + 1)
    assert name_of(ARGON) != before


def test_what_was_kept_is_read_again(tmp_path: Path) -> None:
    series = motion.levels(properties.gas("helium"))
    path = tmp_path / "a cache" / "of a user" / "kept.npz"
    for _ in ("new", "over the old one"):
        motion.KEEPING.write(series, path)
    again = motion.KEEPING.read(path)
    assert again is not None
    for one, other in zip(series, again, strict=True):
        np.testing.assert_array_equal(one.coefficients, other.coefficients)
        assert (one.most_pressure, one.low, one.high) == (
            other.most_pressure, other.low, other.high,
        )  # fmt: skip


@pytest.mark.parametrize("level", ["level0", "level1"])
def test_a_file_with_one_series_cut_short_is_not_read(level: str, tmp_path: Path) -> None:
    packed = dict(motion.KEEPING.pack(motion.levels(ARGON)))
    packed[level] = packed[level][:-1]
    np.savez(tmp_path / "cut.npz", **packed)  # type: ignore[arg-type]
    assert motion.KEEPING.read(tmp_path / "cut.npz") is None


@pytest.mark.skipif(version("CoolProp") != pinned(), reason="another CoolProp than the pinned one")
def test_the_series_of_the_pinned_coolprop_come_with_the_package() -> None:
    """Written anew by `gasfuncs build series gasfuncs/properties/series` where this fails."""
    assert {path.name for path in kept.SHIPPED.iterdir()} >= {name_of(gas) for gas in PURE}


def test_a_series_is_made_from_the_equation_of_state() -> None:
    """At points of its own, and between ends told by CoolProp's plain interface."""
    made = motion._level(NITROGEN, 25e5)
    assert made is not None
    assert made.most_pressure == 25e5
    assert made.low == pytest.approx(max(150.0, 1.1 * PropsSI("T", "P", 25e5, "Q", 1, "Nitrogen")))
    assert made.high == pytest.approx(min(1700.0, PropsSI("Tmax", "Nitrogen")))
    random = np.random.default_rng(11)
    pressure, theta = random.uniform(1e4, 25e5, 50), random.uniform(made.low, made.high, 50)
    exact = motion._asked(NITROGEN, pressure, theta)
    for found, expected, within in zip(made.at(pressure, theta), exact, motion.WITHIN, strict=True):
        assert found == pytest.approx(expected, rel=2 * within)


def test_where_a_series_begins() -> None:
    """Above the temperature of saturation, or where there is none above the critical one."""
    saturated = PropsSI("T", "P", 40e5, "Q", 1, "Argon")
    assert motion.coldest(ARGON, 40e5) == pytest.approx(1.1 * saturated)
    assert motion.coldest(ARGON, 60e5) == pytest.approx(1.5 * PropsSI("Tcrit", "Argon"))


def test_a_series_ends_where_its_equation_does() -> None:
    """Hydrogen's holds to 1000 K; it is far above its critical point at 150 K."""
    made = motion._level(properties.gas("hydrogen"), 25e5)
    assert made is not None
    assert (made.low, made.high) == pytest.approx((150, PropsSI("Tmax", "Hydrogen")))


def test_the_ends_of_any_series_are_in_it() -> None:
    """Rounding leaves some of them by a last digit, where an arc cosine is none."""
    flat = np.ones((7, 2, 2))
    for low in np.linspace(150.0, 450.0, 301).tolist():
        for high in (1.7 * low, 1700.0):
            series = motion.Level(flat, 25e5, low, high)
            found = series.at(np.full(2, 1e5), np.array([low, high]))
            assert np.isfinite(found).all()


def test_the_shortest_series_that_is_good_enough_is_taken() -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(motion, "LENGTHS", ((6, 12), (8, 20), (10, 24)))
        made = motion._level(ARGON, 25e5)
        assert made is not None
        assert made.coefficients.shape == (7, 8, 20)
        patch.setattr(motion, "LENGTHS", ((2, 3),))
        assert motion._level(ARGON, 25e5) is None


def test_far_from_any_gas_nothing_is_asked() -> None:
    asked = list[float]()

    def noted(_: object, __: properties.Array, theta: properties.Array, *___: object) -> object:
        asked.extend(theta.tolist())
        return np.ones((7, len(theta)))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(motion, "_asked", noted)
        theta = np.array([30.0, 45.0, 300.0, 2900.0, 3100.0])
        found = motion.moving(ARGON, 1e5, theta, strict=False)
        assert asked == [45.0, 2900.0]
        assert np.isnan(found.temperature).tolist() == [True, False, False, False, True]
        asked.clear()
        motion.moving(ARGON, 1e5, theta)
        assert asked == [30.0, 45.0, 2900.0, 3100.0]


def test_what_is_too_hot_for_the_equation() -> None:
    most = PropsSI("Tmax", "Argon")
    assert motion.hottest(ARGON) == pytest.approx(most)
    kelvins = np.array([300.0, 0.999 * most, 1.001 * most])
    assert motion.too_hot(ARGON, kelvins).tolist() == [False, False, True]
    assert motion.too_hot(ARGON, kelvins[:1]).tolist() == [False]
    assert motion.too_hot(ARGON, kelvins[2:]).tolist() == [True]
