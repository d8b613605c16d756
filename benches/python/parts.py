"""What a part of a sweep costs beside its runs: in one process, and handed out on a local cluster of one worker for each core.

    pip install -r crates/python/requirements.txt dewledger-*.whl
    python benches/python/parts.py [PARTS]

Every part holds one run whose value does not fit, so that no year is run: what is left is the changing and reading of the study,
putting the table together, writing, flushing and renaming the file, and on the cluster handing out and reporting back. Beside it a
part of one whole run. Nothing is asserted; the machine is whatever it is.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from distributed import Client, LocalCluster

import dewledger
from dewledger import distributed


def sweep_of(parts: int, balance: float) -> dewledger.Sweep:
    """Parts of one run each."""
    study = dewledger.Study.demonstration()
    # Only the first run is read when the sweep is made, so it must be sound.
    balances = [1.0] + [balance] * (parts - 1)
    return dewledger.Sweep(study, {"unit.Plate A.balance": balances}, part=1)


def timed(
    work: Callable[[Path], object], parts: int, others: Callable[[], float] = float
) -> tuple[float, float, float]:
    """Milliseconds for each part: by the clock, of this process's time on a core, of other processes'."""
    with tempfile.TemporaryDirectory() as folder:
        clock, own, other = time.perf_counter(), time.process_time(), others()
        work(Path(folder) / "out")
        spent = time.perf_counter() - clock, time.process_time() - own, others() - other
    return tuple(1e3 * seconds / parts for seconds in spent)


def main() -> None:
    """Prints milliseconds for each part."""
    parts = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    cores = len(os.sched_getaffinity(0))
    empty, whole = sweep_of(parts, 99.0), sweep_of(4, 1.05)
    alone = timed(lambda out: dewledger.sweep(empty, out, threads=1), parts)
    of_runs = timed(lambda out: dewledger.sweep(whole, out, threads=1), 4)
    quiet = {"tell": lambda progress: None}
    with LocalCluster(n_workers=cores, threads_per_worker=1, dashboard_address=None) as cluster:
        with Client(cluster) as client:
            # Workers import the package at their first part.
            distributed.sweep(client, sweep_of(2 * cores, 99.0), tempfile.mkdtemp(), **quiet)
            workers = lambda: sum(client.run(time.process_time).values())  # noqa: E731
            shared = timed(lambda out: distributed.sweep(client, empty, out, **quiet), parts, workers)
    print(f"{cores} core(s), {parts} parts without a year in them; ms a part   clock  this process  workers")
    print(f"one process                                  {alone[0]:10.1f} {alone[1]:10.1f}")
    print(f"{cores} workers; this process holds the scheduler   {shared[0]:10.1f} {shared[1]:10.1f} {shared[2]:10.1f}")
    print(f"a part of one run, one process               {of_runs[0]:10.1f} {of_runs[1]:10.1f}")


if __name__ == "__main__":
    main()
