/** The extension as an editor installs it: the package, its manifest, its client, its server. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import Module from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { panelPage } from '../../src/extension/panel.js';
import { Client } from '../language-server/client.js';

const root = join(import.meta.dirname, '..', '..');
const folder = mkdtempSync(join(tmpdir(), 'listwright-extension-'));
let names: string[] = [];
// biome-ignore lint/suspicious/noExplicitAny: the manifest is JSON.
let manifest: any;

beforeAll(() => {
  const { status, stderr } = spawnSync(process.execPath, ['bin/extension.mjs'], { cwd: root });
  expect(status, String(stderr)).toBe(0);
  const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const files = unzipSync(readFileSync(join(root, 'dist', `listwright-${version}.vsix`)));
  names = Object.keys(files);
  for (const [name, bytes] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
  manifest = JSON.parse(readFileSync(join(folder, 'extension', 'package.json'), 'utf8'));
  expect(manifest.version).toBe(version);
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true }));

describe('the package', () => {
  it('has the files that its manifest names, and a type for each', () => {
    const { languages, grammars } = manifest.contributes;
    const named = [manifest.main, languages[0].configuration, grammars[0].path];
    for (const path of named) expect(names).toContain(join('extension', path));
    const types = readFileSync(join(folder, '[Content_Types].xml'), 'utf8');
    for (const name of names) {
      if (name !== '[Content_Types].xml')
        expect(types).toContain(`Extension="${/\.\w+$/.exec(name)![0]}"`);
    }
    const around = readFileSync(join(folder, 'extension.vsixmanifest'), 'utf8');
    for (const [, path] of around.matchAll(/Path="([^"]+)"/g)) expect(names).toContain(path);
  });

  /** Source: the extension manifest reference of editors of this kind, from memory. */
  it('says what such an editor asks of a manifest', () => {
    expect(manifest.name).toMatch(/^[a-z0-9][a-z0-9-]*$/);
    expect(manifest.publisher).toMatch(/^[a-z0-9][a-z0-9-]*$/);
    expect(manifest.version).toMatch(/^\d+\.\d+\.\d+$/);
    expect(manifest.engines.vscode).toMatch(/^\^\d+\.\d+\.\d+$/);
    const { commands, menus, languages, configuration } = manifest.contributes;
    const known = commands.map(({ command }: { command: string }) => command);
    for (const { command } of menus.commandPalette) expect(known).toContain(command);
    for (const { title } of commands) expect(title).toMatch(/^[A-Z]/);
    expect(languages[0].extensions).toEqual(['.bas']);
    const { pattern } = configuration.properties['listwright.ram'];
    for (const size of ['', '1K', '16K', '1024']) expect(size).toMatch(new RegExp(pattern));
  });

  it('holds the client for the oldest editor that the manifest allows', () => {
    const client = JSON.parse(
      readFileSync(join(root, 'node_modules/vscode-languageclient/package.json'), 'utf8'),
    );
    const types = JSON.parse(
      readFileSync(join(root, 'node_modules/@types/vscode/package.json'), 'utf8'),
    );
    expect(client.engines.vscode).toBe(manifest.engines.vscode);
    expect(types.version.split('.').slice(0, 2)).toEqual(
      manifest.engines.vscode.slice(1).split('.').slice(0, 2),
    );
  });

  it('holds a server that answers', async () => {
    const client = new Client([], join(folder, 'extension', 'server.cjs'));
    await client.start();
    const [found] = await client.openText('untitled:1', '10 PRNT');
    expect(found.message).toContain('did you mean PRINT?');
    expect(await client.stop()).toBe(0);
  });
});

/** An editor's interface as far as loading and starting the client touches it. */
function standIn(): { vscode: unknown; registered: Map<string, () => unknown> } {
  const registered = new Map<string, () => unknown>();
  const anything: unknown = new Proxy(function anything() {}, {
    get: (target, key) => {
      if (key === Symbol.toPrimitive) return () => 'anything';
      if (key === 'then') return undefined;
      if (key === 'prototype') return target.prototype;
      return anything;
    },
    apply: () => anything,
    construct: () => ({}),
  });
  const vscode = new Proxy(
    {
      version: '1.91.0',
      commands: {
        registerCommand: (name: string, act: () => unknown) => {
          registered.set(name, act);
          return { dispose() {} };
        },
      },
    } as Record<string, unknown>,
    { get: (target, key) => (key in target ? target[key as string] : anything) },
  );
  return { vscode, registered };
}

it('registers every command that the manifest contributes', async () => {
  const { vscode, registered } = standIn();
  const load = (Module as unknown as { _load(name: string, ...rest: unknown[]): unknown })._load;
  const spy = vi
    .spyOn(Module as unknown as { _load(name: string, ...rest: unknown[]): unknown }, '_load')
    .mockImplementation((name, ...rest) => (name === 'vscode' ? vscode : load(name, ...rest)));
  try {
    const require = Module.createRequire(import.meta.url);
    const extension = require(join(folder, 'extension', 'extension.cjs'));
    // Starting goes on into an editor that is not there; the commands are registered before.
    await Promise.race([
      extension
        .activate({ extensionPath: join(folder, 'extension'), subscriptions: [] })
        .catch(() => {}),
      new Promise((resolve) => setTimeout(resolve, 500)),
    ]);
  } finally {
    spy.mockRestore();
  }
  const wanted = manifest.contributes.commands.map(({ command }: { command: string }) => command);
  expect([...registered.keys()].sort()).toEqual(wanted.sort());
});

describe('the panel', () => {
  it('shows text as text and pictures as images, without any script', () => {
    const page = panelPage({
      message: 'report 0/20 <b>',
      text: '<LAMP>',
      pictures: [{ title: 'The "screen"', svg: '<svg><script>1</script></svg>' }],
    });
    expect(page).toContain('0/20 &lt;b&gt;');
    expect(page).toContain('&lt;LAMP&gt;');
    expect(page).toContain('alt="The &quot;screen&quot;" src="data:image/svg+xml;base64,');
    expect(page).not.toContain('<script');
    expect(page).toContain("default-src 'none'");
  });
});
