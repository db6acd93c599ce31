"""The quick way through the samples: elimination side by side and few directions, against the plain solve of each sample."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest

from core.certainty import uncertain_inputs
from core.certainty.bands import draw
from core.certainty.chain import FORCES, make_chain
from core.certainty.gaps import Gaps, make_gaps
from core.certainty.springs import SpringShares
from core.frame import NotTrustworthy
from core.machine.layout import layout
from core.model.setting import Setting
from core.sections.book import stock_book
from core.storage import load_project

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))
Floats = npt.NDArray[np.float64]


def plainly(gaps: Gaps, softer: Floats) -> Floats:
    """Y0 + sum of shares - L' S^-1 L, one sample after the other."""
    found = []
    for row in softer:
        mixed = np.tensordot(row, gaps.mixed, 1)
        system = np.eye(mixed.shape[0]) + np.tensordot(row, gaps.redundant, 1)
        found.append(
            gaps.start + np.tensordot(row, gaps.linear, 1) - mixed.T @ np.linalg.solve(system, mixed)
        )
    return np.array(found)


def some_gaps(springs: int, loads: int, inputs: int) -> Gaps:
    rng = np.random.default_rng(5)
    half = rng.standard_normal((springs, springs))
    values, vectors = np.linalg.eigh(half @ half.T)
    redundancy = vectors @ np.diag(values / values.max()) @ vectors.T
    own = rng.standard_normal((loads, loads))
    return make_gaps(
        own @ own.T, rng.standard_normal((springs, loads)), redundancy, rng.random((springs, inputs))
    )


@pytest.mark.parametrize(("springs", "loads", "inputs"), [(7, 3, 4), (1, 1, 1), (12, 4, 2), (5, 8, 3)])
def test_samples_side_by_side_equal_each_solved_alone(springs: int, loads: int, inputs: int) -> None:
    gaps = some_gaps(springs, loads, inputs)
    softer = np.random.default_rng(6).uniform(-0.5, 1.5, (9, inputs)) / springs
    known = plainly(gaps, softer)
    assert gaps.respond(softer) == pytest.approx(known, rel=1e-10, abs=1e-10)
    some = slice(0, max(1, loads // 2))
    assert gaps.respond(softer, some) == pytest.approx(known[:, some, some], rel=1e-10, abs=1e-10)


def test_a_sample_without_an_answer_is_refused() -> None:
    gaps = some_gaps(6, 2, 1)
    with pytest.raises(NotTrustworthy):
        gaps.respond(np.array([[0.1], [-50.0]]))
    with pytest.raises(NotTrustworthy):
        gaps.respond(np.array([[np.nan]]))


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_few_directions_answer_as_all_do(path: Path) -> None:
    project = load_project(path)
    book = stock_book()
    setting = Setting(project.machine, layout(project.machine, book), "likely", book)
    shares = SpringShares(setting, uncertain_inputs(project.machine))
    drawn = draw(shares.inputs, (), 512)
    chain = make_chain(setting, 0.2 * project.machine.work.travel_y, shares)
    for gaps in chain.at(np.array([-0.4, 0.1]) * project.machine.work.travel_x):
        known = gaps.respond(drawn.softer, FORCES)
        few = gaps.narrowed(drawn.corners, FORCES)
        assert few.mixed.shape[1] < gaps.mixed.shape[1]
        own = np.sqrt(np.einsum("nii->ni", known))
        apart = np.abs(few.respond(drawn.softer) - known) / (own[:, :, None] * own[:, None, :])
        assert apart.max() < 1e-6
