/** The built server, asked over standard input and output as an editor asks it, each thing in turn. */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recoverPrograms } from '../../src/tape/recover.js';
import { Client } from './client.js';

const folder = mkdtempSync(join(tmpdir(), 'listwright-editor-'));
const PATH = join(folder, 'lamp.bas');
const URI = pathToFileURL(PATH).href;
const LISTING = [
  "' Lamps of the loft",
  '10 LET LAMPS=3',
  '20 FOR I=1 TO LAMPS',
  '30 GOSUB 100',
  '40 NEXT I',
  '50 STOP',
  "' Shows one lamp",
  '100 PRINT AT I,2;"LAMP ";I',
  '110 POKE 16418,0',
  '120 RETURN',
  '',
].join('\n');
const textDocument = { uri: URI };
const everything = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
const place = (line: number, character: number) => ({
  textDocument,
  position: { line, character },
});
// biome-ignore lint/suspicious/noExplicitAny: what a server answers is looked at, not relied on.
type Answer = any;

describe('the language server', () => {
  let client: Client;
  beforeAll(async () => {
    client = new Client();
    await client.start({ initializationOptions: { panels: true } });
    await client.openText(URI, LISTING);
  });
  afterAll(async () => {
    expect(client.log.filter((line) => line.includes('fault'))).toEqual([]);
    expect(await client.stop()).toBe(0);
    rmSync(folder, { recursive: true });
  });

  it.each<[string, unknown, (answer: Answer) => unknown, unknown]>([
    ['hover', place(7, 5), (hover) => hover.contents.value.split('\n')[0], '`PRINT items`'],
    ['completion', place(4, 8), (items) => items.map((item: Answer) => item.label), ['I']],
    ['definition', place(3, 10), ([found]) => [found.uri, found.range.start.line], [URI, 7]],
    [
      'references',
      { ...place(2, 15), context: { includeDeclaration: true } },
      (found) => found.length,
      2,
    ],
    [
      'documentHighlight',
      place(2, 7),
      (found) => found.map((one: Answer) => one.kind),
      [3, 2, 2, 2],
    ],
    [
      'documentSymbol',
      { textDocument },
      (parts) => parts.map((part: Answer) => part.name),
      ['Lamps of the loft', 'Shows one lamp'],
    ],
    ['foldingRange', { textDocument }, (ranges) => ranges.length, 2],
    [
      'selectionRange',
      { textDocument, positions: [{ line: 1, character: 8 }] },
      ([range]) => range.range.start.character,
      7,
    ],
    ['prepareRename', place(2, 15), (found) => found.placeholder, 'LAMPS'],
    ['rename', { ...place(2, 15), newName: 'L' }, (edit) => edit.changes[URI].length, 2],
    [
      'codeLens',
      { textDocument },
      (lenses) => lenses.map((lens: Answer) => lens.command.title).slice(1),
      ['Rehearse', 'Record', 'Memory map'],
    ],
    [
      'inlayHint',
      { textDocument, range: everything },
      (found) => found.map((hint: Answer) => hint.label).at(-1),
      'DF_SZ',
    ],
    [
      'codeAction',
      { textDocument, range: everything, context: { diagnostics: [], only: ['source.fixAll'] } },
      (actions) => actions[0].kind,
      'source.fixAll.listwright',
    ],
    [
      'formatting',
      { textDocument, options: { tabSize: 2, insertSpaces: true } },
      (edits) => edits,
      [],
    ],
    [
      'rangeFormatting',
      { textDocument, range: everything, options: { tabSize: 2, insertSpaces: true } },
      (edits) => edits,
      [],
    ],
    ['semanticTokens/full', { textDocument }, (found) => found.data.length % 5, 0],
    [
      'semanticTokens/range',
      { textDocument, range: everything },
      (found) => found.data.length > 0,
      true,
    ],
  ])('answers %s', async (method, params, look, wanted) => {
    expect(look(await client.ask(`textDocument/${method}`, params))).toEqual(wanted);
  });

  it('refuses a rename with its reason', async () => {
    await expect(
      client.ask('textDocument/rename', { ...place(2, 15), newName: 'IF' }),
    ).rejects.toThrow('IF is a keyword');
  });

  const carryOut = (command: string) =>
    client.ask<Answer>('workspace/executeCommand', {
      command: `listwright.${command}`,
      arguments: [URI],
    });

  it('rehearses, draws the memory and the ledger', async () => {
    const rehearsal = await carryOut('rehearse');
    expect(rehearsal.message).toContain('9/50');
    expect(rehearsal.text).toContain('LAMP 3');
    expect(rehearsal.pictures.map((picture: Answer) => picture.svg.slice(0, 4))).toEqual([
      '<svg',
      '<svg',
    ]);
    expect((await carryOut('memoryMap')).text).toContain('program');
    expect((await carryOut('ledger')).pictures.length).toBe(1);
  });

  it('records beside the listing, and the recording gives the program', async () => {
    const { kept } = await carryOut('record');
    expect(kept).toBe(join(folder, 'lamp.wav'));
    expect(recoverPrograms(readFileSync(kept)).programs.length).toBe(1);
  });

  it('renumbers by an edit that the editor makes', async () => {
    await carryOut('renumber');
    expect(JSON.stringify(client.applied)).toContain('"newText":"60"');
  });

  it('knows no other command, and no listing that is not open', async () => {
    expect(await carryOut('polish')).toBeNull();
    expect(
      await client.ask('textDocument/hover', {
        ...place(0, 0),
        textDocument: { uri: 'file:///no' },
      }),
    ).toBeNull();
  });

  it('takes changes one by one, and tells what has become wrong', async () => {
    const change = (text: string, line: number, from: number, to: number) => ({
      range: { start: { line, character: from }, end: { line, character: to } },
      text,
    });
    const found = client.findings(URI, 2);
    await client.change(URI, 2, [change('PRNT', 7, 4, 9), change('20', 1, 0, 2)]);
    const rules = (await found).map(({ code }) => code);
    expect(rules).toEqual(['line-twice', 'no-such-command']);
    const mended = client.findings(URI, 3);
    await client.change(URI, 3, [{ text: LISTING }]);
    expect((await mended).every(({ severity }) => severity !== 1)).toBe(true);
  });
});

