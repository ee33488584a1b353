"""Talk below a list changes it: a key, a song that goes, one that comes, the order. Each change is in doubt."""

import itertools
from collections.abc import Callable

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from setlist.reading_texts import read, said

from companion.setlist import LineKind, SetList
from companion.setlist.correcting import corrected

SONGS = "Wet Paint Waltz - G\nOld Canal Road - Am\nMoos - C\nTugboat Tess - Ab\nGold Stopwatch - E"
IN_SET = "First: Wet Paint Waltz={0}; Old Canal Road={1}; Moos={2}; Tugboat Tess={3}; Gold Stopwatch={4}"
AS_LISTED = ("G", "Am", "C", "Ab", "E")


def doubts_of(found: SetList) -> int:
    return sum(len(line.doubts) for line in found.lines)


def chat(*said_later: tuple[str, str]) -> str:
    lines = [("Ros", line) for line in SONGS.split("\n")] + list(said_later)
    return "\n".join(f"[27/11/2026, 18:{at:02}] {who}: {says}" for at, (who, says) in enumerate(lines))


def with_keys(**keys: str) -> str:
    return IN_SET.format(*(keys.get(f"k{at}", key) for at, key in enumerate(AS_LISTED)))


@pytest.mark.parametrize(
    ("talk", "keys"),
    [
        ("oh and do Moos in D, Kelly's got a cold", {"k2": "D"}),
        ("ach und Moos machen wir in D, ich bin heiser", {"k2": "D"}),
        ("finalement Old Canal Road en Bm, trop bas pour moi", {"k1": "Bm"}),
        ("al final Old Canal Road en Bm por favor", {"k1": "Bm"}),
        ("scusate, Old Canal Road in Si minore", {"k1": "Bm"}),
        ("I can't sing Old Canal Road in Am anymore, make it Gm", {"k1": "Gm"}),
        ("sorry, old canal road is Gm now", {"k1": "Gm"}),
        ("ok G for Tess", {"k3": "G"}),
        ("actually make Gold Stopwatch D for jen", {"k4": "D"}),
        ("Gold Stopwatch goes up to F, not E", {"k4": "F"}),
        ("ah yes Moos in D", {"k2": "D"}),
        ("do Moos in D kelly can't reach it", {"k2": "D"}),
        ("Moos machen wir in D damit Kelly hochkommt", {"k2": "D"}),
        ("do Moos in A he's got a cold", {"k2": "A"}),
        ("Moos bitte in Es, sonst ist es mir zu tief", {"k2": "Eb"}),
    ],
)
def test_a_later_message_gives_a_song_another_key(talk: str, keys: dict[str, str]) -> None:
    for text in (chat(("Ros", talk)), f"{SONGS}\n\n{talk}"):
        found = read(text)
        assert said(found) == with_keys(**keys)
        assert doubts_of(found) == 1


