"""How sure the answers are: bands from everything that is known only within limits, and what makes them wide.

`find_bands` draws a few thousand machines within the limits that the description gives and answers all of them at once.
"""

from core.certainty.answer import BandsAnswer, CaseBand, Cause, Spread
from core.certainty.bands import find_bands
from core.certainty.inputs import UncertainInput, uncertain_inputs
from core.certainty.words import band_words, cause_words, nine_of_ten

__all__ = [
    "BandsAnswer",
    "CaseBand",
    "Cause",
    "Spread",
    "UncertainInput",
    "band_words",
    "cause_words",
    "find_bands",
    "nine_of_ten",
    "uncertain_inputs",
]
