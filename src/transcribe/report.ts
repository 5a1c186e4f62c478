/** A transcription as a page: the print and the result side by side, changes and questions marked. */
import { count } from '../listing/print.js';
import { escapeMarkup } from '../markup/markup.js';
import { htmlPage } from '../markup/page.js';
import { questionsOf, reasonOf, shortened } from './questions.js';
import { sideBySide } from './side-by-side.js';
import type { Transcription } from './transcribe.js';

const STYLE = `
:root { --ink: #1c2430; --paper: #fbfaf6; --quiet: #6a7280; --line: #d5d3c8; --made: #d9ead0;
  --made-edge: #4f8a2f; --ask: #ffe3b0; --ask-edge: #b86e00; --out: #e6e6ea; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, sans-serif; }
header, main, footer { max-width: 1240px; margin: 0 auto; padding: 16px 24px; }
h1 { font-size: 22px; margin: 0 0 6px; } h2 { font-size: 18px; margin: 24px 0 8px; }
.key span { padding: 1px 6px; border-radius: 4px; margin-right: 10px; }
.pages { background: #fff; border: 1px solid var(--line); border-radius: 8px; }
.pair { display: grid; grid-template-columns: 1fr 1fr; }
.pair + .pair { border-top: 1px solid var(--line); }
.pair > * { min-width: 0; padding: 5px 12px; }
.pair > * + * { border-left: 1px solid var(--line); }
.pair h2 { margin: 0; }
pre { font: 14px/1.55 ui-monospace, monospace; white-space: pre-wrap; overflow-wrap: anywhere; margin: 0; }
mark { color: inherit; border-radius: 3px; padding: 0 1px; }
mark.made { background: var(--made); box-shadow: inset 0 -2px var(--made-edge); }
mark.ask { background: var(--ask); box-shadow: inset 0 -2px var(--ask-edge); }
mark.out { background: var(--out); color: var(--quiet); text-decoration: line-through; }
.comment { color: var(--quiet); }
mark.here { outline: 2px solid var(--ink); }
table { border-collapse: collapse; width: 100%; font-size: 15px; }
th, td { text-align: left; vertical-align: top; padding: 5px 10px 5px 0; border-bottom: 1px solid var(--line); }
td code { font: 14px ui-monospace, monospace; overflow-wrap: anywhere; white-space: pre-wrap; }
td:first-child { white-space: nowrap; }
@media (max-width: 760px) { .pair { grid-template-columns: 1fr; } .pair > * + * { border-left: 0; } }
@media print { body { background: #fff; } .pair { break-inside: avoid; } }
`;

/** Points at the other side of what the pointer or the focus is on. */
const SCRIPT = {
  hash: 'sha256-8CqBpldoFFboO4F2Ttuk2jl515AkLJpKT+KtsFCmcxk=',
  text: `
const marks = [...document.querySelectorAll('[data-note]')];
const light = (id, on) => { for (const mark of marks) if (mark.dataset.note === id) mark.classList.toggle('here', on); };
for (const mark of marks) {
  mark.addEventListener('mouseenter', () => light(mark.dataset.note, true));
  mark.addEventListener('mouseleave', () => light(mark.dataset.note, false));
}
`,
};

export interface ReportOptions {
  /** What the page calls the text. */
  readonly name: string;
  /** The text that was transcribed. */
  readonly source: string;
}

/** The page. Self-contained: no font, script or picture from anywhere else. */
export function reportPage(result: Transcription, { name, source }: ReportOptions): string {
  const title = `${name}, transcribed`;
  const made = result.notes.filter((note) => note.made);
  const asked = questionsOf(result.notes);
  const body = `<header><h1>${escapeMarkup(title)}</h1>
<p>${summary(result)}</p>
<p class="key"><span><mark class="made">changed</mark></span><span><mark class="ask">asked</mark></span><span><mark class="out">left out</mark></span></p>
${result.remarks.length > 0 ? `<ul>${result.remarks.map((remark) => `<li>${escapeMarkup(remark)}</li>`).join('')}</ul>` : ''}
</header>
<main><div class="pages">
<div class="pair"><h2>The print</h2><h2>The listing</h2></div>
${sideBySide(source, result)}
</div>
<h2>Questions</h2>
${asked.length === 0 ? '<p>None.</p>' : `<table><thead><tr><th>Line</th><th>In the print</th><th>It may be</th><th>Why it is asked</th></tr></thead><tbody>${asked.map((question) => row(question.lines.join(', '), shortened(question.from), question.candidates.map(shortened).join('\n'), reasonOf(question))).join('')}</tbody></table>`}
<h2>Changes</h2>
${made.length === 0 ? '<p>None.</p>' : `<table><thead><tr><th>Line</th><th>In the print</th><th>In the listing</th><th>Why, and how sure</th></tr></thead><tbody>${made.map((note) => row(String(note.line ?? ''), shortened(note.from), note.kind === 'left-out' ? '(left out)' : shortened(note.to), `${note.why} (${note.certainty.toFixed(2)})`)).join('')}</tbody></table>`}
</main>`;
  return htmlPage({ title, style: STYLE, body, script: SCRIPT });
}

function summary({ notes, clean }: Transcription): string {
  if (clean && notes.length === 0) return 'This is a clean listing already: nothing was changed.';
  const made = notes.filter((note) => note.made).length;
  const asked = questionsOf(notes).length;
  return `${count(made, 'change')} made, ${count(asked, 'question')} left.`;
}

function row(...cells: readonly string[]): string {
  const [line, from, to, why] = cells.map(escapeMarkup);
  return `<tr><td>${line}</td><td><code>${from}</code></td><td><code>${to}</code></td><td>${why}</td></tr>`;
}
