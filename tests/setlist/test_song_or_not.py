"""What tells a song from a heading, an event, a note or a name, in lists that nobody else writes (invented)."""

import pytest

from companion.setlist import SetList
from companion.setlist.list_reading import list_in
from companion.setlist.model import ListPage, ListRow, SourceLine, TextSpan
from companion.setlist.parsing.understand import take_in


def read(text: str, name: str = "list.txt") -> SetList:
    return list_in(text.encode(), name)


def said(found: SetList) -> str:
    """Return each set's name and its songs: First: Moth=C [solo]; Weeds | Second: Tidal=G."""
    return " | ".join(
        f"{one.name}: "
        + "; ".join(
            song.title + (f"={song.key}" if song.key else "") + (f" [{song.notes}]" if song.notes else "")
            for song in one.songs
        )
        for one in found.show.sets
    )


CASES = {
    "a title that begins with the word for an encore": (
        "Set 1\nMoth Parade G\nEncore, Petunia A\nWeeds D\n\nSet 2\nTidal Clock C\nFog Bell F\n\nEncore\nJam Jar E",
        "First: Moth Parade=G; Encore, Petunia=A; Weeds=D | Second: Tidal Clock=C; Fog Bell=F | Encore: Jam Jar=E",
    ),
    "an encore on a condition is a heading": (
        "Set 1\nMoth Parade G\nWeeds D\nTidal Clock C\n\nEncore, if they want one\nJam Jar E",
        "First: Moth Parade=G; Weeds=D; Tidal Clock=C | Encore: Jam Jar=E",
    ),
    "a number written to its word": (
        "1set\nMoth Parade G\nWeeds D\n2set\nTidal Clock C\nFog Bell F",
        "First: Moth Parade=G; Weeds=D | Second: Tidal Clock=C; Fog Bell=F",
    ),
    "sets in Hungarian, Romanian and Portuguese words": (
        "1. szett\nMoth Parade G\nWeeds D\n2. szett\nTidal Clock C\nPartea 3\nFog Bell F\n4ª entrada\nJam Jar E",
        "First: Moth Parade=G; Weeds=D | Second: Tidal Clock=C | Third: Fog Bell=F | Fourth: Jam Jar=E",
    ),
    "an encore on a condition, with its song behind a colon": (
        "Set 1\nMoth Parade G\nWeeds D\nTidal Clock Em\n\nencore if they want one: Jam Jar F",
        "First: Moth Parade=G; Weeds=D; Tidal Clock=Em | Encore: Jam Jar=F",
    ),
    "a service: only some of its lines are songs": (
        (
            "ST ODO\nSunday 6 December - 10.30am\n\nWelcome & notices (Pia)\nSONG: Moth Parade (D)\nPrayers - Ada\n"
            "Reading: Luke ch 3 - Tim\nSONG: Weeds (G), capo 3 for guitars\nSermon (25 min)\nSONG: Tidal Clock (A)\n"
            "Bidding prayer\nFinal song: Fog Bell (E)\nCoffee"
        ),
        "First: Moth Parade=D; Weeds=G [capo 3 for guitars]; Tidal Clock=A; Fog Bell=E [Final song]",
    ),
    "a wedding's evening: events, and a song that an event names": (
        (
            "15:00  Guests arrive (playlist)\n20:00  Cake cut\n20:15  FIRST DANCE: Moth Parade (G)\n20:20  SET 1\n"
            "       Weeds (A)\n       Tidal Clock (D)\n       Fog Bell (Em)\n21:00  Buffet + DJ\n22:00  SET 2\n"
            "       Jam Jar (Am)\n       Slow Ferry (G)\n23:00  DJ to close"
        ),
        (
            "First: Moth Parade=G [FIRST DANCE] | First: Weeds=A; Tidal Clock=D; Fog Bell=Em | Second: Jam Jar=Am; "
            "Slow Ferry=G"
        ),
    ),
    "events in German, Dutch, Polish and Spanish": (
        (
            "1. Set\nMoth Parade (G)\nReden\nWeeds (D)\nTortenanschnitt\nTaart aansnijden en koffie\nTidal Clock (C)\n"
            "2. Set\nFog Bell (A)\nOczepiny\nJam Jar (F)\nBrindis\nSlow Ferry (Em)"
        ),
        "First: Moth Parade=G; Weeds=D; Tidal Clock=C | Second: Fog Bell=A; Jam Jar=F; Slow Ferry=Em",
    ),
    "a title of words for events stays one where the list has neither keys nor events": (
        "Moth Parade\nCoffee\nWeeds\nTidal Clock",
        "First: Moth Parade; Coffee; Weeds; Tidal Clock",
    ),
    "dances in front of titles": (
        (
            "TEA DANCE\n\nFIRST HALF\nWaltz      - Lost Moth Waltz - G\nFoxtrot    - Weeds - Eb\n"
            "Cha cha    - Tidal Clock - Am\nTEA & RAFFLE\nSECOND HALF\nTango      - Fog Bell - Dm\nJive   - Jam Jar - A"
        ),
        (
            "First: Lost Moth Waltz=G [Waltz]; Weeds=Eb [Foxtrot]; Tidal Clock=Am [Cha cha] | "
            "Second: Fog Bell=Dm [Tango]; Jam Jar=A [Jive]"
        ),
    ),
    "headings that end in a time": (
        "Family hour 19:00\nMoth Parade D\nWeeds F#m\nLate bar 22:30\nTidal Clock A\nFog Bell Em",
        "Family hour: Moth Parade=D; Weeds=F#m | Late bar: Tidal Clock=A; Fog Bell=Em",
    ),
    "keys written to their titles, by several hands": (
        "Set 1\n1.Moth Parade-A\n2)Weeds Em\n3. Tidal Clock (G )\n4 -Fog Bell- D\n5.. Jam Jar (Am)\n6 Slow Ferry:C",
        "First: Moth Parade=A; Weeds=Em; Tidal Clock=G; Fog Bell=D; Jam Jar=Am; Slow Ferry=C",
    ),
    "numbers with gaps and letters": (
        "12 Moth Parade - A\n14 Weeds - Dm\n31 Tidal Clock - G\n31a Tidal Clock (reprise) - A\n45 Fog Bell - C",
        "First: Moth Parade=A; Weeds=Dm; Tidal Clock=G; Tidal Clock (reprise)=A; Fog Bell=C",
    ),
    "the key behind other words": (
        (
            "Set 1\n- Moth Parade - up a tone so A\n- Weeds - in C for me\n- Tidal Clock in D when all leave\n"
            "- Fog Bell - G"
        ),
        "First: Moth Parade=A [up a tone so A]; Weeds=C [for me]; Tidal Clock=D [when all leave]; Fog Bell=G",
    ),
    "a colon before the record's key and ours": (
        "orig = record, us = what we play\nMoth Parade: orig F, us A\nWeeds: orig A, us Ab\nTidal Clock: orig C, us B",
        "First: Moth Parade=A; Weeds=Ab; Tidal Clock=B",
    ),
    "talk below the list takes a song out": (
        "Moth Parade (A)\nWeeds (D)\nTidal Clock (Em)\n\nEdit: no Weeds, Tim hasn't learned it",
        "First: Moth Parade=A; Tidal Clock=Em",
    ),
    "not tonight, with the reason": (
        "Moth Parade - A\nWeeds - NOT TONIGHT (Mick away)\nTidal Clock - Em\nFog Bell - D",
        "First: Moth Parade=A; Tidal Clock=Em; Fog Bell=D",
    ),
    "an interval with a number": (
        "1. Moth Parade (C)\n2. Weeds (F)\n3. Interval - squash\n4. Tidal Clock (G)",
        "First: Moth Parade=C; Weeds=F | Second: Tidal Clock=G",
    ),
    "a table pasted cell by cell": (
        "No.\nTitle\nKey\n1\nMoth Parade\nG\n2\nWeeds\nEm\n3\nTidal Clock\nC",
        "First: Moth Parade=G; Weeds=Em; Tidal Clock=C",
    ),
    "one line with commas": (
        "tonight: moth, weeds, tidal clock, big red van, and jam jar\nsame keys as always",
        "First: moth; weeds; tidal clock; big red van; jam jar",
    ),
    "a bracket that says what happens here ends no set": (
        "Set 1\nMoth Parade - Am\nWeeds - D\n(acoustic bit, on stools)\nTidal Clock - D\nSet 2\nFog Bell - G",
        "First: Moth Parade=Am; Weeds=D [acoustic bit, on stools]; Tidal Clock=D | Second: Fog Bell=G",
    ),
    "a long title in small letters": (
        "set 1\nmoth parade in A\ntwo left clocks and a right one in E\nweeds in G\nset 2\njam jar in C",
        "First: moth parade=A; two left clocks and a right one=E; weeds=G | Second: jam jar=C",
    ),
    "a chat that adds the next number": (
        (
            "[27/11/2026, 19:10:00] Mo: sat:\n1 Moth Parade\n2 Weeds\n3 Tidal Clock\n"
            "[27/11/2026, 19:16:02] Mo: ok 4 Fog Bell then"
        ),
        "First: Moth Parade; Weeds; Tidal Clock; Fog Bell",
    ),
    "an encore with its song, in other languages": (
        "Set 1\nMoth Parade - A\nWeeds - D\nTidal Clock - Em\nEkstranummer: Fog Bell (F)",
        "First: Moth Parade=A; Weeds=D; Tidal Clock=Em | Encore: Fog Bell=F",
    ),
    "an encore with its song behind a dash": (
        "Set 1\nMoth Parade - A\nWeeds - D\nTidal Clock - Em\nToegift - Tot Morgen, Jan - G",
        "First: Moth Parade=A; Weeds=D; Tidal Clock=Em | Encore: Tot Morgen, Jan=G",
    ),
    "a place in the service before a dash": (
        "Choir processional - Moth Parade - Ab\nTestimony - Ada\nWeeds - F\nTidal Clock - Db\nOffering\nFog Bell - Bb",
        "First: Moth Parade=Ab [Choir processional]; Weeds=F; Tidal Clock=Db; Fog Bell=Bb",
    ),
    "dances, some of them unknown": (
        (
            "Gay Gordons - Moth Reel (D)\nStrip the Willow - Weeds Jigs (G)\nSt Odo's Maggot - Tidal Lullaby (A)\n"
            "Eightsome Reel - Fog Bell (C)"
        ),
        (
            "First: Moth Reel=D [Gay Gordons]; Weeds Jigs=G [Strip the Willow]; Tidal Lullaby=A [St Odo's Maggot]; "
            "Fog Bell=C [Eightsome Reel]"
        ),
    ),
    "times without a colon": (
        "1700-1745 Tea time\nMoth Parade Gm\nWeeds Eb\n1930-2015 Pre dinner\nTidal Clock Bb\nFog Bell Cm",
        "Tea time: Moth Parade=Gm; Weeds=Eb | Pre dinner: Tidal Clock=Bb; Fog Bell=Cm",
    ),
    "numbers of cues": (
        "Q1  Moth Parade - Bb, on baton\nQ2  Weeds - Gm\nQ3  Tidal Clock - F\nQ4  Fog Bell - D",
        "First: Moth Parade=Bb [on baton]; Weeds=Gm; Tidal Clock=F; Fog Bell=D",
    ),
    "an overture above the first number": (
        "PANTO\nOverture (C)\nNo. 1 Moth Parade (G)\nNo. 2 Weeds (F)\nNo. 3 Tidal Clock (Bb)",
        "First: Overture=C; Moth Parade=G; Weeds=F; Tidal Clock=Bb",
    ),
    "a bracket in what stands before a title": (
        (
            "Parade, meet 17:00\nstop 1 (library): Moth March - Bb\nstop 2 (bridge): Weeds - F\n"
            "stop 3 (market): Tidal Samba - Eb"
        ),
        "First: Moth March=Bb [stop 1 (library)]; Weeds=F [stop 2 (bridge)]; Tidal Samba=Eb [stop 3 (market)]",
    ),
    "a word before a colon, and a key behind the title": (
        "Moth Parade - F\nWeeds - Es\nBieranstich\nTidal Clock - As\nRausschmeißer: Gute Nacht, Motte - Es\nFog - B",
        "First: Moth Parade=F; Weeds=Eb; Tidal Clock=Ab; Gute Nacht, Motte=Eb [Rausschmeißer]; Fog=Bb",
    ),
    "the word song before each title": (
        (
            "FAMILY SERVICE\nWelcome (Pia)\nSong - Moth Parade (D)\nSong - Weeds (G), actions!\nAll-age talk\n"
            "Song - Tidal Clock (C)\nNotices and blessing"
        ),
        "First: Moth Parade=D; Weeds=G [actions]; Tidal Clock=C",
    ),
    "times before a few of the songs": (
        (
            "20:15 Set 1\nMoth Parade (A)\nWeeds (D)\n21:00 Ehrungen\n21:45 Set 2\nTidal Clock (C)\nFog Bell (G)\n"
            "23.30 Last song: Jam Jar (F)"
        ),
        "First: Moth Parade=A; Weeds=D | Second: Tidal Clock=C; Fog Bell=G; Jam Jar=F [Last song]",
    ),
    "numbers whose song is cut": (
        "1 Moth Parade - D\n2 Weeds - G\n3 CUT\n4 Tidal Clock - Em\n5 Fog Bell - F",
        "First: Moth Parade=D; Weeds=G; Tidal Clock=Em; Fog Bell=F",
    ),
    "a word for an event among others, in a list with keys": (
        "1.º bloco\nMoth Parade - A\nWeeds - G\nSorteio do cabaz\n2.º bloco\nTidal Clock - Em\nFog Bell - C",
        "First: Moth Parade=A; Weeds=G | Second: Tidal Clock=Em; Fog Bell=C",
    ),
    "a meal or a draw parts a list without headings": (
        "Moth Parade - F\nWeeds - Gm\n* * raffle & pies * *\nTidal Clock - D\nFog Bell - A",
        "First: Moth Parade=F; Weeds=Gm | Second: Tidal Clock=D; Fog Bell=A",
    ),
    "titles of a list without keys are titles, whatever they name": (
        "Buffet Car Blues\nRaffle Ticket Romeo\nDinner Lady\nPrayer Flags\nSpeech Bubble",
        "First: Buffet Car Blues; Raffle Ticket Romeo; Dinner Lady; Prayer Flags; Speech Bubble",
    ),
    "now before each key": (
        "keys changed for Marta:\nMoth Parade now Fm\nWeeds now D\nTidal Clock same, G",
        "First: Moth Parade=Fm [now]; Weeds=D [now]; Tidal Clock=G [same]",
    ),
    "titles between quotation marks, words before them": (
        'Opening - "Moth Parade" in G (Pia lead)\n"Weeds" in D\n"Tidal Clock" in Em, soft\nResponse - "Fog Bell" in C',
        "First: Moth Parade=G [Opening; Pia lead]; Weeds=D; Tidal Clock=Em [soft]; Fog Bell=C [Response]",
    ),
    "a medley in one line, each song with its key": (
        "1. Moth Parade (G)\n2. Hat medley: Bowler (C) / Trilby (F) / Beret (Bb)\n3. Weeds (Dm)",
        "First: Moth Parade=G; Bowler=C [Hat medley]; Trilby=F [Hat medley]; Beret=Bb [Hat medley]; Weeds=Dm",
    ),
    "songs by their key, and other lines": (
        "Ukulele club (you're on keys)\nC songs: Moth Parade, Weeds, Tidal Clock\nF songs: Fog Bell, Jam Jar\nsquash",
        "First: Moth Parade=C; Weeds=C; Tidal Clock=C; Fog Bell=F; Jam Jar=F",
    ),
    "one heading twice, at two times": (
        "17:00 BAND\nMoth Parade - G\nWeeds - C\n17:20 Mayor + countdown\n17:31 BAND\nTidal Clock - D\nFog Bell - A",
        "Band: Moth Parade=G; Weeds=C | Band: Tidal Clock=D; Fog Bell=A",
    ),
    "sets with letters": (
        "A LIST\nMoth Parade - G\nWeeds - C\nB LIST (if time)\nTidal Clock - D\nFog Bell - A",
        "Set A: Moth Parade=G; Weeds=C | Set B: Tidal Clock=D; Fog Bell=A",
    ),
    "a time and a number in front": (
        "7.30 No.4 Moth Parade (G)\n7.50 No.11 Weeds (Dm)\n8.25 No.2 Tidal Clock (F)\n8.45 No.14 Finale (C)",
        "First: Moth Parade=G [at 7:30]; Weeds=Dm [at 7:50]; Tidal Clock=F [at 8:25]; Finale=C [at 8:45]",
    ),
    "small words before titles": (
        "titles - Foggy Moth (Cm)\nchase - Bicycle Weeds (G)\nkiss - Tidal Clock (F)\nstorm - Fog (Dm)",
        "First: Foggy Moth=Cm [titles]; Bicycle Weeds=G [chase]; Tidal Clock=F [kiss]; Fog=Dm [storm]",
    ),
    "who is featured, in a bracket": (
        "Moth Parade (trpt feat. Ellie) - Bb\nWeeds - F\nTidal Clock - Eb",
        "First: Moth Parade=Bb [trpt feat. Ellie]; Weeds=F; Tidal Clock=Eb",
    ),
    "Roman numbers with a point before the word": (
        "I. rész\nMoth Parade - Am\nWeeds - G\nII. rész\nTidal Clock - Dm\nFog Bell - F",
        "First: Moth Parade=Am; Weeds=G | Second: Tidal Clock=Dm; Fog Bell=F",
    ),
    "halls that have letters, and times": (
        "Carols\n14:00 Hall A\nMoth Parade (F)\nWeeds (Bb)\n15:15 Hall B\nTidal Clock (Eb)\nFog Bell (C)",
        "Hall A: Moth Parade=F; Weeds=Bb | Hall B: Tidal Clock=Eb; Fog Bell=C",
    ),
    "each set's songs on one line, without keys": (
        "1st: moth, tin roof, hexham, oboe dave\n2nd: weeds, milk round, ninepin, the long one",
        "First: moth; tin roof; hexham; oboe dave | Second: weeds; milk round; ninepin; the long one",
    ),
    "who sings, in a bracket": (
        "Set 1\n1. Moth Parade (vocal: Linda) - G\n2. Weeds - D\n3. Tidal Clock (Wurli) - C",
        "First: Moth Parade=G [vocal: Linda]; Weeds=D; Tidal Clock=C [Wurli]",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_lines_are_taken_for_what_they_are(name: str) -> None:
    text, expected = CASES[name]
    assert said(read(text)) == expected


def test_a_title_that_ends_in_a_key_is_whole_where_the_key_has_its_own_column() -> None:
    found = read("Title,Key,Notes\nC or Not C,G,\nMoth Parade,D,slow\nAll in F,Am,\n", "list.csv")
    assert said(found) == "First: C or Not C=G; Moth Parade=D [slow]; All in F=Am"


def test_events_in_a_table_are_no_songs() -> None:
    rows = "Time,Item,Key\n19:00,Doors,\n19:45,Moth Parade,G\n19:50,Weeds,D\n19:55,Raffle,\n20:15,Tidal Clock,Am\n"
    assert "Doors" not in said(found := read(rows, "list.csv"))
    assert [len(one.songs) for one in found.show.sets] == [2, 1]  # the raffle parts them, in doubt
    assert [doubt.question for line in found.lines for doubt in line.doubts] == [
        "Does a new set begin below this line?"
    ]
    assert [song.title for one in found.show.sets for song in one.songs] == ["Moth Parade", "Weeds", "Tidal Clock"]


def test_a_song_unlike_all_others_is_asked_about_and_a_plain_list_asks_nothing() -> None:
    plain = "1. Moth Parade (G)\n2. Weeds (D)\n3. Tidal Clock (C)\n4. Fog Bell (A)\n5. Jam Jar (E)\n6. Slow Ferry (F)"
    assert not read(plain).in_doubt
    assert not read(plain).doubts
    (odd,) = read(f"{plain}\n7. Kids on bikes").in_doubt
    assert [doubt.question for doubt in odd.doubts] == ["Is 'Kids on bikes' a song?"]


@pytest.mark.parametrize(
    ("second", "asked"),
    [
        ("Gravel Hours", ["Are 'Gravel Hour' and 'Gravel Hours' two songs?"]),
        ("Gravel Hour", []),  # a song played twice
        ("Moths", []),
        ("Gravel Hour 2", []),
    ],
)
def test_nearly_the_same_title_twice_is_asked_about(second: str, asked: list[str]) -> None:
    found = read(f"Gravel Hour - G\nMoth - D\nWeeds - C\n{second} - A")
    assert [doubt.question for line in found.lines for doubt in line.doubts] == asked
    assert sum(len(one.songs) for one in found.show.sets) == 4


def test_a_name_below_a_farewell_is_no_song() -> None:
    rows = ("Song|Key", "Moth Parade|G", "Weeds|D", "Thanks!", "Ottoline")
    page = ListPage(
        tuple(ListRow(SourceLine(at), tuple(row.split("|")), row) for at, row in enumerate(rows)), is_grid=True
    )
    assert said(take_in([page])) == "First: Moth Parade=G; Weeds=D"


def printed(*lines: str) -> ListPage:
    """Return a page with titles at 0 and keys at 200 points, six points a letter."""
    rows = []
    for number, line in enumerate(lines, start=1):
        spans = tuple(
            TextSpan(begin, begin + 6.0 * len(piece), piece)
            for begin, piece in zip((0.0, 200.0), line.split("|"), strict=False)
        )
        rows.append(ListRow(SourceLine(number), (line.replace("|", "  "),), line, spans=spans))
    return ListPage(tuple(rows))


BROKEN = {
    "a last word that leaves the title open": (
        ("Moth Parade|G", "The Ballad of|D", "Ferry", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade=G; The Ballad of Ferry=D; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
    "a word that would not have fitted": (
        ("Moth Parade Tonight|G", "Jam Jar Full Honey|D", "Wednesday", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade Tonight=G; Jam Jar Full Honey Wednesday=D; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
    "a word that would have fitted is another title": (
        ("Moth Parade All of Tonight|G", "Jam Jar|D", "Honey", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade All of Tonight=G; Jam Jar=D; Honey; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
    "the key on the last line": (
        ("Moth Parade|G", "The Ballad of", "Ferry|D", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade=G; The Ballad of Ferry=D; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_title_that_the_page_broke_is_joined(name: str) -> None:
    lines, expected = BROKEN[name]
    assert said(take_in([printed(*lines)])) == expected
