/** Statements of other dialects, each to the lines that say the same on this machine. */
import { insteadOf } from '../../listing/other-dialects.js';
import { CERTAINTY } from '../certainties.js';
import {
  type DataPlan,
  dataString,
  numberStep,
  planData,
  rewriteDialect,
} from '../dialect/words.js';
import type { Note } from '../note.js';
import { bare, withoutJoints } from '../page/joints.js';
import { parses } from '../readings/parsing.js';
import { isLine, type Pass, type Work, type WorkItem, type WorkLine } from '../work.js';

export const rewriteDialects: Pass = (work) => {
  const { lines } = work;
  const bodies = lines.map(({ body }) => bare(body.text));
  const plan = planData(bodies);
  const items: WorkItem[] = [];
  let index = 0;
  for (const item of work.items) {
    if (!isLine(item)) {
      items.push(item);
      continue;
    }
    const next = lines[index + 1]?.number ?? Number.POSITIVE_INFINITY;
    items.push(...rewriteLine(work, item, { index, next, bodies, plan }));
    index++;
  }
  work.items = items;
};

interface Place {
  readonly index: number;
  /** The number of the next line. */
  readonly next: number;
  readonly bodies: readonly string[];
  readonly plan: DataPlan;
}

function rewriteLine(work: Work, line: WorkLine, { index, next, bodies, plan }: Place): WorkItem[] {
  const body = withoutJoints(line.body);
  const note = (to: string, certainty: number, why: string): Note =>
    work.add(line, {
      kind: 'dialect',
      from: body.text,
      start: body.sourceOf(0),
      end: body.sourceOf(body.length),
      to,
      candidates: [to],
      certainty,
      why,
    });
  if (/^DATA\b/i.test(body.text) && plan.assignments.size > 0) {
    note('nothing: its values stand in the assignments', plan.certainty, insteadOf('DATA')!);
    if (plan.certainty >= work.sure)
      return [{ kind: 'noise', body: line.body, why: 'a DATA line', certainty: plan.certainty }];
  }
  if (/^READ\b/i.test(body.text) && plan.assignments.size === 0) {
    const offer = dataString(bodies);
    if (offer !== undefined) note(offer.join(' / '), CERTAINTY.offer, insteadOf('READ')!);
    return [line];
  }
  const rewrite = rewriteDialect(
    body,
    line.number,
    next,
    plan.assignments.get(index),
    plan.certainty,
  );
  if (rewrite === undefined) return [line];
  const { statements } = rewrite;
  const step = numberStep(line.number, next, statements.length);
  const good = statements.every(({ text }) => parses(text));
  const fits = step > 0 || statements.length === 1;
  const certainty =
    good && fits ? rewrite.certainty : Math.min(rewrite.certainty, CERTAINTY.incomplete);
  const why = fits
    ? rewrite.why.join('; ')
    : `${rewrite.why.join('; ')}; there is no room for the line numbers before ${next}`;
  const { made } = note(statements.map(({ text }) => text).join(' / '), certainty, why);
  if (!made) return [line];
  return statements.map((statement, at) => ({
    page: line.page,
    number: line.number + at * step,
    body: statement,
    notes: at === 0 ? line.notes : [],
  }));
}
