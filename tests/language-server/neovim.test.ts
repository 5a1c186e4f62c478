/** The server from a terminal editor that speaks the protocol itself, where it is installed. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const there = spawnSync('nvim', ['--version']).status === 0;
if (!there) console.warn('nvim is absent: it was not tried (apt install neovim)');

it.skipIf(!there)('finds, fixes, renames and tidies from neovim', () => {
  const folder = mkdtempSync(join(tmpdir(), 'listwright-neovim-'));
  const path = join(folder, 'lamp.bas');
  writeFileSync(path, "' Lamps\n10 let L1=3\n20 FOR I=1 TO L1\n30 PRNT I\n40 NEXT I\n");
  const { stdout, stderr, status } = spawnSync(
    'nvim',
    [
      '--headless',
      '-u',
      'NONE',
      '-i',
      'NONE',
      '-n',
      '-c',
      `luafile ${join(import.meta.dirname, 'neovim.lua')}`,
    ],
    {
      encoding: 'utf8',
      timeout: 50_000,
      env: {
        ...process.env,
        LISTING: path,
        LISTWRIGHT: join(import.meta.dirname, '..', '..', 'bin', 'listwright.js'),
        XDG_STATE_HOME: folder,
        XDG_CACHE_HOME: folder,
      },
    },
  );
  rmSync(folder, { recursive: true });
  expect({ status, stderr: stderr.trim() }).toEqual({ status: 0, stderr: '' });
  expect(stdout.trim().split('\n')).toEqual([
    'diagnostic 4:4 no statement begins with PRNT',
    'fix Write PRINT',
    'hover **LAMPS**: a number.',
    "|' Lamps",
    '|10 LET LAMPS=3',
    '|20 FOR I=1 TO LAMPS',
    '|30 PRINT I',
    '|40 NEXT I',
  ]);
});
