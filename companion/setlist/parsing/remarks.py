"""Remarks on a song as leaders write them: keys intro, organ solo, segue, fade, a star. Their text is kept too."""

import re

import msgspec

from companion.show import Ending

WHO = (
    "keys|keyboards?|(?:e-?)?piano|organ|synth|hammond|rhodes|wurli(?:tzer)?|clavinet|celest[ea]|glock(?:enspiel)?|"
    "vibes|harpsichord|choir|pads|guitars?|gtrs?|git|drums?|dr|bass|vocals?|vox|"
    "voc|voice|band|all|sax|horns?|brass|"
    "strings?|acoustic|lead|singer|pad|clav|riff|perc(?:ussion)?|cowbell|claps?|a ?cappella|"
    "alto|tenor|bari(?:tone)?|clarinet|cornet|banjo|mandolin|uke(?:lele)?|harmonica|cello|"
    "accordion|trumpet|trombone|flute|violin|fiddle|"
    "klavier|orgel|tasten|schlagzeug|gesang|gitarre"
)
ROLES = (
    "intro|solos?|starts?|start|break|riff|outro|fill|ending|hook|only|feature|interlude|instrumental|part|out|in|tacet|"
    "beginnt"
)
WORDS = (
    r"intro|outro|solo|solos|segue|seg|attacca|fade(?:s|d)?(?: ?out)?|cold(?: end(?:ing)?)|ending|"
    r"rit(?:ard)?\.?|tag|vamp|medley|tacet|duet|"
    r"half[- ]?time|double[- ]?time|learn|optional|opt|if time|spare|reserve|backup|request|tbc|tbd|"
    r"capo(?: \d+)?|drop ?d|"
    r"(?:live|album|short|long|radio|extended|single|our) (?:version|edit)|no (?:solo|intro|keys|"
    r"drums|bass|ending|fade)|a ?cappella|click|"
    r"backing track|(?:half|whole) (?:step|tone)s? (?:down|up)|(?:down|up) (?:a )?(?:half|whole|"
    r"semi)?[- ]?(?:step|tone)|[+-]\d|key ?change|"
    r"mod(?:ulates)?(?: up)?|first dance|last dance|count(?:[- ]?(?:in|off))|sticks|unison|hits|stops|"
    r"bridge|chorus|verse|singalong|"
    r"(?:same )?as (?:on )?(?:the )?(?:record(?:ing)?|album|original)|a (?:semi|half[- ])?tone (?:up|down)|"
    r"\d+ ?bars?|x ?\d|\d+ ?x|twice|watch"
)
# Words also found in titles: they count only where the text has no others.
STYLES = (
    r"new|neu|slow|fast|ballad|swing|shuffle|straight|waltz|latin|funk|reggae|acoustic|electric|male|"
    r"female|dance|cold|encore|zugabe|opener|"
    r"closer|feel|song|version|lead|vocals?|easy|hard|quiet|loud|short|long|track|clap|all|sing"
)
_WHO_ROLE = re.compile(rf"\b(?:{WHO})\b.{{0,14}}\b(?:{ROLES})\b|\b(?:{ROLES})\b.{{0,10}}\b(?:{WHO})\b", re.IGNORECASE)
_WORD = re.compile(rf"(?:^|[\s,;/(])(?:{WORDS})(?:$|[\s,;/).!])", re.IGNORECASE)
_STYLE = re.compile(rf"(?:(?:{STYLES})[\s,/!+&-]*)+$", re.IGNORECASE)
_SOMEONE_DOES = re.compile(
    r"^[A-Z]\w+ (?:sings?|leads?|starts?|counts?(?: us)? in|takes|plays|conducts)\b(?: \w+){0,3}$"
)
_SUNG = re.compile(  # vocal: Linda; Linda vox
    r"^(?:(?:lead )?(?:vocals?|vox|voc|singer|sung by|gesang|chant|voz|voce)\s?[:=–-]?\s+[A-Z][\w/&+ ]{0,24}"
    r"|[A-Z]\w+ (?:on )?(?:lead )?(?:vox|vocals?|lead)|(?:[a-z]\w{1,9} )?feat(?:uring|\.)?\s[A-Z]\w.{0,24})$"
)
_DANCE = re.compile(  # in small letters, in a bracket behind a title: (slip jig), (polkas)
    r"^(?:(?:slip|slow|fast|quick|double|single|set|old|irish|scottish|med(?:ium)?) )?"
    r"(?:jigs?|reels?|polkas?|hornpipes?|waltz(?:es)?|march(?:es)?|strathspeys?|airs?|slides?|mazurkas?|schottische?s?|"
    r"barn ?dances?|two[- ]steps?|walzer|valse|vals|valzer|tango|bourrée|gavotte|bossa(?: nova)?|samba|rumba|"
    r"cha[- ]?cha|foxtrott?|quickstep|beguine|bolero|marsch|ländler|polska|hambo|schottis|snoa|springar|halling|"
    r"reinlender|hopsa|csárdás|oberek|kujawiak|kolo|cumbia|merengue|salsa|pasodoble|tarantella|liscio)$"
)
_LONE = re.compile(rf"\s*(?:{WHO})\s*$", re.IGNORECASE)
_SEGUE = re.compile(
    r"^\s*(?:[-–—=]*>+|→|↓|↘|⤵|>>)\s*$|\bseg(?:ue)?s?\b|\battacca\b|\bstraight into\b|\b(?:goes |"
    r"runs )?into (?:the )?next\b|\bno gap\b|^\s*(?:goes |straight )?into\s*$",
    re.IGNORECASE,
)
_ARROW_END = re.compile(r"\s*(?:[-–—=]{0,8}>+|→|↓|↘|⤵)\s*$")
_STARTS = (
    re.compile(rf"\b({WHO})\s+(?:intro|starts?|beginnt|count(?:s|[- ]?(?:in|off)))\b", re.IGNORECASE),
    re.compile(
        rf"\b(?:intro|starts? with|starts?|count(?:ed)?(?:[- ]?(?:in|off))?)(?:\s+by|\s*[:=])?\s+(?:on\s+)?({WHO})\b",
        re.IGNORECASE,
    ),
)
_ENDINGS = {
    Ending.COLD: re.compile(
        r"(?:^|[,;:/(+&–—-]\s*|\b(?:end(?:s|ed|ing)?|stop(?:s|ped)?|finish(?:es)?|goes|go|last|out)\s+)cold\b(?!\s+(?:is|was)\b)|"
        r"\bcold (?:end(?:ing)?|stop)\b|\bdead stop\b",
        re.IGNORECASE,
    ),
    Ending.FADE: re.compile(r"\bfade(?:s|d)?(?:[- ]?out)?\b", re.IGNORECASE),
    Ending.RITARD: re.compile(r"\brit(?:ard(?:ando)?)?\b\.?", re.IGNORECASE),
    Ending.TAG: re.compile(r"\btag(?: ending| ?x ?\d)?\b", re.IGNORECASE),
    Ending.VAMP_OUT: re.compile(r"\bvamp(?:[- ]?out)\b", re.IGNORECASE),
}
_NOT = re.compile(r"\b(?:no|not|don'?t|kein|ohne)\s+$", re.IGNORECASE)
_SAME = {
    "klavier": "piano",
    "orgel": "organ",
    "tasten": "keys",
    "schlagzeug": "drums",
    "gesang": "vocals",
    "gitarre": "guitar",
    "git": "guitar",
    "keyboard": "keys",
    "keyboards": "keys",
    "gtr": "guitar",
    "gtrs": "guitars",
    "vox": "vocals",
    "voc": "vocals",
    "dr": "drums",
}
STARS = re.compile(r"\s*([*†‡★☆✱]+)$")
_SOMEONE = re.compile(r"^[A-Z][a-z]+ [a-z]{3,}[^s\W]s(?: [a-z]\w*)*$")  # Ed hollers
_OF_TITLE = re.compile(
    r"(?:from|part|pt|vol|no|take|der|die|das|ein|eine|the|a|an|i|you|we|my|your|la|le|les|el|il|de)\b"
)
_MYSELF = re.compile(r"(?<!\w)I(?!\w)")
LONGEST_TITLE_BRACKET = 3  # words; more in small letters, behind a number, are no part of a title: (3 songs joined up)


