"""Two versions of a list: differences are listed by weight, and each can be accepted or rejected."""

import itertools
import random
from pathlib import Path

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.music import read_key
from companion.setlist import Imported, LineKind, ListLine, RevisionChoice, SetList, SourceLine, import_list
from companion.setlist.list_reading import list_in
from companion.setlist.revising.diff import revise
from companion.setlist.revising.song_merge import is_better_spelling
from companion.show import Set, Show, Song, read_show

pytestmark = pytest.mark.usefixtures("reads_here")

FIRST = """Set 1
1. Gasworks Corner - Bb
2. Kettle on the Jetty - Gm
3. Harbour Lamps - C
4. Moth - D
Set 2
1. Weeds - Em
2. Fog Signal - G
3. Cafe Morgenrot - A
Encore
1. The Long Allotment - F
"""
PAIRS = [  # what changes in the list, and what is reported, by hand
    ("2. Kettle on the Jetty - Gm", "2. Kettle on the Jetty - Am", ["key: Kettle on the Jetty (Gm → Am)"]),
    ("4. Moth - D\n", "", ["dropped: Moth (First 4)"]),
    ("4. Moth - D\n", "4. Moth - D\n5. Owl - C\n", ["new: Owl (First 5, C)"]),
    ("4. Moth - D\n", "4. Moth - key tbc\n", ["key open: Moth (the list leaves it open; D stays)"]),
    ("4. Moth - D\n", "4. Moth\n", []),
    ("2. Fog Signal", "2. FOG SIGNAL", []),
    ("Cafe Morgenrot", "Café Morgenrot", ["spelling: Café Morgenrot (was Cafe Morgenrot)"]),
    (
        "Set 2\n1. Weeds - Em\n2. Fog Signal - G\n",
        "Set 2\n1. Fog Signal - G\n2. Weeds - Em\n",
        ["moved: Weeds (Second 1 → Second 2)"],
    ),
    (
        "4. Moth - D\nSet 2\n",
        "Set 2\n1. Moth - D\n",
        ["moved: Moth (First 4 → Second 1)"],
    ),
    ("Encore\n", "Set 3\n1. Owl - C\nEncore\n", ["new: Owl (Third 1, C)", "new set: Third (1 song)"]),
    (
        "Encore\n1. The Long Allotment - F\n",
        "Set 3\n1. Owl - C\n",
        [
            "dropped: The Long Allotment (Encore 1)",
            "new: Owl (Third 1, C)",
            "new set: Third (1 song)",
            "set gone: Encore (its songs are dropped)",
        ],
    ),
    ("Set 2\n", "Dinner set\n", ["set renamed: Dinner set (was Second)"]),
    ("3. Harbour Lamps - C", "3. Harbour Lamps - C - drums start", ["note: Harbour Lamps (+ drums start)"]),
    ("1. Weeds - Em", "1. The Weeds - Em", []),
    (
        "Kettle on the Jetty",
        "Kettle on a Jetty",
        ["renamed: Kettle on a Jetty (was Kettle on the Jetty, almost the same title)"],
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), PAIRS)
def test_only_differences_are_reported(old: str, new: str, told: list[str]) -> None:
    assert old in FIRST
    show = list_in(FIRST.encode(), "list.txt").show
    revised = revise(show, list_in(FIRST.replace(old, new).encode(), "list.txt"))
    assert [str(one) for one in revised.differences] == told


@pytest.mark.parametrize(("old", "new", "told"), [pair for pair in PAIRS if pair[2]])
def test_rejected_differences_leave_the_show_unchanged(old: str, new: str, told: list[str]) -> None:
    show = list_in(FIRST.encode(), "list.txt").show
    listed = list_in(FIRST.replace(old, new).encode(), "list.txt")
    names = frozenset(one.name for one in revise(show, listed).differences if one.is_choice)
    left = revise(show, listed, choice=RevisionChoice(names))
    assert left.show == show
    assert all(not one.is_choice for one in left.differences)
    assert told


