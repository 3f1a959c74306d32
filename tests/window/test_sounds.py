"""Sounds made here: whole loops, two tones, silence when muted or without a device."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pygame
import pytest

from simulator.window.kit.levels import Level
from simulator.window.shell.lift import Choice
from simulator.window.shell.sounds import HUM_PARTS, HUM_S, RATE_HZ, TONES, Sounds, hum, share_of_work, wave
from tests.window.sample import calm_readings, sample_description
from tests.window.screens import open_small, post, show_lift, yard


def test_the_hum_goes_round_without_a_click() -> None:
    """Every part goes round a whole number of times in the loop, so the end runs on into the beginning."""
    assert all((frequency_Hz * HUM_S) % 1.0 == 0.0 for frequency_Hz, _ in HUM_PARTS)
    samples = hum().astype(float)
    steps = np.abs(np.diff(samples))
    assert abs(samples[0] - samples[-1]) <= steps.max() + 1.0
    assert len(samples) == RATE_HZ * HUM_S and np.abs(samples).max() <= 32767


def test_a_stop_is_two_tones_and_lower_at_its_end() -> None:
    def crossings(part: np.ndarray) -> float:
        return float(np.count_nonzero(np.diff(np.signbit(part))) / len(part))

    samples = wave(TONES[Level.STOP])
    first = round(RATE_HZ * TONES[Level.STOP][0][1])
    assert len(TONES[Level.STOP]) == 2
    assert crossings(samples[:first]) > crossings(samples[first:])


def test_the_hum_follows_the_work_and_is_silent_when_muted_or_still() -> None:
    sounds = Sounds()
    for _ in range(120):
        sounds.work(0.8)
    assert sounds.volume == pytest.approx(0.8, abs=0.01)
    sounds.is_muted = True
    for _ in range(120):
        sounds.work(0.8)
    assert sounds.volume == pytest.approx(0.0, abs=0.01)
    sounds.play(Level.STOP)
    description, calm = sample_description(), calm_readings()
    assert share_of_work(description, calm) == 0.0
    hoisting = calm.nose._replace(hoist_speed_mps=description.units[0].hoist.speed_mps, slack=False)
    busy = share_of_work(description, calm.with_unit(0, hoisting))
    assert 0.3 <= busy <= 1.0
    slack = calm.with_unit(0, hoisting._replace(slack=True))
    assert share_of_work(description, slack) < busy
    assert share_of_work(description, calm.with_unit(0, hoisting), is_still=True) == 0.0


def test_mute_is_a_setting_that_the_key_changes() -> None:
    shown = open_small()
    show_lift(shown, Choice(yard(), "two"))
    post(pygame.KEYDOWN, pygame.K_m, pygame.KSCAN_M)
    shown.take_events()
    assert shown.desk.settings.mute and shown.desk.sounds.is_muted


@pytest.fixture
def no_mixer_yet() -> Iterator[None]:
    """An earlier window of this process may have taken the device: pygame asks for it once only."""
    pygame.mixer.quit()
    yield
    pygame.mixer.quit()


@pytest.mark.usefixtures("no_mixer_yet")
def test_no_sound_device_is_silence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_AUDIODRIVER", "no_such_driver")
    sounds = Sounds()
    sounds.find_device()
    sounds.play(Level.STOP)
    for _ in range(30):
        sounds.work(1.0)
    assert sounds.volume > 0.5 and sounds._hum is None


@pytest.mark.usefixtures("no_mixer_yet")
def test_with_a_device_the_hum_comes_and_goes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    sounds = Sounds()
    sounds.find_device()
    assert sounds._hum is not None
    for _ in range(30):
        sounds.work(1.0)
    assert sounds._is_humming and sounds._hum.get_num_channels() == 1
    for _ in range(120):
        sounds.work(0.0)
    assert not sounds._is_humming and sounds._hum.get_num_channels() == 0
