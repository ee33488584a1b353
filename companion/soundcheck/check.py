"""The sound check as a conversation: inputs in, state and effects out. Pure; time comes in as an argument.

Facts, a caution, each sound once, then the pedals. The prompts are in ``prompts.py``.
"""

from typing import Final

from msgspec.structs import replace

from companion.night.happenings import KeyCame, Stop
from companion.night.keyboards import port_word
from companion.ports import Direction, MidiCame, PortFound, PortLost, PortsAwaited
from companion.rig import Pause, all_off, change_to, volume
from companion.stage import Ask, Feet, key_moved, midi_came, port_appeared, time_passed, we_sent

from .check_state import BY_PEDAL, KEYS, Answer, Check, Stage, Standing, Verdict, Word
from .identity import IDENTITY_REQUEST, read_reply
from .levels import LOUDEST, SOFTEST, UNWRITTEN, at_level, level_of, nudged
from .port_list import uses_of
from .prompts import facts
from .talk import Effect, Happening, KeepLevel, KeepLevels, NotKept, Remember, Say, Send

FACTS_MS: Final = 1200  # ports are listed immediately; an instrument that answers at all does so within this time
WALK_SHARE: Final = 0.8  # of the available minutes; the rest is for pedals and screen
DAMPER_ON: Final = 64  # MIDI 1.0, Table III


Stepped = tuple[Check, tuple[Effect, ...]]


def step(check: Check, happened: Happening, at_ms: int) -> Stepped:
    """Handle one input, or None for time that passed."""
    effects: tuple[Effect, ...] = ()
    asks: tuple[Ask, ...] = ()
    match happened:
        case PortFound() | PortLost():
            check, effects = _port(check, happened, at_ms)
        case MidiCame(port=port, message=message):
            check = _answered(check, port, message)
            check, effects = _sustained(check, port, message)
            check, asks, pressed = _felt(check, midi_came(check.feet, port, message, at_ms))
            effects += pressed
        case KeyCame(key=key, down=down):
            moved = key_moved(check.feet, key, down=down, at_ms=at_ms)
            if moved is not None:
                check, asks, effects = _felt(check, moved)
            elif down and check.stage is Stage.LEVELS:
                check, effects = _levels(check, key)
            elif down and key in KEYS:
                check, effects = _said(check, KEYS[key], at_ms)
        case PortsAwaited(why=why):
            effects = (Say(why),)
        case Stop(because=because):
            check, effects = _stop(check, because)
        case NotKept(why=why):
            answers = tuple(replace(answer, kept=False) for answer in check.answers)
            check = replace(check, not_kept=(*check.not_kept, why), answers=answers)
            effects = (Say(f"not kept: {why}"),)
        case _:
            pass
    check, more, pressed = _felt(check, time_passed(check.feet, at_ms))
    effects += pressed
    for ask in (*asks, *more):
        if ask.action in BY_PEDAL:
            check, by_pedal = _by_pedal(check, BY_PEDAL[ask.action], at_ms)
            effects += by_pedal
    check, in_time = _time(check, at_ms)
    return check, effects + in_time


def _port(check: Check, happened: PortFound | PortLost, at_ms: int) -> Stepped:
    """Handle a port that appears or disappears; a new one gets an identity request and this trial's sound."""
    port, direction = happened.port, happened.direction
    if isinstance(happened, PortFound):
        now, said = Standing(port, direction, happened.name), f'"{happened.name}" connected'
    else:
        now, said = Standing(port, direction, None, happened.why), happened.why
    others = tuple(one for one in check.ports if (one.port, one.direction) != (port, direction))
    check = replace(check, ports=(*others, now))
    is_missed = any((use.port, use.direction, use.needed) == (port, direction, True) for use in uses_of(check.rig))
    is_news = is_missed and check.stage not in (Stage.FACTS, Stage.OVER)
    effects: tuple[Effect, ...] = (Say(said),) if is_news else ()
    if isinstance(happened, PortLost):
        return check, effects
    if direction is Direction.IN:
        return (check if happened.was_there else replace(check, feet=port_appeared(check.feet, port, at_ms))), effects
    effects += (Send(port, (IDENTITY_REQUEST,)),)
    if check.trial and port_word(check.rig.keyboards[check.trial.keyboard]) == port:
        check, sent = _sound(check, at_ms)
        effects += sent
    return check, effects


def _answered(check: Check, port: str, message: bytes) -> Check:
    """Handle an identity reply."""
    identity = read_reply(message)
    if identity is None or (port, identity) in check.identities:
        return check
    return replace(check, identities=(*check.identities, (port, identity)))


