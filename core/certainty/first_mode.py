"""The band of the first natural frequency: samples on a basis of the likely machine's slowest modes.

With the loads M Phi of the likely modes Phi, the movements Phi' M K^-1 M Phi of a sample are found exactly as in statics
(see `gaps`); the largest eigenvalue of that small matrix is one over the sample's first angular frequency squared. The
matrix belongs to modes once smoothed by the sample's own stiffness, so few of them suffice; one sample is checked in full.
Source: Rayleigh-Ritz on the inverse problem (structural dynamics, any textbook).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.certainty.below import spring_rows
from core.certainty.gaps import make_gaps
from core.certainty.springs import SpringShares
from core.frame import Frame, NotTrustworthy
from core.frame.mass import Lumps
from core.model.masses import with_lumps
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.modes import modes_of, pair_of
from core.modes.slowest import number_below

Floats = npt.NDArray[np.float64]
BASIS = 4
"""Slowest modes that serve; twice as many halve the error of the softest sample, 0.1 to 0.3 % of its frequency."""
AGREE = 5e-3
"""Largest relative difference of the checked sample's frequency from that of its own whole frame."""


def first_mode(
    setting: Setting, x: float, y: float, shares: SpringShares, softer: Floats, corners: Floats
) -> Floats:
    """First natural frequency (n,) of samples, Hz, with the tool at x, y.

    Args:
        softer: (n, p) relative added compliance of each input. corners: (k, p) the same for a few samples that reach far.

    Errors: Mechanism, NotTrustworthy.
    """
    frame, lumps = _frame(setting, x, y)
    pair = pair_of(frame, lumps)
    modes = modes_of(pair, BASIS)
    squares = (2.0 * np.pi * modes.frequencies) ** 2
    parts = {**shares.firm, **shares.stand(y), **shares.ride(x)}
    table, reads = spring_rows(frame, parts)
    moved = pair.factored.solve(np.ascontiguousarray(reads[:, pair.free].T))
    gaps = make_gaps(
        np.diag(1.0 / squares),
        reads @ modes.shapes / squares,
        np.eye(len(reads)) - reads[:, pair.free] @ moved,
        table,
    )
    found = gaps.narrowed(corners).respond(softer)
    return np.asarray(1.0 / np.sqrt(np.linalg.eigvalsh(found)[:, -1]) / (2.0 * np.pi))


def check_first_mode(setting: Setting, x: float, y: float, found: float) -> None:
    """Refuse a sample whose frequency is not that of the whole frame of `setting`, which has its figures.

    The signs of the pivots count the modes below a frequency (Sturm): there must be none a little below the one found, and
    some a little above. Raises NotTrustworthy.
    """
    pair = pair_of(*_frame(setting, x, y))
    ends = [(2.0 * np.pi * found * (1.0 + side * AGREE)) ** 2 for side in (-1.0, 1.0)]
    below, above = (number_below(pair.k, pair.m, end) for end in ends)
    if min(below, above) < 0:  # the pivots cannot tell
        known = float(modes_of(pair, 1).frequencies[0])
        below, above = int(known < found * (1.0 - AGREE)), int(known < found * (1.0 + AGREE))
    if below or not above:
        raise NotTrustworthy("a sample of the first mode's band and the whole frame disagree")


def _frame(setting: Setting, x: float, y: float) -> tuple[Frame, Lumps]:
    return with_lumps(setting, whole_frame(setting, x, y).frame)
