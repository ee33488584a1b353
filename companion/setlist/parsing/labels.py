"""Labels before titles that say when a song is played, or by whom: First dance: Moth; Worship 2 - Weeds."""

import re
from collections.abc import Sequence

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.pieces import APART, read_piece

MOST_LABELLED = 0.4  # share of the songs; from which on every word before a colon is a label
MOST_DASHED = 0.7
FEWEST = 2
MAX_WORDS = 4
_LABEL = re.compile(r"^([^\W\d_][^:|()\[\]\t]{0,40}?(?:\s?\([^():]{1,40}\))?)\s*:\s+(?=\S)")
_DASHED = re.compile(r"^([^\W\d_](?:[^:|()\[\]\t–—-]|(?<=\w)-(?=\w)){0,30}?(?:\s\([^():]{1,20}\))?)\s+[-–—]\s+(?=\S)")
_BRACKET = re.compile(r"\s?\([^()]*\)$")
_DASH = re.compile(r"\s[-–—]\s")
_BEGINS_WITH_A = re.compile(r"^(?:A|As|Am|Es|Do|La|Re|Mi|Si)\s[A-Z][a-z]")  # A Light in the Vestry
# Words of a wedding, a service, a theatre or a ballroom for the place of a song (common practice, no source).
_DANCES = (
    "(?:slow |quick |english |viennese |modern |square )?(?:waltz|walzer|valse|vals|foxtrott?|cha[- ]?cha(?:[- ]cha)?|"
    "quick ?step|tango|rumba|jive|samba|paso ?doble|bossa(?: nova)?|disco ?fox|polka|slow ?fox|mambo|salsa|merengue|"
    "bolero|two[- ]step|barn dance|saunter|gay gordons|strip the willow|dashing white sergeant|eightsome reel|jig|reel)"
)
_ROLE = re.compile(
    rf"^{_DANCES}$|"
    r"^(?:the |choir |organ |band |all |everyone )?(?:(?:first|last|final|1st|bridal|out|in|coffin|"
    r"band|singers?|soloist|company|dancers|duet|"
    r"bride(?:'s)?|groom(?:'s)?|father\S*|mother\S*|parents?'?|cake|"
    r"couple(?:'s)?|opening|closing|opener|closer|encore|finale|special|surprise|birthday|guests?|signing|register|"
    r"exit|entrance|entry|arrivals?|arriving|walk|prelude|postlude|processional|recessional|offering|offertory|communion|gathering|"
    r"sending|dismissal|sortie|gospel|response|"
    r"confession|commitment|committal|reflection|acclamation|ministry|close|worship|praise|call to \w+|"
    r"psalm|hymn|gloria|kyrie|sanctus|lighting|prayer|candles?|"
    r"blessing|spare|reserve|request|dinner|drinks|intro|outro|play|eröffnungstanz|hochzeitstanz|einzug|auszug|"
    r"ringe?|ringtausch|trauung|kommunion|eingang|brudevals|brudvals|indgang|udgang|overture|march|fanfare|anthem|introit|voluntary|häävalssi|openingsdans|bruidsdans|ingresso|uscita|"
    r"anelli|entrata|entrega|saída|valsa|vals|valse|pierwszy|první|ouverture|entrée|sortie|primer|baile|entrada|salida)\b)"
    r"(?:[ /]?(?:\d{1,2}(?!\d)|in|on|out|down|off|up|of|to|the|for|music|song|hymn|dance|number|tune|entrance|entry|"
    r"candles?|lighting|acclamation|"
    r"response|"
    r"exit|arrive|arriving|arrival|register|cutting|daughter|son|worship|praise|mother|father|bride|groom|de|baile|"
    r"dos noivos|da noiva|des mariés|de la mariée|degli sposi|de los novios|"
    r"der braut|bruidspaar|brudepar|brudparet|pary młodej|taniec|tanz|dans|ballo))*$",
    re.IGNORECASE,
)


def label_of(text: str) -> tuple[str, str] | None:
    """Split a label and a colon off a line's front: (the label, the rest)."""
    found = _LABEL.match(text)
    if not found or len(found[1].split()) > MAX_WORDS or _is_fact(text[found.end() :]):
        return None
    return found[1], text[found.end() :]


def _is_fact(text: str) -> bool:
    """Return whether a colon parts a title from its key: Moth: G, keys start; Weeds: Am 124."""
    first = _DASH.split(APART.split(text)[0])[0]
    if plain_key(first.strip(), notation=Notation.SYLLABLES):
        return True
    if read_piece(first, Notation.GERMAN).says_something:
        return True
    return plain_key(first.split()[0]) is not None and not _BEGINS_WITH_A.match(first)


def role_of(text: str) -> tuple[str, str] | None:
    """Split words for a song's place in the evening off a line's front, before a colon or a dash."""
    found = _LABEL.match(text) or _DASHED.match(text)
    if not found or not _ROLE.match(_BRACKET.sub("", found[1])) or _is_fact(text[found.end() :]):
        return None
    return found[1], text[found.end() :]


def dashed_label(text: str) -> tuple[str, str] | None:
    """Split the words before the first dash off, whatever they say: St Odo's Waltz - Weeds - G."""
    found = _DASHED.match(text)
    return (found[1], text[found.end() :]) if found and not _is_fact(text[found.end() :]) else None


def have_dashed_labels(texts: Sequence[str]) -> bool:
    """Return whether nearly every line has words before a dash, and in many these say when or how it is danced."""
    dashed = sum(dashed_label(text) is not None for text in texts)
    known = sum(role_of(text) is not None for text in texts)
    small = sum(
        bool((found := dashed_label(text)) and found[0][0].islower() and found[1][:1].isupper()) for text in texts
    )
    if small >= max(FEWEST, MOST_DASHED * len(texts)):
        return True  # chase - Moth (G)
    return known >= max(FEWEST, MOST_LABELLED * len(texts)) and dashed >= MOST_DASHED * len(texts)


def are_labelled(texts: Sequence[str]) -> bool:
    """Return whether so many lines begin with words and a colon that these are labels, whatever they say."""
    found = sum(label_of(text) is not None for text in texts)
    return found >= max(FEWEST, MOST_LABELLED * len(texts))


def have_roles(texts: Sequence[str]) -> bool:
    """Return whether several lines begin with words for a song's place, so that a dash parts them from the title."""
    return sum(role_of(text) is not None for text in texts) >= FEWEST


def without_label(text: str, *, labelled: bool, roles: bool) -> str:
    """Return the text without its label, by what the whole list does."""
    found = (label_of(text) if labelled else None) or (role_of(text) if roles else None)
    return found[1] if found else text
