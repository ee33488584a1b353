"""The one clock of a night: the same in every process, and on where the computer slept."""

import subprocess
import sys
import time

import pytest

from companion import clock

ELSEWHERE_NS = 5_000_000_000_000


def a_clock(which: int) -> int:
    """Stand in for a system's clocks, each of which is far from the others."""
    return ELSEWHERE_NS + which


def test_linux_has_a_clock_that_counts_sleep(monkeypatch: pytest.MonkeyPatch) -> None:
    """clock_gettime(2): CLOCK_BOOTTIME is as CLOCK_MONOTONIC, "except that it also includes any time that the system
    is suspended"."""
    monkeypatch.setattr(time, "CLOCK_BOOTTIME", 7, raising=False)
    monkeypatch.setattr(time, "clock_gettime_ns", a_clock, raising=False)
    assert clock._clock_ns()() == ELSEWHERE_NS + 7  # noqa: SLF001 - chosen when the module is brought in


def test_on_macos_the_clock_is_the_raw_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(time, "CLOCK_BOOTTIME", raising=False)
    monkeypatch.setattr(time, "CLOCK_MONOTONIC_RAW", 6, raising=False)
    monkeypatch.setattr(time, "clock_gettime_ns", a_clock, raising=False)
    monkeypatch.setattr(sys, "platform", "darwin")
    assert clock._clock_ns()() == ELSEWHERE_NS + 6  # noqa: SLF001 - as above


def test_on_windows_the_clock_is_the_performance_counter(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(time, "CLOCK_BOOTTIME", raising=False)
    monkeypatch.setattr(sys, "platform", "win32")
    assert clock._clock_ns() is time.perf_counter_ns  # noqa: SLF001 - as above


def test_a_system_that_refuses_uses_the_performance_counter(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuses(_which: int) -> int:
        raise OSError(22, "Invalid argument")

    monkeypatch.setattr(time, "CLOCK_BOOTTIME", 7, raising=False)
    monkeypatch.setattr(time, "clock_gettime_ns", refuses, raising=False)
    assert clock._clock_ns() is time.perf_counter_ns  # noqa: SLF001 - as above


def test_two_processes_read_the_same_clock() -> None:
    before = clock.now_ns()
    told = subprocess.run(
        (sys.executable, "-c", "from companion.clock import now_ns; print(now_ns())"),
        capture_output=True,
        text=True,
        check=True,
    )
    assert before < int(told.stdout) < clock.now_ns()
