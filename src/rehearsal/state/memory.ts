/**
 * The machine's memory, byte for byte, with its areas moving as they move there.
 * Source: the manual, chapters 26 to 28; how the ROM asks for room and moves areas: the published
 * ROM disassembly; from memory.
 *
 * The bytes of system variables that change at every statement (PPC, NXTLIN, FRAMES, the pointers)
 * are kept in fields, and put into memory only when somebody looks: see `settle`.
 */
import { NEWLINE } from '../../machine/characters.js';
import {
  COLLAPSED_DISPLAY_SIZE,
  DISPLAY_COLUMNS,
  DISPLAY_ROWS,
  FULL_DISPLAY_RAM,
  FULL_DISPLAY_SIZE,
  GOSUB_SIZE,
  IMAGE_START,
  PROGRAM_START,
  RAM_START,
  SYSTEM_VARIABLES_SIZE,
  VARIABLES_END,
} from '../../machine/memory-map.js';
import { SYSTEM_VARIABLES, type SystemVariableName } from '../../machine/system-variables.js';
import { BYTE_MOVED, DISPLAY_BYTE, ROOM_MADE } from '../../machine/timing.js';
import { endOfVariable, storedName } from '../../machine/variables.js';
import { halt, report } from '../halt.js';
import {
  type AreaSizes,
  KEPT,
  KEPT_AREA,
  type LedgerArea,
  STACK_DOUBT,
  STACK_SHARE,
  type VariableSize,
} from './areas.js';
import { Clock } from './clock.js';
import type { Ledger } from './ledger.js';

/** The address space. */
const ADDRESSES = 65536;
/** Marks the bottom of the GOSUB stack, just below RAMTOP. */
const GOSUB_BOTTOM = 0x3e;
/** First return address of a GOSUB, below RAMTOP: after the marker and the ROM's own return. */
const FIRST_GOSUB = 4;
/** What GOSUB asks for: its two bytes, and four (ROM). */
const GOSUB_ROOM = 6;

/** X_PTR's high byte where it points nowhere. */
const NO_POINTER = 192;
/** FLAGX bit 5, and FLAGS bit 1. */
const IN_INPUT = 0x20;
const TO_PRINTER = 0x02;

/** Address of each system variable by its name. */
export const AT = Object.fromEntries(
  SYSTEM_VARIABLES.map(({ name, address }) => [name, address]),
) as Readonly<Record<SystemVariableName, number>>;

/** System variables on which the machine's life depends; their new values are not followed. */
const VITAL = ['ERR_SP', 'D_FILE', 'VARS', 'E_LINE', 'STKBOT', 'STKEND', 'NXTLIN', 'MEM'] as const;

/** What the memory asks of the run: where it is, and how late. */
export interface Moment {
  /** Number of the line that runs, and statements run so far, with this one. */
  readonly line: number;
  readonly statements: number;
  /** Address of the line that is next. */
  readonly nextAddress: number;
  /** The system variable FRAMES. */
  frames: number;
}

export class Memory {
  readonly bytes = new Uint8Array(ADDRESSES);
  readonly clock: Clock;
  /** One past the last address of RAM. */
  readonly ramEnd: number;
  /** Where the machine stack begins, going down: RAMTOP as it was at the start. */
  readonly stackTop: number;
  dFile: number;
  dfCc: number;
  vars: number;
  eLine: number;
  /** Bytes in the workspace; cleared at each statement. */
  workspace = 0;
  /** Bytes that this statement needs on the calculator stack. */
  calculator = 0;
  /** The most of it that a statement behind THEN has needed. */
  deepestThen = 0;
  gosubDepth = 0;
  deepestGosub = 0;
  /** The most bytes that these areas have had at any time. */
  readonly most = { display: 0, variables: 0, workspace: 0 };
  /** The highest that STKEND may come to stand. */
  ceiling = 0;
  /** So much further on it goes all the same: where it is not known whether the machine has the room. */
  benefit = 0;
  /** Counts the moves of the variables: what was found at an older count must be looked up again. */
  stamp = 1;
  /** The most bytes that each variable has had, by name. */
  readonly largest = new Map<string, VariableSize>();
  moment: Moment = { line: 0, statements: 0, nextAddress: PROGRAM_START, frames: 0xffff };

