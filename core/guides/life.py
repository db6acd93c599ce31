"""Rating life and static safety of a carriage: the standards' formulas, one each."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

RATED_DISTANCE = 1.0e5  # m; ISO 14728-1 states C for this travel
NO_LOAD = 1.0e-9  # N; below it nothing wears


def for_100_km(dynamic: float, rated_for: str) -> float:
    """Dynamic rating for 100 km of travel, N, from one stated for "100 km" or "50 km".

    Source: follows from ISO 14728-1: with L proportional to C^3, C for 50 km = 2^(1/3) C for 100 km.
    """
    return dynamic / 2.0 ** (1.0 / 3.0) if rated_for == "50 km" else dynamic


def equivalent(normal: Floats, lateral: Floats) -> Floats:
    """Equivalent load (...), N, of a carriage that carries alike in all four directions: |normal| + |lateral|.

    Source: common practice of the trade for such carriages; the datasheet's own rule wins.
    """
    return np.asarray(np.abs(normal) + np.abs(lateral))


def lost_preload(preload: Floats) -> Floats:
    """Outer load (...), N, at which the unloaded ball rows of a carriage preloaded by `preload` (N) come free.

    Source: two opposed rows of Hertzian point contacts, force as approach^1.5: the loaded row then has twice its approach,
    2^1.5 times its force. Derived here; the figure 2.8 is common practice.
    """
    return np.asarray(2.0**1.5 * preload)


def with_preload(load: Floats, preload: Floats) -> Floats:
    """Force (...), N, in the loaded ball rows of a preloaded carriage under an outer load (...), N.

    (1 + F / (2.83 F0))^1.5 F0 up to where the preload is lost, from there the outer load. Source: as `lost_preload`, with the
    approach taken to grow evenly with the load (common practice).
    """
    ends = lost_preload(preload)
    share = np.divide(
        load, ends, out=np.ones(np.broadcast_shapes(np.shape(load), np.shape(ends))), where=ends > NO_LOAD
    )
    return np.asarray(np.where(load < ends, (1.0 + np.minimum(share, 1.0)) ** 1.5 * preload, load))


def life(dynamic: Floats | float, load: Floats | float) -> Floats:
    """Basic rating life L10, m: L = (C / P)^3 x 100 km, reached by nine carriages in ten; infinite without load.

    Args:
        dynamic: C for 100 km, N. load: equivalent load P, N; both broadcast.

    Source: ISO 14728-1 (ball carriages, exponent 3).
    """
    c, p = np.broadcast_arrays(np.asarray(dynamic, dtype=np.float64), np.asarray(load, dtype=np.float64))
    endless = np.full(p.shape, np.inf)
    ratio = np.divide(c, p, out=endless, where=p > NO_LOAD)
    return np.asarray(ratio**3 * RATED_DISTANCE)


def static_safety(static: Floats | float, load: Floats | float) -> Floats:
    """S0 = C0 / P0; infinite without load. Source: ISO 14728-2."""
    c, p = np.broadcast_arrays(np.asarray(static, dtype=np.float64), np.asarray(load, dtype=np.float64))
    return np.asarray(np.divide(c, p, out=np.full(p.shape, np.inf), where=p > NO_LOAD))


def cubic_mean(loads: Floats, shares: Floats) -> Floats:
    """Mean load (c,) for the life from loads (k, c) and their shares (k,) of the travel: (sum of share x P^3)^(1/3).

    Source: ISO 14728-1, mean load (linear damage, exponent 3).
    """
    largest = np.max(loads, axis=0, initial=0.0)
    scale = np.where(largest > 0.0, largest, 1.0)  # tiny loads would lose their cubes
    weights = shares / np.sum(shares)
    return np.asarray(scale * np.cbrt(np.einsum("k,kc->c", weights, (loads / scale) ** 3)))


def hours(distance: Floats | float, speed: Floats | float) -> Floats:
    """Running hours for a distance (m) at a mean speed (m/s)."""
    return np.asarray(np.asarray(distance) / (3600.0 * np.asarray(speed)))
