"""Bending of a rectangular board on point supports under point forces: a thin orthotropic plate with free edges. N, mm.

Ritz's method with products of Legendre polynomials on the strain energy of Huber's orthotropic plate (Timoshenko & Woinowsky-Krieger,
Theory of Plates and Shells, section on anisotropic plates, from memory). Supports are stiff springs. More terms only add a little sag.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from trivet.record import record

# Polynomials each way; more than this changes the sag of boards on a few feet by less than 3 %.
TERMS = 9
# Stiffness of a support against the board's own, D over its area.
STIFF = 1e7
Push = tuple[float, float, float]
Point = tuple[float, float]


@record
class Stiffness:
    """Bending along x and y, their coupling by Poisson's ratio, and twisting (G t³/12), N·mm."""

    x: float
    y: float
    coupling: float
    twisting: float


def sheet_stiffness(along_x: float, along_y: float, shear: float, thickness_mm: float) -> Stiffness:
    """From moduli in N/mm²; Poisson's ratio is left out, which is small for plywood."""
    cube = thickness_mm**3 / 12.0
    return Stiffness(along_x * cube, along_y * cube, 0.0, shear * cube)


def plate_sags_mm(
    width_mm: float,
    depth_mm: float,
    stiffness: Stiffness,
    supports: Sequence[Point],
    cases: Sequence[tuple[Sequence[Push], Point]],
) -> tuple[float, ...]:
    """For each case, forces and a place, the sag at the place against the supports.

    Places count from the lower left of the board; the supports must not stand in one line.
    """
    import numpy as np

    nodes, weights = np.polynomial.legendre.leggauss(TERMS + 1)
    x, y = width_mm / 2.0, depth_mm / 2.0
    mass = [[_integral(weights, _legendre(nodes, i), _legendre(nodes, j)) for j in (0, 1, 2)] for i in (0, 1, 2)]

    def both(i: int, j: int, k: int, m: int) -> Any:
        """Integral of d^i/dx^i d^j/dy^j of one term times d^k/dx^k d^m/dy^m of another over the plate."""
        return np.kron(mass[i][k] * x ** (1 - i - k), mass[j][m] * y ** (1 - j - m))

    matrix = (
        stiffness.x * both(2, 0, 2, 0)
        + stiffness.y * both(0, 2, 0, 2)
        + stiffness.coupling * (both(2, 0, 0, 2) + both(0, 2, 2, 0))
        + 4.0 * stiffness.twisting * both(1, 1, 1, 1)
    )

    def values(place: Point) -> Any:
        return np.kron(_legendre(place[0] / x - 1.0, 0), _legendre(place[1] / y - 1.0, 0))

    spring = STIFF * max(stiffness.x, stiffness.y) / (width_mm * depth_mm)
    for support in supports:
        shape = values(support)
        matrix = matrix + spring * np.outer(shape, shape)
    none = np.zeros(TERMS * TERMS)
    loads = [sum((force * values((px, py)) for force, px, py in pushes), none) for pushes, _ in cases]
    bent = np.linalg.lstsq(matrix, np.stack(loads, axis=-1), rcond=1e-15)[0]
    return tuple(float(values(place) @ bent[:, index]) for index, (_, place) in enumerate(cases))


def _legendre(at: Any, derivative: int) -> Any:
    """The polynomials, or a derivative of them, at places from −1 to 1: terms last."""
    import numpy as np

    found = [np.polynomial.legendre.Legendre.basis(n).deriv(derivative)(at) for n in range(TERMS)]
    return np.stack(found, axis=-1)


def _integral(weights: Any, left: Any, right: Any) -> Any:
    return left.T @ (right * weights[:, None])
