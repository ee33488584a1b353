"""The section's chord line, where the player wants it."""

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from screen.nights import Night, seeds
from screen.test_layout import PAGES, overlap
from view.test_view import after, book_of, shown, song

from companion.music import read_key
from companion.screen.layout import lay_out
from companion.screen.page import PageSize, page_of
from companion.screen.screen_fonts import typeface
from companion.show import Section
from companion.stage import KeyUp, Next, Surroundings
from companion.view import Detail, LineMark, LineRole, Looks, Picture, View, ViewLine, key_pressed, text_lines, view
from companion.view.chord_bars import bars_of

CHORDS = "1 | 5/7 | 6- | 4 | 1 | 5/7 | 4 | 5"
BOOK = book_of(song(Section("Verse", 8, chords=CHORDS), Section("Chorus", 8)))
TITLE = BOOK.songs[0].song.title


@pytest.mark.parametrize("detail", list(Detail))
def test_chords_are_shown_at_every_level_of_detail_once_requested(detail: Detail) -> None:
    state = after(BOOK, Next)
    looks = key_pressed(Looks(details=((TITLE, detail),)), "k", 0)
    assert looks is not None
    assert shown(view(state, Surroundings(), looks), LineRole.CHORDS) == [CHORDS]
    again = key_pressed(looks, "k", 0)
    assert again is not None
    if detail is not Detail.EVERYTHING:
        assert not shown(view(state, Surroundings(), again), LineRole.CHORDS)


def test_showing_chords_leaves_the_other_words_alone() -> None:
    state = after(BOOK, Next)
    looks = Looks(details=((TITLE, Detail.FORM),))
    without = view(state, Surroundings(), looks).lines
    seen = view(state, Surroundings(), Looks(details=looks.details, chords=True)).lines
    assert tuple(line for line in seen if line.part is not LineRole.CHORDS) == without


pages = st.sampled_from(PAGES).map(lambda one: page_of(one[0], one[0], one[1], one[2]))
LINES = (
    CHORDS,
    "Cmaj7 F#m7b5 | Bb/D G7sus4 | Am7 Abdim7 | Gm7 C13 | Fmaj9 | Bb13#11 | Em7b5 A7alt | Dm9 G13",
    "1 | 4 || (5 | 6- 4) x3 || 1... 5. | " + " | ".join("1465" * 6),
    "C | F\nG | C",
)


def test_chords_are_there_without_being_asked_for_though_they_are_many() -> None:
    sixteen = " | ".join(("1", "4", "1", "5", "6-", "4", "1", "1") * 2)
    book = book_of(song(Section("Verse", 16, chords=sixteen, watch="drummer"), Section("Chorus", 8)))
    blocks = lay_out(view(after(book, Next), Surroundings()), page_of((1366, 768), (1366, 768), None, None), typeface())
    assert " ".join(block.text for block in blocks if block.part is LineRole.CHORDS) == sixteen


def with_chords(seed: int, chords: str) -> View:
    """Return a random page of a song that plays, with these chords."""
    night = Night(seed)
    lines = [line for line in night.view().lines if line.part is not LineRole.CHORDS]
    return View(Picture.PLAYING, (*lines, ViewLine(LineRole.CHORDS, chords, if_room=True)))


@settings(max_examples=examples(200), deadline=None)
@given(seeds, pages, st.sampled_from(LINES[:3]))
def test_no_other_word_goes_or_shrinks_for_chords_that_nobody_asked_for(seed: int, page: PageSize, chords: str) -> None:
    seen = with_chords(seed, chords)
    without = View(seen.picture, tuple(line for line in seen.lines if not line.if_room))
    shown, before = (
        [(block.part, block.text, block.em_px, block.mark) for block in lay_out(one, page, typeface())]
        for one in (seen, without)
    )
    assert [one for one in shown if one[0] is not LineRole.CHORDS] == before
    rows = [text for part, text, _, _ in shown if part is LineRole.CHORDS]
    assert not rows or tuple(bar for row in rows for bar in bars_of(row)) == bars_of(chords), "whole bars, all of them"


def test_a_row_of_chords_never_ends_inside_a_bar() -> None:
    """Each bar of this line is two words: rows that are filled word by word end inside one."""
    upright = page_of((1080, 1920), (1080, 1920), None, None)
    line = View(Picture.PLAYING, (ViewLine(LineRole.SECTION, "Verse"), ViewLine(LineRole.CHORDS, LINES[1])))
    rows = [block.text for block in lay_out(line, upright, typeface()) if block.part is LineRole.CHORDS]
    assert len(rows) > 1
    assert tuple(bar for row in rows for bar in bars_of(row)) == bars_of(LINES[1])
    assert all(row.endswith("|") for row in rows[:-1])


def test_chords_that_do_not_fit_are_left_out_and_never_cut() -> None:
    page = page_of((1024, 600), (1024, 600), 222, 1.8)
    lines = (ViewLine(LineRole.SECTION, "Verse"), ViewLine(LineRole.CHORDS, " | ".join("17" * 100)))
    assert not [
        block for block in lay_out(View(Picture.PLAYING, lines), page, typeface()) if block.part is LineRole.CHORDS
    ]


