"""Habits of those who write lists, each as a small list and what a player reads in it (invented; common practice)."""

import pytest

from companion.setlist import SetList
from companion.setlist.list_reading import list_in

# What is read: sets parted by " | ", songs by "; ", a key behind "=".
PLAIN = "Gasworks Corner=G; Slow Ferry=Dm; Harbour Lamps=A"


def read(text: str, name: str = "list.txt") -> SetList:
    return list_in(text.encode(), name)


def said(found: SetList) -> str:
    return " | ".join(
        "; ".join(f"{song.title}={song.key}" if song.key else song.title for song in one.songs)
        for one in found.show.sets
    )


CASES = {
    "labels of a service": (
        "Call to worship: Gasworks Corner (G)\nResponse: Slow Ferry (Dm)\nClosing - Harbour Lamps (A)",
        PLAIN,
    ),
    "a label of a wedding among plain lines": (
        "First dance: Moth - Db\nSet 1\nGasworks Corner - G\nSlow Ferry - Dm\nHarbour Lamps - A",
        f"Moth=Db | {PLAIN}",
    ),
    "a key behind a colon is no title behind a label": (
        "Gasworks Corner: G\nSlow Ferry: Dm, keys start\nHarbour Lamps: A",
        PLAIN,
    ),
    "numbers of set and place": (
        "1.1 Gasworks Corner - G\n1.2 Slow Ferry - Dm\n1.3 Harbour Lamps - A\n2.1 Moth - C\n2.2 Weeds - E",
        f"{PLAIN} | Moth=C; Weeds=E",
    ),
    "letters of sets before the numbers": (
        "A1 Gasworks Corner G\nA2 Slow Ferry Dm\nA3 Harbour Lamps A\nB1 Moth Bb\nB2 Weeds E",
        f"{PLAIN} | Moth=Bb; Weeds=E",
    ),
    "artists in brackets": (
        "Gasworks Corner (The Wet Ducks) - G\nSlow Ferry (Nina Holt) - Dm\nHarbour Lamps (Parade) - A",
        PLAIN,
    ),
    "tempos in one bracket with keys": (
        "Gasworks Corner [G, 124, 3:45]\nSlow Ferry [Dm, 96, 4:10]\nHarbour Lamps [A, 132, 2:58]",
        PLAIN,
    ),
    "capos": (
        (
            "1. Gasworks Corner - capo 2, shape F (so sounds in G)\n2. Slow Ferry - Dm\n"
            "3. Harbour Lamps - capo 2, G shapes"
        ),
        PLAIN,
    ),
    "a key that changed": ("Gasworks Corner - was A, now G\nSlow Ferry - Dm\nHarbour Lamps - A", PLAIN),
    "letters of singers, one of them B": (
        "(J = Jo, B = Bo)\nGasworks Corner - G - J\nSlow Ferry - Dm - B\nHarbour Lamps - A - B",
        PLAIN,
    ),
    "keys that head groups": (
        "In G:\nGasworks Corner\nMoth\n\nIn D minor:\nSlow Ferry\nWeeds\n\nA:\nHarbour Lamps\nTidal",
        "Gasworks Corner=G; Moth=G; Slow Ferry=Dm; Weeds=Dm; Harbour Lamps=A; Tidal=A",
    ),
    "values named below titles": (
        "Gasworks Corner\nKey: G   Tempo: 124\nSlow Ferry\nKey: Dm   Tempo: 96\nHarbour Lamps\nKey: A   Tempo: 132",
        PLAIN,
    ),
    "dictated": (
        (
            "so we start with gasworks corner thats in g\nthen slow ferry d minor\nthen theres a break\n"
            "and we finish on harbour lamps in a"
        ),
        "gasworks corner=G; slow ferry=Dm | harbour lamps=A",
    ),
    "titles like greetings, between others": (
        "SET 1\nGasworks Corner\nHello Harold\nSlow Ferry\nSET 2\nMoth\nThanks for the Toaster\nWeeds",
        "Gasworks Corner; Hello Harold; Slow Ferry | Moth; Thanks for the Toaster; Weeds",
    ),
    "times from when to when": (
        "9pm-10pm\nGasworks Corner - G\nSlow Ferry - Dm\n10.30pm-11.30pm\nHarbour Lamps - A",
        "Gasworks Corner=G; Slow Ferry=Dm | Harbour Lamps=A",
    ),
    "framed headings": (
        "~*~ SET UNO ~*~\nGasworks Corner [G]\nSlow Ferry [Dm]\n~*~ LAST ORDERS ~*~\nHarbour Lamps [A]",
        "Gasworks Corner=G; Slow Ferry=Dm | Harbour Lamps=A",
    ),
    "times of the day's course": (
        "Doors 7\nSoundcheck 5\nGasworks Corner - G\nSlow Ferry - Dm\nHarbour Lamps - A",
        PLAIN,
    ),
    "a number with a letter": (
        "1. Gasworks Corner - G\n2. Slow Ferry - Dm\n2a. Moth\n3. Harbour Lamps - A",
        "Gasworks Corner=G; Slow Ferry=Dm; Moth; Harbour Lamps=A",
    ),
    "a numbered title like a heading": (
        "1. Gasworks Corner G\n2. Encore, Mademoiselle Cm\n3. Slow Ferry Dm\n4. Harbour Lamps A",
        "Gasworks Corner=G; Encore, Mademoiselle=Cm; Slow Ferry=Dm; Harbour Lamps=A",
    ),
    "the words for a half and for the last songs": (
        "1. Hälfte\nGasworks Corner - G\n2. Hälfte\nSlow Ferry - Dm\nToegift\nHarbour Lamps - A",
        "Gasworks Corner=G | Slow Ferry=Dm | Harbour Lamps=A",
    ),
}


