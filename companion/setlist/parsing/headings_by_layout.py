"""Find the headings of sets by how and where they stand, whatever their words are: Aperitivo, Late Bar, Festa."""

import itertools
import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Final

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.parsing.doubts import heading_or_song
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.line_kinds import is_chat, is_sentence, is_title_of_list
from companion.setlist.parsing.list_style import DEEPER, Style
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import bare, clock_in_front, heading_in
from companion.setlist.parsing.words_of_events import is_event, may_be_event

FEWEST_SONGS: Final = 4  # of a shape; among fewer, nothing is regular
MAX_REGULAR: Final = 0.6  # share of the open lines from the first song to the last
MAX_WORDS: Final = 5
MAX_SHARING: Final = 3  # words of headings that share one
MAX_BESIDE: Final = 4  # words of a heading in a list of bare titles
MAX_ALIKE: Final = 0.2  # share of the titles that may look like the headings do
ENOUGH, SURE = 2, 3  # signs of a heading
LIKE_ANOTHER: Final = "looks like a heading"
WORTH_TWO: Final = frozenset(("begins again", "a word for a set", "a shared word", LIKE_ANOTHER))
MIN_SHOUTED: Final = 2  # letters
LONGEST_SONG_S: Final = 10 * 60  # what is longer is a time of day
_EMPHASIS = re.compile(r"^(?:[*_]{1,3}[^*_\s].*[*_]{1,3}:?|#{1,6}\s.*)$")
_TIME = re.compile(r"(?<!\d)\d{1,2}[:.h]\d\d(?!\d)|(?<!\d)\d{1,2}\s?(?:am|pm|uhr)\b|\b\d{1,3}\s?min", re.IGNORECASE)
_FROM_TO = re.compile(  # Drinks reception, 3.30 to 4.30
    r"^([^\W\d_](?:[^\d.!?]{1,40}?))[,:(–-]?\s(?:from |von |de |kl\.? )?\d{1,2}(?:[:.h]\d\d)?\s?(?:[ap]m)?\s?"
    r"(?:-|–|—|to|until|till?|bis|à|a|til|tot)\s?\d{1,2}(?:[:.h]\d\d)?\s?(?:[ap]m|uhr|h)?\)?$",
    re.IGNORECASE,
)


def take_headings(found: Sequence[Classified], style: Style) -> None:
    """Take lines for headings that lack what the songs below them have, and that stand or look unlike a song."""
    _take_timed(found)
    songs = [at for at, one in enumerate(found) if _is_regular(one, style)]
    opened = [one for one in found[songs[0] : songs[-1] + 1] if one.took is None] if songs else []
    if len(songs) < FEWEST_SONGS or len(songs) < MAX_REGULAR * len(opened):
        _take_heads_of_blocks(found)
        return
    _Heads(found, style, songs).take()


def _take_timed(found: Sequence[Classified]) -> None:
    """Take a line for a heading, in doubt, that ends in two times and stands above songs: Drinks, 3.30 to 4.30."""
    for one, below in itertools.pairwise(found):
        is_apart = one.line.row.blank_before or one is found[0]
        named = _FROM_TO.match(one.line.text) if one.took is None and is_apart else None
        is_song = below.inline is not None if below.took is not None else bool(below.draft and below.draft.has_key)
        if named and is_song and not below.line.row.blank_before and not is_chat(named[1]):
            take_as_heading(one, is_sure=False)


def _is_regular(one: Classified, style: Style) -> bool:
    """Return whether a line has the number, the bullet or the key that songs have."""
    if one.took is not None or one.draft is None:
        return False
    return style.marks(one.line) if style.is_shaped else one.draft.has_key


