"""Lines with a title, its key and so many words behind it that they look like notes (invented lists)."""

import pytest

from companion.setlist.list_reading import list_in

LINES = {
    "in brackets, in syllables": (
        "Vieux Tram (sol)\nPoule Grise (do)\nChien Mouillé (ré) on accélère à la fin !!\nPont Bas (fa)\n",
        "Vieux Tram=G; Poule Grise=C; Chien Mouillé=D; Pont Bas=F",
    ),
    "a comma behind the bracket": (
        "Rust Bucket (G)\nPaper Tram (D)\nAin't No Kettle (Am), not a slow one, eight bars of minor\nFog (E)\n",
        "Rust Bucket=G; Paper Tram=D; Ain't No Kettle=Am; Fog=E",
    ),
    "words that name the key": (
        "rust - key of g\ntram - key of d\nkettle - key of a minor (yes) organ\nfog - key of f??\nmoth - key of d\n",
        "rust=G; tram=D; kettle=Am; fog=F; moth=D",
    ),
    "a sentence behind the key": (
        "Rust Bucket in G\nPaper Tram in D\nOld Kettle in A. organ solo two times round\nGrey Hen in C\nFog in E\n",
        "Rust Bucket=G; Paper Tram=D; Old Kettle=A; Grey Hen=C; Fog=E",
    ),
}


@pytest.mark.parametrize(("text", "songs"), LINES.values(), ids=LINES)
def test_words_behind_a_key_make_no_note_of_a_song(text: str, songs: str) -> None:
    found = list_in(text.encode(), "list.txt").show.sets
    assert "; ".join(f"{song.title}={song.key}" for one in found for song in one.songs) == songs


def test_the_words_behind_the_key_are_kept() -> None:
    text = "rust bucket - key of g\npaper tram - key of d\nkettle - key of a, quiet bit, you rest\nfog - key of e\n"
    song = list_in(text.encode(), "list.txt").show.sets[0].songs[2]
    assert "quiet bit" in (song.notes or "")


def test_a_note_that_names_a_key_stays_a_note() -> None:
    text = "Rust Bucket in G\nPaper Tram in D\nOld Kettle in A\nkey change to B. all sing\nFog in E\n"
    assert [song.title for song in list_in(text.encode(), "list.txt").show.sets[0].songs] == [
        "Rust Bucket",
        "Paper Tram",
        "Old Kettle",
        "Fog",
    ]
