"""Documents that another program wrote: cells are read as cells, lists as lists, and what is crossed out as that."""

import io
import zipfile
from pathlib import Path

import pytest
from setlist.office_documents import MADE, OFFICE, make
from striprtf.striprtf import rtf_to_text

from companion import child
from companion.setlist.list_reading import list_in
from companion.setlist.model import ListRow
from companion.setlist.readers.any_file import rows_in

LINES = [
    "The Tidewater Nine",
    "Venue: Pier Street Hall",
    "Set 1",
    "1. Gasworks Corner – Bb",
    "2. Kettle on the Jetty – Gm",
    "- organ solo after the bridge",
    "3. Harbour Lamps – C",
    "4. Moth – D",
    "Set 2",
    "1. Weeds – Em",
    "2. Fog Signal – F G",
    "3. The Long Allotment – A",
]
TABLE = [
    ("Pier Street, the songs",),
    ("No.", "Title", "Key", "Notes"),
    ("1", "Gasworks Corner", "Bb", "opener"),
    ("2", "Kettle on the Jetty", "Gm", ""),
    ("3", "~~Harbour Lamps~~", "~~C~~", ""),
    ("4", "Moth", "D", "brushes"),
]
SHEET = [  # cells, comments, colour, hidden
    (("Title", "Key", "Notes"), (), "", False),
    (("Gasworks Corner", "Bb", "opener"), (), "", False),
    (("Moth", "D"), ("now with a second chorus",), "", False),
    (("~~Harbour Lamps~~", "~~C~~"), (), "", False),
    (("Kettle on the Jetty", "Gm"), (), "yellow", False),
    (("Weeds", "Em"), (), "", True),
    (("Fog Signal", "G"), (), "", True),
    (("Owl", "~~F~~ G"), (), "", False),
    (("The Long Allotment", "A", "", "0:03:40"), (), "", False),
]


def rows(path: Path) -> list[ListRow]:
    return [row for page in rows_in(path.read_bytes(), path.name) for row in page.rows]


def without_ends(cells: tuple[str, ...]) -> tuple[str, ...]:
    """Return the cells up to the last that is filled; some formats store an empty one behind it."""
    return cells[: max(at for at, cell in enumerate(cells, start=1) if cell)]


def of_lines(name: str) -> list[str]:
    return [row.cells[0].replace("•", "-").replace("~~", "") for row in rows(OFFICE / name)]


@pytest.mark.parametrize("ending", ["docx", "odt", "rtf", "html"])
def test_paragraphs_and_lists_keep_their_numbers(ending: str) -> None:
    assert of_lines(f"lines.{ending}") == LINES


@pytest.mark.parametrize("ending", ["docx", "odt", "rtf", "html"])
def test_headings_are_large_and_an_empty_paragraph_separates(ending: str) -> None:
    found = rows(OFFICE / f"lines.{ending}")
    assert {row.text for row in found if row.is_large} >= {"Set 1", "Set 2"}
    assert [row.text for row in found if row.blank_before] == ["Set 1"]


@pytest.mark.parametrize("ending", ["docx", "odt"])
def test_a_comment_stays_with_its_paragraph(ending: str) -> None:
    commented = [(row.cells[0], row.comments) for row in rows(OFFICE / f"lines.{ending}") if row.comments]
    assert commented == [("4. Moth – D", ("capo on the second fret",))]


@pytest.mark.parametrize("ending", ["docx", "odt", "rtf", "html"])
def test_the_cells_of_a_table_stay_cells(ending: str) -> None:
    found = [row.cells for row in rows(OFFICE / f"table.{ending}")]
    assert [(cells + ("",) * 4)[: len(expected)] for cells, expected in zip(found, TABLE, strict=True)] == TABLE
    assert all(not any(cells[4:]) for cells in found)


@pytest.mark.parametrize("ending", ["ods", "xlsx"])
def test_comments_colours_crossed_out_and_hidden_cells_of_a_spreadsheet_are_read(ending: str) -> None:
    first, old = rows_in((OFFICE / f"marks.{ending}").read_bytes(), f"marks.{ending}")
    found = [(without_ends(row.cells), row.comments, row.marked, row.is_hidden) for row in first.rows]
    assert found == SHEET
    assert (first.name, first.is_hidden, old.name, old.is_hidden) == ("Sat 5 Dec", False, "Old", True)


