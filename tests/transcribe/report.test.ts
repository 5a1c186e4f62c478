import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { reportPage } from '../../src/transcribe/report.js';
import { transcribe } from '../../src/transcribe/transcribe.js';

describe.each(['lamp-lottery', 'meter-table'])('the page %s of the bench book', (name) => {
  const source = readFileSync(`samples/pages/${name}.txt`, 'utf8');
  const result = transcribe(source);

  it('becomes a listing of which only the lines asked about are no statements', () => {
    const { diagnostics, listing } = readListing(result.text);
    const asked = new Set(result.notes.filter(({ made }) => !made).map(({ line }) => line));
    const wrong = listing.lines.filter(({ statement }) => statement === undefined);
    expect(wrong.filter(({ number }) => !asked.has(number))).toEqual([]);
    expect(diagnostics.filter(({ rule }) => rule === 'line-twice')).toEqual([]);
    expect(wrong.length).toBeLessThan(2);
  });

  it('has a report that shows print and listing, every change and every question', () => {
    const page = [...reportPage(result, { name: `${name}.txt`, source })].join('');
    expect(page).toMatch(/^<!doctype html>/);
    expect(page).not.toMatch(/(?:src|href)=/);
    for (const { kind, made } of result.notes) {
      if (kind !== 'joined') expect(page).toContain(made ? 'class="made"' : 'class="ask"');
    }
    const rows = page.match(/<tr><td>/g)!.length;
    const changes = result.notes.filter(({ made }) => made).length;
    expect(rows).toBeGreaterThan(changes);
  });
});

it('shows the marks of HTML as text', () => {
  const source = '10 PR1NT "<b>&"\n';
  const page = [...reportPage(transcribe(source), { name: '<x>', source })].join('');
  expect(page).toContain('&lt;x&gt;, transcribed');
  expect(page).not.toContain('<b>');
});

it('keeps its two sides level: what came from a row stands beside it', () => {
  const source = '10 PR1NT "A"\n\nTHE BENCH 1\n\n20 CLS 30 STOP\n40 CLS:PRINT "B"\n50 STOP\n';
  const page = [...reportPage(transcribe(source), { name: 'page', source })].join('');
  const pairs = [
    ...page.matchAll(/<div class="pair"><pre>([\s\S]*?)<\/pre><pre>([\s\S]*?)<\/pre>/g),
  ].map(([, ...sides]) =>
    sides.map((side) => side.replace(/<[^>]*>/g, '').replaceAll('&quot;', '"')),
  );
  const listingOf = (print: string) =>
    pairs
      .find(([left]) => left === print)![1]
      .split('\n')
      .filter((row) => !row.startsWith('&#39;'));
  expect(listingOf('10 PR1NT "A"')).toEqual(['10 PRINT "A"']);
  expect(listingOf('20 CLS 30 STOP')).toEqual(['20 CLS', '30 STOP']);
  expect(listingOf('40 CLS:PRINT "B"')).toEqual(['40 CLS', '45 PRINT "B"']);
  expect(listingOf('50 STOP')).toEqual(['50 STOP']);
  // Nothing of either side is lost, and all stands in order.
  const left = pairs.map(([side]) => side).filter((side) => side.trim() !== '');
  expect(left.join('\n').replace(/\n+/g, '\n')).toBe(source.replace(/\n+/g, '\n').trimEnd());
});
