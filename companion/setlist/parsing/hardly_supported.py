"""Doubt what the list hardly supports: titles that still hold signs, lists whose lines have no shape in common."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, LineCorrection, LineKind
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.doubts import (
    YES,
    answered_with,
    doubtful_key,
    doubtful_song,
    heading_or_not,
    note_or_song,
    song_or_not,
)
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.line_kinds import is_chat
from companion.setlist.parsing.list_style import DEEPER, Style
from companion.setlist.parsing.prose_lines import looks_like_title
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import read_song
from companion.setlist.parsing.words_of_events import is_event, may_be_event
from companion.setlist.set_starts import LATER_SETS, NEXT_SET

FEWEST = 4  # songs; a shorter list is seen at a glance
MAX_ALIKE = 0.8  # share of the songs that a shape must hold
MIN_KEYED_ROWS = 0.7  # share of the songs of a table
FEWEST_FULL = 5  # songs; among fewer, a song without a key stands out less
SMALL = 3  # letters of a word that may be small in a title
FEW_ALIKE = 0.2  # share that may differ where the lines hold titles alone
LONG = 7  # words of a line; more make a sentence
_SAYS_TEMPO = re.compile(r"\d\s?bpm\b", re.IGNORECASE)
READ_AS_TEMPO = "read as the tempo"
MANY = 3  # titles with signs: one question for all of them
_NAMES_SET = re.compile(
    r"\b(?:set|part|half)\s?(?:\d|one|two|three)\b|\b(?:1st|2nd|3rd|first|second|third)\s(?:set|half|part)\b",
    re.IGNORECASE,
)
_STRONG_KEY = re.compile(  # two words and more, then what can only be a key: drum machine love Bm solo, watch the D
    r"^((?:[^\W\d_][\w'’]{0,20}\s){2,6})(?<!\sin\s)(?<!\sto\s)[A-H](?:[b#♭♯]m?|m)(?![\w'’])"
)
_CODE_IN_FRONT = re.compile(r"^[A-Za-z#]{0,3}\d+\S*\s")
_SIGNS = re.compile(  # what a title keeps only where its line was not understood
    r"[.…_·]{4}|(?:\s[.·_]){4}"  # dots to a column on the right
    r"|[-–—=:|/>→*•~]\s*$|^\s*[-–—=:|/>→*•~]"
    r"|^[(\[#]?\s?\d{1,3}\s?[.)\]](?:[-–—\s]|$)|^#{1,6}\s"  # a number or a heading in front
    r"|\s(?:-{1,2}>|=>|>{1,2}|→)\s"
    r"|\S\s*[(\[][A-G][b#♭♯]?m?[)\]]"  # a key in a bracket
    r"|\s/\s.*\s/\s|\s\|\s"
    r"|[(\[][^()\[\]]*,\s*[A-G][b#♭♯]?m?[)\]]"  # words and a key
    r"|\bhttps?://|\S@\S"
    r"|\b(?!(?:vol|feat|arr|mrs|ext|inst|vs)\.)[a-zà-ÿ]{3,}\.\s+\w"  # a sentence: right. sat. start with moth
)


def doubt_titles(gathered: SetListBuilder) -> None:
    """Doubt each title that holds signs of a shape that was not understood; ask once if many do."""
    drafts = [draft for each in gathered.sets for draft in each.songs]
    longest = sorted(len(draft.title.split()) for draft in drafts)[-2:]
    found = [draft for draft in drafts if _is_odd(draft) or _is_too_long(draft, longest)]
    for draft in found:
        says = f"the title holds signs that may be no part of it: {draft.title}"
        question = f"Is {draft.title!r} the title?" if len(found) <= MANY else ""
        answers = (YES, *_without_signs(draft)) if question else ()
        draft.doubts.append(Doubt(says, question, answers, "title" if question else ""))
    if len(found) > MANY:
        gathered.doubts.append(as_a_whole(gathered, f"{len(found)} titles hold signs that may be no part of them"))


def _without_signs(draft: Draft) -> tuple[DoubtAnswer, ...]:
    """Return the other answers: the title ends before the sign, or the line is no song."""
    no_song = LineCorrection(LineKind.ASIDE)
    found = _SIGNS.search(draft.title)
    before = re.split(r"[(\[|/>→*•~=]|\s[-–—]", draft.title)[0].strip(" .…_·-–—:") if found else ""
    if not before or before.endswith("#") or before.isdecimal() or (found and found[0][-1].isalnum()):
        return (DoubtAnswer("no", (no_song,)),)
    return DoubtAnswer("no", (FieldCorrection("title", before),)), DoubtAnswer("no song", (no_song,))


def ask_once(gathered: SetListBuilder) -> None:
    """Ask once whether numbers are tempos where nearly every song would ask it."""
    drafts = [draft for each in gathered.sets for draft in each.songs]
    asked = [(draft, doubt) for draft in drafts for doubt in draft.doubts if doubt.says.endswith(READ_AS_TEMPO)]
    if len(asked) <= MANY or len(asked) < MAX_ALIKE * len(drafts):
        return
    for draft, doubt in asked:
        draft.doubts[draft.doubts.index(doubt)] = Doubt(doubt.says)
    if any(_SAYS_TEMPO.search(draft.text) for draft in drafts):
        return  # 128 bpm, of another song
    gathered.doubts.append(as_a_whole(gathered, f"the numbers of {len(asked)} songs are taken for tempos"))


def doubt_shape(found: Sequence[Classified], style: Style, gathered: SetListBuilder) -> None:
    """Doubt a list as a whole if its songs have neither marks nor keys nor bare titles in common."""
    songs = [one for one in found if one.took is LineKind.SONG and one.draft]
    if len(songs) < FEWEST or any(one.inline for one in found):
        return
    marked = sum(style.marks(one.line) or one.line.is_marked for one in songs)
    valued = sum(bool(one.draft and (one.draft.has_fact or one.draft.tempo_bpm or one.draft.artist)) for one in songs)
    long = sum(len(one.line.text.split()) > LONG for one in songs)
    is_bare = max(marked, valued, long) <= FEW_ALIKE * len(songs)
    if any(one.begins_set for one in found):
        gathered.doubts.append(as_a_whole(gathered, "the numbers begin again at 1 below no heading"))
    elif max(marked, valued) < MAX_ALIKE * len(songs) and not is_bare:
        gathered.doubts.append(as_a_whole(gathered, "its lines have no shape in common"))


def doubt_passed_over(found: Sequence[Classified], style: Style) -> None:
    """Doubt each line between two songs that reads like a title and was taken for none."""
    songs = [at for at, one in enumerate(found) if one.took is LineKind.SONG]
    for at in range(songs[0], songs[-1]) if songs else ():
        one = found[at]
        if one.took not in (LineKind.NOTE, LineKind.LEFT) or one.doubts or one.facts:
            continue
        if not _may_be_title(one, style) and not _has_title_and_key(one, style):
            continue
        one.doubts = (note_or_song(one.line.text) if one.took is LineKind.NOTE else song_or_not(one.line.text),)


def doubt_odd_songs(found: Sequence[Classified], style: Style) -> None:
    """Doubt each song unlike the others: no key where nearly all have one, small letters, a sentence among titles."""
    songs = [one for one in found if one.took is LineKind.SONG and one.draft]
    keyed = sum(one.draft.has_key for one in songs if one.draft)
    is_keyed = len(songs) >= FEWEST_FULL and keyed >= MAX_ALIKE * len(songs)
    fallen = sum(draft.title[:1].islower() for one in songs if (draft := one.draft))
    rise = len(songs) >= FEWEST and fallen <= FEW_ALIKE * len(songs)
    for one in songs:
        draft = one.draft
        if draft is None or draft.doubts or one.doubts:
            continue
        text = one.line.text
        if is_keyed and not draft.has_fact and not (one.line.is_marked and looks_like_title(one.line, style)):
            draft.doubts.append(doubtful_song("without a key, unlike the others", draft.title))
        elif not one.line.is_marked and text[:1].islower() and (rise if draft.has_key else rise or style.capitals):
            draft.doubts.append(doubtful_song("in small letters, unlike the others", draft.title))


def doubt_songs_without_key(drafts: Sequence[Draft]) -> None:
    """Doubt each song of a table that has neither a key nor a number, where nearly all others have a key."""
    keyed = sum(draft.has_key for draft in drafts)
    if len(drafts) < FEWEST_FULL or keyed < MIN_KEYED_ROWS * len(drafts):
        return
    for draft in drafts:
        if not draft.has_key and draft.number is None and not draft.doubts:
            draft.doubts.append(doubtful_song("without a key, unlike the others", draft.title))


def answer_with_songs(found: Sequence[Classified], style: Style) -> None:
    """Let each answer that makes a song of a line part its title from its key: Moth (Am) synth bit."""
    for one in found:
        if one.took is LineKind.SONG or not one.doubts:
            continue
        text = one.line.text
        draft = read_song(one.line, msgspec.structs.replace(style, has_artist=False))
        if draft.title and draft.title != text:
            key, notes = str(draft.key) if draft.key else None, "; ".join(draft.notes) or None
            one.doubts = tuple(answered_with(doubt, text, draft.title, key, notes) for doubt in one.doubts)


def doubt_lone_lines(found: Sequence[Classified]) -> None:
    """Doubt a bare title that empty lines part from the block of titles above it: No dogs on the stage."""
    above = 0  # songs in the block
    for at, one in enumerate(found):
        below = found[at + 1] if at + 1 < len(found) else None
        is_apart = one.line.row.blank_before and (below is None or below.line.row.blank_before)
        draft = one.draft
        is_bare = draft is not None and not draft.has_fact and not one.line.is_marked
        if one.took is LineKind.SONG and is_apart and above >= FEWEST and is_bare and draft and not draft.doubts:
            draft.doubts.append(doubtful_song("apart from the others", draft.title))
        above = 0 if one.line.row.blank_before else above
        above += one.took is LineKind.SONG


def doubt_headings(found: Sequence[Classified]) -> None:
    """Doubt each line that names a set, or is right above songs after an empty line, and was taken for talk."""
    songs = [at for at, one in enumerate(found) if one.took is LineKind.SONG]
    for at, one in enumerate(found[: songs[-1]] if songs else ()):
        if one.doubts or len(one.line.text.split()) > LONG:
            continue
        if at > songs[0] and one.took in (LineKind.LEFT, LineKind.NOTE) and _begins_message_of_songs(found, at):
            one.doubts = (heading_or_not(one.line.text, one.took),)
        if one.took is not LineKind.LEFT or one.doubts:
            continue
        is_above_songs = one.line.row.blank_before and at > songs[0] and found[at + 1].took is LineKind.SONG
        stands_there = is_above_songs and not found[at + 1].line.row.blank_before and not is_chat(one.line.text)
        if stands_there or _NAMES_SET.search(one.line.text):
            one.doubts = (_no_heading(one.line.text),)


def _begins_message_of_songs(found: Sequence[Classified], at: int) -> bool:
    """Return whether a line has a message's songs right below it, and no other line of the message above it."""
    line, below = found[at].line, found[at + 1] if at + 1 < len(found) else None
    if not line.message.sender or line.message.message == found[at - 1].line.message.message or below is None:
        return False
    is_same = below.line.message.message == line.message.message
    return is_same and below.took is LineKind.SONG and not is_chat(line.text) and not found[at].line.is_marked


