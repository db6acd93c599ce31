"""What each row of the comparison is called, which way is better, and where its figure comes from."""

from __future__ import annotations

from dataclasses import dataclass

from core.comparison.answer import Better


@dataclass(frozen=True, slots=True)
class Row:
    """A row that every comparison has; rows for each load case are made beside them.

    `told` rows are named in the sentences: what the builder gets, not what it comes from, and nothing twice.
    """

    key: str
    label: str
    quantity: str
    better: Better
    note: str
    upper: bool = False
    told: bool = False


_TIP = "Whole machine, tool in the middle of the table; ends with all uncertain figures soft, then all stiff."
_NINE = "In brackets what 9 of 10 machines drawn within your limits keep."
_ALONE = "The bare beam on two supports at its joints, force or moment in the middle; no joints, no shear, nothing else."
_SAG = f"The beam's own line under its weight with rails, without saddle and head. {_NINE}"
_PATH = f"Height of the tool tip as the head crosses, after the best line. {_NINE}"
_MODE = "Slowest mode with the tool at the chosen place; its ends are a first estimate."
_JOINTS = "The joints' share of the first load case's deflection (strain energy)."
_WELDS = (
    "Of the planned welds on the gantry beam. Source: Blodgett, Design of Welded Structures (from memory)."
)
_HOURS = "Holes times your minutes a hole; the defaults are common practice, an estimate."
_PRICE = "The four above together; no price while one of them has none."
_COST = (
    "Everything new, line by line by your prices and net lengths; lines alike in both need none. No price while a line that "
    "differs has none: the tab Cost lists them."
)
_STANDARD = (
    "What the delivery standard allows over the length, or your own figure; a piece may come straighter."
)
_HEAT = (
    "Between the coldest and the warmest shop, steel rails bonded without slip: the upper bound. Rails that slide bend nothing, "
    "so the lower bound is 0. Source: Timoshenko, two bars bonded."
)

ROWS: tuple[Row, ...] = (
    Row("stiffness_x", "Stiffness along X", "stiffness", "more", _TIP),
    Row("stiffness_y", "Stiffness along Y", "stiffness", "more", _TIP),
    Row("stiffness_z", "Stiffness along Z", "stiffness", "more", _TIP),
    Row("sag", "Sag of the beam", "deflection", "less", _SAG, told=True),
    Row("path_error", "Path error", "deflection", "less", _PATH, told=True),
    Row("first_mode", "First mode", "frequency", "more", _MODE, told=True),
    Row("beam_vertical", "Bare beam, up and down", "stiffness", "more", f"48 E I / L³. {_ALONE}"),
    Row("beam_horizontal", "Bare beam, front and back", "stiffness", "more", f"48 E I / L³. {_ALONE}"),
    Row("beam_torsion", "Bare beam, in twist", "rotational_stiffness", "more", f"G J / L. {_ALONE}"),
    Row("joint_give", "Give of the beam's joints", "deflection", "less", _JOINTS),
    Row("beam_mass", "Beam mass", "mass", "less", "The bare beam."),
    Row("moving_mass", "Moving mass", "mass", "less", "All that the Y drives move.", told=True),
    Row("straightness", "Bow as delivered", "deflection", "less", _STANDARD),
    Row("twist", "Twist as delivered", "deflection", "less", f"Between the rails. {_STANDARD}", told=True),
    Row("weld_bow", "Bow by welds", "deflection", "less", _WELDS),
    Row(
        "seat_error",
        "Bow by delivery and welds",
        "deflection",
        "less",
        "As if both went the same way.",
        told=True,
    ),
    Row("heat_bow", "Largest bow by heat", "deflection", "less", _HEAT, upper=True),
    Row("heat_path", "Largest path error by heat", "deflection", "less", _HEAT, upper=True, told=True),
    Row("screws", "Screws of the X rails", "count", "less", "One a hole."),
    Row("nuts", "Nuts of the X rails", "count", "less", "T-nuts, rivet nuts or nuts; none in tapped metal."),
    Row("hole_hours", "Hours on the X rails' holes", "ratio", "less", _HOURS, told=True),
    Row("beam_price", "Price of the beam", "money", "less", "By your own prices, tax as in the row."),
    Row(
        "fastener_price",
        "Price of screws and nuts",
        "money",
        "less",
        "Whole packs for all rails, by your own prices.",
    ),
    Row(
        "weld_price",
        "Welding on the beam",
        "money",
        "less",
        "Planned welds, your hours a metre and your rate.",
    ),
    Row(
        "fitting_price", "Drilling and fitting", "money", "less", "Hours on the X rails' holes at your rate."
    ),
    Row("price", "Beam with screws and work", "money", "less", _PRICE, told=True),
    Row("cost_difference", "Whole machine, against this one", "money", "less", _COST),
    Row("height", "Beam height", "length", "", "As it stands."),
    Row("rail_spacing", "X rail spacing", "length", "", "With T-nuts the rails stand on the beam's slots."),
)

FACTS: tuple[tuple[str, str, str], ...] = (
    ("holds", "Holds every limit", "By likely figures; findings of each machine tell the rest."),
    ("section", "Section", ""),
    ("material", "Material", ""),
    ("fastening", "X rails held by", ""),
    (
        "remedy",
        "The seats ask for",
        "When delivery and welds come out at their worst; the bounds are yours (page Form).",
    ),
    ("standard", "Delivery by", ""),
    (
        "damping",
        "Damping",
        "Share of critical as entered, and what is usual for the build (common practice). A tap test is better.",
    ),
    ("moving_later", "Moving a rail later", "A fact, not a score."),
)


def case_row(number: int, name: str) -> Row:
    """The row of a load case's worst deflection."""
    note = f"At its worst place on the table. {_NINE}"
    return Row(f"case_{number}", f"Worst deflection, {name}", "deflection", "less", note, told=True)
