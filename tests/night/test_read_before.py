"""What was read before: used where every letter is the same, and nowhere else."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from bench.stopwatch import ROOT

from companion.errors import FaultyFile
from companion.night import read_before
from companion.night.preflight import Ready, make_ready

SHOW = """show: Pier Street
sets:
  - set: One
    songs:
      - {title: Lantern Row, key: Bb, tempo: 96, meter: 6/8, length: "3:40", sound: organ, chart: no}
      - use: songbook.yaml#gasworks-corner
"""
SONGBOOK = "gasworks-corner: {title: Gasworks Corner, road_map: [{section: Intro, bars: 4, sound: piano}]}\n"
RIG = """rig: One board
keyboards:
  board: {port: Stage, sounds: {organ: {program: 17, send: F0 7D 01 F7}, piano: 1}}
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    for name, text in (("show.yaml", SHOW), ("songbook.yaml", SONGBOOK), ("rig.yaml", RIG)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def ready(home: Path) -> Ready:
    return make_ready(home / "show.yaml", home / "rig.yaml", shelf=home)


def kept(home: Path) -> Ready:
    """Read it for the first time, and keep what was read."""
    first = ready(home)
    first.keep(home)
    return first


def was_read_again(home: Path) -> bool:
    return ready(home).just_read is not None


@pytest.mark.parametrize("rig", ["general-midi", "one-board", "two-tiers"])
@pytest.mark.parametrize("show", ["first-show", "pier-street", "rehearsal"])
def test_the_cache_returns_everything_that_was_read(show: str, rig: str, tmp_path: Path) -> None:
    files = ROOT / "shows" / f"{show}.yaml", ROOT / "config" / f"{rig}.yaml"
    first = make_ready(*files, goes_on=lambda: True, shelf=tmp_path)
    first.keep(tmp_path)
    again = make_ready(*files, goes_on=lambda: True, shelf=tmp_path)
    assert again.just_read is None
    assert (again.book, again.warnings, again.songbooks) == (first.book, first.warnings, first.songbooks)
    assert repr(again.book) == repr(first.book)  # 96 stays 96, and a tuple no list


def test_the_cache_preserves_types(home: Path) -> None:
    first, again = kept(home), ready(home)
    assert again.just_read is None
    assert again.book == first.book
    assert repr(again.book) == repr(first.book)  # 96 stays 96, and a tuple no list
    assert again.songbooks == (home / "songbook.yaml",)


@pytest.mark.parametrize("name", ["show.yaml", "songbook.yaml", "rig.yaml"])
def test_one_changed_letter_in_any_file_discards_the_cache(home: Path, name: str) -> None:
    kept(home)
    before = (home / name).stat()
    text = (home / name).read_text(encoding="utf-8")
    (home / name).write_text(text.replace("organ", "0rgan").replace("Corner,", "C0rner,"), encoding="utf-8")
    os.utime(home / name, ns=(before.st_atime_ns, before.st_mtime_ns))  # its date and size tell nothing
    assert (home / name).stat().st_size == before.st_size
    try:
        assert was_read_again(home)
    except FaultyFile as faulty:
        assert "0rgan" in str(faulty) or "organ" in str(faulty)  # noqa: PT017 - it was read, or there were no fault


@pytest.mark.parametrize("name", ["show.yaml", "songbook.yaml", "rig.yaml"])
def test_a_missing_file_is_reported_and_not_served_from_the_cache(home: Path, name: str) -> None:
    kept(home)
    (home / name).unlink()
    with pytest.raises(FaultyFile, match=name):
        ready(home)


@pytest.mark.skipif(sys.platform == "win32", reason="links need a right there")
def test_a_songbook_with_two_names_is_compared_under_both(home: Path) -> None:
    (home / "songbook.yaml").write_text(SONGBOOK + "mill-race: {title: Mill Race, sound: piano}\n", encoding="utf-8")
    (home / "alias.yaml").symlink_to("songbook.yaml")
    (home / "show.yaml").write_text(SHOW + "      - use: alias.yaml#mill-race\n", encoding="utf-8")
    kept(home)
    assert not was_read_again(home)
    (home / "alias.yaml").unlink()
    (home / "alias.yaml").write_text("mill-race: {title: Mill Race, sound: organ}\n", encoding="utf-8")
    assert was_read_again(home)
    (home / "alias.yaml").unlink()
    with pytest.raises(FaultyFile, match=r"alias\.yaml"):
        ready(home)


@pytest.mark.skipif(
    sys.platform in ("win32", "darwin") or sys.getfilesystemencoding() != "utf-8",
    reason="every name of a file is text there",
)
def test_a_folder_with_an_undecodable_name_is_not_cached(home: Path) -> None:
    rig = Path(os.fsdecode(bytes(home / "b\udcff.yaml")))
    rig.write_text(RIG, encoding="utf-8")
    make_ready(home / "show.yaml", rig, shelf=home).keep(home)
    assert not (home / read_before.FILE).exists()


def test_another_rig_is_read_and_not_served_from_the_cache(home: Path) -> None:
    kept(home)
    other = home / "other.yaml"
    other.write_text(RIG.replace("17", "18"), encoding="utf-8")
    sounds = make_ready(home / "show.yaml", other, shelf=home).book.songs[0].sections[0].sounds
    assert [sound.program for sound in sounds if sound] == [17]


def test_a_cache_with_one_flipped_bit_is_not_used(home: Path) -> None:
    kept(home)
    file = home / read_before.FILE
    whole = file.read_bytes()
    for at in range(0, len(whole), 17):
        file.write_bytes(whole[:at] + bytes((whole[at] ^ 1,)) + whole[at + 1 :])
        assert was_read_again(home), at


@pytest.mark.parametrize("content", [b"", b"\0", b"\0\0\0\0", b"no such thing at all"])
def test_a_cache_of_any_other_content_is_not_used(home: Path, content: bytes) -> None:
    (home / read_before.FILE).write_bytes(content)
    assert was_read_again(home)


def test_another_python_ignores_the_cache(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept(home)
    assert not was_read_again(home)
    monkeypatch.setattr(sys, "version", "another Python")
    assert was_read_again(home)


@pytest.mark.parametrize("room", ["", "files", "music", "rig", "show"])
def test_one_changed_letter_in_the_readers_code_discards_the_cache(
    home: Path, room: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = home / "companion"
    shutil.copytree(ROOT / "companion", package, ignore=shutil.ignore_patterns("fonts", "__pycache__"))
    monkeypatch.setattr(read_before, "_PACKAGE", package)
    kept(home)
    assert not was_read_again(home)
    code = package / room / "__init__.py"
    before = code.stat()
    code.write_bytes(code.read_bytes().replace(b"e", b"a", 1))
    os.utime(code, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert was_read_again(home)


def test_a_program_without_a_folder_uses_no_cache(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(read_before, "_PACKAGE", home / "in an archive")
    kept(home)
    assert was_read_again(home)


def test_a_show_with_a_fault_is_not_cached(home: Path) -> None:
    (home / "show.yaml").write_text(SHOW.replace("key: Bb", "kee: Bb"), encoding="utf-8")
    with pytest.raises(FaultyFile):
        ready(home)
    assert not (home / read_before.FILE).exists()


def test_a_missing_sound_is_reported_with_its_place_from_the_cache_too(home: Path) -> None:
    (home / "rig.yaml").write_text(RIG.replace("organ", "strings"), encoding="utf-8")
    first = make_ready(home / "show.yaml", home / "rig.yaml", goes_on=lambda: True, shelf=home)
    first.keep(home)
    again = make_ready(home / "show.yaml", home / "rig.yaml", goes_on=lambda: True, shelf=home)
    assert again.warnings == first.warnings
    assert any(fault.line == 5 and "organ" in fault.problem for fault in again.warnings)


def test_the_cache_loads_no_reader(home: Path) -> None:
    kept(home)
    program = (
        "import sys; from pathlib import Path; import companion.night.starting\n"
        "from companion.night.preflight import make_ready\n"
        "make_ready(Path(sys.argv[1]), Path(sys.argv[2]), shelf=Path(sys.argv[3]))\n"
        "print(*sorted({'yaml', 'companion.files.forms', 'companion.show.show_file', 'companion.rig.rig_file'}"
        " & set(sys.modules)))"
    )
    words = [sys.executable, "-c", program, *(str(home / name) for name in ("show.yaml", "rig.yaml", "."))]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
