"""What is worth showing while a song plays, cut to what one glance holds."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from msgspec.structs import replace

from companion.show import Section, Song
from companion.stage import BookSong, PositionKind, State, Surroundings, next_place, runs_on, section_after, tempo_due
from companion.view.glance import by_worth, watch_line, within_glance
from companion.view.hands_key import chords_at, key_words, keys_at, shift_unknown, shift_words, written_words
from companion.view.section_names import name_forms
from companion.view.short_words import lesser_titles, named, ordinal, shown_key
from companion.view.strips import sound_lines
from companion.view.view_lines import Detail, FormPlace, LineMark, LineRole, ViewLine

BEAT_SIGN: Final = {Fraction(1, 4): "♩ ", Fraction(3, 8): "♩. "}  # what the tempo counts; others have no sign
STAR: Final = "★"  # marks a feature, as players do in the margin
FEATURE: Final = "feature"  # the text of a feature that the show file only marks with a star


def playing_lines(
    state: State,
    around: Surroundings,
    notices: tuple[ViewLine, ...],
    detail: Detail,
    *,
    everything: bool = False,
    chords: bool = False,
) -> tuple[ViewLine, ...]:
    """Return the lines of a song that plays. ``everything``: the player asked to see all of it for a moment.

    ``chords``: the player asked for chords, so the page makes room for them, at every detail. Otherwise they show at
    full detail, where the page has room.
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
        *_key(state, around),
        *sound_lines(state, around),
        *_ending(state, book_song),
    ]
    if section.name:
        lines.append(ViewLine(LineRole.TITLE, song.title, shorter=lesser_titles(song.title)))
    else:  # without a road map the page has room for what was up next
        lines += tempo_lines(state)
        if song.notes and detail is Detail.EVERYTHING and not everything:
            lines.append(ViewLine(LineRole.NOTES, song.notes))
    if everything:
        lines += [*_chords(state), *_everything(state, song)]
        return by_worth(lines)
    shown = _chords(state, if_room=not chords) if chords or detail is Detail.EVERYTHING else ()
    return by_worth((*within_glance(_kept(lines, detail, state)), *shown))


def form_of(state: State) -> FormPlace | None:
    """Return the place in the song's form; None unless a song plays that has two or more sections, or no road map.

    Without a road map its one stroke tells the song that plays from the one that is up next: both show its title.
    """
    song = state.song
    if song is None or state.place.where is not PositionKind.PLAYING:
        return None
    if len(song.sections) == 1 and song.sections[0].section.name:
        return None
    features = tuple(number for number, one in enumerate(song.sections) if one.section.feature)
    return FormPlace(state.place.section, len(song.sections), features)


def _section(state: State, around: Surroundings, section: Section) -> Iterator[ViewLine]:
    feature = bool(section.feature) and not section.tacet
    mark = LineMark.HIGHLIGHT if feature else LineMark.NONE
    if section.name and state.song:
        # The star stays even where the words about the feature go: no state shows by colour alone.
        forms = [f"{form} {STAR}" if feature else form for form in name_forms(state.song, state.place.section)]
        yield ViewLine(LineRole.SECTION, forms[0], shorter=tuple(forms[1:]), mark=mark)
    elif state.song:  # a song without a road map is one section
        title = state.song.song.title
        yield ViewLine(LineRole.TITLE, title, shorter=lesser_titles(title), mark=mark)
    counted = count(state, section)
    if counted:
        yield ViewLine(LineRole.COUNT, counted[0], shorter=counted[1:])
    yield from _bars(around, section)


def _bars(around: Surroundings, section: Section) -> Iterator[ViewLine]:
    """Yield how many bars the section has, or, where bars are counted, which one this is."""
    if not section.bars:
        return
    bars = f"{section.bars} bar{'s' if section.bars > 1 else ''}"
    if around.bar is None:
        yield ViewLine(LineRole.BARS, bars)
        return
    over = around.bar - section.bars
    if over > 0:
        yield ViewLine(LineRole.BARS, f"{bars} +{over}", shorter=(f"+{over}",))
    else:
        yield ViewLine(LineRole.BARS, f"bar {around.bar} of {section.bars}", shorter=(f"bar {around.bar}",))


def count(state: State, section: Section) -> tuple[str, ...]:
    """Return how often the section goes round, the longest form first; empty if it plays once."""
    place = state.place
    go = place.passed + place.rounds
    if section.open and section.passes > 1 and go <= section.passes:
        return (f"open, round {go} of {section.passes}+", f"open, {go} of {section.passes}+")
    if section.open:
        return ("open",) if go == 1 else (f"open, round {go}", f"open, {ordinal(go)}")
    if section.passes > 1:
        return (f"{place.passed} of {section.passes}" + (f" +{place.rounds}" if place.rounds else ""),)
    return ("again" if place.rounds == 1 else f"again ×{place.rounds}",) if place.rounds else ()


def _next(state: State, song: BookSong) -> Iterator[ViewLine]:
    number = section_after(song, state.place.section, state.left_out)
    if number is not None:
        follows = song.sections[number].section
        names = name_forms(song, number)
        key = _key_ahead(state, number)
        if follows.feature and not follows.tacet:
            plain = follows.feature.casefold() in (FEATURE, follows.name.casefold())
            what = "" if plain or key else f" {follows.feature}"
            forms = [f"{names[0]}{key} {STAR}{what}", *(f"{name}{key} {STAR}" for name in names)]
            mark = LineMark.UNDERLINE
        else:
            tacet = (f"{names[0]}{key}, tacet",) if follows.tacet else ()
            forms = [*tacet, *(f"{name}{key}" for name in names)]
            mark = LineMark.NONE
        forms = list(dict.fromkeys(forms))
        yield ViewLine(LineRole.NEXT, forms[0], "next", tuple(forms[1:]), mark)
        return
    place = state.place
    if runs_on(state.book, state.order, place.set, place.at):
        title = state.book.songs[state.order[place.set][place.at + 1]].song.title
        yield ViewLine(LineRole.NEXT, title, "segue", lesser_titles(title), LineMark.CIRCLE)
        return
    after = next_place(state.book, state.order, replace(place, passed=10**6), state.left_out)
    if after.where is PositionKind.UP_NEXT:
        title = state.book.songs[state.order[after.set][after.at]].song.title
        yield ViewLine(LineRole.NEXT, title, "next song", lesser_titles(title))
    else:
        yield ViewLine(LineRole.NEXT, "show over" if after.where is PositionKind.END else "set break", "then")


