"""Cards, answers typed and played, and when a card comes again."""

import datetime as dt
import itertools
import random
from typing import Any

import pytest
from music21 import chord as m21_chord
from music21 import key as m21_key
from music21 import roman
from planning.shows import DAY, big, show, song

from companion.music import Chord, read_key
from companion.practice_log.song_progress import Progress, QuizAnswered
from companion.quiz.cards import Card, Subject, cards_of
from companion.quiz.judging import Grade, KeysDown, can_be_played, judge, judge_played, touched
from companion.quiz.scheduling import NEW_A_DAY, Sitting, due_cards, when_due
from companion.quiz.sitting import QuizResult
from companion.show import Ending, Section, Song, SoundCall

NOON = dt.datetime(2027, 6, 5, 12, tzinfo=dt.timezone(dt.timedelta(hours=2)))
MAP = (
    Section("Intro", 4, feature="riff alone", sounds=(SoundCall("bright piano"),), chords="1 | 5/7 | 6- | 4"),
    Section("Verse", 16),
    Section("Chorus", 8),
    Section("Verse", 16),
    Section("Chorus", 8),
    Section("Solo", 16, feature="solo"),
    Section("Chorus", 8, key=read_key("C")),
    Section("Outro", 8),
)
CORNER = song(
    "Gasworks Corner", "Bb", starts_with="keys", ending=Ending.RITARD, sounds=(SoundCall("organ"),), road_map=MAP
)


def card(asks: Subject, one: Song = CORNER, at: str = "") -> Card:
    return next(each for each in cards_of(show(one)) if each.asks is asks and at in each.at)


def test_a_song_is_asked_about_by_what_its_file_knows() -> None:
    found = {each.name: each.answer for each in cards_of(show(CORNER))}
    assert found == {
        "key": "Bb",
        "starts": "keys",
        "first sound": "bright piano",
        "first chord": "Bb, 1",
        "next Chorus 1": "Verse",
        "next Chorus 2": "Solo",
        "next Solo 1": "Chorus",
        "next Chorus 3": "Outro",
        "features": "Intro, Solo",
        "ending": "ritard",
    }
    assert cards_of(show(song("Moth"))) == ()


def test_the_question_says_which_occurrence_is_meant() -> None:
    assert card(Subject.NEXT, at="Chorus 2").question == "Gasworks Corner: what comes after the second Chorus?"


@pytest.mark.parametrize(
    ("asks", "typed", "grade"),
    [
        (Subject.KEY, "Bb", Grade.RIGHT),
        (Subject.KEY, "b flat", Grade.RIGHT),
        (Subject.KEY, "B♭ major", Grade.RIGHT),
        (Subject.KEY, "B", Grade.WRONG),
        (Subject.KEY, "Bbm", Grade.WRONG),
        (Subject.KEY, "no idea", Grade.WRONG),
        (Subject.KEY, "", Grade.WRONG),
        (Subject.STARTS, "me", Grade.RIGHT),
        (Subject.STARTS, "keyboard", Grade.RIGHT),
        (Subject.STARTS, "drums", Grade.WRONG),
        (Subject.SOUND, "bright piano", Grade.RIGHT),
        (Subject.SOUND, "brigth piano", Grade.RIGHT),
        (Subject.SOUND, "organ", Grade.WRONG),
        (Subject.CHORD, "Bb", Grade.RIGHT),
        (Subject.CHORD, "1", Grade.RIGHT),
        (Subject.CHORD, "Bb/D", Grade.NEARLY),
        (Subject.CHORD, "4", Grade.WRONG),
        (Subject.CHORD, "%$!", Grade.WRONG),
        (Subject.FEATURES, "intro and solo", Grade.RIGHT),
        (Subject.FEATURES, "the solo", Grade.NEARLY),
        (Subject.FEATURES, "verse", Grade.WRONG),
        (Subject.ENDING, "ritard", Grade.RIGHT),
        (Subject.ENDING, "cold", Grade.WRONG),
    ],
)
def test_a_typed_answer_is_judged_in_any_usual_form(asks: Subject, typed: str, grade: Grade) -> None:
    assert judge(card(asks), typed, 9) is grade


@pytest.mark.parametrize(
    ("typed", "grade"), [("Solo", Grade.RIGHT), ("sol", Grade.RIGHT), ("verse", Grade.WRONG), ("v", Grade.WRONG)]
)
def test_the_next_section_is_judged_by_its_name_or_its_beginning(typed: str, grade: Grade) -> None:
    assert judge(card(Subject.NEXT, at="Chorus 2"), typed, 9) is grade


def test_an_immediate_right_answer_scores_higher() -> None:
    assert (judge(card(Subject.KEY), "Bb", 1), judge(card(Subject.KEY), "C", 1)) == (Grade.AT_ONCE, Grade.WRONG)


def test_f_sharp_counts_for_g_flat() -> None:
    assert judge(card(Subject.KEY, song("Moth", "Gb")), "F#", 9) is Grade.RIGHT


