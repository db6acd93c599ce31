"""The materials table: whole, consistent, and plain about a key it does not know."""

from __future__ import annotations

import pytest

from core.errors import BadEntry
from core.materials import material, materials

KEYS = (
    "en_aw_6060_t66",
    "en_aw_6063_t66",
    "en_aw_6082_t6",
    "s235",
    "s355",
    "bearing_steel",
    "carbide",
    "hss",
    "birch_plywood",
)


def test_every_key_is_there_once():
    assert tuple(m.key for m in materials()) == KEYS


@pytest.mark.parametrize("key", KEYS)
def test_figures_are_si_and_sourced(key):
    m = material(key)
    assert m.family in ("aluminium", "steel", "other")
    assert 5e9 < m.young < 7e11
    assert 500 < m.density < 20_000
    assert 1e-6 < m.expansion < 3e-5
    assert 1e7 < m.yield_strength < m.young / 50
    assert m.source
    assert m.status
    assert m.name


@pytest.mark.parametrize("key", [k for k in KEYS if k != "birch_plywood"])
def test_moduli_belong_together(key):
    """An isotropic solid has a Poisson's ratio between 0 and one half."""
    m = material(key)
    assert 0.2 < m.young / (2 * m.shear) - 1 < 0.35


def test_unknown_key_names_the_nearest():
    with pytest.raises(BadEntry) as caught:
        material("S335")
    assert "s355" in caught.value.accepted
    assert "S335" in caught.value.value


def test_a_key_like_none_of_them_lists_all():
    with pytest.raises(BadEntry) as caught:
        material("zzzzzz")
    assert all(key in caught.value.accepted for key in KEYS)
