"""Lists as they come in messages, each by hand: what is a song, what is a heading, what is in doubt, what is left."""

import unicodedata

import pytest

from companion.setlist import LineKind, Notation, SetList
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text
from companion.show import Ending


def read(text: str, *, notation: Notation | None = None) -> SetList:
    return take_in(pages_of_text(text, "list.txt"), "List", notation=notation)


def titles(found: SetList) -> list[list[str]]:
    return [[song.title for song in one.songs] for one in found.show.sets]


MESSAGE = """Hi Jo, here's the list for Saturday:

Band: The Tidewater Nine
Venue: Pier Street Hall
Date: 19 June 2027

Set 1 (20:00 - 20:45)
1. Gasworks Corner - Bb - 3:40 (keys intro)
2. Kettle on the Jetty (Gm) *
3. Harbour Lamps in F#m, 112 bpm
   organ solo
4. Plan B
-- break 20 min --
Second set
1) Pier Seven A/F#m segue
2) Tin Whistle Tango 6/8 - fade
3) Moth (Part Two) [Eb]

* = piano solo
Cheers, Sam
"""


@pytest.mark.parametrize(
    ("first", "second", "starts_min"),
    [
        ("Set 1 - 8pm", "Set 2 9.15", [20 * 60, 21 * 60 + 15]),
        ("Set 1 (20:00)", "Set 2 (9:15)", [20 * 60, 21 * 60 + 15]),
        ("Set 1 (23:00)", "Set 2 (0:30)", [23 * 60, 30]),
        ("Set 1 (23:00)", "Set 2 (1:00)", [23 * 60, 60]),
        ("Set 1 (9:15)", "Set 2 (10:30)", [9 * 60 + 15, 10 * 60 + 30]),
    ],
)
def test_a_later_set_is_in_the_same_half_of_the_day_as_the_one_before(
    first: str, second: str, starts_min: list[int]
) -> None:
    found = read(f"{first}\n1. Gasworks Corner\n\n{second}\n1. Pier Seven\n")
    assert [one.starts_min for one in found.show.sets] == starts_min


@pytest.mark.parametrize(
    ("line", "title", "key", "notes"),
    [
        ("Last Tram - A, long outro", "Last Tram", "A", "long outro"),
        ("Last Tram - Eb, slow", "Last Tram", "Eb", "slow"),
        ("Last Tram - F#m, keys start", "Last Tram", "F#m", "keys start"),
        ("Good Coat, Bad Weather - D", "Good Coat, Bad Weather", "D", None),
    ],
)
def test_a_key_before_a_remark_is_read(line: str, title: str, key: str, notes: str | None) -> None:
    found = read(f"1. Harbour Lamps - G\n2. {line}\n3. Pier Seven - Dm\n").show.sets[0].songs[1]
    assert (found.title, str(found.key), found.notes) == (title, key, notes)


def test_a_message_becomes_a_show() -> None:
    found = read(MESSAGE)
    show = found.show
    assert titles(found) == [
        ["Gasworks Corner", "Kettle on the Jetty", "Harbour Lamps", "Plan B"],
        ["Pier Seven", "Tin Whistle Tango", "Moth (Part Two)"],
    ]
    assert (show.band, show.venue, str(show.date)) == ("The Tidewater Nine", "Pier Street Hall", "2027-06-19")
    assert (show.sets[0].starts_min, show.sets[0].minutes) == (1200, 45)
    first, kettle, lamps, plan_b = show.sets[0].songs
    assert (str(first.key), first.length_s, first.starts_with) == ("Bb", 220, "keys")
    assert "piano solo" in (kettle.notes or "")
    assert (str(lamps.key), lamps.tempo_bpm, lamps.notes) == ("F#m", 112, "organ solo")
    assert plan_b.key is None
    pier, tango, moth = show.sets[1].songs
    assert (str(pier.key), pier.segue) == ("A", "Tin Whistle Tango")
    assert (str(tango.meter), tango.ending) == ("6/8", Ending.FADE)
    assert str(moth.key) == "Eb"


def test_unread_words_are_listed_and_kept_in_the_notes() -> None:
    found = read(MESSAGE)
    assert [line.text for line in found.left] == ["Hi Jo, here's the list for Saturday:", "Cheers, Sam"]
    assert "Cheers, Sam" in (found.show.notes or "")


