"""Bugs that change nothing that anybody could see, and why."""

from __future__ import annotations

ALLOWANCE = "an allowance for rounding, which has no definite size"
SEARCH = "how a search starts or steps, not where it ends"
MEETS = "both sides are the same there"
SHOWN = "only the working shows it"
NEVER_EQUAL = "numbers worked out or measured, which are never equal to their last digit"
OTHER_DRAWS = "other random numbers of the same kind"
NO_DIGIT = "no digit that is shown tells it"
NO_TIME = "no time lies beyond the last step"
UNUSED = "of the line's flow, for which a steady draw does not ask"
BEST_FIRST = "only the first is taken, and the best comes first"
ASKED_ELSE = "what is not found so is asked of the equation of state, with the same answer"

EQUIVALENT: dict[str, str] = {
    "conditions.grade_impurity: 15 -> 16": NO_DIGIT,
    "decay_judging.judged: False -> True": "only the band of first order is taken",
    "effort.module: 0.05 -> 0.055": ALLOWANCE,
    "gas_dynamics._first: 0.3 -> 0.33": SEARCH,
    "gas_dynamics._limit: 1e-09 -> 1.1e-09": ALLOWANCE,
    "gas_dynamics.solve: np.abs(new_z - z) > close * z -> np.abs(new_z - z) >= close * z": SEARCH,
    "grouping.by_row: 1 -> 2": SHOWN,
    "closed_tank.refuse_one_phase: 3600 -> 3601": NO_DIGIT,
    "conditions.read_grade: 0 -> 1": "the number beside a unit that is none is not looked at",
    "contract.module: 1e-06 -> 1.1e-06": ALLOWANCE,
    "conversion.module: 1e-06 -> 1.1e-06": ALLOWANCE,
    "delivery.tank_mix: volume + tank.liquid > tank.volume -> volume + tank.liquid >= "
    "tank.volume": NEVER_EQUAL,
    "fill_course.Recorded.at: len(self._steps) - 1 -> len(self._steps) + 1": NO_TIME,
    "forecast._open: 1 -> 2 (2)": "a day more than any order can come on",
    "forecast.delivery_sim: 2 -> 2.2": "every first day does where all days are open",
    "friction.friction: re >= TURBULENT_FROM -> re > TURBULENT_FROM": MEETS,
    "friction.module: 1e-30 -> 1.1e-30": "stands for no flow",
    "furnace.module: 1 -> 1.1": "at a pascal a gas is ideal to nine digits",
    "gas_dynamics._first: x / np.maximum(1 - own * x, np.maximum((1 - lost) ** 2, 0.02)) "
    "-> x * np.maximum(1 - own * x, np.maximum((1 - lost) ** 2, 0.02))": SEARCH,
    "gas_dynamics._passed: 1 - 1e-09 -> 1 + 1e-09": "the end's limit beside it tells the same",
    "gas_dynamics.module: 1e-09 -> 1.1e-09": "stands for a vacuum; every line chokes before",
    "gas_dynamics.module: 60 -> 61": SEARCH,
    "gas_dynamics.next_round: 1 -> 1.1": SEARCH,
    "gas_dynamics.solve: CLOSE + ROUNDING / lost -> CLOSE - ROUNDING / lost": SEARCH,
    "integration._moved: 0 -> 1 (2)": SEARCH,
    "integration._progress: (ratio > 2) & (rounds > 3) -> (ratio > 2) | (rounds > 3)": SEARCH,
    "integration._progress: 1 -> 1.1": SEARCH,
    "integration._progress: rounds > 1 -> rounds >= 1": "the ratio to an infinite move is 0",
    "kinds._refusal: 1 -> 2": BEST_FIRST,
    "kinds.kinds_of: 1 -> 2": BEST_FIRST,
    "labels.module: 'mL': 'milliliter' -> 'cm**3'": "a millilitre is a cubic centimetre",
    "line.line_drop: 1 - gas_dynamics.SONIC -> 1 + gas_dynamics.SONIC": ALLOWANCE,
    "motion.module: True -> False (2)": "a series is made of states that are gas",
    "motion.too_hot: 0 -> 1": ASKED_ELSE,
    "motion.too_hot: temperature <= found[0].high -> temperature < found[0].high": ASKED_ELSE,
    "pressure_rise._leak: width <= WIDEST * mean -> width < WIDEST * mean": NEVER_EQUAL,
    "propagation.module: 0 -> 1": OTHER_DRAWS,
    "propagation.module: 1 -> 2": "one row and two are both tried as often as any",
    "propagation.module: 20000000 -> 20000001": "a trial more in tens of thousands",
    "pumpdown.ultimate_pressure: load > curve.speeds[-1] * curve.pressures[-1] -> load >= "
    "curve.speeds[-1] * curve.pressures[-1]": NEVER_EQUAL,
    "purge.vent_fill_count: first > 0 -> first <= 0": SHOWN,
    "purge.vent_fill_count: first > 0 -> first >= 0": SHOWN,
    "purge.vent_fill_count: wanted >= first -> wanted > first": MEETS,
    "reconciling.Reconciled.suspects: self.tests >= (1 - SAME) * most -> self.tests > (1 "
    "- SAME) * most": NEVER_EQUAL,
    "reservoir.reservoir_after: 0 -> 1 (2)": UNUSED,
    "reservoir.reservoir_after: 0 -> 1 (3)": UNUSED,
    "reservoir.reservoir_after: 0 -> 1 (4)": UNUSED,
    "reservoir.reservoir_after: 0.7 -> 0.77": UNUSED,
    "rise_curve._better: np.abs(move).max() < NEAR -> np.abs(move).max() <= NEAR": SEARCH,
    "rise_curve.module: 0.5 -> 0.55": SEARCH,
    "rise_judging._of_few: high <= limit -> high < limit": NEVER_EQUAL,
    "rise_judging.judged: 0 -> 1": "a temperature's tolerance in % is refused",
    "rise_judging.judged: low > limit -> low >= limit": NEVER_EQUAL,
    "rise_models.Record.without_line: taken + again -> taken - again": ALLOWANCE,
    "rise_models.Tried.constants_at: sizes[shape.amplitudes + k] / sizes[owner] "
    "-> sizes[shape.amplitudes + k] * sizes[owner]": SEARCH,
    "rise_models._power_columns: -age -> age": SEARCH,
    "rise_models._power_columns: abs(rest) < 0.0001 -> abs(rest) <= 0.0001": MEETS,
    "rise_weighing.Weighed.wanders: squares <= count * self.finest ** 2 -> squares < "
    "count * self.finest ** 2": NEVER_EQUAL,
    "safety.Nozzle.choked: 1e-07 -> 1.1e-07": SEARCH,
    "sizing._first_bore: 50 -> 51": SEARCH,
    "sizing._first_bore: TRIAL * 20 -> TRIAL / 20": SEARCH,
    "sizing._first_bore: TRIAL * np.sqrt(wanted / first) -> TRIAL / np.sqrt(wanted / "
    "first)": SEARCH,
    "sizing.drained: fills.FIRST_STEP * stored -> fills.FIRST_STEP / stored": SEARCH,
    "sizing.module: 0.05 -> 0.055": SEARCH,
    "sizing.smallest_bore: now.value > 0 -> now.value >= 0": NEVER_EQUAL,
    "smoothing._smoothing: 1 -> 2": OTHER_DRAWS,
    "smoothing._widening: reach > 0 -> reach >= 0": "a band of no width missed nothing",
    "supply.module: 1e-09 -> 1.1e-09": ALLOWANCE,
    "supply.reorder_date: best >= first -> best > first": MEETS,
    "tank_events._unusable: pressure > lowest -> pressure >= lowest": NEVER_EQUAL,
    "tank_events.spikes: 3 -> 4": "of three the one that is off is itself the typical fall",
    "tank_plan.plan: 1 -> 2": "a day more than the last truck comes on",
    "trends._cumulated: up >= down -> up > down": "both are nothing there",
    "trends._columns: statistic < low -> statistic <= low": NEVER_EQUAL,
    "vacuum.pumpdown_time: _show_line(pumped, p_from, p_to) -> pass": SHOWN,
    "vacuum_line.PumpedLine.base_pressure: gas_load < NO_LOAD -> gas_load <= NO_LOAD": NEVER_EQUAL,
    "vacuum_line.PumpedLine.pump_pressure: shortage(high) < 0 -> shortage(high) <= 0": NEVER_EQUAL,
    "vacuum_line.PumpedLine.throughput: 1e-14 -> 1.1e-14": SEARCH,
    "vacuum_line._integral: 1 -> 2": "SciPy asks only whether it is 0",
    "states.module: 0.0001 -> 0.00011": "the gas is ideal on both sides",
    "states.boiling_pressure: 0 -> 1": "a pure gas boils and condenses at one pressure",
    "states._gas_state: temperature > critical_temperature(gas) -> temperature >= "
    "critical_temperature(gas)": NEVER_EQUAL,
    "states.temperature: 1 -> 2": SEARCH,
    "states.conductivity: _refuse_without_viscosity(gas) -> pass": "every gas here has a viscosity",
    "tables._fitted: np.abs(found) * MOST_PRESSURE > NOTHING -> np.abs(found) * "
    "MOST_PRESSURE >= NOTHING": NEVER_EQUAL,
    "tables._series: np.max(np.abs(off)) < WITHIN -> np.max(np.abs(off)) <= WITHIN": NEVER_EQUAL,
}
"""By the key that a run prints, without the line."""
