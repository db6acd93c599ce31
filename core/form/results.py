"""The frozen answers about the form of what arrives, of what is welded and of what was measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.findings import Finding

Remedy = Literal["fits", "shim", "bed in epoxy or machine", "straighten or machine"]


@dataclass(frozen=True, slots=True)
class Deviation:
    """How far something may be out, against what is wanted.

    Attributes:
        part: "gantry beam", "side beam", "frame", "plates". what: "bow", "twist between the rails" and so on, in words.
        size: length that it holds for, m. allowed: m; None when no figure is held. wanted: m, None when nothing asks for it.
        ratio: allowed over wanted. remedy: what has to be done when it comes out at its worst.
        standard, status: where the figure comes from and how sure it is.
    """

    part: str
    what: str
    size: float
    allowed: float | None
    wanted: float | None
    ratio: float | None
    remedy: Remedy | None
    standard: str
    status: str


@dataclass(frozen=True, slots=True)
class WeldBow:
    """Bow by one row of welds: m, positive when the middle moves up (or back). throat_area: of all of them together, m2."""

    name: str
    part: str
    direction: str
    throat_area: float
    bow: float


@dataclass(frozen=True, slots=True)
class PartBow:
    """Delivery and welds together, in one direction of a part; `worst` adds them as if both went the same way."""

    part: str
    direction: str
    delivered: float
    welded: float
    worst: float
    wanted: float
    remedy: Remedy


@dataclass(frozen=True, slots=True)
class Shim:
    """One hole: place from the rail's start, measured (or interpolated) height, height wanted, shim, and what is left."""

    hole: int
    place: float
    height: float
    target: float
    shim: float
    left: float


@dataclass(frozen=True, slots=True)
class ShimRail:
    """The shims under one rail; `measured` (places, heights) as entered, m."""

    key: str
    label: str
    measured: tuple[tuple[float, float], ...]
    line: tuple[float, float]
    shims: tuple[Shim, ...]


@dataclass(frozen=True, slots=True)
class Survey:
    """Measured heights of an axis and what takes them out.

    Attributes:
        axis: "X" or "Y". slope: of the best line or plane along the rails, m/m. tilt: second rail above the first, m, of the
            best plane; 0 with one rail. twist: change of that tilt from end to end when each rail has its own best line, m.
        before: largest distance of a reading from the best line or plane, m. thickest: shim, m. worst_left: m.
    """

    axis: str
    rails: tuple[ShimRail, ...]
    slope: float
    tilt: float
    twist: float
    before: float
    thickest: float
    worst_left: float


@dataclass(frozen=True, slots=True)
class FormAnswer:
    """Everything about form; `deviations` as delivered, `welds` one a row, `bows` summed, `surveys` one for each axis with
    readings; `automatic` what entries left to the program stand at, m, by path below "straightness"."""

    deviations: tuple[Deviation, ...]
    welds: tuple[WeldBow, ...]
    bows: tuple[PartBow, ...]
    surveys: tuple[Survey, ...]
    automatic: dict[str, float]
    findings: tuple[Finding, ...]
