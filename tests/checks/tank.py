"""Checks of the topic tank."""

from tests.checks.kinds import LIBRARY, MEMORY, SEEN, Invariant, Published, Refusal

VDI_110 = "VDI Heat Atlas, argon at 110 K and 665.26 kPa: 1242.8 and 33.29 kg/m3 (in `chemicals`)"
VDI_DIGITS = "the print's five digits, and four of the vapour"

JONES = "D. Jones, Calculating Tank Volume, matched by an example of the library `fluids`"
CLOSED_TANK = '"nitrogen",1000,0.8,"101.3 kPa","779.2 kPa"'
NITROGEN_STEAM = (
    "C. Borgnakke, R. Sonntag, Fundamentals of Thermodynamics, table B.6, nitrogen; balance by hand"
)
REYNOLDS = "Reynolds 1979, as the library `cantera` carries it"
OTHER_EQUATION = "another equation of state, within 0.4 % in density"
WARM_LINE = (
    REYNOLDS + ", at 13 bar: liquid 635.40, vapour 54.555, gas at 20 °C 14.983 kg/m3; the gauge "
    "reads g (635.40 · 3 + 54.555 · 5 - 14.983 · 8) Pa"
)


def held_in_hours(fill: float) -> float:
    """The heat from 101.3 to 779.2 kPa of a tank filled so, over 0.005 of a full one a day."""
    liquid, vapour = 1 / 0.001240, 1 / 0.21639
    mass = fill * liquid + (1 - fill) * vapour
    wet = (1 - fill) * vapour / mass
    wetter = (1 / mass - 0.001452) / (0.03120 - 0.001452)
    before = -122.27 + wet * (54.76 + 122.27)
    after = -74.33 + wetter * (87.48 - 779.2 * 0.03120 + 74.33)
    return 24 * mass * (after - before) / (0.005 * liquid * 198.84)


