"""Changes below a list, under words that announce them, with numbers for its songs, in the words of each language."""

import pytest
from setlist.reading_texts import read, said

NUMBERED = "1. Moth Parade - C\n2. Weeds Again - G\n3. Owl Walk - A\n4. Late Tram - D\n5. Fog - E\n"
WITH_NEW = "Moth Parade=C; Weeds Again=G; Owl Walk=A; Harbour Sleep=Bb; Late Tram=D; Fog=E"


@pytest.mark.parametrize(
    "below",
    [
        "added later:\n - between 3 and 4 put Harbour Sleep (Bb)\n",
        "Changes:\n- put Harbour Sleep (Bb) between Owl Walk and Late Tram\n",
        "Nachtrag:\n - zwischen 3 und 4 noch Harbour Sleep (Bb)\n",
        "we put Harbour Sleep in Bb after 3\n",
        "\nplease add Harbour Sleep (Bb) between 3 and 4\n",
    ],
)
def test_a_song_is_put_between_songs_that_are_named_by_number(below: str) -> None:
    found = read(f"{NUMBERED}{below}")
    assert said(found) == f"First: {WITH_NEW}"
    assert found.in_doubt


@pytest.mark.parametrize(
    "below", ["added later:\n - drop Fog\n", "edits:\n  * skip Fog\n", "Änderungen:\n- ohne Fog\n"]
)
def test_a_song_is_dropped_under_words_that_announce_changes(below: str) -> None:
    found = read(f"{NUMBERED}{below}")
    assert said(found) == "First: Moth Parade=C; Weeds Again=G; Owl Walk=A; Late Tram=D"
    assert found.in_doubt


@pytest.mark.parametrize(
    "line",
    [
        "och Owl Walk stryker vi, den är för lång",
        "Owl Walk lassen wir weg",
        "Owl Walk, on la supprime",
        "Owl Walk la quitamos",
        "Owl Walk slaan we over",
        "Owl Walk jätetään pois",
    ],
)
def test_a_verb_behind_the_title_drops_the_song(line: str) -> None:
    found = read(f"{NUMBERED}\n{line}\n")
    assert said(found) == "First: Moth Parade=C; Weeds Again=G; Late Tram=D; Fog=E"
    assert found.in_doubt


def test_a_note_below_a_song_that_names_another_place_of_it_stays_a_note() -> None:
    found = read("1. Moth Parade - C\n   after 4 bars drop out\n2. Weeds Again - G\n   between 3 and 4 bars of drums\n")
    assert [song.notes for song in found.show.sets[0].songs] == [
        "after 4 bars drop out",
        "between 3 and 4 bars of drums",
    ]


@pytest.mark.parametrize(
    "line",
    [
        "and Owl Walk isn't one for this crowd, so no",
        "Owl Walk hatten wir neulich, also lieber nicht",
        "Owl Walk, die gaat niet door",
    ],
)
def test_words_that_may_drop_a_song_leave_a_question(line: str) -> None:
    found = read(f"{NUMBERED}\n{line}\n")
    assert len(found.show.sets[0].songs) == 5
    assert "Is 'Owl Walk' played?" in [doubt.question for line in found.in_doubt for doubt in line.doubts]


@pytest.mark.parametrize("line", ["Owl Walk starts with keys alone", "no drums in Owl Walk", "Owl Walk: cut the intro"])
def test_a_remark_on_a_song_leaves_no_question(line: str) -> None:
    assert not read(f"{NUMBERED}\n{line}\n").in_doubt
