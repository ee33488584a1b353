"""One value for each field of what a reply claims: contradictions, capos, versions, notes."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from companion.leader.guess_words import DENIES, PAST
from companion.leader.phrase_lists import HEDGES, NOTS
from companion.leader.reply_readings import Claim, Passed
from companion.leader.reply_words import low, phrase_of, set_of, words_of
from companion.leader.said_keys import FORMERLY, NOW
from companion.leader.sentences_meant import sentence_around
from companion.leader.show_says import show_says, song_says
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.music import Key, read_key
from companion.show import Show, Song
from companion.show.set_words import set_words
from companion.show.titles import folded

OPEN_SHAPES: Final = set_of("C A G E D Am Em Dm")  # played with open strings, so that a capo makes sense
MAX_VALUES: Final = 20  # of one field of one song in one reply


ValueOf = tuple[int | None, int | None, str]  # the set, the place in the show and the field of a value


class SettledClaim(NamedTuple):
    """A value for a field of the show file. ``contradicts``: the show says otherwise and is not denied."""

    field: str
    value: str | bool | int
    set_at: int | None
    song_at: int | None
    title: str
    before: str = ""
    doubt: str = ""
    contradicts: bool = False
    words: str = ""
    line: str = ""


class OpenClaim(NamedTuple):
    """Words that are not understood, or pass a question on ``to`` somebody, about a song (its place) or none."""

    song: int | None
    words: str
    field: str
    to: str = ""
    set_at: int | None = None  # of words about a set itself


class SettledReply(NamedTuple):
    """All that a reply comes to."""

    claims: tuple[SettledClaim, ...]
    left: tuple[OpenClaim, ...]
    passed: tuple[OpenClaim, ...]
    confirms: tuple[OpenClaim, ...]
    values: "dict[tuple[int | None, int | None, str], list[ClaimedValue]]"  # all that were said, by set, song and field
    left_out: frozenset[int]  # the songs of which "all but" these says nothing


class ClaimedValue(NamedTuple):
    """A value as the reply says it: ``corrects`` what was said before, ``denied`` the value that it replaces."""

    field: str
    value: str | bool | int
    doubt: str
    corrects: bool
    denied: str = ""
    words: str = ""
    line: str = ""


_NO_CAPO: Final = ClaimedValue("capo", 0, "", corrects=False)


class ReplySettling:
    """Collects the values of each song, set and the show, in the order of the reply."""

    def __init__(self, names: SongNames, asked: frozenset[tuple[int, str]]) -> None:
        self.names = names
        self.asked = asked
        self.confirms: list[OpenClaim] = []
        self.values: dict[tuple[int | None, int | None, str], list[ClaimedValue]] = {}
        self.left: list[OpenClaim] = []
        self.passed: list[OpenClaim] = []
        self.same: list[tuple[Claim, str]] = []  # keys that are said by another song's, with the question
        self.moved: list[tuple[Claim, str]] = []  # keys that are said by how far they move
        self.rest: list[tuple[Claim | Passed, str, str, tuple[ValueOf, ...]]] = []  # with the question, line, before it
        self.line = ""  # the line that is being settled

    def add(self, set_at: int | None, song: int | None, value: ClaimedValue) -> None:
        """Add a value, for a song by its place in the show, for a set, or for the show."""
        value = value._replace(line=value.line or self.line)
        said = self.values.setdefault((set_at, song, value.field), [])
        if len(said) < MAX_VALUES:
            said.append(value)
        else:
            said[-1] = value

    def song(self, place: int) -> Song:
        """Return a song by its place in the show."""
        return self.names.songs[place][2]

    def confirm_keys_beside(self, but: SongsMeant, words: str) -> None:
        """Take the keys of the show as right where the reply says nothing of them: the rest is as in your list."""
        said = {place for _, place, field in self.values if field in ("key", "dropped")} | {*but.songs}
        said |= {one.song for one in (*self.confirms, *self.left, *self.passed) if one.song is not None}
        self.confirms += [
            OpenClaim(place, words, "key")
            for place, (set_at, _, song) in enumerate(self.names.songs)
            if song.key is not None and place not in said and (not but.sets or set_at in but.sets)
        ]

    def leave(self, about: SongsMeant, words: str, field: str) -> None:
        """Keep words that are not understood, with each song that they are about."""
        for place in about.songs or (None,):
            self.left.append(OpenClaim(place, words, field))


def settle_same_keys(settling: ReplySettling) -> None:
    """Copy the key of another song, as far as the reply or the show says it; the rest stays open.

    Where neither the words nor the question speak of the key, anything may be the same, and the answer is in doubt.
    """
    for claim, field in settling.same:
        other = int(claim.fact.value) if isinstance(claim.fact, StatedFact) else 0
        said = settling.values.get((settling.names.songs[other][0], other, "key"), [])
        key = str(said[-1].value) if said else str(settling.song(other).key or "")
        if not key or not claim.about.songs:
            settling.leave(claim.about, claim.words, field or "key")
            continue
        is_key = field == "key" or "key" in claim.words.casefold()
        reasons = (claim.doubt, claim.about.doubt, said[-1].doubt if said else "", "" if is_key else claim.words)
        doubt = "; ".join(dict.fromkeys(filter(None, reasons)))
        for place in claim.about.songs:
            value = ClaimedValue("key", key, doubt, claim.corrects, words=claim.words)
            settling.add(settling.names.songs[place][0], place, value)


_AS_PLAYED: Final = ("key", "ending", "starts_with", "tempo")


def settle_dropped(settling: ReplySettling) -> None:
    """Doubt what else a reply says of a song that it drops: it may be played after all, or another song be meant."""
    for set_at, place, field in list(settling.values):
        if field == "dropped" and settling.values[set_at, place, field][-1].value is False:  # played after all
            said = settling.values.pop((set_at, place, field))
            settling.confirms.append(OpenClaim(place, said[-1].words, field))
    dropped = {place: values for (_, place, field), values in settling.values.items() if field == "dropped"}
    for one in settling.left:  # drop 14; no wait, keep 14
        last = dropped[one.song][-1] if one.song in dropped else None
        if last is not None and not last.doubt and one.words not in last.words:
            dropped[one.song][-1] = last._replace(doubt=one.words)
    for set_at, place, field in list(settling.values):
        if place in dropped and field != "dropped":
            values = settling.values.pop((set_at, place, field))
            sure = [value for value in values if not value.doubt]
            for value in values:
                last = dropped[place][-1]
                doubt = last.doubt or f"the reply also says {field} {value.value}"
                dropped[place][-1] = last._replace(doubt=doubt)
                if field in _AS_PLAYED and value in (sure or values):
                    settling.add(set_at, place, value._replace(doubt=value.doubt or doubt, corrects=False))
                else:
                    settling.left.append(OpenClaim(place, value.words or f"{field} {value.value}", field))


def settle_versions(settling: ReplySettling) -> None:
    """Take a version for the recording; beside a link it goes into the notes."""
    for set_at, place, field in list(settling.values):
        if field == "version":
            version = settling.values.pop((set_at, place, field))[-1]
            link = settling.values.get((set_at, place, "recording"))
            settling.add(set_at, place, version._replace(field="notes" if link else "recording"))


_SOUNDS: Final = re.compile(
    r"\b(?:you|sound|sounds|sounding|concert|real|really|actually|pitch)\b|\byou[’']re\b", re.IGNORECASE
)


def settle_capos(settling: ReplySettling) -> None:
    """Work out the sounding key of shapes with a capo; doubt an open key with a capo, which may be the shapes'."""
    for set_at, place in {(set_at, place) for set_at, place, field in settling.values if field in ("capo", "shapes")}:
        capo = settling.values.pop((set_at, place, "capo"), [_NO_CAPO])[-1].value
        shapes = settling.values.pop((set_at, place, "shapes"), [_NO_CAPO])[-1].value
        keys = settling.values.get((set_at, place, "key"), [])
        sounding = read_key(str(shapes)).transposed(int(capo)) if shapes and capo else None
        if not keys and sounding:
            doubt = f"{shapes} shapes with capo {capo}"
            settling.add(set_at, place, ClaimedValue("key", str(sounding), doubt, corrects=False))
        elif keys and sounding and _key(str(keys[-1].value)) != sounding:
            keys[-1] = keys[-1]._replace(doubt=f"{shapes} shapes with capo {capo} sound in {sounding}")
        elif keys and capo and not shapes and keys[-1].value in OPEN_SHAPES and not _SOUNDS.search(keys[-1].words):
            other = _key(str(keys[-1].value)).transposed(int(capo))
            keys[-1] = keys[-1]._replace(doubt=f"with capo {capo} it may sound in {other}")


