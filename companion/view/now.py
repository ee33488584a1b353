"""The view of a state: what is worth showing now. Pure, and fast enough to run on every step."""

from collections.abc import Iterator

from msgspec.structs import replace

from companion.stage import PositionKind, State, Surroundings, tempo_due, with_hands_moving
from companion.stage.call_box import LONGEST_TITLE, is_full, is_too_long, new_song, sounds_for, sounds_on_offer
from companion.view.announced import between_lines, end_lines, is_before, up_next_lines
from companion.view.looks import COUNT_OFF_BARS, KEYS, KEYS_A_PAGE, SHORTER, Looks
from companion.view.playing import form_of, playing_lines
from companion.view.short_words import shown_key
from companion.view.view_lines import Beat, Detail, LineMark, LineRole, Picture, View, ViewLine

LOW_BATTERY_PERCENT = 30
UNSAVED = ("disk not saving: a restart loses this place", "disk not saving")
NO_KEYBOARD = ("no keyboard connected", "no keyboard")
SERVER_WAITS = ("waiting for the MIDI server", "MIDI server: wait")
AS_EVER = Looks()


def view(state: State, around: Surroundings, looks: Looks = AS_EVER) -> View:
    """Return what the screen shows for this state and surroundings, in the looks that the player chose."""
    if state.shift and around.never_there:
        state = with_hands_moving(state)
    if looks.keys_shown:
        rows = (*looks.keys, *KEYS.items())
        here = rows[looks.keys_page * KEYS_A_PAGE : (looks.keys_page + 1) * KEYS_A_PAGE]
        more = (("?", "more keys"),) if (looks.keys_page + 1) * KEYS_A_PAGE < len(rows) else ()
        keys = tuple(_key_line(key, does) for key, does in (*here, *more))
        return View(Picture.KEYS, (*_landmarks(state, around), *keys), light=looks.light)
    if around.typed is not None:
        return View(Picture.CALL, (*_landmarks(state, around), *_call(state, around)), light=looks.light)
    notices = (*_notices(state, around), *_advice(around))
    match state.place.where:
        case PositionKind.PLAYING:
            everything = around.now_ms < looks.everything_until_ms
            detail = _detail(state, around, looks)
            lines = playing_lines(state, around, notices, detail, everything=everything, chords=looks.chords)
            return View(Picture.PLAYING, lines, _beat(state, looks), looks.light, form=form_of(state))
        case PositionKind.UP_NEXT:
            before = is_before(state)
            lines = up_next_lines(state, around, looks, notices, before=before)
            return View(Picture.BEFORE if before else Picture.UP_NEXT, lines, _beat(state, looks), looks.light)
        case PositionKind.BETWEEN_SETS:
            return View(Picture.BETWEEN_SETS, between_lines(state) + notices, light=looks.light)
        case PositionKind.END:
            return View(Picture.END, end_lines(state) + notices, light=looks.light)


def _landmarks(state: State, around: Surroundings) -> tuple[ViewLine, ...]:
    """Return the lines that stay above a list: section and title, what comes next, and what is wrong."""
    seen = view(state, replace(around, typed=None))
    wrong = next((line for line in seen.lines if line.mark is LineMark.TORN), None)
    lines = (*(seen.of(part) for part in (LineRole.SECTION, LineRole.TITLE, LineRole.NEXT)), wrong)
    return tuple(line for line in lines if line is not None)


def _advice(around: Surroundings) -> tuple[ViewLine, ...]:
    """Return how the set runs and what to drop, if the player asked."""
    if around.advice is None:
        return ()
    return ViewLine(LineRole.ADVICE, around.advice), *(ViewLine(LineRole.DROP, title) for title in around.to_drop)


def _key_line(key: str, does: str) -> ViewLine:
    return ViewLine(LineRole.CHOICE, does, key, shorter=(SHORTER[does],) if does in SHORTER else ())


def _detail(state: State, around: Surroundings, looks: Looks) -> Detail:
    return looks.detail_of(state.song.song, around.now_ms) if state.song else Detail.EVERYTHING


def _notices(state: State, around: Surroundings) -> list[ViewLine]:
    playing = state.place.where is PositionKind.PLAYING
    gone = ", ".join(_port_shown(state, word) for word in around.lost)
    lines = [_awaited(around)] if around.awaited else []
    lines += [ViewLine(LineRole.NOTICE, f"{gone} gone", mark=LineMark.TORN)] if gone else []
    if around.dry_run is not None:
        words = SERVER_WAITS if around.stalled else NO_KEYBOARD
        lines.append(ViewLine(LineRole.NOTICE, words[0], shorter=words[1:], mark=LineMark.TORN))
    if around.is_unsaved:
        lines.append(ViewLine(LineRole.NOTICE, UNSAVED[0], shorter=UNSAVED[1:], mark=LineMark.TORN))
    if around.done:
        lines.append(ViewLine(LineRole.NOTICE, around.done[0], shorter=around.done[1:]))
    if around.resumed:
        lines.append(ViewLine(LineRole.NOTICE, around.resumed[0], shorter=around.resumed[1:]))
    lines += [ViewLine(LineRole.NOTICE, notice) for notice in around.notices]
    if around.edited is not None and not playing and around.edited not in around.notices:
        lines.append(ViewLine(LineRole.NOTICE, around.edited))
    if around.battery_percent is not None and around.battery_percent < LOW_BATTERY_PERCENT:
        lines.append(ViewLine(LineRole.NOTICE, f"battery {around.battery_percent} %", mark=LineMark.TORN))
    pace = _pace(around)
    return [*lines, pace] if pace else lines


