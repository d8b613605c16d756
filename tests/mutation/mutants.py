"""Spoils one place of the model at a time and sees whether a test notices.

    python tests/mutation/mutants.py --crate psychrometrics --count 100 --seed 1 --out target/mutants.csv

Every place is found by its text: operators, comparisons, `max` and `min`, true and false, and numbers (made one per cent greater, zero
becomes one). A seeded sample of them is tried, one by one, with the crate's own tests and doc tests (`--tests-of` names crates whose tests
are run as well). A mutant that does not compile is not viable; one that runs on and on is stuck, and counted apart. Survivors are listed
with their line: each wants a test, or a reason.

Work in a clone of its own: the source is changed while this runs, and put back. Where cargo-nextest is installed it runs the tests, and
ends a mutant at the first that fails; doc tests follow for those that are left. `--one-by-one` leaves rows of eight out while it runs: they
are the same source compiled once more.
"""

from __future__ import annotations

import argparse
import csv
import os
import random
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

TIMES_OUT_S = 1200

SWAPS = {
    " + ": " - ",
    " - ": " + ",
    " * ": " / ",
    " / ": " * ",
    " += ": " -= ",
    " -= ": " += ",
    " < ": " >= ",
    " > ": " <= ",
    " <= ": " > ",
    " >= ": " < ",
    " == ": " != ",
    " != ": " == ",
    " && ": " || ",
    " || ": " && ",
    ".max(": ".min(",
    ".min(": ".max(",
    ".lt(": ".ge(",
    ".gt(": ".le(",
    ".le(": ".gt(",
    ".ge(": ".lt(",
    "true": "false",
    "false": "true",
}
PLACES = re.compile("|".join([re.escape(swap) for swap in SWAPS if swap.strip() == swap and not swap.isalpha()]
                             + [re.escape(swap) for swap in SWAPS if swap.startswith(" ")]
                             + [r"\btrue\b", r"\bfalse\b", r"(?<![\w.])\d[\d_]*\.\d[\d_]*(?:e-?\d+)?(?!\w)"]))


@dataclass(frozen=True)
class Mutant:
    """One place, and what stands there instead."""

    file: Path
    line: int
    column: int
    was: str
    becomes: str


def becomes(text: str) -> str:
    if text in SWAPS:
        return SWAPS[text]
    value = float(text.replace("_", ""))
    return "1.0" if value == 0.0 else repr(value * 1.01)


def code_of(line: str) -> str:
    """The line with comments and texts blanked, at the same columns."""
    blank = lambda found: " " * len(found.group(0))  # noqa: E731
    line = re.sub(r'"(?:\\.|[^"\\])*"', lambda found: '"' * len(found.group(0)), line)
    return re.sub(r"//.*$", blank, line)


def mutants_of(file: Path) -> list[Mutant]:
    found: list[Mutant] = []
    lines = file.read_text().splitlines()
    for number, line in enumerate(lines, 1):
        # Tests within the file end it; a line that names a file of tests does not.
        if "#[cfg(test)]" in line and "{" in "".join(lines[number : number + 2]):
            break
        if line.lstrip().startswith("#"):
            continue
        for place in PLACES.finditer(code_of(line)):
            text = place.group(0)
            # A sum of bounds is no sum.
            if text == " + " and re.search(r"\b(impl|where|dyn)\b|: [A-Z]\w* \+ [A-Z]", line):
                continue
            found.append(Mutant(file, number, place.start(), text, becomes(text)))
    return found


class Stuck(Exception):
    """Ended by neither a test nor a compiler."""


def run(command: list[str]) -> int:
    """The command's exit code; whatever it started is ended with it."""
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
    try:
        return process.wait(TIMES_OUT_S)
    except subprocess.TimeoutExpired:
        raise Stuck(f"{' '.join(command)}: not done in {TIMES_OUT_S} s") from None
    finally:
        if process.poll() is None:
            # Asked first: nextest has each test in a group of its own, and ends them when it is told to.
            os.killpg(process.pid, signal.SIGTERM)
            try:
                process.wait(30)
            except subprocess.TimeoutExpired:
                os.killpg(process.pid, signal.SIGKILL)
                process.wait()


