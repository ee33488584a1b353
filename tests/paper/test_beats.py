"""The beats of uneven bars, read back from the printed page by programs that did not write it.

A bar whose chords have unequal shares shows every beat: the chord on its first one, a slash on each of the others.
Where the chords share a bar evenly no beat is written (3.3 of the trade's chart signs: common practice, no source).
"""

import math
from pathlib import Path

import pytest
from examples import examples, seldom
from hypothesis import given, settings
from hypothesis import strategies as st
from paper.readers_back import bars_of, cut_letters, outside, overlapping, pages_of, poppler_words

from companion.paper import Paper, PrintJob, Sheet, print_show
from companion.paper.bar_row import spread

UNEVEN = {  # meter: (as written in the show file, as a player reads it), all by hand
    "4/4": [
        ("Cmaj7... G7.", "Cmaj7 / / G7"),
        ("Am7... D/F#.", "Am7 / / D/F♯"),
        ("C. G...", "C G / /"),
        ("Dm7.. G7. C.", "Dm7 / G7 C"),
        ("Dm7. G7.. C.", "Dm7 G7 / C"),
        ("Dm7. G7. C..", "Dm7 G7 C /"),
        ("F#m7b5... B7b9.", "F♯m7♭5 / / B7♭9"),
        ("Ebmaj7#11. Bb...", "E♭maj7♯11 B♭ / /"),
        ("E/G#... A.", "E/G♯ / / A"),
        ("E/G#. A...", "E/G♯ A / /"),
        ("A.. D. E.", "A / D E"),
        ("<A... D.", "<A / / D"),
        ("A... <D.", "A / / <D"),
        ("<E/G#>... A.", "E/G♯ / / A"),
        ("<D>.. A. E.", "D / A E"),
        ("G... D^.", "G / / D^"),
        ("N.C.... G7.", "N.C. / / G7"),
        ("Bb13.. Ab13. G13.", "B♭13 / A♭13 G13"),
        ("Gm7/Bb... C7sus4.", "Gm7/B♭ / / C7sus4"),
        ("C. Em. Am..", "C Em Am /"),
        ("C / / G", "C / / G"),
        ("C / G G/B", "C / G G/B"),
        ("C#m7... F#7.", "C♯m7 / / F♯7"),
        ("in 2/4 C G", "2/4 C G"),
        ("in 3/4 C.. G.", "3/4 C / G"),
        ("in 5/4 Dm7... G7..", "5/4 Dm7 / / G7 /"),
        ("in 6/4 Dm7.... G7..", "6/4 Dm7 / / / G7 /"),
    ],
    "3/4": [
        ("C.. G.", "C / G"),
        ("C. G..", "C G /"),
        ("Abmaj7.. Eb/G.", "A♭maj7 / E♭/G"),
        ("in 4/4 C... G.", "4/4 C / / G"),
    ],
    "2/4": [("in 3/4 C.. G.", "3/4 C / G")],
    "5/4": [
        ("Dm... G..", "Dm / / G /"),
        ("Dm.. G...", "Dm / G / /"),
        ("Dm.... G.", "Dm / / / G"),
        ("Bbmaj7.. F/A.. Gm7.", "B♭maj7 / F/A / Gm7"),
    ],
    "6/8": [
        ("C.... G..", "C / / / G /"),
        ("C..... G.", "C / / / / G"),
        ("C... Dm. Em..", "C / / Dm Em /"),
        ("in 9/8 C.. G.", "9/8 C / G"),
    ],
    "12/8": [
        ("C... G.", "C / / G"),
        ("C. G...", "C G / /"),
        ("Ebmaj7.. Bb/D. Cm7.", "E♭maj7 / B♭/D Cm7"),
        ("C.......... G..", "C / / / / / / / / / G /"),
    ],
    "7/8": [
        ("Dm.... G...", "Dm / / / G / /"),
        ("Dm7... G7....", "Dm7 / / G7 / / /"),
        ("Dm.. Em.. F...", "Dm / Em / F / /"),
    ],
    "9/8": [("C.. G.", "C / G"), ("C....... G..", "C / / / / / / G /")],
    "6/4": [("C.... G..", "C / / / G /")],
}
EVEN = {
    "4/4": [("Cmaj7 G7", "Cmaj7 G7"), ("C G Am F", "C G Am F"), ("C.. G..", "C G"), ("C", "C")],
    "3/4": [("C G Am", "C G Am")],
    "6/8": [("C G", "C G"), ("C. G.", "C G")],
    "12/8": [("C G", "C G"), ("C G Am F", "C G Am F")],
    "7/8": [("Dm", "Dm")],
    "5/4": [("C D E F G", "C D E F G")],
}
TOGETHER = [(meter, cases) for table in (UNEVEN, EVEN) for meter, cases in table.items()]


