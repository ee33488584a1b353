"""The stage on Linux's own MIDI, with emulated USB-MIDI keyboards, in a separate virtual machine."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from real.program import NotThere, needs

HERE = Path(__file__).parent / "alsa"
WORK = Path(os.environ.get("COMPANION_ALSA_WORK", Path.home() / ".cache/companion-tests/alsa"))  # 71 MB, kept
CHECKS = 19


@pytest.mark.long
@pytest.mark.real
def test_on_alsa_the_right_sound_is_on_whatever_happens_to_cables_and_program() -> None:
    try:
        needs("qemu-system-x86_64", "dpkg-deb", "apt-get")
    except NotThere as missing:
        pytest.skip(str(missing))
    there = {"PYTHON": sys.executable, "CHECKS": str(HERE / "checks.py"), "WORK": str(WORK)}
    with subprocess.Popen(
        (HERE / "boot.sh",), env={**os.environ, **there}, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as machine:
        assert machine.stdout is not None
        told = "".join(machine.stdout)
    sys.stdout.write(told)
    assert re.search(rf"^RESULT: {CHECKS} right, 0 wrong$", told, re.MULTILINE), told[-4000:]
