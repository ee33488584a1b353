"""Show files as people write them: one invented show, drawn in a thousand hands."""

import json
from random import Random
from typing import Any

TITLES = (
    "Gasworks Corner", "Kettle on the Jetty", "Moth", "Café Morgenrot", "Salt & Vinegar Skies", "1999 Lamps", "Пирс",
    "霧の港", "Don't Wait", 'The "Quiet" One', "Weeds: a Waltz", "Jam Jar #2", "🎹 Fog Signal", "Yes", "O'Clock",
    "[Brackets]", "- Dash", "Long Allotment, Reprise",
)  # fmt: skip
COMMENTS = (
    "# mine",
    "# the leader's",
    "#",
    "#no space",
    "# a: b, c",
    "# 'quote",
    '# "two',
    "# tab\there",
    "# ünïcode 🎵",
    "# - x",
)
KEYS = ("C", "Bb", "F#m", "Eb", "Am")
SOUNDS = ("organ", "bright piano", "strings", "lead, bright", "pad: warm")
NOTES = (
    "half-time in the bridge",
    "watch the drummer: she counts\nthen go",
    "first line\n\nthird line after a blank",
    "it's # not a comment",
    "a rather long note that a hand would fold over several lines since it does not fit on one of them at all",
    "ends with a break\n",
)
SECTIONS = ("Intro", "Verse", "Chorus", "Solo", "Bridge", "Outro", "Verse 2", "Pré-chorus")


