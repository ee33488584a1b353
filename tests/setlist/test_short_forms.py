"""Short headings, tempos behind @, remarks in brackets, sets side by side, and lines that are no songs."""

import pytest

from companion.setlist import SetList
from companion.setlist.list_reading import list_in
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text
from companion.show import Song

FIRST = "Postbox Tango - Bb\nNine Wet Umbrellas - Gm\nHarbour Lamps - C"
SECOND = "Slow Ferry - D\nTram Home - F"


def read(text: str) -> SetList:
    return take_in(pages_of_text(text, "list.txt"), "List")


def songs(found: SetList) -> list[Song]:
    return [song for one in found.show.sets for song in one.songs]


def doubted(found: SetList) -> bool:
    return any(line.doubts for line in found.lines)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("1st", "2nd"),
        ("S1", "S2"),
        ("s1:", "s2:"),
        ("I", "II"),
        ("I.", "II."),
        ("First", "Second"),
        ("Set 1", "2nd"),
        ("so the first set is", "then the second set"),
        ("ok here's the first half:", "and for the second half:"),
        ("EARLY SHOW 6pm", "LATE SHOW 9pm"),
    ],
)
@pytest.mark.parametrize("keyed", [True, False])
def test_short_headings_separate_the_sets(first: str, second: str, *, keyed: bool) -> None:
    above, below = FIRST, SECOND
    if not keyed:
        above, below = ("\n".join(line.split(" - ")[0] for line in text.split("\n")) for text in (FIRST, SECOND))
    found = read(f"{first}\n{above}\n{second}\n{below}")
    assert [len(one.songs) for one in found.show.sets] == [3, 2]


@pytest.mark.parametrize("heading", ["2nd", "S2", "II"])
def test_a_lone_short_heading_separates_sets_with_a_doubt(heading: str) -> None:
    found = read(f"{FIRST}\n{heading}\n{SECOND}")
    assert [len(one.songs) for one in found.show.sets] == [3, 2]
    assert doubted(found)


@pytest.mark.parametrize("form", ["{} @ {}", "{} @{}", "- {} @ {}", "({}) @ {}", "{} ♩={}"])
def test_a_key_before_a_tempo_is_the_key(form: str) -> None:
    keys = (("Postbox Tango", "Dm", 92), ("Harbour Lamps", "G", 120), ("Moth", "A", 104), ("Tram Home", "Bb", 88))
    found = songs(read("\n".join(f"{title} {form.format(key, tempo)}" for title, key, tempo in keys)))
    assert [(song.title, str(song.key), song.tempo_bpm) for song in found] == list(keys)


@pytest.mark.parametrize(
    ("bracket", "key", "notes"),
    [
        ("same as record", None, "same as record"),
        ("as on the album", None, "as on the album"),
        ("E now, a tone down", "E", "now; a tone down"),
        ("F instead", "F", "instead"),
    ],
)
def test_remarks_in_brackets_are_notes(bracket: str, key: str | None, notes: str) -> None:
    found = read(f"Postbox Tango (Bb)\nNine Wet Umbrellas (Gm)\nMoth ({bracket})\nHarbour Lamps (C)")
    moth = songs(found)[2]
    assert (moth.title, moth.key and str(moth.key)) == ("Moth", key)
    assert notes in str(moth.notes)


@pytest.mark.parametrize(
    "line",
    ["Moth (C?)", "Moth - C?", "Moth C?", "Moth C ?", "Moth C (?)", "(C?) Moth", "Moth maybe C", "Moth C (Marla: F)"],
)
def test_a_key_with_a_question_mark_is_in_doubt(line: str) -> None:
    found = read(f"Postbox Tango Bb\nNine Wet Umbrellas Gm\n{line}\nHarbour Lamps C\nTram Home F")
    moth = songs(found)[2]
    assert (moth.title, str(moth.key)) == ("Moth", "C")
    assert doubted(found)


@pytest.mark.parametrize(
    "rows",
    [
        "Set 1;Key;Set 2;Key\nPostbox Tango;Bb;Slow Ferry;D\nHarbour Lamps;C;Tram Home;F\nMoth;A;;\n",
        "First set;Key;Second set;Key\nPostbox Tango;Bb;Slow Ferry;D\nHarbour Lamps;C;Tram Home;F\nMoth;A;;\n",
        "Set 1;Set 2\nPostbox Tango (Bb);Slow Ferry (D)\nHarbour Lamps (C);Tram Home (F)\nMoth (A);\n",
    ],
)
def test_sets_side_by_side_are_read_one_after_the_other(rows: str) -> None:
    found = list_in(rows.encode(), "list.csv")
    read_songs = [[(song.title, str(song.key)) for song in one.songs] for one in found.show.sets]
    assert read_songs == [
        [("Postbox Tango", "Bb"), ("Harbour Lamps", "C"), ("Moth", "A")],
        [("Slow Ferry", "D"), ("Tram Home", "F")],
    ]


@pytest.mark.parametrize("legend", ["✅ = in, ❌ = out", "● = horns; ○ = no horns", "♦ means keys solo"])
def test_a_legend_is_not_a_song(legend: str) -> None:
    assert len(songs(read(f"{legend}\n{FIRST}"))) == 3
    assert len(songs(read(f"{FIRST}\n{legend}"))) == 3


@pytest.mark.parametrize("name", ["Wim", "- Wim", "wim."])
@pytest.mark.parametrize("gap", ["\n", "\n\n"])
def test_the_senders_name_below_the_list_is_not_a_song(name: str, gap: str) -> None:
    head = "From: Wim Adder <wim@ferry.example>\nSubject: Friday\n\n"
    assert len(songs(read(f"{head}{FIRST}{gap}{name}"))) == 3


def test_a_song_named_like_the_sender_is_a_song_among_songs() -> None:
    head = "From: Wim Adder <wim@ferry.example>\nSubject: Friday\n\n"
    assert len(songs(read(f"{head}Postbox Tango\nWim\nMoth"))) == 3


@pytest.mark.parametrize("pause", ["21:00;BREAK;", "21:00;Break 20 min;"])
def test_a_break_with_a_time_is_not_a_song(pause: str) -> None:
    rows = f"Time;Song;Key\n20:00;Postbox Tango;Bb\n20:05;Harbour Lamps;C\n{pause}\n21:20;Slow Ferry;D\n21:25;Moth;A\n"
    found = songs(list_in(rows.encode(), "list.csv"))
    assert [song.title for song in found] == ["Postbox Tango", "Harbour Lamps", "Slow Ferry", "Moth"]
