"""What was heard in a song's recording, beside what is written: each part is taken, changed or refused."""

import os
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

import msgspec

from companion import child
from companion.child import Ended
from companion.errors import UNREADABLE, CompanionError
from companion.listening.recording_place import place_at, seconds_at
from companion.pages.desk import SongOnDesk
from companion.pages.heard_apart import FIELDS, MAX_CPU_S, MAX_MEMORY, HeardPart, HeardRequest, HeardSong
from companion.pages.markup import Html, tag
from companion.pages.named_downbeats import NamedDownbeats
from companion.pages.section_fields import MAP_FIELD
from companion.pages.song_fields import FIELDS as SONG_FIELDS
from companion.pages.visitor import closed_folder, keep
from companion.regular import is_regular, read_regular
from companion.show.chords import record_letters_key

REFUSED: Final = (
    "refused-drafts.json"  # in the room's own folder: a sound and a field, "refused" parts of what was heard
)
NO_LETTERS: Final = "Chords were heard too. To take them, write the key on the record first."
MAX_REFUSED: Final = 2_000
MAX_BYTES: Final = 1024 * 1024
MAX_SONGS: Final = 100  # remembered while the program runs
HearingAsked = tuple[str, int, int, tuple[float, ...], str]
"""A recording's path, size and time; where bars begin; and what is written of the song."""
NOT_HEARD_S: Final = 20.0  # how long to believe that a recording was not listened to yet


def heard_apart(request: HeardRequest) -> HeardSong:
    """Ask the process that reads what was heard; nothing if its libraries are missing, or it cannot read it."""
    command = child.python("companion.pages.heard_apart")
    try:
        answer = child.ask(
            command, msgspec.json.encode(request), max_s=MAX_CPU_S, max_memory=MAX_MEMORY, max_cpu_s=MAX_CPU_S
        )
        return msgspec.json.decode(answer.out, type=HeardSong) if answer.ended is Ended.WELL else HeardSong()
    except (OSError, *UNREADABLE, msgspec.MsgspecError):
        return HeardSong()


class HeardDrafts:
    """The drafts of the songs that were opened, and what the player has refused of them. Any thread may call it."""

    def __init__(self, folder: Path, ask: Callable[[HeardRequest], HeardSong] = heard_apart) -> None:
        self._folder = folder
        self._named = NamedDownbeats(folder)
        self._ask = ask
        self._alone = threading.Lock()
        self._heard: dict[HearingAsked, tuple[HeardSong, float]] = {}

    def listen(self, show: Path, one: SongOnDesk) -> HeardSong:
        """Return what was heard in the song's recording; it takes a second or two, the first time."""
        there = _recording(show, one)
        if there is None:
            return HeardSong()
        song = one.song
        written = repr((song.record_key, song.tempo_bpm, song.meter))
        with self._alone:
            downbeats = self._named.of(there)
            name = (*there, downbeats, written)
            found, at = self._heard.get(name, (HeardSong(), -NOT_HEARD_S))
            if not found.sound and time.monotonic() - at >= NOT_HEARD_S:
                where = (os.fsencode(show.absolute()), one.set_at, one.song_at)
                found = self._ask(HeardRequest(os.fsencode(there[0]), *where, downbeats))
                if len(self._heard) >= MAX_SONGS:
                    self._heard.clear()
                self._heard[name] = found, time.monotonic()
            return found

    @property
    def refused(self) -> frozenset[str]:
        """What the player has refused: a sound and a field each."""
        try:
            raw = read_regular(self._folder / "pages" / REFUSED, MAX_BYTES)
            return frozenset(msgspec.json.decode(raw, type=list[str]))
        except (OSError, *UNREADABLE, msgspec.MsgspecError):
            return frozenset()

    def refuse(self, show: Path, one: SongOnDesk, field: str) -> None:
        """Refuse a part for good; an empty ``field`` offers all parts of the song again. Raises CompanionError."""
        sound = self.listen(show, one).sound
        if not sound or (field and field not in FIELDS.values()):
            raise CompanionError("nothing of this kind was heard")
        with self._alone:
            now = [each for each in sorted(self.refused) if field or not each.startswith(f"{sound} ")]
            closed_folder(self._folder)
            keep(self._folder / "pages" / REFUSED, [*now, *([f"{sound} {field}"] if field else [])][-MAX_REFUSED:])

    def name_downbeat(self, show: Path, one: SongOnDesk, typed: str, *, is_out: bool = False) -> None:
        """Note a place where a bar begins in the song's recording, or take it out. Raises CompanionError."""
        there = _recording(show, one)
        if there is None:
            raise CompanionError("this song has no recording beside the show")
        with self._alone:
            self._named.change(there, seconds_at(typed), is_out=is_out)

    def html(self, show: Path, one: SongOnDesk, *, is_read_only: bool = False) -> Html:
        """Return what was heard, beside what is written; hidden for a song without a recording.

        ``is_read_only``: nothing can be taken.
        """
        if not one.song.recording:
            return heard_html(is_hidden=True)
        heard = self.listen(show, one)
        if not heard.sound:
            words = "Not listened to yet. In a terminal, companion hear drafts key, tempo and road map."
            return heard_html(tag("p", words, class_="pencil"))
        refused = self.refused
        parts = [part for part in heard.parts if f"{heard.sound} {part.field}" not in refused]
        out = len(heard.parts) - len(parts)
        again = tag("button", f"Show what you refused ({out})", type="button", data_refuse="", id="heard-again")
        there = _recording(show, one)
        return heard_html(
            tag("ul", *(_part(one, part, is_read_only=is_read_only) for part in parts))
            if parts
            else tag("p", "Nothing more.", class_="pencil"),
            again if out else None,
            _downbeats_html(one, self._named.of(there) if there else ()),
        )


