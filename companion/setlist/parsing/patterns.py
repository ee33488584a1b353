"""Patterns that split a line of text: numbers, bullets, separators, and endings such as a key."""

import re

AND = "and|und|et|y|e|en|og|och"  # in the languages of set lists, for a pattern
PART_OF_SONG = re.compile(  # "last chorus in D" is of the song before it
    r"\b(?:bars?|intro|verses?|chorus(?:es)?|bridge|middle|outro|ending|end|solo|trio|coda|refrain|strophe|"
    r"mittelteil|couplet|estribillo|ritornello|finale?|last time|key change)\b",
    re.IGNORECASE,
)
NUMBERED = re.compile(
    r"^[(\[]?#?\s?(\d{1,3})(?:\s*|[a-d](?=[.)]))(?:[.)]\s?[-–—](?=\s)|\.{1,2}(?!\.)|[):\]]|/(?=\s)|[-–—](?=\s)|\s[-–—])(?:\s+|(?=[^\W\d]))(?=\S)"
)
NAMED_NUMBER = re.compile(
    r"^(?:no|nr|n°|nº|track|song|tune|card|pad|chart)\.?\s?(\d{1,3})[a-d]?\s*[.):–-]?\s+(?=\S)", re.IGNORECASE
)  # No. 4 Moth
MINUTES = "mins?|minutes?|minuten|minuti|minutos|minutter|minuter"
BARE_NUMBER = re.compile(  # 3a is between 3 and 4; 40 mins is no number of a song
    rf"^#?(\d{{1,3}})[a-d]?\s+(?!(?:{MINUTES}|hours?|hrs?|songs?|tunes?|bars?|takte|people|euros?|quid)(?![\w'’]))(?=\S)"
)
BULLET = re.compile(
    r"^(?:[-–—*•·+>▪◦‣●○∙►▶»~⁃∗]|\[[ xX✓✔]?\]|☐|☑|☒|✅|✓|✔|\( ?\))\s+(?=\S)|"
    r"^(?:song|tune|lied|chanson|canción|canzone|lag|nummer)(?:\s?:|\s[-–—])\s+(?=\S)",
    re.IGNORECASE,
)
LETTERED = re.compile(r"^([a-z])[).]\s+(?=\S)")
PART_LETTER = re.compile(r"^[|\s]*[a-h]\)\s+(?=\S)")  # of two songs under one number: 3 a) Moth
PARTED = re.compile(
    r"\s+[-–—|•·~]+\s+|\s+(?:<[-=]{1,3}|←)\s*|\t+|\s{2,}|\s*[;|]\s*|\s*,\s+(?=(?:key|in|bpm)\b)|"
    r"(?<=\S)\s*\.{3,}\s*(?=\S)|\s+\.{2}\s+|\s*…+\s+(?=\S)|\s*_{3,}\s*|\s+=\s+|\s+:\s+",
    re.IGNORECASE,
)
SLASHED = re.compile(r"\s+/\s+")
WIDE_GAP = re.compile(r"\s{2,}")
COMMA = re.compile(r"\s*,\s*")
TAIL = re.compile(r"^(.*\S)\s*[(\[{]([^()\[\]{}]*)[)\]}]\s*$")
HEAD = re.compile(r"^[(\[{]([^()\[\]{}]*)[)\]}]\s*[-–—:]?\s*(\S.*)$")
NOTE = r"[A-Ga-g](?:\s?[b#♭♯]|[\s-](?:flat|sharp))?(?:\s?-?\s?(?:minor|major|min|maj|m|moll|dur)\b|-(?=$|\s))?"
KEY_SAID = re.compile(  # up a tone from record so A; in C for me
    r"(?:\bso|\bmakes it|\bwhich is|^in|\bbut in)\s+(?:in\s+)?"
    r"([A-G](?:[b#♭♯]|\s(?:flat|sharp))?m?)(?=$|\s[a-z])"
)
KEY_IN_CASE = re.compile(  # Moth F#m ... or Em if Jo has a cold
    r"^(.{1,120}?\S)(?:\s+[-–—(:]?\s*|[(:,]\s*)([A-G][b#♭♯]?m?\s{0,3}(?:\.{2,4}|…|,|-|–)?\s{0,3}\b(?:or|oder|ou|eller)\s(?:in\s)?"
    r"[A-G][b#♭♯]?m?\s(?:if|when|unless|wenn|falls|hvis|depend(?:s|ing)|je nach)\s[^()]{1,80})\)?$"
)
KEY_AND_WHEN = re.compile(  # Moth in C when they leave
    r"^(.*\S)\s+in\s+([A-G](?:[b#♭♯]|\s(?:flat|sharp))?m?)\s+"
    r"((?:when|as|for|while|at|from|after|before|until|with|if|but|then)\s[a-z].*)$"
)
POINTED_KEY = re.compile(  # Moth. D. no drums in verse 1; Moth, Em. Piano alone
    r"^(.*\w[)!?'’\"]?)[.,;]\s+([A-H](?:[b#♭♯]|is|es|\s(?:flat|sharp))?m?)(?:[.]\s+(\S.*)|[,.]?\s+(\w+(?: \w+){0,3}))$"
)
QUOTED = re.compile(r"^([^\"“„«]{0,60})[\"“„«]([^\"“”„«»]{2,60})[\"“”»]([^\"“„«]{0,80})$")
NAMED_FACTS = re.compile(r"^([^:]{2,50}?)\s?:\s+(\S.*)$")
KEY_IN_FRONT = re.compile(rf"^({NOTE})\s*[:\s]\s*(\S.*)$")
UNKNOWN_AT_END = re.compile(r"^(.*?\S)\s+(?:(?:in|key(?: of)?)\s+)?(?:\?+|tbc|tbd|tba|n/a|key\s?\?+)$", re.IGNORECASE)
ASKED_AT_END = re.compile(r"^(.*\S)\s?(?<!\?)\?{1,2}$")  # a key with a question mark
SEGUE_AT_END = re.compile(
    r"^(.*\S)\s*(?:[,;]|\s[-–—]*>+|→|\s[-–—])\s*"
    r"((?:(?:goes |go |runs )?(?:straight )?into\b|seg(?:ue)?\b|attacca\b|no gap\b)"
    r"[^()]{0,60})$",
    re.IGNORECASE,
)
_ON = rf"(?:\s*(?:→|->|=>|>)\s*{NOTE}){{0,3}}"  # Eb -> E -> F
CHANGE_AT_END = re.compile(
    rf"^(.*?\S)\s+((?:in\s+)?{NOTE}\s*(?:→|->|=>|>>?|\b(?:then )?(?:up|down) to\b|\bthen\b)\s*{NOTE}{_ON}"
    r"(?:\s+(?:in |for |at |on |after |from |"
    r"last |final |\d|second |third |the |chorus|solo|bridge|outro|end)[^()]{0,60})?)$"
)
COMMA_AT_END = re.compile(r"^(.*[^,\s])\s*[,;]\s*([^,;]+)$")
TWO_KEYS_AT_END = re.compile(rf"^(.*?\S)\s+(?:in\s+)?({NOTE}\s?(?:/|→|->|>|\bor\b)\s?{NOTE}{_ON}\??)$", re.IGNORECASE)
SAID_AT_END = re.compile(
    r"^(.*\S)\s+[-–—]*\s*(seg(?:ue)?|attacca|(?:keys?|piano|organ|synth|guitar|drums?|band|sax|vox|"
    r"vocals?) (?:intro|solos?|starts?))$",
    re.IGNORECASE,
)
LENGTH_AT_END = re.compile(r"^(.*\S)\s+(\d{1,2}:[0-5]\d|\d{1,2}['’′]\s?\d{2}(?:''|\"|″)?|\d{1,2}m\d{2}s?)$")
LENGTH_IN_FRONT = re.compile(r"^(\d{1,2}[:.][0-5]\d)\s*[-–—:|]?\s+(?=\S)")
TEMPO_AT_END = re.compile(r"^(.*[^\s@♩=~≈])\s+(@?\s?\d{2,3}\s?bpm|[@♩~≈]\s?=?\s?\d{2,3}|\d{2,3})$", re.IGNORECASE)
METER_AT_END = re.compile(r"^(.*\S)\s+(\d{1,2}/(?:2|4|8|16))$")
POINTED_AT_END = re.compile(r"\s(\d{1,2}[.,][0-5]\d)(?=$|\s)")
IN_BRACKETS = re.compile(r"[(\[{][^()\[\]{}]*[)\]}]")
BY = re.compile(r"^(.+)\s+(?:by|von)\s+(\S.*)$", re.IGNORECASE)
TWO_TITLES = re.compile(r"\S\s+(?:>|→|->|>>)\s+\S|\b[A-Z]\w+(?: \w+)+ or [A-Z]\w+ \w")
LEAD_WORDS = re.compile(
    r"^((?:and |then )?(?:we )?"
    r"(?:[Oo]pen|[Ss]tart|[Ee]nd|[Ff]inish|[Cc]lose|[Oo]pening|[Ss]tarting|[Ee]nding|[Ff]inishing|[Cc]losing) "
    r"(?:with|on)) (?=\S)"
)  # end with pylon
INLINE = re.compile(
    r"^\W*((?:1st|2nd|3rd|enc|set|block|teil|spares?|reserves?|in reserve|extras?|if (?:there is )?time|"
    r"if they (?:want|ask|shout|call)(?: for)?(?: (?:one )?more| another)?|standby|"
    r"back[- ]?ups?|encores?|zugaben?|rappels?|bis|bisy|na bis|toegift(?:en)?|ekstranumm?[er]{1,2}|extranummer|"
    r"přídav(?:ek|ky)|propina|\w+ set)\b[^:,(]{0,30}?)\W*:\W*\s(\S.*)$",
    re.IGNORECASE,
)
SONGS_APART = re.compile(r"\s*[,;]\s*(?![^()]*\))")  # a comma outside brackets
TICKED = re.compile(r"`([^`]+)`")  # a key set as code in Markdown
STRUCK = re.compile(r"~~(?=\S)([^~]+)(?<=\S)~~|(?<![\w~])~(?=\S)([^~]{2,})(?<=\S)~(?![\w~])")
STRUCK_FOR = re.compile(rf"(?:{STRUCK.pattern})(?:\s*(?:[-=]{{1,2}}>|→|>)(?=\s))?")  # ~~Moth G~~ -> Weeds F
MARK_AT_END = re.compile(r"^(.*\S)\s*(?:\s[-–—|/]|,)\s*([A-Z]{1,3})$")  # a letter that stands for a singer
WAS_NOW_AT_END = re.compile(
    rf"^(.*?\S)\s*[-–—:,(]?\s*\b((?:was|old|formerly|war|statt|instead of)\s+(?:in\s+)?{NOTE}\s*[,;:/–—→>-]*\s*"
    rf"(?:but\s+)?(?:now|today|tonight|new|jetzt|neu)\s+(?:in\s+)?({NOTE}))\)?$",
    re.IGNORECASE,
)
LABEL_WITH_NUMBER = re.compile(r"^[^\W\d_]{3,12} \d{1,2}$")  # Carol 3, in front of a title
SINGER = re.compile(r"^([^\W\d_][\w.&/+' ]{0,18}?)\s*:\s+(?=\S)")
DASHED_SINGER = re.compile(r"^([^\W\d_][\w.&/+' ]{0,18}?)\s*[-–—]\s+(?=\S)")
VOICE = re.compile(
    r"^(?:(set (?:one|two|three|four|\d))[,\s]+)?(?:song |tune )?number (one|two|three|four|five|"
    r"six|seven|eight|nine|ten|"
    r"eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|\d{1,2})[,:]?\s+(?![-–—|•(=])(\S.*)$",
    re.IGNORECASE,
)
BRACE_AT_END = re.compile(r"\s*[}⎫⎬⎭]\s*(\S.*)?$")
UNFINISHED = re.compile(
    r"(?:[,/&]|\b(?:his|her|its|this|no|not|than|who|so|as|but|if|when|where|until|into|over|under|all|the|a|an|of|to|in|on|at|and|or|for|with|from|by|is|my|your|our|their|der|die|das|und|mit|im|le|la|les|"
    r"de|du|des|et|el|y|con))$",
    re.IGNORECASE,
)