def test_rich_text_gives_the_same_words_as_another_library() -> None:
    theirs: str = rtf_to_text((OFFICE / "lines.rtf").read_text())  # type: ignore[no-untyped-call]  # it ships no types
    assert [line.partition("\t")[2] or line for line in theirs.splitlines() if line.strip()] == [
        line.partition(". ")[2] or line.removeprefix("- ") for line in LINES
    ]


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        (r"{\rtf1\ansi\ansicpg1250 \'e8aj\par}", ["čaj"]),  # Windows-1250, 0xE8: RTF Specification, ansicpg
        (r"{\rtf1\ansi Caf\u233?\par Gr\'fc\'dfe}", ["Café", "Grüße"]),
        (r"{\rtf1\uc2 \u8217\'92\'92s\par}", ["’s"]),
        (r"{\rtf1 Moth\~Rag\par Twenty\_Five \{live\} A\\B\par}", ["Moth Rag", r"Twenty-Five {live} A\B"]),
        (r"{\rtf1{\fonttbl{\f0\fcharset204 Any;}{\f1 Other;}}\f0\'cf\'e8\'f0\par}", ["Пир"]),
        (r"{\rtf1 \u-10179?\u-9159? Moth\par}", ["🐹 Moth"]),  # a pair of surrogates, U+1F439
        (r"{\rtf1{\*\anything Hidden}{\v Hidden} Moth{\strike  Owl}\par}", ["Moth ~~Owl~~"]),
        (r"{\rtf1\trowd\cellx9\cellx99\intbl Moth\cell Bb\cell\row\pard Owl\par}", ["Moth | Bb", "Owl"]),
    ],
)
def test_rich_text_follows_its_specification(text: str, lines: list[str]) -> None:
    pages = rows_in(text.encode("ascii"), "list.rtf")
    told = [" | ".join(filter(None, row.cells)) for page in pages for row in page.rows]
    assert [line.replace("~~", "") for line in told] == [line.replace("~~", "") for line in lines]


@pytest.mark.parametrize(
    ("page", "lines"),
    [
        ("<p>Moth</p><p>Owl</p>", ["Moth", "Owl"]),
        ("<div>Moth<br>Owl</div><div><br></div><div>Wren &amp; Jay</div>", ["Moth", "Owl", "Wren & Jay"]),
        ("<ol start=4><li>Moth<li>Owl<ul><li>brushes</ul></ol>", ["4. Moth", "5. Owl", "- brushes"]),
        ("<table><tr><td>Moth<td>Bb<tr><td>Owl<td>C</table>", ["Moth | Bb", "Owl | C"]),
        (
            "<table><tr><td rowspan=2>1<td>Moth<td>C<tr><td>Owl<td>D<tr><td>2<td>Jay<td>E</table>",
            ["1 | Moth | C", " | Owl | D", "2 | Jay | E"],
        ),
        ("<table><tr><td><table><tr><td>Moth</td></tr></table></td></tr></table>", ["Moth"]),
        ("<style>.x{display:none} .y{text-decoration:line-through}</style><p class=x>No<p>Moth", ["Moth"]),
        ("<head><title>No</title></head><script>var a='<p>No'</script><p hidden>No</p><p>Moth", ["Moth"]),
        ("<p>Moth\n   on a\n line</p>", ["Moth on a line"]),
        ("<pre>Moth\nOwl</pre>", ["Moth", "Owl"]),
        ("<dl><dt>Moth<dd>brushes<dt>Owl</dl>", ["Moth", "brushes", "Owl"]),
        ("<blockquote><p>Moth</p></blockquote><p>Owl</p>", ["Moth", "Owl"]),
    ],
)
def test_a_web_page_is_read_as_shown(page: str, lines: list[str]) -> None:
    pages = rows_in(f"<html>{page}</html>".encode(), "list.html")
    assert [" | ".join(row.cells) for one in pages for row in one.rows] == lines


@pytest.mark.parametrize(
    "page",
    [
        "<table><tr><td><s>Moth</s></td><td>C</td></tr><tr><td>Owl</td><td>D</td></tr></table>",
        '<table><tr><td style="text-decoration: line-through">Moth</td><td>C</td></tr><tr><td>Owl<td>D</table>',
        "<style>.x {text-decoration:line-through}</style><table><tr><td><b class=x>Moth</b><td>C<tr><td>Owl</table>",
    ],
)
def test_crossed_out_text_on_a_web_page_is_marked(page: str) -> None:
    (found,) = rows_in(f"<!doctype html>{page}".encode(), "list")
    assert [row.cells[0] for row in found.rows] == ["~~Moth~~", "Owl"]


