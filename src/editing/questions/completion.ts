/**
 * What may stand at a place. Within a statement the grammar itself is asked: the words before the
 * place are parsed with each candidate behind them, and those that the parser does not stumble over
 * are offered.
 */
import {
  type CompletionItem,
  CompletionItemKind,
  InsertTextFormat,
  type TextEdit,
} from 'vscode-languageserver-types';
import { KEYWORD_TABLE, type Keyword } from '../../../grammar/keywords.js';
import { tokensOf } from '../../../grammar/lexer.js';
import { parseStatement } from '../../../grammar/parser.js';
import {
  isName,
  type ListingToken,
  OpenString,
  Rem,
  tokenOfWord,
} from '../../../grammar/tokens.js';
import type { Span } from '../../../grammar/tree.js';
import { RULES } from '../../lint/rules.js';
import { directiveExamples } from '../../listing/directives.js';
import { NAMING_A_LINE } from '../../listing/renumber.js';
import { GRAPHIC_NAMES, KEYWORDS, unicodeOfCode } from '../../machine/characters.js';
import { HIGHEST_LINE } from '../../machine/memory-map.js';
import { ramText, USUAL_SIZES } from '../../machine/ram-size.js';
import { MARGIN_OF_FRAMES, SYSTEM_VARIABLES } from '../../machine/system-variables.js';
import { systemVariableAt } from '../addresses.js';
import { wordsOf } from '../keyword-words.js';
import { occurrencesOf } from '../occurrences.js';
import type { Snapshot } from '../snapshot.js';

/** Characters behind which an editor should ask by itself. */
export const TRIGGERS = [' ', '.', '[', '(', ',', ';', '='];

/** What may stand at an offset, the likeliest first. */
export function completion(snapshot: Snapshot, offset: number): CompletionItem[] {
  const { positions, text } = snapshot;
  const start = positions.startOfLine(positions.lineOf(offset));
  const before = text.slice(start, offset).trimStart();
  const place = new Place(snapshot, offset);
  if (before === '') return [...place.lineNumber(), ...place.directives(0)];
  if (before.startsWith("'")) return place.allowances(before);
  if (before.startsWith('.')) return place.directiveValues(before);
  if (/^\d+$/.test(before)) return place.lineNumber();
  return /^\d/.test(before) ? place.statement(before) : [];
}

class Place {
  constructor(
    private readonly snapshot: Snapshot,
    private readonly offset: number,
  ) {}

  // ───────────────────────────── lines and directives ─────────────────────────────

  /** A number for the line that begins here, between those around it. */
  lineNumber(): CompletionItem[] {
    const { listing, text, positions } = this.snapshot;
    const start = positions.startOfLine(positions.lineOf(this.offset));
    const lines = listing.items.filter((item) => item.kind === 'line');
    const before = lines.filter((line) => line.start < start).at(-1)?.number ?? 0;
    const after = lines.find((line) => line.start > this.offset)?.number;
    const number = numberBetween(before, after);
    if (number === undefined) return [];
    const typed = /\d*$/.exec(text.slice(start, this.offset))![0];
    if (!String(number).startsWith(typed)) return [];
    return [
      this.item(`${number} `, CompletionItemKind.Value, typed.length, {
        label: String(number),
        detail: 'the next line',
        sortText: '0',
      }),
    ];
  }

  directives(typed: number): CompletionItem[] {
    return directiveExamples().map(([word, example]) =>
      this.item(
        `.${word}${word === 'display' ? '\n\n.end' : ' '}`,
        CompletionItemKind.Keyword,
        typed,
        {
          label: `.${word}`,
          detail: example,
          sortText: `1${word}`,
        },
      ),
    );
  }

  directiveValues(before: string): CompletionItem[] {
    const [, word, gap, typed] = /^\.(\w*)(\s*)(.*)$/.exec(before)!;
    if (gap === '') return this.directives(before.length);
    const values = (
      texts: readonly string[],
      kind: CompletionItemKind = CompletionItemKind.Value,
    ) => texts.map((text) => this.item(text, kind, typed.length));
    switch (word.toLowerCase()) {
      case 'ram':
        return values(USUAL_SIZES.map(ramText));
      case 'tv':
        return values([...MARGIN_OF_FRAMES.keys()].map(String));
      case 'lines':
        return values(['as-written']);
      case 'numbers':
        return values(['nearest']);
      case 'start':
        return this.lines(typed.length);
      case 'raw':
        return values(['display', 'variables', 'after']);
      case 'system':
        return typed.includes('=')
          ? []
          : values(
              SYSTEM_VARIABLES.map(({ name }) => `${name} = `),
              CompletionItemKind.Property,
            );
      case 'var':
        return typed === ''
          ? [...occurrencesOf(this.snapshot).byName.keys()].map((name) =>
              this.item(name.replace('()', '('), CompletionItemKind.Variable, 0, { label: name }),
            )
          : [];
      default:
        return [];
    }
  }

