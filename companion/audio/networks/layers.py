"""The layers that the two networks are made of, in numpy, as PyTorch defines them. Arrays are (channels, frames, bins).

A song is long and its pictures are large: convolutions run on a few hundred frames at a time, and what they return is
kept as float16 between layers.
"""

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.floating[Any]]
FrameRows = NDArray[np.float32]  # rows are frames

CHUNK_FRAMES: Final = 256
NORM_EPSILON: Final = 1e-5  # torch.nn.InstanceNorm2d's own
SELU_SCALE: Final = 1.0507009873554804934193349852946  # Klambauer et al., 2017, as torch.nn.functional.selu
SELU_ALPHA: Final = 1.6732632423543772848170429916717


def convolved(image: Floats, weight: Floats, bias: Floats, *, pad_bins: bool = True) -> Floats:
    """Return a 3 x 3 convolution, zero beyond the first and last frame, and beyond the bins with ``pad_bins``."""
    channels, frames, bins = image.shape
    out_bins = bins if pad_bins else bins - 2
    flat = np.ascontiguousarray(weight.reshape(weight.shape[0], -1), dtype=np.float32)
    out = np.empty((weight.shape[0], frames, out_bins), np.float16)
    edge = 1 if pad_bins else 0
    for start in range(0, frames, CHUNK_FRAMES):
        count = min(CHUNK_FRAMES, frames - start)
        window = np.zeros((channels, count + 2, bins + 2 * edge), np.float32)
        first, last = max(start - 1, 0), min(start + count + 1, frames)
        window[:, first - start + 1 : last - start + 1, edge : edge + bins] = image[:, first:last]
        columns = np.lib.stride_tricks.sliding_window_view(window, (3, 3), axis=(1, 2))  # c, frame, bin, 3, 3
        patches = columns.transpose(0, 3, 4, 1, 2).reshape(channels * 9, count * out_bins)
        sums = flat @ patches + bias.astype(np.float32)[:, None]
        out[:, start : start + count] = sums.reshape(-1, count, out_bins)
    return out


def normed_selu(image: Floats) -> Floats:
    """Return selu of each channel with its own mean taken away and divided by its own deviation, over all frames."""
    out = np.empty_like(image)
    for channel in range(image.shape[0]):
        values = image[channel].astype(np.float32)
        values -= values.mean(dtype=np.float64)
        values /= np.sqrt(np.mean(values * values, dtype=np.float64) + NORM_EPSILON)
        negative = SELU_ALPHA * np.expm1(np.minimum(values, 0.0))
        out[channel] = SELU_SCALE * np.where(values > 0, values, negative)
    return out


def pooled(image: Floats, bins: int) -> Floats:
    """Return the largest of every ``bins`` neighbouring bins; bins left over at the end are dropped."""
    channels, frames, before = image.shape
    many = before // bins
    return np.asarray(image[:, :, : many * bins].reshape(channels, frames, many, bins).max(axis=3))


def long_short_term(
    steps: Floats, into: Floats, onward: Floats, bias: Floats, *, backwards: bool = False
) -> NDArray[np.float32]:
    """Return the hidden states of one LSTM layer: (frames, features) in, (frames, hidden) out, from a zero state.

    ``into`` and ``onward`` are the weights of the input and of the hidden state, gates in PyTorch's order: input,
    forget, cell, output. ``bias`` is the sum of both biases.
    """
    hidden = onward.shape[1]
    gates = steps.astype(np.float32) @ into.astype(np.float32).T + bias.astype(np.float32)
    turned = np.ascontiguousarray(onward.astype(np.float32).T)
    out = np.empty((len(steps), hidden), np.float32)
    state = np.zeros(hidden, np.float32)
    cell = np.zeros(hidden, np.float32)
    order = range(len(steps) - 1, -1, -1) if backwards else range(len(steps))
    for number in order:
        gate = gates[number] + state @ turned
        opened = _sigmoid(gate)
        cell = opened[hidden : 2 * hidden] * cell + opened[:hidden] * np.tanh(gate[2 * hidden : 3 * hidden])
        state = opened[3 * hidden :] * np.tanh(cell)
        out[number] = state
    return out


def softmax(values: Floats) -> NDArray[np.float32]:
    """Return probabilities along the last axis."""
    large = values.astype(np.float32) - values.max(axis=-1, keepdims=True).astype(np.float32)
    shares = np.exp(large)
    return np.asarray(shares / shares.sum(axis=-1, keepdims=True), dtype=np.float32)


def _sigmoid(values: NDArray[np.float32]) -> NDArray[np.float32]:
    return np.asarray(0.5 * (1.0 + np.tanh(0.5 * values)), dtype=np.float32)
