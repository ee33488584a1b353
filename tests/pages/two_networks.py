"""Run by a test in a network of its own (unshare): connect a second network and print who can reach the page.

A line of JSON: whether the page can be reached from its own computer and from the other network, and whether a port
that is open to all can be reached from there.
"""

import json
import socket
import subprocess
import sys
import time
from pathlib import Path

from pages.serving import Serving

HERE, THERE = "10.200.7.1", "10.200.7.2"  # RFC 1918; these networks have no other addresses
TRY = "import socket, sys; socket.create_connection((sys.argv[1], int(sys.argv[2])), 3).close()"


def main(home: Path) -> None:
    """Tie the two networks together, serve the page in the first, and try it from both."""
    other = subprocess.Popen(("unshare", "--net", "sleep", "120"))
    try:
        network = Path(f"/proc/{other.pid}/ns/net")
        while network.readlink() == Path("/proc/self/ns/net").readlink():
            time.sleep(0.01)
        inside = ("nsenter", f"--net={network}")
        run("ip", "link", "set", "lo", "up")
        run("ip", "link", "add", "near", "type", "veth", "peer", "name", "far", "netns", str(other.pid))
        run("ip", "address", "add", f"{HERE}/24", "dev", "near")
        run("ip", "link", "set", "near", "up")
        run(*inside, "ip", "address", "add", f"{THERE}/24", "dev", "far")
        run(*inside, "ip", "link", "set", "far", "up")
        serving = Serving(home, str(home / "mill.yaml"))
        with socket.create_server(("0.0.0.0", 0)) as open_to_all:  # noqa: S104  what the page must not be
            told = {
                "page from here": reaches((), "127.0.0.1", serving.port),
                "page from there": reaches(inside, HERE, serving.port),
                "open port from there": reaches(inside, HERE, open_to_all.getsockname()[1]),
            }
        serving.end()
        sys.stdout.write(json.dumps(told) + "\n")
    finally:
        other.kill()
        other.wait()


def run(*words: str) -> None:
    """Run a command that must succeed."""
    subprocess.run(words, check=True)


def reaches(inside: tuple[str, ...], host: str, port: int) -> bool:
    """Return whether a program in a network can connect to a port."""
    command = (*inside, sys.executable, "-c", TRY, host, str(port))
    return subprocess.run(command, stderr=subprocess.DEVNULL, check=False).returncode == 0


if __name__ == "__main__":
    main(Path(sys.argv[1]))
