"""Who plays the first bars of a song, in the turns that name no verb of starting: Mo's riff, straight in, full band."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.players import PLAYERS
from companion.leader.reply_words import NUMBER, SIGN, WORD, ReplyWord, counted, low, phrase, phrase_of, phrases, set_of
from companion.leader.stated_fact import StatedFact

_BARS: Final = set_of("bar bars beat beats line lines verse phrase measures")
_PARTS: Final = set_of(
    "riff intro introduction lick opening start count count-in fill hook groove loop pickup roll solo"
)
_GIVES: Final = phrases("gives | gives us | gives you | plays | does | takes | sets it up with | leads with | has")
_ALONE: Final = phrases(
    "on her own | on his own | on their own | on your own | on its own | "
    "alone | solo | unaccompanied | by herself | by himself | "
    "by themselves | allein | seul | seule | sola | solo soletto | ensam | alleen | alene | sozinho | sozinha"
)
_HOW_LONG: Final = phrases("for a line | for a verse | for a chorus | for a bit | for one verse | for the first verse")
_BEGUN_BY_SOUND: Final = set_of("starts start begins begin opens open intro")
_RECORDED: Final = set_of("sample samples loop backing jingle")
_MAX_SOUND: Final = 7  # words between "starts with" and "on the keys"
_NAME: Final = re.compile(r"[A-ZÀ-ÞŁŚŻŹĆ][^\W\d_]{1,20}$")
_NO_NAMES: Final = set_of("the it its that this what who where there here and but so all everyone everything song no")


def first_bars(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read who plays the first bars where no verb says that they start."""
    return (
        _until_others(words, at)
        or _straight_in(words, at)
        or _owns_riff(words, at)
        or _last_bars(words, at)
        or _alone(words, at)
    )


