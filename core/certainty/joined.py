"""Built-up bars whose joint is known within limits only: their share is no spring, so a sample lies between solved machines.

For each such bar the machine is answered with the share at worst, likely and at best, with every sample's springs; the sample's
own share lies between the three by a parabola in the bar's give, nearly a straight line. Of several bars the changes add up.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any

import msgspec
import numpy as np
import numpy.typing as npt

from core.certainty.inputs import UncertainInput
from core.machine.layout import Sections, find_sections, lay_out
from core.machine.project import Machine, replace_at
from core.machine.shares import BARS, section_at
from core.model.setting import Setting, Side
from core.sections import BoltedPlate, SectionProperties, TwoProfiles
from core.sections.built_up import share_band

Floats = npt.NDArray[np.float64]
FIGURES = ("iyy", "izz", "it")


def joint_inputs(machine: Machine) -> tuple[UncertainInput, ...]:
    """The share of every partly joined bar, in the order of the description."""
    found = []
    for path, (words, _) in BARS.items():
        section = section_at(machine, path)
        if isinstance(section, TwoProfiles | BoltedPlate) and section.joint == "partly joined":
            band = share_band(section)
            found.append(
                UncertainInput(f"machine.{path}.share", f"{words}: share of the joint", "ratio", *band)
            )
    return tuple(i for i in found if i.low < i.high)


def with_shares(setting: Setting, values: dict[str, float]) -> Setting:
    """The setting with the shares at some paths replaced, its sections worked out anew; data sheets stay with their bars."""
    machine: Any = setting.machine
    for path, value in values.items():
        _, _, at = path.removesuffix(".share").partition(".")
        old = section_at(machine, at)
        new = msgspec.structs.replace(old, share=value, share_low=value, share_high=value)
        sheets = tuple(
            msgspec.structs.replace(sheet, section=new) if sheet.section == old else sheet
            for sheet in machine.datasheet
        )
        machine = msgspec.structs.replace(replace_at(machine, at, new), datasheet=sheets)
    sections = find_sections(machine, setting.book)
    return replace(setting, machine=machine, layout=lay_out(machine, sections, machine.x_guides.rail_spacing))


def at_end(setting: Setting, side: Side) -> Setting:
    """The setting with every uncertain share at one end; a high share is the stiffer one."""
    values = {i.path: float(getattr(i, side)) for i in joint_inputs(setting.machine)}
    return with_shares(setting, values) if values else setting


def stiffness_ratios(setting: Setting, side: Side) -> dict[str, float]:
    """By component, stiffness of its uncertain built-up bar at one side over the likely one, where it changes most."""
    number = ("low", "likely", "high").index(side)
    found: dict[str, float] = {}
    for joint in find_joints(setting):
        component = BARS[joint.input.path.removeprefix("machine.").removesuffix(".share")][1]
        ratio = float(joint.give[1] / joint.give[number])
        before = found.get(component, 1.0)
        found[component] = max(before, ratio) if ratio > 1.0 else min(before, ratio)
    return found


@dataclass(frozen=True, slots=True)
class Joint:
    """One uncertain share. low, high: the setting with it at either end; None where likely is that end.

    `give` (3,) is the bar's own give at worst, likely and at best, where it changes most.
    """

    input: UncertainInput
    low: Setting | None
    high: Setting | None
    give: Floats

    def weights(self, share: Floats) -> tuple[Floats, Floats]:
        """(n,) of the answers at the low and at the high end for shares (n,); likely has what is left to one."""
        i = self.input
        ends = np.array([i.low, i.likely, i.high])
        given = 1.0 / np.interp(share, ends, 1.0 / self.give)  # stiffness is linear in the share
        low, likely, high = self.give
        nothing = np.zeros_like(given)
        if self.low is None:
            return nothing, np.asarray((given - likely) / (high - likely))
        if self.high is None:
            return np.asarray((given - likely) / (low - likely)), nothing
        return (
            np.asarray((given - likely) * (given - high) / ((low - likely) * (low - high))),
            np.asarray((given - likely) * (given - low) / ((high - likely) * (high - low))),
        )


def find_joints(setting: Setting) -> tuple[Joint, ...]:
    """Every uncertain share that moves a section's figures; a bar whose figures are all typed is not among them."""
    found = []
    for i in joint_inputs(setting.machine):
        ends = [with_shares(setting, {i.path: value}) for value in (i.low, i.likely, i.high)]
        give = _give([one.layout.sections for one in ends])
        if give is not None:
            found.append(
                Joint(i, ends[0] if i.low < i.likely else None, ends[2] if i.high > i.likely else None, give)
            )
    return tuple(found)


def _give(ends: list[Sections]) -> Floats | None:
    """(3,) one over the figure that the share changes most."""
    best, most = None, 1.0 + 1e-12
    for field in fields(Sections):
        bars: list[SectionProperties | None] = [getattr(end, field.name) for end in ends]
        for name in FIGURES:
            figures = np.array([np.nan if bar is None else getattr(bar, name) for bar in bars])
            if figures[2] / figures[0] > most:
                best, most = figures, float(figures[2] / figures[0])
    return None if best is None else np.asarray(1.0 / best)


@dataclass(frozen=True, slots=True)
class Mix:
    """How each row of samples lies between the machines with shares at their ends.

    Attributes:
        joints: (q,). weights: (2 q, rows): low and high end of each joint by turns.
    """

    joints: tuple[Joint, ...]
    weights: Floats

    @property
    def settings(self) -> list[Setting | None]:
        """(2 q,) in the order of the weights."""
        return [setting for joint in self.joints for setting in (joint.low, joint.high)]

    def of(self, likely: Floats, ends: list[Floats | None], axis: int = 0) -> Floats:
        """Answers of the samples, from those with likely shares and with the share at each end; rows along `axis`."""
        found = likely
        for weight, end in zip(self.weights, ends, strict=True):
            if end is not None:
                shape = [1] * likely.ndim
                shape[axis] = likely.shape[axis]
                found = found + weight[: likely.shape[axis]].reshape(shape) * (end - likely)
        return found


def mix(joints: tuple[Joint, ...], values: Floats) -> Mix:
    """Weights for shares (rows, q)."""
    rows = [weight for k, joint in enumerate(joints) for weight in joint.weights(values[:, k])]
    return Mix(joints, np.array(rows).reshape(2 * len(joints), len(values)))
