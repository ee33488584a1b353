"""Hand the classified lines of a text to the builder."""

from collections.abc import Sequence

import msgspec

from companion.music import Key, NotMusic, read_key
from companion.setlist.model import Doubt, LineKind, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.capo import HAS_CAPO
from companion.setlist.parsing.classifying import classified
from companion.setlist.parsing.doubts import doubtful_field, doubtful_song
from companion.setlist.parsing.gig_lines import band_line, gig_line
from companion.setlist.parsing.gig_said import take_gig_said
from companion.setlist.parsing.hardly_supported import (
    answer_with_songs,
    doubt_headings,
    doubt_left_out,
    doubt_lone_lines,
    doubt_mixed_fields,
    doubt_odd_songs,
    doubt_passed_over,
    doubt_shape,
)
from companion.setlist.parsing.inline_songs import InlineSongs, sung_by
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.parsing.keys_asked import leave_answers
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_name import named_list
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.list_talk import says_same_as_before
from companion.setlist.parsing.second_keys import doubt_second_keys, part_small_ends
from companion.setlist.parsing.sets_said import take_sets_said
from companion.setlist.parsing.setting_aside import set_quotes_aside
from companion.setlist.parsing.song_line import read_song
from companion.setlist.parsing.taking_talk import take_talk
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.parsing.times_said import take_times_said

MOST_KEYED = 0.6  # share of a line's songs
READ_OUT_OF_TEXT = "titles, keys and sets are read out of sentences"
NOTES = ("note", "notes", "bemerkung", "bemerkungen")


def take_in_lines(lines: Sequence[TextLine], gathered: SetListBuilder, notation: Notation) -> None:
    """Classify lines and give each to the builder."""
    found, style = classified(lines, notation)
    if style.has_artist:
        order = "artist, then title" if style.artist_first else "title, then artist"
        gathered.doubts.append(Doubt(f"most lines have two names: read as {order}"))
    set_quotes_aside(found)
    part_small_ends(found, style)
    doubt_second_keys(found)
    doubt_passed_over(found, style)
    doubt_headings(found)
    doubt_odd_songs(found, style)
    doubt_lone_lines(found)
    doubt_mixed_fields(found)
    answer_with_songs(found, style)
    leave_answers(found, notation)
    first = gathered.told
    for one in found:
        _take(one, gathered, style)
        for row in one.line.joined:
            gathered.tell(row, LineKind.NOTE, "continues the line above")
    take_talk(found, gathered, first, notation)
    take_sets_said(found, gathered, first)
    take_gig_said(found, gathered, first)
    take_times_said(found, gathered, first)
    doubt_shape(found, style, gathered)
    doubt_left_out(found, gathered)


def _take(one: Classified, gathered: SetListBuilder, style: Style) -> None:
    row, text = one.line.row, one.line.text
    if one.line.struck and not one.line.is_struck:
        gathered.keep_aside(row, one.line.struck, "struck out")
    match one.took:
        case LineKind.SONG if one.draft:
            if one.begins_set:
                gathered.begin_sheet()
            for words in (*row.comments, f"marked {row.marked}" if row.marked else ""):
                one.draft.note(words)
            gathered.song(row, one.draft)
        case LineKind.SET if one.heading:
            gathered.heading(row, one.heading, *one.doubts)
            _take_inline(row, one.inline, gathered, style)
        case LineKind.SONG:
            _take_inline(row, one.inline, gathered, style)
        case LineKind.BREAK:
            gathered.pause(row, *one.doubts)
        case LineKind.MARK:
            _take_mark(row, one.line.whole, gathered)
        case LineKind.ABOUT if gathered.last and (said := line_kinds.about(text)) and said[0] in NOTES:
            gathered.note(row, said[1])
        case LineKind.ABOUT if said := line_kinds.about(text):
            gathered.about(row, *said)
        case LineKind.ABOUT:
            gathered.title_of_list(row, text if one.line.message.sender else "")
        case LineKind.ASIDE:
            gathered.aside(row, text, one.aside or "struck out", *one.doubts)
        case LineKind.NOTE if not text:
            gathered.tell(row, LineKind.NOTE, "continues the title above", *one.doubts)
        case LineKind.NOTE:
            gathered.note(row, one.facts or _without_brackets(text.lstrip("↳→└↪>-– ")), *one.doubts)
        case LineKind.LEFT:
            _take_other(one, gathered)
        case _:
            gathered.tell(row, one.took or LineKind.LEFT, text if one.took is LineKind.TOTAL else "")


