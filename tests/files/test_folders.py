"""The user's own directories, beside what platformdirs says."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import platformdirs
import pytest

from companion.files.folders import config_path, data_path


@pytest.mark.parametrize("wanted", [None, "", "  ", "/srv/data", "/srv/data/", "data", "~/data"])
@pytest.mark.parametrize(
    ("ours", "variable", "theirs"),
    [
        (data_path, "XDG_DATA_HOME", platformdirs.user_data_path),
        (config_path, "XDG_CONFIG_HOME", platformdirs.user_config_path),
    ],
)
@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere platformdirs is asked")
def test_linux_folders_equal_those_of_the_library(
    monkeypatch: pytest.MonkeyPatch,
    wanted: str | None,
    ours: Callable[[], Path],
    variable: str,
    theirs: Callable[..., Path],
) -> None:
    monkeypatch.setenv("HOME", "/home/player")
    if wanted is None:
        monkeypatch.delenv(variable, raising=False)
    else:
        monkeypatch.setenv(variable, wanted)
    assert ours() == theirs("companion", appauthor=False)


def test_starting_on_linux_does_not_load_the_library() -> None:
    looks = (
        "import sys; from companion.files.folders import config_path, data_path; data_path(); config_path();"
        "print('platformdirs' in sys.modules)"
    )
    done = subprocess.run((sys.executable, "-c", looks), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == str(sys.platform != "linux")
