"""Scan a line of a reply into items: the longest reading of the words from each place."""

import datetime as dt
import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.clear_times import BREAKS
from companion.leader.combined_items import combined
from companion.leader.corrected_items import corrected
from companion.leader.drops_taken_back import taken_back
from companion.leader.event_words import OTHER_EVENTS
from companion.leader.forgotten_keys import forgotten_key
from companion.leader.joining_words import end_of_and, is_denied_list, is_verb_of_song, next_named
from companion.leader.key_joins import AFTER_KEY
from companion.leader.key_words import CAPITAL, key_at
from companion.leader.keys_as_before import keys_as_before
from companion.leader.keys_dealt import dealt
from companion.leader.lead_ins import with_lead_ins
from companion.leader.near_titles import ALONE_TOO_COMMON, is_halved
from companion.leader.numbering import with_sets_left, with_words_doubted
from companion.leader.numbers_meant import CALLED, ENDS_OF_SET, first_or_last, is_beat
from companion.leader.paired_items import paired
from companion.leader.parting_signs import (
    DASHES,
    PIECES,
    dictated_sign,
    ends_song,
    is_tight,
    may_be_bars,
    parting_turn,
    states_fact,
    with_beat_doubted,
)
from companion.leader.players import PLAYERS
from companion.leader.reply_dates import DayReading, day_in
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator
from companion.leader.reply_words import (
    COUNTED,
    FRACTION,
    NUMBER,
    ORDINALS,
    SIGN,
    TENS,
    ReplyWord,
    counted,
    low,
    phrase_of,
    phrases_by_first_word,
    set_of,
    words_of,
)
from companion.leader.segues_named import unbroken_again
from companion.leader.set_names import AROUND_BREAK
from companion.leader.small_keys import with_small_keys
from companion.leader.songs_beside import song_placed
from companion.leader.songs_by_place import ARTICLES_OF_PLACE
from companion.leader.songs_meant import COMMON, SongNames, SongsMeant
from companion.leader.songs_of_clicks import song_of_click
from companion.leader.starting_words import START_VERBS, STARTS
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import (
    COLOUR,
    CORRECT,
    EXCEPT,
    FILLER,
    REST,
    TurnOfPhrase,
    turn_at,
)
from companion.leader.typing_errors import respelled, unabbreviated, words_of_titles
from companion.leader.unlike_record import unlike_record, with_unlike
from companion.leader.unparted_endings import fact_before_song
from companion.music import read_key
from companion.setlist import Notation

_PARTS_OF_HOUR: Final = set_of("quarter half minutes mins min")
SPEAKING: Final = set_of("# @ ♩ ~ -> => → >")  # signs that may begin a fact
_OWN: Final = ("the", "our", "my")
FULL_STOP: Final = "full stop may be a dictated sign"
_VERBS: Final = (
    "open start begin kick|off close finish end opening starting beginning kicking|off closing finishing ending"
)
OPENINGS: Final = phrases_by_first_word(
    (
        *(f"{who}{verb.replace('|', ' ')} with" for who in ("we ", "well ", "were ", "") for verb in _VERBS.split()),
        "next is",
        "next up is",
        "next up",
        "first up is",
        "first up",
        "first is",
        "last is",
        "last one is",
        "then comes",
    )
)


