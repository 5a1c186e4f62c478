/** The memory map as a picture, and the table: to scale, with every area, the limit drawn across. */
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { type Budget, budgetOf } from '../../src/memory/budget.js';
import { budgetPicture } from '../../src/memory/picture.js';
import { budgetTable } from '../../src/memory/table.js';
import { budget } from './written-budget.js';

const SMALL = '10 LET A=5\n20 PRINT AT 3,0;A\n30 GOSUB 50\n40 STOP\n50 RETURN\n';
const LARGE = `10 REM ${'X'.repeat(1500)}\n`;

function picture(text: string, ram = 1024, title = 'OAK'): string {
  return budgetPicture(budgetOf(readListing(text).listing, { ram }), title);
}

/** Heights of the rectangles with this fill, in the order of the drawing. */
function heights(svg: string, fill: string): number[] {
  const found = svg.matchAll(new RegExp(`height="([\\d.]+)" fill="${fill}"`, 'g'));
  return [...found].map(([, height]) => Number(height));
}

describe('the picture', () => {
  it('is 800 wide, and well-formed', () => {
    const svg = picture(SMALL);
    expect(svg).toMatch(/^<svg [^>]*width="800"/);
    const open = [...svg.matchAll(/<([a-z]+)\b[^>]*?(\/?)>/gi)].filter(([, , closed]) => !closed);
    const close = [...svg.matchAll(/<\/[a-z]+>/gi)];
    expect(open.length).toBe(close.length);
  });

  it('draws areas to scale', () => {
    const svg = picture(SMALL);
    const { areas } = budgetOf(readListing(SMALL).listing, { ram: 1024 });
    const [system] = heights(svg, '#5b6770');
    const [program] = heights(svg, '#2f6f9f');
    const programBytes = areas.find(({ area }) => area === 'program')!.high;
    expect(program / system).toBeCloseTo(programBytes / 125, 1);
    expect(system).toBeCloseTo((125 / 1024) * 800, 0);
  });

  it('names every area that takes room, with its bytes, and what is spare', () => {
    const svg = picture(SMALL);
    const { areas, runs } = budgetOf(readListing(SMALL).listing, { ram: 1024 });
    for (const { area, high } of areas) expect(svg.includes(`>${area}<`)).toBe(high > 0);
    expect(svg).toContain(`>spare</tspan><tspan dx="8">${runs.spare}`);
  });

  it('draws the top of the RAM across what does not fit, and says how much is over', () => {
    const svg = picture(LARGE);
    const { runs } = budgetOf(readListing(LARGE).listing, { ram: 1024 });
    expect(svg).toContain(`top of the RAM, 17408: ${runs.high - 1024} bytes over at most`);
    expect(svg).not.toContain('>spare<');
    expect(picture(SMALL)).toMatch(/top of the RAM, 17408</);
  });

  it('takes sizes that nothing bounds', () => {
    const svg = picture('10 LET A$=""\n20 LET A$=A$+"X"\n30 GOTO 20\n');
    expect(svg).not.toMatch(/NaN|Infinity/);
    expect(svg).toContain('no bound');
  });

  it('keeps labels apart', () => {
    for (const [text, ram] of [
      [SMALL, 1024],
      [SMALL, 16384],
      [LARGE, 1024],
    ] as const) {
      const places = [...picture(text, ram).matchAll(/<text x="392" y="([\d.]+)"/g)];
      const rows = places.map(([, y]) => Number(y)).sort((a, b) => a - b);
      for (let at = 1; at < rows.length; at++) expect(rows[at] - rows[at - 1]).toBeGreaterThan(17);
    }
  });

  it('escapes the title', () => {
    expect(picture(SMALL, 1024, '<A&B>')).toContain('&lt;A&amp;B&gt; in 1K');
  });
});

describe('the picture of a budget that is written down', () => {
  const full = (high?: number): Budget => {
    const plain = budget(undefined, high);
    const above = [
      { area: 'kept free by the ROM', start: 17300, low: 37, high: 37 },
      { area: 'machine stack', start: 17337, low: 18, high: 29, why: 'it is not known' },
      { area: 'GOSUB stack', start: 17366, low: 0, high: 0 },
    ] as const;
    return { ...plain, areas: [...plain.areas, ...above] };
  };
  /** `UPDATE=1` draws the files anew; look at them before they are kept. */
  it.each([
    ['fits', 400],
    ['over', 1400],
    ['unbounded', Number.POSITIVE_INFINITY],
  ])('%s.svg is what is drawn', (name, high) => {
    const file = new URL(`pictures/${name}.svg`, import.meta.url);
    const svg = budgetPicture(full(high), 'OAK & ELM');
    if (process.env.UPDATE) writeFileSync(file, svg);
    expect(svg).toBe(readFileSync(file, 'utf8'));
  });
});

describe('the table', () => {
  const { listing } = readListing(SMALL);
  const bounds = budgetOf(listing, { ram: 1024 });
  const table = (by?: Parameters<typeof budgetTable>[2]) =>
    budgetTable(bounds, listing, by).split('\n');

  it('adds up: the rows give the sums that the verdict speaks of', () => {
    const rows = table()
      .slice(1, 12)
      .map((row) => row.slice(22).trim().split(/\s+/).map(Number));
    expect(rows.reduce((sum, [, low]) => sum + low, 0)).toBe(bounds.runs.low);
    expect(rows.reduce((sum, [, , high]) => sum + high, 0)).toBe(bounds.runs.high);
    expect(table().join('\n')).toContain(`needs ${bounds.runs.low} to ${bounds.runs.high} of 1024`);
  });

  it('has the widest first on request', () => {
    const bytes = table('line')
      .slice(1, 6)
      .map((row) => Number(row.trim().split(/\s+/)[1]));
    expect(bytes).toEqual([...bytes].sort((a, b) => b - a));
    expect(table('area')[1]).toMatch(/^system variables/);
    expect(table('variable')[1]).toMatch(/^A +6 +6 +10/);
  });

  it('says which line makes least and most differ', () => {
    expect(table().join('\n')).toMatch(/GOSUB stack 0 to 2 \(line 30\)/);
  });
});
