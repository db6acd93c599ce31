"""What does not fit about a rail, in words, and what would help."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from core.fasteners.ground import ON_LINE, fitting_spacing, nearest_line
from core.fasteners.holes import TINY, Holes
from core.fasteners.screws import Screw, standard_lengths
from core.fasteners.stack import FEWEST_TURNS, Stack
from core.findings import Finding, Severity
from core.sections import RectangularHollow, RoundSolid, RoundTube, TSlot

if TYPE_CHECKING:
    from core.fasteners.site import Site

Words = Callable[[float], str]


def about_length(site: Site, holes: Holes, words: Words) -> list[Finding]:
    """Rail against beam, and its end distances."""
    found: list[Finding] = []
    place = f"{site.axis.upper()} rails"
    if site.length > site.beam_length + TINY:
        text = (
            f"The {place} are {words(site.length)} long and the {site.beam} only {words(site.beam_length)}. "
            f"A longer {site.beam}, a shorter travel or carriages closer together would help."
        )
        found.append(
            Finding(
                "rail-longer-than-beam",
                "limit",
                site.beam_at,
                text,
                site.length,
                site.beam_length,
                place=place,
            )
        )
    guides, least = site.guides, site.guides.minimum_end_distance
    entry = f"{site.guides_at}.end_distance"
    if not holes.places:
        at = f"{site.guides_at}.rail_length" if guides.end_distance is None else entry
        text = (
            f"The {place} of {words(site.length)} are too short for a single hole; a longer rail would help."
        )
        return [*found, Finding("rail-without-holes", "limit", at, text, site.length, 2 * least, place=place)]
    if guides.end_distance is None:
        return found
    for name, end in (("first", holes.first), ("last", holes.last)):
        if end < least - TINY:
            text = (
                f"The {name} hole of the {place} is {words(end)} from the rail's end; the rail allows no "
                f"less than "
                f"{words(least)}. Another first distance or rail length, or the automatic one, would help."
            )
            found.append(Finding("end-distance-short", "limit", entry, text, end, least, place=place))
        most = least + guides.data.hole_pitch / 2.0
        if end > most + TINY:
            text = (
                f"The {name} hole of the {place} is {words(end)} from the rail's end, which leaves the end "
                f"loose; "
                f"up to {words(most)} is usual."
            )
            found.append(Finding("end-distance-long", "warning", entry, text, end, most, place=place))
    return found


def about_screws(site: Site, size: Screw, stack: Stack, length: float | None, words: Words) -> list[Finding]:
    """Thread engagement, nuts that do not fit their slot, and lengths that do not exist."""
    hold, place = site.fastening.hold, f"{site.axis.upper()} rails"
    entry = f"{site.fastening_at}.hold"
    if hold == "T-nut" and not isinstance(site.section, TSlot):
        return []  # `about_place` says that there is no slot at all.
    if hold == "T-nut":
        found = _about_nut(site, size, words)
        if found:
            return found
    if hold == "tapped bar" and isinstance(site.section, TSlot):
        text = f"No bar can be put inside the slotted profile under the {place}. T-nuts in its slots or through bolts would help."
        return [Finding("no-room-behind", "limit", entry, text, place=place)]
    if hold in ("tapped wall", "tapped bar", "rivet nut") and site.ground.wall <= 0.0:
        text = (
            f"No wall thickness is known behind the {place}, so no thread can be counted on. Enter the "
            f"wall of the "
            "section, turn a closed face to the rail, or choose through bolts."
        )
        return [Finding("no-wall", "limit", entry, text, 0.0, stack.needed, place=place)]
    if stack.thin:
        return [_thin(site, size, stack, words), *_no_length(site, size, stack, length, words)]
    return _no_length(site, size, stack, length, words)


def _about_nut(site: Site, size: Screw, words: Words) -> list[Finding]:
    section, place = site.section, f"{site.axis.upper()} rails"
    assert isinstance(section, TSlot)
    found = []
    if size.diameter > section.slot_opening + TINY:
        text = (
            f"The {size.thread} screws of the {place} do not pass the slot's opening of "
            f"{words(section.slot_opening)}. "
            "A profile with a wider slot or a smaller rail would help."
        )
        found.append(
            Finding(
                "screw-wider-than-slot",
                "limit",
                site.section_at,
                text,
                size.diameter,
                section.slot_opening,
                place=place,
            )
        )
    room = section.slot_depth - section.lip
    if site.fastening.nut_thread > room + TINY:
        text = (
            f"T-nuts with {words(site.fastening.nut_thread)} of thread do not go into the slot, which leaves "
            f"{words(room)} behind its lips. A thinner nut or a deeper slot would help."
        )
        entry = f"{site.fastening_at}.nut_thread"
        found.append(
            Finding("nut-too-thick", "limit", entry, text, site.fastening.nut_thread, room, place=place)
        )
    return found


def _thin(site: Site, size: Screw, stack: Stack, words: Words) -> Finding:
    place = f"{site.axis.upper()} rails"
    hopeless = stack.thread < FEWEST_TURNS * size.pitch - TINY
    severity: Severity = "limit" if hopeless else "warning"
    bar = site.fastening.hold == "tapped bar"
    help_words = (
        "A thicker bar would help."
        if bar
        else "A tapped bar inside, rivet nuts, a thicker wall or through bolts would help."
    )
    text = (
        f"The {size.thread} screws of the {place} find {words(stack.thread)} of thread; practice in this "
        f"metal is "
        f"{words(stack.needed)} or more. {help_words}"
    )
    entry = f"{site.fastening_at}.bar_thickness" if bar else f"{site.fastening_at}.hold"
    return Finding("thin-thread", severity, entry, text, stack.thread, stack.needed, place=place)


def _no_length(site: Site, size: Screw, stack: Stack, length: float | None, words: Words) -> list[Finding]:
    if length is not None:
        return []
    made = standard_lengths(size.thread)
    hold, place = site.fastening.hold, f"{site.axis.upper()} rails"
    if stack.shortest > made[-1] + TINY:
        why = f"the longest made is {words(made[-1])}"
    elif stack.shortest > stack.longest:
        why = f"no more than {words(stack.longest)} fits"
    else:
        why = f"no standard length lies between that and {words(stack.longest)}"
    remedies = {
        "T-nut": "A thicker nut, a deeper slot, or packing under the rail",
        "tapped wall": "Packing under the rail, or another hold",
        "tapped bar": "A thicker or thinner bar, or packing under the rail",
        "rivet nut": "Packing under the rail, or a nut of another length",
        "through bolt": "A shallower beam, studs cut from threaded rod, rivet nuts or a tapped wall",
    }
    text = (
        f"No standard {size.thread} screw fits the {place}: at least {words(stack.shortest)} is wanted, "
        f"and {why}. "
        f"{remedies[hold]} would help."
    )
    entry = f"{site.fastening_at}.hold"
    return [Finding("no-screw-length", "limit", entry, text, stack.shortest, stack.longest, place=place)]


def about_place(site: Site, words: Words) -> list[Finding]:
    """Rail lines against slots and the face's edges."""
    hold = site.fastening.hold
    found = _about_slots(site, words) if hold == "T-nut" else _over_slots(site, words)
    if isinstance(site.section, RoundSolid | RoundTube):
        found.append(_on_round(site))
    reach = max(abs(offset) for _, _, offset in site.rails) + site.guides.data.rail_width / 2.0
    half, place = site.face_width / 2.0, f"{site.axis.upper()} rails"
    entry = f"{site.guides_at}.rail_spacing" if site.axis in ("x", "z") else site.section_at
    if reach > half + TINY:
        text = (
            f"The {place} hang over the edge of the {site.beam}'s face by {words(reach - half)}. A smaller "
            f"rail "
            "spacing or a wider face would help."
        )
        found.append(Finding("rail-off-face", "limit", entry, text, reach, half, place=place))
    elif isinstance(site.section, RectangularHollow):
        flat = half - site.section.radii()[0]
        if reach > flat + TINY:
            text = (
                f"The {place} reach {words(reach - flat)} into the rounded corner of the {site.beam}, "
                f"where nothing "
                "carries them. A smaller rail spacing or a wider face would help."
            )
            found.append(Finding("rail-on-corner", "warning", entry, text, reach, flat, place=place))
    return found


