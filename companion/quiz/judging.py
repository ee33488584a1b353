"""Judge an answer, typed in any usual form or played on the keyboard."""

import enum
from typing import Final

import msgspec
from rapidfuzz import fuzz

from companion.music import Chord, NotMusic, read_chord, read_number, to_letters
from companion.quiz.cards import Card, Subject
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.remarks import read_remark
from companion.show.titles import folded

ALIKE: Final = 80  # per cent alike: a typing slip is not a wrong answer
QUICK_S: Final = 4.0  # a quicker answer counts as known at once (common practice, no source)
SHORT: Final = {
    "ch": "chorus",
    "v": "verse",
    "pre": "pre-chorus",
    "br": "bridge",
    "instr": "instrumental",
    "in": "intro",
    "out": "outro",
}
SAME: Final = {
    "vox": "singer",
    "vocals": "singer",
    "voice": "singer",
    "me": "keys",
    "i": "keys",
    "piano": "keys",
    "gtr": "guitar",
}


class Grade(enum.IntEnum):
    """The grade of an answer, as spaced-repetition schedulers count it."""

    WRONG = 1
    NEARLY = 2
    RIGHT = 3
    AT_ONCE = 4


def judge(card: Card, typed: str, seconds: float) -> Grade:
    """Judge a typed answer; ``seconds`` is how long it took."""
    grade = _JUDGES[card.asks](card, typed.strip()) if typed.strip() else Grade.WRONG
    return Grade.AT_ONCE if grade is Grade.RIGHT and seconds <= QUICK_S else grade


def _key(card: Card, typed: str) -> Grade:
    key = plain_key(typed)
    if key is None or card.key is None:
        return Grade.WRONG
    return Grade.RIGHT if key in (card.key, card.key.respelled) else Grade.WRONG


def _chord(card: Card, typed: str) -> Grade:
    """Judge letters or numbers; the right chord without its bass is nearly right."""
    try:
        chord = read_chord(typed)
    except NotMusic:
        try:
            number = read_number(typed)
        except NotMusic:
            return Grade.WRONG
        if card.number is not None and number == card.number:
            return Grade.RIGHT
        if card.key is None:
            return Grade.WRONG
        chord = to_letters(number, card.key)
    right = [one for one in (card.hands, card.chord) if one is not None]
    if any((chord.pitch_classes, chord.bass) == (one.pitch_classes, one.bass) for one in right):
        return Grade.RIGHT
    return Grade.NEARLY if any(_upper(chord) == _upper(one) for one in right) else Grade.WRONG


def _upper(chord: Chord) -> frozenset[int]:
    return msgspec.structs.replace(chord, bass=None).pitch_classes


def _section(card: Card, typed: str) -> Grade:
    answer, right = folded(typed), folded(card.right[0])
    answer = folded(SHORT.get(answer, answer))
    if answer == right or (len(answer) >= 3 and right.startswith(answer)) or fuzz.ratio(answer, right) >= ALIKE:
        return Grade.RIGHT
    return Grade.WRONG


def _who(card: Card, typed: str) -> Grade:
    answer = read_remark(f"{typed} starts").starts_with or folded(typed)
    right = read_remark(f"{card.right[0]} starts").starts_with or folded(card.right[0])
    same = (
        SAME.get(answer, answer) == SAME.get(right, right)
        or fuzz.token_set_ratio(folded(typed), folded(card.right[0])) >= ALIKE
    )
    return Grade.RIGHT if same else Grade.WRONG


def _words(card: Card, typed: str) -> Grade:
    """Judge words: all of the answer's words are right, some of them nearly right."""
    hits = [fuzz.partial_ratio(folded(right), folded(typed)) >= ALIKE and len(typed) >= 3 for right in card.right]
    whole = [
        hit or fuzz.token_set_ratio(folded(right), folded(typed)) >= ALIKE
        for hit, right in zip(hits, card.right, strict=True)
    ]
    return Grade.RIGHT if all(whole) else Grade.NEARLY if any(whole) else Grade.WRONG


_JUDGES: Final = {
    Subject.KEY: _key,
    Subject.STARTS: _who,
    Subject.SOUND: _words,
    Subject.CHORD: _chord,
    Subject.NEXT: _section,
    Subject.FEATURES: _words,
    Subject.ENDING: _words,
}

# ------------------------------------------------------------------ played

NOTE_OFF, NOTE_ON = 0x80, 0x90  # MIDI 1.0, Table I


class KeysDown(msgspec.Struct, frozen=True):
    """Keys in play: those held down, and all struck since no key was down."""

    down: frozenset[int] = frozenset()
    struck: tuple[int, ...] = ()

    @property
    def is_done(self) -> bool:
        """Return whether notes were struck and all are released."""
        return bool(self.struck) and not self.down


def touched(hands: KeysDown, message: bytes) -> KeysDown:
    """Return the hands after one MIDI message. Only notes count. After finished hands, new ones begin."""
    if len(message) != 3:
        return hands
    kind, note, velocity = message[0] & 0xF0, message[1], message[2]
    if kind == NOTE_ON and velocity:
        struck = () if hands.is_done else hands.struck
        return KeysDown(hands.down | {note}, (*struck, note))
    if kind in (NOTE_ON, NOTE_OFF):
        return KeysDown(hands.down - {note}, hands.struck)
    return hands


def can_be_played(card: Card) -> bool:
    """Return whether a card can be answered on the keyboard: a key by its tonic, a chord by its notes."""
    return (card.asks is Subject.KEY and card.key is not None) or (
        card.asks is Subject.CHORD and card.chord is not None
    )


def judge_played(card: Card, notes: tuple[int, ...], seconds: float) -> Grade:
    """Judge played notes: the key's tonic in any octave, or the chord in any inversion and doubling.

    A slash chord's bass may be missing, and a perfect fifth where three notes remain. Where the hands' key differs from
    the sounding one, either is right: the keyboard at home may or may not be retuned.
    """
    tuned = 0
    if card.song.key and card.song.fingered_in:
        tuned = card.song.key.tonic.semitone - card.song.fingered_in.tonic.semitone
    right = any(_is_right(card, frozenset((note + moved) % 12 for note in notes)) for moved in (0, tuned))
    if not right:
        return Grade.WRONG
    return Grade.AT_ONCE if seconds <= QUICK_S else Grade.RIGHT


def _is_right(card: Card, played: frozenset[int]) -> bool:
    if card.asks is Subject.KEY and card.key is not None:
        return played == {card.key.tonic.semitone}
    if card.asks is Subject.CHORD and card.chord is not None:
        upper = msgspec.structs.replace(card.chord, bass=None)
        fifth = {(upper.root.semitone + 7) % 12} if upper.root else set()
        ways = {card.chord.pitch_classes, upper.pitch_classes}
        ways |= {way - fifth for way in ways if len(way - fifth) >= 3}
        return bool(played) and played in ways
    return False
