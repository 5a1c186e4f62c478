/** The listing's editor: CodeMirror, with our own language server in a worker behind it. */
import { completionKeymap } from '@codemirror/autocomplete';
import { defaultKeymap, history, historyKeymap } from '@codemirror/commands';
import { linter, lintKeymap, setDiagnostics } from '@codemirror/lint';
import {
  findReferencesKeymap,
  formatDocument,
  formatKeymap,
  hoverTooltips,
  jumpToDefinitionKeymap,
  LSPClient,
  renameKeymap,
  serverCompletion,
} from '@codemirror/lsp-client';
import { Compartment, EditorState, type Text } from '@codemirror/state';
import {
  drawSelection,
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  keymap,
  placeholder,
  tooltips,
} from '@codemirror/view';
import type { CodeAction, Diagnostic, TextEdit } from 'vscode-languageserver-types';
import { MOST_CHARACTERS } from '../../machine/program-limits.js';
import { TEXTS } from '../texts.js';
import type { Known } from '../workers/known.js';
import { startWorker } from '../workers/start.js';
import { completion } from './completion.js';
import { showCosts } from './costs.js';
import { marks, setDoubts, setRunning } from './marks.js';
import { paint, setPaint } from './paint.js';

const URI = 'listwright:/listing.bas';
/** Milliseconds for which a question of the editor may wait. */
const TIMEOUT = 20_000;
/** Milliseconds from one showing of the cursor to the next. */
const BLINK = 1200;

/** Pixels that stay free beside a tooltip. */
const MARGIN = 8;

/** A finding where it stands now, with what can be done about it once that is asked. */
export interface Finding {
  readonly severity: 'error' | 'warning' | 'info' | 'hint';
  readonly message: string;
  readonly from: number;
  readonly to: number;
  /** Row and column, from 1. */
  readonly row: number;
  readonly column: number;
  readonly diagnostic: Diagnostic;
}

export interface EditorEvents {
  /** The text has changed, by a person or by the page. */
  changed(text: string): void;
  /** What somebody puts in would make the text larger than any listing is. */
  refused(): void;
  /** The server knows more of the text as it is now. */
  known(known: Known, findings: readonly Finding[]): void;
}

const SEVERITIES = ['hint', 'error', 'warning', 'info', 'hint'] as const;

export class Editor {
  private readonly client: LSPClient;
  private readonly view: EditorView;
  private readonly past = new Compartment();

  static async start(parent: HTMLElement, text: string, events: EditorEvents): Promise<Editor> {
    return new Editor(parent, text, events, await startWorker('language'));
  }

  private constructor(
    parent: HTMLElement,
    text: string,
    private readonly events: EditorEvents,
    worker: Worker,
  ) {
    const isCalm = matchMedia('(prefers-reduced-motion: reduce)').matches;
    this.client = new LSPClient({
      timeout: TIMEOUT,
      extensions: [
        hoverTooltips(),
        serverCompletion(),
        keymap.of([
          ...formatKeymap,
          ...renameKeymap,
          ...jumpToDefinitionKeymap,
          ...findReferencesKeymap,
        ]),
      ],
    });
    // Before the editor is built, which takes a moment: meanwhile the server answers.
    this.client.connect({
      send: (message) => worker.postMessage(JSON.parse(message)),
      subscribe: (handler) => {
        worker.onmessage = ({ data }) => {
          // Past the client, which takes texts: of a long listing this is some megabytes.
          if (data.method === 'listwright/known') this.take(data.params);
          else handler(JSON.stringify(data));
        };
      },
      unsubscribe: () => {
        worker.onmessage = null;
      },
    });
    this.view = new EditorView({
      parent,
      state: EditorState.create({
        doc: text,
        extensions: [
          this.past.of(history()),
          completion,
          tooltips({ tooltipSpace }),
          drawSelection({ cursorBlinkRate: isCalm ? 0 : BLINK }),
          highlightActiveLine(),
          highlightActiveLineGutter(),
          // Not even taken in: a text that no listing can be would hold up all that follows.
          EditorState.transactionFilter.of((change) => {
            if (!change.isUserEvent('input') || change.changes.newLength <= MOST_CHARACTERS) {
              return change;
            }
            events.refused();
            return [];
          }),
          EditorView.lineWrapping,
          EditorState.allowMultipleSelections.of(false),
          EditorView.contentAttributes.of({
            'aria-label': TEXTS.listing.editor,
            autocapitalize: 'characters',
            spellcheck: 'false',
            // A stop of the Tab key by its own word too, for whatever looks for those.
            tabindex: '0',
          }),
          placeholder(TEXTS.listing.placeholder),
          keymap.of([...completionKeymap, ...lintKeymap, ...historyKeymap, ...defaultKeymap]),
          paint,
          marks,
          showCosts,
          // No source of its own: what the server finds is put in.
          linter(null),
          EditorView.updateListener.of((update) => {
            if (update.docChanged) this.tellChange();
          }),
          this.client.plugin(URI, 'listing'),
        ],
      }),
    });
  }

  /** The server is told at once: it lets typing rest itself. */
  private tellChange(): void {
    void this.client.initializing.then(() => this.client.sync());
    this.events.changed(this.text);
  }

  get text(): string {
    return this.view.state.doc.toString();
  }

  /** Puts another text in the place of this one, with a past of its own: no undo leads back. */
  open(text: string): void {
    const { view, past } = this;
    if (this.text === text) return;
    view.dispatch({
      changes: { from: 0, to: view.state.doc.length, insert: text },
      effects: past.reconfigure([]),
    });
    view.dispatch({ effects: past.reconfigure(history()) });
  }

