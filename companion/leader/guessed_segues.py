"""Songs that probably go on into the next one: a verb, "into" and that song: va dritto dentro, gaat door in."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from companion.leader.event_words import OTHER_EVENTS
from companion.leader.guessed_clauses import GuessClause, ReadLine
from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.players import PLAYERS
from companion.leader.reply_items import ReplyItem, ScannedLine
from companion.leader.reply_words import NUMBER, counted, phrase_of
from companion.leader.settled_claims import ClaimedValue, ReplySettling
from companion.leader.songs_meant import SongNames, SongsMeant
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
    "s door ins onto i ind inn"
)
GOES: Final = folded_words(
    "straight segue segues run runs running goes go leads lead right geht gehen über direkt gleich enchaîne "
    "enchaînez enchaînent directement enlaza enlazamos empalma pega directo directa sigue va vanno dritto diritto "
    "direttamente attaccato attacca lega passa liga ligada direto emenda gaat meteen direct door går vidare rakt "
    "direkte lige over prosto przechodzi od rovnou přechází plynule glider glir flyter fortsätter fortsætter "
    "fortsetter mündet läuft loopt vloeit sfocia desemboca débouche glisse fließt "
    "pause pausa pauze paus przerwy pauzy unterbrechung parar fermarsi stopping"
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
    return bool(goes) and before[-1] in INTO and not any(one in PLAYERS for one in before[goes[0] : -1])


# After several songs in a row: 6 and 7 go together without a break.
TOGETHER: Final = folded_phrases(
    "go together | run together | goes together | joined together | linked together | stuck together | joined up | "
    "linked up | as one piece | without a break | without a gap | no break | no gap | back to back | "
    "in one go | straight through | are a medley | as a medley | are one medley | one medley | one long medley | "
    "no stops | nonstop | non stop | ein medley | un medley | ett medley | een medley | ohne pause | am stück | "
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


# Before two songs in a row, where the sentence says that nothing is between them: no gap between 6 and 7.
BETWEEN: Final = folded_words(
    "between betw from von zwischen entre tra fra mellem mellom mellan tussen między mezi između"
)
_NOTHING: Final = folded_phrases(
    "no break | no gap | no stop | no pause | no space | no applause | no talking | no chat | don't stop | do not stop "
    "| without stopping | without a break | without a gap | straight into | run straight | segue | keine pause | kein "
    "stopp | keine lücke | ohne pause | nicht anhalten | direkt | nahtlos | pas de pause | sans pause | sans s'arrêter "
    "| on s'arrête pas | enchaîne | on enchaîne | sin pausa | no paramos | no hay pausa | sin parar | seguido | senza "
    "pausa | niente pausa | non ci fermiamo | senza fermarsi | attacca | sem pausa | não paramos | sem parar | geen "
    "pauze | zonder pauze | geen stop | ingen paus | utan paus | ingen pause | uden pause | uten pause | bez przerwy | "
    "nie ma przerwy | bez pauzy"
)


def _with_nothing_between(line: ScannedLine, names: SongNames) -> Iterator[tuple[int, str]]:
    """Yield the song before another one where their sentence says that nothing is between the two."""
    words = line.words
    for at, word in enumerate(words):
        if word.low not in BETWEEN:
            continue
        begin = next((one + 1 for one in range(at - 1, -1, -1) if words[one].text in _ENDS), 0)
        end = next((one for one in range(at + 1, len(words)) if words[one].text in _ENDS), len(words))
        songs = [song for one in line.items if at < one.at < end for song in _songs(one, line, names)][:2]
        is_said = any(phrase_of(words, one, _NOTHING) for one in range(begin, end))
        if is_said and len(songs) == 2 and songs[1] == songs[0] + 1:
            yield songs[0], line.said(begin, end)


def _songs(item: ReplyItem, line: ScannedLine, names: SongNames) -> tuple[int, ...]:
    """Return the songs that an item names, or a plain number that was taken for one in passing."""
    if isinstance(item.what, SongsMeant):
        return item.what.songs
    said = counted(list(line.words), item.at) if item.what is None else None
    song = names.number(said[0], line.within)[0] if said else None
    return () if song is None else (song,)


# Behind a song and before the one that goes on into it: it runs straight on from 3.
_ON_FROM: Final = folded_phrases(
    "straight on from | straight from | straight out of | straight after | right after | on from | segues from | "
    "directly after | attached to | direkt im anschluss an | direkt nach | gleich nach | direkt aus | nahtlos aus | "
    "enchaîné après | enchaîne après | juste après | directement après | pegado a | seguido de | justo después de | "
    "attaccato a | subito dopo | logo a seguir a | colado a | direct na | meteen na | direkt efter | rakt från | "
    "lige efter | rett etter | zaraz po | hned po"
)


def _on_from(read: ReadLine, names: SongNames) -> Iterator[tuple[int, str]]:
    """Yield each song that the next one follows without a break, where the words about that one say so."""
    line = read.line
    before = read.about.songs[-1:]
    for item in line.items:
        is_number = item.end == item.at + 1 and line.words[item.at].kind == NUMBER  # from 3 is no time here
        number = names.number(int(line.words[item.at].text), line.within)[0] if is_number else None
        songs = item.what.songs if isinstance(item.what, SongsMeant) else () if number is None else (number,)
        if len(songs) != 1:
            continue
        begins = next((at for at in range(max(item.at - MAX_LINK, 0), item.at) if _leads_to(line, at, item.at)), None)
        is_other = begins is not None and any(word.low in OTHER_EVENTS for word in line.words[:begins])  # soundcheck
        if begins is not None and before == (songs[0] + 1,) and not is_other:
            yield songs[0], line.said(begins, item.end)
        before = songs


def _leads_to(line: ScannedLine, at: int, end: int) -> bool:
    return phrase_of(line.words, at, _ON_FROM) == end - at


_ENDS: Final = frozenset(".;!?")


def take_segues(settling: ReplySettling, lines: Sequence[ReadLine]) -> None:
    """Ask whether a song goes on into the next, where the words say so and nothing else is said of it."""
    for read in lines:
        for place, words in (
            *_into_next(read),
            *_on_from(read, settling.names),
            *_go_together(read.line),
            *_with_nothing_between(read.line, settling.names),
        ):
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


# What is no song may follow too: straight into the raffle.
_STRAIGHT_INTO: Final = folded_phrases(
    "straight into | right into | directly into | directly to | straight to | direkt in | gleich in | direkt über in | "
    "nahtlos in | directement dans | directement sur | enchaîne sur | enchaîne avec | directo a | directo al | "
    "enlaza con | pega con | dritto in | dritti nel | direttamente in | direttamente nel | direto para | emenda com | "
    "meteen door in | direct door in | direct over in | rakt in i | direkt in i | direkte over i | direkte inn i | "
    "rovnou do | prosto w"
)
MAX_OTHER: Final = 60  # letters of what follows


def goes_into_other(clause: GuessClause) -> str:
    """Return the words that say that a song goes into something else than a song; "" if none do."""
    words, end = clause.line.words, clause.items[-1].end
    at = next((one for one in range(clause.items[0].at, end) if phrase_of(words, one, _STRAIGHT_INTO)), end)
    follows = at < end and at + phrase_of(words, at, _STRAIGHT_INTO) < end
    behind = (one.what for one in clause.items if one.end > at)
    is_song = any(
        isinstance(one, SongsMeant) or (isinstance(one, StatedFact) and one.field == "into") for one in behind
    )
    return clause.line.said(at, end)[:MAX_OTHER] if follows and not is_song and not clause.denies else ""