class _Heads:
    """The lines of a regular list that may be headings, with the signs for each."""

    def __init__(self, found: Sequence[Classified], style: Style, songs: Sequence[int]) -> None:
        self.found, self.style, self.songs = found, style, frozenset(songs)
        self.first = songs[0]
        shouted = sum(found[at].line.text.isupper() for at in songs)
        self.is_quiet = shouted < 0.5 * len(songs)
        numbers = (one.draft.number if one.took is None and one.draft else None for one in found)
        self.numbers_above = [0, *itertools.accumulate(numbers, lambda above, number: number or above, initial=0)]
        self.have_lengths = any((draft := found[at].draft) and draft.length_s for at in songs)
        self.have_pictures = any(found[at].line.emoji for at in songs)
        are_even = len({one.line.row.blank_before for one in found[self.first : songs[-1] + 1]}) == 1
        self.is_even = style.numbered and are_even and all(found[at].has_key for at in songs)
        self.looks = {_look(one) for one in found if one.took is LineKind.SET and one.inline is None}
        self.emphasized = sum(_is_emphasized(found[at]) for at in songs) > MAX_ALIKE * len(songs)

    def take(self) -> None:
        """Take each line with enough signs, in doubt where they are few."""
        found = {at: signs for at in range(len(self.found) - 1) if (signs := self._signs(at))}
        found = self._with_shared_words(found)
        plain = {at for at in found if not self._is_event(at, found[at])}
        counts = {at: self._count(at, found) for at in found}
        taken = {at for at in plain if counts[at] >= ENOUGH}
        has_others = any(at > self.first for at in taken)
        has_others = has_others or any(one.took is LineKind.SET for one in self.found[self.first :])
        for at, signs in found.items():
            is_like = at not in plain and (LIKE_ANOTHER in signs or any(found[other] & signs for other in taken))
            is_enough = at in taken or is_like
            if is_enough if at > self.first else has_others and self._stands_over_first(at):
                one = self.found[at]
                is_named = one.heading is not None
                is_sure = is_named or (counts[at] >= SURE and "," not in one.line.text)  # mayor talks, lights on
                take_as_heading(one, is_sure=at in plain and is_sure)

    def _with_shared_words(self, found: Mapping[int, frozenset[str]]) -> dict[int, frozenset[str]]:
        """Return the signs; a word that several such lines share, and no song has, is one: eka setti, toka setti.

        Two titles without a key share a word too: headings have it at the same place, among as many words.
        """
        sung = {word for at in self.songs for word in _words(self.found[at])}
        words = {at: _words(self.found[at]) - sung for at in range(len(self.found) - 1) if self._may_head(at)}
        forms = {at: {_form(self.found[at], word) for word in said} for at, said in words.items()}
        counts = Counter(form for said in forms.values() for form in said)
        shared = {at for at, said in forms.items() if any(counts[form] > 1 for form in said)}
        made = {at: signs | {"a shared word"} if at in shared else signs for at, signs in found.items()}
        return {**{at: frozenset({"a shared word"}) for at in shared if at not in found}, **made}

    def _may_head(self, at: int) -> bool:
        """Return whether a line may be a heading, by its few words and by the song below it."""
        line = self.found[at].line
        is_short = len(line.text.split()) <= MAX_SHARING
        is_talk = bool(line.message.sender) and line.text.islower()  # love that one
        return is_short and not is_talk and self._may_be(self.found[at]) and at + 1 in self.songs

    def _count(self, at: int, found: Mapping[int, frozenset[str]]) -> int:
        """Count a line's signs; two of them are worth more, and so is a sign that another such line has."""
        has_equal = any(other != at and found[other] & found[at] for other in found)
        return len(found[at]) + len(found[at] & WORTH_TWO) + has_equal

    def _is_event(self, at: int, signs: frozenset[str]) -> bool:
        """Return whether a line may name a part of the evening without music: a meal above songs that go on."""
        text, draft = self.found[at].line.text, self.found[at + 1].draft
        if "begins again" in signs or (at < self.first and draft is not None and draft.number == 1):
            return False
        return is_event(text) or (may_be_event(text) and len(signs) + len(signs & WORTH_TWO) < ENOUGH)

    def _stands_over_first(self, at: int) -> bool:
        """Return whether nothing but an empty line separates the line from the list's first song."""
        return at + 1 == self.first and (at > 0 or not is_title_of_list(self.found[at].line.text))

    def _signs(self, at: int) -> frozenset[str]:
        """Return the signs that the line is a heading; none if it cannot be one."""
        one = self.found[at]
        below = at + 1
        if not self._may_be(one) or below not in self.songs:
            return frozenset()
        is_like_another = self._looks_like_heading(one)
        is_outside = one.line.row.indent + DEEPER < self.style.indent
        is_one = one.heading or is_like_another or is_outside or self._begins_again(at, below)
        if below + 1 not in self.songs and not is_one:
            return frozenset()
        line, next_line = one.line, self.found[below].line
        text = line.text
        signs = {
            "begins again": self._begins_again(at, below),
            "a word for a set": bool(one.heading and one.heading.name),
            "parted": self._is_parted(one) and not next_line.row.blank_before,
            "unlike": self.is_even and text[:1].isupper() and self._is_headed(),
            "colon": line.whole.rstrip("*_ ").endswith(":"),
            "capitals": self.is_quiet and _without_brackets(text).isupper() and len(text) > MIN_SHOUTED,
            "brackets": text[:1] == "(",
            "time": bool(_TIME.search(text)) and not self.style.clocks,
            "framed": line.is_framed or line.row.is_large,
            LIKE_ANOTHER: is_like_another,
            "emphasis": not self.emphasized and _is_emphasized(one),
            "picture": bool(line.emoji) and not self.have_pictures,
            "outside": next_line.row.indent > line.row.indent + DEEPER and line.row.indent <= self.style.indent,
        }
        return frozenset(name for name, is_there in signs.items() if is_there)

    def _is_headed(self) -> bool:
        """Return whether a few words in capitals stand right above the first song: they may head its set."""
        above = self.found[self.first - 1] if self.first else None
        is_one = above is not None and self._may_be(above) and not is_title_of_list(above.line.text)
        return is_one and above is not None and above.line.text[:1].isupper()

    def _looks_like_heading(self, one: Classified) -> bool:
        """Return whether the line has the look of a sure heading, which the songs have not: capitals, *stars*."""
        look = _look(one)
        is_unlike = (look.is_emphasized and not self.emphasized) or (look.is_loud and self.is_quiet and look.is_parted)
        return is_unlike and look in self.looks

    def _may_be(self, one: Classified) -> bool:
        line, draft = one.line, one.draft
        if one.took is not None or draft is None or draft.has_key or self.style.marks(line) or line.is_marked:
            return False
        if draft.length_s is not None and (self.have_lengths or draft.length_s < LONGEST_SONG_S):
            return False
        text = line.text
        if self.style.clocks and clock_in_front(text)[0] is not None:
            return False  # one more row of an evening's course
        if text[:1] == "(" and text[-1:] == ")" and self._is_parted(one):
            text = text[1:-1].strip()  # (inside)
        words = _without_brackets(text).split()
        if not 0 < len(words) <= MAX_WORDS or text[-1:] in ".,;" or not text[0].isalnum() or is_chat(text):
            return False
        if text == line.text and text[:1].islower() and self.style.capitals:
            return False
        plain = bare(" ".join(words))
        is_note = is_remark(plain) and not line.row.text.startswith("#") and not self._is_parted(one)
        return not is_note and not is_sentence(text) and not line.row.is_small

    def _is_parted(self, one: Classified) -> bool:
        return one.line.row.blank_before or one is self.found[0]

    def _begins_again(self, at: int, below: int) -> bool:
        """Return whether the songs' numbers begin again at 1 below the line."""
        above = self.numbers_above[at]
        draft = self.found[below].draft
        return bool(draft and draft.number == 1 and above > 1)


