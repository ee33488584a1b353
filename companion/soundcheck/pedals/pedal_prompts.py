"""Prompts for setting pedals up: what to press now, and the map before it is written. Pure."""

from collections.abc import Iterator

from companion.rig import Action
from companion.soundcheck.check.check_prompts import pedal_words
from companion.soundcheck.pedals.pedal_map import name_for
from companion.soundcheck.pedals.pedal_state import PedalStage, Phase, Setup, rig_after


def prompt(setup: Setup) -> tuple[str, ...]:
    """Return the prompt as terminal lines."""
    match setup.stage:
        case PedalStage.REST:
            return ("Take hands and feet off everything for two seconds, to find switches that tremble at rest.",)
        case PedalStage.ASK:
            return tuple(_question(setup))
        case PedalStage.REVIEW:
            return tuple(_review(setup))
        case PedalStage.OVER:
            return ()


def _question(setup: Setup) -> Iterator[str]:
    if setup.phase is Phase.UP:
        yield "    ... and let it go."
        return
    if setup.phase is Phase.ONCE_MORE:
        yield "    Nothing came when you let go. Press it once more, and let it go."
        return
    question = setup.question
    if not setup.listed:
        yield "No MIDI input yet: plug one in, or press a key of a page turner."
    if question.sustain:
        if question.number is None:
            yield "YOUR OWN SUSTAIN: press it and let it go. It never moves the show."
            yield "    s: I have none   q: quit without writing"
        else:
            sustain = setup.rig.sustain[question.number]
            yield f"YOUR OWN SUSTAIN on {sustain.port} (control {sustain.control}): press it and let it go."
            yield "    k: keep it   q: quit without writing"
    elif question.number is not None:
        pedal = setup.rig.pedals[question.number]
        yield f"{pedal.name.upper()}, which is {pedal.press.value} ({pedal_words(pedal)}): press it and let it go."
        yield "    k: keep it   x: remove it   d: done   b: go back   q: quit without writing"
    else:
        action = question.action or Action.NOTHING
        taken = [pedal.name for pedal in rig_after(setup).pedals]
        yield f"A NEW SWITCH for {action.value} ({name_for(action, taken)}): press it and let it go."
        yield "    c: for something else   d: no more   b: go back   q: quit without writing"


def _review(setup: Setup) -> Iterator[str]:
    rig = rig_after(setup)
    yield "The new map:"
    yield from (f"  {pedal.name:<18} {pedal.press.value:<14} {pedal_words(pedal)}" for pedal in rig.pedals)
    yield from (f"  never a step: control {one.control} of {one.port}, your own sustain" for one in rig.sustain)
    if (
        len(rig.pedals) == 1
        and rig.pedals[0].press is Action.NEXT
        and rig.pedals[0].hold is None
        and not rig.pedals[0].latching
    ):
        yield "  One switch alone: holding it (0.8 s) goes back."
    yield "y: write it   b: go back   q: quit without writing"
