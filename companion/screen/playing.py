"""What is worth showing while a song plays: one glance, at most 14 words besides the cue and the landmark."""

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from companion.show import Section, Song
from companion.stage import BookSong, State, Surroundings, Where, next_place, runs_on, section_after

from .hands import chords_at, key_words, keys_at, shift_words
from .parts import Detail, Line, Mark, Part
from .words import SHORT_FORMS, cut, lesser_titles, named

GLANCE_WORDS: Final = 14  # cue and first words aside
LARGE_WORDS: Final = 7  # of these, at section size or in the next line
SECTION_WORDS: Final = 3
WATCH_WORDS: Final = 3
ALL_OR_NOTHING: Final = frozenset(
    (Part.COUNT, Part.SOUND, Part.KEY, Part.CHORDS, Part.HITS, Part.PACE, Part.STANDING, Part.ENDING)
)
"""Half of these would mislead."""
UNCOUNTED: Final = frozenset((Part.CUE, Part.FIRST_WORDS))

STAR: Final = "★"  # so a feature is marked in the margin
FEATURE: Final = "feature"  # what stands for a feature that is only marked with a star
OF_PRIORITY: Final = (
    Part.SECTION,
    Part.NOTICE,
    Part.NEXT,
    Part.WATCH,
    Part.COUNT,
    Part.SOUND,
    Part.KEY,
    Part.FEATURE,
    Part.CUE,
    Part.FIRST_WORDS,
    Part.HITS,
    Part.ENDING,
    Part.PACE,
    Part.CHORDS,
    Part.TITLE,
    Part.STANDING,
    Part.NOTES,
)
"""Who gives way to whom, when words or room run out: the last first."""


def playing_lines(
    state: State,
    around: Surroundings,
    notices: tuple[Line, ...],
    detail: Detail,
    *,
    everything: bool = False,
    chords: bool = False,
) -> tuple[Line, ...]:
    """Give the lines of a song that plays. ``everything``: the player has asked to see all of it for a moment.

    ``chords``: the chord line stays in every detail, and beside the words that a glance holds, as the player wished.
    """
    book_song, book_section = state.song, state.section
    if book_song is None or book_section is None:
        return ()
    song, section = book_song.song, book_section.section
    lines = [
        *notices,
        *_section(state, around, section),
        *_next(state, book_song),
        *_yours(section),
        *_key(state),
        *sound_lines(state, around, which_board=everything),
        *_ending(state, book_song),
    ]
    wished = list(_chords(state, everything=everything))
    if everything or not chords:
        lines += wished
        wished = []
    if section.name:
        lines.append(Line(Part.TITLE, song.title, shorter=lesser_titles(song.title)))
    if everything:
        lines += _everything(state, song)
        return tuple(sorted(lines, key=_priority))
    found = within_glance(tuple(sorted(_kept(lines, detail, state), key=_priority)))
    return tuple(sorted((*found, *wished), key=_priority))


