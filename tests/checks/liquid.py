"""Checks of the topic liquid."""

from tests.checks.kinds import LIBRARY, MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import FIRE_CODE, FIRE_CODE_EXAMPLE

OLDER_LIQUID = "the table's liquid densities are older than today's equations of state"
NITROGEN_TABLE = "weight and volume equivalents of nitrogen, as the gas trade prints them"
WISCONSIN = "University of Wisconsin, LN2/LHe facility, nitrogen and helium data"
NITROGEN_STEAM = (
    "C. Borgnakke, R. Sonntag, Fundamentals of Thermodynamics, table B.6, nitrogen; balance by hand"
)

REYNOLDS = "Reynolds 1979, as the library `cantera` carries it"
OTHER_EQUATION = "another equation of state"
VDI_ARGON = "VDI Heat Atlas, saturated liquid argon (in `chemicals`)"

PUBLISHED = [
    Published(
        'GAS_EXPANSION("nitrogen",13,"Nm3","1 atm")',
        646.4,
        0.003,
        NITROGEN_TABLE,
        SEEN,
        OLDER_LIQUID,
    ),
    Published(
        'GAS_FROM_LIQUID("argon","1 m3(liq)",13,"133.51 kPa","kg")',
        1378.6,
        4e-5,
        VDI_ARGON,
        LIBRARY,
        "five digits printed",
    ),
    Published(
        'GAS_FROM_LIQUID("nitrogen","1 m3(liq)",13,"77.35 K","kg")',
        811.37,
        0.004,
        REYNOLDS + ": liquid at 77.35 K and 13 bar",
        LIBRARY,
        OTHER_EQUATION,
    ),
    Published(
        'GAS_FROM_LIQUID("nitrogen","1 lb",,,"scf")',
        13.80,
        4e-4,
        FIRE_CODE,
        READ,
        "four digits printed",
    ),
    Published(
        'GAS_TO_LIQUID("argon","1242.8 kg",,"665.26 kPa","m3(liq)")',
        1,
        1e-4,
        VDI_ARGON,
        LIBRARY,
        "five digits printed",
    ),
    Published(
        'GAS_FLASH("nitrogen",9,1.01325,"85 K")',
        0.08306,
        0.02,
        REYNOLDS,
        LIBRARY,
        "another equation of state, in a small difference of enthalpies",
    ),
    Published(
        'GAS_VAPORIZER_DUTY("nitrogen","128.5096 kmol/h",13,15,"1 atm")',
        416.68,
        0.002,
        REYNOLDS + ": liquid at 77.36 K under 13 bar, 1 kg/s to gas at 15 °C",
        LIBRARY,
        OTHER_EQUATION,
    ),
    Published('GAS_EXPANSION("argon",,"scf")', 841, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("nitrogen",,"scf")', 697, 0.004, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("hydrogen",,"scf")', 848, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("helium",,"scf")', 754, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("oxygen",,"scf")', 861, 0.001, FIRE_CODE, READ, "three digits"),
    Published(
        'GAS_FROM_LIQUID("argon","1000 gal(liq)",,,"scf")',
        112_450,
        0.003,
        FIRE_CODE_EXAMPLE,
        READ,
        OLDER_LIQUID,
    ),
    Published(
        'GAS_FROM_LIQUID("nitrogen","1 L(liq)",,,"scf")',
        24.54,
        0.0006,
        WISCONSIN + " (Jacobsen et al. 1986)",
        SEEN,
        "another equation of state, four digits",
    ),
    Published(
        'GAS_FROM_LIQUID("helium","1 L(liq)",,,"scf")',
        26.67,
        0.004,
        WISCONSIN + " (McCarty and Arp 1990)",
        SEEN,
        "an older equation of state",
    ),
    Published('GAS_FROM_LIQUID("nitrogen",1)', 0.6464, 0.003, NITROGEN_TABLE, SEEN, OLDER_LIQUID),
    Published('GAS_TO_LIQUID("argon","100 scf")', 3.366, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_TO_LIQUID("oxygen","100 scf")', 3.290, 3e-4, FIRE_CODE, READ, "four digits"),
    Published(
        'GAS_FLASH("nitrogen","779.2 kPa","101.3 kPa")',
        (-73.20 + 122.15) / 198.84,
        0.01,
        NITROGEN_STEAM + ": (-73.20 + 122.15) / 198.84",
        MEMORY,
        "an older equation of state",
        reckoned=True,
    ),
    Published(
        'GAS_VAPORIZER_DUTY("argon","1 mol/s","101.33 kPa","87.305 K")',
        6.43722,
        0.0005,
        "VDI Heat Atlas, heat of evaporation of argon at 87.30 K (in `chemicals`)",
        LIBRARY,
        "the outlet is a few millikelvin above boiling",
    ),
    Published(
        'GAS_VAPORIZER_DUTY("nitrogen","128.5096 kmol/h","101.325 kPa",15)',
        420.40,
        0.002,
        "Reynolds 1979, as the library Cantera carries it: boiling liquid to gas at 15 °C, 1 kg/s",
        LIBRARY,
        "another equation of state",
    ),
    Published(
        'GAS_VAPORIZER_DUTY("nitrogen","128.5096 kmol/h","100 kPa","300 K")',
        311.16 + 122.15,
        0.002,
        NITROGEN_STEAM + ": 311.16 + 122.15 kJ/kg",
        MEMORY,
        "an older equation of state",
        reckoned=True,
    ),
]

INVARIANTS = [
    Invariant(
        'GAS_FROM_LIQUID("argon",{"1 t";1000;"100 scf"},11,"3 bar(a)","kg")',
        1000,
        "a mass is its own mass, among litres and gas in a column",
        row=0,
    ),
    Invariant(
        'GAS_TO_LIQUID("nitrogen","4434 kg",13,"1 atm","lb")',
        'GAS_CONVERT(4434,"kg","lb")',
        "and stays it",
    ),
    Invariant(
        'GAS_FROM_LIQUID("nitrogen",1000,13,"13 bar(a)")',
        'GAS_FROM_LIQUID("nitrogen",1000,13)',
        "blank is saturated at the tank's pressure",
    ),
    Invariant(
        'GAS_EXPANSION("argon",5,"scf","3 bar(a)")',
        'GAS_EXPANSION("argon",3,"scf")',
        "the state told, not the tank's pressure, says how dense it is",
    ),
    Invariant('GAS_FLASH("nitrogen",9,3,"1 atm")', 0, "liquid too cold to boil does not flash"),
    Invariant(
        'GAS_FLASH("nitrogen",9,1.01325,"9 bar(a)")',
        'GAS_FLASH("nitrogen",9,1.01325)',
        "blank is saturated liquid",
        1e-6,
    ),
    Invariant(
        'GAS_VAPORIZER_DUTY("argon",100,11,20,11)',
        'GAS_VAPORIZER_DUTY("argon",100,11,20)',
        "blank is saturated liquid",
        1e-6,
    ),
    Invariant(
        'GAS_EXPANSION("argon",5)',
        'GAS_FROM_LIQUID("argon","1 m3(liq)",5)',
        "the expansion is the gas from one cubic metre",
    ),
    Invariant(
        'GAS_TO_LIQUID("nitrogen",GAS_FROM_LIQUID("nitrogen",5000,9),9)',
        5000,
        "gas and liquid undo each other",
    ),
    Invariant(
        'GAS_FROM_LIQUID("nitrogen","1 m3(liq)","8 bar(g)",,"mol")',
        'GAS_FROM_LIQUID("nitrogen","1000 L(liq)","9.01325 bar(a)",,"mol")',
        "gauge pressure is taken over 1.01325 bar",
    ),
    Invariant('GAS_FLASH("argon",5,5)', 0, "no fall of pressure, no flash"),
    Invariant(
        'GAS_VAPORIZER_DUTY("argon",GAS_FROM_LIQUID("argon",1,11),11,20,,"W")',
        'GAS_VAPORIZER_DUTY("argon",GAS_FROM_LIQUID("argon",1000,11),11,20)',
        "the heat goes with the flow",
    ),
]

REFUSALS = [
    Refusal('GAS_EXPANSION("carbon dioxide")', "#NUM!", "has no liquid"),
    Refusal('GAS_EXPANSION("argon",,"kg")', "#VALUE!", "unit of mass"),
    Refusal('GAS_EXPANSION("argon",,"mol")', "#VALUE!", "not a gas volume"),
    Refusal('GAS_EXPANSION("95% argon + 5% hydrogen")', "#NUM!", "is a mixture"),
    Refusal('GAS_FROM_LIQUID("argon","10 kPa")', "#VALUE!", "unit of"),
    Refusal('GAS_FROM_LIQUID("argon",10,11,"15 kg")', "#VALUE!", "no unit of pressure"),
    Refusal('GAS_FROM_LIQUID("argon",10,11,"-100 degC")', "#NUM!", "is no liquid"),
    Refusal('GAS_FROM_LIQUID("argon",10,11,"-190 degC")', "#NUM!", "it freezes"),
    Refusal('GAS_EXPANSION("argon",,,"Nm3")', "#VALUE!", "liquid_at: "),
    Refusal('GAS_FLASH("argon",8,1.01325,"10 bar(a)")', "#NUM!", "warmer liquid"),
    Refusal('GAS_VAPORIZER_DUTY("argon",100,8,20,"10 bar(a)")', "#NUM!", "warmer liquid"),
    Refusal('GAS_FROM_LIQUID("argon",10,"6 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_FROM_LIQUID("helium",10,"3 bar(a)")', "#NUM!", "tank_pressure"),
    Refusal('GAS_TO_LIQUID("argon","10 L(liq)")', "#VALUE!", "not of gas amount"),
    Refusal('GAS_FLASH("argon",1.01325,8)', "#NUM!", "swapped"),
    Refusal('GAS_FLASH("air",8,1.01325)', "#NUM!", "boils over a range"),
    Refusal('GAS_VAPORIZER_DUTY("argon",100,11,-190)', "#NUM!", "boiling point"),
    Refusal('GAS_VAPORIZER_DUTY("argon","100 m3/h",11,20)', "#VALUE!", "not of gas flow"),
]