def _sustained(check: Check, port: str, message: bytes) -> Stepped:
    """Handle the player's sustain while pedals are tried."""
    if check.stage is not Stage.PEDALS or len(message) != 3 or message[0] & 0xF0 != 0xB0 or message[2] < DAMPER_ON:
        return check, ()
    channel = (message[0] & 0x0F) + 1
    down = {
        number
        for number, sustain in enumerate(check.rig.sustain)
        if (sustain.port, sustain.control) == (port, message[1]) and sustain.channel in (None, channel)
    }
    new = sorted(down - check.sustained)
    said = tuple(Say(f"    your own sustain on {check.rig.sustain[number].port}: it does not step") for number in new)
    return replace(check, sustained=check.sustained | down), said


def _felt(check: Check, moved: tuple[Feet, tuple[Ask, ...]]) -> tuple[Check, tuple[Ask, ...], tuple[Effect, ...]]:
    """Handle the pedals' state; one that goes down while pedals are tried counts as pressed."""
    feet, asks = moved
    before = check.feet.switches
    check = replace(check, feet=feet)
    if check.stage is not Stage.PEDALS:
        return check, asks, ()
    down = {number for number, one in enumerate(feet.switches) if one.down and not before[number].down}
    down |= {  # a latching switch counts on both edges
        number
        for number, one in enumerate(feet.switches)
        if feet.pedals[number].latching and one.edge_ms != before[number].edge_ms
    }
    pedals = [check.rig.pedals[number] for number in sorted(down)]
    said = tuple(Say(f"    {pedal.name}: {pedal.press.value}") for pedal in pedals)
    return replace(check, pressed=check.pressed | down), asks, said


def _by_pedal(check: Check, word: Word, at_ms: int) -> Stepped:
    """Handle a pedal's action; while pedals are tried, a press only counts."""
    return (check, ()) if check.stage is Stage.PEDALS else _said(check, word, at_ms)


def _said(check: Check, word: Word, at_ms: int) -> Stepped:
    """Handle the player's reply, by key or pedal."""
    match check.stage, word:
        case (Stage.OVER, _):
            return check, ()
        case (Stage.LEVELS | Stage.KEEPING, _):
            return check, ()  # a foot answers no question about a file
        case (_, Word.STOP):
            check, effects = _stop(check, "as you asked")
            return (_over(check) if check.stage is Stage.OVER else check), effects
        case (_, Word.ALL_OFF):
            return _all_off(check, at_ms)
        case (Stage.CAUTION, Word.RIGHT):
            if check.minutes is not None:
                check = replace(check, walk_ends_ms=at_ms + round(check.minutes * 60_000 * WALK_SHARE))
            return _go_on(replace(check, stage=Stage.SOUNDS), at_ms)
        case (Stage.CAUTION, Word.ON):
            return _to_pedals(check)
        case (Stage.SOUNDS, _):
            return _judged(check, word, at_ms)
        case (Stage.PEDALS, Word.RIGHT):
            return _over(check), ()
        case (Stage.PEDALS, Word.BACK) if check.history:
            return _judged(replace(check, stage=Stage.SOUNDS), word, at_ms)
        case _:
            return check, ()


def _judged(check: Check, word: Word, at_ms: int) -> Stepped:
    match word:
        case Word.RIGHT:
            return _answer(check, Verdict.RIGHT, at_ms)
        case Word.WRONG:
            return _answer(check, Verdict.WRONG, at_ms)
        case Word.LATER:
            return _answer(check, Verdict.LATER, at_ms)
        case Word.TOO_LOUD:
            return _nudge(check, -1, at_ms)
        case Word.TOO_SOFT:
            return _nudge(check, 1, at_ms)
        case Word.AGAIN:
            return _sound(check, at_ms)
        case Word.BACK if check.history:
            *history, at = check.history
            check = _with_answer(
                replace(check, at=at, history=tuple(history)), replace(check.answers[at], verdict=None), at
            )
            return _sound(check, at_ms)
        case Word.ON:
            return _to_pedals(check)
        case _:
            return check, ()


def _answer(check: Check, verdict: Verdict, at_ms: int) -> Stepped:
    check = _with_answer(check, replace(check.answers[check.at], verdict=verdict), check.at)
    check, on = _go_on(replace(check, history=(*check.history, check.at)), at_ms)
    return check, (Remember(), *on)


def _go_on(check: Check, at_ms: int) -> Stepped:
    """Go to the first unanswered sound, or to the pedals when none is left or time is up."""
    unheard = [number for number, answer in enumerate(check.answers) if answer.verdict is None]
    if not unheard:
        return _to_pedals(check)
    if check.walk_ends_ms is not None and at_ms >= check.walk_ends_ms:
        check, on = _to_pedals(check)
        return check, (Say(f"Time is up: {len(unheard)} not heard."), *on)
    return _sound(replace(check, at=unheard[0]), at_ms)


