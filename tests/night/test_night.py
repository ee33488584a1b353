"""What comes in and what goes out: the loop that ties core, journal, keyboards and screen."""

import msgspec
from night.evening import BOX, PEDALS, Evening, stop
from stage.scenes import book_of, on, place_text, rig_of, song

from companion.changes import Change
from companion.night.entries import entries_of
from companion.night.happenings import BatteryIs, KeyReceived
from companion.night.keyboards import MidiParcel
from companion.night.lost import LostPorts
from companion.night.notices import NOTICE_MS
from companion.ports import Direction, PortFound, PortLost, PortsAwaited
from companion.rig import Action, HowTransposed, Pedal, Rig
from companion.show import Begins
from companion.stage import Clock, Next
from companion.view import Light, LineMark, LineRole, Picture


def test_the_first_sound_is_on_before_the_first_press() -> None:
    assert Evening().new() == ["c0 01"]


def test_a_press_of_the_pedal_changes_the_sound_the_screen_and_the_journal() -> None:
    evening = Evening()
    evening.press()
    evening.new()
    evening.press()
    assert evening.new() == ["c0 03"]
    line = evening.wall.views[-1].of(LineRole.SECTION)
    assert line is not None
    assert line.text == "Verse"
    entries = entries_of(evening.notebook.lines)
    assert [type(entry.event) for entry in entries] == [Next, Next]
    assert entries[-1].mark.section == "Verse"


def test_the_journal_is_written_before_the_sound_goes_out() -> None:
    evening = Evening()
    evening.press()
    seen: list[int] = []

    def spy(parcel: MidiParcel, *, replace: bool = False) -> bool:
        del parcel, replace
        seen.append(len(evening.notebook.lines))
        return True

    evening.tape.send = spy  # type: ignore[method-assign] # a spy
    evening.press()
    assert seen == [2]


def test_a_page_turners_key_steps_too() -> None:
    evening = Evening()
    evening.key("page down")
    assert place_text(evening.night.state) == "Intro of A"


def test_the_computers_keys_reach_actions_without_a_pedal() -> None:
    evening = Evening()
    evening.press()
    evening.key("n")
    assert place_text(evening.night.state) == "B up next"
    evening.key("backspace")
    assert place_text(evening.night.state) == "Intro of A"


def test_a_display_key_changes_the_view_and_does_not_step() -> None:
    evening = Evening()
    evening.key("l")
    assert evening.wall.views[-1].light is Light.DAY
    assert evening.notebook.lines == []


def test_all_off_silences_all_sixteen_channels_and_sends_the_sound_again() -> None:
    evening = Evening()
    evening.new()
    evening.key("o")
    sent = evening.new()
    assert {message[:2] for message in sent[:-1]} >= {f"b{channel:x}" for channel in range(16)}
    assert sent[-1] == "c0 01"


def test_the_clock_stops_with_the_notes_when_the_night_ends() -> None:
    """An arpeggiator that runs by it would play on while the end of the journal waits for the disk."""
    evening = Evening(book_of([msgspec.structs.replace(song("A", "Intro"), tempo_bpm=120)]))
    evening.key("page down")
    assert evening.clocks[-1] == Clock(120, running=True, from_the_top=True)
    evening.inbox.put(stop())
    evening.night.run()
    assert evening.clocks[-1] == Clock(None)


def test_a_returning_keyboard_gets_its_sound_again() -> None:
    evening = Evening()
    evening.press()
    evening.press()
    evening.new()
    evening.night.take(PortLost("lower port", Direction.OUT, "the cable is out", 0))
    evening.new()
    evening.found("lower port", Direction.OUT)
    assert evening.new() == ["c0 03"]


def test_a_lost_keyboard_is_shown_on_the_screen_until_it_returns() -> None:
    rig = msgspec.structs.replace(rig_of("lower", "upper"), pedals=PEDALS)
    evening = Evening(book_of([song("A", "Intro @organ")], rig=rig), rig=rig)
    evening.night.take(PortLost("upper port", Direction.OUT, "the cable is out", 0))
    assert "upper port gone" in [line.text for line in evening.wall.views[-1].lines]
    evening.found("upper port", Direction.OUT)
    assert "upper port gone" not in [line.text for line in evening.wall.views[-1].lines]


