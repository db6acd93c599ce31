"""What a price or a bar is for, in words: kind of section, section and material. What is filled in must fit.

Declared once, so that prices and bars ask for it alike; `core.prices.match` says what fits.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.fields import Spec

Family = Literal[
    "any",
    "rectangular hollow",
    "round tube",
    "T-slot profile",
    "channel",
    "angle",
    "flat bar or plate",
    "round bar",
    "built-up",
    "other",
]
ForFamily = Annotated[Family, Spec("count", None, None, "Kind of section")]
ForSection = Annotated[
    str,
    Spec(
        "count", None, None, "Section", 'As the parts list writes it, "120 x 80 x 5"; empty for every size.'
    ),
]
ForMaterial = Annotated[
    str, Spec("count", None, None, "Material", "Name as in the parts list; empty for every material.")
]