def test_two_keys_in_one_line_are_reported_and_kept() -> None:
    (line,) = [line for line in read(MESSAGE).lines if "A/F#m" in line.text]
    assert tuple(map(str, line.doubts)) == ("two keys: used A, kept A/F#m in the notes",)


@pytest.mark.parametrize(
    "title",
    [
        "Encore for Nobody",
        "First Set of Stairs",
        "Half Past Herring",
        "Break the Ice",
        "Set the Table",
        "Pause for Thought Again",
        "Total Eclipse Dance",
        "Solo Traveller",
        "Intro to Mist",
        "Page of Rain",
        "Hello Operator Dear",
        "Key to the Cellar",
        "Part of the Weather",
        "Seven Songs",
    ],
)
def test_a_title_that_begins_like_a_heading_is_a_song(title: str) -> None:
    found = read(f"Set 1\n1. Moth - C\n2. {title} - Bb\n3. Weeds - G")
    assert titles(found) == [["Moth", title, "Weeds"]]


@pytest.mark.parametrize(
    ("heading", "name"),
    [
        ("SET ONE", "First"),
        ("2nd Set:", "Second"),
        ("## Set II", "Second"),
        ("--- Set 3 ---", "Third"),
        ("1. Set", "First"),
        ("Encore", "Encore"),
        ("Zugabe:", "Encore"),
        ("Dinner set", "Dinner set"),
        ("**Set 2** (21:15)", "Second"),
        ("Set A", "Set A"),
        ("ERSTES SET", "First"),
    ],
)
def test_headings_are_understood(heading: str, name: str) -> None:
    assert read(f"{heading}\n- Moth (C)\n- Weeds (G)\n- Tidal (D)").show.sets[0].name == name


def test_a_break_separates_sets_without_headings() -> None:
    assert titles(read("Moth\nWeeds\nTidal\nPAUSE 20 min\nFog Signal\nJam Jar")) == [
        ["Moth", "Weeds", "Tidal"],
        ["Fog Signal", "Jam Jar"],
    ]


def test_a_lone_letter_is_a_key_only_if_most_lines_end_in_one() -> None:
    assert titles(read("Moth\nPlan B\nTidal\nVitamin C\nWeeds")) == [["Moth", "Plan B", "Tidal", "Vitamin C", "Weeds"]]
    assert titles(read("Moth C\nPlan B G\nTidal A\nWeeds Eb")) == [["Moth", "Plan B", "Tidal", "Weeds"]]


def test_a_leading_number_is_part_of_the_title_unless_the_numbers_count_up() -> None:
    assert titles(read("99 Kites\nMoth\n7 Lanterns\nTidal")) == [["99 Kites", "Moth", "7 Lanterns", "Tidal"]]
    assert titles(read("1 99 Kites\n2 Moth\n3 7 Lanterns")) == [["99 Kites", "Moth", "7 Lanterns"]]


def test_an_h_makes_a_list_german_and_its_b_is_in_doubt() -> None:
    text = "- Moth (H)\n- Weeds (G)\n- Tidal (B)"
    letters, open_list = read(text, notation=Notation.LETTERS), read(text)
    assert [str(song.key) for song in letters.show.sets[0].songs] == ["None", "G", "B"]
    assert [str(song.key) for song in open_list.show.sets[0].songs] == ["B", "G", "Bb"]
    assert [bool(line.doubts) for line in open_list.lines] == [False, False, True]


@pytest.mark.parametrize(
    "title",
    ["🎹 Piano Night 🎹", "שיר ישן", "أغنية قديمة", "海の歌", "Ψ", "e\u0301toile", "!!!", "*** Stars ***", "1999"],
)
def test_any_title_survives(title: str) -> None:
    (one,) = titles(read(f"1. Moth - C\n2. {title} - Bb\n3. Weeds - G"))
    assert unicodedata.normalize("NFC", title).strip("* ") in [found.strip("* ") for found in one]


def test_a_repeated_title_is_that_many_songs() -> None:
    assert titles(read("\n".join(f"{at}. Moth" for at in range(1, 31)))) == [["Moth"] * 30]


def test_rows_sorted_by_title_are_reordered_by_number() -> None:
    found = read("No;Title;Key\n3;Fog Signal;C\n1;Jam Jar;D\n2;Moth;E\n")
    assert titles(found) == [["Jam Jar", "Moth", "Fog Signal"]]
    assert any("numbers" in doubt.says for doubt in found.doubts)


