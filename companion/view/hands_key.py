"""The key and the chords as the hands need them: the section's, tonight's shift, and fingers in another key."""

from companion.music import Key
from companion.show.chords import written_elsewhere
from companion.stage import State, chords_tonight, hands_move, keys_tonight
from companion.view.short_words import shown_key


def keys_at(state: State, number: int) -> tuple[Key, Key] | None:
    """Return the key that sounds in this section of the song that is on, and the one that the hands play it in.

    Before the first section, -1, it is the song's own.
    """
    on = chords_tonight(state)[number] if number >= 0 and state.song else keys_tonight(state)
    return (on.sounds, on.hands) if on.sounds and on.hands else None


def chords_at(state: State, number: int) -> tuple[str, str] | None:
    """Return the chords of this section as the hands play them, and what to say of them.

    That is nothing but where nobody can read them: they stand as they are written then, in whatever key that was.
    """
    sections = chords_tonight(state)
    if not sections or not sections[number].text:
        return None
    on = sections[number]
    text = on.shown_in(on.hands)
    return (
        (shown_key(on.text), f"as written, in {shown_key(str(on.written))}:") if text is None else (shown_key(text), "")
    )


def written_words(state: State) -> tuple[str, ...]:
    """Say once in which key the chords of a song are written, where they are shown in another; shorter forms last."""
    hands = keys_tonight(state).hands
    written = written_elsewhere(state.song.song, hands) if state.song else None
    if not written:
        return ()
    there = shown_key(str(written))
    return f"chords written in {there}, shown in {shown_key(str(hands))}", f"written in {there}"


def key_words(sounds: Key, hands: Key) -> tuple[str, ...]:
    """Say the key, then only how the hands say it."""
    if sounds.tonic.semitone == hands.tonic.semitone:
        return (shown_key(str(sounds)),)
    return f"play {shown_key(str(hands))}, sounds {shown_key(str(sounds))}", f"play {shown_key(str(hands))}"


def shift_words(state: State, hands: Key, *, changes: bool = False) -> tuple[str, str]:
    """Say who takes tonight's shift, the hands or the keyboard, and what to play; nothing where there is none.

    ``changes``: the section before was in another key.
    """
    return (_who(state), f"{'now ' if changes else ''}play {shown_key(str(hands))}") if state.shift else ("", "")


def shift_unknown(state: State) -> tuple[str, str]:
    """Say who takes tonight's shift of a song whose key nobody knows, and how far it goes."""
    if not state.shift:
        return "", ""
    steps = abs(state.shift)
    how_far = f"{'a' if steps == 1 else steps} half step{'s' if steps > 1 else ''}"
    return _who(state), f"{how_far} {'up' if state.shift > 0 else 'down'}"


def _who(state: State) -> str:
    return "hands move:" if hands_move(state) else "keyboard tuned:"