class Hand:
    """One way to write: how far things stand in, how wide values are set, how often there is a comment."""

    def __init__(self, dice: Random) -> None:
        self.dice = dice
        self.list_indent = dice.choice((0, 2, 2, 2, 3, 4))
        self.step = dice.choice((2, 2, 2, 3, 4))
        self.align = dice.choice((0, 0, 0, 8, 14))
        self.comments = dice.choice((0.0, 0.1, 0.4))
        self.blank = dice.choice((0.0, 0.1, 0.3))
        self.quotes = dice.choice(("", "", '"', "'", "any"))
        self.gap = dice.choice((" ", "  ", "   ", " \t", "        "))
        self.dash = dice.choice(("- ", "- ", "- ", "-  ", "-   "))

    def chance(self, share: float) -> bool:
        return self.dice.random() < share

    def scalar(self, text: str, *, flow: bool) -> str:
        """Write a text on one line, in this hand's quotes if it needs none."""
        style = self.dice.choice(("", '"', "'")) if self.quotes == "any" else self.quotes
        plain = (
            text.isprintable()
            and text.strip() == text
            and text[0] not in "-[]{}#&*!|>'\"%@`?:,"
            and not any(sign in text + " " for sign in (": ", " #", '"', "'"))
        )
        plain = plain and not (flow and any(sign in text for sign in ",[]{}"))
        if style == "" and plain:
            return text
        if style == "'" and text.isprintable():
            return "'" + text.replace("'", "''") + "'"
        return json.dumps(text, ensure_ascii=False)

    def comment(self) -> str:
        return self.gap + self.dice.choice(COMMENTS) if self.chance(self.comments) else ""

    def between(self, indent: int) -> list[str]:
        """Write what may stand between two entries: blank lines, comments at any depth."""
        lines = []
        if self.chance(self.blank):
            lines.append(self.dice.choice(("", "", "   ")))
        if self.chance(self.comments / 2):
            lines.append(" " * self.dice.choice((0, indent, indent, indent + 2)) + self.dice.choice(COMMENTS))
        return lines

    def key(self, name: str, value: str) -> str:
        return f"{name}:" + " " * max(1, self.align - len(name)) + value

    def braces(self, pairs: list[str], opening: str, closing: str) -> str:
        inside = self.dice.choice((", ", ", ", " , ", ",  ")).join(pairs)
        space = self.dice.choice(("", "", " "))
        comma = self.dice.choice(("", "", "", ","))
        return f"{opening}{space}{inside}{comma}{space}{closing}"

    def table_on_a_line(self, table: dict[str, Any]) -> str:
        pairs = []
        for key, value in table.items():
            said = self.table_on_a_line(value) if isinstance(value, dict) else self.scalar(value, flow=True)
            pairs.append(f"{key}: {said}")
        return self.braces(pairs, "{", "}")

    def notes(self, text: str, indent: int) -> list[str]:
        """Write a text over several lines, or on one."""
        ways = ["one"]
        if not text.startswith(" "):
            ways += ["literal", "literal"]
        if "\n" not in text:
            ways += ["folded", "plain over lines", "quoted over lines"]
        way, pad = self.dice.choice(ways), " " * (indent + self.step)
        if way == "literal":
            body = text.removesuffix("\n").split("\n")
            head = "|" if text.endswith("\n") else "|-"
            return [f"notes: {head}{self.comment()}", *(pad + line if line else "" for line in body)]
        words = text.split(" ")
        middle = len(words) // 2
        first, second = " ".join(words[:middle]), " ".join(words[middle:])
        if way == "folded" and first:
            return [f"notes: >-{self.comment()}", pad + first, pad + second]
        if way == "plain over lines" and first and "#" not in text and ":" not in text:
            return [f"notes: {first}", pad + second + self.comment()]
        if way == "quoted over lines" and first and '"' not in text:
            return [f'notes: "{first}', f'{pad}{second}"{self.comment()}']
        return [self.key("notes", self.scalar(text, flow=False)) + self.comment()]

    def road_map(self, sections: list[dict[str, str]], indent: int) -> list[str]:
        short = [" ".join([one["section"], *([one["bars"]] if "bars" in one else [])]) for one in sections]
        is_short = all(set(one) <= {"section", "bars"} for one in sections)
        way = self.dice.choice(("line", "lines", "list", "list", "mixed") if is_short else ("list", "lines"))
        if way == "lines":
            pad = " " * (indent + self.step)
            lines = [f"road_map: {self.dice.choice(('|', '|-'))}{self.comment()}"]
            for one in sections:
                lines += [""] if self.chance(self.blank) and len(lines) > 1 else []
                lines.append(f"{pad}{in_shorthand(one)}")
            return lines
        if way == "line":
            return [
                self.key("road_map", self.scalar(self.dice.choice((", ", ", ", ",  ")).join(short), flow=False))
                + self.comment()
            ]
        lines = [f"road_map:{self.comment()}"]
        pad = " " * (indent + self.list_indent)
        at = 0
        while at < len(sections):
            lines += self.between(indent + self.list_indent)
            if way == "mixed" and self.chance(0.6):
                many = self.dice.randint(1, 3)
                lines.append(f"{pad}- {self.scalar(', '.join(short[at : at + many]), flow=False)}{self.comment()}")
                at += many
                continue
            if self.chance(0.5):
                lines.append(f"{pad}- {self.table_on_a_line(dict(sections[at]))}{self.comment()}")
            else:
                lines += self.table(dict(sections[at]), indent + self.list_indent, self.dash)
            at += 1
        return lines

    def table(self, table: dict[str, Any], indent: int, dash: str) -> list[str]:
        """Write a table below a dash, or without one at its indent."""
        inner = indent + len(dash)
        lines: list[str] = []
        for key, value in table.items():
            if lines:
                lines += self.between(inner)
            if key == "notes":
                rows = self.notes(value, inner)
            elif key == "road_map":
                rows = self.road_map(value, inner)
            elif isinstance(value, dict) and self.chance(0.5):
                rows = [f"{key}:{self.comment()}"]
                rows += [
                    " " * (inner + self.step) + self.key(one, self.scalar(said, flow=False))
                    for one, said in value.items()
                ]
            elif isinstance(value, dict):
                rows = [self.key(key, self.table_on_a_line(value)) + self.comment()]
            else:
                rows = [self.key(key, self.scalar(value, flow=False)) + self.comment()]
            lines += [" " * inner + rows[0], *rows[1:]]
        if dash:
            lines[0] = " " * indent + dash + lines[0].lstrip(" ")
        return lines

    def song(self, song: dict[str, Any], indent: int) -> list[str]:
        one_line = not any(isinstance(value, list) or "\n" in str(value) for value in song.values())
        if set(song) == {"title"} and self.chance(0.7):
            return [f"{' ' * indent}{self.dash}{self.scalar(song['title'], flow=False)}{self.comment()}"]
        if one_line and self.chance(0.25):
            return [f"{' ' * indent}{self.dash}{self.table_on_a_line(song)}{self.comment()}"]
        if one_line and self.chance(0.1):
            inner = " " * (indent + 4)
            pairs = [
                f"{key}: {self.table_on_a_line(value) if isinstance(value, dict) else self.scalar(value, flow=True)}"
                for key, value in song.items()
            ]
            lines = [f"{inner}{pair},{self.comment()}" for pair in pairs]
            return [" " * indent + "- {" + self.comment(), *lines, f"{inner}}}"]
        return self.table(song, indent, self.dash)

    def songs(self, songs: list[dict[str, Any]], indent: int) -> list[str]:
        bare = all(set(song) == {"title"} for song in songs)
        if bare and self.chance(0.4):
            titles = [self.scalar(song["title"], flow=True) for song in songs]
            return [f"songs: {self.braces(titles, '[', ']')}{self.comment()}"]
        lines = [f"songs:{self.comment()}"]
        for song in songs:
            lines += self.between(indent + self.list_indent)
            lines += self.song(song, indent + self.list_indent)
        return lines


