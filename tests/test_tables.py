"""The tables of compressibility against the equation of state, and how they are kept."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from gasfuncs import properties
from gasfuncs.properties import gases, states, tables

PURE = [properties.gas(name) for name in gases.FLUIDS]


@pytest.fixture
def cache_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(tables, "_folder", lambda: tmp_path / "kept")
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


def test_outside_the_table_the_equation_is_asked_without_a_seam() -> None:
    argon = properties.gas("argon")
    p = np.array([349.999e5, 350.001e5, 50e5, 50e5, 0.0])
    t = np.array([300.0, 300.0, 199.999, 200.001, 300.0])
    found = properties.molar_density(argon, p, t)
    np.testing.assert_allclose(found[:4], states.molar_density(argon, p[:4], t[:4]), rtol=3e-10)
    assert found[4] == 0


def test_a_table_is_kept_and_read_again(
    cache_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    helium = properties.gas("helium")
    first = tables.table(helium)
    assert first is not None
    assert [path.name for path in cache_folder.iterdir()] == ["helium.npz"]
    tables.table.cache_clear()
    monkeypatch.setattr(tables, "made", lambda gas: pytest.fail(f"{gas} made again"))
    again = tables.table(helium)
    assert again is not None
    for one, other in ((again.cold, first.cold), (again.warm, first.warm)):
        assert (one.low, one.high) == (other.low, other.high)
        np.testing.assert_array_equal(one.coefficients, other.coefficients)


@pytest.mark.parametrize("spoiled", [b"", b"PK\x03\x04 half a file", b"\x00" * 5000])
def test_a_spoiled_table_is_made_anew(cache_folder: Path, spoiled: bytes) -> None:
    cache_folder.mkdir()
    (cache_folder / "helium.npz").write_bytes(spoiled)
    assert tables.table(properties.gas("helium")) is not None
    assert (cache_folder / "helium.npz").stat().st_size > 1000


def test_a_folder_that_cannot_be_written_is_done_without(cache_folder: Path) -> None:
    cache_folder.write_text("a file where the folder should be")
    assert tables.table(properties.gas("helium")) is not None


def test_tables_can_be_turned_off(monkeypatch: pytest.MonkeyPatch) -> None:
    tables.table.cache_clear()
    monkeypatch.setenv("GASFUNCS_TABLES", "off")
    assert tables.table(properties.gas("argon")) is None


def test_a_mixture_has_no_table() -> None:
    assert tables.table(properties.gas("95% argon + 5% hydrogen")) is None
