"""Set pedals up by pressing them, as a conversation: inputs in, state and effects out. Pure.

First the player touches nothing, to find what trembles; then presses the sustain, which is never a step; then
each pedal that the rig has; then new ones. The prompts are in ``pedal_prompts.py``.
"""

from typing import Final

from msgspec.structs import replace

from companion.night.happenings import KeyReceived, Stop
from companion.ports import Direction, MidiReceived, PortFound, PortLost
from companion.rig import Action, Rig
from companion.soundcheck.pedals.pedal_map import ORDER, name_for
from companion.soundcheck.pedals.pedal_state import (
    PedalFinding,
    PedalQuestion,
    PedalStage,
    Phase,
    Setup,
    pedals_to_keep,
    port_word_of,
    rig_after,
    switch_of,
    use_of,
)
from companion.soundcheck.pedals.switches import (
    AtRest,
    Ends,
    SourceValues,
    SwitchFound,
    SwitchMessage,
    how_far,
    latching,
    measures_depth,
    one_switch,
    rest_with,
    seen_with,
    sends_no_release,
    sends_programs,
    switch_text,
    value_of,
    worked_out,
)
from companion.soundcheck.talk import NotKept, Say, TalkEffect, TalkInput

REST_MS: Final = 2000
QUIET_MS: Final = 500  # silence: the foot is down, or up again; presses are at least 200 ms apart
NO_RELEASE_MS: Final = 2500  # a player asked to let go has done so
MAX_NOISE: Final = 32  # of 127; a usable sensor trembles less (common practice, no source)
KEY_REPEAT_MS: Final = 700  # a held key repeats after 250 to 500 ms (common practice, no source)


ENTER: Final = ("enter", "keypad enter")

SetupStepped = tuple[Setup, tuple[TalkEffect, ...]]


def at_start(rig: Rig, system: str) -> Setup:
    """Begin to set up a rig's pedals."""
    return Setup(rig, system, question=PedalQuestion(sustain=True, number=0 if rig.sustain else None))


def step(setup: Setup, happened: TalkInput, at_ms: int) -> SetupStepped:
    """Handle one input, or None for time that passed."""
    effects: tuple[TalkEffect, ...] = ()
    match happened:
        case PortFound(direction=Direction.IN, name=name):
            setup = replace(setup, listed=(*(one for one in setup.listed if one != name), name))
            effects = (Say(f'listening to "{name}"'),)
        case PortLost(direction=Direction.IN, port=port):
            setup = replace(setup, listed=tuple(one for one in setup.listed if one != port))
            effects = (Say(happened.why),)
        case MidiReceived(port=port, message=message):
            setup = _heard(setup, port, message, at_ms)
        case KeyReceived(key=key, down=True):
            setup, effects = _key(setup, key, at_ms)
        case NotKept(why=why):
            setup, effects = replace(setup, not_kept=why), (Say(f"not kept: {why}"),)
        case Stop():
            setup = replace(setup, stage=PedalStage.OVER)
        case _:
            pass
    setup, in_time = _time(setup, at_ms)
    return setup, effects + in_time


def _heard(setup: Setup, port: str, message: bytes, at_ms: int) -> Setup:
    received = value_of(port, message)
    if received is None:
        return setup
    source, value = received
    if setup.stage is PedalStage.REST:
        return replace(setup, rest=rest_with(setup.rest, source, value))
    if setup.stage is not PedalStage.ASK:
        return setup
    rest, before = setup.rest, setup.before
    if setup.phase is Phase.UP and before is not None and before.source == source:
        down = AtRest(source, before.values[-1], before.values[-1])  # it may tremble under the foot as well
        rest = (down, *(one for one in rest if one.source != source))
    seen = seen_with(setup.seen, rest, source, value)
    return setup if seen is None else replace(setup, seen=seen, last_ms=at_ms)


