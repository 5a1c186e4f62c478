/**
 * Findings in the Static Analysis Results Interchange Format, so that code hosts show them.
 * Source: OASIS, SARIF Version 2.1.0.
 */
import { type Diagnostic, Places } from '../listing/diagnostics.js';
import type { Edit } from '../listing/edits.js';
import { type Verdict, verdictJson } from '../memory/verdict.js';
import type { Silenced } from './allowances.js';
import type { Finding, Rule } from './rule.js';
import { RULES } from './rules.js';

/** What was found in a listing. */
export interface Linted {
  /** Of the reader and of the rules. */
  readonly diagnostics: readonly (Diagnostic | Finding)[];
  readonly silenced: readonly Silenced[];
  /** Undefined for a listing with errors of reading. */
  readonly verdict?: Verdict;
}

export interface LintedFile extends Linted {
  /** As the command was given it; relative paths stay relative. */
  readonly path: string;
  readonly text: string;
}

const SCHEMA = 'https://json.schemastore.org/sarif-2.1.0.json';

/**
 * A SARIF log with one run; as an object, ready for JSON. Its results are made as they are gone
 * through: of a long listing full of mistakes they take more room than all that they are made of.
 */
export function sarifLog(files: readonly LintedFile[], version: string) {
  const ids = new Set(files.flatMap(findingsOf).map(([{ rule }]) => rule));
  const known = new Set(RULES.map(({ name }) => name));
  const others = [...ids].filter((id) => !known.has(id)).sort();
  return {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'Listwright',
            version,
            rules: [...RULES.map(ruleDescriptor), ...others.map((id) => ({ id }))],
          },
        },
        columnKind: 'unicodeCodePoints',
        artifacts: files.map(({ path, verdict }) => ({
          location: { uri: uriOf(path) },
          ...(verdict === undefined ? {} : { properties: { verdict: verdictJson(verdict) } }),
        })),
        results: new Results(files),
      },
    ],
  };
}

class Results {
  constructor(private readonly files: readonly LintedFile[]) {}

  *[Symbol.iterator]() {
    for (const [index, file] of this.files.entries()) yield* resultsOf(file, index);
  }

  toJSON() {
    return [...this];
  }
}

/** What was found in a file, with the reason where it is allowed. */
function findingsOf({
  diagnostics,
  silenced,
}: LintedFile): (readonly [finding: Diagnostic | Finding, reason?: string])[] {
  return [
    ...diagnostics.map((finding) => [finding] as const),
    ...silenced.map(({ finding, reason }) => [finding, reason] as const),
  ];
}

function ruleDescriptor({ name, summary, page, severity, kind }: Rule) {
  return {
    id: name,
    shortDescription: { text: sentence(summary) },
    fullDescription: { text: page },
    help: { text: page, markdown: page },
    defaultConfiguration: { level: severity },
    properties: { tags: [kind] },
  };
}

const sentence = (text: string): string => `${text[0].toUpperCase()}${text.slice(1)}.`;

function* resultsOf(file: LintedFile, index: number) {
  const places = new Places(file.text);
  const location = { uri: uriOf(file.path), index };
  const result = (finding: Diagnostic | Finding, reason?: string) => ({
    ruleId: finding.rule,
    level: finding.severity,
    message: { text: messageOf(finding) },
    locations: [
      {
        physicalLocation: {
          artifactLocation: location,
          region: regionOf(places, finding.start, finding.end),
        },
      },
    ],
    ...('fix' in finding && finding.fix !== undefined
      ? { fixes: [fixOf(places, location, finding.fix.what, finding.fix.edits)] }
      : {}),
    ...('bytes' in finding && finding.bytes !== undefined
      ? { properties: { bytes: finding.bytes } }
      : {}),
    ...(reason === undefined
      ? {}
      : { suppressions: [{ kind: 'inSource', justification: reason }] }),
  });
  for (const [finding, reason] of findingsOf(file)) yield result(finding, reason);
}

function messageOf({ message, why, help }: Diagnostic): string {
  return [message, why, help]
    .filter((part) => part !== undefined)
    .map(sentence)
    .join(' ');
}

function regionOf(places: Places, start: number, end: number) {
  const from = places.at(start);
  const to = places.at(Math.max(start, end));
  return {
    startLine: from.line,
    startColumn: from.column,
    endLine: to.line,
    endColumn: to.column,
  };
}

function fixOf(
  places: Places,
  location: { uri: string; index: number },
  what: string,
  edits: readonly Edit[],
) {
  return {
    description: { text: sentence(what) },
    artifactChanges: [
      {
        artifactLocation: location,
        replacements: edits.map(({ start, end, text }) => ({
          deletedRegion: regionOf(places, start, end),
          insertedContent: { text },
        })),
      },
    ],
  };
}

/** A path as a relative reference or a file URI (RFC 3986). */
function uriOf(path: string): string {
  if (path === '-') return 'stdin';
  const forward = path.replaceAll('\\', '/');
  const encoded = forward.split('/').map(encodeURIComponent).join('/');
  return forward.startsWith('/') ? `file://${encoded}` : encoded.replace(/^\.\//, '');
}
