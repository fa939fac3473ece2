"""An ideal gas in the place of the real one: the checks of what depends on its density fail."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from gasfuncs import properties
from gasfuncs.properties import densities, states
from tests.checks.every import PUBLISHED
from tests.checks.kinds import Published
from tests.mutations.judging import fails, forget

R = 8.314462618
KEEP_ANSWERS = tuple(
    f"gasfuncs.{part}" for part in ("calculations", "definition", "explain", "properties", "units")
)

OF_THE_DENSITY = (
    "GAS_CONVERT", "GAS_DENSITY", "GAS_COMPRESSIBILITY", "GAS_CONTENTS", "GAS_VOLUME",
    "GAS_PRESSURE", "GAS_DRAWN", "GAS_ACTUAL_FLOW", "GAS_STANDARD_FLOW", "GAS_BACKFILL",
    "GAS_RESERVOIR_SIZE", "GAS_RECHARGE_TIME", "GAS_RECOVERABLE", "GAS_LINE_CONTENTS",
    "GAS_FROM_LIQUID", "GAS_TO_LIQUID", "GAS_DELIVERED", "GAS_PRICE", "GAS_TANK_EVENTS",
    "GAS_FILL_TEMPERATURE", "GAS_VALVE_FLOW",
)  # fmt: skip


def ideal(_: Any, pressure: Any, temperature: Any) -> Any:
    """mol/m³."""
    return np.asarray(pressure) / (R * np.asarray(temperature))


def ideal_of_each(gas: Any, pressure: Any, temperature: Any, *asked: Any) -> Any:
    """mol/m³, or the compressibility, whichever is asked for."""
    molar = ideal(gas, pressure, temperature)
    return np.ones(np.shape(molar)) if states.compressibility in asked else molar


@pytest.fixture
def ideal_gas(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(densities, "_one", ideal)
    monkeypatch.setattr(densities, "_each_state", ideal_of_each)
    monkeypatch.setattr(properties, "pressure", lambda _, molar, t: molar * R * np.asarray(t))
    forget(KEEP_ANSWERS)
    yield
    monkeypatch.undo()
    forget(KEEP_ANSWERS)


def published(name: str) -> Iterator[Published]:
    return (check for check in PUBLISHED if check.formula.startswith(f"{name}("))


@pytest.mark.usefixtures("ideal_gas")
def test_an_ideal_gas_fails() -> None:
    unnoticed = [name for name in OF_THE_DENSITY if not any(map(fails, published(name)))]
    assert not unnoticed
