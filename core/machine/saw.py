"""What the cut list needs beside the machine: the saw, the bars that can be bought or lie there, pieces of the user's own.

Sections and materials are named in words, as in a price list; `core.cuts` finds what fits.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Described, Spec
from core.machine.prices import MOST_MONEY
from core.machine.stuff import ForFamily, ForMaterial, ForSection

Ends = Literal["as delivered", "cut square"]
MOST_BARS = 10_000


class Saw(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a cut takes away, and what is worth keeping."""

    kerf: Annotated[
        float,
        Spec(
            "length",
            0.0,
            0.02,
            "Kerf",
            "Width that the blade takes; measure it on a test cut. 2.5 mm is common practice for a cold saw.",
        ),
    ] = 0.0025
    end_trim: Annotated[
        float,
        Spec(
            "length",
            0.0,
            0.5,
            "End trim",
            "Taken off each end of a bar as delivered, the saw cut included. 10 mm is common practice; 0 uses the end as it is.",
        ),
    ] = 0.01
    least_offcut: Annotated[
        float,
        Spec(
            "length",
            0.0,
            20.0,
            "Least offcut to keep",
            "A shorter rest counts as scrap. 300 mm is common practice.",
        ),
    ] = 0.3


class StockBar(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Bars of one length: sold in any number, or so many on hand, or both. What is filled in must fit the pieces."""

    family: ForFamily = "any"
    section: ForSection = ""
    material: ForMaterial = ""
    length: Annotated[float, Spec("length", 0.05, 30.0, "Length of a bar")] = 6.0
    sold: Annotated[bool, Spec("count", None, None, "Can be bought", "Off for what only lies there.")] = True
    on_hand: Annotated[
        int, Spec("count", 0, MOST_BARS, "On hand", "Bars or offcuts of this length that lie there.")
    ] = 0
    ends: Annotated[
        Ends, Spec("count", None, None, "Ends", "Ends cut square already are not trimmed again.")
    ] = "as delivered"
    price: Annotated[
        float | None,
        Spec("unit_price", 0.0, MOST_MONEY, "Price of one", "Without it the price list counts."),
    ] = None
    note: Annotated[str, Spec("count", None, None, "Note", "Whose bars; your own words.")] = ""

    @property
    def name(self) -> str:
        """What the history calls the row."""
        words = [self.section, self.material, "" if self.family == "any" else self.family]
        return ", ".join(word.strip() for word in words if word.strip()) or "every section"

    def check(self) -> None:
        if self.on_hand and not self.section.strip():
            raise BadEntry(
                "section", "no section", "cannot be on hand", "the section of the bars that lie there"
            )


class OwnPiece(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A piece to cut that the description of the machine does not imply: a bench, a bracket, a spare."""

    name: Annotated[str, Spec("count", None, None, "Piece")] = "Piece"
    section: Annotated[
        str,
        Spec(
            "count",
            None,
            None,
            "Section",
            "As the parts list writes it, to be cut from the same bars; or any other in your own words.",
        ),
    ] = ""
    material: Annotated[
        str,
        Spec("count", None, None, "Material", "Empty takes that of the machine's pieces of this section."),
    ] = ""
    length: Annotated[float, Spec("length", 0.001, 30.0, "Length", "From tip to tip when mitred.")] = 0.5
    quantity: Annotated[int, Spec("count", 0, MOST_BARS, "How many")] = 1
    mitre: Annotated[
        float, Spec("angle", 0.0, 1.4, "Mitre, from square", "Of the steeper end; 0 is a square cut.")
    ] = 0.0
    where: Annotated[str, Spec("count", None, None, "Goes to")] = ""

    def check(self) -> None:
        if not self.section.strip():
            raise BadEntry("section", "nothing", "names no section", '"120 x 80 x 5", or your own words')
