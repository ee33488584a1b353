"""How the set runs, as it is said on stage: in time, over it, and what to drop; and never before the sound."""

import msgspec
import pytest
from night.evening import PEDALS, Evening
from stage.scenes import book_of, rig_of, song

from companion.night.pacing import Pacing
from companion.screen import Part
from companion.show import Song
from companion.stage import State
from companion.stage.pace import length_s


def timed_evening() -> Evening:
    """Give an evening at 20:00 of a set of three songs of 4:00 that has eleven minutes."""
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    songs = [msgspec.structs.replace(song(title, "Intro, Verse"), length_s=240) for title in "ABC"]
    book = book_of(songs, rig=rig)
    one = msgspec.structs.replace(book.show.sets[0], starts_min=1200, minutes=11)
    show = msgspec.structs.replace(book.show, sets=(one,))
    return Evening(msgspec.structs.replace(book, show=show), rig=rig)


def test_a_set_that_runs_over_is_said_with_the_time_at_which_it_will_end() -> None:
    evening = timed_evening()
    evening.press()
    evening.now_ms += 60_000
    evening.night.take(None)
    line = evening.wall.views[-1].of(Part.PACE)
    assert line is not None
    assert line.text == "3 min over, ends 20:14"


def test_no_sound_waits_until_the_set_is_reckoned_and_no_song_is_reckoned_twice(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    songs = [song(f"Study {number}", "Intro @organ, Verse @lead") for number in range(30)]
    evening = Evening(book_of(songs, rig=msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)))
    sent: list[int] = []
    reckoned: list[str] = []

    def seen_then(self: Pacing, state: State, at_ms: int) -> None:
        sent.append(len(evening.tape.sent))
        seen(self, state, at_ms)

    def length_then(one: Song) -> int:
        reckoned.append(one.title)
        return length_s(one)

    seen = Pacing.seen
    monkeypatch.setattr(Pacing, "seen", seen_then)
    monkeypatch.setattr("companion.night.pacing.length_s", length_then)
    for _ in range(20):
        evening.press()
        assert sent[-1] == len(evening.tape.sent)
    assert len(evening.tape.sent) > 10
    assert len(reckoned) == len(set(reckoned))


def test_on_demand_it_says_which_songs_to_drop() -> None:
    evening = timed_evening()
    evening.press()
    evening.now_ms += 60_000
    evening.key("v")
    assert any("drop B" in line.text for line in evening.wall.views[-1].lines)