def printed(tmp_path: Path, meter: str, lines: list[str], paper: Paper = Paper.A4) -> Path:
    """Print a song with a section for each line."""
    sections = "".join(f"      - {{section: Verse {n}, chords: '{line}'}}\n" for n, line in enumerate(lines))
    show = tmp_path / "show.yaml"
    show.write_text(f"show: Pier\nsongs:\n  - title: Moth\n    meter: {meter}\n    road_map:\n{sections}", "utf-8")
    print_show(show, PrintJob((Sheet.CHARTS,), paper), tmp_path / "beats.pdf")
    return tmp_path / "beats.pdf"


def read_back(path: Path) -> list[str]:
    """Return the bars of all pages in order, each as a player reads it; check that no letters overlap."""
    for page in pages_of.__wrapped__(path):
        assert outside(page, edge=18) == []
        assert list(overlapping(page, by=0.05)) == []
    return [" ".join(bar.words) for page in bars_of(path) for bar in page]


@pytest.mark.parametrize("paper", [Paper.A4, seldom(Paper.LETTER)])
@pytest.mark.parametrize(("meter", "cases"), TOGETHER)
def test_every_beat_of_an_uneven_bar_is_printed(
    tmp_path: Path, meter: str, cases: list[tuple[str, str]], paper: Paper
) -> None:
    path = printed(tmp_path, meter, [line for line, _read in cases], paper)
    assert read_back(path) == [read for _line, read in cases]


@pytest.mark.parametrize(("meter", "cases"), TOGETHER)
def test_a_bar_alone_on_its_page_shows_its_beats_in_the_largest_letters(
    tmp_path: Path, meter: str, cases: list[tuple[str, str]]
) -> None:
    songs = "".join(
        f"  - {{title: Moth {n}, meter: {meter}, road_map: [{{section: Verse, chords: '{line}'}}]}}\n"
        for n, (line, _read) in enumerate(cases)
    )
    (tmp_path / "show.yaml").write_text(f"show: Pier\nsongs:\n{songs}", "utf-8")
    print_show(tmp_path / "show.yaml", PrintJob((Sheet.CHARTS,)), tmp_path / "beats.pdf")
    assert read_back(tmp_path / "beats.pdf") == [read for _line, read in cases]


@pytest.mark.parametrize("paper", [Paper.A4, seldom(Paper.LETTER)])
@pytest.mark.parametrize(("meter", "cases"), TOGETHER)
def test_bars_in_one_row_are_widened_so_that_every_beat_has_room(
    tmp_path: Path, meter: str, cases: list[tuple[str, str]], paper: Paper
) -> None:
    path = printed(tmp_path, meter, [" | ".join(line for line, _read in cases)], paper)
    assert read_back(path) == [read for _line, read in cases]


@pytest.mark.parametrize("meter", ["4/4", "6/8"])
@pytest.mark.parametrize(
    "chord", ["E/G#", "D", "Ebmaj7#11/Bb", "N.C.", "C#m7b5", "1", "4maj7/6", "b7", "6-/5", "F#7b5#5b9#9#11b13/A#"]
)
def test_a_diamonds_strokes_touch_no_letter(tmp_path: Path, chord: str, meter: str) -> None:
    line = (
        f"<{chord}> | % | <{chord}>.... {chord}.. | <<{chord}> {chord}^"
        if meter == "6/8"
        else f"<{chord}> | (<{chord}>)"
    )
    path = printed(tmp_path, meter, [line])
    read_back(path)
    assert cut_letters(path) == []


