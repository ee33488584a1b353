"""Invented replies of band leaders, each with what a human reader takes from it, written before the parser.

A reply is followed by its facts, one a line: "4 key G" lands, "4 key G ?" lands with a doubt, "4 key G !" contradicts
what is written and is asked. "First starts 20:00" is about a set and "show date 2026-12-05" about the show. "4 notes
capo 2" wants these words in the notes. "left ..." wants these words among what was not understood, and "ask 5 key
Pat" a question that somebody else answers. Nothing else may land.
"""

import datetime as dt
from typing import NamedTuple

from companion.music import read_key
from companion.show import Set, Show, Song

TODAY = dt.date(2026, 11, 28)
PIER = Show(
    "Pier Street",
    sets=(
        Set(
            "First",
            songs=(
                Song("Gasworks Corner"),
                Song("Old Canal Road"),
                Song("Kettle on the Jetty", key=read_key("F")),
                Song("Moth"),
            ),
        ),
        Set(
            "Second",
            songs=(
                Song("Café Morgenrot"),
                Song("The Long Ferry Home"),
                Song("Nine Wet Umbrellas", record_key=read_key("E")),
                Song("Postbox Tango"),
            ),
        ),
    ),
)
BALL = Show(
    "Winter Ball",
    sets=(
        Set(
            "First",
            songs=tuple(
                map(
                    Song,
                    (
                        "Harbour Lights Out",
                        "Tin Roof Rain",
                        "Sixpence Waltz",
                        "Red Brick Samba",
                        "Paper Lanterns",
                        "Cold Harbour Lane",
                        "Slow Lorry Home",
                        "Hello Tuesday",
                        "Wooden Hill",
                        "Second Hand Moon",
                    ),
                )
            ),
        ),
        Set(
            "Second",
            songs=tuple(
                map(
                    Song,
                    (
                        "Blue Kettle",
                        "Old Ferry",
                        "Go in G",
                        "Drum Street",
                        "Marmalade Sky",
                        "Cobbled",
                        "Last Bus to Nowhere",
                        "Seven Bridges",
                        "Little Engine",
                        "Goodnight Pier",
                    ),
                )
            ),
        ),
    ),
)


class InventedReply(NamedTuple):
    """A reply to the questions about a show, and its facts."""

    show: Show
    text: str
    facts: tuple[str, ...]


def reply(show: Show, text: str, facts: str) -> InventedReply:
    return InventedReply(show, text, tuple(line.strip() for line in facts.strip().splitlines() if line.strip()))


