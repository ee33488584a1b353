"""Settle keys that are said by how far they move, from the key that the show says or the record's."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.reply_readings import Claim
from companion.leader.settled_claims import ClaimedValue, ReplySettling
from companion.leader.stated_fact import StatedFact

_RECORD: Final = re.compile(r"\b(?:record|recording|original|single|album)\b", re.IGNORECASE)


def settle_moved_keys(settling: ReplySettling, moved: Sequence[tuple[Claim, str]]) -> None:
    """Move the key that the show says, or the record's, with a doubt; beside a key that the reply says it is a note."""
    for claim, field in moved:
        semitones = int(claim.fact.value) if isinstance(claim.fact, StatedFact) else 0
        for place in claim.about.songs:
            song, set_at = settling.song(place), settling.names.songs[place][0]
            of_record = song.record_key if _RECORD.search(claim.words) else None
            base = of_record or song.key or song.record_key
            said = settling.values.get((set_at, place, "key"), [])
            key = base.transposed(semitones) if base else None
            if said:
                if key is None or str(said[-1].value) != str(key):
                    said[-1] = said[-1]._replace(doubt=said[-1].doubt or claim.words)
                else:
                    said[-1] = said[-1]._replace(corrects=True, denied=str(song.key or ""))
                settling.add(set_at, place, ClaimedValue("notes", claim.words, "", corrects=False))
            elif key is None:
                settling.leave(claim.about._replace(songs=(place,)), claim.words, field or "key")
            else:
                doubt = "; ".join(filter(None, (claim.doubt, f"{claim.words}, from {base}")))
                denied = str(song.key or "")
                settling.add(set_at, place, ClaimedValue("key", str(key), doubt, bool(denied), denied, claim.words))
        if not claim.about.songs:
            settling.leave(claim.about, claim.words, field or "key")
