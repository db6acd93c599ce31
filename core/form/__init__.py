"""Form as delivered, as welded and as measured, against what the rails want; and the shims that take it out."""

from __future__ import annotations

from core.form.answer import find_form
from core.form.delivered import beam_deviations, product_standard
from core.form.readings import read_heights, write_heights
from core.form.results import Deviation, FormAnswer, PartBow, Shim, ShimRail, Survey, WeldBow
from core.form.shims import find_survey
from core.form.tolerances import Allowed, allowed
from core.form.welds import weld_bow

__all__ = [
    "Allowed",
    "Deviation",
    "FormAnswer",
    "PartBow",
    "Shim",
    "ShimRail",
    "Survey",
    "WeldBow",
    "allowed",
    "beam_deviations",
    "find_form",
    "find_survey",
    "product_standard",
    "read_heights",
    "weld_bow",
    "write_heights",
]
