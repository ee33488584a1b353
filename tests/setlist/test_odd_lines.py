"""Lines that differ from the list around them: parts of a medley, run-together columns, lone headings, frames."""

import pytest

from companion.setlist import LineKind, SetList
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text
from companion.show import Song


def read(text: str, separator: str | None = None) -> SetList:
    return take_in(pages_of_text(text, "list.txt", separator=separator), "List")


def songs(found: SetList) -> list[Song]:
    return [song for one in found.show.sets for song in one.songs]


def keyed(found: SetList) -> list[tuple[str, str]]:
    return [(song.title, str(song.key)) for song in songs(found)]


def test_the_songs_of_a_medley_are_songs_and_its_own_line_is_none() -> None:
    text = "1. Moth - C#m\n2. Weeds - Ab\n3. Oars - Bm\n4. Medley:\n   a) Salt - Dm\n   b) Rain - Fm\n   c) Tidal - C"
    found = read(text)
    assert keyed(found)[3:] == [("Salt", "Dm"), ("Rain", "Fm"), ("Tidal", "C")]
    assert songs(found)[3].notes == "Medley"


def test_a_song_whose_columns_run_together_is_kept_in_doubt() -> None:
    found = read("Bb   Orchard Kings\nF#m Let It Snow Here\nBm   Hold On, Bridge\nF    Crooked Ferry\nC    Moth")
    assert keyed(found)[1] == ("Let It Snow Here", "F#m")
    assert found.lines[1].doubts


def test_a_key_that_is_padded_before_a_dash_begins_no_column() -> None:
    found = read("G  - Orchard Kings\nEm - Winter Tram\nBb - Hold On, Bridge\nF  - Crooked Ferry\nC  - Moth")
    assert keyed(found)[1:3] == [("Winter Tram", "Em"), ("Hold On, Bridge", "Bb")]
    assert [line.doubts for line in found.lines] == [()] * 5


@pytest.mark.parametrize("frame", ["~ interval ~", "* interval *", "= interval ="])
def test_an_interval_between_two_signs_parts_the_sets(frame: str) -> None:
    found = read(f"Moth Rising\nWeeds Again\nOars Down\n\n{frame}\n\nSalt Parade\nRain Dance\nTidal Wave")
    assert [len(one.songs) for one in found.show.sets] == [3, 3]


def test_a_lone_cell_with_times_below_an_empty_row_heads_a_set_in_doubt() -> None:
    rows = "Moth\tEb\nWeeds\tC\nOars\tAb\nSalt\tG\nRain\tF"
    found = read(f"COCKTAIL HOUR (6-7PM)\n{rows}\n\nGARDEN PART (9-11PM)\n{rows.replace('Moth', 'Tidal')}")
    assert [one.name for one in found.show.sets][-1] == "Garden part"
    assert found.show.sets[-1].starts_min == 21 * 60
    assert any(line.took is LineKind.SET and line.doubts for line in found.lines)


@pytest.mark.parametrize(("name", "separator"), [("In", ","), ("Tonight", ","), ("Feel", ";")])
def test_a_column_that_holds_only_keys_is_the_keys_whatever_its_name(name: str, separator: str) -> None:
    rows = [("Title", name), ("Moth", "Eb"), ("Weeds", "C"), ("Oars", "F#m")]
    found = read("\n".join(separator.join(row) for row in rows), separator)
    assert keyed(found) == [("Moth", "Eb"), ("Weeds", "C"), ("Oars", "F#m")]


def test_a_heading_that_names_the_columns_too_heads_its_set() -> None:
    tabs = "\t\t\t"
    text = "\n".join(
        f"Set {number}{tabs}Key\tLead\nMoth {number}{tabs}Fm\tKez\n"
        f"Weeds {number}{tabs}B\tDan\nOars {number}{tabs}D\tSam"
        for number in (1, 2)
    )
    found = read(text)
    assert [len(one.songs) for one in found.show.sets] == [3, 3]
    assert str(songs(found)[0].key) == "Fm"


def test_syllables_behind_a_colon_are_keys_and_no_titles() -> None:
    text = "- Distant Whistle : Do#m\n- La Rue : Mib\n- Le Port : Fam\n- Le Pont : Rém\n- Le Vent : La\n- Midi : Sol"
    assert keyed(read(text))[2:5] == [("Le Port", "Fm"), ("Le Pont", "Dm"), ("Le Vent", "A")]


@pytest.mark.parametrize(
    ("line", "title", "key"),
    [
        ("Oars – NOW IN Ab (was G)", "Oars", "Ab"),
        ("Here and Now in G", "Here and Now", "G"),
        ("Moth Tonight in G", "Moth Tonight", "G"),
    ],
)
def test_now_before_a_key_is_no_title_but_behind_a_title_it_is(line: str, title: str, key: str) -> None:
    assert keyed(read(f"1. Weeds – Em\n2. {line}\n3. Salt – F\n4. Rain – Bm"))[1] == (title, key)


def test_a_comma_in_a_title_stays_where_commas_part_the_fields() -> None:
    lines = ["Moth Rising, C, ballad", "Hold On, Station, G, medium swing", "Weeds, Bb, bossa", "Oars, F, up"]
    assert keyed(read("\n".join(lines)))[1] == ("Hold On, Station", "G")