@pytest.mark.parametrize(
    ("notes", "is_right"),
    [  # Bb = 10; MIDI 1.0: middle C is note 60
        ((58,), True),
        ((34, 46), True),
        ((60,), False),
        ((58, 62), False),
    ],
)
def test_a_key_is_answered_by_its_tonic_in_any_octave(notes: tuple[int, ...], *, is_right: bool) -> None:
    assert (judge_played(card(Subject.KEY), notes, 9) is Grade.RIGHT) is is_right


@pytest.mark.parametrize(
    ("chords", "notes", "is_right"),
    [
        ("1", (58, 62, 65), True),  # Bb D F
        ("1", (62, 65, 70), True),  # first inversion
        ("1", (41, 58, 62, 65, 70), True),  # doubled
        ("1", (58, 61, 65), False),  # minor
        ("1", (58, 62), False),
        ("1", (58, 62, 65, 69), False),  # a seventh too many
        ("5/7", (57, 60, 65), True),  # F over A
        ("2-7", (60, 63, 67, 70), True),  # Cm7
        ("2-7", (60, 63, 70), True),  # its fifth left out
        ("2-7", (60, 67, 70), False),  # its third left out
    ],
)
def test_a_chord_is_right_in_any_inversion(chords: str, notes: tuple[int, ...], *, is_right: bool) -> None:
    one = song("Moth", "Bb", road_map=(Section("Intro", 4, chords=f"{chords} | 4"),))
    assert (judge_played(card(Subject.CHORD, one), notes, 9) is Grade.RIGHT) is is_right


@pytest.mark.parametrize(("notes", "is_right"), [((58,), True), ((60,), True), ((62,), False)])
def test_on_a_tuned_keyboard_the_key_of_the_hands_is_right_too(notes: tuple[int, ...], *, is_right: bool) -> None:
    one = song("Moth", "Bb", fingered_in=read_key("C"), road_map=(Section("Intro", 4, chords="1 | 4"),))
    assert (judge_played(card(Subject.KEY, one), notes, 9) is Grade.RIGHT) is is_right
    triad = tuple(notes[0] + step for step in (0, 4, 7))
    assert (judge_played(card(Subject.CHORD, one), triad, 9) is Grade.RIGHT) is is_right


@pytest.mark.parametrize(
    ("keys", "told", "right", "wrong"),
    [  # by hand, from chords that were written in A
        ({"key": "A"}, "A/C#", ("A/C#", "1/3"), ("G/B",)),
        ({"key": "G", "chords_in": "A"}, "G/B", ("G/B", "1/3"), ("A/C#",)),
        ({"key": "A", "fingered_in": "C"}, "C/E fingered, A/C# sounding", ("C/E", "A/C#", "1/3"), ("G/B",)),
    ],
)
def test_the_first_chord_is_asked_in_the_key_of_the_show(
    keys: dict[str, str], told: str, right: tuple[str, ...], wrong: tuple[str, ...]
) -> None:
    known: Any = {name: read_key(key) for name, key in keys.items()}
    one = Song("Moth", road_map=(Section("Intro", 2, chords="A/C# | D"),), **known)
    asked = card(Subject.CHORD, one)
    assert asked.answer == told
    assert [judge(asked, typed, 9) for typed in right] == [Grade.RIGHT] * len(right)
    assert [judge(asked, typed, 9) for typed in wrong] == [Grade.WRONG] * len(wrong)


def test_a_song_read_again_has_the_same_cards() -> None:
    asked = [
        card(Subject.CHORD, song("Weeds", "C", road_map=(Section("Intro", 2, chords="1 | 4"),))).question
        for _ in range(2)
    ]
    assert asked == ["First chord in Weeds?"] * 2


def test_an_independent_library_agrees_on_chords_and_tonics() -> None:
    dice = random.Random(5)  # noqa: S311  no secret
    for _ in range(60):
        name = dice.choice(("C", "G", "D", "A", "E", "B", "F#", "F", "B-", "E-", "A-", "D-"))
        figure, number = dice.choice(
            (("I", "1"), ("ii", "2-"), ("iii", "3-"), ("IV", "4"), ("V7", "57"), ("vi", "6-"), ("ii7", "2-7"))
        )
        theirs = roman.RomanNumeral(figure, m21_key.Key(name))
        pitches = [pitch.midi for pitch in theirs.pitches]
        dice.shuffle(pitches)
        one = song("Moth", name.replace("-", "b"), road_map=(Section("Intro", 4, chords=f"{number} | 1"),))
        assert judge_played(card(Subject.CHORD, one), tuple(pitches), 9) is Grade.RIGHT, (name, figure)
        tonic = m21_key.Key(name).tonic.midi
        assert judge_played(card(Subject.KEY, one), (tonic,), 9) is Grade.RIGHT
        wrong = m21_chord.Chord([pitch + 1 for pitch in pitches])
        assert judge_played(card(Subject.CHORD, one), tuple(pitch.midi for pitch in wrong.pitches), 9) is Grade.WRONG


