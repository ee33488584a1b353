"""The key as the hands need it: the section's, tonight's shift, and where the fingers are in another one."""

from companion.music import Key
from companion.show import Section, Song
from companion.stage import State

from .words import shown_key


def key_in(song: Song, written: tuple[Section, ...], number: int) -> Key | None:
    """Tell the key of a section: the last one written up to it (a signature holds until the next), else the song's."""
    own = (section.key for section in reversed(written[: number + 1]))
    return next((key for key in own if key is not None), song.key)


def keys_at(state: State, number: int) -> tuple[Key, Key] | None:
    """Give the key that sounds in this section of the song that is on, and the key that the hands play it in.

    A keyboard that can be tuned takes the band's shift upon itself, else the hands move; ``fingered_in`` is tuned by
    the program or by hand.
    """
    if state.song is None:
        return None
    song = state.song.song
    written = key_in(song, tuple(one.section for one in state.song.sections), number)
    if written is None:
        return None
    hands = written
    if song.fingered_in is not None and song.key is not None:
        hands = song.fingered_in.transposed(written.tonic.semitone - song.key.tonic.semitone)
    tuned = any(board.transpose.value != "none" for board in state.book.rig.keyboards)
    return written.transposed(state.shift), hands if tuned else hands.transposed(state.shift)


def key_words(sounds: Key, hands: Key) -> tuple[str, ...]:
    """Say the key, then only how the hands say it."""
    if sounds.tonic.semitone == hands.tonic.semitone:
        return (shown_key(str(sounds)),)
    return f"play {shown_key(str(hands))}, sounds {shown_key(str(sounds))}", f"play {shown_key(str(hands))}"
