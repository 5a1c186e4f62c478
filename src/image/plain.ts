/** The readable listing alone, as a page or a forum shows it. */
import type { Item, Line, Listing } from '../../grammar/tree.js';
import { makingOf } from '../listing/directives.js';
import { count, statementText } from '../listing/print.js';
import type { NumberMaking } from '../machine/arithmetic/decimal.js';
import { SPACE } from '../machine/characters.js';
import { endOfPiece } from '../machine/stored-codes.js';

/** Columns of the line number, as the machine's own LIST has them. */
const NUMBER_COLUMNS = 4;

export interface PlainListing {
  readonly text: string;
  /** What the image holds and this text does not, in words for a person. */
  readonly leftOut: readonly string[];
}

/** What single lines leave out. */
interface Losses {
  values: number;
  noValues: number;
  spaces: number;
  code: number;
  codeLines: number[];
}

/** The lines of a listing as a person reads them. Most such texts cannot build the image again. */
export function plainListing({ items, lines }: Listing): PlainListing {
  const making = makingOf(items);
  const losses: Losses = { values: 0, noValues: 0, spaces: 0, code: 0, codeLines: [] };
  const rows = lines.map(
    (line) =>
      `${String(line.number).padStart(NUMBER_COLUMNS)} ${plainStatement(line, making, losses)}\n`,
  );
  return { text: rows.join(''), leftOut: [...ofLines(losses), ...ofDirectives(items)] };
}

function plainStatement({ codes, number }: Line, making: NumberMaking, losses: Losses): string {
  let text = statementText(withoutSpaces(codes, losses), making);
  text = text.replace(/(?<=REM )\[[0-9A-F\s]*\]$/, (hex) => {
    const size = hex.match(/[0-9A-F]{2}/g)?.length ?? 0;
    losses.code += size;
    losses.codeLines.push(number);
    return `(${count(size, 'BYTE', 'BYTES')})`;
  });
  return text.replace(/\[=([0-9A-F ]*)\]/g, (_, bytes: string) => {
    if (bytes === '') losses.noValues++;
    else losses.values++;
    return '';
  });
}

/** The codes without the spaces that mean nothing to the machine: those outside strings and REM. */
function withoutSpaces(codes: Uint8Array, losses: Losses): Uint8Array {
  const kept: number[] = [];
  for (let at = 0; at < codes.length; ) {
    const end = endOfPiece(codes, at);
    if (codes[at] === SPACE) losses.spaces++;
    else kept.push(...codes.subarray(at, end));
    at = end;
  }
  return Uint8Array.from(kept);
}

const counted = (number: number, one: string, more?: string): string[] =>
  number === 0 ? [] : [count(number, one, more)];

function ofLines({ values, noValues, spaces, code, codeLines }: Losses): string[] {
  const out = [
    ...counted(
      values,
      'stored value that its digits do not show',
      'stored values that their digits do not show',
    ),
    ...counted(noValues, 'number that has no stored value', 'numbers that have no stored value'),
    ...counted(spaces, 'stored space'),
  ];
  if (code === 0) return out;
  const where = codeLines.length === 1 ? `line ${codeLines[0]}` : `lines ${codeLines.join(', ')}`;
  return [...out, `${count(code, 'byte')} of machine code in ${where}`];
}

const LEFT_OUT: ReadonlyMap<string, string> = new Map([
  ['display', 'the saved display'],
  ['numbers', 'that its decimals are the nearest numbers, not those that typing gives'],
  ['lines', 'that its lines are stored just so'],
]);

function ofDirectives(items: readonly Item[]): string[] {
  const numberOf = (kind: string): number => items.filter((item) => item.kind === kind).length;
  const loose = items.reduce((sum, item) => sum + (item.kind === 'raw' ? item.bytes.length : 0), 0);
  return [
    ...items.flatMap((item) =>
      item.kind === 'start'
        ? `that it starts at line ${item.line} once loaded`
        : (LEFT_OUT.get(item.kind) ?? []),
    ),
    ...counted(numberOf('system'), 'system variable'),
    ...counted(numberOf('var'), 'saved variable'),
    ...counted(loose, 'byte that is nothing of this', 'bytes that are nothing of this'),
  ];
}
