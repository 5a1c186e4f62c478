// The built command line, loaded once and kept warm: a thread of the tests' process that runs it for
// each list of words it is sent. It sees streams, environment and folder of its own, and gives back
// what a process would.

import fs from 'node:fs';
import { createRequire, syncBuiltinESMExports } from 'node:module';
import { workerData } from 'node:worker_threads';

const require = createRequire(import.meta.url);
const tty = require('node:tty');
const { port, done } = workerData;
const { main } = require('../../bin/listwright.js').load();
const { fstatSync, readSync, writeSync } = fs;

let input = new Uint8Array(0);
let written = { 1: [], 2: [] };

fs.writeSync = (descriptor, bytes, offset = 0, length = bytes.length - offset, ...more) => {
  if (!Object.hasOwn(written, descriptor)) {
    return writeSync(descriptor, bytes, offset, length, ...more);
  }
  written[descriptor].push(Buffer.from(bytes.subarray(offset, offset + length)));
  return length;
};
fs.readSync = (descriptor, bytes, offset = 0, length = bytes.length - offset, ...more) => {
  if (descriptor !== 0) return readSync(descriptor, bytes, offset, length, ...more);
  const part = input.subarray(0, length);
  bytes.set(part, offset);
  input = input.subarray(part.length);
  return part.length;
};
fs.fstatSync = (descriptor, ...more) =>
  descriptor === 0
    ? { size: 0, isFile: () => false, isDirectory: () => false }
    : fstatSync(descriptor, ...more);
tty.isatty = () => false;
syncBuiltinESMExports();

const settle = () => {
  Atomics.store(done, 0, 1);
  Atomics.notify(done, 0);
};
// Whoever waits for an answer learns from its lack that the command ended the process.
process.on('exit', settle);

port.on('message', async (asked) => {
  process.env = asked.env;
  input = asked.input;
  written = { 1: [], 2: [] };
  process.exitCode = undefined;
  await main(asked.words);
  const [stdout, stderr] = [written[1], written[2]].map((parts) => Buffer.concat(parts));
  port.postMessage({ status: process.exitCode ?? 0, stdout, stderr });
  process.exitCode = undefined;
  settle();
});
