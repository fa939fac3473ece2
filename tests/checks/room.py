"""Checks of the topic room."""

from tests.checks.kinds import LIBRARY, MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import OXFORD

NORMAL = 273.15 / 293.15
"""Nm3 of a cubic metre at 20 °C."""

NORMAL_TO_SITE = 293.15 / 273.15 * 101_325 / 79_495

BUILD_UP = 1.4 * 0.028316846592 * 60 * NORMAL
"""Nm3/h of 1.4 cubic feet a minute at 20 °C."""

FESHM = "Fermilab ES&H Manual 4240, as manuals of national laboratories print it: "

PUBLISHED = [
    Published(
        f'GAS_ROOM_OXYGEN(180, {69.6 * NORMAL}, , , , "%")',
        12.9, 0.06,
        "MRC (UK), safety with liquid nitrogen, Appendix 3: 100 L x 696 in 180 m3 leave 12.9 %",
        SEEN, "three digits, with 21 % oxygen in air", absolute=True,
    ),
    Published(
        f'GAS_ROOM_OXYGEN(108, {53 * NORMAL}, 648, 1000, , "%")',
        20.95 - 0.0017, 0.0001,
        "university guideline on cryogens, Example 1 (scribd 586303702): 0.053 m3/h in 108 m3 with "
        "6 changes an hour take 0.0017 %",
        SEEN, "two digits", absolute=True, reckoned=True,
    ),
    Published(
        f'GAS_ROOM_OXYGEN(36, {44 * NORMAL}, 14.4, 1000, , "%")',
        20.95 - 0.06, 0.006,
        OXFORD.says("0.044 m3/h in 36 m3 with 0.4 changes an hour take 0.06 %"),
        READ, "one digit", absolute=True, reckoned=True,
    ),
    Published(
        f"GAS_ROOM_VENTILATION({0.053 * NORMAL}, 0.209483)",
        6 * 108, 0.04,
        "the same university guideline backwards: what takes 0.0017 % is 6 changes of 108 m3",
        SEEN, "0.0017 % has two digits", reckoned=True,
    ),
    Published(
        f'GAS_ROOM_OXYGEN("75000 ft3", {BUILD_UP * 11 / 60}, "2500 cfm", "11 min", , "%")',
        20.95 * (1 - 171.90e-6), 2e-6,
        "`rEHS`, industrial-hygiene package of R, build-up with ventilation: 1.4 cfm into "
        "75,000 ft3 with 2,500 cfm make 171.90 ppm in 11 min", LIBRARY,
        "five digits of the gas, 0.2095 of it oxygen",
        absolute=True, reckoned=True,
    ),
    Published(
        f'GAS_ROOM_TIME("75000 ft3", {BUILD_UP}, {0.2095 * (1 - 171.90e-6)}, "2500 cfm")',
        11, 1e-4, "`rEHS`, the same backwards: 11 min", LIBRARY, "five digits of the gas",
    ),
    Published(
        f"GAS_ROOM_OXYGEN(1, {0.68 * NORMAL})", 0.067, 0.006,
        "safety sheet: 1 L of liquid nitrogen (0.68 m3) in 1 m3 of air leaves 6.7 %", SEEN,
        "two digits, with 20.9 % oxygen in air",
    ),
    Published(
        'GAS_ROOM_VENTILATION(10, 0.195, "79495 Pa")',
        10 * NORMAL_TO_SITE * 20.95 / 1.45, 1e-4,
        "casual process engineering notes: R = N V (1 - C/0.2095) of air changes N V at the limit "
        "C, with the gas at the pressure of 2,000 m (ISO 2533: 79,495 Pa)", SEEN,
        "the printed formula with five digits of the pressure", reckoned=True,
    ),
] + [
    Published(
        f"GAS_ROOM_TIME(100, 0, {0.2095 - left * 0.1}, {100 * changes}, 0.1095)", minutes, 0.5,
        "US CDC, guidelines on environmental infection control (2003), table of minutes to remove "
        f"{100 - 100 * left:g} % of a contaminant at {changes} air changes an hour", MEMORY,
        "whole minutes", absolute=True,
    )
    for changes, left, minutes in (
        (2, 0.01, 138), (2, 0.001, 207), (6, 0.01, 46), (6, 0.001, 69), (12, 0.01, 23),
        (12, 0.001, 35),
    )
] + [
    Published(
        f'GAS_FATALITY_FACTOR({oxygen}, "{pressure} mmHg")', factor, within, FESHM + said, mark, why
    )
    for oxygen, pressure, factor, within, said, mark, why in (
        (0.18, 750, 1e-7, 1e-3, "135 mmHg is 1e-7", SEEN, "a power of ten"),
        (0.088, 738.636, 1, 1e-4, "8.8 % (65 mmHg) is 1", SEEN, "a whole number"),
        (0.0625, 760, 1, 0, "below 65 mmHg 1", SEEN, "a whole number"),
        (0.2095, 760, 0, 0, "above 135 mmHg 0", SEEN, "a whole number"),
        (0.185, 760, 0, 0, "above 135 mmHg 0", SEEN, "a whole number"),
    )
] + [
    Published(
        f"GAS_ODH_CLASS({rate}, 0.05)", rate, 1e-9,
        FESHM + "phi = N P F, F = 1 at 5 % oxygen: the rate of the failure itself", SEEN, "exact",
        row=1, column=3,
    )
    for rate in (5e-8, 2e-6, 3e-4, 0.02, 0.5)
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_ODH_CLASS(1E-4, 0.15, , "0.8 bar(a)")', f"GAS_ODH_CLASS(1E-4, {0.15 * 0.8 / 1.01325})",
        "it goes by the partial pressure", row=1, column=3,
    ),
    Invariant(
        f"GAS_ROOM_OXYGEN(200, {50 * NORMAL})", 0.2095 * 0.75, "a quarter of the room displaced"
    ),
    Invariant("GAS_ROOM_OXYGEN(200, 0, 100, 3)", 0.2095, "no gas, no change"),
    Invariant(
        f"GAS_ROOM_OXYGEN(200, {50 * NORMAL}, 0, 5)", 0.2095 * 0.7788007830714049,
        "a quarter of the room let in slowly without a fan: exp(-1/4) of the air is left",
    ),
    Invariant(
        f'GAS_ROOM_OXYGEN(200, {50 * NORMAL}, 0, "0.5 s")',
        f"GAS_ROOM_OXYGEN(200, {50 * NORMAL}, 0, 5)",
        "without a fan the time does not matter, be it half a second",
    ),
    Invariant(
        f"GAS_ROOM_OXYGEN(200, {50 * NORMAL}, 2, 5)",
        f"GAS_ROOM_OXYGEN(200, {50 * NORMAL}, 9, 5)",
        "a fan that draws less than what escapes changes nothing",
    ),
    Invariant(
        "GAS_ROOM_OXYGEN(200, 50, 10.7322, 5)", "GAS_ROOM_OXYGEN(200, 50, 10.7321, 5)",
        "no step where the fan draws just what escapes", 1e-5,
    ),
    Invariant(
        'GAS_ROOM_OXYGEN(200, 30, , , "0.5 atm")', "GAS_ROOM_OXYGEN(200, 60)",
        "at half the pressure the gas takes twice the room",
    ),
    Invariant(
        'GAS_ROOM_VENTILATION(5, 0.18, "0.5 atm")', "GAS_ROOM_VENTILATION(10, 0.18)",
        "at half the pressure the gas takes twice the room",
    ),
    Invariant(
        'GAS_ROOM_TIME(180, 40, GAS_ROOM_OXYGEN(180, 20, 300, "30 min"), 300)', 30,
        "oxygen at a time and back",
    ),
    Invariant(
        'GAS_ROOM_TIME(180, 400, GAS_ROOM_OXYGEN(180, 100, 300, "15 min", 0.9), 300, , 0.9)', 15,
        "the same above the fan, on a mountain",
    ),
    Invariant('GAS_ROOM_TIME(180, 100, "20.95 %", 400)', 0, "there from the start"),
    Invariant(
        'GAS_FATALITY_FACTOR("14 %", "0.9 atm")', 'GAS_FATALITY_FACTOR("12.6 %")',
        "it goes by the partial pressure",
    ),
    Invariant("GAS_ODH_CLASS(1E-8, 0.05)", 0, "below 1e-7 an hour", row=1, column=4),
    Invariant("GAS_ODH_CLASS(1E-7, 0.05)", 1, "from 1e-7 an hour", row=1, column=4),
    Invariant("GAS_ODH_CLASS(1E-4, 0.05)", 2, "from 1e-5 an hour", row=1, column=4),
    Invariant("GAS_ODH_CLASS(1E-2, 0.05)", 3, "from 1e-3 an hour", row=1, column=4),
    Invariant("GAS_ODH_CLASS(1, 0.05)", 4, "from 0.1 an hour", row=1, column=4),
    Invariant(
        "GAS_ODH_CLASS(3E-6, 0.13, 4)", "GAS_ODH_CLASS(1.2E-5, 0.13)",
        "four components fail four times as often", row=2, column=3,
    ),
    Invariant(
        'GAS_ODH_CLASS(1E-4, 0.12, , "760 mmHg")', 1e-4 * 10 ** ((65 - 0.12 * 760) / 10),
        "the rate of failures times 10^((65 - p)/10)", row=1, column=3,
    ),
    Invariant("GAS_ODH_CLASS({1E-4;2E-4}, {0.05;0.05})", 2, "rows are counted", row=2, column=0),
    Invariant(
        "GAS_ODH_CLASS({1E-4;2E-4}, {0.05;0.05})", 3e-4, "and added up", row=3, column=3,
    ),
    Invariant("GAS_ROOM_OXYGEN(200, 500)", 0, "more gas than room leaves no oxygen"),
    Invariant(
        "GAS_ROOM_OXYGEN(100, 5000, GAS_ROOM_VENTILATION(5, 0.195), 1000)", 0.195,
        "the ventilation keeps the room at its limit in the end",
    ),
    Invariant(
        "GAS_ROOM_VENTILATION(5, 0.10475)", 10 * 293.15 / 273.15,
        "half the oxygen: half of what is drawn off is the gas, at 20 °C",
    ),
    *(
        Invariant(
            f"GAS_ODH_CLASS({times * 10.0**power:.3g}, 0.05)", deaths,
            "classes begin at powers of ten", row=1, column=4,
        )
        for power, above in ((-7, 1), (-5, 2), (-3, 3), (-1, 4))
        for times, deaths in ((1.05, above), (0.95, above - 1))
    ),
]  # fmt: skip

