"""The step rules and the sound rule of the design page, each with a test that quotes it."""

import pytest
from msgspec.structs import replace
from stage.scenes import after, book_of, on, place_text, rig_of, section, show_of, song

from companion.changes import Change
from companion.rig import Sound
from companion.show import Ending, Section, Song, SoundCall
from companion.stage import (
    Again,
    AllOff,
    Back,
    Book,
    Drop,
    FromTheTop,
    KeyUp,
    Next,
    NextSong,
    PlainEvent,
    PreviousSong,
    SendSound,
    SilenceAll,
    Skip,
    StartOver,
    TakeBack,
    TakeItOut,
    all_due,
    at_start,
    make_book,
    step,
)


def test_the_show_starts_with_its_first_song_up_next_and_its_first_sound_on() -> None:
    state = at_start(book_of([song("A", "Intro @organ, Verse")]))
    assert (place_text(state), on(state)) == ("A up next", "organ")


def test_next_begins_the_song_that_is_up_next() -> None:
    assert place_text(after(book_of([song("A", "Intro, Verse")]), Next)) == "Intro of A"


def test_xn_means_n_passes_of_one_step_each() -> None:
    book = book_of([song("A", "Solo x3, Outro")])
    steps = [place_text(after(book, *[Next] * number)) for number in range(1, 5)]
    assert steps == ["Solo 1/3 of A", "Solo 2/3 of A", "Solo 3/3 of A", "Outro of A"]


def test_next_leaves_an_open_section_and_again_repeats_the_pass() -> None:
    book = book_of([song("A", "Solo open, Outro")])
    assert place_text(after(book, Next, Again, Again)) == "Solo +2 of A"
    assert place_text(after(book, Next, Again, Again, Next)) == "Outro of A"


def test_x2_open_means_at_least_two_passes() -> None:
    book = book_of([song("A", "Solo x2 open, Outro")])
    assert place_text(after(book, Next, Next)) == "Solo 2/2 of A"
    assert place_text(after(book, Next, Next, Again, Next)) == "Outro of A"


def test_again_repeats_the_pass_and_keeps_the_written_ones() -> None:
    book = book_of([song("A", "Verse x2, Outro")])
    assert place_text(after(book, Next, Again)) == "Verse 1/2 +1 of A"
    assert place_text(after(book, Next, Again, Next)) == "Verse 2/2 of A"


def test_skip_leaves_the_section_whatever_its_remaining_passes() -> None:
    assert place_text(after(book_of([song("A", "Verse x4, Chorus")]), Next, Skip)) == "Chorus of A"


def test_next_leads_from_a_songs_last_section_to_the_next_song_up_next_and_then_into_it() -> None:
    book = book_of([song("A", "Verse"), song("B", "Intro @strings, Verse")])
    assert place_text(after(book, Next, Next)) == "B up next"
    assert on(after(book, Next, Next)) == "strings"
    assert place_text(after(book, Next, Next, Next)) == "Intro of B"


def test_a_segue_goes_straight_into_it() -> None:
    book = book_of([song("A", "Verse", segue="B"), song("B", "Intro, Verse")])
    assert place_text(after(book, Next, Next)) == "Intro of B"


def test_a_segue_finds_its_song_whatever_the_case_and_accents() -> None:
    book = book_of([song("A", "Verse", segue="straight ON"), song("Straight on", "Intro, Verse")])
    assert place_text(after(book, Next, Next)) == "Intro of Straight on"


def test_a_segue_to_a_song_that_does_not_follow_is_ignored() -> None:
    book = book_of([song("A", "Verse", segue="C"), song("B", "Intro"), song("C", "Intro")])
    assert place_text(after(book, Next, Next)) == "B up next"


def test_a_segue_without_a_title_runs_into_the_song_that_follows() -> None:
    first = Song("A", road_map=(section("Verse"),), ending=Ending.SEGUE)
    assert place_text(after(book_of([first, song("B", "Intro")]), Next, Next)) == "Intro of B"


def test_next_leads_from_a_sets_last_song_to_between_sets_and_then_to_the_next_set() -> None:
    book = book_of([song("A", "Verse")], [song("B", "Verse")])
    assert place_text(after(book, Next, Next)) == "between sets"
    assert place_text(after(book, Next, Next, Next)) == "B up next"


