"""The rig: the keyboards, pedals and screen of one place, the player's own or a hired one."""

import enum

import msgspec

from companion.changes import Change


class Numbering(enum.Enum):
    """How a keyboard's panel counts its programs (common practice, no source)."""

    FROM_1 = "1"
    FROM_0 = "0"
    BANKS_OF_EIGHT = "banks of eight"  # A11..B88


class BankMessage(enum.Enum):
    """A half of the bank number that a keyboard wants to hear before the program."""

    MSB = "msb"
    LSB = "lsb"


class HowTransposed(enum.Enum):
    """How a live key change reaches a keyboard."""

    MASTER_TUNING = "tuning"  # universal master coarse tuning
    CHANNEL_TUNING = "channel tuning"  # registered parameter 2
    NONE = "none"


class Sound(msgspec.Struct, frozen=True):
    """What the keyboard plays under the player's name for it.

    ``program`` 0..127 as on the wire, or None where ``by_hand`` says what to press on the panel; ``panel`` is the
    program as the player wrote it. ``bank`` is (MSB, LSB), 0..127 each. ``before`` and ``controls`` are (controller
    number, value) pairs sent before and after the program change; ``send`` are whole messages, sent last.
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

    ``channel`` 1..16; ``settle_ms`` is the pause that it needs after a bank change, 0..5000. ``stands_for`` are
    keyboards of other rigs whose sounds are looked for on this one; of two at once the earlier keyboard's is taken.
    """

    name: str
    port: str | None = None  # part of the port's name; None: the one output port there is
    channel: int = 1
    programs_from: Numbering = Numbering.FROM_1
    bank_messages: tuple[BankMessage, ...] = (BankMessage.MSB, BankMessage.LSB)
    settle_ms: int = 0
    change: Change | None = None  # None: the rule of the show
    longest_wait_ms: int = 4000  # for the hands to lift, where a change waits for them
    general_midi: bool = False
    stands_for: tuple[str, ...] = ()
    transpose: HowTransposed = HowTransposed.NONE
    sounds: tuple[Sound, ...] = ()
    clock: bool = False  # it gets MIDI clock at the song's tempo, for arpeggiators and delays
    reset_controllers: bool = False  # all off resets its controllers too; its level may jump


class Action(enum.Enum):
    """What a pedal, key or pad can ask for."""

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
    """One switch: a control, a note, or a computer key. Exactly one of the three is set.

    ``channel`` 1..16; ``control`` and ``note`` 0..127; ``key`` one of KEY_NAMES. ``reversed``: it sends 127 at rest.
    ``latching``: it sends 127 at one press and 0 at the next, and nothing when it comes up.
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
    """The player's own sustain pedal: never a step."""

    port: str
    control: int = 64
    channel: int | None = None


class Screen(msgspec.Struct, frozen=True):
    """How wide the screen is, and how far the player's eyes are from it. None: a 13-inch screen at 1.5 m.

    ``monitor`` is the one it is on, from 1 as the system counts them.
    """

    width_mm: float | None = None
    distance_m: float | None = None
    monitor: int | None = None
    chords: bool = False  # the section's chord line is shown whenever there is one


class Rig(msgspec.Struct, frozen=True):
    """The keyboards, pedals and screen of one place."""

    name: str
    keyboards: tuple[Keyboard, ...] = ()
    sustain: tuple[Sustain, ...] = ()
    pedals: tuple[Pedal, ...] = ()
    screen: Screen = Screen()
    clock_from: str | None = None  # the port at which the drummer's clock comes in, to count bars by
