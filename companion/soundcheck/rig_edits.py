"""Changes to the rig file: levels, captured sounds and pedals. Comments stay."""

from pathlib import Path
from typing import Any, Final

from msgspec import UNSET
from msgspec.structs import replace

from companion.edits import (
    ChangedOnDisk,
    Edit,
    EditPlace,
    NewText,
    OneLine,
    Remove,
    SetValue,
    applied,
    commit,
    open_text,
)
from companion.errors import CompanionError, FaultyFile
from companion.files import InvalidValue, Reading, SourceFile, parse, read_root
from companion.files.nodes import plainly
from companion.rig import BUILT_IN, BankMessage, Keyboard, Rig, Sound, to_panel
from companion.rig.controllers import controller
from companion.rig.midi_bytes import VOLUME
from companion.rig.rig_file import RIG
from companion.rig.rig_names import folded_name
from companion.soundcheck.check.levels import level_of
from companion.soundcheck.pedals.pedal_edits import REMOVED, Changes, Written, key_as_typed, pedal_changes
from companion.soundcheck.talk import KeepLevel, KeepLevels, KeepPedals, KeepSound

MAX_TRIES: Final = 20
COPY_IT: Final = "the built-in rig cannot be changed. Write: a copy of a file in config/, and --rig with its name"


def keep_in_rig(path: Path, request: KeepLevel | KeepLevels | KeepSound | KeepPedals) -> None:
    """Change the rig file. Raise CompanionError if that fails; the file is then unchanged."""
    if path == BUILT_IN:
        raise CompanionError(COPY_IT)
    for _ in range(MAX_TRIES):
        file = open_text(path)
        try:
            commit([NewText(file, kept(file.text or "", request, str(path)))], _says(request))
        except ChangedOnDisk:
            continue  # by an editor, this very moment: the request is worked out again on what it says now
        return
    raise ChangedOnDisk(f"{path} keeps changing under another program; nothing written")


def _says(request: KeepLevel | KeepLevels | KeepSound | KeepPedals) -> str:
    match request:
        case KeepLevel(sound=sound):
            return f"level of {sound.name}"
        case KeepLevels():
            return "levels"
        case KeepSound(name=name):
            return f"sound {name}"
    return "pedals"


def kept(text: str, request: KeepLevel | KeepLevels | KeepSound | KeepPedals, path: str = "") -> str:
    """Return the rig file's text with this change. Raise CompanionError if that would lose or break something."""
    if isinstance(request, KeepLevels):
        for level in request.levels:
            text = kept(text, level, path)
        return text
    if isinstance(request, KeepPedals) and request.out:
        pedals = _typed(text, path).get("pedals")
        text = applied(text, [Remove(("pedals", key_as_typed(pedals, name))) for name in request.out], path)
    rig = _read(text, path)
    written = _typed(text, path)
    match request:
        case KeepLevel():
            board = _board_now(rig, request.board)
            _see_level(board, request)
            changes = level_changes(written, replace(request, board=board))
        case KeepSound():
            changes = sound_changes(written, replace(request, board=_board_now(rig, request.board)))
        case KeepPedals():
            changes = pedal_changes(written, request)
    after = applied(text, [_edit(where, value) for where, value in changes.items()], path)
    _read(after, path, "would have an error")
    return after


def _typed(text: str, path: str) -> Written:
    """Return the file as tables, lists and texts, as typed."""
    found: Written = plainly(parse(SourceFile(path, text), []))
    return found


def _edit(where: EditPlace, value: object) -> Edit:
    return Remove(where) if value is REMOVED else SetValue(where, value)


def _see_level(board: Keyboard, request: KeepLevel) -> None:
    """Check that the file still has the level that was turned up or down. Raises CompanionError."""
    now = next((one for one in board.sounds if folded_name(one.name) == folded_name(request.sound.name)), None)
    level = level_of(now) if now is not None else None
    if request.before is not UNSET and level not in (request.before, request.level):
        raise CompanionError(
            f"the rig file changed meanwhile: {request.sound.name} has volume {level} there, "
            f"not the one that {request.level} was to replace"
        )


def level_changes(written: Written, request: KeepLevel) -> Changes:
    """Return the edit that sets a sound's level, in any notation of the sound."""
    where, sound = _sound(written, request.board, request.sound.name)
    if isinstance(sound, dict):
        controls = sound.get("controls")
        if not isinstance(controls, dict):
            return {(*where, "controls"): OneLine({"volume": request.level})}
        key = next((key for key in controls if _is_volume(key)), "volume")
        return {(*where, "controls", key): request.level}
    program = _as_number(sound) if sound else _panel(request.board, request.sound)
    return {where: OneLine({"program": program, "controls": {"volume": request.level}})}