def _key(setup: Setup, key: str, at_ms: int) -> SetupStepped:
    """Handle a key: letters answer prompts, any other may be a page turner's."""
    match setup.stage, key:
        case (PedalStage.OVER, _):
            return setup, ()
        case (_, "q"):
            return replace(setup, stage=PedalStage.OVER), ()
        case (PedalStage.REVIEW, "y"):
            return replace(setup, stage=PedalStage.OVER, writes=True), (pedals_to_keep(setup),)
        case (PedalStage.REVIEW | PedalStage.ASK, "b"):
            return _one_back(setup), ()
        case (PedalStage.ASK, _) if len(key) > 1 or not key.isalpha():
            return _turner(setup, key, at_ms)
        case (PedalStage.ASK, "k") if setup.question.number is not None:
            return _kept(setup)
        case (PedalStage.ASK, "x") if setup.question.number is not None and not setup.question.sustain:
            return _settled(setup, PedalFinding(setup.question))
        case (PedalStage.ASK, "s") if setup.question.sustain and setup.question.number is None:
            return _settled(setup, PedalFinding(setup.question))
        case (PedalStage.ASK, "c") if setup.question.action is not None:
            return _other_action(setup)
        case (PedalStage.ASK, "d") if not setup.question.sustain:
            return replace(setup, stage=PedalStage.REVIEW, seen=(), before=None), ()
        case _:
            return setup, ()


def _turner(setup: Setup, key: str, at_ms: int) -> SetupStepped:
    repeats = key == setup.last_key and at_ms - setup.last_ms < KEY_REPEAT_MS
    setup = replace(setup, last_key=key, last_ms=at_ms)
    if repeats:
        return setup, ()
    if setup.question.sustain:
        return setup, (Say("A computer key cannot be a sustain."),)
    if (
        key in ENTER
        and setup.enter_after != len(setup.settings)
        and not any(one.key == key for one in setup.rig.pedals)
    ):
        words = "Enter does not go on; the letters do. If enter is your page turner's key, press it once more."
        return replace(setup, enter_after=len(setup.settings)), (Say(words),)
    return _found(setup, SwitchFound(SwitchMessage.KEY, key=key))


def _time(setup: Setup, at_ms: int) -> SetupStepped:
    """Handle elapsed time: after silence, read the press."""
    if setup.stage is PedalStage.REST:
        return _rested(setup, at_ms) if at_ms - setup.last_ms >= REST_MS else (setup, ())
    if setup.stage is not PedalStage.ASK:
        return setup, ()
    silent_ms = at_ms - setup.last_ms
    if setup.seen and silent_ms >= QUIET_MS:
        return _read(setup, at_ms)
    if setup.phase is Phase.UP and not setup.seen and silent_ms >= NO_RELEASE_MS:
        return _never_up(setup, at_ms)
    return setup, ()


def _rested(setup: Setup, at_ms: int) -> SetupStepped:
    """Note what trembled by itself; a larger movement was a foot or hand, so listen once more."""
    moved = [
        one for one in setup.rest if one.source.kind is not SwitchMessage.CONTROL or one.high - one.low > MAX_NOISE
    ]
    if moved and not setup.rested:
        what = " and ".join(sorted({f"{one.source.kind.value} {one.source.number}" for one in moved})[:3])
        again = replace(setup, rest=(), rested=1, last_ms=at_ms)
        return again, (Say(f"{what} moved. Take hands and feet off everything once more."),)
    rest = tuple(one for one in setup.rest if one.source.kind is SwitchMessage.CONTROL)
    return replace(setup, stage=PedalStage.ASK, rest=rest, last_ms=at_ms), ()


def _read(setup: Setup, at_ms: int) -> SetupStepped:
    """Read what has come since the last silence."""
    found = one_switch(setup.seen)
    if isinstance(found, str):
        return _ask_again(setup), (Say(found),)
    seen, channel = found
    if seen.source.kind is SwitchMessage.PROGRAM:
        return _found(setup, sends_programs(seen))
    before = setup.before
    if before is not None and before.source != seen.source:
        return _ask_again(setup), (Say("That was another switch. Start again."),)
    if setup.phase is Phase.ONCE_MORE and before is not None:
        if len(seen.values) > 1:
            return _found(setup, worked_out(seen, channel, setup.rest))
        if seen.values[0] == before.values[-1]:
            return _found(setup, sends_no_release(seen, channel))
        if at_ms - setup.last_ms < NO_RELEASE_MS:
            return setup, ()  # perhaps the foot comes up only now, and will press again
        return _found(setup, latching(seen, channel))
    whole = seen if before is None else SourceValues(seen.source, (*before.values, *seen.values))
    if how_far(whole) is Ends.WHOLE or (before is not None and how_far(seen) is Ends.HELD):
        return _found(setup, worked_out(whole, channel, setup.rest))
    return replace(setup, phase=Phase.UP, before=whole, seen=(), last_ms=at_ms), ()


