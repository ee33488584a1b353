"""What a table's rows and columns say by being alike: parts of an evening, and rows unlike all others."""

import pytest
from setlist.reading_texts import said

from companion.setlist import SetList
from companion.setlist.list_reading import list_in


def read(text: str) -> SetList:
    return list_in(text.encode(), "list.csv")


def rows(name: str, *parts: str) -> str:
    songs = ("Moth,F", "Weeds,Bb", "Tidal Clock,Eb", "Fog Bell,Gm", "Late Tram,C", "Brassneck,F")
    return f"{name},Song,Key\n" + "".join(f"{part},{song}\n" for part, song in zip(parts, songs, strict=True))


@pytest.mark.parametrize("name", ["Bit", "What for", "Section", "Moment"])
def test_a_column_whose_words_name_parts_of_the_evening_is_the_sets(name: str) -> None:
    found = read(rows(name, *["Welcome"] * 2, *["Main course"] * 2, *["Dancing"] * 2))
    assert (
        said(found)
        == "Welcome: Moth=F; Weeds=Bb | Main course: Tidal Clock=Eb; Fog Bell=Gm | Dancing: Late Tram=C; Brassneck=F"
    )


def test_a_column_of_singers_is_no_column_of_sets_though_each_sings_in_a_row() -> None:
    found = read(rows("Lead", *["Dulcie"] * 3, *["Art"] * 3))
    assert len(found.show.sets) == 1


def test_a_row_without_a_key_is_asked_about_where_nearly_all_others_have_one() -> None:
    found = read("Song,Key,By\nMoth,F,\nWeeds,Bb,Jo\nKids go out,,All\nTidal Clock,Eb,\nFog Bell,Gm,\nLate Tram,C,\n")
    doubts = {line.text: [str(doubt) for doubt in line.doubts] for line in found.lines if line.doubts}
    assert doubts == {"Kids go out,,All": ["without a key, unlike the others: read as a song"]}


def test_a_numbered_song_without_a_key_is_not_asked_about() -> None:
    found = read("No,Song,Key\n1,Moth,F\n2,Weeds,Bb\n3,Kids Go Out,\n4,Tidal Clock,Eb\n5,Fog Bell,Gm\n6,Late Tram,C\n")
    assert not found.in_doubt


def test_a_small_number_in_a_column_of_lengths_is_of_minutes() -> None:
    found = read("Song,Key,Min\nMoth,F,4\nWeeds,Bb,5\nTidal Clock,Eb,12\n")
    assert [song.length_s for song in found.show.sets[0].songs] == [240, 300, 720]
