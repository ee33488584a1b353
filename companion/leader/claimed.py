"""Settle what a reply claims: one value for each field, the rest of the songs, contradictions, and open questions."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from companion.leader.reply_items import KeyFact
from companion.leader.reply_pieces import Claim, DayClaim, Passed, SaidInReply, Unread, VenueClaim
from companion.leader.reply_words import set_of
from companion.leader.show_says import show_says, song_says
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.music import Key, read_key
from companion.setlist.parsing.cells import clock_cell, length_cell
from companion.setlist.tidy import folded
from companion.show import Show, Song

ASKED_FIRST: Final = ("key", "starts_with", "ending", "chart", "recording")
OPEN_SHAPES: Final = set_of("C A G E D Am Em Dm")  # played with open strings, so that a capo makes sense
LATER: Final = "the leader, later"
MAX_VALUES: Final = 20  # of one field of one song in one reply


class Claimed(NamedTuple):
    """A reading of a line, and the question that its heading asks, or ""."""

    reading: SaidInReply
    field: str
    is_quoted: bool = False


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


class OpenClaim(NamedTuple):
    """Words that are not understood, or pass a question on ``to`` somebody, about a song (its place) or none."""

    song: int | None
    words: str
    field: str
    to: str = ""


class SettledReply(NamedTuple):
    """All that a reply comes to."""

    claims: tuple[SettledClaim, ...]
    left: tuple[OpenClaim, ...]
    passed: tuple[OpenClaim, ...]
    confirms: tuple[OpenClaim, ...]


class _Value(NamedTuple):
    field: str
    value: str | bool | int
    doubt: str
    corrects: bool
    denied: str = ""
    words: str = ""


_NO_CAPO: Final = _Value("capo", 0, "", corrects=False)


class _Settling:
    """Collects the values of each song, set and the show, in the order of the reply."""

    def __init__(self, names: SongNames, asked: frozenset[tuple[int, str]]) -> None:
        self.names = names
        self.asked = asked
        self.confirms: list[OpenClaim] = []
        self.values: dict[tuple[int | None, int | None, str], list[_Value]] = {}
        self.left: list[OpenClaim] = []
        self.passed: list[OpenClaim] = []
        self.rest: list[tuple[Claim | Passed, str]] = []

    def add(self, set_at: int | None, song: int | None, value: _Value) -> None:
        """Add a value, for a song by its place in the show, for a set, or for the show."""
        said = self.values.setdefault((set_at, song, value.field), [])
        if len(said) < MAX_VALUES:
            said.append(value)
        else:
            said[-1] = value

    def song(self, place: int) -> Song:
        """Return a song by its place in the show."""
        return self.names.songs[place][2]

    def leave(self, about: SongsMeant, words: str, field: str) -> None:
        """Keep words that are not understood, with each song that they are about."""
        for place in about.songs or (None,):
            self.left.append(OpenClaim(place, words, field))


def claims_on(
    readings: Sequence[Claimed], names: SongNames, asked: frozenset[tuple[int, str]] = frozenset()
) -> SettledReply:
    """Settle the readings of a reply. ``asked``: fields of songs that were asked about although the show says them."""
    settling = _Settling(names, asked)
    for one in readings:
        _take(settling, one)
    for claim, field in settling.rest:
        _take_rest(settling, claim, field)
    _settle_capos(settling)
    claims = tuple(_settled(settling))
    answered = {(claim.set_at, claim.song_at, claim.field) for claim in claims}
    passed = []
    for handed in settling.passed:
        set_at, song_at, _ = names.songs[handed.song] if handed.song is not None else (None, None, None)
        if (set_at, song_at, handed.field) not in answered:
            passed.append(handed)
    return SettledReply(
        claims, tuple(dict.fromkeys(settling.left)), tuple(dict.fromkeys(passed)), tuple(settling.confirms)
    )


def _take(settling: _Settling, one: Claimed) -> None:
    reading, field = one.reading, one.field
    match reading:
        case DayClaim(day, words):
            if day.day is None:
                settling.leave(SongsMeant((), 0, 0), words, "date")
            else:
                settling.add(None, None, _Value("date", day.day.isoformat(), day.doubt, corrects=False))
        case VenueClaim(venue):
            settling.add(None, None, _Value("venue", venue, "", corrects=False))
        case Passed(about, to, words, named):
            _pass_on(settling, Passed(about, to, words, named or field), field)
        case Unread(about, words):
            _unread(settling, about, words, field, is_quoted=one.is_quoted)
        case Claim():
            if reading.about.is_rest:
                settling.rest.append((reading, field))
            else:
                _claim(settling, reading, field)


# ------------------------------------------------------------------ facts


def _claim(settling: _Settling, claim: Claim, field: str) -> None:
    """Add a claim about songs or sets."""
    understood = not isinstance(claim.fact, KeyFact) and claim.fact.field == "yes" and _confirms(settling, claim)
    for at in claim.about.sets:
        understood = _of_set(settling, at, claim) or understood
    for place in claim.about.songs if not understood else ():
        for value in _values(settling.names, place, claim, field):
            settling.add(settling.names.songs[place][0], place, value)
            understood = True
    if not understood:
        settling.leave(claim.about, claim.words, field)


def _confirms(settling: _Settling, claim: Claim) -> bool:
    """Take a yes for what the message asked to confirm, where it asked one thing about the song."""
    fact = claim.fact
    asked = [(place, field) for place, field in settling.asked if place in claim.about.songs]
    if isinstance(fact, KeyFact) or fact.value is not True or len(asked) != len(claim.about.songs):
        return False
    settling.confirms += [OpenClaim(place, claim.words, field) for place, field in asked]
    return True


def _of_set(settling: _Settling, at: int, claim: Claim) -> bool:
    """Add a set's start or length; other facts are about each of its songs."""
    fact = claim.fact
    if isinstance(fact, KeyFact) or fact.field not in ("clock", "minutes"):
        return False
    if fact.field == "minutes":
        settling.add(at, None, _Value("minutes", fact.value, claim.doubt, claim.corrects))
        return True
    minutes = _clock(str(fact.value), by_evening=bool(fact.doubt))
    if minutes is None:
        return False
    settling.add(at, None, _Value("starts", f"{minutes // 60}:{minutes % 60:02}", claim.doubt, claim.corrects))
    return True


