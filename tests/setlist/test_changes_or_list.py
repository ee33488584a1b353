"""A message beside a show with many more songs: it changes them, or it is a whole list; where unsure, it is asked.

The messages are written by hand, as band leaders write them. Common practice, no source.
"""

import io
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from companion.setlist import Differs, DoubtAnswer, Imported, LineKind, import_list
from companion.setlist.list_file import ListFile
from companion.setlist.list_questions import DoubtQuestion
from companion.setlist.revising.changes_or_list import CHANGES_OR_LIST

pytestmark = pytest.mark.usefixtures("reads_here")

TITLES = (
    ("First", "19:45", "Tin Roof Waltz|Pepper Lane|Cold Radiator|Salt Parade|Gasworks Corner|Umbrella Hour"),
    ("Second", "21:15", "Moth on a Wire|Kettle Drum Jane|Low Tide Letters|Paper Crown|Slow Ferry|Turnip Moon"),
    ("Third", "22:30", "Hotel Corridor|Nine Lost Gloves|Rusty Spoon|Velvet Brick|Weekday Saints|Zinc Bar"),
)
KEYS = {"Pepper Lane": "C", "Slow Ferry": "Em"}


@pytest.fixture
def show(tmp_path: Path) -> Path:
    lines = ["show: Harbour Night", "sets:"]
    for name, starts, titles in TITLES:
        lines += [f"  - set: {name}", f"    starts: {starts}", "    songs:"]
        for title in titles.split("|"):
            lines.append(f"      - {{title: {title}, key: {KEYS.get(title, 'G')}}}")
    path = tmp_path / "show.yaml"
    path.write_text("\n".join(lines) + "\n")
    return path


class Asked:
    """Answers the first question, and takes the rest as read."""

    def __init__(self, word: str = "") -> None:
        self.word = word
        self.questions: list[str] = []

    def __call__(self, question: DoubtQuestion) -> DoubtAnswer:
        self.questions.append(question.doubt.question)
        return next((one for one in question.doubt.answers if one.word == self.word), DoubtAnswer(""))


def imported(show: Path, message: str, asked: Asked | None = None) -> Imported:
    return import_list("message.txt", show, raw=message.encode(), folder=show.parent, ask=asked, agree=lambda _: False)


def differs(found: Imported) -> list[tuple[str, str]]:
    return [(one.differs.value, one.title) for one in found.differences]


MESSAGE = """Hello all, UPDATED after a call with the hall, ignore the old one
Dinner runs late so: first set 8.20 till 9.10, second set 10pm, third set 11 to 11.45
Drop Zinc Bar and Salt Parade.
Add Lantern in the Loft (Gm) after Paper Crown
Pepper Lane in D now not C
Rest the same. See you Friday!! M"""


def test_a_message_that_changes_songs_keys_and_times_changes_just_these(show: Path) -> None:
    found = imported(show, MESSAGE, asked := Asked())
    assert CHANGES_OR_LIST not in asked.questions
    assert differs(found) == [
        ("key", "Pepper Lane"),
        ("dropped", "Salt Parade"),
        ("dropped", "Zinc Bar"),
        ("new", "Lantern in the Loft"),
        ("set starts", "First"),
        ("set starts", "Second"),
        ("set starts", "Third"),
        ("set length", "First"),
        ("set length", "Third"),
    ]
    assert [(one.starts_min, one.minutes) for one in found.show.sets] == [(1220, 50), (1320, None), (1380, 45)]
    assert [line.text.split(",")[0] for line in found.listed.left] == [
        "Hello all",
        "Dinner runs late so: first set 8.20 till 9.10",
    ]


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("Pepper Lane in D now not C", "D"),
        ("Pepper Lane now in D, not C", "D"),
        ("Pepper Lane is now D, was C", "D"),
        ("Pepper Lane from C to D", "D"),
        ("change Pepper Lane to D", "D"),
        ("Pepper Lane: Dm instead of C", "Dm"),
    ],
)
def test_a_key_that_replaces_another_is_taken(show: Path, words: str, key: str) -> None:
    found = imported(show, f"Drop Zinc Bar\n{words}\nAdd Lantern in the Loft (Gm) after Paper Crown")
    assert [(one.title, one.after) for one in found.differences if one.differs is Differs.KEY] == [("Pepper Lane", key)]
    assert not found.listed.left


@pytest.mark.parametrize(
    ("words", "starts", "minutes"),
    [
        ("first set 8pm", 1200, None),
        ("first set now 8 till 8.50", 1200, 50),
        ("the first set starts at 8", 1200, None),
        ("set 1 moved to 20.15", 1215, None),
        ("set one 8-9pm", 1200, 60),
        ("1st set at 7", 1140, None),
    ],
)
def test_new_times_of_a_set_are_taken_in_the_evening(show: Path, words: str, starts: int, minutes: int | None) -> None:
    found = imported(show, f"Drop Zinc Bar. {words}")
    assert (found.show.sets[0].starts_min, found.show.sets[0].minutes) == (starts, minutes)
    assert not found.listed.left


