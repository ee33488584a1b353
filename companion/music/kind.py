"""The kind of a chord: all that follows its root, in letters or numbers; its notes and how it is written.

Rules of this room (books differ; tests/music/test_chord_against_music21.py lists who says otherwise):

* **Only the sound counts.** C-, Cmin and Cm are one kind, and so are C+7 and C7#5; each kind is written in one way.
* **A bare 7, 9, 11 or 13 is a minor seventh with everything stacked below the number.** A 13 over a major third leaves
  out the 11, which clashes; over a minor third the 11 stays.
* **An altered note replaces the natural one** (C13b9 has no 9); an added one does not (C9addb9 has both).
* **A sixth is a 13 without a seventh**; a 2 or 4 in brackets, like a 9 or 11 without a seventh, is added: 1(2) = 1add9.
* **alt** is the seventh chord with both altered fifths and both altered ninths.
* **sus** replaces the third, even a written minor third; so the 11 of a sus4 and the 9 of a sus2 add nothing.
"""

import enum

import msgspec


class Third(enum.Enum):
    """The third, or what replaces it."""

    MAJOR = "3"
    MINOR = "b3"
    SUS2 = "2"
    SUS4 = "4"
    NONE = ""


class Seventh(enum.Enum):
    """The seventh above the root."""

    NONE = ""
    MINOR = "b7"
    MAJOR = "7"
    DIMINISHED = "bb7"


TENSIONS = ("b9", "9", "#9", "11", "#11", "b13", "13")
FIFTHS_UP = {"1": 0, "2": 2, "3": 4, "4": -1, "5": 1, "6": 3, "7": 5, "9": 2, "11": -1, "13": 3}


class ChordKind(msgspec.Struct, frozen=True):
    """Third, fifths, seventh and tensions of a chord. Fifths: b5, 5, #5, both altered ones, or empty for no fifth."""

    third: Third = Third.MAJOR
    fifths: tuple[str, ...] = ("5",)
    seventh: Seventh = Seventh.NONE
    tensions: tuple[str, ...] = ()  # in the order of TENSIONS

    @property
    def degrees(self) -> tuple[str, ...]:
        """All notes as degrees of the major scale on the root: 1 b3 5 b7 for a minor seventh chord."""
        inner = (self.third.value, *self.fifths, self.seventh.value)
        return ("1", *(degree for degree in inner if degree), *self.tensions)

    @property
    def is_diminished(self) -> bool:
        """Whether third and fifth are both lowered, as in dim, dim7 and m7b5."""
        return self.third is Third.MINOR and self.fifths == ("b5",)

    @property
    def in_letters(self) -> str:
        """The text after a letter: "", m, dim, maj7, 7sus4 ..."""
        return _written(self, minor="m", diminished="dim")

    @property
    def in_numbers(self) -> str:
        """The text after a number: -, o, maj7, -7b5. A leading 5 or 6 is in brackets: 15 could be two chords."""
        text = _written(self, minor="-", diminished="o")
        return f"({text})" if text[:1] in ("5", "6") else text


def fifths_up(degree: str) -> int:
    """Return the interval from the root to a degree (b7, #11), in fifths."""
    return FIFTHS_UP[degree.lstrip("b#")] + 7 * (degree.count("#") - degree.count("b"))


def _written(kind: ChordKind, minor: str, diminished: str) -> str:
    """Write the kind in this order: third, ladder, sus, fifths, other notes, omissions."""
    if kind == ALTERED:
        return "7alt"
    if kind == POWER:
        return "5"
    is_dim = kind.is_diminished and kind.seventh in (Seventh.NONE, Seventh.DIMINISHED)
    is_plus = kind.third is Third.MAJOR and kind.fifths == ("#5",) and kind.seventh is Seventh.NONE
    is_plus = is_plus and "13" not in kind.tensions
    third = diminished if is_dim else minor if kind.third is Third.MINOR else "+" if is_plus else ""
    ladder, left = _ladder(kind)
    sus = f"sus{kind.third.value}" if kind.third in (Third.SUS2, Third.SUS4) else ""
    fifths = "" if is_dim or is_plus or kind.fifths == ("5",) else "".join(kind.fifths)
    if not (third or ladder or sus) and fifths:
        fifths = f"({fifths})"  # an accidental right after a letter belongs to the letter: Cb5 is a Cb
    no_third = "no3" if kind.third is Third.NONE else ""
    no_fifth = "" if kind.fifths else "no5"
    return third + ladder + sus + fifths + left + no_third + no_fifth


def _ladder(kind: ChordKind) -> tuple[str, str]:
    """Return the seventh or sixth with what is stacked on it (maj9, 6/9), and the notes that this leaves out."""
    here = set(kind.tensions)
    plain, altered = here & {"9", "11", "13"}, here - {"9", "11", "13"}
    if kind.seventh is Seventh.NONE:
        top = "6/9" if plain >= {"9", "13"} else "6" if "13" in plain else ""
        left = [note for note in kind.tensions if note not in top.replace("6", "13").split("/")]
        return top, "".join(f"add{note}" for note in left)
    has_ninth = bool(here & {"b9", "9", "#9"})
    has_eleventh = bool(here & {"11", "#11"}) or kind.third is not Third.MINOR
    if "13" in plain and has_ninth and has_eleventh:
        top, named = "13", {"9", "13"} | ({"11"} if kind.third is Third.MINOR else set())
    elif "11" in plain and has_ninth:
        top, named = "11", {"9", "11"}
    else:
        top, named = ("9", {"9"}) if "9" in plain else ("7", set())
    instead = {note for note in altered if note.lstrip("b#") not in plain}
    left = [note if note in instead else f"add{note}" for note in kind.tensions if note not in named]
    return ("maj" if kind.seventh is Seventh.MAJOR else "") + top, "".join(left)


POWER = ChordKind(third=Third.NONE)
ALTERED = ChordKind(fifths=("b5", "#5"), seventh=Seventh.MINOR, tensions=("b9", "#9"))
