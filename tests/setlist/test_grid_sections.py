"""Headings of sets in a grid by their place, whatever their words; columns named or not; what stands beside them."""

import pytest

from companion.setlist.list_reading import list_in
from companion.setlist.model import LineKind, ListPage, ListRow, SetList, SourceLine
from companion.setlist.parsing.understand import take_in


def grid(*rows: tuple[str, ...], large: tuple[int, ...] = (), blank: tuple[int, ...] = ()) -> SetList:
    """Read these rows of cells; ``large`` and ``blank``: rows in large letters, and below an empty one, from 0."""
    made = [
        ListRow(SourceLine(at + 1), cells, " | ".join(filter(None, cells)), at in blank, is_large=at in large)
        for at, cells in enumerate(rows)
    ]
    return take_in([ListPage(tuple(made), is_grid=True)])


def sets(found: SetList) -> dict[str, list[str]]:
    return {one.name: [song.title for song in one.songs] for one in found.show.sets}


def questions(found: SetList) -> list[str]:
    return [doubt.question for line in found.lines for doubt in line.doubts]


NAMES = ("Title", "Key", "Notes")
EARLY = [("Tin Lanterns", "C", ""), ("Slow Tram Home", "Fm", ""), ("Moss and Mortar", "Db", "rhodes")]
LATE = [("Postbox Polka", "G", ""), ("Wren", "A", "long"), ("Two Left Boots", "Em", "")]
ALL = {"early": [title for title, _, _ in EARLY], "late": [title for title, _, _ in LATE]}
HEADED: dict[
    str, tuple[list[tuple[str, ...]], tuple[str, str]]
] = {  # what sets the headings apart: the rows, the names of the sets
    "in capitals": ([NAMES, ("FAMILY SHOW", "", ""), *EARLY, ("BARN END", "", ""), *LATE], ("Family show", "Barn end")),
    "names of columns below": ([("Aperitivo",), NAMES, *EARLY, ("Festa",), NAMES, *LATE], ("Aperitivo", "Festa")),
    "one cell across": ([NAMES, ("Aperitivo",), *EARLY, ("Festa",), *LATE], ("Aperitivo", "Festa")),
    "in the column of numbers": (
        [
            ("#", *NAMES),
            ("Aperitivo", "", "", ""),
            *((str(at), *row) for at, row in enumerate(EARLY, 1)),
            ("Festa", "", "", ""),
            *((str(at), *row) for at, row in enumerate(LATE, 1)),
        ],
        ("Aperitivo", "Festa"),
    ),
}


@pytest.mark.parametrize("how", HEADED)
def test_one_cell_between_blocks_of_songs_heads_a_set_and_is_asked_about(how: str) -> None:
    rows, names = HEADED[how]
    found = grid(*rows)
    assert sets(found) == dict(zip(names, ALL.values(), strict=True))
    assert [f"Is {name!r} the heading of a set?" for name in names] == questions(found)


def test_a_word_for_a_part_of_an_evening_above_named_columns_heads_a_set_without_a_question() -> None:
    found = grid(("Sea Hotel, Friday",), ("Dinner",), NAMES, *EARLY, ("Dancing",), NAMES, *LATE, large=(0, 1, 6))
    assert sets(found) == {"Dinner": ALL["early"], "Dancing": ALL["late"]}
    assert not questions(found)


def test_titles_without_a_key_stay_songs_where_nothing_sets_them_apart() -> None:
    found = grid(NAMES, *EARLY, ("Unkeyed Waltz", "", ""), *LATE)
    assert sum(map(len, sets(found).values())) == 7
    assert questions(found) == ["Is 'Unkeyed Waltz' a song?"]


@pytest.mark.parametrize("words", ["Prayers", "Buffet", "drums only", "Total 45:00", "Thanks, Bo"])
def test_other_words_in_one_cell_head_no_set(words: str) -> None:
    found = grid(NAMES, *EARLY, (words,), *LATE)
    assert all(line.took is not LineKind.SET for line in found.lines)
    assert sum(map(len, sets(found).values())) == 6


def test_a_paragraph_below_a_table_is_kept_in_the_notes_and_asked_about() -> None:
    found = grid(NAMES, *EARLY, *LATE, ("Start 8.30 prompt",), blank=(7,))
    assert sum(map(len, sets(found).values())) == 6
    assert found.show.notes == "Start 8.30 prompt"
    assert questions(found) == ["Is 'Start 8.30 prompt' a song?"]


def test_words_above_sets_side_by_side_name_the_list() -> None:
    rows = [("Moth (G)", "Wren (A)"), ("Weeds (C)", "Ferry (F)"), ("Lamps (D)", "Bells (E)")]
    found = grid(("Millers Welfare Club",), ("SET 1", "SET 2"), *rows)
    assert found.show.title == "Millers Welfare Club"
    assert sets(found) == {"First": ["Moth", "Weeds", "Lamps"], "Second": ["Wren", "Ferry", "Bells"]}


def test_roles_and_times_before_the_titles_are_columns_of_their_own() -> None:
    songs = [("Prelude", "Barley Morning", "D"), ("Opening hymn", "Stone and Straw", "G"), ("Offertory", "Crumbs", "F")]
    found = grid(*((f"10.{at}5", *song) for at, song in enumerate(songs, 1)))
    assert list(sets(found).values()) == [["Barley Morning", "Stone and Straw", "Crumbs"]]
    assert "10.15" in (found.show.sets[0].songs[0].notes or "")


