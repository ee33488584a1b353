"""Words that tell when and where the show is, or that a song moves: each in its own line, in many languages."""

import pytest
from leader.reply_shape import BARN, PIER, TODAY, in_sets, reply
from leader.scoring import compare, said

from companion.leader.answers import read_answers

# Source: common practice, no source; the words are invented.
TOLD = [
    ("Aanvang 20:15", "First starts 20:15 ?"),
    ("Inizio 20:15", "First starts 20:15 ?"),
    ("Beginn 20:15", "First starts 20:15"),
    ("inizio alle 19:30", "First starts 19:30 ?"),
    ("20:15 uur", "First starts 20:15 ?"),
    ("à 20 h", "First starts 20:00 ?"),
    ("venerdì 18 dicembre ore 21, portate sciarpe", "show date 2026-12-18\nFirst starts 21:00 ?"),
    ("vendredi 18 décembre à 20 h", "show date 2026-12-18\nFirst starts 20:00 ?"),
    ("Monday 12 aprıl, 6:45 pm", "show date 2027-04-12\nFirst starts 18:45 ?"),  # as a Turkish keyboard types it
    ("Saturday 5 December, 6:45 pm", "show date 2026-12-05\nFirst starts 18:45 ?"),
    ("Saturday 5 December, rehearsal 18:45", "show date 2026-12-05 ?"),
    ("we moved to The Crown Hotel", "show venue The Crown Hotel"),
    ("First set starts at 20:30. Venue: The Glue Works.", "First starts 20:30\nshow venue The Glue Works"),
    ("The room is the Copper Attic, as ever", "show venue the Copper Attic ?"),
    (
        "We are at the Grand Salini Hotel on New Year's Eve, first set from 9.30 pm",
        "show venue Grand Salini Hotel\nshow date 2026-12-31\nFirst starts 21:30",
    ),
    ("The hall is the Copper Grange now", "show venue the Copper Grange"),
    ("We're at the Crown and we start at 8", "show venue Crown\nFirst starts 20:00"),
    (
        "The gig is Saturday 12 December at the Corn Hall and Moth is in G",
        "show date 2026-12-12\nshow venue Corn Hall\n4 key G",
    ),
    ("It's at the Penmor Club btw not the hotel", "show venue Penmor Club ?"),
    ("Der Ort ist der Pfarrsaal Kleinbach", "show venue Pfarrsaal Kleinbach ?"),
    ("Das Konzert ist jetzt im Gasthof Krone", "show venue Gasthof Krone ?"),
    ("Wir spielen ab 19 Uhr im Gasthof Krone", "First starts 19:00 ?\nshow venue Gasthof Krone ?"),
    ("On joue à la salle Jean Moulin", "show venue salle Jean Moulin ?"),
    ("Tocamos en el Casino de Luarca", "show venue Casino de Luarca ?"),
    ("it's now the Old Drill Hall", "show venue Old Drill Hall ?"),
    ("The party moves to the Grand Pavilion", "show venue Grand Pavilion"),
    ("We will park behind the Corn Hall", ""),
    ("it's a big room with a bar", ""),
    ("Moth we moved to G", "4 key G"),
    ("Moth we moved to B flat", "4 key Bb"),
    ("Moth moved to Fm", "4 key Fm"),
    ("No. 4 will not be sung.", "4 dropped yes"),
    ("Moth: not this year", "4 dropped yes"),
    ("1 in re adesso", "1 key D"),
    ("kettle in re adesso, non più in fa", "3 key D ?"),
    ("1 en re ahora", "1 key D"),
]


@pytest.mark.parametrize(("text", "facts"), TOLD)
def test_when_where_and_what_moves_is_told_in_few_words(text: str, facts: str) -> None:
    score = compare(reply(PIER, text, facts), read_answers(text, PIER, today=TODAY))
    assert (score.missing, score.wrong, score.doubted) == ((), (), ())


@pytest.mark.parametrize(
    ("text", "doubt"), [("We play from 7 to 9 pm.", " ?"), ("One set from 7 to 9 pm.", ""), ("We go 7 to 8.30 pm", "")]
)
def test_a_night_without_its_sets_may_have_a_break(text: str, doubt: str) -> None:
    minutes = 90 if "8.30" in text else 120
    facts = f"Main starts 19:00\nMain minutes {minutes}{doubt}"
    score = compare(reply(BARN, text, facts), read_answers(text, BARN, today=TODAY))
    assert (score.missing, score.wrong, score.doubted) == ((), (), ())


SPOKEN = (
    "hi there it's me again from the car so number one is in g number four the drums start it and it's in d "
    "and number seven we do like the record and the last one is c okay love to all"
)
SONGS = [
    (SPOKEN, "1 key G\n4 starts_with drums\n4 key D\n7 key E\n8 key C"),
    ("die letzte f mit fade", "8 key F\n8 ending fade"),
    ("1 D, goes straight intae 2", "1 key D\n1 segue Old Canal Road"),
    ("6 Eb and ends with a ritard and a long fermata", "6 key Eb\n6 ending ritard\n6 notes long fermata"),
]


@pytest.mark.parametrize(("text", "facts"), SONGS)
def test_each_song_keeps_its_own_facts_in_plain_speech(text: str, facts: str) -> None:
    score = compare(reply(PIER, text, facts), read_answers(text, PIER, today=TODAY))
    assert (score.missing, score.wrong, score.doubted) == ((), (), ())


def test_a_heading_that_is_not_understood_leaves_a_key_as_the_show_has_it() -> None:
    read = read_answers("SET 1 first since that's the heavy lifting:\n3 - F", PIER, today=TODAY)
    assert [(one.song_at, one.field) for one in read.confirms] == [(2, "key")]


