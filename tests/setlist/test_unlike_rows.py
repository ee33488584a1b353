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


@pytest.mark.parametrize("said_out", ["OUT", "out", "OUT (too quiet)", "OUT - never again", "not tonight"])
def test_a_note_that_says_that_a_song_is_not_played_takes_it_out(said_out: str) -> None:
    found = read(f"Song,Key,Notes\nMoth,F,\nWeeds,Bb,{said_out}\nTidal Clock,Eb,out on the bridge\n")
    assert said(found) == "First: Moth=F; Tidal Clock=Eb"
    assert [line.took.value for line in found.lines] == ["column names", "song", "set aside", "song"]


@pytest.mark.parametrize("note", ["in E now, not F", "IN E NOW", "now E", "now in E: Jo has a cold"])
def test_a_note_that_names_the_key_of_now_replaces_the_old_key_in_doubt(note: str) -> None:
    found = read(f'Song,Key,Notes\nMoth,F,"{note}"\nWeeds,Bb,now or never\nTidal Clock,Eb,\n')
    assert said(found) == "First: Moth=E; Weeds=Bb; Tidal Clock=Eb"
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Is 'Moth' in E?"]


def test_numbers_of_a_pad_aligned_at_the_right_are_a_column_though_headings_cross_it() -> None:
    songs = ("Chandelier Hop", "No Ties", "Peg Leg", "Vinegar", "Icebox", "Moth", "Weeds", "Fog", "Late Tram", "Owl")
    pads = (114, 22, 87, 203, 9, 151, 60, 118, 31, 4)
    lines = [f" {pad:3}  {song:25}  4:1{at}\n" for at, (pad, song) in enumerate(zip(pads, songs, strict=True))]
    heading = " Set {}                           {}\n"
    text = heading.format("I", "Set total 38:10") + "".join(lines[:5]) + heading.format("II", "5 songs")
    found = list_in(f"{text}{''.join(lines[5:])}".encode(), "list.txt")
    assert said(found) == f"First: {'; '.join(songs[:5])} | Second: {'; '.join(songs[5:])}"


def test_a_key_named_in_the_notes_is_the_songs_where_no_column_gives_one() -> None:
    found = read(
        'Song,Length,Notes\nMoth,3:10,\nWeeds,4:00,"vocal Denise, key Eb"\nTidal Clock,3:40,out in the bridge\n'
    )
    assert said(found) == "First: Moth; Weeds=Eb; Tidal Clock"
