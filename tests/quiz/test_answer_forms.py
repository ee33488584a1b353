"""What counts as an answer at all; the rest is asked again and costs nothing."""

import io
from pathlib import Path

import pytest
from planning.shows import show, song

from companion.cli import main
from companion.practice_log.records import Did, read_records
from companion.quiz.answer_forms import what_to_write
from companion.quiz.cards import Asks, Card, cards_of
from companion.show import Ending, Section, SoundCall

CORNER = song(
    "Gasworks Corner",
    "Bb",
    starts_with="keys",
    ending=Ending.RITARD,
    sounds=(SoundCall("organ"),),
    road_map=(
        Section("Intro", 4, feature="riff alone", chords="1 | 4"),
        Section("Chorus", 8),
        Section("Trombone Hook", 8),
        Section("Chorus", 8),
        Section("Outro", 8),
    ),
)


def card(asks: Asks) -> Card:
    return next(one for one in cards_of(show(CORNER)) if one.asks is asks)


@pytest.mark.parametrize(
    ("asks", "answers"),
    [
        (Asks.KEY, ("C", "f sharp minor", "Bb", "E♭")),
        (Asks.STARTS, ("drums", "Jo", "me")),
        (Asks.SOUND, ("organ", "a sound of mine")),
        (Asks.CHORD, ("Cm7", "4", "F/A", "5/7")),
        (Asks.NEXT, ("chorus", "ch", "v", "vers", "Trombone hook", "trom", "outro", "solo 2")),
        (Asks.FEATURES, ("intro and solo", "verse")),
        (Asks.ENDING, ("cold", "it fades out", "vamp out", "segue", "ritrad")),
        *((asks, ("", "  ", "?", "no idea", "I don't know.", "dunno")) for asks in Asks),
    ],
)
def test_an_answer_of_the_kind_asked_for_is_judged(asks: Asks, answers: tuple[str, ...]) -> None:
    assert {typed: what_to_write(card(asks), typed) for typed in answers} == dict.fromkeys(answers)


@pytest.mark.parametrize(
    ("asks", "typed", "example"),
    [
        (Asks.KEY, "asdf", "a key, such as Bb or F#m"),
        (Asks.KEY, "the same as before", "a key, such as Bb or F#m"),
        (Asks.STARTS, "17", "who, such as keys or drums"),
        (Asks.SOUND, "::", "a sound, such as tonewheel organ"),
        (Asks.CHORD, "xx", "a chord, such as Cm7 or 4"),
        (Asks.NEXT, "Bb", "a section, such as Chorus"),
        (Asks.NEXT, "qwertz", "a section, such as Chorus"),
        (Asks.FEATURES, "4", "a section, such as Solo"),
        (Asks.ENDING, "asdf", "how it ends: cold, ritard, fade, tag, vamp-out, segue"),
    ],
)
def test_anything_else_is_asked_again_with_an_example(asks: Asks, typed: str, example: str) -> None:
    assert what_to_write(card(asks), typed) == example


def test_the_quiz_records_only_answers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "show.yaml"
    path.write_text("show: Ball\nsongs:\n  - title: Moth\n    key: Bb\n", encoding="utf-8")
    monkeypatch.setattr("companion.quiz.at_keyboard.open_system", lambda: None)
    monkeypatch.setattr("sys.stdin", io.StringIO("asdf\nhm\nBb\n"))
    assert main(["quiz", str(path)]) == 0
    out = capsys.readouterr().out
    assert out.count("Write a key, such as Bb or F#m. Enter alone if you do not know:") == 2
    assert "1 right, 0 wrong" in out
    assert [(one.did, one.grade > 1) for one in read_records(path).kept if one.grade] == [(Did.ASKED, True)]


def test_q_ends_the_quiz_and_is_not_an_answer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "show.yaml"
    path.write_text("show: Ball\nsongs:\n  - title: Moth\n    key: Bb\n", encoding="utf-8")
    monkeypatch.setattr("companion.quiz.at_keyboard.open_system", lambda: None)
    monkeypatch.setattr("sys.stdin", io.StringIO("Q\nBb\n"))
    assert main(["quiz", str(path)]) == 0
    assert "0 right, 0 wrong; 1 left" in capsys.readouterr().out
    assert read_records(path).kept == ()
