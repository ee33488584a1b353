"""The events alone say what was played: order, lengths, tempos, cuts, repeats, calls, take backs."""

import msgspec
import pytest
from stage.scenes import book_of, song

from companion.stage import (
    Again,
    AnyEvent,
    Back,
    Book,
    Call,
    Drop,
    FromTheTop,
    LeaveOut,
    Next,
    NextSong,
    PlainEvent,
    PutIn,
    StartOver,
    Swap,
    TakeBack,
    TakeItOut,
    Tap,
    ToEncore,
)
from companion.stage.played import How, NightPlayed, SongPlayed, played

TIMED = msgspec.structs.replace(
    song("A", "Intro, Verse, Chorus, Verse, Solo open, Outro"), tempo_bpm=120.0, length_s=90
)
BOOK = book_of([TIMED, song("B", "Intro, Verse x2"), song("C", "Intro")], [song("D")])
EIGHT_BARS_MS = 16_000  # eight bars of 4/4 at 120: 8 x 4 beats x 0.5 s


def night(*events: AnyEvent | tuple[type[PlainEvent], int], book: Book = BOOK) -> NightPlayed:
    """Tell a night of events, each (kind, ms since the one before), or an event with its own time."""
    now_ms = 0
    made: list[AnyEvent] = []
    for one in events:
        if isinstance(one, tuple):
            now_ms += one[1]
            made.append(one[0](at_ms=now_ms))
        else:
            made.append(one)
            now_ms = one.at_ms
    return played(book, made)


def first(*events: AnyEvent | tuple[type[PlainEvent], int]) -> SongPlayed:
    return night(*events).songs[0]


AS_WRITTEN = ((Next, 5000), *((Next, EIGHT_BARS_MS) for _ in range(6)))


def test_a_song_played_as_written_has_its_length_and_tempo_and_nothing_else() -> None:
    one = first(*AS_WRITTEN)
    assert (one.title, one.at_ms, one.lasted_ms, one.whole) == ("A", 5000, 6 * EIGHT_BARS_MS, True)
    assert (one.tempo_bpm, one.planned_bpm, one.planned_s) == (120.0, 120.0, 90)
    assert (one.cut, one.repeated, one.extended, one.false_starts) == ((), (), (), 0)
    assert [section.bars for section in one.sections] == [8, 8, 8, 8, 8, None]


def test_one_early_press_does_not_change_the_tempo() -> None:
    assert first((Next, 0), (Next, 8000), *((Next, EIGHT_BARS_MS) for _ in range(5))).tempo_bpm == 120.0


def test_a_tapped_tempo_overrides_the_tempo_of_the_presses() -> None:
    one = first((Next, 0), (Tap, 1000), (Tap, 400), (Tap, 400), *((Next, EIGHT_BARS_MS) for _ in range(6)))
    assert one.tempo_bpm == pytest.approx(150)


@pytest.mark.parametrize(
    ("presses", "cut", "repeated", "extended"),
    [
        ([Next, Next, TakeItOut, Next], ("Chorus", "Verse 2", "Solo"), (), ()),
        ([Next, LeaveOut, Next, Next, Next, Next, Next], ("Verse 1",), (), ()),
        ([Next, Again, Again, *[Next] * 6], (), ("Intro (+2)",), ()),
        ([*[Next] * 5, Again, Next, Next], (), (), ("Solo (+1)",)),
        ([Next, NextSong], ("Verse 1", "Chorus", "Verse 2", "Solo", "Outro"), (), ()),
        ([Next, Next, Back, *[Next] * 6], (), ("Intro (+1)", "Verse 1 (+1)"), ()),
    ],
)
def test_cuts_repeats_and_extensions_are_named(
    presses: list[type[PlainEvent]], cut: tuple[str, ...], repeated: tuple[str, ...], extended: tuple[str, ...]
) -> None:
    one = first(*((press, EIGHT_BARS_MS) for press in presses))
    assert (one.cut, one.repeated, one.extended) == (cut, repeated, extended)


def test_a_longer_open_section_is_reported_in_bars() -> None:
    solo = (Next, 2 * EIGHT_BARS_MS)
    one = first((Next, 0), *((Next, EIGHT_BARS_MS) for _ in range(4)), solo, (Next, EIGHT_BARS_MS))
    assert one.extended == ("Solo (16 bars for 8)",)


