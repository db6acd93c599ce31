"""The cut list as plain JSON, SI; prices are texts of exact decimals, null where there is none."""

from __future__ import annotations

from typing import Any

from core.cuts import CutAnswer, CutBar, CutGroup, CutPiece
from core.machine.project import Project
from core.report.findings_json import finding_json


def cuts_json(answer: CutAnswer, project: Project) -> dict[str, Any]:
    """Everything the cut list says."""
    return {
        "format": "gantrywright-cutlist",
        "version": 1,
        "project": project.name,
        "currency": answer.currency,
        "kerf_m": answer.saw.kerf,
        "end_trim_m": answer.saw.end_trim,
        "least_offcut_m": answer.saw.least_offcut,
        "not_worth_proving_m": answer.close,
        "groups": [_group(answer, group) for group in answer.groups],
        "findings": [finding_json(finding) for finding in answer.findings],
    }


def _group(answer: CutAnswer, group: CutGroup) -> dict[str, Any]:
    return {
        "section": group.section,
        "material": group.material,
        "bars_bought": len(group.bought),
        "bars_ordered": len(group.ordered),
        "bars_bought_at_least": group.fewest,
        "length_bought_m": group.length_bought,
        "length_bought_at_least_m": group.least_length,
        "metal_that_another_list_might_save_m": answer.gap(group),
        "proven": answer.proven(group),
        "in_pieces_m": group.in_pieces,
        "kept_m": group.saved,
        "waste_m": group.waste,
        "waste_share": group.waste_share,
        "price": None if group.price is None else f"{group.price:f}",
        "bars_to_cut_from": [
            {"length_m": kind.length, "count": kind.count, "assumed": kind.assumed} for kind in group.kinds
        ],
        "bars": [_bar(bar) for bar in group.bars],
        "too_long": [_piece(piece) for piece in group.too_long],
        "without_a_bar": [_piece(piece) for piece in group.left],
    }


def _bar(bar: CutBar) -> dict[str, Any]:
    return {
        "number": bar.number,
        "from": bar.source,
        "row": bar.row,
        "length_m": bar.length,
        "trim_m": bar.trim,
        "offcut_m": bar.offcut,
        "offcut_is_kept": bar.kept,
        "price": None if bar.price is None else f"{bar.price:f}",
        "pieces": [
            {
                **_piece(placed.piece),
                "begins_at_m": placed.start,
                "ends_at_m": placed.end,
                "cut_takes_m": placed.kerf,
            }
            for placed in bar.pieces
        ],
    }


def _piece(piece: CutPiece) -> dict[str, Any]:
    return {
        "mark": piece.mark,
        "key": piece.key,
        "what": piece.what,
        "where": piece.where,
        "length_m": piece.length,
        "mitre_rad": piece.mitre,
    }