def _never_up(setup: Setup, at_ms: int) -> SetupStepped:
    """Nothing came on release: the foot was up already, or the switch sends nothing."""
    before = setup.before
    if before is not None and measures_depth(before.values):
        return _found(setup, worked_out(before, before.source.channel, setup.rest))
    return replace(setup, phase=Phase.ONCE_MORE, last_ms=at_ms), ()


def _found(setup: Setup, switch: SwitchFound) -> SetupStepped:
    """Accept an identified switch, if it can be what was asked for."""
    setup = _ask_again(setup)
    words = switch_text(switch, port_word_of(setup, switch.port) if switch.port else "")
    if setup.question.sustain and switch.kind is not SwitchMessage.CONTROL:
        return setup, (Say(f"{words}: a sustain sends a control, nearly always 64. Press your sustain."),)
    if switch.faults and not setup.question.sustain:
        return setup, (Say(f"{words}: it cannot advance the show. {'; '.join(switch.faults)}."),)
    taken = use_of(setup, switch)
    if taken is not None:
        return setup, (Say(f"{words}: that is already {taken}. Press another."),)
    action = setup.question.action
    taken_names = (*(pedal.name for pedal in setup.rig.pedals), *(one.name for one in setup.settings))
    name = name_for(action, taken_names, switch.key) if action else ""
    setup, effects = _settled(setup, PedalFinding(setup.question, switch, name=name))
    return setup, (Say(f"{words}."), *effects)


def _kept(setup: Setup) -> SetupStepped:
    """Keep the rig's setting, unless its switch is now used for something else."""
    question = setup.question
    if not question.sustain and question.number is not None:
        taken = use_of(setup, switch_of(setup, setup.rig.pedals[question.number]))
        if taken is not None:
            return setup, (Say(f"Its switch is {taken} now. Press another, or x to remove it."),)
    return _settled(setup, PedalFinding(question, keeps=True))


def _settled(setup: Setup, setting: PedalFinding) -> SetupStepped:
    """Store the result and go to the next question."""
    settings = (*setup.settings, setting)
    question = setting.question
    after = replace(_ask_again(setup), settings=settings)
    number = -1 if question.number is None else question.number
    if question.sustain and 0 <= number < len(setup.rig.sustain) - 1:
        return replace(after, question=PedalQuestion(sustain=True, number=number + 1)), ()
    pedal = 0 if question.sustain else number + 1
    if (question.sustain or question.number is not None) and pedal < len(setup.rig.pedals):
        return replace(after, question=PedalQuestion(number=pedal)), ()
    return replace(after, question=PedalQuestion(action=_next_action(after))), ()


def _one_back(setup: Setup) -> Setup:
    """Ask the last question again."""
    if not setup.settings:
        return replace(_ask_again(setup), stage=PedalStage.ASK)
    *settings, last = setup.settings
    return replace(_ask_again(setup), stage=PedalStage.ASK, settings=tuple(settings), question=last.question)


def _other_action(setup: Setup) -> SetupStepped:
    """Offer the next action for the new pedal."""
    actions = [action for action in Action if action is not Action.NOTHING]
    if setup.question.action in actions:
        after = actions[(actions.index(setup.question.action) + 1) % len(actions)]
        setup = replace(setup, question=replace(setup.question, action=after))
    return setup, ()


def _next_action(setup: Setup) -> Action:
    """Return what the next new pedal does: the first action that no pedal has yet."""
    done = {pedal.press for pedal in rig_after(setup).pedals}
    return next((action for action in ORDER if action not in done), Action.AGAIN)


def _ask_again(setup: Setup) -> Setup:
    return replace(setup, phase=Phase.DOWN, seen=(), before=None)