REPLIES = (
    # ---------------------------------------------------------------- greetings, one line with all of them
    reply(PIER, "Hi Sam, 1 Bb, 2 G, 4 Dm, 5 A. Cheers, Ros", "1 key Bb\n2 key G\n4 key Dm\n5 key A"),
    reply(PIER, "hey! great to have you on board\n1 Bb\n2 G", "1 key Bb\n2 key G"),
    reply(PIER, "Morning! So: 1 is in Bb and 2 is in G. See you Saturday!", "1 key Bb\n2 key G"),
    reply(PIER, "1Bb 2G 4Dm 5A", "1 key Bb\n2 key G\n4 key Dm\n5 key A"),
    reply(PIER, "1-Bb 2-G 4-Dm", "1 key Bb\n2 key G\n4 key Dm"),
    reply(PIER, "1=Bb, 2=G; 4=Dm", "1 key Bb\n2 key G\n4 key Dm"),
    reply(PIER, "Bb for 1, G for 2, and 4 in D minor", "1 key Bb\n2 key G\n4 key Dm"),
    reply(PIER, "#1 Bb\n#2 - G\nno. 4: Dm", "1 key Bb\n2 key G\n4 key Dm"),
    reply(PIER, "1) Bb, you start, fade\n2) G, drums, cold",
          "1 key Bb\n1 starts_with keys\n1 ending fade\n2 key G\n2 starts_with drums\n2 ending cold"),
    reply(PIER, "1 Bb drums cold\n2 G keys fade",
          "1 key Bb\n1 starts_with drums\n1 ending cold\n2 key G\n2 starts_with keys\n2 ending fade"),
    # ---------------------------------------------------------------- quoted
    reply(PIER, "> Which key?\n> 1 Gasworks Corner\nBb\n> 2 Old Canal Road\nG", "1 key Bb\n2 key G"),
    reply(PIER, "> 2 Old Canal Road\n\nG I reckon", "2 key G ?"),
    reply(PIER, ">> 4 Moth\n> Dm\n", "4 key Dm"),
    reply(PIER, "> Who starts?\n> 1 Gasworks Corner\nme\n> 4 Moth\nyou do",
          "1 starts_with the leader\n4 starts_with keys"),
    reply(PIER, "> 2 Old Canal Road    G\n> 4 Moth   Dm", "2 key G\n4 key Dm"),
    reply(PIER, "> What is the date?\n12 December 2026\n> Where is it?\nthe Corn Hall",
          "show date 2026-12-12\nshow venue the Corn Hall"),
    reply(PIER, "On Tue, 24 Nov 2026 at 10:12, Sam wrote:\n> Which key?\n> 4 Moth\nDm\nSent from my phone", "4 key Dm"),
    # ---------------------------------------------------------------- and lists, ranges, the rest
    reply(BALL, "10 and 11 in G", "10 key G\n11 key G"),
    reply(BALL, "1, 2 and 5 in A, 3 Bb", "1 key A\n2 key A\n5 key A\n3 key Bb"),
    reply(BALL, "1-4 all in E", "1 key E\n2 key E\n3 key E\n4 key E"),
    reply(BALL, "11 to 13: C", "11 key C\n12 key C\n13 key C"),
    reply(BALL, "3 & 4 fade, 5+6 cold", "3 ending fade\n4 ending fade\n5 ending cold\n6 ending cold"),
    reply(PIER, "1 and 2 in G, 7 as the record", "1 key G\n2 key G\n7 key E"),
    reply(PIER, "4 as on the record", "ask 4 key record"),
    reply(PIER, "Which key?\n1 and 2 in G, the rest as the record",
          "1 key G\n2 key G\n7 key E\nask 4 key record\nask 5 key record\nask 6 key record\nask 8 key record"),
    reply(PIER, "Who starts? drums on everything except 4, that's you",
          "4 starts_with keys\n" + "\n".join(f"{number} starts_with drums" for number in (1, 2, 3, 5, 6, 7, 8))),
    reply(PIER, "drums start 1, 2 and 5, you start 4",
          "1 starts_with drums\n2 starts_with drums\n5 starts_with drums\n4 starts_with keys"),
    reply(PIER, "both 1 and 2 fade out", "1 ending fade\n2 ending fade"),
    # ---------------------------------------------------------------- sets
    reply(PIER, "set 2: 1 Cm", "5 key Cm"),
    reply(PIER, "Set 1\n1 Bb\n2 G\nSet 2\n1 Cm\n2 D", "1 key Bb\n2 key G\n5 key Cm\n6 key D"),
    reply(PIER, "second set: 1 Cm, 3 Eb", "5 key Cm\n7 key Eb"),
    reply(PIER, "in set 2 number 4 is in D", "8 key D"),
    reply(PIER, "First set starts 8pm, 45 mins. Second set 9.15pm",
          "First starts 20:00\nFirst minutes 45\nSecond starts 21:15"),
    reply(PIER, "set 1 is 20:00, set 2 is 21:30", "First starts 20:00\nSecond starts 21:30"),
    reply(PIER, "both sets are 45 minutes", "First minutes 45\nSecond minutes 45"),
    reply(BALL, "2nd set\n11 G\n12 D", "11 key G\n12 key D"),
    # ---------------------------------------------------------------- short titles
    reply(PIER, "Gasworks Bb", "1 key Bb"),
    reply(PIER, "canal road - G\nkettle stays in F", "2 key G"),
    reply(PIER, "Moth D minor, Umbrellas in E", "4 key Dm\n7 key E"),
    reply(PIER, "Ferry Home is in C and you start it", "6 key C\n6 starts_with keys"),
    reply(PIER, "tango: drums, cold", "8 starts_with drums\n8 ending cold"),
    reply(PIER, "gaswroks corner Bb", "1 key Bb"),
    reply(BALL, "kettle C, harbour G", "11 key C\nleft harbour G"),
    reply(BALL, "Cold Harbour: Em", "6 key Em"),
    reply(BALL, "Go in G is in A", "13 key A"),
    reply(BALL, "Second Hand Moon Ab, Drum Street F", "10 key Ab\n14 key F"),
    reply(BALL, "I start Marmalade Sky and Last Bus", "15 starts_with the leader\n17 starts_with the leader"),
    reply(BALL, "3 Sixpence Waltz C\n4 Red Brick Samba Gm", "3 key C\n4 key Gm"),
    reply(BALL, "3 Red Brick Samba Gm", "4 key Gm ?"),
    # ---------------------------------------------------------------- corrections, contradictions, doubts
    reply(PIER, "2 G\nsorry 2 is A not G", "2 key A"),
    reply(PIER, "1 Bb, 2 G, no wait, 2 A", "1 key Bb\n2 key A"),
    reply(PIER, "sorry, 3 is G not F", "3 key G"),
    reply(PIER, "3 G", "3 key G !"),
    reply(PIER, "actually Kettle is in G now", "3 key G"),
    reply(PIER, "3 F", ""),
    reply(PIER, "2 G\n2 A", "2 key A ?"),
    reply(PIER, "2 G i think", "2 key G ?"),
    reply(PIER, "I think 2 is in G", "2 key G ?"),
    reply(PIER, "2 maybe G, 4 definitely Dm", "2 key G ?\n4 key Dm"),
    reply(PIER, "10 is F# I think?", "left 10 is F#"),
    reply(BALL, "10 is F# I think?", "10 key F# ?"),
    reply(PIER, "2 G?", "2 key G ?"),
    reply(PIER, "2 G or A", "left G or A"),
    reply(PIER, "2 not G", "left not G"),
    reply(PIER, "4 Dm but check with Jo", "4 key Dm ?"),
    # ---------------------------------------------------------------- keys and what is none
    reply(PIER, "2 D then E", "2 key D ?\n2 notes D then E"),
    reply(PIER, "2 D, goes up to E for the last chorus", "2 key D\n2 notes goes up to E"),
    reply(PIER, "2 b flat minor\n4 F sharp", "2 key Bbm\n4 key F#"),
    reply(PIER, "1: Bes? no: B flat\n2: es-moll\n4: fis moll", "1 key Bb\n2 key Ebm\n4 key F#m"),
    reply(PIER, "1 si bemol, 2 la mineur, 4 re minore, 5 sol majeur", "1 key Bb\n2 key Am\n4 key Dm\n5 key G"),
    reply(PIER, "1 g-moll\n2 D-Dur", "1 key Gm\n2 key D"),
    reply(PIER, "6: Bb (capo 1, A shapes)", "6 key Bb\n6 notes capo 1"),
    reply(PIER, "6 capo 3", "6 notes capo 3"),
    reply(PIER, "6 G capo 2", "6 key G ?\n6 notes capo 2"),
    reply(PIER, "6 guitar plays G shapes with capo 3", "6 key Bb ?\n6 notes capo 3"),
    reply(PIER, "2 G, Jo has a cold so maybe lower", "2 key G ?\nleft Jo has a cold"),
    reply(PIER, "Jo has a cold", "left Jo has a cold"),
    reply(PIER, "4 ends on D", "4 notes ends on D"),
    reply(PIER, "4 a bit faster than the record", "left a bit faster"),
    reply(PIER, "2 G, 112 bpm, 3:40", "2 key G\n2 tempo 112\n2 length 3:40"),
    reply(PIER, "5 is a waltz, 3/4, around 96 bpm", "5 meter 3/4 ?\n5 tempo 96 ?\nleft waltz"),
    # ---------------------------------------------------------------- who starts
    reply(PIER, "1 G, keys start it", "1 key G\n1 starts_with keys"),
    reply(PIER, "4 keys riff", "4 starts_with keys"),
    reply(PIER, "who starts: 1 drums, 2 me", "1 starts_with drums\n2 starts_with the leader"),
    reply(PIER, "1 four clicks, 2 guitar intro, 4 all together",
          "1 starts_with click\n2 starts_with guitar\n4 starts_with all"),
    reply(PIER, "Jo starts 5 alone", "5 starts_with Jo"),
    reply(PIER, "I count in 1 and 2", "1 starts_with the leader\n2 starts_with the leader"),
    reply(PIER, "you're on your own at the top of 4", "left on your own"),
    reply(PIER, "5 no keys", "5 tacet yes"),
    # ---------------------------------------------------------------- endings
    reply(PIER, "1 ends cold, 2 fades out, 4 rit, 5 straight into 6",
          "1 ending cold\n2 ending fade\n4 ending ritard\n5 segue The Long Ferry Home"),
    reply(PIER, "1 doesn't fade", "left doesn't fade"),
    reply(PIER, "How does it end?\n1 dead stop\n2 slows down\n4 tag x3\n5 vamp out",
          "1 ending cold\n2 ending ritard\n4 ending tag\n5 ending vamp-out"),
    reply(PIER, "endings: all cold except 2 which fades",
          "\n".join(("2 ending fade", *(f"{number} ending cold" for number in (1, 3, 4, 5, 6, 7, 8))))),
    reply(PIER, "4 segues into the next one", "4 segue Café Morgenrot ?"),
    # ---------------------------------------------------------------- dropped, charts, recordings
    reply(PIER, "8 dropped", "8 dropped yes"),
    reply(PIER, "we're not doing 8 any more, Moth is in D", "8 dropped yes\n4 key D"),
    reply(PIER, "drop 6 and 8", "6 dropped yes\n8 dropped yes"),
    reply(PIER, "8 drop D", "left drop D"),
    reply(PIER, "8 cut the solo", "left cut the solo"),
    reply(PIER, "Is there a chart?\n1 yes\n2 no\n4 attached", "1 chart yes\n2 chart no\n4 chart yes"),
    reply(PIER, "charts for 1, 2 and 5, no chart for 4", "1 chart yes\n2 chart yes\n5 chart yes\n4 chart no"),
    reply(PIER, "4 https://files.example.org/moth-live.mp3", "4 recording https://files.example.org/moth-live.mp3"),
    reply(PIER, "Moth: here's the link https://files.example.org/a?b=1 (the live one)",
          "4 recording https://files.example.org/a?b=1\n4 notes live one"),
    reply(PIER, "Which recording?\n1 the live one from last year\n2 album version",
          "1 recording live one from last year\n2 recording album version"),
    reply(PIER, "everything's in the folder https://files.example.org/band", "left https://files.example.org/band"),
    # ---------------------------------------------------------------- dates and places
    reply(PIER, "Sat 5 Dec", "show date 2026-12-05"),
    reply(PIER, "date 12.12.", "show date 2026-12-12"),
    reply(PIER, "It's on Friday 5 Dec", "show date 2026-12-05 ?"),
    reply(PIER, "date: 5/6", "left 5/6"),
    reply(PIER, "we play on the 3rd of January at the Old Mill", "show date 2027-01-03\nshow venue Old Mill"),
    reply(PIER, "venue: Corn Hall, Market Street", "show venue Corn Hall, Market Street"),
    # ---------------------------------------------------------------- voice input
    reply(BALL, "number one is in B flat number two is in G number three don't know",
          "1 key Bb\n2 key G\nask 3 key leader"),
    reply(BALL, "one B flat two G three D minor four don't know ask Pat",
          "1 key Bb\n2 key G\n3 key Dm\nask 4 key Pat"),
    reply(BALL, "the third one is in D, the tenth in E flat", "3 key D\n10 key Eb"),
    reply(BALL, "twelve and thirteen in A flat", "12 key Ab\n13 key Ab"),
    reply(BALL, "that one is in G", "left that one is in G"),
    # ---------------------------------------------------------------- somebody else knows
    reply(PIER, "5 don't know, ask Pat", "ask 5 key Pat"),
    reply(PIER, "5 and 6 ask Pat", "ask 5 key Pat\nask 6 key Pat"),
    reply(PIER, "no idea about 5, Jo knows", "ask 5 key Jo"),
    reply(PIER, "Who starts?\n4 not sure yet\n5 you decide", "ask 4 starts_with leader\nask 5 starts_with you"),
    reply(PIER, "4 Dm, not sure how it ends", "4 key Dm\nask 4 ending leader"),
    # ---------------------------------------------------------------- chatter
    reply(PIER, "Thanks for asking!\nBest,\nRos", ""),
    reply(PIER, "wear black please, load-in is at 5", "left wear black\nleft load-in is at 5"),
    reply(PIER, "1 Bb. The drummer is new by the way. 2 G", "1 key Bb\n2 key G\nleft drummer is new"),
    reply(PIER, "I am in a hurry, more later", "left in a hurry"),
    reply(PIER, "2 songs are new", "left 2 songs are new"),
    reply(PIER, "4 people are coming from the agency", "left 4 people"),
    reply(PIER, "1 Bb 👍\n2 G 🙏", "1 key Bb\n2 key G"),
)  # fmt: skip
