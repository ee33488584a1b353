"""Kinds of values in a show file: keys, meters, tempos, sounds, charts, and texts that a # may cut off."""

import re
from typing import Any

from companion.files import InvalidValue, Items, Node, Reading, Scalar, Table, Text, ValueKind, plain, shown, words
from companion.files.kinds import YES_OR_NO, Schema
from companion.files.nodes import place_within
from companion.music import NotMusic, read_key, read_meter, read_tempo
from companion.music.tempo import FASTEST_BPM, SLOWEST_BPM
from companion.show.model import SoundCall

SOUND_NAME = 80  # characters, like a title
SIGN = re.compile(r"#\S")  # a comment begins "# so"; what a # cuts off begins at once
SHARP_KEY = re.compile(r"#[\s-]*(m|min|minor|moll|maj|major|dur)?\s*(#.*)?$")
NUMBER = re.compile(r"#[0-9]")
WITH_POWER = re.compile(r"[0-9]{1,4}(\.[0-9]{1,3})?[eE][+-]?[0-9]$")


class CutByHash(ValueKind[Any]):
    """A text that YAML cuts off at a # after a space, as a comment: warn of that."""

    def __init__(self, kind: ValueKind[Any], cuts: re.Pattern[str] = SIGN) -> None:
        self.description = kind.description
        self._kind = kind
        self._cuts = cuts

    def read(self, node: Node, reading: Reading) -> Any:  # noqa: ANN401  the inner kind's value
        """Check what was typed after the text, and read with the inner kind."""
        self.warn(node, reading)
        return self._kind.read(node, reading)

    def warn(self, node: Node, reading: Reading) -> None:
        """Warn if YAML cut off the end of a text."""
        if type(node) is Text and not node.style:
            line, column = node.line, node.column - 1 + len(node.text)
            raw = node.source.line(line)
            if not raw.startswith(node.text, node.column - 1):  # folded over several lines
                line, column = place_within(node, len(node.text))
                raw, column = node.source.line(line), column - 1
            behind = raw[column:].lstrip()
            if behind.startswith("#") and self._cuts.match(behind):
                spot = Text(behind, node.source, line, len(raw) - len(behind) + 1)
                if any((one.line, one.column) == (spot.line, spot.column) for one in reading.warnings):
                    return  # reported for the whole road map, and so for the chords at its end
                problem = f"{shown(behind)} is read as a comment, because of the space before the #"
                reading.warn(spot, problem, f"{shown(f'{node.text} {behind}'.strip(), 200)}, in quotes")

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Describe the inner kind."""
        return self._kind.schema(parts)


KEY = CutByHash(Scalar(read_key, plain(maxLength=40), "a key such as Bb or F#m", NotMusic), SHARP_KEY)
METER = Scalar(read_meter, plain(maxLength=10), "a meter such as 4/4", NotMusic)


def _tempo(text: str) -> float:
    if WITH_POWER.match(text):  # 1e3 is a number to YAML 1.2 and to its writer
        text = f"{float(text):.3f}".rstrip("0").rstrip(".")
    return read_tempo(text)


TEMPO = Scalar(
    _tempo,
    plain(["number", "string"], minimum=SLOWEST_BPM, maximum=FASTEST_BPM),
    "a tempo such as 112",
    NotMusic,
)
TITLE = CutByHash(words(200, description="its title"), NUMBER)
LINE = words(200)
NOTES = words(5000, lines=True)
RHYTHM = CutByHash(words(400))
CHORDS = CutByHash(words(4000, lines=True))


def _feature(text: str) -> str | None:
    known = YES_OR_NO.get(text.lower())
    return text if known is None else "feature" if known else None


def _chart(text: str) -> str | bool:
    known = YES_OR_NO.get(text.lower())
    if known is not None:
        return known
    if len(text) > 400 or not text.isprintable():
        raise InvalidValue(f"{shown(text)} is not a file's path", "a file beside the show, or yes or no")
    return text


FEATURE = Scalar(_feature, plain(["string", "boolean"], maxLength=200), "what people listen for, or yes")
CHART = Scalar(_chart, plain(["string", "boolean"], maxLength=400), "a file, or yes or no")


class SoundCalls(ValueKind[tuple[SoundCall, ...]]):
    """A sound by name, or one for each keyboard under the keyboard's name."""

    description = "a sound's name, or keyboard: sound for each keyboard"
    _name = words(SOUND_NAME)

    def read(self, node: Node, reading: Reading) -> tuple[SoundCall, ...] | None:
        """Return the sounds asked for, in written order."""
        if type(node) is Table:
            calls = []
            for typed, behind in node.entries.values():
                keyboard, sound = self._name.read(typed, reading), self._name.read(behind, reading)
                if sound is not None and keyboard is not None:
                    calls.append(SoundCall(sound, keyboard))
            return tuple(calls)
        if type(node) is Items:
            reading.fault(
                node, "sounds for several keyboards are listed under the keyboards' names", "{upper: ..., lower: ...}"
            )
            return None
        sound = self._name.read(node, reading)
        return None if sound is None else (SoundCall(sound),)

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Describe both ways of writing it."""
        name = self._name.schema(parts)
        return {"anyOf": [name, {"type": "object", "additionalProperties": name}]}


SOUNDS = SoundCalls()
