"""The packet for a screen in a real browser (Chromium, driven by Playwright): a whole strip is filled in by keyboard alone,
reloaded, lost with its process and opened again, saved, gathered, and the record compared with what was filled in, and with
what a typed sheet and a table bring. Slips, hold points, names and roles (axe-core), what is touched and how large it is."""

import csv
import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import yaml
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

from _tool import ROOT, run

# A gloved finger needs 12 mm; 96 dots are an inch of CSS.
LEAST = 12 / 25.4 * 96
HEADER = ["job", "procedure", "family", "edition", "prices", "crib", "engine_no", "answers"]
PROBE = """() => {
  const e = document.activeElement;
  return { id: e.id, number: e.dataset.n || "", type: e.type || "", value: e.value || "", checked: e.checked === true,
           again: e.dataset.again || "", hold: e.hasAttribute("data-hold"), index: e.type === "radio" ?
             [...document.getElementsByName(e.name)].map((other) => other.value) : [] };
}"""
KEPT = """() => [...document.querySelectorAll("main [data-n]")].filter((e) => e.type === "radio" || e.type === "checkbox" ?
  e.checked && !e.disabled : e.value !== "").map((e) => [e.dataset.n, e.type === "checkbox" ? "x" : e.value])"""


def expect(what, true):
    if not true:
        sys.exit(f"screen: {what}")


