"""The JACK server's health and ports. RtMidi cannot report them, so JACK's own library is called (Linux).

Found by experiment (python-rtmidi 1.5.8, JACK 1.9.21): after the server dies, RtMidi's clients still list its ports and
accept messages. Once the 16 KiB send buffer of a client is full, the next send spins for ever with the interpreter's
lock held; closing such a client crashes with a segmentation fault. So the server's health is checked before every call,
and the clients of a dead server are never touched again.
"""

import ctypes
import errno
import itertools
import threading
import time
from collections.abc import Callable
from typing import Any, Final

from companion.ports.arrivals import Direction
from companion.ports.outside import Health
from companion.ports.show_clock import NS_PER_MS

NO_START_SERVER: Final = 1  # jack/types.h, JackNoStartServer
_MIDI: Final = b"8 bit raw midi"  # jack/midiport.h, JACK_DEFAULT_MIDI_TYPE
_TAKES, _GIVES = 1, 2  # jack/types.h, JackPortIsInput and JackPortIsOutput
_SEMAPHORE_BYTES: Final = 128  # sem_t is 32 bytes with glibc on 64 bits; more than any C library needs
_LONGEST_PERIOD_NS: Final = 300 * NS_PER_MS  # 8192 frames at 44,100 a second last 186 ms


