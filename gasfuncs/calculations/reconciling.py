"""Measured values made to fit their balances, by least squares weighted with their errors.

x̂ = x - S Aᵀ (A S Aᵀ)⁻¹ A x, and the corrections tested: VDI 2048 part 1, ISO 5168's method of
weighting; S is the covariance of the values, A the coefficients of the balances A x = 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gasfuncs.errors import OutOfRangeError

Array = NDArray[np.float64]

COVERAGE = 1.959964
"""Standard deviations of a normal 95 % interval to either side."""

SAME = 0.01
"""Of the largest test of a correction: closer ones cannot be told apart."""

SINGULAR = 1e-12


@dataclass(frozen=True)
class Reconciled:
    """Values that fit their balances, and how far they had to be moved."""

    values: Array
    uncertainties: Array
    tests: Array
    """Corrections in their own standard deviations; 0 where a value cannot be corrected."""
    chi2: float
    limit: float
    """That chi2 stays below in 95 of 100 cases where only the told errors are at work."""

    @property
    def passes(self) -> bool:
        """Whether the values fit the balances within their errors."""
        return self.chi2 <= self.limit

    @property
    def suspects(self) -> list[int]:
        """The value that moved most for what it may, or those that cannot be told from it."""
        if self.passes:
            return []
        most = float(self.tests.max())
        return np.flatnonzero(self.tests >= (1 - SAME) * most).tolist()


def reconciled(values: Array, covariance: Array, balances: Array) -> Reconciled:
    """Fit values (n) with a covariance (n, n) to balances (m, n).

    Raises OutOfRangeError for balances that are not independent or hold exact values only.
    """
    from scipy.special import chdtri

    gap = balances @ values
    spread = balances @ covariance @ balances.T
    scale = np.sqrt(np.diag(spread))
    if not scale.all() or np.linalg.cond(spread / np.outer(scale, scale)) > 1 / SINGULAR:
        raise OutOfRangeError(
            "are not independent of each other, or one holds nothing that has a tolerance; "
            "leave out a balance that follows from the others",
            "balances",
        )
    gain = covariance @ balances.T @ np.linalg.inv(spread)
    moved = gain @ balances @ covariance
    corrections = -gain @ gap
    deviations = np.sqrt(np.clip(np.diag(moved), 0.0, None))
    movable = deviations > 1e-9 * np.sqrt(np.diag(covariance))
    tests = np.divide(np.abs(corrections), deviations, out=np.zeros_like(values), where=movable)
    left = np.sqrt(np.clip(np.diag(covariance - moved), 0.0, None))
    chi2 = float(gap @ np.linalg.solve(spread, gap))
    return Reconciled(values + corrections, left, tests, chi2, float(chdtri(len(gap), 0.05)))
