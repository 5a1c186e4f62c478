#!/usr/bin/env node
// Starts the built command line, with its compiled code where this version of Node takes it.
// CommonJS, because Node starts it some milliseconds sooner than a module.
const { existsSync, readFileSync } = require('node:fs');
const { createRequire } = require('node:module');
const { join } = require('node:path');
const { Script } = require('node:vm');

/** Loads the bundle; gives its exports and the script, whose compiled code the build keeps. */
function load() {
  const dist = join(__dirname, '..', 'dist');
  const bundle = join(dist, 'cli.cjs');
  const cache = join(dist, 'cli.cache');
  if (!existsSync(bundle)) {
    process.stderr.write('listwright: it is not built yet\n  do:  npm run build\n');
    process.exit(2);
  }
  // It is ASCII: nothing need be decoded.
  const script = new Script(readFileSync(bundle, 'latin1'), {
    filename: bundle,
    cachedData: existsSync(cache) ? readFileSync(cache) : undefined,
  });
  const module = { exports: {} };
  script.runInThisContext()(module.exports, createRequire(bundle), module, bundle, dist);
  return { main: module.exports.main, script };
}

if (require.main === module) load().main(process.argv.slice(2));
else module.exports = { load };
