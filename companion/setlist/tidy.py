"""Clean pasted text: remove odd spaces, invisible characters and Markdown marks, and nothing visible besides."""

import datetime as dt
import re
import unicodedata

# Unicode Standard, 23.2: zero-width and direction marks that come with messages and web pages.
INVISIBLE = re.compile("[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff\ufe0e\ufe0f]")
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
SPACE = re.compile(r"[^\S\t]")  # any white space but a tab
STRONG = re.compile(r"(\*\*|__)(?=[^\s*])(.+?)(?<=[^\s*])\1")  # *** break *** is a frame
EMPHASIS = re.compile(r"(?<![\w*])(\*|_)(?=\S)([^*_]+?)(?<=\S)\1(?![\w*])")
STROKE = "\u0336"
SPACED_OUT = re.compile(r"^(?:[^\W\d_] ){4,24}[^\W\d_]$")  # I N T E R V A L
CHORDS = re.compile(r"^[A-Ha-h ]+$")
KEYCAP = re.compile("([0-9#*])\u20e3")
CIRCLED = re.compile("^[\u2460-\u2473\u24f5-\u24fe\u2776-\u277f]\\s*")  # in front: a number
ODD_LETTERS = str.maketrans("ıİſ", "iis")  # the letters that re.IGNORECASE takes for others
OVERSTRUCK = re.compile("(?:[^\\W_\u0336]\u0336|[^\\w\u0336]\u0336)+")  # each letter with a stroke through it


def tidy(text: str) -> str:
    """Return the text in composed letters, with plain spaces and no invisible or control characters."""
    text = unicodedata.normalize("NFC", text)
    text = CONTROL.sub(" ", INVISIBLE.sub("", text))
    text = SPACE.sub(" ", text).strip(" ")
    return text.replace(" ", "") if SPACED_OUT.match(text) and not CHORDS.match(text) else text


def lowered(text: str) -> str:
    """Return what a pattern without regard to case matched in the small letters that the pattern has: ſ as s, ı as i.

    >>> lowered("Aprıl"), lowered("ſept"), lowered("MÄRZ")
    ('april', 'sept', 'märz')
    """
    return text.translate(ODD_LETTERS).lower()


def plain_signs(text: str) -> str:
    """Return the text with plain digits and letters for keycaps, circled digits and full-width forms.

    Letters with a stroke through each of them stand between ~~ afterwards.

    >>> plain_signs("\u2462 Moth") + plain_signs(" \uff21\uff22")
    '3) Moth AB'
    """
    if text.isascii():
        return text
    text = KEYCAP.sub(r"\1", INVISIBLE.sub("", text)).replace("\U0001f51f", "10").replace(" − ", " – ")
    text = CIRCLED.sub(
        lambda found: f"{unicodedata.digit(found[0][0], 0) or unicodedata.normalize('NFKC', found[0][0])}) ", text
    )
    text = "".join(unicodedata.normalize("NFKC", sign) if "\uff01" <= sign <= "\uff5e" else sign for sign in text)
    return OVERSTRUCK.sub(lambda found: f"~~{found[0].replace(STROKE, '').strip()}~~", text)


def without_emphasis(text: str) -> str:
    """Return the text without paired Markdown marks: **Set 1** and _slow_; a lone * at the end stays.

    >>> without_emphasis("**Gasworks Corner** *")
    'Gasworks Corner *'
    """
    return EMPHASIS.sub(r"\2", STRONG.sub(r"\2", text))


def day_text(day: dt.date) -> str:
    """Return a day as people write it: Sat 14 Nov 2026; without a year where none was named (year 1)."""
    return f"{day:%a} {day.day} {day:%b %Y}" if day.year > 1 else f"{day.day} {day:%b}"


def one_line(text: str) -> str:
    """Return the text with single spaces between its words."""
    return " ".join(text.split())


def cut(text: str, most: int) -> str:
    """Return at most ``most`` characters, the last an ellipsis if the text was longer."""
    return text if len(text) <= most else text[: most - 1] + "…"
