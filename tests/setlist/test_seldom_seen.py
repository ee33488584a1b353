"""Forms that few lists have: capitals without sets, slashes in a line, pads, sentences, services, versions."""

import pytest

from companion.setlist import SetList
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text
from companion.show import Song


def read(text: str) -> SetList:
    return take_in(pages_of_text(text, "list.txt"), "List")


def songs(found: SetList) -> list[Song]:
    return [song for one in found.show.sets for song in one.songs]


def keyed(found: SetList) -> list[tuple[str, str]]:
    return [(song.title, str(song.key)) for song in songs(found)]


def test_songs_above_the_encore_are_songs_though_no_heading_stands_above_them() -> None:
    found = read(
        "KEEP IT, CHARLENE\nWET TRESTLE\nCHALK\n\n----- BREAK -----\n\nTIN OPENER\nCRISPS\nTURBOT\n\nENCORE\nRAIN"
    )
    assert [len(one.songs) for one in found.show.sets] == [3, 3, 1]


def test_a_large_x_in_front_of_one_title_belongs_to_it_and_in_front_of_two_it_is_a_cross() -> None:
    lines = ["Tin Opener (A)", "X Marks the Shop (Cm)", "Gravel (F)", "Felt (Am)", "Road (C)", "Rain (D)"]
    assert "X Marks the Shop" in {song.title for song in songs(read("\n".join(lines)))}
    crossed = read("\n".join([*lines, "X Seldom Played (G)"]))
    assert not {"Marks the Shop", "X Marks the Shop"} & {song.title for song in songs(crossed)}


@pytest.mark.parametrize("sign", ["/", "•"])
def test_songs_of_a_set_on_one_line_are_parted_by_the_sign_that_leaves_each_its_key(sign: str) -> None:
    found = read(f" {sign} ".join(["Set 1: Garden Ghost (Bb)", "Don't Stop, Zoe (G)", "Sheds (F)"]))
    assert keyed(found) == [("Garden Ghost", "Bb"), ("Don't Stop, Zoe", "G"), ("Sheds", "F")]


@pytest.mark.parametrize(
    ("written", "key"), [("do m", "Cm"), ("fa M", "F"), ("Lám", "Am"), ("Dó", "C"), ("Fá", "F"), ("mib M", "Eb")]
)
def test_syllables_with_accents_and_with_a_large_m(written: str, key: str) -> None:
    found = read(
        f"Une Valise : {written}\nDeux Rues : sol m\nTrois Ponts : ré m\nQuatre Vents : mi m\nCinq Rois : sib m"
    )
    assert keyed(found)[0] == ("Une Valise", key)


def test_a_key_that_no_signature_has_is_read_as_its_neighbour_in_doubt() -> None:
    found = read("Bin Day - Eb\nVarnish - Dbm\nGasworks - Db\nLightning - Bbm")
    assert keyed(found)[1] == ("Varnish", "C#m")
    assert found.lines[1].doubts


def test_numbers_of_charts_are_no_tempos() -> None:
    text = (
        "First half\n 245  Blues for Ben (Em) - open solos\n 311  Samba (D)\n 252  Swinging Gate (D)\n"
        "  26  Hedgehog in Four (C)\n 322  Twelve Bars (Em)\n  72  Mood: Mauve (A) - brushes"
    )
    found = read(text)
    assert keyed(found)[0] == ("Blues for Ben", "Em")
    assert keyed(found)[-1] == ("Mood: Mauve", "A")
    assert songs(found)[-1].notes == "brushes"
    assert {song.tempo_bpm for song in songs(found)} == {None}


def test_times_before_a_heading_and_before_a_song_with_its_role() -> None:
    found = read(
        "16:30 load in\n19:45 First dance: Mopping Up (Ab)\n\n20:00 - 20:45 Set 1\n- Moth (Am)\n- Weeds (C)\n"
        "- Oars (F)\n\n21:30 - 22:30 Set 2\n- Salt (G)\n- Rain (Bm)\n- Tidal (D)"
    )
    assert ("Mopping Up", "Ab") in keyed(found)
    assert [(one.starts_min, one.minutes) for one in found.show.sets][-2:] == [(1200, 45), (1290, 60)]


def test_letters_of_singers_in_front_are_no_keys() -> None:
    found = read(
        "Vocals: J = Jo, M = Mo, A = all\n\n(A) All the Way - B\n(M) Heart - A\n(A) Dance - Eb\n(J) Crumbs - D"
    )
    assert keyed(found) == [("All the Way", "B"), ("Heart", "A"), ("Dance", "Eb"), ("Crumbs", "D")]
    assert songs(found)[3].notes == "J (Jo)"


def test_songs_out_of_sentences_lose_the_words_around_them_and_are_doubted() -> None:
    found = read(
        "Hi Marta, we'll open with Postcards from Penwick in D and go straight into Rope Ladder in A. Then it's "
        "Stolen (Gm), Halfway (C) and Left on Read in Bb. We close with Bring a Bottle, that's in E."
    )
    assert keyed(found)[0] == ("Postcards from Penwick", "D")
    assert keyed(found)[-2:] == [("Left on Read", "Bb"), ("Bring a Bottle", "E")]
    assert any("sentence" in doubt.says for doubt in found.doubts)


def test_spoken_parts_of_a_service_are_no_songs() -> None:
    lines = (
        "Opening song: Seeds in Bb",
        "Prayers",
        "Reading - Isaiah 40",
        "Sermon (20 mins)",
        "Response: Little in Am",
    )
    found = read("\n".join((*lines, "Blessing", "Final song: Peace over Roofs in F", "We Bring in C")))
    assert [song.title for song in songs(found)] == ["Seeds", "Little", "Peace over Roofs", "We Bring"]