def settled_claims(settling: ReplySettling) -> Iterator[SettledClaim]:
    """Yield one value for each field: the last one said, with a doubt where the reply contradicts itself."""
    show = settling.names.show
    for (set_at, place, field), values in settling.values.items():
        song_at = settling.names.songs[place][1] if place is not None else None
        title = _titled(show, set_at, settling.song(place) if place is not None else None)
        if field == "notes":
            yield from _notes(settling, place, values, set_at, song_at)
            continue
        last = _of_kind(field, values)
        others = list(dict.fromkeys(str(one.value) for one in values if not _same(field, one.value, last.value)))
        doubting = [last] if last.corrects else values
        doubts = list(dict.fromkeys(why for one in doubting for why in one.doubt.split("; ") if why))
        if last.corrects and not last.doubt:  # it replaces what stands before it, and nothing in its own words
            others_now = [one for one in values if last.words and one.words == last.words]
            beside = list(
                dict.fromkeys(str(one.value) for one in others_now if not _same(field, one.value, last.value))
            )
        else:
            beside = others
        if beside:
            settling.left += _replaced(place, set_at, field, [one for one in values if str(one.value) in beside])
            doubts.append(f"the reply also says {', '.join(beside)}")
        written = show_says(show, set_at, settling.song(place) if place is not None else None, field)
        if written is not None and _same(field, written, last.value):
            of_set = set_at if place is None else None
            said = OpenClaim(place, last.words or "; ".join(doubts), field, set_at=of_set)
            is_plain = place is not None and not beside and not any(map(_is_hedged, (_sentence(last), *doubts)))
            if doubts and not is_plain:
                settling.left.append(said)
            for doubt in doubts if is_plain else ():  # 5 E but ask Pat: the key is right, the rest is left
                words = doubt if doubt in last.line else said.words
                if all(words not in other.words for other in settling.left if other.song == place):
                    settling.left.append(said._replace(words=words))
            if not doubts or is_plain:
                settling.confirms.append(said)
            continue
        was_asked = place is not None and (place, field) in settling.asked and not doubts
        before = "" if written is None or field in ("chart", "length", "dropped") else str(written)
        contradicts = written is not None and not (was_asked or (last.corrects and _denies(last, str(written), others)))
        yield SettledClaim(
            field, last.value, set_at, song_at, title, before, "; ".join(doubts), contradicts, last.words, last.line
        )


