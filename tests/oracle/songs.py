"""Invented shows and a rig of two boards, as plain data and as the files that the program reads.

Written from the guide alone; nothing here imports the program, so that it is a second opinion on it.
"""

import random
from dataclasses import dataclass, field

LOWER, UPPER = "lower", "upper"
BOARDS = (LOWER, UPPER)  # in the rig's order: a bare name goes to the first that has it

Wanted = dict[str, str]
"""Sounds by board. The bare name of the show file stands under an empty board."""


@dataclass(frozen=True)
class Patch:
    """A sound of a board: what goes over the wire, or what the hands press."""

    program: int | None  # 0 to 127; None: chosen by hand
    bank: tuple[int, int] = (0, 0)
    volume: int = 100
    by_hand: str = ""


PATCHES: dict[str, dict[str, Patch]] = {
    LOWER: {
        "grand": Patch(0),
        "wurly": Patch(4, (0, 32)),
        "clav": Patch(7, (1, 32)),
        "strings": Patch(48, volume=90),
        "harp": Patch(46, volume=64),
        "choir": Patch(None, by_hand="bank B, button 4"),
    },
    UPPER: {
        "organ": Patch(16, (4, 0)),
        "lead": Patch(81),
        "brass": Patch(62),
        "strings": Patch(48),
        "pad": Patch(89, volume=70),
        "bells": Patch(None, by_hand="user bank, button 3"),
    },
}
"""By hand from RIG: a panel that counts from 1, and one in banks of eight, where A11 is 0, A31 16 and B88 127."""

RIG = """\
rig: Two boards
keyboards:
  lower:
    port: Lower Board
    channel: 1
    programs_from: 1
    bank_messages: [msb, lsb]
    transpose: tuning
    sounds:
      grand: 1
      wurly: {program: 5, bank: [0, 32]}
      clav: {program: 8, bank: [1, 32]}
      strings: {program: 49, controls: {volume: 90}}
      harp: {program: 47, controls: {volume: 64}}
      choir: {by_hand: "bank B, button 4"}
  upper:
    port: Upper Board
    channel: 2
    programs_from: banks of eight
    bank_messages: msb
    transpose: channel tuning
    sounds:
      organ: {program: A31, bank: 4}
      lead: B32
      brass: A87
      strings: A71
      pad: {program: B42, controls: {volume: 70}}
      bells: {by_hand: "user bank, button 3"}
"""

KEYS = {"C": 0, "Db": 1, "D": 2, "Eb": 3, "E": 4, "F": 5, "Gb": 6, "G": 7, "Ab": 8, "A": 9, "Bb": 10, "B": 11}


@dataclass(frozen=True)
class Part:
    """A section as it is written."""

    name: str
    passes: int = 1
    is_open: bool = False
    tacet: bool = False
    ending: bool = False
    sound: Wanted = field(default_factory=dict)
    key: str = ""


@dataclass(frozen=True)
class Tune:
    """A song as it is written. One without parts has no road map."""

    title: str
    key: str = ""
    fingered_in: str = ""
    sound: Wanted = field(default_factory=dict)
    parts: tuple[Part, ...] = ()
    segue: str = ""  # the title of the song that it goes straight into
    first_note: bool = False
    tacet: bool = False


@dataclass(frozen=True)
class Evening:
    """A show: the name and the songs of each set."""

    sets: tuple[tuple[str, tuple[Tune, ...]], ...]

    @property
    def tunes(self) -> tuple[Tune, ...]:
        """All songs in written order."""
        return tuple(tune for _, tunes in self.sets for tune in tunes)


TITLES = (
    "Kestrel Wharf",
    "Damson Parade",
    "Ninety Buttons",
    "Osier Ferry",
    "Velvet Turnip",
    "Plumb Line Polka",
    "Granary Echo",
    "Zinc Umbrella",
    "Bolsover Moth",
    "Hornbeam Signal",
    "Jackdaw Quarter",
    "Inkwell Ramble",
    "Foxglove Ledger",
    "Marrowfat Sky",
)
NAMES = ("Verse", "Chorus", "Solo", "Bridge", "Tag", "Vamp")


