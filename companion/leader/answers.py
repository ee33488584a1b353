"""Turn the leader's reply, typed in any form, into changes to the show file, doubts, and questions that stay open."""

import datetime as dt
import logging
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.leader.accounted_facts import joined_again, unaccounted_lines
from companion.leader.announced_lists import with_lists_apart
from companion.leader.answer_words import answer_words
from companion.leader.claimed import Claimed, claims_on
from companion.leader.counted_songs import counted_songs
from companion.leader.german_keys import names_keys_in_german
from companion.leader.guessed_clauses import ReadLine
from companion.leader.guessed_times import guessed_times
from companion.leader.key_runs import runs_of_keys
from companion.leader.keys_in_order import keys_in_order
from companion.leader.keys_of_record import keys_of_record
from companion.leader.lengths_listed import lengths_listed
from companion.leader.lettered_lines import without_letters
from companion.leader.line_scanner import LineScanner
from companion.leader.marked_answers import marked_answers
from companion.leader.nearest_songs import with_owners_doubted
from companion.leader.numbering import sets_from_top
from companion.leader.players import THE_LEADER
from companion.leader.quoted_questions import worded_by_questions
from companion.leader.quoted_songs import answered_within_quotes, answers_in_turn
from companion.leader.reply_items import ScannedLine
from companion.leader.reply_limits import read_part
from companion.leader.reply_lines import lines_of
from companion.leader.reply_reader import ReplyReader
from companion.leader.reply_readings import TimeClaim
from companion.leader.rows_in_one_line import with_rows_apart
from companion.leader.sentences_meant import sentences_meant
from companion.leader.settled_claims import OpenClaim, SettledReply
from companion.leader.small_keys import with_small_rows
from companion.leader.songs_below import told_by_heading
from companion.leader.songs_in_order import songs_in_order
from companion.leader.songs_meant import SongNames
from companion.leader.spelled_letters import spelled_letters
from companion.leader.spoken_clauses import spoken_clauses
from companion.leader.tempos_listed import tempos_listed
from companion.leader.time_words import OF_MORNING
from companion.leader.writers import player_who_writes
from companion.music import read_key
from companion.setlist import Notation
from companion.setlist.tidy import cut
from companion.show import Show, Song
from companion.show.chords import moved_words
from companion.show.titles import folded

LOG: Final = logging.getLogger("companion.leader")
_SERVICE: Final = re.compile(r"\b(?:the service|the sermon|gottesdienst|gudstj[äe]n(?:st|este))\b", re.IGNORECASE)
_SPACED: Final = re.compile(r" ([.,;!?])(?=\s|$)")  # a doubt that quotes word by word: at 22:00 . 2 in G
_WORD: Final = re.compile(r"[^\W\d_]{4,20}")
SHOWN: Final = 1_000  # characters of a line that is not understood: all of it, unless it is beyond the limits


class LeaderAnswer(msgspec.Struct, frozen=True):
    """One answer: the field of the show file and its value as written there. Without a song, it is about the show.

    ``doubt``: why it is uncertain. ``before``: what the show says now. "dropped" is a field too:
    the song is not played.
    """

    field: str
    value: str | bool | int
    set_at: int | None = None
    song_at: int | None = None
    title: str = ""
    before: str = ""
    also: str = ""  # a further change that follows from it
    doubt: str = ""
    words: str = ""  # the leader's, where it contradicts the show
    line: str = ""  # the line of the reply that says it
    quoted: str = ""  # of a line in doubt, the sentences meant

    @property
    def contradicts(self) -> bool:
        """Whether the show says something else, and the leader does not say that it changed."""
        return bool(self.words)

    def __str__(self) -> str:
        words = answer_words(self.field, self.value)
        if self.before:
            now = words.removeprefix(f"{self.field} ").removeprefix("at ")
            words = f"{answer_words(self.field, self.before)} → {now}"
        said = f"{self.title}: {words}"
        said = "; ".join(filter(None, (said, self.also)))
        return f"{said} (not sure: {self.doubt})" if self.doubt else said


class OpenPiece(msgspec.Struct, frozen=True):
    """Words of the reply that were not understood, or that pass a question on.

    ``title`` and ``field``: the song and the question that they belong to, "" if none is known. ``to``: whom to ask
    instead, for a question that the leader cannot answer.
    """

    words: str
    title: str = ""
    field: str = ""
    to: str = ""
    set_at: int | None = None
    song_at: int | None = None

    def __str__(self) -> str:
        return f"{self.title}: {self.words}" if self.title else self.words


class LeaderAnswers(msgspec.Struct, frozen=True):
    """What a reply says.

    ``found``: the answers that land, some with a doubt. ``contradicts``: those that differ from what the show says and
    do not correct it; the player decides. ``left``: what was not understood. ``passed``: questions that somebody else
    answers. ``confirms``: what the show says already.
    """

    found: tuple[LeaderAnswer, ...]
    left: tuple[OpenPiece, ...] = ()
    contradicts: tuple[LeaderAnswer, ...] = ()
    passed: tuple[OpenPiece, ...] = ()
    confirms: tuple[OpenPiece, ...] = ()

    @property
    def says_nothing(self) -> bool:
        """Whether there is nothing to write or keep."""
        return not (self.found or self.left or self.contradicts or self.passed or self.confirms)


