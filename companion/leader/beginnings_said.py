"""Who starts, who that is, on what, for how many bars, and who follows: trumpet (me!), parti tu col piano."""

from collections.abc import Sequence
from typing import Final

from companion.leader.first_bars import after_then, by_sound, first_bars, in_turn
from companion.leader.players import PLAYERS
from companion.leader.reply_words import ReplyWord, counted, low, phrase, set_of
from companion.leader.stated_fact import StatedFact
from companion.leader.who_starts import starter


def beginning(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read who starts, and who follows: drum roll then tutti, Orla on her own then all in."""
    first = _begins_with(words, at)
    second = after_then(words, first.end) if first else 0
    if first is None or not second or second >= len(words):
        return first
    return in_turn(first, _begins_with(words, second)) or first


def _begins_with(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    found = [fact for reader in (starter, first_bars, by_sound) if (fact := reader(words, at))]
    longest = max(found, key=lambda fact: (fact.end, fact.firm), default=None)
    if longest is not None and longest.field == "starts_with":
        longest = _on_own(words, longest)
        longest = longest._replace(end=longest.end + phrase(words, longest.end, *_WHO_IT_IS))
    return _with_bars(words, at, longest)


def _on_own(words: Sequence[ReplyWord], fact: StatedFact) -> StatedFact:
    """Read that "you" start on the piano, which is no second player: parti tu col piano, du fängst mit dem Klavier."""
    at = fact.end + (low(words, fact.end) in _WITH)
    at += at > fact.end and low(words, at) in _THE
    is_piano = at > fact.end and PLAYERS.get(low(words, at)) == "piano"
    return fact._replace(value="piano", end=at + 1) if is_piano and fact.value == "keys" else fact


_WITH: Final = set_of("col con al alla coll com ao avec au mit am met op med pa na")
_THE: Final = set_of("il lo la el le l dem der die de het o a the")
# Who plays what starts: trumpet (me!), the keys (you).
_WHO_IT_IS: Final = tuple(f"( {who} {sign})" for who in ("me", "thats me", "you", "thats you") for sign in ("", "! "))


def _with_bars(words: Sequence[ReplyWord], at: int, fact: StatedFact | None) -> StatedFact | None:
    """Keep for how many bars a player begins alone: accordion, four bars."""
    for place in range(at + 1, fact.end if fact and fact.field == "starts_with" else 0):
        number = counted(list(words), place)
        end = place + number[1] if number else 0
        if (
            fact
            and number
            and low(words, end) in _BARS
            and low(words, end + 1) != "of"
            and str(fact.value) not in ("count", "click")
        ):
            end += 1 + (low(words, end + 1) in ("alone", "solo"))
            said = " ".join(word.text for word in words[place:end])
            is_said = said in str(fact.value)
            return fact if is_said else fact._replace(value=f"{fact.value}, {said}", end=max(end, fact.end))
    return fact


_BARS: Final = set_of("bar bars beats")
