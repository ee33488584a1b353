"""A road map from taps: what fits a song's sections, what is doubtful, and what lands in the show file."""

import datetime as dt
import itertools
from collections.abc import Iterator
from pathlib import Path

import pytest
from planning.shows import song

from companion.errors import CompanionError
from companion.listening.map_session import TakeProgress, Tapped, kept_throughs, map_song, tap_through
from companion.listening.map_writing import with_map
from companion.listening.tapped_map import MapTap, TapTake, named_sections, tapped_map
from companion.practice_log.records import LogKind, PracticeRecord, add_records
from companion.show import Section, Song, read_show

EVENING = dt.datetime(2027, 6, 5, 19, tzinfo=dt.UTC)
BAR_MS = 2_000.0  # 4/4 at 120
MAP = (Section("Intro", 4), Section("Verse", 16), Section("Solo", 8, passes=2, feature="solo"), Section("Outro", 4))
MOTH = song("Moth", "C", tempo_bpm=120.0, road_map=MAP, meter="4/4")


def through(*bars: int, beats: int = 0, start: float = 500.0, error: float = 0.0) -> TapTake:
    """Tap sections of these numbers of bars, and the end; with some beats before them."""
    places = [start + BAR_MS * bar + error for bar in itertools.accumulate((0, *bars))]
    return TapTake((*((False, start + 500.0 * beat) for beat in range(beats)), *((True, place) for place in places)))


def bars(made_of: Song, *times: TapTake) -> list[int | None]:
    return [section.bars for section in tapped_map(made_of, times).road_map]


def test_a_song_without_a_road_map_gets_one_with_its_names_and_its_tempo() -> None:
    made = tapped_map(song("Moth"), [through(4, 16, 8, beats=12)], named_sections("Intro, Verse"))
    assert [(one.name, one.bars) for one in made.road_map] == [("Intro", 4), ("Verse", 16), ("Part 3", 8)]
    assert made.tempo_bpm == 120
    assert made.doubts == ("the song has no meter: 4/4 assumed",)


def test_written_sections_change_only_their_bars() -> None:
    made = tapped_map(MOTH, [through(4, 12, 16, 4)])
    assert [section.bars for section in made.road_map] == [4, 12, 8, 4]
    assert made.road_map[2] == MAP[2]
    assert "the show has 16" in made.lines[1].says
    assert made.tempo_bpm is None  # it is right already


def test_each_pass_can_be_tapped() -> None:
    assert bars(MOTH, through(4, 16, 8, 8, 4)) == [4, 16, 8, 4]


def test_passes_of_different_length_are_in_doubt() -> None:
    made = tapped_map(MOTH, [through(4, 16, 8, 12, 4)])
    assert "passes of 8, 12 bars" in made.lines[2].says
    assert made.lines[0].says == ""


def test_an_untapped_end_leaves_the_last_section_unchanged() -> None:
    made = tapped_map(MOTH, [through(4, 16, 16)])
    assert [section.bars for section in made.road_map] == [4, 16, 8, 4]
    assert made.doubts == ("you did not tap the end: Outro unchanged",)


@pytest.mark.parametrize("tapped", [(4, 16), (4, 16, 16, 4, 4, 4)])
def test_extra_taps_are_reported_and_change_nothing(tapped: tuple[int, ...]) -> None:
    made = tapped_map(MOTH, [through(*tapped)])
    assert made.problem.startswith(f"the road map has 4 sections, 5 with each pass, but you tapped {len(tapped)}")
    assert made.lines == ()


@pytest.mark.parametrize("times", [[], [TapTake()], [TapTake(((True, 500.0),))], [TapTake(((False, 500.0),))]])
def test_a_single_tap_gives_no_road_map(times: list[TapTake]) -> None:
    assert tapped_map(MOTH, times).problem


