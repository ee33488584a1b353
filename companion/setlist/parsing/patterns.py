"""Patterns that split a line of text: numbers, bullets, separators, and endings such as a key."""

import re

NUMBERED = re.compile(r"^\(?#?\s?(\d{1,3})\s*(?:[.):\]]|\s[-–—])(?:\s+|(?=[^\W\d]))(?=\S)")
BARE_NUMBER = re.compile(r"^#?(\d{1,3})\s+(?=\S)")
BULLET = re.compile(r"^(?:[-–—*•·+>▪◦‣●○∙]|\[[ xX]?\]|☐|☑|✓|✔)\s+(?=\S)")
PARTED = re.compile(r"\s+[-–—|•·~]+\s+|\t+|\s{2,}|\s*[;|]\s*|\s*,\s+(?=(?:key|in|bpm)\b)", re.IGNORECASE)
WIDE_GAP = re.compile(r"\s{2,}")
COMMA = re.compile(r"\s*,\s*")
TAIL = re.compile(r"^(.*\S)\s*[(\[{]([^()\[\]{}]*)[)\]}]\s*$")
HEAD = re.compile(r"^[(\[{]([^()\[\]{}]*)[)\]}]\s*[-–—:]?\s*(\S.*)$")
NOTE = r"[A-Ga-g](?:\s?[b#♭♯]|[\s-](?:flat|sharp))?(?:\s?-?\s?(?:minor|major|min|maj|m|moll|dur)\b|-(?=$|\s))?"
KEY_AT_END = re.compile(
    rf"^(.*?\S)\s+(?:(in|key|key of|in the key of|tonart|concert)[:\s]\s*)?({NOTE})$", re.IGNORECASE
)
GERMAN_AT_END = re.compile(r"^(.*?\S)\s+(?:(in)\s+)?([A-Ha-h](?:is|es|s)?(?:m|[\s-]?(?:moll|dur))?)$", re.IGNORECASE)
KEY_IN_FRONT = re.compile(rf"^({NOTE})\s*[:\s]\s*(\S.*)$")
STRONG = re.compile(r"^[A-G](?:[b#♭♯]|\s?[-]?(?:flat|sharp))|^[B-G]m$|^[A-G]\s?(?:minor|major|min|maj)$")
UNKNOWN_AT_END = re.compile(r"^(.*?\S)\s+(?:in|key(?: of)?)?\s*(?:\?+|tbc|tbd|tba|n/a)$", re.IGNORECASE)
TWO_KEYS_AT_END = re.compile(rf"^(.*?\S)\s+(?:in\s+)?({NOTE}\s?(?:/|→|->|>)\s?{NOTE})$", re.IGNORECASE)
SAID_AT_END = re.compile(
    r"^(.*\S)\s+[-–—]*\s*(seg(?:ue)?|attacca|(?:keys?|piano|organ|synth|guitar|drums?|band|sax|vox|"
    r"vocals?) (?:intro|solos?|starts?))$",
    re.IGNORECASE,
)
LENGTH_AT_END = re.compile(r"^(.*\S)\s+(\d{1,2}:[0-5]\d|\d{1,2}['’′]\s?\d{2}(?:''|\"|″)?|\d{1,2}m\d{2}s?)$")
TEMPO_AT_END = re.compile(r"^(.*\S)\s+(@?\s?\d{2,3}\s?bpm|[@♩]\s?=?\s?\d{2,3}|\d{2,3})$", re.IGNORECASE)
METER_AT_END = re.compile(r"^(.*\S)\s+(\d{1,2}/(?:2|4|8|16))$")
POINTED_AT_END = re.compile(r"\s(\d{1,2}[.,][0-5]\d)(?=$|\s)")
OPENER = re.compile(r"^(opener|opening|closer|closing|encore|last|finale|reserve|spare)\s*:\s*(?=\S)", re.IGNORECASE)
IN_BRACKETS = re.compile(r"[(\[{][^()\[\]{}]*[)\]}]")
BY = re.compile(r"^(.+?)\s+(?:by|von)\s+(\S.*)$", re.IGNORECASE)
TWO_TITLES = re.compile(r"\S\s+(?:>|→|->|>>)\s+\S")
INLINE = re.compile(
    r"^\W*((?:set|block|teil|encores?|zugaben?|\w+ set)\b[^:,(]{0,12}?)\W*:\W*\s(.*,.*)$", re.IGNORECASE
)
SONGS_APART = re.compile(r"\s*[,;]\s*(?![^()]*\))")  # a comma outside brackets
MESSAGE = re.compile(r"^\[[^\]]*\d{1,2}:\d{2}[^\]]*\]\s*[^:]{1,40}:\s+(?=\S)")  # [12:04, 5.6.2027] Sam: ...
