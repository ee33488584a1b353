"""How a reply names the sets of a show: set 2, the second half, Block 1, the party set, 1er set, A."""

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.leader.event_words import BREAKS_SAID
from companion.leader.numbers_meant import counts_songs
from companion.leader.reply_words import (
    CLOCK,
    COUNTED,
    NUMBER,
    ORDINALS,
    SIGN,
    WORD,
    ReplyWord,
    counted,
    low,
    phrase_of,
    set_of,
)
from companion.show import Set
from companion.show.titles import folded

_LASTS: Final = set_of(
    "last final letzte letzter letztes dernier derniere ultimo ultima sista sidste siste laatste ostatni posledni"
)
MAX_SETS: Final = 10  # more than any night has
SET_WORDS: Final = set_of("set sets satz")
POSSESSIVE: Final = re.compile(r"['’]s$")  # overture's a quarter to nine
PARTS_OF_SHOW: Final = set_of("part pass round block session spot stint bit")  # before a time or a colon
HALVES: Final = ("half", "halves")
# Ordinal numbers of other languages; alone they are common words, so they count only before the word for a set.
FOREIGN_ORDINALS: Final = {
    word: number
    for number, words in enumerate(
        (
            "premier premiere primer primero primera primo prima eerste forste forsta ersten erstes erster erste",
            "deuxieme seconde segundo segunda secondo seconda tweede anden andet andra zweiten zweites zweiter zweite",
            "troisieme tercer tercero tercera terzo terza derde tredje dritten drittes dritter dritte",
        ),
        start=1,
    )
    for word in words.split()
}
# Halves of a show, after an ordinal number; "segunda parte del estribillo" is a part of a song.
_PARTS_ABROAD: Final = set_of(
    "tempo parte partie teil halfte helft helften halva halvan halvdel halvlek pase entrada czesc czesci pulka pulku "
    "polovina polovine pulce pol del durchgang runde manche block blocks blok bloku blokk bloque "
    "bloco blocco bloc tanda"
)
_COUNTED_PARTS: Final = set_of("block blok blokk bloc bloque bloco blocco teil part parte partie half halbzeit")
_OF_WHAT: Final = set_of("del della dello du der des de da do van av af der vom von")
ENCORES: Final = set_of(
    "zugabe zugaben encore encores enc rappel rappels bises toegift toegiften extranummer ekstranummer"
)
_OF_ONE_ENCORE: Final = set_of("letzte letzter erste erster zweite first last second dernier premier an one")
_ORDINAL_ENDS: Final = set_of("er re ere e eme nd me o a")  # 1er set, 2e set, 2ème set
_OF_SET: Final = set_of("set sets show ones songs tunes stuff numbers")
_GREETED: Final = set_of("morning evening afternoon night")
_BEHIND_HEAD: Final = (":", "-", "–", "—", "=", "(", ",")
_MAIN: Final = set_of("main regular whole proper hauptset")
_BEFORE: Final = set_of("before vor avant antes prima voor innan fore for przed pred")
_OF_PLACE: Final = set_of(
    "song one tune number track first last opener closer nummer stuck lied titel morceau titre chanson cancion tema "
    "canzone brano pezzo musica laten lat sangen sang numret liedje utwor piosenka pisnicka skladba letzte dernier "
    "derniere ultima ultimo ultima ultimo premier premiere primera primero prima primo erste erster eerste laatste"
)
_AFTER: Final = set_of("after following nach apres despues dopo depois na efter etter po")
AROUND_BREAK: Final = _BEFORE | _AFTER
_ARTICLES: Final = set_of("the der del de l la el il o den de")
_KEY: Final = re.compile(r"[A-H](?:[b#♭♯]|is|es|s)?m?$")


class SetsMeant(NamedTuple):
    """The sets that some words mean: their places in the show, where the words end, and the one that is missing."""

    places: tuple[int, ...]
    end: int
    missing: str = ""


