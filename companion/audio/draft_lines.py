"""A kept draft in a few lines, beside what is written: to read before a song is played or listened to."""

from collections.abc import Sequence

from companion.audio.heard_draft import SURE, DraftSection, SongDraft
from companion.audio.landing import key_text
from companion.show import Song

GAP_S = 0.5  # of silence or count-off before bar one: less is not worth saying


def clock(seconds: float) -> str:
    """Return a place in a recording: 1:07."""
    return f"{int(seconds) // 60}:{int(seconds) % 60:02}"


def section_line(one: DraftSection) -> str:
    """Return a section as the table of drafts shows it: Chorus 8 in D, with a question mark where the key is unsure."""
    doubt = "?" if one.key_sure < SURE else ""
    return f"{one.name} {one.bars}" + (f" in {one.key}{doubt}" if one.key else "")


def before_bar_one(draft: SongDraft) -> str:
    """Return what comes before bar one, or nothing."""
    if draft.first_bar_s < GAP_S or not draft.sections:
        return ""
    return f"bar one at {clock(draft.first_bar_s)}, after silence or a count-off"


def hints(draft: SongDraft) -> list[str]:
    """Return the places where the keys may be alone: hints to a feature."""
    thin: Sequence[DraftSection] = [one for one in draft.sections if one.is_thin]
    return [
        f"{one.name} at {clock(one.start_s)}: hardly any drums. Are the keys alone? Then mark it: {one.name}*"
        for one in thin
    ]


def lines_beside(song: Song, draft: SongDraft) -> list[str]:
    """Return what was heard, with what is written where that is something else; doubts come last."""
    lines = [
        _beside("key", key_text(song, draft), song.record_key),
        _beside("tempo", f"{draft.tempo_bpm:g}" if draft.tempo_bpm else "", song.tempo_bpm),
        _beside("meter", draft.meter or "", song.meter),
        f"sections: {', '.join(section_line(one) for one in draft.sections)}" if draft.sections else "",
        before_bar_one(draft),
        *hints(draft),
        *(f"? {doubt}" for doubt in draft.doubts),
    ]
    return [line for line in lines if line]


def _beside(name: str, heard: str, written: object) -> str:
    as_written = f"{written:g}" if isinstance(written, float) else str(written)
    differs = heard and written is not None and not heard.startswith(as_written)
    return f"{name}: {heard}{f' (written: {as_written})' if differs else ''}" if heard else ""
