"""Outlines for drawing."""

from simulator.plan.picture import hull


def test_the_outline_of_points_in_a_square_is_the_square() -> None:
    inside = [(x / 7.0, y / 5.0) for x in range(1, 7) for y in range(1, 5)]
    assert set(hull([(0, 0), (1, 0), (1, 1), (0, 1), *inside])) == {(0, 0), (1, 0), (1, 1), (0, 1)}
