"use strict";
// The card on a tablet: keeps what is ticked, typed and timed in this browser, judges readings against the card's limits,
// and makes a record of it. All words of the card are read from the page and put back as text, never as markup.
(function () {
  const root = document.documentElement;
  const find = (id) => document.getElementById(id);
  const all = (what, under) => Array.from((under || document).querySelectorAll(what));
  const words = (node) => (node ? node.textContent.replace(/\s+/g, " ").trim() : "");
  const kept = all("[data-keep]");
  const ticks = kept.filter((e) => e.type === "checkbox");
  const key = root.dataset.key;

  // ---- what is kept ----

  let state = fresh();
  let refused = false;

  function fresh() {
    return { ticks: {}, values: {}, waits: {} };
  }

  function plainMap(m) {
    return m && typeof m === "object" && !Array.isArray(m) ? m : {};
  }

  // stored reads a state that was kept; one that can't be read counts as none.
  function stored(text) {
    try {
      const s = plainMap(JSON.parse(text));
      return { ticks: plainMap(s.ticks), values: plainMap(s.values), waits: plainMap(s.waits) };
    } catch (e) {
      return fresh();
    }
  }

  function refuse() {
    refused = true;
    const p = find("refused");
    if (p.hidden) {
      p.hidden = false;
      p.textContent = "This browser refuses to keep anything: ticks, readings and names are lost when the page is closed or loaded again. Save the record as a file before you leave.";
    }
  }

  function load() {
    let text = null;
    try {
      text = localStorage.getItem(key);
      localStorage.setItem("refitcard/probe", "1");
      localStorage.removeItem("refitcard/probe");
    } catch (e) {
      refuse();
    }
    state = text ? stored(text) : fresh();
    for (const e of kept) {
      if (e.type === "checkbox") {
        e.checked = typeof state.ticks[e.id] === "string";
      } else {
        e.value = typeof state.values[e.id] === "string" ? state.values[e.id] : "";
      }
    }
    all(".reading").forEach(judge);
    all("datalist").forEach(offer);
    update();
  }

  function keep() {
    if (refused) return;
    try {
      const empty = Object.keys(state.ticks).length + Object.keys(state.values).length + Object.keys(state.waits).length === 0;
      if (empty) localStorage.removeItem(key);
      else localStorage.setItem(key, JSON.stringify(state));
    } catch (e) {
      refuse();
    }
  }

  // others tells of ticks kept under another revision or making of the same card: they are not shown here, and not lost.
  function others() {
    const list = [];
    try {
      for (let i = 0; i < localStorage.length; i++) {
        const name = localStorage.key(i);
        if (name === key || !name.startsWith(root.dataset.family)) continue;
        const n = Object.keys(stored(localStorage.getItem(name)).ticks).length;
        if (!n) continue;
        const [revision, digest, variant] = name.slice(root.dataset.family.length).split("/").map(decodeURIComponent);
        list.push("revision " + (revision || "none") + ", " + digest + (variant ? ", " + variant : "") + ": " + (n === 1 ? "1 tick" : n + " ticks"));
      }
    } catch (e) {
      return;
    }
    list.sort();
    find("others").hidden = !list.length;
    find("others").textContent = "This tablet also keeps ticks made on another version of this card (" + list.join("; ") + "). They are not shown here.";
  }

  // ---- time ----

  function two(n) {
    return (n < 10 ? "0" : "") + n;
  }

  // local writes a time as the tablet's clock shows it: 2026-11-25 14:32.
  function local(t) {
    return t.getFullYear() + "-" + two(t.getMonth() + 1) + "-" + two(t.getDate()) + " " + two(t.getHours()) + ":" + two(t.getMinutes());
  }

  function clock(seconds) {
    const s = Math.max(0, Math.ceil(seconds));
    const h = Math.floor(s / 3600);
    return (h ? h + ":" + two(Math.floor(s / 60) % 60) : Math.floor(s / 60)) + ":" + two(s % 60);
  }

  // ---- readings ----

  // figure reads what was typed: a point or a comma before the decimals, a sign, a fraction. null is no figure.
  function figure(text) {
    const t = text.replace(/[\s\u00a0\u202f]+/g, " ").trim().replace(/^[\u2212\u2013]/, "-");
    if (/^[+-]?(\d+([.,]\d+)?|[.,]\d+)$/.test(t)) return Number(t.replace(",", "."));
    const m = /^([+-]?)(?:(\d+) )?(\d+)\/(\d+)$/.exec(t);
    if (m && Number(m[4])) return (m[1] === "-" ? -1 : 1) * (Number(m[2] || 0) + Number(m[3]) / Number(m[4]));
    return null;
  }

  // fieldsOf gives the fields of a reading: as found, and as left where there are limits.
  function fieldsOf(box) {
    return all("input", box);
  }

  // verdict says how what stands in a field of a reading stands to its limits; kind is empty, none (not judged), within, low, high
  // or unread.
  function verdict(box, input) {
    const text = input.value.trim();
    const unit = box.dataset.unit;
    const limits = box.dataset.limits + (unit ? " " + unit : "");
    if (!text) return { kind: "empty", say: "" };
    if (!("figures" in input.dataset)) return { kind: "none", say: "" };
    const n = figure(text);
    if (n === null || !isFinite(n)) return { kind: "unread", say: "Not a figure: write 12.5 or 12,5" };
    const read = text + (unit ? " " + unit : "");
    if (!("low" in box.dataset)) return { kind: "none", value: n, say: box.dataset.limits ? "Hold it against " + limits : "" };
    if (box.dataset.low !== "" && n < Number(box.dataset.low)) return { kind: "low", value: n, say: read + " is TOO LOW: " + limits };
    if (box.dataset.high !== "" && n > Number(box.dataset.high)) return { kind: "high", value: n, say: read + " is TOO HIGH: " + limits };
    return { kind: "within", value: n, say: read + " is within limits" };
  }

  function bad(kind) {
    return kind === "low" || kind === "high" || kind === "unread";
  }

  // last gives the verdict that counts: that of the reading as left, where there is one.
  function last(box) {
    const [found, left] = fieldsOf(box);
    return verdict(box, left && left.value.trim() ? left : found);
  }

  function judge(box) {
    const fields = fieldsOf(box);
    for (const input of fields) {
      const v = verdict(box, input);
      const out = find(input.id + (input === fields[0] ? "-v" : "v"));
      if (bad(v.kind)) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
      if (out.textContent !== v.say) out.textContent = v.say;
    }
    box.classList.toggle("wrong", bad(last(box).kind));
    if (fields.length < 2) return;
    const first = verdict(box, fields[0]).kind;
    box.querySelector(".left").hidden = first !== "low" && first !== "high" && !fields[1].value.trim();
  }

  // ---- how far the job is ----

  const steps = all(".step");
  const boxes = (step) => ticks.filter((e) => step.contains(e));
  const acts = (step) => boxes(step).filter((e) => !("not" in e.dataset));

  // idle gives the steps that are not asked for: one ticked "not needed", and an "otherwise" whose other way was taken whole.
  function idle() {
    const out = new Set();
    steps.forEach((step, i) => {
      const not = step.querySelector("[data-not]");
      if (not && not.checked) out.add(step);
      const other = "otherwise" in step.dataset && i > 0 ? steps[i - 1] : null;
      if (other && !out.has(other) && acts(other).length && acts(other).every((e) => e.checked)) out.add(step);
    });
    return out;
  }

  // settled tells whether nothing is left to do about a box: it is ticked, or its step went the other way.
  function settled(e, skip) {
    const step = e.closest(".step");
    if (e.checked || skip.has(step)) return true;
    return "not" in e.dataset && acts(step).length > 0 && acts(step).every((x) => x.checked);
  }

  function signed(hold) {
    return all("input", hold).every((e) => e.value.trim() !== "");
  }

  // passed finds the first hold that is not signed though a box behind it is ticked.
  function passed(skip) {
    for (const hold of all(".hold[data-for]")) {
      if (skip.has(hold.closest(".step")) || signed(hold)) continue;
      if (ticks.some((e) => e.checked && hold.compareDocumentPosition(e) & Node.DOCUMENT_POSITION_FOLLOWING)) return hold;
    }
    return null;
  }

  function stepOf(e) {
    return e.closest(".step").dataset.step;
  }

  function put(id, text) {
    const e = find(id);
    if (e.textContent !== text) e.textContent = text;
  }

  function update() {
    const skip = idle();
    const n = ticks.filter((e) => settled(e, skip)).length;
    find("bar").max = Math.max(ticks.length, 1);
    find("bar").value = ticks.length ? n : 1;
    put("count", n + " of " + ticks.length + " done");
    for (const step of steps) step.classList.toggle("skipped", skip.has(step));
    const points = [];
    const hold = passed(skip);
    for (const h of all(".hold[data-for]")) h.classList.toggle("unsigned-and-passed", h === hold);
    if (hold) points.push("HOLD in step " + stepOf(hold) + " is not signed");
    const among = (list) => {
      const names = list.map(stepOf).filter((s, i, l) => l.indexOf(s) === i);
      return (names.length > 1 ? "steps " : "step ") + names.join(", ");
    };
    const wrong = all(".reading.wrong");
    const out = wrong.filter((r) => last(r).kind !== "unread");
    const unread = wrong.filter((r) => last(r).kind === "unread");
    if (out.length) points.push("reading out of limits in " + among(out));
    if (unread.length) points.push("reading that is no figure in " + among(unread));
    const missing = all(".reading").filter((r) => {
      const act = r.closest(".act").querySelector("input[type=checkbox]");
      return act && act.checked && !r.querySelector("input").value.trim() && !skip.has(r.closest(".step"));
    });
    if (missing.length) points.push("reading missing in " + among(missing));
    put("open-points", points.join("; "));
    timers();
  }

  // ---- timers ----

  let sound = null;

  // listen readies the sound: a browser lets a page be heard only once a hand has touched it.
  function listen() {
    const Sound = window.AudioContext || window.webkitAudioContext;
    if (Sound && !sound && Object.keys(state.waits).length) sound = new Sound();
  }

  function beep() {
    const touched = navigator.userActivation && navigator.userActivation.hasBeenActive;
    if (touched && navigator.vibrate) navigator.vibrate([300, 150, 300, 150, 300]);
    if (!sound) return;
    for (const at of [0, 0.5, 1]) {
      const tone = sound.createOscillator();
      const level = sound.createGain();
      tone.frequency.value = 880;
      level.gain.value = 0.3;
      tone.connect(level).connect(sound.destination);
      tone.start(sound.currentTime + at);
      tone.stop(sound.currentTime + at + 0.25);
    }
  }

  const title = document.title;

  function timers() {
    const now = Date.now();
    const running = [];
    let up = "";
    for (const box of all(".wait")) {
      const end = state.waits[box.id];
      const going = typeof end === "number";
      const left = going ? (end - now) / 1000 : 0;
      const show = box.querySelector("[role=timer]");
      const button = box.querySelector("button");
      const text = !going ? box.dataset.words : left > 0 ? clock(left) : "Time is up";
      if (show.textContent !== text) {
        if (text === "Time is up") {
          find("say").textContent = "Step " + stepOf(box) + ": the " + box.dataset.words + " are over";
          if (left > -3) beep();
        }
        show.textContent = text;
      }
      const label = going ? "Stop" : "Start";
      if (button.firstChild.data !== label) button.firstChild.data = label;
      box.classList.toggle("up", going && left <= 0);
      if (!going) continue;
      running.push("step " + stepOf(box) + ": " + (left > 0 ? clock(left) : "time is up"));
      if (left <= 0) up = "Time is up: ";
    }
    put("clocks", running.join("; "));
    if (document.title !== up + title) document.title = up + title;
  }

  function turn(box) {
    if (typeof state.waits[box.id] === "number") {
      delete state.waits[box.id];
    } else {
      state.waits[box.id] = Date.now() + 1000 * Number(box.dataset.seconds);
    }
    keep();
    timers();
  }

  // ---- the record ----

  function actOf(e) {
    const act = e.closest(".act");
    return act ? words(act.querySelector("label, .words")).replace(/[.,;]$/, "") : "";
  }

  function record() {
    const skip = idle();
    const text = (id) => words(find(id));
    return {
      schema: 1,
      kind: "filled record of a job card",
      card: {
        number: text("number"), revision: text("revision"), variant: text("variant"), title: text("title"),
        machine: text("machine"), date: text("date"), digest: text("digest"),
      },
      saved: local(new Date()),
      boxes: all("[data-box]").map((e) => ({ label: e.dataset.box, typed: typed(e) })),
      remarks: find("remarks").value.trim(),
      readings: all(".reading").map((box) => {
        const [found, left] = fieldsOf(box);
        return {
          line: Number(box.dataset.line), step: stepOf(box), act: actOf(box), place: words(box.querySelector(".place")),
          limits: box.dataset.limits, unit: box.dataset.unit, not_needed: skip.has(box.closest(".step")) && !typed(found),
          found: valueOf(box, found), left: left ? valueOf(box, left) : { typed: "", value: null, verdict: said.empty },
        };
      }),
      holds: all(".hold[data-for]").map((h) => {
        const [name, time] = all("input", h).map(typed);
        return { line: Number(h.dataset.line), step: stepOf(h), for: h.dataset.for, name: name, time: time };
      }),
      written: all("[data-column]").map((e) => ({ line: Number(e.dataset.line), column: e.dataset.column, typed: typed(e) })),
      ticks: ticks.map((e) => {
        const pass = e.closest("tr");
        const name = words(e.labels[0]);
        return {
          line: Number(e.dataset.line || 0), step: stepOf(e), box: pass ? actOf(e) + " " + name : name,
          settled: settled(e, skip), ticked: e.checked ? state.ticks[e.id] || "" : null,
        };
      }),
    };
  }

  function typed(e) {
    return e.value.trim();
  }

  const said = { empty: "no reading", none: "not judged", within: "within limits", low: "too low", high: "too high", unread: "not a figure" };

  function valueOf(box, input) {
    const v = verdict(box, input);
    return { typed: typed(input), value: "value" in v ? v.value : null, verdict: said[v.kind] };
  }

  function make(name, text, parent) {
    const e = document.createElement(name);
    if (text) e.textContent = text;
    if (parent) parent.appendChild(e);
    return e;
  }

  // table puts rows of words into the record, the first one as its head.
  function table(parent, head, columns, rows) {
    if (!rows.length) return;
    make("h3", head, parent);
    const t = make("table", "", parent);
    const top = make("tr", "", make("thead", "", t));
    for (const c of columns) make("th", c, top).scope = "col";
    const body = make("tbody", "", t);
    for (const r of rows) {
      const tr = make("tr", "", body);
      for (const cell of r) make("td", cell, tr);
    }
  }

  function show() {
    const r = record();
    const body = find("record-body");
    body.textContent = "";
    find("record-when").textContent = "as of " + r.saved;
    const facts = make("dl", "", body);
    facts.className = "facts";
    const list = r.boxes.map((x) => [x.label, x.typed || "not told"]);
    list.push(["Boxes done", r.ticks.filter((t) => t.settled).length + " of " + r.ticks.length]);
    for (const [label, value] of list) {
      const d = make("div", "", facts);
      make("dt", label, d);
      make("dd", value, d);
    }
    if (r.remarks) make("p", "Work done, and anything found: " + r.remarks, body);
    const read = (v, unit) => (v.typed ? (v.typed + " " + unit).trim() + ", " + v.verdict : "");
    table(body, "Readings", ["Line", "Step", "What", "As found", "As left"], r.readings.map((x) => [
      x.line ? String(x.line) : "", x.step, x.act + (x.place ? ", place " + x.place : "") + (x.limits ? " (" + (x.limits + "\u00a0" + x.unit).trim() + ")" : ""),
      x.not_needed ? "not needed" : read(x.found, x.unit) || "none", read(x.left, x.unit)]));
    table(body, "Holds", ["Line", "Step", "For", "Name", "Time"], r.holds.map((x) => [x.line ? String(x.line) : "", x.step, x.for, x.name || "not signed", x.time || "not signed"]));
    table(body, "Written", ["Line", "What", ""], r.written.filter((x) => x.typed).map((x) => [String(x.line), x.column, x.typed]));
    table(body, "Ticks", ["Step", "Box", "Ticked"], r.ticks.map((x) => [x.step, x.box, x.ticked !== null ? x.ticked : x.settled ? "not needed" : "no"]));
    find("record").hidden = false;
    find("record-head").focus();
  }

  function save() {
    const blob = new Blob([JSON.stringify(record(), null, 1) + "\n"], { type: "application/json" });
    const a = make("a");
    a.href = URL.createObjectURL(blob);
    a.download = root.dataset.file + "-" + local(new Date()).replace(" ", "-").replace(":", "") + ".json";
    document.body.appendChild(a);
    a.click();
    a.remove();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
    find("say").textContent = "Record saved as " + a.download;
  }

  function print(what) {
    document.body.classList.toggle("record", what === "record");
    window.print();
  }

  // ---- light ----

  const dark = window.matchMedia("(prefers-color-scheme: dark)");

  function night() {
    return root.dataset.light ? root.dataset.light === "night" : dark.matches;
  }

  function showLight() {
    find("light").setAttribute("aria-pressed", String(night()));
  }

  function loadLight() {
    try {
      const l = localStorage.getItem("refitcard/light");
      if (l === "day" || l === "night") root.dataset.light = l;
    } catch (e) {
      refuse();
    }
    showLight();
  }

  // ---- what a hand does ----

  function taken(e) {
    const t = e.target;
    if (!("keep" in t.dataset)) return;
    if (t.type === "checkbox") {
      if (t.checked) state.ticks[t.id] = local(new Date());
      else delete state.ticks[t.id];
    } else if (t.value) {
      state.values[t.id] = t.value;
    } else {
      delete state.values[t.id];
    }
    keep();
    const reading = t.closest(".reading");
    if (reading) judge(reading);
    if (t.list) offer(t.list);
    update();
  }

  // offer lets a list offer what was typed into the other fields that have it: one wrench serves many lines.
  function offer(list) {
    const seen = all("[list]").filter((e) => e.list === list && e.value.trim()).map((e) => e.value.trim());
    list.textContent = "";
    for (const s of new Set(seen)) make("option", "", list).value = s;
  }

  function next() {
    const skip = idle();
    const open = ticks.find((e) => !settled(e, skip));
    const to = open || kept.find((e) => e.closest("#writing"));
    to.scrollIntoView({ block: "center" });
    to.focus({ preventScroll: true });
    if (!open) find("say").textContent = "No box is left";
  }

  const hands = {
    next: next, show: show, save: save, "print-card": () => print("card"), "print-record": () => print("record"),
    hide: () => { find("record").hidden = true; find("show").focus(); },
    clear: () => { find("sure").hidden = false; find("clear-not").focus(); },
    "clear-not": () => { find("sure").hidden = true; find("clear").focus(); },
    "clear-all": () => {
      state = fresh();
      keep();
      for (const e of kept) { if (e.type === "checkbox") e.checked = false; else e.value = ""; }
      all(".reading").forEach(judge);
      find("sure").hidden = true;
      find("record").hidden = true;
      update();
      find("clear").focus();
      find("say").textContent = "All cleared";
    },
    light: () => {
      root.dataset.light = night() ? "day" : "night";
      try { localStorage.setItem("refitcard/light", root.dataset.light); } catch (e) { refuse(); }
      showLight();
    },
  };

  document.addEventListener("input", taken);
  document.addEventListener("click", (e) => {
    const b = e.target.closest ? e.target.closest("button") : null;
    if (!b) {
      listen();
      return;
    }
    if (hands[b.id]) hands[b.id]();
    else if (b.dataset.now) {
      const field = find(b.dataset.now);
      field.value = local(new Date());
      field.dispatchEvent(new Event("input", { bubbles: true }));
    } else if (b.dataset.act) turn(b.closest(".wait"));
    listen();
  });
  window.addEventListener("afterprint", () => document.body.classList.remove("record"));
  window.addEventListener("storage", (e) => {
    if (e.key === key || e.key === null) load();
    if (e.key === null || e.key.startsWith(root.dataset.family)) others();
  });
  window.addEventListener("beforeunload", (e) => {
    if (refused && Object.keys(state.ticks).length + Object.keys(state.values).length) e.preventDefault();
  });
  if (dark.addEventListener) dark.addEventListener("change", showLight);
  loadLight();
  load();
  others();
  setInterval(timers, 500);
})();
