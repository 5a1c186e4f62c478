/**
 * From samples to runs of bits, as the samples come. It works on blocks of some seconds that overlap,
 * so what it keeps does not grow with the length of the recording.
 */
import { edgesOf } from './bit-edges.js';
import { BitPath, type PathBit, type PathStart } from './bit-path.js';
import { CarrierFilter, STEPS_A_SECOND } from './carrier.js';
import { evened } from './evened.js';
import { type BitOrder, type HoleBit, isUnder } from './hole-stretch.js';
import { underHoles } from './holes.js';
import { KeptSamples, PIECE } from './limited.js';
import { LOOK, type PulseLevels, PulseMeter } from './pulse-levels.js';
import { withStrays } from './stray-pulses.js';

/** A bit as it was read, with the witnesses for it. */
export interface TapeBit {
  readonly bit: 0 | 1;
  /** Seconds from the start of the recording: first pulse, end of the last pulse, end of the rest. */
  readonly start: number;
  readonly rest: number;
  readonly end: number;
  /** 0 to 1: how sure the bit is. Below SURE_ENOUGH it is in doubt. */
  readonly sure: number;
  /** What the best other path through the tape has here, if it has a bit here at all. */
  readonly other: 0 | 1 | undefined;
  /** Speed of the tape against the machine's own. */
  readonly speed: number;
  /**
   * It is under a hole or beside it: the orders of bits that agree with the sound there, its own first,
   * the same for all bits of the stretch. How sure it is was weighed among all of them.
   */
  readonly hole?: readonly BitOrder[];
}

/** A bit less sure than this is in doubt. */
export const SURE_ENOUGH = 0.5;

/** Steps in hand at most: eight seconds. */
const BLOCK = 8 * STEPS_A_SECOND;
/** Bits in the last half second of a block are read again in the next, which sees what follows. */
const UNSETTLED = STEPS_A_SECOND / 2;
/** So long a quiet, by so much softer than the sound before it, shows that nothing goes on there. */
const QUIET = 1.5 * STEPS_A_SECOND;
const SOFTER = 0.25;
/** Bits that are read again before the first new one of a block, so that it has neighbours. */
const AGAIN = 8;
/** A margin and a fit at which a bit is as good as sure, at the machine's own speed. */
const SURE_MARGIN = 40;
/** The same for a bit that has a neighbour on one side only: nothing there holds it in step. */
const SURE_MARGIN_AT_ENDS = 8;
/** How far all other orders of bits under a hole must be behind for one to be as good as sure. */
const SURE_LEAD = 16;
const SURE_FIT = 0.9;
const NO_FIT = 0.1;

/** With so many unclear bits in a block it is heard again with its peaks cut off. */
const FEWEST_UNCLEAR = 3;

/** The bits of a block, how many of them are clear, and what they were heard in. */
interface Heard {
  readonly bits: readonly (PathBit | HoleBit)[];
  readonly levels: PulseLevels;
  readonly clear: number;
}

/** Steps and parts of one between which a bit plays. */
interface Span {
  readonly start: number;
  readonly end: number;
}

/** How sure a bit under a hole is, by how much all that have another one there are behind. */
export function sureByLead(lead: number): number {
  return Math.min(1, lead / SURE_LEAD);
}

export class BitFinder {
  private readonly filter: CarrierFilter;
  private readonly kept: KeptSamples;
  private readonly re = new Float32Array(BLOCK);
  private readonly im = new Float32Array(BLOCK);
  private readonly meter = new PulseMeter(BLOCK);
  private others: readonly [PulseMeter, PulseMeter] | undefined;
  private readonly path = new BitPath(BLOCK);
  private used = 0;
  private first = 0; // number of the first step in hand
  private next = 0; // step from which the path goes on
  private start: PathStart = 'idle';
  private settled = 0; // bits that start before this step were given
  private given = Number.NEGATIVE_INFINITY; // the last of them ends at this step
  private loud = 0; // the loudest step of the last block

  /**
   * @param rate samples a second
   * @param take is called with each bit, in order of time
   */
  constructor(
    rate: number,
    private readonly take: (bit: TapeBit) => void,
  ) {
    this.kept = new KeptSamples(rate, BLOCK);
    this.filter = new CarrierFilter(rate, (re, im) => {
      this.re[this.used] = re;
      this.im[this.used] = im;
      this.used++;
      if (this.used === BLOCK) this.run(false);
    });
  }

  push(samples: Float32Array, count: number): void {
    for (let at = 0; at < count; at += PIECE) {
      const piece = samples.subarray(at, Math.min(at + PIECE, count));
      this.kept.push(piece, piece.length);
      this.filter.push(piece, piece.length);
    }
  }

  finish(): void {
    this.filter.finish();
    this.run(true);
  }

  /** Seconds before which every bit has been given. */
  get settledSeconds(): number {
    return this.settled / STEPS_A_SECOND;
  }

  /**
   * Gives the bits in hand where a quiet has followed them, before the block is full; at the very
   * beginning in any case, so that whoever ends the listening does not wait for what runs for the
   * first time: that takes ten times as long.
   */
  settleInQuiet(): void {
    if (this.settled === 0 && this.used > QUIET) {
      this.run(false);
      return;
    }
    const from = Math.max(0, this.settled - this.first);
    const end = this.used - QUIET;
    if (end < from) return;
    const loud = Math.max(this.loud, this.loudest(from, end));
    if (this.loudest(end, this.used) >= SOFTER * loud) return;
    this.run(false);
    this.loud = 0;
  }

