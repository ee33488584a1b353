"""Cells as people write them."""

import datetime as dt

import pytest

from companion.setlist import Notation
from companion.setlist.model import SourceLine
from companion.setlist.parsing.cells import (
    clock_cell,
    date_in,
    length_cell,
    meter_cell,
    tempo_cell,
)
from companion.setlist.parsing.key_cells import key_cell, plain_key
from companion.setlist.parsing.song_draft import Draft


@pytest.mark.parametrize(
    ("written", "key"),
    [  # common practice, no source: keys as written on set lists
        ("Bb", "Bb"),
        ("B♭", "Bb"),
        ("b-flat", "Bb"),
        ("B flat", "Bb"),
        ("Bbm", "Bbm"),
        ("B minor", "Bm"),
        ("(Gm)", "Gm"),
        ("[F#m]", "F#m"),
        ("F sharp minor", "F#m"),
        ("Key: Eb", "Eb"),
        ("key of A", "A"),
        ("in D", "D"),
        ("Cmin", "Cm"),
        ("C#-", "C#m"),
        ("Db major", "Db"),
        ("E maj", "E"),
        ("Am.", "Am"),
        ("Ab concert", "Ab"),
        ("d dorian", "D dorian"),
        ("G mixo", "G mixolydian"),
        ("eb", "Eb"),
        ("A-flat", "Ab"),
    ],
)
def test_a_key_is_read_as_people_write_it(written: str, key: str) -> None:
    assert str(plain_key(written)) == key


@pytest.mark.parametrize("written", ["H", "Hm", "CM", "G or A", "Organ", "Beb", "", "12", "E4", "Go", "Fade", "D or E"])
def test_text_that_is_not_a_key_is_not_read_as_one(written: str) -> None:
    found = key_cell(written)
    assert found is None or found.key is None


@pytest.mark.parametrize(
    ("written", "key"),
    [  # German note names: H is B, B is Bb; Duden, "B (Musik)", "H (Musik)"; small letters for minor: common practice
        ("H", "B"),
        ("B", "Bb"),
        ("h-Moll", "Bm"),
        ("b-moll", "Bbm"),
        ("Es", "Eb"),
        ("As-Dur", "Ab"),
        ("fis", "F#m"),
        ("Fis", "F#"),
        ("cis-Moll", "C#m"),
        ("a", "Am"),
        ("A", "A"),
        ("Des", "Db"),
        ("Hm", "Bm"),
        ("G-Dur", "G"),
        ("dm", "Dm"),
    ],
)
def test_german_keys_are_read_in_a_german_list(written: str, key: str) -> None:
    assert str(plain_key(written, notation=Notation.GERMAN)) == key


@pytest.mark.parametrize(
    ("written", "key", "record", "is_in_doubt"),
    [
        ("A/F#m", "A", None, True),
        ("G (orig. A)", "G", "A", False),
        ("Bb?", "Bb", None, True),
        ("G or A", "None", None, True),
        ("D → E", "D", None, True),
        ("H", "None", None, True),
        ("FM", "None", None, True),
        ("orig A", "None", "A", False),
        ("Eb (E)", "Eb", None, True),
    ],
)
def test_uncertain_values_are_in_doubt(written: str, key: str, record: str | None, *, is_in_doubt: bool) -> None:
    found = key_cell(written)
    assert found is not None
    assert (str(found.key), str(found.record_key) if found.record_key else None, bool(found.doubt)) == (
        key,
        record,
        is_in_doubt,
    )


@pytest.mark.parametrize(
    ("written", "named", "seconds"),
    [
        ("3:40", False, 220),
        ("3m40", False, 220),
        ("3m 40s", False, 220),
        ("3'40", False, 220),
        ("3′40″", False, 220),
        ("220 s", False, 220),
        ("4 min", False, 240),
        ("0:03:40", False, 220),
        ("00:03:40", False, 220),
        ("3:40:00", False, 220),
        ("03:40:00 AM", False, 220),
        ("220", True, 220),
        ("3.40", True, 220),
        ("220", False, None),
        ("3.40", False, None),
        ("~4:10", False, 250),
        ("3:60", False, None),
        ("0:00", False, None),
        ("1:00:01", False, 3601),
        ("99:99:99", False, None),
    ],
)
def test_a_length_is_read_as_people_write_it(written: str, seconds: int | None, *, named: bool) -> None:
    assert length_cell(written, named=named) == seconds


@pytest.mark.parametrize(
    ("written", "named", "tempo_bpm"),
    [
        ("112 bpm", False, 112),
        ("112BPM", False, 112),
        ("♩=112", False, 112),
        ("@96", False, 96),
        ("Tempo: 120", False, 120),
        ("112", True, 112),
        ("ca. 112", True, 112),
        ("112.5", True, 112.5),
        ("112", False, None),
        ("1999 bpm", False, None),
        ("999 bpm", False, None),
    ],
)
def test_a_tempo_is_read_as_people_write_it(written: str, tempo_bpm: float | None, *, named: bool) -> None:
    assert tempo_cell(written, named=named) == tempo_bpm


def test_meters_and_times_are_read() -> None:
    assert [str(meter_cell(text)) for text in ("6/8", "12/8 feel", "3/4 time", "C", "13/13")] == [
        "6/8",
        "12/8",
        "3/4",
        "None",
        "None",
    ]
    assert [clock_cell(text) for text in ("20:00", "8pm", "8.30 pm", "20 Uhr", "20h30", "20", "12am")] == [
        1200,
        1200,
        1230,
        1200,
        1230,
        None,
        0,
    ]


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("Sat 19 June 2027", dt.date(2027, 6, 19)),
        ("June 19th, 2027", dt.date(2027, 6, 19)),
        ("19.06.2027", dt.date(2027, 6, 19)),
        ("2027-06-19", dt.date(2027, 6, 19)),
        ("19/06/2027", dt.date(2027, 6, 19)),
        ("06/19/2027", dt.date(2027, 6, 19)),
        ("05/06/2027", None),
        ("30 February 2027", None),
        ("19. Juni 2027", dt.date(2027, 6, 19)),
        ("June 2027", None),
    ],
)
def test_a_date_is_found_unless_it_is_ambiguous(written: str, day: dt.date | None) -> None:
    found = date_in(written)
    assert (found[0] if found else None) == day


@pytest.mark.parametrize(
    ("words", "meter"),
    [
        ("slow 6/8", "6/8"),
        ("3/4!", "3/4"),
        ("12/8 feel, brushes", "12/8"),
        ("1/2 step down from rec", None),
        ("down 3/4 tone", None),
        ("2/4 intro", None),
        ("one bar of 2/4 before the chorus", None),
    ],
)
def test_a_note_gives_a_meter_only_where_it_is_the_whole_songs(words: str, meter: str | None) -> None:
    draft = Draft(SourceLine(1), "Moth")
    draft.note(words)
    assert (draft.meter and str(draft.meter)) == meter
