"""A sitting that rates songs: each answer is in the show file before the next question."""

from collections.abc import Callable, Iterable

from companion.edits import Edit, SetValue, names_in, open_text, save, take_back, undo_of
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.planning.rating import DIGITS, RATE_KEYS, RateAnswer, RatePress, Rating, value_of
from companion.practice_log.logged import Path_
from companion.show import Song, read_show
from companion.show.show_file import show_in
from companion.show.titles import folded


class RatingChanged(CompanionError):  # noqa: N818  reads better than an Error
    """Another program changed this value since it was shown; ``song`` is the song as it is in the file now."""

    def __init__(self, song: Song, answer: RateAnswer) -> None:
        self.song = song
        now = value_of(song, answer.rates)
        super().__init__(f"{answer.rates.value} of {answer.title} is {'empty' if now is None else now} in the file now")


def write_rating(show_path: Path_, answer: RateAnswer) -> None:
    """Write an answer for every place where the show plays the song.

    Raises RatingChanged if the file does not say ``answer.before``, CompanionError if the song is gone.
    """
    file = open_text(show_path)
    path, text = str(file.path), file.text or ""
    show = show_in(SourceFile(path, text)).show
    edits: list[Edit] = []
    for one, names in zip(show.sets, names_in(text, path), strict=True):
        for song, name in zip(one.songs, names, strict=True):
            if folded(song.title) != folded(answer.title) or song.tacet:
                continue
            if not edits and value_of(song, answer.rates) != answer.before:
                raise RatingChanged(song, answer)
            edits.append(SetValue((name, answer.rates.value), answer.value))
    if not edits:
        raise CompanionError(f'the song "{answer.title}" is gone from {path}')
    save(file, edits, says_of(answer), check=lambda after: show_in(SourceFile(path, after)))


def says_of(answer: RateAnswer) -> str:
    """Return the name of the change in the undo list."""
    return f"{answer.rates.value} of {answer.title}"


def told(answer: RateAnswer) -> str:
    """Return what an answer wrote, and what it replaced: Moth: sound organ, was piano."""
    was = "" if answer.before in (None, answer.value) else f", was {answer.before}"
    return f"{answer.title}: {answer.rates.value} {answer.value}{was}"


def undo_rating(show_path: Path_, answer: RateAnswer) -> None:
    """Take the last answer back. Raises CompanionError if it is not the file's last change by this program."""
    found = undo_of(open_text(show_path).path)
    if found is None or found.says != says_of(answer):
        raise CompanionError(f"{says_of(answer)} was changed since then; it stays")
    take_back(found)


def sit_rating(
    show_path: Path_, rating: Rating, keys: Iterable[str], draw: Callable[[Rating, str], None]
) -> tuple[Rating, int]:
    """Rate until the songs or the keys end, or the player stops; return the sitting and how many answers were written.

    ``draw`` shows the step that is asked and a message. Answers are written one by one; one that cannot be written is
    reported and asked again.
    """
    written: list[RateAnswer] = []
    count, says = 0, ""
    draw(rating, says)
    for key in keys:
        says = ""
        press = RATE_KEYS.get(key)
        answer = rating.answer_to(key)
        try:
            if press is RatePress.STOP:
                break
            if press is RatePress.UNDO and rating.done:
                undo_rating(show_path, written[-1])
                rating = rating.pressed(press).reread(read_show(show_path).show)
                says = f"taken back: {says_of(written.pop())}"
                count -= 1
            elif press is not None:
                rating = rating.pressed(press)
            elif answer is not None:
                write_rating(show_path, answer)
                written.append(answer)
                rating, says = rating.answered(answer), told(answer)
                count += 1
            elif rating.is_in_road_map and key in DIGITS:
                says = f"{rating.song.title}: its sound is in the road map and stays"
                rating = rating.onward()  # the key was this question's
            else:
                says = f"{key} is no answer here: {rating.song.title} waits for {rating.rates.value}"
        except RatingChanged as changed:
            rating, says = rating.reread(read_show(show_path).show), f"{changed}. Answer again to change it"
        except CompanionError as refused:
            says = str(refused)
        if rating.is_over:
            break
        draw(rating, says)
    return rating, count
