"""Which spring of the model rests on which uncertain input, and how strongly.

Every spring's compliance is a sum of what its parts contribute, each in inverse proportion to one input (carriages, joints,
and drives whose parts stand in series). The parts are found by changing one input after the other, so nothing here knows
what a drive consists of; that the sum holds is checked with all inputs changed at once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import numpy.typing as npt

from core.certainty.inputs import UncertainInput, with_values
from core.frame import FrameBuilder, NotTrustworthy
from core.model.base import add_base
from core.model.contact import x_contacts, x_table, y_contacts
from core.model.gantry import add_gantry
from core.model.head import add_head
from core.model.setting import Setting
from core.sections import SectionProperties

Floats = npt.NDArray[np.float64]
SAME = 1e-6  # largest relative difference of compliances that count as equal


class SpringNotes(FrameBuilder):
    """Stands in for a builder where only the springs are wanted: members are not even looked at."""

    def __init__(self) -> None:
        super().__init__()
        self.compliance: dict[str, float] = {}

    def add_member(self, *args: Any, **values: Any) -> int:
        return 0

    def add_spring(
        self, name: str, i: Any, j: Any, direction: Any, stiffness: Any, *rest: Any, **more: Any
    ) -> int:
        self.compliance[name] = 1.0 / float(stiffness)
        return len(self.compliance) - 1


FIRM: dict[str, Callable[[Setting, FrameBuilder], object]] = {
    "base": lambda setting, builder: add_base(setting, builder, []),
    "gantry": lambda setting, builder: add_gantry(setting, builder, 0.0, []),
    "head": lambda setting, builder: add_head(setting, builder, 0.0, 0.0),
}
"""What adds the springs that have their place in a part of the machine, by the part of the description."""


def _noted(setting: Setting, add: Callable[[Setting, FrameBuilder], object]) -> dict[str, float]:
    notes = SpringNotes()
    add(setting, notes)
    return notes.compliance


def stand_compliance(setting: Setting, y: float) -> dict[str, float]:
    """Compliance, m/N, of the springs between side beams and foot plates with the tool at y, by name."""
    return {c.name: 1.0 / c.stiffness for c in y_contacts(setting, setting.layout.gantry_y(y))}


def ride_compliance(setting: Setting, x: Floats) -> Floats:
    """The same (n, s) of the springs between beam and saddle with the tool at every x (n,)."""
    return 1.0 / x_table(setting, x).stiffness


class _Light(Setting):
    """A setting for springs alone: no section of a plate is worked out."""

    def plate(self, height: float, width: float) -> SectionProperties:
        return self.layout.sections.beam


class SpringShares:
    """Parts of the springs' compliances that go with each input, as (s, p) tables by the springs' names.

    Args:
        setting: the machine at its likely figures. inputs: p of them.

    Attributes:
        inputs: those that move a spring anywhere. firm: parts of the springs that have their place in a part.

    Errors: NotTrustworthy when a spring is no sum of such parts.
    """

    def __init__(self, setting: Setting, inputs: tuple[UncertainInput, ...]) -> None:
        light = _Light(setting.machine, setting.layout, setting.side, setting.book)
        moving = tuple(i for i in inputs if "stiffness" in i.quantity)
        try:  # what is no stiffness moves no spring, which is found out with everything changed at once
            self._start(light, moving, [i for i in inputs if i not in moving])
        except NotTrustworthy:
            self._start(light, inputs, [])

    def _start(self, light: Setting, inputs: tuple[UncertainInput, ...], idle: list[UncertainInput]) -> None:
        # The end that is farther from likely tells the part with the most digits.
        ends = [i.low if i.likely / i.low > i.high / i.likely else i.high for i in inputs]
        self.inputs = inputs
        self._settings = [light, *(_with(light, {i.path: v}) for i, v in zip(inputs, ends, strict=True))]
        self._softer = np.array([i.likely / v - 1.0 for i, v in zip(inputs, ends, strict=True)])
        # Unequal steps of all at once: an interplay between inputs cannot hide.
        mixed = [i.low ** (k % 3 / 2.0) * i.high ** (1.0 - k % 3 / 2.0) for k, i in enumerate(inputs)]
        self._all_softer = np.array([i.likely / v - 1.0 for i, v in zip(inputs, mixed, strict=True)])
        all_ = {i.path: v for i, v in zip(inputs, mixed, strict=True)}
        self._all = _with(light, all_ | {i.path: i.low if i.low < i.likely else i.high for i in idle})
        self.firm: dict[str, Floats] = {}
        for part, add in FIRM.items():
            self.firm |= self._named(lambda setting, add=add: _noted(setting, add), (part,))  # type: ignore[misc]
        middle = self.rides(np.zeros(1))[0]
        used = [middle, *(np.array(list(t.values())) for t in (self.firm, self.stand(0.0)) if t)]
        self._keep(np.flatnonzero(np.any(np.concatenate(used) != 0.0, axis=0)))

    def stand(self, y: float) -> dict[str, Floats]:
        """Parts (p,) of the springs under the foot plates with the tool at y, by name."""
        return self._named(lambda setting: stand_compliance(setting, y), ("y_guides", "y_drive"))

    def ride(self, x: float) -> dict[str, Floats]:
        """Parts (p,) of the springs on the beam with the tool at x, by name."""
        names = [c.name for c in x_contacts(self._settings[0], x, 0.0)]
        return dict(zip(names, self.rides(np.array([x]))[0], strict=True))

    def rides(self, x: Floats) -> Floats:
        """Parts (n, s, p) of the springs on the beam with the tool at every x (n,), in the order of `x_contacts`."""
        return self._parts(lambda setting: ride_compliance(setting, x), ("x_guides", "x_drive"))

    def _named(
        self, find: Callable[[Setting], dict[str, float]], owners: tuple[str, ...]
    ) -> dict[str, Floats]:
        parts = self._parts(lambda setting: np.array(list(find(setting).values())), owners)
        return dict(zip(find(self._settings[0]), parts, strict=True))

    def _parts(self, find: Callable[[Setting], Floats], owners: tuple[str, ...]) -> Floats:
        """(..., p) of compliances (...). Inputs of other parts of the machine than `owners` are tried only when the sum of
        these parts is not what all inputs together give."""
        start = find(self._settings[0])
        parts = np.zeros((len(self.inputs), *start.shape))
        for k, i in enumerate(self.inputs):
            if not owners or i.path.split(".")[1] in owners:
                parts[k] = (find(self._settings[k + 1]) / start - 1.0) / self._softer[k]
        parts[np.abs(parts) < SAME] = 0.0
        mixed = start * (1.0 + np.tensordot(self._all_softer, parts, 1))
        if np.allclose(find(self._all), mixed, rtol=SAME, atol=0.0):
            return np.moveaxis(parts, 0, -1)
        if owners:
            return self._parts(find, ())
        raise NotTrustworthy("a spring's compliance is not the sum of its uncertain parts")

    def _keep(self, kept: npt.NDArray[np.intp]) -> None:
        self.inputs = tuple(self.inputs[k] for k in kept)
        self._settings = [self._settings[0], *(self._settings[k + 1] for k in kept)]
        self._softer, self._all_softer = self._softer[kept], self._all_softer[kept]
        self.firm = {name: parts[kept] for name, parts in self.firm.items()}


def _with(setting: Setting, values: dict[str, float]) -> Setting:
    return replace(setting, machine=with_values(setting.machine, values))
