"""Records in every style of YAML that people and editors write, entered into by `record` and read by PyYAML before and
after: nothing that stood there is gone or means anything else, the entry stands where it belongs, every comment is kept,
and what is refused is as it was to the byte. The records are made up at random, from a seed.

`python tests/outside/record_styles.py [RECORDS] [SEED]`; RECORDS is few where nothing is said, so that it takes a minute."""

import os
import random
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import yaml

from _tool import TOOL

PROCEDURE = """-- Made up for a check.
family pump "Pump" { edition 1  origin "invented"  invented }
axis side = left, right
part cover[side] "Cover" { held by screws[side] }
fasteners screws[side] 4 "Screw" { thread M6  drive 10 mm  reusable }
ask seal "Which seal?" = lip, face
gauge gap[side] "Gap" { of cover[side]  unit mm  worn 0.5 mm  plausible 0 mm .. 2 mm }
strip off "Cover off" {
    each side apart
    undo screws
    take cover
    when seal = lip do "Keep the lip."
}
survey read "Gap" {
    each side apart
    gauge gap
}
"""
# Letters that other programs stumble on; all of them can be set on a page.
WORDS = ["bent", "5°", "größer", "usé", "Ødegård", "čšž", "«ici»", "no", "yes", "on", "null", "~", "1e3", "0x1f", "012", "1_000",
         "2026-03-01", "12:30", "a: b", "x #y", "#z", "- d", "? q", "it's", 'he said "so"', "back\\slash", "{brace}", "[list]", "a, b",
         "&and", "*star", "!bang", "%per", "@at", "`tick`", "|bar", ">more", "=", "<<", "tab\there", "trailing", "é", "½", "ß", "Δ"]


