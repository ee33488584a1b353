"""Good files made bad, by a seeded generator: bytes, lines and values are lost, repeated, swapped and put in."""

import io
import random
import re
import zipfile
import zlib
from collections.abc import Callable, Sequence

ODD = (
    *(b"\0", b"\xff", b"\xfe\xff", b"\x1b]0;x\x07", b"\xed\xa0\x80", b"\xe2\x80\xae", b"\xe2\x80\x8b", b"\r", b"\n\n"),
    *(
        b"%",
        b"&a ",
        b"*a ",
        b"!!python/object ",
        b"<<: ",
        b"{",
        b"[",
        b"]" * 9,
        b"[" * 60,
        b'"',
        b"'",
        b"#",
        b": ",
        b"- ",
    ),
    *(b"-1", b"0", b"1e999", b"nan", b"9" * 30, b"2000000000", b"0x7f", b"1.5", b"-0.0", b"4/0", b"99/4", b"25:61"),
    *(
        b"null",
        b"true",
        b"no",
        b"~",
        b"0001-01-01",
        b"9999-12-31",
        b"=1+1",
        b"../../x",
        b"/dev/null",
        b"\xc3\xa9" * 150,
    ),
)
VALUE = re.compile(rb"(?<=[:,\[{=> ])[^\s:,\[\]{}<>=\"']+")


def mutated(chance: random.Random, raw: bytes, others: Sequence[bytes]) -> bytes:
    """Return a file with one to six changes."""
    for _ in range(chance.choice((1, 1, 2, 3, 6))):
        raw = chance.choice(CHANGES)(chance, raw, others)
    return raw


def _cut(chance: random.Random, raw: bytes) -> tuple[int, int]:
    at = chance.randrange(len(raw) + 1)
    return at, min(len(raw), at + chance.choice((1, 1, 4, 40, 400, len(raw))))


def _flip(chance: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    changed = bytearray(raw)
    for _ in range(chance.choice((1, 1, 3, 20))):
        if changed:
            changed[chance.randrange(len(changed))] = chance.randrange(256)
    return bytes(changed)


def _lose(chance: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    at, end = _cut(chance, raw)
    return raw[:at] + raw[end:]


def _repeat(chance: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    at, end = _cut(chance, raw)
    return raw[:end] + raw[at:end] * chance.choice((1, 2, 30)) + raw[end:] if end - at < 2_000 else raw


def _put_in(chance: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    at, _ = _cut(chance, raw)
    return raw[:at] + chance.choice(ODD) + raw[at:]


def _splice(chance: random.Random, raw: bytes, others: Sequence[bytes]) -> bytes:
    other = chance.choice(others)
    at, end = _cut(chance, other)
    here, _ = _cut(chance, raw)
    return raw[:here] + other[at:end] + raw[here:]


def _lines(chance: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    lines = raw.split(b"\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], b" " * chance.choice((0, 1, 2, 9)) + lines[one].lstrip(b" ")
    return b"\n".join(lines)


def _value(chance: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    found = list(VALUE.finditer(raw))
    if not found:
        return raw
    one, other = chance.choice(found), chance.choice(found)
    new = chance.choice((other[0], chance.choice(ODD), one[0] * chance.choice((2, 50)), b""))
    return raw[: one.start()] + new + raw[one.end() :]


CHANGES: tuple[Callable[[random.Random, bytes, Sequence[bytes]], bytes], ...] = (
    *(_flip, _lose, _repeat, _put_in, _splice),
    *(_lines, _value, _value, _value),
)


def mutated_zip(chance: random.Random, raw: bytes, others: Sequence[bytes]) -> bytes:
    """Return a zip with one part changed, packed again so that its checksums are right."""
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as old:
            parts = {one.filename: old.read(one.filename) for one in old.infolist()}
    except (zipfile.BadZipFile, zlib.error):
        return mutated(chance, raw, others)
    name = chance.choice([one for one in parts if one.startswith("xl/") and "theme" not in one])
    parts[name] = mutated(chance, parts[name], list(parts.values()))
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for one, part in parts.items():
            new.writestr(one, part)
    return out.getvalue()


def mutated_journal(chance: random.Random, raw: bytes, others: Sequence[bytes]) -> bytes:
    """Return a journal changed by somebody who knows how it is written: sums and numbers are right again."""
    head, _, events = raw.partition(b"\n")
    keeps_head = chance.random() < 0.7  # it has the whole show in it, and is most of the file
    changed = head + b"\n" + mutated(chance, events, others) if keeps_head else mutated(chance, raw, others)
    out = []
    for number, line in enumerate(one for one in changed.split(b"\n") if one):
        pieces = line.split(b" ", 4)
        if len(pieces) < 5:
            out.append(line)
            continue
        rest = b"%d %s" % (number, b" ".join(pieces[2:]))
        out.append(b"%08x %s" % (zlib.crc32(rest), rest))
    return b"\n".join(out) + b"\n"


def mutated_kept(chance: random.Random, raw: bytes, others: Sequence[bytes]) -> bytes:
    """Return a kept reading changed likewise."""
    changed = mutated(chance, raw[4:], [one[4:] for one in others])
    return zlib.crc32(changed).to_bytes(4, "big") + changed
