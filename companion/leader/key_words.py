"""Keys as a leader says them: Bb, B flat minor, es-moll, si bemol, D then E, A not G."""

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.leader.key_choices import overruled, preferred
from companion.leader.key_joins import (
    ANDS,
    BEFORE_PAST,
    BUT,
    DECIDED,
    INSTEAD,
    NEVER_AFTER_A,
    NO_LONGER,
    OR,
    PAST,
    TAKEN_BACK,
    THEN,
    TOO,
    TOO_HIGH,
    TRIED,
    as_typed,
    follows,
    is_article,
    is_before_verb,
    is_dutch_and,
    is_foreign_and,
    is_from,
    is_nordic_in,
    is_number_sign,
    is_of_others,
    is_syllable_behind,
    is_told,
    spelled,
)
from companion.leader.keys_made import key_made
from companion.leader.reply_words import CLOCK, NUMBER, WORD, ReplyWord, phrase_of, set_of
from companion.leader.starting_words import START_VERBS
from companion.music import Key, read_key
from companion.setlist import Notation

FLATS: Final = set_of("flat b ♭ bemol bemoll bemolle bmol es")
SHARPS: Final = set_of("sharp # ♯ diese diesis sostenido sustenido is")
MINOR: Final = set_of(
    "minor miner min m moll mol mineur minore menor minr klein molli mollissa mollista mollia mollban"
)
MAJOR: Final = set_of("major maj dur majeur maggiore mayor maior groot duuri duurissa duurista duuria durban")
MODES: Final = set_of("dorian mixolydian lydian phrygian locrian aeolian ionian")
SOLFEGE: Final = {"do": "C", "re": "D", "mi": "E", "fa": "F", "sol": "G", "la": "A", "si": "B"}
# Letters as a telephone writes them down, right after a song: number six gee, number eight dee flat.
SPOKEN: Final = {"ay": "A", "bee": "B", "cee": "C", "dee": "D", "ee": "E", "eff": "F", "gee": "G"}
NOT_A_KEY_BEFORE: Final = set_of("i we they you bit plan option x what who where")
AFTER_A: Final = set_of(
    "at same and then but please thanks i maybe probably for sorry not or minor major flat sharp und dur moll "
    "oh um uh er hmm"
)
BEFORE_A_KEY: Final = set_of(
    "being in em v ve je som key is of = : - – — # en not to then its thats ( , or but now also "
    "glaube glaub denke tror think maybe vielleicht crois creo credo forse denk misschien perhaps probably"
)
LETTER: Final = re.compile(
    r"([A-Ha-h])(#|♯|b|♭|isz|esz|sz|iss|is|ess|es|ss|s|B(?![a-z])|-?flat|-?sharp)?(m|min|minor|moll|maj|major|dur|mi|M|MIN|MINOR|MAJ|MAJOR|MOLL|DUR)?$"
)
CAPITAL: Final = re.compile(r"[A-G][b#♭♯]?m?$")  # the next of several keys: G D Am
DUTCH: Final = "bes"  # B flat in Dutch and in Danish spellings
COUNT_VERBS: Final = set_of("count counting counted alone on solo first")


class KeyReading(NamedTuple):
    """A key and where its words end. ``firm``: it cannot be another word. ``then`` and ``denied`` are further keys.

    ``key`` is None if two keys are left open.
    """

    key: Key | None
    end: int
    firm: bool
    doubt: str = ""
    then: str = ""
    denied: Key | None = None
    second: Key | None = None  # of two keys in turn