PUBLISHED = [
    Published(
        'GAS_TANK_STOCK("argon","1 m3(liq)","1 m3(liq)","665.26 kPa","133.51 kPa",,"kg")',
        1378.6, 4e-5, "VDI Heat Atlas, argon: liquid at 90 K and 133.51 kPa 1378.6 kg/m3 (in "
        "`chemicals`)", LIBRARY, "five digits printed",
    ),
    Published(
        'GAS_DP_LEVEL("nitrogen","20193.08 Pa",13,20,8)', 3000, 0.004, WARM_LINE, LIBRARY,
        OTHER_EQUATION, reckoned=True,
    ),
    Published(
        'GAS_DP_LEVEL("argon","10 kPa","665.26 kPa",,,"133.51 kPa")',
        1000 * 10_000 / 9.80665 / (1378.6 - 33.29), 1e-4,
        "VDI Heat Atlas, argon: liquid at 90 K 1378.6, vapour at 110 K 33.29 kg/m3 (in "
        "`chemicals`)", LIBRARY, "the height is reckoned from the printed densities", reckoned=True,
    ),
    Published(
        'GAS_BOIL_OFF(11000,0.004,30,1,"argon","665.26 kPa")',
        11000 * 0.004 * 30 * 1395.4 * 6437.22 / (1242.8 * 5591.52), 8e-5,
        "VDI Heat Atlas, argon at 87.30 and 110 K: density and heat of evaporation (in "
        "`chemicals`); the same heat evaporates", LIBRARY, "five digits printed", reckoned=True,
    ),
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
        2.5e-6,
        JONES + ": D 108, L 156, f 1, k 0.06, level 36 in",
        LIBRARY,
        "six digits",
    ),
    Published(
        'GAS_DP_LEVEL("argon","10 kPa","665.26 kPa")',
        1000 * 10_000 / (9.80665 * (1242.8 - 33.29)),
        0.0001,
        "VDI Heat Atlas, argon at 110 K: 1242.8 and 33.29 kg/m3 (in `chemicals`); "
        "10 kPa / (9.80665 (1242.8 - 33.29))",
        LIBRARY,
        VDI_DIGITS, reckoned=True,
    ),
    Published(
        'GAS_BOIL_OFF(30,"1.666 %",60)',
        30,
        0.001,
        "article of a maker of cryogenic vessels: 30 L that lose 0.5 L a day last 60 days",
        SEEN,
        "the rate is written with four digits, below the one that empties the vessel",
    ),
    Published(
        f"GAS_HOLD_TIME({CLOSED_TANK},0.005)",
        held_in_hours(0.8),
        0.005,
        NITROGEN_STEAM + ", at 77.3 and 100 K; the rate is of a full tank at 1 atm",
        MEMORY,
        "an older equation of state", reckoned=True,
    ),
    Published(
        'GAS_TANK_STOCK("argon","1 m3(liq)","1 m3(liq)","665.26 kPa",,,"kg")',
        1242.8, 1e-4, VDI_110, LIBRARY, VDI_DIGITS,
    ),
    Published(
        'GAS_TANK_STOCK("argon",0,"1 m3(liq)","665.26 kPa",,,"kg")',
        33.29, 1.5e-4, VDI_110, LIBRARY, "four digits printed",
    ),
    Published(
        'GAS_TANK_STOCK("argon","5 m3(liq)","11 m3(liq)","665.26 kPa",,,"kg")',
        5 * 1242.8 + 6 * 33.29, 1e-4, VDI_110, LIBRARY, VDI_DIGITS, reckoned=True,
    ),
    Published(
        'GAS_LEVEL_CHANGE("argon","1209.51 kg","665.26 kPa")',
        1000, 1e-4, VDI_110 + "; 1242.8 - 33.29 kg leave a cubic metre", LIBRARY, VDI_DIGITS,
        reckoned=True,
    ),
    Published(
        'GAS_HOLD_TIME("nitrogen",1000,0.1,"101.3 kPa","779.2 kPa",0.005)', held_in_hours(0.1),
        0.005, NITROGEN_STEAM + ", at 77.3 and 100 K; the rate is of a full tank at 1 atm", MEMORY,
        "an older equation of state", reckoned=True,
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_TANK_LIQUID(0.387,1,0,"vertical","DIN 28011")',
        'GAS_TANK_LIQUID("100 %",1,0,"vertical","DIN 28011")',
        "two heads of 0.1935 D are full but for a hair", 1e-3,
    ),
    Invariant(
        'GAS_TANK_LIQUID(0.508,1,0,"vertical","DIN 28013")',
        'GAS_TANK_LIQUID("100 %",1,0,"vertical","DIN 28013")',
        "two heads of 0.255 D are full but for a hair", 1e-3,
    ),
    Invariant(
        'GAS_DP_LEVEL("nitrogen","5 Pa",13,20,0)', 'GAS_DP_LEVEL("nitrogen","5 Pa",13)',
        "a line without a height weighs nothing",
    ),
    Invariant(
        'GAS_TANK_LIQUID("62 % volume",2.2,6.5,,,"m3(liq)")',
        0.62 * 27.497,
        "62 % of what the tank holds: π/4 D² L + π D³/12", 1e-4,
    ),
    Invariant(
        'GAS_TANK_LIQUID("50 % volume",2.2,6.5,"horizontal")',
        'GAS_TANK_LIQUID("50 %",2.2,6.5,"horizontal")',
        "half the height is half the volume, and only there",
    ),
    Invariant(
        'GAS_TANK_LIQUID("62 % vol.",2.2,6.5)', 'GAS_TANK_LIQUID("62 % of volume",2.2,6.5)',
        "volume, as gauges write it",
    ),
    Invariant(
        'GAS_TANK_LIQUID("62 % of height",2.2,6.5)', 'GAS_TANK_LIQUID("62 %",2.2,6.5)',
        "a bare percentage is of the height",
    ),
    Invariant(
        'GAS_DP_LEVEL("nitrogen","500 mbar",13,"108.0 K",8)',
        'GAS_DP_LEVEL("nitrogen","500 mbar",13)',
        "a line as cold as the boiling liquid holds the same vapour", 2e-3,
    ),
    Invariant(
        'GAS_BOIL_OFF(11000,0.004,30,1,"nitrogen")', "GAS_BOIL_OFF(11000,0.004,30)",
        "the rate is stated at 1 atm",
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
    Invariant(
        'GAS_TANK_STOCK("nitrogen",7000,7000,9)',
        'GAS_FROM_LIQUID("nitrogen",7000,9)',
        "a full tank holds its liquid alone",
    ),
    Invariant(
        'GAS_TANK_STOCK("nitrogen",0,"7 m3(liq)",3,,20)',
        'GAS_CONTENTS("nitrogen",7,3,20)',
        "a warm empty tank is a vessel of gas",
    ),
    Invariant(
        'GAS_LEVEL_CHANGE("nitrogen",GAS_UNACCOUNTED(GAS_TANK_STOCK("nitrogen",4000,7000,9),0,'
        'GAS_TANK_STOCK("nitrogen",3100,7000,9),0),9)',
        900,
        "what is drawn at constant pressure is what the stock falls by",
    ),
    Invariant(
        'GAS_LEVEL_CHANGE("argon","100 kg",11,"1 atm")',
        'GAS_LEVEL_CHANGE("argon",GAS_CONVERT(100,"kg","Nm3","argon"),11,"1 atm")',
        "a mass is the gas that weighs it",
    ),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_TANK_LIQUID(0.39,1,0,"vertical","DIN 28011")', "#NUM!", "above the inner height"),
    Refusal('GAS_TANK_LIQUID(0.512,1,0,"vertical","DIN 28013")', "#NUM!", "above the inner height"),
    Refusal("GAS_TANK_LIQUID(5.1,2,4)", "#NUM!", "above the inner height of the tank, 5 m"),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,,-175)', "#NUM!", "below the boiling point"),
    Refusal('GAS_LEVEL_CHANGE("air",100,9)', "#NUM!", "name a pure gas"),
    Refusal('GAS_LEVEL_CHANGE("nitrogen",100,9,"12 bar(a)")', "#NUM!", "warmer liquid"),
    Refusal('GAS_DP_LEVEL("nitrogen","200 mbar",9,,,"12 bar(a)")', "#NUM!", "warmer liquid"),
    Refusal('GAS_BOIL_OFF(1000,0.004,30,1,"air",3)', "#NUM!", "name a pure gas"),
    Refusal('GAS_HOLD_TIME("air",1000,0.8,1.013,7.79,0.005)', "#NUM!", "name a pure gas"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.8,3,3,0.005)', "#NUM!", "swapped"),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,"boiling")', "#VALUE!", '"1 atm"'),
    Refusal('GAS_TANK_LIQUID("62 % mass",2,4)', "#VALUE!", "unit"),
    Refusal('GAS_DP_LEVEL("nitrogen","200 mbar",13,20)', "#VALUE!", "gauge_height: is blank"),
    Refusal('GAS_DP_LEVEL("nitrogen","10 mbar",13,20,8)', "#NUM!", "less than an empty tank"),
    Refusal('GAS_DP_LEVEL("nitrogen","200 mbar",13,-180,8)', "#NUM!", "gauge_line_temperature: "),
    Refusal("GAS_BOIL_OFF(1000,0.004,30,1,,13)", "#VALUE!", "gas: is blank"),
    Refusal('GAS_BOIL_OFF(1000,0.004,30,1,"nitrogen",40)', "#NUM!", "venting_pressure: "),
    Refusal("GAS_TANK_LIQUID(62,2,4)", "#NUM!", 'written as text, "62 %"'),
    Refusal('GAS_TANK_LIQUID("120 %",2,4)', "#NUM!", "120 %"),
    Refusal('GAS_TANK_LIQUID("2 kg",2,4)', "#VALUE!", "unit of mass"),
    Refusal('GAS_TANK_LIQUID(1,2,4,"leaning")', "#VALUE!", "vertical, horizontal"),
    Refusal('GAS_TANK_LIQUID(1,2,4,,"round")', "#VALUE!", "hemispherical"),
    Refusal('GAS_DP_LEVEL("nitrogen","200 mbar","40 bar(a)")', "#NUM!", "has no liquid"),
    Refusal('GAS_DP_LEVEL("nitrogen","20 psig")', "#VALUE!", "not of pressure difference"),
    Refusal("GAS_BOIL_OFF(1000,0.35,30)", "#NUM!", '0.35 % is written 0.0035 or "0.35 %"'),
    Refusal("GAS_BOIL_OFF(1000,0.0035,30,80)", "#NUM!", '80 % is written 0.8 or "80 %"'),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.9,1.013,7.79,0.005)', "#NUM!", "fills the tank"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.01,1.013,7.79,0.005)', "#NUM!", "last liquid"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.8,7.79,1.013,0.005)', "#NUM!", "swapped"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.8,1.013,7.79,0)', "#NUM!", "heat leak"),
    Refusal('GAS_HOLD_TIME("nitrogen",1000,0.8,1.013,40,0.005)', "#NUM!", "pressure_relief"),
    Refusal('GAS_TANK_STOCK("nitrogen",8000,7000,9)', "#NUM!", "more than the tank's capacity"),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,"12 bar(a)")', "#NUM!", "warmer liquid"),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,"-100 degC")', "#NUM!", "liquid_at: "),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,,-190)', "#NUM!", "vapour_temperature: "),
    Refusal('GAS_TANK_STOCK("air",5000,7000,9)', "#NUM!", "name a pure gas"),
    Refusal('GAS_LEVEL_CHANGE("nitrogen",100,"40 bar(a)")', "#NUM!", "has no liquid"),
    Refusal('GAS_LEVEL_CHANGE("nitrogen","100 L(liq)",9)', "#VALUE!", "liquid volume"),
]
