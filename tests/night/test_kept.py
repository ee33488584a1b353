"""How much of each song is shown, kept between nights."""

from pathlib import Path

from night.evening import Evening

from companion.night.detail_choices import FILE, MAX_SONGS, Details, KeptDetails
from companion.view import Detail


def kept(folder: Path) -> tuple[KeptDetails, list[str]]:
    said: list[str] = []
    return KeptDetails(folder, said.append), said


def test_the_next_night_keeps_the_chosen_detail(tmp_path: Path) -> None:
    one, _ = kept(tmp_path / "new")
    assert one.read() == ()
    one.keep((("Kettle", Detail.FORM),))
    one.keep((("Kettle", Detail.CUES_ONLY), ("Überfahrt", Detail.EVERYTHING)))
    one.end()
    other, said = kept(tmp_path / "new")
    assert other.read() == (("Kettle", Detail.CUES_ONLY), ("Überfahrt", Detail.EVERYTHING))
    assert not said


def test_an_unreadable_file_of_choices_only_causes_a_notice(tmp_path: Path) -> None:
    for rubbish in (b"", b"[]", b'{"Kettle": "loud"}', b"\xff\xfe"):
        (tmp_path / FILE).write_bytes(rubbish)
        one, said = kept(tmp_path)
        assert one.read() == ()
        assert len(said) == 1


def test_a_full_disk_only_causes_a_notice(tmp_path: Path) -> None:
    (tmp_path / "full").write_text("a file where a directory should be")
    one, said = kept(tmp_path / "full")
    one.keep((("Kettle", Detail.FORM),))
    one.end()
    assert len(said) == 1


def test_the_newest_choices_are_kept(tmp_path: Path) -> None:
    one, _ = kept(tmp_path)
    one.keep(tuple((f"song {number}", Detail.FORM) for number in range(MAX_SONGS + 1)))
    one.end()
    found = one.read()
    assert len(found) == MAX_SONGS
    assert found[-1][0] == f"song {MAX_SONGS}"


def test_each_choice_is_passed_on_when_made() -> None:
    one = Evening()
    handed: list[Details] = []
    one.night._keep = handed.append  # noqa: SLF001 - the evening has no disk
    for key in ("l", "page down", "e"):
        one.key(key)
    assert not handed
    one.key("d")
    assert handed == [(("A", Detail.FORM),)]
