"""What can be uncertain about a line, each kind with its question and what the answers correct."""

import msgspec

from companion.music import Key
from companion.setlist.model import Correction, Doubt, DoubtAnswer, FieldCorrection, LineCorrection, LineKind

YES = DoubtAnswer("yes")
NO = DoubtAnswer("no")


def doubtful_song(why: str, title: str) -> Doubt:
    """Doubt that a line is a song though it was read as one."""
    not_played = LineCorrection(LineKind.ASIDE)
    return Doubt(
        f"{why}: read as a song",
        f"Is {title!r} a song?",
        (
            YES,
            DoubtAnswer("no", (not_played,)),
            DoubtAnswer("note", (LineCorrection(LineKind.NOTE),)),
            heads_set(title),
        ),
    )


def heads_set(words: str) -> DoubtAnswer:
    """Return the answer that a line is the heading of a set: it has the songs below it, up to the next heading."""
    return DoubtAnswer("heading", (LineCorrection(LineKind.SET, title=words.strip(" :-–—")),))


def note_or_song(text: str) -> Doubt:
    """Doubt that a line is a note on the song above."""
    song = LineCorrection(LineKind.SONG, title=text)
    answers = (NO, DoubtAnswer("yes", (song,)), heads_set(text))
    return Doubt("read as a note on the song above", f"Is {text!r} a song?", answers)


def played_or_not(says: str, title: str, key: str | None) -> Doubt:
    """Doubt that a line is not played, though it says so."""
    song = LineCorrection(LineKind.SONG, title, key)
    return Doubt(f"{says}: not played", f"Is {title!r} played?", (NO, DoubtAnswer("yes", (song,))))


def song_that_may_be_played(says: str, title: str) -> Doubt:
    """Doubt a song of which the list itself leaves open whether it is played."""
    no = DoubtAnswer("no", (LineCorrection(LineKind.ASIDE),))
    return Doubt(f"{says}: read as played", f"Is {title!r} played?", (YES, no))


def heading_or_song(name: str) -> Doubt:
    """Doubt that a line is the heading of a set."""
    no = DoubtAnswer("no", (LineCorrection(LineKind.SONG, title=name),))
    return Doubt(f"read as the heading of a set: {name}", f"Is {name!r} the heading of a set?", (YES, no))


def heading_or_not(text: str, took: LineKind) -> Doubt:
    """Doubt that a line above songs is no heading, though it was taken for a note on the song above, or for talk."""
    read_as = "a note on the song above" if took is LineKind.NOTE else "no heading"
    heading = DoubtAnswer("yes", heads_set(text).corrections)
    song = DoubtAnswer("song", (LineCorrection(LineKind.SONG, title=text),))
    return Doubt(f"read as {read_as}", f"Is {text!r} the heading of a set?", (NO, heading, song))


def doubtful_key(says: str, title: str, taken: str | None, choices: tuple[str, ...] = ()) -> Doubt:
    """Doubt the key of a song. ``taken``: the key assumed; None if it was left open; ``choices``: which it may be."""
    if taken is None:
        keys = (DoubtAnswer(key, (FieldCorrection("key", key),)) for key in choices)
        return Doubt(says, f"Which key is {title!r} in?", (DoubtAnswer("don't know"), *keys), asks_for="key")
    return Doubt(says, f"Is {title!r} in {taken}?", (YES, DoubtAnswer("no", (FieldCorrection("key"),))), asks_for="key")


def key_or_title(without: str, written: str, key: Key) -> Doubt:
    """Doubt whether a letter at a title's end, left there, is the key. ``written``: the key as the list has it."""
    return Doubt(
        f"ends in {written}, which may be its key: left in the title",
        f"Is {without!r} in {written}?",
        (NO, DoubtAnswer("yes", (FieldCorrection("title", without), FieldCorrection("key", str(key))))),
    )


def length_or_title(without: str, time: str, seconds: int) -> Doubt:
    """Doubt whether a time at a title's end, left there, is the song's length."""
    yes = DoubtAnswer("yes", (FieldCorrection("title", without), FieldCorrection("length", str(seconds))))
    return Doubt(f"ends in {time}, which may be its length: left in the title", f"Is {time} the length?", (NO, yes))


def doubtful_field(says: str, question: str, field: str) -> Doubt:
    """Doubt a value that was taken: no takes it out again, any other word replaces it."""
    return Doubt(says, question, (YES, DoubtAnswer("no", (FieldCorrection(field),))), asks_for=field)


def doubtful_label(label: str, rest: str) -> Doubt:
    """Doubt that words before a colon belong to the title. ``rest``: the title without them."""
    title = DoubtAnswer("no", (FieldCorrection("title", rest), FieldCorrection("notes", label)))
    return Doubt(f"{label}: read as part of the title", f"Does {label!r} belong to the title?", (YES, title), "title")


def label_or_title(whole: str, label: str, rest: str) -> Doubt:
    """Doubt that words before a colon say something about the song, and are no part of its title."""
    title = whole[: len(whole) - len(rest)] + rest.rsplit(" - ", 1)[0].rsplit(" (", 1)[0]
    yes = DoubtAnswer("yes", (FieldCorrection("title", title),))
    return Doubt(f"{label}: read as a note", f"Does {label!r} belong to the title?", (NO, yes), "title")


def song_or_not(title: str) -> Doubt:
    """Doubt a line that was kept in the show's notes though it may be a song."""
    song = LineCorrection(LineKind.SONG, title=title)
    return Doubt(
        "without number, bullet and key: read as no song",
        f"Is {title!r} a song?",
        (NO, DoubtAnswer("yes", (song,)), heads_set(title)),
    )


def answered_with(doubt: Doubt, line: str, title: str, key: str | None, notes: str | None) -> Doubt:
    """Return the doubt, its answer that makes a song of the line making this song of it: the key is no title's end."""
    song = LineCorrection(LineKind.SONG, title, key, notes)
    answers = tuple(
        DoubtAnswer(one.word, tuple(song if _makes_song(each, line) else each for each in one.corrections))
        for one in doubt.answers
    )
    return msgspec.structs.replace(doubt, answers=answers)


def _makes_song(correction: Correction, line: str) -> bool:
    return (
        isinstance(correction, LineCorrection) and correction.took is LineKind.SONG and correction.title.strip() == line
    )


def parted_here() -> Doubt:
    """Doubt that a line of dashes between two songs ends a set."""
    no = DoubtAnswer("no", (LineCorrection(LineKind.RULE),))
    return Doubt(
        "a line between two songs: read as the end of a set", "Does a new set begin below this line?", (YES, no)
    )


def break_or_not(text: str) -> Doubt:
    """Doubt that a line between two songs, which names a break among other words, ends a set."""
    note, song = LineCorrection(LineKind.NOTE), LineCorrection(LineKind.SONG, title=text)
    answers = (YES, DoubtAnswer("no", (note,)), DoubtAnswer("song", (song,)))
    return Doubt(f"read as a break: {text}", f"Does a new set begin below {text!r}?", answers)


def letter_of_title(title: str, letter: str) -> Doubt:
    """Doubt a letter that was read as the key after a word that such letters follow in titles: Plan B."""
    no = DoubtAnswer("no", (FieldCorrection("title", f"{title} {letter}"), FieldCorrection("key")))
    says = f"{letter} read as the key; it may belong to the title"
    return Doubt(says, f"Is {title!r} in {letter}?", (YES, no), asks_for="key")
