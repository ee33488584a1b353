"""Words that take a song out of the list: CUT, not tonight, dropped: Moth, a cross in front."""

import re

from companion.setlist.parsing.patterns import PART_OF_SONG

_WORDS = (
    r"cut|out|dropped|drop(?: this)?|skip(?:ped)?(?: this| it)?|scrap(?:ped)?|scratched|omit(?:ted)?|deleted|removed|"
    r"rested|left out|leave out|"
    r"not (?:tonight|played|playing|this time|doing|used|today|needed)|no longer|won't play|dnp|cancelled|"
    r"gestrichen|entfällt|fällt (?:aus|weg)|raus|nicht spielen|supprimée?|annulée?|on ne joue pas|quitar|fuera|"
    r"eliminada|tolta|eliminata|geschrapt|verval(?:t|len)|niet spelen|strøket|utgår|udgår|skreślone|nie gramy|vynechat"
)
_BEHIND = re.compile(
    rf"^(.*\S)\s*(?:[-–—:,|]+\s*|[(\[]\s*)"
    rf"((?:{_WORDS})\b[!.\s]*(?:tonight|today|this time|for now|[!.])?)[)\]]?(?:\s*\([^()]{{1,40}}\))?[\s!.]*$",
    re.IGNORECASE,
)
_SHOUTED = re.compile(r"^(.*\S)\s+(CUT|DROPPED|SKIP|OUT|DNP)!*(?:\s?[,:;(–-]\s?[a-z][^A-Z]{0,40})?$")
_SHOUTED_OUT = (
    "OUT|DROPPED|NOT TONIGHT|NOT PLAYED|DNP|RAUS|GESTRICHEN|FÄLLT AUS|ENTFÄLLT|FUERA|SUPPRIMÉE?|ELIMINATA|VERVALT|"
    "UTGÅR|UDGÅR|STRØKET"
)
_SHOUTED_ALONE = re.compile(rf"^(?:CUT|DROP|SKIP|{_SHOUTED_OUT})!*(?=\s*[(:,;–—-]|\s*$)")  # OUT (too quiet)
_SHOUTED_IN_FRONT = re.compile(rf"^(?:{_SHOUTED_OUT})\s[^\W\dA-ZÀ-Þ]")  # OUT too quiet; not CUT last chorus, DROP D
_POINTED_OUT = re.compile(  # Moth <- nope, scratch that one
    r"^(.*\S)\s+(?:<[-–=]{1,3}|←|<<)\s*((?:nope|"
    r"(?:scratch|skip|forget|ignore|drop|cut|lose|not) (?:this|that|it)(?: one)?|out|dropped|"
    r"skipped|raus|weg|streichen|gestrichen|fuera|fällt aus|utgår|vervalt)(?!\w)[^<←]{0,60})$",
    re.IGNORECASE,
)
_CLAUSES = re.compile(r"\s[-–—|/:]+\s|[,;:]\s|\s?\(|\s{2,}")
_OTHER_PARTS = re.compile(
    r"\b(?:refrein|refräng(?:en)?|refreng(?:et)?|omkvæd(?:et)?|vers(?:et|en)?|verso|verses|estrofas?|strofa|strof[ye]|couplets|takte?|"
    r"stick|brygga|bro(?:en)?|puente|ponte|refren(?:em|u)?|zwrotk[aię]|sloka|słow[ao]|beginning|start|anfang|schluss|début|"
    r"fin|inizio|begin|einde|first (?:half|time)|last (?:line|time))\b",
    re.IGNORECASE,
)
_LONG_RULE = re.compile(r"[-–—:,|]{8}")  # a line of decoration
_BEFORE = re.compile(rf"^(?:{_WORDS})\s*[:–—]\s*(\S.*)$", re.IGNORECASE)
LONGEST = 200  # characters of a line with a song in place of another
_SHOUTED_BEFORE = re.compile(rf"^(?:CUT|SKIP|{_SHOUTED_OUT})!*\s+-\s+(\S.{{2,}})$")  # OUT - Moth - G; no key alone
_REPLACED = re.compile(
    r"^(\S.*?)[\s(,–—>→=-]+(?:is |now )?(?:replaced|swapped|changed|ersetzt|remplacée?) "
    r"(?:by|with|for|to|durch|par) (\S.*)$",
    re.IGNORECASE,
)
_CROSSED = re.compile(r"^(?:[xX✗✘❌🚫⛔]\s+)(?=\S)")