def sound_changes(written: Written, request: KeepSound) -> Changes:
    """Return what puts a captured program and bank, or a by-hand instruction, after a sound's name."""
    where, sound = _sound(written, request.board, request.name)
    changes: Changes = {}
    news: dict[str, object] = {}
    if request.program is not None:
        bank, needed = bank_written(request.board, request.bank)
        if needed != request.board.bank_messages:
            board = key_as_typed(written.get("keyboards"), request.board.name)
            changes["keyboards", board, "bank_messages"] = _bank_words(needed)
        news["program"] = _panel(request.board, Sound(request.name, program=request.program))
        if bank is not None:
            news["bank"] = bank
    if request.by_hand is not None:
        news["by_hand"] = request.by_hand
    if not isinstance(sound, dict):
        alone = {"program": _as_number(sound)} if sound and request.program is None else {}
        table = alone | news
        changes[where] = table["program"] if set(table) == {"program"} else OneLine(table)
        return changes
    if request.program is not None and "bank" in sound and "bank" not in news:
        changes[(*where, "bank")] = REMOVED
    return changes | {(*where, key): value for key, value in news.items()}


def bank_written(
    board: Keyboard, bank: tuple[int | None, int | None]
) -> tuple[int | list[int] | None, tuple[BankMessage, ...]]:
    """Return the bank as the rig file has it, and the bank messages that the keyboard must then be sent.

    An instrument understands what it sends. A half that is 0 or did not arrive is left out if the rig says that
    the keyboard does not want it. Raise CompanionError if other sounds would then mean something else.
    """
    halves = dict(zip((BankMessage.MSB, BankMessage.LSB), bank, strict=True))
    wants = board.bank_messages
    lacking = tuple(half for half, value in halves.items() if value and half not in wants)
    if lacking and any(sound.bank is not None for sound in board.sounds):
        halves_sent = ", ".join(f"{half.value} {halves[half]}" for half in lacking)
        raise CompanionError(
            f'"{board.name}" sends bank {halves_sent}, but the rig says it expects other bank messages. '
            "Write: bank_messages: both, and every bank as [MSB, LSB]"
        )
    needed = tuple(half for half in BankMessage if half in wants or half in lacking)
    if bank == (None, None) or not needed:
        return None, needed
    values = [halves[half] or 0 for half in needed]
    return (values if len(values) > 1 else values[0]), needed


def _sound(written: Written, board: Keyboard, name: str) -> tuple[EditPlace, Any]:
    """Return the place of a sound, named as typed, and the text there; None if it has none."""
    boards = written.get("keyboards")
    typed = key_as_typed(boards, board.name)
    table = boards[typed] if isinstance(boards, dict) else None
    sounds = table.get("sounds") if isinstance(table, dict) else None
    sound = key_as_typed(sounds, name) if isinstance(sounds, dict) else name
    return ("keyboards", typed, "sounds", sound), sounds.get(sound) if isinstance(sounds, dict) else None


def _panel(board: Keyboard, sound: Sound) -> object:
    """Return a program as this keyboard's panel shows it, in the way that its other sounds are written."""
    if sound.program is None:
        raise CompanionError(f'"{sound.name}" on {board.name} has no program')
    like = next((other.panel for other in board.sounds if other.panel), "A11")
    return _as_number(to_panel(sound.program, board.programs_from, like=like))


def _as_number(typed: object) -> object:
    return int(typed) if isinstance(typed, str) and typed.isascii() and typed.isdigit() else typed


def _is_volume(typed: str) -> bool:
    try:
        return controller(typed) == VOLUME
    except InvalidValue:
        return False


def _bank_words(halves: tuple[BankMessage, ...]) -> str:
    return "both" if len(halves) == len(BankMessage) else halves[0].value if halves else "none"


def _board_now(rig: Rig, board: Keyboard) -> Keyboard:
    """Return the keyboard as the file has it now: it may have been edited since it was read."""
    found = next((one for one in rig.keyboards if folded_name(one.name) == folded_name(board.name)), None)
    if found is None:
        raise CompanionError(f'the rig file no longer has a keyboard "{board.name}"')
    return found


def _read(text: str, path: str, what: str = "has a fault") -> Rig:
    reading = Reading()
    try:
        return read_root(parse(SourceFile(path, text), reading.faults), RIG, reading)
    except FaultyFile as faulty:
        raise CompanionError(f"the rig file {what}: {faulty.faults[0]}") from faulty
