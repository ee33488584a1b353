"""README and guide are true: their commands run and print what they say, their files read, their screens are real."""

import datetime as dt
import io
import re
import shlex
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import click
import pytest

from companion.cli import main
from companion.commands import group
from companion.guide import TOPICS, page, title
from companion.music import SIGNS
from companion.night.default_keys import KEYS as NIGHT_KEYS
from companion.rig import BUILT_IN, Action, read_rig
from companion.show import read_show
from companion.stage import Next, PositionKind, Surroundings, at_start, make_book, step
from companion.view import KEYS, text_lines, view

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
MANUAL = "\n".join((README, *map(page, TOPICS)))
pytestmark = pytest.mark.usefixtures("reads_here")

BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
TO_RUN_IT = "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/companion demo"
TO_TEST_IT = "python3 -m venv .venv && .venv/bin/pip install -q -e '.[test]' && .venv/bin/python tests/check.py"
MAKES_A_VENV = "python3 -m venv"

STAYS_ON_STAGE = ("play", "demo", "prepare")
"""These run until they are ended: here they are only parsed; tests/real and tests/pages start them."""

ASKS_A_FOOT = ("pedals", "soundcheck")
"""These wait for a real pedal to be pressed."""


FAULTY = "shows/hurry.yaml"
"""The one example that is wrong on purpose, for what is said about it."""


def blocks(language: str) -> list[str]:
    return [text for known, text in BLOCK.findall(MANUAL) if known == language]


def commands() -> Iterator[tuple[str, str]]:
    """Yield each command of README and guide with the lines it should print, and an empty text if none are shown."""
    for text in blocks("console"):
        command, *_ = lines = text.splitlines()
        starts = [number for number, line in enumerate(lines) if line.startswith("$ ")]
        assert command.startswith("$ "), f"a console block begins with a command, not {command!r}"
        for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
            yield lines[start].removeprefix("$ "), "\n".join(lines[start + 1 : end]).strip()
    for text in blocks("sh"):
        yield from ((line, "") for line in text.splitlines())


def of_the_program() -> list[tuple[list[str], str]]:
    """Return the arguments of each command of our own, and what it prints; .ci/run tries those that make the venv."""
    found = [(shlex.split(line), printed) for line, printed in commands() if not line.startswith(MAKES_A_VENV)]
    assert all(words[0] == "companion" for words, _printed in found)
    return [(words[1:], printed) for words, printed in found]


def runs_by_itself(words: list[str]) -> bool:
    asks_a_foot = words[0] in (*STAYS_ON_STAGE, *ASKS_A_FOOT) or "--map" in words
    return not asks_a_foot or "--help" in words or "--show" in words


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A folder as after cloning, with the README's own show beside the others."""
    for name in ("shows", "config"):
        shutil.copytree(ROOT / name, tmp_path / name)
    # The demo's engagement is always three weeks ahead here: a plan needs days.
    demo = tmp_path / "shows/pier-street.yaml"
    ahead = (dt.date.today() + dt.timedelta(days=21)).isoformat()  # noqa: DTZ011 - the player's own day
    demo.write_text(demo.read_text(encoding="utf-8").replace("2027-06-19", ahead), encoding="utf-8")
    first = next(text for text in blocks("yaml") if text.startswith("show: My first show"))
    (tmp_path / "shows/first-show.yaml").write_text(first, encoding="utf-8")
    (in_a_hurry,) = blocks("yml")
    (tmp_path / FAULTY).write_text(in_a_hurry, encoding="utf-8")
    return tmp_path


class Ran(NamedTuple):
    """What a command printed, and its exit code."""

    returncode: int
    stdout: str
    stderr: str


