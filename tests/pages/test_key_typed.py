"""A key typed on a page moves the letters with it: the same edits as where the band leader names the key in a reply."""

from pathlib import Path

import pytest
from examples import seldom

from companion.edits import applied
from companion.leader.answers import LeaderAnswer
from companion.leader.landing_answers import edits_of
from companion.pages.desk import ShowDesk
from companion.pages.song_fields import FIELDS, edits_for

ROOT = Path(__file__).resolve().parents[2]
LETTERS = """\
show: Mill
sets:
  - set: First
    songs:
      - {title: Tram Home, key: D, road_map: "Intro 4 | D A, Verse 8 in E | E B"}
      - title: Herring Waltz
        key: Gm
        notes: up to Am
        chords_in: Am
        road_map:
          - {section: Verse, bars: 8, chords: Am Dm}
          - Chorus 4 in Bm | Bm, Bridge 4 in C | C
          - {section: Outro, bars: 8, key: Em, chords: Em}
      - Moth
      - {use: "book.yaml#lamplighter", key: A}
      - {use: "book.yaml#lamplighter", key: A, road_map: Verse 8 in B | B E}
      - use: book.yaml#lamplighter
  - set: Second
    songs:
      - {title: Tram Home, key: Eb, road_map: Verse 8 | Eb Ab}
"""
BOOK = """\
lamplighter:
  title: Lamplighter
  key: G
  notes: last chorus in A
  road_map: Verse 8 | G C D G, Chorus 8 in A | A D
"""


@pytest.mark.parametrize(
    ("name", "key"),
    [
        *(("letters", key) for key in ("A", "Bb", "F#m", "G")),
        ("pier-street", "Bb"),
        *(seldom("pier-street", key) for key in ("A", "F#m", "G")),
    ],
)
def test_a_key_typed_is_written_as_one_that_the_leader_names(tmp_path: Path, name: str, key: str) -> None:
    path = ROOT / "shows" / "pier-street.yaml"
    if name == "letters":
        path = tmp_path / "mill.yaml"
        path.write_text(LETTERS, encoding="utf-8")
        (tmp_path / "book.yaml").write_text(BOOK, encoding="utf-8")
    stack = ShowDesk(path, tmp_path / "kept").look()
    moved = 0
    for song in stack.songs:
        now = FIELDS["key"].shown(song.song)
        typed = edits_for(stack, song, FIELDS["key"], key, now)
        answer = LeaderAnswer("key", key, song.set_at, song.song_at, song.song.title)
        wanted = () if key == now else edits_of(stack.file, [answer])
        assert typed == wanted
        moved += len(typed) > 1
    assert moved  # letters stood beside a key


def test_a_key_typed_moves_the_keys_of_sections_in_a_map_of_one_line(tmp_path: Path) -> None:
    path = tmp_path / "mill.yaml"
    path.write_text(LETTERS, encoding="utf-8")
    (tmp_path / "book.yaml").write_text(BOOK, encoding="utf-8")
    stack = ShowDesk(path, tmp_path / "kept").look()
    after = applied(LETTERS, edits_for(stack, stack.songs[0], FIELDS["key"], "A", "D"))
    assert '{title: Tram Home, key: A, road_map: "Intro 4 | D A, Verse 8 in B | E B", chords_in: D}' in after
    after = applied(LETTERS, edits_for(stack, stack.songs[1], FIELDS["key"], "F#m", "Gm"))
    assert "notes: up to Am (written in Gm)" in after
    assert "- Chorus 4 in Bbm | Bm, Bridge 4 in B | C" in after
