"""Prompts of the sound check, and the facts that it begins with. Pure."""

from collections.abc import Iterable
from typing import Final

from companion.how_many import how_many
from companion.night.keyboards import port_word
from companion.ports import Direction
from companion.rig import Keyboard, Pedal, Rig, Sound, to_panel
from companion.soundcheck.check.check_state import KEYS, CheckStage, SoundCheck, SoundReply
from companion.soundcheck.check.levels import level_of
from companion.soundcheck.check.trials import Trial, doubles
from companion.soundcheck.port_list import uses_of

CAUTION: Final = (
    "Ears first: turn the amplifier, the monitors and your headphones down, and bring them up while you play.",
    "These are the usual cautions; the law, the venue and its technicians, and your doctor come first.",
)


def prompt(check: SoundCheck, at_ms: int) -> tuple[str, ...]:
    """Return the prompt as terminal lines."""
    match check.stage:
        case CheckStage.FACTS:
            return ("Looking at the ports and asking each instrument to identify itself ...",)
        case CheckStage.CAUTION:
            left = sum(answer.verdict is None for answer in check.answers)
            return (
                *_nothing_connected(check),
                *CAUTION,
                f"{how_many(left, 'sound')} to hear. {_keys(SoundReply.RIGHT)} when everything is turned down.",
            )
        case CheckStage.SOUNDS:
            return _of_trial(check, at_ms)
        case CheckStage.PEDALS:
            return _of_pedals(check)
        case CheckStage.LEVELS:
            return _of_levels(check)
        case CheckStage.KEEPING | CheckStage.OVER:
            return ()


def facts(check: SoundCheck) -> Iterable[str]:
    """Return what is known before the first sound: ports, identity replies, and which sounds this rig has."""
    yield f"rig: {check.rig.name}"
    if check.no_midi:
        yield check.no_midi
    for use in uses_of(check.rig):
        standing = check.standing(use.port, use.direction)
        if check.no_midi or (not use.needed and (standing is None or standing.name is None)):
            continue
        if standing is None or standing.name is None:
            yield f"MISSING    {use.what}: {standing.why if standing else 'nothing was found'}"
        else:
            yield f'connected  {use.what}: "{standing.name}"' + _who(check, use.port, use.direction)
    yield from (f"MISSING    {line}" for line in check.missed)
    yield f"{how_many(len(check.trials), 'sound')} of the show {'is' if len(check.trials) == 1 else 'are'} on this rig"
    yield from (f"note: {line}" for line in doubles(check.rig.keyboards, check.trials))
    for trial in check.trials:
        if trial.sound.by_hand and trial.sound.program is None:
            board = check.rig.keyboards[trial.keyboard]
            yield f"by hand: {trial.sound.name} on {board.name}: {trial.sound.by_hand}"


def on_panel(board: Keyboard, sound: Sound) -> str:
    """Return what a sound is on the keyboard's own panel.

    >>> on_panel(Keyboard("lower"), Sound("organ", program=16, bank=(0, 32)))
    'bank 0 32, program 17'
    """
    if sound.program is None:
        return f"by hand: {sound.by_hand}" if sound.by_hand else "by its own messages"
    bank = "" if sound.bank is None else f"bank {sound.bank[0]} {sound.bank[1]}, "
    return f"{bank}program {sound.panel or to_panel(sound.program, board.programs_from)}"


def pedal_words(pedal: Pedal) -> str:
    """Return which switch a pedal is.

    >>> pedal_words(Pedal("right", port="Foot Box", channel=1, control=64))
    'control 64 of Foot Box, channel 1'
    """
    if pedal.key is not None:
        return f"key {pedal.key}"
    what = f"note {pedal.note}" if pedal.control is None else f"control {pedal.control}"
    channel = "any channel" if pedal.channel is None else f"channel {pedal.channel}"
    return (
        f"{what} of {pedal.port}, {channel}"
        + (", reversed" if pedal.reversed else "")
        + (", latching" if pedal.latching else "")
    )


def _who(check: SoundCheck, port: str, direction: Direction) -> str:
    """Return who answered on this port; most stage instruments do not, which is not a fault."""
    if direction is Direction.IN:
        return ""
    answers = [str(identity) for word, identity in check.identities if word == port]
    return f" ({'; '.join(answers)})" if answers else " (no identity reply)"


