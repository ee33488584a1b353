"""The rig: the keyboards, pedals and screen of one place, owned or hired."""

import enum

import msgspec

from companion.changes import Change


class Numbering(enum.Enum):
    """How a keyboard's panel counts its programs (common practice, no source)."""

    FROM_1 = "1"
    FROM_0 = "0"
    BANKS_OF_EIGHT = "banks of eight"  # A11..B88


class BankMessage(enum.Enum):
    """A half of the bank number that a keyboard needs before the program change."""

    MSB = "msb"
    LSB = "lsb"


class HowTransposed(enum.Enum):
    """How a keyboard is transposed live."""

    MASTER_TUNING = "tuning"  # universal master coarse tuning
    CHANNEL_TUNING = "channel tuning"  # registered parameter 2
    NONE = "none"


class Sound(msgspec.Struct, frozen=True):
    """A sound under the player's name for it.

    ``program`` is 0..127 as on the wire, or None if ``by_hand`` says what to press on the panel; ``panel`` is the
    program as the player wrote it. ``bank`` is (MSB, LSB), 0..127 each. ``before`` and ``controls`` are (controller
    number, value) pairs, sent before and after the program change; ``send`` are whole messages, sent last.
    """

    name: str
    program: int | None = None
    bank: tuple[int, int] | None = None
    controls: tuple[tuple[int, int], ...] = ()
    by_hand: str | None = None
    before: tuple[tuple[int, int], ...] = ()
    send: tuple[bytes, ...] = ()
    panel: str | None = None


class Keyboard(msgspec.Struct, frozen=True):
    """One keyboard.

    ``channel`` is 1..16; ``settle_ms``, 0..5000, is the pause it needs after a bank change. ``stands_for`` are
    keyboards of other rigs that it replaces; if two of them have a sound at once, the one named first wins.
    """

    name: str
    port: str | None = None  # part of the port's name; None: the only output port
    channel: int = 1
    programs_from: Numbering = Numbering.FROM_1
    bank_messages: tuple[BankMessage, ...] = (BankMessage.MSB, BankMessage.LSB)
    settle_ms: int = 0
    change: Change | None = None  # None: as the show says
    longest_wait_ms: int = 4000  # if a change waits until hands lift
    general_midi: bool = False
    stands_for: tuple[str, ...] = ()
    transpose: HowTransposed = HowTransposed.NONE
    sounds: tuple[Sound, ...] = ()
    clock: bool = False  # whether to send MIDI clock at the song's tempo, for arpeggiators and delays
    reset_controllers: bool = False  # whether all off also resets its controllers; its level may jump


class Action(enum.Enum):
    """What a pedal, key or pad can do."""

    NEXT = "next"
    BACK = "back"
    AGAIN = "again"
    TAKE_IT_OUT = "take it out"
    SKIP = "skip"
    START_OVER = "start over"
    TAKE_BACK = "take back"
    LEAVE_OUT = "leave out"
    DROP = "drop"
    SWAP = "swap"
    TO_ENCORE = "to encore"
    NEXT_SONG = "next song"
    PREVIOUS_SONG = "previous song"
    ALL_OFF = "all off"
    SOUND_NOW = "sound now"
    TAP = "tap tempo"
    KEY_UP = "key up"
    KEY_DOWN = "key down"
    CHART = "chart"
    NOTHING = "nothing"


class Pedal(msgspec.Struct, frozen=True):
    """One switch. Exactly one of ``control``, ``note`` and ``key`` is set.

    ``channel`` is 1..16; ``control`` and ``note`` are 0..127; ``key`` is one of KEY_NAMES. ``reversed``: it sends 127
    at rest. ``latching``: it sends 127 on one press and 0 on the next, and nothing on release.
    """

    name: str
    port: str | None = None
    channel: int | None = None  # None: any channel of that port
    control: int | None = None
    note: int | None = None
    key: str | None = None
    press: Action = Action.NOTHING
    hold: Action | None = None
    reversed: bool = False
    latching: bool = False


class Sustain(msgspec.Struct, frozen=True):
    """The player's sustain pedal: it never steps the show."""

    port: str
    control: int = 64
    channel: int | None = None


class Screen(msgspec.Struct, frozen=True):
    """The screen's width and its distance from the player's eyes. None: a 13-inch screen at 1.5 m.

    ``monitor`` counts from 1, in the system's order.
    """

    width_mm: float | None = None
    distance_m: float | None = None
    monitor: int | None = None
    chords: bool = False  # show the section's chord line if it has one


class Rig(msgspec.Struct, frozen=True):
    """The keyboards, pedals and screen of one place."""

    name: str
    keyboards: tuple[Keyboard, ...] = ()
    sustain: tuple[Sustain, ...] = ()
    pedals: tuple[Pedal, ...] = ()
    screen: Screen = Screen()
    clock_from: str | None = None  # the input port of the drummer's clock, for counting bars