def _no_heading(text: str) -> Doubt:
    song = DoubtAnswer("song", (LineCorrection(LineKind.SONG, title=text),))
    return Doubt(f"read as no heading: {text}", f"Does {text!r} belong to no set?", (YES, DoubtAnswer("no"), song))


def doubt_left_out(found: Sequence[Classified], gathered: SetListBuilder) -> None:
    """Doubt the list as a whole if many short lines in it were taken for no songs."""
    songs = sum(one.took is LineKind.SONG for one in found)
    left = [one for one in found if one.took is LineKind.LEFT and _reads_like_title(one)]
    if len(left) >= max(MANY, FEW_ALIKE * songs):
        gathered.doubts.append(as_a_whole(gathered, f"{len(left)} short lines were taken for no songs"))


def _reads_like_title(one: Classified) -> bool:
    text, words = one.line.text, one.line.text.split()
    if is_event(text) or may_be_event(text):
        return False
    rises = all(word[:1].isupper() for word in words if len(word) > SMALL and word[0].isalpha())
    return rises and 0 < len(words) < LONG and text[:1].isalpha() and text[-1:] not in ",:;" and not is_chat(text)


def doubt_common_parts(gathered: SetListBuilder) -> None:
    """Doubt the list as a whole if many titles begin with a number, or end in a key beside the one that was read."""
    drafts = [draft for each in gathered.sets for draft in each.songs]
    numbered = sum(bool(_CODE_IN_FRONT.match(draft.title)) for draft in drafts)
    keyed = [
        draft for draft in drafts if draft.key and (end := key_at_end(draft.title, draft.notation)) and end.is_strong
    ]
    for draft in keyed:
        says = f"the title ends in a key too: {draft.title}"
        draft.doubts.append(doubtful_key(says, draft.title, str(draft.key)))
    if numbered > FEW_ALIKE * len(drafts) and numbered > 1:
        gathered.doubts.append(as_a_whole(gathered, f"{numbered} titles begin with a number"))
        for draft in drafts:
            if _CODE_IN_FRONT.match(draft.title):
                draft.doubts.append(Doubt(f"the title begins with what may be a number: {draft.title}"))


