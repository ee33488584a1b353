"""Clauses as leaders type them: what is understood lands, what is not is kept alone."""

import pytest
from leader.reply_shape import BARN, PIER, TODAY, in_sets, reply
from leader.scoring import compare

from companion.leader.answers import read_answers
from companion.show import Show

ALL_BUT = "\n".join(f"{number} ending cold" for number in (1, 2, 3, 5, 6))

# Source: common practice, no source; the words are invented.
LANDS = [
    (BARN, "everything ends dead except 4 fades", f"{ALL_BUT}\n4 ending fade"),
    (BARN, "everything ends dead except 4", ALL_BUT),
    (BARN, "1 ends dead. 2 fades", "1 ending cold\n2 ending fade"),
    (BARN, "I start 2, 5\noh and 3", "2 starts_with the leader\n5 starts_with the leader\n3 starts_with the leader"),
    (PIER, "2 em Lá menor, 3 em Dó", "2 key Am\n3 key C !"),
    (PIER, "A 1 é em Sol. A 4 já não tocamos.", "1 key G\n4 dropped yes"),
    (BARN, "5 Fá# menor", "5 key F#m"),
    (BARN, "2 in a klein, 3 in C groot", "2 key Am\n3 key C"),
    (BARN, "fiddle starts 1 and 6, whistle on 5", "1 starts_with fiddle\n6 starts_with fiddle\n5 starts_with whistle"),
    (BARN, "1 rhythm section 8 bars", "1 starts_with rhythm section, 8 bars"),
    (BARN, "2 C, whistle begins, four bars alone", "2 key C\n2 starts_with whistle, four bars alone"),
    (BARN, "2: re maggiore\n3: re anche\n4: sol también\n5: D ook", "2 key D\n3 key D\n4 key G\n5 key D"),
    (BARN, "6 is in D, bass starts (me!).", "6 key D\n6 starts_with bass"),
    (BARN, "6 is in D. Ends on a big crash.", "6 key D\n6 ending Ends on a big crash"),
    (BARN, "3: a mineur, jij begint, eindigt met fade-out", "3 key Am\n3 starts_with keys\n3 ending fade"),
    (BARN, "2: C, drums beginnen, 124 bpm", "2 key C\n2 starts_with drums\n2 tempo 124"),
    (BARN, "We're not playing 5 or 1 this time.", "5 dropped yes\n1 dropped yes"),
    (BARN, "Leave Ferret Reel out please", "3 dropped yes"),
    (BARN, "On ne joue plus Ferret Reel.", "3 dropped yes"),
    (BARN, "4 goes on until I nod, 5 big rit", "5 ending ritard\nleft 4 goes on until I nod"),
    (BARN, "4 watch Zak nod, 5 big rit", "5 ending ritard\nleft 4 watch Zak nod"),
    (
        BARN,
        "Drop Haywain and Copper Street, Gatepost back in D, add Slow Down Sheila (Bm) after Lantern",
        "1 dropped yes\n4 key D\nleft Copper Street\nleft add Slow Down Sheila (Bm) after Lantern",
    ),
]


@pytest.mark.parametrize(("show", "text", "facts"), LANDS)
def test_a_clear_clause_lands_and_no_words_beside_it_doubt_it(show: Show, text: str, facts: str) -> None:
    score = compare(reply(show, text, facts), read_answers(text, show, today=TODAY))
    assert (score.missing, score.wrong, score.doubted, score.lost) == ((), (), (), ())


@pytest.mark.parametrize(
    ("text", "fact"),
    [
        ("everything ends zorp except 4 fades", "4 ending fade ?"),  # what the others do is not understood
        ("3 G, 5 G\nand 2", "3 key G\n5 key G\n2 key G ?"),
        ("5 is Am if memory serves", "5 key Am ?"),
    ],
)
def test_words_that_may_mean_another_fact_land_with_a_doubt_or_for_no_other_song(text: str, fact: str) -> None:
    score = compare(reply(BARN, text, fact), read_answers(text, BARN, today=TODAY))
    assert (score.missing, score.wrong, score.doubted) == ((), (), ())


@pytest.mark.parametrize(("words", "field"), [("6 not G", "key"), ("4 not cold", "ending")])
def test_words_that_may_state_one_kind_of_fact_stay_open_as_that_question(words: str, field: str) -> None:
    assert [(one.words, one.field) for one in read_answers(words, BARN, today=TODAY).left] == [(words, field)]


def test_a_call_is_no_ending() -> None:
    assert not read_answers("I'll ring you about the rest of them", BARN, today=TODAY).found


@pytest.mark.parametrize("said", ["stops on 4", "stops on beat 4", "stop on the 4"])
def test_the_beat_that_a_song_stops_on_is_no_songs_number(said: str) -> None:
    found = read_answers(f"7 F, {said}", PIER, today=TODAY).found
    assert [(one.field, one.value) for one in found] == [("key", "F"), ("ending", "stops on 4")]
    assert len({(one.set_at, one.song_at) for one in found}) == 1


