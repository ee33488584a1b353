"""Read what a line of talk changes in the list that it belongs to: oh and do Moth in D; swap Moth and Weeds."""

import enum
import re
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.music import Key
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.patterns import AND, PART_OF_SONG
from companion.setlist.parsing.running_words import TO_FINISH
from companion.setlist.parsing.talk_drops import DropSense, drop_sense, keeps_for_sure
from companion.setlist.parsing.talk_keys import TRIM, keys_said
from companion.setlist.parsing.talk_words import (
    ADDS,
    ASKS,
    BESIDE,
    BETWEEN,
    CLOSES,
    DROPPED_AFTER,
    DROPPED_BEHIND,
    FILLERS,
    INSTEAD,
    INSTEAD_IN_FRONT,
    INSTEAD_OF,
    IS_PUT,
    NONE_OF_IT,
    OPENS,
    PLACE,
    PUT_THERE,
    QUESTION,
    REPLACED,
    SWAPPED,
    SWAPPED_AFTER,
)
from companion.setlist.parsing.titles_named import NamedSongs, songs_named

LONGEST: Final = 500  # characters of a line
MAX_NAMED: Final = 4  # songs in one sentence; one that names more is a list
MOST_NEW: Final = 8  # words of a new title
_ONE: Final = re.compile("([\ue000\ue002])(\\d{1,3})\ue001")
_SENTENCES: Final = re.compile(r"(?<=[.!?;])\s+(?=\S)|\s+[-–—]\s+(?=[^A-H])|\s*\n\s*")
_CLAUSES: Final = re.compile(
    rf",\s+(?:(?:{AND}|then|dann|puis)\s)?|"
    r"\s(?:and|but|und|aber|et|mais|y|pero|ma|maar|och|men|og)\s(?=\S)",
    re.IGNORECASE,
)
_GIVES: Final = re.compile(
    r"(?:^|[\s,])(\S{1,4})\s(?:for|für|pour|para|per|voor|för|til|bei)\s(?:the\s)?$", re.IGNORECASE
)
_MAKES: Final = re.compile(
    r"(?:^|[\s,])(?:make|do|take|play|put|change|move|have|need|want|mach(?:e|en|t)?|spiel(?:e|en|t)?|nehm(?:e|en|"
    r"t)|met(?:s|tez)?|"
    r"pon(?:emos)?|metti(?:amo)?|zet|doe|gör|tar?|giør)\s(?:\S{1,6}\s)?$",
    re.IGNORECASE,
)
_OPENS_TALK: Final = re.compile(  # in front of a title
    r"^(?:(?:oh|ah|yes|yeah|ok|okay|right|sorry|and|also|plus|ja|jo|ach|genau|stimmt|und|oui|ouais|et|sí|si|vale|y|e|certo|"
    r"sim|jep|och|og|joo|tak)[\s,:]+){1,4}",
    re.IGNORECASE,
)
_FRONT: Final = re.compile(
    r"^(?:(?:noch|also|auch|gerne?|bitte|wieder|in|maybe|still|encore|aussi|también|anche|ook|også|också|dann|"
    r"then)\s){1,3}"
    r"(?=[\"“„«]?[A-Z])"
)


class TalkKind(enum.Enum):
    """What talk says about a song."""

    KEY = "key"
    DROP = "not played"
    SWAP = "change places"
    PLACE = "another place"
    ADD = "new"
    NOTE = "note"


class TalkChange(msgspec.Struct, frozen=True):
    """One thing said about a song, by its number from 0. ``side``: first, last, encore, set 1 to 3, before, after, for.

    ``beside``: the song that ``side`` refers to; ``words``: the sentence, or a new song's title.
    """

    kind: TalkKind
    song: int = -1
    key: Key | None = None
    side: str = ""
    beside: int | None = None
    words: str = ""
    is_asked: bool = False
    is_whole: bool = True  # the whole title is there
    is_unclear: bool = False  # the words may mean something else
    is_kept: bool = False  # the sentence says that the song stays in


class _Sentence(msgspec.Struct, frozen=True):
    text: str
    marks: tuple[re.Match[str], ...]
    is_asked: bool

    def before(self, at: int) -> str:
        begin = self.marks[at - 1].end() if at else 0
        return self.text[begin : self.marks[at].start()]

    def after(self, at: int) -> str:
        end = self.marks[at + 1].start() if at + 1 < len(self.marks) else len(self.text)
        return self.text[self.marks[at].end() : end]


