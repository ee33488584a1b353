"""Habits of those who write lists, each as a small list and what a player reads in it (invented; common practice)."""

import pytest

from companion.setlist import SetList
from companion.setlist.correcting import corrected
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


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Gasworks Corner\nWeeds\n-----\nMoth\nTidal", "Gasworks Corner; Weeds | Moth; Tidal"),
        (
            "Gasworks Corner (G)\nWeeds (C)\n---- break (DJ) ----\nMoth (F)\nTidal (E)",
            "Gasworks Corner=G; Weeds=C | Moth=F; Tidal=E",
        ),
        (
            "PART ONE\nGasworks Corner (G)\n** auction **\nWeeds (C)\n-- MC link --\nMoth (F)\nPART TWO\nTidal (E)",
            "Gasworks Corner=G; Weeds=C; Moth=F | Tidal=E",
        ),
        (
            "Set 1: Gasworks Corner (G), Juniper and Gin (C), Weeds (Em)\nSet 2: Moth (F), Tidal (E), Fog (A)",
            "Gasworks Corner=G; Juniper and Gin=C; Weeds=Em | Moth=F; Tidal=E; Fog=A",
        ),
        (
            "hey! first set: Moth in G, Weeds in C. second set: Tidal in E, Fog in A and finish with Rye in Eb. bye",
            "Moth=G; Weeds=C | Tidal=E; Fog=A; Rye=Eb",
        ),
        (
            'We open with "Moth" in G, after that it is "Weeds" (Dm) and "Tidal", and we close with "Fog" in C.',
            "Moth=G; Weeds=Dm; Tidal; Fog=C",
        ),
        (
            "1. Moth (G)\n2. Weeds (Dm)\n3. Tidal (C)\nSpares: Fog (Bb), Rye (A)",
            "Moth=G; Weeds=Dm; Tidal=C | Fog=Bb; Rye=A",
        ),
        (
            "Welcome\nSong: Moth (G)\nPrayers (Dilys)\nSong: Weeds (Dm)\nTalk - 20 mins\nSong: Tidal (C)\nBlessing",
            "Moth=G; Weeds=Dm; Tidal=C",
        ),
        (
            "CAROL 1   Moth   in G   (v2 choir)\nCAROL 2   Weeds   in Dm\nCAROL 3   Tidal   in C\nCAROL 4   Fog   in A",
            "Moth=G; Weeds=Dm; Tidal=C; Fog=A",
        ),
        ("1. Moth en Mi mineur\n2. Weeds en Sol majeur\n3. Tidal en La mineur", "Moth=Em; Weeds=G; Tidal=Am"),
        ("Moth LA-\nWeeds SIb- (lungo)\nTidal DO\nFog FA#-\nRye SOL", "Moth=Am; Weeds=Bbm; Tidal=C; Fog=F#m; Rye=G"),
        (
            "Moth C\nWeeds G * up to A in last chorus\nTidal Dm / solo in F\nFog E\nRye A",
            "Moth=C; Weeds=G; Tidal=Dm; Fog=E; Rye=A",
        ),
        ("Moth (G)\nWeeds (D) -> REPLACED by Tidal (A)\nFog (C)", "Moth=G; Tidal=A; Fog=C"),
        ("Spot 1 (12.00)\nMoth / C\nWeeds / G\nSpot 2 (13.15, after egg)\nFog / D", "Moth=C; Weeds=G | Fog=D"),
        (
            "moth  Am\nweeds  G\n--- tune up ---\nfog  Em\ntidal  A\nrye  C",
            "moth=Am; weeds=G | fog=Em; tidal=A; rye=C",
        ),
        ("G\tMoth\nC\tWeeds\nA\tTidal\thorns tacet\nE\tFog\neach", "Moth=G; Weeds=C; Tidal=A; Fog=E"),
        (
            "Set 1\nMoth (G)\nWeeds (C)\nTidal (F)\n# All our songs\nFog (A)\nRye (E)\nMoth (G)\nKelp (D)",
            "Moth=G; Weeds=C; Tidal=F",
        ),
    ],
)
def test_a_text_of_this_form_is_read_as_meant(text: str, expected: str) -> None:
    assert said(read(text)) == expected


