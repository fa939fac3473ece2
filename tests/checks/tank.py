"""Checks of the topic tank."""

from tests.checks.kinds import LIBRARY, Invariant, Published, Refusal

VDI_110 = "VDI Heat Atlas, argon at 110 K and 665.26 kPa: 1242.8 and 33.29 kg/m3 (in `chemicals`)"
VDI_DIGITS = "the print's five digits, and four of the vapour"

PUBLISHED = [
    Published(
        'GAS_TANK_STOCK("argon","1 m3(liq)","1 m3(liq)","665.26 kPa",,,"kg")',
        1242.8, 1e-4, VDI_110, LIBRARY, VDI_DIGITS,
    ),
    Published(
        'GAS_TANK_STOCK("argon",0,"1 m3(liq)","665.26 kPa",,,"kg")',
        33.29, 1e-3, VDI_110, LIBRARY, "four digits printed",
    ),
    Published(
        'GAS_TANK_STOCK("argon","5 m3(liq)","11 m3(liq)","665.26 kPa",,,"kg")',
        5 * 1242.8 + 6 * 33.29, 1e-4, VDI_110, LIBRARY, VDI_DIGITS,
    ),
    Published(
        'GAS_LEVEL_CHANGE("argon","1209.51 kg","665.26 kPa")',
        1000, 1e-4, VDI_110 + "; 1242.8 - 33.29 kg leave a cubic metre", LIBRARY, VDI_DIGITS,
    ),
]  # fmt: skip

INVARIANTS = [
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
    Refusal('GAS_TANK_STOCK("nitrogen",8000,7000,9)', "#NUM!", "more than the tank's capacity"),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,"12 bar(a)")', "#NUM!", "warmer liquid"),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,"-100 degC")', "#NUM!", "liquid_at: "),
    Refusal('GAS_TANK_STOCK("nitrogen",5000,7000,9,,-190)', "#NUM!", "vapour_temperature: "),
    Refusal('GAS_TANK_STOCK("air",5000,7000,9)', "#NUM!", "name a pure gas"),
    Refusal('GAS_LEVEL_CHANGE("nitrogen",100,"40 bar(a)")', "#NUM!", "has no liquid"),
    Refusal('GAS_LEVEL_CHANGE("nitrogen","100 L(liq)",9)', "#VALUE!", "liquid volume"),
]
