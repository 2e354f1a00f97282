"""The definition that editors colour by, read by another's engine (textmate-grammar-python), beside what the language server
says of every shipped procedure: comments, texts and numbers are the same letters, every fixed word of a clause is known as
one, and a name is taken for one only where it is spelt like one."""

import asyncio
import json
import logging
import sys
import tempfile
from pathlib import Path

from lsprotocol import types as lsp
from pygls.lsp.client import LanguageClient
from textmate_grammar.parsers.base import LanguageParser

from _tool import ROOT, TOOL

DEFINITION = ROOT / "grammar/rebuild.tmLanguage.json"
KINDS = {"comment": "comment", "string": "text", "constant.numeric": "number", "keyword.other.unit": "number"}


def coloured(parser, text):
    """What each letter of a text is by the definition."""
    kinds = {}
    for (line, column), words, scopes in parser.parse_string(text).flatten():
        kind = "name"
        for scope in scopes:
            kind = next((kind for begin, kind in KINDS.items() if scope.startswith(begin)), kind)
        if kind == "name" and any(scope.startswith("keyword") for scope in scopes):
            kind = "fixed"
        if any(scope.startswith(("variable", "keyword", "string", "comment", "constant")) for scope in scopes):
            for at, letter in enumerate(words):
                if not letter.isspace():
                    kinds[line, column + at] = kind
    return kinds


async def served(client, legend, path, text):
    """The same by the language server, and the letters of names."""
    client.text_document_did_open(lsp.DidOpenTextDocumentParams(lsp.TextDocumentItem(path.as_uri(), "rebuild", 1, text)))
    document = lsp.TextDocumentIdentifier(path.as_uri())
    tokens = await client.text_document_semantic_tokens_full_async(lsp.SemanticTokensParams(document))
    kinds, line, column = {}, 0, 0
    lines = [row.encode("utf-16-le") for row in text.split("\n")]
    for at in range(0, len(tokens.data), 5):
        down, along, length, kind, _ = tokens.data[at : at + 5]
        line, column = line + down, along + (0 if down else column)
        kind = {"string": "text", "comment": "comment", "number": "number", "keyword": "fixed", "type": "number"}.get(
            legend[kind], "name"
        )
        start = len(lines[line][: 2 * column].decode("utf-16-le"))
        word = lines[line][2 * column : 2 * (column + length)].decode("utf-16-le")
        for offset, letter in enumerate(word):
            if not letter.isspace():
                kinds[line, start + offset] = kind
    return kinds


async def main():
    logging.disable(logging.ERROR)
    definition = json.loads(DEFINITION.read_text())
    parser = LanguageParser(definition)
    files = sorted((ROOT / "procedures").rglob("*.rebuild"))
    client = LanguageClient("test", "1")
    await client.start_io(str(TOOL), "editor")
    answer = await client.initialize_async(
        lsp.InitializeParams(capabilities=lsp.ClientCapabilities(), root_uri=ROOT.as_uri())
    )
    client.initialized(lsp.InitializedParams())
    legend = answer.capabilities.semantic_tokens_provider.legend.token_types
    letters = likened = 0
    with tempfile.TemporaryDirectory() as folder:
        for source in files:
            text = source.read_text()
            path = Path(folder) / source.name
            path.write_text(text)
            ours, theirs = await served(client, legend, path, text), coloured(parser, text)
            lines = text.split("\n")
            for place, kind in ours.items():
                letters += 1
                other = theirs.get(place, "none")
                if other == kind:
                    continue
                # Names may be spelt like fixed words, units and numbers like names in brackets.
                if kind == "name" and other in ("fixed", "number"):
                    likened += 1
                    continue
                line = lines[place[0]]
                sys.exit(f"{source.name}, line {place[0] + 1}, letter {place[1] + 1}: {kind}, coloured as {other}\n{line}")
    await client.shutdown_async(None)
    client.exit(None)
    await client.stop()
    assert letters > 200_000 and likened < letters / 50, (letters, likened)
    print(f"{letters} letters of {len(files)} files are coloured as what they are, {likened} of names as what they are spelt like")


asyncio.run(main())
