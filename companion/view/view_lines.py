"""What a view consists of: the picture, its lines, what each line is about, and how it is marked."""

import enum

import msgspec


class Picture(enum.Enum):
    """The kinds of page on the screen."""

    BEFORE = "before the show"
    UP_NEXT = "up next"
    PLAYING = "playing"
    BETWEEN_SETS = "between sets"
    END = "show over"
    CALL = "call"
    KEYS = "keys"


class LineRole(enum.Enum):
    """What a line is about. It decides the line's place and size in the layout, and its order on the text screen."""

    TITLE = "title"
    STANDING = "standing"  # which song of how many, or which part of the night this is
    SECTION = "section"
    COUNT = "count"  # open, passes, rounds
    BARS = "bars"  # how many bars the section has, or which one this is
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
    START = "start"  # who starts, and how the song is counted in
    ENDING = "ending"
    NOTES = "notes"
    NOTICE = "notice"  # what is wrong, or works again
    PACE = "pace"
    HINT = "hint"  # what a newcomer can press
    ADVICE = "advice"  # how the set runs, if the player asked
    DROP = "drop"  # a song to drop, the best cut first
    TYPED = "typed"
    CHOICE = "choice"


class LineMark(enum.Enum):
    """What a pencil or a highlighter would add on paper. Each has a shape and a word besides its colour."""

    NONE = ""
    HIGHLIGHT = "highlight"  # the player's feature, now
    UNDERLINE = "underline"  # the player's feature, one section ahead
    GLASSES = "glasses"  # as players pencil in where they must look up
    CIRCLE = "circle"  # something has changed here
    TAPE = "tape"  # a strip of tape, as on a keyboard's edge
    TORN = "torn"  # a strip of tape across the page: something is wrong
    RIPPED = "ripped"  # the strip of a disconnected keyboard: torn off, with scraps at both ends
    REST = "rest"  # tacet: the long rest of an orchestra part
    CHOSEN = "chosen"
    FORM = "form"  # a pencil line with a mark for each section; the current one is inked


class Light(enum.Enum):
    """The two kinds of light that the screen is made for."""

    DARK = "dark"
    DAY = "day"


class Detail(enum.Enum):
    """How much of a song to show: the better the player knows it, the less."""

    EVERYTHING = "everything"
    FORM = "form"
    CUES_ONLY = "cues only"


class ViewLine(msgspec.Struct, frozen=True, omit_defaults=True):
    """One line of a view. ``label`` is a small word before the text; ``shorter`` are short forms, longest first.

    A line ``if_room`` shows only where it fits and no other line shrinks or goes for it.
    """

    part: LineRole
    text: str
    label: str = ""
    shorter: tuple[str, ...] = ()
    mark: LineMark = LineMark.NONE
    if_room: bool = False

    @property
    def words(self) -> int:
        """Number of words in label and text; bar lines and dots do not count."""
        return sum(any(sign.isalnum() for sign in word) for word in f"{self.label} {self.text}".split())


class FormPlace(msgspec.Struct, frozen=True, omit_defaults=True):
    """The place in the song's form: section ``at``, from 0, of ``many``. ``features`` are sections with a feature."""

    at: int
    many: int
    features: tuple[int, ...] = ()


class Beat(msgspec.Struct, frozen=True):
    """The beat mark. ``from_ms`` is the time of a downbeat, in ms since the show began.

    ``beats`` are the lengths of the bar's felt beats, in beats of the tempo: (1, 1, 1, 0.5) in 7/8. With
    ``count_off_bars`` above 0, the mark counts that many bars from ``from_ms`` on, then disappears.
    """

    tempo_bpm: float
    beats: tuple[float, ...]
    from_ms: int
    count_off_bars: int = 0


class ChartView(msgspec.Struct, frozen=True, omit_defaults=True):
    """A song's own chart, shown in place of the lines: its file, and which screenful of it, from 0."""

    path: str
    turn: int = 0


class View(msgspec.Struct, frozen=True, omit_defaults=True, tag_field="line", tag="view"):
    """What is worth showing now: plain words, the most important first. Equal views need no new picture.

    A ``chart`` replaces the lines as soon as it is drawn; the lines stay on the screen until then.
    """

    picture: Picture
    lines: tuple[ViewLine, ...] = ()
    beat: Beat | None = None
    light: Light = Light.DARK
    chart: ChartView | None = None
    form: FormPlace | None = None

    def of(self, part: LineRole) -> ViewLine | None:
        """Return the first line with this role, if there is one."""
        return next((line for line in self.lines if line.part is part), None)
