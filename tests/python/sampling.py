"""Sobol indices and Morris effects of crate `sampling`, beside SALib on the very same runs, and beside closed forms.

`cargo run -p sampling --example designs` writes the designs and what the crate finds on them. The functions are
written here once more, so the runs' own results are compared too.
"""

import itertools
import math
import subprocess
from importlib.metadata import version

import numpy as np
from SALib.analyze import morris, sobol

from program import ROOT
from rows import Rows

SALIB = f"SALib {version('SALib')} on the same runs"
G_COEFFICIENTS = np.array([0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0])


def ishigami(x):
    a, b, c = (math.pi * (2.0 * x - 1.0)).T
    return np.sin(a) + 7.0 * np.sin(b) ** 2 + 0.1 * c**4 * np.sin(a)


def g_function(x):
    return np.prod((np.abs(4.0 * x - 2.0) + G_COEFFICIENTS) / (1.0 + G_COEFFICIENTS), axis=1)


def ishigami_known():
    """First and total indices by the function's integrals."""
    alone, second = 0.5 * (1.0 + 0.1 * math.pi**4 / 5.0) ** 2, 49.0 / 8.0
    joint = 8.0 * 0.01 * math.pi**8 / 225.0
    variance = alone + second + joint
    return (np.array([alone, second, 0.0]) / variance, np.array([alone + joint, second, joint]) / variance)


def g_known():
    alone = 1.0 / (3.0 * (1.0 + G_COEFFICIENTS) ** 2)
    product = np.prod(1.0 + alone)
    return alone / (product - 1.0), alone / (1.0 + alone) * product / (product - 1.0)


def morris_function(x):
    """Morris 1991, the small random coefficients -1 and 1 in turn; written with arrays of coefficients (recalled)."""
    i = np.arange(1, 21)
    x = np.where(np.isin(i, (3, 5, 7)), 1.1 * x / (x + 0.1), x)
    w = 2.0 * (x - 0.5)
    one = np.where(i <= 10, 20.0, (-1.0) ** i)
    two = np.where((i[:, None] <= 6) & (i <= 6), -15.0, (-1.0) ** (i[:, None] + i)) * np.triu(np.ones((20, 20)), 1)
    y = w @ one + np.einsum("ri,rj,ij->r", w, w, two)
    for chosen, weight in ((5, -10.0), (4, 5.0)):
        size = 3 if chosen == 5 else 4
        for places in itertools.combinations(range(chosen), size):
            y += weight * np.prod(w[:, list(places)], axis=1)
    return y


FUNCTIONS = {"ishigami": (ishigami, ishigami_known, "Ishigami's function"),
             "g": (g_function, g_known, "the G-function"),
             "morris": (morris_function, None, "Morris's function of twenty inputs")}


def designs():
    """(kind, name, inputs, runs, found) of each design in the example's text."""
    command = ["cargo", "run", "--quiet", "--locked", "-p", "sampling", "--example", "designs"]
    text = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    answers = []
    for line in text.splitlines():
        word, *cells = line.split(",")
        if word == "run":
            answers[-1][3].append([float(cell) for cell in cells])
        elif word == "found":
            answers[-1][4].append([float(cell) for cell in cells])
        else:
            answers.append((word, cells[0], int(cells[1]), [], []))
    return [(kind, name, inputs, np.array(runs), np.array(found)) for kind, name, inputs, runs, found in answers]


def salib_order(y, inputs):
    """Ours: A, B, A_B by input; SALib's: A, A_B by input, B."""
    by_base_row = y.reshape(-1, inputs + 2)
    return np.column_stack([by_base_row[:, 0], by_base_row[:, 2:], by_base_row[:, 1]]).ravel()


def check(rows: Rows):
    for kind, name, inputs, runs, found in designs():
        function, known, words = FUNCTIONS[name]
        x, y = runs[:, :-1], runs[:, -1]
        problem = {"num_vars": inputs, "names": [f"x{i + 1}" for i in range(inputs)], "bounds": [[0.0, 1.0]] * inputs}
        common = {"area": "sensitivity", "unit": "–", "basis": "computed"}
        # Where there is no closed form, there are hundreds of terms of some ten each.
        rows.worst(function(x), y, tolerance=1e-12 if known else 1e-10, quantity=f"Results of {words} in the runs ({kind})",
                   source="numpy", why="one formula in two languages; rounding", **common)
        if kind == "morris":
            theirs = morris.analyze(problem, x, y, num_levels=4, num_resamples=10, seed=1)
            for column, label, key in ((0, "mean size", "mu_star"), (1, "mean", "mu"), (2, "deviation", "sigma")):
                rows.worst(theirs[key], found[:, column], tolerance=1e-11, source=SALIB, why="one definition; rounding",
                           quantity=f"Elementary effects of {words} (Morris): {label}", **common)
            continue
        theirs = sobol.analyze(problem, salib_order(y, inputs), calc_second_order=False, num_resamples=10, seed=1)
        for column, key, label in ((0, "S1", "First"), (1, "ST", "Total")):
            rows.worst(theirs[key], found[:, column], tolerance=1e-11, source=SALIB,
                       quantity=f"{label} Sobol indices of {words}", why="the same estimators; rounding", **common)
            if known is None:
                continue
            rows.worst(known()[column], found[:, column], tolerance=0.05,
                       source="closed form (Ishigami and Homma; Sobol), integrals worked out", digits=4,
                       quantity=f"{label} Sobol indices of {words}, 1 024 base rows",
                       why="the estimate's own scatter at so few base rows",
                       **{**common, "basis": "own calculation"})
