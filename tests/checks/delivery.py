"""Checks of the topic delivery."""

from tests.checks.kinds import LIBRARY, READ, Invariant, Published, Refusal
from tests.checks.sources import FIRE_CODE, FIRE_CODE_EXAMPLE, GUM

VDI_110 = "VDI Heat Atlas, argon at 110 K and 665.26 kPa: 1242.8 and 33.29 kg/m3 (in `chemicals`)"
VDI_DIGITS = "the print's five digits, and four of the vapour"
REYNOLDS = (
    "energy balance done with the library `cantera`, whose nitrogen is Reynolds 1979; the same "
    "balance runs in tests/calculations/test_delivery.py"
)
OTHER_EQUATION = "another equation of state, within 0.35 % in density"
SIX_M3 = 'GAS_TANK_MIX("nitrogen",2789,"13 bar(a)","6000 L(liq)","3 bar(a)",11010)'
CHECKED = '"argon","6047.55 kg",2000,7000,11000,"665.26 kPa","665.26 kPa"'
LEVELS_OFF = (2 / 3) ** 0.5 * 0.01 * 11 * (1242.8 - 33.29)
"""kg: standard uncertainty of two levels of 11 m3, each within 1 %, liquid for vapour."""
BAND = 1.96 * (LEVELS_OFF**2 + (0.025 * 6047.55) ** 2 / 3) ** 0.5

