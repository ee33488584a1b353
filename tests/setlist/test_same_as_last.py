"""Messages that only say what changes in the last list, applied to the last show."""

from pathlib import Path

import pytest

from companion.errors import FaultyFile
from companion.music import read_key
from companion.setlist import import_list
from companion.setlist.list_reading import changes_in
from companion.setlist.model import SetList
from companion.setlist.revising.differences import Differs
from companion.setlist.revising.same_as_last import changed_list
from companion.show import Set, Show, Song, read_show

STOP = "Stop, Look, Lasagne=Dm"
LAST = f"Moth=G; Weeds=C; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=D"


def show() -> Show:
    sets = []
    for name, songs in zip(("First", "Second", "Encore"), LAST.split(" | "), strict=True):
        pairs = [song.partition("=") for song in songs.split("; ")]
        sets.append(Set(name, songs=tuple(Song(title, key=read_key(key) if key else None) for title, _, key in pairs)))
    return Show("The Lantern", sets=tuple(sets))


def said(found: SetList) -> str:
    return " | ".join(
        "; ".join(f"{song.title}={song.key}" if song.key else song.title for song in one.songs)
        for one in found.show.sets
    )


def changed(message: str) -> SetList:
    return changed_list(changes_in(message.encode(), "message.txt"), show())


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("drop Weeds", f"Moth=G; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=D"),
        ("without Weeds and Rye", f"Moth=G; {STOP} | Tidal=E; Fog Signal=Am | Kelp=D"),
        ("no Kelp", f"Moth=G; Weeds=C; {STOP} | Tidal=E; Fog Signal=Am; Rye"),
        ("Stop, Look, Lasagne is out, Moth in A", "Moth=A; Weeds=C | Tidal=E; Fog Signal=Am; Rye | Kelp=D"),
        ("moth in a minor", f"Moth=Am; Weeds=C; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=D"),
        ("Kelp up a tone", f"Moth=G; Weeds=C; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=E"),
        ("Kelp down a half step", f"Moth=G; Weeds=C; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=Db"),
        ("swap Moth and Fog Signal", f"Fog Signal=Am; Weeds=C; {STOP} | Tidal=E; Moth=G; Rye | Kelp=D"),
        (
            "swap Moth for Copper Kettle (Bb)",
            f"Copper Kettle=Bb; Weeds=C; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=D",
        ),
        (
            "Paper Hats in F instead of Weeds",
            f"Moth=G; Paper Hats=F; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=D",
        ),
        (
            "move Moth to the end of set 2",
            f"Weeds=C; {STOP} | Tidal=E; Fog Signal=Am; Rye; Moth=G | Kelp=D",
        ),
        ("Rye goes before Weeds", f"Moth=G; Rye; Weeds=C; {STOP} | Tidal=E; Fog Signal=Am | Kelp=D"),
        ("start with Tidal", f"Tidal=E; Moth=G; Weeds=C; {STOP} | Fog Signal=Am; Rye | Kelp=D"),
        ("Weeds as an encore", f"Moth=G; {STOP} | Tidal=E; Fog Signal=Am; Rye | Kelp=D; Weeds=C"),
        (
            "add Copper Kettle (Bb) after Tidal, and Paper Hats in G as opener",
            f"Paper Hats=G; Moth=G; Weeds=C; {STOP} | Tidal=E; Copper Kettle=Bb; Fog Signal=Am; Rye | Kelp=D",
        ),
    ],
)
def test_each_change_is_made(words: str, expected: str) -> None:
    found = changed(f"Hi Jo, same as last time but {words}.\nCheers, Lou")
    assert said(found) == expected
    assert not found.left


def test_a_new_song_without_a_place_goes_to_the_last_set_before_the_encore_and_is_asked_about() -> None:
    found = changed("Same list as last month plus Copper Kettle (Bb)")
    assert said(found).split(" | ")[1] == "Tidal=E; Fog Signal=Am; Rye; Copper Kettle=Bb"
    (doubt,) = (doubt for line in found.lines for doubt in line.doubts)
    assert doubt.question == "Is 'Copper Kettle' the last song of Second?"


def test_a_key_moved_by_a_step_is_asked_about() -> None:
    (doubt,) = (doubt for line in changed("as last time, but Kelp up a tone").lines for doubt in line.doubts)
    assert (doubt.question, doubt.song) == ("Is 'Kelp' in E?", 7)


def test_what_is_not_understood_is_kept_and_shown() -> None:
    found = changed("Same as last time but drop Weeds. The horns stand left of the keys.\nMoth goes blue")
    assert [line.text for line in found.left] == [
        "Same as last time but drop Weeds. The horns stand left of the keys.",
        "Moth goes blue",
    ]
    assert [str(doubt) for line in found.lines for doubt in line.doubts] == [
        "not understood, kept in the notes: The horns stand left of the keys",
        "not understood, kept in the notes: Moth goes blue",
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Set 1\nMoth - G\nWeeds - C\nSet 2\nTidal - E\nsame as last time otherwise",
        "Same as last time, but here it is again:\n1. Moth\n2. Weeds\n3. Tidal\n4. Rye\n5. Kelp",
        "Moth - G\nWeeds - C\nSame Again - E",
    ],
)
def test_a_message_with_a_list_of_its_own_is_read_as_a_list(text: str) -> None:
    assert changes_in(text.encode(), "message.txt") == ()


SHOW = """show: The Lantern
sets:
  - set: First
    songs:
      - {title: Moth, key: G, sound: piano}   # opener
      - {title: Weeds, key: C}
      - {title: Tidal, key: E}
"""


def test_the_import_into_the_last_show_changes_only_what_the_message_says(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text(SHOW)
    (tmp_path / "message.txt").write_text("Same as last time but no Weeds, Moth in A please.")
    imported = import_list(tmp_path / "message.txt", tmp_path / "show.yaml")
    assert [(one.differs, one.title) for one in imported.differences] == [
        (Differs.KEY, "Moth"),
        (Differs.DROPPED, "Weeds"),
    ]
    after = (tmp_path / "show.yaml").read_text()
    assert "- {title: Moth, key: A, sound: piano}   # opener" in after
    assert [song.title for song in read_show(tmp_path / "show.yaml").show.sets[0].songs] == ["Moth", "Tidal"]


def test_without_a_last_show_it_is_refused_with_what_to_do(tmp_path: Path) -> None:
    (tmp_path / "message.txt").write_text("Same as last time but no Weeds")
    with pytest.raises(FaultyFile, match="--into"):
        import_list(tmp_path / "message.txt", tmp_path / "new.yaml")


def test_a_message_that_never_ends_is_read_in_bounded_steps() -> None:
    words = "same as last time but " + "drop Moth and " * 2_000
    assert len(changed_list(changes_in(words[:19_000].encode(), "m.txt"), show()).lines) <= 1
