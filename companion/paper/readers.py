"""The reader of a chart: the player's name, the pitch that the part is written in, letters or numbers."""

from collections.abc import Sequence
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.files import nearest_or_all
from companion.music import PART_OF_INSTRUMENT, Key, Mode, NotMusic, PartPitch, read_key, written_key
from companion.show import Song

KEYS: Final = "keys"
GUITAR: Final = "guitar"
CONCERT_TOO: Final = ("C", "drums", "singer")
_PARTS: Final = {
    **PART_OF_INSTRUMENT,
    **{part.value: part for part in PartPitch},
    KEYS: PartPitch.CONCERT,
    **dict.fromkeys(CONCERT_TOO, PartPitch.CONCERT),
    "bass": PartPitch.CONCERT,
}


class ChartReader(msgspec.Struct, frozen=True):
    """The player who reads a chart. Only the keys' own chart shows sounds and features."""

    name: str
    part: PartPitch = PartPitch.CONCERT
    in_numbers: bool = False
    capo: int = 0  # the fret; the chart shows shapes, this many semitones below concert pitch

    @property
    def is_keys(self) -> bool:
        """Whether this is the keyboard player's own chart."""
        return self.name == KEYS

    @property
    def shown(self) -> str:
        """The name printed on the chart: keys, Bb part, tenor sax in Bb."""
        if self.name in (self.part.value, "C"):
            return f"{self.name} part"
        return self.name if self.part is PartPitch.CONCERT else f"{self.name} in {self.part.value}"

    def reads(self, concert: Key) -> Key:
        """Return the key on this player's chart. Numbers count from the concert key, or from the capo shapes' key."""
        return (concert if self.in_numbers else written_key(concert, self.part)).transposed(-self.capo)

    def counts_from(self, key: Key) -> Key:
        """Return the key whose tonic is 1 for this player; for a minor concert key or a mode, its relative major."""
        key = key.transposed(-self.capo)
        return key if key.mode is Mode.MAJOR else key.relative


class NoReader(CompanionError):  # noqa: N818 - named like NoStage
    """There is no such part."""


def readers_for(players: Sequence[str], *, in_numbers: bool, capo: int) -> tuple[ChartReader, ...]:
    """Return the requested readers, or the keys; a capo applies to the guitars among them. Raises NoReader."""
    readers = tuple(reader_for(player, in_numbers=in_numbers, capo=capo) for player in players or (KEYS,))
    if capo and not any(reader.capo for reader in readers):
        raise NoReader(f"a capo is for a guitar. Write: --for {GUITAR} --capo {capo}")
    return readers


def reader_for(wanted: str, *, in_numbers: bool = False, capo: int = 0) -> ChartReader:
    """Return the reader of a part (C, Bb, Eb, F) or of an instrument by its name. Raises NoReader."""
    folded = {name.casefold(): name for name in _PARTS}
    word = wanted.strip().replace("♭", "b").casefold()
    if word not in folded:
        alike = nearest_or_all(wanted, ("C", "Bb", "Eb", "F", *(name for name in _PARTS if len(name) > 2)))
        raise NoReader(f'there is no part for "{wanted}". Write: --for {alike}')
    name = folded[word]
    return ChartReader(name, _PARTS[name], in_numbers, capo if name == GUITAR else 0)


def requested_key(song: Song, wanted: str) -> Key:
    """Return the requested key of a song. Raises NoReader if it is not a key, or is minor for a song in major."""
    try:
        key = read_key(wanted)
    except NotMusic as fault:
        raise NoReader(f"{fault.problem}. Write: --key {fault.write}") from None
    if song.key is not None and song.key.mode is not key.mode:
        moved = song.key.transposed(key.tonic.semitone - song.key.tonic.semitone)
        raise NoReader(f'{song.title} is in {song.key}, not in a {key.mode.value} key. Write: --key "{moved}"')
    return key