class LineScanner:
    """Scans lines about one show. ``today`` completes dates without a year.

    ``may_be_german``: other keys of the reply are named as in German, so that B may be Bb.
    """

    def __init__(self, names: SongNames, today: dt.date, notation: Notation, *, may_be_german: bool = False) -> None:
        self.names = names
        self.today = today
        self._notation = notation
        self.spoken_of = -1  # the place in the show of the song that the lines above spoke of last
        self.answers_song = False  # whether the line is right below a quoted question about a song
        self._may_be_german = may_be_german and notation is not Notation.GERMAN
        self._titled = words_of_titles([*names.titles, *names.sets])
        firsts = {title.split()[0] for title in names.titles if title}
        self._known = (
            AFTER_KEY
            | {one for one in firsts if len(one) > 3}
            | {one for title in names.titles for one in title.split() if len(one) > 3} - ALONE_TOO_COMMON - COMMON
            | PLAYERS.keys()
            | STARTS
            | COUNTED.keys()
            | TENS.keys()
            | ORDINALS.keys()
            | CALLED
        )

    def scan(self, text: str, within: int | None, *, asks_day: bool = False) -> ScannedLine:
        """Scan a line. ``within``: the set whose numbers count from 1; ``asks_day``: it answers "what date?"."""
        words = respelled(with_small_keys(words_of(text)), self._titled, self._known)
        words = unabbreviated(words, self.names.titles, self._known)
        day = day_in(text, self.today, asked=asks_day or "date" in text[:12].casefold())
        items, at = list[ReplyItem](), 0
        unlike = {one.at: one for one in unlike_record(words, self._key_in)}
        while at < len(words):
            if at in unlike:
                items, at = with_unlike(items, unlike[at], words, text), unlike[at].end
                continue
            ends = min((one for one in unlike if one > at), default=len(words))
            if forgotten := forgotten_key(words, at, self._key_in):
                items, at = [*items, ReplyItem(at, forgotten, TurnOfPhrase(CORRECT, forgotten))], forgotten
                continue
            item = self._item(words[:ends], at, items, within, day)
            if isinstance(item.what, SongsMeant) and len(item.what.sets) == 1:
                within = item.what.sets[0]
                again = self._numbers_within(words, items, within)
                if again is not None:
                    items, item = again, item._replace(what=TurnOfPhrase(FILLER, item.end))
            items.append(item)
            at = item.end
        items = keys_as_before(words, with_sets_left(words, with_lead_ins(words, items), self.names))
        items = paired(words, corrected(words, taken_back(with_words_doubted(words, items))))
        items = combined(words, dealt(words, items, self.names), self.names)
        return ScannedLine(text, tuple(words), tuple(items), within)

    def says_something(self, text: str) -> bool:
        """Return whether words name a song or a fact; "you" and the like alone are none."""
        return any(
            isinstance(item.what, SongsMeant | KeyFact) or (isinstance(item.what, StatedFact) and not item.what.is_lone)
            for item in self.scan(text, None).items
        )

    def _key_in(self, words: Sequence[ReplyWord], at: int) -> tuple[str, int] | None:
        found = key_at(words, at, self._known, notation=self._notation, after_in=True)
        return (str(found.key), found.end) if found is not None and found.key is not None else None

    def _item(
        self, words: list[ReplyWord], at: int, before: list[ReplyItem], within: int | None, day: DayReading | None
    ) -> ReplyItem:
        """Return the longest reading of the words from here; of two as long, the first of this list."""
        if day and words[at].start <= day.start < words[at].end:
            end = next((index for index in range(at, len(words)) if words[index].start >= day.end), len(words))
            return ReplyItem(at, end, day)
        if words[at].kind == SIGN and words[at].low not in SPEAKING:
            turn = turn_at(words, at)
            return ReplyItem(at, turn.end if turn else at + 1, parting_turn(words, at, turn, before) if turn else None)
        found: list[ReplyItem] = []
        after_unknown = bool(before) and before[-1].what is None
        if and_ends := end_of_and(words, at, before, self.names):
            return ReplyItem(at, and_ends, Separator(is_strong=False, joins=True))
        if words[at].low in ("or", "nor") and is_denied_list(words, at):
            return ReplyItem(at, at + 1, Separator(is_strong=False, joins=True))
        if words[at].kind == FRACTION and (two := self._two_numbers(words, at, before)):
            return ReplyItem(at, two.end, two)
        if follows := next_named(words, at, before, self.spoken_of, len(self.names.songs)) or self._before_click(
            words, at, within
        ):
            return ReplyItem(at, follows.end, follows)
        title = self.names.titled(words, at, haste=not after_unknown)
        if title and low(words, at - 1) in ("the", "that") and low(words, title.end) in ("one", "ones"):
            title = title._replace(end=title.end + 1)  # the kissing one
        if title and (is_halved(words, at, title.end) or self._is_of_other_words(words, title, before)):
            title = None
        if title and (not after_unknown or title.end - title.at > 1 or not title.no_song):
            found.append(ReplyItem(at, title.end, title))
        if not title and (dictated := dictated_sign(words, at)):
            return ReplyItem(at, dictated, Separator(is_strong=dictated > at + 1, joins=dictated == at + 1))
        if (meant := self.names.set_meant(words, at)) is not None:
            found.append(ReplyItem(at, meant.end, meant))
        after_song = isinstance(before[-1].what, SongsMeant) if before else self.answers_song
        if (key := key_at(words, at, self._known, notation=self._notation, after_song=after_song)) is not None:
            if self._may_be_german and words[at].text in ("B", "b") and key.key and key.end == at + 1:
                key = key._replace(key=read_key("Bb"), doubt="B may be Bb, as in German")
            fact_of_key = KeyFact(
                str(key.key or ""), key.firm, key.doubt, key.then, str(key.denied or ""), str(key.second or "")
            )
            found.append(ReplyItem(at, key.end, fact_of_key if key.key else None))
        if opens := self._opening(words, at) or unbroken_again(words, at, before):
            found.append(ReplyItem(at, opens, TurnOfPhrase(FILLER, opens)))
        elif (
            (fact := fact_before_song(words, at, self.names, self._key_in)) is not None
            and not ((title or meant) and fact.value == words[at].text and words[at].low not in PLAYERS)
            and not (fact.field == "clock" and _is_except(before))  # all G apart from 4
            and not self._names_in_title(words, fact)
            and not (title and title.songs and fact.field == "version")  # Moth the live one
        ):
            is_sign = low(words, at) == "full" and states_fact(before)
            found.append(ReplyItem(at, fact.end, fact._replace(doubt=fact.doubt or FULL_STOP) if is_sign else fact))
        if not title and counted(words, at) and is_beat(words, at, ends=ends_song(before)):
            found.append(ReplyItem(at, at + 1, TurnOfPhrase(COLOUR, at + 1)))  # cold on the 4
            return found[-1]
        if low(words, at - 1) == "all" and (four := self._counts_set(words, at, before)):
            return ReplyItem(at, four, TurnOfPhrase(FILLER, four))
        is_one = after_song and words[at].low in ("one", "ones")  # the tin roof one
        if not is_one and (number := self._numbered(words, at, within, before)) and _begins_number(words, at, before):
            found.append(ReplyItem(at, number.end, with_beat_doubted(words, number, before)))
        if (placed := song_placed(words, at, self.names, within)) is not None:
            found.append(ReplyItem(at, placed.end, placed))
        if (
            low(words, at) == "but"
            and before
            and isinstance(before[-1].what, TurnOfPhrase)
            and before[-1].what.kind == REST
        ):
            return ReplyItem(at, at + 1, TurnOfPhrase(EXCEPT, at + 1))
        if at == 0 and low(words, at) in ("but", "and"):
            return ReplyItem(at, at + 1, TurnOfPhrase(FILLER, at + 1))
        if (turn := turn_at(words, at, after_song=after_song)) is not None:
            found.append(ReplyItem(at, turn.end, parting_turn(words, at, turn, before)))
        elif not found and words[at].low in PIECES and states_fact(before):
            found.append(ReplyItem(at, at + 1, Separator(is_strong=False)))  # 4 is F because of Dawn
        return max(found, key=lambda one: one.end, default=ReplyItem(at, at + 1, None))

    def _is_of_other_words(self, words: list[ReplyWord], title: SongsMeant, before: list[ReplyItem]) -> bool:
        """Return whether a word of a title names no song: "8: C, with the bells", "first dance"."""
        at = title.at
        if title.end > at + 1 or not title.songs or " " not in self.names.titles[title.songs[0]]:
            return False
        if is_verb_of_song(words, at, before) or (words[at].low in ENDS_OF_SET and low(words, at - 1) in _OWN):
            return True  # the opener, where a title is Tin Opener Blues
        if _starts_its_song(words, title, before):
            return True
        if words[at].low in ("past", "after") and (low(words, at - 1) in _PARTS_OF_HOUR or counted(words, at - 1)):
            return True  # a quarter past seven
        if low(words, at - 1) == "first" and phrase_of(words, at - 1, OTHER_EVENTS) > 1:
            return True
        named = any(isinstance(item.what, SongsMeant) for item in before)
        begins = any(low(words, one) in START_VERBS for one in range(max(at - 4, 0), at))
        is_with = low(words, at - 2) == "with" and low(words, at - 1) in ("the", "a", "your", "our")
        return is_with and (named or self.spoken_of >= 0) and not begins

    def _names_in_title(self, words: list[ReplyWord], fact: StatedFact) -> bool:
        """Return whether the name of who starts is the first word of a title: intro on Paper Moth."""
        last = fact.end - 1
        is_name = fact.field == "starts_with" and fact.value == words[last].text and words[last].low not in PLAYERS
        title = self.names.titled(words, last, haste=False) if is_name else None
        return title is not None and bool(title.songs) and title.end > fact.end

    def _two_numbers(self, words: list[ReplyWord], at: int, before: list[ReplyItem]) -> SongsMeant | None:
        """Read 3/4 as two songs, with a doubt, where no song is named before it and a key follows: 3/4 in G."""
        two = [self.names.number(int(part), None)[0] for part in words[at].text.split("/")]
        after = at + 1 + (low(words, at + 1) in ("in", "are", ":", "=", "-", "both"))
        has_key = after < len(words) and CAPITAL.match(words[after].text)
        if not has_key or any(isinstance(item.what, SongsMeant) for item in before) or None in two or two[0] == two[1]:
            return None
        songs = tuple(one for one in two if one is not None)
        return SongsMeant(songs, at, at + 1, f"{words[at].text} may be two songs or a meter")

    def _told(self, words: list[ReplyWord], at: int, within: int) -> SongsMeant | None:
        return self.names.numbered(words, at, within) or song_placed(words, at, self.names, within)

    def _before_click(self, words: list[ReplyWord], at: int, within: int | None) -> SongsMeant | None:
        return None if self.answers_song else song_of_click(words, at, self.names, within)

    def _numbered(
        self, words: list[ReplyWord], at: int, within: int | None, before: list[ReplyItem]
    ) -> SongsMeant | None:
        """Read a number or a range; after a fact, a dash with spaces ends the clause: "Em for 2 – 14 A"."""
        number = self.names.numbered(words, at, within)
        if number and len(number.songs) > 1 and may_be_bars(words, at, before):
            return None
        dash = next((one for one in range(at, number.end) if words[one].low in DASHES), 0) if number else 0
        if number and dash and not is_tight(words, dash, one_side=True) and states_fact(before):
            return self.names.numbered(words[:dash], at, within)
        return number

    def _counts_set(self, words: list[ReplyWord], at: int, before: list[ReplyItem]) -> int:
        """Return the end of the "four" of "Early set: all four in G", where the set has so many songs; else 0."""
        sets = [item.what.sets for item in before if isinstance(item.what, SongsMeant) and item.what.sets]
        number = counted(words, at)
        is_all = number is not None and len(sets) == 1 and number[0] == len(self.names.in_set(sets[0][0]))
        return at + number[1] if number and is_all else 0

    def _opening(self, words: list[ReplyWord], at: int) -> int:
        """Return the end of "we open with" before a song, if it does not say who starts; 0 elsewhere."""
        many = phrase_of(words, at, OPENINGS)
        begins = at + many + (low(words, at + many) == "the")
        if not many or begins >= len(words) or low(words, begins) in PLAYERS:
            return 0
        return at + many if self.names.titled(words, begins, haste=False) else 0

    def _numbers_within(self, words: list[ReplyWord], items: list[ReplyItem], within: int) -> list[ReplyItem] | None:
        """Read the number or the rest right before a set again: 1 in set 2, the rest of the first set."""
        at = len(items) - 1
        while at >= 0 and items[at].end == items[at].at + 1 and low(words, items[at].at) in _OF_SET:
            at -= 1
        last = len(items) - 1 - (not items or low(words, items[-1].end) not in AROUND_BREAK)
        what = items[at].what if 0 <= at <= last else None
        if isinstance(what, TurnOfPhrase) and what.kind == REST:
            rest = SongsMeant((), items[at].at, items[at].end, sets=(within,), is_rest=True)
            return [*items[:at], items[at]._replace(what=rest), *items[at + 1 :]]
        if 0 <= at <= last and isinstance(meant := items[at].what, SongsMeant) and meant.songs:
            if self._told(words, items[at].at, within) is None:
                return None  # a title
            small = (one._replace(what=TurnOfPhrase(FILLER, one.end)) for one in items[at + 1 :])
            kept = [*items[: at + 1], *small]
            for place in _listed_before(words, items, at):
                if (again := self._told(words, items[place].at, within)) is not None:
                    kept[place] = items[place]._replace(what=again)
            return kept
        return None