def test_a_set_with_few_songs_of_another_does_not_take_its_place() -> None:
    show = list_in(b"Set 1\n1. Moth\n2. Owl\nEncore\n1. Jay\n2. Wren\n3. Rook\n", "list.txt").show
    late = b"Set 1\n1. Moth\n2. Owl\nLate set\n1. Jay\n2. Lark\n3. Teal\n4. Swan\n"
    told = [str(one) for one in revise(show, list_in(late, "list.txt")).differences]
    assert "new set: Late set (4 songs)" in told
    assert "set gone: Encore (its songs go on in Late set)" in told


def test_a_song_in_its_old_place_has_not_moved() -> None:
    show = list_in(b"Set 1\n1. Moth\n2. Owl\n3. Jay\n", "list.txt").show
    revised = revise(show, list_in(b"Set 1\n1. Jay\n2. Owl\n3. Moth\n", "list.txt"))
    assert [str(one) for one in revised.differences] == [
        "moved: Jay (First 3 → First 1)",
        "moved: Moth (First 1 → First 3)",
    ]


SHOW = """show: Pier Street
sets:
  - set: First
    starts: "20:00"
    songs:
      - title: Gasworks Corner
        key: Bb
        sound: tonewheel organ
      - Kettle on the Jetty
  # the late one
  - set: Second
    starts: "21:30"   # sharp
    minutes: 45
    songs:
      - title: Moth
        known: 4
      - Weeds
"""


def brought(tmp_path: Path, text: str, *choices: RevisionChoice) -> tuple[Imported, str]:
    show = tmp_path / "pier.yaml"
    if not show.exists():
        show.write_text(SHOW)
    (tmp_path / "list.txt").write_text(text)
    wanted = iter(choices)
    imported = import_list(
        tmp_path / "list.txt", show, choose=lambda _imported, choice: next(wanted, choice), agree=lambda _: True
    )
    assert read_show(show).show == imported.show
    return imported, show.read_text()


def test_a_set_under_another_name_keeps_its_start_minutes_and_comments(tmp_path: Path) -> None:
    imported, text = brought(
        tmp_path, "Set 1\n1. Gasworks Corner\n2. Kettle on the Jetty\nDinner set\n1. Moth\n2. Weeds\n"
    )
    assert [(one.name, one.starts_min, one.minutes) for one in imported.show.sets] == [
        ("First", 1200, None),
        ("Dinner set", 1290, 45),
    ]
    assert "# sharp" in text
    assert "# the late one" in text


def test_a_removed_set_is_reported_with_its_values_and_its_songs_new_places(tmp_path: Path) -> None:
    imported, text = brought(tmp_path, "1. Gasworks Corner\n2. Kettle on the Jetty\n3. Moth\n4. Weeds\n")
    (gone,) = [str(one) for one in imported.differences if one.differs.value == "set gone"]
    assert gone == "set gone: Second (started 21:30, 45 minutes, its songs go on in First)"
    assert "# the late one" in text


TIMED = "Set 1 (20:00, 40 min)\n1. Gasworks Corner\n2. Kettle on the Jetty\nSet 2 (22:15, 45 min)\n1. Moth\n2. Weeds\n"


def test_other_times_of_a_set_are_differences_of_their_own(tmp_path: Path) -> None:
    imported, text = brought(tmp_path, TIMED)
    told = {str(one): one.is_left_at_first for one in imported.differences if one.group == "sets"}
    assert told == {
        "set starts: Second (21:30 → 22:15)": True,  # the show has its own: only the player changes it
        "set length: First (none → 40 minutes)": False,
    }
    assert [(one.starts_min, one.minutes) for one in imported.show.sets] == [(1200, 40), (1335, 45)]
    assert "22:15" in text


def test_times_that_are_left_stay_in_the_show(tmp_path: Path) -> None:
    left = RevisionChoice(frozenset({"set starts:1", "set length:0"}))
    imported, text = brought(tmp_path, TIMED, left)
    assert [(one.starts_min, one.minutes) for one in imported.show.sets] == [(1200, None), (1290, 45)]
    assert text == SHOW


