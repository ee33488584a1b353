"""The key of a song that begins the sentence below its title."""

import pytest
from setlist.reading_texts import read

TITLES = ("Moth Parade", "Weeds Again", "Owl Walk", "Late Tram")


def keys_below(*notes: str) -> list[tuple[str | None, str | None]]:
    found = read(
        "\n".join(
            f"{at}  {title}\n   {note}" for at, (title, note) in enumerate(zip(TITLES, notes, strict=True), start=1)
        )
    )
    return [(str(song.key) if song.key else None, song.notes) for one in found.show.sets for song in one.songs]


def test_a_key_in_words_begins_the_note() -> None:
    assert keys_below(
        "B minor. Piano in octaves.", "E major.", "F sharp minor. Brushes.", "B flat major; last one up"
    ) == [
        ("Bm", "Piano in octaves."),
        ("E", None),
        ("F#m", "Brushes."),
        ("Bb", "last one up"),
    ]


@pytest.mark.parametrize(
    ("note", "key"),
    [("fis-Moll. Leise.", None), ("Fis-Moll. Leise.", "F#m"), ("Es-Dur. Orgel bitte.", "Eb"), ("Bbm. Slow", "Bbm")],
)
def test_a_key_in_other_spellings_begins_the_note(note: str, key: str | None) -> None:
    keys = keys_below("G-Dur. Zart.", note, "C-Dur. Laut.", "H-Moll. Schnell.")
    assert keys[0] == ("G", "Zart.")
    assert key is None or keys[1][0] == key


def test_letters_begin_several_notes_and_are_asked_about() -> None:
    found = read(
        "\n".join(
            f"{at}  {title}\n   {key}. Keep it small."
            for at, (title, key) in enumerate(zip(TITLES, "GDEF", strict=True), start=1)
        )
    )
    assert [str(song.key) for song in found.show.sets[0].songs] == ["G", "D", "E", "F"]


def test_an_initial_begins_no_key() -> None:
    assert keys_below("A. Ferris sings here.", "slow one", "Brushes please.", "Big ending.")[0][0] is None