def a_song(dice: Random) -> dict[str, Any]:
    song: dict[str, Any] = {"title": dice.choice(TITLES)}
    if dice.random() < 0.3:
        return song
    rows = (
        ("key", dice.choice(KEYS)),
        ("tempo", str(dice.randint(60, 180))),
        ("length", f"{dice.randint(1, 6)}:{dice.randint(10, 59)}"),
        ("sound", dice.choice((dice.choice(SOUNDS), {"upper": dice.choice(SOUNDS), "lower": dice.choice(SOUNDS)}))),
        ("notes", dice.choice(NOTES)),
        ("known", str(dice.randint(0, 5))),
        ("artist", dice.choice(("The Tidewater Nine", "Åse & the Örs", "No"))),
    )
    song |= {key: value for key, value in rows if dice.random() < 0.45}
    if dice.random() < 0.6:
        song["road_map"] = [a_section(dice) for _ in range(dice.randint(1, 6))]
    items = list(song.items())
    dice.shuffle(items)
    return dict(items) if dice.random() < 0.2 else song


def in_shorthand(section: dict[str, str]) -> str:
    """Write a section as a hand would, on its own line."""
    words = [section["section"], section.get("bars", ""), "open" if "open" in section else ""]
    words.append(f"watch {section['watch']}" if "watch" in section else "")
    words.append(f"| {section['chords']}" if "chords" in section else "")
    return " ".join(filter(None, words))


def a_section(dice: Random) -> dict[str, str]:
    rows = (
        ("bars", str(dice.randint(1, 32)), 0.8),
        ("chords", dice.choice(("1 | 4 | 5", "C | F#m7 | G/B", "6- 4 1 5")), 0.15),
        ("open", "yes", 0.1),
        ("watch", "drummer", 0.1),
    )
    return {"section": dice.choice(SECTIONS), **{key: value for key, value, share in rows if dice.random() < share}}


def a_show(dice: Random) -> str:
    """Draw a show file in some hand."""
    hand = Hand(dice)
    lines = [dice.choice(COMMENTS)] if hand.chance(hand.comments) else []
    lines.append(hand.key("show", hand.scalar("Pier Street", flow=False)) + hand.comment())
    if hand.chance(0.5):
        lines.append(hand.key("band", "The Nine") + hand.comment())
    lines += hand.between(0)
    sets = [[a_song(dice) for _ in range(dice.randint(1, 5))] for _ in range(dice.choice((0, 1, 2, 3)))]
    if not sets:
        lines += hand.songs([a_song(dice) for _ in range(dice.randint(1, 6))], 0)
    else:
        lines.append(f"sets:{hand.comment()}")
    for number, songs in enumerate(sets):
        lines += hand.between(hand.list_indent)
        indent = hand.list_indent
        lines.append(f"{' ' * indent}- set: {('First', 'Second', 'Encore')[number]}{hand.comment()}")
        if hand.chance(0.4):
            lines.append(" " * (indent + 2) + hand.key("minutes", "45") + hand.comment())
        first, *rest = hand.songs(songs, indent + 2)
        lines += [" " * (indent + 2) + first, *rest]
        if hand.chance(0.2):
            lines.append(" " * (indent + 2) + 'starts: "20:00"' + hand.comment())
    lines += hand.between(0)
    newline = dice.choice(("\n", "\n", "\n", "\r\n"))
    return newline.join(lines) + dice.choice((newline, newline, newline, "", newline * 2))
