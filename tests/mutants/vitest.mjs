/**
 * What the tests import as `vitest` when mutants are run: describe, it and expect, without a worker
 * or a reporter. The assertions are vitest's own.
 */
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
} from '@vitest/expect';

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

export const expect = (value, message) => chai.expect(value, message);
Object.assign(expect, chai.expect, globalThis[ASYMMETRIC_MATCHERS_OBJECT]);

/** The tests that were told since `collect` began: { file, name, run, before }. */
let tests = [];
let file = '';
let names = [];
let before = [];

/** Loads a file of tests. Returns what it tells. */
export function collect(path, load) {
  [tests, file, names, before] = [[], path, [], []];
  load();
  return tests;
}

/** The function of a test, which settings may follow or stand before. */
const bodyOf = (fn, options) => (typeof fn === 'function' ? fn : options);

export function test(name, fn, options) {
  const run = bodyOf(fn, options);
  const path = [...names, name].join(' › ');
  const twins = tests.filter(({ twinOf }) => twinOf === path).length;
  tests.push({
    file,
    twinOf: path,
    name: twins === 0 ? path : `${path} (${twins + 1})`,
    before: [...before],
    run,
  });
}

export function describe(name, fn, options) {
  const outer = [names, before];
  [names, before] = [[...names, name], [...before]];
  bodyOf(fn, options)();
  [names, before] = outer;
}

export const beforeAll = (fn) => before.push({ fn, done: undefined });

const skip = () => {};
for (const tell of [test, describe]) {
  tell.each = (rows) => (name, fn, options) => {
    for (const row of rows) {
      const values = Array.isArray(row) ? row : [row];
      tell(name, () => bodyOf(fn, options)(...values));
    }
  };
  tell.skip = skip;
  tell.skipIf = (condition) => (condition ? skip : tell);
  tell.runIf = (condition) => (condition ? tell : skip);
}
export const it = test;
