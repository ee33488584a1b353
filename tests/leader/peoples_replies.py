"""Replies of people of many kinds: an old bandleader, a singer on the telephone, a table, a form, a church, a chat."""

from leader.reply_shape import InventedReply, in_sets

from companion.music import read_key
from companion.show import Show, Song


def people(show: Show, text: str, *facts: str) -> InventedReply:
    """Return a reply and its facts."""
    return InventedReply(show, text, facts)


def each(numbers: str, fact: str) -> tuple[str, ...]:
    """Return a fact of several songs."""
    return tuple(f"{number} {fact}" for number in numbers.split())


def keyed(title: str, key: str) -> str | Song:
    """Return a song whose key the show says already."""
    return Song(title, key=read_key(key))


JUBILEE = in_sets(
    "Larkfield Jubilee",
    **{
        "First half": (
            "Copper Beeches",
            "Trolleybus Serenade",
            "Mabel on the Mangle",
            keyed("Ration Book Rag", "F"),
            "Doodlebug Drag",
            "Apple Cart",
        ),
        "Second half": (
            "Harvest Supper Stomp",
            "Quiet in the Vestry",
            "Penny Farthing Foxtrot",
            "Gaslight",
            "Coronation Chicken",
            "Time, Gentlemen",
        ),
    },
)
WEDDING = in_sets(
    "Fenwick wedding",
    Drinks=("Sugared Almonds", "Parasol", "Nobody's Bouquet"),
    Dinner=("Slow Gravy", "Velvet Cushion", keyed("Second Helping", "C"), "Cheese Board"),
    Party=("Confetti Cannon", "Uncle Desmond", "Limbo at Leonard's", "Shoes Off", "Last Minibus"),
)
CHURCH = in_sets(
    "Harvest praise",
    Service=(
        "Come As the Morning",
        "Rivers and Barns",
        "Bread for the Many",
        "Still at the Doorway",
        "All Our Fields",
        "Go Gladly",
    ),
)
SCHOOL = in_sets(
    "battle of the bands",
    Main=(
        "Microwave Sunset",
        "bus stop angel",
        "Vape Cloud Nine",
        "404 Heart",
        "Detention",
        "Kebab at Midnight",
        "Hoodie Weather",
    ),
)
MUSICAL = in_sets(
    "The Lighthouse Keeper's Cat",
    **{
        "Act 1": ("Overture", "Mackerel Sky", "Whiskers", "The Postmistress", "Storm Coming"),
        "Act 2": ("Entr'acte", "Find That Cat", "Lamp Oil", "Home by Tide", "Bows"),
    },
)
FEST = in_sets(
    "Schützenfest Bramloh",
    **{
        "Block 1": ("Heuboden", "Traktor im Regen", "Oma tanzt", "Sternschnuppe"),
        "Block 2": ("Gartenzwerg", "Letzte Runde", "Schnapsidee"),
        "Block 3": ("Nachtbus", "Tschüss Marie"),
    },
)
BAL = in_sets(
    "Bal de Montrouzel",
    Apéro=("La Boîte à sardines", "Mémé fait du vélo", "Sous le préau"),
    Bal=("Tango du fournil", "Les Sabots rouges", "Nuit sans lune", "Encore un canon"),
)
FIESTA = in_sets(
    "Fiesta de Valdecierzo",
    **{
        "Primer pase": ("Luna de aceite", "Perro sin collar", "Tres tejados"),
        "Segundo pase": ("Carnaval de lluvia", "La tía Eulalia", "Vuelve a Soria"),
    },
)
HOSTFEST = in_sets(
    "Høstfest Nørreby",
    **{
        "Første sæt": ("Rugbrød", "Månen over mosen", "Bedstefars hat"),
        "Andet sæt": ("Hyben", "Regn på ruden", "Sidste vals"),
    },
)
QUAYSIDE = in_sets(
    "Quayside residency",
    **{
        "Set A": ("Portobello Pigeon", "Lemon Tart", "Marble Arch Blues", "Nine Lives Nina"),
        "Set B": ("Windmill", "Tuesday's Child Care", "Rocket Salad", "Bell Rope"),
        "Set C": ("Oyster Card", "Moonlit Mop", "Jukebox Gerald", "Goodbye Ginger"),
    },
)

