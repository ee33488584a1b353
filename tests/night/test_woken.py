"""A computer that slept: a hold that was running is given up, and a song that steps by its bars waits for a press."""

import msgspec
from night.evening import BOX, Evening, stop
from stage.scenes import book_of, place_text, rig_of, song

from companion.changes import Change
from companion.night.bar_count import Bars
from companion.night.happenings import KeyReceived, ScreenGone
from companion.ports import Direction, PortLost
from companion.rig import Action, Pedal
from companion.show import Steps
from companion.stage import Next, replay
from companion.stage.following import Followed

ONE_SWITCH = (Pedal("one", key="space", press=Action.NEXT),)


def slept(evening: Evening, ms: int) -> None:
    """Let the loop come round once, after so long."""
    evening.now_ms += ms
    evening.inbox.put(stop())
    evening.night.run()


def evening_of(steps: Steps = Steps.BY_FOOT) -> Evening:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=ONE_SWITCH)
    written = msgspec.structs.replace(song("A", "Intro, Verse, Chorus, Outro"), tempo_bpm=120.0, steps=steps)
    return Evening(book_of([written], rig=rig), rig=rig)


def evening_of_hands() -> Evening:
    """Return a night in a song's first section, on a keyboard that is heard and changes when hands lift."""
    rig = rig_of("lower")
    boards = tuple(msgspec.structs.replace(board, change=Change.WHEN_HANDS_LIFT) for board in rig.keyboards)
    rig = msgspec.structs.replace(rig, keyboards=boards, pedals=ONE_SWITCH)
    evening = Evening(book_of([song("A", "Intro @organ, Verse @lead")], rig=rig), rig=rig)
    evening.found("lower port", Direction.IN)
    evening.key("space")
    return evening


def test_a_foot_down_while_the_lid_closes_is_not_a_hold() -> None:
    evening = evening_of()
    evening.key("space")
    evening.now_ms += 500
    evening.night.take(KeyReceived("space", down=True))
    slept(evening, 60_000)
    assert place_text(evening.night.state) == "Verse of A"
    held = evening_of()
    held.key("space")
    held.now_ms += 500
    held.night.take(KeyReceived("space", down=True))
    slept(held, 900)
    assert place_text(held.night.state) == "A up next", "without a sleep it is a hold"


def test_a_press_after_a_sleep_counts_although_the_release_before_it_was_lost() -> None:
    """The server that slept as well may drop what arrived meanwhile."""
    evening = evening_of()
    evening.key("space")
    evening.now_ms += 500
    evening.night.take(KeyReceived("space", down=True))
    slept(evening, 60_000)
    evening.night.take(KeyReceived("space", down=True))
    assert place_text(evening.night.state) == "Chorus of A"


def test_a_press_after_the_window_died_counts_although_the_release_went_with_it() -> None:
    """The window passes on a page turner's keys. A pedal of a port keeps its state: its own release still comes."""
    evening = Evening()
    evening.now_ms += 500
    evening.night.take(KeyReceived("page down", down=True))
    evening.midi("B0 40 7F")
    assert place_text(evening.night.state) == "Verse of A"
    evening.night.take(ScreenGone())
    evening.midi("B0 40 7F")
    assert place_text(evening.night.state) == "Verse of A"
    evening.night.take(KeyReceived("page down", down=True))
    assert place_text(evening.night.state) == "Chorus of A"


def test_a_foot_down_while_its_cable_is_pulled_is_not_a_hold() -> None:
    pedal = Pedal("right", port=BOX, control=64, press=Action.NEXT, hold=Action.TAKE_IT_OUT)
    rig = msgspec.structs.replace(rig_of("lower"), pedals=(pedal,))
    for pulled in (False, True):
        evening = Evening(book_of([song("A", "Intro, Verse, Chorus, Outro")], rig=rig), rig=rig)
        evening.press()
        evening.midi("B0 40 7F")
        if pulled:
            evening.now_ms += 100
            evening.night.take(PortLost(BOX, Direction.IN, "the cable is out", evening.now_ms * 1_000_000))
        evening.now_ms += 900
        evening.night.take(None)
        assert place_text(evening.night.state) == ("Verse of A" if pulled else "Outro of A")


def test_a_song_that_steps_by_bars_waits_for_a_press_after_a_sleep() -> None:
    evening = evening_of(Steps.BY_BARS)
    evening.key("space")
    slept(evening, 600_000)
    evening.night.take(None)
    assert place_text(evening.night.state) == "Intro of A"
    evening.key("space")
    evening.now_ms += 16_000
    evening.night.take(None)
    assert place_text(evening.night.state) == "Chorus of A"


def test_bars_and_steps_follow_the_drummers_clock_if_present() -> None:
    book = evening_of(Steps.BY_BARS).book
    state = replay(book, [Next(1000)])
    heard = [Followed(100, 1000, 25.0)]  # 100 a minute, if the song says 120
    bars = Bars(lambda: heard[-1])
    bars.shown = True
    assert bars.bar(state, 1000) == 1
    assert bars.next_ms(state, 1000) == 1000 + 96 * 25
    assert bars.steps_itself_ms(state, 1000) == 1000 + 8 * 96 * 25
    heard.append(Followed(100 + 95, 3375, 25.0))
    assert (bars.bar(state, 3410), bars.next_ms(state, 3410)) == (1, 3420), "a tick that is late is waited for"
    heard.append(Followed(100 + 96, 3412, 25.0))
    assert bars.bar(state, 3412) == 2


def test_a_key_down_while_the_lid_closes_holds_up_no_sound_afterwards() -> None:
    """Its release was lost; only the next note of the same key would have ended it."""
    evening = evening_of_hands()
    evening.midi("90 3C 40", "lower port")
    slept(evening, 60_000)
    evening.new()
    evening.key("space")
    assert evening.new() == ["c0 03"]


def test_a_key_that_is_down_holds_up_the_sound_without_a_sleep() -> None:
    evening = evening_of_hands()
    evening.midi("90 3C 40", "lower port")
    slept(evening, 900)
    evening.new()
    evening.key("space")
    assert evening.new() == []
