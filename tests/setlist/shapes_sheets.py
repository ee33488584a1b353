"""Set lists as spreadsheets: written by the csv module, openpyxl, XlsxWriter and pandas, as people lay them out."""

import csv
import datetime as dt
import io
from collections.abc import Callable, Iterable
from typing import Literal

import openpyxl
import xlsxwriter
from setlist.invented import sets
from setlist.shapes_text import Shape


def _csv(
    rows: Iterable[Iterable[object]], delimiter: str = ",", quoting: Literal[0, 1, 2, 3] = csv.QUOTE_MINIMAL
) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=delimiter, quoting=quoting).writerows(rows)
    return out.getvalue().encode()


def _plain_csv() -> Shape:
    songs = sets(31, 18)
    rows = [
        ("Title", "Artist", "Key", "Length", "Tempo", "Notes"),
        *((s.title, s.artist, s.key or "", s.clock, s.tempo, s.remark) for s in songs[0]),
    ]
    return "plain.csv", _csv(rows), songs, ("key", "artist", "length", "tempo", "remark")


def _semicolons() -> Shape:
    songs = sets(32, 20)
    rows = [
        ("Nr.", "Titel", "Interpret", "Tonart", "Länge", "BPM"),
        *((at, s.title, s.artist, s.key or "", s.clock, s.tempo) for at, s in enumerate(songs[0], 1)),
    ]
    return (
        "semicolons.csv",
        _csv(rows, delimiter=";").decode().encode("utf-8-sig"),
        songs,
        ("key", "artist", "length", "tempo"),
    )


def _nameless() -> Shape:
    songs = sets(33, 22)
    rows = [(at, s.title, s.artist, s.key or "", s.clock) for at, s in enumerate(songs[0], 1)]
    return "nameless.csv", _csv(rows), songs, ("key", "artist", "length")


def _nameless_odd_order() -> Shape:
    songs = sets(34, 22)
    rows = [(s.key or "", s.tempo, s.title, s.clock, s.remark) for s in songs[0]]
    return "odd.csv", _csv(rows), songs, ("key", "length", "tempo", "remark")


def _set_column() -> Shape:
    songs = sets(35, 10, 9, 2)
    rows: list[tuple[object, ...]] = [("Set", "Song", "Key", "Time")]
    for name, one in zip(("1", "2", "Encore"), songs, strict=True):
        rows += [(name, s.title, s.key or "", s.clock) for s in one]
    return "sets.csv", _csv(rows), songs, ("key", "length")


def _heading_rows() -> Shape:
    songs = sets(36, 11, 9)
    rows: list[tuple[object, ...]] = [("", "SONG", "KEY", "ORIG KEY", "NOTES")]
    for number, one in enumerate(songs, 1):
        rows += [
            (f"SET {number}", "", "", "", ""),
            *((at, s.title, s.key or "?", "", s.remark) for at, s in enumerate(one, 1)),
            ("", "", "", "", ""),
        ]
    return "headings.csv", _csv(rows), songs, ("key", "remark")


def _tsv() -> Shape:
    songs = sets(37, 16)
    rows = [("Song", "Key", "bpm", "time sig"), *((s.title, s.key or "", s.tempo, s.meter) for s in songs[0])]
    return "list.tsv", _csv(rows, delimiter="\t"), songs, ("key", "tempo", "meter")


def _seconds() -> Shape:
    songs = sets(38, 15)
    rows = [("song", "secs", "key"), *((s.title, s.length_s, s.key or "") for s in songs[0])]
    return "seconds.csv", _csv(rows, quoting=csv.QUOTE_ALL), songs, ("key", "length")


def _latin() -> Shape:
    songs = sets(39, 25)
    rows = [("Titel", "Tonart"), *((s.title, s.key or "") for s in songs[0])]
    return "latin.csv", _csv(rows, delimiter=";").decode().encode("cp1252"), songs, ("key",)


def _titles_and_numbers() -> Shape:
    songs = sets(40, 21)
    rows = [(s.title, s.tempo, s.length_s) for s in songs[0]]
    return "numbers.csv", _csv(rows), songs, ("tempo", "length")


def _banner() -> Shape:
    songs = sets(41, 13, 12)
    rows: list[tuple[object, ...]] = [
        ("The Tidewater Nine", "", "", ""),
        ("Midsummer dance, 19 June 2027", "", "", ""),
        ("", "", "", ""),
        ("#", "Title", "Key", "Who starts"),
    ]
    for number, one in enumerate(songs, 1):
        rows += [
            (f"Set {number}", "", "", ""),
            *((at, s.title, s.key or "", "keys" if s.remark else "") for at, s in enumerate(one, 1)),
        ]
        rows.append(("", "Total", "45:00", ""))
    return "banner.csv", _csv(rows), songs, ("key",)


