"""What counts as an answer at all; the rest is asked again and costs nothing."""

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from planning.shows import show, song

from companion.cli import main
from companion.practice_log.records import LogKind, PracticeRecord, read_records
from companion.quiz.answer_forms import what_to_write
from companion.quiz.cards import Card, Subject, cards_of
from companion.show import Ending, Section, SoundCall

Quizzed = Callable[..., tuple[str, tuple[PracticeRecord, ...]]]

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


def card(asks: Subject) -> Card:
    return next(one for one in cards_of(show(CORNER)) if one.asks is asks)


@pytest.mark.parametrize(
    ("asks", "answers"),
    [
        (Subject.KEY, ("C", "f sharp minor", "Bb", "E♭")),
        (Subject.STARTS, ("drums", "Jo", "me")),
        (Subject.SOUND, ("organ", "a sound of mine")),
        (Subject.CHORD, ("Cm7", "4", "F/A", "5/7")),
        (Subject.NEXT, ("chorus", "ch", "v", "vers", "Trombone hook", "trom", "outro", "solo 2")),
        (Subject.FEATURES, ("intro and solo", "verse")),
        (Subject.ENDING, ("cold", "it fades out", "vamp out", "segue", "ritrad")),
        *((asks, ("", "  ", "?", "no idea", "I don't know.", "dunno")) for asks in Subject),
    ],
)
def test_an_answer_of_the_kind_asked_for_is_judged(asks: Subject, answers: tuple[str, ...]) -> None:
    assert {typed: what_to_write(card(asks), typed) for typed in answers} == dict.fromkeys(answers)


@pytest.mark.parametrize(
    ("asks", "typed", "example"),
    [
        (Subject.KEY, "asdf", "a key, such as Bb or F#m"),
        (Subject.KEY, "the same as before", "a key, such as Bb or F#m"),
        (Subject.STARTS, "17", "who, such as keys or drums"),
        (Subject.STARTS, "Bb", "who, such as keys or drums"),
        (Subject.SOUND, "::", "a sound, such as tonewheel organ"),
        (Subject.CHORD, "xx", "a chord, such as Cm7 or 4"),
        (Subject.NEXT, "Bb", "a section, such as Chorus"),
        (Subject.NEXT, "qwertz", "a section, such as Chorus"),
        (Subject.FEATURES, "4", "a section, such as Solo"),
        (Subject.ENDING, "asdf", "how it ends: cold, ritard, fade, tag, vamp-out, segue"),
    ],
)
def test_anything_else_is_asked_again_with_an_example(asks: Subject, typed: str, example: str) -> None:
    assert what_to_write(card(asks), typed) == example


@pytest.fixture
def quizzed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Quizzed:
    """Return a function that types these lines into the quiz of one song, and returns its output and its records."""
    path = tmp_path / "show.yaml"
    path.write_text("show: Ball\nsongs:\n  - title: Moth\n    key: Bb\n", encoding="utf-8")
    monkeypatch.setattr("companion.quiz.at_keyboard.open_system", lambda: None)

    def run(*lines: str) -> tuple[str, tuple[PracticeRecord, ...]]:
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
        assert main(["quiz", str(path)]) == 0
        return capsys.readouterr().out, tuple(read_records(path).kept)

    return run


def test_the_quiz_records_only_answers(quizzed: Quizzed) -> None:
    out, records = quizzed("asdf", "hm", "Bb")
    assert out.count("Write a key, such as Bb or F#m. Enter alone if you do not know:") == 2
    assert "1 right, 0 wrong" in out
    assert [(one.did, one.grade > 1) for one in records if one.grade] == [(LogKind.ASKED, True)]


def test_q_ends_the_quiz_and_is_not_an_answer(quizzed: Quizzed) -> None:
    out, records = quizzed("Q", "Bb")
    assert "0 right, 0 wrong; 1 left" in out
    assert records == ()
