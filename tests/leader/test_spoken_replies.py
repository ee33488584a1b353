"""Replies as people speak them: without signs, in their own languages; what confirms the show, and who writes."""

import pytest
from leader.reply_shape import BALL, PIER, TODAY, in_sets
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.music import read_key
from companion.show import Show, Song

FEST = in_sets(
    "Hafenfest",
    First=("Nebel im Glas", Song("Oma fährt Rad", key=read_key("G")), "Rostige Leiter", "Kein Wind"),
    Encore=("Gute Nacht, Kran", "Letzte Fähre"),
)
BALLO = in_sets(
    "Ballo del Molo",
    First=("La barca storta", Song("Tre gatti al sole", key=read_key("Dm")), "Sale e limone", "Il faro spento"),
)
# What somebody said into a telephone: no sign, no capital letter.
SPOKEN = [
    (
        FEST,
        (
            "moin hier ist der jan ich sag dir das mal kurz an also nebel im glas ist in d moll und da fängt die "
            "gitarre an die rostige leiter in es dur kein wind lassen wir weg und die letzte zugabe in g dur tschüss"
        ),
        "1 key Dm;1 starts_with guitar;3 key Eb;4 dropped yes;6 key G",
    ),
    (
        BALLO,
        (
            "ciao luca ti dico tutto a voce perché sto guidando allora la barca storta è in la minore e attacca la "
            "batteria "
            "il sale e limone credo in fa e il faro spento in si bemolle ciao ciao"
        ),
        "1 key Am;1 starts_with drums;3 key F;4 key Bb",
    ),
    (
        PIER,
        "ok number one is in e flat and number two is g and we drop number four okay talk later bye now and thanks",
        "1 key Eb;2 key G;4 dropped yes",
    ),
    (
        PIER,
        "so number one is in g tempo is sixty eight number six d number seven like on the album number eight e bye",
        "1 key G;1 tempo 68;6 key D;7 key E;8 key E",
    ),
    (
        PIER,
        "so number one is in e flat number two is g skip number four and number five is in d minor that is all bye",
        "1 key Eb;2 key G;4 dropped yes;5 key Dm",
    ),
    (
        PIER,
        "nummer eins in es dur nummer zwei in g wir streichen nummer vier und nummer fünf ist in d moll bis später",
        "1 key Eb;2 key G;4 dropped yes;5 key Dm",
    ),
    (
        PIER,
        (
            "hi its bel i am in the car so gasworks corner is in d and the bass starts it old canal road is in e "
            "minor the "
            "moth is in b flat and goes straight into cafe morgenrot which is in c and thats it for now see you friday"
        ),
        "1 key D;1 starts_with bass;2 key Em;4 key Bb;4 segue Café Morgenrot;5 key C",
    ),
    (
        PIER,
        (
            "hi so number one a number two e number four b natural number five leave it out we never get that right "
            "number seven is in c and the last one e there is a lorry behind me"
        ),
        "1 key A;2 key E;4 key B;7 key C;8 key E",
    ),
    (
        PIER,
        "hiya only me number one is d minor number two is a number four is b flat minor number five is g major bye now",
        "1 key Dm;2 key A;4 key Bbm;5 key G",
    ),
    (
        BALL,
        (
            "Lights D Rain E Sixpence Em Samba A Lanterns C Lorry G Tuesday F Wooden D Kettle A Ferry Em Marmalade G, "
            "fiddle starts everything except 3 which you start, thanks"
        ),
        ";".join(
            (
                "1 key D;2 key E;3 key Em;4 key A;5 key C;7 key G;8 key F;9 key D;11 key A;12 key Em;15 key G",
                "3 starts_with keys",
                *(f"{place} starts_with fiddle" for place in range(1, 21) if place != 3),
            )
        ),
    ),
]


def _asked_or_said(show: Show, text: str) -> dict[str, str]:
    return {said(show, one): one.doubt for one in read_answers(text, show, today=TODAY).found}