def heard_html(*inside: Html | None, is_hidden: bool = False) -> Html:
    """Return the place on a sheet for what was heard; the page fills it when the sheet is open."""
    return tag(
        "fieldset", tag("legend", "Heard on the recording"), *inside, id="heard", class_="heard", hidden=is_hidden
    )


def _downbeats_html(one: SongOnDesk, downbeats: tuple[float, ...]) -> Html:
    """Return the form to enter where a bar begins, and the places entered so far."""
    name = f"downbeat-{one.mark}"
    items = (
        tag(
            "li",
            f"A bar begins at {place_at(at_s)}. ",
            tag(
                "button",
                "Take out",
                tag("span", f" {place_at(at_s)}", class_="unseen"),
                type="button",
                data_downbeat="out",
                data_value=f"{at_s:g}",
            ),
        )
        for at_s in downbeats
    )
    label = tag(
        "label",
        tag("span", "Do the bars begin elsewhere? One begins at"),
        " ",
        tag("input", id=name, placeholder="1:12.4"),
    )
    return tag(
        "div",
        label,
        " ",
        tag("button", "Move the bars", type="button", data_downbeat="add", data_from=name),
        tag(
            "p",
            tag("button", "Play it", type="button", data_play="begin"),
            tag("button", "A bar begins now", type="button", data_downbeat="now"),
            tag("button", "Stop", type="button", data_play="stop"),
            class_="buttons",
        ),
        tag("p", id="downbeat-slip", class_="slip"),
        tag("ul", *items) if downbeats else None,
        class_="downbeats",
    )


def _recording(show: Path, one: SongOnDesk) -> tuple[str, int, int] | None:
    """Return a recording's path, size and time, by which it is known again; None if there is no such file."""
    recording = one.song.recording
    if not recording or "://" in recording:
        return None
    path = show.absolute().parent / recording
    with suppress(OSError, ValueError):
        if is_regular(path):
            there = path.stat()
            return str(path), there.st_size, there.st_mtime_ns
    return None


def _part(one: SongOnDesk, part: HeardPart, *, is_read_only: bool) -> Html:
    field = MAP_FIELD if part.field == MAP_FIELD.key else SONG_FIELDS[part.field]
    written, name = field.shown(one.song), f"heard-{part.field}-{one.mark}"
    label = tag("span", field.label if part.is_sure else f"{field.label}?")
    is_bare = bool(part.bare) and part.bare != part.value and record_letters_key(one.song) is None
    value = part.bare if is_bare else part.value
    typed = (
        tag("textarea", value, id=name, rows=min(value.count("\n") + 1, 12))
        if field.is_long
        else tag("input", id=name, value=value)
    )
    agrees = written.strip() == value.strip()
    take = "Write this instead" if written else "Take it"
    unseen = tag("span", f" {field.label}", class_="unseen")
    buttons = (
        tag("button", take, unseen, type="button", data_put_from=name, data_for=f"{part.field}-{one.mark}"),
        tag("button", "Refuse it", unseen, type="button", data_refuse=part.field),
    )
    beside = "As written." if agrees else f"Written: {written}" if written else "Nothing is written."
    return tag(
        "li",
        tag("label", label, " ", typed),
        *(tag("p", f"Doubtful: {doubt}", class_="pencil") for doubt in part.doubts),
        tag("p", NO_LETTERS, class_="pencil") if is_bare else None,
        tag("p", beside, class_="pencil written"),
        tag("p", *buttons, class_="buttons") if not (agrees or is_read_only) else None,
        class_="sure" if part.is_sure else "doubtful",
    )
