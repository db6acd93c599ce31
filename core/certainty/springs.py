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
from core.model.contact import x_contacts, y_contacts
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


def firm_compliance(setting: Setting) -> dict[str, float]:
    """Compliance of every spring that has its place in a part of the machine, by its name, m/N or rad/(N m)."""
    notes = SpringNotes()
    add_base(setting, notes, [])
    add_gantry(setting, notes, 0.0, [])
    add_head(setting, notes, 0.0, 0.0)
    return notes.compliance


def stand_compliance(setting: Setting, y: float) -> dict[str, float]:
    """The same of the springs between side beams and foot plates with the tool at y."""
    return {c.name: 1.0 / c.stiffness for c in y_contacts(setting, setting.layout.gantry_y(y))}


def ride_compliance(setting: Setting, x: float) -> dict[str, float]:
    """The same of the springs between beam and saddle with the tool at x."""
    return {c.name: 1.0 / c.stiffness for c in x_contacts(setting, x, 0.0)}


class _Light(Setting):
    """A setting for springs alone: no section of a plate is worked out."""

    def plate(self, height: float, width: float) -> SectionProperties:
        return self.layout.sections.beam


class SpringShares:
    """Parts of the springs' compliances that go with each input, as (s, p) tables by the springs' names.

    Args:
        setting: the machine at its likely figures. inputs: p of them.

    Attributes:
        inputs: those that move a spring anywhere. firm: parts of the springs of `firm_compliance`.

    Errors: NotTrustworthy when a spring is no sum of such parts.
    """

    def __init__(self, setting: Setting, inputs: tuple[UncertainInput, ...]) -> None:
        light = _Light(setting.machine, setting.layout, setting.side, setting.book)
        inputs = _without_idle(light, inputs)
        # The end that is farther from likely tells the part with the most digits.
        ends = [i.low if i.likely / i.low > i.high / i.likely else i.high for i in inputs]
        self.inputs = inputs
        self._settings = [light, *(_with(light, {i.path: v}) for i, v in zip(inputs, ends, strict=True))]
        self._softer = np.array([i.likely / v - 1.0 for i, v in zip(inputs, ends, strict=True)])
        # Unequal steps of all at once: an interplay between inputs cannot hide.
        mixed = [i.low ** (k % 3 / 2.0) * i.high ** (1.0 - k % 3 / 2.0) for k, i in enumerate(inputs)]
        self._all_softer = np.array([i.likely / v - 1.0 for i, v in zip(inputs, mixed, strict=True)])
        self._all = _with(light, {i.path: v for i, v in zip(inputs, mixed, strict=True)})
        self.firm = self._parts(firm_compliance)
        used = [np.any(list(t.values()), axis=0) for t in (self.firm, self.stand(0.0), self.ride(0.0)) if t]
        self._keep(np.flatnonzero(np.any(used, axis=0)))

    def stand(self, y: float) -> dict[str, Floats]:
        """Parts (p,) of the springs under the foot plates with the tool at y, by name."""
        return self._parts(lambda setting: stand_compliance(setting, y))

    def ride(self, x: float) -> dict[str, Floats]:
        """Parts (p,) of the springs on the beam with the tool at x, by name."""
        return self._parts(lambda setting: ride_compliance(setting, x))

    def _parts(self, find: Callable[[Setting], dict[str, float]]) -> dict[str, Floats]:
        likely = find(self._settings[0])
        start = np.array(list(likely.values()))
        changed = np.array([list(find(s).values()) for s in self._settings[1:]]).reshape(-1, start.size)
        parts = (changed / start - 1.0) / self._softer[:, None]
        parts[np.abs(parts) < SAME] = 0.0
        mixed = np.array(list(find(self._all).values()))
        if not np.allclose(mixed, start * (1.0 + self._all_softer @ parts), rtol=SAME, atol=0.0):
            raise NotTrustworthy("a spring's compliance is not the sum of its uncertain parts")
        return dict(zip(likely, parts.T, strict=True))

    def _keep(self, kept: npt.NDArray[np.intp]) -> None:
        self.inputs = tuple(self.inputs[k] for k in kept)
        self._settings = [self._settings[0], *(self._settings[k + 1] for k in kept)]
        self._softer, self._all_softer = self._softer[kept], self._all_softer[kept]
        self.firm = {name: parts[kept] for name, parts in self.firm.items()}


def _without_idle(setting: Setting, inputs: tuple[UncertainInput, ...]) -> tuple[UncertainInput, ...]:
    """The inputs without those that are no stiffness, if all of these together move no spring (they hardly ever do)."""
    others = {i.path: i.low if i.low < i.likely else i.high for i in inputs if "stiffness" not in i.quantity}
    if not others:
        return inputs
    changed = _with(setting, others)
    for find in (firm_compliance, lambda s: stand_compliance(s, 0.0), lambda s: ride_compliance(s, 0.0)):
        if find(changed) != find(setting):
            return inputs
    return tuple(i for i in inputs if i.path not in others)


def _with(setting: Setting, values: dict[str, float]) -> Setting:
    return replace(setting, machine=with_values(setting.machine, values))
