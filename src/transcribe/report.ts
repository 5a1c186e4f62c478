/** A transcription as a page: the print and the result side by side, changes and questions marked. */
import { count } from '../listing/print.js';
import { escapeMarkup } from '../markup/markup.js';
import { htmlPieces } from '../markup/page.js';
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

/** The page in pieces. Self-contained: no font, script or picture from anywhere else. */
export function reportPage(result: Transcription, options: ReportOptions): Iterable<string> {
  const title = `${options.name}, transcribed`;
  return htmlPieces({ title, style: STYLE, body: bodyOf(title, result, options), script: SCRIPT });
}

function* bodyOf(
  title: string,
  result: Transcription,
  { source }: ReportOptions,
): Generator<string> {
  const { notes, remarks } = result;
  yield `<header><h1>${escapeMarkup(title)}</h1>
<p>${summary(result)}</p>
<p class="key"><span><mark class="made">changed</mark></span><span><mark class="ask">asked</mark></span><span><mark class="out">left out</mark></span></p>
${remarks.length > 0 ? `<ul>${remarks.map((remark) => `<li>${escapeMarkup(remark)}</li>`).join('')}</ul>` : ''}
</header>
<main><div class="pages">
<div class="pair"><h2>The print</h2><h2>The listing</h2></div>
`;
  yield* sideBySide(source, result);
  yield '</div>\n<h2>Questions</h2>\n';
  yield* table(
    ['Line', 'In the print', 'It may be', 'Why it is asked'],
    questionsOf(notes),
    (question) => [
      question.lines.join(', '),
      shortened(question.from),
      question.candidates.map(shortened).join('\n'),
      reasonOf(question),
    ],
  );
  yield '<h2>Changes</h2>\n';
  yield* table(
    ['Line', 'In the print', 'In the listing', 'Why, and how sure'],
    notes.filter(({ made }) => made),
    (note) => [
      String(note.line ?? ''),
      shortened(note.from),
      note.kind === 'left-out' ? '(left out)' : shortened(note.to),
      `${note.why} (${note.certainty.toFixed(2)})`,
    ],
  );
  yield '</main>';
}

/** @param cellsOf gives the cells of a row as text: the second and third of them are quoted */
function* table<Item>(
  heads: readonly string[],
  items: readonly Item[],
  cellsOf: (item: Item) => string[],
): Generator<string> {
  if (items.length === 0) return yield '<p>None.</p>\n';
  yield `<table><thead><tr>${heads.map((head) => `<th>${head}</th>`).join('')}</tr></thead><tbody>`;
  for (const item of items) {
    const [line, from, to, why] = cellsOf(item).map(escapeMarkup);
    yield `<tr><td>${line}</td><td><code>${from}</code></td><td><code>${to}</code></td><td>${why}</td></tr>`;
  }
  yield '</tbody></table>\n';
}

function summary({ notes, clean }: Transcription): string {
  if (clean && notes.length === 0) return 'This is a clean listing already: nothing was changed.';
  const made = notes.filter((note) => note.made).length;
  const asked = questionsOf(notes).length;
  return `${count(made, 'change')} made, ${count(asked, 'question')} left.`;
}
