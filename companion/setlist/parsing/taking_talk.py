"""Let talk change the list that it is about: keys, order, songs that go and songs that come, each with a doubt."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.music import Key
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, LineCorrection, LineKind, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.doubts import NO, YES, played_or_not
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.keys_asked import keys_asked
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_talk import key_by_number, with_titles_for_numbers, with_titles_for_places
from companion.setlist.parsing.places_in_doubt import PlaceAsked, SetsInOrder, SongAdded, asks_exchange, asks_place
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_draft import SetDraft
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.talk_changes import TalkChange, TalkKind, changes_said, new_song
from companion.setlist.parsing.talk_keys import keys_said
from companion.setlist.parsing.talk_words import MAY_BE_OUT, OUT_ALONE, OUT_SAID, SAYS_NO, SAYS_YES
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.tidy import cut

MOST_ANSWERS: Final = 4  # messages after a question in which its answer is looked for
NEAR: Final = 3  # messages between what takes a song out and what puts one in its place
LONGEST_SAID: Final = 80  # characters of the line that a doubt shows
LONGEST_QUOTED: Final = 300  # the same where its question is asked
_FIRST: Final = re.compile(r"[.!,;]\s")
_ENCORE: Final = "Encore"  # begins the name of each set of encores, in whatever language the list has it
_IS_PLAYED: Final = (YES, DoubtAnswer("no", (LineCorrection(LineKind.ASIDE),)))


def _only_drops(changes: Sequence[TalkChange]) -> bool:
    """Return whether only one song is spoken of, and it goes; a key beside it is that of another."""
    return changes[0].kind is TalkKind.DROP and len({one.song for one in changes}) == 1


class _Talk(msgspec.Struct, frozen=True):
    """A line that is no song: where it stands among all lines, and who sent it."""

    at: int
    row: ListRow
    text: str
    sender: str

    @property
    def quoted(self) -> str:
        """The line with its place, for a question at another line."""
        return f"{self.row.place}: {cut(self.text, LONGEST_QUOTED)}"


def take_talk(found: Sequence[Classified], gathered: SetListBuilder, first: int, notation: Notation) -> None:
    """Apply what the lines of talk say about the songs above them. ``first``: the account's lines of other texts."""
    lines = {id(one.line.row): one.line for one in found}
    songs: list[tuple[int, Draft]] = []
    talks: list[_Talk] = []
    senders: set[str] = set()
    for at, (row, took, draft) in enumerate(gathered.told_after(first)):
        line = lines.get(id(row))
        if draft is not None:
            songs.append((at, draft))
            senders |= {_sender(row, found)} - {""}
        elif line is not None and line.text and (took is LineKind.LEFT or _is_signed(line, took)):
            talks.append(_Talk(at, row, line.text, line.message.sender))
    if songs:
        _Taking(gathered, songs, talks, senders, notation).take()


def _is_signed(line: TextLine, took: LineKind) -> bool:
    """Return whether words stand below a signature's dashes: PS Moth goes up to D."""
    return took is LineKind.RULE and line.message.is_envelope and not line.message.is_head and " " in line.text


def _sender(row: ListRow, found: Sequence[Classified]) -> str:
    return next((one.line.message.sender for one in found if one.line.row.place == row.place), "")


