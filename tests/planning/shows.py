"""Invented shows for the tests of this room."""

import datetime as dt
from typing import Any

from companion.music import read_key, read_meter
from companion.show import Section, Set, Show, Song, SoundCall

TODAY = dt.date(2027, 6, 5)
DAY = dt.date(2027, 6, 19)
EVENING = dt.datetime(2027, 6, 5, 19, tzinfo=dt.UTC)
PIER = """show: Pier Street  # mine
date: 2027-06-19
sets:
  - set: First
    songs:
      - title: Gasworks Corner   # a comment
        key: Bb
        known: 1
        hard: 1
        recording: a.ogg
      - title: Kettle on the Jetty
        key: F
      - title: Moth
        recording: gone.ogg
      - {title: Weeds, recording: "https://example.org/weeds"}
"""


def song(title: str, key: str | None = None, **more: Any) -> Song:  # noqa: ANN401  a builder takes every field
    """Make a song from words."""
    meter = more.pop("meter", None)
    return Song(
        title=title, key=read_key(key) if key else None, meter=read_meter(str(meter)) if meter else None, **more
    )


def show(*songs: Song, date: dt.date | None = DAY, sets: int = 1) -> Show:
    """Make a show of these songs, in this many sets."""
    size = -(-len(songs) // sets)
    made = tuple(
        Set(("First", "Second", "Third")[at], 1200 + 75 * at, 45, tuple(songs[at * size : (at + 1) * size]))
        for at in range(sets)
    )
    return Show("Pier Street", date=date, venue="the hall", band="The Nine", sets=made)


def big(songs: int) -> Show:
    """Make a show of this many songs, each a little different."""
    keys = ("C", "Gm", "Bb", "F#m", "D", "Ab", "Em", None)
    made = [
        song(
            f"Song {at}",
            keys[at % 8],
            tempo_bpm=80.0 + 7 * (at % 13),
            length_s=180 + 10 * (at % 9),
            hard=at % 6,
            known=(at * 5) % 6 if at % 4 else None,
            chart=at % 3 == 0,
            artist=f"Band {at % 9}",
            sounds=(SoundCall("organ"),),
            road_map=(Section("Intro", 4, feature="solo"), Section("Verse", 16)) if at % 5 == 0 else (),
        )
        for at in range(songs)
    ]
    return show(*made, sets=3 if songs > 2 else 1)
