"""Checks of the topic furnace."""

from tests.checks.dense import BETWEEN, FIVE_DIGITS, OF_BETWEEN, STATES
from tests.checks.kinds import MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import RAO

BRANAN = "C. Branan, Rules of Thumb for Chemical Engineers, purging"
IDEAL = "the source reckons with an ideal gas"
TYRE = (
    "Cengel, Boles, Thermodynamics, problem on a tyre of 0.025 m3 at 310 kPa (absolute) and "
    "25 °C, driven to 50 °C: "
)
TYRE_WHY = "three digits; the source takes 0 °C as 273 K and air as ideal"

PUBLISHED = [
    Published(
        'GAS_ZONE_CONTENTS("air","1 atm",{1;1},{0;100})',
        (1.293 + 0.946) / 1.293,
        0.001,
        "Density of dry air at 1 atm: 1.293 kg/m3 at 0 °C, 0.946 at 100 °C (engineering tables)",
        MEMORY,
        "three digits", reckoned=True,
    ),
    Published(
        'GAS_FILL_TEMPERATURE("air",0,"1 atm","1 atm",26.85)',
        420 - 273.15,
        1.5,
        "Uniform-flow charging of an evacuated vessel from the air at 300 K: 420 K, k = 1.4 "
        "(thermodynamics textbooks)",
        SEEN,
        "cv of real air rises 1 % to 420 K, which is 0.9 K",
        absolute=True, reckoned=True,
    ),
    Published(
        'GAS_FILL_TEMPERATURE("air",1,30,30,226.85,26.85)',
        1.4 * 500 / (1 + 0.1 / 3 * (1.4 * 500 / 300 - 1)) - 273.15,
        10,
        RAO.says(
            "0.1 to 3 MPa from a main of 500 K, vessel at 300 K, k = 1.4: 670.2 K (formula read, "
            "its value recomputed)"
        ),
        READ,
        "k of real air falls to 1.38 at 600 K and 1.37 at 670 K: 1.5 % of 670 K",
        absolute=True, reckoned=True,
    ),
    Published(
        'GAS_SETTLED_PRESSURE("air","310 kPa",25,50,"kPa")',
        336, 0.0015, TYRE + "336 kPa", MEMORY, TYRE_WHY,
    ),
    Published(
        'GAS_TOP_UP("air",0.025,"310 kPa",50,25,"mol")',
        0.0070 / 0.0289655,
        0.014,
        "The same tyre bled at 50 °C to its first pressure loses 0.0070 kg: what it would take "
        "to fill it up again as it cools, value from memory",
        MEMORY,
        "0.0906 - 0.0836 kg, each rounded by half a unit of its last digit", reckoned=True,
    ),
    Published(
        'GAS_RECOVERABLE("nitrogen",1,"5 atm","1 atm",0)',
        4.0,
        0.005,
        BRANAN + ": 1 to 5 atm takes 4 vessel volumes, which come back",
        SEEN,
        IDEAL,
    ),
    Published(
        'GAS_RECOVERABLE("argon",1,"2400 psia","2250 psia","300 K","mol")', BETWEEN, OF_BETWEEN,
        STATES, SEEN, FIVE_DIGITS, reckoned=True,
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_FILL_TEMPERATURE("helium",0,"0.5 Pa","0.5 Pa",26.85)',
        300 * 5 / 3 - 273.15,
        "γ T at half a pascal too",
        2e-6,
    ),
    Invariant('GAS_RECOVERABLE("argon",2.5,6,6,60)', 0, "nothing comes back without a fall"),
    Invariant(
        'GAS_ZONE_CONTENTS("argon",2,{1.5;1},{300;300})',
        'GAS_CONTENTS("argon",2.5,2,300)',
        "zones at one temperature are one vessel",
    ),
    Invariant(
        'GAS_ZONE_CONTENTS("nitrogen",{1;2},{1.5,1},{900,200})',
        'GAS_ZONE_CONTENTS("nitrogen",2,{0.5;1;1},{900;200;900})',
        "a zone may be cut in two; ranges may be rows, the pressure a column",
        row=1,
    ),
    Invariant(
        'GAS_FILL_TEMPERATURE("helium",0,0.001,0.001,26.85)',
        300 * 5 / 3 - 273.15,
        "limit of an ideal monatomic gas from vacuum: γ T",
        2e-6,
    ),
    Invariant(
        'GAS_FILL_TEMPERATURE("helium",0.0002,0.001,0.001,26.85)',
        1 / (0.8 / 500 + 0.2 / 300) - 273.15,
        "1/T₂ = (1 - r)/(γ T_s) + r/T₁ with r = p₁/p₂, of an ideal gas",
        2e-6,
    ),
    Invariant(
        'GAS_FILL_TEMPERATURE("argon",2,2,16,20,300)',
        300,
        "no rise of pressure, no change",
    ),
    Invariant(
        'GAS_FILL_TEMPERATURE("argon",{0;0.5},{2;6},16,20,{20;900})',
        'GAS_FILL_TEMPERATURE("argon",0.5,6,16,20,900)',
        "a column is answered as its cells are",
        row=1,
    ),
    Invariant(
        'GAS_SETTLED_PRESSURE("argon",GAS_SETTLED_PRESSURE("argon",2,212,20),20,212)',
        2,
        "warmed again it is back",
    ),
    Invariant(
        'GAS_SETTLED_PRESSURE("helium",0.1,300,20)',
        0.1 * 293.15 / 573.15,
        "an ideal gas falls with its temperature",
        1e-5,
    ),
    Invariant('GAS_TOP_UP("argon",2.5,2,20,20)', 0, "gas that does not cool takes none"),
    Invariant(
        'GAS_TOP_UP("argon",2.5,2,212,20)',
        'GAS_BACKFILL("argon",2.5,GAS_SETTLED_PRESSURE("argon",2,212,20),2,20)',
        "settling first and filling up then comes to the same",
    ),
    Invariant(
        'GAS_RECOVERABLE("argon",2.5,{4;6},1.2,60)',
        'GAS_DRAWN("argon",2.5,6,1.2,60)',
        "what is let down is drawn",
        row=1,
    ),
]