class _Look(msgspec.Struct, frozen=True):
    """How a line stands out from those around it."""

    is_loud: bool
    is_emphasized: bool
    is_parted: bool
    has_colon: bool


def _look(one: Classified) -> _Look:
    text = _without_brackets(one.line.text)
    has_colon = one.line.whole.rstrip("*_ ").endswith(":")
    return _Look(text.isupper() and len(text) > MIN_SHOUTED, _is_emphasized(one), one.line.row.blank_before, has_colon)


def _without_brackets(text: str) -> str:
    return re.sub(r"\([^()]*\)", "", text)


def _is_emphasized(one: Classified) -> bool:
    return bool(_EMPHASIS.match(one.line.row.text.strip()))


def take_as_heading(one: Classified, *, is_sure: bool) -> None:
    """Take a line for the heading of a set, with the times that it names."""
    one.took, one.heading = LineKind.SET, one.heading or heading_in(one.line.text)
    one.draft = None
    if not is_sure:
        one.doubts = (heading_or_song(one.heading.name),)


def _take_heads_of_blocks(found: Sequence[Classified]) -> None:
    """Take the first lines of blocks of bare titles, if one of them is a heading or all look unlike titles."""
    opened = [at for at, one in enumerate(found) if one.took is None]
    heads = [at for at in opened if (at == 0 or found[at].line.row.blank_before) and _has_block(found, at)]
    heads = [at for at in heads if not is_title_of_list(found[at].line.text)]
    if len(heads) < 2 or any(not _may_head(found[at]) for at in heads):
        return
    others = [found[at] for at in opened if at not in heads]
    heads_of = [found[at] for at in heads]
    is_one_heading = any(found[at].heading and found[at].heading.name for at in heads)  # type: ignore[union-attr]  # first operand
    if is_one_heading or any(
        all(map(look, (found[at] for at in heads))) and sum(map(look, others)) <= MAX_ALIKE * len(others)
        for look in (
            _is_shouted,
            _is_one_word,
            _is_emphasized,
            _ends_in_colon,
            _is_small,
            _shared_word(heads_of, others),
        )
    ):
        for at in heads:
            take_as_heading(found[at], is_sure=bool(found[at].heading) or len(heads) > SURE)


