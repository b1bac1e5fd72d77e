"""The language server as a client library from outside meets it.

The client is that of pygls 2.1.1 with the protocol's types of lsprotocol 2025.0.0, which are made from the machine-readable
description that belongs to the Language Server Protocol specification, version 3.17 (and what 3.18 adds). So the names,
the shapes and the order of what `pinboss lsp` says are held against the published protocol by a reader that is not ours:
it refuses answers of another shape.

A shipped rule file is opened in a copy of its folder, a mistake is made and mended, words are asked about, a name is
changed everywhere and the changed rules are read again; then the server is shut down and must end with 0.

Usage: edit_rules.py PINBOSS RULES
"""

import asyncio
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from lsprotocol import types
from pygls.lsp.client import LanguageClient

PATIENCE = 60  # seconds, far more than any answer takes
FILE = "idler.rules"
CAUSE = "idler_struck"
LABEL = "idler struck against rock or stumps"
# A cause of another file, used in many
OLD_NAME = "spot_turning"
NEW_NAME = "turning_on_the_spot"


class Checks:
    """What was compared, and what was off."""

    def __init__(self):
        self.made = 0
        self.seconds = []
        self.misses = []

    def holds(self, what, is_so, seen=""):
        self.made += 1
        if not is_so:
            self.misses.append(f"{what}: {seen!r}")


class Editor:
    """A client that notes the problems it is told of, by file and version."""

    def __init__(self):
        self.client = LanguageClient("rule-writer", "1")
        self.told = {}
        self.news = asyncio.Condition()

        @self.client.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
        async def take(params):
            async with self.news:
                self.told[params.uri, params.version] = params.diagnostics
                self.news.notify_all()

    async def problems(self, uri, version):
        async with self.news:
            await asyncio.wait_for(self.news.wait_for(lambda: (uri, version) in self.told), PATIENCE)
            return self.told[uri, version]


def place(text, piece, inside=0):
    """Line and column of a piece of text, the column in units of UTF-16."""
    at = text.index(piece) + inside
    before = text[:at]
    start = before.rfind("\n") + 1
    return types.Position(before.count("\n"), len(before[start:].encode("utf-16-le")) // 2)


def underlined(text, found):
    """The piece of text under a range."""
    line = text.split("\n")[found.start.line].encode("utf-16-le")
    return line[2 * found.start.character : 2 * found.end.character].decode("utf-16-le")


async def converse(pinboss, folder, checks):
    editor = Editor()
    client = editor.client
    await client.start_io(pinboss, "lsp")
    # The server as a process: its end is looked at too.
    server = client._server
    begun = await client.initialize_async(
        types.InitializeParams(
            capabilities=types.ClientCapabilities(
                text_document=types.TextDocumentClientCapabilities(
                    hover=types.HoverClientCapabilities(content_format=[types.MarkupKind.Markdown])
                )
            ),
            workspace_folders=[types.WorkspaceFolder(folder.as_uri(), "rules")],
        )
    )
    checks.holds("the encoding of columns", begun.capabilities.position_encoding == "utf-16", begun)
    client.initialized(types.InitializedParams())
    uri = (folder / FILE).as_uri()
    sound = (folder / FILE).read_text(encoding="utf-8")
    document = types.TextDocumentIdentifier(uri)

    for path in sorted(folder.glob("*.rules")):
        found = await editor.problems(path.as_uri(), None)
        checks.holds(f"shipped rules without a problem, {path.name}", len(found) == 0, found)

    client.text_document_did_open(
        types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, "rules", 1, sound))
    )
    checks.holds("no problem when opened", len(await editor.problems(uri, 1)) == 0)

    # A mistake behind signs of two and four bytes, which are one and two units of UTF-16.
    faulty = sound.replace(f'cause {CAUSE}, each side: "{LABEL}"', f'cause {CAUSE}, each side: "ä𝄞"  knid damage', 1)
    checks.holds("there is a mistake to make", faulty != sound)
    began = time.monotonic()
    await change(client, uri, 2, faulty)
    problems = await editor.problems(uri, 2)
    checks.seconds.append(time.monotonic() - began)
    marked = [underlined(faulty, problem.range) for problem in problems]
    checks.holds("the mistake is underlined", "knid" in marked, problems)
    checks.holds("it is an error", any(it.severity == types.DiagnosticSeverity.Error for it in problems), problems)
    began = time.monotonic()
    await change(client, uri, 3, sound)
    checks.holds("no problem once mended", len(await editor.problems(uri, 3)) == 0)
    checks.seconds.append(time.monotonic() - began)

    told = await client.text_document_hover_async(types.HoverParams(document, place(sound, f"with    {CAUSE}", 10)))
    checks.holds("the label of a cause", LABEL in told.contents.value, told)
    checks.holds("what is told of is underlined", underlined(sound, told.range) == CAUSE, told)
    found = await client.text_document_definition_async(
        types.DefinitionParams(document, place(sound, f"with    {CAUSE}", 10))
    )
    checks.holds("where it is declared", [underlined(sound, it.range) for it in found] == [CAUSE], found)
    items = await client.text_document_completion_async(
        types.CompletionParams(document, place(sound, f"with    {CAUSE}", len("with    ")))
    )
    checks.holds("causes are offered", CAUSE in [item.label for item in items], items)
    symbols = await client.text_document_document_symbol_async(types.DocumentSymbolParams(document))
    checks.holds("the list of the file", CAUSE in [symbol.name for symbol in symbols], symbols)
    try:
        await client.text_document_hover_async(types.HoverParams(document, types.Position(10**6, 0)))
        await client.text_document_folding_range_async(types.FoldingRangeParams(document))
        checks.holds("an unknown question is refused", False)
    except Exception as refusal:
        checks.holds("an unknown question is refused", "known" in str(refusal), refusal)

    await rename(client, document, sound, folder, checks)

    checks.holds("the answer to shutdown", await client.shutdown_async(None) is None)
    client.exit(None)
    code = await asyncio.wait_for(server.wait(), PATIENCE)
    checks.holds("the server ends with 0", code == 0, code)


