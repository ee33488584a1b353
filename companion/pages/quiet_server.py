"""The server, which sleeps until something comes: while no tab is visible it takes no processor time."""

import asyncio
from socket import socket
from types import FrameType

import uvicorn
from starlette.types import ASGIApp

from companion.stopping import Stopping


def served(application: ASGIApp, listening: socket, stopping: Stopping) -> None:
    """Serve an application on an open socket until a signal asks for the end."""
    config = uvicorn.Config(
        application,
        http="h11",
        loop="asyncio",
        ws="none",
        lifespan="off",
        access_log=False,
        log_config=None,
        server_header=False,
        date_header=False,  # the gate writes it
        timeout_graceful_shutdown=1,
        h11_max_incomplete_event_size=16 * 1024,
    )
    server = QuietServer(config, stopping)
    stopping.on_stop(lambda _: server.end())
    server.run(sockets=[listening])


class QuietServer(uvicorn.Server):
    """A server that waits for its end; uvicorn's own looks ten times a second whether it has come."""

    _woken: asyncio.Event | None = None
    _loop: asyncio.AbstractEventLoop | None = None

    def __init__(self, config: uvicorn.Config, stopping: Stopping) -> None:
        super().__init__(config)
        self._stopping = stopping

    async def main_loop(self) -> None:
        """Wait until a signal ends the program."""
        self._woken, self._loop = asyncio.Event(), asyncio.get_running_loop()
        while not await self.on_tick(0):
            await self._woken.wait()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Note the signal, end the lines that stay open, and wake the loop."""
        super().handle_exit(sig, frame)
        self._stopping.handle(sig)
        self.end()

    def end(self) -> None:
        """End cleanly. A signal's handler may call it: the loop sleeps on where a signal is only noted."""
        self.should_exit = True
        if self._woken is not None and self._loop is not None:
            self._loop.call_soon_threadsafe(self._woken.set)
