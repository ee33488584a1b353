"""When the sets start and how long they are, in the words of leaders of many countries."""

import pytest
from leader.reply_shape import TODAY, in_sets

from companion.leader.answers import read_answers
from companion.show import Show

QUAY = in_sets("Quay", **{"Set A": ("Lemon Tart", "Windmill"), "Set B": ("Bell Rope", "Moth"), "Set C": ("Tram Song",)})
QUAY_FOUR = in_sets(
    "Quay", First=("Lemon Tart",), Second=("Bell Rope", "Moth", "Windmill", "Gravel"), Third=("Tram Song",)
)
PARTY = in_sets("Party", Drinks=("Parasol",), Dinner=("Slow Gravy",), Dance=("Confetti", "Shoes Off"))
BLOCKS = in_sets("Fest", **{"Block 1": ("Heuboden",), "Block 2": ("Gartenzwerg",)})
BAL = in_sets("Bal", **{"Apéro": ("La Boîte",), "Bal 1": ("Tango du fournil",), "Bal 2": ("Nuit sans lune",)})
PASES = in_sets("Fiesta", **{"Primer pase": ("Tres tejados",), "Segundo pase": ("Vuelve a Soria",)})
SAET = in_sets("Fest", **{"Første sæt": ("Rugbrød",), "Andet sæt": ("Hyben",)})
HALVES = in_sets("Jubilee", **{"First half": ("Gaslight",), "Second half": ("Apple Cart",)})
ENCORED = in_sets("Barn", First=("Ferret Reel", "Gatepost"), Encore=("Nettle",))
CELLAR = in_sets("The Cellar", Main=("Go Gladly", "Still Waters"))
ONE_SET = in_sets("Brunch", Main=("Go Gladly", "Still Waters"))
CHURCH = in_sets("Harvest", Service=("Go Gladly", "Still Waters"))
WEDDING = in_sets(
    "Wedding", Drinks=("Gravel",), **{"First dance": ("Slow Thing",), "Party 1": ("Clutch",), "Party 2": ("Terrace",)}
)
PIER = in_sets("Pier", Teatime=("Lifeguard",), Late=("Slot",))

LINES = [
    (QUAY, "Sets A at 18:00, B at 20:00, C at 22:30. 45 minutes each.", "18:00+45 20:00+45 22:30+45"),
    (QUAY, "Sets at 7, 8.15 and 9.30, 50 mins each", "19:00+50 20:15+50 21:30+50"),
    (HALVES, "two forty-five minute sets, on at 8.30 and 9.45", "20:30+45 21:45+45"),
    (ENCORED, "main set 50 min from 19:45", "19:45+50 -"),
    (ENCORED, "each set is 50 minutes", "+50 -"),
    (QUAY, "set A at 4, set B at 5.15, both 50 minutes", "16:00+50 17:15+50 -"),
    (QUAY, "set A 7-8, B 8.30-9.30, C 10-11", "19:00+60 20:30+60 22:00+60"),
    (
        PARTY,
        "drinks 3.30 till 4.15, dinner starts at 8 (one hour), dance 10.45 half an hour",
        "15:30+45 20:00+60 22:45+30",
    ),
    (
        PARTY,
        "drinks is four till five dinner half six till eight and we're on for dance from nine",
        "16:00+60 18:30+90 21:00",
    ),
    (PARTY, "Drinks set 3pm (1 x 45)", "15:00+45 - -"),
    (PARTY, "8pm dinner, 9.30 dance", "- 20:00 21:30"),
    (BLOCKS, "Block 1 um 19:30 Uhr, 40 Minuten", "19:30+40 -"),
    (BLOCKS, "1. Block 19 Uhr, 2. Block 20:30 Uhr, jeweils 45 Minuten", "19:00+45 20:30+45"),
    (BAL, "Apéro à 18h30, Bal 1 à 21h, Bal 2 à 23h", "18:30 21:00 23:00"),
    (BAL, "Bal 2 à 23h jusqu'à minuit", "- - 23:00+60"),
    (PASES, "Primer pase a las 20:00, segundo a las 22:15, 50 minutos cada uno", "20:00+50 22:15+50"),
    (SAET, "Første sæt kl. 20, andet sæt kl. 21.30, 45 minutter hver", "20:00+45 21:30+45"),
    (HALVES, "1. Block: 50 Minuten, Beginn 19.15\n2. Block: 40 Minuten, Beginn 20.30", "19:15+50 20:30+40"),
    (HALVES, "2nd half: 40 min, start time 8.30pm", "- 20:30+40"),
    (HALVES, "First half commences at half past seven, second half at nine.", "19:30 21:00"),
    (HALVES, "First half 7.30pm (55 minutes), interval 25 min, second half 8.50pm", "19:30+55 20:50"),
    (CHURCH, "Service 10.30am, 40 mins", "10:30+40"),
    (CHURCH, "service at 10:30, rehearse 9:15", "10:30"),
    (HALVES, "curtain 7.30", "19:30 -"),
    (PARTY, "Dance set 9.00pm sharp, finish 11.", "- - 21:00+120"),
    (WEDDING, "Drinks set 3.30pm (45 min), first dance 7.45pm, party one 8pm to 9pm", "15:30+45 19:45 20:00+60 -"),
    (
        WEDDING,
        "I only do the paperwork, for keys you need Desmond. First party set is 8.45pm, 60 minutes.",
        "- - 20:45+60 -",
    ),
    (PIER, "Teatime is 4 o'clock sharp till quarter to five and the late show is 8.30 till 10.", "16:00+45 20:30+90"),
    (HALVES, "It's the 6th of February 2027. First half at half nine, an hour.", "21:30+60 -"),
    (SAET, "1 Am, 2 C. Vi starter kl. 20.", "20:00 -"),
    (
        QUAY,
        "First set 8 pm for 50 minutes, second 9:15 pm, 45 minutes, last one 10.30 pm, 30 min.",
        "20:00+50 21:15+45 22:30+30",
    ),
    (QUAY, "erstes Set 20:00, zweites 21:15, letztes 22:30", "20:00 21:15 22:30"),
    (QUAY, "primo 20:00, secondo 21:15, ultimo 22:30", "20:00 21:15 22:30"),
    (QUAY, "First set is 50 mins. 2nd the same", "+50 +50 -"),
    (HALVES, "First half is 45 minutes, second the same.", "+45 +45"),
    (QUAY, "Set A 40 minutes, set B is the same, third 55", "+40 +40 +55"),
    (QUAY, "2nd set an hour, third 55", "- +60 +55"),
    (ENCORED, "1st set an hour, encore straight after, 15 mins", "+60 +15"),
    (BLOCKS, "Block 1 45 Minuten, Block 2 gleich lang", "+45 +45"),
    (HALVES, "22:30 the first, midnight the second. Bring earplugs.", "22:30 0:00"),
]