describe('whatever a client does', () => {
  it('outlives questions that make no sense', async () => {
    const client = new Client();
    await client.start();
    await client.openText('untitled:1', '10 PRNT');
    const nonsense: [string, unknown][] = [
      ['textDocument/hover', { textDocument: { uri: 'untitled:1' } }],
      [
        'textDocument/completion',
        { textDocument: { uri: 'untitled:1' }, position: { line: -1, character: 1e9 } },
      ],
      [
        'textDocument/rename',
        { textDocument: { uri: 'untitled:1' }, position: { line: 0, character: 3 } },
      ],
      ['textDocument/rangeFormatting', { textDocument: { uri: 'untitled:1' }, range: {} }],
      [
        'workspace/executeCommand',
        { command: 'listwright.rehearse', arguments: [{ not: 'an address' }] },
      ],
      ['textDocument/polish', {}],
    ];
    for (const [method, params] of nonsense)
      await client.ask(method, params).catch(() => undefined);
    await client.change('untitled:1', 2, [
      { range: { start: { line: 9, character: 9 } }, text: 'X' },
    ]);
    await client.change('untitled:1', 3, [{ text: '10 CLS' }]);
    const hover = await client.ask<Answer>('textDocument/hover', {
      textDocument: { uri: 'untitled:1' },
      position: { line: 0, character: 4 },
    });
    expect(hover.contents.value).toContain('Clears the display');
    expect(await client.stop()).toBe(0);
  });

  it('gives up on what is no longer the newest text', async () => {
    const client = new Client();
    await client.start();
    const lines = Array.from({ length: 400 }, (_, at) => `${at + 1} PRINT ${at}`).join('\n');
    await client.openText('untitled:1', lines);
    const before = client.published;
    const last = client.findings('untitled:1', 41);
    for (let version = 2; version <= 41; version++) {
      const start = { line: 0, character: 9 };
      await client.change('untitled:1', version, [{ range: { start, end: start }, text: '1' }]);
    }
    await last;
    expect(client.published - before).toBeLessThan(20);
    expect(await client.stop()).toBe(0);
  });
});

describe('with a client of another kind', () => {
  it('counts in UTF-8 where the client asks for it', async () => {
    const client = new Client();
    const { capabilities } = await client.start({
      capabilities: { general: { positionEncodings: ['utf-8', 'utf-16'] } },
    });
    expect(capabilities.positionEncoding).toBe('utf-8');
    const [found] = await client.openText('untitled:1', '10 PRINT "▘" PRNT');
    expect(found.range.start).toEqual({ line: 0, character: 15 });
    expect(await client.stop()).toBe(0);
  });

  it('takes the RAM from its settings, and says where pictures are kept', async () => {
    const client = new Client();
    client.settings = { ram: '16K' };
    await client.start({ capabilities: { workspace: { configuration: true } } });
    await client.openText('untitled:1', '10 PRINT "LAMP"');
    const carryOut = (command: string) =>
      client.ask<Answer>('workspace/executeCommand', { command, arguments: ['untitled:1'] });
    await carryOut('listwright.memoryMap');
    const path = /file:\S+\.svg/.exec(client.messages.at(-1)!)![0];
    expect(readFileSync(new URL(path), 'utf8')).toContain('16K');
    rmSync(new URL('.', path), { recursive: true });
    expect((await carryOut('listwright.record')).message).toContain('save the listing first');
    expect(await client.stop()).toBe(0);
  });

  it('has its RAM from the command line, and writes nothing among the messages', async () => {
    const client = new Client(['--ram', '2K']);
    await client.start();
    await client.openText('untitled:1', '10 DIM A(190)\n20 PRINT A(1)');
    const [verdict] = await client.ask<Answer>('textDocument/codeLens', {
      textDocument: { uri: 'untitled:1' },
    });
    expect(verdict.command.title).toContain('runs in 2K');
    expect(await client.stop()).toBe(0);
    expect(existsSync(PATH)).toBe(false);
  });
});
