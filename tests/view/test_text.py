"""The text screen, and keys from a terminal."""

import os
import sys
import threading
import time
from collections.abc import Iterator

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from screen.nights import Night, seeds

from companion.screen.terminal_keys import REPEAT_NS, keys_pressed, with_repeats, words_for
from companion.view import LineMark, LineRole, Picture, View, ViewLine, text_lines
from companion.view.chord_bars import bars_of

SOLO = View(
    Picture.PLAYING,
    (
        ViewLine(LineRole.SECTION, "Solo", mark=LineMark.HIGHLIGHT),
        ViewLine(LineRole.NEXT, "Chorus ★", "next", mark=LineMark.UNDERLINE),
        ViewLine(LineRole.WATCH, "drummer", "watch", mark=LineMark.GLASSES),
        ViewLine(LineRole.SOUND, "tonewheel organ", mark=LineMark.TAPE),
        ViewLine(LineRole.KEY, "B♭", "key", mark=LineMark.CIRCLE),
        ViewLine(LineRole.NOTICE, "Stage Piano gone", mark=LineMark.TORN),
    ),
)


def test_a_view_becomes_lines_of_text() -> None:
    assert text_lines(SOLO, 40) == (
        "*** SOLO ***",
        "next Chorus ★",
        "watch drummer",
        "tonewheel organ",
        "new key B♭",
        "!!! Stage Piano gone !!!",
    )


def test_a_plain_terminal_gets_plain_signs() -> None:
    assert text_lines(SOLO, 40, plain=True)[4] == "new key Bb"


@pytest.mark.parametrize(
    ("line", "text"),
    [
        (ViewLine(LineRole.NEXT, "Kettle", "segue", mark=LineMark.CIRCLE), "segue Kettle"),
        (ViewLine(LineRole.KEY, "key?", mark=LineMark.CIRCLE), "key?"),
        (ViewLine(LineRole.KEY, "play E♭", "hands move:", mark=LineMark.CIRCLE), "hands move: play E♭"),
        (ViewLine(LineRole.SOUND, "choir: bank B", "upper", mark=LineMark.CIRCLE), "upper choir: bank B"),
        (ViewLine(LineRole.SOUND, "rock organ", "upper"), "upper still rock organ"),
        (ViewLine(LineRole.SOUND, "rock organ"), "still rock organ"),
    ],
)
def test_words_say_what_the_window_shows_by_a_circle_or_by_pencil(line: ViewLine, text: str) -> None:
    assert text_lines(View(Picture.PLAYING, (line,)), 40) == (text,)


def test_a_long_line_uses_its_short_form_and_then_an_ellipsis() -> None:
    seen = View(
        Picture.PLAYING, (ViewLine(LineRole.NEXT, "Kettle on the Jetty (reprise)", "next", ("Kettle on the Jetty",)),)
    )
    assert text_lines(seen, 26) == ("next Kettle on the Jetty",)
    assert text_lines(seen, 14) == ("next Kett…etty",)


@settings(max_examples=examples(150), deadline=None)
@given(seeds, st.integers(8, 120))
def test_no_line_is_wider_than_the_terminal_and_every_line_has_a_place(seed: int, width: int) -> None:
    seen = Night(seed).view()
    lines = text_lines(seen, width)
    chords = seen.of(LineRole.CHORDS)
    assert 0 <= len(lines) - len(seen.lines) - (seen.form is not None) <= len(bars_of(chords.text) if chords else ())
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
def test_terminal_keys_have_their_rig_file_names(terminal: int, sent: str, key: str) -> None:
    typed_when_asked(terminal, sent.encode())
    assert next(keys_pressed()) == key


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    """Our end of the terminal that standard input is."""
    pty = pytest.importorskip("pty", reason="Windows has no such terminals")
    ours, theirs = pty.openpty()
    with open(theirs, encoding="utf-8", closefd=False) as standard_input:
        monkeypatch.setattr(sys, "stdin", standard_input)
        yield ours
    os.close(ours)
    os.close(theirs)


def typed_when_asked(terminal: int, *sent: bytes, apart_s: float = 0.005) -> None:
    """Type it as soon as single keys are waited for: until then a backspace is the terminal's own."""
    termios = pytest.importorskip("termios")

    def type_it() -> None:
        while termios.tcgetattr(terminal)[3] & termios.ECHO:
            time.sleep(0.001)
        for part in sent:
            os.write(terminal, part)
            time.sleep(apart_s)

    threading.Thread(target=type_it, daemon=True).start()


def test_keys_typed_quickly_are_all_received(terminal: int) -> None:
    keys = keys_pressed()
    os.write(terminal, b"a")
    assert next(keys) == "a"
    os.write(terminal, b"bc\x1b[6~\xc3\xa9")  # nobody reads now
    assert [next(keys) for _ in range(4)] == ["b", "c", "page down", "é"]


@pytest.mark.parametrize(("cut", "apart_s"), [(1, 0.005), (2, 0.25), (3, 0.25), (4, 0.25)])
def test_an_escape_sequence_split_by_a_slow_line_is_one_key(terminal: int, cut: int, apart_s: float) -> None:
    keys = keys_pressed()
    f5 = b"\x1b[15~"
    typed_when_asked(terminal, b"a" + f5[:cut], f5[cut:] + b"b", apart_s=apart_s)
    assert [next(keys) for _ in range(3)] == ["a", "f5", "b"]


def test_a_lone_escape_does_not_wait_for_another_key(terminal: int) -> None:
    os.write(terminal, b"\x1b")
    assert next(keys_pressed()) == "escape"


def test_the_terminal_mode_is_restored_between_keys(terminal: int) -> None:
    termios = pytest.importorskip("termios")
    os.write(terminal, b"a")
    keys = keys_pressed()
    assert next(keys) == "a"
    assert termios.tcgetattr(terminal)[3] & termios.ECHO
    assert termios.tcgetattr(terminal)[3] & termios.ICANON


def test_a_request_to_end_is_reported_last(terminal: int, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(_: int, __: int) -> bytes:
        raise KeyboardInterrupt

    del terminal
    monkeypatch.setattr(os, "read", interrupted)
    assert list(keys_pressed()) == ["interrupt"]


def test_an_unknown_escape_sequence_is_ignored(terminal: int) -> None:
    os.write(terminal, b"\x1b[99~\x01\xc3\xa9")
    assert next(keys_pressed()) == "é"


def test_other_systems_key_codes_come_from_the_library() -> None:
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
def test_a_held_key_is_not_a_series_of_presses(came: list[tuple[str, int]], pressed: list[str]) -> None:
    times = iter(ms * 1_000_000 for _, ms in came)
    found = with_repeats((key for key, _ in came), lambda: next(times))
    assert [key for key, repeats in found if not repeats] == pressed
    assert REPEAT_NS == 120_000_000
