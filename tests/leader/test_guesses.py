"""Guesses: a line that is not understood to the last word asks what it probably says, and never states it."""

import pytest
from leader.reply_shape import BALL, PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers

# Invented sentences; the words of starting, ending and leaving out are from memory of each language.
GUESSED = [
    ("Moth: G, tape loop starts it as ever", "4 starts_with tape"),
    ("Postbox Tango: whistling kids start it off stage", "8 starts_with children"),
    ("Moth začíná kytara potichu", "4 starts_with guitar"),
    ("Le piano joue seul pendant Moth, doucement", "4 starts_with piano"),
    ("Old Canal Road zaczynają trąbki zorp", "2 starts_with trumpet"),
    ("Moth: rumpu aloittaa hiljaa", "4 starts_with drums"),
    ("Postbox Tango, ti počinješ lagano", "8 starts_with keys"),
    ("Old Canal Road lassulva fejezodik be", "2 ending ritard"),
    ("Slow right down, folks, at the end of Moth", "4 ending ritard"),
    ("Postbox Tango slutter helt brat", "8 ending cold"),
    ("Crawl to nothing, Moth, as if asleep", "4 ending Crawl to nothing"),
    ("Moth er desværre aflyst", "4 dropped yes"),
    ("We are not having Moth as the choir is away", "4 dropped yes"),
    ("Old Canal Road nehrajeme kvuli hlasu", "2 dropped yes"),
    ("Moth: G shuffle, 112", "4 tempo 112"),
    ("Mothu začíná kytara zorp", "4 starts_with guitar"),  # another form of the title
    ("Postbox Tango is in A\nwith the fiddle to start it zorp", "8 starts_with fiddle"),  # a line that is wrapped
    ("Intro on Postbox Tango is yours", "8 starts_with keys"),
    ("Moth: Db, rubato piano", "4 starts_with piano"),
    ("Moth isch in F, alli zäme", "4 starts_with all"),
    ("Moth, o acordeão sozinho no princípio", "4 starts_with accordion"),
    ("Old Canal Road just trails off", "2 ending fade"),
    ("Moth gaat er helaas uit", "4 dropped yes"),
    ("Moth, we cut on my fist", "4 ending cut on my fist"),
    ("Moth pas cette fois, zorp", "4 dropped yes"),
    ("Moth, Einzähler von mir", "4 starts_with the leader's count"),
    ("Moth is G now not A whatever the old sheet says", "4 key G"),
    ("1 and 2 go together without a break, zorp", "1 segue Old Canal Road"),
    ("1 and 2 one medley, zorp", "1 segue Old Canal Road"),
    ("1 und 2 ein Medley zorp", "1 segue Old Canal Road"),
    ("1 and 2 no stops zorp", "1 segue Old Canal Road"),
    ("we don't stop between 1 and 2, it just zorps on", "1 segue Old Canal Road"),
    ("Zwischen 1 und 2 keine Pause, wir gehen direkt rein", "1 segue Old Canal Road"),
    ("pas de pause entre la 5 et la 6", "5 segue The Long Ferry Home"),
    ("no gap from 6 to 7", "6 segue Nine Wet Umbrellas"),
    ("Moth D and it goes straight into the raffle", "4 ending straight into the raffle"),
    ("Moth en sol, directement dans la tombola", "4 ending directement dans la tombola"),
    ("something about Moth being F and nobody hurrying. 5 in E", "4 key F"),
    ("Moth creo que La, pregunta en la prueba", "4 key A"),
    ("Moth je crois que c'est la", "4 key A"),
    ("Moth goes on n on till Bel hits the gong", "4 ending vamp-out"),
    ("1 und 2 spielen wir bitte ohne Pause, zorp", "1 segue Old Canal Road"),
    ("5, 6 et 7 sont enchaînées, zorp", "6 segue Nine Wet Umbrellas"),
    ("Zwischen 5 und 6 keine Pause, wir gehen direkt rein.", "5 segue The Long Ferry Home"),
    ("we don't stop between Gasworks and Canal Road", "1 segue Old Canal Road"),
    ("mellan 5 och 6 ingen paus", "5 segue The Long Ferry Home"),
    ("entre la 5 y la 6 no paramos", "5 segue The Long Ferry Home"),
    ("Moth: Gm, just keep the groove going while I talk", "4 ending vamp-out"),
    ("Moth: spielen wir im Kreis, bis ich die Hand hebe", "4 ending vamp-out"),
    ("Moth gaat door, blijft doorgaan tot ik knik", "4 ending vamp-out"),
    ("Moth en sol, fin nette, on coupe tous ensemble", "4 ending cold"),
    ("Moth on ne coupe plus net, on baisse doucement jusqu'à plus rien", "4 ending fade"),
    ("Moth en sol, cortamos todos juntos", "4 ending cold"),
    ("4 - F, clapping starts it, then you", "4 starts_with clapping"),
    ("Moth in F, the kids start it, then you come in", "4 starts_with children"),
    ("On Moth please play the soft rhodes sound not the piano.", "4 notes the soft rhodes sound"),
    ("Moth she drew a cross and a little grave", "4 dropped yes"),
    ("Moth ist aus dem Programm geflogen", "4 dropped yes"),
    ("4 goes down to Bb from C", "4 key Bb"),
    ("Moth, Cm, then after my ad libs it goes up to C#m", "4 notes after my ad libs it goes up to C#m"),
    ("Moth: E, and there's a key change to F at the end.", "4 notes there's a key change to F at the end"),
    ("Old Canal is OUT, the bosun got cross about it", "2 dropped yes"),
    ("5 A, 2 D and it runs straight on from 1", "1 segue Old Canal Road"),
    ("2 direkt im Anschluss an 1", "1 segue Old Canal Road"),
    ("Moth C, loop the last line till the kids are off stage", "4 ending vamp-out"),
    ("Can't do 4, Imogen's away", "4 dropped yes"),
    ("something's got to go: Old Canal Road and Moth", "4 dropped yes"),
    ("number four e minor not too fast about one hundred and ten", "4 key Em"),
]