class SetNames:
    """The sets of a show, by all that a reply may call them."""

    def __init__(self, sets: Sequence[Set]) -> None:
        self.names = [folded(one.name) for one in sets]
        self.is_by_day = False  # whether an hour such as 10.30 is one of the morning
        self._words = [tuple(name.split()) for name in self.names]
        # The word for a set that the show itself uses: Block 1, Act 2, First half, Segundo pase.
        of_two = [words for words in self._words if len(words) == 2]
        plain = [word for words in of_two for word in words if _is_plain(word)]
        numbered = {word for words in of_two if words[1].isdecimal() or words[0].isdecimal() for word in words}
        own = {word for word in plain if word in numbered or plain.count(word) > 1}  # not the dance of First dance
        self._set_words = SET_WORDS | own
        lasts = {words[-1]: at for at, words in enumerate(self._words) if len(words) == 2 and words[0] in SET_WORDS}
        self._short = {one: at for one, at in lasts.items() if len(one) == 1 and one.isalpha()}  # A for Set A

    def __len__(self) -> int:
        return len(self.names)

    def numbered(self, number: int) -> int | None:
        """Return the set of a number: the one that is named so ("Set 1" may follow a ceremony), or else the nth."""
        names = {f"set {number}", *(f"set {word}" for word, many in COUNTED.items() if many == number)}
        named = [at for at, name in enumerate(self.names) if name in names]
        if len(named) == 1:
            return named[0]
        return number - 1 if 1 <= number <= len(self.names) else None

    def named(self, text: str) -> int | None:
        """Return the set whose name is all of a line: First, Late set:."""
        name = folded(text)
        named = [at for at, one in enumerate(self.names) if name and name in (one, f"{one} set")]
        return named[0] if len(named) == 1 else None

    def meant(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read the sets that are named from a word on: the longest of set 2, second set, both sets, or a name."""
        found = [
            one
            for one in (
                self._as_main(words, at),
                self._by_name(words, at),
                self._by_number(words, at),
                self._by_ordinal(words, at),
                self._by_foreign_ordinal(words, at),
                self._by_letter(words, at),
                self._by_one_word(words, at),
                self._as_encore(words, at),
                self._after_break(words, at),
            )
            if one is not None
        ]
        return max(found, key=lambda one: one.end, default=None)

    def heads(self, words: Sequence[ReplyWord], at: int) -> bool:
        """Return whether a line is headed by a set, and names no other before a word: 2. Set: 60 Minuten, Beginn."""
        head = self.meant(words, 0)
        is_alone = head is not None and all(self.meant(words, one) is None for one in range(head.end, at))
        return head is not None and is_alone and low(words, head.end) in _BEHIND_HEAD

    def lettered(self, words: Sequence[ReplyWord], at: int) -> int | None:
        """Return the set that a single letter names: the B of "sets A at 8, B at 9"."""
        text = words[at].text if at < len(words) else ""
        is_letter = text[:1].isupper() and text[1:] in ("", "'s", "’s")  # Set A's at eight
        return self._short.get(text[:1].casefold()) if is_letter else None

    def by_bare_ordinal(self, words: Sequence[ReplyWord], at: int) -> int | None:
        """Return the set of an ordinal number alone: the second of "first set at 8, second at 9"."""
        if counts_songs(words, at):
            return None
        which = FOREIGN_ORDINALS.get(words[at].low) or ORDINALS.get(words[at].low)
        which = which or (int(words[at].text) if words[at].is_ordinal else None)
        if words[at].low in _LASTS and len(self.names) > 1:
            return self._all_but_encores()[-1]
        return self.numbered(which) if which else None

    def ends_clause(self, words: Sequence[ReplyWord], at: int) -> bool:
        """Return whether a word ends a clause behind its article, as the set of a time does: midnight the second."""
        return low(words, at - 1) in _ARTICLES and (at + 1 >= len(words) or words[at + 1].kind == SIGN)

    def _by_number(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        said = words[at].low
        if at + 1 >= len(words) or not (said in SET_WORDS or said in _COUNTED_PARTS):
            return None
        number = counted(list(words), at + 1)
        if not number or (said not in SET_WORDS and low(words, at + 1 + number[1]) not in (":", "")):
            return None
        place, end = self.numbered(number[0]), at + 1 + number[1]
        missing = f"there is no set {number[0]}" if place is None and said != "sets" else ""
        if place is not None:
            return SetsMeant((place,), end)
        may_miss = bool(missing) and number[0] < MAX_SETS and words[at + 1].kind == NUMBER
        return SetsMeant((), end, missing) if may_miss else None

    def _by_ordinal(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        said, follows = words[at].low, low(words, at + 1)
        is_half = follows in HALVES and not _is_time_or_part(words, at + 2)
        is_half = is_half or (follows in PARTS_OF_SHOW and _before_time(words, at + 2))
        which = ORDINALS.get(said) or (int(words[at].text) if words[at].is_ordinal else None)
        if which and f"{follows} {which}" in self.names and follows not in SET_WORDS:  # the first party set
            return SetsMeant((self.names.index(f"{follows} {which}"),), at + 2 + (low(words, at + 2) in SET_WORDS))
        if not (follows in ("set", "sets") or is_half):
            return None
        if which and (place := self.numbered(which)) is not None:
            return SetsMeant((place,), at + 2)
        if said in ("both", "all", "each", "every"):
            return SetsMeant(self._all_but_encores(), at + 2)
        if said == "last":
            return SetsMeant((len(self.names) - 1,), at + 2)
        named = [one for one, name in enumerate(self.names) if name in (said, f"{said} set")]
        return SetsMeant((named[0],), at + 2) if len(named) == 1 else None

    def _all_but_encores(self) -> tuple[int, ...]:
        main = [place for place, name in enumerate(self._words) if not name or name[0] not in ENCORES]
        return tuple(main) or tuple(range(len(self.names)))

    def _by_foreign_ordinal(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read 1er set, 2e set, 1. Set, zweiter Block, segundo pase."""
        which, end = FOREIGN_ORDINALS.get(words[at].low) or ORDINALS.get(words[at].low), at + 1
        is_tight = words[at].kind == NUMBER and end < len(words) and words[end].start == words[at].end
        if is_tight and (words[end].low in _ORDINAL_ENDS or words[end].text in (".", "º", "ª", "°")):
            which, end = int(words[at].text), end + 1
        is_part = low(words, end) in _PARTS_ABROAD and low(words, end + 1) not in _OF_WHAT
        if not which or not (low(words, end) in self._set_words or is_part):
            return None
        place = self.numbered(which)
        return SetsMeant((place,), end + 1) if place is not None else None

    def _by_name(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read the whole name of a set; a greeting and an ordinal number that stand alone name none."""
        best: SetsMeant | None = None
        for place, name in enumerate(self._words):
            end = at + len(name)
            if not name or not _is_same(words[at:end], name) or self.names.count(self.names[place]) > 1:
                continue
            if len(name) == 1 and (len(name[0]) < 2 or not _may_stand_alone(words, at)):
                continue
            end += low(words, end) in _OF_SET and not (len(name) > 1 and low(words, end) not in ("set", "sets"))
            if best is None or end > best.end:
                best = SetsMeant((place,), end)
        return best

    def _by_one_word(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read one word of a longer name before a time: drinks from 4, where the set is Drinks reception."""
        said, follows = words[at].low, low(words, at + 1)
        named = [place for place, name in enumerate(self._words) if len(name) > 1 and said in name]
        is_common = (
            len(said) < 4 or said in _OF_SET | SET_WORDS | self._set_words or said in ORDINALS or said in COUNTED
        )
        is_time = at + 1 < len(words) and words[at + 1].kind == CLOCK
        if len(named) != 1 or is_common or not (is_time or (follows in ("from", "at") and _has_number(words, at + 2))):
            return None
        return SetsMeant((named[0],), at + 1)

    def _as_encore(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read the word for an encore in another language than the show's."""
        if words[at].low not in ENCORES or low(words, at - 1) in _OF_ONE_ENCORE:
            return None
        encores = [place for place, name in enumerate(self._words) if name and name[0] in ENCORES]
        return SetsMeant((encores[0],), at + 1) if len(encores) == 1 else None

    def _as_main(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read "the main set" as the only one beside encores."""
        main = [place for place, name in enumerate(self._words) if not name or name[0] not in ENCORES]
        is_said = words[at].low in _MAIN and low(words, at + 1) in SET_WORDS
        return SetsMeant((main[0],), at + 2) if is_said and len(main) == 1 and len(self._words) > 1 else None

    def _after_break(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read "After the break:" above or before songs as the second of two sets, and "first song after the break"."""
        is_place = at > 0 and low(words, at - 1) in _OF_PLACE
        is_before = is_place and words[at].low in _BEFORE
        if (at > 1 and not is_place) or not (words[at].low in _AFTER or is_before):
            return None
        begins = at + 1 + (low(words, at + 1) in _ARTICLES)
        many = phrase_of(words, begins, BREAKS_SAID) if begins < len(words) else 0
        end = begins + many
        is_two = sum(not name or name[0] not in ENCORES for name in self._words) == 2
        is_heading = many > 0 and (is_place or low(words, end) in ("", ":", "-", "–"))
        return SetsMeant((0 if is_before else 1,), end) if is_heading and is_two and begins < end else None

    def _by_letter(self, words: Sequence[ReplyWord], at: int) -> SetsMeant | None:
        """Read a letter as a set before its keys in turn, "A: G D Em C", and in "all of A in G"."""
        place = self.lettered(words, at)
        if place is None:
            return None
        after = words[at + 1 :]
        keys = [one for one in after if one.kind == WORD and _KEY.match(one.text)]
        is_heading = at == 0 and low(words, 1) in (":", "=") and len(keys) > 1
        is_heading = is_heading and all(one.kind == SIGN or one in keys for one in after)
        is_all = at > 1 and low(words, at - 1) == "of" and low(words, at - 2) in ("all", "whole", "rest", "everything")
        return SetsMeant((place,), at + 1) if is_heading or is_all or self._follows_set(words, at) else None

    def _follows_set(self, words: Sequence[ReplyWord], at: int) -> bool:
        """Return whether a letter goes on with a list of sets: set A in G, B in D; sets A and B."""
        if low(words, at - 1) in ("sets", "set"):
            return True
        if low(words, at - 1) not in (",", ";", "and", "&", "/", "."):
            return False
        says_set = any(
            one.low in ("set", "sets", "of") and self.lettered(words, place + 1) is not None
            for place, one in enumerate(words[:at])
        )
        follows = low(words, at + 1)
        is_time = at + 1 < len(words) and words[at + 1].kind in (CLOCK, NUMBER)
        return says_set and (is_time or follows in ("in", "is", "all", "as", ":", "=", "at", "from", "are", ""))


def _before_time(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a time or a colon follows, after a word such as "at"."""
    is_small = low(words, at) in ("at", "from", "starts", "is", "@")
    return low(words, at) == ":" or _has_number(words, at + is_small)


def _has_number(words: Sequence[ReplyWord], at: int) -> bool:
    return at < len(words) and (words[at].kind in (CLOCK, NUMBER) or words[at].low in ("half", "quarter", *COUNTED))


def _is_plain(word: str) -> bool:
    return word.isalpha() and len(word) > 1 and not (word in COUNTED or word in ORDINALS or word in FOREIGN_ORDINALS)


def _is_same(words: Sequence[ReplyWord], name: Sequence[str]) -> bool:
    """Return whether words are the name of a set, its number as a word or in figures: party one is Party 1."""
    lows = [POSSESSIVE.sub("", word.text.casefold()) if POSSESSIVE.search(word.text) else word.low for word in words]
    numbers = [str(COUNTED.get(low, "")) for low in lows]
    return len(lows) == len(name) and all(
        one == other or (number == other and at > 0)
        for at, (one, number, other) in enumerate(zip(lows, numbers, name, strict=True))
    )


def _may_stand_alone(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a set's name of one word may be here: not "Morning!", and "second" only before a colon."""
    follows = low(words, at + 1)
    if words[at].low in _GREETED and at == 0 and follows in ("!", ",", "all", "everyone", "team", "folks"):
        return False
    return follows == ":" or words[at].low not in ORDINALS


def _is_time_or_part(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "half" is of a time or of a song: first half past eight, the second half of Moth."""
    if words[at - 1].low == "halves":
        return False
    return at < len(words) and (words[at].kind == NUMBER or words[at].low in ("past", "of", *COUNTED))
