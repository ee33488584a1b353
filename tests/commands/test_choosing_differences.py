"""`companion import` of a new version: differences by weight, of which the player takes all, some or none."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from companion.cli import main
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

SHOW = """show: Pier Street
sets:
  - set: First
    songs:
      - {title: Gasworks Corner, key: Bb, length: "3:00"}
      - {title: Kettle on the Jetty, key: Gm}
      - {title: Moth, key: D}
"""
LIST = "Set 1\n1. Gasworks Corner - A - 3:40\n2. Kettle on a Jetty - Gm\n3. Owl - C\n"
Brought = Callable[..., tuple[list[str], str, list[str]]]


@pytest.fixture
def brought(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Brought:
    """Return a function that imports the list, types these words, and returns the songs, the output and the prompts."""
    (tmp_path / "list.txt").write_text(LIST)
    show = tmp_path / "pier.yaml"
    show.write_text(SHOW)

    def run(*words: str, options: tuple[str, ...] = (), terminal: bool = True) -> tuple[list[str], str, list[str]]:
        typed, prompts = iter(words), []

        def prompt(text: str, default: str = "", **_how: object) -> str:
            prompts.append(text)
            return next(typed) or default

        monkeypatch.setattr("sys.stdin.isatty", lambda: terminal)
        monkeypatch.setattr("click.prompt", prompt)
        assert main(["import", str(tmp_path / "list.txt"), "--into", str(show), *options]) == 0
        songs = [f"{song.title}: {song.key}" for one in read_show(show).show.sets for song in one.songs]
        return songs, capsys.readouterr().out, prompts

    return run


ALL = ["Gasworks Corner: A", "Kettle on a Jetty: Gm", "Owl: C"]
BEFORE = ["Gasworks Corner: Bb", "Kettle on the Jetty: Gm", "Moth: D"]


def test_differences_are_listed_by_weight_and_details_in_one_line(brought: Brought) -> None:
    songs, out, prompts = brought("")
    assert songs == ALL
    assert len(prompts) == 1
    told = out[out.index("keys (1)") :].splitlines()
    assert told[:9] == [
        "keys (1)",
        "  Gasworks Corner (Bb → A)",
        "dropped (1)",
        "  Moth (First 3)",
        "new (1)",
        "  Owl (First 3, C)",
        "renamed (1)",
        "  Kettle on a Jetty (was Kettle on the Jetty, almost the same title)",
        "details (1): lengths, tempos, artists, spelling of Gasworks Corner",
    ]
    assert "The songs left out are in" in out
    assert "pier.dropped.yaml" in out


def test_details_are_shown_on_request_and_nothing_is_written_without_a_yes(brought: Brought) -> None:
    songs, out, prompts = brought("details", "no")
    assert "changed: Gasworks Corner (length 3:00 → 3:40)" in out
    assert (songs, len(prompts)) == (BEFORE, 2)


def test_each_difference_can_be_taken_or_left(brought: Brought, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("click.confirm", lambda _question, **_how: True)
    songs, _, prompts = brought("some", "leave", "leave", "", "leave", "")
    assert songs == ["Gasworks Corner: Bb", "Kettle on the Jetty: Gm", "Moth: D", "Owl: C"]
    assert prompts[1] == "key: Gasworks Corner (Bb → A): take, leave, rest"


def test_enter_writes_what_was_taken_one_by_one(brought: Brought, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("click.confirm", lambda _question, default=False: default)
    songs, _, _ = brought("some", "", "", "", "", "")
    assert songs == ALL


def test_a_renamed_song_may_be_another_song(brought: Brought, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("click.confirm", lambda _question, **_how: True)
    songs, _, prompts = brought("some", "", "", "", "another", "", "", "")
    assert "another (it is another song)" in prompts[4]
    assert songs == ALL
    assert any("dropped: Kettle on the Jetty" in prompt for prompt in prompts[5:])


@pytest.mark.parametrize(
    ("groups", "songs"),
    [
        (("keys",), ["Gasworks Corner: Bb", "Kettle on a Jetty: Gm", "Owl: C"]),
        (("dropped", "new"), ["Gasworks Corner: A", "Kettle on a Jetty: Gm", "Moth: D"]),
        (("renamed",), ["Gasworks Corner: A", "Kettle on the Jetty: Gm", "Owl: C"]),
    ],
)
def test_a_script_leaves_whole_groups(brought: Brought, groups: tuple[str, ...], songs: list[str]) -> None:
    options = tuple(word for group in groups for word in ("--leave", group))
    assert brought(options=(*options, "--yes"), terminal=False)[0] == songs


def test_a_script_gets_the_differences_as_data(brought: Brought) -> None:
    _, out, _ = brought(options=("--yes", "--json"), terminal=False)
    found = json.loads(out)["differences"]
    assert found[0] == {
        "differs": "key",
        "group": "keys",
        "title": "Gasworks Corner",
        "says": "Bb → A",
        "from": "Bb",
        "to": "A",
    }


TIMES = [  # what is typed, the options, and when the first set starts then
    (("",), (), 1200),
    (("yes",), (), 1200),
    (("some", "", "", "", "", "", "", ""), (), 1200),
    (("some", "rest", ""), (), 1200),
    (("some", *["take"] * 6, ""), (), 1275),
    ((), ("--yes",), 1200),
]


@pytest.mark.parametrize(("words", "options", "starts_min"), TIMES)
def test_the_times_of_a_set_change_only_if_the_player_takes_them(
    tmp_path: Path,
    brought: Brought,
    words: tuple[str, ...],
    options: tuple[str, ...],
    starts_min: int,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("click.confirm", lambda *_a, **_how: True)
    (tmp_path / "list.txt").write_text(LIST.replace("Set 1\n", "Set 1 (21:15)\n"))
    (tmp_path / "pier.yaml").write_text(SHOW.replace("  - set: First\n", '  - set: First\n    starts: "20:00"\n'))
    songs, out, _ = brought(*words, options=options)
    assert songs == ALL
    assert read_show(tmp_path / "pier.yaml").show.sets[0].starts_min == starts_min
    assert words[:1] == ("some",) or "First: starts 21:15 (was 20:00)" in out
