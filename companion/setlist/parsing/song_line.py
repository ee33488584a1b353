"""Parse a song in one line of text: title, then key, length, tempo, artist, remarks in any order."""

import re
from collections.abc import Sequence

from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection
from companion.setlist.parsing.capo import take_sounding_key
from companion.setlist.parsing.doubts import (
    YES,
    doubtful_field,
    doubtful_key,
    doubtful_label,
    key_or_title,
    label_or_title,
)
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.labels import dashed_label, label_of, role_of
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import (
    BARE_NUMBER,
    BRACE_AT_END,
    BY,
    DASHED_SINGER,
    HEAD,
    KEY_IN_CASE,
    KEY_SAID,
    LEAD_WORDS,
    LENGTH_IN_FRONT,
    MARK_AT_END,
    NAMED_FACTS,
    NAMED_NUMBER,
    PART_LETTER,
    POINTED_AT_END,
    QUOTED,
    SINGER,
    TAIL,
    TWO_TITLES,
)
from companion.setlist.parsing.peeling import SEPARATORS, peel, without_separators
from companion.setlist.parsing.pieces import LinePiece, key_among_commas, key_in_front, pieces_of, read_piece
from companion.setlist.parsing.remarks import off_the_end
from companion.setlist.parsing.set_headings import clock_in_front
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.text_lines import TextLine, is_picture, unmarked, without_emoji

MIN_SENTENCE = 4  # words
_LED = ("ing with", "ing on")
_ALL_IN_BRACKETS = re.compile(r"^\(([^()]+)\)$")
_NOTE_BEHIND_ARROW = re.compile(  # Moth (Am) → keys alone
    r"^([^()\[\]]*\S\s?[(\[]([^()\[\]]{1,20})[)\]])\s*(?:→|-{1,2}>|=>|–>)\s*([^()\[\]]+)$"
)


def read_song(line: TextLine, style: Style) -> Draft:
    """Parse a line as a song."""
    draft = Draft(line.row.place, line.row.text, notation=style.notation)
    draft.number, draft.set_name = line.number, line.set_name or None
    draft.note(line.front)
    text = _front(draft, line, style)
    if in_case := KEY_IN_CASE.match(text):
        text = without_separators(in_case[1].rstrip(SEPARATORS))
    text, stars, draft.segue = off_the_end(text)
    if text.startswith("*") and len(text.lstrip("*")) and not text.startswith("* "):
        stars, text = stars + text[: len(text) - len(text.lstrip("*"))], text.lstrip("*").strip()
    draft.stars = stars
    if style.pointed_lengths and (found := POINTED_AT_END.search(text)) and draft.take_length(found[1], named=True):
        draft.doubts.append(doubtful_field(f"{found[1]} read as a length", f"Is {found[1]} the length?", "length"))
        behind = text[found.end() :].strip()
        text = f"{text[: found.start()]}  {behind}" if behind else without_separators(text[: found.start()].rstrip())
    text = _without_note_behind(draft, text, style)
    in_front = any(
        (one := form.match(said)) and one[1].strip() in style.singers
        for form, said in ((HEAD, text), (SINGER, line.text))
    )
    if style.singers and not in_front and (found := MARK_AT_END.match(text)) and found[2] in style.singers:
        draft.note(found[2])
        text = found[1].rstrip(SEPARATORS)
    text = peel(draft, text, style)
    _take_pieces(draft, text, style)
    _take_key_in_front(draft)
    if TWO_TITLES.search(draft.title):
        draft.doubts.append(
            Doubt(
                "two songs on one line? Kept as one title",
                f"Is {draft.title!r} one song?",
                (YES, DoubtAnswer("no")),
                "title",
            )
        )
    if in_case:
        draft.take_key(in_case[2])
    take_sounding_key(draft)
    if (found := LEAD_WORDS.match(draft.title)) and (
        line.message.sender or found[1].endswith(_LED) or (not style.capitals and found[1][0].islower())
    ):
        draft.note(found[1])
        whole, draft.title = draft.title, draft.title[found.end() :]
        draft.doubts.append(label_or_title(whole, found[1], draft.title))
    if style.colons and (named := NAMED_FACTS.match(draft.title)):
        draft.title = named[1]
        draft.take_each(named[2])
    if style.nows and draft.title.endswith((" now", " same")):
        draft.title, _, said = draft.title.rpartition(" ")
        draft.note(said)
    if draft.label and draft.title.startswith(f"{draft.label}:"):
        rest = draft.title.removeprefix(f"{draft.label}:").strip()
        draft.doubts.append(doubtful_label(draft.label, rest))
    if draft.has_key and not line.emoji and draft.title and is_picture(draft.title[-1]):
        draft.title, picture = without_emoji(draft.title)  # Moth 🎹 Bb
        draft.notes.append(picture)
    if line.talk:
        draft.doubts.append(label_or_title(f"{line.talk} {draft.title}", line.talk, draft.title))
    doubt_key_in_title(draft)
    if draft.key_is_unknown and draft.key is None and not draft.doubts:
        draft.doubts.append(doubtful_key("the list itself leaves the key open", draft.title, None))
    draft.name_in_doubts()
    return draft


