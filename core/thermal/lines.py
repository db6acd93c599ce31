"""The line of a beam that wants to curve by heat over part of its length, resting on two or more supports.

The bending stiffness drops out, for curvature is given: the more supports hold the beam down, the less is left between.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def bow_line(x: Floats, curvature: Floats, patch: tuple[float, float], supports: Floats) -> Floats:
    """Height of the line, zero at every support, positive on the side towards which a positive curvature turns the ends.

    Args:
        x: (n,) places, m. curvature: (k,) curvature within `patch` (from, to), 1/m; straight outside.
        supports: (s,) places, s at least two, rising.

    Returns (k, n). Source: double integration; beam tables (Roark) for the point load, superposed so that no support moves.
    """
    first, span = float(supports[0]), float(supports[-1] - supports[0])
    ends = np.array([supports[0], supports[-1]])

    def unit(at: Floats) -> Floats:
        raw, at_ends = _curved(at, patch), _curved(ends, patch)
        return np.asarray(raw - at_ends[0] - (at_ends[1] - at_ends[0]) * (at - first) / span)

    line = unit(x)
    inner = np.asarray(supports[1:-1], float)
    if inner.size:
        hold = _loaded(inner[:, None] - first, inner[None, :] - first, span)
        line = line - _loaded(x[:, None] - first, inner[None, :] - first, span) @ np.linalg.solve(
            hold, unit(inner)
        )
    return np.asarray(np.asarray(curvature, float)[:, None] * line)


def _curved(x: Floats, patch: tuple[float, float]) -> Floats:
    """Curvature one within the patch, integrated twice from its beginning."""
    begin, end = patch
    inside = np.clip(x, begin, end) - begin
    return np.asarray(inside**2 / 2.0 + (end - begin) * np.maximum(x - end, 0.0))


def _loaded(x: Floats, at: Floats, span: float) -> Floats:
    """Deflection of a pinned beam (E I = 1) at x under a unit load at `at`, both from its left end; straight outside."""
    left = np.clip(x, 0.0, span)
    near, far = np.minimum(left, at), np.maximum(left, at)
    inside = near * (span - far) * (span**2 - near**2 - (span - far) ** 2) / (6.0 * span)
    begin = (span - at) * (span**2 - (span - at) ** 2) / (6.0 * span)
    end = -at * (span**2 - at**2) / (6.0 * span)
    return np.asarray(inside + begin * np.minimum(x, 0.0) + end * np.maximum(x - span, 0.0))
