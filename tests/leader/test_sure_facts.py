"""A fact lands without a doubt only if its whole clause is explained; a reader that fails loses no words."""

import pytest
from leader.reply_shape import BALL, PIER, TODAY

from companion.leader import answers as answers_module
from companion.leader import days_and_times, reply_reader
from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    "text",
    [
        "4 no chart, {} it in C",
        "1 Am, bass and {}",
        "all end cold, {} which fades",
        "drums count {}, keys start 1 and 2",
        "charts for 1, 2 and 4 in the folder, {} for the others",
        "drop Moth, it is {}",
        "1 in D, tempo 96, drums start, {}",
    ],
)
def test_a_word_that_nothing_explains_doubts_every_fact_of_its_clause(text: str) -> None:
    sure = [str(one) for one in read_answers(text.format("zorp"), PIER, today=TODAY).found if not one.doubt]
    assert sure == []


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        ("1 G, 4 zorp.", ["Gasworks Corner: key G"]),
        ("1 G. zorp.", ["Gasworks Corner: key G"]),
        ("2 capo 2 for me, you're in A", ["Old Canal Road: note: 2 capo 2 for me", "Old Canal Road: key A"]),
        ("drop Moth and Copper Street", ["Moth: not played"]),
    ],
)
def test_words_of_another_clause_leave_a_fact_as_sure_as_it_is(text: str, sure: list[str]) -> None:
    assert [str(one) for one in read_answers(text, PIER, today=TODAY).found if not one.doubt] == sure


@pytest.mark.parametrize(
    "text",
    [
        "I count everything in except Moth",
        "horns start all of them",
        "4 G, with the band intro",
        "4 in D, 5 mins with the band intro",
    ],
)
def test_who_starts_is_asked_where_it_may_be_a_count_for_all_or_the_naming_of_the_players(text: str) -> None:
    starts = [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "starts_with"]
    assert starts
    assert all(one.doubt for one in starts)


@pytest.mark.parametrize(
    "text",
    [
        "Umbrellas - E flat, 4 on the sticks",  # beats, or the fourth song
        "Postbox Tango tempo 140 e parte il basso",  # "and" in Italian, or the key
        "4 Em, half step down so Ebm on your keyboard",  # where it is played, or who starts
        "4 D, starts with the old drum machine that ferry has",  # no song
        "1+2 E and A respectively",
        "4 D, just voice and you",  # how it is played, or how it starts
    ],
)
def test_a_figure_a_small_letter_or_two_players_that_may_mean_something_else_are_asked(text: str) -> None:
    sure = [one for one in read_answers(text, PIER, today=TODAY).found if not one.doubt]
    assert [str(one) for one in sure if one.field == "key" and one.value == "E"] == []
    assert not any(one.value in ("click", "keys", "vocals and keys") for one in sure)


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("number 2 ends with a nice rit. number 3 c.", {"Old Canal Road: ritard at the end"}),
        ("1 in D, rit. the rest as in your list", {"Gasworks Corner: key D", "Gasworks Corner: ritard at the end"}),
    ],
)
def test_a_point_behind_rit_may_end_the_sentence(text: str, facts: set[str]) -> None:
    found = {str(one) for one in read_answers(text, PIER, today=TODAY).found if not one.doubt}
    assert facts <= found
    assert sum("ritard" in one for one in found) <= 1


def test_a_minus_behind_a_key_is_asked_as_minor() -> None:
    found = read_answers("1: C-\n2: Eb-, drums start", PIER, today=TODAY).found
    keys = [(one.value, bool(one.doubt)) for one in found if one.field == "key"]
    assert keys == [("Cm", True), ("Ebm", True)]


def test_letters_that_count_the_answers_are_no_keys() -> None:
    found = read_answers("a) Moth in Eb\nb) Umbrellas: drums start\nc) Old Canal Road, C", PIER, today=TODAY).found
    said = {str(one) for one in found}
    assert said == {"Moth: key Eb", "Nine Wet Umbrellas: drums start", "Old Canal Road: key C"}


def test_all_may_be_a_set_that_the_show_does_not_have() -> None:
    found = read_answers("For the dinner set everything is in G", PIER, today=TODAY).found
    assert all(one.doubt for one in found)


