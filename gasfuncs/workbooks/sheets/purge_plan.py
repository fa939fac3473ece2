"""The purge book: what the cycles planned leave, what is needed, and the other methods."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Row,
    Sentence,
    Series,
    Table,
    helper,
    made,
)
from gasfuncs.workbooks.sheets.purge_typed import GRADE, PUMP, VALVE
from gasfuncs.workbooks.sheets.standard import NORMAL, conforms, version_of

STEPS = 13
"""Rows of the course; with more cycles than rows each row is several cycles."""

WARM = "{Temperature as degC}"
PER_HOUR = "/({Fill_flow as Nm3/h})"
SWING = "Low_bar,High_bar,Plan_from"
GIVEN = f"COUNT({SWING},Wanted,Supply_ppm,Mixing_worst)"
PRICE = "GAS_PRICE(Price,Price_per,{unit amount},Plan_gas)"


def _left(count: str, mixing: str = "Mixing_likely") -> str:
    return f"GAS_VENT_FILL_RESIDUAL({count},{SWING},Supply_ppm,{mixing})"


def _gas(count: str, unit: str = "{unit amount}") -> str:
    swing = "Low_bar,High_bar"
    return f"GAS_VENT_FILL_USE(Plan_gas,Space,{swing},{count},{WARM},{unit})"


def _count(mixing: str) -> str:
    return f"GAS_VENT_FILL_COUNT({SWING},Wanted,Supply_ppm,{mixing})"


def _of_vessel(name: str, label: str, column: str, kind: str, note: str = "") -> Row:
    return Row(name, label, f"INDEX({{Vessels.{column}}},Plan_row)", kind, note)


VESSEL = Block(
    "The vessel, as it is on the day of the report",
    (
        _of_vessel("Plan_gas", "Gas", "Gas", "text"),
        _of_vessel("Plan_volume", "Free volume", "Free volume", "volume"),
        _of_vessel("Plan_from", "Oxygen at the start", "From", "ppm"),
        _of_vessel("Mixing_worst", "Mixing at worst", "Mixing worst", "number"),
        _of_vessel("Mixing_best", "Mixing at best", "Mixing best", "number"),
        Row(
            "Supply_ppm",
            "Oxygen in the supply",
            f'IF(Supply_told="{GRADE}",GAS_GRADE_IMPURITY(Grade),'
            "IF(ISNUMBER(Certificate),Certificate,NA()))",
            "ppm",
            "The floor: no purging gets below it",
        ),
    ),
)

ONE_CYCLE = Block(
    "One cycle",
    (
        Row(
            "Share_left",
            "Share of the oxygen that it leaves",
            "GAS_VENT_FILL_RESIDUAL(1,Low_bar,High_bar,1000000,0,Mixing_likely)/10000",
            "share",
        ),
        Row(
            "Empty_hours",
            "Time to empty",
            f'IF(Emptied_by="{PUMP}",GAS_PUMPDOWN_TIME(Space,{{Pumping as m3/h}},High_bar,Low_bar),'
            "Venting/60)",
            "hours",
            number="three",
        ),
        Row(
            "Fill_hours",
            "Time to fill",
            _gas("1", '"Nm3"') + PER_HOUR,
            "hours",
            number="three",
        ),
        Row(
            "Cycle_hours",
            "Time of a cycle",
            "Empty_hours+Fill_hours+Handling/60",
            "hours",
            number="three",
        ),
    ),
)

BAND = (
    'GAS_UNCERTAINTY("GAS_VENT_FILL_RESIDUAL",{Tolerances.Told},Planned,Low_bar,High_bar,'
    "Plan_from,Supply_ppm,Mixing_likely)"
)


def _totals(name: str, count: str) -> tuple[Row, ...]:
    return (
        Row(f"Gas_{name}", "Gas used", _gas(count), "amount", number="one"),
        Row(f"Hours_{name}", "Time", f"{count}*Cycle_hours", "hours", number="two"),
        Row(f"Cost_{name}", "Cost of the gas", f"Gas_{name}*{PRICE}", "money"),
    )


PLANNED = Block(
    "The cycles planned",
    (
        Row("Left_planned", "Oxygen left", _left("Planned"), "ppm", "At the likely mixing"),
        Row("Left_least", "at least", f"INDEX({BAND},2,5)", "ppm", "95 % band: mixing, pressures"),
        Row("Left_most", "at most", f"INDEX({BAND},2,6)", "ppm"),
        Row(
            "Plan_verdict",
            "Do they reach what is wanted?",
            conforms(
                "LN(SQRT(Left_least*Left_most)/Wanted)",
                f"LN(Left_most/Left_least)/2/{NORMAL}",
                "0",
            ),
        ),
        *_totals("planned", "Planned"),
    ),
)

NEEDED = Block(
    "The cycles needed",
    (
        Row("Needed_likely", "Cycles, at the likely mixing", _count("Mixing_likely"), "count"),
        Row("Needed", "Cycles, at the worst mixing", _count("Mixing_worst"), "count"),
        Row("Left_needed", "Oxygen left by these", _left("Needed"), "ppm"),
        Row("Left_worst", "at the worst mixing", _left("Needed", "Mixing_worst"), "ppm"),
        *_totals("needed", "Needed"),
    ),
)

LEAKING = Block(
    "Allowance for the leak",
    (
        Row(
            "Leak_flowing",
            "Adds to the gas that flows through",
            "GAS_LEAK_IMPURITY({Leak as mbar L/s},{Flow as Nm3/h})",
            "ppm",
            "Oxygen",
        ),
        Row(
            "Leak_largest",
            "Largest leak that keeps what is wanted",
            "GAS_LEAK_LIMIT(MAX(0,Wanted-Supply_ppm),{Flow as Nm3/h},,{unit leak})",
            "leak",
            "Of air, at this flow",
        ),
        Row(
            "Leak_standing",
            "Adds while the vessel stands shut",
            "GAS_LEAK_BUILDUP({Leak as mbar L/s},Space,High_bar,Shut,,{Temperature as degC})",
            "ppm",
            "Where its pressure is below the air's; at overpressure gas leaks out",
        ),
    ),
)

MOISTURE = Block(
    "Allowance for moisture",
    (
        Row(
            "Water_supply",
            "Water in the supply",
            "GAS_DEW_PPM({Dew_supply as degC},{Dew_pressure as bar(a)})",
            "ppm",
        ),
        Row(
            "Dew_vessel",
            "Its dew point as the vessel is filled",
            "GAS_DEW_SHIFT({Dew_supply as degC},{Dew_pressure as bar(a)},High_bar,,,"
            "{unit temperature})",
            "temperature",
            "Below freezing the frost point",
        ),
        Row(
            "Water_wanted",
            "Water at the dew point wanted",
            "GAS_DEW_PPM({Dew_wanted as degC},High_bar)",
            "ppm",
        ),
        Row(
            "Water_left",
            "Left for hoses, leaks and walls",
            "Water_wanted-Water_supply",
            "ppm",
            "Below nothing: the supply is too wet",
        ),
    ),
)

CHANGES = "GAS_SWEEP_CHANGES(Plan_from,Wanted,Supply_ppm,Mixing_worst)"
ARGUMENTS = (
    '"cycles","low pressure","high pressure","oxygen at the start","oxygen of the supply","mixing"'
)


def _deep_left(leak: str) -> str:
    evacuated = "Deep_bar,High_bar,Plan_from,Supply_ppm"
    return f"GAS_EVACUATE_RESIDUAL({evacuated},{leak},Space,Hold/60,0.2095)"


def _deep_gas(unit: str) -> str:
    return f"GAS_BACKFILL(Plan_gas,Space,Deep_bar,High_bar,{WARM},,,,{unit})"


def _swept_left(mixing: str) -> str:
    return f"GAS_SWEEP_RESIDUAL(Changes,Plan_from,Supply_ppm,{mixing})"


def _swept_gas(unit: str) -> str:
    return f"GAS_SWEEP_USE(Plan_gas,Space,Sweep_bar,{WARM},Changes,{unit})"


BEHIND_PLAN = Block(
    "The plan, in the background",
    (
        Row(
            "Plan_row",
            "Row of the vessel on Vessels",
            version_of("Vessels", "Plan_vessel", "Report_day"),
            "count",
        ),
        Row("Space", "Free volume, m3", "{Plan_volume as m3}", "number"),
        Row("Low_bar", "Vented to", "{Plan_low as bar(a)}", "site"),
        Row("High_bar", "Filled to", "{Plan_high as bar(a)}", "site"),
        Row("Deep_bar", "Evacuated to", "{Deep as bar(a)}", "site", number="rate"),
        Row("Sweep_bar", "Swept at", "{Sweep_pressure as bar(a)}", "site"),
        Row("Mixing_likely", "Likely mixing", "(Mixing_worst+Mixing_best)/2", "number"),
        Row(
            "Plan_check",
            "Do the inputs go together?",
            f'IF({GIVEN}<6,"a number is missing",GAS_CHECK("GAS_VENT_FILL_COUNT",{SWING},Wanted,'
            "Supply_ppm,Mixing_worst))",
        ),
        Row("Left_before", "Left by one cycle less", _left("Needed-1", "Mixing_worst"), "ppm"),
        Row(
            "Cycles_step",
            "Cycles from row to row of the course",
            "MAX(1,ROUNDUP(MAX(IFERROR(N(Needed),0),Planned)/10,0))",
            "count",
        ),
        Row("Changes", "Volume changes of sweeping", CHANGES, "number", number="one"),
        Row("Deep_left", "Left by one deep evacuation", _deep_left("{Leak as mbar L/s}"), "ppm"),
        Row("Deep_most", "at most", _deep_left("{Leak_most as mbar L/s}"), "ppm"),
        Row("Deep_gas", "Gas of it", _deep_gas("{unit amount}"), "amount"),
        Row("Deep_fill", "Time to fill", _deep_gas('"Nm3"') + PER_HOUR, "hours"),
        Row(
            "Deep_hours",
            "Time of it",
            "GAS_PUMPDOWN_TIME(Space,{Pumping as m3/h},Site_bar,Deep_bar,{Leak as mbar L/s})"
            "+(Hold+Handling)/60+Deep_fill",
            "hours",
        ),
        Row("Swept_left", "Left by sweeping", _swept_left("Mixing_likely"), "ppm"),
        Row("Swept_most", "at most", _swept_left("Mixing_worst"), "ppm"),
        Row("Swept_gas", "Gas of it", _swept_gas("{unit amount}"), "amount"),
        Row("Swept_hours", "Time of it", _swept_gas('"Nm3"') + PER_HOUR, "hours"),
    ),
)

PLAN_PROBLEM = Sentence(
    "Plan_problem",
    (
        Case("NOT(ISNUMBER(Space))", "{Plan_vessel} is not on Vessels, or its row is wrong"),
        Case(f"{GIVEN}<6", "a number is missing"),
        Case(
            "Low_bar>=High_bar",
            "the pressure it is vented to is not below the one it is filled to: swap the two",
        ),
        Case(
            "Wanted<=Supply_ppm",
            "the oxygen wanted is not above that of the supply: take a purer gas",
        ),
        Case(
            f'AND(Emptied_by="{VALVE}",Low_bar<0.99*Site_bar)',
            "a vent valve does not get below the pressure of the air: raise it, or take the pump",
        ),
        Case('Plan_check<>"ok"', "{Plan_check}"),
        Case(
            "NOT(ISNUMBER(Left_most))",
            "the two pressures are too near to each other for how closely they are kept",
        ),
        Case("", ""),
    ),
)

TOLERANCES = Table(
    "Tolerances",
    (
        made("Of", "text", f"CHOOSE({{row}},{ARGUMENTS})", width=24),
        made(
            "Told",
            "text",
            'CHOOSE({row},"",{Kept},{Kept},"","","±"&(Mixing_best-Mixing_worst)/2)',
            width=24,
        ),
        helper("Kept", '"±"&Kept_within&" % of reading"', "text"),
    ),
    heading="How closely the planned purge is known",
    rows=6,
)

COURSE = Table(
    "Course",
    (
        made("Cycles", "count", "({row}-1)*Cycles_step"),
        made("Oxygen left", "ppm", _left("{Cycles}")),
        made("At worst mixing", "ppm", _left("{Cycles}", "Mixing_worst")),
        made("Wanted", "ppm", "IF(ISNUMBER(Wanted),Wanted,NA())"),
        made("Supply", "ppm", "IF(Supply_ppm>0,Supply_ppm,NA())"),
        made("Gas used", "amount", _gas("{Cycles}"), number="one"),
        made("Time", "hours", "{Cycles}*Cycle_hours", number="two"),
        made("Cost", "money", f"{{Gas used}}*{PRICE}"),
    ),
    heading="What is left after each cycle",
    rows=STEPS,
)

COURSE_CHART = Chart(
    "scatter",
    "Oxygen left after each cycle, ppm",
    "Cycles",
    "Oxygen, ppm",
    "Oxygen left after each cycle at the likely and at the worst mixing, on a logarithmic axis, "
    "with what is wanted and what the supply itself has as lines.",
    (
        Series("Likely mixing", "Course.Oxygen left", "Course.Cycles"),
        Series("Worst mixing", "Course.At worst mixing", "Course.Cycles", dots=False),
        Series("Wanted", "Course.Wanted", "Course.Cycles", limit=True),
        Series("Supply", "Course.Supply", "Course.Cycles", dots=False),
    ),
    x={"min": 0, "num_format": "0"},
    y={"log_base": 10, "crossing": "min", "num_format": "General"},
)


def _of_way(*names: str) -> str:
    return f"CHOOSE({{row}},{','.join(names)})"


METHODS = Table(
    "Methods",
    (
        made(
            "Method",
            "text",
            _of_way('"Vent and fill"', '"One deep evacuation"', '"Sweeping"'),
            width=26,
        ),
        made("Cycles or changes", "number", _of_way("Needed", "1", "Changes"), number="one"),
        made("Oxygen left", "ppm", _of_way("Left_needed", "Deep_left", "Swept_left")),
        made("at most", "ppm", _of_way("Left_worst", "Deep_most", "Swept_most")),
        made("Gas", "amount", _of_way("Gas_needed", "Deep_gas", "Swept_gas"), number="one"),
        made("Time", "hours", _of_way("Hours_needed", "Deep_hours", "Swept_hours"), number="two"),
        made("Cost", "money", f"{{Gas}}*{PRICE}"),
        made(
            "Reaches it",
            "text",
            conforms("{Oxygen left}", f"({{at most}}-{{Oxygen left}})/{NORMAL}", "Wanted"),
        ),
    ),
    heading="The same vessel, gas and target by three methods",
    rows=3,
)

METHODS_CHART = Chart(
    "column",
    "Gas used by each method, {unit amount}",
    "Method",
    "{unit amount}",
    "Gas that vent and fill, one deep evacuation and sweeping use for the same vessel and target.",
    (Series("Gas", "Methods.Gas", "Methods.Method"),),
    y={"num_format": "0", "min": 0},
    rows=16,
)
