"""Classify the lines of a text: song, heading, note, talk. Form first, then the style of the whole list."""

from collections.abc import Sequence

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.bracketed_tempos import with_named_tempos
from companion.setlist.parsing.breaks_between import take_breaks
from companion.setlist.parsing.corrected_keys import doubt_corrected_keys, with_corrected_keys
from companion.setlist.parsing.counted_aloud import without_counting
from companion.setlist.parsing.counted_headings import with_counted_headings
from companion.setlist.parsing.front_forms import without_fronts
from companion.setlist.parsing.headings_by_layout import take_headings
from companion.setlist.parsing.inline_songs import sung_by
from companion.setlist.parsing.key_groups import group_keys
from companion.setlist.parsing.key_layout import doubt_outside_layout, read_by_layout
from companion.setlist.parsing.keyed_lines import take_keyed_lines
from companion.setlist.parsing.keys_below import take_keys_below
from companion.setlist.parsing.labelled_rows import take_labelled_rows
from companion.setlist.parsing.labels import are_labelled
from companion.setlist.parsing.letter_form import take_letter
from companion.setlist.parsing.line_forms import Classified, by_form, is_line_of_songs, of_running_text
from companion.setlist.parsing.list_style import Style, learn
from companion.setlist.parsing.marked_remarks import take_remarks
from companion.setlist.parsing.medley_parts import take_medleys
from companion.setlist.parsing.number_ranges import sets_by_range
from companion.setlist.parsing.odd_numbers import without_odd_numbers
from companion.setlist.parsing.open_brackets import with_brackets_whole
from companion.setlist.parsing.open_lines import Settling
from companion.setlist.parsing.patterns import VOICE
from companion.setlist.parsing.pictures_between import without_pictures
from companion.setlist.parsing.programme import take_programme
from companion.setlist.parsing.rows_of_songs import with_rows_apart
from companion.setlist.parsing.running_lines import without_running_text
from companion.setlist.parsing.set_bounds import part_by_numbers, settle_breaks, take_short_headings
from companion.setlist.parsing.setting_aside import set_aside, take_back_labels
from companion.setlist.parsing.song_line import read_song
from companion.setlist.parsing.spoken_lines import as_written
from companion.setlist.parsing.taking_events import names_course, take_events, without_events
from companion.setlist.parsing.talk_or_song import take_corrections
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.parsing.title_ends import doubt_odd_ends, level_ends
from companion.setlist.parsing.two_part_numbers import without_two_part_numbers
from companion.setlist.parsing.wrapped_titles import join_wrapped
from companion.setlist.parsing.written_otherwise import as_usual, doubt_shouted_keys


def _respelt(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines as other lists have them."""
    lines = without_running_text(with_rows_apart(without_counting(lines, notation), notation), notation)
    return without_fronts(as_usual(as_written(lines, notation), notation), notation)


def _that_may_be_songs(found: Sequence[Classified]) -> Sequence[TextLine]:
    """Return the lines that tell how the list writes its songs: no events, and no words that head a set."""
    opened = [one for one in found if one.took is None]
    named = [one.line for one in opened if not (one.heading and not one.line.is_marked)]
    return without_events(named or [one.line for one in opened])


def classified(lines: Sequence[TextLine], notation: Notation) -> tuple[list[Classified], Style]:
    """Say of each line what it is. What a line's own form leaves open is settled by the style of the whole list."""
    lines = with_corrected_keys(with_named_tempos(with_brackets_whole(lines)), notation)
    lines, of_ranges = sets_by_range(
        without_odd_numbers(without_two_part_numbers(without_pictures(_respelt(lines, notation), notation)))
    )
    speaks = sum(bool(VOICE.match(line.text)) for line in lines) > 1
    found = [
        of_running_text(line, line.part) if line.part else by_form(line, notation, speaks=speaks)
        for line in with_counted_headings(lines)
    ]
    take_back_labels(found, notation)
    take_letter(found, notation)
    take_keys_below(found, notation)
    take_labelled_rows(found)
    if of_ranges is not None:
        found[of_ranges] = Classified(lines[of_ranges], LineKind.LEFT)
    take_programme(found, notation)
    take_short_headings(found)
    keys = group_keys(found, notation)
    style = learn(_that_may_be_songs(found), notation)
    if are_labelled([one.line.text for one in found if one.took is None or is_line_of_songs(one)]):
        style = msgspec.structs.replace(style, labelled=True)
    if names_course([one.line for one in found]):
        style = msgspec.structs.replace(style, course=True)
    if marks := {mark for one in found if one.took is LineKind.MARK for mark in sung_by(one.line.whole)}:
        style = msgspec.structs.replace(style, singers=style.singers | marks)
    for one in found:
        if one.took is None:
            one.draft = read_song(one.line, style)
    take_headings(found, style)
    take_events(found, style)
    layout = read_by_layout(found, style)
    join_wrapped(found, style)
    set_aside(found, style)
    level_ends(found)
    for at, one in enumerate(found):
        if one.took is not None:
            one.draft = None
        elif at in keys and one.draft and not one.draft.has_key:
            one.draft.key = keys[at]
    take_medleys(found, notation)
    Settling(found, style, layout).settle()
    take_keyed_lines(found, style)
    take_corrections(found, style, notation)
    take_remarks(found, style)
    take_breaks(found, style)
    settle_breaks(found, is_course=style.clocks)
    part_by_numbers(found)
    doubt_outside_layout(found, layout)
    doubt_odd_ends(found)
    doubt_shouted_keys(found)
    doubt_corrected_keys(found)
    return found, style
