/**
 * A connection of the Language Server Protocol over a worker's port: as much of the package's own
 * as our server asks for. Messages are objects. One is handled at a time, after those that have
 * come meanwhile are read, so that a request that is cancelled costs nothing.
 */
import type { Connection } from 'vscode-languageserver';
import { ErrorCodes, LSPErrorCodes, MessageType, ResponseError } from './protocol.js';

/** What the server registers, and the method that calls it. */
const METHODS = {
  onInitialize: 'initialize',
  onInitialized: 'initialized',
  onShutdown: 'shutdown',
  onDidChangeConfiguration: 'workspace/didChangeConfiguration',
  onDidOpenTextDocument: 'textDocument/didOpen',
  onDidChangeTextDocument: 'textDocument/didChange',
  onDidCloseTextDocument: 'textDocument/didClose',
  onHover: 'textDocument/hover',
  onCompletion: 'textDocument/completion',
  onDefinition: 'textDocument/definition',
  onReferences: 'textDocument/references',
  onDocumentHighlight: 'textDocument/documentHighlight',
  onDocumentSymbol: 'textDocument/documentSymbol',
  onFoldingRanges: 'textDocument/foldingRange',
  onSelectionRanges: 'textDocument/selectionRange',
  onPrepareRename: 'textDocument/prepareRename',
  onRenameRequest: 'textDocument/rename',
  onCodeAction: 'textDocument/codeAction',
  onCodeActionResolve: 'codeAction/resolve',
  onCodeLens: 'textDocument/codeLens',
  onDocumentFormatting: 'textDocument/formatting',
  onDocumentRangeFormatting: 'textDocument/rangeFormatting',
  onExecuteCommand: 'workspace/executeCommand',
} satisfies Partial<Record<keyof Connection, string>>;

type Handler = (params: unknown, token: { isCancellationRequested: boolean }) => unknown;

interface Message {
  readonly id?: number | string;
  readonly method?: string;
  readonly params?: unknown;
  readonly result?: unknown;
  readonly error?: { readonly message: string };
}

interface Asked {
  resolve(value: unknown): void;
  reject(error: Error): void;
}

export interface Port {
  postMessage(message: unknown): void;
  onmessage: ((event: MessageEvent) => void) | null;
}

export function connectionOver(port: Port): Connection {
  const handlers = new Map<string, Handler>();
  const waiting: Message[] = [];
  const asked = new Map<unknown, Asked>();
  let lastId = 0;

  const post = (message: Message): void => port.postMessage({ jsonrpc: '2.0', ...message });
  const sendNotification = async (method: string, params: unknown): Promise<void> =>
    post({ method, params });
  const sendRequest = (type: string | { method: string }, params: unknown): Promise<unknown> =>
    new Promise((resolve, reject) => {
      const id = ++lastId;
      asked.set(id, { resolve, reject });
      post({ id, method: typeof type === 'string' ? type : type.method, params });
    });
  const on = (method: string) => (handler: Handler) => void handlers.set(method, handler);
  const log = (type: number) => (message: string) =>
    void sendNotification('window/logMessage', { type, message });

  // Its turn comes behind every message that has come by then.
  const turns = new MessageChannel();
  turns.port1.onmessage = () => {
    const message = waiting.shift();
    if (message !== undefined) void handle(message);
  };

  const take = (message: Message): void => {
    if (message.method === undefined) {
      const question = asked.get(message.id);
      asked.delete(message.id);
      if (message.error !== undefined) question?.reject(new Error(message.error.message));
      else question?.resolve(message.result);
      return;
    }
    if (message.method === '$/cancelRequest') {
      const { id } = message.params as { id: unknown };
      const at = waiting.findIndex((one) => one.id === id);
      if (at >= 0) refuse(waiting.splice(at, 1)[0], LSPErrorCodes.RequestCancelled, 'cancelled');
      return;
    }
    waiting.push(message);
    turns.port2.postMessage(undefined);
  };

  const refuse = ({ id }: Message, code: number, message: string): void =>
    post({ id, error: { code, message } as { message: string } });

  const handle = async (message: Message): Promise<void> => {
    const { id, method, params } = message;
    const handler = handlers.get(method!);
    if (handler === undefined) {
      // A notification that nobody listens to is no fault.
      if (id !== undefined) refuse(message, ErrorCodes.MethodNotFound, `no method ${method}`);
      return;
    }
    try {
      const result = await handler(params, { isCancellationRequested: false });
      if (id === undefined) return;
      if (result instanceof ResponseError) refuse(message, result.code, result.message);
      else post({ id, result: result ?? null });
    } catch (error) {
      if (id === undefined) throw error;
      refuse(message, ErrorCodes.InternalError, String(error));
    }
  };

  const registered = Object.entries(METHODS).map(([name, method]) => [name, on(method)] as const);
  const connection = {
    ...Object.fromEntries(registered),
    languages: {
      inlayHint: { on: on('textDocument/inlayHint') },
      semanticTokens: {
        on: on('textDocument/semanticTokens/full'),
        onRange: on('textDocument/semanticTokens/range'),
      },
    },
    client: {
      register: ({ method }: { method: string }, registerOptions: unknown) =>
        sendRequest('client/registerCapability', {
          registrations: [{ id: method, method, registerOptions }],
        }),
    },
    workspace: {
      getConfiguration: async (section: string) => {
        const found = await sendRequest('workspace/configuration', { items: [{ section }] });
        return (found as unknown[])[0];
      },
      applyEdit: (edit: unknown) => sendRequest('workspace/applyEdit', { edit }),
    },
    window: { showDocument: (params: unknown) => sendRequest('window/showDocument', params) },
    console: {
      error: log(MessageType.Error),
      warn: log(MessageType.Warning),
      info: log(MessageType.Info),
      log: log(MessageType.Log),
    },
    sendNotification,
    sendRequest,
    sendDiagnostics: (params: unknown) =>
      sendNotification('textDocument/publishDiagnostics', params),
    listen: () => {
      port.onmessage = ({ data }) => take(data);
    },
  };
  return connection as unknown as Connection;
}
