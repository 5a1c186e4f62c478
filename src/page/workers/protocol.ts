/**
 * The names of the Language Server Protocol that our server uses, for the page's bundle: the build
 * puts this file in the place of the packages, which bring the whole protocol with them. A test
 * holds each value to the package's own.
 */

export const CodeActionKind = { QuickFix: 'quickfix', SourceFixAll: 'source.fixAll' };
export const CompletionItemKind = {
  Text: 1,
  Function: 3,
  Variable: 6,
  Property: 10,
  Value: 12,
  Keyword: 14,
  Snippet: 15,
  Reference: 18,
  Constant: 21,
  Operator: 24,
};
export const DiagnosticSeverity = { Error: 1, Warning: 2, Information: 3, Hint: 4 };
export const DiagnosticTag = { Unnecessary: 1 };
export const DocumentHighlightKind = { Read: 2, Write: 3 };
export const ErrorCodes = { InvalidRequest: -32600, MethodNotFound: -32601, InternalError: -32603 };
export const FoldingRangeKind = { Comment: 'comment' };
export const InlayHintKind = { Type: 1 };
export const InsertTextFormat = { Snippet: 2 };
export const LSPErrorCodes = { RequestCancelled: -32800 };
export const MarkupKind = { Markdown: 'markdown' };
export const MessageType = { Error: 1, Warning: 2, Info: 3, Log: 4 };
export const PositionEncodingKind = { UTF8: 'utf-8', UTF16: 'utf-16' };
export const SemanticTokenTypes = {
  comment: 'comment',
  function: 'function',
  keyword: 'keyword',
  label: 'label',
  macro: 'macro',
  number: 'number',
  operator: 'operator',
  string: 'string',
  variable: 'variable',
};
export const SymbolKind = { Module: 2, Function: 12, Array: 18 };
export const TextDocumentSyncKind = { Incremental: 2 };

export const CodeLensRefreshRequest = { type: { method: 'workspace/codeLens/refresh' } };
export const DidChangeConfigurationNotification = {
  type: { method: 'workspace/didChangeConfiguration' },
};

/** What a handler gives back where a request cannot be carried out. */
export class ResponseError extends Error {
  constructor(
    readonly code: number,
    message: string,
  ) {
    super(message);
  }
}