@pytest.mark.parametrize(("text", "fact"), GUESSED)
def test_a_word_that_suggests_a_fact_makes_a_question_of_its_clause(text: str, fact: str) -> None:
    read = read_answers(text, PIER, today=TODAY)
    asked = {said(PIER, one): one.doubt for one in read.found}
    assert asked.get(fact, "") != ""
    assert all(why in text for why in asked[fact].split("; "))


@pytest.mark.parametrize(
    "text",
    [
        "Do whistling kids start Moth as ever?",  # asks
        "Last year whistling kids were starting Moth",  # tells of the past
        "Moth has never had kids starting it",  # denies
        "Moth: no fade please this time zorp",
        "Lead sheet for Moth is zorp",
        "Jo has a cold, careful with Moth zorp",
        "Moth zorp, my number is 07700 900 112",
        "zorp kids start it",  # names no song
        "Ask Pat who starts Moth zorp kids",  # passed on
        "Second set starts at nine, kids zorp",  # a time
        "Moth is in G these days, new singer",
        "Moth and the next one run straight together zorp",
        "Moth is where you park",
        "Moth: zorp arp fades up",
        "6 D, vi kör",  # Swedish: we play
    ],
)
def test_what_asks_denies_tells_of_the_past_or_names_no_song_makes_no_guess(text: str) -> None:
    fields = {one.field for one in read_answers(text, PIER, today=TODAY).found}
    assert not fields & {"starts_with", "ending", "dropped", "tempo"}


def test_a_guess_about_all_leaves_out_the_song_that_it_excepts() -> None:
    read = read_answers("Schlagzeug zählt alles vorweg ein außer Moth, da zählst du", PIER, today=TODAY)
    starts = {one.title: one.value for one in read.found if one.field == "starts_with"}
    assert starts.pop("Moth") == "keys"
    assert set(starts.values()) == {"drums"}
    assert len(starts) == 7


def test_a_guess_never_replaces_what_the_reply_or_the_show_says() -> None:
    read = read_answers("3 zorp key of B, kids zorp\n3 drums start\n3 kids zorp start it", PIER, today=TODAY)
    assert [(one.field, one.value) for one in read.found if one.field in ("key", "starts_with")] == [
        ("starts_with", "drums")
    ]


def test_a_line_with_a_guess_is_shown_as_well() -> None:
    read = read_answers("Wooden Hill er aflyst", BALL, today=TODAY)
    assert [(one.field, bool(one.doubt)) for one in read.found] == [("dropped", True)]
    assert any("aflyst" in one.words for one in read.left)


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        ("5 Dm, horns on their own first 4", ["5 key Dm", "5 starts_with horns"]),
        ("4: G, piano alone for 8", ["4 key G", "4 starts_with piano"]),
        ("4 G, trumintro", ["4 key G", "4 starts_with drums"]),
    ],
)
def test_bars_that_somebody_plays_alone_are_no_song(text: str, sure: list[str]) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert [said(PIER, one) for one in found if not one.doubt] == sure
    assert not [one for one in found if one.doubt]


def test_a_number_that_no_song_has_is_no_part_of_a_list() -> None:
    read = read_answers("1 fast, 132. 4 about 76. 5 ballad, 58. 6 medium 112.", PIER, today=TODAY)
    assert sorted(said(PIER, one) for one in read.found) == ["1 tempo 132", "4 tempo 76", "5 tempo 58", "6 tempo 112"]
    assert all(one.doubt for one in read.found)


def test_what_is_cut_together_is_played() -> None:
    for text in ("Moth en sol, on coupe tous ensemble", "Moth on ne coupe plus net", "Moth, tagliamo tutti insieme"):
        assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "dropped"]


