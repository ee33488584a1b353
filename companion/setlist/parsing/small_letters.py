"""Whether a small letter alone means a minor key, in a list that names its keys in German: g, es, fis."""

import re
from collections.abc import Sequence
from typing import Final

from companion.music import Key, Mode
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection
from companion.setlist.parsing.doubts import YES
from companion.setlist.parsing.song_draft import Draft

_MODE: Final = r"(?:mol|min|men|mi\b|dur|maj|mag|may|groot|klein|m\b)"  # moll, mineur, menor, maggiore; Dutch klein
_ALONE: Final = re.compile(rf"(?<![\w#'’-])[a-h](?:iss?|ess?|s)?(?![\w#♭♯'’.]|[\s-]?{_MODE})")
_WITH_M: Final = re.compile(r"(?<![\w#'’-])[A-Ha-h](?:iss?|ess?|s|#|b)?m(?![\w#♭♯'’])")
MOST_SMALL: Final = 0.4  # share of the keys; more small letters are only how the list is typed
_MINOR: Final = re.compile(
    r"(?<![\w#'’-])[A-Ha-h](?:iss?|ess?|s|#|b)?(?:m(?![\w#♭♯'’])|[\s-]?(?i:mol|min|men|klein|mi\b))"
)


def settle_small_letters(drafts: Sequence[Draft]) -> None:
    """Read small letters alone as the list means them; where it does not tell, as major keys, in doubt.

    Minor, if other keys are large letters and none has an m: C, Es, a. Major, if minor keys are small letters with an
    m: c, es, am.
    """
    small = [draft for draft in drafts if draft.key and draft.key.mode is Mode.MINOR and _is_alone(draft)]
    others = [draft for draft in drafts if draft.key and draft not in small]
    are_large = any(draft.key and draft.key.mode is Mode.MAJOR for draft in others)
    with_m = [found[0] for draft in others if (found := _WITH_M.search(_behind(draft)))]
    if not small or (are_large and not with_m):
        return
    is_sure = not are_large and any(map(str.islower, with_m))
    for draft in small:
        minor = draft.key
        assert minor  # noqa: S101  chosen above
        draft.key = _major(minor)
        if not is_sure:
            draft.doubts.append(_major_or_minor(draft, minor))


def doubt_small_letters(drafts: Sequence[Draft]) -> None:
    """Doubt a small letter read as a major key in a list of English letters whose other keys are large, none minor."""
    keyed = [draft for draft in drafts if draft.key]
    small = [draft for draft in keyed if _is_small(draft)]
    is_settled = any(draft.key and draft.key.mode is not Mode.MAJOR for draft in keyed)
    if is_settled or not small or len(small) > MOST_SMALL * len(keyed):
        return
    for draft in small:
        assert draft.key  # noqa: S101  chosen above
        if not draft.doubts:
            draft.doubts.append(_major_or_minor(draft, draft.key.in_mode(Mode.MINOR)))


def _is_alone(draft: Draft) -> bool:
    """Return whether the line holds a small letter, and nothing that says minor in more than a letter."""
    text = _behind(draft)
    return bool(_ALONE.search(text)) and not _MINOR.search(text)


def _behind(draft: Draft) -> str:
    """Return the line without its title."""
    return draft.text.replace(draft.title, "", 1)


def _is_small(draft: Draft) -> bool:
    """Return whether the key stands apart as a small letter, and nowhere as a large one."""
    if not draft.key or draft.key.mode is not Mode.MAJOR or len(str(draft.key)) > 1:
        return False
    letter = str(draft.key)
    is_large = re.search(rf"(?<![\w#]){letter}(?![\w#♭♯'’])", _behind(draft))
    return not is_large and bool(re.search(rf"[\s(\[|/:,;-]{letter.lower()}(?=$|\s*[)\],;|/]|\s[-–—(])", draft.text))


def _major(key: Key) -> Key:
    return key.in_mode(Mode.MAJOR)


def _major_or_minor(draft: Draft, minor: Key) -> Doubt:
    key = (FieldCorrection("key", str(minor)),)
    return Doubt(
        f"a small letter read as {draft.key}: it may mean {minor}",
        f"Is {draft.title!r} in {draft.key}?",
        (YES, DoubtAnswer("no", key), DoubtAnswer("minor", key)),
        asks_for="key",
    )
