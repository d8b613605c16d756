"""Moist air in arrays.

Here: shapes and names. Not here: the relations, which are the program's own.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _dewledger
from ._dewledger import InputError

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class MoistAir:
    """States of moist air, every array of the shape that the given arrays have together.

    Below 0.01 °C relative humidity and dew point are over ice, below 0 °C the wet bulb too. Humidity ratio, enthalpy and
    specific volume are of a kilogram of dry air. `dew_point_c` is a masked array, masked where air is too dry to have one.
    """

    dry_bulb_c: Numbers
    """Dry bulb [°C]."""
    wet_bulb_c: Numbers
    """Thermodynamic wet bulb [°C]."""
    dew_point_c: np.ma.MaskedArray[Any, np.dtype[np.float64]]
    """Dew point or frost point [°C]."""
    relative_humidity: Numbers
    """Relative humidity, 0 to 1."""
    humidity_ratio: Numbers
    """Humidity ratio [kg/kg dry air]."""
    enthalpy_j_per_kg: Numbers
    """Enthalpy [J/kg dry air], from dry air and liquid water at 0 °C."""
    specific_volume_m3_per_kg: Numbers
    """Specific volume [m³/kg dry air]."""
    density_kg_per_m3: Numbers
    """Density with the vapour [kg/m³]."""
    vapour_pressure_pa: Numbers
    """Vapour pressure [Pa]."""
    saturation_pressure_pa: Numbers
    """Vapour pressure of saturated air at the dry bulb [Pa]."""
    pressure_pa: Numbers
    """Total pressure [Pa]."""


def moist_air(
    *,
    dry_bulb_c: ArrayLike | None = None,
    wet_bulb_c: ArrayLike | None = None,
    dew_point_c: ArrayLike | None = None,
    relative_humidity: ArrayLike | None = None,
    humidity_ratio: ArrayLike | None = None,
    enthalpy_j_per_kg: ArrayLike | None = None,
    pressure_pa: ArrayLike = 101_325.0,
    enhancement: Literal["none", "by-pressure"] = "none",
) -> MoistAir:
    """Every property of moist air from two of them; arrays of any shapes that broadcast, or single numbers.

    dry_bulb_c: -60 to 60 °C. wet_bulb_c: -70 to 60 °C. dew_point_c: -100 to 60 °C. relative_humidity: 0 to 1 (not per cent).
    humidity_ratio: 0 to 0.5 kg/kg dry air. enthalpy_j_per_kg: J/kg dry air. pressure_pa: 50 000 to 110 000 Pa, one number or an
    array. `enhancement="by-pressure"` applies the enhancement factor wherever saturation enters.

    Thirteen of the fifteen pairs can be solved: dew point with humidity ratio says the same twice, wet bulb with enthalpy is
    singular near 0 °C.

    Raises `InputError` for the first element that is no state of moist air, by its number in the flattened arrays.

    >>> moist_air(dry_bulb_c=[20.0, 25.0], relative_humidity=0.5).humidity_ratio
    """
    given = {
        "dry_bulb_c": dry_bulb_c,
        "wet_bulb_c": wet_bulb_c,
        "dew_point_c": dew_point_c,
        "relative_humidity": relative_humidity,
        "humidity_ratio": humidity_ratio,
        "enthalpy_j_per_kg": enthalpy_j_per_kg,
    }
    names = [name for name, value in given.items() if value is not None]
    if len(names) != 2:
        said = ", ".join(names) if names else "none"
        raise InputError(
            f"error: two properties fix a state of moist air; given: {said}\n\nhint: give exactly two of {', '.join(given)}"
        )
    first, second, pressure = _broadcast(given[names[0]], given[names[1]], pressure_pa)
    shape = first.shape
    raw = _dewledger.moist_air((names[0], names[1]), first.ravel(), second.ravel(), pressure.ravel(), enhancement)
    dry = raw.pop("without_dew_point")
    raw["dew_point_c"] = np.ma.MaskedArray(raw["dew_point_c"], dry)
    return MoistAir(**{field.name: raw[field.name].reshape(shape) for field in fields(MoistAir)})


def _broadcast(first: Any, second: Any, pressure: Any) -> tuple[Numbers, Numbers, Numbers]:
    try:
        arrays = [np.asarray(values, dtype=np.float64) for values in (first, second, pressure)]
        one, other, third = (np.ascontiguousarray(array) for array in np.broadcast_arrays(*arrays))
    except (TypeError, ValueError) as cause:
        raise InputError(f"error: the arrays are not numbers of shapes that go together: {cause}") from cause
    # `ascontiguousarray` makes a single number an array of one.
    shape = np.broadcast_shapes(*(array.shape for array in arrays))
    return one.reshape(shape), other.reshape(shape), third.reshape(shape)
