"""What the panel shows and what is sent."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.files import InvalidValue
from companion.rig import Numbering, to_panel, to_wire

FROM_1, FROM_0, EIGHTS = Numbering.FROM_1, Numbering.FROM_0, Numbering.BANKS_OF_EIGHT


@pytest.mark.parametrize(
    ("written", "numbering", "wire"),
    [  # common practice, no source: byte = 64 x group + 8 x (first digit - 1) + (second digit - 1)
        ("1", FROM_1, 0),
        ("17", FROM_1, 16),
        ("128", FROM_1, 127),
        ("010", FROM_1, 9),
        ("0", FROM_0, 0),
        ("16", FROM_0, 16),
        ("127", FROM_0, 127),
        ("A11", EIGHTS, 0),
        ("A12", EIGHTS, 1),
        ("A18", EIGHTS, 7),
        ("A21", EIGHTS, 8),
        ("A35", EIGHTS, 20),
        ("A88", EIGHTS, 63),
        ("B11", EIGHTS, 64),
        ("B37", EIGHTS, 86),
        ("b88", EIGHTS, 127),
        ("1-1", EIGHTS, 0),
        ("3-1", EIGHTS, 16),
        ("16-8", EIGHTS, 127),
    ],
)
def test_a_panel_number_becomes_this_byte(written: str, numbering: Numbering, wire: int) -> None:
    assert to_wire(written, numbering) == wire


@pytest.mark.parametrize(
    ("written", "numbering", "problem", "write"),
    [
        ("0", FROM_1, "program 0, but this panel counts from 1", "programs_from: 0"),
        ("129", FROM_1, "program 129, but this panel counts from 1 to 128", "1 to 128"),
        ("128", FROM_0, "program 128, but this panel counts from 0 to 127", "programs_from: 1"),
        ("-1", FROM_1, '"-1" is not a program', "1 to 128"),
        ("1e3", FROM_1, '"1e3" is not a program', "1 to 128"),
        ("organ", FROM_1, '"organ" is not a program', "1 to 128"),
        ("99999999999999999999", FROM_1, "is not a program", "1 to 128"),
        ("A11", FROM_1, '"A11" is a program in banks of eight', "programs_from: banks of eight"),
        ("A19", EIGHTS, '"A19": digits go from 1 to 8, not 9', "A11 to B88"),
        ("A20", EIGHTS, '"A20": digits go from 1 to 8, not 0', "A11 to B88"),
        ("A01", EIGHTS, "not 0", "A11 to B88"),
        ("C11", EIGHTS, "two groups, A and B", "A11 or B11"),
        ("17-1", EIGHTS, "not 17", "1-1 to 16-8"),
        ("1-9", EIGHTS, "not 9", "1-1 to 16-8"),
        ("17", EIGHTS, "program 17, but this panel counts in banks of eight", "programs_from: 1"),
        ("A111", EIGHTS, '"A111" is not a program', "A11 to B88"),
        ("", EIGHTS, "is not a program", "A11 to B88"),
    ],
)
def test_an_impossible_panel_number_is_reported_in_the_panels_terms(
    written: str, numbering: Numbering, problem: str, write: str
) -> None:
    with pytest.raises(InvalidValue) as told:
        to_wire(written, numbering)
    assert problem in told.value.problem
    assert write in told.value.write


@pytest.mark.parametrize(
    ("program", "numbering", "like", "shown"),
    [
        (16, FROM_1, "", "17"),
        (16, FROM_0, "", "16"),
        (86, EIGHTS, "", "B37"),
        (86, EIGHTS, "a11", "B37"),
        (16, EIGHTS, "1-1", "3-1"),
        (127, EIGHTS, "2-4", "16-8"),
    ],
)
def test_a_program_is_shown_as_on_the_panel(program: int, numbering: Numbering, like: str, shown: str) -> None:
    assert to_panel(program, numbering, like) == shown


@given(program=st.integers(0, 127), numbering=st.sampled_from(Numbering), like=st.sampled_from(["A11", "1-1"]))
def test_the_shown_program_reads_back(program: int, numbering: Numbering, like: str) -> None:
    assert to_wire(to_panel(program, numbering, like), numbering) == program


@given(written=st.text(max_size=8), numbering=st.sampled_from(Numbering))
def test_any_text_is_a_program_or_reported(written: str, numbering: Numbering) -> None:
    try:
        program = to_wire(written, numbering)
    except InvalidValue:
        return
    assert program in range(128)
