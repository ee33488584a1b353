"""Words that only a song's notes can hold: for how many bars, in which verse, how loud, on which recording."""

import re
from collections.abc import Container, Iterator, Sequence
from typing import Final

from companion.leader.hour_words import folded_words
from companion.leader.reply_words import LINK, ReplyWord, words_of
from companion.leader.settled_claims import ClaimedValue, ReplySettling

MAX_NOTED: Final = 14  # words
MIN_NOTED: Final = 2
OF_MUSIC: Final = folded_words(
    "bar bars beats verse verses chorus choruses bridge solo solos coda riff riffs groove tacet octave octaves unison "
    "harmony semitone modulate modulates pedal pad organ patch rubato swing shuffle half-time halfway slowly quiet "
    "quietly soft softly loud tape version session album cassette vocals instrumental trio feedback twice round sparse "
    "rings takt takte takten strophe strophen refrain zwischenspiel frei leise laut ruhig orgel halbton oktave fassung "
    "libre librement mesure mesures couplet couplets pont refrains doucement doux fort orgue octave version fois "
    "compás compases estrofa estribillo suave órgano semitono versión veces libero libera battuta battute strofa "
    "ritornello adagio organo semitono versione volte assolo compasso compassos estrofe refrão baixinho órgão versão "
    "vezes takter verser refräng refrängen refræng omkvæd lugnt tyst halvton gånger gange maten refrein zacht rustig "
    "keer taktów zwrotka zwrotki mostek cicho kaseta wersja razy taktů sloka potichu krát"
)
_FIELDS: Final = ("starts_with", "key", "ending", "recording", "length", "tempo")


def take_noted_words(settling: ReplySettling) -> None:
    """Ask whether words that made a value doubtful belong into the notes, where the value does not hold them."""
    for (set_at, place), words in tuple(_noted(settling)):
        notes = settling.values.get((set_at, place, "notes"), ())
        if not any(words in str(one.value) or str(one.value) in words for one in notes):
            settling.add(set_at, place, ClaimedValue("notes", words, words, corrects=False, line=words))


def _noted(settling: ReplySettling) -> Iterator[tuple[tuple[int | None, int], str]]:
    for (set_at, place, field), values in settling.values.items():
        if place is None or field not in _FIELDS or (set_at, place, "dropped") in settling.values:
            continue
        said = {word.low for one in values for word in words_of(str(one.value))}
        for why in dict.fromkeys(why for one in values for why in one.doubt.split("; ") if why in one.line):
            words = words_of(why)
            is_short = MIN_NOTED <= len(words) <= MAX_NOTED and not why.rstrip().endswith("?")
            is_noted = any((word.low in OF_MUSIC and word.low not in said) or word.kind == LINK for word in words)
            if field in _WITH_CUE and is_short and not is_noted and (cue := _cue(why, words, said)):
                yield (set_at, place), cue
            elif is_short and (is_noted or (field == "key" and _moves(words, said))):
                yield (set_at, place), why.strip(" ,;.–—-")


def _cue(text: str, words: Sequence[ReplyWord], said: Container[str]) -> str:
    """Return the words that tell how long a start or an ending goes on: vamp on the last line till Robin waves."""
    at = next((at for at, word in enumerate(words[:-1]) if at and word.low in _UNTIL), 0)
    is_told = at > 0 and words[at].low not in said and words[at + 1].low not in _AT_ONCE
    return text[words[at].start :].strip(" ,;.!–—-") if is_told else ""


_WITH_CUE: Final = ("ending", "starts_with")
_UNTIL: Final = folded_words(
    "until till til bis jusqu'à jusqu'au jusque hasta finché fino até tot tills indtil aż dokud"
)
_AT_ONCE: Final = folded_words("then now further we i'm later dann jetzt später alors ahora")  # till then


def _moves(words: Sequence[ReplyWord], said: Container[str]) -> bool:
    """Return whether a song goes into another key than the one that lands: after that it goes up to C#m."""
    moves = next((at for at, word in enumerate(words) if word.low in _MOVES), len(words))
    return any(_KEY.fullmatch(word.text) and word.low not in said for word in words[moves + 1 :])


_MOVES: Final = folded_words(
    "up down change changes changing goes moves modulates steps lifts rauf hoch runter wechselt geht moduliert monte "
    "montons descend passe module sube baja cambia sale alza scende passa modula muda vai omhoog omlaag gaat wisselt "
    "upp ner byter höjer op ned skifter går opp"
)
_KEY: Final = re.compile(r"(?:[A-H](?:[b#♭♯]|is|es|s)?(?:m|-?[Mm]oll|-?[Dd]ur)?|do|ré|re|mi|fa|sol|la|si)")
