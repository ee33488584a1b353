"""Prompts for capturing: which sound to choose now, and what was received. Pure."""

from collections.abc import Iterator

from companion.how_many import how_many
from companion.rig import Keyboard, Sound, to_panel
from companion.soundcheck.capture.capturing import Capture, CaptureStage, board_for
from companion.soundcheck.check.check_prompts import on_panel


def prompt(capture: Capture) -> tuple[str, ...]:
    """Return the prompt as terminal lines."""
    if capture.stage is CaptureStage.OVER:
        return ()
    wanted = capture.wanted[capture.at]
    if capture.stage is CaptureStage.TYPE:
        return (f'What do you press on {board_for(capture).name} for "{wanted.name}", such as bank B, button 4?',)
    return tuple(_question(capture))


def over(capture: Capture) -> Iterator[str]:
    """Return what was stored and what is left."""
    yield f"{how_many(len(capture.kept), 'sound')} stored" + (f": {', '.join(capture.kept)}" if capture.kept else "")
    left = missing(capture)
    if left:
        yield f"{how_many(len(left), 'sound')} of the show still missing on this rig: {', '.join(left)}"


def missing(capture: Capture) -> tuple[str, ...]:
    """Return the sounds that the rig still lacks."""
    return tuple(name for one in capture.wanted if one.has is None for name in one.names if name not in capture.kept)


def _question(capture: Capture) -> Iterator[str]:
    wanted, caught, boards = capture.wanted[capture.at], capture.caught, capture.rig.keyboards
    where = "" if wanted.keyboard is None else f" on {boards[wanted.keyboard].name}"
    yield f"{capture.at + 1} of {len(capture.wanted)}   {wanted.name.upper()}{where}, for {wanted.song}"
    if wanted.also:
        yield f"    stored under {_quoted(wanted.names)}   2: they are different sounds"
    if wanted.has is not None:
        board = boards[wanted.has[0]]
        yield f"    the rig has it: {board.name}, {on_panel(board, wanted.has[1])}"
    if caught is None:
        again = "enter: leave it   " if wanted.has else ""
        yield f"    Choose it on the board's own panel.   {again}h: it sends nothing; type what to press"
    else:
        board = boards[caught.keyboard]
        yield f"    {board.name} sends {_sent(board, caught.program, caught.bank)}{_channel(board, caught.channel)}"
        yield "    enter: store it; or choose another   h: store it, and type what to press"
    yield "    s: later   b: go back   d: done"


def _quoted(names: tuple[str, ...]) -> str:
    quoted = [f'"{name}"' for name in names]
    return f"{', '.join(quoted[:-1])} and {quoted[-1]}"


def _sent(board: Keyboard, program: int, bank: tuple[int | None, int | None]) -> str:
    halves = [f"{what} {half}" for what, half in zip(("bank msb", "bank lsb"), bank, strict=True) if half is not None]
    like = next((sound.panel for sound in board.sounds if sound.panel), "A11")
    panel = to_panel(program, board.programs_from, like=like)
    return ", ".join((*halves, on_panel(board, Sound("", program=program, panel=panel))))


def _channel(board: Keyboard, channel: int) -> str:
    """Say so if the board sends on another channel than the rig's; it may still receive on the rig's."""
    if channel == board.channel:
        return ""
    return f" (on channel {channel}; the rig has {board.channel}: check which one it receives on)"
