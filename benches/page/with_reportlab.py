"""Sets the exported content with reportlab: `with_reportlab.py FOLDER OUT.pdf`. Prints the seconds from content to
file."""

import json
import sys
import time
from pathlib import Path
from xml.sax.saxutils import escape

from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, KeepTogether, PageBreak, Paragraph, SimpleDocTemplate, Spacer, Table

WIDTH = A4[0] - 100
FACES = {"plain": "regular", "bold": "bold", "mono": "mono"}
WEIGHTS = {"DANGER": 4.5, "WARNING": 3.0, "CAUTION": 1.5, "NOTICE": 0.7}


def style(size, leading, face="regular", **more):
    return ParagraphStyle(f"{face}{size}", fontName=face, fontSize=size, leading=leading, **more)


BODY, SMALL, WORK = style(11.5, 16), style(11, 14.5), style(13, 17.5)
RIGHT = style(11, 14.5, alignment=TA_RIGHT)
HEADINGS = {1: style(26, 31, "bold"), 2: style(17, 21, "bold", spaceBefore=24, keepWithNext=1)}
TITLE, NUMBER, TORQUE = style(16, 20, "bold"), style(30, 34, "bold"), style(16, 21, "bold")
SIGNAL, HAZARD, HEAD = style(15, 20, "bold"), style(12.5, 16.5), style(11, 14, "bold")


def text(runs):
    return "".join(f'<font face="{FACES[kind]}">{escape(words)}</font>' for words, kind in runs)


class Tick(Flowable):
    def __init__(self):
        super().__init__()
        self.width = self.height = 15.6

    def draw(self):
        self.canv.setLineWidth(1.1)
        self.canv.rect(0.55, 0.55, 14.5, 14.5)


class Blank(Flowable):
    def __init__(self, words):
        super().__init__()
        self.words, self.width, self.height = words, 110, 20

    def draw(self):
        self.canv.setLineWidth(0.7)
        self.canv.line(0, 4, 62, 4)
        self.canv.setFont("regular", 11)
        self.canv.drawString(66, 4, self.words)


class Joint(Flowable):
    def __init__(self, holes, width=400.0):
        super().__init__()
        self.holes, self.width = holes, width
        self.scale = (width - 40.0) / (max(hole["x"] for hole in holes) or 1.0)
        self.height = max(hole["y"] for hole in holes) * self.scale + 50.0

    def draw(self):
        for hole in self.holes:
            x, y = hole["x"] * self.scale + 14, hole["y"] * self.scale + 26
            self.canv.setLineWidth(1)
            self.canv.circle(x, y, 11)
            self.canv.setFont("bold", 12)
            self.canv.drawCentredString(x, y - 4, hole["number"])
            self.canv.setFont("regular", 9)
            self.canv.drawCentredString(x, y - 22, hole["letter"])


class Footed(Canvas):
    """A canvas that knows how many pages there are before it writes their feet."""

    footer = {}

    def __init__(self, *arguments, **more):
        super().__init__(*arguments, **more)
        self.kept = []

    def showPage(self):
        self.kept.append(dict(self.__dict__))
        self._startPage()

    def save(self):
        for number, page in enumerate(self.kept, 1):
            self.__dict__.update(page)
            self.setLineWidth(0.6)
            self.line(60, 54, A4[0] - 40, 54)
            self.setFont("regular", 11)
            self.drawString(60, 40, self.footer["procedure"])
            self.drawString(60, 26, self.footer["job"])
            self.setFont("bold", 11)
            self.drawRightString(A4[0] - 40, 40, f"page {number} of {len(self.kept)}")
            self.setFont("mono", 11)
            self.drawRightString(A4[0] - 40, 26, self.footer["fingerprint"])
            super().showPage()
        super().save()


def table(item, width):
    columns = item["columns"]
    shares = sum(column["share"] for column in columns)
    widths = [column["share"] / shares * width for column in columns]
    rows = [[Paragraph(escape(column["heading"]), HEAD) for column in columns]]
    for row in item["rows"]:
        cells = []
        for cell, column in zip(row, columns):
            if "tick" in cell:
                cells.append(Tick())
            elif "blank" in cell:
                cells.append(Blank(cell["blank"]))
            else:
                cells.append(Paragraph(text(cell["text"]), RIGHT if column["right"] else SMALL))
        rows.append(cells)
    rules = [("LINEBELOW", (0, 0), (-1, -1), 0.35, "black"), ("VALIGN", (0, 0), (-1, -1), "MIDDLE")]
    return [Spacer(0, 10), Paragraph(text(item["caption"]), HEAD), Table(rows, widths, repeatRows=1, style=rules)]


