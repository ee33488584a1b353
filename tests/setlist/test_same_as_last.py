"""Messages that only say what changes in the last list, applied to the last show."""

from pathlib import Path

import msgspec
import pytest

from companion.errors import FaultyFile
from companion.music import read_key
from companion.setlist import import_list
from companion.setlist.correcting import corrected
from companion.setlist.list_reading import changes_in
from companion.setlist.model import SetList
from companion.setlist.revising.changes_or_list import MessageKind, kind_of
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
    assert only_changes(text) is None


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


UNSURE = (
    "Usual set. don't drop Moth",
    "Same as last time. Should we drop Moth?",
    "Same as last time. Nobody wants to drop Moth",
    "Same as last time. Do not drop Moth",
    "Same as last time, but never drop Weeds or Rye",
    "Same as last time. We can't lose Moth, swap Tidal and Rye",
    "Same as last time. Please don't cut Kelp and add Nimbus (G)",
    "Same as last time. DON'T DROP MOTH",
    "Same list as last week. There is no need to drop Weeds",
    "Usual set. No one said drop Moth, no Kelp",
    "Same as last time. Keep Moth in A",
    "Same as last time but maybe drop Rye",
    "Same as last time. If Jo is late, drop Kelp",
    "Same as last time but not Moth in A",
    "Same as last time but drop Weeds, Moth in A?",
    "Same as last time. Moth in A?",
    "Same as last time, Kelp up a tone?",
    "Same as last time. Who wants Moth in A, Weeds in D?",
    "Usual set. Swap Moth and Rye?",
    "Same as last time. Start with Tidal?",
    "Usual songs as before. Would it hurt to move Moth to the end of set 2",
    "Same as last time. Could you drop Moth and add Nimbus (Bb)?",
    "Same as last time. Shall we add Nimbus (Bb) after Rye?",
    "Same as last time. I wonder whether to lose Kelp",
    "Same as last time Jo wants Moth in A",
)
TALK = (
    "with Jo on bass",
    "with a longer break",
    "put the kettle on",
    "add nothing",
    "with two singers",
    "with lights from the house",
    "new strings for Moth",
    "a longer break instead of Rye",
    "add some lights",
    "plus a raffle before Rye",
    "also bring the small amplifier",
    "swap Moth for something faster",
    "include everyone in the photo",
    "move Moth before Moth",
    "swap Rye for Rye",
)
SAID = (
    ("no encore", "no encore"),
    ("start at 8", "start at 8"),
    ("new one: Nimbus", "new one: Nimbus"),
    ("Nimbus", "Nimbus"),
    ("black shirts", "black shirts"),
    ("Jo sings", "Jo sings"),
    ("doors 7 pm", "doors 7 pm"),
    ("thanks, no encore", "no encore"),
    ("We load in through the yard behind the house and then wait for Lou to call.", "wait for Lou to call"),
    ("no drummer", "no drummer"),
    ("hi hat broken", "hi hat broken"),
    ("bye bye drums", "bye bye drums"),
)


@pytest.mark.parametrize("message", [*UNSURE, *(f"Same as last time but {words}" for words in TALK)])
def test_what_is_asked_denied_or_only_talk_changes_nothing_and_is_kept(message: str) -> None:
    found = changed(message)
    assert said(found) == LAST
    assert found.left
    assert "not understood, kept in the notes" in str(found.lines[0].doubts[-1])


@pytest.mark.parametrize(("line", "kept"), SAID)
@pytest.mark.parametrize("message", ["Same as last time.\n{}", "Same as last time but drop Weeds. {}", "{}\nUsual set"])
def test_nothing_said_vanishes(message: str, line: str, kept: str) -> None:
    doubts = [str(doubt) for one in changed(message.format(line)).left for doubt in one.doubts]
    assert any(kept in doubt for doubt in doubts)


def test_the_lines_below_plus_are_kept() -> None:
    found = changed("Same as last time plus:\nNimbus\nCopper Kettle (Bb)")
    assert [line.text for line in found.left] == ["Same as last time plus:", "Nimbus", "Copper Kettle (Bb)"]