def doubt_mixed_fields(found: Sequence[Classified]) -> None:
    """Doubt names that stand where other lines have their key: it may be written as nobody else writes it."""
    drafts = [one.draft for one in found if one.took is LineKind.SONG and one.draft]
    keyed = [draft for draft in drafts if draft.has_key and not draft.artist]
    named = [draft for draft in drafts if draft.artist and not draft.has_key]
    if len(keyed) < 2:
        return
    for draft in named:
        draft.doubts.append(doubtful_key(f"{draft.artist} stands where others have their key", draft.title, None))


def _may_be_title(one: Classified, style: Style) -> bool:
    line = one.line
    words = line.text.split()
    rises = bool(words) and all(word[:1].isupper() for word in words if len(word) > SMALL)
    is_plain = line.whole[:1].isalnum() and line.text[-1:] not in ".:;)!" and line.row.indent <= style.indent + DEEPER
    return rises and is_plain and 1 < len(words) < LONG and not is_remark(line.text) and not line.message.sender


def _has_title_and_key(one: Classified, style: Style) -> bool:
    """Return whether a line holds what a song has: a few words that begin as titles do, and a key after them."""
    draft = one.draft
    is_small = style.key_at_end and not style.capitals
    if is_small and (found := _STRONG_KEY.match(one.line.text)) and not is_remark(found[1]):
        return True
    if draft is None or draft.key is None or draft.title == one.line.text:
        return False
    begins = draft.title[:1].isupper() or is_small
    is_short = 0 < len(draft.title.split()) < LONG and begins
    return is_short and not is_remark(draft.title) and not is_chat(one.line.text)


