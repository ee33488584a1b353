"""A grid that holds an evening's course: parts with their times, events without music, a name above the songs."""

import pytest

from companion.setlist.list_reading import list_in
from companion.setlist.model import LineKind, SetList

SONGS = ("Thistle Lamp;F", "Ferry Ticket;Am", "Slow Dandelion;Eb"), ("Brass Umbrella;G", "Night Bakery;Dm")


def read(*rows: str, names: str = "Time;What;Key;Remarks") -> SetList:
    return list_in("\n".join([*([names] if names else []), *rows]).encode(), "list.csv")


def sets(found: SetList) -> list[tuple[str, list[str]]]:
    return [(one.name, [song.title for song in one.songs]) for one in found.show.sets]


def kinds(found: SetList, took: LineKind) -> list[str]:
    return [line.text for line in found.lines if line.took is took]


def questions(found: SetList) -> list[str]:
    return [doubt.question for line in found.lines for doubt in line.doubts]


@pytest.mark.parametrize("first", ["RECEPTION DRINKS", "Aperitivo in giardino", "THÉ DANSANT (trio)"])
@pytest.mark.parametrize("time", ["17:30", "17:30:00", "5.30 pm"])
def test_a_time_and_words_where_no_song_has_a_time_head_a_set(first: str, time: str) -> None:
    rows = [f"{time};{first};;", *(f";{song};" for song in SONGS[0]), "20:00;Dinner and speeches;;"]
    rows += ["21:15;Abendball;;", *(f";{song};" for song in SONGS[1]), "23:30;Carriages;;"]
    found = read(*rows)
    assert [songs for _, songs in sets(found)] == [
        ["Thistle Lamp", "Ferry Ticket", "Slow Dandelion"],
        ["Brass Umbrella", "Night Bakery"],
    ]
    assert found.show.sets[0].starts_min == 17 * 60 + 30


def test_a_part_with_one_song_is_a_set_beside_other_parts() -> None:
    rows = ["19:30;Openingsdans;;", f";{SONGS[0][0]};", "19:40;Set 1;;", *(f";{song};" for song in SONGS[0][1:])]
    found = read(*rows, "21:00;Set 2;;", *(f";{song};" for song in SONGS[1]))
    assert [len(songs) for _, songs in sets(found)] == [1, 2, 2]


def test_in_a_course_with_times_for_all_what_has_no_key_is_asked_about_and_no_song() -> None:
    rows = ["10:28;Countdown film;;AV", "10:30;Thistle Lamp;F;", "10:36;Notices;;Bo", "10:40;Ferry Ticket;Am;"]
    rows += ["10:45;Children leave;;", "10:46;Talk: Ruth 2;;Bo", "11:10;Night Bakery;Dm;", "11:15;Slow Dandelion;Eb;"]
    found = read(*rows)
    assert sum(len(songs) for _, songs in sets(found)) == 4
    assert "Is 'Countdown film' a song?" in questions(found)


def test_one_row_without_a_key_among_many_with_one_is_asked_about() -> None:
    rows = [f";{song};" for song in (*SONGS[0], *SONGS[1])]
    found = read(*rows, ";Umbrella Stand;;loud")
    assert questions(found) == ["Is 'Umbrella Stand' a song?"]


def test_tea_between_numbered_songs_ends_a_set() -> None:
    rows = [f"{at};{song}" for at, song in enumerate(SONGS[0], 1)]
    more = [f"{at};{song}" for at, song in enumerate(SONGS[1], 4)]
    found = read(*rows, "TEA;;", *more, names="")
    assert [len(songs) for _, songs in sets(found)] == [3, 2]
    assert questions(found) == ["Does a new set begin below this line?"]


@pytest.mark.parametrize("name", ["Part", "Moment", "Slot"])
def test_a_column_of_the_parts_of_an_evening_holds_the_sets(name: str) -> None:
    rows = [*(f"Welcome;{song}" for song in SONGS[0]), *(f"Dancing;{song}" for song in SONGS[1])]
    assert [one for one, _ in sets(read(*rows, names=f"{name};Song;Key"))] == ["Welcome", "Dancing"]
    once = [row if at in (0, 3) else row[row.index(";") :] for at, row in enumerate(rows)]
    if name != "Slot":
        assert [one for one, _ in sets(read(*once, names=f"{name};Song;Key"))] == ["Welcome", "Dancing"]
    singers = [row.replace("Welcome", "Ann").replace("Dancing", "Bo") for row in rows]
    assert len(sets(read(*singers, names="Who;Song;Key"))) == 1


def test_the_first_row_of_one_cell_names_the_list_or_is_asked_about() -> None:
    rows = [*SONGS[0], *SONGS[1]]
    assert read("brunch dec 13 - the heron", *rows, names="").show.title == "brunch dec 13 - the heron"
    assert questions(read("Heron Hall", *rows, names="")) == ["Is 'Heron Hall' a song?"]


def test_a_sheet_of_one_column_is_read_as_lines() -> None:
    rows = ["Heron 11/12 (Bo's do)", "", "1st", "Thistle Lamp (F)", "Ferry Ticket (Am)", "Slow Dandelion (Eb)", ""]
    rows += ["pie & peas 9pm", "", "2nd", "Brass Umbrella (G)", "Night Bakery (Dm) go mad", "Moss (C)"]
    found = read(*(f'"{row}"' for row in rows), names="")
    assert [len(songs) for _, songs in sets(found)] == [3, 3]
    assert str(found.show.sets[0].songs[0].key) == "F"


def test_a_key_beside_its_column_is_the_songs() -> None:
    rows = [f"{song};" for song in (*SONGS[0], *SONGS[1])]
    found = read(*rows, "Goodnight, Sweet Harbour Lights;;Eb", names="")
    assert str(found.show.sets[0].songs[-1].key) == "Eb"


def test_a_column_named_for_parts_with_other_words_in_each_row_holds_the_titles() -> None:
    rows = ["18:00,Einlass,", "18:45,Papierboot,F", "18:50,Kirschblues,Am", "18:55,Morgen,Eb", "19:10,Essen,"]
    rows += ["20:15,Ehrungen,", "20:45,Wackelkontakt,E", "20:50,Neonfisch,Bm", "21:30,Tombola,"]
    found = list_in("\n".join(["Uhr,Programmpunkt,Tonart", *rows]).encode(), "list.csv")
    songs = [song.title for one in found.show.sets for song in one.songs]
    assert songs == ["Papierboot", "Kirschblues", "Morgen", "Wackelkontakt", "Neonfisch"]


def test_a_column_without_a_name_may_name_the_part_beside_its_first_song() -> None:
    rows = [*(f";{song}" for song in SONGS[0]), *(f";{song}" for song in SONGS[1])]
    found = read(f"Drinks{rows[0]}", *rows[1:3], f"Party{rows[3]}", rows[4], names=";Song;Key")
    assert [one for one, _ in sets(found)] == ["Drinks", "Party"]
