"""Runs every check against a reference library and writes the rows: `python tests/python/run.py OUT.json`.

Fails when a row is beyond its tolerance, with the row's words. Needs the built program (`cargo build`) and `requirements.txt`.
"""

import sys
import tempfile
import time
from pathlib import Path

import core
import measurements
import moist_air
import sampling
import sun
import sweeps
from program import BINARY, run
from rows import Rows


def main(out):
    if not BINARY.exists():
        sys.exit(f"{BINARY} is not there: build it with `cargo build`, or name it in DEWLEDGER")
    rows = Rows()
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        run("new", folder / "starter")
        checks = {"moist air": moist_air.check, "sensitivity": sampling.check,
                  "core": lambda rows: core.check(rows, folder), "sun": lambda rows: sun.check(rows, folder),
                  "sweeps": lambda rows: sweeps.check(rows, folder),
                  "measurements": lambda rows: measurements.check(rows, folder)}
        for name, check in checks.items():
            start = time.monotonic()
            check(rows)
            print(f"{name}: {time.monotonic() - start:.0f} s", flush=True)
    rows.write(Path(out))
    for row in rows.rows:
        print(f"{'ok  ' if row.passed() else 'OFF '} {row.area}: {row.quantity}: {row.difference:g} of {row.tolerance:g} "
              f"{row.unit}; expected {row.expected}, got {row.got}; {row.source}")
    off = [row for row in rows.rows if not row.passed()]
    if off:
        sys.exit(f"{len(off)} of {len(rows.rows)} checks are beyond their tolerance")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
