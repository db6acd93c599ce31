"""What does not fit about joints of rails, in words, and what would help."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from core.fasteners.holes import TINY
from core.fasteners.pieces import FEWEST_HOLES, Cut, RailPiece
from core.fasteners.site import Site
from core.findings import Finding

Words = Callable[[float], str]


def about_joints(
    site: Site, holes: Sequence[float], cut: Cut, both: Sequence[tuple[RailPiece, ...]], words: Words
) -> list[Finding]:
    """Holes on joints, pieces that nothing holds, joints of both rails beside each other."""
    place, entry = f"{site.axis.upper()} rails", f"{site.guides_at}.pieces"
    found: list[Finding] = []
    if not cut.complete:
        longest = site.guides.pieces.longest or site.length
        text = (
            f"The {place} of {words(site.length)} cannot be made of pieces up to {words(longest)}: each wants two holes, "
            f"{words(site.guides.data.hole_pitch)} apart. Longer pieces would help."
        )
        found.append(
            Finding("piece-too-short", "limit", f"{entry}.longest", text, longest, site.length, place=place)
        )
    for (_, label, _), joints, own in zip(site.rails, cut.joints, both, strict=True):
        found += [
            _on_hole(site, label, joint, holes, words) for joint in joints if _crowds(site, joint, holes)
        ]
        found += [
            Finding(
                "piece-too-short",
                "warning",
                entry,
                f"Piece {piece.number} of the {label}, {words(piece.length)} long, has {piece.count or 'no'} hole"
                f"{'' if piece.count == 1 else 's'}, so it could turn. Other pieces would help.",
                float(piece.count),
                float(FEWEST_HOLES),
                "count",
                label,
            )
            for piece in own
            if len(own) > 1 and piece.count < FEWEST_HOLES
        ]
    if cut.apart is not None and cut.apart < cut.wanted - TINY:
        text = (
            f"Joints of the two {place} lie {words(cut.apart)} apart; {words(cut.wanted)} is wanted, so that no two "
            "carriages cross at once. Other first pieces, or a piece more, would help."
        )
        found.append(
            Finding("joints-not-staggered", "warning", entry, text, cut.apart, cut.wanted, place=place)
        )
    return found


def _crowds(site: Site, joint: float, holes: Sequence[float]) -> bool:
    least = site.guides.minimum_end_distance
    return any(abs(joint - hole) < least - TINY for hole in holes)


def _on_hole(site: Site, label: str, joint: float, holes: Sequence[float], words: Words) -> Finding:
    """A joint on a hole breaks a limit; one that only leaves too little beside it is worth a warning."""
    near = min(range(len(holes)), key=lambda k: abs(holes[k] - joint))
    gap = abs(holes[near] - joint)
    on = gap < site.guides.data.counterbore_diameter / 2.0 + TINY
    text = (
        f"The joint of the {label} at {words(joint)} "
        + (
            f"falls on hole {near + 1}."
            if on
            else f"leaves {words(gap)} to hole {near + 1}; the rail allows "
        )
        + ("" if on else f"no less than {words(site.guides.minimum_end_distance)}.")
        + " A joint half-way between two holes would help."
    )
    least = site.guides.minimum_end_distance
    return Finding(
        "hole-on-joint",
        "limit" if on else "warning",
        f"{site.guides_at}.pieces",
        text,
        gap,
        least,
        place=label,
    )
