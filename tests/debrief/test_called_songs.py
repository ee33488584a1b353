"""Songs called on the night: learned like the rest, and put into the songbook."""

from pathlib import Path

import pytest
from debrief.test_debrief import debrief_of, every, live
from debrief.test_debrief import show as show  # noqa: PLC0414  the fixture

from companion.cli import main
from companion.debrief.called_songs import in_no_file
from companion.debrief.lessons import CalledLearned, lesson_words, lessons_of, songs_called
from companion.music import read_key
from companion.setlist.known_songs import known_songs
from companion.show import Song, SoundCall
from companion.stage import Next, PutIn


def test_a_song_called_on_the_night_is_learned_and_goes_into_the_songbook_for_the_next_gig(show: Path) -> None:
    request = PutIn(
        at_ms=200_000, song=Song("Birthday Waltz", key=read_key("Bb"), sounds=(SoundCall("organ", "upper"),))
    )
    live(show, *every(16, Next, Next, Next, Next), request, *every(300, Next, Next, Next)[1:])
    lessons = lessons_of(debrief_of(show).learned)
    (called,) = [one for one in lessons if isinstance(one, CalledLearned)]
    assert lesson_words(called) == "Birthday Waltz: key Bb, organ, 5:00, for the songbook"
    before = show.read_text(encoding="utf-8")
    assert main(["debrief", str(show), "--take", str(lessons.index(called) + 1)]) == 0
    assert show.read_text(encoding="utf-8") == before
    (known,) = known_songs(show, ["birthday waltz"], None).values()
    assert (str(known.song.key), known.song.sounds, known.song.length_s) == ("Bb", (SoundCall("organ"),), 300)
    assert debrief_of(show).learned.called == (), "what is in the songbook is not offered again"


@pytest.mark.parametrize(
    ("of_show", "called", "kept"),
    [
        ("", "only", [None]),  # tonight's rig chose the word "only"; the next rig has no such keyboard
        ("    sound: {upper: choir}\n", "upper", ["upper"]),
        ("    road_map: 'Verse 8 @upper=choir'\n", "Upper", ["Upper"]),
        ("    sound: choir\n", "upper lower", ["upper", "lower"]),  # two sounds are told apart by these alone
    ],
)
def test_a_called_song_keeps_the_word_for_a_keyboard_only_where_the_files_use_it(
    tmp_path: Path, of_show: str, called: str, kept: list[str | None]
) -> None:
    show = tmp_path / "supper.yaml"
    show.write_text(f"show: Supper\nsongs:\n  - title: Paper Oars\n{of_show}", encoding="utf-8")
    song = Song("Birthday Waltz", sounds=tuple(SoundCall("organ", board) for board in called.split()))
    (found,) = in_no_file(show, [song])
    assert [(call.sound, call.keyboard) for call in found.sounds] == [("organ", board) for board in kept]


def test_the_songbook_command_offers_a_song_called_on_the_night_with_the_others(show: Path) -> None:
    request = PutIn(at_ms=200_000, song=Song("Birthday Waltz", key=read_key("Bb")))
    live(show, *every(16, Next, Next, Next, Next), request, *every(300, Next, Next, Next)[1:])
    assert main(["songbook", str(show), "--yes"]) == 0
    found = known_songs(show, ["Birthday Waltz", "Paper Oars"], None)
    assert len(found) == 2


def test_a_song_refused_in_the_debrief_is_not_offered_for_the_songbook_again(
    show: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    request = PutIn(at_ms=200_000, song=Song("Birthday Waltz", key=read_key("Bb")))
    live(show, *every(16, Next, Next, Next, Next), request, *every(300, Next, Next, Next)[1:])
    assert [one.title for one in songs_called(show)] == ["Birthday Waltz"]
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: "n")
    monkeypatch.setattr("click.prompt", lambda *_, **__: "")
    assert main(["debrief", str(show), "--write"]) == 0
    assert songs_called(show) == ()
    assert main(["songbook", str(show), "--yes"]) == 0
    assert not known_songs(show, ["Birthday Waltz"], None)
    assert main(["songbook", str(show), "--only", "Birthday Waltz", "--yes"]) == 0
    assert known_songs(show, ["Birthday Waltz"], None), "named, it goes there after all"


@pytest.mark.parametrize(("key", "is_in"), [("a", True), ("q", False)])
def test_one_key_in_the_songbook_answers_for_a_song_called_on_the_night_too(
    show: Path, monkeypatch: pytest.MonkeyPatch, key: str, *, is_in: bool
) -> None:
    request = PutIn(at_ms=200_000, song=Song("Birthday Waltz", key=read_key("Bb")))
    live(show, *every(16, Next, Next, Next, Next), request, *every(300, Next, Next, Next)[1:])
    pressed = iter(key)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: next(pressed))
    assert main(["songbook", str(show)]) == 0
    assert bool(known_songs(show, ["Birthday Waltz"], None)) == is_in


def test_a_note_prints_only_what_it_noted(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    live(show, *every(16, Next, Next, Next, Next))
    assert main(["debrief", str(show), "--note", "paper oars", "watch the bass"]) == 0
    printed = capsys.readouterr()
    assert (printed.out + printed.err).splitlines() == ["Noted for Paper Oars"]
