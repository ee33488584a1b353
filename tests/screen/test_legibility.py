"""Visual angle, contrast and flashes against their published numbers."""

import coloraide
import pytest
from screen.published_formulas import (
    arcmin_of,
    contrast,
    flash_area_mm2,
    is_general_flash,
    is_saturated_red,
    luminance,
)

from companion.screen.legibility import height_mm
from companion.screen.page import page_of

Rgb = tuple[int, int, int]


def rgb(written: str) -> Rgb:
    return int(written[1:3], 16), int(written[3:5], 16), int(written[5:7], 16)


@pytest.mark.parametrize(
    ("arcmin", "at_1_m", "at_1_5_m", "at_1_8_m", "at_2_m", "at_3_m"),
    [
        # Computed from h = 2 d tan(angle / 2); the angles are those of ISO 9241-3 and NUREG-0700 rev. 3, 11.4.1.5-1
        (12, 3.5, 5.2, 6.3, 7.0, 10.5),
        (15, 4.4, 6.5, 7.9, 8.7, 13.1),
        (16, 4.7, 7.0, 8.4, 9.3, 14.0),
        (20, 5.8, 8.7, 10.5, 11.6, 17.5),
        (22, 6.4, 9.6, 11.5, 12.8, 19.2),
        (24, 7.0, 10.5, 12.6, 14.0, 20.9),
        (30, 8.7, 13.1, 15.7, 17.5, 26.2),
        (40, 11.6, 17.5, 20.9, 23.3, 34.9),
    ],
)
def test_capital_heights_in_mm(
    arcmin: int, at_1_m: float, at_1_5_m: float, at_1_8_m: float, at_2_m: float, at_3_m: float
) -> None:
    for distance, height in ((1.0, at_1_m), (1.5, at_1_5_m), (1.8, at_1_8_m), (2.0, at_2_m), (3.0, at_3_m)):
        assert round(height_mm(arcmin, distance), 1) == height
        assert arcmin_of(height_mm(arcmin, distance), distance) == pytest.approx(arcmin)


@pytest.mark.parametrize(
    ("height", "arcmin"),
    [(3, 14.5), (5, 24.2), (8, 38.7)],  # MIL-STD-1472's label heights at 710 mm, as angles (from memory; computed)
)
def test_label_heights_as_angles(height: float, arcmin: float) -> None:
    assert round(arcmin_of(height, 0.71), 1) == arcmin


@pytest.mark.parametrize(("arcmin", "px"), [(16, 47), (20, 58), (24, 70)])  # computed: 345 mm and 1920 px at 1.8 m
def test_capital_heights_in_px(arcmin: int, px: int) -> None:
    assert round(arcmin * page_of((1920, 1080), (1920, 1080), 345, 1.8).px_per_arcmin) == px


def test_a_windows_size_is_its_part_of_the_screen() -> None:
    full, window = (page_of(size, (1920, 1080), 345, 1.8) for size in ((1920, 1080), (960, 540)))
    assert full.px_per_arcmin == window.px_per_arcmin


def test_an_unknown_screen_counts_as_13_inches_at_1_5_metres() -> None:
    known = page_of((1920, 1080), (1920, 1080), 287.8, 1.5)  # 13 inches of 16:9: 13 x 25.4 x 16 / sqrt(16^2 + 9^2) mm
    for size in ((1920, 1080), (1080, 1920)):
        assert page_of(size, size).px_per_arcmin == pytest.approx(known.px_per_arcmin, rel=0.001)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # WCAG 2.2, "relative luminance" and "contrast ratio", computed by the letter
        ("#000000", "#ffffff", 21.0000),
        ("#777777", "#ffffff", 4.4781),
        ("#767676", "#ffffff", 4.5422),
        ("#777777", "#000000", 4.6895),
        ("#757575", "#000000", 4.5578),
        ("#747474", "#000000", 4.4929),
        ("#595959", "#ffffff", 7.0047),
        ("#5a5a5a", "#ffffff", 6.8969),
        ("#949494", "#ffffff", 3.0335),
        ("#959595", "#ffffff", 2.9953),
        ("#5a5a5a", "#000000", 3.0448),
        ("#595959", "#000000", 2.9980),
        ("#959595", "#000000", 7.0109),
        ("#ffffff", "#111111", 18.8831),
        ("#ff0000", "#000000", 5.2520),
        ("#ff0000", "#ffffff", 3.9985),
        ("#0000ff", "#000000", 2.4440),
        ("#ffff00", "#000000", 19.5560),
    ],
)
def test_contrast_agrees_with_the_published_ratio(one: str, other: str, ratio: float) -> None:
    assert round(contrast(rgb(one), rgb(other)), 4) == ratio
    # An independent library, which rounds the weights otherwise.
    assert contrast(rgb(one), rgb(other)) == pytest.approx(coloraide.Color(one).contrast(other), abs=0.01)


@pytest.mark.parametrize(
    ("colour", "red"),
    [
        # Linear R / (R + G + B), computed; 0.8 is the limit of WCAG 2.2, "general flash and red flash thresholds"
        ("#ff0000", True),
        ("#e03131", True),
        ("#d55e00", True),
        ("#ff8080", False),
        ("#e69f00", False),
        ("#000000", False),
    ],
)
def test_saturated_red_is_recognized_by_the_published_rule(colour: str, red: bool) -> None:  # noqa: FBT001 - a column of the table
    assert is_saturated_red(rgb(colour)) is red


@pytest.mark.parametrize(
    ("one", "other", "flash"),
    [
        # WCAG 2.2: a change of 10 % or more of the maximum, the darker below 0.80
        (0.0, 0.10, True),
        (0.0, 0.09, False),
        (0.79, 0.90, True),
        (0.80, 0.95, False),
    ],
)
def test_a_general_flash_is_recognized_by_the_published_rule(one: float, other: float, flash: bool) -> None:  # noqa: FBT001 - a column of the table
    assert is_general_flash(one, other) is flash


@pytest.mark.parametrize(
    ("distance", "area"),
    [
        (0.7, 2940),
        (1.0, 6000),
        (1.5, 13500),
        (1.8, 19440),
        (2.0, 24000),
        (3.0, 54000),
    ],  # WCAG 2.2: 0.006 sr x d squared
)
def test_the_flash_area_agrees_with_the_published_figure(distance: float, area: float) -> None:
    assert flash_area_mm2(distance) == pytest.approx(area)


def test_luminance_of_a_published_palette() -> None:
    # Okabe and Ito, "Color Universal Design": orange and sky blue; luminances computed by WCAG 2.2
    assert round(luminance((230, 159, 0)), 4) == 0.4162
    assert round(luminance((86, 180, 233)), 4) == 0.4050
