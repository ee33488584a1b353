"""The plan for the player: bars, days, sentences, plain data, and a calendar (RFC 5545)."""

import datetime as dt
import itertools
import re
import unicodedata
from collections import Counter
from typing import Final

from companion.how_many import how_many
from companion.planning.hearings import ListeningTask
from companion.planning.plan_model import BlockKind, Day, Plan, PracticeBlock
from companion.show.date_words import date_words
from companion.show.practice_time import WEEKDAY_NAMES, written
from companion.shown import harmless

WIDEST_BAR: Final = 30
EVENING: Final = dt.time(18)  # when a day's practice is in the calendar
PRODID: Final = "-//companion//practice plan//EN"
LINE_OCTETS: Final = 75  # RFC 5545, 3.1


def in_runs(plan: Plan) -> tuple[tuple[Day, ...], ...]:
    """Return the days by date: each alone, but neighbouring days with nothing to do as one group."""
    runs = itertools.groupby(plan.days, key=lambda day: bool(day_lines(day)))
    return tuple(
        itertools.chain.from_iterable(((day,) for day in run) if busy else (tuple(run),) for busy, run in runs)
    )


def bars(plan: Plan) -> tuple[tuple[str, str, str], ...]:
    """Return the bar chart of the days: a bar of minutes at the keyboard, then the minutes as figures.

    Neighbouring days without anything to do are one row without a bar; the rows are those of ``in_runs``.
    """
    most = max((max(day.minutes, day.used) for day in plan.days), default=0) or 1
    rows = []
    for day, *more in in_runs(plan):
        if more:
            rows.append((f"{day.date:%a %d %b} - {more[-1].date:%a %d %b}", "", "nothing to do"))
            continue
        used, room = round(day.used / most * WIDEST_BAR), round(day.minutes / most * WIDEST_BAR)
        bar = "█" * used + "░" * max(0, room - used)
        rows.append((f"{day.date:%a %d %b}", bar, f"{day.used}/{day.minutes} min, listen {day.listened:.0f}"))
    return tuple(rows)


def day_lines(day: Day) -> tuple[str, ...]:
    """Return a day's work, one line for each block."""
    lines = ["rehearsal with the band"] if day.is_rehearsal else []
    lines += [block_line(block) for block in day.blocks]
    if day.listening:
        lines.append(f"listen ({day.listened:.0f} min): {', '.join(map(_heard, day.listening))}")
    if day.is_light:
        lines.append("a light last day: nothing new, early to bed")
    return tuple(lines)


def _heard(one: ListeningTask) -> str:
    if not one.times:
        return f"{one.title} (continues the next day)"
    return f"{one.title} x{one.times}" if one.times > 1 else one.title


def block_line(block: PracticeBlock) -> str:
    """Return one block as a line."""
    what = f" ({block.what})" if block.what else ""
    if block.kind is BlockKind.RUN:
        return f"{block.minutes} min: run {block.title} in one go, no stopping"
    does = f"{block.cut.value}:" if block.cut else block.kind.value
    return f"{block.minutes} min: {does} {block.title}{what}"


def sentence(plan: Plan) -> str:
    """Return a summary: whether every song is covered, what is missing, and what would help most."""
    blocks = sum(len(day.blocks) for day in plan.days)
    days = how_many(len(plan.days), "day")
    block_words = how_many(blocks, "block")
    summary = f"{days} until {plan.show_title} on {date_words(plan.show_date)}: {block_words}"
    if not plan.left_out:
        return f"{summary}; everything fits."
    learn = sum(not one.is_ready for one in plan.order)
    cuts = len(plan.cuts)
    if cuts:
        needs = "1 needs a cut" if cuts == 1 else f"{cuts} need a cut"
        done = f"{learn - cuts} of {learn} songs to learn {'is' if learn - cuts == 1 else 'are'}"
        covered = f"{done} heard twice and played once, {needs}"
    else:
        covered = "every song to learn is heard twice and played once" if learn else "every song is known"
    runs = sum(one.minutes for one in plan.runs_left_out)
    short = " and ".join(
        f"{how_many(round(minutes), 'minute')} {what}"
        for minutes, what in ((plan.short_minutes - runs, "at the keyboard"), (plan.short_listening, "of listening"))
        if minutes >= 0.5
    )
    missing = f" To do everything, you lack {short}." if short else ""
    if plan.runs_left_out:
        missing += f" {_no_day_for(plan)}"
    return f"{summary}; {covered}.{missing}"