PEOPLES_REPLIES = (
    people(JUBILEE, "The Stomp goes in F; the Vestry in C; the Foxtrot in G.", "7 key F", "8 key C", "9 key G"),
    people(JUBILEE, "No. 8, I cannot for the life of me recall. Muriel will know.", "ask 8 key Muriel"),
    people(
        WEDDING, "so erm the first three are all in G and then slow gravy's in C", *each("1 2 3", "key G"), "4 key C"
    ),
    people(
        WEDDING,
        "right so the party set confetti cannon E uncle desmond A limbo D shoes off G and last minibus also G",
        "8 key E",
        "9 key A",
        "10 key D",
        *each("11 12", "key G"),
    ),
    people(
        WEDDING,
        "can you do cheese board in like F or maybe G I'm not sure what did we do last time",
        "left F or maybe G",
    ),
    people(WEDDING, "last minibus you start it and it just fades at the end", "12 starts_with keys", "12 ending fade"),
    people(
        WEDDING,
        "drinks is four till five dinner half six till eight and we're on for the party from nine",
        "Drinks starts 16:00",
        "Drinks minutes 60",
        "Dinner starts 18:30",
        "Dinner minutes 90",
        "Party starts 21:00",
    ),
    people(WEDDING, "uncle desmond is E flat and so is limbo", *each("9 10", "key Eb")),
    people(
        MUSICAL,
        "No.\tTitle\tKey\tStart\n1\tOverture\tC\tstrings\n2\tMackerel Sky\tEb\tyou\n3\tWhiskers\tF\tdrums",
        "1 key C",
        "1 starts_with strings",
        "2 key Eb",
        "2 starts_with keys",
        "3 key F",
        "3 starts_with drums",
    ),
    people(
        MUSICAL,
        "| # | Key | Ends |\n|---|-----|------|\n| 2 | Eb | button |\n| 3 | F | cold |\n| 4 | Dm | fade |",
        "2 key Eb",
        "2 ending button",
        "3 key F",
        "3 ending cold",
        "4 key Dm",
        "4 ending fade",
    ),
    people(
        MUSICAL,
        "Act 1: C, Eb, F, Dm, Bb\nAct 2: C, G, Am, F, C",
        "1 key C",
        "2 key Eb",
        "3 key F",
        "4 key Dm",
        "5 key Bb",
        "6 key C",
        "7 key G",
        "8 key Am",
        "9 key F",
        "10 key C",
    ),
    people(MUSICAL, "1 C | 2 Eb | 3 F | 4 Dm | 5 Bb", "1 key C", "2 key Eb", "3 key F", "4 key Dm", "5 key Bb"),
    people(
        MUSICAL,
        "Act 1 up at 19:30, runs 55. Act 2 at 20:50, 45 mins.",
        "Act 1 starts 19:30",
        "Act 1 minutes 55",
        "Act 2 starts 20:50",
        "Act 2 minutes 45",
    ),
    people(
        WEDDING,
        "Set times as follows:\nDrinks set 3pm (1 x 45)\nDinner set 6.15pm (1 x 60)\nParty set 9pm (1 x 90)",
        "Drinks starts 15:00",
        "Drinks minutes 45",
        "Dinner starts 18:15",
        "Dinner minutes 60",
        "Party starts 21:00",
        "Party minutes 90",
    ),
    people(
        WEDDING,
        "KEYS\n1. G\n2. D\n3. Bb\nENDINGS\n1. Fade\n2. Cold\n3. Rit.",
        "1 key G",
        "2 key D",
        "3 key Bb",
        "1 ending fade",
        "2 ending cold",
        "3 ending ritard",
    ),
    people(WEDDING, "Dress code: black tie. Parking: rear. Contact on the day: Priya 07700 900123.", "left Parking"),
    people(
        WEDDING,
        "Charts provided: 1, 2, 4, 5. No charts: 3, 6, 7.",
        *each("1 2 4 5", "chart yes"),
        *each("3 6 7", "chart no"),
    ),
    people(WEDDING, "Starts 20:30 Finishes 23:00 (Party)", "Party starts 20:30", "Party minutes 150"),
    people(
        CHURCH,
        "Organ starts 1 and 6, guitar the rest.",
        *each("1 6", "starts_with organ"),
        *each("2 3 4 5", "starts_with guitar"),
    ),
    people(CHURCH, "All in D apart from Bread which is in G", *each("1 2 4 5 6", "key D"), "3 key G"),
    people(CHURCH, "Not sure about the key for 4 - ask Tom, he leads it. Everything else as printed.", "ask 4 key Tom"),
    people(SCHOOL, "yo\nmicrowave is E\nbus stop D\nvape cloud Am lol", "1 key E", "2 key D", "3 key Am"),
    people(SCHOOL, "everything in drop D ofc. jk. 1 E 2 D", "1 key E", "2 key D"),
    people(SCHOOL, "idk ask zak for 6 hes the one who wrote it", "ask 6 key zak"),
    people(
        SCHOOL,
        "1 e\n2 d\n3 a minor\n4 idk\n5 same as 1\n6 c#m\n7 g",
        "1 key E",
        "2 key D",
        "3 key Am",
        "5 key E ?",
        "6 key C#m",
        "7 key G",
    ),
    people(
        SCHOOL,
        "ok so all of them r in E except kebab (C) and hoodie (G)",
        *each("1 2 3 4 5", "key E"),
        "6 key C",
        "7 key G",
    ),
    people(
        SCHOOL,
        "u start microwave and vape cloud, zak starts the others",
        *each("1 3", "starts_with keys"),
        *each("2 4 5 6 7", "starts_with zak"),
    ),
    people(
        FEST,
        "Moin! Heuboden in G, Traktor in C, Oma tanzt in F-Dur. Sternschnuppe in d-Moll.",
        "1 key G",
        "2 key C",
        "3 key F",
        "4 key Dm",
    ),
    people(
        FEST,
        "Block 1 um 19 Uhr, Block 2 um 20:30 Uhr, Block 3 um 22 Uhr, jeweils 45 Minuten",
        "Block 1 starts 19:00",
        "Block 2 starts 20:30",
        "Block 3 starts 22:00",
        "Block 1 minutes 45",
        "Block 2 minutes 45",
        "Block 3 minutes 45",
    ),
    people(FEST, "alles in G außer Nachtbus (Am)", *each("1 2 3 4 5 6 7 9", "key G"), "8 key Am"),
    people(BAL, "Salut ! La 1 en sol, la 2 en ré mineur, la 3 en si bémol. Bises", "1 key G", "2 key Dm", "3 key Bb"),
    people(BAL, "Apéro à 19h, bal à 21h30 jusqu'à minuit", "Apéro starts 19:00", "Bal starts 21:30", "Bal minutes 150"),
    people(BAL, "Les Sabots rouges : la batterie commence, fin sèche.", "5 starts_with drums", "5 ending cold"),
    people(BAL, "On enlève Mémé fait du vélo, le reste comme d'habitude", "2 dropped yes"),
    people(BAL, "Tout le bal en la mineur sauf Nuit sans lune en mi mineur", *each("4 5 7", "key Am"), "6 key Em"),
    people(FIESTA, "Hola! La 1 en Do, la 2 en La menor, la 3 en Sol", "1 key C", "2 key Am", "3 key G"),
    people(
        FIESTA, "Segundo pase: todo en Re menos La tía Eulalia que va en Mi menor", *each("4 6", "key D"), "5 key Em"
    ),
    people(
        FIESTA,
        "Primer pase a las 20:00, segundo a las 22:15, 50 minutos cada uno",
        "Primer pase starts 20:00",
        "Segundo pase starts 22:15",
        "Primer pase minutes 50",
        "Segundo pase minutes 50",
    ),
    people(FIESTA, "Quitamos Tres tejados. La batería empieza la 4.", "3 dropped yes", "4 starts_with drums"),
    people(
        HOSTFEST,
        "Hej! 1 går i G, 2 i Am og 3 i D. Trommerne starter 4.",
        "1 key G",
        "2 key Am",
        "3 key D",
        "4 starts_with drums",
    ),
    people(
        HOSTFEST,
        "Første sæt kl. 20, andet sæt kl. 21.30, 45 minutter hver",
        "Første sæt starts 20:00",
        "Andet sæt starts 21:30",
        "Første sæt minutes 45",
        "Andet sæt minutes 45",
    ),
    people(HOSTFEST, "Alle sange i første sæt er i C undtagen Rugbrød (F)", *each("2 3", "key C"), "1 key F"),
    people(
        QUAYSIDE,
        "A: G D Em C\nB: A A D Bm\nC: F Bb Gm C",
        "1 key G",
        "2 key D",
        "3 key Em",
        "4 key C",
        *each("5 6", "key A"),
        "7 key D",
        "8 key Bm",
        "9 key F",
        "10 key Bb",
        "11 key Gm",
        "12 key C",
    ),
    people(
        QUAYSIDE,
        "Sets at 7, 8.15 and 9.30, 50 mins each",
        "Set A starts 19:00",
        "Set B starts 20:15",
        "Set C starts 21:30",
        "Set A minutes 50",
        "Set B minutes 50",
        "Set C minutes 50",
    ),
    people(
        QUAYSIDE,
        "Pigeon, Tart, Marble - all G. Nina Em. Windmill same as Nina.",
        *each("1 2 3", "key G"),
        "4 key Em",
        "5 key Em ?",
    ),
    people(QUAYSIDE, "set B is all in A, first two of set C in D", *each("5 6 7 8", "key A"), *each("9 10", "key D")),
    people(
        QUAYSIDE,
        "G for 1-3, A for 5, 6 and 8, D for the rest",
        *each("1 2 3", "key G"),
        *each("5 6 8", "key A"),
        *each("4 7 9 10 11 12", "key D"),
    ),
    people(QUAYSIDE, "Scrap what I said: 3 is Am. 4 stays.", "3 key Am"),
    people(
        QUAYSIDE,
        "Bell Rope 132bpm in A, Moonlit Mop 96, Gerald 140ish",
        "8 tempo 132",
        "8 key A",
        "10 tempo 96 ?",
        "11 tempo 140 ?",
    ),
    people(QUAYSIDE, "Tuesday's in E. We're there Tuesday 8 Dec, load in 5.", "6 key E", "show date 2026-12-08"),
    people(
        QUAYSIDE,
        "All of A in G, all of B in D, C as on the records",
        *each("1 2 3 4", "key G"),
        *each("5 6 7 8", "key D"),
        "ask 9 key record",
        "ask 12 key record",
    ),
    people(QUAYSIDE, "5 + 6 = A, 7 = D, 8 ditto", *each("5 6", "key A"), *each("7 8", "key D")),
    people(QUAYSIDE, "The only thing that's changed is Rocket Salad, now in E.", "7 key E"),
    people(QUAYSIDE, "Lemon Tart Eb & Rocket Salad Eb. Everything else you've got right.", *each("2 7", "key Eb")),
    people(QUAYSIDE, "Gerald drops out of set C; we put in a new one called Tram Song in G", "11 dropped yes"),
)
