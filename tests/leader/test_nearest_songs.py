"""The last check of who owns a fact doubts a value whose words stand nearer to another song."""

import pytest
from leader.reply_shape import PIER, TODAY, in_sets

from companion.leader.line_scanner import LineScanner
from companion.leader.nearest_songs import with_owners_doubted
from companion.leader.settled_claims import SettledClaim
from companion.leader.songs_meant import SongNames
from companion.setlist import Notation

NAMES = SongNames(PIER)
SCANNER = LineScanner(NAMES, TODAY, Notation.LETTERS)
TWO_SONGS = [
    ("1 in G, 2 in D", "key", ("G", "D")),
    ("Number one is in G and finish it with a nice rit. Number two fades", "ending", ("ritard", "fade")),
    ("drums start 1. Old Canal Road starts with the bass", "starts_with", ("drums", "bass")),
    ("1 in D, 104 bpm, cold. 2 in D, 96 bpm", "tempo", (104, 96)),
    ("Gasworks Corner: E, then number two A minor", "key", ("E", "Am")),
]


def _claim(field: str, value: str | int, place: int, line: str) -> SettledClaim:
    set_at, song_at, song = NAMES.songs[place]
    return SettledClaim(field, value, set_at, song_at, song.title, line=line)


@pytest.mark.parametrize(("text", "field", "values"), TWO_SONGS)
def test_a_value_lands_without_a_doubt_only_for_the_song_that_its_words_stand_by(
    text: str, field: str, values: tuple[str | int, str | int]
) -> None:
    lines = [SCANNER.scan(text, None)]
    first, second = values
    right = [_claim(field, first, 0, text), _claim(field, second, 1, text)]
    assert [*with_owners_doubted(right, lines, NAMES)] == right
    exchanged = [_claim(field, second, 0, text), _claim(field, first, 1, text)]
    assert [one.doubt for one in with_owners_doubted(exchanged, lines, NAMES)] == [text, text]


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("1, 2 and 4 in G", (0, 1, 3)),
        ("1 to 3 all in G", (0, 1, 2)),
        ("1 is in G and so is 4", (0, 3)),
        ("all in G", (0, 7)),
        ("second set: 1 G", (4,)),
        ("G for 1, D for 2", (0,)),
        ("G", (2,)),  # below a question about a song
    ],
)
def test_songs_named_together_or_on_another_line_own_a_value_alike(text: str, places: tuple[int, ...]) -> None:
    claims = [_claim("key", "G", place, text) for place in places]
    assert [*with_owners_doubted(claims, [SCANNER.scan(text, None)], NAMES)] == claims


def test_a_word_that_may_be_of_a_title_is_asked() -> None:
    clay = SongNames(in_sets("Kiln", First=("Moth", "Drums of Clay")))
    text = "1 drums"
    claim = SettledClaim("starts_with", "drums", 0, 0, "Moth", line=text)
    lines = [LineScanner(clay, TODAY, Notation.LETTERS).scan(text, None)]
    assert [bool(one.doubt) for one in with_owners_doubted([claim], lines, clay)] == [True]


@pytest.mark.parametrize(
    ("text", "own", "other"),
    [
        ("1 G 2 D 3 A", 1, 2),  # in the order of the line
        ("G 1 D 2 A 3", 1, 0),
        ("1 is in G, drums start 2", 1, 0),
        ("1. G, 2. D, 3. A", 1, 2),
    ],
)
def test_between_two_songs_the_order_of_the_line_decides(text: str, own: int, other: int) -> None:
    line = SCANNER.scan(text, None)
    field, value = ("starts_with", "drums") if "drums" in text else ("key", "D")
    right, wrong = (_claim(field, value, place, text) for place in (own, other))
    assert [bool(one.doubt) for one in with_owners_doubted([right, wrong], [line], NAMES)] == [False, True]
