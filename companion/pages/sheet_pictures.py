"""The pictures beside a sheet: the stage screen at a moment of the song, and the printed chart."""

from typing import Final

from companion.music import NotMusic
from companion.pages.desk import SongOnDesk
from companion.pages.markup import Html, drawn
from companion.pages.sheet_view import pictures_html
from companion.picture import Moment, chart_svgs, moment_view, stage_svg
from companion.screen.page import page_of
from companion.stage import Book
from companion.view import Light, Picture

SIZE: Final = (1280, 720)  # px of the stage's picture: a laptop's screen
SCREEN: Final = (1280, 720)
MAX_ROUNDS: Final = 9
STRAIGHT_ON: Final = "straight on from the song before"


def pictures_of(book: Book | None, one: SongOnDesk, query: dict[str, str]) -> Html:
    """Draw the stage at the requested moment (``section``, ``rounds``, ``light``), and the chart."""
    song = one.song
    section = _number(query.get("section", ""), len(song.road_map))
    rounds = _number(query.get("rounds", ""), MAX_ROUNDS + 1) or 0
    light = Light.DAY if query.get("light") == "day" else Light.DARK
    here = song.road_map[section] if section is not None and song.road_map else None
    is_open = bool(here and here.open)
    look = {
        "words": here.name + (f", round {rounds + 1}" if rounds and is_open else "") if here else "up next",
        "rounds": str(rounds if is_open else 0),
        "light": light.value,
        "open": "yes" if is_open else "",
    }
    moment = Moment(one.set_at, one.song_at, section if here else None, rounds if is_open else 0)
    view = moment_view(book, moment) if book is not None else None
    if here is None and view is not None and view.picture is Picture.PLAYING:
        look["words"] = STRAIGHT_ON
    screen = book.rig.screen if book is not None else None
    page = page_of(SIZE, SCREEN, screen.width_mm if screen else None, screen.distance_m if screen else None)
    stage = drawn(stage_svg(view, page, light)) if view is not None else None
    try:
        chart = tuple(drawn(svg) for svg in chart_svgs(song))
    except NotMusic:
        chart = ()
    return pictures_html(stage, chart, look)


def _number(text: str, below: int) -> int | None:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 4 and int(text) < below else None
