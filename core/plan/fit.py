"""Whether the described lengths fit together: findings about overrides, spreads and room."""

from __future__ import annotations

from core.findings import Finding
from core.machine.layout import Layout
from core.machine.project import Project
from core.units import show

CLOSE = 5.0e-4  # lengths that differ by less than half a millimetre fit


def _short(
    project: Project, code: str, where: str, what: str, value: float, least: float, why: str
) -> tuple[Finding, ...]:
    if value >= least - CLOSE:
        return ()
    units = project.units
    text = f"{what} is {show(value, 'length', units)}, but {why} asks for {show(least, 'length', units)}."
    return (Finding(code, "limit", where, text, value, least, "length"),)


def check_fit(project: Project, lay: Layout) -> tuple[Finding, ...]:
    """Findings about lengths; those of severity "limit" cannot be built as described."""
    machine = project.machine
    g, work = machine.gantry, machine.work
    span = (
        lay.beam_length_automatic - 2.0 * g.beam.overhang
        if g.upright.seat != "between"
        else lay.beam_length_automatic
    )
    found = [
        *_short(project, "beam-too-short", "machine.gantry.beam.length", "The gantry beam", lay.beam_length, span,
                "the distance between the uprights"),
        *_short(project, "x-rail-too-short", "machine.x_guides.rail_length", "The X rail", lay.x_rail_length,
                lay.x_rail_automatic - 0.02, "the X travel with its carriages"),
        *_short(project, "y-rail-too-short", "machine.y_guides.rail_length", "The Y rail", lay.y_rail_length,
                lay.y_rail_automatic - 2.0 * work.margin_y, "the Y travel with its carriages"),
        *_short(project, "side-beam-too-short", "machine.base.length", "The side beam", lay.side_beam_length,
                lay.y_rail_length, "the Y rail"),
        *_short(project, "saddle-too-narrow", "machine.saddle.width", "The saddle's width", machine.saddle.width,
                machine.x_guides.spread, "the spread of its X carriages"),
        *_short(project, "foot-plate-too-short", "machine.gantry.foot_plate.length", "The foot plate", lay.foot_length,
                machine.y_guides.spread, "the spread of the Y carriages"),
        *_short(project, "upright-too-short", "machine.gantry.upright.height", "The upright", lay.upright_length,
                lay.upright_automatic, "the clearance under the beam"),
    ]  # fmt: skip
    if g.upright.height is not None and lay.upright_length > lay.upright_automatic + CLOSE:
        units = project.units
        text = (
            f"The upright is {show(lay.upright_length, 'length', units)} high, "
            f"{show(lay.upright_length - lay.upright_automatic, 'length', units)} more than the clearance under the beam "
            "asks for; the answers are for the clearance as entered."
        )
        found.append(Finding("upright-too-long", "warning", "machine.gantry.upright.height", text))
    found += _room(project, lay)
    return tuple(found)


def cannot_stand(lay: Layout) -> str:
    """Why the machine cannot be modelled at all, or an empty text."""
    if lay.upright_top - lay.upright_bottom < 0.005:
        return (
            "The uprights have no height left: the beam's seat lies at or below the foot plate. "
            "Raise the clearance under the beam or lower the side beams."
        )
    return ""


def _room(project: Project, lay: Layout) -> list[Finding]:
    machine = project.machine
    found = []
    if lay.floor_z > -CLOSE and machine.base.stand.__struct_config__.tag == "legs":
        text = "The legs end above the table's surface; check the leg height and the side beams' top."
        found.append(Finding("legs-too-short", "warning", "machine.base.stand.height", text))
    for guides, words, where in (
        (machine.x_guides, "X", "machine.x_guides.carriages"),
        (machine.y_guides, "Y", "machine.y_guides.carriages"),
    ):
        if guides.carriages == 1:
            text = (
                f"One carriage on each {words} rail leaves the ride to the tilt stiffness of the carriages, which is not "
                "modelled; without a second carriage there may be no answer."
            )
            found.append(Finding("single-carriage", "warning", where, text))
    return found
