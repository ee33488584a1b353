"""Rules that few lists need: titles struck through with a reason, chats saved as tables, titles a little alike."""

import io
import zipfile

import pytest

from companion.edits.song_values import song_value
from companion.errors import CompanionError
from companion.music.key import read_key
from companion.setlist import SetList
from companion.setlist.list_reading import list_in
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.document_rows import DocumentLine, DocumentTable, grid_rows
from companion.setlist.readers.limits import MAX_DEPTH
from companion.setlist.readers.text import pages_of_text
from companion.setlist.readers.workbook_parts import Parts
from companion.setlist.revising.matching import match
from companion.show import Section, Song


def titles(found: SetList) -> list[str]:
    return [song.title for one in found.show.sets for song in one.songs]


@pytest.mark.parametrize(
    ("line", "played"),
    [
        ("~~Slow Ferry~~ not tonight", []),
        ("~~Slow Ferry~~ (Bo has no voice)", []),
        ("~~Slow Ferry~~", []),
        ("~~Slow Ferry~~ Tram Home", ["Tram Home"]),
        ("Tram Home ~~(fast)~~ (slow)", ["Tram Home"]),
    ],
)
def test_a_struck_title_is_left_out_with_its_reason_but_not_what_replaces_it(line: str, played: list[str]) -> None:
    found = take_in(pages_of_text(f"Postbox Tango\n{line}\nHarbour Lamps", "list.txt"), "List")
    assert titles(found) == ["Postbox Tango", *played, "Harbour Lamps"]


def test_a_chat_saved_as_a_table_is_read_as_its_messages() -> None:
    chat = "date,sender,message\n3/4,Bo,1. Postbox Tango - Bb\n3/4,Bo,2. Nine Wet Umbrellas - Gm\n3/4,Bo,3. Tram - F\n"
    found = list_in(chat.encode(), "chat.csv")
    assert [(song.title, str(song.key)) for one in found.show.sets for song in one.songs] == [
        ("Postbox Tango", "Bb"),
        ("Nine Wet Umbrellas", "Gm"),
        ("Tram", "F"),
    ]


@pytest.mark.parametrize(
    ("old", "new", "are_one"),
    [
        (Song("Tram to the Sea"), Song("Train to Sea"), False),
        (Song("Tram to the Sea", key=read_key("D")), Song("Train to Sea", key=read_key("D")), False),
        (
            Song("Tram to the Sea", artist="The Kettles", key=read_key("D")),
            Song("Train to Sea", artist="the kettles", key=read_key("D")),
            True,
        ),
    ],
    ids=["alike only", "one sign", "two signs"],
)
def test_titles_that_are_a_little_alike_need_two_signs_to_be_one_song(old: Song, new: Song, *, are_one: bool) -> None:
    assert bool(match((old,), (new,))) is are_one


@pytest.mark.parametrize(
    ("key", "length_s", "tempo"),
    [("G (3:20)", 200, None), ("G (120 bpm)", None, 120.0), ("G (slow)", None, None)],
)
def test_a_length_or_a_tempo_behind_a_key_is_taken(key: str, length_s: int | None, tempo: float | None) -> None:
    table = f"Title,Key\nPostbox Tango,{key}\nHarbour Lamps,C\nTram Home,D\nSlow Ferry,Em\n"
    song = list_in(table.encode(), "list.csv").show.sets[0].songs[0]
    assert (song.title, str(song.key), song.length_s, song.tempo_bpm) == ("Postbox Tango", "G", length_s, tempo)


def test_a_key_change_behind_a_key_is_a_note_in_one_piece() -> None:
    table = "Title,Key\nPostbox Tango,Bb → C last chorus\nHarbour Lamps,C\nTram Home,D\nSlow Ferry,Em\n"
    song = list_in(table.encode(), "list.csv").show.sets[0].songs[0]
    assert (str(song.key), song.notes) == ("Bb", "→ C last chorus")


def test_a_section_that_the_shorthand_cannot_say_is_written_in_braces() -> None:
    sections = (Section("Verse, the slow one", 8, chords="1 | 4"), Section("Chorus", 16))
    value = song_value(Song("Postbox Tango", road_map=sections))
    assert value["road_map"] == [{"section": "Verse, the slow one", "bars": 8, "chords": "1 | 4"}, "Chorus 16"]


def test_a_row_without_a_first_cell_is_quoted_by_nobody() -> None:
    (row,) = grid_rows([DocumentTable([[[], [DocumentLine("Postbox Tango")]]])])
    assert (row.cells, row.quoted) == (("", "Postbox Tango"), 0)


def test_a_workbook_may_be_as_deep_as_the_limit_however_many_elements_stand_beside_each_other() -> None:
    def parts(depth: int) -> Parts:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as book:
            book.writestr("xl/workbook.xml", "<a>" * depth + "<b/>" * 50 + "</a>" * depth)
        return Parts(out.getvalue(), "list.xlsx")

    opened: list[str] = []
    parts(MAX_DEPTH - 1).read("xl/workbook.xml", lambda element, _: opened.append(element))
    assert opened == ["a"] * (MAX_DEPTH - 1) + ["b"] * 50
    with pytest.raises(CompanionError, match="nested deeper"):
        parts(MAX_DEPTH).read("xl/workbook.xml", lambda element, _: opened.append(element))


@pytest.mark.parametrize("songs", [["The Gate"], ["The Gate", "Old Moon again"]], ids=["one", "two"])
@pytest.mark.parametrize("gap", ["", "\n"])
def test_an_encore_without_numbers_below_numbered_sets_holds_songs(songs: list[str], gap: str) -> None:
    text = "Set 1\n1. Postbox Tango - Bb\n2. Harbour Lamps (C)\n3. Tram Home\n\nEncore:\n" + gap + "\n".join(songs)
    found = take_in(pages_of_text(text, "list.txt"), "List")
    assert [[song.title for song in one.songs] for one in found.show.sets][1:] == [songs]
