/** What stands in the place of the protocol's packages in the page's bundle, held to the packages. */

import { describe, expect, test } from 'vitest';
import * as whole from 'vscode-languageserver';
import { connectionOver, type Port } from '../../src/page/workers/connection.js';
import * as ours from '../../src/page/workers/protocol.js';

const packaged = whole as unknown as Record<string, unknown>;
const { ResponseError, CodeLensRefreshRequest, DidChangeConfigurationNotification, ...names } =
  ours;

test.each(Object.entries(names))('%s has the values of the protocol', (name, values) => {
  expect(packaged[name]).toMatchObject(values);
});

test('requests of the server have the methods of the protocol', () => {
  expect(CodeLensRefreshRequest.type.method).toBe(whole.CodeLensRefreshRequest.type.method);
  expect(DidChangeConfigurationNotification.type.method).toBe(
    whole.DidChangeConfigurationNotification.type.method,
  );
});

describe('a connection', () => {
  /** A connection, with what it sends and a way to send it something. */
  function connected() {
    const sent: unknown[] = [];
    const port: Port = { postMessage: (message) => sent.push(message), onmessage: null };
    const connection = connectionOver(port);
    connection.listen();
    const send = (message: object): void =>
      port.onmessage!({ data: { jsonrpc: '2.0', ...message } } as MessageEvent);
    const answers = async (count: number): Promise<unknown[]> => {
      await expect.poll(() => sent.length).toBe(count);
      return sent;
    };
    return { connection, send, answers };
  }

  test('answers requests in their order, and says what went wrong', async () => {
    const { connection, send, answers } = connected();
    connection.onHover(() => null);
    connection.onDefinition(() => {
      throw new Error('no such place');
    });
    connection.onRenameRequest(() => new ResponseError(-32600, 'not a name') as never);
    send({ id: 1, method: 'textDocument/hover' });
    send({ id: 2, method: 'textDocument/definition' });
    send({ id: 3, method: 'textDocument/rename' });
    send({ id: 4, method: 'textDocument/typeDefinition' });
    expect(await answers(4)).toEqual([
      { jsonrpc: '2.0', id: 1, result: null },
      { jsonrpc: '2.0', id: 2, error: { code: -32603, message: 'Error: no such place' } },
      { jsonrpc: '2.0', id: 3, error: { code: -32600, message: 'not a name' } },
      {
        jsonrpc: '2.0',
        id: 4,
        error: { code: -32601, message: 'no method textDocument/typeDefinition' },
      },
    ]);
  });

  test('does not begin a request that is cancelled, and lets a stray notification be', async () => {
    const { connection, send, answers } = connected();
    let asked = 0;
    connection.onHover(() => {
      asked++;
      return null;
    });
    send({ id: 1, method: 'textDocument/hover' });
    send({ method: '$/cancelRequest', params: { id: 1 } });
    send({ method: 'workspace/didSomething' });
    send({ id: 2, method: 'textDocument/hover' });
    expect(await answers(2)).toEqual([
      { jsonrpc: '2.0', id: 1, error: { code: -32800, message: 'cancelled' } },
      { jsonrpc: '2.0', id: 2, result: null },
    ]);
    expect(asked).toBe(1);
  });

  test('asks the client, and hears its answer', async () => {
    const { connection, send, answers } = connected();
    const settings = connection.workspace.getConfiguration('listwright');
    expect(await answers(1)).toMatchObject([
      { id: 1, method: 'workspace/configuration', params: { items: [{ section: 'listwright' }] } },
    ]);
    send({ id: 1, result: [{ ram: '2K' }] });
    expect(await settings).toEqual({ ram: '2K' });
  });
});
