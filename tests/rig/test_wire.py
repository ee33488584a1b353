"""Sounds to bytes: by the published examples, and read back by an independent library."""

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from companion.rig import BankMessage, HowTransposed, Keyboard, Pause, Sound, all_off, change_to, tune, volume
from companion.rig.midi_bytes import channel_coarse_tuning, control_change, master_coarse_tuning, program_change

MSB, LSB = BankMessage.MSB, BankMessage.LSB
WIRE_MS_A_BYTE = 0.32  # IEC 63035:2017 (MIDI 1.0), clause 4.1


def sent(things: tuple[bytes | Pause, ...]) -> str:
    return " ".join(f"wait {one.ms}" if isinstance(one, Pause) else one.hex(" ").upper() for one in things)


@pytest.mark.parametrize(
    ("channel", "wanted", "bank", "panel_program", "expected"),
    [
        (1, (MSB, LSB), None, 17, "C0 10"),  # MIDI 1.0, Table I
        (10, (MSB, LSB), None, 1, "C9 00"),
        (16, (MSB, LSB), None, 128, "CF 7F"),
        (1, (MSB, LSB), (0, 32), 17, "B0 00 00 B0 20 20 C0 10"),  # bank order: MSB, LSB, program
        (1, (LSB, MSB), (0, 32), 17, "B0 00 00 B0 20 20 C0 10"),  # whatever the order in the file
        (1, (MSB,), (81, 0), 1, "B0 00 51 C0 00"),
        (2, (LSB,), (0, 3), 128, "B1 20 03 C1 7F"),
        (2, (), (81, 3), 1, "C1 00"),
    ],
)
def test_bank_and_program_become_these_bytes(
    channel: int, wanted: tuple[BankMessage, ...], bank: tuple[int, int] | None, panel_program: int, expected: str
) -> None:
    board = Keyboard("lower", channel=channel, bank_messages=wanted)
    assert sent(change_to(board, Sound("one", program=panel_program - 1, bank=bank))) == expected


def test_a_sounds_messages_go_out_in_order() -> None:
    board = Keyboard("lower", channel=2, settle_ms=50)
    sound = Sound(
        "one",
        program=16,
        bank=(0, 32),
        before=((11, 0),),
        controls=((7, 110), (11, 127)),
        send=(bytes.fromhex("B15B28"), bytes.fromhex("F07E7F0901F7")),
    )
    assert sent(change_to(board, sound)) == (
        "B1 0B 00 B1 00 00 B1 20 20 wait 50 C1 10 wait 50 B1 07 6E B1 0B 7F B1 5B 28 F0 7E 7F 09 01 F7"
    )


@pytest.mark.parametrize(
    ("sound", "expected"),
    [
        (Sound("no bank", program=0), "C0 00"),
        (Sound("bank, nothing after", program=0, bank=(1, 2)), "B0 00 01 B0 20 02 wait 9 C0 00"),
        (Sound("no bank, more after", program=0, controls=((7, 1),)), "C0 00 B0 07 01"),
    ],
)
def test_a_keyboard_settles_only_after_a_bank_change(sound: Sound, expected: str) -> None:
    assert sent(change_to(Keyboard("lower", settle_ms=9), sound)) == expected


def test_a_sound_without_a_bank_beside_others_with_one_is_in_bank_0() -> None:
    plain, banked = Sound("piano", program=0), Sound("organ", program=16, bank=(0, 32))
    assert sent(change_to(Keyboard("lower", sounds=(plain, banked)), plain)) == "B0 00 00 B0 20 00 C0 00"
    assert sent(change_to(Keyboard("lower", sounds=(plain,)), plain)) == "C0 00"


FADED = Sound("pad", program=89, before=((7, 0),), controls=((7, 90),))
SOFT = Sound("strings", program=48, controls=((11, 60),))
RAW = Sound("bells", program=14, send=(bytes.fromhex("B0 07 28"),))


