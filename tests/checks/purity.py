"""Checks of the topic purity."""

from tests.checks.kinds import MEMORY, SEEN, Invariant, Published, Refusal

RING = 267.245828
"""mm of wall around 1 mm of bore, so that ln((d + 2w)/d) is 2π and the tube passes L · P · Δp."""

HANDBOOK = "Permeability Properties of Plastics and Elastomers (handbook), definition: "
TUBING = "tables of fractional tubing: "

PUBLISHED = [
    Published(
        'GAS_PERMEATION("1.15E-16 mol/(m s Pa)", 34, 3, 1, "111.1 kPa", 0, "std cc/yr")', 349,
        0.002,
        "a permeability script: inner radius 17 and outer 20 mm, 1.15e-16 mol/(m s Pa), 111.1 kPa: "
        "0.349 L a year and metre", SEEN, "three digits",
    ),
    Published(
        f'GAS_PERMEATION("1 barrer", 1, {RING}, 1, "1 Pa", 0, "mol/s")', 3.3464e-16, 1.5e-5,
        HANDBOOK + "1 barrer is 3.3464e-16 mol/(m s Pa)", SEEN, "five digits",
    ),
    Published(
        f'GAS_PERMEATION("1 barrer", 1, {RING}, 1, "1 Pa", 0, "std cc/s")', 7.5e-14 * 100, 1e-3,
        HANDBOOK + "1 barrer is 7.5e-14 cm3 cm/(cm2 s Pa)", SEEN, "two digits; exact is 7.5006",
        reckoned=True,
    ),
    Published(
        'GAS_SAMPLE_LAG("0.18 in", "100 ft", "500 std cc/min", "1 atm", 0)', 1.0, 0.005,
        TUBING + "1/4 in x 0.035 in holds 5.0 cm3 a foot: 500 cm3, a minute at 500 cm3/min",
        MEMORY, "two digits",
    ),
    Published(
        'GAS_SAMPLE_LAG("0.402 in", "100 ft", "500 std cc/min", "1 atm", 0)', 5.0, 0.005,
        TUBING + "1/2 in x 0.049 in holds 25 cm3 a foot: 2,500 cm3, five minutes at 500 cm3/min",
        MEMORY, "two digits",
    ),
    Published(
        'GAS_POINT_OF_USE(0, "1 mol/s", {"spill","3.3464E-7 mol/s",1})', 1e6 * 3.3464e-7, 1e-9,
        HANDBOOK + "3.3464e-16 mol/(m s Pa) through 1e9 m Pa into 1 mol/s", SEEN, "a quotient",
        row=2, column=1, reckoned=True,
    ),
    Published(
        'GAS_POINT_OF_USE(5, 10, {"leak",0;"hose","0.002534 mol/h"}, "1 atm")', -60, 0.12,
        "dew point table of a humidity-instrument maker (zonglen.com): 10.68 ppm at -60 °C; "
        "0.002534 mol/h into 10 Nm3/h (446.15 mol/h) add 5.68 ppm to 5", SEEN,
        "the table leaves the enhancement factor out, 0.05 °C", absolute=True, row=4, column=3,
        reckoned=True,
    ),
]  # fmt: skip

SOURCES = '{"hose","0.003 mbar L/s",1;"joint","0.001 mbar L/s",0.2095}'

