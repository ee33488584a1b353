"""A doubt is answered by yes, no or a word, and the answer changes the list."""

import pytest

from companion.setlist import Doubt, SetList
from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to
from companion.setlist.list_reading import list_in
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text

LIST = "1. Moth\n2. Salt Parade C\n3. Gravel Hour (G or A)\n4. Jam Jar (F)\nTram Home - Bb\n5. Weeds (D)\n"


def read() -> SetList:
    return take_in(pages_of_text(LIST, "list.txt"), "List")


def songs(found: SetList) -> list[str]:
    return [f"{song.title}: {song.key}" for one in found.show.sets for song in one.songs]


def doubt_about(found: SetList, words: str) -> Doubt:
    return next(doubt for line in found.lines for doubt in line.doubts if words in doubt.says)


@pytest.mark.parametrize(
    ("about", "said", "becomes"),
    [
        ("may be its key", "yes", ["Salt Parade: C", "Gravel Hour: None", "Tram Home: Bb"]),
        ("may be its key", "n", ["Salt Parade C: None", "Gravel Hour: None", "Tram Home: Bb"]),
        ("left open", "Ab", ["Salt Parade C: None", "Gravel Hour: Ab", "Tram Home: Bb"]),
        ("left open", "don't know", ["Salt Parade C: None", "Gravel Hour: None", "Tram Home: Bb"]),
        ("read as a song", "no", ["Salt Parade C: None", "Gravel Hour: None"]),
    ],
)
def test_an_answer_changes_only_its_own_line(about: str, said: str, becomes: list[str]) -> None:
    found = read()
    doubt = doubt_about(found, about)
    answer = answer_to(doubt, said)
    assert answer is not None
    after = corrected(found, [(doubt, answer)])
    expected = ["Moth: None", *becomes[:2], "Jam Jar: F", *becomes[2:], "Weeds: D"]
    assert songs(after) == expected
    assert doubt not in [left for line in after.lines for left in line.doubts]


def test_answers_given_together_keep_the_songs_apart() -> None:
    found = read()
    doubts = [doubt for line in found.lines for doubt in line.doubts]
    words = {"may be its key": "yes", "left open": "A", "read as a song": "no"}
    pairs = []
    for doubt in doubts:
        said = next(word for about, word in words.items() if about in doubt.says)
        answer = answer_to(doubt, said)
        assert answer is not None
        pairs.append((doubt, answer))
    after = corrected(found, pairs)
    assert songs(after) == ["Moth: None", "Salt Parade: C", "Gravel Hour: A", "Jam Jar: F", "Weeds: D"]
    assert [line.text for line in after.set_aside] == ["Tram Home - Bb"]


def test_an_unknown_word_is_not_an_answer() -> None:
    doubt = doubt_about(read(), "left open")
    assert answer_to(doubt, "perhaps") is None


def test_a_line_corrected_to_a_note_goes_to_the_song_above() -> None:
    found = read()
    doubt = doubt_about(found, "read as a song")
    answer = answer_to(doubt, "note")
    assert answer is not None
    after = corrected(found, [(doubt, answer)])
    assert [song.notes for song in after.show.sets[0].songs] == [None, None, "key: G or A", "Tram Home - Bb", None]


def test_a_label_that_is_no_part_of_the_title_leaves_key_and_notes_of_its_line() -> None:
    found = list_in(b"1. Moth - G\n2. E: Tin Hat - C (acoustic)\n3. Rye - D\n4. Kelp - A", "list.txt")
    (doubt,) = (doubt for line in found.lines for doubt in line.doubts)
    assert doubt.question == "Does 'E' belong to the title?"
    song = corrected(found, [(doubt, doubt.answers[1])]).show.sets[0].songs[1]
    assert (song.title, str(song.key), song.notes) == ("Tin Hat", "C", "E; acoustic")


def test_a_time_left_in_a_title_becomes_the_length() -> None:
    found = list_in(b"1. Moth - G\n2. Gone By 4:30\n3. Rye - D\n4. Kelp - A", "list.txt")
    doubt = doubt_about(found, "may be its length")
    song = corrected(found, [(doubt, doubt.answers[1])]).show.sets[0].songs[1]
    assert (song.title, song.length_s) == ("Gone By", 270)


def test_no_time_of_day_is_asked_about_as_a_length() -> None:
    found = list_in(b"1. Moth - G\n2. Waiting Till 0:00\n3. Rye - D\n4. Kelp - A", "list.txt")
    assert not any("length" in doubt.question for line in found.lines for doubt in line.doubts)


def test_a_german_key_left_in_a_title_becomes_the_key() -> None:
    found = list_in(b"1. Moth - Hm\n2. Salt Parade H\n3. Rye - Fis\n4. Kelp - Es", "list.txt")
    doubt = doubt_about(found, "may be its key")
    song = corrected(found, [(doubt, doubt.answers[1])]).show.sets[0].songs[1]
    assert (song.title, str(song.key)) == ("Salt Parade", "B")
