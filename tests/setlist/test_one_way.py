"""A set list takes one way through the house: each step once, in the order that DEVELOPERS.md gives."""

import re
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from companion.setlist import import_list
from companion.setlist.list_reading import list_in
from companion.setlist.parsing import song_line

ROOT = Path(__file__).resolve().parents[2]
LIST = """\
Set 1
1. Gasworks Corner - Bb
2. Kettle on the Jetty - Gm
3. Harbour Lamps - C
4. Moth - D

Set 2
1. Weeds - Em
2. Fog Signal - G
"""


def steps() -> list[tuple[str, str]]:
    """Return the table's steps: each file, and the function through which a list enters it."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = page.partition("## The way of a set list")[2].partition("\n## ")[0]
    return re.findall(r"^\| [^|]+ \| `(companion/[^`]+)` \| `(\w+)` \|", table, re.MULTILINE)


def entered(run: Callable[[], object]) -> list[tuple[str, str]]:
    """Return each file and function that this enters, in the order of their first calls."""
    found: dict[tuple[str, str], None] = {}

    def note(frame: FrameType, event: str, _argument: Any) -> None:  # noqa: ANN401  the interpreter's own shape
        if event == "call" and "companion" in frame.f_code.co_filename:
            path = "companion" + frame.f_code.co_filename.rpartition("companion")[2].replace("\\", "/")
            found.setdefault((path, frame.f_code.co_name))

    sys.setprofile(note)
    try:
        run()
    finally:
        sys.setprofile(None)
    return list(found)


def test_an_import_passes_each_step_once_in_the_documented_order(tmp_path: Path) -> None:
    path, show = tmp_path / "list.txt", tmp_path / "show.yaml"
    path.write_text(LIST)
    import_list(path, show, agree=lambda _: True)
    path.write_text(LIST.replace("Moth - D", "Moth - E"))
    child = entered(lambda: list_in(path.read_bytes(), path.name))
    parent = entered(lambda: import_list(path, show, agree=lambda _: True))
    documented = steps()
    assert len(documented) > 15
    assert len({file for file, _ in documented}) == len(documented)
    assert [step for step in [*child, *parent] if step in documented] == documented


def test_each_line_is_parsed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    parsed: Counter[str] = Counter()
    peel = song_line.read_song

    def counted(line: Any, style: Any) -> Any:  # noqa: ANN401  passed on as they are
        parsed[line.text] += 1
        return peel(line, style)

    for name, module in list(sys.modules.items()):
        if name.startswith("companion.setlist.parsing.") and getattr(module, "read_song", None) is peel:
            monkeypatch.setattr(module, "read_song", counted)
    list_in(LIST.encode(), "list.txt")
    assert len(parsed) == 6
    assert set(parsed.values()) == {1}
