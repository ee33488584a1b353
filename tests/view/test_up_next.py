"""A song up next: what stays, however long its title and whatever else there is to know."""

from typing import Any

import pytest
from msgspec.structs import replace
from view.test_view import CALM, VERSE, after, book_of, shown, song

from companion.music import read_key, read_meter
from companion.show import Section, Song, SoundCall
from companion.stage import Next
from companion.view import LineRole, view

LONG_TITLE = "Where the Ferry Turns for Home and the Lamps Along the Quay Go Out One by One"


@pytest.mark.parametrize("known", [{"tempo_bpm": 126.0}, {"tempo_bpm": 96.0, "starts_with": "keys"}])
def test_a_long_title_up_next_keeps_the_first_section_its_star_and_the_key(known: dict[str, Any]) -> None:
    """The title alone has seventeen words."""
    long = Song(LONG_TITLE, road_map=(Section("Intro", 4, feature="riff alone"), VERSE), key=read_key("Eb"), **known)
    seen = view(after(book_of(Song("Kettle"), long), Next, Next), CALM)
    assert shown(seen, LineRole.TITLE) == [LONG_TITLE]
    assert shown(seen, LineRole.NEXT)[0].startswith("then Intro ★")
    assert shown(seen, LineRole.KEY) == ["E♭"]


def test_a_feature_at_once_stays_up_next_however_much_else_there_is_to_know() -> None:
    known = song(
        Section("Intro", 4, feature="riff alone", watch="drummer and singer"),
        key=read_key("Eb"),
        tempo_bpm=126.0,
        meter=read_meter("4/4"),
        starts_with="drummer",
        count_off="two bars of clicks in the ears, then four on the hi-hat",
        sounds=(SoundCall("tonewheel organ"),),
    )
    seen = view(after(book_of(Song("Kettle"), replace(known, title=LONG_TITLE)), Next, Next), CALM)
    assert shown(seen, LineRole.NEXT) == ["then Intro ★"]
