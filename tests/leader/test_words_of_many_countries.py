"""Replies from many countries and trades: their signs for keys, their corrections, their hours, their forms."""

from collections.abc import Mapping
from types import ModuleType

import pytest
from leader.reply_shape import BALL, BARN, PIER, TODAY, in_sets, reply
from leader.scoring import compare
from leader.test_set_times import CHURCH, HALVES, PARTY, QUAY, times_of

from companion.leader import (
    event_words,
    guess_words,
    key_words,
    probable_times,
    reply_words,
    starting_words,
    time_words,
)
from companion.leader.answers import read_answers
from companion.leader.reply_words import words_of
from companion.show import Show

CABARET = in_sets("Cabaret", **{"Set A": ("Forks", "Pallet"), "Set B": ("Lorry", "Blue Van", "Tango for Two")})

# Source: common practice, no source; the words are invented.
LANDS = [
    (BARN, "1 DO, 2 LA-, 3 MIb, 5 FA#-", "1 key C\n2 key Am\n3 key Eb\n5 key F#m"),
    (BARN, "Nummer fünf in Bb", "5 key Bb"),
    (BARN, "la 5 in do e parte la chitarra", "5 key C\n5 starts_with guitar"),
    (BARN, "5 is in a the fiddle starts it", "5 key A\n5 starts_with fiddle"),
    (BARN, "2 in a we end it cold", "2 key A\n2 ending cold"),
    (BARN, "nummer 2 doen we niet nummer 5 in c zoals op de plaat", "2 dropped yes\n5 key C"),
    (
        BARN,
        "numer jeden w D-dur, numer trzy teraz w A-dur, numer cztery zaczyna perkusja, numer pięć wypada",
        "1 key D\n3 key A\n4 starts_with drums\n5 dropped yes",
    ),
    (BARN, "Erstes Lied D, letztes auch D, zweites Lied in g-Moll", "1 key D\n6 key D\n2 key Gm"),
    (BARN, "die drei wie immer, die sechs ist wieder E-Dur", "6 key E"),
    (BARN, "de vijf is in D", "5 key D"),
    (BARN, "haywain do, lantern sol aussi, nettle la aussi", "1 key C\n2 key G\n5 key A"),
    (BARN, "la un en sol, la deux en do comme prévu, la cinq on la fait plus", "1 key G\n2 key C ?\n5 dropped yes"),
    (BARN, "a um é em sol, a três agora em mi", "1 key G\n3 key E"),
    (BARN, "la uno en sol, la tres ahora en la", "1 key G\n3 key A"),
    (BARN, "nummer twee is nu in e", "2 key E"),
    (BARN, "2 in D and goes straight into Ferret Reel and that's it for now", "2 key D\n2 segue Ferret Reel"),
    (BARN, "gatepost E like you've got", "4 key E"),
    (BARN, "2 em do e começa a guitarra", "2 key C\n2 starts_with guitar"),
    (BARN, "num 1 en mi menor num 2 en la mayor num 4 en do", "1 key Em\n2 key A\n4 key C"),
    (BARN, "la número 3 va en sol, número 5 en fa", "3 key G\n5 key F"),
    (BALL, "ok second set\n1 is Em\n2 is A", "11 key Em\n12 key A"),
    (BARN, "2 C; please leave out verse 4", "2 key C\n2 notes please leave out verse 4 ?"),
    (BARN, "1 and 2 down a tone so Gm and Cm", "1 key Gm\n2 key Cm\nleft 1 and 2 down a tone"),
    (BARN, "3 - 2 mins 30 tops", "3 length 2:30 ?\nleft 3 - 2 mins 30 tops"),
    (BALL, "right, now the second set\n3 G", "13 key G"),
    (BALL, "jetzt das zweite Set\n3 G", "13 key G"),
    (BARN, "die ersten fünf in G", "\n".join(f"{number} key G" for number in range(1, 6))),
    (BARN, "1 A-, 2 G", "1 key Am ?\n2 key G"),
    (BARN, "1 A- 2 G", "1 key Am ?\n2 key G"),
    (BARN, "1 Esz-dúr\n2 Fisz-moll\n3 C-dúr", "1 key Eb\n2 key F#m\n3 key C"),
    (BARN, "1 Es, 2 F, 3 C\npardon 3 je D, ne C", "1 key Eb\n2 key F\n3 key D"),
    (BARN, "2 is D, ikke G", "2 key D"),
    (BARN, "Lantern nehrajeme.", "2 dropped yes"),
    (BARN, "2 saltiamola\n3 går ud\n4 nos la saltamos", "2 dropped yes\n3 dropped yes\n4 dropped yes"),
    (BARN, "2 sautons-la ce soir\n3 a gente pula\n4 togliamola", "2 dropped yes\n3 dropped yes\n4 dropped yes"),
    (BARN, "2 odpada\n3 jätetään pois\n4 annulée", "2 dropped yes\n3 dropped yes\n4 dropped yes"),
    (BARN, "2 no va. 3 we make not. 4 não vai", "2 dropped yes ?\n3 dropped yes ?\n4 dropped yes ?"),
    (BARN, "2 omitted this year, 3 cut tonight", "2 dropped yes\n3 dropped yes"),
    (BARN, "2 in D. 3 no va en sol", "2 key D\nleft no va en sol"),
    (BARN, "Lantern and Ferret Reel out, thanks", "2 dropped yes\n3 dropped yes"),
    (BARN, "we're binning 2", "2 dropped yes"),
    (BARN, "so 4 is struck", "4 dropped yes"),
    (BARN, "Starts: 1) bass 2) all 3) keys", "1 starts_with bass\n2 starts_with all\n3 starts_with keys"),
    (BARN, "2 - A - all in on the 1", "2 key A\n2 starts_with all"),
    (BARN, "4: sax pick-up, 5: reeds have the intro", "4 starts_with sax\n5 starts_with reeds"),
    (BARN, "1 = D, me", "1 key D\n1 starts_with the leader ?"),
    (BARN, "1 starts with the waves sample", "1 starts_with waves sample"),
    (BARN, "Haywain was in F, it is not, it is in G", "1 key G"),
    (BARN, "1 about 66. 3 crotchet = 92", "1 tempo 66 ?\n3 tempo 92"),
    (BARN, "Tutto in Fa tranne 2 (La minore)", "2 key Am\n1 key F\n3 key F\n4 key F\n5 key F\n6 key F"),
    (BARN, "2 finishes suddenly, 6: button.", "2 ending suddenly\n6 ending button"),
    (CABARET, "Set B: guitar, keys, drums", "3 starts_with guitar\n4 starts_with keys\n5 starts_with drums"),
    (CABARET, "Set B all in F for the strings", "3 key F ?\n4 key F ?\n5 key F ?"),
    (BARN, "hi it's the drummer, 1 A", "1 key A"),
    (BARN, "box starts everything bar 5", "\n".join(f"{at} starts_with box" for at in (1, 2, 3, 4, 6))),
    (BARN, "1 Dm7, 2 A", "1 key Dm ?\n2 key A"),
    (BARN, "1 La m, 2 Mi M", "1 key Am\n2 key E ?"),
    (BARN, "Lantern is oot", "2 dropped yes"),
    (BARN, "5 Bläser, 6 harp gliss", "5 starts_with horns\n6 starts_with harp"),
    (BARN, "Noten gibt es für 1 und 4. 5 ohne Noten", "1 chart yes\n4 chart yes\n5 chart no"),
    (BARN, "geen partituur voor 2 en 6", "2 chart no\n6 chart no"),
    (BARN, "tú empiezas 1 y 3", "1 starts_with keys\n3 starts_with keys"),
    (BARN, "horns take the top of 2 and 6", "2 starts_with horns\n6 starts_with horns"),
    (BARN, "las tres primeras en Sol, 5 stopt abrupt", "1 key G\n2 key G\n3 key G\n5 ending abrupt"),
    (BARN, "4 attacca 5", "4 segue Nettle"),
    (BARN, "4 empieza el timple solo, 6 termina de golpe", "4 starts_with timple\n6 ending cold"),
    (BARN, "2 termine en fondu, 4 segue as one into 5", "2 ending fade\n4 segue Nettle"),
    (BARN, "2: solo cello opens", "2 starts_with cello"),
    (BARN, "4. Parking: kit by the door.", "left Parking: kit by the door."),
    (PIER, "4 is now the opener, key of A", "4 key A"),
]  # fmt: skip


