"""Rate the songs of a show by single keys: how well each is known, how hard it is, which sound begins it. Pure."""

import enum
from collections import Counter
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

import msgspec

from companion.show import Show, Song, SoundCall
from companion.show.opening_sound import first_sounds
from companion.show.titles import folded

KNOWS: Final = 5  # a song that could be played tonight: how hard it is may stay open
DIGITS: Final = tuple("0123456789")
ON_A_PAGE: Final = 9  # sounds that the digits choose from


class RatingStep(enum.Enum):
    """What is asked about a song; the value is its key in the show file."""

    KNOWN = "known"
    HARD = "hard"
    SOUND = "sound"


class RatePress(enum.Enum):
    """The player's commands; the value is the help text."""

    SKIP = "leave it as it is"
    SKIP_SONG = "next song"
    BACK = "back"
    UNDO = "undo the last answer"
    MORE = "more sounds"
    STOP = "stop; what you answered is kept"


RATE_KEYS: Final[Mapping[str, RatePress]] = {
    "space": RatePress.SKIP,
    "enter": RatePress.SKIP,
    "right": RatePress.SKIP,
    "n": RatePress.SKIP_SONG,
    "down": RatePress.SKIP_SONG,
    "b": RatePress.BACK,
    "left": RatePress.BACK,
    "backspace": RatePress.BACK,
    "u": RatePress.UNDO,
    "m": RatePress.MORE,
    "q": RatePress.STOP,
    "escape": RatePress.STOP,
}


class RateAnswer(msgspec.Struct, frozen=True):
    """One answer: the number or the sound for a song. ``before``: the value that it replaces."""

    title: str
    rates: RatingStep
    value: int | str
    before: int | str | None


