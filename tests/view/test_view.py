"""What is worth showing, state by state."""

from typing import Any

import pytest
from msgspec.structs import replace
from screen.nights import walked

from companion.music import read_key, read_meter
from companion.rig import Action, Keyboard, Pedal, Rig, Sound
from companion.show import Begins, Ending, Section, Set, Show, Song, SoundCall, Steps
from companion.stage import Again, AnyEvent, Book, Next, State, Surroundings, make_book
from companion.view import Beat, Detail, Light, LineMark, LineRole, Looks, Picture, View, ViewLine, view

CALM = Surroundings()
PIANO, ORGAN, CHOIR = Sound("grand piano", 0), Sound("tonewheel organ", 16), Sound("choir", by_hand="bank B, button 4")
RIG = Rig("test", (Keyboard("lower", port="Stage Piano", sounds=(PIANO, ORGAN, CHOIR)),))
VERSE, CHORUS = Section("Verse", 16), Section("Chorus", 8)
SOLO = Section("Solo", 16, feature="solo", open=True, watch="drummer", cue="two fingers up is one more round")


def book_of(*songs: Song, more: tuple[Song, ...] = ()) -> Book:
    sets = (Set("First", 20 * 60, 45, songs), *((Set("Second", 21 * 60 + 5, 45, more),) if more else ()))
    book, missed = make_book(Show("Pier Street", sets=sets), RIG)
    assert not missed
    return book


def song(*road_map: Section, **known: Any) -> Song:  # noqa: ANN401 - a song's own fields
    return Song("Gasworks Corner", road_map=road_map, **known)


def after(book: Book, *events: type[AnyEvent]) -> State:
    return walked(book, list(events))


def shown(seen: View, part: LineRole) -> list[str]:
    return [f"{line.label} {line.text}".strip() for line in seen.lines if line.part is part]


def playing(
    *road_map: Section,
    steps: int = 1,
    around: Surroundings = CALM,
    how: Looks | None = None,
    **known: Any,  # noqa: ANN401 - a song's own fields
) -> View:
    return view(after(book_of(song(*road_map, **known), Song("Kettle")), *[Next] * steps), around, how or Looks())


def test_the_view_before_the_show() -> None:
    seen = view(after(book_of(song(VERSE))), Surroundings(steps_with="page down"))
    assert seen.picture is Picture.BEFORE
    assert shown(seen, LineRole.STANDING) == ["Pier Street: First set, 20:00"]
    assert shown(seen, LineRole.HINT) == ["to start: page down; ? for all keys"]


def test_up_next_shows_title_key_tempo_who_starts_count_off_and_what_follows() -> None:
    known = song(
        Section("Intro", 4, feature="riff alone"),
        VERSE,
        key=read_key("Bb"),
        tempo_bpm=112.0,
        meter=read_meter("4/4"),
        starts_with="drummer",
        count_off="two bars, sticks",
        sounds=(SoundCall("tonewheel organ"),),
    )
    seen = view(after(book_of(Song("Kettle"), known), Next, Next), CALM)
    assert seen.picture is Picture.UP_NEXT
    assert shown(seen, LineRole.STANDING) == ["up next"]
    assert shown(seen, LineRole.TITLE) == ["Gasworks Corner"]
    assert shown(seen, LineRole.KEY) == ["B♭"]
    assert shown(seen, LineRole.TEMPO) == ["♩ 112, 4/4"]
    assert shown(seen, LineRole.START) == ["starts: drummer", "count: two bars, sticks"]
    assert shown(seen, LineRole.NEXT) == ["then Intro ★ riff alone"]
    assert shown(seen, LineRole.SOUND) == ["tonewheel organ"]


@pytest.mark.parametrize(
    ("meter", "tempo"),
    [("4/4", "♩ 96, 4/4"), ("6/8", "♩. 96, 6/8"), ("7/8", "♩ 96, 7/8"), ("2/2", "96, 2/2")],
)
def test_the_note_that_the_tempo_counts_stands_before_it(meter: str, tempo: str) -> None:
    seen = view(after(book_of(song(VERSE, tempo_bpm=96.0, meter=read_meter(meter)))), CALM)
    assert shown(seen, LineRole.TEMPO) == [tempo]


