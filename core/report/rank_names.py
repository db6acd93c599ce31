"""Names of beams short enough for a narrow column, with nothing gone that tells two beams apart."""

from __future__ import annotations

import re

_SHORTER = (
    ("T-slot profile", "T-slot"),
    (" hollow, cold formed", " cold"),
    (" hollow, hot finished", " hot"),
)
_SLOT = re.compile(r", slot [\d.]+")


def short_name(name: str) -> str:
    """A name for a narrow column: how a tube is made in one word, a profile without its slot."""
    for long, short in _SHORTER:
        name = name.replace(long, short)
    return _SLOT.sub("", name)
