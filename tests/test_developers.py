"""DEVELOPERS.md is true: its map is the one that the house is held to, its paths exist, no library is left out."""

import re
import tomllib
from pathlib import Path

from test_house import FOR_ALL, MAY_IMPORT

ROOT = Path(__file__).resolve().parents[1]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def rows(heading: str) -> list[list[str]]:
    """Return the cells of the table under a heading, without its first two lines."""
    section = re.split(r"^#+ ", PAGE.partition(f"# {heading}\n")[2], maxsplit=1, flags=re.MULTILINE)[0]
    table = [line for line in section.splitlines() if line.startswith("|")]
    return [[re.sub(r"^`([^`]*)`$", r"\1", cell.strip()) for cell in line.strip("|").split("|")] for line in table[2:]]


def test_the_map_agrees_with_the_import_table() -> None:
    told = {room: set() if may == "nothing" else set(may.split(", ")) for room, _what, may, _start in rows("The map")}
    assert told == MAY_IMPORT


def test_the_map_lists_what_every_room_may_import() -> None:
    for module in FOR_ALL:
        assert f"`companion/{module}.py`" in PAGE


def test_every_path_on_the_page_exists() -> None:
    paths = re.findall(r"`((?:companion|tests|shows|config|\.ci)/[\w./-]*)`", PAGE)
    assert len(paths) > 20
    assert [path for path in paths if not (ROOT / path).exists()] == []


def test_every_library_has_its_line() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    names = sorted(re.split(r"[<>=~! ;\[]", wanted)[0] for wanted in project["dependencies"])
    assert [name for name, _why in rows("Libraries, one line each")] == names


def test_every_name_in_the_walk_is_in_its_file() -> None:
    """The stops of one press name functions and classes: a renamed one is found here."""
    walk = rows("One press of the right pedal")
    assert len(walk) == 12
    for _stop, path, what in walk:
        files = [path, *re.findall(r"companion/[\w/]+\.py", what)]
        text = "\n".join((ROOT / file).read_text(encoding="utf-8") for file in files)
        for name in re.findall(r"`(\w+)(?:\.\w+)?(?:\(.*?\)|\[.*?\])?`", what):
            assert re.search(rf"\b{name}\b", text), f"{name} is not in {files}"
