"""What heat does to a section of two metals joined without slip: its own curvature and growth by each kelvin."""

from __future__ import annotations

from core.materials import material
from core.sections import BUILT_UP, Section, parts_of
from core.sections.figures import Moments, moments_of, together

LEAST_LEVER = 1e-12
"""m; what rounding leaves of a balance is less."""


def has_two_metals(section: Section, metal: str) -> bool:
    """Whether any piece is of a metal that grows otherwise than the main one."""
    if not isinstance(section, BUILT_UP):
        return False
    main = material(metal).expansion
    return any(material(part.metal or metal).expansion != main for part in parts_of(section))


def curvature_by_heat(section: Section, metal: str, turned: bool = False) -> tuple[float, float]:
    """Curvature in the plane of the width and in that of the height, 1/(m K); positive ends point away from +y or +z.

    Zero for one metal, and for pieces that slide. Free bending, one temperature throughout. Source: Timoshenko, J. Opt. Soc.
    Am. 11 (1925) 233-255, for any number of pieces: sum of E A alpha times the distance from the axis, over sum of E I; with
    a product of inertia both planes at once.
    """
    if not isinstance(section, BUILT_UP):
        return 0.0, 0.0
    pairs = _bodies(section, metal)
    whole = together([body for body, _ in pairs])
    push_y = sum(b.area * expansion * (b.y - whole.y) for b, expansion in pairs)
    push_z = sum(b.area * expansion * (b.z - whole.z) for b, expansion in pairs)
    least = LEAST_LEVER * sum(b.area * expansion for b, expansion in pairs)
    push_y, push_z = (push if abs(push) > least else 0.0 for push in (push_y, push_z))
    if abs(whole.iyz) < 1e-9 * (whole.iyy + whole.izz):
        found = push_y / whole.izz, push_z / whole.iyy
    else:
        size = whole.iyy * whole.izz - whole.iyz**2
        found = (
            (push_y * whole.iyy - push_z * whole.iyz) / size,
            (push_z * whole.izz - push_y * whole.iyz) / size,
        )
    share = _share(section)
    y, z = share * found[0], share * found[1]
    return (-z, y) if turned else (y, z)


def expansion_by_heat(section: Section, metal: str) -> float:
    """Expansion of the whole along its centroid, 1/K: mean of the pieces' by E A; the main piece's own where they slide."""
    main = material(metal).expansion
    if not has_two_metals(section, metal):
        return main
    pairs = _bodies(section, metal)
    mean = sum(b.area * expansion for b, expansion in pairs) / sum(b.area for b, _ in pairs)
    return main + _share(section) * (mean - main)


def _bodies(section: Section, metal: str) -> list[tuple[Moments, float]]:
    """Moments of every piece weighted with its modulus, and its expansion."""
    found = []
    for part in parts_of(section):  # type: ignore[arg-type]
        stuff = material(part.metal or metal)
        found.append((moments_of(part.rings()).weighted(stuff.young), stuff.expansion))
    return found


def _share(section: Section) -> float:
    joint = getattr(section, "joint", "fully joined")
    return float({"unjoined": 0.0, "partly joined": getattr(section, "share", 0.0)}.get(joint, 1.0))