class Style:
    """One hand's habits, and the text that comes of them."""

    def __init__(self, chance):
        self.chance = chance
        self.step = chance.choice([1, 2, 2, 2, 4, 7])
        self.comments = 0
        self.flow_often = chance.choice([0, 2, 5])

    def comment(self):
        self.comments += 1
        return f"# {self.chance.choice(WORDS)} %{self.comments}%"

    def tail(self):
        """What may stand behind a value on its line."""
        roll = self.chance.randrange(8)
        return f"  {self.comment()}" if roll == 0 else "  " if roll == 1 else ""

    def between(self, indent):
        """What may stand between two lines."""
        roll = self.chance.randrange(12)
        if roll == 0:
            return "\n"
        if roll == 1:
            return " " * self.chance.choice([0, indent]) + self.comment() + "\n"
        return ""

    def double(self, text):
        out = []
        for letter in text:
            if letter in '"\\':
                out.append("\\" + letter)
            elif letter == "\n":
                out.append("\\n")
            elif letter == "\t":
                out.append("\\t")
            elif ord(letter) > 126 and self.chance.randrange(3) == 0:
                out.append(f"\\u{ord(letter):04x}" if ord(letter) > 255 else f"\\x{ord(letter):02x}")
            else:
                out.append(letter)
        return '"' + "".join(out) + '"'

    def single(self, text):
        return "'" + text.replace("'", "''") + "'"

    def inline(self, text, flow):
        """A text on one line, in any of the ways that mean it."""
        ways = [self.double]
        if "\n" not in text and "\t" not in text:
            ways.append(self.single)
            plain = f"[{text}]" if flow else f"a: {text}"
            try:
                read = yaml.load(plain, yaml.BaseLoader)
                value = read[0] if flow and len(read) == 1 else None if flow else read["a"]
                # Nothing, and a sign for nothing, are no text.
                if value == text and text.lower() not in ("", "~", "null"):
                    ways += [str] * 3
            except (yaml.YAMLError, TypeError, KeyError):
                pass
        return self.chance.choice(ways)(text)

    def block_text(self, text, indent):
        """A text under a bar or a fold."""
        sign = self.chance.choice("|>")
        lines = text.split("\n")
        if sign == ">":
            # A line end within is an empty line more.
            lines = [part for line in lines for part in (line, "")][:-1]
        pad = " " * indent
        body = "".join(f"{pad}{line}\n" if line else "\n" for line in lines)
        return f"{sign}-{self.tail()}\n{body}"

    def value(self, value, indent, flow=False):
        """A value behind its key or dash, with its line end where it isn't in braces."""
        if isinstance(value, str):
            if not flow and self.chance.randrange(5) == 0 and value.strip() == value and "\t" not in value and value:
                return " " + self.block_text(value, indent)
            text = self.inline(value, flow)
            return text if flow else f" {text}{self.tail()}\n"
        if flow or (self.flow_often and self.chance.randrange(self.flow_often) == 0) or not value:
            gap = self.chance.choice(["", " "])
            if isinstance(value, list):
                inner = ", ".join(self.value(item, 0, True) for item in value)
                text = f"[{gap}{inner}{gap}]"
            else:
                inner = ", ".join(f"{self.key(key, True)}: {self.value(item, 0, True)}" for key, item in value.items())
                text = f"{{{gap}{inner}{gap}}}"
            return text if flow else f" {text}{self.tail()}\n"
        head = f"{self.tail()}\n"
        if isinstance(value, list):
            # A list may stand at the column of its key.
            column = indent if self.chance.randrange(3) else max(0, indent - self.step)
            return head + self.items(value, column)
        return head + self.fields(value, indent)

    def items(self, items, column):
        out = []
        for item in items:
            out.append(self.between(column))
            pad = " " * column
            if isinstance(item, dict) and self.chance.randrange(2):
                # The first field stands on the line of the dash.
                fields = self.fields(item, column + 2)
                out.append(f"{pad}- {fields.lstrip(' ')}" if fields.startswith(" ") else f"{pad}-\n{fields}")
            else:
                out.append(f"{pad}-{self.value(item, column + max(2, self.step))}")
        return "".join(out)

    def key(self, key, flow=False):
        if self.chance.randrange(4) == 0:
            return self.inline(key, flow)
        return self.double(key) if flow and set(key) & set(",[]{}") else key

    def fields(self, fields, indent):
        out = []
        for number, (key, value) in enumerate(fields.items()):
            out.append("" if number == 0 else self.between(indent))
            out.append(f"{' ' * indent}{self.key(key)}:{self.value(value, indent + self.step)}")
        return "".join(out)

    def record(self, fields):
        text = self.between(0) + self.fields(fields, 0)
        if self.chance.randrange(6) == 0:
            text = "---\n" + text
        if self.chance.randrange(8) == 0:
            text = text.rstrip("\n")
        if self.chance.randrange(5) == 0:
            text = text.replace("\n", "\r\n")
        return ("\ufeff" if self.chance.randrange(8) == 0 else "") + text


def words(chance, lines=1):
    text = " ".join(chance.choice(WORDS) for _ in range(chance.randrange(1, 5)))
    return text + ("\n" + words(chance) if lines > 1 and chance.randrange(4) == 0 else "")


def fields(chance):
    """A record's content."""
    content = {"job": words(chance), "procedure": "pump.rebuild"}
    may = {
        "customer": lambda: words(chance),
        "engine_no": lambda: words(chance),
        "notes": lambda: [{"about": chance.choice(["cover[left]", "cover[right]", "engine", "off[left]"]), "says": words(chance, 2)}
                          for _ in range(chance.randrange(1, 4))],
        "answers": lambda: {"seal": chance.choice(["lip", "face"])},
        "approved": lambda: [{"by": words(chance)}],
        "readings": lambda: {"as_found": {f"gap[{side}]": f"0.{chance.randrange(10, 40)} mm" for side in ("left", "right")
                                          if chance.randrange(2)} or {"gap[left]": "0.20 mm"}},
        "done": lambda: {"off[left]": {"by": words(chance), "date": "2026-03-05"}},
    }
    for key in chance.sample(list(may), chance.randrange(len(may) + 1)):
        content[key] = may[key]()
    order = list(content)
    chance.shuffle(order)
    return {key: content[key] for key in order}


