"""Signs and bands of published measurements, where the program can be asked the same question.

The sources were read as abstracts or pages; what they leave out (humidity, airflow, size) is chosen here and said, so a row
is a sign or a band, never a digit. Not here: reference libraries.
"""

import csv

from program import ROOT, run, run_json
from rows import Row, Rows


def sign(rows: Rows, *, quantity, source, expected, got, holds, why, cases=1):
    """A row that holds or does not: the difference is 0 or 1, and none is allowed."""
    rows.rows.append(Row(area="measurements", quantity=quantity, source=source, basis="read", expected=expected, got=got,
                         difference=0.0 if holds else 1.0, tolerance=0.0, unit="holds (0) or not (1)", why=why,
                         cases=cases))


def onset_c(study, unit, indoor_humidity_pct):
    """Outdoor temperature below which ice forms, to 1 K; indoor air at 21 °C."""
    low, high = -35.0, 0.0
    while high - low > 1.0:
        middle = 0.5 * (low + high)
        asked = ["--outdoor", f"{middle} °C", "--indoor", "21 °C", "--indoor-humidity", f"{indoor_humidity_pct} %"]
        ice = run_json("core", study, "--unit", unit, *asked)[0]["point"]["ice_kg_per_s"]
        low, high = (middle, high) if ice > 0.0 else (low, middle)
    return 0.5 * (low + high)


def annual(folder, study, name):
    """The year of every unit as it runs, by name."""
    out = folder / name
    run("run", study, "--out", out, "--hourly", "none", "--quiet", "--force")
    with open(out / "annual.csv", encoding="utf-8") as text:
        return {row["unit"]: row for row in csv.DictReader(text) if row["case"] == "unit"}


def frost(rows: Rows, study):
    plate = {rh: onset_c(study, "Plate A", rh) for rh in (20, 40)}
    membrane = {rh: onset_c(study, "Membrane B", rh) for rh in (20, 40)}
    said = ", ".join(f"{rh} %: plate {plate[rh]:.0f} °C, membrane {membrane[rh]:.0f} °C" for rh in plate)
    sign(rows, quantity="Where rooms are dry, a core that passes vapour freezes at a lower outdoor temperature than a plate",
         source="Niroomand and others, J. Heat Transfer (2018), doi 10.1115/1.4041185, abstract",
         expected="a permeable surface stands 5 to 8 K colder before it frosts", got=f"indoors 21 °C; {said}",
         holds=membrane[20] < plate[20] and membrane[40] <= plate[40] + 1.0, cases=2,
         why="flat plates, not cores: the sign alone, to 1 K. In humid rooms both freeze as soon as the plate passes 0 °C")
    sign(rows, quantity="Outdoor temperature at which a membrane core begins to freeze",
         source="Li and others, Energy 282 (2023), abstract: frost below -14 °C; indoor air not stated",
         expected="-14 °C within what indoor humidities of 20 to 40 % give",
         got=f"{membrane[20]:.0f} to {membrane[40]:.0f} °C", holds=membrane[20] <= -14.0 <= membrane[40], cases=2,
         why="another core, humidity not stated: a band")


def cold_year(rows: Rows, folder, study):
    year = annual(folder, study, "cold")
    plate, membrane, preheated = (year[name] for name in ("Plate A", "Membrane B", "Plate A preheated"))
    metered = [sum(float(unit[key] or 0.0) for key in ("heating_kwh", "fan_kwh", "preheat_kwh"))
               for unit in (plate, preheated)]
    sign(rows, quantity="Preheating a core takes more energy than thawing it with house air",
         source="Berquist, Banister, Pellissier, E3S Web of Conf. 246 (2021): Iqaluit, seven weeks, abstract",
         expected="more with electric preheat", got=f"{metered[1]:.0f} against {metered[0]:.0f} kWh in an invented cold year",
         holds=metered[1] > metered[0], why="house, climate and unit are others: the sign alone is compared")
    humidity = [float(unit["rh_winter_mean_pct"]) for unit in (plate, membrane)]
    sign(rows, quantity="In a severe winter a membrane core keeps rooms more humid",
         source="Cold Climate Housing Research Center, page on energy recovery: 30 to 40 %, beside 10 to 20 % on average",
         expected="more humid", got=f"{humidity[1]:.0f} % against {humidity[0]:.0f} % behind a plate",
         holds=humidity[1] > humidity[0], why="house and moisture are others: the sign alone is compared")


def hot_year(rows: Rows, folder, study):
    text = study.read_text(encoding="utf-8")
    place = ROOT / "weather-samples" / "palmreach.csv"
    hot = study.with_name("hot.toml")
    hot.write_text(text.replace('weather = "frosthollow.csv"', f'weather = "{place}"'), encoding="utf-8")
    year = annual(folder, hot, "hot")
    plate, membrane = year["Plate A"], year["Membrane B"]
    humidity = [float(unit["rh_summer_mean_pct"]) for unit in (plate, membrane)]
    cooling = [float(unit["cooling_kwh"]) for unit in (plate, membrane)]
    sign(rows, quantity="In a humid summer a membrane core lowers room humidity and the cooling's electricity",
         source="National Research Council Canada, twin houses (Construction Innovation 17(4), 2012): 12 % in a week",
         expected="both lower",
         got=f"{humidity[1]:.1f} against {humidity[0]:.1f} %; {cooling[1]:.0f} against {cooling[0]:.0f} kWh in a year",
         holds=humidity[1] < humidity[0] and cooling[1] < cooling[0],
         why="climate, houses and airflow are others: the sign alone is compared")


def check(rows: Rows, folder):
    study = folder / "starter" / "bungalow.toml"
    frost(rows, study)
    cold_year(rows, folder, study)
    hot_year(rows, folder, study)
