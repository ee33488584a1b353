"""Build the first root of the machine that boot.sh starts, and write in which order the modules of sound are loaded.

A module names those that it needs in its own file ("depends="), so neither depmod nor a complete module tree is needed.
The archive is written here, uncompressed (unpacking is what takes long in an emulator), in cpio's "newc" form.
"""

import re
import stat
import sys
from pathlib import Path

WORK = Path(sys.argv[1])
FIRST = ("virtio_pci", "virtio_rng", "9pnet_virtio", "9p")  # what reaches the host's files
SOUND = ("snd_seq", "snd_seq_dummy", "snd_seq_midi", "snd_usb_audio", "dummy_hcd", "usb_f_midi")

INIT = """#!/bin/busybox sh
# Mounts the host's files, read-only, with this machine's own /dev, /proc, /sys, /run and /home, and goes on in there.
b=/bin/busybox
$b mount -t proc proc /proc; $b mount -t sysfs sys /sys; $b mount -t devtmpfs dev /dev
for m in $($b cat /modules/order); do $b insmod /modules/$m 2>/dev/null || echo "no module $m"; done
$b mount -t 9p -o ro,trans=virtio,version=9p2000.L,msize=524288,cache=loose host /host ||
    { echo "no 9p"; $b poweroff -f; }
for d in dev proc sys; do $b mount --bind /$d /host/$d; done
for d in run home; do $b mount -t tmpfs tmpfs /host/$d; done
$b mkdir -p /host/run/shm /host/home/player
. /host/@WORK@/settings
$b chroot /host /usr/bin/env -i PATH=/usr/bin:/bin HOME=/home/player LANG=C.UTF-8 PYTHON="$PYTHON" WORK="$WORK" \\
    PYTHONPATH="$TESTS" PYTHONDONTWRITEBYTECODE=1 TMPDIR=/home "$PYTHON" "$CHECKS"
$b poweroff -f
"""


def modules() -> dict[str, Path]:
    return {path.stem.replace("-", "_"): path for path in (WORK / "k/lib/modules").rglob("*.ko")}


def needed_by(path: Path) -> list[str]:
    found = re.search(rb"\0depends=([^\0]*)\0", path.read_bytes())
    return [name.replace("-", "_") for name in found[1].decode().split(",") if name] if found else []


def in_order(wanted: tuple[str, ...], known: dict[str, Path]) -> list[Path]:
    """Return the modules, each behind those that it needs; one that is not there is part of the kernel."""
    order: list[Path] = []

    def add(name: str) -> None:
        if name in known and known[name] not in order:
            for other in needed_by(known[name]):
                add(other)
            order.append(known[name])

    for name in wanted:
        add(name)
    return order


def newc(files: list[tuple[str, int, bytes]]) -> bytes:
    out = bytearray()
    for number, (name, mode, content) in enumerate([*files, ("TRAILER!!!", 0, b"")], 1):
        fields = (number, mode, 0, 0, 1, 0, len(content), 0, 0, 0, 0, len(name) + 1, 0)
        out += b"070701" + b"".join(b"%08X" % field for field in fields) + name.encode() + b"\0"
        out += b"\0" * (-len(out) % 4) + content
        out += b"\0" * (-len(out) % 4)
    return bytes(out)


def main() -> None:
    known = modules()
    first, sound = in_order(FIRST, known), in_order(SOUND, known)
    (WORK / "sound.order").write_text("".join(f"{path}\n" for path in sound if path not in first))
    folder, program, plain = stat.S_IFDIR | 0o755, stat.S_IFREG | 0o755, stat.S_IFREG | 0o644
    files = [(name, folder, b"") for name in ("bin", "dev", "proc", "sys", "host", "modules")]
    files.append(("bin/busybox", program, (WORK / "b/bin/busybox").read_bytes()))
    files += [(f"modules/{path.name}", plain, path.read_bytes()) for path in first]
    files.append(("modules/order", plain, "".join(f"{path.name}\n" for path in first).encode()))
    files.append(("init", program, INIT.replace("@WORK@", str(WORK).lstrip("/")).encode()))
    (WORK / "first-root.cpio").write_bytes(newc(files))


main()