  /** In the editor's own comments: the comment that silences a rule. */
  allowances(before: string): CompletionItem[] {
    const match = /^'\s*(lint\s*:\s*allow\s+)?([a-z-]*)$/i.exec(before);
    if (match === null) return [];
    const [, allow, typed] = match;
    if (allow === undefined) {
      return [
        this.item("' lint: allow ", CompletionItemKind.Snippet, before.length, {
          label: "' lint: allow RULE — reason",
          detail: 'silences a finding in the next line',
          filterText: before,
        }),
      ];
    }
    return RULES.map(({ name, summary }) =>
      this.item(`${name} — `, CompletionItemKind.Value, typed.length, {
        label: name,
        detail: summary,
      }),
    );
  }

  // ───────────────────────────── statements ─────────────────────────────

  statement(before: string): CompletionItem[] {
    const numbered = /^\d+/.exec(before)![0];
    const tokens = tokensOf(before).slice(1);
    const last = tokens.at(-1);
    if (last?.tokenType === Rem) return this.inText(before, false);
    if (last?.tokenType === OpenString) return this.inText(before, true);
    // A word that touches the place is being typed.
    const typing =
      last !== undefined && last.end === before.length && /[A-Za-z0-9$]$/.test(before)
        ? last
        : undefined;
    const typed = typing === undefined ? 0 : typing.end - typing.startOffset;
    const spoken = typing === undefined ? tokens : tokens.slice(0, -1);
    if (typed === 0 && before.length === numbered.length) return [];
    const previous = spoken.at(-1)?.image;
    if (previous !== undefined && LINE_WORDS.has(previous) && /^\d*$/.test(typing?.image ?? '')) {
      return this.lines(typed);
    }
    const addresses =
      previous !== undefined && ADDRESS_WORDS.has(previous) ? this.addresses(typed) : [];
    if (typing !== undefined && /^\d/.test(typing.image)) return addresses;
    return [...addresses, ...this.names(spoken, typed), ...this.keywords(spoken, typed)];
  }

  private keywords(spoken: readonly ListingToken[], typed: number): CompletionItem[] {
    const items: CompletionItem[] = [];
    for (const keyword of KEYWORD_TABLE) {
      if (!/^[A-Z]/.test(keyword.word) || !mayStand(spoken, keyword.word)) continue;
      items.push(this.keyword(keyword, typed));
    }
    return items;
  }

  private keyword(keyword: Keyword, typed: number): CompletionItem {
    const { word, kind, takes } = keyword;
    const words = wordsOf(word);
    const alone =
      kind === 'constant' || (kind === 'simple' && (takes.length === 0 || keyword.optional));
    return this.item(alone ? word : `${word} `, kindOf(keyword), typed, {
      label: word,
      // A word that stands alone is its own form: once is enough.
      detail: words?.form === word ? undefined : words?.form,
      documentation: words?.does,
      sortText: `3${word}`,
    });
  }

  /** The variables of the listing that may stand here, those of the loop that is open first. */
  private names(spoken: readonly ListingToken[], typed: number): CompletionItem[] {
    const { byName } = occurrencesOf(this.snapshot);
    const after = spoken.at(-1)?.image;
    const number = mayStand(spoken, 'A');
    const string = mayStand(spoken, 'A$');
    const open = after === 'NEXT' ? this.openLoops() : [];
    const items: CompletionItem[] = [];
    for (const [name, all] of byName) {
      const isString = name.endsWith('$');
      if (isString ? !string : !number) continue;
      // What is being typed is no variable of the program yet.
      if (all.every(({ start, end }) => start <= this.offset && this.offset <= end)) continue;
      if ((after === 'NEXT' || after === 'FOR') && name.length > 1) continue;
      items.push(
        this.item(name.replace('()', '('), CompletionItemKind.Variable, typed, {
          label: name,
          detail: `line ${[...new Set(all.map(({ line }) => line?.number ?? '.var'))].slice(0, 6).join(', ')}`,
          sortText: open.includes(name) ? `0${open.indexOf(name)}` : `2${name}`,
        }),
      );
    }
    return items;
  }

