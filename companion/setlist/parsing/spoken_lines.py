"""Lines as people say them: then Moth, we finish on Weeds; a whole evening in one paragraph."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.parsing.text_lines import TextLine

FEWEST = 2  # lines that begin as in talk
MOST_SMALL = 0.6  # share of the lines that begin with a small letter: dictated, or typed in a hurry
LONG = 80  # characters; a shorter line is no paragraph
LONGEST = 4000
_LEAD = re.compile(
    r"^(?:(?:so|and|then|next|now|ok|okay|after that|followed by|first|lastly|finally|also|well|right|"
    r"for (?:mon|tues|wednes|thurs|fri|satur|sun)day)[\s,]+"
    r"|(?:we|we'll|i'll|you)(?:\s(?:will|then|also))?\s(?:start|begin|open|finish|end|close|go|do|play|have)(?:s|ing)?"
    r"(?:\s(?:with|on|off|into|out|up))*\s"
    r"|there(?:'s| is|s)\s)+(?:a\s(?=break\b))?"
)
_THAT = re.compile(r"\s(?:that'?s|which is|which we do|that is|it's|its)\s(?=in\b)")
_HEADING = (
    r"(?:(?:and |then |so |the )*(?:(?:first|second|third|1st|2nd|3rd) (?:set|half)|set (?:one|two|three|[1-4])|"
    r"encores?)\b\s?(?:is|are|will be|goes|:|-))"
)
_PARTS = re.compile(
    rf"(?<=[\s.!?,;])(?={_HEADING})|(?<=[\s)(][A-Ga-g])[.!]\s+|(?<=[A-Ga-g][b#m])[.!]\s+", re.IGNORECASE
)


def as_written(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Return the lines as somebody would have written them down: paragraphs parted, the words around titles gone."""
    lines = [part for line in lines for part in _parted(line)]
    filled = [line for line in lines if line.text]
    small = sum(line.text[:1].islower() for line in filled)
    led = sum(bool(_LEAD.match(line.text)) for line in filled)
    if led < FEWEST or small < MOST_SMALL * len(filled):
        return lines
    return [_without_talk(line) for line in lines]


def _without_talk(line: TextLine) -> TextLine:
    text = _THAT.sub(" ", _LEAD.sub("", line.text)).strip()
    return msgspec.structs.replace(line, text=text, whole=text) if text else line


def _parted(line: TextLine) -> list[TextLine]:
    """Part a paragraph that holds several sets, where each begins; else return it whole."""
    text = line.text
    if not LONG < len(text) <= LONGEST or len(re.findall(_HEADING, text, re.IGNORECASE)) < FEWEST:
        return [line]
    parts = [part.strip() for part in _PARTS.split(text) if part.strip()]
    rows = [msgspec.structs.replace(line.row, cells=(part,), text=part) for part in parts]
    return [
        msgspec.structs.replace(line, row=row, text=part, whole=part) for row, part in zip(rows, parts, strict=True)
    ]
