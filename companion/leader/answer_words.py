"""What an answer of the leader says, in a musician's words: the same at the terminal and on the page."""

from typing import Final

SEVERAL: Final = ("all", "both")
NAMES: Final = {"chart": ("no chart", "there is a chart"), "tacet": ("you play it", "you do not play it")}
ENDS: Final = "end"
ENDINGS: Final = {
    "cold": "cold ending",
    "fade": "fade-out",
    "ritard": "ritard at the end",
    "vamp-out": "vamp-out at the end",
    "tag": "tag at the end",
}
YES_OR_NO: Final = ("dropped", *NAMES)
FIELD_NAMES: Final = {"starts_with": "who starts", "recording": "which recording", "record_key": "key of the record"}


def answer_words(field: str, value: object) -> str:
    """Return a value of a show's field in words.

    >>> answer_words("key", "Bb"), answer_words("starts_with", "keys"), answer_words("starts_with", "piano")
    ('key Bb', 'the keys start', 'piano starts')
    >>> answer_words("ending", "ritard"), answer_words("starts_with", "keys, four bars")
    ('ritard at the end', 'the keys start, four bars')
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
        player, how = starter(said)
        return f"{'the keys' if player == 'keys' else player} {_start(player)}{how}"
    if field == "ending":
        return ending_words(said)
    if field in ("starts", "minutes"):
        return f"starts at {said}" if field == "starts" else f"{said} minutes"
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


def starter(said: str) -> tuple[str, str]:
    """Return who starts, and how, with its comma.

    >>> starter("keys, four bars"), starter("drums, bass and keys")
    (('keys', ', four bars'), ('drums, bass and keys', ''))
    """
    player, comma, how = said.partition(", ")
    return (said, "") if " and " in how else (player, comma + how)


def ending_words(said: str) -> str:
    """Return how a song ends: cold ending, or the leader's own words."""
    own = said if ENDS in said.casefold() else f"ending: {said}"
    return ENDINGS.get(said, own)


def value_words(field: str, value: str) -> str:
    """Return a value alone, for a line that names the field before it; a yes or no is in words."""
    return answer_words(field, value) if field in YES_OR_NO else value


def _start(player: str) -> str:
    is_several = player in SEVERAL or " and " in player or (player.endswith("s") and not player.endswith("ss"))
    return "start" if is_several else "starts"
