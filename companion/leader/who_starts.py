"""Who starts a song, as a leader says it: keys start it, piano intro, starts with drums, four clicks, me."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.first_bars import bars_alone
from companion.leader.guess_words import ENDS, manner_of
from companion.leader.key_words import LETTER, SOLFEGE
from companion.leader.players import LEADER_COUNTS, PLAYERS, THE_LEADER
from companion.leader.reply_words import (
    NUMBER,
    SIGN,
    WORD,
    ReplyWord,
    counted,
    low,
    phrase,
    phrase_of,
    set_of,
)
from companion.leader.said_keys import KEYED_IN
from companion.leader.starting_words import (
    ALL_IN,
    ALL_OF_US,
    BEGINS,
    BRINGS_IN,
    FOREIGN_STARTS,
    HAS_INTRO,
    KICKS,
    LONE,
    NO_NAMES,
    NOT_BEFORE_PLAYER,
    NOT_NAMES,
    ON_CUE,
    PLAYS,
    START_VERBS,
    STARTED_BY,
    STARTS,
    TAIL,
    WITHOUT_OTHERS,
    YOURS,
)
from companion.leader.stated_fact import StatedFact


def _is_of_an_end(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether the word says how a song ends, and no player: stop all together."""
    begins = at
    while begins and low(words, begins) in ("all", "together", "everyone", "everybody"):
        begins -= 1
    return begins < at and low(words, begins) in _ENDED


