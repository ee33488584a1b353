"""Files that are made to cost time or memory: each small on disk, and what it would become where nothing held it."""

import io
import zipfile
import zlib
from base64 import b64encode
from collections.abc import Callable

SHEET = "xl/worksheets/sheet1.xml"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
HEAD = f'<?xml version="1.0"?><worksheet xmlns="{MAIN}"><sheetData>'
TAIL = "</sheetData></worksheet>"
ROW = '<row r="1"><c r="A1" t="inlineStr"><is><t>Moth</t></is></c></row>'


def workbook(**parts: str | bytes) -> bytes:
    """Return a workbook of one sheet; ``sheet``, ``strings``, ``styles`` and ``book`` take these parts' place."""
    content = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    kinds = {"workbook": "sheet.main", "sharedStrings": "sharedStrings", "styles": "styles"}
    overrides = [(f"/xl/{name}.xml", kind) for name, kind in kinds.items()] + [(f"/{SHEET}", "worksheet")]
    written: dict[str, str | bytes] = {
        "[Content_Types].xml": '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        + "".join(f'<Override PartName="{part}" ContentType="{content}.{kind}+xml"/>' for part, kind in overrides)
        + "</Types>",
        "_rels/.rels": '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        f'<Relationship Id="rId1" Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/sharedStrings.xml": f'<sst xmlns="{MAIN}"/>',
        "xl/styles.xml": f'<styleSheet xmlns="{MAIN}"><cellXfs><xf/></cellXfs></styleSheet>',
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
        '<sheet name="List" sheetId="1" r:id="rId1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        + "".join(
            f'<Relationship Id="rId{at}" Type="{OFFICE}/{kind}" Target="{target}"/>'
            for at, (kind, target) in enumerate(
                (
                    ("worksheet", "worksheets/sheet1.xml"),
                    ("sharedStrings", "sharedStrings.xml"),
                    ("styles", "styles.xml"),
                ),
                start=1,
            )
        )
        + "</Relationships>",
        SHEET: HEAD + ROW + TAIL,
    }
    names = {
        "sheet": SHEET,
        "strings": "xl/sharedStrings.xml",
        "styles": "xl/styles.xml",
        "book": "xl/workbook.xml",
    }
    written |= {names[name]: part for name, part in parts.items()}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, part in written.items():
            zipped.writestr(name, part)
    return out.getvalue()


def sheet(rows: str) -> bytes:
    return workbook(sheet=HEAD + rows + TAIL)


def pdf(
    content: bytes, objects: tuple[bytes, ...] = (), resources: bytes = b"", *, pages: int = 1, is_packed: bool = True
) -> bytes:
    """Return a PDF whose pages have this content, packed; ``objects`` are numbered from 5."""
    packed, how = (zlib.compress(content, 9), b"/Filter/FlateDecode") if is_packed else (content, b"")
    kids = b" ".join(b"%d 0 R" % (100 + at) for at in range(pages))
    page = (
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F 3 0 R>>%s>>>>" % resources
    )
    bodies = {
        1: b"<</Type/Catalog/Pages 2 0 R>>",
        2: b"<</Type/Pages/Count %d/Kids[%s]>>" % (pages, kids),
        3: b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
        4: b"<</Length %d%s>>stream\n%s\nendstream" % (len(packed), how, packed),
        **dict(enumerate(objects, start=5)),
        **{100 + at: page for at in range(pages)},
    }
    out = b"%PDF-1.7\n"
    for number, body in bodies.items():
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    return out + b"trailer<</Root 1 0 R/Size 200>>\nstartxref\n0\n%%EOF\n"


def form(content: bytes, calls: int = 0, times: int = 1) -> bytes:
    """Return a form that draws another one, by its object number, this many times."""
    body = content + b" /X Do " * times * bool(calls)
    resources = b"/Resources<</Font<</F 3 0 R>>/XObject<</X %d 0 R>>>>" % calls
    head = b"<</Type/XObject/Subtype/Form/BBox[0 0 600 700]%s/Length %d>>" % (resources, len(body))
    return head + b"stream\n" + body + b"\nendstream"


WORDS = b"BT /F 12 Tf 50 700 Td (Moth) Tj ET "
USES = b"/XObject<</X 5 0 R>>"


