// @ts-check
"use strict";

/** The page's own behaviour: the token, typing down the list, what is not on disk yet, and what is shown. */
(() => {
  const TOKEN = "companion-token";
  const RETRY_MS = 1000;
  const NOTICE_MS = 8000; // then the scrap is taken away: it may lie over a song
  /** @type {any} */
  const hx = () => /** @type {any} */ (window).htmx;

  // ---------------------------------------- the token of this tab

  const given = document.querySelector('meta[name="companion-token"]');
  if (given instanceof HTMLMetaElement) {
    localStorage.setItem(TOKEN, given.content);
    given.remove();
    history.replaceState(null, "", "/"); // the key has been used: it leaves the address bar
  }
  const token = () => localStorage.getItem(TOKEN) ?? "";

  document.addEventListener("htmx:config:request", (event) => {
    const { ctx } = /** @type {CustomEvent} */ (event).detail;
    ctx.request.headers["X-Companion-Token"] = token();
    delete ctx.request.headers["HX-Current-URL"];
  });

  // ---------------------------------------- small words

  /** @param {string} id */
  const at = (id) => document.getElementById(id);

  /** @param {string} id @param {string} words */
  const say = (id, words) => {
    const there = at(id);
    if (there && there.textContent !== words) there.textContent = words;
    if (id === "notice") {
      clearTimeout(hush);
      if (words) hush = setTimeout(() => say("notice", ""), NOTICE_MS);
    }
  };
  let hush = 0;
  for (const moves of ["wheel", "touchmove"]) document.addEventListener(moves, () => say("notice", ""), { passive: true }); // it has been read

  const column = () => at("stack")?.dataset.column ?? "key";

  /** @param {Element | null} where @returns {HTMLElement | null} */
  const songOf = (where) => /** @type {HTMLElement | null} */ (where?.closest("[data-name]") ?? null);

  /** @param {Element} input @returns {number | null} the section that a field is about, from 0; null for the whole song */
  const sectionOf = (input) => {
    const row = input.closest("[data-row]")?.getAttribute("data-row");
    return row ? Number(row) : null;
  };

  /** The song whose sheet is open, and the field to go to: #s12ab/key. */
  const opened = () => {
    const [song = "", field = ""] = location.hash.slice(1).split("/");
    return { song, field };
  };

  /** What the pictures beside a sheet show. @type {Record<string, string>} */
  const looks = { section: "", rounds: "0", light: "dark", more: "" };

  /** What this tab shows: the server leaves out of its answer what it would not change. */
  const shownWith = () => {
    const open = [...document.querySelectorAll(".row details[open]")];
    looks.more = open.map((one) => one.closest("[data-row]")?.getAttribute("data-row")).join(" ");
    const { song } = opened();
    const is = song ? at("stack")?.dataset.song === song : at("pad"); // else another sheet, or a list, lies there
    return { column: column(), open: opened().song, look: looks, shown: (is && at("folder")?.dataset.version) || "" };
  };

  /** @typedef {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} Field */

  /** @param {EventTarget | null} one @returns {Field | null} */
  const fieldOf = (one) => {
    const is = one instanceof HTMLInputElement || one instanceof HTMLSelectElement || one instanceof HTMLTextAreaElement;
    return is && one.dataset.field ? one : null;
  };

  /** @param {Field} field */
  const typed = (field) =>
    field instanceof HTMLInputElement && field.type === "checkbox" ? (field.checked ? "yes" : "") : field.value;

  /**
   * Put parts in the place of those with the same ids; what was opened stays open.
   * @param {string} html
   */
  const put = (html) => swapped({ text: html, swap: "none", target: document.body });

  /** @param {string} html the whole page */
  const putAll = (html) => {
    const same = /id="stack"[^>]*data-song=/.test(html) === Boolean(at("stack")?.dataset.song); // else nothing is alike
    return swapped({ text: html, swap: same ? "innerMorph" : "innerHTML", target: at("desk") });
  };

  // While a button is held down nothing on the page moves: the click would end beside it.

  let release = () => {};
  let pressed = Promise.resolve();
  document.addEventListener(
    "pointerdown",
    (event) => {
      release();
      if (!(event.target instanceof Element) || !event.target.closest("button, summary, a, label")) return;
      pressed = new Promise((resolve) => (release = resolve));
    },
    true,
  );
  for (const up of ["pointerup", "pointercancel", "blur"]) window.addEventListener(up, () => setTimeout(() => release()));

  /** @type {Record<string, string>} where a page says why it was refused */
  const SLIPS = {
    "/begin": "begin-slip",
    "/next-gig": "next-gig-slip",
    "/bring": "list-slip",
    "/reply": "list-slip",
    "/downbeat": "downbeat-slip",
  };

  /** @param {Record<string, unknown>} how */
  const swapped = async (how) => {
    await pressed;
    const open = [...document.querySelectorAll("details[open]")].map((one) => one.id);
    const refusals = Object.values(SLIPS).map((id) => ({ id, words: at(id)?.textContent ?? "" }));
    const invalid = [...document.querySelectorAll("input[data-about][aria-invalid]")].flatMap((one) => {
      const slip = at(`${one.id}-slip`);
      return one instanceof HTMLInputElement && slip ? [{ id: one.id, typed: one.value, words: [...slip.childNodes] }] : [];
    });
    await hx().swap({ ...how, sourceElement: document.body });
    for (const { id, typed, words } of invalid) {
      const field = at(id);
      if (!(field instanceof HTMLInputElement) || field.value !== typed) continue; // what was refused is still there
      markUnkept(field);
      at(`${id}-slip`)?.replaceChildren(...words);
    }
    for (const id of open) at(id)?.setAttribute("open", "");
    for (const one of document.querySelectorAll("input[type=radio][data-list]")) {
      if (one instanceof HTMLInputElement) one.checked = one.defaultChecked; // what the server knows, so that every click is sent
    }
    for (const { id, words } of refusals) if (words && at(id)?.textContent === "") say(id, words); // a new picture knows none
    describe(document.activeElement);
  };

  /**
   * Name the note under a field as its description; a page holds hundreds of fields, and one at a time is read out.
   * @param {EventTarget | null} one
   */
  const describe = (one) => {
    const field = fieldOf(one);
    const note = field && `${field.id}-slip`;
    if (note && at(note) && !field.hasAttribute("aria-describedby")) field.setAttribute("aria-describedby", note);
  };
  document.addEventListener("focusin", (event) => describe(event.target));

  /**
   * Show an answer: the whole page, or what has changed on it.
   * @param {Response} answer @param {string} html
   */
  const showAnswer = async (answer, html) => {
    const isWhole = answer.headers.has("X-Whole");
    await (isWhole ? putAll(html) : put(html));
    if (!isWhole) soon();
    showWanted();
    markWaiting();
    bringBackTyped();
    void hear();
    void readFolds();
    const field = fieldOf(document.activeElement);
    if (field && isTried(field) && began.has(field)) void attempt(field); // its slip is gone
  };

  // What was typed and is not on disk comes back with its sheet until it is kept or taken out; a draft outlives the tab.

  const TYPED = "typed ";
  const ASKED = "asked "; // before the place of what waits for an answer: tonight, or in the songbook
  const DRAFT = "draft "; // before the place of what outlives the tab
  const showOf = () => document.querySelector("h1")?.textContent ?? "";

  /** @param {Element} input @returns {string} where it is typed; empty for what is no field */
  const placeOf = (input) => {
    const song = songOf(input);
    const { field = "", about = "" } = input instanceof HTMLElement ? input.dataset : {};
    if (!song && !about) return "";
    return TYPED + JSON.stringify([showOf(), about || song?.dataset.name, song?.dataset.occurrence, sectionOf(input), field]);
  };

  /** @param {string} place @param {string} text */
  const keepDraft = (place, text) => {
    try {
      localStorage.setItem(DRAFT + place, text);
    } catch {} // the storage is full
  };

  /** @param {Element} input @param {unknown} text */
  const keepTyped = (input, text) => {
    const place = placeOf(input);
    if (!place || typeof text !== "string") return;
    sessionStorage.setItem(place, text);
    keepDraft(place, JSON.stringify({ text, was: began.get(input) ?? fieldOf(input)?.dataset.was ?? "" }));
  };

  /** @param {string} place */
  const forgetPlace = (place) => {
    for (const key of [place, ASKED + place]) sessionStorage.removeItem(key);
    localStorage.removeItem(DRAFT + place);
    before.delete(place);
    saidAt.delete(place);
  };

  /** @param {Element} input */
  const forgetTyped = (input) => forgetPlace(placeOf(input));

  /** The places of drafts when the page was loaded: they are offered. */
  const before = new Set(
    Object.keys(localStorage).flatMap((key) => (key.startsWith(DRAFT + TYPED) ? [key.slice(DRAFT.length)] : [])),
  );

  /** Why the text at a place was refused. @type {Map<string, Node[]>} */
  const saidAt = new Map();

  /** @param {Field} field */
  const markUnkept = (field) => {
    field.setAttribute("aria-invalid", "true");
    const slip = at(`${field.id}-slip`);
    if (!slip || at(`${field.id}-unkept`)) return;
    const mark = document.createElement("p");
    mark.id = `${field.id}-unkept`;
    mark.className = "unkept";
    mark.textContent = "Not kept yet: change it, or type what was there before.";
    slip.before(mark);
  };

  /** @param {Element} field */
  const unmark = (field) => {
    field.removeAttribute("aria-invalid");
    at(`${field.id}-unkept`)?.remove();
  };

  /** @param {Field} field */
  const offerDraft = (field) => {
    const slip = at(`${field.id}-slip`);
    const button = (/** @type {string} */ words) => `<button type="button" data-draft="${field.id}">${words}</button>`;
    if (slip) slip.innerHTML = `Typed before you left. <span class="buttons">${button("Keep it")} ${button("Let it go")}</span>`;
  };

  document.addEventListener("click", (event) => {
    const button = event.target;
    const field = button instanceof HTMLElement && fieldOf(at(button.dataset.draft ?? ""));
    if (!field) return;
    before.delete(placeOf(field));
    if (button.textContent === "Keep it") commit(field);
    else {
      field.value = field.dataset.was ?? "";
      began.delete(field);
      clearSlip(field);
    }
    field.focus();
  });

  const bringBackTyped = () => {
    bringBackPasted();
    if (!before.size && !Object.keys(sessionStorage).some((place) => place.startsWith(TYPED))) return;
    for (const input of document.querySelectorAll("[data-field]")) {
      const place = placeOf(input);
      const draft = JSON.parse((before.has(place) && localStorage.getItem(DRAFT + place)) || "{}");
      const text = sessionStorage.getItem(place) ?? draft.text ?? null;
      const field = fieldOf(input);
      if (text === null || !field || isWaiting(field) || field === document.activeElement || field.value !== (field.dataset.was ?? "")) continue;
      if (text === field.value) {
        forgetPlace(place); // kept meanwhile
        continue;
      }
      field.value = text;
      sessionStorage.setItem(place, text);
      began.set(field, draft.was ?? began.get(field) ?? field.dataset.was ?? "");
      if (sessionStorage.getItem(ASKED + place) !== null) {
        commit(field, field.dataset.was ?? ""); // the question comes back with the answer
        continue;
      }
      markUnkept(field);
      const said = saidAt.get(place);
      if (said) at(`${field.id}-slip`)?.replaceChildren(...said);
      else if (before.has(place)) offerDraft(field);
    }
  };

  const isUnkept = () => {
    const here = TYPED + JSON.stringify([showOf()]).slice(0, -1);
    return pasted.text.trim() || Object.keys(sessionStorage).some((place) => place.startsWith(here));
  };

  /** A message that is pasted and not read yet, and its show. @type {{show: string | null, text: string}} */
  const pasted = { show: null, text: "" };

  const bringBackPasted = () => {
    const show = showOf();
    if (pasted.show !== show) Object.assign(pasted, { show, text: localStorage.getItem(DRAFT + show) ?? "" });
    const paste = at("paste");
    if (pasted.text && paste instanceof HTMLTextAreaElement && !paste.value) paste.value = pasted.text;
  };

  /** @param {string} text of the message; empty once it was read */
  const keepPasted = (text) => {
    Object.assign(pasted, { show: showOf(), text });
    keepDraft(showOf(), text);
    if (!text) localStorage.removeItem(DRAFT + showOf());
  };

  /** @type {{song: HTMLElement, grip: HTMLElement, over: HTMLElement | null} | null} */
  let drag = null;

  // ---------------------------------------- changes, one after the other

  /** @typedef {{path: string, body: Record<string, unknown> | File, mark?: string, place?: string, then?: string, from?: string, after?: string, looks?: string}} Change */
  /** @type {Change[]} */
  const waiting = [];
  let sending = false;

  /** @param {Change} change */
  const send = (change) => {
    waiting.push(change);
    void sendNext();
  };

  /** @param {Element} input */
  const isWaiting = (input) => waiting.some((change) => change.mark === input.id);

  /** Show which fields are not on disk yet; a new picture of the page does not know. */
  const markWaiting = () => {
    for (const input of document.querySelectorAll("[data-field]")) {
      input.toggleAttribute("data-waits", isWaiting(input));
    }
  };

  const sendNext = async () => {
    if (sending || !waiting.length) return;
    sending = true;
    const change = waiting[0];
    const isFile = change.body instanceof File;
    try {
      const shows = isFile ? {} : shownWith();
      change.looks = JSON.stringify(looks);
      const answer = await fetch(change.path, {
        method: "POST",
        headers: {
          "Content-Type": isFile ? "application/octet-stream" : "application/json",
          "X-Companion-Token": token(),
        },
        body: isFile ? /** @type {File} */ (change.body) : JSON.stringify({ ...shows, ...change.body }),
      });
      const text = await answer.text();
      if (answer.status === 403) {
        // Not let in: what was typed stays here, marked, and is sent again.
        say("away", `Not kept yet: ${text}`);
        setTimeout(() => void sendNext(), RETRY_MS);
        sending = false;
        return;
      }
      waiting.shift();
      say("away", "");
      await answered(change, answer, text);
    } catch (error) {
      if (!(error instanceof TypeError)) throw error;
      say("away", "Not kept yet: companion is not running. Start it again; this page goes on by itself.");
      setTimeout(() => void sendNext(), RETRY_MS);
      sending = false;
      return;
    }
    sending = false;
    markWaiting();
    void sendNext();
  };

  /** @param {Element | null} slip @returns {string} what a note says, without its buttons */
  const wordsOf = (slip) => {
    const copy = slip?.cloneNode(true);
    if (!(copy instanceof Element)) return "";
    for (const button of copy.querySelectorAll("button")) button.remove();
    return (copy.textContent ?? "").trim();
  };

  /** @param {Change} change @param {Response} answer @param {string} text */
  const answered = async (change, answer, text) => {
    const input = change.mark ? at(change.mark) : null;
    const isHtml = (answer.headers.get("Content-Type") ?? "").startsWith("text/html");
    const where = SLIPS[change.path.split("?")[0]];
    if (answer.ok && where) say(where, "");
    if (answer.ok && !change.mark) {
      if (change.path === "/list" && waiting.length) return; // the next answer shows both
      document.querySelector(".hand details[open]")?.removeAttribute("open");
      const form = document.querySelector(`[data-begins="${change.path}"]`);
      if (form instanceof HTMLFormElement) {
        form.reset(); // it has begun what it is for
        form.closest("details")?.removeAttribute("open");
      }
      const paste = at("paste");
      if (/^[/](bring|reply)/.test(change.path) && paste instanceof HTMLTextAreaElement) {
        paste.value = "";
        keepPasted("");
      }
      await showAnswer(answer, text);
      say("notice", decodeURIComponent(answer.headers.get("X-Notice") ?? ""));
      const moved = answer.headers.get("X-Song");
      const next = change.after ? at(change.after) : null;
      if (next && !at(change.from ?? "")) next.setAttribute("open", "");
      const stays = at(change.from ?? ""); // it was not answered: another answer may be typed
      const own = stays?.closest("fieldset")?.querySelector(".own input");
      const asked = (own instanceof HTMLElement && own) || (stays ?? next?.querySelector("summary"));
      const to = moved ? at(`${moved}-grip`) : asked ?? (change.then ? at(change.then) : null);
      to?.focus();
      to?.scrollIntoView({ block: "nearest" });
      if (to instanceof HTMLInputElement && (to.dataset.add || "addSet" in to.dataset || change.path === "/downbeat")) to.value = "";
      return;
    }
    if (isHtml) {
      const { place = "", body } = change;
      if (answer.ok && !(body instanceof File) && sessionStorage.getItem(place) === body.value) forgetPlace(place);
      await (answer.ok ? showAnswer(answer, text) : put(text));
      if (answer.ok && at("pictures") && change.looks !== JSON.stringify(looks)) void show({}); // another row has been gone to meanwhile
      const now = answer.headers.get("X-Song");
      if (now && now !== opened().song) {
        renamed(change, opened().song, now);
        history.replaceState(null, "", `#${now}`);
      }
      const slip = input ? at(`${input.id}-slip`) : null;
      if (answer.ok) {
        if (slip) slip.replaceChildren();
        say("notice", "kept");
      } else {
        const field = fieldOf(input);
        if (field && !(body instanceof File)) {
          keepTyped(field, body.value);
          markUnkept(field);
          before.delete(place);
          if (slip) saidAt.set(place, [...slip.childNodes]);
        }
        if (input && slip?.querySelector('[data-do="where"]')) sessionStorage.setItem(ASKED + placeOf(input), "");
        say("notice", wordsOf(slip));
      }
      const field = fieldOf(input);
      if (answer.ok && field && sessionStorage.getItem(placeOf(field)) === null) unmark(field);
      return;
    }
    if (where) say(where, text);
    else if (input) say(`${input.id}-slip`, text);
    say("notice", text);
  };

  /**
   * A song has another title: what was typed meanwhile is meant for it too.
   * @param {Change} change @param {string} before @param {string} now its ids on the page
   */
  const renamed = (change, before, now) => {
    const { name = "", occurrence = "1" } = at("stack")?.dataset ?? {};
    for (const one of waiting) {
      if (one.body instanceof File || change.body instanceof File) continue;
      if (one.body.title === change.body.title && one.body.occurrence === change.body.occurrence) {
        Object.assign(one.body, { title: name, occurrence: Number(occurrence) });
      }
      if (one.body.song === before) one.body.song = now;
      if (one.mark) one.mark = one.mark.replace(before, now);
      if (one.then) one.then = one.then.replace(before, now);
    }
  };

  /** @param {string} path @param {Record<string, string>} more */
  const read = async (path, more) => {
    const answer = await fetch(`${path}?${new URLSearchParams({ song: opened().song, ...looks, ...more })}`, {
      headers: { "X-Companion-Token": token() },
    });
    const text = await answer.text();
    if (!answer.ok) say("away", text);
    return { answer, text: answer.ok ? text : "" };
  };

  let looking = 0;
  /** @param {string} [key] the column to show */
  const refresh = async (key) => {
    if (waiting.length || sending || drag) return void setTimeout(() => void refresh(key), 200);
    looking += 1;
    try {
      const { shown } = shownWith();
      const { answer, text } = await read("/view", { column: key ?? column(), shown: key ? "" : shown });
      if (text) await showAnswer(answer, text);
    } catch (error) {
      if (!(error instanceof TypeError)) throw error; // not running: the open line says so when it comes back
    } finally {
      looking -= 1;
    }
  };

  /** Whether what was heard is being asked for; it is asked for once more if the sheet has changed meanwhile. */
  const hearing = { asks: false, again: false };
  /** Show what was heard in the song's recording beside what is written. */
  const hear = async () => {
    const { song } = opened();
    const recording = at(`recording-${song}`);
    if (!song || !(recording instanceof HTMLInputElement)) return;
    if (!recording.value && at("heard")?.hidden) return;
    hearing.again = hearing.asks;
    if (hearing.asks) return;
    hearing.asks = true;
    try {
      const found = await read("/heard", {});
      if (found && opened().song === song && !at("heard")?.contains(document.activeElement)) await put(found.text);
    } catch (error) {
      if (!(error instanceof TypeError)) throw error; // not running: the open line says so when it comes back
    } finally {
      hearing.asks = false;
    }
    if (hearing.again) void hear();
  };

  let later = 0;
  /** Look at the stage door again when nobody has typed for a while: what would stop the show may be something else. */
  const soon = () => {
    clearTimeout(later);
    later = setTimeout(async () => {
      if (!at("door")) return;
      const { text } = await read("/door", {});
      if (text) await put(text);
    }, 1500);
  };

  // ---------------------------------------- typing down the list

  /** What each field showed when typing in it began: an edit is compared with that. @type {WeakMap<Element, string>} */
  const began = new WeakMap();

  /** @param {Field} input @param {string} [was] @param {boolean} [heard] on the recording */
  const commit = (input, was, heard = false) => {
    const song = songOf(input);
    const { about = "" } = input.dataset;
    if (!(song || about) || ("readOnly" in input && input.readOnly)) return;
    const before = was ?? began.get(input) ?? input.dataset.was ?? "";
    began.delete(input);
    const last = waiting.filter((change) => change.mark === input.id).pop();
    if (last && !(last.body instanceof File) && last.body.value === typed(input)) return;
    if (was === undefined && typed(input).trim() === (input.dataset.was ?? "").trim() && !isWaiting(input)) {
      return clearSlip(input);
    }
    send({
      path: "/edit",
      body: {
        about,
        title: song?.dataset.name ?? "",
        occurrence: Number(song?.dataset.occurrence ?? 1),
        field: input.dataset.field,
        value: typed(input),
        was: before,
        heard,
        section: sectionOf(input),
        look: looks,
      },
      mark: input.id,
      place: placeOf(input),
    });
    markWaiting();
  };

  /** @param {Field} input */
  const clearSlip = (input) => {
    at(`${input.id}-slip`)?.replaceChildren();
    unmark(input);
    forgetTyped(input);
  };

  /** @param {HTMLInputElement} input @param {number} by */
  const step = (input, by) => {
    const all = [...document.querySelectorAll(`.song:not([hidden]) input[data-field="${input.dataset.field}"]`)];
    const next = all.includes(input) ? all[all.indexOf(input) + by] : null;
    if (next instanceof HTMLInputElement) {
      next.focus();
      next.select();
    } else commit(input);
  };

  document.addEventListener("keydown", (event) => {
    const input = event.target;
    if (input instanceof HTMLElement && input.classList.contains("grip")) {
      const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
      if (by) {
        event.preventDefault();
        send({ path: "/move", body: { song: songOf(input)?.id, by } });
      }
    }
    if (input instanceof HTMLInputElement && "addSet" in input.dataset && event.key === "Enter" && input.value.trim()) {
      send({ path: "/add-set", body: { title: input.value }, then: input.id });
    }
    if (input instanceof HTMLInputElement && input.dataset.add && event.key === "Enter" && input.value.trim()) {
      send({ path: "/add", body: { into: input.dataset.add, title: input.value }, then: input.id });
    }
    if (input instanceof HTMLInputElement && input.dataset.field && !event.isComposing) {
      const by = { Enter: event.shiftKey ? -1 : 1, ArrowDown: 1, ArrowUp: -1 }[event.key];
      if (by && !(input.list && event.key !== "Enter")) {
        event.preventDefault();
        step(input, by);
      } else if (event.key === "Escape") {
        input.value = input.dataset.was ?? "";
        began.delete(input);
        clearSlip(input);
      }
      if (event.key !== "z" && event.key !== "y") return;
      if (input.value !== (input.dataset.was ?? "")) return; // its own undo comes first
    }
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const does = { z: event.shiftKey ? "redo" : "undo", Z: "redo", y: "redo" }[event.key];
    const isText = input instanceof HTMLInputElement || input instanceof HTMLTextAreaElement;
    if (does && !(isText && !(input.dataset.field && input.value === (input.dataset.was ?? "")))) {
      event.preventDefault();
      send({ path: `/${does}`, body: {} });
    }
  });

  /**
   * Whether the pictures beside a sheet change while this field is typed.
   * @param {Field} field
   */
  const isTried = (field) => songOf(field)?.id === "stack" && !(field instanceof HTMLSelectElement) && field.type !== "checkbox";

  /**
   * One question at a time; the last text typed meanwhile is asked next.
   * @type {{asks: boolean, next: Field | null}}
   */
  const trying = { asks: false, next: null };

  /**
   * Ask what a text means while it is typed: its count, its faults, the pictures.
   * @param {Field} field
   */
  const attempt = async (field) => {
    const song = songOf(field);
    if (!song) return;
    trying.next = field;
    if (trying.asks) return;
    trying.asks = true;
    trying.next = null;
    try {
      const answer = await fetch("/try", {
        method: "POST",
        headers: { "Content-Type": "application/json", "X-Companion-Token": token() },
        body: JSON.stringify({
          title: song.dataset.name,
          occurrence: Number(song.dataset.occurrence),
          field: field.dataset.field,
          value: field.value,
          was: "",
          section: sectionOf(field),
          look: looks,
        }),
      });
      const text = await answer.text();
      if (answer.ok && document.activeElement === field) await put(text);
    } catch (error) {
      if (!(error instanceof TypeError)) throw error; // not running: the field's own change says so
    } finally {
      trying.asks = false;
    }
    if (trying.next) void attempt(trying.next);
  };

  document.addEventListener("input", (event) => {
    const field = fieldOf(event.target);
    if (field && !began.has(field)) began.set(field, field.dataset.was ?? "");
    if (field && isTried(field)) void attempt(field);
    if (field instanceof HTMLTextAreaElement || (field instanceof HTMLInputElement && field.type !== "checkbox")) {
      if (field.value === (field.dataset.was ?? "")) forgetTyped(field);
      else keepTyped(field, field.value);
    }
    const input = event.target;
    if (input instanceof HTMLTextAreaElement && input.id === "paste") keepPasted(input.value);
    if (!(input instanceof HTMLInputElement)) return;
    if (input.id === "find") return choose();
    const isRating = input.closest(".song") && ["known", "hard"].includes(input.dataset.field ?? "");
    if (isRating && /^[0-5]$/.test(input.value)) step(input, 1);
  });

  document.addEventListener("focusout", (event) => {
    const field = fieldOf(event.target);
    if (field && !(field instanceof HTMLInputElement && field.type === "checkbox")) commit(field);
  });

  document.addEventListener("focusout", (event) => {
    const open = event.target instanceof Element ? event.target.closest("details[open]") : null;
    const to = event.relatedTarget;
    if (open && to instanceof Node && !open.contains(to)) void pressed.then(() => open.removeAttribute("open"));
  });

  document.addEventListener("change", (event) => {
    const input = event.target;
    const field = fieldOf(input);
    if (field instanceof HTMLSelectElement || (field instanceof HTMLInputElement && field.type === "checkbox")) commit(field);
    if (input instanceof HTMLSelectElement && input.id === "filter") choose();
    if (!(input instanceof HTMLInputElement)) return;
    if (input.name === "column") void refresh(input.value);
    if (input.id === "list" && input.files?.length) {
      bring(input.files[0]);
      input.value = "";
    }
  });

  // ---------------------------------------- a set list is brought in

  /** @param {File} file */
  const bring = (file) => {
    const words = file.size > 8 * 1024 * 1024 ? "This file is longer than 8 MiB." : "Reading …";
    say("list-slip", words);
    say("notice", words);
    if (words === "Reading …") send({ path: `/bring?name=${encodeURIComponent(file.name)}`, body: file, then: "newer-title" });
  };

  document.addEventListener("click", (event) => {
    const paste = at("paste");
    const how = event.target instanceof Element ? event.target.id : "";
    if (!["paste-in", "paste-answers"].includes(how) || !(paste instanceof HTMLTextAreaElement)) return;
    if (paste.value.trim() && how === "paste-in") return bring(new File([paste.value], pastedAs()));
    if (paste.value.trim()) return send({ path: "/reply", body: { text: paste.value }, then: "reply-title" });
    say("list-slip", "Paste the message first.");
    say("notice", "Paste the message first");
    paste.focus();
  });

  /** The name of a pasted message: what the player calls the gig, or none. */
  const pastedAs = () => {
    const name = at("paste-name");
    const called = name instanceof HTMLInputElement ? name.value.trim().replace(/[/\\]/g, "-") : "";
    return `${called || "message"}.txt`;
  };

  /** @param {DragEvent} event */
  const isFile = (event) => event.dataTransfer?.types.includes("Files") ?? false;

  document.addEventListener("dragover", (event) => {
    if (!isFile(event)) return;
    event.preventDefault();
    document.body.classList.add("drops");
  });
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) document.body.classList.remove("drops");
  });
  document.addEventListener("drop", (event) => {
    document.body.classList.remove("drops");
    if (!isFile(event)) return;
    event.preventDefault(); // else the browser would leave the page for the file
    const file = event.dataTransfer?.files[0];
    if (file && at("list")) bring(file);
  });

  /**
   * A decision about the newer list.
   * @param {HTMLElement} one @param {string} does @param {string} word
   */
  const decide = (one, does, word) => {
    const done = opened().song ? "sheet-title" : "find"; // where the page goes on without the list
    const then = one.dataset.then ?? (one.id.startsWith("list-") ? done : one.id || "newer-title");
    const from = one.dataset.then && one.id; // a question in a fold; it is gone once it is answered
    send({ path: "/list", body: { does, name: one.dataset.name ?? "", word }, then, from, after: one.dataset.after });
  };

  document.addEventListener("change", (event) => {
    const one = event.target;
    if (!(one instanceof HTMLInputElement) || !one.dataset.list) return;
    decide(one, one.type === "checkbox" ? (one.checked ? "take" : "leave") : one.dataset.list, one.value);
  });

  document.addEventListener("click", (event) => {
    const one = event.target instanceof Element ? event.target.closest("button[data-list]") : null;
    if (one instanceof HTMLElement) decide(one, one.dataset.list ?? "", one.dataset.word ?? "");
  });


  // ---------------------------------------- what is filled in when it is opened

  document.addEventListener(
    "toggle",
    (event) => {
      const opened = event.target;
      if (!(opened instanceof HTMLDetailsElement) || !opened.open || opened.children.length > 1) return;
      const song = opened.closest(".hand") && songOf(opened);
      if (song) opened.append(waysOf(song));
      const row = opened.closest("[data-row]");
      const more = at("row-more");
      if (!(row instanceof HTMLElement && more instanceof HTMLTemplateElement)) return;
      const number = Number(row.dataset.row);
      opened.insertAdjacentHTML("beforeend", more.innerHTML.replaceAll("@@", `${number}`).replaceAll("@+", `${number + 1}`));
    },
    true, // this event does not rise
  );

  /**
   * Return the buttons that move a song.
   * @param {HTMLElement} song
   */
  const waysOf = (song) => {
    const sets = [...document.querySelectorAll(".tape")].filter((tape) => tape.id !== song.dataset.set);
    /** @type {[string, Record<string, string>][]} */
    const ways = [
      ["Up", { do: "move", by: "-1" }],
      ["Down", { do: "move", by: "1" }],
      ...sets.map((tape) => /** @type {[string, Record<string, string>]} */ ([`To ${at(`${tape.id}-name`)?.textContent}`, { do: "move", into: tape.id }])),
      ["Once more in the encore", { do: "encore" }],
      ["Take out", { do: "out" }],
    ];
    const all = document.createElement("div");
    all.className = "buttons";
    for (const [words, told] of ways) {
      const button = document.createElement("button");
      const title = document.createElement("span");
      title.className = "unseen";
      title.textContent = ` ${at(`${song.id}-title`)?.textContent}`;
      button.type = "button";
      button.append(words, title);
      Object.assign(button.dataset, told, { song: song.id });
      all.append(button);
    }
    return all;
  };

  // ---------------------------------------- buttons

  document.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
    if (!(button instanceof HTMLButtonElement)) return;
    const does = button.dataset.do ?? "";
    const input = fieldOf(at(button.dataset.for ?? ""));
    const theirs = at(`${button.dataset.for}-slip`)?.dataset.theirs ?? "";
    if (input) {
      if (does === "take-theirs") {
        input.value = theirs;
        void refresh();
      } else commit(input, theirs);
      clearSlip(input);
      input.focus();
    } else {
      const { show = "", song = "", into = "", by = "0" } = button.dataset;
      const next = songOf(button)?.nextElementSibling ?? songOf(button)?.previousElementSibling;
      send({
        path: `/${does}`,
        body: does === "move" ? { song, into, by: Number(by) } : song ? { song } : { show },
        then: button.dataset.then ?? (does === "out" && next ? `${next.id}-grip` : song ? `${song}-grip` : button.id),
      });
    }
  });

  document.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    if (!button) return;
    const { rowDo, at: number = "", stage, tap, print: printed, look, value = "", put: given, putFrom, refuse, downbeat, play, copy } = button.dataset;
    if (rowDo) {
      const { song } = opened();
      const row = Number(number) + ({ "add-row": 1, "row-up": -1, "row-down": 1 }[rowDo] ?? 0);
      send({ path: "/row", body: { song, does: rowDo, at: Number(number) }, then: `section-${row}-${song}` });
    }
    if (printed) void print(printed);
    if (stage) send({ path: "/stage", body: { how: stage } });
    if (look) void show({ ...(look === "section" ? { rounds: "0" } : {}), [look]: value });
    if (tap) tapped(tap);
    if (copy) void copied(copy);
    const field = fieldOf(at(button.dataset.for ?? ""));
    const from = at(putFrom ?? "");
    const words = from instanceof HTMLInputElement || from instanceof HTMLTextAreaElement ? from.value : given;
    if (play) void (play === "begin" ? playRecording() : stopRecording());
    if (downbeat) sayDownbeat(downbeat, value, button.dataset.from ?? "");
    if (refuse !== undefined) {
      send({ path: "/refuse", body: { song: opened().song, field: refuse }, then: "sheet-title" });
    }
    if (words && field) {
      field.value = words;
      commit(field, undefined, from !== null);
      field.focus();
    }
  });

  /**
   * The message to the leader, which is as good as sent.
   * @param {string} id
   */
  const copied = async (id) => {
    const from = at(id);
    if (!(from instanceof HTMLTextAreaElement)) return;
    from.select();
    try {
      await navigator.clipboard.writeText(from.value);
    } catch {
      return say("notice", "The browser does not copy it: press Ctrl-C");
    }
    send({ path: "/list", body: { does: "asked" }, then: id });
  };

  /**
   * A printed sheet comes with the token, and is handed to the browser as a file.
   * @param {string} sheet
   */
  const print = async (sheet) => {
    const paper = document.querySelector("[name=paper]:checked");
    say("print-slip", "");
    say("notice", "Printing …");
    const query = new URLSearchParams({ sheet, paper: paper instanceof HTMLInputElement ? paper.value : "a4" });
    const answer = await fetch(`/print?${query}`, { headers: { "X-Companion-Token": token() } });
    const words = answer.ok ? decodeURIComponent(answer.headers.get("X-Notice") ?? "") : await answer.text();
    say("notice", words);
    if (!answer.ok) return say("print-slip", words);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(await answer.blob());
    link.download = decodeURIComponent(answer.headers.get("X-File") ?? "");
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // by then the browser has it
  };

  /** Read what an opened fold holds, unless it is there already. */
  const readFolds = async () => {
    for (const fold of document.querySelectorAll("details[open][data-reads]")) {
      if (!(fold instanceof HTMLElement) || fold.lastElementChild?.hasChildNodes()) continue;
      const { text } = await read(fold.dataset.reads ?? "", {});
      if (text) await put(text);
    }
  };
  document.addEventListener("toggle", () => void readFolds(), true);

  /**
   * The recording of the open sheet, while it plays.
   * @type {HTMLAudioElement | null}
   */
  let player = null;

  const playRecording = async () => {
    stopRecording();
    const { song } = opened();
    say("downbeat-slip", "");
    const answer = await fetch(`/recording?${new URLSearchParams({ song })}`, { headers: { "X-Companion-Token": token() } });
    if (!answer.ok) return say("downbeat-slip", await answer.text());
    const sound = await answer.blob();
    if (opened().song !== song) return;
    player = new Audio(URL.createObjectURL(sound));
    try {
      await player.play();
      say("notice", "Playing. Press 'A bar begins now' on a one");
    } catch {
      say("downbeat-slip", "Your browser cannot play this recording: type the place instead.");
    }
  };

  const stopRecording = () => {
    player?.pause();
    if (player) URL.revokeObjectURL(player.src);
    player = null;
  };

  /**
   * A place where a bar begins in the recording.
   * @param {string} does @param {string} value @param {string} from the field that it was typed into
   */
  const sayDownbeat = (does, value, from) => {
    const input = at(from);
    if (does === "now" && (!player || player.paused)) return say("downbeat-slip", "Play it first.");
    const now = does === "now" && player ? player.currentTime.toFixed(2) : "";
    const place = now || (input instanceof HTMLInputElement ? input.value : value);
    does = now ? "add" : does;
    const { song } = opened();
    if (place.trim()) send({ path: "/downbeat", body: { song, does, place }, then: `downbeat-${song}` });
  };

  document.addEventListener("keydown", (event) => {
    const input = event.target;
    if (event.key !== "Enter" || !(input instanceof HTMLInputElement) || !input.id.startsWith("downbeat-")) return;
    sayDownbeat("add", "", input.id);
  });

  /** @param {Record<string, string>} more */
  const show = async (more) => {
    Object.assign(looks, more);
    const { text } = await read("/picture", {});
    const there = at("pictures");
    await pressed;
    if (text && there) await hx().swap({ text, swap: "innerMorph", target: there, sourceElement: document.body });
  };

  document.addEventListener("focusin", (event) => {
    const row = event.target instanceof Element ? event.target.closest("[data-row]") : null;
    if (row instanceof HTMLElement && row.dataset.row !== looks.section) {
      void show({ section: row.dataset.row ?? "", rounds: "0" });
    }
  });

  // The first click into a field of the stack selects what is there, as Enter does: what is typed takes its place.
  /** @type {EventTarget | null} */
  let entered = null;
  document.addEventListener("pointerdown", (event) => {
    entered = event.target === document.activeElement ? null : event.target;
  });
  document.addEventListener("click", (event) => {
    const input = event.target;
    if (input === entered && input instanceof HTMLInputElement && input.closest(".song") && input.dataset.field) {
      input.select();
    }
  });

  /** @type {number[]} */
  let taps = [];
  let tapEnds = 0;
  /** @param {string} name the tempo's field */
  const tapped = (name) => {
    const now = performance.now();
    if (taps.length && now - taps[taps.length - 1] > 2500) taps = [];
    taps = [...taps.slice(-8), now];
    const input = at(name);
    if (taps.length < 4 || !(input instanceof HTMLInputElement)) return say("notice", `${taps.length} taps of 4`);
    if (!began.has(input)) began.set(input, input.dataset.was ?? "");
    input.value = String(Math.round((60000 * (taps.length - 1)) / (now - taps[0])));
    say("notice", input.value);
    clearTimeout(tapEnds);
    tapEnds = setTimeout(() => commit(input), 2500);
  };

  window.addEventListener("hashchange", async () => {
    stopRecording();
    looks.section = "";
    looks.rounds = "0";
    await refresh();
    goTo();
  });

  /** Focus the field that the address asks for, or the sheet's title. */
  const goTo = () => {
    const { song, field } = opened();
    const there = (field && (at(`${field}-${song}`) ?? at(`${field}-on-0-${song}`))) || (song ? at("sheet-title") : at("find"));
    there?.scrollIntoView({ block: "center" });
    there?.focus({ preventScroll: true });
  };

  document.addEventListener("submit", (event) => {
    event.preventDefault();
    const form = event.target;
    const title = form instanceof HTMLFormElement ? form.querySelector("input") : null;
    if (form instanceof HTMLFormElement && title && form.dataset.begins) send({ path: form.dataset.begins, body: { title: title.value } });
  });

  // ---------------------------------------- a song is dragged

  /**
   * A finger that lifts while it still moves would be a fling for the browser: it swallows the next tap, to stop that.
   * @param {TouchEvent} event
   */
  const noFling = (event) => event.preventDefault();

  /** @param {HTMLElement | null} over */
  const dropAt = (over) => {
    document.querySelector(".drop-here")?.classList.remove("drop-here");
    over?.classList.add("drop-here");
    if (drag) drag.over = over;
  };

  const dragEnds = () => {
    drag?.song.classList.remove("lifted");
    dropAt(null);
    drag = null;
  };

  document.addEventListener("pointerdown", (event) => {
    const grip = event.target instanceof Element ? event.target.closest(".grip") : null;
    const song = songOf(grip);
    if (!(grip instanceof HTMLElement) || !song || event.button !== 0) return;
    grip.setPointerCapture(event.pointerId);
    grip.addEventListener("touchmove", noFling, { passive: false });
    song.classList.add("lifted");
    drag = { song, grip, over: null };
  });

  document.addEventListener("pointermove", (event) => {
    if (!drag) return;
    const edge = 60;
    if (event.clientY < edge) scrollBy(0, -edge / 4);
    if (event.clientY > innerHeight - edge) scrollBy(0, edge / 4);
    const under = document.elementsFromPoint(Math.max(event.clientX, 0), event.clientY);
    const over = under.map((one) => one.closest(".song, .tape")).find((one) => one && one !== drag?.song);
    dropAt(over instanceof HTMLElement ? over : null);
  });

  document.addEventListener("pointerup", () => {
    const over = drag?.over;
    if (drag && over) {
      const after = over.classList.contains("song") ? over.id : "";
      send({ path: "/move", body: { song: drag.song.id, into: over.dataset.set ?? "", after } });
    }
    dragEnds();
  });
  document.addEventListener("pointercancel", dragEnds);
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    dragEnds();
    const open = event.target instanceof Element ? event.target.closest("details[open]") : null;
    open?.removeAttribute("open");
    open?.querySelector("summary")?.focus();
  });

  // ---------------------------------------- which songs are shown

  /**
   * The songs that fitted when the choice was made: what is filled in meanwhile stays where it is.
   * @type {Set<string> | null}
   */
  let wanted = null;
  /** @type {Record<string, string>} what was chosen: the boxes come back empty with a new picture */
  const chosen = { find: "", filter: "all" };
  /** @param {(box: HTMLInputElement | HTMLSelectElement) => void} act */
  const withBoxes = (act) => {
    for (const id in chosen) {
      const box = at(id);
      if (box instanceof HTMLInputElement || box instanceof HTMLSelectElement) act(box);
    }
  };

  const choose = () => {
    withBoxes((box) => void (chosen[box.id] = box.value));
    const words = chosen.find.trim().toLowerCase();
    const kind = chosen.filter;
    wanted = words || kind !== "all" ? new Set() : null;
    for (const song of document.querySelectorAll(".song")) {
      if (!(song instanceof HTMLElement)) continue;
      const is = (song.dataset.is ?? "").split("|");
      const fits = (kind === "all" || is.includes(kind)) && (at(`${song.id}-title`)?.textContent ?? "").toLowerCase().includes(words);
      if (fits) wanted?.add(song.id);
    }
    showWanted();
    say("notice", wanted ? `${wanted.size} ${wanted.size === 1 ? "song" : "songs"}` : "all songs");
  };

  const showWanted = () => {
    withBoxes((box) => void (box.value === chosen[box.id] || (box.value = chosen[box.id])));
    for (const song of document.querySelectorAll(".song")) {
      if (song instanceof HTMLElement) song.hidden = wanted !== null && !wanted.has(song.id);
    }
  };

  // ---------------------------------------- what others change

  document.addEventListener("show-changed", (event) => {
    say("away", "");
    follow(/** @type {CustomEvent} */ (event).detail.data);
  });

  /**
   * Show this version, unless the answer to an edit of our own brings it.
   * @param {string} version
   */
  const follow = (version) => {
    if (waiting.length || sending || looking) return void setTimeout(() => follow(version), 100);
    if (version !== at("folder")?.dataset.version) void refresh();
  };

  const seen = () => {
    if (document.hidden) return;
    document.removeEventListener("visibilitychange", seen);
    const live = at("live");
    if (live) hx().trigger(live, "tab-seen");
  };

  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) void refresh(); // at once; the line opens again by itself
  });

  document.addEventListener("DOMContentLoaded", () => {
    setTimeout(() => {
      hx().process(at("live"), true); // htmx may have looked at the page before its extension had come
      void refresh().then(() => opened().song && goTo());
      document.addEventListener("visibilitychange", seen);
      seen();
    });
  });

  window.addEventListener("beforeunload", (event) => {
    if (waiting.length || isUnkept()) event.preventDefault(); // something typed is not on disk yet
  });
})();
