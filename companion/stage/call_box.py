"""The call box: finds a song by a few typed letters; ignores accents and allows some typing errors. Pure."""

import itertools
import unicodedata
from collections import Counter
from collections.abc import Callable, Sequence

import msgspec

from companion.music import Key, NotMusic, read_key
from companion.rig.general_midi import NAMES, USUAL
from companion.show import Song, SoundCall
from companion.stage.book import Book

BEST = 3
LONGEST_TITLE = 200  # letters, as in a show file: a song that is called may go into one
LONGEST_TYPED = LONGEST_TITLE + 60  # with a key and sounds; then keys change nothing, and the view says so
ENTER = ("enter", "keypad enter")
LETTERS_A_SLIP = 5  # a shorter text with an error in it may be any title
LETTERS_ALONE = 4  # of such a text, for the only title that is so near
LETTERS_COMPARED = 60  # with a title, for typing errors: more would keep the loop from a pedal
WORST_SCORE = 55.0  # out of 100; below that, titles share hardly any letters

Rank = Callable[[str, Sequence[str]], Sequence[int]]
"""Returns the indexes of the titles that match what was typed, best match first."""


class OfferedSound(msgspec.Struct, frozen=True):
    """A sound of the rig for a new song: as the screen shows it, and as the call box compares it."""

    call: SoundCall
    shown: str
    plain: str


class CallBox(msgspec.Struct, frozen=True):
    """The typed text and the matching songs: their numbers in the book, best match first.

    With ``is_near`` they only resemble the text: they are offered, and enter takes the text as a new song. ``sounds``
    are those that a new song can have.
    """

    titles: tuple[str, ...]
    sounds: tuple[OfferedSound, ...] = ()
    typed: str = ""
    fits: tuple[int, ...] = ()
    is_near: bool = False


class Chosen(msgspec.Struct, frozen=True):
    """A finished call: a song of the book by its number, or a new song that was not on the list."""

    number: int | None = None
    song: Song | None = None


def open_box(titles: Sequence[str], sounds: tuple[OfferedSound, ...] = ()) -> CallBox:
    """Open the box over these titles, the book's songs in the book's order."""
    return CallBox(tuple(map(without_accents, titles)), sounds)


def key_typed(box: CallBox, key: str, text: str | None, rank: Rank | None = None) -> CallBox | Chosen | None:
    """Handle a key. Return the box after it, the song that it chose, or None if it closed the box.

    ``text``: what the key types with shift and the keyboard's layout; None if it types nothing or is not known.

    Enter picks the best match, 1 to 3 the others; escape closes the box. Where nothing matches, where titles only
    resemble the text, or where it contains a comma, enter calls the text as a new song, with its key and its sounds
    after the comma; 1 to 3 then pick a sound, and call it.
    """
    if key == "escape":
        return None
    if key in ENTER:
        return _entered(box)
    sign = text or key  # shift and 3 is #, the sharp of a key, and no third offer
    if sign in ("1", "2", "3") and int(sign) <= len(box.fits):
        return Chosen(number=box.fits[int(sign) - 1])
    if sign in ("1", "2", "3") and int(sign) <= len(offered := sounds_for(box.typed, box.sounds)):
        song = new_song(f"{box.typed.rpartition(',')[0]},", box.sounds)  # what is before the comma may have its own
        return Chosen(song=with_sound(song, offered[int(sign) - 1])) if song else box
    if key == "backspace":
        return _with(box, box.typed[:-1], rank)
    letter = text if text and text.isprintable() else " " if key == "space" else key if len(key) == 1 else ""
    return _with(box, box.typed + letter, rank) if letter and not is_full(box.typed) else box


def is_full(typed: str) -> bool:
    """Return whether the call box takes no further letter."""
    return len(typed) >= LONGEST_TYPED