def changes_said(text: str, titles: Sequence[str], notation: Notation) -> tuple[TalkChange, ...]:
    """Return what a line says about these songs, in order; empty if it names none."""
    named = songs_named(text[:LONGEST], titles)
    named = msgspec.structs.replace(named, text=BETWEEN.sub(r"after \1", named.text))
    return tuple(_Reading(named, titles, notation).changes()) if named.whole or named.part else ()


def new_song(text: str, notation: Notation, side: str = "", beside: int | None = None) -> TalkChange | None:
    """Read a song that talk adds to the list: put Weeds in there instead, D; we finish on Weeds, key of E."""
    verb = next((found for found in ADDS.finditer(text) if _new_title(text[found.end() :], notation)), None)
    if verb is None:
        return _put_last(text, notation)
    rest = text[verb.end() :]
    title, keys = _new_title(rest, notation), keys_said(rest, notation)
    if len(keys) > 1:
        return None  # a list in one line
    key = keys[0][2] if keys else None
    place = _place_in(text.replace(title, "")) or ("instead" if INSTEAD.search(rest) else "")
    if (
        beside is None
        and not place
        and not side
        and key is None
        and not FILLERS.match(rest[rest.find(title) + len(title) :])
    ):
        return None
    return TalkChange(TalkKind.ADD, key=key, side=side or place, beside=beside, words=title, is_asked=_asks(text))


def _put_last(text: str, notation: Notation) -> TalkChange | None:
    """Read a sentence that is a title in capitals, its key and where it comes: fine. Moth Parade D on the end."""
    for said in _SENTENCES.split(text):
        words = said.strip(" .!")
        found = TO_FINISH.search(words)
        end = key_at_end(words[: found.start()], notation) if found else None
        title = end.before.strip(TRIM) if end else ""
        if end and title and all(word[:1].isupper() or len(word) <= MAX_NAMED for word in title.split()):
            is_title = title[:1].isupper() and len(title.split()) > 1
            return TalkChange(TalkKind.ADD, key=end.key, side="last", words=title) if is_title else None
    return None