@pytest.mark.parametrize(
    ("others", "sound", "expected"),
    [
        # volume 100: a General MIDI instrument's at power-on (General MIDI 1, from memory); expression 127: RP-015
        ((FADED,), Sound("piano", program=0), "C0 00 B0 07 64"),
        ((SOFT,), Sound("piano", program=0), "C0 00 B0 0B 7F"),
        ((FADED, SOFT), Sound("piano", program=0), "C0 00 B0 07 64 B0 0B 7F"),
        ((RAW,), Sound("piano", program=0), "C0 00 B0 07 64"),
        ((), Sound("piano", program=0, before=((7, 0),)), "B0 07 00 C0 00 B0 07 64"),  # a fade is no level
        ((FADED, SOFT), Sound("choir", by_hand="bank B"), "B0 07 64 B0 0B 7F"),
        # what it sets itself is not touched, wherever it does so
        ((FADED,), Sound("piano", program=0, controls=((7, 80),)), "C0 00 B0 07 50"),
        ((FADED,), Sound("piano", program=0, before=((7, 80),)), "B0 07 50 C0 00"),
        ((FADED,), RAW, "C0 0E B0 07 28"),
        # nor what no sound of this keyboard sets, nor what is no level
        ((SOFT,), SOFT, "C0 30 B0 0B 3C"),
        ((Sound("other", program=1, controls=((91, 90), (10, 5))),), Sound("piano", program=0), "C0 00"),
    ],
)
def test_a_sound_without_a_level_does_not_inherit_the_previous_one(
    others: tuple[Sound, ...], sound: Sound, expected: str
) -> None:
    assert sent(change_to(Keyboard("lower", sounds=(*others, sound)), sound)) == expected


def test_a_sound_chosen_by_hand_sends_only_its_controls() -> None:
    board = Keyboard("lower", sounds=(Sound("organ", program=16, bank=(0, 32)),))
    assert change_to(board, Sound("choir", by_hand="bank B, button 4")) == ()
    assert sent(change_to(board, Sound("choir", by_hand="bank B", controls=((7, 90),)))) == "B0 07 5A"


@pytest.mark.parametrize(
    ("semitones", "expected"),
    [  # MMA/AMEI CA-025
        (-12, "F0 7F 7F 04 04 00 34 F7"),
        (-2, "F0 7F 7F 04 04 00 3E F7"),
        (-1, "F0 7F 7F 04 04 00 3F F7"),
        (0, "F0 7F 7F 04 04 00 40 F7"),
        (1, "F0 7F 7F 04 04 00 41 F7"),
        (2, "F0 7F 7F 04 04 00 42 F7"),
        (12, "F0 7F 7F 04 04 00 4C F7"),
    ],
)
def test_master_coarse_tuning_becomes_these_bytes(semitones: int, expected: str) -> None:
    assert sent((master_coarse_tuning(semitones),)) == expected
    assert sent(tune(Keyboard("lower", transpose=HowTransposed.MASTER_TUNING), semitones)) == expected


def test_channel_tuning_is_registered_parameter_2_followed_by_the_null_parameter() -> None:
    # RPN 00 02 in instrument data lists, required by General MIDI level 1: -1 on channel 1
    assert sent(channel_coarse_tuning(1, -1)) == "B0 65 00 B0 64 02 B0 06 3F B0 65 7F B0 64 7F"
    board = Keyboard("lower", channel=3, transpose=HowTransposed.CHANNEL_TUNING)
    assert sent(tune(board, 0)) == "B2 65 00 B2 64 02 B2 06 40 B2 65 7F B2 64 7F"


def test_a_keyboard_that_cannot_be_tuned_gets_no_message() -> None:
    assert tune(Keyboard("lower", transpose=HowTransposed.NONE), -1) == ()


@pytest.mark.parametrize("semitones", [-65, 64])
def test_tuning_stays_within_the_range_of_its_message(semitones: int) -> None:
    with pytest.raises(ValueError, match="-64 to 63 semitones"):
        master_coarse_tuning(semitones)
    with pytest.raises(ValueError, match="-64 to 63 semitones"):
        channel_coarse_tuning(1, semitones)


def test_volume_is_controller_7() -> None:
    assert volume(Keyboard("lower", channel=16), 127) == bytes.fromhex("BF077F")  # MIDI 1.0, Table III