class Browser:
    """A browser process of our own, with a profile that outlives it."""

    def __init__(self, playwright, profile, *more):
        program = next((found for name in ("chromium", "chromium-browser") if (found := shutil.which(name))), None)
        expect("no Chromium is installed", program)
        flags = ["--headless=new", "--no-sandbox", "--no-first-run", "--disable-gpu", "--disable-background-networking",
                 "--lang=en-GB", "--remote-debugging-port=0", f"--user-data-dir={profile}", *more]
        port = Path(profile, "DevToolsActivePort")
        port.unlink(missing_ok=True)
        self.process = subprocess.Popen([program, *flags, "about:blank"], stdout=subprocess.DEVNULL,
                                        stderr=subprocess.DEVNULL, start_new_session=True)
        for _ in range(600):
            if port.exists() and port.read_text().count("\n"):
                break
            time.sleep(0.05)
        self.remote = playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{port.read_text().split()[0]}")
        self.context = self.remote.contexts[0]

    def open(self, path):
        page = self.context.new_page()
        self.asked, self.wrong = [], []
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("pageerror", lambda error: self.wrong.append(str(error)))
        page.on("console", lambda message: self.wrong.append(message.text) if message.type == "error" else None)
        self.context.set_offline(True)
        page.set_viewport_size({"width": 820, "height": 1180})
        page.goto(path.as_uri())
        page.wait_for_selector("html[data-ready]", state="attached")
        return page

    def kill(self):
        """As when the battery is gone: nothing of it can end in good order."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()


def shop(folder, name):
    """A folder with the worked job as it arrives."""
    place = folder / name
    shutil.copytree(ROOT / "procedures", place, ignore=shutil.ignore_patterns("*.job.yaml"))
    ready = yaml.safe_load((ROOT / "procedures/brackwater3.ready.job.yaml").read_text())
    (place / "j.yaml").write_text(yaml.safe_dump({key: ready[key] for key in HEADER}, sort_keys=False))
    return place, ready


def walk(record, keys):
    for key in keys:
        record = record.get(key) if isinstance(record, dict) else None
    return record


def at(record, keys):
    record = walk(record, keys)
    if isinstance(record, dict):
        record = record.get("value", record.get("result"))
    return None if record is None else str(record)


def wanted(plan, ready):
    """What is filled in at each number: what the worked job has there, a tick in every box, words where paper wants words."""
    values = {}
    for number in plan["numbers"]:
        form, keys = number.get("form"), number.get("keys")
        if form == "tick":
            values[number["number"]] = "x"
        elif form is None:
            values[number["number"]] = f"seen {number['number']}"
        elif keys[-1] == "second":
            values[number["number"]] = "RT"
        elif (value := at(ready, keys)) is not None and keys[0] != "done":
            unit = " " + number.get("unit", "")
            typed = value.removesuffix(unit) if form == "quantity" else value
            # Half the shop writes commas.
            values[number["number"]] = typed.replace(".", ",") if form == "quantity" and len(values) % 2 else typed
    return values


def fill(page, values, last=None):
    """Goes from control to control by keyboard alone, and fills in each that is wanted and empty."""
    filled, seen, before, press = set(), set(), "", page.keyboard.press
    while True:
        press("Tab")
        here = page.evaluate(PROBE)
        if here["id"] and here["id"] == before:
            # The month and the year of a day are stops of their own.
            continue
        if here["id"] in seen or (last is not None and len(filled) >= last):
            return
        before = here["id"]
        if here["id"]:
            seen.add(here["id"])
        value = values.get(here["number"])
        if value is None or here["again"]:
            continue
        if here["type"] == "checkbox" and not here["checked"]:
            press("Space")
        elif here["type"] == "radio":
            if here["checked"]:
                continue
            # The first of them has the focus; arrows go on to the others and choose.
            place = here["index"].index(value)
            press("Space")
            for _ in range(place):
                press("ArrowDown")
        elif here["type"] == "date" and here["value"] == "":
            # In which order its parts are typed hangs on the language of the browser.
            page.locator(f"#{here['id']}").fill(value)
        elif here["type"] == "text" and here["value"] == "":
            page.keyboard.insert_text(value)
        elif here["type"] == "select-one" and here["value"] == "":
            page.locator(f"#{here['id']}").select_option(value)
        else:
            continue
        filled.add(here["number"])


def filled_in(page):
    return {number: value for number, value in page.evaluate(KEPT) if not number.startswith("here ")}


def gathered(place, *words):
    run("gather", *words, "--job", place / "j.yaml", "--by", "HK", "--date", "2026-03-05", "--yes")
    return (place / "j.yaml").read_text()


def check_record(plan, values, text):
    """The record says what was filled in, and nothing else."""
    record, off = yaml.safe_load(text), []
    notes = [note["says"] for note in record.get("notes", [])]
    for number in plan["numbers"]:
        value, form, keys = values.get(number["number"]), number.get("form"), number.get("keys") or []
        if form == "tick":
            continue
        if form is None:
            # Words of no place of their own become a note.
            if (f"{number['what']}: {value}" in notes) != (value is not None):
                off.append((number["number"], value, "note"))
            continue
        meant = value
        if value is not None and form == "quantity":
            meant = f"{value.replace(',', '.')} {number['unit']}".strip()
        there = at(record, keys)
        if form == "item":
            there = value if value in [str(item) for item in walk(record, keys) or []] else None
        if there != meant:
            off.append((number["number"], value, there))
    expect(f"the record differs: {off[:5]}", not off)
    done = record.get("done", {})
    steps = {step["id"] for step in plan["steps"] if step["standing"] == "to do"}
    expect(f"steps: {sorted(steps ^ set(done))[:5]}", steps == set(done))
    expect("by whom", all((entry["by"], str(entry["date"])) == ("HK", "2026-03-05") for entry in done.values()))
    return len(values)


def wait_until_kept(page):
    """Waits for the page to say that all is kept. The page forbids words to be run as a script: it is asked from outside."""
    until = time.monotonic() + 30
    while not page.evaluate("document.getElementById('state').value.endsWith(', kept')"):
        expect("what is filled in is kept", time.monotonic() < until)
        time.sleep(0.05)


def whole_strip(playwright, folder):
    place, ready = shop(folder, "screen")
    packet = place / "strip.html"
    run("packet", place / "j.yaml", "-o", packet)
    first = packet.read_bytes()
    run("packet", place / "j.yaml", "-o", packet)
    expect("the same packet gives the same bytes", packet.read_bytes() == first)
    text = first.decode()
    expect("nothing refers to anything outside", not re.search(r"https?:|//[a-z]|@import|url\(|\ssrc=", text.split("<script>")[0]))
    expect("a policy that lets nothing in", "default-src 'none'" in text)
    plan = json.loads(text.split('id="plan">')[1].split("</script>")[0])
    values = wanted(plan, ready)
    profile = folder / "profile"

    browser = Browser(playwright, profile)
    page = browser.open(packet)
    shown = set(page.evaluate("[...document.querySelectorAll('main [data-n]')].map((e) => e.dataset.n)"))
    missing = [n["number"] for n in plan["numbers"] if n["number"] not in shown]
    expect(f"every number of paper has its control: {missing[:5]}", not missing)
    # Day and initials are of whoever fills it in.
    page.clock.set_fixed_time("2026-03-05T10:00:00")
    page.locator("#by").fill("HK")
    fill(page, values, last=len(values) // 2)
    half = filled_in(page)
    expect(f"about half is filled in: {len(half)}", len(half) == len(values) // 2)
    wait_until_kept(page)
    page.reload()
    page.wait_for_selector("html[data-ready]", state="attached")
    expect("a reload loses nothing", filled_in(page) == half)
    page.clock.set_fixed_time("2026-03-05T10:00:00")
    page.locator("#by").focus()
    fill(page, values)
    whole = filled_in(page)
    off = {n: (values.get(n), whole.get(n)) for n in values.keys() | whole.keys() if values.get(n) != whole.get(n)}
    expect(f"all is filled in as it was meant: {list(off.items())[:5]}", not off)
    wait_until_kept(page)
    browser.kill()

    browser = Browser(playwright, profile)
    page = browser.open(packet)
    expect("a dead battery loses nothing", filled_in(page) == whole)
    expect("whose it is", page.locator("#by").input_value() == "HK")
    with page.expect_download() as saving:
        page.locator("#save").focus()
        page.keyboard.press("Enter")
    saved = place / "saved.csv"
    shutil.copy(saving.value.path(), saved)
    expect("nothing was asked of a network", {url.split(":")[0] for url in browser.asked} <= {"file", "blob"})
    expect(f"no error: {browser.wrong}", not browser.wrong)
    browser.kill()

    record = gathered(place, packet, "--table", saved)
    count = check_record(plan, values, record)

    # The same, typed off paper and filled into a table: byte for byte the same record.
    typed, _ = shop(folder, "typed")
    table, _ = shop(folder, "table")
    run("packet", typed / "j.yaml", "-o", typed / "p.pdf")
    shutil.copy(typed / "p.pdf", table / "p.pdf")
    words = [word for number, value in values.items() for word in (f"{number.replace(' ', '')}:", value)]
    expect("a typed sheet gives the same record", gathered(typed, typed / "p.pdf", *words) == record)
    run("gather", table / "p.pdf", "--job", table / "j.yaml", "--table", table / "t.csv")
    rows = list(csv.reader(io.StringIO((table / "t.csv").read_text())))
    known = {row[0] for row in rows}
    for number in plan["numbers"]:
        # What stays on paper is not asked for in a table, and may be written into it.
        if number["number"] not in known:
            rows.append([number["number"], "", "", "", ""])
    for row in rows[1:]:
        row[4] = values.get(row[0], "")
    with open(table / "t.csv", "w", newline="") as out:
        csv.writer(out, delimiter=";").writerows(rows)
    expect("a table gives the same record", gathered(table, table / "p.pdf", "--table", table / "t.csv") == record)
    print(f"{count} values filled in by keyboard, reloaded, killed, saved and gathered; typed and by table the same record")
    return packet, plan


def slips_and_holds(playwright, folder):
    place, _ = shop(folder, "slips")
    (place / "lift.rebuild").write_text(
        'family lift "Lift" { edition 1  origin "invented"  invented }\n'
        'part cover "Cover" { fate reuse }  part shaft "Shaft" { under cover }\n'
        'gauge play "End play" { of shaft  unit mm  plausible 0.01 .. 0.60 mm  worn 0.30 mm }\n'
        'strip open_it "Take the cover off" { take cover  hold "somebody else sees that it is free" }\n'
        'strip out "Take the shaft out" { gauge play  take shaft }\n'
    )
    packet = place / "lift.html"
    run("packet", place / "lift.rebuild", "-o", packet)
    browser = Browser(playwright, folder / "other")
    page = browser.open(packet)
    field = page.locator("main input[data-low]").first
    slip = page.locator(f"#{field.get_attribute('id')}s")
    for typed, said in [
        ("0,15", ""), ("15", "did the decimal point slip? 0.15 would be plausible"), ("0.1.5", "no number"),
        ("0.15 kg", "`kg` is no unit of length"), ("6 thou", ""), (".2", ""), ("9", "outside what can be, 0.01 to 0.6 mm"),
    ]:
        field.fill(typed)
        words = slip.text_content()
        expect(f"{typed}: {words}", said in words and (said != "") == (words != ""))
        expect(f"{typed}: told to a screen reader too", (field.get_attribute("aria-invalid") == "true") == (said != ""))
    again = page.locator("main input[data-again]").first
    field.fill("0.15")
    again.fill("0.25")
    expect("two readings that differ", "differ" in slip.text_content())
    again.fill("0,15")
    expect("two that agree", slip.text_content() == "")
    box = page.locator("article input[type=checkbox]").last
    box.click()
    told = page.locator("#told").text_content()
    expect(f"a hold stops what is behind it: {told}", not box.is_checked() and "Hold point" in told)
    page.locator("#by").fill("HK")
    hold = page.locator("[data-hold]")
    hold.fill("HK")
    box.click()
    expect("nobody signs for himself", not box.is_checked())
    hold.fill("RT")
    box.click()
    expect("signed, work goes on", box.is_checked())
    field.fill("0.1.5")
    page.locator("#save").click()
    told = page.locator("#told").text_content()
    expect(f"what is no number is not saved: {told}", "Nothing is saved" in told)
    browser.kill()
    print("7 values judged while typed, a hold point, a second reading")


def axe(page):
    found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]
    return [(fault["id"], fault["nodes"][0]["html"][:120]) for fault in found]


def look(playwright, folder, packet):
    """Names and roles, contrast in both forms, and whether a gloved finger hits what it is meant to."""
    browser = Browser(playwright, folder / "looks")
    page = browser.open(packet)
    small = page.evaluate(
        """(least) => [...document.querySelectorAll("button, input, select, summary, nav a")].filter((e) => {
          const box = (e.closest("label") || e).getBoundingClientRect();
          return box.width > 0 && (box.width < least || box.height < least);
        }).map((e) => e.outerHTML.slice(0, 100))""", LEAST)
    expect(f"targets of 12 mm: {small[:3]}", not small)
    wide = page.evaluate("document.documentElement.scrollWidth > innerWidth")
    expect("no sideways scrolling", not wide)
    grounds = []
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        grounds.append(page.evaluate("getComputedStyle(document.body).backgroundColor"))
        if os.environ.get("SCREENS"):
            page.screenshot(path=f"{os.environ['SCREENS']}/{scheme}.png")
    expect(f"black on white, and dark: {grounds}", grounds == ["rgb(255, 255, 255)", "rgb(13, 13, 13)"])
    page.locator("#dark").click()
    expect("the switch", page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)")
    page.reload()
    page.wait_for_selector("html[data-ready]", state="attached")
    expect("and it stays so", page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)")
    names = page.evaluate("""() => [...document.querySelectorAll("main [data-n]:not([data-n^=here])")]
      .filter((e) => !e.disabled && !e.getAttribute("aria-label").includes(e.dataset.n)).length""")
    expect(f"names say the number: {names}", names == 0)
    faults = axe(page)
    expect(f"axe-core on the strip: {faults}", not faults)
    page = browser.open(folder / "slips/lift.html")
    page.evaluate("document.documentElement.dataset.look = 'dark'")
    faults = axe(page)
    expect(f"axe-core in the dark: {faults}", not faults)
    browser.kill()
    print("targets, both forms, names and roles")


def main():
    begun = time.time()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder, sync_playwright() as playwright:
        folder = Path(folder)
        slips_and_holds(playwright, folder)
        packet, _ = whole_strip(playwright, folder)
        look(playwright, folder, packet)
    print(f"{time.time() - begun:.0f} s")


main()
