"""The steady counterflow core of `dewledger core --json` beside collocation (scipy) of its differential equations.

Written from the design's equations: two streams against each other, films of 2 UA on both sides, Lewis number 1; water
leaves the extract air where the plate is colder than that air's dew point, as ice below 0 °C; a membrane passes
vapour by its conductance. Vapour leaves and joins a stream at that stream's temperature. Not here: wheels, crossflow.
"""

import numpy as np
import scipy
from scipy.integrate import solve_bvp

from program import run_json
from rows import Rows

# (outdoor °C, outdoor relative humidity %, indoor °C, indoor relative humidity %)
POINTS = [(10, 60, 21, 40), (5, 80, 21, 40), (-5, 60, 21, 20), (0, 80, 21, 60), (-5, 80, 20, 50), (-10, 80, 21, 40), (-20, 80, 21, 40),
          (-30, 80, 22, 25), (32, 40, 24, 50)]
INTERVALS = 60


def saturation_pa(t_c):
    """Hyland and Wexler, over ice below the triple point. `moist_air.py` holds the same curve against two libraries."""
    kelvin = np.asarray(t_c) + 273.15
    ice = (-5.6745359e3 / kelvin + 6.3925247 - 9.6778430e-3 * kelvin + 6.2215701e-7 * kelvin**2
           + 2.0747825e-9 * kelvin**3 - 9.4840240e-13 * kelvin**4 + 4.1635019 * np.log(kelvin))
    water = (-5.8002206e3 / kelvin + 1.3914993 - 4.8640239e-2 * kelvin + 4.1764768e-5 * kelvin**2
             - 1.4452093e-8 * kelvin**3 + 6.5459673 * np.log(kelvin))
    return np.exp(np.where(kelvin < 273.16, ice, water))


def ratio_at_saturation(t_c, pressure_pa):
    p = saturation_pa(t_c)
    return 0.621945 * p / (pressure_pa - p)


def vapour(t_c):
    return 2501e3 + 1860.0 * t_c


def water(t_c):
    return np.where(t_c >= 0.0, 4186.0 * t_c, -333.4e3 + 2100.0 * t_c)


class Plate:
    """What enters, and what a metre of plate does; lengths run from the warm end (0) to the cold end (1)."""

    def __init__(self, unit):
        point = unit["point"]
        self.pressure_pa = point["pressure_pa"]
        self.t1, self.w1 = point["outdoor"]["dry_bulb_c"], point["outdoor"]["humidity_ratio"]
        self.t3, self.w3 = point["extract"]["dry_bulb_c"], point["extract"]["humidity_ratio"]
        self.flow = unit["delivered_kg_per_s"]
        self.film = 2.0 * unit["ua_w_per_k"]
        self.film_w = self.film / (1006.0 + 1860.0 * self.w3)
        through = unit["vapour_kg_per_s"]
        self.membrane = through > 0.0
        self.through = through

    def deposit(self, t_plate, w_extract):
        return self.film_w * np.maximum(w_extract - ratio_at_saturation(t_plate, self.pressure_pa), 0.0)

    def plate_c(self, t_e, w_e, t_s, w_s):
        """Where the plate's own balance closes, by halving; at 0 °C ice and liquid may form together."""
        low, high = np.minimum(t_e, t_s) - 1.0, np.maximum(t_e, t_s) + 15.0
        for _ in range(40):
            t = 0.5 * (low + high)
            if self.membrane:
                latent = self.through * (w_e - w_s) * (vapour(t_e) - vapour(t_s))
            else:
                latent = self.deposit(t, w_e) * (vapour(t_e) - water(t))
            rises = self.film * (t_e - t) + latent - self.film * (t - t_s) > 0.0
            low, high = np.where(rises, t, low), np.where(rises, high, t)
        return 0.5 * (low + high)

    def slopes(self, x, y):
        del x
        t_e, w_e, t_s, w_s = y
        t = self.plate_c(t_e, w_e, t_s, w_s)
        passed = self.through * (w_e - w_s) if self.membrane else self.deposit(t, w_e)
        return np.vstack([
            -self.film * (t_e - t) / (self.flow * (1006.0 + 1860.0 * w_e)),
            -passed / self.flow,
            -self.film * (t - t_s) / (self.flow * (1006.0 + 1860.0 * w_s)),
            -passed / self.flow if self.membrane else np.zeros_like(t),
        ])

    def solve(self):
        def ends(warm, cold):
            return np.array([warm[0] - self.t3, warm[1] - self.w3, cold[2] - self.t1, cold[3] - self.w1])

        x = np.linspace(0.0, 1.0, INTERVALS + 1)
        cold = 0.8
        start = np.vstack([self.t3 + (self.t1 - self.t3) * cold * x, np.full_like(x, self.w3),
                           self.t1 + (self.t3 - self.t1) * cold * (1.0 - x), np.full_like(x, self.w1)])
        answer = solve_bvp(self.slopes, ends, x, start, tol=1e-4, max_nodes=20_000)
        if not answer.success:
            raise RuntimeError(f"collocation at {self.t1} °C: {answer.message}")
        return answer


