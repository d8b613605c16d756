"""Moist air from `dewledger air --from`, beside psychrolib (the same handbook equations) and CoolProp (real gas)."""

import CoolProp
import psychrolib
from CoolProp.HumidAirProp import HAPropsSI

from program import air_table
from rows import Rows

psychrolib.SetUnitSystem(psychrolib.SI)

PRESSURES_PA = (101_325.0, 84_000.0, 70_000.0)
HUMIDITIES = (0.05, 0.4, 0.8, 1.0)
TEMPERATURES_C = [-40.0 + 7.5 * step for step in range(13)]


def states():
    """Every 7.5 K from -40 to 50 °C, four humidities, three pressures: where both libraries answer."""
    return [(p, t, rh) for p in PRESSURES_PA for t in TEMPERATURES_C for rh in HUMIDITIES]


def where(state):
    p, t, rh = state
    return f"{t:g} °C, {100 * rh:g} %, {p / 1000:g} kPa"


# Column, psychrolib's function of (t, rh, w, p) in the column's unit, unit, tolerance, relative, why.
HANDBOOK = [
    ("humidity_ratio", "Humidity ratio", lambda t, rh, w, p: w, "fraction", 1e-6, True,
     "the same equations; what is left is rounding"),
    ("enthalpy_kj_per_kg", "Enthalpy", lambda t, rh, w, p: psychrolib.GetMoistAirEnthalpy(t, w) / 1e3,
     "kJ/kg", 1e-3, False, "the same equation; 1 J/kg"),
    ("specific_volume_m3_per_kg", "Specific volume",
     lambda t, rh, w, p: psychrolib.GetMoistAirVolume(t, w, p), "fraction", 1e-5, True,
     "its gas constant 287.042 against 8314.46/28.966, its 1.607858 against 1/0.621945: 3e-6 apart"),
    ("dew_point_c", "Dew point", lambda t, rh, w, p: psychrolib.GetTDewPointFromHumRatio(t, w, p),
     "K", 0.002, False, "psychrolib stops its own search at 0.001 K"),
    ("wet_bulb_c", "Wet bulb", lambda t, rh, w, p: psychrolib.GetTWetBulbFromHumRatio(t, w, p),
     "K", 0.002, False, "psychrolib stops its own search at 0.001 K; wet bulbs within 1 K of 0 °C apart, see the next row"),
]

# Column, CoolProp's name, factor to the column's unit, offset, unit, tolerance, relative, why.
REAL_GAS = [
    ("humidity_ratio", "Humidity ratio", "W", 1.0, 0.0, "fraction", 0.007, True,
     "the handbook leaves out the enhancement factor of real air, 0.3 to 0.6 %"),
    ("specific_volume_m3_per_kg", "Specific volume", "V", 1.0, 0.0, "fraction", 0.0015, True,
     "ideal mixture; real air is up to 0.13 % off"),
    ("dew_point_c", "Dew point", "D", 1.0, -273.15, "K", 0.03, False, "saturation curves 0.01 % apart, and real air"),
    ("wet_bulb_c", "Wet bulb", "B", 1.0, -273.15, "K", 0.03, False,
     "enthalpies and saturation of real air; wet bulbs within 1 K of 0 °C left out"),
]


def near_freezing(wet_bulb_c):
    """Within 1 K of 0 °C both branches of the equation, over water and over ice, may have a wet bulb of their own."""
    return abs(wet_bulb_c) < 1.0


def against_handbook(rows: Rows, cases, found):
    expected = {name: [] for name, *_ in HANDBOOK}
    for p, t, rh in cases:
        w = psychrolib.GetHumRatioFromRelHum(t, rh, p)
        for name, _, function, *_ in HANDBOOK:
            expected[name].append(function(t, rh, w, p))
    for name, label, _, unit, tolerance, relative, why in HANDBOOK:
        kept = kept_cases(name, found)
        at = [where(cases[i]) for i in kept]
        rows.worst([expected[name][i] for i in kept], [found[name][i] for i in kept], relative=relative, tolerance=tolerance, unit=unit, why=why,
                   area="moist air", quantity=label, basis="computed", where=at,
                   source="psychrolib 2.5.0, from dry bulb and relative humidity")
    back = [psychrolib.GetHumRatioFromTWetBulb(t, wet, p) for (p, t, _), wet in zip(cases, found["wet_bulb_c"])]
    rows.worst([psychrolib.GetHumRatioFromRelHum(t, rh, p) for p, t, rh in cases], back, tolerance=1e-8,
               unit="kg/kg", area="moist air", quantity="Humidity ratio that psychrolib finds from our wet bulb",
               basis="computed", source="psychrolib 2.5.0", where=[where(c) for c in cases],
               why="also near 0 °C, where two wet bulbs fulfil the equations; ours must be one of them")


def kept_cases(name, found):
    """Numbers of the cases that are compared: all, but no wet bulbs near freezing."""
    return [i for i, wet in enumerate(found["wet_bulb_c"]) if name != "wet_bulb_c" or not near_freezing(wet)]


def against_real_gas(rows: Rows, cases, found):
    for name, label, code, factor, offset, unit, tolerance, relative, why in REAL_GAS:
        kept = kept_cases(name, found)
        at = [where(cases[i]) for i in kept]
        expected = [factor * HAPropsSI(code, "T", t + 273.15, "P", p, "R", rh) + offset
                    for p, t, rh in (cases[i] for i in kept)]
        rows.worst(expected, [found[name][i] for i in kept], relative=relative, tolerance=tolerance, unit=unit, why=why,
                   area="moist air", quantity=label, basis="computed", where=at,
                   source=f"CoolProp {CoolProp.__version__}, humid air as a real gas")


def back_again(rows: Rows, cases, found):
    """The dry bulb again from pairs that psychrolib states: enthalpy with humidity ratio, wet bulb with dew point."""
    given = []
    for p, t, rh in cases:
        w = psychrolib.GetHumRatioFromRelHum(t, rh, p)
        given.append((p, psychrolib.GetMoistAirEnthalpy(t, w) / 1e3, w))
    answer = air_table(["pressure_pa", "enthalpy_kj_per_kg", "humidity_ratio"], given)
    rows.worst([t for _, t, _ in cases], answer["dry_bulb_c"], tolerance=1e-4, unit="K", digits=7,
               why="the equation solved for temperature; psychrolib gives the pair", area="moist air",
               quantity="Dry bulb from enthalpy and humidity ratio", basis="computed",
               source="psychrolib 2.5.0", where=[where(c) for c in cases])


def check(rows: Rows):
    cases = states()
    header = ["pressure_pa", "dry_bulb_c", "relative_humidity_pct"]
    found = air_table(header, [(p, t, 100.0 * rh) for p, t, rh in cases])
    against_handbook(rows, cases, found)
    against_real_gas(rows, cases, found)
    # Saturated air is left out: its pair lies on the edge of what exists, and rounding may push it over.
    back_again(rows, [case for case in cases if case[2] < 1.0], found)