def test_a_song_that_the_keys_start_is_highlighted() -> None:
    seen = view(after(book_of(song(VERSE, starts_with="keys"))), CALM)
    assert seen.of(LineRole.START) == ViewLine(LineRole.START, "keys start", mark=LineMark.HIGHLIGHT)


def test_a_missing_key_is_shown_as_a_question() -> None:
    assert shown(view(after(book_of(song(VERSE))), CALM), LineRole.KEY) == ["key?"]


def test_playing_shows_section_next_sound_key_and_title() -> None:
    seen = playing(VERSE, CHORUS, key=read_key("F#m"), sounds=(SoundCall("grand piano"),))
    assert seen.picture is Picture.PLAYING
    assert [(line.part, line.text) for line in seen.lines] == [
        (LineRole.SECTION, "Verse"),
        (LineRole.NEXT, "Chorus"),
        (LineRole.TITLE, "Gasworks Corner"),
        (LineRole.SOUND, "grand piano"),
        (LineRole.BARS, "16 bars"),
        (LineRole.KEY, "F♯m"),
    ]


def test_a_feature_is_underlined_one_section_ahead_and_then_highlighted() -> None:
    coming, now = playing(VERSE, SOLO), playing(VERSE, SOLO, steps=2)
    assert coming.of(LineRole.NEXT) == ViewLine(LineRole.NEXT, "Solo ★", "next", mark=LineMark.UNDERLINE)
    assert (now.lines[0].mark, now.lines[0].text) == (LineMark.HIGHLIGHT, "Solo ★"), "not told by colour alone"
    assert shown(now, LineRole.FEATURE) == ["your feature"]
    assert shown(playing(Section("Intro", feature="riff alone")), LineRole.FEATURE) == ["★ riff alone"]


def test_the_view_says_whom_to_watch_and_for_what() -> None:
    seen = playing(SOLO)
    assert seen.of(LineRole.WATCH) == ViewLine(LineRole.WATCH, "drummer", "watch", mark=LineMark.GLASSES)
    assert shown(seen, LineRole.CUE) == ["two fingers up is one more round"]


@pytest.mark.parametrize(
    ("section", "events", "counted"),
    [
        (VERSE, (Next,), []),
        (VERSE, (Next, Again), ["again"]),
        (VERSE, (Next, Again, Again), ["again ×2"]),
        (Section("Verse", passes=3), (Next, Next), ["2 of 3"]),
        (Section("Verse", passes=3), (Next, Next, Again), ["2 of 3 +1"]),
        (SOLO, (Next,), ["open"]),
        (SOLO, (Next, Again, Again), ["open, round 3"]),
        (Section("Solo", passes=2, open=True), (Next, Next), ["open, round 2 of 2+"]),
        (Section("Solo", passes=2, open=True), (Next, Next, Again), ["open, round 3"]),
    ],
)
def test_passes_and_rounds_are_counted(section: Section, events: tuple[Any, ...], counted: list[str]) -> None:
    state = after(book_of(song(section, CHORUS)), *events)
    assert shown(view(state, CALM), LineRole.COUNT) == counted


@pytest.mark.parametrize(
    ("section", "bar", "told"),
    [
        (CHORUS, None, ["8 bars"]),
        (Section("Tag", 1), None, ["1 bar"]),
        (replace(SOLO, watch=None), None, ["16 bars"]),
        (CHORUS, 3, ["bar 3 of 8"]),
        (CHORUS, 8, ["bar 8 of 8"]),
        (CHORUS, 10, ["8 bars +2"]),
        (Section("Tag", 1), 3, ["1 bar +2"]),
        (Section("Verse"), 3, []),
    ],
)
def test_the_sections_bars_are_always_shown_and_counted_on_request(
    section: Section, bar: int | None, told: list[str]
) -> None:
    assert shown(playing(section, VERSE, around=Surroundings(bar=bar)), LineRole.BARS) == told


def test_a_key_change_is_circled_and_holds_until_the_next_one() -> None:
    road_map = (VERSE, Section("Chorus", key=read_key("C")), Section("Outro"))
    seen = [playing(*road_map, steps=steps, key=read_key("Bb")).of(LineRole.KEY) for steps in (1, 2, 3)]
    assert seen == [
        ViewLine(LineRole.KEY, "B♭"),
        ViewLine(LineRole.KEY, "C", "key", mark=LineMark.CIRCLE),
        ViewLine(LineRole.KEY, "C"),
    ]


