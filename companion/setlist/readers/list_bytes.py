"""The bytes of a list: from its file, or as they came; never more than a list can have."""

import os
from pathlib import Path

from companion.errors import FaultyFile
from companion.regular import NotRegular, TooLarge, read_regular
from companion.setlist.readers.limits import MAX_BYTES, MAX_PICTURE_BYTES
from companion.setlist.readers.other_kinds import is_picture
from companion.setlist.readers.refusal import no_list


def bytes_of(path: str | os.PathLike[str]) -> bytes:
    """Return the file's bytes. Raises FaultyFile if it is empty, too large or unreadable."""
    shown = os.fspath(path)
    try:
        raw = read_regular(path, MAX_PICTURE_BYTES)
    except FileNotFoundError:
        raise no_list(shown, "there is no such file") from None
    except TooLarge:
        raise _too_large(shown, MAX_PICTURE_BYTES) from None
    except (NotRegular, IsADirectoryError):
        what = "a folder, not a file" if Path(path).is_dir() else "not a regular file"
        raise no_list(shown, what, "the list's own path") from None
    except (OSError, ValueError) as error:
        raise no_list(shown, f"the file cannot be read ({getattr(error, 'strerror', None) or error})") from None
    return checked_bytes(raw, shown)


def checked_bytes(raw: bytes, shown: str) -> bytes:
    """Return the same bytes. Raises FaultyFile if they are none, or too many for what they are."""
    if len(raw) > MAX_BYTES and not is_picture(raw) and b"%PDF-" not in raw[:1024]:
        raise _too_large(shown, MAX_BYTES)
    if not raw.strip():
        raise no_list(shown, "the file is empty")
    return raw


def _too_large(shown: str, most: int) -> FaultyFile:
    return no_list(shown, f"the file is larger than {most >> 20} MiB", "the pages with the list alone")