def key_at(
    words: Sequence[ReplyWord],
    at: int,
    known: frozenset[str],
    *,
    notation: Notation,
    after_song: bool = False,
    after_in: bool = False,
) -> KeyReading | None:
    """Read a key, or two of them. ``known``: words that may follow a key; after others A is an article.

    ``after_song``: a song's number or title is right before it; ``after_in``: only a key can be here.
    """
    if many := phrase_of(words, at, NO_LONGER) or phrase_of(words, at, TRIED):
        return _other_than(words, at + many, known, notation=notation, is_tried=phrase_of(words, at, TRIED) > 0)
    first = _one(words, at, known, notation=notation, after_key=after_in, after_song=after_song)
    if first is None or first.key is None:
        return first
    if (old := _old_key(words, first.end, known, notation=notation)) is not None:
        return first._replace(end=old.end, denied=old.key, firm=True)
    back, too = (phrase_of(words, first.end, one) for one in (TAKEN_BACK, TOO_HIGH))
    if back or too:
        right = _other_than(words, at, known, notation=notation, behind=back or too, is_tried=not back)
        if right is not None:
            return right
    wish = overruled(words, first.end)
    if wish and (chosen := _one(words, wish, known, notation=notation, after_key=True)) and chosen.key:
        return chosen._replace(firm=True, doubt=as_typed(words, at, chosen.end))
    for joins, kind in ((THEN, "then"), (INSTEAD, "not"), (OR, "or")):
        for join in joins:
            begins = first.end + len(join)
            if not follows(words, first.end, join) or begins >= len(words):
                continue
            if join == ("/",) and words[first.end - 1].end < words[first.end].start:
                continue  # 5 G / 6 A
            second = _one(words, begins, known, notation=notation, after_key=True)
            if second is None or second.key is None or is_of_others(words, join, second.end, is_then=kind == "then"):
                continue
            said = as_typed(words, at, second.end)
            if kind == "or" and first.key != second.key:
                which, end = preferred(words, (at, first.end), (begins, second.end))
                said, key = as_typed(words, at, end), (first.key, second.key)[which]
                return first._replace(key=key, end=end, firm=True, doubt=said)
            if kind == "not" and second.key == read_key("B") and words[begins].low == "h" and words[at].low == "b":
                return first._replace(key=read_key("Bb"), end=second.end, denied=second.key, firm=True)  # b, not h
            if kind == "not":
                return first._replace(end=second.end, denied=second.key, firm=True)
            if kind == "then":
                return first._replace(
                    end=second.end, then=said, doubt=f"two keys: {said}", firm=True, second=second.key
                )
    return first


def _old_key(words: Sequence[ReplyWord], at: int, known: frozenset[str], *, notation: Notation) -> KeyReading | None:
    """Read the key that another one replaces, after it: (changed from C); , antes en fa."""
    begins = at + (at < len(words) and words[at].low in BEFORE_PAST)
    begins += phrase_of(words, begins, PAST) or is_from(words, begins) or len(words)
    old = _one(words, begins, known, notation=notation, after_key=True) if begins < len(words) else None
    return old if old is not None and old.key is not None else None


def _other_than(
    words: Sequence[ReplyWord], at: int, known: frozenset[str], *, notation: Notation, behind: int = 0, is_tried: bool
) -> KeyReading | None:
    """Read: G but A, after a "not". ``behind``: words that follow the wrong key; ``is_tried``: a word must decide."""
    denied = _one(words, at, known, notation=notation, after_key=True) if at < len(words) else None
    if denied is None or denied.key is None:
        return None
    joined = denied.end + behind + phrase_of(words, denied.end + behind, BUT)
    begins = joined + phrase_of(words, joined, DECIDED)
    if begins > denied.end and (many := phrase_of(words, begins, TRIED)):
        return _other_than(words, begins + many, known, notation=notation, is_tried=True)
    if not denied.end < begins < len(words) or (is_tried and begins == joined):
        return None
    right = _one(words, begins, known, notation=notation, after_key=True)
    return right._replace(denied=denied.key, firm=True) if right is not None and right.key is not None else None


