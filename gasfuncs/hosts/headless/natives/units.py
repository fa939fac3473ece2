"""The units of CONVERT on which spreadsheets agree.

Of others (psi, lbm, BTU) each has its own factor. They are not computed; GAS_CONVERT has them.
"""

from __future__ import annotations

from gasfuncs.hosts.headless.cells import FailedError, UncomputableError

_KINDS: tuple[dict[str, float], ...] = (
    {"g": 1e-3},
    {"m": 1.0, "mi": 1609.344, "Nmi": 1852.0, "in": 0.0254, "ft": 0.3048, "yd": 0.9144},
    {"yr": 31_557_600.0, "day": 86_400.0, "hr": 3600.0, "mn": 60.0, "sec": 1.0},
    {"Pa": 1.0},
    {"N": 1.0},
    {"J": 1.0, "Wh": 3600.0},
    {"W": 1.0},
    {"l": 1e-3, "m3": 1.0, "ft3": 0.028316846592, "in3": 1.6387064e-5, "gal": 3.785411784e-3,
     "qt": 9.46352946e-4, "pt": 4.73176473e-4},
    {"m2": 1.0, "ft2": 0.09290304, "in2": 6.4516e-4, "yd2": 0.83612736, "ha": 1e4},
)  # fmt: skip
_PREFIXES = {
    "G": 1e9,
    "M": 1e6,
    "k": 1e3,
    "h": 1e2,
    "d": 0.1,
    "c": 1e-2,
    "m": 1e-3,
    "u": 1e-6,
    "n": 1e-9,
}
_PREFIXED = frozenset(("g", "m", "sec", "Pa", "N", "J", "W", "l"))
_TEMPERATURES = {
    "C": (1.0, 273.15), "cel": (1.0, 273.15), "F": (5 / 9, 459.67 * 5 / 9),
    "fah": (5 / 9, 459.67 * 5 / 9), "K": (1.0, 0.0), "kel": (1.0, 0.0),
}  # fmt: skip


def converted(value: float, old: str, new: str) -> float:
    """CONVERT: a number in another unit; #N/A between units of two kinds."""
    if old in _TEMPERATURES and new in _TEMPERATURES:
        (factor, offset), (to_factor, to_offset) = _TEMPERATURES[old], _TEMPERATURES[new]
        return (value * factor + offset - to_offset) / to_factor
    kinds = [_kind(unit) for unit in (old, new)]
    if kinds[0][0] != kinds[1][0]:
        raise FailedError("#N/A")
    return value * kinds[0][1] / kinds[1][1]


def _kind(unit: str) -> tuple[int, float]:
    if unit in _TEMPERATURES:
        return -1, 1.0
    for number, units in enumerate(_KINDS):
        if unit in units:
            return number, units[unit]
        if unit[:1] in _PREFIXES and unit[1:] in _PREFIXED and unit[1:] in units:
            return number, _PREFIXES[unit[0]] * units[unit[1:]]
    raise UncomputableError(f"CONVERT is not computed for the unit {unit!r}; use GAS_CONVERT")
