"""Which functions no formula carries, and why."""

from __future__ import annotations

SEARCHES = "it searches for its answer"
INTEGRATES = "it integrates"
FITS = "it fits models or balances to readings"
SIMULATES = "it runs through many trials or days"
ORDER = "it goes through rows in their order, each with those before it"
EXPLAINS = "it tells about the library itself"
BOUND = "its formula names an add-in; type it anew"

REASONS: dict[str, str] = {
    "GAS_RESERVOIR_AFTER": INTEGRATES,
    "GAS_RESERVOIR_SIZE": INTEGRATES,
    "GAS_BACKFILL_TIME": INTEGRATES,
    "GAS_BACKFILL_CURVE": INTEGRATES,
    "GAS_LINE_BORE": INTEGRATES,
    "GAS_ULTIMATE_PRESSURE": SEARCHES,
    "GAS_PUMPDOWN_CURVE": INTEGRATES,
    "GAS_RISE_FIT": FITS,
    "GAS_RISE_CURVE": FITS,
    "GAS_RISE_VERDICT": FITS,
    "GAS_TANK_PLAN": SIMULATES,
    "GAS_UNACCOUNTED_VERDICT": SIMULATES,
    "GAS_FORECAST": FITS,
    "GAS_DELIVERY_SIM": SIMULATES,
    "GAS_TANK_EVENTS": ORDER,
    "GAS_RELIEF_FLOW": SEARCHES,
    "GAS_COMBINE": SIMULATES,
    "GAS_RECONCILE": FITS,
    "GAS_UNCERTAINTY": SIMULATES,
    "GAS_WORKING": EXPLAINS,
    "GAS_CHECK": EXPLAINS,
    "GAS_SOURCE": EXPLAINS,
    "GAS_LIST": EXPLAINS,
}
"""Functions that no formula carries."""

TOLERANCE = "a tolerance with names, degrees of freedom or more than two errors is not read"

PARTLY: dict[str, str] = {
    "GAS_PUMPDOWN_TIME": "a pump behind a line is integrated",
    "GAS_TANK_LIQUID": "a level in a lying tank with torispherical heads is integrated",
    "GAS_CONTROL_CHART": "a reading that cannot be read is left out with a sentence",
    "GAS_TREND": "a reading that cannot be read is left out with a sentence",
    "GAS_TANK_MIX": "a tank that comes near the critical point is beyond the series",
    "GAS_PURGE_VERDICT": TOLERANCE,
    "GAS_DECAY_VERDICT": TOLERANCE,
}
"""Functions of which some calls are carried; the others show #N/A."""

LEFT_OPEN: dict[str, frozenset[str]] = {
    "GAS_CONTRACT_COST": frozenset({"drop", "shortfall_rate", "price_index", "period"}),
    "GAS_REORDER_DATE": frozenset({"order_days", "delivery_days", "holidays"}),
    "GAS_CONTROL_CHART": frozenset({"baseline_count", "target", "sigma", "width"}),
}
"""Arguments that no way of its own is recorded for: not a number where blank, or any word."""
