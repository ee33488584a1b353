"""A sound check that is walked through by hand: as far as its first sound, or its pedals; and what is sent there."""

from soundcheck.conversation import Talking
from soundcheck.scenes import RIG, begun

from companion.ports import Direction
from companion.rig import Rig
from companion.soundcheck.check.check_state import CheckStage, SoundCheck, Verdict
from companion.soundcheck.check.checking import step

OUTS = ("Stage Piano", "Foldaway Synth")


def talking(rig: Rig = RIG, *, minutes: float | None = None) -> Talking[SoundCheck]:
    talk = Talking(step, begun(rig, minutes=minutes))
    for port in OUTS:
        talk.found(port, Direction.OUT)
    for port in ("Foot Box", "Stage Piano"):
        talk.found(port)
    return talk


def hearing(rig: Rig = RIG, *, minutes: float | None = None) -> Talking[SoundCheck]:
    """Return a sound check at its first sound; what was sent for it is still new."""
    talk = talking(rig, minutes=minutes)
    talk.wait(1300)
    talk.new()
    talk.key("enter")
    return talk


def trying_pedals() -> Talking[SoundCheck]:
    talk = hearing()
    talk.key("t")
    talk.new()
    return talk


def stage_of(talk: Talking[SoundCheck]) -> CheckStage:
    return talk.state.stage


def sound(talk: Talking[SoundCheck]) -> str:
    trial = talk.state.trial
    return trial.sound.name if trial else talk.state.stage.value


def verdicts(talk: Talking[SoundCheck]) -> list[Verdict | None]:
    return [answer.verdict for answer in talk.state.answers]


# MIDI 1.0, Tables I to III: Cn program change, Bn control change, 7 channel volume; channel and program less one
# The piano says nothing of its level, beside an organ that does: 100, General MIDI 1 at power-on (from memory)
PIANO_ON = ["Stage Piano: C0 00", "Stage Piano: B0 07 64"]
ORGAN_ON = ["Stage Piano: C0 10", "Stage Piano: B0 07 6E"]
