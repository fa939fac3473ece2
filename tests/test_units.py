"""Every unit label against factors that the library does not use: SciPy's constants and standards.

SciPy's constants are CODATA's and NIST SP 811's; what it lacks is an exact definition of the
international yard and pound (1959), of BS 350 or of the calorie, told beside it. A label without an
expectation fails.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping

import pytest
from scipy import constants as c

from gasfuncs.errors import UnitError, UnreadableError
from gasfuncs.units import factors, kinds, labels, split_goods
from gasfuncs.units.kinds import (
    AMOUNT,
    AREA,
    DENSITY,
    FLOW,
    FLOW_COEFFICIENT,
    FRACTION,
    GAUGE_PRESSURE,
    HEAT_CONDUCTANCE,
    LEAK,
    LENGTH,
    LIQUID,
    LIQUID_FLOW,
    MASS,
    MASS_FLOW,
    MOISTURE,
    PERMEABILITY,
    POWER,
    PRESSURE,
    PRESSURE_DIFFERENCE,
    RISE_RATE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    VOLUME,
    VOLUME_FLOW,
    Kind,
    fold,
    kinds_of,
)
from gasfuncs.units.numbers import read_number, shown, split_quantity

POUND, FOOT, INCH = 0.45359237, 0.3048, 0.0254
"""International yard and pound agreement, 1959: exact."""
US_GALLON = 231 * INCH**3
"""NIST Handbook 44, appendix C: 231 cubic inches."""
UK_GALLON = 4.54609e-3
"""Units of Measurement Regulations 1995 (UK): exact."""
INCH_OF_WATER = 249.08891
"""NIST SP 811 table B.9, "inch of water, conventional", gives 249.0889 Pa."""

PERMEATED = 1e-4 * c.atm / (c.R * 273.15)
"""mol/(m s Pa) of 1 cm³ at 0 °C and 1 atm through 1 cm of 1 cm² in 1 s by 1 Pa."""

EXPECTED: dict[Kind, Mapping[str, float]] = {
    PRESSURE_DIFFERENCE: {
        "bar": c.bar,
        "mbar": c.bar / 1000,
        "ubar": c.bar / 1e6,
        "Pa": 1,
        "hPa": 100,
        "kPa": 1000,
        "MPa": 1e6,
        "psi": c.psi,
        "atm": c.atm,
        "torr": c.torr,
        "mtorr": c.torr / 1000,
        "micron": c.torr / 1000,
        "mmHg": c.mmHg,
        "inHg": 25.4 * c.mmHg,
        "inH2O": INCH_OF_WATER,
        "mmH2O": c.g,
        "kgf/cm2": c.g * 1e4,
    },
    VOLUME: {
        "m3": 1,
        "L": c.liter,
        "mL": 1e-6,
        "cm3": 1e-6,
        "ft3": FOOT**3,
        "in3": INCH**3,
        "gal": US_GALLON,
        "gal(UK)": UK_GALLON,
        "ccf": 100 * FOOT**3,
    },
    MASS: {
        "kg": 1,
        "g": 1e-3,
        "t": c.metric_ton,
        "lb": POUND,
        "oz": POUND / 16,
        "ton(US)": c.short_ton,
        "ton(UK)": c.long_ton,
    },
    TIME: {
        "s": 1,
        "min": c.minute,
        "h": c.hour,
        "d": c.day,
        "wk": c.week,
        "month": c.Julian_year / 12,
        "yr": c.Julian_year,
    },
    TEMPERATURE_DIFFERENCE: {"K": 1, "degC": 1, "degF": 5 / 9, "degR": 5 / 9},
    LENGTH: {
        "m": 1,
        "cm": c.centi,
        "mm": c.milli,
        "um": c.micron,
        "in": c.inch,
        "ft": c.foot,
        "yd": c.yard,
    },
    AREA: {"mm2": 1e-6, "cm2": 1e-4, "m2": 1, "in2": INCH**2, "ft2": FOOT**2},
    POWER: {
        "kW": 1e3,
        "W": 1,
        "MW": 1e6,
        "Btu/h": c.Btu_IT / 3600,
        "kcal/h": c.calorie_th * 1000 / 3600,
        "hp": c.hp,
    },
    HEAT_CONDUCTANCE: {"W/K": 1, "kW/K": 1e3, "Btu/(h degF)": c.Btu_IT / 3600 * 1.8},
    DENSITY: {
        "kg/m3": 1,
        "g/m3": 1e-3,
        "mg/m3": 1e-6,
        "g/L": 1,
        "kg/L": 1e3,
        "g/cm3": 1e3,
        "lb/ft3": POUND / FOOT**3,
        "lb/gal": POUND / US_GALLON,
    },
    FRACTION: {"1": 1, "%": 1e-2, "ppm": 1e-6, "ppb": 1e-9},
    PERMEABILITY: {
        "barrer": 1e-10 * PERMEATED / (10 * c.mmHg),
        "cm3 cm/(cm2 s Pa)": PERMEATED,
        "cm3 cm/(cm2 s cmHg)": PERMEATED / (10 * c.mmHg),
        "cm3 mm/(m2 d bar)": PERMEATED * 1e-5 / c.day / c.bar,
        "cm3 mm/(m2 d atm)": PERMEATED * 1e-5 / c.day / c.atm,
        "cm3 mil/(100 in2 d atm)": PERMEATED
        * (0.1 * INCH / (100 * INCH**2))
        * 1e-4
        / c.day
        / c.atm,
        "mol/(m s Pa)": 1,
    },
    FLOW_COEFFICIENT: {"Kv": 1, "Cv": 0.865},
}
WITHIN = {"mmHg": 1e-6, "inHg": 2e-6, "inH2O": 1e-6} | {
    label: 1e-6 if label == "barrer" or "cmHg" in label else 1e-10
    for label in labels.STANDARD_PERMEABILITIES
}
"""mmHg and inHg: 13,595.1 kg/m3 of one source, 13,595.0889 of another; inH2O: seven digits; the
gas constant of permeabilities: ten digits."""


@pytest.mark.parametrize(
    ("kind", "label"),
    [(kind, label) for kind in EXPECTED for label in kind.labels()],
    ids=lambda value: getattr(value, "name", value),
)
def test_a_factor(kind: Kind, label: str) -> None:
    expected = EXPECTED[kind][label]
    assert kind.unit(label).scale == pytest.approx(expected, rel=WITHIN.get(label, 1e-12), abs=0)


@pytest.mark.parametrize("label", labels.PRESSURES)
def test_a_pressure_is_absolute_gauge_or_vacuum(label: str) -> None:
    step = EXPECTED[PRESSURE_DIFFERENCE][label]
    for suffix, scale, zero in (("(a)", 1, 0), ("(g)", 1, c.atm), ("(vac)", -1, c.atm)):
        unit = PRESSURE.unit(label + suffix)
        assert unit.scale == pytest.approx(scale * step, rel=WITHIN.get(label, 1e-12))
        assert unit.zero == zero


@pytest.mark.parametrize(
    ("label", "cubic_metres", "kelvins", "pascals"),
    [
        ("Nm3", 1, 273.15, c.atm),
        ("NL", 1e-3, 273.15, c.atm),
        ("std cc", 1e-6, 273.15, c.atm),
        ("Sm3", 1, 288.15, c.atm),
        ("m3(15C,1bar)", 1, 288.15, c.bar),
        ("scf", FOOT**3, c.convert_temperature(70, "F", "K"), 14.696 * c.psi),
        ("kscf", 1000 * FOOT**3, c.convert_temperature(70, "F", "K"), 14.696 * c.psi),
        ("scf(60F)", FOOT**3, c.convert_temperature(60, "F", "K"), 14.696 * c.psi),
    ],
)
def test_a_gas_volume_and_its_reference(
    label: str, cubic_metres: float, kelvins: float, pascals: float
) -> None:
    unit = AMOUNT.unit(label)
    assert unit.reference
    assert unit.scale == pytest.approx(cubic_metres, rel=1e-12)
    assert unit.reference.temperature == pytest.approx(kelvins, rel=1e-12)
    assert unit.reference.pressure == pytest.approx(pascals, rel=1e-12)


def test_the_factors_that_are_kept_are_those_of_pint() -> None:
    kept = json.loads(factors.KEPT.read_text(encoding="utf-8"))
    made = kinds.worked_out_factors()
    assert list(kept) == list(made), "run: gasfuncs build factors gasfuncs/units/factors.json"
    for si, by_expression in made.items():
        assert kept[si] == pytest.approx(by_expression, rel=2e-14)  # their 15th digit


def test_a_unit_that_is_not_kept_is_worked_out() -> None:
    assert factors.factor("3 * nautical_mile", "m") == pytest.approx(3 * c.nautical_mile)


def test_every_gas_volume_is_held_to_its_reference() -> None:
    held = {"Nm3", "NL", "std cc", "Sm3", "m3(15C,1bar)", "scf", "kscf", "scf(60F)"}
    assert set(labels.GAS_VOLUMES) == held


@pytest.mark.parametrize(
    ("label", "mol"), [("mol", 1), ("mmol", 1e-3), ("kmol", 1e3), ("lbmol", POUND * 1000)]
)
def test_moles(label: str, mol: float) -> None:
    assert AMOUNT.unit(label).scale == pytest.approx(mol, rel=1e-12)


@pytest.mark.parametrize(
    ("label", "name"), [("degC", "C"), ("degF", "F"), ("degR", "R"), ("K", "K")]
)
@pytest.mark.parametrize("number", [-40.0, 0.0, 70.0])
def test_a_temperature(label: str, name: str, number: float) -> None:
    unit = TEMPERATURE.unit(label)
    expected = c.convert_temperature(number, name, "K")
    assert unit.scale * number + unit.zero == pytest.approx(expected, rel=1e-12)


_GAS = c.R * 293.15
LEAKS = {
    "mbar L": 0.1, "Pa m3": 1, "Pa L": 1e-3, "torr L": c.torr * 1e-3,
    "micron L": c.torr * 1e-6, "micron ft3": c.torr / 1000 * FOOT**3, "atm cc": c.atm * 1e-6,
    "bar L": 100, "std cc": c.atm * 1e-6 * 293.15 / 273.15, "mol": _GAS, "mmol": _GAS / 1000,
    "kmol": _GAS * 1000, "lbmol": _GAS * POUND * 1000,
}  # fmt: skip


@pytest.mark.parametrize("label", LEAK.labels())
def test_a_leak_rate(label: str) -> None:
    """Pa m3/s; an amount is read at 20 °C as the trade's detectors are."""
    if label == "lusec":
        expected = c.torr / 1000 * c.liter
    else:
        product, _, time = label.rpartition("/")
        expected = LEAKS[product] / EXPECTED[TIME][time]
    assert LEAK.unit(label).scale == pytest.approx(expected, rel=1e-9)


