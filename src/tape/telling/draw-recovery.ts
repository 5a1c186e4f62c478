/**
 * A picture of recordings (SVG): how loud each is over time, with the programs and the doubtful
 * places, and below them the sound at the worst place with its bits and their pulses counted.
 */
import { escapeMarkup } from '../../markup/markup.js';
import { svgFile } from '../../markup/svg.js';
import { SURE_ENOUGH } from '../hearing/bit-finder.js';
import type { Doubt, Loudness, RecoveredProgram } from '../reading/recovery.js';
import { mixerOf } from '../samples/channels.js';
import type { SoundRead } from '../samples/sound-format.js';
import { doubtCount, timeText } from './doubt-text.js';

/** A short piece of the sound, to be drawn large. */
export interface Close {
  readonly samples: Float32Array;
  readonly rate: number;
  /** Seconds from the start of the recording to its first sample. */
  readonly start: number;
}

/** A recording to be drawn, with the programs that were read from it. */
export interface DrawnRecording {
  readonly file: string;
  readonly seconds: number;
  readonly loudness: Loudness;
  readonly programs: readonly DrawnProgram[];
  /** Is it the one that the short piece is of? */
  readonly isClose: boolean;
}

export interface DrawnProgram extends RecoveredProgram {
  /** The name in characters. */
  readonly title: string;
}

/** Seconds that are drawn on each side of the worst place. */
const CLOSE_REACH = 0.012;

const WIDTH = 960;
const MARGIN = 30;
const LEVEL_TOP = 60;
const LEVEL_HEIGHT = 120;
/** From the top of one recording's panel to that of the next. */
const PANEL = 225;
/** What stands below the last panel: the key of the colours, the worst place. */
const KEY_TOP = 10;
const CLOSE_TOP = 70;
const CLOSE_HEIGHT = 180;
const CLOSE_FOOT = 60;

const COLOURS = {
  level: '#4a6b8a',
  sound: '#d9ecd9',
  doubtful: '#fbe3c8',
  mark: '#c02020',
  bit: '#e4eef6',
  unsure: '#f6c7c7',
} as const;
/** Most marks of doubtful places; more would be one blot. */
const MOST_MARKS = 500;

/**
 * The place that is least sure, in seconds, and the program it is in: of the bytes in doubt where
 * there are any, so that what a vote has settled is not it.
 */
export function worstPlace(
  programs: readonly RecoveredProgram[],
): { seconds: number; program: RecoveredProgram } | undefined {
  let least = Number.POSITIVE_INFINITY;
  let worst: { seconds: number; program: RecoveredProgram } | undefined;
  const isAnyInDoubt = programs.some(({ doubts }) => doubts.length > 0);
  for (const program of programs) {
    const inDoubt = new Set(
      program.doubts.map(({ part, offset }) =>
        part === 'name' ? offset : program.name.length + offset,
      ),
    );
    let index = 0;
    for (const bit of program.bits) {
      const byte = index++ >> 3;
      // Bits that were put in have no time of their own.
      if (bit.sure >= least || bit.end <= bit.start) continue;
      if (isAnyInDoubt && !inDoubt.has(byte)) continue;
      least = bit.sure;
      worst = { seconds: (bit.start + bit.end) / 2, program };
    }
  }
  return worst;
}

/** Picks the samples around a place out of a recording that is read again. */
export class ClosePicker {
  private readonly parts: Float32Array[] = [];
  private first = 0;
  private samples = 0;

  constructor(
    private readonly seconds: number,
    private readonly program: RecoveredProgram,
  ) {}

  readonly take = (samples: Float32Array[], count: number, rate: number): void => {
    const begin = this.samples;
    this.samples += count;
    const from = Math.max(0, Math.floor((this.seconds - CLOSE_REACH) * rate) - begin);
    const to = Math.min(count, Math.ceil((this.seconds + CLOSE_REACH) * rate) - begin);
    if (from >= to) return;
    if (this.parts.length === 0) this.first = begin + from;
    const sound = mixerOf(this.program.channel)(samples, count, new Float32Array(count));
    this.parts.push(sound.slice(from, to));
  };

  finish({ format }: SoundRead): Close {
    const { rate } = format;
    const samples = Float32Array.from(this.parts.flatMap((part) => [...part]));
    return { samples, rate, start: this.first / rate };
  }
}

