/**
 * Offsets of a text (UTF-16 units, as the tree has them) to the protocol's positions and back. A
 * position counts lines from 0 and, within a line, the units that client and server agreed on
 * (Language Server Protocol 3.17, "Position").
 */
import type { Position, Range } from 'vscode-languageserver-types';
import type { Span } from '../../grammar/tree.js';
import { firstIndex } from '../listing/search.js';

/** The units of `Position.character`. */
export type Encoding = 'utf-8' | 'utf-16' | 'utf-32';

const LINE_END = /\r\n|\n|\r/g;

export class Positions {
  private readonly starts: number[] = [0];
  private readonly plain: boolean;

  constructor(
    private readonly text: string,
    private readonly encoding: Encoding = 'utf-16',
  ) {
    for (const match of text.matchAll(LINE_END)) this.starts.push(match.index + match[0].length);
    // In ASCII every unit is one character.
    // biome-ignore lint/suspicious/noControlCharactersInRegex: all of ASCII is meant.
    this.plain = encoding === 'utf-16' || /^[\x00-\x7f]*$/.test(text);
  }

  get lineCount(): number {
    return this.starts.length;
  }

  /** Offset of the first character of a line, counted from 0. */
  startOfLine(line: number): number {
    return this.starts[line] ?? this.text.length;
  }

  /** Offset behind the last character of a line, its end mark left out. */
  endOfLine(line: number): number {
    let end = this.starts[line + 1] ?? this.text.length;
    while (end > this.startOfLine(line) && /[\r\n]/.test(this.text[end - 1])) end--;
    return end;
  }

  /** The line of an offset, counted from 0. */
  lineOf(offset: number): number {
    const { starts } = this;
    return Math.max(0, firstIndex(starts.length, (index) => starts[index] > offset) - 1);
  }

  positionAt(offset: number): Position {
    const within = Math.max(0, Math.min(offset, this.text.length));
    const line = this.lineOf(within);
    const start = this.starts[line];
    return { line, character: this.units(start, Math.min(within, this.endOfLine(line))) };
  }

  /** The offset of a position; one past a line's end counts as its end. */
  offsetAt({ line, character }: Position): number {
    if (line < 0) return 0;
    if (line >= this.starts.length) return this.text.length;
    const start = this.starts[line];
    const end = this.endOfLine(line);
    if (this.plain) return Math.min(start + Math.max(0, character), end);
    let units = 0;
    for (let at = start; at < end; ) {
      const size = this.text.codePointAt(at)! > 0xffff ? 2 : 1;
      units += this.units(at, at + size);
      if (units > character) return at;
      at += size;
    }
    return end;
  }

  rangeOf({ start, end }: Span): Range {
    return { start: this.positionAt(start), end: this.positionAt(Math.max(start, end)) };
  }

  spanOf({ start, end }: Range): Span {
    return { start: this.offsetAt(start), end: this.offsetAt(end) };
  }

  private units(start: number, end: number): number {
    if (this.plain) return end - start;
    let units = 0;
    for (const character of this.text.slice(start, end)) {
      units += this.encoding === 'utf-32' ? 1 : utf8Length(character.codePointAt(0)!);
    }
    return units;
  }
}

function utf8Length(codePoint: number): number {
  if (codePoint < 0x80) return 1;
  if (codePoint < 0x800) return 2;
  return codePoint < 0x10000 ? 3 : 4;
}
