"""The text screen, and keys from a terminal."""

from collections.abc import Iterator

import pytest
import readchar
from hypothesis import given, settings
from hypothesis import strategies as st
from screen.nights import Night, seeds

from companion.screen import Line, Mark, Part, Picture, View, text_lines
from companion.screen.terminal_keys import REPEAT_NS, keys_pressed, pressed_once, words_for

SOLO = View(
    Picture.PLAYING,
    (
        Line(Part.SECTION, "Solo", mark=Mark.HIGHLIGHT),
        Line(Part.NEXT, "Chorus ★", "next", mark=Mark.UNDERLINE),
        Line(Part.WATCH, "drummer", "watch", mark=Mark.GLASSES),
        Line(Part.SOUND, "tonewheel organ", mark=Mark.TAPE),
        Line(Part.KEY, "B♭", "key", mark=Mark.CIRCLE),
        Line(Part.NOTICE, "Stage Piano gone", mark=Mark.TORN),
    ),
)


def test_the_same_view_in_lines() -> None:
    assert text_lines(SOLO, 40) == (
        "*** SOLO ***",
        "next Chorus ★",
        "watch drummer",
        "tonewheel organ",
        "key (B♭)",
        "!!! Stage Piano gone !!!",
    )


def test_a_terminal_that_knows_only_plain_signs() -> None:
    assert text_lines(SOLO, 40, plain=True)[4] == "key (Bb)"


def test_a_long_line_takes_its_short_form_then_an_ellipsis() -> None:
    seen = View(Picture.PLAYING, (Line(Part.NEXT, "Kettle on the Jetty (reprise)", "next", ("Kettle on the Jetty",)),))
    assert text_lines(seen, 26) == ("next Kettle on the Jetty",)
    assert text_lines(seen, 14) == ("next Kett…etty",)


@settings(max_examples=150, deadline=None)
@given(seeds, st.integers(8, 120))
def test_no_line_is_wider_than_the_terminal_and_every_line_has_a_place(seed: int, width: int) -> None:
    seen = Night(seed).view()
    lines = text_lines(seen, width)
    assert len(lines) == len(seen.lines) + (seen.form is not None)
    assert all(len(line) <= width for line in lines)


@pytest.mark.parametrize(
    ("sent", "key"),
    [
        # ECMA-48 control sequences as terminals of the common kind send them
        ("\x1b[6~", "page down"),
        ("\x1b[5~", "page up"),
        ("\x1b[C", "right"),
        ("\x1b[D", "left"),
        ("\x1b[A", "up"),
        ("\x1b[B", "down"),
        (" ", "space"),
        ("\r", "enter"),
        ("\n", "enter"),
        ("\x7f", "backspace"),
        ("L", "l"),
        ("?", "?"),
    ],
)
def test_keys_have_the_names_of_the_rig_file(monkeypatch: pytest.MonkeyPatch, sent: str, key: str) -> None:
    came = iter((sent, ""))
    monkeypatch.setattr(readchar, "readkey", lambda: next(came))
    assert list(keys_pressed()) == [key]


def test_the_wish_to_end_is_told_and_is_the_last() -> None:
    def interrupted() -> str:
        raise KeyboardInterrupt

    original = readchar.readkey
    readchar.readkey = interrupted
    try:
        assert list(keys_pressed()) == ["interrupt"]
    finally:
        readchar.readkey = original


def test_a_sequence_that_means_no_key_is_passed_over(monkeypatch: pytest.MonkeyPatch) -> None:
    came: Iterator[str] = iter(("\x1b[99~", "\x01", "é", ""))
    monkeypatch.setattr(readchar, "readkey", lambda: next(came))
    assert list(keys_pressed()) == ["é"]


def test_another_systems_codes_are_taken_from_the_library() -> None:
    assert words_for({"PAGE_DOWN": "\x00Q", "SUPR": "\x00S", "UP": 3})["\x00Q"] == "page down"


@pytest.mark.parametrize(
    ("came", "pressed"),
    [
        ([("right", 0)], ["right"]),
        # xset's usual 25 a second behind 660 ms; the Linux console's 10.9 a second behind 250 ms (kbdrate(8))
        ([("right", 0), *(("right", 660 + 40 * number) for number in range(40))], ["right", "right"]),
        ([("right", 0), *(("right", 250 + 92 * number) for number in range(40))], ["right", "right"]),
        ([("right", 0), ("left", 50), ("right", 100)], ["right", "left", "right"]),  # two fingers
        ([("right", 0), ("right", 121)], ["right", "right"]),
        ([("right", 0), ("right", 119), ("right", 238)], ["right"]),
    ],
)
def test_a_held_key_is_no_row_of_presses(came: list[tuple[str, int]], pressed: list[str]) -> None:
    times = iter(ms * 1_000_000 for _, ms in came)
    assert list(pressed_once((key for key, _ in came), lambda: next(times))) == pressed
    assert REPEAT_NS == 120_000_000