async def change(client, uri, version, text):
    client.text_document_did_change(
        types.DidChangeTextDocumentParams(
            types.VersionedTextDocumentIdentifier(version, uri),
            [types.TextDocumentContentChangeWholeDocument(text)],
        )
    )


async def rename(client, document, sound, folder, checks):
    """Another name everywhere: what is left of the old one, and whether the rules still hold together."""
    at = place(sound, f"with    {OLD_NAME}", len("with    "))
    prepared = await client.text_document_prepare_rename_async(types.PrepareRenameParams(document, at))
    checks.holds("what is to be renamed", prepared.placeholder == OLD_NAME, prepared)
    edit = await client.text_document_rename_async(types.RenameParams(document, at, NEW_NAME))
    files = {path.as_uri(): path for path in folder.glob("*.rules")}
    checks.holds("more than one file is changed", len(edit.changes) > 1, edit)
    for uri, edits in edit.changes.items():
        text = files[uri].read_text(encoding="utf-8")
        checks.holds("only the old name is replaced", {underlined(text, it.range) for it in edits} == {OLD_NAME}, edits)
        lines = text.split("\n")
        for piece in sorted(edits, key=lambda it: (it.range.start.line, it.range.start.character), reverse=True):
            line = lines[piece.range.start.line].encode("utf-16-le")
            start, end = 2 * piece.range.start.character, 2 * piece.range.end.character
            lines[piece.range.start.line] = (line[:start] + piece.new_text.encode("utf-16-le") + line[end:]).decode("utf-16-le")
        files[uri].write_text("\n".join(lines), encoding="utf-8")
    left = [path.name for path in files.values() if OLD_NAME in path.read_text(encoding="utf-8")]
    checks.holds("nothing is left of the old name", left == [], left)
    try:
        await client.text_document_rename_async(types.RenameParams(document, at, "idler"))
        checks.holds("a name that is taken is refused", False)
    except Exception as refusal:
        checks.holds("a name that is taken is refused", "already" in str(refusal), refusal)


def main(pinboss, rules):
    checks = Checks()
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary).resolve() / "rules and more"
        shutil.copytree(rules, folder)
        asyncio.run(asyncio.wait_for(converse(pinboss, folder, checks), 10 * PATIENCE))
        again = subprocess.run([pinboss, "rules", "check", folder], capture_output=True, text=True)
        checks.holds("the renamed rules hold together", again.returncode == 0, again.stderr)
    for miss in checks.misses:
        print(miss)
    print(f"{checks.made} things held against the client library, {len(checks.misses)} of them off")
    print(f"problems told {', '.join(f'{1000 * it:.0f} ms' for it in checks.seconds)} after a change")
    return 1 if checks.misses or checks.made < 20 else 0


if __name__ == "__main__":
    sys.exit(main(str(Path(sys.argv[1]).resolve()), Path(sys.argv[2])))
