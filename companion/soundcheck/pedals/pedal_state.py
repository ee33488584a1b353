"""The state of setting pedals up: what was asked, what was found, and the resulting rig. Pure."""

import enum

import msgspec
from msgspec.structs import replace

from companion.ports import find
from companion.rig import Action, Pedal, Rig, Sustain
from companion.soundcheck.pedals.switches import AtRest, SourceValues, SwitchFound, SwitchMessage
from companion.soundcheck.port_list import word_for
from companion.soundcheck.talk import KeepPedals, PedalSet, SustainSet, TerminalRead


class PedalStage(enum.Enum):
    """How far the conversation is."""

    REST = "hands and feet off"
    ASK = "press"
    REVIEW = "write it?"
    OVER = "over"


class Phase(enum.Enum):
    """The phase of the press that was asked for."""

    DOWN = "press it"
    UP = "let it go"
    ONCE_MORE = "press it once more"


class PedalQuestion(msgspec.Struct, frozen=True):
    """One switch to be pressed: a sustain or pedal of the rig, or a new one. ``action`` is what a new pedal will do."""

    sustain: bool = False
    number: int | None = None  # in the rig's sustains or pedals; None: a new one
    action: Action | None = None


class PedalFinding(msgspec.Struct, frozen=True):
    """The result of one question. ``switch`` None: unchanged (``keeps``), or removed.

    ``name`` is that of a new pedal.
    """

    question: PedalQuestion
    switch: SwitchFound | None = None
    keeps: bool = False
    name: str = ""


class Setup(msgspec.Struct, frozen=True):
    """One setting up. ``listed`` are the inputs by the system's names, ``system`` is its short name."""

    rig: Rig
    system: str
    stage: PedalStage = PedalStage.REST
    listed: tuple[str, ...] = ()
    rest: tuple[AtRest, ...] = ()
    question: PedalQuestion = PedalQuestion(sustain=True)
    settings: tuple[PedalFinding, ...] = ()
    phase: Phase = Phase.DOWN
    seen: tuple[SourceValues, ...] = ()
    before: SourceValues | None = None  # what came down in the phases before
    last_ms: int = 0
    rested: int = 0  # how often the rest was listened to
    last_key: str = ""
    enter_after: int = -1  # how many settings there were when enter was pressed, perhaps only to go on
    writes: bool = False
    not_kept: str | None = None

    @property
    def wants(self) -> TerminalRead:
        """What the terminal reads next."""
        return TerminalRead.NOTHING if self.stage is PedalStage.OVER else TerminalRead.KEY


def pedals_to_keep(setup: Setup) -> KeepPedals:
    """Return the settings for the rig file."""
    pedals, sustains, out = [], [], []
    for one in setup.settings:
        number = one.question.number
        if one.keeps:
            continue
        if one.question.sustain:
            if one.switch is not None:
                sustains.append(SustainSet(_sustain(setup, one.switch), number))
        elif one.switch is None and number is not None:
            out.append(setup.rig.pedals[number].name)
        elif one.switch is not None:
            pedals.append(PedalSet(_pedal(setup, one), None if number is None else setup.rig.pedals[number]))
    return KeepPedals(tuple(pedals), tuple(sustains), tuple(out))


def rig_after(setup: Setup) -> Rig:
    """Return the new rig: kept, pressed and new pedals."""
    request = pedals_to_keep(setup)
    sustains = list(setup.rig.sustain)
    for one in request.sustains:
        if one.was is None:
            sustains.append(one.sustain)
        else:
            sustains[one.was] = one.sustain
    changed = {one.was.name: one.pedal for one in request.pedals if one.was is not None}
    pedals = [changed.get(pedal.name, pedal) for pedal in setup.rig.pedals if pedal.name not in request.out]
    pedals += [one.pedal for one in request.pedals if one.was is None]
    return replace(setup.rig, sustain=tuple(sustains), pedals=tuple(pedals))


def port_word_of(setup: Setup, name: str) -> str:
    """Return the rig's own word for a port of the system if it has one, else the shortest that finds it."""
    rig = setup.rig
    words = (
        *(one.port for one in rig.pedals),
        *(one.port for one in rig.sustain),
        *(one.port for one in rig.keyboards),
    )
    known = (word for word in words if word and find(word, setup.listed, setup.system).name == name)
    return next(known, None) or word_for(name, setup.listed, setup.system)


def use_of(setup: Setup, switch: SwitchFound) -> str | None:
    """Return what this switch already is: the sustain or a pressed pedal; None if it is free."""
    for one in setup.settings:
        if one.switch is not None and one.switch.is_same(switch):
            return "your sustain, which never steps" if one.question.sustain else f'"{_pedal(setup, one).name}"'
        number = one.question.number
        if one.keeps and number is not None:
            if one.question.sustain:
                kept = setup.rig.sustain[number]
                as_pedal = Pedal("", port=kept.port, channel=kept.channel, control=kept.control)
            else:
                as_pedal = setup.rig.pedals[number]
            if switch_of(setup, as_pedal).is_same(switch):
                return "your sustain, which never steps" if one.question.sustain else f'"{as_pedal.name}"'
    return None


def switch_of(setup: Setup, pedal: Pedal) -> SwitchFound:
    """Return a pedal of the rig as a switch, its port by the system's name if it is there."""
    if pedal.key is not None:
        return SwitchFound(SwitchMessage.KEY, key=pedal.key)
    port = find(pedal.port or "", setup.listed, setup.system).name or pedal.port or ""
    kind, number = (
        (SwitchMessage.CONTROL, pedal.control) if pedal.control is not None else (SwitchMessage.NOTE, pedal.note)
    )
    return SwitchFound(kind, port, pedal.channel, number or 0)


def _pedal(setup: Setup, one: PedalFinding) -> Pedal:
    """Return the pedal that a setting makes; one that the rig has keeps its name and what it does."""
    switch, number = one.switch, one.question.number
    name, press, hold = one.name, one.question.action or Action.NOTHING, None
    if number is not None:
        was = setup.rig.pedals[number]
        name, press, hold = was.name, was.press, was.hold
    if switch is None or switch.key is not None:
        return Pedal(name, key=switch.key if switch else None, press=press, hold=hold)
    return Pedal(
        name,
        port=port_word_of(setup, switch.port),
        channel=switch.channel,
        control=switch.number if switch.kind is SwitchMessage.CONTROL else None,
        note=switch.number if switch.kind is SwitchMessage.NOTE else None,
        press=press,
        hold=None if switch.latches else hold,  # a latching switch does not say that it is held
        reversed=switch.is_reversed,
        latching=switch.latches,
    )


def _sustain(setup: Setup, switch: SwitchFound) -> Sustain:
    return Sustain(port_word_of(setup, switch.port), switch.number, switch.channel)
