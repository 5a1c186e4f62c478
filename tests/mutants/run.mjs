// Changes one thing at a time in a room's source and runs the tests that should notice:
// node tests/mutants/run.mjs [--one-in N] [ROOM | FILE | FILE:LINE-LINE]…
// All rooms where none is named. With --one-in, a sample: the same mutants each time.
import { mkdirSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Stryker } from '@stryker-mutator/core';
import { ROOMS } from './rooms.mjs';
import { isDrawn } from './sample.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const cache = join(root, 'node_modules', '.cache', 'mutants');
process.chdir(root);
const { values, positionals: asked } = parseArgs({
  options: { 'one-in': { type: 'string', default: '1' } },
  allowPositionals: true,
});
const oneIn = values['one-in'];
process.env.MUTANTS_ONE_IN = oneIn;
mkdirSync(cache, { recursive: true });

/** Neither killed by a failing test nor endless, which is found too. */
const MISSED = ['Survived', 'NoCoverage'];

const count = (mutants, states) => mutants.filter(({ status }) => states.includes(status)).length;

function row(name, mutants) {
  const [killed, endless, missed] = [['Killed'], ['Timeout'], MISSED].map((s) => count(mutants, s));
  const found = killed + endless;
  const score = found + missed === 0 ? '—' : `${((100 * found) / (found + missed)).toFixed(1)} %`;
  const cells = [score, killed, endless, missed, mutants.length - found - missed];
  return name.padEnd(44) + cells.map((cell) => String(cell).padStart(9)).join('');
}

function tell(room, results) {
  const mutants = results.map((mutant) => ({
    ...mutant,
    fileName: relative(root, mutant.fileName),
    // Those that no test comes to are told without a run.
    status: mutant.status === 'NoCoverage' && !isDrawn(mutant) ? 'Ignored' : mutant.status,
  }));
  const files = [...new Set(mutants.map(({ fileName }) => fileName))].sort();
  const rest = oneIn === '1' ? 'invalid' : 'not run';
  console.log(`\n${''.padEnd(44)}    score   killed  endless   missed  ${rest}`);
  for (const file of files) {
    console.log(
      row(
        file,
        mutants.filter(({ fileName }) => fileName === file),
      ),
    );
  }
  console.log(row(room, mutants));
}

/** Files anywhere in a folder whose names end so. */
function filesIn(folder, end) {
  const names = readdirSync(folder, { recursive: true });
  return names.filter((name) => end.test(name)).map((name) => join(folder, name));
}

/** The files of tests that a room names. */
function testsOf({ tests, not = [] }) {
  const files = tests.flatMap((path) =>
    path.endsWith('.ts') ? [path] : filesIn(path, /\.test\.ts$/),
  );
  return files.filter((file) => !not.includes(file)).sort();
}

/** Runs the mutants of `mutate` (patterns) against the tests of a room. */
async function run(room, mutate) {
  Object.assign(process.env, ROOMS[room].settings);
  process.env.MUTANTS_TESTS = testsOf(ROOMS[room]).join(' ');
  process.env.MUTANTS_SOURCES = filesIn(room, /(?<!\.d)\.ts$/).join(' ');
  const name = room.replaceAll('/', '-');
  const stryker = new Stryker({
    testRunner: 'in-process',
    plugins: [join(root, 'tests', 'mutants', 'runner.mjs')],
    mutate,
    ignorePatterns: ['dist', 'out'],
    // No types are checked: the settings of the compiler are not read.
    tsconfigFile: 'none',
    // Outside the repository: nothing looks for tests or for sources there.
    tempDirName: join(tmpdir(), `mutants-${name}`),
    coverageAnalysis: 'perTest',
    concurrency: 1,
    // The runner stops what is endless; the clock is for what it cannot stop.
    timeoutMS: 300_000,
    timeoutFactor: 1,
    dryRunTimeoutMinutes: 30,
    // What is kept of a sample would stand for the whole.
    incremental: oneIn === '1',
    incrementalFile: join(cache, `${name}.json`),
    reporters: ['missed', 'progress-append-only', 'html'],
    htmlReporter: { fileName: join(cache, `${name}.html`) },
    allowConsoleColors: false,
    warnings: { slow: false },
  });
  tell(room, await stryker.runMutationTest());
}

/** The innermost room that a path lies in. */
function roomOf(path) {
  const around = Object.keys(ROOMS).filter((room) => `${path}/`.startsWith(`${room}/`));
  return around.sort((a, b) => b.length - a.length)[0];
}

const paths = asked.map((path) => path.replace(/\/$/, ''));
for (const path of paths.filter((path) => roomOf(path) === undefined)) {
  console.error(`${path} is in none of ${Object.keys(ROOMS).join(', ')}`);
  process.exit(2);
}
for (const [room, { but = [] }] of Object.entries(ROOMS)) {
  const parts = paths.filter((path) => roomOf(path) === room);
  const whole = [`${room}/**/*.ts`, ...but.map((file) => `!${file}`)];
  if (paths.length === 0 || parts.includes(room)) await run(room, whole);
  else if (parts.length > 0) await run(room, parts);
}