def _on_round(site: Site) -> Finding:
    place = f"{site.axis.upper()} rails"
    text = (
        f"The {place} want a flat seat, and the {site.beam} is round: they would stand on a line and rock. A rectangular tube, a "
        "slotted profile or a flat bar instead would help."
    )
    return Finding("rail-on-round", "limit", site.section_at, text, place=place)


def _over_slots(site: Site, words: Words) -> list[Finding]:
    """Threads in a wall or rivet nuts cannot stand where the wall has its slot; through bolts can."""
    if site.fastening.hold == "through bolt" or not isinstance(site.section, TSlot):
        return []
    most = (site.section.slot_opening + site.guides.data.hole_diameter) / 2.0
    gaps = [abs(line - offset) for _, _, offset in site.rails for line in site.slots]
    if not gaps or min(gaps) >= most - TINY:
        return []
    place = f"{site.axis.upper()} rails"
    text = (
        f"The {place} lie over a slot of the {site.beam}, where there is no metal for a thread. T-nuts, or "
        f"rails "
        f"{words(most)} or more beside the slots, would help."
    )
    entry = f"{site.fastening_at}.hold"
    return [Finding("rail-over-slot", "limit", entry, text, min(gaps), most, place=place)]


def _about_slots(site: Site, words: Words) -> list[Finding]:
    place, entry = f"{site.axis.upper()} rails", f"{site.fastening_at}.hold"
    if not site.slots:
        text = (
            f"T-nuts are chosen for the {place}, but the {site.beam} has no slot in that face. A slotted "
            f"profile, a "
            "tapped wall, a tapped bar, rivet nuts or through bolts would help."
        )
        return [Finding("no-slot", "limit", entry, text, place=place)]
    misses = []
    for _, _, offset in site.rails:
        nearest = nearest_line(site.slots, offset)
        assert nearest is not None
        misses.append(abs(nearest[1] - offset))
    if max(misses) <= ON_LINE:
        return []
    if site.axis == "x":
        entry = f"{site.guides_at}.rail_spacing"
        spacing = fitting_spacing(site.slots, site.guides.rail_spacing)
        remedy = (
            f"A rail spacing of {words(spacing)} would put both on slots."
            if spacing is not None
            else "No pair of slots lies evenly about the middle of this face; another profile or hold "
            "would help."
        )
        value, limit = site.guides.rail_spacing, spacing
    else:
        remedy = "A profile with a slot in the middle of that face, or another hold, would help."
        value, limit = max(misses), ON_LINE
    text = (
        f"The line of the {place} misses the nearest slot of the {site.beam} by {words(max(misses))}. "
        f"{remedy}"
    )
    return [Finding("rail-off-slot", "limit", entry, text, value, limit, place=place)]