class _Reading:
    """Reads the sentences of one line; a key alone belongs to the song named last."""

    def __init__(self, named: NamedSongs, titles: Sequence[str], notation: Notation) -> None:
        self._named, self._titles, self._notation = named, titles, notation

    def changes(self) -> Iterator[TalkChange]:
        last: int | None = None
        is_gone = False
        for said in _SENTENCES.split(self._named.text):
            marks = tuple(_ONE.finditer(said))
            sentence = _Sentence(said, marks, _asks(said))
            if not marks:
                if is_gone and (new := new_song(said, self._notation)):  # scrap Moth. Put Weeds there instead
                    yield new
                    is_gone = False
                elif last is not None and (keys := keys_said(said, self._notation, alone=True)):
                    yield TalkChange(TalkKind.KEY, last, keys[-1][2], is_asked=said.rstrip().endswith("?"))
                continue
            if len(marks) > MAX_NAMED:
                continue
            made = list(self._of_sentence(sentence))
            is_kept = keeps_for_sure(said)
            for one in made:
                named = {one.song, one.beside if one.song < 0 else one.song} - {-1, None}
                is_gone |= one.kind is TalkKind.DROP
                is_kept = is_kept or one.is_kept
                if one.kind is not TalkKind.NOTE:
                    yield msgspec.structs.replace(one, is_whole=named <= self._named.whole)
            if not any(one.kind is not TalkKind.NOTE for one in made) and len({one[2] for one in marks}) == 1:
                whole = marks[0][1] == "\ue000"
                words = self._plain(said).strip(TRIM)
                note = TalkChange(TalkKind.NOTE, int(marks[0][2]), words=words, is_asked=sentence.is_asked)
                yield msgspec.structs.replace(note, is_whole=whole, is_kept=is_kept)
            last = int(marks[-1][2])

    def _of_sentence(self, sentence: _Sentence) -> Iterator[TalkChange]:
        text, asked = sentence.text, sentence.is_asked
        if found := SWAPPED.search(text) or SWAPPED_AFTER.search(text):
            first, second = (int(_ONE.match(found[at])[2]) for at in (1, 2))  # type: ignore[index]  # both are marks
            if first != second:
                yield TalkChange(TalkKind.SWAP, first, beside=second, words=self._plain(text), is_asked=asked)
            done = {first, second}
        else:
            done = set[int]()
        replaced = None if done else self._replaced(text, is_asked=asked)
        if replaced is not None:
            yield from replaced
            return
        for at, mark in enumerate(sentence.marks):
            number = int(mark[2])
            before, after = sentence.before(at), sentence.after(at)
            if at and BESIDE.search(before):
                continue  # it says where another song goes
            if number in done:
                continue
            change = self._about(sentence, at, number, before, after)
            if change:
                done.add(number)
                yield from change

    def _about(self, sentence: _Sentence, at: int, number: int, before: str, after: str) -> list[TalkChange]:
        """Return what is said about one song of the sentence."""
        asked = sentence.is_asked
        clause_before = _CLAUSES.split(before)[-1] if at else before
        ahead = DROPPED_BEHIND.search(clause_before) or NONE_OF_IT.match(clause_before)
        ahead = None if PART_OF_SONG.match(after.lstrip()) else ahead  # no Moth solo
        found = ahead or DROPPED_AFTER.match(after)
        if found:
            front = clause_before[: found.start()] if ahead else clause_before
            rest = _CLAUSES.split(after if ahead else after[found.end() :])[0]
            sense = drop_sense(sentence.text, front, found[0], rest)
            if sense is DropSense.KEEPS:
                return [TalkChange(TalkKind.NOTE, number, is_kept=True)]
            drop = TalkChange(TalkKind.DROP, number, words=self._plain(sentence.text), is_asked=asked)
            if sense is DropSense.UNCLEAR:
                return [msgspec.structs.replace(drop, is_unclear=True)]
            new = new_song(after, self._notation, "for", number) if INSTEAD.search(after) else None
            return [msgspec.structs.replace(new, is_asked=asked), drop] if new else [drop]
        made = []
        if found := BESIDE.search(before):
            side = "before" if found["before"] else "after"
            if new := new_song(
                sentence.text[: sentence.marks[at].start()][: -len(found[0])] + f" {after}",
                self._notation,
                side,
                number,
            ):
                return [msgspec.structs.replace(new, is_asked=asked)]
            front = _OPENS_TALK.sub("", before[: found.start()])
            title, keys = _new_title(front, self._notation), keys_said(front, self._notation)
            if not at and title and len(keys) == 1:  # oh yes, Owl Walk (G) right after Moth
                return [TalkChange(TalkKind.ADD, key=keys[0][2], side=side, beside=number, words=title, is_asked=asked)]
            title, keys = _new_title(after, self._notation), keys_said(after, self._notation)
            if not at and not before[: found.start()] and title and keys:  # between Moth and Weeds: Owl Walk (G)
                return [TalkChange(TalkKind.ADD, key=keys[0][2], side=side, beside=number, words=title, is_asked=asked)]
        key = self._key(before, after)
        if key is not None:
            made.append(TalkChange(TalkKind.KEY, number, key, is_asked=asked))
        if place := self._place(sentence, at, before, after):
            made.append(msgspec.structs.replace(place, song=number, is_asked=asked))
        return made

    def _replaced(self, text: str, *, is_asked: bool) -> list[TalkChange] | None:
        """Return the song that goes and the one in its place: swap Moth for Weeds in D; Weeds instead of Moth.

        None where nothing is said of the kind; empty where it is not clear which song comes.
        """
        for pattern, old, new in ((REPLACED, 1, 2), (INSTEAD_IN_FRONT, 1, 2), (INSTEAD_OF, 2, 1)):
            found = pattern.search(text)
            if not found:
                continue
            number, said = int(_ONE.match(found[old])[2]), found[new]  # type: ignore[index]  # it is a mark
            if pattern is INSTEAD_OF:
                said = f"{said} {text[found.end() :]}"
            drop = TalkChange(TalkKind.DROP, number, words=self._plain(text), is_asked=is_asked)
            if others := [int(one[2]) for one in _ONE.finditer(said) if int(one[2]) != number]:
                move = TalkChange(TalkKind.PLACE, others[0], side="for", beside=number, is_asked=is_asked)
                return [move, drop]
            title = _new_title(said, self._notation) or _new_title(_without_verb(said), self._notation)
            capital = re.search(r"(?:^|\s)([^\W\d_a-zäöüéèàç].*)$", said)
            title = title or (_new_title(capital[1], self._notation, is_sure=True) if capital else "")
            if title:
                key = next((key for _, _, key in keys_said(said, self._notation)), None)
                new_one = TalkChange(TalkKind.ADD, key=key, side="for", beside=number, words=title, is_asked=is_asked)
                return [new_one, drop]
            return []
        return None

    def _key(self, before: str, after: str) -> Key | None:
        """Return the key that is said for a song; the last one that is not the key it no longer has."""
        ahead = _CLAUSES.split(before)[-1]
        if (
            (gives := _GIVES.search(ahead))
            and gives[1][:1].isupper()
            and (key := plain_key(gives[1], notation=self._notation))
        ):
            return key
        keys = keys_said(after, self._notation, is_made=bool(_MAKES.search(before)))
        return keys[-1][2] if keys else None

    def _place(self, sentence: _Sentence, at: int, before: str, after: str) -> TalkChange | None:
        if at + 1 < len(sentence.marks) and (found := BESIDE.search(after)):
            side = "before" if found["before"] else "after"
            return TalkChange(TalkKind.PLACE, side=side, beside=int(sentence.marks[at + 1][2]))
        if OPENS.search(before):
            return TalkChange(TalkKind.PLACE, side="first")
        if CLOSES.search(before):
            return TalkChange(TalkKind.PLACE, side="last")
        near = _CLAUSES.split(after)[0]
        found = PLACE.search(near)
        if found and IS_PUT.match(near[: found.start()]) and PUT_THERE.match(near[found.end() :]):
            return TalkChange(TalkKind.PLACE, side=_side(found))
        return None

    def _plain(self, text: str) -> str:
        return _ONE.sub(lambda found: self._titles[int(found[2])], text)


