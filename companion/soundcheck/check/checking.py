"""The sound check as a conversation: inputs in, state and effects out. Pure; time comes in as an argument.

Facts, a caution, each sound once, then the pedals. The prompts are in ``check_prompts.py``.
"""

from typing import Final

from msgspec.structs import replace

from companion.night.happenings import KeyReceived, Stop
from companion.night.keyboards import port_word
from companion.ports import Direction, MidiReceived, PortFound, PortLost, PortsAwaited
from companion.rig import Pause, Sound, all_off, change_to, volume
from companion.rig.midi_bytes import VOLUME, levels_due
from companion.soundcheck.check.check_prompts import facts
from companion.soundcheck.check.check_state import (
    BY_PEDAL,
    KEYS,
    CheckStage,
    SoundCheck,
    SoundReply,
    Standing,
    TrialAnswer,
    Verdict,
)
from companion.soundcheck.check.identity import IDENTITY_REQUEST, read_reply
from companion.soundcheck.check.levels import LOUDEST, SOFTEST, UNWRITTEN, at_level, level_of, nudged
from companion.soundcheck.port_list import uses_of
from companion.soundcheck.talk import KeepLevel, KeepLevels, NotKept, Remember, Say, Send, TalkEffect, TalkInput
from companion.stage import Feet, GestureRequest, key_moved, midi_received, port_appeared, time_passed, we_sent

FACTS_MS: Final = 1200  # ports are listed immediately; an instrument that answers at all does so within this time
WALK_SHARE: Final = 0.8  # of the available minutes; the rest is for pedals and screen
DAMPER_ON: Final = 64  # MIDI 1.0, Table III


CheckStepped = tuple[SoundCheck, tuple[TalkEffect, ...]]


def step(check: SoundCheck, happened: TalkInput, at_ms: int) -> CheckStepped:
    """Handle one input, or None for time that passed."""
    was = check.stage
    effects: tuple[TalkEffect, ...] = ()
    asks: tuple[GestureRequest, ...] = ()
    match happened:
        case PortFound() | PortLost():
            check, effects = _port(check, happened, at_ms)
        case MidiReceived(port=port, message=message):
            check = _answered(check, port, message)
            check, effects = _sustained(check, port, message)
            check, asks, pressed = _felt(check, midi_received(check.feet, port, message, at_ms))
            effects += pressed
        case KeyReceived(key=key, down=down):
            moved = key_moved(check.feet, key, down=down, at_ms=at_ms)
            if moved is not None:
                check, asks, effects = _felt(check, moved)
            elif down and check.stage is CheckStage.LEVELS:
                check, effects = _levels(check, key)
            elif down and key in KEYS:
                check, effects = _reply_taken(check, KEYS[key], at_ms)
        case PortsAwaited(why=why):
            effects = (Say(why),) if why else ()
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
    if check.stage is CheckStage.OVER and (was is not CheckStage.OVER or isinstance(happened, NotKept)):
        in_time += _levels_restored(check)
    return check, effects + in_time


def _port(check: SoundCheck, happened: PortFound | PortLost, at_ms: int) -> CheckStepped:
    """Handle a port that appears or disappears; a new one gets an identity request and this trial's sound."""
    port, direction = happened.port, happened.direction
    if isinstance(happened, PortFound):
        now, news = Standing(port, direction, happened.name), f'"{happened.name}" connected'
    else:
        now, news = Standing(port, direction, None, happened.why), happened.why
    others = tuple(one for one in check.ports if (one.port, one.direction) != (port, direction))
    check = replace(check, ports=(*others, now))
    is_missed = any((use.port, use.direction, use.needed) == (port, direction, True) for use in uses_of(check.rig))
    is_news = is_missed and check.stage not in (CheckStage.FACTS, CheckStage.OVER)
    effects: tuple[TalkEffect, ...] = (Say(news),) if is_news else ()
    if isinstance(happened, PortLost):
        return check, effects
    if direction is Direction.IN:
        return (check if happened.was_there else replace(check, feet=port_appeared(check.feet, port, at_ms))), effects
    effects += (Send(port, (IDENTITY_REQUEST,)),)
    if check.trial and port_word(check.rig.keyboards[check.trial.keyboard]) == port:
        check, sent = _sound(check, at_ms)
        effects += sent
    return check, effects


def _answered(check: SoundCheck, port: str, message: bytes) -> SoundCheck:
    """Handle an identity reply."""
    identity = read_reply(message)
    if identity is None or (port, identity) in check.identities:
        return check
    return replace(check, identities=(*check.identities, (port, identity)))


