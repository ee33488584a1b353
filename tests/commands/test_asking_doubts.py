"""`companion import` asks the doubts one by one at a terminal: yes, no or a word; enter keeps; stop ends it."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from companion.cli import main
from companion.leader.asking import message_for
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

NOW = dt.datetime(2026, 11, 28, 10, tzinfo=dt.UTC)
LIST = "1. Moth\n2. Salt Parade C\n3. Gravel Hour (G or A)\n4. Jam Jar (F)\nTram Home - Bb\n5. Weeds (D)\n"


Asked = Callable[..., tuple[list[str], str, list[str]]]


@pytest.fixture
def asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Asked:
    """Return a function that imports the list, types these words, and returns the songs, the output and the prompts."""
    (tmp_path / "list.txt").write_text(LIST)
    show = tmp_path / "pier.yaml"

    def run(*words: str, options: tuple[str, ...] = ()) -> tuple[list[str], str, list[str]]:
        typed, prompts = iter(words), []

        def prompt(text: str, **_how: object) -> str:
            prompts.append(text)
            return next(typed)

        monkeypatch.setattr("sys.stdin.isatty", lambda: True)
        monkeypatch.setattr("click.prompt", prompt)
        monkeypatch.setattr("click.confirm", lambda _question: True)
        assert main(["import", str(tmp_path / "list.txt"), "--into", str(show), *options]) == 0
        songs = [f"{song.title}: {song.key}" for one in read_show(show).show.sets for song in one.songs]
        return songs, capsys.readouterr().out, prompts

    return run


def test_each_doubt_is_asked_with_its_line_and_the_words_that_answer_it(asked: Asked) -> None:
    songs, out, prompts = asked("yes", "A", "no")
    assert songs == ["Moth: None", "Salt Parade: C", "Gravel Hour: A", "Jam Jar: F", "Weeds: D"]
    assert "3 questions about the list. Enter keeps what was read" in out
    assert "line 2: 2. Salt Parade C" in out
    assert prompts[0] == "Is 'Salt Parade' in C? [NO, yes]"
    assert prompts[1].endswith("[DON'T KNOW, G, A, or the key]")


def test_enter_keeps_what_was_read_and_a_word_that_answers_nothing_is_asked_again(asked: Asked) -> None:
    songs, out, prompts = asked("", "perhaps", "", "")
    assert songs == [
        "Moth: None",
        "Salt Parade C: None",
        "Gravel Hour: None",
        "Jam Jar: F",
        "Tram Home: Bb",
        "Weeds: D",
    ]
    assert prompts[1] == prompts[2]
    assert "Write don't know or G or A, or the key; stop ends the questions" in out


@pytest.mark.parametrize(("word", "kept"), [("stop", 0), ("all", 3)])
def test_stop_and_all_end_the_questions(asked: Asked, word: str, kept: int, tmp_path: Path) -> None:
    _, _, prompts = asked(word)
    assert len(prompts) == 1
    answers = tmp_path / "pier.answers.jsonl"
    assert len(answers.read_text().splitlines() if answers.exists() else []) == kept


def test_no_to_the_sets_asks_where_the_next_one_begins_and_undo_joins_them_again(asked: Asked, tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("two sets of 45, then home\n1. Moth - G\n2. Salt Parade - C\n3. Jam Jar - F\n")
    show = tmp_path / "pier.yaml"
    show.write_text("show: Pier\nsets: [{set: First, songs: [Moth, Salt Parade, Jam Jar]}]\n")
    _, out, prompts = asked("no", "moth", "3", "yes")
    assert prompts[:3] == ["Read as 3 songs in 1 set: is that right? [YES, no, or the first song of the next set]"] * 3
    assert out.count("Where does the next set begin? Write the number or the title of its first song") == 2
    assert [len(one.songs) for one in read_show(show).show.sets] == [2, 1]
    assert main(["undo", str(show)]) == 0
    assert [len(one.songs) for one in read_show(show).show.sets] == [3]


@pytest.mark.parametrize("option", ["--yes", "--json"])
def test_a_script_is_never_asked(asked: Asked, option: str) -> None:
    assert asked(options=(option,))[2] == []


def test_doubts_about_the_whole_list_are_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "list.csv").write_text("1,Moth,Bb\n2,Owl,C\n3,Jay,D\n")
    assert main(["import", str(tmp_path / "list.csv"), "--into", str(tmp_path / "pier.yaml"), "--yes"]) == 0
    assert "in doubt: no column names: columns recognized by their contents" in capsys.readouterr().out


def test_a_midi_file_is_known_by_its_bytes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "moth").write_bytes(b"MThd" + bytes(3))
    assert main(["import", str(tmp_path / "moth")]) == 1
    assert "it has no bars" in capsys.readouterr().err


def replied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, reply: str, keys: str) -> tuple[Path, list[str]]:
    """Bring a reply in at a terminal, pressing these keys; return the show and the titles with their keys."""
    show = tmp_path / "pier.yaml"
    show.write_text("show: Pier\nsongs: [Moth, Weeds, Kettle]\n")
    (tmp_path / "reply.txt").write_text(reply)
    pressed = iter(keys)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.confirm", lambda *_words, **_how: True)
    monkeypatch.setattr("click.getchar", lambda: next(pressed))
    assert main(["questions", str(show), "--answers", str(tmp_path / "reply.txt")]) == 0
    return show, [f"{song.title}: {song.key}" for one in read_show(show).show.sets for song in one.songs]


def test_one_key_says_whether_an_answer_in_doubt_is_right(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show, songs = replied(tmp_path, monkeypatch, "1 G i think\n2 usually A\n3 maybe D", "yxn\r")
    assert songs == ["Moth: G", "Weeds: None", "Kettle: None"]
    told = [str(one) for one in message_for(show, NOW).open]
    assert told == ["1. Weeds, key: not understood: 2 usually A", "2. Kettle, key: D, not sure: 3 maybe D"]


def test_q_lets_all_doubts_wait_and_writes_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show, songs = replied(tmp_path, monkeypatch, "1 G i think\n2 usually A", "q")
    assert songs == ["Moth: None", "Weeds: None", "Kettle: None"]
    assert len(message_for(show, NOW).open) == 2


def test_a_song_that_may_be_dropped_stays_until_the_player_agrees(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show, songs = replied(tmp_path, monkeypatch, "1 dropped i think", "\r")
    assert songs == ["Moth: None", "Weeds: None", "Kettle: None"]
    assert "1 Moth: not played?" in str(message_for(show, NOW).message)
    _, songs = replied(tmp_path, monkeypatch, "1 dropped i think", "y")
    assert songs == ["Weeds: None", "Kettle: None"]
