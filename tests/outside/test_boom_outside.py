"""Boom bending against an independent frame program (PyNite): nested sections that touch on their pads alone."""

from __future__ import annotations

import os
from random import Random

import pytest
from Pynite import FEModel3D  # type: ignore[import-untyped]

from simulator.mechanics.boom_section import STEEL_PA, Section, give_of, sections, tip_give_m_per_N
from simulator.scenario.unit import Boom

BOOMS = int(os.environ.get("SLOPEPICK_BOOMS", "4"))
"""How many of them; `SLOPEPICK_BOOMS=20` is a thorough run."""


def boom_of(number: int) -> tuple[Boom, float, float]:
    """A boom by lot: itself, its mass, and a length in its travel."""
    draw = Random(number)
    shortest = draw.uniform(4.0, 11.0)
    longest = shortest * draw.uniform(1.3, 4.2)
    boom = Boom(shortest, longest, 0.0, 1.2, 1.2, 2.6, depth_m=draw.uniform(0.35, 0.9))
    return (
        boom,
        draw.uniform(250.0, 480.0) * longest * boom.depth_m / 0.55,
        draw.uniform(shortest + 0.1 * (longest - shortest), longest),
    )


def model_of(inertias: list[float]) -> FEModel3D:
    """An empty model with a section for each second moment of area; Y up."""
    model = FEModel3D()
    model.add_material("steel", STEEL_PA, 79e9, 0.3, 0.0)
    for i, inertia in enumerate(inertias):
        model.add_section(f"s{i}", 1.0, inertia, inertia, 2.0 * inertia)
    return model


def give_by_frame_program(rows: tuple[Section, ...]) -> float:
    """Every section its own line of members; pads are short stiff struts with a hinge at each end."""
    model = model_of([row.EI_Nm2 / STEEL_PA for row in rows])
    model.add_section("pad", 0.01, 1e-4, 1e-4, 1e-4)
    for i, row in enumerate(rows):
        knots = {row.inner_m, row.mouth_m}
        if i:
            knots.add(rows[i - 1].mouth_m)
        if i + 1 < len(rows):
            knots.add(rows[i + 1].inner_m)
        places = sorted(at for at in knots if row.inner_m - 1e-9 <= at <= row.mouth_m + 1e-9)
        for k, at in enumerate(places):
            model.add_node(f"{i}@{at:.9f}", at, 0.05 * i, 0.0)
            if k:
                model.add_member(f"m{i}.{k}", f"{i}@{places[k - 1]:.9f}", f"{i}@{at:.9f}", "steel", f"s{i}")
    for i in range(1, len(rows)):
        for at in (rows[i].inner_m, rows[i - 1].mouth_m):
            pad = f"pad{i}@{at:.9f}"
            model.add_member(pad, f"{i - 1}@{at:.9f}", f"{i}@{at:.9f}", "steel", "pad")
            model.def_releases(pad, Rzi=True, Rzj=True)
        model.def_support(
            f"{i}@{rows[i].inner_m:.9f}", support_DX=True, support_DZ=True, support_RX=True, support_RY=True
        )
    model.def_support(f"0@{0.0:.9f}", *[True] * 6)
    tip = f"{len(rows) - 1}@{rows[-1].mouth_m:.9f}"
    model.add_node_load(tip, "FY", -1000.0)
    model.analyze_linear(check_statics=False)
    return -float(model.nodes[tip].DY["Combo 1"]) / 1000.0


@pytest.mark.parametrize("number", range(BOOMS))
def test_a_boom_bends_as_its_nested_sections_do(number: int) -> None:
    """To 0.5 %: the same statics, solved as a frame."""
    boom, mass, length = boom_of(number)
    rows = sections(boom, mass, length)
    assert tip_give_m_per_N(boom, mass, length) == give_of(rows)
    assert give_of(rows) == pytest.approx(give_by_frame_program(rows), rel=0.005)
