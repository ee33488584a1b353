"""The message to the leader on the page: what is not known yet, as ``companion questions`` asks it, to be copied."""

import datetime as dt
from pathlib import Path
from typing import Final

from companion.errors import CompanionError
from companion.leader.asking import less_urgent, message_for
from companion.pages.markup import Html, tag

COPIED: Final = "Copied. When the reply comes, paste it under 'A newer set list'"
MAX_ROWS: Final = 16


def questions_html(show: Path) -> Html:
    """Return the message as it would be now; nothing is kept of it until it is copied."""
    try:
        message = message_for(show, _now(), is_sent=False)
    except CompanionError as error:
        return tag("div", tag("p", str(error), class_="slip"), id="asks")
    beside = [tag("li", str(one)) for one in message.open]
    if not message.message.now:
        asks = tag("p", "Nothing needs to be asked.")
    else:
        text = str(message.message)
        asks = tag(
            "div",
            tag(
                "p",
                tag(
                    "textarea",
                    text,
                    id="asks-text",
                    readonly=True,
                    rows=min(text.count("\n") + 1, MAX_ROWS),
                    aria_label="Message to the leader",
                ),
                class_="field",
            ),
            tag("p", tag("button", "Copy it", type="button", data_copy="asks-text"), class_="buttons"),
        )
    return tag(
        "div",
        asks,
        tag("p", less_urgent(message.message)) if message.message.later else None,
        tag("p", "Still open from replies:") if beside else None,
        tag("ul", *beside) if beside else None,
        id="asks",
    )


def copied(show: Path) -> str:
    """Keep the message's numbers, by which the reply is read; return what to say. Raises CompanionError."""
    unkept = message_for(show, _now()).unkept
    return f"Copied, but the message's numbers are not kept: {unkept}" if unkept else COPIED


def _now() -> dt.datetime:
    return dt.datetime.now().astimezone()
