"""Songs that are not played, as a leader says it: dropped, drop it, we're not doing it, on ne la fait plus."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.dropped_abroad import FOR_NOW, LAST_OF_CLAUSE, OTHER_TONGUES
from companion.leader.hour_words import folded_phrases
from companion.leader.parts_dropped import drops_part
from companion.leader.players import PLAYERS
from companion.leader.reply_words import (
    NUMBER,
    SIGN,
    ReplyWord,
    counted,
    low,
    phrase,
    phrase_of,
    phrases_by_first_word,
    set_of,
)
from companion.leader.stated_fact import StatedFact

DROPPERS: Final = set_of(
    "drop cut skip scrap scratch bin lose ditch forget omit delete dropping cutting skipping ditching binning axing "
    "kill killing "
    "chop chopping scrub scrubbing pulling "
    "scrapping dumping chucking axe dump chuck cancel cancelling remove removing strike striking retire"
)
DROPPED: Final = set_of(
    "dropped scrapped binned skipped ditched gone out omitted deleted cancelled canceled axed gestrichen raus "
    "struken struket stroget geschrapt wykreslona withdrawn shelved nixed canned "
    "supprime supprimee scrubbed parked retired benched pulled struck oot chopped removed vypadl vypadla "
    "vypadlo vypadava kuttet strokes kihagyva "
    "torolve verfallt gekillt utgatt"
)
DROP_LABELS: Final = (
    DROPPED
    | DROPPERS
    | set_of("cuts drops omissions entfallt entfallen vervalt vervallen fuera tolti tolte tolta utgar udgar vypada")
)
DROP_TAIL: Final = set_of("it that this one them those these please now for time altogether completely the list set")
NOT_DROPPED: Final = set_of("a b c d e f g to from one any either in at into down some half back off")
SWAPPED: Final = set_of(
    "swapped swap swapping replaced replace replacing byt byter bytte ersatt ersatter ersetz ersetze ersetzt "
    "ersetzen "
    "tausche tauscht remplace remplacez remplacer sostituisci sostituite sustituye sustituimos cambiamos vervang "
    "vervangen skift skifter zamien troca trocamos"
)
SWAPPED_FOR: Final = set_of("for with by mot durch gegen mit par avec con per por door med na ud ut")
_DONE: Final = ("played", "performed", "sung", "done")
NOT_DOING: Final = phrases_by_first_word(
    (
        "not doing",
        "were not doing",
        "we are not doing",
        "not playing",
        "were not playing",
        "we dont do",
        "we wont do",
        "we dont play",
        "no longer in",
        "no longer doing",
        "cross off",
        "isnt happening",
        "not happening",
        "off the list",
        "not played",
        "isnt played",
        "to be taken out",
        "to come out",
        "we leave out",
        "well leave out",
        "dont bother with",
        "dont bother learning",
        "dont learn",
        "no need to learn",
        "no need for",
        *(f"{to} be {done}" for to in ("not to", "isnt to", "is not to") for done in _DONE),
        *(f"{must} not be {done}" for must in ("must", "should", "shall", "may", "can", "is to") for done in _DONE),
        "wont have",
        "wont hear of",
        "not bothering with",
        *(f"{verb} {gone}" for verb in ("is", "are", "has been") for gone in ("withdrawn", "removed")),
        *(
            f"{verb} from the {of}"
            for verb in ("cut", "dropped", "removed", "gone", "taken out")
            for of in ("set", "list")
        ),
        *(
            f"{verb} {way} the {of}"
            for verb in ("is", "are", "its", "comes", "came", "goes")
            for way in ("out of", "off")
            for of in ("set", "list", "setlist", "set list", "programme", "program")
        ),
        "not performed",
        "not be played",
        "will not be played",
        "wont be played",
        "is not played",
        "not this time",
        *(f"not this {time}" for time in ("year", "week", "sunday", "saturday", "friday", "season")),
        "not tonight",
        "not be sung",
        "will not be sung",
        "wont be sung",
        "is not sung",
        "not being sung",
        "not being played",
        "will not be done",
        "aint playing",
        "aint playing it",
        "aint doing",
        "diesmal nicht",
        "esta vez no",
        "questa volta no",
        "deze keer niet",
        "leave that one off",
        "leave that off",
        "leave it off",
        "no time for",
        "wont have time for",
        "drops out",
        *(f"{verb} {gone}" for verb in ("got", "has", "have") for gone in ("cut", "dropped")),
        "taken out",
        "take out",
        "take it out of the set",
        "leave out",
        "leave it out",
        "leaving out",
        "left out",
        "wont be playing",
        "wont be doing",
        "wont play",
        "wont do",
        "not going to play",
        "not going to do",
        "arent playing",
        "arent doing",
        "stopped playing",
        "stopped doing",
        "no longer play",
        "no longer do",
        "not in the set",
        "wont be happening",
        "wont happen",
        "arent happening",
        "must go",
        "has to go",
        "have to go",
        "goes out",
        "is off",
        "are off",
        "wont make it",
        *(
            f"{said} {verb}"
            for said in ("not be", "arnt", "arent", "aint", "not gonna be", "wont be", "not")
            for verb in ("doing", "doin", "playing", "playin", "singing", "singin", "performing")
        ),
        *(
            f"{said} {verb}"
            for said in ("not gonna", "not going to", "will not", "shall not", "wont", "shant", "lets not")
            for verb in ("do", "play", "sing", "perform")
        ),
        "wird nicht gesungen",
        "singen wir nicht",
        "zingen we niet",
        *(f"dont do {one}" for one in ("this one", "that one", "it")),
        "knock it on the head",
        "were losing",
        "losing",
        "were skipping",
        "were cutting",
        "were dropping",
        "been cut",
        "been dropped",
        *(f"{got} the {end}" for got in ("got", "gets", "is for", "for") for end in ("chop", "axe", "boot")),
        "not singing",
        "wont be singing",
        "wont sing",
        "bit the dust",
        "has bitten the dust",
        "is a no go",
        "off the setlist",
        "off the set list",
        "off the menu",
        "give that a miss",
        "give it a miss",
        "giving it a miss",
        "giving that a miss",
        "no doing",
        "no daein",
        *(f"{who} us to {verb}" for who in ("asked", "wants", "want", "told") for verb in ("drop", "lose", "cut")),
        *OTHER_TONGUES,
    )
)
# Played after all: it takes back that a song is dropped.
PLAYED: Final = folded_phrases(
    "leave that in | leave it in | leave that one in | leave them in | keep it in | keep that in | "
    "keep that one in | "
    "keep that one | put it back in | put that back in | put it back | put that back | it stays in | that stays in | "
    "stays in | its back in | thats back in | is back in | back in the set | we do play | we do play it | "
    "we are playing it | we do that one after all | we do it after all | we play it after all | spielen wir doch | "
    "machen wir doch | bleibt drin | lassen wir drin | bleibt doch drin | doen we toch | spelen we toch | "
    "blijft erin | on la garde | on le garde | on la joue quand meme | la dejamos | la mantenemos | la teniamo | "
    "la lasciamo | vi behaller den | den behaller vi | vi beholder den | den beholder vi | vi spelar den anda | "
    "nechame ji | zostawiamy | "
    "or rather play it | or rather , play it | rather play it | actually play it | no play it | no , play it | "
    "play it after all | play it anyway | oder doch spielen | oder doch nicht , spielen | ou plutôt on la joue | "
    "finalement on la joue | o mejor la tocamos | mejor la tocamos | o meglio la facciamo | anzi la facciamo | "
    "anzi facciamola | of toch spelen | toch spelen | of toch wel | eller nej vi spelar den | vi spelar den ändå | "
    "vi spiller den alligevel | vi spiller den likevel | a mantemos | ficamos com ela"
)
_KEY: Final = re.compile(r"[A-Ga-g](?:[b#♭♯]|flat|sharp)?m?$")


def dropped(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read that a song is not played: dropped, drop it, we're not doing it; not drop D or leave out verse 4."""
    found = _dropped(words, at)
    return None if found is not None and found.value is True and drops_part(words, at, found.end) else found


