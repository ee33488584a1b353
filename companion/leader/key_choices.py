"""Which of two keys a leader prefers: Eb or D, leaning D; D or Db, say Db for now; sol o la, mejor la."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.reply_words import NUMBER, ReplyWord, phrase_of, set_of

# Before the key that is preferred.
_PREFERRED: Final = folded_phrases(
    "let us say | we say | it's | it is | make it | we make it | we'll do | definitely | es ist | also | "
    "machen wir | c'est | "
    "ce sera | es | será | è | sarà | het is | het wordt | det är | det er | det blir | "
    "leaning | leaning to | leaning towards | leaning toward | leaning more to | lean | lean to | lean towards | "
    "i lean to | i lean towards | say | let's say | i'd say | i would say | prefer | i prefer | i'd prefer | "
    "we prefer | "
    "preferably | rather | i'd rather | more likely | most likely | more probably | probably | most probably | "
    "go with | "
    "i'd go with | let's go with | going with | go for | let's go for | i'd go for | start with | we start with | "
    "take | let's take | pick | i pick | my guess is | i guess | guess | i think | think | i vote | my vote is | "
    "best guess | i'd bet on | my money is on | better | eher | lieber | sagen wir | sag mal | ich tippe auf | "
    "tendenz | tendenziell | wahrscheinlich | ich würde sagen | nimm | nehmen wir | vermutlich | plutôt | disons | "
    "je dirais | de préférence | je préfère | on dit | je penche pour | mettons | mejor | digamos | yo diría | diría | "
    "prefiero | más bien | seguramente | probablemente | meglio | diciamo | direi | preferisco | piuttosto | "
    "facciamo | probabilmente | melhor | digamos | prefiro | talvez | liever | zeg maar | laten we zeggen | ik denk | "
    "waarschijnlijk | eerder | helst | hellre | säg | nog snarare | troligen | helst | hellere | sig | nok | "
    "sannsynligvis | raczej | spíš | spíše | radši"
)
# Behind it.
_BEST: Final = folded_phrases(
    "i'd say | i would say | würde ich sagen | je dirais | diría yo | direi | zou ik zeggen | skulle jag säga | "
    "is better | is best | is safer | is more likely | more likely | most likely | probably | i think | i guess | "
    "preferably | if you ask me | is my guess | eher | lieber | wahrscheinlich | ist besser | wäre besser | plutôt | "
    "c'est mieux | est mieux | de préférence | mejor | es mejor | más bien | meglio | è meglio | melhor | é melhor | "
    "liever | is beter | waarschijnlijk | hellre | är bättre | helst | er bedre"
)
_ARTICLES: Final = set_of("in en em i to on towards for the auf à zu")
_STOPS: Final = set_of(". ; !")
_MAX_BETWEEN: Final = 5  # words and signs between two keys and the one that is preferred
Stretch = tuple[int, int]


def preferred(words: Sequence[ReplyWord], first: Stretch, second: Stretch) -> tuple[int, int]:
    """Return which of two keys is preferred, 0 or 1, and where the words end that say so; the first if nothing does."""
    for place in range(second[1], min(second[1] + _MAX_BETWEEN, len(words))):
        if words[place].text in _STOPS or words[place].kind == NUMBER:
            break
        if many := phrase_of(words, place, _PREFERRED):
            begins = place + many
            begins += begins + 1 < len(words) and words[begins].text in _ARTICLES
            which = _said_again(words, begins, first, second)
            if which is not None:
                return which
        which = _said_again(words, place, first, second)
        if which is not None and (many := phrase_of(words, which[1], _BEST)):
            return which[0], which[1] + many
    return 0, second[1]


def overruled(words: Sequence[ReplyWord], end: int) -> int:
    """Return where a key stands that is wanted instead of the one that ends here, and then chosen; 0 if none is.

    9. F, but Henrik would like G, so let us say G.
    """
    last = next(
        (at for at in range(end, len(words)) if words[at].text in _STOPS or words[at].kind == NUMBER), len(words)
    )
    buts = [at for at in range(end, min(end + 2, last)) if words[at].low in _BUT]
    if not buts:
        return 0
    for place in range(buts[0] + 1, min(last, buts[0] + _MAX_WISH)):
        many = phrase_of(words, place, _PREFERRED)
        begins = place + many
        begins += begins + 1 < len(words) and words[begins].text in _ARTICLES
        if not many or begins >= last:
            continue
        before = [words[at].text for at in range(buts[0] + 1, place)]
        if words[begins].text[:1].isupper() and words[begins].text in before:
            return begins
    return 0


_BUT: Final = set_of("but aber mais pero ma mas maar men ale")
_MAX_WISH: Final = 14  # words and signs from "but" to the choice


def _said_again(words: Sequence[ReplyWord], at: int, first: Stretch, second: Stretch) -> tuple[int, int] | None:
    """Return which of two keys is named again here, and where it ends; the longer one first: A minor, A."""
    for which, (begins, end) in sorted(enumerate((first, second)), key=lambda one: one[1][0] - one[1][1]):
        here = [word.low for word in words[at : at + end - begins]]
        if here == [word.low for word in words[begins:end]]:
            return which, at + end - begins
    return None
