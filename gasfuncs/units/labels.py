"""The unit labels of the trade, and what each is in pint's notation.

Plain tables: a label here is what a user may write. Spaces, dots and the degree sign are
dropped before a label is looked up, so "mbar L/s", "mbar·L/s" and "mbar*l/s" are one.
"""

from __future__ import annotations

from gasfuncs.units.reference import NORMAL, ONE_BAR, STANDARD, US_GAS, US_OIL, Reference

PRESSURES = {
    "bar": "bar",
    "mbar": "mbar",
    "ubar": "microbar",
    "Pa": "Pa",
    "hPa": "hPa",
    "kPa": "kPa",
    "MPa": "MPa",
    "psi": "psi",
    "atm": "atm",
    "torr": "torr",
    "mtorr": "millitorr",
    "micron": "millitorr",
    "mmHg": "mmHg",
    "inHg": "inHg",
    "inH2O": "inH2O",
    "mmH2O": "0.1 * cmH2O",
    "kgf/cm2": "kgf/cm**2",
}
"""Pressure units without a statement of what they are measured from."""

ABSOLUTE_WHEN_BARE = frozenset(
    {"Pa", "hPa", "kPa", "mbar", "ubar", "torr", "mtorr", "micron", "mmHg", "atm"}
)
"""Vacuum units, read as absolute; the others must say absolute or gauge."""

TEMPERATURES = {
    "degC": ("K", 273.15),
    "K": ("K", 0.0),
    "degF": ("delta_degF", 459.67 * 5 / 9),
    "degR": ("delta_degF", 0.0),
}
"""Step in pint's notation, and the kelvins at zero."""

TEMPERATURE_STEPS = {
    "K": "K", "degC": "delta_degC", "degF": "delta_degF", "degR": "delta_degF",
}  # fmt: skip

VOLUMES = {
    "m3": "m**3",
    "L": "liter",
    "mL": "milliliter",
    "cm3": "cm**3",
    "ft3": "ft**3",
    "in3": "inch**3",
    "gal": "gallon",
    "gal(UK)": "imperial_gallon",
}

HUNDREDS = {"ccf": "100 * ft**3"}
"""Volumes that no liquid is told in."""

MASSES = {
    "kg": "kg",
    "g": "g",
    "t": "tonne",
    "lb": "lb",
    "oz": "oz",
    "ton(US)": "short_ton",
    "ton(UK)": "long_ton",
}

GAS_VOLUMES: dict[str, tuple[str, Reference]] = {
    "Nm3": ("m**3", NORMAL),
    "NL": ("liter", NORMAL),
    "std cc": ("cm**3", NORMAL),
    "Sm3": ("m**3", STANDARD),
    "m3(15C,1bar)": ("m**3", ONE_BAR),
    "scf": ("ft**3", US_GAS),
    "kscf": ("1000 * ft**3", US_GAS),
    "scf(60F)": ("ft**3", US_OIL),
}
"""Amounts of gas told as the volume they fill at a reference condition."""

MOLES = {"mol": "mol", "mmol": "mmol", "kmol": "kmol", "lbmol": "453.59237 * mol"}

TIMES = {
    "s": "s",
    "min": "min",
    "h": "hour",
    "d": "day",
    "wk": "week",
    "month": "month",
    "yr": "year",
}

LENGTHS = {
    "m": "m",
    "cm": "cm",
    "mm": "mm",
    "um": "micrometer",
    "in": "inch",
    "ft": "foot",
    "yd": "yard",
}

AREAS = {"mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in2": "inch**2", "ft2": "ft**2"}

POWERS = {
    "kW": "kW",
    "W": "W",
    "MW": "MW",
    "Btu/h": "Btu_it/hour",
    "kcal/h": "kcal/hour",
    "hp": "horsepower",
}

HEAT_CONDUCTANCES = {
    "W/K": "W/delta_degC",
    "kW/K": "kW/delta_degC",
    "Btu/(h degF)": "Btu_it/hour/delta_degF",
}

DENSITIES = {
    "kg/m3": "kg/m**3",
    "g/m3": "g/m**3",
    "mg/m3": "mg/m**3",
    "g/L": "g/liter",
    "kg/L": "kg/liter",
    "g/cm3": "g/cm**3",
    "lb/ft3": "lb/ft**3",
    "lb/gal": "lb/gallon",
}

FRACTIONS = {"1": "1", "%": "0.01", "ppm": "1e-6", "ppb": "1e-9"}

WATER_PER_GAS = {
    "g/Nm3": ("g/m**3", NORMAL),
    "mg/Nm3": ("mg/m**3", NORMAL),
    "lb/MMscf": ("lb/(1e6*ft**3)", US_OIL),
}
"""Mass of water in a volume of the moist gas, told at a reference condition."""

