"""Words about one song that no rule understands: probably a note on it, as a question: "4 Dm, head twice"."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.courtesies import is_courtesy
from companion.leader.guess_words import TEMPO_WORDS
from companion.leader.guessed_clauses import ReadLine
from companion.leader.hour_words import folded_phrases
from companion.leader.noted_words import take_noted_words
from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator
from companion.leader.reply_words import SIGN, WORD, low, phrase_of, set_of, words_of
from companion.leader.said_keys import NOW, said_keys
from companion.leader.settled_claims import ClaimedValue, OpenClaim, ReplySettling
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import CORRECT, EXCEPT, REST, UNKNOWN_TO_LEADER, TurnOfPhrase
from companion.setlist import Notation
from companion.setlist.laughter import laughs

MAX_NOTE: Final = 90  # letters; more is prose
_IN_WORDS: Final = ("ending", "starts_with", "recording", "version", "notes")


def take_notes(settling: ReplySettling, lines: Sequence[ReadLine]) -> None:
    """Add the words that are left of a song as a doubtful note, where its own sentence or line has them."""
    gone = {place for (_, place, field), said in settling.values.items() if field == "dropped" and said[-1].value}
    for left in tuple(settling.left):
        if left.song is None or left.song in gone or not _may_be_note(left):
            continue
        words = next((said for read in lines for said in _of_song(read, left)), "")
        if words and not _is_said(settling, left.song, words):
            value = ClaimedValue("notes", words, left.words, corrects=False, line=left.words)
            settling.add(settling.names.songs[left.song][0], left.song, value)
    take_noted_words(settling)


def _may_be_note(left: OpenClaim) -> bool:
    words = [word for word in words_of(left.words) if word.kind != SIGN]
    is_name = len(words) <= 2 and all(word.kind == WORD and word.text[:1].isupper() for word in words)
    return len(left.words) <= MAX_NOTE and not (
        is_name or "?" in left.words or is_courtesy(left.words) or laughs(left.words)
    )


def _is_said(settling: ReplySettling, song: int, words: str) -> bool:
    """Return whether a value of the song has these words already, or a guess that is made of them."""
    of_song = {field: values for (_, place, field), values in settling.values.items() if place == song}
    in_words = [one for field, values in of_song.items() if field in _IN_WORDS for one in values]
    others = [one for field, values in of_song.items() if field not in ("key", "length") for one in values]
    guessed = [one for one in others if one.doubt and not one.words]
    spoken = words_of(words)
    keys = {one.key for one in said_keys(spoken, 0, len(spoken), Notation.LETTERS)}
    if keys & {str(one.value) for one in of_song.get("key", ())}:
        return True
    in_value = any(words.casefold() in str(one.value).casefold() for one in in_words)
    return in_value or any(words in one.doubt for one in guessed)


def _of_song(read: ReadLine, left: OpenClaim) -> Iterator[str]:
    """Yield the words without the song's name, if their sentence or their line begins with it."""
    line = read.line
    start = line.text.find(left.words)
    if start < 0:
        return
    end = start + len(left.words)
    inside = [one for one in line.items if one.end > one.at and start <= line.words[one.at].start < end]
    stays = max((at + 1 for at, one in enumerate(inside) if _stays(one)), default=0)
    inside = inside[stays:]  # skip - or rather play it, one verse
    if not inside or any(_states_more(one, line) for one in inside):
        return
    stops = [one.at for one in line.items if _is_stop(one) and one not in inside]
    sentence = [one for one in line.items if _is_of_sentence(one, inside, stops)]
    if any(isinstance(one.what, TurnOfPhrase) and one.what.kind in _OF_OTHERS for one in sentence):
        return
    if {line.words[at].low for one in inside for at in range(one.at, one.end)} & _NO_NOTE and not any(
        phrase_of(line.words, one.at, _ONLY_IF) for one in inside
    ):
        return
    if not any(_songs(one) for one in sentence) and _points_back(sentence, line):
        sentence = [*_sentence_before(line, sentence)]
    named = {song for one in sentence for song in _songs(one)}
    of_line = {song for one in line.items for song in _songs(one)}
    if (named or of_line or {*read.about.songs}) != {left.song}:
        return
    naming = sentence if named else line.items if of_line else ()
    if naming and not _begins_with_song(naming, line):
        return
    rest = [one for one in inside if not isinstance(one.what, SongsMeant)]
    while rest and (isinstance(rest[0].what, Separator) or line.words[rest[0].at].kind == SIGN):
        rest = rest[1:]
    unknown = {line.words[one.at].low for one in rest if one.what is None and line.words[one.at].kind == WORD}
    if unknown - TEMPO_WORDS:
        yield line.said(rest[0].at, rest[-1].end)


