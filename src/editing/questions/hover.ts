/** What stands at a place, in a few lines of Markdown. */
import { type Hover, MarkupKind } from 'vscode-languageserver-types';
import { tokensOf } from '../../../grammar/lexer.js';
import type {
  Expression,
  Line,
  NumberLiteral,
  Span,
  StringLiteral,
} from '../../../grammar/tree.js';
import { single } from '../../analysis/expression-ranges.js';
import type { Use } from '../../analysis/steps.js';
import { literalBytes, shorterForm } from '../../lint/literal-forms.js';
import { constantOf } from '../../listing/constants.js';
import { count, hexBytes, statementText } from '../../listing/print.js';
import { numberText } from '../../machine/arithmetic/digits.js';
import { hasGlyph } from '../../machine/characters.js';
import { lineSize } from '../../machine/image-layout.js';
import { encodeNumber } from '../../machine/numbers.js';
import { REPORTS } from '../../machine/reports.js';
import { variableBudgets } from '../../memory/variables.js';
import { systemVariableAt } from '../addresses.js';
import { wordsOf } from '../keyword-words.js';
import { lineNumberSpan, lineTargetsOf } from '../line-targets.js';
import { isAddress } from '../literals.js';
import { type Occurrence, occurrenceAt, occurrencesOf } from '../occurrences.js';
import type { Snapshot } from '../snapshot.js';

/** The hover at an offset, or undefined where there is nothing to say. */
export function hover(snapshot: Snapshot, offset: number): Hover | undefined {
  const line = snapshot.lineAt(offset);
  const target = lineTargetsOf(snapshot).find(({ start, end }) => start <= offset && offset < end);
  if (target !== undefined) {
    const said =
      target.line === undefined
        ? ['There is no such line, and none behind it: the program ends, report 0.']
        : lineWords(snapshot, target.line, target.number);
    return shown(snapshot, target, said);
  }
  const variable = occurrenceAt(snapshot, offset);
  if (variable !== undefined) return shown(snapshot, variable, variableWords(snapshot, variable));
  if (line === undefined) return undefined;
  const own = lineNumberSpan(snapshot, line);
  if (offset < own.end) return shown(snapshot, own, ownLineWords(line));
  const literal = literalAt(snapshot, line, offset);
  if (literal !== undefined) return shown(snapshot, literal.span, literal.words);
  return keywordHover(snapshot, line, offset);
}

function shown({ positions }: Snapshot, span: Span, lines: readonly string[]): Hover {
  return {
    contents: { kind: MarkupKind.Markdown, value: lines.join('\n\n') },
    range: positions.rangeOf(span),
  };
}

const code = (text: string): string => `\`${text.replaceAll('`', "'")}\``;

// ───────────────────────────────── lines ─────────────────────────────────

function lineWords(snapshot: Snapshot, line: Line, asked: number): string[] {
  const text = snapshot.text.slice(line.start, line.end).replaceAll(/\s+/g, ' ');
  const found =
    line.number === asked ? [] : [`There is no line ${asked}: the machine goes to the next one.`];
  return [...found, code(text)];
}

function ownLineWords(line: Line): string[] {
  const { number, hidden } = line;
  const parts = hidden > 0 ? `, ${hidden} of them hidden behind its numbers` : '';
  return [
    `Line ${number}: ${count(lineSize(line), 'byte')}${parts}.`,
    code(statementText(line.codes)),
  ];
}

// ───────────────────────────────── variables ─────────────────────────────────

function variableWords(snapshot: Snapshot, { name }: Occurrence): string[] {
  const { program } = snapshot;
  const all = occurrencesOf(snapshot).byName.get(name)!;
  const words = [`**${name}**: ${kindOf(snapshot, name)}.`];
  const budget = variableBudgets(program).find((one) => one.name === name);
  if (budget !== undefined) words.push(sizeWords(budget.low, budget.high, budget.why));
  const set = new Set(all.filter(({ role }) => role === 'set').map(({ line }) => line!.number));
  const saved = all.some(({ role }) => role === 'saved') ? ['saved with the program'] : [];
  const places = [...set].map((number) => `line ${number}`).concat(saved);
  words.push(
    places.length > 0 ? `Set in ${listed(places)}.` : 'Nothing sets it: reading it is report 2.',
  );
  const values = valueWords(snapshot, name);
  if (values !== undefined) words.push(values);
  return words;
}

function kindOf({ program, listing }: Snapshot, name: string): string {
  const settings = program.names.all.get(name)?.settings ?? [];
  const made = settings.some(({ kind }) => kind === 'DIM');
  const saved = listing.items.find(
    (item) => item.kind === 'var' && item.variable.name === name.replace('()', ''),
  );
  if (name.endsWith('()')) return 'an array of numbers';
  if (name.endsWith('$'))
    return made || (saved?.kind === 'var' && saved.variable.kind === 'characters')
      ? 'an array of characters'
      : 'a string';
  return settings.some(({ kind }) => kind === 'FOR') ? 'the variable of a FOR loop' : 'a number';
}

