"""The distribution and the reading of samples, beyond what the outside checks hold."""

from __future__ import annotations

import numpy as np
import pytest

from core.certainty.chance import band_of, log_triangular, rank_correlation, strata


def test_band_takes_in_a_likely_figure_at_the_edge_of_its_limits() -> None:
    values = 1.0 / log_triangular(1.0, 1.0, 3.0, strata("one-sided", 512))
    low, high = band_of(values, 1.0)
    assert high == 1.0
    assert low == pytest.approx(float(np.quantile(values, 0.05)))
    other, same = band_of(values, 0.2)
    assert other == 0.2
    assert same == pytest.approx(float(np.quantile(values, 0.95)))


def test_strata_hold_one_draw_each_and_hang_on_the_path_alone() -> None:
    drawn = strata("machine.a", 64)
    assert np.array_equal(np.sort(np.floor(drawn * 64)), np.arange(64))
    assert np.array_equal(drawn, strata("machine.a", 64))
    assert not np.array_equal(drawn, strata("machine.b", 64))
    both = np.column_stack([strata("machine.a", 2048), strata("machine.b", 2048)])
    assert abs(np.corrcoef(both.T)[0, 1]) < 0.06


def test_nothing_varying_correlates_with_nothing() -> None:
    inputs = np.column_stack([np.arange(5.0), np.ones(5)])
    assert rank_correlation(inputs, np.full(5, 2.0)).tolist() == [0.0, 0.0]
    assert rank_correlation(inputs, np.arange(5.0)).tolist() == pytest.approx([1.0, 0.0])


def test_an_exact_figure_is_drawn_as_it_is() -> None:
    assert log_triangular(2.0, 2.0, 2.0, strata("x", 8)).tolist() == [2.0] * 8
