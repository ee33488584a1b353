"""What was heard in a recording stands beside what is written: doubtful first, each part taken, changed or refused."""

import re
import wave
from pathlib import Path

import numpy as np
import pytest
from pages.browsing import Tab, opened
from pages.serving import Serving
from pages.visiting import Answer, Site
from playwright.sync_api import Browser, expect

from companion.audio.constant_q import RATE
from companion.audio.heard_draft import DraftSection, SongDraft
from companion.audio.hearing import raw_hearing
from companion.audio.kept_hearings import keep, kept_path, sound_hash
from companion.music import read_key
from companion.pages.desk import ShowDesk
from companion.pages.heard_apart import HeardPart, HeardRequest, HeardSong, parts_of
from companion.pages.heard_drafts import HeardDrafts, heard_apart
from companion.show import Song, read_show
from companion.show.chords import chords_on

MILL = """\
show: Night at the Mill
songs:
  - title: Tram Home   # ask Osbert
    tempo: 96
    recording: tram.mp3
  - Lamplighter
"""
HEARD = HeardSong(
    "5ca1ab1e",
    (
        HeardPart("tempo", "192", is_sure=False, doubts=("192 or 96?",)),
        HeardPart("record_key", "Eb", is_sure=True),
        HeardPart("road_map", "A 8 | Eb | Ab\nB 8", is_sure=True, bare="A 8, B 8"),
    ),
)


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Site:
    (tmp_path / "tram.mp3").write_bytes(b"x")
    monkeypatch.setattr(HeardDrafts.__init__, "__defaults__", (lambda _: HEARD,))
    return Site(tmp_path, MILL)


def mark(site: Site, title: str = "Tram Home") -> str:
    assert site.workplace.desk is not None
    return next(one.mark for one in site.workplace.desk.look().songs if one.song.title == title)


def heard(site: Site, title: str = "Tram Home") -> str:
    answer = site.ask("GET", f"/heard?song={mark(site, title)}")
    assert answer.status_code == 200
    return answer.text


def refuse(site: Site, field: str) -> Answer:
    return site.ask("POST", "/refuse", {"song": mark(site), "field": field})


def test_doubtful_parts_come_first_beside_what_is_written(site: Site) -> None:
    page = heard(site)
    fields = re.findall(r'data-put-from="heard-(\w+)-', page)
    assert fields == ["tempo", "record_key", "road_map"]
    assert page.index("Doubtful: 192 or 96?") < page.index("Key on the record")
    assert "Written: 96" in page
    assert "Nothing is written." in page
    assert site.text == MILL


def test_a_part_lands_as_any_other_edit_changed_or_not_and_undo_takes_it_back(site: Site) -> None:
    for field, value, was in (("record_key", "D", ""), ("road_map", "A 8 | Eb | Ab\nB 8", ""), ("tempo", "98", "96")):
        assert site.type("Tram Home", field, value, was=was).status_code == 200
    song = read_show(site.path).show.sets[0].songs[0]
    assert (str(song.record_key), song.tempo_bpm, len(song.road_map)) == ("D", 98, 2)
    assert "As written." in heard(site)  # the road map
    for _ in range(3):
        site.ask("POST", "/undo", {})
    assert site.text == MILL


def take_road_map(site: Site, value: str) -> Answer:
    song = {"title": "Tram Home", "occurrence": 1}
    return site.ask("POST", "/edit", {**song, "field": "road_map", "value": value, "was": "", "heard": True})


@pytest.mark.parametrize(
    ("keys", "chords_in", "sounding"),
    [
        ("key: C\n    record_key: Eb", "Eb", "C | F"),
        ("record_key: Eb", "Eb", None),  # tonight's key may still come
        ("key: Eb\n    record_key: Eb", None, "Eb | Ab"),
        ("key: C\n    record_key: Eb\n    chords_in: Eb", "Eb", "C | F"),
    ],
)
def test_heard_letters_say_that_they_are_in_the_records_key(
    site: Site, keys: str, chords_in: str | None, sounding: str | None
) -> None:
    before = MILL.replace("tempo: 96", keys)
    site.path.write_text(before, encoding="utf-8")
    assert "A 8 | Eb | Ab" in heard(site)
    assert take_road_map(site, "A 8 | Eb | Ab\nB 8").status_code == 200
    song = read_show(site.path).show.sets[0].songs[0]
    assert (str(song.chords_in) if song.chords_in else None) == chords_in
    first = chords_on(song)[0]
    assert sounding is None or str(first.line_in(first.sounds)) == f"({sounding}) x4"  # two bars in a section of eight
    site.ask("POST", "/undo", {})
    assert site.text == before


