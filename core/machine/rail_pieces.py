"""Rails made of several pieces butted together: the longest piece that is bought, and how far joints keep apart."""

from __future__ import annotations

from typing import Annotated

from core.fields import Described, Spec


class RailPieces(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How the two rails of an axis are cut into pieces.

    The first rail is the left, lower or front one of the pair, the second one the other.
    """

    longest: Annotated[
        float | None,
        Spec(
            "length",
            0.1,
            12.0,
            "Longest piece of rail",
            "Longer rails are made of pieces, butted between two holes. Automatic: one piece.",
        ),
    ] = None
    stagger: Annotated[
        float | None,
        Spec(
            "length",
            0.0,
            12.0,
            "Joints of the two rails apart by",
            "At least; 0 for none. Automatic: a carriage's length, so that no two cross at once (common practice).",
        ),
    ] = None
    first: Annotated[
        float | None,
        Spec(
            "length",
            0.05,
            12.0,
            "First piece of the first rail",
            "Of the left, lower or front rail. Automatic: chosen.",
        ),
    ] = None
    second: Annotated[
        float | None,
        Spec("length", 0.05, 12.0, "First piece of the second rail", "Of the other rail. Automatic: chosen."),
    ] = None
