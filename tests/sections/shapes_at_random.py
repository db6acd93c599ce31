"""Strategies for sections of any closed kind and a few plain examples of each."""

from __future__ import annotations

from hypothesis import strategies as st

from core.sections import Angle, Channel, Datasheet, FlatBar, RectangularHollow, RoundSolid, RoundTube

side = st.floats(0.04, 0.4)
part = st.floats(0.02, 0.16)

hollows = st.builds(
    lambda h, b, part, finish: RectangularHollow(height=h, width=b, wall=part * min(h, b), finish=finish),
    side,
    side,
    part,
    st.sampled_from(["cold formed", "hot finished"]),
)
flats = st.builds(lambda h, b: FlatBar(height=h, width=b), side, side)
rounds = st.builds(lambda d: RoundSolid(diameter=d), side)
tubes = st.builds(lambda d, part: RoundTube(diameter=d, wall=part * d), side, part)
channels = st.builds(
    lambda h, b, web, flange: Channel(height=h, width=b, web=web * b, flange=flange * h),
    side,
    side,
    part,
    part,
)
angles = st.builds(lambda h, b, part: Angle(height=h, width=b, thickness=part * min(h, b)), side, side, part)
drawn = st.one_of(hollows, flats, rounds, tubes, channels, angles)
"""Every kind whose outline is the whole section."""

TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005)
SHEET = Datasheet(
    name="Typed profile", width=0.08, height=0.16, area=2.4e-3, iyy=6.5e-6, izz=1.9e-6, it=1.1e-6, wall=0.003
)
EACH = (
    TUBE,
    FlatBar(height=0.01, width=0.1),
    RoundSolid(diameter=0.02),
    RoundTube(diameter=0.05, wall=0.003),
    Channel(height=0.1, width=0.05, web=0.006, flange=0.0085),
    Angle(height=0.06, width=0.04, thickness=0.005),
    SHEET,
)
