"""Figures and texts are those of the command line, to the last digit.

Source of every expected value: the files and texts of the program itself, which reads, runs and writes by another way (its own
process, CSV text, Python's `float`); that the program is right is what its own tests are for.
"""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path

import numpy as np
import pytest
from conftest import ROOT, command

import dewledger


@pytest.fixture(scope="module")
def results(own_study: Path) -> dewledger.Results:
    return dewledger.run(dewledger.Study.from_toml(own_study))


@pytest.fixture(scope="module")
def folder(own_study: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("run") / "out"
    done = command("run", own_study, "--out", out, "--quiet")
    assert done.returncode == 0, done.stderr
    return out


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def same_as_file(table: dewledger.Table, path: Path) -> int:
    """Compares every field; the number of fields that hold a number."""
    rows = rows_of(path)
    assert table.rows == len(rows)
    assert list(table) == list(rows[0])
    numbers = 0
    for name, column in table.items():
        for got, row in zip(column, rows, strict=True):
            text = row[name]
            if got is np.ma.masked or got is None:
                assert text == ""
            elif isinstance(got, str):
                assert got == text
            else:
                assert got == float(text), (name, got, text)
                numbers += 1
    return numbers


def test_annual_figures_are_those_of_the_file(results: dewledger.Results, folder: Path) -> None:
    assert same_as_file(results.annual, folder / "annual.csv") > 500


def test_monthly_figures_are_those_of_the_file(results: dewledger.Results, folder: Path) -> None:
    assert same_as_file(results.monthly, folder / "monthly.csv") > 5000


def test_every_hour_is_that_of_the_file_to_the_last_bit(results: dewledger.Results, folder: Path) -> None:
    files = sorted(path.stem for path in (folder / "hourly").iterdir())
    compared = []
    for unit, case in results.houses:
        stem = "no-ventilation" if case == "no-ventilation" else unit.replace(" ", "-").lower()
        stem += ".no-recovery" if case == "no-recovery" else ""
        paths = [path for path in (folder / "hourly").iterdir() if path.stem.lower() == stem]
        if case in {"unit", "no-recovery", "no-ventilation"}:
            assert len(paths) == 1, (stem, files)
            table = results.hourly(unit, case)
            with paths[0].open(encoding="utf-8") as file:
                assert file.readline().rstrip("\n").split(",") == list(table)
                text = np.loadtxt(file, delimiter=",")
            # The file writes nought without a sign.
            hours = np.column_stack([column.astype(np.float64) + 0.0 for column in table.values()])
            assert hours.tobytes() == (text + 0.0).tobytes()
            compared.append(paths[0].stem)
    assert sorted(compared) == files


def test_the_ledger_is_that_of_the_file(results: dewledger.Results, folder: Path) -> None:
    assert same_as_file(results.ledger("", "no-ventilation"), folder / "ledger" / "no-ventilation.csv") > 100


def test_the_manifest_is_that_of_the_file_but_for_its_time_and_files(
    results: dewledger.Results, folder: Path
) -> None:
    file = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    for changing in ("created", "files"):
        file.pop(changing)
    manifest = {key: value for key, value in results.manifest.items() if key not in {"created", "files"}}
    assert manifest == file


def test_the_demonstration_is_the_study_that_the_program_writes_to_start_from(results: dewledger.Results) -> None:
    demonstration = dewledger.run(dewledger.Study.demonstration())
    assert demonstration.money is None
    for name, column in results.annual.items():
        assert np.ma.allequal(demonstration.annual[name], column), name


def test_money_is_that_of_the_file(results: dewledger.Results, folder: Path) -> None:
    assert results.money is not None
    assert same_as_file(results.money, folder / "money.csv") > 20


def test_a_steady_point_is_that_of_the_program(own_study: Path) -> None:
    arguments = ("core", own_study, "--outdoor", "-10 °C", "--indoor-humidity", "35 %", "--json")
    done = command(*arguments)
    assert done.returncode == 0, done.stderr
    points = dewledger.core_point(dewledger.Study.from_toml(own_study), "-10 °C", indoor_humidity="35 %")
    assert points == json.loads(done.stdout)
    assert points[0]["point"]["supply"]["dry_bulb_c"] > 0.0


def test_bins_are_those_of_the_program(own_study: Path) -> None:
    sample = ROOT / "weather-samples" / "millbrook.csv"
    rows = json.loads(command("bins", sample, "--width", "1 K", "--json").stdout)
    table = dewledger.bins(sample, width="1 K")
    assert isinstance(table, dewledger.Table)
    assert table["hours"].sum() == 8760
    for name, column in table.items():
        assert [row[name] for row in rows] == column.tolist()
    answer = json.loads(command("bins", own_study, "--json").stdout)
    assert dewledger.bins(dewledger.Study.from_toml(own_study)) == answer


def test_weather_is_that_of_the_program_and_of_the_file() -> None:
    sample = ROOT / "weather-samples" / "saltmere.csv"
    weather = dewledger.read_weather(sample)
    figures = json.loads(command("weather", sample, "--json").stdout)[0]
    assert weather.figures == figures
    assert weather.is_invented
    with sample.open(encoding="utf-8") as file:
        plain = list(csv.DictReader(line for line in file if not line.startswith("#")))
    assert weather.hours["dry_bulb_c"].tolist() == [float(row["dry_bulb_c"]) for row in plain]
    assert weather.hours["hour_ending"][:25].tolist() == [*range(1, 25), 1]
    assert math.isclose(weather.hours["dry_bulb_c"].mean(), figures["mean_dry_bulb_c"], rel_tol=1e-12)


@pytest.mark.parametrize(
    "broken",
    [
        ('air_leakage = "', 'air_leakage = "x'),
        ("[house]", "[huose]"),
        ("set_point =", "setpoint ="),
        ("[[unit]]", "[[unit"),
    ],
)
def test_a_broken_study_is_refused_in_the_words_of_the_program(
    own_study: Path, tmp_path: Path, broken: tuple[str, str]
) -> None:
    path = tmp_path / "broken.toml"
    text = own_study.read_text(encoding="utf-8")
    assert broken[0] in text
    path.write_text(text.replace(*broken), encoding="utf-8")
    said = command("run", path, "--out", tmp_path / "out")
    assert said.returncode == 2
    with pytest.raises(dewledger.InputError) as raised:
        dewledger.Study.from_toml(path)
    assert str(raised.value) == said.stderr.rstrip("\n")


def test_missing_and_broken_weather_is_refused_in_the_words_of_the_program(own_study: Path, tmp_path: Path) -> None:
    text = own_study.read_text(encoding="utf-8")
    path = tmp_path / "study.toml"
    path.write_text(text, encoding="utf-8")
    weather = tmp_path / dict(line.split(" = ", 1) for line in text.splitlines() if " = " in line)["weather"].split('"')[1]
    for content in (None, "nothing\n"):
        if content is not None:
            weather.write_text(content, encoding="utf-8")
        said = command("run", path, "--out", tmp_path / "out")
        assert said.returncode == 2
        with pytest.raises(dewledger.DewledgerError) as raised:
            dewledger.run(dewledger.Study.from_toml(path))
        assert str(raised.value) == said.stderr.rstrip("\n")
