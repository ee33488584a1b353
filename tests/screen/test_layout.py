"""Where everything goes and how large: on any page, for any state."""

import itertools

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from screen.nights import Night, seeds

from companion.screen.beat import beat_mark
from companion.screen.blocks import ScreenBlock
from companion.screen.layout import lay_out
from companion.screen.page import PageSize, page_of, sizes_of
from companion.screen.screen_fonts import typeface
from companion.stage import Surroundings
from companion.view import LineMark, LineRole, Picture, View, ViewLine, view

# (size in px, width in mm, distance in m): a 7-inch panel at arm's length, usual screens, a wall, and upright ones
PAGES = (
    ((1024, 600), 154, 0.8),
    ((1024, 600), 222, 1.2),
    ((1280, 800), None, None),
    ((1920, 1080), None, None),
    ((1920, 1080), 345, 1.8),
    ((2560, 1600), 300, 1.0),
    ((3840, 2160), 345, 1.8),
    ((3840, 2160), 600, 1.5),
    ((1600, 2560), 200, 1.2),
    ((1080, 1920), None, None),
    ((2160, 3840), 340, 2.0),
)
pages = st.sampled_from(PAGES).map(lambda one: page_of(one[0], one[0], one[1], one[2]))
FULL_HD = page_of((1920, 1080), (1920, 1080), 345, 1.8)


def overlap(one: ScreenBlock, other: ScreenBlock) -> bool:
    return (
        min(one.x + one.width, other.x + other.width) - max(one.x, other.x) > 1
        and min(one.y + one.height, other.y + other.height) - max(one.y, other.y) > 1
    )


@settings(max_examples=examples(150), deadline=None)
@given(seeds, pages)
def test_nothing_overlaps_leaves_its_page_or_gets_too_small(seed: int, page: PageSize) -> None:
    seen = Night(seed).view()
    blocks = lay_out(seen, page, typeface())
    for block in blocks:
        assert block.x >= 0, block
        assert block.x + block.width <= page.width, block
        assert block.y >= 0, block
        assert block.y + block.height <= page.height, block
        assert block.arcmin >= 20, block
        if block.part is LineRole.SECTION and block.text in names_of(seen) and seen.picture is Picture.PLAYING:
            assert block.arcmin >= 40, block
    for one, other in itertools.combinations(blocks, 2):
        assert not overlap(one, other), f"{one}\n{other}"
    mark = beat_mark(seen, page, sizes_of(page))
    if mark is not None:
        for block in blocks:
            apart = (
                block.x + block.width <= mark.x + 1
                or block.y >= mark.y + mark.height
                or block.y + block.height <= mark.y
            )
            assert apart or (not mark.counts_off and block.baseline <= mark.y), f"{block}\n{mark}"


def names_of(seen: View) -> set[str]:
    return {form for line in seen.lines if line.part is LineRole.SECTION for form in (line.text, *line.shorter)}


@pytest.mark.parametrize("page", [page_of(one[0], *one) for one in PAGES])
def test_a_page_with_room_uses_the_usual_sizes(page: PageSize) -> None:
    seen = playing(
        ViewLine(LineRole.SECTION, "Solo ★", mark=LineMark.HIGHLIGHT),
        ViewLine(LineRole.NEXT, "Chorus", "next"),
        ViewLine(LineRole.TITLE, "Gasworks Corner"),
        ViewLine(LineRole.WATCH, "bass", "watch", mark=LineMark.GLASSES),
        ViewLine(LineRole.CUE, "two fingers up"),
    )
    sizes = {block.text: block.arcmin for block in lay_out(seen, page, typeface())}
    assert sizes["Solo ★"] >= (45 if page.is_portrait else 60)
    assert min(sizes["Chorus"], sizes["bass"], sizes["two fingers up"]) >= 30


