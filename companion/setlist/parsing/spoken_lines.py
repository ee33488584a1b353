"""Lines as people say them: then Moth, we finish on Weeds; a whole evening in one paragraph."""

import itertools
import re
from collections.abc import Sequence

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.glued_keys import with_space_before_key
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.list_talk import says_same_as_before
from companion.setlist.parsing.patterns import AND, BARE_NUMBER, IN_BRACKETS
from companion.setlist.parsing.running_clauses import lead_of
from companion.setlist.parsing.running_keys import keys_in
from companion.setlist.parsing.running_words import TO_FINISH
from companion.setlist.parsing.set_headings import read_heading, read_set
from companion.setlist.parsing.talk_words import INSTEAD
from companion.setlist.parsing.text_lines import TextLine

FEWEST = 2  # lines that begin as in talk
MIN_LED = 0.3  # share of the lines that begin so; of fewer, "ok, moon" is a title
MAX_SMALL = 0.6  # share of the lines that begin with a small letter: dictated, or typed in a hurry
LONG = 80  # characters; a shorter line is no paragraph
LONGEST = 4000
_LEAD = re.compile(
    r"^(?:(?:and\s|then\s)?(?:(?:the\s)?(?:next|first|second|third|last)|then)(?:\s(?:one|up|song|tune|number))?"
    r"(?:['’]s|\sis|\scomes)\s|"
    r"(?:so|and|then|next|now|ok|okay|after that|followed by|first|lastly|finally|also|well|right|"
    r"for (?:mon|tues|wednes|thurs|fri|satur|sun)day)[\s,]+"
    r"|(?:we|we'll|i'll|you)(?:\s(?:will|then|also))?\s(?:start|begin|open|finish|end|close|go|do|play|have)(?:s|ing)?"
    r"(?:\s(?:with|w/?|on|off|into|out|up))*\s"
    r"|there(?:'s| is|s)\s)+(?:a\s(?=break\b))?"
)
_MAY_BE_TITLE = frozenset(("so", "next", "now", "ok", "okay", "first", "lastly", "finally", "also", "well", "right"))
_THAT = re.compile(r"\s(?:that'?s|which is|which we do|that is|it's|its)\s(?=in\b)")
_HEADING = (
    r"(?:(?:and |then |so |the )*(?:(?:first|second|third|1st|2nd|3rd) (?:set|half)|set (?:one|two|three|[1-4])|"
    r"encores?)\b\s?(?:is|are|will be|goes|:|-))"
)
_PARTS = re.compile(
    rf"(?<=[\s.!?,;])(?={_HEADING})|(?<=[\s)(][A-Ga-g])[.!]\s+|(?<=[A-Ga-g][b#m])[.!]\s+", re.IGNORECASE
)


_ADDED = re.compile(
    r"^(?:(?:ok|okay|and|also|oh|sorry|right|yes|yeah|add|plus|so)[\s,:]+){1,3}(?:add )?(\d{1,3})[.):]?\s+(\S.*?)"
    r"(?:\s(?:then|too|as well|please|pls))?[.!]*$",
    re.IGNORECASE,
)
_ASSENT = re.compile(
    r"^(?:(?:oh|yes|yeah|yep|ok|okay|ah|and|so|also|plus|then|sorry|first|next|right|no|maybe|add|"
    r"(?:the )?last one|last of all|don't forget|what about|how about|ja|jo|genau|stimmt|klar|ach|achso|und|dann|oui|"
    r"ouais|d'accord|et|puis|ensuite|mais|sí|si|vale|claro|luego|certo|va bene|poi|sim|depois|jep|jaha|och|og|sen|så|"
    r"dan|daarna|tak|joo|no tak)[\s,:]+){0,4}"
    r"(?:(?:they|we|you)(?:['’]re|\sare)\s(?:doing|playing)\s)?(?:(?:one|a song|something)\scalled\s)?"
)
_OTHER_SENTENCE = re.compile(r"^(?:[^\W\dA-ZÀ-Þ][^.!?A-ZÀ-Þ]{0,40}[.!?]{1,3}\s+){1,2}(?=\S)")  # back. then Moth, C
_ALSO = re.compile(r"\s(?:also|too|again|auch|aussi|también|anche|ook|också|også|também)\s(?=[A-H][b#♭♯]?m?$)")
_SAYS_KEY = re.compile(r"\s(?:is|was|be|not)\s(?:in\s|now\s|actually\s)?[A-G][b#♭♯]?m?(?!\w)")
_ABOUT_SONG = re.compile(  # with Bo on A: no song, but how one is played; opener Moth A: a note
    r"(?:with|into|to|on|by|it['’]?s|mit|avec|con|met|med|com|w/?)\s|[^\W\d_]*(?:opener|closer|starter|finisher|opening|"
    r"closing|finale|encore)\s(?!is\s)"
)
_CALLED = re.compile(r"\b(?:called|doing|playing)\s$")
_COMMAS = re.compile(r"\s*[,;]\s*")
_BEFORE_LIST = re.compile(r"^[^:]{1,160}:\s+")
_AND = re.compile(rf"^(?:{AND}|then)\s+", re.IGNORECASE)
_LAST_AND = re.compile(r"\s(?:and|und|og|och)\s(?!.*\s(?:and|und|og|och)\s)", re.IGNORECASE)
_SENTENCE_ENDS = re.compile(r"(?<=[^\s.][^\s.])[.!?]{1,3}\s+(?=[^\W_])")
FEWEST_NAMED = 5  # titles in the only line that holds any
LONGEST_SONG = 6  # words of one
MAX_LINES = 4  # of such a message