def _starts_its_song(words: list[ReplyWord], title: SongsMeant, before: list[ReplyItem]) -> bool:
    """Return whether a word of the title that was named last is who starts the song: "5 Bells: G, bells start"."""
    named = next((one.what for one in reversed(before) if isinstance(one.what, SongsMeant)), None)
    is_again = named is not None and named.songs == title.songs and words[title.at].text.islower()
    ends = title.end + 1 >= len(words) or words[title.end + 1].kind == SIGN
    return is_again and ends and low(words, title.end) in START_VERBS


def _is_except(before: list[ReplyItem]) -> bool:
    return bool(before) and isinstance(last := before[-1].what, TurnOfPhrase) and last.kind == EXCEPT


def _listed_before(words: list[ReplyWord], items: list[ReplyItem], at: int) -> Iterator[int]:
    """Yield the places of the numbers that end with one in a list: 1, 2 and 3 in set 2."""
    last = at
    while at >= 0 and isinstance(meant := items[at].what, SongsMeant) and not meant.sets:
        first = words[items[at].at]
        if at == last or first.kind == NUMBER or meant.is_word or first.low in CALLED:
            yield at
        at -= 1
        while at > 0 and isinstance(part := items[at].what, Separator) and part.joins:
            at -= 1


_OF_SET: Final = set_of(
    "in of the ( from vom von aus im des der del della dello de du da dal van het uit af fra från i nel z ze"
)
SURE_KEY: Final = re.compile(r"[A-G](?:[b#♭♯]m?|m)$")


