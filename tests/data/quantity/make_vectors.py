#!/usr/bin/env python3
"""Writes decimal_vectors.tsv: what exact arithmetic on Decimal must give, worked out with Python's
unbounded integers and fractions, a route that shares nothing with the C++ code.

Columns: operation, a (mantissa scale), b (mantissa scale), places, rounding, result. The result is
a value in lowest decimal form or "void"; comparisons give less, equal or greater."""
import math
import random
from fractions import Fraction

MOST = 2**63 - 1
MAX_SCALE = 18


def value(x):
    return Fraction(x[0], 10 ** x[1])


def fit(m, scale):
    """m / 10**scale as Decimal can hold it, or void; only trailing zeros may be dropped."""
    while scale > 0 and (scale > MAX_SCALE or abs(m) > MOST) and m % 10 == 0:
        m //= 10
        scale -= 1
    if scale > MAX_SCALE or abs(m) > MOST:
        return "void"
    while scale > 0 and m % 10 == 0:
        m //= 10
        scale -= 1
    return text(m, scale)


def text(m, scale):
    digits = str(abs(m)).rjust(scale + 1, "0")
    if scale:
        digits = digits[:-scale] + "." + digits[-scale:]
    return ("-" if m < 0 else "") + digits


def integer(exact, rounding):
    """Nearest integer of a Fraction: towards zero, away from it, or half away from it."""
    sign = -1 if exact < 0 else 1
    exact = abs(exact)
    whole = exact.numerator // exact.denominator
    rest = exact - whole
    if rest and (rounding == "up" or (rounding == "half_up" and rest >= Fraction(1, 2))):
        whole += 1
    return sign * whole


def root(x, places, rounding):
    if x[0] < 0 or places > 9:
        return "void"
    scaled = value(x) * 10 ** (2 * places)
    whole = math.isqrt(scaled.numerator // scaled.denominator)
    exact = Fraction(whole) ** 2 == scaled
    if not exact and rounding == "up":
        whole += 1
    if not exact and rounding == "half_up" and (whole + Fraction(1, 2)) ** 2 <= scaled:
        whole += 1
    return fit(whole, places)


def pick(rng):
    kind = rng.random()
    if kind < 0.15:
        return (rng.choice([0, 1, -1, MOST, -MOST, MOST - 1, 5, 10**18]), rng.randrange(19))
    bits = rng.choice([4, 8, 16, 32, 48, 62])
    return (rng.randrange(2**bits) * rng.choice([1, 1, -1]), rng.choice([0, 0, 1, 2, 2, 3, 6, 9, 18]))


def main():
    rng = random.Random(7671)
    rows = []
    roundings = ["down", "up", "half_up"]
    for _ in range(400):
        a, b = pick(rng), pick(rng)
        scale = max(a[1], b[1])
        x, y = a[0] * 10 ** (scale - a[1]), b[0] * 10 ** (scale - b[1])
        rows.append(("add", a, b, 0, "-", fit(x + y, scale)))
        rows.append(("subtract", a, b, 0, "-", fit(x - y, scale)))
        rows.append(("multiply", a, b, 0, "-", fit(a[0] * b[0], a[1] + b[1])))
        order = "less" if x < y else "greater" if x > y else "equal"
        rows.append(("compare", a, b, 0, "-", order))
        places, how = rng.choice([0, 1, 2, 3, 4, 6, 12, 18]), rng.choice(roundings)
        quotient = "void" if b[0] == 0 else fit(
            integer(value(a) / value(b) * 10**places, how), places)
        rows.append(("divide", a, b, places, how, quotient))
        rounded = fit(a[0], a[1]) if a[1] <= places else fit(
            integer(value(a) * 10**places, how), places)
        rows.append(("round", a, (0, 0), places, how, rounded))
        places = rng.choice([0, 1, 2, 3, 6, 9])
        rows.append(("sqrt", a, (0, 0), places, how, root(a, places, how)))
    # Halves and quarters, where a dropped digit decides.
    for m, s in [(25, 2), (225, 2), (2249, 3), (2251, 3), (625, 2), (3025, 2), (15129, 4), (1225, 2)]:
        for how in roundings:
            for places in (0, 1):
                rows.append(("sqrt", (m, s), (0, 0), places, how, root((m, s), places, how)))
    with open("decimal_vectors.tsv", "w", encoding="utf-8") as out:
        out.write("operation\ta_mantissa\ta_scale\tb_mantissa\tb_scale\tplaces\trounding\tresult\n")
        for op, a, b, places, how, result in rows:
            out.write(f"{op}\t{a[0]}\t{a[1]}\t{b[0]}\t{b[1]}\t{places}\t{how}\t{result}\n")


if __name__ == "__main__":
    main()
