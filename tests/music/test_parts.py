"""Parts: what transposing instruments read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.strategies import keys
from music.tables import cells

from companion.music import Key, PartPitch, read_key, written_key

PARTS = {"Bb instrument": PartPitch.BB, "Eb instrument": PartPitch.EB, "F instrument": PartPitch.F}


@pytest.mark.parametrize(("concert", "instrument", "written"), cells("instrument_keys", "concert"))
def test_the_key_of_a_part_agrees_with_orchestration_books(concert: str, instrument: str, written: str) -> None:
    assert str(written_key(read_key(concert), PARTS[instrument])) in written.split("|")


@given(keys, st.sampled_from(PartPitch))
def test_a_part_sounds_in_the_concert_key(key: Key, part: PartPitch) -> None:
    below = {PartPitch.CONCERT: 0, PartPitch.BB: 2, PartPitch.EB: 9, PartPitch.F: 7}[part]
    assert written_key(key, part).transposed(-below).tonic.semitone == key.tonic.semitone