@pytest.mark.parametrize(
    "line",
    [
        "7 – même tonalité que sur l'enregistrement.",
        "7. la tonalidad del disco",
        "7: la stessa tonalità del disco",
        "7: dezelfde toonsoort als op de plaat",
        "7 = record key NO EXCEPTIONS",
        "Nine Wet - the recording key",
        "7 as record n all",
        "7 how on the record",
        "As to 7: the record stands.",
        "5 in D, 6 in A, 7 as on the record too, 8 in G",
    ],
)
def test_a_clause_that_only_speaks_of_the_record_says_its_key(line: str) -> None:
    found = {(one.song_at, one.value): one.doubt for one in read_answers(line, PIER, today=TODAY).found}
    assert found[2, "E"] == ""
    assert not [value for at, value in found if at == 2 and value != "E"]


@pytest.mark.parametrize("line", ["7 not on the record", "7 no record", "7 the record is wrong", "7 no disc"])
def test_words_that_deny_the_record_say_no_key(line: str) -> None:
    assert not [one for one in read_answers(line, PIER, today=TODAY).found if one.field == "key"]


def test_as_to_is_no_a_flat() -> None:
    found = read_answers("As to 1: B minor\nAs for 2: D", PIER, today=TODAY).found
    assert {(one.song_at, one.value) for one in found} == {(0, "Bm"), (1, "D")}


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("> Song 2 (Lantern) - key?\nD\n> Song 5 (Nettle) - key / who starts?\nA MINOR / BASS", "2 D;5 Am;5 bass"),
        ("4 in fa, sfuma piano piano", "4 F;4 fade"),
        ("4 in fa, sfuma pian piano", "4 F;4 fade"),
        ("3 lasts four minutes and ten seconds", "3 4:10"),
        ("3 C. Four minutes ten.", "3 C;3 4:10"),
        ("3: three minutes twenty", "3 3:20"),
        ("Nettle must not be longer than 3 minutes", "5 3:00"),
        ("3 darf nicht länger als 4 Minuten sein", "3 4:00"),
        ('"Nettle" not to be played, please', "5 True"),
        ("3 is not to be performed", "3 True"),
        ("3 soll nicht gespielt werden", "3 True"),
        ("Nettle fade, no need for the organ", "5 fade;5 no need for the organ"),
        ("3 starts with trumpet (me!)", "3 trumpet"),
        ("3 parti tu col piano, 4 parte il basso", "3 piano;4 bass"),
        ("3 du fängst mit dem Klavier an", "3 piano"),
        ("3 e miner, the bass guitar will begin", "3 Em;3 bass guitar"),
        ("5: cut from the set", "5 True"),
    ],
)
def test_each_of_these_clauses_lands_and_says_no_more(text: str, facts: str) -> None:
    found = {f"{(one.song_at or 0) + 1} {one.value}" for one in read_answers(text, BARN, today=TODAY).found}
    assert found == set(facts.split(";"))


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        (
            "SET 1 (20h15, 45 min)\n1. G\n2. D\n4. Am\n\nSET 2 (21h30, 45 min)\n1. F\n2. C",
            "0.0 G;0.1 D;0.3 Am;1.0 F;1.1 C",
        ),
        ("Set 1 20:15\n1. G\n2. D\n\nSet 2 21:30\n5. F\n6. C", "0.0 G;0.1 D;1.0 F;1.1 C"),
        ("Set 1 20:15\nSet 2 21:30\n1. G\n2. D\n3. Am", "0.0 G;0.1 D"),
    ],
)
def test_a_set_with_its_times_heads_the_numbers_below_it(text: str, keys: str) -> None:
    found = [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "key"]
    assert {f"{one.set_at}.{one.song_at} {one.value}" for one in found} == set(keys.split(";"))
    assert not any(one.doubt for one in found)


def test_the_end_of_a_number_belongs_to_no_song_behind_it() -> None:
    text = "okay so number two is in g and it's about one hundred and ten number three fades out"
    found = read_answers(text, PIER, today=TODAY).found
    assert [(one.title, one.field, one.value) for one in found] == [
        ("Old Canal Road", "key", "G"),
        ("Old Canal Road", "tempo", "110"),
        ("Kettle on the Jetty", "ending", "fade"),
    ]


def test_a_short_and_within_a_title_is_nobody_who_starts() -> None:
    show = in_sets("Markt", First=("Rost und Regen", "Nebel"))
    found = read_answers("Nebel F. Rost u. Regen G", show, today=TODAY).found
    assert [one for one in found if one.field == "starts_with"] == []
    assert [(one.title, one.value) for one in found if one.field == "key"] == [("Nebel", "F"), ("Rost und Regen", "G")]


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [("1 D, 88 to the minute", "tempo", "88"), ("1 F, three-four, bass starts", "meter", "3/4")],
)
def test_tempos_and_meters_in_plain_words_land(text: str, field: str, value: str) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert [(str(one.value), one.doubt, one.song_at) for one in found if one.field == field] == [(value, "", 0)]
