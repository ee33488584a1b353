"""Facts about a song as a leader says them, besides keys: who starts, how it ends, charts, tempo, what is dropped."""

import re
from collections.abc import Callable, Sequence
from typing import Final

from companion.leader.all_sing import all_sing
from companion.leader.band_introduced import band_introduced
from companion.leader.beginnings_said import beginning
from companion.leader.drop_words import dropped
from companion.leader.ending_words import (
    big_ending,
    described_ending,
    ending,
    ends_on,
    ends_somehow,
    ends_with,
    into_next,
)
from companion.leader.moved_key_words import moved_by
from companion.leader.numbers_meant import CALLED
from companion.leader.phrase_lists import AS, RECORDS
from companion.leader.players_resting import player_rests
from companion.leader.reply_words import (
    CLOCK,
    FRACTION,
    LINK,
    NUMBER,
    WORD,
    ReplyWord,
    counted,
    low,
    phrase,
    phrase_of,
    set_of,
)
from companion.leader.song_lengths import song_length
from companion.leader.stated_fact import StatedFact
from companion.leader.tempo_words import felt_in, meter_end, meter_in_words, tempo
from companion.leader.time_words import half_minute_at, seconds_at
from companion.setlist.parsing.cells import meter_cell

CHARTS: Final = set_of(
    "chart charts sheet sheets dots noten leadsheet leadsheets noter partitur partituren spartito spartiti partitura "
    "partituras partition partitions partituur bladmuziek nuty"
)
COPIES: Final = set_of("copy copies part parts score scores")  # of the music, where the words before say so
PRINTED: Final = set_of("piano keyboard keys printed paper written sheet")
YES: Final = set_of("yes y yep yeah yup ja oui si sure ok yes! attached sent done have")
NO: Final = set_of("no n nope nah nein non none kein keine without sans")
_NO_CHART: Final = set_of("geen ingen inget inga sin zonder ohne senza sem")


Reader = Callable[[Sequence[ReplyWord], int], StatedFact | None]


# ------------------------------------------------------------------ charts, recordings, dropped songs