/**
 * The whole picture, as the text of an SVG file.
 * @param takes how many recordings there were, also those that nothing was drawn from
 */
export function drawRecovery(
  recordings: readonly DrawnRecording[],
  close?: Close,
  takes = 1,
): string {
  const end = PANEL * recordings.length;
  const isClose = close !== undefined && close.samples.length > 1;
  const height = end + (isClose ? CLOSE_TOP + CLOSE_HEIGHT + CLOSE_FOOT : KEY_TOP + 20);
  const title = recordings.map(titleOf).join('; ');
  const attributes = { 'font-family': 'sans-serif', 'font-size': 12 };
  const parts = [`<rect width="${WIDTH}" height="${height}" fill="#ffffff"/>`];
  recordings.forEach((recording, i) => {
    const top = PANEL * i;
    parts.push(`<g transform="translate(0 ${top})">`, ...levelPanel(recording), '</g>');
  });
  parts.push(`<g transform="translate(0 ${end})">`, ...key(isClose, takes));
  const shown = recordings.find((recording) => recording.isClose);
  if (isClose && shown) parts.push(...closePanel(close, shown));
  parts.push('</g>');
  return svgFile({ width: WIDTH, height, title, attributes }, parts);
}

function titleOf({ file, seconds, programs }: DrawnRecording): string {
  return `${file}: ${timeText(seconds)}, ${programs.length} ${programs.length === 1 ? 'program' : 'programs'}`;
}

/** What the colours mean. */
function key(isClose: boolean, takes: number): string[] {
  const now = takes > 1 ? ' after the vote' : '';
  const entries: [string, string][] = [
    [COLOURS.level, 'level'],
    [COLOURS.sound, 'a program without doubt'],
    [COLOURS.doubtful, `a program with doubts${now}`],
    [COLOURS.mark, `a byte in doubt${now}`],
  ];
  if (isClose) entries.push([COLOURS.bit, 'a clear bit'], [COLOURS.unsure, 'an unclear bit']);
  let left = MARGIN;
  return entries.flatMap(([colour, words]) => {
    const x = left;
    left += 30 + 6 * words.length;
    return [
      colour === COLOURS.mark
        ? `<path d="M${x + 6} ${KEY_TOP} l-5 11 h10 z" fill="${colour}"/>`
        : `<rect x="${x}" y="${KEY_TOP}" width="12" height="12" fill="${colour}" stroke="#999999" stroke-width="0.5"/>`,
      `<text x="${x + 18}" y="${KEY_TOP + 10}">${words}</text>`,
    ];
  });
}

function levelPanel(recording: DrawnRecording): string[] {
  const { seconds, loudness, programs } = recording;
  const x = (time: number) => round(MARGIN + ((WIDTH - 2 * MARGIN) * time) / seconds);
  const base = LEVEL_TOP + LEVEL_HEIGHT;
  const parts = [
    `<text x="${MARGIN}" y="20" font-weight="bold">${escapeMarkup(titleOf(recording))}; level over time</text>`,
  ];
  for (const program of programs) {
    const isDoubtful = program.doubts.length > 0 || !program.whole;
    const colour = isDoubtful ? COLOURS.doubtful : COLOURS.sound;
    const width = round(x(program.end) - x(program.start));
    const words = program.doubts.length === 0 ? '' : `, ${doubtCount(program.doubts)}`;
    parts.push(
      `<rect x="${x(program.start)}" y="${LEVEL_TOP}" width="${width}" height="${LEVEL_HEIGHT}" fill="${colour}"/>`,
      `<text x="${x(program.start)}" y="${LEVEL_TOP - 6}">${escapeMarkup(program.title)}${words}</text>`,
    );
  }
  const points = loudness.peaks.map((peak, i) => {
    const height = round(base - 0.85 * LEVEL_HEIGHT * Math.min(1, peak));
    return `${x(Math.min(seconds, (i + 0.5) * loudness.seconds))},${height}`;
  });
  parts.push(
    `<polygon points="${MARGIN},${base} ${points.join(' ')} ${WIDTH - MARGIN},${base}" fill="${COLOURS.level}"/>`,
  );
  const doubts = programs.flatMap((program) => program.doubts);
  const step = Math.max(1, Math.ceil(doubts.length / MOST_MARKS));
  for (let i = 0; i < doubts.length; i += step) parts.push(mark(x(doubts[i].seconds), doubts[i]));
  return [...parts, ...timeAxis(seconds, x, base)];
}