def _of_trial(check: SoundCheck, at_ms: int) -> tuple[str, ...]:
    trial = check.trials[check.at]
    board = check.rig.keyboards[trial.keyboard]
    left = ""
    if check.walk_ends_ms is not None:
        minutes = max(0, round((check.walk_ends_ms - at_ms) / 60_000))
        left = f"; {minutes} min left for sounds" if minutes else "; less than a minute left for sounds"
    known = sum(answer.verdict is not None for answer in check.answers)
    right = "right" if check.reaches(check.at) else "right on the panel"
    return (
        f"{known + 1} of {len(check.trials)}{left}",
        f"{board.name.upper()}: {trial.sound.name}   ({on_panel(board, trial.sound)}{_level(check)})",
        f"    {_where(trial)}",
        *_not_there(check.rig, check, trial),
        f"Play it.  {_keys(SoundReply.RIGHT)} or the pedal: {right}   w: wrong   -: too loud   +: too soft",
        "    a: send it again   backspace: go back   s: later   t: to the pedals   o: all off   q: stop here",
    )


def _where(trial: Trial) -> str:
    feature = f" ★ {trial.feature}" if trial.feature else ""
    more = f", and {how_many(trial.places - 1, 'more place')}" if trial.places > 1 else ""
    return f"{trial.where}{feature}{more}"


def _level(check: SoundCheck) -> str:
    own, now = level_of(check.trials[check.at].sound), check.level
    if now is None:
        return ""
    return f"; volume {now}" if now == own or own is None else f"; volume {now}, was {own}"


def _not_there(rig: Rig, check: SoundCheck, trial: Trial) -> tuple[str, ...]:
    """Return what to do where no message reaches the keyboard."""
    board, sound = rig.keyboards[trial.keyboard], trial.sound
    standing = check.standing(port_word(board), Direction.OUT)
    if standing is not None and standing.name is not None:
        return (f"    Choose it on the panel: {sound.by_hand}",) if sound.program is None and sound.by_hand else ()
    panel = sound.by_hand or on_panel(board, sound)
    return (
        f"    No MIDI reaches {board.name}: nothing is sent, and what you hear does not count as this sound.",
        f"    Choose it on the panel: {panel}",
    )


def _nothing_connected(check: SoundCheck) -> tuple[str, ...]:
    """Return a warning where no sound can be sent at all."""
    standings = (check.standing(port_word(board), Direction.OUT) for board in check.rig.keyboards)
    if any(one is not None and one.name is not None for one in standings):
        return ()
    return (
        "No keyboard is connected: no sound will be sent, and none can be checked.",
        "Plug one in: companion notices it and sends it the sound.",
    )


def _of_pedals(check: SoundCheck) -> tuple[str, ...]:
    pedals = [
        f"    {pedal.name}: {pedal.press.value}   ({pedal_words(pedal)})"
        for number, pedal in enumerate(check.rig.pedals)
        if number not in check.pressed
    ]
    sustains = [
        f"    your own sustain on {sustain.port}   (control {sustain.control}; it never steps)"
        for number, sustain in enumerate(check.rig.sustain)
        if number not in check.sustained
    ]
    return (
        "Press each pedal once:",
        *pedals,
        *sustains,
        f"    {_keys(SoundReply.RIGHT)}: no more pedals   q: stop here",
    )


def _of_levels(check: SoundCheck) -> tuple[str, ...]:
    return (
        f"{how_many(len(check.turned), 'volume')} changed:",
        *(
            f"    {check.trials[number].sound.name} on {check.rig.keyboards[check.trials[number].keyboard].name}: "
            f"{check.answers[number].level}, the rig file has {_written(level_of(check.trials[number].sound))}"
            for number in check.turned
        ),
        "Keep them in the rig file?  y: for every night   n, enter: leave the file as you wrote it",
    )


def _written(level: int | None) -> str:
    return "none" if level is None else str(level)


def _keys(word: SoundReply) -> str:
    return next(key for key, meant in KEYS.items() if meant is word)
