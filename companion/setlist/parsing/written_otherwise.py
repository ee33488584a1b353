"""Lines of a list that is written in its own way throughout: all in capitals, a point after each field."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.patterns import NAMED_NUMBER
from companion.setlist.parsing.text_lines import TextLine

FEWEST: Final = 3  # lines written so
MOST: Final = 0.5  # share of the lines
MOST_SHOUTED: Final = 0.8
MOST_WORDS: Final = 80  # letters of the words after a slash
_SHOUTED_MINOR = re.compile(r"(?<=[^\s\d])(\s(?:[-–—/|(]\s?)?)([A-G](?:#|B(?=M))?)M(?=\)?$|\)?\s[-–—/|(]|\s{2,})")
_POINTED = re.compile(
    r"^(\S.{0,80}?)\.\s+([A-H](?:[b#♭♯]|\s(?:flat|sharp))?(?:m|\s(?:minor|major))?)\.(?:\s+(\S.*))?$", re.IGNORECASE
)
_TEMPO_AND_KEY = re.compile(r"^(\S[^/]{0,80}?)\s+(\d{2,3})\s?/\s?(\S{1,8})$")  # Moth 128/G
_KEY_AND_TEMPO = re.compile(r"^(\S[^/]{0,80}?)\s+(\S{1,8})\s?/\s?(\d{2,3})$")  # Moth G/128
_KEY_LAST = re.compile(r"^(\S.{0,80}?)\s([A-H]\S{0,7}(?:\s(?:flat|sharp|minor|major))?)$")  # before the slash: Moth G
_NOTE = r"[A-G](?:[b#♭♯]|\s(?:flat|sharp))?(?:m|\s(?:minor|major))?(?![\w#♭♯])"
_OURS = (
    r"(?<!\w)(?i:we|us|ours?|our key|band|for us|live|now|wir|nous|noi|wij)"
    r"(?i:['’]re|\s(?:do|play|use|have|are|go))?(?i:\s(?:it|this|in))*\s?[:=]?\s?"
)
_ORIGINAL = (
    r"(?<!\w)(?i:orig(?:inal(?:ly|e)?)?|record(?:ing|ed)?|rec|album|studio)\.?"
    r"(?i:\s(?:is|was|key))?(?i:\s(?:in|is))?\s?[:=]?\s?"
)
_BETWEEN = r"\s{0,4}(?:->|=>|[→>,;/|–-])?\s?(?i:but\s|and\s)?"
_THEN_OURS = re.compile(rf"{_ORIGINAL}({_NOTE}){_BETWEEN}{_OURS}({_NOTE})")  # orig Ab, we do F
_OURS_FIRST = re.compile(rf"{_OURS}({_NOTE}){_BETWEEN}{_ORIGINAL}({_NOTE})")
_FIELDS = re.compile(  # Moth 3:25 E 152, where a long title leaves no gaps
    r"^([^\d\s].{0,80}?\S)\s+(\d{1,2}:[0-5]\d)\s+([A-Ha-h]\S{0,3})(?:\s+(\d{2,3}(?:\s?bpm)?))?(?=$|\s)(.*)$"
)
_DOTTED = re.compile(r"\S\s?\.{3,}\s?\S")  # Moth ..... G
_ONE_DOT = re.compile(r"(?<=\S)\s\.{1,2}\s(?=\S)")
_GLUED_DOT = re.compile(r"(?<=[^\W\d_])\.{1,2}(?=[A-H][b#♭♯]?m?(?:$|\s))")  # MOTH ON THE LAMP.C, among MOTH....G
_SPELT_OUT = re.compile(  # Moth, in E flat. Slow, please
    r"^(\S[^()\[\].]{1,60}?),?\s(?:in|en)\s([A-H])[\s-](flat|sharp)(\sminor)?(?:\smajor)?[.;!]\s(?=\S)"
)
_SPACED = re.compile(r"^(?:[A-Z] ){3,20}[A-Z]$")


def as_usual(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines as other lists have them: Am for AM in capitals; dashes in Moth. G. Slow.; INTERVAL unspaced."""
    lines = [_changed(line, line.text.replace(" ", "")) if _SPACED.match(line.text) else line for line in lines]
    lines = _with_leaders([_with_gaps(line, notation) for line in lines])
    lines = _without_points(_without_shouting([_with_our_key(_with_signs(line)) for line in lines]), notation)
    return _without_named_numbers(_without_slashes(lines, notation))


def _changed(line: TextLine, text: str) -> TextLine:
    return msgspec.structs.replace(line, text=text, whole=line.whole.replace(line.text, text))


def _with_our_key(line: TextLine) -> TextLine:
    """Put the key that the band plays in first: F (orig Ab) for orig Ab, we do F."""
    for pattern, ours, other in ((_THEN_OURS, 2, 1), (_OURS_FIRST, 1, 2)):
        if (found := pattern.search(line.text)) and found.start():
            before, behind = line.text[: found.start()], line.text[found.end() :]
            if before[-1:] in "([" and behind[:1] in ")]":
                before, behind = before[:-1].rstrip() + " ", behind[1:]
            return _changed(line, f"{before}{found[ours]} (orig {found[other]}){behind}")
    return line