function mark(x: number, doubt: Doubt): string {
  const y = LEVEL_TOP + LEVEL_HEIGHT;
  return `<path d="M${x} ${y} l-4 10 h8 z" fill="${COLOURS.mark}"><title>${timeText(doubt.seconds)}</title></path>`;
}

function timeAxis(seconds: number, x: (time: number) => number, base: number): string[] {
  const steps = [0.5, 1, 2, 5, 10, 30, 60, 120, 300, 600, 1800, 3600];
  const step = steps.find((size) => seconds / size <= 12) ?? 7200;
  const parts: string[] = [];
  for (let time = 0; time <= seconds; time += step)
    parts.push(
      `<text x="${x(time)}" y="${base + 26}" text-anchor="middle" fill="#555555">${timeText(time).replace(/\.?0+$/, '')}</text>`,
    );
  return parts;
}

function closePanel(close: Close, { file, programs }: DrawnRecording): string[] {
  const { samples, rate, start } = close;
  const seconds = samples.length / rate;
  const x = (time: number) => round(MARGIN + ((WIDTH - 2 * MARGIN) * (time - start)) / seconds);
  const peak = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 1e-6);
  const middle = CLOSE_TOP + CLOSE_HEIGHT / 2;
  const line = Array.from(
    samples,
    (sample, i) =>
      `${x(start + i / rate)},${round(middle - (0.48 * CLOSE_HEIGHT * sample) / peak)}`,
  );
  return [
    `<text x="${MARGIN}" y="${CLOSE_TOP - 14}" font-weight="bold">The least sure place, at ${timeText(start + seconds / 2)} of ${escapeMarkup(file)}: bits, and the pulses counted in each</text>`,
    ...closeBits(close, programs, x),
    `<polyline points="${line.join(' ')}" fill="none" stroke="#203040"/>`,
  ];
}

function closeBits(
  close: Close,
  programs: readonly DrawnProgram[],
  x: (time: number) => number,
): string[] {
  const end = close.start + close.samples.length / close.rate;
  const bits = programs
    .flatMap((program) => [...program.bits])
    // Bits that were put in have no time of their own.
    .filter((bit) => bit.end > close.start && bit.start < end && bit.end > bit.start);
  return bits.flatMap((bit) => {
    const left = x(Math.max(bit.start, close.start));
    const right = x(Math.min(bit.end, end));
    const colour = bit.sure < SURE_ENOUGH ? COLOURS.unsure : COLOURS.bit;
    const inside = bit.start >= close.start && bit.rest <= end;
    const pulses = inside ? `${countPulses(close, bit.start, bit.rest)} pulses` : '';
    const text = round((left + right) / 2);
    const below = CLOSE_TOP + CLOSE_HEIGHT;
    return [
      `<rect x="${left}" y="${CLOSE_TOP}" width="${round(right - left - 1)}" height="${CLOSE_HEIGHT}" fill="${colour}"/>`,
      `<text x="${text}" y="${below + 18}" text-anchor="middle" font-weight="bold">${bit.bit}</text>`,
      `<text x="${text}" y="${below + 34}" text-anchor="middle" fill="#555555">${pulses}</text>`,
    ];
  });
}

/** Pulses between two times: rises through the middle of a clear swing. */
function countPulses({ samples, rate, start }: Close, from: number, to: number): number {
  // Half a pulse before, so that the rise of the first is there.
  const first = Math.max(0, Math.floor((from - 0.0001 - start) * rate));
  const last = Math.min(samples.length, Math.ceil((to - start) * rate));
  const part = samples.subarray(first, last);
  if (part.length === 0) return 0;
  const high = part.reduce((most, sample) => Math.max(most, sample), -1);
  const low = part.reduce((least, sample) => Math.min(least, sample), 1);
  const [up, down] = [low + 0.6 * (high - low), low + 0.4 * (high - low)];
  let count = 0;
  let isUp = part[0] > up;
  for (const sample of part) {
    if (!isUp && sample > up) {
      count++;
      isUp = true;
    } else if (isUp && sample < down) isUp = false;
  }
  return count;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