def within_glance(lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Keep the lines that one glance can hold, the most important first; the one that bursts it is cut."""
    left, large_left = GLANCE_WORDS, LARGE_WORDS
    lines = _counted_shorter(lines)
    kept: list[Line] = []
    for line in lines:
        if line.part in UNCOUNTED:
            kept.append(line)
            continue
        large = line.part in (Part.SECTION, Part.NEXT)
        room = min(left, large_left) if large else left
        if line.words > room:
            shorter = next((text for text in line.shorter if replace(line, text=text).words <= room), None)
            if shorter is None and line.part in ALL_OR_NOTHING:
                continue
            shorter = cut(line.text, room - replace(line, text="").words) if shorter is None else shorter
            line = replace(line, text=shorter, shorter=())  # noqa: PLW2901
            if not line.text:
                continue
        left -= line.words
        large_left -= line.words if large else 0
        kept.append(line)
    return tuple(kept)


def _counted_shorter(lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Count in fewer words where the words up to the feature would else be too many."""
    needed = [line for line in lines if line.part not in UNCOUNTED and _priority(line) <= _priority_of(Part.FEATURE)]
    if sum(line.words for line in needed) <= GLANCE_WORDS:
        return lines
    return tuple(
        replace(line, text=line.shorter[-1], shorter=()) if line.part is Part.COUNT and line.shorter else line
        for line in lines
    )


def _priority(line: Line) -> int:
    return _priority_of(line.part)


def _priority_of(part: Part) -> int:
    return OF_PRIORITY.index(part)


def _section(state: State, around: Surroundings, section: Section) -> Iterator[Line]:
    mark = Mark.HIGHLIGHT if section.feature and not section.tacet else Mark.NONE
    if section.name:
        short = SHORT_FORMS.get(section.name.casefold(), ())
        yield Line(Part.SECTION, cut(section.name, SECTION_WORDS), shorter=short, mark=mark)
    elif state.song:  # a song without a road map is its own only section
        title = state.song.song.title
        yield Line(Part.TITLE, title, shorter=lesser_titles(title), mark=mark)
    counted = count(state, around, section)
    if counted:
        yield Line(Part.COUNT, counted[0], shorter=counted[1:])


def count(state: State, around: Surroundings, section: Section) -> tuple[str, ...]:
    """Say how often it goes round and which bar this is, with shorter ways to say so."""
    place = state.place
    go = place.passed + place.rounds
    if section.open and section.passes > 1 and go <= section.passes:
        rounds = f"round {go} of {section.passes}+"
    elif section.open:
        rounds = "open" if go == 1 else f"open, round {go}"
    elif section.passes > 1:
        rounds = f"{place.passed} of {section.passes}" + (f" +{place.rounds}" if place.rounds else "")
    else:
        rounds = "again" if place.rounds == 1 else f"again ×{place.rounds}" if place.rounds else ""
    bars, over = "", 0
    if around.bar is not None and section.bars:
        over = around.bar - section.bars
        bars = f"bar {around.bar} of {section.bars}" if over <= 0 else f"{section.bars} bars +{over}"
    both = ", ".join(part for part in (rounds, bars) if part)
    short_bars = f"+{over}" if over > 0 else bars.partition(" of ")[0]
    less = ", ".join(part for part in (rounds.replace("open, ", ""), short_bars) if part)
    return tuple(dict.fromkeys(text for text in (both, less, rounds.replace("open, ", "") or short_bars) if text))


def _next(state: State, song: BookSong) -> Iterator[Line]:
    number = section_after(song, state.place.section, state.left_out)
    if number is not None:
        follows = song.sections[number].section
        short = SHORT_FORMS.get(follows.name.casefold(), ())
        name = cut(follows.name, SECTION_WORDS)
        if follows.feature:
            what = "" if follows.feature.casefold() in (FEATURE, follows.name.casefold()) else f" {follows.feature}"
            shorter = (f"{name} {STAR}", *(f"{one} {STAR}" for one in short))
            yield Line(Part.NEXT, f"{name} {STAR}{what}", "next", shorter, Mark.UNDERLINE)
        elif follows.tacet:
            yield Line(Part.NEXT, f"{name}, tacet", "next", (name, *short), Mark.NONE)
        else:
            yield Line(Part.NEXT, name, "next", short)
        return
    place = state.place
    if runs_on(state.book, state.order, place.set, place.at):
        title = state.book.songs[state.order[place.set][place.at + 1]].song.title
        yield Line(Part.NEXT, title, "segue", lesser_titles(title), Mark.CIRCLE)
        return
    after = next_place(state.book, state.order, replace(place, passed=10**6), state.left_out)
    if after.where is Where.UP_NEXT:
        title = state.book.songs[state.order[after.set][after.at]].song.title
        yield Line(Part.NEXT, title, "next song", lesser_titles(title))
    else:
        yield Line(Part.NEXT, "show over" if after.where is Where.END else "set break", "then")


def _yours(section: Section) -> Iterator[Line]:
    if section.tacet:
        yield Line(Part.FEATURE, "tacet", mark=Mark.REST)
    elif section.feature:
        plain = section.feature.casefold() in (FEATURE, section.name.casefold())
        text = "your feature" if plain else f"{STAR} {section.feature}"
        yield Line(Part.FEATURE, text, shorter=("your feature",), mark=Mark.HIGHLIGHT)
    if section.watch:
        yield Line(Part.WATCH, cut(section.watch, WATCH_WORDS), "watch", mark=Mark.GLASSES)
    if section.cue:
        yield Line(Part.CUE, section.cue)
    if section.first_words:
        yield Line(Part.FIRST_WORDS, f"“{section.first_words} …”")
    if section.hits:
        yield Line(Part.HITS, section.hits, "hits")


def _chords(state: State, *, everything: bool) -> Iterator[Line]:
    found = chords_at(state, state.place.section, everything=everything)
    if found:
        chords, written = found
        yield Line(Part.CHORDS, chords, written)


def _key(state: State) -> Iterator[Line]:
    now, before = keys_at(state, state.place.section), keys_at(state, state.place.section - 1)
    if now is None:
        return
    changes = before is not None and now != before
    label, play = shift_words(state, now[1], changes=changes)
    words, label = play or key_words(*now)[-1], label or ("key" if changes else "")
    yield Line(Part.KEY, words, label, mark=Mark.CIRCLE if label else Mark.NONE)


def sound_lines(state: State, around: Surroundings, *, which_board: bool) -> Iterator[Line]:
    """Say which sound is on, on tape as on a keyboard's edge, in the rig's order; which waits, what is set by hand."""
    boards = state.book.rig.keyboards
    labelled = which_board and sum(sound is not None for sound in state.on) > 1
    for number, sound in enumerate(state.on):
        if sound is None:
            continue
        waits = number < len(around.waiting) and around.waiting[number] is not None
        lost = boards[number].port in around.lost
        by_hand = sound.by_hand if sound.by_hand and (lost or sound.program is None) else None
        label = boards[number].name if labelled else ""
        if waits:
            yield Line(Part.SOUND, sound.name, "lift hands:", mark=Mark.CIRCLE)
        elif by_hand:
            yield Line(Part.SOUND, f"{sound.name}: {by_hand}", label, (by_hand,), Mark.CIRCLE)
        else:
            yield Line(Part.SOUND, sound.name, label, mark=Mark.TAPE)


def _ending(state: State, song: BookSong) -> Iterator[Line]:
    last = state.place.section + 1 == len(song.sections)
    if last and song.song.ending and not runs_on(state.book, state.order, state.place.set, state.place.at):
        yield Line(Part.ENDING, named(song.song.ending.value), "ends")


def _everything(state: State, song: Song) -> Iterator[Line]:
    songs = state.order[state.place.set]
    yield Line(Part.STANDING, f"{state.place.at + 1} of {len(songs)}")
    if song.notes:
        yield Line(Part.NOTES, song.notes)


def _kept(lines: list[Line], detail: Detail, state: State) -> list[Line]:
    """Leave out what a player who knows the song need not be shown."""
    if detail is Detail.EVERYTHING:
        return lines
    if detail is Detail.FORM:
        return [line for line in lines if line.part not in (Part.CHORDS, Part.TITLE)]
    unusual = {Mark.HIGHLIGHT, Mark.UNDERLINE, Mark.GLASSES, Mark.CIRCLE, Mark.REST, Mark.TORN}
    stay = {
        Part.NOTICE,
        Part.PACE,
        Part.COUNT,
        Part.WATCH,
        Part.CUE,
        Part.FIRST_WORDS,
        Part.HITS,
        Part.ENDING,
        Part.FEATURE,
    }
    kept = [line for line in lines if line.part in stay or line.mark in unusual or _changes(line, state)]
    here = any(line.part not in (Part.NEXT, Part.TITLE) for line in kept)
    # Something to do here needs its landmark: the section's name. Else the page is all but empty, as was wished.
    mark = Part.SECTION if here and any(line.part is Part.SECTION for line in lines) else Part.TITLE
    return kept + [line for line in lines if line.part is mark and line not in kept]


def _changes(line: Line, state: State) -> bool:
    return line.part is Part.SOUND and state.past is not None and state.past.last().on != state.on