def as_written(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines as somebody would have written them down: paragraphs separated, the words around titles gone."""
    lines = _added(lines)
    lines = _listed([with_space_before_key(part) for line in lines for part in _parted(line)])
    filled = [line for line in lines if line.text]
    small = sum(line.text[:1].islower() for line in filled)
    led = sum(bool(_LEAD.match(line.text) or _leads(line.text)) for line in filled)
    if led >= max(FEWEST, MIN_LED * len(filled)) and small >= MAX_SMALL * len(filled):
        lines = [_without_talk(line) for line in lines]
    return _without_assent(lines, notation)


def _without_assent(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Take the talk off a title with its key that it leads to: yes Moth Eb; oh yeah Moth D; then one called Moth, G."""
    made = []
    for line in lines:
        said, is_led = _said_first(line.text) if line.text[:1].islower() and len(line.text) < LONG else ("", False)
        rest = TO_FINISH.sub("", line.text[len(said) :]) if said else ""
        song = _with_key_apart(rest, notation, is_close=is_led) if rest[:1].isupper() else None
        if song is None and rest[:1].isupper() and _CALLED.search(said):
            song = rest
        if song is None and (found := _AND.match(line.text)) and TO_FINISH.search(line.text):
            said, song = found[0], TO_FINISH.sub("", line.text[found.end() :])  # and moth (A) to finish
        made.append(msgspec.structs.replace(line, text=song, talk=said.strip()) if song else line)
    return made


def _said_first(text: str) -> tuple[str, bool]:
    """Return the words of talk in front of a title with a capital letter, and whether they lead to one as sentences do.

    oh yes Moth: no; and we finish with Moth: yes.
    """
    other = _OTHER_SENTENCE.match(text)
    begin = other.end() if other else 0
    rest = text[begin:]
    found = _ASSENT.match(rest)
    end = found.end() if found else 0
    at = 0 if _ABOUT_SONG.match(rest) else lead_of(rest, rises=True)
    return (text[: begin + max(end, at)], at > end) if max(end, at) or not other else ("", False)


def _with_key_apart(text: str, notation: Notation, *, is_close: bool = False) -> str | None:
    """Return a title and its key, the key in brackets where words follow: Moth (D), after Weeds; None without a key.

    ``is_close``: only where the key is right behind the title.
    """
    if _SAYS_KEY.search(text):
        return None  # sorry, Moth is in F not G
    bracket = IN_BRACKETS.search(text)
    is_inside = bracket is not None and bool(text[: bracket.start()].strip() and text[bracket.end() :].strip())
    if bracket and is_inside and plain_key(bracket[0][1:-1], notation=notation):
        return text  # then Moth (D) not before the drums
    text = _ALSO.sub(" ", text)
    first, *others = _COMMAS.split(text)
    if TO_FINISH.search(first):
        first = TO_FINISH.sub("", first)
        text = ", ".join([first, *others])  # add Moth at the end, it's in G
    end = key_at_end(first, notation)
    if others and end and end.written[:1].isupper():
        return f"{end.before} ({end.written}), {', '.join(others)}"
    if is_close and (others or INSTEAD.search(text)):
        return None  # we'll do Moth there instead. D
    is_keyed = key_at_end(text, notation) or (others and key_at_end(f"x {others[0]}", notation))
    return text if is_keyed else None


def _added(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Return the lines of a chat; talk that adds a song under the next number is that song: ok 6 Moth then."""
    last, made = 0, []
    for line in lines:
        found = _ADDED.match(line.text) if line.message.sender and last else None
        if found and int(found[1]) == last + 1:
            line = msgspec.structs.replace(line, text=found[2], whole=found[2], number=last + 1)  # noqa: PLW2901
        bare = BARE_NUMBER.match(line.text)
        number = line.number if line.number is not None else int(bare[1]) if bare else None
        last = number if number is not None and number == last + 1 else last
        made.append(line)
    return made


def _listed(lines: list[TextLine]) -> list[TextLine]:
    """Part the one line of a short message that names all songs, a comma between them: tonight: moth, weeds, ..."""
    filled = [line for line in lines if line.text and not line.message.is_envelope]
    named = [(line, _titles_in(_first_sentence(line.text))) for line in filled]
    found = [(line, songs) for line, songs in named if len(songs) >= FEWEST_NAMED]
    if len(filled) > MAX_LINES or len(found) != 1 or says_same_as_before(found[0][0].text):
        return lines
    (one, songs) = found[0]
    is_talk = any(not 0 < len(song.split()) <= LONGEST_SONG or any(sign in song for sign in "()?!:") for song in songs)
    if is_talk or len(one.text) > LONGEST:
        return lines
    songs = [_AND.sub("", song) for song in songs]
    made = []
    for line in lines:
        rows = [msgspec.structs.replace(line.row, cells=(song,), text=song) for song in songs] if line is one else []
        made += [
            msgspec.structs.replace(line, row=row, text=song, whole=song)
            for row, song in zip(rows, songs, strict=False)
        ] or [line]
        if line is one and (behind := line.text[len(_first_sentence(line.text)) :].lstrip(" .!?")):
            row = msgspec.structs.replace(line.row, cells=(behind,), text=behind)
            made.append(msgspec.structs.replace(line, row=row, text=behind, whole=behind))
    return made


def _first_sentence(text: str) -> str:
    """Return a line up to the end of the sentence that names the songs; what follows is talk."""
    found = _BEFORE_LIST.match(text)
    stop = _SENTENCE_ENDS.search(text, found.end() if found else 0)
    return text[: stop.start()] if stop else text


def _titles_in(text: str) -> list[str]:
    """Return the titles between commas; "and" separates the last two: Moth, Weeds, Kite and Fog Bell to finish."""
    titles = _COMMAS.split(TO_FINISH.sub("", _BEFORE_LIST.sub("", text).rstrip(" .")))
    if len(titles) >= FEWEST_NAMED - 1 and not _AND.match(titles[-1]):
        titles[-1:] = _LAST_AND.split(titles[-1], maxsplit=1)
    return titles


def _without_talk(line: TextLine) -> TextLine:
    """Take the words off that lead to a title; where they might belong to it, it is in doubt: slow one: moth - F."""
    if (found := _LEAD.match(line.text)) and not _leads(line.text[found.end() :]):
        text, said = line.text[found.end() :], found[0].strip(" ,")
        talk = said if said in _MAY_BE_TITLE or said.endswith((" is", "’s", "'s", " comes")) else line.talk
    else:
        at = 0 if line.part or line.is_marked else _leads(line.text)
        text, talk = line.text[at:], line.text[:at].strip(" ,:") or line.talk
    text = TO_FINISH.sub("", _THAT.sub(" ", text).strip())
    if (heading := read_heading(text)) and heading.is_word and heading.also:
        return line  # then back up, moth Bm
    if talk and (key := next(keys_in(text, Notation.LETTERS), None)) and key.end < len(text):
        text = f"{text[: key.begin]} ({key.written}){text[key.end :]}"  # off to moth A big ending
    return msgspec.structs.replace(line, text=text, whole=text, talk=talk) if text else line


def _leads(text: str) -> int:
    """Return how long the words are that lead to a title in small letters: opening w/; last one is. One may be its."""
    at = lead_of(text, rises=False) if text[:1].islower() and len(text) < LONG else 0
    is_said = len(text[:at].split()) > 1 or text[:at].rstrip().endswith(":") or "'s" in text[:at]
    names_set = any(read_set(" ".join(pair)) for pair in itertools.pairwise(text[:at].split()))
    return at if is_said and not names_set and any(map(str.isalpha, text[at:])) else 0


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