def test_a_page_makes_room_for_chords_that_are_asked_for() -> None:
    """Whom to watch and a cue fill a small page; for chords that are asked for, its letters are smaller."""
    lines = (
        ViewLine(LineRole.SECTION, "Instrumental"),
        ViewLine(LineRole.NEXT, "Chorus", "next"),
        ViewLine(LineRole.TITLE, "Kettle on the Jetty"),
        ViewLine(LineRole.CUE, "voice and bass only, then all of us at once"),
        ViewLine(LineRole.WATCH, "drummer", "watch", mark=LineMark.GLASSES),
        ViewLine(LineRole.SOUND, "grand piano", mark=LineMark.TAPE),
    )
    page = page_of((1024, 600), (1024, 600), 222, 1.2)
    for if_room in (True, False):
        chords = ViewLine(LineRole.CHORDS, CHORDS, if_room=if_room)
        blocks = lay_out(View(Picture.PLAYING, (*lines, chords)), page, typeface())
        assert bool([block for block in blocks if block.part is LineRole.CHORDS]) is not if_room


def test_a_new_line_of_chords_is_a_phrase_and_not_a_shared_bar() -> None:
    assert chords_of(Section("Verse", 4, chords=LINES[3]), key="C") == ["C | F || G | C"]


def test_a_terminal_breaks_chords_at_bar_lines() -> None:
    seen = View(Picture.PLAYING, (ViewLine(LineRole.CHORDS, LINES[1]),))
    assert text_lines(seen, 52) == (
        "Cmaj7 F#m7b5 | Bb/D G7sus4 | Am7 Abdim7 | Gm7 C13 |",
        "Fmaj9 | Bb13#11 | Em7b5 A7alt | Dm9 G13",
    )


def test_a_section_without_chords_shows_none() -> None:
    assert not shown(view(after(BOOK, Next, Next), Surroundings(), Looks(chords=True)), LineRole.CHORDS)


@pytest.mark.parametrize("size", PAGES)
def test_a_chord_line_is_complete_and_never_too_small(
    size: tuple[tuple[int, int], float | None, float | None],
) -> None:
    page = page_of(size[0], size[0], size[1], size[2])
    blocks = lay_out(view(after(BOOK, Next), Surroundings(), Looks(chords=True)), page, typeface())
    chords = [block for block in blocks if block.part is LineRole.CHORDS]
    assert " ".join(block.text for block in chords) == CHORDS
    assert all(block.arcmin >= 20 for block in chords)
    assert not any(overlap(one, other) for one in chords for other in blocks if one is not other)


def chords_of(
    *sections: Section, steps: int = 1, up: int = 0, key: str = "A", chords_in: str = "", fingered_in: str = ""
) -> list[str]:
    named = {"key": key, "chords_in": chords_in, "fingered_in": fingered_in}
    book = book_of(song(*sections, **{name: read_key(one) for name, one in named.items() if one}))
    state = after(book, *[Next] * steps, *[KeyUp] * up)
    return shown(view(state, Surroundings(), Looks(chords=True)), LineRole.CHORDS)


VERSE = Section("Verse", 4, chords="A | D | E | F#m")


def test_letters_are_shown_in_the_key_of_tonight() -> None:
    chorus = Section("Chorus", 1, chords="Bm7")
    assert chords_of(VERSE, chorus, key="G", chords_in="A") == ["G | C | D | Em"]
    assert chords_of(VERSE, chorus, steps=2, key="G", chords_in="A") == ["Am7"]


@pytest.mark.parametrize(
    ("key", "fingered_in", "said"),
    [
        ("G", "", ["chords written in A, shown in G"]),
        ("G", "Bb", ["chords written in A, shown in B♭"]),
        ("G", "A", []),  # the hands play what is written
        ("A", "", []),
        ("A", "C", []),  # play C, and that is said already
    ],
)
def test_the_key_of_the_chords_is_shown_before_the_song_and_in_full_detail(
    key: str, fingered_in: str, said: list[str]
) -> None:
    named = {"key": key, "chords_in": "A", "fingered_in": fingered_in}
    book = book_of(song(VERSE, **{name: read_key(one) for name, one in named.items() if one}))
    everything = Looks(everything_until_ms=10**9)
    assert shown(view(after(book), Surroundings()), LineRole.NOTES) == said
    assert shown(view(after(book, Next), Surroundings(), everything), LineRole.NOTES) == said
    assert not shown(view(after(book, Next), Surroundings()), LineRole.NOTES)


def test_a_repeated_verse_shows_its_chords_even_in_a_new_key() -> None:
    road_map = (VERSE, Section("Verse", 4), Section("Verse", 4, key=read_key("Bb")), Section("Verse", 8))
    found = [chords_of(*road_map, steps=steps, key="A") for steps in (1, 2, 3, 4)]
    assert found == [["A | D | E | F♯m"], ["A | D | E | F♯m"], ["B♭ | E♭ | F | Gm"], []]


def test_the_shown_chords_follow_the_hands() -> None:
    """By hand, on a keyboard that cannot be tuned: a half step higher, and from fingers in C."""
    assert chords_of(VERSE, key="A", up=1) == ["B♭ | E♭ | F | Gm"]
    assert chords_of(VERSE, key="A", fingered_in="C") == ["C | F | G | Am"]
    assert chords_of(VERSE, key="A", fingered_in="C", up=1) == ["D♭ | G♭ | A♭ | B♭m"]


def test_unreadable_chords_are_shown_as_written_and_say_so() -> None:
    assert chords_of(Section("Verse", 1, chords="Hx"), key="G", chords_in="A") == ["as written, in A: Hx"]
