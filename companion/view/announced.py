"""What is worth showing while nothing plays: before the show, a song up next, between sets, show over."""

from collections.abc import Iterator

from companion.show import Begins, Steps, song_keys
from companion.show.date_words import time_of_day
from companion.show.set_words import set_words
from companion.stage import BookSong, PositionKind, State, Surroundings
from companion.view.glance import UP_NEXT, UP_NEXT_WORDS, by_worth, watch_line, within_up_next, words_of
from companion.view.hands_key import key_words, keys_at, shift_unknown, shift_words
from companion.view.looks import Looks, offered
from companion.view.playing import FEATURE, STAR, tempo_lines, written_lines
from companion.view.section_names import name_forms
from companion.view.short_words import lesser_titles
from companion.view.strips import sound_lines
from companion.view.view_lines import Detail, LineMark, LineRole, ViewLine

KEYS_PLAYER = frozenset(("keys", "keyboard", "keyboards", "piano", "me", "you", "organ"))


def up_next_lines(
    state: State, around: Surroundings, looks: Looks, notices: tuple[ViewLine, ...], *, before: bool
) -> tuple[ViewLine, ...]:
    """Return the lines of a song that is up next. ``before``: nobody has pressed anything yet tonight."""
    book_song = state.song
    if book_song is None:
        return ()
    song, show = book_song.song, state.book.show
    one_set = show.sets[state.place.set]
    songs = state.order[state.place.set]
    lines = [ViewLine(LineRole.TITLE, song.title, shorter=lesser_titles(song.title))]
    if before:
        starts = f", {time_of_day(one_set.starts_min)}" if one_set.starts_min is not None else ""
        named = f"{set_words(one_set.name)}{starts}"
        lines.append(ViewLine(LineRole.STANDING, f"{show.title}: {named}", shorter=(named,)))
    else:
        lines.append(
            ViewLine(LineRole.STANDING, f"up next, {state.place.at + 1} of {len(songs)}", shorter=("up next",))
        )
    lines += _begins(state, book_song, around)
    lines += _first_section(book_song)
    lines += sound_lines(state, around)
    lines += written_lines(state)
    if looks.detail_of(song, around.now_ms) is Detail.EVERYTHING:
        if song.first_words:
            lines.append(ViewLine(LineRole.FIRST_WORDS, f"“{song.first_words} …”"))
        if song.notes:
            lines.append(ViewLine(LineRole.NOTES, song.notes))
    steps = around.steps_meanwhile if around.awaited else around.steps_with
    if before and steps:
        hint = f"to start: {steps}; ? for all keys"
        lines.append(ViewLine(LineRole.HINT, hint, shorter=(f"to start: {steps}",)))
    lines += notices
    if around.now_ms < looks.everything_until_ms:
        return by_worth(lines, UP_NEXT)
    kept = within_up_next(lines, before=before and steps is not None)
    return (*kept, *_offer(state, looks, kept))


def _offer(state: State, looks: Looks, kept: tuple[ViewLine, ...]) -> Iterator[ViewLine]:
    """Offer to show less of a well-known song: in the first set alone, and beside all of the player's words."""
    song = state.song.song if state.song else None
    if song is None or state.place.set or not offered(song, looks):
        return
    notes = [line.text for line in kept if line.part is LineRole.NOTES]
    hint = ViewLine(LineRole.HINT, "you know this one: d shows less", shorter=("d shows less",), if_room=True)
    is_whole = not song.notes or song.notes in notes
    if is_whole and words_of((*kept, hint)) <= UP_NEXT_WORDS and all(line.part is not LineRole.HINT for line in kept):
        yield hint


