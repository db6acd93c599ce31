"""Six modes of the whole machine, ours against a general-purpose frame library's: a part of the bench."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from typing import Any

import numpy as np

from core.frame import Frame
from core.frame.mass import Lumps
from core.frame.subdivide import subdivide
from core.machine.project import Project
from core.model.export import frame_data
from core.model.masses import with_lumps
from core.model.setting import Setting
from core.model.vibrating import pieces_for
from core.model.whole import whole_frame
from core.modes import find_modes
from core.vibration import frequencies_at

Figures = dict[str, Any]
MODE_PIECE = 0.3  # m; with it the library's lumped mass is about as exact as our consistent one on its pieces


def bench_modes(
    setting: Setting, project: Project, seconds: Callable[[Callable[[], object]], float]
) -> Figures:
    """Six modes of the whole machine: the whole frame, the reduced parts, and OpenSees on about as many pieces.

    `seconds` gives the median time of a piece of work.
    """
    places = np.array([0.2])
    whole = seconds(lambda: _six_modes(setting))
    reduced = seconds(lambda: frequencies_at(setting, places, places))
    found: Figures = {"whole_s": whole, "reduced_s": reduced}
    try:
        import openseespy.opensees as library
    except ImportError as error:
        return {**found, "missing": str(error)}
    from scripts import second_modes

    data = frame_data(setting, project, 0.2, 0.2)
    ours = np.array(data["vibration"]["frequencies_Hz"])
    building, solving, apart = [], [], 0.0
    for _ in range(5):
        begin = time.perf_counter()
        pieces = second_modes.build(library, data, MODE_PIECE)
        built = time.perf_counter()
        theirs = second_modes.frequencies(library)
        solving.append(time.perf_counter() - built)
        building.append(built - begin)
        apart = float(np.abs(theirs / ours - 1.0).max())
    library.wipe()
    return {
        **found, "library_building_s": statistics.median(building), "library_eigen_s": statistics.median(solving),
        "library_pieces": pieces, "our_pieces": len(_fine_frame(setting)[0].members.names), "largest_difference": apart,
    }  # fmt: skip


def _fine_frame(setting: Setting) -> tuple[Frame, Lumps]:
    frame, lumps = with_lumps(setting, whole_frame(setting, 0.2, 0.2).frame)
    return subdivide(frame, pieces_for(frame)), lumps


def _six_modes(setting: Setting) -> object:
    frame, lumps = _fine_frame(setting)
    return find_modes(frame, 6, lumps)


def mode_rows(modes: Figures) -> list[tuple[str, str]]:
    """Six modes of the whole machine, ours and the library's."""
    own = f"{modes['whole_s'] * 1e3:.0f} ms as one frame, {modes['reduced_s'] * 1e3:.0f} ms reduced, all from the description"
    if "missing" in modes:
        return [
            ("six modes of the machine", own),
            ("same by a frame library", f"not measured: {modes['missing']}"),
        ]
    theirs = modes["library_building_s"] + modes["library_eigen_s"]
    eigen = modes["library_eigen_s"]
    return [
        ("six modes of the machine", own),
        ("same by OpenSees", f"{theirs * 1e3:.0f} ms, its eigen solve alone {eigen * 1e3:.0f} ms"),
        ("  largest difference", f"{modes['largest_difference']:.1e}"),
        (
            "  ratio library / ours",
            f"{theirs / modes['whole_s']:.1f} (aim 1); its eigen alone {eigen / modes['whole_s']:.1f}",
        ),
    ]