def _begins_number(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> bool:
    """Return whether a number may begin here: not in the middle of words that are not understood."""
    if not before or before[-1].what is not None or words[at - 1].kind == SIGN:
        return True
    return (
        low(words, at - 1) in _AS
        or (low(words, at - 1) in ARTICLES_OF_PLACE and words[at].low in ENDS_OF_SET)  # de opener
        or (low(words, at - 1) in _OF_SEVERAL and first_or_last(words, at) is not None)  # os dois primeiros
        or low(words, at - 1) in BREAKS  # after the interval 7 E
        or low(words, at + 1) in ("in", "is", "=", ":", "are")
        or (at + 1 < len(words) and SURE_KEY.match(words[at + 1].text) is not None)
        or _counts_on(words, at, before)
    )


def _counts_on(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> bool:
    """Return whether a number follows the last song's number, and a key or "no" follows it: "7 slow 8 G"."""
    last = next((one for one in reversed(before) if isinstance(one.what, SongsMeant)), None)
    number = words[last.end - 1] if last is not None else None
    is_next = (
        number is not None and number.kind == NUMBER == words[at].kind and int(words[at].text) == int(number.text) + 1
    )
    is_short = low(words, at + 1) in _SHORT and (at + 2 >= len(words) or words[at + 2].kind in (NUMBER, SIGN))
    return is_next and at + 1 < len(words) and (is_short or CAPITAL.match(words[at + 1].text) is not None)


# Answers of one word in a list of songs: 17 A shuffle 18 no 19 C.
_SHORT: Final = set_of(
    "no nope out cut nein raus non nee uit eruit nej ut ude fuori fuera fora rec record orig original same tacet"
)


_OF_SEVERAL: Final = set_of("the de os as los las les die i gli le")
_AS: Final = set_of(
    "wie als som come como comme jak que as für fur nella nel nell dans sur bei beim auf bij voor ved nummer numero"
)