def test_tapping_again_refines_and_outvotes_one_slip() -> None:
    slipped = through(4, 16, 16, 4).tapped(MapTap.FIRST, 23_000)
    made = tapped_map(MOTH, [through(4, 16, 16, 4, error=60), slipped, through(4, 16, 16, 4, error=-60)])
    assert [section.bars for section in made.road_map] == [4, 16, 8, 4]
    assert made.doubts == ("at 0:23, only some of your takes have a tap",)
    assert tapped_map(MOTH, [through(4, 16, 16, 4), slipped]).problem == ""  # of two nobody knows which is right


def test_a_section_tapped_for_an_hour_is_limited_to_the_allowed_bars() -> None:
    made = tapped_map(song("Moth", tempo_bpm=120.0), [through(900, 8)])
    assert made.road_map[0].bars == 400
    assert "1 to 400 bars" in made.lines[0].says


# ------------------------------------------------------------------ while it plays


class Table:
    """A player and a clock that the test moves on: a hundredth of a second a wait; looks come late, taps do not."""

    def __init__(self, length_s: float) -> None:
        self.length_s_, self.at, self.ns = length_s, 0.0, 0

    def play(self, path: str, from_s: float) -> None:  # noqa: ARG002  as the shape has it
        self.at = from_s

    def pause(self, paused: bool) -> None:  # noqa: FBT001  as the shape has it
        raise AssertionError(paused)

    def at_s(self) -> float | None:
        return self.at if self.at < self.length_s_ else None

    def stop(self) -> None:
        self.at = self.length_s_

    def length_s(self, path: str) -> float:
        raise AssertionError(path)

    def wait(self) -> None:
        self.at += 0.1
        self.ns += 100_000_000


def tapped(taps: dict[int, MapTap], *, length_s: float = 10.0, stays: bool = False) -> tuple[TapTake, ...]:
    """Tap at these milliseconds since the beginning of it all."""
    table, told = Table(length_s), list[TakeProgress]()
    waiting = dict(taps)

    def since() -> Iterator[Tapped]:
        for at_ms in [at_ms for at_ms in waiting if at_ms * 1_000_000 <= table.ns]:
            yield Tapped(waiting.pop(at_ms), at_ms * 1_000_000)

    return tap_through("a.ogg", table, since, told.append, table.wait, stays=stays, now=lambda: table.ns)


def test_a_tap_is_timed_by_its_arrival() -> None:
    (one,) = tapped({1_037: MapTap.FIRST, 2_055: MapTap.BEAT, 3_001: MapTap.FIRST})
    assert one.firsts == pytest.approx((1_037, 3_001))
    assert one.beats == pytest.approx((2_055,))


def test_a_wrong_tap_is_taken_back() -> None:
    (one,) = tapped({1_000: MapTap.FIRST, 2_000: MapTap.FIRST, 2_200: MapTap.TAKE_BACK, 4_000: MapTap.FIRST})
    assert one.firsts == pytest.approx((1_000, 4_000))


def test_after_back_and_again_taps_keep_their_place_in_the_recording() -> None:
    times = tapped(
        {1_000: MapTap.FIRST, 5_000: MapTap.AGAIN, 6_500: MapTap.FIRST, 7_000: MapTap.BACK, 7_900: MapTap.FIRST}
    )
    assert [at_ms for one in times for at_ms in one.firsts] == pytest.approx([1_000, 1_500, 900])
    assert len(times) == 2


def test_the_end_may_be_tapped_a_moment_after_the_recording_is_over() -> None:
    (one,) = tapped({1_000: MapTap.FIRST, 10_250: MapTap.FIRST, 12_000: MapTap.DONE}, stays=True)
    assert one.firsts == pytest.approx((1_000, 10_250), abs=1)


def test_done_ends_the_tapping_early() -> None:
    (one,) = tapped({1_000: MapTap.FIRST, 2_000: MapTap.DONE, 3_000: MapTap.FIRST}, length_s=1e9)
    assert one.firsts == pytest.approx((1_000,))


