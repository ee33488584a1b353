"""How a song ends, as a leader says it: cold, fades out, rit., tag x3, vamp out, straight into 6, ends on D."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.guessed_endings import VAMPS, ending_of
from companion.leader.players import PLAYERS
from companion.leader.reply_words import NUMBER, SIGN, WORD, ReplyWord, counted, low, phrase, phrase_of, phrases, set_of
from companion.leader.stated_fact import StatedFact

LINKING: Final = set_of(
    "met mit with a an the on in is are and to its nice big of just end ends ending finish finishes "
    "eindigt endet eindigen stopt stoppt termina termine acaba finisce finit slutar slutter en con par auf op sur"
)
MANY_END: Final = set_of(
    "end ends ending endings finish finishes stop stops stopped "
    "stopt stoppt termina termine acaba finisce finit eindigt endet eindigen slutar slutter"
)


def _goes_on_behind_point(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether the sentence goes on behind a point, which is that of an abbreviation: "rit. at the end"."""
    return low(words, at) in _GOING_ON


_GOING_ON: Final = set_of("at in on into over and to am im beim zum alla nel au al op na pa")


def _is_in_list(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word is all that a list says of a song: 1 cold 7 vamp 8 fade."""
    follows = words[at + 1].kind if at + 1 < len(words) else SIGN
    return at > 0 and (words[at - 1].kind == NUMBER or words[at - 1].text in ":=-") and follows in (NUMBER, SIGN)


def ending(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read how it ends: cold, fades out, rit., tag x3, vamp out."""
    begins = at
    while low(words, begins) in LINKING and begins - at < 4:
        begins += 1
    said = low(words, begins)
    if begins > at and low(words, at) not in MANY_END:
        return None  # only "ends with a" belongs to the ending
    if many := phrase(
        words,
        begins,
        "fade out",
        "fades out",
        "faded out",
        "fading out",
        "fade away",
        "fades away",
        "toner ud",
        "fade - out",
        "fade oot",
        "fades oot",
        "fader ud",
    ):
        many += phrase(words, begins + many, "at the end", "at end")
        return StatedFact("ending", "fade", begins + many)
    if (
        said
        in (
            "fade",
            "fades",
            "fadeout",
            "fading",
            "faded",
            "ausblenden",
            "ausgeblendet",
            "fondu",
            "sfumando",
            "sfuma",
        )
        and low(words, begins + 1) != "up"
    ):
        return StatedFact("ending", "fade", begins + 1 + phrase(words, begins + 1, "at the end", "at end", *_GENTLY))
    if many := phrase_of(words, begins, VAMPS):
        return StatedFact("ending", "vamp-out", begins + many)
    if said == "vamp" and _is_in_list(words, begins):
        return StatedFact("ending", "vamp-out", begins + 1, firm=False, doubt=said)
    if many := phrase_of(words, begins, RITARDS):
        end = begins + many
        end += phrase(words, end, *AT_END)
        end += phrase(words, end, "for the last bar", "for the last four bars", "for the last two bars", *LAST_BARS)
        is_short = low(words, end) == "." and many == 1 and said in ("rit", "rall")
        return StatedFact("ending", "ritard", end + (is_short and _goes_on_behind_point(words, end + 1)))
    if said == "tag":
        return StatedFact(
            "ending", "tag", _repeats(words, begins + 1 + phrase(words, begins + 1, "ending", "out", "end"))
        )
    if said in ("cold", "dead") and low(words, begins + 1) in MANY_END:
        return StatedFact("ending", "cold", begins + 2)
    if said in ("full", "proper") and low(words, begins + 1) in ("stop", "stops"):
        return StatedFact("ending", "cold", begins + 2)
    if said in STOPPING and low(words, begins + 1) in MANY_END:  # in the leader's own words: short ending, hard stop
        is_stop = low(words, begins + 1) in ("stop", "stops")
        return StatedFact("ending", f"{said} {low(words, begins + 1)}" if is_stop else said, begins + 2)
    if low(words, at) in MANY_END and (many := phrase_of(words, begins, HITS)) and low(words, begins - 1) in ON_HIT:
        return StatedFact("ending", " ".join(word.text for word in words[begins : begins + many]), begins + many)
    if many := phrase(words, begins, *COLD):
        return StatedFact("ending", "cold", begins + many)
    if said == "button" and low(words, begins - 1) in (":", "=", "-") and not _goes_on(words, begins + 1):
        return StatedFact("ending", said, begins + 1, firm=False)  # 6: button
    if said in SUDDENLY and begins > at:
        return StatedFact("ending", said, begins + 1)
    if said == "dead" and low(words, begins - 1) in MANY_END and begins > at:
        return StatedFact("ending", "cold", begins + 1)
    if said in ("stop", "stops"):
        beat = begins + 2 + phrase(words, begins + 2, "beat", "the")
        if low(words, begins + 1) == "on" and low(words, beat) in BEATS:  # no song's number
            return StatedFact("ending", f"stops on {low(words, beat)}", beat + 1)
        return StatedFact("ending", "cold", begins + 1, firm=False)
    if said == "cold" and low(words, begins - 1) not in ("a", "the", "has", "got", "with"):
        return StatedFact("ending", "cold", begins + 1, firm=begins > at)
    if said == "cold" and begins > at:
        return StatedFact("ending", "cold", begins + 1, firm=True)
    return None


LAST_BARS: Final = (
    *(f"{over} the last {bars}" for over in ("on", "over", "for", "in") for bars in ("two", "four", "bar", "line")),
    *(f"{over} the last {many} bars" for over in ("on", "over", "for", "in") for many in ("two", "four")),
    *("last 2", "last 4", "last two", "last four", "last two bars", "last four bars", "last line", "the last line"),
)
AT_END: Final = (
    *("at the end", "to the end", "at end", "into the end", "am ende", "zum ende", "al final", "a la fin", "alla fine"),
    *("op het einde", "pa slutet", "til slut", "na konci"),
)
STOPPING: Final = set_of(
    "hard sudden abrupt short tight sharp clean straight quick big unison long held soft loud quiet gentle"
)
SUDDENLY: Final = set_of("suddenly abruptly plotzlich abrupt subito improvvisamente brusquement pludselig plotsligt")
BEATS: Final = set_of("1 2 3 4 one two three four")
COLD: Final = (
    *(
        "cold out",
        "stops dead",
        "stop dead",
        "stone cold",
        "dead on",
        "hort kalt auf",
        "endet kalt",
        "kalt",
        "fin seche",
    ),
    *(
        "eindigt koud",
        "koud",
        "finisce secco",
        "di netto",
    ),
    *("slutar tvärt", "slutar tvart", "slutter brat", "hart auf die eins", "tvart", "tvärt"),
    *(
        "fin nette",
        "final seco",
        "en seco",
        "stopper brat",
        "harde stop",
        "de golpe",
        "di colpo",
        "tout net",
        "stopt abrupt",
        "stoppt abrupt",
    ),
)
HITS: Final = phrases("hit | last hit | final hit | stab | last stab | accent | button | downbeat | last beat")
ON_HIT: Final = ("on", "a", "the", "with", "big")
RITARDS: Final = phrases(
    "rit | ritard | retard | ritardando | rall | rallentando | slows right down | slows down | slow down | "
    "slowing down | slows up | slow ending | slow end | we slow down | gets slower | ralenti | on ralentit | "
    "wird langsamer"
)


def _repeats(words: Sequence[ReplyWord], at: int) -> int:
    """Skip x3, 3x, three times, twice."""
    if low(words, at) in ("x", "times") and low(words, at + 1).isdecimal():
        return at + 2
    if low(words, at) in ("twice", "thrice"):
        return at + 1
    if at < len(words) and (number := counted(list(words), at)) and low(words, at + number[1]) in ("x", "times"):
        return at + number[1] + 1
    return at


INTO_NEXT: Final = -1
INTO_NAMED: Final = -2


def into_next(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read that the next song follows without a break: straight into 6, segue, goes into the next one."""
    begins = at
    while low(words, begins) in (
        "straight",
        "goes",
        "go",
        "going",
        "runs",
        "run",
        "segues",
        "segue",
        "seg",
        "segueing",
        "leads",
        "right",
        "directly",
        "then",
    ):
        begins += 1
    begins += phrase(words, begins, "as one") if begins > at else 0  # segue as one into 6
    if low(words, begins) in ("attacca", "segue") and begins + 1 < len(words) and words[begins + 1].kind == NUMBER:
        return StatedFact("into", INTO_NAMED, begins + 1)  # attacca 6
    if low(words, begins) == "attacca" or (low(words, begins - 1) in ("segue", "segues", "seg") and begins > at):
        begins += low(words, begins) == "attacca"
        if low(words, begins) not in ("into", "to"):
            return StatedFact("into", INTO_NEXT, begins)
    if begins == at and low(words, at) != "into":
        return None
    if low(words, begins) not in ("into", "to", "intae", "tae", "inta") and not phrase(words, begins, "in to"):
        return None
    begins += 1 + (low(words, begins + 1) == "to")
    if many := phrase(
        words, begins, "the next one", "the next song", "next", "the next", "next song", "next one", "it"
    ):
        return StatedFact("into", INTO_NEXT, begins + many)
    return StatedFact("into", INTO_NAMED, begins) if begins < len(words) else None


def big_ending(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read an ending that no word of the show file names: big rock ending. It lands as a note."""
    end = at
    while low(words, end) in BIG and end - at < 4:
        end += 1
    if end == at or low(words, end) not in ("ending", "finish", "end"):
        return None
    end += 1
    player = end + 1 + (low(words, end + 1) == "the")
    if low(words, end) == "with" and low(words, player) in PLAYERS:
        end = player + 1  # they do not start
    return StatedFact("ending", " ".join(word.text for word in words[at:end]), end)


def ends_with(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read what is played last, by whom: ends with a drum fill and a stab. It lands as a note."""
    if low(words, at) not in MANY_END or low(words, at + 1) not in ("with", "on"):
        return None
    begins = end = at + 2
    last = 0
    while low(words, end) in LAST_PLAYED | PLAYERS.keys() | {
        "a",
        "an",
        "and",
        "the",
        "big",
        "short",
        "final",
        "held",
        "long",
    }:
        last = end + 1 if low(words, end) in LAST_PLAYED else last
        end += 1
    if not last or last == begins:
        return None
    begins += low(words, begins) in ("a", "an", "the")
    return StatedFact("ending", " ".join(word.text for word in words[begins:last]), last)


def ends_somehow(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read an ending that no other reader knows, up to the next clause, with a doubt: ends on the word gate."""
    if many := phrase_of(words, at, ON_CUE):
        text = " ".join(word.text for word in words[at : at + many])
        return StatedFact("ending", text, at + many, doubt=text)
    if low(words, at) not in MANY_END or low(words, at + 1) not in ("on", "with", "after"):
        return None
    end = at + 2
    while end < min(len(words), at + MAX_ENDING) and _goes_on(words, end):
        end += 1
    is_key = end - at == 3 and _KEY.match(words[end - 1].text) is not None
    if end < at + 3 or is_key or (end < len(words) and words[end].kind != SIGN and low(words, end) not in _NEXT_CLAUSE):
        return None
    text = " ".join(word.text for word in words[at:end] if word.kind == WORD)
    has_vamp = any(word.low in ("vamp", "vamps") for word in words[at:end])
    kind = "vamp-out" if has_vamp else ending_of(words, at, end)
    return StatedFact("ending", kind or text, end, doubt=text)


def _goes_on(words: Sequence[ReplyWord], at: int) -> bool:
    if at >= len(words):
        return False
    is_word = words[at].kind == WORD and low(words, at) not in _NEXT_CLAUSE
    return is_word or words[at].text in _QUOTES


_GENTLY: Final = (
    "piano piano",
    "pian piano",
    "a poco a poco",
    "poco a poco",
    "peu à peu",
    "nach und nach",
    "little by little",
)
_QUOTES: Final = ("'", '"', "‘", "’", "“", "”", "„")
MAX_ENDING: Final = 9  # words
ON_CUE: Final = phrases("on my cue | on my nod | on cue | on the nod | on my signal | on the cue | auf mein zeichen")
_NEXT_CLAUSE: Final = set_of("and but then in so und et och og mais aber")
_KEY: Final = re.compile(r"[A-H][b#♭♯]?m?$")


def described_ending(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read an ending in the leader's own words, kept as they are: trash can ending, let it ring, last note held."""
    end, core = at, False
    while low(words, end) in DESCRIBING or (
        end < len(words) and low(words, end).isdecimal() and _repeats_at(words, end)
    ):
        core = core or phrase_of(words, end, OWN_ENDINGS) > 0
        end += 1
    while end > at and low(words, end - 1) in LINKING | {"then", "of", "till", "until", "after", "for"} - MANY_END:
        end -= 1
    starts_song = low(words, end) in ("intro", "start", "starts", "starting", "in", "into", "first")
    begins = at + (low(words, at) in ("a", "an", "the", "with"))
    if not core or end - begins < 1 or starts_song:
        return None
    if low(words, end - 1) == "ring" and (
        low(words, end) in CALLED_UP or low(words, begins - 1) in ("a", "ill", "will")
    ):
        return None  # I'll ring you about the rest
    if (
        low(words, at) == "and" and end - at > LEAST_BESIDE and not ending_of(words, at, end)
    ):  # what it also does, beside a ritard
        begins += 1 + (low(words, begins + 1) in ("a", "an", "the"))
        return StatedFact("notes", " ".join(word.text for word in words[begins:end]), end)
    text = " ".join(word.text for word in words[begins:end])
    if low(words, begins).startswith("repeat") and ending_of(words, begins, min(len(words), at + MAX_ENDING)):
        return StatedFact("ending", "vamp-out", end, doubt=text)  # repeat the outro until I nod
    is_short = end - begins == 1 and low(words, begins) in ("crash", "ring", "bang", "trash")  # crash course on 3
    return StatedFact("ending", text, end, doubt=text if is_short else "")


def _repeats_at(words: Sequence[ReplyWord], at: int) -> bool:
    return low(words, at + 1) in ("x", "times") or low(words, at - 1) == "x"


LEAST_BESIDE: Final = 3  # words: and a fermata
CALLED_UP: Final = set_of("you me him her them us round back")
OWN_ENDINGS: Final = phrases(
    "button | trash can | trashcan | trash | ring | rings | ringing | big chord | last note | last chord | held chord "
    "| final chord held | hold the last | hold last | long hold | crash | last line | last word | "
    "big crash | bang | stops after | stops on | stop on | stop after | stops dead on | ends after | ends with the | "
    "repeat the | repeat chorus | stinger | stab and out | railroad ending | long note | pause on the | fermata | "
    "tremolo | held note | hits at the end | choke | just stops after"
)
DESCRIBING: Final = set_of(
    "a an the with just big long short held hold holds final last first second third end ends ending finish note "
    "chord line word chorus verse bar beat hit hits button trash can trashcan ring rings ringing out let it on off "
    "stop stops dead after of and then right down slow slows three two four twice times x repeat repeats hook riff to "
    "fade crash bang stab stinger fill roll drum drums cymbal guitar sax tremolo fermata pause choke railroad "
    "together gap no clean quick till until cue jump title phrase loud soft quiet massive huge for is nice everyone "
    "all"
)
LAST_PLAYED: Final = set_of("fill roll solo break run lick riff crash flourish stab hit chord gong choke")
BIG: Final = set_of("big rock huge massive rocky bluesy jazz jazzy classic trashcan theatrical grand messy")


_ENDS_ON: Final = phrases(
    "ends on | end on | ending on | finishes on | finish on | last chord | final chord | ends in | finishes in"
)


def ends_on(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a last chord, which is no key: ends on D, last chord is a G."""
    many = phrase_of(words, at, _ENDS_ON)
    if not many:
        return None
    end = at + many
    while low(words, end) in ("an", "the", "is", "big", "on", ":") or (
        low(words, end) == "a" and end + 1 < len(words) and words[end + 1].kind == WORD and len(words[end + 1].text) < 6
    ):
        end += 1
    if (
        end >= len(words)
        or words[end].kind != WORD
        or len(words[end].text) > 5
        or words[end].text[:1] not in "ABCDEFGHabcdefg"
        or words[end].low in LAST_PLAYED | {"fade", "cold"}
    ):
        return None
    end += 1
    while (
        low(words, end) in ("flat", "sharp", "minor", "major", "chord", "maj", "min", "not", "the", "though")
        or low(words, end).isdecimal()
    ):
        end += 1
    return StatedFact("notes", " ".join(word.text for word in words[at:end]), end)