def _key_ahead(state: State, number: int) -> str:
    """Return text such as ' in E' if the next section is in another key, else an empty text."""
    now, then = keys_at(state, state.place.section), keys_at(state, number)
    if now is None or then is None or now == then:
        return ""
    return f" in {shown_key(str(then[1]))}"


def _yours(section: Section) -> Iterator[ViewLine]:
    if section.tacet:
        yield ViewLine(LineRole.FEATURE, "tacet", mark=LineMark.REST)
    elif section.feature:
        plain = section.feature.casefold() in (FEATURE, section.name.casefold())
        text = "your feature" if plain else f"{STAR} {section.feature}"
        yield ViewLine(LineRole.FEATURE, text, shorter=("your feature",), mark=LineMark.HIGHLIGHT)
    if section.watch:
        yield watch_line(section.watch)
    if section.cue:
        yield ViewLine(LineRole.CUE, section.cue)
    if section.first_words:
        yield ViewLine(LineRole.FIRST_WORDS, f"“{section.first_words} …”")
    if section.hits:
        yield ViewLine(LineRole.HITS, section.hits, "hits")


def _chords(state: State, *, if_room: bool = False) -> Iterator[ViewLine]:
    found = chords_at(state, state.place.section)
    if found:
        chords, written = found
        yield ViewLine(LineRole.CHORDS, chords, written, if_room=if_room)


def written_lines(state: State) -> Iterator[ViewLine]:
    """Yield a line with the key that the chords are written in, if they show in another key."""
    words = written_words(state)
    if words:
        yield ViewLine(LineRole.NOTES, words[0], shorter=words[1:])


def tempo_lines(state: State) -> Iterator[ViewLine]:
    """Yield the line of the song's tempo and meter, as far as they are known."""
    meter = state.song.song.meter if state.song else None
    tempo_bpm = tempo_due(state)
    if tempo_bpm:
        beat = BEAT_SIGN.get(meter.felt_beat if meter else Fraction(1, 4), "")
        yield ViewLine(LineRole.TEMPO, f"{beat}{round(tempo_bpm, 1):g}" + (f", {meter}" if meter else ""))
    elif meter:
        yield ViewLine(LineRole.TEMPO, str(meter))


def _key(state: State, around: Surroundings) -> Iterator[ViewLine]:
    now, before = keys_at(state, state.place.section), keys_at(state, state.place.section - 1)
    if now is None:
        label, how_far = shift_unknown(state, waits=around.tuning_waits)
        if label:
            yield ViewLine(LineRole.KEY, how_far, label, mark=LineMark.CIRCLE)
        return
    changes = before is not None and now != before
    label, play = shift_words(state, now[1], waits=around.tuning_waits, changes=changes)
    words, label = play or key_words(*now)[-1], label or ("key" if changes else "")
    shorter = (words.removeprefix("now "),) if words.startswith("now ") else ()
    yield ViewLine(LineRole.KEY, words, label, shorter, LineMark.CIRCLE if label else LineMark.NONE)


def _ending(state: State, song: BookSong) -> Iterator[ViewLine]:
    last = state.place.section + 1 == len(song.sections)
    if last and song.song.ending and not runs_on(state.book, state.order, state.place.set, state.place.at):
        yield ViewLine(LineRole.ENDING, named(song.song.ending.value), "ends")


def _everything(state: State, song: Song) -> Iterator[ViewLine]:
    songs = state.order[state.place.set]
    yield ViewLine(LineRole.STANDING, f"{state.place.at + 1} of {len(songs)}")
    yield from written_lines(state)
    if song.notes:
        yield ViewLine(LineRole.NOTES, song.notes)


def _kept(lines: list[ViewLine], detail: Detail, state: State) -> list[ViewLine]:
    """Leave out what a player who knows the song does not need, by detail."""
    if detail is not Detail.CUES_ONLY:
        return lines
    unusual = {LineMark.HIGHLIGHT, LineMark.UNDERLINE, LineMark.GLASSES, LineMark.CIRCLE, LineMark.REST, LineMark.TORN}
    stay = {
        LineRole.NOTICE,
        LineRole.PACE,
        LineRole.COUNT,
        LineRole.WATCH,
        LineRole.CUE,
        LineRole.FIRST_WORDS,
        LineRole.HITS,
        LineRole.ENDING,
        LineRole.FEATURE,
    }
    kept = [line for line in lines if line.part in stay or line.mark in unusual or _changes(line, state)]
    here = any(line.part not in (LineRole.NEXT, LineRole.TITLE) for line in kept)
    # Something to do needs the section's name as a landmark. Otherwise the page stays nearly empty, as requested.
    marks = (LineRole.SECTION, LineRole.TITLE) if here else (LineRole.TITLE,)
    return kept + [line for line in lines if line.part in marks and line not in kept]


def _changes(line: ViewLine, state: State) -> bool:
    return line.part is LineRole.SOUND and state.past is not None and state.past.last().on != state.on
