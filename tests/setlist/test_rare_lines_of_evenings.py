"""Times on lines of their own, keys below titles with words behind, days in front of a row, and titles before talk."""

import pytest
from setlist.reading_texts import read, said

EVENING = (
    "20:00 doors\n21:00 - 21:50 FIRST SET\nMoth Parade (C)\nWeeds (G)\nFog Bell (A)\n22:30 SECOND SET\n"
    "Tidal Clock (D)\nLate Tram (Em)\n00:00 fireworks, everyone outside (we rest)\n00:20\n"
    "Brassneck (C)\nOld Canal (G)\n"
)


def test_a_time_alone_below_an_event_begins_no_set_and_is_no_song() -> None:
    assert said(read(EVENING)) == (
        "First: Moth Parade=C; Weeds=G; Fog Bell=A | Second: Tidal Clock=D; Late Tram=Em; Brassneck=C; Old Canal=G"
    )


def test_times_alone_above_songs_begin_sets_and_make_no_chat_of_the_lines_above() -> None:
    found = read(
        "FRIDAY - Weir Hall\n\n20:00\nMoth Parade (D)\nWeeds (G)\nFog Bell (Am)\n\n"
        "21:15\nTidal Clock (C)\nLate Tram (E)\n\n22:30\nBrassneck (F)\nOld Canal (A)\n"
    )
    assert [len(one.songs) for one in found.show.sets] == [3, 2, 2]
    assert [one.starts_min for one in found.show.sets] == [20 * 60, 21 * 60 + 15, 22 * 60 + 30]


@pytest.mark.parametrize("line", ["Emin, wait 4 drums", "Em - wait 4 drums", "Em wait 4 drums"])
def test_words_behind_a_key_below_its_title_are_a_note(line: str) -> None:
    found = read(
        f"Moth Parade\nGmaj\n\nWeeds\nAmin\n\nFog Bell\nD\n\nTidal Clock\n{line}\n\nLate Tram\nC\n\nBrassneck\nE\n"
    )
    assert said(found) == "First: Moth Parade=G; Weeds=Am; Fog Bell=D; Tidal Clock=Em; Late Tram=C; Brassneck=E"
    assert found.show.sets[0].songs[3].notes == "wait 4 drums"


@pytest.mark.parametrize("label", ["Corn Exchange 3/12", "Fri 4 Dec @ Weir Hall", "Weierhalle, 5.12."])
def test_a_day_in_front_of_a_row_is_no_part_of_its_first_title(label: str) -> None:
    row = "Moth Parade (A) / Weeds (G) / Fog Bell (E) / Tidal Clock (D) / Late Tram (Em) / Brassneck (C)"
    titles = [song.title for song in read(f"{label}: {row}\n").show.sets[0].songs]
    assert titles == ["Moth Parade", "Weeds", "Fog Bell", "Tidal Clock", "Late Tram", "Brassneck"]


def test_sentences_behind_a_row_of_titles_are_talk() -> None:
    found = read(
        "hiya, tomorrow: moth parade, weeds, fog bell, tidal clock, late tram, old canal. all keys same as on the "
        "recordings i sent. bring a stool!! ta, jo\n"
    )
    assert said(found) == "First: moth parade; weeds; fog bell; tidal clock; late tram; old canal"


def test_an_encore_in_capitals_on_a_condition_heads_its_songs() -> None:
    found = read("1. Moth Parade - D\n2. Weeds - G\n3. Fog Bell - C\nENCORE IF WE GET ONE\n4. Tidal Clock - A\n")
    assert [one.name for one in found.show.sets] == ["First", "Encore"]


def test_a_dash_close_to_a_key_that_is_asked_about_parts_it_from_the_title() -> None:
    found = read("1) Moth Parade - D\n2) Weeds - G\n3) Fog Bell No More -A?\n4) Tidal Clock - C\n")
    assert said(found) == "First: Moth Parade=D; Weeds=G; Fog Bell No More=A; Tidal Clock=C"
    assert any(line.doubts for line in found.lines if line.song == 3)