function sizeWords(low: number, high: number, why: string | undefined): string {
  const most = Number.isFinite(high) ? String(high) : 'no known most';
  const size = low === high ? count(low, 'byte') : `${low} to ${most} bytes`;
  return `Takes ${size}${why === undefined || low === high ? '' : ` (${why})`}.`;
}

function valueWords({ program }: Snapshot, name: string): string | undefined {
  if (name.endsWith('$')) {
    const { low, high } = program.ranges.lengthOf(name);
    if (high === Infinity) return undefined;
    return low === high
      ? `Always ${count(low, 'character')} long.`
      : `${low} to ${high} characters long.`;
  }
  const found = program.ranges.named(name);
  const value = single(found);
  if (value !== undefined) return `Its value is always ${code(numberText(value))}.`;
  const { low, high, whole } = found;
  if (low === -Infinity && high === Infinity) return undefined;
  const kind = whole ? 'Whole numbers' : 'Values';
  if (high === Infinity) return `${kind} from ${code(numberText(low))} up.`;
  if (low === -Infinity) return `${kind} up to ${code(numberText(high))}.`;
  return `${kind} from ${code(numberText(low))} to ${code(numberText(high))}.`;
}

function listed(places: readonly string[]): string {
  const most = 12;
  const shownOnes = places.slice(0, most).join(', ');
  return places.length > most ? `${shownOnes} and ${places.length - most} more` : shownOnes;
}

// ───────────────────────────────── literals ─────────────────────────────────

function literalAt(
  snapshot: Snapshot,
  line: Line,
  offset: number,
): { span: Span; words: string[] } | undefined {
  for (const use of snapshot.program.uses) {
    if (use.step.line !== line) continue;
    const { node } = use;
    if (offset < node.start || offset >= node.end) continue;
    if (node.kind === 'number') return { span: node, words: numberWords(use, node) };
    if (node.kind === 'string') return { span: node, words: stringWords(use, node) };
  }
  return undefined;
}

function numberWords(use: Use, literal: NumberLiteral): string[] {
  const { value, stored, text } = literal;
  if (stored === 'nothing') return [`Shows ${code(text)}, and stores no value behind it.`];
  const words: string[] = [];
  const named = addressWords(use, value);
  if (named !== undefined) words.push(named);
  const bytes = hexBytes(encodeNumber(value));
  words.push(
    `Stored as ${code(text)}, the marker ${code('7E')} and ${code(bytes)}: ${count(literalBytes(literal), 'byte')}.`,
  );
  if (numberText(value) !== text)
    words.push(`The machine prints it as ${code(numberText(value))}.`);
  const shorter = shorterForm(use, literal);
  if (shorter !== undefined && shorter.bytes < literalBytes(literal)) {
    words.push(`${code(shorter.text)} is the same number in ${count(shorter.bytes, 'byte')}.`);
  }
  return words;
}

/** After PEEK and POKE a number is an address. */
function addressWords(use: Use, value: number): string | undefined {
  if (!isAddress(use)) return undefined;
  const found = systemVariableAt(value);
  return found && `**${found.label}**: ${found.does}`;
}

function stringWords({ parent }: Use, { size, codes }: StringLiteral): string[] {
  const width = codes.every(hasGlyph);
  const words = [`${count(size, 'character')}: ${count(size + 2, 'byte')} in the line.`];
  words.push(
    width
      ? `${count(size, 'column')} on the screen.`
      : 'Some of its codes are keywords, which show as words: it is wider on the screen.',
  );
  const value = parent === undefined ? undefined : constantOf(parent.node as Expression);
  if (parent?.node.kind === 'call' && value !== undefined) {
    words.push(`${code(`${parent.node.function} of it`)} is ${code(numberText(value))}.`);
  }
  return words;
}

// ───────────────────────────────── keywords ─────────────────────────────────

function keywordHover(snapshot: Snapshot, line: Line, offset: number): Hover | undefined {
  const words = snapshot.text.slice(line.start, line.end);
  const at = offset - line.start;
  const token = tokensOf(words).find(({ startOffset, end }) => startOffset <= at && at < end);
  const word = token?.payload?.word ?? (token?.tokenType.name === 'REM' ? 'REM' : undefined);
  const found = word === undefined ? undefined : wordsOf(word);
  if (token === undefined || word === undefined || found === undefined) return undefined;
  const reports = found.reports.map((one) => `${one} (${REPORTS[one]})`);
  const said = [code(found.form), found.does];
  if (reports.length > 0) said.push(`It can stop with report ${reports.join(', ')}.`);
  const end = word === 'REM' ? token.startOffset + 3 : token.end;
  if (at >= end) return undefined;
  return shown(snapshot, { start: line.start + token.startOffset, end: line.start + end }, said);
}
