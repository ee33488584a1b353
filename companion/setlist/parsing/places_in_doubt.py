"""Doubt where a song is played, where talk moves it: no puts it back, and yes moves one that was left where it was."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Final

import msgspec

from companion.setlist.model import Beside, Doubt, DoubtAnswer, LineCorrection, LineKind, PlaceCorrection
from companion.setlist.parsing.doubts import NO, YES
from companion.setlist.parsing.set_draft import SetDraft
from companion.setlist.parsing.song_draft import Draft

SetsInOrder = tuple[tuple[str, tuple[Draft, ...]], ...]  # each set's name and songs
_PLAYED: Final = {"first": "first", "last": "last", "encore": "in the encore", "for": "in place of"}


class PlaceAsked(msgspec.Struct, frozen=True):
    """A question about a song's place, kept until all songs have their numbers.

    The answer that was not assumed moves the song to where ``other`` has it, or exchanges it with ``partner``.
    """

    draft: Draft
    says: str
    question: str
    quotes: str  # the line of talk, with its place
    is_made: bool  # the song has moved
    other: SetsInOrder = ()
    partner: Draft | None = None


class SongAdded(msgspec.Struct, frozen=True):
    """A song that talk adds to a set: whether it is played, and where, is asked when all songs have their places."""

    draft: Draft
    says: str
    quotes: str  # the line of talk, with its place
    home: SetDraft

    def doubt(self, drafts: Sequence[Draft], numbers: Mapping[int, int]) -> Doubt:
        """Return the doubt, which names the song's neighbour. Answers that move it or take it out say so themselves."""
        songs = [song for song in self.home.songs if id(song) in numbers]
        at = next((at for at, song in enumerate(songs) if song is self.draft), 0)
        before = drafts[numbers[id(self.draft)] - 2] if numbers.get(id(self.draft), 1) > 1 else None
        is_first = at == 0 and len(songs) > 1
        place = f", before {songs[1].title!r}" if is_first else f", after {before.title!r}" if before else ""
        others = [DoubtAnswer("not played", (LineCorrection(LineKind.ASIDE),))]
        if at + 1 < len(songs):
            last = PlaceCorrection(Beside.AFTER, numbers[id(songs[-1])])
            others.append(DoubtAnswer("last of the set", (last,)))
        return Doubt(self.says, f"Is {self.draft.title!r} a song{place}?", (YES, *others), quotes=self.quotes)


def asks_place(title: str, side: str, beside: str | None) -> str:
    """Return the question whether a song is played where talk puts it: before 'Weeds', last, in set 2."""
    words = _PLAYED.get(side, f"in {side}" if side.startswith("set") else side)
    return f"Is {title!r} played {words}{f' {beside!r}' if beside and side in ('before', 'after', 'for') else ''}?"


def asks_exchange(title: str, other: str) -> str:
    """Return the question whether two songs change places."""
    return f"Do {title!r} and {other!r} change places?"


def doubt_places(asked: Sequence[PlaceAsked | SongAdded], drafts: Sequence[Draft]) -> None:
    """Add to each song still in the show the doubts about its place. ``drafts``: all songs, in order."""
    numbers = {id(draft): number for number, draft in enumerate(drafts, start=1)}
    for added in (one for one in asked if isinstance(one, SongAdded)):
        added.draft.doubts.append(added.doubt(drafts, numbers))
    places = [one for one in asked if isinstance(one, PlaceAsked)]
    moved = {id(one.draft) for one in places if one.is_made and one.partner is None}
    for one in places:
        correction = _correction(one, numbers, moved) if id(one.draft) in numbers else None
        if correction:
            answers = (
                (YES, DoubtAnswer("no", (correction,))) if one.is_made else (NO, DoubtAnswer("yes", (correction,)))
            )
            one.draft.doubts.append(Doubt(one.says, one.question, answers, quotes=one.quotes))


def _correction(one: PlaceAsked, numbers: Mapping[int, int], moved: Collection[int]) -> PlaceCorrection | None:
    if one.partner is not None:
        number = numbers.get(id(one.partner))
        return PlaceCorrection(Beside.EXCHANGE, number) if number else None
    kept = [(name, [song for song in songs if song is one.draft or id(song) in numbers]) for name, songs in one.other]
    at = next(at for at, (_, songs) in enumerate(kept) if any(song is one.draft for song in songs))
    name, songs = kept[at]
    near = [*_nearest(songs, one.draft)]
    stay = [each for each in near if id(each[1]) not in moved]
    if found := next(iter((*stay, *near)), None):
        return PlaceCorrection(found[0], numbers[id(found[1])])
    ends = [(Beside.AFTER, songs[-1]) for _, songs in reversed(kept[:at]) if songs]
    ends += [(Beside.BEFORE, songs[0]) for _, songs in kept[at + 1 :] if songs]
    return PlaceCorrection(ends[0][0], numbers[id(ends[0][1])], name or f"Set {at + 1}") if ends else None


def _nearest(songs: Sequence[Draft], draft: Draft) -> Iterator[tuple[Beside, Draft]]:
    """Yield the other songs of a set: those behind the draft, then those in front of it, the nearest first."""
    at = next(at for at, song in enumerate(songs) if song is draft)
    for song in songs[at + 1 :]:
        yield Beside.BEFORE, song
    for song in reversed(songs[:at]):
        yield Beside.AFTER, song
