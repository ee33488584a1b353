"""The shipped typeface: its measures against the letters as painted, what it covers, which letters it confuses."""

from pathlib import Path

import pygame
import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from screen.confusion import measured

from companion.screen.other_faces import directories, files_in
from companion.screen.screen_fonts import FACES, FONTS, Face, Typeface, typeface

FACE = typeface()
NEEDED = "♭♯♮→♩★…“”×–éèêñüçåøæßšžłőąÅÉАБВабвгдежзийклмнопрстуфхцчшщъыьэюяЁёЇїΑΒΓΔΩαβγδωάέή½&|/"
SIGNS = NEEDED + "Intro Verse Chorus fi ffl AV To LT 0123456789 (),."


@pytest.fixture(scope="module", autouse=True)
def _fonts() -> None:
    pygame.font.init()


@pytest.mark.parametrize("em_px", [58, 82, 123, 245, 490])
def test_the_capital_height_equals_the_painted_one(em_px: int) -> None:
    painted = pygame.font.Font(FACES[0], em_px).render("H", antialias=True, color="white").get_bounding_rect().height
    assert painted == pytest.approx(em_px * FACE.cap_height, abs=1.01)


def test_a_size_is_never_smaller_than_requested() -> None:
    for cap_px in (10.0, 58.3, 174.8, 99.999):
        assert FACE.em_px(cap_px) * FACE.cap_height >= cap_px - 1e-9


def test_the_typeface_has_every_sign_that_a_show_needs() -> None:
    assert [sign for sign in NEEDED if all(face.width(sign) is None for face in FACE.faces)] == []


def shipped(*further: Path) -> Typeface:
    """Return the shipped typeface on a computer with these files."""
    return Typeface(FACE.faces[: len(FACES)], lambda: further)


def test_a_sign_in_no_typeface_gets_an_empty_box_and_is_reported() -> None:
    face = shipped()
    assert face.width_px("漢", 1000) == pytest.approx(face.faces[0].missing * 1000, rel=0.02)
    assert face.lacks("Solo 漢字漢") == "漢字"
    assert face.lacks(NEEDED) == ""


def test_letters_missing_from_the_shipped_faces_use_the_computers_own(tmp_path: Path) -> None:
    """One of ours stands for the computer's: it has the letter that the first face lacks."""
    broken, empty = tmp_path / "notosanscjk-broken.otf", tmp_path / "wqy-empty.ttc"
    broken.write_bytes(b"OTTO" + bytes(40))
    empty.write_bytes(b"")
    asked: list[int] = []

    def further() -> tuple[Path, ...]:
        asked.append(1)
        return broken, empty, FACES[2]

    face = Typeface(FACE.faces[:1], further)
    lone = next(sign for sign in "★♯♭" if FACE.faces[0].width(sign) is None and FACE.faces[2].width(sign) is not None)
    assert face.lacks(f"Solo {lone}") == ""
    assert face.runs(f"Solo {lone}") == [(0, "Solo "), (1, lone)]
    assert face.lacks("漢") == "漢"
    assert asked == [1], "the computer is searched once"


def test_the_computers_faces_are_tried_clearest_first(tmp_path: Path) -> None:
    for name in ("wqy-zenhei.ttc", "NotoSansCJK-Regular.ttc", "NotoSansCJK-Bold.ttc", "Wingdings.ttf", "readme.txt"):
        (tmp_path / name).write_bytes(b"")
    names = [path.name for path in files_in((tmp_path / "none", tmp_path))]
    assert names == ["NotoSansCJK-Bold.ttc", "NotoSansCJK-Regular.ttc", "wqy-zenhei.ttc"]


def test_chinese_japanese_and_korean_are_drawn_if_the_computer_has_a_typeface() -> None:
    found = files_in(directories())
    face = shipped(*found)
    if face.lacks("港のの등불"):
        pytest.skip("this computer has no typeface for Chinese, Japanese and Korean")
    number = face.face_of("港")
    painted = pygame.font.Font(face.faces[number].path, 100).size("港")[0]
    assert painted <= face.width_px("港", 100) + 4


@settings(max_examples=examples(60))
@given(st.text(st.sampled_from(SIGNS), max_size=40))
def test_a_painted_line_is_never_wider_than_calculated(text: str) -> None:
    em_px = 123
    painted = 0
    for number, run in FACE.runs(text):
        painted += pygame.font.Font(FACES[number], em_px).size(run)[0]
    assert painted <= FACE.width_px(text, em_px) + 0.04 * em_px + 2  # the hook of a last f reaches out


def test_descenders_and_accents_are_measured() -> None:
    assert (FACE.faces[0].ascent, FACE.faces[0].descent) == (1.069, 0.293)  # as the font's own tables say


def test_every_face_comes_with_its_licence() -> None:
    licences = {path.name: path.read_text(encoding="utf-8") for path in FONTS.glob("*LICENSE.txt")}
    assert "SIL OPEN FONT LICENSE" in licences["NotoSans-LICENSE.txt"]
    assert "Bitstream" in licences["DejaVu-LICENSE.txt"]
    assert {path.name.partition("-")[0] for path in FACES} == {"NotoSans", "NotoSansSymbols", "DejaVuSansCondensed"}


def test_no_two_letters_look_alike_at_ten_arc_minutes() -> None:
    least, mean, pairs, width = measured(FACES[0])
    assert least > 0.05, pairs[:3]  # the bold faces compared lay between 0.017 and 0.057
    assert mean > 0.08, pairs[:10]
    assert width < 0.67  # capital heights a letter: wide faces are clearer, and hold less


def test_capitals_are_as_wide_as_required_for_displays_in_cars() -> None:
    # ISO 15008, capital H width / height: 0.65, up to 0.80 (documentation of an open-source font checker)
    painted = pygame.font.Font(FACES[0], 1000).render("H", antialias=True, color="white").get_bounding_rect()
    assert 0.65 <= painted.width / painted.height <= 0.80


def test_a_face_without_capitals_can_still_supply_its_signs() -> None:
    assert Face(FACES[1]).width("♭") is not None
