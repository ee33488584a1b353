"""What an answer of the leader says, in a musician's words: the same at the terminal and on the page."""

from typing import Final

SEVERAL: Final = ("all", "both")
NAMES: Final = {"chart": ("no chart", "there is a chart"), "tacet": ("you play it", "you do not play it")}
FIELD_NAMES: Final = {"starts_with": "who starts", "recording": "which recording", "record_key": "key of the record"}


def answer_words(field: str, value: object) -> str:
    """Return a value of a show's field in words.

    >>> answer_words("key", "Bb"), answer_words("starts_with", "keys"), answer_words("starts_with", "piano")
    ('key Bb', 'the keys start', 'piano starts')
    >>> answer_words("dropped", True), answer_words("chart", "False"), answer_words("notes", "Bb on the record")
    ('not played', 'no chart', 'note: Bb on the record')
    """
    said = str(value)
    if field == "dropped":
        return "not played"
    if field in NAMES:
        no, yes = NAMES[field]
        return {"False": no, "True": yes}.get(said, f"{field} {said}")
    if field == "starts_with":
        return f"{'the keys' if said == 'keys' else said} {_start(said)}"
    if field in ("notes", "recording"):
        return f"{'note' if field == 'notes' else field}: {said}"
    return f"{FIELD_NAMES[field] if field == 'record_key' else field} {said}"


def difference_words(field: str, before: str, value: object) -> str:
    """Return what the show says and what the leader says instead.

    >>> difference_words("key", "D", "E")
    'the show says key D, the leader says E'
    >>> difference_words("starts_with", "piano", "keys")
    'the show says piano starts, the leader says the keys start'
    """
    now = answer_words(field, value)
    return f"the show says {answer_words(field, before)}, the leader says {now.removeprefix(f'{field} ')}"


def _start(player: str) -> str:
    is_several = player in SEVERAL or " and " in player or (player.endswith("s") and not player.endswith("ss"))
    return "start" if is_several else "starts"
