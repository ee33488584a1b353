"""Pieces of a line between separators: the songs that they name, and the facts and turns of phrase in them."""

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Final, NamedTuple

from companion.leader.corrected_items import TEMPOS
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator, is_word, names_songs
from companion.leader.reply_words import NUMBER, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import COLOUR, EXCEPT, FILLER, HEDGE, NEITHER, NOT, TurnOfPhrase

MAX_BESIDE: Final = 2  # words beside a letter that may be the key of many songs
MAX_OWN: Final = 2  # songs of which each mostly has its own key
MAX_UNKNOWN: Final = 4  # words beside a fact that still lands, with a doubt
# Words between that may be beside any answer; others make "you" and the like no answer.
QUIET: Final = set_of(
    "is its thats that are do does for and on : = - – — . ( ) , the # in it 's one please just always all both each "
    "you also here you're ur your number song with will be still of so well ok okay yes then a * / ' \" | & +"
)

SAYS_ALL: Final = re.compile(
    r"\b(?:all|each|entire|every\w{0,5}|whole|alle|alles|tout\w?|tod[oa]s?|tutt[oie]|vse|vsechn[oy]|všechn[oy]|vše|wszystk\w{1,2}|mind|minden)\b",
    re.IGNORECASE,
)


class ReplyPiece(NamedTuple):
    """The items between two separators. ``unknown``: the words that are not understood, for comparison."""

    items: tuple[ReplyItem, ...]
    begins_sentence: bool
    said: str = ""
    unknown: tuple[str, ...] = ()
    is_attached: bool = False  # whether nothing separates it from the piece before
    denies: bool = False  # whether it says "not", which denies what follows; a "no" may as well answer
    talks: bool = False  # whether it has other words between than those that stand beside any answer
    is_cut: bool = False  # whether it speaks of several songs and has the number of one: "1 zorp and 2 are in G"

    @property
    def facts(self) -> list[ReplyItem]:
        """The items that state a fact."""
        return [one for one in self.items if isinstance(one.what, StatedFact | KeyFact)]

    @property
    def songs(self) -> list[ReplyItem]:
        """The items that name songs or sets."""
        return [one for one in self.items if isinstance(one.what, SongsMeant)]

    @property
    def owners(self) -> list[SongsMeant]:
        """The songs and sets that it names."""
        return [one.what for one in self.items if isinstance(one.what, SongsMeant)]

    @property
    def all_owners(self) -> SongsMeant | None:
        """All songs that it names as one; None if it names none."""
        owners = self.owners
        if not owners:
            return None
        return owners[-1]._replace(songs=tuple(dict.fromkeys(song for one in owners for song in one.songs)))

    @property
    def is_unread(self) -> bool:
        """Whether it says something that must not be guessed: a "not", or many words beside a weak fact."""
        if self.turns(NOT) or self.turns(NEITHER):
            return True
        if not self.unknown or not self.facts:
            return False
        firm = all(
            isinstance(one.what, StatedFact | KeyFact) and (one.what.firm or self._drops(one) or self._is_of_many(one))
            for one in self.facts
        )
        return not firm or len(self.unknown) > MAX_UNKNOWN

    def _is_of_many(self, item: ReplyItem) -> bool:
        """Return whether a fact is the key of many songs, which few words stand beside: "C for all of them dear"."""
        are_many = any(one.is_rest or len(one.songs) > MAX_OWN for one in self.owners)
        return isinstance(item.what, KeyFact) and are_many and len(self.unknown) <= MAX_BESIDE

    def _drops(self, item: ReplyItem) -> bool:
        """Return whether a fact drops the song right after it, and all before is clear: "we skip 8 this cruise"."""
        is_drop = isinstance(item.what, StatedFact) and item.what.field == "dropped"
        is_drop = is_drop and all(one.what is not None for one in self.items if one.at < item.at)
        return is_drop and any(isinstance(one.what, SongsMeant) and one.at == item.end for one in self.items)

    @property
    def is_played_after_all(self) -> bool:
        """Whether it says that a song is played, although something said that it is not: no, leave that in."""
        facts = [one.what for one in self.facts]
        return any(isinstance(one, StatedFact) and one.field == "dropped" and one.value is False for one in facts)

    def without_yes(self) -> "ReplyPiece":
        """Return it without a "yes" or "no" beside other facts; a "no" makes them uncertain."""
        said = [one.what for one in self.facts if isinstance(one.what, StatedFact) and one.what.field == "yes"]
        if len(said) == len(self.facts):
            return self
        items = [one for one in self.items if one.what not in said]
        denied = any(not one.value for one in said)
        return self._replace(items=tuple(items), unknown=(*self.unknown, "no") if denied else self.unknown)

    @property
    def is_explained(self) -> bool:
        """Whether each of its words names a song, states a fact, is a known turn of phrase, or means nothing."""
        return not self.unknown and not self.turns(COLOUR, NOT, NEITHER, EXCEPT)

    @property
    def has_strays_first(self) -> bool:
        """Whether words that nothing explains stand before its first fact: "2 zorp G"."""
        first = min((item.at for item in self.facts), default=0)
        kinds = (COLOUR, NOT, NEITHER, EXCEPT)
        return any(
            item.at < first and (item.what is None or (isinstance(item.what, TurnOfPhrase) and item.what.kind in kinds))
            for item in self.items
        )

    def turns(self, *kinds: str) -> list[TurnOfPhrase]:
        """Return its turns of phrase of these kinds."""
        return [one.what for one in self.items if isinstance(one.what, TurnOfPhrase) and one.what.kind in kinds]

    def with_owners(self, about: SongsMeant) -> Iterator[tuple[StatedFact | KeyFact, SongsMeant]]:
        """Yield each fact with its songs: those before it, or, where the facts come first, those after it.

        ``about``: the songs that are being spoken of, where the piece names none.
        """
        songs = [(one.at, one.what) for one in self.items if isinstance(one.what, SongsMeant)]
        facts = [(one.at, one.what) for one in self.items if isinstance(one.what, StatedFact | KeyFact)]
        facts_first = bool(songs and facts) and facts[0][0] < songs[0][0] and facts[-1][0] < songs[-1][0]
        for at, fact in facts:
            before = [owner for place, owner in songs if place <= at]  # a song without words stands at its fact
            after = [owner for place, owner in songs if place > at]
            if not songs:
                yield fact, about
            elif facts_first:
                yield fact, after[0] if after else songs[-1][1]
            else:
                yield fact, before[-1] if before else after[0]