def test_a_liquid_has_the_volumes_factors() -> None:
    for label, scale in EXPECTED[VOLUME].items():
        if label in labels.HUNDREDS:
            continue
        for text in (label, f"{label}(liq)"):
            assert LIQUID.unit(text).scale == pytest.approx(scale, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["1.500 L", "1.500L", "5.500 kg", "12.275 Nm3", "-3.000 gal", "1.500"]
)
def test_a_point_before_three_digits_of_goods_is_asked_about(text: str) -> None:
    with pytest.raises(UnreadableError, match="could be either mark"):
        split_goods(text)


@pytest.mark.parametrize(
    ("read", "text", "both"),
    [(split_goods, "1.500 L", "1500 or 1.5"), (split_goods, "1.250 L", "1250 or 1.25"),
     (split_goods, "1.275 L", "1275 or 1.2750"), (split_quantity, "1,275 kg", "1275 or 1.2750"),
     (split_quantity, "12,000 kg", "12000 or 12")],
)  # fmt: skip
def test_both_readings_are_told_so_that_they_are_plain(
    read: Callable[[str], object], text: str, both: str
) -> None:
    with pytest.raises(UnreadableError, match=f"could be either mark; write {both}$"):
        read(text)
    for reading in both.split(" or "):
        assert split_quantity(reading)[0] == float(reading)


