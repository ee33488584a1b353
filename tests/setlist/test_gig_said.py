"""The gig in talk, in a mail's subject and in a sheet's headline: its day, its name, and the times of its sets."""

import datetime as dt

import pytest

from companion.setlist import SetList
from companion.setlist.list_reading import list_in
from companion.setlist.model import LineKind

SONGS = "1 Moth Parade - C\n2 Weeds Again - G\n3 Gasworks Walk - A\n4 Late Tram - D\n"
DAY = dt.date(2026, 12, 12)


def chat(*says: str) -> SetList:
    lines = [f"[28/11/2026, 19:0{at}] Mira Oak: {said}\n" for at, said in enumerate(says)]
    return list_in(f"{''.join(lines)}[28/11/2026, 19:20] Mira Oak: SET 1\n{SONGS}".encode(), "chat.txt")


def mail(subject: str, text: str) -> SetList:
    head = (
        f"From: Mira Oak <mira@example.org>\nSubject: {subject}\nDate: Sat, 28 Nov 2026 11:20:00 +0000\n"
        "Message-ID: <1@example.org>\n\n"
    )
    return list_in(f"{head}{text}\n".encode(), "mail.eml")


@pytest.mark.parametrize(
    ("said", "title", "venue", "date"),
    [
        (
            "Hi! Here's the list for Sat 12 December, Mill Lane winter ball. 4 songs sorry",
            "Mill Lane winter ball",
            None,
            DAY,
        ),
        ("the gig is Sat 12th Dec at the Boathouse, load in 5pm", "Boathouse", "Boathouse", DAY),
        ("Set for Sat 12 Dec – The Corner Bar", "The Corner Bar", "The Corner Bar", DAY),
        ("Bal du samedi 12 décembre, salle des fêtes", "Sat 12 Dec 2026", None, DAY),
        ("🎉 Winter Gala Night 🎉 Sat 12 Dec 🎉", "Winter Gala Night", None, DAY),
        ("so happy you can do Sat 12 Dec!", "Sat 12 Dec 2026", None, DAY),
        ("Liste für Samstag, 12. Dezember", "Sat 12 Dec 2026", None, DAY),
        ("rehearsal is Wed 9 December at mine", "New show", None, None),
        ("can you send me the charts by Fri 4 December", "New show", None, None),
        ("the list for Mon 12 December", "New show", None, None),  # no such Monday is near
        ("gig on Sat 12 December, party on Sun 13 December", "Sat 12 Dec 2026", None, DAY),
    ],
)
def test_talk_names_the_gig(said: str, title: str, venue: str | None, date: dt.date | None) -> None:
    show = chat(said).show
    assert (show.title, show.venue, show.date) == (title, venue, date)
    assert said in (show.notes or "")


def test_two_days_that_talk_names_alike_leave_the_day_open() -> None:
    assert chat("there's a party on Sat 12 December", "and a wedding on Sun 13 December").show.date is None


@pytest.mark.parametrize(
    ("subject", "title", "date"),
    [
        ("Saturday 12 December - Mill Lane, two short sets", "Mill Lane", DAY),
        ("Re: Fwd: songs for the barn do", "songs for the barn do", None),
        ("Re: SET LIST Sat 12 Dec Cricket Club", "Cricket Club", DAY),
        ("AW: 12 December", "12 December", DAY),
    ],
)
def test_a_subject_names_the_gig_with_the_day_on_which_it_was_sent(
    subject: str, title: str, date: dt.date | None
) -> None:
    show = mail(subject, f"Hi Kim,\n\nhere it is:\n\nSet 1\n{SONGS}").show
    assert (show.title, show.date) == (title, date)


@pytest.mark.parametrize(
    ("said", "times"),
    [
        ("8.30 pm, two sets of 35 minutes, 20 minutes break", [(1230, 35), (1285, 35)]),
        ("doors 7.30, we start at 8.15, 2 x 45 min with a 30 min break", [(1215, 45), (1290, 45)]),
        ("two sets of 45 minutes", [(None, 45), (None, 45)]),
        ("wir spielen zwei Sets von 45 Minuten ab 20:00, 15 Minuten Pause", [(1200, 45), (1260, 45)]),
        ("three sets of 45 minutes", [(None, None), (None, None)]),
        ("two sets of 45", [(None, 45), (None, 45)]),
        ("we're on at 8.30, two 45s with a 20 min break", [(1230, 45), (1295, 45)]),
        ("2 x 40 from 21:00, 30 min break", [(1260, 40), (1330, 40)]),
        ("two 50 minute sets", [(None, 50), (None, 50)]),
        ("zwei Sets zu 35", [(None, 35), (None, 35)]),
        ("two sets of 20 songs", [(None, None), (None, None)]),
        ("2 x 30 metres of cable", [(None, None), (None, None)]),
    ],
)
def test_talk_tells_the_times_of_all_sets(said: str, times: list[tuple[int | None, int | None]]) -> None:
    sets = mail(
        "Sat 12 December - Mill Lane", f"Hi Kim, {said}.\n\nSet 1\n{SONGS}\nSet 2\n1 Fog - E\n2 Rye - F\n"
    ).show.sets
    assert [(one.starts_min, one.minutes) for one in sets] == times


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (
            "8.30 pm, two sets of 35 minutes, 20 minutes break",
            "times of the sets: 20:30, 21:25; 35 minutes each; kept in the show's notes",
        ),
        ("hi Kim, we play two sets of 45 minutes", "times of the sets: 45 minutes each; kept in the show's notes"),
        (
            "for Sat 12 Dec, Corn Hall: two sets of 45 minutes",
            "names the gig: Corn Hall, Sat 12 Dec 2026; kept in the show's notes · times of the sets: 45 minutes each",
        ),
    ],
)
def test_the_account_says_which_times_were_taken(said: str, told: str) -> None:
    text = f"{said}\n\nSet 1\nMoth - G\nRye - C\nKelp - D\n\nSet 2\nOwl - A\nFir - Em\n"
    found = list_in(text.encode(), "list.txt")
    assert (found.lines[0].took, found.lines[0].says) == (LineKind.ABOUT, told)
    assert found.show.notes
