/**
 * Several recordings of one tape: what one has lost, another may have. The programs are laid beside
 * each other bit by bit, by what they hold and not by when it was heard, and the surer reading wins.
 */

import { SURE_ENOUGH, type TapeBit } from '../hearing/bit-finder.js';
import { Budget } from '../mending/budget.js';
import type { BytePlace } from '../mending/image-structure.js';
import { type SettledBit, settleZones } from '../mending/zone-settling.js';
import { readProgram } from '../reading/program-reader.js';
import { betterFirst, type RecoveredProgram, type Recovery } from '../reading/recovery.js';
import { alignBits, type Pair } from './bit-alignment.js';

/** Programs that agree in a smaller part of their bits, weighed by how sure both are, are different ones. */
const SAME_PROGRAM = 0.95;

/** A byte that was in doubt in the take that the program is based on, and is not any more. */
export interface Settlement {
  readonly part: 'name' | 'image';
  readonly offset: number;
  readonly address?: number;
  readonly place?: BytePlace;
  /** What that take had, and what it is now. */
  readonly was: number;
  readonly byte: number;
  /** Number of the take that settled it, from 0. */
  readonly take: number;
}

export interface VotedProgram {
  readonly program: RecoveredProgram;
  /** Number of the take that it is based on, and of all takes that have it, from 0. */
  readonly basis: number;
  readonly takes: readonly number[];
  readonly settled: readonly Settlement[];
}

interface Reading {
  readonly take: number;
  readonly program: RecoveredProgram;
}

/** Votes between the takes: every program that any of them has, once. */
export function voteBetween(takes: readonly Recovery[]): VotedProgram[] {
  const groups: Reading[][] = [];
  takes.forEach((recovery, take) => {
    let next = 0;
    for (const program of recovery.programs) {
      // The programs of a tape come in the same order in every take.
      const index = groups.findIndex(
        (group, i) =>
          i >= next &&
          group.every((reading) => reading.take !== take) &&
          isSameProgram(group[0].program, program),
      );
      if (index >= 0) {
        groups[index].push({ take, program });
        next = index + 1;
      } else {
        groups.splice(next, 0, [{ take, program }]);
        next++;
      }
    }
  });
  return groups.map(voteOn);
}

function isSameProgram(a: RecoveredProgram, b: RecoveredProgram): boolean {
  return alignBits([...a.bits], [...b.bits]).agreement >= SAME_PROGRAM;
}

function voteOn(group: readonly Reading[]): VotedProgram {
  // A take that has lost its end has nothing beside which the rest of another could stand.
  const ranked = [...group].sort(
    (a, b) => a.program.lostBytes - b.program.lostBytes || betterFirst(a.program, b.program),
  );
  const [basis, ...others] = ranked;
  const takes = group.map((reading) => reading.take);
  if (others.length === 0) {
    return { program: basis.program, basis: basis.take, takes, settled: [] };
  }
  const { bits, deciders } = mergeBits(basis, others);
  const budget = Budget.ofSeconds(basis.program.end - basis.program.start);
  const voted = readProgram(settleZones(bits, budget), basis.program.channel)?.program;
  // A vote that leaves no program, or a worse one, has gone astray; the best take stands.
  const program = voted && betterFirst(voted, basis.program) <= 0 ? voted : basis.program;
  return {
    program,
    basis: basis.take,
    takes,
    settled: settlements(basis.program, program, deciders, basis.take),
  };
}

/** What one take says of one place in the row: a bit, or none. */
interface Vote {
  readonly take: number;
  readonly bit: TapeBit | undefined;
  readonly sure: number;
}

interface Merged {
  readonly bits: SettledBit[];
  /** For each of them the take that decided it. */
  readonly deciders: readonly number[];
}

function mergeBits(basis: Reading, others: readonly Reading[]): Merged {
  const own = [...basis.program.bits];
  const columns = own.map((bit): Vote[] => [{ take: basis.take, bit, sure: bit.sure }]);
  /** Bits that other takes have before bit i of the basis. */
  const between = new Map<number, Vote[][]>();
  for (const { take, program } of others) {
    const bits = [...program.bits];
    addVotes(columns, between, take, bits, alignBits(own, bits).pairs);
  }
  const merged: { bits: SettledBit[]; deciders: number[] } = { bits: [], deciders: [] };
  for (let i = 0; i <= own.length; i++) {
    for (const extra of between.get(i) ?? []) {
      // The basis, and whoever has nothing here, are as sure of it as of the bits around.
      const around = Math.min(own[i - 1]?.sure ?? 0, own[i]?.sure ?? 0);
      append(merged, [{ take: basis.take, bit: undefined, sure: around }, ...extra], own, i);
    }
    if (i < own.length) append(merged, columns[i], own, i);
  }
  return merged;
}