@pytest.mark.parametrize(
    ("talk", "expected"),
    [
        ("drop Moos", "Wet Old Tug Gold"),
        ("and no Moos, nobody likes it", "Wet Old Tug Gold"),
        ("ok. und Moos fliegt raus, zu lang", "Wet Old Tug Gold"),
        ("on enlève Moos finalement", "Wet Old Tug Gold"),
        ("quitamos Moos, es muy larga", "Wet Old Tug Gold"),
        ("togliamo Moos", "Wet Old Tug Gold"),
        ("Moos vervalt", "Wet Old Tug Gold"),
        ("vi stryker Moos", "Wet Old Tug Gold"),
        ("swap Old Canal Road and Gold Stopwatch", "Wet Gold Moos Tug Old"),
        ("wir tauschen Old Canal Road und Gold Stopwatch", "Wet Gold Moos Tug Old"),
        ("on inverse Old Canal Road et Gold Stopwatch", "Wet Gold Moos Tug Old"),
        ("actually put Gold Stopwatch first", "Gold Wet Old Moos Tug"),
        ("Gold Stopwatch en premier", "Gold Wet Old Moos Tug"),
        ("Wet Paint Waltz ans Ende bitte", "Old Moos Tug Gold Wet"),
        ("play Wet Paint Waltz after Moos", "Old Moos Wet Tug Gold"),
        ("Gold Stopwatch vor Old Canal Road", "Wet Gold Old Moos Tug"),
        ("swap Moos for Fog Bell in F", "Wet Old Fog Tug Gold"),
        ("statt Moos spielen wir Fog Bell in F", "Wet Old Fog Tug Gold"),
        ("Fog Bell (F) instead of Moos", "Wet Old Fog Tug Gold"),
        ("we finish on Fog Bell after Gold Stopwatch, key of F", "Wet Old Moos Tug Gold Fog"),
        ("dafür Fog Bell in F vor Tugboat", "Wet Old Moos Fog Tug Gold"),
    ],
)
def test_a_later_message_changes_which_songs_are_played_and_when(talk: str, expected: str) -> None:
    for text in (chat(("Ros", talk)), f"{SONGS}\n\n{talk}"):
        found = read(text)
        assert " ".join(title.split()[0].removesuffix("boat") for title in found.titles) == expected
        assert doubts_of(found) >= 1
        assert "Fog" not in expected or "Fog Bell=F" in said(found)


def test_one_message_says_several_things() -> None:
    found = read(
        f"{SONGS}\n\nPS Drop Moos, his wife hates it. Tugboat Tess goes up to B. "
        "And he wants Fog Bell (F) at the end after Gold Stopwatch."
    )
    assert said(found) == "First: Wet Paint Waltz=G; Old Canal Road=Am; Tugboat Tess=B; Gold Stopwatch=E; Fog Bell=F"


def test_a_song_comes_in_the_place_of_one_that_went() -> None:
    found = read(chat(("Ros", "FINE. moos is out"), ("Ros", "put Fog Bell in there instead, F")))
    assert said(found) == "First: Wet Paint Waltz=G; Old Canal Road=Am; Fog Bell=F; Tugboat Tess=Ab; Gold Stopwatch=E"


def test_a_song_moves_to_another_set_and_to_the_encore() -> None:
    text = "Set 1\nWet Paint Waltz - G\nMoos - C\nSet 2\nTugboat Tess - Ab\nGold Stopwatch - E\n\n{}"
    assert [len(one.songs) for one in read(text.format("move Moos to set 2")).show.sets] == [1, 3]
    assert [len(one.songs) for one in read(text.format("Moos als Zugabe")).show.sets] == [1, 2, 1]


def test_a_song_that_goes_into_the_encore_goes_into_the_last_of_several() -> None:
    text = f"{SONGS}\n\nEncore 1\nHarbour Lamps - C\n\nEncore 2\nFog Bell - F\n\nMoos goes in the encore please"
    sets = read(text).show.sets
    assert [(one.name, len(one.songs)) for one in sets[1:]] == [("Encore 1", 1), ("Encore 2", 2)]


@pytest.mark.parametrize(
    ("answer", "keys"),
    [("yep good shout", {"k2": "D"}), ("no", {}), ("stimmt, machen wir", {"k2": "D"})],
)
def test_what_another_asks_for_counts_if_it_is_agreed(answer: str, keys: dict[str, str]) -> None:
    found = read(chat(("Pip", "can we do Moos in D"), ("Ros", answer)))
    assert said(found) == with_keys(**keys)


def test_what_another_asks_for_without_an_answer_is_a_question() -> None:
    found = read(chat(("Pip", "could we drop Moos"), ("Pip", "and is Tugboat Tess in G?")))
    assert said(found) == with_keys()
    assert [doubt.question for line in found.lines for doubt in line.doubts] == [
        "Is 'Moos' played?",
        "Is 'Tugboat Tess' in G?",
    ]


