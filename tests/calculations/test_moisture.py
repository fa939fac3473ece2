"""Moisture over its whole range, against independent libraries and against itself."""

from __future__ import annotations

import iapws
import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import HAProps_Aux

import gasfuncs
from gasfuncs.calculations import moisture, water_vapour

DEW_POINTS = np.linspace(173.15, 313.15, 1401)
PRESSURES = np.array([[0.1e5], [101_325.0], [8e5], [20e5]])


def test_round_trip_over_the_whole_range() -> None:
    y = moisture.dew_ppm(DEW_POINTS, PRESSURES)
    back = moisture.ppm_dew(y, PRESSURES)
    assert np.max(np.abs(back / DEW_POINTS - 1)) < 1e-12
    assert np.max(np.abs(moisture.dew_ppm(back, PRESSURES) / y - 1)) < 1e-9


def test_shift_is_the_two_functions_in_a_row() -> None:
    colder = DEW_POINTS[:1001]
    shifted = moisture.dew_shift(colder, 1e5, 20e5)
    by_hand = moisture.ppm_dew(moisture.dew_ppm(colder, 1e5), 20e5)
    np.testing.assert_allclose(shifted, by_hand, rtol=1e-12)


def test_against_the_iapws_package_over_ice() -> None:
    """`iapws` carries the same release: this checks the code, not the data."""
    for kelvin in (130.0, 200.0, 230.0, 260.0, 273.0):
        theirs = 1e6 * iapws._iapws._Sublimation_Pressure(kelvin)
        assert moisture.saturation_pressure(kelvin) == pytest.approx(theirs, rel=1e-9)


def test_against_another_equation_over_water() -> None:
    """IAPWS-IF97 region 4 is fitted apart; the two agree within 0.0025 % from 0 to 100 °C."""
    for celsius in (0.02, 5.0, 20.0, 40.0, 70.0, 99.0):
        theirs = 1e6 * iapws.iapws97._PSat_T(celsius + 273.15)
        assert moisture.saturation_pressure(celsius + 273.15) == pytest.approx(theirs, rel=2.5e-4)


def test_against_psychrolib_over_ice_and_water() -> None:
    """ASHRAE's equations (Hyland, Wexler 1983) over both phases, from -100 to 40 °C."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    celsius = np.arange(-100.0, 41.0, 5.0)
    theirs = [psychrolib.GetSatVapPres(float(c)) for c in celsius]
    ours = np.asarray(moisture.saturation_pressure(celsius + 273.15))
    np.testing.assert_allclose(ours[celsius >= -80], np.array(theirs)[celsius >= -80], rtol=1e-3)
    np.testing.assert_allclose(ours, theirs, rtol=4e-3)


def test_the_curve_rises_through_the_triple_point_without_a_step() -> None:
    kelvins = np.linspace(273.1599, 273.1601, 2001)
    pressures = np.asarray(moisture.saturation_pressure(kelvins))
    steps = np.diff(np.log(pressures))
    assert np.all(steps > 0)
    assert np.max(steps) < 1.2 * np.min(steps)


@pytest.mark.parametrize(("bars", "within"), [(1.01325, 4e-5), (8, 2e-4), (50, 1e-3), (101, 2e-3)])
def test_enhancement_against_humid_air_of_coolprop(bars: float, within: float) -> None:
    """ASHRAE RP-1485 in CoolProp, with dissolved air and compressible ice, from -100 to 90 °C."""
    for kelvin in np.arange(173.15, 364.0, 10.0).tolist():
        cold = kelvin < water_vapour.TRIPLE_TEMPERATURE
        vapour = water_vapour.over_ice(kelvin) if cold else water_vapour.over_water(kelvin)
        volume = water_vapour.ICE_VOLUME if cold else water_vapour.WATER_VOLUME
        ours = water_vapour.enhancement(kelvin, bars * 1e5, float(vapour), volume)
        assert ours == pytest.approx(HAProps_Aux("f", kelvin, bars * 1e5, 0)[0], rel=within)


def test_supercooled_water_against_the_table_of_murphy_and_koop() -> None:
    """Values of their check table, from memory."""
    table = {150: 1.562e-5, 180: 0.011239, 210: 1.2335, 240: 37.667, 273.15: 611.213}
    for kelvin, pascals in table.items():
        assert water_vapour.over_water(float(kelvin)) == pytest.approx(pascals, rel=1e-4)


def test_under_pressure_ice_melts_below_its_point() -> None:
    """By Clausius and Clapeyron 0.0074 K a bar: at 100 bar ice is no longer stable at -0.5 °C."""
    for celsius, bars, same in ((-0.5, 100.0, True), (-1.0, 100.0, False), (-0.1, 1.0, False)):
        over = [moisture.held(celsius + 273.15, bars * 1e5, name) for name in ("ice", "water")]
        assert bool(over[0] == over[1]) is same


def test_the_surface_matters_as_instruments_have_it() -> None:
    """-40 °C over water is -36.5 °C over ice in the tables of humidity instruments (memory)."""
    frost = moisture.ppm_dew(moisture.dew_ppm(233.15, surface="water"), surface="ice")
    assert frost == pytest.approx(273.15 - 36.5, abs=0.15)


def test_air_and_water_attract_each_other_as_hellmann_computed() -> None:
    """R. Hellmann, J. Chem. Eng. Data 65 (2020) 4130: cm3/mol and its uncertainty (read)."""
    table = {
        200: (-77.57, 3.1), 220: (-62.99, 2.5), 240: (-51.69, 2.1), 260: (-42.69, 2.0),
        280: (-35.37, 2.0), 300: (-29.30, 2.0), 350: (-17.91, 2.0), 400: (-10.00, 2.0),
    }  # fmt: skip
    for kelvin, (printed, uncertainty) in table.items():
        ours = 1e6 * float(water_vapour.virial(float(kelvin)).aw)
        assert ours == pytest.approx(printed, abs=uncertainty)


def test_a_tenth_of_another_gas_is_still_taken_as_air() -> None:
    """Above 2 bar, where the enhancement factor of air is all there is."""
    moist = ("5 ppm", "5 bar(a)", "ice")
    tenth = float(gasfuncs.GAS_PPM_DEW(*moist, "90% argon + 10% hydrogen"))
    assert tenth == pytest.approx(float(gasfuncs.GAS_PPM_DEW(*moist, "argon")), abs=1e-6)
    with pytest.raises(gasfuncs.GasFuncsError, match="is above 2 bar"):
        gasfuncs.GAS_PPM_DEW(*moist, "89.9% argon + 10.1% hydrogen")
    assert float(gasfuncs.GAS_PPM_DEW("5 ppm", "2 bar(a)", "ice", "hydrogen")) < 0
