"""The tables of compressibility against the equation of state, and how they are kept."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from importlib.metadata import version
from pathlib import Path

import numpy as np
import pytest

from gasfuncs import properties
from gasfuncs.properties import gases, kept, states, tables

PURE = [properties.gas(name) for name in gases.FLUIDS]


def name_of(gas: properties.Gas) -> str:
    return kept.file_name(gas, "compressibility", tables.shape())


@pytest.fixture
def cache_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(kept, "user_folder", lambda: tmp_path / "kept")
    monkeypatch.setattr(kept, "SHIPPED", tmp_path / "nothing shipped")
    monkeypatch.delenv("GASFUNCS_TABLES", raising=False)
    tables.table.cache_clear()
    return tmp_path / "kept"


@pytest.fixture(autouse=True)
def fresh_tables() -> object:
    yield
    tables.table.cache_clear()


@pytest.mark.parametrize("gas", PURE, ids=str)
def test_a_table_is_the_equation_of_state(gas: properties.Gas) -> None:
    made = tables.made(gas)
    assert made is not None
    random = np.random.default_rng(7)
    p = np.concatenate([10 ** random.uniform(0, 7.5, 500), random.uniform(0, 350e5, 500)])
    t = random.uniform(made.least_temperature, made.most_temperature, 1000)
    exact = states.molar_density(gas, p, t)
    np.testing.assert_allclose(made.molar_density(p, t), exact, rtol=3e-10)
    one = [made.one_molar_density(*state) for state in zip(p.tolist(), t.tolist(), strict=True)]
    np.testing.assert_allclose(one, made.molar_density(p, t), rtol=1e-12)


@pytest.mark.parametrize("gas", PURE, ids=str)
def test_one_state_is_answered_at_the_very_ends_of_a_table(gas: properties.Gas) -> None:
    """Where rounding may leave the ends of a series by a last digit."""
    made = tables.table(gas)
    assert made is not None
    for series in (made.cold, made.warm):
        for kelvin in (series.low, series.high):
            for pressure in (0.0, tables.MOST_PRESSURE):
                alone = made.one_molar_density(pressure, kelvin)
                [column] = made.molar_density(np.array([pressure]), np.array([kelvin]))
                assert alone == pytest.approx(column, rel=1e-12)


def test_outside_the_table_the_equation_is_asked_without_a_seam() -> None:
    argon = properties.gas("argon")
    p = np.array([349.999e5, 350.001e5, 50e5, 50e5, 0.0])
    t = np.array([300.0, 300.0, 199.999, 200.001, 300.0])
    found = properties.molar_density(argon, p, t)
    np.testing.assert_allclose(found[:4], states.molar_density(argon, p[:4], t[:4]), rtol=3e-10)
    assert found[4] == 0


@pytest.mark.parametrize(
    ("pressure", "kelvin"), [(600e5, 300.0), (600e5, 1000.0), (50e5, 160.0), (50e5, 1900.0)]
)
def test_far_outside_the_table_the_equation_is_asked(pressure: float, kelvin: float) -> None:
    """Of a column and of one state, beyond each end of the table."""
    argon = properties.gas("argon")
    exact = float(states.molar_density(argon, pressure, kelvin))
    column = properties.molar_density(argon, [pressure, 1e5], [kelvin, 300.0])
    assert column[0] == pytest.approx(exact, rel=1e-12)
    assert float(properties.molar_density(argon, pressure, kelvin)) == pytest.approx(
        exact, rel=1e-12
    )


def test_the_ends_of_any_series_are_in_it() -> None:
    """Rounding leaves some of them by a last digit, where an arc cosine is none."""
    ends = [(low, 1.5 * low) for low in np.linspace(150.0, 450.0, 301).tolist()]
    for low, high in ends:
        series = tables.Series(np.array([[1.0, 2.0], [0.0, 0.0]]), low, high)
        assert series.at_one(0.0, low) == pytest.approx(3)
        assert series.at_one(0.0, high) == pytest.approx(-1)


def test_a_table_is_kept_and_read_again(
    cache_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    helium = properties.gas("helium")
    first = tables.table(helium)
    assert first is not None
    assert [path.name for path in cache_folder.iterdir()] == [name_of(helium)]
    tables.table.cache_clear()
    never = replace(tables.KEEPING, make=lambda gas: pytest.fail(f"{gas} made again"))
    monkeypatch.setattr(tables, "KEEPING", never)
    again = tables.table(helium)
    assert again is not None
    for one, other in ((again.cold, first.cold), (again.warm, first.warm)):
        assert (one.low, one.high) == (other.low, other.high)
        np.testing.assert_array_equal(one.coefficients, other.coefficients)


@pytest.mark.parametrize("spoiled", [b"", b"PK\x03\x04 half a file", b"\x00" * 5000])
def test_a_spoiled_table_is_made_anew(cache_folder: Path, spoiled: bytes) -> None:
    cache_folder.mkdir()
    file = cache_folder / name_of(properties.gas("helium"))
    file.write_bytes(spoiled)
    assert tables.table(properties.gas("helium")) is not None
    assert file.stat().st_size > 1000


@pytest.mark.parametrize("series", ["cold", "warm"])
def test_a_file_with_one_series_that_is_no_double_one_is_not_read(
    series: str, tmp_path: Path
) -> None:
    made = tables.table(properties.gas("helium"))
    assert made is not None
    packed = dict(tables.KEEPING.pack(made))
    packed[series] = packed[series][0]
    np.savez(tmp_path / "flat.npz", **packed)  # type: ignore[arg-type]
    assert tables.KEEPING.read(tmp_path / "flat.npz") is None


@pytest.mark.parametrize("bad", ["cold", "warm"])
def test_one_series_that_is_not_good_enough_makes_no_table(
    bad: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = tables.table(properties.gas("helium"))
    assert made is not None
    sides = {"cold": made.cold, "warm": made.warm, bad: None}
    found = iter((sides["cold"], sides["warm"]))
    monkeypatch.setattr(tables, "_series", lambda *_: next(found))
    assert tables.made(properties.gas("helium")) is None


def test_series_of_all_gases_are_written_for_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of helium as if it were the only gas; nothing of one without a series."""
    helium, asked = properties.gas("helium"), list[properties.Gas]()
    made = tables.table(helium)

    def make(gas: properties.Gas) -> tables.Table | None:
        asked.append(gas)
        return made

    monkeypatch.setattr(kept, "FLUIDS", {"helium": gases.FLUIDS["helium"]})
    [path] = replace(tables.KEEPING, make=make).write_all(tmp_path / "new", tables.shape())
    assert asked == [helium]
    assert path == tmp_path / "new" / name_of(helium)
    assert tables.KEEPING.read(path) is not None
    without = replace(tables.KEEPING, make=lambda _: None)
    assert not list(without.write_all(tmp_path / "none", tables.shape()))


