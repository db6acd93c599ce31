"""What the rails leave for the joints: rails have the first claim on screws and nuts that both take.

Joints get whole sets only, kind by kind in the order of the frame's list, from what this plan leaves unused.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from core.fasteners.interim.supply import here
from core.fasteners.joints.fitted import FittedJoint
from core.fasteners.totals import joint_rows
from core.machine.project import Project
from core.parts.keys import fastener_key


@dataclass(frozen=True, slots=True)
class Offer:
    """One kind of joint and what is there for it.

    Attributes:
        key, label: of the joint. count: equal joints. can: how many of them can be screwed now, after the rails.
        without_rails: how many if the rails took nothing. shared: specifications that rails take too.
        short: (specification, pieces missing) for all of these joints after the rails. left: (specification, pieces that
            the rails leave).
    """

    key: str
    label: str
    count: int
    can: int
    without_rails: int
    shared: tuple[str, ...]
    short: tuple[tuple[str, int], ...]
    left: tuple[tuple[str, int], ...]


def find_offers(
    project: Project, joints: Sequence[FittedJoint], used: Mapping[str, int]
) -> tuple[Offer, ...]:
    """Offers to every bolted kind of joint; `used` are pieces that the rails take now, by kind."""
    rest: dict[str, int] = {}
    found = []
    for joint in joints:
        wants = {
            fastener_key(what, spec): (f"{what} {spec}" if not spec.startswith("ISO") else spec, number)
            for (what, spec, _), number in joint_rows(joint, project)
            if number
        }
        if not wants:
            continue
        for key in wants:
            rest.setdefault(key, (here(project, key) or 0) - used.get(key, 0))
        each = {key: -(-number // joint.count) for key, (_, number) in wants.items()}
        can = _sets(rest, wants, each, joint.count)
        alone = _sets({key: here(project, key) or 0 for key in wants}, wants, each, joint.count)
        left = tuple((words, rest[key]) for key, (words, _) in wants.items())
        short = tuple(
            (words, number - rest[key]) for key, (words, number) in wants.items() if number > rest[key]
        )
        shared = tuple(words for key, (words, _) in wants.items() if key in used)
        for key, (_, number) in wants.items():
            rest[key] -= min(number, can * each[key])
        found.append(Offer(joint.key, joint.label, joint.count, can, alone, shared, short, left))
    return tuple(found)


def _sets(
    rest: Mapping[str, int], wants: Mapping[str, tuple[str, int]], each: Mapping[str, int], count: int
) -> int:
    """How many of `count` equal joints the pieces in `rest` are enough for; a cut one, which takes fewer, counts as whole."""
    if all(rest[key] >= number for key, (_, number) in wants.items()):
        return count
    return min(count, *(rest[key] // each[key] for key in wants))