def test_what_a_list_says_of_the_band_the_venue_and_the_day_is_told_and_can_be_left() -> None:
    said = "Band: The Plums\nVenue: Mill Hall\nDate: 12 December 2026\n\n1. Moth\n2. Weeds\n3. Owl\n"
    show = list_in(b"1. Moth\n2. Weeds\n3. Owl\n", "list.txt").show
    listed = list_in(said.encode(), "list.txt")
    revised = revise(show, listed)
    assert {one.says for one in revised.differences if one.differs.value == "show"} == {
        "band none → The Plums",
        "venue none → Mill Hall",
        "date none → Sat 12 Dec 2026",
    }
    left = revise(show, listed, choice=RevisionChoice(frozenset({"show:band", "show:venue", "show:date"}))).show
    assert (left.band, left.venue, left.date) == (None, None, None)


def test_a_renamed_song_can_be_another_song(tmp_path: Path) -> None:
    text = SHOW.replace("Kettle on the Jetty", "Harbour Lamps at Night")
    (tmp_path / "pier.yaml").write_text(text)
    listed = "Set 1\n1. Gasworks Corner\n2. Harbour Lamps by Night\nSet 2\n1. Moth\n2. Weeds\n"
    apart = RevisionChoice(apart=frozenset({("Harbour Lamps at Night", "Harbour Lamps by Night")}))
    imported, _ = brought(tmp_path, listed, apart)
    assert [str(one) for one in imported.differences] == [
        "dropped: Harbour Lamps at Night (First 2)",
        "new: Harbour Lamps by Night (First 2, no key)",
    ]


def test_rejecting_a_drop_keeps_the_song_and_its_work_in_place(tmp_path: Path) -> None:
    listed = "Set 1\n1. Gasworks Corner\n2. Kettle on the Jetty\nSet 2\n1. Weeds\n2. Owl\n"
    imported, text = brought(tmp_path, listed, RevisionChoice(frozenset({"dropped:2"})))
    assert [song.title for song in imported.show.sets[1].songs] == ["Moth", "Weeds", "Owl"]
    assert "known: 4" in text
    assert imported.dropped_to is None


def test_a_song_whose_move_is_rejected_stays_in_its_set() -> None:
    show = list_in(b"Set 1\n1. Owl\n2. Jay\n3. Moth\n4. Wren\nSet 2\n1. Weeds\n", "list.txt").show
    listed = list_in(b"Set 1\n1. Owl\n2. Wren\nSet 2\n1. Weeds\n2. Jay\n", "list.txt")
    left = revise(show, listed, choice=RevisionChoice(frozenset({"dropped:2"})))
    assert titles(left.show) == [["Owl", "Moth", "Wren"], ["Weeds", "Jay"]]


def test_songs_known_to_a_songbook_are_used_from_it(tmp_path: Path) -> None:
    (tmp_path / "songbook.yaml").write_text("owl:\n  title: Owl\n  key: C\n  sound: tonewheel organ\n")
    listed = "Set 1\n1. Gasworks Corner\n2. Kettle on the Jetty\nSet 2\n1. Moth\n2. Weeds\n3. owl (D)\n"
    imported, text = brought(tmp_path, listed)
    assert "use: songbook.yaml#owl" in text
    owl = imported.show.sets[1].songs[2]
    assert (owl.title, str(owl.key), owl.sounds[0].sound) == ("Owl", "D", "tonewheel organ")
    assert "new: Owl (Second 3, D, from songbook.yaml)" in [str(one) for one in imported.differences]


def test_a_new_show_uses_what_a_songbook_knows(tmp_path: Path) -> None:
    (tmp_path / "songbook.yaml").write_text("owl:\n  title: Owl\n  key: C\n  sound: tonewheel organ\n")
    (tmp_path / "list.txt").write_text("Set 1\n1. Moth (G)\n2. Owl (D)\n3. Weeds\n")
    imported = import_list(tmp_path / "list.txt", tmp_path / "new.yaml")
    assert "use: songbook.yaml#owl" in (tmp_path / "new.yaml").read_text()
    songs = read_show(tmp_path / "new.yaml").show.sets[0].songs
    assert songs == imported.show.sets[0].songs
    assert [(song.title, str(song.key), len(song.sounds)) for song in songs] == [
        ("Moth", "G", 0),
        ("Owl", "D", 1),
        ("Weeds", "None", 0),
    ]