# What a song waits for, where it may not be played at all.
_ONLY_IF: Final = folded_phrases(
    "only if | only when | just if | if there's time | if they ask | if they shout | if they want | if asked | "
    "nur wenn | nur falls | seulement si | uniquement si | que si | sólo si | solo si | solo se | só se | apenas se | "
    "alleen als | bara om | endast om | kun hvis | bare hvis | kun om | tylko jeśli | tylko gdy | jen když | jen pokud"
)
_OF_OTHERS: Final = (UNKNOWN_TO_LEADER, REST, EXCEPT)
# Words of a joke, of a condition, or of the day itself.
_NO_NOTE: Final = set_of(
    "haha hahaha lol lmao if unless otherwise said says idk recall park parking load soundcheck bring lead leads cable "
    "wear dress food dinner buffet fee pay cash invoice people parken parkplatz aufbau mitbringen"
)


def _points_back(sentence: Sequence[ReplyItem], line: ScannedLine) -> bool:
    """Return whether words go on about the song of the sentence before: "Moth is in G; it is the first dance"."""
    at = sentence[0].at
    is_it = line.words[at].low in _IT and low(line.words, at + 1) not in _OF_OTHER_TIMES
    return is_it or (at > 0 and line.words[at - 1].text == ";")


_OF_OTHER_TIMES: Final = set_of("was will would had war wird etait sera era sara var")  # it was good to see you
_IT: Final = set_of(
    "it its it's that that's thats this es das c'est cest ca e eso esto quello questo det dat het to je isso"
)


def _sentence_before(line: ScannedLine, sentence: Sequence[ReplyItem]) -> Sequence[ReplyItem]:
    """Return the items of the nearest sentence before that names songs."""
    items = [one for one in line.items if one.end <= sentence[0].at]
    last = next((at for at in range(len(items) - 1, -1, -1) if _songs(items[at])), -1)
    first = next((at + 1 for at in range(last, -1, -1) if _is_stop(items[at])), 0)
    end = next((at for at in range(max(last, 0), len(items)) if _is_stop(items[at])), len(items))
    return items[first:end] if last >= 0 else sentence


def _begins_with_song(items: Sequence[ReplyItem], line: ScannedLine) -> bool:
    """Return whether a song is named first, or right after a sign."""
    at = next(place for place, one in enumerate(items) if _songs(one))
    before = items[at - 1] if at else None
    return (
        before is None
        or (isinstance(before.what, Separator) and not before.what.joins)
        or line.words[before.at].kind == SIGN
        or line.words[before.end - 1].low in _IN | _SING
        or all(isinstance(one.what, TurnOfPhrase) for one in items[:at])
    )


# Who sings it: the bride's uncle sings 18.
_SING: Final = set_of("sings sing singt singen chante chantent canta cantan cantano zingt zingen sjunger synger")
_IN: Final = set_of("in on for bei dans en pour para per nel nella na no em i på voor w v")  # no piano in 5


def _states_more(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether an item is no part of a note: a key, a date, a correction, somebody to ask."""
    what = item.what
    if isinstance(what, StatedFact):
        return what.field in ("clock", "minutes", "dropped", "yes")
    is_turn = isinstance(what, TurnOfPhrase) and what.kind in (CORRECT, UNKNOWN_TO_LEADER)
    is_turn = is_turn and line.words[item.at].low not in NOW  # it's half the speed now
    return is_turn or isinstance(what, KeyFact | DayReading) or (isinstance(what, SongsMeant) and bool(what.no_song))


def _stays(item: ReplyItem) -> bool:
    """Return whether words say that a song is played after all."""
    return isinstance(item.what, StatedFact) and item.what.field == "dropped" and not item.what.value


def _songs(item: ReplyItem) -> tuple[int, ...]:
    return item.what.songs if isinstance(item.what, SongsMeant) else ()


def _is_stop(item: ReplyItem) -> bool:
    return isinstance(item.what, Separator) and item.what.is_strong


def _is_of_sentence(item: ReplyItem, inside: Sequence[ReplyItem], stops: Sequence[int]) -> bool:
    """Return whether no full stop or the like is between an item and the words. ``stops``: where those stand."""
    first, last = min(item.at, inside[0].at), max(item.end, inside[-1].end)
    return not any(first <= at < last for at in stops)
