"""Sweeps: what is in the parts, one process against a cluster whose workers and scheduler are killed.

Expected values: single runs (`dewledger.run`) of the same values; SHA-256 of the parts of a sweep that nobody disturbed. Real
processes are killed with signal 9.
"""

from __future__ import annotations

import hashlib
import json
import os
import signal
import subprocess
import sys
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import polars as pl
import pytest
from conftest import ROOT, command
from distributed import Client, LocalCluster

import dewledger
from dewledger import distributed

RUNS = 8
PART = 1


def one_unit() -> dewledger.Study:
    """The demonstration with its first unit alone, so that a run is short."""
    values = tomllib.loads(dewledger.Study.demonstration().text)
    values["unit"] = values["unit"][:1]
    return dewledger.Study.from_dict(values, folder=ROOT / "weather-samples")


@pytest.fixture(scope="module")
def study() -> dewledger.Study:
    return one_unit()


def sweep_of(study: dewledger.Study, first: float = 1.0) -> dewledger.Sweep:
    leaks = np.linspace(first, 6.0, RUNS)
    balances = np.round(np.linspace(0.9, 1.1, RUNS), 3)
    return dewledger.Sweep(
        study,
        {"house.air_leakage": leaks, "unit.Plate A.balance": balances},
        units={"house.air_leakage": "1/h @50Pa"},
        part=PART,
    )


def hashes(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in (folder / "parts").iterdir()}


