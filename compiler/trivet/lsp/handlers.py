"""Requests and notifications of the standard protocol to features. What may take longer than a keystroke runs beside the loop."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from lsprotocol import types

from trivet.lsp.belonging import PROJECT_FILE
from trivet.lsp.features.actions import actions, breaks, edited
from trivet.lsp.features.completion import completion
from trivet.lsp.features.definition import definition, references
from trivet.lsp.features.folding import folds
from trivet.lsp.features.formatting import formatted, line_ended
from trivet.lsp.features.hints import hints
from trivet.lsp.features.hover import hover
from trivet.lsp.features.rename import CannotRename, renamable, rename
from trivet.lsp.features.signature import signatures
from trivet.lsp.features.symbols import symbols
from trivet.lsp.features.tokens import coloured
from trivet.source import SourceFile

if TYPE_CHECKING:
    from trivet.lsp.server import TrivetServer


def register(server: TrivetServer, token_types: Sequence[str]) -> None:
    """Give the server every feature."""
    _documents(server)
    _reading(server, token_types)
    _asking(server)
    _writing(server)


def _documents(server: TrivetServer) -> None:
    @server.feature(types.INITIALIZED)
    def initialized(_: types.InitializedParams) -> None:
        watched = server.client_capabilities.workspace and server.client_capabilities.workspace.did_change_watched_files
        if watched and watched.dynamic_registration:
            watchers = [types.FileSystemWatcher(glob_pattern=name) for name in ("**/*.trivet", f"**/{PROJECT_FILE}")]
            options = types.DidChangeWatchedFilesRegistrationOptions(watchers)
            registration = types.Registration("trivet-files", types.WORKSPACE_DID_CHANGE_WATCHED_FILES, options)
            server.client_register_capability(types.RegistrationParams([registration]), lambda _: None)

    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def did_open(params: types.DidOpenTextDocumentParams) -> None:
        document = params.text_document
        server.opened(document.uri, document.text, document.version)

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def did_change(params: types.DidChangeTextDocumentParams) -> None:
        server.edited(params)

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def did_close(params: types.DidCloseTextDocumentParams) -> None:
        server.closed(params.text_document.uri)

    @server.feature(types.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    def changed_on_disk(params: types.DidChangeWatchedFilesParams) -> None:
        for change in params.changes:
            server.changed_on_disk(change.uri)

    @server.feature(types.SHUTDOWN)
    def shutdown(_: None) -> None:
        server.stop()


def _reading(server: TrivetServer, token_types: Sequence[str]) -> None:
    @server.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def outline(params: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        view = server.view(params.text_document.uri)
        return server.door.symbols(symbols(view)) if view is not None else []

    @server.feature(types.TEXT_DOCUMENT_FOLDING_RANGE)
    def folding(params: types.FoldingRangeParams) -> list[types.FoldingRange]:
        view = server.view(params.text_document.uri)
        return server.door.folds(view.file, folds(view)) if view is not None else []

    legend = types.SemanticTokensLegend(token_types=list(token_types), token_modifiers=["declaration"])

    @server.feature(types.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL, legend)
    def colours(params: types.SemanticTokensParams) -> types.SemanticTokens:
        view = server.view(params.text_document.uri)
        if view is None:
            return types.SemanticTokens(data=[])
        return server.door.tokens(view.file, coloured(view), token_types)

    @server.feature(types.TEXT_DOCUMENT_INLAY_HINT)
    def inlay(params: types.InlayHintParams) -> list[types.InlayHint]:
        view = server.view(params.text_document.uri)
        if view is None:
            return []
        door = server.door
        return door.hints(view.file, hints(view, door.offset(view.file, params.range.start), door.offset(view.file, params.range.end)))

    @server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def go_to(params: types.DefinitionParams) -> types.Location | None:
        view = server.view(params.text_document.uri)
        if view is None:
            return None
        found = definition(view, server.door.offset(view.file, params.position), server.state.files())
        return server.door.location(found) if found is not None else None

    @server.feature(types.TEXT_DOCUMENT_REFERENCES)
    def find(params: types.ReferenceParams) -> list[types.Location]:
        view = server.view(params.text_document.uri)
        if view is None:
            return []
        door = server.door
        found = references(view, door.offset(view.file, params.position), params.context.include_declaration)
        return [door.location(span) for span in found]

    @server.feature(types.TEXT_DOCUMENT_DOCUMENT_HIGHLIGHT)
    def highlight(params: types.DocumentHighlightParams) -> list[types.DocumentHighlight]:
        view = server.view(params.text_document.uri)
        if view is None:
            return []
        door = server.door
        found = references(view, door.offset(view.file, params.position))
        return [types.DocumentHighlight(door.span(span)) for span in found if span.file is view.file]


def _asking(server: TrivetServer) -> None:
    @server.feature(types.TEXT_DOCUMENT_HOVER)
    async def about(params: types.HoverParams) -> types.Hover | None:
        view = server.view(params.text_document.uri)
        if view is None:
            return None
        offset = server.door.offset(view.file, params.position)
        return server.door.hover(view.file, await server.answer(lambda: hover(view, offset)))

    @server.feature(types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=[" ", ",", ".", '"', "("]))
    def complete(params: types.CompletionParams) -> types.CompletionList:
        view = server.view(params.text_document.uri)
        if view is None:
            return types.CompletionList(is_incomplete=False, items=[])
        return server.door.completions(view.file, completion(view, server.door.offset(view.file, params.position)))

    @server.feature(types.TEXT_DOCUMENT_SIGNATURE_HELP, types.SignatureHelpOptions(trigger_characters=[" ", ","]))
    def takes(params: types.SignatureHelpParams) -> types.SignatureHelp | None:
        view = server.view(params.text_document.uri)
        return server.door.signatures(signatures(view, server.door.offset(view.file, params.position))) if view is not None else None


def _writing(server: TrivetServer) -> None:
    @server.feature(types.TEXT_DOCUMENT_FORMATTING)
    def tidy(params: types.DocumentFormattingParams) -> list[types.TextEdit]:
        view = server.view(params.text_document.uri)
        return server.door.changes(view.file, formatted(view)) if view is not None else []

    @server.feature(types.TEXT_DOCUMENT_RANGE_FORMATTING)
    def tidy_range(params: types.DocumentRangeFormattingParams) -> list[types.TextEdit]:
        view = server.view(params.text_document.uri)
        if view is None:
            return []
        start, end = (server.door.offset(view.file, place) for place in (params.range.start, params.range.end))
        return server.door.changes(view.file, formatted(view, start, end))

    @server.feature(types.TEXT_DOCUMENT_ON_TYPE_FORMATTING, types.DocumentOnTypeFormattingOptions("\n"))
    def tidy_line(params: types.DocumentOnTypeFormattingParams) -> list[types.TextEdit]:
        view = server.view(params.text_document.uri)
        if view is None:
            return []
        return server.door.changes(view.file, line_ended(view, server.door.offset(view.file, params.position)))

    @server.feature(types.TEXT_DOCUMENT_CODE_ACTION, types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix]))
    async def mend(params: types.CodeActionParams) -> list[types.CodeAction]:
        view = server.view(params.text_document.uri)
        if view is None or (params.context.only and not any("quickfix".startswith(str(kind)) for kind in params.context.only)):
            return []
        path = view.file.name
        start, end = (server.door.offset(view.file, place) for place in (params.range.start, params.range.end))
        trial = server.state.trial(path)

        def work() -> list[types.CodeAction]:
            found = actions(view, trial({}), start, end, lambda file: trial({path: file}))
            return [server.door.action(item) for item in found]

        return await server.answer(work)

    @server.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    def can_rename(params: types.PrepareRenameParams) -> types.Range | None:
        view = server.view(params.text_document.uri)
        span = renamable(view, server.door.offset(view.file, params.position)) if view is not None else None
        return server.door.span(span) if span is not None else None

    @server.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    async def new_name(params: types.RenameParams) -> types.WorkspaceEdit | None:
        view = server.view(params.text_document.uri)
        if view is None:
            return None
        offset = server.door.offset(view.file, params.position)
        trial = server.state.trial(view.file.name)

        def work() -> types.WorkspaceEdit:
            try:
                edits = rename(view, offset, params.new_name)
            except CannotRename as error:
                raise server.refusal(str(error)) from None
            files = {edit.span.file.name: edit.span.file for edit in edits}
            instead = {
                name: SourceFile(name, edited(file.text, tuple(edit for edit in edits if edit.span.file is file)))
                for name, file in files.items()
            }
            if breaks(trial({}), trial(instead)):
                raise server.refusal(f"with the name `{params.new_name}` the fixture would have more errors")
            return server.door.workspace_edit(edits)

        return await server.answer(work)
