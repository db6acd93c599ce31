"""How far the tool tip gives way: compliance over the table, deflection under load cases, and where it comes from."""

from core.stiffness.answer import CaseAnswer, StiffnessAnswer, find_stiffness
from core.stiffness.budget import Budget, find_budget
from core.stiffness.shape import DeflectedShape, ShapeLine, find_shape

__all__ = [
    "Budget",
    "CaseAnswer",
    "DeflectedShape",
    "ShapeLine",
    "StiffnessAnswer",
    "find_budget",
    "find_shape",
    "find_stiffness",
]