_ARTICLES = ("a", "an", "the", "of")  # small in a title: Half a Duet


class Remark(msgspec.Struct, frozen=True):
    """The facts in a remark."""

    starts_with: str | None = None
    ending: Ending | None = None
    segue: bool = False


def read_remark(text: str) -> Remark:
    """Read start, ending and segue from a note; the others stay unset."""
    starts = next((found[1].lower() for pattern in _STARTS if (found := pattern.search(text))), None)
    ending = next(
        (
            how
            for how, pattern in _ENDINGS.items()
            if (found := pattern.search(text)) and not _NOT.search(text[: found.start()])
        ),
        None,
    )
    return Remark(_SAME.get(starts or "", starts), ending, bool(_SEGUE.search(text)))


def is_remark(text: str) -> bool:
    """Return whether a piece of a line is a remark on the song, not part of its title.

    >>> [is_remark(text) for text in ("organ solo", "Solo Traveller", "slow", "Slow Lorry Home")]
    [True, False, True, False]
    """
    if (
        _SOMEONE_DOES.match(text)
        or _SUNG.match(text)
        or _WHO_ROLE.search(text)
        or _LONE.match(text)
        or _SEGUE.search(text)
        or _STYLE.match(text)
    ):
        return True
    words = text.split()
    rises = len(words) > 1 and all(word[:1].isupper() or word in _ARTICLES for word in words)
    return bool(_WORD.search(text)) and not (rises and words[-1] not in _ARTICLES)


def off_the_end(text: str) -> tuple[str, str, bool]:
    """Split stars and an arrow off a line's end: (the line, the stars, whether it runs into the next song)."""
    rest, arrows = _ARROW_END.subn("", text)
    found = STARS.search(rest)
    if found and rest[: found.start()].strip():
        return rest[: found.start()].rstrip(), found[1], bool(arrows)
    return rest, "", bool(arrows)


def names_dance(text: str) -> bool:
    """Return whether words in small letters name the kind of a tune: slip jig, polkas."""
    return _DANCE.match(text) is not None


def is_small_remark(words: str, title: str) -> bool:
    """Return whether a bracket behind a title in capitals says something in small letters: (slow then fast)."""
    longer = [word for word in title.split() if len(word) > len("and")]
    plain = _MYSELF.sub("i", words)
    many = len(words.split())
    is_small = plain == plain.lower() and ((many > 1 and words[:1].isalpha()) or many > LONGEST_TITLE_BRACKET)
    is_small = is_small or _SOMEONE.match(words) is not None
    return (
        is_small and title[:1].isupper() and all(word[:1].isupper() for word in longer) and not _OF_TITLE.match(words)
    )
