"""A recording that several tests hear, and a hearing that several tests judge."""

from pathlib import Path

import numpy as np
import pytest
from audio.recorded_songs import CHORUS, VERSE, part, recorded

from companion.audio.constant_q import RATE
from companion.audio.heard_frames import RawHearing
from companion.audio.hearing import raw_hearing


@pytest.fixture(scope="session")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return 33 seconds in G at 118: eight bars of verse, eight of chorus."""
    parts = (part("A", VERSE, 0.75), part("B", CHORUS, 1.0))
    return recorded(parts, tmp_path_factory.mktemp("recording") / "lanterns.wav")[1]


@pytest.fixture(scope="session")
def short_recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return its half: four bars of verse, four of chorus."""
    parts = (part("A", VERSE, 0.75, times=1), part("B", CHORUS, 1.0, times=1))
    return recorded(parts, tmp_path_factory.mktemp("recording") / "lanterns.wav")[1]


@pytest.fixture(scope="session")
def noise() -> RawHearing:
    """Return what is heard in eleven seconds of noise."""
    sound = 0.1 * np.random.default_rng(8).standard_normal(RATE * 11)
    return raw_hearing(sound.astype(np.float32))