INVARIANTS = [
    Invariant('GAS_POINT_OF_USE(0, 5, {"none",0}, 8)', 0, "pure gas has no dew point, and no error",
              row=2, column=1),
    Invariant(
        'GAS_POINT_OF_USE(5, 10, {"none",0}, 8, "water")', 'GAS_PPM_DEW(5, 8, "water")',
        "told over supercooled water", row=3, column=3,
    ),
    Invariant(
        'GAS_PERMEATION(8, 6, 0.001, 1, "0.2 bar(a)")',
        'GAS_PERMEATION(16, 6, 0.002, 1, "0.2 bar(a)")',
        "a thin wall passes as its permeability over its thickness", 1e-3,
    ),
    Invariant(
        'GAS_PERMEATION(8, 6, 1, 20, "0.2 bar(a)", "0.1 bar(a)")',
        'GAS_PERMEATION(8, 6, 1, 10, "0.2 bar(a)")', "twice the length at half the difference",
    ),
    Invariant(
        'GAS_PERMEATION("1 cm3 mil/(100 in2 d atm)", 6, 1, 10, "1 atm")',
        'GAS_PERMEATION("0.3937 cm3 mm/(m2 d atm)", 6, 1, 10, "1 atm")',
        "data sheets' units: 0.0254 mm, 0.064516 m2", 1e-4,
    ),
    Invariant(
        'GAS_PERMEATION("1 cm3 mm/(m2 d bar)", 6, 1, 10, "1 atm")',
        'GAS_PERMEATION("1.01325 cm3 mm/(m2 d atm)", 6, 1, 10, "1 atm")',
        "an atmosphere is 1.01325 bar",
    ),
    Invariant('GAS_PERMEATION(8, 6, 1, 10, "20 mbar", "20 mbar")', 0, "no difference, no flow"),
    Invariant(
        'GAS_SAMPLE_LAG(4, 30, "1 NL/min", 3)', 'GAS_SAMPLE_LAG(4, 30, "0.5 NL/min", 1.5)',
        "twice the pressure at twice the flow",
    ),
    Invariant(
        'GAS_SAMPLE_LAG(4, 0, "1 NL/min", "1 atm", 0, 2)', 2,
        "two litres of filter at a normal litre a minute", 1e-3,
    ),
    Invariant(
        f"GAS_POINT_OF_USE(0, 10, {SOURCES})",
        "GAS_LEAK_IMPURITY(0.003, 10, 1)",
        "one source alone is the leak's impurity, by an ideal normal volume", 1e-3,
        row=2, column=1,
    ),
    Invariant(f"GAS_POINT_OF_USE(2, 10, {SOURCES})", 1, "the shares add up", row=4, column=2),
    Invariant(f"GAS_POINT_OF_USE(2, 10, {SOURCES})", "total", "named so", row=4, column=0),
    Invariant(
        "GAS_POINT_OF_USE(5, 10, {\"none\",0}, 8)", "GAS_PPM_DEW(5, 8)",
        "without a source the supply's own dew point", row=3, column=3,
    ),
    Invariant(
        'GAS_POINT_OF_USE(0, "1 mol/s", {"a","1E-7 mol/s",1;"b","3E-7 mol/s",1})', 0.25,
        "one of two sources that is a third of the other", row=2, column=2,
    ),
    Invariant('GAS_POINT_OF_USE(0, 5, {"none",0}, 8)', 0, "none has no share of nothing", row=1,
              column=2),
    Invariant('GAS_POINT_OF_USE(0, 5, {"none",0}, 8)', 0, "nothing has no shares", row=3, column=2),
    Invariant(
        f"GAS_POINT_OF_USE(0, 10, {SOURCES})", "GAS_LEAK_IMPURITY(0.001, 10)",
        "of a leak its oxygen alone", 1e-3, row=3, column=1,
    ),
    Invariant(
        'GAS_POINT_OF_USE(0, 10, {"hose",0.003,""})', "GAS_POINT_OF_USE(0, 10, {0,0.003,1})",
        "a blank share is all", row=2, column=1,
    ),
    Invariant('GAS_POINT_OF_USE(0, 10, {"",0.003})', "source 1", "a name for what has none", row=2,
              column=0),
    Invariant(
        'GAS_POINT_OF_USE(0, "1 mol/s", {"a","0.1 mol/s"})', 1e5, "a tenth is still a trace",
        row=2, column=1,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_POINT_OF_USE(5, 10, {"none",0}, 8, , "helium")', "#NUM!", "factor of helium"),
    Refusal('GAS_PERMEATION(8, 6, 0, 10, "0.2 bar(a)")', "#NUM!", "a hose has a wall"),
    Refusal('GAS_PERMEATION(8, 6, 1, 10, "1 Pa", 1)', "#NUM!", "are the two swapped"),
    Refusal('GAS_PERMEATION("8 bar", 6, 1, 10, "1 Pa")', "#VALUE!", "use barrer"),
    Refusal('GAS_PERMEATION(8, 6, 1, 10, "0.2 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal("GAS_SAMPLE_LAG(4, 30, 0)", "#NUM!", "never arrive"),
    Refusal('GAS_SAMPLE_LAG(4, 30, "1 L/min")', "#VALUE!", "not of gas flow"),
    Refusal(f"GAS_POINT_OF_USE(1, 0, {SOURCES})", "#NUM!", "without end"),
    Refusal('GAS_POINT_OF_USE(1, 10, {"hose","3 mbar"})', "#VALUE!", "(row 1, hose)"),
    Refusal('GAS_POINT_OF_USE(1, 10, {"hose",99999})', "#NUM!", "no trace"),
    Refusal('GAS_POINT_OF_USE(1, 10, {"hose",1,20})', "#NUM!", "20 % is written"),
    Refusal('GAS_POINT_OF_USE(1, 10, "hose")', "#VALUE!", "two or three columns"),
    Refusal('GAS_POINT_OF_USE(1, 10, {"hose",""})', "#VALUE!", "has no inflow (row 1, hose)"),
    Refusal('GAS_POINT_OF_USE(0, "1 mol/s", {"a","0.105 mol/s"})', "#NUM!", "no trace"),
    Refusal('GAS_POINT_OF_USE(1, 10, {"a",1,1,1})', "#VALUE!", "two or three columns"),
]
