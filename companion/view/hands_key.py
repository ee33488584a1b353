"""Key and chords as the hands need them: the section's key, tonight's shift, and hands that play in another key."""

from companion.music import Key
from companion.show.chords import written_elsewhere
from companion.stage import State, chords_tonight, hands_move, keys_tonight
from companion.view.glance import LIFT
from companion.view.short_words import shown_key


def keys_at(state: State, number: int) -> tuple[Key, Key] | None:
    """Return this section's (key that sounds, key that the hands play in); None if the key is unknown.

    ``number`` counts sections from 0; -1 asks for the song's own key.
    """
    on = chords_tonight(state)[number] if number >= 0 and state.song else keys_tonight(state)
    return (on.sounds, on.hands) if on.sounds and on.hands else None


def chords_at(state: State, number: int) -> tuple[str, str] | None:
    """Return (chords of this section as the hands play them, label); None if the section has no chords.

    The label is empty unless the chords cannot be transposed: then they stay as written, and it names that key; or
    unless they last longer or shorter than the section.
    """
    sections = chords_tonight(state)
    if not sections or not sections[number].text:
        return None
    on = sections[number]
    text = on.shown_in(on.hands)
    if text is None:
        return shown_key(on.text), f"as written, in {shown_key(str(on.written))}:"
    lasts = on.chords_for
    return shown_key(text), f"for {lasts} bar{'s' if lasts > 1 else ''}:" if lasts else ""


def written_words(state: State) -> tuple[str, ...]:
    """Return words for the key that the chords are written in, the longest first; empty if shown in that key."""
    hands = keys_tonight(state).hands
    written = written_elsewhere(state.song.song, hands) if state.song else None
    if not written:
        return ()
    there = shown_key(str(written))
    return f"chords written in {there}, shown in {shown_key(str(hands))}", f"written in {there}"


def key_words(sounds: Key, hands: Key) -> tuple[str, ...]:
    """Return the words for a key, the longest form first; the last one names only the key for the hands."""
    if sounds.tonic.semitone == hands.tonic.semitone:
        return (shown_key(str(sounds)),)
    return f"play {shown_key(str(hands))}, sounds {shown_key(str(sounds))}", f"play {shown_key(str(hands))}"


def shift_words(state: State, hands: Key, *, waits: bool, changes: bool = False) -> tuple[str, str]:
    """Return (who makes tonight's shift, the hands or the keyboard; what to play), both empty without a shift.

    ``waits``: the keyboard is tuned only when the hands lift. ``changes``: the section before was in another key.
    """
    return (
        (_who(state, waits=waits), f"{'now ' if changes else ''}play {shown_key(str(hands))}")
        if state.shift
        else ("", "")
    )


def shift_unknown(state: State, *, waits: bool) -> tuple[str, str]:
    """Return (who makes tonight's shift, how far) for a song whose key is unknown; both empty without a shift."""
    if not state.shift:
        return "", ""
    steps = abs(state.shift)
    how_far = f"{'a' if steps == 1 else steps} half step{'s' if steps > 1 else ''}"
    return _who(state, waits=waits), f"{how_far} {'up' if state.shift > 0 else 'down'}"


def _who(state: State, *, waits: bool) -> str:
    return "hands move:" if hands_move(state) else LIFT if waits else "keyboard tuned:"
