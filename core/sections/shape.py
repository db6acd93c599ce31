"""What the section analysis is asked for a built-up or imported section: regions of metal, each with its weight.

A weight is the region's modulus of elasticity over that of the main material.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any

import msgspec

from core.sections.outlines import Ring

NANO = 1e-9
"""Grid of the measures in a key, m."""


class Region(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A body of one material: outer ring anticlockwise, then its holes."""

    rings: tuple[Ring, ...]
    weight: float = 1.0


class Shape(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag_field="kind", tag="shape"):
    """Regions that touch along lines and are joined there without slip.

    Attributes:
        key: the same text for the same shape, in any session.
        name: the section in words.
        regions: the bodies; those of one weight are fused.
        mesh: largest area of a triangle, m2.
    """

    key: str
    name: str
    regions: tuple[Region, ...]
    mesh: float


def key_from(measures: Sequence[Any]) -> str:
    """A short key of nested texts and lengths (m), lengths counted in whole nanometres."""
    return f"shape {hashlib.sha256(_text(measures).encode('utf-8')).hexdigest()[:32]}"


def _text(value: Any) -> str:
    if isinstance(value, float):
        return str(round(value / NANO))
    if isinstance(value, (list, tuple)):
        return "(" + " ".join(_text(item) for item in value) + ")"
    return str(value)