@pytest.mark.parametrize(
    ("talk", "note"),
    [
        ("Old Canal Road is super slow, take your time", "super slow"),
        ("und Old Canal Road bitte ohne Klavier anfangen", "ohne Klavier"),
        ("yes Old Canal Road is just you for 8 bars", "8 bars"),
        ("@dep piano solo in Canal Road, 2 choruses", "2 choruses"),
    ],
)
def test_words_on_how_to_play_a_song_are_kept_with_it(talk: str, note: str) -> None:
    found = read(chat(("Kit", "thanks!"), ("Ros", talk)))
    assert note in (found.show.sets[0].songs[1].notes or "")


def test_the_answer_to_a_question_about_a_song_is_kept_with_it() -> None:
    found = read(chat(("Kit", "is old canal road the long or short one"), ("Ros", "short one no second solo")))
    assert found.show.sets[0].songs[1].notes == "short one no second solo"
    found = read(chat(("Kit", "Was ist mit Old Canal Road?"), ("Ros", "der ist raus")))
    assert "Old Canal Road" not in found.titles


@pytest.mark.parametrize(
    "line",
    [
        "Moos on a Wire - D",
        "Drop Moos Tonight - D",
        "Put Old Canal Road Right - F",
        "Make It Moos in D",
        "No More Moos - G",
    ],
)
def test_a_song_with_the_title_of_another_in_it_stays_a_song(line: str) -> None:
    found = read(f"{SONGS}\n{line}\nFog Bell - F")
    assert len(found.titles) == 7
    assert said(found).startswith(with_keys())


@pytest.mark.parametrize(
    "talk",
    [
        "Tugboat Tess is out of tune on my piano",
        "the moos at the farm was loud",
        "old tess from the office will be there",
        "Old Canal Road works in A bigger hall",
        "no Tugboat Tess solo tonight",
        "drop the Gold Stopwatch intro, Ann is late",
        "swap guitars after Old Canal Road and Gold Stopwatch",
    ],
)
def test_talk_without_an_order_changes_nothing(talk: str) -> None:
    assert said(read(chat(("Kit", "ta"), ("Kit", talk)))) == with_keys()


def test_a_line_that_changes_the_list_says_so() -> None:
    found = read(f"{SONGS}\n\nMoos goes to D. Drop Gold Stopwatch.")
    assert next(line.says for line in found.lines if line.took is LineKind.CHANGE) == (
        "Moos: in D, Gold Stopwatch: not played"
    )
    assert not found.left


def test_a_message_above_the_list_is_not_its_name() -> None:
    found = read(f"[12/11/2026, 19:02] Kit: hi all, list for saturday\n{SONGS}")
    assert "Kit" not in (found.show.title or "")
    assert "hi all, list for saturday" in (found.show.notes or "")


def test_a_sentence_of_changes_is_not_read_as_songs() -> None:
    found = read(
        f"{SONGS}\n\ncouple of changes since I typed that: Moos's now in E, "
        "Old Canal Road is out (Jen never learned it), "
        "and we're opening with Gold Stopwatch. Also add Fog Bell (Am) before Tugboat Tess."
    )
    assert said(found) == "First: Gold Stopwatch=E; Wet Paint Waltz=G; Moos=E; Fog Bell=Am; Tugboat Tess=Ab"


@pytest.mark.parametrize(
    "talk",
    [
        "Ach ja, Old Canal Road fällt aus, dafür Fog Bell (F). Und Moos ganz ans Ende bitte.",
        "In plaats van Old Canal Road spelen we Fog Bell (F). Moos als laatste.",
    ],
)
def test_one_sentence_takes_a_song_out_and_puts_another_in(talk: str) -> None:
    expected = "First: Wet Paint Waltz=G; Fog Bell=F; Tugboat Tess=Ab; Gold Stopwatch=E; Moos=C"
    assert said(read(f"{SONGS}\n\n{talk}")) == expected