def solve(unit):
    """Supply temperature, supply humidity ratio, water and ice per second, coldest plate."""
    plate = Plate(unit)
    x = np.linspace(0.0, 1.0, 1001)
    t_e, w_e, t_s, w_s = plate.solve().sol(x)
    t = plate.plate_c(t_e, w_e, t_s, w_s)
    formed = np.zeros_like(t) if plate.membrane else plate.deposit(t, w_e)
    total = scipy.integrate.trapezoid(formed, x)
    # Where the plate stands at 0 °C both form; that stretch is short, half of it is counted as ice.
    share = np.where(t < -1e-6, 1.0, np.where(t > 1e-6, 0.0, 0.5))
    driest = 1.0 - np.max((w_e / ratio_at_saturation(t, plate.pressure_pa)) if plate.membrane else 0.0)
    return t_s[0], w_s[0], total, scipy.integrate.trapezoid(formed * share, x), t.min(), driest


def answers(folder):
    study = folder / "starter" / "bungalow.toml"
    for outdoor, outdoor_humidity, indoor, humidity in POINTS:
        asked = ["--outdoor", f"{outdoor} °C", "--outdoor-humidity", f"{outdoor_humidity} %", "--indoor", f"{indoor} °C",
                 "--indoor-humidity", f"{humidity} %"]
        for unit in run_json("core", study, *asked)[:2]:
            yield f"{unit['unit']}, {outdoor} °C, {indoor} °C {humidity} %", unit, solve(unit)


def check(rows: Rows, folder):
    where, supply, cells, hourly = [], [], [], []
    plate_where, water_kg, water_got, ice_kg, ice_got, humid, humid_got, humid_where = [], [], [], [], [], [], [], []
    for label, unit, (t2, w2, total, ice, coldest, dry) in answers(folder):
        point = unit["point"]
        membrane = unit["vapour_kg_per_s"] > 0.0
        if membrane and dry < 0.05:
            continue  # A membrane on which water forms is not in these equations.
        where.append(label)
        supply.append(t2)
        cells.append(point["cells"]["supply_c"])
        hourly.append(point["supply"]["dry_bulb_c"])
        if membrane:
            humid.append(1e3 * w2)
            humid_got.append(1e3 * point["supply"]["humidity_ratio"])
            humid_where.append(label)
        else:
            plate_where.append(label)
            water_kg.append(3.6e6 * total)
            water_got.append(3.6e6 * (point["liquid_kg_per_s"] + point["ice_kg_per_s"]))
            ice_kg.append(3.6e6 * ice)
            ice_got.append(3.6e6 * point["ice_kg_per_s"])
    source = f"collocation of the streams' equations (scipy {scipy.__version__}, solve_bvp)"
    common = {"area": "core", "source": source, "basis": "own calculation", "digits": 5}
    rows.worst(supply, cells, tolerance=0.02, unit="K", quantity="Supply temperature, cell solution", where=where,
               why="40 cells are of first order at the edge of the wet part", **common)
    rows.worst(supply, hourly, tolerance=0.18, unit="K", quantity="Supply temperature, hourly solution", where=where,
               why="the distance from the cell solution that the program states for itself", **common)
    largest = max(water_kg)
    rows.worst(water_kg, water_got, tolerance=round(0.05 * largest, 1), unit="g/h", where=plate_where,
               quantity="Water that forms in a plate core, hourly solution",
               why="5 % of the largest rate, the aim that the design sets", **common)
    rows.worst(ice_kg, ice_got, tolerance=round(0.05 * largest, 1), unit="g/h", where=plate_where,
               quantity="Of that, on a plate below 0 °C",
               why="5 % of the largest rate of water", **common)
    rows.worst(humid, humid_got, tolerance=0.08, unit="g/kg", where=humid_where,
               quantity="Supply humidity ratio, membrane, hourly solution",
               why="the distance from the cell solution that the program states for itself", **common)
