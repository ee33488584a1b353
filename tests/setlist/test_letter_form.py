"""Letters around a list, names above tables, fields parted by slashes, a time in one title (invented lists)."""

from companion.setlist.list_reading import list_in


def songs_of(text: str, name: str = "list.txt") -> list[str]:
    found = list_in(text.encode(), name)
    return [f"{song.title}={song.key}" for one in found.show.sets for song in one.songs]


def test_an_address_and_a_close_in_any_language_are_no_songs() -> None:
    text = "Gentile Dora,\n\nMoth Parade - C\nWeeds - D\nTidal Clock - G\n\nCordiali saluti,\nLa Direzione\n"
    assert songs_of(text) == ["Moth Parade=C", "Weeds=D", "Tidal Clock=G"]


def test_a_slash_between_tempo_and_key_parts_them_from_the_title() -> None:
    assert songs_of("Moth 128/G\nWeeds 104/D\nTidal Clock 76/Em\n") == ["Moth=G", "Weeds=D", "Tidal Clock=Em"]


def test_a_slash_behind_the_key_parts_it_from_words() -> None:
    text = "Moth Parade Db / slow swing\nWeeds C / only if asked\nTidal Clock Bm / rubato intro\n"
    assert songs_of(text) == ["Moth Parade=Db", "Weeds=C", "Tidal Clock=Bm"]


def test_a_time_that_one_title_alone_ends_in_belongs_to_it() -> None:
    text = "Moth Parade (C)\nTram at 6:15 (G)\nWeeds (D)\nFog Bell (A)\n"
    assert songs_of(text) == ["Moth Parade=C", "Tram at 6:15=G", "Weeds=D", "Fog Bell=A"]


def test_a_line_above_each_table_heads_its_songs() -> None:
    text = (
        "## Ceremony\n\n| # | Song | Key |\n|---|---|---|\n| 1 | Moth | D |\n| 2 | Weeds | G |\n\n"
        "## Evening\n\n| # | Song | Key |\n|---|---|---|\n| 1 | Tidal | C |\n| 2 | Fog Bell | A |\n"
    )
    assert [one.name for one in list_in(text.encode(), "list.md").show.sets] == ["Ceremony", "Evening"]


def test_a_column_that_asks_says_what_is_played() -> None:
    text = "Song,Key,Sat?\nMoth,C,x\nWeeds,D,\nTidal,G,x\nFog Bell,A,x\n"
    assert songs_of(text, "list.csv") == ["Moth=C", "Tidal=G", "Fog Bell=A"]
