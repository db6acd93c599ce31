"""Small checks of the arrays that describe a frame; each failure is a BadEntry that names the culprit."""

from __future__ import annotations

from collections import Counter
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.errors import BadEntry

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


def numbers(where: str, values: ArrayLike, tail: tuple[int, ...]) -> Floats:
    """Floats whose trailing shape is `tail`; anything may stand before it (batch axes)."""
    try:
        array = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError) as problem:
        raise BadEntry(where, repr(values)[:60], "is not made of numbers", "numbers in SI units") from problem
    if array.shape[array.ndim - len(tail) :] != tail or array.ndim < len(tail):
        shape = "(..., " + ", ".join(map(str, tail)) + ")"
        raise BadEntry(where, f"an array of shape {array.shape}", "has the wrong shape", f"shape {shape}")
    return array


def whole_numbers(where: str, values: ArrayLike, count: int, lowest: int, below: int | None = None) -> Ints:
    """A list of `count` whole numbers from `lowest` up to, but without, `below`."""
    array = np.asarray(values)
    if array.shape != (count,) or (array.size and array.dtype.kind not in "iu"):
        raise BadEntry(
            where, f"an array of shape {array.shape}", "is no list of whole numbers", f"{count} of them"
        )
    wrong = array < lowest if below is None else (array < lowest) | (array >= below)
    if np.any(wrong):
        upper = "" if below is None else f" to {below - 1}"
        value = str(array[wrong][0])
        raise BadEntry(where, value, "is no number of a node or member of this frame", f"{lowest}{upper}")
    return array.astype(np.int64)


def flags(where: str, values: ArrayLike, shape: tuple[int, ...]) -> Bools:
    """True-or-false array of exactly this shape."""
    array = np.asarray(values)
    if array.shape != shape or (array.size and array.dtype.kind != "b"):
        raise BadEntry(
            where, f"an array of shape {array.shape}", "does not fit", f"true or false, shape {shape}"
        )
    return array.astype(np.bool_)


def require(
    where: str, array: Floats, good: Bools, names: tuple[str, ...], problem: str, accepted: str
) -> None:
    """Raise BadEntry for the first False in `good` (..., k), naming entry k by `names` (k,)."""
    if np.all(good):
        return
    place = np.argwhere(~good)[0]
    value = array[tuple(place)]
    shown = str(float(value)) if np.ndim(value) == 0 else str(value)
    raise BadEntry(f"{where} of {names[int(place[-1])]}", shown, problem, accepted)


def finite_vectors(
    where: str, array: Floats, names: tuple[str, ...], accepted: str = "three finite numbers"
) -> None:
    """Every vector (..., k, 3) finite."""
    finite = np.isfinite(array)
    if finite.all():
        return
    good: Bools = np.asarray(finite.all(axis=-1))
    require(where, array, good, names, "is not finite", accepted)


def in_range(where: str, array: Floats, names: tuple[str, ...], *, zero: bool, endless: bool = False) -> None:
    """Every number (..., k) above zero (or zero, if allowed) and finite (or infinite, if allowed)."""
    if array.size:  # two numbers settle the usual case; a NaN settles nothing
        least = array.min()
        if (least >= 0.0 if zero else least > 0.0) and (endless or array.max() < np.inf):
            return
    good: Bools = np.asarray(np.greater_equal(array, 0.0) if zero else np.greater(array, 0.0))
    if not endless:
        good = good & np.isfinite(array)
    accepted = "zero or a positive finite number" if zero else "a positive finite number"
    require(
        where,
        array,
        np.asarray(good),
        names,
        "cannot be used",
        accepted + (" or infinity" if endless else ""),
    )


def unique_names(where: str, names: Any, count: int) -> tuple[str, ...]:
    """Names as a tuple, each met once."""
    named = tuple(str(name) for name in names)
    if len(named) != count:
        raise BadEntry(where, f"{len(named)} names", "do not match the number of entries", f"{count} names")
    if len(set(named)) < count:
        twice = Counter(named).most_common(1)[0]
        raise BadEntry(where, twice[0], "is used more than once", "a different name for each")
    return named


def groups(where: str, names: Any, count: int) -> tuple[str, ...]:
    """Budget groups as a tuple; many entries may share one."""
    named = tuple(str(name) for name in names)
    if len(named) != count:
        raise BadEntry(where, f"{len(named)} names", "do not match the number of entries", f"{count} names")
    return named
