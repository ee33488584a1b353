"""Writing that loses nothing: a file is there whole, the old or the new one, and edits leave comments alone."""

import itertools
import os
import stat
from collections.abc import Mapping
from contextlib import suppress
from io import StringIO
from pathlib import Path
from typing import Any

from companion.errors import CompanionError, NotWritten
from companion.files.nodes import Items, Node, Source, Table
from companion.files.opening import open_source
from companion.files.parsing import parse

Where = tuple[str | int, ...]  # keys and places in lists (from 0), from the top of the file
REMOVED = object()  # as a change: the key, or the place in the list, goes
WIDEST = 10_000  # characters; no line of a player's is folded


class OneLine(dict[str, object]):
    """As a change: a table that is written in one line, in braces."""


def write_whole(path: str | os.PathLike[str], what: str | bytes) -> None:
    """Put a text (UTF-8) in a file's place, at once: whoever reads meanwhile, or after a power cut, finds one of both.

    A link stays a link, the file's permissions stay. Raises NotWritten, and then the old file is untouched.
    """
    target = Path(os.path.realpath(path))
    whole = what.encode() if isinstance(what, str) else what
    beside = None
    try:
        if target.exists() and not target.is_file() and not target.is_dir():
            target.write_bytes(whole)  # a pipe or a device: a file must not take its place
            return
        beside = target.with_name(f".{target.name}.{os.urandom(4).hex()}.new")
        with beside.open("xb") as file:
            file.write(whole)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            beside.chmod(stat.S_IMODE(target.stat().st_mode))
        beside.replace(target)
        _sync_folder(target.parent)
    except OSError as error:
        with suppress(OSError):
            if beside:
                beside.unlink()
        problem, write = _what_is_wrong(Path(path), error)
        raise NotWritten(f"{os.fspath(path)} cannot be written: {problem}", write) from error


def edited(text: str, changes: Mapping[Where, object], path: str = "") -> str:
    """Give a YAML text with some values changed, added or REMOVED, and everything else as it was, comments too.

    A change is a text, a number, a yes or no, or lists and dicts of them (OneLine: in braces). Raises FaultyFile where
    the text has faults that reading cannot pass, CompanionError where a change does not fit.
    """
    before = plainly(parse(Source(path, text), []))
    from ruamel.yaml import YAML  # noqa: PLC0415  only an edit pays for it
    from ruamel.yaml.error import YAMLError  # noqa: PLC0415  same

    yaml = YAML()
    yaml.preserve_quotes = True
    yaml.width = WIDEST
    yaml.indent(mapping=2, sequence=_list_indent(text) + 2, offset=_list_indent(text))
    try:
        root = yaml.load(text)
        for where, value in changes.items():
            _change(root, where, _spoken(value))
            before = _change(before, where, _as_typed(value))
        out = StringIO()
        yaml.dump(root, out)
    except (YAMLError, KeyError, IndexError, TypeError, AttributeError) as error:
        raise CompanionError(f"{path or 'the file'} cannot be edited: {error}") from error
    after = out.getvalue().replace("\n", "\r\n") if "\r\n" in text else out.getvalue()
    if plainly(parse(Source(path, after), [])) != before:
        raise CompanionError(f"{path or 'the file'} cannot be edited without changing something else in it")
    return after


def edit(path: str | os.PathLike[str], changes: Mapping[Where, object]) -> None:
    """Change some values of a YAML file in place; see ``edited``."""
    source = open_source(path)
    write_whole(path, edited(source.text, changes, source.path))


def plainly(node: Node) -> Any:  # noqa: ANN401  lists and dicts of texts, in each other
    """Give a node as dicts, lists and texts, without places."""
    if isinstance(node, Table):
        return {key: plainly(behind) for key, (_, behind) in node.entries.items()}
    return [plainly(one) for one in node.nodes] if isinstance(node, Items) else node.text


def _change(root: Any, where: Where, value: object) -> Any:  # noqa: ANN401  the same dicts and lists
    """Set, add or remove one value; tables that are not there yet are made."""
    *way, last = where
    inner = root
    for key in way:
        if isinstance(key, str) and not inner.get(key):
            inner[key] = {}
        inner = inner[key]
    if value is REMOVED:
        del inner[last]
    elif isinstance(inner, list) and last == len(inner):
        inner.append(value)
    else:
        inner[last] = _with_the_comment_beside(inner, last, value)
    return root


def _with_the_comment_beside(inner: Any, last: str | int, value: object) -> object:  # noqa: ANN401  the same dicts and lists
    """Give a table that takes the place of one word in a list that word's comment, behind its own first value.

    Left to the list, the comment would stand behind the dash, over the table.
    """
    from ruamel.yaml.comments import CommentedMap, CommentedSeq  # noqa: PLC0415  only an edit pays for it

    is_new_table = isinstance(value, dict) and value and not isinstance(value, CommentedMap)
    if not is_new_table or not isinstance(inner, CommentedSeq) or not isinstance(inner[last], str):
        return value
    table = CommentedMap(value)
    comment = (inner.ca.items.get(last) or [None])[0]
    if (
        comment and comment.value.strip("\n").count("\n") == 0 and comment.value.startswith("#")
    ):  # else it is the next one's too
        first = next(iter(table))
        comment.column += len(f"{first}: ")
        table.ca.items[first] = [None, None, comment, None]
        inner.ca.items[last][0] = None
    return table


def _spoken(value: object, *, one_line: bool = False) -> object:
    """Give a value with yes and no as a player writes them, and in braces what is to stand in one line."""
    one_line = one_line or isinstance(value, OneLine)
    if isinstance(value, dict):
        table = {key: _spoken(one, one_line=one_line) for key, one in value.items()}
        return _in_one_line(table) if one_line else table
    if isinstance(value, list | tuple):
        return [_spoken(one, one_line=one_line) for one in value]
    return ("yes" if value else "no") if isinstance(value, bool) else value


def _in_one_line(table: dict[object, object]) -> object:
    from ruamel.yaml.comments import CommentedMap  # noqa: PLC0415  only an edit pays for it

    written = CommentedMap(table)
    written.fa.set_flow_style()
    return written


def _as_typed(value: object) -> object:
    """Give what our reader will see of a value."""
    if isinstance(value, dict):
        return {str(key): _as_typed(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_as_typed(one) for one in value]
    value = _spoken(value)
    return "" if value is None else value if value is REMOVED else str(value)


def _what_is_wrong(path: Path, error: OSError) -> tuple[str, str]:
    """Say why a file cannot be written, and what to write instead where its place is none."""
    if path.is_dir():
        return "it is a folder", "the path of a file in it"
    if not path.parent.is_dir():
        return f"there is no folder {path.parent}", "the path of a file in a folder that is there"
    return error.strerror or str(error), ""


def _list_indent(text: str) -> int:
    """How far the dashes of the file's first list stand in from their key: 0 or 2, as its author does."""
    lines = text.splitlines()
    for above, line in itertools.pairwise(lines):
        if line.lstrip().startswith("- ") and above.rstrip().endswith(":"):
            deeper = len(line) - len(line.lstrip()) - (len(above) - len(above.lstrip()))
            return max(0, min(deeper, 8))
    return 2


def _sync_folder(folder: Path) -> None:
    """Let the new name survive a power cut, where the system has a way to say so."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    with suppress(OSError):  # some network folders refuse it; the file itself is safe
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
