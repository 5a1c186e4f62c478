/** What `lint` found, for a person: mistakes first and whole, then savings, then the sum. */
import type { Silenced } from '../../lint/allowances.js';
import type { Finding } from '../../lint/rule.js';
import { isSaving } from '../../lint/rules.js';
import type { Linted } from '../../lint/sarif.js';
import {
  type Diagnostic,
  type Paint,
  Places,
  type Source,
  showDiagnostics,
} from '../../listing/diagnostics.js';
import { grouped } from '../../listing/search.js';
import { ramText } from '../../machine/ram-size.js';
import { isShortOfRoom, type Verdict, verdictText } from '../../memory/verdict.js';
import { count, shortList } from './show.js';

export interface Shown extends Linted {
  readonly source: Source;
}

export interface ShowOptions {
  /** A line for each saving, however much room is left. */
  readonly savings?: boolean;
  /** Lists of any length. */
  readonly all?: boolean;
}

/** The text, of several lines without a last newline. */
export function findingsText(shown: Shown, options: ShowOptions, paint: Paint): string {
  const { source, diagnostics, silenced, verdict } = shown;
  const places = new Places(source.text);
  const mistakes = diagnostics.filter((found) => !isSaving(found)).map(withRule);
  const savings = diagnostics.filter(isSaving);
  // What is not `runs` stands among the mistakes.
  const runs = verdict?.kind === 'runs' ? `; ${verdictText(verdict)}` : '';
  return [
    ...showDiagnostics(source, mistakes, places, paint),
    ...savingsLines(savings, shown, options, places, paint),
    `${source.name}: ${sumText(diagnostics, silenced)}${runs}`,
  ].join('\n');
}

function withRule(diagnostic: Diagnostic): Diagnostic {
  return { ...diagnostic, message: `${diagnostic.message} [${diagnostic.rule}]` };
}

function savingsLines(
  savings: readonly Finding[] | readonly Diagnostic[],
  { source, verdict }: Shown,
  { savings: asked = false, all = false }: ShowOptions,
  places: Places,
  paint: Paint,
): string[] {
  if (savings.length === 0 || verdict === undefined) return [];
  if (!asked && !isShortOfRoom(verdict)) return ruleLines(savings, source, verdict, paint);
  const lines = linesOf(savings, places);
  return shortList(
    lines.map((line) => savingText(line, source, places, paint)),
    all,
    `${source.name}: `,
  );
}

const bytesOf = (found: Diagnostic | Finding): number => ('bytes' in found && found.bytes) || 0;
const sumOf = (found: readonly Diagnostic[]): number =>
  found.reduce((sum, one) => sum + bytesOf(one), 0);

/** The savings of each line of the text together, the line with the largest sum first. */
function linesOf(savings: readonly Diagnostic[], places: Places): Diagnostic[][] {
  const lines = grouped(savings, ({ start }) => places.at(start).line);
  return [...lines.values()].sort((a, b) => sumOf(b) - sumOf(a) || a[0].start - b[0].start);
}

function savingText(
  found: readonly Diagnostic[],
  source: Source,
  places: Places,
  paint: Paint,
): string {
  const { line, column } = places.at(found[0].start);
  const place = paint(`${source.name}:${line}:${column}:`, 'place');
  const alike = grouped(found, ({ message, rule }) => `${message} ${paint(`[${rule}]`, 'quiet')}`);
  const messages = [...alike].map(([text, { length: times }]) =>
    times === 1 ? text : `${times} × ${text}`,
  );
  return `${place} ${paint('note:', 'note')} ${messages.join('; ')}`;
}

/** One line a rule, the largest sum first. */
function ruleLines(
  savings: readonly Diagnostic[],
  { name }: Source,
  { ram }: Verdict,
  paint: Paint,
): string[] {
  const rows = [...grouped(savings, ({ rule }) => rule)]
    .map(([rule, found]) => ({ rule, found: found.length, bytes: sumOf(found) }))
    .sort((a, b) => b.bytes - a.bytes || b.found - a.found);
  const width = Math.max(...rows.map(({ rule }) => rule.length));
  return [
    `${name}: what could be saved, though ${ramText(ram)} has room (--savings lists it):`,
    ...rows.map(({ rule, found, bytes }) => {
      const saving = bytes > 0 ? `, ${count(bytes, 'byte')}` : '';
      return `  ${paint(rule.padEnd(width), 'quiet')}  ${count(found, 'place')}${saving}`;
    }),
  ];
}

function sumText(
  diagnostics: readonly (Diagnostic | Finding)[],
  silenced: readonly Silenced[],
): string {
  const of = (wanted: Diagnostic['severity']): number =>
    diagnostics.filter(({ severity }) => severity === wanted).length;
  const parts = [
    count(of('error'), 'error'),
    count(of('warning'), 'warning'),
    count(of('note'), 'note'),
  ];
  if (silenced.length > 0) parts.push(`${silenced.length} silenced`);
  const fixable = diagnostics.filter((found) => 'fix' in found && found.fix !== undefined);
  const saving = fixable.length === 0 ? '' : `; --fix saves about ${count(sumOf(fixable), 'byte')}`;
  return parts.join(', ') + saving;
}
