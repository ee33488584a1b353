"""The one-page report of a sound check: ready, or what is not. Pure."""

import textwrap
from collections.abc import Iterator
from typing import Final

import msgspec

from companion.how_many import how_many
from companion.night.keyboards import port_word
from companion.ports import Direction
from companion.screen.legibility import ASSUMED_DISTANCE_M, ASSUMED_WIDTH_MM, LEAST_ARCMIN, height_mm
from companion.screen.page import page_of, sizes_of
from companion.soundcheck.check.check_prompts import on_panel, pedal_words
from companion.soundcheck.check.check_state import SoundCheck, Verdict
from companion.soundcheck.check.levels import level_of
from companion.soundcheck.check.trials import doubles
from companion.soundcheck.port_list import uses_of

NOT_HEARD: Final = "not heard"
NOT_SENT: Final = "not sent"  # no MIDI reached the keyboard: the player heard what the panel was set to
WIDE: Final = 100  # columns of the page; longer lists of names wrap
PICTURE_PX: Final = (1920, 1080)  # of the usual shape; the number of pixels does not change the sizes


class PortReport(msgspec.Struct, frozen=True):
    """One port that the rig needs: ``name`` as the system lists it, or None and ``why`` not."""

    used_for: str
    port: str
    direction: Direction
    name: str | None
    why: str = ""
    answered: tuple[str, ...] = ()


class SoundReport(msgspec.Struct, frozen=True):
    """One sound: ``verdict`` is right, wrong, not heard, or not sent: then it was only chosen on the panel.

    ``volume`` is that of the sound check, ``volume_was`` the rig file's before it. ``volume_kept``: the
    rig file has the new one.
    """

    keyboard: str
    sound: str
    on_panel: str
    where: str
    feature: bool
    verdict: str
    volume: int | None = None
    volume_was: int | None = None
    volume_changed: bool = False
    volume_kept: bool = False


class PedalReport(msgspec.Struct, frozen=True):
    """One pedal, or the player's own sustain."""

    pedal: str
    switch: str
    does: str
    pressed: bool


class ScreenReport(msgspec.Struct, frozen=True):
    """How large the letters are: their capitals in mm on the screen, and in arc minutes to the player's eyes."""

    width_mm: float
    distance_m: float
    assumed: bool
    section_mm: float
    section_arcmin: float
    least_mm: float
    least_arcmin: float


class Report(msgspec.Struct, frozen=True):
    """The result of a sound check. ``ready`` if and only if ``not_ready`` is empty."""

    show: str
    rig: str
    ready: bool
    not_ready: tuple[str, ...]
    ports: tuple[PortReport, ...]
    sounds: tuple[SoundReport, ...]
    missing: tuple[str, ...]
    doubles: tuple[str, ...]
    pedals: tuple[PedalReport, ...]
    screen: ScreenReport
    stopped: str | None = None


def report_of(check: SoundCheck) -> Report:
    """Return the report of a sound check so far."""
    ports, sounds, pedals = _ports(check), _sounds(check), _pedals(check)
    not_ready = (
        *((check.no_midi,) if check.no_midi else ()),
        *(f"{one.used_for}: {one.why}" for one in ports if one.name is None and not check.no_midi),
        *check.missed,
        *(f"{one.sound} on {one.keyboard} is wrong" for one in sounds if one.verdict == Verdict.WRONG.value),
        *_not_heard(sounds),
        *_together(
            "sound",
            "not sent, only chosen on the panel: no MIDI reached the keyboard",
            [f"{one.sound} on {one.keyboard}" for one in sounds if one.verdict == NOT_SENT],
        ),
        *_together("pedal", "not pressed", [one.pedal for one in pedals if not one.pressed]),
        *(f"not kept: {why}" for why in check.not_kept),
    )
    return Report(
        show=check.book.show.title,
        rig=check.rig.name,
        ready=not not_ready,
        not_ready=not_ready,
        ports=ports,
        sounds=sounds,
        missing=check.missed,
        doubles=doubles(check.rig.keyboards, check.trials),
        pedals=pedals,
        screen=screen_report(check.rig.screen.width_mm, check.rig.screen.distance_m),
        stopped=check.stopped,
    )


def screen_report(width_mm: float | None, distance_m: float | None) -> ScreenReport:
    """Work out how large the screen's letters are to the player's eyes.

    >>> round(screen_report(345, 1.8).least_mm, 1)
    10.5
    """
    sizes = sizes_of(page_of(PICTURE_PX, PICTURE_PX, width_mm or ASSUMED_WIDTH_MM, distance_m))
    far = distance_m or ASSUMED_DISTANCE_M
    return ScreenReport(
        width_mm=width_mm or ASSUMED_WIDTH_MM,
        distance_m=far,
        assumed=width_mm is None or distance_m is None,
        section_mm=height_mm(sizes.large, far),
        section_arcmin=sizes.large,
        least_mm=height_mm(sizes.least, far),
        least_arcmin=sizes.least,
    )