@pytest.mark.parametrize("keys", ["key: C", "tempo: 96", "key: C\n    record_key: Eb\n    chords_in: F"])
def test_heard_letters_of_an_unknown_key_are_not_offered_and_not_written(site: Site, keys: str) -> None:
    before = MILL.replace("tempo: 96", keys)
    site.path.write_text(before, encoding="utf-8")
    page = heard(site)
    assert "A 8, B 8" in page
    assert "| Eb" not in page
    assert "write the key on the record first" in page
    refused = take_road_map(site, "A 8 | Eb | Ab\nB 8")
    assert "Write the key on the record first" in refused.text
    assert site.text == before
    assert take_road_map(site, "A 8, B 8").status_code == 200
    assert "road_map" in site.text


def test_a_refused_part_stays_refused_until_it_is_asked_for_again(site: Site, tmp_path: Path) -> None:
    assert "heard-tempo" not in refuse(site, "tempo").text
    site.workplace.close()
    again = Site(tmp_path, MILL)  # another start
    assert "heard-tempo" not in heard(again)
    assert "Show what you refused (1)" in heard(again)
    assert "heard-tempo" in refuse(again, "").text
    assert refuse(again, "title").status_code == 422
    assert again.text == MILL


def test_a_song_without_a_recording_says_nothing(site: Site) -> None:
    assert "hidden" in heard(site, "Lamplighter")
    assert site.ask("POST", "/refuse", {"song": mark(site, "Lamplighter"), "field": "tempo"}).status_code == 422


def test_a_recording_that_nobody_has_listened_to_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "tram.mp3").write_bytes(b"x")
    monkeypatch.setattr(HeardDrafts.__init__, "__defaults__", (lambda _: HeardSong(),))
    assert "Not listened to yet" in heard(Site(tmp_path, MILL))


def test_a_draft_becomes_parts_in_the_words_of_the_fields() -> None:
    draft = SongDraft(
        record_key=read_key("Eb"),
        key_sure=0.6,
        second_key=read_key("Cm"),
        cents=0.0,
        tempo_bpm=96.0,
        other_tempo_bpm=None,
        tempo_sure=0.99,
        drift=0.0,
        meter="3/4",
        meter_sure=0.95,
        swing=False,
        first_bar_s=0.0,
        sections=(DraftSection("A", 8, "(Eb) x8", 0.0, 1.0, 1.0),),
        doubts=("key: Eb or Cm?",),
    )
    assert parts_of(draft) == (
        HeardPart("record_key", "Eb", is_sure=False, doubts=("Eb or Cm?",)),
        HeardPart("road_map", parts_of(draft)[1].value, is_sure=False, bare="A 8"),
        HeardPart("tempo", "96", is_sure=True),
        HeardPart("meter", "3/4", is_sure=True),
    )
    assert parts_of(draft)[1].value.startswith("A 8 | ")


