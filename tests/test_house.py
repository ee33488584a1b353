"""The house holds: imports go one way and in one style, rooms are small, and the top level is clean."""

import ast
import collections
import json
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from source_trees import statements, tree_of

ROOT = Path(__file__).resolve().parents[1]

MAY_IMPORT: dict[str, set[str]] = {
    "guide": set(),
    "files": set(),
    "music": set(),
    "show": {"music", "files"},
    "rig": {"files"},
    "edits": {"show", "files"},
    "setlist": {"edits", "files", "music", "show"},
    "practice_log": {"edits", "files", "setlist", "show"},
    "leader": {"edits", "files", "music", "setlist", "show"},
    "planning": {"edits", "files", "leader", "practice_log", "setlist", "show"},
    "stage": {"music", "show", "rig"},
    "ports": {"stage", "rig"},
    "quiz": {"music", "planning", "ports", "practice_log", "rig", "setlist", "show"},
    "listening": {"edits", "files", "music", "ports", "practice_log", "rig", "setlist", "show", "stage"},
    "view": {"stage", "show", "music"},
    "screen": {"view", "stage"},
    "night": {"show", "rig", "stage", "ports", "view", "screen", "files"},
    "soundcheck": {"show", "rig", "stage", "ports", "screen", "night", "files", "edits"},
    "debrief": {"edits", "files", "music", "night", "ports", "practice_log", "rig", "setlist", "show", "stage"},
    "paper": {"music", "show", "planning", "files"},
    "audio": {"edits", "files", "music", "show"},
    "picture": {"paper", "screen", "show", "stage", "view"},
    "pages": {
        *("audio", "debrief", "edits", "files", "leader", "listening", "music", "night", "paper", "picture"),
        *("planning", "ports", "practice_log", "rig", "screen", "setlist", "show", "stage", "view"),
    },
}
# Modules outside the rooms that every room may import.
FOR_ALL = {
    *("errors", "changes", "child", "clock", "how_many", "lean", "lean_paths", "late", "regular", "right_to_left"),
    *("shown", "stopping"),
}
FOR_NONE = {"cli", "commands", "frozen"}  # they import every room, and nobody imports them
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "companion", "config", "tests", "shows"}
MAY_REPEAT = {"__init__", "__main__", "model"}  # each room of files has its model under one name
LINES_AT_MOST = 400
DRAWERS = {"utils", "util", "helpers", "helper", "common", "misc", "shared", "tools", "lib"}
NOT_BEFORE_THE_FOOT = ("pygame", "mido", "rich", "jsonschema", "rapidfuzz", "psutil", "starlette", "uvicorn")
NOT_IN_THE_WINDOW = ("yaml", "numpy", "rtmidi", "psutil")


def room_of(module: str) -> str:
    """Return the room or module right under the package: ``companion.stage.step`` lies in ``stage``."""
    return [*module.split("."), ""][1]


def imports(package: Path) -> Iterator[tuple[str, str, str]]:
    """Yield (room, module, imported room) for each import of the package by itself, also those inside functions."""
    for path in sorted(package.rglob("*.py")):
        parts = (package.name, *path.relative_to(package).with_suffix("").parts)
        module = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        here = list(parts[:-1])
        for node in statements(tree_of(path.read_text(encoding="utf-8"))):
            names: list[str] = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                up = here[: len(here) - node.level + 1] if node.level else []
                base = ".".join([*up, *([node.module] if node.module else [])])
                names = [f"{base}.{alias.name}" for alias in node.names] if base == package.name else [base]
            for name in names:
                if name.split(".")[0] == package.name and room_of(name):
                    yield room_of(module), module, room_of(name)


def faults_in(package: Path, may_import: dict[str, set[str]]) -> list[str]:
    """Return what breaks the direction of the imports, one line a fault."""
    rooms = {path.parent.name for path in package.glob("*/__init__.py")}
    rooms |= {path.parent.name for path in package.glob("*/*.py")}
    faults = [f"the room {room} has no row" for room in sorted(rooms - set(may_import) - FOR_NONE)]
    for room, module, imported in imports(package):
        if imported in FOR_NONE and room not in FOR_NONE and module != f"{package.name}.__main__":
            faults.append(f"{module} imports {imported}, which nobody may")
        elif room in may_import and imported not in may_import[room] | FOR_ALL | {room}:
            faults.append(f"{module} imports {imported}; {room} may import {sorted(may_import[room]) or 'nothing'}")
        elif room in FOR_ALL and imported not in (room, "late"):
            faults.append(f"{module} imports {imported}; what all may import imports at most late")
    return faults


