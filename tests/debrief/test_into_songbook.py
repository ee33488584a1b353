"""Put a show's songs into the songbook: what moves, what stays, which band a version is for; no song changes."""

import shutil
from pathlib import Path

import pytest

from companion.cli import main
from companion.debrief.into_songbook import KeptFor, offer, put_in, write
from companion.edits import take_back, undo_of
from companion.errors import CompanionError
from companion.setlist.known_songs import known_songs
from companion.show import Song, read_show

SHOWS = Path(__file__).parents[2] / "shows"
SHOW = """\
show: Boathouse supper   # the small hall
band: The Paper Nine
songs:
  # sung by the drummer
  - title: Lanterns Out   # hers
    key: Bb
    tempo: 120
    known: 4
    chart: no
    road_map: |
      Intro 4 *riff | C | F
      Verse 16   (half-time, then in)
    segue: Paper Oars
  - Paper Oars
  - title: Moth
    key: D
    sound: organ
"""
BOOK = """\
# my songs
lanterns-out:
  title: lanterns out
  key: C   # as recorded
  known: 1
"""


OF_THE_NINE = """\
lanterns-out@paper-nine:
  use: songbook.yaml#lanterns-out
  key: Bb
  road_map: |-
    Intro 4 *riff | C | F
"""


@pytest.fixture
def show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    (tmp_path / "boathouse.yaml").write_text(SHOW, encoding="utf-8")
    return tmp_path / "boathouse.yaml"


def songs(show: Path) -> list[Song]:
    return [song for one in read_show(show).show.sets for song in one.songs]


def all_kept(show: Path, kept: KeptFor) -> str:
    """Put every song in, and return the songbook's text."""
    book = show.with_name("songbook.yaml")
    offered = offer(show, book)
    write(put_in(offered, dict.fromkeys((one.name for one in offered.offers), kept)))
    return book.read_text(encoding="utf-8")


def test_new_songs_move_with_their_lines_and_comments_and_the_show_uses_them(show: Path) -> None:
    before = songs(show)
    assert (
        all_kept(show, KeptFor.BAND)
        == """\
# Songs written once, and used by several shows.

lanterns-out:
  title: Lanterns Out   # hers
  key: Bb
  tempo: 120
  known: 4
  chart: no
  road_map: |
    Intro 4 *riff | C | F
    Verse 16   (half-time, then in)

paper-oars:
  Paper Oars

moth:
  title: Moth
  key: D
  sound: organ
"""
    )
    assert (
        show.read_text(encoding="utf-8")
        == """\
show: Boathouse supper   # the small hall
band: The Paper Nine
songs:
  # sung by the drummer
  - use: songbook.yaml#lanterns-out
    segue: Paper Oars
  - use: songbook.yaml#paper-oars
  - use: songbook.yaml#moth
"""
    )
    assert songs(show) == before


@pytest.mark.parametrize(
    ("kept", "book", "use"),
    [
        (
            KeptFor.BAND,
            OF_THE_NINE,
            "  - title: Lanterns Out   # hers\n    use: songbook.yaml#lanterns-out@paper-nine\n    segue",
        ),
        (KeptFor.EVERYONE, "  key: Bb  # as recorded\n", "    use: songbook.yaml#lanterns-out\n    segue"),
        (
            KeptFor.SHOW,
            "  key: C   # as recorded\n",
            "    use: songbook.yaml#lanterns-out\n    key: Bb\n    road_map: |",
        ),
    ],
)
def test_if_versions_differ_the_player_says_which_band_the_shows_version_is_for(
    show: Path, kept: KeptFor, book: str, use: str
) -> None:
    show.with_name("songbook.yaml").write_text(BOOK, encoding="utf-8")
    before = songs(show)
    offered = offer(show, show.with_name("songbook.yaml"))
    assert offered.offers[0].differs == ("key", "road_map")  # its letters go with its key
    assert offered.offers[0].words == ("key Bb, not C", "road_map")
    assert set(offered.offers[0].adds) == {"tempo", "known", "chart"}
    after = all_kept(show, kept)
    assert book in after
    assert after.startswith("# my songs\n")
    assert "  known: 4\n" in after  # what is about the player is newer, not other
    assert use in show.read_text(encoding="utf-8")
    assert songs(show) == before
    assert offer(show, show.with_name("songbook.yaml")).offers == () or kept is KeptFor.SHOW


