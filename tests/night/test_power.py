"""The battery is looked at in a separate process, and whatever that says or fails to say, the show continues."""

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
def test_the_battery_counts_only_while_in_use(
    monkeypatch: pytest.MonkeyPatch, is_there: object, told: int | None
) -> None:
    monkeypatch.setattr(psutil, "sensors_battery", lambda: is_there, raising=False)
    assert battery.percent_left() == told


def test_a_system_that_reports_no_battery_has_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(psutil, "sensors_battery", raising=False)
    assert battery.percent_left() is None


def test_the_battery_process_reports_what_the_library_reports() -> None:
    assert power.look() == battery.percent_left()


@pytest.mark.parametrize(("printed", "told"), [(b"17\n", 17), (b"", None), (b"no library\n", None)])
def test_the_battery_processs_output_is_read_defensively(
    monkeypatch: pytest.MonkeyPatch, printed: bytes, told: int | None
) -> None:
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: SimpleNamespace(stdout=printed))
    assert power.look() == told


def test_a_failed_battery_process_reports_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    assert power.look() is None


def test_only_a_change_is_reported(monkeypatch: pytest.MonkeyPatch) -> None:
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