def test_a_folder_that_cannot_be_written_is_done_without(cache_folder: Path) -> None:
    cache_folder.write_text("a file where the folder should be")
    assert tables.table(properties.gas("helium")) is not None


def test_tables_can_be_turned_off(monkeypatch: pytest.MonkeyPatch) -> None:
    tables.table.cache_clear()
    monkeypatch.setenv("GASFUNCS_TABLES", "off")
    assert tables.table(properties.gas("argon")) is None


def test_a_mixture_has_no_table() -> None:
    assert tables.table(properties.gas("95% argon + 5% hydrogen")) is None


@pytest.mark.parametrize("changed", ["MOST_TEMPERATURE", "LEAST_TEMPERATURE", "MOST_PRESSURE"])
def test_a_changed_limit_finds_no_old_table(
    cache_folder: Path, monkeypatch: pytest.MonkeyPatch, changed: str
) -> None:
    """A table made for other limits, read as if it were for these, was 1.3 % off."""
    helium = properties.gas("helium")
    tables.table(helium)
    monkeypatch.setattr(tables, changed, 0.9 * getattr(tables, changed))
    tables.table.cache_clear()
    found = tables.table(helium)
    assert found is not None
    assert len(list(cache_folder.iterdir())) == 2
    exact = states.molar_density(helium, np.array([100e5]), np.array([300.0]))
    np.testing.assert_allclose(
        found.molar_density(np.array([100e5]), np.array([300.0])), exact, rtol=3e-10
    )


