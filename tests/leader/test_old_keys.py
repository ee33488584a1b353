"""A key and the one that it replaces, and verbs between a song and its key that are words of another title."""

import pytest
from leader.reply_shape import PIER, TODAY, in_sets, reply
from leader.scoring import compare, said

from companion.leader.answers import read_answers

# Source: common practice, no source; the words are invented. "Kettle on the Jetty" is in F.
REPLACED = [
    ("3 D (changed from F)", "3 key D"),
    ("3 D, up from F, 4 G", "3 key D\n4 key G"),
    ("3 now D, previously F", "3 key D"),
    ("3 D (vorher F)", "3 key D"),
    ("3 en ré, avant en fa", "3 key D"),
    ("3 in re, prima in fa", "3 key D"),
    ("3 en re, antes en fa", "3 key D"),
    ("3 is no longer F, it is now D", "3 key D"),
    ("3 isn't in F, it's in D", "3 key D"),
    ("3: nicht mehr F, sondern D", "3 key D"),
    ("3 plus en fa, en ré", "3 key D"),
    ("3 ya no en fa, en re", "3 key D"),
    ("3 D (changed from C)", "3 key D !"),
    ("> 3 Kettle on the Jetty (F?)\nNo longer F, it is now D.", "3 key D"),
    ("3 D now, forget the F nonsense", "3 key D"),
    ("3 D, ignore the F", "3 key D"),
    ("3 spielen wir in D, vergiss das F", "3 key D"),
    ("3 en ré, oublie le fa", "3 key D"),
    ("3 in re e non più in fa", "3 key D"),
    ("3 en re y ya no en fa", "3 key D"),
    ("3: forget the F", "left 3: forget the F"),
    ("4 A, 5 was G", "4 key A\nleft 5 was G"),
]


@pytest.mark.parametrize(("text", "facts"), REPLACED)
def test_a_key_that_is_said_to_be_old_is_not_the_key(text: str, facts: str) -> None:
    score = compare(reply(PIER, text, facts), read_answers(text, PIER, today=TODAY))
    assert (score.missing, score.wrong) == ((), ())


def test_a_verb_after_a_song_names_no_other_song() -> None:
    show = in_sets("Kermis", Only=("Natte Klompen", "De Poort Staat Open", "Tante Loes", "Alles Geht Vorbei"))
    text = "Natte Klompen staat in A.\nTante Loes staat in E mineur.\nDe Poort staat in G.\nVorbei geht in D."
    facts = "1 key A\n3 key Em\n2 key G\n4 key D"
    score = compare(reply(show, text, facts), read_answers(text, show, today=TODAY))
    assert (score.missing, score.wrong, score.doubted) == ((), (), ())


SAID_SHORTLY = [
    ("4 G ja", "4 key G"),
    ("4 Am bleibt", "4 key Am"),
    ("4 c again", "4 key C ?"),
    ("moth we arnt doin it", "4 dropped yes"),
    ("4 we're not gonna do it", "4 dropped yes"),
    ("4. We shall not be singing this one.", "4 dropped yes ?"),
    ("moth let's not", "4 dropped yes ?"),
    ("Moth wird nicht gesungen", "4 dropped yes"),
]


@pytest.mark.parametrize(("text", "facts"), SAID_SHORTLY)
def test_a_word_after_a_key_and_a_refusal_are_read_in_speech(text: str, facts: str) -> None:
    score = compare(reply(PIER, text, facts), read_answers(text, PIER, today=TODAY))
    assert (score.missing, score.wrong) == ((), ())


@pytest.mark.parametrize("text", ["moth let's not rush it", "we will not play louder", "not singing, humming"])
def test_a_refusal_of_something_else_leaves_no_song_out(text: str) -> None:
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "dropped" and not one.doubt]


@pytest.mark.parametrize("text", ["1 D. The rest is as in your list.", "1 D. Rest as per your list"])
def test_the_rest_as_in_the_list_confirms_the_keys_that_the_show_has(text: str) -> None:
    read = read_answers(text, PIER, today=TODAY)
    assert [(one.song_at, one.field) for one in read.confirms] == [(2, "key")]


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("4 the record is in Fm but we do Gm", {"4 record_key Fm", "4 key Gm"}),
        ("4 is C on the record but D for us", {"4 key D"}),
        ("Moth est en do sur le disque mais on la fait en ré", {"4 key D"}),
        ("Moth ist auf der Platte in D aber bei uns in C", {"4 record_key D", "4 key C"}),
    ],
)
def test_the_key_of_the_record_is_not_that_of_the_song_before_but(text: str, facts: set[str]) -> None:
    found = {said(PIER, one) for one in read_answers(text, PIER, today=TODAY).found}
    assert {one for one in found if " key " in one or " record_key " in one} == facts
