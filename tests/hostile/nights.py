"""Journals of nights that were played, as the program writes them."""

import random
from pathlib import Path

from hostile.reader import RIG, SHOW

from companion.night import memory as memory_room
from companion.night.entries import Entry, entry_line
from companion.night.memory import StartOptions, memory_of
from companion.night.preflight import make_ready
from companion.ports import journals_on, shelf_of
from companion.stage import Again, Back, Drop, Next, PutIn, Skip, Swap, TakeBack, landmark, step

SEED = 11


def journals(folder: Path) -> list[tuple[str, bytes]]:
    chance, out = random.Random(SEED), list[tuple[str, bytes]]()  # noqa: S311 - the same every time is what is wanted
    book = make_ready(SHOW, RIG).book
    for number in range(3):
        home = folder / str(number)
        vars(memory_room)["data_path"] = lambda home=home: home
        with memory_of(SHOW, book, StartOptions(), lambda _: None) as memory:
            state = memory.resumed.state
            for at in range(40):
                kind = chance.choice((Next, Next, Next, Again, Back, Skip, TakeBack, Drop, Swap))
                event = PutIn(1000 * at, state.book.songs[3].song) if at == 20 else kind(1000 * at)
                state, _ = step(state, event)
                memory.write(entry_line(Entry(event, landmark(state))))
        (path,) = journals_on(shelf_of(SHOW, home))
        out.append((path.name, path.read_bytes()))
    return out
