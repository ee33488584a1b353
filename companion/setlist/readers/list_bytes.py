"""The bytes of a list: from its file, or as they came; never more than a list can have."""

import os
from pathlib import Path
from typing import Final

from companion.regular import NotRegular, TooLarge, read_regular
from companion.setlist.readers.limits import MAX_BYTES, MAX_PICTURE_BYTES
from companion.setlist.readers.other_kinds import is_picture
from companion.setlist.readers.refusal import no_list

LESS: Final = "the pages with the list alone"


def list_bytes(path: str | os.PathLike[str], raw: bytes | None = None) -> bytes:
    """Return a list's bytes: ``raw``, or those of the file. Raises FaultyFile if empty, too large or unreadable.

    How many are too many depends on what they are: a picture or a PDF may be larger than text.
    """
    shown = os.fspath(path)
    if raw is None:
        raw = _file_bytes(path, shown)
    if len(raw) > MAX_BYTES and not is_picture(raw) and b"%PDF-" not in raw[:1024]:
        raise no_list(shown, f"the file is larger than {MAX_BYTES >> 20} MiB", LESS)
    if not raw.strip():
        raise no_list(shown, "the file is empty")
    return raw


def _file_bytes(path: str | os.PathLike[str], shown: str) -> bytes:
    try:
        return read_regular(path, MAX_PICTURE_BYTES)
    except FileNotFoundError:
        raise no_list(shown, "there is no such file") from None
    except TooLarge:
        raise no_list(shown, f"the file is larger than {MAX_PICTURE_BYTES >> 20} MiB", LESS) from None
    except (NotRegular, IsADirectoryError):
        what = "a folder, not a file" if Path(path).is_dir() else "not a regular file"
        raise no_list(shown, what, "the list's own path") from None
    except (OSError, ValueError) as error:
        raise no_list(shown, f"the file cannot be read ({getattr(error, 'strerror', None) or error})") from None