def test_hits_stand_under_the_beats_of_their_bar(tmp_path: Path) -> None:
    """The count under a hit is where the chord or slash of that beat is, however the bar was widened."""
    show = tmp_path / "show.yaml"
    show.write_text(
        "show: Pier\nsongs:\n  - title: Moth\n    road_map:\n"
        "      - {section: Verse, chords: 'Ebmaj7#11... G7. | C | D. A... | G', hits: 'bar 1 4 | bar 3 2, 3'}\n",
        encoding="utf-8",
    )
    print_show(show, PrintJob((Sheet.CHARTS,)), tmp_path / "hits.pdf")
    (words,) = poppler_words(tmp_path / "hits.pdf")
    bars = [bar for bar in bars_of(tmp_path / "hits.pdf")[0] if bar.words]  # stems of hits hold no words
    assert [bar.words for bar in bars] == [("E♭maj7♯11", "/", "/", "G7"), ("C",), ("D", "A", "/", "/"), ("G",)]
    counts = {word.text: word.left for word in words if word.top > bars[0].bottom - 2 and word.text in "234"}
    row = [word for word in words if bars[0].top < (word.top + word.bottom) / 2 < bars[0].bottom]
    beats = [word.left for word in row if word.text[0] in "GA/" and word.left > bars[0].left]
    assert counts["4"] == pytest.approx(beats[2], abs=0.1)  # under G7
    assert counts["2"] == pytest.approx(beats[3], abs=0.1)  # under A
    assert counts["3"] == pytest.approx(beats[4], abs=0.1)  # under the slash after it


@given(st.lists(st.floats(0.5, 50), min_size=1, max_size=12), st.floats(0.2, 3.0) | st.just(1.0))
def test_spare_width_is_distributed_completely(least: list[float], times: float) -> None:
    room = sum(least) * times
    widths = spread(least, room)
    assert sum(widths) == pytest.approx(room)
    if times >= 1:
        assert all(width >= one * 0.999 for width, one in zip(widths, least, strict=True))


def test_width_short_by_a_rounding_error_is_still_distributed() -> None:
    least = [4.5, 4.0, 0.6, 3.8]
    assert spread(least, math.nextafter(sum(least), math.inf)) == pytest.approx(least)


ROOTS = st.sampled_from(["C", "F#", "Bb", "Eb", "G"])
KINDS = st.sampled_from(["", "m", "maj7", "m7b5", "7#9", "13"])
BASSES = st.sampled_from(["", "", "/E", "/G#"])
SIGNS = str.maketrans({"b": "♭", "#": "♯"})
BEATS = {"4/4": 4, "3/4": 3, "5/4": 5, "7/8": 7, "6/4": 6, "2/4": 2}


@st.composite
def bar_in(draw: st.DrawFn, beats: int) -> tuple[str, str]:
    """Draw a bar of this many beats: as written, and as a player reads it by the rule at the top."""
    shares: list[int] = []
    while sum(shares) < beats:
        shares.append(draw(st.integers(1, beats - sum(shares))))
    chords = [draw(ROOTS) + draw(KINDS) + draw(BASSES) for _share in shares]
    chords = [chord.removesuffix("/E") if chord.startswith("E/") else chord for chord in chords]
    written = " ".join(chord + "." * share for chord, share in zip(chords, shares, strict=True))
    even = len(set(shares)) == 1
    read = [
        " ".join([chord.translate(SIGNS), *([] if even else ["/"] * (share - 1))])
        for chord, share in zip(chords, shares, strict=True)
    ]
    return written, " ".join(read)


@settings(max_examples=examples(25), deadline=None)
@given(st.data(), st.sampled_from(sorted(BEATS)), st.sampled_from(Paper))
def test_any_printed_beats_read_back_as_written(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject, meter: str, paper: Paper
) -> None:
    bars = data.draw(st.lists(bar_in(BEATS[meter]), min_size=1, max_size=6))
    path = printed(tmp_path_factory.mktemp("beats"), meter, [" | ".join(line for line, _read in bars)], paper)
    assert read_back(path) == [read for _line, read in bars]
