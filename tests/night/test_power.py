"""The battery is looked at in a process of its own, and whatever that says or fails to say, the show goes on."""

import subprocess
import sys
import threading
from types import SimpleNamespace

import psutil
import pytest

from companion.night import battery, power
from companion.night.happenings import BatteryIs


@pytest.mark.parametrize(
    ("is_there", "told"),
    [
        (SimpleNamespace(percent=28.6, power_plugged=False), 29),
        (SimpleNamespace(percent=28.6, power_plugged=True), None),
        (None, None),
    ],
)
def test_what_is_left_counts_only_while_the_computer_runs_on_it(
    monkeypatch: pytest.MonkeyPatch, is_there: object, told: int | None
) -> None:
    monkeypatch.setattr(psutil, "sensors_battery", lambda: is_there, raising=False)
    assert battery.percent_left() == told


def test_a_system_without_a_word_on_its_battery_has_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(psutil, "sensors_battery", raising=False)
    assert battery.percent_left() is None


def test_a_look_from_outside_says_what_the_library_says() -> None:
    assert power.look() == battery.percent_left()


@pytest.mark.parametrize(("printed", "told"), [(b"17\n", 17), (b"", None), (b"no library\n", None)])
def test_what_a_look_prints_is_read_with_care(
    monkeypatch: pytest.MonkeyPatch, printed: bytes, told: int | None
) -> None:
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: SimpleNamespace(stdout=printed))
    assert power.look() == told


def test_a_look_that_cannot_be_had_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    assert power.look() is None


def test_only_a_change_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    looks = iter((None, 29, 29, 28, None))
    over = threading.Event()
    told: list[BatteryIs] = []

    def look() -> int | None:
        left = next(looks, -1)
        if left == -1:
            over.set()
            return None
        return left

    monkeypatch.setattr(power, "look", look)
    monkeypatch.setattr(over, "wait", lambda _: over.is_set())
    power.watch_battery(told.append, over).join(5)
    assert told == [BatteryIs(29), BatteryIs(28), BatteryIs(None)]