def page(report: Report) -> Iterator[str]:
    """Yield the report as one page for a terminal: what is not ready first."""
    yield f"SOUND CHECK: {report.show}, on {report.rig}"
    yield "READY" if report.ready else f"NOT READY: {how_many(len(report.not_ready), 'thing')}"
    for line in report.not_ready:
        yield from textwrap.wrap(line, WIDE, initial_indent="  - ", subsequent_indent="    ")
    right = [one for one in report.sounds if one.verdict == Verdict.RIGHT.value]
    features = [one for one in report.sounds if one.feature]
    heard = sum(one.verdict == Verdict.RIGHT.value for one in features)
    yield f"sounds   {len(right)} of {len(report.sounds)} right; of those in features {heard} of {len(features)}"
    unsent = sum(one.verdict == NOT_SENT for one in report.sounds)
    if unsent:
        yield f"         {how_many(unsent, 'more sound')} chosen on the panel, since no MIDI reached the keyboard"
    for one in report.sounds:
        if one.volume_changed:
            was = "not set" if one.volume_was is None else one.volume_was
            kept = "" if one.volume_kept else ", not kept in the rig file"
            yield f"         {one.sound} on {one.keyboard}: volume {one.volume}, was {was}{kept}"
    yield from (f"         {line}" for line in report.doubles)
    there = [one for one in report.ports if one.name is not None]
    yield f"ports    {len(there)} of {len(report.ports)} there"
    yield from (f"         {one.used_for}: {'; '.join(one.answered)}" for one in there if one.answered)
    if report.pedals:
        yield f"pedals   {sum(one.pressed for one in report.pedals)} of {len(report.pedals)} pressed"
    screen = report.screen
    assumed = " (assumed: write screen: {width_mm: ..., distance_m: ...} in the rig)" if screen.assumed else ""
    yield f"screen   {screen.width_mm:g} mm wide, seen from {screen.distance_m:g} m{assumed}"
    yield (
        f"         a section's name is {screen.section_mm:.0f} mm high ({screen.section_arcmin:.0f} arc minutes), the "
        f"smallest letters {screen.least_mm:.1f} mm"
    )
    yield (
        f"         ({screen.least_arcmin:.0f} arc minutes; {LEAST_ARCMIN:.0f} are the least that ISO 9241-3 prefers)"
    )
    if report.stopped:
        yield f"stopped: {report.stopped}. Run the same command to continue."


def _ports(check: SoundCheck) -> tuple[PortReport, ...]:
    """Return a report for each port that this show needs; a keyboard without a sound in the show is left out."""
    played = {check.rig.keyboards[trial.keyboard] for trial in check.trials}
    unplayed = {port_word(board) for board in check.rig.keyboards} - {port_word(board) for board in played}
    reports = []
    for use in uses_of(check.rig):
        if not use.needed or (use.direction is Direction.OUT and use.port in unplayed):
            continue
        standing = check.standing(use.port, use.direction)
        name = standing.name if standing else None
        why = "" if name else (standing.why if standing else "nothing was found")
        answered = tuple(str(identity) for port, identity in check.identities if port == use.port)
        is_out = use.direction is Direction.OUT
        reports.append(PortReport(use.what, use.port, use.direction, name, why, answered if is_out else ()))
    return tuple(reports)


def _sounds(check: SoundCheck) -> tuple[SoundReport, ...]:
    reports = []
    for trial, answer in zip(check.trials, check.answers, strict=True):
        board = check.rig.keyboards[trial.keyboard]
        heard = answer.verdict in (Verdict.RIGHT, Verdict.WRONG)
        was = level_of(trial.sound)
        reports.append(
            SoundReport(
                keyboard=board.name,
                sound=trial.sound.name,
                on_panel=on_panel(board, trial.sound),
                where=trial.where,
                feature=trial.feature is not None,
                verdict=NOT_SENT if answer.unsent else answer.verdict.value if answer.verdict and heard else NOT_HEARD,
                volume=was if answer.level is None else answer.level,
                volume_was=was,
                volume_changed=answer.level not in (None, was),
                volume_kept=answer.kept,
            )
        )
    return tuple(reports)


def _pedals(check: SoundCheck) -> tuple[PedalReport, ...]:
    pedals = tuple(
        PedalReport(pedal.name, pedal_words(pedal), pedal.press.value, number in check.pressed)
        for number, pedal in enumerate(check.rig.pedals)
    )
    sustains = tuple(
        PedalReport(
            f"your sustain on {sustain.port}", f"control {sustain.control}", "never a step", number in check.sustained
        )
        for number, sustain in enumerate(check.rig.sustain)
    )
    return (*pedals, *sustains)


def _not_heard(sounds: tuple[SoundReport, ...]) -> Iterator[str]:
    """Return the unheard sounds, features first."""
    unheard = [one for one in sounds if one.verdict == NOT_HEARD]
    yield from _together(
        "sound", "of features not heard", [f"{one.sound} on {one.keyboard}" for one in unheard if one.feature]
    )
    yield from _together("sound", "not heard", [f"{one.sound} on {one.keyboard}" for one in unheard if not one.feature])


def _together(what: str, how: str, names: list[str]) -> Iterator[str]:
    if names:
        quoted = (f'"{name}"' if "," in name else name for name in names)
        yield f"{how_many(len(names), what)} {how}: {', '.join(quoted)}"