def test_a_web_page_is_read_in_its_declared_encoding() -> None:
    page = '<html><meta charset="iso-8859-2"><p>Čaj o páté</p></html>'.encode("iso-8859-2")
    assert [row.text for one in rows_in(page, "list.html") for row in one.rows] == ["Čaj o páté"]


@pytest.mark.parametrize(
    ("cells", "lines"),
    [
        (
            ("Set 1|Moth|Owl|Wren", "Set 2|Jay|Rook|Crow"),
            ["Set 1", "Moth", "Owl", "Wren", "Set 2", "Jay", "Rook", "Crow"],
        ),
        (("Moth|Owl|Wren|Jay", "C|D|Em|F"), ["Moth | C", "Owl | D", "Wren | Em", "Jay | F"]),
    ],
)
def test_cells_with_a_list_each_are_lists_and_cells_with_columns_a_table(
    cells: tuple[str, ...], lines: list[str]
) -> None:
    row = "".join("<td>" + "".join(f"<p>{line}</p>" for line in cell.split("|")) + "</td>" for cell in cells)
    pages = rows_in(f"<html><table><tr>{row}</tr></table></html>".encode(), "list.html")
    assert [" | ".join(found.cells) for page in pages for found in page.rows] == lines


def test_tracked_changes_are_read_as_shown() -> None:
    gone = "<w:del><w:r><w:delText>(C)</w:delText></w:r></w:del>"
    cells = (f"{run('Moth ')}{gone}<w:ins>{run('(D)')}</w:ins>", run("ok"))
    row = "".join(f"<w:tc><w:p>{cell}</w:p></w:tc>" for cell in cells)
    (page,) = rows_in(document(f"<w:tbl><w:tr>{row}</w:tr></w:tbl>"), "list.docx")
    assert page.rows[0].cells == ("Moth ~~(C)~~(D)", "ok")


def run(text: str) -> str:
    return f'<w:r><w:t xml:space="preserve">{text}</w:t></w:r>'


def open_text(styles: str, body: str) -> bytes:
    """Return an OpenDocument text with these automatic styles and this body."""
    names = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{of}:1.0"'
        for name, of in (("office", "office"), ("style", "style"), ("text", "text"), ("fo", "xsl-fo-compatible"))
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as zipped:
        zipped.writestr("content.xml", f"<office:document-content {names}>{styles}{body}</office:document-content>")
    return out.getvalue()


def test_spaces_tabs_and_line_breaks_of_an_open_document_are_read() -> None:
    """OpenDocument 1.2 part 1, 6.1.3 to 6.1.5 (numbers from memory): white space is written as elements."""
    lines = '<text:p>Moth<text:s text:c="3"/>Bb</text:p><text:p>Weeds<text:tab/>C</text:p>'
    (page,) = rows_in(open_text("", f"{lines}<text:p>Rag<text:s/>Doll<text:line-break/>Kite</text:p>"), "list.odt")
    assert [row.cells for row in page.rows] == [("Moth   Bb",), ("Weeds   C",), ("Rag Doll",), ("Kite",)]


def test_words_behind_a_text_box_are_part_of_the_paragraph_that_holds_it() -> None:
    """OpenDocument 1.2 part 1, 10.4.3 (number from memory): a box holds paragraphs, inside that of its anchor."""
    box = '<draw:frame xmlns:draw="d"><draw:text-box><text:p>ask Ann</text:p></draw:text-box></draw:frame>'
    (page,) = rows_in(open_text("", f"<text:p>Moth{box} (C)</text:p><text:p>Weeds</text:p>"), "list.odt")
    assert [row.cells for row in page.rows] == [("Moth",), ("ask Ann",), ("(C)",), ("Weeds",)]


DEFAULT = (
    '<style:default-style style:family="paragraph"><style:text-properties fo:font-size="12pt"/></style:default-style>'
)
SMALL_STYLE = (
    '<style:style style:name="P" style:family="paragraph"><style:paragraph-properties fo:margin-left="1cm"/>'
    '<style:text-properties fo:font-size="8pt"/></style:style>'
)


@pytest.mark.parametrize(
    "raw",
    [
        open_text(
            DEFAULT + SMALL_STYLE,
            "<text:p>Moth</text:p><text:p>Owl</text:p><text:p>Jay</text:p><text:p text:style-name='P'>brushes</text:p>",
        ),
        rb"{\rtf1\fs24 Moth\par Owl\par Jay\par\pard\li567\fs16 brushes\par}",
    ],
)
def test_small_and_indented_text_is_marked(raw: bytes) -> None:
    (page,) = rows_in(raw, "list")
    assert [(row.cells[0], row.is_small, row.indent > 0) for row in page.rows] == [
        ("Moth", False, False),
        ("Owl", False, False),
        ("Jay", False, False),
        ("brushes", True, True),
    ]