  /**
   * @param image memory from 16393 on, as it is loaded
   * @param ram bytes of RAM fitted
   */
  constructor(
    image: Uint8Array,
    ram: number,
    private readonly ledger: Ledger,
  ) {
    this.ramEnd = RAM_START + ram;
    // Two bytes cannot hold 65536.
    this.stackTop = Math.min(this.ramEnd, ADDRESSES - 1);
    const fitting = image.subarray(0, Math.max(0, this.ramEnd - IMAGE_START));
    this.bytes.set(fitting, IMAGE_START);
    this.clock = new Clock(this.bytes[AT.MARGIN]);
    this.setWord(AT.RAMTOP, this.stackTop);
    this.bytes[AT.ERR_NR] = 0xff;
    this.isSpaced = true;
    this.bytes[this.stackTop - 1] = GOSUB_BOTTOM;
    this.dFile = this.word(AT.D_FILE);
    this.dfCc = this.word(AT.DF_CC);
    this.vars = this.word(AT.VARS);
    this.eLine = this.word(AT.E_LINE);
    this.setCeiling();
    for (const variable of this.variableSizes()) this.noteLargest(variable);
    this.noteSizes();
  }

  /**
   * What LOAD leaves in the system variables before it goes on at NXTLIN. Source: G. Wearmouth, "An
   * Assembly Listing of the Operating System" (2004): SAVE and LOAD 02F6, from memory.
   */
  leaveLoaded(): void {
    this.bytes[AT.X_PTR + 1] = NO_POINTER;
    this.bytes[AT.FLAGX] &= ~IN_INPUT;
    this.bytes[AT.FLAGS] &= ~TO_PRINTER;
  }

  /**
   * FLAGS bit 0, by which a keyword leaves out the space before it: set by a new line of the display,
   * TAB, a comma and a keyword's own space, cleared by any character but a space. Screen and printer
   * share it.
   */
  get isSpaced(): boolean {
    return (this.bytes[AT.FLAGS] & 1) !== 0;
  }

  set isSpaced(spaced: boolean) {
    if (spaced) this.bytes[AT.FLAGS] |= 1;
    else this.bytes[AT.FLAGS] &= ~1;
  }

  word(at: number): number {
    return this.bytes[at] | (this.bytes[at + 1] << 8);
  }

  setWord(at: number, value: number): void {
    this.bytes[at] = value;
    this.bytes[at + 1] = value >> 8;
  }

  /** The lowest address that the machine stack may reach. */
  get stackFloor(): number {
    return this.stackTop - STACK_SHARE - GOSUB_SIZE * this.gosubDepth;
  }

  private setCeiling(): void {
    this.ceiling = this.stackTop - KEPT - GOSUB_SIZE * this.gosubDepth;
  }

  // ───────────────────────────────── room ─────────────────────────────────

  /** Bytes that could still be asked for. */
  get spare(): number {
    return this.ceiling - this.eLine - this.workspace - this.calculator;
  }

  /** Asks for room as the ROM does, for an area, and keeps the ledger. Throws report 4. */
  ask(growth: number, what: string, area: LedgerArea = 'workspace'): void {
    const left = this.spare - growth;
    if (left < this.ledger.low) this.note(left, growth, area);
    if (left < -this.benefit) throw this.noRoom(-left, growth, what);
  }

  private note(left: number, growth: number, area: LedgerArea): void {
    const sizes = this.sizes();
    this.ledger.lower(left, { ...sizes, [area]: sizes[area] + growth }, this);
  }

  private noRoom(short: number, growth: number, what: string) {
    const needed = growth === 0 ? this.calculator : growth;
    const doubt =
      short <= STACK_DOUBT
        ? `; the machine may just have it: how much of ${STACK_DOUBT} bytes its stack takes is not known`
        : '';
    return report(
      '4',
      `${what} needs ${needed} more bytes, and ${short === 1 ? '1 is' : `${short} are`} not there${doubt}`,
      'use fewer or shorter variables, shorten the program, or say --ram if more is fitted',
    );
  }

  /** So many bytes of the calculator stack, for the arithmetic that comes now. */
  askCalculator(size: number): void {
    this.calculator = size;
    this.ask(0, 'the arithmetic of this line');
  }

  /** Room for a string that is being worked on; it lasts until the statement ends. */
  askWorkspace(length: number): void {
    this.ask(length, 'a string');
    this.workspace += length;
    this.most.workspace = Math.max(this.most.workspace, this.workspace);
  }