def _shared_word(heads: Sequence[Classified], others: Sequence[Classified]) -> Callable[[Classified], bool]:
    """Return a look for the word that all heads share and no other line has: first lot, last lot."""
    shared = set.intersection(*(_words(one) for one in heads)).difference(*(_words(one) for one in others))
    return lambda one: bool(shared & _words(one))


def _words(one: Classified) -> set[str]:
    return {word.lower() for word in one.line.text.split() if len(word) > MIN_SHOUTED and word.isalpha()}


def _form(one: Classified, word: str) -> tuple[str, int, int]:
    """Return a word with its place in the line, from 0, and the number of the line's words."""
    words = one.line.text.lower().split()
    return word, words.index(word), len(words)


def _is_small(one: Classified) -> bool:
    """Return whether it begins with a small letter: between capitals, it is another kind of line."""
    return one.line.text[:1].islower()


def _has_block(found: Sequence[Classified], at: int) -> bool:
    """Return whether at least two open lines follow, no empty line between them."""
    below = found[at + 1 : at + 3]
    return len(below) > 1 and all(one.took is None and not one.line.row.blank_before for one in below)


def _may_head(one: Classified) -> bool:
    text = one.line.text
    is_short = len(text.split()) <= MAX_BESIDE and not one.line.is_marked and text[:1].isalnum()
    return is_short and not is_chat(text) and not (one.draft and one.draft.has_key)


def _is_shouted(one: Classified) -> bool:
    return one.line.text.isupper()


def _is_one_word(one: Classified) -> bool:
    return len(one.line.text.split()) == 1


def _ends_in_colon(one: Classified) -> bool:
    return one.line.whole.rstrip("*_ ").endswith(":")
