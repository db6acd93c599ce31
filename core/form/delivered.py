"""What the delivery standards allow the beams to be out of true, and what welding and cutting classes allow the rest."""

from __future__ import annotations

from core.form.results import Deviation, Remedy
from core.form.tolerances import Allowed, allowed
from core.machine.form import Straightness
from core.machine.layout import Layout
from core.machine.project import Project
from core.materials import material
from core.sections import RectangularHollow, Section, SectionProperties, TSlot

OWN = "your own figure"
NONE = "no figure held; ask the supplier"


def product_standard(section: Section, metal: str) -> str:
    """The delivery standard of a bar of this section and material; empty when none is held.

    Steel tube: EN 10219-2 cold formed, EN 10210-2 hot finished. T-slot profile: EN 12020-2 (precision profiles of EN AW-6060
    and 6063). Other aluminium profile: EN 755-9.
    """
    family = material(metal).family
    if isinstance(section, RectangularHollow) and family == "steel":
        return "EN 10219-2" if section.finish == "cold formed" else "EN 10210-2"
    if family == "aluminium":
        precise = isinstance(section, TSlot) and metal.startswith(("en_aw_6060", "en_aw_6063"))
        return "EN 12020-2" if precise else "EN 755-9"
    return ""


def remedy(gap: float, wanted: float, wishes: Straightness) -> Remedy:
    """What takes out a gap under a rail. Source: common practice; the bounds are the user's."""
    if gap <= wanted:
        return "fits"
    if gap <= wishes.shim_most:
        return "shim"
    return "bed in epoxy or machine" if gap <= wishes.bed_most else "straighten or machine"


def automatic_values(project: Project, lay: Layout) -> dict[str, float]:
    """What the entries stand at that are left to the program, m, by path below "straightness"; without a figure, absent."""
    machine, found = project.machine, {}
    parts = (
        (
            "beam",
            machine.gantry.beam.section,
            machine.gantry.beam.material,
            lay.sections.beam,
            lay.beam_length,
        ),
        ("side", machine.base.section, machine.base.material, lay.sections.side_beam, lay.side_beam_length),
    )
    for key, section, metal, shape, length in parts:
        standard = product_standard(section, metal)
        for item in ("straightness", "twist") if standard else ():
            figure = allowed(standard, item, length, width=max(shape.width, shape.height))
            if figure is not None:
                found[f"{key}_{item}"] = figure.limit
    for number, weld in enumerate(project.straightness.welds):
        found[f"welds.{number}.length"] = parts[weld.part == "side beam"][4]
    return found


def find_deviations(project: Project, lay: Layout) -> tuple[Deviation, ...]:
    """Gantry beam, side beam, welded frame and cut plates."""
    return (
        *beam_deviations(project, lay),
        *_side_beam(project, lay),
        *_frame(project, lay),
        *_plates(project, lay),
    )


def beam_deviations(project: Project, lay: Layout) -> list[Deviation]:
    """The gantry beam alone."""
    wishes, beam = project.straightness, project.machine.gantry.beam
    face = lay.sections.beam.height if beam.rail_face == "front" else lay.sections.beam.width
    share = min(1.0, project.machine.x_guides.rail_spacing / face)
    return _bar(
        "gantry beam", beam.section, beam.material, lay.sections.beam, lay.beam_length, wishes.beam_straightness,
        wishes.beam_twist, share, "twist between rails", wishes,
    )  # fmt: skip


def _side_beam(project: Project, lay: Layout) -> list[Deviation]:
    wishes, base = project.straightness, project.machine.base
    shape = lay.sections.side_beam
    face = shape.width if base.rail_face == "top" else shape.height
    share = min(1.0, project.machine.y_guides.data.rail_width / face)
    return _bar(
        "side beam", base.section, base.material, shape, lay.side_beam_length, wishes.side_straightness,
        wishes.side_twist, share, "twist below the rail", wishes,
    )  # fmt: skip


def _bar(
    part: str, section: Section, metal: str, shape: SectionProperties, length: float, own_bow: float | None,
    own_twist: float | None, share: float, twist_words: str, wishes: Straightness,
) -> list[Deviation]:  # fmt: skip
    """Bow, bow over the standard's own span, twist as far as the rails see it, and the hollow of the face.

    `share` is the part of the section's width that the rails span: twist is allowed at the section's edges.
    """
    standard, widest = product_standard(section, metal), max(shape.width, shape.height)

    def look(item: str) -> Allowed | None:
        return allowed(standard, item, length, width=widest) if standard else None

    bow, twist, local, face = (
        look(item) for item in ("straightness", "twist", "straightness over a span", "hollow face")
    )
    found = [
        _deviation(part, "bow", length, bow, own_bow, 1.0, wishes.rail_straightness, wishes),
        _deviation(part, twist_words, length, twist, own_twist, share, wishes.rail_twist, wishes),
    ]
    if local is not None and local.span < length:
        found.append(_deviation(part, "bow, any such span", local.span, local, None, 1.0, None, wishes))
    if face is not None:
        found.append(_deviation(part, "hollow face", widest, face, None, 1.0, None, wishes))
    return found


def _deviation(
    part: str, what: str, size: float, figure: Allowed | None, own: float | None, share: float, wanted: float | None,
    wishes: Straightness,
) -> Deviation:  # fmt: skip
    if own is not None:
        limit: float | None = own * share
        standard, status = OWN, "entered"
    elif figure is not None:
        limit, standard, status = figure.limit * share, figure.standard, figure.status
    else:
        limit, standard, status = None, NONE, ""
    if limit is None or wanted is None:
        return Deviation(part, what, size, limit, wanted, None, None, standard, status)
    return Deviation(
        part, what, size, limit, wanted, limit / wanted, remedy(limit, wanted, wishes), standard, status
    )


def _frame(project: Project, lay: Layout) -> list[Deviation]:
    """The base as one welded structure, when it stands on legs."""
    wishes, length, across = project.straightness, lay.side_beam_length, 2.0 * lay.side_x
    if project.machine.base.stand.__struct_config__.tag != "legs":
        return []
    flat = allowed("ISO 13920", "flatness", length, wishes.welded_flatness)
    long = allowed("ISO 13920", "lengths", length, wishes.welded_lengths)
    wide = allowed("ISO 13920", "lengths", across, wishes.welded_lengths)
    want = wishes.rail_straightness
    return [
        _deviation("welded frame", "flatness", length, flat, None, 1.0, want, wishes),
        _deviation("welded frame", "length, ±", length, long, None, 1.0, None, wishes),
        _deviation("welded frame", "width, ±", across, wide, None, 1.0, None, wishes),
    ]


def _plates(project: Project, lay: Layout) -> list[Deviation]:
    """Uprights cut to length, and the saddle's flatness where the carriages sit."""
    wishes, saddle = project.straightness, project.machine.saddle
    height = allowed("ISO 2768-1", "lengths", lay.upright_length, wishes.machined_lengths)
    side = max(saddle.width, saddle.height)
    flat = allowed("ISO 2768-2", "flatness", side, wishes.machined_flatness)
    return [
        _deviation("uprights", "height, ±", lay.upright_length, height, None, 1.0, None, wishes),
        _deviation("saddle plate", "flatness", side, flat, None, 1.0, None, wishes),
    ]
