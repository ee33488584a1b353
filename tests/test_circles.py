"""No modules import each other in a circle."""

import functools
from pathlib import Path

from test_house import ROOT, imported_names


def circles_in(package: Path) -> list[set[str]]:
    """Return each group of modules that import each other in a circle, however late or for types alone."""
    edges: dict[str, set[str]] = {}
    for path, module, name in imported_names(package):
        here = ".".join(path.relative_to(package.parent).with_suffix("").parts)
        for target in (f"{module}.{name}", module):
            if package.parent.joinpath(*target.split(".")).with_suffix(".py").exists():
                edges.setdefault(here, set()).add(target)
                break

    @functools.cache
    def reached(start: str) -> set[str]:
        found, ends = set[str](), [*edges.get(start, ())]
        while ends:
            if (end := ends.pop()) not in found:
                found.add(end)
                ends += edges.get(end, ())
        return found

    circles = [{one for one in reached(start) if start in reached(one)} for start in edges]
    return [group for at, group in enumerate(circles) if group and group not in circles[:at]]


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert circles_in(ROOT / "companion") == []


def test_a_circle_is_found(tmp_path: Path) -> None:
    texts = {
        "a.py": "def late():\n    from companion.stage.b import b",
        "b.py": "if TYPE_CHECKING:\n    from companion.stage import c",
        "c.py": "from companion.stage.a import a",
        "d.py": "from companion.stage.a import a",
    }
    for name, text in texts.items():
        file = tmp_path / "companion/stage" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
    assert circles_in(tmp_path / "companion") == [{f"companion.stage.{name}" for name in "abc"}]