def test_the_next_gig_with_this_band_finds_its_own_version(show: Path) -> None:
    show.with_name("songbook.yaml").write_text(BOOK, encoding="utf-8")
    all_kept(show, KeptFor.BAND)
    next_show = show.with_name("next.yaml")
    for band, key in (("The Paper Nine", "Bb"), ("Nobody's Trio", "C"), (None, "C")):
        found = known_songs(next_show, ["LANTERNS OUT", "Paper Oars"], band)
        assert str(found["LANTERNS OUT"].song.key) == key
        assert found["Paper Oars"].use == "songbook.yaml#paper-oars"


def test_the_demo_goes_into_its_songbook_and_no_song_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    shutil.copytree(SHOWS, tmp_path / "shows")
    show = tmp_path / "shows" / "pier-street.yaml"
    before = songs(show)
    all_kept(show, KeptFor.BAND)
    assert songs(show) == before
    assert offer(show, show.with_name("songbook.yaml")).offers == ()


def test_both_files_can_be_undone(show: Path) -> None:
    all_kept(show, KeptFor.BAND)
    found = undo_of(show)
    assert found is not None
    take_back(found)
    assert show.read_text(encoding="utf-8") == SHOW


def test_letters_of_another_key_are_other_chords(show: Path) -> None:
    show.with_name("songbook.yaml").write_text(BOOK + "  road_map: |\n    Intro 4 *riff | C | F\n", encoding="utf-8")
    assert offer(show, show.with_name("songbook.yaml")).offers[0].differs == ("key", "road_map")


def test_a_songbook_outside_the_shows_folder_is_refused(tmp_path: Path) -> None:
    other = tmp_path / "a" / "show.yaml"
    other.parent.mkdir()
    other.write_text(SHOW, encoding="utf-8")
    with pytest.raises(CompanionError, match="is not in the show's folder"):
        offer(other, tmp_path / "songbook.yaml")


@pytest.mark.parametrize(
    ("keys", "put"), [("yny", ["Lanterns Out", "Moth"]), ("na", ["Paper Oars", "Moth"]), ("q", [])]
)
def test_each_song_is_chosen_with_one_key(
    show: Path, monkeypatch: pytest.MonkeyPatch, keys: str, put: list[str]
) -> None:
    pressed = iter(keys)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: next(pressed))
    assert main(["songbook", str(show)]) == 0
    text = show.read_text(encoding="utf-8")
    titles = {"Lanterns Out": "lanterns-out", "Paper Oars": "paper-oars", "Moth": "moth"}
    assert [title for title, slug in titles.items() if f"#{slug}" in text] == put


def test_one_key_says_which_band_a_version_is_for(show: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show.with_name("songbook.yaml").write_text(BOOK, encoding="utf-8")
    pressed = iter("xybnn")
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: next(pressed))
    assert main(["songbook", str(show)]) == 0
    assert "lanterns-out@paper-nine" in show.read_text(encoding="utf-8")


def test_a_song_may_still_be_left_at_the_question_for_whom_it_is(show: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show.with_name("songbook.yaml").write_text(BOOK, encoding="utf-8")
    pressed = iter("yqnnn")  # q is no key of that question
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: next(pressed))
    before = show.read_text(encoding="utf-8")
    assert main(["songbook", str(show)]) == 0
    assert next(pressed, None) is None
    assert show.read_text(encoding="utf-8") == before


def test_a_script_names_songs_and_their_band(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["songbook", str(show), "--only", "moth", "--keep", "show", "--yes"]) == 0
    assert "1 of 3 songs put into" in capsys.readouterr().out
    assert main(["songbook", str(show), "--only", "Lamp"]) == 2
    assert (
        "has no song called lamp to put into the songbook. It has: Lanterns Out, Paper Oars" in capsys.readouterr().err
    )


def test_a_key_for_everyone_marks_the_songbooks_notes_that_name_the_old_one(tmp_path: Path) -> None:
    book, show = tmp_path / "songbook.yaml", tmp_path / "supper.yaml"
    book.write_text("moth: {title: Moth, key: C, notes: up to D}\n", encoding="utf-8")
    show.write_text("show: Supper\nsongs:\n  - {use: songbook.yaml#moth, key: A}\n", encoding="utf-8")
    offered = offer(show, book)
    write(put_in(offered, {one.name: KeptFor.EVERYONE for one in offered.offers}))
    assert "up to D (written in C)" in book.read_text(encoding="utf-8")
    (song,) = read_show(show).show.sets[0].songs
    assert (str(song.key), song.notes) == ("A", "up to D (written in C)")
