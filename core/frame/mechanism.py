"""A frame that can move without resistance: which motion, in plain words that name the nodes.

A missing brace or a spring without stiffness ends here rather than in a number that looks like an answer.
"""

from __future__ import annotations

import numpy as np

from core.errors import GantrywrightError
from core.frame.batch import skew
from core.frame.checks import Floats

SMALL = 1e-6
"""Share of the largest movement below which a node is said to stand still."""


class Mechanism(GantrywrightError):
    """The frame can move freely.

    Args:
        free_motions: one clause for each independent motion ("node foot left turns freely about X").
        index: which design of the batch, () for a single one.
    """

    def __init__(self, free_motions: list[str], index: tuple[int, ...] = ()) -> None:
        self.free_motions = free_motions
        self.index = index
        where = f" (design {', '.join(map(str, index))} of the batch)" if index else ""
        super().__init__(f"The frame can move without resistance{where}: {'; '.join(free_motions)}.")


def describe(places: Floats, names: tuple[str, ...], motions: Floats) -> list[str]:
    """Free motions in words.

    Args:
        places: (n, 3) m.
        names: (n,) of the nodes.
        motions: (6n, d) independent motions that meet no resistance, in m and rad.
    """
    centre = places.mean(axis=0)
    arms = places - centre
    size = float(np.max(np.linalg.norm(arms, axis=-1))) or 1.0
    scale = np.tile([1.0, 1.0, 1.0, size, size, size], len(places))
    space = np.linalg.qr(motions * scale[:, None])[0]
    whole = np.zeros((len(places), 6, 6))
    whole[:, range(6), range(6)] = 1.0
    whole[:, :3, 3:] = -skew(arms)
    rigid = whole.reshape(-1, 6) * scale[:, None] / np.array([1.0, 1.0, 1.0, size, size, size])
    together = _common(rigid, space)
    said = [_words_whole(row) for row in together]
    if said and len(places) == 1:
        said = [text.replace("the whole frame", f"node {names[0]}") for text in said]
    left = space.shape[1] - len(together)
    if left:
        rows = _reduced(np.concatenate([(rigid @ together.T).T, space.T]), len(together), left)
        said += [_words_local(row.reshape(-1, 6), names, places / size) for row in rows]
    return said


def _common(rigid: Floats, space: Floats) -> Floats:
    """Combinations (q, 6) of the whole's six rigid motions that lie in the free ones, simplest form."""
    norm = np.linalg.norm(rigid, axis=0)
    unit = rigid / norm
    outside = unit - space @ (space.T @ unit)
    _, singular, right = np.linalg.svd(outside, full_matrices=False)
    rows = right[singular < SMALL] / norm
    return _reduced(rows, 0, len(rows)) if len(rows) else rows


def _reduced(rows: Floats, first: int, count: int) -> Floats:
    """Gauss-Jordan with full pivoting: `count` rows after the `first`, each with a leading one that the
    others lack.

    Motions of single nodes come apart that way, because each owns its pivot.
    """
    rows = rows.copy()
    for step in range(first + count):
        block = np.abs(rows[step:first] if step < first else rows[step:])
        # Rounded, so that ties between equal motions fall to the first entry rather than to noise.
        best = int(np.argmax(np.round(block / block.max(), 6)))
        row, column = step + best // block.shape[1], best % block.shape[1]
        rows[[step, row]] = rows[[row, step]]
        rows[step] /= rows[step, column]
        others = np.arange(len(rows)) != step
        rows[others] -= np.outer(rows[others, column], rows[step])
    return rows[first : first + count]


def _axis(vector: Floats) -> str:
    """X, Y or Z when the vector runs along it, else the components."""
    unit = vector / np.linalg.norm(vector)
    largest = int(np.argmax(np.abs(unit)))
    if abs(unit[largest]) > 1.0 - 1e-4:
        return "XYZ"[largest]
    if unit[largest] < 0:
        unit = -unit
    return f"a slanted line ({unit[0]:.2f}, {unit[1]:.2f}, {unit[2]:.2f})"


def _words_whole(motion: Floats) -> str:
    move, turn = motion[:3], motion[3:]
    if np.linalg.norm(turn) > SMALL * np.linalg.norm(motion):
        return f"the whole frame turns freely about {_axis(turn)}"
    return f"the whole frame slides freely along {_axis(move)}"


def _words_local(motion: Floats, names: tuple[str, ...], places: Floats) -> str:
    """Words for one motion (n, 6) whose rotations, like the places (n, 3), are scaled by the frame's size."""
    moves, turns = np.linalg.norm(motion[:, :3], axis=-1), np.linalg.norm(motion[:, 3:], axis=-1)
    slides = moves.max() > SMALL * turns.max()
    if slides and (together := _turn_together(motion, turns, names, places)):
        return together
    amount, vectors = (moves, motion[:, :3]) if slides else (turns, motion[:, 3:])
    order = np.argsort(-amount, kind="stable")
    moving = [names[k] for k in order if amount[k] > 0.5 * amount.max()]
    who = "node " + moving[0] if len(moving) == 1 else "nodes " + ", ".join(moving[:3])
    if len(moving) > 3:
        who += f" and {len(moving) - 3} more"
    verb = ("moves freely along" if slides else "turns freely about").split(" ", 1)
    first = verb[0] if len(moving) == 1 else verb[0][:-1]
    return f"{who} {first} {verb[1]} {_axis(vectors[order[0]])}"


def _turn_together(motion: Floats, turns: Floats, names: tuple[str, ...], places: Floats) -> str:
    """Words for several nodes that turn as one body, or an empty text.

    Their places move along directions of their own, which tells a reader less than the one axis they share.
    """
    turning = np.flatnonzero(turns > 0.5 * turns.max()) if turns.max() > 0.0 else np.array([], dtype=int)
    if len(turning) < 2:
        return ""
    vectors = motion[turning, 3:]
    arms = places[turning] - places[turning[0]]
    carried = motion[turning, :3] - motion[turning[0], :3] - np.cross(vectors[0], arms)
    if max(np.abs(vectors - vectors[0]).max(), np.abs(carried).max()) > 1e-3 * turns.max():
        return ""  # several bodies, each turning about a place of its own
    who = ", ".join(names[k] for k in turning[:3])
    more = f" and {len(turning) - 3} more" if len(turning) > 3 else ""
    return f"nodes {who}{more} turn freely together about {_axis(vectors[0])}"
