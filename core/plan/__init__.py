"""Statics, fasteners, parts, findings and verdict of a project, as one frozen result."""

from core.plan.bars import by_pieces, count_bars, with_cuts
from core.plan.begin import begin_plan
from core.plan.make import make_plan
from core.plan.results import Place, Plan, Verdict

__all__ = ["Place", "Plan", "Verdict", "begin_plan", "by_pieces", "count_bars", "make_plan", "with_cuts"]
