"""Checks of the topic liquid."""

from tests.checks.kinds import LIBRARY, MEMORY, READ, Invariant, Published, Refusal

FIRE_CODE = "International Fire Code 2018, Table G101.2, gas at 70 °F and 14.7 psia"
OLDER_LIQUID = "the table's liquid densities are older than today's equations of state"
NITROGEN_TABLE = "weight and volume equivalents of nitrogen, as the gas trade prints them"
WISCONSIN = "University of Wisconsin, LN2/LHe facility, nitrogen and helium data"
JONES = "D. Jones, Calculating Tank Volume, matched by an example of the library `fluids`"
NITROGEN_STEAM = (
    "C. Borgnakke, R. Sonntag, Fundamentals of Thermodynamics, table B.6, nitrogen; balance by hand"
)
CLOSED_TANK = '"nitrogen",1000,0.8,"101.3 kPa","779.2 kPa"'

PUBLISHED = [
    Published('GAS_EXPANSION("argon",,"scf")', 841, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("nitrogen",,"scf")', 697, 0.004, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("hydrogen",,"scf")', 848, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("helium",,"scf")', 754, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_EXPANSION("oxygen",,"scf")', 861, 0.001, FIRE_CODE, READ, "three digits"),
    Published(
        'GAS_FROM_LIQUID("argon","1000 gal(liq)",,"scf")',
        112_450,
        0.003,
        FIRE_CODE + ", worked example G101.2.2",
        READ,
        OLDER_LIQUID,
    ),
    Published(
        'GAS_FROM_LIQUID("nitrogen","1 L(liq)",,"scf")',
        24.54,
        0.0006,
        WISCONSIN + " (Jacobsen et al. 1986)",
        READ,
        "another equation of state, four digits",
    ),
    Published(
        'GAS_FROM_LIQUID("helium","1 L(liq)",,"scf")',
        26.67,
        0.004,
        WISCONSIN + " (McCarty and Arp 1990)",
        READ,
        "an older equation of state",
    ),
    Published('GAS_FROM_LIQUID("nitrogen",1)', 0.6464, 0.003, NITROGEN_TABLE, READ, OLDER_LIQUID),
    Published('GAS_TO_LIQUID("argon","100 scf")', 3.366, 0.003, FIRE_CODE, READ, OLDER_LIQUID),
    Published('GAS_TO_LIQUID("oxygen","100 scf")', 3.290, 0.0005, FIRE_CODE, READ, "four digits"),
    Published(
        'GAS_TANK_LIQUID("24 in","132 in","100 in","vertical","2:1 ellipsoidal","gal(liq)")',
        783.36,
        1e-5,
        JONES + ": D 132, head 33, level 24 in",
        LIBRARY,
        "five digits",
    ),
    Published(
        'GAS_TANK_LIQUID("24 in","132 in","100 in","vertical","torispherical","gal(liq)")',
        904.07,
        1e-5,
        JONES + ": D 132, f 1, k 0.06, level 24 in",
        LIBRARY,
        "five digits",
    ),
    Published(
        'GAS_TANK_LIQUID("36 in","108 in","156 in","horizontal","torispherical","gal(liq)")',
        2028.63,
        1e-5,
        JONES + ": D 108, L 156, f 1, k 0.06, level 36 in",
        LIBRARY,
        "six digits",
    ),
    Published(
        'GAS_DP_LEVEL("argon","10 kPa","665.26 kPa")',
        843.1,
        0.0005,
        "VDI Heat Atlas, argon at 110 K: 1242.8 and 33.29 kg/m3 (in `chemicals`); "
        "10 kPa / (9.80665 (1242.8 - 33.29))",
        LIBRARY,
        "four digits; the height is reckoned from the printed densities",
    ),
    Published(
        'GAS_BOIL_OFF(30,"1.666 %",60)',
        30,
        0.001,
        "article of a maker of cryogenic vessels: 30 L that lose 0.5 L a day last 60 days",
        READ,
        "the rate is written with four digits, below the one that empties the vessel",
    ),
    Published(
        'GAS_FLASH("nitrogen","779.2 kPa","101.3 kPa")',
        0.2462,
        0.01,
        NITROGEN_STEAM + ": (-73.20 + 122.15) / 198.84",
        MEMORY,
        "an older equation of state",
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
        433.31,
        0.002,
        NITROGEN_STEAM + ": 311.16 + 122.15 kJ/kg",
        MEMORY,
        "an older equation of state",
    ),
    Published(
        f"GAS_HOLD_TIME({CLOSED_TANK},0.005)",
        930.8,
        0.005,
        NITROGEN_STEAM + ": 31 096 kJ at 801.8 kJ a day",
        MEMORY,
        "an older equation of state",
    ),
]

