"""Two short sounds: a soft tick for a caution, two tones for a stop. They may be muted; none carries anything alone."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import numpy as np
import pygame

from simulator.window.thresholds import Level

RATE_HZ = 22050
LOUDNESS = 0.25
TONES: dict[Level, tuple[tuple[float, float], ...]] = {
    Level.CAUTION: ((880.0, 0.06),),
    Level.STOP: ((660.0, 0.16), (440.0, 0.26)),
}
"""Frequency in Hz and length in seconds of each tone."""


def wave(tones: tuple[tuple[float, float], ...]) -> np.ndarray[tuple[int], np.dtype[np.int16]]:
    """Samples of tones after each other, each fading out."""
    parts = []
    for frequency_Hz, length_s in tones:
        time_s = np.arange(round(RATE_HZ * length_s)) / RATE_HZ
        fade = np.exp(-4.0 * time_s / length_s)
        parts.append(np.sin(2.0 * np.pi * frequency_Hz * time_s) * fade)
    return (np.concatenate(parts) * LOUDNESS * 32767.0).astype(np.int16)


def has_sound_device() -> bool:
    """False where asking for sound would only fill the terminal with a sound library's complaints."""
    told = {"SDL_AUDIODRIVER", "PULSE_SERVER"} & set(os.environ)
    return bool(told) or not sys.platform.startswith("linux") or Path("/dev/snd").exists()


class Sounds:
    """Plays them; silent where there is no sound device."""

    def __init__(self) -> None:
        self.is_muted = False
        self._sounds: dict[Level, pygame.mixer.Sound] = {}
        if not has_sound_device():
            return
        try:
            pygame.mixer.init(RATE_HZ, -16, 1, 512)
            self._sounds = {level: pygame.mixer.Sound(buffer=wave(tones).tobytes()) for level, tones in TONES.items()}
        except (pygame.error, NotImplementedError):
            self._sounds = {}

    def play(self, level: Level) -> None:
        """The sound of a level that something has just come up to."""
        if not self.is_muted and level in self._sounds:
            self._sounds[level].play()
