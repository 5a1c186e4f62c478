/**
 * Runs a room's tests against one mutant after another, within one process. What the tests import is
 * loaded once for many mutants, and anew where a mutant acts while it is loaded: a new worker for
 * each mutant, which reads every module again, takes many times as long.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import vm from 'node:vm';
import { declareClassPlugin, declareFactoryPlugin, PluginKind } from '@stryker-mutator/api/plugin';
import * as esbuild from 'esbuild';
import fewRuns from './fast-check.mjs';
import { isDrawn } from './sample.mjs';
import * as vitest from './vitest.mjs';

/** What the mutated sources read and write. */
globalThis.__stryker__ ??= {};
const state = globalThis.__stryker__;

/** Each file is a module that knows where it stands. */
const placed = {
  name: 'import.meta.url',
  setup({ onLoad }) {
    onLoad({ filter: /\/(src|grammar|tests)\/.*\.ts$/ }, ({ path }) => ({
      contents: readFileSync(path, 'utf8').replaceAll(
        'import.meta.url',
        JSON.stringify(pathToFileURL(path).href),
      ),
      loader: 'ts',
    }));
  },
};

/** The room's sources, and its tests with what they import, as one script that gives functions to load them. */
async function scriptOf(sources, tests) {
  const load = (file) => `${JSON.stringify(file)}: () => require("./${file}")`;
  const table = (files) => `{${files.map(load).join()}}`;
  const contents = `module.exports = { sources: ${table(sources)}, tests: ${table(tests)} }`;
  const { outputFiles } = await esbuild.build({
    stdin: { contents, resolveDir: process.cwd() },
    bundle: true,
    write: false,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    packages: 'external',
    define: { LISTWRIGHT_VERSION: '"test"' },
    plugins: [placed],
    logLevel: 'error',
  });
  // What a package gives by default is what vitest takes it to be, not all that it exports.
  const body = outputFiles[0].text.replace(/__toESM\((require\("[^"]+"\)), 1\)/g, '__toESM($1)');
  const text = `(function (require, module) {${body}\n})`;
  return new vm.Script(text, { filename: join(process.cwd(), 'tests-of-room.cjs') });
}

/** What a call throws that did not end in its time. */
const ENDLESS = 'ERR_SCRIPT_EXECUTION_TIMEOUT';
/** Most that loading all modules may take, and what tests that are watched over together take, in ms. */
const LOADING = 3000;
const TOGETHER = 100;
const CALL = new vm.Script('__stryker__.call()');

/**
 * Calls it, and stops it after so many ms of this process's time, wherever it is: a loop without end
 * needs no new process. A machine that is busy makes nothing endless: what got too little is called again.
 */
function within(ms, call) {
  for (let most = ms; ; most *= 4) {
    const { user } = process.cpuUsage();
    try {
      state.call = call;
      return CALL.runInThisContext({ timeout: Math.ceil(most) });
    } catch (error) {
      const taken = (process.cpuUsage().user - user) / 1000;
      if (error?.code !== ENDLESS || taken > ms / 2) throw error;
    }
  }
}

/** Stands for a test while a file of tests is loaded. */
const COLLECTING = 'collecting ';

class Runner {
  /** What time each test has taken of the process, in ms, and how many mutants it has found: in all, and in each file. */
  durations = new Map();
  found = new Map();
  /** Tests that count what many runs have come to: of those only a property that fails is a failure. */
  counting = new Set();
  /** Mutants that files of tests come to while they are loaded, outside of any test. */
  collected = new Set();

  capabilities() {
    return { reloadEnvironment: true };
  }

  async init() {
    const own = createRequire(join(process.cwd(), 'package.json'));
    const ours = { vitest, 'fast-check': { __esModule: true, default: fewRuns } };
    this.require = (name) => {
      const given = ours[name] ?? own(name);
      return given.__esModule && !('default' in given) ? { ...given, default: given } : given;
    };
    console.log = () => {};
    const files = (name) => process.env[name].split(' ');
    this.script = await scriptOf(files('MUTANTS_SOURCES'), files('MUTANTS_TESTS'));
  }

  /**
   * All tests by their ids, from modules that no test has used yet; `between` is called once the
   * sources are loaded, before the tests' own files are.
   */
  load(between = () => {}) {
    const module = {};
    this.script.runInThisContext()(this.require, module);
    const { sources, tests } = module.exports;
    for (const load of Object.values(sources)) load();
    between();
    const told = Object.entries(tests).flatMap(([file, load]) => {
      state.currentTestId = `${COLLECTING}${file}`;
      return vitest.collect(file, load);
    });
    state.currentTestId = undefined;
    return new Map(told.map((test) => [`${test.file} › ${test.name}`, test]));
  }

  /** Runs a test. Returns what is wrong, or undefined; a promise of it where the test has to wait. */
  failure(id, test) {
    const start = process.cpuUsage().user;
    fewRuns.failed = false;
    const ended = (message) => {
      state.currentTestId = undefined;
      const taken = (process.cpuUsage().user - start) / 1000;
      if (!this.durations.has(id)) this.durations.set(id, taken);
      return message;
    };
    const failed = (error) => {
      if (this.counting.has(id) && !fewRuns.failed) return ended();
      return ended(String(error?.message ?? error).slice(0, 500));
    };
    try {
      for (const one of test.before) one.done ??= one.fn() ?? true;
      const waits = test.before.filter(({ done }) => done instanceof Promise);
      if (waits.length > 0) {
        const wait = async (one) => {
          await one.done;
          one.done = true;
        };
        return Promise.all(waits.map(wait)).then(() => this.failure(id, test), failed);
      }
      state.currentTestId = id;
      const running = test.run();
      return running instanceof Promise ? running.then(() => ended(), failed) : ended();
    } catch (error) {
      return failed(error);
    }
  }

  async dryRun() {
    state.activeMutant = undefined;
    state.mutantCoverage = undefined;
    this.loaded = this.load();
    const tests = [];
    for (const [id, test] of this.loaded) {
      let failureMessage = await this.failure(id, test);
      if (failureMessage !== undefined && !fewRuns.failed) {
        this.counting.add(id);
        failureMessage = await this.failure(id, test);
      }
      const timeSpentMs = this.durations.get(id);
      const told = { id, name: id, fileName: join(process.cwd(), test.file), timeSpentMs };
      tests.push(failureMessage ? { ...told, status: 1, failureMessage } : { ...told, status: 0 });
    }
    await this.findDoneOnce(state.mutantCoverage);
    this.shareCollected(state.mutantCoverage);
    return { status: 'complete', tests, mutantCoverage: state.mutantCoverage };
  }

  /** What the first test that needs it makes for all of them, and none makes again, is as if made while loading. */
  async findDoneOnce({ static: atLoad, perTest }) {
    const first = [...this.loaded.keys()].map((id) => [id, perTest[id] ?? {}]);
    for (const [id] of first) delete perTest[id];
    for (const [id, test] of this.loaded) await this.failure(id, test);
    for (const [id, mutants] of first) {
      for (const [mutant, hits] of Object.entries(mutants)) {
        if (!perTest[id]?.[mutant]) atLoad[mutant] = (atLoad[mutant] ?? 0) + hits;
      }
    }
    for (const [id, mutants] of first) {
      perTest[id] = Object.fromEntries(Object.entries(mutants).filter(([one]) => !atLoad[one]));
    }
  }

  /** What a file does outside of its tests is done for each of them. */
  shareCollected(coverage) {
    const { static: atLoad, perTest } = coverage;
    for (const [id, { file }] of this.loaded) {
      for (const [mutant, hits] of Object.entries(perTest[`${COLLECTING}${file}`] ?? {})) {
        if (atLoad[mutant]) continue;
        this.collected.add(mutant);
        perTest[id] ??= {};
        perTest[id][mutant] = (perTest[id][mutant] ?? 0) + hits;
      }
    }
    for (const id of Object.keys(perTest)) if (id.startsWith(COLLECTING)) delete perTest[id];
  }

  /** Runs tests until one fails: those first that are quick or have found much, in this file above all. */
  async firstFailure(tests, ids, hitLimit, file) {
    const duration = (id) => this.durations.get(id) ?? 0;
    const found = (...key) => this.found.get(key.join()) ?? 0;
    const rank = (id) => duration(id) / (1 + found(id) + 100 * found(id, file));
    const order = [...ids].sort((a, b) => rank(a) - rank(b));
    Object.assign(state, { stopped: false, hitCount: 0, hitLimit });
    const endless = () => state.hitCount > state.hitLimit;
    for (let at = 0; at < order.length; at++) {
      // As many in one call as take little: what watches over a call has its price.
      let [end, taking] = [at, 0];
      while (end < order.length && taking < TOGETHER) taking += duration(order[end++]);
      /** Runs on up to a test that fails or has to wait. */
      const runOn = () => {
        for (; ; at++) {
          const failed = this.failure(order[at], tests.get(order[at]));
          if (failed !== undefined || endless() || at === end - 1) return failed;
        }
      };
      let message;
      try {
        message = await within(1000 + 10 * taking, runOn);
      } catch (error) {
        Object.assign(state, { stopped: true, currentTestId: undefined });
        message = String(error);
      }
      if (message === undefined && endless()) message = 'endless';
      if (message !== undefined) return { id: order[at], message };
    }
    return undefined;
  }

  async mutantRun({ activeMutant, testFilter, hitLimit, mutantActivation }) {
    if (!isDrawn(activeMutant)) return { status: 'error', errorMessage: 'not drawn' };
    // After a mutant that had to be stopped the process is a new one, which knows nothing yet.
    if (this.loaded === undefined) await this.dryRun();
    const told = (failed, ids) => {
      const endless = state.stopped || state.hitCount > state.hitLimit;
      state.stopped = false;
      state.hitCount = undefined;
      state.activeMutant = undefined;
      if (endless) return { status: 'timeout', reason: 'runs without end' };
      const nrOfTests = ids.length;
      if (failed === undefined) return { status: 'survived', nrOfTests };
      // Where loading fails, every test does.
      const { id = ids[0], message } = failed;
      for (const key of [id, `${id},${activeMutant.fileName}`]) {
        this.found.set(key, (this.found.get(key) ?? 0) + 1);
      }
      return { status: 'killed', killedBy: [id], failureMessage: message, nrOfTests };
    };
    const activate = () => {
      state.activeMutant = activeMutant.id;
    };
    const atLoad = mutantActivation === 'static';
    const ids = testFilter ?? [...this.loaded.keys()];
    // Of what acts while modules are loaded, too, most is noticed by the tests that come to it later.
    const { perTest } = state.mutantCoverage;
    const comeToIt = testFilter ?? ids.filter((id) => perTest[id]?.[activeMutant.id]);
    if (comeToIt.length > 0 && !this.collected.has(activeMutant.id)) {
      activate();
      const failed = await this.firstFailure(
        this.loaded,
        comeToIt,
        hitLimit,
        activeMutant.fileName,
      );
      const { stopped, hitCount } = state;
      const result = told(failed, comeToIt);
      // What was stopped anywhere has left its modules as they were there.
      if (stopped) this.loaded = this.load();
      if (failed && (await this.passes(failed.id, this.loaded))) return result;
      if (failed) this.loaded = this.load();
      else if (hitCount > 0 && !atLoad) return result;
    }
    // Modules keep what another mutant has left, or what was made before this one: a kill counts where
    // the same test passes without the mutant, and a mutant that no test came to, though it does without
    // it, is tried where nothing else has used the modules.
    let failed;
    try {
      if (atLoad) activate();
      const tests = within(LOADING, () => this.load(activate));
      failed = await this.firstFailure(tests, ids, hitLimit, activeMutant.fileName);
    } catch (error) {
      state.stopped = error?.code === ENDLESS;
      failed = { message: String(error) };
    }
    const result = told(failed, ids);
    if (!failed?.id || (await this.passes(failed.id, this.load()))) return result;
    return { status: 'error', errorMessage: `without it too: ${failed.id}: ${failed.message}` };
  }

  async passes(id, tests) {
    return (await this.failure(id, tests.get(id))) === undefined;
  }
}

/** Tells each mutant that no test notices as soon as that is known. */
class Missed {
  onMutantTested(mutant) {
    const { status, fileName, location, replacement } = mutant;
    if (status !== 'Survived' && (status !== 'NoCoverage' || !isDrawn(mutant))) return;
    const { line, column } = location.start;
    const what = replacement.replace(/\s+/g, ' ').slice(0, 100);
    const why = status === 'NoCoverage' ? ' (no test comes there)' : '';
    console.log(`missed: ${relative(process.cwd(), fileName)}:${line}:${column} → ${what}${why}`);
  }
}

export const strykerPlugins = [
  declareFactoryPlugin(PluginKind.TestRunner, 'in-process', () => new Runner()),
  declareClassPlugin(PluginKind.Reporter, 'missed', Missed),
];
