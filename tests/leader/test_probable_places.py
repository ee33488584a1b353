"""The place of the show beside its date and its times, in lines with more words."""

import pytest
from leader.reply_shape import TODAY, in_sets

from companion.leader.answers import read_answers

SHOW = in_sets("Quay", **{"Set 1": ("Moth", "Mill Lane Hall"), "Set 2": ("Lantern",)})


def places(reply: str) -> list[object]:
    return [one.value for one in read_answers(reply, SHOW, today=TODAY).found if one.field == "venue"]


# Invented places, named as people name theirs; no source.
@pytest.mark.parametrize(
    ("reply", "place"),
    [
        ("Friday 22nd January, Amberley lounge, blacks, no tie.", "Amberley lounge"),
        ("Sat 12 Dec, Ottway Village Hall (not the wee one at the pier), 8 till 9.30", "Ottway Village Hall"),
        ("Upstairs at the Crooked Ladle, first Thursday in February (the 4th).", "Crooked Ladle"),
        ("Sunday 13 December at 10.30 in St Ottoline's.", "St Ottoline's"),
        (
            "It's Saturday 30th January, the Liberal Club on Brine Street, the lift's bust",
            "Liberal Club on Brine Street",
        ),
        ("Sobota 23. ledna, kulturní dům Dolní Lhota. Začínáme v osm.", "kulturní dům Dolní Lhota"),
        ("Sábado 5 de dezembro, no salão dos bombeiros, às nove", "salão dos bombeiros"),
        ("Kirtag is am Sonntag, 3. Jänner, beim Kirchenwirt in Oberau.", "Kirchenwirt in Oberau"),
        ("Dissabte 12 de desembre del 2026, a la plaça de la Font.", "plaça de la Font"),
        ("lauantaina 19. joulukuuta Kuikkalan seurantalolla, soitto klo 20", "Kuikkalan seurantalolla"),
        ("Saturday 12th December, The Anchor, Wharf Street. 9 o'clock start.", "The Anchor, Wharf Street"),
        ("so date is fri 18 dec, place: the old bakery in wix, first set 8", "the old bakery in wix"),
        ("On behalf of the Mill Hotel: the party takes place on Thursday 10 December 2026", "Mill Hotel"),
        ("Im Namen vom Hotel Krone: das Fest ist am 10. Dezember 2026", "Hotel Krone"),
        ("Fri 18/12, Stables Bar, 9pm til 9.50", "Stables Bar"),
        ("Szombat, december 12., a Művelődési Ház, 19:30-tól", "Művelődési Ház"),
    ],
)
def test_the_place_beside_a_date_lands(reply: str, place: str) -> None:
    (found,) = places(reply)
    assert str(found).endswith(place)


@pytest.mark.parametrize(
    "reply",
    [
        "Sat 12 Dec, small change from the hotel: we need a bigger amp",
        "Sat 12 Dec, Mill Lane Hall is in G",
        "Sat 12 Dec, doors 7, dress black",
        "Moth is D, parking at the Corn Hall",
    ],
)
def test_other_words_beside_a_date_are_no_place(reply: str) -> None:
    assert places(reply) == []


@pytest.mark.parametrize(
    ("reply", "place"),
    [
        (
            "El baile es el viernes 11 de diciembre en el Teatro Lima, a las 21:30; segunda parte a las 22:45.",
            "Teatro Lima",
        ),
        ("Het feest is zaterdag 12 december in de Oude Schuur, 20:00 uur", "Oude Schuur"),
        ("Perkins, old chap. We play at the Harbour Brasserie on New Year's Eve, 31 December.", "Harbour Brasserie"),
        ("La festa è domenica 13 dicembre in piazza delle Rose; se piove, nella palestra.", "piazza delle Rose"),
        ("Samstag, 12. Dezember, auf dem Dorfplatz; bei Regen in der Turnhalle. Beginn 20 Uhr", "Dorfplatz"),
        ("Le bal est le 12 décembre à la salle des fêtes, s'il pleut au gymnase.", "salle des fêtes"),
    ],
)
def test_neither_a_greeting_nor_a_place_for_rain_is_the_place(reply: str, place: str) -> None:
    assert places(reply) == [place]


@pytest.mark.parametrize(
    ("reply", "place"),
    [
        ("- Date: Saturday 30 January 2027\n- Venue: Orchard Court", "Orchard Court"),
        ("* Place: The Old Dairy", "The Old Dairy"),
        ("• Ort: Alte Remise", "Alte Remise"),
        ("– Lieu : Quai Brasseur", "Quai Brasseur"),
        ("Gig's at the Cotton Grange, Saturday January 23. Doors 7", "Cotton Grange"),
        ("Mornin Beth. Gig's at the Cotton Grange, Saturday January 23. We go on 8:30", "Cotton Grange"),
        ("gig's not the Legion any more its The Pump Room, same date", "The Pump Room"),
        ("Lantern is in G major oh and it's at the dovecote barn not the school ok bye", "dovecote barn"),
        ("The boat is moored at Quai Brasseur this time, that's the venue", "Quai Brasseur"),
        ("wir spielen 45 Minuten im Gasthof Krone, das ist der neue Ort", "Gasthof Krone"),
    ],
)
def test_the_place_that_is_told_lands(reply: str, place: str) -> None:
    assert [str(one) for one in places(reply)] == [place]