def _clock(said: str, *, by_evening: bool) -> int | None:
    found = clock_cell(said)
    if found is None and by_evening and said.isdecimal() and int(said) <= 24:
        found = (int(said) + 12 if 1 <= int(said) < 12 else int(said)) * 60
    return found


def _values(names: SongNames, place: int, claim: Claim, field: str) -> Iterator[_Value]:
    """Yield the values that a claim means for one song."""
    fact = claim.fact
    if isinstance(fact, KeyFact):
        yield _Value("key", fact.key, claim.doubt, claim.corrects, fact.denied, claim.words)
        if fact.then:
            yield _Value("notes", f"key: {fact.then}", "", corrects=False)
        return
    song = names.songs[place][2]
    match fact.field:
        case "clock":
            if (seconds := length_cell(str(fact.value))) and not str(fact.value)[-1:].isalpha():
                yield _Value("length", f"{seconds // 60}:{seconds % 60:02}", claim.doubt, claim.corrects)
        case "minutes":
            if isinstance(fact.value, int) and 0 < fact.value < 60:
                yield _Value("length", f"{fact.value}:00", claim.doubt, claim.corrects)
        case "capo" | "shapes":
            yield _Value("notes", claim.words, "", corrects=False)
            yield _Value(fact.field, fact.value, "", corrects=False)
        case "version":
            yield _Value("notes", f"version: {fact.value}", claim.doubt, corrects=False)
        case "into":
            yield from _segue(names, place, claim)
        case "yes":
            yield from _yes(song, claim, field, is_yes=bool(fact.value))
        case _:
            yield _Value(fact.field, fact.value, claim.doubt, claim.corrects, words=claim.words)


