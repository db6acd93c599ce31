"""The statistics behind the bands against scipy.stats, and a spring whose distribution is known in closed form."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from core.certainty.chance import band_of, log_triangular, rank_correlation, strata
from core.certainty.gaps import make_gaps


@pytest.mark.outside(
    what="Inverse of the log-triangular distribution of an uncertain figure",
    source="scipy.stats.triang on the logarithms",
    status="reference library",
    tolerance="1e-12 relative",
)
@given(low=st.floats(1e-3, 1e9), up=st.floats(1.0, 10.0), on=st.floats(0.0, 1.0))
def test_log_triangular(low: float, up: float, on: float) -> None:
    high = low * (1.001 + up)
    likely = low * (high / low) ** on
    chance = np.linspace(0.0, 1.0, 41)
    a, c, b = np.log([low, min(max(likely, low), high), high])
    known = np.exp(stats.triang.ppf(chance, (c - a) / (b - a), loc=a, scale=b - a))
    assert log_triangular(low, min(max(likely, low), high), high, chance) == pytest.approx(known, rel=1e-7)


@pytest.mark.outside(
    what="Rank correlation of inputs with an answer",
    source="scipy.stats.spearmanr",
    status="reference library",
    tolerance="1e-12",
)
def test_rank_correlation() -> None:
    rng = np.random.default_rng(1)
    inputs = rng.lognormal(size=(300, 3))
    output = inputs[:, 0] - 0.3 * inputs[:, 1] ** 2 + 0.1 * rng.standard_normal(300)
    known = [stats.spearmanr(inputs[:, k], output).statistic for k in range(3)]
    assert rank_correlation(inputs, output) == pytest.approx(known, abs=1e-12)


@pytest.mark.outside(
    what="5 and 95 % quantiles of a single spring's deflection under a force, 2,048 samples",
    source="closed form: F / k with k log-triangular, quantiles by scipy.stats.triang",
    status="reference library",
    tolerance="0.5 %, the scatter of stratified samples",
)
def test_one_spring() -> None:
    low, likely, high, force = 2e6, 5e6, 9e6, 100.0
    drawn = log_triangular(low, likely, high, strata("spring", 2048))
    gaps = make_gaps(
        np.array([[1.0 / likely]]), np.array([[1.0 / np.sqrt(likely)]]), np.zeros((1, 1)), np.ones((1, 1))
    )
    moved = force * gaps.respond((likely / drawn - 1.0)[:, None])[:, 0, 0]
    a, c, b = np.log([low, likely, high])
    known = force / np.exp(stats.triang.ppf([0.95, 0.05], (c - a) / (b - a), loc=a, scale=b - a))
    assert np.array(band_of(moved, force / likely)) == pytest.approx(known, rel=5e-3)


@pytest.mark.outside(
    what="Two uncertain springs side by side and one in series: 2,048 samples against the closed form of each",
    source="springs in series and side by side (any textbook)",
    status="computed",
    tolerance="1e-12 relative",
)
def test_springs_in_series_and_side_by_side() -> None:
    likely = np.array([3e6, 7e6, 5e6])  # two side by side, then one in series
    drawn = np.column_stack([log_triangular(0.3 * k, k, 2.5 * k, strata(f"s{k}", 2048)) for k in likely])
    k1, k2, k3 = likely
    pair = k1 + k2
    forces = np.array([[k1 / pair], [k2 / pair], [1.0]]) / np.sqrt(likely)[:, None]
    firm = np.diag(likely)
    spread = np.zeros((3, 3))
    spread[:2, :2] = firm[:2, :2] - np.outer(likely[:2], likely[:2]) / pair
    scaled = spread / np.sqrt(likely)[:, None] / np.sqrt(likely)
    gaps = make_gaps(np.array([[1.0 / pair + 1.0 / k3]]), forces, scaled, np.eye(3))
    known = 1.0 / (drawn[:, 0] + drawn[:, 1]) + 1.0 / drawn[:, 2]
    assert gaps.respond(likely / drawn - 1.0)[:, 0, 0] == pytest.approx(known, rel=1e-12)
    # Slopes at likely: d(1/k3)/d(ln softness of 3) is 1/k3, and each of the pair's carries its part squared.
    assert gaps.slopes[:, 0, 0] == pytest.approx([k1 / pair**2, k2 / pair**2, 1.0 / k3], rel=1e-12)


@pytest.mark.outside(
    what="Quantiles of 2,048 stratified samples come nearer to the true ones than 128 do",
    source="scipy.stats.triang",
    status="reference library",
    tolerance="half of the error at least",
)
def test_quantiles_converge() -> None:
    known = np.exp(stats.triang.ppf([0.05, 0.95], 0.5, loc=0.0, scale=2.0))
    errors = []
    for count in (128, 2048):
        found = [band_of(log_triangular(1.0, np.e, np.e**2, strata(f"{k}", count)), np.e) for k in range(10)]
        errors.append(float(np.abs(np.array(found) / known - 1.0).mean()))
    assert errors[1] < 0.5 * errors[0]