def test_the_key_of_the_fingers_is_shown_if_it_differs() -> None:
    road_map = (VERSE, Section("Chorus", key=read_key("C")))
    known: dict[str, Any] = {"key": read_key("Bb"), "fingered_in": read_key("C")}
    assert shown(playing(*road_map, **known), LineRole.KEY) == ["play C"]
    assert shown(playing(*road_map, steps=2, **known), LineRole.KEY) == ["key play D"]
    assert shown(view(after(book_of(song(*road_map, **known))), CALM), LineRole.KEY) == ["play C, sounds B♭"]


def test_a_left_out_section_is_not_announced() -> None:
    state = replace(after(book_of(song(VERSE, CHORUS, SOLO)), Next), left_out=frozenset({1}))
    assert shown(view(state, CALM), LineRole.NEXT) == ["next Solo ★"]


def test_the_beat_mark_follows_the_taps() -> None:
    state = replace(after(book_of(song(VERSE, tempo_bpm=120.0)), Next), taps_ms=(2100, 2600, 3100))
    seen = view(state, CALM, Looks(beat=True))
    assert seen.beat == Beat(120.0, (1.0,) * 4, 1100)  # the press was at 1000: the taps say a tenth later


def test_the_view_before_a_song_says_what_begins_and_advances_it() -> None:
    known = song(VERSE, begins=Begins.FIRST_NOTE, steps=Steps.BY_BARS)
    assert shown(view(after(book_of(known)), CALM), LineRole.START) == [
        "your first note begins it",
        "moves on by itself",
    ]


def test_if_enter_is_a_pedal_the_digits_pick_a_song() -> None:
    rig = replace(RIG, pedals=(Pedal("right", key="enter", press=Action.NEXT),))
    book, _ = make_book(Show("Pier", sets=(Set("First", songs=(song(VERSE),)),)), rig)
    around = Surroundings(typed="g", found_songs=("Gasworks Corner",))
    assert shown(view(after(book), around), LineRole.HINT) == ["1, 2, 3 pick, a comma makes it a new song"]
    assert shown(view(after(book_of(song(VERSE))), around), LineRole.HINT) == [
        "enter goes, a comma makes it a new song"
    ]


def test_tacet_is_shown_as_a_long_rest() -> None:
    seen = playing(Section("Bridge", tacet=True, feature="riff"))
    assert seen.of(LineRole.FEATURE) == ViewLine(LineRole.FEATURE, "tacet", mark=LineMark.REST)
    assert seen.lines[0].mark is LineMark.NONE


def test_the_last_section_says_how_it_ends_and_what_follows() -> None:
    seen = playing(VERSE, ending=Ending.RITARD)
    assert shown(seen, LineRole.ENDING) == ["ends ritard"]
    assert shown(seen, LineRole.NEXT) == ["next song Kettle"]


def test_a_segue_is_circled() -> None:
    assert playing(VERSE, segue="Kettle").of(LineRole.NEXT) == ViewLine(
        LineRole.NEXT, "Kettle", "segue", (), LineMark.CIRCLE
    )


def test_a_song_without_a_road_map_shows_its_title() -> None:
    seen = playing()
    assert (shown(seen, LineRole.TITLE), shown(seen, LineRole.SECTION)) == (["Gasworks Corner"], [])


def test_the_end_of_a_set_between_sets_and_the_end_of_the_show() -> None:
    book = book_of(song(VERSE), more=(song(VERSE, key=read_key("D dorian"), sounds=(SoundCall("tonewheel organ"),)),))
    assert shown(view(after(book, Next), CALM), LineRole.NEXT) == ["then set break"]
    between = view(after(book, Next, Next), CALM)
    assert between.picture is Picture.BETWEEN_SETS
    assert shown(between, LineRole.STANDING) == ["set break: First set is over"]
    fingered = book_of(song(VERSE), more=(song(VERSE, key=read_key("Bb"), fingered_in=read_key("C")),))
    assert shown(view(after(fingered, Next, Next), CALM), LineRole.KEY) == ["play C, sounds B♭"]
    assert shown(between, LineRole.TITLE) == ["Second set, 21:05"]
    assert shown(between, LineRole.NEXT) == ["first Gasworks Corner"]
    assert shown(between, LineRole.SOUND) == ["tonewheel organ"]
    assert shown(between, LineRole.KEY) == ["D dorian"]
    assert shown(view(after(book, *[Next] * 4), CALM), LineRole.NEXT) == ["then show over"]
    assert view(after(book, *[Next] * 5), CALM).picture is Picture.END


