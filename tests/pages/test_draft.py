"""A change that is still being typed: read as it would be on disk, written nowhere."""

from pathlib import Path

import pytest
from pages.visiting import SHOW, Site

from companion.edits import SetValue, SongNamed
from companion.errors import CompanionError, FaultyFile
from companion.pages.draft import drafted

TRAM = SongNamed("Tram Home")


def test_a_draft_reads_as_the_show_would_and_nothing_is_written(tmp_path: Path) -> None:
    site = Site(tmp_path)
    assert site.workplace.desk is not None
    stack = site.workplace.desk.look()
    draft = drafted(stack, [SetValue((TRAM, "tempo"), 96), SetValue((TRAM, "title"), "Tram Back")])
    one = draft.song(TRAM)
    assert (one.song.title, one.song.tempo_bpm, one.set_at, one.song_at) == ("Tram Back", 96, 0, 0)
    assert draft.show.sets[0].songs[0] is one.song
    assert one.mark == stack.songs[0].mark
    assert site.text == SHOW
    assert drafted(stack, []) is stack


@pytest.mark.parametrize(
    ("edit", "words"),
    [(SetValue((TRAM, "key"), "H"), "key"), (SetValue((SongNamed("Gone"), "key"), "C"), "is gone")],
)
def test_a_draft_that_cannot_be_read_is_refused(tmp_path: Path, edit: SetValue, words: str) -> None:
    site = Site(tmp_path)
    assert site.workplace.desk is not None
    with pytest.raises((CompanionError, FaultyFile), match=words):
        drafted(site.workplace.desk.look(), [edit])