REFUSALS = [
    Refusal("GAS_ROOM_OXYGEN(0, 20)", "#NUM!", "room_volume"),
    Refusal("GAS_ROOM_OXYGEN(100, -1)", "#NUM!", "released"),
    Refusal('GAS_ROOM_OXYGEN(100, "20 kg")', "#VALUE!", "gas amount"),
    Refusal("GAS_ROOM_VENTILATION(5, 19.5)", "#NUM!", "19.5 % is written 0.195"),
    Refusal("GAS_ROOM_VENTILATION(5, 0.2095)", "#NUM!", "20.95 % of fresh air"),
    Refusal('GAS_ROOM_OXYGEN(100, 5, 0, "0 h")', "#NUM!", "leave it blank for at once"),
    Refusal("GAS_ROOM_OXYGEN(100, 5, 0, 1, 8)", "#NUM!", "is above 1.2 bar(a)"),
    Refusal('GAS_ROOM_TIME(180, 100, "10 %", 400)', "#NUM!", "goes to 15.33 %, where it settles"),
    Refusal('GAS_ROOM_TIME(180, 100, "21 %", 400)', "#NUM!", "where it settles"),
    Refusal('GAS_ROOM_TIME(180, 0, "19.5 %")', "#NUM!", "no gas escapes and no fan"),
    Refusal("GAS_FATALITY_FACTOR(14)", "#NUM!", "14 % is written 0.14"),
    Refusal("GAS_ODH_CLASS(1E-4, 12)", "#NUM!", "12 % is written 0.12"),
    Refusal("GAS_ODH_CLASS(-1, 0.12)", "#NUM!", "failure_rates"),
    Refusal("GAS_ODH_CLASS({1E-4;2E-4}, 0.12)", "#VALUE!", "has 1 values, failure_rates has 2"),
    Refusal("GAS_ODH_CLASS(1E-4, 0.12, {1;2})", "#VALUE!", "has 2 values, failure_rates has 1"),
    Refusal("GAS_ODH_CLASS(1E-4, 0.12, 1.5)", "#NUM!", "not a whole number"),
]