def _straight_in(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read that all begin at once: straight in, straight in all, all straight in."""
    begins = at + (low(words, at) in ("all", "everyone", "everybody", "us"))
    if not phrase(words, begins, "straight in", "right in", "bang in") or low(words, begins + 2) in (
        "to",
        "with",
        "the",
    ):
        return None
    end = begins + 2 + (low(words, begins + 2) in ("all", "together", "everyone"))
    return StatedFact("starts_with", "all, straight in", end, firm=False)


def _until_others(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read who plays alone until others join: piano only till Orla comes in."""
    begins = at + (low(words, at) in ("just", "only", "the"))
    player = PLAYERS.get(low(words, begins))
    end = begins + 1 + (low(words, begins + 1) in ("only", "alone", "solo"))
    if player is None or low(words, end) not in ("till", "until", "til"):
        return None
    for place in range(end + 2, min(end + 5, len(words))):
        if many := phrase_of(words, place, _JOINS):
            return StatedFact("starts_with", player, place + many)
    return None


_JOINS: Final = phrases("comes in | come in | joins | join | joins in | join in | enters | enter | starts | start")


def _owns_riff(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read whose riff begins the song: that's Mo's riff; the riff is Mo's is left to the doubts."""
    begins = at + phrase(words, at, "thats", "that is", "its", "it is")
    if begins == at or begins >= len(words) or low(words, begins + 1) not in _PARTS:
        return None
    text = words[begins].text
    name = re.sub(r"['’]s$", "", text)
    if name == text or not _NAME.match(name):
        return None
    return StatedFact("starts_with", f"{name}: {low(words, begins + 1)}", begins + 2)


def _last_bars(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read how many of the last bars are the introduction, as for a hymn: last four bars for the intro."""
    begins = at + (low(words, at) == "the")
    if low(words, begins) not in ("last", "final"):
        return None
    number = counted(list(words), begins + 1) if begins + 1 < len(words) else None
    end = begins + 1 + (number[1] if number else 0)
    if low(words, end) not in _BARS:
        return None
    end += 1
    for_intro = phrase(
        words, end, "as intro", "as an intro", "as the intro", "as introduction", "as an introduction", "for the intro",
        "for an intro", "for intro", "as a play in", "to play us in", "to introduce",
    )  # fmt: skip
    asked = any(low(words, one) in ("intro", "introduction", "playover") for one in range(max(at - 4, 0), at))
    if not (for_intro or asked):
        return None
    text = " ".join(word.text for word in words[begins:end])
    return StatedFact("starts_with", text, end + for_intro)


def _alone(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a named player who begins alone, gives some bars, or plays a solo: Orla on her own for a line."""
    if low(words, at) == "solo" and PLAYERS.get(low(words, at + 1)) and low(words, at + 1) not in ("you", "me"):
        return StatedFact("starts_with", PLAYERS[low(words, at + 1)], _bars(words, at + 2), firm=False)
    player, end = _who(words, at)
    if not player:
        return None
    if many := phrase_of(words, end, _GIVES):
        after = _bars(words, end + many)
        return StatedFact("starts_with", player, after) if after > end + many else None
    many = phrase_of(words, end, _ALONE)
    is_name = _NAME.match(words[at].text) is not None and low(words, at) not in PLAYERS
    if not many or (is_name and low(words, end) in ("solo", "alone") and not _ends(words, end + many)):
        return None
    end += many
    end += phrase_of(words, end, _HOW_LONG)
    return StatedFact("starts_with", player, _bars(words, end), firm=not is_name or low(words, end - 1) != "solo")


def _who(words: Sequence[ReplyWord], at: int) -> tuple[str, int]:
    """Read a player of two words, or by name with the instrument in brackets: tenor sax, Mr Hobbs (drums)."""
    if low(words, at) in _SIZES and PLAYERS.get(low(words, at + 1)):
        return f"{low(words, at)} {PLAYERS[low(words, at + 1)]}", at + 2
    begins = at + (low(words, at) in ("mr", "mrs", "miss", "ms"))
    if begins >= len(words) or not _NAME.match(words[begins].text) or low(words, begins) in _NO_NAMES:
        return "", at
    end = begins + 1
    if low(words, end) == "(" and PLAYERS.get(low(words, end + 1)) and low(words, end + 2) == ")":
        return f"{words[begins].text} ({PLAYERS[low(words, end + 1)]})", end + 3
    is_name = low(words, begins) not in PLAYERS and words[begins].kind == WORD
    return (" ".join(word.text for word in words[at:end]), end) if is_name else ("", at)


_SIZES: Final = set_of(
    "tenor alto soprano baritone bari lead rhythm slide electric nylon snare kick bass double upright"
)


def _bars(words: Sequence[ReplyWord], at: int) -> int:
    """Skip how long somebody plays: first sixteen bars, for four bars, a bar."""
    begins = at
    while low(words, begins) in (",", "for", "the", "first", "just", "about", "us"):
        begins += 1
    number = counted(list(words), begins) if begins < len(words) else None
    end = begins + (number[1] if number else low(words, begins) in ("a", "some"))
    return end + 1 if end > begins and low(words, end) in _BARS else bars_alone(words, at)


def _ends(words: Sequence[ReplyWord], at: int) -> bool:
    return at >= len(words) or words[at].kind in (SIGN, NUMBER) or low(words, at) in ("for", "then", "to")


def bars_alone(words: Sequence[ReplyWord], at: int) -> int:
    """Skip how many bars somebody plays alone, where a song is named before: 5 G, piano alone for 4."""
    begins = at
    while low(words, begins) in (",", "for", "the", "first"):
        begins += 1
    number = counted(list(words), begins) if at < begins < len(words) else None
    if number is None or number[0] not in _MANY or not _ends(words, begins + number[1]):
        return at
    start = max((one for one in range(at) if words[one].text in (".", ";", "!")), default=-1) + 1
    is_named = any(word.kind == NUMBER or word.text in (":", "=") for word in words[start:at])
    return begins + number[1] if is_named else at


_MANY: Final = (2, 4, 8, 12, 16)  # bars


def by_sound(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a sound and who plays it: starts with that ice cream van sound on the keys, starts with the waves sample."""
    if low(words, at) not in _BEGUN_BY_SOUND or low(words, at + 1) not in ("with", "on", "is"):
        return None
    begins = at + 2 + (low(words, at + 2) in ("the", "a", "that"))
    for place in range(begins + 1, min(begins + 4, len(words))):
        if (
            low(words, place) in _RECORDED
            and low(words, place + 1) != "on"
            and all(word.kind == WORD for word in words[begins:place])
        ):
            said = " ".join(word.text for word in words[begins : place + 1])
            return StatedFact("starts_with", said, place + 1)
    for place in range(at + 3, min(at + 3 + _MAX_SOUND, len(words) - 1)):
        if words[place].kind == SIGN:
            return None
        end = place + 1 + (low(words, place + 1) in ("the", "your", "my"))
        if low(words, place) == "on" and (player := PLAYERS.get(low(words, end))):
            sound = " ".join(word.text for word in words[at + 2 : place])
            return StatedFact("starts_with", f"{player}: {sound}", end + 1)
    return None


def in_turn(first: StatedFact, second: StatedFact | None) -> StatedFact | None:
    """Return who starts and who follows as one fact: drum roll then tutti."""
    if second is None or second.field != "starts_with" or second.value == first.value:
        return None
    return first._replace(value=f"{first.value}, then {second.value}", end=second.end, firm=True, is_lone=False)


def after_then(words: Sequence[ReplyWord], end: int) -> int:
    """Return where the player after "then" is named: drums for eight then brass; 0 if there is none."""
    at = end
    if low(words, at) == "for" and at + 1 < len(words) and (number := counted(list(words), at + 1)):
        at += 1 + number[1]
    at += low(words, at) == ","
    if low(words, at) not in ("then", "dann", "puis", "poi", "luego", "sen"):
        return 0
    return at + 1 + (low(words, at + 1) in ("the", "whole", "full") and low(words, at + 2) in PLAYERS)
