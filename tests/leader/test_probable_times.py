"""Times of sets in lines with words that nothing explains: they land, each with a doubt."""

import pytest
from leader.reply_shape import TODAY, in_sets

from companion.leader.answers import read_answers
from companion.show import Show

TWO = in_sets("Quay", **{"Set 1": ("Moth", "Kettle"), "Set 2": ("Lantern",)})
ACTS = in_sets("Fog", **{"Act 1": ("Moth",), "Act 2": ("Kettle",)})
BARN = in_sets("Barn", Dances=("Moth",), Songs=("Kettle",))
HOUSE = in_sets("Bar", **{"House set": ("Moth",), "Jam starters": ("Kettle",)})
ONE = in_sets("Chapel", Service=("Moth",))
CENA = in_sets("Gala", **{"Cena": ("Moth",), "Show 1": ("Kettle",), "Show 2": ("Lantern",)})
DANS = in_sets("Feest", Receptie=("Moth",), Dans=("Kettle",))


def times(show: Show, line: str) -> str:
    """Return what a line tells of each set, and whether any of it lands without a doubt."""
    found = read_answers(line, show, today=TODAY).found
    said = {(one.set_at, one.field): one.value for one in found}
    told = [f"{said.get((at, 'starts'), '-')}+{said.get((at, 'minutes'), '-')}" for at in range(len(show.sets))]
    assert all(one.doubt for one in found if one.field in ("starts", "minutes")), found
    return " ".join(told)


