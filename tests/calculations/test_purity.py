"""Physics of the topic purity, and its tables as the documents show them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad

import gasfuncs
from gasfuncs.calculations import printed_values, purity
from gasfuncs.definition.terms import Quantity
from gasfuncs.errors import GasFuncsError
from gasfuncs.registry import worksheet_function_named
from gasfuncs.units import LEAK_TEMPERATURE, R, kinds

PAGE = Path(__file__).parents[2] / "docs" / "printed-values.md"
VALUES = (*printed_values.PERMEABILITIES, *printed_values.OUTGASSING_RATES)


def test_a_thick_wall_is_thin_rings_in_series() -> None:
    permeability, bore, wall, pressure = 2.7e-15, 0.004, 0.003, 21e3
    resistance = quad(lambda r: 1 / (2 * np.pi * r * permeability), bore / 2, bore / 2 + wall)[0]
    found = purity.permeation(permeability, bore, wall, 7.0, pressure)
    assert found == pytest.approx(7 * pressure / resistance * R * LEAK_TEMPERATURE, rel=1e-9)


def test_hoses_in_a_column_at_once() -> None:
    lengths = np.array([1.0, 2.0, 5.0])
    found = np.asarray(purity.permeation(1e-15, 0.006, 0.001, lengths, 2e4))
    assert found / found[0] == pytest.approx(lengths)


@pytest.mark.parametrize("value", VALUES, ids=str)
def test_a_printed_value_can_be_typed_as_it_stands_and_is_documented(
    value: printed_values.PrintedValue,
) -> None:
    permeability = value in printed_values.PERMEABILITIES
    kind, unit = (
        (kinds.PERMEABILITY, "barrer") if permeability else (kinds.OUTGASSING, "mbar L/(s cm2)")
    )
    assert Quantity("x", "Value", kind=kind, unit=unit).read(value.value) > 0
    cells = (value.material, value.what, value.value, value.spread, value.source, value.mark)
    assert f"| {' | '.join(cells)} |" in PAGE.read_text(encoding="utf-8")
    name = "GAS_PERMEATION" if permeability else "GAS_GAS_LOAD"
    assert str(value) in " ".join(map(str, worksheet_function_named(name).sources))


def test_a_thousand_sources_are_added_up_and_one_more_is_not() -> None:
    sources = [[f"joint {n}", 1e-6, 1.0] for n in range(1_000)]
    rows = gasfuncs.GAS_POINT_OF_USE(0, 10, sources)
    assert rows[-1][1] == pytest.approx(1_000 * rows[2][1])
    with pytest.raises(GasFuncsError, match="holds 1001 sources, more than 1000"):
        gasfuncs.GAS_POINT_OF_USE(0, 10, [*sources, sources[0]])


def test_every_unit_of_the_two_kinds_can_be_worked_out() -> None:
    for kind in (kinds.PERMEABILITY, kinds.OUTGASSING, kinds.MOISTURE):
        for label in kind.labels():
            assert kind.unit(label).scale > 0


def test_none_of_them_is_a_default() -> None:
    for name in ("GAS_PERMEATION", "GAS_GAS_LOAD", "GAS_PUMPDOWN_CURVE"):
        for parameter in worksheet_function_named(name).parameters:
            if parameter.name in ("permeability", "rates", "exponents"):
                assert parameter.required or parameter.default is None