@pytest.mark.parametrize(
    "closing", ["Cheers\nLou", "Thanks, Lou", "Thank you so much\nLou Pim", "Best wishes,\nJo", "See you then", "Ta x"]
)
def test_a_signature_is_no_change_and_no_note(closing: str) -> None:
    found = changed(f"Hi Jo,\nsame as last time but drop Weeds.\n{closing}")
    assert said(found) == LAST.replace("Weeds=C; ", "")
    assert not found.left


@pytest.mark.parametrize("apart", [", ", ". ", "; ", "! ", "\t", ": "])
@pytest.mark.parametrize("opening", ["Same as last time", "Same set as last week", "Hi Jo, the usual set", "As usual"])
def test_a_change_behind_any_sign_is_made(opening: str, apart: str) -> None:
    message = apart.join((opening, "Moth in A", "drop Weeds"))
    if opening == "As usual":
        message = message.replace(opening, "Same as usual")
    found = changed(message)
    assert said(found) == LAST.replace("Moth=G; Weeds=C", "Moth=A")
    assert not found.left


@pytest.mark.parametrize(
    ("message", "expected"),
    [
        ("Moth in A, otherwise same as last time", LAST.replace("Moth=G", "Moth=A")),
        ("Same as last time at the Lantern, Moth in A", LAST.replace("Moth=G", "Moth=A")),
        ("Same as last time with these changes: drop Rye, Moth in A", "Moth=A" + LAST[6:].replace("; Rye", "")),
        ("Same as last time but add Don't Look Down (G) as an encore", f"{LAST}; Don't Look Down=G"),
        ("Same as last time but add Paper Hats after Rye", LAST.replace("Rye", "Rye; Paper Hats")),
        ("Same as last time but Paper Hats instead of Rye", LAST.replace("Rye", "Paper Hats")),
        ("Same as last time but not Rye", LAST.replace("; Rye", "")),
    ],
)
def test_a_change_wholly_understood_is_made_without_a_doubt(message: str, expected: str) -> None:
    found = changed(message)
    assert said(found) == expected
    assert not [doubt for line in found.lines for doubt in line.doubts]


@pytest.mark.parametrize(
    "words", ["plus Jo will sing", "add Nimbus", "add copper kettle after Rye", "include Wet Paint"]
)
def test_new_words_without_a_key_or_quotes_are_asked_about_and_no_takes_them_out(words: str) -> None:
    found = changed(f"Same as last time but {words}")
    (doubt,) = (doubt for line in found.lines for doubt in line.doubts if doubt.question)
    assert doubt.question.endswith(" a song?")
    assert said(corrected(found, [(doubt, doubt.answers[1])])) == LAST


def test_a_song_that_the_list_has_twice_is_in_doubt() -> None:
    twice = Show("The Lantern", sets=(Set("First", songs=(Song("Moth"), Song("Rye"), Song("Moth"))),))
    found = changed_list(changes_in(b"Same as last time but drop Moth", "m.txt"), twice)
    assert found.in_doubt


@pytest.mark.parametrize("words", ["\ue00099\ue001", "\ue0000\ue001 out", "drop \ue0000\ue001"])
def test_private_signs_in_a_message_stand_for_no_song(words: str) -> None:
    found = changed(f"Same as last time but {words}")
    assert said(found) == LAST
    assert found.left


def test_a_song_is_added_to_a_show_without_sets() -> None:
    found = changed_list(changes_in(b"same as last time but add Fog (G)", "m.txt"), Show("The Lantern"))
    assert said(found) == "Fog=G"


def test_the_end_of_a_very_long_line_is_kept() -> None:
    found = changed("Same as last time but drop Weeds. " + "We wait in the yard. " * 40 + "No encore")
    assert "No encore" in str(found.lines[0].doubts[-1])


def test_spaces_do_not_hold_up_the_reading() -> None:
    found = changed(f"Same as last time but add {' ' * 550}x")
    assert "  " not in str(found.lines[0].doubts[-1])


