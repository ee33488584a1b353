"""A song's fields as they are typed on a page: their words, the value now, and the edits that a new text means."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from typing import Any, Final

import msgspec

from companion.changes import Change
from companion.edits import Edit, OneLine, Remove, SetValue
from companion.edits.key_edits import edits_beside_key
from companion.errors import CompanionError
from companion.files import Table
from companion.music import NotMusic, read_key, read_meter, read_tempo, shown_length
from companion.pages.desk import SongOnDesk, Stack
from companion.show import Begins, Ending, Song, SoundCall, Steps
from companion.show.ratings import rated

LONGEST: Final = 5_000  # characters: the longest text that a show file takes (its notes)


class FieldRefused(CompanionError):  # noqa: N818  reads better than an Error
    """What was typed does not fit the field; nothing was changed."""


class ChangedMeanwhile(CompanionError):  # noqa: N818  same
    """The field no longer has the value that the page showed when typing began."""

    def __init__(self, now: str) -> None:
        self.now = now
        super().__init__(f"this was changed elsewhere to {now or 'nothing'}")


class SongField(msgspec.Struct, frozen=True):
    """One field: its key in the file, its words on the page, its text now, and the value that a typed text means.

    ``choices``: the words it may have; empty for free text.
    """

    key: str
    label: str
    shown: Callable[[Any], str]  # of a song, or of a section
    value: Callable[[str], object]
    hint: str = ""
    choices: tuple[str, ...] = ()
    labels: dict[str, str] = {}  # of choices on the page, where the word in the file does not say enough
    is_long: bool = False
    is_flag: bool = False  # yes or nothing: a box to tick


def _music(read: Callable[[str], object]) -> Callable[[str], object]:
    def value(typed: str) -> object:
        try:
            return read(typed)
        except NotMusic as wrong:
            raise FieldRefused(str(wrong)) from wrong

    return value


def _rating(key: str) -> Callable[[str], object]:
    def value(typed: str) -> object:
        if typed not in ("0", "1", "2", "3", "4", "5"):
            raise FieldRefused(f"0 to 5, please: {rated(key)}")
        return int(typed)

    return value


def _tempo(typed: str) -> object:
    bpm = read_tempo(typed)
    return int(bpm) if bpm.is_integer() else bpm


def yes_value(typed: str) -> object:
    """Return the value of a ticked box. Raises FieldRefused."""
    if typed != "yes":
        raise FieldRefused("yes, or nothing")
    return True


def yes_shown(name: str) -> Callable[[Any], str]:
    """Return what shows a flag of a song or a section as yes, or nothing."""
    return lambda part: "yes" if getattr(part, name) else ""


def _chart_shown(song: Song) -> str:
    return {True: "yes", False: "no", None: ""}[song.chart] if not isinstance(song.chart, str) else song.chart


def _chart(typed: str) -> object:
    return {"yes": True, "no": False}.get(typed.casefold(), typed)


def one_of(choices: Sequence[str]) -> Callable[[str], object]:
    """Return what takes one of these words. It raises FieldRefused for any other."""

    def value(typed: str) -> object:
        if typed not in choices:
            raise FieldRefused(f"one of these, please: {', '.join(choices)}")
        return typed

    return value


def sounds_text(calls: Sequence[SoundCall]) -> str:
    """Return sounds as they are typed: ``strings``, or ``lower=strings @upper=lead`` where keyboards are named."""
    return " @".join(f"{call.keyboard}={call.sound}" if call.keyboard else call.sound for call in calls)


def sounds_value(typed: str) -> object:
    """Return the value that typed sounds mean. Raises FieldRefused."""
    calls = [part.strip() for part in typed.lstrip("@").split("@")]
    if len(calls) == 1 and "=" not in calls[0]:
        return calls[0]
    found: dict[str, object] = {}
    for call in calls:
        keyboard, named, sound = (part.strip() for part in call.partition("="))
        if not (keyboard and named and sound) or keyboard in found:
            raise FieldRefused("with several sounds, each needs its keyboard: upper=lead @lower=strings")
        found[keyboard] = sound
    return OneLine(found)


def _text(name: str) -> Callable[[Song], str]:
    return lambda song: str(getattr(song, name) if getattr(song, name) is not None else "")


def _word(name: str) -> Callable[[Song], str]:
    return lambda song: getattr(song, name).value if getattr(song, name) is not None else ""


def _as_typed(typed: str) -> object:
    return typed


ENDINGS: Final = tuple(one.value for one in Ending)
BEGINS: Final = tuple(one.value for one in Begins)
STEPS: Final = tuple(one.value for one in Steps)
BEGINS_LABELS: Final = {Begins.NEXT.value: "when you press next", Begins.FIRST_NOTE.value: "on your first note"}
STEPS_LABELS: Final = {Steps.BY_FOOT.value: "by your foot", Steps.BY_BARS.value: "by counted bars"}
CHANGES: Final = tuple(one.value for one in Change)


def key_value(typed: str) -> object:
    """Return a key as it is written in a file. Raises FieldRefused."""
    return _music(lambda text: str(read_key(text)))(typed)


FIELDS: Final = {
    one.key: one
    for one in (
        SongField("title", "Title", _text("title"), _as_typed),
        SongField("artist", "Artist", _text("artist"), _as_typed),
        SongField("key", "Key", _text("key"), key_value, "Bb or F#m"),
        SongField("record_key", "Key on the record", _text("record_key"), key_value, "C"),
        SongField("fingered_in", "Hands play in", _text("fingered_in"), key_value, "C"),
        SongField("chords_in", "Chords written in", _text("chords_in"), key_value, "C"),
        SongField(
            "tempo",
            "Tempo",
            lambda song: f"{song.tempo_bpm:.3f}".rstrip("0").rstrip(".") if song.tempo_bpm else "",
            _music(_tempo),
            "112",
        ),
        SongField("meter", "Meter", _text("meter"), _music(lambda typed: str(read_meter(typed))), "4/4"),
        SongField(
            "length", "Length", lambda song: shown_length(song.length_s) if song.length_s else "", _as_typed, "3:40"
        ),
        SongField("starts_with", "Who starts", _text("starts_with"), _as_typed, "keys, drums, all"),
        SongField("count_off", "Count-off", _text("count_off"), _as_typed, "one bar, sticks"),
        SongField(
            "begins", "First section begins", _word("begins"), one_of(BEGINS), choices=BEGINS, labels=BEGINS_LABELS
        ),
        SongField("steps", "Sections move on", _word("steps"), one_of(STEPS), choices=STEPS, labels=STEPS_LABELS),
        SongField("ending", "Ending", _word("ending"), one_of(ENDINGS), choices=ENDINGS),
        SongField("segue", "Straight into", _text("segue"), _as_typed, "the next song's title"),
        SongField("sound", "Sound", lambda song: sounds_text(song.sounds), sounds_value, "strings"),
        SongField("change", "Sound changes", _word("change"), one_of(CHANGES), choices=CHANGES),
        SongField("tacet", "Tacet", yes_shown("tacet"), yes_value, is_flag=True),
        SongField("chart", "Chart", _chart_shown, _chart, "yes, no, or a file beside the show"),
        SongField("recording", "Recording", _text("recording"), _as_typed, "a file beside the show"),
        SongField("known", "Known", _text("known"), _rating("known"), rated("known")),
        SongField("hard", "Hard", _text("hard"), _rating("hard"), rated("hard")),
        SongField("first_words", "First words", _text("first_words"), _as_typed),
        SongField("notes", "Notes", _text("notes"), _as_typed, is_long=True),
    )
}
SOUND_ON: Final = "sound-on-"
"""What the key of one keyboard's sound begins with; the keyboard's number in the rig follows, from 0."""

COLUMNS: Final = ("key", "tempo", "known", "hard", "sound")
"""The fields that can be typed down the list."""

HOLDS_NOTHING: Final = ("title", "begins", "steps")
"""Fields that cannot be emptied: a song has a title, and begins and moves on somehow."""


def edits_for(stack: Stack, song: SongOnDesk, field: SongField, typed: str, was: str) -> tuple[Edit, ...]:
    """Return the edits that write a typed text into a song's field.

    ``was``: the text that the page showed. Raises FieldRefused, and ChangedMeanwhile if the field has another text now.
    """
    text = typed.strip()
    now = field.shown(song.song)
    if len(text) > LONGEST:
        raise FieldRefused(f"{len(text):,} characters are too many here: at most {LONGEST:,}")
    if not field.is_long and not text.isprintable():
        raise FieldRefused("one line of letters, please")
    if text == now:
        return ()
    if now != was.strip():
        raise ChangedMeanwhile(now)
    if not text:
        if field.key in HOLDS_NOTHING:
            raise FieldRefused(f"{field.label}: this cannot be empty")
        return (Remove((song.named, field.key)),)
    value = field.value(text)
    edit = SetValue((song.named, field.key), value)
    return (edit, *_beside_the_key(stack, song, str(value))) if field.key == "key" else (edit,)


def _beside_the_key(stack: Stack, song: SongOnDesk, key: str) -> Iterator[Edit]:
    """Yield what keeps a song's letters and notes right in its new key; a songbook's belong to the songbook's key."""
    node = stack.read.places.node(song.song)
    if not isinstance(node, Table):
        return
    here = {of: entry for of, entry in node.entries.items() if entry[1].source.path == str(stack.file.path)}
    own = Table(here, node.source, node.line, node.column)
    yield from edits_beside_key(song.named, song.song, msgspec.structs.replace(song.song, key=read_key(key)), own)


def says_of(song: SongOnDesk, field: SongField, typed: str, section: int | None = None) -> str:
    """Return the words of this change in undo and redo."""
    title = song.song.title
    if section is not None and 0 <= section < len(song.song.road_map):
        title = f"{title}, {song.song.road_map[section].name}"
    words = " ".join(typed.split())
    with suppress(FieldRefused):
        value = field.value(words) if words else words
        words = field.labels.get(value, value) if isinstance(value, str) else words  # bb was typed, and Bb is written
    short = words if len(words) <= 40 else f"{words[:39]}…"
    return f"{title}: {field.label.lower()} {short}" if words else f"{title}: no {field.label.lower()}"