UNSURE = [
    "UPDATED\nblack shirts now\nhorns stand left\nDrop Zinc Bar",
    "Rest the same\nCopper Hill\nWet Paint Tango\nDrop Zinc Bar",
    "Set 2\nDrop Paper Crown\nSet 3\nadd Copper Hill (A) after Rusty Spoon",
    "Copper Hill (A)\nWet Paint Tango (G)",
    "Pepper Lane - D",
    "Pepper Lane - D\nSlow Ferry",
    "Keys you were missing:\nTurnip Moon Em\nPaper Crown F\nSlow Ferry A\nZinc Bar C",
    "UPDATE\nFirst set now 8.30\nBuffet at 9.15\nSecond set 10.00\nThird set 11.00 to midnight\nCarriages 12.30\nMoth",
]


@pytest.mark.parametrize("message", UNSURE)
def test_where_it_is_unsure_that_is_asked_first_and_nothing_drops_most_of_the_show(show: Path, message: str) -> None:
    found = imported(show, message, asked := Asked())
    dropped = sum(one.differs is Differs.DROPPED for one in found.differences)
    assert dropped <= 3
    assert len(found.show.sets) == 3
    assert asked.questions[0] == CHANGES_OR_LIST


@pytest.mark.parametrize(
    ("message", "expected"),
    [
        ("Set 1: drop Salt Parade\nSet 3: lose Zinc Bar", [("dropped", "Salt Parade"), ("dropped", "Zinc Bar")]),
        ("can we lose Zinc Bar\nthanks\nM", [("dropped", "Zinc Bar")]),
        ("Instead of Zinc Bar we're doing Copper Hill (D)", [("dropped", "Zinc Bar"), ("new", "Copper Hill")]),
        ("Everything as before except Pepper Lane which is now in D", [("key", "Pepper Lane")]),
        ("Drop Zinc Bar. second set at 9.30 not 9.15", [("dropped", "Zinc Bar"), ("set starts", "Second")]),
    ],
)
def test_changes_in_a_leaders_own_words_are_made(show: Path, message: str, expected: list[tuple[str, str]]) -> None:
    assert differs(imported(show, message, Asked())) == expected


def test_numbered_changes_are_no_list(show: Path) -> None:
    lines = ("Drop Zinc Bar", "lose Rusty Spoon", "Copper Hill", "add Wet Paint (G) after Slow Ferry", "no Turnip Moon")
    message = "\n".join(f"{number}. {line}" for number, line in enumerate(lines, start=1))
    assert differs(imported(show, message)) == [
        ("dropped", "Turnip Moon"),
        ("dropped", "Rusty Spoon"),
        ("dropped", "Zinc Bar"),
        ("new", "Wet Paint"),
    ]


@pytest.mark.parametrize("message", UNSURE[:1] + UNSURE[4:5])
def test_the_answer_that_it_is_the_whole_list_reads_it_so(show: Path, message: str) -> None:
    found = imported(show, message, asked := Asked("no"))
    assert asked.questions[0] == CHANGES_OR_LIST
    assert sum(one.differs is Differs.DROPPED for one in found.differences) > 12


def test_nobody_asked_means_that_it_changes_the_list_and_the_doubt_is_told(show: Path) -> None:
    found = imported(show, "Copper Hill (A)\nWet Paint Tango (G)")
    assert not found.differences or not [one for one in found.differences if one.differs is Differs.DROPPED]
    assert found.listed.doubts[0].question == CHANGES_OR_LIST


@pytest.mark.parametrize(
    "message",
    [
        "Updated list!\nSet 1\nPepper Lane - D\nSlow Ferry\nMoth on a Wire\nCopper Hill (A)\nSet 2\nZinc Bar",
        "Pepper Lane in D\nSlow Ferry\nMoth on a Wire\nCopper Hill (A)\nZinc Bar\nRusty Spoon\nTurnip Moon",
    ],
)
def test_a_shorter_list_with_songs_of_its_own_is_a_whole_list(show: Path, message: str) -> None:
    found = imported(show, message, asked := Asked())
    assert CHANGES_OR_LIST not in asked.questions
    assert sum(one.differs is Differs.DROPPED for one in found.differences) > 9


def test_a_picture_with_words_of_change_in_its_bytes_is_no_message() -> None:
    words, out = PngImagePlugin.PngInfo(), io.BytesIO()
    words.add_text("Comment", "drop last")
    Image.new("1", (8, 8), 1).save(out, "png", pnginfo=words)
    assert b"drop last" in out.getvalue()
    assert ListFile("list.png", out.getvalue()).changes() == ()


