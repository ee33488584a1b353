"""Keys spelt out before a sentence, a lone dot for a leader, headings in lists without empty lines (invented lists)."""

import pytest

from companion.setlist.list_reading import list_in

KEYS = {
    "a sentence behind a key in words": (
        "1) Rust Bucket, in F\n2) Kettle, Kettle, in E flat. Slow\n3) Bridge, in F sharp minor. Wait\n4) Fog, in G\n",
        "Rust Bucket=F; Kettle, Kettle=Eb; Bridge=F#m; Fog=G",
    ),
    "one dot where a long title leaves no room": (
        "RUST BUCKET........G\nPAPER TRAM.........Dm\nFOG BELL...........A\nONE MORE LONG KETTLE.C\n",
        "RUST BUCKET=G; PAPER TRAM=Dm; FOG BELL=A; ONE MORE LONG KETTLE=C",
    ),
    "a title with a word for a remark and an article": (
        "ANN   Rust Bucket   Eb\nTOM   Paper Tram   G\nBOTH   Half a Duet   D   up a tone\nANN   Fog Bell   A\n",
        "Rust Bucket=Eb; Paper Tram=G; Half a Duet=D; Fog Bell=A",
    ),
}


@pytest.mark.parametrize(("text", "songs"), KEYS.values(), ids=KEYS)
def test_titles_and_keys(text: str, songs: str) -> None:
    found = list_in(text.encode(), "list.txt").show.sets
    assert "; ".join(f"{song.title}={song.key}" for one in found for song in one.songs) == songs


def test_several_lines_without_number_and_key_head_sets_in_doubt() -> None:
    text = (
        "Opening\n1. Rust Bucket (G)\n2. Paper Tram (D)\n3. Fog Bell (A)\nHot soup\n4. Grey Hen (C)\n5. Bridge (F)\n"
        "Wild end bit\n6. Last Bus (E)\n7. Jam Jar (D)\n"
    )
    found = list_in(text.encode(), "list.txt")
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [
        ("Opening", 3),
        ("Hot soup", 2),
        ("Wild end bit", 2),
    ]
    assert sum(bool(line.doubts) for line in found.lines) >= 2
