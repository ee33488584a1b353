"""A newer list whose doubtful lines hold the titles of songs of the show: nothing is asked, and nothing is lost."""

from pathlib import Path

import pytest

from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to
from companion.setlist.importing import import_list
from companion.setlist.list_questions import DoubtQuestion
from companion.setlist.list_reading import list_in
from companion.setlist.model import DoubtAnswer
from companion.setlist.revising.differences import Differs

TITLES = ("Salt Parade", "Waltz for the Supper", "'Train 9:15'", "Fog Bell", "Owl Walk")
SHOW = "show: Mill\nsets:\n  - set: First\n    songs:\n" + "".join(f"      - title: {title}\n" for title in TITLES)


def table(*titles: str) -> bytes:
    rows = "".join(f"{at},{title},\n" for at, title in enumerate(titles, start=1))
    return f"#,Song,Key\n{rows}".encode()


@pytest.mark.parametrize("event", ["Waltz for the Supper", "Dance to the Raffle", "Home before Dinner"])
def test_a_counted_row_among_songs_without_keys_is_a_song_in_doubt(event: str) -> None:
    found = list_in(
        b"#,Song,Key\n1,Salt Parade,G\n2,Weeds,\n3,%b,\n4,Fog Bell,\n5,Owl Walk,C\n" % event.encode(), "l.csv"
    )
    assert found.titles == ["Salt Parade", "Weeds", event, "Fog Bell", "Owl Walk"]


@pytest.mark.parametrize("word", ["no", "Train 9:15"])
def test_the_whole_title_takes_back_what_was_taken_out_of_it(word: str) -> None:
    found = list_in(table("Salt Parade", "Train 9:15", "Fog Bell", "Owl Walk"), "list.csv")
    doubt = next(one for line in found.lines for one in line.doubts if "Train" in one.question)
    answer = answer_to(doubt, word)
    assert answer is not None
    song = corrected(found, [(doubt, answer)]).show.sets[0].songs[1]
    assert (song.title, song.length_s) == ("Train 9:15", None)


def test_titles_of_the_show_are_known(tmp_path: Path) -> None:
    path = tmp_path / "mill.yaml"
    path.write_text(SHOW)
    asked: list[str] = []

    def ask(question: DoubtQuestion) -> DoubtAnswer:
        asked.append(question.doubt.question)
        return DoubtAnswer("")

    raw = table("Salt Parade", "Waltz for the Supper", "Train 9:15", "Fog Bell", "Owl Walk", "Late Tram")
    show = import_list("list.csv", path, raw=raw, ask=ask).show
    assert [song.title for song in show.sets[0].songs] == [
        "Salt Parade",
        "Waltz for the Supper",
        "Train 9:15",
        "Fog Bell",
        "Owl Walk",
        "Late Tram",
    ]
    assert show.sets[0].songs[2].length_s is None
    assert not asked


def test_a_song_that_the_newer_list_says_is_not_played_stays_out(tmp_path: Path) -> None:
    path = tmp_path / "mill.yaml"
    path.write_text(SHOW)
    raw = b"1. Salt Parade - G\n2. Fog Bell - C\n3. Owl Walk - D (not played)\n4. Late Tram - F\n5. Weeds - G\n"
    show = import_list("list.txt", path, raw=raw).show
    assert "Owl Walk" not in [song.title for one in show.sets for song in one.songs]


def test_a_song_in_its_old_place_is_not_told_as_moved(tmp_path: Path) -> None:
    path = tmp_path / "mill.yaml"
    path.write_text(SHOW)
    raw = b"1. Fog Bell\n2. Waltz for the Supper\n3. Salt Parade\n4. Owl Walk\n5. Train 9:15 up\n"
    told = import_list("list.txt", path, raw=raw).differences
    assert all(one.before != one.after for one in told if one.differs is Differs.MOVED)