@pytest.fixture
def run(place: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Callable[[list[str]], Ran]:
    """Run a command in that folder, in this process: tests/commands and tests/real start the program itself."""
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(name, str(place / "home"))
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    monkeypatch.setattr("sys.stdin", io.StringIO())
    monkeypatch.chdir(place)

    def ran(words: list[str]) -> Ran:
        code = main(words)
        return Ran(code, *capsys.readouterr())

    return ran


@pytest.mark.parametrize(
    ("words", "printed"),
    [pytest.param(*one, id=" ".join(one[0])) for one in of_the_program() if runs_by_itself(one[0])],
)
def test_every_command_that_needs_no_stage_runs_and_prints_what_the_manual_says(
    words: list[str], printed: str, run: Callable[[list[str]], Ran]
) -> None:
    done = run(words)
    assert done.returncode == (1 if FAULTY in words else 0), done.stderr
    if printed:
        assert tidy(done.stdout + done.stderr) == tidy(printed)


def test_the_samples_of_a_list_and_its_questions_are_what_the_commands_print(
    run: Callable[[list[str]], Ran], monkeypatch: pytest.MonkeyPatch
) -> None:
    sample = next(text for text in blocks("txt") if text.startswith("page 1"))
    shown = [" ".join(line.split()) for line in sample.partition("Wed 25 Nov")[0].splitlines() if line]
    monkeypatch.setenv("COLUMNS", "200")
    imported = run(["import", "shows/set-list.pdf", "--into", "shows/corn-exchange.yaml", "--yes"]).stdout
    message = run(["questions", "shows/corn-exchange.yaml"]).stdout
    printed = {" ".join(line.split()) for line in (imported + message).splitlines()}
    assert [line for line in shown if line not in printed] == []
    assert len(shown) == 9


def tidy(text: str) -> list[str]:
    return [line.rstrip() for line in text.strip().splitlines()]


@pytest.mark.parametrize("words", [pytest.param(one[0], id=" ".join(one[0])) for one in of_the_program()])
def test_every_command_in_the_manual_parses(words: list[str], place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(place)
    name, *more = words
    if name.startswith("-"):
        return
    command = group.companion.commands[name]
    if "--help" not in more:
        command.make_context(name, list(more))


def test_the_readmes_two_commands_stand_there_letter_for_letter() -> None:
    found = [line for line, _printed in commands() if line.startswith(MAKES_A_VENV)]
    assert found == [TO_RUN_IT, TO_TEST_IT]


def named_commands() -> set[str]:
    section = page("commands")
    return set(re.findall(r"^\| `companion (\w+)", section, re.MULTILINE))


def test_the_guide_lists_exactly_the_existing_commands() -> None:
    assert named_commands() == set(group.companion.commands)


def test_every_option_of_every_command_is_in_the_guide() -> None:
    section = page("commands")
    for name, command in group.companion.commands.items():
        rows = "\n".join(row for row in section.splitlines() if row.startswith(f"| `companion {name}"))
        for parameter in command.params:
            if isinstance(parameter, click.Option) and not parameter.hidden:
                option = max(parameter.opts, key=len)
                assert f"{option}" in rows, f"companion {name} {option}"


@pytest.mark.parametrize("text", [pytest.param(text, id=text.splitlines()[0]) for text in blocks("yaml")])
def test_every_file_in_the_manual_reads_without_a_fault(text: str, tmp_path: Path) -> None:
    path = tmp_path / "example.yaml"
    path.write_text(text, encoding="utf-8")
    read = read_rig(path) if text.startswith("rig:") else read_show(path)
    assert read.warnings == ()


def screens() -> dict[str, str]:
    """Return the text screen of each song's moments in the demo on the two-tier rig; of two alike, the first."""
    show = read_show(ROOT / "shows/pier-street.yaml").show
    book, _missed = make_book(show, read_rig(ROOT / "config/two-tiers.yaml").rig)
    state = at_start(book)
    found: dict[str, str] = {}
    while state.place.where is not PositionKind.END:
        if state.song and state.section:
            moment = "up next" if state.place.where is PositionKind.UP_NEXT else state.section.section.name
            found.setdefault(f"{state.song.song.title}, {moment}", "\n".join(text_lines(view(state, Surroundings()))))
        state, _effects = step(state, Next(0))
    return found


def test_every_screen_in_the_manual_is_what_the_demo_shows_there() -> None:
    pictures = re.findall(r"^<!-- screen: ([^\n]*) -->\n```text\n(.*?)^```$", MANUAL, re.MULTILINE | re.DOTALL)
    assert len(pictures) == len(blocks("text")) > 0
    shown = screens()
    for moment, picture in pictures:
        assert picture.splitlines() == shown[moment].splitlines(), moment


def test_the_guide_lists_every_key_that_changes_what_is_seen() -> None:
    section = page("stage")
    assert dict(re.findall(r"^\| `(.)` \| (.*?) \|$", section, re.MULTILINE)) == dict(KEYS)


def test_the_guide_lists_every_action_with_the_keys_that_it_has_without_a_rig_file() -> None:
    section = page("stage")
    told = {
        word: keys.split(", ")
        for word, keys in re.findall(r"^\| ([a-z ]+) \| ([a-z0-9 ,]+) \| ", section, re.MULTILINE)
    }
    told.pop("the word")
    told = {word: [key for key in keys if key != "pedal only"] for word, keys in told.items()}
    have: dict[str, list[str]] = {}
    for pedal in read_rig(BUILT_IN).rig.pedals:
        have.setdefault(pedal.press.value, []).append(str(pedal.key))
    for key, action in NIGHT_KEYS.items():
        have.setdefault(action.value, []).append(key)
    assert told == {action.value: have.get(action.value, []) for action in Action if action is not Action.NOTHING}


def test_the_guide_lists_every_sign_of_a_chord_line() -> None:
    section = page("chords").partition("| written | means |")[2].partition("\n\n")[0].replace("\\|", "¦")
    told = [(example, meaning) for example, meaning in re.findall(r"^\| `(.*?)` \| (.*?) \|$", section, re.MULTILINE)]
    assert told == [(sign.example.replace("|", "¦"), sign.meaning.replace("|", "¦")) for sign in SIGNS]


def test_the_manual_names_no_command_that_does_not_exist() -> None:
    assert set(re.findall(r"companion (\w+)", "\n".join(re.findall(r"`([^`\n]+)`", MANUAL)))) <= set(
        group.companion.commands
    )


def test_every_file_linked_from_the_readme_exists() -> None:
    links = re.findall(r"\]\((?!https?:|#)([^)#]+)", README)
    assert links
    for link in links:
        assert (ROOT / link).exists(), link


def test_each_topic_is_a_page_with_a_heading_of_its_own() -> None:
    files = {path.stem for path in (ROOT / "companion/guide").glob("*.md")}
    assert files == set(TOPICS)
    assert len({title(topic) for topic in TOPICS}) == len(TOPICS)
    assert all(page(topic).startswith("# ") for topic in TOPICS)


def test_the_guide_lists_its_topics_and_prints_a_page(run: Callable[[list[str]], Ran]) -> None:
    listed = run(["guide"]).stdout
    assert all(f"companion guide {topic}" in listed for topic in TOPICS)
    assert run(["guide", "stage"]).stdout == page("stage")


def test_a_topic_that_does_not_exist_is_a_usage_error_that_names_the_topics(run: Callable[[list[str]], Ran]) -> None:
    refused = run(["guide", "drums"])
    assert refused.returncode == 2
    assert "stage" in refused.stderr