# ------------------------------------------------------------------ kept, and landed


def test_taps_belong_to_their_recording_even_under_a_new_title(tmp_path: Path) -> None:
    path = tmp_path / "show.yaml"
    path.write_text("show: Pier\nsongs:\n  - {title: Moth, recording: a.ogg}\n")
    (first, times) = map_song(path, "moth", lambda _song, _path: (through(4, 8),), lambda: EVENING)
    assert (first.title, len(times)) == ("Moth", 1)
    add_records(path, [PracticeRecord(EVENING, LogKind.RENAMED, "Moth", to="Moth at Night")])
    path.write_text(path.read_text().replace("Moth", "Moth at Night"))
    _, times = map_song(path, "moth at night", lambda _song, _path: (through(4, 8),), lambda: EVENING)
    assert len(times) == 2
    _, times = map_song(path, "moth at night", lambda _song, _path: (through(4, 8),), lambda: EVENING, fresh=True)
    assert len(times) == 1
    _, times = map_song(path, "moth at night", lambda _song, _path: (), lambda: EVENING)
    assert [one.firsts for one in times] == [through(4, 8).firsts]
    path.write_text(path.read_text().replace("a.ogg", "live.ogg"))
    assert map_song(path, "moth at night", lambda _song, _path: (), lambda: EVENING)[1] == ()
    assert kept_throughs([], "Moth", "a.ogg") == ()


@pytest.mark.parametrize("recording", ["", ", recording: 'https://example.org/moth'"])
def test_for_a_song_without_a_file_the_message_says_what_to_write(tmp_path: Path, recording: str) -> None:
    path = tmp_path / "show.yaml"
    path.write_text(f"show: Pier\nsongs:\n  - {{title: Moth{recording}}}\n")
    with pytest.raises(CompanionError, match="Moth has no recording file"):
        map_song(path, "moth", lambda _song, _path: (), lambda: EVENING)
    with pytest.raises(CompanionError, match="this show has no song called 'zebra crossing'"):
        map_song(path, "zebra crossing", lambda _song, _path: (), lambda: EVENING)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("- Moth", "- title: Moth\n    tempo: 120\n    road_map: Part 1 4, Part 2 8"),
        ("- {title: Moth}  # new", '- {title: Moth, tempo: 120, road_map: "Part 1 4, Part 2 8"} # new'),
        (
            "- title: Moth  # new\n    road_map: Intro 2* @organ, Verse open  # rough",
            "- title: Moth # new\n    tempo: 120\n    road_map: Intro 4* @organ, Verse 8 open # rough",
        ),
        (
            "- title: Moth\n    road_map:\n      - Intro 2  # short\n      - {section: Verse, watch: singer}  # hers\n",
            """- title: Moth
    tempo: 120
    road_map:
      - Intro 4 # short
      - {section: Verse, watch: singer, bars: 8} # hers""",
        ),
    ],
)
def test_a_map_is_written_in_the_style_of_the_file(tmp_path: Path, before: str, after: str) -> None:
    path = tmp_path / "show.yaml"
    path.write_text(f"show: Pier  # mine\nsongs:\n  {before.rstrip()}\n")
    (moth,) = read_show(path).show.sets[0].songs
    written = with_map(path, tapped_map(moth, [through(4, 8, beats=12)]))
    assert path.read_text() == written.file.text
    written.write()
    assert path.read_text().replace("  #", " #").rstrip() == f"show: Pier # mine\nsongs:\n  {after}"
    assert [section.bars for section in read_show(path).show.sets[0].songs[0].road_map] == [4, 8]
    assert "+" in written.difference


def test_the_sections_are_named_in_the_shorthand_of_the_road_map(tmp_path: Path) -> None:
    path = tmp_path / "show.yaml"
    path.write_text("show: Pier\nsongs:\n  - Moth\n")
    (moth,) = read_show(path).show.sets[0].songs
    named = named_sections("Intro*, Verse x2, Chorus @choir")
    with_map(path, tapped_map(moth, [through(4, 8, 8, 16, beats=12)], named)).write()
    assert path.read_text() == (
        "show: Pier\nsongs:\n  - title: Moth\n    tempo: 120\n    road_map: Intro 4*, Verse 8 x2, Chorus 16 @choir\n"
    )


