"""What a view is made of: the picture, its lines, what each line is about, and how the eye is led to it."""

import enum

import msgspec


class Picture(enum.Enum):
    """The kinds of page that the screen shows."""

    BEFORE = "before the show"
    UP_NEXT = "up next"
    PLAYING = "playing"
    BETWEEN_SETS = "between sets"
    END = "show over"
    CALL = "call"
    KEYS = "keys"


class LineRole(enum.Enum):
    """What a line is about. Layout gives each its place and size; the text screen its order."""

    TITLE = "title"
    STANDING = "standing"  # which song of how many, or what kind of moment this is
    SECTION = "section"
    COUNT = "count"  # open, passes, rounds
    BARS = "bars"  # how many the section has, or which one this is
    FEATURE = "feature"
    NEXT = "next"
    WATCH = "watch"
    CUE = "cue"
    FIRST_WORDS = "first words"
    HITS = "hits"
    CHORDS = "chords"
    SOUND = "sound"
    KEY = "key"
    TEMPO = "tempo"
    START = "start"  # who starts, how it is counted in
    ENDING = "ending"
    NOTES = "notes"
    NOTICE = "notice"  # what is wrong, or has just been put right
    PACE = "pace"
    HINT = "hint"  # what a newcomer may press
    ADVICE = "advice"  # how the set runs, where the player asked
    DROP = "drop"  # a song to drop, the best cut first
    TYPED = "typed"
    CHOICE = "choice"


class LineMark(enum.Enum):
    """What a pencil or a highlighter would add on paper. Each is a shape and a word besides its colour."""

    NONE = ""
    HIGHLIGHT = "highlight"  # the player's feature, now
    UNDERLINE = "underline"  # the player's feature, one section ahead
    GLASSES = "glasses"  # players draw a pair of glasses where they must look up
    CIRCLE = "circle"  # something has changed here
    TAPE = "tape"  # written on a strip of tape, as on a keyboard's edge
    TORN = "torn"  # a strip of tape across the page: something is wrong
    RIPPED = "ripped"  # the strip of a keyboard that is gone: torn off, its scraps beside it
    REST = "rest"  # tacet: the long rest of an orchestra part
    CHOSEN = "chosen"
    FORM = "form"  # a pencil line with a mark for each section, the one that is on inked


class Light(enum.Enum):
    """The two lights that a screen is read in."""

    DARK = "dark"
    DAY = "day"


class Detail(enum.Enum):
    """How much the player wants to be told about a song: the better it is known, the less."""

    EVERYTHING = "everything"
    FORM = "form"
    CUES_ONLY = "cues only"


class ViewLine(msgspec.Struct, frozen=True, omit_defaults=True):
    """One line of a view. ``label`` is a small word before it; ``shorter`` are known short forms, the longest first."""

    part: LineRole
    text: str
    label: str = ""
    shorter: tuple[str, ...] = ()
    mark: LineMark = LineMark.NONE

    @property
    def words(self) -> int:
        """Words that the eye meets: the label's and the text's; bar lines and dots are none."""
        return sum(any(sign.isalnum() for sign in word) for word in f"{self.label} {self.text}".split())


class FormPlace(msgspec.Struct, frozen=True, omit_defaults=True):
    """Where in the song's form we are: section ``at``, from 0, of ``many``; ``features`` are the player's own."""

    at: int
    many: int
    features: tuple[int, ...] = ()


class Beat(msgspec.Struct, frozen=True):
    """The beat mark. ``from_ms`` is the time of a downbeat, counted from the beginning of the show.

    ``beats`` are the lengths of the bar's beats as felt, in beats of the tempo: (1, 1, 1, 0.5) in 7/8. Where
    ``count_off_bars`` is given, so many are counted from ``from_ms`` on, then the mark rests.
    """

    tempo_bpm: float
    beats: tuple[float, ...]
    from_ms: int
    count_off_bars: int = 0


class ChartView(msgspec.Struct, frozen=True, omit_defaults=True):
    """A song's own chart, to be shown in place of the view: its file, and which screenful of it, from 0."""

    path: str
    turn: int = 0


class View(msgspec.Struct, frozen=True, omit_defaults=True, tag_field="line", tag="view"):
    """What is worth showing now: plain words, in the order in which they matter. Equal views need no new picture.

    Where there is a ``chart``, it is shown in place of the lines as soon as it is drawn; the lines stay till then.
    """

    picture: Picture
    lines: tuple[ViewLine, ...] = ()
    beat: Beat | None = None
    light: Light = Light.DARK
    chart: ChartView | None = None
    form: FormPlace | None = None

    def of(self, part: LineRole) -> ViewLine | None:
        """Return the first line about this, if there is one."""
        return next((line for line in self.lines if line.part is part), None)