def test_nothing_imports_upward() -> None:
    assert not faults_in(ROOT / "companion", MAY_IMPORT)


@pytest.mark.parametrize(
    ("module", "text", "fault"),
    [
        ("stage/step.py", "from companion.ports import MidiOut", "companion.stage.step imports ports"),
        ("stage/step.py", "import companion.ports.show_clock as c", "companion.stage.step imports ports"),
        ("stage/step.py", "from companion import ports", "companion.stage.step imports ports"),
        ("stage/step.py", "from ..ports import MidiOut", "companion.stage.step imports ports"),
        ("stage/step.py", "from .. import ports", "companion.stage.step imports ports"),
        ("stage/__init__.py", "from ..ports import MidiOut", "companion.stage imports ports"),
        ("stage/step.py", "def late():\n    from companion.screen import view", "companion.stage.step imports screen"),
        ("music/key.py", "if TYPE_CHECKING:\n    from companion.show import Song", "companion.music.key imports show"),
        ("music/key.py", "from companion.cli import main", "companion.music.key imports cli, which nobody may"),
        ("errors.py", "from companion.music import Key", "companion.errors imports music"),
        ("attic/old.py", "", "the room attic has no row"),
    ],
)
def test_an_import_upward_is_found_however_it_is_written(tmp_path: Path, module: str, text: str, fault: str) -> None:
    file = tmp_path / "companion" / module
    file.parent.mkdir(parents=True)
    file.write_text(text)
    (found,) = faults_in(tmp_path / "companion", MAY_IMPORT)
    assert found.startswith(fault)


@pytest.mark.parametrize(
    ("module", "text"),
    [
        ("stage/step.py", "from companion.show import Show\nfrom .events import Next\nimport companion.errors"),
        ("cli.py", "from companion.night import play\nfrom companion.commands import check"),
        ("commands/check.py", "from companion.show import read"),
        ("stage/step.py", "from companionship import ports"),
    ],
)
def test_an_import_downward_is_allowed(tmp_path: Path, module: str, text: str) -> None:
    file = tmp_path / "companion" / module
    file.parent.mkdir(parents=True)
    file.write_text(text)
    assert not faults_in(tmp_path / "companion", MAY_IMPORT)


def exported(package: Path) -> dict[str, set[str]]:
    """Return the names in each room's ``__all__``. A room whose ``__init__.py`` has none has no face."""
    faces: dict[str, set[str]] = {}
    for path in sorted(package.glob("*/__init__.py")):
        for node in tree_of(path.read_text(encoding="utf-8")).body:
            match node:
                case ast.Assign(targets=[ast.Name(id="__all__")], value=value):
                    faces[path.parent.name] = set(ast.literal_eval(value))
    return faces


@cache
def defined_in(text: str) -> set[str]:
    """Return every name that this module binds at its top level without importing it."""
    names: set[str] = set()
    left: list[ast.AST] = [*tree_of(text).body]
    while left:
        match left.pop():
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name) | ast.ClassDef(name=name):
                names.add(name)
            case node:
                left += ast.iter_child_nodes(node)
                if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                    names.add(node.id)
    return names


def imported_names(folder: Path) -> Iterator[tuple[Path, str, str]]:
    """Yield (file, module, name) for each ``from module import name`` below this folder, however deep it stands."""
    for path in sorted(folder.rglob("*.py")):
        for module, name in imported_in(path.read_text(encoding="utf-8")):
            yield path, module, name


@cache
def imported_in(text: str) -> tuple[tuple[str, str], ...]:
    """Return (module, name) for each ``from module import name`` in this module."""
    return tuple(
        ("." * node.level + (node.module or ""), alias.name)
        for node in statements(tree_of(text))
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    )


