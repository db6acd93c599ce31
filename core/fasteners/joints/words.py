"""What does not fit about a joint's screws, in words, and what would help."""

from __future__ import annotations

from collections.abc import Callable

from core.fasteners.joints.bores import about_bores
from core.fasteners.joints.layers import JointStack, Partner
from core.fasteners.joints.pattern import Pattern
from core.fasteners.joints.remedies import remedies
from core.fasteners.joints.sites import JointSite
from core.fasteners.screws import Screw, standard_lengths
from core.fasteners.stack import FEWEST_TURNS
from core.findings import Finding, Severity

Words = Callable[[float], str]
# What is named where nothing that was tried makes a standard length fit.
REMEDIES = {
    "T-nut": "Packing, another clamped part, a thicker nut or a deeper slot",
    "tapped hole": "Packing or a washer, a deeper hole, or heads sunk into the clamped part",
    "tapped bar": "Packing, a thicker bar, or heads sunk into the clamped part",
    "rivet nut": "Packing, a nut of another length, or a washer",
    "through bolt": "A thinner clamped part, studs cut from threaded rod, or another hold",
}


def about_joint(
    site: JointSite, size: Screw, hold: str, pattern: Pattern, stack: JointStack, words: Words
) -> list[Finding]:
    """Findings about hold, thread, length and pattern."""
    found = _about_hold(site, size, hold, words)
    if found:
        return found
    if not pattern.fits:
        text = (
            f"{site.label}: {pattern.along} x {pattern.across} screws {size.thread} do not keep off the edges of a face of "
            f"{words(site.face[0])} x {words(site.face[1])}. Fewer or smaller screws, or a smaller pitch, would help."
        )
        # A screw that is cut by the edge, or stands beside the face, holds nothing.
        off = any(
            abs(at) + size.diameter / 2.0 > face / 2.0
            for place in pattern.places
            for at, face in zip(place, site.face, strict=True)
        )
        found.append(
            Finding(
                "pattern-off-face",
                "limit" if off else "warning",
                f"{site.path}.along",
                text,
                place=site.label,
            )
        )
    if stack.thin:
        found.append(_thin(site, size, hold, stack, words))
    found += [*_sunk(site, size, words), *_beside_rail(site, words)]
    found += about_bores(site, size, hold, pattern, words)
    if stack.length is None:
        found.append(_no_length(site, size, hold, stack, words))
    return found


def _about_hold(site: JointSite, size: Screw, hold: str, words: Words) -> list[Finding]:
    partner, at = site.partner, f"{site.path}.hold"
    if hold == "T-nut" and not partner.slot:
        text = f"{site.label}: T-nuts are chosen, but the {partner.what} has no slot there. Another hold would help."
        return [Finding("no-slot", "limit", at, text, place=site.label)]
    if hold == "T-nut" and size.diameter > partner.slot + 1e-6:
        text = (
            f"{site.label}: {size.thread} screws do not pass the slot's opening of {words(partner.slot)}. "
            "Smaller screws or a wider slot would help."
        )
        return [
            Finding("screw-wider-than-slot", "limit", f"{site.path}.screw", text, size.diameter, partner.slot,
                    place=site.label)
        ]  # fmt: skip
    if (hold in ("tapped bar", "rivet nut") and not partner.hollow) or (
        hold == "tapped bar" and partner.slot
    ):
        text = f"{site.label}: nothing can be put behind the {partner.what}. {_instead(partner)} would help."
        return [Finding("no-room-behind", "limit", at, text, place=site.label)]
    if partner.thread and hold == "tapped hole" and size.thread != site.thread:
        text = (
            f"{site.label}: the {partner.what} is sold with {site.thread} threads, and {size.thread} screws do not go in. The "
            "automatic screw would help."
        )
        return [Finding("other-thread", "limit", f"{site.path}.screw", text, place=site.label)]
    if hold in ("tapped hole", "tapped bar", "rivet nut") and partner.ground.wall <= 0.0:
        text = (
            f"{site.label}: no wall thickness is known for the {partner.what}, so no thread can be counted on. Enter it, or "
            "choose through bolts."
        )
        return [Finding("no-wall", "limit", at, text, place=site.label)]
    return []