def test_a_show_without_songs_says_so() -> None:
    book, _ = make_book(Show("Pier Street"), RIG)
    assert shown(view(after(book), CALM), LineRole.STANDING) == ["Pier Street: no songs"]


def test_lost_ports_battery_and_restart_are_shown_at_once() -> None:
    seen = playing(VERSE, around=Surroundings(lost=("Stage Piano", "Foot Box"), battery_percent=24))
    assert shown(seen, LineRole.NOTICE) == ["Stage Piano, Foot Box gone", "battery 24 %"]
    assert {line.mark for line in seen.lines if line.part is LineRole.NOTICE} == {LineMark.TORN}
    assert shown(playing(VERSE, around=Surroundings(notices=("screen restarted",))), LineRole.NOTICE)
    assert shown(playing(VERSE, around=Surroundings(battery_percent=31)), LineRole.NOTICE) == []


def test_a_dry_run_says_that_no_keyboard_is_connected() -> None:
    around = Surroundings(dry_run="the MIDI server is not running")
    for seen in (view(after(book_of(song(VERSE))), around), playing(VERSE, around=around)):
        assert shown(seen, LineRole.NOTICE) == ["no keyboard connected"]


@pytest.mark.parametrize(("over", "told"), [(7, ["7 min over, ends 20:52"]), (0, []), (-4, []), (None, [])])
def test_running_late_is_shown_and_running_early_is_not(over: int | None, told: list[str]) -> None:
    assert shown(playing(VERSE, around=Surroundings(over_min=over, ends="20:52")), LineRole.PACE) == told


def test_the_call_box_shows_what_was_typed_and_the_best_three() -> None:
    titles = ("Kettle", "Ketch", "Market Day", "Socket")
    seen = playing(VERSE, around=Surroundings(typed="ket", found_songs=titles))
    assert seen.picture is Picture.CALL
    assert shown(seen, LineRole.TYPED) == ["call ket_"]
    assert shown(seen, LineRole.CHOICE) == ["1 Kettle", "2 Ketch", "3 Market Day"]
    assert shown(seen, LineRole.SECTION) == ["Verse"], "section and next stay in sight"
    assert shown(seen, LineRole.NEXT) == ["next song Kettle"]


@pytest.mark.parametrize(
    ("typed", "choice", "hint"),
    [
        ("xyz", ["enter new song: xyz"], "not on the list; enter takes it, a comma adds a key or a sound"),
        ("Wish, Eb", ["enter new song: Wish, in E♭"], "not on the list; enter takes it as a new song"),
        ("Wish, H", [], "not on the list; after the comma, type a key or a sound"),
        (
            "Wish,",
            ["enter new song: Wish", "1 grand piano", "2 tonewheel organ", "3 choir"],
            "1, 2 or 3 takes it with that sound",
        ),
        ("x" * 201, [], "a title has 200 letters at most"),
        ("x" * 260, [], "no room for more letters: backspace makes room"),
        ("x, " + "to" * 129, [], "no room for more letters: backspace makes room"),
        ("Wish, to", ["enter new song: Wish, tonewheel organ", "1 tonewheel organ"], "1 takes it with that sound"),
    ],
)
def test_for_an_unlisted_title_the_view_says_that_enter_adds_it(typed: str, choice: list[str], hint: str) -> None:
    seen = playing(VERSE, around=Surroundings(typed=typed))
    assert (shown(seen, LineRole.CHOICE), shown(seen, LineRole.HINT)) == (choice, [hint])


def test_the_sets_pace_covers_only_the_lower_part_of_the_view() -> None:
    told = Surroundings(advice="28 min over, drop 3:", to_drop=("Kettle", "Ketch", "Market Day"))
    calm, seen = playing(SOLO, VERSE), playing(SOLO, VERSE, around=told)
    assert shown(seen, LineRole.ADVICE) == ["28 min over, drop 3:"]
    assert shown(seen, LineRole.DROP) == ["Kettle", "Ketch", "Market Day"]
    for part in (LineRole.SECTION, LineRole.NEXT, LineRole.TITLE, LineRole.SOUND, LineRole.WATCH, LineRole.COUNT):
        assert shown(seen, part) == shown(calm, part)