def test_every_kind_says_what_its_si_unit_is() -> None:
    """The unit is one of the kind's own or of SI, and pressures say what they are measured from."""
    assert PRESSURE.si_label == "Pa(a)"
    assert (MASS.si_label, LENGTH.si_label, TEMPERATURE.si_label) == ("kg", "m", "K")
    assert (VOLUME.si_label, DENSITY.si_label) == ("m³", "kg/m³")


@pytest.mark.parametrize(
    ("text", "number"),
    [("1.50 L", 1.5), ("1.5000 L", 1.5), ("0.500 L", 0.5), ("1500.000 L", 1500),
     ("1.500e3 L", 1500), ("1.500,5 L", 1500.5), ("1.500.000 L", 1.5e6)],
)  # fmt: skip
def test_a_point_that_can_be_read_in_one_way(text: str, number: float) -> None:
    assert split_goods(text) == (number, "L")


RATES = {VOLUME_FLOW: VOLUME, MASS_FLOW: MASS, LIQUID_FLOW: VOLUME, RISE_RATE: PRESSURE_DIFFERENCE}


@pytest.mark.parametrize("kind", RATES, ids=lambda kind: kind.name)
def test_a_rate_is_its_step_over_its_time(kind: Kind) -> None:
    for label in kind.labels():
        step, _, time = label.rpartition("/")
        expected = EXPECTED[RATES[kind]][step.removesuffix("(liq)")] / EXPECTED[TIME][time]
        assert kind.unit(label).scale == pytest.approx(expected, rel=WITHIN.get(step, 1e-12))


