"""What is kept in the rig file: levels, captured sounds and pedals, each as a small change that loses no comment."""

from collections.abc import Iterable
from pathlib import Path
from typing import Any, Final

from msgspec.structs import replace

from companion.errors import CompanionError, FaultyFile
from companion.files import NotThis, Reading, Source, Table, parse, read_root
from companion.files.nodes import Items, Node
from companion.files.opening import open_source
from companion.files.writing import REMOVED, OneLine, Where, edited, plainly, write_whole
from companion.rig import BUILT_IN, BankMessage, Keyboard, Rig, Sound, to_panel
from companion.rig.controllers import controller
from companion.rig.names import folded
from companion.rig.reading import RIG
from companion.rig.wire import VOLUME

from .pedal_edits import Changes, Written, key_as_typed, pedal_changes
from .talk import KeepLevel, KeepPedals, KeepSound

COPY_IT: Final = "the built-in rig is not written: copy a file of config/, and name the copy with --rig"


def keep_in_rig(path: Path, wish: KeepLevel | KeepSound | KeepPedals) -> None:
    """Change the rig file. Raises CompanionError where that cannot be done; the file is then as it was."""
    if path == BUILT_IN:
        raise CompanionError(COPY_IT)
    source = open_source(path)
    after = kept(source.text, wish, source.path)
    if after != source.text:
        write_whole(path, after)


def kept(text: str, wish: KeepLevel | KeepSound | KeepPedals, path: str = "") -> str:
    """Give the rig file's text with this in it. Raises CompanionError where that would lose or break something."""
    if isinstance(wish, KeepPedals):
        for name in wish.out:
            text = without(text, ("pedals", name), path)
    rig = _read(text, path)
    written: Written = plainly(parse(Source(path, text), []))
    match wish:
        case KeepLevel():
            changes = level_changes(written, replace(wish, board=_board_now(rig, wish.board)))
        case KeepSound():
            changes = sound_changes(written, replace(wish, board=_board_now(rig, wish.board)))
        case KeepPedals():
            changes = pedal_changes(written, wish)
    after = edited(text, changes, path) if changes else text
    _read(after, path, "would have a fault")
    theirs = own_comments(text, [where for where, value in changes.items() if value is REMOVED])
    lost = [comment for comment in comments(text) if comment not in (*comments(after), *theirs)]
    if lost:
        raise CompanionError(f'{path or "the file"} cannot be edited without losing a comment: "{lost[0]}"')
    return after


def level_changes(written: Written, wish: KeepLevel) -> Changes:
    """Give what puts a level behind a sound, however the sound is written."""
    where, sound = _sound(written, wish.board, wish.sound.name)
    if isinstance(sound, dict):
        controls = sound.get("controls")
        if not isinstance(controls, dict):
            return {(*where, "controls"): OneLine({"volume": wish.level})}
        key = next((key for key in controls if _is_volume(key)), "volume")
        return {(*where, "controls", key): wish.level}
    program = _as_number(sound) if sound else _panel(wish.board, wish.sound)
    return {where: OneLine({"program": program, "controls": {"volume": wish.level}})}


def sound_changes(written: Written, wish: KeepSound) -> Changes:
    """Give what puts a captured program and bank, or words for the hand, behind a sound's name."""
    where, sound = _sound(written, wish.board, wish.name)
    changes: Changes = {}
    news: dict[str, object] = {}
    if wish.program is not None:
        bank, needed = bank_written(wish.board, wish.bank)
        if needed != wish.board.bank_messages:
            board = key_as_typed(written.get("keyboards"), wish.board.name)
            changes["keyboards", board, "bank_messages"] = _bank_words(needed)
        news["program"] = _panel(wish.board, Sound(wish.name, program=wish.program))
        if bank is not None:
            news["bank"] = bank
    if wish.by_hand is not None:
        news["by_hand"] = wish.by_hand
    if not isinstance(sound, dict):
        alone = {"program": _as_number(sound)} if sound and wish.program is None else {}
        table = alone | news
        changes[where] = table["program"] if set(table) == {"program"} else OneLine(table)
        return changes
    if wish.program is not None and "bank" in sound and "bank" not in news:
        changes[(*where, "bank")] = REMOVED
    return changes | {(*where, key): value for key, value in news.items()}


def bank_written(
    board: Keyboard, bank: tuple[int | None, int | None]
) -> tuple[int | list[int] | None, tuple[BankMessage, ...]]:
    """Give the bank as the rig file has it, and the bank messages that the keyboard must then be sent.

    What an instrument sends it understands. A half that is 0 or did not come is not asked for where the rig says that
    the keyboard does not want it. Raises CompanionError where other sounds would be read otherwise.
    """
    halves = dict(zip((BankMessage.MSB, BankMessage.LSB), bank, strict=True))
    wants = board.bank_messages
    lacking = tuple(half for half, value in halves.items() if value and half not in wants)
    if lacking and any(sound.bank is not None for sound in board.sounds):
        came = ", ".join(f"{half.value} {halves[half]}" for half in lacking)
        raise CompanionError(
            f'"{board.name}" sends bank {came}, and the rig says that it wants other bank messages. '
            "Write: bank_messages: both, and every bank as [MSB, LSB]"
        )
    needed = tuple(half for half in BankMessage if half in wants or half in lacking)
    if bank == (None, None) or not needed:
        return None, needed
    values = [halves[half] or 0 for half in needed]
    return (values if len(values) > 1 else values[0]), needed