def _packed_twice() -> bytes:
    inner = zlib.compress(zlib.compress(WORDS + b" " * 1_500_000_000, 9), 9)
    whole = pdf(b"")
    at, end = whole.index(b"4 0 obj"), whole.index(b"endobj", whole.index(b"4 0 obj"))
    head = b"4 0 obj\n<</Length %d/Filter[/FlateDecode/FlateDecode]>>stream\n" % len(inner)
    return whole[:at] + head + inner + b"\nendstream\n" + whole[end:]


def _many_parts() -> bytes:
    out = io.BytesIO(workbook())
    with zipfile.ZipFile(out, "a") as zipped:
        for at in range(60_000):
            zipped.writestr(f"xl/{at}.xml", "")
    return out.getvalue()


WORKBOOKS: dict[str, Callable[[], bytes]] = {
    "rows": lambda: sheet("<row/>" * 10_000_000),
    "cells": lambda: sheet("<row>" + "<c/>" * 15_000_000 + "</row>"),
    "shared strings": lambda: workbook(strings=f'<sst xmlns="{MAIN}">' + "<si><t>a</t></si>" * 3_500_000 + "</sst>"),
    "styles": lambda: workbook(styles=f'<styleSheet xmlns="{MAIN}"><cellXfs>' + "<xf/>" * 11_000_000 + "</cellXfs>"),
    "number formats": lambda: workbook(
        styles=f'<styleSheet xmlns="{MAIN}"><numFmts>'
        + "".join(f'<numFmt numFmtId="{at}" formatCode="{"[" * 400}"/>' for at in range(40_000))
        + "</numFmts></styleSheet>"
    ),
    "attributes": lambda: sheet("<row " + " ".join(f'a{at}=""' for at in range(1_500_000)) + "/>"),
    "one value": lambda: sheet('<row r="1"><c r="A1" t="str"><v>' + "a" * 60_000_000 + "</v></c></row>"),
    "wide rows": lambda: sheet(("<row>" + "<c/>" * 16_384 + "</row>") * 1_000),
    "a gap": lambda: sheet(ROW + '<row r="2000000000"><c r="A2000000000" t="str"><v>Owl</v></c></row>'),
    "a gap of no cells": lambda: sheet(ROW + '<row r="1048576"/>'),
    "deep": lambda: sheet("<row>" * 3_000_000),
    "sheets": lambda: workbook(
        book=f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
        + '<sheet name="List" r:id="rId1"/>' * 1_000_000
        + "</sheets></workbook>"
    ),
    "many parts": _many_parts,
}

ENTITY = '<!DOCTYPE a [<!ENTITY b "' + "c" * 1_000 + '">]><worksheet>' + "&b;" * 100 + "</worksheet>"
ENTITIES: dict[str, bytes] = {
    "plain": ENTITY.encode(),
    "with a declaration": ('<?xml version="1.0"?>' + ENTITY).encode(),
    "UTF-16 with a mark": ('<?xml version="1.0" encoding="utf-16"?>' + ENTITY).encode("utf-16"),
    "UTF-16 without a mark": ('<?xml version="1.0" encoding="UTF-16"?>' + ENTITY).encode("utf-16-le"),
    "UTF-16 the other way round": ('<?xml version="1.0" encoding="UTF-16BE"?>' + ENTITY).encode("utf-16-be"),
    "another encoding": ('<?xml version="1.0" encoding="cp037"?>' + ENTITY).encode("cp037"),
    "UTF-7": b'<?xml version="1.0" encoding="UTF-7"?>+ADwAIQ-DOCTYPE a +AFsAPAAh-ENTITY b +ACI-c+ACIAPgBdAD4-',
    "lower case": ENTITY.replace("DOCTYPE", "doctype").encode(),
    "from a file": b'<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/hostname">]><a>&b;</a>',
    "as a parameter": b'<!DOCTYPE a [<!ENTITY % b SYSTEM "http://localhost:9/x"> %b;]><a/>',
}

