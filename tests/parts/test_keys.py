"""Keys of parts: of the thing and not of its place, and no two alike."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from core.parts import PartLine, fastener_key
from core.parts.keys import slug, told_apart

lines = st.builds(
    PartLine,
    key=st.sampled_from(["a", "b", "a_2"]),
    group=st.just("g"),
    what=st.just("w"),
    spec=st.just("s"),
    quantity=st.integers(1, 9),
    length=st.none() | st.sampled_from([1.0, 1.25]),
    mass_each=st.none(),
    mass=st.none(),
    pack_size=st.sampled_from([0, 50, 100]),
)


@given(st.lists(lines, max_size=12))
def test_no_two_lines_share_a_key_and_the_first_keeps_its_own(found: list[PartLine]) -> None:
    made = list(told_apart(found))
    assert len({line.key for line in made}) == len(made) == len(found)
    if found:
        assert made[0].key == found[0].key


def test_a_key_says_what_the_thing_is() -> None:
    assert fastener_key("Socket head cap screw", "ISO 4762 M5 x 16, 8.8") == (
        "fastener_socket_head_cap_screw_iso_4762_m5_x_16_8p8"
    )
    assert slug("8.8") != slug("88") != slug("8 8")
