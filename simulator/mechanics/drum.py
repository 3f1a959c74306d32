"""The winch drum: rope on its layers, pull left at each layer, and what the hook then lifts."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from simulator.scenario.unit import Hoist

LEAST_BEND = 18.0
"""Drum and sheave over rope, to the rope's middle, for a hoist rope (ASME B30.5, from memory)."""

BRAKE_OVER_STALL = 1.3
"""Common practice, no source."""
USUAL_STRENGTH_PA = 720e6
"""Breaking strength over the diameter squared (6x36 IWRC EIP, 3/4 in: 261.6 kN, RR-W-410, from memory)."""


def wraps_per_layer(hoist: Hoist) -> int:
    """Whole wraps side by side across the drum, at least one."""
    return max(1, int(hoist.drum_width_m / hoist.rope_diameter_m + 1e-9))


def layer_diameter_m(hoist: Hoist, layer: int) -> float:
    """Diameter of a layer (1 is the first) to the rope's middle, layers stacked squarely."""
    return hoist.drum_diameter_m + (2 * layer - 1) * hoist.rope_diameter_m


def bend_ratio(hoist: Hoist) -> float:
    """How gently the rope is bent: the smaller of drum (first layer) and stated sheave, over the rope's diameter."""
    drum = layer_diameter_m(hoist, 1)
    return min(drum, hoist.sheave_diameter_m or drum) / hoist.rope_diameter_m


def wraps_m(hoist: Hoist, wraps: float, *, layer: int = 1) -> float:
    """Length of rope in some wraps of one layer."""
    return wraps * pi * layer_diameter_m(hoist, layer)


def rope_in_layers_m(hoist: Hoist, layers: int) -> float:
    """Length of rope that fills the first `layers` layers."""
    return sum(wraps_m(hoist, wraps_per_layer(hoist), layer=layer) for layer in range(1, layers + 1))


def layer_in_play(hoist: Hoist, rope_left_m: float) -> int:
    """The layer the line leaves from, with this much usable rope left besides the wraps that must stay on."""
    on_drum = max(0.0, rope_left_m) + wraps_m(hoist, hoist.wraps_to_stay)
    layer, full = 1, rope_in_layers_m(hoist, 1)
    while on_drum > full + 1e-9:
        layer += 1
        full += wraps_m(hoist, wraps_per_layer(hoist), layer=layer)
    return layer


def stall_line_pull_N(hoist: Hoist, layer: int) -> float:
    """Line pull at which the winch stalls: constant torque, so less on the outer layers."""
    return hoist.stall_line_pull_N * layer_diameter_m(hoist, 1) / layer_diameter_m(hoist, layer)


def lead_line_share(parts: int, loss: float) -> float:
    """Lead-line pull as a share of the load while hoisting, loss K a sheave: K^n (K - 1) / (K^n - 1).

    Source: formula in the style of API RP 9B, from memory, not confirmed.
    """
    if loss <= 1.0:
        return 1.0 / parts
    grown = loss**parts
    return grown * (loss - 1.0) / (grown - 1.0)


def lead_line_pull_N(load_N: float, parts: int, loss: float) -> float:
    """Pull in the line to the drum for a load on `parts` parts of line."""
    return load_N * lead_line_share(parts, loss)


def line_load_at_stall_N(hoist: Hoist, rope_left_m: float) -> float:
    """Line load (block and rigging included) at which the winch stalls with this much rope left."""
    pull = stall_line_pull_N(hoist, layer_in_play(hoist, rope_left_m))
    return pull / lead_line_share(hoist.parts, hoist.sheave_loss)


class Layer(NamedTuple):
    """One layer of a drum as a winch feels it."""

    up_to_m: float
    """Usable rope left up to which it is in play."""
    stall_N: float
    """Line load at which the winch stalls: constant torque."""
    gear: float
    """Rope speed over that on the first layer."""


def layers(hoist: Hoist) -> tuple[Layer, ...]:
    """Layer by layer to a full drum."""
    table: list[Layer] = []
    number, stays = 1, wraps_m(hoist, hoist.wraps_to_stay)
    while not table or table[-1].up_to_m < hoist.usable_rope_m:
        load = stall_line_pull_N(hoist, number) / lead_line_share(hoist.parts, hoist.sheave_loss)
        gear = layer_diameter_m(hoist, number) / layer_diameter_m(hoist, 1)
        table.append(Layer(rope_in_layers_m(hoist, number) - stays, load, gear))
        number += 1
    return tuple(table)


def stall_table(hoist: Hoist) -> tuple[tuple[float, float], ...]:
    """(usable rope left up to which a layer is in play, line load at stall there), layer by layer to a full drum."""
    return tuple((layer.up_to_m, layer.stall_N) for layer in layers(hoist))


def brake_over_stall(hoist: Hoist) -> float:
    """Line load at which the brake slips over that at which the winch stalls, the same on every layer: sheaves that
    turn take part of a winch's pull, a rope that rests has all of its load at the drum."""
    pull = hoist.brake_line_pull_N or BRAKE_OVER_STALL * hoist.stall_line_pull_N
    return pull / hoist.stall_line_pull_N * hoist.parts * lead_line_share(hoist.parts, hoist.sheave_loss)


def breaking_N(hoist: Hoist) -> float:
    """Rope pull at which it parts: by its certificate, or as usual ropes of its diameter."""
    return hoist.rope_breaking_N or USUAL_STRENGTH_PA * hoist.rope_diameter_m**2