def test_next_leads_from_the_last_song_to_the_end_and_stays_there() -> None:
    book = book_of([song("A", "Verse")])
    assert place_text(after(book, Next, Next)) == "end"
    assert place_text(after(book, *[Next] * 9)) == "end"


def test_empty_sets_are_skipped() -> None:
    book = book_of([], [song("A", "Verse")], [], [song("B", "Verse")])
    assert place_text(at_start(book)) == "A up next"
    assert place_text(after(book, Next, Next, Next)) == "B up next"


def test_a_show_without_songs_starts_at_its_end_and_survives_every_press() -> None:
    for event in (Next, Back, Again, TakeItOut, Skip, StartOver, TakeBack, NextSong, PreviousSong, AllOff):
        assert place_text(after(book_of(), event)) == "end"


def test_a_song_without_a_road_map_is_one_step() -> None:
    book = book_of([song("A"), song("B")])
    assert place_text(after(book, Next)) == " of A"
    assert place_text(after(book, Next, Next)) == "B up next"


def test_back_at_the_first_place_stays() -> None:
    assert place_text(after(book_of([song("A", "Verse")]), Back)) == "A up next"


@pytest.mark.parametrize(
    ("forward", "expected"),
    [
        (1, "A up next"),
        (2, "Intro of A"),
        (3, "Verse 1/2 of A"),
        (4, "Verse 2/2 of A"),
        (5, "B up next"),
        (6, "Intro of B"),
        (7, "between sets"),
        (8, "C up next"),
        (9, "Intro of C"),
    ],
)
def test_back_goes_one_step_back_from_any_place(forward: int, expected: str) -> None:
    book = book_of([song("A", "Intro, Verse x2"), song("B", "Intro")], [song("C", "Intro")])
    assert place_text(after(book, *[Next] * forward, Back)) == expected


def test_back_out_of_a_segue_leads_to_the_song_that_ran_into_it() -> None:
    book = book_of([song("A", "Intro, Verse", segue="B"), song("B", "Intro")])
    assert place_text(after(book, Next, Next, Next, Back)) == "Verse of A"


def test_back_sends_the_sound_of_that_place() -> None:
    book = book_of([song("A", "Intro @organ, Verse @lead")])
    state = after(book, Next, Next)
    back, effects = step(state, Back(at_ms=9000))
    assert on(back) == "organ"
    assert [effect.sound.name for effect in effects if isinstance(effect, SendSound)] == ["organ"]


def test_a_sound_that_is_already_on_is_not_sent_again() -> None:
    state = at_start(book_of([song("A", "Intro @organ, Verse @organ, Chorus @lead")]))
    sent = []
    for number in range(1, 4):
        state, effects = step(state, Next(at_ms=number * 1000))
        sent.append([effect.sound.name for effect in effects if isinstance(effect, SendSound)])
    assert sent == [[], [], ["lead"]]


def test_take_it_out_leads_straight_to_the_last_outro_tag_or_ending() -> None:
    book = book_of([song("A", "Intro, Verse, Tag, Chorus, Outro, Applause")])
    assert place_text(after(book, Next, TakeItOut)) == "Outro of A"


def test_take_it_out_leads_to_the_section_that_the_show_marks() -> None:
    marked = Song("A", road_map=(Section("Verse"), Section("Last Chorus", ending=True), Section("Outro")))
    assert place_text(after(book_of([marked]), Next, TakeItOut)) == "Last Chorus of A"


def test_take_it_out_never_goes_back() -> None:
    book = book_of([song("A", "Verse, Outro, Bow")])
    assert place_text(after(book, Next, Next, Next, TakeItOut)) == "Bow of A"


def test_start_over_leads_to_the_songs_first_section() -> None:
    assert place_text(after(book_of([song("A", "Intro, Verse, Chorus")]), Next, Next, Next, StartOver)) == "Intro of A"