def pieces_of(line: ScannedLine) -> Iterator[ReplyPiece]:
    """Split a line into pieces; one that names songs more than once is split again."""
    has_capo = False  # whether this sentence speaks of a capo or of a guitar's tuning
    for piece in _parted(_separated(line)):
        has_capo = (has_capo and not piece.begins_sentence and not piece.songs) or _is_guitar_talk(piece, line)
        items = _without_strays(piece.items, line, begins=piece.begins_sentence, has_capo=has_capo)
        unknown = tuple(line.words[one.at].low for one in items if one.what is None and is_word(one, line.words))
        said = line.said(items[0].at, items[-1].end)
        yield piece._replace(
            items=items,
            said=said,
            unknown=unknown,
            denies=_denies(items, line),
            talks=_talks(items, line),
            is_cut=_is_cut(items, line),
        )


def _separated(line: ScannedLine) -> Iterator[ReplyPiece]:
    """Split a line's items at separators and after question marks. Each piece has at least one item."""
    items: list[ReplyItem] = []
    begins = True
    for item in line.items:
        if isinstance(item.what, Separator):
            if items:
                yield ReplyPiece(tuple(items), begins)
                items, begins = [], False
            begins = begins or item.what.is_strong
            continue
        items.append(item)
        if isinstance(item.what, TurnOfPhrase) and item.what.kind == HEDGE and line.words[item.at].low == "?":
            yield ReplyPiece(tuple(items), begins)
            states = any(isinstance(one.what, SongsMeant | StatedFact | KeyFact) for one in items)
            items, begins = [], begins and not states  # could you print the list? 4 G
    if items:
        yield ReplyPiece(tuple(items), begins)