  /** Opens `size` bytes at an address; what stands there and after it moves up. Asks for room. */
  insert(at: number, size: number, what: string): void {
    this.ask(size, what, at < this.vars ? 'display' : 'variables');
    this.bytes.copyWithin(at + size, at, this.eLine);
    this.shift(at, size);
  }

  /** Closes `size` bytes at an address. */
  reclaim(at: number, size: number): void {
    if (size === 0) return;
    this.bytes.copyWithin(at, at + size, this.eLine);
    this.shift(at, -size);
  }

  /** Pointers that stand after an address move with what they point at. */
  private shift(at: number, size: number): void {
    if (this.dFile > at) this.dFile += size;
    if (this.dfCc > at) this.dfCc += size;
    if (this.vars > at) this.vars += size;
    this.clock.spend(ROOM_MADE + BYTE_MOVED * (this.eLine - at));
    this.eLine += size;
    this.stamp++;
    this.noteSizes();
  }

  private noteSizes(): void {
    const { most } = this;
    most.display = Math.max(most.display, this.vars - this.dFile);
    most.variables = Math.max(most.variables, this.eLine - this.vars);
  }

  /** CLEAR: no variables, no workspace. */
  clearVariables(): void {
    this.bytes[this.vars] = VARIABLES_END;
    this.eLine = this.vars + 1;
    this.stamp++;
  }

  /** Does CLS make a display of full rows? By RAMTOP's high byte (ROM). */
  get hasFullDisplay(): boolean {
    return this.word(AT.RAMTOP) >> 8 >= (RAM_START + FULL_DISPLAY_RAM) >> 8;
  }

  /** Makes the display a clear one. Throws report 4 where a full one has no room. */
  clearDisplay(): void {
    const size = this.hasFullDisplay ? FULL_DISPLAY_SIZE : COLLAPSED_DISPLAY_SIZE;
    const growth = size - (this.vars - this.dFile);
    const inside = this.dFile + 1;
    if (growth > 0) this.insert(inside, growth, 'a clear screen');
    else this.reclaim(inside, -growth);
    const row = (size - 1) / DISPLAY_ROWS;
    this.clock.spend(DISPLAY_BYTE * size);
    this.bytes.fill(0, this.dFile, this.vars);
    for (let at = this.dFile; at < this.vars; at += row) this.bytes[at] = NEWLINE;
  }

  // ───────────────────────────────── GOSUB ─────────────────────────────────

  private get gosubAddress(): number {
    return this.stackTop - FIRST_GOSUB - GOSUB_SIZE * this.gosubDepth;
  }

  pushReturn(line: number): void {
    this.ask(GOSUB_ROOM, `GOSUB number ${this.gosubDepth + 1} inside one another`, 'GOSUB stack');
    this.setWord(this.gosubAddress, line);
    this.gosubDepth++;
    this.deepestGosub = Math.max(this.deepestGosub, this.gosubDepth);
    this.setCeiling();
    if (this.spare < this.ledger.low) this.note(this.spare, 0, 'GOSUB stack');
  }

  /** The line to go back to. Throws report 7. */
  popReturn(): number {
    if (this.gosubDepth === 0) {
      throw report(
        '7',
        'no GOSUB led here',
        'see whether the program runs on into a subroutine: put STOP or GOTO before it',
      );
    }
    this.gosubDepth--;
    this.setCeiling();
    return this.word(this.gosubAddress);
  }

  // ───────────────────────────────── PEEK and POKE ─────────────────────────────────

  /** Puts what is kept in fields into the bytes of the system variables. */
  settle(): void {
    const stackEnd = this.eLine + this.workspace;
    this.setWord(AT.ERR_SP, this.gosubAddress);
    this.setWord(AT.PPC, this.moment.line);
    this.setWord(AT.D_FILE, this.dFile);
    this.setWord(AT.DF_CC, this.dfCc);
    this.setWord(AT.VARS, this.vars);
    this.setWord(AT.E_LINE, this.eLine);
    this.setWord(AT.STKBOT, stackEnd);
    this.setWord(AT.STKEND, stackEnd);
    this.setWord(AT.NXTLIN, this.moment.nextAddress);
    this.setWord(AT.FRAMES, this.moment.frames);
  }

  peek(address: number): number {
    if (address < PROGRAM_START && address >= RAM_START) this.settle();
    return this.bytes[address];
  }

