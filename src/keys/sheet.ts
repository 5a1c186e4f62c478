/** The keys to press as a page to print, or to follow on a screen: HTML that needs nothing else. */

import type { Listing } from '../../grammar/tree.js';
import { count, statementText } from '../listing/print.js';
import { escapeMarkup } from '../markup/markup.js';
import { htmlPage } from '../markup/page.js';
import { coverOf } from './cover.js';
import { drawKeyboard } from './keyboard-drawing.js';
import { keysOfListing, type LineKeys, type Press } from './keys.js';
import { DETOUR, runsOf } from './say.js';

const STYLE = `
:root { --ink: #1c2430; --paper: #fbfaf6; --quiet: #6a7280; --line: #c9ccd2; --cap: #ffffff;
  --lit: #ffb000; --shift: #7fd1c4; --word: #14508c; --shifted: #a02c2c; --function: #5b6b1f; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, sans-serif; }
header { position: sticky; top: 0; background: var(--paper); border-bottom: 1px solid var(--line);
  padding: 12px 24px; z-index: 1; }
h1 { font-size: 20px; margin: 0 0 4px; }
.bar { display: flex; gap: 12px; align-items: center; flex-wrap: wrap; margin-bottom: 8px; }
.bar button { font: inherit; padding: 4px 14px; border: 1px solid var(--line); border-radius: 6px;
  background: var(--cap); cursor: pointer; }
.now { font-weight: 600; min-width: 16em; }
.keyboard { display: block; width: 100%; max-width: 980px; margin: 0 auto; }
.cap { fill: var(--cap); stroke: var(--line); }
.key text { font-family: system-ui, sans-serif; fill: var(--ink); }
.key .face { font-weight: 700; }
.key .word { fill: var(--word); font-weight: 600; }
.key .shifted { fill: var(--shifted); font-weight: 600; }
.key .function { fill: var(--function); }
.cell { fill: none; stroke: var(--quiet); stroke-width: .6; }
.ink { fill: var(--ink); }
.key.used .cap { stroke: var(--quiet); stroke-width: 2; }
.key.lit .cap { fill: var(--lit); }
.key.held .cap { fill: var(--shift); }
main { max-width: 1028px; margin: 0 auto; padding: 8px 24px 48px; }
section { padding: 10px 0; border-bottom: 1px solid var(--line); break-inside: avoid; }
h2 { font: 600 16px/1.4 ui-monospace, monospace; margin: 0 0 6px; overflow-wrap: anywhere; }
h2 small { float: right; font: 14px system-ui, sans-serif; color: var(--quiet); }
.run { display: flex; flex-wrap: wrap; gap: 4px; align-items: stretch; margin: 2px 0; }
.first { display: contents; }
.mode { width: 26px; height: 26px; flex: none; background: var(--ink); color: var(--paper); font: 700 16px/26px
  ui-monospace, monospace; text-align: center; margin-right: 4px; align-self: center; }
.press { font: 14px/1.2 system-ui, sans-serif; border: 1px solid var(--line); border-radius: 5px;
  background: var(--cap); color: var(--ink); padding: 3px 7px; cursor: pointer; }
.press b { font-size: 15px; } .press i { font-style: normal; color: var(--word); }
.press .hold { color: var(--shifted); font-size: 12px; }
.press.detour { border-style: dashed; }
.press.here { outline: 3px solid var(--lit); }
.wrong { color: var(--shifted); margin: 4px 0 0; }
.note { color: var(--quiet); font-size: 14px; margin: 4px 0 0; }
/* A phone beside the machine: there the keys have their names alone, large. */
@media screen and (max-width: 40rem) { header, main { padding-inline: 10px; }
  .key .face { font-size: 42px; } .key .long { font-size: 34px; transform: translateY(-3px); }
  .key .upper { transform: translateY(-14px); } .key .lower { transform: translateY(2px); }
  .key :is(.word, .shifted, .function, .cell, .ink) { display: none; }
}
@page { margin: 12mm; }
@media print { header { position: static; padding: 0 0 6px; background: #fff; } .bar { display: none; }
  body { background: #fff; font-size: 12px; line-height: 1.35; } h1 { font-size: 15px; }
  .keyboard { max-width: 640px; }
  /* What is marked on the screen is where somebody is; paper has no such place. */
  .key.lit .cap, .key.held .cap { fill: var(--cap); } .press.here { outline: none; }
  main { max-width: none; padding: 0; columns: 2; column-gap: 24px; }
  main > p { column-span: all; margin: 6px 0; }
  section { padding: 4px 0 5px; } h2 { font-size: 12px; margin: 0 0 2px; } h2 small { font-size: 10px; }
  .run { display: inline; } .first { display: inline-block; }
  .mode, .press { display: inline-block; vertical-align: middle; margin: 1px 2px 1px 0; }
  .mode { width: 15px; height: 15px; font-size: 11px; line-height: 15px; margin-left: 3px;
    print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .run:first-of-type .mode { margin-left: 0; }
  .press { font-size: 11px; padding: 0 3px; border-radius: 3px; } .press b { font-size: 12.5px; }
  .press .hold { font-size: 9px; } .note { font-size: 10px; } }
`;

