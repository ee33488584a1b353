"""Songs that somebody speaks one after the other, each with its key: we open with moth in g then weeds in a minor."""

import re
from collections.abc import Iterator
from typing import Final

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import plain_key

LONGEST: Final = 4000  # characters
FEWEST: Final = 2  # keys in the words
LONGEST_TITLE: Final = 10  # words
_KEY = r"([A-Ha-h](?:[#b♭♯]|\s(?:flat|sharp))?(?:m\b|\s(?:minor|major))?)"
_IN_KEY = re.compile(
    rf"(?:(?:,?\s(?:that|it)['’]s|[\s,])(?:\sin|\skey of|(?<=\s)in|(?<=\s)key of)\s{_KEY}(?![\w#♭♯'’])|"
    rf"\s\({_KEY}\)|,?\s(?:that|this)\sone['’]s\s(?:in\s)?{_KEY}(?![\w#♭♯'’]))"
    r"(?=\s(?:like|as (?:usual|always)|now|then|and|after|next|followed|so|finally|lastly)\b|\s*[,.;!]|\s*$)",
    re.IGNORECASE,
)
_SENTENCE = re.compile(r"^.*(?<=[^\s.])[.!?:]\s+(?=\S)")
_SAID = (
    r"(?:hi|hey|hello|dear)\s\w+,?\s|"
    r"(?:like always|as always|as usual|now)[\s,.]+|"
    r"(?:the\s)?(?:first|second|third|fourth|fifth|next|last|final)"
    r"(?:\s(?:one|song|tune|number)(?:['’]s|\sis)?|\sis)\s|"
    r"(?:okay|ok|so|right|and|then|well|now|um|uh|er|erm|next|first|finally|lastly|also|tonight|plus)\b[\s,]*|"
    r"(?:after (?:that|this|which|(?:the |a )?(?:break|interval|pause|food|speeches))|followed by|"
    r"for (?:tonight|the opener|the first (?:one|song)|"
    r"(?:mon|tues|wednes|thurs|fri|satur|sun)day)|last of all|to (?:start|begin|finish|end)(?: with| off)?)\b[\s,]*|"
    r"(?:it|that|there)(?:['’]s|\sis)\s|"
    r"(?:we|i|they|you)(?:['’](?:ll|re)|\swill|\sare)?\s(?:then\s)?"
    r"(?:do|play|open|start|begin|kick|finish|end|close|go|have|got|doing|playing|finishing|opening|going)"
    r"(?:\s(?:up|off|out|straight))?(?:\s(?:with|on|into|to))?\s|"
    r"go(?:es|ing)?\s(?:straight\s)?into\s|"
    r"(?:opening|starting|closing|finishing|ending|open|start|finish|end|close)\s(?:up\s|off\s)?(?:with|on)\s"
)
_TALK: Final = re.compile(rf"^(?:{_SAID}){{1,8}}", re.IGNORECASE)


def dictated_songs(text: str, notation: Notation) -> tuple[str, ...]:
    """Return such songs, each with its key in brackets; none if the words hold fewer, or anything but songs.

    >>> dictated_songs("okay so first one is moth parade in g then weeds in a minor and we finish on jam jar in C")
    ('moth parade (G)', 'weeds (A minor)', 'jam jar (C)')
    """
    if len(text) > LONGEST or text[:1].isdigit():
        return ()
    found = list(_pieces(text, notation))
    begins_as_talk = sum(said for _, _, said in found)
    if len(found) < FEWEST or not begins_as_talk:
        return ()
    if any(not title or len(title.split()) > LONGEST_TITLE or not title[0].isalnum() for title, _, _ in found):
        return ()
    return tuple(f"{title} ({key})" for title, key, _ in found)


def _pieces(text: str, notation: Notation) -> Iterator[tuple[str, str, bool]]:
    """Yield each title with its key, and whether words of talk were taken off its front."""
    at = 0
    for found in _IN_KEY.finditer(text):
        written = found[1] or found[2] or found[3]
        key = f"{written[:1].upper()}{written[1:]}"
        if plain_key(key, notation=notation) is None:
            continue
        said = _SENTENCE.sub("", text[at : found.start()].strip(" ,.;!"))
        title = _TALK.sub("", said).strip(" ,.;:!")
        yield title, key, title != said
        at = found.end()
