"""Keys in a run are those of the songs named before them, or of the songs in the order of the message."""

import pytest
from leader.reply_shape import TODAY, in_sets

from companion.leader.answers import read_answers

SHOW = in_sets("Quay", **{"First Half": ("Moth", "Kettle", "Lantern"), "Second Half": ("Owl Hour", "Nettle")})


def keys(text: str) -> tuple[str, bool]:
    """Return the keys of the songs in order, and whether any of them is in doubt."""
    found = [one for one in read_answers(text, SHOW, today=TODAY).found if one.field == "key"]
    said = {(one.set_at, one.song_at): str(one.value) for one in found}
    songs = [(at, index) for at, one in enumerate(SHOW.sets) for index in range(len(one.songs))]
    return " ".join(said.get(song, "-") for song in songs), any(one.doubt for one in found)


# How people write it; no source.
@pytest.mark.parametrize(
    ("text", "landed", "is_doubted"),
    [
        ("Keys 1 through 3: Eb, F, Gm. Keys 4 through 5: Am, C.", "Eb F Gm Am C", False),
        ("Keys 1 through 3: Eb, F, Gm. Keys 4 through 5: tbc, C.", "Eb F Gm - C", True),
        ("2nd half, in order: D, waltz in C. 1 - 3: G, Em, A minor", "G Em Am D C", True),
        ("D - G - Am en dan na de pauze F - Bes", "D G Am F Bb", True),
        ("Te paso la lista por orden: Am, Em, C. Second half: F, Bb.", "Am Em C F Bb", False),
        ("D, G, Am, F, Bb in that order", "D G Am F Bb", False),
        ("D G Am / F Bb, that's all 5 in order. ta", "D G Am F Bb", False),
        ("D G Am / F Bb, that's all 6 in order. ta", "D G Am F Bb", True),
    ],
)
def test_keys_in_a_run_land(text: str, landed: str, is_doubted: bool) -> None:  # noqa: FBT001
    assert keys(text) == (landed, is_doubted)


@pytest.mark.parametrize(
    "text", ["for Jo: D, G, A, E", "Second half: D, G, A", "1 to 4: D, G", "D, G, A, 7 songs, E, F"]
)
def test_keys_that_do_not_fit_the_songs_are_not_shared_out(text: str) -> None:
    found, is_doubted = keys(text)
    assert is_doubted or found.count("-") >= 3


def test_words_beside_the_keys_of_a_run_stay() -> None:
    answers = read_answers("D - G - Am zorp - F - Bb", SHOW, today=TODAY)
    assert any("zorp" in one.words for one in answers.left)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("1 a-molli", "Am"),  # Finnish
        ("1 menee fis-mollissa", "F#m"),
        ("Moth B-duuri", "Bb"),
        ("1 Fiss-moll", "F#m"),  # Swedish
        ("1 mi bemoll major", "Eb"),  # Catalan
        ("Moth rem, Kettle lam", "Dm"),  # French, in a text message
        ("Moth am, Kettle dm", "Am"),  # Polish, in a text message
        ("number 1 gee number 2 ee minor", "G"),  # as a telephone writes letters down
        ("Moth dee flat", "Db"),
    ],
)
def test_keys_of_more_countries_are_read(text: str, key: str) -> None:
    assert keys(text)[0].split()[0] == key


# How people write it; no source.
@pytest.mark.parametrize(
    ("text", "landed"),
    [
        ("It's the reels, it's all in E. Except Kettle which is A and Nettle which is C minor.", "E A E E Cm"),
        ("C for all of them dear, except 2 and 5 which Beryl likes in F", "C F C C F"),
        ("kaikki C-duurissa paitsi 2", "C - C C C"),
        ("Moth - G. Kettle - D. Lantern - same as Kettle. Nettle - A", "G D D - A"),
    ],
)
def test_a_key_of_all_songs_with_exceptions_lands(text: str, landed: str) -> None:
    assert keys(text)[0] == landed