def entries(chance):
    """Words of entries, and what each puts into the record's content."""
    # What begins with a dash would be an option.
    text = f"seen: {words(chance)}"
    ways = [
        (["note", "cover[right]", text], lambda new: any(
            note["says"] == text and note["about"].replace(" ", "") == "cover[right]" for note in new["notes"])),
        (["reading", "gap", "right", "0.31", "mm", "--again"], lambda new: "0.31" in str(new["readings"]["as_found"]["gap[right]"])),
        (["answer", "seal", "lip", "--again"], lambda new: "lip" in str(new["answers"]["seal"])),
        (["done", "off", "--by", "HK"], lambda new: "off" in new["done"] or {"off[left]", "off[right]"} <= set(new["done"])),
    ]
    return chance.sample(ways, 3)


def kept(old, new, changed):
    """Whether all of the old is in the new; what an entry may change is known by its key."""
    if isinstance(old, dict):
        return isinstance(new, dict) and all(
            key in new and (kept(value, new[key], changed) or key in changed) for key, value in old.items())
    if isinstance(old, list):
        return isinstance(new, list) and len(new) >= len(old) and all(kept(a, b, changed) for a, b in zip(old, new))
    return old == new


def case(seed):
    """One record and three entries into it; how many were written, and why others were refused."""
    chance = random.Random(seed)
    style = Style(chance)
    content = fields(chance)
    text = style.record(content)
    try:
        meant = yaml.load(text, yaml.BaseLoader)
    except yaml.YAMLError as error:
        sys.exit(f"seed {seed}: this check writes what is no YAML: {error}\n{text}")
    if meant != content:
        sys.exit(f"seed {seed}: this check writes what it doesn't mean:\n{text}\n{content}\n{meant}")
    written, refused = 0, []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "pump.rebuild").write_text(PROCEDURE, "utf-8")
        path = folder / "job.yaml"
        path.write_bytes(text.encode("utf-8"))
        for line, there in entries(chance):
            before = path.read_bytes()
            done = subprocess.run([TOOL, "record", path, *line], capture_output=True, text=True, timeout=60)
            after = path.read_bytes()
            tell = f"seed {seed}, {line}: exit {done.returncode}\n{done.stderr}\n{before.decode()}\n=====\n{after.decode()}"
            if done.returncode != 0:
                if done.returncode not in (1, 2):
                    sys.exit(f"it broke: {tell}")
                if after != before:
                    sys.exit(f"refused, and yet changed: {tell}")
                refused.append(tell)
                continue
            old, new = (yaml.load(data.decode("utf-8-sig"), yaml.BaseLoader) for data in (before, after))
            changed = {"gap[right]", "seal"}
            if not kept(old, new, changed) or not there(new):
                sys.exit(f"a word is lost, or the entry isn't there: {tell}")
            gone = [number for number in range(1, style.comments + 1) if f"%{number}%" not in after.decode()]
            if gone:
                sys.exit(f"a comment is gone: {tell}")
            ends = {b"\r\n" in before, b"\n" in before.replace(b"\r\n", b"")}
            if b"\r\n" in before and ends == {True, False} and b"\n" in after.replace(b"\r\n", b""):
                sys.exit(f"line ends are mixed now: {tell}")
            written += 1
    return written, refused


def main():
    records = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        told = list(pool.map(case, range(first, first + records)))
    written = sum(count for count, _ in told)
    refused = [why for _, whys in told for why in whys]
    # All of it is legal; what were refused would be safe, but would say little.
    if len(refused) * 100 > written:
        sys.exit(f"{len(refused)} of {written + len(refused)} entries are refused:\n" + "\n".join(refused[:40]))
    print(f"{records} records in every style: {written} entries written and read back, {len(refused)} refused")


if __name__ == "__main__":
    main()
