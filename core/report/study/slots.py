"""T-nuts slot by slot as plain JSON (SI) and as tables in the user's units."""

from __future__ import annotations

from typing import Any

from core.fasteners.slots import NEEDS, SlotPlan, SlotsAnswer
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet


def slots_json(answer: SlotsAnswer) -> dict[str, Any]:
    """One entry a slot, its nuts in the order they go in."""
    return {
        "slots": [_slot(plan) for plan in answer.slots],
        "joints": [
            {
                "joint": joint.key,
                "label": joint.label,
                "joints": joint.places,
                "nuts_of_each": joint.each,
                "nuts": joint.nuts,
                "thread": joint.thread,
                "in": joint.where,
            }
            for joint in answer.joints
        ],
    }


def _slot(plan: SlotPlan) -> dict[str, Any]:
    return {
        "key": plan.key,
        "rail": plan.key if plan.covered is not None else None,
        "label": plan.label,
        "beam": plan.beam,
        "bars": list(plan.bars),
        "face": plan.face,
        "beam_length_m": plan.length,
        "slot": plan.slot,
        "kind": plan.kind,
        "thread": plan.thread,
        "in_at_start": plan.count("start"),
        "in_at_end": plan.count("end"),
        "parked": plan.parked,
        "of_joints": plan.of_joints,
        "start_closed_by": plan.closed["start"],
        "end_closed_by": plan.closed["end"],
        "nuts": [
            {
                "order": n.order,
                "in_at": n.from_end,
                "place_m": n.place,
                "hole": n.hole or None,
                "joint": n.joint or None,
                "for": n.what,
                "thread": n.thread,
                "kind": n.kind,
            }
            for n in plan.nuts
        ],
        "steps": list(plan.steps),
    }


def slots_table(answer: SlotsAnswer, units: UnitSet) -> Table:
    """One row a slot: nuts from each end, what closes it, spares."""
    rows: list[tuple[Cell, ...]] = []
    for plan in answer.slots:
        rows.append(
            (
                plan.label,
                len(plan.bars),
                plan.face,
                "none" if plan.slot is None else str(plan.slot + 1),
                plan.kind,
                ", ".join(dict.fromkeys(nut.thread for nut in plan.nuts)) or plan.thread,
                len(plan.nuts),
                plan.of_joints,
                plan.parked,
                plan.count("start"),
                plan.count("end"),
                _closed(plan),
                ", ".join(plan.bars),
                NEEDS[plan.kind],
            )
        )
    columns = (
        text_column("Slot of"),
        Column("Bars alike"),
        text_column("Face"),
        text_column("Slot"),
        text_column("Kind"),
        text_column("Thread"),
        Column("Nuts"),
        Column("Of joints"),
        Column("Parked"),
        Column("In at the start"),
        Column("In at the end"),
        text_column("Ends closed by"),
        text_column("Bars"),
        text_column("What the kind wants"),
    )
    return Table("T-nuts by slot", columns, tuple(rows))


def _closed(plan: SlotPlan) -> str:
    words = [what for what in plan.closed.values() if what]
    return " and ".join(words) if words else "nothing"


def joint_nuts_table(answer: SlotsAnswer, units: UnitSet) -> Table:
    """T-nuts by kind of joint."""
    rows = tuple(
        (joint.label, joint.where, joint.thread, joint.places, joint.each, joint.nuts)
        for joint in answer.joints
    )
    columns = (
        text_column("Joint"),
        text_column("In"),
        text_column("Thread"),
        Column("Joints"),
        Column("Nuts of each"),
        Column("Nuts"),
    )
    return Table("T-nuts of other joints", columns, rows)


def loading_table(answer: SlotsAnswer, units: UnitSet) -> Table:
    """Every nut of every slot in the order it goes in."""
    rows = [
        (
            plan.label,
            ", ".join(plan.bars),
            plan.face,
            "none" if plan.slot is None else str(plan.slot + 1),
            *row,
        )
        for plan in answer.slots
        for row in slot_rows(plan, units)
    ]
    first = (text_column("Slot of"), text_column("Bars"), text_column("Face"), text_column("Slot"))
    return Table("Loading order of T-nuts", (*first, *_nut_columns(units)), tuple(rows))


def slot_table(plan: SlotPlan, units: UnitSet) -> Table:
    """The nuts of one slot in the order they go in."""
    return Table(f"Loading order, {plan.label}", _nut_columns(units), tuple(slot_rows(plan, units)))


def _nut_columns(units: UnitSet) -> tuple[Column, ...]:
    return (
        text_column("Goes in at"),
        Column("As number"),
        text_column("For"),
        text_column("Thread"),
        text_column("Kind"),
        figure_column("From the bar's start", "length", units),
    )


def slot_rows(plan: SlotPlan, units: UnitSet) -> list[tuple[Cell, ...]]:
    """Rows of one slot."""
    words = dict(zip(("start", "end"), plan.ends, strict=True))
    return [
        (
            f"{words[nut.from_end]} end",
            nut.order,
            nut.what,
            nut.thread,
            nut.kind,
            number(nut.place, "length", units),
        )
        for nut in plan.nuts
    ]
