/** Statements of other dialects, each to the lines that say the same on this machine. */
import { insteadOf } from '../../listing/other-dialects.js';
import { CERTAINTY } from '../certainties.js';
import { planData } from '../dialect/data.js';
import { functionsOf } from '../dialect/functions.js';
import { freeLetter } from '../dialect/parts.js';
import { type Program, type Rewrite, rewriteLine } from '../dialect/statements.js';
import { type Found, found } from '../note.js';
import { bare, withoutJoints } from '../page/joints.js';
import { Mapped } from '../page/mapped.js';
import { matchesOutside } from '../page/text-spans.js';
import { isLine, type Pass, type Work, type WorkItem, type WorkLine } from '../work.js';

export const rewriteDialects: Pass = (work) => {
  const program = programOf(work);
  let made = rewriteWith(work, program);
  // What rests on the whole program is made everywhere or nowhere.
  const isWhole =
    !work.effort.refused &&
    [...made.values()].every(({ onProgram, certainty }) => !onProgram || certainty >= work.sure);
  const setUp = isWhole ? setUpLines(work, program) : [];
  if (!isWhole || setUp === undefined) {
    offer(work, program, made);
    made = rewriteWith(work, { functions: new Map(), numbers: program.numbers });
  }
  const items: WorkItem[] = [...(setUp ?? [])];
  for (const item of work.items) {
    if (!isLine(item)) items.push(item);
    else for (const one of put(work, item, made.get(item))) items.push(one);
  }
  work.items = items;
};

function programOf(work: Work): Program {
  const lines = work.lines.map(({ number, body }) => ({ number, text: bare(body.text) }));
  const bodies = lines.map(({ text }) => text);
  const statements = bodies.flatMap((body) => {
    const cuts = matchesOutside(body, /:/g).map(({ index }) => index);
    return [...cuts, body.length].map((cut, at) =>
      body.slice(at === 0 ? 0 : cuts[at - 1] + 1, cut).trim(),
    );
  });
  const data = planData(lines);
  const taken = data === undefined ? bodies : [...bodies, ...data.before];
  return {
    data,
    functions: functionsOf(statements),
    numbers: new Set(lines.map(({ number }) => number)),
    spare: freeLetter(taken, 'NKJ'),
  };
}

function rewriteWith(work: Work, program: Program): Map<WorkLine, Rewrite> {
  const made = new Map<WorkLine, Rewrite>();
  const { lines } = work;
  lines.forEach((line, at) => {
    const next = lines[at + 1]?.number ?? Number.POSITIVE_INFINITY;
    const body = withoutJoints(line.body);
    if (!work.effort.spend(body.length)) return;
    const rewrite = rewriteLine(body, line.number, next, program);
    if (rewrite !== undefined) made.set(line, rewrite);
  });
  return made;
}

/** Lines before the first; undefined where there are no numbers for them. */
function setUpLines(work: Work, { data }: Program): WorkLine[] | undefined {
  const { lines } = work;
  if (data === undefined || data.before.length === 0) return [];
  const { before, why } = data;
  const [first] = lines;
  const lowest = Math.min(...lines.map(({ number }) => number));
  if (first.number !== lowest || lowest <= before.length) return undefined;
  const setUp = before.map((text, at) => ({
    page: first.page,
    number: lowest - before.length + at,
    body: Mapped.made(text, first.page.start),
    notes: [],
  }));
  const values = lines.find(({ body }) => matchesOutside(body.text, /\bDATA\b/gi).length > 0)!;
  work.add(setUp[0], rewritten(values, before, CERTAINTY.sameInProgram, why));
  return setUp;
}

/** Asks, where READ or a function cannot be rewritten throughout, with what it might be. */
function offer(work: Work, program: Program, made: ReadonlyMap<WorkLine, Rewrite>): void {
  for (const [line, { onProgram, lines }] of made) {
    const word = /\b(?:READ|RESTORE|DEF)\b/i.exec(bare(line.body.text))?.[0].toUpperCase();
    if (!onProgram || word === undefined || lines.length === 0) continue;
    const before = word === 'READ' ? (program.data?.before ?? []) : [];
    const to = [...before, ...lines.map(({ body: { text } }) => text)];
    const why = `${insteadOf(word) ?? 'it is none of this machine'}; not all of the program could be rewritten so`;
    work.add(line, rewritten(line, to, CERTAINTY.offer, why));
  }
}

const rewritten = (
  { body }: WorkLine,
  to: readonly string[],
  certainty: number,
  why: string,
): Found => found(body, 0, body.length, to.join(' / '), { kind: 'dialect', certainty, why });

function put(work: Work, line: WorkLine, rewrite: Rewrite | undefined): WorkItem[] {
  if (rewrite === undefined) return [line];
  const { lines, certainty } = rewrite;
  const why = rewrite.why.join('; ');
  const to = lines.length === 0 ? [`nothing: ${why}`] : lines.map(({ body }) => body.text);
  const note = work.add(line, rewritten(line, to, certainty, why));
  if (!note.made) return [line];
  if (lines.length === 0) return [{ kind: 'gone', line }];
  return lines.map((one, at) => ({
    page: line.page,
    number: one.number,
    body: one.body,
    notes: at === 0 ? line.notes : [],
  }));
}
