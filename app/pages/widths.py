"""How wide the columns of a table become: no wider than the room, words wrapped before anything scrolls sideways."""

from __future__ import annotations

from collections.abc import Sequence

MOST_GROWN = 2.0
"""Columns grow to this many times their text, no further, so that a row can still be followed across."""


def fit_widths(
    natural: Sequence[int], least: Sequence[int | None], room: int, taker: int | None = None
) -> list[int]:
    """Widths of columns in pixels.

    Args:
        natural: width of each column's longest text. least: how narrow it may become by wrapping; None for columns
            that do not wrap. room: what there is altogether.
        taker: the column that takes all room that is left; else all grow alike, up to `MOST_GROWN`.
    """
    spare = room - sum(natural)
    if spare >= 0:
        if taker is not None:
            return [width + (spare if k == taker else 0) for k, width in enumerate(natural)]
        factor = min(MOST_GROWN, room / max(1, sum(natural)))
        return [int(width * factor) for width in natural]
    level = max([0, *(width for width, low in zip(natural, least, strict=True) if low is not None)])
    widths = list(natural)
    while level > 0 and sum(widths) > room:
        level -= max(1, (sum(widths) - room) // (2 * len(widths)))
        widths = [
            width if low is None else min(width, max(low, level))
            for width, low in zip(natural, least, strict=True)
        ]
    return widths
