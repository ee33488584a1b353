"""Songs that are listed below a heading which says the same of each: "Not playing", "Still to come"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import SIGN, Phrases, phrase_of, set_of, words_of
from companion.leader.songs_meant import SongNames

_GONE: Final = folded_phrases(
    "not playing | not played | not doing | no longer playing | dropped | drop | cut | skipped | skip | left out | "
    "leave out | cancelled | out | removed | gestrichen | entfällt | entfallen | fällt aus | fallen aus | raus | "
    "nicht gespielt | spielen wir nicht | supprimé | supprimés | supprimées | on ne joue pas | non jouées | "
    "no tocamos | no se tocan | fuera | eliminadas | non suoniamo | tolte | eliminati | eliminate | "
    "não tocamos | fora | cortadas | "
    "vervalt | vervallen | spelen we niet | niet gespeeld | utgår | struket | strukna | spelas inte | udgår | "
    "spilles ikke | spiller vi ikke | nie gramy | wypadają | nehrajeme"
)
_OPEN: Final = folded_phrases(
    "still to come | to come | to follow | to be confirmed | tbc | tba | tbd | still open | open | not sure yet | "
    "don't know yet | no idea yet | later | folgt noch | folgen noch | noch offen | offen | à venir | à confirmer | "
    "pendiente | pendientes | por confirmar | da confermare | a confirmar | volgt nog | nog open | återkommer | "
    "kommer senere | do potwierdzenia | ještě nevím"
)
_JOINS: Final = set_of("and und et y e en og och i a")


def told_by_heading(lines: Sequence[ReplyLine], names: SongNames) -> list[ReplyLine]:
    """Put what a heading says after each line below it that only names songs; a heading without such stays."""
    kept: list[ReplyLine] = []
    said = ""  # what the heading above says
    heading: ReplyLine | None = None  # until a song follows
    for line in lines:
        if line.ends_block:
            kept.append(line)
            continue
        if said and not line.field and not line.is_quoted and _only_names_songs(line.text, names):
            heading = None
            kept.append(line._replace(text=f"{line.text.strip(_MARKS)}: {said}"))
            continue
        if heading is not None:
            kept.append(heading)
        said = "" if line.field or line.is_quoted else _says(line.text)
        heading = line if said else None
        if not said:
            kept.append(line)
    return [*kept, heading] if heading is not None else kept


_MARKS: Final = " -–—*•·:,;"


def _says(text: str) -> str:
    return "not playing" if _is_whole(text, _GONE) else "tbc" if _is_whole(text, _OPEN) else ""


def _is_whole(text: str, many: Phrases) -> bool:
    words = words_of(text.strip(_MARKS))
    return bool(words) and phrase_of(words, 0, many) == len(words)


def _only_names_songs(text: str, names: SongNames) -> bool:
    words = words_of(text)
    at, found = 0, False
    while at < len(words):
        meant = names.numbered(words, at, None) or names.titled(words, at, haste=False)
        if meant is not None and meant.songs:
            at, found = meant.end, True
        elif words[at].kind == SIGN or words[at].low in _JOINS:
            at += 1
        else:
            return False
    return found
