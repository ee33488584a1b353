"""Songs called on the night: learned like the rest, and put into the songbook."""

from pathlib import Path

import pytest
from debrief.test_debrief import debrief_of, every, live
from debrief.test_debrief import show as show  # noqa: PLC0414  the fixture

from companion.cli import main
from companion.debrief.lessons import CalledLearned, lesson_words, lessons_of
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
    assert (str(known.song.key), known.song.sounds, known.song.length_s) == (
        "Bb",
        (SoundCall("organ", "upper"),),
        300,
    )
    assert debrief_of(show).learned.called == (), "what is in the songbook is not offered again"


def test_the_songbook_command_offers_a_song_called_on_the_night_with_the_others(show: Path) -> None:
    request = PutIn(at_ms=200_000, song=Song("Birthday Waltz", key=read_key("Bb")))
    live(show, *every(16, Next, Next, Next, Next), request, *every(300, Next, Next, Next)[1:])
    assert main(["songbook", str(show), "--yes"]) == 0
    found = known_songs(show, ["Birthday Waltz", "Paper Oars"], None)
    assert len(found) == 2


def test_a_note_prints_only_what_it_noted(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    live(show, *every(16, Next, Next, Next, Next))
    assert main(["debrief", str(show), "--note", "paper oars", "watch the bass"]) == 0
    printed = capsys.readouterr()
    assert (printed.out + printed.err).splitlines() == ["Noted for Paper Oars"]