def detours_in(package: Path) -> list[str]:
    """Return the imports that do not follow the house's one style, one line for each.

    A name that a room exports comes from the room; any other name comes from the module that defines it. Modules of
    one room import from each other, never from their own face. Nothing is relative.
    """
    faces = exported(package)
    faults = []
    for path, module, name in imported_names(package):
        here = path.relative_to(package.parent).with_suffix("")
        home = here.parts[1]
        parts = module.split(".")
        if module.startswith("."):
            faults.append(f"{here}: a relative import of {name}")
        elif parts[0] == package.name and len(parts) == 2 and parts[1] == home and name in faces.get(home, set()):
            faults.append(f"{here}: {name} from its own room's face; import the module that defines it")
        elif parts[0] == package.name and len(parts) > 2:
            file = package.parent.joinpath(*parts).with_suffix(".py")
            if parts[1] != home and name in faces.get(parts[1], set()):
                faults.append(f"{here}: {name} from {module}; {package.name}.{parts[1]} exports it")
            elif file.exists() and name not in defined_in(file.read_text(encoding="utf-8")):
                faults.append(f"{here}: {name} from {module}, which does not define it")
    return faults


def test_each_import_follows_the_one_style() -> None:
    assert detours_in(ROOT / "companion") == []


@pytest.mark.parametrize(
    ("module", "text", "fault"),
    [
        ("night/night.py", "from companion.stage.step import step", "step from companion.stage.step; companion.stage"),
        ("night/night.py", "from companion.stage.moves import State", "State from companion.stage.moves, which does"),
        ("stage/moves.py", "from companion.stage import step", "step from its own room's face"),
        ("stage/moves.py", "from .state import State", "a relative import of State"),
        ("night/night.py", "from companion.stage import step\nfrom companion.stage.state import State", None),
        ("stage/moves.py", "from companion.stage.state import State", None),
        ("night/night.py", "def late():\n    from companion.stage.step import step", "step from companion.stage.step;"),
    ],
)
def test_a_detour_is_found(tmp_path: Path, module: str, text: str, fault: str | None) -> None:
    files = {
        "stage/__init__.py": 'from companion.stage.step import step\n\n__all__ = ["step"]',
        "stage/step.py": "def step(): ...",
        "stage/state.py": "class State: ...",
        "stage/moves.py": "from companion.stage.state import State",
    }
    for name, content in (files | {module: text}).items():
        file = tmp_path / "companion" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(content)
    found = detours_in(tmp_path / "companion")
    assert len(found) == (fault is not None)
    assert all((fault or "") in one for one in found)


def test_a_room_exports_only_what_another_room_or_a_test_uses() -> None:
    used = collections.defaultdict(set)
    for folder in ("companion", "tests"):
        for _path, module, name in imported_names(ROOT / folder):
            used[module].add(name)
    faces = exported(ROOT / "companion")
    assert len(faces) > 10
    unused = {room: sorted(names - used[f"companion.{room}"]) for room, names in faces.items()}
    assert {room: names for room, names in unused.items() if names} == {}


def source_files() -> list[Path]:
    return sorted(path for part in ("companion", "tests") for path in (ROOT / part).rglob("*.py"))


# Who may write a whole file: the edit layer for the player's files, and these modules for the program's own.
WRITERS = {
    "companion/audio/kept_hearings.py",  # the cache of what was heard
    "companion/debrief/night_kinds.py",  # which journals are rehearsals, beside the journals
    "companion/edits/pending.py",
    "companion/edits/saving.py",
    "companion/edits/undo_list.py",
    "companion/files/outputs.py",
    "companion/files/file_writing.py",
    "companion/night/detail_choices.py",
    "companion/night/read_before.py",
    "companion/pages/leader_reply.py",  # a pasted message, while it is read
    "companion/pages/visitor.py",  # its port and secrets, in the program's own folder
    "companion/screen/pictures.py",  # pictures by number and scene, into a folder that was asked for
    "companion/soundcheck/check/check_progress.py",
}


def test_only_the_edit_layer_writes_a_players_file() -> None:
    writes = re.compile(r"\bwrite_whole\b|\.write_text\(|\.write_bytes\(")
    found = {
        str(path.relative_to(ROOT))
        for path in (ROOT / "companion").rglob("*.py")
        if writes.search(path.read_text(encoding="utf-8"))
    }
    assert found == WRITERS


def test_no_module_is_a_catch_all_and_none_is_too_long() -> None:
    for path in source_files():
        assert path.stem not in DRAWERS, f"{path}: a function lives in the room of its word"
        lines = len(path.read_text(encoding="utf-8").splitlines())
        assert lines <= LINES_AT_MOST, f"{path} has {lines} lines: look for the wall"


