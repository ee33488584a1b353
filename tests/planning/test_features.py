"""Where people would miss the keys, by the words of the notes; long notes cost no more than their length."""

import pytest

from companion.show import Song
from companion.show.features import features_of


@pytest.mark.parametrize(
    ("notes", "said"),
    [
        ("organ solo after the bridge", ["organ solo after the bridge"]),
        ("slow, keys intro; sax solo", ["keys intro"]),
        ("solo on piano", ["solo on piano"]),
        ("piano solo\norgel riff. Hook for the hammond", ["piano solo", "orgel riff", "Hook for the hammond"]),
        ("keys\nsolo", []),
        ("solo, on piano", []),
        ("the piano starts", ["the piano starts"]),
        ("starts on piano", []),  # a start is who starts, which the show file says elsewhere
        ("keyless introduction", []),
        ("", []),
    ],
)
def test_a_clause_with_keys_and_their_part_is_a_feature(notes: str, said: list[str]) -> None:
    assert [one.what for one in features_of(Song("Moth", notes=notes or None))] == said


def test_endless_notes_are_scanned_once() -> None:
    notes = "solo keys on " * 20_000
    (one,) = features_of(Song("Moth", notes=notes))
    assert len(one.what) == len(notes.strip())