SPELLED: dict[Kind, dict[str, float]] = {
    VOLUME: {
        "l": 1e-3, "liter": 1e-3, "liters": 1e-3, "litre": 1e-3, "litres": 1e-3, "dm3": 1e-3,
        "ml": 1e-6, "cc": 1e-6, "cf": FOOT**3, "cu ft": FOOT**3, "cubic feet": FOOT**3,
        "gallon": US_GALLON, "gallons": US_GALLON, "gal(US)": US_GALLON, "US gal": US_GALLON,
        "gal UK": UK_GALLON, "imp gal": UK_GALLON,
    },
    MASS: {
        "lbs": POUND, "tonne": 1e3, "tonnes": 1e3, "ton": c.short_ton, "tons": c.short_ton,
        "short ton": c.short_ton, "long ton": c.long_ton,
    },
    TIME: {
        "sec": 1, "second": 1, "seconds": 1, "minute": 60, "minutes": 60, "hr": 3600, "hrs": 3600,
        "hour": 3600, "hours": 3600, "day": c.day, "days": c.day, "week": c.week, "weeks": c.week,
        "months": c.Julian_year / 12, "a": c.Julian_year, "y": c.Julian_year,
        "year": c.Julian_year, "years": c.Julian_year,
    },
    LENGTH: {"inch": INCH, "inches": INCH, "foot": FOOT, "feet": FOOT, "metre": 1, "meter": 1},
    AREA: {"sq mm": 1e-6, "sq in": INCH**2},
    FRACTION: {
        "percent": 1e-2, "ppmv": 1e-6, "ppm(v)": 1e-6, "vpm": 1e-6, "ppbv": 1e-9, "fraction": 1,
        "mol/mol": 1,
    },
    MOISTURE: {
        "ppmw": 1e-6, "ppm(w)": 1e-6, "ppmm": 1e-6, "mg/kg": 1e-6,
        "lb/MMcf": POUND / (1e6 * FOOT**3), "g/Nm3": 1e-3, "mg/Nm3": 1e-6, "g/kg": 1e-3,
        "lb/MMscf": POUND / (1e6 * FOOT**3),
    },
    PRESSURE_DIFFERENCE: {
        "millitorr": c.torr / 1000, "microns": c.torr / 1000, "umHg": c.torr / 1000,
        "in WC": INCH_OF_WATER, "in WG": INCH_OF_WATER, "mm WC": c.g, "kg/cm2": c.g * 1e4,
        "psid": c.psi,
    },
    PRESSURE: {"kg/cm2(g)": c.g * 1e4, "kg/cm2(a)": c.g * 1e4, "psia": c.psi, "psi gauge": c.psi},
    VOLUME_FLOW: {
        "cfm": FOOT**3 / 60, "acfm": FOOT**3 / 60, "cfh": FOOT**3 / 3600, "acfh": FOOT**3 / 3600,
        "lpm": 1e-3 / 60, "lps": 1e-3, "cmh": 1 / 3600, "gpm": US_GALLON / 60,
        "gph": US_GALLON / 3600, "litres/h": 1e-3 / 3600, "m3/hour": 1 / 3600, "cc/min": 1e-6 / 60,
        "cubic feet/day": FOOT**3 / c.day,
    },
    POWER: {"Btuh": c.Btu_IT / 3600, "Btu/hr": c.Btu_IT / 3600},
}  # fmt: skip
"""Other spellings by what they are, from the constants above."""


@pytest.mark.parametrize(
    ("kind", "text"), [(kind, text) for kind in SPELLED for text in SPELLED[kind]],
    ids=lambda value: getattr(value, "name", value),
)  # fmt: skip
def test_another_spelling(kind: Kind, text: str) -> None:
    expected = SPELLED[kind][text]
    assert kind.unit(text).scale == pytest.approx(expected, rel=1e-6)


