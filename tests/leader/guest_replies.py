"""Replies of guests from all over: a fair in Holland, midsummer, a garden party, a lake, a town feast, a club."""

from leader.peoples_replies import each, people
from leader.reply_shape import in_sets

FAIR = in_sets(
    "Kermis Zandhuizen",
    **{
        "Eerste set": (
            "Regen op Zondag",
            "Fiets zonder Bel",
            "Kaas en Kersen",
            "De Laatste Pont",
            "Oma's Accordeon",
        ),
        "Tweede set": (
            "Natte Sokken",
            "Dansen in de Schuur",
            "Morgen Misschien",
            "Vuurtoren",
            "Tot de Kraaien Komen",
        ),
    },
)
MIDSUMMER = in_sets(
    "Midsommar i Ekvik",
    **{
        "Set 1": ("Björkmarsch", "Sill och Potatis", "Lång Brygga", "Myggornas Vals"),
        "Set 2": ("Bakom Ladan", "Röd Cykel", "Kallt Kaffe", "Hemåt Nu"),
    },
)
GARDEN = in_sets(
    "Rosehill Garden Party",
    Tea=("Lavender Lane", "Second Cup", "The Gardener's Daughter", "Deckchair Blues"),
    Dancing=("Hot Gravel", "Bees in the Piano", "Slow Gate", "Rhubarb Rumba", "Last Light on the Lawn"),
)
LAKE = in_sets(
    "Festa del Lago",
    Aperitivo=("Sotto i Tigli", "Barca Bianca", "Un Gelato per Due"),
    Ballo=("La Polka del Postino", "Notte di Giugno", "Stelle di Carta", "Ciao Ciao Lucciole"),
)
TOWN = in_sets(
    "Stadtfest Ahrental",
    **{
        "Runde 1": ("Blaue Laterne", "Der Zug nach Norden", "Kein Wort davon", "Tanz auf dem Dach"),
        "Runde 2": ("Regenmantel", "Zwei linke Füße", "Spätvorstellung", "Gute Nacht, Ahrental"),
    },
)
CLUB = in_sets(
    "Sunday Club",
    Main=(
        "Copper Kettle Road",
        "Not My Umbrella",
        "Elevator Girl",
        "Tuesday Shoes",
        "Ginger at the Gate",
        "Ninety Steps",
    ),
)

SCHOOL = in_sets(
    "Prom Night",
    **{
        "Dinner": ("Velvet Rope", "Corridor Waltz", "Punch Bowl"),
        "Dance 1": ("Locker Thirteen", "Glitter on the Gym Floor", "Don't Tell Miss Parr", "Slow One for Marcus"),
        "Dance 2": ("Fire Exit Fandango", "Taxi for Six", "Last Bell"),
    },
)
CRUISE = in_sets(
    "Captain's Ball",
    **{
        "Overture": ("Gulls at Breakfast", "Ropes and Roses"),
        "Main show": ("Seven Knots", "Purser's Polka", "Tide Table Blues", "Lady in the Lifeboat"),
        "Encore": ("Home on the Ebb",),
    },
)
TRIO = in_sets(
    "Trio",
    **{
        "Set A": ("Milchkaffee", "Regen im August", "Die blaue Tür"),
        "Set B": ("Abendzug", "Kleiner Walzer", "Letzte Runde"),
    },
)