def _with_gaps(line: TextLine, notation: Notation) -> TextLine:
    """Part the length, key and tempo behind a title by gaps."""
    found = _FIELDS.match(line.text)
    if not found or plain_key(found[3], notation=notation) is None:
        return line
    return _changed(line, "  ".join(filter(None, (found[1], found[2], found[3], found[4], found[5].strip()))))


def _with_leaders(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Lengthen dots for which a long title leaves no room, where other lines have a row of them: Moth . G."""
    if sum(bool(_DOTTED.search(line.text)) for line in lines) < FEWEST:
        return lines
    return [line if _DOTTED.search(line.text) else _changed(line, _with_leader(line.text)) for line in lines]


def _with_leader(text: str) -> str:
    return _GLUED_DOT.sub(" ... ", _ONE_DOT.sub(" ... ", text, count=1), count=1)


def _with_signs(line: TextLine) -> TextLine:
    """Write a key with its sign where a sentence follows its words: Moth (Eb) - Slow, for Moth, in E flat. Slow."""
    found = _SPELT_OUT.match(line.text)
    if not found:
        return line
    key = found[2] + ("b" if found[3] == "flat" else "#") + ("m" if found[4] else "")
    return _changed(line, f"{found[1]} ({key}) - {line.text[found.end() :]}")


def _filled(lines: Sequence[TextLine]) -> int:
    return sum(bool(line.text) and not line.message.is_envelope for line in lines)


def _without_shouting(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Write minor keys with a small m, where nearly everything is in capitals: EM is Em."""
    spoken = [line.text for line in lines if any(map(str.isalpha, line.text)) and not line.message.is_envelope]
    if len(spoken) < FEWEST or sum(text.isupper() for text in spoken) < MOST_SHOUTED * len(spoken):
        return lines
    return [_changed(line, _SHOUTED_MINOR.sub(_minor, line.text)) if line.text.isupper() else line for line in lines]


def _minor(found: re.Match[str]) -> str:
    return f"{found[1]}{found[2][:1]}{found[2][1:].lower()}m"


def _without_points(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Part title, key and remark at dashes, where most lines part them at points: Moth. G. Nothing till the chorus."""
    found = [_POINTED.match(line.text) for line in lines]
    keyed = [one if one and plain_key(one[2], notation=notation) else None for one in found]
    count = sum(one is not None for one in keyed)
    if count < max(FEWEST, MOST * _filled(lines)):
        return lines
    return [
        _changed(line, " - ".join(filter(None, (one[1], one[2], (one[3] or "").rstrip("."))))) if one else line
        for line, one in zip(lines, keyed, strict=True)
    ]


def _without_slashes(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Part title, tempo, key and words at dashes, where most lines have a slash there: Moth 128/G; Moth Db / slow."""
    made = {at: fields for at, line in enumerate(lines) if (fields := _slashed(line.text, notation))}
    if len(made) < max(FEWEST, MOST * _filled(lines)):
        return lines
    return [_changed(line, " - ".join(made[at])) if at in made else line for at, line in enumerate(lines)]


def _slashed(text: str, notation: Notation) -> tuple[str, ...]:
    """Return the title, the key and what else a line says; empty if it is not written so."""
    if (found := _TEMPO_AND_KEY.match(text)) and plain_key(found[3], notation=notation):
        return found[1], f"{found[2]} bpm", found[3]
    if (found := _KEY_AND_TEMPO.match(text)) and plain_key(found[2], notation=notation):
        return found[1], found[2], f"{found[3]} bpm"
    before, slash, words = text.partition(" / ")
    if slash and 2 <= len(words) <= MOST_WORDS and "/" not in before + words:
        found = _KEY_LAST.match(before.rstrip())
        if found and plain_key(found[2], notation=notation):
            return found[1].rstrip(), found[2], words.strip()
    return ()


def _without_named_numbers(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take No. 1 and No. 2 off, where several lines begin so and count up; No. 7 Tram alone is a title."""
    found = [NAMED_NUMBER.match(line.text) if line.number is None else None for line in lines]
    numbers = [int(one[1]) for one in found if one]
    if len(numbers) < 2 or (numbers != sorted(numbers) and len(numbers) < MOST * _filled(lines)):
        return lines
    return [
        msgspec.structs.replace(line, text=line.text[one.end() :], number=int(one[1])) if one else line
        for line, one in zip(lines, found, strict=True)
    ]


def doubt_shouted_keys(found: Sequence[Classified]) -> None:
    """Doubt each minor key that is written with a large M, which may mean major: EM."""
    for one in found:
        draft = one.draft
        if one.took is not LineKind.SONG or draft is None or draft.key is None or draft.doubts:
            continue
        written = str(draft.key).upper()
        if (
            written.endswith("M")
            and draft.text.isupper()
            and re.search(rf"(?<!\w){re.escape(written)}(?!\w)", draft.text)
        ):
            draft.doubts.append(doubtful_key(f"{written} read as {draft.key}", draft.title, str(draft.key)))
