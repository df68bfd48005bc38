"""The beta distribution against scipy 1.17.1 (frozen figures) and against closed forms."""

from __future__ import annotations

import math

import pytest

from shearpin.diagnosis.beta import beta_cdf, beta_quantile

# scipy.stats.beta.ppf([0.025, 0.5, 0.975], a, b), scipy 1.17.1
QUANTILES = [
    (20.5, 9.5, 0.5095216525681259, 0.6874555221940868, 0.8340082668516202),
    (0.2, 11.8, 5.588229315544577e-10, 0.0018176314490335064, 0.12406284703217495),
    (1, 9, 0.002809136746599214, 0.07412528771270957, 0.3362671168799428),
    (8.5, 1.5, 0.5855307225594674, 0.8734240857970058, 0.9877359123783805),
    (17.9, 15.1, 0.373678463991453, 0.5432915415016324, 0.7062949998965837),
    (0.5, 0.5, 0.001541333133436012, 0.4999999999999999, 0.9984586668665639),
    (310, 45, 0.8367521536078644, 0.8739405468695699, 0.9057469433654399),
]
# scipy.special.betainc(a, b, x), scipy 1.17.1
CUMULATIVE = [
    (0.3, 2, 5, 0.5798250000000003),
    (0.01, 0.2, 11.8, 0.6931147485992295),
    (0.7, 20.5, 9.5, 0.5589130768696453),
    (0.999, 310, 45, 1.0),
    (0.5, 100, 100, 0.5),
]


@pytest.mark.parametrize(("a", "b", "low", "middle", "high"), QUANTILES)
def test_quantiles_are_scipys(a: float, b: float, low: float, middle: float, high: float) -> None:
    for p, expected in ((0.025, low), (0.5, middle), (0.975, high)):
        assert beta_quantile(p, a, b) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("x", "a", "b", "expected"), CUMULATIVE)
def test_the_incomplete_beta_function_is_scipys(x: float, a: float, b: float, expected: float) -> None:
    assert beta_cdf(x, a, b) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("x", [0.001, 0.2, 0.5, 0.93])
def test_closed_forms_hold(x: float) -> None:
    for b in (0.1, 1.0, 7.0, 300.0):
        assert beta_cdf(x, 1.0, b) == pytest.approx(1 - (1 - x) ** b, rel=1e-12)
    assert beta_cdf(x, 0.5, 0.5) == pytest.approx(2 / math.pi * math.asin(math.sqrt(x)), rel=1e-12)
    # the sum of binomial chances: DLMF 8.17.5
    expected = math.fsum(math.comb(9, k) * x**k * (1 - x) ** (9 - k) for k in range(4, 10))
    assert beta_cdf(x, 4, 6) == pytest.approx(expected, rel=1e-12)


def test_the_ends_are_the_ends() -> None:
    assert (beta_cdf(0.0, 2, 3), beta_cdf(1.0, 2, 3), beta_cdf(-1.0, 2, 3)) == (0.0, 1.0, 0.0)
    assert (beta_quantile(0.0, 2, 3), beta_quantile(1.0, 2, 3)) == (0.0, 1.0)
    with pytest.raises(ValueError, match="above zero"):
        beta_cdf(0.5, 0.0, 1.0)


@pytest.mark.parametrize(
    ("a", "b"), [(0.004612692019210338, 17704.35801792943), (0.413537087029833, 158.348)]
)
def test_the_two_halves_meet_where_each_rounds_to_the_other(a: float, b: float) -> None:
    middle = (a + 1.0) / (a + b + 2.0)
    steps = [math.nextafter(middle, 0.0), middle, math.nextafter(middle, 1.0)]
    low, here, high = (beta_cdf(x, a, b) for x in steps)
    assert low == pytest.approx(here, rel=1e-9)
    assert high == pytest.approx(here, rel=1e-9)