PDFS: dict[str, Callable[[], bytes]] = {
    "nested forms": lambda: pdf(WORDS + b"/X Do", (*(form(WORDS, at + 6, 10) for at in range(9)), form(WORDS)), USES),
    "recursive forms": lambda: pdf(WORDS + b"/X Do " * 50, (form(WORDS, 5, 50),), USES),
    "endless letters": lambda: pdf(WORDS + b"BT /F 9 Tf 50 600 Td (" + b"m" * 30_000_000 + b") Tj ET"),
    "endless words": lambda: pdf(WORDS + b"BT /F 9 Tf " + b"1 1 Td (m) Tj " * 2_000_000 + b" ET"),
    "endless paths": lambda: pdf(WORDS + b"0 0 m 9 9 l " * 3_000_000 + b"S"),
    "endless curves": lambda: pdf(WORDS + b"0 0 m 1 1 2 2 3 3 c S " * 2_000_000),
    "a flate bomb": lambda: pdf(WORDS + b" " * 900_000_000),
    "a bomb in a bomb": _packed_twice,
    "many pages of letters": lambda: pdf(WORDS * 100_000, pages=40),
}


def _lines(line: str, size: int) -> bytes:
    return "".join(f"{line}\n" for _ in range(min(9_000, size // (len(line) + 1)))).encode()


WORDS_OF_TEXT = "Moth "
SIZE = 250_000  # bytes: as much of a table as is read
PLAIN = 39_000  # bytes: as much as is read of a list without columns, in long lines
TEXTS: dict[str, Callable[[], tuple[str, bytes]]] = {
    "one line": lambda: ("a.txt", b"Moth" * 300_000),
    "one line of words": lambda: ("a.txt", WORDS_OF_TEXT.encode() * 200_000),
    "one line of columns": lambda: ("a.csv", b"Moth," * 1_500_000),
    "one cell": lambda: ("a.csv", b"Title,Key\nMoth,Bb\n" + b"x" * 8_000_000),
    "one cell in quotes": lambda: ("a.csv", b'Title,Key\nMoth,"' + b"x\n" * 4_900 + b"x" * 7_000_000 + b'"'),
    "tabs": lambda: ("a.txt", b"\t" * 1_000_000 + b"Moth"),
    "tabs in every line": lambda: ("a.txt", _lines("\t" * 400 + "Moth", PLAIN)),
    "zero-width spaces": lambda: ("a.csv", "Title,Key\n\u200b\nMoth,Bb\n\u200b,\u200b\n".encode()),
    "zero-width table": lambda: ("a.md", "| Title | Key |\n|---|---|\n|\u200b|\n\u200b\n| Moth | Bb |\n".encode()),
    "rules": lambda: ("a.md", _lines("|" + "-" * 400 + "x", SIZE)),
    "bars": lambda: ("a.md", _lines("|--" * 130 + "x", SIZE)),
    "quotes": lambda: ("a.txt", _lines("> " * 200 + "Moth", PLAIN)),
    "stars": lambda: ("a.txt", _lines("*a" * 200, PLAIN)),
    "strong": lambda: ("a.txt", _lines("**a" * 130, PLAIN)),
    "brackets": lambda: ("a.txt", _lines("(" * 400, PLAIN)),
    "bracket pairs": lambda: ("a.txt", _lines("Moth (a" * 60, PLAIN)),
    "gaps": lambda: ("a.txt", _lines("Moth" + " " * 390 + "x", PLAIN)),
    "dashes": lambda: ("a.txt", _lines("Moth - " * 60, PLAIN)),
    "commas": lambda: ("a.txt", _lines("Moth, " * 60 + "(", PLAIN)),
    "digits": lambda: ("a.txt", _lines("1 " * 200, PLAIN)),
    "styles": lambda: ("a.txt", _lines("rock " * 80 + "x", PLAIN)),
    "notes": lambda: ("a.txt", _lines("Moth - " + "keys and piano " * 26, PLAIN)),
    "arrows": lambda: ("a.txt", _lines("Moth > " * 60, PLAIN)),
    "letters": lambda: ("a.txt", _lines("A" * 450, PLAIN)),
    "marks": lambda: ("a.txt", _lines("é" * 230, PLAIN)),
    "colons": lambda: ("a.txt", _lines("show: " * 70, PLAIN)),
}


OASIS = "application/vnd.oasis.opendocument"
OPEN_NAMES = 'xmlns:office="o" xmlns:text="t" xmlns:table="b"'
WORD = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"


def zipped(**parts: str) -> bytes:
    """Return a zip with these XML parts; ``_`` in a name stands for a slash."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, part in parts.items():
            made.writestr(f"{name.replace('_', '/')}.xml", part)
    return out.getvalue()


def word(body: str, **parts: str) -> bytes:
    main = f'<w:document xmlns:w="{WORD}"><w:body>{body}</w:body></w:document>'
    return zipped(word_document=main, **parts)


def open_text(body: str, **parts: str) -> bytes:
    return zipped(content=f"<office:body {OPEN_NAMES}>{body}</office:body>", **parts)


def open_sheet(body: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("mimetype", f"{OASIS}.spreadsheet", zipfile.ZIP_STORED)
        made.writestr(
            "content.xml", f'<office:body xmlns:office="o" xmlns:text="t" xmlns:table="b">{body}</office:body>'
        )
    return out.getvalue()


STYLED = "</w:styles>"
ENDS = "</table:table>"
REPEATED = '<table:table-cell table:number-columns-repeated="9999999"><text:p>Moth</text:p></table:table-cell>'
CELL = "<table:table-cell><text:p>Moth</text:p></table:table-cell>"
DOCUMENTS: dict[str, Callable[[], tuple[str, bytes]]] = {
    "docx, paragraphs": lambda: ("a.docx", word("<w:p/>" * 3_000_000)),
    "docx, letters": lambda: ("a.docx", word("<w:p><w:r>" + "<w:t>Moth</w:t>" * 900_000 + "</w:r></w:p>")),
    "docx, deep": lambda: ("a.docx", word("<w:tbl><w:tr><w:tc>" * 100_000)),
    "docx, nested tables": lambda: (
        "a.docx",
        word(("<w:tbl><w:tr><w:tc><w:p><w:r><w:t>Moth</w:t></w:r></w:p>" * 30 + "</w:tc></w:tr></w:tbl>" * 30) * 400),
    ),
    "docx, wide cells": lambda: (
        "a.docx",
        word('<w:tbl><w:tr><w:tc><w:tcPr><w:gridSpan w:val="99999"/></w:tcPr></w:tc></w:tr></w:tbl>' * 20_000),
    ),
    "docx, styles in a ring": lambda: (
        "a.docx",
        word(
            '<w:p><w:pPr><w:pStyle w:val="a"/></w:pPr><w:r><w:t>Moth</w:t></w:r></w:p>' * 20_000,
            word_styles=f'<w:styles xmlns:w="{WORD}"><w:style w:styleId="a"><w:basedOn w:val="a"/></w:style>{STYLED}',
        ),
    ),
    "odt, spaces": lambda: ("a.odt", open_text("<text:p>Moth" + '<text:s text:c="9999999"/>' * 200_000 + "</text:p>")),
    "odt, lists": lambda: ("a.odt", open_text("<text:list><text:list-item>" * 100_000)),
    "ods, repeated rows": lambda: (
        "a.ods",
        open_sheet(f'<table:table><table:table-row table:number-rows-repeated="99999">{CELL}</table:table-row>{ENDS}'),
    ),
    "ods, repeated cells": lambda: (
        "a.ods",
        open_sheet(
            "<table:table><table:table-row>" + REPEATED * 50_000 + "</table:table-row></table:table>"
        ),
    ),
    "ods, sheets": lambda: ("a.ods", open_sheet("<table:table/>" * 300_000)),
    "rtf, deep": lambda: ("a.rtf", b"{\\rtf1" + b"{" * 3_000_000),
    "rtf, words": lambda: ("a.rtf", b"{\\rtf1" + b"\\par" * 1_900_000),
    "rtf, letters": lambda: ("a.rtf", b"{\\rtf1 " + b"Moth " * 1_500_000),
    "rtf, cells": lambda: ("a.rtf", b"{\\rtf1\\trowd\\intbl" + b" Moth\\cell" * 700_000),
    "rtf, numbers": lambda: ("a.rtf", b"{\\rtf1\\uc8" + b"\\u99999999999" * 500_000),
    "rtf, one word": lambda: ("a.rtf", b"{\\rtf1\\" + b"a" * 8_000_000),
    "html, deep": lambda: ("a.html", b"<html>" + b"<div>" * 300_000),
    "html, cells": lambda: ("a.html", b"<html><table>" + b"<td>" * 400_000),
    "html, spans": lambda: ("a.html", b"<html><table><tr>" + b"<td colspan=999 rowspan=999>Moth" * 60_000),
    "html, lists": lambda: ("a.html", b"<html>" + b"<ol><li>" * 200_000),
    "html, unended": lambda: ("a.html", b"<html>" + b"<p x" * 500_000),
    "html, comments": lambda: ("a.html", b"<html>" + b"<!--" * 500_000),
    "html, declarations": lambda: ("a.html", b"<html>" + b"<![CDATA[" * 220_000),
    "html, marks": lambda: ("a.html", b"<html>" + b"&#" * 1_000_000),
    "html, attributes": lambda: ("a.html", b"<html><p " + b"a='" * 600_000),
    "html, a style sheet": lambda: ("a.html", b"<html><style>" + b".a{b:" * 400_000 + b"</style><p>Moth"),
    "html, letters": lambda: ("a.html", b"<html><p>" + b"Moth " * 400_000),
    "mail, deep": lambda: ("a.eml", b"Message-ID: <1>\nMIME-Version: 1.0\n" + _deep_parts(3_000)),
    "mail, parts": lambda: ("a.eml", _parts(5_000)),
    "mail, a header": lambda: ("a.eml", b"Message-ID: <1>\nSubject: " + b"=?utf-8?q?a?= " * 50_000 + b"\n\nMoth (C)\n"),
    "mail, headers": lambda: ("a.eml", b"Message-ID: <1>\n" + b"X: y\n" * 1_200_000 + b"\nMoth (C)\n"),
    "mail, an encoding": lambda: (
        "a.eml",
        b"Message-ID: <1>\nContent-Type: text/plain; charset=zlib_codec\nContent-Transfer-Encoding: base64\n\n"
        + b64encode(zlib.compress(b"Moth\n" * 100_000_000, 9)),
    ),
    "a zip in a zip": lambda: ("a.zip", zipped(a="x" * 60_000_000)),
}  # fmt: skip


def _deep_parts(deep: int) -> bytes:
    return (
        b"".join(b'Content-Type: multipart/mixed; boundary="b%d"\n\n--b%d\n' % (at, at) for at in range(deep))
        + b"Content-Type: text/plain\n\nMoth (C)\n"
    )


def _parts(number: int) -> bytes:
    part = b"--b\nContent-Type: text/plain\n\nMoth (C)\n"
    return b'Message-ID: <1>\nMIME-Version: 1.0\nContent-Type: multipart/mixed; boundary="b"\n\n' + part * number


def png(width: int, height: int) -> bytes:
    """Return a picture of this size in black and white whose first rows are all the same, packed (PNG, W3C, 11.2)."""
    rows = zlib.compressobj(9)
    data = (
        b"".join(rows.compress(bytes(1 + (width + 7) // 8) * 1_000) for _ in range(min(height // 1_000, 8)))
        + rows.flush()
    )

    def chunk(kind: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4) + kind + body + zlib.crc32(kind + body).to_bytes(4)

    head = width.to_bytes(4) + height.to_bytes(4) + bytes((1, 0, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


PICTURES: dict[str, Callable[[], tuple[str, bytes]]] = {
    "a bomb of pixels": lambda: ("a.png", png(60_000, 60_000)),
    "a size that lies": lambda: ("a.png", png(8, 1_000).replace((1_000).to_bytes(4), (2_000_000_000).to_bytes(4), 1)),
    "a text without end": lambda: (
        "a.png",
        png(8, 1_000)[:33] + _text_chunk(zlib.compress(b"a" * 40_000_000, 9)) + png(8, 1_000)[33:],
    ),
    "a picture cut short": lambda: ("a.jpg", b"\xff\xd8\xff\xe0" + bytes(100)),
    "as large as is read": lambda: ("a.png", png(8_000, 8_000)),
}


def _text_chunk(packed: bytes) -> bytes:
    body = b"Comment\0\0" + packed
    return len(body).to_bytes(4) + b"zTXt" + body + zlib.crc32(b"zTXt" + body).to_bytes(4)
