"""The shows that come along: they read without a fault, play on every rig, and use all that a show file can say."""

import itertools
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from companion.music import Meter, bar_seconds, read_chord_line, read_hits
from companion.rig import Rig, read_rig
from companion.show import Begins, Section, Show, Song, read_show
from companion.show.checks import check
from companion.show.show_file import SECTION, SET, SHOW, SONG
from companion.stage import make_book

ROOT = Path(__file__).resolve().parents[2]
SHOWS = ROOT / "shows"
DEMO = SHOWS / "pier-street.yaml"
FOUR_FOUR = Meter(4, 4)
GAP_S = 30  # between two songs: tuning, a sip, a word (common practice, no source)

RIGS = [ROOT / "companion/rig/built_in.yaml", *sorted((ROOT / "config").glob("*.yaml"))]
FILES = sorted(set(SHOWS.glob("*.yaml")) - {SHOWS / "songbook.yaml"})


def rig(path: Path) -> Rig:
    return read_rig(path).rig


def songs(show: Show) -> Iterator[Song]:
    return itertools.chain.from_iterable(one.songs for one in show.sets)


def sections(show: Show) -> Iterator[tuple[Song, Section]]:
    return ((song, section) for song in songs(show) for section in song.road_map)


@pytest.fixture(scope="module")
def demo() -> Show:
    return read_show(DEMO).show


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_show_reads_without_a_fault_or_a_warning(path: Path) -> None:
    assert read_show(path).warnings == ()


@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
@pytest.mark.parametrize("show", FILES, ids=lambda path: path.stem)
def test_every_show_plays_on_every_rig_unchanged(show: Path, path: Path) -> None:
    _book, missed = make_book(read_show(show).show, rig(path))
    assert [one.missing.problem for one in missed] == []


def test_the_demo_is_a_whole_engagement(demo: Show) -> None:
    assert [len(one.songs) for one in demo.sets] == [12, 14, 2]
    titles = [song.title for song in songs(demo)]
    assert len(set(titles)) == len(titles)


def test_the_demo_lacks_exactly_three_keys(demo: Show) -> None:
    assert [song.title for song in songs(demo) if song.key is None] == [
        "Seventeen Umbrellas",
        "Nobody's Deckchair",
        "Crêpe Paper Armada",
    ]


def test_the_demo_has_flat_and_sharp_keys_and_five_meters(demo: Show) -> None:
    signatures = {song.key.sf for song in songs(demo) if song.key}
    assert min(signatures) <= -5
    assert max(signatures) >= 4
    assert {str(song.meter) for song in songs(demo) if song.meter} == {"4/4", "3/4", "6/8", "12/8", "7/8"}


def test_the_demo_has_features_open_sections_and_sounds_that_change_within_songs(demo: Show) -> None:
    written = list(sections(demo))
    assert sum(section.feature is not None for _song, section in written) >= 24
    assert sum(section.open for _song, section in written) >= 10
    changing = {song.title for song, section in written if section.sounds and section.sounds != song.sounds}
    assert len(changing) >= 12


def test_one_song_of_the_demo_begins_on_the_players_first_note(demo: Show) -> None:
    assert [song.title for song in songs(demo) if song.begins is Begins.FIRST_NOTE] == ["Two Left Wellingtons"]


def test_each_segue_of_the_demo_leads_to_the_song_that_follows(demo: Show) -> None:
    for one in demo.sets:
        for song, follows in itertools.pairwise(one.songs):
            assert song.segue in (None, follows.title)
    assert sum(song.segue is not None for song in songs(demo)) == 3  # one pair, and a medley of three


def test_the_sets_fit_their_time_but_one_runs_slightly_over(demo: Show) -> None:
    over = []
    for one in demo.sets:
        gaps = sum(song.segue is None for song in one.songs[:-1])
        planned_s = sum(song.length_s or 0 for song in one.songs) + gaps * GAP_S
        assert one.minutes is not None
        over.append(planned_s - one.minutes * 60)
    first, second, encore = over
    assert first <= 0
    assert 0 < second <= 2 * 60
    assert encore <= 0


def test_each_length_of_the_demo_agrees_with_its_bars_and_tempo(demo: Show) -> None:
    """Open sections and endings take longer than written, nothing takes much less."""
    for song in songs(demo):
        if song.tempo_bpm and song.meter and song.length_s:
            bars = sum((section.bars or 0) * section.passes for section in song.road_map)
            written_s = bars * bar_seconds(song.meter, song.tempo_bpm)
            assert 0.9 <= song.length_s / written_s <= 1.5, song.title


def keys_of(node: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401  whatever YAML gives
    """Yield (what it belongs to, key) for every key of a show file as an independent reader sees it."""
    match node:
        case {"show": _}:
            yield from (("show", key) for key in node)
            yield from keys_of(node.get("sets", []))
            yield from keys_of(node.get("songs", []))
        case {"set": _}:
            yield from (("set", key) for key in node)
            yield from keys_of(node["songs"])
        case {"section": _}:
            yield from (("section", key) for key in node)
        case {"title": _} | {"use": _}:
            yield from (("song", key) for key in node)
            yield from keys_of(node.get("road_map", []))
        case dict():
            yield from keys_of(list(node.values()))
        case list():
            for one in node:
                yield from keys_of(one)


def test_every_key_that_a_show_file_knows_is_used_somewhere() -> None:
    used = set()
    for path in sorted(SHOWS.glob("*.yaml")):
        used |= set(keys_of(yaml.safe_load(path.read_text(encoding="utf-8"))))
    bare = Section("")
    for _, section in itertools.chain.from_iterable(sections(read_show(path).show) for path in FILES):  # in shorthand
        fields = [name for name in Section.__struct_fields__ if getattr(section, name) != getattr(bare, name)]
        used |= {("section", key) for key, field in SECTION.fields.items() if field.name in fields}
    known = {
        (form, key)
        for form, keys in (("show", SHOW.keys), ("set", SET.keys), ("song", SONG.keys), ("section", SECTION.keys))
        for key in keys
    }
    assert used == known


def test_both_ways_to_write_a_road_map_are_used() -> None:
    text = DEMO.read_text(encoding="utf-8")
    assert "road_map: Intro" in text
    assert "road_map:\n" in text


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_show_has_a_probable_slip_or_a_missing_file(path: Path) -> None:
    assert check(read_show(path), lambda name: (SHOWS / name).is_file()).warnings == ()


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_chord_line_has_the_bars_of_its_section_and_all_hits_are_understood(path: Path) -> None:
    for song, section in sections(read_show(path).show):
        meter = song.meter or FOUR_FOUR
        if section.chords:
            assert read_chord_line(section.chords, meter).bars == section.bars, f"{song.title}, {section.name}"
        if section.hits:
            assert read_hits(section.hits, meter).bars, f"{song.title}, {section.name}"


def test_the_demo_writes_chords_in_letters_and_in_numbers(demo: Show) -> None:
    lines = [
        read_chord_line(section.chords, song.meter or FOUR_FOUR) for song, section in sections(demo) if section.chords
    ]
    assert {line.in_numbers for line in lines} == {True, False}
