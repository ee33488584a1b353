"""Words that are not understood and that a question about an answer in doubt quotes: they are not listed once more."""

from collections.abc import Sequence

from companion.leader.answers import LeaderAnswer, OpenPiece


def is_asked(piece: OpenPiece, answers: Sequence[LeaderAnswer]) -> bool:
    """Return whether one of these answers is in doubt because of a piece's words, which are of its song or of none."""
    about = (piece.set_at, piece.song_at)
    return any(
        piece.words in (one.doubt, *one.doubt.split("; "))
        and about in ((None, None), (one.set_at, one.song_at))
        and piece.field in ("", one.field)
        for one in answers
        if one.doubt
    )


def is_noted(piece: OpenPiece, answers: Sequence[LeaderAnswer]) -> bool:
    """Return whether a note of its song that is sure has a piece's words."""
    return any(
        one.field == "notes"
        and not one.doubt
        and (one.set_at, one.song_at) == (piece.set_at, piece.song_at)
        and piece.words in str(one.value)
        for one in answers
    )