def _take_key_in_front(draft: Draft) -> None:
    """Take a key in the place of the title for the key, in doubt, and the words after it for the title: Em - Moth."""
    key = plain_key(draft.title, notation=draft.notation)
    if key is None or draft.has_key or len(draft.notes) != 1 or not draft.notes[0][:1].isupper():
        return
    written, draft.title, draft.key = draft.title, draft.notes[0], key
    draft.notes, draft.doubts = [], [doubtful_key(f"{written} in front read as the key", draft.notes[0], str(key))]


def _without_note_behind(draft: Draft, text: str, style: Style) -> str:
    """Take off what an arrow or a brace points at behind the title and its key."""
    if (found := _NOTE_BEHIND_ARROW.match(text)) and plain_key(found[2], notation=style.notation):
        draft.note(found[3])
        text = found[1]
    if found := BRACE_AT_END.search(text):
        draft.note(found[1] or "together with the songs beside it")
        text = text[: found.start()]
    return text


def _front(draft: Draft, line: TextLine, style: Style) -> str:
    """Take off what this list has in front of its titles: numbers, times, pictures, singers."""
    text = line.text
    if style.bare_numbers and draft.number is None and (found := BARE_NUMBER.match(text)):
        draft.number, text = int(found[1]), text[found.end() :]
    if draft.number is not None and not line.is_lettered and (found := PART_LETTER.match(text)):
        draft.note(found[0].strip(" |"))
        text = text[found.end() :]
    if style.clocks:
        at_min, rest = clock_in_front(text)
        if at_min is not None:
            draft.note(f"at {at_min // 60}:{at_min % 60:02}")
            text, number, _, _ = unmarked(rest)
            if number is None and (named := NAMED_NUMBER.match(text)):
                text, number = text[named.end() :], int(named[1])
            draft.number = number if draft.number is None else draft.number
    if style.lengths_in_front and (found := LENGTH_IN_FRONT.match(text)) and draft.take_length(found[1]):
        text = text[found.end() :]
    if line.emoji and not style.emoji and not (line.text[-1:] in ")]" or line.whole.startswith(line.text + " ")):
        text = line.whole.replace(line.text, "", 1) and _with_emoji(line)
    elif line.emoji:
        draft.notes.append(line.emoji)
    found = (SINGER.match(text) or DASHED_SINGER.match(text)) if style.singers else None
    if found and found[1] in style.singers:
        draft.note(found[1])
        return text[found.end() :]
    if style.quoted and (found := QUOTED.match(text)):
        draft.note(found[1].strip(SEPARATORS))  # Opening - "Moth" in G
        text = f"{found[2]} {found[3].strip()}".strip()
    return _label(draft, text, style)