def _is_told_of_end(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a sentence tells how a song ends, and no number of another song follows: we finish, all as one."""
    for place in range(at - 1, -1, -1):
        if words[place].text in _PERIODS or words[place].kind == NUMBER:
            return False
        if low(words, place) in _ENDED or low(words, place) in ENDS:
            return True
    return False


def _player(words: Sequence[ReplyWord], at: int) -> tuple[str, int] | None:
    """Read a player, or several: drums and bass."""
    if _is_of_an_end(words, at):
        return None
    if many := phrase_of(words, at, ALL_OF_US):
        return "all", at + many
    if many := phrase(words, at, "rhythm section", "horn section", "brass section", "string section"):
        return f"{low(words, at)} section", at + many
    if low(words, at) in _BEATERS and low(words, at + 1) in START_VERBS:
        return low(words, at), at + 1  # brushes start
    said = PLAYERS.get(low(words, at))
    if low(words, at) == "hat" and low(words, at - 1) not in ("-", "hi", "high", "the"):
        return None  # German for "has"
    if low(words, at) == "kor" and low(words, at - 1) in ("vi", "jag", "ni", "de", "man"):
        return None  # Swedish: we play
    if low(words, at) == "u" and _is_short_and(words, at):
        return None
    if low(words, at) == "du" and at + 1 < len(words) and words[at + 1].kind == NUMBER:
        return None  # French: du 5 au 7
    if said == "nobody" and low(words, at + 1) not in STARTS and _goes_on(words, at + 1):
        return None  # nobody learnt it
    if said is None:
        starts = low(words, at + 1) in START_VERBS or phrase_of(words, at + 1, BRINGS_IN)
        is_bare = at == 0 or words[at - 1].kind == SIGN or words[at - 1].low in ("and", "then")
        if is_bare and low(words, at + 1) in START_VERBS and _may_be_name(words, at):
            return words[at].text, at + 1  # zak starts the others
        starts = starts or phrase(words, at + 1, "a cappella", "a capella", "acappella", "commence", "inizia")
        if _is_name(words, at) and low(words, at + 1) == "on" and low(words, at + 2) in PLAYERS.keys() - LONE:
            return f"{words[at].text} on {PLAYERS[low(words, at + 2)]}", at + 3  # Phil on sax
        if not (_is_name(words, at) and starts):
            return None
        return words[at].text, at + 1  # Kez
    end = at + 1
    if said == "acoustic" and PLAYERS.get(low(words, end)) == "guitar":
        return "acoustic guitar", end + 1
    if said == "bass" and low(words, end) in ("guitar", "guitars", "guitare", "guitarist"):
        return "bass guitar", end + 1
    if (
        low(words, end) in ("and", "&", "+", "n", "und", "et", "y", "og")
        and (other := PLAYERS.get(low(words, end + 1)))
        and other != said
    ):
        return f"{said} and {other}", end + 2
    return said, end


def _is_short_and(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "u." stands between two names, where it is short for "und": Rost u. Regen."""
    if at == 0 or at + 2 >= len(words) or words[at + 1].text != ".":
        return False
    return all(words[one].text[:1].isupper() and len(words[one].text) > 2 for one in (at - 1, at + 2))


def _may_be_name(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word in small letters may be a name, before "starts 3" or "starts the others"."""
    word, after = words[at], words[at + 2] if at + 2 < len(words) else None
    is_word = word.kind == WORD and word.text.isalpha() and len(word.text) > 2 and word.low not in NOT_NAMES | NO_NAMES
    follows = after is not None and (after.kind == NUMBER or after.low in ("the", "all", "everything", "rest"))
    return is_word and follows and not NO_NAME.search(word.low)


# "Usually starts in G" names nobody.
NO_NAME: Final = re.compile(r"(?:ually|nally|ently|edly|erally|iously|antly|ably|times)$")


def _is_name(words: Sequence[ReplyWord], at: int) -> bool:
    word = words[at]
    return (
        word.kind == WORD
        and "'" not in word.text
        and "’" not in word.text
        and word.text[:1].isupper()
        and len(word.text) > 1
        and word.low not in NOT_NAMES
        and not (NO_NAME.search(word.low) or _KEY.match(word.text))
    )


_BEATERS: Final = ("brushes", "mallets", "beaters")
_KEY: Final = re.compile(r"[A-G](?:[b#♭♯]m?|m)$")
AT_ITS_END: Final = "all together, but at its end?"
_ENDED: Final = set_of("stop stops stopping end ends ending finish finishes finishing cut cuts")  # all together
COUNTS_IN: Final = "who counts a song in may not be who starts it"


def _is_by_name(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a player is named by name, who may only count a song in."""
    return low(words, at) not in PLAYERS and phrase_of(words, at, ALL_OF_US) == 0


def _bars_of(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read 1 bar of hi-hat, four bars drums."""
    number = counted(list(words), at)
    if number is None or low(words, at + number[1]) not in ("bar", "bars", "beats"):
        return None
    begins = at + number[1] + 1
    while low(words, begins) in ("of", "on", "from", "by", "the", "just", "hi", "-"):
        begins += 1
    found = _player(words, begins) if begins < len(words) else None
    return StatedFact("starts_with", found[0], found[1]) if found else None


def starter(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read who starts: keys start it, piano intro, starts with drums, four clicks, me."""
    if said := _clicks(words, at) or _bars_of(words, at) or _me_counting(words, at) or _compound(words, at):
        return said
    if said := _yours_or_a_cappella(words, at):
        return said
    begun = phrase(words, at, "counted in", "counted off", "led in", "brought in", "in with", *KICKS)
    if low(words, at) in STARTS - {"first", "alone", "count", "counts", "together"} or begun:
        begins = at + (begun or 1)
        while low(words, begins) in STARTED_BY:
            begins += 1
        if (
            (begins > at + (begun or 1) - 1 + (not begun) or low(words, at) in FOREIGN_STARTS)
            and begins < len(words)
            and (found := _player_or_click(words, begins))
        ):
            by_itself = low(words, found[1]) in _BY_ITSELF and not _goes_on(words, found[1] + 1)
            return StatedFact("starts_with", found[0], found[1] + by_itself)
    while low(words, at) in ("the", "just", "only", "solo", "lone") and low(words, at + 1) in PLAYERS:
        at += 1
    found = _player(words, at) if at < len(words) else None
    if found is None or (found == ("all", at + 1) and _is_in_key(words, at + 1)):
        return None  # 8-10 alle in c
    if low(words, found[1] - 1) == "keys" and _are_of_songs(words, found[1] - 1):
        return None  # keys in G, all the keys on your list
    player, end = found
    if player == "all" and low(words, end) == "in" and (end + 1 >= len(words) or words[end + 1].kind == SIGN):
        return StatedFact("starts_with", player, end + 1)  # 4 all in
    if player == "all" and (many := phrase_of(words, end, ALL_IN)):
        return StatedFact("starts_with", player, end + many)
    if many := phrase_of(words, end, HAS_INTRO):
        return StatedFact("starts_with", player, end + many)
    if low(words, end) in PLAYS and not (low(words, end) == "only" and not _goes_on(words, end + 1)):
        return None
    if (
        end == at + 1
        and low(words, at) in ("all", "together", "both")
        and low(words, end) not in STARTS
        and _goes_on(words, end)
        and not (words[end].kind == NUMBER and low(words, end + 1) in (")", "."))  # 2) all 3) keys
    ):
        return None  # 1-4 all in E
    after = end
    if alone := _plays_alone(words, end):
        return StatedFact("starts_with", player, alone)
    while low(words, after) in (
        "will",
        "to",
        "do",
        "does",
        "plays",
        "play",
        "can",
        "on",
        "own",
        "your",
        "their",
        "its",
        "goes",
        "go",
        "comes",
        "in",
        "by",
    ):
        after += 1
    if low(words, after) in STARTS or phrase_of(words, after, BEGINS):
        after += phrase_of(words, after, BEGINS) or 1
        while low(words, after) in STARTS or _is_tail(words, after):
            after += 1
        counts = any(low(words, one).startswith("count") for one in range(end, after))
        doubt = COUNTS_IN if counts and _is_by_name(words, at) else ""
        ends = _after_bars(words, _trimmed(words, end, after))
        ends += phrase_of(words, ends, WITHOUT_OTHERS)
        ends += phrase(words, ends, "( me )", "( me ! )", "( thats me )", "( thats you )")  # bass starts (me!)
        if counts and player == THE_LEADER:
            player = LEADER_COUNTS
        player, ends = _on_cue(words, ends, player)
        return StatedFact("starts_with", player, ends, doubt=doubt)
    if (bars := _after_bars(words, end)) > end:
        return StatedFact("starts_with", player, bars)  # drums for four bars
    if phrase(words, end, "do", "does") and low(words, end + 1) in ("", ".", ","):
        end += 1
    if low(words, end) in ("only", "alone") and not _goes_on(words, bars := _after_bars(words, end + 1)):
        return StatedFact("starts_with", player, bars, firm=bars > end + 1)  # 5 G, piano alone for 4
    before = low(words, at - 1) if low(words, at - 1) not in _OWNED else low(words, at - 2)
    if before in NOT_BEFORE_PLAYER or (before in _BESIDE and _ends_before(words, at)):
        return None  # G for the brass, stop dead with the drums, fades away on the synth
    if low(words, at) in ("i", "ich") and _goes_on(words, end):
        return None  # it begins many sentences; alone it answers
    is_of_all = phrase_of(words, at, ALL_OF_US) > 0  # full band
    is_lone = (low(words, end - 1) in LONE and not is_of_all) or (
        low(words, end - 1) in ("do", "does") and low(words, at) in LONE
    )
    doubt = AT_ITS_END if player == "all" and _is_told_of_end(words, at) else ""
    return StatedFact("starts_with", player, end, firm=False, doubt=doubt, is_lone=is_lone)


def _on_cue(words: Sequence[ReplyWord], at: int, player: str) -> tuple[str, int]:
    end = at + phrase_of(words, at, ON_CUE)  # all start on my count
    return " ".join((f"{player},", *(word.text for word in words[at:end]))) if end > at else player, end


def _me_counting(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    if many := phrase(words, at, "me counting", "i am counting", "im counting"):
        end = at + many + phrase(words, at + many, "us in", "it in", "in", "you in", "it off", "off")
        number = counted(list(words), end + 1) if low(words, end) in ("to", "of") and end + 1 < len(words) else None
        return StatedFact("starts_with", "count", end + 1 + number[1] if number else end)
    return None


def _compound(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a player and the intro in one word: pianointro."""
    said = low(words, at)
    player = PLAYERS.get(next((said.removesuffix(part) for part in _INTROS if said.endswith(part)), ""))
    return StatedFact("starts_with", player, at + 1) if player else None


_INTROS: Final = ("intro", "forspil", "vorspiel", "forspel")


def _ends_before(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word of ending is right before "with the drums", in the same sentence."""
    for place in range(at - 1, max(at - 6, -1), -1):
        if words[place].text in _PERIODS:
            return False
        if low(words, place) in ENDS or manner_of(low(words, place), ends=False):
            return True
    return False


def _is_in_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "in" and a key stand here."""
    key = words[at + 1] if at + 1 < len(words) else None
    return key is not None and low(words, at) in KEYED_IN and (LETTER.match(key.text) is not None or key.low in SOLFEGE)


_PERIODS: Final = (".", ";", "!", "?")


_BESIDE: Final = set_of("with on mit auf avec sur con met op med pa com")
_BY_ITSELF: Final = ("alone", "solo", "sola", "allein", "alleine", "alleen", "alene", "ensam", "seul", "seule", "sam")
_OWNED: Final = ("the", "my", "her", "his", "our", "their", "your")


def _are_of_songs(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "keys" are those of songs and no player: keys in G, the keys for the dinner set."""
    follows = low(words, at + 1)
    if follows in ("in", "of", "are", "from", "below", "attached", "as", "stay", "i", "we", "that", "so"):
        return True
    if low(words, at - 1) in ("their", "those", "original", "written"):
        return True
    is_object = at + 2 < len(words) and words[at + 2].kind == WORD and low(words, at + 2) not in PLAYERS
    return follows in ("on", "for") and low(words, at - 1) in ("the", "same", "these", "your") and is_object


def _plays_alone(words: Sequence[ReplyWord], at: int) -> int:
    """Return the end of "on their own for 8 bars", "alone to open", "to start"; 0 elsewhere."""
    own = phrase_of(words, at, BEGINS)
    if own and _after_bars(words, at + own) > at + own:
        return _after_bars(words, at + own)
    many = phrase(words, at, "alone to open", "alone to start", "to open", "to start", "to begin")
    return at + many if many else 0


def _yours_or_a_cappella(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read "over to you", "du fängst an", and a start by voices alone."""
    if many := phrase(words, at, "a cappella", "a capella", "acappella"):
        many += low(words, at + many) in ("vocal", "vocals", "voice", "voices", "start", "intro", "opening")
        return StatedFact("starts_with", "vocals a cappella", at + many)
    many = phrase_of(words, at, YOURS)
    doubt = FOR_WHOM if low(words, at) in ("empiezas", "empezas", "comienzas", "comences") else ""
    return StatedFact("starts_with", "keys", at + many, doubt=doubt) if many else None


FOR_WHOM: Final = "you, the keys?"  # empiezas tú: after the verb it may speak to whoever reads the message


def _after_bars(words: Sequence[ReplyWord], at: int) -> int:
    """Skip how long somebody plays alone: for four bars, 8 bars, (2 bars)."""
    begins = at
    while low(words, begins) in ("for", ",", "("):
        begins += 1
    number = counted(list(words), begins) if begins < len(words) else None
    end = begins + number[1] if number else 0
    if not number or low(words, end) not in ("bar", "bars", "beats"):
        return bars_alone(words, at) if low(words, at - 1) in _ALONE else at
    return end + 1 + (low(words, end + 1) == ")" and low(words, begins - 1) == "(")


_ALONE: Final = ("own", "alone", "only", "solo")


def _is_tail(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word belongs to "starts that one"; "one" alone is a song's number."""
    is_number = low(words, at) == "one" and low(words, at - 1) not in ("that", "this", "the")
    return low(words, at) in TAIL and not is_number


def _trimmed(words: Sequence[ReplyWord], least: int, end: int) -> int:
    """Leave a last "in", "on" or "the" to what follows: I count in 1, you start in G."""
    while (
        end - 1 > least and low(words, end - 1) in ("on", "the", "this", "that", "one", "in") and _goes_on(words, end)
    ):
        if low(words, end - 1) == "in" and low(words, end - 2) in ("count", "counts", "lead", "leads", "us", "it"):
            break
        end -= 1
    return end


def _goes_on(words: Sequence[ReplyWord], at: int) -> bool:
    return at < len(words) and words[at].kind in (WORD, NUMBER)


def _player_or_click(words: Sequence[ReplyWord], at: int) -> tuple[str, int] | None:
    if low(words, at) in _BEATERS:
        return low(words, at), at + 1  # starts with the brushes; "brushes on 2" does not say who starts
    if clicks := _clicks(words, at):
        return str(clicks.value), clicks.end
    if found := _player(words, at):
        return found
    return (words[at].text, at + 1) if _is_name(words, at) else None


def _clicks(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    number = counted(list(words), at)
    begins = at + number[1] if number else at
    many = phrase(words, begins, "click", "clicks", "klick", "stick clicks", "sticks", "stick count", "click track")
    if many:
        return StatedFact("starts_with", "click", begins + many)
    if many := phrase(words, begins, "count in", "count off", "bar count", "beat count", "count"):
        if low(words, begins - 1) in PLAYERS and not number:
            return None
        return StatedFact("starts_with", "count", begins + many, firm=many > 1 or bool(number))
    return None
