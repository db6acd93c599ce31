"""Statics, fasteners, parts, findings and verdict of a project, as one frozen result."""

from core.plan.begin import begin_plan
from core.plan.make import finish_plan, make_plan
from core.plan.results import BeamAnswer, Place, Plan, Verdict

__all__ = ["BeamAnswer", "Place", "Plan", "Verdict", "begin_plan", "finish_plan", "make_plan"]
