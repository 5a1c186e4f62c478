/** Directives back to text, in their tidy form. */

import { BYTES_A_ROW } from '../../grammar/detokenise.js';
import type { Directive, Item, RawDirective, SystemDirective } from '../../grammar/tree.js';
import { nearestOfDecimal } from '../machine/arithmetic/decimal.js';
import { SPACE } from '../machine/characters.js';
import { wordAt } from '../machine/image-layout.js';
import { decodeNumber, NUMBER_SIZE } from '../machine/numbers.js';
import { ramText } from '../machine/ram-size.js';
import type { SavedVariable } from '../machine/variables.js';
import { charactersText, hexBytes } from './print.js';

/** The kind of an item, raw bytes by the area that they are in: `raw program`. */
export const kindOf = (item: Item): string =>
  item.kind === 'raw' ? `raw ${item.area}` : item.kind;

/** Is it a line, or raw bytes among the lines? */
export const isOfProgram = (item: Item): boolean =>
  item.kind === 'line' || kindOf(item) === 'raw program';

/** A number's five bytes as the shortest decimal that gives them, or with the bytes themselves. */
export function numberText(bytes: Uint8Array): string {
  const value = decodeNumber(bytes);
  const magnitude = Math.abs(value);
  const sign = value < 0 ? '-' : '';
  const given = `[=${hexBytes(bytes)}]`;
  // Only zero has more than one form in five bytes.
  if (value === 0) return bytes.every((byte) => byte === 0) ? '0' : `0${given}`;
  if (Number.isInteger(magnitude) && magnitude < 1e9) return sign + magnitude;
  // The 32 bits of a mantissa tell decimals of nine digits apart: one with fewer that gives the
  // number is what nine come to, with zeros at its end.
  for (let digits = 9; digits <= 17; digits++) {
    const text = tidyDecimal(magnitude.toPrecision(digits));
    if (nearestOfDecimal(text) === magnitude) return sign + text;
  }
  return `${sign}${tidyDecimal(magnitude.toPrecision(9))}${given}`;
}

function tidyDecimal(text: string): string {
  const [mantissa, exponent] = text.split('e');
  const tidy = mantissa.includes('.') ? mantissa.replace(/\.?0+$/, '') : mantissa;
  return exponent === undefined ? tidy : `${tidy}E${exponent.replace('+', '')}`;
}

/** A directive in its tidy form; `.display` and long `.raw` take several lines. */
export function directiveText(directive: Directive): string {
  switch (directive.kind) {
    case 'name':
      return `.name "${charactersText(directive.codes, true)}"`;
    case 'ram':
      return `.ram ${ramText(directive.size)}`;
    case 'tv':
      return `.tv ${directive.framesPerSecond}`;
    case 'start':
      return `.start ${directive.line}`;
    case 'lines':
      return '.lines as-written';
    case 'numbers':
      return '.numbers nearest';
    case 'var':
      return `.var ${variableText(directive.variable)}`;
    case 'system':
      return `.system ${directive.name} = ${systemText(directive.value)}`;
    case 'display':
      return displayText(directive.rows);
    case 'raw':
      return rawText(directive);
  }
}

/** Rows that are empty at the end go without saying, whatever the RAM. */
function displayText(rows: readonly Uint8Array[]): string {
  const last = rows.findLastIndex(({ length }) => length > 0);
  return ['.display', ...rows.slice(0, last + 1).map(displayRowText), '.end'].join('\n');
}

/** Bytes that are more than a row go on in the next `.raw` of the same area. */
function rawText({ area, bytes }: RawDirective): string {
  const word = area === 'program' ? '.raw' : `.raw ${area}`;
  const rows: string[] = [];
  for (let at = 0; at === 0 || at < bytes.length; at += BYTES_A_ROW) {
    rows.push(`${word} ${hexBytes(bytes.subarray(at, at + BYTES_A_ROW))}`.trimEnd());
  }
  return rows.join('\n');
}

function systemText(value: SystemDirective['value']): string {
  if ('base' in value) return value.offset === 0 ? value.base : `${value.base}+${value.offset}`;
  const bytes = value;
  if (bytes.length > 2) return `[${hexBytes(bytes)}]`;
  return String(bytes.length === 1 ? bytes[0] : wordAt(bytes, 0));
}

/** A row of the display, so that neither an editor nor the reader takes it for something else. */
export function displayRowText(codes: Uint8Array): string {
  const last = codes.at(-1) === SPACE ? codes.length - 1 : codes.length;
  const text = charactersText(codes.subarray(0, last), false).replace(/^( *)\.(?=END)/, '$1[1B]');
  return last < codes.length ? `${text}[sp]` : text;
}

/** A saved variable in the language's own terms: `A = 3.5`, `C$(2,4) = "NORTEAST"`. */
export function variableText(variable: SavedVariable): string {
  const { name } = variable;
  switch (variable.kind) {
    case 'number':
      return `${name} = ${numberText(variable.value)}`;
    case 'for': {
      const step = numberText(variable.step);
      const bounds = `${numberText(variable.value)} to ${numberText(variable.limit)}`;
      return `${name} for ${bounds}${step === '1' ? '' : ` step ${step}`} at ${variable.line}`;
    }
    case 'string':
      return `${name} = "${charactersText(variable.codes, true)}"`;
    case 'characters':
      return `${name}(${variable.dimensions.join(',')}) = "${charactersText(variable.codes, true)}"`;
    case 'numbers': {
      const numbers: string[] = [];
      for (let at = 0; at < variable.values.length; at += NUMBER_SIZE) {
        numbers.push(numberText(variable.values.slice(at, at + NUMBER_SIZE)));
      }
      return `${name}(${variable.dimensions.join(',')}) = ${numbers.join(',')}`;
    }
  }
}