def test_a_port_that_returns_is_named_for_a_while() -> None:
    evening = Evening()
    evening.found("lower port", Direction.OUT)
    assert "lower port: connected again" not in [line.text for line in evening.wall.views[-1].lines], (
        "it never was gone"
    )
    evening.night.take(PortLost("lower port", Direction.OUT, "the cable is out", 0))
    evening.found("lower port", Direction.OUT)
    assert "lower port: connected again" in [line.text for line in evening.wall.views[-1].lines]
    evening.now_ms += NOTICE_MS
    evening.night.take(None)
    assert "lower port: connected again" not in [line.text for line in evening.wall.views[-1].lines]


def test_a_missing_input_is_reported_for_a_foot_box_but_not_for_a_keyboard() -> None:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    evening = Evening(book_of([song("A", "Intro @organ")], rig=rig), rig=rig)
    evening.night.take(PortLost("lower port", Direction.IN, "a synthesizer has nothing to say", 0))
    assert not [line.text for line in evening.wall.views[-1].lines if "gone" in line.text]
    evening.night.take(PortLost(BOX, Direction.IN, "the cable is out", 0))
    assert f"{BOX} gone" in [line.text for line in evening.wall.views[-1].lines]


def test_without_any_keyboard_the_night_is_a_dry_run_and_the_terminal_says_why() -> None:
    evening = Evening()
    evening.night.take(PortLost("lower port", Direction.OUT, "there is no MIDI output", 0))
    assert "no keyboard connected" in [line.text for line in evening.wall.views[-1].lines]
    assert "there is no MIDI output" in evening.said
    evening.tape.there = False
    evening.press()
    evening.press()
    assert evening.said[-1] == "would send to lower port: program 4, channel 1"


def test_a_keyboard_never_seen_and_a_lost_one_are_reported_differently() -> None:
    lost = LostPorts(rig_of("lower"))
    lost.take(PortLost("lower port", Direction.OUT, "there is no MIDI output", 0))
    assert lost.shown()["never_there"] is True
    lost.take(PortFound("lower port", Direction.OUT, "lower port", at_ns=1))
    assert lost.shown()["never_there"] is False
    lost.take(PortLost("lower port", Direction.OUT, "the cable is out", 2))
    assert (lost.shown()["dry_run"], lost.shown()["never_there"]) == ("the cable is out", False)


def test_a_new_songs_sound_waits_for_the_last_chord_if_the_notes_are_received() -> None:
    evening = Evening()
    for _ in range(3):
        evening.press()
    evening.found("lower port", Direction.IN)
    evening.midi("90 3C 40", port="lower port")
    evening.new()
    evening.press()
    assert (place_text(evening.night.state), evening.new()) == ("B up next", [])
    evening.midi("80 3C 40", port="lower port")
    assert evening.new() == ["c0 04"]


def test_a_waiting_sound_goes_out_after_four_seconds() -> None:
    evening = Evening()
    for _ in range(3):
        evening.press()
    evening.found("lower port", Direction.IN)
    evening.midi("90 3C 40", port="lower port")
    evening.press()
    evening.new()
    evening.now_ms += 4000
    evening.night.take(None)
    assert evening.new() == ["c0 04"]


def test_the_rig_can_set_how_long_a_sound_waits() -> None:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    quick = msgspec.structs.replace(rig.keyboards[0], longest_wait_ms=1500)
    rig = msgspec.structs.replace(rig, keyboards=(quick,))
    evening = Evening(book_of([song("A", "Intro @organ"), song("B", "Intro @pad")], rig=rig), rig=rig)
    evening.press()
    evening.found("lower port", Direction.IN)
    evening.midi("90 3C 40", port="lower port")
    evening.new()
    evening.press()
    assert evening.new() == []
    evening.now_ms += 1500
    evening.night.take(None)
    assert evening.new() == ["c0 04"]