def _parted(pieces: Iterable[ReplyPiece]) -> Iterator[ReplyPiece]:
    """Split a piece that names songs more than once: before each of them, or after each where the facts come first."""
    for piece in pieces:
        names = [at for at, item in enumerate(piece.items) if names_songs(item)]
        if len(names) < 2 or piece.turns(NEITHER):
            yield piece
            continue
        facts = [at for at, item in enumerate(piece.items) if isinstance(item.what, StatedFact | KeyFact)] or [0]
        songs_first = facts[0] > names[0] or facts[-1] > names[-1]
        cuts = names[1:] if songs_first else [at + 1 for at in names[:-1]]
        begins = piece.begins_sentence
        for start, end in zip([0, *cuts], [*cuts, len(piece.items)], strict=True):
            yield ReplyPiece(piece.items[start:end], begins, is_attached=start > 0)
            begins = False


def _talks(items: Iterable[ReplyItem], line: ScannedLine) -> bool:
    fillers = [one for one in items if isinstance(one.what, TurnOfPhrase) and one.what.kind in (FILLER, COLOUR)]
    return any(line.words[at].low not in QUIET for one in fillers for at in range(one.at, one.end))


def _is_cut(items: tuple[ReplyItem, ...], line: ScannedLine) -> bool:
    for before, item in pairwise(items):
        meant = before.what
        is_number = isinstance(meant, SongsMeant) and line.words[before.end - 1].kind == NUMBER
        is_one = isinstance(meant, SongsMeant) and len(meant.songs) == 1 and not meant.is_rest
        if is_number and is_one and line.words[item.at].low in ("are", "both"):
            return True
    return False


def _denies(items: Iterable[ReplyItem], line: ScannedLine) -> bool:
    nots = (one for one in items if isinstance(one.what, TurnOfPhrase) and one.what.kind == NOT)
    return any(line.words[one.at].low in ("not", "nicht", "pas", "instead", "rather", "isnt") for one in nots)


def _is_guitar_talk(piece: ReplyPiece, line: ScannedLine) -> bool:
    """Return whether a piece speaks of a capo, of shapes or of how a guitar is tuned."""
    has_capo = any(isinstance(one.what, StatedFact) and one.what.field in ("capo", "shapes") for one in piece.items)
    said = (line.words[at].low for one in piece.items for at in range(one.at, one.end))
    return has_capo or any(word in GUITAR_TALK for word in said)


GUITAR_TALK: Final = set_of("capo kapo capoed tuned tuning detuned fret frets shapes barre dadgad")


_WITH_CAPO: Final = set_of("guitar guitars gtr gtrs gitarre acoustic mandolin banjo keys me myself")
_SPEAKERS: Final = set_of("i ill you youve u we ich du jij toi moi all everyone everybody alle tous tutti")


def _without_strays(
    items: tuple[ReplyItem, ...], line: ScannedLine, *, begins: bool, has_capo: bool
) -> tuple[ReplyItem, ...]:
    """Take "you" and the like for words between where more is said, and players beside a capo, who do not start."""
    says_anew = begins and items[0].at > 0 and not any(isinstance(one.what, SongsMeant) for one in items)
    is_talk = says_anew or _talks(items, line)
    kept = []
    for item in items:
        what = item.what
        is_stray = isinstance(what, StatedFact) and (
            (what.is_lone and is_talk) or (has_capo and what.field == "starts_with" and not what.firm)
        )
        # "I" and "you" are of any sentence; another player who is no answer may change what the rest means.
        is_guitarist = has_capo and line.words[item.end - 1].low in _WITH_CAPO
        kind = FILLER if is_guitarist or line.words[item.at].low in _SPEAKERS else COLOUR
        kept.append(item._replace(what=TurnOfPhrase(kind, item.end)) if is_stray else item)
    return tuple(kept)


def lone_tempo(piece: ReplyPiece) -> StatedFact | None:
    """Return a number that is no song's and may be a tempo, where a piece has nothing else."""
    is_lone = len(piece.items) == 1 and bool(piece.owners) and bool(piece.owners[0].no_song)
    if not is_lone or piece.is_attached or not piece.said.isdecimal() or int(piece.said) not in TEMPOS:
        return None
    return StatedFact("tempo", piece.said, 0, firm=False)
