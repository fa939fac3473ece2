"""Checks of the topic volume."""

from tests.checks.dense import AT_2400, BETWEEN, FIVE_DIGITS, OF_BETWEEN, STATES, WEBBOOK
from tests.checks.kinds import LIBRARY, MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import ESPOSITO, FIRE_CODE

WISCONSIN = "University of Wisconsin, LN2/LHe facility, nitrogen and helium data"
ELEMENTS = "gas densities at 0 °C, 1 atm, in a table of element quantities"
PERRY = "Perry's Chemical Engineers' Handbook, compressibility factors of air"
METER_FACTORS = "factors of an air scale for other gases, table of an instrument maker"
FOUR_KILOS = 'GAS_VOLUME("argon","100.13 mol","450 kPa",30)'

PUBLISHED = [
    Published(
        'GAS_DENSITY("argon", "101.325 kPa", "87.4 K")',
        5.774,
        0.005,
        "VDI Heat Atlas, saturated vapour of argon at 87.30 K: 5.774 kg/m3 (in `chemicals`)",
        LIBRARY,
        "a tenth of a kelvin above saturation, to be gas",
    ),
    Published('GAS_DENSITY("argon","2250 psia","300 K")', 261.88, 5e-5, WEBBOOK, SEEN, "5 digits"),
    Published('GAS_DENSITY("argon","2400 psia","300 K")', 279.24, 5e-5, WEBBOOK, SEEN, "5 digits"),
    Published(
        'GAS_DENSITY("nitrogen","1 atm","70 degF","lb/ft3")',
        0.07244,
        1e-4,
        WISCONSIN + " (Jacobsen et al. 1986)",
        SEEN,
        "four digits",
    ),
    Published(
        'GAS_DENSITY("helium","1 atm","32 degF","lb/ft3")',
        0.01114,
        5e-4,
        WISCONSIN + " (McCarty and Arp 1990)",
        SEEN,
        "four digits",
    ),
    Published('GAS_DENSITY("hydrogen","1 atm",0)', 0.08988, 6e-5, ELEMENTS, SEEN, "four digits"),
    Published('GAS_DENSITY("oxygen","1 atm",0)', 1.4291, 6e-5, ELEMENTS, SEEN, "five digits"),
    Published('GAS_DENSITY("argon","1 atm",0)', 1.784, 3e-4, ELEMENTS, SEEN, "four digits"),
    Published(
        'GAS_DENSITY("air","1 atm",0)',
        1.293,
        5e-4,
        "worked example of a maker of flow meters",
        SEEN,
        "four digits",
    ),
    Published(
        'GAS_DENSITY("carbon dioxide","1 atm",0)',
        1.977,
        5e-4,
        "worked example of a maker of flow meters",
        SEEN,
        "four digits",
    ),
    Published(
        'GAS_COMPRESSIBILITY("air","100 bar(a)","300 K")',
        0.9930,
        0.001,
        PERRY,
        MEMORY,
        "four digits, an older equation of state",
    ),
    Published(
        'GAS_COMPRESSIBILITY("air","300 bar(a)","300 K")',
        1.1089,
        0.001,
        PERRY,
        MEMORY,
        "five digits, an older equation of state",
    ),
    Published(
        'GAS_COMPRESSIBILITY("nitrogen","20 MPa(a)","350 K")',
        20e6 / (6355.2 * 8.314472 * 350),
        1.5e-5,
        "Span et al. 2000, nitrogen at 350 K and 20 MPa: 6.3552 mol/L (a transcription)",
        LIBRARY,
        "five digits",
        reckoned=True,
    ),
    Published(
        'GAS_COMPRESSIBILITY("argon","100 atm","273 K")',
        0.927,
        0.005,
        "P. Atkins, Physical Chemistry, exercise on the virial coefficients of argon",
        MEMORY,
        "a virial series cut off after its third term",
    ),
    Published(
        'GAS_CONTENTS("argon","49.8 L","2400 psia","300 K")',
        279.24 * 0.0498 / 1.784,
        3e-4,
        WEBBOOK + ": 279.24 kg/m3; a normal cubic metre holds 1.784 kg (" + ELEMENTS + ")",
        SEEN,
        "four digits",
        reckoned=True,
    ),
    Published(
        'GAS_CONTENTS("nitrogen","29.5 L","2000 psia","70 degF","scf")',
        4013 / 28.316846592,
        0.02,
        "specialty-gas handbook: 29.5 L at 2000 psi hold 4013 L, reckoned with an ideal gas",
        SEEN,
        "the real gas is 1.5 % thinner at this pressure",
        reckoned=True,
    ),
    Published(
        'GAS_VOLUME("nitrogen","35.6971 mol","14.7 psia","70 degF")',
        0.862,
        0.001,
        FIRE_CODE.says("1 kg nitrogen"),
        READ,
        "three digits",
    ),
    Published(
        'GAS_VOLUME("argon","25.0325 mol","14.7 psia","70 degF","ft3")',
        21.32,
        3e-4,
        FIRE_CODE.says("1 kg argon"),
        READ,
        "four digits",
    ),
    Published(
        'GAS_PRESSURE("air","252.24 mol",2.77,20,"kPa")',
        222,
        0.003,
        "Y. Cengel, M. Boles, Thermodynamics, two tanks of air: 1 m3 at 350 kPa, 10 °C and 3 kg "
        "in 1.77 m3 come to 222 kPa at 20 °C",
        SEEN,
        "three digits; the amount is that of an ideal gas",
    ),
    Published(
        'GAS_DRAWN("air","660 gal","100 psig","80 psig","70 degF",,"scf")',
        120,
        0.008,
        ESPOSITO.says("660 gal feed 20 scfm for 6 min between 100 and 80 psi"),
        READ,
        "ideal gas, gallons rounded",
    ),
    Published(
        f'GAS_DRAWN("argon",{FOUR_KILOS},"450 kPa","200 kPa",30,"219.06 K","mol")',
        1.54 / 0.039948,
        0.005,
        "Y. Cengel, M. Boles, Thermodynamics 8e, problem 7-89: of 4 kg argon at 450 kPa and 30 °C "
        "2.46 kg are left at 200 kPa, isentropic",
        MEMORY,
        "three digits, ideal gas",
        reckoned=True,
    ),
    Published(
        'GAS_ACTUAL_FLOW("air","71 scfm","140 psig","70 degF","cfm")',
        6.74,
        0.005,
        "article on compressed air: 71 cfm of free air are 6.74 cfm at 140 psig",
        SEEN,
        "three digits, ideal gas",
    ),
    Published(
        'GAS_STANDARD_FLOW("air","30 cfm","125 psig","90 degF","scfm")',
        275,
        0.003,
        ESPOSITO.at("example 13-6").says("30 cfm at 125 psig and 90 °F"),
        READ,
        "three digits, ideal gas",
    ),
    Published(
        'GAS_FLOAT_METER("CO2",5,"0.4 MPa(g)",50,"air","0.2 MPa(g)",20)',
        4.97,
        0.01,
        "On Flow Measurement, handbook of a maker of flow meters, worked example",
        SEEN,
        "ideal gas; carbon dioxide has a compressibility of 0.98 here",
    ),
    Published(
        'GAS_FLOAT_METER("argon",1,1.01325,20)', 0.85, 0.005, METER_FACTORS, SEEN, "2 digits"
    ),
    Published('GAS_FLOAT_METER("N2",1,1.01325,20)', 1.02, 0.005, METER_FACTORS, SEEN, "3 digits"),
    Published('GAS_FLOAT_METER("H2",1,1.01325,20)', 3.78, 0.005, METER_FACTORS, SEEN, "3 digits"),
    Published('GAS_FLOAT_METER("CO2",1,1.01325,20)', 0.81, 0.005, METER_FACTORS, SEEN, "2 digits"),
    Published(
        f'GAS_VOLUME("argon","{AT_2400} mol","2400 psia","300 K")', 1, 3e-5, STATES, SEEN,
        FIVE_DIGITS, reckoned=True,
    ),
    Published(
        f'GAS_PRESSURE("argon","{AT_2400} mol",1,"300 K","psia")', 2400, 3e-5, STATES, SEEN,
        FIVE_DIGITS, reckoned=True,
    ),
    Published(
        'GAS_DRAWN("argon",1,"2400 psia","2250 psia","300 K",,"mol")', BETWEEN, OF_BETWEEN, STATES,
        SEEN, FIVE_DIGITS, reckoned=True,
    ),
    Published(
        f'GAS_ACTUAL_FLOW("argon","{AT_2400} mol/h","2400 psia","300 K","m3/h")', 1, 3e-5, STATES,
        SEEN, FIVE_DIGITS, reckoned=True,
    ),
    Published(
        'GAS_STANDARD_FLOW("argon","1 m3/h","2400 psia","300 K","mol/h")', AT_2400, 3e-5, STATES,
        SEEN, FIVE_DIGITS, reckoned=True,
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_ACTUAL_FLOW("argon","1 mol/h","0.5 Pa",0,"m3/h")',
        8.314462618 * 273.15 / 0.5,
        "the ideal gas, as thin as that; the equation's R is 6e-6 more",
        1e-5,
    ),
    Invariant('GAS_DENSITY("argon",0,20)', 0, "a perfect vacuum weighs nothing"),
    Invariant(
        'GAS_DENSITY("nitrogen",{1;5;1},{20;20;20})',
        'GAS_DENSITY("nitrogen",5,20)',
        "a column gives what a cell gives",
        row=1,
    ),
    Invariant('GAS_COMPRESSIBILITY("argon","1 Pa",20)', 1, "a thin gas is ideal", 1e-6),
    Invariant(
        'GAS_CONTENTS("argon",1,"101.325 kPa",0)', 1, "a cubic metre at the reference condition"
    ),
    Invariant(
        'GAS_CONTENTS("nitrogen","1 ft3","14.696 psia","70 degF","scf")',
        1,
        "a cubic foot at the reference condition",
    ),
    Invariant(
        'GAS_VOLUME("argon", GAS_CONTENTS("argon", 2.5, 8, 20), 8, 20)',
        2.5,
        "contents and volume undo each other",
    ),
    Invariant(
        'GAS_PRESSURE("argon",GAS_CONTENTS("argon",2.5,200,20),2.5,20)',
        200,
        "contents and pressure undo each other",
    ),
    Invariant(
        'GAS_PRESSURE("95% argon + 5% hydrogen",'
        'GAS_CONTENTS("95% argon + 5% hydrogen",2.5,100,20),2.5,20)',
        100,
        "contents and pressure undo each other in a mixture",
        1e-6,
    ),
    Invariant(
        'GAS_DRAWN("argon",2.5,100,0,15)',
        'GAS_CONTENTS("argon",2.5,100,15)',
        "all that a vessel holds can be drawn",
    ),
    Invariant(
        'GAS_DRAWN("argon",2.5,20,20,15)', 0, "the same readings before and after draw nothing"
    ),
    Invariant(
        'GAS_ACTUAL_FLOW("argon",GAS_STANDARD_FLOW("argon",12,4,20),4,20)',
        12,
        "actual and standard flow undo each other",
    ),
    Invariant('GAS_STANDARD_FLOW("helium",1,"1 atm",0)', 1, "a flow at the reference condition"),
    Invariant('GAS_FLOAT_METER("air",7,1.01325,20)', 7, "gas and condition of the scale: as read"),
    Invariant(
        'GAS_FLOAT_METER("argon",7,3,20,"argon",3,20)', 7, "gas and condition of the scale: as read"
    ),
    Invariant(
        'GAS_VOLUME("argon","1 mol","0.5 Pa",0)',
        8.314462618 * 273.15 / 0.5,
        "the ideal gas, as thin as that; the equation's R is 6e-6 more",
        1e-5,
    ),
    Invariant('GAS_FLOAT_METER("argon",1,"0.5 Pa",20,"argon","0.5 Pa",20)', 1, "its own scale"),
]

