"""Studies from texts, files and dicts; columns in other libraries; what is refused.

Expected values: the study file itself read by Python's own `tomllib`, and numpy's and pyarrow's own accounts of shared memory.
"""

from __future__ import annotations

import pickle
import threading
import time
from pathlib import Path

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import dewledger

tomllib = pytest.importorskip("tomllib", reason="Python 3.10 has no reader of TOML of its own")


@pytest.fixture(scope="module")
def results(own_study: Path) -> dewledger.Results:
    return dewledger.run(dewledger.Study.from_toml(own_study))


def test_a_text_a_file_and_a_dict_are_one_study(own_study: Path, results: dewledger.Results) -> None:
    text = own_study.read_text(encoding="utf-8")
    of_text = dewledger.Study.from_toml(text, folder=own_study.parent)
    of_dict = dewledger.Study.from_dict(tomllib.loads(text), folder=own_study.parent)
    assert of_text.units == of_dict.units == dewledger.Study.from_toml(str(own_study)).units
    for study in (of_text, of_dict):
        other = dewledger.run(study)
        for name, column in results.annual.items():
            assert np.ma.allequal(other.annual[name], column), name


def test_a_study_survives_pickling(own_study: Path) -> None:
    for study in (dewledger.Study.from_toml(own_study), dewledger.Study.demonstration()):
        again = pickle.loads(pickle.dumps(study))
        assert (again.text, again.name, again.units) == (study.text, study.name, study.units)
        assert dewledger.core_point(again, "-5 °C") == dewledger.core_point(study, "-5 °C")


def test_a_dict_with_what_no_study_can_hold_is_refused() -> None:
    for value, said in ((object(), "object"), (float("nan"), "NaN"), (10**30, "too large"), (None, "NoneType")):
        with pytest.raises(dewledger.InputError, match=f"house.floor_area.*{said}"):
            dewledger.Study.from_dict({"house": {"floor_area": value}})
    with pytest.raises(dewledger.InputError, match="no text"):
        dewledger.Study.from_dict({"house": {3: "x"}})
    endless: dict[str, object] = {}
    endless["house"] = endless
    with pytest.raises(dewledger.InputError, match="deep"):
        dewledger.Study.from_dict(endless)


def test_every_failure_is_a_value_error() -> None:
    assert issubclass(dewledger.InputError, dewledger.DewledgerError)
    assert issubclass(dewledger.WorkError, dewledger.DewledgerError)
    with pytest.raises(ValueError, match="cannot be read"):
        dewledger.Study.from_toml("no-such-file.toml")


def test_numbers_reach_other_libraries_without_copying(results: dewledger.Results) -> None:
    table = results.hourly("Plate A")
    air = table["air_c"]
    assert np.shares_memory(air, table.to_pandas()["air_c"].to_numpy())
    assert np.shares_memory(air, table.to_polars()["air_c"].to_numpy())
    assert np.shares_memory(air, table.to_pyarrow()["air_c"].chunk(0).to_numpy())
    assert table is results.hourly("Plate A")


def test_tables_are_the_same_in_every_library(results: dewledger.Results) -> None:
    table = results.annual
    frame, polars, arrow = table.to_pandas(), table.to_polars(), table.to_pyarrow()
    for name, column in table.items():
        values = [None if value is np.ma.masked else value for value in column]
        assert polars[name].to_list() == values, name
        assert arrow[name].to_pylist() == values, name
        assert [None if pd.isna(value) else value for value in frame[name]] == values, name
    assert polars["useful_saving_kwh"].null_count() > 0
    assert pl.DataFrame(table).equals(polars)
    assert pa.table(table) == arrow
    assert not any(polars[name].is_nan().any() for name in polars.columns if polars[name].dtype == pl.Float64)


def test_other_threads_go_on_while_a_study_runs() -> None:
    study = dewledger.Study.demonstration()
    ticks: list[float] = []
    done = threading.Event()

    def tick() -> None:
        while not done.is_set():
            ticks.append(time.monotonic())
            time.sleep(0.001)

    thread = threading.Thread(target=tick)
    thread.start()
    begun = time.monotonic()
    dewledger.run(study)
    ended = time.monotonic()
    done.set()
    thread.join()
    during = [at for at in ticks if begun < at < ended]
    # Without giving up the lock there would be none between the first and the last moment of the run.
    assert any(begun + 0.25 * (ended - begun) < at < begun + 0.75 * (ended - begun) for at in during)


def test_a_house_that_was_not_run_is_refused(results: dewledger.Results) -> None:
    with pytest.raises(dewledger.InputError, match='there are "", "no-ventilation"'):
        results.hourly("Plate Z")
    with pytest.raises(KeyError, match="no column"):
        results.annual["heating"]


def test_every_column_of_the_tables_is_explained(results: dewledger.Results) -> None:
    explained = {(row["file"], row["name"]) for row in dewledger.columns()}
    assert {name for file, name in explained if file == "annual.csv"} == set(results.annual)
