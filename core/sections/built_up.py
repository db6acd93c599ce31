"""Descriptions of sections built up from others: two profiles, a plated tube, a bolted plate, a box of plates.

Height is along the vertical z, width along the horizontal y; lengths in m. What they look like is in `assembly`, how stiff
they are in `built_up_properties`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Described, Spec
from core.materials import material
from core.sections.shapes import TOLERANCE, Channel, FlatBar, Height, RectangularHollow, Width
from core.sections.t_slot import TSlot

Piece = RectangularHollow | TSlot | Channel | FlatBar
"""What may be built up."""

Joint = Literal["fully joined", "unjoined", "partly joined"]
PairWay = Literal["stacked", "side by side"]
Mirrored = Literal["neither", "first", "second", "both"]
PlateFaces = Literal["top", "bottom", "left", "right", "top and bottom", "left and right"]
PlateFace = Literal["top", "bottom", "left", "right"]

PlateWidth = Annotated[float, Spec("length", 0.005, 2.0, "Plate width", "Along the face it lies on")]
PlateThickness = Annotated[float, Spec("length", 0.001, 0.1, "Plate thickness")]
Counted = Annotated[
    Joint,
    Spec(
        "count",
        None,
        None,
        "Counted as",
        "Fully joined: no slip anywhere (one weld along the whole length, glue, or very many tight screws). Unjoined: they "
        "slide on each other and only bend alike. Screws every so often lie between the two.",
    ),
]
Share = Annotated[
    float,
    Spec(
        "ratio",
        0.0,
        1.0,
        "Share of the joint",
        "Only for partly joined: 0 counts as unjoined, 1 as fully joined. Your own estimate.",
    ),
]
ShareLow = Annotated[
    float | None,
    Spec(
        "ratio",
        0.0,
        1.0,
        "Share, at worst",
        "What the joint is sure to do. Automatic: half the share (common practice, an estimate).",
    ),
]
ShareHigh = Annotated[
    float | None,
    Spec(
        "ratio",
        0.0,
        1.0,
        "Share, at best",
        "The most the joint may do. Automatic: half way from the share to fully joined (common practice, an estimate).",
    ),
]


class TwoProfiles(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="two_profiles"
):
    """Two profiles of one material in contact over their whole length, middle on middle."""

    first: Annotated[Piece, Spec("count", None, None, "First profile", "The lower one, or the left one")]
    second: Annotated[Piece, Spec("count", None, None, "Second profile", "The upper one, or the right one")]
    way: Annotated[PairWay, Spec("count", None, None, "Laid", "One on the other, or side by side")] = (
        "stacked"
    )
    mirrored: Annotated[
        Mirrored,
        Spec("count", None, None, "Mirrored", "Left and right changed over; matters for channels only"),
    ] = "neither"
    joint: Counted = "fully joined"
    share: Share = 0.5
    share_low: ShareLow = None
    share_high: ShareHigh = None

    def check(self) -> None:
        share_band(self)
        _touching(self)


class PlatedTube(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="plated_tube"
):
    """Hollow tube with plates of the same material welded along both their edges to one face or to two."""

    tube: Annotated[RectangularHollow, Spec("count", None, None, "Tube")]
    plate_width: PlateWidth
    plate_thickness: PlateThickness
    faces: Annotated[PlateFaces, Spec("count", None, None, "Plates on")] = "top and bottom"

    def check(self) -> None:
        face = self.tube.height if self.faces in ("left", "right", "left and right") else self.tube.width
        flat = face - 2.0 * self.tube.radii()[0]
        if flat < TOLERANCE:
            raise BadEntry(
                "faces",
                self.faces,
                "is a face without a flat part for a plate",
                "another face, or a larger tube",
            )
        _touching(self)


class BoltedPlate(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="bolted_plate"
):
    """Profile with a plate, often of another material, screwed to the middle of one face."""

    profile: Annotated[Piece, Spec("count", None, None, "Profile", "Of the material chosen for the part")]
    plate_width: PlateWidth
    plate_thickness: PlateThickness
    material: Annotated[str, Spec("count", None, None, "Plate's material")] = "s235"
    face: Annotated[PlateFace, Spec("count", None, None, "Plate on")] = "top"
    joint: Counted = "fully joined"
    share: Share = 0.5
    share_low: ShareLow = None
    share_high: ShareHigh = None

    def check(self) -> None:
        share_band(self)
        material(self.material)
        if isinstance(self.profile, Channel) and self.face == "right":
            raise BadEntry("face", self.face, "is the open side of the channel", "top, bottom or left")
        _touching(self)


class WeldedBox(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="welded_box"
):
    """Box of four plates: two level flanges over the whole width, two upright webs between them."""

    height: Height
    width: Width
    flange: Annotated[
        float, Spec("length", 0.001, 0.1, "Flange thickness", "The level plates, top and bottom")
    ]
    web: Annotated[float, Spec("length", 0.001, 0.1, "Web thickness", "The upright plates")]
    inset: Annotated[
        float,
        Spec(
            "length", 0.0, 0.5, "Web inset", "From the flange's edge to the web's outer face; room for a weld"
        ),
    ] = 0.0

    def check(self) -> None:
        if 2.0 * self.flange >= self.height - TOLERANCE:
            raise BadEntry(
                "flange",
                _mm(self.flange),
                "is too thick",
                f"less than half the height, {_mm(self.height / 2)}",
            )
        if 2.0 * (self.web + self.inset) >= self.width - TOLERANCE:
            raise BadEntry(
                "inset" if self.inset > 0.0 else "web",
                _mm(self.inset if self.inset > 0.0 else self.web),
                "leaves no hollow between the webs",
                f"web and inset together less than half the width, {_mm(self.width / 2)}",
            )


BuiltUp = TwoProfiles | PlatedTube | BoltedPlate | WeldedBox


def share_band(section: TwoProfiles | BoltedPlate) -> tuple[float, float, float]:
    """The share of a joint at worst, likely and at best, of 0 (unjoined) to 1 (fully joined).

    Raises BadEntry when they do not rise.
    """
    likely = section.share
    low = 0.5 * likely if section.share_low is None else section.share_low
    high = 0.5 * (likely + 1.0) if section.share_high is None else section.share_high
    if low > likely:
        raise BadEntry("share_low", f"{low:g}", "is more than the share itself", f"0 to {likely:g}")
    if high < likely:
        raise BadEntry("share_high", f"{high:g}", "is less than the share itself", f"{likely:g} to 1")
    return low, likely, high


def _touching(section: BuiltUp) -> None:
    from core.sections.assembly import check_contact  # it needs these descriptions

    check_contact(section)


def _mm(length: float) -> str:
    return f"{length * 1e3:.6g} mm"