def framed(parts, weight, width):
    return Table([[parts]], [width], style=[("BOX", (0, 0), (-1, -1), weight, "black")])


def beside(left, right, first, width):
    plain = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    return Table([[left, right]], [first, width - first], style=plain)


def grid(names, width):
    cells = [beside(Tick(), Paragraph(escape(name), HEAD), 20, 48) for name in names]
    columns = max(1, int(width // 52))
    rows = [cells[start : start + columns] for start in range(0, len(cells), columns)]
    rows[-1] += [""] * (columns - len(rows[-1])) if len(rows) > 1 else []
    return Table(rows, [52] * len(rows[0]), hAlign="LEFT")


def line(item, width):
    kind, boxes = item["kind"], item.get("boxes", [])
    if kind in ("act", "torque"):
        words = [Paragraph(text(item["text"]), WORK)]
        if kind == "torque":
            words.append(Paragraph(f"{escape(item['value'])} {escape(item['condition'])}", TORQUE))
        made = [beside(Tick(), words, 26, width)] if len(boxes) == 1 else words
        return made + ([grid(boxes, width)] if len(boxes) > 1 else [])
    if kind == "reading":
        named = [[Paragraph(escape(name), HEAD), Blank(item["unit"])] for name in item["blanks"]]
        return [Paragraph(text(item["text"]), WORK), Paragraph(escape(item["limit"]), SMALL), Table(named, [60, 120])]
    if kind == "if":
        return [Paragraph(f"<b>If</b> {text(item['condition'])}: {text(item['action'])}", BODY)]
    if kind in ("note", "hold"):
        return [Paragraph(text(item["text"]), BODY)]
    return block(item, width)


def block(item, width):
    kind = item["kind"]
    if kind == "heading":
        return [Paragraph(text(item["text"]), HEADINGS[2])]
    if kind == "paragraph":
        return [Paragraph(text(item["text"]), BODY)]
    if kind == "table":
        return table(item, width)
    if kind == "figure":
        return [Joint(item["holes"]), Paragraph(text(item["caption"]), SMALL)]
    if kind == "hazard":
        words = [Paragraph(item["word"], SIGNAL), *(Paragraph(text(words), HAZARD) for words in item["texts"])]
        words += [Paragraph(f"Wear {escape(', '.join(item['wear']))}", HEAD)] if item["wear"] else []
        return [framed(words, WEIGHTS[item["word"]], width)]
    room = width - 58
    body = [Paragraph(text(item["title"]), TITLE)]
    body.append(Paragraph(" · ".join(text(fact) for fact in item["facts"]), SMALL))
    body.append(Paragraph(text(item["reason"]), SMALL))
    body += [framed([Paragraph(f"WAIT for {text(held)}", HAZARD)], 2.2, room) for held in item["held"]]
    for part in item["lines"]:
        body += line(part, room)
    rows = [[Paragraph(item["number"], NUMBER) if index == 0 else "", part] for index, part in enumerate(body)]
    plain = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    return [Spacer(0, 20), KeepTogether([Table(rows, [58, room], style=plain)])]


def main():
    folder, out = Path(sys.argv[1]), sys.argv[2]
    content = json.loads((folder / "content.json").read_text())
    start = time.perf_counter()
    for face in FACES.values():
        pdfmetrics.registerFont(TTFont(face, folder / f"{face}.ttf"))
    Footed.footer = content["footer"]
    story = []
    for index, sheet in enumerate(content["sheets"]):
        story += [PageBreak()] if index else []
        story += [Paragraph(escape(sheet["title"]), HEADINGS[1]), Paragraph(escape(sheet["subtitle"]), WORK)]
        for item in sheet["blocks"]:
            story += block(item, WIDTH)
    margins = {"leftMargin": 54, "rightMargin": 34, "topMargin": 34, "bottomMargin": 64}
    SimpleDocTemplate(out, pagesize=A4, title=content["title"], **margins).build(story, canvasmaker=Footed)
    print(time.perf_counter() - start)


if __name__ == "__main__":
    main()
