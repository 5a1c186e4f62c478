/**
 * Programs that look at their own bytes: by LIST, by PEEK and POKE, by USR. What they look at must
 * stay where it is, and as it is.
 */
import type { Expression } from '../../grammar/tree.js';
import type { Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';
import { firstIndex } from '../listing/search.js';
import { LINE_HEAD, wordAt } from '../machine/image-layout.js';
import { PROGRAM_START, RAM_START } from '../machine/memory-map.js';
import type { Budget } from '../memory/budget.js';

export interface SelfReading {
  /** Highest address of the program that it looks at: what lies above may move. */
  readonly highest: number;
  /** The line that looks highest, where one does. */
  readonly by?: Step;
  /** Address of each line's first byte. */
  readonly addresses: readonly number[];
  /** First address behind the program. */
  readonly programEnd: number;
}

/** Finds how far up its own bytes a program looks; Infinity where that cannot be told. */
export function selfReadingOf(
  program: Program,
  { ram, lineAddresses, programEnd }: Budget,
): SelfReading {
  return new Finder(program, ram, lineAddresses, programEnd).find();
}

class Finder {
  private highest = 0;
  private by: Step | undefined;

  constructor(
    private readonly program: Program,
    private readonly ram: number,
    private readonly addresses: readonly number[],
    private readonly programEnd: number,
  ) {}

  find(): SelfReading {
    this.readDirectives();
    for (const step of this.program.steps) this.readStatement(step);
    for (const { node, step } of this.program.uses) {
      if (node.kind !== 'call') continue;
      if (node.function === 'PEEK') this.readAddress(node.argument, step);
      else if (node.function === 'USR') this.readCode(node.argument, step);
    }
    const { highest, by, addresses, programEnd } = this;
    return { highest, by, addresses, programEnd };
  }

  private raise(address: number, step?: Step): void {
    if (address <= this.highest) return;
    this.highest = address;
    this.by = step;
  }

  /** Bytes and addresses that the listing itself gives may mean anything. */
  private readDirectives(): void {
    for (const item of this.program.listing.items) {
      if (item.kind === 'lines') this.raise(Infinity);
      if (item.kind === 'raw' && item.area !== 'display') this.raise(Infinity);
      if (item.kind !== 'system' || !(item.value instanceof Uint8Array)) continue;
      const address = wordAt(item.value, 0);
      if (this.inRam(address)) this.raise(Infinity);
    }
  }

  private inRam(address: number): boolean {
    return address >= PROGRAM_START && address < RAM_START + this.ram;
  }

  private readStatement(step: Step): void {
    const { statement } = step;
    switch (statement?.kind) {
      case undefined:
      case 'unchecked':
      case 'LIST':
      case 'LLIST':
        this.raise(Infinity, step);
        break;
      case 'POKE':
        this.readAddress(statement.args[0], step);
    }
  }

  private readAddress(node: Expression, step: Step): void {
    const { low, high, moves } = this.program.ranges.number(node);
    if (moves || high < PROGRAM_START || low >= RAM_START + this.ram) return;
    // Beyond the program lie the display and the variables, which move with its length.
    this.raise(high >= this.programEnd ? Infinity : high, step);
  }

  /** Machine code in a REM stays whole, and may not speak of what lies behind it. */
  private readCode(node: Expression, step: Step): void {
    const { low, high, moves } = this.program.ranges.number(node);
    if (moves) {
      this.raise(Infinity, step);
      return;
    }
    if (high < RAM_START) return;
    const index = this.lineAt(low);
    if (low !== high || index === undefined) {
      this.raise(Infinity, step);
      return;
    }
    const { codes } = this.program.listing.lines[index];
    const end = this.addresses[index] + LINE_HEAD + codes.length;
    this.raise(speaksOf(codes, end + 1, this.programEnd + this.ram) ? Infinity : end, step);
  }

  private lineAt(address: number): number | undefined {
    if (address < PROGRAM_START || address >= this.programEnd) return undefined;
    const { addresses } = this;
    return firstIndex(addresses.length, (index) => addresses[index] > address) - 1;
  }
}

/** Do two neighbouring bytes make an address from `low` up to, not including, `high`? */
function speaksOf(codes: Uint8Array, low: number, high: number): boolean {
  for (let at = 0; at + 1 < codes.length; at++) {
    const word = wordAt(codes, at);
    if (word >= low && word < high) return true;
  }
  return false;
}
