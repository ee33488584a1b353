"""Keys in a column of their own that the first reading of a picture leaves out are taken from a second one."""

import pytest

from companion.setlist.list_reading import list_of_words
from companion.setlist.readers.second_look import lacks_keys, with_keys

Word = tuple[int, int, str, float]  # left, top, the word, how sure it is in per cent


def words(*said: Word) -> bytes:
    """Return words of one height, each line of them at one place from the top, as the program writes them."""
    tops = sorted({top for _, top, _, _ in said})
    rows = [
        f"5\t1\t1\t1\t{tops.index(top)}\t1\t{left}\t{top}\t{20 * len(word)}\t30\t{sure}\t{word}"
        for left, top, word, sure in said
    ]
    return "\n".join(["level\tpage", *rows, ""]).encode()


TITLES: list[Word] = [
    (100, 100, "Lanterns-over-the-Mill", 96),
    (100, 180, "Mortar", 96),
    (100, 260, "Polka", 95),
    (100, 340, "Wren", 95),
]


def test_keys_that_only_the_second_reading_finds_are_taken() -> None:
    second = words(*TITLES, (900, 100, "Eb", 97), (900, 180, "F", 92), (900, 260, "B", 91), (930, 260, "flat", 95))
    found = list_of_words(with_keys(words(*TITLES), second), "list.png")
    songs = found.show.sets[0].songs
    assert [(song.title, song.key and str(song.key)) for song in songs] == [
        ("Lanterns-over-the-Mill", "Eb"),
        ("Mortar", "F"),
        ("Polka", "Bb"),
        ("Wren", None),
    ]


@pytest.mark.parametrize(
    ("word", "taken"),
    [("8b", b"Bb"), ("Arn", b"Am"), ("c", b"C"), ("(Gm)", b"(Gm)"), ("Waltz", b""), ("H1", b""), ("~", b"")],
)
def test_only_keys_are_taken_from_the_second_reading(word: str, taken: bytes) -> None:
    first = words(*TITLES)
    found = with_keys(first, words((900, 100, word, 80)))
    assert found[len(first) :].strip().rpartition(b"\t")[2] == taken


def test_a_key_is_not_taken_where_the_first_reading_has_a_word_or_the_second_is_unsure() -> None:
    first = words(*TITLES)
    assert with_keys(first, words((110, 105, "A", 95), (900, 180, "G", 39))) == first
    assert with_keys(first, b"5\t1\t1\t1\t1\t1\tx\t1\t1\t1\t90\tG\n5\t1\n") == first


def test_no_second_reading_is_needed_where_half_of_the_lines_end_in_a_key() -> None:
    keyed = [(500, top, key, 95.0) for top, key in ((100, "Eb"), (180, "F"))]
    assert not lacks_keys(words(*sorted([*TITLES, *keyed], key=lambda one: (one[1], one[0]))))
    assert lacks_keys(words(*TITLES, (500, 100, "Song", 95)))
