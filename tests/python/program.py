"""The program under test: where it is, and how it is asked."""

import csv
import io
import json
import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BINARY = Path(os.environ.get("DEWLEDGER", ROOT / "target" / "debug" / "dewledger"))


def run(*arguments, given="", folder=ROOT):
    """What the program prints; its own words are raised when it refuses."""
    done = subprocess.run([BINARY, *map(str, arguments)], input=given, capture_output=True, text=True,
                          cwd=folder, timeout=120, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"{' '.join(map(str, arguments))}: exit {done.returncode}\n{done.stderr}")
    return done.stdout


def run_json(*arguments, folder=ROOT):
    return json.loads(run(*arguments, "--json", folder=folder))


def air_table(header, rows):
    """States by `air --from`: columns by name, as lists of numbers; an empty cell is None."""
    text = "\n".join([",".join(header)] + [",".join(repr(float(x)) for x in row) for row in rows]) + "\n"
    answers = list(csv.DictReader(io.StringIO(run("air", "--from", "-", given=text))))
    return {name: [float(line[name]) if line[name] else None for line in answers] for name in answers[0]}