def chart(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read whether there is a chart: no chart, chart yes, charts."""
    if many := phrase(words, at, "by ear", "no dots", "no music"):
        return StatedFact("chart", False, at + many)
    if low(words, at - 1 - (low(words, at - 1) in ("the", "that", "your", "my"))) in _IGNORED:
        return None  # ignore the sheet
    begins = at
    is_no = low(words, begins) in NO | _NO_CHART
    is_yes = low(words, begins) in YES
    if is_no or is_yes or low(words, begins) in ("got", "have", "has", "theres"):
        begins += 1
        while low(words, begins) in ("a", "the", "any", "no", "lead", "hay", *PRINTED):
            is_no = is_no or low(words, begins) == "no"
            begins += 1
    begins += low(words, begins) == "lead" and low(words, begins + 1) in CHARTS
    begins += begins == at and low(words, begins) in PRINTED and low(words, begins + 1) in COPIES
    is_copy = low(words, begins) in COPIES and low(words, begins - 1) in PRINTED
    if low(words, begins) not in CHARTS and not is_copy:
        return None
    end = _after_where(words, begins + 1)
    end += phrase(words, end, "of", "for") if low(words, end + 1) not in ("the", "it") else 0
    if begins == at:
        skip = end + (low(words, end) in (":", "=", "-", "is"))
        if low(words, skip) in YES:
            return StatedFact("chart", True, skip + 1)
        if low(words, skip) in NO and low(words, skip + 1) not in CHARTS:
            return StatedFact("chart", False, skip + 1)
        return StatedFact("chart", True, end, firm=False)
    return StatedFact("chart", not is_no, end)


_IGNORED: Final = set_of("ignore forget disregard bin")


def _after_where(words: Sequence[ReplyWord], at: int) -> int:
    """Skip where the chart is: in the blue folder, on your pad, is enclosed."""
    end = at + phrase(words, at, "is", "are")
    if low(words, end) in ("enclosed", "attached", "ready", "included"):
        return end + 1
    if low(words, end) in ("in", "on") and low(words, end + 1) in ("the", "my", "your", "our"):
        for place in range(end + 2, min(end + 5, len(words))):
            if low(words, place) in _PLACES_OF_CHARTS:
                return place + 1
    return at


_PLACES_OF_CHARTS: Final = set_of(
    "folder dropbox drive book pad binder post mail email stand case cloud bag envelope pile"
)


def recording(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a link, without the sign that ends the sentence."""
    if words[at].kind != LINK:
        return None
    return StatedFact("recording", words[at].text.rstrip(".,:;!?)>]\"'"), at + 1)


def tacet(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read that the keys rest: tacet, no keys, you sit out."""
    many = phrase(
        words,
        at,
        "tacet",
        "no keys",
        "without keys",
        "keys out",
        "you sit out",
        "you sit this one out",
        "you dont play",
        "lay out",
        "you lay out",
        "no keyboard",
        "no keyboards",
        "no piano",
        "sin teclado",
        "sin teclados",
        "ohne keys",
        "ohne klavier",
        "ohne keyboard",
        "zonder toetsen",
        "sans clavier",
        "sans claviers",
        "senza tastiere",
    )
    many += phrase(words, at + many, "at all", "on this", "on this one") if many else 0
    after = at + many
    of_part = low(words, after) in ("intro", "solo", "until", "till") or (
        low(words, after) in ("in", "on", "at") and not low(words, after + 1).isdecimal()
    )
    if not many or of_part:
        return None
    return StatedFact("tacet", True, at + many, firm=low(words, at + many - 1) != "piano")


def version(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read which version is meant: the live version, the 1998 live one, single version from the spring album."""
    begins = at
    while low(words, begins) in ("the", "this", "our", "learn", "use", "do", "take", "follow", "play", "like", "to"):
        begins += 1
    if low(words, begins) in STOPS or begins >= len(words) or words[begins].kind not in (WORD, NUMBER):
        return None
    end = begins
    while (
        end < len(words)
        and end - begins < MAX_VERSION
        and words[end].kind in (WORD, NUMBER)
        and low(words, end) not in STOPS
        and not (low(words, end) in CALLED and counted(list(words), end + 1))  # the next song: number seven
    ):
        end += 1
    record = at + phrase_of(words, at, AS)
    if record > at and record + phrase_of(words, record, RECORDS) == end:
        return None  # like on the album: as the record has it
    said = {word.low for word in words[begins:end]}
    years = any(word.kind == NUMBER and len(word.text) == 4 for word in words[begins:end])
    is_version = bool(said & {"version", "recording", "edit", "take", "mix"})
    if not ((said & RECORDED_AS or years) and said & VERSIONS) and not (is_version and said & HOW_IT_GOES):
        return None
    if words[begins].kind == NUMBER and len(words[begins].text) < 4:
        return None  # the number of a song
    text = " ".join(word.text for word in words[begins:end])
    return StatedFact("version", text, end, firm=is_version, doubt="" if _is_known(words[begins:end]) else text)


def names_version(words: str) -> bool:
    """Return whether words have one that tells versions apart: live at the Mill, the single."""
    return bool({word.casefold() for word in re.findall(r"\w+", words)} & (RECORDED_AS | VERSIONS))


def _is_known(words: Sequence[ReplyWord]) -> bool:
    """Return whether each word belongs to a version: a year, a season, how it was recorded; "Jo hates" does not."""
    return all(
        word.low in OF_VERSIONS or (word.kind == NUMBER and (len(word.text) == 4 or word.low in DECADES))
        for word in words
    )


MAX_VERSION: Final = 10  # words
STOPS: Final = set_of("in is and but with it its as we you i not key for fur pour para per voor")
RECORDED_AS: Final = set_of(
    "live album single studio acoustic unplugged demo remix radio extended original official remastered "
    ""
    "full band cover film duet"
)
HOW_IT_GOES: Final = set_of("slow fast short long new old our acoustic")
OF_VERSIONS: Final = (
    RECORDED_AS
    | HOW_IT_GOES
    | set_of(
        "version one edit recording take mix cut video session album record arrangement the a from off of on at by "
        "first second last early late spring summer autumn winter january february march april may june july august "
        "september october november december one s years year edition studio piano string strings same usual"
    )
)
DECADES: Final = set_of("60 70 80 90 50")
VERSIONS: Final = set_of("version one edit recording take mix cut video session album record arrangement")


def yes_no(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a yes or no that stands alone: "3 yes"; what it answers depends on the question."""
    said, after = low(words, at), at + 1
    if said not in YES | NO or said in ("done", "sure", "ok", "sent", "have", "without", "sans", "none"):
        return None
    if at == 0 and said in YES and low(words, after) == "," and low(words, after + 1) in _GOING_ON:
        return None  # yeah, so 4 is in D
    before_is_word = at > 0 and words[at - 1].kind == WORD
    if before_is_word or low(words, after) == ":" or (after < len(words) and words[after].kind in (WORD, NUMBER)):
        return None
    return StatedFact("yes", said in YES, after, firm=False)


_GOING_ON: Final = set_of("so well right anyway um also alors donc bueno pues allora dus entonces")


# ------------------------------------------------------------------ numbers with a unit


def meter(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a meter: 6/8, or three-four behind a comma."""
    if said := meter_in_words(words, at):
        return said
    if words[at].kind != FRACTION or not (found := meter_cell(words[at].text)):
        return None
    return StatedFact("meter", str(found), meter_end(words, at + 1))


def clock(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a time of day or a length: 20:00, 8pm, 3:40, 45 min."""
    if words[at].kind == CLOCK:
        return StatedFact("clock", words[at].text, at + 1 + phrase(words, at + 1, "long"))
    number = counted(list(words), at)
    if number is None:
        return None
    end = at + number[1]
    if number[0] < LONGEST and (half := half_minute_at(words, end)):
        return StatedFact("minutes", f"{number[0]}:30", half)  # three and a half minutes
    if low(words, end) in ("min", "mins", "minutes", "minute", "minuten", "min."):
        if number[0] < LONGEST and (seconds := seconds_at(words, end + 1)):
            return StatedFact("clock", f"{number[0]}:{seconds[0]:02}", seconds[1])  # 3 mins 20
        return StatedFact("minutes", number[0], end + 1 + phrase(words, end + 1, "long", "each"))
    if low(words, end) == ":" and end + 1 < len(words) and words[end + 1].kind == NUMBER:
        return None  # tempo only at 7: 118
    if low(words, at - 1) in ("at", "from", "ab", "um") and (
        low(words, end) in ("oclock", "sharp") or _ends(words, end)
    ):
        return StatedFact(
            "clock", words[at].text, end + (low(words, end) in ("oclock", "sharp")), firm=False, doubt=BY_EVENING
        )
    return None


LONGEST: Final = 20  # minutes of one song


BY_EVENING: Final = "taken for the evening"


def _ends(words: Sequence[ReplyWord], at: int) -> bool:
    return at >= len(words) or words[at].kind not in (WORD, NUMBER)


def capo(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a capo, which does not say the key: capo 3, capo on 2, capo at the third fret."""
    if many := phrase(words, at, "no capo", "without capo", "without a capo"):
        return StatedFact("notes", "no capo", at + many)
    if low(words, at) not in ("capo", "kapo"):
        return None
    end = at + 1
    while low(words, end) in ("on", "at", "the", "fret", "in", "=", ":"):
        end += 1
    number = counted(list(words), end) if end < len(words) else None
    if number and number[0] <= 11:
        end += number[1]
        return StatedFact("capo", number[0], end + (low(words, end) == "fret"))
    return StatedFact("capo", 0, at + 1)


def shapes(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read the chords that a guitar with a capo fingers: A shapes, shape A."""
    if low(words, at) in ("shape", "shapes") and at + 1 < len(words) and SHAPE.match(words[at + 1].text):
        return StatedFact("shapes", words[at + 1].text, at + 2)
    match = SHAPE.match(words[at].text)
    end = at + 1 + (low(words, at + 1) in ("chord", "major"))
    if match and low(words, end) in ("shape", "shapes", "shaped", "fingering"):
        return StatedFact("shapes", words[at].text, end + 1)
    return None


SHAPE: Final = re.compile(r"[A-G][b#]?m?$")


def sound_wanted(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read which sound the keys are to have, a note and not who starts: organ sound, strings pad, organ please."""
    begins = at
    while low(words, begins) in SOUNDED:
        begins += 1
    if low(words, begins) not in KEY_SOUNDS:
        return None
    end = begins + 1
    many = phrase(
        words, end, "sound", "sounds", "patch", "pad", "pads", "stop", "tone", "for you", "please", "throughout"
    )
    many = many or phrase(
        words, end, "all the way", "all through", "underneath", "sort of thing", "not piano", "not organ"
    )
    if not many or low(words, end + many) in ("intro", "starts", "start", "first", "begins", "opens"):
        return None
    end += many
    end += phrase(words, end, "all the way", "throughout", "please", "for you", "all through")
    return StatedFact("notes", " ".join(word.text for word in words[at:end]), end)


SOUNDED: Final = set_of(
    "electric nylon grand warm soft big church hammond upright fat real proper synth string brass a an the"
)
KEY_SOUNDS: Final = set_of(
    "organ piano strings string synth rhodes clav brass accordion harpsichord choir vibes bells harp"
)


READERS: Final[tuple[Reader, ...]] = (
    recording,
    capo,
    shapes,
    clock,
    song_length,
    tempo,
    meter,
    felt_in,
    into_next,
    ends_on,
    described_ending,
    big_ending,
    ending,
    moved_by,
    ends_with,
    tacet,
    player_rests,
    all_sing,
    chart,
    dropped,
    band_introduced,
    beginning,
    sound_wanted,
    version,
    yes_no,
)


def fact_at(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read the fact that takes the most words from here."""
    found = [fact for reader in READERS if (fact := reader(words, at))] or [
        fact for fact in (ends_somehow(words, at),) if fact
    ]
    return max(found, key=lambda fact: (fact.end, fact.firm), default=None)
