"""What weight does: the beam's own sag, the path of the tool tip as the head crosses, and what a shim removes."""

from core.sag.answer import SagAnswer, find_sag

__all__ = ["SagAnswer", "find_sag"]