def test_holding_a_single_switch_goes_back() -> None:
    rig: Rig = msgspec.structs.replace(rig_of("lower"), pedals=(Pedal("one", key="space", press=Action.NEXT),))
    evening = Evening(book_of([song("A", "Intro, Verse, Chorus")], rig=rig), rig=rig)
    evening.key("space")
    evening.key("space")
    evening.now_ms += 500
    evening.night.take(KeyReceived("space", down=True))
    assert place_text(evening.night.state) == "Chorus of A"
    evening.now_ms += 800
    evening.night.take(None)
    assert place_text(evening.night.state) == "Intro of A"


def test_a_section_can_make_its_sound_wait_for_the_hands() -> None:
    sections = song("A", "Intro @organ, Verse @lead").road_map
    waits = (sections[0], msgspec.structs.replace(sections[1], change=Change.WHEN_HANDS_LIFT))
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    evening = Evening(book_of([msgspec.structs.replace(song("A"), road_map=waits)], rig=rig), rig=rig)
    evening.press()
    evening.found("lower port", Direction.IN)
    evening.midi("90 3C 40", port="lower port")
    evening.new()
    evening.press()
    assert evening.new() == []
    assert on(evening.night.state) == "lead"


def test_a_stop_ends_the_night() -> None:
    evening = Evening()
    evening.inbox.put(stop())
    assert evening.night.run() == stop()


def test_the_screen_calls_a_keyboard_tuned_only_once_it_is() -> None:
    boards = tuple(
        msgspec.structs.replace(board, transpose=HowTransposed.MASTER_TUNING) for board in rig_of("lower").keyboards
    )
    evening = Evening(book_of([song("A", "Intro")], rig=msgspec.structs.replace(rig_of("lower"), keyboards=boards)))
    evening.found("lower port", Direction.OUT)
    evening.found("lower port", Direction.IN)
    evening.midi("90 3C 40", port="lower port")
    evening.key("f8")
    labels = [line.label for line in evening.wall.views[-1].lines if line.part is LineRole.KEY]
    evening.midi("80 3C 40", port="lower port")
    labels += [line.label for line in evening.wall.views[-1].lines if line.part is LineRole.KEY]
    assert labels == ["lift hands:", "keyboard tuned:"]


def test_a_song_that_begins_with_the_first_note_starts_on_a_played_key() -> None:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    first = msgspec.structs.replace(song("A", "Intro, Verse"), begins=Begins.FIRST_NOTE)
    evening = Evening(book_of([first, song("B", "Intro")], rig=rig), rig=rig)
    evening.midi("90 3C 40")  # the foot box's pad is no keyboard
    assert place_text(evening.night.state) == "A up next"
    evening.midi("90 3C 00", port="lower port")
    assert place_text(evening.night.state) == "A up next", "a note-on with velocity 0 is a note-off (MIDI 1.0, Table I)"
    for _ in range(2):
        evening.midi("90 3C 01", port="lower port")
    assert place_text(evening.night.state) == "Intro of A", "and only once, however softly"
    for _ in range(2):
        evening.press()
    evening.midi("90 3C 40", port="lower port")
    assert place_text(evening.night.state) == "B up next"


def test_a_song_is_called_by_a_few_letters_while_the_pedals_still_step() -> None:
    evening = Evening()
    evening.key("f")
    evening.key("b")
    assert evening.wall.views[-1].picture is Picture.CALL
    evening.press()
    assert place_text(evening.night.state) == "Intro of A", "a pedal steps while one types"
    evening.key("enter")
    assert place_text(evening.night.state) == "B up next"
    evening.key("backspace")
    assert place_text(evening.night.state) == "Intro of A"


def test_escape_closes_the_call_box_and_nothing_moves() -> None:
    evening = Evening()
    evening.key("f")
    evening.key("n")
    evening.key("escape")
    assert place_text(evening.night.state) == "A up next"
    assert evening.wall.views[-1].picture is Picture.BEFORE


