"""Whether the numbers below a set's name count its own songs, or those of the whole message: "Act 2: 6 G, 7 Em"."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from companion.leader.numbers_meant import CALLED
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator
from companion.leader.reply_words import NUMBER, ReplyWord
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import StatedFact

_TIMES: Final = ("clock", "minutes")
LEAST: Final = 2  # sets with numbers below their times; below the times of one set all songs may be listed


def sets_from_top(lines: Sequence[ScannedLine], own: Mapping[int, Sequence[int]]) -> dict[int, bool]:
    """Return for each set whether its numbers are sure to be those of the message, or sure to be its own.

    ``own``: the numbers of each set's songs in the message. A set whose numbers may be either counts as the others do.
    """
    timed = numbers_by_set(lines, with_times=True)
    numbers = timed if len(timed) >= LEAST else numbers_by_set(lines)
    counts = {place: counts_from_top(said, own[place]) for place, said in numbers.items() if said}
    # Numbers behind or below the time of one set show only that they are too high for it.
    apart = numbers_by_set(lines, with_times=True, behind=False)
    counts = {place: is_top for place, is_top in counts.items() if is_top or apart.get(place)}
    counts |= {place: True for place, said in timed.items() if counts_from_top(said, own[place])}
    sure = {place: is_top for place, is_top in counts.items() if is_top is not None}
    ways = set(sure.values())
    return sure if len(ways) != 1 else dict.fromkeys(counts, True in ways)


def numbers_by_set(
    lines: Sequence[ScannedLine], *, with_times: bool = False, behind: bool = True
) -> dict[int, list[int]]:
    """Return the numbers that are said of each set: after its name in a line, or below a line that only names it.

    ``with_times``: such a line may say the set's times as well. ``behind``: also those in a sentence behind the one
    that names the set and no number: "set 2 is at ten. 2 in G".
    """
    found: dict[int, list[int]] = {}
    above: int | None = None
    for line in lines:
        within, ends_with_sentence, counts = above, False, False
        for item in line.items:
            meant = item.what
            if isinstance(meant, Separator) and meant.is_strong and (ends_with_sentence or not (behind or counts)):
                within = above  # set 2: 1 G, 2 C. 8 is out
            if not isinstance(meant, SongsMeant):
                continue
            if meant.sets and not meant.songs:
                within = meant.sets[0] if len(meant.sets) == 1 else None
                ends_with_sentence = item.end < len(line.words) and line.words[item.end].text == ":"
                counts = False
            elif within is not None:
                numbers = list(_numbers(line, item.at, item.end))
                counts = counts or bool(numbers)
                found.setdefault(within, []).extend(numbers)
        if _is_heading(line, with_times=with_times):
            above = within
    return found


def counts_from_top(numbers: Sequence[int], own: Sequence[int]) -> bool | None:
    """Return whether a set's numbers are those of the message (True) or its own (False); None if they may be either.

    ``own``: the numbers of its songs in the message.
    """
    if any(number > len(own) and number in own for number in numbers):
        return True  # the last set only 8. 2 is in G; the second set is at ten. 1 to 3 in A, 6 and 7 in C
    are_of_message, are_of_set = set(numbers) <= set(own), max(numbers, default=0) <= len(own)
    return are_of_message if are_of_message is not are_of_set else None


def with_sets_left(words: Sequence[ReplyWord], items: Sequence[ReplyItem], names: SongNames) -> list[ReplyItem]:
    """Doubt numbers in a sentence behind that of their set: "Set 2: G, D. 4 fades", "set 2 at ten. 1 to 3 in A".

    They may count the songs of the whole message, and most likely do so as "number 4".
    """
    kept: list[ReplyItem] = []
    sets: list[int] = []  # those that are named since the last number
    is_behind = parted = False
    of_set: int | None = None
    for item in items:
        what, said = item.what, words[item.end - 1]
        kept.append(item)
        if isinstance(what, Separator) and what.is_strong:
            is_behind, parted = bool(sets and sets[-1]), True
        if isinstance(what, SongsMeant) and len(what.sets) == 1:
            sets.append(of_set := what.sets[0])
            is_behind = parted = False
        elif isinstance(what, SongsMeant) and what.songs and said.kind == NUMBER:
            of_all, _ = names.number(int(said.text), None)
            if is_behind and of_all is not None and of_all not in what.songs and sets[-1] not in names.from_top:
                may_be_all = words[item.at].low in CALLED or len({*sets}) > 1  # set 1 at 8, set 2 at 10. 1 in G
                is_of_all = may_be_all and len(what.songs) == 1
                songs, other = ((of_all,), what.songs[0]) if is_of_all else (what.songs, of_all)
                doubt = what.doubt or f"{said.text}, or is it {names.songs[other][2].title}?"
                kept[-1] = item._replace(what=what._replace(songs=songs, doubt=doubt))
            elif not is_behind:
                sets.clear()
        elif isinstance(what, SongsMeant) and len(what.songs) == 1 and of_set is not None and parted:
            kept[-1] = _end_of_all(words, item, of_set, kept, names)
    return kept


def _end_of_all(
    words: Sequence[ReplyWord], item: ReplyItem, of_set: int, before: Sequence[ReplyItem], names: SongNames
) -> ReplyItem:
    """Return "the last one" in a sentence behind that of a set as that of the show, in doubt, or as that of the set."""
    what, songs = item.what, names.in_set(of_set)
    ends = {songs[-1]: len(names.songs) - 1, songs[0]: 0} if songs else {}
    if not isinstance(what, SongsMeant) or what.doubt or ends.get(what.songs[0], what.songs[0]) == what.songs[0]:
        return item
    if any(word.low in names.titles[what.songs[0]].split() for word in words[item.at : item.end] if len(word.low) > 2):
        return item  # named by its title
    named = {song for one in before[:-1] if isinstance(one.what, SongsMeant) for song in one.what.songs}
    of_all = ends[what.songs[0]]
    song, other = (of_all, what.songs[0]) if named.difference(songs) else (what.songs[0], of_all)
    doubt = f"{names.songs[song][2].title}, or is it {names.songs[other][2].title}?"
    return item._replace(what=what._replace(songs=(song,), doubt=doubt))


class CountedOn:
    """The set whose songs are counted on line by line below its name and its first song: "Set 2: 1 Bm", "2 G"."""

    def __init__(self, names: SongNames) -> None:
        self._names = names
        self._set: int | None = None
        self._last = 0

    def set_of(self, line: ScannedLine) -> int | None:
        """Return the set in which the numbers of the next line count, and go on from them; None for no set."""
        first = line.items[0].what if line.items else None
        named = [at for at, item in enumerate(line.items) if isinstance(item.what, SongsMeant) and item.what.sets]
        behind = line.items[named[-1] :] if named else line.items  # 4 A. Set 3: 1 Bb
        numbers = [number for item in behind for number in _numbers_of_songs(line, item)]
        sets = behind[0].what.sets if named and isinstance(behind[0].what, SongsMeant) else ()
        if sets:
            counts_own = len(sets) == 1 and self._names.from_top.get(sets[0]) is False
            self._set = sets[0] if counts_own and numbers[:1] == [1] else None
        elif not numbers or numbers[0] != self._last + 1 or not (isinstance(first, SongsMeant) and first.songs):
            self._set = None
        self._last = numbers[-1] if numbers else 0
        return None if sets else self._set  # the line that names a set says itself which numbers are its own


def _numbers_of_songs(line: ScannedLine, item: ReplyItem) -> Iterator[int]:
    return _numbers(line, item.at, item.end) if isinstance(item.what, SongsMeant) and item.what.songs else iter(())


class TimedSets:
    """The sets whose times were told since the last song: the numbers below the time of one set may count its songs."""

    def __init__(self, names: SongNames) -> None:
        self._names = names
        self._sets: set[int] = set()
        self._is_over = False  # whether songs were named since

    def tell(self, sets: Sequence[int]) -> None:
        """Take a line that speaks of sets, or of none."""
        if not sets:
            return
        self._sets = {*sets} if self._is_over else {*self._sets, *sets}
        self._is_over = False

    def why_doubted(self, line: ScannedLine, named: Sequence[ReplyItem]) -> str:
        """Return the song that a number below the time of a set may mean as well: "set 2 at ten", below it "1 in G"."""
        self._is_over = True
        if len(self._sets) != 1 or self._names.from_top.get(of_set := next(iter(self._sets))):
            return ""
        songs = self._names.in_set(of_set)
        for item in named:
            number = max(_numbers(line, item.at, item.end), default=0)
            of_all, _ = self._names.number(number, None)
            if 0 < number <= len(songs) and of_all not in songs:
                return f"{number}, or is it {self._names.songs[songs[number - 1]][2].title}?"
        return ""


def with_words_doubted(words: list[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Doubt a song that is counted in words where others are in figures: "3 is G first, then two in A"."""
    by_figure = any(
        isinstance(one.what, SongsMeant) and one.what.songs and words[one.at].kind == NUMBER for one in items
    )
    if not by_figure:
        return items
    return [
        one._replace(what=meant._replace(doubt=f"{words[one.at].text} {MAY_BE_NONE}"))
        if isinstance(meant := one.what, SongsMeant) and meant.is_word and meant.songs and not meant.doubt
        else one
        for one in items
    ]


MAY_BE_NONE: Final = "may be no song"


def _numbers(line: ScannedLine, at: int, end: int) -> Iterator[int]:
    return (int(word.text) for word in line.words[at:end] if word.kind == NUMBER)


def _is_heading(line: ScannedLine, *, with_times: bool) -> bool:
    """Return whether a line names one set and states nothing, or only its times."""
    meant = [item.what for item in line.items if isinstance(item.what, SongsMeant)]
    stated = [item.what for item in line.items if isinstance(item.what, KeyFact | StatedFact)]
    times = _TIMES if with_times else ()
    states = any(isinstance(one, KeyFact) or one.field not in times for one in stated)
    return len(meant) == 1 and len(meant[0].sets) == 1 and not meant[0].songs and not states
