"""Fits the polynomials of src/formulas/fast.rs. Run: python3 fit_saturation.py (standard library only).

ln of the Hyland-Wexler saturation pressure, over water and over ice, each from -75 to 75 C, as a
polynomial of degree 9 in the temperature. The fit is made in x = t/75, a Chebyshev series cut after
degree 9 (next term 1.3e-7, so within a few per cent of the best there is); the scale is then folded
into the coefficients, which spares the kernel a multiplication.

The guess for the dew point is t as a polynomial of degree 5 in ln p over the same temperatures; one
Newton step on the polynomial above follows it, so it need only be within about 0.05 K.

Prints the coefficients, constant term first, and the largest errors on 200 001 points.
"""

import math

HALF_RANGE_C = 75.0
DEGREE = 9
GUESS_DEGREE = 5
NODES = 400


def ln_over_ice(t_c):
    t = t_c + 273.15
    return (-5.6745359e3 / t + 6.3925247 - 9.6778430e-3 * t + 6.2215701e-7 * t**2
            + 2.0747825e-9 * t**3 - 9.4840240e-13 * t**4 + 4.1635019 * math.log(t))


def ln_over_water(t_c):
    t = t_c + 273.15
    return (-5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2
            - 1.4452093e-8 * t**3 + 6.5459673 * math.log(t))


def chebyshev(f, degree):
    """Chebyshev coefficients of f on -1..1."""
    angles = [math.pi * (k + 0.5) / NODES for k in range(NODES)]
    values = [f(math.cos(a)) for a in angles]
    return [(2 if j else 1) / NODES * math.fsum(v * math.cos(j * a) for v, a in zip(values, angles))
            for j in range(degree + 1)]


def monomial(series):
    """The same polynomial in powers of x, constant term first."""
    before, now = [1.0], [0.0, 1.0]
    total = [series[0]] + [0.0] * (len(series) - 1)
    for j in range(1, len(series)):
        for k, c in enumerate(now):
            total[k] += series[j] * c
        after = [0.0] + [2 * c for c in now]
        for k, c in enumerate(before):
            after[k] -= c
        before, now = now, after
    return total


def shifted(coefficients, centre, half):
    """Coefficients in u of the polynomial in x = (u - centre)/half."""
    total = [0.0] * len(coefficients)
    power = [1.0]
    for c in coefficients:
        for k, p in enumerate(power):
            total[k] += c * p
        longer = [0.0] * (len(power) + 1)
        for k, p in enumerate(power):
            longer[k + 1] += p / half
            longer[k] -= p * centre / half
        power = longer
    return total


def horner(coefficients, x):
    total = 0.0
    for c in reversed(coefficients):
        total = total * x + c
    return total


def inverse(f, value):
    low, high = -HALF_RANGE_C - 20, HALF_RANGE_C + 20
    for _ in range(80):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if f(middle) < value else (low, middle)
    return 0.5 * (low + high)


def show(name, coefficients):
    print(name)
    for c in coefficients:
        print(f"    {c!r},")


for name, f in (("over water", ln_over_water), ("over ice", ln_over_ice)):
    fit = [c / HALF_RANGE_C**k
           for k, c in enumerate(monomial(chebyshev(lambda x: f(HALF_RANGE_C * x), DEGREE)))]
    show(f"ln p {name}", fit)
    points = [-HALF_RANGE_C + 2 * HALF_RANGE_C * i / 200_000 for i in range(200_001)]
    print("largest relative error of p", max(abs(math.expm1(horner(fit, t) - f(t))) for t in points))

    low, high = f(-HALF_RANGE_C), f(HALF_RANGE_C)
    centre, half = 0.5 * (low + high), 0.5 * (high - low)
    series = chebyshev(lambda x: inverse(f, centre + half * x), GUESS_DEGREE)
    guess = shifted(monomial(series), centre, half)
    show(f"first guess of the dew point {name}, in ln p", guess)
    print("largest error of the guess, K", max(abs(horner(guess, f(t)) - t) for t in points[::100]))