def _yes(song: Song, claim: Claim, field: str, *, is_yes: bool) -> Iterator[_Value]:
    """Read a yes or no by the question that it answers."""
    if field == "starts_with" and is_yes:
        yield _Value("starts_with", "keys", claim.doubt, claim.corrects)
    elif field == "chart" or (not field and song.chart is None):
        yield _Value("chart", is_yes, claim.doubt, claim.corrects)


def _segue(names: SongNames, place: int, claim: Claim) -> Iterator[_Value]:
    """Read the song that follows without a break; the next one where none is named."""
    following = place + 1
    if following < len(names.songs):
        doubt = claim.doubt
        if names.songs[following][0] != names.songs[place][0]:
            doubt = "; ".join(filter(None, (doubt, "it is the last of its set")))
        yield _Value("segue", names.songs[following][2].title, doubt, claim.corrects)


# ------------------------------------------------------------------ the rest, questions passed on, words left


def _rest(settling: _Settling, field: str, but: Sequence[int]) -> list[int]:
    """Return the songs that lack a field, and about which the reply says nothing; without those of ``but``."""
    answered = {place for _, place, said in settling.values if said == field and place is not None}
    lacking = [place for place, (_, _, song) in enumerate(settling.names.songs) if song_says(song, field) is None]
    return [place for place in lacking if place not in answered and place not in but]


def _take_rest(settling: _Settling, claim: Claim | Passed, field: str) -> None:
    if isinstance(claim, Passed):
        asked = claim.field or field or "key"
        for place in _rest(settling, asked, claim.about.songs):
            _pass_song(settling, place, claim._replace(field=asked))
        return
    said = "key" if isinstance(claim.fact, KeyFact) else claim.fact.field
    _claim(settling, claim._replace(about=SongsMeant(tuple(_rest(settling, said, claim.about.songs)), 0, 0)), field)


def _pass_on(settling: _Settling, passed: Passed, heading: str) -> None:
    if passed.about.is_rest:
        settling.rest.append((passed, heading))
        return
    if not passed.about.songs:
        settling.left.append(OpenClaim(None, passed.words, passed.field))
    for place in passed.about.songs:
        _pass_song(settling, place, passed)


def _pass_song(settling: _Settling, place: int, passed: Passed) -> None:
    """Keep a question that somebody else answers; "as the record" is the record's key where it is known."""
    song = settling.song(place)
    field = passed.field if passed.field in (*ASKED_FIRST, "tempo") else _lacking(settling, place)
    if passed.to.startswith("the record") and field == "key" and song.record_key:
        settling.add(settling.names.songs[place][0], place, _Value("key", str(song.record_key), "", corrects=False))
        return
    one = OpenClaim(place, passed.words, field, passed.to or LATER)
    before = next((other for other in settling.passed if (other.song, other.field) == (place, field)), None)
    if before is not None:  # don't know, ask Pat
        settling.passed.remove(before)
        to = before.to if one.to == LATER else one.to
        words = before.words if one.words == before.words else f"{before.words}, {one.words}"
        one = one._replace(words=words, to=to)
    settling.passed.append(one)


def _lacking(settling: _Settling, place: int) -> str:
    """Return the first question about a song that is not answered yet."""
    for field in ASKED_FIRST:
        if song_says(settling.song(place), field) is None and not any(
            song == place and said == field for _, song, said in settling.values
        ):
            return field
    return ASKED_FIRST[0]


