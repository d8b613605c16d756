"""The data set that `dewledger sweep` writes, read by polars: its summaries once more, and SALib on its own design and results.

Parts are scanned lazily, all at once, as a user would. `spread.csv` is made again by polars alone, indices by SALib and by
their definition in numpy, effects by SALib. Not here: known functions (`sampling.py`, `crates/sweep/tests`).
"""

import csv
from importlib.metadata import version

import numpy as np
import polars as pl
from SALib.analyze import morris, sobol

from program import run

SALIB = f"SALib {version('SALib')} on the parts"
POLARS = f"polars {version('polars')} on the parts"
BASE_ROWS = 32
TRAJECTORIES = 8
LEVELS = 4
INPUTS = {"house.air_leakage": ("L/s", 4.0, 40.0), "house.heat_loss": ("W/K", 110.0, 180.0),
          "unit.Plate A.fan.power": ("W", 40.0, 70.0)}
NAMES = [f"{path} [{unit}]" for path, (unit, _, _) in INPUTS.items()]
# Results that differ in every run; a count of hours may be alike in all.
RESULTS = ("heating_kwh", "useful_saving_kwh", "condensate_l", "rh_winter_mean_pct", "peak_condensate_l_per_day")


def swept(folder, plan, more):
    """The folder of a sweep of the starter study's first unit, with parts that do not end with a base row."""
    study = (folder / "starter" / "bungalow.toml").read_text(encoding="utf-8").split("# The second passes")[0]
    study = study.replace("[study]", '[study]\ntime_step = "1 h"\nlead_in = "1 d"', 1)
    (folder / "starter" / "one.toml").write_text(study, encoding="utf-8")
    varied = [f'[vary."{path}"]\nuniform = ["{low} {unit}", "{high} {unit}"]\n' for path, (unit, low, high) in INPUTS.items()]
    head = f'[sweep]\nstudy = "one.toml"\nplan = "{plan}"\n{more}\nseed = 5\npart = 60\nequal_air = false\n'
    file, out = folder / "starter" / f"{plan}.toml", folder / plan
    file.write_text(head + "".join(varied), encoding="utf-8")
    run("sweep", file, "--out", out, "--quiet")
    return out


def parts(out):
    """All parts, lazily."""
    return pl.scan_parquet(out / "part-*.parquet")


