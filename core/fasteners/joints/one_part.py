"""A plate that two kinds of joints clamp is one part: it has one thickness, and screws of both have to work with it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from core.fasteners.joints.sites import JointSite
from core.findings import Finding

SHARED = ("seat plate", "angle under the upright")
"""Clamped parts that stand in two joints: the plate between upright and beam, the angle between plate and upright."""
Works = Callable[[JointSite], bool]


def with_one_thickness(
    sites: Iterable[JointSite], plates: tuple[float, ...], works: Works
) -> tuple[JointSite, ...]:
    """Sites whose shared parts are equally thick: as entered for one of them, else the usual or the nearest that works.

    Args:
        plates: thicknesses to choose from, m. works: whether a site's screws have a standard length, or it has none.
    """
    given = tuple(sites)
    for what in SHARED:
        group = [site for site in given if site.clamped[0].what == what]
        if len(group) < 2:
            continue
        entered = next((site.joint.plate for site in group if site.joint.plate is not None), None)
        usual = group[0].clamped[0].thickness
        free = sorted((usual, *plates), key=lambda t: abs(t - usual)) if entered is None else [entered]
        best = next((t for t in free if all(works(thick(site, t)) for site in group)), None)
        made = entered if best is None else best
        if made is not None:
            given = tuple(_set(site, made) if site.clamped[0].what == what else site for site in given)
    return given


def thick(site: JointSite, thickness: float) -> JointSite:
    """The site with its clamped part so thick, m, and no longer free."""
    first, *rest = site.clamped
    return replace(site, clamped=(replace(first, thickness=thickness), *rest), stock=False)


def _set(site: JointSite, thickness: float) -> JointSite:
    return site if site.joint.plate is not None else thick(site, thickness)


def about_shared(sites: Iterable[JointSite], words: Callable[[float], str]) -> Iterator[Finding]:
    """A part that two joints enter differently."""
    given = tuple(sites)
    for what in SHARED:
        group = [site for site in given if site.clamped[0].what == what]
        for one, two in pairwise(group):
            first, second = one.clamped[0].thickness, two.clamped[0].thickness
            if abs(first - second) > 1e-9:
                text = (
                    f"{two.label}: the {what} is {words(second)} thick here and {words(first)} for {one.label}, and it is one "
                    "part. Enter one thickness for both, or leave one automatic."
                )
                yield Finding(
                    "part-two-sizes", "warning", f"{two.path}.plate", text, second, first, place=two.label
                )