def test_an_open_section_without_bars_is_never_reported_as_longer() -> None:
    intro, vamp, outro = song("A", "Intro, Vamp open, Outro").road_map
    sections = (intro, msgspec.structs.replace(vamp, bars=None), outro)
    book = book_of([msgspec.structs.replace(song("A"), road_map=sections, tempo_bpm=120.0)])
    told = night((Next, 0), *((Next, EIGHT_BARS_MS) for _ in range(3)), book=book)
    assert told.songs[0].extended == ()


def test_fewer_passes_than_written_count_as_cut() -> None:
    told = night((NextSong, 0), (Next, 0), (Next, 1), (NextSong, 1))
    assert told.songs[0].cut == ("Verse (1 of 2)",)


def test_a_step_taken_back_is_not_played_but_marked_for_learning() -> None:
    told = night((Next, 0), (Next, 15_000), (TakeBack, 1000), *((Next, EIGHT_BARS_MS) for _ in range(6)))
    assert told.songs[0].sections[0].lasted_ms == 15_000 + 1000 + EIGHT_BARS_MS
    assert told.songs[0].cut == told.songs[0].repeated == ()
    ((at_ms, step, mark),) = [(one.at_ms, one.step, one.mark) for one in told.taken_back]
    assert (at_ms, step, mark.song, mark.section) == (16_000, "next", "A", "Intro")


def test_an_immediate_back_is_a_slip_but_a_hold_is_not() -> None:
    told = night((Next, 0), (Next, 15_000), (Back, 1000), (Next, EIGHT_BARS_MS))
    assert [one.step for one in told.taken_back] == ["next"]
    assert told.songs[0].sections[0].lasted_ms == 15_000 + 1000 + EIGHT_BARS_MS
    held = night(Next(0), Next(100), TakeBack(900, of_ms=100))
    assert held.taken_back == ()


def test_a_song_that_was_started_over_counts_from_its_last_start() -> None:
    one = first((Next, 0), (Next, 9000), (StartOver, 1000), *((Next, EIGHT_BARS_MS) for _ in range(6)))
    assert (one.at_ms, one.lasted_ms, one.false_starts) == (10_000, 6 * EIGHT_BARS_MS, 1)
    assert one.repeated == ()


def test_changes_of_order_are_reported_unless_taken_back() -> None:
    wish = song("Wish", "Intro")
    told = night(
        Call(1, 2), Next(2), Next(3), Swap(4), Drop(5), TakeBack(6), ToEncore(7), PutIn(8, wish), Next(9), Next(10)
    )
    assert [(one.how, one.song) for one in told.changes] == [
        (How.CALLED, "C"),
        (How.SWAPPED, "A"),
        (How.TO_ENCORE, "B"),
        (How.PUT_IN, "Wish"),
    ]
    assert [one.title for one in told.songs] == ["C", "Wish"]
    assert told.not_played == ("A", "D", "B")
    assert [one.step for one in told.taken_back] == ["drop"]


def test_the_song_in_which_the_night_ended_is_not_whole() -> None:
    assert not first((Next, 0), *((Next, EIGHT_BARS_MS) for _ in range(5))).whole


def test_only_what_followed_the_last_start_from_the_top_is_told() -> None:
    afternoon = ((Next, 5000), (Next, 16_000), (NextSong, 4000), (TakeBack, 1000), (NextSong, 1000), (Drop, 1000))
    told = night(*afternoon, FromTheTop(3_600_000), (Next, 5000), (Next, 16_000))
    assert [(one.title, one.at_ms) for one in told.songs] == [("A", 3_605_000)]
    assert (told.changes, told.taken_back, told.from_the_top) == ((), (), True)
    assert told.not_played == ("B", "C", "D")


def test_a_start_from_the_top_that_was_taken_back_changes_nothing() -> None:
    before = ((Next, 5000), (Next, 16_000), (Drop, 1000))
    told = night(*before, FromTheTop(60_000), TakeBack(61_000))
    plain = night(*before)
    assert (told.songs, told.changes, told.from_the_top) == (plain.songs, plain.changes, False)