@pytest.mark.long
def test_the_process_apart_reads_what_was_kept_and_never_listens(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    recording = tmp_path / "noise.wav"
    recording.write_bytes(b"whatever it is: what counts is its hash")
    asked = HeardRequest(bytes(recording))
    assert heard_apart(asked) == HeardSong()
    noise = 0.1 * np.random.default_rng(8).standard_normal(RATE * 3)
    keep(raw_hearing(noise.astype(np.float32)), kept_path(sound_hash(recording)))
    found = heard_apart(asked)
    assert found.sound == sound_hash(recording)
    assert heard_apart(HeardRequest(bytes(tmp_path / "gone.wav"))) == HeardSong()


def downbeat(site: Site, place: str, does: str = "add") -> Answer:
    return site.ask("POST", "/downbeat", {"song": mark(site), "does": does, "place": place})


def test_a_show_that_cannot_be_written_shows_what_was_heard_and_offers_nothing_to_take(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ShowDesk, "is_read_only", True)
    page = heard(site)
    assert "Written: 96" in page
    assert "data-put-from" not in page


def downbeats(asked: list[HeardRequest]) -> tuple[float, ...]:
    return asked[-1].downbeats_s


def test_a_place_where_a_bar_begins_is_kept_shown_and_asked_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "tram.mp3").write_bytes(b"x")
    asked: list[HeardRequest] = []

    def ask(one: HeardRequest) -> HeardSong:
        asked.append(one)
        return HEARD

    monkeypatch.setattr(HeardDrafts.__init__, "__defaults__", (ask,))
    site = Site(tmp_path, MILL)
    heard(site)
    assert asked[-1] == HeardRequest(bytes(tmp_path / "tram.mp3"), bytes(site.path), 0, 0, ())
    page = downbeat(site, "1:12.4").text
    assert "A bar begins at 1:12.4." in page
    assert downbeats(asked) == (72.4,)
    assert downbeat(site, " 8 ").status_code == 200
    site.workplace.close()
    again = Site(tmp_path, MILL)  # another start
    assert "A bar begins at 0:08.0." in heard(again)
    assert downbeats(asked) == (8.0, 72.4)
    assert "1:12.4." not in downbeat(again, "72.4", "out").text
    assert downbeats(asked) == (8.0,)
    again.type("Tram Home", "tempo", "98", was="96")
    count = len(asked)
    heard(again)
    heard(again)
    assert len(asked) == count + 1  # what is written is taken as known: asked anew, once
    assert again.text == MILL.replace("96", "98")


@pytest.mark.parametrize("place", ["soon", "-1", "1:-2", "99:00", "nan", "inf", ""])
def test_what_is_no_place_in_a_recording_is_refused_with_what_to_write(site: Site, place: str) -> None:
    answer = downbeat(site, place)
    assert answer.status_code == 422
    assert "Write: 1:12.4" in answer.text
    assert "A bar begins at" not in heard(site)


def test_a_song_without_a_recording_has_no_bars_to_move(site: Site) -> None:
    there = {"song": mark(site, "Lamplighter"), "does": "add", "place": "1"}
    assert site.ask("POST", "/downbeat", there).status_code == 422


def test_only_a_recording_in_the_shows_folder_is_played(site: Site, tmp_path: Path) -> None:
    played = site.ask("GET", f"/recording?song={mark(site)}")
    assert (played.status_code, played.body, played.headers["content-type"]) == (200, b"x", "audio/mpeg")
    (tmp_path.parent / f"{tmp_path.name}.mp3").write_bytes(b"not ours")
    (tmp_path / "link.mp3").symlink_to("/etc/hostname")
    (tmp_path / "folder.mp3").mkdir()
    outside = (
        f"../{tmp_path.name}.mp3",
        f"{tmp_path}.mp3",
        "link.mp3",
        "folder.mp3",
        "mill.yaml",
        "/etc/hostname",
        "no.mp3",
    )
    for path in (*outside, "https://tape.example/tram.mp3"):
        site.path.write_text(MILL.replace("tram.mp3", path), encoding="utf-8")
        assert site.ask("GET", f"/recording?song={mark(site)}").status_code == 422, path
    assert site.ask("GET", f"/recording?song={mark(site, 'Lamplighter')}").status_code == 422


def draft_with(tempo: float, meter: str) -> SongDraft:
    return SongDraft(
        record_key=read_key("Eb"),
        key_sure=0.6,
        second_key=None,
        cents=0.0,
        tempo_bpm=tempo,
        other_tempo_bpm=None,
        tempo_sure=0.99,
        drift=0.0,
        meter=meter,
        meter_sure=0.95,
        swing=False,
        first_bar_s=0.0,
        sections=(),
        doubts=(),
    )


def test_what_is_written_is_compared_with_what_was_heard_without_it() -> None:
    """As the command does: a written tempo is an anchor, so only the hearing without it says whether it agrees."""
    parts = parts_of(draft_with(96, "3/4"), draft_with(192, "6/8"), Song("Tram Home", tempo_bpm=96))
    assert {one.field: one.value for one in parts} == {"tempo": "192", "meter": "3/4", "record_key": "Eb"}