def test_columns_without_names_are_reported() -> None:
    found = read("Moth;Bb;3:40\nWeeds;G;4:10\nTidal;Am;2:59\n")
    assert "1: title, 2: key, 3: length" in found.doubts[0].says


def test_each_line_is_accounted_for_by_its_kind() -> None:
    took = [line.took for line in read("Set 1\n-----\n1. Moth\n2. Weeds\nTotal: 7:30\n\n* = new\n").lines]
    assert took == [LineKind.SET, LineKind.RULE, LineKind.SONG, LineKind.SONG, LineKind.TOTAL, LineKind.MARK]


def keys(found: SetList) -> list[str]:
    return [f"{song.title}: {song.key}" for one in found.show.sets for song in one.songs]


def test_bulleted_notes_belong_to_the_plain_line_above() -> None:
    found = read("Gasworks Corner\n - key Bb\n - organ solo\nMoth\n - key Gm\n - starts with drums\n")
    assert keys(found) == ["Gasworks Corner: Bb", "Moth: Gm"]
    assert [song.starts_with for song in found.show.sets[0].songs] == [None, "drums"]


def test_songs_after_a_heading_on_one_line_are_a_set() -> None:
    found = read("SET 1: Moth (Bb), Weeds (Gm, keys intro)\nEncore: Tidal (D), Jam Jar (E)")
    assert keys(found) == ["Moth: Bb", "Weeds: Gm", "Tidal: D", "Jam Jar: E"]
    assert [one.name for one in found.show.sets] == ["First", "Encore"]


def test_senders_names_are_not_part_of_the_titles() -> None:
    text = "[12:04, 05/06/2027] Sam Drums: Gasworks Corner in Bb\n[12:05, 05/06/2027] Sam Drums: Moth Gm"
    assert keys(read(text)) == ["Gasworks Corner: Bb", "Moth: Gm"]


def test_bare_numbers_are_tempos_and_decimals_are_lengths_if_most_lines_have_them() -> None:
    found = read("Gasworks Corner Bb 112 3:40\nPlatform 54 F#m 128 2:59\nMoth C 140 3:15")
    assert keys(found) == ["Gasworks Corner: Bb", "Platform 54: F#m", "Moth: C"]
    assert [(song.tempo_bpm, song.length_s) for song in found.show.sets[0].songs] == [
        (112, 220),
        (128, 179),
        (140, 195),
    ]
    pointed = read(
        "Gasworks Corner  3.40  Bb  112\nMoth  2.59  Gm  96\nWeeds  4.05  C  128\nTidal  3.15  D  75 (ballad)\n1 x"
    )
    assert pointed.show.sets[0].songs[0].length_s == 220


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("OPENER: Gasworks Corner (Bb)", "Gasworks Corner: Bb"),
        ("Tidal (new!!) D", "Tidal: D"),
        ("Brass Buttons - A (if they want more)", "Brass Buttons: A"),
        ("Fog Signal Eb (capo 1 for gtr)", "Fog Signal: Eb"),
        ("(Gm) Moth", "Moth: Gm"),
        ("Moth / Weeds medley   A>B", "Moth / Weeds medley: A"),
        ("Moth, concert Eb", "Moth: Eb"),
    ],
)
def test_a_list_in_one_line_is_split(line: str, told: str) -> None:
    assert told in keys(read(f"Jam Jar - G\n{line}\nPlan B - C\nWeeds - D"))


def test_a_comma_in_a_title_is_reported_in_a_comma_separated_line() -> None:
    found = read("Moth, G major, 100 bpm\nFerry, Oh Ferry, D major, 90 bpm\nWeeds, Bb major, 80 bpm")
    assert keys(found) == ["Moth: G", "Ferry, Oh Ferry: D", "Weeds: Bb"]
    assert any("one title" in doubt.says for line in found.lines for doubt in line.doubts)


def test_dur_and_moll_are_german_and_a_lone_b_beside_german_keys_is_in_doubt() -> None:
    assert keys(read("- Moth (B-Dur)\n- Weeds (h-Moll)\n- Tidal (b-moll)")) == ["Moth: Bb", "Weeds: Bm", "Tidal: Bbm"]
    found = read("- Moth (B)\n- Weeds (Es)\n- Tidal (C)")
    assert keys(found) == ["Moth: Bb", "Weeds: Eb", "Tidal: C"]
    assert [bool(line.doubts) for line in found.lines] == [True, False, False]


