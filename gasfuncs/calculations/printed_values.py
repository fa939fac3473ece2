"""Material values that others have printed, to choose from: none is ever taken by itself.

They differ from print to print by the factor told; `docs/printed-values.md` shows them as a table.
"""

from __future__ import annotations

from dataclasses import dataclass

ROBB = "W. L. Robb, Ann. N. Y. Acad. Sci. 146 (1968) 119, Table 1"
HANDBOOK = "S. Pauly, Permeability and diffusion data, in Polymer Handbook, 4th ed. (1999)"
PTFE = "solubilities and diffusivities collected in arXiv 1703.09144 (2017)"
ELSEY = "R. J. Elsey, Vacuum 25 (1975) 347, as in O'Hanlon, A User's Guide to Vacuum Technology"
CERN = "CERN accelerator school lectures on vacuum (2007, 2017)"
YOUNG = "J. R. Young, J. Vac. Sci. Technol. 6 (1969) 398"
FROM_MEMORY = "from memory"
SEEN = "read"


@dataclass(frozen=True)
class PrintedValue:
    """One printed value, with how far another print may be off."""

    material: str
    what: str
    value: str
    spread: str
    source: str
    mark: str

    def __str__(self) -> str:
        return (
            f"{self.material}, {self.what}: {self.value} (within a {self.spread}; {self.source}; "
            f"{self.mark})"
        )


PERMEABILITIES = (
    PrintedValue("silicone rubber", "oxygen", "600 barrer", "factor of 2", ROBB, SEEN),
    PrintedValue("butyl rubber", "oxygen", "1.4 barrer", "factor of 2", ROBB, SEEN),
    PrintedValue("low-density polyethylene", "oxygen", "8 barrer", "factor of 2", ROBB, SEEN),
    PrintedValue("high-density polyethylene", "oxygen", "1 barrer", "factor of 2", ROBB, SEEN),
    PrintedValue("nylon 6", "oxygen", "0.04 barrer", "factor of 2", ROBB, SEEN),
    PrintedValue("PTFE", "oxygen", "9.1 barrer", "factor of 2.5", PTFE, SEEN),
    PrintedValue("PTFE", "nitrogen", "2.1 barrer", "factor of 2.5", PTFE, SEEN),
    PrintedValue("silicone rubber", "water", "36000 barrer", "factor of 2", ROBB, FROM_MEMORY),
    PrintedValue(
        "low-density polyethylene", "water", "90 barrer", "factor of 2", HANDBOOK, FROM_MEMORY
    ),
    PrintedValue(
        "high-density polyethylene", "water", "12 barrer", "factor of 2", HANDBOOK, FROM_MEMORY
    ),
    PrintedValue("polypropylene", "water", "51 barrer", "factor of 2", HANDBOOK, FROM_MEMORY),
)
"""At 20 to 25 °C; water's rises with humidity in nylon and rubber."""

OUTGASSING_RATES = (
    PrintedValue(
        "stainless steel, unbaked", "after 1 h, exponent 1", "3e-9 mbar L/(s cm2)", "factor of 3",
        CERN, FROM_MEMORY,
    ),
    PrintedValue(
        "stainless steel, unbaked", "after 1 h", "2e-8 torr L/(s cm2)", "factor of 3",
        "a vacuum supplier's note", SEEN,
    ),
    PrintedValue(
        "aluminium, fresh", "after 1 h, exponent 1", "8.4e-9 mbar L/(s cm2)", "factor of 3", ELSEY,
        FROM_MEMORY,
    ),
    PrintedValue(
        "mild steel", "after 1 h, exponent 1", "7.2e-7 mbar L/(s cm2)", "factor of 5", ELSEY,
        FROM_MEMORY,
    ),
    PrintedValue(
        "fluoroelastomer, fresh", "after 1 h, exponent 0.8", "1.5e-6 mbar L/(s cm2)",
        "factor of 3", ELSEY, FROM_MEMORY,
    ),
    PrintedValue(
        "stainless steel, baked at 250 °C for 15 to 30 h", "steady", "2e-12 torr L/(s cm2)",
        "factor of 3", YOUNG, SEEN,
    ),
    PrintedValue(
        "stainless steel, baked at 450 °C for 17 h", "steady", "4e-13 torr L/(s cm2)",
        "factor of 3", YOUNG, SEEN,
    ),
)  # fmt: skip
"""Furnace insulation, graphite and loads give off far more and are in no table: measure them."""


def choices(values: tuple[PrintedValue, ...], named: str) -> str:
    """All of them as one source."""
    return f"Printed {named} to choose from: " + "; ".join(map(str, values))
