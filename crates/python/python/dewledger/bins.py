"""Hours in bins of dry bulb, and the bin method beside the hourly run."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

from . import _dewledger
from .study import Study
from .tables import Table, of_rows


def bins(
    of: Study | str | os.PathLike[str], *, width: str | None = None, edge: str | None = None
) -> Table | list[dict[str, Any]]:
    """A climate in bins of dry bulb; or, of a `Study`, the bin method beside each unit's hourly run.

    of: a weather file's path, or a study. width: such as "1 K" or "5 °F", left out 2 K. edge: a temperature where one bin ends
    and the next begins, left out 0 °C.

    Of a weather file: a `Table` with a row for each bin: `low_c` [°C], `high_c` [°C], `hours` [h], `mean_dry_bulb_c` [°C],
    `mean_wet_bulb_c` [°C], `mean_humidity_ratio` [kg/kg dry air].
    Of a study: what `dewledger bins STUDY --json` prints, a dict for each unit.
    """
    if isinstance(of, Study):
        answer: list[dict[str, Any]] = json.loads(_dewledger.study_bins(of._native, width, edge))
        return answer
    rows = json.loads(_dewledger.climate_bins(Path(of), width, edge))
    for row in rows:
        del row["months"]
    return of_rows(rows)
