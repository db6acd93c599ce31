"""Many beams in one machine: every section through the whole model at once, and which of them nothing beats."""

from __future__ import annotations

from core.rank.answer import RankAnswer
from core.rank.candidates import HERE, OWN, Candidate, candidate, candidates
from core.rank.choice import (
    COSTS,
    FAR,
    Wanted,
    best,
    deflections,
    far,
    least,
    spans,
    to_choose_from,
    wanted_rows,
)
from core.rank.current import same_question
from core.rank.find import find_rank
from core.rank.frontier import frontier
from core.rank.reworded import reworded

__all__ = [
    "COSTS",
    "FAR",
    "HERE",
    "OWN",
    "Candidate",
    "RankAnswer",
    "Wanted",
    "best",
    "candidate",
    "candidates",
    "deflections",
    "far",
    "find_rank",
    "frontier",
    "least",
    "reworded",
    "same_question",
    "spans",
    "to_choose_from",
    "wanted_rows",
]