  /** POKE into RAM. Ends the rehearsal where the machine would no longer find its areas. */
  poke(address: number, value: number): void {
    if (address < PROGRAM_START) {
      this.pokeSystemVariable(address, value);
      return;
    }
    this.bytes[address] = value;
    if (address >= this.vars && address < this.eLine) this.stamp++;
  }

  private pokeSystemVariable(address: number, value: number): void {
    this.settle();
    if (this.bytes[address] === value) return;
    for (const name of VITAL) {
      const at = AT[name];
      if (address === at || address === at + 1) {
        throw halt(
          'memory',
          `POKE ${address} changes ${name}, by which the machine finds its own memory: from here on it would very likely crash`,
          'leave that system variable alone, or try it on the machine itself',
        );
      }
    }
    this.bytes[address] = value;
    if (address === AT.FRAMES || address === AT.FRAMES + 1)
      this.moment.frames = this.word(AT.FRAMES);
    if (address === AT.DF_CC || address === AT.DF_CC + 1) this.moveCursor(this.word(AT.DF_CC));
  }

  /** A program may set the place of printing itself, as long as it stays in the display. */
  private moveCursor(address: number): void {
    if (address <= this.dFile || address >= this.vars) {
      throw halt(
        'memory',
        `DF_CC is set to ${address}, which is outside the display: printing would overwrite other memory`,
        'use PRINT AT, or set both of its bytes to an address in the display',
      );
    }
    this.dfCc = address;
  }

  // ───────────────────────────────── what is where ─────────────────────────────────

  /** Sizes of the areas now. */
  sizes(): AreaSizes {
    return {
      'system variables': SYSTEM_VARIABLES_SIZE,
      program: this.dFile - PROGRAM_START,
      display: this.vars - this.dFile,
      variables: this.eLine - this.vars,
      workspace: this.workspace,
      'calculator stack': this.calculator,
      'GOSUB stack': GOSUB_SIZE * this.gosubDepth,
      [KEPT_AREA]: KEPT,
    };
  }

  /** Every variable in the order in which it is stored, with its size. */
  variableSizes(): VariableSize[] {
    const sizes: VariableSize[] = [];
    for (let at = this.vars; this.bytes[at] !== VARIABLES_END; ) {
      const end = endOfVariable(this.bytes, at, this.eLine - 1);
      if (end === undefined) break;
      sizes.push({ ...storedName(this.bytes, at), bytes: end - at });
      at = end;
    }
    return sizes;
  }

  /** Remembers the most that a variable has taken. */
  noteLargest(variable: VariableSize): void {
    const known = this.largest.get(variable.name);
    if (known === undefined || known.bytes < variable.bytes) {
      this.largest.set(variable.name, variable);
    }
  }

  /** The rows of the display, from the top: at most 24, each as long as it is stored. */
  displayRows(): Uint8Array[] {
    const rows: Uint8Array[] = [];
    let start = this.dFile + 1;
    for (let at = start; at < this.vars && rows.length < DISPLAY_ROWS; at++) {
      if (this.bytes[at] !== NEWLINE) continue;
      rows.push(this.bytes.slice(start, Math.min(at, start + DISPLAY_COLUMNS)));
      start = at + 1;
    }
    while (rows.length < DISPLAY_ROWS) rows.push(new Uint8Array(0));
    return rows;
  }

  /**
   * What is wrong with the layout, or undefined: for tests. Areas in order, a display of 24 rows,
   * the end of the variables where E_LINE says.
   */
  fault(): string | undefined {
    const { bytes, dFile, vars, eLine, ceiling } = this;
    if (!(PROGRAM_START <= dFile && dFile < this.dfCc && this.dfCc < vars && vars < eLine)) {
      return `areas out of order: ${dFile} ${this.dfCc} ${vars} ${eLine}`;
    }
    if (eLine + this.workspace > ceiling) return `no room: ${eLine} above ${ceiling}`;
    if (bytes[dFile] !== NEWLINE || bytes[vars - 1] !== NEWLINE) return 'the display has no ends';
    const ends = bytes.subarray(dFile, vars).filter((byte) => byte === NEWLINE).length;
    if (ends !== COLLAPSED_DISPLAY_SIZE) return `the display has ${ends} ends of rows`;
    if (bytes[eLine - 1] !== VARIABLES_END) return 'the variables have no end';
    return undefined;
  }
}
