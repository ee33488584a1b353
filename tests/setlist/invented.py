"""Invented set lists with what is true of them: the songs are written in many shapes, and read back by strangers."""

import random

import msgspec

TITLES = (
    "Gasworks Corner",
    "Kettle on the Jetty",
    "Harbour Lamps",
    "Pier Seven",
    "Tin Whistle Tango",
    "Plan B",
    "99 Kites",
    "Ferry, Oh Ferry",
    "Salt & Vinegar Skies",
    "Don't Wake the Lodger",
    "Grey Umbrella (Part Two)",
    "A Minor Detail",
    "By the Weir",
    "Key to the Cellar",
    "In the Boathouse",
    "Break the Ice Again",
    "Encore for Nobody",
    "Set the Table",
    "First Frost of March",
    "Solo Traveller",
    "Intro to Mist",
    "C'mon Marlene",
    "B-Side Weather",
    "Who I Am",
    "Café Morgenrot",
    "Über die Mole",
    "Señorita Luz",
    "Slow Lorry Home",
    "Brass Buttons",
    "Orchard Street 12",
    "Lamplighter's Waltz",
    "Nobody Told the Tide",
    "Half Past Herring",
    "Rain on Tuesday",
    "The Long Allotment",
    "Pocketful of Gravel",
    "Cold Tea Blues",
    "Two Left Wellies",
    "Moth",
    "Vicar's Motorbike",
    "Seven Bridges to Go",
    "Platform 54",
    "Coal Merchant's Daughter",
    "Paper Moonrise",
    "Sunday Trombone",
    "Wheelbarrow",
    "Last Bus to Ash End",
    "Tidal",
    "Under the Gantry",
    "Marzipan Heart",
    "Ballad of the Blue Bin",
    "Clockwork Pigeon",
    "Stand Still, Sally",
    "Jam Jar",
    "Fog Signal",
    "Your Mother's Caravan",
    "Ironing Board Surf",
    "Ninety Percent Rain",
    "Hello Operator Dear",
    "Weeds",
)
ARTISTS = (
    "The Tidewater Nine",
    "Marla Quill",
    "Ash End Express",
    "Odd Kettle",
    "Benny Farthing Trio",
    "Lowri Vane",
    "The Wet Cement",
    "Doctor Plimsoll",
    "Grit & Gravel",
    "Ines Holloway",
)
KEYS = (
    "C",
    "G",
    "D",
    "A",
    "E",
    "B",
    "F",
    "Bb",
    "Eb",
    "Ab",
    "Db",
    "F#",
    "Am",
    "Em",
    "Bm",
    "F#m",
    "C#m",
    "G#m",
    "Dm",
    "Gm",
    "Cm",
    "Fm",
    "Bbm",
    "Ebm",
)
REMARKS = (
    "keys intro",
    "organ solo",
    "piano intro, fade",
    "guitar starts",
    "synth riff",
    "half-time bridge",
    "cold end",
    "big ending",
    "new",
)
METERS = ("4/4", "4/4", "4/4", "6/8", "3/4", "12/8", "7/8")


class Told(msgspec.Struct, frozen=True):
    """A song as the leader knows it."""

    title: str
    artist: str
    key: str | None
    length_s: int
    tempo: int
    meter: str
    remark: str

    @property
    def clock(self) -> str:
        """Its length as minutes and seconds."""
        return f"{self.length_s // 60}:{self.length_s % 60:02}"


def sets(seed: int, *sizes: int, keyless: float = 0.1) -> list[list[Told]]:
    """Make sets of invented songs; a share of them has no key."""
    dice = random.Random(seed)  # noqa: S311  no secret
    titles = dice.sample(TITLES, sum(sizes))
    made = [
        Told(
            title,
            dice.choice(ARTISTS),
            None if dice.random() < keyless else dice.choice(KEYS),
            dice.randrange(135, 390),
            dice.randrange(62, 176),
            dice.choice(METERS),
            dice.choice(REMARKS) if dice.random() < 0.4 else "",
        )
        for title in titles
    ]
    return [[made.pop(0) for _ in range(size)] for size in sizes]
