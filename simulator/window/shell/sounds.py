"""Small sounds made here: a tick for a caution, two tones for a stop, a hum for a winch or boom under load.

They may be muted; none carries anything alone.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import numpy as np
import pygame

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.window.kit.levels import Level

RATE_HZ = 22050
LOUDNESS = 0.25
HUM_LOUDNESS = 0.12
HUM_S = 2.0
"""Length of the hum's loop; every part of it goes round a whole number of times."""
HUM_PARTS = ((48.0, 1.0), (96.0, 0.55), (144.0, 0.3), (241.5, 0.12), (387.0, 0.06))
"""Frequency in Hz and strength of the hum's parts."""
SLOW_S = 0.25
"""The hum comes and goes in about this time."""
TONES: dict[Level, tuple[tuple[float, float], ...]] = {
    Level.CAUTION: ((880.0, 0.06),),
    Level.STOP: ((660.0, 0.16), (440.0, 0.26)),
}
"""Frequency in Hz and length in seconds of each tone."""
Samples = np.ndarray[tuple[int], np.dtype[np.int16]]


def wave(tones: tuple[tuple[float, float], ...]) -> Samples:
    """Samples of tones after each other, each fading out."""
    parts = []
    for frequency_Hz, length_s in tones:
        time_s = np.arange(round(RATE_HZ * length_s)) / RATE_HZ
        fade = np.exp(-4.0 * time_s / length_s)
        parts.append(np.sin(2.0 * np.pi * frequency_Hz * time_s) * fade)
    return (np.concatenate(parts) * LOUDNESS * 32767.0).astype(np.int16)


def hum() -> Samples:
    """Samples of a hum that can go round and round."""
    time_s = np.arange(round(RATE_HZ * HUM_S)) / RATE_HZ
    total = sum(strength * np.sin(2.0 * np.pi * frequency_Hz * time_s) for frequency_Hz, strength in HUM_PARTS)
    share = np.asarray(total) / sum(strength for _, strength in HUM_PARTS)
    return (share * HUM_LOUDNESS * 32767.0).astype(np.int16)


def share_of_work(description: Description, readings: Readings, *, is_still: bool = False) -> float:
    """How hard winches and booms work, 0 to 1: speed of the fastest function of a unit times how loaded it is."""
    if is_still:
        return 0.0
    shares = []
    for rig in rig_of(description).units:
        unit, now = description.units[rig.place], readings.units[rig.place]
        lines = [readings.lines[line.place] for line in rig.lines]
        speeds = (
            *(at.hoist_speed_mps / line.hoist.speed_mps for line, at in zip(unit.lines, lines, strict=True)),
            now.telescope_speed_mps / unit.boom.telescope_speed_mps,
            now.elevation_speed_radps / unit.boom.elevation_speed_radps,
        )
        loaded = 0.0 if all(line.slack for line in lines) else 0.3 + 0.7 * min(1.0, now.capacity_used)
        shares.append(min(1.0, max(map(abs, speeds))) * loaded)
    return max(shares)


def has_sound_device() -> bool:
    """False where asking for sound would only fill the terminal with a sound library's complaints."""
    told = {"SDL_AUDIODRIVER", "PULSE_SERVER"} & set(os.environ)
    return bool(told) or not sys.platform.startswith("linux") or Path("/dev/snd").exists()


class Sounds:
    """Plays them; silent where there is no sound device."""

    def __init__(self) -> None:
        self.is_muted = False
        self.volume = 0.0
        """Of the hum, now."""
        self._sounds: dict[Level, pygame.mixer.Sound] = {}
        self._hum: pygame.mixer.Sound | None = None
        self._is_humming = False

    def find_device(self) -> None:
        """Take the sound device, if there is one."""
        if not has_sound_device():
            return
        try:
            pygame.mixer.init(RATE_HZ, -16, 1, 512)
            self._sounds = {level: pygame.mixer.Sound(buffer=wave(tones).tobytes()) for level, tones in TONES.items()}
            self._hum = pygame.mixer.Sound(buffer=hum().tobytes())
        except (pygame.error, NotImplementedError):
            self._sounds, self._hum = {}, None

    def play(self, level: Level) -> None:
        """The sound of a level that something has just come up to."""
        if not self.is_muted and level in self._sounds:
            self._sounds[level].play()

    def work(self, share: float, elapsed_s: float = 1.0 / 60.0) -> None:
        """Let the hum follow how hard winches and booms work, 0 to 1."""
        wanted = 0.0 if self.is_muted else share
        self.volume += (wanted - self.volume) * min(1.0, elapsed_s / SLOW_S)
        if self._hum is None:
            return
        if self.volume < 0.01:
            if self._is_humming:
                self._hum.stop()
            self._is_humming = False
            return
        self._hum.set_volume(self.volume)
        if not self._is_humming:
            self._hum.play(loops=-1)
            self._is_humming = True
