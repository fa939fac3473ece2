"""What every function says whose answer follows the air pressure at the site."""

from __future__ import annotations

from collections.abc import Iterable

from gasfuncs.definition.record import Parameter

ALTITUDE = (
    "A gauge pressure is taken over 1.01325 bar. Where the air has less, as 0.835 bar at 1,600 m, "
    "the answer can move by more than 1 %: write absolute pressures there, by GAS_ABSOLUTE with "
    "the site's own."
)


def altitude_cautions(parameters: Iterable[Parameter]) -> tuple[str, ...]:
    """The caution of a function that takes gauge pressures and does not ask for the site's air."""
    taken = list(parameters)
    if any(parameter.name == "site_pressure" for parameter in taken):
        return ()
    return (ALTITUDE,) if any(parameter.term.by_gauge for parameter in taken) else ()
