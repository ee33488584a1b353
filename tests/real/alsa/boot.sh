#!/bin/bash
# Boots a small virtual machine that has Linux's own MIDI (ALSA's sequencer), which a container may lack, and runs one
# Python program in it: software emulation (qemu without KVM), Debian's own kernel, this machine's files over 9p,
# read-only. The kernel has dummy_hcd and the MIDI gadget (usb_f_midi), so that USB-MIDI keyboards can be emulated down
# to the USB bus and seen through snd-usb-audio: plugged in, played, pulled out, plugged in again.
#
#   WORK=DIR PYTHON=FILE CHECKS=FILE boot.sh    DIR is for what is fetched and built (some 71 MB, once); FILE is the
#                                               Python that has the program; the checks print "RESULT: N right, M wrong"
#
# Emulation is 10 to 30 times slower than the machine: it tells right from wrong, never how fast.
set -euo pipefail
HERE=$(dirname "$(readlink -f "$0")")
PYTHON=${PYTHON:?the Python of the environment that the program is installed in}
CHECKS=${CHECKS:?a Python program with the checks}
WORK=${WORK:?a folder for what is fetched and built}
LIMIT_S=${LIMIT_S:-400}
mkdir -p "$WORK/debs"

# 1. Two packages, which are only unpacked.
ls "$WORK"/debs/linux-image-*.deb "$WORK"/debs/busybox-static_*.deb >/dev/null 2>&1 || (
    cd "$WORK/debs"
    kernel=$(apt-cache depends linux-image-amd64 | awk '/Depends: linux-image/{print $2}')
    apt-get download -qq "$kernel" busybox-static
)

# 2. Of the kernel's package only what is used.
if [ ! -e "$WORK/unpacked" ]; then
    rm -rf "$WORK/k" "$WORK/b"
    mkdir -p "$WORK/k"
    m='./lib/modules/*/kernel'
    dpkg-deb --fsys-tarfile "$WORK"/debs/linux-image-*.deb | tar -x -C "$WORK/k" --wildcards './boot/vmlinuz*' \
        "$m/sound/*" "$m/drivers/usb/*" "$m/drivers/media/mc/*" "$m/drivers/virtio/*" "$m/net/9p/*" "$m/fs/9p/*" \
        "$m/fs/netfs/*" "$m/fs/fscache/*" "$m/fs/configfs/*" "$m/lib/*" "$m/crypto/*"
    dpkg-deb -x "$WORK"/debs/busybox-static_*.deb "$WORK/b"
    touch "$WORK/unpacked"
fi

# 3. The first root: busybox, the modules that reach the host's files, and one script; the modules of sound in order.
python3 "$HERE/first_root.py" "$WORK"

# 4. Boot, and run the checks as the machine's only program; it switches itself off.
cat >"$WORK/settings" <<SETTINGS
export PYTHON='$PYTHON' WORK='$WORK' CHECKS='$CHECKS' TESTS='$(dirname "$(dirname "$HERE")")'
SETTINGS
exec timeout "$LIMIT_S" nice qemu-system-x86_64 -accel tcg,thread=multi -cpu max -smp 2 -m 1536 -nodefaults \
    -no-user-config -display none -monitor none -no-reboot -serial stdio \
    -kernel "$WORK"/k/boot/vmlinuz-* -initrd "$WORK/first-root.cpio" \
    -append "console=ttyS0 quiet panic=-1 mitigations=off nokaslr audit=0 raid=noautodetect tsc=reliable" \
    -fsdev local,id=host,path=/,security_model=none,readonly=on,multidevs=remap \
    -device virtio-9p-pci,fsdev=host,mount_tag=host -device virtio-rng-pci </dev/null