def _awaited(around: Surroundings) -> ViewLine:
    """Return why the ports are not ready, and what steps meanwhile if that is something else than usual."""
    steps = around.steps_meanwhile
    if not steps or steps == around.steps_with:
        return ViewLine(LineRole.NOTICE, around.awaited, mark=LineMark.TORN)
    meanwhile = f"no pedal yet: {steps} steps"
    return ViewLine(LineRole.NOTICE, f"{around.awaited}; {meanwhile}", shorter=(meanwhile,), mark=LineMark.TORN)


def _port_shown(state: State, word: str) -> str:
    """Return the rig's word for a port; "" means the port of a keyboard for which the rig names none: its name."""
    return word or next((board.name for board in state.book.rig.keyboards if not board.port), "keyboard")


def _pace(around: Surroundings) -> ViewLine | None:
    """Return a line if the set runs over by a minute or more, else None."""
    if around.over_min is None or around.over_min <= 0:
        return None
    ends = f", ends {around.ends}" if around.ends else ""
    return ViewLine(LineRole.PACE, f"{around.over_min} min over{ends}", shorter=(f"{around.over_min} min over",))


def _call(state: State, around: Surroundings) -> tuple[ViewLine, ...]:
    lines = _called(state, around)
    if not is_full(around.typed or ""):
        return lines
    hint = ("no room for more letters: backspace makes room", "full: backspace makes room", "full")
    return *(one for one in lines if one.part is not LineRole.HINT), ViewLine(LineRole.HINT, hint[0], shorter=hint[1:])


def _called(state: State, around: Surroundings) -> tuple[ViewLine, ...]:
    """Return what was typed, what it can mean, and what a key does then."""
    typed = ViewLine(LineRole.TYPED, f"{around.typed}_", "call")
    if not around.found_songs and around.typed:
        return typed, *_not_on_the_list(around.typed, state)
    mark = LineMark.NONE if around.found_near else LineMark.CHOSEN
    choices = tuple(
        ViewLine(LineRole.CHOICE, title, str(number), mark=mark if number == 1 else LineMark.NONE)
        for number, title in enumerate(around.found_songs[:3], 1)
    )
    if around.found_near and around.typed:
        keys = _either(len(choices))
        hint = ViewLine(LineRole.HINT, f"not on the list; {keys} takes one like it", shorter=(f"{keys} takes one",))
        new, *_ = _not_on_the_list(around.typed, state)
        return typed, new, *choices, hint
    # A key that the rig maps as a pedal steps; it never picks a song.
    picks = "1, 2, 3 pick" if any(pedal.key == "enter" for pedal in state.book.rig.pedals) else "enter goes"
    return typed, *choices, ViewLine(LineRole.HINT, f"{picks}, a comma makes it a new song", shorter=(picks,))


def _not_on_the_list(typed: str, state: State) -> Iterator[ViewLine]:
    """Yield lines that say what enter does with a title that is not in the show, and how it gets a key and a sound."""
    sounds = sounds_on_offer(state.book)
    song = new_song(typed, sounds)
    if song is None and is_too_long(typed, sounds):
        hint = (f"a title has {LONGEST_TITLE} letters at most", "the title is too long")
        yield ViewLine(LineRole.HINT, hint[0], shorter=hint[1:])
        return
    if song is None:
        hint = ("not on the list; after the comma, type a key or a sound", "no such key or sound")
        yield ViewLine(LineRole.HINT, hint[0], shorter=hint[1:])
        return
    names = {one.call: one.shown for one in sounds}
    in_key = f", in {shown_key(str(song.key))}" if song.key else ""
    with_sounds = "".join(f", {names[call]}" for call in song.sounds)
    new = f"{song.title}{in_key}{with_sounds}"
    yield ViewLine(LineRole.CHOICE, f"new song: {new}", "enter", (f"new: {new}",), LineMark.CHOSEN)
    offered = sounds_for(typed, sounds)
    for number, one in enumerate(offered, 1):
        yield ViewLine(LineRole.CHOICE, one.shown, str(number))
    if offered:
        hint = (f"{_either(len(offered))} takes it with that sound", f"{_either(len(offered))}: that sound")
    elif "," in typed or not sounds:
        hint = ("not on the list; enter takes it as a new song", "enter takes it as new")
    else:
        hint = ("not on the list; enter takes it, a comma adds a key or a sound", "a comma adds a key or a sound")
    yield ViewLine(LineRole.HINT, hint[0], shorter=hint[1:])


def _either(number: int) -> str:
    """Return the keys 1 to ``number``, 3 at most: '1, 2 or 3'."""
    return ("1", "1 or 2", "1, 2 or 3")[number - 1]


def _beat(state: State, looks: Looks) -> Beat | None:
    song, tempo_bpm = state.song.song if state.song else None, tempo_due(state)
    if song is None or not tempo_bpm:
        return None
    whole, part = divmod(song.meter.felt_beats if song.meter else 4, 1)
    beats = (1.0,) * int(whole) + ((float(part),) if part else ())
    if state.place.where is PositionKind.UP_NEXT:
        if looks.count_off_from_ms is None or looks.count_off_from_ms < (state.stepped_ms or 0):
            return None
        return Beat(tempo_bpm, beats, looks.count_off_from_ms, COUNT_OFF_BARS)
    return Beat(tempo_bpm, beats, _downbeat_ms(state, tempo_bpm)) if looks.beat else None


def _downbeat_ms(state: State, tempo_bpm: float) -> int:
    """Return the time of a downbeat in ms: the press that began the section, aligned to the beats tapped since."""
    began = state.section_began_ms
    if not state.taps_ms or state.taps_ms[-1] <= began:
        return began
    beat_ms = 60_000 / tempo_bpm
    last = state.taps_ms[-1]
    return round(last - round((last - began) / beat_ms) * beat_ms)
