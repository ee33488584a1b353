"""Am at the end of a title: a key where other songs of the list have keys, a word in Who I Am."""

import re
from collections.abc import Sequence
from typing import Final

from companion.music import read_key
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection
from companion.setlist.parsing.doubts import YES
from companion.setlist.parsing.song_draft import Draft

FEWEST: Final = 2  # other songs with a key
SHARE: Final = 0.25  # of the others
_AM: Final = re.compile(r"^(?P<title>\S.*?)(?<!\bI)(?<!\bi)(?<!\bHere)(?<!\bWhere)(?<!\bWhat)(?<!\bWho)(?<!\bSo)\s+Am$")


def take_am_for_key(drafts: Sequence[Draft]) -> None:
    """Take Am off the titles that end in it for their key, where others have theirs; the player is asked."""
    keyed = sum(draft.has_key for draft in drafts)
    if keyed < max(FEWEST, SHARE * len(drafts)):
        return
    for draft in drafts:
        found = None if draft.has_key else _AM.match(draft.title)
        if found is None:
            continue
        whole, draft.title, draft.key = draft.title, found["title"], read_key("Am")
        no = DoubtAnswer("no", (FieldCorrection("title", whole), FieldCorrection("key")))
        question = f"Is {draft.title!r} in Am?"
        draft.doubts = [one for one in draft.doubts if one.question != question]
        draft.doubts.append(Doubt("Am read as the key; it may belong to the title", question, (YES, no), "key"))
