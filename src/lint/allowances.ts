/**
 * Comments of the editor's that silence a rule:
 *   ' lint: allow number-form — the display shows the digits      the next line of the program
 *   ' lint: allow long-name, copied-variable in file — as printed      the whole listing
 * A reason is required. The dash may also be - or --.
 */
import type { Comment, Listing } from '../../grammar/tree.js';
import { firstIndex } from '../listing/search.js';
import type { Finding } from './rule.js';

export interface Allowance {
  readonly comment: Comment;
  readonly rules: readonly string[];
  readonly reason: string;
  /** What it covers: offsets of a line of the program, or the whole text. */
  readonly start: number;
  readonly end: number;
}

export interface Silenced {
  readonly finding: Finding;
  readonly reason: string;
}

const SHAPE =
  /^\s*lint\s*:\s*allow\s+([a-z0-9-]+(?:\s*,\s*[a-z0-9-]+)*)(\s+in\s+file)?(?:\s+(?:—|–|--|-)\s*(.*))?$/i;
const INTENDED = /^\s*lint\s*:/i;

type Complaint = Omit<Finding, 'rule' | 'severity'>;

/** Reads the comments; what is wrong with one goes to `complain`, and it silences nothing. */
export function readAllowances(
  listing: Listing,
  textLength: number,
  knownRules: ReadonlySet<string>,
  complain: (complaint: Complaint) => void,
): Allowance[] {
  const allowances: Allowance[] = [];
  const open: Comment[] = [];
  const take = (comment: Comment, start: number, end: number): void => {
    const read = readAllowance(comment, knownRules, complain);
    if (read !== undefined) allowances.push({ ...read, comment, start, end });
  };
  for (const item of listing.items) {
    if (item.kind === 'comment' && INTENDED.test(item.text)) {
      if (SHAPE.exec(item.text)?.[2] !== undefined) take(item, 0, textLength + 1);
      else open.push(item);
    } else if (item.kind === 'line') {
      for (const comment of open.splice(0)) take(comment, item.start, item.end + 1);
    }
  }
  for (const comment of open) take(comment, textLength, textLength);
  return allowances;
}

function readAllowance(
  comment: Comment,
  knownRules: ReadonlySet<string>,
  complain: (complaint: Complaint) => void,
): { rules: string[]; reason: string } | undefined {
  const { start, end } = comment;
  const match = SHAPE.exec(comment.text);
  const help = "write ' lint: allow RULE — reason, or ' lint: allow RULE in file — reason";
  if (match === null) {
    const why = 'a comment that begins with lint: silences a rule, and this one names none';
    complain({ start, end, message: 'this comment is not understood', why, help });
    return undefined;
  }
  const rules = match[1].split(',').map((name) => name.trim().toLowerCase());
  const unknown = rules.find((name) => !knownRules.has(name));
  if (unknown !== undefined) {
    const why = 'a name that is spelt wrong would silence nothing';
    complain({ start, end, message: `there is no rule ${unknown}`, why, help });
    return undefined;
  }
  const reason = (match[3] ?? '').trim();
  if (reason === '') {
    const why = 'whoever reads the listing next must know why the rule does not hold here';
    complain({ start, end, message: 'this comment gives no reason', why, help });
    return undefined;
  }
  return { rules, reason };
}

/** Parts findings into those that stand and those that a comment silences. */
export function silence(
  findings: readonly Finding[],
  allowances: readonly Allowance[],
): { findings: Finding[]; silenced: Silenced[]; unused: Allowance[] } {
  const used = new Set<Allowance>();
  const silenced: Silenced[] = [];
  const covers = new Map<string, Cover>();
  for (const allowance of allowances) {
    for (const rule of allowance.rules) {
      const cover = covers.get(rule) ?? new Cover();
      covers.set(rule, cover);
      cover.add(allowance);
    }
  }
  const standing = findings.filter((finding) => {
    const allowance = covers.get(finding.rule)?.at(finding.start);
    if (allowance === undefined) return true;
    used.add(allowance);
    silenced.push({ finding, reason: allowance.reason });
    return false;
  });
  const unused = allowances.filter((allowance) => !used.has(allowance));
  return { findings: standing, silenced, unused };
}

/** The allowances of one rule: what the first of them covers at a place. */
class Cover {
  /** Of a whole listing: the first one covers everything. */
  private whole: { allowance: Allowance; order: number } | undefined;
  /** Of lines, in the order of the text: each covers one line, and the first counts. */
  private readonly lines: { allowance: Allowance; order: number }[] = [];
  private count = 0;

  add(allowance: Allowance): void {
    const one = { allowance, order: this.count++ };
    // A line that a comment is about stands behind it, and so never at 0.
    if (allowance.start === 0) this.whole ??= one;
    else if (this.lines.at(-1)?.allowance.start !== allowance.start) this.lines.push(one);
  }

  at(offset: number): Allowance | undefined {
    const { lines, whole } = this;
    const one = lines[firstIndex(lines.length, (at) => lines[at].allowance.end > offset)];
    const covers = one !== undefined && offset >= one.allowance.start;
    if (!covers) return whole?.allowance;
    return whole !== undefined && whole.order < one.order ? whole.allowance : one.allowance;
  }
}
