"""Doubts are settled by asking once: what was answered is kept beside the show, and not asked of the next version."""

from pathlib import Path

import pytest

from companion.setlist import import_list
from companion.setlist.doubt_answers import answer_to
from companion.setlist.kept_answers import SettledDoubt, answers_of, answers_path
from companion.setlist.list_file import ListFile
from companion.setlist.list_questions import DoubtQuestion, questions_of
from companion.setlist.model import Doubt, DoubtAnswer, ReadAgain, SetList
from companion.setlist.notation import Notation
from companion.setlist.settling import settled_list
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

LIST = "1. Moth\n2. Salt Parade C\n3. Gravel Hour (G or A)\n4. Jam Jar (F)\nTram Home - Bb\n5. Weeds (D)\n"


class Player:
    """Answers by the words in a question, and remembers what was asked. Without a word for it, stops."""

    def __init__(self, **words: str) -> None:
        self.words = words
        self.asked: list[str] = []

    def __call__(self, question: DoubtQuestion) -> DoubtAnswer | None:
        self.asked.append(question.doubt.question)
        said = next((word for about, word in self.words.items() if about in question.doubt.question), None)
        return None if said is None else answer_to(question.doubt, said)


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    (tmp_path / "list.txt").write_text(LIST)
    return tmp_path / "list.txt", tmp_path / "pier.yaml"


def songs(listed: SetList) -> list[str]:
    return [f"{song.title}: {song.key}" for one in listed.show.sets for song in one.songs]


def test_answers_change_the_show_and_are_not_asked_again(files: tuple[Path, Path]) -> None:
    path, show = files
    player = Player(Salt="yes", Gravel="A", Tram="no")
    import_list(path, show, ask=player)
    assert len(player.asked) == 3
    assert [f"{one.title}: {one.key}" for one in read_show(show).show.sets[0].songs] == [
        "Moth: None",
        "Salt Parade: C",
        "Gravel Hour: A",
        "Jam Jar: F",
        "Weeds: D",
    ]
    path.write_text(LIST.replace("5. Weeds (D)", "5. Weeds (E)\n6. Night Ferry G\n"))
    again = Player(Night="no")
    imported = import_list(path, show, ask=again)
    assert [question for question in again.asked if "Night" not in question] == []
    assert imported.answered_before == 3
    assert [str(one.key) for one in read_show(show).show.sets[0].songs][1:3] == ["C", "A"]


def test_stored_answers_are_used_if_nobody_can_be_asked(files: tuple[Path, Path]) -> None:
    path, show = files
    import_list(path, show, ask=Player(Salt="yes", Gravel="A", Tram="no"))
    assert songs(settled_list(path, show).listed) == [
        "Moth: None",
        "Salt Parade: C",
        "Gravel Hour: A",
        "Jam Jar: F",
        "Weeds: D",
    ]


def test_the_account_contains_the_players_answers(files: tuple[Path, Path]) -> None:
    settled = settled_list(*files, ask=Player(Salt="yes", Gravel="A", Tram="no"))
    assert [line.says for line in settled.listed.lines if "you said" in line.says] == [
        "Salt Parade · in C · you said yes",
        "Gravel Hour · in A · (key: G or A) · you said A",
        "you said no",
    ]


def test_the_account_of_a_song_says_what_the_file_has_after_a_no(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("1. Moth - G\n2. Halfway Am\n3. Jam Jar - F\n4. Weeds - D\n5. Night Ferry - C\n")
    settled = settled_list(tmp_path / "list.txt", tmp_path / "pier.yaml", ask=Player(Halfway="no"))
    assert songs(settled.listed)[1] == "Halfway Am: None"
    assert settled.listed.lines[1].says == "Halfway Am · you said no"


def test_after_stop_no_more_questions_are_asked_and_the_rest_stays_in_doubt(files: tuple[Path, Path]) -> None:
    path, show = files
    player = Player(Salt="yes")
    settled = settled_list(path, show, ask=player)
    assert len(player.asked) == 2
    assert len(settled.answered) == 1
    assert sum(len(line.doubts) for line in settled.listed.lines) == 2


def test_answers_are_stored_even_if_the_list_changes_nothing(files: tuple[Path, Path]) -> None:
    path, show = files
    import_list(path, show)
    import_list(path, show, ask=Player(Salt="no", Gravel="don't know", Tram="yes"))
    assert [one.word for one in answers_of(show)] == ["no", "don't know", "yes"]


def test_nothing_is_stored_if_the_player_does_not_agree(files: tuple[Path, Path]) -> None:
    path, show = files
    import_list(path, show, ask=Player(Salt="yes", Gravel="A", Tram="no"), agree=lambda _: False)
    assert not answers_path(show).exists()
    assert not show.exists()


def test_a_line_that_is_not_an_answer_is_skipped(files: tuple[Path, Path]) -> None:
    _, show = files
    answers_path(show).write_text('half a li\n{"question":"Is it?","word":"no"}\n[]\n')
    assert answers_of(show) == (SettledDoubt("Is it?", "no"),)


def test_an_answer_can_cause_another_reading(files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch) -> None:
    path, show = files
    readings: list[tuple[Notation | None, str | None]] = []
    real = ListFile.set_list

    def read(file: ListFile, *, notation: Notation | None, chosen: str | None) -> SetList:
        readings.append((notation, chosen))
        which = Doubt(
            "two lists",
            "Which list: New or Old?",
            (DoubtAnswer("new"), DoubtAnswer("old", (ReadAgain(chosen="Old"),))),
        )
        listed = real(file)
        return SetList(listed.show, listed.lines, (which,), (), ("New", "Old"), chosen, notation or Notation.LETTERS)

    monkeypatch.setattr(ListFile, "set_list", read)
    settled = settled_list(path, show, ask=Player(Old="old", Salt="yes", Gravel="A", Tram="no"))
    assert readings == [(None, None), (None, "Old")]
    assert (settled.listed.chosen, len(settled.answered)) == ("Old", 4)


def test_which_list_to_read_is_not_asked_if_already_chosen(
    files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    path, show = files
    real = ListFile.set_list

    def read(file: ListFile, *, notation: Notation | None, chosen: str | None) -> SetList:
        name = chosen or "New"
        other = DoubtAnswer("Old", (ReadAgain(chosen="Old"),))
        listed = real(file, notation=notation)
        which = Doubt("two lists", f"Is {name!r} the list to play?", (DoubtAnswer("yes"), other))
        return SetList(listed.show, (), (which,), (), ("New", "Old"), chosen)

    monkeypatch.setattr(ListFile, "set_list", read)
    player = Player(New="Old", Old="yes")
    assert settled_list(path, show, ask=player).listed.chosen == "Old"
    assert player.asked == ["Is 'New' the list to play?"]
    named = settled_list(path, show, chosen="Old", ask=player)
    assert (named.listed.doubts, len(player.asked)) == ((), 1)


def test_each_question_says_how_many_are_left(files: tuple[Path, Path]) -> None:
    found = questions_of(settled_list(*files).listed)
    assert [(question.left, question.where) for question in found] == [(3, "line 2"), (2, "line 3"), (1, "line 5")]