def four_chords() -> np.ndarray[tuple[int], np.dtype[np.float32]]:
    """C, G, Am and F, two seconds each, six times, with a click every half second: 120 beats a minute."""
    time_s = np.arange(RATE * 48) / RATE
    sound = np.zeros(len(time_s))
    for number, root_hz in enumerate((261.6, 196.0, 220.0, 174.6) * 6):
        here = slice(number * 2 * RATE, (number + 1) * 2 * RATE)
        third = 2 ** ((3 if number % 4 == 2 else 4) / 12)
        for ratio in (1, third, 1.5):
            sound[here] += 0.1 * np.sin(2 * np.pi * root_hz * ratio * time_s[here])
    clicks = np.random.default_rng(8)
    for start in range(0, len(time_s) - 400, RATE // 2):
        sound[start : start + 400] += 0.5 * clicks.standard_normal(400)
    return sound.astype(np.float32)


def moves_the_bars(tab: Tab) -> None:
    """Say where a bar begins: typed, and while the recording plays; then take both out."""
    page, heard = tab.page, tab.page.locator("#heard")
    before = heard.get_by_label("Road map").input_value()
    heard.get_by_label("One begins at").fill("0:00.5")
    heard.get_by_label("One begins at").press("Enter")
    expect(heard.get_by_text("A bar begins at 0:00.5.")).to_be_visible()
    expect(heard.get_by_label("Road map")).not_to_have_value(before)  # all bars have moved
    assert tab.faults_of_axe() == []
    heard.get_by_role("button", name="A bar begins now").click()
    expect(page.locator("#downbeat-slip")).to_contain_text("Play it first")
    heard.get_by_role("button", name="Play it").click()
    page.wait_for_timeout(900)
    heard.get_by_role("button", name="A bar begins now").click()
    expect(heard.get_by_text("A bar begins at")).to_have_count(2)
    heard.get_by_role("button", name="Stop").click()
    heard.get_by_role("button", name="Take out").last.click()
    expect(heard.get_by_text("A bar begins at")).to_have_count(1)
    heard.get_by_label("One begins at").fill("soon")
    heard.get_by_role("button", name="Move the bars").click()
    expect(page.locator("#downbeat-slip")).to_contain_text("Write: 1:12.4")
    heard.get_by_role("button", name="Take out 0:00.5").click()
    expect(heard.get_by_label("Road map")).to_have_value(before)


@pytest.mark.long
def test_a_draft_is_taken_changed_and_refused_in_a_browser(
    tmp_path: Path, browser: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    show = tmp_path / "mill.yaml"
    show.write_text(MILL.replace("tempo: 96", "tempo: 96\n    record_key: D").replace(".mp3", ".wav"), encoding="utf-8")
    with wave.open(str(tmp_path / "tram.wav"), "wb") as tape:
        tape.setparams((1, 2, RATE, 0, "NONE", ""))
        tape.writeframes((20_000 * np.clip(four_chords(), -1, 1)).astype("<i2").tobytes())
    keep(raw_hearing(four_chords()), kept_path(sound_hash(tmp_path / "tram.wav")))
    serving = Serving(tmp_path, str(show))
    try:
        tab = opened(serving, browser)
        page = tab.page
        page.get_by_role("link", name="Tram Home").click()
        heard = page.locator("#heard")
        expect(heard.get_by_text("Doubtful:").first).to_be_visible()
        assert tab.faults_of_axe() == []
        moves_the_bars(tab)
        heard.get_by_role("button", name="Write this instead Tempo").click()
        expect(page.locator("#undo")).to_have_text("Undo: Tram Home: tempo 120")
        expect(heard.get_by_text("As written.")).to_be_visible()
        heard.get_by_role("button", name="Refuse it Key on the record").click()
        expect(heard.get_by_role("button", name="Show what you refused (1)")).to_be_visible()
        heard.get_by_label("Road map").fill("Verse 24 | D")
        heard.get_by_role("button", name="Take it Road map").click()
        expect(page.locator(".row")).to_have_count(1)
        song = read_show(show).show.sets[0].songs[0]
        assert (song.tempo_bpm, str(song.record_key), song.road_map[0].name) == (120, "D", "Verse")
        assert str(song.chords_in) == "D"  # the letters are the record's, until tonight's key is written
        assert "# ask Osbert" in show.read_text(encoding="utf-8")
        assert tab.wrong == []
    finally:
        serving.end()
