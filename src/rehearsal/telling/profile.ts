/** Where a rehearsal's time went, by line: in words, and as a chart. */
import { count, shortened } from '../../listing/print.js';
import { rect, svgFile, text } from '../../markup/svg.js';
import type { LineTime } from '../rehearsal.js';

/** A line of the profile, with the statement that it is of. */
export interface ProfiledLine extends LineTime {
  readonly statement: string;
}

const BAR = 24;
const TEXT_WIDTH = 30;

const secondsText = (seconds: number): string => `${seconds.toFixed(seconds < 10 ? 2 : 1)} s`;

/** The lines that took the most time, the longest first. */
function longestFirst(lines: readonly ProfiledLine[]): ProfiledLine[] {
  return [...lines].sort((a, b) => b.seconds - a.seconds || a.line - b.line);
}

const wholeOf = (lines: readonly ProfiledLine[]): number =>
  lines.reduce((sum, { seconds }) => sum + seconds, 0) || 1;

/** A table: line, how often, time, its part, a bar, the statement; at most so many rows. */
export function profileText(lines: readonly ProfiledLine[], most: number): string {
  const whole = wholeOf(lines);
  const sorted = longestFirst(lines);
  const rows = sorted.slice(0, most).map(({ line, runs, seconds, statement }) => {
    const part = seconds / whole;
    const bar = '█'.repeat(Math.max(1, Math.round(part * BAR))).padEnd(BAR);
    return `${String(line).padStart(5)}${String(runs).padStart(9)}${secondsText(seconds).padStart(11)}${`${Math.round(100 * part)} %`.padStart(7)}  ${bar}  ${shortened(statement, TEXT_WIDTH)}`;
  });
  const head = `${'line'.padStart(5)}${'runs'.padStart(9)}${'time'.padStart(11)}${'part'.padStart(7)}`;
  const more = sorted.length - most;
  return [head, ...rows, ...(more > 0 ? [`and ${more} more lines that took less`] : [])].join('\n');
}

const WIDTH = 960;
const ROW = 22;
const TOP = 58;
const LABEL = 330;
const RIGHT = 190;
const LABEL_WIDTH = 34;
/** Lines in a chart: more would be thinner than can be read. */
const MOST_ROWS = 40;

/** The same as a bar chart in SVG. */
export function profileChart(lines: readonly ProfiledLine[], title: string): string {
  const whole = wholeOf(lines);
  const shown = longestFirst(lines).slice(0, MOST_ROWS);
  const longest = shown[0]?.seconds || 1;
  const height = TOP + ROW * shown.length + 24;
  const bars = shown.flatMap(({ line, runs, seconds, statement }, index) => {
    const y = TOP + ROW * index;
    const width = Math.max(1, ((WIDTH - LABEL - RIGHT) * seconds) / longest);
    const words = `${secondsText(seconds)}, ${Math.round((100 * seconds) / whole)} %, ${count(runs, 'time')}`;
    return [
      text(16, y + 15, `${line} ${shortened(statement, LABEL_WIDTH)}`, {
        'font-family': 'monospace',
      }),
      rect(LABEL, y + 3, width, ROW - 6, { fill: '#2f6690' }),
      text(LABEL + width + 8, y + 15, words),
    ];
  });
  const attributes = { 'font-family': 'sans-serif', 'font-size': 13 };
  return svgFile({ width: WIDTH, height, title, attributes }, [
    rect(0, 0, WIDTH, height, { fill: '#ffffff' }),
    text(16, 28, title, { 'font-size': 16, 'font-weight': 'bold' }),
    text(16, 46, `${secondsText(whole)} of the machine’s own time, by count`),
    ...bars,
  ]);
}