def _sustained(check: SoundCheck, port: str, message: bytes) -> CheckStepped:
    """Handle the player's sustain while pedals are tried."""
    if check.stage is not CheckStage.PEDALS or len(message) != 3 or message[0] & 0xF0 != 0xB0 or message[2] < DAMPER_ON:
        return check, ()
    channel = (message[0] & 0x0F) + 1
    down = {
        number
        for number, sustain in enumerate(check.rig.sustain)
        if (sustain.port, sustain.control) == (port, message[1]) and sustain.channel in (None, channel)
    }
    new = sorted(down - check.sustained)
    lines = tuple(Say(f"    your own sustain on {check.rig.sustain[number].port}: it does not step") for number in new)
    return replace(check, sustained=check.sustained | down), lines


def _felt(
    check: SoundCheck, moved: tuple[Feet, tuple[GestureRequest, ...]]
) -> tuple[SoundCheck, tuple[GestureRequest, ...], tuple[TalkEffect, ...]]:
    """Handle the pedals' state; one that goes down counts as pressed, also if it answers about a sound."""
    feet, asks = moved
    before = check.feet.switches
    check = replace(check, feet=feet)
    down = {number for number, one in enumerate(feet.switches) if one.down and not before[number].down}
    down |= {  # a latching switch counts on both edges
        number
        for number, one in enumerate(feet.switches)
        if feet.pedals[number].latching and one.edge_ms != before[number].edge_ms
    }
    pedals = [check.rig.pedals[number] for number in sorted(down)] if check.stage is CheckStage.PEDALS else []
    lines = tuple(Say(f"    {pedal.name}: {pedal.press.value}") for pedal in pedals)
    return replace(check, pressed=check.pressed | down), asks, lines


def _by_pedal(check: SoundCheck, word: SoundReply, at_ms: int) -> CheckStepped:
    """Handle a pedal's action; while pedals are tried, a press only counts."""
    return (check, ()) if check.stage is CheckStage.PEDALS else _reply_taken(check, word, at_ms)


def _reply_taken(check: SoundCheck, word: SoundReply, at_ms: int) -> CheckStepped:
    """Handle the player's reply, by key or pedal."""
    match check.stage, word:
        case (CheckStage.OVER, _):
            return check, ()
        case (CheckStage.LEVELS | CheckStage.KEEPING, _):
            return check, ()  # a foot answers no question about a file
        case (_, SoundReply.STOP):
            check, effects = _stop(check, "as you asked")
            return (_over(check) if check.stage is CheckStage.OVER else check), effects
        case (_, SoundReply.ALL_OFF):
            return _all_off(check, at_ms)
        case (CheckStage.CAUTION, SoundReply.RIGHT):
            if check.minutes is not None:
                check = replace(check, walk_ends_ms=at_ms + round(check.minutes * 60_000 * WALK_SHARE))
            return _go_on(replace(check, stage=CheckStage.SOUNDS), at_ms)
        case (CheckStage.CAUTION, SoundReply.ON):
            return _to_pedals(check)
        case (CheckStage.SOUNDS, _):
            return _judged(check, word, at_ms)
        case (CheckStage.PEDALS, SoundReply.RIGHT):
            return _over(check), ()
        case (CheckStage.PEDALS, SoundReply.BACK) if check.history:
            return _judged(replace(check, stage=CheckStage.SOUNDS), word, at_ms)
        case _:
            return check, ()


def _judged(check: SoundCheck, word: SoundReply, at_ms: int) -> CheckStepped:
    match word:
        case SoundReply.RIGHT:
            return _answer(check, Verdict.RIGHT, at_ms)
        case SoundReply.WRONG:
            return _answer(check, Verdict.WRONG, at_ms)
        case SoundReply.LATER:
            return _answer(check, Verdict.LATER, at_ms)
        case SoundReply.TOO_LOUD:
            return _nudge(check, -1, at_ms)
        case SoundReply.TOO_SOFT:
            return _nudge(check, 1, at_ms)
        case SoundReply.AGAIN:
            return _sound(check, at_ms)
        case SoundReply.BACK if check.history:
            *history, at = check.history
            check = _with_answer(
                replace(check, at=at, history=tuple(history)), replace(check.answers[at], verdict=None), at
            )
            return _sound(check, at_ms)
        case SoundReply.ON:
            return _to_pedals(check)
        case _:
            return check, ()


def _answer(check: SoundCheck, verdict: Verdict, at_ms: int) -> CheckStepped:
    unsent = verdict is Verdict.RIGHT and not check.reaches(check.at)
    check = _with_answer(check, replace(check.answers[check.at], verdict=verdict, unsent=unsent), check.at)
    check, on = _go_on(replace(check, history=(*check.history, check.at)), at_ms)
    return check, (Remember(), *on)


def _go_on(check: SoundCheck, at_ms: int) -> CheckStepped:
    """Go to the first unanswered sound, or to the pedals when none is left or time is up."""
    unheard = [number for number, answer in enumerate(check.answers) if answer.verdict is None]
    if not unheard:
        return _to_pedals(check)
    if check.walk_ends_ms is not None and at_ms >= check.walk_ends_ms:
        check, on = _to_pedals(check)
        return check, (Say(f"Time is up: {len(unheard)} not heard."), *on)
    return _sound(replace(check, at=unheard[0]), at_ms)


