"""The quiz answered with hands on a real port, and with words beside them."""

import datetime as dt
import time
from pathlib import Path

import pytest
from examples import seldom
from real.before import Before
from real.jack import JackServer, JackTap

from companion.practice_log.logged import show_and_progress
from companion.practice_log.records import read_records
from companion.quiz.cards import Subject
from companion.quiz.scheduling import due_cards

SHOW = """show: Small hall
date: {date}
songs:
  - title: Gasworks Corner
    key: Bb
    starts_with: drums
    road_map:
      - {{section: Intro, bars: 4, chords: "4 | 1"}}
"""
RIG = "rig: One\nkeyboards:\n  lower: {port: Stage Piano, channel: 1, general_midi: yes}\n"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A show with three questions, and a rig."""
    date = (dt.date.today() + dt.timedelta(days=14)).isoformat()  # noqa: DTZ011 - the player's own day
    (tmp_path / "show.yaml").write_text(SHOW.format(date=date))
    (tmp_path / "rig.yaml").write_text(RIG)
    return tmp_path


def play(piano: JackTap, *notes: int) -> None:
    """Play notes together and let go."""
    for note in notes:
        piano.send(bytes((0x90, note, 64)))
    for note in notes:
        piano.send(bytes((0x80, note, 0)))


@pytest.mark.parametrize("with_rig", [seldom(False), True])
def test_a_key_and_a_chord_are_played_and_words_are_typed(jack: JackServer, place: Path, *, with_rig: bool) -> None:
    show = place / "show.yaml"
    order = [one.card.asks for one in due_cards(*show_and_progress(show), dt.datetime.now().astimezone())]
    assert set(order) == {Subject.KEY, Subject.STARTS, Subject.CHORD}
    rig = ("--rig", str(place / "rig.yaml")) if with_rig else ()
    with JackTap(jack, "Stage Piano") as piano, Before(jack, place, "quiz", str(show), *rig, "--json") as program:
        program.hears("Stage Piano")
        for asks in order:
            time.sleep(0.5)  # the question follows the previous answer; notes played earlier are no answer
            match asks:
                case Subject.KEY:
                    play(piano, 34)  # Bb; MIDI 1.0: middle C is 60
                case Subject.CHORD:
                    play(piano, 55, 58, 63, 67)  # Eb over G: an inversion, its third doubled
                case _:
                    program.tell("drums")
            program.hears("right:")
        assert program.report() == {"right": 3, "again": 0, "left": 0}
    assert [record.question for record in read_records(show).kept] == [asks.value for asks in order]


@pytest.mark.long
def test_a_wrong_chord_is_reported_with_its_notes(jack: JackServer, place: Path) -> None:
    (place / "show.yaml").write_text(SHOW.format(date="2099-01-01").replace("    starts_with: drums\n", ""))
    words = ("quiz", str(place / "show.yaml"), "--most", "1")
    with JackTap(jack, "Stage Piano") as piano, Before(jack, place, *words) as program:
        program.hears("Stage Piano")
        time.sleep(0.5)
        play(piano, 60, 63, 67)
        program.hears("(C Eb G)")
        program.hears("no: ")
        program.tell("q")
        assert program.wait(20) == 0
