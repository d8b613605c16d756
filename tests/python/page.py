"""Makes the validation page from the rows that checks wrote: `python tests/python/page.py target/validation PAGE.md`.

With `--check` the page is compared, not written, and a stale one is named: a row that came or went, another source or tolerance. Rows come from `run.py` and, one file a row, from
Rust tests (`tests/proof`). Only what ran is on the page. Standard library alone.
"""

import json
import sys
from pathlib import Path

AREAS = ("moist air", "weather", "sun", "core", "whole year", "money", "sensitivity", "measurements")

HEAD = """# What was checked against the outside

Made by `tests/python/page.py` from rows that the checks write as they run; do not edit. A row shows the **worst** of its
cases. *Difference* and *allowed* are in the row's unit; a fraction is of the expected value. *Basis*: **computed** by a
library as the check runs or for it, **read** in the source, **recalled** from memory of it, **own calculation** by a
second program or a closed form. How to make it again: `DEVELOPERS.md`.

"""

TAIL = """
## What is not validated

- **No house was measured for this.** Published measurements above are signs and bands; their inputs are not fully stated. An
  annual energy figure of a model for one house is commonly 10 to 15 % off before it is tuned to that house (Balke and
  others, PMC6506832: 13.8 % before, 1.6 % after). The test house of Gaithersburg (514 kWh for the fans, 1 451 kWh for the
  heat pump) is not reproduced: effectiveness and weather of that year were not available.
- **Frost**: where it lies, its density, and how it narrows passages rest on one correlation, recalled. Enthalpy
  effectiveness falling from 63.8 to 43.3 % in an hour at -26 °C (Li and others) is not reproduced: size and flow are not stated.
- **Membranes on which water or ice forms**, beyond the cell solution of this program and a second calculation.
- **Wheels**: no independent solution of a wheel on which water condenses.
- **Leakage, standards of outdoor air, surfaces, mould**: coefficients from memory, arithmetic checked alone (see the crates'
  tests); the standards themselves were not at hand.
- **Wet bulbs within 1 K of 0 °C**: two values fulfil the equations, over water and over ice; libraries choose differently.
- **Whole-year comparison with an established program**: none was made.
- **Checks in the crates' tests that write no row here**: they run on every change, but are not listed.
"""


def cell(text):
    return str(text).replace("|", "\\|")


def number(value):
    return f"{value:.2g}" if value else "0"


def rounding(row):
    """Differences at the level of rounding depend on the machine: they are shown as a bound."""
    limit = min(1e-9, row["tolerance"] or 1e-9)
    return f"< {number(limit)}" if 0.0 < row["difference"] < limit else number(row["difference"])


def table(rows):
    lines = ["| what | source | basis | expected | got | difference | allowed | unit | cases | why so much is allowed |",
             "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |"]
    for row in rows:
        words = [row["quantity"], row["source"], row["basis"], row["expected"], row["got"], rounding(row),
                 number(row["tolerance"]), row["unit"], row["cases"], row["why"]]
        lines.append("| " + " | ".join(cell(word) for word in words) + " |")
    return "\n".join(lines) + "\n"


def worst_line(rows):
    share = {row["quantity"]: row["difference"] / row["tolerance"] for row in rows if row["tolerance"]}
    name = max(share, key=share.get)
    return (f"{len(rows)} rows, {sum(row['cases'] for row in rows)} cases. Nearest to what is allowed: {name}, "
            f"{100 * share[name]:.0f} % of it.\n\n")


def page(folder):
    rows = [row for path in sorted(folder.glob("*.json")) for row in json.loads(path.read_text(encoding="utf-8"))]
    unknown = {row["area"] for row in rows} - set(AREAS)
    missing = set(AREAS) - {row["area"] for row in rows}
    if unknown or missing:
        sys.exit(f"{folder}: areas that the page does not know: {sorted(unknown)}; without a row: {sorted(missing)}. "
                 "Rows are written by `cargo test --workspace` and tests/python/run.py")
    failed = [row["quantity"] for row in rows if not row["difference"] <= row["tolerance"]]
    if failed:
        sys.exit(f"beyond what is allowed: {failed}")
    parts = [HEAD + worst_line(rows)]
    for area in AREAS:
        mine = sorted((row for row in rows if row["area"] == area), key=lambda row: (row["quantity"], row["source"]))
        parts.append(f"## {area.capitalize()}\n\n{table(mine)}\n")
    return "".join(parts).rstrip("\n") + "\n" + TAIL


def told(text):
    """What the page says beside its figures, whose last digits may differ between machines: every figure is judged as it runs."""
    lines = []
    for line in text.splitlines():
        cells = line.split(" | ")
        if line.startswith("| ") and len(cells) > 6:
            del cells[3:6]
        lines.append(" | ".join(cells).split(" Nearest to what is allowed")[0])
    return lines


def main(folder, target, check):
    text = page(Path(folder))
    target = Path(target)
    if not check:
        target.write_text(text, encoding="utf-8")
        return
    old = target.read_text(encoding="utf-8") if target.exists() else ""
    known = told(old)
    if known != told(text):
        stale = [line for line in told(text) if line not in known]
        sys.exit(f"{target} is stale; make it again with this command without --check. New lines:\n" + "\n".join(stale))


if __name__ == "__main__":
    given = [argument for argument in sys.argv[1:] if argument != "--check"]
    if len(given) != 2:
        sys.exit(__doc__)
    main(*given, "--check" in sys.argv)
