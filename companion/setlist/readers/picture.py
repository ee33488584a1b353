"""Prepare a picture of a list for reading: upright, level lines, dark letters on an even ground. Child process only."""

import io
import itertools
import statistics
from typing import Final

from PIL import Image, ImageChops, ImageFilter, ImageOps

from companion.setlist.readers.limits import MAX_PICTURE_PAGES, MAX_PIXELS
from companion.setlist.readers.picture_pages import PreparedPictures
from companion.setlist.readers.refusal import no_list

FORMATS: Final = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF")
FROM_LONG: Final = 1_800  # pixels of the longer side: the letters of a page are then 25 to 45 pixels high
TO_LONG: Final = 3_000
DOTS_PER_INCH: Final = 250  # of a page of a PDF
DARK: Final = 110  # mean of a picture with light letters on a dark ground
LOOKED_AT: Final = 700  # pixels of the longer side while its slope is looked for
AROUND: Final = 6  # pixels around a letter that it is compared with
MARKED: Final = 40  # of 255 shades darker than around it
EDGE: Final = 10  # a tenth of each side is not looked at
MAX_INK: Final = 70  # of 255 in a row: letters have less, an edge of the page more
STEEPEST: Final = 10  # degrees that a page is straightened by
COARSE: Final = 1.0  # degrees
FINE: Final = 0.2
LEAST_SLOPE: Final = 0.2  # degrees
LETTERS: Final = 40  # pixels from the top of a capital to the bottom of a g; the program reads these best, by trial
TOO_HIGH: Final = 52
UNREADABLE_PICTURE: Final = (
    OSError,
    ValueError,
    SyntaxError,
    EOFError,
    Image.DecompressionBombError,
    Image.DecompressionBombWarning,
)
GROUND: Final = 24  # pixels of the picture in one of its ground
GET_HEIF: Final = "the picture as JPEG or PNG, or run: pip install pillow-heif"


def prepared(raw: bytes, shown: str) -> PreparedPictures:
    """Return the pages of a picture or of a PDF. Raises FaultyFile if it is damaged or far too large."""
    Image.MAX_IMAGE_PIXELS = MAX_PIXELS
    Image.init()
    if b"%PDF-" in raw[:1024]:
        return PreparedPictures(tuple(_as_png(_even(page)) for page in _pages(raw, shown)))
    return PreparedPictures((_as_png(_even(_opened(raw, shown))),))


def _pages(raw: bytes, shown: str) -> list[Image.Image]:
    import pypdfium2 as pdfium

    try:
        with pdfium.PdfDocument(raw) as document:
            if len(document) > MAX_PICTURE_PAGES:
                problem = f"{len(document)} pages that are pictures; at most {MAX_PICTURE_PAGES} are read"
                raise no_list(shown, problem, "the list's own pages")
            found = []
            for page in document:
                scale = min(DOTS_PER_INCH / 72, TO_LONG / max(page.get_width(), page.get_height(), 1))
                found.append(page.render(scale=scale, grayscale=True).to_pil().convert("L"))
            return found
    except pdfium.PdfiumError:
        raise no_list(shown, "the PDF cannot be read: it is damaged", "the same, exported again") from None


def _opened(raw: bytes, shown: str) -> Image.Image:
    formats: tuple[str, ...] = FORMATS
    if raw[4:8] == b"ftyp":
        try:
            import pillow_heif
        except ImportError:
            raise no_list(shown, "this is a picture in HEIC, which is not read here", GET_HEIF) from None
        pillow_heif.register_heif_opener()
        formats = ("HEIF",)
    try:
        with Image.open(io.BytesIO(raw), formats=formats) as picture:
            if picture.width * picture.height > MAX_PIXELS:
                problem = f"the picture has {picture.width * picture.height // 1_000_000} million pixels"
                raise no_list(shown, problem, "a smaller one: a tenth of that is enough")
            picture.draft("L", (TO_LONG, TO_LONG))  # a JPEG is unpacked no larger than needed
            return _in_grey(ImageOps.exif_transpose(picture))
    except UNREADABLE_PICTURE as error:
        raise no_list(shown, f"the picture cannot be read ({error})", "the same, saved or photographed again") from None


