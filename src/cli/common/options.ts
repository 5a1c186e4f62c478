/** The options that several commands share: one wording each, and one way to read their values. */

import { Option } from 'commander';
import { HIGHEST_LINE, LOWEST_LINE } from '../../machine/memory-map.js';
import { readRamSize } from '../../machine/ram-size.js';
import { CannotAsk } from './io.js';

/** @param use what the command does with the size, where it is not the plain question */
export function ramOption(use?: string): Option {
  const sizes = 'the RAM that is fitted: 1K, 2K, 16K … 48K';
  return new Option('--ram <size>', use === undefined ? sizes : `${sizes}; ${use}`).argParser(
    (text) => {
      const size = readRamSize(text);
      if (typeof size === 'string') throw new CannotAsk(`--ram: ${size}`);
      return size;
    },
  );
}

/** @param what is done with a program that is too large to be loaded */
export const anywayOption = (what: string): Option =>
  new Option('--anyway', `${what} that is too large to be loaded`);

export const includeAnywhereOption = (): Option =>
  new Option('--include-anywhere', 'let a REM put in files from outside the folder of the listing');

export const salvageOption = (): Option =>
  new Option('--salvage', 'read what can be read of an image whose header is wrong or cut short');

/** `--format`, with `text` and `json` and what a command has besides. */
export const formatOption = (...more: readonly string[]): Option =>
  new Option('--format <form>', 'how results are shown')
    .choices(['text', 'json', ...more])
    .default('text');

export const allOption = (): Option =>
  new Option('--all', 'show lists whole: without it, no more than 20 items of each');

/** @param what goes there, and where else it goes without the option */
export const outputOption = (what: string): Option =>
  new Option('-o, --output <file>', `${what}; - for standard output`);

/** @param what is drawn */
export const svgOption = (what: string): Option =>
  new Option('--svg <file>', `write ${what} as a picture; - for standard output`);

interface NumberBounds {
  readonly from?: number;
  readonly to?: number;
  /** Must it be a whole number? */
  readonly whole?: boolean;
}

/**
 * An option whose value is a number, between bounds that belong to it. Its parser throws CannotAsk
 * with the option's name, the value and what is taken.
 */
export function numberOption(
  flags: string,
  meaning: string,
  bounds: NumberBounds = {},
  usual?: number,
): Option {
  const option = new Option(flags, meaning);
  const read = (text: string): number => {
    const { from = Number.NEGATIVE_INFINITY, to = Number.POSITIVE_INFINITY, whole } = bounds;
    const number = /^[+-]?(\d+\.?\d*|\.\d+)$/.test(text.trim()) ? Number(text) : Number.NaN;
    const taken = whole ? Number.isSafeInteger(number) : Number.isFinite(number);
    if (taken && number >= from && number <= to) return number;
    const kind = whole ? 'a whole number' : 'a number';
    throw new CannotAsk(`${option.long}: ${text || 'nothing'} is not ${kind}${boundsText(bounds)}`);
  };
  option.argParser(read);
  return usual === undefined ? option : option.default(usual);
}

/** An option whose value is the number of a line, or a step from one to the next. */
export const lineOption = (flags: string, meaning: string, usual?: number): Option =>
  numberOption(flags, meaning, { whole: true, from: LOWEST_LINE, to: HIGHEST_LINE }, usual);

function boundsText({ from, to }: NumberBounds): string {
  if (from !== undefined && to !== undefined) return ` from ${from} to ${to}`;
  if (from !== undefined) return ` from ${from} up`;
  return to === undefined ? '' : ` up to ${to}`;
}
