/**
 * Name and image bit by bit, as they come from the tape: as soon as no image can begin with them, it
 * says so. Two rows of bits that lead to the same state can be followed by the same bits only. What it
 * asks for is what `checkStructure` does, with no odd code in a line.
 */
import { FIRST_LETTER, INVERSE, NEWLINE, NUMBER_MARKER, REM } from '../../machine/characters.js';
import { HEAD_SIZE, HEADER_SIZE, LINE_HEAD, offsetOf } from '../../machine/image-layout.js';
import {
  COLLAPSED_DISPLAY_SIZE,
  HIGHEST_LINE,
  IMAGE_START,
  VARIABLES_END,
} from '../../machine/memory-map.js';
import { NUMBER_SIZE } from '../../machine/numbers.js';
import { NAME_END } from '../../machine/tape-signal.js';
import { FOR_VARIABLE_SIZE, KIND_BITS } from '../../machine/variables.js';
import { areasFit, isOddCode, LONGEST_NAME, NAME_CODES } from './image-structure.js';

type Piece = 'name' | 'head' | 'line' | 'text' | 'display' | 'variables' | 'done';

const D_FILE = offsetOf('D_FILE');
const VARS = offsetOf('VARS');
const E_LINE = offsetOf('E_LINE');

export class ImageScan {
  /** What the next byte belongs to. */
  piece: Piece = 'name';
  /** Bits of a byte that is not whole yet, behind a 1. */
  private begun = 1;
  /** Bytes of the name, or of the image. */
  private at = 0;
  /** Offsets of the areas; as far as they are known. */
  private display = 0;
  private variables = 0;
  private end = 0;
  /** Number of the last line and of this one; where it ends; whether it is a REM. */
  private lastNumber = 0;
  private number = 0;
  private lineEnd = 0;
  private isRem = false;
  /** Where its text, or this display, begins. */
  private from = 0;
  /** Bytes of a number, or of a variable, that are still to come; −1 while its name goes on, −2 and −3 before its length. */
  private left = 0;
  private newlines = 0;

  copy(): ImageScan {
    return Object.assign(new ImageScan(), this);
  }

  /** The same for all that can go on alike. */
  get state(): string {
    return Object.values(this).join();
  }

  /** Bits to the end of the image, once its head says where that is. */
  get bitsLeft(): number | undefined {
    const isKnown = this.piece !== 'name' && (this.piece !== 'head' || this.at >= HEAD_SIZE);
    return isKnown ? 8 * (this.end - this.at) - (31 - Math.clz32(this.begun)) : undefined;
  }

  /** Can this bit be the next? After false there is nothing more to ask. */
  push(bit: 0 | 1): boolean {
    this.begun = 2 * this.begun + bit;
    if (this.begun < 256) return true;
    const byte = this.begun & 255;
    this.begun = 1;
    const fits = this.take(byte);
    this.at++;
    if (this.piece === 'name' && byte >= NAME_END) {
      this.piece = 'head';
      this.at = 0;
    }
    return fits;
  }

  private take(byte: number): boolean {
    switch (this.piece) {
      case 'name':
        return (byte & ~NAME_END) < NAME_CODES && this.at < LONGEST_NAME;
      case 'head':
        return this.takeHead(byte);
      case 'line':
        return this.takeLineHead(byte);
      case 'text':
        return this.takeText(byte);
      case 'display':
        return this.takeDisplay(byte);
      case 'variables':
        return this.takeVariables(byte);
      default:
        return false;
    }
  }

  private takeHead(byte: number): boolean {
    const { at } = this;
    if (at === D_FILE || at === D_FILE + 1) this.display += byte << (8 * (at - D_FILE));
    if (at === VARS || at === VARS + 1) this.variables += byte << (8 * (at - VARS));
    if (at === E_LINE || at === E_LINE + 1) this.end += byte << (8 * (at - E_LINE));
    if (at === HEADER_SIZE - 1) this.nextPiece();
    if (at !== HEAD_SIZE - 1) return true;
    this.display -= IMAGE_START;
    this.variables -= IMAGE_START;
    this.end -= IMAGE_START;
    const { display, variables, end } = this;
    return areasFit({ display, variables, end });
  }

  /** What follows this byte, at the end of the head or of a line. */
  private nextPiece(): void {
    this.from = this.at + 1;
    this.piece = this.from === this.display ? 'display' : 'line';
    // What nothing asks for any more would only keep states apart.
    this.lastNumber = this.piece === 'line' ? this.number : 0;
    [this.number, this.lineEnd, this.left, this.isRem] = [0, 0, 0, false];
  }

  private takeLineHead(byte: number): boolean {
    const place = this.at - this.from;
    if (place < 2) {
      this.number = 256 * this.number + byte;
      return place === 0 || (this.number > this.lastNumber && this.number <= HIGHEST_LINE);
    }
    if (place === 2) {
      this.lineEnd = byte;
      return true;
    }
    this.from += LINE_HEAD;
    this.lineEnd += 256 * byte + this.from;
    this.piece = 'text';
    return this.lineEnd > this.from && this.lineEnd <= this.display;
  }

  private takeText(byte: number): boolean {
    if (this.at === this.lineEnd - 1) {
      this.nextPiece();
      return byte === NEWLINE;
    }
    const isFirst = this.at === this.from;
    if (isFirst) this.isRem = byte === REM;
    if (this.left > 0) {
      this.left--;
      return true;
    }
    if (!this.isRem && byte === NUMBER_MARKER) this.left = NUMBER_SIZE;
    return !isOddCode(byte, isFirst, this.isRem);
  }

  private takeDisplay(byte: number): boolean {
    if (byte === NEWLINE) this.newlines++;
    const isLast = this.at === this.variables - 1;
    const begins = this.at > this.from || byte === NEWLINE;
    if (isLast) {
      this.piece = 'variables';
      return begins && this.newlines === COLLAPSED_DISPLAY_SIZE;
    }
    return begins && this.newlines <= COLLAPSED_DISPLAY_SIZE;
  }

  private takeVariables(byte: number): boolean {
    const { at } = this;
    const last = this.end - 1;
    if (at === last) {
      this.piece = 'done';
      return this.left === 0 && byte === VARIABLES_END;
    }
    if (this.left > 0) this.left--;
    else if (this.left === -1) this.left = byte & INVERSE ? NUMBER_SIZE : -1;
    else if (this.left === -2) [this.left, this.lineEnd] = [-3, byte];
    else if (this.left === -3) this.left = this.lineEnd + 256 * byte;
    else if (!this.beginVariable(byte)) return false;
    return at + 1 + Math.max(0, this.left) <= last;
  }

  private beginVariable(byte: number): boolean {
    switch (byte >> 5) {
      case KIND_BITS.number:
        this.left = NUMBER_SIZE;
        break;
      case KIND_BITS.longNumber:
        this.left = -1;
        break;
      case KIND_BITS.for:
        this.left = FOR_VARIABLE_SIZE - 1;
        break;
      case KIND_BITS.string:
      case KIND_BITS.numbers:
      case KIND_BITS.characters:
        this.left = -2;
        break;
      default:
        return false;
    }
    return (byte & 31) >= (FIRST_LETTER & 31);
  }
}
