"""What waits for the hands: what goes out now, what waits, until when."""

from companion.changes import Change
from companion.rig import Action, Keyboard, Pedal, Rig, Sound
from companion.stage.waiting import (
    HandsListening,
    PendingChanges,
    ask_for,
    can_hear,
    forget_sent,
    listening_to,
    midi_heard,
    next_release_ms,
    nothing_pending,
    release,
    release_now,
)

ORGAN, LEAD, PAD = Sound("organ", 16), Sound("lead", 80), Sound("pad", 88)
PORT = "Stage Piano"
LIFT, NOW = Change.WHEN_HANDS_LIFT, Change.AT_ONCE
STEP = Pedal("right", port=PORT, channel=1, control=64, press=Action.NEXT)
RIG = Rig("test", (Keyboard("lower", port=PORT),))
UP, DOWN = (True,), (False,)


def none_pending() -> PendingChanges[Sound]:
    return nothing_pending(RIG)


def waiting(what: Sound = ORGAN, at_ms: int = 0) -> PendingChanges[Sound]:
    """Return pending changes in which this sound waits for a key that is down."""
    return ask_for(none_pending(), 0, what, LIFT, hands_up=False, at_ms=at_ms)[0]


def heard(*messages: str, pedals: tuple[Pedal, ...] = ()) -> HandsListening:
    """Listen to these messages on a keyboard that is there."""
    listening = can_hear(listening_to(Rig("test", RIG.keyboards, pedals=pedals)), PORT, there=True)
    for message in messages:
        listening = midi_heard(listening, PORT, bytes.fromhex(message))
    return listening


def test_a_sound_goes_out_at_once_with_hands_up() -> None:
    assert ask_for(none_pending(), 0, ORGAN, LIFT, hands_up=True, at_ms=0)[1] == ((0, ORGAN),)


def test_a_sound_waits_while_a_key_is_down() -> None:
    assert waiting().waiting == (ORGAN,)
    assert release(waiting(), DOWN, 100) == (waiting(), ())
    out, sent = release(waiting(), UP, 100)
    assert (sent, out.waiting) == (((0, ORGAN),), (None,))


def test_at_once_does_not_wait_for_the_hands() -> None:
    assert ask_for(none_pending(), 0, ORGAN, NOW, hands_up=False, at_ms=0)[1] == ((0, ORGAN),)


def test_a_sound_waits_four_seconds_at_most() -> None:
    assert next_release_ms(waiting(at_ms=1000)) == 5000
    assert release(waiting(at_ms=1000), DOWN, 4999)[1] == ()
    assert release(waiting(at_ms=1000), DOWN, 5000)[1] == ((0, ORGAN),)


def test_another_step_replaces_the_waiting_sound() -> None:
    replaced, sent = ask_for(waiting(), 0, LEAD, LIFT, hands_up=False, at_ms=100)
    assert sent == ()
    assert release(replaced, UP, 200)[1] == ((0, LEAD),)


def test_a_sound_put_on_at_once_leaves_nothing_waiting() -> None:
    now, sent = ask_for(waiting(), 0, LEAD, NOW, hands_up=False, at_ms=100)
    assert (sent, now.waiting) == (((0, LEAD),), (None,))


def test_going_back_to_the_current_sound_cancels_the_waiting_one() -> None:
    given, _ = ask_for(none_pending(), 0, PAD, NOW, hands_up=True, at_ms=0)
    both, _ = ask_for(given, 0, ORGAN, LIFT, hands_up=False, at_ms=10)
    again, sent = ask_for(both, 0, PAD, NOW, hands_up=False, at_ms=20)
    assert (sent, again.waiting) == ((), (None,))
    assert release(again, UP, 30)[1] == ()


def test_sound_now_sends_the_waiting_sound() -> None:
    now, sent = release_now(waiting())
    assert (sent, now.waiting) == (((0, ORGAN),), (None,))


def test_the_sound_is_sent_again_after_a_port_returns() -> None:
    given, _ = ask_for(none_pending(), 0, PAD, LIFT, hands_up=True, at_ms=0)
    assert ask_for(given, 0, PAD, LIFT, hands_up=True, at_ms=10)[1] == ()
    assert ask_for(forget_sent(given, [0]), 0, PAD, LIFT, hands_up=True, at_ms=10)[1] == ((0, PAD),)


def test_hands_count_as_up_if_the_notes_cannot_be_received() -> None:
    assert listening_to(RIG).up == UP
    assert heard("90 3C 40").up == DOWN


def test_pulling_a_cable_with_a_key_down_blocks_nothing() -> None:
    gone = can_hear(heard("90 3C 40"), PORT, there=False)
    assert gone.up == UP
    assert can_hear(gone, PORT, there=True).up == UP


def test_a_step_pedal_in_the_keyboard_does_not_count_as_a_damper() -> None:
    played = ("90 3C 40", "B0 40 7F", "80 3C 00")
    assert heard(*played).up == DOWN
    assert heard(*played, pedals=(STEP,)).up == UP


def test_messages_from_another_port_do_not_move_the_hands() -> None:
    assert midi_heard(heard(), "Foot Box", bytes.fromhex("90 3C 40")).up == UP