def an_evening(chance: random.Random) -> Evening:
    """Make a show up: one to three sets, sometimes an encore, nine to fourteen songs."""
    titles = list(TITLES)
    chance.shuffle(titles)
    names = ["First", "Second", "Third"][: chance.randint(1, 3)]
    if chance.random() < 0.6:
        names.append("Encore")
    sets = []
    for name in names:
        many = chance.randint(1, 2) if name == "Encore" else chance.randint(2, 4)
        those = [titles.pop() for _ in range(many)]
        tunes = [_a_tune(chance, title, follows) for title, follows in zip(those, [*those[1:], ""], strict=True)]
        sets.append((name, tuple(tunes)))
    return Evening(tuple(sets))


def _a_tune(chance: random.Random, title: str, follows: str) -> Tune:
    key = chance.choice(list(KEYS))
    fingered = ""
    if chance.random() < 0.35:
        away = chance.choice([-3, -2, -1, 1, 2, 3])
        fingered = list(KEYS)[(KEYS[key] + away) % 12]
    bare = chance.random() < 0.15
    return Tune(
        title,
        key=key,
        fingered_in=fingered,
        sound=_a_sound(chance, 0.75),
        parts=() if bare else _parts(chance),
        segue=follows if chance.random() < 0.2 else "",
        first_note=chance.random() < 0.2,
        tacet=chance.random() < 0.08,
    )


def _parts(chance: random.Random) -> tuple[Part, ...]:
    names = [*(["Intro"] if chance.random() < 0.7 else []), *chance.choices(NAMES, k=chance.randint(1, 5)), "Outro"]
    ending = chance.choice([None, None, len(names) - 1, max(0, len(names) - 2)])
    return tuple(
        Part(
            name,
            passes=chance.choice([1, 1, 1, 1, 2, 3]),
            is_open=chance.random() < 0.25,
            tacet=chance.random() < 0.1,
            ending=at == ending,
            sound=_a_sound(chance, 0.4),
            key=chance.choice(list(KEYS)) if chance.random() < 0.08 else "",
        )
        for at, name in enumerate(names)
    )


def _a_sound(chance: random.Random, how_often: float) -> Wanted:
    if chance.random() > how_often:
        return {}
    if chance.random() < 0.5:
        board = chance.choice(BOARDS)
        return {"": chance.choice(list(PATCHES[board]))}
    boards = chance.sample(BOARDS, k=chance.randint(1, 2))
    return {board: chance.choice(list(PATCHES[board])) for board in boards}


def on_boards(sound: Wanted) -> Wanted:
    """Say on which board each sound is."""
    given = {board: name for board, name in sound.items() if board}
    if bare := sound.get(""):
        given[next(board for board in BOARDS if bare in PATCHES[board])] = bare
    return given


def as_file(evening: Evening) -> str:
    """Write it as a show file."""
    lines = ["show: Walks", "sets:"]
    for name, tunes in evening.sets:
        lines += [f"  - set: {name}", "    songs:"]
        for tune in tunes:
            lines.append(f"      - title: {tune.title}")
            more = {"key": tune.key, "fingered_in": tune.fingered_in, "sound": _written(tune.sound)}
            more |= {"begins": "first note" if tune.first_note else "", "tacet": "yes" if tune.tacet else ""}
            more |= {"segue": tune.segue}
            lines += [f"        {word}: {value}" for word, value in more.items() if value]
            if tune.parts:
                lines += ["        road_map:", *(f"          - {{{_part(part)}}}" for part in tune.parts)]
    return "\n".join(lines) + "\n"


def _part(part: Part) -> str:
    words = {"section": part.name, "bars": "4", "sound": _written(part.sound), "key": part.key}
    words |= {"passes": str(part.passes) if part.passes > 1 else "", "open": "yes" if part.is_open else ""}
    words |= {"tacet": "yes" if part.tacet else "", "ending": "yes" if part.ending else ""}
    return ", ".join(f"{word}: {value}" for word, value in words.items() if value)


def _written(sound: Wanted) -> str:
    if "" in sound:
        return sound[""]
    return "{" + ", ".join(f"{board}: {name}" for board, name in sound.items()) + "}" if sound else ""