@pytest.mark.parametrize(
    "talk",
    [
        "no youre right, scrap Moos. Put Fog Bell there instead, in F",
        "streich Moos! dafür spielen wir Fog Bell in F",
        "Moos is out. We'll do Fog Bell instead - F",
    ],
)
def test_the_sentence_behind_one_that_takes_a_song_out_puts_another_in_its_place(talk: str) -> None:
    expected = "First: Wet Paint Waltz=G; Old Canal Road=Am; Fog Bell=F; Tugboat Tess=Ab; Gold Stopwatch=E"
    assert said(read(chat(("Ros", talk)))) == expected


def test_a_key_and_an_exchange_in_one_message() -> None:
    found = read(chat(("Ros", "oh and moos in d, swap wet paint and old canal")))
    assert said(found) == "First: Old Canal Road=Am; Wet Paint Waltz=G; Moos=D; Tugboat Tess=Ab; Gold Stopwatch=E"


@pytest.mark.parametrize("answer", ["non tu as raison, on l'enlève", "ok drop it then", "dann streichen wir den"])
def test_the_answer_that_a_song_goes_takes_it_out(answer: str) -> None:
    assert "Old Canal Road" not in read(chat(("Kit", "do we need Old Canal Road?"), ("Ros", answer))).titles


def test_words_below_the_list_are_kept_with_the_song_that_they_begin_with() -> None:
    found = read(f"{SONGS}\n\nOld Canal Road has a new ending, cold on the 4\nTugboat Tess starts with just keys")
    notes = [song.notes for song in found.show.sets[0].songs]
    assert notes == [
        None,
        "Old Canal Road has a new ending, cold on the 4",
        None,
        "Tugboat Tess starts with just keys",
        None,
    ]


BELOW = "01-12-2026 20:14 - Kit: SET 1\nTram Nine Home G\nTwo Bells Over Moss C\nRust D\nBells in the dark A\nWeir F\n"


def test_a_song_that_shares_a_word_with_another_is_no_talk_about_it() -> None:
    assert said(read(BELOW)) == "First: Tram Nine Home=G; Two Bells Over Moss=C; Rust=D; Bells in the dark=A; Weir=F"


def test_a_later_message_that_names_the_key_of_another_song_is_no_note_on_the_last_one() -> None:
    found = read(f"{BELOW}02-12-2026 09:02 - Kit: Oh yes, Tram Nine Home we do in F, Ros has a cold\n")
    first, last = found.show.sets[0].songs[0], found.show.sets[0].songs[-1]
    assert (str(first.key), last.notes) == ("F", None)


def test_the_words_last_one_lead_to_a_song_in_doubt() -> None:
    found = read(chat(("Ros", "and last one Fog Bell in D")))
    assert found.titles[-1] == "Fog Bell"
    assert [doubt.question for doubt in found.lines[-1].doubts] == ["Does 'and last one' belong to the title?"]


IN_SETS = "Set 1\nWet Paint Waltz - G\nMoos - C\nSet 2\nTugboat Tess - Ab\nEncore\nGold Stopwatch - E\n\n{}"


def one_answered(found: SetList, word: str) -> SetList:
    """Return the list with this answer to its only doubt."""
    (doubt,) = (doubt for line in found.lines for doubt in line.doubts)
    return corrected(found, [(doubt, next(one for one in doubt.answers if one.word == word))])


@pytest.mark.parametrize(
    ("talk", "question"),
    [
        ("put Gold Stopwatch first", "Is 'Gold Stopwatch' played first?"),
        ("Moos goes to set 2", "Is 'Moos' played in set 2?"),
        ("Tugboat Tess in the encore please", "Is 'Tugboat Tess' played in the encore?"),
        ("Moos vor Gold Stopwatch bitte", "Is 'Moos' played before 'Gold Stopwatch'?"),
        ("swap Moos and Gold Stopwatch", "Do 'Moos' and 'Gold Stopwatch' change places?"),
    ],
)
def test_no_puts_a_song_back_that_talk_moved_and_yes_leaves_it(talk: str, question: str) -> None:
    found, plain = read(IN_SETS.format(talk)), read(IN_SETS.format(""))
    assert said(found) != said(plain)
    assert [doubt.question for line in found.lines for doubt in line.doubts] == [question]
    assert said(one_answered(found, "no")) == said(plain)
    assert said(one_answered(found, "yes")) == said(found)


