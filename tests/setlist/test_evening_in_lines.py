"""A list that is an evening's course: headings by their look, times in any form, lines that are no songs."""

import pytest

from companion.setlist.list_reading import list_in
from companion.setlist.model import LineKind, SetList

EARLY, LATE = ("Thistle Lamp - F", "Ferry Ticket - Am", "Slow Dandelion - Eb"), ("Brass Umbrella - G", "Wren - Dm")


def read(*lines: str) -> SetList:
    return list_in("\n".join(lines).encode(), "list.txt")


def sizes(found: SetList) -> list[int]:
    return [len(one.songs) for one in found.show.sets]


def kinds(found: SetList, took: LineKind) -> list[str]:
    return [line.text for line in found.lines if line.took is took]


def questions(found: SetList) -> list[str]:
    return [doubt.question for line in found.lines for doubt in line.doubts]


def test_a_line_that_looks_like_the_headings_heads_a_set_of_one_song() -> None:
    starred = read("*Early set 7.45*", *EARLY, "*Late set 9.30*", *LATE, "*The very end*", "Moss - C")
    assert sizes(starred) == [3, 2, 1]
    loud = read("COCKTAIL (19:30)", *EARLY, "", "CUTTING THE CAKE", "Moss - C", "", "BALL (22:30)", *LATE)
    assert sizes(loud) == [3, 1, 2]
    assert questions(loud) == ["Is 'Cutting the cake' the heading of a set?"]


def test_a_time_after_midnight_is_none_of_a_song_below_a_heading_of_the_same_form() -> None:
    found = read("BAILE 1 (23:00)", *EARLY, "corte de la tarta", "BAILE 2 (0:30)", *LATE)
    assert sizes(found) == [3, 2]


@pytest.mark.parametrize("second", ["Seconda tanda (22:30) - valzer", "2. bloc", "second spot - 22.30"])
def test_more_words_for_a_set_are_read(second: str) -> None:
    found = read(*EARLY, second, *LATE)
    assert [(one.name, len(one.songs)) for one in found.show.sets][-1] == ("Second", 2)


def test_times_with_one_letter_are_times() -> None:
    rows = ["3:30p load in (dock B)", "5:30p COCKTAIL HOUR (trio)", *EARLY, "6:45p dinner - playlist"]
    found = read(*rows, "8p DANCE SET", *LATE, "10:30p out by 11:30")
    assert [(one.name, one.starts_min) for one in found.show.sets] == [
        ("Cocktail hour", 17 * 60 + 30),
        ("Dance set", 20 * 60),
    ]


def test_a_greeting_is_no_heading_and_then_the_party_is_one() -> None:
    found = read("morning! so glad you can do this", "", *EARLY, "", "Then the party!!", *LATE)
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [("First", 3), ("Party", 2)]


def test_then_alone_ends_no_set() -> None:
    assert sizes(read(*EARLY, "then", *LATE)) == [5]


def test_an_extra_with_its_song_is_a_set_of_its_own() -> None:
    assert sizes(read(*EARLY, *LATE, "EKSTRA: Moss - C")) == [5, 1]


def test_a_key_and_title_that_run_together_head_no_set() -> None:
    rows = ["A   Thistle Lamp", "D   Ferry Ticket", "Em  Slow Dandelion", "C#m Paper Rocket", "F   Wren", "G   Moss"]
    assert sizes(read(*rows)) == [6]


@pytest.mark.parametrize("line", ["6.08 Reading 1: Isaiah - Mrs Pell", "CENA - niente musica", "Essen - keine Musik"])
def test_a_part_without_music_is_no_song(line: str) -> None:
    assert line in kinds(read(*EARLY, line, *LATE), LineKind.LEFT) + kinds(read(*EARLY, line, *LATE), LineKind.BREAK)


SERVICE = ("Introit: Early Gate - Em", "Hymn: Wake Slowly - D", "Collect, readings", "Gradual: Deep Well - F", "Sermon")


@pytest.mark.parametrize("line", ["Recessional: organ, your choice", "pies in the hall", "notices from Bo"])
def test_a_line_without_a_key_in_a_course_is_asked_about_and_no_song(line: str) -> None:
    found = read(*SERVICE, "Offertory: Full Barns - G", line, "Communion: Bread Along the Lane - Eb")
    assert sizes(found) == [5]
    assert [question for question in questions(found) if line.split(":", maxsplit=1)[0] in question]


def test_a_line_that_ends_in_a_time_where_no_song_has_a_length_is_no_song() -> None:
    found = read("First half, 7.30", *EARLY, "Stovies and bar 8.45", "Second half, 9.30", *LATE)
    assert sizes(found) == [3, 2]
    assert questions(found) == ["Is 'Stovies and bar 8.45' a song?"]


def test_small_words_without_a_key_beside_the_mark_of_the_songs_are_asked_about() -> None:
    songs = [f"☑ {one}" for one in (*EARLY, *LATE)]
    found = read(*songs[:3], "☐ notices & children leave", *songs[3:])
    assert sizes(found) == [5]
    assert questions(found) == ["Is 'notices & children leave' a song?"]


def test_titles_without_a_key_stay_songs_in_a_course() -> None:
    assert sum(sizes(read(*EARLY, "Speeches", "Intermission Blues", *LATE, "Raffle", "Moss - C"))) == 7


def test_words_outside_the_songs_head_a_set_of_one_song() -> None:
    rows = ["Processional", f"  {EARLY[0]}", "Opening set", *(f"  {one}" for one in (*EARLY[1:], *LATE)), "Sermon"]
    found = read(*rows, "Closing", "  Moss - C")
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [
        ("Processional", 1),
        ("Opening set", 4),
        ("Closing", 1),
    ]


def test_parts_of_a_service_in_spanish_are_no_songs() -> None:
    found = read("Bienvenida", *EARLY, "Anuncios y ofrenda", *LATE, "Predicación", "Moss - C", "Bendición")
    assert sum(sizes(found)) == 6
