"""Months of a plant with a known loss: loads, tickets, the tank's gauge, all read with errors."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from gasfuncs import properties
from gasfuncs.units import NORMAL
from tests.simulated.rises import Random

BAR, KELVIN = 1e5, 293.15
NITROGEN = properties.gas("nitrogen")
NORMAL_DENSITY = float(properties.reference_molar_density(NITROGEN, NORMAL))

CAPACITY = 7000.0
"""Nm³ that the tank holds."""

VOLUMES, PRESSURES = (4.2, 7.5), (2.0, 6.0, 10.0)
"""m³ of the furnaces, bar(a) of the recipes."""

LEVEL, TICKET, VOLUME, GAUGE, WARMTH = 0.01, 0.025, 0.03, 0.08, 5.0
"""Half widths: of the capacity, of a ticket, of a free volume, bar of a gauge, K of the gas."""


@dataclass(frozen=True)
class Month:
    """What the books say, in Nm³, and the tolerances as texts; `loss` is the truth."""

    opening: float
    delivered: float
    closing: float
    use: float
    stock_tolerance: str
    delivery_tolerance: str
    use_tolerance: str
    loss: float


def month(random: Random, loss: float = 0.0) -> Month:
    """A month of 60 to 150 loads; every error is rectangular."""
    count = int(random.integers(60, 150))
    furnace = random.integers(0, len(VOLUMES), count)
    pressure = random.choice(PRESSURES, count)
    volume_error, gauge_error = random.uniform(-1, 1, 2)
    warmth = random.uniform(-WARMTH, WARMTH, count)
    volume = np.array(VOLUMES)[furnace]
    used = volume * (1 + VOLUME * volume_error) * normal_in(
        pressure + GAUGE * gauge_error, KELVIN + warmth
    )  # fmt: skip
    told = volume * normal_in(pressure, KELVIN)
    drops = random.uniform(2500, 4500, round(float(used.sum()) / 3500))
    tickets = drops * (1 + TICKET * random.uniform(-1, 1, len(drops)))
    opening = random.uniform(0.6, 0.9) * CAPACITY
    closing = opening + drops.sum() - used.sum() - loss
    read = CAPACITY * LEVEL * random.uniform(-1, 1, 2)
    own = float(np.sqrt(np.sum((told * WARMTH / KELVIN) ** 2) / 3))
    by_gauge = float(
        np.sum(volume * (normal_in(pressure + GAUGE, KELVIN) - normal_in(pressure, KELVIN)))
    )
    own_tickets = float(np.sqrt(np.sum((tickets * TICKET) ** 2) / 3))
    return Month(
        opening + read[0], float(tickets.sum()), float(closing + read[1]), float(told.sum()),
        f"±{CAPACITY * LEVEL} Nm3", f"u {own_tickets!r} Nm3",
        f"±{100 * VOLUME} % volume; ±{by_gauge!r} Nm3 gauge; u {own!r} Nm3", loss,
    )  # fmt: skip


def normal_in(pressure: ArrayLike, temperature: ArrayLike) -> NDArray[np.float64]:
    """Nm³ in a cubic metre at bar and K."""
    density = properties.molar_density(NITROGEN, np.asarray(pressure) * BAR, temperature)
    return np.asarray(density) / NORMAL_DENSITY
