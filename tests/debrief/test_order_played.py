"""The order that the debrief offers: by the first time that a song was played, said before it is asked."""

from pathlib import Path

import pytest
from debrief.test_debrief import debrief_of, live
from stage.scenes import book_of, song

from companion.cli import main
from companion.debrief import night_report as debrief_room
from companion.debrief.order_played import order_played
from companion.night import memory as memory_room
from companion.stage import AnyEvent, Call, Drop, Next, NextSong
from companion.stage.played import NightPlayed, SectionPlayed, SongPlayed, played

WRITTEN = book_of(
    [song(title, "Intro, Verse, Chorus") for title in ("Anvil", "Brook", "Cart")],
    [song(title, "Intro, Verse, Chorus") for title in ("Dune", "Ember", "Fern")],
)


def order_of(night: NightPlayed) -> tuple[str, ...]:
    return tuple("".join(title[0] for title, _ in songs) for songs in order_played(WRITTEN, night).sets)


def night_of(*turns: str, order: tuple[tuple[int, ...], ...] = WRITTEN.order, in_set: str = "") -> NightPlayed:
    """Return a night of these songs by their first letters; one with a small letter was broken off."""
    songs = []
    for at, turn in enumerate(turns):
        number = "ABCDEF".index(turn.upper())
        name = in_set or WRITTEN.show.sets[number // 3].name
        title = WRITTEN.songs[number].song.title
        sections = [SectionPlayed(one, "", 1, 0, 300, 1, 0) for one in range(2 if turn.isupper() else 1)]
        songs.append(SongPlayed(number, title, name, at * 1000, 900, False, tuple(sections)))
    return NightPlayed(tuple(songs), (), (), (), order)


@pytest.mark.parametrize(
    ("turns", "expected"),
    [
        ("ABCDEF", ()),
        ("BACDEF", ("BAC", "DEF")),
        ("aBCADEF", ("BCA", "DEF")),  # a false start
        ("ABACDEF", ()),  # again, but first in its place
        ("aBCDEF", ()),  # nothing but a false start: it counts
        ("CA", ("CAB", "DEF")),  # not played: behind the song before it
    ],
)
def test_a_song_counts_from_the_first_time_that_was_no_false_start(turns: str, expected: tuple[str, ...]) -> None:
    assert order_of(night_of(*turns)) == expected


def test_a_song_goes_into_the_set_in_which_it_was_played_and_takes_no_other_with_it() -> None:
    """The call is in no order any more: the night was started over later."""
    name = WRITTEN.show.sets[0].name
    night = night_of("A", "D", "B", "C", in_set=name)
    assert order_of(night) == ("ADBC", "EF")
    assert order_played(WRITTEN, night).lines == (
        f"{name}: Anvil, Dune (was {WRITTEN.show.sets[1].name} 1), Brook, Cart",
        f"{WRITTEN.show.sets[1].name}: Ember, Fern",
    )


def test_a_song_that_was_to_come_stays_behind_what_it_was_to_follow() -> None:
    events: list[AnyEvent] = [Next(0), NextSong(60_000), Call(61_000, 5), Next(62_000), NextSong(120_000)]
    assert order_of(played(WRITTEN, events)) == ("AFBC", "DE")


def test_a_dropped_song_keeps_its_place_in_the_file() -> None:
    events: list[AnyEvent] = [Next(0), Drop(1000), NextSong(60_000), Next(61_000)]
    assert order_of(played(WRITTEN, events)) == ()


@pytest.fixture
def show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A show of three songs, with its own home folder."""
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path)
    monkeypatch.setattr(debrief_room, "data_path", lambda: tmp_path)
    path = tmp_path / "mill.yaml"
    path.write_text("show: Mill\nsets:\n  - set: First\n    songs: [Anvil, Brook, Cart]\n", encoding="utf-8")
    return path


def test_the_order_is_shown_before_it_is_asked_and_just_that_is_written(
    show: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    events: list[AnyEvent] = [Call(0, 2), Next(1000), NextSong(61_000), Next(62_000), NextSong(122_000), Next(123_000)]
    live(show, *events, NextSong(183_000))
    assert debrief_of(show).learned.order_lines == ("First: Cart (was 3), Anvil, Brook",)
    asked = []

    def answer(question: str) -> str:
        asked.append((question, "First: Cart (was 3), Anvil, Brook" in capsys.readouterr().err))
        return "y" if "order" in question else "n"

    monkeypatch.setattr("click.termui.visible_prompt_func", answer)
    assert main(["debrief", str(show), "--write"]) == 0
    assert [shown for question, shown in asked if "order" in question] == [True]
    text = show.read_text(encoding="utf-8")
    assert text.index("Cart") < text.index("Anvil") < text.index("Brook")
