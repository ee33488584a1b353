"""The two lights: contrast, and what is left of the colours for those who see them otherwise."""

import itertools

import coloraide
import pytest
from screen.published_formulas import contrast, is_saturated_red

from companion.screen.legibility import Rgb
from companion.screen.palette import ScreenInk, inks
from companion.view.view_lines import Light

BODY_CONTRAST = 7.0  # WCAG 2.2, 1.4.6
OTHER_CONTRAST = 4.5  # WCAG 2.2, 1.4.3
EDGE_CONTRAST = 3.0  # WCAG 2.2, 1.4.11: graphics required to understand the content

# (words, what they stand on, at least): WCAG 2.2, 1.4.6 for what is read, 1.4.3 for the rest
PAIRS = (
    (ScreenInk.INK, ScreenInk.PAPER, BODY_CONTRAST),
    (ScreenInk.ON_HIGHLIGHTER, ScreenInk.HIGHLIGHTER, BODY_CONTRAST),
    (ScreenInk.ON_TAPE, ScreenInk.TAPE, BODY_CONTRAST),
    (ScreenInk.ON_WARNING, ScreenInk.WARNING, BODY_CONTRAST),
    (ScreenInk.PENCIL, ScreenInk.PAPER, BODY_CONTRAST),
    (ScreenInk.ON_RIPPED, ScreenInk.PAPER, BODY_CONTRAST),
)
STATES = (
    ScreenInk.PAPER,
    ScreenInk.HIGHLIGHTER,
    ScreenInk.WARNING,
)  # what a highlighter's stroke and a strip of warning tape stand for
LEAST_DIFFERENCE = 15.0  # CIEDE2000; the best known sets of four keep about this under tritan vision (computed)


def colour(rgb: Rgb) -> coloraide.Color:
    return coloraide.Color("srgb", [value / 255 for value in rgb])


@pytest.mark.parametrize("light", Light)
@pytest.mark.parametrize(("words", "on", "least"), PAIRS)
def test_words_have_enough_contrast(light: Light, words: ScreenInk, on: ScreenInk, least: float) -> None:
    palette = inks(light)
    assert contrast(palette[words], palette[on]) >= least
    assert colour(palette[words]).contrast(colour(palette[on])) >= least


@pytest.mark.parametrize("light", Light)
@pytest.mark.parametrize("mark", [ScreenInk.PENCIL, ScreenInk.WARNING])
def test_drawn_marks_have_enough_contrast(light: Light, mark: ScreenInk) -> None:
    assert contrast(inks(light)[mark], inks(light)[ScreenInk.PAPER]) >= OTHER_CONTRAST


@pytest.mark.parametrize("light", Light)
@pytest.mark.parametrize("vision", [None, "protan", "deutan", "tritan"])
@pytest.mark.parametrize("edge", [ScreenInk.STROKE_EDGE, ScreenInk.TAPE_EDGE])
def test_strokes_and_strips_have_an_edge_with_enough_contrast(
    light: Light, vision: str | None, edge: ScreenInk
) -> None:
    palette = inks(light)
    drawn, paper = colour(palette[edge]), colour(palette[ScreenInk.PAPER])
    if vision:
        drawn, paper = drawn.filter(vision), paper.filter(vision)
    assert drawn.contrast(paper) >= EDGE_CONTRAST
    if not vision:
        assert contrast(palette[edge], palette[ScreenInk.PAPER]) >= EDGE_CONTRAST


@pytest.mark.parametrize("light", Light)
def test_a_stroke_beside_a_strip_differs_by_its_edge(light: Light) -> None:
    """Where the fills differ too little, one edge lies between them and stands out from one fill at least."""
    palette = inks(light)
    between = max(
        contrast(palette[edge], palette[fill])
        for edge, fill in ((ScreenInk.STROKE_EDGE, ScreenInk.TAPE), (ScreenInk.TAPE_EDGE, ScreenInk.HIGHLIGHTER))
    )
    assert between >= EDGE_CONTRAST


@pytest.mark.parametrize("light", Light)
@pytest.mark.parametrize("vision", ["protan", "deutan", "tritan", None])
def test_meaningful_marks_differ_for_every_kind_of_vision(light: Light, vision: str | None) -> None:
    palette = inks(light)
    seen = [colour(palette[ink]) for ink in STATES]
    if vision:
        seen = [one.filter(vision) for one in seen]
    for one, other in itertools.combinations(seen, 2):
        assert one.delta_e(other, method="2000") >= LEAST_DIFFERENCE


@pytest.mark.parametrize("light", Light)
def test_nothing_is_saturated_red(light: Light) -> None:
    assert not [ink for ink, rgb in inks(light).items() if is_saturated_red(rgb)]


def test_the_two_lights_have_the_same_inks() -> None:
    assert set(inks(Light.DARK)) == set(inks(Light.DAY)) == set(ScreenInk)