  /** Tells the server the RAM that is fitted, such as `16K`; empty: what the listing says. */
  setRam(ram: string): void {
    void this.client.initializing.then(() =>
      this.client.notification('workspace/didChangeConfiguration', {
        settings: { listwright: { ram } },
      }),
    );
  }

  goTo(from: number, to = from): void {
    this.view.dispatch({ selection: { anchor: from, head: to }, scrollIntoView: true });
    this.view.focus();
  }

  /** The number that the line of the cursor begins with, or that of the next line that has one. */
  get lineAtCursor(): number | undefined {
    const { doc, selection } = this.view.state;
    for (let row = doc.lineAt(selection.main.head).number; row <= doc.lines; row++) {
      const number = numberOf(doc, row);
      if (number !== undefined) return number;
    }
    return undefined;
  }

  /** Marks the program line that runs; undefined: none does. */
  showRunning(number: number | undefined): void {
    this.view.dispatch({ effects: setRunning.of(rowOf(this.view.state.doc, number)) });
  }

  /** Marks rows, from 1, with bytes that are in doubt. */
  showDoubts(rows: readonly number[]): void {
    this.view.dispatch({ effects: setDoubts.of(rows) });
  }

  tidy(): void {
    formatDocument(this.view);
  }

  /** What can be done about a finding, the likeliest first. */
  async fixesFor({ diagnostic }: Finding): Promise<readonly CodeAction[]> {
    const found = await this.actionsFor(diagnostic.range, 'quickfix', [diagnostic]);
    return found.filter(({ diagnostics }) =>
      diagnostics?.some(({ code, range }) => {
        return code === diagnostic.code && sameStart(range, diagnostic.range);
      }),
    );
  }

  /** The savings that change a whole listing, or undefined where there are none of this kind. */
  async savings(kind: 'all' | 'fit'): Promise<(() => void) | undefined> {
    const only = `source.fixAll.listwright${kind === 'fit' ? '.fit' : ''}`;
    const start = { line: 0, character: 0 };
    const found = await this.actionsFor({ start, end: start }, only, []);
    const action = found.find((one) => one.kind === only);
    return action && (() => this.apply(action));
  }

  /** The actions of a kind, or below it, that change the text. */
  private async actionsFor(
    range: Diagnostic['range'],
    only: string,
    diagnostics: readonly Diagnostic[],
  ): Promise<CodeAction[]> {
    this.client.sync();
    const found = await this.client.request<object, CodeAction[] | null>(
      'textDocument/codeAction',
      { textDocument: { uri: URI }, range, context: { diagnostics, only: [only] } },
    );
    return (found ?? []).filter(({ edit }) => edit !== undefined);
  }

  /** Makes the changes of an action. */
  apply({ edit }: CodeAction): void {
    const edits: readonly TextEdit[] = edit?.changes?.[URI] ?? [];
    const { doc } = this.view.state;
    this.view.dispatch({
      changes: edits.map(({ range, newText }) => ({
        from: offsetOf(doc, range.start),
        to: offsetOf(doc, range.end),
        insert: newText,
      })),
      userEvent: 'input.fix',
    });
    this.view.focus();
  }

  private take(known: Known & { version: number }): void {
    const { view } = this;
    const file = this.client.workspace.getFile(URI);
    // An answer about a text that has changed meanwhile: the next is under way.
    if (file === null || file.version !== known.version || !file.doc.eq(view.state.doc)) return;
    const { doc } = view.state;
    const findings = known.findings.map((diagnostic): Finding => {
      const { range, severity, message } = diagnostic;
      const from = offsetOf(doc, range.start);
      return {
        severity: SEVERITIES[severity ?? 1],
        message: typeof message === 'string' ? message : message.value,
        from,
        to: Math.max(offsetOf(doc, range.end), from),
        row: range.start.line + 1,
        column: range.start.character + 1,
        diagnostic,
      };
    });
    view.dispatch(
      { effects: setPaint.of(known) },
      setDiagnostics(
        view.state,
        findings.map(({ from, to, severity, message }) => ({ from, to, severity, message })),
      ),
    );
    this.events.known(known, findings);
  }
}

/** Where a tooltip may stand: within the window, with a margin, and under the bar that stays. */
function tooltipSpace(): { top: number; left: number; bottom: number; right: number } {
  const bar = document.querySelector('nav')?.getBoundingClientRect().bottom ?? 0;
  const { clientWidth, clientHeight } = document.documentElement;
  const [left, right] = [MARGIN, clientWidth - MARGIN];
  return { top: Math.max(0, bar), left, bottom: clientHeight - MARGIN, right };
}

function sameStart(a: Diagnostic['range'], b: Diagnostic['range']): boolean {
  return a.start.line === b.start.line && a.start.character === b.start.character;
}

function offsetOf(doc: Text, { line, character }: { line: number; character: number }): number {
  if (line >= doc.lines) return doc.length;
  const { from, to } = doc.line(line + 1);
  return Math.min(from + character, to);
}

/** The row, from 1, of the program line with this number. */
function rowOf(doc: Text, number: number | undefined): number | undefined {
  if (number === undefined) return undefined;
  for (let row = 1; row <= doc.lines; row++) {
    if (numberOf(doc, row) === number) return row;
  }
  return undefined;
}

/** The number that a row begins with. */
function numberOf(doc: Text, row: number): number | undefined {
  const digits = /^\s*(\d+)/.exec(doc.line(row).text)?.[1];
  return digits === undefined ? undefined : Number(digits);
}