def times_of(show: Show, line: str, *, doubted: bool = False) -> str:
    """Return each set's start and length as a line tells them, as in 20:00+45; "-" where it tells nothing."""
    found = [one for one in read_answers(line, show, today=TODAY).found if bool(one.doubt) == doubted]
    said = {(one.set_at, one.field): str(one.value) for one in found}
    sets = range(len(show.sets))
    both = [(said.get((at, "starts"), ""), said.get((at, "minutes"), "")) for at in sets]
    return " ".join(f"{starts}+{minutes}" if minutes else starts or "-" for starts, minutes in both)


@pytest.mark.parametrize(("show", "line", "told"), LINES)
def test_the_times_of_sets_land_without_a_doubt(show: Show, line: str, told: str) -> None:
    assert times_of(show, line) == told


@pytest.mark.parametrize("line", ["2nd set an hour, third 55", "First set is 50 mins. 2nd the same"])
def test_an_ordinal_number_beside_the_length_of_a_set_is_no_song(line: str) -> None:
    read = read_answers(line, QUAY_FOUR, today=TODAY)
    assert {(one.field, one.doubt) for one in read.found} == {("minutes", "")}
    assert not read.left


def test_the_hour_of_a_show_by_day_is_one_of_the_morning() -> None:
    assert times_of(ONE_SET, "We start at 10.30") == "10:30"
    assert times_of(CELLAR, "We start at 10.30 and the service lasts an hour") == "10:30+60"
    assert times_of(ONE_SET, "We start at 9.30 pm") == "21:30"
    assert times_of(WEDDING, "Mass is at 1.30, we start at 8") != "8:00"


# Lines that may mean two things: what lands, with a doubt.
@pytest.mark.parametrize(
    ("show", "line", "told"),
    [
        (CELLAR, "We start at 10.30", "22:30"),
        (QUAY, "set A at 9, set B at 8", "21:00 20:00 -"),
        (HALVES, "Each about fifty minutes.", "+50 +50"),
    ],
)
def test_times_that_may_mean_another_hour_are_in_doubt(show: Show, line: str, told: str) -> None:
    assert times_of(show, line) in ("-", " ".join("-" for _ in show.sets))
    assert times_of(show, line, doubted=True) == told


@pytest.mark.parametrize(
    ("line", "day", "venue"),
    [
        ("Sat 12 Dec 2026, Thornby Rugby clubhouse", "2026-12-12", "Thornby Rugby clubhouse"),
        ("Samedi 6 mars 2027 à la salle des fêtes de Pontavel", "2027-03-06", "salle des fêtes de Pontavel"),
        ("Zaterdag 22 mei 2027, Kasteel Overbrug", "2027-05-22", "Kasteel Overbrug"),
    ],
)
def test_the_place_beside_a_date_lands(line: str, day: str, venue: str) -> None:
    found = read_answers(line, HALVES, today=TODAY).found
    assert {(one.field, one.value) for one in found} == {("date", day), ("venue", venue)}


def test_a_length_too_short_for_a_set_is_in_doubt() -> None:
    assert times_of(WEDDING, "First dance    19:45     5 min", doubted=True) == "- 19:45+5 - -"


@pytest.mark.parametrize(
    "line",
    [
        "It's the 6th of February 2027. First half at half nine, check that with Jo.",
        "First half is 8.30 till 10. I mean nine.",
        "First half is 8.30 till 10. Nine would suit the bar.",
        "First half is 8.30 till 10. Jo says it's later.",
    ],
)
def test_a_sentence_that_may_change_the_times_beside_it_leaves_them_no_surer(line: str) -> None:
    assert times_of(HALVES, line) == "- -"


def test_letters_of_sets_are_no_keys() -> None:
    found = read_answers("set A 7-8, B 8.30-9.30, C 10-11", QUAY, today=TODAY).found
    assert {one.field for one in found} == {"starts", "minutes"}


def test_the_times_of_doors_and_load_in_are_kept_for_the_player() -> None:
    read = read_answers("doors 7, drinks 8, dinner 9", PARTY, today=TODAY)
    assert [str(one) for one in read.left] == ["doors 7, drinks 8, dinner 9"]


def test_the_place_beside_set_times_lands_too() -> None:
    read = read_answers("We're at the Thimble on the 23rd. Set A's at eight o'clock, half an hour.", QUAY, today=TODAY)
    assert {(one.field, one.value) for one in read.found} >= {
        ("venue", "Thimble"),
        ("starts", "20:00"),
        ("minutes", 30),
    }
    assert any("23rd" in piece.words for piece in read.left)