@pytest.mark.parametrize(
    ("talk", "expected"),
    [
        ("could we swap Old Canal Road and Gold Stopwatch?", "Wet Gold Moos Tugboat Old"),
        ("can we put Gold Stopwatch first?", "Gold Wet Old Moos Tugboat"),
        ("what about Gold Stopwatch before Moos?", "Wet Old Gold Moos Tugboat"),
        ("can we do Wet Paint Waltz as an encore?", "Old Moos Tugboat Gold Wet"),
        ("could we add Fog Bell in F?", "Wet Old Moos Tugboat Gold Fog"),
    ],
)
def test_yes_makes_a_change_that_somebody_asks_for(talk: str, expected: str) -> None:
    found = read(chat(("Pip", talk)))
    assert said(found) == said(one_answered(found, "no")) == with_keys()
    assert [title.split()[0] for title in one_answered(found, "yes").titles] == expected.split()
    assert doubts_of(read(chat(("Pip", talk), ("Ros", "no")))) == 0


def test_a_song_that_is_moved_twice_goes_back_to_where_the_list_has_it() -> None:
    found = read(IN_SETS.format("Moos goes last.\nNo, put Moos first"))
    assert said(one_answered(found, "no")) == said(read(IN_SETS.format("")))


TITLES = ("Wet Paint Waltz", "Moos", "Tugboat Tess", "Gold Stopwatch")
ORDERS: tuple[Callable[[str, str], str], ...] = (
    lambda one, other: f"swap {one} and {other}",
    lambda one, other: f"play {one} before {other}",
    lambda one, other: f"play {one} after {other}",
    lambda one, _: f"put {one} first",
    lambda one, _: f"{one} goes last",
    lambda one, _: f"move {one} to set 2",
    lambda one, _: f"{one} in the encore please",
    lambda one, other: f"could we swap {one} and {other}?",
    lambda one, _: f"can we put {one} first?",
)
SAID = st.tuples(st.sampled_from(ORDERS), st.sampled_from([*itertools.permutations(TITLES, 2)]))


@settings(max_examples=examples(200), deadline=None)
@given(st.lists(SAID, min_size=1, max_size=4), st.lists(st.booleans(), min_size=8, max_size=8))
def test_no_song_is_lost_or_doubled_whatever_is_moved_and_answered(
    orders: list[tuple[Callable[[str, str], str], tuple[str, str]]], answers: list[bool]
) -> None:
    found = read(IN_SETS.format("\n".join(order(*songs) for order, songs in orders)))
    doubts = [doubt for line in found.lines for doubt in line.doubts]
    assert all(len(doubt.answers) == 2 for doubt in doubts)
    pairs = [(doubt, doubt.answers[taken]) for doubt, taken in zip(doubts, answers, strict=False)]
    after = corrected(found, pairs)
    assert sorted(after.titles) == sorted(found.titles) == sorted(TITLES)
    assert all(one.songs for one in after.show.sets)


@pytest.mark.parametrize(
    ("asks", "answer", "key"),
    [
        ("and is Moos in C or D these days", "D", "D"),
        ("is Moos in C or D now?", "D!", "D"),
        ("ist Moos in C oder D?", "D", "D"),
        ("is Moos in C or D now?", "C", "C"),
    ],
)
def test_a_key_alone_answers_the_question_above_it(asks: str, answer: str, key: str) -> None:
    found = read(chat(("Kelly", asks), ("Ros", answer)))
    assert said(found) == with_keys(k2=key)
    assert doubts_of(found) == (key == "D")
    assert not any(song.notes for song in found.show.sets[0].songs)


def test_two_keys_that_nobody_chooses_from_are_asked_about() -> None:
    found = read(chat(("Kelly", "and is Moos in C or D these days"), ("Ros", "see you there")))
    assert said(found) == with_keys()
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Is 'Moos' in D?"]