def test_a_later_message_with_many_of_the_same_songs_is_another_version() -> None:
    found = read(
        "[25/11/2026, 10:02:44] Anouk: Set for the 5th:\n1. Candle (G)\n2. Mayonnaise (E)\n3. Tractor (Am)\n"
        "4. Uke (C)\n[25/11/2026, 10:30:10] Piet: too slow\n[26/11/2026, 22:15:31] Anouk: this instead\n"
        "1. Tractor (Am)\n2. Hopping (D)\n3. Candle (G)\n4. Springs (F)"
    )
    assert [song.title for song in songs(found)] == ["Tractor", "Hopping", "Candle", "Springs"]
    assert len(found.choices) == 2


@pytest.mark.parametrize("line", ["Ghost Garden - key tbc", "Treacle Town or Ferrets in Love - D"])
def test_what_a_list_leaves_open_is_asked(line: str) -> None:
    assert read(f"1. Moth - G\n2. {line}\n3. Weeds - Am\n4. Oars - C").lines[1].doubts


def test_a_long_note_behind_a_bracketed_key_makes_no_sentence_of_the_line() -> None:
    lines = ["Sprouts (A)", "Love Is a Bin (C#m) – half time feel in the bridge", "Gravel (F)", "Felt (Am)", "Road (C)"]
    assert keyed(read("\n".join(lines)))[1] == ("Love Is a Bin", "C#m")


def test_spares_in_case_are_a_set_of_their_own() -> None:
    found = read("1 Oats G\n2 Kneecap E\n3 Barn C\n4 Canvas Em\n\nspares in case they want more\nBobbins G\nTarmac Am")
    assert [len(one.songs) for one in found.show.sets] == [4, 2]


def test_a_short_line_behind_an_empty_one_and_above_songs_is_asked_about() -> None:
    found = read("1. Moth - G\n2. Weeds - Am\n3. Oars - C\n\nround the fire\n4. Salt - D\n5. Rain - F\n6. Tidal - Bb")
    line = next(line for line in found.lines if line.text == "round the fire")
    assert line.doubts or line.took.name in ("SET", "NOTE")


def test_names_where_other_lines_have_their_key_are_asked_about() -> None:
    found = read("Weeds - G\nMoth - Zed\nOars - Qux\nSalt - D\nRain - Bb\nTidal - Wim")
    doubted = {line.text for line in found.lines if line.doubts}
    assert {"Moth - Zed", "Oars - Qux", "Tidal - Wim"} <= doubted


def test_a_title_with_a_bracketed_key_in_its_midst_is_asked_about() -> None:
    found = read("Moth (G) xyzzy plugh\nWeeds\nOars\nSalt\nRain")
    assert "(G)" not in songs(found)[0].title or found.lines[0].doubts


def test_set_alone_heads_a_set_and_is_no_song() -> None:
    found = read("SET\nMoth (Db)\nWeeds (Em)\nOars (C)\nSalt (G)\nEncore: Rain (F)")
    assert [len(one.songs) for one in found.show.sets] == [4, 1]


def test_several_lines_that_end_in_a_colon_above_deeper_songs_head_sets() -> None:
    found = read(
        "After round 2:\n  Moth (G)\n  Weeds (Am)\n\nAfter round 3:\n  Oars (C)\n  Salt (Bb)\n  Rain (F)\n\n"
        "After round 4:\n  Tidal (D)\n  Lamp (E)"
    )
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [
        ("After round 2", 2),
        ("After round 3", 3),
        ("After round 4", 2),
    ]


def test_a_title_that_begins_with_a_bracket_and_ends_with_one_is_a_song() -> None:
    found = read("Moth (4 min)\n(You Are) My Carousel (3 min)\nOars (5 min)\nSalt (4 min)")
    assert [(song.title, song.length_s) for song in songs(found)][1] == ("(You Are) My Carousel", 180)


def test_a_legend_of_one_letter_explains_it() -> None:
    found = read("(N) = new, need charts\n1. Moth – F\n2. Weeds (N) – Bb\n3. Oars – C\n4. Salt (N) – D")
    assert keyed(found)[1] == ("Weeds", "Bb")
    assert songs(found)[1].notes == "N (new)"


def test_words_above_columns_of_values_are_their_names() -> None:
    rows = "Jo,Moth Rising,C,96\nSam,Weeds,G,104\nJo,Oars Down,Bb,88\nSam,Salt,F,120"
    found = take_in(pages_of_text(f"Who,What,Which one,How fast\n{rows}", "a.csv", separator=","), "List")
    assert keyed(found) == [("Moth Rising", "C"), ("Weeds", "G"), ("Oars Down", "Bb"), ("Salt", "F")]


def test_a_sum_sign_and_a_sender_that_repeats_are_no_songs() -> None:
    found = read("Set 1\nMoth G\nWeeds Am\nOars C\nΣ 12:10\n\nMarla\nSet 2\nSalt F\nRain Bb\nTidal D\n\nMarla\nLamp E")
    assert not {"Marla", "Σ"} & {song.title for song in songs(found)}


def test_two_numbered_songs_in_a_line_are_two_songs_in_their_order() -> None:
    found = read("SET\n1. Moth (E)    2. Weeds (Gm)\n3. Oars (F)    4. Salt (Ab)\n5. Rain (Cm)    6. Tidal (Bm)")
    assert keyed(found) == [
        ("Moth", "E"),
        ("Weeds", "Gm"),
        ("Oars", "F"),
        ("Salt", "Ab"),
        ("Rain", "Cm"),
        ("Tidal", "Bm"),
    ]
