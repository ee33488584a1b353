"""From a path to text: anything but a text file in UTF-8 is reported for what it is."""

import os
from pathlib import Path

import pytest

from companion.errors import FaultyFile
from companion.files.text_file import LIMIT_BYTES, open_source, text_of

PIER = "show: Über den Landungssteg – ♭\n"


def fault(path: Path) -> str:
    with pytest.raises(FaultyFile) as caught:
        open_source(path)
    (only,) = caught.value.faults
    assert only.path == str(path)
    return str(only).removeprefix(str(path))


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_utf8_is_read_with_or_without_a_byte_order_mark_and_with_any_line_ends(
    tmp_path: Path, encoding: str, end: str
) -> None:
    file = tmp_path / "pier.yaml"
    file.write_bytes((PIER + "band: X\n").replace("\n", end).encode(encoding))
    source = open_source(file)
    assert source.lines[:2] == [PIER.strip(), "band: X"]


@pytest.mark.parametrize(
    ("encoding", "told"),
    [
        ("utf-16", ": the file is written in UTF-16. "),  # with its mark (Unicode Standard, 23.8)
        ("utf-16-le", ": the file is written in UTF-16. "),
        ("utf-16-be", ": the file is written in UTF-16. "),
        ("utf-32", ": the file is written in UTF-32. "),
    ],
)
def test_utf16_and_utf32_are_named(tmp_path: Path, encoding: str, told: str) -> None:
    file = tmp_path / "pier.yaml"
    file.write_bytes(PIER.encode(encoding))
    assert fault(file).startswith(told)
    assert "UTF-8" in fault(file)


def test_latin1_is_reported_with_line_column_and_byte(tmp_path: Path) -> None:
    file = tmp_path / "pier.yaml"
    file.write_bytes("show: Pier\nband: Die Möwen\n".encode("latin-1"))
    assert fault(file).startswith(":2:12: byte F6 is not UTF-8; the file may be in Latin-1 or Windows-1252. ")


def test_a_binary_file_is_reported_as_not_text(tmp_path: Path) -> None:
    file = tmp_path / "pier.yaml"
    file.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
    assert fault(file).startswith(": not a text file: byte 00 on line ")


def test_a_file_may_have_one_mebibyte_and_no_byte_more(tmp_path: Path) -> None:
    file = tmp_path / "pier.yaml"
    file.write_bytes(b"#" * LIMIT_BYTES)
    assert len(open_source(file).text) == 1_048_576  # 1 MiB
    file.write_bytes(b"#" * (LIMIT_BYTES + 1))
    assert fault(file).startswith(": the file is larger than 1 MiB")


def test_a_missing_file_is_reported_with_the_nearest_name(tmp_path: Path) -> None:
    (tmp_path / "pier-street.yaml").write_text(PIER, encoding="utf-8")
    assert fault(tmp_path / "peer-street.yaml") == f": there is no such file. Write: {tmp_path / 'pier-street.yaml'}"
    assert fault(tmp_path / "zzz" / "q.yaml") == ": there is no such file"


def test_a_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(PIER, encoding="utf-8")
    assert fault(tmp_path) == f": a folder, not a file. Write: {tmp_path / 'pier.yaml'}"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
def test_a_pipe_is_refused_without_waiting(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert fault(tmp_path / "pipe").startswith(": not a regular file")


def test_a_file_without_read_permission_is_reported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "pier.yaml"
    file.write_text(PIER, encoding="utf-8")

    def refused(*_how: object) -> None:
        raise PermissionError

    monkeypatch.setattr(Path, "open", refused)  # permissions bind not every user and every system
    assert fault(file) == ": you have no permission to read this file"


@pytest.mark.parametrize("name", ["a\0b.yaml", "x" * 5000])
def test_an_impossible_file_name_is_reported(name: str) -> None:
    with pytest.raises(FaultyFile):
        open_source(name)


@pytest.mark.parametrize("cut", range(1, 4))
def test_a_truncated_letter_is_not_utf8(cut: int) -> None:
    with pytest.raises(FaultyFile, match="is not UTF-8"):
        text_of("😀".encode()[:cut], "a.yaml")
