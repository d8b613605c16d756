"""Moist air in arrays: states a second of this package beside psychrolib and CoolProp, side by side in one process.

    pip install -r crates/python/requirements.txt dewledger-*.whl
    taskset -c 0 python benches/python/moist_air.py     # one core, as the other two use
    python benches/python/moist_air.py                  # this package on all cores

Each gives dry bulb and relative humidity at one pressure the same five properties: humidity ratio, wet bulb, dew point, enthalpy,
specific volume (this package gives all eleven). psychrolib is called as it is meant to be, once for each state; CoolProp takes
whole arrays, once for each property. Only ratios mean something: the machine is whatever it is. Nothing here is asserted but that
all three agree.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable

import numpy as np
import psychrolib
from CoolProp.HumidAirProp import HAPropsSI

import dewledger

PRESSURE_PA = 101_325.0
REPEATS = 3


def states(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Dry bulbs of 10 to 45 °C and relative humidities of 0.3 to 0.95, in no order: wet bulbs on water alone."""
    numbers = np.random.default_rng(7)
    return numbers.uniform(10.0, 45.0, count), numbers.uniform(0.3, 0.95, count)


def by_dewledger(t: np.ndarray, rh: np.ndarray) -> np.ndarray:
    """Wet bulbs, and all else with them."""
    return dewledger.moist_air(dry_bulb_c=t, relative_humidity=rh, pressure_pa=PRESSURE_PA).wet_bulb_c


def by_psychrolib(t: np.ndarray, rh: np.ndarray) -> np.ndarray:
    """Wet bulbs, and all else with them."""
    calculate = psychrolib.CalcPsychrometricsFromRelHum
    return np.array([calculate(a, b, PRESSURE_PA)[1] for a, b in zip(t.tolist(), rh.tolist(), strict=True)])


def by_coolprop(t: np.ndarray, rh: np.ndarray) -> np.ndarray:
    """Wet bulbs, and all else with them."""
    found = {name: HAPropsSI(name, "T", t + 273.15, "R", rh, "P", PRESSURE_PA) for name in ("W", "B", "D", "H", "V")}
    return found["B"] - 273.15


def per_second(work: Callable[[np.ndarray, np.ndarray], np.ndarray], count: int) -> float:
    """States a second, the best of a few goes."""
    t, rh = states(count)
    best = np.inf
    for _ in range(REPEATS):
        begun = time.perf_counter()
        work(t, rh)
        best = min(best, time.perf_counter() - begun)
    return count / best


def main() -> None:
    """Prints a line for each."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    t, rh = states(300)
    ours = by_dewledger(t, rh)
    # psychrolib is the same equations; CoolProp's real gas is within 0.05 K.
    assert np.abs(ours - by_psychrolib(t, rh)).max() < 2e-3
    assert np.abs(ours - by_coolprop(t, rh)).max() < 0.06
    print(f"{len(os.sched_getaffinity(0))} core(s) allowed; {PRESSURE_PA:.0f} Pa")
    speeds = {
        "dewledger.moist_air, 100 000 states": per_second(by_dewledger, 100_000),
        "dewledger.moist_air, 1 000 states": per_second(by_dewledger, 1_000),
        "psychrolib, 5 000 states": per_second(by_psychrolib, 5_000),
        "CoolProp, 2 000 states": per_second(by_coolprop, 2_000),
    }
    first = next(iter(speeds.values()))
    for name, speed in speeds.items():
        print(f"{name:<38} {speed:>12.0f} states/s    1 : {first / speed:.1f}")


if __name__ == "__main__":
    main()