def _one(
    words: Sequence[ReplyWord],
    at: int,
    known: frozenset[str],
    *,
    notation: Notation,
    after_key: bool = False,
    after_song: bool = False,
) -> KeyReading | None:
    """Read one key: a letter or a syllable, flat or sharp, minor or major or a mode."""
    word = words[at]
    if word.kind != WORD or is_portuguese_in(words, at):
        return None
    match = LETTER.match(word.text)
    letter, sign, mode = (match[1], match[2] or "", match[3] or "") if match else ("", "", "")
    sign = "b" if word.low == DUTCH else sign
    sign = sign.removesuffix("z") if sign.endswith("z") else sign  # Esz-dúr, Fisz-moll
    is_swedish = sign in ("ss", "ess", "iss")  # Ess-dur, Dess-dur, Fiss-moll
    sign = sign.removesuffix("s") if is_swedish else sign
    if not match and after_song and word.low in SPOKEN:
        letter = SPOKEN[word.low]
    elif not match:
        is_minor = word.low[-1:] == "m" and word.low[:-1] in SOLFEGE and (word.text[:1].isupper() or after_song)  # Rem
        has_sign = word.low[-1:] in ("b", "#") and word.low[:-1] in SOLFEGE
        both = _SIGNED_MINOR.match(word.low)  # fa#m, sibm
        syllable = both[1] if both else word.low[:-1] if has_sign or is_minor else word.low
        if syllable not in SOLFEGE:
            return None
        letter, sign = SOLFEGE[syllable], both[2] if both else "" if is_minor else word.low[len(syllable) :]
        mode = "m" if is_minor or both else ""
    end = at + 1
    if not sign and not mode:
        end, sign = _sign(words, end)
    sign = {"B": "b", "flat": "b", "sharp": "#"}.get(sign, sign)
    may_be_major = mode == "M"
    mode = "m" if may_be_major else mode.lower()
    if not mode:
        end, mode = _mode(words, end)
    if end > at + 1 and words[end - 1].text == "M":
        mode, may_be_major = "maj", True  # La m, Mi M
    is_minus = not mode and _is_minus(words, end)
    end, mode = (end + 1, "m") if is_minus else (end, mode)
    stands_alone = after_song and end == at + 1 and _ends_here(words, end)
    if is_swedish and not mode and not stands_alone and not (word.text[:1].isupper() and _before(words, at) == "i"):
        return None  # an ordinary word, such as less or ass
    is_plain = end == at + 1 and not sign and not mode and len(word.text) <= 3
    if stands_alone and word.low in _OF_SONGS:
        after_key = True
    if not after_key and not _stands_as_key(words, at, end, known, has_more=bool(end > at + 1 or (sign and mode))):
        return None
    if word.low == "a" and not sign and mode and end > at + 1 and end < len(words) and words[end].low == "key":
        return None  # in a minor key
    key, doubt = key_made(letter, sign, mode, notation=notation)
    if key is None:
        return None
    firm = (
        is_syllable_behind(word.text, _before(words, at))
        or not is_plain
        or _before(words, at) in BEFORE_A_KEY
        or after_song
        or words[at - 1].kind == NUMBER
    )
    if word.low in ("si", "sim") and end == at + 1:
        doubt = f"{word.text} may be a yes"
    if is_minus and match:
        doubt = f"{word.text}- may be minor"
    if may_be_major:
        doubt = f"{word.text} may be major or minor"
    if end == at + 1 and not doubt:
        doubt = _other_meaning(words, at)
    return KeyReading(key, spelled(words, at, end), firm, doubt)


_AFTER_AS: Final = set_of("the a an you i we it to for regards concerns per")
_SIGNED_MINOR: Final = re.compile(r"([a-z]{2,3})([#b♯♭])(?:m|min)$")
# Other words, but where a song stands before them and nothing after.
_OF_SONGS: Final = SPOKEN.keys() | SOLFEGE.keys() | set_of("a es des ges ces am ess dess ass gess")


