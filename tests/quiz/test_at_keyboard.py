"""Answers that are typed or played: the first one counts, and what is not an answer."""

import io
import os
import queue
from pathlib import Path

import pytest

from companion.clock import now_ns
from companion.music import read_key
from companion.ports import Direction, MidiReceived, PortFound
from companion.quiz.at_keyboard import AnswerInbox, AnswerPlayed, AnswerSource, AnswerTyped, lines_of, spelled


def answers_after(*messages: bytes | str, ago: bool = False) -> AnswerSource:
    """Return answers fed with these events: text typed, bytes played after the question or before it."""
    inbox: AnswerInbox = queue.SimpleQueue()
    for at, message in enumerate(messages):
        at_ns = now_ns() - 10**9 if ago else now_ns() + 2 * 10**9 + at
        inbox.put(AnswerTyped(message) if isinstance(message, str) else MidiReceived("Stage Piano", message, at_ns))
    inbox.put(AnswerTyped("the end"))
    return AnswerSource(inbox, lambda _port: None)


# MIDI 1.0, Table I: 9n note velocity is note on, velocity 0 is note off; 60 is middle C
DOWN_C, UP_C, DOWN_E, UP_E = b"\x90\x3c\x40", b"\x90\x3c\x00", b"\x90\x40\x40", b"\x90\x40\x00"


def test_releasing_all_keys_answers_with_the_time_of_the_first_note() -> None:
    given = answers_after(DOWN_C, DOWN_E, UP_C, UP_E).next(can_be_played=True)
    assert isinstance(given, AnswerPlayed)
    assert given.notes == (60, 64)
    assert given.seconds == pytest.approx(2, abs=0.5)


def test_a_line_typed_before_the_keys_are_released_is_the_answer() -> None:
    assert answers_after(DOWN_C, "Bb", UP_C).next(can_be_played=True) == AnswerTyped("Bb")


def test_notes_played_before_the_question_are_ignored() -> None:
    assert answers_after(DOWN_C, UP_C, ago=True).next(can_be_played=True) == AnswerTyped("the end")


def test_a_question_that_cannot_be_played_waits_for_a_typed_answer() -> None:
    assert answers_after(DOWN_C, UP_C).next(can_be_played=False) == AnswerTyped("the end")


def test_lines_that_were_typed_ahead_answer_one_question_each() -> None:
    answers = answers_after("one", "two")
    assert [answers.next(can_be_played=False) for _ in range(2)] == [AnswerTyped("one"), AnswerTyped("two")]


def test_each_found_port_is_reported() -> None:
    inbox: AnswerInbox = queue.SimpleQueue()
    told: list[str] = []
    inbox.put(PortFound("Stage Piano", Direction.IN, "Stage Piano 24:0", 0))
    inbox.put(AnswerTyped(None))
    assert AnswerSource(inbox, told.append).next(can_be_played=True) == AnswerTyped(None)
    assert told == ["Stage Piano 24:0"]


@pytest.mark.parametrize("typed", [b"Bb\n\nF#m\r\nlast", b"Bb\n\nF#m\nlast\n"])
def test_lines_are_read_from_a_pipe_without_its_buffer(tmp_path: Path, typed: bytes) -> None:
    (tmp_path / "typed").write_bytes(typed)
    with (tmp_path / "typed").open(encoding="utf-8") as file:
        assert list(lines_of(file)) == ["Bb", "", "F#m", "last"]


def test_a_letter_split_between_two_reads_is_put_together() -> None:
    out, into = os.pipe()
    with open(out, encoding="utf-8") as file:  # noqa: PTH123  a pipe has no path
        os.write(into, "B♭\n".encode()[:2])
        lines = lines_of(file)
        os.write(into, "B♭\n".encode()[2:])
        os.close(into)
        assert list(lines) == ["B♭"]


def test_a_terminal_without_bytes_yields_its_lines() -> None:
    assert list(lines_of(io.StringIO("Bb\nF\n"))) == ["Bb", "F"]


@pytest.mark.parametrize(
    ("notes", "key", "spelling"),
    [
        ((58, 62, 65), "Bb", "Bb D F"),
        ((66, 70, 73), "F#", "F# A# C#"),
        ((66, 70, 73), "Gb", "Gb Bb Db"),
        ((57, 60, 64, 69), "Am", "A C E"),
        ((58, 63, 66), None, "Bb Eb F#"),
    ],
)
def test_notes_are_spelled_as_in_the_key(notes: tuple[int, ...], key: str | None, spelling: str) -> None:
    assert spelled(notes, read_key(key) if key else None) == spelling