@pytest.fixture(scope="module")
def undisturbed(study: dewledger.Study, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What one process makes, alone."""
    folder = tmp_path_factory.mktemp("sweep") / "undisturbed"
    done = dewledger.sweep(sweep_of(study), folder)
    assert [part.part for part in done] == list(range(RUNS // PART))
    assert {f"part-{part.part:05}.parquet": part.sha256 for part in done} == hashes(folder)
    return folder


def rows_once_each(folder: Path) -> None:
    """The data set is complete and without duplicates."""
    keys = pl.read_parquet(folder / "parts" / "*.parquet").select("run", "unit", "case")
    assert keys["run"].unique().sort().to_list() == list(range(RUNS))
    assert keys.is_duplicated().sum() == 0
    assert keys.height == 2 * RUNS


def test_every_row_is_that_of_a_single_run(study: dewledger.Study, undisturbed: Path) -> None:
    rows_once_each(undisturbed)
    table = pl.read_parquet(undisturbed / "parts" / "*.parquet")
    sweep = sweep_of(study)
    for number in (0, RUNS - 1):
        annual = dewledger.run(study.with_values(sweep.values(number))).annual.to_polars()
        kept = annual.filter(pl.col("case").is_in(["unit", "no-recovery"]))
        got = table.filter(run=number).select(annual.columns)
        assert got.rows() == kept.rows()
    assert table["house.air_leakage"].unique().sort().to_list() == np.linspace(1.0, 6.0, RUNS).tolist()


def test_shares_and_threads_give_the_same_bytes(study: dewledger.Study, undisturbed: Path, tmp_path: Path) -> None:
    for share, threads in (((2, 2), 1), ((1, 2), 2)):
        dewledger.sweep(sweep_of(study), tmp_path / "out", share=share, threads=threads)
    assert hashes(tmp_path / "out") == hashes(undisturbed)


def test_a_whole_part_is_left_alone_and_a_torn_one_made_anew(
    study: dewledger.Study, undisturbed: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "out"
    dewledger.sweep(sweep_of(study), folder, parts=[0, 1, 2])
    before = {path: path.stat().st_mtime_ns for path in (folder / "parts").iterdir()}
    assert len(before) == 3
    torn = folder / "parts" / "part-00001.parquet"
    torn.write_bytes(torn.read_bytes()[:-100])
    # A part of another sweep under the right name is not taken for one of this.
    (folder / "parts" / "part-00003.parquet").write_bytes((folder / "parts" / "part-00000.parquet").read_bytes())
    done = dewledger.sweep(folder)
    assert [part.part for part in done] == [1, 3, 4, 5, 6, 7]
    assert hashes(folder) == hashes(undisturbed)
    kept = folder / "parts" / "part-00000.parquet"
    assert kept.stat().st_mtime_ns == before[kept]


def test_another_sweep_does_not_mix_into_a_folder(study: dewledger.Study, undisturbed: Path, tmp_path: Path) -> None:
    before = hashes(undisturbed)
    with pytest.raises(dewledger.InputError, match="another sweep; what differs: runs_sha256"):
        dewledger.sweep(sweep_of(study, first=1.5), undisturbed)
    with pytest.raises(dewledger.InputError, match="what differs: changes"):
        dewledger.sweep(sweep_of(study.with_values({"house.bedrooms": 2})), undisturbed)
    assert hashes(undisturbed) == before
    (tmp_path / "letter.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(dewledger.InputError, match="not empty"):
        dewledger.sweep(sweep_of(study), tmp_path)
    with pytest.raises(dewledger.InputError, match="holds no sweep"):
        dewledger.sweep(tmp_path)


def test_a_run_that_cannot_be_made_is_a_row_with_its_reason(study: dewledger.Study, tmp_path: Path) -> None:
    runs = {"unit.Plate A.balance": [1.0, 99.0], "house.bedrooms": [3, 2]}
    (done,) = dewledger.sweep(dewledger.Sweep(study, runs), tmp_path / "out")
    assert (done.runs, done.failed) == (2, 1)
    table = pl.read_parquet(tmp_path / "out" / "parts" / "*.parquet")
    assert table["run"].to_list() == [0, 0, 1]
    reason = table.filter(run=1)["reason"].item()
    assert "unit.Plate A.balance" in reason and "99" in reason
    assert table.filter(run=1)["heating_kwh"].to_list() == [None]
    assert table.filter(run=0)["reason"].null_count() == 2


def test_a_sweep_that_says_nothing_sensible_is_refused_before_it_begins(study: dewledger.Study) -> None:
    def refused(match: str, runs: dict[str, object], **options: object) -> None:
        with pytest.raises(dewledger.InputError, match=match):
            dewledger.Sweep(study, runs, **options)  # type: ignore[arg-type]

    refused("columns of one length", {"house.bedrooms": [1, 2], "unit.Plate A.balance": [1.0]})
    refused("columns of one length", {})
    refused("run 1 is no finite number", {"unit.Plate A.balance": [1.0, float("nan")]})
    refused("no column of it", {"house.bedrooms": [1]}, units={"house.floor_area": "m2"})
    refused("unknown cases", {"house.bedrooms": [1]}, cases=["units"])
    refused("no part", {"house.bedrooms": [1]}, part=0)
    refused("did you mean `unit.Plate A`", {"unit.Plate B.balance": [1.0]})
    refused("air_leakage", {"house.air_leakige": ["3 1/h @50Pa"]})


def test_a_cluster_that_loses_a_worker_half_way_makes_the_same_bytes(
    study: dewledger.Study, undisturbed: Path, tmp_path: Path
) -> None:
    killed: list[int] = []
    told: list[distributed.Progress] = []
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster, Client(cluster) as client:

        def tell(progress: distributed.Progress) -> None:
            told.append(progress)
            if progress.whole >= 2 and not killed:
                pid = next(iter(client.run(os.getpid).values()))
                os.kill(pid, signal.SIGKILL)
                killed.append(pid)

        done = distributed.sweep(client, sweep_of(study), tmp_path / "out", tell=tell)
    assert killed
    assert hashes(tmp_path / "out") == hashes(undisturbed)
    rows_once_each(tmp_path / "out")
    assert sorted(part.part for part in done) == list(range(RUNS // PART))
    assert [progress.whole for progress in told] == list(range(1, RUNS // PART + 1))
    assert not (tmp_path / "out" / ".unfinished").exists()


class Processes:
    """A scheduler and two workers, each a process of its own."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "scheduler.json"
        dask = [sys.executable, "-m", "dask"]
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        where = ["--scheduler-file", str(self.file)]
        self.scheduler = subprocess.Popen([*dask, "scheduler", *where, "--port", "0", "--no-dashboard"], **quiet)
        worker = [*dask, "worker", *where, "--nthreads", "1", "--no-nanny", "--no-dashboard"]
        worker += ["--local-directory", str(folder), "--death-timeout", "20"]
        self.workers = [subprocess.Popen(worker, **quiet) for _ in range(2)]

    def end(self) -> None:
        for process in (*self.workers, self.scheduler):
            process.kill()
            process.wait()


@pytest.fixture
def processes(tmp_path: Path) -> Iterator[Processes]:
    started = Processes(tmp_path)
    yield started
    started.end()


def client_of(processes: Processes) -> Client:
    deadline = time.monotonic() + 30.0
    while not processes.file.is_file() and time.monotonic() < deadline:
        time.sleep(0.05)
    client = Client(scheduler_file=str(processes.file), timeout=20)
    client.wait_for_workers(2, timeout=30)
    return client


def test_a_second_call_after_the_scheduler_was_killed_makes_the_rest(
    study: dewledger.Study, undisturbed: Path, tmp_path: Path, processes: Processes
) -> None:
    folder = tmp_path / "out"

    def kill(progress: distributed.Progress) -> None:
        if progress.whole == 2:
            processes.scheduler.kill()

    client = client_of(processes)
    with pytest.raises(dewledger.WorkError, match=r"scheduler is lost; \d of 8 parts are whole"):
        distributed.sweep(client, sweep_of(study), folder, tell=kill)
    client.close(timeout=1)
    processes.end()
    whole = set(hashes(folder))
    assert 2 <= len(whole) < RUNS // PART
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster, Client(cluster) as client:
        done = distributed.sweep(client, folder)
    assert {f"part-{part.part:05}.parquet" for part in done} == set(hashes(undisturbed)) - whole
    assert hashes(folder) == hashes(undisturbed)
    rows_once_each(folder)


def test_the_manifest_holds_the_hash_of_everything_that_was_read(undisturbed: Path) -> None:
    manifest = json.loads((undisturbed / "sweep.json").read_text(encoding="utf-8"))
    weather = (ROOT / "weather-samples" / "frosthollow.csv").read_bytes()
    assert manifest["weather_sha256"] == {"frosthollow.csv": hashlib.sha256(weather).hexdigest()}
    assert manifest["runs_sha256"] == hashlib.sha256((undisturbed / "runs.parquet").read_bytes()).hexdigest()


def test_a_job_array_of_three_makes_the_same_bytes(
    study: dewledger.Study, undisturbed: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "out"
    assert dewledger.sweep(sweep_of(study), folder, parts=[]) == []

    def task(share: str) -> subprocess.CompletedProcess[str]:
        words = [sys.executable, "-m", "dewledger.sweeps", str(folder), "--share", share, "--threads", "1"]
        return subprocess.run(words, capture_output=True, text=True, check=False)

    said = [task(f"{k}/3").stdout for k in (3, 1, 2)]
    assert said[0] == "2 parts made, 2 runs in them, 0 of which could not be made\n"
    assert hashes(folder) == hashes(undisturbed)
    for share, match in (("4/3", "a share of 4/3 is none"), ("half", "two whole numbers")):
        refused = task(share)
        assert refused.returncode == 2 and match in refused.stderr


SWEEP_FILE = """
[sweep]
study = "study.toml"
plan = "latin-hypercube"
runs = 8
seed = 3
part = 2
[vary."house.air_leakage"]
uniform = ["1 1/h @50Pa", "6 1/h @50Pa"]
[vary."unit.Plate A.balance"]
uniform = [0.9, 1.1]
"""


@pytest.fixture(scope="module")
def sweep_file(study: dewledger.Study, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sweep file with its study and weather beside it."""
    folder = tmp_path_factory.mktemp("file")
    (folder / "study.toml").write_text(study.text, encoding="utf-8")
    (folder / "frosthollow.csv").write_bytes((ROOT / "weather-samples" / "frosthollow.csv").read_bytes())
    path = folder / "leaks.toml"
    path.write_text(SWEEP_FILE, encoding="utf-8")
    return path


def parts_in(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.glob("part-*.parquet")}


def test_a_sweep_file_gives_the_same_bytes_on_a_cluster_that_loses_a_worker(sweep_file: Path, tmp_path: Path) -> None:
    done = dewledger.sweep(sweep_file, tmp_path / "alone")
    assert [(part.part, part.runs, part.failed) for part in done] == [(number, 2, 0) for number in range(4)]
    alone = parts_in(tmp_path / "alone")
    assert sorted(alone.values()) == sorted(part.sha256 for part in done)
    killed: list[int] = []
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster, Client(cluster) as client:

        def tell(progress: distributed.Progress) -> None:
            if not killed:
                killed.append(next(iter(client.run(os.getpid).values())))
                os.kill(killed[0], signal.SIGKILL)

        distributed.sweep(client, sweep_file, tmp_path / "cluster", tell=tell)
    assert killed
    assert parts_in(tmp_path / "cluster") == alone
    keys = pl.read_parquet(tmp_path / "cluster" / "part-*.parquet").select("run", "unit")
    assert sorted(keys["run"].to_list()) == list(range(8))


def test_the_command_lines_parts_are_the_same_bytes(sweep_file: Path, tmp_path: Path) -> None:
    said = command("sweep", sweep_file, "--out", tmp_path / "by-command", "--quiet")
    assert said.returncode == 0, said.stderr
    dewledger.sweep(sweep_file, tmp_path / "by-python")
    assert parts_in(tmp_path / "by-python") == parts_in(tmp_path / "by-command")
    assert len(parts_in(tmp_path / "by-python")) == 4
    # Each goes on with what the other began.
    assert dewledger.sweep(sweep_file, tmp_path / "by-command") == []


def test_a_sweep_files_figures_are_those_of_single_runs_with_its_values(
    study: dewledger.Study, sweep_file: Path, tmp_path: Path
) -> None:
    dewledger.sweep(sweep_file, tmp_path / "out", parts=[1])
    table = pl.read_parquet(tmp_path / "out" / "part-00001.parquet")
    assert table["run"].to_list() == [2, 3]
    leak = next(name for name in table.columns if name.startswith("house.air_leakage"))
    for row in table.iter_rows(named=True):
        value = np.format_float_positional(row[leak], trim="-")
        changes = {"house.air_leakage": f"{value} 1/h @50Pa", "unit.Plate A.balance": row["unit.Plate A.balance"]}
        hours = dewledger.run(study.with_values(changes)).hourly("Plate A")
        for figure, power in (("heating_kwh", "heating_site_w"), ("fan_kwh", "fan_w"), ("cooling_kwh", "cooling_site_w")):
            # The same bits hour by hour; numpy adds them in another order.
            assert row[figure] == pytest.approx(hours[power].sum() / 1000.0, rel=1e-12), figure


def test_a_broken_sweep_file_is_refused_with_its_line(sweep_file: Path, tmp_path: Path) -> None:
    broken = sweep_file.parent / "broken.toml"
    broken.write_text(SWEEP_FILE.replace('"house.air_leakage"', '"house.air_leakige"'), encoding="utf-8")
    with pytest.raises(dewledger.InputError, match="air_leakige") as raised:
        dewledger.sweep(broken, tmp_path / "out")
    assert "broken.toml:" in str(raised.value)
    with pytest.raises(dewledger.InputError, match="needs a folder"):
        dewledger.sweep(sweep_file)