class JackServer:
    """One silent client of the server, without ports or an audio callback; it only watches."""

    def __init__(self, extension: str) -> None:
        """``extension`` is the path of RtMidi's extension module: the same copy of JACK's library must be used.

        Raises OSError or AttributeError if that file has no JACK.
        """
        # The first releases the interpreter's lock during calls: nearly all calls may wait for the server, which may
        # wait for our callback thread, which waits for the lock. The second keeps the lock: its call, which any thread
        # may make, is short.
        free, held = ctypes.CDLL(extension), ctypes.PyDLL(extension)
        self._c = ctypes.CDLL(None)
        pointer = ctypes.c_void_p
        self._open: Callable[..., int | None] = free.jack_client_open
        _shape(self._open, pointer, ctypes.c_char_p, ctypes.c_int, pointer)
        self._frame: Callable[[int], int] = held.jack_last_frame_time
        _shape(self._frame, ctypes.c_uint32, pointer)
        self._period: Callable[[int], int] = free.jack_get_buffer_size
        _shape(self._period, ctypes.c_uint32, pointer)
        self._on_shutdown: Callable[..., None] = free.jack_on_shutdown
        _shape(self._on_shutdown, None, pointer, pointer, pointer)
        self._close: Callable[[int], int] = free.jack_client_close
        _shape(self._close, ctypes.c_int, pointer)
        # JACK prints its errors on the terminal; a C function that only reads the text silences it. It must not be
        # a Python function: JACK calls it from threads that the interpreter may be waiting for.
        for says in (free.jack_set_error_function, free.jack_set_info_function):
            _shape(says, None, pointer)
            says(ctypes.cast(self._c.strlen, pointer))
        self._client: int | None = None
        self._swapping = threading.Lock()  # held for a call that any thread may make, and while the client is replaced
        self._closed = ctypes.create_string_buffer(_SEMAPHORE_BYTES)
        self._left: list[object] = []  # JACK may still write into these
        self._list: Callable[..., Any] = free.jack_get_ports
        _shape(self._list, ctypes.POINTER(ctypes.c_char_p), pointer, ctypes.c_char_p, ctypes.c_char_p, ctypes.c_ulong)
        self._free: Callable[[Any], None] = free.jack_free
        _shape(self._free, None, pointer)
        self._port: Callable[[int, bytes], int | None] = free.jack_port_by_name
        _shape(self._port, pointer, pointer, ctypes.c_char_p)
        self._connections: Callable[..., Any] = free.jack_port_get_all_connections
        _shape(self._connections, ctypes.POINTER(ctypes.c_char_p), pointer, pointer)
        self._join: Callable[..., int] = free.jack_connect
        _shape(self._join, ctypes.c_int, pointer, ctypes.c_char_p, ctypes.c_char_p)
        self._part: Callable[..., int] = free.jack_disconnect
        _shape(self._part, ctypes.c_int, pointer, ctypes.c_char_p, ctypes.c_char_p)
        self._last_frames = 0
        self._looked_ns = 0
        self._health = Health.GONE
        self.period_frames = 0

    def find(self, name: str) -> bool:
        """Look for a server. Release everything opened on an earlier one first; it counts as dead from now on."""
        self.forget()
        client = self._open(name.encode(), NO_START_SERVER, None)
        if client:
            self._watch_with(client)
        return bool(client)

    def move_last(self, name: str) -> None:
        """Move our silent client behind all clients opened since.

        Without real time a server removes a killed program's clients one by one, oldest first, and waits half a second
        after each one opened before a client with a thread: this client would delay a restart by up to a second.
        """
        before, client = self._client, self._open(name.encode(), NO_START_SERVER, None)
        if before is not None and client:
            self._left.append(self._closed)
            self._watch_with(client)
            self._close(before)

    def _watch_with(self, client: int) -> None:
        self._closed = ctypes.create_string_buffer(_SEMAPHORE_BYTES)
        self._c.sem_init(self._closed, 0, 0)
        # The callback at the server's end is pure C, for the reason above.
        post = ctypes.cast(self._c.sem_post, ctypes.c_void_p)
        self._on_shutdown(client, post, ctypes.cast(self._closed, ctypes.c_void_p))
        self._take(client)
        self.period_frames = self._period(client)
        self._last_frames, self._looked_ns, self._health = self.frames(), time.monotonic_ns(), Health.WELL

    def _take(self, client: int | None) -> int | None:
        """Replace our client; return the one before, which no thread uses any more."""
        with self._swapping:
            before, self._client = self._client, client
        return before

    def forget(self) -> None:
        """Abandon the client of a dead server: closing it would crash the process."""
        self._client = None
        self._left.append(self._closed)

    def frames(self) -> int:
        """Frames since the server began, as of its last period; constant while the server is stopped."""
        with self._swapping:
            return self._last_frames if self._client is None else self._frame(self._client)

    def health(self) -> Health:
        """Return the server's health, cached for one longest period unless the server has ended."""
        if self._client is None or self._c.sem_trywait(self._closed) == 0:
            self._client, self._health = None, Health.GONE
        # This clock stops during sleep, as the server does: a server that has just been woken is not stalled.
        elif (now := time.monotonic_ns()) - self._looked_ns > _LONGEST_PERIOD_NS:
            frames = self.frames()
            self._health = Health.WELL if frames != self._last_frames else Health.STALLED
            self._last_frames, self._looked_ns = frames, now
        return self._health

    def listed(self, direction: Direction) -> tuple[str, ...]:
        """Return the full names of its MIDI ports: sources for input, destinations for output."""
        if self._client is None:
            return ()
        found = self._list(self._client, None, _MIDI, _GIVES if direction is Direction.IN else _TAKES)
        return self._names(found)

    def connect(self, giver: str, taker: str) -> bool:
        """Connect two ports of any clients; return True also if they are connected already."""
        if self._client is None:
            return False
        return self._join(self._client, giver.encode(), taker.encode()) in (0, errno.EEXIST)

    def disconnect(self, giver: str, taker: str) -> None:
        """Disconnect two ports."""
        if self._client is not None:
            self._part(self._client, giver.encode(), taker.encode())

    def connected(self, one: str, other: str) -> bool:
        """Return whether two ports are connected. A port that returned under its old name is not."""
        if self._client is None or not (port := self._port(self._client, one.encode())):
            return False
        return other in self._names(self._connections(self._client, port))

    def leave(self) -> None:
        """Close our client on a healthy server."""
        client = self._take(None)
        if client is not None:
            self._close(client)

    def _names(self, found: Any) -> tuple[str, ...]:  # noqa: ANN401 - a C array of strings, NULL at its end
        if not found:
            return ()
        names = tuple(name.decode(errors="replace") for name in itertools.takewhile(bool, found))
        self._free(ctypes.cast(found, ctypes.c_void_p))
        return names


def _shape(function: Any, result: Any, *arguments: Any) -> None:  # noqa: ANN401 - ctypes has no better name for them
    function.restype = result
    function.argtypes = arguments
