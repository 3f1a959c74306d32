"""Vectors and 3x3 matrices of plain numbers, and the rotation by pitch, yaw and roll.

Worked out with plus, minus, times and divide alone, in a written order: the same bits whatever library is installed.
"""

from __future__ import annotations

from math import cos, sin

Vector = tuple[float, float, float]
Matrix = tuple[float, float, float, float, float, float, float, float, float]
"""Row by row."""


def rotation(pitch_rad: float, yaw_rad: float, roll_rad: float) -> Matrix:
    """Rz(yaw) Ry(pitch) Rx(roll), row by row: lying axes to the world."""
    cp, sp, cw, sw, cq, sq = cos(pitch_rad), sin(pitch_rad), cos(yaw_rad), sin(yaw_rad), cos(roll_rad), sin(roll_rad)
    return (
        cw * cp,
        cw * sp * sq - sw * cq,
        cw * sp * cq + sw * sq,
        sw * cp,
        sw * sp * sq + cw * cq,
        sw * sp * cq - cw * sq,
        -sp,
        cp * sq,
        cp * cq,
    )


def turned(matrix: Matrix, vector: Vector) -> Vector:
    """`matrix` times `vector`."""
    x, y, z = vector
    a, b, c, d, e, f, g, h, i = matrix
    return a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z


def turned_back(matrix: Matrix, vector: Vector) -> Vector:
    """Transpose of `matrix` times `vector`."""
    x, y, z = vector
    a, b, c, d, e, f, g, h, i = matrix
    return a * x + d * y + g * z, b * x + e * y + h * z, c * x + f * y + i * z


def times(first: Matrix, second: Matrix) -> Matrix:
    """`first` times `second`."""
    a, b, c, d, e, f, g, h, i = first
    j, k, m, n, o, p, q, r, s = second
    return (
        a * j + b * n + c * q,
        a * k + b * o + c * r,
        a * m + b * p + c * s,
        d * j + e * n + f * q,
        d * k + e * o + f * r,
        d * m + e * p + f * s,
        g * j + h * n + i * q,
        g * k + h * o + i * r,
        g * m + h * p + i * s,
    )


def transposed(matrix: Matrix) -> Matrix:
    """Rows for columns."""
    a, b, c, d, e, f, g, h, i = matrix
    return a, d, g, b, e, h, c, f, i


def determinant(matrix: Matrix) -> float:
    """Volume of the box that the rows span."""
    a, b, c, d, e, f, g, h, i = matrix
    return a * (e * i - f * h) + b * (f * g - d * i) + c * (d * h - e * g)


def inverse(matrix: Matrix) -> Matrix:
    """By cofactors.

    Raises:
        ZeroDivisionError: it has none.
    """
    a, b, c, d, e, f, g, h, i = matrix
    whole = determinant(matrix)
    return (
        (e * i - f * h) / whole,
        (c * h - b * i) / whole,
        (b * f - c * e) / whole,
        (f * g - d * i) / whole,
        (a * i - c * g) / whole,
        (c * d - a * f) / whole,
        (d * h - e * g) / whole,
        (b * g - a * h) / whole,
        (a * e - b * d) / whole,
    )
