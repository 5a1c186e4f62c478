#!/usr/bin/env node
// Starts the built command line, with its compiled code where this version of Node takes it.
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Script } from 'node:vm';
import { wrapper } from './wrapper.js';

const dist = join(dirname(fileURLToPath(import.meta.url)), '..', 'dist');
const bundle = join(dist, 'cli.cjs');
const cache = join(dist, 'cli.cache');
if (!existsSync(bundle)) {
  process.stderr.write('listwright: it is not built yet\n  do:  npm run build\n');
  process.exit(2);
}
const script = new Script(wrapper(readFileSync(bundle, 'utf8')), {
  filename: bundle,
  cachedData: existsSync(cache) ? readFileSync(cache) : undefined,
});
const module = { exports: {} };
script.runInThisContext()(module.exports, createRequire(bundle), module, bundle, dist);
await module.exports.main(process.argv.slice(2));