@pytest.mark.parametrize(
    ("message", "changed"),
    [
        ("Jo has lost her voice: Pepper Lane in A tonight, Slow Ferry in Dm", ["Pepper Lane", "Slow Ferry"]),
        ("hi, Pepper Lane in Bb tonight sorry", ["Pepper Lane"]),
        ("hey Zinc Bar up to A", ["Zinc Bar"]),
        ("Zinc Bar down to F pls", ["Zinc Bar"]),
        ("Zinc Bar in F please\nand Slow Ferry in Dm, thanks", ["Slow Ferry", "Zinc Bar"]),
    ],
)
def test_a_message_about_keys_changes_just_these_and_asks_nothing(show: Path, message: str, changed: list[str]) -> None:
    found = imported(show, message, asked := Asked())
    assert sorted(differs(found)) == [("key", title) for title in changed]
    assert asked.questions == []


@pytest.mark.parametrize(
    "message",
    [
        "hi, Pepper Lane in F tonight sorry, Carys again",
        "Pepper Lane in F tonight, Carys has a cold",
        "Pepper Lane: F tonight (Carys)",
        "Pepper Lane in F please because the horns are out",
        "Pepper Lane down to F. See you at 6",
    ],
)
def test_a_reason_behind_a_key_keeps_it_from_nothing(show: Path, message: str) -> None:
    assert differs(imported(show, message)) == [("key", "Pepper Lane")]


def test_a_reason_that_names_a_key_leaves_its_line_to_the_player(show: Path) -> None:
    assert ("key", "Pepper Lane") not in differs(imported(show, "Pepper Lane in F tonight, G at the late show"))


@pytest.mark.parametrize("message", ["Can we do Pepper Lane in F tonight?", "could you play Pepper Lane in F please?"])
def test_a_key_that_is_asked_for_is_asked_about(show: Path, message: str) -> None:
    found = imported(show, message, asked := Asked())
    assert asked.questions == ["Is 'Pepper Lane' in F?"]
    assert differs(found) == [("key", "Pepper Lane")]
    assert differs(imported(show, message, Asked("no"))) == []


@pytest.mark.parametrize("message", ["Zinc Bar in F tonight, Jo has a cold", "Zinc Bar (F) if that works, she said"])
def test_a_line_about_one_song_never_drops_the_others_of_a_short_show_unasked(tmp_path: Path, message: str) -> None:
    path = tmp_path / "show.yaml"
    path.write_text("show: Harbour Night\nsongs:\n  - Pepper Lane\n  - Zinc Bar\n  - Slow Ferry\n")
    found = imported(path, message, asked := Asked())
    assert "dropped" not in [kind for kind, _ in differs(found)]
    assert asked.questions[:1] in ([CHANGES_OR_LIST], [])


def test_a_message_about_keys_of_many_songs_asks_whether_it_is_the_whole_list(show: Path) -> None:
    titles = TITLES[0][2].split("|")
    found = imported(show, "\n".join(f"{title} in A" for title in titles), asked := Asked())
    assert asked.questions == [CHANGES_OR_LIST]
    assert differs(found) == [("key", title) for title in titles]


def test_a_message_about_keys_never_replaces_a_short_show_without_a_question(tmp_path: Path) -> None:
    path = tmp_path / "show.yaml"
    path.write_text(
        "show: Harbour Night\nsongs:\n  - {title: Pepper Lane, key: C}\n  - Zinc Bar\n  - Slow Ferry\n  - Moth\n"
    )
    found = imported(path, "Jo has lost her voice: Pepper Lane in A tonight, Zinc Bar in G", asked := Asked())
    assert asked.questions == [CHANGES_OR_LIST]
    assert differs(found) == [("key", "Pepper Lane"), ("key", "Zinc Bar")]


def test_what_a_taken_message_says_besides_goes_into_the_notes_alone(show: Path) -> None:
    found = imported(show, "Jo has lost her voice: Pepper Lane in A tonight, Slow Ferry in Dm")
    assert [line.took for line in found.listed.lines] == [LineKind.CHANGE]
    assert found.show.notes == "Jo has lost her voice"


def test_two_keys_keep_the_file_with_its_comments_and_its_maps_of_one_line(show: Path) -> None:
    map_in = "Intro 4, Verse 8, Chorus 8 in A hits 1, 2&, Outro 4"
    text = show.read_text().replace(
        "{title: Pepper Lane, key: C}", f"title: Pepper Lane  # Jo begins\n        road_map: {map_in}\n        key: G"
    )
    show.write_text(text)
    message = b"Pepper Lane in F tonight, Slow Ferry in Dm"
    import_list("message.txt", show, raw=message, folder=show.parent, agree=lambda _: True)
    moved = text.replace("key: G\n", "key: F\n", 1).replace("8 in A", "8 in G").replace("key: Em", "key: Dm")
    assert show.read_text() == moved
