"""Which songs a reply means: by number, range, set, or a title that is short or typed in haste."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from companion.leader.answer_behind import CAPITAL, begins_answer, has_answer, is_of_verb
from companion.leader.near_titles import (
    ALONE_TOO_COMMON,
    SHORT,
    SMALL,
    first_letters,
    goes_on,
    is_kind_of_song,
    is_player_who_starts,
    is_pointed_at,
    nearly,
    typed,
    with_short_word,
    within_nearly,
)
from companion.leader.numbers_meant import (
    CALLED,
    ENDS_OF_SET,
    UNITS,
    are_bars,
    end_named,
    end_of_onwards,
    first_or_last,
    is_digit,
    is_dot,
    is_said_of_song,
    may_be_number,
    ordinal_at,
    up_to,
)
from companion.leader.phrase_lists import HEDGES
from companion.leader.reply_words import COUNTED, NUMBER, SIGN, WORD, ReplyWord, counted, low, set_of, words_of
from companion.leader.set_names import SetNames
from companion.leader.title_words import also_inflected, elided
from companion.show import Show
from companion.show.titles import folded

ARTICLES: Final = ("the", "a", "an", "der", "die", "das")  # titles are compared without them
POSSESSIVE: Final = re.compile(r"['’]s$")
EXACT: Final = 300.0
WITHIN: Final = 200.0
MAX_NUMBER: Final = 300  # songs in a show; higher numbers are years and tempos
MAX_TITLE_WORDS: Final = 9
WHOLE: Final = set_of("whole entire hela hele ganze ganzer ganzes tout toute tutto todo toda")
# One such word names a title only right before its answer: "Wait: G", but not "can you bring an organ".
COMMON: Final = set_of(
    "bring brings call calls send sends ask asks tell tells get gets got hold holds keep keeps wait waits stop stops "
    "turn turns run runs walk talk see seen look looks find found think know knows mind play plays played sing sings "
    "let lets put puts leave leaves thanks please sorry maybe year week month party dinner morning evening everyone "
    "everybody everything something nothing anything sound sounds place thing things work show word words "
    "watch read write meet met help move train coach bus park street floor door doors stage food money"
)


class SongsMeant(NamedTuple):
    """The songs that some words mean: places in the show from 0, over all sets; the words from ``at`` to ``end``.

    ``sets``: the sets that are meant themselves. ``is_word``: a number as a word, which may be none.
    """

    songs: tuple[int, ...]
    at: int
    end: int
    doubt: str = ""
    sets: tuple[int, ...] = ()
    is_rest: bool = False
    is_word: bool = False
    no_song: str = ""


class SongNames:
    """The songs and sets of a show, as a reply may name them. ``numbers``: each number of the message to a song."""

    def __init__(self, show: Show, numbers: Sequence[int | None] | None = None) -> None:
        self.show = show
        self.songs = [(at, index, song) for at, one in enumerate(show.sets) for index, song in enumerate(one.songs)]
        self.numbers = list(numbers) if numbers is not None else list(range(len(self.songs)))
        self.titles = [folded(song.title) for _, _, song in self.songs]
        self._title_words = [
            also_inflected([*title.split(), *elided(song.title)])
            for title, (_, _, song) in zip(self.titles, self.songs, strict=True)
        ]
        said = [tuple(word.low for word in words_of(title)) for title in self.titles]
        self._split_titles = [
            (words, at)
            for at, (words, (_, _, song)) in enumerate(zip(said, self.songs, strict=True))
            if words != tuple(self.titles[at].split()) or _SIGN_WITHIN.search(song.title)
        ]
        self._first_words = {title.split()[0] for title in self.titles if title}
        self._exact: dict[str, tuple[int, ...]] = {}
        for at, title in enumerate(self.titles):
            self._exact[title] = (*self._exact.get(title, ()), at)
        self.named_sets = SetNames(show.sets)
        self.sets = self.named_sets.names
        self.from_top: dict[int, bool] = {}  # sets whose numbers are sure to count from the first song of the show
        self.by_phrase = lru_cache(maxsize=4096)(self._by_phrase)

    def own_line(self, text: str) -> SongsMeant | None:
        """Return the song of a line as the message writes it, its number and its title: 14 Sorry, Sister Assumpta.

        Behind the title may stand in brackets what the show knows of its key: (record: E).
        """
        found = _OWN_LINE.fullmatch(text)
        number = int(found["number"]) if found else 0
        place = self.numbers[number - 1] if 1 <= number <= len(self.numbers) else None
        is_own = found is not None and place is not None and folded(found["title"]) == self.titles[place]
        if not is_own and place is not None and (known := _KNOWN.fullmatch(text)):
            song = self.songs[place][2]
            keys = {str(key) for key in (song.key, song.record_key) if key is not None}
            return self.own_line(known["line"]) if keys.intersection(known["known"].split()) else None
        return SongsMeant((place,), 0, 0) if is_own and place is not None else None

    def in_set(self, at: int) -> list[int]:
        """Return the places of a set's songs."""
        return [place for place, (set_at, _, _) in enumerate(self.songs) if set_at == at]

    # -------------------------------------------------------------- titles

    def _by_phrase(self, phrase: str) -> tuple[tuple[int, ...], float]:
        """Return the songs that a phrase names, and how surely: EXACT, WITHIN, or by how much per cent it is alike."""
        if exact := self._exact.get(phrase):
            return exact, EXACT
        begun = [at for at, title in enumerate(self.titles) if title.startswith(f"{phrase} ")] if " " in phrase else []
        if len(begun) == 1:
            return tuple(begun), WITHIN  # slow one, of Slow One for Marcus
        said = [word for word in phrase.split() if word not in SMALL]
        if not said or (len(said) == 1 and (said[0] in ALONE_TOO_COMMON or said[0] in COUNTED or len(said[0]) < 4)):
            return (), 0
        is_twice = len(set(said)) < len(said)  # Out of Office is out
        within = tuple(at for at, title in enumerate(self._title_words) if title.issuperset(said) and not is_twice)
        if within or len(phrase) < 5:
            return within, WITHIN + len(said) / 100
        return nearly(phrase, self.titles)

    def _initials(self, words: Sequence[ReplyWord], at: int) -> int | None:
        """Return the one song whose title has these initials, right before its answer: "LKA: G"."""
        text = words[at].text
        if not (text.isupper() and text.isalpha() and 2 <= len(text) <= 5) or CAPITAL.match(text.title()):
            return None
        if not has_answer(words, at + 1):
            return None
        found = [one for one, title in enumerate(self.titles) if first_letters(title) == text.casefold()]
        return found[0] if len(found) == 1 else None

    def titled(self, words: Sequence[ReplyWord], at: int, *, haste: bool) -> SongsMeant | None:
        """Read the longest title that begins at a word. Two titles alike give no song."""
        first = words[at].low
        if words[at].kind not in (WORD, NUMBER) or (words[at].kind == NUMBER and first not in self._first_words):
            return None
        if (whole := self._whole_title(words, at)) is not None:
            return whole
        begun = [one for one, title in enumerate(self.titles) if title.startswith(f"{first} {low(words, at + 1)} ")]
        ends = at + 2 >= len(words) or words[at + 2].kind == SIGN or has_answer(words, at + 2)
        if len(begun) == 1 and low(words, at + 1) in ("one", "ones") and ends:
            return SongsMeant((begun[0],), at, at + 2)  # slow one, of Slow One for Marcus
        best: tuple[float, int, tuple[int, ...]] | None = None
        short: tuple[int, int] | None = None  # a song and where its one short word ends
        for end, phrase in _phrases_from(words, at):
            found, how = self.by_phrase(phrase)
            points = is_pointed_at(words, at, end)  # the kissing one
            is_answered = has_answer(words, end) or begins_answer(words, at, end)
            if not found and len(phrase) >= SHORT and (points or is_answered or is_of_verb(words, at, end)):
                of_word = self._of_short_word(words, at, phrase) if end == at + 1 and not points else ()
                of_word = of_word or within_nearly(phrase, self.titles, by_form=points)
                short = (of_word[0], end) if len(of_word) == 1 else short
            is_hasty = how < WITHIN and (not haste or low(words, end - 1) in HEDGES)  # Avó Celeste acho que em Fá
            begins_inexactly = first in SMALL or words[at].kind == NUMBER or is_hasty
            begins_inexactly = begins_inexactly and not self._begins_title(words, at, end, found)
            is_lone = how < EXACT and end == at + 1 and not is_answered
            is_common = is_lone and (
                first in COMMON or is_kind_of_song(words, at) or is_player_who_starts(words, at, end)
            )
            if not found or is_common or (how < EXACT and begins_inexactly):
                continue
            if (
                best is not None
                and how < WITHIN <= best[0]
                and not goes_on(self.titles[found[0]], words[at:end], best[1] - at)
            ):
                continue  # Out of Office is out, of Out of Office Tonight
            if best is None or how == EXACT or best[0] < EXACT:  # the longest, but an exact one first
                best = (how, end, found)
        if best is None and short is None and (initials := self._initials(words, at)) is not None:
            return SongsMeant((initials,), at, at + 1, f"{words[at].text} may be a title")
        if best is None:
            return (
                SongsMeant((short[0],), at, short[1], f"{typed(words, at, short[1])} may be a title") if short else None
            )
        _, end, found = best
        if len(found) == 1:
            return SongsMeant(found, at, end)
        said = " or ".join(dict.fromkeys(self.songs[one][2].title for one in found))
        return SongsMeant((), at, end, no_song=f"which song: {said}?")

    def _of_short_word(self, words: Sequence[ReplyWord], at: int, word: str) -> tuple[int, ...]:
        begins = at - (low(words, at - 1) in SMALL)
        return with_short_word(word, self._title_words, is_first=begins <= 0 or words[begins - 1].kind == SIGN)

    def _begins_title(self, words: Sequence[ReplyWord], at: int, end: int, found: tuple[int, ...]) -> bool:
        """Return whether a clause begins with the first words of a title, its article too: la zia non la facciamo."""
        said = [word.low for word in words[at:end]]
        is_first = at == 0 or words[at - 1].kind == SIGN
        is_own = len(said) > 1 and len(said[-1]) >= SHORT and said[-1] not in SMALL | ALONE_TOO_COMMON
        is_same = len(found) == 1 and self.titles[found[0]].split()[: len(said)] == said
        return is_first and is_own and is_same and words[at].kind == WORD

    def _whole_title(self, words: Sequence[ReplyWord], at: int) -> SongsMeant | None:
        """Read a whole title with signs between its words, or a number within one: Slow Boat, Small Hat; Flat 3F2."""
        for title, place in self._split_titles:
            end, matched = at, 0
            while end < len(words) and matched < len(title):
                if words[end].low == title[matched]:
                    matched += 1
                elif not (matched and words[end].kind == SIGN and words[end].text in _WITHIN_TITLES):
                    break
                end += 1
            if matched == len(title) and self.titles.count(self.titles[place]) == 1:
                return SongsMeant((place,), at, end)
        return None

    # -------------------------------------------------------------- numbers

    def number(self, said: int, within: int | None) -> tuple[int | None, str]:
        """Return the song of a number, and the doubt where it may be another. ``within``: the set being spoken of."""
        over_all = self.numbers[said - 1] if 1 <= said <= len(self.numbers) else None
        if within is None or self.from_top.get(within):
            return over_all, ""
        songs = self.in_set(within)
        local = songs[said - 1] if 1 <= said <= len(songs) else None
        if local is None or local == over_all:
            return over_all, ""
        if over_all in songs and within not in self.from_top:
            here, there = self.songs[local][2].title, self.songs[over_all][2].title
            return local, f"{said} may be {here} or {there}"
        return local, ""

    def set_numbered(self, number: int) -> int | None:
        """Return the set of a number: the one that is named so, or else the nth."""
        return self.named_sets.numbered(number)

    def set_named(self, text: str) -> int | None:
        """Return the set whose name is all of a line: First, Late set:."""
        return self.named_sets.named(text)

    def set_meant(self, words: Sequence[ReplyWord], at: int) -> SongsMeant | None:
        """Read a set: set 2, second set, the 2nd set, both sets, or its name."""
        begins = at
        if words[at].low in WHOLE:
            begins += 1 + (low(words, at + 1) in ("of", "the", "die", "le", "la", "il"))
            begins += low(words, begins) == "the"
        found = self.named_sets.meant(words, begins) if begins < len(words) else None
        return SongsMeant((), at, found.end, sets=found.places, no_song=found.missing) if found else None

    def numbered(self, words: Sequence[ReplyWord], at: int, within: int | None) -> SongsMeant | None:
        """Read a number or a range of numbers: 2, #2, no. 2, number two, 4-7, the third one."""
        start = at
        is_no = words[at].low == "no" and at > 0 and words[at - 1].kind == NUMBER  # 7 no 8 G
        is_number = words[at].low != "no" or is_dot(words, at + 1) or is_digit(words, at + 1)
        called = words[at].low in CALLED and is_number and not is_no
        if called:
            at += 2 if is_dot(words, at + 1) else 1
        if at >= len(words):
            return None
        if (ordinal := ordinal_at(words, at)) is not None:
            return self._of(ordinal[0], None, start, ordinal[1], within)
        if (one := self._end_of_set(words, at, within)) is not None:
            return one
        if (several := self._first_or_last(words, at, within)) is not None:
            return several
        if (every_other := self._odd_or_even(words, at, within)) is not None:
            return every_other
        first = counted(list(words), at)
        if first is not None and first[0] > MAX_NUMBER:
            return None  # the 1998 version
        if first is None or not may_be_number(words, at, at + first[1], called=called):
            return None
        number, many = first
        end, last = at + many, None
        begins = up_to(words, start, end)
        if 0 < begins < len(words) and (second := counted(list(words), begins)):
            to_end = begins + second[1]
            if number < second[0] and not (to_end < len(words) and words[to_end].low in UNITS):
                last, end = second[0], to_end
        if last is None and (open_end := end_of_onwards(words, at, end)):
            last = len(self.in_set(within)) if within is not None else len(self.numbers)
            onwards = self._of(number, last, start, open_end, within)
            return onwards._replace(doubt=onwards.doubt or f"from {number} to the end of which set?")
        meant = self._of(number, last, start, end, within)
        return meant._replace(is_word=words[at].kind == WORD and not called)

    def _end_of_set(self, words: Sequence[ReplyWord], at: int, within: int | None) -> SongsMeant | None:
        """Read the last song, the opener, the closing song: of the set being spoken of, or of the show."""
        songs = self.in_set(within) if within is not None else list(range(len(self.songs)))
        if not songs or is_said_of_song(words, at) or (found := end_named(words, at)) is None:
            return None
        (is_first, end), said = found, words[at].low
        is_titled = said in ENDS_OF_SET and any(said in title for title in self._title_words)
        is_unclear = is_titled or (within is None and said != "last" and len(self.sets) > 1)
        doubt = f"{words[at].text} of which set?" if is_unclear else ""
        return SongsMeant((songs[0 if is_first else -1],), at, end, doubt)

    def _first_or_last(self, words: Sequence[ReplyWord], at: int, within: int | None) -> SongsMeant | None:
        """Read the first three, last 2: of the set being spoken of, or of the show."""
        found = first_or_last(words, at)
        songs = self.in_set(within) if within is not None else list(range(len(self.songs)))
        if found is None or found[1] > len(songs) or are_bars(words, at, found[2]):
            return None
        is_first, many, end = found
        end += end < len(words) and words[end].low in ("songs", "tunes", "numbers", "ones")
        return SongsMeant(tuple(songs[:many] if is_first else songs[len(songs) - many :]), at, end)

    def _odd_or_even(self, words: Sequence[ReplyWord], at: int, within: int | None) -> SongsMeant | None:
        """Read odd numbers, the even ones: of the set being spoken of, or of the message."""
        follows = words[at + 1].low if at + 1 < len(words) else ""
        is_short = words[at].low in ("odds", "evens")  # evens in A, odds in E
        is_long = words[at].low in ("odd", "even") and follows in ("numbers", "ones", "songs", "tunes", "numbered")
        if not (is_short or is_long):
            return None
        end = at + 2 - is_short
        end += follows == "numbered" and end < len(words) and words[end].low in ("songs", "tunes", "ones")
        many = len(self.in_set(within)) if within is not None else len(self.numbers)
        found = [self.number(said, within) for said in range(1 if words[at].low in ("odd", "odds") else 2, many + 1, 2)]
        doubt = "; ".join(dict.fromkeys(why for _, why in found if why))
        return SongsMeant(tuple(song for song, _ in found if song is not None), at, end, doubt)

    def _of(self, first: int, last: int | None, start: int, end: int, within: int | None) -> SongsMeant:
        found, doubts = [], []
        for said in range(first, (last or first) + 1)[:200]:
            song, doubt = self.number(said, within)
            if song is None:
                gone = 1 <= said <= len(self.numbers)
                why = f"song {said} of the message is gone" if gone else f"there is no song {said}"
                return SongsMeant((), start, end, no_song=why)
            found.append(song)
            doubts += [doubt] if doubt else []
        return SongsMeant(tuple(found), start, end, "; ".join(doubts))


