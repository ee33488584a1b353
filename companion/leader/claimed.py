"""Settle what a reply claims: one value for each field, the rest of the songs, contradictions, and open questions."""

import re
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.claimed_values import clock_of, values_of
from companion.leader.clear_times import MORNING
from companion.leader.explained_words import explain_words
from companion.leader.fact_words import names_version
from companion.leader.guessed_clauses import ReadLine
from companion.leader.guessed_endings import ending_in
from companion.leader.guessed_notes import take_notes
from companion.leader.guessed_times import take_times
from companion.leader.guesses import take_guesses
from companion.leader.places_said import TAKEN, is_place, is_put_off
from companion.leader.reply_items import KeyFact
from companion.leader.reply_pieces import SAYS_ALL
from companion.leader.reply_readings import (
    NOWHERE,
    Claim,
    DayClaim,
    Passed,
    ReplyReading,
    TimeClaim,
    Unread,
    VenueClaim,
    WordsTakenBack,
    in_doubt,
)
from companion.leader.reply_records import LATER
from companion.leader.said_of_many import SAYS_REST, as_said_of_many, unknown_set, with_many_doubted
from companion.leader.settled_claims import (
    ClaimedValue,
    OpenClaim,
    ReplySettling,
    SettledReply,
    ValueOf,
    corrected_by,
    rest_of,
    settle_capos,
    settle_dropped,
    settle_same_keys,
    settle_versions,
    settled_claims,
)
from companion.leader.settled_moves import settle_moved_keys
from companion.leader.show_says import song_says
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import KEY_OF, MOVED_BY, StatedFact
from companion.leader.time_words import evening
from companion.leader.turns_of_phrase import THE_LIST, is_joke

ASKED_FIRST: Final = ("key", "starts_with", "ending", "chart", "recording")
MAX_ENDING: Final = 60  # characters
_TWO_KEYS: Final = re.compile(r"\b[A-H][b#♭♯]?m? (?:or|oder|ou|o|eller) [A-H][b#♭♯]?m?(?![\w#♯♭])")
_NUMBER: Final = re.compile(r"^#?\d{1,3}[.):]?\s+")

SHORTEST_SET: Final = 10  # minutes; fewer may be those of a song


class Claimed(NamedTuple):
    """A reading of a line, and the question that its heading asks, or ""."""

    reading: ReplyReading
    field: str
    is_quoted: bool = False
    line: str = ""


def claims_on(
    readings: Sequence[Claimed],
    names: SongNames,
    asked: frozenset[tuple[int, str]] = frozenset(),
    lines: Sequence[ReadLine] = (),
    times: Sequence[tuple[TimeClaim, str]] = (),
) -> SettledReply:
    """Settle the readings of a reply, and guess what else its ``lines`` say. ``times``: those of single sentences.

    ``asked``: fields of songs that were asked about although the show says them.
    """
    settling = ReplySettling(names, asked)
    for one in _with_words_taken_back(_with_stray_facts(readings)):
        settling.line = one.line
        _take(settling, one)
    of_set = next(filter(None, (unknown_set(one.line.text, names) for one in lines)), "") if settling.rest else ""
    for claim, field, line, before in settling.rest:
        settling.line = line
        doubt = "; ".join(filter(None, (claim.doubt, "" if claim.about.sets else of_set)))
        _take_rest(settling, claim._replace(doubt=doubt), field, before)
    settling.line = ""
    take_times(settling, times)
    take_guesses(settling, lines)
    explain_words(settling)
    take_notes(settling, lines)
    settle_same_keys(settling)
    settle_moved_keys(settling, settling.moved)
    settle_dropped(settling)
    settle_capos(settling)
    settle_versions(settling)
    passed = list(_still_passed(settling))
    claims = tuple(settled_claims(settling))
    return SettledReply(
        claims,
        tuple(dict.fromkeys(settling.left)),
        tuple(dict.fromkeys(passed)),
        tuple(settling.confirms),
        settling.values,
        frozenset(place for claim, *_ in settling.rest for place in claim.about.songs),
    )


def _still_passed(settling: ReplySettling) -> Iterator[OpenClaim]:
    """Yield the questions passed on that the reply does not answer as well; where it does, the answer is in doubt."""
    for handed in settling.passed:
        set_at = settling.names.songs[handed.song][0] if handed.song is not None else None
        if values := settling.values.get((set_at, handed.song, handed.field)):
            doubt = "; ".join(dict.fromkeys(filter(None, (values[-1].doubt, handed.words))))
            values[-1] = values[-1]._replace(doubt=doubt)
        else:
            yield handed


