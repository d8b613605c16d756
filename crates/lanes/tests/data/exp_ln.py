"""Writes exp_ln.csv: exp and ln of doubles to 60 digits. Python's own decimal module, nothing to install.

    python3 exp_ln.py > exp_ln.csv

A row is function, argument, nearest, rest_ulp: the exact value is `nearest + rest_ulp × ulp(nearest)`, where `ulp(x)` is
the gap from |x| to the next double. So an error of a hundredth of an ulp can be seen, also where the value is near the
smallest double. The arguments are exact doubles, written so that they read back to the same bits.
"""
import decimal
import math
import random
from decimal import Decimal

decimal.getcontext().prec = 60
decimal.getcontext().Emin = -9999
pick = random.Random(20261125)


def signed(values):
    return [sign * value for value in values for sign in (1.0, -1.0)]


def neighbours(value):
    return [math.nextafter(value, -math.inf), value, math.nextafter(value, math.inf)]


def exp_arguments():
    yield from [0.0, -708.0, 709.0]
    yield 674.1146248538514  # the largest error in ulp of 150 000 arguments drawn once
    yield from [-708.0 + 1417.0 * pick.random() for _ in range(110)]
    # Dense near 0: where e^x is 1 and a little.
    yield from signed(10.0 ** (-16 + 0.25 * k) for k in range(64))
    # Where the multiple of ln 2 that is taken off changes, and the remainder is largest.
    for n in (-1000, -300, -41, -6, -2, -1, 0, 1, 2, 6, 41, 300, 1000):
        yield from neighbours((n + 0.5) * math.log(2))
    # The arguments that the model meets: ln of a saturation pressure, transfer units.
    yield from [-20.0 + 32.0 * pick.random() for _ in range(40)]


def ln_arguments():
    yield from [1.0, 1e-300, 1e300, 2.2250738585072014e-308, 1.7976931348623157e308]
    yield 0.6345689585593228  # the largest error in ulp of 150 000 arguments drawn once
    yield from [10.0 ** (-300 + 600 * pick.random()) for _ in range(110)]
    # Dense near 1, on both sides: where ln x is small beside its parts.
    yield from [1.0 + d for d in signed(10.0 ** (-16 + 0.25 * k) for k in range(63))]
    yield from neighbours(1.0)
    # Where the octave changes, and ln m is largest.
    for k in (-900, -30, -2, -1, 0, 1, 2, 30, 900):
        yield from neighbours(math.ldexp(math.sqrt(0.5), k))
    # The arguments that the model meets: pressures, absolute temperatures.
    yield from [10.0 ** (-1 + 6 * pick.random()) for _ in range(40)]


def row(name, argument, exact):
    nearest = float(exact)
    rest = (exact - Decimal(nearest)) / Decimal(math.ulp(nearest))
    return f"{name},{argument!r},{nearest!r},{float(rest):.6f}"


print("function,argument,nearest,rest_ulp")
for x in sorted(set(exp_arguments())):
    print(row("exp", x, Decimal(x).exp()))
for x in sorted(set(ln_arguments())):
    print(row("ln", x, Decimal(x).ln()))
