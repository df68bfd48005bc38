"""The beta distribution: regularised incomplete beta function and its inverse, for credible intervals."""

from __future__ import annotations

import math
from typing import Final

_TINY: Final = 1e-300
_PRECISION: Final = 1e-16
_MOST_TERMS: Final = 10_000


def beta_cdf(x: float, a: float, b: float) -> float:
    """Return I_x(a, b), the chance that a beta(a, b) variable is at most x; a and b above zero.

    Continued fraction of the incomplete beta function (NIST Digital Library of Mathematical Functions 8.17.22),
    worked by the modified method of Lentz; 8.17.4 for the half where it converges slowly. Raises `ValueError` for other
    parameters.
    """
    if a <= 0.0 or b <= 0.0:
        raise ValueError("a beta distribution needs two parameters above zero")
    if x <= 0.0:
        return 0.0
    if x >= 1.0:
        return 1.0
    if x > (a + 1.0) / (a + b + 2.0):
        return 1.0 - _lower_half(1.0 - x, b, a)
    return _lower_half(x, a, b)


def beta_quantile(p: float, a: float, b: float) -> float:
    """Return the x with I_x(a, b) = p, by halving: sure for every shape, and exact to the last digits.

    Raises like `beta_cdf`.
    """
    if p <= 0.0:
        return 0.0
    if p >= 1.0:
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(200):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if beta_cdf(middle, a, b) < p:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _lower_half(x: float, a: float, b: float) -> float:
    """Return I_x(a, b) where the fraction converges quickly, or a rounding beyond."""
    if x <= 0.0:
        return 0.0
    front = math.exp(a * math.log(x) + b * math.log1p(-x) - _log_beta(a, b)) / a
    return min(1.0, front * _fraction(x, a, b))


def _log_beta(a: float, b: float) -> float:
    return math.lgamma(a) + math.lgamma(b) - math.lgamma(a + b)


def _fraction(x: float, a: float, b: float) -> float:
    """Return 1/(1 + d1/(1 + d2/(1 + …))) of DLMF 8.17.22."""
    c, d, value = 1.0 / _TINY, 1.0, 1.0
    for index in range(1, _MOST_TERMS):
        m = index // 2
        if index % 2:
            term = -(a + m) * (a + b + m) * x / ((a + index - 1) * (a + index))
        else:
            term = m * (b - m) * x / ((a + index - 1) * (a + index))
        d = 1.0 / _away_from_zero(1.0 + term * d)
        c = _away_from_zero(1.0 + term / c)
        value *= c * d
        if abs(c * d - 1.0) < _PRECISION:
            break
    return value


def _away_from_zero(number: float) -> float:
    return number if abs(number) > _TINY else _TINY
