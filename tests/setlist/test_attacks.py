"""Files made to cost time or memory are refused by counting, and whatever is not counted meets the child's limits."""

import contextlib
import socket
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from examples import seldom
from setlist.attacks import DOCUMENTS, ENTITIES, PDFS, PICTURES, TEXTS, WORKBOOKS, open_text, word, workbook

from companion import child
from companion.errors import FaultyFile
from companion.setlist import read_list
from companion.setlist.list_reading import list_in
from companion.setlist.readers.picture import prepared

COUNTED = {
    "rows": "more than 300,000 cells",
    "a gap": "more than 10000 rows in List",
    "sheets": "more than 20 sheets",
    "deep": "nested deeper than 32 levels",
    "attributes": "one value of more than 262,144 bytes",
    "many parts": "60007 files inside",
}

SLOW_BOOKS = ("many parts", "sheets", "attributes")
SLOW = ("PDF, many pages of letters", "html, comments", "html, declarations", "mail, headers")
OF_DOCUMENTS = {
    "docx, deep": "nested deeper than 100 levels",
    "docx, paragraphs": "more than 10000 lines",
    "docx, letters": "more than 256 KiB of text",
    "odt, lists": "nested deeper than 100 levels",
    "ods, repeated rows": "more than 10000 rows",
    "ods, sheets": "more than 20 sheets",
    "rtf, deep": "nested too deep",
    "rtf, cells": "more than 60 columns",
    "html, deep": "far more elements",
    "html, spans": "more than 60 columns",
    "mail, parts": "more than 100 parts",
    "a zip in a zip": "unpack it",
}


def _named(name: str, make: Callable[[], bytes]) -> tuple[str, bytes]:
    return name, make()


ALL: dict[str, Callable[[], tuple[str, bytes]]] = {
    **{f"workbook, {name}": partial(_named, "a.xlsx", make) for name, make in WORKBOOKS.items()},
    **{f"PDF, {name}": partial(_named, "a.pdf", make) for name, make in PDFS.items()},
    **{f"text, {name}": make for name, make in TEXTS.items()},
    **DOCUMENTS,
    **{f"picture, {name}": make for name, make in PICTURES.items()},
}


def refusal(name: str, raw: bytes) -> str:
    with pytest.raises(FaultyFile) as refused:
        list_in(raw, name)
    return str(refused.value)


@pytest.mark.parametrize("name", [seldom(one) if one in SLOW_BOOKS else one for one in COUNTED])
def test_a_workbooks_size_is_checked_while_reading(name: str) -> None:
    assert COUNTED[name] in refusal("a.xlsx", WORKBOOKS[name]())


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (["Moth - " * 60] * 96, "more than 40,000 characters in lines of over 80"),
        (["1 " * 39] * 1_300, "more than 100,000 characters"),
    ],
)
def test_a_list_of_overlong_lines_is_refused_before_parsing(lines: list[str], said: str) -> None:
    assert said in refusal("a.txt", "\n".join(lines).encode())


@pytest.mark.long
def test_a_thousand_songs_with_notes_are_within_the_limits() -> None:
    lines = [f"{at}. Lantern {at} on the quay - Bb - 120 bpm - 3:40 - organ from the top" for at in range(1, 1001)]
    assert len(list_in("\n".join(lines).encode(), "a.txt").lines) == 1_000


def test_empty_rows_far_below_cost_nothing() -> None:
    (row,) = list_in(WORKBOOKS["a gap of no cells"](), "a.xlsx").lines
    assert row.text == "Moth"


@pytest.mark.parametrize("name", ENTITIES)
def test_xml_entities_are_refused_in_every_encoding(name: str) -> None:
    said = refusal("a.xlsx", workbook(sheet=ENTITIES[name]))
    assert "declares XML entities" in said or "cannot be read" in said or "damaged" in said
    assert "declares" in said or name in ("another encoding", "UTF-7", "lower case")  # which no parser here knows


def test_a_truncated_workbook_is_reported() -> None:
    whole = workbook()
    assert [cut for cut in range(1, 50) if "damaged" not in refusal("a.xlsx", whole[:-cut])] == []