def _unread(settling: _Settling, about: SongsMeant, words: str, field: str, *, is_quoted: bool) -> None:
    """Keep words that are not understood; under a heading that takes any words, they are the answer."""
    if field == "recording" and about.songs and len(words) <= 120:
        for place in about.songs:
            settling.add(
                settling.names.songs[place][0], place, _Value("notes", f"version: {words}", "", corrects=False)
            )
        return
    if field == "venue" and not about.songs and len(words) <= 120 and not is_quoted:
        settling.add(None, None, _Value("venue", words, "", corrects=False))
        return
    if not is_quoted:
        settling.leave(about, f"{words} ({about.no_song})" if about.no_song else words, field)


def _settle_capos(settling: _Settling) -> None:
    """Work out the sounding key of shapes with a capo; doubt an open key with a capo, which may be the shapes'."""
    for set_at, place in {(set_at, place) for set_at, place, field in settling.values if field in ("capo", "shapes")}:
        capo = settling.values.pop((set_at, place, "capo"), [_NO_CAPO])[-1].value
        shapes = settling.values.pop((set_at, place, "shapes"), [_NO_CAPO])[-1].value
        keys = settling.values.get((set_at, place, "key"), [])
        sounding = read_key(str(shapes)).transposed(int(capo)) if shapes and capo else None
        if not keys and sounding:
            doubt = f"{shapes} shapes with capo {capo}"
            settling.add(set_at, place, _Value("key", str(sounding), doubt, corrects=False))
        elif keys and sounding and _key(str(keys[-1].value)) != sounding:
            keys[-1] = keys[-1]._replace(doubt=f"{shapes} shapes with capo {capo} sound in {sounding}")
        elif keys and capo and not shapes and keys[-1].value in OPEN_SHAPES:
            other = _key(str(keys[-1].value)).transposed(int(capo))
            keys[-1] = keys[-1]._replace(doubt=f"with capo {capo} it may sound in {other}")


# ------------------------------------------------------------------ one value for each field


def _settled(settling: _Settling) -> Iterator[SettledClaim]:
    """Yield one value for each field: the last one said, with a doubt where the reply contradicts itself."""
    show = settling.names.show
    for (set_at, place, field), values in settling.values.items():
        song_at = settling.names.songs[place][1] if place is not None else None
        title = _titled(show, set_at, settling.song(place) if place is not None else None)
        if field == "notes":
            yield from _notes(settling, place, values, set_at, song_at)
            continue
        last = values[-1]
        others = list(dict.fromkeys(str(one.value) for one in values if not _same(field, one.value, last.value)))
        doubts = [last.doubt] if last.doubt else []
        if others and not last.corrects:
            doubts.append(f"the reply also says {', '.join(others)}")
        written = show_says(show, set_at, settling.song(place) if place is not None else None, field)
        if written is not None and _same(field, written, last.value):
            if not doubts:
                settling.confirms.append(OpenClaim(place, last.words, field))
            continue
        was_asked = place is not None and (place, field) in settling.asked and not doubts
        before = "" if written is None or field in ("chart", "length", "dropped") else str(written)
        contradicts = written is not None and not (was_asked or (last.corrects and _denies(last, str(written), others)))
        yield SettledClaim(
            field, last.value, set_at, song_at, title, before, "; ".join(doubts), contradicts, last.words
        )


def _denies(value: _Value, written: str, earlier: Sequence[str]) -> bool:
    """Return whether a correction is one of what is written: "not G" says nothing where the show says F."""
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
    return show.title if set_at is None else f"{show.sets[set_at].name} set"


def _notes(
    settling: _Settling, place: int | None, values: Sequence[_Value], set_at: int | None, song_at: int | None
) -> Iterator[SettledClaim]:
    """Yield a song's notes with the new words under the old ones."""
    if place is None:
        return
    song = settling.song(place)
    old = song.notes or ""
    new = [str(one.value) for one in values if folded(str(one.value)) not in folded(old)]
    if new:
        doubt = "; ".join(dict.fromkeys(one.doubt for one in values if one.doubt))
        text = "\n".join([*([old] if old else []), *dict.fromkeys(new)])
        yield SettledClaim("notes", text, set_at, song_at, song.title, "", doubt)