def _side_by_side() -> Shape:
    songs = sets(42, 10, 12)
    rows: list[tuple[object, ...]] = [("Set 1", "", "", "Set 2", ""), ("Song", "Key", "", "Song", "Key")]
    first, second = songs
    for at in range(12):
        left = (first[at].title, first[at].key or "") if at < 10 else ("", "")
        rows.append((*left, "", second[at].title, second[at].key or ""))
    return "side.csv", _csv(rows), songs, ("key",)


def _saved(book: openpyxl.Workbook) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _openpyxl() -> Shape:
    songs = sets(43, 12, 10)
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["#", "Song", "Artist", "Key", "Length", "BPM", "Comments"])
    for number, one in enumerate(songs, 1):
        sheet.append([None, f"Set {number}"])
        for at, s in enumerate(one, 1):
            sheet.append(
                [at, s.title, s.artist, s.key, dt.time(0, s.length_s // 60, s.length_s % 60), s.tempo, s.remark or None]
            )
    return "openpyxl.xlsx", _saved(book), songs, ("key", "artist", "length", "tempo", "remark")


def _two_sheets() -> Shape:
    songs = sets(44, 12, 11)
    book = openpyxl.Workbook()
    for number, one in enumerate(songs, 1):
        sheet = book.create_sheet(f"Set {number}")
        sheet.append(["Title", "Key", "Time"])
        for s in one:
            sheet.append(
                [s.title, s.key, dt.time(s.length_s // 60, s.length_s % 60)]
            )  # typed as 3:40, kept as twenty to four
    del book["Sheet"]
    return "sheets.xlsx", _saved(book), songs, ("key", "length")


def _xlsxwriter() -> Shape:
    songs = sets(45, 17)
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    sheet = book.add_worksheet("Gig")
    sheet.merge_range("A1:E1", "Running order", book.add_format({"bold": True}))
    for column, name in enumerate(("Song Title", "Original Artist", "Our Key", "Duration", "Notes")):
        sheet.write(3, column + 1, name)
    clock = book.add_format({"num_format": "m:ss"})
    for row, s in enumerate(songs[0], 4):
        sheet.write_row(row, 1, (s.title, s.artist, s.key or ""))
        sheet.write_number(row, 4, s.length_s / 86400, clock)
        sheet.write(row, 5, s.remark)
    book.close()
    return "writer.xlsx", out.getvalue(), songs, ("key", "artist", "length", "remark")


def _pandas_xlsx() -> Shape:
    import pandas as pd  # noqa: PLC0415 - half a second, which only the process that runs these tests needs

    songs = sets(46, 19)
    frame = pd.DataFrame(
        [{"Title": s.title, "Band": s.artist, "Key": s.key, "Tempo": float(s.tempo)} for s in songs[0]]
    )
    out = io.BytesIO()
    frame.to_excel(out)  # with its index as the first column, under an empty name
    return "frame.xlsx", out.getvalue(), songs, ("key", "artist", "tempo")


def _pandas_csv() -> Shape:
    import pandas as pd  # noqa: PLC0415 - the same

    songs = sets(47, 19)
    frame = pd.DataFrame([{"song": s.title, "key": s.key, "len": s.clock, "singer": "Lowri"} for s in songs[0]])
    return "frame.csv", frame.to_csv(sep="\t").encode(), songs, ("key", "length")


def _nameless_xlsx() -> Shape:
    songs = sets(48, 9, 10)
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for number, one in enumerate(songs, 1):
        sheet.append([f"SET {number}"])
        for s in one:
            sheet.append([s.title, s.key, s.remark or None])
        sheet.append([])
    return "nameless.xlsx", _saved(book), songs, ("key", "remark")


SHEETS: dict[str, Callable[[], Shape]] = {
    make.__name__.strip("_"): make
    for make in (
        _plain_csv,
        _semicolons,
        _nameless,
        _nameless_odd_order,
        _set_column,
        _heading_rows,
        _tsv,
        _seconds,
        _latin,
        _titles_and_numbers,
        _banner,
        _side_by_side,
        _openpyxl,
        _two_sheets,
        _xlsxwriter,
        _pandas_xlsx,
        _pandas_csv,
        _nameless_xlsx,
    )
}
