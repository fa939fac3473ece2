"""Moisture over its whole range, against independent libraries and against itself."""

from __future__ import annotations

import iapws
import numpy as np
import psychrolib
import pytest

from gasfuncs.calculations import moisture

DEW_POINTS = np.linspace(173.15, 313.15, 1401)
PRESSURES = np.array([[0.1e5], [101_325.0], [8e5], [300e5]])


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