@pytest.mark.parametrize(
    ("new", "old", "is_better"),
    [
        ("Café Morgenrot", "Cafe Morgenrot", True),
        ("Gasworks Corner", "GASWORKS CORNER", True),
        ("Gasworks Corner", "gasworks corner", True),
        ("GASWORKS CORNER", "Gasworks Corner", False),
        ("gasworks corner", "GASWORKS CORNER", False),
        ("Dont Wake", "Don't Wake", False),
        ("Don't Wake", "Dont Wake", True),
        ("Moth!", "Moth", False),
        ("Moth", "Owl", False),
    ],
)
def test_a_better_spelling_is_offered(new: str, old: str, *, is_better: bool) -> None:
    assert is_better_spelling(new, old) is is_better


TITLES = [
    "Gasworks Corner",
    "Kettle on the Jetty",
    "Harbour Lamps",
    "Moth",
    "Weeds",
    "Fog Signal",
    "Owl",
    "Ferry Landing",
]


@st.composite
def versions(draw: st.DrawFn) -> SetList:
    """Draw a list: some of the titles in any order, in one to three sets, some with a key."""
    titles = draw(st.lists(st.sampled_from(TITLES), min_size=1, unique=True))
    keys = draw(st.lists(st.sampled_from([None, "C", "Bb", "F#m"]), min_size=len(titles), max_size=len(titles)))
    cuts = sorted(draw(st.lists(st.integers(0, len(titles)), max_size=2)))
    names = draw(st.permutations(["First", "Second", "Encore"]))
    songs = [Song(title, key=read_key(key) if key else None) for title, key in zip(titles, keys, strict=True)]
    parts = [songs[begin:end] for begin, end in itertools.pairwise([0, *cuts, len(songs)])]
    sets = tuple(Set(name, songs=tuple(part)) for name, part in zip(names, parts, strict=False) if part)
    heading = ListLine(SourceLine(1), "Set 1", LineKind.SET)
    return SetList(Show("Pier Street", sets=sets), (heading,))


@settings(max_examples=examples(80), deadline=None)
@given(versions(), versions())
def test_accepting_everything_gives_the_list_and_rejecting_everything_the_show(old: SetList, new: SetList) -> None:
    whole = revise(old.show, new)
    assert titles(whole.show) == titles(new.show)
    names = frozenset(one.name for one in whole.differences if one.is_choice)
    left = revise(old.show, new, choice=RevisionChoice(names))
    assert {one.name: titles_of(one) for one in left.show.sets} == {one.name: titles_of(one) for one in old.show.sets}
    assert {song.title: song.key for song in songs_of(left.show)} == {
        song.title: song.key for song in songs_of(old.show)
    }


@settings(max_examples=examples(80), deadline=None)
@given(versions(), versions(), st.randoms(use_true_random=False))
def test_any_choice_of_differences_loses_and_duplicates_no_song(
    old: SetList, new: SetList, dice: random.Random
) -> None:
    whole = revise(old.show, new)
    names = frozenset(one.name for one in whole.differences if one.is_choice and dice.random() < 0.5)
    some = revise(old.show, new, choice=RevisionChoice(names))
    found = [song.title for song in songs_of(some.show)]
    assert len(found) == len(set(found))
    dropped = {old.show.sets[at].songs[index].title for at, index in some.dropped}
    assert set(found) | dropped >= {song.title for song in songs_of(old.show)}
    assert not dropped & set(found)
    told = {one.name for one in some.differences}
    assert not told & names


def songs_of(show: Show) -> list[Song]:
    return [song for one in show.sets for song in one.songs]


def titles_of(one: Set) -> list[str]:
    return [song.title for song in one.songs]


def titles(show: Show) -> list[list[str]]:
    return [titles_of(one) for one in show.sets]