def test_keys_down_are_tracked_note_by_note() -> None:
    hands = KeysDown()
    # MIDI 1.0, Table I: 9n note velocity is note on, 8n or velocity 0 is note off
    for message in (b"\x90\x3a\x40", b"\x90\x3e\x40", b"\xb0\x40\x7f", b"\xf8", b"\x90\x3a\x00", b"\x91\x41\x40"):
        hands = touched(hands, message)
        assert not hands.is_done
    hands = touched(touched(hands, b"\x80\x3e\x40"), b"\x81\x41\x00")
    assert hands.is_done
    assert hands.struck == (58, 62, 65)
    assert touched(hands, b"\x90\x30\x40").struck == (48,)


def test_only_keys_and_chords_can_be_answered_at_the_keyboard() -> None:
    assert {each.asks for each in cards_of(show(CORNER)) if can_be_played(each)} == {Subject.KEY, Subject.CHORD}


# ------------------------------------------------------------------ when


def asked(days: list[int], grade: int = 3, question: str = "key") -> Progress:
    return Progress(quiz_answers=tuple(QuizAnswered(NOON + dt.timedelta(days=day), question, grade) for day in days))


def test_a_right_card_returns_later_and_a_wrong_one_tomorrow() -> None:
    one = card(Subject.KEY)
    right, wrong = (when_due(one, asked([0], grade).quiz_answers, None, NOON) for grade in (3, 1))
    assert wrong.due.date() == NOON.date() + dt.timedelta(days=1)
    assert right.due > wrong.due


def test_gaps_grow_with_right_answers() -> None:
    one = card(Subject.KEY)
    gaps, days = [], [0]
    for _ in range(3):
        now = NOON + dt.timedelta(days=days[-1])
        due = when_due(one, asked(days).quiz_answers, None, now).due
        gaps.append((due - now).days)
        days.append(days[-1] + gaps[-1])
    assert gaps == sorted(gaps)
    assert gaps[0] >= 1


@pytest.mark.parametrize("grade", [1, 2, 3, 4])
@pytest.mark.parametrize("days", [[0], [0, 1], [0, 2, 6], [0, 4, 9]])
def test_every_card_comes_again_before_the_show(days: list[int], grade: int) -> None:
    now = NOON + dt.timedelta(days=days[-1])
    due = when_due(card(Subject.KEY), asked(days, grade).quiz_answers, DAY, now)
    assert due.due.date() < DAY


def test_only_the_first_answer_of_a_day_counts() -> None:
    once = when_due(card(Subject.KEY), asked([0], 1).quiz_answers, None, NOON).due
    twice = when_due(
        card(Subject.KEY),
        (*asked([0], 1).quiz_answers, QuizAnswered(NOON + dt.timedelta(hours=1), "key", 4)),
        None,
        NOON,
    ).due
    assert once == twice


def test_old_cards_come_before_new_ones_and_no_card_comes_twice_a_day() -> None:
    moth = song("Moth", "C")
    later = NOON + dt.timedelta(days=8)
    due = due_cards(show(CORNER, moth), {"moth": asked([0], 1)}, later)
    assert (due[0].card.song.title, due[0].card.name) == ("Moth", "key")
    assert due[0].recalled is not None
    assert not [one for one in due_cards(show(moth), {"moth": asked([8])}, later) if one.card.name == "key"]


def test_new_cards_are_limited_per_day_and_two_of_one_song_are_spaced() -> None:
    due = due_cards(big(60), {}, NOON)
    assert len(due) == NEW_A_DAY == 20
    titles = [one.card.song.title for one in due]
    assert all(one != other for one, other in itertools.pairwise(titles))


def test_a_wrong_answer_is_asked_once_more_at_the_end_of_the_sitting() -> None:
    first, second = card(Subject.KEY), card(Subject.STARTS)
    sitting = Sitting((first, second)).answered(1)
    assert (sitting.card, sitting.waiting[-1]) == (second, first)
    sitting = sitting.answered(3).answered(1)
    assert (sitting.card, sitting.right, sitting.wrong) == (None, 1, 2)


def test_an_unreadable_chord_line_gives_no_question() -> None:
    odd: dict[str, Any] = {"road_map": (Section("Intro", 4, chords="?? ~~ |"),)}
    assert [one.asks for one in cards_of(show(song("Moth", "C", **odd)))] == [Subject.KEY]
    assert Chord(None).pitch_classes == frozenset()


@pytest.mark.parametrize(
    ("result", "line"),
    [
        (QuizResult(3, 0, 0), "3 right, 0 wrong; nothing left to brush up today"),
        (QuizResult(3, 0, 2), "3 right, 0 wrong; 2 left to brush up today"),
        (QuizResult(3, 1, 0), "3 right, 1 wrong; this comes back tomorrow"),
        (QuizResult(0, 4, 0), "0 right, 4 wrong; these come back tomorrow"),
        (QuizResult(0, 4, 2), "0 right, 4 wrong; 2 left to brush up today"),
    ],
)
def test_a_sitting_says_what_is_left_and_what_comes_back(result: QuizResult, line: str) -> None:
    assert str(result) == line