@settings(max_examples=examples(100), deadline=None)
@given(seeds, pages)
def test_section_next_and_watch_are_always_on_the_page(seed: int, page: PageSize) -> None:
    seen = view(Night(seed).state(), Surroundings())
    shown = {block.part for block in lay_out(seen, page, typeface()) if block.text}
    wanted = {line.part for line in seen.lines} & {
        LineRole.SECTION,
        LineRole.NEXT,
        LineRole.WATCH,
        LineRole.SOUND,
        LineRole.KEY,
    }
    assert wanted <= shown


@settings(max_examples=examples(80), deadline=None)
@given(seeds, st.integers(150, 900), st.integers(100, 900))
def test_on_a_small_page_things_are_left_out_but_never_overlap(seed: int, wide: int, high: int) -> None:
    blocks = lay_out(Night(seed).view(), PageSize(wide, high, 1.0), typeface())
    for one, other in itertools.combinations(blocks, 2):
        assert not overlap(one, other), f"{one}\n{other}"


@settings(max_examples=examples(25), deadline=None)
@given(seeds, st.integers(1, 500), st.integers(1, 500))
def test_even_a_window_of_a_few_pixels_is_laid_out(seed: int, width: int, height: int) -> None:
    lay_out(Night(seed).view(), page_of((width, height), (1920, 1080)), typeface())


def playing(*lines: ViewLine) -> View:
    return View(Picture.PLAYING, lines)


def blocks_of(seen: View, part: LineRole, page: PageSize = FULL_HD) -> list[str]:
    return [block.text for block in lay_out(seen, page, typeface()) if block.part is part]


SMALL = page_of((1024, 600), (1024, 600), 154, 1.5)  # 353 arc minutes wide: half of the usual page


@pytest.mark.parametrize(
    ("line", "page", "shown"),
    [
        (ViewLine(LineRole.SECTION, "Pre-chorus", shorter=("Pre-ch.",)), FULL_HD, ["Pre-chorus"]),
        (
            ViewLine(LineRole.SECTION, "Pre-chorus", shorter=("Pre-ch.",)),
            SMALL,
            ["Pre-chorus"],
        ),  # smaller before shorter
        (ViewLine(LineRole.SECTION, "Instrumental", shorter=("Instr.",)), FULL_HD, ["Instrumental"]),
        (ViewLine(LineRole.SECTION, "Instrumental", shorter=("Instr.",)), SMALL, ["Instrumental"]),
        (
            ViewLine(LineRole.SECTION, "Instrumental after second chorus"),
            FULL_HD,
            ["Instrumental after", "second chorus"],
        ),
        (ViewLine(LineRole.SECTION, "Final double chorus"), FULL_HD, ["Final double chorus"]),
        (ViewLine(LineRole.SECTION, "Wildcardish"), SMALL, ["Wildcardish"]),
        (ViewLine(LineRole.SECTION, "Zwischenspielzwischenspiel", shorter=("Zw.",)), SMALL, ["Zw."]),
        (ViewLine(LineRole.CUE, "two fingers up is one more round"), FULL_HD, ["two fingers up is", "one more round"]),
    ],
)
def test_words_shrink_then_wrap_then_use_a_known_short_form(line: ViewLine, page: PageSize, shown: list[str]) -> None:
    assert blocks_of(playing(line), line.part, page) == shown


def test_a_title_is_wrapped_before_it_is_cut() -> None:
    title = "The Lamplighter's Second Daughter and the Tram Conductor at the End of the Line"
    seen = View(Picture.UP_NEXT, (ViewLine(LineRole.TITLE, title),))
    assert " ".join(blocks_of(seen, LineRole.TITLE)) == title


def test_a_problem_is_taped_across_the_page() -> None:
    seen = playing(
        ViewLine(LineRole.NOTICE, "Stage Piano is gone", mark=LineMark.TORN), ViewLine(LineRole.SECTION, "Verse")
    )
    (notice,) = (block for block in lay_out(seen, FULL_HD, typeface()) if block.part is LineRole.NOTICE)
    assert notice.width > 0.9 * FULL_HD.width