def without_accents(title: str) -> str:
    """Return a title for comparison while it is typed: no accents, no case; every sign and article still counts.

    >>> without_accents("Crêpe  Paper")
    'crepe paper'
    """
    plain = unicodedata.normalize("NFKD", title)
    return " ".join("".join(letter for letter in plain if not unicodedata.combining(letter)).casefold().split())


def load_ranking() -> None:
    """Import the ranking library in advance: the import takes longer than a keystroke may."""
    import rapidfuzz.fuzz
    import rapidfuzz.process  # noqa: F401 - same


def by_letters(typed: str, titles: Sequence[str]) -> Sequence[int]:
    """Rank the titles that are meant: they begin with the text, then a word does, then all its words begin words."""
    begins = (number for number, title in enumerate(titles) if title.startswith(typed))
    inside = (number for number, title in enumerate(titles) if f" {typed}" in title)
    words = (number for number, title in enumerate(titles) if _has_words(typed, title))
    return tuple(itertools.islice(dict.fromkeys(itertools.chain(begins, inside, words)), BEST))


def _has_words(typed: str, title: str) -> bool:
    """Return whether each typed word begins a word of the title, in any order."""
    return all(any(word.startswith(part) for word in title.split()) for part in typed.split())


def is_slip(typed: str, title: str, letters: int = LETTERS_A_SLIP) -> bool:
    """Return whether the text is the title, or begins it, with typing errors: one in so many letters.

    >>> is_slip("haleluja", "hallelujah bus stop"), is_slip("zoo", "zoom town"), is_slip("zoo", "moon")
    (True, False, False)
    """
    longer, typed = len(typed) - len(title), typed[:LETTERS_COMPARED]
    errors = len(typed) // letters if len(typed) >= LETTERS_A_SLIP else 0
    if longer > errors:
        return False
    title = title[: len(typed) + errors]
    begin = " ".join(title.split()[: len(typed.split())])
    return errors > 0 and (min(_errors(typed, title)) <= errors or _errors(typed, begin)[-1] <= errors)


def _slips(typed: str, titles: Sequence[str], fits: Sequence[int]) -> Sequence[int]:
    """Return which of these titles are the text with typing errors; with more errors, only one that is alone."""
    near = [one for one in fits if is_slip(typed, titles[one])]
    further = [one for one in fits if is_slip(typed, titles[one], LETTERS_ALONE)]
    return near or (further if len(further) == 1 else ())


def _errors(typed: str, title: str) -> list[int]:
    """Return how many letters were left out, added, wrong or exchanged, for each beginning of the title.

    The distance of Damerau and Levenshtein; the last is that to the whole title.
    """
    before: list[int] = []
    row = list(range(len(title) + 1))
    for at, letter in enumerate(typed, 1):
        two_before, before, row = before, row, [at]
        for there, wanted in enumerate(title, 1):
            cost = min(before[there] + 1, row[-1] + 1, before[there - 1] + (letter != wanted))
            if at > 1 and there > 1 and (letter, typed[at - 2]) == (title[there - 2], wanted):
                cost = min(cost, two_before[there - 2] + 1)
            row.append(cost)
    return row


def by_likeness(typed: str, titles: Sequence[str]) -> Sequence[int]:
    """Rank titles that contain the typed letters, then titles that are similar."""
    has_it = by_letters(typed, titles)
    if len(has_it) == BEST:
        return has_it
    from rapidfuzz import fuzz, process

    like = process.extract(typed, titles, scorer=fuzz.WRatio, limit=BEST, score_cutoff=WORST_SCORE)
    return tuple(dict.fromkeys((*has_it, *(number for _, _, number in like))))[:BEST]


def ranked_again(box: CallBox, rank: Rank) -> CallBox:
    """Return the box with its matches ranked for this text."""
    return _with(box, box.typed, rank)


def _with(box: CallBox, typed: str, rank: Rank | None) -> CallBox:
    wanted = without_accents(typed)
    fits = tuple((rank or by_likeness)(wanted, box.titles)) if wanted and "," not in typed else ()
    meant = {*by_letters(wanted, box.titles), *_slips(wanted, box.titles, fits)}
    fits = tuple(sorted(fits, key=lambda one: one not in meant))
    return msgspec.structs.replace(box, typed=typed, fits=fits, is_near=bool(fits) and fits[0] not in meant)


