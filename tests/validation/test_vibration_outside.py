"""A whole machine's modes by a general-purpose frame library, and the closed limit of chatter with a single mode."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from core.machine.layout import layout
from core.machine.loads import CutForce
from core.model.export import frame_data
from core.model.setting import Setting
from core.sections.book import stock_book
from core.storage import load_project
from core.vibration import frequencies_at
from core.vibration.chatter import find_stability, stable_depths
from core.vibration.receptance import Receptance
from scripts import second_modes

DEMOS = sorted((Path(__file__).parents[2] / "demo_projects").glob("*.json"))


@pytest.mark.parametrize("number", range(len(DEMOS)))
@pytest.mark.outside(
    what="six modes of whole machines (the demo projects), as a whole frame and reduced to parts",
    source="OpenSees through openseespy: eigen on the exported frame, members cut to 0.1 m, mass lumped in their nodes",
    status="reference library",
    tolerance="0.2 % whole (lumped mass on pieces of 0.1 m), 0.5 % reduced",
)
def test_whole_machine(number):
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    project = load_project(DEMOS[number])
    book = stock_book()
    setting = Setting(project.machine, layout(project.machine, book), "likely", book)
    x, y = 0.21 * project.machine.work.travel_x, -0.13 * project.machine.work.travel_y
    data = frame_data(setting, project, x, y)
    second_modes.build(library, data, 0.1)
    theirs = second_modes.frequencies(library)
    library.wipe()
    assert data["vibration"]["frequencies_Hz"] == pytest.approx(theirs.tolist(), rel=2e-3)
    reduced = frequencies_at(setting, np.array([x]), np.array([y]))[0]
    assert reduced == pytest.approx(theirs, rel=5e-3)


def one_mode(stiffness, damping, hertz, along):
    """Receptance of a tip that moves along one direction only, on a fine grid."""
    frequency = np.linspace(0.5 * hertz, 1.6 * hertz, 20001)
    ratio = frequency / hertz
    size = 1.0 / (stiffness * (1.0 - ratio**2 + 2j * damping * ratio))
    tip = size[:, None, None] * np.outer(along, along)
    return Receptance(frequency, np.array([tip, tip, tip])), size


@pytest.mark.parametrize("damping", [0.01, 0.03, 0.1])
@pytest.mark.outside(
    what="limiting depth of cut with a single mode along the cut surface's normal: b = 2 k zeta (1 + zeta) / (K z)",
    source="Tlusty's limit as in Altintas, Manufacturing Automation, ch. 4; the least real part is -1/(4 k zeta (1 + zeta))",
    status="memory high",
    tolerance="1e-4 (frequency grid)",
)
def test_limit_with_one_mode(damping):
    stiffness, hertz, pressure = 2.0e6, 90.0, 3.0e7
    receptance, _ = one_mode(stiffness, damping, hertz, (0.0, 1.0, 0.0))
    # A full slot with two teeth keeps one in the cut. The force as entered is tangential along X, radial along Y.
    cut = CutForce(teeth=2, radial_share=0.4, axial_share=0.25)
    found = find_stability(0, "cut", cut, False, receptance, (100.0, 400.0))
    wanted = 2.0 * stiffness * damping * (1.0 + damping) / (pressure * 0.4)
    assert found.teeth == pytest.approx(1.0)
    assert found.limit[1] == pytest.approx(wanted, rel=1e-4)
    assert found.frequency == pytest.approx(hertz * np.sqrt(1.0 + 2.0 * damping), rel=1e-4)


@pytest.mark.outside(
    what="lobes of stability with a single mode: speed and depth along each lobe from the phase of the receptance",
    source="Altintas, Manufacturing Automation, ch. 4: n = omega / (k + eps / 2 pi) / z, eps = 3 pi + 2 arctan(Im/Re)",
    status="memory high",
    tolerance="0.5 % (borders between figures of a frequency grid)",
)
def test_lobes_with_one_mode():
    stiffness, damping, hertz, pressure = 2.0e6, 0.03, 90.0, 3.0e7
    receptance, size = one_mode(stiffness, damping, hertz, (0.0, 1.0, 0.0))
    chatter = np.flatnonzero(size.real < -0.3 * np.abs(size.real).max())[::400]
    for lobe in (1, 2, 3):
        depth = -1.0 / (2.0 * pressure * size.real[chatter])
        # 1 + K b G (1 - e^(-i eps)) = 0 asks 1 - e^(-i eps) = 2 Re/G, so e^(-i eps) = -conj(G)/G.
        phase = np.mod(-np.angle(-np.conj(size[chatter]) / size[chatter]), 2.0 * np.pi)
        teeth_rate = receptance.frequency[chatter] / (lobe + phase / (2.0 * np.pi))
        found = stable_depths(teeth_rate, receptance.frequency, size, pressure)
        # Another lobe may lie lower at the same speed; on its own a lobe's border is met exactly.
        assert np.all(found <= depth * 1.005)
        lowest = np.argmin(depth)
        assert found[lowest] == pytest.approx(depth[lowest], rel=5e-3)
