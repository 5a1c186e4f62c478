import { createHash } from 'node:crypto';

/** Whether a mutant is of the sample of one in so many that is asked for: the same ones each time. */
export function isDrawn({ fileName, location: { start, end }, replacement }) {
  const name = fileName.slice(process.cwd().length);
  const text = JSON.stringify([name, start.line, start.column, end.line, end.column, replacement]);
  const drawn = createHash('sha256').update(text).digest().readUInt32BE();
  return drawn % Number(process.env.MUTANTS_ONE_IN ?? 1) === 0;
}
