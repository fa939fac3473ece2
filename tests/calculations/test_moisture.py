"""Moisture over its whole range, against independent libraries and against itself."""

from __future__ import annotations

import iapws
import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import HAProps_Aux

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import moisture, water_vapour
from gasfuncs.units import R

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


@pytest.mark.parametrize("kelvin", [180.0, 223.15, 273.15, 313.15, 363.15])
def test_virial_coefficients_are_those_of_coolprop(kelvin: float) -> None:
    """Of air, and of air with water; those of steam it takes from an equation of its own."""
    names = {"aa": "Baa", "aw": "Baw", "aaa": "Caaa", "aaw": "Caaw", "aww": "Caww"}
    ours = water_vapour.virial(kelvin)._asdict()
    for name, theirs in names.items():
        assert ours[name] == pytest.approx(HAProps_Aux(theirs, kelvin, 1e5, 0)[0], rel=7e-6)


@pytest.mark.parametrize(("celsius", "within"), [(80, 2e-5), (100, 2e-5), (210, 3e-4)])
def test_virial_coefficients_of_steam_give_its_volume(celsius: float, within: float) -> None:
    """Saturated steam of IAPWS-IF97; Z = 1 + B p/RT + (C - B²) (p/RT)² leaves out what follows."""
    steam = iapws.IAPWS97(T=celsius + 273.15, x=1)
    per = 1e6 * steam.P / (R * (celsius + 273.15))
    b = water_vapour.virial(celsius + 273.15)
    ours = 1 + b.ww * per + (b.www - b.ww**2) * per**2
    assert ours == pytest.approx(per * steam.v * properties.WATER, rel=within)


@pytest.mark.parametrize("kelvin", [233.15, 293.15, 353.15])
@pytest.mark.parametrize("pressure", [1e5, 20e5, 100e5])
def test_moist_air_is_in_balance_with_its_water(kelvin: float, pressure: float) -> None:
    """Equal fugacities: that in air derived from the virial series of the mixture by the rule of
    the complex step, that of the water by its volume (Poynting)."""
    b, volume = water_vapour.virial(kelvin), 18e-6

    def log_fugacity(wet: float, at: float) -> float:
        total = 1 + 1e-30j
        w = (wet + 1e-30j) / total
        a, per = 1 - w, at / (R * kelvin)
        second = a**2 * b.aa + 2 * a * w * b.aw + w**2 * b.ww
        third = a**3 * b.aaa + 3 * a**2 * w * b.aaw + 3 * a * w**2 * b.aww + w**3 * b.www
        residual = total * (second * per + (third - second**2) * per**2 / 2)
        return float(np.log(wet * at) + np.imag(residual) / 1e-30)

    vapour = float(water_vapour.over_water(kelvin))
    wet = float(water_vapour.enhancement(kelvin, pressure, vapour, volume)) * vapour / pressure
    squeezed = volume * (pressure - vapour) / (R * kelvin)
    expected = log_fugacity(1.0, vapour) + squeezed
    assert log_fugacity(wet, pressure) == pytest.approx(expected, abs=1e-12)


def test_ice_and_water_have_their_volumes() -> None:
    """IAPWS R10-06(2009) for ice, IAPWS-IF97 for water, from -40 and 0 to 40 °C."""
    for kelvin in (233.15, 273.0):
        ice = properties.WATER / iapws._iapws._Ice(kelvin, 0.1)["rho"]
        assert ice == pytest.approx(water_vapour.ICE_VOLUME, rel=0.006)
    for kelvin in (275.0, 313.15):
        water = properties.WATER * iapws.IAPWS97(T=kelvin, P=0.1).v
        assert water == pytest.approx(water_vapour.WATER_VOLUME, rel=0.008)