def _dropped(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    if stays := phrase_of(words, at, PLAYED):
        is_key = low(words, at + stays - 1) == "in" and _is_key(words, at + stays)  # we leave it in D
        stays += phrase(words, at + stays, "after all", "though", "please")
        return None if is_key else StatedFact("dropped", False, at + stays)
    if low(words, at - 1) in PLAYERS and phrase(words, at, "drop out", "drops out", "dropping out"):
        return None  # everyone drops out on the last chorus
    if (many := phrase(words, at, "lets not", "let's not", "rather not", "best not")) and _ends_clause(
        words, at + many
    ):
        return StatedFact("dropped", True, at + many, doubt="not at all, or not so?")
    many = phrase_of(words, at, NOT_DOING)
    if many and _goes_on_otherwise(words, at + many):
        return None
    if many:
        end = at + many
        while low(words, end) in DROP_TAIL:
            end += 1
        end += phrase(words, end, "any more", "anymore", "any longer", "these days", "now")
        end += phrase_of(words, end, FOR_NOW)
        return StatedFact("dropped", True, end)
    if many := phrase_of(words, at, LAST_OF_CLAUSE):
        end = at + many + phrase_of(words, at + many, FOR_NOW)
        said = " ".join(word.text for word in words[at : at + many])
        return StatedFact("dropped", True, end, doubt=f"{said}: not played?") if _ends_clause(words, end) else None
    if phrase(
        words,
        at,
        "scrap that",
        "scratch that",
        "forget that",
        "drop that",
        "forget it",
        "lose that",
        "cancel that",
        "strike that",
    ):
        return None  # what was said before is wrong, not the song
    said = low(words, at)
    if said == "bin" and "ich" in (low(words, at - 1), low(words, at + 1)):
        return None  # German: am
    if said == "via" and _begins_clause(words, at) and at + 1 < len(words) and words[at + 1].kind == NUMBER:
        return StatedFact("dropped", True, at + 1)  # Italian for "away with"
    end = at + 1 + (low(words, at + 1) == ":")
    is_label = end > at + 1 or (said == "out" and low(words, at - 1) in _ALSO)  # Out: 4, 8; also out 12 and 3
    is_before_number = end < len(words) and words[end].kind == NUMBER
    if is_label and is_before_number and said in DROP_LABELS and _begins_clause(words, at):
        return StatedFact("dropped", True, end)
    if said in SWAPPED:
        is_gone = any(word.low in SWAPPED_FOR for word in words[at + 1 :])  # not: swap 2 and 4
        return StatedFact("dropped", True, at + 1 + (low(words, at + 1) == "ut")) if is_gone else None
    if (said == "out" and _leaves(words, at)) or (said in LEAVING and _is_left_out(words, at)):
        return StatedFact("dropped", True, at + 1)
    if said in DROPPED:
        if said == "out" and low(words, at - 1) not in _BEFORE_OUT and not low(words, at - 1).isdecimal():
            return None
        if said == "dropped" and low(words, at + 1) in ("a", "it", "to", "down", "half"):
            return None  # which we've dropped a tone to F
        end = at + 1 + phrase_of(words, at + 1, FOR_NOW)
        return StatedFact("dropped", True, end, firm=said not in ("out", "gone"))
    ends_clause = at + 1 == len(words) or words[at + 1].text in (".", "!", ";", ",")
    if said in ("go", "goes") and at > 0 and words[at - 1].kind == NUMBER and ends_clause:
        return StatedFact("dropped", True, at + 1, doubt=f"{said}: not played?")  # so 4, 6 and 10 go
    if said not in DROPPERS or (said == "bin" and (low(words, at - 1) == "ich" or low(words, at + 1) in _AFTER_I_AM)):
        return None  # bin aber nicht sicher
    end = at + 1
    if low(words, end) in ("set", "sets") and end + 1 < len(words) and counted(list(words), end + 1):
        return StatedFact("dropped", True, end, firm=False)  # cut set 2
    if low(words, end) in NOT_DROPPED or (said == "cut" and low(words, end) in ("on", "off")):
        return None  # cut to 2, drop one of them, and a guitar's tuning: drop D
    if low(words, end) in DROP_TAIL:
        while low(words, end) in DROP_TAIL - {"the", "for"} or phrase(words, end, "for now", "for this", "from the"):
            end += 1
        if low(words, end) == "the":
            return None
    doubt = "forget it, or drop it?" if said in ("forget", "lose", "bin") else ""
    return StatedFact("dropped", True, end, firm=False, doubt=doubt)


_BEFORE_OUT: Final = (
    *("is", "are", "its", "", ":", "-", "=", "probably", "maybe", "perhaps", "possibly", "definitely", "sadly", "also"),
    *("now", "still", "both", "all", "likely", "then"),
)


def _goes_on_otherwise(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether what follows gives another sense to what would drop a song."""
    last = low(words, at - 1)
    is_end = last in ("coupe", "coupons") and low(words, at) in ("net", "sec", "court")
    is_faster = last == "plus" and low(words, at) in _MORE  # on la fait plus vite
    player = at + (low(words, at) in ("the", "a", "an", "any", "your"))
    if last == "for" and low(words, player) in PLAYERS and (player + 1 >= len(words) or words[player + 1].kind == SIGN):
        return True  # no need for the organ
    is_place = last == "off" and low(words, at) in ("stage", "work", "sick", "duty")  # till the kids are off stage
    return is_end or is_faster or is_place or (last == "in" and _is_key(words, at))  # no longer in Bb


_MORE: Final = set_of("vite lent lente lentement rapide court courte long longue fort doucement haut bas calme tard")
_ALSO: Final = set_of("also plus too auch ook aussi también anche també też också også")
_AFTER_I_AM: Final = set_of("ich aber nicht mir da noch auch gerade eher fast ziemlich sicher")
LEAVING: Final = set_of("leave take miss leaving taking missing")
_MAX_BETWEEN: Final = 9  # words of a title between "leave" and "out"


def _leaves(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "out" ends what "leave" begins, in one clause: leave Number Nine out."""
    for place in range(at - 2, max(at - _MAX_BETWEEN, 0) - 1, -1):
        if words[place].text in (".", ";", "!", "?") or words[place].low in ("the", "in"):
            return False
        if words[place].low in LEAVING:
            return True
    return False


def _is_left_out(words: Sequence[ReplyWord], at: int) -> bool:
    ends = range(at + 2, min(at + _MAX_BETWEEN, len(words) - 1) + 1)
    out = next((place for place in ends if place < len(words) and words[place].low == "out"), 0)
    return bool(out) and _leaves(words, out)


def _begins_clause(words: Sequence[ReplyWord], at: int) -> bool:
    begins = at - (low(words, at - 1) in _ALSO)
    return begins == 0 or words[begins - 1].kind == SIGN


def _ends_clause(words: Sequence[ReplyWord], at: int) -> bool:
    return at >= len(words) or words[at].kind == SIGN


def _is_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a key may be here."""
    return at < len(words) and _KEY.match(words[at].text) is not None
