"""Moist air in arrays beside psychrolib 2.5.0 and CoolProp 8.0.0 (`HAPropsSI`), and its shapes and refusals.

psychrolib has the same ideal-gas equations, so that only rounding and its own search are left; CoolProp has real-gas
equations (ASHRAE RP-1485), so that the enhancement factor and the mixture's own departures show.
"""

from __future__ import annotations

import itertools

import numpy as np
import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI

import dewledger

psychrolib.SetUnitSystem(psychrolib.SI)

TEMPERATURES = np.concatenate([np.linspace(-40.0, 50.0, 46), [-0.01, 0.0, 0.005, 0.02]])
HUMIDITIES = np.array([0.05, 0.3, 0.5, 0.8, 1.0])
PRESSURES = np.array([70_000.0, 90_000.0, 101_325.0])
DRY_BULB, HUMIDITY, PRESSURE = (
    grid.ravel() for grid in np.meshgrid(TEMPERATURES, HUMIDITIES, PRESSURES, indexing="ij")
)
# Where psychrolib's own curves of saturation meet (0.01 °C) its search for the wet bulb is no better than its own tolerance.
PSYCHROLIB_WET_BULB_K = 2e-3


def test_arrays_are_psychrolibs_numbers() -> None:
    air = dewledger.moist_air(dry_bulb_c=DRY_BULB, relative_humidity=HUMIDITY, pressure_pa=PRESSURE)
    points = list(zip(DRY_BULB.tolist(), HUMIDITY.tolist(), PRESSURE.tolist(), strict=True))
    ratio = np.array([psychrolib.GetHumRatioFromRelHum(*point) for point in points])
    enthalpy = np.array([psychrolib.GetMoistAirEnthalpy(p[0], w) for p, w in zip(points, ratio, strict=True)])
    volume = np.array([psychrolib.GetMoistAirVolume(p[0], w, p[2]) for p, w in zip(points, ratio, strict=True)])
    wet = np.array([psychrolib.GetTWetBulbFromRelHum(*point) for point in points])
    dew = np.array([psychrolib.GetTDewPointFromRelHum(*point[:2]) for point in points])
    # The same published coefficients: rounding alone.
    np.testing.assert_allclose(air.humidity_ratio, ratio, rtol=1e-10)
    np.testing.assert_allclose(air.enthalpy_j_per_kg, enthalpy, rtol=1e-10, atol=1e-6)
    # psychrolib rounds the gas constant of dry air (287.042) and its ratio (1.607858) as the handbook prints them, as we do.
    np.testing.assert_allclose(air.specific_volume_m3_per_kg, volume, rtol=1e-9)
    np.testing.assert_allclose(air.dew_point_c, dew, atol=2e-3)
    # Below 0 °C water and ice can both answer, and psychrolib's search steps over the break: both libraries are asked apart from it.
    apart = np.abs(wet) > 0.5
    np.testing.assert_allclose(air.wet_bulb_c[apart], wet[apart], atol=PSYCHROLIB_WET_BULB_K)


def test_arrays_are_near_coolprops_real_gas_where_it_holds() -> None:
    warm = (DRY_BULB >= 5.0) & (PRESSURE == 101_325.0)
    t, rh, p = DRY_BULB[warm], HUMIDITY[warm], PRESSURE[warm]
    air = dewledger.moist_air(dry_bulb_c=t, relative_humidity=rh, pressure_pa=p, enhancement="by-pressure")
    ratio, wet, dew, volume = (HAPropsSI(name, "T", t + 273.15, "R", rh, "P", p) for name in ("W", "B", "D", "V"))
    # The enhancement factor by pressure alone leaves 0.17 % of a real gas, as the crate states.
    np.testing.assert_allclose(air.humidity_ratio, ratio, rtol=1.7e-3)
    # 0.13 % is what an ideal gas reads high, as the crate states.
    np.testing.assert_allclose(air.specific_volume_m3_per_kg, volume, rtol=1.3e-3)
    np.testing.assert_allclose(air.wet_bulb_c, wet - 273.15, atol=0.05)
    np.testing.assert_allclose(air.dew_point_c, dew - 273.15, atol=0.03)


