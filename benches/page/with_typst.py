"""Sets the exported content with typst: `with_typst.py FOLDER OUT.pdf`. Prints the seconds from content to file."""

import json
import sys
import time
from pathlib import Path

import typst

HEAD = """
#set document(title: {title})
#set page(paper: "a4", margin: (left: 60pt, right: 40pt, top: 40pt, bottom: 70pt), footer: context [
  #line(length: 100%, stroke: 0.6pt)
  #set text(11pt)
  #grid(columns: (1fr, auto), row-gutter: 4pt, {procedure}, strong[page #counter(page).display() of
    #counter(page).final().first()], {job}, mono({fingerprint}))
])
#let mono(words) = text(font: "DejaVu Sans Mono", words)
#set text(font: "DejaVu Sans", stretch: 75%, size: 11.5pt, lang: "en", hyphenate: false)
#set par(leading: 0.45em)
#show heading.where(level: 1): set text(26pt)
#show heading.where(level: 2): set text(17pt)
#show heading.where(level: 3): set text(16pt)
#let tick = box(square(size: 15.6pt, stroke: 1.1pt), baseline: 4pt)
#let blank = box(line(length: 62pt, stroke: 0.7pt))
#let step(number, body) = block(breakable: false, above: 26pt,
  grid(columns: (48pt, 1fr), column-gutter: 10pt, text(30pt, strong(number)), body))
#let ticked(body) = block(above: 8pt, grid(columns: (16pt, 1fr), column-gutter: 10pt, tick, body))
#let grid-of(names) = block(above: 7pt, names.map(name => box(width: 48pt, [#tick #strong(name)])).join())
#let warning(word, weight, body) = block(breakable: false, width: 100%, above: 10pt, stroke: weight, inset: 9pt,
  [#text(15pt, strong(word)) \\ #body])
"""
WEIGHTS = {"DANGER": 4.5, "WARNING": 3.0, "CAUTION": 1.5, "NOTICE": 0.7}


def quoted(words):
    return json.dumps(words, ensure_ascii=False)


def text(runs):
    """Runs as content."""
    forms = {"plain": "#{}", "bold": "#strong({})", "mono": "#mono({})"}
    return "".join(forms[style].format(quoted(words)) for words, style in runs)


def table(block):
    columns = ", ".join(f"{column['share']}fr" for column in block["columns"])
    align = ", ".join("right" if column["right"] else "left" for column in block["columns"])
    heads = ", ".join(f"strong({quoted(column['heading'])})" for column in block["columns"])
    out = [f"#block(above: 14pt, strong[{text(block['caption'])}])"]
    out.append(f"#table(columns: ({columns},), align: ({align},), stroke: (bottom: 0.35pt), table.header({heads}),")
    for row in block["rows"]:
        for cell in row:
            if "tick" in cell:
                out.append("[#tick],")
            elif "blank" in cell:
                out.append(f"[#blank #{quoted(cell['blank'])}],")
            else:
                out.append(f"[{text(cell['text'])}],")
    return "\n".join([*out, ")"])


def figure(block, width=400.0):
    holes = block["holes"]
    spread = max(hole["x"] for hole in holes) or 1.0
    scale = (width - 30.0) / spread
    height = max(hole["y"] for hole in holes) * scale + 50.0
    marks = "".join(
        f"#place(dx: {hole['x'] * scale}pt, dy: {height - 50.0 - hole['y'] * scale}pt, [#circle(radius: 11pt, "
        f"stroke: 1pt, align(center + horizon, strong({quoted(hole['number'])})))#text(9pt, {quoted(hole['letter'])})])"
        for hole in holes
    )
    return (
        f"#figure(alt: {quoted(block['alternative'])}, caption: [{text(block['caption'])}], "
        f"box(width: {width}pt, height: {height}pt)[{marks}])"
    )


def line(item):
    kind = item["kind"]
    boxes = item.get("boxes", [])
    grid = f"#grid-of(({', '.join(map(quoted, boxes))},))" if len(boxes) > 1 else ""
    if kind in ("act", "torque"):
        words = f"#text(13pt)[{text(item['text'])}]"
        if kind == "torque":
            words += f" \\ #text(16pt, strong({quoted(item['value'])})) #{quoted(item['condition'])}"
        return (f"#ticked[{words}]" if len(boxes) == 1 else f"#block(above: 8pt)[{words}]") + grid
    if kind == "reading":
        blanks = " ".join(f"#strong({quoted(name)}) #blank #{quoted(item['unit'])}" for name in item["blanks"])
        return f"#block[#text(13pt)[{text(item['text'])}] \\ {blanks} #{quoted(item['limit'])}]"
    if kind == "if":
        return f"#block[#strong[If] {text(item['condition'])}: {text(item['action'])}]"
    if kind in ("note", "hold"):
        return f"#block[{text(item['text'])}]"
    return block(item)


def block(item):
    kind = item["kind"]
    if kind == "heading":
        return f"#heading(level: {item['level']})[{text(item['text'])}]"
    if kind == "paragraph":
        return f"#par[{text(item['text'])}]"
    if kind == "table":
        return table(item)
    if kind == "figure":
        return figure(item)
    if kind == "hazard":
        body = " \\ ".join(text(words) for words in item["texts"])
        wear = f" \\ #strong[Wear] #{quoted(', '.join(item['wear']))}" if item["wear"] else ""
        return f"#warning({quoted(item['word'])}, {WEIGHTS[item['word']]}pt, [{body}{wear}])"
    facts = " · ".join(text(fact) for fact in item["facts"])
    body = [f"#heading(level: 3)[{text(item['title'])}]", f"#text(11pt)[{facts}]", text(item["reason"])]
    body += [f"#block(stroke: 2.2pt, inset: 7pt)[WAIT for {text(held)}]" for held in item["held"]]
    body += [line(part) for part in item["lines"]]
    return f"#step({quoted(item['number'])}, [\n" + "\n\n".join(body) + "\n])"


def source(content):
    foot = {key: quoted(value) for key, value in content["footer"].items()}
    head = HEAD.replace("{title}", quoted(content["title"]))
    for key, value in foot.items():
        head = head.replace("{" + key + "}", value)
    # The feet use a word that has to be known before them.
    mono = '#let mono(words) = text(font: "DejaVu Sans Mono", words)\n'
    out = [mono + head.replace(mono, "")]
    for index, sheet in enumerate(content["sheets"]):
        out += ["#pagebreak()"] if index else []
        out += [f"#heading(level: 1, {quoted(sheet['title'])})", f"#text(13pt, {quoted(sheet['subtitle'])})"]
        out += [block(item) for item in sheet["blocks"]]
    return "\n\n".join(out)


def main():
    folder, out = Path(sys.argv[1]), sys.argv[2]
    content = json.loads((folder / "content.json").read_text())
    start = time.perf_counter()
    path = folder / "content.typ"
    path.write_text(source(content))
    typst.compile(str(path), output=out, font_paths=[str(folder)], ignore_system_fonts=True)
    print(time.perf_counter() - start)


if __name__ == "__main__":
    main()
