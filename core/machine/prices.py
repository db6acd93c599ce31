"""The user's own prices: by kind of section, size, material or part, and what an hour of work costs.

A price that is not here is not known; nothing takes its place. `core.prices` finds the price of a piece.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Described, Spec
from core.machine.stuff import ForFamily, ForMaterial, ForSection

Basis = Literal["metre", "foot", "piece", "pack", "kilogram", "pound"]
LONGEST_CURRENCY = 8
MOST_MONEY = 1e9


class PriceRow(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One price and what it is for: all that is filled in must fit. The row that says most wins; of equals, the first."""

    name: Annotated[
        str,
        Spec("count", None, None, "Name", "Your own words: whose price, from when. Shown beside the price."),
    ] = ""
    family: ForFamily = "any"
    section: ForSection = ""
    material: ForMaterial = ""
    part: Annotated[
        str,
        Spec(
            "count",
            None,
            None,
            "Part",
            "What the parts list calls it, by its name, its specification or both; empty for lengths of a section.",
        ),
    ] = ""
    price: Annotated[
        float | None, Spec("unit_price", 0.0, MOST_MONEY, "Price", "Left open, the row stands for no price.")
    ] = None
    per: Annotated[Basis, Spec("count", None, None, "For each")] = "metre"

    def check(self) -> None:
        if self.family == "any" and not any(
            text.strip() for text in (self.section, self.material, self.part)
        ):
            raise BadEntry(
                "part",
                "this price",
                "does not say what it is for",
                "a kind of section, a section, a material or a part",
            )


class Prices(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Currency, prices and the cost of work. A rate left open gives no price for that work."""

    currency: Annotated[str, Spec("count", None, None, "Currency", "Its code or sign; only shown.")] = "EUR"
    rows: Annotated[tuple[PriceRow, ...], Spec("count", None, None, "Prices")] = ()
    tax: Annotated[
        float,
        Spec("share", 0.0, 1.0, "Tax on top", "On prices of parts above; 0 when they hold it already."),
    ] = 0.0
    welding_rate: Annotated[
        float | None, Spec("money", 0.0, 1e5, "Welding, an hour", "Welder with gas and wire.")
    ] = None
    weld_hours_per_metre: Annotated[
        float,
        Spec(
            "ratio",
            0.0,
            50.0,
            "Hours a metre of weld",
            "With fitting and grinding; 0.5 is an estimate, time your own.",
        ),
    ] = 0.5
    machining_rate: Annotated[
        float | None, Spec("money", 0.0, 1e5, "Machining, an hour", "Milling faces flat.")
    ] = None
    machining_hours: Annotated[
        float, Spec("ratio", 0.0, 1000.0, "Hours of machining", "For this machine's beams and plates.")
    ] = 0.0
    fitting_rate: Annotated[
        float | None,
        Spec("money", 0.0, 1e5, "Drilling and fitting, an hour", "0 when it is your own time."),
    ] = None

    def check(self) -> None:
        text = self.currency.strip()
        if not text or len(text) > LONGEST_CURRENCY or any(c.isdigit() or not c.isprintable() for c in text):
            raise BadEntry(
                "currency",
                repr(self.currency),
                "is no currency",
                f"a code or sign without figures, up to {LONGEST_CURRENCY} characters (EUR)",
            )
