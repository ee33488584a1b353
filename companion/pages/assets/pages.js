// @ts-check
"use strict";

/** The page's own behaviour: the token, typing down the list, what is not on disk yet, and what is shown. */
(() => {
  const TOKEN = "companion-token";
  const RETRY_MS = 1000;
  const SAID_MS = 8000; // then the scrap is taken away: it may lie over a song
  /** @type {any} */
  const hx = () => /** @type {any} */ (window).htmx;

  // ------------------------------------------------------------ the token of this tab

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

  // ------------------------------------------------------------ small words

  /** @param {string} id */
  const at = (id) => document.getElementById(id);

  /** @param {string} id @param {string} words */
  const say = (id, words) => {
    const there = at(id);
    if (there && there.textContent !== words) there.textContent = words;
    if (id === "said") {
      clearTimeout(hush);
      if (words) hush = setTimeout(() => say("said", ""), SAID_MS);
    }
  };
  let hush = 0;

  const column = () => at("stack")?.dataset.column ?? "key";

  /** @param {Element | null} where @returns {HTMLElement | null} */
  const songOf = (where) => /** @type {HTMLElement | null} */ (where?.closest(".song") ?? null);

  /** @param {string} html */
  const put = (html) =>
    hx().swap({ text: html, swap: "none", target: document.body, sourceElement: document.body });

  /** @param {string} html */
  const putAll = async (html) => {
    await hx().swap({ text: html, swap: "innerMorph", target: at("desk"), sourceElement: document.body });
    showWanted();
    markWaiting();
  };

  // ------------------------------------------------------------ changes, one after the other

  /** @typedef {{path: string, body: object | File, mark?: string, then?: string}} Change */
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
    for (const input of document.querySelectorAll("input[data-field]")) {
      input.toggleAttribute("data-waits", isWaiting(input));
    }
  };

  const sendNext = async () => {
    if (sending || !waiting.length) return;
    sending = true;
    const change = waiting[0];
    const isFile = change.body instanceof File;
    try {
      const answer = await fetch(change.path, {
        method: "POST",
        headers: {
          "Content-Type": isFile ? "application/octet-stream" : "application/json",
          "X-Companion-Token": token(),
        },
        body: isFile ? /** @type {File} */ (change.body) : JSON.stringify({ column: column(), ...change.body }),
      });
      const text = await answer.text();
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

  /** @param {Change} change @param {Response} answer @param {string} text */
  const answered = async (change, answer, text) => {
    const input = change.mark ? at(change.mark) : null;
    const isHtml = (answer.headers.get("Content-Type") ?? "").startsWith("text/html");
    if (answer.ok && !change.mark) {
      await putAll(text);
      say("said", decodeURIComponent(answer.headers.get("X-Said") ?? ""));
      const moved = answer.headers.get("X-Song");
      const to = moved ? at(`${moved}-grip`) : change.then ? at(change.then) : null;
      to?.focus();
      to?.scrollIntoView({ block: "nearest" });
      if (to instanceof HTMLInputElement) to.value = "";
      return;
    }
    if (isHtml) {
      await put(text);
      showWanted();
      const slip = input ? at(`${input.id}-slip`) : null;
      if (answer.ok) {
        if (slip) slip.replaceChildren();
        say("said", "kept");
      } else {
        input?.setAttribute("aria-invalid", "true");
        say("said", slip?.textContent ?? "");
      }
      if (answer.ok) input?.removeAttribute("aria-invalid");
      return;
    }
    const where = { "/begin": "begin-slip", "/bring": "list-slip" }[change.path];
    if (where) say(where, text);
    else if (input) say(`${input.id}-slip`, text);
    say("said", text);
  };

  const refresh = async () => {
    if (waiting.length || sending) return void setTimeout(() => void refresh(), 200);
    const answer = await fetch(`/view?column=${encodeURIComponent(column())}`, {
      headers: { "X-Companion-Token": token() },
    });
    const text = await answer.text();
    if (answer.ok) await putAll(text);
    else say("away", text);
  };

  /** @param {string} key */
  const turnTo = async (key) => {
    const answer = await fetch(`/view?column=${encodeURIComponent(key)}`, {
      headers: { "X-Companion-Token": token() },
    });
    if (answer.ok) await putAll(await answer.text());
  };

  // ------------------------------------------------------------ typing down the list

  /** What each field showed when typing in it began: an edit is compared with that. @type {WeakMap<Element, string>} */
  const began = new WeakMap();

  /** @param {HTMLInputElement} input @param {string} [was] */
  const commit = (input, was) => {
    const song = songOf(input);
    if (!song || input.readOnly) return;
    const before = was ?? began.get(input) ?? input.dataset.was ?? "";
    began.delete(input);
    if (was === undefined && input.value.trim() === (input.dataset.was ?? "") && !isWaiting(input)) {
      return clearSlip(input);
    }
    send({
      path: "/edit",
      body: {
        title: song.dataset.name,
        occurrence: Number(song.dataset.occurrence),
        field: input.dataset.field,
        value: input.value,
        was: before,
      },
      mark: input.id,
    });
    markWaiting();
  };

  /** @param {HTMLInputElement} input */
  const clearSlip = (input) => {
    at(`${input.id}-slip`)?.replaceChildren();
    input.removeAttribute("aria-invalid");
  };

  /** @param {HTMLInputElement} input @param {number} by */
  const step = (input, by) => {
    const all = [...document.querySelectorAll(`.song:not([hidden]) input[data-field="${input.dataset.field}"]`)];
    const next = all[all.indexOf(input) + by];
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
    if (does && !(input instanceof HTMLInputElement && !input.dataset.field)) {
      event.preventDefault();
      send({ path: `/${does}`, body: {} });
    }
  });

  document.addEventListener("input", (event) => {
    const input = event.target;
    if (!(input instanceof HTMLInputElement)) return;
    if (input.id === "find") return choose();
    if (input.dataset.field && !began.has(input)) began.set(input, input.dataset.was ?? "");
    const isRating = input.dataset.field === "known" || input.dataset.field === "hard";
    if (isRating && /^[0-5]$/.test(input.value)) step(input, 1);
  });

  document.addEventListener("focusout", (event) => {
    if (event.target instanceof HTMLInputElement && event.target.dataset.field) commit(event.target);
  });

  document.addEventListener("focusout", (event) => {
    const open = event.target instanceof Element ? event.target.closest("details[open]") : null;
    const to = event.relatedTarget;
    if (open && to instanceof Node && !open.contains(to)) open.removeAttribute("open");
  });

  document.addEventListener("change", (event) => {
    const input = event.target;
    if (input instanceof HTMLSelectElement && input.id === "filter") choose();
    if (!(input instanceof HTMLInputElement)) return;
    if (input.name === "column") void turnTo(input.value);
    if (input.id === "list" && input.files?.length) {
      const file = input.files[0];
      if (file.size > 8 * 1024 * 1024) return say("list-slip", "This file is longer than 8 MiB.");
      say("list-slip", "Reading …");
      send({ path: `/bring?name=${encodeURIComponent(file.name)}`, body: file });
      input.value = "";
    }
  });

  // ------------------------------------------------------------ buttons

  document.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
    if (!(button instanceof HTMLButtonElement)) return;
    const does = button.dataset.do ?? "";
    const input = at(button.dataset.for ?? "");
    const theirs = at(`${button.dataset.for}-slip`)?.dataset.theirs ?? "";
    if (input instanceof HTMLInputElement) {
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
        then: does === "out" && next ? `${next.id}-grip` : song ? `${song}-grip` : button.id,
      });
    }
  });

  document.addEventListener("submit", (event) => {
    event.preventDefault();
    const title = at("begin-title");
    if (title instanceof HTMLInputElement) send({ path: "/begin", body: { title: title.value } });
  });

  // ------------------------------------------------------------ a song is dragged

  /** @type {{song: HTMLElement, grip: HTMLElement, over: HTMLElement | null} | null} */
  let drag = null;

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

  // ------------------------------------------------------------ which songs are shown

  /**
   * The songs that fitted when the choice was made: what is filled in meanwhile stays where it is.
   * @type {Set<string> | null}
   */
  let wanted = null;

  const choose = () => {
    const find = at("find");
    const filter = at("filter");
    const words = find instanceof HTMLInputElement ? find.value.trim().toLowerCase() : "";
    const kind = filter instanceof HTMLSelectElement ? filter.value : "all";
    wanted = words || kind !== "all" ? new Set() : null;
    for (const song of document.querySelectorAll(".song")) {
      if (!(song instanceof HTMLElement)) continue;
      const is = (song.dataset.is ?? "").split("|");
      const fits = (kind === "all" || is.includes(kind)) && (song.dataset.title ?? "").includes(words);
      if (fits) wanted?.add(song.id);
    }
    showWanted();
    say("said", wanted ? `${wanted.size} songs` : "all songs");
  };

  const showWanted = () => {
    for (const song of document.querySelectorAll(".song")) {
      if (song instanceof HTMLElement) song.hidden = wanted !== null && !wanted.has(song.id);
    }
  };

  // ------------------------------------------------------------ what others change

  document.addEventListener("show-changed", (event) => {
    say("away", "");
    const { data } = /** @type {CustomEvent} */ (event).detail;
    if (data !== at("folder")?.dataset.version) void refresh();
  });

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
      void refresh();
      document.addEventListener("visibilitychange", seen);
      seen();
    });
  });

  window.addEventListener("beforeunload", (event) => {
    if (waiting.length) event.preventDefault(); // something typed is not on disk yet
  });
})();
