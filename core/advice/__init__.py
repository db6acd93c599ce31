"""What to stiffen first: how the worst deflection follows each entry, and changes of the machine, each solved exactly."""

from core.advice.answer import Advice, AdviceAnswer, Slope
from core.advice.candidates import Change, changes
from core.advice.find import find_advice

__all__ = ["Advice", "AdviceAnswer", "Change", "Slope", "changes", "find_advice"]