REFUSALS = [
    Refusal('GAS_ZONE_CONTENTS("argon",2,{1;1},{20;5001})', "#NUM!", "above 5000 °C"),
    Refusal('GAS_ZONE_CONTENTS("argon",2,{1;1},{20;-280})', "#NUM!", "above -273.15 °C"),
    Refusal('GAS_ZONE_CONTENTS("argon",2,{1;1.01E8},{20;20})', "#NUM!", "above 1e+08 m3"),
    Refusal('GAS_ZONE_CONTENTS("argon",2,{1;-1},{20;20})', "#NUM!", "below 0"),
    Refusal('GAS_ZONE_CONTENTS("argon",2,{1;1},{20})', "#VALUE!", "holds 1 values, the volumes 2"),
    Refusal('GAS_ZONE_CONTENTS("argon",2,{1;"1 L(liq)"},{20;20})', "#VALUE!", "item 2"),
    Refusal('GAS_ZONE_CONTENTS("argon",2,{1;1},{20;-180})', "#NUM!", "liquid"),
    Refusal('GAS_FILL_TEMPERATURE("argon",2,0.5,16,20)', "#NUM!", "swapped"),
    Refusal('GAS_FILL_TEMPERATURE("argon",0,0,16,20)', "#NUM!", "a vacuum has no temperature"),
    Refusal('GAS_FILL_TEMPERATURE("argon",0,6,5,20)', "#NUM!", "ends at the supply's pressure"),
    Refusal('GAS_FILL_TEMPERATURE("argon",0,6,16,-180)', "#NUM!", "liquid"),
    Refusal('GAS_FILL_TEMPERATURE("argon",5,6,16,20,2500)', "#NUM!", "beyond the equation"),
    Refusal('GAS_SETTLED_PRESSURE("argon",100,20,-150)', "#NUM!", "liquid"),
    Refusal('GAS_SETTLED_PRESSURE("argon","6 bar",20,0)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_TOP_UP("argon",2.5,2,20,212)', "#NUM!", "gas that warms is not topped up"),
    Refusal('GAS_RECOVERABLE("argon",2.5,1,6,20)', "#NUM!", "swapped"),
]
