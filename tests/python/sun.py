"""Sun on windows: the ledger's monthly `solar_gains` of houses with one window, beside pvlib's sun and Perez sky.

The gain through one window is area x share that enters x 0.9 (for light that does not fall square on the glass; assumed in
the program and said in its list of defaults) x the irradiance on that upright surface; the irradiance is what is compared.
"""

import csv

import numpy as np
import pandas as pd
import pvlib

from program import ROOT, run
from rows import Rows

# Climate of `weather-samples/`, facing, its direction: each a run of a year.
CASES = (("frosthollow", "south", 180.0), ("frosthollow", "east", 90.0), ("palmreach", "north", 0.0),
         ("palmreach", "west", 270.0), ("palmreach", "south", 180.0))
INCIDENCE = 0.9
AREA_M2, ENTERS, ALBEDO = 10.0, 0.5, 0.2
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)

STUDY = """[study]
title = "One window"
[site]
weather = "{weather}"
[house]
floor_area = "100 m2"
ceiling_height = "2.5 m"
bedrooms = 2
storeys = 1
heat_loss = "150 W/K"
air_leakage = "10 L/s"
[[house.window]]
facing = "{facing}"
area = "10 m2"
u_value = "1 W/m2K"
solar_gain = 0.5
[house.heating]
set_point = "20 °C"
source = "gas"
efficiency = 0.9
[house.people]
count = 2
profile = "working-week"
[ventilation]
airflow = "30 L/s"
[[unit]]
name = "Core"
core = "sensible-plate"
[unit.conductance]
ua = "100 W/K"
at = "30 L/s"
[unit.fan]
power = "30 W"
"""


def read(path):
    """Place from the remarks at the head, and the hours."""
    head = {}
    with open(path, encoding="utf-8") as lines:
        for line in lines:
            if not line.startswith("#"):
                break
            key, _, value = line[1:].partition(":")
            head[key.strip()] = value.strip()
    return head, pd.read_csv(path, comment="#")


def irradiance(head, hours, azimuth_deg):
    """W/m2 on an upright surface in each hour, the sun at mid-hour; 2021 is the program's common year."""
    zone, latitude, longitude = (float(head[k]) for k in ("time_zone_h", "latitude_deg", "longitude_deg"))
    middle = pd.date_range("2021-01-01 00:30", periods=len(hours), freq="h") - pd.Timedelta(hours=zone)
    middle = middle.tz_localize("UTC")
    # Zenith without refraction, as the program takes it.
    at = pvlib.solarposition.get_solarposition(middle, latitude, longitude)
    zenith, azimuth = at["zenith"], at["azimuth"]
    column = {name: pd.Series(hours[f"{name}_w_per_m2"].to_numpy(), middle)
              for name in ("direct_normal", "diffuse_horizontal", "global_horizontal")}
    total = pvlib.irradiance.get_total_irradiance(
        90.0, azimuth_deg, zenith, azimuth, column["direct_normal"], column["global_horizontal"],
        column["diffuse_horizontal"], dni_extra=pvlib.irradiance.get_extra_radiation(middle), albedo=ALBEDO,
        model="perez", airmass=pvlib.atmosphere.get_relative_airmass(zenith), model_perez="allsitescomposite1990")
    return np.nan_to_num(total["poa_global"].to_numpy())


def by_month(watts):
    ends = np.cumsum(np.array(DAYS) * 24)
    return [part.sum() / 1e3 for part in np.split(watts, ends[:-1])]


def check(rows: Rows, folder):
    expected, got, where = [], [], []
    for climate, facing, azimuth_deg in CASES:
        path = ROOT / "weather-samples" / f"{climate}.csv"
        head, hours = read(path)
        study = folder / f"{climate}-{facing}.toml"
        study.write_text(STUDY.format(weather=path, facing=facing), encoding="utf-8")
        out = folder / f"{climate}-{facing}"
        run("run", study, "--out", out, "--hourly", "none", "--quiet", "--force")
        with open(out / "ledger" / "core.csv", encoding="utf-8") as ledger:
            line = next(row for row in csv.reader(ledger) if row[1] == "solar_gains")
        got += [float(kwh) / (AREA_M2 * ENTERS * INCIDENCE) for kwh in line[3:15]]
        expected += by_month(irradiance(head, hours, azimuth_deg))
        where += [f"{climate}, {facing}, month {month}" for month in range(1, 13)]
    rows.worst(
        expected, got, tolerance=0.1, unit="kWh/m² in a month", where=where, area="sun",
        quantity="Irradiation of an upright window, month by month, by the heat ledger of a year's run",
        source=f"pvlib {pvlib.__version__}: sun by the reference algorithm (Reda and Andreas), sky by Perez (1990)",
        basis="computed",
        why="positions 0.01° apart; hours in which the sun rises or sets are cut differently at the horizon")