def read_answers(
    text: str,
    show: Show,
    *,
    notation: Notation = Notation.LETTERS,
    today: dt.date | None = None,
    numbers: Sequence[int | None] | None = None,
    asked: frozenset[tuple[int, str]] = frozenset(),
    at_once: frozenset[str] = frozenset(),
) -> LeaderAnswers:
    """Read a reply. Songs are named by their number in the message, by title or by set.

    ``today`` completes a date without a year. ``numbers``: the song (its place in the show, from 0) of each number of
    the message, if the show has changed since it was sent. ``asked``: songs and fields that the message asked about
    although the show says something, so that the answer counts. ``at_once``: the fields that it asked about many songs
    in one question.
    """
    try:
        return _read(text, show, notation, today, numbers, asked, at_once)
    except Exception:
        LOG.exception("the reply could not be read")
        lines = (line.strip(" >") for line in text.splitlines())
        return LeaderAnswers((), tuple(OpenPiece(cut(line, SHOWN)) for line in lines if line))


def _read(
    text: str,
    show: Show,
    notation: Notation,
    today: dt.date | None,
    numbers: Sequence[int | None] | None,
    asked: frozenset[tuple[int, str]],
    at_once: frozenset[str],
) -> LeaderAnswers:
    names = SongNames(show, numbers)
    named = set(map(folded, _WORD.findall(show.title)))
    named |= {word for one in names.sets for word in one.split()}
    names.named_sets.is_by_day = bool(named & OF_MORNING) or _SERVICE.search(text) is not None
    day = today or dt.date.today()  # noqa: DTZ011  the player's own day
    scanner = LineScanner(names, day, notation, may_be_german=names_keys_in_german(text))
    part = read_part(without_letters(text))
    rows = with_rows_apart(part.text, scanner)
    typed = list(lines_of(rows, names.titles, scanner.says_something, names.sets))
    typed = keys_of_record(spelled_letters(typed, names.titles), names)
    typed = worded_by_questions(answered_within_quotes(marked_answers(typed), names))
    typed = songs_in_order(typed, names, scanner)
    told = told_by_heading(answers_in_turn(typed, names), names)
    lines = tempos_listed(lengths_listed(told, names), names)
    lines, beside = runs_of_keys(with_small_rows(lines), names, notation)
    lines = with_lists_apart(lines, scanner)
    lines = spoken_clauses(counted_songs(keys_in_order(lines, names, notation), names, notation), scanner, notation)
    said = [scanner.scan(line.text, None) for line in lines if line.text and not line.is_quoted]
    if len(show.sets) > 1:
        own = [names.in_set(at) for at in range(len(show.sets))]
        of_sets = {
            at: [one for one, place in enumerate(names.numbers, 1) if place in own[at]] for at in range(len(own))
        }
        names.from_top = sets_from_top(said, of_sets)
    reader = ReplyReader(lines, scanner, at_once, asked)
    readings = [
        Claimed(reading, line.field, is_quoted=line.is_quoted, line=line.text) for line, reading in reader.read()
    ]
    if names.from_top:
        said = [scanner.scan(one.text, None) for one in said]
    said = [one for one in said if one.text not in reader.answered]
    times = _times_guessed(reader.read_lines, scanner)
    answers = _answers(claims_on(readings, names, asked, reader.read_lines, times), names, said)
    if writer := player_who_writes(part.text):
        answers = msgspec.structs.replace(answers, found=tuple(_started_by(one, writer) for one in answers.found))
    beyond = tuple(OpenPiece(cut(words, SHOWN)) for words in (*beside, *part.beyond))
    return msgspec.structs.replace(answers, left=(*answers.left, *beyond))


def _times_guessed(lines: Sequence[ReadLine], scanner: LineScanner) -> tuple[tuple[TimeClaim, str], ...]:
    """Return the times that single sentences tell; none if that fails, so that the facts that were read land."""
    try:
        return tuple(guessed_times(lines, scanner))
    except Exception:
        LOG.exception("the times of a reply could not be guessed")
        return ()


def _started_by(answer: LeaderAnswer, writer: str) -> LeaderAnswer:
    """Return an answer with the player who writes as its "I": "drummer here ... and I start 5"."""
    is_me = answer.field == "starts_with" and answer.value == THE_LEADER
    return msgspec.structs.replace(answer, value=writer) if is_me else answer


def _answers(settled: SettledReply, names: SongNames, lines: Sequence[ScannedLine]) -> LeaderAnswers:
    """Return the answers that the readings state, and keep each line with a fact that no answer holds."""
    found: list[LeaderAnswer] = []
    contradicts: list[LeaderAnswer] = []
    for claim in with_owners_doubted(settled.claims, lines, names):
        answer = LeaderAnswer(
            claim.field,
            claim.value,
            claim.set_at,
            claim.song_at,
            claim.title,
            claim.before,
            _also(names, claim.set_at, claim.song_at, claim.field, claim.value),
            _SPACED.sub(r"\1", claim.doubt),
            (claim.words or str(claim.value)) if claim.contradicts else "",
            cut(claim.line, SHOWN),
            sentences_meant(claim.line, [claim.words, *claim.doubt.split("; ")])
            if claim.doubt or claim.contradicts
            else "",
        )
        (contradicts if claim.contradicts else found).append(answer)
    lost = unaccounted_lines(lines, settled)
    return LeaderAnswers(
        tuple(found),
        tuple(_open(names, one) for one in joined_again((*settled.left, *lost), lines, settled.values)),
        tuple(contradicts),
        tuple(_open(names, one) for one in settled.passed),
        tuple(_open(names, one) for one in settled.confirms),
    )


def _open(names: SongNames, claim: OpenClaim) -> OpenPiece:
    set_at, song_at, song = names.songs[claim.song] if claim.song is not None else (claim.set_at, None, None)
    return OpenPiece(cut(claim.words, SHOWN), song.title if song else "", claim.field, claim.to, set_at, song_at)


def _also(names: SongNames, set_at: int | None, song_at: int | None, field: str, value: object) -> str:
    if field != "key" or set_at is None or song_at is None:
        return ""
    song: Song = names.show.sets[set_at].songs[song_at]
    return moved_words(song, read_key(str(value)))
