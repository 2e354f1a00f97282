"""`benchleaf editor` as an editor meets it: the real process, driven by the client of pygls (a general library for language
servers). Complaints while typing, none of them stale; help, names, outline, colours, mends, form, order; and the same
complaints as `check` after random edits."""

import asyncio
import random
import shutil
import sys
import tempfile
import time
from pathlib import Path

from lsprotocol import types as lsp
from pygls.lsp.client import LanguageClient

from _tool import ROOT, TOOL, run_json

SEED = 7
# After each of so many edits the complaints must be those of `check`, word by word and place by place.
EDITS = 1000


class Editor:
    def __init__(self, folder):
        self.folder = folder
        self.client = LanguageClient("test", "1")
        self.published = {}
        self.orders = 0
        self.shown = []

        @self.client.feature(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
        def told(params):
            self.published[params.uri] = params

        @self.client.feature(lsp.WINDOW_SHOW_MESSAGE)
        def shown(params):
            self.shown.append(params.message)

        @self.client.feature("benchleaf/orderChanged")
        def ordered(params):
            self.orders += 1

    async def start(self):
        await self.client.start_io(str(TOOL), "editor")
        answer = await self.client.initialize_async(
            lsp.InitializeParams(capabilities=lsp.ClientCapabilities(), root_uri=self.folder.as_uri())
        )
        self.client.initialized(lsp.InitializedParams())
        return answer

    def open(self, path, text=None):
        text = path.read_text() if text is None else text
        self.version = 1
        self.client.text_document_did_open(
            lsp.DidOpenTextDocumentParams(lsp.TextDocumentItem(path.as_uri(), "rebuild", 1, text))
        )

    def change(self, path, changes):
        self.version += 1
        self.client.text_document_did_change(
            lsp.DidChangeTextDocumentParams(lsp.VersionedTextDocumentIdentifier(self.version, path.as_uri()), changes)
        )

    async def told(self, path, version):
        for _ in range(3000):
            known = self.published.get(path.as_uri())
            if known is not None and known.version == version:
                return known.diagnostics
            await asyncio.sleep(0.005)
        sys.exit(f"no complaints of version {version} came within 15 s")

    async def stop(self):
        await self.client.shutdown_async(None)
        self.client.exit(None)
        await self.client.stop()


def position(text, at):
    before = text[:at]
    return lsp.Position(before.count("\n"), len(before[before.rfind("\n") + 1 :].encode("utf-16-le")) // 2)


def expect(what, true):
    if not true:
        sys.exit(f"editor: {what}")


async def features(folder):
    path = folder / "brackwater3.rebuild"
    text = path.read_text()
    uri = lsp.TextDocumentIdentifier(path.as_uri())
    editor = Editor(folder)
    await editor.start()
    editor.open(path)
    expect("the shipped family has complaints", not [d for d in await editor.told(path, 1) if d.severity == 1])
    at = lambda words, behind=0: position(text, text.index(words) + behind)

    home = await editor.client.text_document_definition_async(lsp.DefinitionParams(uri, at("held by oil_drain", 9)))
    line = text[: text.index("fasteners oil_drain")].count("\n")
    expect("definition of a set", home.range.start.line == line)
    shared = await editor.client.text_document_definition_async(lsp.DefinitionParams(uri, at("tools camera", 7)))
    expect("definition in another file", shared.uri.endswith("/shared/tools.rebuild"))

    uses = await editor.client.text_document_references_async(
        lsp.ReferenceParams(lsp.ReferenceContext(True), uri, at("state coolant ", 7))
    )
    expect(f"references of a state: {len(uses)}", len(uses) >= 3)

    for _ in range(2000):
        if editor.orders:
            break
        await asyncio.sleep(0.01)
    said = lambda answer: answer.contents.value if answer else ""
    over = said(await editor.client.text_document_hover_async(lsp.HoverParams(uri, at("joint exchanger_joint", 8))))
    expect(f"hover over a joint: {over}", "preload of a fastener" in over and "estimate" in over)
    over = said(await editor.client.text_document_hover_async(lsp.HoverParams(uri, at("strip drain_coolant", 8))))
    expect(f"hover over a step: {over}", "place " in over and "in the strip" in over and "behind `make_safe`" in over)
    over = said(await editor.client.text_document_hover_async(lsp.HoverParams(uri, at("part exhaust_elbow", 7))))
    expect(f"hover over a part: {over}", "`elbow_off`" in over and "build step" in over)
    over = said(await editor.client.text_document_hover_async(lsp.HoverParams(uri, at("stand out 42 mm"))))
    expect(f"hover over a word: {over}", over.startswith("`stand out`"))

    order = await editor.client.protocol.send_request_async("benchleaf/order", {"uri": path.as_uri()})
    expect("the order begins with the first step", order[0]["step"] == "look_over" and order[0]["phase"] == "strip")
    expect("the order has every phase", {step["phase"] for step in order} >= {"strip", "survey", "build", "start"})

    symbols = await editor.client.text_document_document_symbol_async(lsp.DocumentSymbolParams(uri))
    sections = [symbol for symbol in symbols if symbol.detail.startswith("section")]
    expect("sections have their declarations", len(sections) > 5 and all(symbol.children for symbol in sections))
    folds = await editor.client.text_document_folding_range_async(lsp.FoldingRangeParams(uri))
    expect("folds", len(folds) > 200)
    tokens = await editor.client.text_document_semantic_tokens_full_async(lsp.SemanticTokensParams(uri))
    expect("tokens come in fives, none before the last", len(tokens.data) % 5 == 0 and min(tokens.data) >= 0)

    form = await editor.client.text_document_formatting_async(lsp.DocumentFormattingParams(uri, lsp.FormattingOptions(4, True)))
    expect("a tidy text stays", not form)

    # Typed at the end of the file: what is offered, the complaint, and the change that mends it.
    typed = text + 'strip extra "Extra" {\n    undo '
    editor.change(path, [lsp.TextDocumentContentChangeWholeDocument(typed)])
    await editor.told(path, editor.version)
    offered = await editor.client.text_document_completion_async(
        lsp.CompletionParams(uri, position(typed, len(typed)))
    )
    labels = {item.label for item in offered}
    expect("sets are offered behind `undo`", {"oil_drain", "exchanger_joint"} <= labels and "camera" not in labels)
    typed = text + 'strip extra "Extra" {\n    '
    editor.change(path, [lsp.TextDocumentContentChangeWholeDocument(typed)])
    offered = await editor.client.text_document_completion_async(
        lsp.CompletionParams(uri, position(typed, len(typed)))
    )
    helped = {item.label: item.documentation for item in offered}
    expect("clauses are offered with their help", {"take", "put back", "tools", "each"} <= set(helped) and helped["tools"])
    typed = text + 'strip extra "Extra" {\n    wait 5min\n}\n'
    editor.change(path, [lsp.TextDocumentContentChangeWholeDocument(typed)])
    faults = await editor.told(path, editor.version)
    expect("a complaint", any("no space before its unit" in fault.message for fault in faults))
    last = position(typed, typed.index("5min"))
    actions = await editor.client.text_document_code_action_async(
        lsp.CodeActionParams(uri, lsp.Range(last, last), lsp.CodeActionContext([]))
    )
    expect("a change that mends it", actions and actions[0].is_preferred and actions[0].edit.changes)

    editor.change(path, [lsp.TextDocumentContentChangeWholeDocument(text)])
    await editor.told(path, editor.version)
    renamed = await editor.client.text_document_rename_async(lsp.RenameParams(uri, at("tools camera", 7), "picture_box"))
    expect("a name is written anew in every file", len(renamed.changes) == 2)
    for address, edits in renamed.changes.items():
        file = Path(address.removeprefix("file://"))
        lines = file.read_text().split("\n")
        for edit in sorted(edits, key=lambda edit: (edit.range.start.line, edit.range.start.character), reverse=True):
            line = lines[edit.range.start.line]
            expect("only the name goes", line[edit.range.start.character : edit.range.end.character] == "camera")
            lines[edit.range.start.line] = (
                line[: edit.range.start.character] + edit.new_text + line[edit.range.end.character :]
            )
        file.write_text("\n".join(lines))
    expect(f"no record speaks of a tool: {editor.shown}", not editor.shown)
    await editor.client.text_document_rename_async(lsp.RenameParams(uri, at("gauge bore", 7), "cylinder_bore"))
    told = [words for words in editor.shown if "brackwater3.measured.job.yaml speaks of `bore` in line" in words]
    expect(f"records that keep a name are told: {editor.shown}", told)
    left = [fault for fault in run_json("check", path, "--format", "json") if fault["severity"] == "error"]
    expect(f"nothing breaks by a new name: {left[:1]}", not left)
    await editor.stop()


def as_shown(fault):
    """What the editor must show of a complaint that `check` has."""

    def span(place):
        text = Path(place["file"]).read_text()
        there = lambda byte: position(text, len(text.encode()[:byte].decode()))
        return str(lsp.Range(there(place["start"]), there(place["end"])))

    severity = {"error": 1, "warning": 2, "notice": 3}[fault["severity"]]
    message = fault["message"]
    for word in ["write", "mend"]:
        if fault[word] is not None:
            message += f"\n{word.capitalize()}: {fault[word]}"
    first, *others = fault["places"]
    return (fault["name"], severity, message, span(first), [(span(place), place["text"]) for place in others])


def shown(told):
    """The same of a complaint that the editor got."""
    others = [(str(related.location.range), related.message) for related in told.related_information or []]
    return (told.code, int(told.severity), told.message, str(told.range), others)


async def edits(folder):
    """Random edits: after each the complaints must be those of `check`."""
    rng = random.Random(SEED)
    path = folder / "two_cylinder.rebuild"
    text = path.read_text()
    editor = Editor(folder)
    await editor.start()
    editor.open(path)
    await editor.told(path, 1)
    words = ["take ", "part ", "x", "{", "}", '"', "\n", "undo head", "20N.m", " -- ", "é", "fate renew ", ", "]
    original, compared, waits = text, 0, []
    for number in range(EDITS):
        if rng.random() < 0.05:
            text = original
            editor.change(path, [lsp.TextDocumentContentChangeWholeDocument(text)])
        else:
            start = rng.randrange(len(text) + 1)
            end = min(len(text), start + rng.choice([0, 0, 0, 1, 3, 12, 60]))
            new = rng.choice([*words, text[start:end], ""])
            change = lsp.TextDocumentContentChangePartial(
                lsp.Range(position(text, start), position(text, end)), new
            )
            text = text[:start] + new + text[end:]
            editor.change(path, [change])
        begun = time.monotonic()
        told = await editor.told(path, editor.version)
        waits.append(time.monotonic() - begun)
        path.write_text(text)
        checked = run_json("check", path, "--format", "json", expect=None)
        own = sorted(as_shown(fault) for fault in checked if Path(fault["file"] or "") == path)
        seen = sorted(shown(fault) for fault in told)
        expect(f"edit {number}: {own} but {seen}", own == seen)
        compared += 1
    await editor.stop()
    waits.sort()
    print(f"{EDITS} random edits, {compared} compared with `check`: the same; complaints after {waits[len(waits) // 2] * 1000:.0f} ms (median)")


def main():
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder).resolve()
        shutil.copytree(ROOT / "procedures", folder / "procedures")
        asyncio.run(features(folder / "procedures"))
        asyncio.run(edits(folder / "procedures" / "first"))
    print("editor: help, names, outline, mends and order as they should be")


main()
