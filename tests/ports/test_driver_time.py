"""The driver's own time: believed if it agrees with ours, and never for more than it can know."""

from collections.abc import Callable

import pytest

from companion.ports import wires
from companion.ports.driver_time import DriverTime
from companion.ports.show_clock import NS_PER_MS


def arrivals(messages: list[tuple[int, int]], *, stamped: bool = True) -> list[int]:
    """Return when each arrived, in ms; ``messages`` are the ms by the driver's clock, and at which each came in."""
    time, before, told = DriverTime(), None, []
    for at_ms, came_ms in messages:
        since_s = (at_ms - before) / 1000 if stamped and before is not None else 0.0
        told.append(time.arrived_ns(since_s, came_ms * NS_PER_MS) // NS_PER_MS)
        before = at_ms
    return told


PROMPT = [(200 * number, 200 * number + number % 3) for number in range(6)]
CAME = [came for _, came in PROMPT]


def test_a_prompt_message_keeps_its_time_of_receipt() -> None:
    assert arrivals(PROMPT) == CAME


@pytest.mark.parametrize("held_up_ms", [10, 35, 200])
def test_presses_queued_by_the_driver_keep_their_own_times(held_up_ms: int) -> None:
    downs = [2_000, 2_040, 2_090]
    free_ms = 2_000 + held_up_ms
    told = arrivals([*PROMPT, *((at_ms, max(at_ms, free_ms)) for at_ms in downs)])[len(PROMPT) :]
    assert all(abs(one - at_ms) <= 10 for one, at_ms in zip(told, downs, strict=True))


def test_after_a_delay_prompt_messages_are_prompt_again() -> None:
    assert arrivals([*PROMPT, (2_000, 2_150), (2_400, 2_401), (2_600, 2_600)])[-2:] == [2_401, 2_600]


def test_a_driver_without_timestamps_is_not_trusted() -> None:
    messages = [(300 * number, 300 * number) for number in range(20)]
    assert arrivals(messages, stamped=False) == [came for _, came in messages]


def test_a_driver_is_trusted_only_after_its_times_agree() -> None:
    assert arrivals([(0, 0), (100, 300), (200, 301)]) == [0, 300, 301]


@pytest.mark.parametrize("jump_ms", [300, 5_000])
def test_a_driver_clock_that_fell_behind_is_trusted_once_at_most(jump_ms: int) -> None:
    """As after a lid was closed, where the driver's clock stands still and ours does not."""
    messages = [*PROMPT, *((3_000 + 2_000 * number, 3_000 + 2_000 * number + jump_ms) for number in range(6))]
    told = arrivals(messages)
    assert told[len(PROMPT) + 1 :] == [came for _, came in messages[len(PROMPT) + 1 :]]


def test_no_message_arrives_later_than_its_receipt() -> None:
    assert arrivals([*PROMPT, (9_000, 2_000), (9_001, 2_001)])[-2:] == [2_000, 2_001]


class Driver:
    """RtMidi's object for an open port."""

    def set_callback(self, callback: Callable[[tuple[list[int], float], object], None]) -> None:
        self.gives = callback


def test_an_open_port_passes_on_the_drivers_time(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [0]
    monkeypatch.setattr(wires, "now_ns", lambda: now[0] * NS_PER_MS)
    heard: list[int] = []
    driver = Driver()
    wires.RtReceivePort(driver, lambda _some, at_ns: heard.append(at_ns // NS_PER_MS))
    before = 0
    for at_ms, came_ms in [*PROMPT, (2_000, 2_200), (2_050, 2_200), (2_100, 2_201)]:
        now[0] = came_ms
        driver.gives(([0xB0, 64, 127], (at_ms - before) / 1000), None)
        before = at_ms
    assert [abs(one - at_ms) <= 10 for one, at_ms in zip(heard[-3:], (2_000, 2_050, 2_100), strict=True)] == [True] * 3