@pytest.mark.parametrize(("show", "text", "facts"), LANDS)
def test_words_of_other_countries_and_trades_land(show: Show, text: str, facts: str) -> None:
    score = compare(reply(show, text, facts), read_answers(text, show, today=TODAY))
    assert (score.missing, score.wrong, score.lost) == ((), (), ())


@pytest.mark.parametrize(
    ("text", "not_said"),
    [
        ("6 Ab, modulates to A for the last eight", "4 key"),
        ("Table 4 is D list", "4 key D"),
        ("Haywain Em. We took it down cos of my voice", "starts_with"),
        ("4. DRESS: kit. Band: black", "starts_with"),
        ("1 A. After the break 2 E", "1 key E"),
        ("fade Lantern out", "2 dropped"),
        ("Fee: 200 each", "minutes"),
        ("brushes on 2", "2 starts_with"),
        ("everyone drops out on the last chorus of 1", "dropped"),
    ],
)
def test_words_that_look_like_answers_are_none(text: str, not_said: str) -> None:
    number = {song.title: at for at, song in enumerate(BARN.sets[0].songs, start=1)}
    found = read_answers(text, BARN, today=TODAY).found
    assert not [one for one in found if not_said in f"{number.get(one.title)} {one.field} {one.value}"]


@pytest.mark.parametrize(
    ("show", "line", "told"),
    [
        (PARTY, "Drinks ore 17, dinner ore 20 (un'ora), dance dalle 22.15", "17:00 20:00+60 22:15"),
        (HALVES, "First half a las ocho y media, second half a las diez menos cuarto", "20:30 21:45"),
        (HALVES, "First half kwart over acht, second half half tien", "20:15 21:30"),
        (HALVES, "First half twenty past eight, second half twenty to ten", "20:20 21:40"),
        (PARTY, "Drinks van 16u tot 17u30, dinner om 21u, dance om 22u30", "16:00+90 21:00 22:30"),
        (HALVES, "First half een uurtje, second half drie kwartier", "+60 +45"),
        (
            HALVES,
            "El first half a las nueve y media, el second half a las once, 45 minutos cada uno",
            "21:30+45 23:00+45",
        ),
        (QUAY, "Set A od 18:00, set B od 20:30-tól 45 perc", "18:00 20:30+45 -"),
    ],
)
def test_the_hours_of_other_countries_land(show: Show, line: str, told: str) -> None:
    assert times_of(show, line) == told