def test_for_unreadable_section_names_the_message_says_what_to_write() -> None:
    with pytest.raises(CompanionError, match=r"Write: "):
        named_sections("Intro @")
    assert named_sections(" ") == ()


def test_extra_names_are_reported_and_missing_ones_become_parts() -> None:
    more = tapped_map(song("Moth"), [through(4, 8)], named_sections("Intro, Verse, Chorus, Outro"))
    assert more.problem.startswith("you named 4 sections, but you tapped 2")
    fewer = tapped_map(song("Moth"), [through(4, 8, 8)], named_sections("Intro"))
    assert [one.name for one in fewer.road_map] == ["Intro", "Part 2", "Part 3"]


def test_names_for_a_song_with_a_road_map_are_reported_as_unused() -> None:
    made = tapped_map(MOTH, [through(4, 16, 8, 12, 4)], named_sections("Intro"))
    assert "the song has a road map already: --names ignored" in made.doubts


def test_a_map_too_long_for_a_line_is_written_as_a_list(tmp_path: Path) -> None:
    path = tmp_path / "show.yaml"
    path.write_text("show: Pier\nsongs:\n  - Moth\n")
    (moth,) = read_show(path).show.sets[0].songs
    odd = (Section("Verse, quiet", feature="the left hand alone, then both"), Section("Chorus"))
    with_map(path, tapped_map(moth, [through(4, 8)], odd)).write()
    road_map = read_show(path).show.sets[0].songs[0].road_map
    assert [(one.name, one.bars, one.feature) for one in road_map] == [
        ("Verse, quiet", 4, "the left hand alone, then both"),
        ("Chorus", 8, None),
    ]


def test_a_tapped_map_overrides_the_songbook_s_in_this_show(tmp_path: Path) -> None:
    (tmp_path / "book.yaml").write_text("moth: {title: Moth, road_map: 'Intro 2, Verse 2'}\n")
    path = tmp_path / "show.yaml"
    path.write_text("show: Pier\nsongs:\n  - use: book.yaml#moth\n    key: F\n")
    (moth,) = read_show(path).show.sets[0].songs
    with_map(path, tapped_map(moth, [through(4, 8, beats=12)])).write()
    assert [section.bars for section in read_show(path).show.sets[0].songs[0].road_map] == [4, 8]


def at_bpm(bpm: float, *bars: float) -> TapTake:
    """Tap sections of these numbers of 4/4 bars at a tempo, and the end, without any beats."""
    return TapTake(tuple((True, 900.0 + 240_000 / bpm * bar) for bar in itertools.accumulate((0, *bars))))


def test_a_written_tempo_that_the_recording_does_not_have_gives_way_to_one_that_fits_the_sections() -> None:
    made = tapped_map(song("Moth", tempo_bpm=132.0), [at_bpm(118, 4, 8, 16)], named_sections("Intro 4*, Verse, Chorus"))
    assert made.tempo_bpm == 118
    assert [one.bars for one in made.road_map] == [4, 8, 16]


def test_taps_that_fit_no_tempo_are_shown_and_neither_tempo_nor_bars_are_proposed() -> None:
    moth = song("Moth", tempo_bpm=132.0, road_map=(Section("Intro", 4), Section("Verse"), Section("Chorus", 8)))
    made = tapped_map(moth, [at_bpm(118, 4.4, 7.3, 9.61)])
    assert made.tempo_bpm is None
    assert made.road_map == moth.road_map
    assert "its bars stay as they were" in made.lines[0].says
    assert "you tapped no beats: tap the song again, with a few beats in a row, and the doubts go" in made.doubts