NAMES = ("dry_bulb_c", "wet_bulb_c", "dew_point_c", "relative_humidity", "humidity_ratio", "enthalpy_j_per_kg")
UNSOLVABLE = {("dew_point_c", "humidity_ratio"), ("wet_bulb_c", "enthalpy_j_per_kg")}


@pytest.mark.parametrize("pair", [pair for pair in itertools.combinations(NAMES, 2) if pair not in UNSOLVABLE])
def test_each_of_thirteen_pairs_leads_back_to_the_state_it_came_from(pair: tuple[str, str]) -> None:
    t = np.array([-30.0, -5.0, 12.0, 24.0, 35.0])
    there = dewledger.moist_air(dry_bulb_c=t, relative_humidity=0.45, pressure_pa=95_000.0)
    given = {name: getattr(there, name) for name in pair}
    back = dewledger.moist_air(**given, pressure_pa=95_000.0)
    for name in NAMES:
        # Dry bulb and wet bulb lie close together in cold air, which widens what rounding does.
        np.testing.assert_allclose(getattr(back, name), getattr(there, name), rtol=1e-6, atol=1e-6)


def test_two_pairs_that_say_too_little_are_refused() -> None:
    for pair in UNSOLVABLE:
        values = {"dew_point_c": 5.0, "humidity_ratio": 0.005, "wet_bulb_c": 10.0, "enthalpy_j_per_kg": 30e3}
        with pytest.raises(dewledger.InputError):
            dewledger.moist_air(**{name: values[name] for name in pair})


def test_shapes_go_together_as_numpy_has_it() -> None:
    air = dewledger.moist_air(dry_bulb_c=np.full((3, 1), 20.0), relative_humidity=[0.2, 0.4], pressure_pa=90e3)
    assert air.humidity_ratio.shape == (3, 2)
    assert air.pressure_pa.shape == (3, 2)
    one = dewledger.moist_air(dry_bulb_c=20.0, relative_humidity=0.4, pressure_pa=90e3)
    assert one.wet_bulb_c.shape == ()
    assert float(one.humidity_ratio) == air.humidity_ratio[0, 1]
    assert dewledger.moist_air(dry_bulb_c=[], relative_humidity=0.4).wet_bulb_c.shape == (0,)
    with pytest.raises(dewledger.InputError, match="shapes"):
        dewledger.moist_air(dry_bulb_c=[1.0, 2.0], relative_humidity=[0.1, 0.2, 0.3])


def test_a_long_array_is_the_same_as_its_elements() -> None:
    t = np.linspace(-50.0, 55.0, 5000)
    air = dewledger.moist_air(dry_bulb_c=t, relative_humidity=0.6)
    for at in (0, 511, 512, 2345, 4999):
        alone = dewledger.moist_air(dry_bulb_c=t[at], relative_humidity=0.6)
        assert air.wet_bulb_c[at] == alone.wet_bulb_c


def test_dry_air_has_no_dew_point_and_no_nan() -> None:
    air = dewledger.moist_air(dry_bulb_c=[20.0, 20.0], relative_humidity=[0.0, 0.5])
    assert np.ma.getmaskarray(air.dew_point_c).tolist() == [True, False]
    assert np.isfinite(air.dew_point_c.data).all()


def test_a_fault_is_told_with_the_number_of_its_element() -> None:
    with pytest.raises(dewledger.InputError, match="element 700: dry bulb 99"):
        dewledger.moist_air(dry_bulb_c=[20.0] * 700 + [99.0, 98.0], relative_humidity=0.5)
    with pytest.raises(dewledger.InputError, match="element 1"):
        dewledger.moist_air(dry_bulb_c=[20.0, np.nan], relative_humidity=0.5)
    with pytest.raises(dewledger.InputError, match="give exactly two"):
        dewledger.moist_air(dry_bulb_c=20.0)
