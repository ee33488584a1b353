"""A chart on a page is the chart on paper: the same leaf as PDF, painted by PDFium, beside the SVG in a browser."""

import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
from picture.browser import Pixels, painted, share_that_differs

from companion.paper import Paper, PrintJob, Sheet, print_show
from companion.picture import chart_svgs
from companion.show import Section, Song, read_show

ROOT = Path(__file__).parents[2]
SIZE = (595, 842)  # A4 at one px a point
MAX_DIFFERENT = 0.025
CHARTED = ("Kettle on the Jetty", "Waltz of the Seventh Groyne")
SVG = "{http://www.w3.org/2000/svg}"


def printed(title: str, folder: Path) -> Pixels:
    """Return the first page of a song's printed chart, as PDFium paints it."""
    path = folder / "chart.pdf"
    print_show(ROOT / "shows" / "pier-street.yaml", PrintJob(sheets=(Sheet.CHARTS,), songs=(title,)), path)
    page = pdfium.PdfDocument(path)[0].render(scale=SIZE[1] / Paper.A4.height)
    return np.asarray(page.to_pil().convert("RGB").resize(SIZE), dtype=np.int16)


def test_the_browser_paints_the_printed_charts(tmp_path: Path) -> None:
    show = read_show(ROOT / "shows" / "pier-street.yaml").show
    songs = {song.title: song for one in show.sets for song in one.songs}
    pages = painted([chart_svgs(songs[title])[0] for title in CHARTED], SIZE, tmp_path)
    foot = SIZE[1] - 40  # the printed page's foot names the show
    for title, page in zip(CHARTED, pages, strict=True):
        on_paper = printed(title, tmp_path)
        assert share_that_differs(page[:foot], on_paper[:foot], by_more_than=128) < MAX_DIFFERENT, title
    assert share_that_differs(pages[0][:foot], pages[1][:foot], by_more_than=128) > MAX_DIFFERENT  # it can fail


def test_a_song_without_a_road_map_has_no_chart() -> None:
    assert chart_svgs(Song("Kettle")) == ()


def test_an_unreadable_chord_line_is_shown_as_written() -> None:
    (svg,) = chart_svgs(Song("Kettle", road_map=(Section("Verse", 2, chords="C | <b>Q9"),)))
    texts = ET.fromstring(svg).iter(f"{SVG}text")  # noqa: S314  our own text
    said = "".join(text.text or "" for text in texts)
    assert "<b>Q9" in said


def test_a_space_at_the_end_of_words_keeps_its_width() -> None:
    """SVG 1.1, 10.15: without xml:space a browser drops it, and stretches the letters to the length that counts it."""
    show = read_show(ROOT / "shows" / "pier-street.yaml").show
    texts = [
        text
        for one in show.sets
        for song in one.songs
        for svg in chart_svgs(song)
        for text in ET.fromstring(svg).iter(f"{SVG}text")  # noqa: S314  our own text
    ]
    spaced = [text for text in texts if (said := text.text or "") != " ".join(said.split())]
    assert spaced
    for text in spaced:
        assert text.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"