def _with_words_taken_back(readings: Sequence[Claimed]) -> list[Claimed]:
    """Doubt what was said last about a song before words that take it back."""
    kept: list[Claimed] = []
    for one in readings:
        kept.append(one)
        if isinstance(one.reading, WordsTakenBack):
            at = next((at for at in range(len(kept) - 1, -1, -1) if _lands(kept[at].reading)), -1)
            if at < 0:  # nothing was said before
                kept[-1] = one._replace(reading=Unread(NOWHERE, one.reading.words))
                continue
            about = getattr(kept[at].reading, "about", None)
            while is_joke(one.reading.words) and at >= 0 and _is_of_many(kept[at].reading):
                kept[at] = kept[at]._replace(reading=Unread(NOWHERE, getattr(kept[at].reading, "words", "")))
                at -= 1
            while at >= 0 and _lands(kept[at].reading) and getattr(kept[at].reading, "about", None) == about:
                kept[at] = kept[at]._replace(reading=in_doubt(kept[at].reading, one.reading.words))
                at -= 1
    return kept


def _with_stray_facts(readings: Sequence[Claimed]) -> list[Claimed]:
    """Doubt the last fact of a kind before words that may state it anew and name no song: "1 B" and below it "or A"."""
    kept = list(readings)
    last: dict[str, int] = {}
    for at, one in enumerate(readings):
        match one.reading:
            case Claim(_, fact):
                last["key" if isinstance(fact, KeyFact) else fact.field] = at
            case Unread(about, words, fields) if not (about.songs or about.sets or about.is_rest or one.is_quoted):
                for place in (last[field] for field in fields if field in last):
                    kept[place] = kept[place]._replace(reading=in_doubt(kept[place].reading, words))
            case _:
                pass
    return kept


def _is_of_many(reading: ReplyReading) -> bool:
    """Return whether a fact is about several songs, as a joke may be: odd ones in A, even ones in D."""
    return isinstance(reading, Claim) and (reading.about.is_rest or len(reading.about.songs) > 1)


def _lands(reading: ReplyReading) -> bool:
    return not isinstance(reading, Unread | WordsTakenBack)


def _take(settling: ReplySettling, one: Claimed) -> None:
    reading, field = one.reading, one.field
    match reading:
        case DayClaim(day, words):
            if day.day is None:
                settling.leave(SongsMeant((), 0, 0), words, "date")
            else:
                settling.add(None, None, ClaimedValue("date", day.day.isoformat(), day.doubt, corrects=False))
        case TimeClaim(time, doubt):
            if time.starts_min is not None:
                said = f"{time.starts_min // 60 % 24}:{time.starts_min % 60:02}"
                settling.add(time.set_at, None, ClaimedValue("starts", said, doubt, corrects=False))
            if time.minutes is not None:
                doubt = doubt or (f"{time.minutes} minutes" if time.minutes < SHORTEST_SET else "")
                settling.add(time.set_at, None, ClaimedValue("minutes", time.minutes, doubt, corrects=False))
        case VenueClaim(venue, doubt):
            settling.add(None, None, ClaimedValue("venue", venue, doubt, corrects=False))
        case Passed():
            _pass_on(settling, reading._replace(field=reading.field or field), field)
        case WordsTakenBack():
            pass  # see _with_words_taken_back
        case Unread():
            _unread(settling, reading, field, is_quoted=one.is_quoted)
        case Claim():
            if isinstance(reading.fact, StatedFact) and reading.fact.field == KEY_OF:
                settling.same.append((reading, field))
            elif isinstance(reading.fact, StatedFact) and reading.fact.field == MOVED_BY and not reading.about.is_rest:
                settling.moved.append((reading, field))
            elif reading.about.is_rest:
                settling.rest.append((reading, field, one.line, tuple(settling.values)))
            else:
                _claim(settling, reading, field)


# ------------------------------------------------------------------ facts


def _claim(settling: ReplySettling, claim: Claim, field: str) -> None:
    """Add a claim about songs or sets."""
    understood = not isinstance(claim.fact, KeyFact) and claim.fact.field == "yes" and _confirms(settling, claim)
    for at in claim.about.sets:
        understood = _of_set(settling, at, claim) or understood
    if claim.about.sets and not claim.about.songs and not understood:
        claim = _of_its_songs(settling, claim)
    for place in claim.about.songs if not understood else ():
        for value in values_of(settling.names, place, claim, field):
            settling.add(settling.names.songs[place][0], place, value)
            understood = True
    if not understood:
        settling.leave(claim.about, claim.words, field)


