"""A still as eyes see it that tell red from green or blue from yellow badly, or no colors at all."""

from __future__ import annotations

import numpy as np
import pygame

EYES: dict[str, np.ndarray] = {
    "protan": np.array(
        ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998))
    ),
    "deutan": np.array(
        ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881))
    ),
    "tritan": np.array(
        ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900))
    ),
    "gray": np.array(((0.2126, 0.7152, 0.0722),) * 3),
}
"""On linear light. Protan, deutan and tritan: Machado, Oliveira and Fernandes 2009, severity 1 (from memory, not
confirmed); gray: relative luminance of WCAG 2.1 (from memory, not confirmed)."""


def linear(coded: np.ndarray) -> np.ndarray:
    """sRGB from 0 to 1 to linear light (IEC 61966-2-1, from memory, not confirmed)."""
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def coded(light: np.ndarray) -> np.ndarray:
    """Linear light to sRGB from 0 to 1: the other way round."""
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1.0 / 2.4) - 0.055)


def as_seen_by(eye: str, surface: pygame.Surface) -> pygame.Surface:
    """The picture for one kind of eye."""
    light = linear(pygame.surfarray.array3d(surface) / 255.0) @ EYES[eye].T
    return pygame.surfarray.make_surface(np.rint(255.0 * coded(np.clip(light, 0.0, 1.0))).astype(np.uint8))
