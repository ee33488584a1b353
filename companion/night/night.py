"""The night: one loop that handles each event, steps the show, and sends out the effects.

A press is handled in this order: the pure step, the journal, the keyboards, the screen. The journal comes before the
sound, since a killed program must find what it did; it is one write into the system's memory, not to the disk.
"""

import contextlib
import queue
from collections.abc import Callable, Iterable
from pathlib import Path

import msgspec

from companion.night.bar_count import Bars
from companion.night.by_hand import ByHand
from companion.night.calling import Calling
from companion.night.chart_up import Charts
from companion.night.confirming import done
from companion.night.default_keys import CALL_KEY, COUNT_KEY, KEYS, PACE_KEY, READ_KEY, STEP_KEYS, is_held
from companion.night.detail_choices import Details
from companion.night.displays import Display
from companion.night.edited import ShowReader, continued, edited_words
from companion.night.entries import Entry, EntryContext, JournalNote, ResumedNight, entry_line, note_line
from companion.night.happenings import (
    BatteryIs,
    FilesEdited,
    KeyReceived,
    NightInbox,
    NightInput,
    ScreenGone,
    ScreenReady,
    ShowRead,
    SongbooksRead,
    Stop,
    arrived_ns,
)
from companion.night.keyboards import Keyboards, MidiParcel, TellSent, would_send
from companion.night.lost import LostPorts, connected_again
from companion.night.notices import Notices
from companion.night.pacing import Pacing
from companion.night.record import EntryWriter
from companion.ports import Direction, MidiReceived, PortFound, PortLost, PortsAwaited, ms_between
from companion.rig import Action
from companion.stage import (
    EVENT_OF,
    AnyEvent,
    Feet,
    FromTheTop,
    GestureRequest,
    Next,
    Notify,
    SilenceAll,
    Surroundings,
    TakeBack,
    all_due,
    changes,
    feet_of,
    key_moved,
    landmark,
    midi_received,
    next_hold_ms,
    port_appeared,
    step,
    time_passed,
    we_sent,
    woken,
)
from companion.stage.first_note import begins_with
from companion.view import ChartIs, Looks, key_pressed, stepped, view

SLEPT_MS = 2000  # the loop runs every half second: a longer gap means that the computer slept
IDLE_S = 0.5  # how often to look for a signal if the system cannot wake a waiting thread for it