REFUSALS = [
    Refusal('GAS_DENSITY("argon", "6 bar", 20)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_DENSITY("argon",1,-188)', "#NUM!", "liquid"),
    Refusal('GAS_DENSITY("argon",1,-300)', "#NUM!", "-273.15"),
    Refusal('GAS_DENSITY("xenon",1,20)', "#VALUE!", "not a known gas"),
    Refusal('GAS_COMPRESSIBILITY("carbon dioxide",100,20)', "#NUM!", "liquid"),
    Refusal('GAS_COMPRESSIBILITY("nitrogen","2 L",20)', "#VALUE!", "unit of volume"),
    Refusal('GAS_CONTENTS("argon",-1,1,20)', "#NUM!", "above 0"),
    Refusal('GAS_CONTENTS("argon",,1,20)', "#VALUE!", "is blank"),
    Refusal('GAS_VOLUME("argon",10,0,20)', "#NUM!", "vacuum"),
    Refusal('GAS_VOLUME("argon","10 m3",1,20)', "#VALUE!", "unit of volume"),
    Refusal('GAS_PRESSURE("argon",100000,0.1,20)', "#NUM!", "beyond the equation"),
    Refusal('GAS_PRESSURE("carbon dioxide",100,0.1,0)', "#NUM!", "liquid"),
    Refusal('GAS_DRAWN("argon","50 L","200 bar",20,15)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_DRAWN("argon","50 L","200 bar(a)",20,15,-188)', "#NUM!", "liquid"),
    Refusal('GAS_ACTUAL_FLOW("argon",10,0,20)', "#NUM!", "vacuum"),
    Refusal('GAS_ACTUAL_FLOW("argon","10 m3/h",1,20)', "#VALUE!", "unit of volume flow"),
    Refusal('GAS_STANDARD_FLOW("argon","10 Nm3/h",1,20)', "#VALUE!", "unit of gas flow"),
    Refusal('GAS_FLOAT_METER("argon",-5,1,20)', "#NUM!", "below 0"),
    Refusal('GAS_FLOAT_METER("argon",5,1,20,"neon")', "#VALUE!", "not a known gas"),
    Refusal('GAS_FLOAT_METER("argon",5,0,20)', "#NUM!", "vacuum"),
    Refusal('GAS_FLOAT_METER("argon",5,1,20,"air",0)', "#NUM!", "vacuum"),
]
