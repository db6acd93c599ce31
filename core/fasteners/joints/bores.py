"""Screws into the end of a slotted profile: they stand on its core bores and have the thread that those can be tapped to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from core.fasteners.joints.pattern import Pattern, Wish
from core.fasteners.joints.sites import JointSite
from core.fasteners.screws import Screw, screws
from core.findings import Finding
from core.sections import Section, TSlot

ROOM = (
    1e-4  # m that a bore may be wider than the drill for its thread (common practice: it is tapped as it is)
)
ON_BORE = 1e-3  # m beside a bore's middle that still finds it


def on_bores(site: JointSite, section: Section) -> JointSite:
    """The site with its usual screws on the core bores, one in each; unchanged where the bar is no slotted profile."""
    if not isinstance(section, TSlot):
        return site
    counts = []
    for face, bar in zip(site.face, site.box, strict=True):  # the bar as it stands, turned or not
        cells = max(1, int(face / section.module + 1e-6))
        # A narrower part in front covers the inner bores only, as many as lie evenly about the middle.
        counts.append(cells if cells % 2 == round(bar / section.module) % 2 else cells + 1)
    middles = [[(k - (n - 1) / 2.0) * section.module for k in range(n)] for n in counts]
    wish = Wish(counts[0], counts[1], section.module, section.module)
    bores = (tuple(middles[0]), tuple(middles[1]))
    return replace(site, thread=thread_of(section.core_bore), wish=wish, bores=bores, bore=section.core_bore)


def thread_of(bore: float) -> str:
    """The smallest thread whose tapping drill, thread less pitch, is not smaller than the bore."""
    sizes = sorted(screws().values(), key=lambda size: size.diameter)
    fitting = [size.thread for size in sizes if size.diameter - size.pitch >= bore - ROOM]
    return fitting[0] if fitting else sizes[-1].thread


def about_bores(
    site: JointSite, size: Screw, hold: str, pattern: Pattern, words: Callable[[float], str]
) -> list[Finding]:
    """Screws beside the core bores, or of a thread that they are too wide for."""
    if not site.bore or hold != "tapped hole":
        return []
    found = []
    what = f"{site.label}: the {site.partner.what}"
    if size.diameter - size.pitch < site.bore - ROOM:
        text = f"{what} has core bores of {words(site.bore)}, too wide for {size.thread}. {thread_of(site.bore)} would help."
        found.append(
            Finding("bore-too-wide", "limit", f"{site.path}.screw", text, site.bore, place=site.label)
        )
    beside = [
        place
        for place in pattern.places
        if any(
            min(abs(at - bore) for bore in row) > ON_BORE for at, row in zip(place, site.bores, strict=True)
        )
    ]
    if beside:
        text = (
            f"{what} can be tapped at its core bores only, and {len(beside)} of {pattern.count} screws stand beside them. The "
            "automatic counts and pitches would help."
        )
        found.append(Finding("joint-off-bore", "limit", f"{site.path}.pitch_along", text, place=site.label))
    return found