class Rating(msgspec.Struct, frozen=True):
    """A sitting: the songs in show order, each once, and the current step, counted from 0, three a song.

    ``sounds`` are offered in this order throughout, so that fingers learn the digits. ``asks``: the questions of this
    sitting; every song with an open one is asked all of them, so that fingers keep their rhythm. ``done`` are the steps
    answered in this sitting, the last one last. ``before``: how well songs are known from earlier shows, by folded
    title; this is not open.
    """

    songs: tuple[Song, ...]
    sounds: tuple[str, ...]
    asks: tuple[RatingStep, ...] = tuple(RatingStep)
    step: int = 0
    page: int = 0
    done: tuple[int, ...] = ()
    before: Mapping[str, int] = {}

    @property
    def is_over(self) -> bool:
        """Whether every step was answered or passed."""
        return self.step >= len(self.songs) * len(RatingStep)

    @property
    def song(self) -> Song:
        """The song in question."""
        return self.songs[self.step // len(RatingStep)]

    @property
    def rates(self) -> RatingStep:
        """The fact in question."""
        return tuple(RatingStep)[self.step % len(RatingStep)]

    @property
    def number(self) -> int:
        """The song's number, from 1."""
        return self.step // len(RatingStep) + 1

    @property
    def offered(self) -> tuple[str, ...]:
        """The sounds on this page, for the digits from 1."""
        return self.sounds[self.page * ON_A_PAGE : (self.page + 1) * ON_A_PAGE]

    @property
    def is_in_road_map(self) -> bool:
        """Whether the road map's first section has its own sound, which a sound of the song would not change."""
        return self.rates is RatingStep.SOUND and first_sounds(self.song) != tuple(
            call.sound for call in self.song.sounds
        )

    def answer_to(self, key: str) -> RateAnswer | None:
        """Return the answer for a key; None if it is not an answer."""
        if key not in DIGITS:
            return None
        digit = int(key)
        before = value_of(self.song, self.rates)
        if self.rates is RatingStep.SOUND:
            if not 1 <= digit <= len(self.offered) or self.is_in_road_map:
                return None
            return RateAnswer(self.song.title, self.rates, self.offered[digit - 1], before)
        return RateAnswer(self.song.title, self.rates, digit, before) if digit <= KNOWS else None

    def answered(self, answer: RateAnswer) -> "Rating":
        """Return the sitting after an answer was written."""
        songs = list(self.songs)
        songs[self.step // len(RatingStep)] = _with_value(self.song, answer)
        return msgspec.structs.replace(self, songs=tuple(songs), done=(*self.done, self.step)).onward()

    def reread(self, show: Show) -> "Rating":
        """Return the sitting with the songs as the file has them now; one that is gone stays until its question."""
        now = {folded(song.title): song for one in reversed(show.sets) for song in reversed(one.songs)}
        return msgspec.structs.replace(self, songs=tuple(now.get(folded(song.title), song) for song in self.songs))

    def pressed(self, press: RatePress) -> "Rating":
        """Return the sitting after a command. Undo goes back to the last answer's step; then ``reread`` the file."""
        match press:
            case RatePress.SKIP:
                return self.onward()
            case RatePress.SKIP_SONG:
                last = self.step - self.step % len(RatingStep) + len(RatingStep) - 1
                return msgspec.structs.replace(self, step=last).onward()
            case RatePress.BACK:
                return msgspec.structs.replace(self, step=max(0, self.step - 1), page=0)
            case RatePress.UNDO if self.done:
                return msgspec.structs.replace(self, step=self.done[-1], done=self.done[:-1], page=0)
            case RatePress.MORE if self.rates is RatingStep.SOUND:
                pages = -(-len(self.sounds) // ON_A_PAGE) or 1
                return msgspec.structs.replace(self, page=(self.page + 1) % pages)
        return self

    def onward(self) -> "Rating":
        """Return the sitting at the next question: the song's own, then those of songs with an open one; or over."""
        end = len(self.songs) * len(RatingStep)
        step = next((step for step in range(self.step + 1, end) if self._is_asked(step)), end)
        return msgspec.structs.replace(self, step=step, page=0)

    def _is_asked(self, step: int) -> bool:
        first = step - step % len(RatingStep)
        is_own = first <= self.step < first + len(RatingStep)
        is_due = is_own or any(self._is_open(one) for one in range(first, first + len(RatingStep)))
        return is_due and tuple(RatingStep)[step % len(RatingStep)] in self.asks

    def _is_open(self, step: int) -> bool:
        song, rates = self.songs[step // len(RatingStep)], tuple(RatingStep)[step % len(RatingStep)]
        known = song.known if song.known is not None else self.before.get(folded(song.title))
        if rates is RatingStep.KNOWN:
            return known is None
        return value_of(song, rates) is None and not (rates is RatingStep.HARD and known == KNOWS)

    def beginning(self) -> "Rating":
        """Return the sitting at its first question, with the questions that are open for any song; all if none is."""
        steps = (step for step in range(len(self.songs) * len(RatingStep)) if self._is_open(step))
        open_ones = {tuple(RatingStep)[step % len(RatingStep)] for step in steps}
        asks = tuple(one for one in RatingStep if not open_ones or one in open_ones)
        begun = msgspec.structs.replace(self, asks=asks, step=-1).onward()
        return msgspec.structs.replace(begun, step=0) if begun.is_over and self.songs else begun

    @property
    def open_steps(self) -> int:
        """How many steps are open."""
        return sum(self._is_open(step) for step in range(len(self.songs) * len(RatingStep)))


def rating_of(show: Show, sounds: Iterable[str] = (), before: Mapping[str, int] = MappingProxyType({})) -> Rating:
    """Return a sitting that begins at the first song with an open question; at the first of all if none is open.

    ``sounds``: those of the rig, offered after the ones that the show uses. ``before``: as in a sitting.
    """
    seen: set[str] = set()
    songs: list[Song] = []
    used: Counter[str] = Counter()
    for song in (song for one in show.sets for song in one.songs):
        if not song.tacet and folded(song.title) not in seen:
            seen.add(folded(song.title))
            songs.append(song)
            used.update(first_sounds(song))
    offered = dict.fromkeys((*(name for name, _ in used.most_common()), *sounds))
    return Rating(tuple(songs), tuple(offered), before=before).beginning()


def value_of(song: Song, rates: RatingStep) -> int | str | None:
    """Return what the show says; None if it is open."""
    match rates:
        case RatingStep.KNOWN:
            return song.known
        case RatingStep.HARD:
            return song.hard
        case RatingStep.SOUND:
            return ", ".join(first_sounds(song)) or None


def _with_value(song: Song, answer: RateAnswer) -> Song:
    if answer.rates is RatingStep.SOUND:
        return msgspec.structs.replace(song, sounds=(SoundCall(str(answer.value)),))
    return msgspec.structs.replace(song, **{answer.rates.value: answer.value})
