"""A song whose title was edited is found again by what is left of it; where that is not clear, it is gone."""

import pytest
from msgspec.structs import replace
from stage.scenes import after, book_of, place_text, song

from companion.show import Song
from companion.stage import Next, NextSong, carried_over
from companion.stage.retitled import same_songs

LANTERNS = song("Paper Lantern Row", "Intro, Verse, Chorus")
ROOF = song("Slate and Thunder", "Intro, Verse, Bridge, Chorus")
FERRY = song("Last Ferry", "Verse, Chorus")
KETTLE = song("Kettle", "Verse, Chorus")
WRITTEN = [LANTERNS, ROOF, FERRY]
ONE_LETTER = song("Slate and Thunders", "Intro, Verse, Bridge, Chorus")


def found(before: list[list[Song]], after_it: list[list[Song]]) -> dict[str, str]:
    was, now = book_of(*before), book_of(*after_it)
    numbers = same_songs(was, now, len(was.songs), {number: number for number in range(len(before))})
    return {
        was.songs[number].song.title: now.songs[other].song.title
        for number, other in numbers.items()
        if was.songs[number].song.title != now.songs[other].song.title
    }


@pytest.mark.parametrize(
    ("edited", "expected"),
    [
        ([LANTERNS, ONE_LETTER, FERRY], "Slate and Thunders"),
        ([LANTERNS, song("Slate and Thunders", "Verse, Solo"), FERRY], "Slate and Thunders"),  # title and place
        ([ONE_LETTER, FERRY, LANTERNS], "Slate and Thunders"),  # title and road map
        ([LANTERNS, song("Thunder", "Intro, Verse, Bridge, Chorus"), FERRY], "Thunder"),  # place and road map
        ([song("New", "Verse"), ONE_LETTER, FERRY], "Slate and Thunders"),  # one neighbour is enough
        ([LANTERNS, song("Mill Lane", "Verse, Chorus"), FERRY], None),  # another song in its place
        ([LANTERNS, FERRY], None),
    ],
)
def test_two_of_title_place_and_road_map_are_enough(edited: list[Song], expected: str | None) -> None:
    assert found([WRITTEN], [edited]).get("Slate and Thunder") == expected


def test_where_two_songs_could_be_meant_none_is() -> None:
    twins = [song("Slate and Thunder 1"), song("Slate and Thunder 2")]
    assert found([[ROOF, FERRY]], [[twins[0], FERRY, twins[1]]]) == {"Slate and Thunder": "Slate and Thunder 1"}
    assert found([[song("Kettle"), ROOF, song("Kite")]], [[song("Kettle"), *twins, song("Kite")]]) == {}


def test_a_road_map_that_two_songs_share_says_nothing() -> None:
    assert found([[LANTERNS, FERRY, KETTLE]], [[LANTERNS, song("Moth", "Verse, Chorus"), KETTLE]]) == {}


def test_a_song_without_a_road_map_is_known_by_all_else_that_is_written_of_it() -> None:
    tin = replace(song("Tin Lantern"), length_s=210, notes="cold")
    renamed = replace(tin, title="Corrugated")
    assert found([[LANTERNS, tin, KETTLE]], [[LANTERNS, renamed, KETTLE]]) == {"Tin Lantern": "Corrugated"}
    assert found([[LANTERNS, song("Tin"), KETTLE]], [[LANTERNS, song("Moth"), KETTLE]]) == {}


def test_several_titles_are_edited_at_once() -> None:
    """Between the same two neighbours each is found in its own place."""
    before = [[song("Kettle"), song("Glass Harbour"), song("Amber Road"), song("Kite")]]
    edited = [[song("Kettle"), song("Glas Harbour"), song("Amber Roads"), song("Kite")]]
    assert found(before, edited) == {"Glass Harbour": "Glas Harbour", "Amber Road": "Amber Roads"}


def test_of_a_title_played_twice_the_one_that_was_edited_is_found() -> None:
    was = book_of([ROOF, FERRY, KETTLE, ROOF])
    now = book_of([ONE_LETTER, FERRY, KETTLE, ROOF])
    assert same_songs(was, now, 4, {0: 0}) == {0: 0, 1: 1, 2: 2, 3: 3}


def test_the_night_continues_in_the_song_with_its_new_title() -> None:
    now = after(book_of(WRITTEN), NextSong, Next, Next)
    assert place_text(now) == "Verse of Slate and Thunder"
    moved = carried_over(now, book_of([LANTERNS, ONE_LETTER, FERRY]))
    assert place_text(moved) == "Verse of Slate and Thunders"
    assert [len(songs) for songs in moved.order] == [3], "it is no song more"