def _in_grey(picture: Image.Image) -> Image.Image:
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        whole = picture.convert("RGBA")
        paper = Image.new("RGBA", whole.size, "white")
        picture = Image.alpha_composite(paper, whole)
    return picture.convert("L")


def _even(picture: Image.Image) -> Image.Image:
    """Return the picture at a useful size, its ground made even, its lines made level."""
    longest = max(picture.size)
    share = TO_LONG / longest if longest > TO_LONG else min(FROM_LONG / longest, 3.0) if longest < FROM_LONG else 1.0
    if share != 1.0:
        size = (max(1, round(picture.width * share)), max(1, round(picture.height * share)))
        picture = picture.resize(size, Image.Resampling.LANCZOS)
    if _mean(picture) < DARK:
        picture = ImageOps.invert(picture)
    small = (max(1, picture.width // GROUND), max(1, picture.height // GROUND))
    ground = picture.resize(small, Image.Resampling.BOX).filter(ImageFilter.MaxFilter(5))
    ground = ground.filter(ImageFilter.GaussianBlur(2)).resize(picture.size, Image.Resampling.BICUBIC)
    picture = ImageOps.autocontrast(ImageOps.invert(ImageChops.subtract(ground, picture)), cutoff=(0.2, 20))
    slope = _slope(picture)
    if abs(slope) >= LEAST_SLOPE:
        picture = picture.rotate(slope, Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    high = _letter_height(picture)
    if high > TOO_HIGH:
        size = round(picture.width * LETTERS / high), round(picture.height * LETTERS / high)
        picture = picture.resize(size, Image.Resampling.LANCZOS)
    return picture


def _letter_height(picture: Image.Image) -> float:
    """Return how high most lines of letters are, in pixels: runs of rows with ink. 0 if there are none."""
    marks = picture.point([255] * DARK + [0] * (256 - DARK)).resize((1, picture.height), Image.Resampling.BOX).tobytes()
    runs = [len(list(run)) for has_ink, run in itertools.groupby(marks, bool) if has_ink]
    letters = [run for run in runs if run >= 8]  # less is dust
    return statistics.median(letters) if len(letters) >= 4 else 0.0


def _mean(picture: Image.Image) -> int:
    value = picture.resize((1, 1), Image.Resampling.BOX).getpixel((0, 0))
    return value if isinstance(value, int) else 255


def _slope(picture: Image.Image) -> float:
    """Return the degrees by which turning the picture makes its lines level: rows of letters and gaps differ most."""
    small = picture.copy()
    small.thumbnail((LOOKED_AT, LOOKED_AT), Image.Resampling.BOX)
    marks = ImageChops.subtract(small.filter(ImageFilter.BoxBlur(AROUND)), small)  # dark beside light: letters
    marks = marks.point([0] * MARKED + [255] * (256 - MARKED))
    best = max((step * COARSE for step in range(-STEEPEST, STEEPEST + 1)), key=lambda slope: _levelled(marks, slope))
    steps = range(-int(COARSE / FINE), int(COARSE / FINE) + 1)
    return max((best + step * FINE for step in steps), key=lambda slope: _levelled(marks, slope))


def _levelled(marks: Image.Image, slope: float) -> float:
    turned = marks.rotate(slope, Image.Resampling.BILINEAR)
    aside, above = turned.width // EDGE, turned.height // EDGE  # a page's own edges lie outside
    turned = turned.crop((aside, above, turned.width - aside, turned.height - above))
    rows = [min(ink, MAX_INK) for ink in turned.resize((1, turned.height), Image.Resampling.BOX).tobytes()]
    return float(sum((upper - lower) ** 2 for upper, lower in itertools.pairwise(rows)))


def _as_png(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    picture.save(out, "PNG", compress_level=1)
    return out.getvalue()