def test_words_of_another_sentence_do_not_doubt_a_key_that_the_show_has() -> None:
    text = "hey. kettle F like ya got it. 5 in D, half step... no wait WHOLE step up. rest dont know yet"
    read = read_answers(text, PIER, today=TODAY)
    assert [(one.song_at, one.field) for one in read.confirms] == [(2, "key")]


def test_a_word_for_last_or_sing_alone_names_no_title() -> None:
    show = in_sets("Chapel", Only=("Every Stone May Sing", "Sista Spårvagnen Hem", "Lantern"))
    text = "No. 3 we sing in F.\n1 C, sista gången ritardando"
    score = compare(reply(show, text, "3 key F\n1 key C\n1 ending ritard ?"), read_answers(text, show, today=TODAY))
    assert (score.missing, score.wrong) == ((), ())


@pytest.mark.parametrize("text", ["Mara 20:17\n1 in G", "Mara 20:17", "Moth 6:40"])
def test_a_name_and_a_time_alone_start_no_set(text: str) -> None:
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "starts"]


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("Ort: Alte Molkerei.", {"show venue Alte Molkerei"}),
        ("Wo: im Gasthof Krone", {"show venue Gasthof Krone"}),
        ("Lugar: Casa Vieja, Calle Mayor 3", {"show venue Casa Vieja, Calle Mayor 3"}),
        ("Sted: Gamle Mejeri", {"show venue Gamle Mejeri"}),
        ("Local: Quinta da Eira. 1 em ré", {"show venue Quinta da Eira", "1 key D"}),
        ("Samstag, 12. Dezember. Ort: Alte Molkerei.", {"show date 2026-12-12", "show venue Alte Molkerei"}),
        ("Ort: wissen wir noch nicht", set()),
    ],
)
def test_a_label_in_any_language_names_the_place(text: str, facts: set[str]) -> None:
    assert {said(PIER, one) for one in read_answers(text, PIER, today=TODAY).found} == facts


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("Samstag, 19.12.2026, Marktplatz Reinsbach.", {"show date 2026-12-19", "show venue Marktplatz Reinsbach"}),
        ("Saturday, 19 December 2026, The Corn Hall", {"show date 2026-12-19", "show venue The Corn Hall"}),
        ("lørdag, 19. december, Den Blå Kro", {"show date 2026-12-19", "show venue Den Blå Kro"}),
        ("We beginnen om 20.30 uur. Opbouwen kan vanaf 18 uur.", {"First starts 20:30"}),
    ],
)
def test_a_weekday_before_a_comma_is_no_place_and_building_up_no_start(text: str, facts: set[str]) -> None:
    assert {said(PIER, one) for one in read_answers(text, PIER, today=TODAY).found} == facts


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("Saturday 5 December, invoice by 15 January please", {"show date 2026-12-05"}),
        ("Bitte bis 3. Dezember lernen, der Gig ist am 12. Dezember", {"show date 2026-12-12"}),
        ("the gig is this saturday, wrap up warm", {"show date 2026-11-28"}),
        ("Das Konzert ist diesen Freitag, zieh dich warm an", {"show date 2026-12-04"}),
        ("rehearsal is this saturday", set()),
        ("Set 2 - 11.30pm till they carry us out", {"Second starts 23:30"}),
        (
            (
                "Le bal est le vendredi 18 décembre 2026, à la Grange aux Oies. La première partie commence à 21h et "
                "dure 50 minutes, la seconde à 22h15. Les voisins dorment, il y aura du zorp."
            ),
            {"First starts 21:00", "First minutes 50", "Second starts 22:15", "show date 2026-12-18"},
        ),
    ],
)
def test_what_is_said_of_something_else_is_no_day_or_time_of_the_show(text: str, facts: set[str]) -> None:
    found = {said(PIER, one) for one in read_answers(text, PIER, today=TODAY).found if one.field != "venue"}
    assert found == facts


FOG = in_sets("Fog Night", Only=("Fog in the Ballroom", "Somewhere Past Tuesday", "Tin Kite"))


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("Thursday 10 December. Leave out Fog in the Ballroom, Tin Kite in G", {"show date 2026-12-10", "3 key G"}),
        (
            "The trio plays from 19:00. Leave out Fog in the Ballroom, guests in 214 mind. We found one left glove.",
            {"Only starts 19:00"},
        ),
    ],
)
def test_the_end_of_a_title_is_no_place(text: str, facts: set[str]) -> None:
    found = {said(FOG, one) for one in read_answers(text, FOG, today=TODAY).found}
    assert found >= {"1 dropped yes", *facts}
    assert not any("venue" in one for one in found)


def test_past_in_a_time_names_no_song() -> None:
    text = "Fog in the Ballroom use the old grand. Tin Kite in G. And we begin at a quarter past seven."
    found = {said(FOG, one) for one in read_answers(text, FOG, today=TODAY).found}
    assert {"3 key G", "Only starts 19:15"} <= found


@pytest.mark.parametrize(
    ("text", "start"),
    [
        ("on at 10pm, 40 min, drop Moth, rest ask Kito", "22:00"),
        ("on commence à 20h, moth est supprimé", "20:00"),
        ("first set 8pm, we skip moth", "20:00"),
    ],
)
def test_the_times_before_songs_are_read_apart_from_them(text: str, start: str) -> None:
    found = {(one.title, one.field): one for one in read_answers(text, PIER, today=TODAY).found}
    assert (found["First set", "starts"].value, found["First set", "starts"].doubt) == (start, "")
    assert found["Moth", "dropped"].doubt == ""