GAS_SPELLED: dict[str, tuple[str, float]] = {
    "normal m3": ("Nm3", 1), "m3(n)": ("Nm3", 1), "m3n": ("Nm3", 1), "nl": ("NL", 1e-3),
    "l(n)": ("NL", 1e-3), "sl": ("NL", 1e-3), "scc": ("std cc", 1e-6), "std cm3": ("std cc", 1e-6),
    "m3(s)": ("Sm3", 1), "m3(15 °C, 1 bar)": ("m3(15C,1bar)", 1), "scf(70F)": ("scf", FOOT**3),
    "std ft3": ("scf", FOOT**3), "Mscf": ("kscf", 1000 * FOOT**3), "scfh": ("scf", FOOT**3 / 3600),
    "scfm": ("scf", FOOT**3 / 60), "scfd": ("scf", FOOT**3 / c.day), "slm": ("NL", 1e-3 / 60),
    "slpm": ("NL", 1e-3 / 60), "nlpm": ("NL", 1e-3 / 60), "sccm": ("std cc", 1e-6 / 60),
    "sccs": ("std cc", 1e-6),
}  # fmt: skip
"""What has the reference condition of the first, and so many m³ or m³/s."""


@pytest.mark.parametrize("text", GAS_SPELLED)
def test_another_spelling_of_a_gas_volume(text: str) -> None:
    label, scale = GAS_SPELLED[text]
    unit = (AMOUNT if AMOUNT.has(text) else FLOW).unit(text)
    assert unit.scale == pytest.approx(scale, rel=1e-12)
    assert unit.reference == AMOUNT.unit(label).reference


def test_every_other_spelling_is_held() -> None:
    held = {text for texts in SPELLED.values() for text in texts} | set(GAS_SPELLED)
    assert {*labels.SAME_AS, *labels.SHORT_RATES} <= {
        fold(text).lower() for text in {*held, *TEMPERATURE_SPELLED}
    }


def test_the_gas_that_moisture_is_in() -> None:
    """A mass in a volume of gas at 0 °C or 60 °F, or in a mass of it."""
    for text, kelvins in (("g/Nm3", 273.15), ("mg/Nm3", 273.15), ("lb/MMscf", 288.70555555556)):
        unit = MOISTURE.unit(text)
        assert unit.reference
        assert unit.reference.temperature == pytest.approx(kelvins)
        assert unit.water_mass
    assert (MOISTURE.unit("g/kg").water_mass, MOISTURE.unit("g/kg").reference) == (True, None)
    assert not MOISTURE.unit("ppm").water_mass


@pytest.mark.parametrize("text", ["mPa(a)", "Mbar(a)", "mPA(a)"])
def test_a_prefix_is_not_guessed(text: str) -> None:
    """SI brochure, table 7: m is a thousandth, M a million."""
    assert not PRESSURE.has(text)


@pytest.mark.parametrize("text", ["MPA(A)", "mbar(A)", "MBAR(A)", "KPA(a)"])
def test_letters_of_one_case_have_the_usual_prefix(text: str) -> None:
    usual = {"mpa": 1e6, "mbar": 100, "kpa": 1e3}[text.lower()[:-3]]
    assert PRESSURE.unit(text).scale == pytest.approx(usual)


LONG = "1" * 2_000 + " kg"


@pytest.mark.parametrize("read", [split_quantity, kinds_of, MASS.unit])
def test_what_is_too_long_is_not_looked_through(read: Callable[[str], object]) -> None:
    with pytest.raises(UnreadableError, match="2003 characters long; write a"):
        read(LONG)


def test_two_hundred_characters_are_read() -> None:
    text = "7" + "x" * 199
    assert split_quantity(text) == (7, "x" * 199)
    with pytest.raises(UnreadableError, match="201 characters long"):
        split_quantity(text + "x")


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.1 + 0.2, "0.3"), (True, "True"), ("two\x07words", "two words"), ("äöü", "äöü"),
     ("x" * 80, "x" * 80), ("x" * 81, "x" * 80 + "..."), (10**5000, "a value of type int")],
    ids=range(7),
)  # fmt: skip
def test_a_value_is_shown_short_and_printable(value: object, text: str) -> None:
    assert shown(value) == text


TEMPERATURE_SPELLED: dict[str, tuple[float, float]] = {
    "celsius": (273.15, 1), "fahrenheit": (459.67 * 5 / 9, 5 / 9), "kelvin": (0, 1),
    "rankine": (0, 5 / 9), "C": (273.15, 1), "F": (459.67 * 5 / 9, 5 / 9), "R": (0, 5 / 9),
}  # fmt: skip
"""K at zero, and K of a degree."""