def test_a_message_that_never_ends_is_read_in_bounded_steps() -> None:
    words = "same as last time but " + "drop Moth and " * 2_000
    assert len(changed_list(changes_in(words[:19_000].encode(), "m.txt"), show()).lines) <= 1


def only_changes(message: str) -> SetList | None:
    lines = changes_in(message.encode(), "message.txt")
    return changed_list(lines, show()) if lines and kind_of(lines, show()) is MessageKind.CHANGES else None


@pytest.mark.parametrize(
    ("message", "expected"),
    [
        (
            "Drop Moth and Rye, Weeds in D, add Paper Hats (Ab) after Tidal",
            f"Weeds=D; {STOP} | Tidal=E; Paper Hats=Ab; Fog Signal=Am | Kelp=D",
        ),
        (
            """- out: Moth and Rye (Dan hates them)
- in: Paper Hats (Ab) after Tidal
- Weeds now in D not C
- Kelp is in G, Dan says
Everything else stays""",
            f"Weeds=D; {STOP} | Tidal=E; Paper Hats=Ab; Fog Signal=Am | Kelp=G",
        ),
        (
            "Drop Moth (too slow), add Paper Hats (Ab) after Tidal. Weeds now in D not C.",
            f"Weeds=D; {STOP} | Tidal=E; Paper Hats=Ab; Fog Signal=Am; Rye | Kelp=D",
        ),
        ("Please drop Moth.\nThanks, Jo", LAST.removeprefix("Moth=G; ")),
        ("Hi all,\nMoth is out - Jo hates it\nall the rest as it is", LAST.removeprefix("Moth=G; ")),
    ],
)
def test_a_message_that_only_says_what_changes_means_the_songs_of_the_show(message: str, expected: str) -> None:
    found = only_changes(message)
    assert found is not None
    assert said(found) == expected
    assert not found.left


@pytest.mark.parametrize(
    "message",
    [
        "Moth - G\nWeeds - D\nKelp - G",
        "Moth in A\nWeeds in D\nRye in G",
        "Moth\nWeeds\nPaper Hats (new!)\nadd strings on Kelp\nTidal\nRye",
        "Copper Kettle G\nPaper Hats Ab\nDrop Everything D\nTen Past\nNimbus\nMove Along F",
        "1 Moth\n2 Weeds\n3 Paper Hats instead of Rye\n4 Tidal",
    ],
)
def test_a_short_list_is_no_message_of_changes(message: str) -> None:
    assert only_changes(message) is None


@pytest.mark.parametrize(
    ("words", "starts"),
    [
        ("set 1 18:45, set 2 20:15", [1125, 1215, None]),
        ("new start times: first set 7.45, second set 9.15", [1185, 1275, None]),
        ("encore at 23:00", [1080, 1170, 1380]),
    ],
)
def test_a_message_moves_the_starts_of_sets(words: str, starts: list[int | None]) -> None:
    timed = msgspec.structs.replace(
        show(),
        sets=tuple(
            msgspec.structs.replace(one, starts_min=at) for one, at in zip(show().sets, (1080, 1170, None), strict=True)
        ),
    )
    lines = changes_in(f"Drop Moth. {words}".encode(), "m.txt")
    assert kind_of(lines, timed) is MessageKind.CHANGES
    found = changed_list(lines, timed)
    assert [one.starts_min for one in found.show.sets] == starts
    assert not found.left


def test_a_start_that_a_message_moves_is_taken_at_once(tmp_path: Path) -> None:
    path = tmp_path / "show.yaml"
    path.write_text("show: The Lantern\nsets:\n  - set: First\n    starts: 18:30\n    songs: [Moth, Weeds, Rye]\n")
    import_list("message.txt", path, raw=b"Drop Moth. Set 1 is now 18:45.", folder=tmp_path)
    first = read_show(path).show.sets[0]
    assert (first.starts_min, [song.title for song in first.songs]) == (18 * 60 + 45, ["Weeds", "Rye"])
