"""Lines taken for notes or talk that hold a title and its key as the songs do: Moth (ré) on accélère à la fin."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.parsing.doubts import doubtful_song
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.line_kinds import is_chat, is_sentence
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import read_song

FEWEST: Final = 3  # songs with a key
MOST_KEYED: Final = 0.6  # share of the songs
MOST_WORDS: Final = 8  # of a title
_KEY: Final = r"[A-Ha-h](?:[b#♭♯]|es|is|s)?\s?-?(?:m|min|minor|maj|major|moll|dur|flat|sharp|flat minor|sharp minor)?"
_FORMS: Final = (
    re.compile(r"^(?P<title>[^()\[\]]{2,60})[(\[](?P<key>[^()\[\]]{1,20})[)\]](?P<rest>.*)$"),  # Moth (Am), 12 bar
    re.compile(  # moth - key of d (my fave), ukulele starts
        rf"^(?P<title>[^()\[\],–—]{{2,60}})(?:,|\s[-–—:])\skey\s(?:of\s|is\s)?(?P<key>{_KEY})(?P<rest>$|[\s,;.(?!].*$)",
        re.IGNORECASE,
    ),
    re.compile(  # Moth in G. piano solo twice
        r"^(?P<title>[^()\[\],.–—]{2,60})\s(?:in|en|i|em)\s(?P<key>[A-H][b#♭♯]?m?(?:\s(?:minor|major|flat|sharp))?)"
        r"(?P<rest>[.!…,;](?:\s.*|\.+\s?.*)?)$"
    ),
)


def take_keyed_lines(found: Sequence[Classified], style: Style) -> None:
    """Take each line among songs for one of them that holds a title and, at the place of a key, a key."""
    songs = [at for at, one in enumerate(found) if one.took is LineKind.SONG]
    drafts = [draft for at in songs if (draft := found[at].draft)]
    keyed = sum(draft.has_key for draft in drafts)
    if keyed < FEWEST or keyed < MOST_KEYED * len(drafts):
        return
    titles = {draft.title.casefold() for draft in drafts if draft.has_key}
    for one in found[songs[0] : songs[-1] + 1]:
        is_keyless = one.took is LineKind.SONG and one.draft is not None and not one.has_key
        is_other = one.took in (LineKind.NOTE, LineKind.LEFT) and not (one.facts or one.line.talk)
        is_other = is_other and not one.line.text.endswith(":")  # Potpourri (A):
        if (is_keyless or is_other) and not one.line.row.is_small:
            draft = _read(one, style)
            if draft and not any(title in draft.title.casefold() for title in titles):
                one.took, one.draft, one.doubts = LineKind.SONG, draft, ()


def _read(one: Classified, style: Style) -> Draft | None:
    line = one.line
    if line.row.indent > style.indent + 1 or line.text[:1] in "([->→*":
        return None
    for form in _FORMS:
        found = form.match(line.text)
        title = found["title"].strip(" -–—:,") if found else ""
        if not found or plain_key(found["key"].strip(), notation=style.notation) is None:
            continue
        words = title.split()
        if not 0 < len(words) <= MOST_WORDS or is_remark(title) or is_chat(title) or is_sentence(title):
            continue
        if style.capitals and not title[:1].isupper():
            continue
        plain = msgspec.structs.replace(line, text=f"{title} ({found['key'].strip()})")
        draft = read_song(plain, style)
        if draft.title and draft.has_key:
            if rest := found["rest"].strip(" .,;:–—-"):
                draft.take_each(rest)
            if form is not _FORMS[0] or not style.capitals:
                draft.doubts.append(doubtful_song("it may be talk", draft.title))
            return draft
    return None
