"""Items of a line that correct what was so far: what the list says but is no more, songs that are not played now."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.phrase_lists import RECORDS
from companion.leader.reply_items import KeyFact, ReplyItem, Separator, is_filler
from companion.leader.reply_words import NUMBER, SIGN, WORD, ReplyWord, low, phrase_of, phrases, set_of
from companion.leader.said_keys import NOW
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import ASKED_FOR, COLOUR, CORRECT, EXCEPT, FILLER, HEDGE, NOT, TurnOfPhrase

_LISTED: Final = phrases(
    "on your list | on the list | in your list | in the list | on your sheet | in your message | "
    "on there | on the record | on the recording | on the link | on the original | on the demo"
)
_TIRED: Final = phrases("bored of | bored with | sick of | tired of | fed up of | fed up with")
_NO_MORE: Final = phrases("no more")


def corrected(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Return a line's items with those changed that say what is no longer so."""
    items = _out_behind_titles(words, _without_new_place(words, _without_who_joins(words, items)))
    items = _without_quoted_list(words, _without_listed_keys(words, _no_longer_played(words, items)))
    return _tempos(words, _asking_keys(words, _without_old_keys(words, items)))


def _without_who_joins(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Take a lone player behind "then" for nobody who starts, where another one does: clapping starts it, then you."""
    kept = list(items)
    for at, item in enumerate(items):
        fact = item.what
        if not (isinstance(fact, StatedFact) and fact.field == "starts_with" and fact.is_lone):
            continue
        if low(words, item.at - 1) in _THEN and _is_started(items[:at]):
            kept[at] = item._replace(what=TurnOfPhrase(FILLER, item.end))
    return kept


def _is_started(items: Sequence[ReplyItem]) -> bool:
    """Return whether a sentence so far says that something starts, without a player that is known."""
    for item in reversed(items):
        what = item.what
        if (isinstance(what, Separator) and what.is_strong) or isinstance(what, SongsMeant | KeyFact):
            return False
        if isinstance(what, TurnOfPhrase) and what.kind == ASKED_FOR and what.says == "starts_with":
            return True
    return False


_THEN: Final = folded_words(
    "then dann puis ensuite luego después poi dopo depois dan daarna sen sedan så derefter potem"
)


def _out_behind_titles(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read the "out" that ends "Moth and Tin Roof out" as songs that are not played."""
    kept = list(items)
    for at, item in enumerate(items[1:], start=1):
        title, after = items[at - 1], items[at + 1].what if at + 1 < len(items) else None
        is_titled = isinstance(title.what, SongsMeant) and bool(title.what.songs) and words[title.end - 1].kind == WORD
        is_end = at + 1 == len(items) or isinstance(after, Separator)
        if is_titled and is_end and item.end == item.at + 1 and low(words, item.at) in _OUT:
            before = _before_list(items, at - 1)
            if before is None or _is_turn(before, FILLER) or isinstance(before.what, Separator):
                kept[at] = item._replace(what=StatedFact("dropped", True, item.end))
            elif not isinstance(before.what, StatedFact | KeyFact):  # check Moth out; not: fade Moth out
                said = " ".join(word.text for word in words[before.at : item.end])
                kept[at] = item._replace(what=StatedFact("dropped", True, item.end, doubt=said))
    return kept


def _before_list(items: Sequence[ReplyItem], at: int) -> ReplyItem | None:
    """Return the item before a list of songs that ends here, or None at the start of the line."""
    while at >= 0 and (isinstance(what := items[at].what, SongsMeant) or (isinstance(what, Separator) and what.joins)):
        at -= 1
    return items[at] if at >= 0 else None


_OUT: Final = set_of("out oot fuera fuori weg raus eruit uit pryc")


def _without_new_place(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Take the place that a song moves to for no song itself: "Moth is now the opener with a drum intro"."""
    kept = list(items)
    song: int | None = None
    for at, item in enumerate(items):
        if isinstance(item.what, Separator):
            song = None
        elif isinstance(item.what, SongsMeant):
            is_place = low(words, item.at) in _PLACES and words[item.at].kind == WORD
            if song is not None and is_place and all(_is_turn(one, FILLER, CORRECT) for one in items[song + 1 : at]):
                for place in range(song + 1, at):
                    kept[place] = items[place]._replace(what=TurnOfPhrase(FILLER, items[place].end))
                kept[at] = item._replace(what=TurnOfPhrase(COLOUR, item.end))
            song = at if item.what.songs and not is_place else None
    return kept


_PLACES: Final = set_of("opener closer opening closing last")


def _without_old_keys(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "isn't in D any more, it's C", "was F, now G" and "from F to G" as a key that replaces another."""
    kept = list(items)
    for at, item in enumerate(items):
        old = item.what
        if not isinstance(old, KeyFact) or old.denied:
            continue
        if old.second:
            if low(words, item.at - 1) == "from" or (at and _is_turn(items[at - 1], CORRECT)):
                kept[at] = item._replace(what=KeyFact(old.second, firm=True, denied=old.key))
            continue
        markers = _markers_before(words, items, at)
        later = _key_after(words, items, at, is_past=not any(_is_turn(items[one], NOT) for one in markers))
        if not markers or later is None or not isinstance(new := items[later].what, KeyFact) or new.key == old.key:
            continue
        for place in markers:
            kept[place] = items[place]._replace(what=TurnOfPhrase(FILLER, items[place].end))
        for place in range(at, later):
            if not _is_turn(items[place], HEDGE):  # Kev thinks it's D these days
                kept[place] = kept[place]._replace(what=TurnOfPhrase(FILLER, items[place].end))
        kept[later] = items[later]._replace(what=new._replace(denied=old.key))
    return kept


_PAST: Final = folded_phrases(
    "was | were | used to be | used to be in | has been | had been | before | before in | previously | "
    "previously in | "
    "nicht mehr | nicht mehr in | niet meer | niet meer in | niet langer in | plus en | n'est plus en | ya no en | "
    "ya no es | ya no va en | ya no | non più in | non più | non è più in | já não é em | inte längre i | "
    "ikke længere i | ikke lenger i | "
    "już nie w | už ne v | antes | antes en | antes em | vorher | vorher in | früher | "
    "früher in | bisher | bisher in | avant | avant en | prima | prima in | förut | förut i | tidigare i | "
    "tidligere i | "
    "før i | eerst | eerst in | voorheen in | dříve v | wcześniej w | war | war in | était en | era | era en | era in"
)
_BUT: Final = folded_words("but sondern ma mais pero sino maar utan men ale lecz mas aber")
_ANEW: Final = (
    set_of("now its it's it is but were we're we'll are make in do these days thinks reckons says") | NOW | _BUT
)
_ANY_MORE: Final = phrases("any more | anymore | any longer | these days | no longer")


def _is_turn(item: ReplyItem, *kinds: str) -> bool:
    return isinstance(item.what, TurnOfPhrase) and item.what.kind in kinds


def _markers_before(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> list[int]:
    """Return the places of the words right before a key that say that it is not the key, or was."""
    found: list[int] = []
    for place in range(at - 1, -1, -1):
        item = items[place]
        begins = range(max(item.at - 3, 0), item.at + 1)
        if _is_turn(item, NOT) or any(one + phrase_of(words, one, _PAST) >= item.end for one in begins):
            found.append(place)
        elif not _is_turn(item, FILLER):
            break
    return found


def _key_after(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int, *, is_past: bool) -> int | None:
    """Return the place of the next key of a clause, where the words between say that it is the key now."""
    said: set[str] = set()
    for place in range(at + 1, len(items)):
        item = items[place]
        if isinstance(item.what, KeyFact):
            is_anew = bool(said & _ANEW) or (bool(said) and not is_past)
            follow = [one.what for one in items[place + 1 : place + 3]]
            is_of_other = (
                len(follow) > 1
                and low(words, items[place + 1].at) in ("for", "on")
                and isinstance(follow[1], SongsMeant)
            )
            return place if is_anew and not (item.what.then or is_of_other) else None
        is_weak = isinstance(item.what, Separator) and not (item.what.is_strong or low(words, item.at) in ("and", "&"))
        is_old = phrase_of(words, item.at, _ANY_MORE) > 0 or low(words, item.at - 1) == "any"
        follows = items[place + 1].what if place + 1 < len(items) else None
        is_off = is_past and _is_turn(item, NOT) and isinstance(follows, Separator)  # was in F, it is not, it is in G
        is_new = low(words, item.at) in NOW | _BUT
        if not (is_weak or is_old or is_off or is_new or _is_turn(item, FILLER, CORRECT, EXCEPT, HEDGE)):
            return None
        said |= {low(words, one) for one in range(item.at, item.end)}
    return None


def _asking_keys(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read the "keys" of "here are your keys 1 C 2 F" as what the numbers are about, and not as who starts."""
    kept = list(items)
    for at, item in enumerate(items[:-2]):
        is_keys = isinstance(item.what, StatedFact) and item.end == item.at + 1 and low(words, item.at) == "keys"
        if not is_keys:
            continue
        follow = [one.what for one in items[at + 1 :] if not is_filler(one)][:2]
        is_list = len(follow) == 2 and isinstance(follow[0], SongsMeant) and isinstance(follow[1], KeyFact)
        is_headed = low(words, item.at + 1) == ":"  # keys: 1 A 2 D
        if is_list and (is_headed or low(words, item.at - 1) in ("your", "ur", "the", "our", "are")):
            kept[at] = item._replace(what=TurnOfPhrase(ASKED_FOR, item.end, "key"))
    return kept


def _tempos(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read a number that is no song's, after a song or its key, as a tempo, with a doubt: "Moth: 112", "1 F 104"."""
    kept: list[ReplyItem] = []
    for at, item in enumerate(items):
        kept.append(item)
        number = words[item.at]
        if number.text == "." and len(kept) > 1 and _may_be_tempo(kept[-2]):
            kept[-1] = item._replace(what=Separator(is_strong=True))  # the point behind it counts nothing
        may_be = isinstance(item.what, SongsMeant) and bool(item.what.no_song) and item.end == item.at + 1
        if not may_be or number.kind != NUMBER or number.is_ordinal or int(number.text) not in TEMPOS:
            continue
        if _ends_behind_key(words, items, at):  # Moth D, 112. Gulls G, 96
            kept[-1] = item._replace(what=StatedFact("tempo", number.text, item.end, firm=False, doubt=MAY_BE_TEMPO))
            kept[-2] = kept[-2]._replace(what=Separator(is_strong=False, joins=True))
            continue
        before = next((one.what for one in reversed(items[:at]) if not is_filler(one)), None)
        follow = [one.what for one in items[at + 1 :] if not is_filler(one)]
        is_title = isinstance(before, SongsMeant) and (
            words[item.at - 1].kind == WORD or low(words, item.at - 1) == ")"
        )
        parts = at + 1 == len(items) or isinstance(items[at + 1].what, Separator)
        if is_title and parts and isinstance(before, SongsMeant) and before.songs:  # Moth 96, Gulls 140
            kept[-1] = item._replace(what=StatedFact("tempo", number.text, item.end, firm=False, doubt=MAY_BE_TEMPO))
            continue
        if isinstance(before, SongsMeant):  # 1 99 and 2 are in G
            follow = [one for one in follow if not (isinstance(one, Separator) and one.joins)]
        after = follow[0] if follow else None
        is_told = _says_tempo(items[:at]) and low(words, item.at - 1) in _IS
        if is_told and isinstance(before, SongsMeant) and len(before.songs) == 1:  # 1 is 124 bpm, 2 is 96
            kept[-1] = item._replace(what=StatedFact("tempo", number.text, item.end))
            continue
        is_of_song = isinstance(before, KeyFact) or (isinstance(before, SongsMeant) and len(before.songs) == 1)
        if is_of_song and not isinstance(after, SongsMeant):
            kept[-1] = item._replace(what=StatedFact("tempo", number.text, item.end, firm=False, doubt=MAY_BE_TEMPO))
    return kept


def _may_be_tempo(item: ReplyItem) -> bool:
    return isinstance(item.what, StatedFact) and item.what.doubt == MAY_BE_TEMPO


def _ends_behind_key(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> bool:
    """Return whether a number is all that stands between the comma behind a song's key and the next song."""
    is_behind = at > 2 and isinstance(items[at - 1].what, Separator) and isinstance(items[at - 2].what, KeyFact)
    is_behind = is_behind and isinstance(items[at - 3].what, SongsMeant) and int(words[items[at].at].text) > _COUNTED
    after = items[at + 1 : at + 3]
    is_last = bool(after) and (isinstance(after[0].what, Separator) or words[after[0].at].text == ".")
    is_last = is_last and (len(after) == 1 or isinstance(after[1].what, SongsMeant))
    return is_behind and is_last


_COUNTED: Final = 60  # a lower number may count a song that the show has lost
_IS: Final = ("is", ":", "=", "at", "@", "-", "about")


def _says_tempo(items: Sequence[ReplyItem]) -> bool:
    return any(isinstance(one.what, StatedFact) and one.what.field == "tempo" and one.what.firm for one in items)


TEMPOS: Final = range(50, 221)  # beats per minute of popular songs (common practice, no source)


def may_be_tempo(item: ReplyItem) -> bool:
    """Return whether an item is only the number of no song, which may be a tempo."""
    what = item.what
    number = what.no_song.rpartition(" ")[2] if isinstance(what, SongsMeant) and not what.songs else ""
    is_one = item.end == item.at + 1 or (isinstance(what, SongsMeant) and what.is_word)  # a hundred and ten
    return is_one and number.isdecimal() and int(number) in TEMPOS


MAY_BE_TEMPO: Final = "that number may be a tempo"


def _without_listed_keys(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "is E on your list but it's Eb now" as a key that replaces another."""
    kept = list(items)
    for at, item in enumerate(items):
        listed = item.what
        if not isinstance(listed, KeyFact) or not (phrase_of(words, item.end, _LISTED) or _on_record(words, item.end)):
            continue
        for later in range(at + 1, len(items)):
            what = items[later].what
            if isinstance(what, SongsMeant) or (isinstance(what, Separator) and what.is_strong):
                break
            if isinstance(what, KeyFact):
                is_but = any(low(words, one.at) in _BUT for one in items[at:later])
                if is_but or any(isinstance(one.what, TurnOfPhrase) and one.what.kind == CORRECT for one in items[at:]):
                    for place in (at, *(one for one in range(at, later) if isinstance(items[one].what, Separator))):
                        kept[place] = items[place]._replace(what=TurnOfPhrase(FILLER, items[place].end))
                    kept[later] = items[later]._replace(what=what._replace(denied=listed.key))
                break
    return kept


_ON: Final = folded_words("on sur dans auf en sul sull nel nell no na op på w")
_THE: Final = folded_words("the le la l der dem die el il lo o a de het den det")


def _on_record(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether words say that a key is that of the record: sur le disque, auf der Platte."""
    begins = at + 1 + (low(words, at + 1) in _THE)
    return low(words, at) in _ON and phrase_of(words, begins, RECORDS) > 0


_LIST_SAYS: Final = phrases(
    "your list says | the list says | your message says | you have | youve got | you had | you wrote | you put | it "
    "says | your sheet says | you say | you said"
)


def _without_quoted_list(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "your list says Moth in Bm but it's Am" as a key that replaces another."""
    kept = list(items)
    for at, item in enumerate(items):
        many = phrase_of(words, item.at, _LIST_SAYS)
        if not many:
            continue
        keys = []
        for later in range(at, len(items)):
            what = items[later].what
            if isinstance(what, Separator) and what.is_strong:
                break
            if isinstance(what, KeyFact):
                keys.append(later)
        between = {low(words, one) for one in range(items[keys[0]].end, items[keys[1]].at)} if len(keys) == 2 else set()
        if not between & {"but", "its", "it's", "it", "is", "should", "now", "actually"}:
            continue
        old, new = items[keys[0]].what, items[keys[1]].what
        if isinstance(old, KeyFact) and isinstance(new, KeyFact) and not (old.then or new.then):
            for place in (
                *(one for one in range(at, keys[0]) if items[one].at < item.at + many),
                *range(keys[0], keys[1]),
            ):
                kept[place] = items[place]._replace(what=TurnOfPhrase(FILLER, items[place].end))
            kept[keys[1]] = items[keys[1]]._replace(what=new._replace(denied=old.key))
    return kept


def _without_no_titles(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "no Moth tonight" and, with a doubt, "no Moth" alone as a song that is not played."""
    kept = list(items)
    for at, item in enumerate(items[:-1]):
        title, after = items[at + 1], items[at + 2] if at + 2 < len(items) else None
        is_no = (
            low(words, item.at) in ("no", "not", "minus", "without")
            and item.end == item.at + 1
            and _begins(words, item.at)
        )
        if not is_no or not isinstance(title.what, SongsMeant) or not title.what.songs or words[title.at].kind != WORD:
            continue
        is_tonight = low(words, title.end) in _TONIGHT
        if not is_tonight and not (after is None or isinstance(after.what, Separator)):
            continue
        said = " ".join(word.text for word in words[item.at : title.end])
        kept[at] = item._replace(what=StatedFact("dropped", True, item.end, doubt="" if is_tonight else said))
        for place in range(at + 2, len(items)):
            if isinstance(items[place].what, Separator) or not is_tonight:
                break
            kept[place] = items[place]._replace(what=TurnOfPhrase(FILLER, items[place].end))
    return kept


_TONIGHT: Final = set_of("this tonight today tomorrow anymore now either for")


def _begins(words: Sequence[ReplyWord], at: int) -> bool:
    return at == 0 or words[at - 1].kind == SIGN or low(words, at - 1) in ("and", "but", "so", "also")


def _no_longer_played(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "no more Moth" and, with a doubt, "we're bored of Moth" as a song that is dropped."""
    kept: list[ReplyItem] = []
    skip = 0
    items = _without_no_titles(words, items)
    for item in items:
        if item.at < skip:
            continue
        more, tired = phrase_of(words, item.at, _NO_MORE), phrase_of(words, item.at, _TIRED)
        end = item.at + (more or tired)
        song = next((one.what for one in items if one.at == end), None) if more or tired else None
        if isinstance(song, SongsMeant) and song.songs and not song.is_word:
            said = " ".join(word.text for word in words[item.at : song.end])
            kept.append(ReplyItem(item.at, end, StatedFact("dropped", True, end, doubt="" if more else said)))
            skip = end
        else:
            kept.append(item)
    return kept