# How people write it; no source. The words between stand for any words.
@pytest.mark.parametrize(
    ("show", "line", "told"),
    [
        (ACTS, "Act One goes up at 7.30 and runs 65 minutes, Act Two at 8.55, runs 50.", "19:30+65 20:55+50"),
        (ACTS, "Act 1 kicks off 9pm sharp (me, sharp) and goes 50 mins. Act 2 22:40, another 50.", "21:00+50 22:40+50"),
        (TWO, "lads on at half nine, off at eleven, back on at half eleven till one.", "21:30+90 23:30+90"),
        (BARN, "hall at six, dancing half seven to nine, songs twenty past nine for 40 mins", "19:30+90 21:20+40"),
        (HOUSE, "Doors 7. House set 8 to 8:45 then the jam till eleven.", "20:00+45 20:45+135"),
        (TWO, "Set 1 8 o'clock 45 mins, set 2 after the raffle about half 9", "20:00+45 21:30+-"),
        (TWO, "První série od půl osmé, 45 minut, druhá od devíti, hodina.", "19:30+45 21:00+60"),
        (TWO, "Drugi set od wpół do dziewiątej, około dwóch godzin", "-+- 20:30+120"),
        (TWO, "1ª parte das 21h30 às 23h00, 2ª parte da meia-noite às 2h", "21:30+90 0:00+120"),
        (TWO, "Första danspasset börjar 19.30 och är 60 minuter, andra börjar 21.00.", "19:30+60 21:00+-"),
        (TWO, "upstairs: first 1745-1830, then second 2230-2345", "17:45+45 22:30+75"),
        (TWO, "upstairs half eight and ten o'clock, both 45 mins", "20:30+45 22:00+45"),
        (CENA, "Note: dinner music from 19:30 to 20:30, first show 21:15 (40 min). Staff meal at 18:45.",
         "19:30+60 21:15+40 -+-"),
        (DANS, "so: reception set 18h30 to 19h15, the dancing at 21h00 is 75 minutes", "18:30+45 21:00+75"),
        (TWO, "Erratum: le concert commence à 20h15 et non 20h30", "20:15+- -+-"),
        (TWO, "set 1 has moved to 8 o'clock, set 2 now 9.15, not 9.45", "20:00+- 21:15+-"),
        (TWO, "Halv nio börjar vi, spelar 45 min, paus en kvart, sen kör vi en timme till.", "20:30+45 -+60"),
        (TWO, "kilátó: első rész fél nyolckor, 45 perc, a második kilenctől", "19:30+45 21:00+-"),
        (TWO, "Lavalla eka setti klo 19.30, 45 min, toka puoli yhdeksältä eli tunti", "19:30+45 20:30+60"),
        (TWO, "Band on at 9 for an hour, raffle 10.15, back on 10.30, same again", "21:00+60 22:30+60"),
        (TWO, "we do 45 from 8.30 then an hour from 10", "20:30+45 22:00+60"),
        (TWO, "vi spelar 45 från 20.30, sen en timme från 22", "20:30+45 22:00+60"),
        (TWO, "on fait 45 dès 20h30, puis une heure dès 22h", "20:30+45 22:00+60"),
        (TWO, "On at 8 for 50 min, break 20, then 50 more", "20:00+50 -+50"),
        (TWO, "Two sets, 8.15 and 10, 45 mins each. Get in from 6.", "20:15+45 22:00+45"),
        (TWO, "doors 7, support 7.45, us 8.30 to 9.15 and 9.45 to 10.45", "20:30+45 21:45+60"),
        (TWO, "Aften: første sæt kl. 20, 45 min, andet kl. 21.15, en time", "20:00+45 21:15+60"),
        (TWO, "Envelat: primera part a les 9 del vespre, tres quarts d'hora, segona a dos quarts d'onze",
         "21:00+45 22:30+-"),
        (TWO, "Prvé kolo o pol ôsmej, 45 minút, druhé o deviatej, hodina", "19:30+45 21:00+60"),
        (TWO, "eka setti seitsemältä 45 minuuttia, toka puoli yhdeksältä tunti", "19:00+45 20:30+60"),
        (TWO, "Zaczynamy o dziewiętnastej, drugi set o wpół do dziewiątej, po 45 minut", "19:00+45 20:30+45"),
        (TWO, "Prvi set u 20 h, 45 minuta, drugi u pola deset, sat vremena.", "20:00+45 21:30+60"),
        (TWO, "Set cyntaf am 8, 45 munud, ail set 9.30", "20:00+45 21:30+-"),
        (TWO, "Začnemo ob osmih, potem ob desetih, oba 45 minut", "20:00+45 22:00+45"),
        (TWO, "eka setti alkaen kahdeksan, 45 min, toka alkaen kymmenen", "20:00+45 22:00+-"),
        (TWO, "> Set 2: When does it start, and how long is it?\nten, an hour", "-+- 22:00+60"),
        (TWO, "two forty-five minute sets for the troops, on at 8.30 and 9.45", "20:30+45 21:45+45"),
        (TWO, "At the Anchor: 9 o'clock start, two 45s.", "21:00+45 -+45"),
        (TWO, "8.45 we're on. Second one's 10.15. Hour each.", "20:45+60 22:15+60"),
        (TWO, "start time has moved to 7.45 from 8.15", "19:45+- -+-"),
        (TWO, "Set 2 isn't 9.30 any more, it's 9.45", "-+- 21:45+-"),
        (TWO, "Wir spielen von 20 bis 20:45 Uhr und von 21:15 bis 22 Uhr", "20:00+45 21:15+45"),
        (TWO, "On 20h00. 1er set 45', 2e set 21h15, 1h", "20:00+45 21:15+60"),
        (TWO, "az első blokk fél nyolctól negyed kilencig, a második háromnegyed kilenctől tízig",
         "19:30+45 20:45+75"),
        (TWO, "Sábado 5 de diciembre a las 22:00.", "22:00+- -+-"),
        (TWO, "Wir sind am Freitag, 11. Dezember, 19:30 Uhr dran", "19:30+- -+-"),
        (TWO, "Vrijdag, 20:15 uur", "20:15+- -+-"),
        (TWO, "we hit at 9:30pm", "21:30+- -+-"),
        (ONE, "10am start, done by 11.15, St Bride's", "10:00+75"),
        (ONE, "Sunday at 10.30 in St Ottoline's. The service lasts an hour and ten.", "10:30+70"),
    ],
)  # fmt: skip
def test_times_in_lines_with_words_that_nothing_explains_land_in_doubt(show: Show, line: str, told: str) -> None:
    assert times(show, line) == told


@pytest.mark.parametrize(
    "line",
    [
        "Doors 7 and load in from 16:00 by the gate",
        "20 minute walk from the car park",
        "Moth 3:40",
        "last year the first one was quarter past 8",
        "second verse starts at 1:20",
        "My phone dies at ten so ring before half nine",
        "Rehearsal is on the day, 3pm by the door",
        "And we finish at four, not quarter to.",
        "Everything starts from the five, guitar",
    ],
)
def test_times_of_other_things_are_those_of_no_set(line: str) -> None:
    assert times(TWO, line) == "-+- -+-"


def test_times_beside_facts_of_songs_land_with_them() -> None:
    found = read_answers("Moth in G, set 1 is 8.30 for 45 min, Lantern fades", TWO, today=TODAY).found
    said = {(one.field, one.value) for one in found}
    assert said == {("key", "G"), ("starts", "20:30"), ("minutes", 45), ("ending", "fade")}
