"""Many beams in one machine: every section through the whole model at once, and which of them nothing beats."""

from __future__ import annotations

from core.rank.answer import RankAnswer
from core.rank.candidates import OWN, Candidate, candidate, candidates
from core.rank.find import find_rank
from core.rank.frontier import frontier

__all__ = ["OWN", "Candidate", "RankAnswer", "candidate", "candidates", "find_rank", "frontier"]