def test_a_few_minutes_are_asked_as_the_length_of_a_set() -> None:
    found = read_answers("Second set is 3 minutes", PIER, today=TODAY).found
    assert all(one.doubt for one in found if one.field == "minutes")


def test_a_line_on_which_a_reader_fails_is_kept_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = days_and_times.times_in

    def failing(line: object, names: object, about: object) -> object:
        if "9.30" in str(line):
            raise KeyError("lordag")
        return whole(line, names, about)  # type: ignore[arg-type]

    monkeypatch.setattr(reply_reader, "times_in", failing)
    found = read_answers("1 G\nFirst set 9.30, 45 min\n2 in D", BALL, today=TODAY)
    assert [str(one) for one in found.found] == ["Harbour Lights Out: key G", "Tin Roof Rain: key D"]
    assert [one.words for one in found.left] == ["First set 9.30, 45 min"]


@pytest.mark.parametrize("step", ["lines_of", "answers_in_turn", "keys_in_order", "claims_on"])
def test_a_reply_on_which_a_step_fails_is_kept_line_by_line(step: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(*_: object, **__: object) -> object:
        raise RecursionError

    monkeypatch.setattr(answers_module, step, failing)
    found = read_answers("> Which key?\n1 G\n\n2 in D", BALL, today=TODAY)
    assert [one.words for one in found.left] == ["Which key?", "1 G", "2 in D"]


@pytest.mark.parametrize("said", ["1 Bm, organ", "1 Hm, Orgel", "1 Em, synth", "1 si mineur, orgue"])
def test_a_sound_of_the_keyboard_alone_may_say_what_to_play(said: str) -> None:
    found = [one for one in read_answers(said, PIER, today=TODAY).found if one.field == "notes"]
    assert [(str(one.value), bool(one.doubt)) for one in found] == [(said.rsplit(maxsplit=1)[-1], True)]


@pytest.mark.parametrize(
    ("said", "sound"),
    [
        ("1 Bm (organ, not piano)", "organ"),
        ("Organ on 1 please", "Organ"),
        ("Bring the Rhodes for number 1", "Bring the Rhodes"),
        ("1 upright piano", "upright piano"),
        ("Piano stabs on 1", "Piano stabs"),
        ("1 brass stabs", "brass stabs"),
    ],
)
def test_a_sound_beside_a_song_is_asked_for_as_a_note(said: str, sound: str) -> None:
    found = [one for one in read_answers(said, PIER, today=TODAY).found if one.field in ("notes", "starts_with")]
    assert [(one.field, str(one.value), bool(one.doubt)) for one in found] == [("notes", sound, True)]


@pytest.mark.parametrize("said", ["Who starts:\n1 - organ\n2 - synth", "1 organ starts", "1 organ intro"])
def test_a_sound_that_is_asked_for_as_a_start_is_no_note(said: str) -> None:
    assert not [one for one in read_answers(said, PIER, today=TODAY).found if one.field == "notes"]


def test_a_sound_that_starts_the_song_is_sure() -> None:
    found = read_answers("1 Bm, organ starts", PIER, today=TODAY).found
    assert [bool(one.doubt) for one in found] == [False, False]


@pytest.mark.parametrize(("said", "player"), [("cowbell", "cowbell"), ("claps", "claps"), ("Kuhglocke", "cowbell")])
def test_a_small_instrument_that_starts_is_named_as_said(said: str, player: str) -> None:
    found = [str(one) for one in read_answers(f"1 Am, {said} first", PIER, today=TODAY).found]
    assert any(player in one for one in found), found
    assert not any("percussion" in one for one in found)


def test_a_sound_of_the_keyboard_answers_who_starts() -> None:
    found = read_answers("Who starts?\n7 organ", PIER, today=TODAY).found
    assert [bool(one.doubt) for one in found] == [False]


@pytest.mark.parametrize("said", ["Out: 1. Also out 2 and 4", "Out: 1. Also out: 2 and 4", "Raus: 1. Auch raus: 2, 4"])
def test_more_songs_that_are_out_after_the_first(said: str) -> None:
    found = read_answers(f"{said}. 3 in C", PIER, today=TODAY).found
    dropped = [bool(one.doubt) for one in found if "not played" in str(one)]
    assert dropped == [False, False, False]