AT_ONCE = ("ROWS_AT_ONCE", "PRODUCTS_AT_ONCE")


@pytest.mark.parametrize(
    "constant", [n for n in vars(tables) if n.isupper() and n not in (*AT_ONCE, "KEEPING")]
)
def test_every_constant_shapes_the_key(constant: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tables.shape()
    value = getattr(tables, constant)
    monkeypatch.setattr(tables, constant, value[:-1] if isinstance(value, tuple) else value + 1)
    assert tables.shape() != before


def test_how_many_at_once_shapes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    helium, p, t = properties.gas("helium"), np.linspace(1e5, 350e5, 500), np.full(500, 300.0)
    whole = tables.made(helium)
    for constant in AT_ONCE:
        monkeypatch.setattr(tables, constant, 1000)
    pieces = tables.made(helium)
    assert whole is not None
    assert pieces is not None
    for one, other in ((whole.cold, pieces.cold), (whole.warm, pieces.warm)):
        np.testing.assert_array_equal(one.coefficients, other.coefficients)
    np.testing.assert_allclose(pieces.molar_density(p, t), whole.molar_density(p, t), rtol=1e-14)


def test_another_coolprop_finds_no_old_table(monkeypatch: pytest.MonkeyPatch) -> None:
    argon = properties.gas("argon")
    before = name_of(argon)
    monkeypatch.setattr(kept, "version", lambda _: "0.0")
    assert name_of(argon) != before


def pinned() -> str:
    lock = Path(__file__).parents[1] / ".ci" / "lock.txt"
    return dict(line.split("==") for line in lock.read_text().split())["CoolProp"]


@pytest.mark.skipif(version("CoolProp") != pinned(), reason="another CoolProp than the pinned one")
def test_the_tables_of_the_pinned_coolprop_come_with_the_package() -> None:
    """Written anew by `gasfuncs build series gasfuncs/properties/series` where this fails."""
    assert {path.name for path in kept.SHIPPED.iterdir()} >= {name_of(gas) for gas in PURE}
    for gas in PURE:
        shipped = tables.KEEPING.read(kept.SHIPPED / name_of(gas))
        made = tables.made(gas)
        assert shipped is not None
        assert made is not None
        p = np.linspace(0, 350e5, 400)
        t = np.linspace(made.least_temperature, made.most_temperature, 400)
        np.testing.assert_allclose(
            shipped.molar_density(p, t), made.molar_density(p, t), rtol=1e-11
        )


@pytest.mark.skipif(version("CoolProp") != pinned(), reason="another CoolProp than the pinned one")
def test_the_first_answer_on_a_fresh_machine_needs_no_coolprop(tmp_path: Path) -> None:
    program = """
import sys, gasfuncs
for gas in ("argon", "nitrogen", "helium", "hydrogen", "oxygen", "air"):
    print(gasfuncs.GAS_CONTENTS(gas, "40 L", "150 bar(a)", "150 degC"))
assert not any(name.startswith("CoolProp") for name in sys.modules)
"""
    # of carbon dioxide the normal cubic metre is below its table
    empty = dict(os.environ, XDG_CACHE_HOME=str(tmp_path), LOCALAPPDATA=str(tmp_path))
    done = subprocess.run(
        [sys.executable, "-c", program], env=empty, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert len(done.stdout.split()) == 6
    assert not list(tmp_path.rglob("*.npz"))