@pytest.mark.parametrize(
    ("name", "line"), [("one line", "1,200,000"), ("one line of columns", "256 KiB"), ("one cell", "256 KiB")]
)
def test_an_endless_line_is_refused(name: str, line: str) -> None:
    path, raw = TEXTS[name]()
    assert line in refusal(path, raw) or "256 KiB" in refusal(path, raw)


def test_lines_are_limited_before_any_pattern_sees_them() -> None:
    assert "line 2 has 20,001 characters" in refusal("a.txt", b"Moth\n" + b"x" * 20_001)


@pytest.mark.parametrize("name", ["zero-width spaces", "zero-width table"])
def test_a_row_of_invisible_characters_counts_as_empty(name: str) -> None:
    path, raw = TEXTS[name]()
    (one,) = list_in(raw, path).show.sets
    assert [song.title for song in one.songs] == ["Moth"]


@pytest.mark.long
def test_a_decompression_bomb_in_a_pdf_ends_only_its_reader(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(PDFS["recursive forms"]())
    with pytest.raises(FaultyFile, match="too much memory"):
        read_list(tmp_path / "a.pdf")


@pytest.mark.parametrize("name", OF_DOCUMENTS)
def test_a_documents_size_is_checked_while_reading(name: str) -> None:
    path, raw = DOCUMENTS[name]()
    assert OF_DOCUMENTS[name] in refusal(path, raw)


@pytest.mark.parametrize("name", ENTITIES)
def test_xml_entities_are_refused_in_documents_too(name: str) -> None:
    hostile = ENTITIES[name].decode("latin-1")
    for path, raw in (("a.docx", word("", word_styles=hostile)), ("a.odt", open_text("", styles=hostile))):
        said = refusal(path, raw)
        assert "declares XML entities" in said or "cannot be read" in said or "damaged" in said


@pytest.mark.parametrize("name", ["a bomb of pixels", "a size that lies", "a text without end", "a picture cut short"])
def test_a_picture_bomb_is_not_decompressed(name: str) -> None:
    path, raw = PICTURES[name]()
    with pytest.raises(FaultyFile, match="the picture cannot be read"):
        prepared(raw, path)


def test_external_references_are_never_fetched() -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0)
        link = f"http://127.0.0.1:{server.getsockname()[1]}/x"
        page = (
            f'<html><link href="{link}"><script src="{link}"></script><img src="{link}"><iframe src="{link}"></iframe>'
        )
        page += f'<style>@import "{link}"; p{{background:url({link})}}</style><ol><li>Moth<li>Owl</ol>'
        mail = f"Message-ID: <1>\nContent-Type: text/html\n\n{page}"
        external = f'Content-Type: message/external-body; access-type=URL; URL="{link}"\n\nContent-Type: text/plain\n\n'
        rels = f'<r xmlns="r"><Relationship Id="a" TargetMode="External" Target="{link}"/></r>'
        picture = '<w:p><w:r><w:t>Moth</w:t></w:r><w:object r:link="a" xmlns:r="r"/></w:p>'
        frame = f'<text:p><d:image xmlns:d="d" xmlns:x="x" x:href="{link}"/>Moth</text:p>'
        rich = f'{{\\rtf1{{\\field{{\\*\\fldinst INCLUDEPICTURE "{link}"}}}} Moth\\par Owl\\par}}'
        for path, raw in (
            ("a.html", page.encode()),
            ("a.eml", mail.encode()),
            ("b.eml", b"Message-ID: <1>\n" + external.encode() + b"Moth\nOwl\n"),
            ("a.docx", word(picture, word_rels_documentrels=rels)),
            ("a.odt", open_text(frame)),
            ("a.rtf", rich.encode()),
        ):
            with contextlib.suppress(FaultyFile):
                list_in(raw, path)
        with pytest.raises(BlockingIOError):
            server.accept()


@pytest.mark.long
@pytest.mark.parametrize("name", ALL)
def test_each_attack_is_refused_or_read_within_the_childs_limits(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(child, "MAX_S", 90.0)  # by the clock, where others share the machine
    file, raw = ALL[name]()
    (tmp_path / file).write_bytes(raw)
    try:
        read_list(tmp_path / file)
    except FaultyFile as refused:
        too_long = "seconds to read" in str(refused)
        assert not too_long or name in SLOW