@pytest.mark.parametrize(("text", "expected"), CASES.values(), ids=CASES.keys())
def test_a_habit_is_read_as_meant(text: str, expected: str) -> None:
    assert said(read(text)) == expected


@pytest.mark.parametrize(
    "form", ["{} - A - CUT", "{} - A (not tonight)", "{} - A - gestrichen", "x {} - A", "❌ {} - A", "Not tonight: {}"]
)
def test_a_song_that_the_list_takes_out_is_set_aside(form: str) -> None:
    found = read(f"Gasworks Corner - G\n{form.format('Moth')}\nSlow Ferry - Dm\nHarbour Lamps - A\nWeeds - C")
    assert said(found) == f"{PLAIN}; Weeds=C"
    assert any("Moth" in one.text for one in found.set_aside)


def test_yes_plays_a_song_that_the_list_takes_out() -> None:
    found = read("Gasworks Corner - G\nMoth - A - CUT\nSlow Ferry - Dm\nHarbour Lamps - A")
    (doubt,) = (doubt for line in found.lines for doubt in line.doubts)
    assert doubt.question == "Is 'Moth' played?"
    assert [answer.word for answer in doubt.answers] == ["no", "yes"]


def test_shouted_titles_are_not_taken_out_by_their_last_word() -> None:
    assert said(read("FLAT OUT\nDROPPED\nSHORT CUT\nWAY OUT")) == "FLAT OUT; DROPPED; SHORT CUT; WAY OUT"


def test_words_before_a_colon_in_one_line_of_many_are_asked_about() -> None:
    found = read("Gasworks Corner - G\nSlow Ferry - Dm\nMission: Marmalade - C\nHarbour Lamps - A")
    assert "Mission: Marmalade=C" in said(found)
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Does 'Mission' belong to the title?"]


@pytest.mark.parametrize(
    ("head", "below"),
    [("LATEST - use this one (v3)", "---- OLD v2, ignore ----"), ("", ""), ("FRIDAY - rock night", "SATURDAY - party")],
)
def test_a_second_list_below_the_first_is_set_aside_and_asked_about(head: str, below: str) -> None:
    first = "Set 1\nGasworks Corner - G\nSlow Ferry - Dm\nHarbour Lamps - A\nSet 2\nMoth - C\nWeeds - E"
    second = "Set 1\nHarbour Lamps - A\nTidal - G\nGasworks Corner - F"
    found = read(f"{head}\n{first}\n\n{below}\n{second}")
    assert said(found) == f"{PLAIN} | Moth=C; Weeds=E"
    assert any("the list to play?" in doubt.question for doubt in found.doubts)


def test_a_second_column_called_keys_holds_the_sounds_of_the_keys() -> None:
    found = read(
        "Song,Key,Keys,Start\nGasworks Corner,G,Piano,Drums\nSlow Ferry,Dm,Strings,Keys\nHarbour Lamps,A,Organ,All",
        "l.csv",
    )
    assert said(found) == PLAIN
    assert "Piano" in (found.show.sets[0].songs[0].notes or "")
    assert not any(line.doubts for line in found.lines)
