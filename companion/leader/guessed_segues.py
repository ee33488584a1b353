"""Songs that probably go on into the next one: a verb, "into" and that song: va dritto dentro, gaat door in."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from companion.leader.guessed_clauses import ReadLine
from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.players import PLAYERS
from companion.leader.reply_items import ReplyItem, ScannedLine
from companion.leader.reply_words import phrase_of
from companion.leader.settled_claims import ClaimedValue, ReplySettling
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact

MAX_LINK: Final = 7  # words between "goes" and the song that it goes into
ARTICLES: Final = folded_words(
    "the a der die das den dem des ein eine einen le la les l el los las lo il i gli o os as um uma de het "
    "een en ett "
    "det un une uno una"
)
INTO: Final = folded_words(
    "into in to zu zum zur naar over über sur dans vers avec con dentro nel nella nello em na no en a al alla "
    "till til i w do z "
    "s door ins onto"
)
GOES: Final = folded_words(
    "straight segue segues run runs running goes go leads lead right geht gehen über direkt gleich enchaîne "
    "enchaînez enchaînent directement enlaza enlazamos empalma pega directo directa sigue va vanno dritto diritto "
    "direttamente attaccato attacca lega passa liga ligada direto emenda gaat meteen direct door går vidare rakt "
    "direkte lige over prosto przechodzi od rovnou přechází plynule"
)


def is_gone_into(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether another song goes into the one that an item names."""
    if not isinstance(item.what, SongsMeant) or not item.what.songs:
        return False
    words, at = line.words, item.at
    while at > 0 and words[at - 1].low in ARTICLES - INTO:
        at -= 1
    before = [word.low for word in words[max(at - MAX_LINK, 0) : at]]
    goes = [place for place, one in enumerate(before[:-1]) if one in GOES]
    return bool(goes) and before[-1] in INTO and not any(one in PLAYERS for one in before[goes[0] :])


# After several songs in a row: 6 and 7 go together without a break.
TOGETHER: Final = folded_phrases(
    "go together | run together | goes together | without a break | without a gap | no break | no gap | back to back | "
    "in one go | straight through | are a medley | as a medley | are one medley | ohne pause | am stück | "
    "ohne absetzen | direkt hintereinander | als medley | sans pause | daffilée | enchaînées | enchaînés | "
    "sin pausa | "
    "seguidas | seguidos | senza pausa | attaccate | attaccati | di fila | sem pausa | seguidinhas | zonder pauze | "
    "achter elkaar | aan elkaar | utan paus | i ett svep | uten pause | uden pause | i ett strekk | bez przerwy | "
    "bez pauzy"
)


def _go_together(line: ScannedLine) -> Iterator[tuple[int, str]]:
    """Yield each song that goes into the next of a row, where the words behind the row say so."""
    for item in line.items:
        songs = item.what.songs if isinstance(item.what, SongsMeant) else ()
        if len(songs) < 2 or any(after != one + 1 for one, after in pairwise(songs)):
            continue
        for at in range(item.end, min(item.end + MAX_LINK, len(line.words))):
            if line.words[at].text in (".", ";", "!", "?") or line.words[at].low in _NO - {"no"}:
                break
            if many := phrase_of(line.words, at, TOGETHER):
                yield from ((one, line.said(item.at, at + many)) for one in songs[:-1])
                break


def take_segues(settling: ReplySettling, lines: Sequence[ReadLine]) -> None:
    """Ask whether a song goes on into the next, where the words say so and nothing else is said of it."""
    for read in lines:
        for place, words in (*_into_next(read), *_go_together(read.line)):
            set_at, _, song = settling.names.songs[place]
            following = settling.names.songs[place + 1]
            is_said = any((set_at, place, field) in settling.values for field in ("segue", "dropped"))
            if following[0] == set_at and song.segue is None and not is_said:
                value = ClaimedValue("segue", following[2].title, words, corrects=False, line=read.line.text)
                settling.add(set_at, place, value)


def _into_next(read: ReadLine) -> Iterator[tuple[int, str]]:
    """Yield each song that goes into the one after it in its set, with the words that say so."""
    line = read.line
    owner, begin = read.about.songs[-1:], 0
    for item in line.items:
        meant = item.what
        if isinstance(meant, StatedFact) and meant.field == "into":
            return  # it is read
        if not isinstance(meant, SongsMeant) or len(meant.songs) != 1:
            continue
        before = {word.low for word in line.words[begin : item.at]}
        if owner and meant.songs[0] == owner[0] + 1 and is_gone_into(item, line) and not before & _NO:
            yield owner[0], line.said(begin, item.end)
        owner, begin = meant.songs, item.at


_NO: Final = folded_words("not no never nicht kein keine pas non nie niet ikke inte não ne ej")
