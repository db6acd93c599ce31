"""How the base stands: weight on every foot, level of the rails under the rolling gantry, and what the base gives."""

from core.footing.answer import FootingAnswer, find_footing, places

__all__ = ["FootingAnswer", "find_footing", "places"]