def taken_out(text: str) -> tuple[str, str] | None:
    """Return the line without the words that say it is not played, and these words; None if it says nothing so.

    >>> taken_out("Gasworks Corner - A - DROPPED")
    ('Gasworks Corner - A', 'DROPPED')
    >>> taken_out("Way Out")
    >>> taken_out("Gasworks Corner - A - last chorus a cappella, not playing")
    """
    if _LONG_RULE.search(text):
        return None
    if pointed := pointed_out(text):
        return pointed
    found = _BEHIND.match(text) or (None if text.isupper() else _SHOUTED.match(text))
    if found and _names_a_part(found[1]):
        return None
    return (found[1].rstrip(" -–—:,|(["), found[2].strip(" .!")) if found else None


def _names_a_part(before: str) -> bool:
    """Return whether the last words behind a title name a part of the song, which alone is not played."""
    clauses = _CLAUSES.split(before)
    return len(clauses) > 1 and (
        PART_OF_SONG.search(clauses[-1]) is not None or _OTHER_PARTS.search(clauses[-1]) is not None
    )


def pointed_out(text: str) -> tuple[str, str] | None:
    """Return the title and the words behind an arrow that say it is not played.

    >>> pointed_out("Gasworks Corner <- nope, scratch that one")
    ('Gasworks Corner', 'nope, scratch that one')
    >>> pointed_out("Gasworks Corner <- not too fast")
    """
    found = _POINTED_OUT.match(text) if len(text) < LONGEST else None
    return (found[1], found[2].strip()) if found else None


def says_not_played(cell: str) -> bool:
    """Return whether a cell says that its row is not played, and nothing else but why.

    >>> [says_not_played(cell) for cell in ("dropped", "OUT (too quiet)", "OUT - never again", "out on the bridge")]
    [True, True, True, False]
    """
    return bool(_SHOUTED_ALONE.match(cell)) or taken_out(f"x - {cell}") == ("x", cell.strip(" .!"))


def takes_song_out(cell: str) -> bool:
    """Return whether the notes of a song say that it is not played; the reason may follow without a sign.

    >>> [takes_song_out(cell) for cell in ("OUT too quiet", "CUT", "CUT last chorus", "CUT TIME")]
    [True, True, False, False]
    """
    return says_not_played(cell) or bool(_SHOUTED_IN_FRONT.match(cell))


def names_taken_out(text: str) -> str | None:
    """Return what a line such as "Not tonight: Moth, Weeds" or "OUT - Moth - G" takes out."""
    found = _BEFORE.match(text) or (None if text.isupper() else _SHOUTED_BEFORE.match(text))
    return found[1] if found else None


def replaced(text: str) -> tuple[str, str] | None:
    """Split a line into the song that is not played and the one in its place: Moth (D) -> REPLACED by Weeds (A)."""
    found = _REPLACED.match(text) if len(text) < LONGEST else None
    return (found[1].rstrip(" -–—:,|(["), found[2].strip()) if found else None


def is_crossed(text: str, emoji: str = "") -> bool:
    """Return whether a cross is before the line, as text or as a picture that was taken off it."""
    return bool(_CROSSED.match(text)) or emoji[:1] in tuple("✗✘❌🚫⛔")


def without_cross(text: str) -> str:
    """Return the line without the cross before it."""
    return _CROSSED.sub("", text)
