"""A section in shorthand, as players pencil it: split into the same nodes as the long form.

``Solo 16 x2 *organ alone in E watch drummer (two fingers up is one more) hits 4, 4& @lead | 1 | 4 | 5 | 1``

First comes the name, then the signs: bars, ``xN``, ``open``, ``tacet``, ``*``. Phrases follow in any order: ``in E``,
``watch drummer``, ``hits 4, 4&``, ``ending``, ``at once``, ``when hands lift``, a cue in brackets, ``*`` with what
people listen for, and ``words`` with the first words, which runs to the end. ``@`` and the sound come after them, the
chords last, from the first bar line on. A text with a comma or a sign in it is in brackets: ``words (oh, you)``.
"""

import itertools
import re
from collections.abc import Callable
from typing import Final

from companion.files import Node, Reading, Table, Text, nearest, shown
from companion.show.shorthand_lines import brackets_of, outside, repeated_bars

BARS: Final = re.compile(r"[0-9]+\Z")
PASSES: Final = re.compile(r"[x×]([0-9]+)\Z")
BARS_AND_PASSES: Final = re.compile(r"([0-9]+)[x×]([0-9]+)\Z")
BEAT: Final = re.compile(r"([0-9]{1,2}(?:e|&|\+|a|and)?|[&+]),?\Z")
KEY_WORD: Final = re.compile(r"[A-H](?:b|#|♭|♯)?(?:m|min|maj)?-?\Z")
MODE_WORDS: Final = ("major", "minor", "dorian", "phrygian", "lydian", "mixolydian", "locrian")
CHANGES: Final = (("at", "once"), ("when", "hands", "lift"))
WORD: Final = re.compile(r"[^\s*(]+|\*|\(")
AFTER_SOUND: Final = re.compile(r"\s((?:\*|watch\s|hits\s).*)\Z")  # belongs before the @
REMARK: Final = re.compile(r"(?<!\S)#(?![0-9])")  # #4o is a chord
ENDS: Final = {  # as players write it: the word for the song's ending
    **dict.fromkeys(("rit", "ritard", "ritardando", "rall", "rallentando"), "ritard"),
    **dict.fromkeys(("fade", "fades", "fade-out", "fadeout", "fading"), "fade"),
    **{word: word for word in ("cold", "segue", "vamp-out")},
}
TEXTS: Final = "watch", "hits", "words"  # each begins a phrase that holds a text
CALLED: Final = {  # an entry, as a player would call it; the others by their own word
    "passes": "the number of passes",
    "feature": "the *",
    "key": "the key",
    "cue": "the cue",
    "first_words": "words",
    "change": "when the sound changes",
}
ONLY: Final = "only xN, open, tacet, *, in E, watch, hits, words, (a cue), @sound and | chords after the bars"

Typed = tuple[str, int]
"""A word, a * or a text in brackets, and where it begins in the line."""


def is_shorthand(table: Table) -> bool:
    """Whether a section's table was cut from shorthand: its name has no key before it."""
    typed, behind = table.entries.get("section", (None, None))
    return typed is not None and typed is behind