def _no_day_for(plan: Plan) -> str:
    """Say which sets no day has room to run in one go, and how long a day they need."""
    runs = plan.runs_left_out
    names = " or ".join(one.title for one in runs)
    return (
        f"No day has room to run {names} in one go: that takes a day of {max(one.minutes for one in runs):.0f} minutes."
    )


def untouched_lines(plan: Plan) -> tuple[str, ...]:
    """Return the songs that you have not played before a rehearsal, a line for each rehearsal."""
    return tuple(f"{day:%A} {day.day} {day:%B}: {', '.join(titles)}" for day, titles in plan.untouched)


def cut_lines(plan: Plan) -> tuple[str, ...]:
    """Return the songs that are not covered, a line for each with its cut, in the order of importance."""
    return tuple(f"{one.title}: {one.cut.value} ({one.what})" for one in plan.left_out if one.cut is not None)


def seldom_lines(plan: Plan) -> tuple[str, ...]:
    """Return what is repeated less often than it needs: a line for all songs that miss the same, by importance."""
    short: dict[str, list[str]] = {}
    for one in plan.left_out:
        if one.cut is None:
            short.setdefault(one.what, []).append(one.title)
    return tuple(f"{what}: {', '.join(titles)}" for what, titles in short.items())


def remarks(plan: Plan) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return what there is to say below the days: each heading with its lines, without empty ones."""
    found = (
        ("Known from earlier shows:", known_lines(plan)),
        ("Not played before the rehearsal:", untouched_lines(plan)),
        ("Repeated less often than they need, in the days left:", seldom_lines(plan)),
        ("What does not fit:", cut_lines(plan)),
        ("What would help most:", tuple(plan.helps)),
    )
    return tuple((heading, lines) for heading, lines in found if lines)


def time_line(plan: Plan) -> str:
    """Return the time that the plan was made for."""
    usual = Counter(plan.time.minutes).most_common(1)[0][0]
    others = [f"{name} {one}" for name, one in zip(WEEKDAY_NAMES, plan.time.minutes, strict=True) if one != usual]
    off = [WEEKDAY_NAMES[day] if isinstance(day, int) else day.isoformat() for day in plan.time.days_off]
    line = f"{usual} minutes a day at the keyboard" + (f" ({', '.join(others)})" if others else "")
    line += f", {plan.time.listening} of listening"
    line += f"; off: {', '.join(off)}" if off else ""
    return line + (f"; rehearsal: {', '.join(map(str, plan.time.rehearsals))}" if plan.time.rehearsals else "")


def known_lines(plan: Plan) -> tuple[str, ...]:
    """Return the songs that are known from an earlier show, a line for each such show."""
    shows: dict[str, list[str]] = {}
    for one in plan.known_before:
        shows.setdefault(one.source, []).append(f"{one.title} ({one.known} of 5)")
    return tuple(f"Known from {file}: {', '.join(titles)}" for file, titles in shows.items())


def plain(plan: Plan) -> dict[str, object]:
    """Return the plan as plain data."""
    return {
        "show": plan.show_title,
        "date": plan.show_date.isoformat(),
        "order": [
            {
                "title": one.song.title,
                "number": one.number,
                "group": one.group.value,
                "urgency": round(one.urgency, 3),
                "features": [str(feature) for feature in one.features],
                "hard": one.hard,
                "known": round(one.known_now, 2),
                "blocks": one.blocks,
                "hearings": one.hearings,
            }
            for one in plan.order
        ],
        "days": [
            {
                "date": day.date.isoformat(),
                "minutes": day.minutes,
                "used": day.used,
                "light": day.is_light,
                "rehearsal": day.is_rehearsal,
                "blocks": [
                    {
                        "kind": block.kind.value,
                        "title": block.title,
                        "minutes": block.minutes,
                        "what": block.what,
                        "cut": block.cut.value if block.cut else None,
                    }
                    for block in day.blocks
                ],
                "listening": [
                    {"title": one.title, "times": one.times, "minutes": round(one.minutes, 1)} for one in day.listening
                ],
            }
            for day in plan.days
        ],
        "left_out": [
            {
                "title": one.title,
                "what": one.what,
                "minutes": round(one.minutes, 1),
                "listening": round(one.listening, 1),
                "cut": one.cut.value if one.cut else None,
            }
            for one in plan.left_out
        ],
        "short_minutes": round(plan.short_minutes, 1),
        "short_listening": round(plan.short_listening, 1),
        "helps": plan.helps,
        "time": dict(written(plan.time)),
        "known_before": [
            {
                "title": one.title,
                "known": one.known,
                "file": one.file,
                "night": one.night.isoformat() if one.night else None,
            }
            for one in plan.known_before
        ],
    }


# ------------------------------------------------------------------ calendar


def calendar(plan: Plan, now: dt.datetime) -> str:
    """Return the plan as iCalendar: an event a day, at a local ("floating") time, unaffected by clock changes.

    ``now`` is aware of its UTC offset. UIDs are the same on each export, so that a calendar does not show events twice.
    """
    stamp = now.astimezone(dt.UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODID}"]
    for day in plan.days:
        if not day.used:
            continue
        begin = dt.datetime.combine(day.date, EVENING)
        titles = dict.fromkeys(block.title for block in day.blocks)
        lines += [
            "BEGIN:VEVENT",
            f"UID:{day.date.isoformat()}-{_uid(plan.show_title)}@companion.invalid",
            f"DTSTAMP:{stamp}",
            f"DTSTART:{begin:%Y%m%dT%H%M%S}",
            f"DTEND:{begin + dt.timedelta(minutes=day.used):%Y%m%dT%H%M%S}",
            f"SUMMARY:{escaped('Practice: ' + ', '.join(titles))}",
            f"DESCRIPTION:{escaped(chr(10).join(day_lines(day)))}",
            "END:VEVENT",
        ]
    if plan.days:
        show = plan.show_date
        lines += [
            "BEGIN:VEVENT",
            f"UID:{show.isoformat()}-{_uid(plan.show_title)}-show@companion.invalid",
            f"DTSTAMP:{stamp}",
            f"DTSTART;VALUE=DATE:{show:%Y%m%d}",
            *([] if show == dt.date.max else [f"DTEND;VALUE=DATE:{show + dt.timedelta(days=1):%Y%m%d}"]),
            f"SUMMARY:{escaped(plan.show_title)}",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return "".join(f"{folded_line(line)}\r\n" for line in lines)


def escaped(text: str) -> str:
    """Escape a TEXT value (RFC 5545, 3.3.11); a colon is not escaped."""
    plain_text = (
        harmless(text)
        .replace("\\", "\\\\")
        .replace(";", "\\;")
        .replace(",", "\\,")
        .replace("\r\n", "\n")
        .replace("\n", "\\n")
    )
    return "".join(letter for letter in plain_text if letter == "\t" or unicodedata.category(letter) != "Cc")


def folded_line(line: str) -> str:
    """Fold a content line after at most 75 octets, never within a character (RFC 5545, 3.1)."""
    pieces, piece, size = [], "", 0
    for letter in line:
        octets = len(letter.encode("utf-8", "surrogatepass"))
        if size + octets > LINE_OCTETS:
            pieces.append(piece)
            piece, size = " ", 1
        piece += letter
        size += octets
    return "\r\n".join([*pieces, piece])


def _uid(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:40] or "show"