def _label(draft: Draft, text: str, style: Style) -> str:
    """Take a label off: First dance: Moth. Any other words before a colon stay in the title, in doubt."""
    found = label_of(text)
    role = role_of(text)
    if (
        role
        and not style.roles
        and not text.startswith(f"{role[0]}:")
        and not (_key_follows(role[1], style) or _ends_keyed(role[1], style))
    ):
        role = None
    if role is None and style.dashed_labels:
        role = dashed_label(text)
    if found and role is None and (style.labelled or (style.singers and len(found[0].split()) == 1)):
        role = found  # All: Moth, where the others have a singer's name
    if role:
        draft.note(role[0])
        return role[1]
    if found and style.course and _ends_keyed(found[1], style):
        draft.note(found[0])
        draft.doubts.append(label_or_title(text, *found))
        return found[1]
    draft.label = found[0] if found else ""
    return text


def _ends_keyed(rest: str, style: Style) -> bool:
    """Return whether a title with its key follows a colon, so that what stands before it is hardly a title."""
    end = key_at_end(rest, style.notation)
    bracket = TAIL.match(rest)
    in_bracket = bracket is not None and plain_key(bracket[2], notation=style.notation) is not None
    return in_bracket or bool(end and (end.is_strong or end.is_said or end.before[-1:] in "-–—/|"))


def _key_follows(rest: str, style: Style) -> bool:
    """Return whether a dash separates a key from a title after a label: Processional - Moth - Ab."""
    pieces = pieces_of(rest)
    return len(pieces) > 1 and any(read_piece(piece, style.notation).key for piece in pieces[1:])


def _with_emoji(line: TextLine) -> str:
    """Return the text with its pictures, where a single line has them: they may be part of the title."""
    at = line.whole.find(line.text)
    before = line.whole[:at].split()[-1:] if at > 0 else []
    kept = [part for part in before if part in line.emoji and not part[0].isalnum() and ord(part[0]) > 0x2190]
    return " ".join([*kept, line.text, *line.whole[at + len(line.text) :].split()])


def _take_pieces(draft: Draft, text: str, style: Style) -> None:
    """Take a line apart at its separators: names first, and what follows the first fact is facts and notes."""
    pieces = [
        read_piece(piece, style.notation) for piece in pieces_of(text, commas=style.commas, slashes=style.slashes)
    ]
    if len(pieces) > 1 and pieces[0].key and style.key_in_front:
        draft.take(pieces[0])
        pieces = pieces[1:]
    names: list[str] = []
    has_fact = draft.has_fact
    first_fact = next((at for at, piece in enumerate(pieces) if at and _is_fact(piece, style)), len(pieces))
    for at, piece in enumerate(pieces):
        if at and not style.artist_in_brackets and (said := _ALL_IN_BRACKETS.match(piece.text)):
            draft.take_each(said[1])
        elif at == 0 or (at < first_fact and not piece.is_remark):
            names.append(piece.text)
        elif not _take_one(draft, piece, style):
            has_behind = first_fact < at or has_fact
            if not has_behind:
                draft.doubts.append(Doubt(f"not understood, kept in the notes: {piece.text}"))
            draft.note(piece.text.lstrip("? "))
    if not names:
        names = [text]
    while (
        len(names) > 1 + style.singer_first
        and (names[-1][:1].islower() or _is_sentence(names[-1]))
        and (
            ((style.capitals or _rises_alone(names, style)) and draft.has_key)
            or (style.key_at_end and key_at_end(names[-2], style.notation))
        )
    ):
        draft.note(names.pop())  # a gap and small letters: Moth   horns tacet in verse 1
    if len(names) > 1 and not style.has_artist and not style.singer_first and not draft.has_key:
        for other in names[1:]:
            draft.doubts.append(Doubt(f"not understood, kept in the notes: {other}"))
            draft.note(other)
        names = names[:1]
    peeled = [peel(draft, name, style) for name in names]
    _name(draft, names, peeled, text, style)


