"""Peel keys, lengths, tempos and remarks off a song's line, from the right and the front."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection
from companion.setlist.notation import Notation
from companion.setlist.parsing.bracketed_keys import take_behind_bracket, take_key_said
from companion.setlist.parsing.cells import length_cell
from companion.setlist.parsing.doubts import doubtful_key, label_or_title, length_or_title, letter_of_title
from companion.setlist.parsing.key_at_end import KeyAtEnd, key_at_end
from companion.setlist.parsing.key_cells import key_cell, plain_key
from companion.setlist.parsing.key_then_words import bracket_before_words
from companion.setlist.parsing.lead_words import without_says
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import (
    ASKED_AT_END,
    CHANGE_AT_END,
    COMMA_AT_END,
    HEAD,
    KEY_AND_WHEN,
    KEY_IN_FRONT,
    LENGTH_AT_END,
    METER_AT_END,
    PARTED,
    POINTED_KEY,
    SAID_AT_END,
    SEGUE_AT_END,
    TAIL,
    TEMPO_AT_END,
    TWO_KEYS_AT_END,
    UNKNOWN_AT_END,
    WAS_NOW_AT_END,
)
from companion.setlist.parsing.pieces import LinePiece, all_say_something, read_piece, read_pieces
from companion.setlist.parsing.remarks import STARS, is_remark, is_small_remark, names_dance
from companion.setlist.parsing.song_draft import IF_KEY, NOT_KNOWN, UNSURE, Draft

OTHER_KEY = re.compile(  # or A if Marla's tired; Marla: F
    r"\b(?:or|maybe|oder|if|do it|doing it|tonight|now|but)\s+(?:in\s+)?[A-G][b#♭♯]?m?\b|"
    r"^(?!capo|gtr|guitar|git)[^\W\d][\w' ]{0,20}:\s*[A-G][b#♭♯]?m?$",
)
PERHAPS = re.compile(r"\s(?:maybe|perhaps|probably|prob|poss|possibly)$")
_SAME = re.compile(  # D (same) Moth, beside A (was C) Weeds
    r"^(?:(?:the |la |lo |het )?(?:same|même|stesso|zelfde)|idem|gleich|igual|samma|samme|unchanged)(?: key)?$",
    re.IGNORECASE,
)
_CONDITION = re.compile(r"^(?:if|only if|when|in case|maybe|optional|spare)\b")
_IN_COLUMN = re.compile(r"\s\s[A-G][b#♭♯]?m?$")
_COMMA_BEFORE_CHANGE = re.compile(r"(?<=[A-G#b♭♯m]),\s+(?=(?:then )?(?:up|down) to [A-G])")
_KEY_IN_TITLE = re.compile(r"[^\W\d_]\s(Key|In)\s{1,10}[A-G]\S{0,2}$")  # Cellar Key G; Lock In Ab
NOW_AT_END = re.compile(r"\s*(?:[-–—:,;(]\s*)(?:now|tonight|today|jetzt|heute)$", re.IGNORECASE)  # Moth – NOW in Ab
SIGN_BEHIND = re.compile(r"\s[*/]\s")
MAX_BEHIND_COMMA = 4  # words
WORDS_BEHIND = 8
KEY_SHOUTED = re.compile(r"^(.*\S\s[A-G][b#♭♯]?m?)!{1,3}$")  # Moth C!!
_SHOUTED_KEY = re.compile(r"\s(?:[A-G][b#♭♯]m?|[B-G]m)!{1,3}$")  # no word of a title
MODES = ("m", "M", "b", "#", "minor", "major", "moll", "dur")  # they belong to the key before them: La m
NO_WORD = re.compile(r"[A-G][b#♭♯]m?$|[B-G]m$")  # a key that is no word of any title
DASHES = ("-", "–", "—", "<-", "<--", "<=", "<==", "←")  # what they part is read as pieces
SEPARATORS = " -–—:,|/=•·.…_"


def peel(draft: Draft, text: str, style: Style) -> str:
    """Split off recognizable pieces from the right and the front; the rest is the title."""
    while True:
        before = text
        text = _peel_brackets(draft, text, style)
        text = _peel_words(draft, text, style)
        if (found := STARS.search(text)) and text[: found.start()].strip():
            draft.stars += found[1]
            text = text[: found.start()].rstrip()
        if text == before:
            return text


def _is_bracketed_note(said: str, before: str, style: Style) -> bool:
    """Return whether a bracket holds a singer, the kind of a tune, or what other lines have there."""
    return said in style.singers or (style.note_in_brackets and bool(said)) or (bool(before) and names_dance(said))


def _peel_brackets(draft: Draft, text: str, style: Style) -> str:
    if (found := TAIL.match(text)) and found[2].strip() in style.singers:
        draft.note(found[2])
        return without_separators(found[1])
    if found and style.two_keys and not draft.has_key and (second := plain_key(found[2], notation=style.notation)):
        end = key_at_end(found[1].rstrip(SEPARATORS), style.notation)
        if end:
            draft.key = end.key
            draft.note(f"key in brackets: {found[2]}")
            draft.doubts.append(doubtful_key(f"two keys, {end.key} and {second}", end.before, str(end.key)))
            return end.before.rstrip(SEPARATORS)
    if found:
        pieces = read_pieces(found[2], style.notation)
        rest = without_separators(found[1])
        if found[2].strip() and not draft.has_key and NOT_KNOWN.fullmatch(found[2].strip(" ?!.")):
            return _asked(draft, rest, style)
        if IF_KEY.match(found[2]) and (_ends_in_sure_key(draft, rest, style) or _IN_COLUMN.search(rest)):
            _note_behind_key(draft, found[2], rest, style)  # Moth F (Cm if Ann sings)
            return rest
        if not found[2].strip() or all_say_something(pieces):
            if pieces and pieces[0].key and pieces[0].key.key is None and (end := key_at_end(rest, style.notation)):
                draft.key, rest = end.key, end.before.rstrip(SEPARATORS)  # Moth G (was A): the key stands before it
            draft.take_all(pieces, found[2])
            return rest
        if rest and not draft.has_key and _names_one_key(pieces, style):
            draft.take_all(pieces, found[2])  # Moth (bossa, Dm)
            return rest
        if rest and not _may_end_in_key(draft, rest, style) and take_key_said(draft, found[2], rest):
            return rest  # Moth (back in G)
        if _is_bracketed_note(found[2].strip(), rest, style):
            draft.note(found[2])
            return rest
        if style.artist_in_brackets and draft.artist is None:
            draft.artist = found[2].strip()
            return rest
        if rest and _ends_in_sure_key(draft, rest, style):
            _note_behind_key(draft, found[2], rest, style)
            return rest
        if found[2].strip(" ?") == "" and "?" in found[2]:
            return rest
        if rest and not PARTED.search(rest) and is_small_remark(found[2].strip(), rest):
            draft.note(found[2])
            yes = DoubtAnswer("yes", (FieldCorrection("title", f"{rest} ({found[2].strip()})"),))
            says, asks = f"{found[2].strip()}: read as a note", f"Does ({found[2].strip()}) belong to the title?"
            draft.doubts.append(Doubt(says, asks, (DoubtAnswer("no"), yes), "title"))
            return rest
    found = None if draft.has_key else bracket_before_words(text)
    if found and (
        plain_key(found[2], notation=style.notation) or _names_one_key(read_pieces(found[2], style.notation), style)
    ):
        draft.take_each(found[2])
        take_behind_bracket(draft, found[1].rstrip(SEPARATORS), found[3], found[4])
        return found[1].rstrip(SEPARATORS)
    if found := HEAD.match(text):
        pieces = read_pieces(found[1], style.notation)
        if found[1].strip() in style.singers:
            draft.note(found[1])
            return found[2]
        if found[1].strip() and (all_say_something(pieces) or found[1].strip() in style.singers):
            draft.take_all(pieces, found[1])
            return found[2]
        if found[2].strip(SEPARATORS) and (not found[1].strip() or (draft.has_key and _SAME.match(found[1]))):
            return found[2]
        if _CONDITION.match(found[1]):
            draft.note(found[1])  # (if they want more) Moth
            draft.doubts.append(label_or_title(f"({found[1]}) {found[2]}", f"({found[1]})", found[2]))
            return found[2]
    if text[:1] in "([{" and text[-1:] in ")]}" and text[1:-1].strip() and not set("()[]{}") & set(text[1:-1]):
        return text[1:-1].strip()  # brackets around the whole title
    return text


def _names_one_key(pieces: Sequence[LinePiece], style: Style) -> bool:
    """Return whether a bracket says words and then a key, or between words one that is no word: (bossa, Dm)."""
    keyed = [piece for piece in pieces if piece.key and piece.key.key]
    if len(keyed) != 1 or len(pieces) == 1 or any(piece.key for piece in pieces if piece is not keyed[0]):
        return False
    is_written = keyed[0].text[:1].isupper() or style.notation is Notation.SYLLABLES
    return is_written and (keyed[0] is pieces[-1] or NO_WORD.match(keyed[0].text) is not None)


def without_separators(text: str) -> str:
    """Return the text without the signs before the next piece; a minus right after a key stays: SIb- (long)."""
    return text if re.search(r"(?<=[^\s\W])-$", text) else text.rstrip(SEPARATORS)


def _note_behind_key(draft: Draft, words: str, before: str, style: Style) -> None:
    """Keep a bracket after a key as a note. Another key in it makes the key doubtful: Bb (or A if Marla's tired)."""
    draft.note(words)
    end = key_at_end(before, style.notation)
    if end and (OTHER_KEY.search(words) or IF_KEY.match(words)):
        says = f"{end.written} ({words}): used {end.written}, the rest is in the notes"
        draft.doubts.append(doubtful_key(says, end.before.rstrip(SEPARATORS), str(end.key)))


def _ends_in_sure_key(draft: Draft, text: str, style: Style) -> bool:
    """Return whether a key stands before a bracket: Fog Signal Eb (capo 1 for gtr)."""
    if draft.has_key:
        return False
    if (found := TAIL.match(text)) and all_say_something(read_pieces(found[2], style.notation)):
        return True
    end = key_at_end(text, style.notation)
    return bool(end and _is_sure(end, style))


def _may_end_in_key(draft: Draft, text: str, style: Style) -> bool:
    return draft.has_key or key_at_end(text, style.notation) is not None or _ends_in_sure_key(draft, text, style)


def _is_sure(end: KeyAtEnd, style: Style) -> bool:
    """Return whether letters at the end are the key, not the title's last word."""
    is_said = end.is_said and (end.written[0].isupper() or style.key_at_end)
    is_said = is_said or (end.written[0].isupper() and without_says(end.before) != end.before)
    return end.is_strong or is_said or end.before[-1:] in "-–—:,|/=)]" or style.key_at_end


def _peel_words(draft: Draft, text: str, style: Style) -> str:
    found = None if draft.length_s is not None else LENGTH_AT_END.match(text)
    if found and style.lone_time and _is_behind_word(text, found[2]):
        seconds = length_cell(found[2])
        if seconds is not None and not any(found[2] in doubt.says for doubt in draft.doubts):
            draft.doubts.append(length_or_title(found[1], found[2], seconds))
    elif found and draft.take_length(found[2]):
        return found[1].rstrip(SEPARATORS)
    if (
        draft.meter is None
        and not PARTED.search(text)
        and (found := METER_AT_END.match(text))
        and draft.take_meter(found[2])
    ):
        return found[1].rstrip(SEPARATORS)
    if draft.tempo_bpm is None and (found := TEMPO_AT_END.match(text)):
        is_bare = found[2].isdecimal()
        if (not is_bare or (style.tempo_at_end and 40 <= int(found[2]) <= 260)) and draft.take_tempo(
            found[2], named=True
        ):
            return found[1].rstrip(SEPARATORS)
    if found := SAID_AT_END.match(text):
        draft.note(found[2])
        return found[1].rstrip(SEPARATORS)
    if (found := SEGUE_AT_END.match(text)) and (draft.has_key or _holds_key(found[1], style)):
        draft.note(found[2])
        draft.segue = True
        return found[1].rstrip(f"{SEPARATORS}>")
    if found := UNKNOWN_AT_END.match(text):
        return _asked(draft, found[1].rstrip(SEPARATORS), style)
    if not draft.has_key and (found := ASKED_AT_END.match(text)):
        end = key_at_end(found[1].strip(), style.notation)
        if end and _is_sure(end, style):
            return _asked(draft, found[1].strip(), style)
    if not draft.has_key:
        loud = KEY_SHOUTED.match(text)
        loud = loud if loud and (style.key_at_end or _SHOUTED_KEY.search(text)) else None
        return _peel_key(draft, loud[1] if loud else text, style)
    return text


def _is_behind_word(text: str, time: str) -> bool:
    """Return whether only one space parts a time from the word before it: Seen 10:42."""
    before = text.removesuffix(time)
    return before[-1:] == " " and before[-2:-1].isalnum()


def _asked(draft: Draft, text: str, style: Style) -> str:
    """Take a key that a question mark follows: Moth - G ?, in doubt; a question mark alone is no key."""
    end = key_at_end(text, style.notation) if not draft.has_key else None
    if end is None or not _is_sure(end, style):
        draft.key_is_unknown = True
        return text
    draft.key = end.key
    says = f"the list itself has a question mark: {end.written}?"
    draft.note(f"{end.written}?")
    draft.doubts.append(doubtful_key(says, end.before.rstrip(SEPARATORS), str(end.key)))
    return end.before.rstrip(SEPARATORS)


def _holds_key(text: str, style: Style) -> bool:
    end = key_at_end(text.rstrip(")] "), style.notation)
    return bool(end and _is_sure(end, style)) or bool(
        (found := TAIL.match(text)) and any(piece.key for piece in read_pieces(found[2], style.notation))
    )


def _peel_key(draft: Draft, text: str, style: Style) -> str:
    """Take a key separated from the title only by a space; a lone letter counts only where most lines end in a key."""
    if (found := WAS_NOW_AT_END.match(text)) and draft.take_key(found[3]):
        draft.note(found[2])
        return found[1].rstrip(SEPARATORS)
    if (found := KEY_AND_WHEN.match(text)) and draft.take_key(found[2]):
        draft.note(found[3])
        draft.doubts.append(doubtful_key(f"{found[2]} read as the key", found[1].rstrip(SEPARATORS), found[2]))
        return found[1].rstrip(SEPARATORS)
    if before := _peel_pointed(draft, text, style):
        return before
    text = _COMMA_BEFORE_CHANGE.sub(" ", text)
    for pattern in (CHANGE_AT_END, TWO_KEYS_AT_END):
        if (found := pattern.match(text)) and (key := key_cell(found[2], notation=style.notation)):
            first = key_at_end(f"{found[1]} {found[2].split()[0]}", style.notation)
            if key.key is None or not first or _is_sure(first, style) or len(found[2]) > 3:
                draft.take_key(found[2])
                return found[1].rstrip(SEPARATORS)
    if style.key_at_end and SIGN_BEHIND.search(text) and (before := _peel_middle(draft, text, style)):
        return before
    end = key_at_end(text, style.notation)
    if end and end.is_said and not style.key_named and (found := _KEY_IN_TITLE.search(text)) and not text.isupper():
        end = msgspec.structs.replace(end, before=f"{end.before} {found[1]}", is_said=not style.key_at_end)
        if not style.key_at_end:
            draft.doubts.append(doubtful_key(f"{found[1]} {end.written} at the end", end.before, end.written))
    if end and (first := _key_before_comma(text, style)):
        draft.key = first.key
        draft.note(text.partition(",")[2])
        says = f"two keys, {first.key} and {end.key}"
        draft.doubts.append(doubtful_key(says, first.before.rstrip(SEPARATORS), str(first.key)))
        return first.before.rstrip(SEPARATORS)
    if end and _is_sure(end, style):
        draft.take_key(end.written)
        title = NOW_AT_END.sub("", without_says(end.before.rstrip(SEPARATORS), is_said=end.is_said))
        alone = len(end.written) == 1 and end.before[-1:] not in "-–—:,|/=)]" and not end.is_said
        if alone and end.may_be_title:
            draft.doubts.append(letter_of_title(title, end.written))
        if found := PERHAPS.search(title):
            draft.note(f"{found[0].strip()} {end.written}")
            title = title[: found.start()].rstrip(SEPARATORS)
            draft.doubts.append(
                doubtful_key(f"the list itself says {found[0].strip()} {end.written}", title, end.written)
            )
        return title
    if not style.commas and (before := _peel_comma(draft, text, style)):
        return before
    if (style.key_at_end or style.capitals) and (before := _peel_middle(draft, text, style)):
        return before
    found = KEY_IN_FRONT.match(text)
    if found and plain_key(found[1], notation=style.notation):
        is_sure = style.key_in_front or (len(found[1]) > 1 and found[1] != "Am" and text[found.end(1)] == ":")
        if is_sure and draft.take_key(found[1]):
            return found[2].lstrip(SEPARATORS)
    return text


def _peel_pointed(draft: Draft, text: str, style: Style) -> str | None:
    """Take a key between a point or a comma and a point, or behind which somebody is unsure: Moth. C I think."""
    if not (found := POINTED_KEY.match(text)) or not plain_key(found[2], notation=style.notation):
        return None
    said = found[3] or found[4]
    is_unsure = UNSURE.fullmatch(said) is not None
    is_words = not said[:1].isupper() or said[-1:] == "!" or is_remark(said)  # not the name in Moth, D. Marsh
    is_apart = found[3] is not None and (len(found[2]) > 1 or is_words)
    if not (is_apart or is_unsure) or not draft.take_key(found[2]):
        return None
    draft.note(said)
    if is_unsure:
        draft.doubts.append(doubtful_key(f"the list itself says {found[2]} {said}", found[1], found[2]))
    return found[1]


def _key_before_comma(text: str, style: Style) -> KeyAtEnd | None:
    """Return the key in front of a comma and of another key after a few words: Moth Cm, Trio Es."""
    head, comma, tail = text.partition(",")
    is_key = plain_key(tail.strip(), notation=style.notation) is not None  # Little sol, La m
    is_short = bool(comma) and not is_key and 1 < len(tail.split()) <= MAX_BEHIND_COMMA
    end = key_at_end(head, style.notation) if is_short else None
    return end if end and (end.is_strong or len(end.written) > len("Bb")) else None


def _peel_middle(draft: Draft, text: str, style: Style) -> str | None:
    """Take a key with words after it, where this list has keys after its titles: Moth F#m 2 bar pickup."""
    words = text.split(" ")
    begins = range(len(words) - 1, max(0, len(words) - 1 - WORDS_BEHIND), -1)
    for at in sorted(
        begins, key=lambda at: (words[at][:1] not in "(*/", -at)
    ):  # a sign first: Moth G * up to A at the end
        tail = " ".join(words[at:])
        before = " ".join(words[:at])
        asked = before.rstrip("?")
        end = key_at_end(asked, style.notation)
        if end is None or len(asked) < len(before) - 3 or words[at] in MODES or words[at] in DASHES:
            continue
        small = end.is_strong and (tail[-1:] == "!" or (tail.isupper() and not text.isupper()))
        small = small or tail[:1].islower() or tail[:1].isdigit() or tail[:1] in "(*_/"
        if not style.key_at_end and not (
            NO_WORD.match(end.written) and tail[:1].islower() and end.before[:1].isupper()
        ):
            continue
        if not (small or is_remark(tail)) or (not end.is_strong and not end.written[0].isupper()):
            continue
        draft.key = end.key
        draft.note(tail.strip("*_()/ "))
        title = end.before.rstrip(SEPARATORS)
        if asked != before or len(end.written) == 1 or not style.key_at_end:
            said = before[len(end.before) :].strip()
            says = f"{said} read as the key" if asked == before else f"the list itself has a question mark: {said}"
            draft.doubts.append(doubtful_key(says, title, str(end.key)))
        return title
    return None


def _peel_comma(draft: Draft, text: str, style: Style) -> str | None:
    """Take words after a comma and a key, as in: Moth in G, keys start."""
    found = COMMA_AT_END.match(text)
    if not found:
        return None
    words, end = found[2].rstrip("!. "), key_at_end(found[1], style.notation)
    in_bracket = (tail := TAIL.match(found[1])) and any(piece.key for piece in read_pieces(tail[2], style.notation))
    if not (in_bracket or (end and _is_sure(end, style))):
        return None
    behind = read_piece(words, style.notation)
    is_talk = style.key_at_end and words[:1].islower() and not (end and end.may_be_title)  # Moth A, everybody up
    if not (in_bracket or behind.says_something or is_talk or (end and (end.is_said or end.is_strong))):
        return None
    if behind.says_something:
        draft.take_each(words)
    else:
        draft.note(words)
    return found[1]
