"""Part of a title, or a title in haste, names its song right before an answer; and the words for "as on the record"."""

import pytest
from leader.reply_shape import PIER, TODAY, in_sets
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.music import read_key
from companion.show import Song

FOLK = in_sets(
    "Harvest",
    First=(
        "Far from Killanure",
        "The Sunken Harmonium",
        "Parsnip Soup for Seven",
        Song("Dag på isen", record_key=read_key("D")),
    ),
    Second=("Gatto sul trattore", "Ciao, lavatrice", Song("Sieben Zimtschnecken", record_key=read_key("Eb")), "Wasser"),
)


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("killanur C harmonuim G parsnpi soup Am wasser D", "1 key C ?, 2 key G ?, 3 key Am, 8 key D"),
        ("dag e, schnecken Cm, lava fa#m", "4 key E ?, 7 key Cm ?, 6 key F#m ?"),
        ("trattore sibm, wasser a, 3 ess", "5 key Bbm, 8 key A, 3 key Eb"),
        ("soup – Am", "3 key Am"),
        ("das Zimtschnecke-Lied in F", "7 key F ?"),
        ("par Am, monium: G", "3 key Am ?, 2 key G ?"),
        ("killa C, straight into sunken and 2 G", "1 key C ?, 1 segue The Sunken Harmonium ?, 2 key G"),
        ("isen in D, Jo says drop the Dag and that's it", "4 dropped yes ?, 4 key D ?"),
        ("la lava ya no en mi menor ahora en fa menor", "6 key Fm ?"),
        ("parsn jetzt in F", "3 key F ?"),
        ("on the par C", ""),
        ("seventeen sib", ""),
    ],
)
def test_part_of_a_title_names_its_song_right_before_an_answer(text: str, facts: str) -> None:
    read = read_answers(text, FOLK, today=TODAY)
    assert {f"{said(FOLK, one)}{' ?' if one.doubt else ''}" for one in read.found} == set(
        filter(None, facts.split(", "))
    )


@pytest.mark.parametrize(
    "words",
    [
        *("comme l'enregistrement", "comme sur le disque", "come sul disco", "come nell'originale", "como en el disco"),
        *("como en la grabación", "zoals op de plaat", "zoals de plaat", "som på skivan", "som på pladen", "as rec"),
        *("wie im Original", "wie auf der Platte", "como no disco", "jak na płycie", "jako na desce"),
    ],
)
def test_as_on_the_record_is_the_key_of_the_record(words: str) -> None:
    read = read_answers(f"1 G\n4 {words}\n5 F", FOLK, today=TODAY)
    assert {said(FOLK, one) for one in read.found if not one.doubt} == {"1 key G", "4 key D", "5 key F"}


def test_a_list_with_an_article_in_it_is_one_list() -> None:
    read = read_answers("La 4 et la 7 comme l'enregistrement", FOLK, today=TODAY)
    assert {said(FOLK, one) for one in read.found} == {"4 key D", "7 key Eb"}


COMMON = in_sets("Weir Night", Main=("Hold the Door", "Slow Light Home", "Parking the Moon"))


@pytest.mark.parametrize("text", ["Door, G.", "Door - G", "Door (G)", "Door → G", "Hi. Door, G minor? No, G"])
def test_a_common_word_of_a_title_before_a_sign_and_a_key_names_its_song(text: str) -> None:
    found = [said(COMMON, one) for one in read_answers(text, COMMON, today=TODAY).found]
    assert found == ["1 key G"]


@pytest.mark.parametrize("text", ["Doors 7, door G is at the back", "see you at the door, Gill"])
def test_a_common_word_among_others_names_no_song(text: str) -> None:
    assert not [one for one in read_answers(text, COMMON, today=TODAY).found if one.field == "key" and not one.doubt]


def test_a_player_who_starts_names_no_title_with_the_same_word() -> None:
    show = in_sets("Bal", Only=("La Java", "L'Accordéon Jaune", "Trompete im Schnee"))
    facts = {
        "1 en ré, c'est l'accordéon qui commence": {"1 key D", "1 starts_with accordion"},
        "1 in D, Trompete beginnt": {"1 key D", "1 starts_with trumpet"},
        "l'accordéon en mi mineur": {"2 key Em"},
    }
    for text, expected in facts.items():
        found = {said(show, one) for one in read_answers(text, show, today=TODAY).found}
        assert {one.replace("accordéon", "accordion").replace("Trompete", "trumpet") for one in found} == expected


@pytest.mark.parametrize(
    "text", ["umbrellan stryker vi. 1 G", "1 G, umbrellas slaan we over", "umbrellan streichen wir"]
)
def test_a_title_that_is_cut_short_before_a_verb_of_leaving_out_names_its_song(text: str) -> None:
    found = [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "dropped"]
    assert [one.title for one in found] == ["Nine Wet Umbrellas"]
