"""A sound that waits for the hands: what goes out now, what waits, until when."""

from companion.changes import Change
from companion.rig import Action, Keyboard, Pedal, Rig, Sound
from companion.stage.waiting import (
    Door,
    ask_for,
    can_hear,
    door_of,
    forget_given,
    midi_heard,
    next_release_ms,
    sound_now,
    time_is,
)

ORGAN, LEAD, PAD = Sound("organ", 16), Sound("lead", 80), Sound("pad", 88)
PORT = "Stage Piano"
LIFT = Change.WHEN_HANDS_LIFT
STEP = Pedal("right", port=PORT, channel=1, control=64, press=Action.NEXT)


def door(*pedals: Pedal) -> Door:
    """Give the door of one keyboard whose notes are heard."""
    return can_hear(door_of(Rig("test", (Keyboard("lower", port=PORT),), pedals=pedals)), PORT, there=True)[0]


def playing(door: Door, *messages: str) -> Door:
    for message in messages:
        door, _ = midi_heard(door, PORT, bytes.fromhex(message))
    return door


def test_with_hands_up_a_sound_goes_out_at_once() -> None:
    assert ask_for(door(), 0, ORGAN, LIFT, 0)[1] == ((0, ORGAN),)


def test_with_a_key_down_it_waits_until_the_key_is_up() -> None:
    waiting, sent = ask_for(playing(door(), "90 3C 40"), 0, ORGAN, LIFT, 0)
    assert (sent, waiting.waiting) == ((), (ORGAN,))
    lifted, sent = midi_heard(waiting, PORT, bytes.fromhex("80 3C 00"))
    assert (sent, lifted.waiting) == (((0, ORGAN),), (None,))


def test_at_once_is_at_once_whatever_the_hands_do() -> None:
    assert ask_for(playing(door(), "90 3C 40"), 0, ORGAN, Change.AT_ONCE, 0)[1] == ((0, ORGAN),)


def test_where_the_notes_cannot_be_heard_nothing_waits() -> None:
    deaf, _ = can_hear(playing(door(), "90 3C 40"), PORT, there=False)
    assert ask_for(deaf, 0, ORGAN, LIFT, 0)[1] == ((0, ORGAN),)


def test_it_never_waits_past_four_seconds() -> None:
    waiting, _ = ask_for(playing(door(), "90 3C 40"), 0, ORGAN, LIFT, 1000)
    assert next_release_ms(waiting) == 5000
    assert time_is(waiting, 4999)[1] == ()
    assert time_is(waiting, 5000)[1] == ((0, ORGAN),)


def test_another_step_while_a_sound_waits_replaces_the_waiting_one() -> None:
    waiting, _ = ask_for(playing(door(), "90 3C 40"), 0, ORGAN, LIFT, 0)
    waiting, sent = ask_for(waiting, 0, LEAD, LIFT, 100)
    assert sent == ()
    assert midi_heard(waiting, PORT, bytes.fromhex("80 3C 00"))[1] == ((0, LEAD),)


def test_going_back_to_the_sound_that_is_on_lets_the_waiting_one_go_and_sends_nothing() -> None:
    given, _ = ask_for(door(), 0, PAD, LIFT, 0)
    waiting, _ = ask_for(playing(given, "90 3C 40"), 0, ORGAN, LIFT, 10)
    again, sent = ask_for(waiting, 0, PAD, Change.AT_ONCE, 20)
    assert (sent, again.waiting) == ((), (None,))
    assert midi_heard(again, PORT, bytes.fromhex("80 3C 00"))[1] == ()


def test_sound_now_waits_no_longer() -> None:
    waiting, _ = ask_for(playing(door(), "90 3C 40"), 0, ORGAN, LIFT, 0)
    now, sent = sound_now(waiting)
    assert (sent, now.waiting) == (((0, ORGAN),), (None,))


def test_a_cable_pulled_with_a_key_down_does_not_wedge_it() -> None:
    waiting, _ = ask_for(playing(door(), "90 3C 40"), 0, ORGAN, LIFT, 0)
    gone, sent = can_hear(waiting, PORT, there=False)
    assert sent == ((0, ORGAN),)
    back, _ = can_hear(gone, PORT, there=True)
    assert back.hands[0] is not None
    assert back.hands[0].are_up


def test_a_step_pedal_plugged_into_the_keyboard_does_not_count_as_damper() -> None:
    down = playing(door(STEP), "90 3C 40", "B0 40 7F", "80 3C 00")
    assert ask_for(down, 0, ORGAN, LIFT, 0)[1] == ((0, ORGAN),)


def test_after_a_port_was_gone_the_sound_is_sent_again() -> None:
    given, _ = ask_for(door(), 0, PAD, LIFT, 0)
    assert ask_for(given, 0, PAD, LIFT, 10)[1] == ()
    assert ask_for(forget_given(given, [0]), 0, PAD, LIFT, 10)[1] == ((0, PAD),)