def test_all_off_lifts_pedals_centres_the_bend_and_silences_all_sixteen_channels() -> None:
    # MIDI 1.0, Tables I and III: 64, 66, 67 to 0; pitch bend LSB first, centre 00 40; 120; 123
    first = "B0 40 00 B0 42 00 B0 43 00 E0 00 40 B0 78 00 B0 7B 00"
    last = "BF 40 00 BF 42 00 BF 43 00 EF 00 40 BF 78 00 BF 7B 00"
    assert sent(all_off()[:6]) == first
    assert sent(all_off()[-6:]) == last
    assert len(all_off()) == 16 * 6
    read = [mido.Message.from_bytes(message) for message in all_off()]
    assert {message.channel for message in read} == set(range(16))
    assert {message.pitch for message in read if message.type == "pitchwheel"} == {0}


def test_all_off_takes_at_most_400_ms_on_a_five_pin_cable() -> None:
    assert len(b"".join(all_off())) == 288
    assert len(b"".join(all_off(reset_controllers=True))) * WIRE_MS_A_BYTE < 400


def test_controllers_are_reset_only_if_the_rig_asks() -> None:
    assert not [message for message in all_off() if message[1] == 121]
    resets = [message for message in all_off(reset_controllers=True) if message[1] == 121]
    assert [message[0] for message in resets] == list(range(0xB0, 0xC0))
    assert {message[2] for message in resets} == {0}  # MIDI 1.0, channel mode messages: Reset All Controllers takes 0


SEVEN_BITS = st.integers(0, 127)
CONTROLS = st.lists(
    st.tuples(st.integers(1, 119).filter(lambda number: number != 32), SEVEN_BITS),
    max_size=4,
    unique_by=lambda pair: pair[0],
).map(tuple)
SOUNDS = st.builds(
    Sound,
    name=st.just("one"),
    program=SEVEN_BITS,
    bank=st.none() | st.tuples(SEVEN_BITS, SEVEN_BITS),
    before=CONTROLS,
    controls=CONTROLS,
)
BOARDS = st.builds(
    Keyboard,
    name=st.just("lower"),
    channel=st.integers(1, 16),
    bank_messages=st.sampled_from([(MSB, LSB), (MSB,), (LSB,), ()]),
    settle_ms=st.sampled_from([0, 50]),
)


@given(board=BOARDS, sound=SOUNDS)
def test_any_sound_on_any_keyboard_reads_back_from_its_bytes(board: Keyboard, sound: Sound) -> None:
    messages = [one for one in change_to(replace(board, sounds=(sound,)), sound) if isinstance(one, bytes)]
    read = [mido.Message.from_bytes(message) for message in messages]
    assert {message.channel + 1 for message in read} == {board.channel}

    at = next(number for number, message in enumerate(read) if message.type == "program_change")
    assert read[at].program == sound.program
    assert [message.type for message in read].count("program_change") == 1
    before = [(message.control, message.value) for message in read[:at]]
    after = [(message.control, message.value) for message in read[at + 1 :]]
    assert after == list(sound.controls)
    assert before[: len(sound.before)] == list(sound.before)
    msb, lsb = sound.bank or (0, 0)
    halves = {MSB: (0, msb), LSB: (32, lsb)}
    wanted = [halves[half] for half in board.bank_messages] if sound.bank else []
    assert before[len(sound.before) :] == wanted


@given(channel=st.integers(1, 16), number=SEVEN_BITS, value=SEVEN_BITS)
def test_any_message_equals_an_independent_librarys(channel: int, number: int, value: int) -> None:
    theirs = mido.Message("control_change", channel=channel - 1, control=number, value=value)
    assert control_change(channel, number, value) == bytes(theirs.bytes())
    assert program_change(channel, value) == bytes(
        mido.Message("program_change", channel=channel - 1, program=value).bytes()
    )


@given(channel=st.integers(1, 16), semitones=st.integers(-64, 63))
def test_any_tuning_reads_back_from_its_bytes(channel: int, semitones: int) -> None:
    master = mido.Message.from_bytes(master_coarse_tuning(semitones))
    assert (master.type, master.data[:5], master.data[5] - 64) == ("sysex", (0x7F, 0x7F, 4, 4, 0), semitones)
    read = [mido.Message.from_bytes(message) for message in channel_coarse_tuning(channel, semitones)]
    assert [(one.control, one.value) for one in read] == [
        (101, 0),
        (100, 2),
        (6, semitones + 64),
        (101, 127),
        (100, 127),
    ]