def test_no_joins_two_sets_that_a_line_of_dashes_parts() -> None:
    found = read("Gasworks Corner\nWeeds\n-----\nMoth\nTidal")
    (doubt,) = (doubt for line in found.lines for doubt in line.doubts)
    no = next(answer for answer in doubt.answers if answer.word == "no")
    assert said(corrected(found, [(doubt, no)])) == "Gasworks Corner; Weeds; Moth; Tidal"


def test_a_question_below_a_song_doubts_its_key() -> None:
    found = read("> 1. Moth (A)\n> 2. Weeds (C)\nCould we do this in E?\n> 3. Tidal (G)\n> 4. Fog (F)")
    assert said(found) == "Moth=A; Weeds=C; Tidal=G; Fog=F"
    assert "Is 'Weeds' in E?" in [doubt.question for line in found.lines for doubt in line.doubts]


def test_times_beside_a_break_make_no_song_of_it() -> None:
    table = "Start,Song,Key,Length\n20:00,Moth,G,4:45\n20:05,Weeds,C,3:10\n20:10,BREAK,,\n20:30,Tidal,F,4:00\n"
    found = read(table, "list.csv")
    assert said(found) == "Moth=G; Weeds=C | Tidal=F"
    assert found.show.sets[0].songs[0].starts_with is None


def test_a_row_without_set_and_number_is_set_aside_where_all_others_have_both() -> None:
    table = "Title,Key,Set,Order\nMoth,G,1,1\nWeeds,C,1,2\nTidal,F,2,1\nFog,A,2,2\nRye,E,,\n"
    found = read(table, "list.csv")
    assert said(found) == "Moth=G; Weeds=C | Tidal=F; Fog=A"
    assert [one.text.split(",")[0] for one in found.set_aside] == ["Rye"]


def test_a_whole_set_in_one_cell_is_read_line_by_line() -> None:
    table = 'Friday,\n"Set 1\nMoth - G\nWeeds - C\nTidal - F",\n"Set 2\nFog - A\nRye - E\nKelp - D",\n'
    assert said(read(table, "list.csv")) == "Moth=G; Weeds=C; Tidal=F | Fog=A; Rye=E; Kelp=D"


@pytest.mark.parametrize(
    ("course", "starts"),
    [("Doors 7", 1215), ("Load in 16:00 / Soundcheck 17:15", 1215), ("Curfew 11pm", 1215), ("Sunday brunch", 495)],
)
def test_a_set_starts_in_the_evening_where_the_days_course_says_so(course: str, starts: int) -> None:
    found = read(f"{course}\nSET 1 (8.15)\nMoth - G\nWeeds - C\nTidal - F")
    assert found.show.sets[0].starts_min == starts


def test_the_question_which_list_names_how_many_songs_each_has_and_its_day() -> None:
    first, second = "Moth - G\nWeeds - C\nTidal - F", "Moth - G\nWeeds - C\nTidal - F\nFog - A"
    found = read(f"Set list 14 Nov 2026\n{first}\n\nOld list 3 Oct 2026:\n{second}")
    (doubt,) = (doubt for doubt in found.doubts if "to play" in doubt.question)
    assert "has 3 lines, Sat 14 Nov 2026" in doubt.question
    assert "has 4 lines, Sat 3 Oct 2026" in doubt.question


def test_an_account_writes_days_in_one_way() -> None:
    found = read("Date: 2026-12-12\nDecember dinner 12.12.2026\nSet 1\nMoth - G\nWeeds - C\nTidal - F")
    days = [line.says for line in found.lines if line.took.value == "about the show"]
    assert days
    assert all("Sat 12 Dec 2026" in one for one in days)