def _confirms(settling: ReplySettling, claim: Claim) -> bool:
    """Take a yes for what the message asked to confirm, where it asked one thing about the song."""
    fact = claim.fact
    asked = [(place, field) for place, field in settling.asked if place in claim.about.songs]
    if isinstance(fact, KeyFact) or fact.value is not True or len(asked) != len(claim.about.songs):
        return False
    settling.confirms += [OpenClaim(place, claim.words, field) for place, field in asked]
    return True


def _of_set(settling: ReplySettling, at: int, claim: Claim) -> bool:
    """Add a set's start or length; other facts are about each of its songs."""
    fact = claim.fact
    if isinstance(fact, KeyFact) or fact.field not in ("clock", "minutes"):
        return False
    if fact.field == "minutes":
        if isinstance(fact.value, str):
            return False  # three and a half: a song
        doubt = claim.doubt or (claim.words if int(fact.value) < SHORTEST_SET else "")
        settling.add(at, None, ClaimedValue("minutes", fact.value, doubt, claim.corrects, words=claim.words))
        return True
    minutes = clock_of(str(fact.value), by_evening=bool(fact.doubt))
    if minutes is None:
        return False
    is_by_day = settling.names.named_sets.is_by_day and MORNING[0] <= minutes <= MORNING[-1]
    minutes = evening(minutes) if str(fact.value)[-1:].isdecimal() and not is_by_day else minutes
    doubt = claim.doubt
    if len(claim.about.sets) > 1:  # no two sets start at once
        if at != claim.about.sets[0]:
            return True
        doubt = doubt or claim.words
    starts = f"{minutes // 60}:{minutes % 60:02}"
    settling.add(at, None, ClaimedValue("starts", starts, doubt, claim.corrects, words=claim.words))
    return True


def _of_its_songs(settling: ReplySettling, claim: Claim) -> Claim:
    """Return a claim about a set as one about its songs; in doubt, unless it says that it means all of them."""
    fact = claim.fact
    field = "key" if isinstance(fact, KeyFact) else fact.field
    if field in ("clock", "minutes", "into", "yes"):
        return claim
    songs = [place for at in claim.about.sets for place in settling.names.in_set(at)]
    lacking = [place for place in songs if song_says(settling.song(place), field) is None]
    says_all = SAYS_ALL.search(claim.words)
    doubt = claim.doubt or ("" if says_all else claim.words)
    return claim._replace(about=claim.about._replace(songs=tuple(lacking), sets=()), doubt=doubt)


# ------------------------------------------------------------------ the rest, questions passed on, words left


def _take_rest(settling: ReplySettling, claim: Claim | Passed, field: str, before: Sequence[ValueOf]) -> None:
    """Take a claim about all songs or the rest of them. ``before``: what the reply had said by then."""
    if isinstance(claim, Passed):
        asked = claim.field or field or "key"
        is_else = SAYS_REST.search(claim.words) is not None  # 4 ask Pat, everything else as printed
        for place in rest_of(settling, asked, claim.about, with_passed=not is_else):
            _pass_song(settling, place, claim._replace(field=asked))
        if claim.to == THE_LIST and asked == "key":
            settling.confirm_keys_beside(claim.about, claim.words)
        return
    said = "key" if isinstance(claim.fact, KeyFact) else claim.fact.field
    if said == "minutes":
        _rest_of_sets(settling, claim)
        return
    rest = rest_of(settling, said, claim.about)
    claim = as_said_of_many(settling, claim, said, before)
    claim = claim if field == said else with_many_doubted(claim, said, rest)
    lost = {one.song: one.words for one in settling.left if one.song in rest}
    clear = tuple(place for place in rest if place not in lost)
    if clear or not lost:
        _claim(settling, claim._replace(about=SongsMeant(clear, 0, 0)), field)
    for place, words in lost.items():  # what is not understood may say otherwise of it
        if place is not None:
            doubt = "; ".join(filter(None, (claim.doubt, words)))
            _claim(settling, claim._replace(about=SongsMeant((place,), 0, 0), doubt=doubt), field)