/** Lights the key of a press, and steps on with the arrow keys, a click or the two buttons. */
const SCRIPT = {
  hash: 'sha256-NSerDvKjpiJNtP1ZiPMXq+JYmHhmGlr+97viBgVozUI=',
  text: `
const presses = [...document.querySelectorAll('.press')];
const keys = new Map([...document.querySelectorAll('.key')].map((key) => [key.dataset.key, key]));
const now = document.querySelector('.now');
let at = -1;
function show(index) {
  if (index < 0 || index >= presses.length) return;
  presses[at]?.classList.remove('here');
  for (const key of keys.values()) key.classList.remove('lit', 'held');
  at = index;
  const press = presses[at];
  press.classList.add('here');
  press.scrollIntoView({ block: 'nearest' });
  keys.get(press.dataset.key).classList.add('lit');
  if (press.dataset.shift) keys.get('SHIFT').classList.add('held');
  now.textContent = press.title + ' (' + (at + 1) + ' of ' + presses.length + ')';
}
presses.forEach((press, index) => press.addEventListener('click', () => show(index)));
document.querySelector('#back').addEventListener('click', () => show(at - 1));
document.querySelector('#on').addEventListener('click', () => show(at + 1));
document.addEventListener('keydown', (event) => {
  if (event.key !== 'ArrowRight' && event.key !== 'ArrowLeft') return;
  event.preventDefault();
  show(at + (event.key === 'ArrowRight' ? 1 : -1));
});
show(0);
`,
};

export interface SheetOptions {
  /** What the page calls the listing. */
  readonly name: string;
}

/** A page for a listing: the keyboard drawn, and each line's presses under it. */
export function keySheet(listing: Listing, { name }: SheetOptions): string {
  const keys = keysOfListing(listing);
  const title = `Keys for ${name}`;
  const { missing } = coverOf(keys);
  const unused =
    missing.length === 0
      ? 'Every key of the machine is used.'
      : `Keys that it does not use: ${missing.join(' ')}.`;
  const used = new Set(keys.lines.flatMap((line) => line.presses.map(({ key }) => key)));
  if (keys.shifted > 0) used.add('SHIFT');
  const keyboard = drawKeyboard().replace(/class="key" data-key="([^"]+)"/g, (whole, key) =>
    used.has(key) ? whole.replace('class="key"', 'class="key used"') : whole,
  );
  const sections = keys.lines.map((line, index) => section(line, listing.lines[index].codes));
  const body = `<header><h1>${escapeMarkup(title)}</h1>
<div class="bar"><button id="back">← back</button><button id="on">on →</button><span class="now" aria-live="polite"></span></div>
${keyboard}</header>
<main><p>${count(keys.lines.length, 'line')}, ${count(keys.total, 'press', 'presses')}, ${keys.shifted} of them with SHIFT held. ${escapeMarkup(unused)}
The letter in the dark square is what the cursor shows. On each key: its keyword above, what SHIFT gives at the right, what FUNCTION gives below.</p>
${sections.join('\n')}
</main>`;
  return htmlPage({ title, style: STYLE, body, script: SCRIPT });
}

function section(line: LineKeys, codes: Uint8Array): string {
  const text = escapeMarkup(`${line.number} ${statementText(codes)}`);
  const runs = runsOf(line.presses).map(
    ({ mode, presses }) =>
      // The cursor's letter and the key that it is for stand together, however a row is broken.
      `<div class="run"><span class="first"><span class="mode">${mode}</span>${presses.slice(0, 1).map(button).join('')}</span>${presses.slice(1).map(button).join('')}</div>`,
  );
  const wrong = line.outOfReach.map(
    ({ what, why }) =>
      `<p class="wrong">Not from the keyboard: ${escapeMarkup(`${what}: ${why}`)}</p>`,
  );
  const detour = line.presses.some(({ detour }) => detour)
    ? [`<p class="note">Dashed: ${escapeMarkup(DETOUR)}</p>`]
    : [];
  return `<section><h2>${text}<small>${count(line.presses.length, 'press', 'presses')}</small></h2>${[...runs, ...detour, ...wrong].join('')}</section>`;
}

function button(press: Press): string {
  const key = escapeMarkup(press.key);
  const gives = escapeMarkup(press.gives);
  const hold = press.shift ? '<span class="hold">shift </span>' : '';
  const same = press.key === press.gives && !press.shift;
  const title = `${press.shift ? 'hold SHIFT, press ' : 'press '}${key}${same ? '' : `: ${gives}`}`;
  return `<button class="press${press.detour ? ' detour' : ''}" data-key="${key}"${press.shift ? ' data-shift="1"' : ''} title="${title}">${hold}<b>${key}</b>${same ? '' : ` <i>${gives}</i>`}</button>`;
}
