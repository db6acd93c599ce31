"""What heat does to a section of two metals joined without slip: its own curvature by each kelvin."""

from __future__ import annotations

from core.materials import material
from core.sections import BUILT_UP, Section, parts_of
from core.sections.figures import moments_of, together


def curvature_by_heat(section: Section, metal: str) -> tuple[float, float]:
    """Curvature in the plane of the width and in that of the height, 1/(m K); positive ends point away from +y or +z.

    Zero for one metal, and for pieces that slide. Free bending, one temperature throughout. Source: Timoshenko, J. Opt. Soc.
    Am. 11 (1925) 233-255, for any number of pieces: sum of E A alpha times the distance from the axis, over sum of E I.
    """
    if not isinstance(section, BUILT_UP):
        return 0.0, 0.0
    joint = getattr(section, "joint", "fully joined")
    share = {"unjoined": 0.0, "partly joined": getattr(section, "share", 0.0)}.get(joint, 1.0)
    stuffs = [material(part.metal or metal) for part in parts_of(section)]
    bodies = [
        moments_of(part.rings()).weighted(stuff.young)
        for part, stuff in zip(parts_of(section), stuffs, strict=True)
    ]
    whole = together(bodies)
    pairs = list(zip(bodies, stuffs, strict=True))
    about_z = sum(b.area * s.expansion * (b.y - whole.y) for b, s in pairs) / whole.izz
    about_y = sum(b.area * s.expansion * (b.z - whole.z) for b, s in pairs) / whole.iyy
    return share * about_z, share * about_y
