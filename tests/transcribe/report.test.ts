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
    expect(wrong).toHaveLength(1);
  });

  it('has a report that shows print and listing, every change and every question', () => {
    const page = reportPage(result, { name: `${name}.txt`, source });
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
  const page = reportPage(transcribe(source), { name: '<x>', source });
  expect(page).toContain('&lt;x&gt;, transcribed');
  expect(page).not.toContain('<b>');
});
