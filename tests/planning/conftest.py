"""The show file that the tests of this room write to."""

from pathlib import Path

import pytest
from planning.shows import PIER


@pytest.fixture
def pier(tmp_path: Path) -> Path:
    path = tmp_path / "pier.yaml"
    path.write_text(PIER)
    return path
