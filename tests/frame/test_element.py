"""The member by itself: shapes, inside and mass, against pieces of itself and against plain integrals."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from core.frame.element import mass_local, shape_functions, shear_ratio, stiffness_local
from core.frame.interior import fixed_end_forces, interior_deflection_uniform, interior_flexibility

E, G, A, IY, IZ, J, AVY, AVZ = 210e9, 81e9, 1.8e-3, 3.5e-6, 1.8e-6, 4.0e-6, 0.7e-3, 1.0e-3
SECTION = (E, G, A, IY, IZ, J, AVY, AVZ)
share = st.floats(0.02, 0.98)
length = st.floats(0.05, 5.0)


def ratios(L):
    return shear_ratio(E, IY, G, AVZ, L), shear_ratio(E, IZ, G, AVY, L)


def chain(L, cuts):
    """Stiffness of a member made of pieces between the cuts (shares of the length), for all its nodes."""
    edges = np.array([0.0, *cuts, 1.0])
    k = np.zeros((6 * len(edges), 6 * len(edges)))
    for number, piece in enumerate(np.diff(edges)):
        at = slice(6 * number, 6 * number + 12)
        k[at, at] += stiffness_local(piece * L, *SECTION)
    return k


def close(a, b, tol):
    """Every entry within tol of b, relative to the largest entry of its kind (row and column of six)."""
    return np.all(np.abs(a - b) <= tol * np.maximum(np.abs(b), np.abs(b).max() * 1e-9))


@given(L=length)
def test_stiffness_is_symmetric_and_meets_no_rigid_motion(L):
    k = stiffness_local(L, *SECTION)
    assert np.array_equal(k, k.T)
    rigid = np.zeros((12, 6))
    rigid[:6] = rigid[6:] = np.eye(6)
    rigid[7, 5], rigid[8, 4] = L, -L
    assert np.abs(k @ rigid).max() < 1e-12 * np.abs(k).max() * max(L, 1)
    assert np.linalg.matrix_rank(k / np.abs(k).max(), tol=1e-12) == 6


@given(L=length, xi=share)
def test_shapes_equal_the_middle_node_of_two_pieces(L, xi):
    k = chain(L, [xi])
    inner, outer = slice(6, 12), [*range(6), *range(12, 18)]
    expected = -np.linalg.solve(k[inner, inner], k[inner, outer])
    assert np.allclose(shape_functions(xi, L, *ratios(L)), expected, rtol=1e-9, atol=1e-10 * max(1, 1 / L))


def test_shapes_reach_the_ends_exactly():
    ends = shape_functions(np.array([0.0, 1.0]), 1.7, *ratios(1.7))
    assert np.array_equal(ends[0], np.eye(6, 12))
    assert np.allclose(ends[1], np.eye(6, 12, k=6), atol=1e-15)


@given(L=length, xi=share, eta=share)
def test_interior_flexibility_equals_pieces(L, xi, eta):
    first, second = min(xi, eta), max(xi, eta)
    if second - first < 1e-3:
        first = second = xi
    cuts = [first] if first == second else [first, second]
    k = chain(L, cuts)[6:-6, 6:-6]
    scale = np.tile([1, 1, 1, 1 / L, 1 / L, 1 / L], len(cuts))
    whole = scale[:, None] * np.linalg.inv(k * scale[:, None] * scale) * scale
    for a, at_a in enumerate(cuts):
        for b, at_b in enumerate(cuts):
            ours = interior_flexibility(at_a, at_b, L, *SECTION)
            theirs = whole[6 * a : 6 * a + 6, 6 * b : 6 * b + 6]
            size = np.sqrt(np.outer(np.diag(whole)[6 * a : 6 * a + 6], np.diag(whole)[6 * b : 6 * b + 6]))
            assert np.all(
                np.abs(ours - theirs) <= 1e-10 * (size + 1e-2 * size.max() * np.outer(*[scale[:6]] * 2))
            )


@given(L=length, xi=st.floats(0, 1), eta=st.floats(0, 1))
def test_interior_flexibility_is_reciprocal(L, xi, eta):
    forth, back = interior_flexibility(xi, eta, L, *SECTION), interior_flexibility(eta, xi, L, *SECTION)
    scale = np.diag(interior_flexibility(0.5, 0.5, L, *SECTION))
    assert np.all(np.abs(forth - back.T) <= 1e-13 * np.sqrt(np.outer(scale, scale)))


@given(L=length, xi=share)
def test_uniform_load_is_the_integral_of_point_loads(L, xi):
    q = np.array([300.0, -700.0, 1100.0])
    node, weight = np.polynomial.legendre.leggauss(8)
    total = np.zeros(6)
    for start, end in ((0.0, xi), (xi, 1.0)):  # piecewise polynomial: exact on each side of xi
        eta = start + 0.5 * (node + 1) * (end - start)
        green = interior_flexibility(xi, eta, L, *SECTION)[..., :3] @ q
        total += (0.5 * weight * (end - start) * L) @ green
    ours = interior_deflection_uniform(xi, q, L, E, G, A, IY, IZ, AVY, AVZ)
    assert np.allclose(ours, total, rtol=1e-9, atol=1e-12 * np.abs(total).max())


@given(L=length)
def test_end_forces_of_uniform_load_are_the_integral_of_the_shapes(L):
    q = np.array([300.0, -700.0, 1100.0])
    node, weight = np.polynomial.legendre.leggauss(4)
    shapes = shape_functions(0.5 * (node + 1), L, *ratios(L))[:, :3]
    expected = np.einsum("g,gdk,d->k", 0.5 * weight * L, shapes, q)
    assert np.allclose(fixed_end_forces(q, L), expected, rtol=1e-12, atol=1e-9)


def test_mass_without_shear_is_the_textbook_matrix():
    # Przemieniecki, Theory of Matrix Structural Analysis: mu L/420 [156, 22L, 54, -13L] (from memory).
    L, mu = 1.3, 7.0
    m = mass_local(L, mu)
    row = mu * L / 420.0 * np.array([156, 22 * L, 54, -13 * L])
    assert np.allclose(m[1, [1, 5, 7, 11]], row, rtol=1e-13)
    assert np.allclose(m[2, [2, 4, 8, 10]], row * [1, -1, 1, -1], rtol=1e-13)
    assert np.allclose(m[0, [0, 6]], mu * L / np.array([3, 6]))


@given(L=length)
def test_mass_of_rigid_motion_is_the_whole_mass(L):
    m = mass_local(L, 9.0, *ratios(L), turning=(0.02, 0.01, 0.01))
    assert np.array_equal(m, m.T) or np.allclose(m, m.T, rtol=1e-13)
    for axis in range(3):
        move = np.zeros(12)
        move[[axis, axis + 6]] = 1.0
        assert np.isclose(move @ m @ move, 9.0 * L)
    spin = np.zeros(12)
    spin[[5, 11]], spin[1], spin[7] = 1.0, -L / 2, L / 2
    assert np.isclose(spin @ m @ spin, 9.0 * L**3 / 12 + 0.01 * L)


def test_endless_shear_area_gives_the_slender_member():
    k = stiffness_local(2.0, E, G, A, IY, IZ, J, np.inf, np.inf)
    assert np.isclose(k[1, 1], 12 * E * IZ / 8)
    assert np.isclose(k[2, 2], 12 * E * IY / 8)
    assert np.all(np.isfinite(interior_flexibility(0.3, 0.6, 2.0, E, G, A, IY, IZ, J, np.inf, np.inf)))


def test_batch_axes_broadcast():
    L = np.array([[1.0], [2.0]])
    young = np.array([70e9, 210e9, 200e9])
    k = stiffness_local(L, young, *SECTION[1:])
    assert k.shape == (2, 3, 12, 12)
    assert np.array_equal(k[1, 2], stiffness_local(2.0, 200e9, *SECTION[1:]))