LEARNED = (
    Section("Verse", 16, chords="1 | 4", sounds=(SoundCall("grand piano"),)),
    Section("Chorus", 8, hits="4, 4&", first_words="under the", sounds=(SoundCall("tonewheel organ"),)),
    SOLO,
)


@pytest.mark.parametrize(
    ("detail", "steps", "parts"),
    [
        (
            Detail.EVERYTHING,
            1,
            {
                LineRole.SECTION,
                LineRole.NEXT,
                LineRole.SOUND,
                LineRole.KEY,
                LineRole.CHORDS,
                LineRole.TITLE,
                LineRole.BARS,
            },
        ),
        (
            Detail.FORM,
            1,
            {LineRole.SECTION, LineRole.NEXT, LineRole.SOUND, LineRole.KEY, LineRole.TITLE, LineRole.BARS},
        ),
        (Detail.CUES_ONLY, 1, {LineRole.TITLE}),
        # what is unusual, the landmark, and the change of sound; then the feature that comes
        (
            Detail.CUES_ONLY,
            2,
            {LineRole.TITLE, LineRole.SECTION, LineRole.HITS, LineRole.FIRST_WORDS, LineRole.SOUND, LineRole.NEXT},
        ),
        (
            Detail.CUES_ONLY,
            3,
            {LineRole.TITLE, LineRole.SECTION, LineRole.COUNT, LineRole.FEATURE, LineRole.WATCH, LineRole.CUE},
        ),
    ],
)
def test_a_well_known_song_shows_less(detail: Detail, steps: int, parts: set[LineRole]) -> None:
    how = Looks(details=(("Gasworks Corner", detail),))
    seen = playing(*LEARNED, steps=steps, how=how, key=read_key("Bb"))
    assert {line.part for line in seen.lines} == parts


def test_one_key_shows_all_details_for_a_while() -> None:
    how = Looks(details=(("Gasworks Corner", Detail.CUES_ONLY),), everything_until_ms=5000)
    known: dict[str, Any] = {"key": read_key("Bb"), "notes": "half-time in the bridge"}
    long = playing(*LEARNED, how=how, around=Surroundings(now_ms=4999), **known)
    assert {LineRole.CHORDS, LineRole.NOTES, LineRole.STANDING, LineRole.SOUND} <= {line.part for line in long.lines}
    short = playing(*LEARNED, how=how, around=Surroundings(now_ms=5000), **known)
    assert {line.part for line in short.lines} == {LineRole.TITLE}


@pytest.mark.parametrize(("known", "offered"), [(None, False), (3, False), (4, True), (5, True)])
def test_less_detail_is_offered_for_a_known_song_but_never_applied_unasked(known: int | None, offered: bool) -> None:  # noqa: FBT001 - a column
    seen = view(after(book_of(Song("Kettle"), song(*LEARNED, known=known, notes="half-time")), Next, Next), CALM)
    assert bool(shown(seen, LineRole.HINT)) is offered
    assert shown(seen, LineRole.NOTES) == ["half-time"]


@pytest.mark.parametrize("meter", ["4/4", "6/8", "7/8"])
def test_the_beat_mark_starts_with_the_press(meter: str) -> None:
    seen = playing(VERSE, how=Looks(beat=True), tempo_bpm=120.0, meter=read_meter(meter))
    assert seen.beat is not None
    assert seen.beat.from_ms == 1000
    assert seen.beat.beats == {"4/4": (1.0,) * 4, "6/8": (1.0, 1.0), "7/8": (1.0, 1.0, 1.0, 0.5)}[meter]


def test_there_is_no_beat_mark_without_a_tempo_or_a_request() -> None:
    assert playing(VERSE, how=Looks(beat=True)).beat is None
    assert playing(VERSE, tempo_bpm=120.0).beat is None


def test_the_count_off_is_two_bars_before_the_song() -> None:
    how = Looks(count_off_from_ms=5000)
    seen = view(after(book_of(song(VERSE, tempo_bpm=120.0))), CALM, how)
    assert seen.beat is not None
    assert (seen.beat.from_ms, seen.beat.count_off_bars) == (5000, 2)
    assert playing(VERSE, tempo_bpm=120.0, how=how).beat is None


def test_the_player_chooses_the_light() -> None:
    assert playing(VERSE, how=Looks(light=Light.DAY)).light is Light.DAY
