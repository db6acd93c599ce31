"""What may be chosen in text entries that take one of a list, shared by the pages that have such entries."""

from __future__ import annotations

from core.materials.workpieces import metals

WORKPIECE_CHOICES: tuple[tuple[str, str], ...] = (
    ("", "By the pressure entered"),
    *((stuff.key, stuff.name) for stuff in metals()),
)