class ShortSection:
    """Splits one section in shorthand into the entries of a table."""

    def __init__(self, line: Text, places: list[tuple[int, int]], start: int, reading: Reading) -> None:
        self.line = line
        self.places = places  # place of each character of the line
        self.start = start  # offset of the section in it
        self.reading = reading
        self.entries: dict[str, tuple[Text, Node]] = {}
        self.words: list[Typed] = []
        self.part = ""

    def spot(self, where: int, text: str) -> Text:
        """Return a text placed at the character ``where`` of the line."""
        return Text(text, self.line.source, *self.places[where])

    def cut(self, part: str) -> Table:
        """Return the section's table."""
        remark = next((at for at in outside(part, "#") if REMARK.match(part, at)), None) if "#" in part else None
        if remark is not None:
            self.remark(part, remark)
            part = part[:remark] if part[:remark].strip() else "?"  # a line of its own has no section
        self.part = part
        head, at, after = self.split(part)
        self.words = self.typed(head)
        names = self.name_ends()
        after_name = self.words[names:]
        typed = self.words[:names]
        while len(typed) > 1 or (typed and typed[0][0] == "*"):
            if not self.sign(*typed[-1]):
                break
            typed.pop()
        self.name(typed, part)
        self.phrases(after_name)
        sounds, line, chords = after if at else (after[0], after[1], after[2])
        if at:
            self.sounds(sounds, self.start + len(head) + 1)
        if line:
            self.chords(chords, self.start + len(part) - len(chords))
        first = self.spot(self.start + len(part) - len(part.lstrip()), "")
        return Table(self.entries, first.source, first.line, first.column)

    def remark(self, part: str, at: int) -> None:
        """Note a comment, which these lines cannot have."""
        rest = part[at:].strip()
        problem = "in these lines a # begins no comment"
        self.reading.fault(
            self.spot(self.start + at, rest), problem, f"({rest.lstrip('# ')[:60]}), as a cue, or leave it out"
        )

    def split(self, part: str) -> tuple[str, str, tuple[str, str, str]]:
        """Split into name and phrases, the @, and (sounds, the first bar line, chords)."""
        repeated = repeated_bars(part)
        if repeated is not None:
            return part[:repeated], "", ("", "|", part[repeated:])
        line = next(iter(outside(part, "|")), len(part)) if "|" in part else len(part)
        at = next(iter(outside(part, "@")), len(part)) if "@" in part else len(part)
        if at < line:
            return part[:at], "@", (part[at + 1 : line], part[line : line + 1], part[line + 1 :])
        return part[:line], "", ("", part[line : line + 1], part[line + 1 :])

    def typed(self, head: str) -> list[Typed]:
        """Return the words, stars and bracketed texts of the head."""
        if "(" not in head:
            return [(word[0], self.start + word.start()) for word in WORD.finditer(head)]
        inside, found, at = brackets_of(head), [], 0
        while word := WORD.search(head, at):
            end = inside.get(word.start(), word.end() - 1) + 1
            found.append((head[word.start() : end], self.start + word.start()))
            at = end
        return found

    def name_ends(self) -> int:
        """Return the number of words before the first phrase."""
        words = self.words
        for at in range(1, len(words)):
            word, after_sign = words[at][0], at > 1 and is_sign(words[at - 1][0])
            if word == "in" and (after_sign or self.key_words(at + 1, sure=True)):
                return at
            if word == "watch" and (after_sign or (at + 1 < len(words) and not is_sign(words[at + 1][0]))):
                return at
            if word == "*" and self.text_of_star(at):
                return at
            if after_sign and (word in (*TEXTS, "ending") or word[0] == "(" or self.change_words(at)):
                return at
        return len(words)

    def text_of_star(self, at: int) -> bool:
        """Whether the * at this word has what people listen for right after it."""
        if at + 1 >= len(self.words) or self.words[at][1] + 1 != self.words[at + 1][1]:
            return False
        return not is_sign(self.words[at + 1][0])

    def key_words(self, at: int, *, sure: bool) -> int:
        """Return how many words from this one on are a key; if not ``sure``, any single word counts."""
        if at >= len(self.words):
            return 0
        if sure and not KEY_WORD.match(self.words[at][0]):
            return 0
        return 2 if at + 1 < len(self.words) and self.words[at + 1][0].lower() in MODE_WORDS else 1

    def change_words(self, at: int) -> int:
        """Return how many words from this one on say when the sound changes."""
        ahead = [word for word, _ in self.words[at : at + 3]]
        return next((len(words) for words in CHANGES if ahead[: len(words)] == list(words)), 0)

    def sign(self, text: str, where: int) -> bool:
        """Handle a sign; return False for any other word."""
        if text == "*":
            self.put("feature", where, "yes")
        elif text in ("open", "tacet"):
            self.put(text, where, "yes")
        elif passes := PASSES.match(text):
            self.put("passes", where + 1, passes[1])
        elif BARS.match(text) and "bars" not in self.entries:
            self.put("bars", where, text)
        elif both := BARS_AND_PASSES.match(text):
            self.put("bars", where, both[1])
            self.put("passes", where + len(both[1]) + 1, both[2])
        else:
            return False
        return True

    def put(self, key: str, where: int, text: str) -> None:
        """Set an entry; note a fault if it is already set."""
        typed = self.spot(where, text)
        if key in self.entries:
            self.reading.fault(typed, f"{CALLED.get(key, key)} is in this section twice", self.once(key, typed))
        self.entries[key] = (typed, typed)

    def once(self, key: str, typed: Text) -> str:
        """Return what to write instead of two values for the same entry."""
        both = sorted((self.entries[key][0], typed), key=lambda one: (one.line, one.column))
        first, last = (f"x{one.text}" if key == "passes" else one.text for one in both)
        if first != last:
            return f"{first} or {last}, not both"
        return f"{'it' if last == 'yes' else last} once"

    def name(self, typed: list[Typed], part: str) -> None:
        """Use these words as the name. A word after a number is a slip, not a name."""
        for at, ((text, _), (after, where)) in enumerate(itertools.pairwise(typed)):
            if text.endswith(";") and is_sign(text[:-1]):
                semicolon = where - len(part[: where - self.start]) + part[: where - self.start].rindex(";")
                write = part.strip()[:60].replace(";", ",")
                self.reading.fault(self.spot(semicolon, ";"), "a comma separates sections, not a ;", write)
                break
            if text == "*" or (BARS.match(text) and not BARS.match(after)):
                slip = next((end for end in range(at + 1, len(typed)) if not is_sign(typed[end][0])), at + 1)
                self.not_understood(typed[slip - 1][0], *typed[slip])
                break
        begin = self.start + len(part) - len(part.lstrip())
        name = self.spot(begin, "?")  # without a name, its own fault is enough
        if typed:
            begin, end = typed[0][1], typed[-1][1] + len(typed[-1][0])
            name = self.spot(begin, part[begin - self.start : end - self.start])
            if ";" in name.text:
                write = name.text[:60].replace(";", ",")
                self.reading.warn(name, f"{shown(name.text)} is read as one section's name", write)
        else:
            self.reading.fault(name, "a section has no name", "its name first, as in Verse 16")
        self.entries["section"] = (name, name)

    def not_understood(self, before: str, after: str, where: int) -> None:
        """Note a word that fits nowhere."""
        typed = self.spot(where, after)
        if before == "*":
            self.reading.fault(typed, f"{shown(after)} is not understood after {shown(before)}", f"*{after}")
        elif after[0] == "(":
            rest = re.split(r"[@|]", self.part[where - self.start :])[0].strip()
            self.reading.fault(typed, "this bracket is never closed", f"{rest[:60]})")
        elif ends := ENDS.get(after.lower().rstrip(".")):
            problem = f"{shown(after)} says how the song ends, which has its own field: Ending, beside the road map"
            self.reading.fault(typed, problem, f"{ends} there (ending: {ends}), or ({after}) here, as a cue")
        else:
            near = nearest(after, ("open", "tacet", *TEXTS, "ending"))
            problem = f"{shown(after)} is not understood after {shown(before)}"
            self.reading.fault(typed, problem, near or self.as_bars(before, after) or self.in_brackets(before, where))

    def in_brackets(self, before: str, where: int) -> str:
        """Return how free words are written, where a bar count is before them."""
        rest = re.split(r"[@|]", self.part[where - self.start :])[0].strip()[:60]
        if not BARS.match(before) or not rest or set(rest) & set("()"):
            return ONLY
        if self.part.lstrip().startswith(before):  # a comma inside a text began this section
            return f"brackets around a text with a comma, as in *(riff, then strings); free words too: ({rest})"
        return f"({rest}), free words in brackets"

    @staticmethod
    def as_bars(before: str, after: str) -> str:
        """Return the bars alone where somebody wrote ``8 bars``."""
        return (
            f"{before}, without the word {after}"
            if BARS.match(before) and after.lower().rstrip(".") in ("bar", "bars")
            else ""
        )

    def phrases(self, words: list[Typed]) -> None:
        """Read what follows the name and its first signs."""
        at = len(self.words) - len(words)
        while at < len(self.words):
            word, where = self.words[at]
            if word == "*" and self.text_of_star(at):
                at = self.text("feature", at, stops=TEXTS)
            elif self.sign(word, where):
                at += 1
            elif word == "in":
                at = self.key(at)
            elif word == "watch":
                at = self.text("watch", at, stops=TEXTS)
            elif word == "hits":
                at = self.text("hits", at, fits=lambda word: bool(BEAT.match(word)))
            elif word == "words":
                at = self.text("first_words", at, stops=())
            elif word[0] == "(" and word[-1] == ")" and len(word) > 1:
                self.put_bracket("cue", at)
                at += 1
            elif word == "ending":
                self.put("ending", where, "yes")
                at += 1
            elif many := self.change_words(at):
                self.put("change", where, self.between(at, at + many))
                at += many
            else:
                self.not_understood(self.words[at - 1][0], word, where)
                return

    def key(self, at: int) -> int:
        """Read ``in E``; return the word after it."""
        many = self.key_words(at + 1, sure=False)
        if not many:
            self.reading.fault(self.spot(self.words[at][1], "in"), 'there is no key after "in"', "in E")
            return at + 1
        self.put("key", self.words[at + 1][1], self.between(at + 1, at + 1 + many))
        return at + 1 + many

    def text(self, key: str, at: int, *, stops: tuple[str, ...] = (), fits: Callable[[str], bool] = bool) -> int:
        """Read the text behind a word or a *; return the word after it.

        A text in brackets ends with them. Otherwise it ends before a word of ``stops``, a bracket, a key, trailing
        signs, or the first word that does not fit; without ``stops`` or ``fits`` it runs to the end.
        """
        first = at + 1
        if first < len(self.words) and self.words[first][0][0] == "(" and self.words[first][0][-1] == ")":
            self.put_bracket(key, first)
            return first + 1
        end = first
        while end < len(self.words) and fits(self.words[end][0]):
            word = self.words[end][0]
            if stops and (
                word in (*stops, "*") or word[0] == "(" or (word == "in" and self.key_words(end + 1, sure=True))
            ):
                break
            end += 1
        while stops and end > first and is_sign(self.words[end - 1][0]):
            end -= 1
        if end == first:
            word, where = self.words[at]
            if key == "hits" and first < len(self.words):
                by_bar = self.words[first][0] == "bar"
                problem = f"{shown(self.words[first][0])} is not a beat"
                write = "hits (bar 1 4 | bar 2 1)" if by_bar else "hits 4, 4&; words belong in (a cue)"
                self.reading.fault(self.spot(self.words[first][1], self.words[first][0]), problem, write)
                return len(self.words)
            write = {"hits": "hits 4, 4&, the beats", "watch": "watch drummer"}.get(word, f"{word} and a text")
            self.reading.fault(self.spot(where, word), f"there is nothing after {shown(word)}", write)
            return first
        self.put(key, self.words[first][1], self.between(first, end))
        return end

    def put_bracket(self, key: str, at: int) -> None:
        """Set an entry to the text in brackets."""
        word, where = self.words[at]
        inside = word[1:-1]
        if not inside.strip():
            self.reading.fault(self.spot(where, word), "there is nothing in these brackets", "(two fingers up)")
            return
        self.put(key, where + 1 + len(inside) - len(inside.lstrip()), inside.strip())

    def between(self, first: int, end: int) -> str:
        """Return the text of these words as typed."""
        word, where = self.words[end - 1]
        return self.part[self.words[first][1] - self.start : where + len(word) - self.start]

    def sounds(self, text: str, start: int) -> None:
        """Read the text after the first @: one sound, or ``upper=solo lead @lower=grand piano``."""
        calls: dict[str, tuple[Text, Node]] = {}
        bare: Text | None = None
        for call in text.split("@"):
            keyboard, named, sound = call.rpartition("=")
            typed = self.spot(start + len(call) - len(sound.lstrip()), sound.strip())
            key = self.spot(start + len(keyboard) - len(keyboard.lstrip()), keyboard.strip())
            if not typed.text or (named and not key.text):
                self.reading.fault(typed, "there is nothing after the @", "@sound, or @keyboard=sound")
            elif late := AFTER_SOUND.search(typed.text):
                better = f"{late[1].strip()} @{typed.text[: late.start()].strip()}"
                self.reading.fault(typed, "the sound comes last, before the chords", better)
            elif not named:
                bare = typed
            elif key.text in calls:
                self.reading.fault(key, f"{shown(key.text)} already has a sound", "one sound for each keyboard")
            else:
                calls[key.text] = (key, typed)
            start += len(call) + 1
        if bare and "@" in text:
            self.reading.fault(bare, "with several sounds, each needs its keyboard", f"@keyboard={bare.text}")
        elif bare:
            self.entries["sound"] = (bare, bare)
        elif calls:
            first = next(iter(calls.values()))[0]
            self.entries["sound"] = (first, Table(calls, first.source, first.line, first.column))

    def chords(self, text: str, start: int) -> None:
        """Read the chords, from after the first bar line to the end; a further line continues them."""
        where = start + len(text) - len(text.lstrip())
        chords = re.sub(r"[ \t]*\n[ \t]*\|?[ \t]*", "\n", text.strip())
        if not chords:
            self.reading.fault(self.spot(start - 1, "|"), "there are no chords after this bar line", "| 1 | 4 | 5 | 1")
        elif not re.match(r"bar [0-9]", chords):  # hits without brackets, which was noted there
            self.put("chords", where, chords)


def is_sign(word: str) -> bool:
    """Whether a word is a sign: a number, xN, open, tacet or *.

    >>> [is_sign(word) for word in ("16", "x2", "8x2", "open", "*", "Opening")]
    [True, True, True, True, True, False]
    """
    if word in ("*", "open", "tacet"):
        return True
    return bool(BARS.match(word) or PASSES.match(word) or BARS_AND_PASSES.match(word))