@pytest.mark.parametrize(("show", "text", "facts"), SPOKEN)
def test_a_reply_that_was_spoken_is_parted_before_its_songs_and_after_their_keys(
    show: Show, text: str, facts: str
) -> None:
    read = _asked_or_said(show, text)
    assert [one for one in facts.split(";") if one not in read] == []
    songs = {one.split()[0] for one in facts.split(";")}
    assert {one for one, why in read.items() if not why and one.split()[0] in songs} <= set(facts.split(";"))


@pytest.mark.parametrize(
    "text",
    [
        "three ends on a vamp till I wave four is in D",
        "Sixpence Waltz ends with a rumble Red Brick Samba is in D",
        "number three ends on the word gate song four goes in D",
    ],
)
def test_an_ending_in_own_words_ends_before_the_next_song(text: str) -> None:
    assert "4 key D" in _asked_or_said(BALL, text)


def test_a_key_in_doubt_stays_in_doubt_where_it_was_spoken() -> None:
    assert _asked_or_said(BALLO, SPOKEN[1][1])["3 key F"] != ""


@pytest.mark.parametrize(
    "text",
    [
        "3 F, wie du schon hast",
        "3 bleibt in F",
        "3 F, comme tu as noté",
        "3 toujours en fa",
        "3 F, bez zmian",
        "3 Fa, giusto",
        "3 F as you have it",
        "3 F como siempre",
        "3 F, zoals je al had",
        "3 F, som du skrev",
    ],
)
def test_words_that_confirm_the_key_of_the_show_ask_nothing(text: str) -> None:
    read = read_answers(text, PIER, today=TODAY)
    assert (read.found, read.contradicts, read.passed, read.left) == ((), (), (), ())
    assert [one.song_at for one in read.confirms] == [2]


@pytest.mark.parametrize(
    "text",
    [
        "7 wie auf der Platte",
        "7 comme sur le disque",
        "7 jak na płycie",
        "7 som på skivan",
        "7 igual que en el disco",
        "7 zoals op de plaat",
        "7 come nel disco",
        "7 jako na desce",
        "7 like it is on the record",
    ],
)
def test_as_the_record_is_the_records_key_in_any_language(text: str) -> None:
    assert "7 key E" in _asked_or_said(PIER, text)


@pytest.mark.parametrize(
    ("text", "fact"),
    [
        ("nummer twee is in G", "2 key G"),
        ("nummer zeven a en die stopt ineens", "7 key A"),
        ("nummer 7 nu in A niet meer Bes", "7 key A"),
        ("Moth A inte längre Bb", "4 key A"),
        ("la 2 en A ya no G", "2 key A"),
        ("nummer 6 a en daarna de gitaar", "6 key A"),
        ("nummer 2 f en dan begint de gitaar", "2 key F"),
        ("La dos va en sol", "2 key G"),
        ("la un c'est en do", "1 key C"),
        ("la deux démarre en ré", "2 key D"),
        ("la sei resta in fa", "6 key F"),
        ("Tvåan går i G", "2 key G"),
        ("L'ultima rallenta tanto", "8 ending ritard"),
        ("La última acaba con un fundido", "8 ending fade"),
        ("sista låten börjar du", "8 starts_with keys"),
    ],
)
def test_a_song_may_be_named_by_its_place(text: str, fact: str) -> None:
    assert fact in _asked_or_said(PIER, text)


def test_a_correction_counts_in_the_set_of_the_line_above() -> None:
    read = _asked_or_said(BALL, "Set 2: 1 D, 2 A, 5 Cm, 6 G\npardon, le 5 c'est si mineur, pas do mineur")
    assert read["15 key Bm"] != ""
    assert "15 key Cm" not in read
    assert not any(one.startswith("5 ") for one in read)


def test_a_slip_of_the_pen_is_corrected() -> None:
    read = _asked_or_said(FEST, "1 D, 3 und 4 in C\nups 4 ist F#m")
    assert read["4 key F#m"] != "" or "4 key C" not in read
    assert read["3 key C"] == ""


def test_a_song_that_is_dropped_and_then_kept_is_not_dropped_without_a_question() -> None:
    read = _asked_or_said(PIER, "drop 6\nno wait drop 2 and keep 6")
    assert read.get("6 dropped yes", "kept") != ""


