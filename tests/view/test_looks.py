"""The keys of the stage screen, and what the engine and the screen say to each other."""

import doctest

import msgspec
import pygame
import pytest
from screen.nights import Night

from companion.rig import KEY_NAMES
from companion.screen import legibility
from companion.screen.keyboard import key_name
from companion.show import Song
from companion.stage import Surroundings
from companion.view import (
    KEYS,
    Detail,
    Eyes,
    Light,
    LineMark,
    LineRole,
    Looks,
    Picture,
    ScreenMessage,
    View,
    ViewLine,
    as_line,
    key_pressed,
    read_screen_line,
    short_words,
    stepped,
    view,
)
from companion.view.pipe_lines import read_engine_line

SONG = Song("Kettle")


def pressed(*keys: str, song: Song | None = SONG) -> Looks:
    looks = Looks()
    for number, key in enumerate(keys):
        looks = key_pressed(looks, key, 1000 * number, song) or looks
    return looks


def test_light_and_beat_toggle() -> None:
    assert pressed("l").light is Light.DAY
    assert pressed("l", "l") == Looks()
    assert pressed("b").beat
    assert pressed("b", "b") == Looks()


def test_detail_cycles_for_each_song_separately() -> None:
    found = [pressed(*["d"] * times).detail_of(SONG, 0) for times in (0, 1, 2, 3)]
    assert found == [Detail.EVERYTHING, Detail.FORM, Detail.CUES_ONLY, Detail.EVERYTHING]
    assert pressed("d").detail_of(Song("Harbour"), 0) is Detail.EVERYTHING


def test_everything_is_shown_for_five_seconds() -> None:
    looks = pressed("d", "d", "e")
    assert [looks.detail_of(SONG, at) for at in (2000, 6999, 7000)] == [
        Detail.EVERYTHING,
        Detail.EVERYTHING,
        Detail.CUES_ONLY,
    ]


@pytest.mark.parametrize("key", ["?", "f1"])
def test_the_page_of_keys_is_shown_and_closed_by_any_key(key: str) -> None:
    assert pressed(key).keys_shown
    assert not pressed(key, "x").keys_shown
    assert pressed(key, "l") == Looks(light=Light.DAY), "a key that changes the looks acts too"


def test_a_step_closes_the_page_of_keys() -> None:
    assert stepped(pressed("?")) == Looks()
    assert stepped(pressed("l")) == pressed("l")


@pytest.mark.parametrize("key", ["x", "page down", "escape"])
def test_keys_without_a_display_meaning_are_ignored(key: str) -> None:
    assert key_pressed(Looks(), key, 0, SONG) is None


def test_changing_the_detail_needs_a_song() -> None:
    assert key_pressed(Looks(), "d", 0) is None


def test_the_page_of_keys_lists_the_pedals_and_then_every_key() -> None:
    looks = Looks(keys_shown=True, keys=(("page down", "next"),))
    lines = view(Night(1).state(), Surroundings(), looks).lines
    assert [line.label for line in lines if line.part is LineRole.CHOICE] == ["page down", *KEYS]


def test_many_keys_take_more_than_one_page() -> None:
    looks = Looks(keys=tuple((f"f{number}", "next") for number in range(1, 21)))
    pages = []
    shown = key_pressed(looks, "?", 0)
    while shown is not None and shown.keys_shown:
        lines = view(Night(1).state(), Surroundings(), shown).lines
        pages.append([line.label for line in lines if line.part is LineRole.CHOICE])
        shown = key_pressed(shown, "?", 0)
    assert [len(page) for page in pages] == [12, 12, 20 + len(KEYS) - 2 * 11]
    assert pages[0][-1] == "?"
    assert [*pages[1][9:-1], *pages[2]] == list(KEYS)
    assert shown == looks


def test_the_window_knows_every_key_of_the_rig_file() -> None:
    constants = {"page down": "PAGEDOWN", "page up": "PAGEUP", "enter": "RETURN", "keypad enter": "KP_ENTER"}
    for name in KEY_NAMES:
        constant = constants.get(name, name if len(name) == 1 else name.upper())
        assert key_name(getattr(pygame, f"K_{constant}")) == name


def test_a_question_mark_is_recognized_by_its_character() -> None:
    assert key_name(pygame.K_SLASH, "?") == key_name(pygame.K_COMMA, "?") == "?"
    assert key_name(pygame.K_SLASH) is None


@pytest.mark.parametrize(
    "told",
    [
        Eyes(345, 1.8, 7),
        Eyes(),
        View(Picture.PLAYING, (ViewLine(LineRole.SECTION, "Überleitung ♭", "", ("Ü.",), LineMark.TORN),)),
    ],
)
def test_every_engine_line_arrives_intact(told: Eyes | View) -> None:
    line = as_line(told)
    assert line.endswith(b"\n")
    assert line.count(b"\n") == 1
    assert read_engine_line(line) == told


@pytest.mark.parametrize("seed", range(20))
def test_any_view_arrives_intact(seed: int) -> None:
    night = Night(seed)
    seen = view(night.state(), night.surroundings(), night.looks())
    assert read_engine_line(as_line(seen)) == seen


@pytest.mark.parametrize(
    ("said", "line"),
    [
        (ScreenMessage(key="page down", down=True, at=12), b'{"key":"page down","down":true,"at":12}\n'),
        (ScreenMessage(closed=True), b'{"closed":true}\n'),
        (ScreenMessage(ready=True), b'{"ready":true}\n'),
        (ScreenMessage(problem="no window"), b'{"problem":"no window"}\n'),
    ],
)
def test_every_screen_line_arrives_intact(said: ScreenMessage, line: bytes) -> None:
    assert as_line(said) == line
    assert read_screen_line(line) == said


def test_a_malformed_line_is_refused() -> None:
    for line in (b"rubbish", b"[]", b'{"line":"what"}', b"\xff\xfe"):
        with pytest.raises(msgspec.DecodeError):
            read_engine_line(line)


@pytest.mark.parametrize("module", [legibility, short_words])
def test_the_examples_in_the_docstrings_are_true(module: object) -> None:
    found = doctest.testmod(module)  # type: ignore[arg-type]  # a module is one
    assert found.attempted
    assert not found.failed
