"""Ways in which band leaders write their first list: titles without keys, an encore in the line, an evening's course.

Written by hand, as such messages look. Common practice, no source.
"""

from pathlib import Path

import pytest

from companion.setlist import DoubtAnswer, SetList, import_list, read_list
from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to
from companion.setlist.list_questions import DoubtQuestion, questions_of
from companion.setlist.model import Doubt
from companion.setlist.near_songs import nearest_title
from companion.setlist.revising.matching import match
from companion.show import Song

pytestmark = pytest.mark.usefixtures("reads_here")

SONGS = """Pepper Lane - C
Cold Radiator
Salt Parade (G)
Gasworks Corner Bb
Umbrella Hour
Moth on a Wire - Em, keys start
Kettle Drum Jane
Low Tide (Bb, big keys solo)
Slow Ferry - A
Turnip Moon
Hotel Corridor - D
"""


def read(text: str) -> SetList:
    return read_list("message.txt", raw=text.encode())


def doubts(listed: SetList) -> list[Doubt]:
    return [doubt for line in listed.lines for doubt in line.doubts]


@pytest.mark.parametrize("head", ["", "[28/11/2026, 21:14] Bodo Pratt: Hiya, here it is!\n"])
@pytest.mark.parametrize("below", ["", "\nblack shirts, load in at 5. B x\n"])
def test_a_last_title_without_a_key_is_a_song_where_others_have_none(head: str, below: str) -> None:
    listed = read(f"{head}SET 1\n{SONGS}\nencore\nNine Lost Gloves - G\nBig Purple Wheelbarrow\n{below}")
    assert listed.titles[-2:] == ["Nine Lost Gloves", "Big Purple Wheelbarrow"]
    assert [line.text for line in listed.left if line.text == "Big Purple Wheelbarrow"] == []


def test_a_last_title_without_a_key_is_asked_about_where_all_others_have_one() -> None:
    keyed = "\n".join(f"{line} - D" if line[-1].isalpha() else line for line in SONGS.splitlines() if line[-2:] != " C")
    listed = read(f"[28/11/2026, 21:14] Bodo Pratt: Hiya!\nSET 1\n{keyed}\nBig Purple Wheelbarrow\n")
    asked = [one.doubt.question for one in questions_of(listed)]
    assert "Big Purple Wheelbarrow" in listed.titles or "Is 'Big Purple Wheelbarrow' a song?" in asked


def test_titles_without_keys_among_many_such_are_told_and_not_asked_about_one_by_one() -> None:
    listed = read(f"SET 1\n{SONGS}")
    assert "Cold Radiator" in listed.titles
    assert not [one for one in questions_of(listed) if one.doubt.question.endswith("a song?")]
    assert sum("without a key" in str(doubt) for doubt in doubts(listed)) == 4


def test_a_single_title_without_a_key_is_asked_about() -> None:
    lines = [line for line in SONGS.splitlines() if line[-1] in "CG)bA D" or "keys" in line]
    listed = read("SET 1\n" + "\n".join([*lines[:3], "Cold Radiator", *lines[3:]]))
    assert "Is 'Cold Radiator' a song?" in [one.doubt.question for one in questions_of(listed)]


def test_a_key_with_words_behind_it_in_one_bracket_is_no_sentence() -> None:
    listed = read(f"SET 1\n{SONGS}")
    (line,) = (line for line in listed.lines if line.text.startswith("Low Tide"))
    assert (line.says, line.doubts) == ("Low Tide · in Bb · (big keys solo)", ())


def test_an_encore_in_small_letters_before_a_title_is_a_set() -> None:
    listed = read("Set 1\nPepper Lane\nCold Radiator\nSalt Parade\nSlow Ferry\nencore Nine Lost Gloves\n")
    assert [(one.name, [song.title for song in one.songs]) for one in listed.show.sets][1:] == [
        ("Encore", ["Nine Lost Gloves"])
    ]


def test_no_takes_small_words_off_the_front_of_a_title() -> None:
    listed = read("Set 1\nPepper Lane\nCold Radiator\nSalt Parade\nopener Slow Ferry\nUmbrella Hour\nPaper Crown\n")
    (question,) = (one.doubt for one in questions_of(listed) if "whole title" in one.doubt.question)
    answer = answer_to(question, "no")
    assert answer is not None
    after = corrected(listed, [(question, answer)])
    song = after.show.sets[0].songs[3]
    assert (song.title, song.notes) == ("Slow Ferry", "opener")


@pytest.mark.parametrize(
    ("old", "new"),
    [("Harbour Street", "Harbour St"), ("Quarry Road", "Quarry Rd"), ("Chapel Avenue Blues", "Chapel Ave Blues")],
)
def test_a_title_with_a_shortened_word_is_the_same_song(old: str, new: str) -> None:
    assert [(one.old, one.new) for one in match([Song(old)], [Song(new)])] == [(0, 0)]
    assert nearest_title(new.lower(), [old.lower()]) == old.lower()


@pytest.mark.parametrize(("old", "new"), [("Harbour Street", "Harbour Sand"), ("Moth Street", "Moth St Ives")])
def test_another_word_is_another_song(old: str, new: str) -> None:
    assert not match([Song(old)], [Song(new)])


def test_a_song_whose_note_says_its_real_title_is_that_song() -> None:
    old = Song("Never Lend a Plumber", notes="joke!! its really Never Lend a Velvet-Brick")
    assert len(match([old], [Song("Never Lend a Velvet Brick")])) == 1
    assert not match(
        [Song("Pepper Lane", notes="segue into Never Lend a Velvet-Brick")], [Song("Never Lend a Velvet Brick")]
    )


GRID = """Song,Key,BPM
Pepper Lane,C,118
Cold Radiator,G or A,72
21:00 BUFFET / RAFFLE / MAYOR SPEECH,,
Slow Ferry,D,90
"""


@pytest.mark.parametrize("text", [GRID, "1. Pepper Lane - C\n2. Cold Radiator - G or A\n3. Slow Ferry - D\n"])
def test_two_possible_keys_are_both_offered_and_the_question_names_the_title(text: str) -> None:
    listed = read_list("list.csv" if "," in text else "list.txt", raw=text.encode())
    (question,) = (one.doubt for one in questions_of(listed) if one.doubt.asks_for == "key")
    assert question.question == "Which key is 'Cold Radiator' in?"
    assert [one.word for one in question.answers] == ["don't know", "G", "A"]
    answer = answer_to(question, "a")
    assert answer is not None
    assert str(corrected(listed, [(question, answer)]).show.sets[0].songs[1].key) == "A"


def test_several_events_in_a_row_of_their_own_are_no_song() -> None:
    listed = read_list("list.csv", raw=GRID.encode())
    assert listed.titles == ["Pepper Lane", "Cold Radiator", "Slow Ferry"]


def test_a_line_that_is_no_song_has_no_other_questions(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text("show: Harbour Night\nsongs: [Pepper Lane]\n")
    asked: list[str] = []

    def ask(question: DoubtQuestion) -> DoubtAnswer:
        asked.append(question.doubt.question)
        return answer_to(question.doubt, "note") or question.doubt.answers[0]

    text = "Song,Key\nPepper Lane,C\n>> Mayor's Hat >>,\nSlow Ferry,D\nCold Radiator,E\nSalt Parade,G\n"
    import_list("list.csv", tmp_path / "show.yaml", raw=text.encode(), ask=ask, agree=lambda _: False)
    assert sum("Mayor" in one for one in asked) == 1