_OWN_LINE: Final = re.compile(r"(?P<number>\d{1,3})[.):]?\s{1,4}(?P<title>\S.{0,118}?)\s{0,4}[:?]?")
_KNOWN: Final = re.compile(r"(?P<line>[^(\[]{3,124}) [(\[](?P<known>[^?()\[\]]{1,40})[)\]]")
_SIGN_WITHIN: Final = re.compile(r"\w[,!?.()–-]{1,2} ?\w|\w [(&–-] ?\w")
_WITHIN_TITLES: Final = frozenset(",!?.()–-&")


def _phrases_from(words: Sequence[ReplyWord], at: int) -> Iterator[tuple[int, str]]:
    """Yield the phrases that begin at a word, shortest first, as titles are compared: (end, phrase)."""
    said: list[str] = []
    for end in range(at, min(len(words), at + MAX_TITLE_WORDS)):
        word = words[end]
        if word.kind not in (WORD, NUMBER):
            return
        without_s = word.low.removesuffix("s") if POSSESSIVE.search(word.text) else word.low
        if not (word.low in SMALL and said):
            yield end + 1, " ".join((*(said[1:] if said and said[0] in ARTICLES else said), without_s))
        said.append(word.low)


def joined(meant: Iterator[SongsMeant]) -> SongsMeant:
    """Join the songs of a list: 1, 2 and 5."""
    listed = list(meant)
    songs = tuple(dict.fromkeys(song for one in listed for song in one.songs))
    doubt = "; ".join(dict.fromkeys(one.doubt for one in listed if one.doubt))
    no_song = next((one.no_song for one in listed if one.no_song), "")
    return SongsMeant(
        songs,
        listed[0].at,
        listed[-1].end,
        doubt,
        is_rest=any(one.is_rest for one in listed),
        is_word=all(one.is_word for one in listed),
        no_song=no_song,
    )
