"""Whether a ranking still answers the project as it stands: what can change its figures, and what cannot."""

from __future__ import annotations

from core.machine.project import Project

ELSEWHERE = frozenset(
    {"name", "note", "display", "stock", "purchases", "budget", "saw", "stock_bars", "own_pieces", "interim"}
)
"""Fields of a project that no figure of a ranking follows from. A field that is new counts until it is named here."""


def same_question(one: Project, other: Project) -> bool:
    """Whether both projects have the same ranking, apart from the units of its words."""
    return one is other or all(
        getattr(one, name) == getattr(other, name)
        for name in Project.__struct_fields__
        if name not in ELSEWHERE
    )