def _take_inline(row: ListRow, inline: InlineSongs | None, gathered: SetListBuilder, style: Style) -> None:
    """Take the songs of a line that holds several."""
    if inline is None:
        return
    if inline.is_running and not inline.is_plain:
        gathered.doubts.append(Doubt(READ_OUT_OF_TEXT))
    style = msgspec.structs.replace(style, has_artist=False, commas=False, key_at_end=True)
    drafts = [read_song(line, style) for line in inline.lines(row)]
    is_keyed = sum(draft.has_key for draft in drafts) >= MOST_KEYED * len(drafts)
    for draft in drafts:
        if is_keyed and not draft.has_key and not inline.key and not inline.is_running:
            draft.doubts.append(doubtful_song("without a key, unlike its neighbours", draft.title))
        if inline.key and draft.key is None:
            draft.key = _key(inline.key)
        if "," in draft.title:
            draft.doubts.append(doubtful_field("a comma in it", f"Is {draft.title!r} one title?", "title"))
        if inline.is_unsure and not any(doubt.asks_for == "title" for doubt in draft.doubts):
            draft.doubts.append(doubtful_field("read out of a sentence", f"Is {draft.title!r} the title?", "title"))
        if inline.note:
            draft.take_each(inline.note)
        if draft.title:
            gathered.song(row, draft)
        else:
            gathered.left(row)


def _key(written: str) -> Key | None:
    try:
        found = key_cell(written)
        return found.key if found else read_key(written)
    except NotMusic:
        return None


def _take_mark(row: ListRow, text: str, gathered: SetListBuilder) -> None:
    if mark := line_kinds.mark_meaning(text):
        gathered.marks[mark[0]] = mark[1]
        gathered.tell(row, LineKind.MARK, f"{mark[0]} is {mark[1]}")
    elif singers := sung_by(text):
        gathered.singers.update(singers)
        gathered.tell(row, LineKind.MARK, ", ".join(f"{mark} is {name}" for mark, name in singers.items()))
    else:
        gathered.tell(row, LineKind.MARK, "the key of the songs below")


def _take_other(one: Classified, gathered: SetListBuilder) -> None:
    row, text = one.line.row, one.line.text
    names_list = line_kinds.is_title_of_list(text) or row.text.startswith("#")
    names_list = names_list or (not gathered.has_words and _could_name_list(one))
    is_named = (said := named_list(text)) is not None and (said.date or said.venue)
    is_talk = (line_kinds.is_chat(text) and not is_named) or says_same_as_before(text)
    is_below_gig, gathered.is_below_gig = gathered.is_below_gig, False
    if not gathered.last and (gig := gig_line(text, one.line.message.sent)) and not (names_list and gig.is_bare):
        gathered.gig(row, gig)
    elif is_below_gig and not gathered.last and (band := band_line(text)):
        gathered.about(row, "band", band)
    elif not gathered.last and (names_list or is_named) and not is_talk:
        gathered.title_of_list(row, text if one.line.message.sender else "")
    else:
        gathered.left(row, *one.doubts)


def _could_name_list(one: Classified) -> bool:
    """Return whether a first line may be the list's name: a few words, no key, no sign of a sentence."""
    line, words = one.line, one.line.text.split()
    has_fact = one.draft is not None and one.draft.has_fact
    return (
        not line.is_marked
        and not has_fact
        and line.text[-1:] not in ",:!?"
        and 2 <= len(words) <= 8
        and not HAS_CAPO.search(line.text)
    )


def _without_brackets(text: str) -> str:
    """Remove brackets around a whole note."""
    text = text.strip()
    return text[1:-1].strip() if text[:1] == "(" and text.find(")") == len(text) - 1 else text
