"""The user's data directory, beside what platformdirs says."""

import subprocess
import sys

import platformdirs
import pytest

from companion.files.folders import data_path


@pytest.mark.parametrize("wanted", [None, "", "  ", "/srv/data", "/srv/data/", "data", "~/data"])
@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere platformdirs is asked")
def test_the_data_directory_on_linux_is_the_one_of_the_library_for_all_systems(
    monkeypatch: pytest.MonkeyPatch, wanted: str | None
) -> None:
    monkeypatch.setenv("HOME", "/home/player")
    if wanted is None:
        monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    else:
        monkeypatch.setenv("XDG_DATA_HOME", wanted)
    assert data_path() == platformdirs.user_data_path("companion", appauthor=False)


def test_a_start_on_linux_need_not_bring_the_library_in() -> None:
    looks = (
        "import sys; from companion.files.folders import data_path; data_path(); print('platformdirs' in sys.modules)"
    )
    done = subprocess.run((sys.executable, "-c", looks), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == str(sys.platform != "linux")