def _entered(box: CallBox) -> CallBox | Chosen:
    if box.fits and not box.is_near:
        return Chosen(number=box.fits[0])
    song = new_song(box.typed, box.sounds)
    return Chosen(song=song) if song else box


def new_song(typed: str, sounds: Sequence[OfferedSound] = ()) -> Song | None:
    """Return the typed song, with the key and the sounds after its comma, in any order.

    None if the title is empty or too long, or if what follows the last comma is neither. A title may contain commas.

    >>> new_song("Wish, Eb").title, new_song("Wish, H")
    ('Wish', None)
    """
    title, after = _parted(typed, sounds)
    if not title or len(title) > LONGEST_TITLE or ("," in typed and not after):
        return None
    song = Song(title)
    for part in filter(None, after):
        key = _key(part) if song.key is None else None
        found = sounds_for(f",{part}", sounds)
        if key is not None or not found:
            song = msgspec.structs.replace(song, key=key or _key(part))
        else:
            song = with_sound(song, found[0])
    return song


def is_too_long(typed: str, sounds: Sequence[OfferedSound] = ()) -> bool:
    """Return whether the typed title has more letters than a title may."""
    return len(_parted(typed, sounds)[0]) > LONGEST_TITLE


def _parted(typed: str, sounds: Sequence[OfferedSound]) -> tuple[str, list[str]]:
    """Return the typed title, and what follows its comma: keys and sounds."""
    parts = [part.strip() for part in typed.split(",")]
    begin = len(parts)
    while begin > 1 and _is_key_or_sound(parts[begin - 1], sounds):
        begin -= 1
    return ", ".join(parts[:begin]), parts[begin:]


def with_sound(song: Song, sound: OfferedSound) -> Song:
    """Return the song with one more sound; it replaces an earlier one for the same keyboard."""
    others = (call for call in song.sounds if call.keyboard != sound.call.keyboard)
    return msgspec.structs.replace(song, sounds=(*others, sound.call))


def sounds_for(typed: str, sounds: Sequence[OfferedSound]) -> tuple[OfferedSound, ...]:
    """Return the best sounds for what follows the last comma, best first; none where there is no comma.

    Right after a comma they are the sounds that the show uses most.
    """
    _, comma, part = typed.rpartition(",")
    if not comma:
        return ()
    wanted = without_accents(part)
    return tuple(sounds[number] for number in by_letters(wanted, [one.plain for one in sounds]))


def sounds_on_offer(book: Book) -> tuple[OfferedSound, ...]:
    """Return the rig's sounds, those first that the show uses most; last, the list of a keyboard on General MIDI."""
    boards = book.rig.keyboards
    used = Counter(
        (number, sound.name)
        for song in book.songs
        for section in song.sections
        for number, sound in enumerate(section.sounds)
        if sound is not None
    )
    written = [(number, sound.name) for number, board in enumerate(boards) for sound in board.sounds]
    published = [
        (number, name) for number, board in enumerate(boards) if board.general_midi for name in (*USUAL, *NAMES)
    ]
    most = sorted(dict.fromkeys((*used, *written)), key=lambda one: -used[one])
    found = []
    for number, name in dict.fromkeys((*most, *published)):
        shown = f"{boards[number].name} {name}" if len(boards) > 1 else name
        found.append(OfferedSound(SoundCall(name, boards[number].name), shown, without_accents(name)))
    return tuple(found)


def _is_key_or_sound(part: str, sounds: Sequence[OfferedSound]) -> bool:
    return not part or _key(part) is not None or bool(sounds_for(f",{part}", sounds))


def _key(typed: str) -> Key | None:
    try:
        return read_key(typed)
    except NotMusic:
        return None