WATER_BY_MASS = {"ppm(mass)": "1e-6", "g/kg": "1e-3"}
"""Mass of water in a mass of the moist gas."""

LEAK_PRODUCTS = {
    "mbar L": "mbar*liter",
    "Pa m3": "Pa*m**3",
    "Pa L": "Pa*liter",
    "torr L": "torr*liter",
    "micron L": "millitorr*liter",
    "micron ft3": "millitorr*ft**3",
    "atm cc": "atm*cm**3",
    "bar L": "bar*liter",
}
"""Pressure times volume; over a time it is a leak rate."""

OUTGASSING = {
    f"{product}/(s {area})": f"({expression})/(s*{label})"
    for product, expression in LEAK_PRODUCTS.items()
    for area, label in AREAS.items()
} | {"W/m2": "W/m**2", "Pa m/s": "Pa*m/s"}
"""Leak rate off a surface."""

STANDARD_PERMEABILITIES = {
    "barrer": "1e-10*cm**2/(s*cmHg)",
    "cm3 cm/(cm2 s Pa)": "cm**2/(s*Pa)",
    "cm3 cm/(cm2 s cmHg)": "cm**2/(s*cmHg)",
    "cm3 mm/(m2 d bar)": "cm**3*mm/(m**2*day*bar)",
    "cm3 mm/(m2 d atm)": "cm**3*mm/(m**2*day*atm)",
    "cm3 mil/(100 in2 d atm)": "cm**3*thou/(100*inch**2*day*atm)",
}
"""Gas of 0 °C and 1 atm through a thickness of wall, by its area, time and pressure."""

MOLAR_PERMEABILITIES = {"mol/(m s Pa)": "mol/(m*s*Pa)"}

LUSEC = "millitorr*liter/s"

SAME_AS = {
    "c": "degC", "celsius": "degC", "f": "degF", "fahrenheit": "degF", "r": "degR",
    "kelvin": "K", "rankine": "degR",
    "l": "L", "liter": "L", "litre": "L", "dm3": "L", "ml": "mL", "cc": "cm3", "cf": "ft3",
    "cuft": "ft3", "cubicfeet": "ft3", "gallon": "gal", "gallons": "gal", "gal(us)": "gal",
    "usgal": "gal", "galuk": "gal(UK)", "impgal": "gal(UK)",
    "liters": "L", "litres": "L", "lbs": "lb", "tonne": "t", "tonnes": "t",
    "ton": "ton(US)", "tons": "ton(US)", "shortton": "ton(US)", "longton": "ton(UK)",
    "normalm3": "Nm3", "m3(n)": "Nm3", "m3n": "Nm3", "nl": "NL", "l(n)": "NL", "sl": "NL",
    "scc": "std cc", "stdcm3": "std cc", "m3(s)": "Sm3",
    "m3(15degc,1bar)": "m3(15C,1bar)", "scf(70f)": "scf", "stdft3": "scf", "mscf": "kscf",
    "sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "hr": "h",
    "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d", "week": "wk", "weeks": "wk",
    "months": "month", "a": "yr", "year": "yr", "years": "yr", "y": "yr",
    "inch": "in", "inches": "in", "foot": "ft", "feet": "ft", "metre": "m", "meter": "m",
    "sqmm": "mm2", "sqin": "in2",
    "millitorr": "mtorr", "microns": "micron", "umhg": "micron",
    "inwc": "inH2O", "inwg": "inH2O", "mmwc": "mmH2O", "kg/cm2": "kgf/cm2",
    "kg/cm2(g)": "kgf/cm2(g)", "kg/cm2(a)": "kgf/cm2(a)", "psid": "psi",
    "percent": "%", "ppmv": "ppm", "vpm": "ppm", "ppm(v)": "ppm", "ppbv": "ppb",
    "ppmw": "ppm(mass)", "ppm(w)": "ppm(mass)", "ppmm": "ppm(mass)", "mg/kg": "ppm(mass)",
    "lb/mmcf": "lb/MMscf",
    "fraction": "1", "mol/mol": "1",
}  # fmt: skip
"""Other spellings of the labels above, folded to lower case and without spaces."""

SAY_DIFFERENCE = frozenset({"psid"})
"""Spellings that say of themselves that a difference is meant."""

SHORT_RATES = {
    "scfh": "scf/h", "scfm": "scf/min", "scfd": "scf/d", "slm": "NL/min", "slpm": "NL/min",
    "nlpm": "NL/min", "sccm": "std cc/min", "sccs": "std cc/s",
    "cfm": "ft3/min", "acfm": "ft3/min", "cfh": "ft3/h", "acfh": "ft3/h", "lpm": "L/min",
    "lps": "L/s", "cmh": "m3/h", "gpm": "gal/min", "gph": "gal/h", "btuh": "Btu/h",
    "btu/hr": "Btu/h",
}  # fmt: skip
"""Rates that have a short name of their own."""
