"""Read files of records: one line of JSON each, appended over time, with bounds."""

from pathlib import Path
from typing import TypeVar

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.regular import TooLarge, read_regular

RecordT = TypeVar("RecordT")


def read_record_lines(path: Path, kind: type[RecordT], max_bytes: int) -> tuple[list[RecordT], int]:
    """Return the records in file order, and the number of unreadable lines; none if there is no file.

    Raises CompanionError for a file that is too large or cannot be read.
    """
    try:
        raw = read_regular(path, max_bytes)
    except FileNotFoundError:
        return [], 0
    except TooLarge:
        limit = f"{max_bytes // 2**20} MiB"
        raise CompanionError(f"{path} is larger than {limit}: move its older lines into another file") from None
    except (OSError, ValueError) as error:
        raise CompanionError(f"{path} cannot be read: {getattr(error, 'strerror', None) or error}") from error
    records: list[RecordT] = []
    unreadable = 0
    decoder = msgspec.json.Decoder(kind)
    for line in raw.split(b"\n"):
        if not line.strip():
            continue
        try:
            records.append(decoder.decode(line))
        except UNREADABLE:
            unreadable += 1
    return records, unreadable