INVARIANTS = [
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
        'GAS_FROM_LIQUID("nitrogen","1 m3(liq)","8 bar(g)","mol")',
        'GAS_FROM_LIQUID("nitrogen","1000 L(liq)","9.01325 bar(a)","mol")',
        "gauge pressure is taken over 1.01325 bar",
    ),
    Invariant(
        'GAS_TANK_LIQUID("100 %",2,4,"horizontal","flat","m3(liq)")',
        12.566370614359172,
        "a full cylinder holds π/4 D² L",
    ),
    Invariant(
        'GAS_TANK_LIQUID(0.5,2,0,"vertical","hemispherical","m3(liq)")',
        0.6544984694978735,
        "a spherical cap holds π h² (3 R - h) / 3",
    ),
    Invariant(
        'GAS_TANK_LIQUID("50 %",2,4,"horizontal","2:1 ellipsoidal","m3(liq)")',
        7.330382858376184,
        "a half full tank holds half of π/4 D² L + π D³/12",
    ),
    Invariant(
        'GAS_TANK_LIQUID("100 %",2,4,"vertical","DIN 28013")',
        'GAS_TANK_LIQUID("2 m",2,4,"horizontal","DIN 28013")',
        "a full tank holds the same, standing or lying",
        1e-5,
    ),
    Invariant(
        'GAS_TANK_LIQUID("62 %",2.2,6.5)',
        "GAS_TANK_LIQUID(4.712,2.2,6.5)",
        "62 % of an inner height of 6.5 m and two heads of 0.55 m",
    ),
    Invariant(
        'GAS_DP_LEVEL("argon",{0.1,0.2},11)',
        'GAS_DP_LEVEL("argon",{"10 kPa","20 kPa"},11)',
        "a bare number is bar",
        column=1,
    ),
    Invariant('GAS_DP_LEVEL("argon",0,11)', 0, "no column, no height"),
    Invariant("GAS_BOIL_OFF(1000,0.01,10,0.05)", 50, "no more is lost than there was"),
    Invariant(
        "GAS_BOIL_OFF(1000,0.01,10,0.6)",
        "GAS_BOIL_OFF(1000,0.01,10)",
        "the heat leak does not depend on the level",
    ),
    Invariant('GAS_FLASH("argon",5,5)', 0, "no fall of pressure, no flash"),
    Invariant(
        'GAS_VAPORIZER_DUTY("argon",GAS_FROM_LIQUID("argon",1,11),11,20,"W")',
        'GAS_VAPORIZER_DUTY("argon",GAS_FROM_LIQUID("argon",1000,11),11,20)',
        "the heat goes with the flow",
    ),
    Invariant(
        f"GAS_HOLD_TIME({CLOSED_TANK},0.005)",
        'GAS_HOLD_TIME("nitrogen","20 m3(liq)",0.8,"101.3 kPa","779.2 kPa",0.005)',
        "heat leak and contents grow together with the tank",
    ),
    Invariant(
        f'GAS_HOLD_TIME({CLOSED_TANK},"0.1 %","d")',
        f'GAS_HOLD_TIME({CLOSED_TANK},"2.4 %","h")',
        "the time goes with the inverse of the rate: at 24 times the rate, hours for days",
    ),
]

REFUSALS = [
    Refusal('GAS_EXPANSION("carbon dioxide")', "#NUM!", "has no liquid"),
    Refusal('GAS_EXPANSION("argon",,"kg")', "#VALUE!", "unit of mass"),
    Refusal('GAS_EXPANSION("argon",,"mol")', "#VALUE!", "not a gas volume"),
    Refusal('GAS_EXPANSION("95% argon + 5% hydrogen")', "#NUM!", "is a mixture"),
    Refusal('GAS_FROM_LIQUID("argon","10 kg")', "#VALUE!", "unit of mass"),
    Refusal('GAS_FROM_LIQUID("argon",10,"6 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_FROM_LIQUID("helium",10,"3 bar(a)")', "#NUM!", "tank_pressure"),
    Refusal('GAS_TO_LIQUID("argon","10 L(liq)")', "#VALUE!", "not of gas amount"),
    Refusal("GAS_TANK_LIQUID(62,2,4)", "#NUM!", 'written as text, "62 %"'),
    Refusal('GAS_TANK_LIQUID("120 %",2,4)', "#NUM!", "120 %"),
    Refusal('GAS_TANK_LIQUID("2 kg",2,4)', "#VALUE!", "unit of mass"),
    Refusal('GAS_TANK_LIQUID(1,2,4,"leaning")', "#VALUE!", "vertical, horizontal"),
    Refusal('GAS_TANK_LIQUID(1,2,4,,"round")', "#VALUE!", "hemispherical"),
    Refusal('GAS_DP_LEVEL("nitrogen","200 mbar","40 bar(a)")', "#NUM!", "has no liquid"),
    Refusal('GAS_DP_LEVEL("nitrogen","20 psig")', "#VALUE!", "not of pressure difference"),
    Refusal("GAS_BOIL_OFF(1000,0.35,30)", "#NUM!", '0.35 % is written 0.0035 or "0.35 %"'),
    Refusal("GAS_BOIL_OFF(1000,0.0035,30,80)", "#NUM!", '80 % is written 0.8 or "80 %"'),
    Refusal('GAS_FLASH("argon",1.01325,8)', "#NUM!", "swapped"),
    Refusal('GAS_FLASH("air",8,1.01325)', "#NUM!", "boils over a range"),
    Refusal('GAS_VAPORIZER_DUTY("argon",100,11,-190)', "#NUM!", "boiling point"),
    Refusal('GAS_VAPORIZER_DUTY("argon","100 m3/h",11,20)', "#VALUE!", "not of gas flow"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.9,1.013,7.79,0.005)', "#NUM!", "fills the tank"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.01,1.013,7.79,0.005)', "#NUM!", "last liquid"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.8,7.79,1.013,0.005)', "#NUM!", "swapped"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.8,1.013,7.79,0)', "#NUM!", "heat leak"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.8,1.013,40,0.005)', "#NUM!", "pressure_relief"),
]
