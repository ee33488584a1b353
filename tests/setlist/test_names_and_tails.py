"""Lines that name the list in a greeting, signs behind a key, dates that moved, and lists that are too long."""

import datetime as dt

import pytest

from companion.errors import FaultyFile
from companion.setlist import SetList
from companion.setlist.parsing.cells import date_in
from companion.setlist.parsing.list_name import named_list
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text

DAY = dt.date(2026, 12, 5)


def read(text: str) -> SetList:
    return take_in(pages_of_text(text, "list.txt"), "List")


@pytest.mark.parametrize(
    ("line", "title", "date", "venue"),
    [
        ("Hi all! Set list for Sat 5 December 2026 at the Boathouse, Pirton:", "Boathouse, Pirton", DAY, True),
        ("Hey folks, here's the set list for the Harling Ball, 5 Dec 2026", "Harling Ball", DAY, False),
        ("Final list for Crow Hall on 5.12.2026", "Crow Hall", DAY, False),
        ("Set list for Jo and Sam at Pirton Barn", "Jo and Sam", None, True),
    ],
)
def test_a_greeting_that_names_the_list_says_its_title_date_and_venue(
    line: str, title: str, date: dt.date | None, *, venue: bool
) -> None:
    said = named_list(line)
    assert said is not None
    assert (said.title, said.date, said.venue is not None) == (title, date, venue)
    show = read(f"{line}\n\n1. Copper Rain - G\n2. Salt Parade - Eb\n3. Plum Duff - C\n").show
    assert (show.title, show.date, show.venue is not None, show.notes) == (title, date, venue, None)


@pytest.mark.parametrize("line", ["Songs for the Road", "Listen for Me", "Hi all, songs as discussed!"])
def test_a_title_or_a_greeting_names_no_list(line: str) -> None:
    said = named_list(line)
    assert said is None or (said.date is None and said.venue is None)


def test_of_a_day_that_moved_the_new_one_counts() -> None:
    found = date_in("Gig moved from 28 Nov 2026 to 5 Dec 2026!")
    assert found is not None
    assert found[0] == DAY


# What players write behind a key (common practice, no source).
BEHIND = (
    ("Salt Parade Eb, slow", "Salt Parade", "Eb"),
    ("Plum Duff G ->", "Plum Duff", "G"),
    ("Fog Signal F ~96", "Fog Signal", "F"),
    ("Oars Down C", "Oars Down", "C"),
    ("Copper Rain - G, 118", "Copper Rain", "G"),
    ("Sailcloth Am, fast", "Sailcloth", "Am"),
    ("Tin Whistle Town A", "Tin Whistle Town", "A"),
    ("Last Orders E 4:10", "Last Orders", "E"),
)


def test_keys_are_found_though_each_has_something_else_behind_it() -> None:
    found = read("\n".join(line for line, _, _ in BEHIND)).show.sets[0].songs
    assert [(song.title, str(song.key)) for song in found] == [(title, key) for _, title, key in BEHIND]
    assert found[2].tempo_bpm == 96
    assert found[1].segue == "Fog Signal"


def test_a_letter_that_may_end_a_title_keeps_its_doubt_among_keys() -> None:
    lines = read("\n".join([*(line for line, _, _ in BEHIND), "Plan B"])).lines
    assert lines[-1].doubts


@pytest.mark.parametrize("sign_off", ["B x", "A xx", "Bee x"])
def test_a_signature_below_a_song_without_a_key_is_no_key(sign_off: str) -> None:
    songs = read(f"Copper Rain - G\nSalt Parade - Eb\nPlum Duff - C\nOars Down\n{sign_off}").show.sets[0].songs
    assert [song.title for song in songs] == ["Copper Rain", "Salt Parade", "Plum Duff", "Oars Down"]
    assert songs[-1].key is None


@pytest.mark.parametrize("count", [1001, 1800, 2500])
def test_more_numbered_songs_than_a_show_may_have_are_refused(count: int) -> None:
    with pytest.raises(FaultyFile, match=f"{count} songs; a show has at most 1000"):
        read("\n".join(f"{at}. Moth {at}" for at in range(1, count + 1)))


@pytest.mark.parametrize(
    "text",
    ["Sat 5.12.26", "samedi 5 décembre 2026", "sábado 5 de diciembre de 2026", "5 dicembre 2026", "5th Dec 2026"],
)
def test_a_date_is_read_with_a_short_year_and_in_other_languages(text: str) -> None:
    found = date_in(text)
    assert found is not None
    assert found[0] == DAY


def test_underlined_lines_above_songs_head_sets() -> None:
    found = read(
        "Drinks\n======\n* Moth -- G\n* Weeds -- Am\n* Oars -- C\n\nDancing\n======\n"
        "* Salt -- F\n* Rain -- D\n* Tidal -- E"
    )
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [("Drinks", 3), ("Dancing", 3)]