  /** The variables of the FOR loops above that no NEXT has ended, innermost first. */
  private openLoops(): string[] {
    const open: string[] = [];
    for (const { line, statement } of this.snapshot.names.steps) {
      if (line.start > this.offset || line.end >= this.offset) break;
      if (statement?.kind === 'FOR') open.unshift(statement.variable.name);
      else if (statement?.kind === 'NEXT') {
        const at = open.indexOf(statement.variable.name);
        if (at >= 0) open.splice(at, 1);
      }
    }
    return open;
  }

  private lines(typed: number): CompletionItem[] {
    const { listing, text } = this.snapshot;
    return listing.lines.map(({ number, start, end }) =>
      this.item(String(number), CompletionItemKind.Reference, typed, {
        detail: text
          .slice(start, end)
          .replace(/^\d+\s*/, '')
          .replaceAll(/\s+/g, ' ')
          .slice(0, LONGEST_DETAIL),
        sortText: `1${String(number).padStart(5, '0')}`,
      }),
    );
  }

  private addresses(typed: number): CompletionItem[] {
    return SYSTEM_VARIABLES.map(({ name, address }) =>
      this.item(String(address), CompletionItemKind.Constant, typed, {
        label: `${name} ${address}`,
        filterText: `${address} ${name}`,
        detail: systemVariableAt(address)?.does,
        sortText: `1${address}`,
      }),
    );
  }

  // ───────────────────────────── strings and REM ─────────────────────────────

  /** Behind a bracket in a string or REM: graphics by position, keywords, inverse video. */
  private inText(before: string, inString: boolean): CompletionItem[] {
    const open = before.lastIndexOf('[');
    if (open < 0 || before.indexOf(']', open) >= 0 || (inString && before.indexOf('"', open) >= 0))
      return [];
    const typed = before.slice(open);
    if (/[\s\n]/.test(typed) || typed.startsWith('[~')) return [];
    const form = (inner: string, detail: string, kind: CompletionItemKind, sortText: string) =>
      this.item(`[${inner}]`, kind, typed.length, { detail, sortText });
    const graphics = [...GRAPHIC_NAMES].map(([name, code]) =>
      form(name, `${unicodeOfCode(code) ?? ''} code ${code}`, CompletionItemKind.Text, `1${name}`),
    );
    const keywords = [...KEYWORDS.values()]
      .filter((word) => word !== '""')
      .map((word) => form(word, `the one code of ${word}`, CompletionItemKind.Keyword, `3${word}`));
    const inverse: CompletionItem = {
      ...form('~', 'inverse video', CompletionItemKind.Snippet, '0'),
      label: '[~…]',
      insertTextFormat: InsertTextFormat.Snippet,
      textEdit: this.edit('[~$1]', typed.length),
      filterText: '[~',
    };
    return [inverse, ...graphics, ...keywords];
  }

  // ───────────────────────────── items ─────────────────────────────

  private item(
    text: string,
    kind: CompletionItemKind,
    typed: number,
    more: Partial<CompletionItem> = {},
  ): CompletionItem {
    return { label: text.trimEnd(), kind, ...more, textEdit: this.edit(text, typed) };
  }

  private edit(newText: string, typed: number): TextEdit {
    const span: Span = { start: this.offset - typed, end: this.offset };
    return { range: this.snapshot.positions.rangeOf(span), newText };
  }
}

const LINE_WORDS: ReadonlySet<string> = NAMING_A_LINE;
const ADDRESS_WORDS = new Set(['PEEK', 'POKE']);
const LONGEST_DETAIL = 60;

function kindOf({ kind }: Keyword): CompletionItemKind {
  if (kind === 'function') return CompletionItemKind.Function;
  if (kind === 'constant') return CompletionItemKind.Constant;
  return kind === 'operator' ? CompletionItemKind.Operator : CompletionItemKind.Keyword;
}

/** Does the grammar take this word behind these? */
function mayStand(spoken: readonly ListingToken[], word: string): boolean {
  const candidate = word === 'REM' ? tokensOf('1 REM')[1] : tokenOfWord(word, 0, word.length);
  const { failure, problems } = parseStatement([...spoken, candidate]);
  if (problems.some(({ start, end }) => start === 0 && end === word.length && isName(candidate)))
    return false;
  return failure === undefined || ![...spoken, candidate].includes(failure.token as ListingToken);
}

/** A number between two: ten further on, or half-way where there is less room. */
function numberBetween(before: number, after: number | undefined): number | undefined {
  const ten = Math.floor(before / 10) * 10 + 10;
  if (after === undefined) return ten <= HIGHEST_LINE ? ten : undefined;
  if (ten < after) return ten;
  const half = Math.floor((before + after) / 2);
  return half > before && half < after ? half : undefined;
}