def test_a_row_of_values_alone_is_about_the_song_above() -> None:
    text = "Under the Market\n   C · 118 bpm\n\nHollow Street\n   Em · 92 bpm\n\nThe Heart\n   Bb · 104 bpm"
    found = songs(read(text))
    assert [(song.title, str(song.key), song.tempo_bpm) for song in found] == [
        ("Under the Market", "C", 118),
        ("Hollow Street", "Em", 92),
        ("The Heart", "Bb", 104),
    ]


def test_roman_numbers_that_count_the_songs_are_no_part_of_their_titles() -> None:
    found = read("i. Moth\nii. Oars\niii. I Am\niv. Ivy")
    assert [song.title for song in songs(found)] == ["Moth", "Oars", "I Am", "Ivy"]


def test_a_letter_with_its_numbers_names_the_encores() -> None:
    found = read("1 Moth / C\n2 Weeds / G\n3 Oars / Bb\n4 Salt / F\n-----\nE1 Rain / D\nE2 Tidal / A")
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [("First", 4), ("Encore", 2)]
    assert keyed(found)[-1] == ("Tidal", "A")


def test_words_that_end_in_a_small_word_do_not_swallow_the_song_below() -> None:
    found = read(
        "Moth Parade (A)\nstop at bar 32, drum fill back in\nSalt Signal (C)\nWet Window (Bm)\nMy Bridge (F#m)"
    )
    assert [song.title for song in songs(found)] == ["Moth Parade", "Salt Signal", "Wet Window", "My Bridge"]


def test_a_key_with_a_question_mark_and_a_reason_is_in_doubt() -> None:
    found = read("Moth – G\nWeeds – F#m? (check w/ Kez)\nOars – Cm\nSalt – D\nRain – Bb")
    assert keyed(found)[1] == ("Weeds", "F#m")
    assert found.lines[1].doubts


def test_and_in_a_title_behind_a_heading_stays() -> None:
    found = read("SET\nMoth (Db)\nWeeds (Em)\nOars (C)\nEncore: Markets and Rivers (F)")
    assert keyed(found)[-1] == ("Markets and Rivers", "F")


def test_the_column_of_words_is_the_titles_where_no_name_says_so() -> None:
    found = read("Our stuff,Key,Vox\nSET 1,,\nMoth Rising,C,Jo\nWeeds,G,Sam\nOars Down,Bb,Jo", ",")
    assert keyed(found) == [("Moth Rising", "C"), ("Weeds", "G"), ("Oars Down", "Bb")]


def test_numbers_behind_the_same_letter_are_no_part_of_the_titles() -> None:
    found = read("CUE SHEET\n\nSET 1\nQ01 Moth [G]\nQ02 Weeds [Am]\nQ03 Oars [C]\nSET 2\nQ04 Salt [F]\nQ05 Rain [Bb]")
    assert keyed(found) == [("Moth", "G"), ("Weeds", "Am"), ("Oars", "C"), ("Salt", "F"), ("Rain", "Bb")]


def test_titles_that_begin_with_numbers_in_no_order_are_asked_about() -> None:
    found = read("K7 Moth [G]\nB12 Weeds [Am]\nOars [C]\nT3 Salt [F]\nRain [Bb]\nM44 Tidal [D]")
    numbered = [line for line in found.lines if line.song and line.text[1:2].isdigit()]
    assert numbered
    assert all(line.doubts for line in numbered)


def test_of_a_key_and_another_in_brackets_the_first_counts_and_both_are_kept() -> None:
    found = read("Under the Lamp D (Ab)\nCopper Pony Gm (B)\nHold On, Post Dm (G)\nOld Heart F (D)\nI Never F#m (E)")
    assert keyed(found)[0] == ("Under the Lamp", "D")
    assert keyed(found)[4] == ("I Never", "F#m")
    assert songs(found)[1].notes == "key in brackets: B"
    assert all(line.doubts for line in found.lines if line.song)


def test_a_heading_at_the_end_of_a_sentence_heads_the_set_below() -> None:
    found = read(
        "Here are the numbers. First set:\n\nMoth - G\nWeeds - Am\n\n"
        "We then break for speeches (15 minutes...). Second set:\n\nOars - C\nSalt - F\nRain - Bb"
    )
    assert [len(one.songs) for one in found.show.sets] == [2, 3]


def test_songs_with_a_plus_between_them_are_two() -> None:
    found = read("Set 1\nMoth - G\nWeeds - Am\nOars - C\nSalt Parade (F) + Wet Rain (Bb)")
    assert keyed(found)[-2:] == [("Salt Parade", "F"), ("Wet Rain", "Bb")]


@pytest.mark.parametrize("number", ["", "{n}. "])
def test_counted_titles_before_a_key_stay_titles(number: str) -> None:
    found = read("".join(number.format(n=n) + f"Moth {n} - Bb\n" for n in range(1, 8)))
    assert keyed(found) == [(f"Moth {n}", "Bb") for n in range(1, 8)]