def _sound(check: SoundCheck, at_ms: int) -> CheckStepped:
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


def _nudge(check: SoundCheck, steps: int, at_ms: int) -> CheckStepped:
    before = UNWRITTEN if check.level is None else check.level
    level = nudged(before, steps)
    if level == before:
        what = "At its loudest" if level == LOUDEST else "At its softest"
        return check, (Say(f"{what} ({LOUDEST if level == LOUDEST else SOFTEST}): change it in the program itself."),)
    check = _with_answer(check, replace(check.answers[check.at], level=level), check.at)
    board = check.rig.keyboards[check.trials[check.at].keyboard]
    return _sent(check, Send(port_word(board), (volume(board, level),)), at_ms)


def _all_off(check: SoundCheck, at_ms: int) -> CheckStepped:
    effects: tuple[TalkEffect, ...] = ()
    for port in dict.fromkeys(map(port_word, check.rig.keyboards)):
        reset = any(board.reset_controllers for board in check.rig.keyboards if port_word(board) == port)
        check, sent = _sent(check, Send(port, all_off(reset_controllers=reset)), at_ms)
        effects += sent
    if check.stage is CheckStage.SOUNDS:
        check, sent = _sound(check, at_ms)
        effects += sent
    return check, effects


def _sent(check: SoundCheck, send: Send, at_ms: int) -> CheckStepped:
    """Remember what is sent, so that its echo is not taken for a pedal."""
    feet = check.feet
    for message in send.parcel:
        if not isinstance(message, Pause):
            feet = we_sent(feet, send.port, message, at_ms)
    return replace(check, feet=feet), (send,) if send.parcel else ()


def _to_pedals(check: SoundCheck) -> CheckStepped:
    if check.rig.pedals or check.rig.sustain:
        return replace(check, stage=CheckStage.PEDALS), ()
    return _over(check), ()


def _over(check: SoundCheck) -> SoundCheck:
    """End it; where volumes were turned, ask first whether the rig file is to have them."""
    return replace(check, stage=CheckStage.LEVELS if check.turned else CheckStage.OVER)


def _levels(check: SoundCheck, key: str) -> CheckStepped:
    """Take the answer: volumes that suit tonight's room go into the rig file only where the player says so."""
    match key:
        case "y":
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
            return replace(check, stage=CheckStage.KEEPING), (KeepLevels(levels),)
        case "n" | "q" | "enter":
            return replace(check, stage=CheckStage.OVER), ()
        case _:
            return check, ()


def _levels_restored(check: SoundCheck) -> tuple[Send, ...]:
    """Return the volume of power-on for each keyboard that was turned and whose rig sets no volume at all.

    Nothing would send one all night: what was only tried would stay.
    """
    boards = check.rig.keyboards
    turned = {
        trial.keyboard
        for answer, trial in zip(check.answers, check.trials, strict=True)
        if answer.level is not None and not answer.kept
    }
    kept = {trial.keyboard for answer, trial in zip(check.answers, check.trials, strict=True) if answer.kept}
    return tuple(
        Send(port_word(boards[number]), (volume(boards[number], UNWRITTEN),))
        for number in sorted(turned - kept)
        if VOLUME not in dict(levels_due(boards[number], Sound("")))
    )


def _stop(check: SoundCheck, because: str) -> CheckStepped:
    if check.stage is CheckStage.OVER:
        return check, ()
    if check.stage is CheckStage.FACTS:
        return replace(check, stopped=because), ()  # they still apply; it takes a second
    return replace(check, stage=CheckStage.OVER, stopped=because), (Remember(),)


def _time(check: SoundCheck, at_ms: int) -> CheckStepped:
    """Handle elapsed time: the facts are complete, or every pedal was pressed."""
    if check.stage is CheckStage.FACTS and at_ms >= FACTS_MS:
        return _facts_known(check)
    if check.stage is CheckStage.PEDALS and _all_pressed(check):
        return _over(check), ()
    if check.stage is CheckStage.KEEPING:
        return replace(check, stage=CheckStage.OVER), ()
    return check, ()


def _facts_known(check: SoundCheck) -> CheckStepped:
    lines = tuple(Say(line) for line in facts(check))
    if check.stopped is not None:
        return replace(check, stage=CheckStage.OVER), lines
    if all(answer.verdict is not None for answer in check.answers):
        check, on = _to_pedals(check)
        return check, (*lines, *on)
    return replace(check, stage=CheckStage.CAUTION), lines


def _all_pressed(check: SoundCheck) -> bool:
    return len(check.pressed) == len(check.rig.pedals) and len(check.sustained) == len(check.rig.sustain)


def _with_answer(check: SoundCheck, answer: TrialAnswer, at: int) -> SoundCheck:
    return replace(check, answers=(*check.answers[:at], answer, *check.answers[at + 1 :]))