GUEST_REPLIES = (
    people(FAIR, "1 in G, 2 in D, de rest in A", "1 key G", "2 key D", *each("3 4 5 6 7 8 9 10", "key A")),
    people(FAIR, "Regen in G klein\nFiets in Bes\nVuurtoren in Es", "1 key Gm", "2 key Bb", "9 key Eb"),
    people(FAIR, "4 schrappen we. 5 begint met accordeon.", "4 dropped yes", "5 starts_with accordion"),
    people(
        FAIR,
        "Zaterdag 12 juni 2027\nDe Oude Loods, Zandhuizen",
        "show date 2027-06-12",
        "show venue De Oude Loods, Zandhuizen ?",
    ),
    people(
        FAIR,
        "Eerste set 20.00 uur, 45 minuten\nTweede set 21.15, een uur",
        "Eerste set starts 20:00",
        "Eerste set minutes 45",
        "Tweede set starts 21:15",
        "Tweede set minutes 60",
    ),
    people(FAIR, "6 zelfde als 5\n5 C", "5 key C", "6 key C ?"),
    people(MIDSUMMER, "1 går i G, 2 i D och 3 i A-moll", "1 key G", "2 key D", "3 key Am"),
    people(MIDSUMMER, "Björkmarsch i C\nMyggornas Vals i F\nRöd Cykel i Ess", "1 key C", "4 key F", "6 key Eb"),
    people(MIDSUMMER, "8 stryker vi. Resten i D.", "8 dropped yes", *each("1 2 3 4 5 6 7", "key D")),
    people(
        MIDSUMMER,
        "Fredag 25 juni 2027, Ekviks brygga. Set 1 kl 18.00, 45 min. Set 2 kl 19.30, en timme.",
        "show date 2027-06-25",
        "show venue Ekviks brygga ?",
        "Set 1 starts 18:00",
        "Set 1 minutes 45",
        "Set 2 starts 19:30",
        "Set 2 minutes 60",
    ),
    people(
        MIDSUMMER,
        "5 G, gitarren börjar\n6 D, du börjar",
        "5 key G",
        "5 starts_with guitar",
        "6 key D",
        "6 starts_with keys",
    ),
    people(GARDEN, "Lavender in F, Second Cup in C, Deckchair in G", "1 key F", "2 key C", "4 key G"),
    people(
        GARDEN,
        "We'll leave out Rhubarb. Slow Gate ends on a long held chord.",
        "8 dropped yes",
        "7 ending ends on a long held chord",
    ),
    people(GARDEN, "6 is D or E, depends who turns up to sing", "6 key D ?"),
    people(
        GARDEN,
        "5: everyone straight in. 9: just you, then the cello.",
        "5 starts_with all, straight in",
        "9 starts_with keys, then cello",
    ),
    people(
        GARDEN,
        "The tea set starts at 3pm for 40 minutes, dancing from 7.30 till 9.",
        "Tea starts 15:00",
        "Tea minutes 40",
        "Dancing starts 19:30",
        "Dancing minutes 90",
    ),
    people(GARDEN, "do you have a stand light? mine died. 2 is Eb by the way", "2 key Eb"),
    people(GARDEN, "all the keys you wrote are right. 3 has no dots I'm afraid", "3 chart no"),
    people(
        GARDEN,
        "Sunday 13th June 2027, on the upper lawn at Rosehill House",
        "show date 2027-06-13",
        "show venue Rosehill House ?",
    ),
    people(GARDEN, "1 used to be in G but it's F these days", "1 key F"),
    people(GARDEN, "We need one more for the dancing: Tin Can Tango (Am). 5 C", "5 key C", "left Tin Can Tango"),
    people(GARDEN, "4 hard stop. 5 stab. 6 rit.", "4 ending hard stop", "left 5 stab", "6 ending ritard"),
    people(LAKE, "1 Sol\n2 Re minore\n3 Si bemolle\n4 La", "1 key G", "2 key Dm", "3 key Bb", "4 key A"),
    people(
        LAKE, "la polka in Do, notte in La minore, il resto in Fa", "4 key C", "5 key Am", *each("1 2 3 6 7", "key F")
    ),
    people(LAKE, "via 3, troppo lunga. 6 comincia la chitarra", "3 dropped yes ?", "6 starts_with guitar"),
    people(
        LAKE,
        "sabato 19 giugno 2027\nPiazza del Mercato, Belcastro",
        "show date 2027-06-19",
        "show venue Piazza del Mercato, Belcastro ?",
    ),
    people(LAKE, "5 inizi tu, 7 tutti insieme", "5 starts_with keys", "7 starts_with all ?"),
    people(TOWN, "1 C-Dur, 2 a-Moll, 3 wie 2", "1 key C", "2 key Am", "3 key Am ?"),
    people(
        TOWN, "Laterne in F, Zug in d-Moll. Alle anderen in G.", "1 key F", "2 key Dm ?", *each("3 4 5 6 7 8", "key G")
    ),
    people(
        TOWN,
        "4 fällt weg. 5 beginnt das Schlagzeug, 6 du.",
        "4 dropped yes",
        "5 starts_with drums",
        "6 starts_with keys",
    ),
    people(TOWN, "7 endet kalt, 8 ausblenden", "7 ending cold", "8 ending fade"),
    people(CLUB, "1 E\n2 same\n3 A\n4 same as 3", "1 key E", "2 key E ?", "3 key A", "4 key A ?"),
    people(CLUB, "agh no 3 is in G\n4 C", "3 key G", "4 key C"),
    people(CLUB, "Not Tuesday Shoes, the drummer hates it. 5 F", "4 dropped yes ?", "5 key F"),
    people(CLUB, "the umbrella one is in D and the stairs one in G", "2 key D ?", "left the stairs one in G"),
    people(CLUB, "everything in E flat. Only joking. 1 G, 2 C", "1 key G", "2 key C"),
    people(
        CLUB,
        "1 and 2 (A), 3 and 4 (D), everything apart from these in G",
        *each("1 2", "key A"),
        *each("3 4", "key D"),
        *each("5 6", "key G ?"),
    ),
    people(CLUB, "5 starts with that dripping tap sample on the keys", "5 starts_with keys: that dripping tap sample"),
    people(CLUB, "6 that's Ines's riff, key of B", "6 starts_with Ines: riff", "6 key B"),
    people(
        CLUB,
        "It's Sunday 9th May 2027. We're on at 8.30 p.m. for an hour.",
        "show date 2027-05-09",
        "Main starts 20:30",
        "Main minutes 60",
    ),
    people(CLUB, "sorry ignore 2, it's in F now", "2 key F"),
    people(CLUB, "3 kicks off with bass and congas, then the rest of us", "3 starts_with bass and congas"),
    people(
        CLUB,
        "1 D major 2 B minor 3 F sharp 4 A flat 5 C sharp minor",
        "1 key D",
        "2 key Bm",
        "3 key F#",
        "4 key Ab",
        "5 key C#m",
    ),
    people(
        CLUB,
        "venue is the same, The Copper Kettle, Mill Lane. 1 G",
        "show venue The Copper Kettle, Mill Lane",
        "1 key G",
    ),
    people(CLUB, "swap 6 for something slow. 5 in G", "6 dropped yes ?", "5 key G"),
    people(CLUB, "number 2 capo 4, C shapes, so you're in E", "2 key E", "2 notes capo 4"),
    people(
        LAKE,
        "aperitivo alle 18.30 per 45 minuti, ballo dalle 21 alle 22.30",
        "Aperitivo starts 18:30",
        "Aperitivo minutes 45",
        "Ballo starts 21:00",
        "Ballo minutes 90",
    ),
    people(CLUB, "Could you print two copies of the list? 4 in A minor", "4 key Am"),
    people(
        SCHOOL,
        "Dance 1 all in A except Slow One, that's in F. 8 - A - 140 - drums - stops dead",
        *each("4 5 6", "key A"),
        "7 key F",
        "8 key A",
        "8 tempo 140 ?",
        "8 starts_with drums",
        "8 ending cold",
    ),
    people(SCHOOL, "Taxi: drums kick it off, four bars, then you.", "9 starts_with drums, four bars, then keys"),
    people(SCHOOL, "Locker 13 in B minor, Glitter C, Miss Parr G", "4 key Bm", "5 key C", "6 key G"),
    people(SCHOOL, "No charts for anything in dance 2 I'm afraid.", *each("8 9 10", "chart no")),
    people(SCHOOL, "The only ones you start are 3 and 9.", "3 starts_with keys ?", "9 starts_with keys ?"),
    people(
        CRUISE,
        "1 starts on piano, 3 on guitar, the rest I count",
        "1 starts_with piano",
        "3 starts_with guitar",
        *each("2 4 5 6 7", "starts_with the leader's count"),
    ),
    people(
        CRUISE,
        "Main show starts quarter past nine and runs an hour; overture's a quarter to nine, 20 mins.",
        "Overture starts 20:45",
        "Overture minutes 20",
        "Main show starts 21:15",
        "Main show minutes 60",
    ),
    people(CRUISE, "need a table for 1 laptop. keys: 1 A 2 D", "1 key A", "2 key D", "left laptop"),
    people(TRIO, "Abendzug in As, Letzte Runde in Es, der Kleine Walzer in B", "4 key Ab", "6 key Eb", "5 key Bb ?"),
    people(
        TRIO,
        "1 in C, Klavier fängt an. 3 alle zusammen. 5 lassen wir weg.",
        "1 key C",
        "1 starts_with piano",
        "3 starts_with all ?",
        "5 dropped yes",
    ),
    people(
        MIDSUMMER,
        "1 och 2 i C, 3 börjar basen, 4 slutar tvärt",
        "1 key C",
        "2 key C",
        "3 starts_with bass",
        "4 ending cold",
    ),
    people(
        CLUB,
        "drums: 1, 3, 6. you: 2. everyone together on 4 and 5",
        *each("1 3 6", "starts_with drums"),
        "2 starts_with keys",
        *each("4 5", "starts_with all ?"),
    ),
    people(FAIR, "7 begint de drummer, 9 allemaal tegelijk", "7 starts_with drums", "9 starts_with all ?"),
    people(LAKE, "1 e 2 in Sol, 3 in La", "1 key G", "2 key G", "3 key A"),
    people(CRUISE, "3, 4 and 5 stay in their keys. 6 D.", "6 key D"),
    people(FAIR, "> 5 Oma's Accordeon\nAm\n> 6 Natte Sokken\nsame", "5 key Am", "6 key Am ?"),
    people(CLUB, "odd ones in A, even ones in D. Only joking. 1 D 2 A", "1 key D", "2 key A"),
    people(
        GARDEN,
        "> Tea: When does it start, and how long is it?\n3pm, 40 mins\n"
        "> Dancing: When does it start, and how long is it?\n7.30, same again",
        "Tea starts 15:00",
        "Tea minutes 40",
        "Dancing starts 19:30",
        "Dancing minutes 40 ?",
    ),
)