def _begins(state: State, book_song: BookSong, around: Surroundings) -> Iterator[ViewLine]:
    song = book_song.song
    if song.tacet:
        yield ViewLine(LineRole.FEATURE, "tacet", mark=LineMark.REST)
    keys = keys_at(state, 0)
    if keys is not None:
        label, play = shift_words(state, keys[1], waits=around.tuning_waits)
        words = (play,) if play and keys[0] == keys[1] else key_words(*keys)
        yield ViewLine(LineRole.KEY, words[0], label, words[1:], LineMark.CIRCLE if state.shift else LineMark.NONE)
    else:
        label, how_far = shift_unknown(state, waits=around.tuning_waits)
        yield ViewLine(LineRole.KEY, how_far or "key?", label, mark=LineMark.CIRCLE)
    yield from tempo_lines(state)
    if song.starts_with:
        yours = song.starts_with.casefold() in KEYS_PLAYER
        yield ViewLine(
            LineRole.START,
            f"{song.starts_with} start" if yours else song.starts_with,
            "" if yours else "starts:",
            mark=LineMark.HIGHLIGHT if yours else LineMark.NONE,
        )
    if song.begins is Begins.FIRST_NOTE:
        yield ViewLine(LineRole.START, "your first note begins it")
    if song.steps is Steps.BY_BARS:
        yield ViewLine(LineRole.START, "moves on by itself")
    if song.count_off:
        yield ViewLine(LineRole.START, song.count_off, "count:")


def _first_section(book_song: BookSong) -> Iterator[ViewLine]:
    section = book_song.sections[0].section
    if not section.name:
        return
    names = name_forms(book_song, 0)
    if section.feature:
        what = "" if section.feature.casefold() in (FEATURE, section.name.casefold()) else f" {section.feature}"
        forms = dict.fromkeys((f"{names[0]} {STAR}{what}", *(f"{name} {STAR}" for name in names)))
        text, *shorter = forms
        yield ViewLine(LineRole.NEXT, text, "then", tuple(shorter), LineMark.UNDERLINE)
    else:
        yield ViewLine(LineRole.NEXT, names[0], "then", names[1:])
    if section.watch:
        yield watch_line(section.watch)


def between_lines(state: State) -> tuple[ViewLine, ...]:
    """Return the lines of a set break: the next set, when it starts, its first song, key and sounds."""
    ended = state.place.set
    sets, order = state.book.show.sets, state.order
    follows = next((number for number in range(ended + 1, len(order)) if order[number]), None)
    over = ViewLine(LineRole.STANDING, f"set break: {set_words(sets[ended].name)} is over", shorter=("set break",))
    if follows is None:
        return ViewLine(LineRole.TITLE, "set break"), over
    first = state.book.songs[order[follows][0]]
    starts = sets[follows].starts_min
    at = f", {time_of_day(starts)}" if starts is not None else ""
    lines = [over, ViewLine(LineRole.TITLE, f"{set_words(sets[follows].name)}{at}")]
    lines.append(ViewLine(LineRole.NEXT, first.song.title, "first", lesser_titles(first.song.title)))
    keys = song_keys(first.song)
    if keys.sounds and keys.hands:
        words = key_words(keys.sounds, keys.hands)
        lines.append(ViewLine(LineRole.KEY, words[0], shorter=words[1:]))
    boards = state.book.rig.keyboards
    for number, (board, sound) in enumerate(zip(boards, first.sections[0].sounds, strict=True)):
        if sound is not None:
            label = board.name if len(boards) > 1 else ""
            mark = LineMark.TAPE if number in first.sections[0].called else LineMark.NONE
            lines.append(ViewLine(LineRole.SOUND, sound.name, label, mark=mark))
    return tuple(lines)


def end_lines(state: State) -> tuple[ViewLine, ...]:
    """Return the lines of the page after the last song."""
    show = state.book.show
    return (
        ViewLine(LineRole.TITLE, "show over"),
        ViewLine(LineRole.STANDING, show.title if any(state.order) else f"{show.title}: no songs"),
    )


def is_before(state: State) -> bool:
    """Return whether the night has not begun: no step taken yet, and the first song of the set is up next."""
    return state.place.where is PositionKind.UP_NEXT and state.stepped_ms is None and state.place.at == 0
