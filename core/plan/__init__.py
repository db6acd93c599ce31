"""The whole answer to a project, as one frozen result."""

from core.plan.make import make_plan
from core.plan.results import BeamAnswer, Place, Plan, Verdict

__all__ = ["BeamAnswer", "Place", "Plan", "Verdict", "make_plan"]
