"""A key with its reason, or asked for: "Moth in F tonight, Carys has a cold", "can we do Moth in F?"."""

import re
from collections.abc import Callable
from typing import Final

_WHY: Final = re.compile(  # in F tonight sorry, Carys again; F tonight (Carys)
    r"(?P<says>^.{1,80}\b(?:tonight|now|instead|please|this time))"
    r"(?P<why>(?:,|\s+[(–-]|\s+(?:sorry|as|because|since|cos|cause|so)\b).{1,80})$",
    re.IGNORECASE,
)
_A_KEY: Final = re.compile(r"(?<!\w)[A-G](?:[b#♭♯]|m|\b)|[\ue000\ue001]")  # or another song of the show
_POLITE: Final = re.compile(r"^[\s,]*(?:sorry|please|pls|thanks)\b", re.IGNORECASE)
_REQUEST: Final = re.compile(
    r"^\W*(?:and |so )?(?:can|could) (?:we|you) (?:please )?(?:do|play|take|have|try|put)\b", re.IGNORECASE
)


def with_reason_apart(clause: str, is_key: Callable[[str], bool]) -> tuple[str, ...]:
    """Part the reason from the key that it gives for tonight; one that names a key or a song is left where it is.

    ``is_key``: whether words say only a song's key.
    """
    found = _WHY.search(clause)
    if found is None or _A_KEY.search(found["why"]) or not is_key(found["says"].strip()):
        return (clause,)
    why = _POLITE.sub("", found["why"]).strip(" ,()–-")
    return (found["says"], why) if why else (found["says"],)


def key_requested(sentence: str, clause: str) -> str:
    """Return what a clause of a sentence such as "can we do Moth in F?" asks for; "" for any other sentence."""
    return _REQUEST.sub("", clause).strip(" ?") if _REQUEST.match(sentence) else ""
