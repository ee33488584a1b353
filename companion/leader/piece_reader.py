"""Read the pieces of lines: which fact is about which song, how sure it is, and what was not understood."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.corrected_items import MAY_BE_TEMPO
from companion.leader.courtesies import is_courtesy
from companion.leader.guess_words import manner_of
from companion.leader.key_joins import TOO
from companion.leader.left_over import SentencePart, is_unknown_name, names_another, takes_back, with_doubts
from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact, ScannedLine
from companion.leader.reply_pieces import SAYS_ALL, ReplyPiece, lone_tempo, pieces_of
from companion.leader.reply_readings import (
    NOWHERE,
    Claim,
    DayClaim,
    Passed,
    ReplyReading,
    Unread,
    WordsTakenBack,
    in_doubt,
)
from companion.leader.reply_words import set_of
from companion.leader.shared_facts import added_songs
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import KEY_OF, MOVED_BY, StatedFact
from companion.leader.turns_of_phrase import (
    AS_RECORD,
    ASKED_FOR,
    CORRECT,
    DITTO,
    HEDGE,
    JOKED,
    NOT,
    TAKES_BACK,
    UNKNOWN_TO_LEADER,
    TurnOfPhrase,
)
from companion.leader.unlike_record import OF_ONE_SONG
from companion.show.titles import folded

MAX_BACK: Final = 12  # facts of a sentence that a later doubt may be about
_FOR_NUMBER: Final = re.compile(r"\bfor \d{1,2}\b(?!\s?,)")
RELATIVE: Final = set_of("up down lower higher tone tones semitone semitones step steps halftone")
SECTIONS: Final = set_of(
    "intro verse verses chorus choruses bridge solo outro middle8 middle eight coda ending end tag refrain break"
)
SOUNDS: Final = re.compile(
    r"\b(?:you|sounds?|sounding|concert|real|really|actually|pitch)\b|\byou[’']re\b", re.IGNORECASE
)
YES_ANSWERS: Final = ("chart", "starts_with", "ending", "recording", "key")
_INTRO: Final = re.compile(r"\b(?:intros?|beginning)\b", re.IGNORECASE)
_SAYS_WHO: Final = re.compile(
    r"\b(?:think|thinks|says|reckons?|believes?|might|may|maybe|probably|perhaps|possibly)\b|\?", re.IGNORECASE
)
_ENDING: Final = re.compile(r"\b(?:ending|finish|schluss|slut|einde|finale)\b", re.IGNORECASE)
_SAME_AGAIN: Final = re.compile(r"(?:the )?same(?: again| length)?[.!]?", re.IGNORECASE)
_UNKNOWN_ONE: Final = re.compile(r"^(?:and )?the (?:[^\W\d_]{2,20} ){1,3}ones?\b", re.IGNORECASE)  # the train one
EITHER: Final = set_of("either neither nor")
LOST: Final = "the words before it are unclear"


class PieceReader:
    """Reads the pieces of lines; remembers which songs are being spoken of."""

    def __init__(self) -> None:
        self.about = NOWHERE  # the songs that the last words were about
        self.spoken_of = NOWHERE  # the songs that were named last, on a line above too
        self._is_correcting = False  # after "no wait", until the next fact
        self._hanging: Unread | None = None  # songs that were named, until something is said of them
        self._is_lost = False  # whether something about these songs was not understood
        self._line_above: list[Claim] = []
        self._set_length: Claim | None = None  # how long the set is that was spoken of last
        self._last: list[Claim] = []  # the last facts, which "so is Rain Delay" repeats

    def ask_of(self, about: SongsMeant) -> None:
        """Take the songs of a quoted question, whatever was not understood before, for what follows."""
        self.about, self._is_lost = about, False

    def spoken_of_in_doubt(self, names: SongNames) -> SongsMeant:
        """Return the songs that were named last, for words that only point back to them."""
        songs = self.spoken_of.songs
        if not songs or self.spoken_of.is_rest:
            return NOWHERE
        titles = " and ".join(names.songs[one][2].title for one in songs[:3])
        return self.spoken_of._replace(doubt=self.spoken_of.doubt or f"about {titles}?")

    def read(self, line: ScannedLine, group: str) -> list[ReplyReading]:
        """Read a line. ``group``: the field that the heading above asks for, or ""."""
        if added := added_songs(line, self._line_above):
            return added
        found: list[ReplyReading] = []
        sentence: list[SentencePart] = []  # what this sentence said so far
        lows = [word.low for word in line.words]
        for piece in pieces_of(line):
            if piece.begins_sentence:
                found, sentence = self._with_sentence(found, sentence, lows), []
            before = [one for _, said in sentence[-MAX_BACK:] for one in said]
            new = list(self._piece(piece, group, before))
            new = [*self._left_hanging(piece, new), *new]
            for _, said in sentence[-MAX_BACK:]:
                said[:] = _replaced(said, new)
            sentence.append((piece, new))
            moves = set(piece.unknown) & RELATIVE or any(_field(one.what) == MOVED_BY for one in piece.facts)
            if moves and not set(piece.unknown) & SECTIONS:
                sentence = [(one, [_as_unread(each, self.about) for each in said]) for one, said in sentence]
            if claims := [one for one in new if isinstance(one, Claim)]:
                self._last = claims
                lengths = (one for one in claims if _field(one.fact) == "minutes" and one.about.sets)
                self._set_length = next(lengths, self._set_length)
        found = self._with_sentence(found, sentence, lows)
        if self._hanging and found:
            found.append(self._hanging)
        self._hanging = None
        if self._is_correcting and found and isinstance(last := found[-1], Claim):
            found[-1] = last._replace(corrects=True)  # 2 A, sorry
        self._is_correcting = self._is_correcting and not found
        self._line_above = [one for one in found if isinstance(one, Claim)]
        return list(dict.fromkeys(found))

    def _with_sentence(
        self, found: list[ReplyReading], sentence: list[SentencePart], lows: Sequence[str]
    ) -> list[ReplyReading]:
        """Return what a line said, with one more sentence."""
        said = with_doubts(sentence, lows)
        states = any(isinstance(one, Claim | DayClaim | Passed) for one in said)
        if not states and takes_back([piece for piece, _ in sentence], lows, is_same_line=bool(found)):
            words = ", ".join(piece.said for piece, _ in sentence)
            return [*found, WordsTakenBack(words), *said]
        return [*found, *said]

    def _piece(self, piece: ReplyPiece, group: str, before: list[ReplyReading]) -> Iterator[ReplyReading]:
        """Read a piece. ``before``: what its sentence said so far."""
        yield from _days(piece)
        if any(turn.says == JOKED for turn in piece.turns(CORRECT)) and (piece.songs or piece.facts):
            yield WordsTakenBack(piece.said)  # haha no. 1 G
        field = next((turn.says for turn in piece.turns(ASKED_FOR)), "") or group
        if _SAME_AGAIN.fullmatch(piece.said) and self.about.sets and not self.about.songs:
            yield self._as_long(piece)
            return
        if not piece.songs and not piece.facts and piece.is_explained:
            yield from self._turns_alone(piece, field, before)
            return
        if before and (tempo := lone_tempo(piece)):
            yield Claim(self.about, tempo, piece.said, piece.said)  # 2 G, 124
            return
        if piece.songs:
            self._is_lost = False
        about = piece.all_owners or self.about
        said_of = set(piece.unknown)
        if said_of & RELATIVE and not piece.songs and not said_of & SECTIONS:
            yield from (one._replace(doubt=one.doubt or piece.said) for one in self._of_now(before))
        is_yes = all(isinstance(one.what, StatedFact) and one.what.field == "yes" for one in piece.facts)
        if piece.facts and is_yes and not piece.songs and field not in YES_ANSWERS:
            yield from self._yes_alone(piece, before)
        elif not piece.songs and (before or self._last) and piece.is_played_after_all:
            yield WordsTakenBack(piece.said)  # cut the Tango. No, leave that in
        elif self._is_no_to_nothing(piece, field):
            self._is_correcting, self._hanging = True, Unread(about, piece.said)  # 3 no, G
        elif (denied := self._denied_before(piece, before)) is not None:
            yield denied
        elif not piece.songs and piece.unknown and (_UNKNOWN_ONE.match(piece.said) or names_another(piece)):
            yield Unread(NOWHERE, piece.said)
        elif piece.is_unread:
            self._is_lost = True
            yield Unread(about, piece.said, tuple(_field(one.what) for one in piece.facts))
        elif piece.facts:
            yield from self._facts(piece.without_yes(), before)
            self._is_lost = self._is_lost or (bool(piece.songs) and piece.has_strays_first)
        elif not piece.songs and piece.turns(UNKNOWN_TO_LEADER) and not piece.turns(ASKED_FOR) and self._of_now(before):
            yield from (in_doubt(one, piece.said) for one in self._of_now(before))  # G or A, depends on Jo's throat
        else:
            yield from self._without_facts(piece, about, field)
        if piece.songs:
            self.about = piece.owners[-1]
            self.spoken_of = self.about if self.about.songs and not self.about.is_rest else self.spoken_of

    def _facts(self, piece: ReplyPiece, before: list[ReplyReading]) -> Iterator[ReplyReading]:
        """Read the facts of a piece; a second key, or that of a section, is a note."""
        doubt = _doubt(piece) or (LOST if self._is_lost and not piece.songs else "")
        corrects = bool(_corrections(piece)) or self._is_correcting
        self._is_correcting = False
        keys: dict[SongsMeant, Claim] = {}
        has_other = False  # whether a fact before names another song: 11 into 12 which is in G
        for fact, about in piece.with_owners(self.about):
            field = _field(fact)
            is_loose = self._is_lost and not piece.songs  # sometime in set 2. Baz says G
            is_said = piece.is_explained or (field == "key" and bool(SAYS_ALL.search(piece.said)))  # all in F for Jo
            is_vague = bool(about.sets) and (is_loose or not is_said) and field not in ("clock", "minutes")
            if about is NOWHERE or about.no_song or is_vague or (about.is_rest and field in OF_ONE_SONG):
                yield Unread(about, piece.said, (field,) if about is NOWHERE else ())
                continue
            denied = isinstance(fact, KeyFact) and bool(fact.denied)
            is_weak = field in ("starts_with", "ending") and isinstance(fact, StatedFact) and not fact.firm
            is_unsure = (is_weak and piece.talks) or (field == "recording" and about.is_rest)
            whose = piece.said if is_unsure or has_other or self._is_ambiguous(piece, about) else ""
            if before and piece.songs and field in ("starts_with", "ending") and _FOR_NUMBER.search(piece.said):
                whose = piece.said  # 5 D, drums for 8
            is_clear = denied and piece.is_explained and not _SAYS_WHO.search(piece.said)
            reasons = (whose, "" if is_clear else doubt, fact.doubt, about.doubt)
            claim = Claim(about, fact, piece.said, "; ".join(filter(None, reasons)), corrects or denied)
            has_other = has_other or (isinstance(fact, StatedFact) and fact.field in ("into", KEY_OF))
            if isinstance(fact, KeyFact):
                first = keys.setdefault(about, claim)
                if first is claim and not (piece.songs or claim.corrects or SOUNDS.search(piece.said)):
                    first = next((one for one in self._of_now(before) if isinstance(one.fact, KeyFact)), claim)
                is_again = isinstance(first.fact, KeyFact) and first.fact.key == fact.key and not fact.then
                if first is not claim and is_again:
                    continue  # a G7 blues, so G
                if first is not claim and not SOUNDS.search(piece.said):
                    yield from self._further_key(first, piece)
                    continue
            yield claim

    def _is_ambiguous(self, piece: ReplyPiece, about: SongsMeant) -> bool:
        """Return whether a fact may be about other songs: "1 in set 2 zorp G"; "1, Bb 2", where 1 lacks its fact."""
        if about.sets and not about.is_rest and any(one.songs or one.no_song for one in piece.owners):
            return True
        return bool(piece.songs) and self._hanging is not None and piece.facts[0].at < piece.songs[0].at

    def _denied_before(self, piece: ReplyPiece, before: list[ReplyReading]) -> Claim | None:
        """Return the key that was said before as a correction, if a piece says which key is wrong: "A, not G"."""
        if piece.songs or piece.unknown or not piece.denies or len(piece.facts) != 1:
            return None
        wrong = piece.facts[0].what
        first = next((one for one in self._of_now(before) if isinstance(one.fact, KeyFact)), None)
        if first is None or not isinstance(wrong, KeyFact) or not isinstance(first.fact, KeyFact):
            return None
        if wrong.key == first.fact.key or wrong.then or first.fact.then:
            return None
        return first._replace(fact=first.fact._replace(denied=wrong.key), corrects=True)

    def _is_no_to_nothing(self, piece: ReplyPiece, field: str) -> bool:
        """Return whether a "no" beside a song answers no question: "3 no, G"."""
        says_no = [one.what for one in piece.facts if isinstance(one.what, StatedFact) and one.what.field == "yes"]
        is_alone = len(says_no) == len(piece.facts) == 1 and bool(piece.songs)
        return is_alone and says_no[0].value is False and field not in YES_ANSWERS

    def _yes_alone(self, piece: ReplyPiece, before: list[ReplyReading]) -> Iterator[ReplyReading]:
        """Read a yes or no that names no song and answers no question: "no" takes back what was said."""
        is_no = any(isinstance(one.what, StatedFact) and one.what.value is False for one in piece.facts)
        if not before and self.about is not NOWHERE:  # below a quoted question
            self._is_correcting = is_no
            if is_no:
                yield Unread(self.about, piece.said)
            else:
                yield Claim(self.about, StatedFact("yes", True, 0), piece.said)
            return
        if is_no and (before or self._last):
            self._is_correcting = bool(before)  # 2 G - no, A
            yield WordsTakenBack(piece.said)
        elif before:
            yield Unread(self.about, piece.said)

    def _further_key(self, first: Claim, piece: ReplyPiece) -> Iterator[ReplyReading]:
        """Read a further key of a song: a note about a part of it, "G in the bridge", or a doubt about the first."""
        if piece.turns(HEDGE) or (piece.unknown and not set(piece.unknown) & SECTIONS):
            yield Unread(first.about, piece.said)
        else:
            yield Claim(first.about, StatedFact("notes", piece.said, 0), piece.said)
        if not set(piece.unknown) & SECTIONS:
            yield first._replace(doubt="; ".join(filter(None, (first.doubt, piece.said))))

    def _without_facts(self, piece: ReplyPiece, about: SongsMeant, field: str) -> Iterator[ReplyReading]:
        """Read a piece that names songs, or has unknown words, and states no fact."""
        if not piece.songs and is_courtesy(piece.said):
            return
        is_told = not piece.turns(NOT, HEDGE, UNKNOWN_TO_LEADER, AS_RECORD) and bool(_ENDING.search(piece.said))
        if is_told and about.songs and piece.unknown:
            manners = {one for word in piece.unknown if (one := manner_of(word, ends=True))} - {"own"}
            said = manners.pop() if len(manners) == 1 else " ".join(piece.unknown)
            yield Claim(about, StatedFact("ending", said, 0), piece.said, piece.said)  # ending of 7: short
            return
        passed = piece.turns(UNKNOWN_TO_LEADER, AS_RECORD)
        is_too = not TOO.isdisjoint(folded(piece.said).split())
        is_too = is_too and not (piece.unknown or passed)  # "5 as on the record too" says its own key
        if piece.songs and (piece.turns(DITTO) or is_too):
            yield from self._again(about, piece)
        elif piece.songs and piece.said.casefold().endswith(" same") and self._last_keys():
            yield from (one._replace(about=about, words=piece.said, doubt=piece.said) for one in self._last_keys())
        elif passed:
            to = " ".join(dict.fromkeys(turn.says for turn in passed if turn.says))
            doubt = about.doubt if piece.is_explained and not piece.turns(HEDGE) else piece.said
            corrects = bool(_corrections(piece)) or self._is_correcting
            passes = Passed(about, to, piece.said, field, doubt, corrects)
            yield passes if about is not NOWHERE else Unread(about, piece.said)
        elif piece.turns(HEDGE) and piece.songs and not piece.unknown:
            yield Passed(about, "", piece.said, field)  # 4 ???
        elif piece.songs and piece.is_attached:
            self._is_lost = True  # capo not 5
        elif not piece.is_explained or any(one.is_rest for one in piece.owners) or (piece.songs and piece.talks):
            self._is_lost = not piece.is_explained
            yield Unread(NOWHERE if is_unknown_name(piece) else about, piece.said)

    def _as_long(self, piece: ReplyPiece) -> ReplyReading:
        """Read "9.30, same again" below "8.15, 50 mins": as long as the set before, with a doubt."""
        if self._set_length is None:
            return Unread(self.about, piece.said)
        return self._set_length._replace(about=self.about, words=piece.said, doubt=piece.said)

    def _last_keys(self) -> list[Claim]:  # which "same" may repeat; it may be the key of last time as well
        return [one for one in self._last if isinstance(one.fact, KeyFact) and not one.about.is_rest]

    def _again(self, about: SongsMeant, piece: ReplyPiece) -> Iterator[ReplyReading]:
        """Say the last facts again of other songs: "and so is Rain Delay"."""
        last = [one for one in self._last if not one.about.is_rest]
        if EITHER & set(piece.said.casefold().split()):  # 2 isn't happening, 8 isn't either
            last = [one for one in last if _field(one.fact) == "dropped"]
        if not last:
            yield Unread(about, piece.said)
        for one in last:
            doubt = "; ".join(filter(None, (one.doubt, piece.said if piece.unknown else "")))
            yield one._replace(about=about, words=piece.said, doubt=doubt)

    def _left_hanging(self, piece: ReplyPiece, new: Sequence[ReplyReading]) -> Iterator[Unread]:
        """Yield songs that were named before, where others follow and nothing was said of them."""
        before = self._hanging
        if new or piece.songs:
            self._hanging = None
        if piece.songs and before:
            yield before
        if piece.songs and not new and not any(one.sets for one in piece.owners):
            self._hanging = Unread(self.about, piece.said)

    def _of_now(self, before: list[ReplyReading]) -> list[Claim]:
        """Return what this sentence said of the songs being spoken of."""
        return [one for one in before if isinstance(one, Claim) and one.about == self.about]

    def _turns_alone(self, piece: ReplyPiece, field: str, before: list[ReplyReading]) -> Iterator[ReplyReading]:
        """Read a piece without facts: a doubt about what was just said, or a question passed on."""
        passed = piece.turns(UNKNOWN_TO_LEADER, AS_RECORD)
        if passed and (piece.turns(ASKED_FOR) or not any(isinstance(one, Claim) for one in before)):
            to = " ".join(dict.fromkeys(turn.says for turn in passed if turn.says))
            is_same = _SAME_AGAIN.fullmatch(piece.said) is not None
            last = [one for one in self._last_keys() if one.about != self.about] if is_same else []
            if self.about is NOWHERE:
                yield Unread(NOWHERE, piece.said)
            elif last:  # below a quoted song
                yield from (one._replace(about=self.about, words=piece.said, doubt=piece.said) for one in last)
            else:
                yield Passed(self.about, to, piece.said, field)
        elif passed or piece.turns(HEDGE):
            for one in self._of_now(before):
                yield one._replace(doubt="; ".join(filter(None, (one.doubt, piece.said))))
        if piece.turns(CORRECT):
            self._is_correcting = True
            if any(turn.says for turn in piece.turns(CORRECT)) and before:
                yield WordsTakenBack(piece.said)


def _days(piece: ReplyPiece) -> Iterator[ReplyReading]:
    days = (DayClaim(one.what, piece.said) for one in piece.items if isinstance(one.what, DayReading))
    has_facts = any(_field(one.what) not in ("clock", "minutes") for one in piece.facts)
    why = _doubt(piece) or (piece.said if piece.songs or has_facts else "")  # 1/1 Bb
    yield from (in_doubt(one, why) if why else one for one in days)


def _field(what: object) -> str:
    return "key" if isinstance(what, KeyFact) else what.field if isinstance(what, StatedFact) else ""


def _corrections(piece: ReplyPiece) -> list[TurnOfPhrase]:
    """Return the corrections in a piece that announce its facts; "2 G is wrong" takes the fact back."""
    last = max((item.at for item in piece.facts), default=-1)
    turns = [(item.at, item.what) for item in piece.items if isinstance(item.what, TurnOfPhrase)]
    return [turn for at, turn in turns if turn.kind == CORRECT and not (turn.says == TAKES_BACK and at > last)]


def _replaced(before: list[ReplyReading], new: list[ReplyReading]) -> list[ReplyReading]:
    """Leave out claims that the new ones say again with a doubt."""
    again = {(one.about, one.fact) for one in new if isinstance(one, Claim)}
    return [one for one in before if not (isinstance(one, Claim) and (one.about, one.fact) in again)]


def _as_unread(said: ReplyReading, about: SongsMeant) -> ReplyReading:
    """Take back that a song is as on the record: "as the record but a tone down"."""
    if isinstance(said, Claim) and isinstance(said.fact, StatedFact) and said.fact.field == "version":
        return in_doubt(said, said.words) if said.about == about else said
    is_record = isinstance(said, Passed) and said.to.startswith("the record") and said.about == about
    return Unread(said.about, said.words) if isinstance(said, Passed) and is_record else said


def _doubt(piece: ReplyPiece) -> str:
    """Return the words that make a piece's facts uncertain: all of it if some are not explained."""
    asked = {turn.says for turn in piece.turns(ASKED_FOR)} - {"key", "starts_with"}
    fields = {_field(one.what) for one in piece.facts}
    asked |= {"intro"} if not fields & {"starts_with", "notes"} and _INTRO.search(piece.said) else set()
    is_of_part = bool(asked) and not asked & fields  # 2 ends G, 2 intro G
    if any(isinstance(one.what, StatedFact) and one.what.doubt == MAY_BE_TEMPO for one in piece.facts):
        return piece.said
    if is_of_part or piece.is_cut or not piece.is_explained or len(_corrections(piece)) < len(piece.turns(CORRECT)):
        return piece.said
    return piece.said if piece.turns(HEDGE, UNKNOWN_TO_LEADER, AS_RECORD) else ""