def _of_kind(field: str, values: Sequence[ClaimedValue]) -> ClaimedValue:
    """Return the last value; of endings, the one of a kind that a single word only colours after it: cold, BANG."""
    last = values[-1]
    kinds = [one for one in values if one.value in ENDING_KINDS] if field == "ending" else []
    is_colour = not (last.corrects or last.value in ENDING_KINDS or " " in str(last.value))
    return kinds[-1] if is_colour and len({one.value for one in kinds}) == 1 else last


ENDING_KINDS: Final = frozenset(("cold", "fade", "ritard", "vamp-out", "tag"))


def _sentence(value: ClaimedValue) -> str:
    """Return the sentence of its line that says a value, or the whole line where it is not found."""
    begin = value.line.find(value.words) if value.words else -1
    if begin < 0:
        return value.line
    first, last = sentence_around(value.line, begin, begin + len(value.words))
    return value.line[first:last]


def _is_hedged(doubt: str) -> bool:
    """Return whether words say that the leader is not sure, ask something, deny it, or tell of what was or is new."""
    words = words_of(doubt.removesuffix(MAY_BE_TITLE))
    return "?" in doubt or any(phrase_of(words, at, HEDGES) or low(words, at) in _NOT_PLAIN for at in range(len(words)))


MAY_BE_TITLE: Final = " may be a title"
_NOT_PLAIN: Final = NOTS | DENIES | PAST | NOW | FORMERLY