def _sound(check: Check, at_ms: int) -> Stepped:
    """Send the sound of this trial, at the level it was nudged to.

    A sound without a level gets the usual one if another sound of its keyboard was nudged, as on stage.
    """
    trial, level = check.trials[check.at], check.answers[check.at].level
    board = check.rig.keyboards[trial.keyboard]
    others = (
        one.level for one, other in zip(check.answers, check.trials, strict=True) if other.keyboard == trial.keyboard
    )
    if check.level is None and any(one is not None for one in others):
        level = UNWRITTEN
    parcel = change_to(board, at_level(trial.sound, level))
    return _sent(check, Send(port_word(board), parcel, replace=True), at_ms)


def _nudge(check: Check, steps: int, at_ms: int) -> Stepped:
    before = UNWRITTEN if check.level is None else check.level
    level = nudged(before, steps)
    if level == before:
        what = "At its loudest" if level == LOUDEST else "At its softest"
        return check, (Say(f"{what} ({LOUDEST if level == LOUDEST else SOFTEST}): change it in the program itself."),)
    check = _with_answer(check, replace(check.answers[check.at], level=level), check.at)
    board = check.rig.keyboards[check.trials[check.at].keyboard]
    return _sent(check, Send(port_word(board), (volume(board, level),)), at_ms)


def _all_off(check: Check, at_ms: int) -> Stepped:
    effects: tuple[Effect, ...] = ()
    for port in dict.fromkeys(map(port_word, check.rig.keyboards)):
        reset = any(board.reset_controllers for board in check.rig.keyboards if port_word(board) == port)
        check, sent = _sent(check, Send(port, all_off(reset_controllers=reset)), at_ms)
        effects += sent
    if check.stage is Stage.SOUNDS:
        check, sent = _sound(check, at_ms)
        effects += sent
    return check, effects


def _sent(check: Check, send: Send, at_ms: int) -> Stepped:
    """Remember what is sent, so that its echo is not taken for a pedal."""
    feet = check.feet
    for message in send.parcel:
        if not isinstance(message, Pause):
            feet = we_sent(feet, send.port, message, at_ms)
    return replace(check, feet=feet), (send,) if send.parcel else ()


def _to_pedals(check: Check) -> Stepped:
    if check.rig.pedals or check.rig.sustain:
        return replace(check, stage=Stage.PEDALS), ()
    return _over(check), ()


def _over(check: Check) -> Check:
    """End it; where volumes were turned, ask first whether the rig file is to have them."""
    return replace(check, stage=Stage.LEVELS if check.turned else Stage.OVER)


def _levels(check: Check, key: str) -> Stepped:
    """Take the answer: volumes that suit tonight's room go into the rig file only where the player says so."""
    match key:
        case "y" | "enter":
            levels = tuple(
                KeepLevel(
                    check.rig.keyboards[check.trials[number].keyboard],
                    check.trials[number].sound,
                    check.answers[number].level or SOFTEST,
                    level_of(check.trials[number].sound),
                )
                for number in check.turned
            )
            for number in check.turned:
                check = _with_answer(check, replace(check.answers[number], kept=True), number)
            return replace(check, stage=Stage.KEEPING), (KeepLevels(levels),)
        case "n" | "q":
            return replace(check, stage=Stage.OVER), ()
        case _:
            return check, ()


def _stop(check: Check, because: str) -> Stepped:
    if check.stage is Stage.OVER:
        return check, ()
    if check.stage is Stage.FACTS:
        return replace(check, stopped=because), ()  # they still apply; it takes a second
    return replace(check, stage=Stage.OVER, stopped=because), (Remember(),)


def _time(check: Check, at_ms: int) -> Stepped:
    """Handle elapsed time: the facts are complete, or every pedal was pressed."""
    if check.stage is Stage.FACTS and at_ms >= FACTS_MS:
        return _facts_known(check)
    if check.stage is Stage.PEDALS and _all_pressed(check):
        return _over(check), ()
    if check.stage is Stage.KEEPING:
        return replace(check, stage=Stage.OVER), ()
    return check, ()


def _facts_known(check: Check) -> Stepped:
    said = tuple(Say(line) for line in facts(check))
    if check.stopped is not None:
        return replace(check, stage=Stage.OVER), said
    if all(answer.verdict is not None for answer in check.answers):
        check, on = _to_pedals(check)
        return check, (*said, *on)
    return replace(check, stage=Stage.CAUTION), said


def _all_pressed(check: Check) -> bool:
    return len(check.pressed) == len(check.rig.pedals) and len(check.sustained) == len(check.rig.sustain)


def _with_answer(check: Check, answer: Answer, at: int) -> Check:
    return replace(check, answers=(*check.answers[:at], answer, *check.answers[at + 1 :]))