def _instead(partner: Partner) -> str:
    return "T-nuts or through bolts" if partner.slot else "A tapped hole or through bolts"


def _thin(site: JointSite, size: Screw, hold: str, stack: JointStack, words: Words) -> Finding:
    severity: Severity = "limit" if stack.thread < FEWEST_TURNS * size.pitch else "warning"
    text = (
        f"{site.label}: {size.thread} screws find {words(stack.thread)} of thread; practice in this metal is "
        f"{words(stack.needed)} or more. {_more_thread(hold)} would help."
    )
    return Finding(
        "thin-thread", severity, f"{site.path}.thread", text, stack.thread, stack.needed, place=site.label
    )


def _more_thread(hold: str) -> str:
    if hold in ("T-nut", "rivet nut"):
        return "A longer nut or a smaller screw"
    return "A bar or rivet nuts behind it, a thicker part or through bolts"


def _sunk(site: JointSite, size: Screw, words: Words) -> list[Finding]:
    """Heads that are sunk so deep that too little of the clamped part is left below them."""
    sunk, part = site.joint.sunk, site.clamped[0]
    left, wanted = part.thickness - sunk, 0.5 * size.diameter
    if sunk <= 0.0 or left >= wanted - 1e-9:
        return []
    text = (
        f"{site.label}: heads sunk by {words(sunk)} leave {words(max(left, 0.0))} of the {part.what}, which is "
        f"{words(part.thickness)} thick; {words(wanted)} or more is common practice. Sinking them less, or a thicker part, "
        "would help."
    )
    severity: Severity = "limit" if left <= 0.0 else "warning"
    return [Finding("sunk-too-deep", severity, f"{site.path}.sunk", text, left, wanted, place=site.label)]


def _beside_rail(site: JointSite, words: Words) -> list[Finding]:
    """A part along the rails that is wider than the room beside them: limit where even the rail itself is in its way."""
    part, wide = site.clamped[0].what, site.face[1]
    if wide <= site.room + 1e-9:
        return []
    over = wide > site.clear + 1e-9
    whom, room = ("rail", site.clear) if over else ("carriages", site.room)
    text = (
        f"{site.label}: a {part} {words(wide)} wide finds {words(max(room, 0.0))} beside the {whom} on that face of the "
        f"{site.partner.what}. A wider {site.partner.what}, a narrower {part}, or one on another face would help."
    )
    severity: Severity = "limit" if over else "warning"
    return [Finding("part-on-rail", severity, f"{site.path}.hold", text, wide, room, place=site.label)]


def _help(site: JointSite, size: Screw, hold: str, words: Words) -> str:
    """What was tried and works, else what might."""
    found = [remedy.words for remedy in remedies(site, size, hold, words)]
    if not found:
        return REMEDIES[hold]
    listed = found[0] if len(found) == 1 else f"{', '.join(found[:-1])} or {found[-1]}"
    return listed[:1].upper() + listed[1:]


def _no_length(site: JointSite, size: Screw, hold: str, stack: JointStack, words: Words) -> Finding:
    made = standard_lengths(size.thread)
    if stack.shortest > made[-1] + 1e-9:
        why = f"the longest made is {words(made[-1])}"
    elif stack.shortest > stack.longest:
        why = f"no more than {words(stack.longest)} fits"
    else:
        why = f"no standard length lies between that and {words(stack.longest)}"
    text = (
        f"{site.label}: no standard {size.thread} screw fits: at least {words(stack.shortest)} is wanted, and {why}. "
        f"{_help(site, size, hold, words)} would help."
    )
    return Finding(
        "no-screw-length",
        "limit",
        f"{site.path}.spacer",
        text,
        stack.shortest,
        stack.longest,
        place=site.label,
    )
