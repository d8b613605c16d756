"""Typical years as columns."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from . import _dewledger
from .tables import Table


@dataclass(frozen=True)
class Weather:
    """A typical year that was read: its hours, what was noticed in it, and its figures."""

    hours: Table
    """A row for each hour, 8 760 or 8 784: `month`, `day`, `hour_ending` (1 to 24, local standard time), `dry_bulb_c`,
    `humidity_ratio` [kg/kg dry air], `pressure_pa`, `wind_speed_m_per_s`, `wind_direction_deg` (clockwise from north),
    `global_horizontal_w_per_m2`, `direct_normal_w_per_m2`, `diffuse_horizontal_w_per_m2`."""
    findings: list[str]
    """What was noticed, in sentences: filled gaps, limited humidity, whether the year is invented or shifted."""
    figures: dict[str, Any]
    """Place, design temperatures, degree-days, months, wind: what `dewledger weather --json` prints."""

    @property
    def is_invented(self) -> bool:
        """Whether the climate is invented: for tests and examples, never for a design or a claim."""
        return bool(self.figures["synthetic"])


def read_weather(
    path: str | os.PathLike[str],
    *,
    latitude_deg: float | None = None,
    longitude_deg: float | None = None,
    elevation_m: float | None = None,
    time_zone_h: float | None = None,
) -> Weather:
    """Reads a typical year in any format that the program knows, recognised by its content.

    latitude_deg (north), longitude_deg (east), elevation_m, time_zone_h (local standard time less UTC): what the file leaves
    open, or what is to hold in its place.

    Raises `InputError` for a file that cannot be read without guessing, with the line.
    """
    columns, findings, figures = _dewledger.read_weather(
        Path(path), latitude_deg, longitude_deg, elevation_m, time_zone_h
    )
    return Weather(Table(columns), findings, json.loads(figures))