def table(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def check_spread(rows, out, common):
    lines = table(out / "spread.csv")
    asked = []
    for name in {line["column"] for line in lines}:
        column = pl.col(name)
        asked += [column.count().alias(f"{name}|count"), column.min().alias(f"{name}|lowest"), column.max().alias(f"{name}|highest"),
                  column.mean().alias(f"{name}|mean"), column.std().alias(f"{name}|standard_deviation"),
                  *(column.quantile(share, "linear").alias(f"{name}|p{share * 100:.0f}") for share in (0.1, 0.5, 0.9))]
    found = parts(out).group_by("unit").agg(asked).collect().row(0, named=True)
    if len(lines) < 40 or {line["unit"] for line in lines} != {found["unit"]}:
        raise ValueError(f"{out}: {len(lines)} figures, of {found['unit']}")
    for key in ("count", "lowest", "p10", "p50", "p90", "highest", "mean", "standard_deviation"):
        # Of the size of the figure, so that a mean near 0 is not asked for digits that it has not.
        size = [max(abs(float(line["lowest"])), abs(float(line["highest"])), 1e-9) for line in lines]
        ours = [float(line[key]) / scale for line, scale in zip(lines, size)]
        theirs = [found[f"{line['column']}|{key}"] / scale for line, scale in zip(lines, size)]
        rows.worst(theirs, ours, tolerance=1e-12, source=POLARS, quantity=f"spread.csv of a sweep: {key}", digits=9,
                   why="one definition; rounding, as a share of the largest run", **common)


def design(out):
    """Inputs from 0 to 1, and the parts' figures, in the order of the runs."""
    frame = parts(out).sort("run").collect()
    if frame["run"].to_list() != list(range(frame.height)) or frame["failed_because"].null_count() != frame.height:
        raise ValueError(f"{out}: runs are missing, or failed")
    bounds = np.array([[low, high] for _, low, high in INPUTS.values()])
    x = frame.select(NAMES).to_numpy()
    return (x - bounds[:, 0]) / (bounds[:, 1] - bounds[:, 0]), frame


def indices_by_definition(y, inputs):
    """First index after Saltelli and others 2010 and total after Jansen 1999, results brought to mean 0."""
    by_base_row = (y - y.mean()).reshape(-1, inputs + 2)
    a, b, mixed = by_base_row[:, :1], by_base_row[:, 1:2], by_base_row[:, 2:]
    variance = np.var(by_base_row[:, :2])
    return (b * (mixed - a)).mean(axis=0) / variance, ((a - mixed) ** 2).mean(axis=0) / 2.0 / variance


def check_indices(rows, folder, common):
    out = swept(folder, "indices", f"base_rows = {BASE_ROWS}")
    check_spread(rows, out, common)
    k = len(INPUTS)
    x, frame = design(out)
    runs = x.reshape(BASE_ROWS, k + 2, k)
    wanted = np.repeat(runs[:, :1, :], k, axis=1)
    for i in range(k):
        wanted[:, i, i] = runs[:, 1, i]
    rows.worst(wanted.ravel(), runs[:, 2:, :].ravel(), tolerance=0.0, source="definition of the design (Saltelli and others 2010)",
               quantity="Runs of a sweep for indices: A with one column of B", why="the same numbers", **{**common, "basis": "own calculation"})
    lines = table(out / "indices.csv")
    problem = {"num_vars": k, "names": NAMES, "bounds": [[0.0, 1.0]] * k}
    first, total = {"SALib": [], "numpy": [], "ours": []}, {"SALib": [], "numpy": [], "ours": []}
    for name in RESULTS:
        y = frame[name].to_numpy()
        by_base_row = y.reshape(-1, k + 2)
        theirs = sobol.analyze(problem, np.column_stack([by_base_row[:, 0], by_base_row[:, 2:], by_base_row[:, 1]]).ravel(),
                               calc_second_order=False, num_resamples=10, seed=1)
        by_definition = indices_by_definition(y, k)
        ours = {line["input"]: line for line in lines if line["column"] == name}
        for i, path in enumerate(NAMES):
            for kept, key, column, place in ((first, "S1", "first", 0), (total, "ST", "total", 1)):
                kept["SALib"].append(theirs[key][i])
                kept["numpy"].append(by_definition[place][i])
                kept["ours"].append(float(ours[path][column]))
    for kept, word in ((first, "First"), (total, "Total")):
        rows.worst(kept["SALib"], kept["ours"], tolerance=1e-11, source=SALIB, quantity=f"indices.csv of a sweep: {word.lower()} indices",
                   why="the same estimators; rounding", **common)
        rows.worst(kept["numpy"], kept["ours"], tolerance=1e-12, source=POLARS + ", estimators written out in numpy",
                   quantity=f"indices.csv of a sweep: {word.lower()} indices", why="one definition; rounding",
                   **{**common, "basis": "own calculation"})


def check_effects(rows, folder, common):
    out = swept(folder, "screening", f"trajectories = {TRAJECTORIES}\nlevels = {LEVELS}")
    x, frame = design(out)
    problem = {"num_vars": len(INPUTS), "names": NAMES, "bounds": [[0.0, 1.0]] * len(INPUTS)}
    lines = table(out / "screening.csv")
    for column, key in (("mean_size", "mu_star"), ("mean", "mu"), ("deviation", "sigma")):
        expected, got = [], []
        for name in RESULTS:
            theirs = morris.analyze(problem, x, frame[name].to_numpy(), num_levels=LEVELS, num_resamples=10, seed=1)
            ours = {line["input"]: float(line[column]) for line in lines if line["column"] == name}
            scale = max(theirs["mu_star"])
            expected += [value / scale for value in theirs[key]]
            got += [ours[path] / scale for path in NAMES]
        rows.worst(expected, got, tolerance=1e-11, source=SALIB, quantity=f"screening.csv of a sweep: {column}",
                   why="one definition; rounding, as a share of the largest mean size", **common)


def check(rows, folder):
    common = {"area": "sensitivity", "unit": "–", "basis": "computed"}
    check_indices(rows, folder, common)
    check_effects(rows, folder, common)
