"""The index tab of a song's sheet."""

import pytest

from companion.music import read_key
from companion.pages.key_tab import key_tab


@pytest.mark.parametrize(
    ("key", "html"),
    [
        ("Bb", '<div class="tab"><span>B♭</span></div>'),
        ("F#m", '<div class="tab"><span>F♯m</span></div>'),
        ("D dorian", '<div class="tab"><span>D<small> dorian</small></span></div>'),
    ],
)
def test_a_mode_stands_below_its_tonic(key: str, html: str) -> None:
    assert str(key_tab(read_key(key))) == html


def test_a_song_without_a_key_asks_for_it() -> None:
    assert str(key_tab(None)) == '<div class="tab"><span class="pencil">key?</span></div>'
