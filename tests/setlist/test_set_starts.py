"""A list that is not parted into sets as the player knows it: one answer says where the sets begin."""

from pathlib import Path

import pytest

from companion.setlist import Doubt, DoubtAnswer, SetList
from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to, how_to_answer
from companion.setlist.importing import import_list
from companion.setlist.list_questions import DoubtQuestion
from companion.setlist.list_reading import list_in
from companion.show import read_show

LIST = """Two sets of 45, short break
1. Tram Home - Eb
2. Salt Parade - C
3. Gravel Hour - G
4. Old Canal Road - A
Bring black shirts please
5. Herring Waltz - D
6. Lamplighter - F
7. Cork and Candle - Bb
8. Postbox Tango - Em
and we're dropping Lamplighter, nobody knows the bridge
"""


def read(text: str = LIST) -> tuple[SetList, Doubt]:
    found = list_in(text.encode(), "list.txt")
    (doubt,) = (one for one in found.doubts if one.question.startswith("Read as "))
    return found, doubt


def parted(said: str, text: str = LIST) -> list[str] | None:
    found, doubt = read(text)
    answer = answer_to(doubt, said, found)
    if answer is None:
        return None
    after = corrected(found, [(doubt, answer)])
    assert after.titles == found.titles
    assert doubt not in after.doubts
    return [f"{one.name}: {one.songs[0].title}, {len(one.songs)}" for one in after.show.sets]


IN_TWO = ["First: Tram Home, 4", "Second: Herring Waltz, 3"]


@pytest.mark.parametrize("said", ["5", "5.", "song 5", "Herring Waltz", "herring", '"Herring Waltz"'])
def test_the_number_or_the_title_of_a_song_begins_the_next_set(said: str) -> None:
    assert parted(said) == IN_TWO


def test_words_of_a_line_that_is_no_song_begin_a_set_that_has_them_as_its_name() -> None:
    assert parted("black shirts") == ["First: Tram Home, 4", "black shirts: Herring Waltz, 3"]


def test_numbers_are_those_of_the_list_even_where_a_song_is_dropped() -> None:
    assert parted("7") == ["First: Tram Home, 5", "Second: Cork and Candle, 2"]
    assert parted("6") == ["First: Tram Home, 5", "Second: Cork and Candle, 2"]
    bare = "".join(line.partition(". ")[2] or line for line in LIST.splitlines(keepends=True))
    assert parted("7", bare) == ["First: Tram Home, 6", "Second: Postbox Tango, 1"]


def test_several_sets_are_said_in_one_answer() -> None:
    assert parted("3, 5") == ["First: Tram Home, 2", "Second: Gravel Hour, 2", "Third: Herring Waltz, 3"]
    assert parted("Salt Parade and Cork and Candle") is None, "ambiguous"
    assert parted("Salt Parade, Cork and Candle") == [
        "First: Tram Home, 1",
        "Second: Salt Parade, 4",
        "Third: Cork and Candle, 2",
    ]


@pytest.mark.parametrize("said", ["no", "n", "1", "99", "0", "Tram Home", "Moth", "5, Moth", "o", "one set", ",", "?"])
def test_what_names_no_song_of_a_later_set_is_no_answer(said: str) -> None:
    assert parted(said) is None
    assert how_to_answer(read()[1]).startswith("Where does the next set begin? Write the number or the title of its")


def test_a_list_in_two_sets_may_be_parted_elsewhere_or_not_at_all() -> None:
    text = "first 3, then a break, then the rest\n" + LIST.partition("\n")[2]
    assert parted("yes", text) == ["First: Tram Home, 3", "Second: Old Canal Road, 4"]
    assert parted("5", text) == IN_TWO
    assert parted("one set", text) == ["First: Tram Home, 7"]
    assert how_to_answer(read(text)[1]).startswith("Where does each later set begin?")


def test_a_set_begins_at_its_song_when_another_answer_adds_or_takes_songs() -> None:
    found, doubt = read()
    pairs = [(doubt, answer_to(doubt, "5", found))]
    dropped = next(one for line in found.lines for one in line.doubts if "Lamplighter" in one.question)
    pairs.append((dropped, answer_to(dropped, "yes", found)))
    for order in (pairs, pairs[::-1]):
        after = corrected(found, [(one, answer) for one, answer in order if answer])
        assert [[song.title for song in one.songs] for one in after.show.sets] == [
            ["Tram Home", "Salt Parade", "Gravel Hour", "Old Canal Road"],
            ["Herring Waltz", "Lamplighter", "Cork and Candle", "Postbox Tango"],
        ]


def test_a_kept_no_of_an_earlier_import_is_asked_again_and_a_start_is_used_again(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text(LIST, encoding="utf-8")
    asked: list[str] = []

    def ask(question: DoubtQuestion) -> DoubtAnswer | None:
        asked.append(question.doubt.question)
        return answer_to(question.doubt, "herring waltz" if question.doubt.asks_for else "no", question.listed)

    for path in (tmp_path / "a.yaml", tmp_path / "a.yaml"):
        import_list(tmp_path / "a.txt", path, folder=tmp_path, ask=ask)
        assert [len(one.songs) for one in read_show(path).show.sets] == [4, 3]
    assert asked.count("Read as 7 songs in 1 set: is that right?") == 1