def passes(command: list[str], fails_with: int) -> bool:
    """Whether it ends well; any end but that and the one of a failure is no answer."""
    code = run(command)
    if code not in (0, fails_with):
        raise Stuck(f"{' '.join(command)}: exit code {code}")
    return code == 0


def builds(packages: list[str]) -> bool:
    return passes(["cargo", "test", "--offline", "--no-run", *packages], 101)


def tests_pass(packages: list[str]) -> bool:
    if shutil.which("cargo-nextest") is None:
        return passes(["cargo", "test", "--offline", *packages], 101)
    # Rows against single houses say nothing of a mutant that both have.
    tests = ["cargo", "nextest", "run", "--offline", "--fail-fast", "-E", "not binary(same_bits)", *packages]
    return passes(tests, 100) and passes(["cargo", "test", "--offline", "--doc", *packages], 101)


@contextmanager
def rows_left_out(wanted: bool) -> Iterator[None]:
    """Every row is one house wide within this, where it is wanted."""
    file = Path("crates/lanes/src/dispatch.rs")
    before = file.read_text()
    start, end = before.index("    let output = match width_on"), before.index("    Some(output)\n")
    single = "    let _ = width;\n    let output = kernel.run::<f64>();\n"
    try:
        if wanted:
            file.write_text(before[:start] + single + before[end:])
        yield
    finally:
        file.write_text(before)


def fate(mutant: Mutant, crates: list[str]) -> str:
    """`caught`, `survived`, `not viable`, or `stuck` where it ran on and on or something else went wrong."""
    before = mutant.file.read_text()
    lines = before.splitlines(keepends=True)
    line = lines[mutant.line - 1]
    lines[mutant.line - 1] = line[: mutant.column] + mutant.becomes + line[mutant.column + len(mutant.was) :]
    packages = [word for name in crates for word in ("-p", name)]
    try:
        mutant.file.write_text("".join(lines))
        if not builds(packages):
            return "not viable"
        return "survived" if tests_pass(packages) else "caught"
    except Stuck as cause:
        print(cause, file=sys.stderr)
        return "stuck"
    finally:
        mutant.file.write_text(before)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--crate", required=True)
    parser.add_argument("--tests-of", nargs="*", default=[])
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--one-by-one", action="store_true")
    parser.add_argument("--out", type=Path, default=Path("target/mutants.csv"))
    options = parser.parse_args()
    crates = [options.crate, *options.tests_of]
    sources = sorted(Path("crates", options.crate, "src").rglob("*.rs"))
    files = [file for file in sources if not file.stem.endswith("tests")]
    places = [mutant for file in files for mutant in mutants_of(file)]
    sample = random.Random(options.seed).sample(places, min(options.count, len(places)))
    options.out.parent.mkdir(parents=True, exist_ok=True)
    counts = dict.fromkeys(["caught", "survived", "not viable", "stuck"], 0)
    with rows_left_out(options.one_by_one), options.out.open("w", newline="") as out:
        if not tests_pass([word for name in crates for word in ("-p", name)]):
            print("the tests fail without a mutant", file=sys.stderr)
            return 1
        table = csv.writer(out)
        table.writerow(["file", "line", "was", "becomes", "fate"])
        for number, mutant in enumerate(sample, 1):
            end = fate(mutant, crates)
            counts[end] += 1
            table.writerow([mutant.file, mutant.line, mutant.was.strip(), mutant.becomes.strip(), end])
            out.flush()
            print(f"{number} of {len(sample)}: {mutant.file}:{mutant.line} {mutant.was!r} {mutant.becomes!r} {end}", flush=True)
    viable = counts["caught"] + counts["survived"]
    print(f"{len(places)} places, {len(sample)} tried, {counts['stuck']} stuck, {viable} viable, {counts['caught']} caught", end="")
    print(f": {100 * counts['caught'] / viable:.1f} %" if viable else "")
    return 0


if __name__ == "__main__":
    sys.exit(main())
