"""Which rig file is used, and what the player reads."""

from pathlib import Path

import msgspec
import pytest

from companion.rig import BUILT_IN, choose_rig, last_rig, own_rig_text, read_rig, remember_rig, rig_for

SHOW = Path("/gigs/shows/pier.yaml")
ASKED, LAST, OWN = Path("/asked.yaml"), Path("/last.yaml"), Path("/home/me/config")
BESIDE, OWN_RIG = Path("/gigs/config/rig.yaml"), OWN / "rig.yaml"


@pytest.mark.parametrize(
    ("asked", "last", "there", "expected", "because"),
    [
        (ASKED, LAST, {ASKED, LAST, BESIDE, OWN_RIG}, ASKED, "as requested"),
        (ASKED, LAST, {LAST, BESIDE, OWN_RIG}, ASKED, "as requested"),  # not there: the player must hear of it
        (None, LAST, {LAST, BESIDE, OWN_RIG}, LAST, "last used with this show"),
        (None, LAST, {BESIDE, OWN_RIG}, BESIDE, "is gone"),
        (BUILT_IN, LAST, {LAST, BUILT_IN}, BUILT_IN, "rig: the built-in one"),  # the demo asks for it
        (None, None, {BESIDE, OWN_RIG}, BESIDE, "beside the show's folder"),
        (None, None, {OWN_RIG}, OWN_RIG, "your own"),
        (None, None, set(), BUILT_IN, "built-in"),
        (None, LAST, set(), BUILT_IN, "is gone"),
    ],
)
def test_the_first_rig_found_is_used_and_named(
    asked: Path | None, last: Path | None, there: set[Path], expected: Path, because: str
) -> None:
    chosen = choose_rig(SHOW, requested=asked, last_used=last, configuration=OWN, exists=there.__contains__)
    assert chosen.path == expected
    assert because in chosen.because


def test_the_rig_last_used_is_remembered_for_each_show(tmp_path: Path) -> None:
    data = tmp_path / "data"
    pier, jetty, home, club = (tmp_path / name for name in ("pier.yaml", "jetty.yaml", "home.yaml", "club.yaml"))
    assert last_rig(pier, data) is None
    remember_rig(pier, home, data)
    remember_rig(jetty, club, data)
    assert (last_rig(pier, data), last_rig(jetty, data)) == (home, club)
    remember_rig(pier, club, data)
    assert last_rig(pier, data) == club
    assert [file.name for file in data.iterdir()] == ["last-rigs.json"]


def test_the_rigs_of_hundreds_of_shows_are_remembered(tmp_path: Path) -> None:
    shows = [tmp_path / f"{'long name ' * 20}{number}.yaml" for number in range(300)]
    remembered = {str(show): str(show.with_name("rig.yaml")) for show in shows}
    (tmp_path / "last-rigs.json").write_bytes(msgspec.json.encode(remembered))
    remember_rig(tmp_path / "pier.yaml", tmp_path / "home.yaml", tmp_path)
    assert (tmp_path / "last-rigs.json").stat().st_size > 100_000
    assert last_rig(shows[0], tmp_path) == tmp_path / "rig.yaml"
    assert last_rig(tmp_path / "pier.yaml", tmp_path) == tmp_path / "home.yaml"


def test_the_built_in_rig_is_not_remembered(tmp_path: Path) -> None:
    show = tmp_path / "pier.yaml"
    remember_rig(show, BUILT_IN, tmp_path)
    assert last_rig(show, tmp_path) is None
    assert not list(tmp_path.iterdir())


def test_a_show_is_recognized_under_another_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    remember_rig(tmp_path / "pier.yaml", tmp_path / "home.yaml", tmp_path)
    monkeypatch.chdir(tmp_path)
    assert last_rig(Path("pier.yaml"), tmp_path) == tmp_path / "home.yaml"


@pytest.mark.parametrize("damaged", [b"", b"{", b"[1]", b'{"a": 1}', b"\xff\xfe\x00"])
def test_a_damaged_memory_file_is_ignored_and_replaced(tmp_path: Path, damaged: bytes) -> None:
    (tmp_path / "last-rigs.json").write_bytes(damaged)
    show, rig = tmp_path / "pier.yaml", tmp_path / "home.yaml"
    assert last_rig(show, tmp_path) is None
    remember_rig(show, rig, tmp_path)
    assert last_rig(show, tmp_path) == rig


def test_a_failed_write_leaves_the_old_memory_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show, rig = tmp_path / "pier.yaml", tmp_path / "home.yaml"
    remember_rig(show, rig, tmp_path)

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        remember_rig(show, tmp_path / "other.yaml", tmp_path)
    assert last_rig(show, tmp_path) == rig
    assert [file.name for file in tmp_path.iterdir()] == ["last-rigs.json"]


def test_rigs_are_searched_in_order_on_this_machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    data, own = tmp_path / "data", tmp_path / "own"
    monkeypatch.setattr("companion.rig.choose.data_path", lambda: data)
    monkeypatch.setattr("companion.rig.choose.config_path", lambda: own)
    show = tmp_path / "shows" / "pier.yaml"
    assert rig_for(show).path == BUILT_IN
    for expected in (own / "rig.yaml", tmp_path / "config" / "rig.yaml", tmp_path / "last.yaml"):
        expected.parent.mkdir(exist_ok=True)
        expected.write_text("rig: R")
        if expected.name == "last.yaml":
            remember_rig(show, expected, data)
        assert rig_for(show).path == expected
    assert rig_for(show, tmp_path / "asked.yaml").path == tmp_path / "asked.yaml"


def test_a_rig_made_from_the_built_in_one_plays_the_same(tmp_path: Path) -> None:
    own = tmp_path / "rig.yaml"
    own.write_text(own_rig_text(), encoding="utf-8")
    made = read_rig(own).rig
    assert made.name == "My rig"
    assert msgspec.structs.replace(made, name="General MIDI") == read_rig(BUILT_IN).rig