def _replaced(place: int | None, set_at: int | None, field: str, values: Sequence[ClaimedValue]) -> Iterator[OpenClaim]:
    """Yield the words of values that another one replaces although nothing says that it corrects them."""
    of_set = set_at if place is None else None
    return (OpenClaim(place, one.words, field, set_at=of_set) for one in values if one.words)


def _denies(value: ClaimedValue, written: str, earlier: Sequence[str]) -> bool:
    """Return whether a correction is one of what is written: "not G" says nothing if the show says F."""
    return not value.denied or value.denied == written or value.denied in earlier


def _same(field: str, one: object, other: object) -> bool:
    if field == "key":
        return _key(str(one)) == _key(str(other))
    if field in ("venue", "starts_with", "segue"):
        return folded(str(one)) == folded(str(other))
    return str(one) == str(other)


@lru_cache(maxsize=256)
def _key(said: str) -> Key:
    return read_key(said)


def _titled(show: Show, set_at: int | None, song: Song | None) -> str:
    if song is not None:
        return song.title
    return show.title if set_at is None else set_words(show.sets[set_at].name)


def _notes(
    settling: ReplySettling, place: int | None, values: Sequence[ClaimedValue], set_at: int | None, song_at: int | None
) -> Iterator[SettledClaim]:
    """Yield the words to add to a song's notes."""
    if place is None:
        return
    song = settling.song(place)
    old = song.notes or ""
    new = [str(one.value) for one in values if folded(str(one.value)) not in folded(old)]
    if new:
        doubt = "; ".join(dict.fromkeys(one.doubt for one in values if one.doubt))
        yield SettledClaim("notes", "\n".join(dict.fromkeys(new)), set_at, song_at, song.title, "", doubt)


def corrected_by(settling: ReplySettling, place: int, passed: Passed) -> Passed:
    """Doubt a song's key that words below correct: "6 Bb", and below it "sorry, 6 as the record"."""
    set_at, _, song = settling.names.songs[place]
    keys = settling.values.get((set_at, place, "key"), [])
    if not (passed.corrects and passed.field in ("", "key") and keys):
        return passed
    keys[-1] = keys[-1]._replace(doubt=keys[-1].doubt or passed.words)
    is_record = song.record_key is not None and passed.to.startswith("the record")
    return passed._replace(field="key", doubt=passed.words) if is_record else passed


def rest_of(settling: ReplySettling, field: str, meant: SongsMeant, *, with_passed: bool = False) -> list[int]:
    """Return the songs that lack a field, and about which the reply says nothing.

    ``meant`` names the songs that are left out, and the sets if it is the rest of a set.
    """
    but = set(meant.songs)
    but |= {at for at, (set_at, _, _) in enumerate(settling.names.songs) if meant.sets and set_at not in meant.sets}
    answered = {place for _, place, said in settling.values if said in (field, "dropped") and place is not None}
    lacking = [place for place, (_, _, song) in enumerate(settling.names.songs) if song_says(song, field) is None]
    if not with_passed:  # 4 ask Pat, the rest in G
        answered |= {one.song for one in settling.passed if one.field == field and one.song is not None}
    return [place for place in lacking if place not in answered and place not in but]