function addVotes(
  columns: Vote[][],
  between: Map<number, Vote[][]>,
  take: number,
  bits: readonly TapeBit[],
  pairs: readonly Pair[],
): void {
  let at = 0; // next bit of the basis
  let last = 0; // last bit seen of this take
  let run = 0; // bits of this take since the last of the basis
  for (const { first, second } of pairs) {
    if (second !== undefined) last = second;
    if (first === undefined) {
      const rows = between.get(at) ?? [];
      rows[run] = [...(rows[run] ?? []), { take, bit: bits[last], sure: bits[last].sure }];
      between.set(at, rows);
      run++;
      continue;
    }
    const bit = second === undefined ? undefined : bits[second];
    const around = Math.min(bits[last]?.sure ?? 0, bits[last + 1]?.sure ?? 0);
    columns[first].push({ take, bit, sure: bit?.sure ?? around });
    at = first + 1;
    run = 0;
  }
}

/** Counts the votes on one place and adds the bit that wins, if one does. */
function append(
  merged: { bits: SettledBit[]; deciders: number[] },
  votes: readonly Vote[],
  own: readonly TapeBit[],
  index: number,
): void {
  const of = (value: 0 | 1 | undefined) => {
    const same = votes.filter((vote) => vote.bit?.bit === value);
    return { value, best: same.sort((a, b) => b.sure - a.sure)[0] };
  };
  const ranked = [of(0), of(1), of(undefined)]
    .filter(({ best }) => best !== undefined)
    .sort((a, b) => b.best.sure - a.best.sure);
  const [{ value, best }, second] = ranked;
  if (value === undefined && (second === undefined || best.sure > second.best.sure)) return;
  const winner = value === undefined ? second.best : best;
  // Another reading that some take is sure of as well leaves the bit in doubt.
  const rival = ranked.find((other) => other.best !== winner)?.best;
  const clash = rival !== undefined && rival.sure >= SURE_ENOUGH;
  const place = own[index] ?? own[own.length - 1];
  merged.bits.push({
    ...winner.bit!,
    start: place.start,
    rest: place.rest,
    end: place.end,
    // What was put in place of something lost is not to be settled anew.
    sure: clash ? 0 : isPutIn(winner.bit!) ? 1 : winner.sure,
    other: rival?.bit?.bit ?? winner.bit!.other,
    chosen: winner.sure < SURE_ENOUGH ? (winner.bit as SettledBit).chosen : false,
    disagreed: clash,
  });
  merged.deciders.push(winner.take);
}

/** Is it a bit that the recording has not, or not confirmed? The reader leaves it in doubt. */
function isPutIn({ rebuilt, unfinished, completed }: SettledBit): boolean {
  return Boolean(rebuilt || unfinished || completed);
}

/** The bytes that were in doubt in the basis and are settled now. */
function settlements(
  basis: RecoveredProgram,
  now: RecoveredProgram,
  deciders: readonly number[],
  basisTake: number,
): Settlement[] {
  const key = ({ part, offset }: { part: string; offset: number }) => `${part} ${offset}`;
  const still = new Set(now.doubts.map(key));
  return basis.doubts
    .filter((doubt) => !still.has(key(doubt)) && doubt.offset < now[doubt.part].length)
    .map((doubt) => {
      const byteIndex = doubt.part === 'name' ? doubt.offset : now.name.length + doubt.offset;
      const voters = deciders.slice(8 * byteIndex, 8 * byteIndex + 8);
      return {
        part: doubt.part,
        offset: doubt.offset,
        address: doubt.address,
        place: doubt.place,
        was: doubt.byte,
        byte: now[doubt.part][doubt.offset],
        take: voters.find((take) => take !== basisTake) ?? basisTake,
      };
    });
}
