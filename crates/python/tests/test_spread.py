"""Percentiles and first-order indices beside closed forms and numpy.

Sources: Ishigami and Homma's function (a = 7, b = 0.1), whose indices are closed forms in a and b (Saltelli and others, Global
Sensitivity Analysis, 2008, recalled; worked out below); the sum of independent inputs; numpy's own percentiles.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import polars as pl
import pytest
from test_sweeps import one_unit

import dewledger
from dewledger.spread import explained, first_order, scan, spread

RUNS = 65_536


def test_first_order_indices_of_the_ishigami_function() -> None:
    a, b, pi = 7.0, 0.1, np.pi
    x = np.random.default_rng(11).uniform(-pi, pi, (3, RUNS))
    y = np.sin(x[0]) + a * np.sin(x[1]) ** 2 + b * x[2] ** 4 * np.sin(x[0])
    first = 0.5 * (1.0 + b * pi**4 / 5.0) ** 2
    second = a**2 / 8.0
    whole = first + second + 8.0 * b**2 * pi**8 / 225.0
    frame = pl.LazyFrame({"x1": x[0], "x2": x[1], "x3": x[2], "y": y})
    for name, expected in (("x1", first / whole), ("x2", second / whole), ("x3", 0.0)):
        found = first_order(frame, name, "y")["first_order"].item()
        # Fifty classes smooth a sine's square by (2 pi / 50)^2 / 3, half a per cent; chance adds about 0.005 at 65 536 runs.
        assert found == pytest.approx(expected, abs=0.01), name


def test_inputs_of_a_few_values_and_of_words_are_classes_of_their_own() -> None:
    numbers = np.random.default_rng(3)
    step, word = numbers.integers(0, 3, RUNS), numbers.choice(["low", "high"], RUNS)
    y = 2.0 * step + 3.0 * (word == "high") + numbers.normal(0.0, 1.0, RUNS)
    # Variances: of 0, 2, 4 alike 8/3; of 0 and 3 alike 9/4; of the rest 1.
    whole = 8.0 / 3.0 + 9.0 / 4.0 + 1.0
    frame = pl.LazyFrame({"step": step, "word": word, "y": y})
    assert first_order(frame, "step", "y")["first_order"].item() == pytest.approx(8.0 / 3.0 / whole, abs=0.01)
    assert first_order(frame, "word", "y")["first_order"].item() == pytest.approx(9.0 / 4.0 / whole, abs=0.01)
    assert first_order(frame, "word", "y")["classes"].item() == 2


def test_an_input_without_effect_explains_nothing_also_with_few_runs() -> None:
    numbers = np.random.default_rng(5)
    found = [
        first_order(pl.LazyFrame({"x": numbers.uniform(size=200), "y": numbers.normal(size=200)}), "x", "y")
        for _ in range(200)
    ]
    mean = float(np.mean([frame["first_order"].item() for frame in found]))
    # The standard error of the mean of 200 such indices is about 0.0015.
    assert abs(mean) < 0.008


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Forty runs, one of which cannot be made."""
    out = tmp_path_factory.mktemp("spread") / "out"
    powers = np.linspace(40.0, 80.0, 41)
    powers[7] = -40.0
    study = one_unit().with_values({"study.lead_in": "1 d"})
    sweep = dewledger.Sweep(study, {"unit.Plate A.fan.power": powers}, units={"unit.Plate A.fan.power": "W"}, part=16, cases=["unit"])
    dewledger.sweep(sweep, out)
    return out


def test_percentiles_are_numpys_over_the_runs_that_were_made(folder: Path) -> None:
    values = scan(folder).select("fan_kwh").collect()["fan_kwh"].drop_nulls().to_numpy()
    assert len(values) == 40
    found = spread(folder, ["fan_kwh", "heating_kwh"], shares=[0.1, 0.5, 0.975])
    row = found.row(by_predicate=pl.col("figure") == "fan_kwh", named=True)
    assert (row["unit"], row["case"], row["runs"]) == ("Plate A", "unit", 40)
    for name, share in (("p10", 0.1), ("p50", 0.5), ("p97.5", 0.975)):
        assert row[name] == pytest.approx(np.quantile(values, share), rel=1e-12)
    assert (row["least"], row["greatest"]) == (values.min(), values.max())


def test_what_is_not_there_is_told(folder: Path, tmp_path: Path) -> None:
    with pytest.raises(dewledger.InputError, match="no column `fan_kw`"):
        spread(folder, ["fan_kw"])
    with pytest.raises(dewledger.InputError, match="holds no sweep"):
        scan(tmp_path)


def test_the_one_input_that_was_varied_explains_all_of_its_figure(folder: Path) -> None:
    row = explained(folder, "fan_kwh").row(0, named=True)
    assert (row["unit"], row["input"], row["runs"], row["classes"]) == ("Plate A", "unit.Plate A.fan.power", 40, 2)
    # Fans of a constant flow take energy in proportion to their power: two halves of a uniform input explain 3/4 of it, of 40 runs
    # a little less.
    assert row["first_order"] == pytest.approx(0.75, abs=0.03)