def test_a_key_of_the_rig_steps_in_the_call_box_instead_of_picking() -> None:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=(*PEDALS, Pedal("e", key="enter", press=Action.NEXT)))
    evening = Evening(book_of([song("A", "Intro"), song("B", "Intro")], rig=rig), rig=rig)
    evening.key("f")
    evening.key("b")
    evening.key("enter")
    assert place_text(evening.night.state) == "Intro of A"
    evening.key("1")
    assert place_text(evening.night.state) == "B up next"


def test_a_segues_lost_target_is_shown_on_the_screen_for_a_while() -> None:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    evening = Evening(book_of([song("A", "Intro", segue="B"), song("B", "Intro"), song("C")], rig=rig), rig=rig)
    evening.press()
    evening.key("delete")
    assert any("ran straight into B" in line.text for line in evening.wall.views[-1].lines)
    evening.now_ms += 6100
    evening.night.take(None)
    assert not any("ran straight into B" in line.text for line in evening.wall.views[-1].lines)


def test_a_battery_below_30_percent_is_shown_while_in_use() -> None:
    evening = Evening()
    evening.night.take(BatteryIs(29))
    assert any("battery 29" in line.text for line in evening.wall.views[-1].lines)
    evening.night.take(BatteryIs(None))
    assert not any("battery" in line.text for line in evening.wall.views[-1].lines)


def test_a_pad_that_steps_does_not_count_as_the_first_note() -> None:
    rig = msgspec.structs.replace(
        rig_of("lower"), pedals=(Pedal("pad", port="lower port", channel=10, note=36, press=Action.NEXT),)
    )
    first = msgspec.structs.replace(song("B", "Intro, Verse"), begins=Begins.FIRST_NOTE)
    evening = Evening(book_of([song("A", "Intro"), first], rig=rig), rig=rig)
    for _ in range(2):
        evening.midi("99 24 60", port="lower port")
        evening.midi("89 24 00", port="lower port")
    assert place_text(evening.night.state) == "B up next"


def test_the_screen_says_why_the_ports_are_not_ready() -> None:
    evening = Evening()
    evening.night.take(PortsAwaited("waiting for the MIDI server, which is busy", 0))
    told = [line.text for line in evening.wall.views[-1].lines if line.part is LineRole.NOTICE]
    assert told == ["waiting for the MIDI server, which is busy"]


CONTINUED = "continued at A; 0 starts from the top"


def test_a_busy_server_is_named_on_a_continued_night_as_long_as_it_is_busy() -> None:
    evening = Evening(resumed="continued at A")
    evening.night.take(PortsAwaited("waiting for the MIDI server, which is busy", 0))
    evening.now_ms = 60_000
    evening.night.take(None)
    view = evening.wall.views[-1]
    first = next(line for line in view.lines if line.part is LineRole.NOTICE)
    assert (first.text, first.mark) == ("waiting for the MIDI server, which is busy", LineMark.TORN)
    evening.night.take(PortsAwaited("", 0))
    assert [line.text for line in evening.wall.views[-1].lines if line.part is LineRole.NOTICE] == [CONTINUED]


def test_the_place_of_a_resumed_night_is_named_until_the_first_step() -> None:
    evening = Evening(resumed="continued at A")
    assert CONTINUED in [line.text for line in evening.wall.views[-1].lines]
    evening.press()
    assert CONTINUED not in [line.text for line in evening.wall.views[-1].lines]


def test_a_lost_keyboard_whose_rig_names_no_port_is_shown_by_its_own_name() -> None:
    upper, lower = rig_of("upper", "lower").keyboards
    rig = Rig("test", (msgspec.structs.replace(upper, port=None), lower))
    evening = Evening(book_of([song("A", "Intro @organ")], rig=rig), rig=rig)
    evening.night.take(PortLost("", Direction.OUT, "it matches several", 0))
    seen = evening.wall.views[-1].lines
    assert [line.text for line in seen if line.part is LineRole.NOTICE] == ["upper gone"]
    assert [line.mark for line in seen if line.part is LineRole.SOUND] == [LineMark.RIPPED]