def test_from_the_top_begins_the_show_again_in_its_written_order_and_can_be_taken_back() -> None:
    book = book_of([song("A", "Intro @organ, Verse @lead"), song("B", "Intro")], [song("C", "Intro")])
    there = after(book, Next, Next, Drop, KeyUp)
    top, effects = step(there, FromTheTop(60_000))
    assert (place_text(top), on(top), top.order, top.shift) == ("A up next", "organ", at_start(book).order, 0)
    assert [one.sound and one.sound.name for one in effects if isinstance(one, SendSound)] == ["organ"]
    assert step(top, TakeBack(61_000))[0] == there


def test_next_song_and_previous_song_announce_a_song_without_beginning_it() -> None:
    book = book_of([song("A", "Intro, Verse"), song("B", "Intro")], [song("C", "Intro")])
    assert place_text(after(book, Next, NextSong)) == "B up next"
    assert place_text(after(book, Next, NextSong, NextSong)) == "between sets"
    assert place_text(after(book, Next, NextSong, PreviousSong)) == "A up next"
    assert place_text(after(book, NextSong, NextSong, NextSong, PreviousSong)) == "B up next"


@pytest.mark.parametrize("event", [Next, Back, Again, TakeItOut, Skip, StartOver, NextSong, PreviousSong])
def test_take_back_undoes_the_last_step_of_any_kind(event: type[PlainEvent]) -> None:
    book = book_of([song("A", "Intro @organ"), song("B", "Intro @lead, Verse @strings, Outro"), song("C", "Intro")])
    there = after(book, Next, Next, Next, Next)
    moved, _ = step(there, event(at_ms=9000))
    assert place_text(moved) != place_text(there)
    again, effects = step(moved, TakeBack(at_ms=9500))
    assert again == there
    assert bool(effects) == (on(moved) != on(there))


def test_take_back_repeats_as_far_as_the_start() -> None:
    book = book_of([song("A", "Intro, Verse, Chorus")])
    state = after(book, *[Next] * 4, *[TakeBack] * 9)
    assert state == at_start(book)


def test_all_off_silences_everything_and_sends_the_sound_again() -> None:
    state = after(book_of([song("A", "Intro @organ")]), Next)
    same, effects = step(state, AllOff(at_ms=2000))
    assert same == state
    assert effects == (SilenceAll(), *all_due(state))
    assert len(effects) == 4


# The sound rule: "A section's own; else that of the last section of the same name, in written order; else the song's;
# else the section before, in written order; else nothing is sent."


@pytest.mark.parametrize(
    ("road_map", "song_sound", "expected"),
    [
        ("Intro @lead, Verse", "piano", ["lead", "piano"]),
        ("Chorus @strings, Solo @lead, Chorus", None, ["strings", "lead", "strings"]),
        ("Chorus @strings, Solo @lead, Chorus", "piano", ["strings", "lead", "strings"]),
        ("Intro @lead, Verse, Chorus @organ, Verse", None, ["lead", "lead", "organ", "lead"]),
        ("Intro, Verse, Chorus @organ, Tag", None, ["-", "-", "organ", "organ"]),
        ("Intro, Verse", None, ["-", "-"]),
        (
            "Chorus @strings, Verse @pad, Chorus @bells, Verse, Chorus",
            None,
            ["strings", "pad", "bells", "pad", "bells"],
        ),
    ],
)
def test_the_sound_of_each_section(road_map: str, song_sound: str | None, expected: list[str]) -> None:
    book = book_of([song("A", road_map, sound=song_sound)])
    assert [one.sounds[0].name if one.sounds[0] else "-" for one in book.songs[0].sections] == expected


def test_the_last_chorus_has_its_strings_whichever_way_the_band_reached_it() -> None:
    book = book_of([song("A", "Chorus @strings, Solo @lead, Bridge @pad, Chorus")])
    assert on(after(book, Next, Next, Skip, Skip)) == "strings"
    assert on(after(book, Next, TakeItOut)) == "strings"


def test_each_keyboard_keeps_its_own_sound_by_the_same_rule() -> None:
    sections = (
        Section("Verse", sounds=(SoundCall("piano", "lower"), SoundCall("pad", "upper"))),
        Section("Solo", sounds=(SoundCall("lead", "upper"),)),
        Section("Verse"),
    )
    book = book_of([Song("A", road_map=sections)], rig=rig_of("lower", "upper"))
    assert on(after(book, Next, Next)) == "piano, lead"
    assert on(after(book, Next, Next, Next)) == "piano, pad"