def _rest_of_sets(settling: ReplySettling, claim: Claim) -> None:
    """Add how long all sets are, or, with a doubt, the rest of them: songs are not as long as each other."""
    every = range(len(settling.names.show.sets))
    sets = claim.about.sets or tuple(at for at in every if (at, None, "minutes") not in settling.values)
    says_all = re.search(r"\b(?:all|each|both|every)\b", claim.words, re.IGNORECASE)
    doubt = claim.doubt or ("" if says_all and len(sets) == len(every) else claim.words)
    _claim(settling, claim._replace(about=SongsMeant((), 0, 0, sets=sets), doubt=doubt), "")


def _pass_on(settling: ReplySettling, passed: Passed, heading: str) -> None:
    if passed.about.is_rest:
        settling.rest.append((passed, heading, settling.line, tuple(settling.values)))
        return
    songs = passed.about.songs or tuple(one for at in passed.about.sets for one in settling.names.in_set(at))
    if not songs:
        settling.left.append(OpenClaim(None, passed.words, passed.field))
    for place in songs:
        _pass_song(settling, place, passed)


def _pass_song(settling: ReplySettling, place: int, passed: Passed) -> None:
    """Keep a question that somebody else answers; "as the record" is the record's key if it is known."""
    song = settling.song(place)
    passed = corrected_by(settling, place, passed)
    field = passed.field if passed.field in (*ASKED_FIRST, "tempo") else _lacking(settling, place)
    if passed.to.startswith("the record") and field == "key" and song.record_key:
        value = ClaimedValue("key", str(song.record_key), passed.doubt, corrects=False)
        settling.add(settling.names.songs[place][0], place, value)
        return
    if passed.to == THE_LIST and song.key is not None and passed.field in ("", "key"):
        settling.confirms.append(OpenClaim(place, passed.words, "key"))
        return
    one = OpenClaim(place, passed.words, field, passed.to or LATER)
    before = next((other for other in settling.passed if (other.song, other.field) == (place, field)), None)
    if before is not None:  # don't know, ask Pat
        settling.passed.remove(before)
        to = before.to if one.to == LATER else one.to
        words = before.words if one.words == before.words else f"{before.words}, {one.words}"
        one = one._replace(words=words, to=to)
    settling.passed.append(one)


def _lacking(settling: ReplySettling, place: int) -> str:
    """Return the first question about a song that is not answered yet."""
    for field in ASKED_FIRST:
        if song_says(settling.song(place), field) is None and not any(
            song == place and said == field for _, song, said in settling.values
        ):
            return field
    return ASKED_FIRST[0]


def _unread(settling: ReplySettling, unread: Unread, field: str, *, is_quoted: bool) -> None:
    """Keep words that are not understood; under a heading that takes any words, they are the answer.

    What they may say of a song casts doubt on what was said of it before.
    """
    about, words = unread.about, unread.words
    for place in about.songs:
        for said in unread.fields:
            if values := settling.values.get((settling.names.songs[place][0], place, said)):
                values[-1] = values[-1]._replace(doubt=values[-1].doubt or words)
    if field == "recording" and about.songs and len(words) <= 120:
        said = _NUMBER.sub("", words)
        doubt = "" if names_version(said) else said
        for place in about.songs:
            settling.add(settling.names.songs[place][0], place, ClaimedValue("version", said, doubt, corrects=False))
        return
    places = [(settling.names.songs[place][0], place, "ending") for place in about.songs]
    has_ending = any(one in settling.values for one in places)
    if field == "ending" and about.songs and not has_ending and len(words) <= MAX_ENDING and not is_quoted:
        for place in about.songs:
            said = _NUMBER.sub("", words)
            settling.add(
                settling.names.songs[place][0], place, ClaimedValue("ending", ending_in(said), said, corrects=False)
            )
        return
    if field == "venue" and not about.songs and not is_put_off(words) and len(words) <= 120 and not is_quoted:
        doubt = "" if is_place(words) else TAKEN
        settling.add(None, None, ClaimedValue("venue", words, doubt, corrects=False))
        return
    if not field and about.songs and _TWO_KEYS.search(words):
        field = "key"  # 4 D or Eb: open until the show has the key
    if not field and about.songs and len(set(unread.fields)) == 1 and unread.fields[0] in ASKED_FIRST:
        field = unread.fields[0]  # 6 not G: the same
    if not is_quoted:
        settling.leave(about, f"{words} ({about.no_song})" if about.no_song else words, field)