  private loudest(from: number, to: number): number {
    const { re, im } = this;
    let most = 0;
    for (let i = from; i < to; i++) {
      const power = re[i] * re[i] + im[i] * im[i];
      if (power > most) most = power;
    }
    return Math.sqrt(most);
  }

  private run(last: boolean): void {
    const { used, first } = this;
    this.loud = this.loudest(0, used);
    const to = last ? used - 1 : used - LOOK;
    let limit = last ? used : to - UNSETTLED;
    const { bits, levels } = this.hear(to);
    let count = 0;
    while (count < bits.length && bits[count].start < limit) count++;
    // Those under a hole are read again all together, with what holds them in step.
    let whole = count;
    while (whole > 0 && isUnder(bits[whole])) whole--;
    if (!last && whole < count && whole > AGAIN) {
      count = whole - AGAIN;
      limit = bits[count].start;
    }
    const edges = edgesOf(bits, levels);
    for (let i = 0; i < count; i++) {
      const { start, end } = bits[i];
      // Half a bit of freedom: the same bit may start a step sooner or later when read again.
      if (start + first < this.given - 12) continue;
      const goesOn = bits[i + 1]?.start === end;
      const span = { start: edges[i], end: goesOn ? edges[i + 1] : end + edges[i] - start };
      this.take(this.weigh(bits[i], span, levels, !goesOn || bits[i - 1]?.end !== start));
    }
    if (!last) this.goOn(bits, count, limit);
  }

  /** The bits up to this step, and the signs of others before them. */
  private hear(to: number): Heard {
    const own = this.bitsIn(this.meter, this.re, this.im, to);
    const best = this.clearest(own, to);
    // Noise may be as loud as pulses where peaks are cut off or fades made up for, a peak in the sound itself.
    const sounds = [own.levels, best.levels];
    return { ...best, bits: withStrays(sounds, best.bits, this.given - this.first) };
  }

  /** The bits as they are; with the peaks cut off, or fades made up for, where that lets more be clear. */
  private clearest(own: Heard, to: number): Heard {
    const unclear = own.bits.length - own.clear;
    if (unclear < FEWEST_UNCLEAR) return own;
    const even = evened(own.levels, this.used);
    const { re, im } = this.kept.limited(this.first, this.used);
    this.others ??= [new PulseMeter(BLOCK), new PulseMeter(BLOCK)];
    const limited = this.bitsIn(this.others[0], re, im, to);
    const faded = this.bitsIn(this.others[1], even.re, even.im, to);
    // How long a hole is, and so what can be under it, tells the sound as it was.
    const isFade = faded.clear > limited.clear && !faded.bits.some(isUnder);
    const best = isFade ? faded : limited;
    return best.clear > own.clear + unclear / 2 ? best : own;
  }

  private bitsIn(meter: PulseMeter, re: Float32Array, im: Float32Array, to: number): Heard {
    const from = this.next - this.first;
    const levels = meter.measure(re, im, this.used);
    const bits = underHoles(levels, this.path.find(levels, from, to, this.start), from, to);
    let clear = 0;
    for (const bit of bits) if (sureness(bit, levels, false) >= SURE_ENOUGH) clear++;
    return { bits, levels, clear };
  }

  /** Chooses where the next block takes up the path, and lets go of what lies before. */
  private goOn(bits: readonly PathBit[], count: number, limit: number): void {
    const { first } = this;
    const lastBit = bits[count - 1];
    const follows = count > 0 && bits[count]?.start === lastBit.end;
    if (lastBit) this.given = first + lastBit.end;
    this.settled = Math.max(first + limit, this.given);
    this.next = this.settled;
    this.start = 'idle';
    if (follows) {
      this.settled = this.given;
      let again = count - 1;
      while (again > 0 && count - again < AGAIN && bits[again - 1].end === bits[again].start) {
        again--;
      }
      this.next = first + bits[again].start;
      this.start = 'bit';
    }
    const keep = Math.max(0, this.next - first - LOOK);
    this.re.copyWithin(0, keep, this.used);
    this.im.copyWithin(0, keep, this.used);
    this.used -= keep;
    this.first += keep;
    this.kept.keepFrom(this.first);
  }

  private weigh(
    bit: PathBit | HoleBit,
    { start, end }: Span,
    levels: PulseLevels,
    atEnd: boolean,
  ): TapeBit {
    const seconds = (step: number) => (step + this.first) / STEPS_A_SECOND;
    const weighed: TapeBit = {
      bit: bit.bit,
      start: seconds(start),
      rest: seconds(bit.rest),
      end: seconds(end),
      sure: sureness(bit, levels, atEnd),
      other: bit.other,
      speed: speedOf(bit, levels),
    };
    return isUnder(bit) ? { ...weighed, hole: bit.hole } : weighed;
  }
}

/** 0 to 1: how sure a bit is. */
function sureness(bit: PathBit | HoleBit, levels: PulseLevels, atEnd: boolean): number {
  // A margin counts steps, and there are more of them on a slow tape.
  const byMargin =
    (bit.margin * speedOf(bit, levels)) / (atEnd ? SURE_MARGIN_AT_ENDS : SURE_MARGIN);
  const byFit = (bit.fit - NO_FIT) / (SURE_FIT - NO_FIT);
  const sure = isUnder(bit) ? sureByLead(bit.lead) : Math.min(byMargin, byFit);
  return Math.max(0, Math.min(1, sure));
}

function speedOf({ start, rest }: PathBit, { speed }: PulseLevels): number {
  return speed[(start + rest) >> 1];
}