@pytest.mark.parametrize(
    ("line", "title", "key", "length_s"),
    [
        ("Onion Clock   Am", "Onion Clock", "Am", None),
        ("Onion Clock  A", "Onion Clock", "A", None),
        ("Onion Clock  3:40", "Onion Clock", None, 220),
        ("Onion Clock  A  3:40", "Onion Clock", "A", 220),
        ("Onion  Clock", "Onion", None, None),  # what no gap makes a key stays a name
    ],
)
def test_a_key_or_length_after_a_wide_gap_is_a_column(
    line: str, title: str, key: str | None, length_s: int | None
) -> None:
    ((song, *_),) = [one.songs for one in read(f"1. {line}\n2. Moth\n3. Gravel Hour\n4. Salt Parade\n").show.sets]
    assert (song.title, song.key and str(song.key), song.length_s) == (title, key, length_s)


def test_keys_and_lengths_in_one_column_are_not_artists() -> None:
    found = read("1. Onion Clock   Am\n2. Salt Parade   3:40\n3. Moth Gravel   C\n4. Lantern Yard\n")
    songs = found.show.sets[0].songs
    assert [song.title for song in songs] == ["Onion Clock", "Salt Parade", "Moth Gravel", "Lantern Yard"]
    assert [song.key and str(song.key) for song in songs] == ["Am", None, "C", None]
    assert [song.length_s for song in songs] == [None, 220, None, None]
    assert {song.artist for song in songs} == {None}


def test_a_key_after_a_wide_gap_in_the_title_column_is_not_part_of_the_title() -> None:
    rows = ("Onion Clock  A", "The Moth on Gravel Hill", "Nine Salt Umbrellas", "Jam Jar at Midnight", "The Long Weeds")
    found = read("".join(f"{row:30}3:{at}0\n" for at, row in enumerate(rows)))
    songs = found.show.sets[0].songs
    assert [(song.title, song.length_s) for song in songs][:2] == [
        ("Onion Clock", 180),
        ("The Moth on Gravel Hill", 190),
    ]
    assert [song.key and str(song.key) for song in songs] == ["A", None, None, None, None]


@pytest.mark.parametrize(
    ("line", "doubt"),
    [
        ("Salt Parade C", "ends in C, which may be its key: left in the title"),
        ("Salt Parade Am", "ends in Am, which may be its key: left in the title"),
        ("Salt Parade a", None),
        ("Salt Parade", None),
        ("Plan B - Gm", None),  # it has its key
    ],
)
def test_a_letter_after_a_single_space_stays_in_the_title_and_is_reported(line: str, doubt: str | None) -> None:
    found = read(f"1. {line}\n2. Moth\n3. Gravel Hour\n4. Jam Jar\n")
    assert found.show.sets[0].songs[0].title == line.removesuffix(" - Gm")
    assert tuple(map(str, found.lines[0].doubts)) == ((doubt,) if doubt else ())


@pytest.mark.parametrize(
    ("line", "notes", "doubts"),
    [
        ("Weeds - ask the band", "ask the band", ["not understood, kept in the notes: ask the band"]),
        ("Weeds - C - ask the band", "ask the band", []),  # behind a fact, words are a remark
        ("Weeds - C - (ask the band)", "ask the band", []),
    ],
)
def test_words_after_a_title_are_a_remark_and_in_doubt_without_a_fact_before(
    line: str, notes: str, doubts: list[str]
) -> None:
    found = read(f"Moth\n{line}\nOwl\nJay\n")
    (weeds,) = [song for one in found.show.sets for song in one.songs if song.title == "Weeds"]
    assert weeds.notes == notes
    assert [doubt.says for one in found.lines for doubt in one.doubts] == doubts


@pytest.mark.parametrize(
    ("talk", "keys"),
    [
        ("Sorry, Moth is in D now", ["Bb", "D", "F"]),
        ("Sorry, Owl is in D now", ["Bb", "C", "D"]),
        ("Sorry, the howling is in D now", ["Bb", "C", "F"]),  # no word of its own
        ("Sorry, Kettle is in D now", ["Bb", "C", "F"]),
    ],
)
def test_a_key_in_a_line_of_talk_belongs_to_the_song_it_names(talk: str, keys: list[str]) -> None:
    found = read(f"Gasworks Corner - Bb\nMoth - C\nOwl - F\n\n{talk}\n")
    assert [str(song.key) for song in found.show.sets[0].songs] == keys
