"""Checks of the topic backfill."""

from tests.checks.dense import BETWEEN, FIVE_DIGITS, OF_BETWEEN, STATES
from tests.checks.kinds import MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import ESPOSITO, LEVENSPIEL

BRANAN = "C. Branan, Rules of Thumb for Chemical Engineers, purging"
IDEAL = "the source reckons with an ideal gas"
R = 8.314462618

BACKFILL = '"backfill","0.01 mbar","0.8 bar(a)",20,"","",1'
HOLD = '"hold","5 mbar","",20,"800 m3/h","90 min",2'
FLOW = '"flow","","","","20 Nm3/h","30 min",""'

PUBLISHED = [
    Published(
        "GAS_FREE_VOLUME(1,785)",
        1 - 785 / 7850,
        1e-9,
        "Steel of 7850 kg/m3, as tables of section masses print it: 785 kg take up 0.1 m3",
        SEEN,
        "arithmetic on the printed density",
        reckoned=True,
    ),
    Published(
        'GAS_BACKFILL("nitrogen",1,"1 atm","5 atm",0)',
        4.0,
        0.005,
        BRANAN + ": 1 to 5 atm takes 4 vessel volumes",
        SEEN,
        IDEAL,
    ),
    Published(
        'GAS_BACKFILL("nitrogen",1,"0.5 atm","1 atm",0)',
        0.5,
        0.001,
        BRANAN + ": 0.5 to 1 atm takes half a vessel volume",
        SEEN,
        IDEAL,
    ),
    Published(
        'GAS_HOLD_USE("air","0.01 Pa","0.0114 m3/s","1 h",20,"mol")',
        1.14e-4 * 3600 / (R * 293.15),
        0.001,
        LEVENSPIEL.says(
            "0.0114 m3/s at 0.01 Pa is a throughput of 1.14e-4 Pa m3/s; for an hour, as mol at "
            "20 °C by p V = n R T"
        ),
        READ,
        "three digits",
        reckoned=True,
    ),
    Published(
        'GAS_FLOW_USE("20 scfm","6 min","scf")',
        20 * 6,
        1e-9,
        ESPOSITO.says("20 scfm for 6 min"),
        READ,
        "arithmetic",
        reckoned=True,
    ),
    Published(
        'GAS_CYCLE("nitrogen",1,{"backfill","1 atm","5 atm",0,"","",2})',
        8.0,
        0.005,
        BRANAN + ": two pressurisations to 5 atm take 8 volumes",
        SEEN,
        IDEAL,
    ),
    Published(
        'GAS_CYCLE("nitrogen","1000 gal",{"backfill","20 mmHg","760 mmHg","75 degF","","",4},'
        '"lbmol")',
        1.33,
        0.004,
        "D. Crowl, J. Louvar, Chemical Process Safety, vacuum purging: 4 cycles from 20 mmHg at "
        "75 °F in 1000 gal take 1.33 lb-mol",
        MEMORY,
        "three digits; " + IDEAL,
    ),
    Published(
        'GAS_CYCLE_STEPS("nitrogen",1,{"backfill","1 atm","5 atm",0,"","",2})',
        8.0,
        0.005,
        BRANAN + ": two pressurisations to 5 atm take 8 volumes",
        SEEN,
        IDEAL,
        row=1,
        column=2,
    ),
    Published(
        'GAS_BACKFILL("argon",1,"2250 psia","2400 psia","300 K",,,,"mol")', BETWEEN, OF_BETWEEN,
        STATES, SEEN, FIVE_DIGITS, reckoned=True,
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_CYCLE_STEPS("argon","1 L",{"flow","","","","0.2 mol/h","1 h","";'
        '"flow","","","","0.6 mol/h","1 h",""})',
        0.25,
        "a quarter of less than a mol",
        row=1,
        column=4,
    ),
    Invariant(
        f'GAS_CYCLE_STEPS("argon",2.5,{{{HOLD};{BACKFILL}}})',
        2,
        "steps are counted from 1",
        row=2,
        column=0,
    ),
    Invariant(
        'GAS_CYCLE("argon",2.5,{"backfill",0,2,20,0,0,1})',
        'GAS_CYCLE("argon",2.5,{"backfill",0,2,20,"","",1})',
        "a 0 where a step takes nothing is as good as a blank",
    ),
    Invariant(
        'GAS_CYCLE("argon",2.5,{"backfill",0,2,20,"","",100000})',
        'GAS_BACKFILL("argon",250000,0,2,20)',
        "as many repeats as are taken are as large a vessel",
    ),
    Invariant('GAS_CYCLE("argon",2.5,{"backfill",0,2,20,"","",0})', 0, "a step not done"),
    Invariant("GAS_FREE_VOLUME(2.5,0)", 2.5, "no load takes no room"),
    Invariant(
        'GAS_FREE_VOLUME(2.5,"1 t","2700 kg/m3")',
        2.5 - 1000 / 2700,
        "the load displaces its own volume",
    ),
    Invariant(
        'GAS_BACKFILL("argon",2.5,0,2,20)',
        'GAS_CONTENTS("argon",2.5,2,20)',
        "a backfill from vacuum is all that the vessel holds",
    ),
    Invariant(
        'GAS_BACKFILL("argon",2.5,{0.5;0.8},{2;3},20)',
        'GAS_DRAWN("argon",2.5,{2;3},{0.5;0.8},20)',
        "what is let in can be drawn again, in a column as in a cell",
        row=1,
    ),
    Invariant(
        'GAS_BACKFILL("argon",2.5,0,2,20,20,"one shot",20)',
        'GAS_CONTENTS("argon",2.5,2,GAS_FILL_TEMPERATURE("argon",0,2,2,20))',
        "in one shot the vessel is full of hot gas",
    ),
    Invariant(
        'GAS_BACKFILL("helium",1,0,"1 kPa",20,,"one shot")',
        'GAS_BACKFILL("helium",0.6,0,"1 kPa",20)',
        "of a thin monatomic gas from vacuum one shot takes 1/γ of what topping up takes",
        1e-4,
    ),
    Invariant(
        'GAS_BACKFILL("argon",2.5,1,2,20,600)',
        'GAS_BACKFILL("argon",2.5,GAS_SETTLED_PRESSURE("argon",1,600,20),2,20)',
        "hot gas that was there before counts as what it is when settled",
    ),
    Invariant(
        f'GAS_CYCLE("argon",2.5,{{{BACKFILL[:-1]}2,"one shot"}})',
        'GAS_BACKFILL("argon",5,"0.01 mbar","0.8 bar(a)",20,,"one shot")',
        "a step may be one shot",
    ),
    Invariant(
        'GAS_CYCLE_STEPS("argon",2.5,{"backfill",0,2,20,"","",1,"topped up";'
        '"backfill",0,2,20,"","",1,""})',
        0.5,
        "topped up is what a blank control means",
        row=2,
        column=4,
    ),
    Invariant('GAS_BACKFILL("argon",2.5,2,2,20)', 0, "no rise of pressure, no gas"),
    Invariant(
        'GAS_HOLD_USE("argon","5 mbar",800,1.5)',
        'GAS_FLOW_USE(GAS_STANDARD_FLOW("argon",800,"5 mbar",20),1.5)',
        "the hold's gas is the flow at the pump's inlet",
    ),
    Invariant(
        'GAS_HOLD_USE("argon","0.5 mbar",800,1,20,"mol")',
        50 * 800 / (R * 293.15),
        "a thin gas is ideal: p S t / (R T)",
        1e-5,
    ),
    Invariant(
        'GAS_FLOW_USE("1 Nm3/h","1 h","Sm3")',
        288.15 / 273.15,
        "between reference conditions the gas is ideal",
    ),
    Invariant(
        f'GAS_CYCLE("argon",2.5,{{{BACKFILL}}})',
        'GAS_BACKFILL("argon",2.5,"0.01 mbar","0.8 bar(a)",20)',
        "a backfill as a step is a backfill",
    ),
    Invariant(
        f'GAS_CYCLE("argon",2.5,{{{HOLD}}})',
        'GAS_HOLD_USE("argon","5 mbar",800,3)',
        "a hold done twice is a hold twice as long",
    ),
    Invariant(
        f'GAS_CYCLE("argon",2.5,{{{FLOW}}})',
        10,
        "a flow as a step is flow times time",
    ),
    Invariant(
        f'GAS_CYCLE("argon",2.5,{{"kind","from","to","","","","";{BACKFILL};"","","","","","","";'
        f"{HOLD};{FLOW}}})",
        f'GAS_CYCLE("argon",2.5,{{{HOLD};{FLOW};{BACKFILL}}})',
        "headings and blank rows count nothing, nor does the order",
    ),
    Invariant(
        'GAS_CYCLE("argon",2.5,{"backfill",0.00001,0.8})',
        f'GAS_CYCLE("argon",2.5,{{{BACKFILL}}})',
        "bare numbers are bar(a); columns that are left out are blank",
    ),
    Invariant(
        'GAS_CYCLE("argon",2.5,{"hold",0.005,"",20,800,1.5,2;"flow","","",20,20,0.5,1})',
        f'GAS_CYCLE("argon",2.5,{{{HOLD};{FLOW}}})',
        "bare numbers are m3/h in a hold, Nm3/h in a flow, and h",
    ),
    Invariant(
        f'GAS_CYCLE("argon",{{1;2.5}},{{{BACKFILL};{HOLD}}})',
        f'GAS_CYCLE("argon",2.5,{{{BACKFILL};{HOLD}}})',
        "the steps are one argument to every vessel of a column",
        row=1,
    ),
    Invariant(
        f'GAS_CYCLE_STEPS("argon",2.5,{{{BACKFILL};{HOLD};{FLOW}}})',
        f'GAS_CYCLE("argon",2.5,{{{BACKFILL};{HOLD};{FLOW}}})',
        "the last running total is the whole cycle",
        row=3,
        column=3,
    ),
    Invariant(
        f'GAS_CYCLE_STEPS("argon",2.5,{{{HOLD};{HOLD};{HOLD};{HOLD}}})',
        0.25,
        "four equal steps are a quarter each",
        row=2,
        column=4,
    ),
    Invariant(
        'GAS_CYCLE_STEPS("argon",2.5,{"backfill",1,1})',
        0,
        "a cycle without gas has no shares",
        row=1,
        column=4,
    ),
]

REFUSALS = [
    Refusal("GAS_FREE_VOLUME(1,7850)", "#NUM!", "as much as the chamber"),
    Refusal(
        'GAS_CYCLE("argon",1,{"hold","","",20,"800 m3/h","90 min",1})',
        "#VALUE!",
        "row 1, from: is blank",
    ),
    Refusal(
        'GAS_CYCLE("argon",1,{"backfill",0,2,20,1,"",1})',
        "#VALUE!",
        "row 1, rate: a backfill",
    ),
    Refusal(
        'GAS_CYCLE("argon",1,{"backfill",0,2,20,"","",100001})',
        "#NUM!",
        "above 100000",
    ),
    Refusal("GAS_FREE_VOLUME(1,9000)", "#NUM!", "as much as the chamber"),
    Refusal('GAS_FREE_VOLUME("1 L(liq)",10)', "#VALUE!", "liquid"),
    Refusal('GAS_BACKFILL("argon",2.5,2,0.5,20)', "#NUM!", "swapped"),
    Refusal('GAS_BACKFILL("argon",2.5,0,2,-200)', "#NUM!", "°C"),
    Refusal('GAS_BACKFILL("argon",2.5,"0.01 mbar","2 bar",20)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_BACKFILL("argon",2.5,0,2,20,,"twice")', "#VALUE!", "topped up, one shot"),
    Refusal('GAS_BACKFILL("argon",2.5,1,1.1,600,20)', "#NUM!", "holds more gas before than after"),
    Refusal(
        'GAS_CYCLE("argon",2.5,{"hold",0.005,"",20,800,1,1,"one shot"})',
        "#VALUE!",
        "row 1, control: only a backfill",
    ),
    Refusal('GAS_HOLD_USE("argon","5 mbar","5 Nm3/h",1)', "#VALUE!", "unit of gas flow"),
    Refusal('GAS_HOLD_USE("argon","5 mbar",0,1)', "#NUM!", "above 0"),
    Refusal('GAS_FLOW_USE("20 m3/h",1)', "#VALUE!", "unit of volume flow"),
    Refusal('GAS_FLOW_USE(20,"-1 h")', "#NUM!", "below 0"),
    Refusal('GAS_CYCLE("argon",2.5,{"soak",1,2})', "#VALUE!", "row 1, kind"),
    Refusal('GAS_CYCLE("argon",2.5,{"Step type","p1","p2"})', "#VALUE!", "row 1, kind"),
    Refusal('GAS_CYCLE("argon",2.5,{"","",""})', "#VALUE!", "no step"),
    Refusal('GAS_CYCLE("argon",2.5,"backfill")', "#VALUE!", "row 1, from: is blank"),
    Refusal('GAS_CYCLE("argon",2.5,{1,2,3,4,5,6,7,8,9})', "#VALUE!", "9 columns wide"),
    Refusal(
        'GAS_CYCLE("argon",2.5,{"backfill",0,2;"backfill",2,1})', "#NUM!", "row 2, to: is below"
    ),
    Refusal('GAS_CYCLE("argon",2.5,{"hold",0.005,""})', "#VALUE!", "row 1, rate: is blank"),
    Refusal('GAS_CYCLE("argon",2.5,{"hold",0.005,"",20,"20 Nm3/h",1})', "#VALUE!", "row 1, rate"),
    Refusal('GAS_CYCLE("argon",2.5,{"hold",0.005,1,20,800,1})', "#NUM!", "row 1, to: only"),
    Refusal('GAS_CYCLE("argon",2.5,{"flow","",1,20,20,1})', "#NUM!", "row 1, to: only"),
    Refusal('GAS_CYCLE("argon",2.5,{"backfill",0,2,20,5})', "#VALUE!", "row 1, rate: a backfill"),
    Refusal('GAS_CYCLE("argon",2.5,{"backfill",0,2,20,"","",1.5})', "#NUM!", "row 1, repeats: 1.5"),
    Refusal(
        'GAS_CYCLE("argon",2.5,{"backfill",0,2,20;"backfill",0,2,-190})', "#NUM!", "row 2: argon"
    ),
    Refusal('GAS_CYCLE_STEPS("argon",2.5,{"flow","","",20,"20 m3/h",1})', "#VALUE!", "row 1, rate"),
    Refusal('GAS_CYCLE_STEPS("argon",2.5,{"backfill","6 bar",8})', "#VALUE!", "row 1, from"),
    Refusal(
        'GAS_CYCLE("nitrogen",1,{"backfill","1 atm","5 atm",0,"","",100001})',
        "#NUM!",
        "repeats: 100001 is above",
    ),
    Refusal(
        'GAS_CYCLE("nitrogen",1,{"backfill","1 atm","5 atm",0,"","",2;"backfill",5,1,0,"","",2})',
        "#NUM!",
        "row 2, to: is below from",
    ),
    Refusal(
        'GAS_CYCLE("carbon dioxide",1,{"backfill","1 atm","5 atm",20,"","",1;'
        '"backfill","1 atm","60 bar(a)",0,"","",1})',
        "#NUM!",
        "steps: row 2: carbon dioxide",
    ),
]