def test_a_bare_name_goes_to_the_first_keyboard_in_the_rig_that_has_it() -> None:
    book = book_of([song("A", "Verse @organ")], rig=rig_of("lower", "upper"))
    assert on(at_start(book)) == "organ, -"


def test_a_sound_missing_from_the_rig_is_reported_before_the_show_and_at_its_place() -> None:
    _, missed = make_book(show_of([song("A", "Verse @organ, Solo @led")]), rig_of("lower"))
    assert [(one.missing.nearest, one.asked_by) for one in missed] == [("lead", section("Solo @led"))]


def test_a_place_without_a_sound_keeps_the_current_one() -> None:
    book = book_of([song("A", "Verse @organ"), song("B", "Verse")])
    assert on(after(book, Next, Next, Next)) == "organ"
    assert isinstance(after(book, Next).on[0], Sound)


# When a sound changes: "Inside a song at once. On arriving at the next song, when hands lift."


def when(book: Book, *events: type[PlainEvent]) -> list[Change]:
    """Return when the sounds of the last of these events go out."""
    *earlier, last = events
    _, effects = step(after(book, *earlier), last(at_ms=99_000))
    return [effect.when for effect in effects if isinstance(effect, SendSound)]


LIFT, NOW = Change.WHEN_HANDS_LIFT, Change.AT_ONCE


def test_sounds_change_at_once_inside_a_song_and_when_hands_lift_at_the_next() -> None:
    book = book_of([song("A", "Intro @organ, Verse @lead"), song("B", "Intro @strings, Verse @pad")])
    assert when(book, Next, Next) == [NOW]
    assert when(book, Next, Next, Next) == [LIFT]
    assert when(book, Next, Next, Next, Next, Next) == [NOW]


def test_a_segue_counts_as_arriving_at_the_next_song() -> None:
    book = book_of([song("A", "Intro @organ", segue="B"), song("B", "Intro @strings")])
    assert when(book, Next, Next) == [LIFT]
    assert when(book, Next, Next, Back) == [LIFT]


def test_start_over_changes_the_sound_at_once() -> None:
    assert when(book_of([song("A", "Intro @organ, Verse @lead")]), Next, Next, StartOver) == [NOW]


def test_keyboard_song_or_section_may_set_when_a_sound_changes_and_the_section_wins() -> None:
    slow = rig_of("lower")
    slow = replace(slow, keyboards=(replace(slow.keyboards[0], change=LIFT),))
    first = song("A", "Intro @organ, Verse @lead")
    assert when(book_of([first], rig=slow), Next, Next) == [LIFT]
    assert when(book_of([replace(first, change=NOW)], rig=slow), Next, Next) == [NOW]
    verse = replace(first.road_map[1], change=LIFT)
    assert when(book_of([replace(first, change=NOW, road_map=(first.road_map[0], verse))], rig=slow), Next, Next) == [
        LIFT
    ]


def test_the_songs_clock_runs_from_its_first_section_and_restarts_with_start_over() -> None:
    book = book_of([song("A", "Intro, Verse"), song("B", "Intro", segue="C"), song("C", "Intro")])
    assert after(book).song_began_ms is None
    assert after(book, Next).song_began_ms == 1000
    assert after(book, Next, Next).song_began_ms == 1000
    assert after(book, Next, Next, Next).song_began_ms is None
    assert after(book, Next, Next, StartOver).song_began_ms == 3000
    assert after(book, *[Next] * 5).song_began_ms == 5000


def test_the_sections_clock_runs_from_the_press_that_led_there() -> None:
    book = book_of([song("A", "Intro, Verse")])
    assert after(book, Next, Next).section_began_ms == 2000
    assert after(book, Next, Again, Again).section_began_ms == 3000
    assert after(book, Next, Next, TakeBack).section_began_ms == 1000


def test_take_back_ignores_a_press_that_led_nowhere() -> None:
    ended = after(book_of([song("A", "Intro")]), Next, Next, Next)
    assert step(ended, TakeBack(at_ms=4000, of_ms=3000)) == (ended, ())
    assert place_text(step(ended, TakeBack(at_ms=4000, of_ms=2000))[0]) == "Intro of A"