@pytest.mark.parametrize("text", TEMPERATURE_SPELLED)
def test_another_spelling_of_a_temperature(text: str) -> None:
    unit = TEMPERATURE.unit(text)
    assert (unit.zero, unit.scale) == pytest.approx(TEMPERATURE_SPELLED[text])


def test_a_flow_coefficient_by_its_definitions() -> None:
    """Kv in m³/h by 1 bar, Cv in US gallons a minute by 1 psi, of water (IEC 60534-1)."""
    kv = US_GALLON * 60 / (c.psi / c.bar) ** 0.5
    assert FLOW_COEFFICIENT.unit("Cv").scale == pytest.approx(kv, rel=1e-4)


@pytest.mark.parametrize("kind", [*RATES, LEAK, FLOW, GAUGE_PRESSURE], ids=lambda kind: kind.name)
def test_what_has_its_zero_at_zero(kind: Kind) -> None:
    for label in kind.labels():
        assert kind.unit(label).zero == 0 or label.endswith("(vac)")


def test_bare_units_of_vacuum_are_absolute_and_others_are_none() -> None:
    for label in labels.PRESSURES:
        assert PRESSURE.has(label) == (label in labels.ABSOLUTE_WHEN_BARE)
    assert not PRESSURE.has("bar")
    assert PRESSURE.unit("mbar").zero == 0


def test_a_gauge_pressure_has_the_atmosphere_below_it() -> None:
    for text, zero in (("kg/cm2(g)", c.atm), ("kg/cm2(a)", 0), ("psi gauge", c.atm)):
        assert PRESSURE.unit(text).zero == zero


@pytest.mark.parametrize(
    ("kind", "text", "label"),
    [(VOLUME, "m³", "m3"), (VOLUME, "ft^3", "ft3"), (VOLUME, "cu.ft.", "ft3"), (AREA, "in²", "in2"),
     (LENGTH, "μm", "um"), (LENGTH, "µm", "um"), (TEMPERATURE, "°C", "degC"),
     (PRESSURE_DIFFERENCE, "inH₂O", "inH2O"), (LEAK, "mbar·L/s", "mbar L/s"),
     (LEAK, "mbar*L/s", "mbar L/s")],
)  # fmt: skip
def test_marks_that_are_written_in_several_ways(kind: Kind, text: str, label: str) -> None:
    assert kind.unit(text).label == label


@pytest.mark.parametrize(
    ("text", "number"),
    [("-5.25", -5.25), ("+7", 7), ("-1,5", -1.5), ("-2e-3", -0.002), ("-1,234,567", -1234567)],
)
def test_signs_and_exponents(text: str, number: float) -> None:
    assert read_number(text) == number


def test_no_label_is_that_of_another_kind_in_other_letters() -> None:
    """Else a unit in capitals could be of two kinds."""
    every = {fold(label): kind for kind in kinds.all_kinds() for label in kind.labels()}
    for folded, kind in every.items():
        for other, own in every.items():
            if other.lower() == folded.lower() and other != folded:
                assert own is kind


@pytest.mark.parametrize("ask", [MASS.unit, kinds_of])
def test_a_label_that_is_near_is_offered(ask: Callable[[str], object]) -> None:
    """kgx is as near to kg as it has to be, kgxyz is not."""
    with pytest.raises(UnitError, match=r'did you mean "(kg|g/?)'):
        ask("kgx")
    with pytest.raises(UnitError) as far:
        ask("kgxyz")
    assert "did you mean" not in str(far.value)


@pytest.mark.parametrize(
    ("kind", "text", "words"),
    [
        (MASS, "m3", '"m3" is a unit of volume, not of mass; use kg, lb, t, g'),
        (TEMPERATURE_DIFFERENCE, "kg", "not of temperature difference; use K, degC, degF, degR"),
        (PRESSURE, "bar", '"bar" must say what it is measured from; write bar(a) or bar(g)'),
        (GAUGE_PRESSURE, "inHg", "write inHg(a) or inHg(g)"),
        (PRESSURE, "psid", '"psid" is a unit of pressure difference, not of absolute pressure'),
    ],
    ids=lambda value: getattr(value, "name", value),
)
def test_a_unit_of_another_kind_is_told_with_those_that_do(
    kind: Kind, text: str, words: str
) -> None:
    with pytest.raises(UnitError, match=re.escape(words)):
        kind.unit(text)