def test_every_module_says_its_purpose_in_its_first_line() -> None:
    for path in source_files():
        first = path.read_text(encoding="utf-8").partition("\n")[0]
        says = first.startswith(('"""', 'r"""')) or (path.name == "__init__.py" and not first)
        assert says, f"{path} begins with {first!r}"


def test_every_module_named_in_a_docstring_exists() -> None:
    there = {path.name for path in source_files()} | {"msgspec.py"}  # a stranger's, which never runs
    named = {
        (path.name, name)
        for path in source_files()
        for name in re.findall(r"``(?:[\w/]+/)?(\w+\.py)``", path.read_text(encoding="utf-8"))
    }
    assert {(path, name) for path, name in named if name not in there} == set()


def test_the_top_level_holds_only_what_belongs_there() -> None:
    there = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert not there - TOP_LEVEL - {"build", "dist", "__pycache__"}


def test_starting_the_night_imports_nothing_heavy() -> None:
    """Each costs 50 to 200 ms at the start; a module of the night that needs one asks for it inside a function."""
    look = (
        "import importlib, json, pkgutil, sys\n"
        "import companion.lean, companion.night\n"
        "for module in pkgutil.walk_packages(companion.night.__path__, 'companion.night.'):\n"
        "    if module.name != 'companion.night.battery':  # a process of its own\n"
        "        importlib.import_module(module.name)\n"
        "print(json.dumps(sorted({name.split('.')[0] for name in sys.modules})))\n"
    )
    done = subprocess.run((sys.executable, "-c", look), cwd=ROOT, capture_output=True, text=True, check=True)
    assert not set(json.loads(done.stdout)) & set(NOT_BEFORE_THE_FOOT)


def test_the_windows_process_imports_nothing_of_the_night() -> None:
    look = (
        "import json, sys\nimport companion.screen.window\n"
        "rooms = {'.'.join(name.split('.')[:2]) for name in sys.modules}\n"
        "print(json.dumps(sorted(rooms)), file=sys.stderr)\n"
    )
    done = subprocess.run((sys.executable, "-c", look), cwd=ROOT, capture_output=True, text=True, check=True)
    there = set(json.loads(done.stderr.splitlines()[-1]))
    assert {room for room in there if room.startswith("companion.")} == {
        "companion.clock",
        "companion.late",
        "companion.lean",
        "companion.lean_paths",
        "companion.right_to_left",
        "companion.screen",
        "companion.shown",
        "companion.view",
    }
    assert not there & set(NOT_IN_THE_WINDOW)


def test_no_temporary_file_is_left_behind() -> None:
    leaves = re.compile(r"\b(mkdtemp|mkstemp|NamedTemporaryFile)\(")
    made = [
        f"{path.relative_to(ROOT)}: {found[1]}"
        for folder in ("companion", "tests")
        for path in sorted((ROOT / folder).rglob("*.py"))
        for found in leaves.finditer(path.read_text(encoding="utf-8"))
    ]
    assert made == []


def test_ci_runs_the_test_command_of_the_readme() -> None:
    commands = re.findall(r"^python3 -m venv .*tests/check\.py.*$", (ROOT / ".ci/run").read_text(), re.MULTILINE)
    assert len(commands) == 1
    assert commands[0] in (ROOT / "README.md").read_text(encoding="utf-8").splitlines()


def public_names(package: Path) -> Iterator[tuple[str, Path]]:
    """Yield each public class and type alias with the module that defines it."""
    for path in sorted(package.rglob("*.py")):
        for node in tree_of(path.read_text(encoding="utf-8")).body:
            match node:
                case ast.ClassDef(name=name):
                    yield name, path
                case ast.Assign(targets=[ast.Name(id=name)]) if not name.isupper():
                    yield name, path


def test_no_two_classes_or_aliases_share_a_name() -> None:
    found: dict[str, list[Path]] = {}
    for name, path in public_names(ROOT / "companion"):
        if name[0].isupper() and len(name) > 1:  # T, K and V are type variables
            found.setdefault(name, []).append(path)
    assert {name: paths for name, paths in found.items() if len(paths) > 1} == {}


def test_no_two_modules_share_a_name() -> None:
    found: dict[str, list[Path]] = {}
    for path in sorted((ROOT / "companion").rglob("*.py")):
        if path.stem not in MAY_REPEAT:
            found.setdefault(path.stem, []).append(path)
    assert {stem: paths for stem, paths in found.items() if len(paths) > 1} == {}