def without(text: str, where: Where, path: str = "") -> str:
    """Give the text without the lines of one entry, whose own comment goes with them. Raises CompanionError."""
    root = parse(Source(path, text), [])
    (*_, (_, around)), typed, node = _way(root, where, path)
    if around.braces:
        raise CompanionError(f"{path or 'the file'}: take {where[-1]} out by hand: it shares its line with others")
    rows = text.splitlines(keepends=True)
    after = "".join(rows[: typed.line - 1] + rows[_last_line(node, typed.line) :])
    expected = plainly(root)
    inner = expected
    for key in where[:-1]:
        inner = inner[key]
    del inner[key_as_typed(inner, str(where[-1]))]
    if _bare(plainly(parse(Source(path, after), []))) != _bare(expected):
        raise CompanionError(f"{path or 'the file'}: {where[-1]} cannot be taken out without changing something else")
    return after


def own_comments(text: str, entries: Iterable[Where]) -> tuple[str, ...]:
    """Give the comments on the lines of these entries: they speak of what goes with them."""
    root, rows = parse(Source("", text), []), text.splitlines()
    lines = [_way(root, where, "")[1].line for where in entries]
    return tuple(comment for line in lines for comment in comments(rows[line - 1]))


def comments(text: str) -> tuple[str, ...]:
    """Give the comments of a text, one a line, without what stands before them; a # inside quotes begins none."""
    found = []
    for line in text.splitlines():
        quote = ""
        for place, sign in enumerate(line):
            if quote:
                quote = "" if sign == quote else quote
            elif sign in "\"'" and (not place or line[place - 1] in " [{,:"):
                quote = sign
            elif sign == "#" and (not place or line[place - 1] in " \t"):
                found.append(line[place:].rstrip())
                break
    return tuple(found)


def _sound(written: Written, board: Keyboard, name: str) -> tuple[Where, Any]:
    """Give where a sound stands, by the names as they are typed, and what is written there; None for nothing."""
    boards = written.get("keyboards")
    typed = key_as_typed(boards, board.name)
    table = boards[typed] if isinstance(boards, dict) else None
    sounds = table.get("sounds") if isinstance(table, dict) else None
    sound = key_as_typed(sounds, name) if isinstance(sounds, dict) else name
    return ("keyboards", typed, "sounds", sound), sounds.get(sound) if isinstance(sounds, dict) else None


def _panel(board: Keyboard, sound: Sound) -> object:
    """Give a program as this keyboard's panel shows it, in the way that its other sounds are written."""
    if sound.program is None:
        raise CompanionError(f'"{sound.name}" on {board.name} has no program')
    like = next((other.panel for other in board.sounds if other.panel), "A11")
    return _as_number(to_panel(sound.program, board.programs_from, like=like))


def _as_number(typed: object) -> object:
    return int(typed) if isinstance(typed, str) and typed.isascii() and typed.isdigit() else typed


def _is_volume(typed: str) -> bool:
    try:
        return controller(typed) == VOLUME
    except NotThis:
        return False


def _bank_words(halves: tuple[BankMessage, ...]) -> str:
    return "both" if len(halves) == len(BankMessage) else halves[0].value if halves else "none"


def _way(root: Node, where: Where, path: str) -> tuple[list[tuple[str, Table]], Node, Node]:
    """Give the tables on the way to an entry, its key and what stands behind it. Raises CompanionError."""
    way: list[tuple[str, Table]] = []
    typed = node = root
    for key in where:
        found = key_as_typed(dict.fromkeys(node.entries), str(key)) if isinstance(node, Table) else ""
        if not isinstance(node, Table) or found not in node.entries:
            raise CompanionError(f"{path or 'the file'} has no {where[-1]}")
        way.append((found, node))
        typed, node = node.entries[found]
    return way, typed, node


def _last_line(node: Node, line: int) -> int:
    """Give the last line (from 1) that a node reaches to."""
    inner: list[Node] = []
    if isinstance(node, Table):
        inner = [one for pair in node.entries.values() for one in pair]
    elif isinstance(node, Items):
        inner = list(node.nodes)
    return max([line, node.line, *(_last_line(one, one.line) for one in inner)])


def _bare(value: object) -> object:
    """Give the same with tables that are empty as nothing."""
    if isinstance(value, dict):
        return {key: _bare(one) for key, one in value.items()} or ""
    return [_bare(one) for one in value] if isinstance(value, list) else value


def _board_now(rig: Rig, board: Keyboard) -> Keyboard:
    """Give the keyboard as the file has it now: it may have been edited since it was read."""
    found = next((one for one in rig.keyboards if folded(one.name) == folded(board.name)), None)
    if found is None:
        raise CompanionError(f'the rig file has no keyboard "{board.name}" any more')
    return found


def _read(text: str, path: str, what: str = "has a fault") -> Rig:
    reading = Reading()
    try:
        return read_root(parse(Source(path, text), reading.faults), RIG, reading)
    except FaultyFile as faulty:
        raise CompanionError(f"the rig file {what}: {faulty.faults[0]}") from faulty