def test_a_player_with_whom_a_song_ends_does_not_start_it() -> None:
    read = read_answers("4: stop dead with the drums", PIER, today=TODAY)
    assert [said(PIER, one) for one in read.found] == ["4 ending cold"]


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("Moth in A, 3 mins 20. Postbox Tango: G", {"4 key A", "4 length 3:20", "8 key G"}),
        ("4 A / steel / fade", {"4 key A", "4 starts_with steel", "4 ending fade"}),
        ("Moth stops cold with the hit", {"4 ending cold ?"}),
        ("Postbox Tango: A, ends on a vamp till I wave", {"8 key A", "8 ending vamp-out ?"}),
        ("5 and 7 record", {"7 key E"}),
        ("4 quindi Re. 5 am pure. 8: un tono sotto il disco, quindi Re", {"4 key D", "5 key Am ?", "8 key D ?"}),
        ("Moth ends cold, BANG", {"4 ending cold ?"}),
        ("4 has moved up to F from E flat", {"4 key F"}),
        ("4 Bb, 8 G. Tempo only at 4: 118.", {"4 key Bb", "8 key G", "4 tempo 118 ?"}),
        ("4 is out of the set. Postbox Tango comes off the list", {"4 dropped yes", "8 dropped yes"}),
        ("7. Record key, then up a half step for the last verse", {"7 key E ?"}),
        ("Moth we do a little lower than on the recording, in D", {"4 key D ?"}),
        ("Kettle nu in g ipv f", {"3 key G"}),
        ("Bei 4 bin ich nicht sicher, ich glaube Ges", {"4 key Gb ?"}),
        ("L'ultima finisce in dissolvenza. La última en fa", {"8 key F"}),
        (
            "4 D, 5 G, 4 into 5 into 6",
            {"4 key D", "5 key G", "4 segue Café Morgenrot", "5 segue The Long Ferry Home"},
        ),
        ("Keys in order: Em, G, F, Am, C, D, E, A. Nothing else, except that Jo has a cold.", {"1 key Em", "4 key Am"}),
    ],
)
def test_everyday_words_for_a_fact_land_or_are_asked(text: str, facts: set[str]) -> None:
    found = {f"{said(PIER, one)}{' ?' if one.doubt else ''}" for one in read_answers(text, PIER, today=TODAY).found}
    assert found >= facts


@pytest.mark.parametrize(
    ("text", "fact"),
    [
        ("Moth, C, it's a march, a hundred and eight.", "4 tempo 108"),
        ("Moth F, and that one's around one twelve.", "4 tempo 112"),
        ("Moth is about one thirty two, don't let them drag", "4 tempo 132"),
        ("Moth, that's slow, sixty.", "4 tempo 60"),
        ("Moth: it's in D and nice and slow, 84 let's say, waltz obviously.", "4 tempo 84"),
        ("Number four has a click, a hundred and twenty four, click starts it.", "4 tempo 124"),
        ("Moth in F, das ist ein Marsch, so hundertzwanzig", "4 tempo 120"),
        ("Moth en do, à peu près cent douze", "4 tempo 112"),
        ("Moth en re menor a noventa y dos", "4 tempo 92"),
        ("Moth em sol, a oitenta e quatro", "4 tempo 84"),
        ("Moth en do, à peu près soixante-douze", "4 tempo 72"),
        ("Moth in sol, circa novanta sei", "4 tempo 96"),
        ("Moth: G. About 3 and a half minutes.", "4 length 3:30"),
        ("Moth G, we have sixty guests", ""),
        ("Moth G, we start at one thirty", ""),
    ],
)
def test_a_number_in_words_is_asked_as_a_tempo_or_read_as_a_length(text: str, fact: str) -> None:
    read = read_answers(text, PIER, today=TODAY)
    asked = {said(PIER, one) for one in read.found}
    assert fact in asked if fact else not any(" tempo " in one or " length " in one for one in asked)


@pytest.mark.parametrize("text", ["the bride's uncle sings 4 so it is in C now", "Dawn's cousin sings 4"])
def test_who_sings_a_song_may_be_a_note_on_it(text: str) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    notes = [one for one in found if one.field == "notes"]
    assert [str(one.value).endswith("sings") and bool(one.doubt) for one in notes] == [True]


@pytest.mark.parametrize("line", ["4 is the name of my boat 😂", "4 haha who wrote that", "4 is my favourite"])
def test_a_joke_about_a_song_is_no_note_on_it(line: str) -> None:
    read = read_answers(line, PIER, today=TODAY)
    assert not read.found
    assert [one.words for one in read.left] == [line]


@pytest.mark.parametrize(
    "line", ["4 might go, we'll see", "Moth may have to go", "4 fällt vielleicht weg", "4 may go."]
)
def test_a_song_that_may_go_is_asked_about(line: str) -> None:
    read = read_answers(line, PIER, today=TODAY)
    assert [(one.field, one.song_at, bool(one.doubt)) for one in read.found] == [("dropped", 3, True)]
    assert not read.passed


@pytest.mark.parametrize("line", ["4 might go up a tone", "4 might go into 5", "4 could go in D", "4 may go faster"])
def test_a_song_that_may_go_another_way_is_played(line: str) -> None:
    assert "dropped" not in {one.field for one in read_answers(line, PIER, today=TODAY).found}