def test_a_row_of_an_order_of_service_names_no_columns_and_is_no_note() -> None:
    found = grid(
        ("Item", "Who", "Title", "Key"),
        ("Song", "Band", "Scatter and Wait", "D"),
        ("Reading", "Arthur"),
        ("Song", "Band", "Sheaf", "G"),
        ("Song", "Choir", "Plenty", "C"),
    )
    assert list(sets(found).values()) == [["Scatter and Wait", "Sheaf", "Plenty"]]
    assert found.show.notes == "Reading | Arthur"


def test_each_table_of_a_page_has_columns_of_its_own() -> None:
    found = grid(
        ("#", "Title", "Key"), ("1", "Moth", "G"), ("2", "Wren", "A"), ("Song", "Singer", "Key"), ("Weeds", "Bo", "C")
    )
    assert [(song.title, str(song.key)) for song in found.show.sets[0].songs] == [
        ("Moth", "G"),
        ("Wren", "A"),
        ("Weeds", "C"),
    ]


def test_an_event_between_songs_heads_a_set_only_where_it_looks_like_another_heading() -> None:
    headed = grid(NAMES, ("FAMILY SHOW", "", ""), *EARLY, ("LATE BAR", "", ""), *LATE, blank=(5,))
    assert sets(headed) == {"Family show": ALL["early"], "Late bar": ALL["late"]}


def test_a_column_that_counts_sets_parts_the_songs() -> None:
    rows = [("1", "Moth", "G"), ("1", "Wren", "A"), ("2", "Weeds", "C"), ("2", "Ferry", "D")]
    assert sets(grid(("Parte", "Música", "Tom"), *rows)) == {"First": ["Moth", "Wren"], "Second": ["Weeds", "Ferry"]}
    assert sets(grid(*rows)) == {"First": ["Moth", "Wren"], "Second": ["Weeds", "Ferry"]}


def test_songs_without_a_mark_are_not_played_where_others_have_one() -> None:
    found = grid(("Song", "Key", "Play Sat?"), ("Moth", "G", "y"), ("Wren", "A", ""), ("Weeds", "C", "y"))
    assert list(sets(found).values()) == [["Moth", "Weeds"]]
    assert [line.reason for line in found.set_aside] == ["not played, Play Sat?: no"]
    assert any("have no mark" in doubt.says for doubt in found.doubts)


def test_columns_of_titles_in_other_words_are_no_lists_side_by_side() -> None:
    found = grid(("Titre", "Chant", "Ton"), ("La pluie", "Armand", "G"), ("Le bal", "Mireille", "A"))
    assert list(sets(found).values()) == [["La pluie", "Le bal"]]


def test_sheets_with_words_for_sets_and_no_common_song_are_one_list_in_doubt() -> None:
    def sheet(name: str, rows: list[tuple[str, ...]]) -> ListPage:
        made = [
            ListRow(SourceLine(at, sheet=name), row, " | ".join(row)) for at, row in enumerate([NAMES, *rows], start=1)
        ]
        return ListPage(tuple(made), is_grid=True, name=name)

    found = take_in([sheet("Early", [*EARLY]), sheet("Late", [*LATE])])
    assert sets(found) == {"Early": ALL["early"], "Late": ALL["late"]}
    assert [doubt.question for doubt in found.doubts] == ["Are Early and Late sets of one list?"]
    twice = take_in([sheet("Early", [*EARLY]), sheet("Late", [*LATE, EARLY[0]])])
    assert len(twice.show.sets) == 1


def test_one_cell_across_a_table_of_a_page_heads_a_set() -> None:
    def songs(rows: list[tuple[str, str, str]]) -> str:
        return "".join(f"<tr><td>{title}</td><td>{key}</td></tr>" for title, key, _ in rows)

    across = "<tr><td colspan=2><b>{}</b></td></tr>"
    names = "<tr><th>Song</th><th>Key</th></tr>"
    table = names + across.format("Walled garden") + songs(EARLY) + across.format("Round the fire") + songs(LATE)
    found = list_in(f"<html><body><table>{table}</table></body></html>".encode(), "list.html")
    assert sets(found) == {"Walled garden": ALL["early"], "Round the fire": ALL["late"]}


def test_small_notes_between_the_songs_do_not_end_the_block_below_a_heading() -> None:
    rows = [NAMES, ("FAMILY SHOW",), EARLY[0], ("pick-up",), *EARLY[1:], ("BARN END",), *LATE]
    made = [
        ListRow(SourceLine(at), cells, " ".join(cells), is_small=cells == ("pick-up",))
        for at, cells in enumerate(rows, 1)
    ]
    assert sets(take_in([ListPage(tuple(made), is_grid=True)])) == {
        "Family show": ALL["early"],
        "Barn end": ALL["late"],
    }


def test_a_question_mark_behind_a_title_stays_where_its_key_is_known() -> None:
    found = grid(("Titre", "Ton"), ("Où est passé Marcel ?", "Em"), ("Le bal ?", ""), ("La pluie", "G"))
    assert list(sets(found).values()) == [["Où est passé Marcel ?", "Le bal", "La pluie"]]


@pytest.mark.parametrize(
    "line", ["organ swells in the intro, nothing else until the drums", "ends cold - do not ring on!"]
)
def test_a_remark_right_below_a_song_of_a_table_is_a_note_on_it_though_it_is_a_sentence(line: str) -> None:
    rows = f"\tMoth Parade\t\tEm\n\t\t{line}\n\tWeeds\t\tG\n\tTidal Clock\t\tAm\n\tKite\t\tD\n\tFog Bell\t\tC\n"
    songs = list_in(rows.encode(), "list.txt").show.sets[0].songs
    assert [song.title for song in songs] == ["Moth Parade", "Weeds", "Tidal Clock", "Kite", "Fog Bell"]
    assert line.split(maxsplit=1)[0] in (songs[0].notes or "") or songs[0].ending is not None