def test_each_thing_keeps_its_place_whatever_else_is_shown() -> None:
    plain = playing(ViewLine(LineRole.SECTION, "Verse"), ViewLine(LineRole.NEXT, "Chorus", "next"))
    full = playing(
        ViewLine(LineRole.TITLE, "Gasworks Corner"),
        ViewLine(LineRole.SECTION, "Verse"),
        ViewLine(LineRole.NEXT, "Chorus", "next"),
        ViewLine(LineRole.CUE, "stop on 4"),
        ViewLine(LineRole.SOUND, "grand piano", mark=LineMark.TAPE),
    )

    def places(seen: View) -> list[tuple[int, int]]:
        parts = (LineRole.SECTION, LineRole.NEXT)
        return [(block.left, block.baseline) for block in lay_out(seen, FULL_HD, typeface()) if block.part in parts]

    assert places(plain) == places(full)


def test_a_larger_screen_image_has_larger_letters() -> None:
    near = page_of((1920, 1080), (1920, 1080), 345, 0.9)
    assert sizes_of(near).large == pytest.approx(2 * 60, rel=0.01)


def test_both_keyboards_sounds_are_shown() -> None:
    seen = playing(
        *(ViewLine(LineRole.SOUND, name, mark=LineMark.TAPE) for name in ("bright piano", "tonewheel organ"))
    )
    assert blocks_of(seen, LineRole.SOUND) == ["bright piano", "tonewheel organ"]


def test_a_picture_is_compared_as_lines(solo: View) -> None:
    lines = [str(block) for block in lay_out(solo, FULL_HD, typeface())]
    assert lines == [
        'title "Gasworks Corner" 47,16 632x91 20\'',
        'section "Solo" 8,120 546x271 60\' highlight',
        'count "open" 1594,224 280x136 30\'',
        'next "next" 47,432 164x91 20\'',
        'next "Chorus" 242,397 391x136 30\'',
    ]


@pytest.fixture
def solo() -> View:
    return playing(
        ViewLine(LineRole.TITLE, "Gasworks Corner"),
        ViewLine(LineRole.SECTION, "Solo", mark=LineMark.HIGHLIGHT),
        ViewLine(LineRole.COUNT, "open"),
        ViewLine(LineRole.NEXT, "Chorus", "next"),
    )


def test_if_sounds_do_not_fit_the_first_is_complete_and_none_is_cut() -> None:
    seen = playing(
        ViewLine(LineRole.SECTION, "Verse"),
        ViewLine(LineRole.TITLE, "Gasworks Corner"),
        *(
            ViewLine(LineRole.SOUND, name, name[:5], mark=LineMark.TAPE)
            for name in ("electric piano, slow", "tonewheel organ")
        ),
    )
    for high in range(180, 600, 20):
        shown = blocks_of(seen, LineRole.SOUND, PageSize(420, high, 1.0))
        assert not any("…" in text for text in shown), shown


def test_problems_come_before_news() -> None:
    news = ViewLine(LineRole.NOTICE, "show edited: f5 to read it")
    gone, battery = (
        ViewLine(LineRole.NOTICE, text, mark=LineMark.TORN) for text in ("Stage Piano gone", "battery 9 %")
    )
    assert blocks_of(playing(ViewLine(LineRole.SECTION, "Verse"), news, gone, battery), LineRole.NOTICE)[:2] == [
        "Stage Piano gone",
        "battery 9 %",
    ]


def test_songs_to_drop_are_a_list_with_commas() -> None:
    songs = [ViewLine(LineRole.DROP, title) for title in ("Kettle", "Second Kettle", "Market Day")]
    seen = playing(ViewLine(LineRole.SECTION, "Verse"), ViewLine(LineRole.ADVICE, "28 min over, drop 3:"), *songs)
    assert blocks_of(seen, LineRole.DROP) == ["Kettle,", "Second Kettle,", "Market Day"]
