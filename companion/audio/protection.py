"""Whether a recording is locked to its shop's own player: decoded as it is, it would be noise or silence."""

from pathlib import Path
from typing import Final

MAX_BOXES: Final = 64  # at the top of a file
MAX_HEADER: Final = 8 << 20  # bytes of the box that describes the tracks
LOCKED_ENTRIES: Final = (b"enca", b"drms")  # sample entries: ISO/IEC 14496-12, 8.12; the second from memory
ASF: Final = bytes.fromhex("3026b2758e66cf11a6d900aa0062ce6c")  # header object: ASF specification 10.1 (from memory)
ASF_LOCKED: Final = bytes.fromhex("fbb3112223bdd211b4b700a0c955fc6e")  # content encryption object (the same)
ASF_HEADER: Final = 64 << 10


def is_protected(path: Path) -> bool:
    """Return whether the file says that its sound is encrypted. Raises OSError."""
    with path.open("rb") as file:
        begin = file.read(ASF_HEADER)
        if begin.startswith(ASF):
            return ASF_LOCKED in begin
        if begin[4:8] != b"ftyp":
            return False
        at = 0
        for _ in range(MAX_BOXES):
            file.seek(at)
            head = file.read(16)
            if len(head) < 16:
                return False
            long = int.from_bytes(head[:4], "big")
            if long == 1:
                long = int.from_bytes(head[8:16], "big")
            if head[4:8] == b"moov":
                tracks = file.read(min(long, MAX_HEADER)) if long else file.read(MAX_HEADER)
                return any(entry in tracks for entry in LOCKED_ENTRIES)
            if not 8 <= long < 1 << 60:
                return False
            at += long
    return False
