"""Another computer cannot reach the page: tried from a second network that is tied to the first by a cable."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from pages.visiting import SHOW

TESTS = Path(__file__).resolve().parents[1]
WAYS = (("unshare", "--user", "--map-root-user", "--net"), ("unshare", "--net"))  # as anybody; as root


@pytest.mark.long
def test_the_page_is_out_of_reach_of_another_network(tmp_path: Path) -> None:
    if shutil.which("unshare") is None or shutil.which("ip") is None:
        pytest.skip("no second network here: unshare and ip are not installed")
    way = next(
        (one for one in WAYS if subprocess.run((*one, "true"), capture_output=True, check=False).returncode == 0), ()
    )
    if not way:
        pytest.skip("no second network here: this system lets nobody make one")
    (tmp_path / "mill.yaml").write_text(SHOW, encoding="utf-8")
    script = (sys.executable, str(TESTS / "pages" / "two_networks.py"), str(tmp_path))
    paths = os.pathsep.join((str(TESTS), str(TESTS.parent)))
    found = subprocess.run(
        (*way, *script), capture_output=True, text=True, env={**os.environ, "PYTHONPATH": paths}, check=False
    )
    assert found.returncode == 0, found.stderr
    assert json.loads(found.stdout) == {
        "page from here": True,
        "page from there": False,
        "open port from there": True,  # else the cable would prove nothing
    }
