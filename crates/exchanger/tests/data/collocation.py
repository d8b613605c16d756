"""Counterflow plates and membranes, wet and freezing, by collocation: the reference values of cell_membrane.rs and cell_frost.rs.

The differential equations of the core along its length, with the local balance of the plate solved at every node. It shares no
code with the crate: saturation pressures are typed in from the handbook's formulas, the state of the two faces is found by
trying all four wet and dry combinations. Needs numpy and scipy (run with scipy 1.17). Prints, for each case,
supply C, g/kg, exhaust C, g/kg, extract-side liquid and ice, supply-side water (g/s), plate at the cold and the warm end (C).
"""
import numpy as np
from scipy.integrate import solve_bvp
from scipy.optimize import brentq


def psat(t):
    T = t + 273.15
    if t <= 0.01:
        ln = (-5.6745359e3 / T + 6.3925247 - 9.677843e-3 * T + 6.2215701e-7 * T**2 + 2.0747825e-9 * T**3
              - 9.484024e-13 * T**4 + 4.1635019 * np.log(T))
    else:
        ln = (-5.8002206e3 / T + 1.3914993 - 4.8640239e-2 * T + 4.1764768e-5 * T**2 - 1.4452093e-8 * T**3
              + 6.5459673 * np.log(T))
    return np.exp(ln)


def ratio(t, rh=1.0, p=101325.0):
    return 0.621945 * rh * psat(t) / (p - rh * psat(t))


def ice(t):
    return min(max((0.25 - t) / 0.5, 0), 1)


def h_vapour(t):
    return 2501e3 + 1860 * t


def h_water(t):
    return ice(t) * (-333.4e3 + 2100 * t) + (1 - ice(t)) * 4186 * t


def faces(ts, ws, te, we, tp, c):
    """Vapour from each air to its face, deposits, crossing: the combination that breaks no rule."""
    s, best = ratio(tp, 1.0, c["p"]), None
    for wet_e in (0, 1):
        for wet_s in (0, 1):
            if wet_e and wet_s:
                cross, fe, fs = 0.0, s, s
            elif wet_e:
                cross = (s - ws) / (c["r"] + 1 / c["gs"])
                fe, fs = s, ws + cross / c["gs"]
            elif wet_s:
                cross = (we - s) / (c["r"] + 1 / c["ge"])
                fe, fs = we - cross / c["ge"], s
            else:
                cross = (we - ws) / (c["r"] + 1 / c["gs"] + 1 / c["ge"])
                fe, fs = we - cross / c["ge"], ws + cross / c["gs"]
            ne, ns = c["ge"] * (we - fe), c["gs"] * (ws - fs)
            de, ds = (ne - cross) * wet_e, (ns + cross) * wet_s
            broken = max(fe - s, 0) + max(fs - s, 0) + max(-de, 0) / c["ge"] + max(-ds, 0) / c["gs"]
            if best is None or broken < best[0] - 1e-15:
                best = (broken, ne, ns, de, ds)
    return best[1:]


def local(ts, ws, te, we, c):
    film = 2 * c["ua"]

    def surplus(tp):
        ne, ns, de, ds = faces(ts, ws, te, we, tp, c)
        return film * (te + ts - 2 * tp) + ne * h_vapour(te) + ns * h_vapour(ts) - (de + ds) * h_water(tp)

    tp = brentq(surplus, min(ts, te) - 10, max(ts, te) + 10, xtol=1e-12)
    return (film * (ts - tp), film * (te - tp), *faces(ts, ws, te, we, tp, c), tp)


def solve(t1, w1, t3, w3, ms, p, ua, k):
    """Extract flow 1 kg/s, along x from the house side; supply the other way."""
    c = dict(ua=ua, p=p, gs=2 * ua / (1006 + 1860 * w1), ge=2 * ua / (1006 + 1860 * w3))
    c["r"] = 1 / k - 1 / c["gs"] - 1 / c["ge"] if k > 0 else np.inf

    def slopes(_, y):
        out = np.empty_like(y)
        for i in range(y.shape[1]):
            ts, ws, te, we = y[0, i], y[1, i] / 1e3, y[2, i], y[3, i] / 1e3
            qs, qe, ne, ns, de, ds, tp = local(ts, ws, te, we, c)
            out[:4, i] = [qs / (ms * (1006 + 1860 * ws)), 1e3 * ns / ms, -qe / (1006 + 1860 * we), -1e3 * ne]
            out[4:, i] = [1e3 * de * (1 - ice(tp)), 1e3 * de * ice(tp), 1e3 * ds]
        return out

    def ends(a, b):
        return np.array([a[2] - t3, a[3] - 1e3 * w3, b[0] - t1, b[1] - 1e3 * w1, a[4], a[5], a[6]])

    x = np.linspace(0, 1, 201)
    y = np.zeros((7, x.size))
    y[0], y[2] = t1 + (t3 - t1) * 0.8 * (1 - x), t3 + (t1 - t3) * 0.8 * x
    y[1], y[3] = 1e3 * w1, 1e3 * w3
    found = solve_bvp(slopes, ends, x, y, tol=1e-5, max_nodes=6000)
    assert found.status == 0
    y = found.y
    cold = local(t1, w1, y[2, -1], y[3, -1] / 1e3, c)[-1]
    warm = local(y[0, 0], y[1, 0] / 1e3, t3, w3, c)[-1]
    return (y[0, 0], y[1, 0], y[2, -1], y[3, -1], y[4, -1], y[5, -1], y[6, -1], cold, warm)


CASES = [
    (-25.5000429, 0.000196367183, 20.3233436, 0.00250246739, 0.894780402, 101325, 3087.32163, 1.94791886),
    (-12, 0.001069, 21, 0.006948, 0.9, 101325, 3000, 1.2),
    (-5, 0.001979, 21, 0.004615, 1, 101325, 3018, 0.9),
    (-9, 0.001397, 22, 0.006562, 1.3, 101325, 5000, 2.0),
    (35, 0.025159, 24, 0.009299, 1, 101325, 3018, 0.0),
    (35, 0.025159, 24, 0.009299, 1, 101325, 3018, 0.9),
    (-20, 0.000612, 20, 0.008781, 0.7, 84000, 2500, 0.4),
    (-28.9958847, 0.000251169587, 22.4259219, 0.00508837217, 1.10237548, 84000, 5744.45388, 2.05611105),
]

for case in CASES:
    print(case, "->", ", ".join(f"{v:.6f}" for v in solve(*case)))

# Outdoor temperature at which the plate's cold end is at 0 C, between two near it.
for rh, k, near in [(0.3, 0, -4.2), (0.5, 0, -7.82), (0.6, 0, -9.48), (0.6, 1.5, -4.04)]:
    a, b = (solve(t, ratio(t, 0.8), 21, ratio(21, rh), 1, 101325, 3018, k)[7] for t in (near - 0.1, near + 0.1))
    print(f"RH {rh}, vapour {k}: plate at 0 C when it is {near - 0.1 - 0.2 * a / (b - a):.3f} C outdoors")
