"""Cycle logs of many plants in Parquet: gas columns and a monthly summary, by Dask."""

from gasfuncs.hosts.ledger.ledger import LedgerError, calculate_ledger

__all__ = ["LedgerError", "calculate_ledger"]