def test_a_word_documents_default_size_and_indents_count() -> None:
    def paragraph(text: str, marks: str = "", size: str = "") -> str:
        sized = f'<w:rPr><w:sz w:val="{size}"/></w:rPr>' if size else ""
        return f"<w:p><w:pPr>{marks}</w:pPr><w:r>{sized}<w:t>{text}</w:t></w:r></w:p>"

    body = "".join(map(paragraph, ("Moth", "Owl", "Jay"))) + paragraph("brushes", '<w:ind w:left="567"/>', "16")
    styles = '<w:docDefaults><w:rPrDefault><w:rPr><w:sz w:val="22"/></w:rPr></w:rPrDefault></w:docDefaults>'
    (page,) = rows_in(document(body, styles), "list.docx")
    assert [(row.is_small, row.indent > 0) for row in page.rows] == [(False, False)] * 3 + [(True, True)]


def document(body: str, styles: str = "") -> bytes:
    """Return a word processor's document with this body, and nothing more than it must have."""
    main = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        zipped.writestr("[Content_Types].xml", "<Types/>")
        zipped.writestr("word/document.xml", f'<w:document xmlns:w="{main}"><w:body>{body}</w:body></w:document>')
        if styles:
            zipped.writestr("word/styles.xml", f'<w:styles xmlns:w="{main}">{styles}</w:styles>')
    return out.getvalue()


KEYED = ("Moth Parade (A)", "Owl Walk (C)", "Jay (Dm)", "Weeds (G)", "Fog Bell (E)")


def paragraphs(bold: str, plain: str) -> str:
    """Return a bold line above some songs, and one above the others."""
    lines = ("Early doors", *KEYED[:3], "Dancing shoes on", *KEYED[3:])
    return "".join((plain if line in KEYED else bold).format(line) for line in lines)


BOLD_STYLE = (
    '<style:style style:name="B" style:family="paragraph"><style:text-properties fo:font-weight="bold"/></style:style>'
)
WORD_BOLD = "<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>{}</w:t></w:r></w:p>"
BOLD_DOCUMENTS = {
    "list.rtf": b"{\\rtf1 %s}" % paragraphs(r"\b {}\b0\par ", r"{}\par ").encode(),
    "list.html": f"<html><body>{paragraphs('<p><b>{}</b></p>', '<p>{}</p>')}</body></html>".encode(),
    "list.odt": open_text(BOLD_STYLE, paragraphs("<text:p text:style-name='B'>{}</text:p>", "<text:p>{}</text:p>")),
    "list.docx": document(paragraphs(WORD_BOLD, "<w:p><w:r><w:t>{}</w:t></w:r></w:p>")),
}


@pytest.mark.parametrize("name", BOLD_DOCUMENTS)
def test_bold_lines_without_a_key_head_the_songs_below_them(name: str) -> None:
    (page,) = rows_in(BOLD_DOCUMENTS[name], name)
    assert [row.text for row in page.rows if row.is_large] == ["Early doors", "Dancing shoes on"]
    found = list_in(BOLD_DOCUMENTS[name], name)
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [("Early doors", 3), ("Dancing shoes on", 2)]


def test_bold_songs_with_a_key_or_beside_songs_without_keys_head_nothing() -> None:
    keyed = "<p><b>Moth (A)</b></p><p>Owl (C)</p><p>Jay (Dm)</p><p>Weeds (G)</p>"
    bare = "<p><b>Moth</b></p><p>Owl</p><p>Jay</p><p>Weeds</p>"
    for body in (keyed, bare):
        (page,) = rows_in(f"<html><body>{body}</body></html>".encode(), "list.html")
        assert not any(row.is_large for row in page.rows)


@pytest.mark.long
@pytest.mark.skipif(child.program("soffice") is None, reason="LibreOffice is not installed")
def test_the_stored_documents_equal_freshly_made_ones(tmp_path: Path) -> None:
    make(tmp_path)
    for name in MADE:
        new, kept = rows(tmp_path / name), rows(OFFICE / name)
        assert [(row.cells, row.comments, row.marked) for row in new] == [
            (row.cells, row.comments, row.marked) for row in kept
        ]