def _is_minus(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a minus after a key says that it is minor, as in LA- and FA#-, and joins nothing to it."""
    if not 0 < at < len(words) or words[at].text not in ("-", "–") or words[at - 1].end != words[at].start:
        return False
    if at + 1 >= len(words) or words[at + 1].text in (",", ";", ")"):
        return True
    if at + 1 < len(words) and words[at + 1].kind == NUMBER and words[at + 1].start > words[at].end:
        return True  # 1 A- 2 G
    return words[at + 1].start > words[at].end and words[at - 1].low.rstrip("b#") in SOLFEGE


def _other_meaning(words: Sequence[ReplyWord], at: int) -> str:
    """Return the words of which a letter may be a part: D-day, C you there, 2 am 4 pm; else ""."""
    follows, last = (words[one] if one < len(words) else None for one in (at + 1, at + 2))
    if follows and last and follows.low == "-" and last.kind == WORD and words[at].end == follows.start:
        return f"{words[at].text}-{last.text}" if last.start == follows.end and not LETTER.match(last.text) else ""
    if words[at].text in ("C", "c") and follows and follows.low in ("you", "u", "ya") and last and last.kind == WORD:
        return f"{words[at].text} {follows.text}" if last.low not in START_VERBS | COUNT_VERBS else ""
    is_hour = at > 0 and words[at - 1].kind == NUMBER and words[at].text in ("am", "AM")
    return f"{words[at - 1].text} {words[at].text}" if is_hour and any(one.low.endswith("pm") for one in words) else ""


def _sign(words: Sequence[ReplyWord], at: int) -> tuple[int, str]:
    """Read flat, sharp or natural, also after a hyphen."""
    if at < len(words) and words[at].low in ("natural", "naturel", "naturelle", "naturale"):
        return at + 1, ""
    for skip in (0, 1):
        here = at + skip
        if here < len(words) and (skip == 0 or words[at].low == "-"):
            low = words[here].low
            if low in FLATS and low != "es" and not (low == "b" and _is_letter(words, here)):
                return here + 1, "b"
            if low in SHARPS and low != "is" and not is_number_sign(words, here):
                return here + 1, "#"
    return at, ""


def _is_letter(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a "b" is a key and no flat sign: a B, a b flat."""
    follows = words[at + 1].low if at + 1 < len(words) else ""
    return words[at].text == "B" or follows in FLATS | SHARPS


def _mode(words: Sequence[ReplyWord], at: int) -> tuple[int, str]:
    for skip in (0, 1):
        here = at + skip
        if here < len(words) and (skip == 0 or words[at].low == "-"):
            low = words[here].low
            if low in MINOR:
                return here + 1, "moll" if low.startswith("moll") else "m"
            if low in MAJOR:
                return here + 1, "dur" if low.startswith(("dur", "duur")) else "maj"
            if low in MODES:
                return here + 1, f" {low}"
    return at, ""


def is_portuguese_in(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "em" is "in" before a syllable: em Lá menor, em Dó."""
    follows = words[at + 1].low.rstrip("b#") if at + 1 < len(words) else ""
    return words[at].text == "em" and follows in SOLFEGE


_IS: Final = set_of("is its it's are stays goes now still that's thats be")
_THEM: Final = set_of("all low off up out slow fast down both going short tight")
_LETTERED: Final = set_of("list lister listers team side road roads class type level grade ward block wing")


def _ends_here(words: Sequence[ReplyWord], at: int) -> bool:
    at += at < len(words) and words[at].low in TOO  # la valse sol aussi
    return (
        _is_joined(words, at)
        or at >= len(words)
        or words[at].kind != WORD
        or (_before(words, at) in SOLFEGE and words[at].low in ANDS[:3])
    )


def _is_joined(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether another key that is named do, re, mi follows: do puis re, sol o la."""
    return at + 1 < len(words) and (words[at].low,) in OR + THEN and words[at + 1].low in SOLFEGE


def _is_second(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "und" and a key stand before a word: E und Es."""
    return at > 1 and words[at - 1].low in ("und", "and", "en", "og", "och") and bool(LETTER.match(words[at - 2].text))


def _before(words: Sequence[ReplyWord], at: int) -> str:
    return words[at - 1].low if at else ""


def _is_in(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word for "in" stands before a key that is named do, re, mi."""
    return _before(words, at) in ("in", "en", "em")


def _stands_as_key(words: Sequence[ReplyWord], at: int, end: int, known: frozenset[str], *, has_more: bool) -> bool:
    """Return whether a word is a key here: "a", "am", "as", "es", "do" and the like are other words too."""
    text, before = words[at].text, _before(words, at)
    follows = words[end] if end < len(words) else None
    free_after = follows is None or follows.kind != WORD or follows.low in known or bool(CAPITAL.match(follows.text))
    free_after |= is_told(words, end) or is_dutch_and(words, end)
    if text == "e" and before == ")" and not has_more and follows is not None and follows.kind == WORD:
        return False  # and, in Italian: tranne Moth (La minore) e Tin Roof (Sol)
    if text.lower() in SOLFEGE and not has_more and follows is not None and follows.low in ANDS and _is_in(words, at):
        return True  # in do e parte la chitarra
    if text == "e" and at > 1 and words[at - 1].low in SOLFEGE and not has_more and _is_in(words, at - 1):
        return False  # the "and" of the same
    if is_before_verb(words, at):
        return True
    if is_foreign_and(words, at) or (text == "em" and follows and follows.low in _THEM):
        return False  # I count em all off
    if len(text) == 1 and follows is not None and follows.low in _LETTERED and not has_more:
        return False  # D list, the A team
    if text.lower() == "as" and follows is not None and (follows.low in _AFTER_AS or follows.kind == NUMBER):
        return False  # as the title suggests, as to 5; 5 as 4
    if text.lower() in ("la", "a") and is_article(words, at):
        return False  # la 1 en sol
    if before == "the" and follows is not None and follows.low in ("one", "ones", "song", "tune"):
        return False  # the Bb one
    if text == "A" and before == "in" and at > 1 and words[at - 2].low in _IS:
        return True  # is in A believe it or not
    if has_more and (text.lower() not in ("a", "as", "do") or (text.lower() == "do" and _is_in(words, at))):
        return True
    is_in = (before in ("en", "in", "em", "i") and free_after) or _is_joined(words, end)  # en Re menos la 5
    is_in = is_in or (follows is not None and follows.low in TOO)
    if is_syllable_behind(text, before) and _ends_here(words, end):
        return True  # creo que La
    if text.lower() in SOLFEGE and not has_more and follows is not None and follows.kind == WORD and not is_in:
        return False  # do you know
    if text == "a" and before == "in" and follows is not None and follows.low in NEVER_AFTER_A:
        return True  # the next one's in a the fiddle starts it
    if text == "a" and follows is not None and follows.kind == WORD and not has_more and follows.low not in AFTER_A:
        return False  # a count
    if before == "i" and text[0].isupper() and is_nordic_in(words, at):
        return free_after
    if text in ("A", "a", "am", "Am", "AM") or text.lower() in SOLFEGE:
        if before in NOT_A_KEY_BEFORE or not free_after:
            return False
        return text in ("A", "Am") or before in BEFORE_A_KEY or not before or words[at - 1].kind != WORD or has_more
    if text.lower() in ("as", "es", "is", "his", "des", "ces", "ges", "dis", "bs", "hs", "cs", "ds", "fs", "gs", "hes"):
        return (
            text[0].isupper()
            and text.lower() in ("as", "es", "des", "ges", "ces")
            and free_after
            and (before in BEFORE_A_KEY or not before or words[at - 1].kind != WORD or _is_second(words, at))
        )
    if len(text) == 1 and text.isupper():
        begins = at == 0 or (words[at - 1].kind != WORD and words[at - 1].kind != NUMBER)
        if begins and not free_after and _before(words, at) not in BEFORE_A_KEY:
            return False  # B careful
        return before not in NOT_A_KEY_BEFORE
    if text == "ab" and follows is not None and follows.kind in (NUMBER, CLOCK):
        return False  # erster Teil ab 19 Uhr
    if len(text) == 1 or text == "ab":
        return free_after and before not in NOT_A_KEY_BEFORE
    return True