def as_a_whole(gathered: SetListBuilder, why: str) -> Doubt:
    """Doubt the whole list. The player sees the table, and may say where its sets begin, or mend the list."""
    sets = [len(each.songs) for each in gathered.sets if each.songs]
    read = f"{sum(sets)} songs in {len(sets)} set{'s' if len(sets) > 1 else ''}"
    question = f"Read as {read}: is that right?"
    asks_for = LATER_SETS if len(sets) > 1 else NEXT_SET
    return Doubt(f"{why}: read as {read}", question, (YES, DoubtAnswer("no")), asks_for)


def _is_too_long(draft: Draft, longest: Sequence[int]) -> bool:
    """Return whether a title has more words than any other by far: talk may be a part of it."""
    words = draft.title.split()
    small = sum(word[0].islower() for word in words if len(word) > SMALL)
    is_talk = 2 * small > sum(len(word) > SMALL for word in words)
    return len(longest) > 1 and not draft.doubts and is_talk and LONG < len(words) >= longest[0] + MANY


def _is_odd(draft: Draft) -> bool:
    title = draft.title
    has_letter = any(letter.isalpha() for letter in title)
    is_open = (
        any(title.count(first) != title.count(last) for first, last in ("()", "[]", "{}")) or title.count('"') == 1
    )
    return is_open or bool(_SIGNS.search(title)) or (not has_letter and not draft.has_fact)