def _rises_alone(names: Sequence[str], style: Style) -> bool:
    """Return whether the title, which follows its key, has large letters and the name after it none."""
    return style.key_in_front and names[-2][:1].isupper() and not any(map(str.isupper, names[-1]))


def _is_sentence(name: str) -> bool:
    """Return whether all words after the first are in small letters: Tom sings, he does it."""
    words = name.split()
    return len(words) >= MIN_SENTENCE and not any(word[0].isupper() for word in words[1:])


def _is_fact(piece: LinePiece, style: Style) -> bool:
    text = piece.text
    bare = text.isdecimal() and read_piece(text, style.notation, bare_tempo=True).tempo_bpm is not None
    return (
        piece.is_fact
        or piece.is_nothing
        or bare
        or text[:1] == "?"
        or key_in_front(text, style.notation) is not None
        or KEY_SAID.search(text) is not None
        or key_among_commas(text, style.notation)
    )


def _take_one(draft: Draft, piece: LinePiece, style: Style) -> bool:
    """Take a piece after the names; return False for words that are no known remark."""
    parted = None if piece.key else key_in_front(piece.text, style.notation)
    if parted and not draft.has_key:
        draft.take_key(parted[0])
        draft.take_each(parted[1])
        return True
    if (said := KEY_SAID.search(piece.text)) and not draft.has_key and not piece.is_fact and draft.take_key(said[1]):
        draft.doubts.append(
            doubtful_key(f"{piece.text}: {said[1]} read as the key", draft.title or draft.text, said[1])
        )
        return draft.note(piece.text)
    if not draft.has_key and key_among_commas(piece.text, style.notation):
        draft.take_each(piece.text)
        return True
    if piece.says_something:
        return draft.take(piece)
    number = read_piece(piece.text, style.notation, bare_tempo=True)
    if number.tempo_bpm is not None:
        says = f"{piece.text} read as the tempo"
        draft.doubts.append(doubtful_field(says, f"Is {piece.text} the tempo?", "tempo"))
        return draft.take(number)
    return draft.note(piece.text) if parted else False


def _name(draft: Draft, names: list[str], peeled: list[str], text: str, style: Style) -> None:
    """Settle title and artist of the pieces that are only names."""
    if len(peeled) > 1 and style.singer_first:
        draft.note(peeled.pop(0))
    elif len(peeled) > 1 and style.has_artist:
        if style.artist_first:
            peeled[0], peeled[1] = peeled[1], peeled[0]
        draft.artist = peeled.pop(1)
    elif len(peeled) > 1:
        begin, end = text.find(names[0]), text.rfind(names[-1]) + len(names[-1])
        whole = text[begin:end] if 0 <= begin < end else " - ".join(names)
        peeled = [peel(draft, whole, style)]
        draft.doubts.append(
            Doubt(
                f"read as one title: {peeled[0]}", f"Is {peeled[0]!r} one title?", (YES, *_other_titles(names)), "title"
            )
        )
    elif style.by_artist and (found := BY.match(peeled[0])):
        peeled[0], draft.artist = found[1], found[2]
    draft.title = peeled[0].strip(" ,;")
    for other in peeled[1:]:
        draft.doubts.append(Doubt(f"not understood, kept in the notes: {other}"))
        draft.note(other)


def _other_titles(names: list[str]) -> tuple[DoubtAnswer, ...]:
    rest = " ".join(names[1:])
    return (DoubtAnswer("no", (FieldCorrection("title", names[0]), FieldCorrection("artist", rest))),)


def doubt_key_in_title(draft: Draft) -> None:
    """Report a song without a key whose title ends in one: Salt Parade C may be in C, Vitamin C is not."""
    if draft.has_key or not draft.title:
        return
    end = key_at_end(draft.title, draft.notation)
    if end and end.written[0].isupper():
        draft.doubts.append(key_or_title(end.before.rstrip(SEPARATORS), end.written, end.key))