@pytest.mark.parametrize(
    ("show", "line", "told"),
    [
        (HALVES, "3. TIMINGS: First half 2030 for 45 mins. Second half 2200 for 60 mins.", "20:30+45 22:00+60"),
        (CHURCH, "Sunday 13 December at half past two", "14:30"),
    ],
)
def test_times_that_want_a_look_are_in_doubt(show: Show, line: str, told: str) -> None:
    assert times_of(show, line, doubted=True) == told


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("sábado 19 de diciembre", "2026-12-19"),
        ("el 5 de enero", "2027-01-05"),
        ("lørdag 12. desember", "2026-12-12"),
        ("január 9., szombat", "2027-01-09"),
    ],
)
def test_days_of_other_countries_land(line: str, day: str) -> None:
    found = [(one.field, one.value) for one in read_answers(line, HALVES, today=TODAY).found]
    assert found == [("date", day)]


@pytest.mark.parametrize("text", ["4. Time: G", "4. Place: Am", "Parking: D"])
def test_a_title_that_a_form_may_have_as_a_word_is_no_form(text: str) -> None:
    show = in_sets("Market", Main=("Haywain", "Lantern", "Parking Ticket Prince", "Time and Place"))
    found = [one for one in read_answers(text, show, today=TODAY).found if one.field == "key"]
    assert [one.title for one in found] == ["Parking Ticket Prince" if "Park" in text else "Time and Place"]


@pytest.mark.parametrize("text", ["1 muss in A sein", "1 moet in A zijn", "1 doit être en la", "1 deve essere in la"])
def test_a_key_that_a_song_has_to_be_in_lands(text: str) -> None:
    found = read_answers(text, BARN, today=TODAY).found
    assert [(one.field, one.value, one.doubt) for one in found] == [("key", "A", "")]


def test_them_is_no_key() -> None:
    assert [one for one in read_answers("I count em all off", BARN, today=TODAY).found if one.field == "key"] == []


def test_a_key_and_am_in_small_letters_are_no_time_of_a_show_with_one_set() -> None:
    assert [(one.field, one.value) for one in read_answers("2 Am", BARN, today=TODAY).found] == [("key", "Am")]


@pytest.mark.parametrize(
    "module", [event_words, guess_words, key_words, probable_times, reply_words, starting_words, time_words]
)
def test_each_word_of_a_list_can_be_met_in_a_reply(module: ModuleType) -> None:
    """A word with an accent is compared without it, so that a list that only has the accent never finds it."""
    lists = [one for name, one in vars(module).items() if not name.startswith("__")]
    words = [(one, word) for one in lists if isinstance(one, frozenset | Mapping) for word in one]
    unmet = {word for one, word in words if str(word).isalpha() and words_of(str(word))[0].low not in one}
    assert unmet == set()
