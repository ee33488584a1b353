"""What ``companion hear`` takes and refuses before it listens."""

import click
import pytest

from companion.commands import hearing_recordings


@pytest.mark.parametrize(
    "said", ["9" * 400 + ":0", "9" * 5_000 + ":0", "1:" + "9" * 400, "inf", "nan", "-1", "1:-5", "one", ""]
)
def test_a_downbeat_that_is_no_place_in_a_recording_is_refused(said: str) -> None:
    with pytest.raises(click.BadParameter, match=r"Write: 1:12\.4"):
        hearing_recordings._seconds(said)  # noqa: SLF001  what the option's text means


@pytest.mark.parametrize(("said", "seconds"), [("1:12.4", 72.4), ("72.4", 72.4), (" 0:00 ", 0.0)])
def test_a_downbeat_is_minutes_and_seconds(said: str, seconds: float) -> None:
    assert hearing_recordings._seconds(said) == pytest.approx(seconds)  # noqa: SLF001
