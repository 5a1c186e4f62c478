// Required before the command line: with the first bytes of a file that is not whole yet, half of
// them are written, and the process sends itself the signal that ENDED_BY names.
const fs = require('node:fs');

const { openSync, writeSync } = fs;
const unfinished = new Set();
fs.openSync = (path, ...more) => {
  const descriptor = openSync(path, ...more);
  if (String(path).endsWith('.part')) unfinished.add(descriptor);
  return descriptor;
};
fs.writeSync = (descriptor, bytes, offset, length, ...more) => {
  if (!unfinished.has(descriptor)) return writeSync(descriptor, bytes, offset, length, ...more);
  unfinished.clear();
  const half = writeSync(descriptor, bytes, offset, length >> 1, ...more);
  process.kill(process.pid, process.env.ENDED_BY);
  return half;
};