@pytest.mark.parametrize(
    ("text", "player"), [("Drummer here! I start 1.", "drums"), ("Hier ist der Gitarrist. 1 fange ich an", "guitar")]
)
def test_the_i_of_a_player_is_that_player(text: str, player: str) -> None:
    assert f"1 starts_with {player}" in _asked_or_said(PIER, text)


def test_the_keys_of_the_encores_may_be_two() -> None:
    read = _asked_or_said(FEST, "Zugabe: G und As")
    assert (read.get("5 key G"), read.get("6 key Ab")) == ("", "")


def test_a_sound_check_is_no_sender_and_no_start() -> None:
    read = read_answers("Stage time: 21:40\nSoundcheck: 17:30", in_sets("Quay", First=("Kiln", "Tar")), today=TODAY)
    assert [said(in_sets("Quay", First=("Kiln", "Tar")), one) for one in read.found] == ["First starts 21:40"]
    assert any("Soundcheck" in one.words for one in read.left)


@pytest.mark.parametrize(
    ("text", "fact"),
    [
        ("Kein Wind geht am Ende direkt über in die Gute Nacht", "none"),  # it is in another set
        ("Nebel im Glas hat Tempo 96 und geht direkt über zu Oma fährt Rad", "1 segue Oma fährt Rad"),
        ("Rostige Leiter enlaza zorp directamente con Kein Wind", "3 segue Kein Wind"),
    ],
)
def test_a_song_that_goes_into_the_next_one_is_asked(text: str, fact: str) -> None:
    read = {one: why for one, why in _asked_or_said(FEST, text).items() if " segue " in one}
    assert list(read) == ([] if fact == "none" else [fact])


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("Los finales: del 1 al 2 corte seco, el 4 fundido", ["1 ending cold", "2 ending cold", "4 ending fade"]),
        ("Rostige Leiter hört zorp hart auf", ["3 ending cold"]),
        ("Kein Wind, ça s'arrête net zorp", ["4 ending cold"]),
        ("Kein Wind, wir spielen das Ende immer wieder bis ich abwinke", ["4 ending vamp-out"]),
    ],
)
def test_the_ending_may_be_said_in_everyday_words(text: str, facts: list[str]) -> None:
    read = _asked_or_said(FEST, text)
    assert [one for one in facts if one not in read] == []


def test_for_how_many_bars_somebody_plays_is_asked_for_the_notes() -> None:
    read = _asked_or_said(PIER, "Moth: you start zorp alone with 4 bars of piano")
    assert any(one.startswith("4 notes ") and "4 bars" in one and why for one, why in read.items())


def test_a_name_that_the_show_does_not_have_is_no_other_song() -> None:
    read = _asked_or_said(PIER, "Moth is in G. Boots Am. The cobbler is in B flat.")
    assert [one for one in read if " key " in one] == ["4 key G"]


def test_the_german_word_for_has_is_no_hi_hat() -> None:
    assert not any("hi-hat" in one for one in _asked_or_said(FEST, "Kein Wind hat zorp Tempo 96"))


def test_i_do_it_is_no_key_of_c_and_no_start() -> None:
    text = (
        "hiya moth we play in c minor number six i do it in a flat and it's really slow number seven is in g okay bye"
    )
    read = _asked_or_said(PIER, text)
    assert not any("starts_with" in one for one in read)
    assert "6 key Ab" in read


@pytest.mark.parametrize(
    "opening",
    [
        "vite écrit entre deux bateaux : ",
        "Typing with gloves on by the van: ",
        "Hola desde la furgoneta: ",
        "Kurz vom Kai: ",
    ],
)
def test_words_before_the_colon_of_a_list_are_not_about_its_first_song(opening: str) -> None:
    read = _asked_or_said(PIER, f"{opening}2 D / 4 G / 6 Em")
    assert [read.get(one) for one in ("2 key D", "4 key G", "6 key Em")] == ["", "", ""]


def test_words_of_doubt_before_the_colon_of_a_list_stay_with_it() -> None:
    assert _asked_or_said(PIER, "not sure about these: 2 D / 4 G / 6 Em")["2 key D"]