PUBLISHED = [
    Published(
        'GAS_DELIVERED("nitrogen","1 gal(liq)",,93.11,"scf")',
        93.11, 1e-12, FIRE_CODE, READ, "the contract's factor, exact",
    ),
    Published(
        'GAS_DELIVERED("argon","1000 gal(liq)",,112.45,"scf")',
        112_450, 1e-12, FIRE_CODE_EXAMPLE, READ, "the factor, exact",
    ),
    Published(
        'GAS_DELIVERED("argon","1000 gal(liq)",,,"scf")',
        112_450, 0.003, FIRE_CODE_EXAMPLE, READ,
        "the code's liquid is 0.2 % lighter",
    ),
    Published(
        'GAS_DELIVERED("argon","1 L(liq)","665.26 kPa",,"kg")',
        1.2428, 1e-4, VDI_110, LIBRARY, VDI_DIGITS,
    ),
    Published(
        'GAS_DELIVERED("argon","1 lb",,,"scf")',
        9.67, 1e-3, FIRE_CODE, READ, "three digits printed",
    ),
    Published(
        SIX_M3, 7.0213, 0.004, REYNOLDS + ": pressure, fully mixed", LIBRARY, OTHER_EQUATION,
        row=1, column=1,
    ),
    Published(
        SIX_M3, 9636.8, 0.001, REYNOLDS + ": level, fully mixed", LIBRARY, OTHER_EQUATION,
        row=1, column=2,
    ),
    Published(
        SIX_M3, 21.459, 0.006, REYNOLDS + ": pressure, squeezed at constant entropy", LIBRARY,
        OTHER_EQUATION, row=2, column=1,
    ),
    Published(
        SIX_M3, 9747.2, 0.001, REYNOLDS + ": level, squeezed at constant entropy", LIBRARY,
        OTHER_EQUATION, row=2, column=2,
    ),
    *(
        Published(
            SIX_M3, level - 2789, 0.0015, REYNOLDS + ": the levels less the 2789 L there were",
            LIBRARY, OTHER_EQUATION, row=row, column=3, reckoned=True,
        )
        for row, level in ((1, 9636.8), (2, 9747.2))
    ),
    Published(
        f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa")',
        6047.55 / 1.784, 3e-4,
        VDI_110 + "; 5 m3 of liquid for vapour weigh 6047.55 kg; a normal cubic metre 1.784 kg "
        "(element price table)", LIBRARY, "four digits printed",
        row=2, column=1, reckoned=True,
    ),
    Published(
        f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa",0.05,0)',
        1.96 * 0.05 / 3**0.5 * 6047.55 / 1.784, 3e-4,
        GUM.at("4.3.7").says("a tolerance of 5 % is u = a/√3; 1.96 of the normal distribution"),
        READ, "four digits printed",
        row=4, column=1, reckoned=True,
    ),
    Published(
        f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa")',
        (6047.55 + 1.96 * LEVELS_OFF) / 1.784, 3e-4,
        VDI_110 + "; two levels, each within 1 % of 11 m3 of liquid for vapour, u = a/√3", LIBRARY,
        "four digits printed", row=2, column=3, reckoned=True,
    ),
    *(
        Published(
            f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa")', kilograms / 1.784, within,
            VDI_110 + "; a level within 1 % of 11 m3 twice, a ticket within 2.5 %, each u = a/√3",
            LIBRARY, why, row=row, column=column, reckoned=True,
        )
        for row, column, kilograms, within, why in (
            (1, 2, 6047.55 * 0.975, 3e-4, "four digits printed"),
            (1, 3, 6047.55 * 1.025, 3e-4, "four digits printed"),
            (2, 2, 6047.55 - 1.96 * LEVELS_OFF, 3e-4, "four digits printed"),
            (3, 2, -BAND, 0.01, "the level and the ticket agree to 3e-4 of 6047.55 kg"),
            (3, 3, BAND, 0.01, "the level and the ticket agree to 3e-4 of 6047.55 kg"),
        )
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_DELIVERED("nitrogen",5500,"3 bar(g)")',
        'GAS_FROM_LIQUID("nitrogen",5500,"3 bar(g)")',
        "liquid saturated at the truck's pressure",
    ),
    Invariant(
        'GAS_DELIVERED("nitrogen","4434 kg",,93.11,"kg")', 4434, "a mass needs no factor",
    ),
    Invariant(
        'GAS_DELIVERED("nitrogen",{"100 kg";1000;"100 scf"},,,"kg")',
        'GAS_DELIVERED("nitrogen",1000,,,"kg")',
        "a column of tickets in different units is read row by row",
        row=1,
    ),
    Invariant(
        'GAS_TANK_MIX("argon",4000,9,"0 L(liq)","1 atm",11000)', 9, "nothing delivered, nothing "
        "changed", 1e-9, row=1, column=1,
    ),
    Invariant(
        'GAS_TANK_MIX("argon",4000,9,"0 L(liq)","1 atm",11000)', 4000, "and squeezed by nothing",
        1e-9, row=2, column=2,
    ),
    Invariant(
        'GAS_TANK_MIX("argon",4000,9,"2000 L(liq)","3 bar(a)",11000)',
        'GAS_TANK_MIX("argon",4000,9,GAS_TO_LIQUID("argon",GAS_FROM_LIQUID("argon",2000,3),3),3,11000)',
        "litres are what they weigh in the state told",
        row=1, column=2,
    ),
    Invariant(
        f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa")', "agrees", "the level shows the ticket",
        row=5, column=1,
    ),
    Invariant(
        'GAS_DELIVERY_CHECK("argon","7000 kg",2000,7000,11000,"665.26 kPa","665.26 kPa",0,'
        '"665.26 kPa")', "short", "a seventh is missing", row=5, column=1,
    ),
    Invariant(
        'GAS_DELIVERY_CHECK("argon","5000 kg",2000,7000,11000,"665.26 kPa","665.26 kPa",0,'
        '"665.26 kPa")', "over", "a fifth too much", row=5, column=1,
    ),
    Invariant(
        f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa",,0.05)', "cannot tell",
        "a level within 5 % of 11 m3 does not see a tenth of 5 m3", row=5, column=1,
    ),
    Invariant(
        'GAS_DELIVERY_CHECK("argon","6047.55 kg",2000,6000,11000,"665.26 kPa","665.26 kPa",'
        '"1209.51 kg","665.26 kPa")', "agrees", "what was drawn meanwhile counts",
        row=5, column=1,
    ),
    Invariant(
        f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa",0.0925,0)', "cannot tell",
        "1.96 · 9.25 % / √3 is 10.5 %, more than a tenth of the ticket", row=5, column=1,
    ),
    Invariant(
        f'GAS_DELIVERY_CHECK({CHECKED},0,"665.26 kPa",0.085,0)', "agrees",
        "1.96 · 8.5 % / √3 is 9.6 %", row=5, column=1,
    ),
    Invariant(
        f'GAS_DELIVERY_CHECK({CHECKED.replace("11000", "7000")},0,"665.26 kPa")', "agrees",
        "a tank full to the brim is only full", row=5, column=1,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_DELIVERED("nitrogen",5500,"3 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_DELIVERED("nitrogen",5500,-196)', "#NUM!", '"-196 degC"'),
    Refusal('GAS_DELIVERED("nitrogen",5500,"kg")', "#VALUE!", "liquid_at: "),
    Refusal('GAS_DELIVERED("nitrogen","5500 m3/h")', "#VALUE!", "volume flow"),
    Refusal('GAS_DELIVERED("nitrogen",5500,,0.69)', "#NUM!", "below 50"),
    Refusal('GAS_DELIVERED("95% argon + 5% hydrogen",5500)', "#NUM!", "gas: "),
    Refusal('GAS_TANK_MIX("nitrogen",2789,13,"9000 L(liq)","1 atm",11010)', "#NUM!", "the room in"),
    Refusal('GAS_TANK_MIX("nitrogen",2789,13,"8000 L(liq)","1 atm",11010)', "#NUM!", "once it is"),
    Refusal('GAS_TANK_MIX("nitrogen",2789,13,5000,,11010)', "#VALUE!", "delivered_at: is blank"),
    Refusal('GAS_TANK_MIX("nitrogen",2789,13,5000,"-100 degC",11010)', "#NUM!", "delivered_at"),
    Refusal('GAS_TANK_MIX("air",2789,13,5000,"1 atm",11010)', "#NUM!", "pure gas"),
    Refusal('GAS_DELIVERY_CHECK("argon",0,2000,7000,11000,11,11)', "#NUM!", "nothing is to be"),
    Refusal('GAS_DELIVERY_CHECK("argon",5000,2000,12000,11000,11,11)', "#NUM!", "liquid_after: "),
    Refusal('GAS_DELIVERY_CHECK("argon",5000,2000,7000,11000,11,11,,,2.5)', "#NUM!", "250 %"),
    Refusal('GAS_TANK_MIX("nitrogen",11010,13,5,"1 atm",11010)', "#NUM!", "leaves no room"),
    Refusal('GAS_DELIVERY_CHECK("air",5000,2000,7000,11000,11,11)', "#NUM!", "pure gas"),
    Refusal(
        'GAS_TANK_MIX("nitrogen",100,"33 bar(a)","400 L(liq)","33.9 bar(a)",1100)',
        "#NUM!",
        "not liquid and vapour any more",
    ),
]
