"use strict";
// What is ticked and written on the sheets above: kept in the browser at once, judged while it is typed, saved as a table that
// `benchleaf gather` reads. Plain JavaScript; nothing is fetched and nothing sent.
(() => {
  const plan = JSON.parse(document.getElementById("plan").textContent);
  const print = ["benchleaf", plan.job, plan.phase, plan.fingerprint].join(" ");
  const meanings = new Map(plan.numbers.map((number) => [number.number, number]));
  const standing = new Map(plan.steps.map((step) => [step.id, step.standing]));
  const at = (id) => document.getElementById(id);
  const [state, told, by] = [at("state"), at("told"), at("by")];

  // Every control with its number; what has none is kept here and not gathered.
  const controls = [...document.querySelectorAll("main [data-n]")];
  let nameless = 0;
  const named = new Map();
  for (const control of controls) {
    if (control.disabled) continue;
    const number = control.dataset.n || "here " + ++nameless;
    control.dataset.n = number;
    if (!named.has(number)) named.set(number, []);
    named.get(number).push(control);
  }
  const second = new Map([...document.querySelectorAll("[data-again]")].map((input) => [input.dataset.again, input]));
  const all = [...document.querySelectorAll("main input:not([disabled]), main select")];

  // What is kept: a number's value, by whom and on which day.
  const kept = new Map();
  let database = null;
  let writing = 0;
  let lost = false;

  function today() {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  function opened() {
    return new Promise((done, failed) => {
      const asked = indexedDB.open("benchleaf", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore("kept");
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => failed(asked.error);
      asked.onblocked = () => failed(new Error("blocked"));
    });
  }

  function read() {
    return new Promise((done, failed) => {
      const store = database.transaction("kept").objectStore("kept");
      const range = IDBKeyRange.bound([print], [print, []]);
      const [keys, values] = [store.getAllKeys(range), store.getAll(range)];
      values.onsuccess = () => done(keys.result.map((key, index) => [key[1], values.result[index]]));
      values.onerror = () => failed(values.error);
    });
  }

  // On the disk, not only in memory, before it is called kept: a battery may fail at any time.
  function keep(number, entry) {
    if (entry) kept.set(number, entry);
    else kept.delete(number);
    show();
    if (!database) {
      try {
        localStorage.setItem(print, JSON.stringify([...kept]));
      } catch {
        lose();
      }
      return;
    }
    writing += 1;
    try {
      const change = database.transaction("kept", "readwrite", { durability: "strict" });
      const store = change.objectStore("kept");
      if (entry) store.put(entry, [print, number]);
      else store.delete([print, number]);
      change.oncomplete = () => {
        writing -= 1;
        show();
      };
      change.onabort = lose;
    } catch {
      lose();
    }
  }

  function lose() {
    lost = true;
    show();
    say("This browser does not keep what you fill in. Save the file before you close it.");
  }

  function say(words) {
    told.textContent = words;
  }

  function is_kept(number) {
    return number.startsWith("here ") || meanings.has(number);
  }

  function show() {
    const open = [...named.keys()].filter((number) => meanings.has(number));
    const filled = open.filter((number) => kept.has(number)).length;
    const how = lost ? "NOT KEPT" : writing > 0 ? "keeping" : "kept";
    const value = filled + " of " + open.length + " filled in, " + how;
    if (state.value !== value) state.value = value;
  }

  // A step of which every box is ticked has a bar beside it.
  function mark(step) {
    if (!step) return;
    const boxes = [...step.querySelectorAll("input[type=checkbox]")];
    step.classList.toggle("whole", boxes.length > 0 && boxes.every((box) => box.checked));
  }

  // Numbers as they are written by hand: comma or point, a bare point, a minus sign of print, a unit behind.
  const LENGTHS = { mm: 1, cm: 10, m: 1000, in: 25.4, thou: 0.0254, um: 0.001, "µm": 0.001, "μm": 0.001 };
  function quantity(text, unit) {
    const found = /^([-−]?)(\d*)(?:[.,](\d+))?\s*([^\d\s.,].*)?$/.exec(text.trim());
    if (!found || (found[2] === "" && found[3] === undefined)) return null;
    const number = Number((found[1] ? "-" : "") + (found[2] || "0") + "." + (found[3] || "0"));
    const own = (found[4] || "").trim();
    if (own === "" || own === unit) return { number, judged: true };
    const [from, to] = [LENGTHS[own], LENGTHS[unit]];
    if (to !== undefined && from === undefined) return { wrong: "`" + own + "` is no unit of length" };
    return { number: from && to ? (number * from) / to : number, judged: Boolean(from && to), unit: own };
  }

  // What would explain a reading that can hardly be: the same guesses, in the same order, as when it is gathered.
  const SLIPS = [
    [25.4, "was it read in inches? Write `in` behind it", false],
    [1 / 25.4, "was it read in millimetres? Write `mm` behind it", true],
    [10, "point"], [0.1, "point"], [100, "point"], [0.01, "point"],
    [0.0254, "was it read in thousandths of an inch? Write `thou` behind it"],
    [1000, "point"], [0.001, "point"],
  ];
  function plain(number) {
    return String(Number(number.toPrecision(7)));
  }

  // What is wrong with a value, and whether it can't be gathered at all.
  function judged(control) {
    const text = control.value.trim();
    const meaning = meanings.get(control.dataset.n);
    if (text === "" || text === "-" || !meaning) return null;
    if (meaning.form === "count" && !/^\d+$/.test(text)) return ["no whole number", true];
    if (control.hasAttribute("data-hold")) {
      const same = by.value.trim() !== "" && text.toLowerCase() === by.value.trim().toLowerCase();
      return same ? ["somebody else than " + text + " has to see this", true] : null;
    }
    if (meaning.form !== "quantity") return null;
    const value = quantity(text, meaning.unit);
    if (!value) return ["no number: write it as 74.055 or 74,055, with a unit behind it if it is another", true];
    if (value.wrong) return [value.wrong, true];
    const again = second.get(control.id);
    if (again && again.value.trim() !== "") {
      const other = quantity(again.value, meaning.unit);
      if (!other || other.wrong) return ["the second reading is no number", false];
      if (Math.abs(other.number - value.number) > 1e-9) return ["the two readings differ: read it once more", false];
    }
    const [low, high] = [Number(control.dataset.low), Number(control.dataset.high)];
    if (control.dataset.low === undefined || !value.judged || (value.number >= low && value.number <= high)) return null;
    const inches = ["in", "thou"].includes(value.unit || meaning.unit);
    const fits = (number) => number >= low && number <= high;
    const slip = SLIPS.find(([factor, , only]) => (only === undefined || only === inches) && fits(value.number * factor));
    const outside = "outside what can be, " + plain(low) + " to " + plain(high) + " " + meaning.unit;
    if (!slip) return [outside, false];
    const guess = slip[1] === "point"
      ? "did the decimal point slip? " + plain(value.number * slip[0]) + " would be plausible"
      : slip[1];
    return [outside + ": " + guess, false];
  }

  function judge(control) {
    const slip = judged(control);
    const place = at(control.id + "s");
    if (slip) control.setAttribute("aria-invalid", "true");
    else control.removeAttribute("aria-invalid");
    if (place && place.textContent !== (slip ? slip[0] : "")) {
      place.textContent = slip ? slip[0] : "";
      if (slip && document.activeElement === control) say(control.dataset.n + ": " + slip[0]);
    }
    return slip;
  }

  // The hold point before a box that nobody has signed. Work stops there.
  function stopped(box) {
    if (!box.closest(".step")) return null;
    return [...document.querySelectorAll("[data-hold]")].find((hold) => {
      const step = hold.closest(".step");
      const open = step && !step.classList.contains("waits") && standing.get(step.dataset.step) !== "done";
      const before = hold.compareDocumentPosition(box) & Node.DOCUMENT_POSITION_FOLLOWING;
      return open && before && (hold.value.trim() === "" || judged(hold));
    });
  }

  function taken(number, value) {
    const entry = kept.get(number);
    if (value === "") {
      if (entry) keep(number, null);
    } else if (!entry || entry.value !== value) {
      keep(number, { value, by: by.value.trim(), day: today() });
    }
  }

  function changed(control) {
    const number = control.dataset.n;
    if (control.type === "checkbox") {
      const hold = control.checked && stopped(control);
      if (hold) {
        control.checked = false;
        say("Hold point " + hold.dataset.n + ": work stops until somebody else has seen it and signed.");
        hold.focus();
        return;
      }
      taken(number, control.checked ? "x" : "");
      mark(control.closest(".step"));
    } else if (control.type === "radio") {
      const one = named.get(number).find((other) => other.checked);
      taken(number, one ? one.value : "");
    } else {
      judge(control);
      taken(number, control.value.trim());
    }
    if (told.textContent !== "" && !lost && !control.hasAttribute("aria-invalid")) say("");
  }

  function restore(number, entry) {
    for (const control of named.get(number) || []) {
      if (control.type === "checkbox") control.checked = entry.value !== "";
      else if (control.type === "radio") control.checked = control.value === entry.value;
      else control.value = entry.value;
    }
  }

  // The table, as `gather --table` writes and reads it, with who filled in each line, when, and on which print.
  function table() {
    const cell = (text) => '"' + String(text).replaceAll('"', '""') + '"';
    const rows = [["number", "step", "what", "wanted", "value", "by", "day", "print"]];
    for (const meaning of plan.numbers) {
      const entry = kept.get(meaning.number);
      if (!entry || !named.has(meaning.number)) continue;
      const wanted = meaning.unit || (meaning.form === "tick" ? "x when done" : "");
      rows.push([meaning.number, meaning.step || "", meaning.what, wanted, entry.value, entry.by, entry.day, plan.fingerprint]);
    }
    return rows.map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
  }

  function save() {
    const texts = all.filter((control) => control.dataset.n && meanings.has(control.dataset.n) && control.type !== "radio");
    const slips = texts.map((control) => [control, judge(control)]).filter(([, slip]) => slip);
    const wrong = slips.find(([, slip]) => slip[1]);
    if (wrong) {
      say(wrong[0].dataset.n + ": " + wrong[1][0] + ". Nothing is saved until that is mended or empty.");
      wrong[0].focus();
      return;
    }
    const link = document.createElement("a");
    const name = [plan.job || "packet", plan.phase, plan.fingerprint].join("-").replace(/[^\p{L}\p{N}-]+/gu, "_");
    link.href = URL.createObjectURL(new Blob([table()], { type: "text/csv" }));
    link.download = name + ".csv";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    const odd = slips.length > 0 ? " " + slips.length + " of them can hardly be right: you will be asked about them." : "";
    say("Saved as " + link.download + "." + odd + (by.value.trim() ? "" : " Without initials: say who it was when it is gathered."));
  }

  function next() {
    const here = all.indexOf(document.activeElement);
    const open = (control) => control.dataset.n && meanings.has(control.dataset.n) && !kept.has(control.dataset.n);
    const found = all.slice(here + 1).find(open) || all.find(open);
    if (found) found.focus();
    else say("Nothing is open on these sheets.");
  }

  function dark(look) {
    const system = matchMedia("(prefers-color-scheme: dark)").matches;
    if (look) document.documentElement.dataset.look = look;
    const now = document.documentElement.dataset.look || (system ? "dark" : "light");
    at("dark").setAttribute("aria-pressed", String(now === "dark"));
    return now;
  }

  function remembered(key, value) {
    try {
      if (value !== undefined) localStorage.setItem(key, value);
      return localStorage.getItem(key);
    } catch {
      return null;
    }
  }

  function forget() {
    if (!confirm("Forget all that is kept here of this print? What is not saved is gone.")) return;
    for (const number of [...kept.keys()]) keep(number, null);
    for (const control of all) {
      if (control.type === "checkbox" || control.type === "radio") control.checked = control.defaultChecked;
      else control.value = control.defaultValue || "";
      if (control.dataset.n) judge(control);
    }
    document.querySelectorAll(".step").forEach(mark);
  }

  document.addEventListener("input", (event) => {
    const control = event.target;
    if (control === by) {
      remembered("benchleaf by", by.value);
      document.querySelectorAll("[data-hold]").forEach(judge);
    } else if (control.dataset.again) {
      judge(at(control.dataset.again));
    } else if (control.dataset.n) {
      changed(control);
    }
  });

  // A chosen result is taken back by choosing it again, or by Delete.
  let chosen = null;
  document.addEventListener("pointerdown", (event) => {
    const box = event.target.closest(".box");
    const radio = box && box.querySelector("input[type=radio]");
    chosen = radio && radio.checked ? radio : null;
  });
  document.addEventListener("click", (event) => {
    if (event.target === chosen && event.target.checked) {
      chosen.checked = false;
      changed(chosen);
    }
    if (event.target.type === "radio") chosen = null;
  });
  document.addEventListener("keydown", (event) => {
    const control = event.target;
    if (control.type === "radio" && (event.key === "Delete" || event.key === "Backspace")) {
      named.get(control.dataset.n).forEach((other) => (other.checked = false));
      changed(control);
      event.preventDefault();
    } else if (event.key === "Enter" && all.includes(control)) {
      const following = all[all.indexOf(control) + 1];
      if (following) following.focus();
      event.preventDefault();
    }
  });
  at("next").addEventListener("click", next);
  at("save").addEventListener("click", save);
  at("forget").addEventListener("click", forget);
  at("dark").addEventListener("click", () => remembered("benchleaf look", dark(dark() === "dark" ? "light" : "dark")));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => dark());

  async function begin() {
    dark(remembered("benchleaf look") || undefined);
    by.value = remembered("benchleaf by") || "";
    let entries = [];
    try {
      database = await opened();
      entries = await read();
    } catch {
      database = null;
      try {
        entries = JSON.parse(localStorage.getItem(print) || "[]");
        localStorage.setItem(print, JSON.stringify(entries));
      } catch {
        lose();
      }
    }
    for (const [number, entry] of entries) {
      if (!is_kept(number)) continue;
      kept.set(number, entry);
      restore(number, entry);
    }
    all.forEach((control) => control.dataset.n && control.type !== "radio" && judge(control));
    document.querySelectorAll(".step").forEach(mark);
    say("");
    if (lost) lose();
    show();
    document.documentElement.dataset.ready = "";
  }
  begin();
})();
