"""Rows of the validation page: what was checked, against what, how far off, and how far off is allowed.

Not here: the checks themselves (`moist_air.py`, `sun.py`, `core.py`, `sampling.py`, `sweeps.py`). Read next: `run.py`.
"""

import json
import math
from dataclasses import asdict, dataclass, field
from pathlib import Path

# Differences below this are rounding.
ROUNDING = 1e-9


@dataclass
class Row:
    """One line of the page. `expected` and `got` are of the worst case; `cases` says of how many."""

    area: str
    quantity: str
    source: str
    # "computed" by a library as the check runs, "read" on a page, "recalled", or "own calculation"
    basis: str
    expected: str
    got: str
    difference: float
    tolerance: float
    unit: str
    why: str
    cases: int

    def passed(self):
        return math.isfinite(self.difference) and self.difference <= self.tolerance


@dataclass
class Rows:
    rows: list = field(default_factory=list)

    def worst(self, expected, got, *, relative=False, tolerance, digits=6, where=None, **words):
        """Adds the worst of many pairs. A relative difference is a fraction of what is expected."""
        expected, got = [float(x) for x in expected], [float(x) for x in got]
        if len(expected) != len(got) or not expected:
            raise ValueError(f"{words['quantity']}: {len(expected)} expected, {len(got)} got")
        off = [abs(g - e) / (abs(e) if relative else 1.0) for e, g in zip(expected, got)]
        at = max(range(len(off)), key=lambda i: off[i] if math.isfinite(off[i]) else math.inf)
        if off[at] < ROUNDING <= tolerance:
            at = 0  # Which case rounds worst depends on the machine; the page says "below" and shows the first.
        place = f" ({where[at]})" if where is not None else ""
        self.rows.append(Row(
            expected=f"{expected[at]:.{digits}g}{place}", got=f"{got[at]:.{digits}g}",
            difference=float(f"{max(off):.2g}") if all(map(math.isfinite, off)) else math.inf, tolerance=tolerance, cases=len(off), **words))

    def write(self, path: Path):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps([asdict(row) for row in self.rows], indent=1, ensure_ascii=False) + "\n",
                        encoding="utf-8")
