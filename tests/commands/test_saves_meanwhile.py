"""An editor saves while a command waits for y or n; its save is never lost."""

import sys
from collections.abc import Callable
from pathlib import Path

import click
import pytest

from companion.cli import main
from companion.debrief import learned as learned_room
from companion.debrief import night_report as debrief_room
from companion.debrief.night_report import Debrief, Learned, LengthLearned
from companion.edits import commit
from companion.planning import known_offers
from companion.practice_log.records import LogKind, read_records
from companion.setlist import accepting, import_list
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

SHOW = """\
show: Pier Street   # the poster's
sets:
  - set: First
    songs:
      - title: Gasworks Corner   # good one
        key: Bb
        known: 1
      - title: Moth
        key: C
      - Weeds
"""


@pytest.fixture
def show(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(SHOW)
    return tmp_path / "pier.yaml"


@pytest.fixture
def waits(show: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., list[str]]:
    """Answer for the player; another program saves before the first answer."""

    def waiting(before: str, after: str, answers: tuple[bool, ...] = (True,)) -> list[str]:
        asked: list[str] = []

        def confirm(question: str, **_options: object) -> bool:
            if not asked:
                text = show.read_text()
                assert before in text
                show.write_text(text.replace(before, after))
            asked.append(question)
            return answers[min(len(asked), len(answers)) - 1]

        monkeypatch.setattr(click, "confirm", confirm)
        monkeypatch.setattr(click, "prompt", lambda words, **_options: "yes" if confirm(words) else "no")
        monkeypatch.setattr(click, "getchar", lambda: "y" if confirm("a lesson") else "n")
        monkeypatch.setattr(sys.stdin, "isatty", lambda: True, raising=False)
        return asked

    return waiting


class Terminal:
    """Standard input at a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture(autouse=True)
def at_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal())


def imported(show: Path, text: str) -> int:
    (show.parent / "list.txt").write_text(text)
    return main(["import", str(show.parent / "list.txt"), "--into", str(show)])


SECOND = "Set 1\n1. Moth - D\n2. Gasworks Corner - Bb\n3. Weeds\n"


def test_an_import_keeps_what_was_saved_while_it_asked(show: Path, waits: Callable[..., list[str]]) -> None:
    asked = waits("      - Weeds\n", "      - title: Weeds   # mine\n        notes: loud\n")
    assert imported(show, SECOND) == 0
    songs = read_show(show).show.sets[0].songs
    assert [(song.title, str(song.key), song.notes) for song in songs] == [
        ("Moth", "D", None),
        ("Gasworks Corner", "Bb", None),
        ("Weeds", "None", "loud"),
    ]
    assert "# mine" in show.read_text()
    assert len(asked) == 1


def test_an_import_asks_again_if_the_result_would_differ(
    show: Path, waits: Callable[..., list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    asked = waits("key: C", "key: Eb", (True, False))
    assert imported(show, SECOND) == 0
    assert show.read_text() == SHOW.replace("key: C", "key: Eb")
    assert len(asked) == 2
    assert "Moth (Eb → D)" in capsys.readouterr().out


def test_answers_keep_what_was_saved_while_they_asked(show: Path, waits: Callable[..., list[str]]) -> None:
    waits("key: C", "key: C   # sure\n        tempo: 96")
    (show.parent / "reply.txt").write_text("Gasworks Corner: A\n")
    assert main(["questions", str(show), "--answers", str(show.parent / "reply.txt")]) == 0
    assert show.read_text() == SHOW.replace("key: Bb", "key: A").replace("key: C", "key: C   # sure\n        tempo: 96")


@pytest.mark.parametrize("takes", [True, False])
def test_a_value_changed_by_the_reply_and_the_editor_is_asked_about(
    show: Path, waits: Callable[..., list[str]], *, takes: bool
) -> None:
    asked = waits("key: Bb", "key: Eb", (True, takes))
    (show.parent / "reply.txt").write_text("Gasworks Corner: A\n")
    assert main(["questions", str(show), "--answers", str(show.parent / "reply.txt")]) == 0
    assert "was Bb, is now Eb in the file, and would become A" in asked[1]
    assert show.read_text() == SHOW.replace("key: Bb", "key: A" if takes else "key: Eb")


NIGHT = Debrief(
    "Pier Street", "-", ended=True, steps=0, songs=(), changes=(), taken_back=(), around=(), not_played=(),
    learned=Learned(
        (LengthLearned("Moth", 1, None, 200, 1),),
        (),
        ((("Weeds", 1), ("Gasworks Corner", 1), ("Moth", 1)),),
    ),
)  # fmt: skip


def test_a_debrief_keeps_what_was_saved_while_it_asked(
    show: Path, waits: Callable[..., list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(debrief_room, "debrief", lambda *_: NIGHT)
    waits("key: Bb", "key: Bb   # sure\n        tempo: 96")
    assert main(["debrief", str(show), "--write"]) == 0
    songs = read_show(show).show.sets[0].songs
    assert [(song.title, song.length_s, song.tempo_bpm) for song in songs] == [
        ("Weeds", None, None),
        ("Gasworks Corner", None, 96),
        ("Moth", 200, None),
    ]
    assert "# sure" in show.read_text()


def test_a_debrief_whose_order_was_changed_meanwhile_writes_nothing(
    show: Path, waits: Callable[..., list[str]], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(debrief_room, "debrief", lambda *_: NIGHT)
    waits("      - Weeds\n", "      - Jam Jar\n      - Weeds\n")
    assert main(["debrief", str(show), "--write"]) == 1
    assert show.read_text() == SHOW.replace("      - Weeds\n", "      - Jam Jar\n      - Weeds\n")
    assert "its order too" in capsys.readouterr().err
    assert learned_room


def test_known_keeps_what_was_saved_while_it_asked(
    show: Path, waits: Callable[..., list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    moth = read_show(show).show.sets[0].songs[1]
    monkeypatch.setattr(known_offers, "known_offers", lambda *_: ((moth, None, 2),))
    waits("key: C", "key: C   # sure")
    assert main(["plan", str(show), "--known"]) == 0
    assert show.read_text() == SHOW.replace("key: C", "key: C   # sure\n        known: 2")
    assert [record.did for record in read_records(show).kept] == [LogKind.KNOWN]


def test_songs_dropped_twice_by_a_killed_import_are_in_the_songbook_once(
    show: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even if the step were run again, songs already in the songbook would not be added twice."""
    (show.parent / "list.txt").write_text("Set 1\n1. Gasworks Corner - Bb\n")
    written: list[str] = []

    def only_the_songbook(changes: list[object], *_more: object, **_named: object) -> None:
        commit(changes[:-1], "killed")  # type: ignore[arg-type]
        written.append("songbook")
        raise KeyboardInterrupt

    monkeypatch.setattr(accepting, "commit", only_the_songbook)
    with pytest.raises(KeyboardInterrupt):
        import_list(show.parent / "list.txt", show)
    monkeypatch.setattr(accepting, "commit", commit)
    once = (show.parent / "pier.dropped.yaml").read_text()
    assert once.count("title: Moth") == 1
    import_list(show.parent / "list.txt", show)
    assert (show.parent / "pier.dropped.yaml").read_text() == once
    assert [song.title for song in read_show(show).show.sets[0].songs] == ["Gasworks Corner"]