class _Taking:
    """Applies the changes one after the other, in the order of the lines."""

    def __init__(
        self,
        gathered: SetListBuilder,
        songs: list[tuple[int, Draft]],
        talks: list[_Talk],
        senders: set[str],
        notation: Notation,
    ) -> None:
        self._gathered, self._songs, self._talks = gathered, songs, talks
        self._senders, self._notation = senders, notation
        self._gone: tuple[int, SetDraft, int] | None = None  # after which talk a song went, and from where

    def take(self) -> None:
        for index, talk in enumerate(self._talks):
            above = [draft for at, draft in self._songs if at < talk.at]
            if not above:
                continue
            text = with_titles_for_numbers(talk.text, above)
            changes = changes_said(text, [draft.title for draft in above], self._notation)
            if (placed := with_titles_for_places(text, above)) != text:
                by_number = changes_said(placed, [draft.title for draft in above], self._notation)
                if any(one.kind in (TalkKind.ADD, TalkKind.PLACE) for one in by_number):
                    changes = by_number
            made = [self._apply(one, index, above) for one in changes]
            if not changes and self._is_near(index) and self._gone:
                made = [self._add_new(talk, index)]
            elif not changes:
                made = [self._by_number(talk, above) or self._add_new(talk, index), self._answer(index, above)]
            elif self._gone and self._gone[0] == index and _only_drops(changes):
                made.append(self._add_new(talk, index))  # drop number 6. Put Weeds there, in G
            said = list(dict.fromkeys(filter(None, made)))
            if said:
                self._gathered.retell(talk.row, ", ".join(said))

    # ------------------------------------------------------------------ one change

    def _apply(self, change: TalkChange, index: int, above: Sequence[Draft]) -> str:
        """Apply one change; return what was done, "" for nothing."""
        talk = self._talks[index]
        draft = above[change.song] if change.song >= 0 else None
        if draft is not None and self._home(draft) is None:
            return ""  # it went before
        is_sure = not change.is_asked or self._is_agreed(index)
        if draft is not None and change.kind is TalkKind.KEY and (keys := keys_asked(talk.text, self._notation)):
            return self._choose_key(draft, keys, index)
        match change.kind:
            case TalkKind.NOTE if draft is not None and not change.is_asked and _is_worth(change, draft):
                draft.take_each(change.words)
                if change.is_whole and not change.is_kept and MAY_BE_OUT.search(change.words):
                    self._may_be_out(draft, talk, change.words)
                return f"note on {draft.title}"
            case TalkKind.KEY if draft is not None and change.key is not None and change.key != draft.key:
                return self._new_key(draft, change.key, talk, is_sure=is_sure)
            case TalkKind.DROP if draft is not None and change.is_unclear and not change.is_asked:
                self._may_be_out(draft, talk)
                return f"may leave {draft.title} out"
            case TalkKind.DROP if draft is not None:
                return self._drop(draft, talk, index, is_sure=is_sure)
            case TalkKind.SWAP if draft is not None and change.beside is not None and is_sure:
                return self._swap(draft, above[change.beside], talk)
            case TalkKind.PLACE if draft is not None and is_sure:
                return self._move(draft, change, above, talk)
            case TalkKind.ADD if is_sure and change.words:
                beside = above[change.beside] if change.beside is not None else None
                return self._add(talk, change, beside, index)
        if not is_sure and not self._is_refused(index):
            return self._ask_for(change, draft, above, talk)
        return ""

    def _ask_for(self, change: TalkChange, draft: Draft | None, above: Sequence[Draft], talk: _Talk) -> str:
        """Ask about a song that somebody would like elsewhere, or added; the list stays as it is."""
        beside = above[change.beside] if change.beside is not None else None
        match change.kind:
            case TalkKind.SWAP if draft is not None and beside is not None and self._home(beside):
                question = asks_exchange(draft.title, beside.title)
                says = f"a line asks for it to change places: {_short(talk.text)}"
                self._gathered.places.append(
                    PlaceAsked(draft, says, question, talk.quoted, is_made=False, partner=beside)
                )
                return f"asks for {draft.title} and {beside.title} to change places"
            case TalkKind.PLACE if draft is not None and (order := self._order_with(draft, change.side, beside)):
                question = asks_place(draft.title, change.side, beside.title if beside else None)
                says = f"a line asks to move it: {_short(talk.text)}"
                self._gathered.places.append(PlaceAsked(draft, says, question, talk.quoted, is_made=False, other=order))
                return f"asks to move {draft.title}"
            case TalkKind.ADD if change.words:
                key = str(change.key) if change.key else None
                song = LineCorrection(LineKind.SONG, change.words, key)
                doubt = Doubt("asks for a song", f"Is {change.words!r} played?", (NO, DoubtAnswer("yes", (song,))))
                self._gathered.retell(talk.row, f"asks for {change.words}", doubt)
        return ""

    def _by_number(self, talk: _Talk, above: Sequence[Draft]) -> str:
        found = key_by_number(talk.text, above)
        return self._new_key(found[0], found[1], talk, is_sure=True) if found and found[0].key != found[1] else ""

    def _new_key(self, draft: Draft, key: Key, talk: _Talk, *, is_sure: bool) -> str:
        """Take a key that talk gives; one that is only asked for is a question."""
        before = draft.key
        if not is_sure:
            if self._is_refused(self._talks.index(talk)):
                return ""
            answers = (NO, DoubtAnswer("yes", (FieldCorrection("key", str(key)),)))
            says = f"a line asks for {key}: used {before or 'no key'}"
            draft.doubts.append(
                Doubt(says, f"Is {draft.title!r} in {key}?", answers, asks_for="key", quotes=talk.quoted)
            )
            return f"asks for {key}"
        draft.key, draft.key_is_open, draft.key_is_unknown = key, False, False
        draft.doubts = [one for one in draft.doubts if one.asks_for != "key"]
        answers = (YES, DoubtAnswer("no", (FieldCorrection("key", str(before) if before else None),)))
        says = f"the list says {before or 'no key'}, a line after it says {key}: used {key}"
        draft.doubts.append(Doubt(says, f"Is {draft.title!r} in {key}?", answers, asks_for="key", quotes=talk.quoted))
        return f"{draft.title}: in {key}"

    def _choose_key(self, draft: Draft, keys: Sequence[Key], index: int) -> str:
        """Take the one of two keys that an answer names; without one, ask for that which the list does not have."""
        for other in self._talks[index + 1 : index + 1 + MOST_ANSWERS]:
            said = plain_key(other.text.strip(" .!"), notation=self._notation)
            if said in keys and other.sender != self._talks[index].sender:
                return self._new_key(draft, said, other, is_sure=True) if said and said != draft.key else ""
        key = next((one for one in keys if one != draft.key), None)
        return self._new_key(draft, key, self._talks[index], is_sure=False) if key else ""

    def _may_be_out(self, draft: Draft, talk: _Talk, words: str = "") -> None:
        """Ask about a song that talk may take out; it stays in."""
        if not is_remark(words):
            says = f"a line may say that it is not played: {_short(talk.text)}"
            draft.doubts.append(Doubt(says, f"Is {draft.title!r} played?", _IS_PLAYED, quotes=talk.quoted))

    def _drop(self, draft: Draft, talk: _Talk, index: int, *, is_sure: bool) -> str:
        key = str(draft.key) if draft.key else None
        if not is_sure:
            if self._is_refused(index):
                return ""
            says = f"a line asks to leave it out: {_short(talk.text)}"
            draft.doubts.append(Doubt(says, f"Is {draft.title!r} played?", _IS_PLAYED, quotes=talk.quoted))
            return f"asks to leave {draft.title} out"
        home = self._home(draft)
        if home is None:
            return ""
        self._gone = index, home[0], home[1]
        doubt = msgspec.structs.replace(played_or_not(_short(talk.text), draft.title, key), quotes=talk.quoted)
        self._gathered.take_away(draft, f"not played ({talk.text})", doubt)
        return f"{draft.title}: not played"

    def _swap(self, one: Draft, other: Draft, talk: _Talk) -> str:
        first, second = self._home(one), self._home(other)
        if first is None or second is None:
            return ""
        first[0].songs[first[1]], second[0].songs[second[1]] = other, one
        one.number = other.number = None
        says = f"changes places with {other.title}, as a line says: {_short(talk.text)}"
        question = asks_exchange(one.title, other.title)
        self._gathered.places.append(PlaceAsked(one, says, question, talk.quoted, is_made=True, partner=other))
        return f"{one.title} and {other.title} change places"

    def _move(self, draft: Draft, change: TalkChange, above: Sequence[Draft], talk: _Talk) -> str:
        beside = above[change.beside] if change.beside is not None else None
        home = self._home(draft)
        if home is None or beside is draft:
            return ""
        before = self._order()
        home[0].songs.pop(home[1])
        there, at = self._place(change.side, beside, default=home)
        there.songs.insert(at, draft)
        if (there, at) == home:
            return ""
        draft.number = None
        places = self._gathered.places
        asked = [one for one in places if isinstance(one, PlaceAsked) and one.is_made and one.partner is None]
        for earlier in (one for one in asked if one.draft is draft):
            places.remove(earlier)
            before = earlier.other  # where the list itself has it
        question = asks_place(draft.title, change.side, beside.title if beside else None)
        says = f"moved, as a line says: {_short(talk.text)}"
        places.append(PlaceAsked(draft, says, question, talk.quoted, is_made=True, other=before))
        return f"{draft.title}: moved"

    def _add_new(self, talk: _Talk, index: int) -> str:
        """Add the song that a line names which the list has not: put Weeds in there instead, D."""
        change = new_song(talk.text, self._notation)
        near = self._is_near(index)
        if change is None or (change.key is None and not near):
            return ""
        if change.is_asked and not self._is_agreed(index):
            return "" if self._is_refused(index) else self._ask_for(change, None, (), talk)
        return self._add(talk, change, None, index)

    def _add(self, talk: _Talk, change: TalkChange, beside: Draft | None, index: int) -> str:
        draft = Draft(talk.row.place, talk.text, notation=self._notation)
        draft.title, draft.key = change.words, change.key
        if self._gone and beside is None and change.side in ("", "instead") and self._is_near(index):
            there, at = self._gone[1], self._gone[2]
            self._gone = None
        else:
            there, at = self._place(change.side, beside, default=None)
        there.songs.insert(at, draft)
        says = f"added by a line of talk: {_short(talk.text)}"
        self._gathered.places.append(SongAdded(draft, says, talk.quoted, there))
        for other in there.songs:
            other.number = None
        self._gathered.tell_song(talk.row, draft)
        return ""

    def _answer(self, index: int, above: Sequence[Draft]) -> str:
        """Take the answer to a question about one song for a note on it, or for a word that it is out."""
        talk = self._talks[index]
        asked = next((one for one in reversed(self._talks[:index]) if one.sender != talk.sender), None)
        if asked is None or not talk.sender or talk.at - asked.at > 1 or talk.text.rstrip().endswith("?"):
            return ""
        named = changes_said(asked.text, [draft.title for draft in above], self._notation)
        songs = {one.song for one in named}
        if len(songs) != 1 or any(one.kind is not TalkKind.NOTE or not one.is_whole for one in named):
            return ""
        draft = above[songs.pop()]
        if self._home(draft) is None:
            return ""
        if OUT_ALONE.match(talk.text) or OUT_SAID.search(talk.text):
            return self._drop(draft, talk, index, is_sure=True)
        keys = keys_said(_FIRST.split(talk.text, maxsplit=1)[0], self._notation, alone=True)
        if len(keys) == 1:
            return self._new_key(draft, keys[0][2], talk, is_sure=True)  # Moth is in? - E. sorry
        if is_remark(talk.text):
            draft.take_each(talk.text)
            return f"note on {draft.title}"
        return ""

    # ------------------------------------------------------------------ places

    def _home(self, draft: Draft) -> tuple[SetDraft, int] | None:
        return next(
            ((one, at) for one in self._gathered.sets for at, other in enumerate(one.songs) if other is draft), None
        )

    def _order(self) -> SetsInOrder:
        return tuple((one.name, tuple(one.songs)) for one in self._gathered.sets)

    def _order_with(self, draft: Draft, side: str, beside: Draft | None) -> SetsInOrder | None:
        """Return the order if a song were moved; None if it stands there already."""
        home, sets = self._home(draft), [*self._gathered.sets]
        if home is None or beside is draft:
            return None
        home[0].songs.pop(home[1])
        there, at = self._place(side, beside, default=home)
        there.songs.insert(at, draft)
        order = self._order()
        there.songs.pop(at)
        home[0].songs.insert(home[1], draft)
        self._gathered.sets[:] = sets
        return order if (there, at) != home else None

    def _place(self, side: str, beside: Draft | None, default: tuple[SetDraft, int] | None) -> tuple[SetDraft, int]:
        """Return the set and the place in it that words such as last, before and set 2 mean."""
        sets = [one for one in self._gathered.sets if one.songs] or self._gathered.sets
        plain = [one for one in sets if not one.name.startswith(_ENCORE)] or sets
        home = self._home(beside) if beside is not None else None
        if home is not None:
            return home[0], home[1] + (side == "after")
        match side:
            case "first":
                return plain[0], 0
            case "encore":
                if not sets[-1].name.startswith(_ENCORE):
                    self._gathered.sets.append(SetDraft(_ENCORE))
                    return self._gathered.sets[-1], 0
                return sets[-1], len(sets[-1].songs)
            case "set 1" | "set 2" | "set 3" if int(side[-1]) <= len(plain):
                there = plain[int(side[-1]) - 1]
                return there, len(there.songs)
        if default is not None and side != "last":
            return default
        return plain[-1], len(plain[-1].songs)

    # ------------------------------------------------------------------ the conversation

    def _is_near(self, index: int) -> bool:
        return self._gone is not None and index - self._gone[0] <= NEAR

    def _is_agreed(self, index: int) -> bool:
        """Return whether the one who sent the list asks, or another answers yes; in a letter, asking is saying."""
        talk = self._talks[index]
        if not talk.sender or (talk.sender in self._senders and not self._is_refused(index)):
            return True
        return next(self._answers(index), False)

    def _is_refused(self, index: int) -> bool:
        return not next(self._answers(index), True)

    def _answers(self, index: int) -> Iterator[bool]:
        """Yield yes or no for each message of another after this one that says so."""
        talk = self._talks[index]
        for other in self._talks[index + 1 : index + 1 + MOST_ANSWERS]:
            if other.sender != talk.sender and SAYS_NO.match(other.text):
                yield False
            elif other.sender != talk.sender and SAYS_YES.match(other.text):
                yield True


def _is_worth(change: TalkChange, draft: Draft) -> bool:
    """Return whether words that name a song are a note on it: wholly, or by a part before a sign or how to play it."""
    is_label = any(f"{draft.title}{sign}" in change.words for sign in (":", " :", " =", " ->", " →"))
    return (
        is_remark(change.words) or is_label or (change.is_whole and (" " in draft.title or draft.title in change.words))
    )


def _short(text: str) -> str:
    return cut(text, LONGEST_SAID)