class Night:
    """One night from its first press to its last. Only the thread that calls ``run`` touches it."""

    def __init__(  # noqa: PLR0913 - what a night needs, named
        self,
        resumed: ResumedNight,
        *,
        keyboards: Callable[[TellSent], Keyboards],
        record: EntryWriter,
        display: Display,
        inbox: NightInbox,
        clock_ns: Callable[[], int],
        zero_ns: int,
        around: Surroundings,
        looks: Looks,
        say: Callable[[str], None],
        pacing: Pacing,
        reader: ShowReader | None = None,
        bars: Bars | None = None,
        beside: Path = Path(),
        keep: Callable[[Details], None] = lambda _: None,
    ) -> None:
        """Begin with this state; its time was 0 at ``zero_ns``; charts are in the folder ``beside`` the show."""
        self.state = resumed.state
        self._feet: Feet = feet_of(self.state.book.rig)
        self._keyboards = keyboards(self._note_sent)
        self._record = record
        self._display = display
        self._inbox = inbox
        self._clock_ms: Callable[[], int] = lambda: ms_between(zero_ns, clock_ns())
        self._zero_ns = zero_ns
        self._around = around
        self._has_ports = around.dry_run is None
        self._looks = looks
        self._say = say
        self._lost = LostPorts(self.state.book.rig)
        self._notices = Notices(say, self.state.book.rig, resumed.message, from_the_top=resumed.from_the_top)
        self._reader = reader
        self._bars = bars or Bars()
        self._awake_ms = self._arrived_ms = self._clock_ms()  # when the loop last ran; when the last input arrived
        self._pacing = pacing
        self._calling, self._charts = Calling(), Charts(beside)
        self._by_hand = ByHand(self.state.book.rig)
        self._keep = keep
        self._ends: Stop | None = None
        self._screen_came, self._last_error = False, ""  # the last internal error

    def begin(self) -> None:
        """Send the first sound, and show the first view."""
        self._guarded(lambda: self._keyboards.send_again(all_due(self.state), self._clock_ms()))
        self._guarded(self._show)

    def run(self, wait_for_ports: Callable[[], object] = lambda: None) -> Stop:
        """Play until something stops the night, and return what it was. After an internal error the show continues.

        ``wait_for_ports`` waits until the ports are open, for a night that ends while it starts.
        """
        while self._ends is None:
            if not self._guarded(lambda: self.take(self._wait())):
                self._guarded(self._show)  # the fault may have come between the step and its view
        for farewell in (wait_for_ports, self._keyboards.leave_in_tune, self._keyboards.silence):
            self._guarded(farewell)
        return self._ends

    def _guarded(self, do: Callable[[], object]) -> bool:
        """Call it; return whether it succeeded. A fault is reported, and the show continues."""
        try:
            do()
        except Exception as fault:  # noqa: BLE001 - the one broad catch: nothing that fails may stop the show
            if repr(fault) != self._last_error:
                self._last_error = repr(fault)
                self._say(f"internal error, the show continues: {self._last_error}")
            return False
        return True

    def take(self, happened: NightInput | None) -> None:
        """Handle one event, or a tick without one. A delayed event counts from its arrival.

        While more wait behind it, that is the time: the foot may already have ended a hold that would be due by now.
        """
        at_ms = now_ms = self._clock_ms()
        at_ns = arrived_ns(happened)
        if at_ns is not None:
            at_ms = self._arrived_ms = min(now_ms, ms_between(self._zero_ns, at_ns))
        match happened:
            case MidiReceived(port=port, message=message):
                self._feet, asks = midi_received(self._feet, port, message, at_ms)
                self._do(asks)
                self._keyboards.heard(port, message, at_ms)
                if self._by_hand.heard(port, message):
                    self._show()
                if begins_with(self.state, port, message):
                    self.happen(Next(at_ms))
            case KeyReceived():
                self._key(happened, at_ms)
            case PortFound() | PortLost():
                self._port_changed(happened, at_ms)
            case PortsAwaited(why=why):
                self._notices.wait_for(why)
                self._show()
            case ScreenReady():
                self._notices.tell("screen restarted" if self._screen_came else "", at_ms)
                self._screen_came = True
                self._show()
            case ScreenGone():  # its keeper restarts it, and shows it the newest view
                self._feet = woken(self._feet, keys_only=True)
                self._note(EntryContext.SCREEN_GONE, at_ms)
            case ChartIs():
                self._notices.tell(self._charts.found(happened), at_ms)
                self._show()
            case BatteryIs(percent=percent):
                self._around = msgspec.structs.replace(self._around, battery_percent=percent)
                self._show()
            case FilesEdited():
                self._files_edited(happened, at_ms)
            case ShowRead():
                self._show_read(happened, at_ms)
            case SongbooksRead(songs=songs):
                self._calling.songs_are(songs)
            case Stop():
                self._ends = happened
        self._step_due(now_ms if self._inbox.empty() else self._arrived_ms)
        if (called := self._calling.entered(now_ms)) is not None:
            self.happen(called)
        self._keyboards.time_is(now_ms)
        if self._is_shown_late(now_ms):
            self._show()

    def _is_shown_late(self, now_ms: int) -> bool:
        """Return whether time alone has changed what the screen shows."""
        return (
            any(getattr(self._around, name) != now for name, now in self._keyboards.shown().items())
            or self._record.is_unsaved != self._around.is_unsaved
            or self._around.now_ms < self._looks.everything_until_ms <= now_ms
            or self._notices.has_expired(now_ms)
            or self._pacing.has_expired(now_ms)
            or self._bars.bar(self.state, now_ms) != self._around.bar
            or self._pacing.look(self.state, now_ms)
            or self._calling.rank_again()
        )

    def _step_due(self, at_ms: int) -> None:
        self._feet, asks = time_passed(self._feet, at_ms)
        self._do(asks)
        over_ms = self._bars.steps_itself_ms(self.state, at_ms)
        if over_ms is not None and at_ms >= over_ms:
            self.happen(Next(over_ms))  # the time it was due, so that delays do not add up

    def _do(self, asks: Iterable[GestureRequest]) -> None:
        for ask in asks:
            if self._charts.takes(ask):
                self._show()
                continue
            match ask.action:
                case Action.NOTHING:
                    pass
                case Action.CHART:
                    self._notices.tell(self._charts.toggle(self.state), ask.at_ms)
                    self._show()
                case Action.SOUND_NOW:
                    self._keyboards.sound_now()
                    self._by_hand.sound_now()
                    self._show()
                case Action.TAKE_BACK:
                    self.happen(TakeBack(ask.at_ms, of_ms=ask.of_ms))
                case action:
                    self.happen(EVENT_OF[action](ask.at_ms))

    def happen(self, event: AnyEvent) -> None:
        """Step the show by one event: state, journal, sounds, screen."""
        before = self.state
        self.state, effects = step(before, event)
        self._guarded(lambda: self._record.write(entry_line(Entry(event, landmark(self.state)))))
        if any(isinstance(effect, SilenceAll) for effect in effects):
            self._keyboards.silence()
            self._keyboards.send_again(all_due(self.state), event.at_ms)
        else:
            self._keyboards.send((one for one in effects if not isinstance(one, SilenceAll | Notify)), event.at_ms)
        self._notices.did(done(before, event, self.state), event.at_ms)
        for words in (effect.words for effect in effects if isinstance(effect, Notify)):
            self._notices.tell(words, event.at_ms)
        self._charts.stepped(before, self.state)
        self._by_hand.stepped()
        if isinstance(event, TakeBack):
            self._bars.taken_back(self.state, event.at_ms)
        self._pacing.seen(self.state, event.at_ms)  # no sound waits for it
        self._looks = stepped(self._looks)
        self._show()

    def _key(self, came: KeyReceived, at_ms: int) -> None:
        """Handle a computer key: the rig's pedals first, then the call box, the screen's keys, every night's keys."""
        key, down = came.key, came.down
        as_pedal = None if came.repeats else key_moved(self._feet, key, down=down, at_ms=at_ms)
        if as_pedal is not None:
            self._feet, asks = as_pedal
            self._do(asks)
            return
        if not down or is_held(came, self.state.book.rig, typing=self._calling.is_open):
            return
        if self._calling.is_open:
            if (called := self._calling.take(came, at_ms)) is not None:
                self.happen(called)
            else:
                self._show()
            return
        song = self.state.song
        if (looks := key_pressed(self._looks, key, at_ms, song.song if song else None)) is not None:
            if looks.details != self._looks.details:
                self._keep(looks.details)
            self._looks = looks
            self._show()
        if key == PACE_KEY:
            self._pacing.ask(self.state, at_ms)
            self._show()
        elif key == COUNT_KEY:
            self._bars.shown = not self._bars.shown
            self._show()
        elif key == CALL_KEY:
            self._calling.open(self.state.book)
            self._show()
        elif looks is None and self._notices.is_top(key):
            self.happen(FromTheTop(at_ms))
        elif looks is None and key == READ_KEY and self._reader is not None:
            self._reader.read_again(self.state.book.rig)
        elif looks is None and (action := KEYS.get(key) or STEP_KEYS.get(key)):
            self._do((GestureRequest(action, at_ms),))

    def _files_edited(self, edited: FilesEdited, at_ms: int) -> None:
        """Announce that a file was edited: briefly at any place, and permanently while nothing plays."""
        words = edited_words(edited)
        self._around = msgspec.structs.replace(self._around, edited=words)
        self._notices.tell(words or "", at_ms)
        self._show()

    def _show_read(self, read: ShowRead, at_ms: int) -> None:
        """Continue in the show as written now, at the same song and section; in the old one if it has faults."""
        before = self.state
        self.state, forms = continued(before, read, self._record.go_on, at_ms)
        for fault in read.faults:
            self._say(str(fault))
        if self.state is not before:
            self._note(EntryContext.READ_AGAIN, at_ms)
            self._calling.close()
            self._charts.read_again(self.state)
            self._notices.forget(self._around.edited)
            self._keyboards.send(changes(before, self.state), at_ms)
            self._around = msgspec.structs.replace(self._around, edited=None)
        self._notices.did(forms, at_ms)
        self._show()

    def _port_changed(self, happened: PortFound | PortLost, at_ms: int) -> None:
        """Handle a port that appears or disappears: send sounds again, reset its pedals, update the screen."""
        port, found = happened.port, isinstance(happened, PortFound)
        if happened.direction is Direction.IN:
            self._keyboards.can_hear(port, at_ms, there=found)
            is_new = isinstance(happened, PortFound) and not happened.was_there
            self._feet = port_appeared(self._feet, port, at_ms) if is_new else woken(self._feet, port)
        news, why = self._lost.take(happened)
        if why is not None:
            self._say(why)
        if news is not None:
            self._note(news, at_ms, port)
            self._notices.tell(connected_again(port, self.state.book.rig) if port and found else "", at_ms)
        if happened.direction is Direction.OUT:
            self._keyboards.send_again(all_due(self.state), at_ms, port=port)
        self._around = msgspec.structs.replace(self._around, **self._lost.shown())
        self._show()

    def _note(self, what: EntryContext, at_ms: int, port: str = "") -> None:
        """Record for the debrief what happened around the show."""
        self._record.note(note_line(JournalNote(at_ms, what, landmark(self.state), port)))

    def _note_sent(self, port: str, parcel: MidiParcel, went: bool) -> None:  # noqa: FBT001 - the shape of TellSent
        """Remember what was sent, to recognize its echo; report what was not, if the port is missing."""
        if not went:
            if not self._has_ports or self._lost.is_lost(port, Direction.OUT):
                self._say(would_send(port, parcel))
            return
        at_ms = self._clock_ms()
        for message in parcel:
            if isinstance(message, bytes):
                self._feet = we_sent(self._feet, port, message, at_ms)

    def _show(self) -> None:
        now = self._clock_ms()
        self._around = msgspec.structs.replace(
            self._around,
            **self._keyboards.shown(),
            is_unsaved=self._record.is_unsaved,
            now_ms=now,
            **self._notices.shown(now),
            bar=self._bars.bar(self.state, now),
            **self._pacing.shown(now),
            by_hand_done=self._by_hand.done,
            **self._calling.shown(),
        )
        self._display.show(self._charts.over(view(self.state, self._around, self._looks)))

    def _wait(self) -> NightInput | None:
        """Wait for an event, or until something is due."""
        happened, patience_s = None, [IDLE_S]
        self._guarded(lambda: patience_s.append(self._patience_s()))  # a fault in a timer must not lose a press
        with contextlib.suppress(queue.Empty):
            happened = self._inbox.get(timeout=patience_s[-1])
        now = self._clock_ms()
        if now - self._awake_ms > SLEPT_MS:
            self._feet = woken(self._feet)
            self._keyboards.woken()
            self._bars.woken(now)
        self._awake_ms = now
        return happened

    def _patience_s(self) -> float:
        """Return how long to wait for an event before the next hold or waiting sound is due."""
        now, until_ms = self._clock_ms(), self._looks.everything_until_ms
        everything_ends = until_ms if until_ms > self._around.now_ms else None
        timers = (
            next_hold_ms(self._feet),
            self._keyboards.next_ms(),
            self._bars.steps_itself_ms(self.state, now),
            everything_ends,
            self._bars.next_ms(self.state, now),
            self._pacing.next_ms(now),
            *self._notices.ends_ms(),
        )
        return max(0.0, min([IDLE_S, *((due - now) / 1000 for due in timers if due is not None)]))
