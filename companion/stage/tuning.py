"""Tonight's keys: the one the song sounds in, the one the hands play in, and how far the keyboards are transposed.

The band may play a song higher or lower than written. If every keyboard of the song can be retuned, the keyboards
follow and the hands stay; otherwise none is retuned and the hands move, since nobody can play in two keys at once.
``fingered_in`` is set before the song, by the program or by hand.
"""

from typing import Final

from msgspec.structs import replace

from companion.music import Key
from companion.rig import HowTransposed
from companion.show import SectionChords, SongKeys, chords_on, song_keys
from companion.stage.state import State

C_MAJOR: Final = Key.signed(0)


def hands_move(state: State) -> bool:
    """Return whether the hands follow the band's shift because a keyboard of this song cannot be retuned."""
    song, boards = state.song, state.book.rig.keyboards
    sounding = {number for one in song.sections for number, on in enumerate(one.sounds) if on} if song else set()
    used = sounding or range(len(boards))
    return not boards or any(boards[number].transpose is HowTransposed.NONE for number in used)


def with_hands_moving(state: State) -> State:
    """Return this state for keyboards that cannot be retuned by message."""
    boards = tuple(replace(board, transpose=HowTransposed.NONE) for board in state.book.rig.keyboards)
    return replace(state, book=replace(state.book, rig=replace(state.book.rig, keyboards=boards)))


def tuning_due(state: State) -> int:
    """Return how many semitones above the hands the keyboards must sound: the band's shift plus ``fingered_in``.

    A section's own key does not count: there the hands move.
    """
    shift = 0 if not state.shift or hands_move(state) else state.shift
    song = state.song.song if state.song else None
    if song is None or song.key is None or song.fingered_in is None:
        return shift
    apart = song.key.tonic.semitone - song.fingered_in.tonic.semitone
    return (apart + 6) % 12 - 6 + shift


def keys_tonight(state: State) -> SongKeys:
    """Return the keys of the current song, with the band's shift."""
    if state.song is None:
        return SongKeys()
    return song_keys(state.song.song, state.shift, state.shift if state.shift and hands_move(state) else 0)


def chords_tonight(state: State) -> tuple[SectionChords, ...]:
    """Return the chords and keys of each section of the current song; empty if there is none.

    In a song without a key, letter chords move as if from C, which has no key signature: only the distance counts.
    """
    if state.song is None:
        return ()
    song = state.song.song
    if song.key is not None or not state.shift:
        return chords_on(song, keys_tonight(state))
    own = (section.key for section in song.road_map if section.key)
    assumed = replace(song, key=song.chords_in or next(own, C_MAJOR))
    sections = chords_on(assumed, song_keys(assumed, state.shift, state.shift if hands_move(state) else 0))
    known = next((number for number, section in enumerate(song.road_map) if section.key), len(sections))
    return (*(replace(one, sounds=None) for one in sections[:known]), *sections[known:])