def _asks(text: str) -> bool:
    return text.rstrip(" )\"'").endswith("?") or bool(ASKS.search(text) or QUESTION.match(text))


def _side(found: re.Match[str]) -> str:
    names = {"one": "set 1", "two": "set 2", "three": "set 3"}
    said = next(name for name, words in found.groupdict().items() if words)
    return names.get(said, said)


def _place_in(text: str) -> str:
    if found := PLACE.search(text):
        return _side(found)
    if any(CLOSES.search(text[:at]) for at in (one.end() for one in re.finditer(r"\s", text[:LONGEST]))):
        return "last"
    return ""


def _without_verb(text: str) -> str:
    """Return the words after we do, wir spielen, on fait."""
    return re.sub(
        r"^(?:(?:we['’]?(?:ll|re)?|wir|on|lieber|rather|now|jetzt|let['’]?s|will|are|then|dann)\s|"
        r"(?:do(?:ing)?|play(?:ing)?|have|with|spielen|machen|nehmen|fait|joue|met)\s){1,4}",
        "",
        text,
        flags=re.IGNORECASE,
    )


def _new_title(text: str, notation: Notation, *, is_sure: bool = False) -> str:
    """Return the title that begins here: in quotes, or words with capitals, or small ones with a key behind them.

    ``is_sure``: something else tells that a title stands here, so that its first capital is enough.
    """
    text = _FRONT.sub("", text.lstrip(" ,:"))
    if quoted := re.match(r"[\"“„«]([^\"“”„«»]{2,60})[\"”“»]", text):
        return quoted[1]
    ends = [begin for begin, _, _ in keys_said(text, notation)]
    ends += [found.start() for found in PLACE.finditer(text)]
    ends += [found.start() for found in re.finditer(r"\s", text) if FILLERS.match(text[found.start() :])]
    ends += [
        found.start()
        for found in re.finditer(
            r"[,;(–—!?]|\.(?:\s|$)|\s-|[\ue000-\ue002]|\s(?:key|because|cos|weil|then|dann)\b", text
        )
    ]
    title = text[: min(ends, default=len(text))].strip(TRIM)
    words = title.split()
    if not 0 < len(words) <= MOST_NEW or plain_key(title, notation=notation):
        return ""
    rises = title[:1].isupper() and all(word[:1].isupper() or len(word) <= MAX_NAMED for word in words)
    is_keyed = bool(ends) and any(begin == min(ends) for begin, _, _ in keys_said(text, notation))
    small_ok = title.islower() and (is_keyed or bool(FILLERS.match(text[len(title) :])))
    is_name = rises or small_ok or (is_sure and is_keyed and title[:1].isupper())
    return (
        title
        if is_name
        and not re.match(r"(?:it|that|this|them|me|us|you|a|an|some|the|es|das|ça|lo)\b\s?$", title, re.IGNORECASE)
        else ""
    )
