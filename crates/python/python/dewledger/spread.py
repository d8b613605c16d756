"""What a sweep's data set says, read part by part: never the whole of it at once.

Here: the data set as a lazy frame, percentiles, and how much of a figure's variance an input explains. Not here: making the data
set (`sweeps`, `distributed`). Needs polars.
"""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ._dewledger import InputError
from .sweeps import MANIFEST, PARTS, RUNS

if TYPE_CHECKING:
    import polars as pl

PERCENTILES = (0.1, 0.5, 0.9)
_FEWEST_IN_A_CLASS = 20


def scan(folder: str | os.PathLike[str]) -> pl.LazyFrame:
    """The data set of a sweep's folder, as far as it is there: a row for each run and kept house.

    Nothing is read before something is asked of it, and then only the columns that it needs. Columns: `run`, a column for each
    path that was varied, `unit`, `case`, every figure of `annual.csv`, `reason` (null but where a run could not be made).
    """
    import polars as pl

    path, manifest = Path(folder), _manifest(folder)
    pattern = "part-*.parquet" if _is_of_a_file(manifest) else f"{PARTS}/part-*.parquet"
    there = sorted(path.glob(pattern))
    if not there:
        raise InputError(f"error: {path}: no part of the sweep is there yet")
    return pl.scan_parquet(there)


def spread(
    folder: str | os.PathLike[str], figures: Sequence[str], *, shares: Sequence[float] = PERCENTILES
) -> pl.DataFrame:
    """Percentiles of figures for each unit and case.

    figures: names of columns, such as `["useful_saving_kwh", "frost_h"]`. shares: from 0 to 1, with linear interpolation between
    runs. A row for each unit, case and figure: `runs` (that have the figure), `least`, `mean`, `greatest`, and a column for each
    share, such as `p10`. One figure is read at a time.
    """
    import polars as pl

    data = scan(folder)
    _known(data, figures)
    keys = [key for key in ("unit", "case") if key in data.collect_schema()]
    rows = []
    for figure in figures:
        value = pl.col(figure)
        percentiles = [value.quantile(share, "linear").alias(f"p{100 * share:g}") for share in shares]
        asked = data.filter(value.is_not_null()).group_by(keys).agg(
            pl.lit(figure).alias("figure"),
            pl.len().alias("runs"),
            value.min().alias("least"),
            value.mean().alias("mean"),
            value.max().alias("greatest"),
            *percentiles,
        )
        rows.append(asked.collect(engine="streaming"))
    return pl.concat(rows).sort(*keys, "figure")


def explained(
    folder: str | os.PathLike[str], figure: str, *, case: str = "unit", classes: int | None = None
) -> pl.DataFrame:
    """How much of a figure's variance each varied input explains alone: its first-order index, for each unit.

    The runs are put into classes of about equally many by the input's value (or by its text), and the variance of the classes' means
    is set beside the whole variance: the correlation ratio of Pearson, which needs no particular plan. What chance alone gives
    (classes less one, over runs less one) is taken off, so an index can come out a little below zero. Inputs that act together
    explain more than the sum says; for that, and for intervals, take a plan made for it.

    classes: left out, the square root of the runs, at most 50, at least 20 runs in each. A row for each unit and input: `runs`,
    `classes`, `first_order`.
    """
    import polars as pl

    data = scan(folder)
    _known(data, [figure])
    if "case" in data.collect_schema():
        data = data.filter(pl.col("case") == case)
    data = data.filter(pl.col(figure).is_not_null())
    inputs = _inputs(folder)
    rows = []
    for unit in data.select(pl.col("unit").unique().sort()).collect(engine="streaming")["unit"]:
        of_unit = data.filter(pl.col("unit") == unit)
        rows.extend(
            first_order(of_unit, name, figure, classes=classes).with_columns(
                pl.lit(unit).alias("unit"), pl.lit(name).alias("input")
            )
            for name in inputs
        )
    if not rows:
        raise InputError(f"error: no run of case `{case}` has a figure `{figure}`")
    return pl.concat(rows).select("unit", "input", "runs", "classes", "first_order")


def first_order(data: pl.LazyFrame, name: str, figure: str, *, classes: int | None = None) -> pl.DataFrame:
    """The first-order index of one input in a lazy frame: `runs`, `classes`, `first_order`; see `explained`."""
    import polars as pl

    runs = int(data.select(pl.len()).collect(engine="streaming").item())
    if runs < 2 * _FEWEST_IN_A_CLASS:
        raise InputError(f"error: {runs} runs say nothing of what an input explains\n\nhint: 40 or more are needed")
    count = classes or max(2, min(50, int(runs**0.5), runs // _FEWEST_IN_A_CLASS))
    pair = data.select(pl.col(name).alias("x"), pl.col(figure).alias("y"))
    if pair.collect_schema()["x"].is_numeric():
        # Equal values stay together, whatever their order in the files.
        pair = pair.with_columns(((pl.col("x").rank("min") - 1) * count // runs).alias("x"))
    found = (
        pair.group_by("x")
        .agg(pl.len().alias("n"), pl.col("y").mean().alias("mean"), pl.col("y").var(ddof=0).alias("inner"))
        .collect(engine="streaming")
    )
    used = found.height
    weight = found["n"] / runs
    mean = (weight * found["mean"]).sum()
    between = (weight * (found["mean"] - mean) ** 2).sum()
    whole = between + (weight * found["inner"]).sum()
    by_chance = (used - 1) / (runs - 1)
    share = between / whole if whole > 0.0 else 0.0
    index = (share - by_chance) / (1.0 - by_chance) if by_chance < 1.0 else 0.0
    return pl.DataFrame({"runs": [runs], "classes": [used], "first_order": [index]})


def _manifest(folder: str | os.PathLike[str]) -> dict[str, Any]:
    path = Path(folder) / MANIFEST
    try:
        manifest: dict[str, Any] = json.loads(path.read_bytes())
    except (OSError, ValueError) as cause:
        raise InputError(f"error: {folder}: holds no sweep: {cause}") from cause
    return manifest


def _is_of_a_file(manifest: dict[str, Any]) -> bool:
    return "varied" in manifest


def _inputs(folder: str | os.PathLike[str]) -> list[str]:
    """Names of the columns that were varied."""
    import pyarrow.parquet as pq

    manifest = _manifest(folder)
    if _is_of_a_file(manifest):
        return list(manifest["varied"])
    return list(pq.read_schema(Path(folder) / RUNS).names)


def _known(data: pl.LazyFrame, figures: Sequence[str]) -> None:
    names = data.collect_schema().names()
    unknown = [figure for figure in figures if figure not in names]
    if unknown:
        raise InputError(f"error: no column `{unknown[0]}`\n\nhint: `dewledger.columns()` explains those of annual.csv")
