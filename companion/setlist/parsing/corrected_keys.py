"""A key that its own line takes back and replaces: Moth G no wait, A; Weeds (C) - sorry, D now."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.text_lines import TextLine

LONGEST: Final = 200
_KEY: Final = r"[A-H](?:[b#♭♯]|is|es|\sflat|\ssharp)?(?:m|\s?(?:minor|major|min|maj|moll|dur))?"
_TAKES_BACK: Final = (  # what people say when they correct themselves, in each language (no single source)
    r"(?:no|nope|nah|wait|hang on|hold on|sorry|sry|actually|oops|whoops|correction|scratch that|strike that|typo|"
    r"i mean|i meant|rather|wrong|nein|nee|halt|moment|quatsch|stimmt nicht|ich meine|non|pardon|désolée?|enfin|"
    r"espera|perdón|perdona|digo|scusa|anzi|aspetta|desculpa|aliás|wacht|nej|vent|vänta|förlåt|unnskyld|undskyld|ups)"
)
_LEADS: Final = (
    r"(?:it['’]?s|it is|its|now|in|that['’]?s|make (?:it|that)|should be|we do|we play|do it|do|es ist|jetzt|doch|"
    r"c['’]est|en|es|è|in|het is|toch|det er|det är|i)"
)
_CORRECTED: Final = re.compile(
    rf"(?P<sign>[\s,:–—|(\[-])(?P<old>{_KEY})[)\]]?[\s,;:.…(–—/-]{{1,6}}(?:{_TAKES_BACK}[\s,;:!.…–—-]{{1,4}}){{1,3}}"
    rf"(?:{_LEADS}\s){{0,3}}(?P<new>{_KEY})(?:\s(?:now|tonight|instead|then|jetzt|maintenant|ahora|adesso|agora|nu))?"
    r"[)\].!]{0,2}$",
    re.IGNORECASE,
)


def with_corrected_keys(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines, each key that its line takes back left out, with the words that say so kept beside the line."""
    return [_corrected(line, notation) for line in lines]


def _corrected(line: TextLine, notation: Notation) -> TextLine:
    found = _CORRECTED.search(line.text) if len(line.text) <= LONGEST else None
    if found is None or line.message.is_envelope or not line.text[: found.start()].strip():
        return line
    old, new = (_as_key(found[name], notation) for name in ("old", "new"))
    if not old or not new or old == new:
        return line
    title = line.text[: found.start("sign")].rstrip()
    is_bare = found["sign"] in ("(", "[") or title[-1:].isalnum()
    text = f"{title} ({new})" if is_bare else f"{line.text[: found.start('old')]}{new}"
    said = line.text[found.start("sign" if found["sign"] in ("(", "[") else "old") :].strip()
    whole = line.whole.removesuffix(line.text) + text if line.whole.endswith(line.text) else text
    return msgspec.structs.replace(line, text=text, whole=whole, corrected=said)


def _as_key(written: str, notation: Notation) -> str:
    is_small = written[:1].islower() and notation is not Notation.GERMAN
    said = written[:1].upper() + written[1:] if is_small else written
    return said if plain_key(said, notation=notation) else ""


def doubt_corrected_keys(found: Sequence[Classified]) -> None:
    """Doubt each key that replaces another one in its line."""
    for one in found:
        if one.line.corrected and one.draft and one.draft.key:
            one.draft.note(one.line.corrected)
            says = f"the line corrects its key: {one.line.corrected}"
            one.draft.doubts.append(doubtful_key(says, one.draft.title, str(one.draft.key)))
