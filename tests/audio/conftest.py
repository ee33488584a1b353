"""A recording that several tests hear."""

from pathlib import Path

import pytest
from audio.recorded_songs import CHORUS, VERSE, part, recorded


@pytest.fixture(scope="session")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return 33 seconds in G at 118: eight bars of verse, eight of chorus."""
    parts = (part("A", VERSE, 0.75), part("B", CHORUS, 1.0))
    return recorded(parts, tmp_path_factory.mktemp("recording") / "lanterns.wav")[1]
