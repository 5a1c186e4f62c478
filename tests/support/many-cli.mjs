// Runs the built command line many times in one process: a start for each of hundreds would take
// minutes. Standard input: JSON, a list of lists of words. Standard output: JSON, a result for each,
// with the processor time that it took and the most memory that this process had so far.

import fs from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const asked = JSON.parse(fs.readFileSync(0, 'utf8'));
const { main } = require('../../bin/listwright.js').load();
const { writeSync } = fs;
let streams = { 1: '', 2: '' };
fs.writeSync = (descriptor, bytes, ...more) => {
  if (descriptor !== 1 && descriptor !== 2) return writeSync(descriptor, bytes, ...more);
  const [offset = 0, length = bytes.length - offset] = more;
  streams[descriptor] += Buffer.from(bytes).toString('utf8', offset, offset + length);
  return length;
};
require('node:module').syncBuiltinESMExports();

/** Bytes. What `maxRSS` says begins with the memory of the process that started this one, on Linux. */
function mostMemory() {
  const { maxRSS } = process.resourceUsage();
  if (process.platform !== 'linux') return maxRSS * 1024;
  return (
    Number(/^VmHWM:\s*(\d+) kB$/m.exec(fs.readFileSync('/proc/self/status', 'utf8'))[1]) * 1024
  );
}

const results = [];
for (const words of asked) {
  streams = { 1: '', 2: '' };
  process.exitCode = 0;
  const start = process.cpuUsage();
  await main(words);
  const { user, system } = process.cpuUsage(start);
  results.push({
    status: process.exitCode,
    stdout: streams[1],
    stderr: streams[2],
    seconds: (user + system) / 1e6,
    memory: mostMemory(),
  });
}
process.exitCode = 0;
fs.writeSync = writeSync;
process.stdout.write(JSON.stringify(results));
