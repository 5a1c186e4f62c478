/** DEVELOPERS.md: the files and folders that it names are there, and it names every room. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const text = readFileSync('DEVELOPERS.md', 'utf8');

/** Names of files and folders that stand from the root of the repository. */
const named = [
  ...new Set(
    [...text.matchAll(/`((?:src|grammar|tests|bin)\/[^` ]*)`/g)]
      .map(([, path]) => path)
      .filter((path) => !/[*A-Z]/.test(path)),
  ),
];

test.each(named)('%s', (path) => {
  expect(existsSync(path)).toBe(true);
});

const EVERY_FILE = ['src', 'grammar', 'bin', 'tests'].flatMap((room) =>
  readdirSync(room, { recursive: true, encoding: 'utf8' }).map((path) => `/${room}/${path}`),
);

test.each(['DEVELOPERS.md', 'grammar/README.md', 'src/tape/README.md'])(
  'every file that %s names without its folder is somewhere',
  (page) => {
    const names = [
      ...readFileSync(page, 'utf8').matchAll(/`([a-z-]+(?:\/[a-z-]+)*\.(?:ts|mjs))`/g),
    ];
    expect(names.length).toBeGreaterThan(0);
    const lost = names.filter(([, name]) => !EVERY_FILE.some((path) => path.endsWith(`/${name}`)));
    expect(lost.map(([, name]) => name)).toEqual([]);
  },
);

test('the table of where to look first names files, each of them once', () => {
  const [, table] = /Where to look first[^|]*((?:\|[^\n]*\n)+)/.exec(text)!;
  const files = [...table.matchAll(/\| `([^`]+\.ts)` \|$/gm)].map(([, path]) => path);
  expect(files.length).toBeGreaterThan(15);
  expect(new Set(files).size).toBe(files.length);
  expect(files.filter((path) => !named.includes(path))).toEqual([]);
});

test('every room has its row', () => {
  const rooms = readdirSync('src', { withFileTypes: true }).filter((one) => one.isDirectory());
  const missing = rooms.filter(({ name }) => !text.includes(`| \`src/${name}/\` |`));
  expect(missing.map(({ name }) => name)).toEqual([]);
});
